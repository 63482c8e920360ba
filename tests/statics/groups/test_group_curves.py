"""The load-deformation curves against their published check values, and the slopes the solver uses."""

import math

import numpy as np
import pytest

from jointcalc.formula import group_curves as curves
from jointcalc.statics.fastener_group import FastenerGroup
from jointcalc.statics.group_common import Load
from jointcalc.statics.weld_group import WeldGroup

_LOAD = Load(F_y=-1.0, M_z=100.0)


# Lesik and Kennedy 1990 as in AISC 360-16 J2.4: check values of the curve at the two ends of its range
# (recomputed from the expressions with an independent script; constants from memory).
@pytest.mark.parametrize("theta, maximum, fracture", [(0.0, 0.1674, 0.17), (90.0, 0.0492, 0.0559)])
def test_deformations_of_lesik_and_kennedy(theta, maximum, fracture):
    assert curves.DEFORMATION_AT_MAXIMUM(theta=theta, w=1.0) == pytest.approx(maximum, abs=6e-5)
    assert curves.DEFORMATION_AT_FRACTURE(theta=theta, w=1.0) == pytest.approx(fracture, abs=6e-5)


# AISC Engineering FAQ 8.3: at most 50 % more across than along; AISC Design Example J.2: 1.40 at 60 degrees.
def test_direction_factor_as_published():
    assert curves.DIRECTION_FACTOR(theta=0.0) == 1.0
    assert curves.DIRECTION_FACTOR(theta=90.0) == pytest.approx(1.5)
    assert curves.DIRECTION_FACTOR(theta=60.0) == pytest.approx(1.40, abs=0.005)


def test_stress_is_highest_at_the_deformation_the_curve_is_named_for():
    """f is 1 at p = 1 by construction of the published curve, and 1.9/1.8 is its top."""
    assert curves.DEFORMATION_FACTOR(p=1.0) == pytest.approx(1.0)
    p = np.linspace(0.0, 2.0, 20001)
    assert p[np.argmax(curves.DEFORMATION_FACTOR(p=p))] == pytest.approx(1.9 / 1.8, abs=2e-4)


# AISC Manual part 7 (from memory): a 3/4 in A325 bolt of 74 kips carries 72.6 kips at 0.34 in.
def test_bolt_of_the_manual():
    assert curves.BOLT_RESISTANCE(R_ult=74.0, Delta=0.34 * 25.4) == pytest.approx(72.6, abs=0.05)


# AISC Manual part 8: 1.856 kips per inch and sixteenth of E70 weld (1.392 with 0.75, 0.928 with 1/2.00).
def test_strength_of_one_inch_and_sixteenth():
    strength = curves.LONGITUDINAL_STRENGTH(F_EXX=70.0 * 6.894757, t_e=25.4 / 16.0 / math.sqrt(2.0), l=25.4)
    C = strength / 4448.2216
    assert pytest.approx(1.856, abs=5e-4) == C
    assert pytest.approx(1.392, abs=5e-4) == 0.75 * C


# AISC 360-16 eqs. J2-10a, J2-10b with 1.856 and two legs of 0.1: row a = 0 of Manual Table 8-8 prints 2.23.
def test_concentric_combinations():
    assert curves.CONCENTRIC_STRENGTH(R_nwl=1.856, R_nwt=2 * 0.1 * 1.856) == pytest.approx(2.23, abs=0.005)
    assert curves.CONCENTRIC_STRENGTH(R_nwl=1.856, R_nwt=2 * 0.3 * 1.856) == pytest.approx(3.25, abs=0.005)


def curve_of(group):
    if isinstance(group, WeldGroup):
        return group.elements(per_line=7).problem(_LOAD, 480.0).curve
    return group.problem(_LOAD, 1e4).curve


def test_solver_bolt_curve_is_the_published_one():
    curve = curve_of(FastenerGroup.of([[0, 0], [10, 0], [35, 5], [80, -20]]))
    reach = np.array([1e-6, 1.0, 2.5, 7.0])
    response = curve.respond(reach, 0 * reach, reach)
    expected = curves.bolt_resistance(R_ult=1e4, Delta=response.deformation)
    assert response.critical == 3
    assert response.deformation[3] == pytest.approx(8.636)
    np.testing.assert_allclose(response.resistance, expected, rtol=1e-9)


@pytest.mark.parametrize(
    "group",
    [
        WeldGroup.of([[0, 0, 50, 0], [0, 0, 10, 40], [20, 5, -30, 60]], leg=[4.0, 6.0, 5.0]),
        FastenerGroup.of([[0, 0], [10, 0], [35, 5], [80, -20]]),
    ],
)
def test_slopes_are_the_derivatives(group):
    """Central differences of the resistances, in the size and in the direction of the movement."""
    curve = curve_of(group)
    rng = np.random.default_rng(3)
    n = len(curve.strength)
    phi, reach = rng.uniform(0, 2 * math.pi, n), rng.uniform(0.2, 1.0, n)

    def answer(phi, reach):
        return curve.respond(reach * np.cos(phi), reach * np.sin(phi), reach)

    base = answer(phi, reach)
    slopes = curve.slopes(base)
    k, step = base.critical, 1e-6

    # one element at a time, so that the growth to the first fracture (the critical element) stays
    for i in range(n):
        if i == k:
            continue
        move = np.zeros(n)
        move[i] = step
        size = (answer(phi, reach + move).resistance - answer(phi, reach - move).resistance)[i] / (2 * step)
        turn = (answer(phi + move, reach).resistance - answer(phi - move, reach).resistance)[i] / (2 * step)
        assert size / base.scale == pytest.approx(slopes.by_deformation[i], rel=1e-5)
        assert turn == pytest.approx(slopes.by_direction[i], rel=1e-5, abs=1e-4)
    move = np.zeros(n)
    move[k] = step
    limit = (np.log(answer(phi + move, reach).scale) - np.log(answer(phi - move, reach).scale)) / (2 * step)
    assert limit == pytest.approx(slopes.limit_by_direction, rel=1e-5, abs=1e-8)
