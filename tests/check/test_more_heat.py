"""Advice on heat and order for lines that lie askew, in stitches, and in more than one piece.

Geometry by hand (3-4-5 triangles); the order itself is common practice, no source.
"""

from __future__ import annotations

from itertools import pairwise

import pytest

from jointcalc.check.fillet import check_fillet
from jointcalc.check.heat import lengths_of, order_of_runs, runs_of
from jointcalc.model.fields import build
from jointcalc.model.fillet import FilletGroup
from jointcalc.result import Check, Result

ASKEW = "10 20 190 260 mm"  # 180 across, 240 up: 300 mm long, its start not at the origin
OTHER = "10 20 -80 140 mm"  # 90 across, 120 up: 150 mm


def group(**change: object) -> FilletGroup:
    data = {
        "lines": [ASKEW], "leg": "5 mm", "sheets": [{"thickness": "6 mm", "grade": "S275JR"}], "filler": "E70",
        "force": "1 0 0 kN", "at": "100 140 0 mm", **change,
    }  # fmt: skip
    return build(FilletGroup, {k: v for k, v in data.items() if v is not None})


def find(result: Result, key: str) -> Check:
    return next(c for c in result.checks if c.key == key)


def test_lengths_of_lines_askew() -> None:
    assert lengths_of(group(lines=[ASKEW, OTHER])) == pytest.approx([300.0, 150.0])


def test_stitches_are_welded_where_they_lie() -> None:
    """Stitches of 40 mm, one at each end: the first and the last reach the ends of the line, every one 40 mm long."""
    welds = group(stitch="40 130 mm")
    runs = runs_of(welds)
    assert [(r.start - r.end) for r in runs] == pytest.approx([40.0] * len(runs))
    places = sorted((r.end, r.start) for r in runs)
    assert places[0][0] == pytest.approx(0.0, abs=1e-9)
    assert places[-1][1] == pytest.approx(300.0)
    assert len(runs) == 3  # 20, 150 and 280 mm
    assert places[1] == pytest.approx((130.0, 170.0))
    # begun at one end, then the farthest from what lies: the other end, then the middle
    assert [r.end for r in runs] == pytest.approx([0.0, 260.0, 130.0], abs=1e-9)


def test_stitches_of_two_lines_take_turns() -> None:
    runs = runs_of(group(lines=[ASKEW, OTHER], stitch="40 130 mm"))
    assert [r.line for r in runs] == [0, 1, 0, 1, 0]
    assert sorted(r.start for r in runs if r.line == 1) == pytest.approx([40.0, 150.0])


def test_shrinkage_goes_with_the_share_that_is_welded() -> None:
    """1.02 s/t of a tee (published for fillets on both sides) times the welded share: 120 of 300 mm."""
    whole, stitched = check_fillet(group()), check_fillet(group(stitch="40 130 mm"))
    for result, share in ((whole, 1.0), (stitched, 0.4)):
        amount = find(result, "advice.shrinkage").capacity
        assert amount is not None
        assert amount.value == pytest.approx(1.02 * 5 / 6 * share)
        assert find(result, "advice.shrinkage").steps()
        assert "both sides" in find(result, "advice.shrinkage").note


def test_shrinkage_from_a_throat() -> None:
    """A throat of 5/sqrt 2 is a leg of 5: the same shrinkage."""
    amount = find(check_fillet(group(leg=None, throat=f"{5 / 2**0.5!r} mm")), "advice.shrinkage").capacity
    assert amount is not None
    assert amount.value == pytest.approx(1.02 * 5 / 6)


def test_the_order_is_written_run_by_run() -> None:
    """300 mm in steps of 60: five runs, the middle one first, each welded backwards; several lines are named."""
    one = find(check_fillet(group(step="60 mm")), "advice.order")
    assert one.capacity is not None
    assert one.capacity.value == 5
    assert "1: 180 to 120; " in one.note
    assert "line" not in one.note.partition("1:")[2]
    assert "more in the same way" not in one.note
    two = find(check_fillet(group(lines=[ASKEW, OTHER], step="60 mm")), "advice.order")
    assert "1: line 1 180 to 120; 2: line 2 100 to 50; 3: line 1" in two.note
    many = find(check_fillet(group(step="15 mm", lines=["0 0 1200 0 mm"])), "advice.order")
    assert many.capacity is not None
    assert many.capacity.value == 80
    assert many.note.endswith("; and 20 more in the same way")
    assert "60: " in many.note
    assert "61: " not in many.note


def test_all_runs_of_one_line_follow_when_another_is_done() -> None:
    """A short line runs out first; the long one is still welded to its end."""
    runs = order_of_runs([600.0, 60.0], 60.0)
    assert sum(r.line == 0 for r in runs) == 10
    assert sum(r.line == 1 for r in runs) == 1
    assert all(abs(a.end - b.end) > 1 for a, b in pairwise([r for r in runs if r.line == 0]))


def test_heat_input_shows_its_working() -> None:
    """18 V x 130 A at 6 mm/s is 0.39 kJ/mm of arc; EN 1011-1 lets 0.8 of it reach the work under MAG."""
    found = find(check_fillet(group(voltage="18 V", current="130 A", speed="6 mm/s")), "advice.heat-input")
    values = [line.value for line in found.steps()]
    assert found.capacity is not None
    assert found.capacity.value == pytest.approx(0.8 * 0.39)
    for value in (0.39, 0.8, 0.8 * 0.39):
        assert value in [pytest.approx(v) for v in values]
    assert not [c for c in check_fillet(group()).checks if c.key == "advice.heat-input"]
