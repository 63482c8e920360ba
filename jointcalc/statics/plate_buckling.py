"""Elastic buckling of a rectangular plate under thrust and shear in its plane, by Ritz's method.

Rigidities may change along x in pieces: beads that stop short of an edge leave flat sheet there.  Deflections are
sines (edges simply supported) or differences of cosines (clamped); the result is from above and is worked out with
enough of them to be within about 1 % of its limit, 3 % where there are pieces.  Units: N, mm; thrusts are positive.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from jointcalc.statics.plate import Edge, Rigidity

Array = npt.NDArray[np.float64]
TERMS = 12
"""Functions along either side of a plate of one rigidity; twice as many along x where it has pieces."""
POINTS = 4
"""Gauss points for each function and piece."""


class Piece(NamedTuple):
    """A stretch of x with the same rigidity [mm, N mm]."""

    start: float
    end: float
    rigidity: Rigidity


def _functions(edge: Edge, side: float, count: int, x: Array) -> tuple[Array, Array, Array]:
    """Values and two derivatives of the first functions at x, shape (count, points)."""
    k = np.arange(1, count + 1)[:, None]
    if edge == "simple":
        w = k * np.pi / side
        return np.sin(w * x), w * np.cos(w * x), -(w**2) * np.sin(w * x)
    v, w = (k - 1) * np.pi / side, (k + 1) * np.pi / side
    size = 1 / k
    return (
        size * (np.cos(v * x) - np.cos(w * x)),
        size * (-v * np.sin(v * x) + w * np.sin(w * x)),
        size * (-(v**2) * np.cos(v * x) + w**2 * np.cos(w * x)),
    )


def _gauss(start: float, end: float, count: int) -> tuple[Array, Array]:
    x, w = np.polynomial.legendre.leggauss(count)
    return start + (x + 1) * (end - start) / 2, w * (end - start) / 2


def factor(
    b: float,
    pieces: Sequence[Piece],
    edge: Edge,
    *,
    n_x: float = 0.0,
    n_y: float = 0.0,
    q: float = 0.0,
    terms: int | None = None,
) -> float:
    """Factor on thrusts n_x along x, n_y along y and shear flow q [N/mm] at which the plate buckles; inf without load.

    The plate is as long as its `pieces`, b [mm] wide.  Raises ValueError without pieces.
    """
    return _factor(b, tuple(pieces), edge, n_x, n_y, abs(q), terms)


@lru_cache(maxsize=64)
def _factor(
    b: float, pieces: tuple[Piece, ...], edge: Edge, n_x: float, n_y: float, q: float, terms: int | None
) -> float:
    if not pieces:
        raise ValueError("a plate needs at least one piece")
    if not (n_x or n_y or q):
        return float("inf")
    a = pieces[-1].end
    least = min(min(p.rigidity.D_y / p.rigidity.D_x, 1.0) for p in pieces) ** 0.25
    # waves across beads are as much shorter as the sheet bends more easily that way, and more of them in a long plate
    many = terms or TERMS
    count_x = min(2 * many, int(np.ceil(many * max(1.0, 0.5 * a / b * least)))) if len(pieces) == 1 else 2 * many
    count_y = min(2 * many, int(np.ceil(many * max(1.0, 0.5 * b / (a * least)))))
    y, v = _gauss(0.0, b, POINTS * count_y)
    g0, g1, g2 = _functions(edge, b, count_y, y)
    Y = {(i, j): (p * v) @ r.T for i, p in enumerate((g0, g1, g2)) for j, r in enumerate((g0, g1, g2))}
    size = count_x * count_y
    K, G = np.zeros((size, size)), np.zeros((size, size))
    for piece in pieces:
        x, u = _gauss(piece.start, piece.end, POINTS * count_x)
        f0, f1, f2 = _functions(edge, a, count_x, x)
        D = piece.rigidity

        def X(p: Array, r: Array, u: Array = u) -> Array:
            return np.asarray((p * u) @ r.T)

        mixed = np.kron(X(f2, f0), Y[0, 2])
        K += D.D_x * np.kron(X(f2, f2), Y[0, 0]) + D.D_y * np.kron(X(f0, f0), Y[2, 2])
        K += D.D_1 * (mixed + mixed.T) + 4 * D.D_xy * np.kron(X(f1, f1), Y[1, 1])
        if n_x:
            G += n_x * np.kron(X(f1, f1), Y[0, 0])
        if n_y:
            G += n_y * np.kron(X(f0, f0), Y[1, 1])
        if q:
            sheared = np.kron(X(f1, f0), Y[0, 1])
            G += q * (sheared + sheared.T)
    # where both middles are alike, functions with an even and with an odd sum of half waves do not meet
    at = np.add.outer(np.arange(count_x), np.arange(count_y)).ravel() % 2
    found = 0.0
    for parity in (0, 1):
        where = np.flatnonzero(at == parity)
        square = np.ix_(where, where)
        lower = np.linalg.cholesky(K[square])
        half = np.linalg.solve(lower, G[square])
        found = max(found, float(np.linalg.eigvalsh(np.linalg.solve(lower, half.T))[-1]))
    return 1 / found


def beaded(
    a: float, through: Rigidity, flat: Rigidity, stop: float, runout: float, steps: int = 4
) -> tuple[Piece, ...]:
    """Pieces of a plate with beads along x that begin `stop` [mm] off either edge and rise over `runout`.

    The run-out is cut into steps; a bead at a part s of its depth bends along x by s² of what it adds to the flat sheet
    (its own height), and takes the less of either sheet's rigidities otherwise.
    """
    if stop <= 0 and runout <= 0:
        return (Piece(0.0, a, through),)
    low = Rigidity(*(min(p, r) for p, r in zip(through, flat)))
    pieces = [Piece(0.0, stop, low)] if stop > 0 else []
    for k in range(steps if runout > 0 else 0):
        part = (k / steps) ** 2  # the lower end of the step
        D = low._replace(D_x=low.D_x + part * (max(through.D_x, low.D_x) - low.D_x))
        pieces.append(Piece(stop + k * runout / steps, stop + (k + 1) * runout / steps, D))
    ends = [Piece(a - p.end, a - p.start, p.rigidity) for p in reversed(pieces)]
    middle = Piece(stop + runout, a - stop - runout, through)
    return (*pieces, *([middle] if middle.end - middle.start > 1e-9 * a else []), *ends)
