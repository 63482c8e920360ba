"""Weld groups through the whole check: published examples, hand sums, limits and symmetries."""

from __future__ import annotations

import itertools
import json
from math import cos, hypot, pi, radians, sin, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from jointcalc.check.fatigue import spot_fatigue
from jointcalc.check.fillet import check_fillet
from jointcalc.check.heat import order_of_runs
from jointcalc.errors import InputError
from jointcalc.explore.fillet import find_fillet
from jointcalc.model.fields import build
from jointcalc.model.fillet import FilletGroup
from jointcalc.result import Check, Result
from jointcalc.tables import load

IN, KIP = 25.4, 4448.2216152605
KSI = KIP / IN**2


def described(**change):
    """A tee of one 100 mm fillet under 1 kN along it, with changes; None takes a key away."""
    data = {
        "lines": ["0 0 100 0 mm"], "leg": "5 mm", "sheets": [{"thickness": "6 mm", "grade": "S275JR"}], "filler": "E70",
        "force": "1 0 0 kN", "at": "50 0 0 mm",
    }  # fmt: skip
    return {k: v for k, v in {**data, **change}.items() if v is not None}


def judged(**change) -> Result:
    return check_fillet(build(FilletGroup, described(**change)))


def find(result: Result, key: str) -> Check:
    return next(c for c in result.checks if c.key == key)


def capacity(result: Result, key: str) -> float:
    found = find(result, key)
    assert found.capacity is not None, found.note
    assert found.capacity.value is not None
    return found.capacity.value


def sheet(thickness: str, grade: str):
    return {"sheets": [{"thickness": thickness, "grade": grade}]}


def c_shape(width: float, height: float) -> list[str]:
    return [
        f"{width!r} 0 0 0 mm",
        f"0 0 0 {height!r} mm",
        f"0 {height!r} {width!r} {height!r} mm",
    ]


# --- published worked examples ---------------------------------------------------------------------


def test_shigley_example_9_1():
    """Shigley Ex. 9-1 (from memory): C of 56 and 190 mm, leg 6, 25 kN 100 mm past the vertical weld.

    Printed: x_bar 10.4 mm; 37 MPa at the free ends, 44 MPa at the corners.  The print's throat is 0.707·h.
    """
    result = judged(
        lines=c_shape(56.0, 190.0), leg="6 mm", force="0 25 0 kN", at="-100 95 0 mm", **sheet("10 mm", "S275JR")
    )
    assert result.values["centroid_x"].value == pytest.approx(10.4, abs=0.05)
    # the print bends with the arm from the centroid, 110.4 mm, as here
    assert result.values["peak_stress"].value == pytest.approx(44, abs=0.5)
    assert result.values["peak_at_x"].value == pytest.approx(0.0)
    group = result.model.group
    stress = group.elastic(result.model.acting).ends.stress
    assert stress[0, 0] == pytest.approx(37, abs=0.5)


def test_shigley_solution_9_5():
    """Shigley 8th ed., solution 9-5: two 2 in vertical fillets 2 in apart, h 5/16 in, F at 7 in: tau 9.22F.

    Printed allowable 20 kpsi -> F = 2.17 kip.
    """
    F = 2.17
    result = judged(
        lines=["0 0 0 2 in", "2 0 2 2 in"], leg="5/16 in", force=f"0 {-F!r} 0 kip", at="8 1 0 in",
        **sheet("10 mm", "S275JR"),
    )  # fmt: skip
    assert result.values["peak_stress"].value / KSI == pytest.approx(20.0, rel=0.005)
    assert result.values["peak_stress"].value / KSI / F == pytest.approx(9.22, rel=0.003)


@pytest.mark.parametrize(
    "k, a, C",
    [(0.0, 0.1, 1.86), (0.3, 0.0, 3.25), (0.5, 0.2, 4.11), (0.7, 0.5, 3.60), (1.0, 0.5, 4.82), (1.0, 1.0, 3.01)],
)
def test_coefficients_of_aisc_table_8_8(k, a, C):
    """AISC Manual 13th ed., Table 8-8 (C-shapes, vertical load): Rn = C·D·l, here leg 3/8 in (D = 6), l = 10 in.

    The group is 10 in high; the load stands a·l from its centroid.
    """
    height = 10 * IN
    width = k * height
    lines = c_shape(width, height) if k else [f"0 0 0 {height!r} mm"]
    x_bar = width**2 / (2 * width + height)
    result = judged(
        lines=lines, leg="3/8 in", force="0 -50 0 kN", at=f"{x_bar + a * height!r} {height / 2!r} 0 mm",
        **sheet("12 mm", "S355J2"),
    )  # fmt: skip
    found = capacity(result, "aisc-360.fillet-centre") / KIP / (6 * 10)
    assert found == pytest.approx(C, abs=0.0101)


def test_aisc_design_example_j2_as_a_group():
    """AISC Design Examples, J.2 (from memory): two 5/16 in fillets 16 in long at 60 degrees: 13.0 kip/in (ASD)."""
    angle = radians(60)
    result = judged(
        lines=["0 0 16 0 in", "0 0.5 16 0.5 in"], leg="5/16 in",
        force=f"{100 * cos(angle)!r} {100 * sin(angle)!r} 0 kip", at="8 0.25 0 in", **sheet("12 mm", "S355J2"),
    )  # fmt: skip
    check = find(result, "aisc-360.fillet-centre")
    assert check.required_factor == 2.0
    assert check.capacity.value / KIP / 16 / 2.0 == pytest.approx(13.0, abs=0.05)
    assert "direction factor" in check.note


