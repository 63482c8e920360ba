"""No load passes in silence: of every kind and each of its loads, a very large one is over or not judged, never `ok`.

What is tried is read from the registry: a kind, a load field, a profile family, a fastener that is new fails here until
its huge load stands below.  The loads are far past anything that such sheet carries (weight of a lorry and more), so
that no published value is needed: whatever answers `ok` has not looked.
"""

from __future__ import annotations

import itertools
from collections.abc import Mapping
from typing import Any

import pytest

from jointcalc import Brace, check
from jointcalc.errors import InputError
from jointcalc.model.fields import build
from jointcalc.registry import KINDS, load
from jointcalc.result.results import PAST
from jointcalc.section.profile import EXAMPLES as PROFILES

SHEET = {"thickness": "1.2 mm", "grade": "DC04"}
PLATE = {"thickness": "5 mm", "grade": "S235JR"}
ROW = {"length": "400 mm", "count": 10, "edge": "12 mm"}
SQUARE = ("0 0 mm", "250 0 mm", "0 250 mm", "250 250 mm")
ROUND = ("0 0 50 0 mm", "50 0 50 50 mm", "50 50 0 50 mm", "0 50 0 0 mm")
WAYS = ("900 0 0", "-900 0 0", "0 900 0", "0 -900 0", "0 0 900", "0 0 -900")
GROUPS: list[dict[str, Any]] = [
    {"holes": holes, "sheets": sheets, "at": at, **fastener, **more}
    for holes, at in ((("0 0 mm",), "0 0 0 mm"), (SQUARE, "125 125 0 mm"))
    for sheets in ((SHEET,), (SHEET, SHEET), (SHEET, PLATE, SHEET))
    for fastener in ({"bolt": "M8 8.8"}, {"rivet": "4.8 mm steel"}, {"rivnut": "M6 8.8"})
    for more in (
        {}, {"edge": "40 mm", "width": "400 mm", "between": "60 mm"}, {"between": "300 mm", "pulled": 1},
        *([{"plate": "75 50 3 mm", "washer": "large", "pulled": 1}] if "bolt" in fastener else ()),
    )
]  # fmt: skip
WELDS: list[dict[str, Any]] = [
    {"lines": lines, "at": at, "sheets": sheets, "filler": "ER70S-6", **more}
    for lines, at in ((("0 0 100 0 mm",), "50 0 0 mm"), (ROUND, "25 25 0 mm"))
    for sheets in ((SHEET,), (SHEET, PLATE), (PLATE, PLATE))
    for more in (
        {"leg": "1.2 mm"}, {"leg": "1.2 mm", "joint": "lap"}, {"leg": "1.2 mm", "both_sides": True, "on": "backed"},
        {"weld": "butt"}, {"weld": "flare-bevel", "radius": "4 mm"}, {"weld": "flare-V", "radius": "4 mm"},
    )
]  # fmt: skip
BASES: Mapping[str, list[dict[str, Any]]] = {
    "seam": [
        {**ROW, "sheets": sheets, "weld_diameter": "5.5 mm", "peel_arm": arm, "rows": rows, "row_spacing": space}
        for sheets in ((SHEET, SHEET), (SHEET, SHEET, SHEET), (SHEET, {"thickness": "1 mm", "grade": "1.4301"}))
        for arm in (None, "20 mm")
        for rows, space in ((1, None), (2, "30 mm"))
    ],
    "plug": [
        {**ROW, "sheets": sheets, "edge": "25 mm", **weld}
        for sheets in ((SHEET, SHEET), (SHEET, SHEET, SHEET), (SHEET, PLATE))
        for weld in ({"hole": "8 mm"}, {"visible": "16 mm"}, {"hole": "8 mm", "slot": "16 mm"})
    ],
    "bolts": GROUPS,
    "fillet": WELDS,
    "brace": [
        {"profile": profile, "grade": grade, "span": "800 mm", "ends": ends, "held": held, "over": over,
         "fastened": ends == "fixed"}
        for profile in PROFILES.values()
        for grade, ends, held, over in (
            ("S355MC", "pinned", "none", ""), ("S355MC", "fixed", "both", "webs"), ("1.4301", "pinned", "top", "webs"),
        )
    ],
    "panel": [{"size": "160 100 mm", "sheet": SHEET, "edges": "simple"}],
    "mount": [
        {"feet": ("0 0 0 mm", "300 0 0 mm", "0 200 0 mm", "300 200 0 mm"), "centre": "150 100 200 mm",
         "at": "150 100 200 mm", **more}
        for more in (
            {"bolt": "M8 8.8", "sheets": (SHEET,)}, {"bolt": "M8 8.8", "sheets": (SHEET, PLATE)}, {"resting": True},
            {"resting": True, "friction": 0.3}, {"resting": True, "located": True}, {},
        )
    ],
}  # fmt: skip
"""Kind -> things without a load, and with no trouble of their own."""

