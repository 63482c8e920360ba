"""Load changes that are asked for: judged, or said to be judged by nothing, of every kind and from wherever they come."""

from __future__ import annotations

from typing import Any

import pytest

from jointcalc import check
from jointcalc.model.brace import Brace
from jointcalc.model.fields import build
from jointcalc.model.panel import Panel
from jointcalc.model.project import read_project

BRACE = {
    "profile": "hat:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm",
    "grade": "S355MC",
    "span": "1000 mm",
    "point": "200 N @ 500 mm",
    "lies": "crown-up",
    "over": "webs",
}
SHEET = {"thickness": "1.2 mm", "grade": "DC04"}
SKIN = {**BRACE, "profile": "hat-skin:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm,skin=120mm,skin_t=1mm,weld=9mm"}


def of(result: Any, key: str) -> Any:
    return next(c for c in result.checks if c.key == key)


def test_the_sheet_of_a_brace() -> None:
    """EN 1993-1-9 by hand: category 80 at 2 million, 80 (2e6/1e5)^(1/3) at 1e5, 1.35 on it; F L / 4 over the least W."""
    plain = check(build(Brace, BRACE))
    assert "en1993-1-9.sheet" not in {c.key for c in plain.checks}
    found = of(check(build(Brace, {**BRACE, "cycles": 2e6})), "en1993-1-9.sheet")
    assert found.capacity.value == pytest.approx(80.0)
    assert found.required_factor == 1.35
    least = min(plain.values["W_y_top"].value, plain.values["W_y_bottom"].value)
    # no flat of this hat is slender enough to lose width at this stress level but the top, which costs under a tenth
    assert 1.0 <= found.demand.value / (200.0 * 1000.0 / 4 / least) < 1.1
    few = of(check(build(Brace, {**BRACE, "cycles": 1e5})), "en1993-1-9.sheet")
    assert few.capacity.value == pytest.approx(80.0 * 20 ** (1 / 3))
    both = of(check(build(Brace, {**BRACE, "cycles": 2e6, "load_range": 2.0})), "en1993-1-9.sheet")
    assert both.demand.value == pytest.approx(2 * found.demand.value)


def test_harder_sheet_is_tired_by_the_same_load_like_softer_sheet() -> None:
    """No detail category of EN 1993-1-9 knows the grade; a wide crown works more or less by the stress it has itself."""
    wide = {**BRACE, "profile": "hat:top=200mm,depth=40mm,flange=30mm,t=0.8mm,r=2mm", "cycles": 2e6}
    stress = [
        of(
            check(build(Brace, {**wide, "yield_strength": f_y, "tensile_strength": "600 MPa"})), "en1993-1-9.sheet"
        ).demand.value
        for f_y in ("200 MPa", "500 MPa")
    ]
    assert stress[0] == pytest.approx(stress[1], rel=1e-9)
    half = of(check(build(Brace, {**wide, "point": "100 N @ 500 mm"})), "en1993-1-9.sheet").demand.value
    assert half < 0.495 * stress[0]  # at half the stress more of the crown works


@pytest.mark.parametrize(
    "changes",
    [{"compression": "2 kN"}, {"tension": "2 kN"}, {"point": "260 N @ 500 mm"}, {"span": "1300 mm"}],
    ids=["pushed", "pulled", "more", "longer"],
)
def test_more_of_anything_is_worse(changes: dict[str, Any]) -> None:
    base = of(check(build(Brace, {**BRACE, "cycles": 1e6})), "en1993-1-9.sheet")
    more = of(check(build(Brace, {**BRACE, **changes, "cycles": 1e6})), "en1993-1-9.sheet")
    assert more.demand.value > base.demand.value * 1.05


def test_spots_of_a_weld_line_last_too() -> None:
    """Without a pitch nothing says how long they last; with one the seam's own estimate of life governs, as for a seam."""
    bare = check(build(Brace, {**SKIN, "cycles": 1e6}))
    assert bare.status == "outside"
    assert any("pitch is not given" in text for text in bare.unjudged)
    loaded = {**SKIN, "pitch": "60 mm", "point": "2 kN @ 500 mm"}
    once = of(check(build(Brace, loaded)), "brace.spot-line")
    often = of(check(build(Brace, {**loaded, "cycles": 5e7, "load_range": 2.0})), "brace.spot-line")
    assert once.status == "ok"
    assert often.status == "over"
    assert "rupp.spot-fatigue" in often.note