def test_published_bracing_gusset():
    """Steel-building design guide SSB05, sheets 83, 86: 15 mm gusset, two fillets 560 mm, throat needed 2.03 mm.

    The sheet takes beta_w = 0.8 for S355 and fu 510; with Table 4.1's 0.9 and the product standard's 470 the
    same loads need 2.03·(0.9/0.8)·(510/470).  Loads are ultimate there, so the factor is gamma_M2 alone.
    """
    F_1, F_par = 23.02 * 15 / 2, 77.53 * 15 / 2
    result = judged(
        lines=["0 0 560 0 mm", "0 15 560 15 mm"], leg="6 mm", full_size=True, load_factor=1.0,
        force=f"{2 * 560 * F_par!r} {2 * 560 * F_1!r} 0 N", at="280 7.5 0 mm", **sheet("15 mm", "S355J2"),
    )  # fmt: skip
    check = find(result, "en1993-1-8.directional")
    needed = 2.03 * (0.9 / 0.8) * (510 / 470)
    assert check.required_factor == 1.25
    assert (6 / sqrt(2)) / needed == pytest.approx(check.safety_factor / 1.25, rel=0.003)


def test_fillet_table_of_a_published_handbook():
    """British handbook (SCI P363, from memory): leg 6, S275: 0.94 kN/mm along and 1.15 across, gamma_M2 inside."""
    along = judged(leg="6 mm", full_size=True)
    across = judged(leg="6 mm", full_size=True, force="0 1 0 kN")
    throat = sqrt(2) / 2 * 6 / 4.2  # the handbook rounds the throat of leg 6 to 4.2
    assert capacity(along, "en1993-1-8.simplified") / 1250 / throat == pytest.approx(0.94, abs=0.006)
    assert capacity(along, "en1993-1-8.directional") / 1250 / throat == pytest.approx(0.94, abs=0.006)
    assert capacity(across, "en1993-1-8.directional") / 1250 / throat == pytest.approx(1.15, abs=0.006)


def test_published_flare_bevel():
    """Structural steel handbook: R = 0.75 in, SMAW: throat 0.234 in, 31.5 ksi LRFD, so 42 ksi nominal."""
    result = judged(
        weld="flare-bevel",
        leg=None,
        radius="0.75 in",
        process="SMAW",
        sheets=[{"thickness": "3/8 in", "grade": "S275JR"}],
    )
    assert result.values["throat"].value / IN == pytest.approx(0.234, abs=5e-4)
    assert capacity(result, "aisc-360.flare") / (result.values["throat"].value * KSI) == pytest.approx(31.5 / 0.75)


# --- sheet rules by hand ------------------------------------------------------------------------------


def test_aisi_sheet_beside_the_weld_by_hand():
    """AISI S100 J2.5 by hand: S235 sheet 2 mm (fu 360), 30 mm: along (1 - 0.01·15)·60·360, across 60·360."""
    thin = {"lines": ["0 0 30 0 mm"], "leg": "3 mm", "at": "15 0 0 mm", **sheet("2 mm", "S235JR")}
    along, across = judged(**thin), judged(**thin, force="0 1 0 kN")
    assert capacity(along, "aisi-s100.fillet-longitudinal") == pytest.approx(0.85 * 60 * 360)
    assert find(along, "aisi-s100.fillet-longitudinal").required_factor == 2.55
    assert find(along, "aisi-s100.fillet-longitudinal").demand.value == pytest.approx(1000)
    assert capacity(across, "aisi-s100.fillet-transverse") == pytest.approx(60 * 360)
    assert find(across, "aisi-s100.fillet-transverse").demand.value == pytest.approx(1000)
    long = judged(**{**thin, "lines": ["0 0 60 0 mm"], "at": "30 0 0 mm"})
    assert capacity(long, "aisi-s100.fillet-longitudinal") == pytest.approx(0.75 * 120 * 360)
    assert find(long, "aisi-s100.fillet-longitudinal").required_factor == 3.05


@pytest.mark.parametrize("ratio", [15.0, 19.0, 20.0, 20.5, 24.0])
def test_a_weld_just_short_of_the_long_rule_is_allowed_no_more_than_one_it_covers(ratio: float) -> None:
    """AISI S100-16 J2.5 (from memory): (1 - 0.01 L/t) L t F_u / 2.55 under 25 t, 0.75 t L F_u / 3.05 from there; 1 mm."""
    found = find(
        judged(**sheet("1 mm", "S355MC"), lines=[f"0 0 {ratio!r} 0 mm"], leg="1 mm", at=f"{ratio / 2!r} 0 0 mm"),
        "aisi-s100.fillet-longitudinal",
    )
    assert found.capacity is not None
    allowed = (found.capacity.value or 0.0) / (found.required_factor or 1.0)
    short, long = (1 - 0.01 * ratio) * ratio / 2.55, 0.75 * 25 / 3.05
    assert allowed == pytest.approx(430 * min(short, long), rel=1e-6)


def test_aisi_along_and_across_add_as_squares():
    """A force at 45 degrees: the use is the root of the two uses squared (our rule, AISI has none)."""
    result = judged(lines=["0 0 30 0 mm"], leg="3 mm", at="15 0 0 mm", force="3 3 0 kN", **sheet("2 mm", "S235JR"))
    along, across = find(result, "aisi-s100.fillet-longitudinal"), find(result, "aisi-s100.fillet-transverse")
    both = find(result, "interaction.along-across")
    assert both.utilisation == pytest.approx(hypot(along.utilisation, across.utilisation))


def test_the_throat_is_judged_in_every_thickness():
    """AISI S100 asks for it over 2.54 mm, 0.75·0.707·4·100·Fxx; the same weld in thinner sheet is no stronger."""
    for t in ("3 mm", "2.5 mm"):
        found = find(judged(leg="4 mm", **sheet(t, "S235JR")), "aisi-s100.weld-metal")
        assert found.status == "ok"
        assert found.capacity.value == pytest.approx(0.75 * 0.707 * 4 * 100 * 70 * KSI)


