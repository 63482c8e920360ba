"""An item that stands under several loads: each is judged, and the worst governs.

Feet, directions and cases are not added up but judged one by one; the result is that of the load that governs, and
names every other with its verdict.  What no method covers under any of them keeps the item `outside`.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Mapping
from dataclasses import replace
from typing import Any

from jointcalc.errors import InputError
from jointcalc.model.fields import Item
from jointcalc.quantity.sentence import Sentence, joined
from jointcalc.result import GRAVEST, Result, Under, caution, collect


def envelope(item: Item, judge: Callable[[Any], Result]) -> Result:
    """The item judged under each of its loads; the checks and values are those of the load that governs.

    Raises InputError, naming the load under which the item cannot be judged as described.
    """
    found: list[tuple[Result, Under]] = []
    judged: dict[Hashable, Result] = {}
    for standing in item.standings:
        load = _but_for_rounding(standing.fields)
        try:
            result = judged[load] if load in judged else judge(item.loaded(standing))
        except InputError as error:
            raise error.at(where=f"{item.id}, under {standing.name}, {standing.under}") from error
        judged[load] = result
        if standing.left:
            result = replace(result, unjudged=(*result.unjudged, *standing.left))
        worst = result.worst
        used = None if worst is None else worst.utilisation
        found.append((result, Under(standing, result.status, used, result.governing)))
    found.sort(key=lambda one: (-GRAVEST[one[0].status], -(one[1].utilisation or 0.0)))
    governs = found[0][0]
    left = [
        Sentence(f"{text} (under {under.standing.name}, {under.standing.under})")
        for result, under in found[1:]
        for text in result.unjudged
        if text not in governs.unjudged
    ]
    codes = dict.fromkeys(code for standing in item.standings for given in standing.given for code in given.cautions)
    raised = [*(c for result, _ in found for c in result.cautions), *(caution(code) for code in codes)]
    return replace(
        governs,
        unjudged=(*governs.unjudged, *_first(left)),
        cautions=tuple(collect(raised)),
        loads=tuple(under for _, under in found),
    )


FIGURES = 10
"""Figures in which two loads may agree to be one: the two ends of a member carry alike but for rounding."""


def _but_for_rounding(value: Any) -> Hashable:
    """The numbers and texts of a load; those that differ by no more than rounding are the same."""
    if isinstance(value, Mapping):
        return tuple((name, _but_for_rounding(part)) for name, part in value.items())
    if isinstance(value, tuple | list):
        return tuple(_but_for_rounding(part) for part in value)
    if isinstance(value, float):
        return 0.0 if abs(value) < 1e-6 else float(f"{value:.{FIGURES - 1}e}")  # a millionth of a newton is none
    return str(value)


MOST_TOLD = 5
"""Sentences of what is not judged under the other loads; more are counted."""


def _first(left: list[Sentence]) -> list[Sentence]:
    if len(left) <= MOST_TOLD:
        return left
    return [*left[:MOST_TOLD], joined("", [f"{len(left) - MOST_TOLD} more such under its other loads"])]
