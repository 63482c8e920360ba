"""Plug, slot and arc spot welds judged whole: hand arithmetic of the clauses, their ranges, and laws."""

from __future__ import annotations

from math import pi, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jointcalc.check.plug import check_plug
from jointcalc.errors import InputError
from jointcalc.explore.plug import find_plug
from jointcalc.model.fields import build
from jointcalc.model.plug import PlugRow
from jointcalc.result import DETAILING

KSI = 6.894757293168361
TOP, UNDER = {"thickness": "1.2 mm", "grade": "DC04"}, {"thickness": "1.5 mm", "grade": "DC04"}
ROSETTES = {
    "sheets": [TOP, UNDER], "hole": "8 mm", "pitch": "40 mm", "length": "600 mm", "edge": "12 mm", "shear": "6 kN",
}  # fmt: skip
PUDDLES = {
    "sheets": [TOP, {"thickness": "4 mm", "grade": "S235JR"}], "visible": "20 mm", "count": 5, "length": "400 mm",
    "edge": "35 mm", "shear": "8 kN", "filler": "E6013",
}  # fmt: skip


def judged(base, **change):
    return check_plug(build(PlugRow, {k: v for k, v in {**base, **change}.items() if v is not None}))


def checks(result):
    return {c.key: c for c in result.checks}


def test_a_pull_across_is_shared_by_all_plugs():
    """Statics: 3 kN on six plugs, 500 N each."""
    base = {
        "sheets": [{"thickness": "1.5 mm", "grade": "S355MC"}] * 2, "hole": "8 mm", "count": 6, "length": "240 mm",
        "edge": "15 mm", "across": "3 kN",
    }  # fmt: skip
    assert checks(judged(base))["en1993-1-3.plug-spot-shear"].demand.value == pytest.approx(500)


def test_rosettes_by_hand():
    """EN 1993-1-3 Table 8.5, fusion: d_s = 0.5 x 1.2 + 5 = 5.6 mm; 15 welds share 6 kN; AISI J6.1 at end and row."""
    found = judged(ROSETTES)
    c = checks(found)
    assert found.values["welds"].value == 15.0
    assert found.values["interface_diameter"].value == pytest.approx(5.6)
    assert c["en1993-1-3.plug-tearing"].capacity.value == pytest.approx(2.7 * sqrt(1.2) * 5.6 * 270)
    assert c["en1993-1-3.plug-tearing"].demand.value == pytest.approx(400.0)
    assert c["en1993-1-3.plug-tearing"].required_factor == pytest.approx(1.875)
    assert c["en1993-1-3.plug-spot-shear"].capacity.value == pytest.approx(pi / 4 * 5.6**2 * 270)
    assert c["en1993-1-3.plug-end-along"].capacity.value == pytest.approx(1.4 * 1.2 * 20 * 270)
    assert c["aisi-s100.plug-tear-out.along"].capacity.value == pytest.approx(0.6 * 270 * 2 * 1.2 * 16)
    assert c["aisi-s100.plug-row-rupture"].capacity.value == pytest.approx(0.6 * 270 * 1.2 * (600 - 15 * 8))
    # the structural codes' hole, 9.2 mm for 1.2 mm sheet, is larger than the trade's
    assert c["aisc360.plug-shear"].status == c["en1993-1-8.plug-shear"].status == "outside"
    assert "8 mm" in c["aisc360.plug-shear"].note
    assert found.status == "ok"


PLATES = [{"thickness": "3 mm", "grade": "S235JR"}] * 2


