"""From a builder's members to nodes and elements: where members meet, what stands on which, and what was assumed.

Members are joined where their lines meet in the plan and they touch in height (`TOUCH`).  The node stands on the line
of the member that comes first in the file; the others reach it by rigid arms, so that lines at different heights are
joined eccentrically.  An end that stops beside another member, within half its width and `END_GAP`, is joined to it;
one that stops further away is free.  Members that cross without touching pass each other.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from math import atan2, cos, hypot, inf, sin
from typing import Any

import numpy as np
import numpy.typing as npt

from jointcalc.errors import InputError, nearest
from jointcalc.kinds.frame.model import Frame, FrameMember, FrameSupport, read_ends
from jointcalc.model.brace import Brace
from jointcalc.quantity.sentence import mm
from jointcalc.section.shear_area import shear_area
from jointcalc.statics.frame import FREE, RIGID, End, Member, Node, Stiffness
from jointcalc.statics.frame_parts import Six

Array = npt.NDArray[np.float64]

SNAP = 1.0
"""Places that are nearer to each other are one [mm]: what a tape measures (common practice, no source)."""
END_GAP = 5.0
"""How far an end may stop short of the member that it is welded to [mm] (common practice, no source)."""
TOUCH = 2.0
"""Gap in height that a weld still closes [mm] (common practice, no source)."""
UP = np.array([0.0, 0.0, 1.0])


@dataclass(slots=True)
class Laid:
    """A member as it lies: line of centroids, section, and where along it something happens."""

    n: int
    member: FrameMember
    section: Brace
    item: Brace | None
    start: Array
    end: Array
    turned: bool
    half: float
    """Half its width in the plan [mm]."""
    top: float
    bottom: float
    """Faces over the line of centroids [mm]."""
    up: Array
    stiffness: Stiffness
    ends: tuple[float, float]
    nodes: list[tuple[float, int]] = field(default_factory=list)
    """(place along it, node), in order."""
    elements: list[int] = field(default_factory=list)

    @property
    def id(self) -> str:
        """What it is called."""
        return self.member.id

    @property
    def along(self) -> Array:
        """Unit vector from start to end."""
        way: Array = (self.end - self.start) / self.length
        return way

    @property
    def length(self) -> float:
        """Length of its line [mm]."""
        return float(np.linalg.norm(self.end - self.start))

    @property
    def side(self) -> Array:
        """Level unit vector about which upright loads bend it: what turns about it clockwise is positive in a brace."""
        side = np.cross(UP, self.along)
        level: Array = side / np.linalg.norm(side)
        return level

    def point(self, s: float) -> Array:
        """Place on its line."""
        at: Array = self.start + s * self.along
        return at

    def nearest(self, at: Sequence[float] | Array) -> tuple[float, float]:
        """(distance in the plan, place along it) of its point nearest to x, y."""
        a, d = self.start[:2], (self.end - self.start)[:2]
        share = float(np.clip(np.dot(np.asarray(at[:2]) - a, d) / np.dot(d, d), 0.0, 1.0))
        near = a + share * d
        return hypot(at[0] - near[0], at[1] - near[1]), share * self.length


@dataclass(slots=True)
class Plan:
    """The frame as nodes and elements, with the sentences that say what was assumed."""

    laid: list[Laid]
    nodes: list[Node]
    elements: list[Member]
    supports: list[tuple[FrameSupport, int]]
    notes: list[str]


def _stiffness(section: Brace, held: bool) -> tuple[Stiffness, float]:
    """Stiffness about principal axes, and the angle from the section's y to them [rad]; level axes where it is held."""
    p = section.properties
    E, nu = section.sheets[0].material.E, section.sheets[0].material.nu
    G = E / (2 * (1 + nu))
    I_y, I_z, I_yz = (float(v[0]) for v in (p.I_y, p.I_z, p.I_yz))
    skew = abs(I_yz) > 1e-6 * max(I_y, I_z) and not held
    turn = 0.5 * atan2(2 * I_yz, I_z - I_y) if skew else 0.0
    c, s = cos(turn), sin(turn)
    about_y = s**2 * I_z + c**2 * I_y - 2 * s * c * I_yz if skew else I_y
    about_z = I_y + I_z - about_y if skew else I_z
    dy = float((p.y_shear_centre - p.y_centroid)[0])
    dz = float((p.z_shear_centre - p.z_centroid)[0])
    made = Stiffness(
        EA=E * float(p.area[0]), EI_y=E * about_y, EI_z=E * about_z, GJ=G * float(p.J[0]),
        GA_y=G * shear_area(p, c, s), GA_z=G * shear_area(p, -s, c),
        centre=(dy * c + dz * s, -dy * s + dz * c),
    )  # fmt: skip
    return made, turn


