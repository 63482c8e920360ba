"""Closed forms of beams against the exact solver, and both against sources named in the solver's tests."""

from math import pi, sqrt

import numpy as np
import pytest

from jointcalc.formula import beam as b
from jointcalc.statics.beam import solve
from jointcalc.statics.beam_frequency import frequency_1
from jointcalc.statics.beam_model import Couple, supports_of

L, EI, P, w = 1200.0, 3e9, 640.0, 1.3


def solved(ends, *loads):
    return solve(L, EI, supports_of(ends, L), loads)


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


def test_frequency_form():
    f = b.NATURAL_FREQUENCY(beta=4.730040744862704, L=L, EI=EI, m=2e-6)
    assert f == pytest.approx(float(frequency_1(L, EI, supports_of("fixed", L), 2e-6)), rel=1e-8)
    # Blevins: fixed-fixed omega = 22.373 sqrt(EI/(m L⁴))
    assert 2 * pi * f == pytest.approx(22.373 * sqrt(EI / (2e-6 * L**4)), rel=2e-5)


def test_limits_refuse():
    assert b.FIXED_END_POINT_MOMENT_LEFT.outside(P=1.0, a=-1.0, b=1001.0, L=1000.0)


def test_every_beam_formula_prints():
    for formula in vars(b).values():
        if isinstance(formula, b.Formula):
            inputs = {name: 2.0 + i for i, name in enumerate(formula.parameters)}
            lines = formula.evaluate(**inputs).lines()
            assert lines[-1].value == pytest.approx(float(formula(**inputs)))
