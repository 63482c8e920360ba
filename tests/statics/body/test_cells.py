"""Thin-walled cells against published boxes, Prandtl's membrane by finite elements, and statics."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest

from jointcalc.errors import InputError
from jointcalc.formula import body as f
from jointcalc.section.families import parse_profile
from jointcalc.statics.cells import STEEL_G, CellWall, Wall, Walls, twist_cells


def rectangle(b: float, h: float, t: float) -> Walls:
    return Walls([(0, 0), (b, 0), (b, h), (0, h)], [Wall(i, (i + 1) % 4, t, "wall") for i in range(4)])


def test_three_cells_of_a_wing_box() -> None:
    """Megson, Aircraft Structures for Engineering Students, three-cell box under 11.3 kN m (from memory): its flows."""
    walls = [
        CellWall(0, None, 1650, 1.22, 24200), CellWall(0, 1, 508, 2.03, 27600), CellWall(1, None, 775, 1.22, 24200),
        CellWall(1, None, 775, 1.22, 24200), CellWall(1, 2, 380, 1.63, 27600), CellWall(2, None, 508, 0.92, 20700),
        CellWall(2, None, 508, 0.92, 20700), CellWall(2, None, 254, 0.92, 20700),
    ]  # fmt: skip
    found = twist_cells([258_000, 355_000, 161_000], walls, 11.3e6)
    assert [round(float(q), 1) for q in found.cells] == [7.1, 8.9, 4.2]


def test_one_cell_is_bredt_s() -> None:
    found = rectangle(300, 200, 1.5).twist(2e6)
    q = f.BREDT_FLOW(T=2e6, A=300 * 200)
    assert np.allclose(np.abs(found.walls), q)
    assert q == pytest.approx(2e6 / (2 * 60_000))
    J = f.BREDT_CONSTANT(A=60_000, S=1000 / 1.5)
    assert found.stiffness == pytest.approx(STEEL_G * J)
    assert f.TWIST(T=2e6, L=1000, G=STEEL_G, J=J) == pytest.approx(found.rate * 1000 * 180 / pi)
    assert f.SHEAR_STRESS(q=q, t=1.5) == pytest.approx(q / 1.5)


def test_a_published_tube() -> None:
    """EN 10219 tables (read): I_t of 50 x 30 x 2 is 9.77 cm4; of thin cells without the walls' own torsion, within 5 %."""
    J = float(parse_profile("box:depth=50mm,width=30mm,t=2mm").properties(density=7.85e-9).J[0])
    assert J == pytest.approx(9.77e4, rel=0.01)
    assert rectangle(48, 28, 2.0).twist(1e5).stiffness / STEEL_G == pytest.approx(9.77e4, rel=0.06)


def test_two_cells_against_prandtl_s_membrane() -> None:
    """Poisson's equation over the metal of a two-cell box (scikit-fem), thin walls: J within 3 %."""
    from skfem import Basis, ElementTriP1, MeshTri, asm, condense, solve
    from skfem.models.poisson import laplace, unit_load

    t, b1, b2, h = 2.0, 60.0, 100.0, 50.0  # middle lines
    grid_y = np.unique(np.r_[
        -t / 2, np.linspace(-t / 2, t / 2, 5), np.linspace(t / 2, b1 - t / 2, 40), np.linspace(b1 - t / 2, b1 + t / 2, 5),
        np.linspace(b1 + t / 2, b1 + b2 - t / 2, 60), np.linspace(b1 + b2 - t / 2, b1 + b2 + t / 2, 5),
    ])  # fmt: skip
    grid_z = np.unique(np.r_[np.linspace(-t / 2, t / 2, 5), np.linspace(t / 2, h - t / 2, 40),
                             np.linspace(h - t / 2, h + t / 2, 5)])  # fmt: skip
    mesh = MeshTri.init_tensor(grid_y, grid_z)
    y, z = mesh.p[:, mesh.t].mean(axis=1)
    holes = [
        (y > left + t / 2) & (y < right - t / 2) & (z > t / 2) & (z < h - t / 2) for left, right in ((0, b1), (b1, b1 + b2))
    ]
    # over a hole the membrane is a stiff flat plate: phi constant there
    basis = Basis(mesh, ElementTriP1())
    stiff = np.where(holes[0] | holes[1], 1e8, 1.0)

    from skfem import BilinearForm
    from skfem.helpers import dot, grad

    @BilinearForm
    def membrane(u, v, w):  # type: ignore[no-untyped-def]
        return stiff[:, None] * dot(grad(u), grad(v))

    K, load = asm(membrane, basis), asm(unit_load, basis)
    assert asm(laplace, basis).shape == K.shape
    phi = solve(*condense(K, 2 * load, D=basis.get_dofs()))
    J = 2 * float(load @ phi)
    walls = Walls(
        [(0, 0), (b1, 0), (b1 + b2, 0), (b1 + b2, h), (b1, h), (0, h)],
        [Wall(0, 1, t), Wall(1, 2, t), Wall(2, 3, t), Wall(3, 4, t), Wall(4, 5, t), Wall(5, 0, t), Wall(1, 4, t)],
    )
    assert walls.twist(1.0).stiffness / STEEL_G == pytest.approx(J, rel=0.03)


