"""Drawings on paper at true size: an overview with tables, then tiles to lay edge to edge.

Every page carries a bar to measure: a printer that scales is found out before the sheet is.  Tiles
overlap; the registration crosses of neighbours fall on one another, and the dashed line between them is
where to cut.  A tile on which nothing is to be marked is not printed; the overview shows which are.

Pages have exact sizes and carry no dates: the same drawing gives the same bytes.
"""

from __future__ import annotations

import io
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from math import ceil, floor
from typing import Any

import numpy as np

from jointcalc.layout.drawing import LAYERS, Detail, Dim, Drawing, Entity, Floats, Label, Table, extent, strokes
from jointcalc.layout.words import plain, table_lines, wrap
from jointcalc.marks import unmarked
from jointcalc.quantity.show import System

PAPERS = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
"""Paper -> width and height [mm] (ISO 216; ANSI Y14.1)."""

MARGIN = 10.0
"""Free edge [mm]: office printers leave some 4 to 6 mm white."""
FOOT = 15.0
"""Height of the strip with the scale bar [mm]."""
OVERLAP = 10.0
"""What neighbouring tiles print twice [mm]."""
POINT = 25.4 / 72
FONT = "DejaVu Sans Mono"
"""Comes with the drawing library; every letter 0.602 of its size wide."""
LETTER = 0.602 * POINT
DASHES = {"-": "-", "--": (0, (4, 2)), "-.": (0, (6, 2, 1, 2)), ":": (0, (1, 2))}
SCALES = (5.0, 2.0, 1.0, 1 / 2, 1 / 5, 1 / 10, 1 / 20, 1 / 50, 1 / 100, 1 / 200, 1 / 500)
INK, GREY = "#000000", "#808080"


@dataclass(frozen=True, slots=True)
class Sheet:
    """Paper, units of the scale bar, and what stands at the foot of every page."""

    paper: str = "a4"
    system: System = "metric"
    project: str = ""

    def size(self, landscape: bool) -> tuple[float, float]:
        """Width and height of a page [mm]."""
        w, h = PAPERS[self.paper]
        return (h, w) if landscape else (w, h)

    def room(self, landscape: bool) -> tuple[float, float]:
        """Width and height of what a page can show [mm]."""
        w, h = self.size(landscape)
        return w - 2 * MARGIN, h - 2 * MARGIN - FOOT


@dataclass(frozen=True, slots=True)
class Tile:
    """One page of the full-size drawing: its name, place in the grid, and lower left corner of its cell [mm]."""

    name: str
    column: int
    row: int
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Tiling:
    """How a drawing is cut into pages: cells of `step` (width, height) [mm]; pages print OVERLAP/2 more around."""

    landscape: bool
    step: tuple[float, float]
    tiles: tuple[Tile, ...]
    columns: int
    rows: int


class Ink:
    """The strokes of a drawing as arrays: segments (n, 4) and the layer of each."""

    def __init__(self, entities: Sequence[Entity]) -> None:
        pieces: list[Floats] = []
        layers: list[Floats] = []
        names = list(LAYERS)
        for entity in entities:
            for layer, points in strokes(entity):
                line = np.asarray(points, dtype=np.float64)
                pieces.append(np.column_stack([line[:-1], line[1:]]))
                layers.append(np.full(len(line) - 1, names.index(layer), dtype=np.float64))
        self.segments = np.concatenate(pieces) if pieces else np.empty((0, 4))
        self.layer = np.concatenate(layers) if layers else np.empty(0)
        self.work = np.array([LAYERS[name].work for name in names])[self.layer.astype(int)]

    def crossing(self, x0: float, y0: float, x1: float, y1: float) -> Any:
        """Which segments touch a rectangle (clipped as Liang and Barsky do)."""
        a = self.segments
        dx, dy = a[:, 2] - a[:, 0], a[:, 3] - a[:, 1]
        low, high = np.zeros(len(a)), np.ones(len(a))
        outside = np.zeros(len(a), dtype=bool)
        for d, start, least, most in ((dx, a[:, 0], x0, x1), (dy, a[:, 1], y0, y1)):
            level = d == 0
            outside |= level & ((start < least) | (start > most))
            with np.errstate(divide="ignore", invalid="ignore"):
                one, two = (least - start) / d, (most - start) / d
            low = np.where(level, low, np.maximum(low, np.minimum(one, two)))
            high = np.where(level, high, np.minimum(high, np.maximum(one, two)))
        return ~outside & (low <= high)

    def of(self, chosen: Any) -> Iterator[tuple[str, Floats]]:
        """(layer, segments (n, 2, 2)) of the chosen segments."""
        for k, name in enumerate(LAYERS):
            found = self.segments[chosen & (self.layer == k)]
            if len(found):
                yield name, found.reshape(-1, 2, 2)


