"""Frames of straight members in space: exact for uniform members, with shear deformation and member ends that give.

Each member is one element whatever it carries: its stiffness is that of a uniform beam with shear deformation
(J. S. Przemieniecki, Theory of Matrix Structural Analysis, 1968, 5.6, from memory; the tests hold it against
closed forms), and what acts between its ends enters by exact end actions.  Bending and thrust are about the line of
centroids, shear and twist about the line of shear centres beside it.  Twisting is Saint-Venant's: the stiffness that
an open section gains where its warping is held is left out.

Ends.  Between a member's end and its node stands a rigid arm (`End.arm`, from node to end) and a spring in each of
the member's six directions (`End.spring`): inf joins rigidly, 0 releases.  Nodes stand on springs too (`Node.held`).
A node at which every member is released against turning may spin, which nobody sees: it is kept still, and refused
only where a moment would turn it.

Axes.  x, y, z are right-handed and the same for all nodes and reactions.  A member's own x runs from its start to
its end, its z is `Member.up` made square to it, its y follows by the right hand.  Displacements and forces are six
numbers: three along the axes, three about them.  Forces inside a member are those on the face that looks to its end:
N pulling is positive; M_y' = V_z and M_z' = -V_y.  All cases share one factorisation (`jointcalc.statics.dissection`).

Units: N, mm.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt

from jointcalc.errors import InputError
from jointcalc.statics.dissection import Factor, SingularError, at_nodes
from jointcalc.statics.frame_line import Line, Piece
from jointcalc.statics.frame_member import (
    Points,
    as_points,
    axes_of,
    clamped_ends,
    own_stiffness,
    read_loads,
    released,
    rows_of,
    table_of,
    to_nodes,
)
from jointcalc.statics.frame_motion import direction, kept_still, what_moves
from jointcalc.statics.frame_parts import (
    FREE,
    HELD,
    PINNED,
    RIGID,
    SEATED,
    End,
    Member,
    MemberLoad,
    Node,
    NodeLoad,
    Stiffness,
)

Array = npt.NDArray[np.float64]
Index = npt.NDArray[np.intp]

MOST_RESIDUAL = 1e-6
"""Part of the loads by which the balance of a node may be out before the answer is refused."""


@dataclass(slots=True)
class _Parts:
    """What a solved frame keeps of its making, to answer from."""

    pairs: Index
    held: npt.NDArray[np.bool_]
    more: Array
    follow: Array
    joined: Array
    back: Array
    on_nodes: Array
    loads: Points
    points: Points
    actions: Array
    relaxed: Array | None


def _most(out: Array, size: Array) -> float:
    """The greatest part, of cases that carry anything."""
    some = size > 0
    return float(np.max(out[some] / size[some], initial=0.0))


@dataclass(frozen=True, eq=False)
class Frame:
    """A solved frame; the last axis of every array is the case.

    `displacements` (n, 6, c) are of the nodes; forces are worked out when they are asked for.
    """

    nodes: tuple[Node, ...]
    members: tuple[Member, ...]
    cases: int
    axes: Array
    lengths: Array
    displacements: Array
    _parts: _Parts

    @cached_property
    def _both(self) -> Array:
        pairs = self._parts.pairs
        return np.concatenate([self.displacements[pairs[:, 0]], self.displacements[pairs[:, 1]]], axis=1)

    @cached_property
    def end_forces(self) -> Array:
        """What a member's ends have done to them, beyond arm and spring, in its own axes (m, 12, c)."""
        p = self._parts
        out: Array = p.joined @ self._both
        if len(p.points.member):
            np.add.at(out, (p.points.member[:, None], np.arange(12), p.points.case[:, None]), p.actions)
        return out

    @cached_property
    def end_movements(self) -> Array:
        """How a member's ends move, beyond arm and spring, in its own axes (m, 12, c)."""
        p = self._parts
        out: Array = p.follow @ self._both
        if p.relaxed is not None and len(p.points.member):
            np.add.at(out, (p.points.member[:, None], np.arange(12), p.points.case[:, None]), p.relaxed)
        return out

    @cached_property
    def _left(self) -> tuple[Array, Array]:
        """(what is out of balance at the nodes, what holds them), each (n, 6, c)."""
        p = self._parts
        passed = p.on_nodes - at_nodes(len(self.nodes), p.pairs, p.back @ self.end_forces)
        sprung = -p.more @ self.displacements
        held = p.held[:, :, None]
        return np.where(held, 0.0, passed + sprung), np.where(held, -passed, sprung)

    @property
    def reactions(self) -> Array:
        """What the supports do to the nodes, (n, 6, c)."""
        return self._left[1]

    @cached_property
    def size(self) -> Array:
        """Greatest force at a member's end or a node (c) [N], moments over the longest member; for comparison."""
        span = float(np.max(self.lengths))
        size = np.zeros(self.cases)
        for some in (self.end_forces[:, :6], self.end_forces[:, 6:], self._parts.on_nodes, self.reactions):
            for part, scale in ((some[:, :3], 1.0), (some[:, 3:], 1.0 / span)):
                size = np.maximum(size, scale * np.maximum(part.max(axis=(0, 1)), -part.min(axis=(0, 1))))
        return size

    @cached_property
    def residual(self) -> float:
        """Greatest force out of balance at a node (moments over the longest member), over the greatest of its case."""
        left = np.abs(self._left[0])
        out = np.maximum(left[:, :3].max(axis=(0, 1)), left[:, 3:].max(axis=(0, 1)) / float(np.max(self.lengths)))
        return _most(out, self.size)

    @cached_property
    def applied(self) -> Array:
        """All loads as they were given, as force and moment about the origin of the axes (6, c)."""
        at = np.array([one.at for one in self.nodes], dtype=float)
        out: Array = self._parts.on_nodes.sum(axis=0)
        out[3:] += np.cross(at[:, None, :], self._parts.on_nodes[:, :3].transpose(0, 2, 1)).sum(axis=0).T
        points = self._parts.points
        if len(points.member):
            axes = self.axes[points.member]
            turned = np.einsum("pij,pki->pkj", axes, points.wrench.reshape(-1, 2, 3))
            arms = np.array([one.first.arm for one in self.members], dtype=float)
            where = (at[self._parts.pairs[:, 0]] + arms)[points.member] + axes[:, 0] * points.at[:, None]
            whole = np.concatenate([turned[:, 0], turned[:, 1] + np.cross(where, turned[:, 0])], axis=1)
            np.add.at(out.T, points.case, whole)
        return out

    @cached_property
    def balance(self) -> float:
        """Loads and reactions of the whole frame together, over the greatest of them: nought in equilibrium."""
        at = np.array([one.at for one in self.nodes], dtype=float)
        lever = np.cross(at[:, None, :], self.reactions[:, :3].transpose(0, 2, 1)).sum(axis=0).T
        whole = self.applied + self.reactions.sum(axis=0)
        whole[3:] += lever
        span = float(np.max(np.linalg.norm(at, axis=1), initial=1.0))
        out = np.abs(whole / np.array([1.0, 1.0, 1.0, span, span, span])[:, None]).max(axis=0)
        return _most(out, self.size)

    def line(self, member: int) -> Line:
        """Forces and deflection all along a member."""
        one = self.members[member]
        loads = self._parts.loads
        mine = loads.member == member
        pieces = [
            Piece(int(c), float(a), float(e), w, last)
            for c, a, e, w, last in zip(
                loads.case[mine],
                loads.at[mine],
                loads.end[mine],
                loads.wrench[mine],
                loads.last[mine],
            )
        ]
        o = one.stiffness
        return Line(
            float(self.lengths[member]),
            (o.EA, o.EI_y, o.EI_z, o.GJ, o.GA_y, o.GA_z, *o.centre),
            self.end_forces[member, :6],
            self.end_movements[member, :6],
            pieces,
            self.axes[member],
        )


