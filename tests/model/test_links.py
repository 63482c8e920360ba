"""Items that name one another: one weld line is described once, and check, layout and cut list speak of the same spots."""

from __future__ import annotations

from typing import Any

import pytest

from jointcalc.check import check
from jointcalc.errors import InputErrors
from jointcalc.layout.blanks import weld_places
from jointcalc.layout.cutlist import cut_list
from jointcalc.model.project import Project, read_project

SEAM = {
    "id": "S2", "sheets": ["floor", "brace"], "weld_diameter": "5.5 mm", "pitch": "35 mm", "length": "1120 mm",
    "edge": "10 mm", "end": "35 mm", "shear": "9 kN",
}  # fmt: skip
BRACE = {
    "id": "B2", "profile": "hat-skin:top=50mm,depth=40mm,flange=25mm,t=1.5mm,r=2mm,skin=120mm,skin_t=1.2mm,weld=10mm",
    "grade": "S355MC", "skin_grade": "DC04", "span": "1120 mm", "spread": "1.9 N/mm", "lies": "flanges-up",
    "over": "webs", "held": "both", "bearing": "40 mm", "welded_by": "S2",
}  # fmt: skip


def project(brace: dict[str, Any] = BRACE, **seam: Any) -> Project:
    """An invented hat on a floor, spotted by the seam S2."""
    return read_project(
        {
            "project": {"title": "Invented"},
            "sheet": {
                "floor": {"thickness": "1.2 mm", "grade": "DC04"},
                "brace": {"thickness": "1.5 mm", "grade": "S355MC"},
            },
            "brace": [brace],
            "seam": [{**SEAM, **seam}],
        }
    )


def test_the_brace_takes_the_spots_of_its_seam() -> None:
    """Spots at 35, 70 ... 1085 mm (31 by hand), on both lines: 62 to weld, counted once."""
    made = project()
    brace, seam = made.items
    assert weld_places(brace) == pytest.approx([35.0 * (k + 1) for k in range(31)])
    listed = cut_list("invented", made.items, stock=[(2000.0, 1000.0)], kerf=1.0, margin=5.0)
    assert sum(joint.spots for joint in listed.joints) == 62
    assert any("The spots of S2 are those of B2" in note for note in listed.notes())
    typed = {k: v for k, v in BRACE.items() if k != "welded_by"} | {"pitch": "35 mm", "weld_diameter": "5.5 mm"}
    alone = check(read_project({"project": {"title": "Invented"}, "brace": [typed]}).items[0])
    mine = check(brace)
    assert [c.utilisation for c in mine.checks] == [c.utilisation for c in alone.checks]
    assert seam.brace == "B2"


def test_a_wider_pitch_of_the_seam_reaches_the_brace() -> None:
    """Nothing is typed twice: what the seam says is what the brace is judged by."""
    assert project(pitch="70 mm").items[0].pitch == 70.0


@pytest.mark.parametrize(
    ("brace", "seam", "words"),
    [
        ({"welded_by": "S9"}, {}, "'S9' is not the id of a [[seam]]"),
        ({"pitch": "40 mm"}, {}, "is typed though the spots are those of S2"),
        ({"profile": "hat:top=50mm,depth=40mm,flange=25mm,t=1.5mm,r=2mm"}, {}, "a hat has no weld line"),
        ({}, {"length": "600 mm"}, "it is no seam along this brace"),
        ({}, {"sheets": ["floor", "floor"]}, "it is no seam of it"),
    ],
)
def test_a_seam_that_cannot_be_the_brace_s_is_refused(brace: Any, seam: Any, words: str) -> None:
    """Unknown, typed twice, no weld line, another length, other sheets."""
    with pytest.raises(InputErrors) as error:
        project({**BRACE, **brace}, **seam)
    assert words in str(error.value)
