"""A formula asked of every fastener of a group at once, and made a check."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

import numpy as np
import numpy.typing as npt

from jointcalc.check.common import Steps
from jointcalc.formula.core import Evaluation, Formula
from jointcalc.model.sheet import Sheet
from jointcalc.result import Check, Method, Stated
from jointcalc.statics.group_common import Array


@dataclass(frozen=True)
class Asked:
    """The verdict of one method on all fasteners: the check of the worst, and how much each one uses of it.

    Of a method left on its weak side `use` is what each uses of the bound at the edge of its range.
    """

    check: Check
    use: Array | None = field(default=None, compare=False)


Inputs = Mapping[str, Any]
Shown = Callable[[int], Steps]


def ask(
    method: Method, formula: Formula, inputs: Inputs, *, demand: Array, load_factor: float,
    share: Callable[[int], Stated], required: float | None = None,
    shown: Shown = lambda k: [], after: Callable[[Evaluation], Steps] = lambda e: [], within: Inputs | None = None,
    hard: Iterable[str] = (), weak: Iterable[str] = (), edge: Inputs | None = None, edge_within: Inputs | None = None,
    edge_after: Callable[[Evaluation], Steps] | None = None, where: str = "", note: str = "",
    covers: Iterable[str] | None = None,
) -> Asked:  # fmt: skip
    """One formula asked of every fastener; the one nearest its limit becomes the check.

    `inputs` are floats or arrays (n,); `within` replaces those that the formula's range is asked of.  `hard` are
    reasons why the method does not apply at all; `weak` why it is left on its weak side, beside what its own range
    says.  `edge` are the inputs at the edge of the range, which bound from above what was left on that side.  `shown`
    gives the steps before the formula, `after` those that follow it and end with the capacity.  `required` is for a
    method whose clause leaves a choice.
    """
    n = len(demand)
    required = method.factor.required(load_factor) if required is None else required
    stop = list(dict.fromkeys(hard))

    def scalars(values: Inputs, k: int) -> dict[str, float]:
        return {name: float(v[k] if isinstance(v, np.ndarray) and v.ndim else v) for name, v in values.items()}

    def inside(values: Inputs) -> npt.NDArray[np.bool_]:
        return np.broadcast_to(formula.inside(**values), (n,))

    def worst(values: Inputs, more: Callable[[Evaluation], Steps]) -> tuple[int, Steps, float, Array]:
        capacity = np.empty(n)
        seen: dict[tuple[float, ...], float] = {}
        names = formula.parameters
        for k in range(n):
            mine = scalars(values, k)
            one = tuple(mine[name] for name in names)
            if one not in seen:
                e = formula.evaluate(**mine)
                seen[one] = _last([e, *more(e)])
            capacity[k] = seen[one]
        with np.errstate(divide="ignore", invalid="ignore"):
            use = np.where(demand > 0, np.where(capacity > 0, required * demand / capacity, np.inf), 0.0)
        k = int(use.argmax()) if demand.any() else 0
        evaluation = formula.evaluate(**scalars(values, k))
        return k, [evaluation, *more(evaluation)], float(capacity[k]), use

    active = demand > 0 if demand.any() else np.ones(n, dtype=bool)
    ranged = {**inputs, **(within or {})}
    ok = inside(ranged)
    worst_demand = float(demand.max(initial=0.0))
    if stop:
        return Asked(method.outside(stop, demand=worst_demand, where=where))
    left = list(dict.fromkeys(weak))
    if ok[active].all() and not left:
        k, trace, capacity, use = worst(inputs, after)
        check = method.judge(
            capacity=capacity, demand=float(demand[k]), required=required, trace=[*shown(k), *trace, share(k)],
            where=where, note=note, covers=covers,
        )  # fmt: skip
        return Asked(check, use)
    bad = np.flatnonzero(active & ~ok)
    reasons = [*left, *(formula.outside(**scalars(ranged, int(bad[0]))) if len(bad) else [])]
    if edge is not None and inside({**edge, **(edge_within or {})})[active].all():
        k, trace, capacity, use = worst(edge, edge_after or after)
        check = method.at_most(
            reasons, capacity=capacity, demand=float(demand[k]), required=required, trace=[*trace, share(k)],
            where=where, covers=covers,
        )  # fmt: skip
        return Asked(check, use)
    return Asked(method.outside(reasons, demand=worst_demand, where=where))


def _last(steps: Steps) -> float:
    return float(steps[-1].value)


def family(sheet: Sheet, body: str) -> list[str]:
    """Why a rule does not cover the sheet; EN 1993-1-4 sends stainless to parts 1-3 and 1-8, no American one does."""
    if sheet.material.family == "aluminium":
        return [f"{body} is for steel, this sheet is aluminium"]
    if sheet.material.family == "stainless" and body.startswith("AI"):
        return [f"{body} is for carbon steel, this sheet is stainless"]
    return []
