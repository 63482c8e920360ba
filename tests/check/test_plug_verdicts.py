"""Plug welds as the trade makes them are judged; weaker ones do not come out better.  Hand numbers stand beside each.

EN 1993-1-3:2006 Table 8.5 (from memory but for what its own tests compare): F_tb = 2.7 sqrt(t) d_s f_u,
F_v = pi/4 d_s^2 f_u, d_s = 0.5 t + 5 mm; AISC 360 J2.3: 0.60 F_EXX on the area, Omega 2.00.
"""

from __future__ import annotations

from math import pi, sqrt
from typing import Any

import pytest

from jointcalc.check import check
from jointcalc.errors import InputError
from jointcalc.model.fields import build
from jointcalc.model.plug import PlugRow
from jointcalc.result import DETAILING, Check, Result

BASE: dict[str, Any] = {
    "sheets": [{"thickness": "1.2 mm", "grade": "DC04"}, {"thickness": "1.5 mm", "grade": "DC04"}],
    "hole": "8 mm", "length": "240 mm", "pitch": "40 mm", "edge": "15 mm", "shear": "6 kN",
}  # fmt: skip
F_U = 270.0


def judged(**change: Any) -> Result:
    return check(build(PlugRow, {**BASE, **change}))


def by(result: Result, key: str) -> Check:
    return next(c for c in result.checks if c.key == key)


def pair(first: str, second: str, grade: str = "DC04") -> list[dict[str, str]]:
    return [{"thickness": first, "grade": grade}, {"thickness": second, "grade": grade}]


@pytest.mark.parametrize("change", [{"pitch": "60 mm"}, {"edge": "30 mm"}, {"pitch": "80 mm", "edge": "60 mm"}])
def test_eight_mm_plugs_far_apart_are_single_plugs(change: dict[str, str]) -> None:
    """Beyond 8 d_s of pitch and 4 d_s of edge each weld is what it is alone."""
    result = judged(**change)
    welds = 240 / float(change.get("pitch", "40 mm").split()[0])
    tearing = by(result, "en1993-1-3.plug-tearing")
    assert tearing.capacity is not None
    assert tearing.capacity.value == pytest.approx(2.7 * sqrt(1.2) * 5.6 * F_U, rel=1e-9)
    assert tearing.demand is not None
    assert tearing.demand.value == pytest.approx(6000 / welds)
    assert result.status == "ok"
    assert ("wide-pitch" in {c.code for c in result.cautions}) == (welds < 240 / 44.8)


def test_ten_mm_plugs_in_two_mm_are_judged_with_the_reserve() -> None:
    """d_s = 6 mm: F_v = 7634 N is just under 1.25 F_tb = 7732 N: F_v / 1.25 counts."""
    result = judged(sheets=pair("2 mm", "2 mm"), hole="10 mm")
    shear, tears = pi / 4 * 36 * F_U, 2.7 * sqrt(2) * 6 * F_U
    assert shear < 1.25 * tears
    tearing = by(result, "en1993-1-3.plug-tearing")
    assert tearing.capacity is not None
    assert tearing.capacity.value == pytest.approx(shear / 1.25, rel=1e-9)
    assert result.status == "ok"
    # thinner by a hair more than keeps the condition: the two rules meet there
    kept = by(judged(sheets=pair("1.9 mm", "1.9 mm"), hole="10 mm"), "en1993-1-3.plug-tearing")
    assert kept.capacity is not None
    assert kept.capacity.value == pytest.approx(2.7 * sqrt(1.9) * 5.95 * F_U, rel=1e-9)


def test_a_hole_too_small_to_fuse_is_not_judged_by_its_size() -> None:
    """The trade punches 8 to 10 mm in 1.5 to 2 mm (common practice, no source)."""
    small = judged(sheets=pair("2 mm", "2 mm"), hole="5 mm")
    assert small.status == "outside"
    assert "bridge" in by(small, "en1993-1-3.plug-tearing").note
    # shown on sectioned coupons it is what it is
    shown = judged(sheets=pair("2 mm", "2 mm"), hole="5 mm", interface="5 mm")
    assert by(shown, "en1993-1-3.plug-tearing").status == "ok"
    # where even the usual hole would be over, the small one is
    assert judged(sheets=pair("2 mm", "2 mm"), hole="5 mm", shear="60 kN").status == "over"


