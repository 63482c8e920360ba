"""Welding symbols: ISO 2553, system A, on metric drawings, AWS A2.4 on inch ones (both from memory).

Left of the sign stands its size (z a leg, a a throat, else a diameter), right of it how many, how long, how far apart:
`n x l (e)` with the gap e between welds, or the pitch of spots, in ISO 2553; `length-pitch` with the number in brackets
in AWS A2.4.  The tail names the process: by its number in ISO 4063, or by its letters in AWS A3.0.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import singledispatch
from math import hypot, pi
from typing import Any

from jointcalc.layout.drawing import Entity, Label, Line, Path, bulge
from jointcalc.layout.words import size
from jointcalc.model.fillet import FilletGroup
from jointcalc.model.plug import PlugRow
from jointcalc.model.row import WeldRow
from jointcalc.model.seam import SpotSeam
from jointcalc.quantity.show import System
from jointcalc.tables.trade import filler_row

PROCESS: dict[str, tuple[str, str]] = {
    "RSW": ("21", "RSW"), "GMAW": ("135", "GMAW"), "FCAW-G": ("136", "FCAW-G"), "FCAW-S": ("114", "FCAW-S"),
    "SMAW": ("111", "SMAW"), "SAW": ("121", "SAW"), "TIG": ("141", "GTAW"),
}  # fmt: skip
"""Process -> its number in ISO 4063 and its letters in AWS A3.0 (from memory)."""
HIGH = 3.5
"""Height of the letters on the paper [mm]."""
WIDE = 0.826
"""Width of a letter per height of its capitals."""


@dataclass(frozen=True, slots=True)
class WeldSymbol:
    """What stands on the reference line: the sign, the words before and after it, the number in brackets, the tail."""

    sign: str
    before: str
    after: str
    number: str
    tail: str
    both: bool = False

    @property
    def words(self) -> str:
        """The symbol read out."""
        parts = (self.before, self.sign, self.after, self.number, f"< {self.tail}" if self.tail else "")
        return " ".join(part for part in parts if part)


@singledispatch
def symbol_of(item: Any, system: System) -> WeldSymbol:
    """The welding symbol of a row or a group of welds; every kind of weld enters its own.  Raises TypeError."""
    raise TypeError(f"{type(item).__name__} is drawn without a welding symbol")


@symbol_of.register
def _of_spots(item: SpotSeam, system: System) -> WeldSymbol:
    return _of_row(item, "spot", size(item.d, system), "RSW", system)


@symbol_of.register
def _of_plugs(item: PlugRow, system: System) -> WeldSymbol:
    across = size(item.diameter, system)
    if item.overall > item.diameter:
        across = f"{across}x{size(item.overall, system)}"
    process = "SMAW" if filler_row(item.filler)["form"] == "electrode" else "GMAW"
    return _of_row(item, "arc spot" if item.hole is None else "plug", across, process, system)


def _of_row(item: WeldRow, sign: str, across: str, process: str, system: System) -> WeldSymbol:
    n, pitch = item.along, size(item.actual_pitch, system)
    rows = f", {item.rows} rows" if item.rows > 1 else ""
    if system == "inch":
        return WeldSymbol(sign, across, pitch if n > 1 else "", f"({n})", PROCESS[process][1] + rows)
    return WeldSymbol(sign, across, f"{n} x ({pitch})" if n > 1 else "", "", PROCESS[process][0] + rows)


@symbol_of.register
def _of_lines(item: FilletGroup, system: System) -> WeldSymbol:
    tail = PROCESS[item.process][system == "inch"]
    if len(item.lines) > 1:
        tail += f", lines 1 to {len(item.lines)}"
    wholes = {round(hypot(x2 - x1, y2 - y1), 6) for x1, y1, x2, y2 in item.lines}
    if item.weld != "fillet":
        # groove welds state their depth only where it is less than the sheet's
        before = "" if item.throat is None else f"({size(item.throat, system)})"
    elif system == "inch":
        before = size(item.leg_over_all, system)
    else:
        before = f"z{size(item.leg, system)}" if item.leg is not None else f"a{size(item.design_throat, system)}"
    whole = size(wholes.copy().pop(), system) if len(wholes) == 1 else ""
    if item.stitch is None:
        return WeldSymbol(item.weld, before, whole, "", tail, item.both_sides)
    long, pitch = item.stitch
    if system == "inch":
        return WeldSymbol(item.weld, before, f"{size(long, system)}-{size(pitch, system)}", "", tail, item.both_sides)
    number = len(item.group.lines) / len(item.lines) / (2 if item.both_sides else 1)
    often = f"{number:.0f} x " if whole and number == round(number) else ""
    after = f"{often}{size(long, system)} ({size(pitch - long, system)})"
    return WeldSymbol(item.weld, before, after, "", tail, item.both_sides)


def symbol_width(symbol: WeldSymbol, scale: float = 1.0) -> float:
    """Length of the reference line with its tail [mm on the drawing]."""
    h = HIGH / scale
    letters = len(symbol.before) + len(symbol.after) + len(symbol.tail)
    return letters * WIDE * h + 5.4 * h


def drawn(
    symbol: WeldSymbol,
    tip: tuple[float, float],
    knee: tuple[float, float],
    system: System,
    *,
    scale: float = 1.0,
) -> list[Entity]:
    """The symbol with its arrow from `knee` to `tip`; the line runs on away from the tip, letters 3.5 mm on paper."""
    h = HIGH / scale
    x, y = knee
    before, after = len(symbol.before) * WIDE * h, len(symbol.after) * WIDE * h
    long = before + after + 3.4 * h
    right = knee[0] >= tip[0]
    start, end = (x, x + long) if right else (x - long, x)
    way = 1.0 if system == "metric" else -1.0
    made: list[Entity] = [Line("SYMBOL", start, y, end, y), Line("SYMBOL", *knee, *tip), *_head(tip, knee, h)]
    at = start + before + 1.7 * h
    centred = symbol.sign == "spot"
    made += _sign(symbol.sign, at, y, h, way)
    if symbol.both and not centred:
        made += _sign(symbol.sign, at, y, h, -way)
    elif system == "metric" and not centred:
        made += _dashed(start, end, y - 0.45 * h, h)
    over = y + way * 0.8 * h
    made += [
        Label(start + 0.4 * h, over, symbol.before, HIGH / scale),
        Label(at + 1.1 * h, over, symbol.after, HIGH / scale),
        Label(at, y + (1.5 if centred else way * 2.0) * h, symbol.number, HIGH / scale, across="center"),
    ]
    if symbol.tail:
        foot, out = (end, 1.0) if right else (start, -1.0)
        made += [Line("SYMBOL", foot, y, foot + out * 0.8 * h, y + up * 0.8 * h) for up in (1.0, -1.0)]
        made.append(Label(foot + out * h, y, symbol.tail, HIGH / scale, across="left" if right else "right"))
    return [one for one in made if not isinstance(one, Label) or one.text]


def _head(tip: tuple[float, float], knee: tuple[float, float], h: float) -> list[Entity]:
    dx, dy = tip[0] - knee[0], tip[1] - knee[1]
    long = hypot(dx, dy) or 1.0
    u, v = dx / long * 0.7 * h, dy / long * 0.7 * h
    return [Line("SYMBOL", *tip, tip[0] - u + side * 0.25 * v, tip[1] - v - side * 0.25 * u) for side in (1.0, -1.0)]


def _dashed(start: float, end: float, y: float, h: float) -> list[Entity]:
    count = max(1, round((end - start) / (1.2 * h)))
    step = (end - start) / count
    return [Line("SYMBOL", start + k * step, y, start + (k + 0.65) * step, y) for k in range(count)]


def _sign(sign: str, x: float, y: float, h: float, way: float) -> list[Entity]:
    """The elementary sign about x on the reference line, to the side `way`."""
    if sign in ("spot", "arc spot"):
        r = 0.6 * h
        middle = y if sign == "spot" else y + way * r
        return [Path("SYMBOL", ((x - r, middle, bulge(pi)), (x + r, middle, bulge(pi))))]
    if sign == "fillet":  # the upright side stands on the left whatever the side
        return [
            Path("SYMBOL", ((x - 0.6 * h, y, 0.0), (x - 0.6 * h, y + way * 1.2 * h, 0.0), (x + 0.6 * h, y, 0.0)), False)
        ]
    high, half = y + way * h, 0.7 * h
    if sign == "plug":
        return [
            Path(
                "SYMBOL", ((x - half, y, 0.0), (x - half, high, 0.0), (x + half, high, 0.0), (x + half, y, 0.0)), False
            )
        ]
    if sign == "butt":
        return [Line("SYMBOL", x + side * 0.25 * h, y, x + side * 0.25 * h, high) for side in (-1.0, 1.0)]
    # flares: quarter rounds that lean away from each other, or from an upright line
    curved: list[Entity] = [
        Path("SYMBOL", ((x + 0.2 * h, y, -way * bulge(pi / 2)), (x + 1.0 * h, high, 0.0)), closed=False)
    ]
    if sign == "flare-bevel":
        return [*curved, Line("SYMBOL", x - 0.2 * h, y, x - 0.2 * h, high)]
    return [*curved, Path("SYMBOL", ((x - 0.2 * h, y, way * bulge(pi / 2)), (x - 1.0 * h, high, 0.0)), closed=False)]
