"""A drawing surface of Braille dots: two by four to a character, so that a terminal draws to scale.

Where stdout cannot show them, each character says which of its halves has dots: `.` the lower, `'` the upper, `:` both.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable

_DOTS = ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80))
_BLANK = 0x2800
_UPPER, _LOWER = 0x01 | 0x08 | 0x02 | 0x10, 0x04 | 0x20 | 0x40 | 0x80
_PLAIN = " '.:"


def takes(text: str) -> bool:
    """Whether stdout can show a text."""
    encoding = getattr(sys.stdout, "encoding", None) or "utf-8"  # a text in memory has none, and takes all
    try:
        text.encode(encoding)
    except (UnicodeEncodeError, LookupError):
        return False
    return True


def _plain(cell: int) -> str:
    return _PLAIN[bool(cell & _UPPER) + 2 * bool(cell & _LOWER)]


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
        if not takes(chr(_BLANK)):
            return ["".join(map(_plain, row)).rstrip() for row in self._cells]
        return ["".join(chr(_BLANK + cell) if cell else " " for cell in row).rstrip() for row in self._cells]
