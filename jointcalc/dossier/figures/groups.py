"""Groups of welds and fasteners in plan, to scale: the load, the centroid and where the peak is."""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot
from typing import TYPE_CHECKING

from jointcalc.dossier.figures.canvas import (
    BLUE,
    BOLD_LINE,
    GREY,
    RED,
    TEXT,
    THIN_LINE,
    WIDTH,
    Canvas,
    Picture,
    scale_for,
    show,
    text_width,
)
from jointcalc.layout.drawing import Across
from jointcalc.layout.symbols import HIGH, drawn, symbol_of, symbol_width
from jointcalc.quantity.show import System
from jointcalc.result import Result

if TYPE_CHECKING:
    from jointcalc.model.fillet import FilletGroup

TALLEST = 56.0
"""Height of a group on the paper at most [mm]: set at three quarters, as a page sets it, it is read and leaves room."""
MARGIN = 26.0
NEAR = 3.0
"""A load farther away than this many sizes of the group is drawn at its edge, with its place in words."""

Point = tuple[float, float]


BETWEEN = (1 / 1.5, 1 / 2.5, 1 / 3, 1 / 4, 1 / 7.5, 1 / 15, 1 / 30, 1 / 40)
"""Scales between the usual ones: a bar tells them; holes at 1 : 5, where 1 : 2 is a little too large, are not read."""


def _scale(size: float, room: float) -> float:
    return max([scale_for(size, room), *(s for s in BETWEEN if size * s <= room)])


