"""A group does not know how its axes lie: rotation, translation, mirror and size (rigid-body invariance)."""

import math

import numpy as np
import pytest
from group_cases import E70
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from jointcalc.errors import InputError
from jointcalc.statics.fastener_group import FastenerGroup
from jointcalc.statics.group_common import Load
from jointcalc.statics.weld_group import WeldGroup

place = st.integers(-100, 100).map(float)
angles = st.floats(0.0, 2 * math.pi)
shifts = st.floats(-500.0, 500.0)
forces = st.floats(0.0, 2 * math.pi)
arms = st.one_of(st.just(0.0), st.floats(1.0, 2000.0), st.floats(-2000.0, -1.0))


@st.composite
def weld_groups(draw):
    lines = draw(st.lists(st.tuples(place, place, place, place), min_size=1, max_size=5))
    legs = draw(st.lists(st.floats(3.0, 9.0), min_size=len(lines), max_size=len(lines)))
    uniform = draw(st.booleans())
    try:
        return WeldGroup.of(lines, leg=legs[0] if uniform else legs)
    except InputError:
        assume(False)


@st.composite
def fastener_groups(draw):
    points = draw(st.lists(st.tuples(place, place), min_size=2, max_size=8, unique=True))
    return FastenerGroup.of(points, area=draw(st.floats(20.0, 200.0)))


def turn(points, angle, shift):
    c, s = math.cos(angle), math.sin(angle)
    return points @ np.array([[c, s], [-s, c]]) + shift


def turned(group, angle, shift):
    if isinstance(group, WeldGroup):
        lines = np.hstack((turn(group.lines[:, :2], angle, shift), turn(group.lines[:, 2:], angle, shift)))
        return WeldGroup.of(lines, leg=group.leg, throat=group.throat)
    return FastenerGroup.of(turn(group.points, angle, shift), area=group.area)


def loads(group, direction, arm, angle, shift):
    """A load `arm` off the centroid, in the old axes and in the turned ones."""
    centre = group.sections()
    force = np.array([math.cos(direction), math.sin(direction)]) * 1e4
    point = np.array([[centre.x - arm * math.sin(direction), centre.y + arm * math.cos(direction)]])
    new = turn(point, angle, shift)[0]
    new_force = turn(force[None], angle, 0.0)[0]
    return Load.at((*force, 0.0), (*point[0], 0.0)), Load.at((*new_force, 0.0), (*new, 0.0))


def ultimate(group, load):
    return group.ultimate(load, E70, per_line=9) if isinstance(group, WeldGroup) else group.ultimate(load, 2e4)


@settings(max_examples=150, deadline=None)
@given(st.one_of(weld_groups(), fastener_groups()), forces, arms, angles, shifts, shifts)
def test_centre_of_rotation_turns_with_the_group(group, direction, arm, angle, dx, dy):
    shift = np.array([dx, dy])
    old, new = loads(group, direction, arm, angle, shift)
    first, second = ultimate(group, old), ultimate(turned(group, angle, shift), new)
    assert first.rule == second.rule
    assert first.centre.kind == second.centre.kind
    assert second.factor == pytest.approx(first.factor, rel=1e-9)
    wanted = turn(first.centre.force, angle, 0.0)
    np.testing.assert_allclose(second.centre.force, wanted, atol=1e-7 * np.abs(wanted).max())


@settings(max_examples=150, deadline=None)
@given(
    st.one_of(weld_groups(), fastener_groups()),
    st.tuples(*[st.floats(-1e4, 1e4)] * 3),
    st.tuples(place, place, place),
    angles,
    shifts,
    shifts,
)
def test_elastic_peak_turns_with_the_group(group, force, point, angle, dx, dy):
    assume(math.hypot(*force) > 1.0)
    shift = np.array([dx, dy])
    new_point = (*turn(np.array([point[:2]]), angle, shift)[0], point[2])
    new_force = (*turn(np.array([force[:2]]), angle, 0.0)[0], force[2])
    other = turned(group, angle, shift)
    try:
        first = group.elastic(Load.at(force, point))
    except InputError:  # all on one line: refused in any axes
        with pytest.raises(InputError):
            other.elastic(Load.at(new_force, new_point))
        return
    second = other.elastic(Load.at(new_force, new_point))
    assert second.peak == pytest.approx(first.peak, rel=1e-9)
    if isinstance(group, WeldGroup):
        for name in ("axial", "normal", "lift", "resultant", "stress"):
            wanted = getattr(first.ends, name)
            np.testing.assert_allclose(getattr(second.ends, name), wanted, atol=1e-9 * first.ends.stress.max() * 10.0)
    else:
        wanted = np.column_stack((turn(first.force[:, :2], angle, 0.0), first.force[:, 2]))
        np.testing.assert_allclose(second.force, wanted, atol=1e-9 * first.peak)


@settings(max_examples=60, deadline=None)
@given(st.one_of(weld_groups(), fastener_groups()), forces, arms, st.floats(0.1, 10.0))
def test_size_and_mirror(group, direction, arm, size):
    """Similarity: lengths (legs too) times s carry s² times the load; a mirrored group carries the same."""
    assume(arm != 0.0)  # a mirrored concentric case may settle on the mirrored one of two centres
    old, _ = loads(group, direction, arm, 0.0, np.zeros(2))
    first = ultimate(group, old)
    if isinstance(group, WeldGroup):
        bigger = WeldGroup.of(group.lines * size, leg=group.leg * size, throat=group.throat * size)
        grown, power = ultimate(bigger, Load(F_x=old.F_x, F_y=old.F_y, M_z=old.M_z * size)), 2
        mirrored = WeldGroup.of(group.lines * [-1, 1, -1, 1], leg=group.leg, throat=group.throat)
    else:
        bigger = FastenerGroup.of(group.points * size)
        grown, power = ultimate(bigger, Load(F_x=old.F_x, F_y=old.F_y, M_z=old.M_z * size)), 0
        mirrored = FastenerGroup.of(group.points * [-1, 1])
    assert grown.factor == pytest.approx(first.factor * size**power, rel=1e-9)
    reflected = ultimate(mirrored, Load(F_x=-old.F_x, F_y=old.F_y, M_z=-old.M_z))
    assert reflected.factor == pytest.approx(first.factor, rel=1e-9)
