"""A drawing surface of Braille dots: two by four to a character, so that a terminal draws to scale."""

from __future__ import annotations

from collections.abc import Iterable

_DOTS = ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80))
_BLANK = 0x2800


class Canvas:
    """Dots on a grid; x to the right, y up, both in dots.  A dot is about as high as it is wide."""

    def __init__(self, width: int, height: int) -> None:
        self.columns, self.rows = -(-width // 2), -(-height // 4)
        self.height = self.rows * 4
        self._cells = [[0] * self.columns for _ in range(self.rows)]

    def dot(self, x: float, y: float) -> None:
        """Set the dot at a place; what lies outside is left out."""
        column, row = int(x), self.height - 1 - int(y)
        if x >= 0 and y >= 0 and column < 2 * self.columns and 0 <= row < self.height:
            self._cells[row // 4][column // 2] |= _DOTS[row % 4][column % 2]

    def dots(self, places: Iterable[tuple[float, float]]) -> None:
        """Set several dots."""
        for x, y in places:
            self.dot(x, y)

    def lines(self) -> list[str]:
        """The drawing as lines of text."""
        return ["".join(chr(_BLANK + cell) if cell else " " for cell in row).rstrip() for row in self._cells]
