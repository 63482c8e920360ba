"""Braces: the section to scale, and the beam with its load, shear, moment and deflection."""

from __future__ import annotations

from math import inf
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

from jointcalc.dossier.figures.buckling import draw_curves
from jointcalc.dossier.figures.canvas import (
    BLUE,
    BOLD_LINE,
    GREY,
    LINE,
    PALE,
    RED,
    THIN_LINE,
    WIDTH,
    Canvas,
    Picture,
    scale_for,
    show,
    text_width,
)
from jointcalc.layout.blanks import lap_dims
from jointcalc.layout.drawing import Dim, Entity
from jointcalc.layout.profiles import section_dims
from jointcalc.layout.words import unit
from jointcalc.quantity.sentence import printed
from jointcalc.quantity.show import System, respelt
from jointcalc.result import Result
from jointcalc.section.families.lap import Lap
from jointcalc.section.properties import Properties
from jointcalc.statics.beam import solve
from jointcalc.statics.beam_model import Couple, PointLoad, SpreadLoad, Support

if TYPE_CHECKING:
    from jointcalc.model.brace import Brace
    from jointcalc.section.outline import Outline

Floats = npt.NDArray[np.float64]
STATIONS = 241
BAND = 11.0  # mm of paper for one diagram: section and beam of a brace share a page with its first table
GAP = 6.5


def draw_brace(result: Result, system: System) -> list[Picture]:
    """The section, the beam, then what buckling the strips found."""
    brace: Brace = result.model
    turned = result.values.get("flanges_up")
    outline = brace.family.outline()
    over = turned is not None and bool(turned.value)
    if over:
        outline = outline.turned()
    return [_section(result, outline, over, system), _beam(result, brace, system), *draw_curves(result, brace, system)]


def _section(result: Result, outline: Outline, turned: bool, system: System) -> Picture:
    pieces = [outline.faces(i) for i, s in enumerate(outline.segments) if s.kind != "weld"]
    every = np.concatenate(pieces)
    (left, low), (right, high) = every.min(axis=0), every.max(axis=0)
    wide, tall = float(right - left), float(high - low)
    family = result.model.family
    scale = min(scale_for(wide, WIDTH - 70), scale_for(tall, 45), 2.0)
    if isinstance(family, Lap):
        dims: list[Entity] = lap_dims(family, system, turned=turned, scale=scale)
    else:
        dims = section_dims(family, system, turned=turned, scale=scale)
    # rows of dimensions below and above ask for room
    levels = [one.at for one in dims if isinstance(one, Dim) and not one.upright]
    below, above = ((low - min([low, *levels])) * scale + 6, (max([high, *levels]) - high) * scale + 7)
    canvas = Canvas(float(tall * scale + below + above))
    x0, y0 = (WIDTH - wide * scale) / 2, float(below)

    def at(y: float, z: float) -> tuple[float, float]:
        return x0 + (y - float(left)) * scale, y0 + (z - float(low)) * scale

    for piece in pieces:
        canvas.area([at(float(y), float(z)) for y, z in piece], fill=PALE, edge="#000000", width=THIN_LINE)
    for i, segment in enumerate(outline.segments):
        if segment.kind == "weld":
            line = outline.polyline(i)
            a, b = at(*map(float, line[0])), at(*map(float, line[-1]))
            canvas.line([a, b], width=2.0, colour=RED)
    canvas.drawn(dims, at, unit(system))
    # of the section as it is drawn here, which may lie the other way up than the profile is written
    p = Properties(outline)
    heights = {"centroid": float(p.centroid_height[0]), "shear centre": float(p.shear_centre_height[0])}
    marks = [f"{word} {show(height, 'length', system)} above the lowest face" for word, height in heights.items()]
    y = y0 + heights["centroid"] * scale
    canvas.line([(x0 - 5, y), (x0 + wide * scale + 8, y)], width=THIN_LINE, colour=GREY, dash="-.")
    beside = max([right, *(one.at for one in dims if isinstance(one, Dim) and one.upright)])
    clear = x0 + float(beside - left) * scale + (14 if beside > right else 9)
    canvas.upright(clear, y0, y, show(heights["centroid"], "length", system), of=x0 + wide * scale + 6)
    lies = f", {result.about['lies']}" if "lies" in result.about else ""
    profile = respelt(result.model.profile, system)
    return canvas.picture(
        f"{result.id}: section {profile}{lies}, {show(wide, 'length', system)} wide and "
        f"{show(tall, 'length', system)} high; {'; '.join(marks)}.",
        f"{result.id}: section to scale, {profile}{lies}; dash-dotted: centroid.",
        scales=[("", scale)],
        system=system,
    )


