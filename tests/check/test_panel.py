"""The panel check against the classic tables of plates, polygons, worked mechanics, and what must hold whatever the numbers.

Roark's Formulas for Stress and Strain, 7th ed., Table 11.4 (read); Timoshenko and Woinowsky-Krieger, Theory of Plates
and Shells (from memory, printed up to 0.4 % below the series); Leissa, J. Sound Vib. 31 (1973) (from memory); Levy, NACA
TR 737 (from memory); values marked [computed] come from an independent finite-element field.
"""

from __future__ import annotations

from math import pi, sqrt
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jointcalc.check.panel import bead_verdict, check_panel, strength_used
from jointcalc.errors import InputError
from jointcalc.explore.panel import find_panel
from jointcalc.model.fields import build
from jointcalc.model.panel import Panel
from jointcalc.result import Check, Result

E, NU, RHO = 210_000.0, 0.3, 7.85e-9
ARC = "arc:depth=6mm,width=25mm,pitch=75mm"
TRAPEZOID = "trapezoid:depth=6mm,width=25mm,flat=10mm,pitch=75mm"


def raw(**changes: Any) -> dict[str, Any]:
    """600 x 400 mm of 1 mm DC04, flat, held in its plane as the classic tables are, or straight when it is pushed.

    With changes (`thickness` and `grade` of the sheet among them).
    """
    sheet = {"thickness": changes.pop("thickness", "1.0 mm"), "grade": changes.pop("grade", "DC04")}
    sheet |= {k: changes.pop(k) for k in ("coating", "yield_strength", "tensile_strength") if k in changes}
    held = "straight" if "compression" in changes else "held"
    return {"size": "600 400 mm", "sheet": sheet, "in_plane": held, **changes}


RESULTS: dict[str, Result] = {}
"""What was judged so far: several tests ask about the same panel, and a result is frozen."""


def judged(**changes: Any) -> Result:
    data = raw(**changes)
    key = repr(data)
    if key not in RESULTS:
        RESULTS[key] = check_panel(build(Panel, data))
    return RESULTS[key]


def value(result: Result, name: str) -> float:
    found = result.values[name].value
    assert found is not None
    return found


def only(result: Result, key: str) -> Check:
    found = [c for c in result.checks if c.key == key]
    assert len(found) == 1, f"{key}: {[c.key for c in result.checks]}"
    return found[0]


def demand(result: Result, key: str) -> float:
    check = only(result, key)
    assert check.demand is not None
    assert check.demand.value is not None
    return check.demand.value


def capacity(result: Result, key: str) -> float:
    check = only(result, key)
    assert check.capacity is not None, check.note
    assert check.capacity.value is not None
    return check.capacity.value


def codes(result: Result) -> set[str]:
    return {c.code for c in result.cautions}


# --- flat sheet: the classic tables -----------------------------------------------------------------------------------

ROARK_1A = {
    1.0: (0.2874, 0.0444),
    1.4: (0.4530, 0.0770),
    2.0: (0.6102, 0.1110),
    4.0: (0.7410, 0.1400),
}  # a/b: beta, alpha


@pytest.mark.parametrize("ratio", ROARK_1A)
@pytest.mark.parametrize("along", ["long", "short"])
def test_roark_pressure_simply_supported(ratio: float, along: str) -> None:
    beta, alpha = ROARK_1A[ratio]
    b, t, q = 300.0, 2.0, 1e-4  # MPa; the deflection stays below half the thickness
    result = judged(size=f"{ratio * b} {b} mm", thickness="2.0 mm", pressure="0.1 kPa", along=along)
    assert value(result, "deflection_pressure") == pytest.approx(alpha * q * b**4 / (E * t**3), rel=5e-3)
    # the moment of the short way is the greater; the beads' direction only says which check it falls to
    key = "plate.bending-across" if along == "long" else "plate.bending-along"
    assert demand(result, key) == pytest.approx(beta * q * b**2 / t**2, rel=4e-3)
    assert only(result, key).status == "info"
    assert capacity(result, key) == 140.0  # yield a design may assume of DC04, EN 10130 (from memory)


ROARK_1B = {1.0: 0.1267, 1.2: 0.1478, 1.6: 0.1715, 2.0: 0.1805}


@pytest.mark.parametrize("ratio", ROARK_1B)
def test_roark_central_load_simply_supported(ratio: float) -> None:
    b, t, W = 250.0, 3.0, 100.0
    result = judged(size=f"{ratio * b} {b} mm", thickness="3.0 mm", patch="100 N")
    assert value(result, "deflection_patch") == pytest.approx(ROARK_1B[ratio] * W * b**2 / (E * t**3), rel=5e-3)


TIMOSHENKO_CLAMPED = {1.0: (0.00126, 0.00560), 1.4: (0.00207, 0.00691), 2.0: (0.00254, 0.00722)}  # b/a: q, P


@pytest.mark.parametrize("ratio", TIMOSHENKO_CLAMPED)
def test_timoshenko_clamped(ratio: float) -> None:
    a, t = 250.0, 2.5
    D = E * t**3 / (12 * (1 - NU**2))
    by_q, by_P = TIMOSHENKO_CLAMPED[ratio]
    result = judged(size=f"{a} {ratio * a} mm", thickness="2.5 mm", edges="clamped", pressure="2 kPa", patch="200 N")
    assert value(result, "deflection_pressure") == pytest.approx(by_q * 2e-3 * a**4 / D, rel=0.01)
    assert value(result, "deflection_patch") == pytest.approx(by_P * 200.0 * a**2 / D, rel=0.01)


def test_timoshenko_clamped_moments_at_the_edges() -> None:
    # b/a = 1.5: long edge -0.0757, short edge -0.0570 q a^2
    a, t, q = 200.0, 2.0, 5e-3
    result = judged(size="300 200 mm", thickness="2 mm", edges="clamped", pressure="5 kPa")
    assert demand(result, "plate.bending-across") == pytest.approx(6 * 0.0757 * q * a**2 / t**2, rel=0.01)
    assert demand(result, "plate.bending-along") == pytest.approx(6 * 0.0570 * q * a**2 / t**2, rel=0.01)


