"""Sheets lifted off a row of welds: the flange folds open beside the row, and levers on the welds.

The fold is judged by its plastic limit with the factors of yield; the weld that is levered on is judged by its kind.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from jointcalc.check.common import Steps, cores, gamma_M0
from jointcalc.formula import peel
from jointcalc.formula.core import Evaluation
from jointcalc.model.sheet import Sheet
from jointcalc.result import Check, Method, Stated

NO_ARM = (
    "arm of the peel not given: the flange folds open under a pull that falls with the distance from the row to the "
    "bend that is pulled; give 'peel_arm'"
)
NO_YIELD = "the grade's standard lets no yield strength be assumed; state 'yield_strength'"


@dataclass(frozen=True, slots=True)
class Flange:
    """A flange that is peeled: `width` [mm] hangs on the weld that holds most, `edge` [mm] is left beyond the row.

    `pull` [N] is what lifts that width, `told` says how it came about; `arm` [mm] is None where it was not given.
    """

    sheets: Sequence[Sheet]
    width: float
    edge: float
    pull: float
    told: str
    arm: float | None
    load_factor: float

    def folds(self, method: Method) -> Check:
        """Whether the weakest of the sheets folds open."""
        given = Stated("F", "N", self.pull, self.told)
        if self.arm is None:
            return method.outside(NO_ARM, demand=self.pull, trace=[given])
        partial, metal = gamma_M0(self.sheets)
        found: list[tuple[float, Steps]] = []
        for sheet in self.sheets:
            if sheet.has_yield:
                working = self._fold(sheet)
                found.append((float(working[-1].value), [*cores((sheet,)), *working, given]))
        if not found:
            return method.outside(NO_YIELD, demand=self.pull, trace=[given])
        capacity, trace = min(found, key=lambda one: one[0])
        numbers: dict[str, Any] = {
            "capacity": capacity, "demand": self.pull, "required": partial * self.load_factor, "trace": trace,
        }  # fmt: skip
        if len(found) < len(self.sheets):
            return method.at_most(NO_YIELD, **numbers)
        note = "an upper bound: two straight hinges, at the row and at the bend"
        return method.judge(note=f"{note}; {metal}" if metal else note, **numbers)

    def _fold(self, sheet: Sheet) -> list[Evaluation]:
        assert self.arm is not None
        m_p = peel.PLASTIC_MOMENT.evaluate(t=sheet.t, f_y=sheet.f_y)
        b_eff = peel.EFFECTIVE_WIDTH.evaluate(b=self.width, a=self.arm, e=self.edge)
        return [m_p, b_eff, peel.FOLDS.evaluate(m_p=float(m_p.value), b_eff=float(b_eff.value), a=self.arm)]

    def levered(self) -> Evaluation | None:
        """The pull on the weld with the flange's lever; None without an arm."""
        return None if self.arm is None else peel.SPOT_PULL.evaluate(F=self.pull, a=self.arm, e=self.edge)
