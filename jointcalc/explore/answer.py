"""What a search answers: the judged item with the answer put in, and one sentence; or that nothing holds."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import floor, inf

from jointcalc.errors import InputError
from jointcalc.quantity.show import System, percent, show
from jointcalc.result import Amount, Check, Result
from jointcalc.result.plain import plain
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
    """`margin 27 %, first to give: spots pull off sideways`: the load could grow by that much.

    Rounded down, and 0 when nothing is left.
    """
    left = max(0.0, 1 / worst.utilisation - 1) if worst.utilisation else 0.0
    return f"margin {floor(100 * left + 1e-9)} %, first to give: {plain(worst)}"


@dataclass(slots=True)
class Best:
    """The best try of a search so far: what holds most of its load, before what cannot be judged; and its words."""

    result: Result | None = None
    words: str = ""

    def saw(self, result: Result, words: str) -> Result:
        """Remembers the try where it is better than those before; gives it back."""
        if self.result is None or _rank(result) < _rank(self.result):
            self.result, self.words = result, words
        return result


def _rank(result: Result) -> tuple[bool, float]:
    used = None if result.worst is None else result.worst.utilisation
    return bool(result.unjudged) or result.worst is None, inf if used is None else used


def stopped(result: Result) -> str:
    """What keeps a result from holding, in the words of the shop and of the method."""
    worst = result.worst
    if result.unjudged:
        return f"cannot be judged: {result.unjudged[0]}"
    if worst is None:
        return "cannot be judged"
    used = "" if worst.utilisation is None else f"{percent(worst.utilisation)} used: "
    return f"is {used}{plain(worst)}, by {worst.title}" if used else f"does not hold: {plain(worst)}, by {worst.title}"


def nothing_holds(what: str, best: Best, change: str, refused: InputError | None = None) -> InputError:
    """The error of a search that found nothing: its best try, what stopped that, and what to change.

    `refused` is why the search went no further.
    """
    why = f"; further ones are refused: {refused.message}" if refused is not None else ""
    if best.result is not None:
        why += f"; the best try, {best.words}, {stopped(best.result)}"
    return InputError(f"{what}{why}; change {change}", field="--find")
