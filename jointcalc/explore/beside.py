"""Items of a project judged, and beside each what its reader is shown: thinner sheet, a weld fewer, alternatives.

The long work on a project of many items, done by all processors at once (`jointcalc.parallel`).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import TYPE_CHECKING, Any, Literal

from jointcalc.check import check_each
from jointcalc.errors import InputErrors
from jointcalc.model.fields import Item
from jointcalc.parallel import Done, share_out, workers
from jointcalc.registry import BY_KEY, load
from jointcalc.result import Result
from jointcalc.result.cautions import all_cautions

if TYPE_CHECKING:
    from jointcalc.explore.alternatives import Alternative
    from jointcalc.explore.changed import Changed

Beside = Literal["nothing", "thin", "changes", "all"]
"""What an item is judged beside: nothing, itself of thinner sheet, also with a weld fewer, also its alternatives."""
Draw = Callable[[Result], Iterable[Any]]
TIMES: dict[Beside, float] = {"nothing": 1.0, "thin": 2.0, "changes": 4.0, "all": 5.0}
"""How much longer each takes than the item alone, about."""
APART = 100.0
"""Effort from which on an item of thinner sheet is a task of its own: else all would wait for the last panel."""
Part = Literal["whole", "all but thin", "thin"]
"""What of an item a task is: it and all beside it, that without the item of thinner sheet, or only this."""


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
    alone = [n for n, item in enumerate(items) if item.links is None]
    tasks = [(n, part) for n in alone for part in _parts(items[n], beside)]
    effort = [effort_of(items[n]) * _times(part, beside) for n, part in tasks]
    if workers(effort) == 1:
        results = check_each(_heard(items, done), where=where)
        return tuple(_with(item, result, beside, draw) for item, result in zip(items, results, strict=True))
    for kind in {item.kind for item in items}:
        load(BY_KEY[kind].check)  # here, where every worker finds it imported
    all_cautions()  # and this read, as every result asks for some
    found: dict[int, Judged | InputErrors] = {}
    thin: dict[int, Changed] = {}
    held = [(items[n], part) for n, part in tasks]
    for (n, _), answer in zip(tasks, share_out(partial(_answer, beside, where, draw), held, effort, done), strict=True):
        if isinstance(answer, Judged | InputErrors):
            found[n] = answer
        else:
            thin[n] = answer
    for n, changed in thin.items():
        if isinstance(one := found[n], Judged):
            found[n] = replace(one, changed=(changed.against(one.result), *one.changed))
    # mounts judge what carries them: last, so that they find it judged
    mounts = [n for n, item in enumerate(items) if item.links is not None]
    for n in mounts:
        _link(items[n], ((items[k], one.result) for k, one in found.items() if isinstance(one, Judged)))
    found |= {n: _judged(beside, where, draw, items[n]) for n in mounts}
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


def _parts(item: Item, beside: Beside) -> tuple[Part, ...]:
    """The tasks an item is cut into."""
    return ("all but thin", "thin") if beside != "nothing" and effort_of(item) >= APART else ("whole",)


def _times(part: Part, beside: Beside) -> float:
    """How much longer a task takes than the item alone, about."""
    return {"whole": TIMES[beside], "all but thin": TIMES[beside] - 1.0, "thin": 1.0}[part]


def _answer(beside: Beside, where: str, draw: Draw | None, task: tuple[Item, Part]) -> Judged | InputErrors | Changed:
    """A task done."""
    item, part = task
    if part == "thin":
        from jointcalc.explore.sensitivity import thinner

        return thinner(item)
    return _judged(beside, where, draw, item, part)


def _judged(beside: Beside, where: str, draw: Draw | None, item: Item, part: Part = "whole") -> Judged | InputErrors:
    """What is found of an item, or what is wrong with it."""
    try:
        (result,) = check_each([item], where=where)
    except InputErrors as error:
        return error
    return _with(item, result, beside, draw, part)


def _with(item: Item, result: Result, beside: Beside, draw: Draw | None, part: Part = "whole") -> Judged:
    result = with_asked(result)
    # first: later panels of other sheet take the place of this one's shape
    drawn = None if draw is None else tuple(draw(result))
    if beside == "nothing":
        return Judged(result, drawn=drawn)
    from jointcalc.explore.alternatives import alternatives
    from jointcalc.explore.sensitivity import fewer, thinner

    thin = (thinner(item, result),) if part == "whole" else ()
    less = () if beside == "thin" else fewer(item, result)
    return Judged(result, (*thin, *less), alternatives(item) if beside == "all" else (), drawn)


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
