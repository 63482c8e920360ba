"""What a group refuses, and how it says so."""

import math
import pickle

import pytest
from group_cases import E70

from jointcalc.errors import InputError
from jointcalc.statics.fastener_group import FastenerGroup
from jointcalc.statics.group_common import Load, NoStiffnessError
from jointcalc.statics.rotation_centre import PlaneProblem
from jointcalc.statics.weld_group import WeldGroup, arc

LINE = WeldGroup.of([[0, 0, 100, 0]], leg=5.0)
ONE_BOLT = FastenerGroup.of([[30, 40]])


@pytest.mark.parametrize(
    "make, field, words",
    [
        (lambda: WeldGroup.of([[0, 0, 100, 0], [5, 5, 5, 5]], leg=5.0), "line", "weld line 2 has no length"),
        (lambda: WeldGroup.of([[3, 3, 3, 3]], leg=5.0), "line", "weld line 1 has no length"),
        (lambda: WeldGroup.of([[0, 0, 100, 0], [100, 0, 0, 0]], leg=5.0), "line", "lines 1 and 2 are one"),
        (lambda: WeldGroup.of([], leg=5.0), "line", "needs lines"),
        (lambda: WeldGroup.of([[0, 0, math.nan, 0]], leg=5.0), "line", "finite"),
        (lambda: WeldGroup.of([[0, 0, 100, 0]]), "leg", "needs its leg or its throat"),
        (lambda: WeldGroup.of([[0, 0, 100, 0]], leg=0.0), "leg", "more than nothing"),
        (lambda: WeldGroup.of([[0, 0, 100, 0]], throat=[3.0, 4.0]), "throat", "one for each (1), not 2"),
        (lambda: WeldGroup.of([[0, 0, 100, 0]], leg=math.inf), "leg", "finite"),
        (lambda: FastenerGroup.of([]), "hole", "needs holes"),
        (lambda: FastenerGroup.of([[0, 0], [40, 0], [0, 0]]), "hole", "holes 1 and 3 are at one place"),
        (lambda: FastenerGroup.of([[0, 0], [40, 0]], area=-1.0), "area", "more than nothing"),
        (lambda: Load.at((0, -10e3, 0)), "at", "needs the point it acts at"),
        (Load.at, "force", "the load is nothing"),
        (lambda: Load.at((0, math.inf, 0), (0, 0, 0)), "load", "finite"),
        (lambda: LINE.ultimate(Load.at((0, 0, 5.0), (0, 0, 0)), E70), "force", "use the elastic method"),
        (lambda: LINE.ultimate(Load.at((0, 5.0, 0), (0, 0, 50.0)), E70), "force", "use the elastic method"),
        (lambda: ONE_BOLT.ultimate(Load(M_x=5.0), 1e4), "force", "use the elastic method"),
        (lambda: LINE.ultimate(Load(F_x=5.0), 0.0), "F_EXX", "more than nothing"),
        (lambda: LINE.elastic(Load(F_x=5.0)).ends.utilisation(0.0), "strength", "more than nothing"),
        (lambda: arc(0, 0, 0.0), "line", "an arc needs"),
    ],
)
def test_refusals(make, field, words):
    with pytest.raises(InputError) as caught:
        make()
    assert caught.value.field == field
    assert words in str(caught.value)


@pytest.mark.parametrize(
    "make, direction, words",
    [
        (lambda: LINE.elastic(Load.at((0, 0, 1.0), (50, 30, 0))), "moment about its own line", "at 0 degrees to x"),
        (
            lambda: WeldGroup.of([[0, 0, 30, 30], [50, 50, 90, 90]], leg=4.0).elastic(Load(M_x=1.0)),
            "moment about its own line",
            "at 45 degrees to x",
        ),
        (lambda: ONE_BOLT.elastic(Load(F_x=1.0)), "moment about z", "the fastener group"),
        (lambda: ONE_BOLT.elastic(Load(F_z=1.0)), "moment about x and y", "at one point"),
        (lambda: ONE_BOLT.ultimate(Load(M_z=1.0), 1e4), "moment about z", "at one point"),
        (lambda: ONE_BOLT.ultimate(Load(F_x=1.0), 1e4), "moment about z", "bring the force through it"),
    ],
)
def test_directions_without_stiffness_are_named(make, direction, words):
    with pytest.raises(NoStiffnessError) as caught:
        make()
    assert caught.value.direction == direction
    assert words in str(caught.value)


def test_the_fault_keeps_its_direction_on_its_way():
    with pytest.raises(NoStiffnessError) as caught:
        ONE_BOLT.elastic(Load(M_z=1.0))
    placed = caught.value.at(field="at", where="door.toml")
    assert (placed.direction, placed.field, placed.where) == ("moment about z", "at", "door.toml")
    again = pickle.loads(pickle.dumps(placed))
    assert (again.direction, str(again)) == (placed.direction, str(placed))


def test_one_fastener_takes_a_force_through_it():
    load = Load.at((300.0, -400.0, 0), (30, 40, 0))
    assert ONE_BOLT.elastic(load).peak == pytest.approx(500.0)
    result = ONE_BOLT.ultimate(load, 1e4)
    assert result.rule == "sum of the fasteners"
    assert result.factor == pytest.approx(20.0)


def test_a_line_takes_what_has_an_arm():
    """In its plane and along itself a single line is a beam: only the moment about itself is refused."""
    result = LINE.elastic(Load.at((0, 0, 1000.0), (80, 0, 0)))
    section = 5.0 / math.sqrt(2) * 100.0
    assert result.peak_stress == pytest.approx(1000 / section + 1000 * 30 * 50 / (section * 100**2 / 12))
    assert result.peak_at == (100.0, 0.0)


def test_no_centre_is_a_fault_of_ours_and_says_so(monkeypatch):
    problem = LINE.elements(10).problem(Load(F_y=1.0, M_z=7.0), E70)
    for step in ("_polished", "_again", "_followed"):
        monkeypatch.setattr(PlaneProblem, step, lambda self, at, most=0: problem.movement(problem.load))
    with pytest.raises(ArithmeticError, match="no centre of rotation"):
        problem.solve()