def test_a_clamped_strip_under_a_central_load() -> None:
    # Timoshenko: clamped, b/a -> infinity, 0.00725 P a^2 / D; the far edges are not felt
    result = judged(size="200 3600 mm", thickness="2 mm", edges="clamped", patch="50 N", along="short")
    assert value(result, "deflection_patch") == pytest.approx(0.00725 * 50 * 200**2 / (E * 8 / (12 * 0.91)), rel=5e-3)


def test_twisting_at_the_corners() -> None:
    # Timoshenko, simply supported square: reaction at the corner R = 2 M_xy = 0.065 q a^2
    result = judged(size="300 300 mm", thickness="2 mm", pressure="0.2 kPa")
    assert demand(result, "plate.twisting") == pytest.approx(6 * 0.0325 * 2e-4 * 300**2 / 4, rel=0.01)
    assert capacity(result, "plate.twisting") == pytest.approx(140 / sqrt(3))


def test_leissa_frequencies() -> None:
    mu = RHO * 1.5
    D = E * 1.5**3 / (12 * 0.91)
    # clamped, 60.77 referred to the long side at 1.5; square 35.99
    for size, side, parameter in (("450 300 mm", 450.0, 60.77), ("400 400 mm", 400.0, 35.99)):
        result = judged(size=size, thickness="1.5 mm", edges="clamped")
        assert value(result, "frequency_1") == pytest.approx(parameter / (2 * pi * side**2) * sqrt(D / mu), rel=5e-4)
    # simply supported: pi^2 (1 + a^2/b^2), exact
    result = judged(size="450 300 mm", thickness="1.5 mm", along="short")
    exact = pi / 2 * sqrt(D / mu) * (1 / 450**2 + 1 / 300**2)
    assert value(result, "frequency_1") == pytest.approx(exact, rel=1e-9)


@pytest.mark.parametrize("load, w_over_t", [(12.1, 0.486), (56.9, 1.424), (161.0, 2.307), (497.0, 3.600)])
def test_levy_large_deflection(load: float, w_over_t: float) -> None:
    # Levy, square, simply supported, straight edges free to draw in: q a^4 / (E t^4) -> w/t; one-term estimate, 6 %
    t, a = 1.0, 400.0
    result = judged(size="400 400 mm", thickness="1.0 mm", pressure=f"{load * E * t**4 / a**4 * 1e3!r} kPa")
    if w_over_t > 0.5:
        assert value(result, "deflection_pressure_stiffened") == pytest.approx(w_over_t, rel=0.06)
        assert value(result, "deflection_pressure") > 1.3 * w_over_t
    assert "large-deflection" in codes(result)


def test_a_flat_sheet_under_a_foot_stiffens() -> None:
    # [computed] 1 mm, 600 x 400 mm, 750 N at the middle: linear 40 to 100 mm, von Karman finite elements 5 to 7 mm
    for edges in ("simple", "clamped"):
        result = judged(patch="750 N", edges=edges)
        assert 40 < value(result, "deflection_patch") < 100
        assert 5 < value(result, "deflection_patch_stiffened") < 7
        assert "large-deflection" in codes(result)


# --- shear in the plane of the sheet --------------------------------------------------------------------------------


def test_shear_buckling_of_flat_sheet() -> None:
    # Timoshenko and Gere: k = 5.34 + 4 (b/a)^2 simple, 8.98 + 5.6 (b/a)^2 clamped (from memory); 1.5 to 1: 7.118, 11.469
    for edges, k in (("simple", 7.118), ("clamped", 11.469)):
        result = judged(shear="3 N/mm", edges=edges)
        sigma_e = pi**2 * E / (12 * (1 - NU**2)) * (1 / 400) ** 2
        assert capacity(result, "plate.shear-buckling") == pytest.approx(k * sigma_e, rel=1e-4)
        assert demand(result, "plate.shear-buckling") == pytest.approx(3.0)
        assert capacity(result, "plate.shear-yield") == pytest.approx(140 / sqrt(3))
    over = judged(shear="-6 N/mm", thickness="1.2 mm", size="600 600 mm")
    assert demand(over, "plate.shear-yield") == pytest.approx(5.0)


@pytest.mark.parametrize("edges, flow", [("simple", 90.3), ("clamped", 161.7)])
def test_shear_buckling_of_a_beaded_field(edges: str, flow: float) -> None:
    # [computed] finite elements: 600 x 400 mm, 1 mm, arc beads 25 x 6 at 75 mm along 400 mm: 90.3 and 161.7 N/mm
    result = judged(bead=f"{ARC},stop=0mm", along="short", edges=edges, shear="10 N/mm")
    assert capacity(result, "plate.field-shear") <= capacity(result, "easley.shear-buckling")
    assert capacity(result, "easley.shear-buckling") == pytest.approx(flow, rel=0.04)
    assert demand(result, "easley.shear-buckling") == 10.0
    local = 5.34 * pi**2 * E / (12 * (1 - NU**2)) * (1 / 50) ** 2
    assert capacity(result, "plate.flats-shear") == pytest.approx(local)
    assert result.status == "ok"


def test_a_field_that_its_formula_does_not_reach_is_judged_by_the_general_way() -> None:
    # shallow beads: stiffness along below ten times that across; four pitches are not many; beads that stop short
    for changes in (
        {"bead": "arc:depth=0.8mm,width=25mm,pitch=75mm,stop=0mm", "along": "short"},
        {"bead": f"{ARC},stop=0mm", "size": "600 300 mm"},
        {"bead": ARC, "along": "short"},
    ):
        result = judged(shear="1 N/mm", **changes)
        left = only(result, "easley.shear-buckling")
        assert left.status == "outside"
        assert left.note
        assert only(result, "plate.field-shear").status == "ok"
        assert result.status == "ok"