def _laid(n: int, one: FrameMember, items: Mapping[str, Any], known: dict[Any, Any]) -> Laid:
    item: Brace | None = None
    if one.brace:
        found = items.get(one.brace)
        if not isinstance(found, Brace):
            braces = sorted(i for i, thing in items.items() if isinstance(thing, Brace))
            told = ", ".join(braces) or "none is there"
            raise InputError(
                f"'{one.brace}' is not the id of a [[brace]] of this file{nearest(one.brace, braces)} (there: {told})",
                field=f"members: {one.id}: brace",
            )
        item = found
        if item.place is None:
            raise InputError(
                f"brace {item.id} does not say where it lies: give its 'place'", field=f"members: {one.id}"
            )
        if len(item.span) > 1:
            raise InputError(
                f"brace {item.id} has {len(item.span)} spans; in a frame the members it crosses hold it: give it one "
                "span over its whole length",
                field=f"members: {one.id}",
            )
        if one.lies and item.typed("lies") and one.lies != item.lies:
            raise InputError(
                f"brace {item.id} says '{item.lies}'; take one of them out", field=f"members: {one.id}: lies"
            )
        x1, y1, x2, y2 = item.place
        first, last = np.array([x1, y1, one.level]), np.array([x2, y2, one.level])
        section = item
        lies = one.lies or item.lies
    else:
        assert one.start is not None
        assert one.end is not None
        first, last = np.array(one.start, dtype=float), np.array(one.end, dtype=float)
        key = (one.profile, one.grade, one.coating, one.skin_grade)
        if key not in known:
            known[key] = one.section(1000.0)
        section = known[key]
        lies = one.lies
    level = float(np.linalg.norm((last - first)[:2]))
    if level <= SNAP:
        word = "stands upright; the members of a floor frame lie in the floor"
        if float(np.linalg.norm(last - first)) <= SNAP:
            word = f"has no length: both ends are at {mm(first[0], ' ', first[1], ' ', first[2]):g}; move one"
        raise InputError(word, field=f"members: {one.id}")
    if not lies and not section.family.level_symmetric:
        raise InputError(
            f"does not say which way up it lies, which a {section.family.kind} has to in a frame: crown-up (as drawn) "
            "or flanges-up (turned over)",
            field=f"members: {one.id}: lies",
        )
    turned = lies == "flanges-up"
    p = section.properties
    c = float(p.z_centroid[0])
    top, bottom = float(p.z_top[0]) - c, float(p.z_bottom[0]) - c
    if turned:
        top, bottom = -bottom, -top
    middle = float(p.y_centroid[0])
    half = max(abs(float(p.y_left[0]) - middle), abs(float(p.y_right[0]) - middle))
    drop = {"centroid": 0.0, "top": top, "bottom": bottom}[one.line] * UP
    held = item is not None and item.held != "none"
    same = ("stiffness", id(section), held)
    if same not in known:
        known[same] = (_stiffness(section, held), section)
    (stiffness, turn), _ = known[same]
    way = last - first
    level_y = np.cross(UP, way / np.linalg.norm(way))
    up = (-sin(turn) * level_y + cos(turn) * UP) * (-1.0 if turned else 1.0)
    ends = read_ends(one.ends or (item.ends if item is not None and item.typed("ends") else "fixed"))
    return Laid(n, one, section, item, first - drop, last - drop, turned, half, top, bottom, up, stiffness, ends)


# --- where members meet --------------------------------------------------------------------------------------


def _meet(one: Laid, two: Laid) -> tuple[float, float, float]:
    """(distance in the plan, place along one, place along two) of the nearest points of two members."""
    a, b = one.start[:2], two.start[:2]
    u, v = (one.end - one.start)[:2], (two.end - two.start)[:2]
    cross = u[0] * v[1] - u[1] * v[0]
    w = b - a
    if abs(cross) > 1e-9 * np.linalg.norm(u) * np.linalg.norm(v):
        s, t = (w[0] * v[1] - w[1] * v[0]) / cross, (w[0] * u[1] - w[1] * u[0]) / cross
        if 0.0 <= s <= 1.0 and 0.0 <= t <= 1.0:
            return 0.0, float(s) * one.length, float(t) * two.length
    found = []
    for s_end, at in ((0.0, one.start), (one.length, one.end)):
        d, t = two.nearest(at)
        found.append((d, s_end, t))
    for t_end, at in ((0.0, two.start), (two.length, two.end)):
        d, s = one.nearest(at)
        found.append((d, s, t_end))
    return min(found, key=lambda f: (round(f[0], 6), not _at_end(f[1], one) or not _at_end(f[2], two)))