def _beam(result: Result, brace: Brace, system: System) -> Picture:
    stiff = result.values.get("EI")
    EI = stiff.value if stiff is not None and stiff.value else 1.0
    beam = solve(brace.length, EI, brace.supports, brace.loads)
    x = np.linspace(0.0, brace.length, STATIONS)
    # both sides of every jump, so that steps are drawn upright
    jumps = [load.at for load in brace.loads if isinstance(load, PointLoad | Couple)] + [s.at for s in brace.supports]
    stations = np.sort(np.concatenate([x, np.array([j for j in jumps if 0 < j < brace.length])]))
    diagrams: list[tuple[str, str, Floats, Floats]] = []
    for word, kind, function in (("shear", "force", beam.shear), ("moment", "moment", beam.moment)):
        xs = np.repeat(stations, 2)
        ys = np.ravel(np.column_stack([function(stations, "left"), function(stations, "right")]))
        diagrams.append((word, kind, xs, ys))
    if stiff is not None and stiff.value:
        line = np.asarray(beam.deflection(stations))
        most, judged = float(np.abs(line).max()), result.values["deflection_service"].value
        # the same line, as far down as the brace is judged to bend: with what works of it, shear and askew sections too
        diagrams.append(("deflection", "length", stations, line * (judged / most) if most and judged else line))
    scale = scale_for(brace.length, WIDTH - 46)
    left = 40.0
    canvas = Canvas(25 + len(diagrams) * (BAND + GAP) + 2)
    _load_view(canvas, brace, left, scale, canvas.height - 17, system)
    said = []
    for n, (word, kind, xs, ys) in enumerate(diagrams):
        middle = canvas.height - 25 - n * (BAND + GAP) - BAND / 2 - 3
        said.append(_diagram(canvas, word, kind, left + xs * scale, ys, xs, middle, system))
    spans = " + ".join(show(s, "length", system) for s in brace.span)
    return canvas.picture(
        f"{result.id}: beam of {spans}, ends {brace.ends}, {printed(brace.loads_text, system)}. {'; '.join(said)}.",
        f"{result.id}: beam to scale along it, service loads; positive moment sags, deflection is down.",
        scales=[("", scale)],
        system=system,
    )


def _load_view(canvas: Canvas, brace: Brace, left: float, scale: float, y: float, system: System) -> None:
    end = left + brace.length * scale
    canvas.line([(left, y), (end, y)], width=2.0)
    for support in brace.supports:
        _support(canvas, left + support.at * scale, y, support, brace.length)
    for load in brace.loads:
        if isinstance(load, SpreadLoad):
            a, b = left + load.start * scale, left + load.end * scale
            most = max(abs(float(load.first)), abs(float(load.last))) or 1.0
            first, last = (5.0 * abs(float(v)) / most + 1.0 for v in (load.first, load.last))
            canvas.area(
                [(a, y + 1), (b, y + 1), (b, y + 1 + last), (a, y + 1 + first)], fill="none", edge=GREY, hatch="||"
            )
    texts: list[tuple[float, str]] = []
    for load in brace.loads:
        if isinstance(load, PointLoad):
            at = left + load.at * scale
            down = float(load.force) >= 0
            canvas.arrow((at, y + 9), (at, y + 1), colour=RED) if down else canvas.arrow(
                (at, y + 1), (at, y + 9), colour=RED
            )
            texts.append((at, show(abs(float(load.force)), "force", system)))
        elif isinstance(load, Couple):
            canvas.circles([(left + load.at * scale, y)], 1.6, edge=RED, width=BOLD_LINE)
            texts.append((left + load.at * scale, f"couple {show(float(load.moment), 'moment', system)}"))
    for load in brace.loads:
        if isinstance(load, SpreadLoad):
            size = show(float(load.first), "line load", system)
            if load.first != load.last:
                size += f" to {show(float(load.last), 'line load', system)}"
            texts.append((left + (load.start + load.end) / 2 * scale, size))
    rows: list[list[tuple[float, float]]] = [[], []]
    for at, text in sorted(texts)[:16]:
        half = text_width(text) / 2 + 1
        x = min(max(at, half), WIDTH - half)
        for n, row in enumerate(rows):
            if all(x + half <= a or x - half >= b for a, b in row):
                row.append((x - half, x + half))
                canvas.text(x, y + 11 + n * 3.4, text)
                break


def _support(canvas: Canvas, x: float, y: float, support: Support, length: float) -> None:
    if support.rotation == inf:
        side = -1 if support.at <= 0 else 1
        canvas.box(min(x, x + side * 2), y - 4, 2, 8, fill="#ffffff", hatch="////", width=LINE)
    else:
        canvas.area([(x, y - 0.8), (x - 2, y - 4), (x + 2, y - 4)], fill="#ffffff")
        if support.rotation:
            canvas.circles([(x, y)], 1.4, fill="#ffffff")


def _diagram(
    canvas: Canvas, word: str, kind: str, paper: Floats, values: Floats, at: Floats, middle: float, system: System
) -> str:
    """One diagram about its zero line; the greatest value each way is written at its place."""
    most, least = float(values.max()), float(values.min())
    reach = max(most, -least, 0.0)
    canvas.text(0, middle, word, across="left", bold=True)
    zero = middle
    flip = -1.0 if word in ("moment", "deflection") else 1.0  # drawn on the side that is pulled, downwards positive
    if reach > 0:
        scale = BAND / (max(most, 0.0) - min(least, 0.0)) * flip
        zero = middle - scale * (max(most, 0.0) + min(least, 0.0)) / 2
        points = [(float(x), zero + float(v) * scale) for x, v in zip(paper, values)]
        canvas.area([(points[0][0], zero), *points, (points[-1][0], zero)], fill="#eef4f9", edge="none")
        canvas.line(points, width=BOLD_LINE, colour=BLUE)
    canvas.line([(float(paper[0]), zero), (float(paper[-1]), zero)], width=THIN_LINE)
    said = []
    for n, value in ((int(values.argmax()), most), (int(values.argmin()), least)):
        if abs(value) < 1e-6 * reach or reach == 0:
            continue
        text = show(value, kind, system)
        y = zero + value * BAND / (max(most, 0.0) - min(least, 0.0)) * flip
        up = y >= zero
        half = text_width(text) / 2
        x = min(max(float(paper[n]), 28 + half), WIDTH - half)
        canvas.text(x, y + (0.8 if up else -0.8), text, up="bottom" if up else "top", back=True)
        said.append(f"{text} at {show(float(at[n]), 'length', system)}")
    return f"{word}: {', '.join(dict.fromkeys(said)) or 'none'}"