SHEARED = ("plate.shear-yield", "plate.shear-buckling", "en1993-1-5.panel-shear")


def test_bending_and_shear_together() -> None:
    result = judged(size="300 200 mm", thickness="2 mm", pressure="5 kPa", shear="60 N/mm", edges="clamped")
    shear = [c for c in result.checks if c.key in SHEARED]
    across = max(only(result, k).utilisation or 0 for k in ("plate.edge-pull", "en1993-1-5.membrane-strain"))
    u_2 = max(c.utilisation or 0 for c in shear)
    assert demand(result, "interaction.panel-bending-shear") == pytest.approx(across**2 + u_2**2)
    assert not [c for c in judged(pressure="5 kPa").checks if c.key.startswith("interaction")]
    # von Mises: what shear leaves of the yield strength, sqrt(140^2 - 3 x 60^2) = 93.8 MPa; more stays
    bare, sheared = (
        judged(size="300 200 mm", pressure="60 kPa", edges="clamped", shear=q) for q in ("0 N/mm", "60 N/mm")
    )
    assert value(sheared, "permanent_set") > value(bare, "permanent_set") > 0
    steps = only(sheared, "limit.permanent-set").steps()
    assert [line.value for line in steps if line.symbol.startswith("f")] == [pytest.approx(sqrt(140**2 - 3 * 60**2))]
    # shear alone uses the yield up: neither over for the load across nor in silence
    spent = judged(patch="100 N", shear="90 N/mm")
    assert only(spent, "interaction.panel-bending-shear").status == "outside"
    assert spent.status == "over"


# --- beaded sheet --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "bead, I",
    [
        (ARC, 5.125),
        ("arc:depth=6mm,width=25mm,pitch=75mm,r=2.5mm", 4.812),
        (TRAPEZOID, 5.642),
        ("vee:depth=6mm,width=25mm,pitch=75mm", 3.343),
        ("arc:depth=12.5mm,width=25mm,pitch=75mm", 26.45),
    ],
)
def test_same_size_comparison(bead: str, I: float) -> None:  # [computed] for 1 mm
    result = judged(bead=bead)
    assert value(result, "I_along") == pytest.approx(I, rel=4e-3)
    assert value(result, "stiffness_ratio") == pytest.approx(I * 12, rel=4e-3)


def test_beaded_strip_as_an_orthotropic_plate() -> None:
    # Seydel 1931 / Xia 2012 (from memory), worked by hand with [computed] I = 5.125, L/p = 1.0490
    result = judged(bead=f"{ARC},stop=0mm", in_plane="free", pressure="0.1 kPa", yield_strength="210 MPa")
    D = E / (12 * (1 - NU**2))
    assert value(result, "D_x") == pytest.approx(E * 5.125, rel=2e-3)
    assert value(result, "D_y") == pytest.approx(D / 1.0490, rel=1e-4)
    assert value(result, "D_1") == pytest.approx(NU * D / 1.0490, rel=1e-4)
    assert value(result, "D_xy") == pytest.approx(E / (24 * 1.3) * 1.0490, rel=1e-4)
    assert value(result, "mass_per_area") == pytest.approx(7.85 * 1.0490, rel=1e-4)
    assert value(result, "mass") == pytest.approx(7.85e-9 * 1.0490 * 600 * 400, rel=1e-4)
    assert value(result, "draw_in") == pytest.approx(5 * 0.0490 * 75, rel=1e-3)  # beads at 50, 125 ... 350
    assert value(result, "blank_across") == pytest.approx(400 + 5 * 0.0490 * 75, rel=1e-4)
    assert value(result, "stiffness_ratio_same_mass") == pytest.approx(12 * 5.125 / 1.0490**3, rel=2e-3)
    assert value(result, "bead_strain") == pytest.approx(0.147, abs=5e-4)
    Dx, Dy, H = (value(result, n) for n in ("D_x", "D_y", "D_1"))
    H += 2 * value(result, "D_xy")
    # Navier, written out again: deflection, and the moment along the beads over the modulus
    odd = np.arange(1, 200, 2)
    m, n = odd[:, None], odd[None, :]
    w_mn = 16e-4 / (pi**6 * m * n * (Dx * m**4 / 600**4 + 2 * H * m**2 * n**2 / (600 * 400) ** 2 + Dy * n**4 / 400**4))
    sign = np.sin(m * pi / 2) * np.sin(n * pi / 2)
    assert value(result, "deflection_pressure") == pytest.approx(float((w_mn * sign).sum()), rel=1e-6)
    M_x = float((w_mn * sign * pi**2 * (Dx * m**2 / 600**2 + value(result, "D_1") * n**2 / 400**2)).sum())
    assert demand(result, "plate.bending-along") == pytest.approx(M_x / value(result, "W_along"), rel=2e-3)
    # the frequency is that of the real shape, beads running through; the orthotropic plate comes within a few per cent
    f = pi / 2 / sqrt(7.85e-9 * 1.0490) * sqrt(Dx / 600**4 + 2 * H / (600 * 400) ** 2 + Dy / 400**4)
    assert value(result, "frequency_1") == pytest.approx(f, rel=0.06)


def test_flats_between_beads() -> None:
    thin = judged(bead="arc:depth=6mm,width=25mm,pitch=100mm", thickness="0.5 mm", pressure="0.1 kPa")
    sigma = 4 * pi**2 * E / (12 * (1 - NU**2)) * (0.5 / 75) ** 2  # plate buckling, k = 4
    assert sigma < 140
    assert capacity(thin, "plate.flats-compression") == pytest.approx(sigma)
    # the mid-line of the flats lies the centroid's height below it; the outer fibre half a thickness further
    strip = build(Panel, raw(bead="arc:depth=6mm,width=25mm,pitch=100mm", thickness="0.5 mm")).strip
    assert strip is not None
    farthest = max(strip.centroid + 0.25, 6.25 - strip.centroid)
    assert demand(thin, "plate.flats-compression") == pytest.approx(
        demand(thin, "plate.bending-along") * strip.centroid / farthest, rel=1e-6
    )
    # capped at yield where the flats are stocky
    assert capacity(judged(bead=ARC, pressure="0.1 kPa"), "plate.flats-compression") == 140.0
    # Roark 1a, a/b = infinity: 0.75 q (b/t)^2 on a long flat 75 mm wide
    assert demand(thin, "plate.flats-pressure") == pytest.approx(0.75 * 1e-4 * (75 / 0.5) ** 2, rel=2e-3)
    # beads side by side have no flats
    side_by_side = judged(bead="arc:depth=6mm,width=25mm,pitch=25mm", pressure="1 kPa")
    assert not [c for c in side_by_side.checks if c.key.startswith("plate.flats")]


