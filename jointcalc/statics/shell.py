"""A thin shell of flat triangles under large displacements, elastic or elastic-plastic.

Each triangle bends as Batoz's discrete Kirchhoff triangle and stretches as Felippa's optimal membrane triangle with
drilling freedoms, which bends in its own plane exactly, however slender.  The stretch of its mid-plane is
Green's strain of the whole displacement, so membrane action is exact for any rotation; the bending part is linear
in the rotations, good up to some 0.2 rad (`STEEPEST`).  Yielding is von Mises' in plane stress, layer by layer
through the thickness, without hardening.

The mesh is a grid of lines, so the stiffness is a band (`band`); the elements themselves are in `triangle`.
Six freedoms a node: three displacements and three rotations along x, y, z.  Units: N, mm, MPa.
"""

from __future__ import annotations

from collections.abc import Callable
from copy import copy
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from jointcalc.statics.balance import BALANCED, Elastic, Lead, Rest, product, tensor, watchers
from jointcalc.statics.band import Array, Band, Direction, Held, Ints, NotFound
from jointcalc.statics.triangle import curvatures, membrane_strains

STEEPEST = 0.3
"""Greatest rotation [rad] up to which the bending part, linear in the rotations, is trusted."""
TOLERANCE = 1e-9
MOST_STEPS, MOST_YIELDING = 60, 12
TOO_FAR = 1e6
YIELDING_TOLERANCE = 1e-7
ROUNDING = 1e-6
CLOSE = 1e-3
"""Out of balance below which the last stiffness is good enough to go on with."""
LAYERS = 9
"""Gauss-Lobatto points through the thickness, both faces among them."""


@dataclass(slots=True, eq=False)
class Stresses:
    """Stress and plastic strain of every layer, shape (triangles, 3 points, layers, 3)."""

    plastic: Array


AT_ONCE = 256
"""Triangles whose stiffness is made at once: their matrices stay in the processor's cache."""


