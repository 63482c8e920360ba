"""The rules of a panel are functions of a frozen action: whichever is asked first, they find the same.

No outside value is needed: what a rule says cannot hang on which other rule was looked at before.
"""

from __future__ import annotations

import random
from typing import Any

import pytest

from jointcalc.check.panel import RULES
from jointcalc.check.panel_action import PanelAction
from jointcalc.check.panel_opening import opened
from jointcalc.model.fields import build
from jointcalc.model.panel import Panel

from .test_panel import raw

ALL = (*RULES, opened)
EXAMPLES: dict[str, dict[str, Any]] = {
    "everything at once": {"pressure": "1 kPa", "compression": "1 0.5 N/mm", "shear": "1 N/mm", "size": "200 150 mm"},
    "beads": {
        "pressure": "1 kPa",
        "shear": "2 N/mm",
        "bead": "arc:depth=4mm,width=25mm,pitch=50mm",
        "size": "200 150 mm",
    },
    "an opening": {"shear": "2 N/mm", "opening": "round:diameter=40mm", "size": "200 150 mm"},
}


def said(panel: Panel, order: list[int]) -> dict[str, Any]:
    """What each rule says of a fresh action when they are asked in that order."""
    action = PanelAction(panel)
    found = {ALL[k].__name__: ALL[k](action) for k in order}
    return {rule.__name__: [check.json() for check in found[rule.__name__]] for rule in ALL}


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_rules_may_be_asked_in_any_order(name: str) -> None:
    panel = build(Panel, raw(**EXAMPLES[name]))
    printed = list(range(len(ALL)))
    first = said(panel, printed)
    dice = random.Random(9)
    for order in (printed[::-1], *(dice.sample(printed, len(printed)) for _ in range(2))):
        assert said(panel, order) == first
    alone = {rule.__name__: [check.json() for check in rule(PanelAction(panel))] for rule in ALL}
    assert alone == first
