"""Pages on paper at true size: lines and lettering in millimetres, the bar to measure, the foot, the PDF.

Every page carries a bar to measure: a printer that scales is found out before the sheet is.
Pages have exact sizes and carry no dates: the same drawing gives the same bytes.
"""

from __future__ import annotations

import io
from dataclasses import dataclass
from math import floor
from typing import Any

import numpy as np

from jointcalc.layout.words import plain
from jointcalc.marks import unmarked
from jointcalc.quantity.show import System

PAPERS = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
"""Paper -> width and height [mm] (ISO 216; ANSI Y14.1)."""
MARGIN = 10.0
"""Free edge [mm]: office printers leave some 4 to 6 mm white."""
FOOT = 15.0
"""Height of the strip with the scale bar [mm]."""
POINT = 25.4 / 72
FONT = "DejaVu Sans Mono"
"""Comes with the drawing library; every letter 0.602 of its size wide."""
LETTER = 0.602 * POINT
DASHES = {"-": "-", "--": (0, (4, 2)), "-.": (0, (6, 2, 1, 2)), ":": (0, (1, 2))}
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
        page.text(page.width - MARGIN, MARGIN + 4.0, shortened(sheet.project, room), 6.0, across="right", colour=GREY)


def shortened(words: str, most: int) -> str:
    """The words, cut off with an ellipsis where they are longer."""
    words = plain(words)
    return words if len(words) <= most else words[: max(most - 1, 1)] + "…"


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
