"""Hatching as lines of their own, cut to the outline: no names that two drawings on one page could share."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, cos, floor, pi, sin

Point = tuple[float, float]

SPACING = {2: 2.2, 4: 1.5, 6: 1.0}
"""Signs in a row -> distance of the lines [mm]."""
WAYS = {"/": pi / 4, "\\": -pi / 4, "|": pi / 2, "-": 0.0}


def hatch_lines(points: Sequence[Point], signs: str) -> list[list[Point]]:
    """Lines of a hatch inside a closed polygon: strokes, crosses or dots, closer the more signs stand in a row."""
    away = SPACING.get(len(signs), 1.5)
    if signs[0] == "x":
        return [line for way in (pi / 4, -pi / 4) for line in _lines(points, way, away)]
    if signs[0] == ".":
        return [[(x, y), (x + 0.01, y)] for row in _lines(points, 0.0, away) for x, y in _dots(row, away)]
    return _lines(points, WAYS[signs[0]], away)


def _dots(row: Sequence[Point], away: float) -> list[Point]:
    (x1, y), (x2, _) = row
    return [(away * k, y) for k in range(ceil(x1 / away), floor(x2 / away) + 1)]


def _lines(points: Sequence[Point], way: float, away: float) -> list[list[Point]]:
    """Even-odd: a line is inside between its first and second crossing of the outline, its third and fourth ..."""
    c, s = cos(way), sin(way)
    turned = [(x * c + y * s, -x * s + y * c) for x, y in points]
    low, high = min(v for _, v in turned), max(v for _, v in turned)
    found: list[list[Point]] = []
    for k in range(ceil(low / away), floor(high / away) + 1):
        level = k * away
        cuts = sorted(
            u1 + (level - v1) / (v2 - v1) * (u2 - u1)
            for (u1, v1), (u2, v2) in zip(turned, [*turned[1:], turned[0]])
            if (v1 <= level) != (v2 <= level)
        )
        found += [
            [(u * c - level * s, u * s + level * c) for u in (a, b)] for a, b in zip(cuts[::2], cuts[1::2]) if b > a
        ]
    return found
