"""Tubes in a racked field against statics by hand and an independent pin-jointed truss."""

from __future__ import annotations

from math import hypot

import numpy as np
import pytest

from jointcalc.errors import InputError
from jointcalc.formula import body as f
from jointcalc.statics.racking import rack, tube


def test_one_diagonal_by_statics() -> None:
    """A sheet's end force q·width along the edge is the diagonal's part along it: N = q · diagonal."""
    found = rack(2000, 1400, [((0, 0), (2000, 1400))], [9e4], 0.9)
    assert found.forces[0] == pytest.approx(0.9 * hypot(2000, 1400))


def test_a_cross_shares_by_stiffness_whether_or_not_it_is_joined_in_the_middle() -> None:
    k = np.array([9e4, 3e4])
    found = rack(2000, 1400, [((0, 0), (2000, 1400)), ((2000, 0), (0, 1400))], k, 0.9)
    whole = 0.9 * hypot(2000, 1400)
    assert np.allclose(found.forces, np.array([1, -1]) * whole * k / k.sum())
    middle = (1000.0, 700.0)
    halves = [((0, 0), middle), (middle, (2000, 1400)), ((2000, 0), middle), (middle, (0, 1400))]
    joined = rack(2000, 1400, halves, 2 * k.repeat(2), 0.9)
    assert np.allclose(np.abs(joined.forces), whole * k.repeat(2) / k.sum())


def truss(nodes, bars, stiffness, held, force):
    """Displacements of a pin-jointed plane truss: nodes (n, 2), bars, EA/L, degrees held, forces."""
    K = np.zeros((2 * len(nodes), 2 * len(nodes)))
    for (i, j), k in zip(bars, stiffness):
        u = np.subtract(nodes[j], nodes[i])
        u = u / np.linalg.norm(u)
        g = np.zeros(2 * len(nodes))
        g[2 * i : 2 * i + 2], g[2 * j : 2 * j + 2] = -u, u
        K += k * np.outer(g, g)
    free = [d for d in range(2 * len(nodes)) if d not in held]
    x = np.zeros(2 * len(nodes))
    x[free] = np.linalg.solve(K[np.ix_(free, free)], np.asarray(force)[free])
    return x


def test_against_a_truss_with_stiff_edges() -> None:
    """Edges as bars a million times stiffer, corners hinged, the flow as forces at the corners."""
    rng = np.random.default_rng(8)
    for _ in range(10):
        L, W = rng.uniform(800, 2500, 2)
        inner = (float(rng.uniform(0.2, 0.8) * L), float(rng.uniform(0.2, 0.8) * W))
        nodes = [(0, 0), (L, 0), (L, W), (0, W), inner]
        tubes = [(0, 2), (1, 4), (4, 3), (4, 2)]
        k = rng.uniform(2e4, 2e5, len(tubes))
        edges, stiff = [(0, 1), (1, 2), (2, 3), (3, 0)], [1e11] * 4
        q = 1.3
        # the lower edge is held; along the upper one the flow runs, q L in all
        force = np.zeros(2 * len(nodes))
        force[[4, 6]] = q * L / 2
        x = truss(nodes, edges + tubes, [*stiff, *k], {0, 1, 2, 3}, force)
        theirs = []
        for (i, j), ki in zip(tubes, k):
            u = np.subtract(nodes[j], nodes[i])
            u = u / np.linalg.norm(u)
            theirs.append(ki * u @ (x[2 * j : 2 * j + 2] - x[2 * i : 2 * i + 2]))
        ours = rack(L, W, [(nodes[i], nodes[j]) for i, j in tubes], k, q)
        assert np.allclose(ours.forces, theirs, rtol=1e-4, atol=1e-4 * max(np.abs(theirs)))
        assert ours.angle == pytest.approx(x[4] / W, rel=1e-4)


def test_formulas_of_a_tube() -> None:
    assert f.TUBE_STIFFNESS(E=210e3, A_t=226.0, L_t=2000.0) == pytest.approx(210e3 * 226 / 2000)
    assert tube(E=210e3, A=226.0, length=2000.0).value == pytest.approx(210e3 * 226 / 2000)
    assert f.RACKING_ANGLE(R=2.8e6, K=1.4e9) == pytest.approx(2e-3)
    assert f.TUBE_FORCE(k=1e4, g=1000.0, gamma=2e-3) == pytest.approx(2e4)


def test_what_holds_nothing_is_refused() -> None:
    with pytest.raises(InputError, match="runs aslant"):
        rack(2000, 1400, [((0, 0), (0, 1400)), ((0, 0), (2000, 0))], [1e5, 1e5], 1.0)
    with pytest.raises(InputError, match="do not hold that point"):
        rack(2000, 1400, [((0, 0), (1000, 700)), ((1000, 700), (2000, 1400))], [1e5, 1e5], 1.0)
    with pytest.raises(InputError, match="off the field"):
        rack(2000, 1400, [((0, 0), (2100, 1400))], [1e5], 1.0)
    with pytest.raises(InputError, match="no length"):
        rack(2000, 1400, [((0, 0), (0, 0))], [1e5], 1.0)
