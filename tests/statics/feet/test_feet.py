"""A rigid thing on its feet against statics by hand, published fastener patterns turned in space, and other solvers.

Patterns of bolts: the numbers printed in the sources named beside them.  Resting feet: a general solver of constrained
problems (scipy) on the same energy, and a linear programme for the load at which a thing tips.
"""

from __future__ import annotations

from math import inf, nan

import numpy as np
import pytest
from scipy.optimize import linprog, minimize

from jointcalc.errors import InputError
from jointcalc.statics.feet import Feet, MechanismError, Wrench, split

SQUARE = [[0.0, 0.0, 0.0], [300.0, 0.0, 0.0], [0.0, 200.0, 0.0], [300.0, 200.0, 0.0]]
THREE = [[0.0, 0.0, 0.0], [400.0, 0.0, 0.0], [100.0, 300.0, 50.0]]


# --- by hand -----------------------------------------------------------------------------------------------


def test_a_weight_off_the_middle_by_hand() -> None:
    """Two rows of feet, the centre at nine tenths of the way between them: nine tenths on the far row (a lever)."""
    found = Feet.of(SQUARE).held(Wrench.at([0, 0, -1000.0], [150.0, 180.0, 260.0]))
    np.testing.assert_allclose(found.force[:, 2], [-50, -50, -450, -450], rtol=1e-12)
    np.testing.assert_allclose(found.force[:, :2], 0.0, atol=1e-9)


def test_a_sideways_load_up_high_by_hand() -> None:
    """F at a height h on four feet: a quarter each in the plane, F h over twice the track up and down."""
    found = Feet.of(SQUARE).held(Wrench.at([1200.0, 0, 0], [150.0, 100.0, 260.0]))
    np.testing.assert_allclose(found.force[:, 0], 300.0, rtol=1e-12)
    lift = 1200.0 * 260 / (2 * 300)
    np.testing.assert_allclose(found.force[:, 2], [lift, -lift, lift, -lift], rtol=1e-12)


def test_three_feet_carry_by_levers_whatever_their_springs() -> None:
    """Upright loads on three feet in a plane follow from three equations alone; the springs change nothing."""
    flat = [[0.0, 0.0, 0.0], [400.0, 0.0, 0.0], [100.0, 300.0, 0.0]]
    at = (150.0, 80.0)
    A = np.array([[1.0, 1, 1], [p[0] for p in flat], [p[1] for p in flat]])
    by_hand = np.linalg.solve(A, [-700.0, -700 * at[0], -700 * at[1]])
    load = Wrench.at([0, 0, -700.0], [*at, 90.0])
    for springs in (None, [[1, 1, 1], [3, 3, 500], [20, 2, 7]]):
        np.testing.assert_allclose(Feet.of(flat, springs).held(load).force[:, 2], by_hand, rtol=1e-9)


def test_a_spring_twice_as_stiff_takes_twice_as_much() -> None:
    """A load that only shifts the thing is shared as the springs are."""
    k = [[1, 1, 1], [1, 1, 2], [1, 1, 2], [1, 1, 1]]
    found = Feet.of(SQUARE, k).held(Wrench.at([0, 0, -600.0], [150.0, 100.0, 0.0]))
    np.testing.assert_allclose(found.force[:, 2], [-100, -200, -200, -100], rtol=1e-9)


# --- published patterns, turned in space ----------------------------------------------------------------------

PUBLISHED = [
    # four bolts at (h', v') mm, 406.9 kN along h' beside the middle, M = 18.107 kN·m: resultants 166.22, 190.82, 107.35,
    # 52.37 kN (published worked example of a fin plate, second-hand)
    ([(-16.25, -30), (48.75, -30), (-48.75, 30), (16.25, 30)], (406.9, 0.0), 18107.05, (166.22, 190.82, 107.35, 52.37), 0.01),
    # four 10 mm bolts at (±40, ±30) mm, 10 kN at 100 mm: largest resultant 7.16 kN (published, second-hand)
    ([(-40, -30), (40, -30), (-40, 30), (40, 30)], (0.0, -10.0), -1000.0, (None, 7.16, None, 7.16), 0.005),
    # six bolts, columns ±35 mm, rows 0 and ±140 mm, 70 kN and 10 kN·m: 22.67 kN (published, second-hand)
    ([(x, y) for x in (-35, 35) for y in (-140, 0, 140)], (0.0, -70.0), -10000.0, (None, None, None, 22.67, None, 22.67), 0.02),
    # Shigley, Ex. 8-7: four M16 at (±75, ±60) mm, 16 kN, arm 425 mm: 21.0 and 14.8 kN (answers from memory)
    ([(-75, -60), (75, -60), (-75, 60), (75, 60)], (0.0, -16.0), -16.0 * 425, (14.8, 21.0, 14.8, 21.0), 0.06),
]  # fmt: skip


