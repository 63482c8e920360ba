"""The panel's own finite elements against the classic tables, an independent shell model, and mechanics.

Timoshenko and Woinowsky-Krieger (converged series, from memory): 0.00406235 and 0.00126532 q a^4/D.  Levy, NACA TR 737
and 847 (from memory).  Strip with yielding: an independent one-dimensional model, converged in layers and steps
[computed].  Beads with their ends are held to an independent shell model in tests/check/test_panel.py.
"""

from __future__ import annotations

from dataclasses import replace
from math import inf, log2, pi, sqrt

import numpy as np
import pytest

from jointcalc.statics import field as fields
from jointcalc.statics.band import Held
from jointcalc.statics.field import answer
from jointcalc.statics.field_grid import Grid, grid
from jointcalc.statics.field_shape import Beads, Field
from jointcalc.statics.plate import Patch
from jointcalc.statics.shell import Shell
from jointcalc.statics.triangle import curvatures, membrane_strains

E, NU = 210_000.0, 0.3
X = np.array([[0.0, 7.0, 2.0]])
Y = np.array([[0.0, 1.0, 5.0]])


def test_membrane_patch_and_rigid_turn() -> None:
    B = membrane_strains(X, Y, NU)[0]
    turned = np.array([[-y, x, 1.0] for x, y in zip(X[0], Y[0])]).ravel()
    assert np.abs(B @ turned).max() < 1e-12
    a, b, c, d = 0.3, 0.2, -0.1, 0.5
    q = np.array([[a * x + b * y, c * x + d * y, (c - b) / 2] for x, y in zip(X[0], Y[0])]).ravel()
    assert B @ q == pytest.approx(np.tile([a, d, b + c], (3, 1)), abs=1e-12)


@pytest.mark.parametrize("ratio", [1.0, 5.0, 20.0])
def test_bending_in_the_plane_is_exact_however_slender(ratio: float) -> None:
    # beam theory: two triangles of a rectangle ratio x 1 bent in their plane to curvature 1 store E I L / 2
    C = E / (1 - NU**2) * np.array([[1, NU, 0], [NU, 1, 0], [0, 0, (1 - NU) / 2]])
    x = np.array([[0, ratio, ratio], [0, ratio, 0.0]])
    y = np.array([[0, 0, 1.0], [0, 1.0, 1.0]]) - 0.5
    B, energy = membrane_strains(x, y, NU), 0.0
    for k in (0, 1):
        q = np.array([[-u * v, u * u / 2 + NU * v * v / 2, u] for u, v in zip(x[k], y[k])]).ravel()
        energy += sum(ratio / 12 * e @ C @ e for e in B[k] @ q)
    assert energy == pytest.approx(E * ratio / 24, rel=1e-12)


def test_bending_patch() -> None:
    # w = x^2 + 2 x y + 3 y^2: curvature -w_xx, -w_yy, -2 w_xy; rotations w_y, -w_x
    B = curvatures(X, Y)[0]
    q = np.array([[x * x + 2 * x * y + 3 * y * y, 2 * x + 6 * y, -2 * x - 2 * y] for x, y in zip(X[0], Y[0])]).ravel()
    assert B @ q == pytest.approx(np.tile([-2.0, -6.0, -4.0], (3, 1)), abs=1e-11)


def linear(field: Field, grids: int) -> list[float]:
    g, found = grid(field), []
    for _ in range(grids):
        K = g.shell.tangent(np.zeros(g.shell.count)).held(g.held.fixed)
        found.append(g.deflection(K.solve(np.where(g.held.fixed, 0.0, g.F))))
        g = g.finer()
    return found


@pytest.mark.parametrize("turn, coefficient", [(0.0, 0.00406235), (inf, 0.00126532)])
def test_square_plates_and_the_order_of_convergence(turn: float, coefficient: float) -> None:
    q, a = 1e-6, 400.0
    low, high, finer, finest = linear(Field(a, a, 1.0, E, NU, turn, pressure=q), 4)
    exact = coefficient * q * a**4 / (E / 12 / (1 - NU**2))
    assert high + (high - low) / 3 == pytest.approx(exact, rel=2e-3)
    assert finest + (finest - finer) / 3 == pytest.approx(exact, rel=3e-4)
    assert log2((high - finer) / (finer - finest)) == pytest.approx(2.0, abs=0.3)


