"""Members of a frame one by one: axes, stiffness, released ends, and what loads between the ends do to the ends."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import chain

import numpy as np
import numpy.typing as npt

from jointcalc.errors import InputError
from jointcalc.quantity.sentence import mm
from jointcalc.statics.frame_parts import RIGID, Member, MemberLoad, Node, named

Array = npt.NDArray[np.float64]
Index = npt.NDArray[np.intp]

NO_ENERGY = 1e-12
"""Part of a stiffness under which a movement costs nothing."""


def rows_of(rows: Iterable[tuple[float, ...]], width: int) -> Array:
    """Rows of numbers as an array, read without the lists between."""
    return np.fromiter(chain.from_iterable(rows), dtype=float).reshape(-1, width)


def where(bad: npt.NDArray[np.bool_]) -> list[int]:
    """The places that are marked."""
    return [int(n) for n in np.flatnonzero(bad)]


def axes_of(nodes: Sequence[Node], members: Sequence[Member]) -> tuple[Array, Array, Index, Array]:
    """(axes (m, 3, 3) with rows x, y, z of each member, lengths, nodes (m, 2), arms (m, 2, 3)).  Raises InputError."""
    at = rows_of((n.at for n in nodes), 3)
    rows = rows_of(((m.start, m.end, *m.first.arm, *m.last.arm, *m.up) for m in members), 11)
    pairs = rows[:, :2].astype(np.intp)
    first, last = at[pairs[:, 0]] + rows[:, 2:5], at[pairs[:, 1]] + rows[:, 5:8]
    along = last - first
    length = np.linalg.norm(along, axis=1)
    extent = float(np.max(np.ptp(at, axis=0), initial=1.0))
    for n in where(~(length > 1e-9 * extent)):
        raise InputError(
            f"{named(members[n], n)} has no length: both ends are at "
            f"{mm(first[n, 0], ' ', first[n, 1], ' ', first[n, 2]):g}; move one of them",
            field="member",
        )
    x = along / length[:, None]
    up = rows[:, 8:]
    z = up - np.sum(up * x, axis=1)[:, None] * x
    size = np.linalg.norm(z, axis=1)
    for n in where(~(size > 1e-6 * np.linalg.norm(up, axis=1))):
        raise InputError(
            f"{named(members[n], n)} runs along the direction that is to be its upper side; say another",
            field="up",
        )
    z /= size[:, None]
    return np.stack([x, np.cross(z, x), z], axis=1), length, pairs, rows[:, 2:8].reshape(-1, 2, 3)


def table_of(members: Sequence[Member]) -> Array:
    """EA, EI_y, EI_z, GJ, GA_y, GA_z and the shear centre of every member, (m, 8)."""
    kept: dict[int, tuple[float, ...]] = {}  # most members share a section
    for one in members:
        o = one.stiffness
        if id(o) not in kept:
            kept[id(o)] = (o.EA, o.EI_y, o.EI_z, o.GJ, o.GA_y, o.GA_z, *o.centre)
    return rows_of((kept[id(one.stiffness)] for one in members), 8)


def own_stiffness(members: Sequence[Member], s: Array, L: Array) -> Array:
    """Stiffness (m, 12, 12) in the member's axes, at its ends, about its centroids."""
    good = np.isfinite(s[:, :4]) & (s[:, :4] > 0)
    for n in where(~(good.all(axis=1) & (s[:, 4] > 0) & (s[:, 5] > 0))):
        raise InputError(f"{named(members[n], n)} has a stiffness that is not above zero", field="member")
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
        for t in (3, 9):
            k[:, t] += c_y[:, None] * k[:, t - 1] - c_z[:, None] * k[:, t - 2]
        for t in (3, 9):
            k[:, :, t] += c_y[:, None] * k[:, :, t - 1] - c_z[:, None] * k[:, :, t - 2]
    return k


@dataclass(slots=True)
class Points:
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


def as_points(loads: Points) -> Points:
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
    return Points(loads.member[which], loads.case[which], at, at, wrench, wrench)


def read_loads(loads: Sequence[MemberLoad], members: Sequence[Member], axes: Array, L: Array, cases: int) -> Points:
    """Loads on members in their own axes.  Raises InputError."""
    rows = rows_of(
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
    for n in where(off):
        raise InputError(
            f"a load at {mm(at[n]):g} of {named(members[member[n]], int(member[n]))} is off the member, which is "
            f"{mm(long[n]):g} long, or is no finite number",
            field="load",
        )
    turn = axes[member]
    for w in (first, last):
        turned = np.einsum("pij,pkj->pki", turn, w.reshape(-1, 2, 3)).reshape(-1, 6)
        w[~own] = turned[~own]
    return Points(member, case, np.clip(at, 0.0, long), np.clip(end, 0.0, long), first, last)


def clamped_ends(k: Array, L: Array, table: Array, loads: Points) -> Array:
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


def released(members: Sequence[Member], own: Array) -> tuple[Array | None, Array | None]:
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
    for n in where(least[:, 0] < NO_ENERGY):
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
    return f"{named(member, n)} is released at both ends so that it can {word}; hold it at one end"


def to_nodes(axes: Array, arms: Array) -> Array:
    """Movements of a member's ends in its axes from those of its nodes, (m, 12, 12)."""
    T = np.zeros((len(axes), 12, 12))
    for end in (0, 1):
        row = 6 * end
        T[:, row : row + 3, row : row + 3] = axes
        T[:, row + 3 : row + 6, row + 3 : row + 6] = axes
        if np.any(arms[:, end]):
            a, b, c = arms[:, end].T
            o = np.zeros_like(a)
            across = np.stack([np.stack([o, c, -b]), np.stack([-c, o, a]), np.stack([b, -a, o])]).transpose(2, 0, 1)
            T[:, row : row + 3, row + 3 : row + 6] = axes @ across
    return T