def test_half_inch_hole_by_aisc():
    """AISC 360 Table J2.5: 1/2 in hole, E70: 8.25 kip nominal, Omega 2.00; AWS D1.1 starts at 1/8 in."""
    found = judged(ROSETTES, sheets=PLATES, hole="1/2 in", filler="E70", pitch="55 mm", edge="15 mm")
    plug = checks(found)["aisc360.plug-shear"]
    assert plug.capacity.value / 4448.2216 == pytest.approx(8.25, abs=0.005)
    assert plug.required_factor == 2.0
    # 4 d = 50.8 mm is asked for once the clause is used
    assert checks(found)["detail.plug-spacing"].status == "ok"
    close = judged(ROSETTES, sheets=PLATES, hole="1/2 in", filler="E70", pitch="48 mm", edge="15 mm")
    assert checks(close)["detail.plug-spacing"].status == "over"
    # the hole is no larger than 11 + 3 mm: 15 mm breaks it
    assert checks(found)["detail.plug-hole-max"].status == "ok"
    large = judged(ROSETTES, sheets=PLATES, hole="15 mm", filler="E70", pitch="60 mm", edge="15 mm")
    assert checks(large)["detail.plug-hole-max"].status == "over"
    # in 1.2 mm sheet 36.7 kN of weld metal would be eight times what tears the sheet (4.48 kN, EN 1993-1-3)
    thin = judged(ROSETTES, hole="1/2 in", filler="E70", pitch="55 mm", edge="15 mm")
    assert checks(thin)["aisc360.plug-shear"].status == "outside"
    assert "1/8 in" in checks(thin)["aisc360.plug-shear"].note
    # 55 mm is beyond the 8 d of EN 1993-1-3: the welds are single ones, and judged as such
    assert thin.governing == "en1993-1-3.plug-tearing"
    assert "wide-pitch" in {c.code for c in thin.cautions}


def test_plate_by_en1993_1_8():
    """4.6(1): f_vw = 510/(sqrt(3) 0.9) on the hole of 14 mm, parts of 5 mm S355, f_u from the table."""
    plate = {"thickness": "5 mm", "grade": "S355J2"}
    found = judged(ROSETTES, sheets=[plate, plate], hole="14 mm", pitch="60 mm", edge="30 mm")
    f_u = found.model.sheets[0].f_u
    plug = checks(found)["en1993-1-8.plug-shear"]
    assert plug.capacity.value == pytest.approx(f_u / sqrt(3) / 0.9 * pi / 4 * 14**2)
    assert checks(found)["en1993-1-3.plug-tearing"].status == "outside"


def test_interface_is_no_larger_than_the_hole_or_the_coupon_says():
    small = judged(ROSETTES, hole="5 mm", pitch="30 mm")
    assert small.values["interface_diameter"].value == 5.0
    measured = judged(ROSETTES, interface="7 mm")
    capacity = checks(measured)["en1993-1-3.plug-tearing"].capacity.value
    assert capacity == pytest.approx(2.7 * sqrt(1.2) * 7 * 270)


def test_slots():
    """Slot 11 x 31 in 3 mm: area 11 x 20 + pi 30.25; AISC takes it (11 >= 3 + 8), EN 1993-1-3 does not."""
    found = judged(ROSETTES, sheets=PLATES, hole="11 mm", slot="31 mm", pitch="100 mm", end="50 mm", edge="15 mm")
    c = checks(found)
    expected = 0.60 * 70 * KSI * (220 + pi * 30.25)
    assert c["aisc360.plug-shear"].capacity.value == pytest.approx(expected)
    assert "slot" in c["en1993-1-3.plug-tearing"].note
    # 10 x 3 mm of weld: a slot of 30 mm is the longest (AISC J2.3b)
    assert c["detail.slot-length"].status == "over"


def test_puddles_by_hand():
    """AISI J2.2, d 20 through 1.2 mm: d_a 18.8, d_e = min(12.2, 11) = 11; E6013 60 ksi; EN 8.5.3: d_s 12.2."""
    found = judged(PUDDLES)
    c = checks(found)
    assert found.values["effective_diameter"].value == pytest.approx(11.0)
    assert c["aisi-s100.arc-spot-weld"].capacity.value == pytest.approx(pi * 121 / 4 * 0.75 * 60 * KSI)
    assert c["aisi-s100.arc-spot-weld"].required_factor == 2.55
    # d_a/t = 15.7 is under 0.815 sqrt(203000/270) = 22.3: stocky
    assert c["aisi-s100.arc-spot-sheet"].capacity.value == pytest.approx(2.20 * 1.2 * 18.8 * 270)
    assert c["aisi-s100.arc-spot-sheet"].required_factor == 2.20
    assert c["en1993-1-3.arc-spot-weld"].capacity.value == pytest.approx(pi / 4 * 12.2**2 * 0.625 * 60 * KSI)
    assert c["en1993-1-3.arc-spot-sheet"].capacity.value == pytest.approx(1.5 * 18.8 * 1.2 * 270)
    # f_u/f_y = 270/140: 2.1 x (1.5 x 1600) / (1.2 x 270 / 1.25)
    edge = c["en1993-1-3.arc-spot-edge.along"]
    assert edge.demand.value == pytest.approx(2.1 * 1.5 * 1600 / (1.2 * 270 / 1.25))
    assert found.status == "ok"


