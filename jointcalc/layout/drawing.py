"""A drawing for marking out: plain geometry in mm on layers named in the words of the trade.

x runs to the right, y up; angles in radians, counter-clockwise.  The same entities go into the DXF
(exactly) and onto paper (arcs as chords that stay within 0.005 mm).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from math import acos, atan2, ceil, cos, hypot, pi, sin, tan
from typing import Literal

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
Across = Literal["left", "center", "right"]

SAGITTA = 0.005
"""How far a chord may leave its arc on paper [mm]; a pencil line is a hundred times wider."""


@dataclass(frozen=True, slots=True)
class Layer:
    """How a layer looks: colour number of the DXF, line type, width on paper [pt], and what it means."""

    colour: int
    dash: str
    width: float
    meaning: str
    work: bool = True
    """Whether it is marked on the sheet (and so asks for a page of paper)."""


LAYERS: Mapping[str, Layer] = {
    "CUT": Layer(7, "-", 1.0, "cut here"),
    "BEND_UP": Layer(5, "--", 0.7, "middle of a bend, towards you"),
    "BEND_DOWN": Layer(1, "-.", 0.7, "middle of a bend, away from you"),
    "TANGENT": Layer(8, ":", 0.4, "where a bend begins and ends"),
    "BEAD": Layer(5, "-.", 0.7, "middle of a bead, for the rolls"),
    "SPOT": Layer(3, "-", 0.7, "spot weld"),
    "HOLE": Layer(2, "-", 0.8, "hole to drill or punch"),
    "WELD": Layer(6, "-", 1.4, "arc weld"),
    "EDGE": Layer(9, "-", 0.4, "edge of a sheet that is there already"),
    "SECTION": Layer(4, "-", 0.7, "section, seen from the end", work=False),
    "CENTRE": Layer(8, "-", 0.3, "centre mark", work=False),
    "DIM": Layer(8, "-", 0.3, "dimension", work=False),
    "SYMBOL": Layer(8, "-", 0.6, "welding symbol", work=False),
    "TEXT": Layer(8, "-", 0.3, "lettering", work=False),
}
"""Layer -> how it looks and what it means."""


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line."""

    layer: str
    x1: float
    y1: float
    x2: float
    y2: float


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle; on paper its centre is marked too."""

    layer: str
    x: float
    y: float
    r: float


@dataclass(frozen=True, slots=True)
class Path:
    """Straight and round pieces in one go.

    `points` are x, y and the bulge of the piece that follows: tan of a quarter of the angle it turns,
    counter-clockwise positive, 0 for a straight one.
    """

    layer: str
    points: tuple[tuple[float, float, float], ...]
    closed: bool = True


@dataclass(frozen=True, slots=True)
class Label:
    """Lettering; `across` is left, center or right of the point, which is at mid-height.

    Its height is 3.5 mm, read at arm's length, where nothing else is said.
    """

    x: float
    y: float
    text: str
    height: float = 3.5
    turn: float = 0.0
    across: Across = "left"


@dataclass(frozen=True, slots=True)
class Dim:
    """A dimension, level or upright, between two points; `at` is where its line stands."""

    x1: float
    y1: float
    x2: float
    y2: float
    at: float
    text: str
    upright: bool = False

    @property
    def measure(self) -> float:
        """What it measures [mm]."""
        return abs(self.y2 - self.y1) if self.upright else abs(self.x2 - self.x1)


@dataclass(frozen=True, slots=True)
class Leader:
    """Words at (x2, y2) with a line to what they name, which ends in an arrow at (x1, y1)."""

    x1: float
    y1: float
    x2: float
    y2: float
    text: str

    @property
    def across(self) -> Across:
        """The words run on away from the line."""
        return "left" if self.x2 >= self.x1 else "right"


Entity = Line | Circle | Path | Label | Dim | Leader


@dataclass(frozen=True, slots=True)
class Table:
    """Rows of words under heads, for the paper."""

    title: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass
class Detail:
    """A second view: at true size beside the main one in the DXF, to scale on the first page of paper."""

    title: str
    entities: list[Entity] = field(default_factory=list)


@dataclass
class Drawing:
    """Everything that is drawn of one item or part.

    `full_size` asks for 1:1 paper; without it (a plain rectangle) the dimensions are enough.
    """

    id: str
    title: str
    what: str
    entities: list[Entity] = field(default_factory=list)
    details: list[Detail] = field(default_factory=list)
    tables: list[Table] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    full_size: bool = True

    def add(self, *entities: Entity) -> None:
        """Put entities on the drawing."""
        self.entities.extend(entities)


def bulge(angle: float) -> float:
    """Bulge of an arc that turns by `angle` [rad]."""
    return tan(angle / 4)


def arc_of(x1: float, y1: float, x2: float, y2: float, b: float) -> tuple[float, float, float, float, float]:
    """(centre x, centre y, radius, start angle, sweep) of the arc with bulge `b` from one point to another."""
    chord = hypot(x2 - x1, y2 - y1)
    sweep = 4 * np.arctan(b)
    radius = chord * (1 + b * b) / (4 * abs(b))
    # centre: from the middle of the chord to its left (b > 0) by what is left of the radius
    off = chord * (1 - b * b) / (4 * b)
    ux, uy = (x2 - x1) / chord, (y2 - y1) / chord
    cx, cy = (x1 + x2) / 2 - uy * off, (y1 + y2) / 2 + ux * off
    return cx, cy, radius, atan2(y1 - cy, x1 - cx), float(sweep)


def _arc_points(cx: float, cy: float, r: float, start: float, sweep: float) -> list[tuple[float, float]]:
    step = 2 * acos(max(1 - SAGITTA / r, 0.5)) if r > 0 else pi / 3
    n = max(2, ceil(abs(sweep) / step))
    return [(cx + r * cos(start + sweep * k / n), cy + r * sin(start + sweep * k / n)) for k in range(n + 1)]


def strokes(entity: Entity) -> Iterator[tuple[str, list[tuple[float, float]]]]:
    """(layer, polyline) of what a pen would draw of an entity; nothing for lettering and dimensions."""
    if isinstance(entity, Line):
        yield entity.layer, [(entity.x1, entity.y1), (entity.x2, entity.y2)]
    elif isinstance(entity, Circle):
        yield entity.layer, _arc_points(entity.x, entity.y, entity.r, 0.0, 2 * pi)
        arm = min(max(0.6 * entity.r, 1.0), 6.0)
        yield "CENTRE", [(entity.x - arm, entity.y), (entity.x + arm, entity.y)]
        yield "CENTRE", [(entity.x, entity.y - arm), (entity.x, entity.y + arm)]
    elif isinstance(entity, Path):
        points: list[tuple[float, float]] = [entity.points[0][:2]]
        count = len(entity.points)
        for k in range(count if entity.closed else count - 1):
            x1, y1, b = entity.points[k]
            x2, y2, _ = entity.points[(k + 1) % count]
            if b:
                points += _arc_points(*arc_of(x1, y1, x2, y2, b))[1:]
            else:
                points.append((x2, y2))
        yield entity.layer, points


def extent(entities: Sequence[Entity], *, work: bool = False) -> tuple[float, float, float, float]:
    """Least x and y, greatest x and y of the entities; with `work` only of what is marked on the sheet.

    Where nothing is (the section of a bought tube or box), all counts.
    """
    xs: list[float] = []
    ys: list[float] = []
    for entity in entities:
        if isinstance(entity, Dim):
            if not work:
                xs += [entity.x1, entity.x2] if not entity.upright else [entity.x1, entity.x2, entity.at]
                ys += [entity.y1, entity.y2] if entity.upright else [entity.y1, entity.y2, entity.at]
        elif isinstance(entity, Label):
            if not work:
                long = 0.83 * entity.height * len(entity.text)
                share = {"left": (0.0, long), "center": (-long / 2, long / 2), "right": (-long, 0.0)}[entity.across]
                xs += [entity.x + part * cos(entity.turn) for part in share]
                ys += [entity.y + part * sin(entity.turn) for part in share]
        elif isinstance(entity, Leader):
            if not work:
                xs += [entity.x1, entity.x2]
                ys += [entity.y1, entity.y2]
        else:
            for layer, points in strokes(entity):
                if not work or LAYERS[layer].work:
                    xs += [x for x, _ in points]
                    ys += [y for _, y in points]
    if work and not xs:
        return extent(entities)
    return min(xs), min(ys), max(xs), max(ys)


def rectangle(layer: str, x: float, y: float, w: float, h: float, corner: float = 0.0) -> Path:
    """A closed rectangle from its lower left corner, with rounded corners if asked."""
    if corner <= 0:
        return Path(layer, ((x, y, 0.0), (x + w, y, 0.0), (x + w, y + h, 0.0), (x, y + h, 0.0)))
    b, c = bulge(pi / 2), corner
    corners = [
        (x + c, y, 0.0), (x + w - c, y, b), (x + w, y + c, 0.0), (x + w, y + h - c, b),
        (x + w - c, y + h, 0.0), (x + c, y + h, b), (x, y + h - c, 0.0), (x, y + c, b),
    ]  # fmt: skip
    # sides used up by the radius leave two points in one place
    kept = [
        p for k, p in enumerate(corners) if hypot(p[0] - corners[k - 7][0], p[1] - corners[k - 7][1]) > 1e-9 or p[2]
    ]
    return Path(layer, tuple(kept))


def slot(layer: str, x: float, y: float, overall: float, width: float, upright: bool = False) -> Path:
    """A slot along x (or y) about its centre, with round ends."""
    a, r, b = (overall - width) / 2, width / 2, bulge(pi)
    if upright:
        return Path(layer, ((x + r, y - a, 0.0), (x + r, y + a, b), (x - r, y + a, 0.0), (x - r, y - a, b)))
    return Path(layer, ((x - a, y - r, 0.0), (x + a, y - r, b), (x + a, y + r, 0.0), (x - a, y + r, b)))
