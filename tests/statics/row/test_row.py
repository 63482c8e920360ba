"""Rows of unlike fasteners, some missing, against whole matrices put together by other means."""

from __future__ import annotations

import numpy as np
import pytest

from jointcalc.formula import row_sharing as rs
from jointcalc.statics.row import lifted, shares
from tests.formula.test_row_sharing import bars_and_springs


def test_any_row_against_bars_and_springs() -> None:
    """Unequal pitch, unequal spots, two missing: all patterns at once, each against its own two rows of bars."""
    gaps = np.array([20.0, 35.0, 35.0, 60.0, 12.0])
    k = np.array([80e3, 60e3, 90e3, 40e3, 80e3, 70e3])
    patterns = np.ones((4, 6))
    patterns[1, 0] = patterns[2, 3] = patterns[3, 2] = patterns[3, 3] = 0.0
    ea_1, ea_2 = 210e3 * 30.0, 70e3 * 90.0
    for first in (1.0, 0.5, 0.3):
        push = np.array([first, 0.0, 0.0, 0.0, 0.0, 1 - first])
        ours = shares(stiffness=k * patterns, gaps=gaps, give=1 / ea_1 + 1 / ea_2, push=push)
        for row, pattern in zip(ours, patterns):
            assert row == pytest.approx(bars_and_springs(k * pattern, gaps, ea_1, ea_2, first), rel=1e-7, abs=1e-10)
        assert ours.sum(axis=1) == pytest.approx(np.ones(4))


def test_a_uniform_row_is_the_closed_form() -> None:
    g, C, p, n = 3e-7, 1 / 120e3, 40.0, 30
    push = np.zeros(n)
    push[0], push[-1] = 0.7, 0.3
    ours = shares(stiffness=np.full(n, 1 / C), gaps=np.full(n - 1, p), give=g, push=push)
    closed = rs.SHARE(phi=rs.DECAY(p=p, g=g, C=C), n=n, i=np.arange(1, n + 1), r=0.7)
    assert ours == pytest.approx(closed, rel=1e-9)


def test_a_flow_that_comes_in_all_along_is_shared_alike_until_a_spot_is_missing() -> None:
    """Equal pushes on equal springs part nothing; without one of them, its push goes to its neighbours, by symmetry."""
    k, push = np.ones((2, 9)) * 9e4, np.full(9, 1 / 9)
    k[1, 4] = 0.0
    whole, without = shares(stiffness=k, gaps=np.full(8, 40.0), give=4e-7, push=push)
    assert whole == pytest.approx(push)
    assert without == pytest.approx(without[::-1])
    assert without[3] == without.max() > 1 / 8 > without[0]
    stiff = shares(stiffness=k[1], gaps=np.full(8, 40.0), give=1e-12, push=push)
    assert stiff == pytest.approx(np.where(k[1] > 0, 1 / 8, 0.0), rel=1e-4)


def beam_by_parts(
    k: np.ndarray, at: np.ndarray, length: float, EI: float, ends: tuple[float, float], q: float
) -> np.ndarray:
    """Reactions by forces: flexibility of a free beam held at its first two springs, the others as unknowns.

    Deflection under each force by integrating its bending moment twice on a fine grid ( 8001 points).
    """
    x = np.linspace(0.0, length, 8001)
    on = np.flatnonzero(k > 0)
    a, b = at[on[0]], at[on[1]]

    def held(load: np.ndarray) -> tuple[np.ndarray, float, float]:
        """Moment of vertical forces `load` (place, size) upward on a beam held at a and b, and what holds it."""
        size, place = load[:, 1], load[:, 0]
        R_b = -(size * (place - a)).sum() / (b - a)
        R_a = -size.sum() - R_b
        every = np.vstack([load, [a, R_a], [b, R_b]])
        M = (every[:, 1] * np.maximum(x[:, None] - every[:, 0], 0.0)).sum(axis=1)
        return M, R_a, R_b

    flow = np.column_stack([(np.arange(400) + 0.5) * length / 400, np.full(400, q * length / 400)])
    own = np.vstack([flow, [[0.0, ends[0]], [length, ends[1]]]])
    cases = [held(own), *(held(np.array([[at[i], -1.0]])) for i in on[2:])]
    m = np.array([c[0] for c in cases])
    hold = -np.array([[c[1], c[2]] for c in cases])  # downward, as the springs pull
    work = np.trapezoid(m[:, None, :] * m[None, :, :], x, axis=2) / EI
    work += np.einsum("ia,ja->ij", hold, hold / k[on[:2]])
    for j, i in enumerate(on[2:], start=1):
        work[j, j] += 1 / k[i]
    X = np.linalg.solve(work[1:, 1:], -work[1:, 0])
    found = np.zeros_like(k)
    found[on[:2]] = hold[0] + X @ hold[1:]
    found[on[2:]] = X
    return found


@pytest.mark.parametrize("missing", [(), (2,), (0, 3)])
def test_a_strip_lifted_off_by_the_method_of_forces(missing: tuple[int, ...]) -> None:
    at = np.array([15.0, 50.0, 90.0, 140.0, 165.0, 200.0])
    k = np.array([4e3, 5e3, 3e3, 4e3, 6e3, 4e3])
    k[list(missing)] = 0.0
    for ends, q in (((0.0, 0.0), 2.0), ((300.0, 0.0), 0.0), ((100.0, 250.0), 0.5)):
        ours = lifted(stiffness=k, at=at, length=220.0, bending=4e7, ends=ends, flow=q)
        assert ours == pytest.approx(beam_by_parts(k, at, 220.0, 4e7, ends, q), rel=1e-3, abs=0.05)
        assert ours.sum() == pytest.approx(sum(ends) + 220 * q)


def test_a_close_row_lifted_at_its_end_is_the_beam_on_an_elastic_foundation() -> None:
    """End load P on a long beam: deflection 2 P b / k at the end (Hetényi; any textbook), times k and the pitch."""
    p, n, EI, k_z = 2.0, 800, 210e3 * 4000.0, 500.0
    at = (np.arange(n) + 0.5) * p
    ours = lifted(stiffness=np.full(n, k_z), at=at, length=n * p, bending=EI, ends=(1.0, 0.0), flow=0.0)
    closed = 2 * p * (k_z / p / (4 * EI)) ** 0.25
    # the first spring stands half a pitch in: on the curve exp(-bx) (cos bx - sin bx / ...), b p = 0.03
    b = closed / (2 * p)
    x = p / 2
    assert ours[0] == pytest.approx(closed * np.exp(-b * x) * np.cos(b * x), rel=2e-3)


def test_one_left_standing_takes_all() -> None:
    k = np.array([[0.0, 4e3, 0.0], [4e3, 4e3, 4e3]])
    found = lifted(stiffness=k, at=np.array([10.0, 50.0, 90.0]), length=100.0, bending=1e7, ends=(0.0, 0.0), flow=1.0)
    assert found[0] == pytest.approx([0.0, 100.0, 0.0])
    assert found[1].sum() == pytest.approx(100.0)
