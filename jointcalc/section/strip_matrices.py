"""Stiffness of the strips of a section and the work of its stress, as matrices of the section alone.

Across a strip the plate bends as a cubic and stretches linearly; classical thin plate, membrane and bending, four
degrees of freedom on every nodal line (after Y. K. Cheung, Finite Strip Method in Structural Analysis, 1976).

Decided here: the work of the stress is that on the movements across the brace; that on movements along it is of the
order of stress over E and is left out, as in the column formulas of the codes.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from jointcalc.section.outline import Floats
from jointcalc.section.strips import Strips

Y, Z, TURN, ALONG = range(4)
"""Order of the movements of a nodal line: two across the brace, rotation about it, along it."""


@dataclass(frozen=True)
class Matrices:
    """Stiffness of a strip model, per length: what multiplies P, Q and R, and the work of the stress (by Q).

    Rows are `(nodes * 4)`, movements of a node together, movements along the brace as the factor of Y'.
    """

    p: Floats
    q: Floats
    r: Floats
    work: Floats


SECOND = np.array([[12.0, 6, -12, 6], [6, 4, -6, 2], [-12, -6, 12, -6], [6, 2, -6, 4]])
FIRST = np.array([[36.0, 3, -36, 3], [3, 4, -3, -1], [-36, -3, 36, -3], [3, -1, -3, 4]]) / 30
ZERO = np.array([[156.0, 22, 54, -13], [22, 4, 13, -3], [54, 13, 156, -22], [-13, -3, -22, 4]]) / 420
"""Integrals of H''H'', H'H' and HH for the cubic over a unit width, rows (w1, turn1, w2, turn2)."""


def _local_bending(b: Floats) -> tuple[Floats, Floats, Floats, Floats]:
    """Integrals over strips of width `b` of H''H'', H'H', HH and H''H for the cubic."""
    one = np.ones_like(b)
    size = np.stack([one, b, one, b], axis=1)
    both = size[:, :, None] * size[:, None, :]
    wide = b[:, None, None]
    second, first, zero = SECOND * both / wide**3, FIRST * both / wide, ZERO * both * wide
    # integral of H''H = [H'H] - integral of H'H': the ends give turn times deflection
    mixed = -first
    mixed[:, 1, 0] -= 1
    mixed[:, 3, 2] += 1
    return second, first, zero, mixed


def matrices(model: Strips, stress: Floats, *, E: float, nu: float, stretch_nu: float | None = None) -> Matrices:
    """Assemble the section's matrices under a longitudinal stress [MPa, of the reference material] at the nodal lines.

    `stretch_nu` is Poisson's ratio in the plane of the sheet, that of the material when left out.
    """
    b, t = model.width, model.t
    e = E * model.ratio
    n = len(b)
    second, first, zero, mixed = _local_bending(b)
    rigid = (e * t**3 / (12 * (1 - nu**2)))[:, None, None]
    bend_p = rigid * second
    bend_q = rigid * (2 * (1 - nu) * first - nu * (mixed + mixed.transpose(0, 2, 1)))
    bend_r = rigid * zero
    nu_m = nu if stretch_nu is None else stretch_nu
    sheet, shear = e * t / (1 - nu_m**2), e * t / (2 * (1 + nu))
    pair = np.array([[1.0, -1.0], [-1.0, 1.0]])
    lump = np.array([[2.0, 1.0], [1.0, 2.0]]) / 6
    slope = np.array([[-0.5, -0.5], [0.5, 0.5]])  # integral of N' N
    # local order: u1 v1 w1 turn1 u2 v2 w2 turn2 (u in the plane of the strip across the brace, v along it)
    p, q, r, work = (np.zeros((n, 8, 8)) for _ in range(4))
    u, v, w = [0, 4], [1, 5], [2, 3, 6, 7]
    uu, uv, vu, vv, ww = np.ix_(u, u), np.ix_(u, v), np.ix_(v, u), np.ix_(v, v), np.ix_(w, w)
    every = (slice(None),)
    p[every + uu] = (sheet / b)[:, None, None] * pair
    q[every + uu] = (shear * b)[:, None, None] * lump
    r[every + vv] = (sheet * b)[:, None, None] * lump
    q[every + vv] = (shear / b)[:, None, None] * pair
    across = -nu_m * sheet[:, None, None] * slope + shear[:, None, None] * slope.T
    q[every + uv] = across
    q[every + vu] = across.transpose(0, 2, 1)
    p[every + ww], q[every + ww], r[every + ww] = bend_p, bend_q, bend_r
    # work of the stress s1 .. s2 (linear) on u' and w'
    s_1, s_2 = model.ratio * stress[model.first], model.ratio * stress[model.last]
    on_u = np.empty((n, 2, 2))
    on_u[:, 0, 0], on_u[:, 1, 1] = 3 * s_1 + s_2, s_1 + 3 * s_2
    on_u[:, 0, 1] = on_u[:, 1, 0] = s_1 + s_2
    work[every + uu] = (t * b / 12)[:, None, None] * on_u
    work[every + ww] = (t * b)[:, None, None] * _work_on_cubic(b, s_1, s_2)
    turn = rotation(model)
    index = (np.stack([model.first, model.last], axis=1)[:, :, None] * 4 + np.arange(4)).reshape(n, 8)
    size = 4 * model.nodes
    out = []
    for local in (p, q, r, work):
        globally = turn.transpose(0, 2, 1) @ local @ turn
        whole = np.zeros((size, size))
        np.add.at(whole, (index[:, :, None], index[:, None, :]), globally)
        out.append(whole)
    return Matrices(*out)


def _work_on_cubic(b: Floats, s_1: Floats, s_2: Floats) -> Floats:
    """Integral over the strip of (s_1 .. s_2) H H over its width, by Gauss (exact for degree seven)."""
    points, weights = np.polynomial.legendre.leggauss(4)
    out = np.zeros((len(b), 4, 4))
    for point, weight in zip((points + 1) / 2, weights / 2, strict=True):
        x = float(point)
        shape = np.stack(
            [
                np.full_like(b, 1 - 3 * x**2 + 2 * x**3), b * (x - 2 * x**2 + x**3),
                np.full_like(b, 3 * x**2 - 2 * x**3), b * (x**3 - x**2),
            ],
            axis=1,
        )  # fmt: skip
        out += (weight * (s_1 + (s_2 - s_1) * x))[:, None, None] * shape[:, :, None] * shape[:, None, :]
    return out


def rotation(model: Strips) -> Floats:
    """Local movements (u, v, w, turn at each line) from those of the section (y, z, turn, along)."""
    c = (model.y[model.last] - model.y[model.first]) / model.width
    s = (model.z[model.last] - model.z[model.first]) / model.width
    out = np.zeros((len(c), 8, 8))
    for k in (0, 4):
        out[:, k, k + Y], out[:, k, k + Z] = c, s
        out[:, k + 1, k + ALONG] = 1
        out[:, k + 2, k + Y], out[:, k + 2, k + Z] = -s, c
        out[:, k + 3, k + TURN] = 1
    return out


def freedom(model: Strips, *, offset: bool = True) -> tuple[Floats, int]:
    """(matrix `(4 nodes, free)`, how many are across): every movement from the free ones.

    Links and held movements are worked in; the free movements along the brace come last.  Without
    `offset` linked lines move alike, as if they lay on each other.
    """
    size = 4 * model.nodes
    whole = np.eye(size)
    for one, other in model.links:
        dy, dz = (model.y[other] - model.y[one], model.z[other] - model.z[one]) if offset else (0.0, 0.0)
        a, b = 4 * one, 4 * other
        own = whole[a : a + 4].copy()
        whole[b + Y] = own[Y] - dz * own[TURN]
        whole[b + Z] = own[Z] + dy * own[TURN]
        whole[b + TURN] = own[TURN]
        # no shear strain in the link: what moves along differs by the slope of what moves in line with it
        whole[b + ALONG] = own[ALONG] - dy * own[Y] - dz * own[Z]
    slaves = {other for _, other in model.links}
    free = [
        [4 * node + way for node in range(model.nodes) if node not in slaves and not model.held[node, way]]
        for way in (Y, Z, TURN, ALONG)
    ]
    across = len(free[Y]) + len(free[Z]) + len(free[TURN])
    return whole[:, [way for group in free for way in group]], across
