"""Entities of a drawing on a page: strokes, dimensions and lettering, at full size or as a view to scale."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

import numpy as np

from jointcalc.layout.drawing import LAYERS, Dim, Entity, Label, Leader, extent
from jointcalc.layout.paper import CAPITAL, GREY, LETTER, POINT, Page
from jointcalc.layout.tiles import Ink, Tiling

SCALES = (5.0, 2.0, 1.0, 1 / 2, 1 / 5, 1 / 10, 1 / 20, 1 / 50, 1 / 100, 1 / 200, 1 / 500)


VIEW = 7.2
"""Lettering of a view to scale [pt]: capitals 1.85 mm, over the least of ISO 3098, 1.8 mm (from memory)."""


def draw_entities(
    page: Page,
    entities: Sequence[Entity],
    ink: Ink,
    chosen: Any,
    place: Callable[[Any], Any],
    *,
    size: float,
    scale: float,
) -> None:
    """Strokes, dimensions and lettering; `place` maps points (n, 2) of the drawing to the page."""
    for layer, found in ink.of(chosen):
        style = LAYERS[layer]
        page.lines(place(found.reshape(-1, 2)).reshape(-1, 2, 2), width=style.width, dash=style.dash)
    for entity in entities:
        if isinstance(entity, Dim):
            _dim(page, entity, place, size)
        elif isinstance(entity, Leader):
            _leader(page, entity, place, size)
        elif isinstance(entity, Label):
            ((x, y),) = place(np.array([[entity.x, entity.y]]))
            points = min(entity.height * scale, 3.5) / POINT / CAPITAL
            if points >= 3.5 and _inside(page, x, y):
                page.text(x, y, entity.text, points, across=entity.across, turn=entity.turn * 57.29577951308232)


def _inside(page: Page, x: float, y: float) -> bool:
    if page.clip is None:
        return True
    x0, y0, x1, y1 = page.clip
    return x0 - 2 <= x <= x1 + 2 and y0 - 2 <= y <= y1 + 2


def _dim(page: Page, d: Dim, place: Callable[[Any], Any], size: float) -> None:
    """A dimension: extension lines, the line with slashes at its ends, its figure."""
    if d.upright:
        ends = np.array([[d.at, d.y1], [d.at, d.y2], [d.x1, d.y1], [d.x2, d.y2]])
    else:
        ends = np.array([[d.x1, d.at], [d.x2, d.at], [d.x1, d.y1], [d.x2, d.y2]])
    a, b, p, q = place(ends)
    if page.clip is not None:
        x0, y0, x1, y1 = page.clip
        if max(a[0], b[0]) < x0 or min(a[0], b[0]) > x1 or max(a[1], b[1]) < y0 or min(a[1], b[1]) > y1:
            return
    page.lines([[tuple(p), tuple(a)], [tuple(q), tuple(b)], [tuple(a), tuple(b)]], width=0.25, colour="#404040")
    page.lines([[(e[0] - 0.7, e[1] - 0.7), (e[0] + 0.7, e[1] + 0.7)] for e in (a, b)], width=0.6)
    middle = (a + b) / 2
    span = float(np.abs(b - a).max())
    wide = len(d.text) * LETTER * size
    if page.clip is not None and span > 60.0:
        # a long dimension runs over several pages: its figure stands on each
        x0, y0, x1, y1 = page.clip
        low, high = np.maximum(np.minimum(a, b), [x0, y0]), np.minimum(np.maximum(a, b), [x1, y1])
        middle = (low + high) / 2
    turn = 90.0 if d.upright else 0.0
    if span < wide + 0.6:
        # there is no room between the ends: beside the farther one, in line with it, the line run on to it
        far = max(a, b, key=lambda e: e[1] if d.upright else e[0])
        way = np.array([0.0, 1.0] if d.upright else [1.0, 0.0])
        if _inside(page, *far):
            page.lines([[tuple(far), tuple(far + 2.0 * way)]], width=0.25, colour="#404040")
            x, y = far + 2.6 * way
            page.text(x, y, d.text, size, turn=turn, back=True)
        return
    if _inside(page, *middle):
        x, y = middle + ([-0.9, 0.0] if d.upright else [0.0, 0.9])
        page.text(x, y, d.text, size, across="center", turn=turn, up="bottom")


def _leader(page: Page, one: Leader, place: Callable[[Any], Any], size: float) -> None:
    tip, end = place(np.array([[one.x1, one.y1], [one.x2, one.y2]]))
    if not (_inside(page, *tip) or _inside(page, *end)):
        return
    page.lines([[tuple(tip), tuple(end)]], width=0.25, colour="#404040")
    page.arrow(tip, tip - end)
    page.text(end[0] + (0.8 if one.across == "left" else -0.8), end[1], one.text, size, across=one.across)


def picture(
    page: Page,
    entities: Sequence[Entity],
    x: float,
    top: float,
    w: float,
    h: float,
    tiles: Tiling | None = None,
    most: float = 5.0,
) -> tuple[float, float]:
    """A view to scale in a box with its upper edge at `top`; returns (scale, height used)."""  # fmt: skip
    x0, y0, x1, y1 = extent(entities)
    if tiles is not None and tiles.tiles:
        cells = tiles.tiles
        x0, y0 = min(x0, *(t.x for t in cells)), min(y0, *(t.y for t in cells))
        x1 = max(x1, *(t.x + tiles.step[0] for t in cells))
        y1 = max(y1, *(t.y + tiles.step[1] for t in cells))
    span_x, span_y = max(x1 - x0, 1e-6), max(y1 - y0, 1e-6)
    fits = [s for s in SCALES if s <= most and span_x * s <= w - 14 and span_y * s <= h - 12]
    scale = fits[0] if fits else min((w - 14) / span_x, (h - 12) / span_y)
    used = span_y * scale + 12
    ox, oy = x + (w - span_x * scale) / 2, top - used + 6

    def place(points: Any) -> Any:
        return (points - [x0, y0]) * scale + [ox, oy]

    if scale < 0.45:  # their words would be too small to read
        entities = [e for e in entities if getattr(e, "layer", "") != "SYMBOL"]
    ink = Ink(entities)
    shown = list(entities) if scale >= 0.45 else _overall(entities, scale)
    draw_entities(page, shown, ink, np.ones(len(ink.segments), dtype=bool), place, size=VIEW, scale=scale)
    if tiles is not None:
        for t in tiles.tiles:
            (a, b), (c, d) = place(np.array([[t.x, t.y], [t.x + tiles.step[0], t.y + tiles.step[1]]]))
            page.lines([[(a, b), (c, b), (c, d), (a, d), (a, b)]], width=0.3, colour=GREY, dash="--")
            page.text((a + c) / 2, d - 1.8, t.name, 6.0, across="center", colour=GREY)
    return scale, used


def _overall(entities: Sequence[Entity], scale: float) -> list[Entity]:
    """The entities of a small view: of its dimensions only the longest level and upright ones, clear of the view."""
    x0, y0, _, _ = extent(entities, work=True)
    dims = [e for e in entities if isinstance(e, Dim)]
    kept: list[Entity] = [e for e in entities if not isinstance(e, Dim)]
    for upright in (False, True):
        of = [d for d in dims if d.upright == upright]
        if of:
            d = max(of, key=lambda d: d.measure)
            if d.measure * scale >= 3.0:
                kept.append(replace(d, at=(x0 if upright else y0) - 4.5 / scale))
    return kept


def scale_words(scale: float) -> str:
    """`1 : 5`, `2 : 1`."""
    return f"{scale:.3g} : 1" if scale > 1 else f"1 : {1 / scale:.3g}"
