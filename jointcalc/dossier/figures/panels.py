"""Panels: the field in plan with its beads, and the sheet cut across them."""

from __future__ import annotations

from itertools import pairwise
from math import floor, hypot
from typing import TYPE_CHECKING

from jointcalc.dossier.figures.canvas import (
    BOLD_LINE,
    GREY,
    PALE,
    RED,
    THIN_LINE,
    WIDTH,
    Canvas,
    Picture,
    scale_for,
    scale_text,
    show,
)
from jointcalc.quantity.sentence import printed
from jointcalc.quantity.show import System
from jointcalc.result import Result
from jointcalc.statics.bead import path

if TYPE_CHECKING:
    from jointcalc.model.panel import Panel
    from jointcalc.statics.bead import Bead

TALLEST = 85.0
PITCHES = 2
"""Whole pitches shown in the cut."""


def draw_panel(result: Result, system: System) -> list[Picture]:
    """The plan, and for a beaded sheet the cut across the beads."""
    panel: Panel = result.model
    bead = panel.pattern
    pictures = [_plan(result, panel, system)]
    return pictures if bead is None else [*pictures, _cut(result, panel, bead, system)]


def _plan(result: Result, panel: Panel, system: System) -> Picture:
    wide, high = max(panel.size), min(panel.size)
    scale = min(scale_for(wide, WIDTH - 44), scale_for(high, TALLEST))
    canvas = Canvas(high * scale + 20)
    left, low = (WIDTH - wide * scale) / 2 - 6, 15.0
    w, h = wide * scale, high * scale
    canvas.box(left, low, w, h, fill="#f4f4f4", width=BOLD_LINE)
    if panel.edges == "clamped":
        d = 2.0
        for x, y, dx, dy in ((left - d, low - d, w + 2 * d, d), (left - d, low + h, w + 2 * d, d),
                             (left - d, low, d, h), (left + w, low, d, h)):  # fmt: skip
            canvas.box(x, y, dx, dy, edge=GREY, width=THIN_LINE, hatch="////")
    else:
        canvas.box(left - 1, low - 1, w + 2, h + 2, edge=GREY, width=THIN_LINE, dash="--")
    bead = panel.pattern
    lying = panel.along_beads >= wide - 1e-9
    if bead is not None:
        count = max(1, floor(panel.across_beads / bead.pitch + 1e-9))
        start = (panel.across_beads - (count - 1) * bead.pitch) / 2
        half = bead.width * scale / 2
        for n in range(count):
            at = (start + n * bead.pitch) * scale
            if lying:
                canvas.box(left, low + at - half, w, 2 * half, fill=PALE, width=THIN_LINE)
            else:
                canvas.box(left + at - half, low, 2 * half, h, fill=PALE, width=THIN_LINE)
    if panel.patch:
        along, across = panel.foot
        x, y = (along, across) if lying else (across, along)
        canvas.box(left + w / 2 - x * scale / 2, low + h / 2 - y * scale / 2, x * scale, y * scale, fill="#ffffff",
                   edge=RED, width=BOLD_LINE, hatch="xxxx")  # fmt: skip
    canvas.across(left, left + w, 7, show(wide, "length", system), of=low - 2)
    canvas.upright(left + w + 8, low, low + h, show(high, "length", system), of=left + w + 2)
    edges = "hatched rim: clamped edges" if panel.edges == "clamped" else "dashed rim: edges free to turn"
    beads = "flat sheet"
    if bead is not None:
        side = "long" if lying else "short"
        beads = f"beads along the {side} side, drawn at their pitch from the middle outwards"
    patch = "; crossed: what the patch load stands on" if panel.patch else ""
    return canvas.picture(
        f"{result.id}: panel {show(wide, 'length', system)} by {show(high, 'length', system)}, "
        f"{printed(panel.sheet.label, system)}, "
        f"{panel.edges} edges, {beads}; loads: {printed(panel.loads_text, system) or 'none'}.",
        f"{result.id}: plan {scale_text(scale)}; {beads}; {edges}{patch}.",
    )


def _cut(result: Result, panel: Panel, bead: Bead, system: System) -> Picture:
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
        f"{result.id}: cut across the beads, {sizes}, sheet that carries {sheet}.",
        f"{result.id}: cut across the beads {scale_text(scale)}; depth between the mid-lines; "
        f"sheet that carries {sheet}.",
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
