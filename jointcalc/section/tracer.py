"""Drawing an outline the way sheet is folded (go, bend, go), and the list of its flats, bends and beads.

The blank (`forming`) and the effective widths (`panels`) read that list.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import cos, isclose, pi, sin
from typing import Literal

import numpy as np

from jointcalc.section.outline import STEEL_DENSITY, Floats, Number, Outline, Segment, SegmentKind

Role = Literal["internal", "outstand", "lip", "none"]


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
