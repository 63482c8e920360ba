"""The plan of the floor: where the items are that carry a place, and the frame they stand in."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import hypot
from typing import Any

from jointcalc.dossier.figures.canvas import (
    GREY,
    INK,
    STATUS,
    TEXT,
    THIN_LINE,
    WIDTH,
    Canvas,
    Picture,
    show,
    text_width,
)
from jointcalc.dossier.words import short
from jointcalc.quantity.show import System
from jointcalc.result import Result

TALLEST = 130.0
"""Height of the drawing at most [mm], where it stands among words."""
MANY = 14
"""Items from which on the plan has a page of its own."""
PAGE = (245.0, 160.0), (176.0, 225.0)
"""Width and height of such a drawing [mm]: on a page that is turned, and on one that stands. Both papers hold it."""

DASH = {"ok": "-", "over": "--", "outside": ":"}
Box = tuple[float, float, float, float]
Point = tuple[float, float]


MOST_NAMED = 120
"""Items that are named by their id; when there are more, by their number in the order of their pages."""

PLAN_SCALES = [1 / n for n in (1, 2, 2.5, 5, 7.5, 10, 12.5, 15, 20, 25, 30, 40, 50, 75, 100, 150, 200, 500)]
SAME = 0.05
"""A line as long as the side of a panel within this share is that side, or runs along it."""


def _scale(size: float, room: float) -> float:
    return next((s for s in PLAN_SCALES if size * s <= room), room / size)


@dataclass(frozen=True, slots=True)
class Around:
    """What stands round the items: a line with half its width in the plan, and what it is called [mm]."""

    name: str
    start: Point
    end: Point
    half: float


def around_of(givers: Iterable[Any]) -> list[Around]:
    """Rails, cross members and other members of the frames of a project that are no items of it."""
    found = []
    for giver in givers:
        solved = getattr(giver, "solved", None)
        for one in () if solved is None else solved.plan.laid:
            if one.item is None:
                (x1, y1), (x2, y2) = ((float(p[0]), float(p[1])) for p in (one.start, one.end))
                found.append(Around(one.id, (x1, y1), (x2, y2), float(one.half)))
    return found


def draw_plan(
    placed: Sequence[tuple[int, Result, tuple[float, ...]]], system: System, around: Sequence[Around] = (), *,
    paged: bool = False,
) -> Picture | None:  # fmt: skip
    """Items whose `place` is given, from (x1, y1) to (x2, y2) in the builder's axes; None when there is none.

    Each comes with its number in the list.  Items that hold are drawn solid, those that are over dashed
    and thick, those not judged dotted.  Members of the frame `around` them are drawn in their width, a panel as an area
    with its beads, and the outline round all of it with its sizes.  `paged` draws it as large as a page holds it.
    """
    if not placed:
        return None
    areas = {n: area for n, result, place in placed if (area := _area(result, place)) is not None}
    xs = [v for *_, place in placed for v in (place[0], place[2])]
    ys = [v for *_, place in placed for v in (place[1], place[3])]
    for corners in [*areas.values(), *(_band(one.start, one.end, one.half) for one in around)]:
        xs += [x for x, _ in corners]
        ys += [y for _, y in corners]
    wide, high = max(xs) - min(xs), max(ys) - min(ys)
    room = PAGE[0 if wide > high else 1] if paged else (WIDTH, TALLEST)
    scale = min(_scale(max(wide, 1.0), room[0] - 62), _scale(max(high, 1.0), room[1] - 38))
    canvas = Canvas(high * scale + 38, room[0])
    left, low = (room[0] - wide * scale) / 2, 25.0

    def at(x: float, y: float) -> tuple[float, float]:
        return left + (x - min(xs)) * scale, low + (y - min(ys)) * scale

    if wide > 0 and high > 0:
        canvas.box(left, low, wide * scale, high * scale, edge=GREY, width=THIN_LINE, dash="-.")
    for one in around:
        canvas.area([at(*p) for p in _band(one.start, one.end, one.half)], fill="#f0f0f0", edge=GREY, width=THIN_LINE)
    lines: list[Box] = []
    for n, result, place in placed:
        a, b = at(place[0], place[1]), at(place[2], place[3])
        width = 1.8 if result.status == "over" else 1.1
        colour, dash = STATUS[result.status], DASH[result.status]
        if n in areas:
            canvas.area([at(*p) for p in areas[n]], edge=colour, width=width, dash=dash)
            canvas.lines(
                [[at(*p) for p in line] for line in _bead_lines(result, areas[n])], width=THIN_LINE, colour=GREY
            )
        elif hypot(b[0] - a[0], b[1] - a[1]) < 0.6:
            canvas.circles([a], 1.1, fill=colour, edge=colour)
        else:
            canvas.line([a, b], width=width, colour=colour, dash=dash)
            canvas.circles([a, b], 0.5, fill="#000000", width=0.1)
            lines.append((*a, *b))
    named = len(placed) <= MOST_NAMED
    size = TEXT if named else 5.0
    labels = Labels(canvas, lines)
    for number, result, place in placed:
        name = short(result.id, 18) if named else str(number)
        ends = (*at(place[0], place[1]), *at(place[2], place[3]))
        labels.place(name, ends, size, bold=result.status != "ok", own=number not in areas)
    for one in around if named else ():
        labels.place(short(one.name, 18), (*at(*one.start), *at(*one.end)), TEXT - 1, colour=GREY, own=False)
    if wide > 0:
        canvas.across(left, left + wide * scale, 9, show(wide, "length", system), of=low - 5)
    if high > 0:
        canvas.upright(left + wide * scale + 11, low, low + high * scale, show(high, "length", system),
                       of=left + wide * scale + 5)  # fmt: skip
    corner = max(left - 22, 2.0)  # near the drawing: it is set no wider than what is drawn
    canvas.arrow((corner, 2), (corner + 10, 2), width=THIN_LINE * 2, head=2)
    canvas.arrow((corner, 2), (corner, 12), width=THIN_LINE * 2, head=2)
    canvas.text(corner + 11, 2, "x", across="left")
    canvas.text(corner, 14, "y")
    names = ", ".join(short(result.id, 40) for _, result, _ in placed)
    words = {"ok": "solid: holds", "over": "dashed, thick: over", "outside": "dotted: not judged"}
    used = [text for word, text in words.items() if any(r.status == word for _, r, _ in placed)]
    used += ["grey bands: members of the frame"] if around else []
    used += ["outlined areas with their beads: panels"] if areas else []
    numbers = "" if named else "; numbers: the items in the order of their pages"
    return canvas.picture(
        f"Plan to scale of the items with a place: {names}.",
        f"Plan to scale, x and y as the builder chose them ({'; '.join(used)}{numbers}).",
        scales=[("", scale)],
        system=system,
    )


def _band(start: Point, end: Point, half: float) -> list[Point]:
    """Corners of a strip of that half width along a line."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    long = hypot(dx, dy) or 1.0
    u, v = -dy / long * half, dx / long * half
    return [
        (start[0] + u, start[1] + v), (end[0] + u, end[1] + v), (end[0] - u, end[1] - v), (start[0] - u, start[1] - v)
    ]  # fmt: skip


