"""Effective sections against published worked examples and tables; the source stands beside each."""

import itertools

import numpy as np
import pytest

from jointcalc.errors import InputError
from jointcalc.formula import effective_aisi as aisi
from jointcalc.formula import effective_en as en
from jointcalc.section import parse_profile
from jointcalc.section.effective_aisi import effective_aisi, local_reduction
from jointcalc.section.effective_en1993 import chi_d, effective_en, k_held, k_internal, rho_internal, rho_outstand
from jointcalc.section.families.channel import LippedChannel
from jointcalc.section.families.hat import BeadedHat, Hat
from jointcalc.section.families.tube import Tube
from jointcalc.section.panels import panels

INCH = 25.4
KSI = 6.894757293
KIP_IN = 4448.2216152605 * INCH


def sx022a():
    """The lipped channel of SX022a-EN-EU: mid-line 198 x 72 (top) x 64 x 19.8, t 1.96."""
    t = 1.96
    return LippedChannel(web=198 + t, flange=72 + t, bottom=64 + t, lip=19.8 + t / 2, t=t, r=3.0)


def test_sx022a_gross_section():
    """SX022a-EN-EU, read: A = 732 mm2, centroid 96.88 mm below the top flange's mid-line."""
    p = sx022a().properties(sharp=True)
    assert p.area[0] == pytest.approx(732, abs=0.5)
    assert 198 + 0.98 - p.z_centroid[0] == pytest.approx(96.88, abs=0.005)


def test_sx022a_effective_section():
    """SX022a-EN-EU, results from memory: chi_d 0.737, b_e2 35.9, A_eff 689.2, z_c 102.3, z_t 95.7,
    I_eff 4 140 000, W_eff,c 40 460, W_eff,t 43 260 (moduli to the mid-lines of the flanges)."""
    e = effective_en(sx022a(), f_yb=350.0, sharp=True)
    flange = next(w for w in e.workings if w.panel == "top flange").values
    assert flange["chi_d"][0] == pytest.approx(0.737, abs=5e-4)
    assert flange["b_e2"][0] == pytest.approx(35.9, abs=0.05)
    assert flange["K"][0] == pytest.approx(0.439, abs=5e-4)
    assert e.area[0] == pytest.approx(689.2, abs=0.06)
    z_c, z_t = 198 + 0.98 - e.z_centroid[0], e.z_centroid[0] - 0.98
    assert z_c == pytest.approx(102.3, abs=0.05)
    assert z_t == pytest.approx(95.7, abs=0.05)
    assert e.I_y[0] == pytest.approx(4_140_000, abs=500)
    assert e.I_y[0] / z_c == pytest.approx(40_460, abs=5)
    assert e.I_y[0] / z_t == pytest.approx(43_260, abs=5)
    assert e.W_top[0] < e.I_y[0] / z_c  # to the outer face
    assert e.moment[0] == pytest.approx(e.W_eff[0] * 350.0)


def hat_example():
    """The classic hat: depth 10, crown 15 in, bottom lips 1.0475 in flat, t 0.105, R 3/16, F_y 50 ksi."""
    return Hat(top=15 * INCH, depth=10 * INCH, flange=(1.34 - 0.105) * INCH, t=0.105 * INCH, r=3 / 16 * INCH)


def test_classic_hat_example():
    """Hat of the AISI handbook literature (Yu), from memory, crown in compression, tension yields first:
    b 4.93 in, y_cg 4.49 in, f 40.7 ksi; I_x 35.65 in4, S_e 6.467 in3, M_n 323.4 kip in (recomputed)."""
    e = effective_aisi(hat_example(), F_y=50 * KSI, E=29500 * KSI)
    crown = next(w for w in e.workings if w.panel == "crown").values
    assert crown["w"][0] / INCH == pytest.approx(14.415, abs=5e-4)
    assert crown["f"][0] / KSI == pytest.approx(40.7, abs=0.05)
    assert crown["rho"][0] * crown["w"][0] / INCH == pytest.approx(4.93, abs=0.01)
    assert 10 - e.z_centroid[0] / INCH == pytest.approx(4.487, abs=6e-4)
    assert e.I_y[0] / INCH**4 == pytest.approx(35.65, abs=0.015)
    assert e.W_eff[0] / INCH**3 == pytest.approx(6.467, abs=0.002)
    assert e.moment[0] / KIP_IN == pytest.approx(323.4, abs=0.1)
    web = next(w for w in e.workings if w.panel == "left web").values
    assert web["psi"][0] == pytest.approx(1.245, abs=1e-3)
    assert web["k"][0] == pytest.approx(31.1, abs=0.05)