def test_a_leg_smaller_than_the_sheet_is_judged_on_its_throat_in_thin_sheet_too():
    """AISI S100 J2.5: leg 1 mm on 2.5 mm: 0.75·0.707·100·Fxx = 25.6 kN, by hand; 20 kN on it asks for 2.55."""
    base = {"force": "20 0 0 kN", "at": "50 0 0 mm", **sheet("2.5 mm", "S235JR")}
    small = find(judged(leg="1 mm", **base), "aisi-s100.weld-metal")
    assert (small.status, small.required_factor) == ("over", 2.55)
    assert small.capacity.value == pytest.approx(0.75 * 0.707 * 1 * 100 * 70 * KSI)
    for leg in ("2.5 mm", "2.49 mm"):
        assert find(judged(leg=leg, **base), "aisi-s100.weld-metal").status == "ok"


def lap(**change):
    base = {"joint": "lap", "leg": "2 mm", "throat": "2 mm", "force": "6 0 0 kN", **sheet("2 mm", "S235JR")}
    return judged(**{**base, "leg": None, **change})


def test_en_1993_1_3_lap_by_hand():
    """EN 1993-1-3 8.5.2 by hand, t 2, fu 360, b 50: sides of 40 mm t·L·(0.9 - 0.45·0.8)·fu each, end 0.7·t·b·fu."""
    sides = lap(lines=["0 0 40 0 mm", "0 50 40 50 mm"], at="0 25 0 mm")
    assert capacity(sides, "en1993-1-3.lap-weld") == pytest.approx(2 * 2 * 40 * (0.9 - 0.36) * 360)
    end = lap(lines=["0 0 0 50 mm"], at="20 25 0 mm")
    assert capacity(end, "en1993-1-3.lap-weld") == pytest.approx(0.7 * 2 * 50 * 360)
    both = lap(lines=["0 0 40 0 mm", "0 50 40 50 mm", "40 0 40 50 mm"], at="0 25 0 mm")
    total = capacity(sides, "en1993-1-3.lap-weld") + capacity(end, "en1993-1-3.lap-weld")
    assert capacity(both, "en1993-1-3.lap-weld") == pytest.approx(total)
    long = lap(lines=["0 0 80 0 mm", "0 50 80 50 mm"], at="0 25 0 mm")
    assert capacity(long, "en1993-1-3.lap-weld") == pytest.approx(2 * 0.45 * 2 * 50 * 360)
    assert find(long, "en1993-1-3.lap-weld").required_factor == pytest.approx(1.25 * 1.5)


@pytest.mark.parametrize(
    "change, why",
    [
        ({"lines": ["0 0 40 0 mm"], "at": "0 0 0 mm"}, "pair of side fillets"),
        ({"lines": ["0 0 40 0 mm", "0 50 40 50 mm"], "at": "0 40 0 mm"}, "through the middle"),
        ({"lines": ["0 0 40 0 mm", "0 50 40 50 mm"], "at": "0 25 0 mm", "joint": "tee"}, "this is a tee"),
        ({"lines": ["0 0 40 20 mm", "0 50 40 30 mm"], "at": "20 25 0 mm"}, "oblique"),
        ({"lines": ["0 0 10 0 mm", "0 50 10 50 mm"], "at": "0 25 0 mm"}, "shorter lengths carry no load"),
        ({"lines": ["0 0 0 50 mm"], "at": "20 25 0 mm", "throat": "1 mm"}, "the sheet must govern"),
        ({"lines": ["0 0 0 50 mm"], "at": "20 25 0 mm", **sheet("4.5 mm", "S235JR"), "throat": "4.5 mm"}, "at most 4"),
    ],
)
def test_en_1993_1_3_lap_says_why_it_does_not_apply(change, why):
    """A method outside its range is listed with the reason."""
    found = find(lap(**change), "en1993-1-3.lap-weld")
    assert found.status == "outside"
    assert why in found.note


def test_butt_weld_is_the_sheet():
    """EN 1993-1-8 4.7.1 and AISI J2.1 by hand: 3 mm of S235 across: 3·235 a millimetre, 100·3·235 in all."""
    result = judged(weld="butt", leg=None, force="0 1 0 kN", **sheet("3 mm", "S235JR"))
    assert capacity(result, "en1993-1-8.butt") == pytest.approx(3 * 235)
    assert find(result, "en1993-1-8.butt").demand.value == pytest.approx(10.0)
    assert capacity(result, "aisi-s100.groove-tension") == pytest.approx(300 * 235)
    shear = judged(weld="butt", leg=None, **sheet("3 mm", "S235JR"))
    assert find(shear, "en1993-1-8.butt").demand.value == pytest.approx(10.0 * sqrt(3))
    assert capacity(shear, "aisi-s100.groove-shear") == pytest.approx(300 * 235 / sqrt(3))


# --- heat-affected metals ------------------------------------------------------------------------------


def test_aluminium_zone_governs_across():
    """6061-T6 sheet 3 mm: 165 MPa beside the weld (table value of its standard), so 495 N/mm across, /sqrt3 along."""
    metal = {"filler": "5356", "leg": "4 mm", **sheet("3 mm", "6061-T6")}
    across, along = judged(**metal, force="0 1 0 kN"), judged(**metal)
    assert capacity(across, "en1999-1-1.heat-affected") == pytest.approx(3 * 165)
    assert capacity(along, "en1999-1-1.heat-affected") == pytest.approx(3 * 165 / sqrt(3))
    # Table 8.8: 5356 on 6061 190 MPa; along: throat·190/sqrt3
    assert capacity(along, "en1999-1-1.weld-metal") == pytest.approx(4 / sqrt(2) * 190 / sqrt(3))
    assert capacity(along, "adm.fillet-shear") == pytest.approx(4 / sqrt(2) * 17 * KSI)
    assert "heat-affected-aluminium" in {c.code for c in along.cautions}
    assert not any(c.key.startswith(("aisc", "aisi")) for c in along.checks)


def test_tig_softens_heat_treatable_alloys_more():
    """EN 1999-1-1 6.1.6.2, from memory: TIG on 6xxx takes 0.8 of the zone strength."""
    metal = {"filler": "5356", "leg": "4 mm", **sheet("3 mm", "6061-T6")}
    mig, tig = judged(**metal), judged(**metal, process="TIG")
    ratio = capacity(tig, "en1999-1-1.heat-affected") / capacity(mig, "en1999-1-1.heat-affected")
    assert ratio == pytest.approx(0.8)


