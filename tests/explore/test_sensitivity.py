"""Thinner sheet and one weld or fastener fewer, held against what the formulas' powers say and against items described anew."""

from __future__ import annotations

from typing import Any

import pytest

from jointcalc.check import check
from jointcalc.explore.alternatives import alternatives
from jointcalc.explore.sensitivity import Changed, sensitivity, spot_fewer, tolerances
from jointcalc.model.bolts import FastenerGroup
from jointcalc.model.brace import Brace
from jointcalc.model.fields import Item, build
from jointcalc.model.fillet import FilletGroup
from jointcalc.model.panel import Panel
from jointcalc.model.plug import PlugRow
from jointcalc.model.seam import SpotSeam
from jointcalc.result import Result

FLOOR = {"thickness": "1.2 mm", "grade": "DC04"}
PLATE = {"thickness": "3 mm", "grade": "S355MC"}
SEAM: dict[str, Any] = {"sheets": [FLOOR, FLOOR], "weld_diameter": "5.5 mm", "pitch": "30 mm", "length": "900 mm",
                        "edge": "11 mm", "shear": "12 kN"}  # fmt: skip
HAT = "hat:top=40mm,depth=30mm,flange=20mm,t=1.2mm"
BRACE: dict[str, Any] = {"profile": HAT, "grade": "S355MC", "span": "1000 mm", "point": "300 N @ 500 mm"}
CLOSED: dict[str, Any] = BRACE | {
    "profile": "hat-skin:top=50mm,depth=40mm,flange=25mm,t=1.5mm,r=2mm,skin=120mm,skin_t=1.2mm,weld=10mm",
    "skin_grade": "DC04", "span": "1120 mm",
}  # fmt: skip
FILLET: dict[str, Any] = {"lines": ["0 0 80 0 mm", "0 60 80 60 mm"], "leg": "3 mm", "sheets": [PLATE, PLATE],
                          "filler": "ER70S-6", "force": "3 0 0 kN", "at": "40 20 0 mm"}  # fmt: skip
BOLTS: dict[str, Any] = {"bolt": "M8 8.8", "sheets": [FLOOR, FLOOR], "edge": "20 mm",
                         "holes": ["0 0 mm", "40 0 mm", "80 0 mm"], "force": "3 0 0 kN", "at": "40 0 0 mm"}  # fmt: skip


def changed(item: Item) -> tuple[Result, tuple[Changed, ...]]:
    result = check(item)
    return result, sensitivity(item, result)


def capacity(result: Result | None, key: str) -> float:
    assert result is not None
    found = next(c for c in result.checks if c.key == key)
    assert found.capacity is not None
    assert found.capacity.value is not None
    return found.capacity.value


def factor(result: Result | None) -> float:
    assert result is not None
    assert result.worst is not None
    assert result.worst.safety_factor is not None
    return result.worst.safety_factor


@pytest.mark.parametrize(
    ("key", "power"), [("en1993-1-3.tearing", 0.5), ("sawhill-baker.pull-out", 1.0), ("aisi-s100.shear-rupture", 1.0)]
)
def test_strength_of_a_thinner_seam_goes_by_the_formulas_power_of_t(key: str, power: float) -> None:
    # EN 1993-1-3 Table 8.5: 2.7 sqrt(t) d_s f_u; Sawhill and Baker: f t d S; AISI S100 J6.1: 0.6 F_u A_nv with A_nv = t L
    before, (thinner, *_) = changed(build(SpotSeam, SEAM))
    assert capacity(thinner.result, key) / capacity(before, key) == pytest.approx(0.92**power, rel=1e-12)


def test_one_spot_fewer_loads_the_others_by_their_number() -> None:
    before, (_, fewer, *_) = changed(build(SpotSeam, SEAM))
    assert "29 instead of 30" in fewer.what
    assert fewer.result is not None
    # equal shares: 12 kN over 29 spots instead of 30
    assert fewer.result.values["shear_per_spot"].value == pytest.approx(12000 / 29, rel=1e-12)
    assert before.values["shear_per_spot"].value == pytest.approx(12000 / 30, rel=1e-12)


