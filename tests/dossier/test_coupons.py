"""The dossier shows what the log of coupons shows, and no longer asks for what is in it."""

from __future__ import annotations

import pytest

import jointcalc
from jointcalc.dossier.coupons import drawn, logged, sets_of
from jointcalc.dossier.evidence import missing, records_of
from jointcalc.model.coupon_log import HEADER
from jointcalc.model.project import Project, load_project

SEAM = """
[[seam]]
id = "{0}"
sheets = ["floor", "{1}"]
weld_diameter = "5.5 mm"
pitch = "40 mm"
length = "400 mm"
edge = "12 mm"
shear = "9 kN"
"""


@pytest.fixture(scope="module")
def project(tmp_path_factory: pytest.TempPathFactory) -> Project:
    place = tmp_path_factory.mktemp("coupons")
    rows = [
        f"2026-05-0{1 + n // 3},gun A,9 kA,2 x 1.2 mm DC04,shear,5.6,{9000 + 37 * n % 100},button," for n in range(6)
    ]
    (place / "c.csv").write_text("\n".join([HEADER, *rows, ""]), encoding="utf-8")
    head = '[project]\ntitle = "T"\n[coupons]\nfile = "c.csv"\nmachine = "gun A"\n'
    sheets = "".join(
        f'[sheet.{n}]\nthickness = "{t} mm"\ngrade = "DC04"\n' for n, t in (("floor", 1.2), ("other", 1.5))
    )
    (place / "p.toml").write_text(
        head + sheets + SEAM.format("S1", "floor") + SEAM.format("S2", "other"), encoding="utf-8"
    )
    return load_project(place / "p.toml")


def test_the_log_is_evidence_of_the_stack_it_has(project: Project) -> None:
    first, second = project.items
    (record,) = records_of(project, first, "metric")
    text = record["text"].replace("\N{NO-BREAK SPACE}", " ").replace("\N{ZERO WIDTH SPACE}", "")
    assert "6 shear of 2026-05-01 to 2026-05-02, passed" in text
    assert "5.6 mm at least" in text
    assert "90 of 100" in text
    assert records_of(project, second, "metric") == []
    results = {r.id: r for r in jointcalc.check(project)}
    told = " ".join(missing(project, project.items, results, "metric"))
    assert "No coupons are recorded for S2." in told
    assert "lbf" in logged(first, "inch")[0]["text"]


def test_a_fillet_proved_by_test_has_no_log() -> None:
    """Its `tested` is the builder's word on a butt weld, not coupons of rows."""
    butt = jointcalc.FilletGroup(
        lines=["0 0 100 0 mm"], weld="butt", tested=True, sheets=[{"thickness": "3 mm", "grade": "S355MC"}] * 2,
        filler="E70", force="0 -1 0 kN", at="50 0 0 mm",
    )  # fmt: skip
    assert sets_of(butt) == ()


def test_the_loads_are_drawn(project: Project) -> None:
    (picture,) = drawn(project.items[0], "metric")
    assert b"<svg" in picture.svg
    assert "6 coupons" in picture.alt
    assert "handbook" in picture.alt
    assert drawn(project.items[1], "metric") == []