def _area(result: Result, place: Sequence[float]) -> list[Point] | None:
    """Corners of a panel: its place is a line along its middle, as long as one side, or its diagonal; None else."""
    size = getattr(result.model, "size", None)
    if result.kind != "panel" or size is None:
        return None
    x1, y1, x2, y2 = place
    long = hypot(x2 - x1, y2 - y1)
    for side, other in (size, size[::-1]):
        if abs(long - side) <= SAME * side:
            return _band((x1, y1), (x2, y2), other / 2)
    wide, high = sorted((abs(x2 - x1), abs(y2 - y1)))
    if all(abs(a - b) <= SAME * b for a, b in zip((wide, high), sorted(size))):
        return [(x1, y1), (x2, y1), (x2, y2), (x1, y2)]
    return None


def _bead_lines(result: Result, corners: Sequence[Point]) -> list[list[Point]]:
    """Middles of the beads of a panel inside its four corners."""
    panel = result.model
    made = []
    (ax, ay), (bx, by), _, (dx, dy) = corners
    first, second = hypot(bx - ax, by - ay), hypot(dx - ax, dy - ay)
    for bead, places, long in (
        (panel.pattern, panel.bead_places, panel.along_beads), (panel.cross, panel.cross_places, panel.across_beads)
    ):  # fmt: skip
        if bead is None:
            continue
        stop = bead.ends[0]
        along_first = abs(long - first) <= abs(long - second)
        across = panel.across_beads if bead is panel.pattern else panel.along_beads
        for place in places:
            ends = [(stop / long, place / across), (1 - stop / long, place / across)]
            pairs = ends if along_first else [(v, u) for u, v in ends]
            made.append([(ax + u * (bx - ax) + v * (dx - ax), ay + u * (by - ay) + v * (dy - ay)) for u, v in pairs])
    return made


