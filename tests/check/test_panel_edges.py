"""Nobody sees whether what stands round a panel holds its edges in the plane of the sheet: unsaid, the worse counts."""

from __future__ import annotations

from typing import Any

import pytest

from jointcalc.check.panel import check_panel
from jointcalc.model.fields import build
from jointcalc.model.panel import Panel
from jointcalc.result import Result

SHEET = {"thickness": "1.0 mm", "grade": "DC04"}


def judged(in_plane: str | None, **changes: Any) -> Result:
    said = {} if in_plane is None else {"in_plane": in_plane}
    return check_panel(build(Panel, {"size": "400 300 mm", "sheet": SHEET, **said, **changes}))


def used(result: Result) -> dict[str, float]:
    return {c.key: c.utilisation or 0.0 for c in result.checks if c.status in ("ok", "over")}


def test_edges_of_which_nothing_is_said_are_judged_free_and_held_and_the_worse_counts() -> None:
    load = {"pressure": "12 kPa", "permanent_set_limit": "3 mm", "limit_deflection": "9 mm"}
    free, held, unsaid = (judged(word, **load) for word in ("free", "held", None))
    assert held.status == "ok"
    assert used(unsaid) == pytest.approx(
        {key: max(used(free).get(key, 0.0), used(held).get(key, 0.0)) for key in {**used(free), **used(held)}}
    )
    # sheet that hangs between held edges pulls at them; sheet that is free to draw in sags and stays bent
    assert used(unsaid)["plate.edge-pull"] == used(held)["plate.edge-pull"] > 0
    assert used(unsaid)["limit.permanent-set"] == used(free)["limit.permanent-set"] > used(held)["limit.permanent-set"]
    assert used(unsaid)["limit.panel-deflection"] > 1.5 * used(held)["limit.panel-deflection"]
    assert unsaid.values["edge_pull"].value == held.values["edge_pull"].value


def test_edges_that_are_said_to_be_held_are_told_with_what_has_to_be_shown() -> None:
    load = {"pressure": "1 kPa", "edges": "clamped"}
    assert "panel-held" in {c.code for c in judged("held", **load).cautions}
    assert "panel-held" not in {c.code for c in judged(None, **load).cautions}
    assert "panel-held" not in {c.code for c in judged("held").cautions}


def test_a_thrust_meets_edges_free_to_draw_in_where_nothing_is_said() -> None:
    load = {"size": "240 200 mm", "compression": "25 N/mm"}
    unsaid, straight = judged(None, **load), judged("straight", **load)
    assert (unsaid.status, straight.status) == ("over", "ok")
