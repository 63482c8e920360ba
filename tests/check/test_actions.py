"""What the rules of a kind judge is frozen, so that no rule can leave anything behind for another.

No outside value is needed.
"""

from __future__ import annotations

from dataclasses import FrozenInstanceError
from typing import Any

import pytest

from jointcalc.check.bolts_action import BoltsAction, Place
from jointcalc.check.fillet_action import FilletAction
from jointcalc.check.panel_action import PanelAction
from jointcalc.check.plug_base import PlugAction
from jointcalc.check.seam_base import SeamAction
from jointcalc.model.bolts import FastenerGroup
from jointcalc.model.fields import build
from jointcalc.model.fillet import FilletGroup
from jointcalc.model.panel import Panel
from jointcalc.model.plug import PlugRow
from jointcalc.model.seam import SpotSeam

SHEETS = [{"thickness": 1.5, "grade": "DC04"}, {"thickness": 1.5, "grade": "DC04"}]
SEAM = {"sheets": SHEETS, "weld_diameter": 6.0, "length": 300.0, "pitch": 60.0, "edge": 12.0, "shear": 3000.0}
PLUG = {"sheets": SHEETS, "hole": 8.0, "filler": "ER70S-6", "length": 200.0, "pitch": 50.0, "edge": 15.0, "shear": 2e3}
BOLTS = {"sheets": SHEETS, "bolt": "M8 8.8", "holes": [(0, 0), (40, 0)], "force": (0, -2000.0, 500.0), "at": (20, 0, 0)}
WELDS = {"sheets": SHEETS, "lines": [(0, 0, 60, 0), (0, 40, 60, 40)], "leg": 1.5, "filler": "ER70S-6",
         "force": (1000.0, 0, 0), "at": (30, 20, 0)}  # fmt: skip
SHEET = {"sheet": SHEETS[0], "size": "300 200 mm", "pressure": "1 kPa"}


def actions() -> list[tuple[Any, str]]:
    """An action of every kind, and a field of it."""
    seam, row = build(SpotSeam, SEAM), build(PlugRow, PLUG)
    group = BoltsAction(build(FastenerGroup, BOLTS))
    return [
        (SeamAction(seam), "seam"), (PlugAction(row), "row"), (group, "item"), (Place(group, 0), "n"),
        (FilletAction.of(build(FilletGroup, WELDS)), "welds"), (PanelAction(build(Panel, SHEET)), "panel"),
    ]  # fmt: skip


def test_an_action_is_frozen() -> None:
    for action, field in actions():
        for name in (field, "more"):
            with pytest.raises(FrozenInstanceError):
                setattr(action, name, None)


def test_equal_shares_and_a_moment_at_the_corner() -> None:
    """Vector method, any textbook: n spots in one row share F/n; a moment adds M x_max / sum x² across the row."""
    along = SeamAction(build(SpotSeam, {**SEAM, "moment": 60000.0}))
    n, pitch = along.seam.spots, 60.0
    xs = [pitch * (i - (n - 1) / 2) for i in range(n)]
    assert along.along == pytest.approx(3000.0 / n)
    assert along.across == pytest.approx(60000.0 * max(xs) / sum(x**2 for x in xs))
    assert SeamAction(build(SpotSeam, {**SEAM, "count": 1, "pitch": None, "moment": 1e3})).unturned