def test_4130_beside_the_weld():
    """MIL-HDBK-5, from memory: 0.841·655 MPa beside the weld, 0.941 beside a taper to 30 degrees; factor 1.725."""
    metal = {"leg": "3 mm", **sheet("2 mm", "4130N")}
    plain, taper = judged(**metal), judged(**metal, taper="30 deg")
    assert capacity(plain, "mil-hdbk-5.near-weld") == pytest.approx(0.841 * 655 * 2)
    assert capacity(taper, "mil-hdbk-5.near-weld") == pytest.approx(0.941 * 655 * 2)
    assert find(plain, "mil-hdbk-5.near-weld").required_factor == pytest.approx(1.725)
    # the sheet beside the weld is reduced for AISI too: 0.75·t·L·0.841·655
    assert capacity(plain, "aisi-s100.fillet-longitudinal") == pytest.approx(0.75 * 200 * 0.841 * 655)
    assert "heat-affected-4130" in {c.code for c in plain.cautions}


# --- ranges and rules ---------------------------------------------------------------------------------


def test_thin_sheet_leaves_the_structural_codes():
    """EN 1993-1-8 from 4 mm, AWS D1.1 from 3 mm: at 2 mm only AISI judges."""
    result = judged(leg="3 mm", **sheet("2 mm", "S235JR"))
    status = {c.key: c.status for c in result.checks}
    assert status["en1993-1-8.directional"] == status["aisc-360.fillet-elastic"] == "outside"
    assert status["aisi-s100.fillet-longitudinal"] == "ok"
    assert result.status == "ok"
    three = {c.key: c.status for c in judged(**sheet("3 mm", "S235JR")).checks}
    assert three["aisc-360.fillet-elastic"] == "ok"
    assert three["en1993-1-8.directional"] == "outside"


def test_thick_sheet_leaves_aisi():
    """AISI S100: to 3/16 in (4.76 mm)."""
    assert find(judged(), "aisi-s100.fillet-longitudinal").status == "outside"


def test_thin_stainless_by_asce_8():
    """SEI/ASCE 8-02, 5.2.2 by hand (from memory): 2 mm of 1.4301 (540 MPa), 100 mm along, L/t 50: 0.43·200·540."""
    result = judged(leg="3 mm", filler="308L", **sheet("2 mm", "1.4301"))
    assert result.status == "ok"
    along = find(result, "asce-8.fillet-longitudinal")
    assert along.capacity.value == pytest.approx(0.43 * 200 * 540)
    assert along.required_factor == pytest.approx(1.5 / 0.55)
    short = judged(leg="3 mm", filler="308L", lines=["0 0 40 0 mm"], at="20 0 0 mm", **sheet("2 mm", "1.4301"))
    assert capacity(short, "asce-8.fillet-longitudinal") == pytest.approx((0.7 - 0.009 * 20) * 80 * 540)
    # cold-rolled strip of 900 MPa is annealed by the weld
    hard = judged(leg="3 mm", filler="308L", sheets=[
        {"thickness": "2 mm", "grade": "1.4301", "tensile_strength": "900 MPa", "yield_strength": "600 MPa"}
    ])  # fmt: skip
    assert capacity(hard, "asce-8.fillet-longitudinal") == pytest.approx(0.43 * 200 * 540)


def test_a_flare_in_thin_stainless_is_outside():
    """No method held here covers its weld metal: the answer is `outside`, not `ok`."""
    result = judged(weld="flare-bevel", leg=None, radius="12 mm", filler="308L", **sheet("2 mm", "1.4301"))
    assert result.status == "outside"
    assert any("weld metal" in sentence for sentence in result.unjudged)


def test_weld_loses_a_throat_at_each_end():
    """EN 1993-1-8 4.5.1: 100 mm of leg 5 counts 92.93 mm unless full size; under 30 mm nothing."""
    short, full = judged(), judged(full_size=True)
    a = 5 / sqrt(2)
    ratio = find(short, "en1993-1-8.simplified").demand.value / find(full, "en1993-1-8.simplified").demand.value
    assert ratio == pytest.approx(100 / (100 - 2 * a))
    stub = judged(lines=["0 0 36 0 mm"], at="18 0 0 mm")
    assert find(stub, "en1993-1-8.simplified").status == "outside"
    assert "carry no load" in find(stub, "en1993-1-8.simplified").note


def test_weak_filler_is_outside():
    """EN 1993-1-8 4.2(2): filler at least as strong as the part; E60 (414 MPa) on S355 (470)."""
    found = find(judged(filler="E6013", **sheet("6 mm", "S355J2")), "en1993-1-8.directional")
    assert found.status == "outside"
    assert "weaker" in found.note


def test_short_and_long_welds_by_aisc():
    """AISC 360 J2.2b: 16 mm of leg 5 counts leg 4; 1000 mm of leg 5 loses 1.2 - 0.002·200 = 0.8."""
    short = judged(lines=["0 0 16 0 mm"], at="8 0 0 mm")
    assert capacity(short, "aisc-360.fillet-elastic") == pytest.approx(0.6 * 70 * KSI * 0.707 * 4)
    assert find(short, "detail.weld-length-min").status == "info"
    long = judged(lines=["0 0 1000 0 mm"], at="500 0 0 mm")
    assert capacity(long, "aisc-360.fillet-elastic") == pytest.approx(0.8 * 0.6 * 70 * KSI * 0.707 * 5)
    very = judged(lines=["0 0 2000 0 mm"], at="1000 0 0 mm")
    assert capacity(very, "aisc-360.fillet-elastic") == pytest.approx(900 / 2000 * 0.6 * 70 * KSI * 0.707 * 5)


