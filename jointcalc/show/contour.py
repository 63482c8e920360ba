"""The shape of a loaded panel seen from above, as a block of shades with their scale."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import zip_longest

import numpy as np
import numpy.typing as npt

from jointcalc.quantity.show import System, show_in
from jointcalc.show.canvas import takes

Array = npt.NDArray[np.float64]

SHADES, PLAIN = " ░▒▓█", " .:*#"
"""Fifths of the greatest, where the terminal can show them and where it cannot."""
UPWARD = "-"
"""What moves against the load by more than `UPWARD_FROM` of the greatest."""
UPWARD_FROM = 0.05
BEAD = "o"
"""On the frame: where the middle of a bead meets it."""
ASPECT = 2.0
"""Height of a character over its width."""
MOST_ROWS, MOST_COLUMNS = 11, 66
APART = 3


@dataclass(frozen=True, slots=True)
class Seen:
    """What is drawn: a heading, places along and across the beads [mm], heights there [mm], middles of the beads and
    of those that cross them.
    """

    heading: str
    x: Array
    y: Array
    w: Array
    beads: tuple[float, ...] = ()
    crossed: tuple[float, ...] = ()


def at(seen: Seen, x: Array, y: Array) -> Array:
    """The height at every pair of places (x, y) [mm], straight between those that are known."""
    rising = np.concatenate([[True], np.diff(seen.y) > 1e-9 * seen.y[-1]])
    known, across = seen.w[:, rising], seen.y[rising]
    along = np.array([np.interp(x, seen.x, column) for column in known.T])
    return np.array([np.interp(y, across, row) for row in along.T])


def shades() -> str:
    """The shades that stdout can take."""
    return SHADES if takes(SHADES) else PLAIN


def block(seen: Seen, width: int, inks: str) -> list[str]:
    """The picture in its frame, the longer side level, at most `width` characters wide."""
    lying = seen.x[-1] >= seen.y[-1]
    long, short = max(seen.x[-1], seen.y[-1]), min(seen.x[-1], seen.y[-1])
    columns = max(8, min(width - 2, MOST_COLUMNS, round(MOST_ROWS * ASPECT * long / short)))
    rows = max(2, min(MOST_ROWS, round(columns * short / long / ASPECT)))
    # seen from above: looking along the beads from their start, left is at the left
    level, upright = (np.arange(columns) + 0.5) / columns * long, (np.arange(rows) + 0.5) / rows * short
    w = at(seen, level, upright).T if lying else at(seen, upright[::-1], level)
    most = float(np.abs(seen.w).max()) or 1.0
    band = np.clip(np.floor(w / most * len(inks)), 0, len(inks) - 1).astype(int)
    cells = [[inks[k] for k in row] for row in band]
    for i, j in zip(*np.nonzero(w < -UPWARD_FROM * most)):
        cells[i][j] = UPWARD
    top, sides = ["-"] * columns, ["|"] * rows
    beside, above = (seen.beads, seen.crossed) if lying else (seen.crossed[::-1], seen.beads)
    for middle in beside:
        sides[min(rows - 1, int(middle / short * rows))] = BEAD
    for middle in above:
        top[min(columns - 1, int(middle / long * columns))] = BEAD
    edge = f"+{''.join(top)}+"
    return [edge, *(f"{side}{''.join(row)}{side}" for side, row in zip(sides, cells)), edge]


def scale(seen: Seen, system: System, inks: str) -> str:
    """What the shades mean: each begins at the value after it."""
    most, steps = float(np.abs(seen.w).max()), len(inks)
    *values, last = [show_in(most * k / steps, "mm", system, 2) for k in range(1, steps)]
    told = [f"{ink} {value.rpartition(' ')[0]}" for ink, value in zip(inks[1:], values)]
    return "from " + " ".join([*told, f"{inks[-1]} {last}"])


def under(seen: Seen, system: System, inks: str) -> list[str]:
    """The lines below a picture."""
    lines = [scale(seen, system, inks)]
    if seen.w.min() < -UPWARD_FROM * float(np.abs(seen.w).max()):
        lines.append(f"{UPWARD} rises, up to {show_in(-float(seen.w.min()), 'mm', system, 2)}")
    if seen.beads:
        lines.append(f"{BEAD} the middle of a bead")
    return lines


def over(seen: Seen, system: System) -> str:
    """The line above a picture."""
    return f"{seen.heading} {show_in(float(np.abs(seen.w).max()), 'mm', system)}"


def pictures(shown: Sequence[Seen], width: int, system: System) -> list[str]:
    """The pictures beside each other where there is room, each under its heading and over its scale."""
    inks = shades()
    blocks = [[over(seen, system), *block(seen, width, inks), *under(seen, system, inks)] for seen in shown]
    sizes = [max(map(len, lines)) for lines in blocks]
    if sum(sizes) + APART * (len(blocks) - 1) > width:
        return [line for lines in blocks for line in lines]
    rows = zip_longest(*blocks, fillvalue="")
    return [(" " * APART).join(part.ljust(size) for part, size in zip(row, sizes)).rstrip() for row in rows]