class Shell:
    """A grid of nodes, `X` of shape (lines, nodes a line, 3), each cell cut into two triangles.

    E, nu, t of the sheet; `f_y` None keeps it elastic.  `cut` (cells) says which are cut from their first corner to the
    far one (1), between the other two (-1), or in turn with their neighbours (0, all of them where it is left out).
    `springs` hold every freedom back on their own.
    """

    def __init__(
        self, X: Array, *, E: float, nu: float, t: float, f_y: float | None = None, cut: Ints | None = None,
        springs: Array | None = None,
    ) -> None:  # fmt: skip
        self.lines, self.row = X.shape[0], X.shape[1]
        self.cut = np.zeros((self.lines - 1, self.row - 1), int) if cut is None else cut
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
        # rows are a node's own freedoms, columns all: in the plane two displacements and the turn, across it the others
        own, n = np.zeros((len(self.tri), 6, 6)), len(self.tri)
        own[:, :2, :3] = own[:, 4:, 3:] = self.frame[:, :2]
        own[:, 2, 3:] = own[:, 3, :3] = self.frame[:, 2]
        B = np.empty((n, 3, 6, 3, 6))
        B[:, :, :3] = (membrane_strains(x, y, nu).reshape(n, 27, 3) @ own[:, :3]).reshape(n, 3, 3, 3, 6)
        B[:, :, 3:] = (curvatures(x, y).reshape(n, 27, 3) @ own[:, 3:]).reshape(n, 3, 3, 3, 6)
        self.B = B.reshape(n, 3, 6, 18)
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
        self.springs = np.zeros(self.count) if springs is None else springs
        # a copy that has none: in a ring the matrices would stay until the next sweep for such
        self.rest = Rest(copy(self))

    def of_strength(self, f_y: float | None) -> Shell:
        """The same sheet of another yield strength, what is known of it at rest shared."""
        other = copy(self)
        other.f_y = f_y
        return other

    def _crossed(self) -> npt.NDArray[np.bool_]:
        """Which cells are cut from their second corner to the fourth."""
        i, j = np.indices(self.cut.shape)
        return np.where(self.cut == 0, (i + j) % 2 == 1, self.cut < 0)

    def _triangles(self) -> Ints:
        i, j = (each.ravel() for each in np.indices(self.cut.shape))
        a, b = i * self.row + j, (i + 1) * self.row + j
        c, d = b + 1, a + 1
        odd = self._crossed().ravel()
        one = np.where(odd[:, None], np.stack([a, b, d], 1), np.stack([a, b, c], 1))
        two = np.where(odd[:, None], np.stack([b, c, d], 1), np.stack([a, c, d], 1))
        return np.concatenate([one, two])

    def within(self, coarse: Shell) -> Ints:
        """For every triangle that of a grid half as fine in which it lies, by its middle."""
        i, j = (each[self.tri].sum(axis=1) for each in np.divmod(np.arange(len(self.X)), self.row))
        # six times a coarse cell's side is the sum over the corners
        (row, u), (column, v) = np.divmod(i, 6), np.divmod(j, 6)
        far = np.where(coarse._crossed()[row, column], u + v >= 6, v > u)
        return np.asarray(row * (coarse.row - 1) + column + far * coarse.cut.size)

    def _plan(self) -> None:
        """Where the entries on and above the diagonal of every triangle's stiffness go in the band."""
        self.wide = 6 * (self.row + 1) + 5
        i, j = (self.dofs.astype(np.int32).reshape(shape) for shape in ((-1, 18, 1), (-1, 1, 18)))
        upper = i <= j
        # of every triangle as many: 18 on the diagonal, and one of each pair beside it
        self._upper = np.flatnonzero(upper).reshape(-1, 171) - 324 * np.arange(len(self.tri))[:, None]
        self._where = (i + self.wide * (j + 1))[upper].astype(np.intp).reshape(-1, 171)

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
        out, C = e @ self.C, np.broadcast_to(self.C, (*e.shape[:2], 6, 6)).copy()
        at = self._yields(e, state)
        stress, _, over, softer = self._return(e[at], state.plastic[at])
        w, z = self.w, self.z
        out[at] = np.concatenate([w @ stress, (w * z) @ stress], axis=-1)
        # the elastic tangent, less what is lost in the layers that yield
        points, layer = np.divmod(np.flatnonzero(over), LAYERS)
        lost = (softer - self.plane).reshape(-1, 9).T
        own = C[at]
        for rows, columns, power in (
            (slice(3), slice(3), 0),
            (slice(3), slice(3, 6), 1),
            (slice(3, 6), slice(3, 6), 2),
        ):
            weights = (w * z**power)[layer]
            more = np.stack([np.bincount(points, weights * part, len(own)) for part in lost], axis=1)
            more = more.reshape(-1, 3, 3)
            own[:, rows, columns] += more
            if power == 1:
                own[:, columns, rows] += more
        C[at] = own
        return out, C

    def _yields(self, e: Array, state: Stresses) -> npt.NDArray[np.bool_]:
        """Points of the triangles that yield somewhere or have: von Mises' stress is greatest at a face until then."""
        assert self.f_y is not None
        out = state.plastic.any(axis=(-2, -1))
        for z in (self.t / 2, -self.t / 2):
            s = (e[..., :3] + z * e[..., 3:]) @ self.plane
            out |= _mises_squared(s) > self.f_y**2
        return np.asarray(out)

    def layers(self, e: Array, state: Stresses) -> tuple[Array, Array, Array]:
        """Stress, consistent tangent and plastic strain of every layer: return mapping in plane stress."""
        stress, plastic, over, softer = self._return(e, state.plastic)
        tangent = np.broadcast_to(self.plane, (*stress.shape, 3)).copy()
        tangent[over] = softer
        return stress, tangent, plastic

    def yielded(self, q: Array, state: Stresses) -> Stresses:
        """What has yielded once the sheet has come to q."""
        e, plastic = self.strains(q), state.plastic.copy()
        at = self._yields(e, state)
        plastic[at] = self._return(e[at], plastic[at])[1]
        return Stresses(plastic)

    def _return(self, e: Array, plastic: Array) -> tuple[Array, Array, npt.NDArray[np.bool_], Array]:
        """Stress and plastic strain of every layer, which yield, and the consistent tangent of those."""
        assert self.f_y is not None
        E, nu, G = self.E, self.nu, self.E / (2 * (1 + self.nu))
        strain = e[..., None, :3] + self.z[:, None] * e[..., None, 3:]
        stress = (strain - plastic) @ self.plane
        limit = self.f_y**2
        over = _mises_squared(stress) > limit * (1 + 1e-12)
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
        if state is None:
            return Elastic(self, q).forces
        g = self.gradients(q)
        s, _ = self.resultants(self.strains(q, g), state)
        return self._gather(s, self._whole(g)) + self.springs * q

    def _whole(self, g: Array) -> Array:
        """Strain of a small further displacement, shape (n, 3, 6, 18)."""
        B = self.B.copy()
        B[:, :, :3] += self.turned(g).reshape(-1, 1, 3, 18)
        return B

    def turned(self, g: Array, part: slice = slice(None)) -> Array:
        """Stretch that a small further displacement adds where some triangles turned, (n, 3, node, freedom)."""
        slope = self.slope[part]
        more = np.zeros((len(slope), 3, 3, 6))
        one, two = slope[:, 0, :, None], slope[:, 1, :, None]
        more[:, 0, :, :3] = one * g[:, 0, None]
        more[:, 1, :, :3] = two * g[:, 1, None]
        more[:, 2, :, :3] = one * g[:, 1, None] + two * g[:, 0, None]
        return more

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
        N = s[:, :, :3].mean(axis=1) * self.area[:, None]

        def of(part: slice) -> Array:
            K = self.material(B[part], C[part] if C.ndim == 4 else C, part)
            return self.add_geometric(K, N[part], part)

        stiffness = self.banded(of)
        stiffness.flat[self.wide :: self.wide + 1] += self.springs
        return stiffness

    def material(self, B: Array, C: Array, part: slice) -> Array:
        """Stiffness of some triangles (n, 18, 18) whose strains are B under the tangent C, (6, 6) or (n, 3, 6, 6)."""
        area = (self.area[part] / 3)[:, None, None, None]
        CB = (C * area) @ B if C.ndim == 4 else (C @ B) * area
        return np.asarray(B.reshape(-1, 18, 18).transpose(0, 2, 1) @ CB.reshape(-1, 18, 18))

    def geometric(self, s: Array) -> Band:
        """Stiffness of the membrane forces in the stresses s."""
        N = s[:, :, :3].mean(axis=1) * self.area[:, None]
        return self.banded(lambda part: self.add_geometric(np.zeros((len(N[part]), 18, 18)), N[part], part))

    def add_geometric(self, K: Array, N: Array, part: slice) -> Array:
        """K, with the stiffness of membrane forces, times area (n, 3), added to that of some triangles."""
        slope = self.slope[part]
        k = slope.transpose(0, 2, 1) @ tensor(N) @ slope
        parts = K.reshape(-1, 3, 6, 3, 6)
        for c in range(3):
            parts[:, :, c, :, c] += k
        return K

    def banded(self, stiffness: Callable[[slice], Array], onto: Band | None = None) -> Band:
        """Stiffness of all triangles put together, added to `onto`; `stiffness` gives that of some, (n, 18, 18)."""
        flat = np.zeros(self.count * (self.wide + 1)) if onto is None else onto.flat.copy()
        for first in range(0, len(self.tri), AT_ONCE):
            part = slice(first, first + AT_ONCE)
            own = stiffness(part).reshape(-1, 324)
            np.add.at(flat, self._where[part].ravel(), np.take_along_axis(own, self._upper[part], axis=1).ravel())
        return Band(flat, self.wide)

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
        q = np.zeros(self.count) if start is None else start.copy()
        if state is None:
            return Lead(self, held).balance(F, q, within=BALANCED / 10)
        for watch in watchers:
            watch()
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


def _mises_squared(s: Array) -> Array:
    x, y, xy = s[..., 0], s[..., 1], s[..., 2]
    return np.asarray(x * x - x * y + y * y + 3 * xy * xy)


def _square(g: Array) -> Array:
    """Green's products of the slopes (n, 2, 3), (n, 3)."""
    turned = g.transpose(1, 2, 0)
    return product(turned, turned).T


def _lobatto(count: int) -> tuple[Array, Array]:
    """Gauss-Lobatto points and weights on (-1, 1)."""
    c = np.zeros(count)
    c[-1] = 1.0
    # all are real, but not every release of numpy says so
    inner = np.polynomial.legendre.legroots(np.polynomial.legendre.legder(c)).real
    z = np.concatenate([[-1.0], inner, [1.0]])
    P = np.polynomial.legendre.legval(z, c)
    return z, 2 / (count * (count - 1) * P**2)
