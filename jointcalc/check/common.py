"""Words and small pieces the checks of joints share: what a capacity is, what a factor comes from."""

from __future__ import annotations

from collections.abc import Iterable

from jointcalc.formula.core import Evaluation
from jointcalc.model.sheet import Sheet
from jointcalc.result import Looked, Stated

CHARACTERISTIC = "characteristic value"
NOMINAL = "nominal"
PARTIAL = "γ_M2 × γ_F"
OWN = "the builder's own factor (our default 3.0, common practice)"

Steps = list[Evaluation | Looked | Stated]
"""The working of a check while it is being put together."""


def cores(sheets: Iterable[Sheet]) -> list[Evaluation]:
    """The zinc deductions of these sheets, each once."""
    return list({id(s.core): s.core for s in sheets if s.core is not None}.values())
