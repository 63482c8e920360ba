"""Bolts, rivet nuts and rivets: the holes in plan with the edges and plates round them, and one of them cut through."""

from __future__ import annotations

from math import cos, pi, sin
from typing import TYPE_CHECKING

from jointcalc.dossier.figures.canvas import (
    BOLD_LINE,
    GREY,
    PALE,
    THIN_LINE,
    WIDTH,
    Canvas,
    Picture,
    scale_for,
    show,
)
from jointcalc.dossier.figures.groups import Point, View, load_words, spot_words
from jointcalc.quantity.sentence import printed
from jointcalc.quantity.show import System
from jointcalc.result import Result

if TYPE_CHECKING:
    from jointcalc.model.bolts import FastenerGroup

FAR_EDGE = 2.0
"""An edge farther from the holes than this many sizes of the group is not drawn, only told."""
HEAD, NUT = 0.65, 0.8
"""Heights of head and nut per diameter, as drawn: about those of ISO 4017 and ISO 4032 (from memory)."""


def draw_fasteners(result: Result, system: System) -> list[Picture]:
    """The group in plan, and the stack cut through one hole."""
    group: FastenerGroup = result.model
    return [_plan(result, group, system), stack(result.id, group, system)]


def _edges(group: FastenerGroup) -> tuple[list[tuple[Point, Point]], bool]:
    """Edges of the sheets near the holes, and whether one lies farther away than is drawn."""
    xs, ys = [x for x, _ in group.holes], [y for _, y in group.holes]
    left, low, right, high = min(xs), min(ys), max(xs), max(ys)
    reach = FAR_EDGE * max(right - left, high - low, 30.0)
    boxes: list[tuple[float, float, float, float]] = []
    if group.outline:
        boxes = list(dict.fromkeys(corners for n in range(len(group.sheets)) if (corners := group.corners(n))))
    else:
        e = group.edge_used
        boxes = [(left - e, low - e, right + e, high + e)]
    lines: list[tuple[Point, Point]] = []
    far = False
    for x1, y1, x2, y2 in boxes:
        a, b = max(x1, left - reach), min(x2, right + reach)
        c, d = max(y1, low - reach), min(y2, high + reach)
        for seen, line in (
            (x1 >= a - 1e-9, ((x1, c), (x1, d))), (x2 <= b + 1e-9, ((x2, c), (x2, d))),
            (y1 >= c - 1e-9, ((a, y1), (b, y1))), (y2 <= d + 1e-9, ((a, y2), (b, y2))),
        ):  # fmt: skip
            if seen:
                lines.append(line)
            far |= not seen
    return lines, far


def _plan(result: Result, group: FastenerGroup, system: System) -> Picture:
    holes = [(x, y) for x, y in group.holes]
    load = (group.at[0], group.at[1]) if group.at is not None and group.force is not None else None
    edges, far_edge = _edges(group)
    round_ = [p for line in edges for p in line]
    if group.plate is not None:
        a, b = group.plate[0] / 2, group.plate[1] / 2
        round_ += [(x + i * a, y + j * b) for x, y in holes for i in (-1, 1) for j in (-1, 1)]
    view = View(holes, load, round_)
    canvas = view.canvas
    told = []
    if edges:
        dash = "-" if group.edge is not None or group.outline else "--"
        canvas.lines([[view.at(*p) for p in line] for line in edges], width=BOLD_LINE, dash=dash)
        told.append("outer lines: edges of the sheets" + ("" if dash == "-" else ", assumed"))
        if far_edge:
            told.append("edges farther away are not drawn")
        _edge_sizes(view, edges, holes, system)
    if group.plate is not None:
        for x, y in holes:
            corners = [(x - a, y - b), (x + a, y - b), (x + a, y + b), (x - a, y + b)]
            canvas.area([view.at(*p) for p in corners], fill="#eeeeee", width=THIN_LINE * 2)
        told.append(
            f"grey: plates of {show(group.plate[0], 'length', system)} x {show(group.plate[1], 'length', system)}"
        )
    if group.slot is not None and group.slot > group.d_0:
        for x, y in holes:
            _slot(canvas, *view.at(x, y), group.slot * view.scale, group.d_0 * view.scale, group.slot_along == "y")
    else:
        canvas.circles([view.at(*h) for h in holes], max(group.d_0 * view.scale / 2, 0.4), fill=PALE)
    if len(holes) <= 40:
        for n, hole in enumerate(holes):
            x, y = view.at(*hole)
            canvas.text(x + group.d_0 * view.scale / 2 + 0.8, y - 2.2, str(n + 1), across="left", size=7)
    view.frame(system)
    if group.force is not None:
        view.force(group.force, system)
    n, text = 1, "no load given"
    if group.loaded_by_itself:
        peak = result.values["peak"].value or 0.0
        n = int(result.values["peak_fastener"].value or 1)
        text = f"peak {show(peak, 'force', system)} at no. {n}"
        if len(holes) > 1:
            view.mark(holes[n - 1], text, clear=bool(edges))
    loads = load_words(group.force, group.at, group.moment, system)
    far = " The point of action lies outside the drawing; its direction is true." if view.far else ""
    drawn = f" {'; '.join(told).capitalize()}." if told else ""
    where = spot_words(holes[n - 1], system)
    return canvas.picture(
        f"{result.id}: {len(holes)} fasteners ({printed(group.fastener.label, system)}, holes "
        f"{show(group.d_0, 'length', system)}) in plan; {text} ({where}); load {loads}.{drawn}",
        f"{result.id}: plan to scale, seen from the head.{drawn} Service load: {loads}.{far}",
        scales=[("", view.scale)],
        system=system,
    )