def test_strong_sheet_does_not_make_the_filler_stronger() -> None:
    """S500MC (f_u 550) with E70 (482 MPa): 0.6 x 482 x pi/4 x 5.75^2 = 7.51 kN of weld metal."""
    result = judged(sheets=pair("1.5 mm", "1.5 mm", "S500MC"), filler="E70")
    metal = by(result, "aisc360.plug-fused-area")
    assert metal.capacity is not None
    assert metal.capacity.value == pytest.approx(0.6 * 482.6 * pi / 4 * 5.75**2, rel=2e-3)
    assert metal.required_factor == 2.0


def test_of_plugs_too_close_so_many_count_as_would_stand_there() -> None:
    """3 d_s is 16.8 mm, they stand 12 apart: 1 + 19 x 12 / 16.8 = 14.6 of the 20 count, each as strong as one alone.

    What is fused between them takes nothing away, so that neither a smaller weld nor fewer of them come out better.
    """
    close = judged(pitch="12 mm")
    tearing = by(close, "en1993-1-3.plug-tearing")
    assert tearing.capacity is not None
    assert tearing.demand is not None
    assert tearing.capacity.value == pytest.approx(2.7 * sqrt(1.2) * 5.6 * F_U)
    assert tearing.demand.value == pytest.approx(6000 / (1 + 228 / 16.8))
    assert "counted as 14.6 of the 20 there" in tearing.note
    assert close.status == "ok"
    assert judged(pitch="12 mm", shear="120 kN").status == "over"
    # a smaller fused diameter, of which all count, is the weaker one still
    small = by(judged(pitch="12 mm", interface="3.5 mm"), "en1993-1-3.plug-tearing")
    assert small.capacity is not None
    assert small.capacity.value == pytest.approx(pi / 4 * 3.5**2 * F_U / 1.25)
    assert small.utilisation is not None
    assert tearing.utilisation is not None
    assert small.utilisation > tearing.utilisation
    # more of them on the same length
    more = by(judged(pitch=None, count=30, length="300 mm", interface="5 mm"), "en1993-1-3.plug-tearing")
    fewer = by(judged(pitch=None, count=20, length="300 mm", interface="5 mm"), "en1993-1-3.plug-tearing")
    assert more.utilisation is not None
    assert fewer.utilisation is not None
    assert more.utilisation <= fewer.utilisation * (1 + 1e-9)


def test_no_more_is_fused_than_the_hole() -> None:
    """Geometry: a weld in a hole of 8 mm does not reach 9 mm below it; a slot does along its length."""
    with pytest.raises(InputError, match="interface"):
        judged(interface="9 mm")
    assert judged(interface="8 mm").status == "ok"
    assert judged(interface="9 mm", slot="12 mm").status == "ok"


def test_sheet_stronger_than_the_filler_holds_no_less_when_lifted() -> None:
    """AISI S100 J2.2.3 (from memory): 0.8 (F_u/F_y)^2 t d_a F_u for F_u under F_xx and 565 MPa; beyond, as at it.

    Of 800 MPa the heat leaves less, of the yield strength in the same measure.
    """
    arc = {"hole": None, "visible": "18 mm", "edge": "60 mm", "pitch": "80 mm", "shear": "0 N", "uplift": "1 kN"}

    def lifted(f_u: float) -> Check:
        strengths = {"tensile_strength": f"{f_u} MPa", "yield_strength": f"{0.7 * f_u} MPa"}
        top = {"thickness": "1 mm", "grade": "S500MC", **strengths}
        result = judged(sheets=[top, {"thickness": "4 mm", "grade": "S355J2"}], **arc)
        assert result.status == "ok", result.unjudged
        return by(result, "aisi-s100.arc-spot-uplift-sheet")

    E70 = 70 * 4448.2216152605 / 25.4**2
    for f_u, counted in ((450.0, 450.0), (480.0, 480.0), (500.0, E70), (590.0, E70), (800.0, E70)):
        capacity = lifted(f_u).capacity
        assert capacity is not None
        assert capacity.value == pytest.approx(0.8 / 0.7**2 * 1.0 * (18 - 1) * counted, rel=1e-5), f_u


