"""Bolts of AISC 360 against published examples."""

import pytest

from jointcalc.formula import bolts_aisc as aisc
from jointcalc.tables.store import load

IN, KIP, KSI = 25.4, 4448.2216, 6.894757
A_34 = aisc.NOMINAL_AREA(d=0.75 * IN)


def test_aisc_design_example_j3():
    """AISC Design Example J.3 (from memory): 3/4 in A325-N, D/L tension 3.5/12 kip, shear 1.33/4 kip (V10)."""
    row = load("bolt_nominal_aisc").find(group="A325-N", edition="2010 and later")
    F_nt, F_nv = row.need("F_nt"), row.need("F_nv")
    assert (F_nt / KSI, F_nv / KSI) == pytest.approx((90.0, 54.0))
    f_rv = (1.33 + 4.0) * KIP / A_34
    assert f_rv / KSI == pytest.approx(12.1, abs=0.05)
    left = aisc.TENSION_BESIDE_SHEAR_ASD(F_nt=F_nt, F_nv=F_nv, f_rv=f_rv, Omega=2.00)
    assert left / KSI == pytest.approx(76.75, abs=0.1)
    assert aisc.BOLT_TENSION(F_nt=left, A_b=A_34) / KIP / 2.00 == pytest.approx(17.0, abs=0.05)
    # no shear: the whole of F_nt, never more
    assert aisc.TENSION_BESIDE_SHEAR_ASD(F_nt=F_nt, F_nv=F_nv, f_rv=0.0, Omega=2.00) == F_nt


def test_a_beginners_guide_example_4_1():
    """A Beginner's Guide to the Steel Construction Manual, Ex. 4.1: 11 bolts 3/4 in A325-X, edition 2005 (V23)."""
    F_nv = load("bolt_nominal_aisc").find(group="A325-X", edition="2005").need("F_nv")
    r_n = aisc.BOLT_SHEAR(F_nv=F_nv, A_b=A_34) / KIP
    assert r_n == pytest.approx(26.5, abs=0.05)
    assert 11 * r_n == pytest.approx(292.0, abs=0.5)
    assert aisc.SAFETY.phi * 11 * r_n == pytest.approx(219.0, abs=0.5)
    assert 11 * r_n / aisc.SAFETY.Omega == pytest.approx(146.0, abs=0.5)
    slip = aisc.SLIP_RESISTANCE(mu=0.35, D_u=1.13, h_f=1.0, T_b=28 * KIP, n_s=1) / KIP
    assert slip == pytest.approx(11.1, abs=0.05)
    assert 11 * slip == pytest.approx(122.0, abs=0.5)


def test_bearing_and_tear_out_by_hand():
    # AISC 360 J3.10 (from memory): 2.4 d t F_u and 1.2 l_c t F_u
    assert aisc.BEARING_STRENGTH(d=20.0, t=6.0, F_u=400.0) == pytest.approx(115200.0)
    assert aisc.TEAR_OUT(l_c=25.0, t=6.0, F_u=400.0) == pytest.approx(72000.0)
    # the two meet at l_c = 2 d
    assert aisc.TEAR_OUT(l_c=40.0, t=6.0, F_u=400.0) == aisc.BEARING_STRENGTH(d=20.0, t=6.0, F_u=400.0)
    assert aisc.BEARING_STRENGTH.outside(d=8.0, t=3.0, F_u=400.0)


def test_threaded_parts_agree_with_the_named_bolts():
    # AISC 360-16 Table J3.2: A325 is 120 ksi, so 0.75, 0.450 and 0.563 of it give the printed 90, 54 and 68 ksi
    assert aisc.TENSION_STRESS_THREADED(F_ub=120.0) == pytest.approx(90.0, abs=0.5)
    assert aisc.SHEAR_STRESS_THREADS_IN(F_ub=120.0) == pytest.approx(54.0, abs=0.5)
    assert aisc.SHEAR_STRESS_THREADS_OUT(F_ub=120.0) == pytest.approx(68.0, abs=0.5)
    # under 1/2 in the stresses are those of AISI S100 Table J3.4-1: M12 is refused, 1/2 in is not
    for formula in (aisc.TENSION_STRESS_THREADED, aisc.SHEAR_STRESS_THREADS_IN, aisc.SHEAR_STRESS_THREADS_OUT):
        assert formula.outside(F_ub=800.0, d=12.0)
        assert not formula.outside(F_ub=800.0, d=0.5 * IN)