def test_one_spot_fewer_of_a_brace_is_one_of_the_seam_along_it() -> None:
    """Spots of the seam at 35, 70 ... 1085 mm: 31, not the 32 that 1120 / 35 would be; 30 stand 1050 / 29 apart."""
    seam = build(SpotSeam, {**SEAM, "id": "S2", "length": "1120 mm", "pitch": "35 mm", "end": "35 mm"})
    item = build(Brace, {"id": "B1", **CLOSED, "pitch": "35 mm", "weld_diameter": "5.5 mm"}).along(seam)
    fewer = spot_fewer(item, check(item))
    assert fewer is not None
    assert fewer.what == "one spot fewer in each weld line, 30 instead of 31"
    assert fewer.result.model.pitch == pytest.approx(1050 / 29)
    alone = build(Brace, {"id": "B1", **CLOSED, "pitch": "35 mm", "weld_diameter": "5.5 mm"})
    assert "31 instead of 32" in spot_fewer(alone, check(alone)).what


def test_a_spot_that_is_alone_has_none_to_spare() -> None:
    raw = {k: v for k, v in SEAM.items() if k != "pitch"} | {"count": 1, "length": "30 mm", "shear": "1 kN"}
    _, (_, fewer, *_) = changed(build(SpotSeam, raw))
    assert fewer.result is None
    assert "only one" in fewer.why


def test_grade_keeps_the_strength_of_the_thickness_ordered() -> None:
    # EN 10025-2: S355J2 has f_u 510 MPa under 3 mm and 470 MPa from 3 mm on (from memory)
    plate = {"thickness": "3 mm", "grade": "S355J2"}
    raw = {**SEAM, "sheets": [FLOOR, plate], "weld_diameter": "7 mm"}
    _, (thinner, *_) = changed(build(SpotSeam, raw))
    assert thinner.result is not None
    assert thinner.result.model.sheets[1].thickness == pytest.approx(2.76, rel=1e-12)
    assert thinner.result.model.sheets[1].f_u == 470.0


@pytest.mark.parametrize(
    ("profile", "same"),
    [(HAT, "hat:top=40mm,depth=30mm,flange=20mm,t=1.104mm,r=1.2mm"),
     ("hat-skin:top=40mm,depth=30mm,flange=20mm,t=1mm,r=2mm,skin=120mm,skin_t=1mm,weld=9mm",
      "hat-skin:top=40mm,depth=30mm,flange=20mm,t=0.92mm,r=2mm,skin=120mm,skin_t=0.92mm,weld=9mm"),
     ("bar:depth=30mm,width=5mm", "bar:depth=30mm,width=4.6mm"),
     ("tube:od=30mm,t=2mm", "tube:od=30mm,t=1.84mm"),
     ("points:at=0 0/40 0/40 30 mm,t=2mm,r=2mm", "points:at=0 0/40 0/40 30 mm,t=1.84mm,r=2mm")],
)  # fmt: skip
def test_thinner_brace_keeps_its_outside_and_its_tool(profile: str, same: str) -> None:
    # what a builder would write: outside dimensions and the radius of the tool stay, only the sheet is thinner
    item = build(Brace, {**BRACE, "profile": profile})
    wanted = check(build(Brace, {**BRACE, "profile": same}))
    _, found = changed(item)
    assert found[0].result is not None
    for name in ("area", "I_y", "I_z", "J", "deflection_max", "blank_width"):
        if name in wanted.values and wanted.values[name].value is not None:
            assert found[0].result.values[name].value == pytest.approx(wanted.values[name].value, rel=1e-9), name
    assert factor(found[0].result) == pytest.approx(factor(wanted), rel=1e-9)


