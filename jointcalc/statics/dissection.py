"""Symmetric positive definite equations of nodes joined in pairs: nested dissection and a frontal Cholesky factor.

Every node has six unknowns, every member joins two nodes.  The nodes are halved again and again along their longest
extent; the nodes that part two halves are eliminated after both (A. George, 1973), so that the work for a plane frame
grows with members^1.5, where a band's grows with members^2.  Each part is one dense front: its members and what the
parts inside it left over are added up, its own unknowns are eliminated by LAPACK's Cholesky factorisation, and the
rest is handed on (I. Duff, J. Reid, 1983).  Both from memory; the tests hold every solution against dense elimination.

The equations are scaled to a unit diagonal, so that a pivot says which part of a stiffness is left: a pivot of nothing
is a mechanism, whatever the units.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from jointcalc.lapack import blas, lapack
from jointcalc.statics.distinct import distinct

Array = npt.NDArray[np.float64]
Index = npt.NDArray[np.intp]

BLOCK = 6
LEAF = 16
"""Nodes that are eliminated together without a further cut."""

SMALL_PIVOT = 1e-11
"""Part of a unit diagonal under which a pivot is looked into as a mechanism."""


class SingularError(ArithmeticError):
    """A pivot is gone: `unknown` is the first one that nothing resists, as node * 6 + direction."""

    def __init__(self, unknown: int) -> None:
        super().__init__(f"nothing resists unknown {unknown}")
        self.unknown = unknown


@dataclass(slots=True)
class _Front:
    """Nodes eliminated together (`own`) and those that they leave a stiffness to (`border`)."""

    own: Index
    border: Index
    children: list[int]
    lower: Any = None
    across: Any = None
    rows: Any = None
    below: Any = None


def _halves(place: Array) -> npt.NDArray[np.bool_]:
    """Which nodes lie in the lower half along the longest extent; cut where two places differ, near the middle."""
    extent = np.ptp(place, axis=0)
    along = place[:, int(np.argmax(extent))]
    order = np.argsort(along, kind="stable")
    steps = np.flatnonzero(np.diff(along[order]) > 1e-9 * extent.max()) + 1
    middle = len(place) // 2
    cut = int(steps[np.argmin(np.abs(steps - middle))]) if len(steps) else middle
    if min(cut, len(place) - cut) < len(place) // 4:
        cut = middle
    low = np.zeros(len(place), dtype=bool)
    low[order[:cut]] = True
    return low


def _dissect(place: Array, pairs: Index) -> list[_Front]:
    """The fronts in the order of elimination, every one after its children."""
    fronts: list[_Front] = []
    none = np.zeros(0, dtype=np.intp)
    side = np.zeros(len(place), dtype=np.int8)

    def split(nodes: Index, inner: Index) -> int:
        """Front of these nodes, among which the pairs `inner` run."""
        if len(nodes) <= LEAF:
            fronts.append(_Front(nodes, none, []))
            return len(fronts) - 1
        side[nodes] = np.where(_halves(place[nodes]), 1, 2)
        ends = side[inner]
        cut, turned = inner[ends[:, 0] != ends[:, 1]], ends[ends[:, 0] != ends[:, 1], 0] == 2
        first = distinct(np.where(turned, cut[:, 1], cut[:, 0]))
        second = distinct(np.where(turned, cut[:, 0], cut[:, 1]))
        own = first if len(first) <= len(second) else second
        side[own] = 3
        mine, ends = side[nodes], side[inner]
        parts = [(nodes[mine == half], inner[(ends == half).all(axis=1)]) for half in (1, 2)]
        children = [split(part, within) for part, within in parts if len(part)]
        fronts.append(_Front(own, none, children))
        return len(fronts) - 1

    split(np.arange(len(place)), pairs)
    return fronts


def own_blocks(stiffness: Array) -> Array:
    """What each member's stiffness (m, 12, 12) has at its own nodes, (m, 12, 6)."""
    return np.concatenate([stiffness[:, :BLOCK, :BLOCK], stiffness[:, BLOCK:, BLOCK:]], axis=1)


def at_nodes(n: int, pairs: Index, ends: Array) -> Array:
    """Sums at n nodes (n, 6, k) of what members bring to their ends (m, 12, k)."""
    where = pairs.ravel()
    order = np.argsort(where, kind="stable")
    nodes, start = np.unique(where[order], return_index=True)
    out = np.zeros((n, BLOCK, ends.shape[2]))
    out[nodes] = np.add.reduceat(ends.reshape(-1, BLOCK, ends.shape[2])[order], start, axis=0)
    return out


