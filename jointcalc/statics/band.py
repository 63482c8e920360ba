"""Stiffness of a grid of lines as a band, which LAPACK factors, and what is held of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from jointcalc.lapack import blas, lapack

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

    @property
    def spread(self) -> Array:
        """The loads of the modes as forces at the freedoms that they move."""
        return np.asarray(self.loads / (self.modes**2).sum(axis=1) @ self.modes)


class Direction:
    """Where a tangent stiffness leads from forces out of balance; factored once."""

    def __init__(self, K: Band, held: Held, inside: Band | None = None) -> None:
        """`inside` is K with the freedoms held, where that is known."""
        self._lead(held, [K.times(mode) for mode in held.modes], inside or K.held(held.fixed))

    @classmethod
    def steady(cls, K: Band, held: Held) -> Direction:
        """The same of a stiffness that is not asked for again, in its own place.

        Raises NotSteady where it is not positive definite.
        """
        moved = [K.times(mode) for mode in held.modes]
        inside = K.held(held.fixed, spare=True)
        if not inside.cholesky(spare=True):
            raise NotSteady("what is held gives way by itself")
        found = cls.__new__(cls)
        found._lead(held, moved, inside)
        return found

    def _lead(self, held: Held, moved: list[Array], inside: Band) -> None:
        """`moved` are the forces that hold each mode."""
        self.held, self.free, self.inside = held, ~held.fixed, inside
        if moved:
            self.across = np.where(self.free, moved, 0.0)
            self.back = np.stack([self.inside.solve(row) for row in self.across])
            self.own = held.modes @ np.stack(moved).T - self.across @ self.back.T

    def along(self, r: Array, r_m: Array) -> Array:
        """Displacement for the forces r at free freedoms and r_m on the modes."""
        d = self.inside.solve(r)
        if len(self.held.modes) == 0:
            return d
        c = np.linalg.solve(self.own, r_m - self.across @ d)
        return np.asarray(d - c @ self.back + c @ self.held.modes)

    def of(self, R: Array) -> Array:
        """Displacement for forces R out of balance; those at held freedoms count as far as they work on the modes."""
        return self.along(np.where(self.free, R, 0.0), self.held.modes @ R)

    def under(self, F: Array) -> Array:
        """Displacement under the loads F and those of the modes, by this stiffness alone."""
        return self.of(F + self.held.spread)


class NotFound(Exception):
    """No equilibrium."""


class NotSteady(NotFound):
    """What is held gives way by itself."""


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

    def held(self, fixed: npt.NDArray[np.bool_], *, spare: bool = False) -> Band:
        """The same with freedoms held: their rows and columns are those of a diagonal matrix.

        In a copy, unless what is here is `spare`.
        """
        u, n = self.wide, len(fixed)
        out = self.flat if spare else self.flat.copy()
        size = float(np.abs(out[u :: u + 1]).mean())
        at = np.flatnonzero(fixed)
        out.reshape(n, u + 1)[at] = 0.0
        row = (u + at * (u + 1))[:, None] + u * np.arange(u + 1)
        out[row[row < out.size]] = 0.0  # the last rows end with the matrix
        out[u + at * (u + 1)] = size
        return Band(out, u)

    def cholesky(self, *, spare: bool = False) -> bool:
        """Whether the matrix is positive definite, and then its factor; in its own place where it is `spare`."""
        found, info = lapack().dpbtrf(self.table, overwrite_ab=spare)
        if info == 0:
            self._factor = found
        return bool(info == 0)

    def factor(self) -> None:
        """Cholesky's, else with pivots; `steady` tells whether all eigenvalues are positive.

        Raises NotFound for a singular matrix.
        """
        if self.cholesky():
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


MOST_VECTORS, SETTLED = 60, 1e-10
"""Of Lanczos' method: vectors at most, and the change of the square, as a part, that ends it."""


def first_mode(K: Band, weigh: Callable[[Array], Array], start: Array) -> tuple[float, Array]:
    """Square of the first circular frequency of a stiffness, and its mode, by Lanczos' method.

    `weigh` multiplies by the masses; `start` is anything with a part of the mode in it.
    """
    # in the measure of the masses the rows of V are orthonormal, and V M K^-1 M V is T
    v, V, T = start, np.zeros((0, len(start))), np.zeros((MOST_VECTORS, MOST_VECTORS))
    before = 0.0
    for k in range(MOST_VECTORS):
        for _ in (0, 1):
            v = v - (V @ weigh(v)) @ V
        v = v / np.sqrt(v @ weigh(v))
        V = np.vstack([V, v])
        v = K.solve(weigh(v))
        T[k, : k + 1] = V @ weigh(v)
        found, turn = np.linalg.eigh(T[: k + 1, : k + 1])
        if abs(found[-1] - before) < SETTLED * found[-1]:
            break
        before = found[-1]
    return float(1 / found[-1]), turn[:, -1] @ V
