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

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import chain
from math import inf
from typing import Literal

import numpy as np
import numpy.typing as npt

from jointcalc.errors import InputError
from jointcalc.quantity.sentence import mm
from jointcalc.statics.dissection import Factor, SingularError, at_nodes, own_blocks
from jointcalc.statics.frame_line import Line, Piece

Array = npt.NDArray[np.float64]
Index = npt.NDArray[np.intp]
Six = tuple[float, float, float, float, float, float]
Three = tuple[float, float, float]

RIGID: Six = (inf,) * 6
FREE: Six = (0.0,) * 6
PINNED: Six = (inf, inf, inf, inf, 0.0, 0.0)
"""A member's end that turns about both axes of bending; the twist is passed on."""
HELD: Six = RIGID
"""A node held in every direction."""
SEATED: Six = (inf, inf, inf, 0.0, 0.0, 0.0)
"""A node held against moving, free to turn."""

NO_ENERGY = 1e-12
"""Part of the stiffness of the moved parts under which a movement costs nothing."""

MOVES = 1e-9
"""Part of a movement that is of places, not of turning, above which something moves and does not only spin."""

MOST_RESIDUAL = 1e-6
"""Part of the loads by which the balance of a node may be out before the answer is refused."""


@dataclass(frozen=True, slots=True)
class Node:
    """A point of the frame at `at` [mm], `held` by stiffnesses along and about x, y, z [N/mm, N·mm/rad]."""

    at: Three
    held: Six = FREE
    name: str = ""


@dataclass(frozen=True, slots=True)
class Stiffness:
    """What a uniform member resists with: N, N·mm²; shear stiffness inf leaves shear deformation out.

    EI_y is of bending about y (in the x-z plane), EI_z about z: principal axes.  `centre` is where the shear centre
    lies, (y, z) from the centroid [mm].
    """

    EA: float
    EI_y: float
    EI_z: float
    GJ: float
    GA_y: float = inf
    GA_z: float = inf
    centre: tuple[float, float] = (0.0, 0.0)


