"""Mid-line outlines of thin-walled sections, for one section or for many of the same topology.

An outline is a graph: nodes on the mid-line of the sheet, joined by segments.  A segment is a flat
(straight), a bend (a circular arc, exactly) or a weld (a rigid link without area between the
mid-lines of two sheets that are welded together).  Each segment has its own thickness, modulus
ratio, strength ratio and density.

Axes as in EN 1993: y horizontal, z vertical.  All arrays carry the batch as their last axis: nodes
`(n_nodes, batch)`, segment values `(n_segments, batch)`; a last axis of length 1 means "the same for
the whole batch".  A single section is a batch of one and runs through the same code.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise
from typing import Any, Literal

import numpy as np
import numpy.typing as npt

from jointcalc.errors import InputError

Floats = npt.NDArray[np.float64]
Bools = npt.NDArray[np.bool_]
Number = Any
"""A float or an array of floats, one per candidate."""
SegmentKind = Literal["flat", "bend", "weld"]
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
        # the slope of a step whose bends do all of it has no length, and no face
        left = np.array([-along[1], along[0]]) / (np.hypot(*along) or 1.0) * t / 2
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
    one, other = np.triu_indices(len(pieces), 2)
    if pieces:
        apart = (owner[one] != owner[other]) | (owner[one] != owner[-1])  # the last part ends where it began
        one, other = one[apart], other[apart]
    d, e = (end - start)[one], (end - start)[other]
    gap = start[other] - start[one]
    own, size = (d * d).sum(axis=1), np.hypot(*d.T) * np.hypot(*e.T)
    det = d[:, 0] * e[:, 1] - d[:, 1] * e[:, 0]
    level = np.abs(det) > 1e-9 * size
    safe = np.where(level, det, 1.0)
    beside = gap[:, 0] * d[:, 1] - gap[:, 1] * d[:, 0]
    s = (gap[:, 0] * e[:, 1] - gap[:, 1] * e[:, 0]) / safe
    u = beside / safe
    inside = level & (s > -1e-9) & (s < 1 + 1e-9) & (u > -1e-9) & (u < 1 + 1e-9)
    # two lines on top of each other
    off = np.abs(beside) < 1e-9 * np.maximum(own, 1e-30)
    p0 = (gap * d).sum(axis=1) / own
    p1 = ((end[other] - start[one]) * d).sum(axis=1) / own
    overlap = ~level & off & (np.minimum(np.maximum(p0, p1), 1) - np.maximum(np.minimum(p0, p1), 0) > 1e-9)
    for hit in np.flatnonzero(inside | overlap):
        i, j = int(owner[one[hit]]), int(owner[other[hit]])
        a, b = outline.segments[i], outline.segments[j]
        shared = {a.start, a.end} & {b.start, b.end}
        if shared and not overlap[hit]:
            point = start[one[hit]] + s[hit] * d[hit]
            near_enough = 1e-6 * (1 + np.hypot(*d[hit]))
            corners = [(outline.y[n, column], outline.z[n, column]) for n in shared]
            if any(np.hypot(point[0] - y, point[1] - z) < near_enough for y, z in corners):
                continue
        if i != j:
            return a.name, b.name
    return None
