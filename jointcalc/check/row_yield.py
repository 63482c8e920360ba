"""The sheets of a row of welds yielding across it, along it, and under all of its loads together."""

from __future__ import annotations

from collections.abc import Sequence

from jointcalc.check.common import cores, gamma_M0
from jointcalc.check.peel import NO_YIELD
from jointcalc.formula import lap
from jointcalc.formula.core import Evaluation, Formula
from jointcalc.model.sheet import Sheet
from jointcalc.result import Check, Method, Stated


def yields(
    method: Method, formula: Formula, sheets: Sequence[Sheet], *, length: float, demand: float, load_factor: float
) -> Check:
    """The weakest of the sheets over the length of the row [mm] against the load [N]; gross, away from the welds."""
    known = [s for s in sheets if s.has_yield]
    if not known:
        return method.outside(NO_YIELD, demand=demand)
    weak = min(known, key=lambda s: float(formula(t=s.t, f_y=s.f_y, L=length)))
    least = formula.evaluate(t=weak.t, f_y=weak.f_y, L=length)
    partial, metal = gamma_M0(sheets)
    return _judged(
        method, len(known) < len(sheets), capacity=float(least.value), demand=demand, required=partial * load_factor,
        unit="N", trace=[*cores((weak,)), least], note=metal,
    )  # fmt: skip


def yields_together(
    method: Method, sheets: Sequence[Sheet], *, length: float, shear: float, pull: float, compression: float,
    load_factor: float,
) -> Check:  # fmt: skip
    """Shear along the row and pull across it [N] and compression along it [MPa], in the sheet nearest its yield."""

    def stress(sheet: Sheet) -> Evaluation:
        section = sheet.t * length
        return lap.COMPARISON_STRESS.evaluate(
            sigma_x=-compression, sigma_z=abs(pull) / section, tau=abs(shear) / section
        )

    every = [(float(stress(s).value) / s.f_y, s) for s in sheets if s.has_yield]
    if not every:
        return method.outside(NO_YIELD, unit="MPa")
    _, weak = max(every, key=lambda one: one[0])
    worst = stress(weak)
    partial, metal = gamma_M0(sheets)
    stands = Stated("f_y", "MPa", weak.f_y, "yield strength of that sheet")
    return _judged(
        method, len(every) < len(sheets), capacity=weak.f_y, demand=float(worst.value), required=partial * load_factor,
        unit="MPa", trace=[*cores((weak,)), worst, stands], note=metal,
    )  # fmt: skip


def _judged(
    method: Method, one_unknown: bool, *, capacity: float, demand: float, required: float, unit: str,
    trace: Sequence[Evaluation | Stated], note: str,
) -> Check:  # fmt: skip
    """The check; of a stack in which the yield of one sheet is not known, the others bound it from above."""
    if one_unknown:
        return method.at_most(NO_YIELD, capacity=capacity, demand=demand, required=required, unit=unit, trace=trace)
    return method.judge(capacity=capacity, demand=demand, required=required, unit=unit, trace=trace, note=note)