def test_a_foot_between_beads() -> None:
    # the flat 50 mm wide and long, 50 x 50 mm loaded, as a plate of 400 mm: moment near q b^2 / 8 x the part loaded
    result = judged(bead=ARC, patch="100 N")
    check = only(result, "plate.flats-dent")
    assert check.status == "info"
    q = 100 / 2500
    assert 0.3 * 0.75 * q * 50**2 < demand(result, "plate.flats-dent") < 0.75 * q * 50**2
    narrow = judged(bead=ARC, patch="100 N", patch_size="50 100 mm")  # only half of it stands on the flat
    assert demand(narrow, "plate.flats-dent") == pytest.approx(demand(result, "plate.flats-dent") / 2, rel=1e-9)
    all_on_it = judged(bead=ARC, patch="100 N", patch_size="50 40 mm")
    assert "100 N on 50 x 40 mm" in only(all_on_it, "plate.flats-dent").steps()[0].substituted


def test_loads_act_together() -> None:
    # one plate: the moments meet at the middle; a long clamped one: the greatest are added, wherever they are
    for size, edges in (("300 200 mm", "simple"), ("1500 200 mm", "clamped")):
        one, two, both = (
            judged(size=size, thickness="3 mm", edges=edges, along="short", **loads)
            for loads in ({"pressure": "2 kPa"}, {"patch": "60 N"}, {"pressure": "2 kPa", "patch": "60 N"})
        )
        key = "plate.bending-along"
        assert demand(both, key) == pytest.approx(demand(one, key) + demand(two, key))


@pytest.mark.parametrize(
    "grade, depth, verdict, status",
    # elongation of the grades (from memory): DC04 38 %, S355MC 19 % below 3 mm; arc over chord - 1: 0.147, 0.571
    [("DC04", 6.0, "fine", "ok"), ("S355MC", 6.0, "marginal", "ok"), ("DC04", 12.5, "fails", "over")],
)
def test_bead_strain(grade: str, depth: float, verdict: str, status: str) -> None:
    result = judged(bead=f"arc:depth={depth}mm,width=25mm,pitch=75mm", grade=grade)
    check = only(result, "forming.bead-strain-max")
    assert bead_verdict(result) == verdict
    assert check.status == status
    half = np.arctan(2 * depth / 25) * 2
    assert demand(result, "forming.bead-strain-max") == pytest.approx(half * (156.25 + depth**2) / (depth * 25) - 1)
    assert "forming" in codes(result)
    assert bead_verdict(judged()) == ""


def test_the_run_out_is_stretched_both_ways() -> None:
    """Geometry: across by the arc over its chord (0.147 of 25 x 6), along the ramp by its slope, Pythagoras."""
    across = 1.1471
    for runout, verdict, status in ((24.0, "fine", "ok"), (12.0, "marginal", "ok"), (6.0, "fails", "over")):
        result = judged(bead=f"{ARC},stop=30mm,runout={runout}mm")
        grown = across * sqrt(runout**2 + 36.0) / runout - 1
        check = only(result, "forming.bead-run-out-strain-max")
        assert demand(result, check.key) == pytest.approx(grown, rel=1e-3)
        assert value(result, "run_out_strain") == pytest.approx(grown, rel=1e-3)
        assert (bead_verdict(result), check.status, result.status) == (verdict, status, status)
    assert not [c for c in judged(bead=f"{ARC},stop=0mm").checks if "run-out" in c.key]


def test_a_loose_sheet_draws_in() -> None:
    """Half-round bead: in place pi/2 - 1, which tears 38 % (DC04); drawn in, its faces have t/2 over the radius 12.5."""
    bead = "arc:depth=12.5mm,width=25mm,pitch=75mm,stop=30mm,runout=50mm"
    held, loose = judged(bead=bead), judged(bead=bead, rolled="loose")
    assert (held.status, loose.status, bead_verdict(loose)) == ("over", "ok", "fine")
    assert demand(loose, "forming.bead-strain-max") == pytest.approx(0.5 / 12.5)
    assert value(held, "bead_strain_drawn") == pytest.approx(0.5 / 12.5)
    # beside the ramp the sheet goes in by half of (pi/2 - 1) 25 = 14.27 over 50: shear 0.143, half of it a strain
    shear, crown = 25 * (pi / 2 - 1) / 2 / 50 / 2, sqrt(1 + 0.25**2) - 1
    assert shear > crown
    assert demand(loose, "forming.bead-run-out-strain-max") == pytest.approx(shear, rel=1e-6)
    assert value(held, "draw_in") == value(loose, "draw_in") == pytest.approx(5 * 25 * (pi / 2 - 1))
    # a short ramp tears along its crown whether the sheet draws in or not: 45 degrees are 41 %
    steep = judged(bead="arc:depth=6mm,width=25mm,pitch=75mm,stop=30mm,runout=6mm", rolled="loose")
    assert demand(steep, "forming.bead-run-out-strain-max") == pytest.approx(sqrt(2) - 1)
    assert steep.status == "over"


