"""What a search answers: the judged item with the answer put in, and one sentence; or that nothing holds."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import floor

from jointcalc.errors import InputError
from jointcalc.quantity.show import System, show
from jointcalc.result import Amount, Check, Result
from jointcalc.tables.store import load


@dataclass(frozen=True, slots=True)
class Answer:
    """The judged item with the answer put in, and the answer in one sentence."""

    result: Result
    text: str


def answered(result: Result, name: str, amounts: Mapping[str, Amount] | float, text: str, after: str = "") -> Answer:
    """The answer of a search for `name`: `amounts` join the values of the result (a number [mm] is its `found`)."""
    if isinstance(amounts, float):
        amounts = {"found": Amount(amounts, "mm")}
    worst = result.worst
    if worst is not None and worst.utilisation:
        text += f"; {margin(worst)}"
    more = f". {after}" if after else ""
    return Answer(replace(result, values={**result.values, **amounts}), f"Found {name}: {text}{more}")


def sheet_size(t: float, family: str, system: System, *, coated: bool = False) -> str:
    """A sheet thickness [mm] as a stockholder lists it (`18 ga`, `0.063 in`, `1.2 mm`), or measured where none does."""
    named = "galvanised" if coated and family == "steel" else family
    stock = (row for row in load("stock_thickness").rows if (row["series"], row["family"]) == (system, named))
    return next((row["size"] for row in stock if abs(row.need("t") - t) <= 1e-6), show(t, "length", system))


def margin(worst: Check) -> str:
    """`margin 27 %, governed by KEY`: the load could grow by that much; rounded down, and 0 when nothing is left."""
    left = max(0.0, 1 / worst.utilisation - 1) if worst.utilisation else 0.0
    return f"margin {floor(100 * left + 1e-9)} %, governed by {worst.key}"


def nothing_holds(what: str, best: Result | None, change: str) -> InputError:
    """The error of a search that found nothing: why the best try does not hold, and what to change."""
    why, worst = "", None if best is None else best.worst
    if best is not None and best.unjudged:
        why = f": {best.unjudged[0]}"
    elif worst is not None and worst.utilisation is not None:
        why = f"; even then {worst.title} is {worst.utilisation:.0%} used"
    return InputError(f"{what}{why}; change {change}", field="--find")
