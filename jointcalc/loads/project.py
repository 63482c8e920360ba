"""The loads of one project, from giver to giver, hung on the items that ask for them.

The order is that in which loads pass on: things on their feet (a mount), then what only gives (`registry.GIVERS`: a
frame, a body), each of which may ask for what those before it gave.  An item that says `load = "from bench"` stands
under every case and direction in which the bench gives something; several givers act together in one case.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from itertools import product
from typing import Any

from jointcalc.errors import InputError, InputErrors
from jointcalc.loads.cases import in_force
from jointcalc.model.evidence import Noticed
from jointcalc.model.given import Asked, CaseInForce, Context, Given, Standing, read_asked
from jointcalc.model.project import Project
from jointcalc.registry import BY_KEY, SOURCES, load

MOST_STANDINGS = 500
"""Loads of one item: feet times directions times cases."""


def carried(project: Project) -> Project:
    """The project with the loads on every item that asks for them.  Raises InputErrors, each fault at its place."""
    faults: list[InputError] = []
    cases = _cases(project, faults)
    given = _given(project, cases, faults)
    if faults:
        raise InputErrors(faults)
    items = []
    for item in project.items:
        try:
            items.append(item.under(standings(item, given)) if item.load else item)
        except InputErrors as error:
            faults += [fault.at(where=_where(project, item)) for fault in error.faults]
        except InputError as error:
            faults.append(error.at(where=_where(project, item)))
    if faults:
        raise InputErrors(faults)
    items = [_noticed(item, given) for item in items]
    # a mount judges its chain, and stands under cases, of the project it is in
    context = _context(project, cases, given, items)
    links: dict[str, Any] = {}
    items = [item.inside(context, links) if hasattr(item, "inside") else item for item in items]
    return project.model_copy(update={"items": tuple(items)})


def around(project: Project) -> Context:
    """What a giver of the project may ask for, but what others give.  Raises InputErrors for a case that is wrong."""
    faults: list[InputError] = []
    cases = _cases(project, faults)
    if faults:
        raise InputErrors(faults)
    return _context(project, cases, {}, project.items)


def _context(
    project: Project, cases: Mapping[str, CaseInForce], given: Mapping[str, tuple[Given, ...]], items: Iterable[Any]
) -> Context:
    """What stands around a giver or an item: cases, what was given so far, and all that is in the file."""
    return Context(
        cases=cases,
        given=given,
        items={item.id: item for item in items},
        things={thing.id: thing for thing in (*project.givers, *project.parts)},
        forward=project.about.forward_direction,
    )


def _noticed(item: Any, given: Mapping[str, tuple[Given, ...]]) -> Any:
    """The item with what it passes over: a load that is put on it and that it does not ask for."""
    asked = {read_asked(text, given).giver for text in item.load}
    puts = dict.fromkeys(g.giver for many in given.values() for g in many if item.id in g.onto and g.giver not in asked)
    if not puts:
        return item
    return item.beside([*item.noticed, *(Noticed("load-passed-over", {"giver": giver}) for giver in puts)])


def _where(project: Project, thing: Any) -> str:
    return f"{project.path.name}: {thing.id}" if project.path else str(thing.id)


def _cases(project: Project, faults: list[InputError]) -> Mapping[str, CaseInForce]:
    found = {}
    for case in project.cases:
        try:
            found[case.id] = in_force(case, forward=project.about.forward_direction)
        except InputError as error:
            faults.append(error.at(where=_where(project, case)))
    return found


def _given(
    project: Project, cases: Mapping[str, CaseInForce], faults: list[InputError]
) -> Mapping[str, tuple[Given, ...]]:
    """What every giver gives, by its id."""
    found: dict[str, tuple[Given, ...]] = {}
    givers = [(item, BY_KEY[item.kind].gives) for item in project.items]
    by_model = {one.model.partition(":")[2]: one for one in SOURCES.values()}
    givers += [(giver, by_model[type(giver).__name__].gives) for giver in project.givers]
    for thing, place in givers:
        if place == NO_GIVER:
            continue
        try:
            found[thing.id] = tuple(load(place)(thing, _context(project, cases, dict(found), project.items)))
        except InputErrors as error:
            faults += [fault.at(where=_where(project, thing)) for fault in error.faults]
        except InputError as error:
            faults.append(error.at(where=_where(project, thing)))
    return found


NO_GIVER = "jointcalc.registry:gives_nothing"


def standings(item: Any, given: Mapping[str, tuple[Given, ...]]) -> tuple[Standing, ...]:
    """The loads an item stands under: one for each case and direction, and for each part where it is one of several.

    Raises InputError where a giver is unknown, gives the item nothing, or the item's own numbers stand beside.
    """
    kind = BY_KEY[item.kind]
    asked = [read_asked(text, given) for text in item.load]
    choices = [(one, _parts(item, one, given[one.giver])) for one in asked]
    unders = dict.fromkeys((g.case, g.direction) for _, parts in choices for g in parts)
    found: list[Standing] = []
    for under in unders:
        ways: list[list[tuple[Given, ...]]] = []
        for one, parts in choices:
            here = [g for g in parts if (g.case, g.direction) == under]
            if not here:
                continue
            if one.part:
                ways.append([tuple(here)])
                continue
            # one of several alike stands under each by itself, whatever its kind carries together
            alone = [g for g in here if g.right_there or not kind.together]
            rest = tuple(g for g in here if kind.together and not g.right_there)
            ways.append([(g, *rest) for g in alone] or [rest])
        for chosen in product(*ways):
            found.append(_standing(item, [g for group in chosen for g in group]))
    if item.case:
        found = [one for one in found if one.given[0].case == item.case]
        if not found:
            raise InputError(f"none of its loads belongs to the case '{item.case}'", field="case")
    found = [one for one in found if one.left or any(_numbers(one.fields))]
    if not found:
        raise InputError("gets no load in any case from what it names; no case presses or pulls on it", field="load")
    if len(found) > MOST_STANDINGS:
        raise InputError(
            f"stands under {len(found)} loads (feet, directions and cases multiplied); accepted is up to "
            f"{MOST_STANDINGS}: name one foot or one case",
            field="load",
        )
    return _once(found)


def _parts(item: Any, one: Asked, given: tuple[Given, ...]) -> list[Given]:
    """Those of a giver's loads that fall to the item."""
    if one.part:
        # what only names itself goes to whoever asks for it by name: what holds a frame, a field that presses
        found = [g for g in given if g.part == one.part and (not g.onto or item.id in g.onto or g.name in g.onto)]
        if not found:
            told = ", ".join(dict.fromkeys(g.part for g in given if g.part)) or "it has no parts"
            raise InputError(f"'{one.giver}' has no part '{one.part}' (it has: {told})", field="load")
        return found
    named = [g for g in given if item.id in g.onto]
    found = named or [g for g in given if not g.onto]
    if not found:
        told = ", ".join(sorted({name for g in given for name in g.onto})) or "nothing: it has no load in any case"
        raise InputError(f"'{one.giver}' puts nothing on {item.id} (it gives loads to: {told})", field="load")
    return found


