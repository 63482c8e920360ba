"""Branches at the very edge of the clause that draws them, and pairs of expressions that meet where they take over.

The edge itself belongs to the branch the clause says ("at most", "less than"); the numbers are those of the clauses named
beside each test, from memory as in the formulas.  Where two expressions of one clause must agree at their common edge, one
holds the constants of the other: no third source is needed.
"""

from __future__ import annotations

from functools import partial

import pytest

from jointcalc.formula import arc_spot_aisi as arc
from jointcalc.formula import arc_spot_en1993 as arc_en
from jointcalc.formula import (
    bolts_aisc,
    bolts_aisi,
    bolts_en1993,
    column,
    fillet_aisi,
    fillet_en1993,
    plate,
    plug_aisc,
    web_aisi,
    web_en1993,
)
from jointcalc.formula import effective_aisi as eff
from jointcalc.formula.core import Formula
from jointcalc.marks import unmarked


@pytest.mark.parametrize(
    ("d_a", "formula", "omega"),
    [
        (0.815, arc.SHEET_SHEAR_STOCKY, arc.OMEGA_SHEET_STOCKY),
        (0.816, arc.SHEET_SHEAR_MIDDLE, arc.OMEGA_SHEET_MIDDLE),
        (1.396, arc.SHEET_SHEAR_MIDDLE, arc.OMEGA_SHEET_MIDDLE),
        (1.397, arc.SHEET_SHEAR_SLENDER, arc.OMEGA_SHEET_SLENDER),
    ],
)
def test_sheet_around_an_arc_spot(d_a: float, formula: object, omega: object) -> None:
    """AISI S100-16 J2.2.2.1: (d_a/t) <= 0.815 sqrt(E/F_u) | between | >= 1.397 sqrt(E/F_u)."""
    found = arc.sheet_shear(d_a=d_a, t=1.0, F_u=400.0, E=400.0)
    assert (found.formula, found.safety) == (formula, omega)


@pytest.mark.parametrize(
    ("d_p", "formula"),
    [
        (18.0, arc_en.PERIPHERAL_STOCKY),
        (18.01, arc_en.PERIPHERAL_MIDDLE),
        (29.99, arc_en.PERIPHERAL_MIDDLE),
        (30.0, arc_en.PERIPHERAL_SLENDER),
    ],
)
def test_periphery_of_an_arc_spot(d_p: float, formula: object) -> None:
    """EN 1993-1-3 8.5.3(5): d_p/Σt <= 18 sqrt(420/f_u) | less than 30 sqrt(420/f_u) | above."""
    assert arc_en.peripheral(d_p=d_p, S_t=1.0, f_u=420.0).formula is formula


def test_strut_branches_at_their_edges() -> None:
    """AISI S100-16 E2 (lambda_c <= 1.5), EN 1993-1-1 6.3.1.2(4) (0.2; 0.04)."""
    assert column.aisi_column_branch(lamda_c=1.5).formula is column.AISI_INELASTIC_STRESS
    assert column.aisi_column_branch(lamda_c=1.501).formula is column.AISI_ELASTIC_STRESS
    assert "4 %" in column.buckling_may_be_ignored(lamda=1.0, N_Ed=4.0, N_cr=100.0)
    assert not column.buckling_may_be_ignored(lamda=1.0, N_Ed=4.01, N_cr=100.0)
    assert "0.2" in column.buckling_may_be_ignored(lamda=0.2, N_Ed=50.0, N_cr=100.0)


def test_lateral_buckling_branches_at_their_edges() -> None:
    """AISI S100-16 F2.1: F_cre >= 2.78 F_y | 2.78 F_y > F_cre > 0.56 F_y | F_cre <= 0.56 F_y."""
    assert column.aisi_ltb_branch(F_y=100.0, F_cre=278.0).formula is column.AISI_LTB_YIELD
    assert column.aisi_ltb_branch(F_y=100.0, F_cre=277.9).formula is column.AISI_LTB_INELASTIC
    assert column.aisi_ltb_branch(F_y=100.0, F_cre=56.1).formula is column.AISI_LTB_INELASTIC
    assert column.aisi_ltb_branch(F_y=100.0, F_cre=56.0).formula is column.AISI_LTB_ELASTIC


@pytest.mark.parametrize("R_I", [0.1, 0.5, 0.9, 1.0])
@pytest.mark.parametrize("n", [1 / 3, 0.5])
def test_lipped_flange_coefficients_meet_at_a_quarter(R_I: float, n: float) -> None:
    """AISI S100-16 Table 1.3-1: 3.57 R_I^n + 0.43 for D/w <= 0.25 goes over into (4.82 - 5 D/w) R_I^n + 0.43."""
    short = eff.k_lipped_short(R_I=R_I, n=n)
    assert short == pytest.approx(eff.k_lipped_long(R_I=R_I, n=n, D=5.0, w=20.0), rel=1e-12)
    assert short == pytest.approx(min(3.57 * R_I**n + 0.43, 4.0))
    # no lip: the outstand's own 0.43; a full lip: the 4.0 of a stiffened plate
    assert eff.k_lipped_short(R_I=0.0, n=n) == pytest.approx(0.43)
    assert eff.k_lipped_short(R_I=1.0, n=n) == pytest.approx(4.0)


