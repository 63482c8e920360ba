"""The workings of an item's checks done over in arrays: the formulas that judged it, with other numbers in them.

Which input of a formula hangs on what is found by judging the item a second time with thickness, strength and weld size
each times a factor of its own: a number of the second working that is, to the last bit, the thickness of the second
item's sheet comes from there, one that is the value of another formula comes from that, and one that has not changed is
a constant.  Nothing is guessed: a number that is none of these ends the attempt.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from jointcalc.check import check
from jointcalc.errors import InputError
from jointcalc.formula.core import Evaluation, Limit
from jointcalc.model.fields import Item
from jointcalc.model.sheet import drawn_strength
from jointcalc.result import Check

Array = NDArray[np.float64]
Values = Mapping[str, Array]
Node = Callable[[Values, dict[int, Any]], Any]

TAGS: Mapping[str, float] = {"thickness": 0.998713, "strength": 1.001371, "size": 1.000913}
"""Factors of the second judgement: near 1, so that the same branches are taken, and no two alike."""


@dataclass(frozen=True, slots=True)
class Workings:
    """The strength checks of an item as functions of the factors on what it says."""

    checks: tuple[tuple[str, Node, float], ...]
    """Key, capacity in arrays, demand."""

    def least(self, values: Values) -> Array:
        """Least capacity over demand of all checks; not a number where a formula leaves its range.

        `values` are the factors by name, arrays of one shape.
        """
        least: Array | None = None
        known: dict[int, Any] = {}
        for _, capacity, demand in self.checks:
            ratio = np.asarray(capacity(values, known) / demand, dtype=np.float64)
            least = ratio if least is None else np.minimum(least, ratio)
        assert least is not None
        shape = np.shape(next(iter(values.values())))
        return np.array(np.broadcast_to(least, shape))


def workings(item: Item, by: tuple[str, ...]) -> Workings | str:
    """The workings of the item's strength checks, or why they cannot be done over in arrays."""
    from jointcalc.explore.scatter import strengths, varied

    if item.standings:
        return "its loads come from others"
    try:
        tagged_item = varied(item, TAGS)
        plain = strengths(check(item), by)
        with drawn_strength(TAGS["strength"]):
            tagged = strengths(check(tagged_item), by)
    except InputError:
        return "it cannot be described with other sizes"
    after = {c.key: c for c in tagged}
    if len(after) != len(tagged) or sorted(after) != sorted(c.key for c in plain):
        return "other methods judge it with other sizes"
    sources = dict(_sources(item, tagged_item))
    found: list[tuple[str, Node, float]] = []
    for one in plain:
        other = after[one.key]
        assert one.demand is not None
        assert one.demand.value is not None
        assert other.demand is not None
        if one.demand.value != other.demand.value:
            return f"the demand of {one.key} hangs on the sizes"
        capacity = _capacity(one, other, sources)
        if capacity is None:
            return f"{one.key} is read from a table or put together from parts"
        found.append((one.key, capacity, one.demand.value))
    return Workings(tuple(found))


def _sources(item: Any, tagged: Any) -> Iterable[tuple[float, Node]]:
    """Numbers of the second item -> what they are made of."""
    for before, now in zip(item.sheets, tagged.sheets):
        zinc = before.thickness - before.t
        yield now.t, _thickness(before.thickness, zinc)
        yield now.thickness, _thickness(before.thickness, 0.0)
        yield now.f_u, _times("strength", before.f_u)
        if before.has_yield:
            yield now.f_y, _times("strength", before.f_y)
    size = getattr(item, "size", None)
    if size is not None:
        yield tagged.size, _times("size", size)


def _thickness(thickness: float, zinc: float) -> Node:
    return lambda values, _: thickness * values["thickness"] - zinc if zinc else thickness * values["thickness"]


def _times(name: str, nominal: float) -> Node:
    return lambda values, _: nominal * values[name]


def _capacity(one: Check, other: Check, sources: Mapping[float, Node]) -> Node | None:
    """The capacity of a check as a function of the factors; None where its working does not tell."""
    assert other.capacity is not None
    if len(one.trace) != len(other.trace):
        return None
    pairs = [(a, b) for a, b in zip(one.trace, other.trace) if isinstance(a, Evaluation) and isinstance(b, Evaluation)]
    if any(a.formula is not b.formula for a, b in pairs):
        return None
    by_value = {float(b.value): (a, b) for a, b in pairs}
    return _number(other.capacity.value, None, by_value, sources, ())


def _number(
    tagged: float | None,
    plain: float | None,
    evaluations: Mapping[float, tuple[Evaluation, Evaluation]],
    sources: Mapping[float, Node],
    above: tuple[float, ...],
) -> Node | None:
    if tagged is None:
        return None
    if plain is not None and tagged == plain:
        return lambda values, known: plain
    if tagged in sources:
        return sources[tagged]
    if tagged not in evaluations or tagged in above:
        return None
    before, now = evaluations[tagged]
    inputs: dict[str, Node] = {}
    for name, value in now.inputs.items():
        node = _number(float(value), float(before.inputs[name]), evaluations, sources, (*above, tagged))
        if node is None:
            return None
        inputs[name] = node
    return _formula(now, inputs)


def _formula(evaluation: Evaluation, inputs: Mapping[str, Node]) -> Node:
    function = evaluation.formula.function
    # a limit may need what the formula does not: the check told it, and full judgements tell where it matters
    limits = [limit for limit in evaluation.formula.limits if limit.names() <= set(inputs)]
    place = id(evaluation)

    def node(values: Values, known: dict[int, Any]) -> Any:
        if place not in known:
            given = {name: one(values, known) for name, one in inputs.items()}
            out = function(**given)
            for limit in limits:
                out = _within(limit, given, out)
            known[place] = out
        return known[place]

    return node


def _within(limit: Limit, given: Mapping[str, Any], out: Any) -> Any:
    """The value, not a number where the limit is left by more than rounding."""
    guarded = limit.value(given)
    slack = 1e-9
    good = True
    if limit.low is not None:
        good = good & (guarded >= limit.low * (1 - slack if limit.low > 0 else 1 + slack))
    if limit.high is not None:
        good = good & (guarded <= limit.high * (1 + slack if limit.high > 0 else 1 - slack))
    return out if np.all(good) else np.where(good, out, np.nan)
