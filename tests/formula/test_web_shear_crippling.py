"""Webs in shear and under local forces: published and independently computed values, plate theory, branch edges."""

from math import pi, sqrt

import numpy as np
import pytest

from jointcalc.formula import joint_flow as flow
from jointcalc.formula import torsional
from jointcalc.formula import web_aisi as aisi
from jointcalc.formula import web_en1993 as en
from jointcalc.tables.store import load

E_EN, E_AISI = 210000.0, 203000.0


# --- shear ---------------------------------------------------------------------------------------------


def en_stress(lamda: float, f_yb: float = 355.0) -> float:
    return float(en.shear_strength(lamda)(f_yb=f_yb, lamda_w=lamda))


def test_en_slenderness_is_that_of_the_buckling_stress() -> None:
    # lamda = sqrt(f_y/sqrt(3) / tau_cr), tau_cr = 5.34 pi^2 E / (12 (1 - nu^2)) (t/s)^2: classical plate theory
    for s, t, f_y in ((60.0, 1.0, 355.0), (120.0, 1.5, 250.0)):
        tau = 5.34 * pi**2 * E_EN / (12 * (1 - 0.3**2)) * (t / s) ** 2
        assert en.WEB_SLENDERNESS(s_w=s, t=t, f_yb=f_y, E=E_EN) == pytest.approx(sqrt(f_y / sqrt(3) / tau), rel=2e-3)


@pytest.mark.parametrize("edge, gap", [(0.83, 5e-3), (1.40, 5e-3)])
def test_en_branches_meet(edge: float, gap: float) -> None:
    # the printed constants meet within their rounding: 0.48/0.83 = 0.578, 0.67/1.40^2 = 0.342, 0.48/1.40 = 0.343
    below, above = en_stress(edge - 1e-9), en_stress(edge + 1e-9)
    assert below == pytest.approx(above, rel=gap)
    assert en_stress(edge * 1.05) < en_stress(edge * 0.95) or edge < 1


def test_branches_change_where_the_tables_say() -> None:
    # EN 1993-1-3 Table 6.1: 0.83 and 1.40; AISI S100-16 G2.1 (as quoted): 1 and 1.51 sqrt(E k_v / F_y)
    chosen = [en.shear_strength(x) for x in (0.82, 0.84, 1.39, 1.41)]
    stocky, medium, slender = en.SHEAR_STRENGTH_STOCKY, en.SHEAR_STRENGTH_MEDIUM, en.SHEAR_STRENGTH_SLENDER
    assert chosen == [stocky, medium, medium, slender]
    root = sqrt(E_AISI * 5.34 / 345)
    found = [aisi.shear_stress(h=x * root, t=1.0, E=E_AISI, k_v=5.34, F_y=345.0) for x in (0.99, 1.01, 1.50, 1.52)]
    assert found[0] is aisi.SHEAR_STRESS_STOCKY
    assert found[1] is found[2] is aisi.SHEAR_STRESS_MEDIUM
    assert found[3] is aisi.SHEAR_STRESS_SLENDER
    singles = [en.crippling_single_web(end=True, lipped=False, s_s=s, t=1.0) for s in (59.0, 61.0)]
    assert singles == [en.CRIPPLING_END_SHORT, en.CRIPPLING_END_LONG]
    singles = [en.crippling_single_web(end=False, lipped=False, s_s=s, t=1.0) for s in (59.0, 61.0)]
    assert singles == [en.CRIPPLING_INTERIOR_SHORT, en.CRIPPLING_INTERIOR_LONG]


def test_en_stocky_web_yields_in_shear() -> None:
    # von Mises: 1/sqrt(3) = 0.577, printed 0.58
    assert en_stress(0.5) == pytest.approx(355 / sqrt(3), rel=5e-3)


def test_en_slender_web_lies_at_or_above_its_buckling_stress() -> None:
    # 0.67 against 1/sqrt(3) = 0.577 of the bare critical stress: a tension field is allowed for, no more than a sixth
    lamda = 2.5
    critical = 355 / sqrt(3) / lamda**2
    assert 1.0 < en_stress(lamda) / critical < 1.2


def test_en_web_shear_follows_the_slope() -> None:
    upright = en.WEB_SHEAR(h_w=30.0, t=1.2, f_bv=200.0, phi=pi / 2)
    assert upright == pytest.approx(30 * 1.2 * 200)
    assert en.WEB_SHEAR(h_w=30.0, t=1.2, f_bv=200.0, phi=pi / 6) == pytest.approx(2 * upright)