def test_adequate_lip_changes_branch_where_the_flange_reaches_s() -> None:
    """AISI S100-16 eq. 1.3-8: both expressions give some 120 t^4 at w/t = S (from memory; the 0.328 was 0.33 before)."""
    t, S = 1.3, 40.0
    at = eff.adequate_second_moment(t=t, w=S * t, S=S)
    assert at == pytest.approx(120.0 * t**4, rel=1e-9)  # 115 + 5
    assert 399.0 * t**4 * (1.0 - 0.328) ** 3 == pytest.approx(at, rel=0.015)
    # below it the cubic, which is nothing at 0.328 S; above it the straight line
    assert eff.adequate_second_moment(t=t, w=0.328 * S * t, S=S) == pytest.approx(0.0, abs=1e-9)
    assert eff.adequate_second_moment(t=t, w=0.828 * S * t, S=S) == pytest.approx(399.0 / 8.0 * t**4)
    assert eff.adequate_second_moment(t=t, w=2 * S * t, S=S) == pytest.approx(235.0 * t**4)


def test_stiffener_exponent_is_a_half_where_a_flange_first_needs_a_lip() -> None:
    """AISI S100-16 eq. 1.3-11, n = 0.582 - w/(4 S t) >= 1/3: 0.582 - 0.328/4 is 0.5 by its own constants."""
    assert eff.stiffener_exponent(w=0.328 * 40.0 * 1.3, t=1.3, S=40.0) == pytest.approx(0.5, rel=1e-12)
    assert eff.stiffener_exponent(w=60.0, t=1.0, S=40.0) == pytest.approx(1 / 3)


@pytest.mark.parametrize(("ratio", "C"), [(3.0, 3.0), (6.9, 3.0), (7.0, 3.0), (10.0, 2.4), (18.0, 16 / 9), (18.1, 1.8)])
def test_bearing_factor_over_slenderness(ratio: float, C: float) -> None:
    """AISI S100-16 Table J3.3.1-2 (oversized holes): 3 | 1 + 14/(d/t) for 7 <= d/t <= 18 | 1.8; from memory."""
    assert bolts_aisi.bearing_factor_oversized(d=ratio * 0.5, t=0.5) == pytest.approx(C, rel=1e-12)


def test_slip_doubles_with_the_planes() -> None:
    """AISC 360-16 J3-4 and EN 1993-1-8 eq. 3.6: each friction plane carries the same; a filler's 0.85 reduces."""
    one = bolts_aisc.slip(mu=0.3, D_u=1.13, h_f=1.0, T_b=20e3, n_s=1)
    assert bolts_aisc.slip(mu=0.3, D_u=1.13, h_f=1.0, T_b=20e3, n_s=2) == pytest.approx(2 * one)
    assert bolts_aisc.slip(mu=0.3, D_u=1.13, h_f=0.85, T_b=20e3, n_s=1) == pytest.approx(0.85 * one)
    one = bolts_en1993.slip(k_s=1.0, n=1, mu=0.3, F_p_C=20e3)
    assert bolts_en1993.slip(k_s=1.0, n=2, mu=0.3, F_p_C=20e3) == pytest.approx(2 * one)
    assert bolts_en1993.slip(k_s=0.85, n=1, mu=0.3, F_p_C=20e3) == pytest.approx(0.85 * one)


def test_net_section_with_half_the_bolts_in_it() -> None:
    """EN 1993-1-3 Table 8.4: (1 + 3 r (d_0/u - 0.3)) A_net f_u; r = 1/2, d_0/u = 0.2: 0.85 of it, never more than it."""
    assert bolts_en1993.sheet_net_section(r=0.5, d_0=8.0, u=40.0, A_net=50.0, f_u=400.0) == pytest.approx(17e3)
    assert bolts_en1993.sheet_net_section(r=1.0, d_0=8.0, u=40.0, A_net=50.0, f_u=400.0) == pytest.approx(14e3)
    assert bolts_en1993.sheet_net_section(r=0.5, d_0=16.0, u=40.0, A_net=50.0, f_u=400.0) == pytest.approx(20e3)


def test_flare_in_double_shear_says_what_is_missing() -> None:
    """AISI S100-16 J2.6: double shear where t_w >= 2 t and the lip h >= L."""
    flare = fillet_aisi.flare_longitudinal
    assert flare(t_w=3.0, t=1.5, h=20.0, L=20.0)[0] is fillet_aisi.FLARE_LONGITUDINAL_DOUBLE
    formula, why = flare(t_w=2.9, t=1.5, h=20.0, L=20.0)
    assert formula is fillet_aisi.FLARE_LONGITUDINAL_SINGLE
    assert unmarked(why).startswith("throat 2.9 mm under twice")
    for throat in (3.0, 4.0):
        formula, why = flare(t_w=throat, t=1.5, h=19.0, L=20.0)
        assert formula is fillet_aisi.FLARE_LONGITUDINAL_SINGLE
        assert unmarked(why).startswith("lip 19 mm shorter")