HUGE: Mapping[tuple[str, str], list[dict[str, Any]]] = {
    ("seam", "shear"): [{"shear": "9000 kN"}, {"shear": "-9000 kN"}],
    ("seam", "across"): [{"across": "9000 kN"}],
    ("seam", "peel"): [{"peel": "900 kN"}],
    ("seam", "moment"): [{"moment": "900 kN*m"}],
    ("seam", "compression"): [{"compression": "900 MPa"}],
    ("plug", "shear"): [{"shear": "9000 kN"}],
    ("plug", "across"): [{"across": "9000 kN"}],
    ("plug", "uplift"): [{"uplift": "900 kN"}],
    ("bolts", "force"): [{"force": f"{way} kN"} for way in WAYS],
    ("bolts", "moment"): [{"moment": f"{way} kN*m", "at": None} for way in WAYS],
    ("fillet", "force"): [{"force": f"{way} kN"} for way in WAYS],
    ("fillet", "moment"): [{"moment": f"{way} kN*m", "at": None} for way in WAYS],
    ("brace", "point"): [{"point": (f"{F} kN @ {x} mm",)} for F in (900, -900) for x in (0, 20, 390, 800)],
    ("brace", "spread"): [{"spread": ("900 N/mm",)}, {"spread": ("-900 N/mm @ 0 mm..50 mm",)}],
    ("brace", "moment"): [{"moment": (f"900 kN*m @ {x} mm",)} for x in (0, 300, 800)],
    ("brace", "torque"): [{"torque": ("900 kN*m",)}, {"torque": ("900 kN*m @ 300 mm",)}],
    ("brace", "aside"): [{"aside": "900 kN*m"}],
    ("brace", "compression"): [{"compression": "9000 kN"}],
    ("brace", "tension"): [{"tension": "9000 kN"}],
    ("panel", "pressure"): [{"pressure": "1 MPa"}, {"pressure": "-1 MPa"}],
    ("panel", "patch"): [{"patch": "20 kN"}],
    ("panel", "shear"): [{"shear": "3000 N/mm"}],
    ("panel", "compression"): [{"compression": "3000 0 N/mm"}, {"compression": "0 3000 N/mm"}],
    ("mount", "force"): [{"force": f"{way} kN"} for way in WAYS],
    ("mount", "moment"): [{"moment": f"{way} kN*m"} for way in WAYS],
    ("mount", "mass"): [{"mass": "20 t", "acceleration": f"{way} g"} for way in ("0 0 -9", "0 0 9", "9 0 -1")],
}
"""(kind, field that is a load) -> that load far past any strength, in each direction it may have."""


def test_every_load_of_every_kind_is_tried() -> None:
    assert set(HUGE) == {(name, field) for name, kind in KINDS.items() for field in kind.loads}
    assert set(BASES) == set(KINDS)


def _answers(kind: str, field: str) -> list[tuple[str, str]]:
    """(verdict, what was asked) of each base under each huge load; what is refused is no answer."""
    found = []
    for base, more in itertools.product(BASES[kind], HUGE[kind, field]):
        said = {name: value for name, value in {**base, **more}.items() if value is not None}
        try:
            result = check(build(load(KINDS[kind].model), said))
        except InputError:
            continue
        found.append((result.status, f"{said} -> {result.governing}"))
    return found


@pytest.mark.parametrize("kind,field", HUGE, ids=[".".join(one) for one in HUGE])
def test_a_huge_load_never_holds(kind: str, field: str) -> None:
    answers = _answers(kind, field)
    assert not [asked for status, asked in answers if status == "ok"]
    # where none is over, nothing is there that judges this load
    assert any(status == "over" for status, _ in answers)


@pytest.mark.parametrize(
    "asked",
    [
        {"moment": ("900 kN*m @ 0 mm",), "ends": "fixed"},
        {"torque": ("900 kN*m",), "held": "both"},
        {"aside": "900 kN*m", "held": "top"},
    ],
    ids=["into a fixed end", "into what holds both faces", "into what holds a face"],
)
def test_a_load_that_goes_past_the_brace_is_no_load_that_it_holds(asked: dict[str, Any]) -> None:
    """Such a brace was said to have no load, and that it holds."""
    brace = {"profile": PROFILES["hat"], "grade": "S355MC", "span": "800 mm", "lies": "crown-up"}
    past = check(Brace(**brace, **asked))
    assert past.status == "outside"
    assert past.json()["unjudged"] == [PAST]
    assert "no-load" not in {c.code for c in past.cautions}
    # beside another load the caution alone tells of it
    assert check(Brace(**brace, **asked, point=("10 N @ 400 mm",))).status == "ok"
    without = check(Brace(**brace))
    assert without.status == "ok"
    assert "no-load" in {c.code for c in without.cautions}
    assert "unjudged" not in without.json()