def aisi_stress(ratio: float, F_y: float = 345.0) -> float:
    t = 1.2
    h = ratio * float(np.sqrt(E_AISI * aisi.K_V / F_y)) * t
    given = {"h": h, "t": t, "E": E_AISI, "k_v": aisi.K_V, "F_y": F_y}
    return float(aisi.shear_stress(**given)(**given))


@pytest.mark.parametrize("edge, gap", [(1.0, 1e-6), (1.51, 4e-3)])
def test_aisi_branches_meet(edge: float, gap: float) -> None:
    # AISI S100-16 G2.1 as quoted in a conference paper (read): 0.60/1.51 = 0.397, 0.904/1.51^2 = 0.396
    assert aisi_stress(edge - 1e-9) == pytest.approx(aisi_stress(edge + 1e-9), rel=gap)
    assert aisi_stress(edge - 0.2) > aisi_stress(edge + 0.2) or edge == 1.0


def test_aisi_slender_web_is_the_elastic_buckling_stress() -> None:
    # 0.904 E k_v = pi^2 E k_v / (12 (1 - 0.3^2)): classical plate theory
    given = {"h": 150.0, "t": 1.0, "E": E_AISI, "k_v": 5.34, "F_y": 345.0}
    plate = 5.34 * pi**2 * E_AISI / (12 * 0.91) / 150**2
    assert aisi.SHEAR_STRESS_SLENDER(**given) == pytest.approx(plate, rel=1e-3)
    assert aisi.WEB_SHEAR(h=150.0, t=1.0, F_v=plate) == pytest.approx(150 * plate)


def test_aisi_middle_range_value() -> None:
    # by hand: h/t = 80, F_y 345: 0.60 sqrt(203000 x 5.34 x 345)/80 = 145.04 MPa
    given = {"h": 96.0, "t": 1.2, "E": E_AISI, "k_v": 5.34, "F_y": 345.0}
    assert aisi.shear_stress(**given) is aisi.SHEAR_STRESS_MEDIUM
    assert aisi.SHEAR_STRESS_MEDIUM(**given) == pytest.approx(0.6 * 19338.6 / 80, rel=1e-4)


def test_elastic_shear_of_a_flat_bar() -> None:
    # rectangle: tau = 1.5 V/A (Gere, Mechanics of Materials), yield at f_y/sqrt(3)
    A = 30.0 * 5.0
    assert en.ELASTIC_SHEAR(f_y=235.0, tau_1=1.5 / A) == pytest.approx(235 / sqrt(3) * A / 1.5)


# --- crippling --------------------------------------------------------------------------------------------


def test_aisi_crippling_of_a_hat() -> None:
    # independent computation of the reference: t 1.2, R 2, N 50, h 23.6, F_y 300: 5188, 9246, 4262, 7806 N per web
    for row, wanted in zip(load("crippling_aisi").rows, (5188.0, 9246.0, 4262.0, 7806.0)):
        found = aisi.CRIPPLING(
            C=row.need("C"), t=1.2, F_y=300.0, theta=pi / 2, C_R=row.need("C_R"), R=2.0, C_N=row.need("C_N"),
            N=50.0, C_h=row.need("C_h"), h=23.6,
        )  # fmt: skip
        assert found == pytest.approx(wanted, abs=0.6)
        assert 1.75 <= row.need("omega") <= 2.0
    assert aisi.CRIPPLING.outside(
        C=4.0, t=1.2, F_y=300.0, theta=1.2, C_R=0.25, R=2.0, C_N=0.68, N=50.0, C_h=0.04, h=23.6
    )


def test_en_crippling_of_two_webs_by_hand() -> None:
    # by hand: 0.057 x 1.44 x sqrt(300 x 210000) = 651.49; 1 - 0.1 sqrt(2/1.2) = 0.87090; 0.5 + sqrt(1/1.2) = 1.41287;
    # 2.4 + 1 = 3.4 -> 2725.6 N
    found = en.CRIPPLING_TWO_WEBS(alpha=en.ALPHA_HAT[1], t=1.2, f_yb=300.0, E=E_EN, r=2.0, l_a=50.0, phi_deg=90.0)
    assert found == pytest.approx(2725.6, rel=1e-4)
    leaning = en.CRIPPLING_TWO_WEBS(alpha=0.057, t=1.2, f_yb=300.0, E=E_EN, r=2.0, l_a=50.0, phi_deg=60.0)
    assert leaning / found == pytest.approx((2.4 + 4 / 9) / 3.4)


