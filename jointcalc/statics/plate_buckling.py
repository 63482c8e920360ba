"""Elastic buckling of a rectangular plate under thrust and shear in its plane, by Ritz's method.

Rigidities may change along x in pieces: beads that stop short of an edge leave flat sheet there.  Deflections are
cubics between lines along x and sines (edges simply supported) or differences of cosines (clamped) across; enough of
them to be within about 1 % of the limit, from above.  Units: N, mm; thrusts are positive.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from jointcalc.statics.plate import Edge, Rigidity

Array = npt.NDArray[np.float64]
TERMS = 9
"""Functions across the plate, and elements along it; up to twice as many where waves are short."""
POINTS = 4
"""Gauss points for each function across and each element along."""


class Piece(NamedTuple):
    """A stretch of x with the same rigidity [mm, N mm]."""

    start: float
    end: float
    rigidity: Rigidity


class _Basis(NamedTuple):
    """Functions of one direction: values and two derivatives (functions, points), places, weights, which are even."""

    values: tuple[Array, Array, Array]
    x: Array
    weight: Array
    even: npt.NDArray[np.bool_]

    def product(self, first: int, second: int, by: Array | float = 1.0) -> Array:
        """Integral of `by` times one derivative times another, function by function."""
        return np.asarray((self.values[first] * self.weight * by) @ self.values[second].T)


def _across(edge: Edge, side: float, count: int) -> _Basis:
    x, weight = np.polynomial.legendre.leggauss(POINTS * count)
    x = (x + 1) * side / 2
    k = np.arange(1, count + 1)[:, None]
    if edge == "simple":
        w = k * np.pi / side
        found = [np.sin(w * x), w * np.cos(w * x), -(w**2) * np.sin(w * x)]
    else:
        v, w = (k - 1) * np.pi / side, (k + 1) * np.pi / side
        found = [
            (np.cos(v * x) - np.cos(w * x)) / k,
            (w * np.sin(w * x) - v * np.sin(v * x)) / k,
            (w**2 * np.cos(w * x) - v**2 * np.cos(v * x)) / k,
        ]
    return _Basis((found[0], found[1], found[2]), x, np.asarray(weight * side / 2), k.ravel() % 2 == 1)


def _along(edge: Edge, lines: Array) -> _Basis:
    """Cubics between lines that are alike about the middle; sums and differences of either side are the functions."""
    u, weight = np.polynomial.legendre.leggauss(POINTS)
    u = (u + 1) / 2
    h, count = np.diff(lines), len(lines)
    found = np.zeros((3, 2 * count, POINTS * len(h)))
    for e, d in enumerate(h):
        at = slice(POINTS * e, POINTS * (e + 1))
        cubics = (
            (1 - 3 * u**2 + 2 * u**3, d * (u - 2 * u**2 + u**3), 3 * u**2 - 2 * u**3, d * (u**3 - u**2)),
            (6 * (u**2 - u) / d, 1 - 4 * u + 3 * u**2, 6 * (u - u**2) / d, 3 * u**2 - 2 * u),
            ((12 * u - 6) / d**2, (6 * u - 4) / d, (6 - 12 * u) / d**2, (6 * u - 2) / d),
        )
        for order, values in enumerate(cubics):
            for freedom, value in zip((e, count + e, e + 1, count + e + 1), values):
                found[order, freedom, at] = value
    rows, even = [], []
    for sign in (1.0, -1.0):
        for start, turned in ((0, sign), (count, -sign)):  # slopes of an even function are odd
            first = 0 if start and edge == "simple" else 1
            for i in range(first, (count + 1) // 2):
                j = count - 1 - i
                if i == j and turned < 0:
                    continue
                row = np.zeros(2 * count)
                row[start + i], row[start + j] = 1.0, turned
                rows.append(row)
                even.append(sign > 0)
    mixed = np.array(rows)
    x = np.asarray((lines[:-1, None] + h[:, None] * u).ravel())
    return _Basis(
        (mixed @ found[0], mixed @ found[1], mixed @ found[2]), x,
        np.asarray((h[:, None] * weight / 2).ravel()), np.array(even),
    )  # fmt: skip


def factor(
    b: float,
    pieces: Sequence[Piece],
    edge: Edge,
    *,
    n_x: float = 0.0,
    n_y: float = 0.0,
    q: float = 0.0,
    terms: int = TERMS,
) -> float:
    """Factor on thrusts n_x along x, n_y along y and shear flow q [N/mm] at which the plate buckles; inf without load.

    The plate is as long as its `pieces`, which are alike about its middle, and b [mm] wide.  Raises ValueError without
    pieces.
    """
    if not pieces:
        raise ValueError("a plate needs at least one piece")
    if not (n_x or n_y or q):
        return float("inf")
    return _factor(b, tuple(pieces), edge, n_x, n_y, abs(q), terms)


@lru_cache(maxsize=64)
def _factor(b: float, pieces: tuple[Piece, ...], edge: Edge, n_x: float, n_y: float, q: float, terms: int) -> float:
    a = pieces[-1].end
    least = min(min(p.rigidity.D_y / p.rigidity.D_x, 1.0) for p in pieces) ** 0.25
    # waves across beads are as much shorter as the sheet bends more easily that way, and more of them in a long plate
    count_x, count_y = (
        min(2 * terms, int(np.ceil(terms * max(1.0, 0.5 * ratio)))) for ratio in (a / b * least, b / (a * least))
    )
    lines = [0.0]
    for piece in pieces:
        parts = max(2, int(np.ceil(count_x * (piece.end - piece.start) / a)))
        lines += list(np.linspace(piece.start, piece.end, parts + 1)[1:])
    X, Y = _along(edge, np.array(lines)), _across(edge, b, count_y)
    D_x, D_y, D_1, D_xy = (
        np.select([X.x <= p.end for p in pieces], [getattr(p.rigidity, name) for p in pieces])
        for name in ("D_x", "D_y", "D_1", "D_xy")
    )
    mixed = np.kron(X.product(2, 0, D_1), Y.product(0, 2))
    K = np.kron(X.product(2, 2, D_x), Y.product(0, 0)) + np.kron(X.product(0, 0, D_y), Y.product(2, 2))
    K += mixed + mixed.T + 4 * np.kron(X.product(1, 1, D_xy), Y.product(1, 1))
    G = n_x * np.kron(X.product(1, 1), Y.product(0, 0)) + n_y * np.kron(X.product(0, 0), Y.product(1, 1))
    if q:
        sheared = np.kron(X.product(1, 0), Y.product(0, 1))
        G = G + q * (sheared + sheared.T)
    # functions alike both ways or neither way about the middles do not meet those alike one way only
    alike = np.equal.outer(X.even, Y.even).ravel()
    found = 0.0
    for which in (alike, ~alike):
        square = np.ix_(which, which)
        lower = np.linalg.cholesky(K[square])
        half = np.linalg.solve(lower, G[square])
        found = max(found, float(np.linalg.eigvalsh(np.linalg.solve(lower, half.T))[-1]))
    return 1 / found


def beaded(
    a: float, through: Rigidity, flat: Rigidity, stop: float, runout: float, steps: int = 4
) -> tuple[Piece, ...]:
    """Pieces of a plate with beads along x that begin `stop` [mm] off either edge and rise over `runout`.

    The run-out is cut into steps; a bead at a part s of its depth bends along x by s² of what it adds to the flat sheet
    (its own height, at the lower end of the step), and takes the less of either sheet's rigidities otherwise.
    """
    if stop <= 0 and runout <= 0:
        return (Piece(0.0, a, through),)
    low = Rigidity(*(min(p, r) for p, r in zip(through, flat)))
    pieces = [Piece(0.0, stop, low)] if stop > 0 else []
    for k in range(steps if runout > 0 else 0):
        part = (k / steps) ** 2
        D = low._replace(D_x=low.D_x + part * (max(through.D_x, low.D_x) - low.D_x))
        pieces.append(Piece(stop + k * runout / steps, stop + (k + 1) * runout / steps, D))
    ends = [Piece(a - p.end, a - p.start, p.rigidity) for p in reversed(pieces)]
    middle = Piece(stop + runout, a - stop - runout, through)
    return (*pieces, *([middle] if middle.end - middle.start > 1e-9 * a else []), *ends)