def test_tight_bends_of_a_bead() -> None:
    """Least inside radius one thickness, half in drawing steel: common practice, no source."""
    for grade, radius, status in (("S355MC", 1.0, "ok"), ("S355MC", 0.8, "over"), ("DC04", 0.5, "ok")):
        bead = f"trapezoid:depth=6mm,width=25mm,flat=10mm,pitch=75mm,r={radius}mm"
        assert only(judged(bead=bead, grade=grade), "forming.bead-radius-min").status == status
    # nothing said: one thickness is taken, and said
    assert "state 'r'" in only(judged(bead=TRAPEZOID), "forming.bead-radius-min").note
    assert capacity(judged(bead=TRAPEZOID), "forming.bead-radius-min") == 1.0


# --- judging ----------------------------------------------------------------------------------------------------------


def test_a_flat_panel_under_a_foot_is_judged() -> None:
    # [computed] independent shell model (KratosMultiphysics 10, corotational): deflection, greatest surface stress
    result = judged(size="1120 400 mm", thickness="1.2 mm", edges="clamped", patch="750 N", patch_size="80 50 mm")
    assert value(result, "deflection") == pytest.approx(4.29, rel=0.03)
    assert value(result, "surface_stress") == pytest.approx(214.0, rel=0.08)
    assert result.status == "ok"
    assert value(result, "deflection_yielding") > value(result, "deflection")
    assert 0 < value(result, "permanent_set") < 0.6
    assert demand(result, "limit.permanent-set") == value(result, "permanent_set")
    assert capacity(result, "limit.permanent-set") == pytest.approx(0.6)  # half the thickness, common practice
    assert capacity(result, "plate.edge-pull") == pytest.approx(1.2 * 140)
    assert only(result, "plate.edge-pull").required_factor == 1.5
    assert only(result, "plate.bending-along").status == "info"  # first yield in linear bending is no failure
    assert "past half" in only(result, "plate.bending-along").note
    assert strength_used(result) == only(result, "plate.edge-pull").utilisation
    stated = judged(
        size="1120 400 mm", thickness="1.2 mm", edges="clamped", patch="750 N", patch_size="80 50 mm",
        permanent_set_limit="0.1 mm",
    )  # fmt: skip
    assert only(stated, "limit.permanent-set").status == "over"


def test_where_beads_end_decides() -> None:
    # [computed] independent shell model: 600 x 400 x 1, arc 8 x 30 at 100 along the short side, a flat under the middle
    about = {"edges": "clamped", "along": "short", "patch": "750 N", "patch_size": "50 100 mm"}
    bead = "arc:depth=8mm,width=30mm,pitch=100mm"
    through = judged(bead=f"{bead},stop=0mm", **about)
    assert value(through, "deflection") == pytest.approx(1.265, rel=0.03)
    assert value(through, "surface_stress") == pytest.approx(175.0, rel=0.08)
    short = judged(bead=f"{bead},stop=30mm,runout=30mm", **about)
    assert value(short, "deflection") == pytest.approx(3.19, rel=0.03)
    assert value(short, "surface_stress") == pytest.approx(348.0, rel=0.08)
    assert "30 mm off the edge" in only(short, "limit.permanent-set").note
    assert short.status == "over"  # 0.7 mm stays
    assert "bead-ends" not in codes(short)


def test_a_load_no_equilibrium_carries_is_over() -> None:
    over = judged(patch="20 kN", edges="clamped")
    assert over.status == "over"
    assert (strength_used(over) or 0) > 1


def test_no_yield_no_verdict() -> None:
    result = judged(grade="A1008 CS Type B", tensile_strength="300 MPa", pressure="0.1 kPa", shear="1 N/mm")
    assert result.status == "outside"
    for key in ("limit.permanent-set", "plate.bending-along", "plate.twisting", "plate.shear-yield"):
        assert "yield_strength" in only(result, key).note
    assert len(result.unjudged) == 2
    assert value(result, "deflection") > 0
    assert result.values["permanent_set"].value is None


def test_limits() -> None:
    assert {c.key: c.status for c in judged().checks}["practice.panel-frequency"] == "info"
    result = judged(bead=ARC, pressure="0.5 kPa", limit_deflection="3 mm", limit_frequency="25 Hz")
    assert result.status == "ok"
    assert capacity(result, "limit.panel-frequency") == pytest.approx(value(result, "frequency_1"))
    assert demand(result, "limit.panel-frequency") == 25.0
    assert demand(result, "limit.panel-deflection") == pytest.approx(value(result, "deflection_yielding"))
    assert judged(bead=ARC, limit_frequency="200 Hz").status == "over"
    assert judged(bead=ARC, pressure="0.5 kPa", limit_deflection="0.5 mm").status == "over"
    # two loads at once, where the plate stays linear: their deflections are added
    both = judged(
        thickness="3 mm", size="300 200 mm", pressure="1 kPa", patch="50 N", patch_size="50 mm", limit_deflection="3 mm"
    )
    total = value(both, "deflection_pressure") + value(both, "deflection_patch")
    assert demand(both, "limit.panel-deflection") == pytest.approx(total, rel=2e-3)


def test_feel_under_a_heel() -> None:
    # Roark 1b at 1.6, alpha 0.1715: 90 kg of 9.80665 m/s2 on a plate that stays linear
    result = judged(size="320 200 mm", thickness="4 mm", patch_size="2 mm")
    check = only(result, "practice.heel-deflection")
    assert check.status == "info"
    assert demand(result, "practice.heel-deflection") == pytest.approx(
        0.1715 * 90 * 9.80665 * 200**2 / (E * 64), rel=0.015
    )
    assert capacity(result, "practice.heel-deflection") == 3.0
    assert demand(judged(), "practice.heel-deflection") < 10  # stiffened: the linear value is over 100 mm