@pytest.mark.parametrize("t, least", [("6 mm", 3.0), ("10 mm", 5.0), ("16 mm", 6.0), ("20 mm", 8.0)])
def test_least_leg_of_aisc_table_j2_4(t, least):
    """AISC 360 Table J2.4, metric edition: 3, 5, 6, 8 mm."""
    thick = judged(leg="8 mm", **sheet(t, "S355J2" if t != "20 mm" else "A36"))
    found = find(thick, "detail.leg-min")
    assert found.demand.value == least
    thin = judged(leg=f"{least - 0.5!r} mm", **sheet(t, "S355J2" if t != "20 mm" else "A36"))
    assert find(thin, "detail.leg-min").status == "over"
    assert thin.status == "over"


def test_leg_along_a_thick_edge():
    """AISC 360 J2.2b: 8 mm edge takes 6 mm."""
    assert find(judged(joint="lap", leg="6 mm", **sheet("8 mm", "S275JR")), "detail.leg-max").status == "ok"
    assert find(judged(joint="lap", leg="7 mm", **sheet("8 mm", "S275JR")), "detail.leg-max").status == "over"


def test_side_fillets_alone_are_as_long_as_they_are_apart():
    """AISC 360 J2.2b: longitudinal fillets alone on a flat bar."""
    good = judged(joint="lap", lines=["0 0 60 0 mm", "0 50 60 50 mm"], at="0 25 0 mm")
    bad = judged(joint="lap", lines=["0 0 40 0 mm", "0 50 40 50 mm"], at="0 25 0 mm")
    assert find(good, "detail.side-length-min").status == "ok"
    assert find(bad, "detail.side-length-min").status == "over"


def test_bend_beside_the_weld():
    """EN 1993-1-8 Table 4.2, from memory: 3 mm sheet needs r = 1.0 t, 6 mm 1.5 t."""
    assert (
        find(judged(leg="3 mm", bend_radius="3 mm", **sheet("3 mm", "S235JR")), "detail.bend-radius-min").status == "ok"
    )
    sharp = find(judged(leg="3 mm", bend_radius="2 mm", **sheet("3 mm", "S235JR")), "detail.bend-radius-min")
    assert sharp.status == "over"
    assert sharp.demand.value == pytest.approx(3.0)
    assert find(judged(bend_radius="6 mm"), "detail.bend-radius-min").demand.value == pytest.approx(9.0)


def test_lap_against_the_rule():
    """AISC 360 J2.2b: 5 t and 25 mm."""
    assert find(judged(joint="lap", overlap="30 mm"), "detail.lap-min").status == "ok"
    assert find(judged(joint="lap", overlap="29 mm"), "detail.lap-min").status == "over"


# --- stitches -----------------------------------------------------------------------------------------


def test_stitches_stand_at_both_ends_at_no_more_than_the_pitch():
    """600 mm, 40 on 120 mm: six stitches, 240 mm of weld, a fifth of the way apart."""
    model = build(FilletGroup, described(lines=["0 0 600 0 mm"], stitch="40 120 mm", at="300 0 0 mm"))
    lines = model.group.lines
    assert len(lines) == 6
    assert lines[0][0] == 0.0
    assert lines[-1][2] == pytest.approx(600.0)
    pitch = np.diff(lines[:, 0])
    assert pitch == pytest.approx(112.0)
    assert model.group.lengths == pytest.approx(40.0)


def test_stitches_share_the_load_of_the_seam():
    """Equal shares by length: 3 kN over 240 mm is 12.5 N/mm."""
    result = judged(lines=["0 0 600 0 mm"], stitch="40 120 mm", at="300 0 0 mm", force="3 0 0 kN")
    assert result.values["peak"].value == pytest.approx(12.5)
    assert result.values["weld_length"].value == pytest.approx(240.0)
    # EN 1993-1-8 figure 4.1: gap 80 mm, at most 16·6 in tension
    gap = find(result, "detail.stitch-gap-max")
    assert (gap.demand.value, gap.capacity.value, gap.status) == (80.0, 96.0, "ok")
    # AISC 360 J2.2b: 40 mm, at least 38
    assert find(result, "detail.stitch-min").demand.value == 38.0


# --- group facts --------------------------------------------------------------------------------------


def test_contract_example():
    """By hand: J = 100³/12 of one line, 10 kN 100 mm from its middle: 100 + 1e6·50/83333 = 700 N/mm at x = 100."""
    result = judged(lines=["0 0 100 0 mm"], force="0 -10 0 kN", at="150 0 0 mm", **sheet("3 mm", "S355MC"))
    assert result.values["peak"].value == pytest.approx(700.0)
    assert result.values["peak_at"].value == pytest.approx(100.0)
    assert (result.values["peak_at_x"].value, result.values["peak_at_y"].value) == pytest.approx((100.0, 0.0))
    assert {v.unit for k, v in result.values.items() if k.startswith("peak_at")} == {"mm"}
    assert result.values["peak"].unit == "N/mm"


@given(
    angle=st.floats(0, 2 * pi),
    shift=st.tuples(st.floats(-500, 500), st.floats(-500, 500)),
    # to the millinewton: a component a billionth of the force is none, and turning it moves it across that line
    force=st.tuples(*[st.floats(-5e3, 5e3).map(lambda v: round(v, 3))] * 3).filter(lambda f: hypot(*f) > 100),
)
def test_turning_and_moving_the_axes_changes_nothing(angle, shift, force):
    """Rigid-body invariance of every utilisation (tolerance: ties of the peak and the centre's 1e-10)."""

    def turn(x, y):
        c, s = cos(angle), sin(angle)
        return c * x - s * y + shift[0], s * x + c * y + shift[1]

    lines = [(0, 0, 60, 0), (0, 0, 0, 80), (0, 80, 60, 80)]
    at = (130.0, 25.0)
    moved = [(*turn(a, b), *turn(c, d)) for a, b, c, d in lines]
    c, s = cos(angle), sin(angle)
    F = (c * force[0] - s * force[1], s * force[0] + c * force[1], force[2])
    here = judged(
        lines=[" ".join(f"{v!r}" for v in map(float, ln)) + " mm" for ln in lines],
        force=f"{force[0]!r} {force[1]!r} {force[2]!r} N", at=f"{at[0]!r} {at[1]!r} 0 mm", **sheet("4 mm", "S275JR"),
    )  # fmt: skip
    there = judged(
        lines=[" ".join(f"{v!r}" for v in ln) + " mm" for ln in moved],
        force=f"{F[0]!r} {F[1]!r} {F[2]!r} N", at=" ".join(f"{v!r}" for v in turn(*at)) + " 0 mm",
        **sheet("4 mm", "S275JR"),
    )  # fmt: skip
    assert here.values["peak"].value == pytest.approx(there.values["peak"].value, rel=1e-9)
    for a, b in zip(here.checks, there.checks):
        assert a.key == b.key
        assert a.status == b.status
        if a.utilisation is not None:
            assert a.utilisation == pytest.approx(b.utilisation, rel=1e-7, abs=1e-9), a.key