REPLACED = ("ends",)
"""Fields that say how an item is held where it stands alone: a giver that has found the moments at its ends puts those
in their place."""


def _standing(item: Any, given: list[Given]) -> Standing:
    taken = load(BY_KEY[item.kind].takes)(item, given)
    typed = [name for name in taken.fields if item.typed(name) and name not in REPLACED]
    if typed:
        raise InputError(
            f"is typed though the load comes from {given[0].giver}; a number stands in one place: take one of them out",
            field=typed[0],
        )
    fields = dict(taken.fields)
    factor = next((g.load_factor for g in given if g.load_factor is not None), None)
    if factor is not None and not item.typed("load_factor"):
        fields["load_factor"] = factor
    cycles = next((g.cycles for g in given if g.cycles is not None), None)
    if cycles is not None and not item.typed("cycles"):
        fields["cycles"] = cycles
    way = tuple(dict.fromkeys(station for g in given for station in g.way))
    if taken.cautions:
        given = [replace(given[0], cautions=(*given[0].cautions, *taken.cautions)), *given[1:]]
    return Standing(given=tuple(given), fields=fields, left=taken.left, way=(*way, *taken.way))


def _numbers(fields: Mapping[str, Any]) -> Iterable[float]:
    """All numbers of a load, whatever lists they stand in; its factor and its cycles load nothing."""
    stack = [value for name, value in fields.items() if name not in ("load_factor", "cycles", "at")]
    while stack:
        value = stack.pop()
        if isinstance(value, int | float):
            yield float(value)
        elif isinstance(value, list | tuple):
            stack += value


def _once(found: Iterable[Standing]) -> tuple[Standing, ...]:
    """Loads that are the same number for number are one: four feet that press alike."""
    seen: dict[str, Standing] = {}
    for one in found:
        seen.setdefault(repr((sorted(one.fields.items()), one.left)), one)
    return tuple(seen.values())
