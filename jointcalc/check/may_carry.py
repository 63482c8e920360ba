"""What a joint may carry where no load is given: the greatest load in each direction by itself, and what limits it.

Each direction is tried alone and judged by the same rules, so the answer is what these rules would pass, not a second
computation.  It says nothing of loads that act together.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from math import floor, log10, sqrt
from typing import TYPE_CHECKING, Any, Literal

from jointcalc.errors import InputError
from jointcalc.formula.core import Source
from jointcalc.model.fields import Item
from jointcalc.model.row import WeldRow
from jointcalc.quantity.sentence import Sentence
from jointcalc.result import DETAILING, MAY_CARRY, Check, Result, caution, collect, method
from jointcalc.result.factor import Factor

if TYPE_CHECKING:
    from jointcalc.model.bolts import FastenerGroup
    from jointcalc.model.fillet import FilletGroup


@dataclass(frozen=True, slots=True)
class Direction:
    """A direction in which an unloaded item is tried: its word, and the fields that a load of some newtons fills."""

    word: str
    title: str
    fields: Callable[[float], Mapping[str, Any]]


Whole = Literal["seam", "group"]
"""What a load in one direction loads."""
WHOLES: tuple[Whole, ...] = ("seam", "group")

RULES = {
    per: method(
        f"may-carry.{per}",
        "May carry",
        Source("the checks of the item", "greatest load that all of them pass", "derivation"),
        per=per,
        basis=MAY_CARRY,
        factor=Factor("what the governing check requires is in it"),
    )
    for per in WHOLES
}
TRIES = 40
"""Judgements a direction may take: the greatest load is closed in on by what is used of it."""
CLOSE = 1e-3
"""How near the answer comes below the limit: three figures are printed."""
FIRST = 100.0
"""First load tried [N]."""
MOST = 1e7
"""Loads beyond are not tried [N]: the fields refuse them."""


def may_carry(item: Item, directions: Iterable[Direction], judge: Callable[[Any], Result]) -> Result:
    """The unloaded item's result with one check for each direction."""
    directions = tuple(directions)
    tried = [_greatest(item, one, judge) for one in directions]
    per: Whole = "seam" if isinstance(item, WeldRow) else "group"
    checks = [_check(RULES[per], one, *found) for one, found in zip(directions, tried)]
    if per == "seam":
        base = judge(item)
        return replace(base, checks=(*checks, *base.checks))
    first = next((result for _, result, _ in tried if result is not None), None)
    if first is None:
        raise InputError(f"can be judged in no direction: {tried[0][2]}", field="force")
    details = tuple(c for c in first.checks if c.method.basis == DETAILING)
    raised = [c for _, result, _ in tried if result is not None for c in result.cautions]
    raised.append(caution("no-load"))
    return replace(
        first, checks=(*checks, *details), values={}, unjudged=(), model=item, cautions=tuple(collect(raised))
    )


def _check(rule: Any, direction: Direction, size: float | None, result: Result | None, reason: str) -> Check:
    where = direction.word
    if size is None or result is None:
        found: Check = rule.outside(reason, where=where)
    else:
        worst = result.worst
        assert worst is not None
        found = rule.judge(capacity=_down(size), demand=0.0, required=1.0, where=where, trace=worst.trace)
        found = replace(found, note=Sentence(f"by {worst.title} [{worst.key}]"))
    return replace(found, title=direction.title)


def _greatest(
    item: Item, direction: Direction, judge: Callable[[Any], Result]
) -> tuple[float | None, Result | None, str]:
    """The greatest load that holds, its result, and why there is none.

    What is used grows with the load, and mostly in proportion: the next trial is where the limit would be, or the
    middle between what holds and what does not, until the two stand within `CLOSE`.
    """
    size, low, high = FIRST, 0.0, MOST
    best: Result | None = None
    for _ in range(TRIES):
        try:
            result = judge(item.but(**direction.fields(size)))
        except InputError as error:
            return None, best, error.message
        worst = result.worst
        if result.status == "outside":
            return None, result, result.unjudged[0] if result.unjudged else "no method applies"
        assert worst is not None
        if worst.method.basis == DETAILING and worst.status == "over":
            return None, result, f"over whatever the load by {worst.title} [{worst.key}]"
        if result.status == "ok":
            low, best = size, result
        else:
            high = size
        if high <= low * (1 + CLOSE):
            break
        guess = size / worst.utilisation if worst.utilisation else size * 10
        size = guess * (1 - CLOSE / 4 if result.status == "over" else 1 + CLOSE / 4)
        if not low < size < high:
            size = sqrt(max(low, LEAST) * high)
        if high <= LEAST or low >= MOST / 2:
            break
    if best is None:
        return None, None, "nothing, however small, holds"
    return low, best, ""


LEAST = 1e-2
"""Loads below are nothing [N]: what does not hold them holds nothing."""


def _down(size: float) -> float:
    """Rounded down to three figures."""
    step = 10.0 ** (floor(log10(size)) - 2)
    return floor(size / step * (1 + 1e-12)) * step


# --- directions of the kinds -----------------------------------------------------------------------------


def seam(item: Any) -> tuple[Direction, ...]:
    """Along the row, across it, and lifted off where the arm of the peel is known."""
    if item.shear or item.across or item.peel or item.moment or item.compression:
        return ()
    return (
        Direction("along", "Along the seam", lambda size: {"shear": size}),
        Direction("across", "Across the seam", lambda size: {"across": size}),
        Direction("peel", "Peeled off", lambda size: {"peel": size}),
    )


def plug(item: Any) -> tuple[Direction, ...]:
    """Along the row, across it, lifted off."""
    if item.shear or item.across or item.uplift:
        return ()
    return (
        Direction("along", "Along the row", lambda size: {"shear": size}),
        Direction("across", "Across the row", lambda size: {"across": size}),
        Direction("uplift", "Lifted off", lambda size: {"uplift": size}),
    )


def group(item: FastenerGroup | FilletGroup) -> tuple[Direction, ...]:
    """Both ways along x and y and out of the plane, at `at` or else in the middle of the group."""
    if item.loaded_by_itself:
        return ()
    # told apart without their models: a quick command imports no kind but its own
    holes: tuple[tuple[float, float], ...] = getattr(item, "holes", ())
    if item.at is not None:
        at: tuple[float, ...] = item.at
    elif holes:
        at = (sum(h[0] for h in holes) / len(holes), sum(h[1] for h in holes) / len(holes), 0.0)
    else:
        centre = item.group.sections()  # type: ignore[union-attr]  # what has no holes has lines
        at = (float(centre.x), float(centre.y), 0.0)

    def along(axis: int, sign: float) -> Callable[[float], Mapping[str, Any]]:
        return lambda size: {"force": tuple(sign * size if k == axis else 0.0 for k in range(3)), "at": at}

    words = (("x", "Along x"), ("-x", "Against x"), ("y", "Along y"), ("-y", "Against y"), ("z", "Pulled along z"))
    pressed = ("-z", "Pressed against z")
    return tuple(
        Direction(word, title, along("xyz".index(word[-1]), -1.0 if word.startswith("-") else 1.0))
        for word, title in (*words, pressed)
    )