@pytest.mark.parametrize("place, share", [("field", 1.0), ("edge", 0.5), ("side-lap", 0.7)])
def test_uplift_by_hand(place, share):
    """AISI J2.2.3 in DC04: 0.8 (F_u/F_y)^2 t d_a F_u and the shares of place; Omega 3.00, deck 2.50.

    The yield strength is the greatest of the grade, 210 MPa, and not the 140 that a design assumes.
    """
    found = judged(PUDDLES, uplift="2 kN", uplift_place=place)
    c = checks(found)
    sheet = c["aisi-s100.arc-spot-uplift-sheet"]
    assert sheet.capacity.value == pytest.approx(share * 0.8 * (270 / 210) ** 2 * 1.2 * 18.8 * 270)
    assert c["aisi-s100.arc-spot-uplift-weld"].capacity.value == pytest.approx(share * pi * 121 / 4 * 60 * KSI)
    assert sheet.required_factor == 3.0
    deck = judged(PUDDLES, uplift="2 kN", uplift_place=place, deck=True)
    assert checks(deck)["aisi-s100.arc-spot-uplift-sheet"].required_factor == 2.5


def test_shear_and_uplift_together():
    found = judged(PUDDLES, shear="20 kN", uplift="25 kN")
    c = checks(found)
    V_a = min(
        c[k].capacity.value / c[k].required_factor for k in ("aisi-s100.arc-spot-weld", "aisi-s100.arc-spot-sheet")
    )
    T_a = min(c[f"aisi-s100.arc-spot-uplift-{k}"].capacity.value / 3.0 for k in ("weld", "sheet"))
    assert c["aisi-s100.arc-spot-interaction"].demand.value == pytest.approx((4000 / V_a) ** 1.5 + (5000 / T_a) ** 1.5)


def test_sheet_to_sheet():
    """AISI J2.2.2.2: what lies underneath is no thicker: 1.65 t d_a F_u, within 0.71 to 1.61 mm."""
    found = judged(PUDDLES, sheets=[TOP, TOP])
    sheet = checks(found)["aisi-s100.arc-spot-sheet"]
    assert sheet.capacity.value == pytest.approx(1.65 * 1.2 * 18.8 * 270)
    thick = {"thickness": "2 mm", "grade": "DC04"}
    assert checks(judged(PUDDLES, sheets=[thick, thick]))["aisi-s100.arc-spot-sheet"].status == "outside"


def test_lapped_sheets_use_twice_the_thickness():
    # d_a = d - 2 t with t the sum of both: 20 - 4.8
    found = judged(PUDDLES, sheets=[TOP, TOP, {"thickness": "4 mm", "grade": "S235JR"}])
    assert found.values["average_diameter"].value == pytest.approx(15.2)
    assert checks(found)["aisi-s100.arc-spot-sheet"].capacity.value == pytest.approx(2.20 * 2.4 * 15.2 * 270)


def test_arc_seam():
    """AISI J2.3, length counted up to 3 d: (pi d_e^2/4 + L d_e) 0.75 F_xx and 2.5 t F_u (0.25 L + 0.96 d_a)."""
    found = judged(PUDDLES, seam="40 mm", count=4, length="600 mm", edge="40 mm")
    c = checks(found)
    assert c["aisi-s100.arc-seam-weld"].capacity.value == pytest.approx((pi * 121 / 4 + 440) * 0.75 * 60 * KSI)
    assert c["aisi-s100.arc-seam-sheet"].capacity.value == pytest.approx(2.5 * 1.2 * 270 * (10 + 0.96 * 18.8))
    assert c["en1993-1-3.arc-spot-sheet"].capacity.value == pytest.approx((20 + 1.67 * 18.8) * 1.2 * 270)