@pytest.mark.parametrize("load, w_over_t", [(12.1, 0.486), (56.9, 1.424), (161.0, 2.307), (497.0, 3.600)])
def test_levy_straight_edges_free_to_draw_in(load: float, w_over_t: float) -> None:
    a = 400.0
    found = answer(Field(a, a, 1.0, E, sqrt(0.1), 0.0, "straight", pressure=load * E / a**4))
    assert abs(found.deflection) == pytest.approx(w_over_t, rel=0.01)


@pytest.mark.parametrize("load, w_over_t", [(17.79, 0.237), (38.3, 0.471), (63.4, 0.695), (95.0, 0.912),
                                            (134.9, 1.121), (184.0, 1.323), (245.0, 1.521)])  # fmt: skip
def test_levy_clamped_and_held(load: float, w_over_t: float) -> None:
    # nu^2 = 0.1; a series cut short, which parts from the converged answer as the load grows: 2 % up to here
    a = 400.0
    found = answer(Field(a, a, 1.0, E, sqrt(0.1), pressure=load * E / a**4))
    assert abs(found.deflection) == pytest.approx(w_over_t, rel=0.02)


def test_a_turning_edge_lies_between() -> None:
    # one-dimensional: a strip held by springs k at both ends, w = 5 q L^4/(384 D) (1 - 4/5 x 2/(2 + 2/r)), r = k L/(2 D)
    q, b, k = 1e-6, 200.0, 300.0
    D = E / 12 / (1 - NU**2)
    low, high = linear(Field(2000.0, b, 1.0, E, NU, (0.0, 0.0, k, k), pressure=q), 2)
    r = k * b / (2 * D)
    moment = q * b**2 / 12 * r / (1 + r)
    exact = 5 * q * b**4 / (384 * D) - moment * b**2 / (8 * D)
    assert high + (high - low) / 3 == pytest.approx(exact, rel=2e-3)


def test_frequencies() -> None:
    # Leissa 1973 (from memory): clamped square 35.99, simply supported 2 pi^2
    D, mu, a = E / 12 / (1 - NU**2), 7.85e-9, 400.0
    for turn, parameter in ((inf, 35.986), (0.0, 2 * pi**2)):
        found = fields.frequency(Field(a, a, 1.0, E, NU, turn), mu)
        assert found == pytest.approx(parameter / (2 * pi * a**2) * sqrt(D / mu), rel=3e-3)


def test_modes_alike_and_odd_about_the_middles() -> None:
    # Navier: (m^2 + n^2) pi^2, of which 2, 5, 5, 8 on the quarter of a square plate
    D, mu, a = E / 12 / (1 - NU**2), 7.85e-9, 400.0
    g = grid(Field(a, a, 1.0, E, NU, 0.0)).finer()
    unit = pi / (2 * a**2) * sqrt(D / mu)
    found = [g.frequency(mu, 0.0, odd) / unit for odd in ((False, False), (True, False), (False, True), (True, True))]
    assert found == pytest.approx([2, 5, 5, 8], rel=0.01)


def test_the_lowest_mode_may_be_odd() -> None:
    # beads that stiffen the panel along them: across them it bends as a strip; one wave there, as Leissa's 1 1 mode.
    # A panel free to turn at two opposite edges and stiff at the others still has its lowest mode alike; with a stiff
    # bead under the middle alone the odd one, whose node line is the bead, comes first
    line = ((-10.0, 0.0), (-5.0, 6.0), (5.0, 6.0), (10.0, 0.0))
    joints = tuple(float(v) for v in np.cumsum([0.0, sqrt(61), 10.0, sqrt(61)]))
    rib = Beads((300.0,), line, joints, 0.0, 0.0)
    field = Field(300.0, 600.0, 0.5, E, NU, 0.0, beads=rib)
    g, mu = grid(field), 7.85e-9 * 0.5
    alike, odd = g.frequency(mu), g.frequency(mu, 0.0, (False, True))
    assert odd < alike
    assert fields.frequency(field, mu) == pytest.approx(odd, rel=0.03)
    # half a panel 300 x 290 and the bead's own turning: at least a simply supported plate of the whole width's half
    D = E * 0.5**3 / 12 / (1 - NU**2)
    assert fields.frequency(field, mu) > 0.95 * pi / 2 * (1 / 300**2 + 1 / 300**2) * sqrt(D / mu)


def test_what_is_laid_on_swings_with_it() -> None:
    field = Field(400.0, 400.0, 1.0, E, NU)
    assert fields.frequency(field, 7.85e-9, 3 * 7.85e-9) == pytest.approx(
        fields.frequency(field, 7.85e-9) / 2, rel=1e-4
    )