@pytest.mark.parametrize(
    "own,counted", [({}, 210.0), ({"yield_strength": "170 MPa"}, 170.0)], ids=["of the grade", "by certificate"]
)
def test_a_yield_that_is_assumed_low_lifts_no_arc_spot_the_more(own: dict[str, str], counted: float) -> None:
    """AISI S100 J2.2.3 counts (F_u/F_y)^2: DC04 may have 210 MPa (EN 10130), and 140 held two and a quarter times as much."""
    arc = {"hole": None, "visible": "18 mm", "edge": "60 mm", "pitch": "80 mm", "shear": "0 N", "uplift": "1 kN"}
    top = {"thickness": "1 mm", "grade": "DC04", **own}
    lifted = by(
        judged(sheets=[top, {"thickness": "4 mm", "grade": "S355J2"}], **arc), "aisi-s100.arc-spot-uplift-sheet"
    )
    assert lifted.capacity is not None
    assert lifted.capacity.value == pytest.approx(0.8 * (270 / counted) ** 2 * 1.0 * (18 - 1) * 270, rel=1e-6)


@pytest.mark.parametrize(
    "sheets", [pair("1 mm", "1 mm"), [*pair("1 mm", "1 mm"), {"thickness": "4.5 mm", "grade": "DC04"}]]
)
def test_every_interface_is_asked(sheets: list[dict[str, str]]) -> None:
    result = judged(sheets=sheets, hole="8 mm", shear="2 kN")
    judged_ = [c for c in result.checks if c.method.key == "en1993-1-3.plug-tearing" and c.status == "ok"]
    assert len(judged_) == len(sheets) - 1
    assert result.status == "ok"


def test_shear_and_uplift_are_not_silent_when_one_has_no_method() -> None:
    """A side of the interaction without a method of its own leaves the sum unjudged, and the item with it."""
    arc = {
        "sheets": pair("1 mm", "4 mm", "S350GD"),
        "hole": None,
        "visible": "18 mm",
        "edge": "40 mm",
        "uplift": "1 kN",
    }
    whole = judged(**arc)
    assert by(whole, "aisi-s100.arc-spot-interaction").status in ("ok", "over", "info")
    weak = judged(**{**arc, "sheets": pair("1 mm", "4 mm", "DX51D+Z")})
    assert weak.status != "ok"
    assert by(weak, "aisi-s100.arc-spot-interaction").status == "outside"


def test_a_support_bounds_a_sheet_underneath() -> None:
    """A base just thinner than the sheet above is no stronger than one just thicker."""
    arc = {"hole": None, "visible": "20 mm", "edge": "40 mm", "pitch": "60 mm", "shear": "20 kN"}
    thick = by(judged(**arc, sheets=pair("1.0 mm", "1.01 mm")), "aisi-s100.arc-spot-sheet")
    thin = by(judged(**arc, sheets=pair("1.0 mm", "0.99 mm")), "aisi-s100.arc-spot-sheet")
    assert thick.utilisation is not None
    assert thin.utilisation is not None
    assert thin.utilisation >= thick.utilisation * (1 - 1e-9)


def test_the_inch_twin_of_a_hole_is_judged_like_it() -> None:
    """18 ga is 1.214 mm and is punched like 1.2 mm, 5/16 in is the inch shop's 8 mm: common practice, no source."""
    inch = judged(sheets=pair("16 ga", "16 ga", "A1008 SS Gr 33"), hole="5/16 in", edge="3/4 in")
    metric = judged(sheets=pair("1.5 mm", "1.5 mm", "A1008 SS Gr 33"), hole="8 mm", edge="3/4 in")
    assert not inch.unjudged
    found = [by(one, "en1993-1-3.plug-tearing").capacity for one in (inch, metric)]
    assert found[0] is not None
    assert found[1] is not None
    assert found[0].value == pytest.approx(found[1].value, rel=0.02)
    assert judged(sheets=pair("16 ga", "16 ga", "A1008 SS Gr 33"), hole="19/64 in", edge="3/4 in").unjudged
    assert not judged(sheets=pair("18 ga", "18 ga", "A1008 SS Gr 33"), hole="1/4 in", edge="3/4 in").unjudged