class View:
    """The group's plane on the paper."""

    def __init__(self, points: Sequence[Point], load: Point | None, beside: Sequence[Point] = ()) -> None:
        xs, ys = [p[0] for p in points], [p[1] for p in points]
        size = max(max(xs) - min(xs), max(ys) - min(ys)) or 20.0
        middle = ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
        self.far = load is not None and hypot(load[0] - middle[0], load[1] - middle[1]) > NEAR * size
        self.load: Point | None = load
        if load is not None and self.far:
            away = hypot(load[0] - middle[0], load[1] - middle[1])
            share = 0.9 * size / away
            self.load = (middle[0] + (load[0] - middle[0]) * share, middle[1] + (load[1] - middle[1]) * share)
        if self.load is not None:
            xs, ys = [*xs, self.load[0]], [*ys, self.load[1]]
        xs, ys = [*xs, *(p[0] for p in beside)], [*ys, *(p[1] for p in beside)]
        self.own = (min(p[0] for p in points), max(p[0] for p in points), min(p[1] for p in points),
                    max(p[1] for p in points))  # fmt: skip
        wide, high = max(max(xs) - min(xs), 1.0), max(max(ys) - min(ys), 1.0)
        self.scale = min(_scale(wide, WIDTH - 2 * MARGIN - 26), _scale(high, TALLEST), 2.0)
        self.canvas = Canvas(high * self.scale + MARGIN + 20)
        self._left, self._low = MARGIN + 12, MARGIN
        self._x, self._y = min(xs), min(ys)

    def at(self, x: float, y: float) -> Point:
        """A place of the group on the paper."""
        return self._left + (x - self._x) * self.scale, self._low + (y - self._y) * self.scale

    def frame(self, system: System) -> None:
        """Axes and over-all dimensions."""
        canvas = self.canvas
        x1, x2, y1, y2 = self.own
        left, low = self.at(x1, y1)
        right, high = self.at(x2, y2)
        if x2 - x1 > 1e-9:
            canvas.across(left, right, 12, show(x2 - x1, "length", system), of=low - 3)
        if y2 - y1 > 1e-9:
            canvas.upright(left - 12, low, high, show(y2 - y1, "length", system), of=left - 3)
        canvas.arrow((2, 3), (11, 3), width=THIN_LINE * 2, head=2)
        canvas.arrow((2, 3), (2, 12), width=THIN_LINE * 2, head=2)
        canvas.text(12, 3, "x", across="left")
        canvas.text(2, 14, "y")

    def force(self, force: Sequence[float], system: System) -> None:
        """The load as an arrow in the plane, a dot or cross for its part out of it."""
        if self.load is None:
            return
        canvas = self.canvas
        x, y = self.at(*self.load)
        whole = hypot(*force)
        # what rounding left of a nought is drawn as none
        f_x, f_y, f_z = (part if abs(part) > 1e-9 * whole else 0.0 for part in force)
        size = hypot(f_x, f_y)
        words = []
        side: Across = "left"
        if size > 0:
            end = (x + 14 * f_x / size, y + 14 * f_y / size)
            canvas.arrow((x, y), end, colour=RED)
            words.append(show(size, "force", system))
            side = "left" if f_x >= 0 else "right"
            x, y = (x + end[0]) / 2, (y + end[1]) / 2  # beside the shaft: at the tip there may be a dimension
        at = self.at(*self.load)
        if f_z:
            canvas.circles([at], 1.7, fill="#ffffff", edge=RED, width=BOLD_LINE)
            if f_z > 0:
                canvas.circles([at], 0.5, fill=RED, edge=RED)
            else:
                canvas.lines([[(at[0] - 1.2, at[1] - 1.2), (at[0] + 1.2, at[1] + 1.2)],
                              [(at[0] - 1.2, at[1] + 1.2), (at[0] + 1.2, at[1] - 1.2)]], colour=RED)  # fmt: skip
            words.append(f"{show(abs(f_z), 'force', system)} {'out' if f_z > 0 else 'in'}")
        else:
            canvas.circles([at], 0.8, fill=RED, edge=RED)
        if size > 0 and abs(f_x) > abs(f_y):
            # beside the arrow's tip there may be a hole or a weld of the same row, and the peak is named 6 mm above it
            canvas.text(at[0], at[1] + 10.5, ", ".join(words), up="bottom", back=True, bold=True)
            return
        if size == 0:  # seen from its end: below it, so that it covers no neighbour
            canvas.text(at[0], at[1] - 3.0, ", ".join(words), up="top", back=True, bold=True)
            return
        gap = 2.5 if side == "left" else -2.5
        canvas.text(x + gap, y, ", ".join(words), across=side, back=True, bold=True)

    def mark(self, place: Point, text: str, *, clear: bool = False) -> None:
        """The peak: a ring, its number outside the group; `clear` of the upper right, where edges are dimensioned."""
        x, y = self.at(*place)
        x1, x2, y1, y2 = self.own
        middle = self.at((x1 + x2) / 2, (y1 + y2) / 2)
        right, up = x >= middle[0] - 1e-6, y >= middle[1] - 1e-6
        if clear and right and up and x - 5 > text_width(text):
            right = False
        end = (x + (5 if right else -5), y + (6 if up else -6))
        self.canvas.circles([(x, y)], 2.4, edge=RED, width=1.6)
        self.canvas.line([(x + (1.5 if right else -1.5), y + (1.9 if up else -1.9)), end], width=THIN_LINE, colour=GREY)
        side: Across = "left" if right else "right"
        if not right and end[0] < text_width(text):
            side = "left"
        self.canvas.text(*end, text, bold=True, across=side, up="bottom" if up else "top", back=True)

    def cross(self, place: Point) -> None:
        """The centroid."""
        x, y = self.at(*place)
        self.canvas.lines([[(x - 2, y), (x + 2, y)], [(x, y - 2), (x, y + 2)]], width=BOLD_LINE)


def spot_words(place: Sequence[float], system: System) -> str:
    """A place in words."""
    return ", ".join(f"{axis} {show(v, 'length', system)}" for axis, v in zip("xyz", place))