def _edge_sizes(view: View, edges: list[tuple[Point, Point]], holes: list[Point], system: System) -> None:
    """From the outermost holes to the edge on the right and the upper one, where they are drawn."""
    right, high = max(x for x, _ in holes), max(y for _, y in holes)
    beside = [a[0] for a, b in edges if a[0] == b[0] and a[0] > right]
    over = [a[1] for a, b in edges if a[1] == b[1] and a[1] > high]
    _, top = view.at(0.0, max([high, *over, *(p[1] for line in edges for p in line)]))
    if beside:
        (a, _), (b, _) = view.at(right, high), view.at(min(beside), high)
        view.canvas.across(a, b, top + 7, show(min(beside) - right, "length", system), of=top)
    if over:
        x, low = view.at(max([right, *(p[0] for line in edges for p in line)]), high)
        view.canvas.upright(x + 6, low, view.at(0.0, min(over))[1], show(min(over) - high, "length", system), of=x)


def _slot(canvas: Canvas, x: float, y: float, long: float, wide: float, upright: bool) -> None:
    half, r = (long - wide) / 2, wide / 2
    ends = [(half + r * cos(pi / 2 - k * pi / 12), r * sin(pi / 2 - k * pi / 12)) for k in range(13)]
    ends += [(-a, -b) for a, b in ends]
    canvas.area([(x + b, y + a) if upright else (x + a, y + b) for a, b in ends], fill=PALE)


