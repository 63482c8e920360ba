"""Instantaneous centre of weld groups: published coefficients, an independent solution, limits, speed."""

import math

import numpy as np
import pytest
from group_cases import E70, ENTRIES_8_8, INCH, KIP, KSI, beside, c_shape, random_case

from jointcalc.statics.group_common import Load
from jointcalc.statics.weld_group import WeldGroup

L, LEG = 10.0 * INCH, 5.0 / 16.0 * INCH


def coefficient(group, load, size=1000.0):
    result = group.ultimate(load, E70)
    # R_n = C D l for E70 filler in kips, sixteenths of leg and inches
    return float(result.factor * size / 4448.2216 / (16.0 * LEG / INCH) / (L / INCH)), result


# AISC Manual, 13th ed., Table 8-8, every open entry (second-hand: printed in a university examination).
@pytest.mark.parametrize("a, k, printed", ENTRIES_8_8)
def test_aisc_table_8_8(a, k, printed):
    group = c_shape(k)
    C, result = coefficient(group, beside(group, a * L))
    assert pytest.approx(printed, abs=0.01) == C  # one unit of the last digit
    assert result.centre.residual <= 1e-10
    if a == 0.0:
        assert result.centre.kind == "concentric"
        assert result.rule == ("longitudinal and transverse" if k else "direction factor")
    else:
        assert result.rule == "instantaneous centre"


def test_all_open_entries_are_there():
    assert len(ENTRIES_8_8) == 74


# AISC LRFD Manual, metric Table 8-38 (two vertical lines, phi = 0.75 included), column k = 0.  The entry
# a = 0.10 is printed 2.78; the published curve gives 2.79 (one of the two entries 0.5 % apart).
@pytest.mark.parametrize(
    "a, printed",
    [(0.15, 2.75), (0.20, 2.64), (0.25, 2.48), (0.30, 2.32), (0.40, 2.00), (0.50, 1.72), (0.60, 1.50),
     (0.70, 1.32), (0.80, 1.17), (1.00, 0.957), (1.20, 0.806), (1.40, 0.695)],
)  # fmt: skip
def test_aisc_table_8_38_lines_on_each_other(a, printed):
    group = c_shape(0.0)
    C, _ = coefficient(group, beside(group, a * L))
    unit = 0.01 if printed >= 1.0 else 0.001
    assert pytest.approx(printed, abs=unit) == 2 * 0.75 * C


def test_aisc_table_8_38_entry_that_differs():
    group = c_shape(0.0)
    C, _ = coefficient(group, beside(group, 0.10 * L))
    assert pytest.approx(2.78, rel=0.005) == 2 * 0.75 * C


# The same table, row a = 1.40.
@pytest.mark.parametrize(
    "k, printed",
    [(0.1, 0.701), (0.2, 0.724), (0.3, 0.758), (0.4, 0.799), (0.5, 0.844), (0.6, 0.889), (0.7, 0.932), (0.8, 0.973)],
)
def test_aisc_table_8_38_lines_apart(k, printed):
    group = WeldGroup.of([[0, 0, 0, L], [k * L, 0, k * L, L]], leg=LEG)
    C, _ = coefficient(group, beside(group, 1.4 * L))
    assert pytest.approx(printed, abs=0.001) == 0.75 * C


# AISC Design Example J.2 (from memory): two 5/16 in fillets, load at 60 degrees through the group:
# factor 1.40, phi·r_n 19.5 kip/in.
def test_aisc_example_j_2():
    group = WeldGroup.of([[0, 0, 16 * INCH, 0], [0, 1, 16 * INCH, 1]], leg=LEG)
    load = Load.at((KIP * math.cos(math.pi / 3), KIP * math.sin(math.pi / 3), 0), (8 * INCH, 0.5, 0))
    result = group.ultimate(load, E70)
    assert result.rule == "direction factor"
    assert 0.75 * result.factor / 16 == pytest.approx(19.5, abs=0.05)


# --- independent solution ----------------------------------------------------------------------------


def written_out(points, axes, leg, base, centre, sense):
    """The published procedure element by element, in plain Python with its constants typed again."""
    rows = []
    for (x, y), (ax, ay), w, r0 in zip(points, axes, leg, base):
        rx, ry = x - centre[0], y - centre[1]
        r = math.hypot(rx, ry)
        ex, ey = -sense * ry / r, sense * rx / r
        theta = math.degrees(math.acos(min(1.0, abs(ex * ax + ey * ay))))
        d_m = 0.209 * (theta + 2) ** -0.32 * w
        d_u = min(1.087 * (theta + 6) ** -0.65 * w, 0.17 * w)
        rows.append((r, ex, ey, theta, d_m, d_u, r0))
    growth = min(d_u / r for r, _, _, _, _, d_u, _ in rows)
    forces = []
    for r, ex, ey, theta, d_m, _, r0 in rows:
        p = r * growth / d_m
        force = r0 * (1 + 0.5 * math.sin(math.radians(theta)) ** 1.5) * (p * (1.9 - 0.9 * p)) ** 0.3
        forces.append((force * ex, force * ey))
    return np.array(forces)