def solve(
    nodes: Sequence[Node], members: Sequence[Member], loads: Sequence[NodeLoad | MemberLoad], *, cases: int = 1
) -> Frame:
    """Solve a frame for all its cases at once.

    Raises InputError: a member without length or stiffness, a load off its member, a frame that can move without
    resistance (told what moves, and how), and stiffnesses so far apart that the answer would be noise.
    """
    n, m = len(nodes), len(members)
    if not m:
        raise InputError("a frame needs a member", field="member")
    axes, L, pairs, arms = axes_of(nodes, members)
    table = table_of(members)
    own = own_stiffness(members, table, L)
    give, relax = released(members, own)
    T = to_nodes(axes, arms)
    back = np.ascontiguousarray(T.transpose(0, 2, 1))
    follow = T if give is None else give @ T
    joined = own @ follow
    stiffness = back @ joined
    stiffness = 0.5 * (stiffness + stiffness.transpose(0, 2, 1))

    on_members: list[MemberLoad] = []
    on_nodes = np.zeros((n, 6, cases))
    for load in loads:
        if isinstance(load, MemberLoad):
            on_members.append(load)
        else:
            on_nodes[load.node, :, load.case] += (*load.force, *load.moment)
    right = on_nodes.copy()
    given = read_loads(on_members, members, axes, L, cases)
    points = as_points(given)
    actions = clamped_ends(own, L, table, points)
    relaxed = None
    if relax is not None:
        relaxed = np.einsum("pij,pj->pi", relax[points.member], actions)
        actions = actions + np.einsum("pij,pj->pi", own[points.member], relaxed)
    if len(points.member):
        pushed = np.einsum("pij,pj->pi", back[points.member], actions)
        for end in (0, 1):
            rows = pairs[points.member, end][:, None]
            np.subtract.at(right, (rows, np.arange(6), points.case[:, None]), pushed[:, 6 * end : 6 * end + 6])

    springs = rows_of((one.held for one in nodes), 6)
    if np.any(np.isnan(springs)) or np.any(springs < 0):
        raise InputError("a support has a stiffness below zero; 0 is free, a larger number is stiffer", field="support")
    held = np.isinf(springs)
    more = np.zeros((n, 6, 6))
    six = np.arange(6)
    more[:, six, six] = np.where(held, 0.0, springs)
    still = more
    if give is not None or m < n - 1:
        still = kept_still(nodes, pairs, stiffness, more, held, right)
    at = rows_of((one.at for one in nodes), 3)
    try:
        factor = Factor(at, pairs, stiffness, still, held)
    except SingularError:
        factor = what_moves(nodes, members, at, pairs, stiffness, still, held, right)
    moved = factor.solve(right)
    moved[held] = 0.0
    _balanced(pairs, stiffness, still, held, moved, right, float(np.max(L)))
    parts = _Parts(pairs, held, more, follow, joined, back, on_nodes, given, points, actions, relaxed)
    return Frame(tuple(nodes), tuple(members), cases, axes, L, moved, parts)