class Factor:
    """The factor of K, for any number of right-hand sides.

    `place` (n, 3) are the nodes' places, by which they are cut apart; `pairs` (m, 2) the nodes each member joins;
    `stiffness` (m, 12, 12) its stiffness in the directions of the nodes; `more` (n, 6, 6) is added at the nodes;
    `held` (n, 6) marks unknowns that are nought and drop out.  Raises SingularError at a pivot under `least`.
    """

    def __init__(
        self,
        place: Array,
        pairs: Index,
        stiffness: Array,
        more: Array,
        held: npt.NDArray[np.bool_],
        *,
        least: float = SMALL_PIVOT,
    ) -> None:
        self._least = least
        n = len(place)
        diagonal = more + at_nodes(n, pairs, own_blocks(stiffness))
        size = diagonal[:, np.arange(BLOCK), np.arange(BLOCK)]
        nothing = ~held & ~(size > 0)
        if nothing.any():
            raise SingularError(int(np.flatnonzero(nothing)[0]))
        self.scale = np.where(held, 0.0, 1.0 / np.sqrt(np.where(held, 1.0, size)))
        diagonal *= self.scale[:, :, None] * self.scale[:, None, :]
        diagonal[:, np.arange(BLOCK), np.arange(BLOCK)] = 1.0
        first, second = np.minimum(pairs[:, 0], pairs[:, 1]), np.maximum(pairs[:, 0], pairs[:, 1])
        key = first * n + second
        joined, which = np.unique(key, return_inverse=True)
        between = np.zeros((len(joined), BLOCK, BLOCK))
        upper = np.where((pairs[:, 0] > pairs[:, 1])[:, None, None], stiffness[:, 6:, :6], stiffness[:, :6, 6:])
        np.add.at(between, which, upper)
        pairs = np.stack([joined // n, joined % n], axis=1)
        apart = pairs[:, 0] != pairs[:, 1]
        pairs, between = pairs[apart], between[apart]
        between *= self.scale[pairs[:, 0]][:, :, None] * self.scale[pairs[:, 1]][:, None, :]
        self._fronts = _dissect(place, pairs)
        self._eliminate(pairs, diagonal, between)

    def _eliminate(self, pairs: Index, diagonal: Array, between: Array) -> None:
        n = len(diagonal)
        rank = np.empty(n, dtype=np.intp)
        for f, front in enumerate(self._fronts):
            rank[front.own] = f
        of_pair = rank[pairs].min(axis=1)
        order = np.argsort(of_pair, kind="stable")
        pairs, between = pairs[order], between[order]
        start = np.searchsorted(of_pair[order], np.arange(len(self._fronts) + 1))
        at = np.zeros(n, dtype=np.intp)
        rest: dict[int, Array] = {}
        steps = np.arange(BLOCK)
        for f, front in enumerate(self._fronts):
            mine = slice(start[f], start[f + 1])
            near = [self._fronts[c].border for c in front.children]
            border = distinct(pairs[mine].ravel(), *near)
            border = border[rank[border] > f]
            nodes = np.concatenate([front.own, border])
            at[nodes] = np.arange(len(nodes))
            p, all_ = BLOCK * len(front.own), BLOCK * len(nodes)
            whole = np.zeros((all_, all_))
            table = whole.reshape(len(nodes), BLOCK, len(nodes), BLOCK).transpose(0, 2, 1, 3)
            own = np.arange(len(front.own))
            table[own, own] = diagonal[front.own]
            one, two = at[pairs[mine, 0]], at[pairs[mine, 1]]
            table[one, two] = between[mine]
            table[two, one] = between[mine].transpose(0, 2, 1)
            for child in front.children:
                row = (BLOCK * at[self._fronts[child].border][:, None] + steps).ravel()
                whole[row[:, None], row] += rest.pop(child)
            lower, info = lapack().dpotrf(whole[:p, :p], lower=1, clean=1)
            pivot = np.diagonal(lower) ** 2
            if info > 0 or (p and pivot.min() < self._least):
                worst = info - 1 if info > 0 else int(np.argmin(pivot))
                raise SingularError(int(BLOCK * front.own[worst // BLOCK] + worst % BLOCK))
            across = blas().dtrsm(1.0, lower, whole[:p, p:], lower=1) if len(border) else np.zeros((p, 0))
            rest[f] = whole[p:, p:] - across.T @ across
            front.border, front.lower, front.across = border, lower, across
        self._order = np.concatenate([front.own for front in self._fronts])
        at[self._order] = np.arange(n)
        done = 0
        for front in self._fronts:
            front.rows = slice(BLOCK * done, BLOCK * (done + len(front.own)))
            front.below = (BLOCK * at[front.border][:, None] + steps).ravel()
            done += len(front.own)

    def solve(self, right: Array) -> Array:
        """Solutions (n, 6, k) for right-hand sides (n, 6, k)."""
        n, six, k = right.shape
        x = (right * self.scale[:, :, None])[self._order].reshape(
            six * n, k
        )  # what is eliminated together lies together
        for front in self._fronts:
            mine = x[front.rows]
            if len(mine):
                # solved in place: LAPACK sees the transpose
                blas().dtrsm(1.0, front.lower, mine.T, side=1, lower=1, trans_a=1, overwrite_b=1)
                x[front.below] -= front.across.T @ mine
        for front in reversed(self._fronts):
            mine = x[front.rows]
            if len(mine):
                mine -= front.across @ x[front.below]
                blas().dtrsm(1.0, front.lower, mine.T, side=1, lower=1, overwrite_b=1)
        out = np.empty_like(right)
        out[self._order] = x.reshape(n, six, k)
        out *= self.scale[:, :, None]
        return out
