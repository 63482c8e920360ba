"""A row of spots drawn to scale in the terminal."""

from __future__ import annotations

from jointcalc.model.seam import SpotSeam
from jointcalc.quantity.show import System, show
from jointcalc.result import Result

SPOT, GONE, WEAKEST = "o", "x", "!"
LEAST_STEP = 2.0  # characters between spots that the eye still tells apart


def draw(result: Result, width: int, system: System) -> list[str]:
    """The seam seen on the sheet, spots at their pitch; a part of it when all would run together."""
    seam = result.model
    if not isinstance(seam, SpotSeam):
        return []
    room = max(30, min(width, 100) - 22)
    pitch, length = seam.actual_pitch, seam.length
    shown = length
    if seam.along > 1 and room * pitch / length < LEAST_STEP:
        shown = room * pitch / LEAST_STEP
    scale = room / shown
    lines = []
    part = "" if shown == length else f" (first {show(shown, 'length', system, 3)} drawn)"
    lines.append("  +" + "-" * room + "+")
    for row in range(seam.rows):
        cells = [" "] * room
        for n in range(seam.along):
            at = (seam.actual_end + n * pitch) * scale
            if at < room:
                cells[int(at)] = GONE if row * seam.along + n + 1 in seam.missing else SPOT
        weakest = result.values.get("one_missing_at")
        if weakest is not None and weakest.value is not None and weakest.value * scale < room:
            cells[int(weakest.value * scale)] = WEAKEST
        note = f" {show(seam.actual_lap, 'length', system, 3)} lap" if row == 0 else ""
        lines.append("  |" + "".join(cells) + "|" + note)
    lines.append("  +" + "-" * room + "+")
    marks = [f"{GONE} missing"] if seam.missing else []
    marks += [f"{WEAKEST} spared least"] if "one_missing_at" in result.values else []
    end = show(seam.actual_end, "length", system, 3)
    lines.append(
        f"   {seam.along} x {seam.rows} spots, pitch {show(pitch, 'length', system, 3)}, ends {end}, "
        f"length {show(length, 'length', system)}{part}"
    )
    return lines
