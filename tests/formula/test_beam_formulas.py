"""Closed forms of beams against the exact solver, and both against sources named in the solver's tests."""

from math import pi, sqrt

import numpy as np
import pytest

from jointcalc.formula import beam as b
from jointcalc.statics.beam import Couple, PointLoad, SpreadLoad, frequency_1, solve, supports_of

L, EI, P, w = 1200.0, 3e9, 640.0, 1.3


def solved(ends, *loads):
    return solve(L, EI, supports_of(ends, L), loads)


def test_pinned_forms():
    uniform = solved("pinned", SpreadLoad(w, w, 0.0, L))
    assert b.PINNED_UNIFORM_MOMENT(w=w, L=L) == pytest.approx(uniform.moment_max().value)
    assert b.PINNED_UNIFORM_DEFLECTION(w=w, L=L, EI=EI) == pytest.approx(uniform.deflection_max().value)
    point = solved("pinned", PointLoad(P, 900.0))
    assert b.PINNED_POINT_MOMENT(P=P, a=900.0, b=300.0, L=L) == pytest.approx(point.moment_max().value)
    assert b.PINNED_POINT_DEFLECTION(P=P, a=900.0, b=300.0, L=L, EI=EI) == pytest.approx(point.deflection(900.0))
    assert b.PINNED_POINT_DEFLECTION_MAX(P=P, b=300.0, L=L, EI=EI) == pytest.approx(point.deflection_max().value)


def test_fixed_forms():
    uniform = solved("fixed", SpreadLoad(w, w, 0.0, L))
    assert b.FIXED_UNIFORM_MOMENT_END(w=w, L=L) == pytest.approx(-uniform.end_moments()[0])
    assert b.FIXED_UNIFORM_MOMENT_MIDDLE(w=w, L=L) == pytest.approx(uniform.moment(L / 2))
    assert b.FIXED_UNIFORM_DEFLECTION(w=w, L=L, EI=EI) == pytest.approx(uniform.deflection_max().value)
    point = solved("fixed", PointLoad(P, 900.0))
    assert b.FIXED_POINT_DEFLECTION_MIDDLE(P=P, b=300.0, L=L, EI=EI) == pytest.approx(point.deflection(L / 2))


@pytest.mark.parametrize("a", [100.0, 480.0, 900.0])
def test_fixed_end_actions_by_virtual_work(a):
    """Influence lines of the fixed beam's end actions are its deflection under unit end displacements.

    The cubics are written here from their boundary conditions (Mueller-Breslau), not from a table.
    """
    x, c = a / L, L - a
    lift_left = np.polyval([2.0, -3.0, 0.0, 1.0], x)  # N(0)=1, N'(0)=0, N(1)=0, N'(1)=0
    turn_left = L * np.polyval([1.0, -2.0, 1.0, 0.0], x)
    turn_right = L * np.polyval([1.0, -1.0, 0.0, 0.0], x)
    at = {"P": P, "a": a, "b": c, "L": L}
    assert b.FIXED_END_POINT_REACTION_LEFT(**at) == pytest.approx(P * lift_left)
    assert b.FIXED_END_POINT_REACTION_RIGHT(**at) == pytest.approx(P * (1 - lift_left))
    assert b.FIXED_END_POINT_MOMENT_LEFT(**at) == pytest.approx(P * turn_left)
    assert b.FIXED_END_POINT_MOMENT_RIGHT(**at) == pytest.approx(-P * turn_right)
    couple = {"M_0": 5e4, "a": a, "b": c, "L": L}
    assert b.FIXED_END_COUPLE_MOMENT_LEFT(**couple) == pytest.approx(5e4 * np.polyval([3.0, -4.0, 1.0], x), abs=1e-9)
    assert b.FIXED_END_COUPLE_MOMENT_RIGHT(**couple) == pytest.approx(-5e4 * np.polyval([3.0, -2.0, 0.0], x), abs=1e-9)
    assert b.FIXED_END_COUPLE_REACTION(**couple) == pytest.approx(-5e4 / L * np.polyval([6.0, -6.0, 0.0], x))


def test_couple_in_the_middle_of_a_fixed_beam():
    # handbook: a central couple leaves M/4 at either end
    beam = solved("fixed", Couple(8e4, L / 2))
    assert [abs(m) for m in beam.end_moments()] == pytest.approx([2e4, 2e4])


