"""Mid-line outlines of thin-walled sections, for one section or for many of the same topology.

An outline is a graph: nodes on the mid-line of the sheet, joined by segments.  A segment is a flat
(straight), a bend (a circular arc, exactly) or a weld (a rigid link without area between the
mid-lines of two sheets that are welded together).  Each segment has its own thickness, modulus
ratio, strength ratio and density.

Axes as in EN 1993: y horizontal, z vertical.  All arrays carry the batch as their last axis: nodes
`(n_nodes, batch)`, segment values `(n_segments, batch)`; a last axis of length 1 means "the same for
the whole batch".  A single section is a batch of one and runs through the same code.

`Tracer` draws outlines the way sheet is folded (go, bend, go), and keeps the list of flats and bends
that the blank and the effective widths need.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from itertools import pairwise
from math import cos, isclose, pi, sin
from typing import Any, Literal

import numpy as np
import numpy.typing as npt

from jointcalc.errors import InputError

Floats = npt.NDArray[np.float64]
Bools = npt.NDArray[np.bool_]
Number = Any
"""A float or an array of floats, one per candidate."""

SegmentKind = Literal["flat", "bend", "weld"]
Role = Literal["internal", "outstand", "lip", "none"]

STEEL_DENSITY = 7.85e-9
"""t/mm^3, EN 1991-1-1:2002 Table A.4 gives 77,0 to 78,5 kN/m3 for steel; 7850 kg/m3 is common practice."""


@dataclass(frozen=True, slots=True)
class Segment:
    """One piece of mid-line between two nodes."""

    name: str
    kind: SegmentKind
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Flat:
    """A flat part of the sheet: `length` is between the tangent points of the bends at its ends.

    `letter` is the dimension a builder would change to make it longer.  `role` says how the flat is
    held: between two supports, with one free edge, or as the lip that stiffens the flat `host`.  For
    an outstand or a lip, `free_end` says which end of the segment is free ("start" or "end").
    `count` is how many equal flats at the same height this one stands for (2 for the left one of a
    mirrored pair, 0 for the right one).
    """

    name: str
    segment: int
    length: Floats
    t: Floats
    letter: str
    role: Role
    count: int
    host: str
    free_end: str
    sheet: str


@dataclass(frozen=True, slots=True)
class Bend:
    """A bend of the sheet: the angle it turns [rad, unsigned] and its inside radius [mm]."""

    name: str
    segment: int
    angle: Floats
    r: Floats
    t: Floats
    sheet: str
    letter: str


@dataclass(frozen=True, slots=True)
class Bead:
    """A circular-arc bead pressed into a flat: chord `width`, rise `depth`, length along the arc."""

    name: str
    segment: int
    width: Floats
    depth: Floats
    length: Floats
    t: Floats
    sheet: str


@dataclass(frozen=True, slots=True)
class Development:
    """What the brake needs: the flats, bends and beads of the profile, in order, by sheet."""

    parts: tuple[Flat | Bend | Bead, ...]

    @property
    def flats(self) -> tuple[Flat, ...]:
        """The flats in order."""
        return tuple(part for part in self.parts if isinstance(part, Flat))

    @property
    def bends(self) -> tuple[Bend, ...]:
        """The bends in order."""
        return tuple(part for part in self.parts if isinstance(part, Bend))

    @property
    def sheets(self) -> tuple[str, ...]:
        """Names of the separate sheets the profile is made of, in order."""
        return tuple(dict.fromkeys(part.sheet for part in self.parts))

    def flat(self, name: str) -> Flat:
        """The flat of that name."""
        return next(part for part in self.flats if part.name == name)


@dataclass(frozen=True, slots=True)
class Tree:
    """How the segments hang together: a spanning tree and the loops the other segments close.

    `order` holds (segment, known node, new node, sign) in the order of a walk from node 0; the sign
    is +1 when the walk follows the segment's own direction.  `loops` holds for each further segment
    the signed segments of the loop it closes, itself first with +1.
    """

    order: tuple[tuple[int, int, int, int], ...]
    loops: tuple[tuple[tuple[int, int], ...], ...]
    free: tuple[tuple[int, int], ...]
    """(node, segment) at each free edge of the sheet."""


@dataclass(frozen=True)
class Outline:
    """A thin-walled section, or many of one topology.  All lengths in mm.

    `way_y`, `way_z` is the unit vector along each segment at its middle (unused for weld links).
    `sweep` is the angle [rad] a bend turns from start to end, counter-clockwise positive, 0 on flats;
    `radius` its mid-line radius.  `ratio` is E over the reference E, `strength` f_y over the
    reference f_y (plastic moduli), `density` in t/mm^3.
    """

    segments: tuple[Segment, ...]
    y: Floats
    z: Floats
    way_y: Floats
    way_z: Floats
    t: Floats
    sweep: Floats
    radius: Floats
    ratio: Floats
    strength: Floats
    density: Floats

    @property
    def batch(self) -> int:
        """How many sections the arrays hold."""
        return int(self.y.shape[-1])

    @cached_property
    def flat_ids(self) -> npt.NDArray[np.intp]:
        """Indices of the straight segments."""
        return np.array([i for i, s in enumerate(self.segments) if s.kind == "flat"], dtype=np.intp)

    @cached_property
    def bend_ids(self) -> npt.NDArray[np.intp]:
        """Indices of the arcs."""
        return np.array([i for i, s in enumerate(self.segments) if s.kind == "bend"], dtype=np.intp)

    @cached_property
    def weld_ids(self) -> npt.NDArray[np.intp]:
        """Indices of the weld links."""
        return np.array([i for i, s in enumerate(self.segments) if s.kind == "weld"], dtype=np.intp)

    def index(self, name: str) -> int:
        """Index of the segment of that name.  Raises InputError when there is none."""
        for i, segment in enumerate(self.segments):
            if segment.name == name:
                return i
        names = ", ".join(s.name for s in self.segments)
        raise InputError(f"no part of the profile is called '{name}'; its parts are {names}")

    def turned(self) -> Outline:
        """The same section upside down: every height mirrored about the middle between lowest and highest node."""
        middle = self.z.min(axis=0) + self.z.max(axis=0)
        return replace(self, z=middle - self.z, way_z=-self.way_z, sweep=-self.sweep)

    @cached_property
    def tree(self) -> Tree:
        """Spanning tree, loops and free edges, from the connectivity.

        Raises InputError when the outline is in more than one piece.
        """
        return _tree(self.segments, self.y.shape[0])

    def polyline(self, segment: int, column: int = 0, points: int = 24) -> Floats:
        """Points `(n, 2)` along the mid-line of one segment of one section, for drawings and tests."""
        piece = self.segments[segment]
        nodes = [piece.start, piece.end]
        ends = np.column_stack([self.y[nodes, column], self.z[nodes, column]])
        if piece.kind != "bend":
            return ends
        sweep = _pick(self.sweep, segment, column)
        radius = _pick(self.radius, segment, column)
        chord = ends[1] - ends[0]
        along = chord / np.hypot(*chord)
        left = np.array([-along[1], along[0]])
        side = np.sign(sweep)
        centre = ends.mean(axis=0) + left * side * radius * np.cos(abs(sweep) / 2)
        u = np.linspace(-abs(sweep) / 2, abs(sweep) / 2, points)[:, None]
        return np.asarray(centre - side * left * radius * np.cos(u) + along * radius * np.sin(u))

    def faces(self, segment: int, column: int = 0, points: int = 24) -> Floats:
        """Corners `(n, 2)` of the solid piece of sheet one segment stands for, as a closed polygon."""
        line = self.polyline(segment, column, points)
        t = _pick(self.t, segment, column)
        if self.segments[segment].kind == "bend":
            sweep = _pick(self.sweep, segment, column)
            radius = _pick(self.radius, segment, column)
            chord = line[-1] - line[0]
            left = np.array([-chord[1], chord[0]]) / np.hypot(*chord)
            centre = (line[0] + line[-1]) / 2 + left * np.sign(sweep) * radius * np.cos(abs(sweep) / 2)
            arm = (line - centre) / radius
            return np.concatenate([centre + arm * (radius + t / 2), (centre + arm * (radius - t / 2))[::-1]])
        along = line[1] - line[0]
        left = np.array([-along[1], along[0]]) / np.hypot(*along) * t / 2
        return np.concatenate([line + left, (line - left)[::-1]])


def _pick(array: Floats, segment: int, column: int) -> float:
    row = array[segment]
    return float(row[column if row.shape[-1] > 1 else 0])


def _tree(segments: Sequence[Segment], nodes: int) -> Tree:
    at: list[list[tuple[int, int, int]]] = [[] for _ in range(nodes)]
    for i, piece in enumerate(segments):
        at[piece.start].append((i, piece.end, 1))
        at[piece.end].append((i, piece.start, -1))
    order: list[tuple[int, int, int, int]] = []
    towards: dict[int, tuple[int, int, int]] = {}  # node -> (segment, parent, sign from parent)
    seen = {0}
    queue = [0]
    while queue:
        node = queue.pop(0)
        for i, other, sign in at[node]:
            if other not in seen:
                seen.add(other)
                towards[other] = (i, node, sign)
                order.append((i, node, other, sign))
                queue.append(other)
    if len(seen) < nodes:
        lost = next(p.name for p in segments if p.start not in seen)
        raise InputError(
            f"the outline is in separate pieces: '{lost}' is not joined to the rest; let it share a point or weld it"
        )
    used = {i for i, *_ in order}

    def back(node: int) -> list[tuple[int, int, int]]:
        path = []
        while node in towards:
            i, parent, sign = towards[node]
            path.append((node, i, sign))
            node = parent
        return path

    loops = []
    for i, piece in enumerate(segments):
        if i in used:
            continue
        up_end, up_start = back(piece.end), back(piece.start)
        while up_end and up_start and up_end[-1] == up_start[-1]:
            up_end.pop()
            up_start.pop()
        # along the segment, then from its end back to the common node, then out to its start
        loop = [(i, 1)] + [(j, -s) for _, j, s in up_end] + [(j, s) for _, j, s in reversed(up_start)]
        loops.append(tuple(loop))
    free = tuple(
        (node, touching[0][0])
        for node, touching in enumerate(at)
        if len(touching) == 1 and segments[touching[0][0]].kind != "weld"
    )
    return Tree(tuple(order), tuple(loops), free)


def crossing(outline: Outline, column: int = 0) -> tuple[str, str] | None:
    """Names of two parts of one section whose mid-lines cross or touch away from a shared node, if any."""
    pieces: list[tuple[int, Floats, Floats]] = []
    for i, piece in enumerate(outline.segments):
        if piece.kind == "weld":
            continue
        line = outline.polyline(i, column, 13)
        pieces.extend((i, a, b) for a, b in pairwise(line) if np.hypot(*(b - a)) > 1e-12)
    start = np.array([a for _, a, _ in pieces])
    end = np.array([b for *_, b in pieces])
    owner = np.array([i for i, *_ in pieces])
    d = end - start
    for k in range(len(pieces)):
        near = np.arange(len(pieces)) > k + 1
        if owner[k] == owner[-1]:
            near &= owner != owner[k]
        e = d[near]
        gap = start[near] - start[k]
        det = d[k, 0] * e[:, 1] - d[k, 1] * e[:, 0]
        size = np.hypot(*d[k]) * np.hypot(e[:, 0], e[:, 1])
        level = np.abs(det) > 1e-9 * size
        safe = np.where(level, det, 1.0)
        s = (gap[:, 0] * e[:, 1] - gap[:, 1] * e[:, 0]) / safe
        u = (gap[:, 0] * d[k, 1] - gap[:, 1] * d[k, 0]) / safe
        inside = level & (s > -1e-9) & (s < 1 + 1e-9) & (u > -1e-9) & (u < 1 + 1e-9)
        # two lines on top of each other
        off = np.abs(gap[:, 0] * d[k, 1] - gap[:, 1] * d[k, 0]) < 1e-9 * max(float(d[k] @ d[k]), 1e-30)
        p0 = (gap @ d[k]) / float(d[k] @ d[k])
        p1 = ((end[near] - start[k]) @ d[k]) / float(d[k] @ d[k])
        overlap = ~level & off & (np.minimum(np.maximum(p0, p1), 1) - np.maximum(np.minimum(p0, p1), 0) > 1e-9)
        for hit in np.flatnonzero(inside | overlap):
            i, j = int(owner[k]), int(owner[near][hit])
            a, b = outline.segments[i], outline.segments[j]
            shared = {a.start, a.end} & {b.start, b.end}
            if shared and not overlap[hit]:
                point = start[k] + s[hit] * d[k]
                near_enough = 1e-6 * (1 + np.hypot(*d[k]))
                corners = [(outline.y[n, column], outline.z[n, column]) for n in shared]
                if any(np.hypot(point[0] - y, point[1] - z) < near_enough for y, z in corners):
                    continue
            if i != j:
                return a.name, b.name
    return None


# --- drawing ---------------------------------------------------------------------------------------


@dataclass
class _Pen:
    y: Number
    z: Number
    cos: Number
    sin: Number
    node: int


def _direction(angle: Number) -> tuple[Number, Number]:
    """(cos, sin) of an angle; exact for whole quarter turns, so that square profiles stay square."""
    if isinstance(angle, float | int):
        quarter = round(angle / (pi / 2))
        if isclose(angle, quarter * pi / 2, rel_tol=0, abs_tol=1e-14):
            return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[quarter % 4]
        return cos(angle), sin(angle)
    return np.cos(angle), np.sin(angle)


@dataclass
class Tracer:
    """Draws an outline as sheet is folded: `start`, then `go`, `bend`, `bead`, ... one strand per sheet.

    Angles in radians, counter-clockwise positive; lengths in mm; floats or arrays over the batch.
    With `sharp` the bends are drawn as corners of the mid-line (for the idealised sections of
    published examples): each flat then reaches to the corner.
    """

    sharp: bool = False
    nodes: list[tuple[Number, Number]] = field(default_factory=list)
    segments: list[Segment] = field(default_factory=list)
    values: list[tuple[Number, ...]] = field(default_factory=list)
    parts: list[Flat | Bend | Bead] = field(default_factory=list)
    pen: _Pen | None = None
    t: Number = 1.0
    sheet: str = "sheet"
    ratio: Number = 1.0
    strength: Number = 1.0
    density: Number = STEEL_DENSITY

    def start(
        self,
        y: Number,
        z: Number,
        heading: Number,
        *,
        t: Number,
        sheet: str = "sheet",
        ratio: Number = 1.0,
        strength: Number = 1.0,
        density: Number = STEEL_DENSITY,
    ) -> Tracer:
        """Put the pen down at a mid-line point, heading at `heading` [rad] from the y axis."""
        self.t, self.sheet, self.ratio, self.strength, self.density = t, sheet, ratio, strength, density
        c, s = _direction(heading)
        self.nodes.append((y, z))
        self.pen = _Pen(y, z, c, s, len(self.nodes) - 1)
        return self

    def _pen(self) -> _Pen:
        if self.pen is None:
            raise ValueError("start a sheet first")
        return self.pen

    def _segment(
        self,
        name: str,
        kind: SegmentKind,
        dy: Number,
        dz: Number,
        *,
        sweep: Number = 0.0,
        radius: Number = 0.0,
        close: int | None = None,
    ) -> int:
        pen = self._pen()
        pen.y, pen.z = pen.y + dy, pen.z + dz
        if close is None:
            self.nodes.append((pen.y, pen.z))
            end = len(self.nodes) - 1
        else:
            end = close
        self.segments.append(Segment(name, kind, pen.node, end))
        self.values.append((pen.cos, pen.sin, self.t, sweep, radius, self.ratio, self.strength, self.density))
        pen.node = end
        return len(self.segments) - 1

    def go(
        self,
        length: Number,
        name: str,
        letter: str,
        *,
        role: Role = "internal",
        count: int = 1,
        host: str = "",
        free_end: str = "",
        corners: Number = 0.0,
        close: int | None = None,
    ) -> Tracer:
        """A flat of `length`; `corners` is what sharp corners at its ends add to it in `sharp` drawings."""
        pen = self._pen()
        drawn = length + corners if self.sharp else length
        i = self._segment(name, "flat", drawn * pen.cos, drawn * pen.sin, close=close)
        self.parts.append(
            Flat(name, i, _array(length), _array(self.t), letter, role, count, host, free_end, self.sheet)
        )
        return self

    def turn(self, angle: Number) -> Tracer:
        """Turn on the spot: a sharp corner of the mid-line."""
        pen = self._pen()
        c, s = _direction(angle)
        pen.cos, pen.sin = pen.cos * c - pen.sin * s, pen.sin * c + pen.cos * s
        return self

    def bend(self, angle: Number, r: Number, name: str, letter: str = "r", *, close: int | None = None) -> Tracer:
        """A bend that turns by `angle` about an inside radius `r`."""
        size = _array(np.abs(angle))
        if self.sharp:
            self.turn(angle)
            self.parts.append(Bend(name, -1, size, _array(r), _array(self.t), self.sheet, letter))
            return self
        radius = r + self.t / 2
        i = self._arc(angle, radius, name, close)
        self.parts.append(Bend(name, i, size, _array(r), _array(self.t), self.sheet, letter))
        return self

    def _arc(self, angle: Number, radius: Number, name: str, close: int | None) -> int:
        half = angle / 2
        pen = self._pen()
        before = pen.cos, pen.sin
        self.turn(half)
        chord = 2 * radius * np.abs(np.sin(half) if not isinstance(half, float) else sin(half))
        i = self._segment(name, "bend", chord * pen.cos, chord * pen.sin, sweep=angle, radius=radius, close=close)
        pen.cos, pen.sin = before
        self.turn(angle)  # in one turn: two halves would leave a square bend a hair off square
        return i

    def bead(self, width: Number, depth: Number, side: int, name: str) -> Tracer:
        """A circular-arc bead of chord `width` and rise `depth`, to the left (+1) or right (-1) of the way."""
        half = 2 * np.arctan(2 * depth / width)
        radius = (width**2 / 4 + depth**2) / (2 * depth)
        self.turn(side * half)
        i = self._arc(-2 * side * half, radius, name, None)
        self.turn(side * half)
        length = _array(2 * half * radius)
        self.parts.append(Bead(name, i, _array(width), _array(depth), length, _array(self.t), self.sheet))
        return self

    @property
    def node(self) -> int:
        """The node the pen stands on."""
        return self._pen().node

    def weld(self, one: int, other: int, name: str) -> Tracer:
        """A rigid link between two nodes: a weld line between two sheets."""
        self.segments.append(Segment(name, "weld", one, other))
        self.values.append((0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 0.0, 0.0))
        return self

    def outline(self) -> Outline:
        """What was drawn."""
        batch = max(int(np.size(v)) for row in (*self.nodes, *self.values) for v in row)
        y = np.empty((len(self.nodes), batch))
        z = np.empty_like(y)
        for i, (a, b) in enumerate(self.nodes):
            y[i], z[i] = a, b
        columns = [_stack([row[k] for row in self.values], batch) for k in range(8)]
        return Outline(tuple(self.segments), y, z, *columns)

    def development(self) -> Development:
        """Flats, bends and beads in the order drawn."""
        return Development(tuple(self.parts))


def _array(value: Number) -> Floats:
    return np.atleast_1d(np.asarray(value, dtype=float))


def _stack(rows: Sequence[Number], batch: int) -> Floats:
    """Rows as one array; the last axis is 1 when no row varies over the batch, which saves work."""
    width = batch if any(np.size(row) > 1 for row in rows) else 1
    out = np.empty((len(rows), width))
    for i, row in enumerate(rows):
        out[i] = row
    return out