def test_cells_are_found_with_branches_and_whichever_way_walls_run() -> None:
    rng = np.random.default_rng(5)
    points = [(0, 0), (100, 0), (100, 80), (0, 80), (300, 0), (400, 0), (400, 60), (300, 60), (200, -50)]
    pairs = [(0, 1), (1, 2), (2, 3), (3, 0), (1, 4), (4, 5), (5, 6), (6, 7), (7, 4), (1, 8)]
    walls = [Wall(a, b, 1.0) if rng.random() < 0.5 else Wall(b, a, 1.0) for a, b in pairs]
    section = Walls(points, walls)
    assert sorted(section.areas) == pytest.approx([6000, 8000])
    twisted = section.twist(1e5)
    # the branch and the floor between both boxes are in no cell
    assert twisted.walls[4] == twisted.walls[9] == 0.0
    # torque of all flows about any point
    for about in ((0.0, 0.0), (500.0, -70.0)):
        p, q = np.array(points)[section.a] - about, np.array(points)[section.b] - about
        assert float((twisted.walls * (p[:, 0] * q[:, 1] - p[:, 1] * q[:, 0])).sum()) == pytest.approx(1e5)


def test_no_cell_carries_no_torque() -> None:
    with pytest.raises(InputError, match="no closed cell"):
        Walls([(0, 0), (1, 0), (1, 1)], [Wall(0, 1, 1.0), Wall(1, 2, 1.0)]).twist(1.0)
    with pytest.raises(InputError, match="falls into pieces"):
        Walls([(0, 0), (1, 0), (2, 0), (3, 0)], [Wall(0, 1, 1.0), Wall(2, 3, 1.0)])
    with pytest.raises(InputError, match="no length or no thickness"):
        Walls([(0, 0), (1, 0)], [Wall(0, 1, 0.0, "lid")])


def test_shear_flow_of_a_box() -> None:
    """V Q/I of a thin box (any textbook): at the middle of a web V (b h t/2 + h²t/8)/(I · 2) for two webs."""
    b, h, t, V = 300.0, 200.0, 1.2, 5000.0
    section = rectangle(b, h, t)
    I_y, I_z, I_yz = section.second_moments()
    assert I_y == pytest.approx(t * (2 * h**3 / 12 + 2 * b * (h / 2) ** 2))
    assert I_z == pytest.approx(t * (2 * b**3 / 12 + 2 * h * (b / 2) ** 2))
    assert I_yz == pytest.approx(0.0, abs=1e-6 * I_y)
    flow = section.shear(V)
    assert abs(flow.middle[1]) == pytest.approx(V * t * (b * h / 2 + h**2 / 4) / (2 * I_y))
    assert flow.greatest[1] == pytest.approx(abs(flow.middle[1]))
    assert flow.middle[0] == pytest.approx(0.0, abs=1e-9)


def test_shear_flow_of_random_sections_adds_up_and_turns_no_cell() -> None:
    rng = np.random.default_rng(3)
    for _ in range(50):
        y, z = rng.uniform(50, 400), rng.uniform(50, 300)
        points = [(0, 0), (y, 0), (y + 150, 0), (y + 150, z), (y, z), (0, z), (-80, 10)]
        pairs = [(0, 1), (1, 2), (2, 3), (3, 4), (4, 5), (5, 0), (1, 4), (0, 6)]
        walls = [Wall(a, b, float(rng.uniform(0.5, 3))) for a, b in pairs]
        section = Walls(points, walls)
        V = float(rng.uniform(-5000, 5000))
        flow = section.shear(V)
        along = (section.points[section.b] - section.points[section.a]) / section.length[:, None]
        assert (flow.force[:, None] * along).sum(axis=0) == pytest.approx([0.0, V], abs=1e-6 * abs(V))
        for cell in range(len(section.areas)):
            turning = sum(
                ((left == cell) - (right == cell)) * force / (STEEL_G * t)
                for (left, right), force, t in zip(section.sides, flow.force, section.t)
            )
            assert turning == pytest.approx(0.0, abs=1e-9)
        assert abs(flow.last[7]) < 1e-9 * abs(V)  # the free end of the lip
        assert np.all(flow.greatest >= np.abs(flow.middle) - 1e-12)