def test_edges_each_on_its_own() -> None:
    # Timoshenko and Woinowsky-Krieger, two opposite edges simply supported, the others clamped: 0.00192 q a^4/D
    q, a = 1e-6, 400.0
    D = E / 12 / (1 - NU**2)
    field = Field(a, a, 1.0, E, NU, (0.0, 0.0, inf, inf), pressure=q)
    assert abs(fields.linear(field)) * D / (q * a**4) == pytest.approx(0.00192, rel=5e-3)
    turned = replace(field, turn=(inf, inf, 0.0, 0.0))
    assert fields.linear(turned) == pytest.approx(fields.linear(field), rel=1e-3)
    # a stiff enough spring is a clamp, a weak one none
    for spring, word in ((1e9, inf), (1e-6, 0.0)):
        held = replace(field, turn=(0.0, inf, word, 0.0))
        assert fields.linear(replace(field, turn=(0.0, inf, spring, 0.0))) == pytest.approx(
            fields.linear(held), rel=1e-4
        )


def test_a_patch_away_from_the_middle() -> None:
    # Navier's series for the same rectangle, at the place of the greatest deflection
    from jointcalc.statics import plate as plates

    rigidity, _ = plates.flat(E, NU, 1.0)
    patch = Patch(1.0, 150.0, 110.0, 80.0, 50.0)
    series = plates.solve(600.0, 400.0, rigidity, "simple", patches=[patch]).deflection_max()[0]
    field = Field(600.0, 400.0, 1.0, E, NU, 0.0, patches=(patch,))
    assert fields.linear(field) == pytest.approx(series, rel=5e-3)
    # the same seen from the other end
    assert fields.linear(replace(field, patches=(replace(patch, x=450.0),))) == pytest.approx(series, rel=5e-3)


def test_patches_alike_about_a_middle_need_half_the_panel() -> None:
    two = (Patch(50.0, 150.0, 110.0, 80.0, 50.0), Patch(50.0, 450.0, 110.0, 80.0, 50.0))
    field = Field(600.0, 400.0, 1.0, E, NU, patches=two)
    assert field.alike == (True, False)
    g = grid(field)
    q = g.shell.solve(g.F, g.held)
    assert 2 * g.reaction(q) == pytest.approx(field.load, rel=1e-9)
    whole = answer(replace(field, turn=(1e9, inf, inf, inf)))
    assert answer(field).deflection == pytest.approx(whole.deflection, rel=3e-3)


@pytest.mark.parametrize("inplane", ["held", "straight", "free"])
@pytest.mark.parametrize("turn", [(0.0, inf, 500.0, 0.0), (0.0, 0.0, inf, 0.0), 0.0])
def test_edges_carry_the_load_whatever_they_are(turn: float | tuple[float, float, float, float], inplane: str) -> None:
    patch = Patch(200.0, 180.0, 150.0, 60.0, 40.0)
    field = Field(600.0, 400.0, 1.0, E, NU, turn, inplane, pressure=1e-3, patches=(patch,))  # type: ignore[arg-type]
    g = grid(field)
    q = g.shell.solve(g.F, g.held)
    assert g.reaction(q) == pytest.approx(field.load, rel=1e-9)
    # in the plane nothing pushes on the panel: the edges' pulls are in balance among themselves
    push = (g.shell.forces(q, None) - g.F).reshape(-1, 6)[:, :2].sum(axis=0)
    assert np.abs(push).max() < 1e-7 * field.load


def test_edges_carry_what_is_laid_on() -> None:
    field = Field(600.0, 400.0, 1.0, E, NU, pressure=1e-3, patches=(Patch(200.0, 180.0, 150.0, 60.0, 40.0),))
    g = grid(field)  # nothing is alike about a middle: the whole panel
    q = g.shell.solve(g.F, g.held)
    assert field.load == pytest.approx(440.0)
    assert g.reaction(q) == pytest.approx(field.load, rel=1e-9)
    out_of_balance = np.where(g.held.fixed, 0.0, g.F - g.shell.forces(q, None))
    assert np.abs(out_of_balance).max() < 1e-8 * field.load


def test_whole_and_quarter_agree() -> None:
    field = Field(500.0, 300.0, 1.0, E, NU, pressure=2e-3)
    quarter = answer(field)
    whole = answer(replace(field, turn=(1e9, inf, 1e9, inf)))  # as good as clamped, but not alike
    assert whole.deflection == pytest.approx(quarter.deflection, rel=2e-3)


