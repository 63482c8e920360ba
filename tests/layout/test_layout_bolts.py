"""Slots, countersinks and plates of bolts as they are marked out."""

from __future__ import annotations

from typing import Any

import pytest

from jointcalc.layout.drawing import Circle, Path
from jointcalc.layout.rows import bolts
from jointcalc.model.bolts import FastenerGroup
from jointcalc.model.fields import build


def drawn(**more: Any) -> Any:
    return bolts(build(FastenerGroup, {
        "id": "M1", "holes": ["0 0 mm", "60 0 mm"], "bolt": "M8 8.8", "force": "1 0 0 kN", "at": "30 0 0 mm",
        "sheets": [{"thickness": "3 mm", "grade": "S235JR"}], **more,
    }), "metric")  # fmt: skip


@pytest.mark.parametrize("along, wide, high", [("x", 16.0, 9.0), ("y", 9.0, 16.0)])
def test_a_slot_is_drawn_as_a_slot(along: str, wide: float, high: float) -> None:
    """Overall length 16 and width 9: straight sides, and half circles at its ends that the points leave out."""
    slots = [e for e in drawn(slot="16 mm", slot_along=along).entities if isinstance(e, Path) and e.layer == "HOLE"]
    assert len(slots) == 2
    xs, ys = [p[0] for p in slots[0].points], [p[1] for p in slots[0].points]
    across = 9.0  # the round ends add half the width at each end
    assert max(xs) - min(xs) + (across if along == "x" else 0.0) == pytest.approx(wide)
    assert max(ys) - min(ys) + (across if along == "y" else 0.0) == pytest.approx(high)


def test_a_plate_has_its_own_hole() -> None:
    holes = [e for e in drawn(plate="60 60 4 mm", plate_hole="8.5 mm").details[0].entities if isinstance(e, Circle)]
    assert [h.r for h in holes] == [4.25]


def test_a_countersink_is_told() -> None:
    # DIN 7991 (from memory): the head of an M8 is 4.4 mm high
    assert any("4.4 mm deep" in note for note in drawn(countersunk=True).notes)