def test_en_bearing_length_of_category_2_runs_without_a_jump() -> None:
    assert en.bearing_category_2(60.0, 0.0) == 60.0
    assert en.bearing_category_2(60.0, 0.2 + 1e-9) == pytest.approx(60.0)
    assert en.bearing_category_2(60.0, 0.25) == pytest.approx(35.0)
    assert en.bearing_category_2(60.0, 0.3 - 1e-9) == pytest.approx(10.0)
    assert en.SHEAR_RATIO(V_1=300.0, V_2=-100.0) == pytest.approx(0.5)


SINGLE = {"k_3": 1.0, "h_w": 60.0, "t": 1.0, "f_yb": 228.0}


@pytest.mark.parametrize(
    "short, long, more, gap",
    [
        (en.CRIPPLING_END_SHORT, en.CRIPPLING_END_LONG, {"k_1": 1.0, "k_2": 1.0}, 0.01),
        (en.CRIPPLING_INTERIOR_SHORT, en.CRIPPLING_INTERIOR_LONG, {"k_4": 1.0, "k_5": 1.0}, 0.01),
    ],
)
def test_en_single_web_branches_meet_at_a_bearing_of_60_t(short, long, more, gap) -> None:
    # 1 + 0.01 x 60 = 1.60 against 0.71 + 0.015 x 60 = 1.61; 1 + 0.007 x 60 = 1.42 against 0.75 + 0.011 x 60 = 1.41
    a, b = (f(**SINGLE, **more, s_s=60.0) for f in (short, long))
    assert a == pytest.approx(b, rel=gap)
    assert a != b


def test_en_single_web_coefficients_are_one_at_their_anchor() -> None:
    # k = 1 at f_yb = 228 MPa (33 ksi), the steel of the tests behind; r/t = 1; a square web
    assert en.STRENGTH_COEFFICIENT(f_yb=228.0) == 1.0
    assert en.STRENGTH_COEFFICIENT_END(k=1.0) == pytest.approx(1.0)
    assert en.STRENGTH_COEFFICIENT_INTERIOR(k=1.0) == pytest.approx(1.0)
    assert en.RADIUS_COEFFICIENT_END(r=1.0, t=1.0) == pytest.approx(1.0)
    assert en.RADIUS_COEFFICIENT_INTERIOR(r=1.0, t=1.0) == pytest.approx(1.0)
    assert en.RADIUS_COEFFICIENT_END(r=9.0, t=1.0) == 0.5
    assert en.ANGLE_COEFFICIENT(phi_deg=90.0) == pytest.approx(1.0)
    assert en.STRENGTH_COEFFICIENT_END(k=1.5) < 1 < en.STRENGTH_COEFFICIENT_INTERIOR(k=0.8)


def test_en_single_web_order_and_selector() -> None:
    # lips hold the flange; a load away from the ends spreads both ways
    more = {"k_1": 1.0, "k_2": 1.0}
    end = en.CRIPPLING_END_SHORT(**SINGLE, **more, s_s=30.0)
    lipped = en.CRIPPLING_END_LIPPED(**SINGLE, **more, s_s=30.0)
    interior = en.CRIPPLING_INTERIOR_SHORT(**SINGLE, k_4=1.0, k_5=1.0, s_s=30.0)
    assert end < lipped < interior
    # by hand: (9.04 - 1) x 1.3 x 228 = 2383.1 N; (14.7 - 60/49.5) x 1.21 x 228 = 3721.0; (5.92 - 60/132) x 1.3 x 228
    assert (lipped, interior, end) == pytest.approx((2383.06, 3721.01, 1619.97), rel=1e-4)
    assert en.crippling_single_web(end=True, lipped=True, s_s=10, t=1) is en.CRIPPLING_END_LIPPED
    assert en.crippling_single_web(end=True, lipped=False, s_s=70, t=1) is en.CRIPPLING_END_LONG
    assert en.crippling_single_web(end=False, lipped=False, s_s=10, t=1) is en.CRIPPLING_INTERIOR_SHORT


# --- together ---------------------------------------------------------------------------------------------


