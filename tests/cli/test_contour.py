"""The block picture of a panel's shape: shades where they belong, a scale that says what they mean, any terminal."""

from __future__ import annotations

import io

import numpy as np
import pytest

from jointcalc.show import canvas, contour
from jointcalc.show.contour import PLAIN, SHADES, Seen, block, pictures


def ramp(along: float, across: float, beads: tuple[float, ...] = ()) -> Seen:
    """What grows straight along the beads, from 0 at their start to 10 mm at their end."""
    x, y = np.linspace(0, along, 9), np.linspace(0, across, 5)
    return Seen("Deflects", x, y, np.outer(x / along * 10, np.ones(5)), beads)


def test_a_straight_slope_gives_even_bands() -> None:
    # by hand: fifths of 10 mm are 2 mm, each over a fifth of the length
    rows = [row[1:-1] for row in block(ramp(1000.0, 250.0), 42, SHADES)[1:-1]]
    assert len(rows) == 5
    assert rows == ["".join(ink * 8 for ink in SHADES)] * 5


def test_the_longer_side_lies_and_left_is_left() -> None:
    # looking along the beads from their start: lying, the start is at the left and the left edge at the top
    seen = Seen(
        "Deflects", np.array([0.0, 600.0]), np.array([0.0, 400.0]), np.array([[0.0, 0.0], [10.0, 0.0]]), (50.0,)
    )
    rows = block(seen, 60, PLAIN)
    assert rows[1][-2] == PLAIN[4]
    assert rows[1][1] == rows[-2][1] == rows[-2][-2] == " "
    assert [row[0] for row in rows[1:-1]].index("o") == 1  # 50 of 400 mm from the left, eleven rows
    # standing, the start is at the bottom and the left edge at the left
    seen = Seen(
        "Deflects", np.array([0.0, 400.0]), np.array([0.0, 600.0]), np.array([[0.0, 0.0], [10.0, 0.0]]), (50.0,)
    )
    rows = block(seen, 60, PLAIN)
    assert rows[1][1] == PLAIN[4]
    assert rows[1][-2] == rows[-2][1] == " "
    assert rows[0].index("o") == 1 + int(50 / 600 * (len(rows[0]) - 2))


def test_what_rises_is_told() -> None:
    x = np.linspace(0, 100, 5)
    seen = Seen("Deflects", x, x, np.outer([0, 10, 0, -4, 0], [0, 1, 1, 1, 0]).astype(float))
    drawn = pictures([seen], 80, "metric")
    assert any("-" in row[1:-1] for row in drawn[2:-2])
    assert drawn[-1] == "- rises, up to 4 mm"


def test_beside_each_other_where_there_is_room() -> None:
    two = [ramp(300.0, 200.0), ramp(300.0, 200.0)]
    alone, beside = pictures(two, 60, "metric"), pictures(two, 80, "metric")
    assert len(alone) == 2 * len(beside)
    assert beside[0].count("Deflects 10 mm") == 2
    assert max(map(len, beside)) <= 80


@pytest.mark.parametrize(
    ("encoding", "inks"), [("utf-8", SHADES), ("ascii", PLAIN), ("latin-1", PLAIN), ("cp437", SHADES)]
)
def test_a_terminal_gets_what_it_can_show(encoding: str, inks: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(canvas.sys, "stdout", io.TextIOWrapper(io.BytesIO(), encoding=encoding))
    assert contour.shades() == inks
    assert inks[4] in "".join(pictures([ramp(300.0, 200.0)], 80, "metric"))
    "".join(pictures([ramp(300.0, 200.0)], 80, "inch")).encode(encoding)


@pytest.mark.parametrize(("encoding", "row"), [("utf-8", "⣀⠉⣉"), ("ascii", ".':"), ("cp437", ".':")])
def test_a_drawing_of_dots_has_a_plain_form(encoding: str, row: str, monkeypatch: pytest.MonkeyPatch) -> None:
    # a low line, a high one, both: two dots wide each, four high
    drawn = canvas.Canvas(6, 4)
    drawn.dots([(0, 0), (1, 0), (2, 3), (3, 3), (4, 0), (5, 0), (4, 3), (5, 3)])
    monkeypatch.setattr(canvas.sys, "stdout", io.TextIOWrapper(io.BytesIO(), encoding=encoding))
    assert drawn.lines() == [row]
