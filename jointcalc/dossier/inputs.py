"""What the builder gave for an item, as typed and as resolved, and what was assumed beside it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, get_args

from jointcalc.dossier.coupons import sets_of
from jointcalc.dossier.words import BREAK, amount, breakable, clean, short, spoken
from jointcalc.dossier.words import unit as unit_text
from jointcalc.formula.printed import number, pretty
from jointcalc.formula.safety import HANDBOOK_FACTOR
from jointcalc.model.fields import Described, Item, Numbers, Quantity
from jointcalc.model.project import LoadCase
from jointcalc.model.sheet import Sheet
from jointcalc.model.typed import entries_of, rest_of, text_of
from jointcalc.quantity.sentence import printed
from jointcalc.quantity.show import System, figures, show, show_in
from jointcalc.result import Result, Stated

_SIZE = re.compile(r"(\d+(?:\.\d+)?) mm")
MOST_LISTED = 60
"""Entries of one field (holes, weld lines) that are listed; all of them are in the drawing."""


def inputs_of(
    item: Item, system: System, written: Mapping[str, Any] | None = None
) -> tuple[list[list[str]], list[list[str]]]:
    """([field, as typed, as resolved] of what was typed, [field, value] of what stands at its default or is filled in).

    `written` is what stands in the file for the item; without it, all that it was made from.
    """
    rows, defaults = [], []
    for name, typed in entries_of(item, written):
        value, about = getattr(item, name), type(item).model_fields[name]
        resolved = _resolved(value, [about.annotation, *about.metadata], system)
        if typed is None and isinstance(value, str) and (size := _SIZE.fullmatch(value)):
            resolved = amount(show(float(size[1]), "length", system))  # a size that stands as text: spots of a brace
        if name == "span":  # read by the model itself
            resolved = ", ".join(amount(show(v, "length", system)) for v in value)
        label = name.replace("_", " ")
        if typed is None:
            defaults.append([label, resolved])
            continue
        written_text = text_of(typed, _word, MOST_LISTED)
        rows.append([label, written_text, "" if _tight(written_text) == _tight(resolved) else resolved])
    return rows, defaults


def _tight(text: str) -> str:
    return "".join(c for c in text if not c.isspace() and c != BREAK)


def _word(value: object) -> str:
    return breakable(short(value, 400), 20)


def _kinds(hints: Iterable[Any]) -> Iterator[Quantity | Numbers]:
    for hint in hints:
        if isinstance(hint, Quantity | Numbers):
            yield hint
        else:
            yield from _kinds([*get_args(hint), *getattr(hint, "__metadata__", ())])


def _resolved(value: Any, hints: list[Any], system: System) -> str:
    kind = next(_kinds(hints), None)
    if isinstance(value, Sheet):
        return sheet_text(value, system)
    if isinstance(value, Described):
        fields = type(value).model_fields
        told = ((n, getattr(value, n), [a.annotation, *a.metadata]) for n, a in fields.items())
        return "; ".join(f"{n.replace('_', ' ')} {_resolved(v, h, system)}" for n, v, h in told if v not in (None, ""))
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float | int):
        if isinstance(kind, Quantity) and isinstance(value, float):
            return amount(show(value, kind.kind, system))
        return figures(float(value))
    if isinstance(value, tuple):
        if isinstance(kind, Numbers) and value and all(isinstance(v, float) for v in value):
            return ", ".join(amount(show(v, kind.kind, system)) for v in value)
        return " | ".join(_resolved(v, hints, system) for v in value[:MOST_LISTED]) + rest_of(len(value), MOST_LISTED)
    return _word("-" if value is None else value)


def sheet_text(sheet: Sheet, system: System) -> str:
    """A sheet as resolved: what carries and how strong."""
    parts = [f"{clean(sheet.material.grade)}, carries {amount(show(sheet.t, 'length', system))}"]
    if sheet.coated:
        parts.append(f"zinc {clean(sheet.coating)} taken off {amount(show(sheet.thickness, 'length', system))}")
    if sheet.has_yield:
        parts.append(f"f_y {amount(show(sheet.f_y, 'stress', system))}")
    parts.append(f"f_u {amount(show(sheet.f_u, 'stress', system))}")
    return ", ".join(parts)


def _stated(part: Stated, system: System) -> str:
    """A stated value with its unit; under inch units with the inch value beside it, as in the working."""
    if part.unit in ("", "1"):
        return number(part.value)
    text = f"{number(part.value)} {unit_text(part.unit)}"
    other = amount(show_in(part.value, part.unit, system))
    return text if system == "metric" or other.split() == text.split() else f"{text} ({other})"


def assumptions_of(
    result: Result, item: Item, case: LoadCase | None, system: System = "metric", *, stated: bool = True
) -> list[str]:
    """What was taken for granted: factors, coupons; with `stated` shares of load and others that a working gives."""
    told: list[str] = []
    if case is not None and case.ultimate:
        told.append("The load is ultimate by nature: nothing is added to it (γ_F = 1).")
    elif case is not None and case.load_factor is not None:
        told.append(f"γ_F = {item.load_factor:g} on the service load, as the load case states.")
    else:
        told.append(f"γ_F = {item.load_factor:g} on the service load (the load case states none).")
    if item.handbook_factor == HANDBOOK_FACTOR:
        told.append(
            f"Handbook strengths are divided by {HANDBOOK_FACTOR:.1f}: our default, common practice, no source."
        )
    else:
        told.append(f"Handbook strengths are divided by the builder's own factor, {item.handbook_factor:g}.")
    told.append(
        "What coupons of these sheets show stands under Evidence, from the project's log."
        if sets_of(item)
        else "Coupons of these sheets and settings were made and passed, as the builder states."
        if item.coupons
        else "No coupons of these sheets and settings are stated; sound welds are assumed."
    )
    for check in result.checks if stated else ():
        if check.status == "outside":
            continue
        for part in check.trace:
            if isinstance(part, Stated):
                told.append(f"{pretty(part.symbol)} = {_stated(part, system)}: {spoken(printed(part.how, system))}.")
    return [breakable(text) for text in dict.fromkeys(told)]


def _stands_in(item: Item, case: LoadCase) -> bool:
    """Whether a case loads an item: it names it, or one of its loads comes in it."""
    if item.standings:
        return any(given.case == case.id for one in item.standings for given in one.given)
    return item.case == case.id