def test_size_of_the_load() -> None:
    point, small = judged(patch="100 N", thickness="3 mm"), judged(patch="100 N", thickness="3 mm", patch_size="50 mm")
    wide = judged(patch="100 N", thickness="3 mm", patch_size="100 50 mm")
    w = [value(r, "deflection_patch") for r in (point, small, wide)]
    assert w == sorted(w, reverse=True)
    # without a size, stress is that of 50 x 50 mm, and the check says so
    assert demand(point, "plate.bending-along") == pytest.approx(demand(small, "plate.bending-along"))
    assert "50 x 50 mm" in only(point, "plate.bending-along").note
    assert "50 x 50 mm" in only(point, "limit.permanent-set").note
    tiny = judged(patch="10 N", thickness="3 mm", patch_size="2 mm")
    assert only(tiny, "plate.bending-along").status == "outside"
    assert tiny.status == "ok"  # the real shape follows it


def test_zinc_carries_nothing_but_weighs() -> None:
    # EN 1993-1-3 3.2.4(3) (from memory): Z275 takes 275 / 7140 mm off
    result = judged(grade="DX51D", coating="Z275", yield_strength="140 MPa")
    t = 1.0 - 275 / 7140
    assert value(result, "I_along") == pytest.approx(t**3 / 12)
    assert value(result, "W_along") == pytest.approx(t**2 / 6)
    assert value(result, "mass_per_area") == pytest.approx(7.85)


def test_cautions() -> None:
    assert "panel-edges" in codes(judged())
    assert "bead-ends" in codes(judged(bead=ARC))
    assert "bead-ends" not in codes(judged(bead=f"{ARC},stop=0mm"))
    assert "few-beads" not in codes(judged(bead=ARC))
    assert "few-beads" in codes(judged(bead=ARC, size="600 200 mm"))
    assert "large-deflection" not in codes(judged(pressure="0.01 kPa"))
    assert "occupant-load" in codes(judged(purpose=("seat",)))


# --- what must hold whatever the numbers ----------------------------------------------------------------------------


@settings(max_examples=4)
@given(
    st.floats(0.5, 2.5), st.floats(15, 60), st.floats(0.1, 0.9), st.floats(1.05, 1.6), st.sampled_from(["arc", "vee"])
)
def test_deeper_is_never_less_stiff(t: float, width: float, part: float, more: float, family: str) -> None:
    def one(depth: float) -> Result:
        bead = f"{family}:depth={depth!r}mm,width={width!r}mm,pitch={1.7 * width!r}mm"
        return judged(bead=bead, thickness=f"{t!r} mm", pressure="0.2 kPa")

    depth = part * width / 2
    deeper = min(depth * more, width / 2)
    if depth < t:
        return
    shallow, deep = one(depth), one(deeper)
    for name in ("I_along", "stiffness_ratio", "mass_per_area", "bead_strain"):
        assert value(deep, name) >= value(shallow, name) * (1 - 1e-9)
    assert value(deep, "deflection_pressure") <= value(shallow, "deflection_pressure") * (1 + 1e-9)


@settings(max_examples=4)
@given(st.floats(0.01, 3.0), st.floats(1.1, 5.0), st.sampled_from([ARC, "none"]))
def test_linear_values_follow_the_load(p: float, more: float, bead: str) -> None:
    low, high = (judged(bead=bead, pressure=f"{q!r} kPa", patch=f"{100 * q!r} N") for q in (p, p * more))
    for name in ("deflection_pressure", "deflection_patch"):
        assert value(high, name) == pytest.approx(more * value(low, name), rel=1e-9)
        for result in (low, high):
            stiffened = result.values.get(f"{name}_stiffened")
            assert (stiffened is not None) == (value(result, name) > 0.5)
            if stiffened is not None:
                assert stiffened.value is not None
                assert 0 < stiffened.value < value(result, name)


def test_polygons() -> None:
    """Second moment and mass against shapely, through the check, within 0.5 %."""
    from shapely.geometry import LineString

    from jointcalc.statics.bead import path

    for bead in (
        ARC,
        TRAPEZOID,
        "vee:depth=9mm,width=40mm,pitch=70mm,r=3mm",
        "arc:depth=10mm,width=30mm,pitch=30mm,r=2mm",
    ):
        panel = build(Panel, raw(bead=bead, thickness="0.8 mm"))
        assert panel.pattern is not None
        line = LineString(path(panel.pattern, 0.8, 300))
        solid = line.buffer(0.4, cap_style="flat", join_style="mitre", mitre_limit=20.0)
        x, z = np.array(solid.exterior.coords).T
        cross = x[:-1] * z[1:] - x[1:] * z[:-1]
        second = abs(np.sum(cross * (z[:-1] ** 2 + z[:-1] * z[1:] + z[1:] ** 2))) / 12
        I = (second - solid.area * solid.centroid.y**2) / panel.pattern.pitch
        result = check_panel(panel)
        assert value(result, "I_along") == pytest.approx(I, rel=5e-3)
        assert value(result, "mass_per_area") == pytest.approx(7850e-3 * solid.area / panel.pattern.pitch, rel=5e-3)


# --- search -------------------------------------------------------------------------------------------------------------


def test_found_depth_is_the_shallowest() -> None:
    data = raw(bead=ARC, pressure="1 kPa", limit_deflection="1.5 mm")
    found = find_panel(data, "depth")
    depth = found.result.values["found"].value
    assert depth is not None
    assert found.result.status == "ok"
    again = check_panel(build(Panel, {**data, "bead": f"arc:depth={depth - 0.5}mm,width=25mm,pitch=75mm"}))
    assert again.status != "ok"
    assert f"{depth:g} mm" in found.text


def test_found_pitch_is_the_widest() -> None:
    data = raw(bead=ARC, limit_frequency="50 Hz")
    pitch = find_panel(data, "pitch").result.values["found"].value
    assert pitch is not None
    assert pitch % 5 == 0
    status = [
        check_panel(build(Panel, {**data, "bead": f"arc:depth=6mm,width=25mm,pitch={p}mm"})).status
        for p in (pitch, pitch + 5)
    ]
    assert status == ["ok", "over"]


