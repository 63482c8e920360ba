"""The pull at the edges against a strip in cylindrical bending, and whatever the grid happens to be."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import solve_bvp
from scipy.optimize import brentq

from jointcalc.statics.field import answer
from jointcalc.statics.field_shape import Field
from jointcalc.statics.plate import Patch

E, NU = 210000.0, 0.3


def strip_pull(b: float, t: float, q: float, *, clamped: bool) -> float:
    """Pull of a long plate between immovable edges: D d4w - N d2w = q, and N b = E' t times the stretch of its line."""
    stiff = E / (1 - NU**2)
    D = stiff * t**3 / 12

    def slack(N: float) -> float:
        def rows(x, y):
            return np.stack([y[1], y[2], y[3], (q + N * y[2]) / D])

        def ends(a, z):
            return np.array([a[0], z[0], a[1], z[1]] if clamped else [a[0], z[0], a[2], z[2]])

        x = np.linspace(0.0, b, 201)
        found = solve_bvp(rows, ends, x, np.zeros((4, x.size)), tol=1e-6, max_nodes=20000)
        slope = found.sol(np.linspace(0.0, b, 4001))[1]
        return stiff * t * float((slope**2).mean()) / 2 - N

    return float(brentq(slack, 1e-3, 500.0))


@pytest.mark.parametrize("clamped", [False, True])
def test_a_long_plate_pulls_as_a_strip(clamped: bool) -> None:
    """Cylindrical bending, von Karman: the middle of the long edge of a plate five times as long as wide.

    About one width from the short edges, where the plate leaves them, the pull is some hundredths greater.
    """
    turn = float("inf") if clamped else 0.0
    found = answer(Field(1000.0, 200.0, 1.0, E, NU, turn, "held", pressure=0.02))
    strip = strip_pull(200.0, 1.0, 0.02, clamped=clamped)
    assert 0.995 * strip < found.edge_pull < 1.035 * strip


def test_thinner_sheet_pulls_harder_for_its_thickness_whatever_the_grid() -> None:
    """Mechanics; cells are counted in whole numbers, and the pull of neighbours must not jump with them."""
    used = []
    for t in (0.70, 0.73, 0.76, 0.78, 0.80, 0.85):
        patch = Patch(1116.5, 90.0, 60.0, 60.0, 40.0)
        used.append(answer(Field(180.0, 120.0, t, E, NU, 0.0, "held", patches=(patch,))).edge_pull / t)
    assert used == sorted(used, reverse=True)
    # elastic membranes: N goes with t^(1/3), bending takes a little of it
    assert used[0] / used[-1] == pytest.approx((0.85 / 0.70) ** (2 / 3), rel=0.06)


def test_free_edges_pull_at_nothing() -> None:
    """Nothing holds them."""
    assert answer(Field(300.0, 200.0, 1.0, E, NU, float("inf"), "free", pressure=0.01)).edge_pull == 0.0
