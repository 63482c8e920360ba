"""A thin shell of flat triangles under large displacements, elastic or elastic-plastic.

Each triangle bends as Batoz's discrete Kirchhoff triangle and stretches as Felippa's optimal membrane triangle with
drilling freedoms, which bends in its own plane exactly, however slender.  The stretch of its mid-plane is
Green's strain of the whole displacement, so membrane action is exact for any rotation; the bending part is linear
in the rotations, good up to some 0.2 rad (`STEEPEST`).  Yielding is von Mises' in plane stress, layer by layer
through the thickness, without hardening.

The mesh is a grid of lines, so the stiffness is a band, which LAPACK factors (scipy, imported here alone).
Six freedoms a node: three displacements and three rotations along x, y, z.  Units: N, mm, MPa.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
STEEPEST = 0.3
"""Greatest rotation [rad] up to which the bending part, linear in the rotations, is trusted."""
TOLERANCE = 1e-9
MOST_STEPS, MOST_YIELDING = 60, 12
TOO_FAR = 1e6
YIELDING_TOLERANCE = 1e-7
ROUNDING = 1e-6
CLOSE = 1e-3
"""Out of balance below which the last stiffness is good enough to go on with."""
watchers: list[Callable[[], None]] = []
"""Called before every equilibrium is sought, by who wants to show that something moves."""
LAYERS = 9
"""Gauss-Lobatto points through the thickness, both faces among them."""


def _membrane(x: Array, y: Array, nu: float) -> Array:
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
    odd = [weight * (to_xy @ ((one + two) / 2) @ T) for one, two in ((Q1, Q2), (Q2, Q3), (Q3, Q1))]
    return np.asarray(even[:, None] + np.stack(odd, axis=1))


def _bending(x: Array, y: Array) -> Array:
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
    out = np.empty((n, 3, 3, 9))
    for point, (p, q) in enumerate(((0, 1), (1, 2), (2, 0))):
        area = [0.0, 0.0, 0.0]
        area[p] = area[q] = 0.5
        d = np.empty((n, 2, 6))
        for i in range(3):
            d[:, :, i] = (4 * area[i] - 1) * slope[:, :, i]
        for k, (i, j) in enumerate(((0, 1), (1, 2), (2, 0))):
            d[:, :, 3 + k] = 4 * (area[i] * slope[:, :, j] + area[j] * slope[:, :, i])
        grad = np.einsum("nak,nkbj->nabj", d, H)
        out[:, point, 0], out[:, point, 1] = grad[:, 0, 0], grad[:, 1, 1]
        out[:, point, 2] = grad[:, 0, 1] + grad[:, 1, 0]
    return out


@dataclass(slots=True, eq=False)
class Stresses:
    """Stress and plastic strain of every layer, shape (triangles, 3 points, layers, 3)."""

    plastic: Array


class Shell:
    """A grid of nodes, `X` of shape (lines, nodes a line, 3), each cell cut into two triangles.

    E, nu, t of the sheet; `f_y` None keeps it elastic.
    """

    def __init__(self, X: Array, *, E: float, nu: float, t: float, f_y: float | None = None) -> None:
        self.lines, self.row = X.shape[0], X.shape[1]
        self.X = X.reshape(-1, 3)
        self.count = 6 * len(self.X)
        self.E, self.nu, self.t, self.f_y = E, nu, t, f_y
        self.tri = self._triangles()
        corner = self.X[self.tri]
        normal = np.cross(corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0])
        self.area = np.linalg.norm(normal, axis=1) / 2
        e3 = normal / (2 * self.area)[:, None]
        e1 = np.array([1.0, 0.0, 0.0]) - e3[:, :1] * e3
        e1 /= np.linalg.norm(e1, axis=1)[:, None]
        self.frame = np.stack([e1, np.cross(e3, e1), e3], axis=1)  # rows are the local axes
        local = np.einsum("nic,nkc->nki", self.frame, corner - corner[:, :1])
        x, y = local[:, :, 0], local[:, :, 1]
        B = np.zeros((len(self.tri), 3, 6, 18))
        membrane, bending = _membrane(x, y, nu), _bending(x, y)
        for k in range(3):
            turn = self.frame
            B[:, :, :3, 6 * k : 6 * k + 3] = membrane[..., 3 * k : 3 * k + 2] @ turn[:, None, :2]
            B[:, :, :3, 6 * k + 3 : 6 * k + 6] = membrane[..., 3 * k + 2 : 3 * k + 3] @ turn[:, None, 2:]
            B[:, :, 3:, 6 * k : 6 * k + 3] = bending[..., 3 * k : 3 * k + 1] @ turn[:, None, 2:]
            B[:, :, 3:, 6 * k + 3 : 6 * k + 6] = bending[..., 3 * k + 1 : 3 * k + 3] @ turn[:, None, :2]
        self.B = B
        self.slope = np.stack(
            [np.roll(y, -1, 1) - np.roll(y, -2, 1), np.roll(x, -2, 1) - np.roll(x, -1, 1)], axis=1
        ) / (2 * self.area)[:, None, None]  # fmt: skip
        self.dofs = (6 * self.tri[:, :, None] + np.arange(6)).reshape(len(self.tri), 18)
        self._plan()
        plane = E / (1 - nu**2) * np.array([[1, nu, 0], [nu, 1, 0], [0, 0, (1 - nu) / 2]])
        self.plane = plane
        self.C = np.zeros((6, 6))
        self.C[:3, :3], self.C[3:, 3:] = plane * t, plane * t**3 / 12
        z, w = _lobatto(LAYERS)
        self.z, self.w = z * t / 2, w * t / 2
        self.springs = np.zeros(self.count)

    def _triangles(self) -> Ints:
        rows, columns = np.meshgrid(np.arange(self.lines - 1), np.arange(self.row - 1), indexing="ij")
        i, j = rows.ravel(), columns.ravel()
        a, b = i * self.row + j, (i + 1) * self.row + j
        c, d = b + 1, a + 1
        odd = (i + j) % 2 == 1
        one = np.where(odd[:, None], np.stack([a, b, d], 1), np.stack([a, b, c], 1))
        two = np.where(odd[:, None], np.stack([b, c, d], 1), np.stack([a, c, d], 1))
        return np.concatenate([one, two])

    def _plan(self) -> None:
        """Where the entries on and above the diagonal of every triangle's stiffness go in the band."""
        self.wide = 6 * (self.row + 1) + 5
        i, j = self.dofs[:, :, None], self.dofs[:, None, :]
        self._upper = np.flatnonzero((i <= j).ravel())
        self._where = (self.wide + i - j + j * (self.wide + 1)).ravel()[self._upper]

    # --- strain, stress ------------------------------------------------------------------------------

    def gradients(self, q: Array) -> Array:
        """Slope of the displacement along the local axes, constant in a triangle, shape (n, 2, 3)."""
        return np.asarray(self.slope @ q.reshape(-1, 6)[self.tri, :3])

    def strains(self, q: Array, g: Array | None = None) -> Array:
        """Stretch and curvature at the three points, shape (n, 3, 6)."""
        g = self.gradients(q) if g is None else g
        n = len(self.tri)
        e = (self.B.reshape(n, 18, 18) @ q[self.dofs][:, :, None]).reshape(n, 3, 6)
        e[:, :, :3] += _square(g)[:, None] / 2
        return np.asarray(e)

    def linear_strains(self, q: Array) -> Array:
        """The same of a displacement so small that its squares do not count."""
        n = len(self.tri)
        return np.asarray((self.B.reshape(n, 18, 18) @ q[self.dofs][:, :, None]).reshape(n, 3, 6))

    def resultants(self, e: Array, state: Stresses | None) -> tuple[Array, Array]:
        """Forces and moments per width (n, 3, 6) and their tangent (6, 6) or (n, 3, 6, 6)."""
        if state is None or self.f_y is None:
            return e @ self.C, self.C
        stress, _, over, softer = self._return(e, state)
        w, z = self.w, self.z
        out = np.concatenate([np.einsum("l,npli->npi", w, stress), np.einsum("l,npli->npi", w * z, stress)], axis=2)
        # the elastic tangent, less what is lost in the layers that yield
        points, layer = np.divmod(np.flatnonzero(over), LAYERS)
        lost = (softer - self.plane).reshape(-1, 9).T
        C = np.broadcast_to(self.C, (e.shape[0] * e.shape[1], 6, 6)).copy()
        for rows, columns, power in (
            (slice(3), slice(3), 0),
            (slice(3), slice(3, 6), 1),
            (slice(3, 6), slice(3, 6), 2),
        ):
            weights = (w * z**power)[layer]
            more = np.stack([np.bincount(points, weights * part, len(C)) for part in lost], axis=1).reshape(-1, 3, 3)
            C[:, rows, columns] += more
            if power == 1:
                C[:, columns, rows] += more
        return out, C.reshape(*e.shape[:2], 6, 6)

    def layers(self, e: Array, state: Stresses) -> tuple[Array, Array, Array]:
        """Stress, consistent tangent and plastic strain of every layer: return mapping in plane stress."""
        stress, plastic, over, softer = self._return(e, state)
        tangent = np.broadcast_to(self.plane, (*stress.shape, 3)).copy()
        tangent[over] = softer
        return stress, tangent, plastic

    def yielded(self, q: Array, state: Stresses) -> Stresses:
        """What has yielded once the sheet has come to q."""
        return Stresses(self._return(self.strains(q), state)[1])

    def _return(self, e: Array, state: Stresses) -> tuple[Array, Array, npt.NDArray[np.bool_], Array]:
        """Stress and plastic strain of every layer, which yield, and the consistent tangent of those."""
        assert self.f_y is not None
        E, nu, G = self.E, self.nu, self.E / (2 * (1 + self.nu))
        strain = e[:, :, None, :3] + self.z[:, None] * e[:, :, None, 3:]
        stress = (strain - state.plastic) @ self.plane
        sx, sy, txy = stress[..., 0], stress[..., 1], stress[..., 2]
        limit = self.f_y**2
        over = sx * sx - sx * sy + sy * sy + 3 * txy * txy > limit * (1 + 1e-12)
        plastic = state.plastic
        T = np.zeros((0, 3, 3))
        if over.any():
            s = stress[over]
            p, d, k = (s[:, 0] + s[:, 1]) / np.sqrt(2), (s[:, 1] - s[:, 0]) / np.sqrt(2), s[:, 2]
            c_p, c_d = E / (3 * (1 - nu)), 2 * G
            P, D = p * p / 6, d * d / 2 + k * k
            gamma = np.zeros(len(s))
            for _ in range(30):
                u, v = 1 + c_p * gamma, 1 + c_d * gamma
                f = P / u**2 + D / v**2 - limit / 3
                step = f / (2 * (P * c_p / u**3 + D * c_d / v**3))
                gamma += step
                if np.abs(f).max() < 1e-13 * limit:
                    break
            u, v = 1 + c_p * gamma, 1 + c_d * gamma
            p, d, k = p / u, d / v, k / v
            new = np.stack([(p - d) / np.sqrt(2), (p + d) / np.sqrt(2), k], axis=1)
            stress[over] = new
            plastic = plastic.copy()
            plastic[over] = strain[over] - new @ np.linalg.inv(self.plane)
            # tangent in the directions (sum, difference, shear), where elasticity and yield are both diagonal
            X = np.stack([E / (1 - nu) / u, 2 * G / v, G / v], axis=1)
            normal = np.stack([p / 3, d, 2 * k], axis=1) * X
            T = -normal[:, :, None] * normal[:, None, :]
            T /= (normal * np.stack([p / 3, d, 2 * k], axis=1)).sum(axis=1)[:, None, None]
            T[:, range(3), range(3)] += X
            turn = np.array([[1, -1, 0], [1, 1, 0], [0, 0, np.sqrt(2)]]) / np.sqrt(2)
            T = turn @ T @ turn.T
        return stress, plastic, over, T

    # --- forces, stiffness ---------------------------------------------------------------------------

    def forces(self, q: Array, state: Stresses | None) -> Array:
        """What the sheet resists with at every freedom [N, N mm]."""
        g = self.gradients(q)
        s, _ = self.resultants(self.strains(q, g), state)
        return self._gather(s, self._whole(g)) + self.springs * q

    def _whole(self, g: Array) -> Array:
        """Strain of a small further displacement, shape (n, 3, 6, 18)."""
        more = np.zeros((len(self.tri), 3, 3, 6))  # strain, node, freedom
        one, two = self.slope[:, 0, :, None], self.slope[:, 1, :, None]
        more[:, 0, :, :3] = one * g[:, 0, None]
        more[:, 1, :, :3] = two * g[:, 1, None]
        more[:, 2, :, :3] = one * g[:, 1, None] + two * g[:, 0, None]
        B = self.B.copy()
        B[:, :, :3] += more.reshape(-1, 1, 3, 18)
        return B

    def _gather(self, s: Array, B: Array) -> Array:
        n = len(self.tri)
        weighted = (s * (self.area / 3)[:, None, None]).reshape(n, 1, 18)
        f = (weighted @ B.reshape(n, 18, 18)).ravel()
        return np.bincount(self.dofs.ravel(), weights=f, minlength=self.count).astype(float)

    def tangent(self, q: Array, state: Stresses | None = None) -> Band:
        """Tangent stiffness."""
        _, s, C, B = self._state(q, state)
        return self._stiffness(s, C, B)

    def _state(self, q: Array, state: Stresses | None) -> tuple[Array, Array, Array, Array]:
        """Resistance, forces and moments per width, their tangent, and the strain of a small displacement."""
        g = self.gradients(q)
        s, C = self.resultants(self.strains(q, g), state)
        B = self._whole(g)
        return self._gather(s, B) + self.springs * q, s, C, B

    def _stiffness(self, s: Array, C: Array, B: Array) -> Band:
        n = len(self.tri)
        part = (self.area / 3)[:, None, None, None]
        CB = (C * part) @ B if C.ndim == 4 else (C @ B) * part
        K = B.reshape(n, 18, 18).transpose(0, 2, 1) @ CB.reshape(n, 18, 18)
        K += self.geometric(s)
        stiffness = self.banded(K)
        stiffness.flat[self.wide :: self.wide + 1] += self.springs
        return stiffness

    def geometric(self, s: Array) -> Array:
        """Stiffness of the membrane forces, (n, 18, 18)."""
        n = len(self.tri)
        N = s[:, :, :3].mean(axis=1) * self.area[:, None]
        tensor = np.stack([N[:, 0], N[:, 2], N[:, 2], N[:, 1]], axis=1).reshape(n, 2, 2)
        k = self.slope.transpose(0, 2, 1) @ tensor @ self.slope
        out = np.zeros((n, 3, 6, 3, 6))
        for c in range(3):
            out[:, :, c, :, c] = k
        return out.reshape(n, 18, 18)

    def banded(self, K: Array) -> Band:
        """Stiffness of all triangles (n, 18, 18) put together."""
        size = self.count * (self.wide + 1)
        return Band(
            np.bincount(self._where, weights=K.ravel()[self._upper], minlength=size).astype(float, copy=False),
            self.wide,
        )

    def unstressed(self) -> Stresses:
        """No plastic strain anywhere."""
        return Stresses(np.zeros((len(self.tri), 3, LAYERS, 3)))

    # --- equilibrium -----------------------------------------------------------------------------------

    def solve(
        self,
        F: Array,
        held: Held,
        start: Array | None = None,
        state: Stresses | None = None,
        *,
        search: bool = True,
        scale: float | None = None,
    ) -> Array:
        """Displacements under the loads F, from `start` on; `state` carries what has yielded before.

        Newton's method; with `search` each step goes to the least energy along it, found exactly while
        nothing yields further.  The forces out of balance end below `TOLERANCE` of `scale` (default: all the
        loads).  Raises NotFound when it does not settle.
        """
        for told in watchers:
            told()
        q = np.zeros(self.count) if start is None else start.copy()
        free = ~held.fixed
        modes, pulls = held.modes, held.loads
        scale = scale or float(np.abs(F).sum() + np.abs(pulls).sum()) or 1.0
        tolerance = TOLERANCE if search else YIELDING_TOLERANCE
        last, known = np.inf, None
        for _ in range(MOST_STEPS if search else MOST_YIELDING):
            f, s, C, B = self._state(q, state)
            r, r_m = np.where(free, F - f, 0.0), pulls + modes @ (F - f)
            size = float(np.abs(r).max() + np.abs(r_m).max(initial=0.0)) / scale
            if size < tolerance or last / 2 < size < ROUNDING:
                return q  # in balance, or as near to it as the digits reach
            if not size < TOO_FAR:
                break
            if known is None or size > CLOSE or size > last / 5:
                known = Direction(self._stiffness(s, C, B), held)
            last = size
            d = known.along(r, r_m)
            q += (self._part(q, d, s, F, held) if search else 1.0) * d
        raise NotFound("no equilibrium found for these loads")

    def _part(self, q: Array, d: Array, stress: Array, F: Array, held: Held) -> float:
        """How far along a step the energy is least."""
        g, h = self.gradients(q), self.gradients(d)
        n = len(self.tri)
        e_1 = (self._whole(g).reshape(n, 18, 18) @ d[self.dofs][:, :, None]).reshape(n, 3, 6)
        e_2 = np.zeros((n, 3, 6))
        e_2[:, :, :3] = _square(h)[:, None] / 2
        w = (self.area / 3)[:, None, None]
        s_0, s_1, s_2 = stress * w, e_1 @ self.C * w, e_2 @ self.C * w
        work = float(F @ d)
        if len(held.modes):
            sizes = held.modes @ d / (held.modes**2).sum(axis=1)
            work += float(held.loads @ sizes)
        held_by, turned = float(q @ (self.springs * d)), float(d @ (self.springs * d))
        c_0 = float((s_0 * e_1).sum()) + held_by - work
        c_1 = (e_1 * s_1).sum() + 2 * (s_0 * e_2).sum() + turned
        c = [2 * (e_2 * s_2).sum(), 3 * (e_1 * s_2).sum(), c_1, c_0]
        roots = np.roots(c)
        real = roots.real[(np.abs(roots.imag) < 1e-9) & (roots.real > 1e-3)]
        part = float(min(real, default=1.0))
        return 1.0 if 0.8 < part < 1.25 else min(part, 2.0)