def test_twice_the_load_is_twice_the_use():
    """All methods are linear in the load (the fatigue interaction is not asked for here)."""
    one = judged(lines=c_shape(60.0, 80.0), force="1 -2 0 kN", at="150 40 0 mm")
    two = judged(lines=c_shape(60.0, 80.0), force="2 -4 0 kN", at="150 40 0 mm")
    for a, b in zip(one.checks, two.checks):
        if a.utilisation and not a.key.startswith("detail."):
            assert b.utilisation == pytest.approx(2 * a.utilisation, rel=1e-9), a.key


def test_moment_alone():
    """A pure moment needs no point: the ultimate group is judged in N·mm, the elastic one in N/mm."""
    result = judged(lines=c_shape(60.0, 80.0), force=None, at=None, moment="0 0 500 N*m")
    centre = find(result, "aisc-360.fillet-centre")
    assert centre.capacity.unit == centre.demand.unit == "N*mm"
    assert centre.demand.value == pytest.approx(5e5)


def test_elastic_never_carries_more_than_the_ultimate_group():
    """AISC Manual part 8: the vector method is the conservative one, over shapes of its tables."""
    for k in (0.2, 0.5, 1.0):
        for a in (0.2, 0.6, 1.2):
            height = 100.0
            x_bar = (k * height) ** 2 / (2 * k * height + height)
            result = judged(lines=c_shape(k * height, height), force="0 -5 0 kN", at=f"{x_bar + a * height!r} 50 0 mm")
            elastic, ultimate = (find(result, f"aisc-360.fillet-{m}") for m in ("elastic", "centre"))
            assert elastic.safety_factor < ultimate.safety_factor


def test_out_of_plane_load_leaves_the_centre_method():
    """The instantaneous centre is for loads in the plane; a lift folds the sheet under the welds."""
    result = judged(lines=["0 0 100 0 mm", "0 60 100 60 mm"], force="0 0 2 kN", at="50 30 0 mm")
    assert find(result, "aisc-360.fillet-centre").status == "outside"
    assert find(result, "aisc-360.fillet-elastic").demand.value == pytest.approx(10.0)
    assert find(result, "yield-line.sheet-under-welds").status == "ok"
    assert {"lasting-dent", "sheet-supports"} <= {c.code for c in result.cautions}


# --- bad input -----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "change, words",
    [
        ({"lines": ["5 5 5 5 mm"]}, ("line 1 has no length", "two different ends")),
        ({"lines": ["0 0 9 0 mm", "9 0 0 0 mm"]}, ("one and the same",)),
        ({"lines": []}, ("0 weld lines",)),
        ({"at": None}, ("at:", "needs the point it acts at")),
        ({"force": "0 0 1 kN", "at": "50 30 0 mm"}, ("cannot resist", "no arm")),
        ({"leg": None}, ("leg: is missing",)),
        ({"leg": "5"}, ("no unit",)),
        ({"leg": "20 mm"}, ("burns through", "18 mm")),
        ({"joint": "lap", "leg": "7 mm"}, ("the edge it lies along", "6 mm")),
        ({"joint": "corner"}, ("accepted: tee, lap",)),
        ({"weld": "filet"}, ("did you mean 'fillet'",)),
        ({"filler": "ER70S-9"}, ("did you mean 'ER70S-",)),
        ({"weld": "flare-V", "leg": None}, ("radius: is missing",)),
        ({"weld": "flare-V", "leg": None, "radius": "6 mm", "fill_gap": "5 mm"}, ("leaves no throat",)),
        ({"stitch": "40 40 mm"}, ("leave no gap",)),
        ({"stitch": "120 200 mm"}, ("shorter than a stitch",)),
        # 100 mm: one at each end would be 120 mm of weld; 45 on 50: three, 27.5 mm from centre to centre
        ({"stitch": "60 200 mm"}, ("run into one another", "line 1 of 100", "count twice")),
        ({"stitch": "45 50 mm"}, ("run into one another",)),
        ({"throat": "6 mm"}, ("more than the leg",)),
        ({"cycles": 0.0}, ("cycles:",)),
        ({"load_range": 3.0}, ("load_range:",)),
        ({"detail": "tee-rot", "cycles": 1e5}, ("did you mean 'tee-root'",)),
        ({"detail": "tee-root"}, ("needs the number of load changes",)),
        ({"voltage": "18 V"}, ("current: is missing",)),
        ({"analysis": "C=0.2 Xx=3"}, ("'Xx=3' cannot be read",)),
        ({"analysis": "C=0.2"}, ("at least C and Mn",)),
        ({"sheets": [{"thickness": "3 mm", "grade": "6061-T6"}, {"thickness": "3 mm", "grade": "S235JR"}]}, ("aluminium cannot",)),
        ({"sheets": [{"thickness": "3 mm", "grade": "6061-T6"}]}, ("not an aluminium filler",)),
        ({"lines": ["0 0 100 mm"]}, ("3 numbers, 4 are needed",)),
        ({"force": "0 nan 0 N"}, ("force",)),
        ({"weld": "butt", "leg": None, "throat": "7 mm"}, ("more than the thinner sheet",)),
    ],
)  # fmt: skip
def test_bad_input_is_named(change, words):
    """Each wrong input gives one message with the field, what is wrong and what is accepted."""
    with pytest.raises(InputError) as stop:
        build(FilletGroup, described(**change))
    for word in words:
        assert word in str(stop.value)


