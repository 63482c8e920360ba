"""Pages on paper at true size: lines and lettering in millimetres, the bar to measure, the foot, the PDF.

Every page carries a bar to measure: a printer that scales is found out before the sheet is.
Pages have exact sizes and carry no dates: the same drawing gives the same bytes.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from math import cos, floor, hypot, radians, sin
from typing import Any

import numpy as np

from jointcalc.layout.lettering import face
from jointcalc.layout.pdf import MM, Document, number
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
LETTER = 0.602 * POINT
"""Width of a letter per point of size: every one of DejaVu Sans Mono is as wide as any other."""
DASHES: dict[str, tuple[float, ...]] = {"-": (), "--": (4, 2), "-.": (6, 2, 1, 2), ":": (1, 2)}
CAPITAL = 0.729
"""Height of the capitals of that lettering per size."""
INK, GREY = "#000000", "#808080"
Box = tuple[float, float, float, float]


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
        self.width, self.height = sheet.size(landscape)
        self.marks: list[str] = []
        self.letters: tuple[set[str], set[str]] = (set(), set())
        self._clip: Box | None = None

    @property
    def clip(self) -> Box | None:
        """What is drawn is cut to this box: left, low, right, high [mm]."""
        return self._clip

    @clip.setter
    def clip(self, box: Box | None) -> None:
        if self._clip is not None:
            self.marks.append("Q")
        if box is not None:
            x0, y0, x1, y1 = (v * MM for v in box)
            self.marks.append(f"q {number(x0)} {number(y0)} {number(x1 - x0)} {number(y1 - y0)} re W n")
        self._clip = box

    def lines(self, pieces: Any, *, width: float = 0.5, colour: str = INK, dash: str = "-") -> None:
        """Polylines of one kind, each (n, 2); as one path, pieces that go on where the last one ended joined to it."""
        made = [f"{_colour(colour)} RG {number(width)} w {_dash(dash, width)} d"]
        last: tuple[float, float] | None = None
        for piece in pieces:
            points = (np.asarray(piece, dtype=np.float64) * MM).tolist()
            first = (points[0][0], points[0][1])
            if first != last:
                made.append(f"{first[0]:.6f} {first[1]:.6f} m")
            made += [f"{x:.6f} {y:.6f} l" for x, y in points[1:]]
            last = (points[-1][0], points[-1][1])
        self.marks += [*made, "S"]

    def box(self, x: float, y: float, w: float, h: float, fill: str, edge: str = INK, width: float = 0.4) -> None:
        """A filled rectangle; `edge` may be `none`."""
        paint = "f" if edge == "none" else f"{_colour(edge)} RG {number(width)} w [] 0 d B"
        before, _, last = paint.rpartition(" ")
        corner = " ".join(number(v * MM) for v in (x, y, w, h))
        self.marks.append(f"{before} {_colour(fill)} rg {corner} re {last}".strip())

    def arrow(self, tip: Any, way: Any, size: float = 2.0) -> None:
        """A filled arrow head at `tip` that points along `way`."""
        u, v = np.asarray(way, dtype=np.float64) / (hypot(*way) or 1.0)
        back, half = (tip[0] - size * u, tip[1] - size * v), 0.19 * size
        corners = (tip, (back[0] - half * v, back[1] + half * u), (back[0] + half * v, back[1] - half * u))
        path = " ".join(f"{number(x * MM)} {number(y * MM)} {'l' if k else 'm'}" for k, (x, y) in enumerate(corners))
        self.marks.append(f"0 0 0 rg {path} f")

    def text(
        self, x: float, y: float, words: str, size: float = 8.0, *, across: Any = "left", turn: float = 0.0,
        bold: bool = False, colour: str = INK, up: Any = "center", back: bool = False,
    ) -> None:  # fmt: skip
        """Lettering of `size` points; `turn` in degrees; `back` clears the paper behind it."""
        shown = printable(words)
        if not shown:
            return
        wide = len(shown) * LETTER * size
        along = {"left": 0.0, "center": -wide / 2, "right": -wide}[across]
        # the base line: under the middle of the capitals, over the tails, or under the capitals
        over = {"center": -0.365, "bottom": 0.12, "top": -0.8}[up] * size * POINT
        c, s = cos(radians(turn)), sin(radians(turn))
        if back:
            rim, low, high = 0.2, over - 0.12 * size * POINT, over + 0.8 * size * POINT
            corners = ((along - rim, low), (along + wide + rim, low), (along + wide + rim, high), (along - rim, high))
            at = [((x + a * c - b * s) * MM, (y + a * s + b * c) * MM) for a, b in corners]
            way = " ".join(f"{number(a)} {number(b)} {'l' if k else 'm'}" for k, (a, b) in enumerate(at))
            self.marks.append(f"1 1 1 rg {way} f")
        x, y = x + along * c - over * s, y + along * s + over * c
        self.letters[bold].update(shown)
        known = face(bold).glyphs
        signs = "".join(f"{known.get(ord(letter), 0):04X}" for letter in shown)
        matrix = " ".join(number(v) for v in (c, s, -s, c, x * MM, y * MM))
        self.marks.append(f"BT {_colour(colour)} rg /F{int(bold)} {number(size)} Tf {matrix} Tm <{signs}> Tj ET")


@cache
def _colour(colour: str) -> str:
    return " ".join(number(int(colour[k : k + 2], 16) / 255) for k in (1, 3, 5))


def _dash(dash: str, width: float) -> str:
    # gaps grow with the line, as a pen's would
    gaps = " ".join(number(v * max(width, 0.5)) for v in DASHES[dash])
    return f"[{gaps}] 0"


def printable(words: str) -> str:
    """The words with what the lettering has no sign for shown as a box."""
    known = face().glyphs
    return "".join(c if ord(c) in known else "\N{WHITE SQUARE}" for c in plain_spaced(words))


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
    made = Document((("Title", plain(title)), ("Creator", "jointcalc"), ("Producer", "jointcalc")))
    for n, (make, words) in enumerate(pages):
        page = make()
        _foot(page, sheet, f"{words}page {n + 1} of {count}")
        made.page(page.width, page.height, page.marks, page.letters)
    return made.bytes()
