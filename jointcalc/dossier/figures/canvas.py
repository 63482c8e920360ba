"""A sheet of paper to draw on, in millimetres, in one house style.

Lines are told apart by width and dash, areas by hatch, and colour (a palette that colour-blind eyes
tell apart) only repeats it, so that a drawing survives a black-and-white printer.  The SVG is the
same for the same drawing: no dates, no random names, and its text stays text.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from html import escape
from math import cos, degrees, hypot, pi, sin
from typing import Any, Literal

from jointcalc.dossier.figures.hatch import hatch_lines
from jointcalc.dossier.words import breakable, clean
from jointcalc.layout.drawing import Across, Dim, Entity, Label, Leader, strokes
from jointcalc.quantity.show import System
from jointcalc.quantity.show import show as show_plain

WIDTH = 170.0
"""Width of every figure [mm]: the text width of both papers holds it."""

INK = "#000000"
GREY = "#707070"
PALE = "#dcdcdc"
BLUE = "#0072b2"
RED = "#d55e00"
STATUS = {"ok": BLUE, "over": RED, "outside": GREY, "info": GREY}
HATCH = {"ok": "", "over": "//////", "outside": "||||", "info": "||||"}

BOLD_LINE, LINE, THIN_LINE = 1.1, 0.6, 0.35  # points
TEXT = 8.0
"""Size of the lettering [points]."""

Up = Literal["bottom", "center", "top"]

FONT = "DejaVu Sans Mono"
"""Comes with the typesetting library; every letter is as wide as any other."""

CHARACTER = 0.602 * 25.4 / 72
"""Width of one letter per point of size [mm]: the lettering is of one width."""

MM = 72 / 25.4
ANCHOR = {"left": "start", "center": "middle", "right": "end"}
DASHES: dict[str, tuple[float, ...]] = {"-": (), "--": (3.7, 1.6), ":": (1.0, 1.65), "-.": (6.4, 1.6, 1.0, 1.6)}

METRIC_BARS = (2000.0, 1000.0, 500.0, 200.0, 100.0, 50.0, 20.0, 10.0, 5.0, 2.0)
INCH_BARS = (96.0, 48.0, 24.0, 12.0, 6.0, 2.0, 1.0, 0.5, 0.25, 0.125)
LONGEST_BAR = 42.0
"""Bars under the drawings: round lengths, and the longest on paper [mm]."""

SCALES = (20.0, 10.0, 5.0, 2.0, 1.0, 1 / 2, 1 / 5, 1 / 10, 1 / 20, 1 / 50, 1 / 100, 1 / 200, 1 / 500)


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing ready to be set: SVG, the words for those who cannot see it, the line under it.

    It may be set at any size up to its own; what tells its scale are the bars in it.
    """

    svg: bytes
    alt: str
    caption: str
    height: float


def scale_for(size: float, room: float) -> float:
    """The largest drawing scale of the usual row at which `size` [mm] fits into `room` [mm]."""
    return next((s for s in SCALES if size * s <= room), room / size if size > 0 else 1.0)


def show(value: float, kind: str, system: System) -> str:
    """A quantity as lettering."""
    return show_plain(value, kind, system).replace("*", "·")


def text_width(text: str, size: float = TEXT) -> float:
    """Width of a line of lettering [mm]."""
    return len(text) * CHARACTER * size


