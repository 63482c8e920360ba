"""Panels: the field in plan with its beads, and the sheet cut across them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, floor, hypot, log10
from typing import TYPE_CHECKING, Any

import numpy as np
import numpy.typing as npt

from jointcalc.check.panel import surface
from jointcalc.dossier.figures.canvas import (
    BLUE,
    BOLD_LINE,
    GREY,
    LINE,
    PALE,
    RED,
    TEXT,
    THIN_LINE,
    WIDTH,
    Canvas,
    Picture,
    scale_for,
    show,
)
from jointcalc.model.panel_fits import SIDES
from jointcalc.quantity.sentence import printed
from jointcalc.quantity.show import System
from jointcalc.result import Result
from jointcalc.statics.bead import path

if TYPE_CHECKING:
    from jointcalc.model.panel import Panel
    from jointcalc.statics.bead import Bead
    from jointcalc.statics.field import Surface

Array = npt.NDArray[np.float64]

TALLEST = 62.0
BELOW, ABOVE = 15.0, 14.0
"""Room for dimensions under and over a plan [mm]."""
STEPS = 6
"""Lines of equal deflection, about: their values are round."""
RIM = 2.0
PITCHES = 2
"""Whole pitches shown in the cut."""


def lying(panel: Panel) -> bool:
    """Whether the beads run along the longer side, which is drawn level."""
    return panel.along_beads >= max(panel.size) - 1e-9


@dataclass(frozen=True, slots=True)
class Sheet:
    """A panel on the paper: its longer side level, the lower left corner and the scale."""

    panel: Panel
    scale: float
    left: float
    low: float

    @property
    def lying(self) -> bool:
        """Whether the beads lie level."""
        return lying(self.panel)

    def at(self, x: float, y: float) -> tuple[float, float]:
        """A place along the beads from their start and across from the left, on the paper, seen from above."""
        level, upright = (x, self.panel.across_beads - y) if self.lying else (y, x)
        return self.left + level * self.scale, self.low + upright * self.scale

    def box(self, canvas: Canvas, x: tuple[float, float], y: tuple[float, float], **style: Any) -> None:
        """A rectangle from x to x along the beads and from y to y across."""
        corners = [self.at(x[0], y[0]), self.at(x[1], y[1])]
        left, low = (min(one) for one in zip(*corners))
        right, high = (max(one) for one in zip(*corners))
        canvas.box(left, low, right - left, high - low, **style)

    @property
    def rims(self) -> tuple[tuple[str, float, tuple[float, float], tuple[float, float]], ...]:
        """Every edge: name, how it is held against turning, its ends on the paper."""
        a, b = self.panel.along_beads, self.panel.across_beads
        corners = ((0.0, 0.0), (0.0, b)), ((a, 0.0), (a, b)), ((0.0, 0.0), (a, 0.0)), ((0.0, b), (a, b))
        return tuple(
            (name, turn, self.at(*one), self.at(*two))
            for name, turn, (one, two) in zip(SIDES, self.panel.turns, corners)
        )


def draw_panel(result: Result, system: System) -> list[Picture]:
    """The plan, for a beaded sheet the cut across the beads, of either way, and what the loads make of it."""
    panel: Panel = result.model
    pictures = [_plan(result, panel, system)]
    for way, bead in panel.beads:
        which = "" if panel.cross is None else f" along the {way} side"
        pictures.append(_cut(result, panel, bead, which, system))
    found = surface(panel)
    if found is not None and float(np.abs(found.yielding).max()) > 0:
        pictures.append(_shape(result, panel, found, system))
    return pictures


def _placed(panel: Panel, canvas_for: Callable[[float], Canvas], low: float) -> tuple[Canvas, Sheet]:
    """Paper with the empty panel and its rim."""
    wide, high = max(panel.size), min(panel.size)
    scale = min(scale_for(wide, WIDTH - 44), scale_for(high, TALLEST))
    canvas = canvas_for(high * scale)
    w, h = wide * scale, high * scale
    sheet = Sheet(panel, scale, (WIDTH - w) / 2, low)
    left = sheet.left
    canvas.box(left, low, w, h, fill="#f4f4f4", width=BOLD_LINE)
    middle = (left + w / 2, low + h / 2)
    named = not panel.centred or len(set(panel.turns)) > 1
    for name, turn, (x_1, y_1), (x_2, y_2) in sheet.rims:
        d = RIM if turn else RIM / 2
        # the rim lies outside the edge
        ends = zip((x_1, y_1), (x_2, y_2), middle)
        out = [float(np.sign(one - at)) if abs(one - two) < 1e-9 else 0.0 for one, two, at in ends]
        x, y = min(x_1, x_2) - (d if out[0] < 0 else 0.0), min(y_1, y_2) - (d if out[1] < 0 else 0.0)
        wide, tall = (d, abs(y_2 - y_1)) if out[0] else (abs(x_2 - x_1), d)
        if turn:
            canvas.box(x, y, wide, tall, edge=GREY, width=THIN_LINE, hatch="////" if np.isinf(turn) else "....")
        else:
            at = [(x_1 + out[0] * d, y_1 + out[1] * d), (x_2 + out[0] * d, y_2 + out[1] * d)]
            canvas.line(at, width=THIN_LINE, colour=GREY, dash="--")
        if named:
            canvas.text((x_1 + x_2) / 2 - 2.5 * out[0], (y_1 + y_2) / 2 - 2.5 * out[1], name, size=TEXT - 0.8,
                        turn=90.0 if out[0] else 0.0, back=not out[0])  # fmt: skip
    return canvas, sheet


def _beads(canvas: Canvas, sheet: Sheet, *, fill: str) -> None:
    """Every bead from where it begins to where it ends, full depth marked off from the run-outs."""
    panel = sheet.panel
    for bead, places, a in (
        (panel.pattern, panel.bead_places, panel.along_beads), (panel.cross, panel.cross_places, panel.across_beads)
    ):  # fmt: skip
        if bead is None:
            continue
        stop, runout = bead.ends
        half = bead.width / 2
        for middle in places:
            across = (middle - half, middle + half)
            whole = ((stop, a - stop), across)
            ends = [((edge, edge), across) for edge in ((stop + runout, a - stop - runout) if runout else ())]
            if bead is panel.cross:
                whole, ends = whole[::-1], [end[::-1] for end in ends]
            sheet.box(canvas, *whole, fill=fill, width=THIN_LINE)
            for x, y in ends:
                canvas.line([sheet.at(x[0], y[0]), sheet.at(x[1], y[1])], width=THIN_LINE)


def _loaded(canvas: Canvas, sheet: Sheet, **style: Any) -> None:
    """What the patch stands on."""
    panel = sheet.panel
    for x, y in panel.places if panel.patch else ():
        c, d = panel.foot
        sheet.box(canvas, (x - c / 2, x + c / 2), (y - d / 2, y + d / 2), edge=RED, width=BOLD_LINE, **style)


def _rim_words(panel: Panel) -> str:
    """What the rims mean, of those that are drawn."""
    told = ["hatched rim: clamped edges"] if any(np.isinf(turn) for turn in panel.turns) else []
    told += ["dotted rim: held against turning"] if any(0 < turn < np.inf for turn in panel.turns) else []
    told += ["dashed rim: edges free to turn"] if 0.0 in panel.turns else []
    return "; ".join(told)


def _plan(result: Result, panel: Panel, system: System) -> Picture:
    wide, high = max(panel.size), min(panel.size)
    bead = panel.pattern
    canvas, sheet = _placed(panel, lambda h: Canvas(h + BELOW + (4 if bead is None or lying(panel) else ABOVE)), BELOW)
    scale, left, low = sheet.scale, sheet.left, sheet.low
    w, h = wide * scale, high * scale
    _beads(canvas, sheet, fill=PALE)
    hole = panel.hole
    if hole is not None and hole.family == "round":
        canvas.circles([sheet.at(hole.x, hole.y)], hole.width / 2 * scale, fill="#ffffff")
    elif hole is not None:
        x_half, y_half = hole.width / 2, hole.height / 2
        sheet.box(canvas, (hole.x - x_half, hole.x + x_half), (hole.y - y_half, hole.y + y_half), fill="#ffffff")
    _loaded(canvas, sheet, fill="#ffffff", hatch="xxxx")
    canvas.across(left, left + w, 7, show(wide, "length", system), of=low - 2)
    canvas.upright(left + w + 8, low, low + h, show(high, "length", system), of=left + w + 2)
    ends = ""
    for way, one in panel.beads:
        if not any(one.ends):
            continue
        stop, runout = one.ends
        told = " and ".join(f"{n} {show(v, 'length', system)}" for n, v in (("stop", stop), ("run-out", runout)) if v)
        given = "" if one.stop is not None and one.runout is not None else ", taken: state yours"
        which = "" if panel.cross is None else f" along the {way} side"
        ends += f"; beads{which} at either end: {told}{given}"
    edges = _rim_words(panel)
    beads = "flat sheet"
    if bead is not None:
        side = "long" if sheet.lying else "short"
        beads = f"{len(panel.bead_places)} beads along the {side} side"
        if panel.cross is not None:
            beads += f", {len(panel.cross_places)} across them, which cross as the higher of the two"
        first, last = panel.bead_places[0], panel.bead_places[-2:]
        spans = [(0.0, first)] + ([(last[0], last[1])] if len(last) > 1 else [])  # far apart, to keep their words apart
        for start, end in spans:
            (x_1, y_1), (x_2, y_2) = sheet.at(0.0, start), sheet.at(0.0, end)
            size = show(end - start, "length", system)
            if sheet.lying:
                canvas.upright(left - 8, y_1, y_2, size, of=left - 2)
            else:
                canvas.across(x_1, x_2, low + h + 7, size, of=low + h + 2, beside="left")
    patch = "; crossed: what the patch load stands on" if panel.patch else ""
    patch += f"; white: the opening, {hole}" if hole is not None else ""
    return canvas.picture(
        f"{result.id}: panel {show(wide, 'length', system)} by {show(high, 'length', system)}, "
        f"{printed(panel.sheet.label, system)}, edges {panel.edges}, {beads}{ends}; "
        f"loads: {printed(panel.loads_text, system) or 'none'}.",
        f"{result.id}: plan to scale; {beads}{ends}; {edges}{patch}.",
        scales=[("", scale)],
        system=system,
    )


def _shape(result: Result, panel: Panel, found: Surface, system: System) -> Picture:
    """Lines of equal deflection with their values, over the beads."""
    canvas, sheet = _placed(panel, lambda h: Canvas(h + 8), 4.0)
    _beads(canvas, sheet, fill="none")
    _loaded(canvas, sheet)
    w, unit = found.yielding, "mm" if system == "metric" else "in"
    factor = 1.0 if system == "metric" else 1 / 25.4
    most, least = float(w.max()), float(w.min())
    levels = [v for v in round_steps(least * factor, most * factor, STEPS) if abs(v) > 1e-9 * most * factor]
    drawn = []
    for level in levels:
        lines = [[sheet.at(x, y) for x, y in line] for line in contour(found, w, level / factor)]
        canvas.lines(lines, width=LINE, colour=BLUE, dash="-" if level > 0 else ":")
        if lines:
            drawn.append(level)
            longest = max(lines, key=len)
            # one label a line, spread over the sides so that they keep apart
            at = longest[int(len(longest) * (0.13 + 0.17 * len(drawn)) % len(longest))]
            canvas.text(*at, f"{level:.3g}", size=TEXT - 0.8, back=True)
    i, j = np.unravel_index(np.abs(w).argmax(), w.shape)
    x, y = sheet.at(float(found.x[i]), float(found.y[j]))
    canvas.lines([[(x - 1.5, y), (x + 1.5, y)], [(x, y - 1.5), (x, y + 1.5)]], width=BOLD_LINE)
    greatest = show(float(np.abs(w).max()), "length", system)
    canvas.text(x + 2.5, y, greatest, size=TEXT - 0.8, across="left", back=True)
    stays = float(np.abs(found.stays).max())
    left = f"; {show(stays, 'length', system)} of it stays" if stays > 0 else "; nothing stays"
    lines_told = ", ".join(f"{v:.3g}" for v in drawn)
    return canvas.picture(
        f"{result.id}: lines of equal deflection under all loads together; greatest {greatest}{left}.",
        f"{result.id}: deflection under all loads together; lines at {lines_told} {unit}; "
        f"cross: the greatest, {greatest}{left}.",
        scales=[("", sheet.scale)],
        system=system,
    )


def round_steps(least: float, most: float, number: int) -> list[float]:
    """Round values from `least` to `most`, about `number` of them: steps of 1, 2, 2.5 or 5 times a power of ten."""
    rough = (most - least) / number
    if rough <= 0:
        return []
    power = 10.0 ** floor(log10(rough))
    step = next(m * power for m in (1.0, 2.0, 2.5, 5.0, 10.0) if m * power >= rough * (1 - 1e-9))
    return [k * step for k in range(ceil(least / step - 1e-9), floor(most / step + 1e-9) + 1)]


def contour(found: Surface, w: Array, level: float) -> list[Array]:
    """Lines of one height over the panel, places along and across the beads [mm]."""
    from contourpy import contour_generator

    rising = np.concatenate([[True], np.diff(found.y) > 1e-9 * found.y[-1]])
    made = contour_generator(x=found.x, y=found.y[rising], z=w[:, rising].T)
    return [np.asarray(line) for line in made.lines(level)]


def _cut(result: Result, panel: Panel, bead: Bead, which: str, system: System) -> Picture:
    t = panel.sheet.t
    scale = min(scale_for(PITCHES * bead.pitch, WIDTH - 50), scale_for(bead.depth + t, 45))
    one = path(bead, t)
    line = [(x + n * bead.pitch, z) for n in range(PITCHES) for x, z in one]
    line = line[:1] + [b for a, b in pairwise(line) if hypot(b[0] - a[0], b[1] - a[1]) > 1e-9]
    canvas = Canvas((bead.depth + t) * scale + 28)
    left = (WIDTH - PITCHES * bead.pitch * scale) / 2 + bead.pitch * scale / 2
    low = 12.0
    upper, lower = _sides(line, t / 2)
    canvas.area(
        [(left + x * scale, low + (z + t / 2) * scale) for x, z in [*upper, *reversed(lower)]],
        fill=PALE,
        width=THIN_LINE,
    )
    top = low + (bead.depth + t) * scale
    canvas.across(left, left + bead.pitch * scale, top + 9, show(bead.pitch, "length", system), of=top)
    half = bead.width * scale / 2
    canvas.across(left - half, left + half, 5, show(bead.width, "length", system), of=low)
    edge = left + (PITCHES - 0.5) * bead.pitch * scale
    foot = low + t * scale / 2
    canvas.upright(edge + 6, foot, foot + bead.depth * scale, show(bead.depth, "length", system), of=edge)
    sizes = f"depth {show(bead.depth, 'length', system)}, width {show(bead.width, 'length', system)}, pitch " + show(
        bead.pitch, "length", system
    )
    sheet = show(t, "length", system)
    return canvas.picture(
        f"{result.id}: cut across the beads{which}, {sizes}, sheet that carries {sheet}.",
        f"{result.id}: cut across the beads{which}, to scale; depth between the mid-lines; sheet that carries {sheet}.",
        scales=[("", scale)],
        system=system,
    )


def _sides(line: list[tuple[float, float]], away: float) -> tuple[list[tuple[float, float]], list[tuple[float, float]]]:
    """The two faces of a sheet along its mid-line."""
    upper, lower = [], []
    for i, (x, z) in enumerate(line):
        before, after = line[max(i - 1, 0)], line[min(i + 1, len(line) - 1)]
        dx, dz = after[0] - before[0], after[1] - before[1]
        size = hypot(dx, dz) or 1.0
        upper.append((x - away * dz / size, z + away * dx / size))
        lower.append((x + away * dz / size, z - away * dx / size))
    return upper, lower