class Labels:
    """Names that keep clear of one another and of the lines, with a leader where they stand away from theirs."""

    def __init__(self, canvas: Canvas, lines: Sequence[Box]) -> None:
        self._canvas, self._lines = canvas, list(lines)
        self._taken: list[Box] = []
        self._leaders: list[Box] = []

    def place(
        self, name: str, line: Box, size: float, *, bold: bool = False, colour: str = INK,
        own: bool = True,
    ) -> None:  # fmt: skip
        """The name at the first of many spots where it covers no other name, no line and no leader.

        A name of an area (`own` false) may stand on its own line.
        """
        w, h = text_width(name, size) + 0.8, size * 25.4 / 72 + 0.5
        a, b = line[:2], line[2:]
        upright = abs(b[1] - a[1]) > abs(b[0] - a[0])
        best: tuple[float, Box, Point] | None = None
        for cost, box, at in self._spots(a, b, w, h, upright, own):
            leader = (*at, (box[0] + box[2]) / 2, (box[1] + box[3]) / 2)
            covered = cost + sum(30 * _shared(box, other) for other in self._taken)
            covered += sum(10 * _inside(box, one) for one in (*self._lines, *self._leaders))
            if _far(leader, w, h):
                # a leader crosses no name and few lines
                covered += sum(10 * _inside(other, leader) for other in self._taken)
                covered += sum(2.0 for one in self._leaders if _cross(one, leader))
            if best is None or covered < best[0] - 1e-9:
                best = (covered, box, at)
            if covered <= 1e-9:
                break
        assert best is not None
        _, box, at = best
        self._taken.append(box)
        cx, cy = (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
        if _far((*at, cx, cy), w, h):
            self._leaders.append((*at, cx, cy))
            self._canvas.line([at, (cx, cy)], width=THIN_LINE, colour=GREY)
            self._canvas.circles([at], 0.4, fill=GREY, edge=GREY)
        self._canvas.text(cx, cy, name, size=size, back=True, bold=bold, colour=colour)

    def _spots(
        self, a: Point, b: Point, w: float, h: float, upright: bool, own: bool
    ) -> Iterator[tuple[float, Box, Point]]:
        """(cost of itself, box, foot): near spots first."""
        seen = 0
        for away in (0.8, 2.5, 4.5, 7.0, 10.0, 14.0, 19.0, 25.0):
            for share in (0.5, 0.25, 0.75, 0.38, 0.62, 0.1, 0.9):
                for side in (1, -1):
                    x, y = a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])
                    cx, cy = (x + side * (away + w / 2), y) if upright else (x, y + side * (away + h / 2))
                    cx = min(max(cx, w / 2), self._canvas.width - w / 2)
                    cy = min(max(cy, 17 + h / 2), self._canvas.height - h / 2)
                    seen += 1
                    # farther is dearer, but covering anything is dearer still
                    yield 0.0 if seen <= 14 else 0.02 * away, (cx - w / 2, cy - h / 2, cx + w / 2, cy + h / 2), (x, y)
        if not own:
            for share in (0.5, 0.3, 0.7, 0.15, 0.85):
                x, y = a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])
                yield 0.5, (x - w / 2, y - h / 2, x + w / 2, y + h / 2), (x, y)


def _far(leader: Box, w: float, h: float) -> bool:
    """Whether a name stands so far from its foot that a line must show the way."""
    x, y, cx, cy = leader
    return abs(cx - x) > w / 2 + 3.0 or abs(cy - y) > h / 2 + 3.0


def _cross(one: Box, two: Box) -> bool:
    """Whether two lines cross."""

    def side(p: Point, q: Point, r: Point) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    a, b, c, d = one[:2], one[2:], two[:2], two[2:]
    return side(a, b, c) * side(a, b, d) < 0 and side(c, d, a) * side(c, d, b) < 0


def _inside(box: Box, line: Box) -> float:
    """Length of a line from (x1, y1) to (x2, y2) that runs through the box."""
    x, y, dx, dy = line[0], line[1], line[2] - line[0], line[3] - line[1]
    first, last = 0.0, 1.0
    for step, start, low, high in ((dx, x, box[0], box[2]), (dy, y, box[1], box[3])):
        if abs(step) < 1e-9:
            if not low < start < high:
                return 0.0
            continue
        near, far = sorted(((low - start) / step, (high - start) / step))
        first, last = max(first, near), min(last, far)
    return max(0.0, last - first) * hypot(dx, dy)


def _shared(a: Box, b: Box) -> float:
    wide = min(a[2], b[2]) - max(a[0], b[0])
    high = min(a[3], b[3]) - max(a[1], b[1])
    return max(wide, 0.0) * max(high, 0.0)
