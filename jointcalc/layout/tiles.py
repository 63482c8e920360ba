"""Which pages a drawing at full size needs: a grid of tiles to lay edge to edge, and what is drawn on each.

Tiles overlap; a tile on which nothing is to be marked is not printed.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil
from typing import Any

import numpy as np

from jointcalc.layout.drawing import LAYERS, Drawing, Entity, Floats, extent, strokes
from jointcalc.layout.paper import Sheet

OVERLAP = 10.0
"""What neighbouring tiles print twice [mm]."""


@dataclass(frozen=True, slots=True)
class Tile:
    """One page of the full-size drawing: its name, place in the grid, and lower left corner of its cell [mm]."""

    name: str
    column: int
    row: int
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Tiling:
    """How a drawing is cut into pages: cells of `step` (width, height) [mm]; pages print OVERLAP/2 more around."""

    landscape: bool
    step: tuple[float, float]
    tiles: tuple[Tile, ...]
    columns: int
    rows: int


class Ink:
    """The strokes of a drawing as arrays: segments (n, 4) and the layer of each."""

    def __init__(self, entities: Sequence[Entity]) -> None:
        pieces: list[Floats] = []
        layers: list[Floats] = []
        names = list(LAYERS)
        for entity in entities:
            for layer, points in strokes(entity):
                line = np.asarray(points, dtype=np.float64)
                pieces.append(np.column_stack([line[:-1], line[1:]]))
                layers.append(np.full(len(line) - 1, names.index(layer), dtype=np.float64))
        self.segments = np.concatenate(pieces) if pieces else np.empty((0, 4))
        self.layer = np.concatenate(layers) if layers else np.empty(0)
        self.work = np.array([LAYERS[name].work for name in names])[self.layer.astype(int)]

    def crossing(self, x0: float, y0: float, x1: float, y1: float) -> Any:
        """Which segments touch a rectangle (clipped as Liang and Barsky do)."""
        a = self.segments
        dx, dy = a[:, 2] - a[:, 0], a[:, 3] - a[:, 1]
        low, high = np.zeros(len(a)), np.ones(len(a))
        outside = np.zeros(len(a), dtype=bool)
        for d, start, least, most in ((dx, a[:, 0], x0, x1), (dy, a[:, 1], y0, y1)):
            level = d == 0
            outside |= level & ((start < least) | (start > most))
            with np.errstate(divide="ignore", invalid="ignore"):
                one, two = (least - start) / d, (most - start) / d
            low = np.where(level, low, np.maximum(low, np.minimum(one, two)))
            high = np.where(level, high, np.minimum(high, np.maximum(one, two)))
        return ~outside & (low <= high)

    def of(self, chosen: Any) -> Iterator[tuple[str, Floats]]:
        """(layer, segments (n, 2, 2)) of the chosen segments."""
        for k, name in enumerate(LAYERS):
            found = self.segments[chosen & (self.layer == k)]
            if len(found):
                yield name, found.reshape(-1, 2, 2)


def tiling(drawing: Drawing, sheet: Sheet) -> Tiling:
    """The pages a drawing needs, upright or across, whichever are fewer."""
    ink = Ink(drawing.entities)
    return min((_grid(drawing, ink, sheet, way) for way in (False, True)), key=lambda t: (len(t.tiles), t.landscape))


def _grid(drawing: Drawing, ink: Ink, sheet: Sheet, landscape: bool) -> Tiling:
    room = sheet.room(landscape)
    step = (room[0] - OVERLAP, room[1] - OVERLAP)
    x0, y0, x1, y1 = extent(drawing.entities)
    columns, rows = max(1, ceil((x1 - x0) / step[0])), max(1, ceil((y1 - y0) / step[1]))
    left = (x0 + x1 - columns * step[0]) / 2
    low = (y0 + y1 - rows * step[1]) / 2
    tiles = []
    work = ink.work
    for j in range(rows):
        for i in range(columns):
            x, y = left + i * step[0], low + (rows - 1 - j) * step[1]
            if (ink.crossing(x, y, x + step[0], y + step[1]) & work).any():
                tiles.append(Tile(f"{_letters(i)}{j + 1}", i, j, x, y))
    return Tiling(landscape, step, tuple(tiles), columns, rows)


def _letters(n: int) -> str:
    word = ""
    n += 1
    while n:
        n, rest = divmod(n - 1, 26)
        word = chr(65 + rest) + word
    return word
