"""Stiffness of a grid of lines as a band, which LAPACK factors, and what is held of it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from jointcalc.statics.lapack import blas, lapack

Array = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]


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
        return np.asarray(blas().dsbmv(self.wide, 1.0, self.table, q))

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
        found, info = lapack().dpbtrf(self.table)
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
        self._factor, self._turned, info = lapack().dgbtrf(whole, u, u, overwrite_ab=1)
        if info > 0:
            raise NotFound("the stiffness is singular")

    def solve(self, f: Array) -> Array:
        """Solution for one right-hand side, or several as rows."""
        if self._factor is None:
            self.factor()
        right = np.asarray(f).T
        if self._turned is None:
            found, _ = lapack().dpbtrs(self._factor, right)
        else:
            found, _ = lapack().dgbtrs(self._factor, self.wide, self.wide, right, self._turned)
        return np.asarray(found.T)
