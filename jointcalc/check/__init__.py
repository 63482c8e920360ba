"""Turns a described joint, member or panel and its loads into a judged result.

One module per kind; the kind's record says which, so that a quick command imports only the one it needs.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from types import ModuleType
from typing import TYPE_CHECKING, Any, overload

from jointcalc.errors import InputError, InputErrors
from jointcalc.model.fields import Item
from jointcalc.quantity.show import figures
from jointcalc.registry import BY_KEY, KINDS, load
from jointcalc.result import Method, Result, Results, caution, collect, methods

if TYPE_CHECKING:
    from jointcalc.model.project import Project


@overload
def check(item: Item) -> Result: ...
@overload
def check(item: Project) -> Results: ...
def check(item: Item | Project) -> Result | Results:
    """Judge one described item, or all of a project.  Raises InputError when it cannot be judged as described.

    An item whose loads follow from others is judged under each of them; the worst governs (`Result.loads`).
    """
    if not isinstance(item, Item):
        return _project(item)
    result = _item(item)
    if not item.noticed:
        return result
    said = (caution(one.code, **one.words) for one in item.noticed)
    return replace(result, cautions=collect((*result.cautions, *said)))


def _item(item: Item) -> Result:
    judge: Callable[[Any], Result] = _lasting(load(BY_KEY[item.kind].check))
    if item.standings:
        from jointcalc.check.envelope import envelope

        return envelope(item, judge)
    if item.load:
        raise InputError(
            f"comes '{item.load[0]}', which is known in a project only; read it with load_project(path)", field="load"
        )
    if directions := load(BY_KEY[item.kind].directions)(item):
        from jointcalc.check.may_carry import may_carry

        return may_carry(item, directions, judge)
    return judge(item)


def _lasting(judge: Callable[[Any], Result]) -> Callable[[Any], Result]:
    """The same judge, under which load changes that are asked for and that no method of the kind judges stay open."""

    def judged(item: Item) -> Result:
        result = judge(item)
        loaded = result.worst is None or result.worst.safety_factor is not None
        if item.cycles is None or item.lasts or not loaded:
            return result
        left = f"no method judges whether it lasts {figures(item.cycles)} load changes"
        return replace(result, unjudged=(*result.unjudged, left))

    return judged


def _project(project: object) -> Results:
    from jointcalc.model.project import Project

    if not isinstance(project, Project):
        raise InputError(
            f"a {type(project).__name__} cannot be judged; give a model such as SpotSeam(...), or a project from "
            "load_project(path)"
        )
    if not project.items:
        raise InputError("has no items to judge", where=project.path.name if project.path else "project")
    return check_each(project.items)


def check_each(items: Iterable[Item], *, where: str = "") -> Results:
    """Judge items of one project, in their order; `where` names the file.  Raises InputErrors, each fault at its item.

    What a mount stands on is judged once, for itself and for every mount above it, whichever comes first.
    """
    results, faults = [], []
    judged: dict[str, tuple[Item | None, Result]] = {}
    for item in items:
        links = item.links
        if links is not None:
            links |= {one: result for one, (below, result) in judged.items() if item.beneath(one) is below}
        same, result = judged.get(item.id, (None, None))
        if result is None or same is not item:
            try:
                result = check(item)
            except InputError as error:
                faults.append(error.at(where=f"{where}: {item.id}" if where else item.id))
                continue
        judged[item.id] = item, result
        if links is not None:
            judged |= {one: (item.beneath(one), found) for one, found in links.items()}
        results.append(result)
    if faults:
        raise InputErrors(faults)
    return Results(results)


def all_methods() -> Mapping[str, Method]:
    """Every method of every kind, by key."""
    for kind in KINDS.values():
        load(kind.check)
        load(kind.directions)
    load("jointcalc.check.coupons:check_group")  # a log of coupons is no item of a project
    load("jointcalc.check.coupon_method:spot_checks")  # asked only beside a log
    return methods()


class _Callable(ModuleType):
    """The package, callable: `jointcalc.check` is a function to its users and a package to the import system.

    Whichever of the two a program meets first, `jointcalc.check(model)` judges.
    """

    def __call__(self, item: Any) -> Any:
        return check(item)


sys.modules[__name__].__class__ = _Callable
