"""The PDF of one drawing: an overview with tables, then tiles to lay edge to edge.

The registration crosses of neighbouring tiles fall on one another, and the dashed line between them is
where to cut; the overview shows which tiles there are.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import ceil, floor
from typing import Any

import numpy as np

from jointcalc.layout.drawing import LAYERS, Drawing, Entity, Table, strokes
from jointcalc.layout.paper import CAPITAL, FOOT, GREY, LETTER, MARGIN, POINT, Page, Sheet, shortened, write_pdf
from jointcalc.layout.tiles import OVERLAP, Ink, Tile, Tiling, tiling
from jointcalc.layout.views import draw_entities, picture, scale_words
from jointcalc.layout.words import plain, table_lines, wrap

FULL_SIZE = 3.5 / CAPITAL / POINT
"""Lettering on the full-size sheets [pt]: capitals 3.5 mm high, read at arm's length (ISO 3098, from memory)."""


class Flow:
    """Pages filled from the top, a new one when there is no more room."""

    def __init__(self, sheet: Sheet, title: str, under: str = "") -> None:
        self.sheet = sheet
        self.pages: list[Page] = []
        self.title = plain(title)
        self.left, self.room = MARGIN, sheet.room(False)[0]
        self._next()
        page = self.page
        page.text(self.left, self.y - 2.5, shortened(self.title, floor(self.room / (LETTER * 13))), 13.0, bold=True)
        self.y -= 8.0
        if under:
            for line in wrap(under, floor(self.room / (LETTER * 8))):
                page.text(self.left, self.y - 1.5, line, 8.0)
                self.y -= 4.0
        self.y -= 1.0

    @property
    def page(self) -> Page:
        """The page being filled."""
        return self.pages[-1]

    def _next(self) -> None:
        self.pages.append(Page(self.sheet))
        self.y = self.page.height - MARGIN

    def need(self, height: float) -> None:
        """A new page if less than `height` is left."""
        if self.y - height < MARGIN + FOOT:
            self._next()

    @property
    def left_over(self) -> float:
        """Height that is left on the page [mm]."""
        return self.y - MARGIN - FOOT

    def head(self, words: str, after: float = 8.0) -> None:
        """A heading, kept with `after` mm of what follows."""
        lines = wrap(words, floor(self.room / (LETTER * 8.5)))
        self.need(5.0 * len(lines) + after)
        self.y -= 2.5
        for line in lines:
            self.page.text(self.left, self.y - 1.5, line, 8.5, bold=True)
            self.y -= 4.5

    def say(self, words: str) -> None:
        """A paragraph with a bullet."""
        for k, line in enumerate(wrap(words, floor((self.room - 4.0) / (LETTER * 7.5)))):
            self.need(3.7)
            if k == 0:
                self.page.text(self.left, self.y - 1.5, "•", 7.5)
            self.page.text(self.left + 3.5, self.y - 1.5, line, 7.5)
            self.y -= 3.7

    def lines(self, lines: Sequence[str], size: float = 7.0) -> None:
        """Lines of a table: the first is repeated on every page; several tables abreast when they are narrow."""
        high = size * POINT * 1.32
        wide = max(len(line) for line in lines) * LETTER * size
        if wide > self.room:
            size, high, wide = size * self.room / wide, high * self.room / wide, self.room
        abreast = max(1, floor((self.room + 8.0) / (wide + 8.0)))
        head, body = lines[0], list(lines[1:])
        while True:
            self.need(high * min(len(body) + 1, 6) + 2.0)
            per_column = max(1, floor((self.left_over - 2.0) / high) - 1)
            columns = min(abreast, ceil(len(body) / per_column)) or 1
            # level columns when they do not fill the page
            per_column = min(per_column, ceil(len(body) / columns)) if len(body) <= columns * per_column else per_column
            deepest = 0
            for c in range(columns):
                part, body = body[:per_column], body[per_column:]
                x = self.left + c * (wide + 8.0)
                self.page.text(x, self.y - high / 2, head, size, bold=True)
                self.page.lines([[(x, self.y - high), (x + wide, self.y - high)]], width=0.3)
                for k, line in enumerate(part):
                    self.page.text(x, self.y - high * (k + 1.6), line, size)
                deepest = max(deepest, len(part))
            self.y -= high * (deepest + 1.6)
            if not body:
                return
            self._next()

    def table(self, table: Table) -> None:
        """A table under its title."""
        if table.rows:
            self.head(table.title, 14.0)
            self.lines(table_lines(table.heads, table.rows, left=1))

    def picture(
        self, entities: Sequence[Entity], height: float, words: str, tiles: Tiling | None = None, most: float = 5.0
    ) -> None:
        """A view to scale under a line that names it."""
        self.need(min(height, 60.0) + 8.0)
        room = min(height, self.left_over - 6.0)
        top = self.y - 4.5
        scale, used = picture(self.page, entities, self.left, top, self.room, room, tiles, most)
        self.page.text(self.left, self.y - 1.5, f"{words}, scale {scale_words(scale)}", 7.5, bold=True)
        self.y = top - used