def _at_end(s: float, one: Laid) -> bool:
    return s <= SNAP or s >= one.length - SNAP


def _overlap(one: Laid, two: Laid) -> float:
    """Length over which two members lie on one line in the plan [mm]."""
    u = one.along[:2] / np.linalg.norm(one.along[:2])
    v = two.along[:2] / np.linalg.norm(two.along[:2])
    if abs(u[0] * v[1] - u[1] * v[0]) > 1e-3:
        return 0.0
    off = two.start[:2] - one.start[:2]
    if abs(u[0] * off[1] - u[1] * off[0]) > SNAP:
        return 0.0
    ends = sorted(float(np.dot(p[:2] - one.start[:2], u)) for p in (two.start, two.end))
    return min(ends[1], float(np.linalg.norm((one.end - one.start)[:2]))) - max(ends[0], 0.0)


def _gap(one: Laid, s: float, two: Laid, t: float) -> float:
    """Gap in height between two members at their nearest points [mm]; below nought where they overlap."""
    a, b = float(one.point(s)[2]), float(two.point(t)[2])
    return max((a + one.bottom) - (b + two.top), (b + two.bottom) - (a + one.top))


@dataclass(slots=True)
class _Marks:
    """Places along members that are one place, found one after the other."""

    group: list[int] = field(default_factory=list)
    place: list[tuple[int, float]] = field(default_factory=list)

    def add(self, member: int, s: float) -> int:
        """A mark; one within `SNAP` on the same member is the same place."""
        for k, (m, at) in enumerate(self.place):
            if m == member and abs(at - s) <= SNAP:
                return k
        self.place.append((member, s))
        self.group.append(len(self.group))
        return len(self.group) - 1

    def join(self, a: int, b: int) -> None:
        """Two marks are one node."""
        old, new = self.group[b], self.group[a]
        self.group = [new if g == old else g for g in self.group]


def lay(frame: Frame, items: Mapping[str, Any]) -> Plan:
    """The frame's nodes and elements.  Raises InputError: unknown brace, overlap, a support on no member."""
    known: dict[Any, Any] = {}
    laid = [_laid(n, one, items, known) for n, one in enumerate(frame.members)]
    notes: list[str] = []
    marks = _Marks()
    for one in laid:
        marks.add(one.n, 0.0)
        marks.add(one.n, one.length)
    for one, two in _near(laid):
        distance, s, t = _meet(one, two)
        ends = [(two.half, _at_end(s, one)), (one.half, _at_end(t, two))]
        reach = max((half + END_GAP for half, at_end in ends if at_end), default=0.0)
        over = _overlap(one, two)
        touch = _gap(one, s, two, t) <= TOUCH
        if over > SNAP and touch:
            raise InputError(
                f"{one.id} and {two.id} lie over each other for {mm(over):.4g}; end one where the other begins, or "
                "make them one member",
                field="members",
            )
        if distance > max(reach, SNAP):
            continue
        if not touch:
            notes.append(
                f"{one.id} and {two.id} pass each other in height with {mm(_gap(one, s, two, t)):.3g} between them: "
                "nothing joins them there"
            )
            continue
        marks.join(marks.add(one.n, s), marks.add(two.n, t))
        step = float(one.point(s)[2] - two.point(t)[2])
        if distance > SNAP:
            ends_here = one if _at_end(s, one) else two
            other = two if ends_here is one else one
            notes.append(
                f"the end of {ends_here.id} is joined to {other.id}, {mm(distance):.3g} beside its line, rigidly"
            )
        if abs(step) > 0.5:
            notes.append(
                f"{one.id} and {two.id} are joined with {mm(abs(step)):.3g} between the heights of their centroids"
            )
    supports = []
    for n, support in enumerate(frame.supports):
        member, s = _stand(laid, support.at, f"supports: {n + 1}")
        supports.append((support, marks.add(member.n, s)))
    return _made(laid, marks, supports, notes)


