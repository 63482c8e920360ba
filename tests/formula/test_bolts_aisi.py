"""Bolts and screws of AISI S100: the values read, both unit systems of the clause, and where its branches meet."""

import numpy as np
import pytest

from jointcalc.formula import bolts_aisc
from jointcalc.formula import bolts_aisi as aisi

IN, KIP, KSI = 25.4, 4448.2216, 6.894757


def test_bearing_factor_of_the_table():
    # AISI S100 Table J3.3.1-1: 3.0 (read) below d/t 10, 4 - 0.1 d/t, 1.8 above 22
    d_over_t = np.array([5.0, 10.0, 16.0, 22.0, 30.0])
    assert aisi.BEARING_FACTOR_STANDARD(d=d_over_t, t=1.0) == pytest.approx([3.0, 3.0, 2.4, 1.8, 1.8])
    # oversized: 3.0 below 7, 1 + 14/(d/t), 1.8 above 18
    d_over_t = np.array([5.0, 6.8, 7.0, 7.2, 10.0, 14.0, 17.9, 18.1, 20.0])
    exact = [3.0, 3.0, 3.0, 1 + 14 / 7.2, 2.4, 2.0, 1 + 14 / 17.9, 1.8, 1.8]
    assert aisi.BEARING_FACTOR_OVERSIZED(d=d_over_t, t=1.0) == pytest.approx(exact)


def test_bolts_under_half_an_inch():
    """AISI S100-16 Table J3.4-1 as transcribed, 1/4 to under 1/2 in: A449 (120 ksi) 81 and 48 ksi, A354 BD (150) 101 and
    61, A307 (60) 40 and 24."""
    for F_ub, tension, shear in ((120.0, 81.0, 48.0), (150.0, 101.0, 61.0), (60.0, 40.5, 24.0)):
        assert aisi.TENSION_STRESS_SMALL(F_ub=F_ub) == pytest.approx(tension, abs=0.5)
        assert aisi.SHEAR_STRESS_SMALL(F_ub=F_ub) == pytest.approx(shear, abs=1.0)
    assert aisi.TENSION_STRESS_SMALL.outside(F_ub=120.0, d=0.5 * IN)
    assert not aisi.SHEAR_STRESS_SMALL.outside(F_ub=120.0, d=12.0)


def test_a_small_bolt_is_no_stronger_than_its_least_breaking_load():
    # ISO 898-1 table of minimum ultimate loads, class 8.8: M3 4020, M4 7020, M5 11350, M6 16100, M8 29200, M10 46400 N
    loads = ((3.0, 4020.0), (4.0, 7020.0), (5.0, 11350.0), (6.0, 16100.0), (8.0, 29200.0), (10.0, 46400.0))
    for d, least in loads:
        nominal = aisi.TENSION_STRESS_SMALL(F_ub=800.0) * bolts_aisc.NOMINAL_AREA(d=d)
        assert 0.90 * least < nominal < least


def test_bearing_by_hand_in_inches():
    # C m_f d t F_u, 1/2 in bolt, 0.060 in sheet, 45 ksi, no washers (read: 0.75 x 3.0): 3.0375 kip
    P = aisi.BEARING_STRENGTH(C=3.0, m_f=aisi.M_F_NONE_OR_ONE, d=0.5 * IN, t=0.06 * IN, F_u=45 * KSI)
    assert pytest.approx(3.0375, abs=2e-4) == P / KIP
    assert (aisi.M_F_WASHERS_BOTH_SIDES, aisi.M_F_INNER_SHEET) == (1.00, 1.33)


def test_hole_deformation_in_both_unit_systems():
    # (4.64 alpha t + 1.53) d t F_u: alpha 1 in inches, 0.0394 in mm; 0.060 in: 1.8084 x 0.5 x 0.06 x 45 = 2.4413 kip
    P = aisi.BEARING_DEFORMATION(t=0.06 * IN, d=0.5 * IN, F_u=45 * KSI)
    assert pytest.approx((4.64 * 0.06 + 1.53) * 0.5 * 0.06 * 45, rel=3e-4) == P / KIP


def test_tear_out_by_hand():
    # two planes: 0.6 x 300 x 2 x 2 bolts x 1.2 x 10
    assert aisi.TEAR_OUT(F_u=300.0, n=2.0, t=1.2, e_net=10.0) == pytest.approx(8640.0)


def test_pull_over():
    # reference 3.4: washer 16 mm, t 1.5, F_u 360: 12.96 kN
    assert aisi.PULL_OVER_STRENGTH(t_1=1.5, d_w=16.0, F_u1=360.0) / 1e3 == pytest.approx(12.96, abs=0.005)
    inside = {"t_1": 1.5, "d_w": 16.0, "F_u1": 360.0, "d": 8.0, "e": 12.0, "s": 24.0}
    assert not aisi.PULL_OVER_STRENGTH.outside(**inside)
    for left in ({"d_w": 20.0}, {"e": 11.9}, {"s": 23.9}):
        assert len(aisi.PULL_OVER_STRENGTH.outside(**{**inside, **left})) == 1
    # a loose washer spreads at 45 degrees from the head, not beyond its own size
    assert aisi.EFFECTIVE_WASHER(d_h=11.0, t_w=1.6, t_1=1.2, d_w=24.0) == pytest.approx(15.4)
    assert aisi.EFFECTIVE_WASHER(d_h=13.0, t_w=1.6, t_1=1.2, d_w=16.0) == 16.0


def test_factors_read():
    # AISI 2001 E3.3 as quoted: phi 0.60 for bearing, 0.65 with deformation limited
    assert (aisi.SAFETY_BEARING.phi, aisi.SAFETY_DEFORMATION.phi) == (0.60, 0.65)
    assert (aisi.SAFETY_BEARING.Omega, aisi.SAFETY_DEFORMATION.Omega, aisi.SAFETY_SCREW.Omega) == (2.50, 2.22, 3.00)


def test_range():
    assert aisi.BEARING_STRENGTH.outside(C=3.0, m_f=1.0, d=8.0, t=4.8, F_u=300.0)
    assert aisi.TEAR_OUT.outside(F_u=300.0, n=1.0, t=1.2, e_net=0.0)