@dataclass(frozen=True, slots=True, eq=False)
class Held:
    """Which freedoms are held, and movements of held ones all together under loads of their own.

    `modes` (k, freedoms) are zero at every free freedom and act on different ones; `loads` [N] is the work of
    the loads on each mode.
    """

    fixed: npt.NDArray[np.bool_]
    modes: Array
    loads: Array


class Direction:
    """Where a tangent stiffness leads from forces out of balance; factored once."""

    def __init__(self, K: Band, held: Held) -> None:
        self.held, self.free = held, ~held.fixed
        self.inside = K.held(held.fixed)
        if len(held.modes):
            self.across = np.stack([np.where(self.free, K.times(mode), 0.0) for mode in held.modes])
            self.back = np.stack([self.inside.solve(row) for row in self.across])
            own = np.array([[mode @ K.times(other) for other in held.modes] for mode in held.modes])
            self.own = own - self.across @ self.back.T

    def along(self, r: Array, r_m: Array) -> Array:
        """Displacement for the forces r at free freedoms and r_m on the modes."""
        d = self.inside.solve(r)
        if len(self.held.modes) == 0:
            return d
        c = np.linalg.solve(self.own, r_m - self.across @ d)
        return np.asarray(d - c @ self.back + c @ self.held.modes)

    def under(self, F: Array) -> Array:
        """Displacement under the loads F and those of the modes, by this stiffness alone."""
        return self.along(np.where(self.free, F, 0.0), self.held.loads + self.held.modes @ F)