@dataclass(frozen=True, slots=True)
class End:
    """How a member's end is joined: `spring` in the member's six directions, `arm` from the node to it [mm]."""

    spring: Six = RIGID
    arm: Three = (0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Member:
    """A straight member between two nodes; `up` is the direction that its own z is to look."""

    start: int
    end: int
    stiffness: Stiffness
    up: Three = (0.0, 0.0, 1.0)
    first: End = End()
    last: End = End()
    name: str = ""


@dataclass(frozen=True, slots=True)
class NodeLoad:
    """Force [N] and moment [N·mm] at a node, in one case."""

    node: int
    force: Three = (0.0, 0.0, 0.0)
    moment: Three = (0.0, 0.0, 0.0)
    case: int = 0


@dataclass(frozen=True, slots=True)
class MemberLoad:
    """Force and moment on a member's line of centroids, in one case.

    At `start` [mm from the member's start] in N and N·mm where `end` is not given; from `start` to `end` per mm
    otherwise, going linearly from `force`, `moment` to `last_force`, `last_moment` (the same where not given).
    `axes` are those of the frame or of the member.
    """

    member: int
    start: float
    force: Three = (0.0, 0.0, 0.0)
    moment: Three = (0.0, 0.0, 0.0)
    end: float | None = None
    last_force: Three | None = None
    last_moment: Three | None = None
    case: int = 0
    axes: Literal["frame", "member"] = "frame"


def _rows(rows: Iterable[tuple[float, ...]], width: int) -> Array:
    """Rows of numbers as an array, read without the lists between."""
    return np.fromiter(chain.from_iterable(rows), dtype=float).reshape(-1, width)


def _where(bad: npt.NDArray[np.bool_]) -> list[int]:
    """The places that are marked."""
    return [int(n) for n in np.flatnonzero(bad)]


# --- members -------------------------------------------------------------------------------------------------


def _named(thing: Node | Member, n: int) -> str:
    word = "node" if isinstance(thing, Node) else "member"
    return thing.name or f"{word} {n + 1}"


def place_of(node: Node, n: int) -> str:
    """A node in a sentence: its name, or where it is."""
    return node.name or f"the node at {mm(node.at[0], ' ', node.at[1], ' ', node.at[2]):g}"


def _axes(nodes: Sequence[Node], members: Sequence[Member]) -> tuple[Array, Array]:
    """(axes (m, 3, 3) with rows x, y, z of each member, lengths).  Raises InputError."""
    at = _rows((n.at for n in nodes), 3)
    rows = _rows(((m.start, m.end, *m.first.arm, *m.last.arm, *m.up) for m in members), 11)
    pairs = rows[:, :2].astype(np.intp)
    first, last = at[pairs[:, 0]] + rows[:, 2:5], at[pairs[:, 1]] + rows[:, 5:8]
    along = last - first
    length = np.linalg.norm(along, axis=1)
    extent = float(np.max(np.ptp(at, axis=0), initial=1.0))
    for n in _where(~(length > 1e-9 * extent)):
        raise InputError(
            f"{_named(members[n], n)} has no length: both ends are at "
            f"{mm(first[n, 0], ' ', first[n, 1], ' ', first[n, 2]):g}; move one of them",
            field="member",
        )
    x = along / length[:, None]
    up = rows[:, 8:]
    z = up - np.sum(up * x, axis=1)[:, None] * x
    size = np.linalg.norm(z, axis=1)
    for n in _where(~(size > 1e-6 * np.linalg.norm(up, axis=1))):
        raise InputError(
            f"{_named(members[n], n)} runs along the direction that is to be its upper side; say another",
            field="up",
        )
    z /= size[:, None]
    return np.stack([x, np.cross(z, x), z], axis=1), length


def _table(members: Sequence[Member]) -> Array:
    """EA, EI_y, EI_z, GJ, GA_y, GA_z and the shear centre of every member, (m, 8)."""
    kept: dict[int, tuple[float, ...]] = {}  # most members share a section
    for one in members:
        o = one.stiffness
        if id(o) not in kept:
            kept[id(o)] = (o.EA, o.EI_y, o.EI_z, o.GJ, o.GA_y, o.GA_z, *o.centre)
    return _rows((kept[id(one.stiffness)] for one in members), 8)


def _own_stiffness(members: Sequence[Member], s: Array, L: Array) -> Array:
    """Stiffness (m, 12, 12) in the member's axes, at its ends, about its centroids."""
    good = np.isfinite(s[:, :4]) & (s[:, :4] > 0)
    for n in _where(~(good.all(axis=1) & (s[:, 4] > 0) & (s[:, 5] > 0))):
        raise InputError(f"{_named(members[n], n)} has a stiffness that is not above zero", field="member")
    EA, EI_y, EI_z, GJ, GA_y, GA_z, c_y, c_z = s.T
    table = np.zeros((12, 12, len(members)))

    def put(row: int, column: int, value: Array) -> None:
        table[row, column] = value
        table[column, row] = value

    for at, value in ((0, EA / L), (3, GJ / L)):
        put(at, at, value)
        put(at + 6, at + 6, value)
        put(at, at + 6, -value)
    # turning about z bends in x-y with positive slope, about y in x-z with negative slope
    for move, turn, EI, GA, sign in ((1, 5, EI_z, GA_y, 1.0), (2, 4, EI_y, GA_z, -1.0)):
        phi = 12 * EI / (GA * L**2)
        a = 12 * EI / (L**3 * (1 + phi))
        b = sign * 6 * EI / (L**2 * (1 + phi))
        near, far = (4 + phi) * EI / (L * (1 + phi)), (2 - phi) * EI / (L * (1 + phi))
        put(move, move, a)
        put(move + 6, move + 6, a)
        put(move, move + 6, -a)
        put(move, turn, b)
        put(move, turn + 6, b)
        put(move + 6, turn, -b)
        put(move + 6, turn + 6, -b)
        put(turn, turn, near)
        put(turn + 6, turn + 6, near)
        put(turn, turn + 6, far)
    k = np.ascontiguousarray(table.transpose(2, 0, 1))
    if np.any(c_y) or np.any(c_z):  # the shear centre's movement, from that of the centroid
        E = np.broadcast_to(np.eye(12), k.shape).copy()
        for end in (0, 6):
            E[:, end + 1, end + 3] = -c_z
            E[:, end + 2, end + 3] = c_y
        k = E.transpose(0, 2, 1) @ k @ E
    return k


def _clamped(k: Array, L: Array, table: Array, loads: _Points) -> Array:
    """End actions (p, 12) on clamped ends of point loads (p) in the member's axes, about its centroids.

    By the movement of the free end of a cantilever, which the clamp at the end takes back.
    """
    m, a, w = loads.member, loads.at, loads.wrench
    EA, EI_y, EI_z, GJ, GA_y, GA_z, c_y, c_z = table[m].T
    b = L[m] - a
    F_x, F_y, F_z, T, M_y, M_z = w.T
    T_s = T + c_z * F_y - c_y * F_z
    turn_x = T_s * a / GJ
    turn_y = (M_y * a - F_z * a**2 / 2) / EI_y
    turn_z = (M_z * a + F_y * a**2 / 2) / EI_z
    move_y = F_y * a / GA_y + (F_y * a**3 / 3 + M_z * a**2 / 2) / EI_z + b * turn_z
    move_z = F_z * a / GA_z + (F_z * a**3 / 3 - M_y * a**2 / 2) / EI_y - b * turn_y
    tip = np.stack([F_x * a / EA, move_y + c_z * turn_x, move_z - c_y * turn_x, turn_x, turn_y, turn_z], axis=1)
    last = -np.einsum("pij,pj->pi", k[m][:, 6:, 6:], tip)
    first = -(w + last)
    # moments about the start: the load's force at a, the end's at L
    first[:, 4] -= -a * F_z - L[m] * last[:, 2]
    first[:, 5] -= a * F_y + L[m] * last[:, 1]
    return np.concatenate([first, last], axis=1)


@dataclass(slots=True)
class _Points:
    """Loads on members in their own axes; `end` is `at` for a point load, otherwise both wrenches are per mm."""

    member: Index
    case: Index
    at: Array
    end: Array
    wrench: Array
    last: Array

    def spread(self) -> npt.NDArray[np.bool_]:
        """Which are spread."""
        return self.end > self.at


_GAUSS, _WEIGHT = np.polynomial.legendre.leggauss(3)


def _as_points(loads: _Points) -> _Points:
    """The same end actions by point loads: a spread one by three, exact for cubic influence times linear size."""
    spread = loads.spread()
    point = ~spread
    one = np.flatnonzero(spread)
    if not len(one):
        return loads
    half = 0.5 * (loads.end - loads.at)[one]
    parts = [(np.flatnonzero(point), loads.at[point], loads.wrench[point])]
    for place, weight in zip(_GAUSS, _WEIGHT):
        share = 0.5 * (1 + place)
        size = loads.wrench[one] * (1 - share) + loads.last[one] * share
        parts.append((one, loads.at[one] + half * (1 + place), size * (half * weight)[:, None]))
    which = np.concatenate([p[0] for p in parts])
    at = np.concatenate([p[1] for p in parts])
    wrench = np.concatenate([p[2] for p in parts])
    return _Points(loads.member[which], loads.case[which], at, at, wrench, wrench)


def _read_loads(loads: Sequence[MemberLoad], members: Sequence[Member], axes: Array, L: Array, cases: int) -> _Points:
    """Loads on members in their own axes.  Raises InputError."""
    rows = _rows(
        (
            (one.member, one.case, one.start, one.start, *one.force, *one.moment, *one.force, *one.moment)
            if one.end is None
            else (
                one.member, one.case, one.start, one.end, *one.force, *one.moment,
                *(one.last_force or one.force), *(one.last_moment or one.moment),
            )
            for one in loads
        ),
        16,
    )  # fmt: skip
    member, case = rows[:, :2].astype(np.intp).T
    at, end = rows[:, 2:4].T
    first, last = rows[:, 4:10].copy(), rows[:, 10:].copy()
    own = np.array([one.axes == "member" for one in loads], dtype=bool)
    long = L[member]
    slack = 1e-9 * long
    off = (at < -slack) | (end > long + slack) | (end < at) | ~np.isfinite(first).all(axis=1)
    off |= ~np.isfinite(last).all(axis=1) | (case < 0) | (case >= cases)
    for n in _where(off):
        raise InputError(
            f"a load at {mm(at[n]):g} of {_named(members[member[n]], int(member[n]))} is off the member, which is "
            f"{mm(long[n]):g} long, or is no finite number",
            field="load",
        )
    turn = axes[member]
    for w in (first, last):
        turned = np.einsum("pij,pkj->pki", turn, w.reshape(-1, 2, 3)).reshape(-1, 6)
        w[~own] = turned[~own]
    return _Points(member, case, np.clip(at, 0.0, long), np.clip(end, 0.0, long), first, last)


# --- solution ------------------------------------------------------------------------------------------------


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
    loads: _Points
    points: _Points
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
    axes, L = _axes(nodes, members)
    table = _table(members)
    own = _own_stiffness(members, table, L)
    give, relax = _ends(members, own)
    T = _to_nodes(members, axes)
    back = np.ascontiguousarray(T.transpose(0, 2, 1))
    follow = T if give is None else give @ T
    joined = own @ follow
    stiffness = back @ joined
    stiffness = 0.5 * (stiffness + stiffness.transpose(0, 2, 1))
    pairs = np.array([(one.start, one.end) for one in members], dtype=np.intp)

    on_members: list[MemberLoad] = []
    on_nodes = np.zeros((n, 6, cases))
    for load in loads:
        if isinstance(load, MemberLoad):
            on_members.append(load)
        else:
            on_nodes[load.node, :, load.case] += (*load.force, *load.moment)
    right = on_nodes.copy()
    given = _read_loads(on_members, members, axes, L, cases)
    points = _as_points(given)
    actions = _clamped(own, L, table, points)
    relaxed = None
    if relax is not None:
        relaxed = np.einsum("pij,pj->pi", relax[points.member], actions)
        actions = actions + np.einsum("pij,pj->pi", own[points.member], relaxed)
    if len(points.member):
        pushed = np.einsum("pij,pj->pi", back[points.member], actions)
        for end in (0, 1):
            rows = pairs[points.member, end][:, None]
            np.subtract.at(right, (rows, np.arange(6), points.case[:, None]), pushed[:, 6 * end : 6 * end + 6])

    springs = _rows((one.held for one in nodes), 6)
    if np.any(np.isnan(springs)) or np.any(springs < 0):
        raise InputError("a support has a stiffness below zero; 0 is free, a larger number is stiffer", field="support")
    held = np.isinf(springs)
    more = np.zeros((n, 6, 6))
    six = np.arange(6)
    more[:, six, six] = np.where(held, 0.0, springs)
    still = more
    if give is not None or m < n - 1:
        still = _kept_still(nodes, pairs, stiffness, more, held, right)
    at = _rows((one.at for one in nodes), 3)
    try:
        factor = Factor(at, pairs, stiffness, still, held)
    except SingularError:
        factor = _what_moves(nodes, members, at, pairs, stiffness, still, held, right)
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


def _ends(members: Sequence[Member], own: Array) -> tuple[Array | None, Array | None]:
    """How a member's ends follow its nodes, and what they move by when clamped ends that give are let go.

    An end with springs S and stiffness K moves by (K + S) u = S d - f.  Both (m, 12, 12), or None where all ends are
    joined rigidly.  Raises InputError where nothing holds a member.
    """
    if all(one.first.spring is RIGID and one.last.spring is RIGID for one in members):
        return None, None
    S = np.array([(*one.first.spring, *one.last.spring) for one in members], dtype=float)
    if np.any(np.isnan(S)) or np.any(S < 0):
        raise InputError("the end of a member has a stiffness below zero; 0 is released", field="ends")
    loose = np.isfinite(S)
    some = np.flatnonzero(loose.any(axis=1))
    if not len(some):
        return None, None
    give = np.broadcast_to(np.eye(12), (len(members), 12, 12)).copy()
    relax = np.zeros_like(give)
    k, s, r = own[some], np.where(loose[some], S[some], 0.0), loose[some]
    both = r[:, :, None] & r[:, None, :]
    eye = np.eye(12)
    left = np.where(both, k, 0.0) + eye * np.where(r, s, 1.0)[:, None, :]
    size = 1.0 / np.sqrt(np.einsum("mii->mi", left))
    scaled = left * size[:, :, None] * size[:, None, :]
    least, shape = np.linalg.eigh(scaled)
    for n in _where(least[:, 0] < NO_ENERGY):
        raise InputError(_loose(members[some[n]], int(some[n]), shape[n, :, 0] * size[n]), field="ends")
    follow = np.where(r[:, :, None] & ~r[:, None, :], -k, 0.0) + eye * np.where(r, s, 1.0)[:, None, :]
    give[some] = size[:, :, None] * np.linalg.solve(scaled, size[:, :, None] * follow)
    relax[some] = -size[:, :, None] * np.linalg.inv(scaled) * (size[:, None, :] * r[:, None, :])
    return give, relax


def _loose(member: Member, n: int, shape: Array) -> str:
    """What a member does whose ends are released in too many directions."""
    k = int(np.argmax(np.abs(shape) / np.array([1.0, 1.0, 1.0, 1e-3, 1e-3, 1e-3] * 2)))
    turns = {
        0: "slide along its own line", 1: "move sideways", 2: "move up and down", 3: "spin about its own line",
        4: "turn up and down", 5: "turn sideways",
    }  # fmt: skip
    spun = np.abs(shape[[3, 9]]).min() > 0.5 * np.abs(shape[[3, 9]]).max() > 0 and abs(shape[[0, 6]]).max() < 1e-9
    word = turns[3] if spun and np.abs(shape[[1, 2, 7, 8]]).max() < 1e-6 else turns[k % 6]
    return f"{_named(member, n)} is released at both ends so that it can {word}; hold it at one end"


def _to_nodes(members: Sequence[Member], axes: Array) -> Array:
    """Movements of a member's ends in its axes from those of its nodes, (m, 12, 12)."""
    T = np.zeros((len(members), 12, 12))
    for end, arms in enumerate((np.array([m.first.arm for m in members]), np.array([m.last.arm for m in members]))):
        row = 6 * end
        T[:, row : row + 3, row : row + 3] = axes
        T[:, row + 3 : row + 6, row + 3 : row + 6] = axes
        if np.any(arms):
            a, b, c = arms.T
            o = np.zeros_like(a)
            across = np.stack([np.stack([o, c, -b]), np.stack([-c, o, a]), np.stack([b, -a, o])]).transpose(2, 0, 1)
            T[:, row : row + 3, row + 3 : row + 6] = axes @ across
    return T


# --- what can move -------------------------------------------------------------------------------------------


def _kept_still(
    nodes: Sequence[Node], pairs: Index, stiffness: Array, more: Array,
    held: npt.NDArray[np.bool_], right: Array,
) -> Array:  # fmt: skip
    """`more`, with a stiffness about every line about which a node alone can spin.

    A direction in which a node's own stiffness is nought is one in which no member resists it, because every part of
    a stiffness is nought or more.  Raises InputError where a moment acts about it.
    """
    whole = more + at_nodes(len(nodes), pairs, own_blocks(stiffness))
    size = np.einsum("nii->ni", whole).copy()
    scale = np.where(held | ~(size > 0), 1.0, 1.0 / np.sqrt(np.where(size > 0, size, 1.0)))
    blocks = whole * scale[:, :, None] * scale[:, None, :]
    free = ~held
    blocks = np.where(free[:, :, None] & free[:, None, :], blocks, 0.0)
    six = np.arange(6)
    blocks[:, six, six] = np.where(held, 1.0, blocks[:, six, six])
    turn_size = np.einsum("nii->n", whole[:, 3:, 3:]) / 3
    typical = float(np.max(turn_size, initial=1.0))
    value, shape = np.linalg.eigh(blocks)
    out = more
    big = np.abs(right[:, 3:]).max(initial=0.0) + np.abs(right[:, :3]).max(initial=0.0)
    for n, k in np.argwhere(value < NO_ENERGY):
        way = shape[n, :, k] * scale[n]
        if np.abs(way[:3]).max() * 1.0 > 1e-9 * np.abs(way[3:]).max():
            continue  # it moves, which is a mechanism and no spin
        spin = way[3:] / np.linalg.norm(way[3:])
        if np.abs(spin @ right[n, 3:]).max(initial=0.0) > 1e-9 * big:
            raise InputError(
                f"a moment acts at {place_of(nodes[n], n)} about {direction(spin)}, where every member that "
                "ends there is released against turning; fix an end, or take the moment away",
                field="ends",
            )
        if out is more:
            out = more.copy()
        out[n, 3:, 3:] += np.outer(spin, spin) * (turn_size[n] or typical)
    return out


def direction(way: Array) -> str:
    """A direction in words: an axis where it is one, otherwise its three parts."""
    way = way / np.linalg.norm(way)
    k = int(np.argmax(np.abs(way)))
    if abs(way[k]) > 1 - 1e-6:
        return "xyz"[k]
    shown = " ".join(f"{v:.2f}".replace("-0.00", "0.00") for v in way * np.sign(way[k]))
    return f"the direction {shown}"


def _what_moves(
    nodes: Sequence[Node], members: Sequence[Member], at: Array, pairs: Index, stiffness: Array, more: Array,
    held: npt.NDArray[np.bool_], right: Array,
) -> Factor:  # fmt: skip
    """The factor after a pivot was gone: InputError that names what moves, where something does.

    What only spins, without any node moving, is held at one node: that takes no force while no load turns it.
    """
    whole = more + at_nodes(len(nodes), pairs, own_blocks(stiffness))
    size = np.einsum("nii->ni", whole).copy()
    span = float(np.max(np.ptp(at, axis=0), initial=1.0))
    kind = np.repeat([[1.0, span**2]], len(nodes), axis=0).repeat(3, axis=1)
    typical = float(np.median(size[size > 0] / kind[size > 0]))
    size = np.where(size > 0, size, typical * kind)
    more = more.copy()
    rng = np.random.default_rng(0)
    for _ in range(len(nodes) + 1):
        try:
            return Factor(at, pairs, stiffness, more, held)
        except SingularError:
            free = _movements(at, pairs, stiffness, more, held, size, rng)
        if not free.shape[2]:
            return Factor(at, pairs, stiffness, more, held, least=0.0)
        part = np.einsum("nik,ni,nil->kl", free[:, :3], size[:, :3], free[:, :3])
        value, shape = np.linalg.eigh(part)
        if value[-1] > MOVES:
            told = _rigid(at, held, more, size)
            if told:
                raise InputError(f"the whole frame can {told}: too few supports; hold it there", field="support")
            raise InputError(_mechanism(nodes, members, at, pairs, free @ shape[:, value > MOVES]), field="frame")
        work = np.abs(np.einsum("nik,nic->kc", free, right)).max(axis=1, initial=0.0)
        against = np.sqrt(np.sum(right**2 / size[:, :, None], axis=(0, 1)).max(initial=0.0))
        if work.max() > 1e-9 * against:
            raise InputError(_mechanism(nodes, members, at, pairs, free[:, :, [int(np.argmax(work))]]), field="frame")
        n = int(np.argmax(np.linalg.norm(free[:, 3:, 0], axis=1) * np.sqrt(size[:, 3:].mean(axis=1))))
        spin = free[n, 3:, 0] / np.linalg.norm(free[n, 3:, 0])
        more[n, 3:, 3:] += np.outer(spin, spin) * size[n, 3:].mean()  # the others are found again, if any is left
    raise InputError("the frame is a mechanism in more ways than it has nodes; fix member ends", field="frame")


def _movements(
    at: Array, pairs: Index, stiffness: Array, more: Array, held: npt.NDArray[np.bool_], size: Array,
    rng: np.random.Generator,
) -> Array:  # fmt: skip
    """Movements (n, 6, k) that nothing resists, at most eight of them, by inverse iteration."""
    six = np.arange(6)
    shifted = more.copy()
    shifted[:, six, six] += 1e-8 * size
    factor = Factor(at, pairs, stiffness, shifted, held, least=0.0)
    n = len(at)
    root = np.sqrt(size).reshape(-1, 1)
    x = np.where(held[:, :, None], 0.0, rng.normal(size=(n, 6, 8)) / np.sqrt(size)[:, :, None])
    for _ in range(4):
        x = factor.solve(size[:, :, None] * x)
        q, _ = np.linalg.qr(root * x.reshape(6 * n, -1))
        x = (q / root).reshape(n, 6, -1)
    both = np.concatenate([x[pairs[:, 0]], x[pairs[:, 1]]], axis=1)
    K = np.einsum("mik,mil->kl", both, stiffness @ both) + np.einsum("nik,nil->kl", x, more @ x)
    value, shape = np.linalg.eigh(K)
    return np.asarray(x @ shape[:, value < NO_ENERGY])


def _rigid(at: Array, held: npt.NDArray[np.bool_], more: Array, size: Array) -> str:
    """How the frame as a whole can move on its supports; empty where it cannot."""
    middle = at.mean(axis=0)
    span = float(np.max(np.ptp(at, axis=0), initial=1.0))
    modes = np.zeros((6, len(at), 6))
    for k in range(3):
        modes[k, :, k] = 1.0
        turn = np.zeros(3)
        turn[k] = 1.0 / span
        modes[3 + k, :, 3:] = turn
        modes[3 + k, :, :3] = np.cross(turn, at - middle)
    stiff = float(np.median(size[:, :3]))
    resist = np.where(held, stiff * np.array([1.0, 1.0, 1.0, span**2, span**2, span**2]), np.einsum("nii->ni", more))
    flat = modes.reshape(6, -1)
    K = (flat * resist.ravel()) @ flat.T
    value, shape = np.linalg.eigh(K)
    free = shape[:, value < 1e-9 * max(float(value[-1]), stiff * 1e-9)].T
    places = np.einsum("ka,ani->kni", free, modes[:, :, :3])
    moves = np.linalg.svd(places.reshape(len(free), -1) if len(free) else np.zeros((1, 1)), compute_uv=False)
    if not len(free) or moves[0] < 1e-6:
        return ""  # it stands, or only spins about the line it lies on
    words = []
    project = free.T @ free
    for k, word in enumerate(("slide along x", "slide along y", "slide along z")):
        if project[k, k] > 1 - 1e-6:
            words.append(word)
    left = len(free) - len(words)
    for k, word in enumerate(("turn about a line along x", "turn about a line along y", "turn about a line along z")):
        if left and np.linalg.norm(free[:, 3 + k]) > 1e-3:
            words.append(word)
            left -= 1
    if not words:
        words = ["move as one piece"]
    return ", and ".join([", ".join(words[:-1]), words[-1]]) if len(words) > 1 else words[0]


def _mechanism(nodes: Sequence[Node], members: Sequence[Member], at: Array, pairs: Index, free: Array) -> str:
    """What moves without resistance, and how, for a builder; `free` (n, 6, k) are such movements."""
    move, turn = (np.sqrt(np.sum(free[:, part] ** 2, axis=(1, 2))) for part in (slice(3), slice(3, 6)))
    reach = np.linalg.norm(at[pairs[:, 1]] - at[pairs[:, 0]], axis=1)
    moves = move.max() > 1e-6 * turn.max() * reach.max()
    size = move if moves else turn
    n = int(np.argmax(size))
    ways, much, _ = np.linalg.svd(free[n, :3] if moves else free[n, 3:], full_matrices=False)
    ways = ways[:, much > 1e-6 * much[0]]
    words = ["xyz"[k] for k in range(3) if np.linalg.norm(ways[k]) > 1 - 1e-6] or [direction(ways[:, 0])]
    way = f"can {'move along' if moves else 'turn about'} {' and '.join(words)}"
    moving = size > 1e-3 * size.max()
    names = list(dict.fromkeys(_named(one, k) for k, one in enumerate(members) if moving[one.start] or moving[one.end]))
    with_it = ", ".join(names[:6]) + (f" and {len(names) - 6} more" if len(names) > 6 else "")
    return (
        f"the frame is a mechanism: {place_of(nodes[n], n)} {way} and nothing resists it; {with_it} "
        f"{'moves' if len(names) == 1 else 'move'} with it; add a support or a member, or fix an end that is released"
    )


__all__ = [
    "FREE", "HELD", "PINNED", "RIGID", "SEATED", "End", "Frame", "Line", "Member", "MemberLoad", "Node",
    "NodeLoad", "Stiffness", "direction", "solve",
]  # fmt: skip