def test_first_pass_of_the_classic_hat():
    """The same source, from memory: w/t 137.29, lambda 2.973, rho 0.311 at f = 50 ksi; web lambda 0.607."""
    critical = aisi.local_buckling_stress(k=4.0, E=29500.0, mu=0.3, t=0.105, w=14.415)
    lamda = aisi.slenderness(f=50.0, F_crl=critical)
    assert pytest.approx(137.29, abs=0.005) == 14.415 / 0.105
    assert lamda == pytest.approx(2.973, abs=1e-3)
    assert aisi.local_reduction(lamda=lamda) == pytest.approx(0.3115, abs=1e-4)
    web = aisi.local_buckling_stress(k=31.1, E=29500.0, mu=0.3, t=0.105, w=9.415)
    assert aisi.slenderness(f=40.69 * 4.1945 / 4.487, F_crl=web) == pytest.approx(0.607, abs=1e-3)


def test_buckling_factors_at_the_tabulated_stress_ratios():
    """EN 1993-1-5:2006 Tables 4.1 and 4.2, the printed values at psi = 1, 0, -1, from memory."""
    assert k_internal(np.array([1.0, 0.0, -1.0, -3.0])) == pytest.approx([4.0, 7.81, 23.9, 5.98 * 16], abs=0.03)
    assert en.k_outstand_free(psi=np.array([1.0, 0.0, -1.0])) == pytest.approx([0.43, 0.57, 0.85])
    assert k_held(np.array([1.0, 0.0, -1.0])) == pytest.approx([0.43, 1.70, 23.8], abs=0.02)


def test_reduction_factors_meet_one_at_their_limits():
    """The formulas of EN 1993-1-5 (4.2), (4.3) and AISI 1.1-2 give 1 at the slenderness where they begin (their own logic)."""
    psi = np.array([1.0, 0.5, 0.0, -0.5, -1.0])
    limit = en.limit_internal(psi=psi)
    assert limit[0] == pytest.approx(0.673, abs=5e-4)
    assert en.rho_internal(lamda_p=limit, psi=psi) == pytest.approx(1.0)
    assert rho_internal(0.99 * limit, psi) == pytest.approx(1.0)
    assert en.rho_outstand(lamda_p=0.748) == pytest.approx(1.0, abs=2e-3)
    assert rho_outstand(np.array([0.5, 0.748, 1.0])) == pytest.approx([1.0, 1.0, 0.812])
    assert aisi.local_reduction(lamda=0.673) == pytest.approx(1.0, abs=5e-4)
    assert local_reduction(np.array([0.2, 0.673, 2.0])) == pytest.approx([1.0, 1.0, 0.445])
    assert chi_d(np.array([0.5, 0.65, 1.0, 1.38, 2.0])) == pytest.approx([1.0, 1.0, 0.747, 0.478, 0.33], abs=1e-3)


def test_adequate_lip_rules_meet():
    """AISI S100: at w/t = S the cubic gives 121 t^4 and the line 120 t^4, the old specification's joint (from memory)."""
    assert aisi.adequate_second_moment(t=1.0, w=50.0, S=50.0) == pytest.approx(120.0)
    assert aisi.adequate_second_moment(t=1.0, w=40.0, S=50.0) == pytest.approx(399 * 0.472**3)
    assert pytest.approx(121.1, abs=0.1) == 399 * 0.672**3
    assert aisi.k_lipped_short(R_I=1.0, n=0.4) == pytest.approx(4.0)
    assert aisi.k_lipped_long(R_I=1.0, n=0.4, D=0.25, w=1.0) == pytest.approx(4.0)
    assert aisi.k_lipped_long(R_I=1.0, n=0.4, D=0.6, w=1.0) == pytest.approx(4.82 - 3.0 + 0.43)
    assert aisi.stiffener_exponent(w=10.0, t=1.0, S=50.0) == pytest.approx(0.532)
    assert aisi.stiffener_exponent(w=80.0, t=1.0, S=50.0) == pytest.approx(1 / 3)
    assert aisi.stiffener_limit(E=203000.0, f=350.0) == pytest.approx(1.28 * np.sqrt(580.0))