class NotFound(Exception):
    """No equilibrium."""


def _square(a: Array) -> Array:
    """Green's products (11, 22, 12 + 21) of the slopes (n, 2, 3)."""
    one, two = a[:, 0], a[:, 1]
    return np.stack([(one * one).sum(-1), (two * two).sum(-1), 2 * (one * two).sum(-1)], axis=-1)


def _lobatto(count: int) -> tuple[Array, Array]:
    """Gauss-Lobatto points and weights on (-1, 1)."""
    c = np.zeros(count)
    c[-1] = 1.0
    inner = np.polynomial.legendre.legroots(np.polynomial.legendre.legder(c))
    z = np.concatenate([[-1.0], inner, [1.0]])
    P = np.polynomial.legendre.legval(z, c)
    return z, 2 / (count * (count - 1) * P**2)


class Band:
    """A symmetric matrix with nothing farther than `wide` from its diagonal.

    `flat` holds the upper half column by column, `wide` + 1 numbers each, the diagonal last (LAPACK's upper band).
    """

    def __init__(self, flat: Array, wide: int) -> None:
        self.flat, self.wide = flat, wide
        self._factor: Array | None = None
        self._turned: Ints | None = None
        self.steady = True

    @property
    def table(self) -> Array:
        """As LAPACK takes it, (wide + 1, n) in column order."""
        return self.flat.reshape(-1, self.wide + 1).T

    def times(self, q: Array) -> Array:
        """Product with a vector."""
        from scipy.linalg import blas

        return np.asarray(blas.dsbmv(self.wide, 1.0, self.table, q))

    def held(self, fixed: npt.NDArray[np.bool_]) -> Band:
        """The same with freedoms held: their rows and columns are those of a diagonal matrix."""
        u, n = self.wide, len(fixed)
        diagonal = self.flat[u :: u + 1]
        size = float(np.abs(diagonal).mean())
        out = np.concatenate([self.flat, np.zeros(u * (u + 1))])  # room for the ends of the last rows
        at = np.flatnonzero(fixed)
        out[: n * (u + 1)].reshape(n, u + 1)[at] = 0.0
        out[(u + at * (u + 1))[:, None] + u * np.arange(u + 1)] = 0.0
        out[u + at * (u + 1)] = size
        return Band(out[: n * (u + 1)], u)

    def factor(self) -> None:
        """Cholesky's, else with pivots; `steady` tells whether all eigenvalues are positive.

        Raises NotFound for a singular matrix.
        """
        from scipy.linalg import lapack

        found, info = lapack.dpbtrf(self.table)
        if info == 0:
            self._factor = found
            return
        self.steady = False
        u, upper = self.wide, self.table
        n = upper.shape[1]
        whole = np.zeros((3 * u + 1, n), order="F")
        whole[u : 2 * u + 1] = upper
        for k in range(1, u + 1):
            whole[2 * u + k, : n - k] = upper[u - k, k:]
        self._factor, self._turned, info = lapack.dgbtrf(whole, u, u, overwrite_ab=1)
        if info > 0:
            raise NotFound("the stiffness is singular")

    def solve(self, f: Array) -> Array:
        """Solution for one right-hand side, or several as rows."""
        from scipy.linalg import lapack

        if self._factor is None:
            self.factor()
        right = np.asarray(f).T
        if self._turned is None:
            found, _ = lapack.dpbtrs(self._factor, right)
        else:
            found, _ = lapack.dgbtrs(self._factor, self.wide, self.wide, right, self._turned)
        return np.asarray(found.T)