@pytest.mark.parametrize("a, k", [(0.2, 0.3), (0.5, 1.0), (1.4, 0.7), (3.0, 0.5)])
def test_against_a_scan_along_the_axis_of_symmetry(a, k):
    """A symmetric group has its centre on the axis: one unknown, bracketed and found by scipy's brentq."""
    from scipy.optimize import brentq

    group = c_shape(k)
    section, e = group.sections(), a * L
    elements = group.elements(per_line=40)
    base = 0.60 * E70 * elements.throat * elements.length

    def moment_left(distance):
        forces = written_out(elements.points, elements.axis, elements.leg, base, (section.x - distance, L / 2), -1.0)
        x, y = elements.points[:, 0] - section.x, elements.points[:, 1] - L / 2
        return (x * forces[:, 1] - y * forces[:, 0]).sum() - e * forces[:, 1].sum()

    grid = np.linspace(0.011, 10.0, 400) * L
    signs = np.sign([moment_left(d) for d in grid])
    crossings = np.flatnonzero(np.diff(signs))
    assert len(crossings) == 1
    distance = brentq(moment_left, grid[crossings[0]], grid[crossings[0] + 1], xtol=1e-13, rtol=1e-14)
    forces = written_out(elements.points, elements.axis, elements.leg, base, (section.x - distance, L / 2), -1.0)
    result = group.ultimate(beside(group, e), E70, per_line=40)
    assert result.factor * 1000.0 == pytest.approx(-forces[:, 1].sum(), rel=1e-9)
    assert result.centre.centre == pytest.approx((section.x - distance, L / 2), abs=1e-8 * L)
    np.testing.assert_allclose(result.centre.force, forces, atol=1e-8 * base.max())


def check_balance(case):
    """Statics and the published curve, recomputed from what the solver returns."""
    problem = case.problem()
    found = problem.solve()
    assert found.residual <= 1e-10, case.number
    load, force = case.load, found.force
    points = (
        case.group.elements(per_line=case.per_line).points if isinstance(case.group, WeldGroup) else case.group.points
    )
    middle = problem.origin
    arm = points - middle
    moment = (arm[:, 0] * force[:, 1] - arm[:, 1] * force[:, 0]).sum()
    total = np.array([force[:, 0].sum(), force[:, 1].sum(), moment / problem.length])
    wanted = np.array([load.F_x, load.F_y, load.about(*middle).M_z / problem.length]) * found.factor
    assert found.factor > 0.0
    assert np.linalg.norm(total - wanted) <= 2e-10 * np.linalg.norm(wanted), case.number
    if found.centre is not None and math.hypot(*(np.array(found.centre) - middle)) < 1e4 * problem.length:
        reach = points - np.array(found.centre)
        r, size = np.hypot(*reach.T), np.hypot(*force.T)
        seen = r > 1e-6 * problem.length
        assert np.all(np.abs((reach * force).sum(axis=1))[seen] <= 1e-6 * (r * size)[seen]), case.number
        turn = (reach[:, 0] * force[:, 1] - reach[:, 1] * force[:, 0])[seen]
        assert np.all(turn > 0) or np.all(turn < 0), case.number
        np.testing.assert_allclose(
            found.deformation[seen] / r[seen], (found.deformation[seen] / r[seen]).max(), rtol=1e-6
        )
    return found


def test_random_groups_converge(full_run):
    """300 of the 10,000 random groups; all of them with JOINTCALC_FULL=1."""
    worst = 0
    for number in range(10_000 if full_run else 300):
        worst = max(worst, check_balance(random_case(number)).evaluations)
    assert worst < 1000


