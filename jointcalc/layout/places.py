"""Where the spots, holes and welds of an item stand, one by one, to be ticked off as they are made.

The numbers are those of the 1:1 sheets.  A kind names its own by the hook `places` of its record.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from math import hypot
from typing import Any

from jointcalc.layout.blanks import weld_places
from jointcalc.layout.rows import positions, running_table
from jointcalc.layout.words import size, unit
from jointcalc.model.bolts import FastenerGroup
from jointcalc.model.brace import Brace
from jointcalc.model.fillet import FilletGroup
from jointcalc.model.panel import Panel
from jointcalc.model.plug import PlugRow
from jointcalc.model.seam import SpotSeam
from jointcalc.quantity.show import System
from jointcalc.registry import BY_MODEL, load


@dataclass(frozen=True, slots=True)
class Places:
    """Things alike that are made one by one: what they are (`spots`), the heads and, for each, number and where.

    `key` tells them from others of the same item; the first cell of a row is its number, unique among them.
    """

    key: str
    what: str
    title: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


def places(item: Any, system: System) -> tuple[Places, ...]:
    """What is ticked off on an item; empty where nothing is made one by one."""
    make: Callable[[Any, System], Iterable[Places]] = load(BY_MODEL[type(item).__name__].places)  # type: ignore[union-attr]
    return tuple(make(item, system))


def _running(key: str, what: str, title: str, at: tuple[float, ...], length: float, system: System) -> Places:
    table = running_table(title, at, length, system)
    return Places(key, what, title, table.heads, table.rows)


def _rows(item: SpotSeam | PlugRow, what: str, system: System) -> Iterator[Places]:
    for n in range(item.rows):
        title = f"Row {n + 1} of {item.rows}, from the edge" if item.rows > 1 else f"Centres of the {what}"
        yield _running(f"row-{n + 1}", what, title, positions(item), item.length, system)


def seam(item: SpotSeam, system: System) -> Iterator[Places]:
    """Spots of every row; those of a brace's weld lines stand with the brace."""
    if not item.brace:
        yield from _rows(item, "spots", system)


def plug(item: PlugRow, system: System) -> Iterator[Places]:
    """Plugs, slots or arc spots of every row."""
    what = "arc spots" if item.hole is None else "slots" if item.slot is not None else "plugs"
    yield from _rows(item, what, system)


def brace(item: Brace, system: System) -> Iterator[Places]:
    """Spots on every weld line."""
    if at := weld_places(item):
        for n, line in enumerate(item.family.weld_lines):
            yield _running(f"line-{n + 1}", "spots", f"Spots of the {line}", at, item.length, system)


def bolts(item: FastenerGroup, system: System) -> Iterator[Places]:
    """Holes by their centres."""
    yield _points("holes", "fasteners", "Fasteners, by their hole's centre", item.holes, system)


def _points(key: str, what: str, title: str, points: Iterable[tuple[float, ...]], system: System) -> Places:
    u = unit(system)
    rows = tuple((str(n + 1), size(x, system), size(y, system)) for n, (x, y, *_) in enumerate(points))
    return Places(key, what, title, ("no.", f"x {u}", f"y {u}"), rows)


def fillet(item: FilletGroup, system: System) -> Iterator[Places]:
    """Welds or stitches: which line, how far from its start, how long."""
    u = unit(system)
    rows = []
    for n, (x1, y1, x2, y2) in enumerate(item.group.lines.tolist()):
        a, b, c, d = item.lines[item.parents[n]]
        whole = hypot(c - a, d - b)
        start = ((x1 - a) * (c - a) + (y1 - b) * (d - b)) / whole
        length = hypot(x2 - x1, y2 - y1)
        rows.append((str(n + 1), str(item.parents[n] + 1), size(start, system), size(length, system)))
    what = "stitches" if item.stitch is not None else "welds"
    yield Places("welds", what, what.capitalize(), ("no.", "line", f"start {u}", f"length {u}"), tuple(rows))


def panel(item: Panel, system: System) -> Iterator[Places]:
    """Beads by their middles."""
    sides = (item.across_beads, item.along_beads)
    for n, (way, _) in enumerate(item.beads):
        at = item.cross_places if n else item.bead_places
        yield _running(f"beads-{n + 1}", "beads", f"Middles of the beads along the {way} side", at, sides[n], system)