def tiling(drawing: Drawing, sheet: Sheet) -> Tiling:
    """The pages a drawing needs, upright or across, whichever are fewer."""
    ink = Ink(drawing.entities)
    return min((_grid(drawing, ink, sheet, way) for way in (False, True)), key=lambda t: (len(t.tiles), t.landscape))


def _grid(drawing: Drawing, ink: Ink, sheet: Sheet, landscape: bool) -> Tiling:
    room = sheet.room(landscape)
    step = (room[0] - OVERLAP, room[1] - OVERLAP)
    x0, y0, x1, y1 = extent(drawing.entities)
    columns, rows = max(1, ceil((x1 - x0) / step[0])), max(1, ceil((y1 - y0) / step[1]))
    left = (x0 + x1 - columns * step[0]) / 2
    low = (y0 + y1 - rows * step[1]) / 2
    tiles = []
    work = ink.work
    for j in range(rows):
        for i in range(columns):
            x, y = left + i * step[0], low + (rows - 1 - j) * step[1]
            if (ink.crossing(x, y, x + step[0], y + step[1]) & work).any():
                tiles.append(Tile(f"{_letters(i)}{j + 1}", i, j, x, y))
    return Tiling(landscape, step, tuple(tiles), columns, rows)


def _letters(n: int) -> str:
    word = ""
    n += 1
    while n:
        n, rest = divmod(n - 1, 26)
        word = chr(65 + rest) + word
    return word


# --- a page --------------------------------------------------------------------------------------------------


class Page:
    """One page, drawn in millimetres from its lower left corner."""

    def __init__(self, sheet: Sheet, landscape: bool = False) -> None:
        from matplotlib.figure import Figure
        from matplotlib.transforms import Affine2D

        self.width, self.height = sheet.size(landscape)
        self.figure = Figure(figsize=(self.width / 25.4, self.height / 25.4))
        self.figure.patch.set_visible(False)
        self._mm = Affine2D().scale(1 / 25.4) + self.figure.dpi_scale_trans
        self.clip: tuple[float, float, float, float] | None = None

    def _add(self, artist: Any) -> None:
        artist.set_transform(self._mm)
        self.figure.add_artist(artist)
        if self.clip is not None:
            from matplotlib.transforms import Bbox, TransformedBbox

            artist.set_clip_box(TransformedBbox(Bbox.from_extents(*self.clip), self._mm))

    def lines(self, pieces: Any, *, width: float = 0.5, colour: str = INK, dash: str = "-") -> None:
        """Polylines of one kind, each (n, 2); as one path, pieces that go on where the last one ended joined to it."""
        from matplotlib.patches import PathPatch
        from matplotlib.path import Path

        arrays = [np.asarray(piece, dtype=np.float64) for piece in pieces]
        points = np.concatenate(arrays)
        codes = np.full(len(points), Path.LINETO, dtype=np.uint8)
        starts = np.cumsum([0, *(len(a) for a in arrays[:-1])])
        codes[starts] = Path.MOVETO
        follows = starts[1:][(points[starts[1:]] == points[starts[1:] - 1]).all(axis=1)]
        keep = np.ones(len(points), dtype=bool)
        keep[follows] = False
        self._add(
            PathPatch(
                Path(points[keep], codes[keep]), fill=False, linewidth=width, edgecolor=colour, linestyle=DASHES[dash],
                capstyle="butt", joinstyle="miter",
            )
        )  # fmt: skip

    def box(self, x: float, y: float, w: float, h: float, fill: str, edge: str = INK, width: float = 0.4) -> None:
        """A filled rectangle."""
        from matplotlib.patches import Polygon

        corners = [(x, y), (x + w, y), (x + w, y + h), (x, y + h)]
        self._add(Polygon(corners, closed=True, facecolor=fill, edgecolor=edge, linewidth=width))

    def text(
        self, x: float, y: float, words: str, size: float = 8.0, *, across: Any = "left", turn: float = 0.0,
        bold: bool = False, colour: str = INK, up: Any = "center", back: bool = False,
    ) -> None:  # fmt: skip
        """Lettering of `size` points; `turn` in degrees; `back` clears the paper behind it."""
        from matplotlib.text import Text

        shown = printable(words)
        if shown:
            self._add(
                Text(x, y, shown, fontsize=size, fontfamily=FONT, horizontalalignment=across, verticalalignment=up,
                     rotation=turn, rotation_mode="anchor", fontweight="bold" if bold else "normal", color=colour,
                     parse_math=False,
                     bbox={"facecolor": "#ffffff", "edgecolor": "none", "pad": 0.6} if back else None)
            )  # fmt: skip


_known: set[int] = set()


def printable(words: str) -> str:
    """The words with what the lettering has no sign for shown as a box."""
    if not _known:
        from matplotlib.font_manager import findfont, get_font

        _known.update(get_font(findfont(FONT)).get_charmap())
    return "".join(c if ord(c) in _known else "\N{WHITE SQUARE}" for c in plain_spaced(words))