def test_interactions_at_their_ends() -> None:
    # the published sums end in the single checks
    assert en.BENDING_AND_SHEAR(M=5.0, M_c=5.0, V=1.0, V_w=2.0) == pytest.approx(1.0)
    assert en.BENDING_AND_SHEAR(M=0.0, M_c=5.0, V=2.0, V_w=2.0) == pytest.approx(1.0)
    assert en.BENDING_AND_SHEAR.outside(M=1.0, M_c=5.0, V=0.5, V_w=2.0)
    assert en.BENDING_AND_CRIPPLING(M=1.0, M_c=4.0, F=1.0, R_w=1.0) == pytest.approx(1.25)
    assert aisi.BENDING_AND_SHEAR(M=3.0, M_a=5.0, V=4.0, V_a=5.0) == pytest.approx(1.0)
    assert aisi.BENDING_AND_CRIPPLING(P=1.0, P_n=1.0, M=0.42, M_n=1.0) == pytest.approx(1.33)
    assert en.TENSION_AND_BENDING(T=1.0, N_t=2.0, M=2.0, M_c=4.0) == pytest.approx(1.0)


def test_tension() -> None:
    # 50 x 2 mm strip of f_y 250, f_u 360
    assert en.TENSION_RESISTANCE(A=100.0, f_y=250.0) == 25e3
    assert aisi.TENSION_YIELD(A_g=100.0, F_y=250.0) == 25e3
    assert aisi.TENSION_RUPTURE(A_n=100.0, F_u=360.0) == 36e3


def test_service_second_moment_runs_from_effective_to_gross() -> None:
    given = {"I_gr": 10.0, "I_eff": 8.0, "sigma": 300.0}
    assert en.SERVICE_SECOND_MOMENT(**given, sigma_gr=0.0) == 10.0
    assert en.SERVICE_SECOND_MOMENT(**given, sigma_gr=300.0) == pytest.approx(8.0)
    assert en.SERVICE_SECOND_MOMENT(**given, sigma_gr=150.0) == pytest.approx(9.0)


# --- spots along a brace -----------------------------------------------------------------------------------


def test_published_fastener_spacings() -> None:
    # Hibbeler, Mechanics of Materials (two solutions read): V 300 kN, I 0.3075e-3 m4, Q 0.64e-3 m3, two bolts of
    # 30 kN side by side -> 96.1 mm; V 20 kN, I 0.62917e-3 m4, Q 1.5e-3 m3, 8 kN per plane, two planes -> 335.56 mm
    q = flow.SHEAR_FLOW(V=300e3, Q=0.64e6, I=0.3075e9)
    assert flow.LOAD_PER_SPOT(q_line=q / 2, p=96.1) == pytest.approx(30e3, rel=5e-4)
    q = flow.SHEAR_FLOW(V=20e3, Q=1.5e6, I=0.62917e9)
    assert flow.LOAD_PER_SPOT(q_line=q / 2, p=335.56) == pytest.approx(8e3, rel=1e-4)


# --- struts that twist ------------------------------------------------------------------------------------------


def test_torsional_flexural_force_is_the_root_of_the_stability_equation() -> None:
    # Timoshenko and Gere: i_o^2 (N - N_f)(N - N_t) - N^2 d^2 = 0, solved here by numpy's polynomial roots
    rng = np.random.default_rng(3)
    for _ in range(50):
        N_f, N_t = rng.uniform(1e3, 1e5, 2)
        i_o = rng.uniform(10, 60)
        d_o = i_o * rng.uniform(0.0, 0.95)
        roots = np.roots([i_o**2 - d_o**2, -(i_o**2) * (N_f + N_t), i_o**2 * N_f * N_t])
        found = torsional.TORSIONAL_FLEXURAL_FORCE(N_f=N_f, N_t=N_t, d_o=d_o, i_o=i_o)
        assert found == pytest.approx(min(roots), rel=1e-9)
        assert found <= min(N_f, N_t) * (1 + 1e-12)


def test_torsional_force_of_a_cruciform() -> None:
    # Timoshenko and Gere: a cruciform of legs b, thickness t twists at sigma = G (t/b)^2 when warping is nothing
    b, t, G = 50.0, 2.0, 80770.0
    A, J, polar = 4 * b * t, 4 * b * t**3 / 3, 4 * t * b**3 / 3
    force = torsional.TORSIONAL_FORCE(i_o=sqrt(polar / A), G=G, J=J, E=E_EN, C_w=0.0, L=1e3)
    assert force / A == pytest.approx(G * (t / b) ** 2)
    # warping adds pi^2 E C_w / (i_o L)^2
    more = torsional.TORSIONAL_FORCE(i_o=30.0, G=G, J=0.0, E=E_EN, C_w=1e8, L=1000.0)
    assert more == pytest.approx(pi**2 * E_EN * 1e8 / (30.0 * 1000.0) ** 2)