@pytest.mark.parametrize("holes,force,moment,resultants,near", PUBLISHED)
@pytest.mark.parametrize("turn", [(1.0, 0.0, 0.0, 0.0), (0.5, 0.5, 0.5, 0.5), (0.7, -0.1, 0.5, 0.5)])
def test_published_bolt_patterns_anywhere_in_space(
    holes: list[tuple[float, float]], force: tuple[float, float], moment: float, resultants: tuple[float | None, ...],
    near: float, turn: tuple[float, ...],
) -> None:  # fmt: skip
    a, b, c, d = np.array(turn) / np.linalg.norm(turn)
    R = np.array(
        [
            [a * a + b * b - c * c - d * d, 2 * (b * c - a * d), 2 * (b * d + a * c)],
            [2 * (b * c + a * d), a * a - b * b + c * c - d * d, 2 * (c * d - a * b)],
            [2 * (b * d - a * c), 2 * (c * d + a * b), a * a - b * b - c * c + d * d],
        ]
    )
    points = np.array([(*p, 0.0) for p in holes]) @ R.T + [30.0, -20.0, 10.0]
    load = Wrench.at(R @ [*force, 0.0], [30.0, -20.0, 10.0], [float(v) for v in R @ [0.0, 0.0, moment]])
    sizes = np.linalg.norm(Feet.of(points).held(load).force, axis=1)
    for got, printed in zip(sizes, resultants):
        if printed is not None:
            assert got == pytest.approx(printed, abs=near)


def test_the_group_of_bolts_agrees_out_of_its_plane() -> None:
    """The elastic fastener group of the bolts' checks (Shigley 8-12) is the same thing in its own plane."""
    from jointcalc.statics.fastener_group import FastenerGroup
    from jointcalc.statics.group_common import Load

    holes = [(0.0, 0.0), (60.0, 0.0), (60.0, 80.0), (-20.0, 70.0), (25.0, 40.0)]
    ours = Feet.of([(x, y, 0.0) for x, y in holes]).held(
        Wrench.at([300, -200, 500], [40.0, 90.0, 120.0], [1e3, 5e3, -4e3])
    )
    theirs = FastenerGroup.of(holes).elastic(Load.at((300, -200, 500), (40.0, 90.0, 120.0), (1e3, 5e3, -4e3)))
    np.testing.assert_allclose(ours.force, theirs.force, rtol=1e-9, atol=1e-9)


# --- equilibrium and energy ------------------------------------------------------------------------------------


def test_equilibrium_of_a_thousand_random_mounts() -> None:
    rng = np.random.default_rng(20261128)
    for _ in range(1000):
        n = int(rng.integers(3, 13))
        points, k = rng.uniform(-800, 800, (n, 3)), 10 ** rng.uniform(0, 5, (n, 3))
        F, at, M = rng.normal(size=3) * 1e3, rng.uniform(-900, 900, 3), rng.normal(size=3) * 1e5
        force = Feet.of(points, k).held(Wrench.at(F, at, M)).force
        np.testing.assert_allclose(force.sum(axis=0), F, atol=1e-9 * np.abs(F).max())
        turn = np.cross(points, force).sum(axis=0)
        whole = np.cross(at, F) + M
        np.testing.assert_allclose(turn, whole, atol=1e-9 * max(np.abs(whole).max(), 900 * np.abs(F).max()))


def test_springs_share_by_least_energy() -> None:
    """Castigliano: of all shares in equilibrium the true one stores least energy (an equality-constrained minimum)."""
    rng = np.random.default_rng(7)
    for _ in range(20):
        n = int(rng.integers(3, 7))
        points, k = rng.uniform(-300, 300, (n, 3)), 10 ** rng.uniform(0, 1.5, (n, 3))
        F, at = rng.normal(size=3) * 100, rng.uniform(-300, 300, 3)
        E = np.zeros((6, 3 * n))
        for i in range(n):
            E[:3, 3 * i : 3 * i + 3] = np.eye(3)
            E[3:, 3 * i : 3 * i + 3] = np.column_stack([np.cross(points[i], e) for e in np.eye(3)])
        root = np.sqrt(k.ravel())
        least = root * (np.linalg.pinv(E * root) @ np.concatenate([F, np.cross(at, F)]))
        np.testing.assert_allclose(Feet.of(points, k).held(Wrench.at(F, at)).force.ravel(), least, rtol=1e-6, atol=1e-5)