def test_found_thickness_is_stock() -> None:
    found = find_panel(raw(size="300 200 mm", pressure="5 kPa", limit_deflection="1 mm"), "thickness")
    t = found.result.values["found"].value
    assert t is not None
    assert t > 1.0
    assert found.result.status == "ok"


def test_nothing_found() -> None:
    with pytest.raises(
        InputError, match=r"no depth holds; the best try, .* used: drums at a low tone, by First frequency"
    ):
        find_panel(raw(bead=ARC, limit_frequency="500 Hz"), "depth")
    with pytest.raises(InputError, match="has no bead"):
        find_panel(raw(), "depth")
    with pytest.raises(InputError, match="did you mean 'depth'"):
        find_panel(raw(bead=ARC), "dept")


# --- what cannot be built -------------------------------------------------------------------------------------------------

BAD = [
    ({"bead": "arc:depth=14mm,width=25mm,pitch=75mm"}, "half round"),
    ({"bead": "arc:depth=6mm,width=80mm,pitch=75mm"}, "overlap"),
    ({"bead": "trapezoid:depth=80mm,width=25mm,flat=10mm,pitch=75mm"}, "deeper than the pitch"),
    ({"bead": "arc:depth=6mm,width=25mm,pitch=450mm"}, "does not fit the panel"),
    ({"bead": "trapezoid:depth=30mm,width=40mm,flat=10mm,pitch=75mm", "size": "100 90 mm"}, "too deep for a panel"),
    ({"bead": "arc:depth=6mm,width=25mm,pitch=75mm,r=30mm"}, "leaves its crown no inside radius"),
    ({"bead": "arch:depth=6mm,width=25mm,pitch=75mm"}, "did you mean 'arc'"),
    ({"bead": "arc:depth=6,width=25mm,pitch=75mm"}, "bead: depth: .*has no unit"),
    ({"patch": "750 N", "patch_size": "50 500 mm"}, "larger than the panel"),
    ({"patch": "750 N", "patch_size": "0.1 mm"}, "too small"),
    ({"size": "600 10 mm"}, "out of proportion"),
    ({"size": "5000 100 mm"}, "that is a strip"),
    ({"size": "600 -400 mm"}, "negative"),
    ({"size": "600 mm"}, "1 number, 2 are needed"),
    ({"size": "100 100 mm", "thickness": "12 mm", "grade": "S355MC"}, "no thin sheet"),
    ({"along": "wide"}, "'wide' is neither long nor short"),
    ({"edges": "clamp"}, "did you mean 'clamped'"),
    ({"pressure": "-1 kPa"}, "negative"),
    ({"patch": "75 kg"}, "is a mass"),
    ({"limit_frequency": "25"}, "has no unit"),
    ({"bed": "none"}, "did you mean 'bead'"),
]


@pytest.mark.parametrize("change, said", BAD)
def test_refused(change: dict[str, Any], said: str) -> None:
    with pytest.raises(InputError, match=said):
        judged(**change)


def test_square_and_turned_panels() -> None:
    panel = build(Panel, raw(size="400 600 mm", bead="NONE", along="Long"))
    assert (panel.along_beads, panel.across_beads, panel.bead) == (600.0, 400.0, "none")
    short = build(Panel, raw(size="400 600 mm", along="short"))
    assert (short.along_beads, short.across_beads) == (400.0, 600.0)
    assert build(Panel, raw(patch_size="2 in")).patch_size == (50.8, 50.8)
    assert build(Panel, raw(size="60 40 mm")).foot == (50.0, 40.0)


def test_other_metals_have_their_own_partial_factor() -> None:
    """gamma_M0 = gamma_M1 = 1.1 of EN 1993-1-4 and EN 1999-1-1 (from memory); carbon steel has 1.0."""
    for grade, required in (("DC04", 1.5), ("304", 1.65), ("5754-H22", 1.65)):
        result = judged(grade=grade, pressure="10 Pa")
        assert only(result, "plate.edge-pull").required_factor == pytest.approx(required)


def test_a_load_without_a_factor_is_said() -> None:
    """Our own warning: a factor of 1 suits ultimate loads only."""
    for factor, said in ((1.0, True), (1.5, False)):
        assert ("unfactored-load" in {c.code for c in judged(load_factor=factor).cautions}) is said


def test_a_panel_without_load_is_said() -> None:
    """Our own warning: nothing given is nothing judged."""
    assert "no-load" in {c.code for c in judged().cautions}
    assert "no-load" not in {c.code for c in judged(pressure="10 Pa").cautions}


def test_a_bead_in_sheet_of_unknown_elongation_is_said() -> None:
    """Geometry: arc of depth 10 on width 20 is half round, pi/2 of the width: 57 % of stretch."""
    beads = {"bead": "arc:depth=10mm,width=20mm,pitch=40mm", "pressure": "10 Pa"}
    texts = {c.code: c.text for c in judged(grade="5754-H24", **beads).cautions}
    assert "57 %" in texts["bead-strain-unknown"]
    assert "bead-strain-unknown" not in {c.code for c in judged(**beads).cautions}


def test_a_thrust_is_judged_with_all_else_on_it() -> None:
    alone = judged(compression="8 N/mm", edges="clamped", thickness="1.2 mm")
    panel = alone.model
    assert isinstance(panel, Panel)
    assert (panel.compression, panel.drawing_in) == ((8.0, 0.0), "straight")
    assert "8 N/mm pushed in along the beads" in alone.about["loads"]
    check = only(alone, "en1993-1-5.shell-in-plane")
    assert check.status == "ok"
    assert check.required_factor == pytest.approx(1.5)
    # clamped 600 x 400 at 10.07 to 8.33 for 1.5 (Timoshenko and Gere, from memory): k between
    k = value(alone, "buckling_factor") * 8.0 / (pi**2 * E * 1.2**3 / 12 / (1 - NU**2) / 400**2)
    assert 8.0 < k < 8.7
    with_load = judged(compression="8 N/mm", edges="clamped", thickness="1.2 mm", pressure="20 kPa")
    assert "compression with across" in only(with_load, "en1993-1-5.shell-in-plane").covers
    assert capacity(with_load, "en1993-1-5.shell-in-plane") < capacity(alone, "en1993-1-5.shell-in-plane")
    much = judged(compression="60 N/mm", edges="clamped", thickness="1.2 mm")
    assert only(much, "en1993-1-5.shell-in-plane").status == "over"