def test_thin_sheet_needs_a_washer():
    thin = {"thickness": "0.6 mm", "grade": "DC04"}
    base = {**PUDDLES, "sheets": [thin, {"thickness": "4 mm", "grade": "S235JR"}]}
    assert judged(base).status == "outside"
    assert "washer" in checks(judged(base))["aisi-s100.arc-spot-weld"].note
    assert judged(base, weld_washer=True).status == "ok"


def test_a_plug_lifted_off_is_outside():
    found = judged(ROSETTES, uplift="1 kN")
    assert found.status == "outside"
    assert "lifted" in found.unjudged[0]


def test_aluminium_is_outside():
    sheet = {"thickness": "2 mm", "grade": "5754-H22"}
    found = judged(ROSETTES, sheets=[sheet, sheet], edge="15 mm")
    assert found.status == "outside"
    assert not [c for c in found.checks if c.status in ("ok", "over") and c.method.basis != DETAILING]


def test_stainless():
    """EN 1993-1-4 sends stainless to parts 1-3 and 1-8; AISI S100 and AISC 360 are for carbon steel."""
    sheet = {"thickness": "1.2 mm", "grade": "1.4301"}
    found = judged(ROSETTES, sheets=[sheet, sheet], filler="ER308L")
    assert checks(found)["en1993-1-3.plug-tearing"].status == "ok"
    assert checks(found)["aisi-s100.plug-tear-out.along"].status == "outside"
    assert any(c.code == "stainless-fume" for c in found.cautions)
    with pytest.raises(InputError, match="stainless filler"):
        judged(ROSETTES, sheets=[sheet, sheet])


def test_across():
    """Pulled across the row: edge instead of end, net section of the holed sheet (EN 1993-1-3)."""
    found = judged(ROSETTES, shear="0 N", across="3 kN", pitch="30 mm")
    c = checks(found)
    assert c["en1993-1-3.plug-end-across"].capacity.value == pytest.approx(1.4 * 1.2 * 12 * 270)
    assert c["en1993-1-3.plug-net-section"].capacity.value == pytest.approx(1.2 * (600 - 20 * 8) * 270)
    assert c["aisi-s100.plug-tear-out.across"].capacity.value == pytest.approx(0.6 * 270 * 2 * 1.2 * 8)


def test_weld_metal_that_holds_is_no_answer_for_the_sheet_round_it():
    """AISI J2.2 stops sheet on sheet at F_u 59 ksi (407 MPa), EN 8.5.3 at d_s 10 mm (9.93 here): only weld metal is left."""
    sheet = {"thickness": "1.5 mm", "grade": "S355MC"}
    found = judged(PUDDLES, sheets=[sheet, sheet], visible="17.4 mm", filler="E70", shear="2 kN")
    c = checks(found)
    assert c["aisi-s100.arc-spot-weld"].status == "ok"
    assert c["aisi-s100.arc-spot-sheet"].status == c["en1993-1-3.arc-spot-sheet"].status == "outside"
    assert found.status == "outside"


def test_both_directions_are_listed_apart():
    close = {"rows": 2, "row_spacing": "36 mm", "pitch": "36 mm", "hole": "11 mm", "edge": "20 mm"}
    found = judged(ROSETTES, across="2 kN", sheets=PLATES, **close)
    keys = [c.key for c in found.checks]
    assert len(keys) == len(set(keys))
    assert {"en1993-1-3.plug-end-along", "en1993-1-3.plug-end-across"} <= set(keys)
    # AISC J2.3b: 4 d = 44 mm both ways (from memory), and 11 mm is a hole the clause accepts
    assert checks(found)["detail.plug-row-spacing"].status == checks(found)["detail.plug-spacing"].status == "over"


@given(st.floats(1.01, 4.0))
def test_more_load_never_helps(times):
    for base in (ROSETTES, PUDDLES):
        low = checks(judged(base, shear="3 kN", across="1 kN"))
        high = checks(judged(base, shear=f"{3 * times!r} kN", across=f"{times!r} kN"))
        for key, check in low.items():
            if check.utilisation:
                assert high[key].utilisation >= check.utilisation * (1 - 1e-12)


@given(st.integers(3, 14))
def test_more_welds_never_carry_less_each(count):
    few, more = judged(ROSETTES, pitch=None, count=count), judged(ROSETTES, pitch=None, count=count + 1)
    assert more.values["shear_per_weld"].value < few.values["shear_per_weld"].value
    assert few.values["shear_per_weld"].value * count == pytest.approx(6000.0)