@pytest.mark.parametrize("x, f_y", [(250.0, 140.0), (200.0, None)])
def test_the_surface_is_the_whole_panel(x: float, f_y: float | None) -> None:
    # a quarter unfolded, and a half of it
    found = answer(Field(500.0, 300.0, 1.0, E, NU, patches=(Patch(600.0, x, 150.0, 60.0, 40.0),), f_y=f_y))
    seen = found.surface
    assert seen.w.shape == seen.yielding.shape == seen.stays.shape == (len(seen.x), len(seen.y))
    assert (seen.x[0], seen.x[-1], seen.y[0], seen.y[-1]) == (0.0, 500.0, 0.0, 300.0)
    assert (np.diff(seen.x) > 0).all()
    assert (np.diff(seen.y) > 0).all()
    assert seen.w[[0, -1]].max() == 0 == seen.w[:, [0, -1]].max()
    i, j = np.unravel_index(seen.w.argmax(), seen.w.shape)
    assert abs(seen.x[i] - x) < 30
    assert seen.y[j] == pytest.approx(150.0)
    assert seen.w.max() == pytest.approx(found.deflection)
    assert seen.yielding.max() == pytest.approx(found.deflection_yielding)
    assert seen.stays.max() == pytest.approx(found.permanent_set)
    assert seen.w[:, ::-1] == pytest.approx(seen.w, abs=1e-9)


def test_the_volume_under_the_surface() -> None:
    # Navier's series meant over the plate: 64 q a^4 / (pi^8 D) sum 1 / (m n (m^2 + n^2))^2, m and n odd
    a, q = 300.0, 1e-6
    seen = answer(Field(a, a, 1.0, E, NU, 0.0, pressure=q)).surface
    m, n = np.meshgrid(np.arange(1, 80, 2), np.arange(1, 80, 2))
    mean = 64 * q * a**4 / (pi**8 * E / 12 / (1 - NU**2)) * float((1.0 / (m * n * (m**2 + n**2)) ** 2).sum())
    assert np.trapezoid(np.trapezoid(seen.w, seen.y, axis=1), seen.x) / a**2 == pytest.approx(mean, rel=0.01)


def strip(pressure: float, cells: int) -> Grid:
    """A strip 10 mm wide of a long clamped panel 400 mm across: nothing moves along it."""
    y = 200 * np.linspace(0, 1, cells + 1) ** 1.5
    g = Grid(Field(20.0, 400.0, 1.2, E, NU, pressure=pressure, f_y=140.0), np.array([0.0, 10.0]), y)
    fixed = g.held.fixed.reshape(-1, 6)
    for line in g.numbers():
        fixed[line[1:-1]] = [True, False, False, False, True, True]
        fixed[line[0]], fixed[line[-1]] = True, [True, True, False, True, True, True]
    g.held = Held(fixed.ravel(), g.held.modes, g.held.loads)
    return g


@pytest.mark.parametrize("pressure, elastic, loaded, stays", [(0.010, 3.23, 3.24, 0.0943), (0.080, 6.79, 8.33, 4.6)])
def test_a_long_strip_yields(pressure: float, elastic: float, loaded: float, stays: float) -> None:
    g = strip(pressure, 32)
    found = fields._run(g, [(0.0, np.zeros(g.shell.count)), (1.0, g.shell.solve(g.F, g.held))], 1.0)
    assert found["deflection"] == pytest.approx(elastic, rel=5e-3)
    assert found["deflection_yielding"] == pytest.approx(loaded, rel=0.01)
    assert found["permanent_set"] == pytest.approx(stays, rel=0.03)


def test_a_strip_gives_way_as_plastic_hinges_say() -> None:
    # plastic theory, plane strain: simply supported, free to draw in, q = 8 M_p / L^2, M_p = 2/sqrt(3) f_y t^2 / 4
    g = strip(1.0, 24)
    fixed = g.held.fixed.reshape(-1, 6)
    for line in g.numbers():
        fixed[line[0]] = [True, False, True, False, True, True]
        fixed[line[-1], 1] = True
    g.held = Held(fixed.ravel(), g.held.modes, g.held.loads)
    limit = 8 * 2 / sqrt(3) * 140.0 * 1.2**2 / 4 / 400**2
    state, q = g.shell.unstressed(), np.zeros(g.shell.count)
    _, _, held = fields._follow(g, q, state, 0.0, 1.2 * limit, 12)
    assert held == pytest.approx(limit, rel=0.03)