@pytest.mark.parametrize("number", [2, 17, 60, 83])
def test_forces_are_those_of_the_published_curve(number):
    case = next(
        c
        for c in map(random_case, range(number, number + 60))
        if isinstance(c.group, WeldGroup) and c.load.F_x and c.problem().kind == "eccentric"
    )
    elements = case.group.elements(per_line=case.per_line)
    found = elements.problem(case.load, E70).solve()
    base = 0.60 * E70 * elements.throat * elements.length
    reach = elements.points - np.array(found.centre)
    k = int(np.argmax(np.hypot(*reach.T)))
    sense = np.sign(reach[k, 0] * found.force[k, 1] - reach[k, 1] * found.force[k, 0])
    forces = written_out(elements.points, elements.axis, elements.leg, base, found.centre, sense)
    np.testing.assert_allclose(found.force, forces, atol=1e-5 * base.max())


# --- hard cases ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("arm", [0.003, 0.01, 0.1, 1.0])
@pytest.mark.parametrize("angle", [60.0, 79.0])
def test_softening_line_under_a_nearly_concentric_load(angle, arm):
    """More than one centre can balance such a load; one is found, on the side of the moment."""
    t = math.radians(angle)
    group = WeldGroup.of([[-100, 0, 100, 0]], leg=6.0)
    for count in (20, 2000):
        found = group.elements(count).problem(Load(F_x=math.cos(t), F_y=math.sin(t), M_z=arm), E70).solve()
        assert found.residual <= 1e-10
        x = group.elements(count).points[:, 0]
        assert (x * found.force[:, 1]).sum() == pytest.approx(arm * found.factor, rel=1e-6)


@pytest.mark.parametrize("number", range(0, 120, 3))
def test_path_following_finds_a_centre_alone(number):
    """The last resort of the solver, on its own: as good as Newton's method on cases that need neither."""
    problem = random_case(number).problem()
    found = problem._followed(problem.movement(problem.load))
    assert found.residual <= 1e-10


def test_path_following_on_a_case_that_needs_it():
    t = math.radians(79.0)
    problem = (
        WeldGroup.of([[-100, 0, 100, 0]], leg=6.0)
        .elements(20)
        .problem(Load(F_x=math.cos(t), F_y=math.sin(t), M_z=0.01), E70)
    )
    start = problem.movement(problem.load)
    assert problem._polished(start).residual > 1e-6  # Newton's method alone stops in a fold
    assert problem._followed(start).residual <= 1e-10


@pytest.mark.parametrize("per_line", [2, 3, 20, 21])
@pytest.mark.parametrize("shift", [(0.0, 0.0), (37.3, -911.7)])
def test_pure_moment_on_crossed_lines(per_line, shift):
    """The centre is the crossing, on an element when their number is odd, and that element is idle."""
    x, y = shift
    lines = [[x - 60, y - 20, x + 60, y + 20], [x - 20, y + 60, x + 20, y - 60]]
    result = WeldGroup.of(lines, leg=6.0).ultimate(Load(M_z=1e6), E70, per_line=per_line)
    assert result.centre.kind == "pure moment"
    assert result.rule == "instantaneous centre"
    assert result.centre.centre == pytest.approx(shift, abs=1e-9 * 1000)
    assert result.centre.residual <= 1e-10
    # every element stands across its arm, so theta = 90 throughout: written out with D_u/D_m there
    r = math.hypot(60, 20) * (np.arange(per_line) + 0.5 - per_line / 2) * 2 / per_line
    p = np.abs(r) / np.abs(r).max() * (1.087 * 96**-0.65) / (0.209 * 92**-0.32)
    element = 0.60 * E70 * 6.0 / math.sqrt(2) * 2 * math.hypot(60, 20) / per_line
    moment = 2 * (element * 1.5 * (p * (1.9 - 0.9 * p)) ** 0.3 * np.abs(r)).sum()
    assert result.factor * 1e6 == pytest.approx(moment, rel=1e-9)


def test_concentric_load_on_mixed_directions_is_strain_compatibility():
    """Three lines at 120 degrees: no concentric rule covers them; the triangle is balanced by shifting."""
    corners = [(100 * math.cos(t), 100 * math.sin(t)) for t in (math.pi / 2, math.pi * 7 / 6, math.pi * 11 / 6)]
    lines = [[*corners[i], *corners[(i + 1) % 3]] for i in range(3)]
    result = WeldGroup.of(lines, leg=6.0).ultimate(Load(F_y=-1000.0), E70)
    assert result.centre.kind == "concentric"
    assert result.rule == "instantaneous centre"
    # by symmetry the triangle shifts straight down: the bottom line (90 degrees) breaks first and the
    # two sides (30 degrees) have moved as far
    moved = 1.087 * 96**-0.65
    line = 0.60 * E70 * 6 / math.sqrt(2) * 100 * math.sqrt(3)
    shares = []
    for theta in (90.0, 30.0, 30.0):
        p = moved / (0.209 * (theta + 2) ** -0.32)
        shares.append((1 + 0.5 * math.sin(math.radians(theta)) ** 1.5) * (p * (1.9 - 0.9 * p)) ** 0.3)
    assert result.centre.centre is None
    assert result.factor * 1000 == pytest.approx(line * sum(shares), rel=1e-9)