# --- fatigue -------------------------------------------------------------------------------------------


def test_fatigue_of_the_throat_by_hand():
    """EN 1993-1-9, by hand: 2e6 changes of 10 N/mm along a throat of 3.54: 2.83 MPa against 80 (category itself)."""
    along = judged(cycles=2e6)
    shear = find(along, "en1993-1-9.throat-shear")
    assert shear.demand.value == pytest.approx(10 * sqrt(2) / 5)
    assert shear.capacity.value == pytest.approx(80.0)
    assert shear.required_factor == 1.35
    across = judged(cycles=2e6, force="0 1 0 kN", load_range=0.5)
    assert find(across, "en1993-1-9.throat").demand.value == pytest.approx(5 * sqrt(2) / 5)
    assert find(across, "en1993-1-9.throat").capacity.value == pytest.approx(36.0)
    toe = find(across, "en1993-1-9.toe")
    assert toe.demand.value == pytest.approx(5 / 6)
    assert toe.capacity.value == pytest.approx(80.0)  # tee, 6 + 2·5 mm wide: to 50 mm
    assert "fatigue" not in {c.code for c in across.cautions}
    assert "fatigue" in {c.code for c in judged().cautions}


def test_fatigue_interaction_by_hand():
    """EN 1993-1-9 8(3) with both strengths over gamma_Mf: (1.35·s/36)³ + (1.35·t/80)⁵ at 2e6 changes."""
    result = judged(cycles=2e6, force="8 8 0 kN")
    stress = 80 * sqrt(2) / 5
    both = find(result, "en1993-1-9.interaction")
    assert both.demand.value == pytest.approx((1.35 * stress / 36) ** 3 + (1.35 * stress / 80) ** 5)


def test_fatigue_is_outside_where_no_category_fits():
    """Flare welds, aluminium, too few changes, and spots have no category."""
    flare = judged(weld="flare-bevel", leg=None, radius="12 mm", cycles=1e6)
    assert find(flare, "en1993-1-9.screen").status == "outside"
    assert "no method judges" in flare.unjudged[0]
    # fewer changes than the curves begin with are judged as so many, which is on the safe side
    few, at_edge = judged(cycles=1e3), judged(cycles=1e4)
    assert "10 000" in find(few, "en1993-1-9.throat").note
    assert capacity(few, "en1993-1-9.throat-shear") == capacity(at_edge, "en1993-1-9.throat-shear")
    metal = judged(cycles=1e6, filler="5356", leg="4 mm", **sheet("3 mm", "6061-T6"))
    assert find(metal, "en1993-1-9.screen").status == "outside"
    spots = spot_fatigue(t=1.2, d=5.5, shear=300.0, peel=0.0, arm=1.2, cycles=1e6)
    assert [c.status for c in spots] == ["outside", "info"]


def test_butt_category_depends_on_the_test():
    """EN 1993-1-9 Table 8.3 detail 13, from memory: 36 untested, 71 with tested penetration."""
    butt = {"weld": "butt", "leg": None, "force": "0 1 0 kN", "cycles": 2e6}
    assert find(judged(**butt), "en1993-1-9.butt").capacity.value == pytest.approx(36.0)
    assert find(judged(**butt, tested=True), "en1993-1-9.butt").capacity.value == pytest.approx(71.0)


def test_spot_structural_stress_by_hand():
    """Rupp and others by hand, t 1.2, d 5.5, 300 N, arm 1.2: membrane F/(pi d t), bending 0.6·sqrt(t)·1.872·M/(d t²)."""
    check = spot_fatigue(t=1.2, d=5.5, shear=300.0, peel=0.0, arm=1.2, cycles=1e6)[1]
    stress = 300 / (pi * 5.5 * 1.2) + 0.6 * sqrt(1.2) * 1.872 * 360 / (5.5 * 1.44)
    assert (check.demand.value, check.demand.unit) == (pytest.approx(stress), "MPa")
    assert check.capacity.value == pytest.approx(2100 / 1e6 ** (1 / 6))  # generic intercept, slope 6 (from memory)
    life = next(line for line in check.steps() if line.symbol == "N_f")
    assert life.value == pytest.approx((2100 / stress) ** 6 if stress > 210 else 1e6 * (210 / stress) ** 11)


# --- heat and order ------------------------------------------------------------------------------------


def test_heat_is_advice():
    """18 V, 130 A, 6 mm/s MAG: 0.312 kJ/mm; advice never judges."""
    result = judged(voltage="18 V", current="130 A", speed="6 mm/s", analysis="C=0.15 Mn=0.75")
    advice = [c for c in result.checks if c.key.startswith("advice.")]
    assert {c.status for c in advice} == {"info"}
    assert find(result, "advice.heat-input").capacity.value == pytest.approx(0.312)
    assert find(result, "advice.carbon-equivalent").capacity.value == pytest.approx(0.275)
    assert find(result, "advice.shrinkage").capacity.value == pytest.approx(1.02 * 5 / 6)
    assert "advice-only" in {c.code for c in result.cautions}


@given(
    lengths=st.lists(st.floats(20, 2000), min_size=1, max_size=4),
    step=st.floats(15, 200),
)
def test_runs_cover_every_line_once_and_step_back(lengths, step):
    """Each line is covered end to end without overlap, every run goes backwards and is no longer than the step."""
    runs = order_of_runs(lengths, step)
    for line, length in enumerate(lengths):
        own = sorted((r.end, r.start) for r in runs if r.line == line)
        assert own[0][0] == pytest.approx(0.0, abs=1e-9)
        assert own[-1][1] == pytest.approx(length)
        for (_, stop), (start, _) in itertools.pairwise(own):
            assert stop == pytest.approx(start)
        assert all(b > a and b - a <= step * (1 + 1e-9) for a, b in own)