class Canvas:
    """Draws in millimetres from the lower left corner."""

    def __init__(self, height: float, width: float = WIDTH) -> None:
        self.width, self.height = width, height
        self._sides = [width, 0.0]
        """Left and right end of all that is drawn [mm]."""
        self._made: list[str] = []
        self._over: list[str] = []
        """Lettering, over all lines."""

    def _path(self, pieces: Iterable[Sequence[tuple[float, float]]], closed: bool, style: str) -> None:
        high = self.height
        pieces = [list(piece) for piece in pieces]
        self._reach(*(x for piece in pieces for x, _ in piece))
        end = " z" if closed else ""
        way = " ".join(
            "M " + " L ".join(f"{_pt(x)} {_pt(high - y)}" for x, y in piece) + end for piece in pieces if len(piece)
        )
        if way:
            self._made.append(f'<path d="{way}" style="{style}"/>')

    def _reach(self, *xs: float) -> None:
        if xs:
            self._sides = [min(self._sides[0], *xs), max(self._sides[1], *xs)]

    def line(
        self, points: Iterable[tuple[float, float]], *, width: float = LINE, colour: str = INK, dash: str = "-"
    ) -> None:
        """A polyline; `dash` is `-`, `--`, `:` or `-.`."""
        self.lines([list(points)], width=width, colour=colour, dash=dash)

    def lines(
        self,
        pieces: Sequence[Sequence[tuple[float, float]]],
        *,
        width: float = LINE,
        colour: str = INK,
        dash: str = "-",
    ) -> None:
        """Many polylines of one kind."""
        self._path(pieces, False, f"fill: none; {_stroke(colour, width, dash)}; stroke-linecap: round")

    def area(
        self, points: Iterable[tuple[float, float]], *, fill: str = "none", edge: str = INK, width: float = LINE,
        hatch: str = "", dash: str = "-",
    ) -> None:  # fmt: skip
        """A closed polygon."""
        corners = list(points)
        if hatch:
            if fill != "none":
                self._path([corners], True, f"fill: {fill}; stroke: none")
            self._path(hatch_lines(corners, hatch), False, f"fill: none; {_stroke(edge, 0.35, '-')}")
            fill = "none"
        self._path([corners], True, f"fill: {fill}; {_stroke(edge, width, dash)}")

    def box(self, x: float, y: float, w: float, h: float, **style: Any) -> None:
        """A rectangle from its lower left corner."""
        self.area([(x, y), (x + w, y), (x + w, y + h), (x, y + h)], **style)

    def circles(
        self, centres: Iterable[tuple[float, float]], radius: float, *, fill: str = "none", edge: str = INK,
        width: float = LINE,
    ) -> None:  # fmt: skip
        """Equal circles."""
        for x, y in centres:
            self.ellipse(x, y, 2 * radius, 2 * radius, fill=fill, edge=edge, width=width)

    def stadium(self, x: float, y: float, long: float, wide: float, *, fill: str = PALE) -> None:
        """A slot of over-all length `long` along x and width `wide`, about its centre."""
        half, r = (long - wide) / 2, wide / 2
        turn = [pi / 2 - i * pi / 12 for i in range(13)]
        right = [(x + half + r * cos(a), y + r * sin(a)) for a in turn]
        left = [(x - half - r * cos(a), y - r * sin(a)) for a in turn]
        self.area([*right, *left], fill=fill)

    def ellipse(
        self, x: float, y: float, w: float, h: float, *, fill: str = INK, edge: str = INK, width: float = THIN_LINE
    ) -> None:
        """An upright ellipse about its centre."""
        self._reach(x - w / 2, x + w / 2)
        self._made.append(
            f'<ellipse cx="{_pt(x)}" cy="{_pt(self.height - y)}" rx="{_pt(w / 2)}" ry="{_pt(h / 2)}" '
            f'style="fill: {fill}; {_stroke(edge, width, "-")}"/>'
        )

    def text(
        self, x: float, y: float, text: str, *, size: float = TEXT, across: Across = "center", up: Up = "center",
        colour: str = INK, turn: float = 0.0, bold: bool = False, back: bool = False,
    ) -> None:  # fmt: skip
        """Lettering; `back` clears the paper behind it."""
        shown = clean(text)
        if not shown:
            return
        w, h = text_width(shown, size), size * 25.4 / 72
        left = {"left": x, "center": x - w / 2, "right": x - w}[across]
        self._reach(*((x - h, x + h) if turn else (left, left + w)))
        if back:
            low = {"bottom": y, "center": y - h / 2, "top": y - h}[up]
            corner = f'x="{_pt(left - 0.3)}" y="{_pt(self.height - low - h - 0.2)}"'
            self._over.append(f'<rect {corner} width="{_pt(w + 0.6)}" height="{_pt(h + 0.4)}" style="fill: #ffffff"/>')
        # the base line under the middle of the capitals, over the tails, or under the capitals
        down = {"center": 0.36, "bottom": -0.15, "top": 0.8}[up] * size
        style = (
            f"font-size: {size:g}px; font-family: '{FONT}', monospace; text-anchor: {ANCHOR[across]}; fill: {colour}"
            + ("; font-weight: bold" if bold else "")
        )
        at = f'x="{_pt(x)}" y="{_pt(self.height - y, down)}"'
        if turn:
            at = f'transform="translate({_pt(x)} {_pt(self.height - y)}) rotate({-turn:g}) translate(0 {down:.3f})"'
        self._over.append(f'<text {at} style="{style}">{escape(shown, quote=False)}</text>')

    def tip(self, x: float, y: float, dx: float, dy: float, *, size: float = 1.8, colour: str = INK) -> None:
        """A filled arrow head at (x, y) that points along (dx, dy)."""
        length = hypot(dx, dy) or 1.0
        u, v = dx / length, dy / length
        back_x, back_y = x - size * u, y - size * v
        half = size * 0.19
        self.area([(x, y), (back_x - half * v, back_y + half * u), (back_x + half * v, back_y - half * u)],
                  fill=colour, edge=colour, width=0.1)  # fmt: skip

    def arrow(
        self, start: tuple[float, float], end: tuple[float, float], *, width: float = BOLD_LINE, colour: str = INK,
        head: float = 2.6,
    ) -> None:  # fmt: skip
        """A force arrow."""
        self.line([start, end], width=width, colour=colour)
        self.tip(*end, end[0] - start[0], end[1] - start[1], size=head, colour=colour)

    def across(
        self, x1: float, x2: float, y: float, text: str, *, of: float | None = None, beside: str = "right"
    ) -> None:
        """A horizontal dimension at height `y`; `of` is the height of what is measured.

        Text that does not fit between the arrows stands `beside` them.
        """
        if of is not None:
            side = 1 if y >= of else -1
            gap = 0.8 * side
            self.lines([[(x, of + gap), (x, y + 1.2 * side)] for x in (x1, x2)], width=THIN_LINE)
        wide = abs(x2 - x1)
        if wide >= text_width(text) + 1.0:
            self.line([(x1, y), (x2, y)], width=THIN_LINE)
            for x, way in ((x1, -1.0), (x2, 1.0)):
                self.tip(x, y, way if wide > 4.5 else -way, 0)
            self.text((x1 + x2) / 2, y + 0.7, text, up="bottom")
            return
        if wide > 4.5:
            self.line([(x1, y), (x2, y)], width=THIN_LINE)
            self.tip(x1, y, -1, 0)
            self.tip(x2, y, 1, 0)
        else:
            self.line([(x1 - 3.5, y), (x2 + 3.5, y)], width=THIN_LINE)
            self.tip(x1, y, 1, 0)
            self.tip(x2, y, -1, 0)
        wide_text = text_width(text)
        fits_left = x1 - 4.2 - wide_text >= 0
        if x2 + 4.2 + wide_text <= self.width and not (beside == "left" and fits_left):
            self.text(x2 + 4.2, y, text, across="left", back=True)
        else:
            self.text(x1 - 4.2, y, text, across="right", back=True)

    def upright(self, x: float, y1: float, y2: float, text: str, *, of: float | None = None) -> None:
        """A vertical dimension at `x`; its text stands beside it, away from what is measured."""
        side = 1 if of is None or x >= of else -1
        if of is not None:
            self.lines([[(of + 0.8 * side, y), (x + 1.2 * side, y)] for y in (y1, y2)], width=THIN_LINE)
        tall = abs(y2 - y1)
        low, high = min(y1, y2), max(y1, y2)
        if tall > 4.5:
            self.line([(x, low), (x, high)], width=THIN_LINE)
            self.tip(x, low, 0, -1)
            self.tip(x, high, 0, 1)
        else:
            self.line([(x, low - 3.0), (x, high + 3.0)], width=THIN_LINE)
            self.tip(x, low, 0, 1)
            self.tip(x, high, 0, -1)
        self.text(x + 1.6 * side, (low + high) / 2, text, across="left" if side > 0 else "right")

    def drawn(self, entities: Iterable[Entity], at: Callable[[float, float], tuple[float, float]], unit: str) -> None:
        """Dimensions, leaders and lettering of a drawing of the layout; `at` maps its places to the paper."""
        for one in entities:
            if isinstance(one, Dim):
                (x1, y1), (x2, y2) = at(one.x1, one.y1), at(one.x2, one.y2)
                text = f"{one.text} {unit}".strip()
                if one.upright:
                    self.upright(at(one.at, one.y1)[0], y1, y2, text, of=x1)
                else:
                    self.across(min(x1, x2), max(x1, x2), at(one.x1, one.at)[1], text, of=y1)
            elif isinstance(one, Leader):
                tip, end = at(one.x1, one.y1), at(one.x2, one.y2)
                self.line([tip, end], width=THIN_LINE)
                self.tip(*tip, tip[0] - end[0], tip[1] - end[1])
                gap = 0.8 if one.across == "left" else -0.8
                self.text(end[0] + gap, end[1], f"{one.text} {unit}".strip(), across=one.across, back=True)
            elif isinstance(one, Label):
                self.text(*at(one.x, one.y), one.text, across=one.across, turn=degrees(one.turn))
            else:
                for _, points in strokes(one):
                    self.line([at(x, y) for x, y in points], width=THIN_LINE)

    def _bars(self, scales: Sequence[tuple[str, float]], system: System) -> None:
        """Bars of a round length below the drawing, for whoever measures in a copy."""
        unit, steps = (1.0, METRIC_BARS) if system == "metric" else (25.4, INCH_BARS)
        x, y = max(min(self._sides[0], self.width - 70.0), 0.0), -3.6
        for word, scale in scales:
            long = next((s for s in steps if s * unit * scale <= LONGEST_BAR), steps[-1])
            size = long * unit * scale / 4
            for k in range(4):
                self.box(x + k * size, y, size, 1.2, fill="#000000" if k % 2 == 0 else "#ffffff", width=THIN_LINE)
            text = f"{show(long * unit, 'length', system)} {word}".strip()
            self.text(x + 4 * size + 1.2, y + 0.6, text, across="left")
            x += 4 * size + text_width(text) + 9.0

    def picture(
        self, alt: str, caption: str, *, scales: Sequence[tuple[str, float]] = (), system: System = "metric"
    ) -> Picture:
        """The drawing as SVG; `scales` are views to scale (word, scale) that get a bar each, in a strip below."""
        if scales:
            self._bars(scales, system)
        high = self.height + (5.0 if scales else 0.0)
        # no wider than what is drawn: a page or a screen then has room to show it large
        left, right = max(self._sides[0] - 1.0, 0.0), min(self._sides[1] + 1.0, self.width)
        x, w, h = _pt(left), _pt(max(right - left, 1.0)), _pt(high)
        svg = (
            f'<svg xmlns="http://www.w3.org/2000/svg" version="1.1" width="{w}pt" height="{h}pt" '
            f'viewBox="{x} 0 {w} {h}">\n' + "\n".join([*self._made, *self._over]) + "\n</svg>\n"
        )
        return Picture(svg.encode("utf-8"), clean(alt), breakable(caption), high)


def _pt(value: float, more: float = 0.0) -> str:
    """Millimetres in points."""
    return f"{value * MM + more:.4f}".rstrip("0").rstrip(".")


def _stroke(colour: str, width: float, dash: str) -> str:
    if colour == "none" or width <= 0:
        return "stroke: none"
    gaps = DASHES[dash]
    dashes = f"; stroke-dasharray: {' '.join(f'{max(width, 0.5) * g:g}' for g in gaps)}" if gaps else ""
    return f"stroke: {colour}; stroke-width: {width:g}; stroke-linejoin: round{dashes}"