def test_spots_of_a_brace_are_one_fewer_in_each_line() -> None:
    profile = "hat-skin:top=40mm,depth=30mm,flange=20mm,t=1mm,r=2mm,skin=120mm,skin_t=1mm,weld=9mm"
    item = build(Brace, {**BRACE, "profile": profile, "weld_diameter": "5 mm", "pitch": "40 mm"})
    _, (_, fewer, *_) = changed(item)
    assert "24 instead of 25" in fewer.what
    assert fewer.result is not None
    assert fewer.result.model.pitch == pytest.approx(1000 / 24, rel=1e-12)
    assert len(changed(build(Brace, BRACE))[1]) == 1


def test_thinner_panel_deflects_by_the_cube() -> None:
    # flat plate, linear: w goes by 1 / t^3 (Timoshenko and Woinowsky-Krieger, D = E t^3 / 12 (1 - nu^2))
    item = build(Panel, {"size": "400 400 mm", "sheet": FLOOR, "pressure": "0.2 kPa", "edges": "simple"})
    before, (thinner,) = changed(item)
    assert thinner.result is not None
    w_before, w_after = (r.values["deflection_pressure"].value for r in (before, thinner.result))
    assert w_before is not None
    assert w_after == pytest.approx(w_before / 0.92**3, rel=1e-6)


def test_a_thinner_panel_is_the_panel_of_that_sheet_without_what_only_informs() -> None:
    item = build(Panel, {"size": "400 300 mm", "sheet": FLOOR, "pressure": "4 kPa", "edges": "simple"})
    _, (thinner,) = changed(item)
    assert thinner.result is not None
    alone = check(item.but(sheet={**FLOOR, "thickness": thinner.result.model.sheet.thickness}))
    heel = [c for c in alone.checks if c.key == "practice.heel-deflection"]
    assert [c.status for c in heel] == ["info"]
    assert thinner.result.checks == tuple(c for c in alone.checks if c not in heel)
    assert (thinner.result.values, thinner.result.cautions) == (alone.values, alone.cautions)
    assert thinner.result.unjudged == alone.unjudged
    # and a change of it leaves that so
    assert thinner.result.model.but(pressure="5 kPa").brief
    assert not item.but(pressure="5 kPa").brief


def test_of_a_group_the_one_is_left_out_whose_loss_is_worst() -> None:
    item = build(FastenerGroup, {**BOLTS, "force": "0 3 0 kN", "at": "100 0 0 mm"})
    _, (_, fewer, *_) = changed(item)
    every = []
    for n in range(3):
        holes = [h for i, h in enumerate(BOLTS["holes"]) if i != n]
        every.append(
            factor(check(build(FastenerGroup, {**BOLTS, "force": "0 3 0 kN", "at": "100 0 0 mm", "holes": holes})))
        )
    assert factor(fewer.result) == pytest.approx(min(every), rel=1e-12)
    assert min(every) < max(every)
    assert fewer.what.endswith(f"without number {every.index(min(every)) + 1}")


def test_of_two_weld_lines_one_is_left() -> None:
    _, (_, fewer, *_) = changed(build(FilletGroup, FILLET))
    assert fewer.result is not None
    # the force stands nearer to the first line: without it the second turns more
    other = check(build(FilletGroup, {**FILLET, "lines": FILLET["lines"][1:]}))
    assert "without line 1" in fewer.what
    assert factor(fewer.result) == pytest.approx(factor(other), rel=1e-12)


def test_one_stitch_fewer_in_the_longest_line() -> None:
    item = build(FilletGroup, {**FILLET, "lines": ["0 0 630 0 mm"], "stitch": "30 100 mm", "at": "300 0 0 mm"})
    _, (_, fewer, *_) = changed(item)
    # seven stitches of 30 mm at 100 mm; six at 600 / 5 = 120 mm
    assert "6 instead of 7" in fewer.what
    assert fewer.result is not None
    assert fewer.result.model.stitch == pytest.approx((30.0, 120.0))


def test_a_lap_fillet_never_stands_above_a_thinner_edge() -> None:
    _, (thinner, *_) = changed(build(FilletGroup, {**FILLET, "joint": "lap"}))
    assert thinner.result is not None
    assert thinner.result.model.leg == pytest.approx(0.92 * 3, rel=1e-12)