def test_the_forces_of_turned_sheet_are_the_slope_of_its_energy() -> None:
    """Virtual work: along any small step the forces do what the strains' energy, half of strain times stress, grows by."""
    x, y = np.meshgrid(np.linspace(0, 40, 5), np.linspace(0, 30, 4), indexing="ij")
    shell = Shell(np.stack([x, y, 2 * np.sin(y / 10)], axis=-1), E=E, nu=NU, t=1.0)
    rng = np.random.default_rng(5)
    sizes = np.tile([0.01, 0.01, 0.3, 0.02, 0.02, 0.002], shell.count // 6)
    q = rng.normal(size=shell.count) * sizes

    def energy(q: np.ndarray) -> float:
        e = shell.strains(q)
        return float(((e @ shell.C) * e).sum(axis=-1).mean(axis=-1) @ shell.area + (shell.springs * q) @ q) / 2

    assert abs(q.reshape(-1, 6)[:, 2]).max() > 0.2  # it turns by hundredths: the squares of the slopes count
    for _ in range(8):
        step = rng.normal(size=shell.count) * sizes
        grown = (energy(q + 1e-4 * step) - energy(q - 1e-4 * step)) / 2e-4
        assert shell.forces(q, None) @ step == pytest.approx(grown, rel=1e-6, abs=1e-6 * energy(q))


def test_return_to_the_yield_surface() -> None:
    shell = Shell(np.array([[[0.0, 0, 0], [0, 1, 0]], [[1, 0, 0], [1, 1, 0]]]), E=E, nu=NU, t=1.0, f_y=140.0)
    rng = np.random.default_rng(1)
    e = rng.normal(0, 2e-3, (2, 3, 6))
    stress, tangent, plastic = shell.layers(e, shell.unstressed())
    x, y, xy = stress[..., 0], stress[..., 1], stress[..., 2]
    mises = np.sqrt(x * x - x * y + y * y + 3 * xy * xy)
    assert mises.max() <= 140.0 * (1 + 1e-9)
    # the tangent is the derivative
    step = 1e-8 * rng.normal(size=e.shape)
    more = shell.layers(e + step, shell.unstressed())[0]
    strain = step[:, :, None, :3] + shell.z[:, None] * step[:, :, None, 3:]
    told = np.einsum("nplij,nplj->npli", tangent, strain)
    assert more - stress == pytest.approx(told, abs=2e-3 * np.abs(told).max())
    # no plastic work is given back
    assert (np.einsum("npli,npli->npl", stress, plastic) >= -1e-12).all()


@pytest.mark.parametrize("pressure, towards, snaps", [(0.02, True, False), (0.1, True, True), (0.2, True, True),
                                                      (0.02, False, False), (0.2, False, False)])  # fmt: skip
def test_a_shallow_arch_snaps_through_one_way(pressure: float, towards: bool, snaps: bool) -> None:
    # one wide bead, a shallow arch 100 mm wide, 2 mm high, of 0.5 mm sheet, feet held.  One half-wave of its height
    # [derivation]: p = (4/pi)^-1 E' k^4 (I (h - b) + A/4 (h^2 - b^2) b), at its greatest for b^2 = (h^2 - 4 I/A)/3:
    # it goes over at 0.069 MPa, and pressed from inside never
    h, wide, t = 2.0, 100.0, 0.5
    stiff, k = E / (1 - NU**2), pi / wide
    inertia = t**3 / 12
    b = sqrt((h**2 - 4 * inertia / t) / 3)
    limit = pi / 4 * stiff * k**4 * (inertia * (h - b) + t / 4 * (h**2 - b**2) * b)
    assert 0.02 < 0.5 * limit < limit < 0.1
    y = np.linspace(-wide / 2, wide / 2, 25)
    z = h * (1 - (2 * y / wide) ** 2)
    along = np.concatenate([[0.0], np.cumsum(np.hypot(np.diff(y), np.diff(z)))])
    bead = Beads((wide / 2 + 1,), tuple(zip(y, z)), tuple(along[::6]), 0.0, 0.0, towards)
    found = answer(Field(600.0, wide + 2, t, E, NU, 0.0, pressure=pressure, beads=bead))
    assert found.snaps is snaps
    assert (abs(found.deflection) > 2 * h) is snaps