def test_a_thrust_is_told_and_judged() -> None:
    result = judged(compression="12 N/mm", pressure="0 kPa", patch="0 N", shear="0 N/mm")
    assert result.model.compression == (12.0, 0.0)  # type: ignore[union-attr]
    assert result.model.drawing_in == "straight"  # type: ignore[union-attr]
    assert only(result, "en1993-1-5.panel-thrust.along").status == "ok"
    assert "12 N/mm pushed in along the beads" in result.about["loads"]


def test_a_thrust_on_sheet_without_a_yield_strength_is_told() -> None:
    found = judged(compression="5 N/mm", grade="DX51D")
    assert found.status != "ok"


def test_a_limit_that_cannot_be_looked_at_is_told() -> None:
    found = judged(compression="20 N/mm", thickness="1.2 mm", edges="clamped", limit_frequency="5 Hz")
    assert only(found, "limit.panel-frequency").status == "outside"
    assert found.status != "ok"


@pytest.mark.parametrize("changes, words", [
    ({"compression": "12 4 N/mm", "in_plane": "held"}, "cannot be pushed in"),
    ({"compression": "-12 N/mm"}, "negative"),
    ({"compression": "1 2 3 N/mm"}, "2 are needed"),
    ({"compression": "20000 N/mm"}, "out of proportion"),
])  # fmt: skip
def test_thrusts_that_cannot_be(changes: dict[str, str], words: str) -> None:
    with pytest.raises(InputError, match=words):
        build(Panel, raw(**changes))


CORNER = {"edges": "clamped, left=simple, right=500 N*m/rad/m", "patch": "400 N", "patch_at": ["150 120 mm"]}


def test_edges_and_places_of_their_own() -> None:
    result = judged(**CORNER, patch_size="80 50 mm", thickness="1.5 mm")
    panel = result.model
    assert isinstance(panel, Panel)
    assert panel.turns == (float("inf"), float("inf"), 0.0, 500.0)
    assert panel.places == ((150.0, 120.0),)
    assert result.status in ("ok", "over")
    assert "at 150, 120 mm" in result.about["loads"]
    # the series are for loads at the middle and edges alike: told as outside, the real shape judges
    assert only(result, "plate.bending-along").status == "outside"
    assert only(result, "limit.permanent-set").status in ("ok", "over")
    # between all simple and all clamped
    soft, stiff = (value(judged(**(CORNER | {"edges": e}), patch_size="80 50 mm", thickness="1.5 mm"), "deflection_patch")
                   for e in ("simple", "clamped"))  # fmt: skip
    assert stiff < value(result, "deflection_patch") < soft


def test_a_load_nearer_the_edge_sinks_less() -> None:
    at = {"patch": "300 N", "patch_size": "60 60 mm", "edges": "clamped"}
    middle, off = judged(**at), judged(**at, patch_at=["100 100 mm"])
    assert value(off, "deflection") < value(middle, "deflection")
    # said or not said, the middle is the middle
    assert value(judged(**at, patch_at=["300 200 mm"]), "deflection") == value(middle, "deflection")


def test_carpet_lowers_the_frequency() -> None:
    bare, laid = judged(edges="clamped"), judged(edges="clamped", mass_added="7.85 kg/m2")  # the sheet's own mass again
    assert value(laid, "frequency_1") == pytest.approx(value(bare, "frequency_1") / sqrt(2), rel=1e-3)
    assert value(laid, "mass_per_area") == value(bare, "mass_per_area")
    assert "laid on it" in only(laid, "practice.panel-frequency").note


def test_fine_is_closer() -> None:
    load = {"edges": "clamped", "pressure": "2 kPa"}
    quick, fine = judged(**load), judged(**load, fine=True)
    assert value(fine, "deflection_error") < value(quick, "deflection_error")
    assert value(fine, "deflection") == pytest.approx(value(quick, "deflection"), rel=0.01)
    assert "by refinement good to" in only(quick, "limit.permanent-set").note


@pytest.mark.parametrize("changes, words", [
    ({"edges": "glued"}, "neither simple nor clamped"),
    ({"edges": "clamped, top=simple"}, "none of the edges start, end, left, right"),
    ({"edges": "left=simple"}, "nothing is said of start and end and right"),
    ({"edges": "clamped, simple"}, "given twice"),
    ({"edges": "clamped, left=500 N*m/rad"}, "per length of edge"),
    ({"patch_at": ["100 100 mm"]}, "no 'patch' is given"),
    ({"patch": "300 N", "patch_at": ["10 100 mm"]}, "25 to 575 mm"),
    ({"patch": "300 N", "patch_at": ["100 100 mm"] * 13}, "up to 12"),
    ({"mass_added": "4 kg"}, "give it per area"),
])  # fmt: skip
def test_edges_and_places_that_cannot_be(changes: dict[str, Any], words: str) -> None:
    with pytest.raises(InputError, match=words):
        build(Panel, raw(**changes))


@pytest.mark.parametrize("bead, words", [
    ("arc:depth=8mm,width=30mm,pitch=20mm", "pitch"),  # they overlap
    ("arc:depth=8mm,width=450mm,pitch=450mm", "does not fit"),
    ("arc:depth=8mm,width=30mm,pitch=100mm,stop=30mm,runout=5mm", "steeper than sheet can be rolled"),
    ("arc:depth=8mm,width=30mm,pitch=100mm,stop=250mm,runout=60mm", "leave no full depth"),
])  # fmt: skip
def test_beads_that_cannot_be(bead: str, words: str) -> None:
    with pytest.raises(InputError, match=words):
        build(Panel, raw(bead=bead))
