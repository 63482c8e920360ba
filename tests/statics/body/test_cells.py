"""Several cells of a body's section: Bredt's equations written out here, which a published wing box holds, and Prandtl's
membrane by finite elements.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from math import degrees

import numpy as np
import pytest

from jointcalc.formula import body as f
from jointcalc.statics.body import SIDES, STEEL_G, Box
from jointcalc.statics.body_bending import bend
from jointcalc.statics.body_twist import twist

VAN = Box(2000.0, 1400.0, 1200.0, dict.fromkeys(SIDES, 0.8), sill=(100.0, 120.0, 1.2), tunnel=(250.0, 200.0, 1.0),
          plate=1.5)  # fmt: skip


def bredt(areas: list[float], walls: list[tuple[int, int | None, float, float, float]], T: float) -> np.ndarray:
    """Flow of each cell: equal twist of all cells and the sum of their torques; walls are cell, cell, length, t, G."""
    n = len(areas)
    A, b = np.zeros((n + 1, n + 1)), np.zeros(n + 1)
    for one, other, length, t, G in walls:
        for cell, beside in ((one, other), (other, one)):
            if cell is not None:
                A[cell, cell] += length / (G * t)
                if beside is not None:
                    A[cell, beside] -= length / (G * t)
    A[:n, n] = [-2 * a for a in areas]  # times the twist per length
    A[n, :n], b[n] = [2 * a for a in areas], T
    return np.linalg.solve(A, b)


def test_the_equations_here_give_the_published_wing_box() -> None:
    """Megson, Aircraft Structures for Engineering Students, three-cell box under 11.3 kN m (from memory): its flows."""
    walls = [
        (0, None, 1650, 1.22, 24200), (0, 1, 508, 2.03, 27600), (1, None, 775, 1.22, 24200), (1, None, 775, 1.22, 24200),
        (1, 2, 380, 1.63, 27600), (2, None, 508, 0.92, 20700), (2, None, 508, 0.92, 20700), (2, None, 254, 0.92, 20700),
    ]  # fmt: skip
    found = bredt([258_000, 355_000, 161_000], walls, 11.3e6)
    assert [round(float(q), 1) for q in found[:3]] == [7.1, 8.9, 4.2]


@pytest.mark.parametrize("G_tunnel", [80770.0, 26923.0])
def test_a_body_of_four_cells(G_tunnel: float) -> None:
    """Box, tunnel and two sills; the tunnel of steel, then of aluminium."""
    T, G = 4e6, STEEL_G
    ratio = G_tunnel / G
    found = twist(replace(VAN, ratios={"tunnel": ratio, "tunnel plate": ratio}), T)
    areas = [1400 * 1200 - 2 * 100 * 120 - 250 * 200, 250 * 200, 100 * 120, 100 * 120]
    clear = 1400 - 200 - 250
    walls = [
        (0, None, 1400, 0.8, G), (0, None, 2 * (1200 - 120), 0.8, G), (0, None, clear, 0.8, G),
        (0, 1, 2 * 200 + 250, 1.0, G_tunnel), (1, None, 250, 1.5, G_tunnel),
        *((0, n, 220, 1.2, G) for n in (2, 3)), *((n, None, 220, 1.2, G) for n in (2, 3)),
    ]  # fmt: skip
    *q, rate = bredt(areas, walls, T)
    assert found.flows["roof"] == pytest.approx(q[0], rel=1e-4)
    assert found.flows["floor"] == pytest.approx(q[0], rel=1e-4)
    assert found.flows["tunnel plate"] == pytest.approx(q[1], rel=1e-4)
    assert found.flows["tunnel"] == pytest.approx(abs(q[0] - q[1]), rel=1e-3)
    assert found.flows["sill"] == pytest.approx(max(abs(q[2]), abs(q[0] - q[2])), rel=1e-4)
    assert found.stiffness == pytest.approx(T / rate, rel=1e-4)
    assert found.degrees == pytest.approx(degrees(rate * 2000.0), rel=1e-4)


def test_one_closed_tunnel_is_bredt_s() -> None:
    sheets = dict.fromkeys(("floor", "left side", "right side"), 0.8)
    found = twist(replace(VAN, sheets=sheets, sill=None), 2e6)
    assert found.flows["tunnel"] == pytest.approx(2e6 / (2 * 50_000))
    assert f.BREDT_FLOW(T=2e6, A=50_000.0) == pytest.approx(20.0)
    J = 4 * 50_000**2 / (650 / 1.0 + 250 / 1.5)
    assert f.BREDT_CONSTANT(A=50_000.0, S=650 / 1.0 + 250 / 1.5) == pytest.approx(J)
    assert found.stiffness == pytest.approx(STEEL_G * J)
    angle = degrees(2e6 * 2000 / (STEEL_G * J))
    assert f.TWIST(T=2e6, L=2000.0, G=STEEL_G, J=J) == pytest.approx(angle)
    assert found.degrees == pytest.approx(angle)
    assert f.SHEAR_STRESS(q=20.0, t=1.5) == pytest.approx(20 / 1.5)


def test_two_cells_against_prandtl_s_membrane() -> None:
    """Poisson's equation over the metal of a small box with a closed tunnel (scikit-fem): J within 3 % of thin walls."""
    from skfem import Basis, BilinearForm, ElementTriP1, MeshTri, asm, condense, solve
    from skfem.helpers import dot, grad
    from skfem.models.poisson import unit_load

    t, w, h, b, d = 1.0, 100.0, 60.0, 40.0, 30.0
    box = Box(1000.0, w, h, dict.fromkeys(SIDES, t), tunnel=(b, d, t), plate=t)

    def grid(lines: list[float]) -> np.ndarray:
        thin = np.concatenate([np.linspace(x - t / 2, x + t / 2, 5) for x in lines])
        wide = [np.linspace(one + t / 2, other - t / 2, 25) for one, other in pairwise(lines)]
        return np.unique(np.round(np.concatenate([thin, *wide]), 9))

    mesh = MeshTri.init_tensor(grid([-w / 2, -b / 2, b / 2, w / 2]), grid([0.0, d, h]))
    y, z = mesh.p[:, mesh.t].mean(axis=1)
    inner = (np.abs(y) < b / 2 - t / 2) & (z > t / 2) & (z < d - t / 2)
    outer = (np.abs(y) < w / 2 - t / 2) & (z > t / 2) & (z < h - t / 2)
    outer &= ~((np.abs(y) < b / 2 + t / 2) & (z < d + t / 2))
    # over a cell the membrane is a light stiff plate: as high everywhere
    stiff = np.where(inner | outer, 1e7, 1.0)
    basis = Basis(mesh, ElementTriP1())

    @BilinearForm
    def membrane(u, v, _):  # type: ignore[no-untyped-def]
        return stiff[:, None] * dot(grad(u), grad(v))

    load = asm(unit_load, basis)
    phi = solve(*condense(asm(membrane, basis), 2 * load, D=basis.get_dofs()))
    J = 2 * float(load @ phi)
    assert twist(box, 1e3).stiffness / STEEL_G == pytest.approx(J, rel=0.03)  # type: ignore[operator]


def test_shear_flows_of_a_bent_body_add_up() -> None:
    """V Q/I by cutting: the roof of a box in two halves; the whole section's flow adds up to V (section's own test)."""
    V = 5000.0
    box = Box(2000.0, 1400.0, 1200.0, dict.fromkeys(SIDES, 0.8))
    found = bend(box, 0.0, V)
    Q = 0.8 * 1400 / 2 * 600
    assert found.flows["roof"] == pytest.approx(V * Q / found.I_y, rel=1e-3)
    middle = V * (Q + 0.8 * 600 * 300) / found.I_y
    assert found.flows["left side"] == pytest.approx(middle, rel=1e-3)
