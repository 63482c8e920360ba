"""Welding symbols: ISO 2553 system A and AWS A2.4, both from memory; the numbers are the model's own."""

from __future__ import annotations

from typing import Any

import pytest

from jointcalc.layout.drawing import Label, Line, Path, extent
from jointcalc.layout.symbols import drawn, symbol_of, symbol_width
from jointcalc.model.fields import build
from jointcalc.model.fillet import FilletGroup

from .projects import everything

ITEMS = everything()


@pytest.mark.parametrize(
    ("name", "system", "words"),
    [
        ("S1", "metric", "5.5 spot 37 x (40) < 21"),  # resistance spot welding is 21 in ISO 4063 (from memory)
        ("S1", "inch", "0.217 spot 1.575 (37) < RSW"),
        ("S2", "metric", "5 spot 7 x (62) < 21, 2 rows"),
        ("P1", "metric", "8 plug 15 x (40) < 135"),  # metal active gas welding is 135
        ("P2", "inch", "0.315x0.787 plug 2.953 (4) < GMAW"),
        # stitches of 30 mm at most 90 apart: ISO states the gap between them, AWS the pitch
        ("F1", "metric", "z3 fillet 3 x 30 (60) < 135, lines 1 to 2"),
        ("F1", "inch", "0.118 fillet 1.181-3.543 < GMAW, lines 1 to 2"),
    ],
)
def test_what_stands_on_the_reference_line(name: str, system: Any, words: str) -> None:
    assert symbol_of(ITEMS[name], system).words == words


def weld(**changes: Any) -> FilletGroup:
    data = {"id": "F", "lines": ["0 0 100 0 mm"], "sheets": [{"thickness": "3 mm", "grade": "S355MC"}],
            "force": "0 -1 0 kN", "at": "50 0 0 mm", "leg": "4 mm", **changes}  # fmt: skip
    return build(FilletGroup, {key: value for key, value in data.items() if value is not None})


def test_a_throat_is_told_from_a_leg_and_both_sides_are_drawn() -> None:
    assert symbol_of(weld(leg=None, throat="2 mm"), "metric").before == "a2"
    assert symbol_of(weld(), "metric").words == "z4 fillet 100 < 135"
    one, two = (
        drawn(symbol_of(weld(both_sides=both), "metric"), (0.0, 0.0), (10.0, 20.0), "metric") for both in (False, True)
    )
    for made, over, under, dashes in ((one, 1, 0, True), (two, 1, 1, False)):
        signs = [e for e in made if isinstance(e, Path)]
        assert sum(max(p[1] for p in e.points) > 20.0 for e in signs) == over
        assert sum(min(p[1] for p in e.points) < 20.0 for e in signs) == under
        # the broken line of system A stands beside the other one, and falls away where both sides are welded
        broken = [e for e in made if isinstance(e, Line) and e.y1 == e.y2 and e.y1 < 20.0]
        assert bool(broken) == dashes


def test_the_arrow_side_is_above_in_iso_and_below_in_aws() -> None:
    for system, above in (("metric", True), ("inch", False)):
        made = drawn(symbol_of(weld(), system), (0.0, 0.0), (10.0, 20.0), system)  # type: ignore[arg-type]
        (sign,) = [e for e in made if isinstance(e, Path)]
        assert (sum(p[1] for p in sign.points) > 3 * 20.0) == above
        # the upright side of a fillet's triangle stands on the left
        assert sign.points[0][0] == sign.points[1][0] < sign.points[2][0]


@pytest.mark.parametrize("scale", [1.0, 0.5])
def test_letters_are_3_5_mm_and_the_line_is_as_long_as_said(scale: float) -> None:
    for name in ("S1", "P1", "F1"):
        symbol = symbol_of(ITEMS[name], "metric")
        made = drawn(symbol, (0.0, 0.0), (10.0, 30.0), "metric", scale=scale)
        assert {e.height * scale for e in made if isinstance(e, Label)} == {3.5}
        _, _, right, _ = extent(made)
        assert right - 10.0 == pytest.approx(symbol_width(symbol, scale), rel=0.1)