def test_fillet_beside_a_bend_at_the_edges_of_its_table() -> None:
    """EN 1993-1-8 Table 4.2: r/t at least 2 allows 12 mm (fatigue 10 mm), inclusive at both ends; from memory."""
    assert fillet_en1993.corner(r=24.0, t=12.0)[0]
    assert not fillet_en1993.corner(r=26.0, t=12.1)[0]


def test_web_shear_branches_at_their_edges() -> None:
    """AISI S100-16 G2.1: h/t at most sqrt(E k_v/F_y), at most 1.51 of it; EN 1993-1-3 Table 6.1: 0.83 and 1.40."""
    branch = partial(web_aisi.shear_stress, t=1.0, E=100.0, k_v=4.0, F_y=4.0)  # the root is 10
    assert branch(h=10.0) is web_aisi.SHEAR_STRESS_STOCKY
    assert branch(h=10.01) is web_aisi.SHEAR_STRESS_MEDIUM
    assert branch(h=15.1) is web_aisi.SHEAR_STRESS_MEDIUM
    assert branch(h=15.11) is web_aisi.SHEAR_STRESS_SLENDER
    assert web_en1993.shear_strength(0.83) is web_en1993.SHEAR_STRENGTH_STOCKY
    assert web_en1993.shear_strength(0.831) is web_en1993.SHEAR_STRENGTH_MEDIUM
    assert web_en1993.shear_strength(1.399) is web_en1993.SHEAR_STRENGTH_MEDIUM
    assert web_en1993.shear_strength(1.40) is web_en1993.SHEAR_STRENGTH_SLENDER


@pytest.mark.parametrize(("s_s", "short"), [(119.0, True), (120.0, True), (121.0, False)])
def test_long_bearing_begins_over_sixty_thicknesses(s_s: float, short: bool) -> None:
    """EN 1993-1-3 6.1.7.2: s_s/t <= 60 against s_s/t > 60, here with t = 2 mm."""
    end = web_en1993.crippling_single_web(end=True, lipped=False, s_s=s_s, t=2.0)
    inside = web_en1993.crippling_single_web(end=False, lipped=False, s_s=s_s, t=2.0)
    assert end is (web_en1993.CRIPPLING_END_SHORT if short else web_en1993.CRIPPLING_END_LONG)
    assert inside is (web_en1993.CRIPPLING_INTERIOR_SHORT if short else web_en1993.CRIPPLING_INTERIOR_LONG)


def test_full_penetration_of_a_plug_up_to_16_mm() -> None:
    """AISC 360-16 J2.3b: filled to the full up to 16 mm, then at least half and 16 mm."""
    assert [plug_aisc.least_fill(t=t) for t in (15.9, 16.0, 17.0, 32.0, 40.0)] == [15.9, 16.0, 16.0, 16.0, 20.0]


def test_a_load_on_half_a_thickness_is_no_point() -> None:
    """Roark, plates under a small circle: the equivalent radius is taken where r_0 < t/2, r_0 itself from t/2 on."""
    assert plate.equivalent_radius(r_0=0.5, t=1.0) == 0.5
    assert plate.equivalent_radius(r_0=0.0, t=2.0) == pytest.approx(0.65)  # (1 - 0.675) t


@pytest.mark.parametrize(
    ("formula", "low", "high"),
    [
        (arc_en.PERIPHERAL_STOCKY, None, 18.0),
        (arc_en.PERIPHERAL_MIDDLE, 18.0, 30.0),
        (arc_en.PERIPHERAL_SLENDER, 30.0, None),
    ],
)
def test_a_peripheral_branch_refuses_what_the_next_one_takes(
    formula: Formula, low: float | None, high: float | None
) -> None:
    """EN 1993-1-3 8.5.3(5), here at f_u = 420 MPa and a stack of 1 mm: the slenderness is d_p."""
    (limit,) = [item for item in formula.limits if "420" in item.expression]
    for slenderness in (17.9, 18.0, 18.1, 29.9, 30.0, 30.1):
        within = (low is None or slenderness >= low) and (high is None or slenderness <= high)
        assert bool(limit.inside({"d_p": slenderness, "S_t": 1.0, "f_u": 420.0})) is within


def test_edge_of_an_arc_spot_goes_with_the_steel() -> None:
    """EN 1993-1-3 8.5.3(2): one distance up to f_u/f_y of 1.15, another over it."""
    for formula, soft in ((arc_en.LEAST_EDGE_LOW, False), (arc_en.LEAST_EDGE_HIGH, True)):
        (limit,) = [item for item in formula.limits if "f_y" in item.expression]
        assert bool(limit.inside({"f_u": 115.0, "f_y": 100.0})) is not soft
        assert bool(limit.inside({"f_u": 116.0, "f_y": 100.0})) is soft