# --- resting -----------------------------------------------------------------------------------------------------


def _random_rest(rng: np.random.Generator) -> tuple[np.ndarray, np.ndarray, Wrench, Wrench, np.ndarray, int, float]:
    n = int(rng.integers(3, 9))
    axis, side = int(rng.integers(0, 3)), float(rng.choice([-1.0, 1.0]))
    points = rng.uniform(-300, 300, (n, 3))
    points[:, axis] = rng.uniform(-100, 100)
    k = 10 ** rng.uniform(0, 1.5, (n, 3))
    at = points.mean(axis=0) + rng.uniform(-80, 80, 3)
    F = rng.normal(size=3) * 20
    F[axis] = -side * rng.uniform(50, 500)
    steady, tilting = split([float(v) for v in F], at, [0.0, 0.0, 0.0], axis)
    return points, k, steady, tilting, at, axis, side


def test_resting_feet_against_a_general_solver() -> None:
    """Least energy under 'a foot only presses', by scipy's sequential quadratic programming."""
    rng = np.random.default_rng(11)
    lifted = 0
    for _ in range(60):
        points, k, steady, tilting, _, axis, side = _random_rest(rng)
        found = Feet.of(points, k).rested(steady, tilting, axis=axis, side=side)
        if found.tips < 1:
            continue
        N = -side * found.force[:, axis]
        b, c = (axis + 1) % 3, (axis + 2) % 3
        whole = steady + tilting
        level = np.zeros(3)
        level[axis] = points[0, axis]
        M = whole.about(level)
        P = -side * whole.force[axis]
        A = np.array([np.ones(len(points)), points[:, c], points[:, b]])
        w = np.array([P, -side * M[b], side * M[c]])
        np.testing.assert_allclose(A @ N, w, rtol=1e-9, atol=1e-9 * P * 300)
        k_n = k[:, axis]
        solved = minimize(
            lambda f, k_n=k_n, P=P: float(np.sum((f / P) ** 2 / k_n)), np.full(len(points), P / len(points)),
            bounds=[(0, None)] * len(points), method="SLSQP",
            constraints={"type": "eq", "fun": lambda f, A=A, w=w, P=P: (A @ f - w) / (P * np.array([1, 100, 100]))},
            options={"maxiter": 500, "ftol": 1e-14},
        )  # fmt: skip
        assert solved.success
        np.testing.assert_allclose(N, solved.x, atol=2e-4 * P)
        lifted += int((N == 0).any())
    assert lifted > 5


def test_the_load_at_which_it_tips_against_a_linear_programme() -> None:
    """The greatest multiple of the tilting part for which presses >= 0 balance the load (scipy's linear programme)."""
    rng = np.random.default_rng(5)
    tipped = 0
    for _ in range(100):
        points, k, steady, tilting, _, axis, side = _random_rest(rng)
        ours = Feet.of(points, k).tipping(steady, tilting, axis=axis, side=side)
        b, c = (axis + 1) % 3, (axis + 2) % 3
        level = np.zeros(3)
        level[axis] = points[0, axis]
        P, M, T = -side * steady.force[axis], steady.about(level), tilting.about(level)
        A = np.array([[*np.ones(len(points)), 0.0], [*points[:, c], side * T[b]], [*points[:, b], -side * T[c]]])
        right = [P, -side * M[b], side * M[c]]
        alone = linprog(np.zeros(len(points)), A_eq=A[:, :-1], b_eq=right, bounds=(0, None))
        solved = linprog([*np.zeros(len(points)), -1.0], A_eq=A, b_eq=right, bounds=(0, None))
        # pressed beside its feet it tips without the tilting part, though that may hold it up
        theirs = 0.0 if alone.status == 2 else float(solved.x[-1]) if solved.status == 0 else inf
        assert ours == pytest.approx(theirs, rel=1e-6, abs=1e-9)
        tipped += ours < 1
    assert 0 < tipped < 100