def test_web_coefficients_at_pure_bending_and_pure_compression():
    """k = 24 for bending (psi 1), 4 for uniform compression: the classic plate results (AISI commentary, from memory)."""
    assert aisi.k_web(psi=1.0) == pytest.approx(24.0)
    assert aisi.k_gradient(psi=1.0) == pytest.approx(4.0)
    assert aisi.k_gradient(psi=0.5) == pytest.approx(5.25)  # 4 + 2/8 + 1; EN Table 4.1 has 8.2/1.55 = 5.29
    assert aisi.k_gradient(psi=0.0) == pytest.approx(aisi.k_web(psi=0.0)) == pytest.approx(8.0)
    assert aisi.web_width_compressed_end(b_e=40.0, psi=1.0) == pytest.approx(10.0)
    assert aisi.web_width_gradient(b_e=40.0, psi=1.0) == pytest.approx(20.0)
    assert aisi.web_width_axis_deep(b_e=40.0, psi=1.0, b_1=10.0) == pytest.approx(10.0)


@pytest.mark.parametrize("b_s", [0.0, 12.0, 40.0])
def test_bead_stress_is_that_of_a_strut_on_the_springs_of_its_flats(b_s):
    """A bead of developed width b_s in the middle of a simply supported strip, flats b_p on both sides.

    Derivation: half the force at each edge of the bead; the strip yields P b^2 (3 L - 4 b)/(12 D) there,
    L = 2 b_p + b_s, and a strut on that spring buckles at 2 sqrt(K E I)/A.  EN's 4.2 agrees within 0.3 %.
    """
    e, i_s, t, area, b_p = 210000.0, 500.0, 1.2, 60.0, 25.0
    d = e * t**3 / (12 * (1 - 0.3**2))
    spring = 12 * d / (b_p**2 * (3 * (2 * b_p + b_s) - 4 * b_p))
    strut = 2 * np.sqrt(spring * e * i_s) / area
    code = en.bead_critical_stress(E=e, I_s=i_s, t=t, A_s=area, b_p=b_p, b_s=b_s)
    assert code == pytest.approx(strut, rel=3e-3)


def test_buckling_factor_of_a_lip():
    """EN 1993-1-3 (5.13), from memory: 0.5 up to b_pc/b_p = 0.35, 0.5 + 0.83 x 0.25^(2/3) = 0.829 at 0.6."""
    assert en.k_lip(b_pc=3.5, b_p=10.0) == pytest.approx(0.5)
    assert en.k_lip(b_pc=6.0, b_p=10.0) == pytest.approx(0.8294, abs=5e-5)
    assert en.k_lip(b_pc=4.75, b_p=10.0) == pytest.approx(0.5 + 0.83 / 4)  # 0.125^(2/3) = 1/4
    family = LippedChannel(web=100.0, flange=40.0, lip=20.0, t=1.0, r=1.0)
    lip = next(w for w in effective_en(family, f_yb=355.0).workings if w.panel == "top flange").values
    ratio = lip["c_p"][0] / lip["b_p"][0]
    assert ratio > 0.35
    assert lip["k_lip"][0] == pytest.approx(0.5 + 0.83 * (ratio - 0.35) ** (2 / 3))


def test_spring_of_an_edge_stiffener_is_that_of_a_bracket():
    """EN (5.10b) for the free flange: a cantilever b_1 on a web h_w simply held at its far end (derivation).

    Deflection under a unit load per length: b_1^3/(3 D) + b_1^2 h_w/(3 D) with D = E t^3/(12 (1 - nu^2)).
    """
    e, t, b_1, h_w = 210000.0, 1.5, 55.0, 150.0
    d = e * t**3 / (12 * (1 - 0.3**2))
    k = en.spring_stiffness(E=e, t=t, nu=0.3, b_1=b_1, h_w=h_w, b_2=b_1, k_f=0.0)
    assert 1 / k == pytest.approx(b_1**3 / (3 * d) + b_1**2 * h_w / (3 * d))
    both = en.spring_stiffness(E=e, t=t, nu=0.3, b_1=b_1, h_w=h_w, b_2=b_1, k_f=1.0)
    # both flanges loaded alike: the web bends in a circle, b_1^2 h_w/(2 D) instead
    assert 1 / both == pytest.approx(b_1**3 / (3 * d) + b_1**2 * h_w / (2 * d))