def test_unequal_legs_have_no_concentric_rule():
    group = WeldGroup.of([[0, 0, 0, 100], [0, 0, 50, 0]], leg=[5.0, 8.0])
    section = group.sections()
    load = Load.at((0, -1000.0, 0), (section.x, section.y, 0))
    assert group.ultimate(load, E70).rule == "instantaneous centre"


def test_critical_element_is_the_one_at_its_limit():
    group = c_shape(0.5)
    result = group.ultimate(beside(group, 0.5 * L), E70)
    used = result.utilisation()
    assert used.max() == pytest.approx(1.0, rel=1e-9)
    assert int(np.argmax(used)) == result.centre.critical or used[result.centre.critical] == pytest.approx(
        1.0, rel=1e-9
    )
    size = np.hypot(result.axial(), result.normal()) * result.elements.length
    np.testing.assert_allclose(size, np.hypot(*result.centre.force.T))


# --- the two methods against each other ------------------------------------------------------------------


@pytest.mark.parametrize("basis", ["along", "by direction"])
@pytest.mark.parametrize("a, k, printed", ENTRIES_8_8)
def test_elastic_method_never_gives_more(a, k, printed, basis):
    """Over the shapes of Table 8-8, the same strength per element in both methods.

    `along`: the elastic peak against 0.60·F_EXX·throat, as handbooks do (AISC Manual part 8).
    `by direction`: each point against 0.60·F_EXX·throat·(1 + 0.5·sin^1.5 theta) of its own direction, the
    strength the instantaneous centre gives an element.  The second basis gains on a concentric load, which
    has a rule of its own, and is compared off it.
    """
    group = c_shape(k)
    load = beside(group, a * L)
    got = group.elastic(load).along(21)
    strength = 0.60 * E70 * LEG / math.sqrt(2.0)
    if basis == "by direction":
        if a == 0.0:
            return
        theta = np.arctan2(np.abs(got.normal), np.abs(got.axial))
        strength = strength * (1 + 0.5 * np.sin(theta) ** 1.5)
    elastic = 1.0 / float((got.resultant / strength).max())
    assert elastic <= group.ultimate(load, E70).factor * (1 + 1e-9)


# --- speed -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "lines, load",
    [
        ([[0, 0, 56, 0], [0, 0, 0, 190], [0, 190, 56, 190]], Load.at((0, -1e4, 0), (156, 95, 0))),
        ([[0, 0, 80, 10], [5, 60, 40, 190], [-50, 90, 30, 200]], Load.at((4e3, -1e4, 0), (150, 20, 0))),
        ([[-100, 0, 100, 0]], Load(F_x=500.0, F_y=1700.0, M_z=300.0)),
    ],
)
def test_two_thousand_elements_take_at_most_sixty_evaluations(lines, load, monkeypatch):
    """Evaluations of the residual that the whole solution takes; tests/bench/bench_group.py measures their time."""
    group = WeldGroup.of(lines, leg=6.0)
    elements = group.elements(2000)
    assert len(elements.length) == pytest.approx(2000, abs=2)
    problem = elements.problem(load, 70 * KSI)
    calls = []
    once = type(problem).movement
    monkeypatch.setattr(type(problem), "movement", lambda self, *a, **k: calls.append(1) or once(self, *a, **k))
    assert problem.solve().residual <= 1e-10
    assert 0 < len(calls) <= 60


# --- names of the load ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "arm, kind", [(0.0, "concentric"), (1e-11, "concentric"), (1e-6, "eccentric"), (5.0, "eccentric")]
)
def test_only_a_load_through_the_centroid_is_concentric(arm, kind):
    """Concentric means to the last digits (1e-9 of the radius of gyration), not nearly so."""
    group = c_shape(0.5)
    result = group.ultimate(beside(group, arm * L), E70)
    assert result.centre.kind == kind
    assert (result.rule == "instantaneous centre") == (kind == "eccentric")


@pytest.mark.parametrize("force, kind", [(0.0, "pure moment"), (1e-8, "pure moment"), (1.0, "eccentric")])
def test_only_a_load_without_force_is_a_pure_moment(force, kind):
    group = c_shape(0.5)
    section = group.sections()
    load = Load(F_x=force, M_z=1e5 - force * section.y)
    assert group.ultimate(load, E70).centre.kind == kind