def _near(laid: list[Laid]) -> list[tuple[Laid, Laid]]:
    """Pairs whose boxes in the plan come near each other."""
    low = np.array([np.minimum(one.start, one.end)[:2] - one.half - END_GAP for one in laid])
    high = np.array([np.maximum(one.start, one.end)[:2] + one.half + END_GAP for one in laid])
    apart = (low[:, None] > high[None]).any(axis=2) | (low[None] > high[:, None]).any(axis=2)
    return [(laid[i], laid[j]) for i, j in np.argwhere(~apart) if i < j]


def _stand(laid: list[Laid], at: Sequence[float], word: str) -> tuple[Laid, float]:
    """The member under a point; InputError where none is."""
    found = sorted((one.nearest(at)[0], one.n) for one in laid)
    distance, n = found[0]
    if distance > laid[n].half + END_GAP:
        raise InputError(
            f"at {mm(at[0], ' ', at[1]):g} is on no member; {laid[n].id} is nearest, {mm(distance):.4g} beside it",
            field=word,
        )
    return laid[n], laid[n].nearest(at)[1]


def _made(laid: list[Laid], marks: _Marks, supports: list[tuple[FrameSupport, int]], notes: list[str]) -> Plan:
    """Nodes and elements from the marks."""
    order = sorted(dict.fromkeys(marks.group), key=lambda g: min(m for m, h in zip(marks.place, marks.group) if h == g))
    number = {g: k for k, g in enumerate(order)}
    at: list[Array] = []
    names: list[str] = []
    on: list[dict[int, float]] = []
    for g in order:
        mine = sorted(place for place, h in zip(marks.place, marks.group) if h == g)
        member, s = mine[0]
        at.append(laid[member].point(s))
        there = dict(mine)
        if len(there) < len(mine):
            twice = laid[next(m for m, _ in mine if sum(k == m for k, _ in mine) > 1)].id
            raise InputError(
                f"the lines that meet near {mm(at[-1][0], ' ', at[-1][1]):g} meet {twice} at two places; let them meet "
                "in one point",
                field="members",
            )
        on.append(there)
        x, y = at[-1][0], at[-1][1]
        ids = [laid[m].id for m, _ in mine]
        where = f"at {mm(x, ' ', y):.4g}"
        if len(ids) > 1:
            names.append(f"the joint of {' and '.join(ids)} {where}")
        else:
            names.append(f"{'the end' if _at_end(s, laid[member]) else 'a point'} of {ids[0]} {where}")
            if _at_end(s, laid[member]) and not any(number[marks.group[k]] == len(at) - 1 for _, k in supports):
                notes.append(_free(laid, laid[member], at[-1], where))
    springs = [list(FREE) for _ in order]
    held = []
    for support, mark in supports:
        node = number[marks.group[mark]]
        for k, word in enumerate(("x", "y", "z", "rx", "ry", "rz")):
            if word in support.words:
                springs[node][k] += inf if support.stiffness is None else support.stiffness
        held.append((support, node))
    nodes = [Node((float(p[0]), float(p[1]), float(p[2])), _six(s), name) for p, s, name in zip(at, springs, names)]
    elements: list[Member] = []
    for one in laid:
        one.nodes = sorted((there[one.n], k) for k, there in enumerate(on) if one.n in there)
        first = one.nodes[0]
        for (s, a), (t, b) in zip(one.nodes, one.nodes[1:]):
            one.elements.append(len(elements))
            elements.append(
                Member(
                    a,
                    b,
                    one.stiffness,
                    _three(one.up),
                    End(_spring(one.ends[0]) if (s, a) == first else RIGID, _three(one.point(s) - at[a])),
                    End(_spring(one.ends[1]) if (t, b) == one.nodes[-1] else RIGID, _three(one.point(t) - at[b])),
                    one.id,
                )
            )
    return Plan(laid, nodes, elements, held, notes)


def _free(laid: list[Laid], one: Laid, at: Array, where: str) -> str:
    """What is said of an end that nothing joins."""
    beside = sorted((other.nearest(at)[0] - other.half, other.id) for other in laid if other is not one)
    told = f": {beside[0][1]} is nearest, {mm(beside[0][0]):.4g} away" if beside and beside[0][0] < 500 else ""
    return f"the end of {one.id} {where} is free{told}"


def _spring(turn: float) -> Six:
    if turn == inf:
        return RIGID
    return (inf, inf, inf, inf, turn, 0.0 if turn == 0.0 else inf)


def _three(v: Array) -> tuple[float, float, float]:
    x, y, z = (float(a) for a in v)
    return x, y, z


def _six(v: Sequence[float]) -> Six:
    a, b, c, d, e, f = v
    return a, b, c, d, e, f