def plain_spaced(words: str) -> str:
    """Printable characters with their blanks kept, for tables."""
    return "".join(c if c.isprintable() else " " for c in unmarked(words))


def scale_bar(page: Page, sheet: Sheet) -> None:
    """The bar to measure at the foot: 100 mm, or 4 in."""
    long, part, words = (100.0, 10.0, "100 mm") if sheet.system == "metric" else (101.6, 12.7, "4 in")
    x, y = MARGIN, MARGIN + 1.0
    page.lines([[(x, y), (x + long, y)]], width=0.8)
    n = round(long / part)
    page.lines(
        [[(x + k * part, y), (x + k * part, y + (4.0 if k in (0, n) else 2.2))] for k in range(n + 1)], width=0.5
    )
    page.text(
        x,
        y + 6.4,
        f"Measure this bar: exactly {words} from end mark to end mark. If not, print again at 100 %, without fitting.",
        6.0,
    )


def _foot(page: Page, sheet: Sheet, words: str) -> None:
    scale_bar(page, sheet)
    page.text(page.width - MARGIN, MARGIN + 1.0, words, 7.0, across="right")
    if sheet.project:
        room = floor((page.width - 2 * MARGIN - 107.0) / (LETTER * 6))
        page.text(page.width - MARGIN, MARGIN + 4.0, _cut(sheet.project, room), 6.0, across="right", colour=GREY)


def _cut(words: str, most: int) -> str:
    words = plain(words)
    return words if len(words) <= most else words[: max(most - 1, 1)] + "…"


# --- drawing entities on a page --------------------------------------------------------------------------------


def _draw(
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
        elif isinstance(entity, Label):
            ((x, y),) = place(np.array([[entity.x, entity.y]]))
            points = min(entity.height * scale, 3.0) / POINT / 0.73
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
    if not _inside(page, *middle):
        return
    if d.upright:
        page.text(middle[0] - 0.9, middle[1], d.text, size, across="center", turn=90.0, up="bottom", back=span < wide)
    else:
        page.text(middle[0], middle[1] + 0.9, d.text, size, across="center", up="bottom", back=span < wide)


def _picture(
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

    ink = Ink(entities)
    shown = list(entities) if scale >= 0.45 else _overall(entities, scale)
    _draw(page, shown, ink, np.ones(len(ink.segments), dtype=bool), place, size=5.5, scale=scale)
    if tiles is not None:
        for t in tiles.tiles:
            (a, b), (c, d) = place(np.array([[t.x, t.y], [t.x + tiles.step[0], t.y + tiles.step[1]]]))
            page.lines([[(a, b), (c, b), (c, d), (a, d), (a, b)]], width=0.3, colour=GREY, dash="--")
            page.text((a + c) / 2, d - 1.8, t.name, 5.0, across="center", colour=GREY)
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


# --- documents ----------------------------------------------------------------------------------------------


class Flow:
    """Pages filled from the top, a new one when there is no more room."""

    def __init__(self, sheet: Sheet, title: str, under: str = "") -> None:
        self.sheet = sheet
        self.pages: list[Page] = []
        self.title = plain(title)
        self.left, self.room = MARGIN, sheet.room(False)[0]
        self._next()
        page = self.page
        page.text(self.left, self.y - 2.5, _cut(self.title, floor(self.room / (LETTER * 13))), 13.0, bold=True)
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
        scale, used = _picture(self.page, entities, self.left, top, self.room, room, tiles, most)
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
    _draw(page, drawing.entities, ink, chosen, place, size=6.5, scale=1.0)
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
    name = _cut(drawing.id, 24)
    return write_pdf(
        ((make, f"{name}: {words}") for make, words in pages), sheet, f"{drawing.id} {drawing.title}", len(pages)
    )


def write_pdf(pages: Any, sheet: Sheet, title: str, count: int) -> bytes:
    """Pages as one PDF with feet numbered; the same bytes for the same pages."""
    import matplotlib as mpl
    from matplotlib.backends.backend_pdf import PdfPages

    about = {"Title": plain(title), "Creator": "jointcalc", "Producer": "jointcalc", "CreationDate": None}
    out = io.BytesIO()
    style = {"pdf.fonttype": 42, "path.simplify": False, "agg.path.chunksize": 0, "pdf.compression": 6}
    with mpl.rc_context(style), PdfPages(out, metadata=about) as pdf:
        for n, (make, words) in enumerate(pages):
            page = make()
            _foot(page, sheet, f"{words}page {n + 1} of {count}")
            pdf.savefig(page.figure)
    return out.getvalue()


__all__ = ["PAPERS", "Detail", "Flow", "Ink", "Page", "Sheet", "Tile", "Tiling", "item_pdf", "tiling", "write_pdf"]