def test_stiffener_second_moment_against_shapely():
    """I_s about the level axis through the stiffener's own centroid, as two thin rectangles (shapely)."""
    from section_solids import moments
    from shapely.geometry import box
    from shapely.ops import unary_union

    b, c, t = 20.0, 12.0, 0.05
    shape = unary_union([box(0, -t / 2, b, t / 2), box(b, -t / 2, b + t, c)])
    ours = en.stiffener_second_moment(b_e2=b, c_eff=c, t=t)
    assert ours == pytest.approx(moments(shape)[3], rel=0.02)


def test_effective_width_of_attached_skin():
    """62 mm between weld lines, t 1.0, f 235, E 203 000: lambda 1.110, rho 0.7225, 44.8 mm (computed by hand with AISI 1.1)."""
    critical = aisi.local_buckling_stress(k=4.0, E=203000.0, mu=0.3, t=1.0, w=62.0)
    lamda = aisi.slenderness(f=235.0, F_crl=critical)
    assert lamda == pytest.approx(1.110, abs=1e-3)  # printed with 1.052/sqrt(k)
    assert local_reduction(np.array([lamda]))[0] * 62 == pytest.approx(44.8, abs=0.05)


HATS = "hat:top=40mm,depth=30mm,flange=20mm,t=3mm,r=3mm"


@pytest.mark.parametrize("face", ["top", "bottom", "all"])
@pytest.mark.parametrize("method", [effective_en, effective_aisi])
def test_stocky_section_is_fully_effective(method, face):
    """Thick sheet: nothing is taken out and the effective section is the gross one."""
    family = parse_profile(HATS)
    p = family.properties()
    e = method(family, compression=face, **({"f_yb": 235.0} if method is effective_en else {"F_y": 235.0}))
    assert e.fully_effective[0]
    assert e.area[0] == pytest.approx(p.area[0], rel=1e-12)
    assert e.I_y[0] == pytest.approx(p.I_y[0], rel=1e-12)
    assert e.W_top[0] == pytest.approx(p.W_y_top[0], rel=1e-12)
    assert e.outside() == []


def by_hand_hat(face):
    """A slender hat under EN, the strips taken out with the widths of EN 1993-1-5 worked out here by hand."""
    from section_solids import solid
    from shapely.geometry import box

    f = {"top": 120.0, "depth": 40.0, "flange": 35.0, "t": 0.8, "r": 1.6}
    family = Hat(**f)
    shape = solid("hat", f)
    eps, m, t = np.sqrt(235 / 355), 1.6 + 0.4, 0.8
    flange_flat, crown_flat = 35 - 1.6, 120 - 2 * 2.4
    if face == "top":
        b = crown_flat + 2 * m * np.sin(np.pi / 4)
        lamda = b / t / (28.4 * eps * 2)
        rho = (lamda - 0.22) / lamda**2
        lost = (1 - rho) * b
        shape = shape.difference(box(-lost / 2, 39.0, lost / 2, 41.0))
    else:
        b = flange_flat + m * np.sin(np.pi / 4)
        lamda = b / t / (28.4 * eps * np.sqrt(0.43))
        rho = (lamda - 0.188) / lamda**2
        lost = (1 - rho) * b
        tip = 60 + 35
        for sign in (1, -1):
            x = sorted((sign * (tip - lost), sign * (tip + 1)))
            shape = shape.difference(box(x[0], -1.0, x[1], 1.0))
    return family, shape


