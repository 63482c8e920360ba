"""A group of welds or fasteners in plan, to scale, in characters: the peak, the centroid, the load."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import hypot

ASPECT = 2.0
"""Height of a terminal character over its width."""
PEAK, CENTROID, LOAD, CENTRE = "X", "+", "o", "*"


class Plan:
    """A canvas over a box of x and y [mm]; y points up, marks overwrite lines."""

    def __init__(self, points: Sequence[tuple[float, float]], width: int, height: int = 11) -> None:
        xs, ys = [p[0] for p in points], [p[1] for p in points]
        self.left, self.bottom = min(xs), min(ys)
        reach_x, reach_y = max(xs) - self.left, max(ys) - self.bottom
        room = max(20, min(width, 100) - 6)
        # one scale for both directions, so that angles are seen as they are
        self.scale = min(
            (room - 1) / reach_x if reach_x > 0 else float("inf"),
            (height - 1) * ASPECT / reach_y if reach_y > 0 else float("inf"),
        )
        if self.scale == float("inf"):
            self.scale = 1.0
        self.columns = round(reach_x * self.scale) + 1
        self.rows = round(reach_y * self.scale / ASPECT) + 1
        self.cells = [[" "] * self.columns for _ in range(self.rows)]

    def place(self, x: float, y: float) -> tuple[int, int] | None:
        """(row, column) of a point, None off the canvas."""
        column = round((x - self.left) * self.scale)
        row = self.rows - 1 - round((y - self.bottom) * self.scale / ASPECT)
        return (row, column) if 0 <= row < self.rows and 0 <= column < self.columns else None

    def mark(self, x: float, y: float, sign: str) -> None:
        """Put a sign at a point."""
        at = self.place(x, y)
        if at is not None:
            self.cells[at[0]][at[1]] = sign

    def line(self, x1: float, y1: float, x2: float, y2: float) -> None:
        """Draw a line with the character nearest to its slope."""
        dx, dy = (x2 - x1) * self.scale, (y2 - y1) * self.scale / ASPECT
        if abs(dy) <= 0.4 * abs(dx):
            sign = "-"
        elif abs(dx) <= 0.4 * abs(dy):
            sign = "|"
        else:
            sign = "/" if dx * dy > 0 else "\\"
        n = max(1, round(max(abs(dx), abs(dy))))
        for i in range(n + 1):
            self.mark(x1 + (x2 - x1) * i / n, y1 + (y2 - y1) * i / n, sign)

    def lines(self) -> list[str]:
        """The canvas as text, indented by two."""
        return ["  " + "".join(row).rstrip() for row in self.cells]


def bounds(points: Iterable[tuple[float, float]], load: tuple[float, float] | None) -> list[tuple[float, float]]:
    """Points the drawing must hold: those of the group, and the load where it is not too far away to see."""
    own = list(points)
    if load is None:
        return own
    size = max(hypot(a[0] - b[0], a[1] - b[1]) for a in (own[0], own[-1]) for b in own) or 1.0
    near = min(hypot(load[0] - p[0], load[1] - p[1]) for p in own)
    return [*own, load] if near <= 3 * size else own
