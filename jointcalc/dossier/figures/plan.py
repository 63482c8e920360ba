"""The plan of the floor: where the items are that carry a place."""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot

from jointcalc.dossier.figures.canvas import (
    GREY,
    STATUS,
    TEXT,
    THIN_LINE,
    WIDTH,
    Canvas,
    Picture,
    scale_text,
    show,
    text_width,
)
from jointcalc.dossier.words import short
from jointcalc.quantity.show import System
from jointcalc.result import Result

TALLEST = 190.0
"""Height of the drawing at most [mm]."""

DASH = {"ok": "-", "over": "--", "outside": ":"}
Box = tuple[float, float, float, float]


MOST_NAMED = 24
"""Items that are named by their id; when there are more, by their number in the list."""

PLAN_SCALES = (1.0, 1 / 2, 1 / 2.5, 1 / 5, *(1 / n for n in (7.5, 10, 15, 20, 25, 30, 40, 50, 75, 100, 150, 200, 500)))


def _scale(size: float, room: float) -> float:
    return next((s for s in PLAN_SCALES if size * s <= room), room / size)


def draw_plan(placed: Sequence[tuple[int, Result, tuple[float, ...]]], system: System) -> Picture | None:
    """The items of which a place is known, to scale; None when there is none.

    Each comes with its number in the list.  Items that hold are drawn solid, those that are over dashed
    and thick, those not judged dotted.
    """
    if not placed:
        return None
    xs = [v for *_, place in placed for v in (place[0], place[2])]
    ys = [v for *_, place in placed for v in (place[1], place[3])]
    wide, high = max(xs) - min(xs), max(ys) - min(ys)
    scale = min(_scale(max(wide, 1.0), WIDTH - 50), _scale(max(high, 1.0), TALLEST - 40))
    canvas = Canvas(high * scale + 40)
    left, low = (WIDTH - wide * scale) / 2, 26.0

    def at(x: float, y: float) -> tuple[float, float]:
        return left + (x - min(xs)) * scale, low + (y - min(ys)) * scale

    taken: list[Box] = []
    for _, result, place in placed:
        a, b = at(place[0], place[1]), at(place[2], place[3])
        width = 1.8 if result.status == "over" else 1.1
        if hypot(b[0] - a[0], b[1] - a[1]) < 0.6:
            canvas.circles([a], 1.1, fill=STATUS[result.status], edge=STATUS[result.status])
        else:
            canvas.line([a, b], width=width, colour=STATUS[result.status], dash=DASH[result.status])
            canvas.circles([a, b], 0.5, fill="#000000", width=0.1)
    named = len(placed) <= MOST_NAMED
    size = TEXT if named else 4.6
    # of many items there is no room beside every line
    lines = [(*at(p[0], p[1]), *at(p[2], p[3])) for *_, p in placed] if named else []
    for number, result, place in placed:
        name = short(result.id, 18) if named else str(number)
        _label(canvas, name, result.status != "ok", at(place[0], place[1]), at(place[2], place[3]), taken, lines, size)
    if wide > 0:
        canvas.across(left, left + wide * scale, 9, show(wide, "length", system), of=low - 5)
    if high > 0:
        canvas.upright(left + wide * scale + 11, low, low + high * scale, show(high, "length", system),
                       of=left + wide * scale + 5)  # fmt: skip
    canvas.arrow((2, 2), (12, 2), width=THIN_LINE * 2, head=2)
    canvas.arrow((2, 2), (2, 12), width=THIN_LINE * 2, head=2)
    canvas.text(13, 2, "x", across="left")
    canvas.text(2, 14, "y")
    names = ", ".join(short(result.id, 40) for _, result, _ in placed)
    words = {"ok": "solid: holds", "over": "dashed, thick: over", "outside": "dotted: not judged"}
    used = [text for word, text in words.items() if any(r.status == word for _, r, _ in placed)]
    numbers = "" if named else "; numbers as in the list"
    return canvas.picture(
        f"Plan to scale of the items with a place: {names}.",
        f"Plan {scale_text(scale)}, x and y as the builder chose them ({'; '.join(used)}{numbers}).",
    )


def _label(
    canvas: Canvas,
    name: str,
    bold: bool,
    a: tuple[float, float],
    b: tuple[float, float],
    taken: list[Box],
    lines: list[Box],
    size: float,
) -> None:
    """The name beside its line, at the first of many spots where it covers no other and no line."""
    w, h = text_width(name, size) + 0.8, size * 25.4 / 72 + 0.5
    upright = abs(b[1] - a[1]) > abs(b[0] - a[0])
    best: tuple[float, Box, tuple[float, float]] | None = None
    for away in (0.8, 2.5, 4.5, 7.0, 10.0, 14.0):
        for share in (0.5, 0.25, 0.75, 0.1, 0.9, 0.38, 0.62):
            for side in (1, -1):
                x, y = a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])
                cx, cy = (x + side * (away + w / 2), y) if upright else (x, y + side * (away + h / 2))
                cx = min(max(cx, w / 2), canvas.width - w / 2)
                cy = min(max(cy, h / 2), canvas.height - h / 2)
                box = (cx - w / 2, cy - h / 2, cx + w / 2, cy + h / 2)
                covered = sum(_shared(box, other) for other in taken) + sum(_inside(box, line) for line in lines)
                if best is None or covered < best[0] - 1e-9:
                    best = (covered, box, (x, y))
                if covered == 0:
                    break
            if best is not None and best[0] == 0:
                break
        if best is not None and best[0] == 0:
            break
    assert best is not None
    _, box, foot = best
    taken.append(box)
    cx, cy = (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
    if hypot(cx - foot[0], cy - foot[1]) > 3.5 + max(w, h) / 2:
        canvas.line([foot, (cx, cy)], width=THIN_LINE, colour=GREY)
    canvas.text(cx, cy, name, size=size, back=True, bold=bold)


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