@pytest.mark.parametrize("k_1, k_2", [(3e6, 9e5), (1e3, 5e9)])
def test_sprung_ends(k_1, k_2):
    a, c = 350.0, L - 350.0
    F_A = b.FIXED_END_POINT_MOMENT_LEFT(P=P, a=a, b=c, L=L)
    F_B = b.FIXED_END_POINT_MOMENT_RIGHT(P=P, a=a, b=c, L=L)
    given = {"M_FA": F_A, "M_FB": F_B, "EI": EI, "L": L, "k_1": k_1, "k_2": k_2}
    M_A, M_B = b.SPRUNG_END_MOMENT_LEFT(**given), b.SPRUNG_END_MOMENT_RIGHT(**given)
    beam = solved((k_1, k_2), PointLoad(P, a))
    assert beam.end_moments() == pytest.approx((-M_A, -M_B), rel=1e-9)
    under = b.SPRUNG_POINT_DEFLECTION(P=P, a=a, b=c, L=L, EI=EI, M_A=M_A, M_B=M_B)
    assert under == pytest.approx(beam.deflection(a), rel=1e-9)


def test_moment_ratio_and_fixity_factor_differ():
    # 1/(1 + 2 EI/kL) against 1/(1 + 3 EI/kL): both are called fixity, they are not the same number
    k = 4 * EI / L
    assert b.MOMENT_RATIO_SYMMETRIC(EI=EI, L=L, k_1=k) == pytest.approx(2 / 3)
    assert b.END_FIXITY_FACTOR(EI=EI, L=L, k_1=k) == pytest.approx(4 / 7)
    # the factor is the end rotation under an end moment, far end pinned: th_free/(th_free + th_spring)
    assert (L / (3 * EI)) / (L / (3 * EI) + 1 / k) == pytest.approx(b.END_FIXITY_FACTOR(EI=EI, L=L, k_1=k))


def test_cantilever_forms():
    assert b.CANTILEVER_POINT_DEFLECTION(P=P, L=L, EI=EI) == pytest.approx(
        solved("cantilever", PointLoad(P, L)).deflection(L)
    )
    assert b.CANTILEVER_UNIFORM_DEFLECTION(w=w, L=L, EI=EI) == pytest.approx(
        solved("cantilever", SpreadLoad(w, w, 0.0, L)).deflection(L)
    )


def test_frequency_form():
    f = b.NATURAL_FREQUENCY(beta=4.730040744862704, L=L, EI=EI, m=2e-6)
    assert f == pytest.approx(float(frequency_1(L, EI, supports_of("fixed", L), 2e-6)), rel=1e-8)
    # Blevins: fixed-fixed omega = 22.373 sqrt(EI/(m L⁴))
    assert 2 * pi * f == pytest.approx(22.373 * sqrt(EI / (2e-6 * L**4)), rel=2e-5)


def test_amplifier_against_the_exact_beam_column():
    # exact: eccentrically loaded pinned strut, y_mid = e (sec(u) - 1), u = pi/2 sqrt(N/N_cr); the amplifier on the
    # first-order N e L²/(8 EI) is within 3 % at half the critical load (Timoshenko and Gere)
    ratio = 0.5
    u = pi / 2 * sqrt(ratio)
    exact = (1 / np.cos(u) - 1) / (ratio * pi**2 / 8)
    assert b.AMPLIFIER(N_axial=ratio, N_cr=1.0) == pytest.approx(exact, rel=0.04)
    assert b.AMPLIFIER.outside(N_axial=1.0, N_cr=1.0)


def test_eccentric_tube_example():
    # computed example of the reference: N 5 kN, N_cr 33.859 kN: amplifier 1.1733
    assert b.AMPLIFIER(N_axial=5000.0, N_cr=33859.0) == pytest.approx(1.1733, abs=5e-5)


def test_small_ones():
    assert b.BENDING_STRESS(M=5e5, W=2500.0) == 200.0
    assert b.PERMITTED_DEFLECTION(L=1000.0, n_span=250.0) == 4.0
    assert b.DEFLECTION_PRACTICE["IBC Table 1604.3, floor members, live load"] == 360.0


def test_limits_refuse():
    assert b.PINNED_POINT_DEFLECTION_MAX.outside(P=1.0, b=700.0, L=1000.0, EI=EI)
    assert b.SPRUNG_END_MOMENT_LEFT.outside(M_FA=1.0, M_FB=1.0, EI=EI, L=L, k_1=0.0, k_2=1.0)
    assert b.PINNED_POINT_MOMENT.outside(P=1.0, a=-1.0, b=1001.0, L=1000.0)


def test_every_beam_formula_prints():
    for formula in vars(b).values():
        if isinstance(formula, b.Formula):
            inputs = {name: 2.0 + i for i, name in enumerate(formula.parameters)}
            lines = formula.evaluate(**inputs).lines()
            assert lines[-1].value == pytest.approx(float(formula(**inputs)))