@pytest.mark.parametrize("face", ["top", "bottom"])
def test_slender_hat_against_strips_cut_out_by_hand(face):
    """The effective section against shapely with the ineffective strip cut out of the polygon; webs stay whole."""
    from section_solids import moments

    family, shape = by_hand_hat(face)
    area, _, z, i_y, _, _ = moments(shape)
    e = effective_en(family, f_yb=355.0, compression=face)
    web = next(w for w in e.workings if w.panel == "left web").values
    assert web["rho"][0] == 1.0
    assert e.area[0] == pytest.approx(area, rel=1e-4)
    assert e.z_centroid[0] == pytest.approx(z, rel=1e-4)
    assert e.I_y[0] == pytest.approx(i_y, rel=1e-4)
    assert e.W_top[0] == pytest.approx(i_y / (40 - z), rel=1e-4)
    assert e.W_bottom[0] == pytest.approx(i_y / z, rel=1e-4)


def test_slender_web_against_the_strip_cut_out_by_hand():
    """A deep hat: the buckled strip of each web, EN 1993-1-5 Table 4.1 with psi < 0, cut from the polygon."""
    from section_solids import moments, solid
    from shapely.geometry import box

    f = {"top": 20.0, "depth": 150.0, "flange": 20.0, "t": 0.8, "r": 1.6}
    shape = solid("hat", f)
    _, _, z_g, *_ = moments(shape)
    m, t, eps = 2.0, 0.8, np.sqrt(235 / 355)
    ext = m * np.sin(np.pi / 4)
    top, bottom = 150 - 2.4 + ext, 2.4 - ext
    b = top - bottom
    psi = -(z_g - bottom) / (top - z_g)
    k = 7.81 - 6.29 * psi + 9.78 * psi**2 if psi > -1 else 5.98 * (1 - psi) ** 2
    lamda = b / t / (28.4 * eps * np.sqrt(k))
    rho = (lamda - 0.055 * (3 + psi)) / lamda**2
    b_c = b / (1 - psi)
    assert rho < 1
    hole = (top - 0.4 * rho * b_c - (1 - rho) * b_c, top - 0.4 * rho * b_c)
    for x in (-10.0, 9.2):
        shape = shape.difference(box(x - 0.001, hole[0], x + 0.801, hole[1]))
    area, _, z, i_y, _, _ = moments(shape)
    e = effective_en(Hat(**f), f_yb=355.0)
    assert e.area[0] == pytest.approx(area, rel=1e-4)
    assert e.I_y[0] == pytest.approx(i_y, rel=1e-4)
    assert e.z_centroid[0] == pytest.approx(z, rel=1e-4)


def test_outstand_leg_under_gradient_against_the_strip_cut_out_by_hand():
    """A deep angle, tip of the leg in compression: EN Table 4.2, free edge most compressed."""
    from section_solids import moments, solid
    from shapely.geometry import box

    f = {"leg": 60.0, "foot": 25.0, "t": 1.0, "r": 1.0}
    shape = solid("angle", f)
    _, _, z_g, *_ = moments(shape)
    ext = 1.5 * np.sin(np.pi / 4)
    low = 2.0 - ext
    b = 60 - low
    psi = -(z_g - low) / (60 - z_g)
    k = 0.57 - 0.21 * psi + 0.07 * psi**2
    lamda = b / 1.0 / (28.4 * np.sqrt(235 / 355) * np.sqrt(k))
    rho = (lamda - 0.188) / lamda**2
    lost = (1 - rho) * b / (1 - psi)
    shape = shape.difference(box(-1, 60 - lost, 2, 61))
    area, _, z, i_y, _, _ = moments(shape)
    from jointcalc.section.families.angle import Angle

    e = effective_en(Angle(**f), f_yb=355.0)
    assert e.area[0] == pytest.approx(area, rel=1e-4)
    assert e.z_centroid[0] == pytest.approx(z, rel=1e-4)
    assert e.I_y[0] == pytest.approx(i_y, rel=1e-4)


def test_aisi_slender_hat_against_strips_cut_out_by_hand():
    """AISI: at the converged axis, the crown's width computed by hand from the stress there, cut from the polygon."""
    from section_solids import moments, solid
    from shapely.geometry import box

    f = {"top": 120.0, "depth": 40.0, "flange": 35.0, "t": 0.8, "r": 1.6}
    e = effective_aisi(Hat(**f), F_y=355.0)
    stress = 355.0 * (40 - e.z_centroid[0]) / max(40 - e.z_centroid[0], e.z_centroid[0])
    w = 120 - 4.8
    lamda = 1.052 / 2 * (w / 0.8) * np.sqrt(stress / 203000.0)
    lost = (1 - (1 - 0.22 / lamda) / lamda) * w
    shape = solid("hat", f).difference(box(-lost / 2, 39.0, lost / 2, 41.0))
    area, _, z, i_y, _, _ = moments(shape)
    assert e.area[0] == pytest.approx(area, rel=2e-4)
    assert e.z_centroid[0] == pytest.approx(z, rel=2e-4)
    assert e.I_y[0] == pytest.approx(i_y, rel=2e-4)