@pytest.mark.parametrize(
    ("grade", "certificate", "counted", "told"),
    [
        ("DC04", 600.0, 1.25 * 270, "softened-zone"),  # cold work: 1.25 times the grade (our choice)
        ("S500MC", 1000.0, 600.0, "softened-zone"),  # AWS D1.3 scope; common practice
        ("S500MC", 590.0, 590.0, ""),
    ],
)  # fmt: skip
def test_strength_that_the_arc_takes_is_not_counted_round_a_plug(
    grade: str, certificate: float, counted: float, told: str
) -> None:
    strengths = {"tensile_strength": f"{certificate} MPa", "yield_strength": f"{0.8 * certificate} MPa"}
    result = judged(sheets=[{**one, **strengths} for one in pair("1.2 mm", "1.5 mm", grade)])
    tearing = by(result, "en1993-1-3.plug-tearing").capacity
    assert tearing is not None
    assert tearing.value == pytest.approx(2.7 * sqrt(1.2) * 5.6 * counted)
    assert ("softened-zone" in {c.code for c in result.cautions}) == bool(told)


def test_what_goes_wrong_in_making_a_plug_is_told() -> None:
    def codes(**change: Any) -> set[str]:
        return {c.code for c in judged(**change).cautions}

    usual = codes()
    assert not {"plug-edge", "zinc-pores", "single-weld", "black-to-white"} & usual
    assert "plug-edge" in codes(edge="7 mm")  # 3 mm left beside a hole of 8
    assert "zinc-pores" in codes(sheets=pair("1.2 mm", "1.5 mm", "DX53D+Z"))
    assert "single-weld" in codes(pitch=None, count=1, shear="1 kN")
    mixed = [{"thickness": "1.2 mm", "grade": "1.4301"}, {"thickness": "1.5 mm", "grade": "DC04"}]
    assert "black-to-white" in codes(sheets=mixed, filler="ER308L")
    assert "black-to-white" not in codes(sheets=mixed, filler="ER309L")
    assert "heat-affected-4130" in codes(sheets=pair("1.2 mm", "1.5 mm", "4130N"))


def test_both_pulls_yield_the_sheet_together() -> None:
    """EN 1993-1-1 eq. 6.1 (from memory), by hand on 1.2 x 240 mm of DC04 (140 MPa)."""
    check = by(judged(across="9 kN"), "en1993-1-1.plug-yield-together")
    assert check.demand is not None
    assert check.demand.value == pytest.approx(sqrt(9000**2 + 3 * 6000**2) / (1.2 * 240))
    assert check.capacity is not None
    assert check.capacity.value == 140
    assert not [c for c in judged().checks if "together" in c.key]


@pytest.mark.parametrize("grade", ["5754-O", "5754-H22", "6082-T6", "5083-O", "3003-H14"])
@pytest.mark.parametrize(
    "weld", [{"hole": "8 mm"}, {"hole": None, "visible": "16 mm"}, {"hole": None, "visible": "16 mm", "seam": "10 mm"}]
)
def test_aluminium_is_outside_with_every_weld(grade: str, weld: dict[str, Any]) -> None:
    """An arc spot in aluminium whose heat-affected strength no table has was a fault (division by zero)."""
    result = judged(sheets=pair("1.2 mm", "2 mm", grade), uplift="0.1 kN", across="1 kN", **weld)
    assert result.status != "ok"
    assert result.unjudged
    assert not [c.key for c in result.judged if c.method.basis != DETAILING]
    with pytest.raises(InputError, match="no method here judges plugs or arc spots in aluminium"):
        judged(sheets=pair("1.2 mm", "2 mm", grade), filler="ER5356")
