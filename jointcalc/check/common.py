"""Words and small pieces the checks of joints share: what a capacity is, what a factor comes from."""

from __future__ import annotations

from collections.abc import Iterable

from jointcalc.formula.branch import below
from jointcalc.formula.core import Evaluation
from jointcalc.model.fields import Item
from jointcalc.model.sheet import Sheet
from jointcalc.result import HANDBOOK_FACTOR, Check, Looked, Stated, caution
from jointcalc.result.cautions import Caution

CHARACTERISTIC = "characteristic value"
NOMINAL = "nominal"
PARTIAL = "γ_M2 × γ_F"
OWN_WORD = "the builder's own factor"
OWN = f"{OWN_WORD} (our default 3.0, common practice)"

Steps = list[Evaluation | Looked | Stated]
"""The working of a check while it is being put together."""


def cores(sheets: Iterable[Sheet]) -> list[Evaluation]:
    """The zinc deductions of these sheets, each once."""
    return list({id(s.core): s.core for s in sheets if s.core is not None}.values())


LEAST_HANDBOOK_FACTOR = 2.0
"""A builder's own factor under this is told: handbook strengths scatter (common practice, no source)."""


def handbook_cautions(item: Item, checks: Iterable[Check]) -> list[Caution]:
    """What is said of the builder's own factor: that it is our default, or that it is low; only where it judged."""
    if not any(OWN_WORD in c.method.factor for c in checks if c.status in ("ok", "over")):
        return []
    if below(item.handbook_factor, LEAST_HANDBOOK_FACTOR):
        return [caution("handbook-low", factor=f"{item.handbook_factor:g}")]
    if item.handbook_factor == HANDBOOK_FACTOR:
        return [caution("handbook-default", factor=f"{HANDBOOK_FACTOR:.1f}")]
    return []
