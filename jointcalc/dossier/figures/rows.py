"""Rows of spots and plugs: the whole row, its first end with dimensions, and the stack cut across.

The whole row is drawn to scale along its length; its width is drawn to the same scale.  The end is
drawn larger, so that edge, end and pitch can be read and laid out.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import cos, pi, sin
from typing import TYPE_CHECKING

from jointcalc.dossier.figures.canvas import (
    BOLD_LINE,
    GREY,
    PALE,
    TEXT,
    THIN_LINE,
    WIDTH,
    Canvas,
    Picture,
    scale_for,
    show,
)
from jointcalc.layout.symbols import HIGH, WeldSymbol, drawn, symbol_of
from jointcalc.quantity.show import System
from jointcalc.result import Result

if TYPE_CHECKING:
    from jointcalc.model.plug import PlugRow
    from jointcalc.model.seam import SpotSeam
    from jointcalc.model.sheet import Sheet

MOST_DRAWN = 1200
"""Welds drawn one by one in the view of the whole row; beyond, they would be one black bar."""


@dataclass(frozen=True, slots=True)
class _Row:
    """What a row of welds looks like, whatever welds it [mm]."""

    word: str
    length: float
    lap: float
    edge: float
    end: float
    pitch: float
    along: int
    rows: int
    spacing: float
    diameter: float
    overall: float
    sheets: tuple[Sheet, ...]
    loads: tuple[tuple[str, float], ...]
    symbol: WeldSymbol
    fill: float = 0.0
    """How high a plug is filled over the last sheet; 0 of other welds."""
    missing: tuple[int, ...] = ()
    """Welds said to be bad, by number."""
    weakest: float | None = None
    """Place of the weld that the row can spare least [mm], where a rate of duds was asked for."""


def _weakest(result: Result) -> float | None:
    found = result.values.get("one_missing_at")
    return None if found is None else found.value


def draw_seam(result: Result, system: System) -> list[Picture]:
    """The drawings of a spot-welded seam."""
    seam: SpotSeam = result.model
    row = _Row(
        "spot", seam.length, seam.actual_lap, seam.edge, seam.actual_end, seam.actual_pitch, seam.along, seam.rows,
        seam.row_spacing or 0.0, seam.d, seam.d, seam.sheets,
        (("along the seam", seam.shear), ("across it", seam.across), ("in peel", seam.peel)),
        symbol_of(seam, system), missing=seam.missing, weakest=_weakest(result),
    )  # fmt: skip
    return [_draw(row, result.id, system)]


def draw_plugs(result: Result, system: System) -> list[Picture]:
    """The drawings of a row of plug, slot or arc spot welds."""
    plugs: PlugRow = result.model
    word = "arc spot" if plugs.hole is None else "slot" if plugs.slot is not None else "plug"
    spacing = plugs.row_spacing or 0.0
    row = _Row(
        word, plugs.length, 2 * plugs.edge + (plugs.rows - 1) * spacing, plugs.edge, plugs.actual_end,
        plugs.actual_pitch, plugs.along, plugs.rows, spacing, plugs.diameter, plugs.overall, plugs.sheets,
        (("along the row", plugs.shear), ("across it", plugs.across), ("lifting", plugs.uplift)),
        symbol_of(plugs, system), 0.0 if plugs.hole is None else plugs.fill or plugs.top,
        missing=plugs.missing, weakest=_weakest(result),
    )  # fmt: skip
    return [_draw(row, result.id, system)]


def _draw(row: _Row, name: str, system: System) -> Picture:
    # a short or wide row is no reason for a tall drawing: its end is drawn larger below
    whole_scale = min(scale_for(row.length, WIDTH - 8), scale_for(row.lap, 14), 1.0)
    window = min(row.length, row.end + 3.4 * row.pitch) if row.along > 1 else min(row.length, 12 * row.overall)
    end_scale = min(scale_for(window, WIDTH - 62), scale_for(row.lap, 34))
    thick = sum(sheet.thickness for sheet in row.sheets)
    cut_scale = min(scale_for(thick, 16), scale_for(row.lap, 60))
    whole_high = max(row.lap * whole_scale, 1.2)
    end_high = row.lap * end_scale
    cut_high = thick * cut_scale
    cut_room = max(cut_high, 3.6 * len(row.sheets))
    canvas = Canvas(whole_high + end_high + cut_room + 50)
    cut_low = 2 + (cut_room - cut_high) / 2
    end_low = cut_room + 19
    whole_low = end_low + end_high + 17
    for y, words in (
        (cut_room + 6, "Cut across"),
        (end_low + end_high + 9, "First end"),
        (canvas.height - 3, "Whole row"),
    ):
        canvas.text(0, y, words, across="left", bold=True)
    _whole(canvas, row, whole_scale, whole_low, whole_high, system)
    _end(canvas, row, end_scale, end_low, window, system)
    _cut(canvas, row, cut_scale, cut_low, system)
    shown = {"length": row.length, "pitch": row.pitch, "end": row.end, "edge": row.edge, "lap": row.lap}
    sizes = ", ".join(f"{word} {show(value, 'length', system)}" for word, value in shown.items())
    stack = " + ".join(f"{show(sheet.thickness, 'length', system)} {sheet.material.grade}" for sheet in row.sheets)
    loads = "; ".join(f"{show(value, 'force', system)} {where}" for where, value in row.loads if value)
    marks = " Crossed out: said to be bad." if row.missing else ""
    marks += " Arrow: the weld it can spare least." if row.weakest is not None else ""
    alt = (
        f"{name}: {row.along * row.rows} {row.word} welds of {show(row.overall, 'length', system)} in {row.rows} "
        f"row{'s' if row.rows > 1 else ''}; {sizes}; sheets {stack}. Drawn: the whole row, its first end with "
        f"dimensions, and the stack cut across. Welding symbol: {row.symbol.words}.{marks}"
    )
    caption = (
        f"{name}: whole row, first end and cut through the stack, each to a scale of its own. "
        f"Service load of the whole row: {loads or 'none given'}.{marks}"
    )
    return canvas.picture(alt, caption, scales=[("whole row", whole_scale), ("first end", end_scale)], system=system)


def _whole(canvas: Canvas, row: _Row, scale: float, low: float, high: float, system: System) -> None:
    left = (WIDTH - row.length * scale) / 2
    right = left + row.length * scale
    canvas.box(left, low, right - left, high, fill="#f4f4f4", width=BOLD_LINE)
    radius = max(row.diameter * scale / 2, 0.32)
    if row.along * row.rows <= MOST_DRAWN:
        spots = [
            (left + (row.end + n * row.pitch) * scale, low + high * (row.edge + r * row.spacing) / row.lap)
            for r in range(row.rows)
            for n in range(row.along)
        ]
        if row.overall > row.diameter * (1 + 1e-9):
            half = max(row.overall * scale / 2 - radius, 0.0)
            canvas.lines([[(x - half, y), (x + half, y)] for x, y in spots], width=2 * radius * 72 / 25.4)
            spots = [(x + side * half, y) for x, y in spots for side in (-1, 1)]
        canvas.circles(spots, radius, fill="#000000", width=0.1)
        for number in row.missing:  # crossed out
            r, n = divmod(number - 1, row.along)
            x, y = left + (row.end + n * row.pitch) * scale, low + high * (row.edge + r * row.spacing) / row.lap
            arm = 1.6 * radius
            canvas.lines([[(x - arm, y - arm), (x + arm, y + arm)], [(x - arm, y + arm), (x + arm, y - arm)]],
                         width=BOLD_LINE)  # fmt: skip
        if row.weakest is not None:
            x, y = left + row.weakest * scale, low + high * row.edge / row.lap
            canvas.line([(x - 1.2, low - 2.2), (x, low - 0.4), (x + 1.2, low - 2.2), (x - 1.2, low - 2.2)],
                        width=THIN_LINE)  # fmt: skip
    canvas.across(left, right, low + high + 6, show(row.length, "length", system), of=low + high)
    if row.along > 1:
        first, last = left + row.end * scale, right - row.end * scale
        steps = row.along - 1
        text = f"{steps} x {show(row.pitch, 'length', system)} = {show(steps * row.pitch, 'length', system)}"
        canvas.across(first, last, low - 5, text, of=low)


def _end(canvas: Canvas, row: _Row, scale: float, low: float, window: float, system: System) -> None:
    left = 30.0
    right = left + window * scale
    high = row.lap * scale
    broken = window < row.length - 1e-9
    canvas.area([(left, low), (right, low), (right, low + high), (left, low + high)], fill="#f4f4f4", edge="none")
    canvas.line([(right, low), (left, low), (left, low + high), (right, low + high)], width=BOLD_LINE)
    if broken:
        mid = low + high / 2
        canvas.line([(right, low - 1.5), (right, mid - 1.5), (right - 1.2, mid - 0.5), (right + 1.2, mid + 0.5),
                     (right, mid + 1.5), (right, low + high + 1.5)], width=THIN_LINE)  # fmt: skip
    else:
        canvas.line([(right, low), (right, low + high)], width=BOLD_LINE)
    ys = [low + (row.edge + r * row.spacing) * scale for r in range(row.rows)]
    xs = [left + (row.end + n * row.pitch) * scale for n in range(row.along)]
    xs = [x for x in xs if x + row.overall * scale / 2 <= right + 1e-6] or xs[:1]
    for y in ys:
        canvas.line([(left - 2, y), (right, y)], width=THIN_LINE, colour=GREY, dash="-.")
    for x in xs:
        canvas.line([(x, ys[0] - 2 - row.diameter * scale / 2), (x, ys[-1] + 2 + row.diameter * scale / 2)],
                    width=THIN_LINE, colour=GREY, dash="-.")  # fmt: skip
    radius = row.diameter * scale / 2
    if row.overall > row.diameter * (1 + 1e-9):
        for x in xs:
            for y in ys:
                canvas.stadium(x, y, row.overall * scale, 2 * radius)
    else:
        canvas.circles([(x, y) for x in xs for y in ys], radius, fill=PALE)
    above = low + high + 5
    canvas.across(left, xs[0], above, show(row.end, "length", system), of=low + high, beside="left")
    if len(xs) > 1:
        canvas.across(xs[0], xs[1], above, show(row.pitch, "length", system), of=low + high)
    canvas.upright(left - 4, low, ys[0], show(row.edge, "length", system), of=left)
    canvas.upright(right + 6, low, low + high, f"lap {show(row.lap, 'length', system)}", of=right)
    at = xs[min(1, len(xs) - 1)]
    letters = TEXT / 72 * 25.4 * 0.729
    canvas.drawn(
        drawn(row.symbol, (at + radius * 0.7, ys[0] - radius * 0.7), (at + 8, low - 7), system, scale=HIGH / letters),
        lambda x, y: (x, y),
        "",
    )
    if len(ys) > 1:
        canvas.upright(left - 4, ys[0], ys[1], show(row.spacing, "length", system), of=left)


def _cut(canvas: Canvas, row: _Row, scale: float, low: float, system: System) -> None:
    """The stack cut across the row: thicknesses to scale, sheets running out left and right in turn."""
    lap = row.lap * scale
    left = 40.0
    out = 22.0
    y = low
    last = len(row.sheets) - 1
    levels: list[tuple[float, float]] = []
    for i, sheet in enumerate(reversed(row.sheets)):
        t = sheet.thickness * scale
        start, stop = (left - out, left + lap) if i % 2 == 0 else (left, left + lap + out)
        hatch = "////" if i % 2 == 0 else "\\\\\\\\"
        canvas.box(start, y, stop - start, t, fill="#ffffff", hatch=hatch, width=THIN_LINE * 2)
        levels.append((y, t))
        y += t
    for i, (at, t) in enumerate(levels):
        sheet = row.sheets[last - i]
        text_y = low + (i + 0.5) * max(3.4, (y - low) / len(levels)) - (max(3.4 * len(levels) - (y - low), 0)) / 2
        x = left + lap + out + 2
        canvas.line([(left + lap - 1 if i % 2 == 0 else left + lap + out - 1, at + t / 2), (x + 3, text_y)],
                    width=THIN_LINE, colour=GREY)  # fmt: skip
        zinc = f" {sheet.coating}" if sheet.coated else ""
        name = f"{show(sheet.thickness, 'length', system)} {sheet.material.grade}{zinc}"
        canvas.text(x + 3.5, text_y, name, across="left")
    for r in range(row.rows):
        _weld(canvas, row, left + (row.edge + r * row.spacing) * scale, scale, levels)


def _weld(canvas: Canvas, row: _Row, x: float, scale: float, levels: list[tuple[float, float]]) -> None:
    """One weld cut through: a lens of a spot at every face, a filled hole, a melted-through arc spot."""
    half = row.diameter * scale / 2
    if row.word == "spot":
        for below, above in pairwise(levels):
            canvas.ellipse(x, above[0], 2 * half, min(below[1], above[1]) * 1.1, fill="#404040")
        return
    face = levels[1][0]
    sunk = 0.4 * levels[0][1]
    # the weld eats into the last sheet; its root is a shallow bowl
    foot = half if row.fill else 0.7 * half
    bowl = [(x + foot * cos(pi + k * pi / 12), face + sunk * sin(pi + k * pi / 12)) for k in range(13)]
    top = face + row.fill * scale if row.fill else levels[-1][0] + levels[-1][1]
    crown = [(x + half * cos(k * pi / 12), top + 0.18 * levels[-1][1] * sin(k * pi / 12)) for k in range(13)]
    canvas.area([*bowl, *crown], fill="#404040", width=THIN_LINE)