def load_words(
    force: Sequence[float] | None, at: Sequence[float] | None, moment: Sequence[float] | None, system: System
) -> str:
    """Force and moment in words."""
    words = []
    if force is not None and any(force):
        sizes = ", ".join(f"{axis} {show(v, 'force', system)}" for axis, v in zip("xyz", force))
        words.append("force " + sizes + (f" at {spot_words(at, system)}" if at is not None else ""))
    if moment is not None and any(moment):
        words.append("moment " + ", ".join(f"{axis} {show(v, 'moment', system)}" for axis, v in zip("xyz", moment)))
    return "; ".join(words)


def draw_welds(result: Result, system: System) -> list[Picture]:
    """Weld lines to scale with their share of the peak drawn beside them."""
    welds: FilletGroup = result.model
    group = welds.group
    elastic = group.elastic(welds.acting) if welds.loaded_by_itself else None
    rows = group.lines.tolist()
    ends = [(x, y) for x1, y1, x2, y2 in rows for x, y in ((x1, y1), (x2, y2))]
    load = (welds.at[0], welds.at[1]) if welds.at is not None and any(welds.force) else None
    view = View(ends, load)
    canvas = view.canvas
    if elastic is not None and len(rows) <= 60:
        shares = elastic.along(13)
        for i, (x1, y1, x2, y2) in enumerate(rows):
            a, b = view.at(x1, y1), view.at(x2, y2)
            long = hypot(b[0] - a[0], b[1] - a[1]) or 1.0
            left = (-(b[1] - a[1]) / long, (b[0] - a[0]) / long)
            line = [view.at(float(x), float(y)) for x, y in zip(shares.x[i], shares.y[i])]
            high = [8.0 * float(v) / elastic.peak if elastic.peak else 0.0 for v in shares.resultant[i]]
            over = [(x + left[0] * h, y + left[1] * h) for (x, y), h in zip(line, high)]
            canvas.area([*line, *reversed(over)], fill="#e4e4e4", edge=GREY, width=THIN_LINE)
    canvas.lines([[view.at(x1, y1), view.at(x2, y2)] for x1, y1, x2, y2 in rows], width=2.2, colour=BLUE)
    view.frame(system)
    symbol = symbol_of(welds, system)
    letters = HIGH / (TEXT / 72 * 25.4 * 0.729)
    knee = (WIDTH - symbol_width(symbol, letters) - 2, canvas.height - 7)
    middles = [view.at(x1 + 0.6 * (x2 - x1), y1 + 0.6 * (y2 - y1)) for x1, y1, x2, y2 in welds.lines]
    tip = min(middles, key=lambda p: hypot(knee[0] - p[0], knee[1] - p[1]))
    canvas.drawn(drawn(symbol, tip, knee, system, scale=letters), lambda x, y: (x, y), "")
    centre = group.sections()
    view.cross((centre.x, centre.y))
    if any(welds.force):
        view.force(welds.force, system)
    text = "no load given"
    if elastic is not None:
        text = f"peak {show(elastic.peak, 'line load', system)}"
        view.mark(elastic.peak_at, text)
        text = f"{text} at {spot_words(elastic.peak_at, system)}"
    loads = load_words(welds.force, welds.at, welds.moment, system)
    size = f"leg {show(welds.leg, 'length', system)}" if welds.leg is not None else ""
    throat = f"throat {show(welds.design_throat, 'length', system)}"
    word = "stitches" if welds.stitch is not None else "lines"
    far = " The point of action lies outside the drawing; its direction is true." if view.far else ""
    return [
        canvas.picture(
            f"{result.id}: {len(rows)} weld {word}, {', '.join(w for w in (size, throat) if w)}, total length "
            f"{show(float(group.lengths.sum()), 'length', system)}; {text}; "
            f"load {loads}. Welding symbol: {symbol.words}.",
            f"{result.id}: plan to scale. Thick: {word} of weld; grey: share of the peak along them; "
            f"cross: centroid. {size}, {throat}. Service load: {loads}.{far}".replace(". , ", ". "),
            scales=[("", view.scale)],
            system=system,
        )
    ]
