"""The flat triangle of the shell: how it stretches (Felippa) and how it bends (Batoz), from where its corners lie.

Corners are given on the triangle's own axes, x and y of shape (n, 3) [mm].
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]


def membrane_strains(x: Array, y: Array, nu: float) -> Array:
    """Felippa's optimal triangle: membrane strain at the middles of sides 12, 23, 31, shape (n, 3, 3, 9).

    Freedoms u, v, drilling rotation node by node.  Constant part from the lumping matrix (alpha = 3/2), the part
    that is odd about the centroid from the hierarchical rotations (beta_1 .. beta_9 = 1, 2, 1, 0, 1, -1, -1, -1,
    -2; beta_0 = (1 - 4 nu^2)/2).  C. A. Felippa, Comput. Methods Appl. Mech. Engrg. 192 (2003), from memory,
    held to exact bending in the plane at any side ratio.
    """
    n = len(x)

    def X(i: int, j: int) -> Array:
        return np.asarray(x[:, i - 1] - x[:, j - 1])

    def Y(i: int, j: int) -> Array:
        return np.asarray(y[:, i - 1] - y[:, j - 1])

    A = (X(2, 1) * Y(3, 1) - X(3, 1) * Y(2, 1)) / 2
    a6, a3 = 1.5 / 6, 1.5 / 3
    L = np.zeros((n, 9, 3))
    for k, (i, j, m) in enumerate(((1, 2, 3), (2, 3, 1), (3, 1, 2))):
        L[:, 3 * k, 0] = L[:, 3 * k + 1, 2] = Y(j, m)
        L[:, 3 * k, 2] = L[:, 3 * k + 1, 1] = X(m, j)
        L[:, 3 * k + 2, 0] = a6 * Y(j, m) * (Y(i, m) - Y(j, i))
        L[:, 3 * k + 2, 1] = a6 * X(m, j) * (X(m, i) - X(i, j))
        L[:, 3 * k + 2, 2] = a3 * (X(m, i) * Y(i, m) - X(i, j) * Y(j, i))
    even = L.transpose(0, 2, 1) / (2 * A)[:, None, None]

    T = np.zeros((n, 3, 9))
    for k, (j, m) in enumerate(((3, 2), (1, 3), (2, 1))):
        T[:, :, 3 * k] = (X(j, m) / (4 * A))[:, None]
        T[:, :, 3 * k + 1] = (Y(j, m) / (4 * A))[:, None]
        T[:, k, 3 * k + 2] = 1.0
    l21, l32, l13 = (X(i, j) ** 2 + Y(i, j) ** 2 for i, j in ((2, 1), (3, 2), (1, 3)))
    to_xy = np.empty((n, 3, 3))
    for k, (l2, (p, q), (r, s)) in enumerate(((l21, (2, 3), (1, 3)), (l32, (3, 1), (2, 1)), (l13, (1, 2), (3, 2)))):
        to_xy[:, 0, k] = Y(p, q) * Y(r, s) * l2
        to_xy[:, 1, k] = X(p, q) * X(r, s) * l2
        to_xy[:, 2, k] = (Y(p, q) * X(s, r) + X(q, p) * Y(r, s)) * l2
    to_xy /= (4 * A**2)[:, None, None]
    b = (0.0, 1.0, 2.0, 1.0, 0.0, 1.0, -1.0, -1.0, -1.0, -2.0)

    def Q(rows: tuple[tuple[int, int, int], ...]) -> Array:
        beta = np.array([[b[i] for i in row] for row in rows])
        lengths = np.stack([l21, l32, l13], axis=1)
        return np.asarray((2 * A / 3)[:, None, None] * beta[None] / lengths[:, :, None])

    Q1 = Q(((1, 2, 3), (4, 5, 6), (7, 8, 9)))
    Q2 = Q(((9, 7, 8), (3, 1, 2), (6, 4, 5)))
    Q3 = Q(((5, 6, 4), (8, 9, 7), (2, 3, 1)))
    weight = 1.5 * np.sqrt((1 - 4 * nu**2) / 2)
    odd = weight * np.stack([to_xy @ (one + two) / 2 for one, two in ((Q1, Q2), (Q2, Q3), (Q3, Q1))], axis=1)
    return np.asarray(even[:, None] + (odd.reshape(n, 9, 3) @ T).reshape(n, 3, 3, 9))


def curvatures(x: Array, y: Array) -> Array:
    """Batoz's discrete Kirchhoff triangle: curvature at the middles of sides 12, 23, 31, shape (n, 3, 3, 9).

    Freedoms w, rotation about x, rotation about y node by node; z times the curvature is the strain at z.
    """
    n = len(x)
    H = np.zeros((n, 6, 2, 9))  # turn of the normal (towards x, towards y) at corners and middles of sides
    for i in range(3):
        H[:, i, 0, 3 * i + 2] = 1.0
        H[:, i, 1, 3 * i + 1] = -1.0
    for k, (i, j) in enumerate(((0, 1), (1, 2), (2, 0))):
        dx, dy = x[:, j] - x[:, i], y[:, j] - y[:, i]
        length = np.hypot(dx, dy)
        c, s = dx / length, dy / length
        ends = H[:, i] + H[:, j]
        along = c[:, None] * ends[:, 0] + s[:, None] * ends[:, 1]
        normal = (-s[:, None] * ends[:, 0] + c[:, None] * ends[:, 1]) / 2
        turn = -along / 4
        turn[:, 3 * i] += 1.5 / length
        turn[:, 3 * j] -= 1.5 / length
        H[:, 3 + k, 0] = c[:, None] * turn - s[:, None] * normal
        H[:, 3 + k, 1] = s[:, None] * turn + c[:, None] * normal
    A2 = (x[:, 1] - x[:, 0]) * (y[:, 2] - y[:, 0]) - (x[:, 2] - x[:, 0]) * (y[:, 1] - y[:, 0])
    slope = np.stack(
        [np.roll(y, -1, 1) - np.roll(y, -2, 1), np.roll(x, -2, 1) - np.roll(x, -1, 1)], axis=1
    ) / A2[:, None, None]  # (n, 2, 3): gradients of the area coordinates  # fmt: skip
    out, by_place = np.empty((n, 3, 3, 9)), H.reshape(n, 6, 18)
    for point, (p, q) in enumerate(((0, 1), (1, 2), (2, 0))):
        area = [0.0, 0.0, 0.0]
        area[p] = area[q] = 0.5
        d = np.empty((n, 2, 6))
        for i in range(3):
            d[:, :, i] = (4 * area[i] - 1) * slope[:, :, i]
        for k, (i, j) in enumerate(((0, 1), (1, 2), (2, 0))):
            d[:, :, 3 + k] = 4 * (area[i] * slope[:, :, j] + area[j] * slope[:, :, i])
        grad = (d @ by_place).reshape(n, 2, 2, 9)
        out[:, point, 0], out[:, point, 1] = grad[:, 0, 0], grad[:, 1, 1]
        out[:, point, 2] = grad[:, 0, 1] + grad[:, 1, 0]
    return out
