"""A row of plug, slot or arc spot welds drawn to scale in the terminal."""

from __future__ import annotations

from jointcalc.model.plug import PlugRow
from jointcalc.quantity.show import System, show
from jointcalc.result import Result

GONE, WEAKEST = "x", "!"
LEAST_STEP = 2.0  # characters between welds that the eye still tells apart


def draw(result: Result, width: int, system: System) -> list[str]:
    """The row seen from the welded side; a part of it when all would run together."""
    row = result.model
    if not isinstance(row, PlugRow):
        return []
    room = max(30, min(width, 100) - 22)
    shown = row.length
    if row.along > 1 and room * row.actual_pitch / row.length < LEAST_STEP:
        shown = room * row.actual_pitch / LEAST_STEP
    scale = room / shown
    half = row.overall / 2 if row.slot is not None or row.seam is not None else 0.0
    mark = "O" if row.hole is not None else "@"
    lines = ["  +" + "-" * room + "+"]
    weakest = result.values.get("one_missing_at")
    for line in range(row.rows):
        cells = [" "] * room
        for n in range(row.along):
            centre = row.actual_end + n * row.actual_pitch
            sign = GONE if line * row.along + n + 1 in row.missing else mark
            first, last = int((centre - half) * scale), int((centre + half) * scale)
            for at in range(max(0, first), min(room - 1, last) + 1):
                cells[at] = "=" if half and first < at < last else sign
        if weakest is not None and weakest.value is not None and weakest.value * scale < room:
            cells[int(weakest.value * scale)] = WEAKEST
        lines.append("  |" + "".join(cells) + "|")
    lines.append("  +" + "-" * room + "+")
    marks = [f"{GONE} missing"] if row.missing else []
    marks += [f"{WEAKEST} spared least"] if weakest is not None else []
    part = "" if shown == row.length else f" (first {show(shown, 'length', system, 3)} drawn)"
    lines.append(
        f"   {row.along} x {row.rows} welds, pitch {show(row.actual_pitch, 'length', system, 3)}, ends "
        f"{show(row.actual_end, 'length', system, 3)}, length {show(row.length, 'length', system)}{part}"
        + "".join(f"   {mark}" for mark in marks)
    )
    return lines