def test_runs_keep_away_from_the_last_one():
    """A balanced order: with five runs or more no run is welded beside the one just laid."""
    runs = order_of_runs([600.0], 60.0)
    middles = [(r.start + r.end) / 2 for r in runs[:5]]
    assert all(abs(a - b) > 61 for a, b in itertools.pairwise(middles))


def test_order_is_printed_for_a_long_seam_only():
    """Runs are worth ordering from 150 mm (common practice, no source)."""
    assert not any(c.key == "advice.order" for c in judged().checks)
    long = judged(lines=["0 0 600 0 mm"], at="300 0 0 mm")
    assert find(long, "advice.order").capacity.value == 8  # 600 mm in steps of 75


# --- search and output ---------------------------------------------------------------------------------


def test_found_leg_is_the_smallest_that_holds():
    """One step less does not hold."""
    data = described(
        lines=c_shape(60.0, 80.0), force="0 -22 0 kN", at="150 40 0 mm", leg=None, **sheet("8 mm", "S355J2")
    )
    found = find_fillet(data, "leg")
    leg = found.result.values["found"].value
    assert found.result.status == "ok"
    assert check_fillet(build(FilletGroup, {**data, "leg": f"{leg - 0.5!r} mm"})).status == "over"
    assert leg % 0.5 == 0


def test_found_thickness_is_stock():
    """The answer is a row of the stock list, and the next thinner one does not hold."""
    data = described(leg="3 mm", force="9 0 0 kN", lines=["0 0 40 0 mm"], at="20 0 0 mm", **sheet("1 mm", "S235JR"))
    found = find_fillet(data, "thickness")
    stock = sorted(
        r.need("t") for r in load("stock_thickness").rows if r["series"] == "metric" and r["family"] == "steel"
    )
    t = found.result.values["found"].value
    assert t in stock
    thinner = max(s for s in stock if s < t)
    sheets = [{"thickness": f"{thinner!r} mm", "grade": "S235JR"}]
    assert check_fillet(build(FilletGroup, {**data, "sheets": sheets})).status == "over"


def test_search_that_finds_nothing_says_why():
    """The load is too much for any leg the sheet takes."""
    with pytest.raises(InputError, match="no leg"):
        find_fillet(described(force="900 0 0 kN"), "leg")
    with pytest.raises(InputError, match="cannot be searched"):
        find_fillet(described(), "lenght")


def test_inch_and_metric_twins_agree():
    """The same group told in inches, pounds and gauge-free sizes, to 1e-9."""
    metric = judged(lines=c_shape(50.8, 76.2), leg="6.35 mm", force="0 -4448.2216152605 0 N", at="127 38.1 0 mm")
    inch = judged(
        lines=["2 0 0 0 in", "0 0 0 3 in", "0 3 2 3 in"], leg="1/4 in", force="0 -1000 0 lbf", at="5 1.5 0 in"
    )
    for a, b in zip(metric.checks, inch.checks):
        assert a.key == b.key
        if a.safety_factor is not None:
            assert a.safety_factor == pytest.approx(b.safety_factor, rel=1e-9), a.key


@pytest.mark.parametrize(
    "change",
    [
        {},
        {"force": "0 0 1 kN"},
        {"weld": "butt", "leg": None, "cycles": 1e6},
        {"weld": "flare-V", "leg": None, "radius": "12 mm", "sheets": [{"thickness": "3 mm", "grade": "S235JR"}]},
        {"filler": "4043", "leg": "4 mm", "process": "TIG", "sheets": [{"thickness": "3 mm", "grade": "6061-T6"}]},
        {"stitch": "20 60 mm", "step": "20 mm", "voltage": "18 V", "current": "100 A", "speed": "5 mm/s"},
        {"leg": "3 mm", "cycles": 1e7, "sheets": [{"thickness": "2 mm", "grade": "4130N"}], "analysis": "C=0.3 Mn=0.5"},
    ],
)
def test_every_number_is_finite_and_every_working_prints(change):
    """No NaN or Infinity reaches the document, and every check prints its working."""
    document = judged(**change).json()
    assert json.loads(json.dumps(document, allow_nan=False)) == document
    for check in document["checks"]:
        if check["status"] in ("ok", "over") and not check["key"].startswith(("detail.", "advice.")):
            assert check["steps"], check["key"]
            assert all(step["value"] is not None for step in check["steps"])


def test_a_load_without_a_factor_is_said():
    """Our own warning: a factor of 1 suits ultimate loads only."""
    assert "unfactored-load" in {c.code for c in judged(load_factor=1.0).cautions}
    assert "unfactored-load" not in {c.code for c in judged().cautions}


def test_a_butt_weld_of_a_weaker_filler_is_not_counted_as_its_sheet():
    """EN 1993-1-8, 4.7.1(1): resistance of the part only with a filler at least as strong (S500MC 550, E60 414 MPa)."""
    base = {"weld": "butt", "leg": None, "force": "0 10 0 kN", **sheet("3 mm", "S500MC")}
    rules = ("en1993-1-8.butt", "aisi-s100.groove-tension", "aisi-s100.groove-shear")
    for filler, status in (("E60", "outside"), ("E80", "ok")):
        result = judged(filler=filler, **base)
        assert [find(result, key).status for key in rules] == [status] * 3
    assert "weaker" in find(judged(filler="E60", **base), rules[0]).note


def test_partial_penetration_is_not_a_butt_weld_that_counts_as_its_sheet():
    """EN 1993-1-8, 4.7.1 is for full penetration, 4.7.2 sends the rest to the rules of fillets (from memory)."""
    base = {"weld": "butt", "leg": None, "force": "0 10 0 kN", **sheet("3 mm", "S235JR")}
    for throat, status in (("3 mm", "ok"), ("2 mm", "outside")):
        assert find(judged(throat=throat, **base), "en1993-1-8.butt").status == status