def test_aisi_lipped_flange_by_hand():
    """A lipped flange in uniform compression, worked by hand through AISI S100 1.3 (from memory)."""
    t, f = 1.0, 345.0
    family = LippedChannel(web=100.0, flange=60.0, lip=15.0, t=t, r=2.0)
    e = effective_aisi(family, F_y=f, compression="all")
    w, d, overall = 60 - 6.0, 15 - 3.0, 15.0
    s = 1.28 * np.sqrt(203000 / f)
    i_a = min(399 * (w / s - 0.328) ** 3, 115 * w / s + 5)
    r_i = min(d**3 / 12 / i_a, 1.0)
    n = max(0.582 - w / (4 * s), 1 / 3)
    k = min((4.82 - 5 * overall / w) * r_i**n + 0.43, 4.0)

    def width(k, w):
        lamda = 1.052 / np.sqrt(k) * w * np.sqrt(f / 203000)
        return w if lamda <= 0.673 else (1 - 0.22 / lamda) / lamda * w

    assert overall / w > 0.25
    flange_lost = w - width(k, w)
    lip_lost = d - width(0.43, d) * r_i
    web = 100 - 6.0
    web_lost = web - width(4.0, web)
    assert e.lost[0] == pytest.approx(2 * flange_lost + 2 * lip_lost + web_lost, rel=2e-3)


def test_beaded_crown_carries_more_than_a_plain_one():
    """A bead stiffens a slender crown: more effective area per sheet than the plain hat of the same sizes."""
    plain = Hat(top=100.0, depth=40.0, flange=20.0, t=0.8, r=1.6)
    beaded = BeadedHat(top=100.0, depth=40.0, flange=20.0, t=0.8, r=1.6, bead=20.0, bead_depth=6.0)
    a = effective_en(plain, f_yb=355.0)
    b = effective_en(beaded, f_yb=355.0)
    assert b.lost[0] < a.lost[0]
    assert b.W_eff[0] > a.W_eff[0]
    names = [p.name for p in panels(beaded, beaded.properties())]
    assert "crown left of the bead (with bead)" in names
    # a bead without depth to speak of is no stiffener: chi_d goes down and more is lost
    shallow = BeadedHat(top=100.0, depth=40.0, flange=20.0, t=0.8, r=1.6, bead=20.0, bead_depth=0.6)
    assert effective_en(shallow, f_yb=355.0).lost[0] > b.lost[0]


def test_hat_on_skin_counts_skin_between_and_beyond_the_welds():
    """Skin in compression (bottom): 4.0 between the weld lines, 0.43 beyond, both by hand."""
    family = parse_profile("hat-skin:top=60mm,depth=40mm,flange=25mm,t=1.5mm,r=2mm,skin=190mm,skin_t=0.8mm,weld=10mm")
    e = effective_en(family, f_yb=235.0, compression="bottom")
    inner, outer = 2 * (30 + 25 - 10.0), 190 / 2 - 45.0
    a = inner / 0.8 / (28.4 * 2)
    b = outer / 0.8 / (28.4 * np.sqrt(0.43))
    lost = 0.8 * ((1 - (a - 0.22) / a**2) * inner + 2 * (1 - (b - 0.188) / b**2) * outer)
    assert e.lost[0] == pytest.approx(lost, rel=1e-9)
    assert any("skin edge" in reason for reason in e.outside())


