"""The calculation that governs an item, in full on its page: symbols with value, meaning and origin, and the lines."""

from __future__ import annotations

from collections.abc import Iterator
from math import isclose
from typing import Any

from jointcalc.dossier.common import Data, sheets_of
from jointcalc.dossier.words import amount, breakable, clean
from jointcalc.dossier.working import Names, primed, working_of
from jointcalc.formula.core import Evaluation
from jointcalc.formula.printed import pretty
from jointcalc.model.brace import Brace
from jointcalc.model.fields import Item
from jointcalc.model.takes import base_unit
from jointcalc.quantity.show import System, figures, show_in
from jointcalc.result import Looked, Result, Stated

MOST_LINES = 14
"""Lines of the governing calculation on the item's page; what is longer stands whole in the appendix."""


def governing_of(result: Result, item: Item, place: str, system: System, names: Names) -> Data | None:
    """The governing calculation and its symbols; None where nothing governs."""
    worst = result.worst
    if worst is None or not worst.trace:
        return None
    made = working_of(worst, result, system, names, set())
    made["source"] = breakable(worst.method.source.cited)
    made["more"] = max(0, len(made["lines"]) - MOST_LINES)
    made["lines"] = made["lines"][-MOST_LINES:]
    made["where"] = list(_where(result, item, place, system, names))
    return made


def _where(result: Result, item: Item, place: str, system: System, names: Names) -> Iterator[list[str]]:
    """[symbol, value, meaning, origin] of every input of the governing formulas that no line above gives."""
    worst = result.worst
    assert worst is not None
    made: set[str] = set()
    seen: set[str] = set()
    for part in worst.trace:
        if isinstance(part, Looked | Stated):
            made.add(pretty(part.symbol))
            continue
        for name in part.formula.parameters:
            symbol = pretty(name)
            unit, meaning = part.formula.names[name]
            value = float(part.inputs[name])
            shown = primed(symbol, names.mark(symbol, meaning))
            if symbol in made or shown in seen:
                continue
            seen.add(shown)
            size = figures(value) if unit in ("", "1") else show_in(value, unit, system)
            yield [clean(shown), amount(size), breakable(meaning),
                   breakable(origin(value, unit, item, result, place, worst.trace))]  # fmt: skip
        made.add(pretty(part.formula.symbol))


def origin(value: float, unit: str, item: Item, result: Result, place: str, trace: Any = ()) -> str:
    """Where an input comes from: typed (where), of a sheet, read, from a load, from the item's values, or derived."""

    def same(other: Any) -> bool:
        return isinstance(other, float | int) and not isinstance(other, bool) and isclose(other, value, rel_tol=1e-9)

    for part in trace:
        if isinstance(part, Evaluation) and part.formula.unit == unit and same(part.value):
            return f"derived: {part.formula.title.lower()}"
        if isinstance(part, Looked) and same(part.value):
            return f"table {part.table}"
    for n, sheet in enumerate(sheets_of(item), 1):
        strengths = {"f_u": sheet.f_u, "f_y": sheet.f_y if sheet.has_yield else None, "E": sheet.material.E}
        if unit == "mm" and same(sheet.t):
            return f"thickness of sheet {n}" + (", zinc taken off" if sheet.coated else "")
        if unit == "MPa" and (found := next((k for k, v in strengths.items() if v is not None and same(v)), "")):
            typed = (sheet.yield_strength is not None and found == "f_y") or (sheet.tensile_strength and found == "f_u")
            return f"{found} of sheet {n}, " + ("as stated" if typed else "table materials")
    for name, field in type(item).model_fields.items():
        if same(getattr(item, name)) and unit == base_unit(field):
            said = "typed" if item._typed.get(name) is not None else "default"
            return f"{said}: {name.replace('_', ' ')}" + (f", {place}" if place and said == "typed" else "")
    if unit == "mm" and isinstance(item, Brace):
        for letter in type(item.family).letters():
            if same(getattr(item.family, letter)):
                return f"typed: {letter} of the profile" + (f", {place}" if place else "")
    for name, held in result.values.items():
        if held.unit == unit and held.value is not None and same(held.value):
            return f"value of the item: {name.replace('_', ' ')}"
    for check in result.checks:
        if any(isinstance(p, Evaluation) and p.formula.unit == unit and same(p.value) for p in check.trace):
            return f"derived, see {check.title}"
        if check.demand is not None and same(check.demand.value):
            return f"the load on this {check.per}, from the item's load"
    return "a constant or ratio" if unit in ("", "1") else "derived from the item's sizes and load"