def test_a_thing_that_tips_or_lifts_has_no_forces_and_says_at_what_load() -> None:
    """A pull F at a height h tips a weight W with the lever b when F h = W b (by hand)."""
    feet = Feet.of(SQUARE)
    steady, tilting = split([-300.0, 0.0, -500.0], [150.0, 100.0, 260.0], [0.0, 0.0, 0.0], 2)
    found = feet.rested(steady, tilting)
    assert found.tips == pytest.approx(500 * 150 / (300 * 260))
    assert np.isnan(found.force).all()
    stands = feet.rested(*split([-280.0, 0.0, -500.0], [150.0, 100.0, 260.0], [0.0, 0.0, 0.0], 2))
    assert stands.tips == pytest.approx(500 * 150 / (280 * 260))
    assert stands.force[1, 2] == pytest.approx(-(500 / 2 - 280 * 260 / 300) / 2)
    assert feet.rested(*split([0.0, 0.0, 10.0], [150.0, 100.0, 0.0], [0.0, 0.0, 0.0], 2)).tips == 0.0
    assert feet.tipping(*split([0.0, 0.0, -10.0], [400.0, 100.0, 0.0], [0.0, 0.0, 0.0], 2)) == 0.0
    assert feet.tipping(*split([0.0, 0.0, -10.0], [150.0, 100.0, 0.0], [0.0, 0.0, 0.0], 2)) == inf


def test_a_press_on_an_edge_or_a_corner_stands() -> None:
    """At the very limit the whole press is on the feet of that edge, and on one foot at a corner."""
    found = Feet.of(SQUARE).rested(*split([0, 0, -100.0], [300.0, 50.0, 0.0], [0.0, 0.0, 0.0], 2))
    np.testing.assert_allclose(found.force[:, 2], [0, -75, 0, -25], atol=1e-9)
    found = Feet.of(SQUARE).rested(*split([0, 0, -100.0], [300.0, 200.0, 0.0], [0.0, 0.0, 0.0], 2))
    np.testing.assert_allclose(found.force[:, 2], [0, 0, 0, -100], atol=1e-9)


def test_friction_shares_by_the_press() -> None:
    """Every foot gets the part of the sideways load that it has of the press, where nothing turns the thing."""
    feet = Feet.of(SQUARE)
    N = np.array([10.0, 20.0, 30.0, 40.0])
    middle = N @ np.array(SQUARE) / N.sum()
    shared = feet.slid(Wrench.at([50.0, 0, 0], [0.0, float(middle[1]), 0.0]), N)
    np.testing.assert_allclose(shared[:, 0], 50 * N / 100, rtol=1e-9)


# --- what cannot stand -------------------------------------------------------------------------------------------


def test_mechanisms_are_named_by_what_moves() -> None:
    load = Wrench.at([0, 0, -100.0], [50.0, 40.0, 0.0])
    with pytest.raises(MechanismError, match="turns about its only foot"):
        Feet.of([[0, 0, 0]]).held(load)
    with pytest.raises(MechanismError, match=r"2 feet.*along x.*beside the line"):
        Feet.of([[0, 0, 0], [200, 0, 0]]).held(load)
    with pytest.raises(MechanismError, match="turns about the line through its 4 feet"):
        Feet.of([[0, 0, 0], [200, 0, 20], [400, 0, 40], [600, 0, 60]]).held(load)
    with pytest.raises(MechanismError, match="slides along y"):
        Feet.of(SQUARE, [[1, 0, 1]]).held(Wrench.at([0, 5.0, 0], [150.0, 100.0, 0.0]))
    with pytest.raises(MechanismError, match="tips over"):
        Feet.of([[0, 0, 0], [200, 0, 0]]).rested(*split([0, 0, -9.0], [100.0, 0.0, 0.0], [0.0, 0.0, 0.0], 2))
    with pytest.raises(InputError, match="one plane"):
        Feet.of(THREE).rested(*split([0, 0, -9.0], [100.0, 100.0, 0.0], [0.0, 0.0, 0.0], 2))


def test_a_load_into_the_line_of_the_feet_is_carried() -> None:
    found = Feet.of([[0, 0, 0], [200, 0, 0]]).held(Wrench.at([0, 30.0, -100.0], [50.0, 0.0, 0.0]))
    np.testing.assert_allclose(found.force, [[0, 22.5, -75], [0, 7.5, -25]], atol=1e-9)
    alone = Feet.of([[10, 20, 30]]).held(Wrench.at([1.0, 2.0, 3.0], [10.0, 20.0, 30.0]))
    np.testing.assert_allclose(alone.force, [[1, 2, 3]], rtol=1e-12)


@pytest.mark.parametrize(
    "feet,springs,words",
    [([], None, "needs feet"), ([[0, 0]], None, "needs feet"), ([[0, 0, 0], [0, 0, 0]], None, "feet 1 and 2"),
     ([[0, 0, nan]], None, "finite"), (SQUARE, [[1, 1, 1], [1, 1, 1]], "one for each"), (SQUARE, [[0, 0, 0]], "nothing")],
)  # fmt: skip
def test_bad_feet_are_refused(feet: list[list[float]], springs: list[list[float]] | None, words: str) -> None:
    with pytest.raises(InputError, match=words):
        Feet.of(feet, springs)