def test_skin_that_is_pushed_buckles_between_its_spots() -> None:
    """Inter-fastener buckling by hand: c = 4, 0.9 c E (t/p)^2 (Bruhn C7.12) is 18.9 MPa for 0.6 mm at 120 mm, under N / A."""
    thin = SKIN["profile"].replace("skin_t=1mm", "skin_t=0.6mm")
    pushed = {**SKIN, "profile": thin, "point": (), "compression": "12 kN", "eccentricity": "0 mm"}
    wide, close = (check(build(Brace, {**pushed, "pitch": pitch})) for pitch in ("120 mm", "25 mm"))
    assert wide.status == "over"
    found = of(wide, "inter-fastener.buckling")
    assert found.status == "over"
    # and what the centroid of the part that works, off that of the whole, bends it
    assert 1.0 <= found.demand.value / (12e3 / wide.values["area"].value) < 1.3
    assert of(close, "inter-fastener.buckling").status == "ok"
    assert "weld-line-pitch" in {c.code for c in check(build(Brace, pushed)).cautions}


def test_the_sheet_of_a_panel() -> None:
    """Its stress is the elastic one of the real shape; aluminium, openings and sheet that waves have no category."""
    panel = {"size": "300 200 mm", "sheet": {**SHEET, "thickness": "1.5 mm"}, "edges": "clamped", "cycles": 2e6}
    result = check(build(Panel, {**panel, "pressure": "5 kPa"}))
    found = of(result, "en1993-1-9.sheet")
    assert found.capacity.value == pytest.approx(80.0)
    assert found.demand.value == pytest.approx(result.values["surface_stress"].value)
    for changes in (
        {"sheet": {**SHEET, "grade": "5754-O"}, "shear": "1 N/mm"},
        {"opening": "round:diameter=60mm", "shear": "1 N/mm"},
        {"shear": "45 N/mm", "sheet": {**SHEET, "thickness": "0.8 mm", "grade": "S355MC"}},
    ):
        left = check(build(Panel, {**panel, **changes}))
        assert of(left, "en1993-1-9.sheet").status == "outside", changes
        assert left.status != "ok"


def test_a_case_that_comes_often_reaches_every_kind() -> None:
    """What a case says of load changes was read by nothing but loads from others; no kind may pass it over."""
    common = {"sheets": [SHEET, SHEET], "case": "rough"}
    row = {**common, "pitch": "40 mm", "length": "400 mm", "edge": "15 mm", "shear": "1 kN"}
    made = read_project(
        {
            "project": {"title": "t"},
            "case": [{"id": "rough", "title": "rough road", "cycles": 5e6}],
            "seam": [{**row, "id": "S", "weld_diameter": "5.5 mm", "enters": "along"}],
            "plug": [{**row, "id": "PL", "hole": "8 mm"}],
            "brace": [{**BRACE, "id": "B", "case": "rough"}],
            "bolts": [
                {**common, "id": "K", "holes": ["0 0 mm"], "bolt": "M8 8.8", "force": "1 0 0 kN", "at": "0 0 0 mm",
                 "edge": "20 mm", "width": "60 mm"}
            ],
            "mount": [
                {"id": "m", "feet": ["0 0 0 mm", "300 0 0 mm", "0 200 0 mm"], "force": "0 0 90 N", "at": "100 60 0 mm",
                 "bolt": "M8 8.8", "sheets": [SHEET], "edge": "30 mm", "width": "80 mm",
                 "plate": "60 60 4 mm", "case": "rough"}
            ],
        }
    )  # fmt: skip
    results = {r.id: r for r in check(made)}
    assert of(results["S"], "rupp.spot-fatigue").status == "info"
    assert of(results["B"], "en1993-1-9.sheet").status in ("ok", "over")
    for one in ("PL", "K", "m"):
        assert results[one].status == "outside", one
        assert any("5 000 000 load changes" in text for text in results[one].unjudged), one


def test_sheet_that_an_arc_softens_is_told() -> None:
    """EN 1999-1-1 Table 3.2b: 6082-T6 keeps 185 of its tensile strength beside a weld; mild steel and 5754-O keep all."""

    def said(grade: str) -> list[str]:
        made = {"size": "300 200 mm", "sheet": {"thickness": "2 mm", "grade": grade}, "shear": "1 N/mm"}
        return [c.text for c in check(build(Panel, made)).cautions if c.code == "softens-when-welded"]

    (text,) = said("6082-T6")
    assert "185 MPa" in text
    assert not said("DC04")
    assert not said("5754-O")