def _overview(drawing: Drawing, sheet: Sheet, tiles: Tiling | None) -> Flow:
    flow = Flow(sheet, f"{drawing.id}  {drawing.title}", drawing.what)
    words = "Overview"
    if tiles is not None:
        n = len(tiles.tiles)
        words = f"Overview; full size on {n} page{'s' if n != 1 else ''} that follow{'s' if n == 1 else ''}"
    flow.picture(drawing.entities, 95.0, words, tiles, most=1.0)
    for detail in drawing.details:
        flow.picture(detail.entities, 75.0, detail.title)
    if drawing.notes:
        flow.head("Notes")
        for note in drawing.notes:
            flow.say(note)
    for table in drawing.tables:
        flow.table(table)
    flow.head("Lines", 10.0)
    used = {
        layer for e in [*drawing.entities, *(x for d in drawing.details for x in d.entities)] for layer, _ in strokes(e)
    }
    flow.say("; ".join(f"{name}: {LAYERS[name].meaning}" for name in LAYERS if name in used))
    return flow


def _tile_page(drawing: Drawing, ink: Ink, sheet: Sheet, tiles: Tiling, tile: Tile) -> Page:
    page = Page(sheet, tiles.landscape)
    half = OVERLAP / 2
    base = np.array([MARGIN, MARGIN + FOOT])
    origin = np.array([tile.x - half, tile.y - half])
    w, h = sheet.room(tiles.landscape)

    def place(points: Any) -> Any:
        return points - origin + base

    page.clip = (base[0], base[1], base[0] + w, base[1] + h)
    chosen = ink.crossing(tile.x - half, tile.y - half, tile.x - half + w, tile.y - half + h)
    draw_entities(page, drawing.entities, ink, chosen, place, size=FULL_SIZE, scale=1.0)
    page.clip = None
    names = {(t.column, t.row): t.name for t in tiles.tiles}
    x0, y0 = base + half
    x1, y1 = x0 + tiles.step[0], y0 + tiles.step[1]
    page.lines([[(x0, y0), (x1, y0), (x1, y1), (x0, y1), (x0, y0)]], width=0.25, colour=GREY, dash="--")
    arm = 4.0
    for x, y in ((x0, y0), (x1, y0), (x1, y1), (x0, y1)):
        page.lines([[(x - arm, y), (x + arm, y)], [(x, y - arm), (x, y + arm)]], width=0.5)
        u = np.linspace(0, 2 * np.pi, 33)
        page.lines([np.column_stack([x + 2 * np.cos(u), y + 2 * np.sin(u)])], width=0.4)
    for dc, dr, x, y, turn in (
        (-1, 0, x0 - 2.2, (y0 + y1) / 2, 90.0), (1, 0, x1 + 2.2, (y0 + y1) / 2, 90.0),
        (0, -1, (x0 + x1) / 2, y1 + 2.2, 0.0), (0, 1, (x0 + x1) / 2, y0 - 2.2, 0.0),
    ):  # fmt: skip
        beside = names.get((tile.column + dc, tile.row + dr))
        if beside:
            page.text(x, y, f"joins {beside}", 6.0, across="center", turn=turn, colour=GREY)
    page.text(x0 + 5.0, y1 - 5.0, tile.name, 11.0, bold=True, colour=GREY)
    return page


def item_pdf(drawing: Drawing, sheet: Sheet) -> bytes:
    """The PDF of one drawing: overview, tables, then the full-size tiles."""
    tiles = tiling(drawing, sheet) if drawing.full_size else None
    flow = _overview(drawing, sheet, tiles)
    pages: list[tuple[Callable[[], Page], str]] = [(lambda p=p: p, "") for p in flow.pages]  # type: ignore[misc]
    if tiles is not None:
        ink = Ink(drawing.entities)
        for k, tile in enumerate(tiles.tiles):
            made = lambda t=tile: _tile_page(drawing, ink, sheet, tiles, t)  # noqa: E731
            pages.append((made, f"full size, tile {tile.name}, {k + 1} of {len(tiles.tiles)}, "))
    name = shortened(drawing.id, 24)
    return write_pdf(
        ((make, f"{name}: {words}") for make, words in pages), sheet, f"{drawing.id} {drawing.title}", len(pages)
    )
