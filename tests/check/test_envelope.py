"""Loads that differ by rounding alone are one load; any more, and each is judged by itself."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest

from jointcalc.check.envelope import envelope
from jointcalc.check.seam import check_seam
from jointcalc.model.given import Given, Standing
from jointcalc.model.seam import SpotSeam
from jointcalc.result import Result

SHEET = {"thickness": "1.2 mm", "grade": "DC04"}


def _under(*loads: Mapping[str, Any]) -> tuple[Result, int]:
    """(what comes of a seam under those loads, how often a seam was judged)."""
    seam = SpotSeam(
        id="S",
        sheets=[SHEET, SHEET],
        weld_diameter="5.5 mm",
        pitch="40 mm",
        length="400 mm",
        edge="11 mm",
        load="from B",
    )
    seen: list[SpotSeam] = []

    def judge(one: SpotSeam) -> Result:
        seen.append(one)
        return check_seam(one)

    standings = [
        Standing(given=(Given(giver="B", part=f"end {n + 1}", case="c"),), fields=fields)
        for n, fields in enumerate(loads)
    ]
    return envelope(seam.under(standings), judge), len(seen)


@pytest.mark.parametrize(
    ("other", "times"),
    [
        ({"shear": 3000.0 * (1 + 1e-13), "moment": -3e-12}, 1),
        ({"shear": 3000.0 * (1 + 1e-6), "moment": 0.0}, 2),
        ({"shear": 3000.0, "moment": 1e-3}, 2),
        ({"shear": -3000.0, "moment": 0.0}, 2),
        ({"across": 3000.0, "moment": 0.0}, 2),
    ],
)
def test_what_differs_by_rounding_is_judged_once_and_told_twice(other: Mapping[str, Any], times: int) -> None:
    result, judged = _under({"shear": 3000.0, "moment": 0.0}, other)
    assert judged == times
    assert {one.standing.name for one in result.loads} == {"B end 1", "B end 2"}


def test_the_heavier_load_governs_in_either_order() -> None:
    for loads in ((2000.0, 3000.0), (3000.0, 2000.0)):
        result, _ = _under(*({"shear": size} for size in loads))
        assert result.worst is not None
        alone, _ = _under({"shear": 3000.0})
        assert alone.worst is not None
        assert result.worst.utilisation == pytest.approx(alone.worst.utilisation, rel=1e-12)