def test_fill_of_a_plug_goes_with_the_sheet() -> None:
    raw = {"sheets": [PLATE, PLATE], "hole": "10 mm", "count": 3, "length": "150 mm", "edge": "20 mm",
           "fill": "3 mm", "shear": "5 kN"}  # fmt: skip
    _, (thinner, fewer, *_) = changed(build(PlugRow, raw))
    assert thinner.result is not None
    assert thinner.result.model.fill == pytest.approx(2.76, rel=1e-12)
    assert "one weld fewer, 2 instead of 3" in fewer.what


def test_methods_that_no_longer_cover_the_item_are_named() -> None:
    # EN 1993-1-8 is for parts of 3 mm and more (EN 1993-1-8 Table 3.4 with the scope of 1.1, from memory)
    item = build(FastenerGroup, {**BOLTS, "sheets": [PLATE, PLATE]})
    _, (thinner, *_) = changed(item)
    assert "en1993-1-8.bearing.1" in [c.key for c in thinner.lost]


def test_a_change_that_cannot_be_made_says_why() -> None:
    # two bolts on one line hold a lifting moment across it, one does not
    item = build(FastenerGroup, {**BOLTS, "holes": ["0 0 mm", "60 0 mm"], "force": "1.5 0 1.2 kN", "at": "30 0 20 mm"})
    _, (_, fewer, *_) = changed(item)
    assert fewer.result is None
    assert "moment" in fewer.why


def test_tolerances_are_those_of_the_tables() -> None:
    # EN 10131, 1.2 mm, at the border of two ranges: 0.08 to 0.10 mm (from memory); 18 ga: 0.0478 - 0.0438 in (gauge chart)
    (found,) = tolerances(build(SpotSeam, SEAM))
    assert (found.thickness, found.least, found.most) == pytest.approx((1.2, 0.08, 0.10))
    gauge = {"thickness": "18 ga", "grade": "A36"}
    (found,) = tolerances(build(SpotSeam, {**SEAM, "sheets": [gauge, gauge]}))
    assert found.least == pytest.approx((0.0478 - 0.0438) * 25.4, rel=1e-9)
    assert found.table == "gauge_steel_cold_rolled"
    # a number of the British wire gauge is no number of the Manufacturers' gauge: EN 10131 goes by the thickness
    swg = {"thickness": "18 swg", "grade": "DC04"}
    (found,) = tolerances(build(SpotSeam, {**SEAM, "sheets": [swg, swg]}))
    assert (found.thickness, found.table) == (pytest.approx(1.21), "sheet_tolerance_en10131")
    # hot-rolled sheet is not in EN 10131
    assert tolerances(build(FilletGroup, FILLET)) == ()


def test_alternatives_written_as_profiles_are_judged_for_the_same_loads() -> None:
    deep = "hat:top=40mm,depth=40mm,flange=20mm,t=1.2mm"
    item = build(
        Brace, {**BRACE, "alternatives": [f"{deep}; hits the exhaust", "a tube: no way to weld it", "hat:top=1mm; x"]}
    )
    judged, words, wrong = alternatives(item)
    assert (judged.shape, judged.words) == (deep, "hits the exhaust")
    assert factor(judged.result) == factor(check(build(Brace, {**BRACE, "profile": deep})))
    assert (words.shape, words.words, words.result) == ("", "a tube: no way to weld it", None)
    assert wrong.result is None
    assert wrong.why


def test_a_panels_alternative_may_be_flat() -> None:
    item = build(Panel, {"size": "600 400 mm", "sheet": FLOOR, "bead": "arc:depth=6mm,width=25mm,pitch=75mm",
                         "pressure": "1 kPa", "alternatives": ["Flat; dishes", "flat 2 mm: heavier"]})  # fmt: skip
    flat, words = alternatives(item)
    assert flat.words == "dishes"
    assert flat.result is not None
    assert flat.result.model.pattern is None
    assert words.result is None