def test_steps_print_the_published_formulas():
    """The workings end in the moment and use the branch that the stress ratio asks for."""
    e = effective_en(sx022a(), f_yb=350.0, sharp=True)
    steps = e.steps()
    keys = [s.formula.key for s in steps]
    assert "formula.effective_en.spring_stiffness" in keys
    assert "formula.effective_en.k_internal_bending" in keys
    assert keys[-1] == "formula.effective_en.moment_resistance"
    chi = next(s for s in steps if s.formula.key == "formula.effective_en.chi_d_medium")
    assert chi.value == pytest.approx(0.737, abs=5e-4)
    assert all(line.substituted for s in steps for line in s.lines())
    hat = effective_aisi(hat_example(), F_y=50 * KSI)
    assert [s.formula.key for s in hat.steps()][-1] == "formula.effective_aisi.nominal_moment"
    for face in ("top", "bottom", "all"):
        for text in (
            "zed:web=80mm,flange=40mm,t=1mm",
            "beaded-hat:top=60mm,depth=30mm,flange=20mm,t=0.7mm,bead=15mm,bead_depth=4mm",
        ):
            for made in (
                effective_en(parse_profile(text), f_yb=355.0, compression=face),
                effective_aisi(parse_profile(text), F_y=355.0, compression=face),
            ):
                assert all(np.isfinite(s.value) for s in made.steps())  # fmt: skip


def test_the_printed_buckling_factor_is_the_one_that_was_used():
    """EN 1993-1-5 Tables 4.1 and 4.2: the k_sigma worked out in one line stands in the slenderness of the next."""
    met = set()
    for text in (
        "angle:leg=60mm,foot=30mm,t=1mm,r=2mm", "channel:web=60mm,flange=30mm,t=0.8mm,r=1mm",
        "beaded-hat:top=60mm,depth=30mm,flange=20mm,t=0.7mm,bead=15mm,bead_depth=4mm",
    ):  # fmt: skip
        for face in ("top", "bottom"):
            steps = effective_en(parse_profile(text), f_yb=355.0, compression=face).steps()
            for one, two in itertools.pairwise(steps):
                if ".k_" in one.formula.key and two.formula.key.endswith("effective_en.slenderness"):
                    assert one.value == pytest.approx(two.inputs["k_sigma"], rel=1e-9), (text, face, one.formula.key)
                    met.add(one.formula.key.rpartition(".")[2])
    assert {"k_outstand_held_bending", "k_outstand_free", "k_internal_bending"} <= met


def test_limits_are_told():
    """Beyond the width limits of the rules the section says so; a slender tube too."""
    wide = parse_profile("hat:top=40mm,depth=30mm,flange=70mm,t=1mm,r=1mm")
    assert any("outstand" in r for r in effective_en(wide, f_yb=235.0, compression="bottom").outside())
    assert any("60" in r for r in effective_aisi(wide, F_y=235.0).outside())
    # 0.04 x 210 000/700 = 12: EN 1993-1-3 5.1(6), from memory
    soft = Hat(top=60.0, depth=60.0, flange=30.0, t=1.0, r=11.9)
    assert not any("radius" in r for r in effective_en(soft, f_yb=700.0).outside())
    assert any(
        "radius" in r for r in effective_en(Hat(top=60.0, depth=60.0, flange=30.0, t=1.0, r=12.1), f_yb=700.0).outside()
    )
    tube = Tube(od=200.0, t=1.0)
    assert any("90" in r for r in effective_en(tube, f_yb=235.0).outside())
    assert effective_en(Tube(od=38.0, t=2.0), f_yb=235.0).outside() == []
    assert effective_aisi(Tube(od=600.0, t=1.0), F_y=355.0).outside()


def test_wrong_input_is_refused():
    family = parse_profile(HATS)
    with pytest.raises(InputError, match="above 0"):
        effective_en(family, f_yb=0.0)
    with pytest.raises(InputError, match="above 0"):
        effective_aisi(family, F_y=float("nan"))
    with pytest.raises(InputError, match="top, bottom or all"):
        effective_en(family, f_yb=235.0, compression="left")