@pytest.mark.parametrize(
    "change, words",
    [
        ({"hole": "24 mm"}, "larger than the sheet allows"),
        ({"hole": "40 mm", "edge": "30 mm"}, "larger than the sheet allows"),
        ({"hole": None}, "give 'hole'"),
        ({"visible": "20 mm"}, "one of the two"),
        ({"slot": "8 mm"}, "not longer"),
        ({"slot": "42 mm"}, "larger than the sheet allows"),
        ({"fill": "2 mm"}, "deeper"),
        ({"count": 4}, "one of the two"),
        ({"pitch": None}, "one of the two"),
        ({"pitch": None, "count": 0}, "1 to 5000"),
        ({"rows": 2}, "row_spacing"),
        ({"rows": 2, "row_spacing": "7 mm"}, "touch"),
        ({"end": "310 mm"}, "longer than the row"),
        ({"pitch": "700 mm"}, "longer than the row"),
        ({"filler": "E99"}, "not a filler"),
        ({"filler": "ER308L"}, "does not go with"),
        ({"weld_washer": True}, "visible"),
        ({"sheets": [TOP]}, "two or three"),
        ({"hole": "8"}, "no unit"),
        ({"hole": None, "visible": "2 mm"}, "nothing left"),
    ],
)
def test_refused(change, words):
    with pytest.raises(InputError, match=words):
        build(PlugRow, {k: v for k, v in {**ROSETTES, **change}.items() if v is not None})


def test_found_pitch_is_the_largest():
    heavy = {**ROSETTES, "shear": "24 kN"}
    found = find_plug(heavy, "pitch").result
    pitch = found.values["found"].value
    assert found.status == "ok"
    wider = judged(heavy, pitch=f"{pitch + 1} mm")
    same = {c.key for c in found.checks if c.status in ("ok", "over")}
    assert wider.status != "ok" or not same <= {c.key for c in wider.checks if c.status in ("ok", "over")}


def test_found_hole_and_spot_are_the_smallest():
    heavy = {**ROSETTES, "shear": "33 kN", "hole": None}
    found = find_plug(heavy, "hole").result
    hole = found.values["found"].value
    assert found.status == "ok"
    assert found.model.hole == hole
    # a round size that punches are sold in (common practice, no source), and the next smaller one is too little
    sizes = (6.0, 6.5, 7.0, 8.0, 8.5, 9.0, 10.0, 11.0, 12.0, 13.0, 14.0)
    assert hole in sizes
    assert judged(heavy, hole=f"{sizes[sizes.index(hole) - 1]} mm").status != "ok"
    # where strength alone would do with a pinprick, the least that the trade punches into such sheet
    assert find_plug({**heavy, "shear": "100 N"}, "hole").result.model.hole == 6.0
    thick = [{**ROSETTES["sheets"][0], "thickness": "1.5 mm"}, ROSETTES["sheets"][1]]
    assert find_plug({**heavy, "sheets": thick, "shear": "100 N"}, "hole").result.model.hole == 8.0
    puddle = find_plug({**PUDDLES, "visible": None}, "visible").result
    d = puddle.values["found"].value
    assert puddle.status == "ok"
    assert judged(PUDDLES, visible=f"{d - 0.5} mm").status != "ok"


def test_nothing_found_says_why():
    with pytest.raises(InputError, match=r"the best try, .* % used: "):
        find_plug({**ROSETTES, "shear": "900 kN"}, "pitch")
    with pytest.raises(InputError, match="cannot be searched"):
        find_plug(ROSETTES, "colour")
    with pytest.raises(InputError, match="described with"):
        find_plug(PUDDLES, "hole")


def test_no_load_and_an_unfactored_load_are_said():
    """Our own warnings: nothing given is nothing judged, and a factor of 1 suits ultimate loads only."""
    codes = {c.code for c in judged(ROSETTES, shear="0 N", load_factor=1.0).cautions}
    assert {"no-load", "unfactored-load"} <= codes
    assert not {"no-load", "unfactored-load"} & {c.code for c in judged(ROSETTES).cautions}
