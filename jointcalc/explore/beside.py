"""Items of a project judged, and beside each what its reader is shown: thinner sheet, a weld fewer, alternatives.

The long work on a project of many items, done by all processors at once (`jointcalc.parallel`).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Any, Literal

from jointcalc.check import check_each
from jointcalc.errors import InputErrors
from jointcalc.model.fields import Item
from jointcalc.parallel import Done, share_out, workers
from jointcalc.registry import BY_KEY, load
from jointcalc.result import Result

if TYPE_CHECKING:
    from jointcalc.explore.alternatives import Alternative
    from jointcalc.explore.changed import Changed

Beside = Literal["nothing", "thin", "changes", "all"]
"""What an item is judged beside: nothing, itself of thinner sheet, also with a weld fewer, also its alternatives."""
Draw = Callable[[Result], Iterable[Any]]
TIMES: dict[Beside, float] = {"nothing": 1.0, "thin": 2.0, "changes": 4.0, "all": 5.0}
"""How much longer each takes than the item alone, about."""


@dataclass(frozen=True, slots=True)
class Judged:
    """An item's result, and what stands beside it: changes (thinner sheet first) and alternatives, where asked.

    `drawn` is what was drawn of the result, None where nothing was asked to draw it.
    """

    result: Result
    changed: tuple[Changed, ...] = ()
    others: tuple[Alternative, ...] = ()
    drawn: tuple[Any, ...] | None = None


def judge_each(
    items: Sequence[Item],
    beside: Beside = "nothing",
    *,
    where: str = "",
    done: Done | None = None,
    draw: Draw | None = None,
) -> tuple[Judged, ...]:
    """Judge the items of one project, in their order; `where` names its file, `done(n, of)` hears of progress.

    `draw` makes drawings of a result where it was judged: only there is a panel's shape still at hand.

    Raises InputErrors, each fault at its item.
    """
    effort = [effort_of(item) * TIMES[beside] for item in items]
    if workers(effort) == 1:
        results = check_each(_heard(items, done), where=where)
        return tuple(_with(item, result, beside, draw) for item, result in zip(items, results, strict=True))
    for kind in {item.kind for item in items}:
        load(BY_KEY[kind].check)  # here, where every worker finds it imported
    alone = [n for n, item in enumerate(items) if item.links is None]
    held, shared = [[items[n]] for n in alone], [effort[n] for n in alone]
    found = dict[int, Judged | InputErrors]()
    for n, (answer,) in zip(alone, share_out(partial(_judged, beside, where, draw), held, shared, done), strict=True):
        found[n] = answer
    # mounts judge what carries them: last, so that they find it judged
    mounts = [n for n, item in enumerate(items) if item.links is not None]
    for n in mounts:
        _link(items[n], ((items[k], one.result) for k, one in found.items() if isinstance(one, Judged)))
    found |= zip(mounts, _judged(beside, where, draw, [items[n] for n in mounts]), strict=True)
    made = [found[n] for n in range(len(items))]
    if faults := [fault for one in made if isinstance(one, InputErrors) for fault in one.faults]:
        raise InputErrors(faults)
    return tuple(one for one in made if isinstance(one, Judged))


def _link(mount: Item, known: Iterable[tuple[Item, Result]]) -> None:
    """Give a mount the results of what it stands on, but for those that duds or scatter have been added to."""
    assert mount.links is not None
    for item, result in known:
        if mount.beneath(item.id) is item and not _asks(item):
            mount.links[item.id] = result


def _heard(items: Sequence[Item], done: Done | None) -> Iterator[Item]:
    for n, item in enumerate(items):
        if done:
            done(n, len(items))
        yield item


def effort_of(item: Item) -> float:
    """About how long an item takes to judge beside a spot seam under one load."""
    return BY_KEY[item.kind].effort * max(1, len(item.standings))


def _judged(beside: Beside, where: str, draw: Draw | None, items: Sequence[Item]) -> list[Judged | InputErrors]:
    """A task: what is found of each item, or what is wrong with it."""
    found: list[Judged | InputErrors] = []
    for item in items:
        try:
            (result,) = check_each([item], where=where)
            found.append(_with(item, result, beside, draw))
        except InputErrors as error:
            found.append(error)
    return found


def _with(item: Item, result: Result, beside: Beside, draw: Draw | None) -> Judged:
    result = with_asked(result)
    # first: later panels of other sheet take the place of this one's shape
    drawn = None if draw is None else tuple(draw(result))
    if beside == "nothing":
        return Judged(result, drawn=drawn)
    from jointcalc.explore.alternatives import alternatives
    from jointcalc.explore.sensitivity import sensitivity, thinner

    if beside == "thin":
        return Judged(result, (thinner(item, result),), drawn=drawn)
    return Judged(result, sensitivity(item, result), alternatives(item) if beside == "all" else (), drawn)


def _asks(item: Item) -> bool:
    """Whether it asks for duds or scatter."""
    return getattr(item, "dud_rate", None) is not None or bool(item.scatter)


def with_asked(result: Result) -> Result:
    """The result with what its item's `dud_rate` and `scatter` ask for; nothing is imported where it asks nothing."""
    if getattr(result.model, "dud_rate", None) is not None:
        from jointcalc.explore.duds import with_duds

        result = with_duds(result)
    if getattr(result.model, "scatter", ()):
        from jointcalc.explore.scatter import with_scatter

        result = with_scatter(result)
    return result