def test_width_limits_at_their_edges():
    """EN 1993-1-3 Table 5.1 (lipped flange 60, outstand 50, both edges held 500) and AISI B4.1 (60, 200), from memory;
    tube d/t 90 (235/f_y), EN 1993-1-1 Table 5.2, read."""

    def hat(**change):
        return Hat(**{"top": 50.0, "depth": 40.0, "flange": 20.0, "t": 1.0, "r": 1.0, **change})

    def outside(family, **kind):
        return " ".join(effective_en(family, f_yb=355.0, **kind).outside())

    assert "outstand" not in outside(hat(flange=50.9))
    assert "above 50" in outside(hat(flange=51.1))
    assert "both edges" not in outside(hat(top=503.9))
    assert "above 500" in outside(hat(top=504.1))
    lipped = {"web": 100.0, "lip": 16.0, "t": 1.0, "r": 1.0}
    assert "above 60" not in outside(LippedChannel(**lipped, flange=63.9))
    assert "above 60" in outside(LippedChannel(**lipped, flange=64.1))
    assert "0.2 to 0.6" in outside(LippedChannel(**{**lipped, "lip": 6.0}, flange=60.0))
    assert "above 60" not in " ".join(effective_aisi(hat(flange=60.9), F_y=355.0).outside())
    assert "above 60" in " ".join(effective_aisi(hat(flange=61.1), F_y=355.0).outside())
    assert "above 200" not in " ".join(effective_aisi(hat(depth=203.9), F_y=355.0).outside())
    assert "above 200" in " ".join(effective_aisi(hat(depth=204.1), F_y=355.0).outside())
    assert effective_en(Tube(od=89.9, t=1.0), f_yb=235.0).outside() == []
    assert effective_en(Tube(od=90.1, t=1.0), f_yb=235.0).outside()
    assert effective_en(Tube(od=60.0, t=1.0), f_yb=355.0).outside()  # 90 x 235/355 = 59.6
    assert effective_en(Tube(od=59.0, t=1.0), f_yb=355.0).outside() == []


def test_leg_compressed_at_its_support_against_the_strip_cut_out_by_hand():
    """A deep slender angle, foot in compression: EN Table 4.2, most compressed at the support, psi < 0.

    The strip is lost next to the neutral axis: the effective part hangs on the foot, the tension part stays.
    """
    from section_solids import moments, solid
    from shapely.geometry import box

    from jointcalc.section.families.angle import Angle

    f = {"leg": 200.0, "foot": 12.0, "t": 0.6, "r": 0.6}
    shape = solid("angle", f)
    eps = np.sqrt(235 / 355)
    ext = 0.9 * np.sin(np.pi / 4)
    b_f = 12 - 1.2 + ext
    lamda_f = b_f / 0.6 / (28.4 * eps * np.sqrt(0.43))
    lost_f = max(0.0, 1 - (lamda_f - 0.188) / lamda_f**2) * b_f
    shape = shape.difference(box(12 - lost_f, -1, 13, 1))
    _, _, z, *_ = moments(shape)
    low = 1.2 - ext
    psi = max(-(200 - z) / (z - low), -3.0)
    held = max(psi, -1.0)
    k = 1.7 - 5 * held + 17.1 * held**2
    b = 200 - low
    lamda = b / 0.6 / (28.4 * eps * np.sqrt(k))
    rho = (lamda - 0.188) / lamda**2
    assert rho < 1
    b_c = z - low
    shape = shape.difference(box(-1, low + rho * b_c, 2, low + b_c))
    area, _, z, i_y, _, _ = moments(shape)
    e = effective_en(Angle(**f), f_yb=355.0, compression="bottom")
    assert e.area[0] == pytest.approx(area, rel=1e-4)
    assert e.z_centroid[0] == pytest.approx(z, rel=1e-4)
    assert e.I_y[0] == pytest.approx(i_y, rel=1e-4)


def test_short_lip_has_the_least_buckling_factor():
    """EN 1993-1-3 5.5.3.2(5), from memory: 0.5 for lips up to 0.35 of the flange; SX022a's lip (0.275) is one."""
    lip = next(w for w in effective_en(sx022a(), f_yb=350.0, sharp=True).workings if w.panel == "top flange").values
    assert lip["k_lip"][0] == 0.5
    weak = LippedChannel(web=100.0, flange=60.0, lip=18.0, t=0.5, r=0.5)
    values = next(w for w in effective_en(weak, f_yb=355.0).workings if w.panel == "top flange").values
    slender = values["c_p"][0] / 0.5 / (28.4 * np.sqrt(235 / 355) * np.sqrt(0.5))
    assert values["c_eff_first"][0] == pytest.approx((slender - 0.188) / slender**2 * values["c_p"][0])
