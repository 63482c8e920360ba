"""The sheet out of its plane: pulled over head or washer (`bolts_head`) or over a spreader plate (`bolts_spreader`).

Bent between its supports it stands in `bolts_bend`, pried by a bracket's leg in `bolts_leg`.
"""

from __future__ import annotations

from jointcalc.check.bolts_action import BoltsAction, Place
from jointcalc.check.bolts_base import Asked
from jointcalc.check.bolts_head import over_head
from jointcalc.check.bolts_leg import Leg
from jointcalc.check.bolts_spreader import spreader
from jointcalc.result import Check
from jointcalc.statics.group_common import Array


def pull_through(action: BoltsAction, pull: Array, brackets: tuple[Leg, ...]) -> tuple[list[Check], dict[str, Array]]:
    """Head, washer and spreader plate on the outer sheets; and what each fastener uses of them, bounds included."""
    group = action.item
    kind = group.fastener.kind
    if not pull.max() or kind == "rivet":
        return [], {}
    last = len(group.sheets) - 1
    outer = sorted({0, last})
    if kind == "rivnut":
        # the insert sits in the last sheet, and its maker says what it holds there; the screw's head pulls on the first
        outer = [0] if last else []
    asked: list[Asked] = []
    for n in outer:
        place = Place(action, n)
        if n == last and group.plate is not None:
            asked += spreader(place, pull)
        else:
            asked += over_head(place, pull, brackets)
    return [a.check for a in asked], {a.check.key: a.use for a in asked if a.use is not None}