def test_en_single_web_by_hand_away_from_one() -> None:
    # r 3, t 1.5: k_2 = 1.15 - 0.30 = 0.85, k_5 = 1.06 - 0.12 = 0.94; at most 1 for a sharp bend; a web at 60 degrees:
    # k_3 = 0.7 + 0.3 x 4/9 = 0.8333
    assert en.RADIUS_COEFFICIENT_END(r=3.0, t=1.5) == pytest.approx(0.85)
    assert en.RADIUS_COEFFICIENT_INTERIOR(r=3.0, t=1.5) == pytest.approx(0.94)
    assert en.RADIUS_COEFFICIENT_END(r=0.0, t=1.5) == 1.0
    assert en.RADIUS_COEFFICIENT_INTERIOR(r=0.0, t=1.5) == 1.0
    assert en.ANGLE_COEFFICIENT(phi_deg=60.0) == pytest.approx(0.83333, rel=1e-4)
    # h_w 60, t 1.5 (h/t 40), s_s 30 (20 t) or 120 (80 t), f_yb 300: t^2 f_yb = 675 N, k 0.9 x 0.8 x 0.7 = 0.504
    web = {"k_3": 0.7, "h_w": 60.0, "t": 1.5, "f_yb": 300.0}
    end, inside = {"k_1": 0.9, "k_2": 0.8}, {"k_4": 0.9, "k_5": 0.8}
    assert en.CRIPPLING_END_LIPPED(**web, **end, s_s=30.0) == pytest.approx(0.504 * 8.37333 * 1.2 * 675, rel=1e-5)
    assert en.CRIPPLING_END_SHORT(**web, **end, s_s=30.0) == pytest.approx(0.504 * 5.61697 * 1.2 * 675, rel=1e-5)
    assert en.CRIPPLING_END_LONG(**web, **end, s_s=120.0) == pytest.approx(0.504 * 5.61697 * 1.91 * 675, rel=1e-5)
    assert en.CRIPPLING_INTERIOR_SHORT(**web, **inside, s_s=30.0) == pytest.approx(
        0.504 * 13.89192 * 1.14 * 675, rel=1e-5
    )
    assert en.CRIPPLING_INTERIOR_LONG(**web, **inside, s_s=120.0) == pytest.approx(
        0.504 * 13.89192 * 1.63 * 675, rel=1e-5
    )


def test_en_bearing_length_at_its_corners() -> None:
    # 6.1.7.3(4): the whole bearing up to 0.2, 10 mm from 0.3 on, a straight line between
    assert [en.bearing_category_2(60.0, b) for b in (0.2, 0.21, 0.29, 0.3, 0.31)] == pytest.approx([60, 55, 15, 10, 10])


def test_sums_away_from_their_ends() -> None:
    # by hand from the printed sums
    assert en.BENDING_AND_SHEAR(M=2.0, M_c=5.0, V=3.0, V_w=4.0) == pytest.approx(0.4 + 0.25)
    assert en.BENDING_AND_CRIPPLING(M=2.0, M_c=5.0, F=3.0, R_w=4.0) == pytest.approx(1.15)
    assert aisi.BENDING_AND_SHEAR(M=2.0, M_a=5.0, V=3.0, V_a=4.0) == pytest.approx(sqrt(0.16 + 0.5625))
    assert aisi.BENDING_AND_CRIPPLING(P=3.0, P_n=4.0, M=2.0, M_n=5.0) == pytest.approx(0.91 * 0.75 + 0.4)
    assert en.TENSION_AND_BENDING(T=3.0, N_t=4.0, M=2.0, M_c=5.0) == pytest.approx(1.15)
    assert en.SHEAR_RATIO(V_1=-300.0, V_2=200.0) == pytest.approx(0.2)


def test_aisi_web_area_and_slope() -> None:
    # 96 x 1.2 mm at 100 MPa; a web at 60 degrees carries sin 60 of an upright one (the clause's own factor)
    assert aisi.WEB_SHEAR(h=96.0, t=1.2, F_v=100.0) == pytest.approx(11520)
    given = {"C": 4.0, "t": 1.2, "F_y": 300.0, "C_R": 0.25, "R": 2.0, "C_N": 0.68, "N": 50.0, "C_h": 0.04, "h": 23.6}
    upright, leaning = (aisi.CRIPPLING(**given, theta=a) for a in (pi / 2, pi / 3))
    assert leaning / upright == pytest.approx(sqrt(3) / 2)