def stack(name: str, group: FastenerGroup, system: System) -> Picture:
    """What is clamped, cut through one hole: head, washers, sheets, plate, nut, and the nearest edge."""
    f = group.fastener
    d, across = f.d, (f.flats or 2 * f.d)
    washer = group.washers
    sink_wide, sink = group.sink
    parts: list[tuple[str, str, float, float]] = []  # (what, words, half width, height) from the top
    kept = sink_wide or across
    if f.kind == "rivet":
        parts.append(("head", printed(f.label, system), across / 2, 0.35 * d))
    elif not sink_wide:
        parts.append(("head", printed(f.label, system), across / 2, HEAD * d))
    if washer is not None and not sink_wide:
        size = f"{show(washer[0], 'length', system)} x {show(washer[1], 'length', system)}"
        parts.append(("washer", f"washer {size}", washer[0] / 2, washer[1]))
    reach = max(kept, washer[0] if washer else 0.0, group.plate[0] if group.plate else 0.0) / 2 + d
    for n, sheet in enumerate(group.sheets):
        if n and group.packing:
            parts.append(("packing", f"packing {show(group.packing, 'length', system)}", reach, group.packing))
        zinc = f" {sheet.coating}" if sheet.coated else ""
        words = f"sheet {n + 1}: {show(sheet.thickness, 'length', system)} {sheet.material.grade}{zinc}"
        parts.append(("sheet", words, reach, sheet.thickness))
    if group.plate is not None:
        long, short, thick = (show(v, "length", system) for v in group.plate)
        parts.append(
            ("plate", f"plate {long} x {short} x {thick} {group.plate_grade}", group.plate[0] / 2, group.plate[2])
        )
    if washer is not None and f.kind == "bolt":
        parts.append(("washer", "washer", washer[0] / 2, washer[1]))
    foot = {"bolt": ("nut", "nut", across / 2, NUT * d), "rivet": ("head", "set end", 0.9 * d, 0.5 * d)}
    parts.append(foot.get(f.kind, ("nut", "rivet nut, set", 0.8 * max(f.body, d), 0.6 * d)))
    high = sum(part[3] for part in parts) + 0.4 * d
    edge = group.edge_used if not group.outline else min(_nearest(group), 2 * reach)
    wide = reach + max(reach, edge) + 4
    scale = min(scale_for(wide, 78.0), scale_for(high, 62.0), 5.0)
    step = 4.2  # between the words of neighbouring parts
    tall = max(high * scale, step * len(parts))
    canvas = Canvas(tall + 20)
    x0, top = 16.0 + reach * scale, 14.0 + (tall + high * scale) / 2
    right = x0 + max(edge, reach * 0.6) * scale
    # parts from above; sheets run from a broken end on the left to their edge on the right
    y = top
    middles: list[tuple[float, float]] = []
    hatched = 0
    for what, _, half, height in parts:
        h = height * scale
        if what in ("sheet", "packing"):
            left, end = x0 - reach * scale, right
            way = "" if what == "packing" else ("////", "\\\\\\\\")[hatched % 2]
            hatched += what == "sheet"
            gap = group.d_0 / 2 * scale
            for a, b in ((left, x0 - gap), (x0 + gap, end)):
                canvas.box(a, y - h, b - a, h, fill="#ffffff", hatch=way, width=THIN_LINE * 2)
            tip = end - 0.8
        else:
            gap = group.d_plate / 2 * scale if what == "plate" else 0.0
            fill = PALE if what in ("head", "nut") else "#ffffff"
            for a, b in ((x0 - half * scale, x0 - gap), (x0 + gap, x0 + half * scale)):
                canvas.box(a, y - h, b - a, h, fill=fill, hatch="xxxx" if what == "plate" else "", width=THIN_LINE * 2)
            tip = x0 + half * scale - 0.5
        middles.append((tip, y - h / 2))
        y -= h
    clamp_top = top - sum(p[3] for p in parts[: next(i for i, p in enumerate(parts) if p[0] == "sheet")]) * scale
    half = d / 2 * scale
    canvas.box(
        x0 - half, y - 0.4 * d * scale, 2 * half, clamp_top - y + 0.4 * d * scale, fill=PALE, width=THIN_LINE * 2
    )
    if sink_wide:
        deep = sink * scale
        corners = [(x0 - sink_wide / 2 * scale, clamp_top), (x0 + sink_wide / 2 * scale, clamp_top),
                   (x0 + half, clamp_top - deep), (x0 - half, clamp_top - deep)]  # fmt: skip
        canvas.area(corners, fill=PALE, width=THIN_LINE * 2)
    canvas.line([(x0, top + 3), (x0, y - 0.4 * d * scale - 2)], width=THIN_LINE, colour=GREY, dash="-.")
    # words on the right, apart from each other, each with its line
    column = max(right, x0 + max(p[2] for p in parts) * scale) + 8
    first = 14.0 + tall - step / 2 - (tall - step * len(parts)) / 2
    for n, ((_, words, _, _), (tip, level)) in enumerate(zip(parts, middles)):
        at = first - n * step
        canvas.line([(tip, level), (column, at)], width=THIN_LINE, colour=GREY)
        canvas.text(column + 0.8, at, words, across="left")
    sure = group.edge is not None or bool(group.outline)
    words = f"edge {show(group.edge_used if not group.outline else _nearest(group), 'length', system)}"
    canvas.across(x0, right, 5.0, words + ("" if sure else ", assumed"), of=y - 0.4 * d * scale)
    hole = f"hole {show(group.d_0, 'length', system)}"
    told = "; ".join(words for _, words, _, _ in parts)
    assert column < WIDTH
    return canvas.picture(
        f"{name}: cut through one hole, from above: {told}; {hole}, {words}{'' if sure else ' assumed'}.",
        f"{name}: cut through one fastener, {hole}; thicknesses to scale, head and nut as usual.",
        scales=[("", scale)],
        system=system,
    )


def _nearest(group: FastenerGroup) -> float:
    """Least distance from a centre to an edge of a sheet [mm]."""
    found = [
        min(x - x1, x2 - x, y - y1, y2 - y)
        for n in range(len(group.sheets))
        if (corners := group.corners(n)) is not None
        for x1, y1, x2, y2 in [corners]
        for x, y in group.holes
    ]
    return min(found)
