"""Loads of coupons over time, with their mean, their limit and what the handbook gives."""

from __future__ import annotations

from jointcalc.dossier.figures.canvas import LINE, THIN_LINE, WIDTH, Canvas, Picture, text_width
from jointcalc.dossier.words import short
from jointcalc.quantity.show import System, show_in
from jointcalc.result import Result
from jointcalc.show.coupons import lines_of, points_of

HIGH = 42.0
"""Height of the field [mm]."""
DASH = {"mean": "-", "90/95": "--", "handbook": ":"}


def draw_coupons(result: Result, system: System) -> Picture | None:
    """One set drawn; None where there are fewer than three loads, or all are the same."""
    points, level = points_of(result.model), lines_of(result)
    values = [y for _, y in points] + [value for _, value in level]
    if len(points) < 3 or max(values) - min(values) < 1e-9 * max(values):
        return None
    low, high = min(values), max(values)
    names = {words: f"{words} {show_in(value, 'N', system, 3)}" for words, value in level}
    right = WIDTH - max(text_width(name) for name in names.values()) - 4
    canvas = Canvas(HIGH + 8)

    def up(value: float) -> float:
        return 8 + (HIGH - 6) * (value - low) / (high - low)

    placed: list[float] = []
    for words, value in sorted(level, key=lambda one: one[1]):
        canvas.line([(4.0, up(value)), (right, up(value))], width=LINE, dash=DASH[words])
        # lettering of lines that lie close together stands one above the other
        y = max([up(value), *(other + 3.2 for other in placed)])
        placed.append(y)
        canvas.text(right + 2, y, names[words], across="left")
    last = max(x for x, _ in points) or 1.0
    for x, value in points:
        at = 8 + (right - 12) * x / last
        canvas.box(at - 0.7, up(value) - 0.7, 1.4, 1.4, fill="#000000")
    canvas.line([(4.0, 4.6), (right, 4.6)], width=THIN_LINE)
    group = result.model
    same = len({c.date for c in group.loaded}) < 2
    canvas.text((4 + right) / 2, 0.3, "order of the log" if same else group.dates, up="bottom", size=6)
    alt = f"Loads of {len(points)} coupons ({group.title}): {', '.join(names.values())}."
    return canvas.picture(
        alt, f"Coupons in the log: {short(group.title, 90)}. Solid: mean. Dashed: 90/95. Dotted: handbook."
    )
