"""Utilisation bars: how much of what is allowed is used, worst first."""

from __future__ import annotations

from collections.abc import Sequence

from jointcalc.dossier.figures.canvas import BOLD_LINE, HATCH, STATUS, THIN_LINE, WIDTH, Canvas, Picture, text_width
from jointcalc.dossier.words import short
from jointcalc.quantity.show import percent
from jointcalc.result import Result

FULL = 1.25
"""The scale ends at this utilisation; longer bars are broken off and carry their number."""

STEP = 4.6  # mm from bar to bar
WORD = {"ok": "holds", "over": "OVER", "outside": "NOT JUDGED"}


def draw_bars(results: Sequence[Result]) -> Picture:
    """One bar for each result, in the order given."""
    names = [short(r.id, 16) for r in results]
    left = max((text_width(name) for name in names), default=10.0) + 3
    right = WIDTH - 40
    one = left + (right - left) / FULL
    canvas = Canvas(STEP * len(results) + 8)
    top = canvas.height - 5
    for share in (0.0, 0.25, 0.5, 0.75, 1.0):
        x = left + (one - left) * share
        canvas.line([(x, top), (x, 1.5)], width=BOLD_LINE if share == 1 else THIN_LINE, dash="-" if share == 1 else ":")
        canvas.text(x, top + 0.6, f"{share:.0%}", up="bottom", size=7)
    said = []
    for n, (result, name) in enumerate(zip(results, names)):
        y = top - (n + 1) * STEP + 0.8
        canvas.text(left - 1.5, y + 1.5, name, across="right")
        used = result.worst.utilisation if result.worst is not None else None
        text = f"{percent(used)} {WORD[result.status]}" if used is not None else WORD[result.status]
        said.append(f"{name} {text}")
        size = min(used or 0.0, FULL)
        end = left + (one - left) * size
        fill = "#ffffff" if result.status == "over" else STATUS[result.status]
        if size > 0:
            canvas.box(left, y, end - left, 3.0, fill=fill, edge=STATUS[result.status], hatch=HATCH[result.status])
        if used is not None and used > FULL:
            canvas.line([(end - 3, y - 0.6), (end - 1.6, y + 3.6)], width=2.2, colour="#ffffff")
        canvas.text(right + 2, y + 1.5, text, across="left", bold=result.status != "ok")
    alt = "Utilisation of the items, worst first; 100 % is the limit: " + "; ".join(said) + "."
    return canvas.picture(alt, "Utilisation: required factor / factor there is. Solid: holds. Hatched: over its limit.")