def _balanced(
    pairs: Index, stiffness: Array, more: Array, held: npt.NDArray[np.bool_], moved: Array, right: Array, span: float
) -> None:
    """InputError where the nodes are not in balance; tried with a mixture of all cases, each over its size."""
    size = np.abs(right).max(axis=(0, 1))
    mix = np.cos(np.arange(1.0, len(size) + 1)) / np.where(size > 0, size, 1.0)
    x, f = (moved @ mix)[:, :, None], (right @ mix)[:, :, None]
    ends = stiffness @ np.concatenate([x[pairs[:, 0]], x[pairs[:, 1]]], axis=1)
    left = np.where(held, 0.0, np.abs(at_nodes(len(moved), pairs, ends) + more @ x - f)[:, :, 0])
    acting = np.maximum(at_nodes(len(moved), pairs, np.abs(ends)), np.abs(f))[:, :, 0]
    unit = np.array([1.0, 1.0, 1.0, span, span, span])
    if not (left / unit).max() <= MOST_RESIDUAL * (acting / unit).max():
        raise InputError(
            "the stiffnesses of the frame lie so far apart that its forces do not come into balance; give members, "
            "springs and supports of nearer sizes, or join rigidly what is meant to be rigid",
            field="frame",
        )


__all__ = [
    "FREE", "HELD", "PINNED", "RIGID", "SEATED", "End", "Frame", "Line", "Member", "MemberLoad", "Node",
    "NodeLoad", "Stiffness", "direction", "solve",
]  # fmt: skip
