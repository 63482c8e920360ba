"""A sheet of paper to draw on, in millimetres, in one house style.

Lines are told apart by width and dash, areas by hatch, and colour (a palette that colour-blind eyes
tell apart) only repeats it, so that a drawing survives a black-and-white printer.  The SVG is the
same for the same drawing: no dates, no random names, and its text stays text.
"""

from __future__ import annotations

import io
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import ceil, hypot
from typing import Any, Literal

from jointcalc.dossier.words import breakable, clean
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
TEXT = 7.0
"""Size of the lettering [points]."""

Across = Literal["left", "center", "right"]
Up = Literal["bottom", "center", "top"]

FONT = "DejaVu Sans Mono"
"""Comes with both the drawing and the typesetting library, so that a line is as long in one as in the other."""

CHARACTER = 0.602 * 25.4 / 72
"""Width of one letter per point of size [mm]: the lettering is of one width."""

SCALES = (20.0, 10.0, 5.0, 2.0, 1.0, 1 / 2, 1 / 5, 1 / 10, 1 / 20, 1 / 50, 1 / 100, 1 / 200, 1 / 500)


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing ready to be set: SVG, the words for those who cannot see it, the line under it."""

    svg: bytes
    alt: str
    caption: str
    height: float


def scale_for(size: float, room: float) -> float:
    """The largest drawing scale of the usual row at which `size` [mm] fits into `room` [mm]."""
    return next((s for s in SCALES if size * s <= room), room / size if size > 0 else 1.0)


def scale_text(scale: float) -> str:
    """`1 : 5`, `2 : 1`."""
    if scale not in SCALES:
        return f"1 : {ceil(1 / scale)}" if scale < 1 else f"{scale:.3g} : 1"
    return f"{scale:.0f} : 1" if scale > 1 else f"1 : {1 / scale:.0f}"


def show(value: float, kind: str, system: System) -> str:
    """A quantity as lettering."""
    return show_plain(value, kind, system).replace("*", "·")


def text_width(text: str, size: float = TEXT) -> float:
    """Width of a line of lettering [mm]."""
    return len(text) * CHARACTER * size


class Canvas:
    """Draws in millimetres from the lower left corner."""

    def __init__(self, height: float, width: float = WIDTH) -> None:
        from matplotlib.figure import Figure
        from matplotlib.transforms import Affine2D

        self.width, self.height = width, height
        self._figure = Figure(figsize=(width / 25.4, height / 25.4))
        self._figure.patch.set_visible(False)
        self._place = Affine2D().scale(1 / 25.4) + self._figure.dpi_scale_trans

    def _add(self, artist: Any) -> None:
        artist.set_transform(self._place)
        self._figure.add_artist(artist)

    def line(
        self, points: Iterable[tuple[float, float]], *, width: float = LINE, colour: str = INK, dash: str = "-"
    ) -> None:
        """A polyline; `dash` is `-`, `--`, `:` or `-.`."""
        from matplotlib.lines import Line2D

        pairs = list(points)
        self._add(
            Line2D([x for x, _ in pairs], [y for _, y in pairs], linewidth=width, color=colour, linestyle=dash,
                   solid_capstyle="round", solid_joinstyle="round")
        )  # fmt: skip

    def lines(
        self,
        pieces: Sequence[Sequence[tuple[float, float]]],
        *,
        width: float = LINE,
        colour: str = INK,
        dash: str = "-",
    ) -> None:
        """Many polylines of one kind."""
        from matplotlib.collections import LineCollection

        if pieces:
            self._add(LineCollection(list(pieces), linewidths=width, colors=colour, linestyles=dash))

    def area(
        self, points: Iterable[tuple[float, float]], *, fill: str = "none", edge: str = INK, width: float = LINE,
        hatch: str = "", dash: str = "-",
    ) -> None:  # fmt: skip
        """A closed polygon."""
        import matplotlib as mpl
        from matplotlib.patches import Polygon

        with mpl.rc_context({"hatch.linewidth": 0.35}):
            self._add(
                Polygon(list(points), closed=True, facecolor=fill, edgecolor=edge, linewidth=width,
                        hatch=hatch or None, linestyle=dash)
            )  # fmt: skip

    def box(self, x: float, y: float, w: float, h: float, **style: Any) -> None:
        """A rectangle from its lower left corner."""
        self.area([(x, y), (x + w, y), (x + w, y + h), (x, y + h)], **style)

    def circles(
        self, centres: Iterable[tuple[float, float]], radius: float, *, fill: str = "none", edge: str = INK,
        width: float = LINE,
    ) -> None:  # fmt: skip
        """Equal circles."""
        from matplotlib.collections import PatchCollection
        from matplotlib.patches import Circle

        patches = [Circle(centre, radius) for centre in centres]
        if patches:
            self._add(PatchCollection(patches, facecolors=fill, edgecolors=edge, linewidths=width))

    def stadium(self, x: float, y: float, long: float, wide: float, *, fill: str = PALE) -> None:
        """A slot of over-all length `long` along x and width `wide`, about its centre."""
        from math import cos, pi, sin

        half, r = (long - wide) / 2, wide / 2
        turn = [pi / 2 - i * pi / 12 for i in range(13)]
        right = [(x + half + r * cos(a), y + r * sin(a)) for a in turn]
        left = [(x - half - r * cos(a), y - r * sin(a)) for a in turn]
        self.area([*right, *left], fill=fill)

    def ellipse(self, x: float, y: float, w: float, h: float, *, fill: str = INK, edge: str = INK) -> None:
        """An upright ellipse about its centre."""
        from matplotlib.patches import Ellipse

        self._add(Ellipse((x, y), w, h, facecolor=fill, edgecolor=edge, linewidth=THIN_LINE))

    def text(
        self, x: float, y: float, text: str, *, size: float = TEXT, across: Across = "center", up: Up = "center",
        colour: str = INK, turn: float = 0.0, bold: bool = False, back: bool = False,
    ) -> None:  # fmt: skip
        """Lettering; `back` clears the paper behind it."""
        from matplotlib.text import Text

        shown = clean(text)
        if not shown:
            return
        if back:
            w, h = text_width(shown, size), size * 25.4 / 72
            left = {"left": x, "center": x - w / 2, "right": x - w}[across]
            low = {"bottom": y, "center": y - h / 2, "top": y - h}[up]
            self.box(left - 0.3, low - 0.2, w + 0.6, h + 0.4, fill="#ffffff", edge="none", width=0)
        self._add(
            Text(x, y, shown, fontsize=size, horizontalalignment=across, verticalalignment=up, color=colour,
                 rotation=turn, fontweight="bold" if bold else "normal", fontfamily=FONT, parse_math=False)
        )  # fmt: skip

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
            self.text(x2 + 4.2, y, text, across="left")
        else:
            self.text(x1 - 4.2, y, text, across="right")

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

    def picture(self, alt: str, caption: str) -> Picture:
        """The drawing as SVG."""
        import matplotlib as mpl
        from matplotlib.backends.backend_svg import FigureCanvasSVG

        style = {
            "svg.fonttype": "none",
            "svg.hashsalt": "jointcalc",
            "hatch.linewidth": 0.35,
            "path.simplify": False,
        }
        out = io.BytesIO()
        with mpl.rc_context(style):
            FigureCanvasSVG(self._figure).print_svg(out, metadata={"Date": None, "Creator": None})
        return Picture(out.getvalue(), clean(alt), breakable(caption), self.height)
