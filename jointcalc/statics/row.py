"""Any row of fasteners: shares of a load that stretches two strips, and of one that lifts a strip off, any of them
missing, many patterns of missing ones at once.  N, mm.

In the plane the strips part between neighbours by the difference of their strains; written in what each fastener gives
way this is a chain of springs (1 / (gap · g) from one to the next) on springs (1 / C, each fastener), pushed where the
load strains the strips: at the ends by r P and (1 - r) P, or all along.  Out of the plane the strip is a beam on the
same springs.  Both matrices are bands; they are solved front to back for all patterns together, so that 5000 fasteners
cost 5000 steps whatever the patterns.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]


def shares(*, stiffness: Array, gaps: Array, give: float | Array, push: Array) -> Array:
    """Part of the load that each fastener takes, (..., n).

    `stiffness` (..., n) [N/mm] of each, 0 where it is missing (not of all of a pattern), `gaps` (n - 1,) [mm] between
    neighbours, `give` [1/N] of both strips together (one, or one for each gap), `push` (n,) the part of the load that
    is put on the strips at each place, 1 in all.
    """
    k = np.asarray(stiffness, dtype=np.float64)
    n = k.shape[-1]
    between = 1.0 / (np.asarray(gaps, dtype=np.float64) * give)
    # front to back: what is still pushed on, and the stiffness of all that stands behind
    ahead = np.empty_like(k)
    pushed = np.empty_like(k)
    ahead[..., 0], pushed[..., 0] = k[..., 0], push[0]
    for i in range(1, n):
        c = between[i - 1]
        passed = c / (ahead[..., i - 1] + c)
        ahead[..., i] = k[..., i] + ahead[..., i - 1] * passed
        pushed[..., i] = push[i] + pushed[..., i - 1] * passed
    slip = np.empty_like(k)
    slip[..., n - 1] = pushed[..., n - 1] / ahead[..., n - 1]
    for i in range(n - 2, -1, -1):
        c = between[i]
        slip[..., i] = (pushed[..., i] + c * slip[..., i + 1]) / (ahead[..., i] + c)
    return k * slip


def lifted(
    *, stiffness: Array, at: Array, length: float, bending: float, ends: tuple[float, float], flow: float
) -> Array:
    """Force on each fastener [N] of a strip that is lifted off, (..., n).

    `stiffness` (..., n) [N/mm] of each against the lift, 0 where it is missing, `at` (n,) [mm] their places on a strip
    of `length` [mm] whose stiffness in bending along the row is `bending` [N·mm²].  Lifted by `ends` [N] at its two
    ends and by `flow` [N/mm] all along.  With one fastener standing the strip turns about it: it takes all.
    """
    k = np.asarray(stiffness, dtype=np.float64)
    places = np.asarray(at, dtype=np.float64)
    n = len(places)
    whole = ends[0] + ends[1] + flow * length
    nodes = np.concatenate(([0.0], places, [length]))
    h = np.diff(nodes)
    # an end without overhang has no beam: a hair of one keeps the matrix whole
    h = np.maximum(h, 1e-6 * length / (n + 1))
    few = (k > 0).sum(axis=-1) < 2
    springs = np.concatenate((np.zeros((*k.shape[:-1], 1)), k, np.zeros((*k.shape[:-1], 1))), axis=-1)
    # turns are taken times the mean gap, so that both freedoms of a node are lengths
    unit = length / (n + 1)
    a = h / unit
    s = bending / h**3
    blocks = np.zeros((len(h), 4, 4))
    for e, (f, x) in enumerate(zip(s, a)):
        blocks[e] = f * np.array(
            [
                [12.0, 6 * x, -12.0, 6 * x],
                [6 * x, 4 * x * x, -6 * x, 2 * x * x],
                [-12.0, -6 * x, 12.0, -6 * x],
                [6 * x, 2 * x * x, -6 * x, 4 * x * x],
            ]
        )
    load = np.zeros((n + 2, 2))
    load[:-1, 0] += flow * h / 2
    load[1:, 0] += flow * h / 2
    load[:-1, 1] += flow * h**2 / 12 / unit
    load[1:, 1] -= flow * h**2 / 12 / unit
    load[0, 0] += ends[0]
    load[-1, 0] += ends[1]
    own = np.zeros((n + 2, 2, 2))
    own[:-1] += blocks[:, :2, :2]
    own[1:] += blocks[:, 2:, 2:]
    diagonal = np.broadcast_to(own, (*k.shape[:-1], n + 2, 2, 2)).copy()
    # a pattern with one fastener standing is a mechanism: held here, told below
    hold = np.where(few, bending / length**3, 0.0)
    diagonal[..., 0, 0] += springs + hold[..., None]
    across = blocks[:, :2, 2:]
    moved = np.broadcast_to(load, (*k.shape[:-1], n + 2, 2)).copy()
    for i in range(1, n + 2):
        back = np.linalg.solve(
            diagonal[..., i - 1, :, :], np.broadcast_to(across[i - 1], diagonal[..., i - 1, :, :].shape)
        )
        turned = np.swapaxes(back, -1, -2)
        diagonal[..., i, :, :] -= turned @ across[i - 1]
        moved[..., i, :] -= (turned @ moved[..., i - 1, :, None])[..., 0]
    w = np.empty_like(moved)
    w[..., n + 1, :] = np.linalg.solve(diagonal[..., n + 1, :, :], moved[..., n + 1, :, None])[..., 0]
    for i in range(n, -1, -1):
        right = moved[..., i, :] - (across[i] @ w[..., i + 1, :, None])[..., 0]
        w[..., i, :] = np.linalg.solve(diagonal[..., i, :, :], right[..., None])[..., 0]
    force = k * w[..., 1:-1, 0]
    alone = np.where(k > 0, whole, 0.0)
    return np.where(few[..., None], alone, force)
