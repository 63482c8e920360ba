"""What several pages of the dossier print alike: verdicts, marks, amounts, names of items.

Everything leaves these modules as clean text (see `words`); the template only lays it out.  Factors are
rounded down, required factors and utilisations up.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from jointcalc.dossier.words import amount, breakable, short, unflagged
from jointcalc.formula.core import Evaluation
from jointcalc.model.fields import Described, Item
from jointcalc.model.sheet import Sheet
from jointcalc.quantity.sentence import joined, printed
from jointcalc.quantity.show import System, show, show_in
from jointcalc.result import DETAILING, Caution, Check, Result

Data = dict[str, Any]
VERDICT = {"ok": "HOLDS", "over": "DOES NOT HOLD", "outside": "CANNOT BE JUDGED"}
WORD = {"ok": "holds", "over": "OVER", "outside": "outside", "info": "info"}
SEVERITY = {"stop": "STOP", "warn": "Warning", "note": "Note"}


def described(result: Result, system: System) -> str:
    """What the item is, in a line."""
    return printed(joined("; ", result.about.values()), system)


YIELD = frozenset(("f_y", "f_yb", "f_y1", "f_y2", "F_y"))
"""Names the formulas give a yield strength."""


def marks_of(check: Check, result: Result) -> list[str]:
    """The marks a reader must see beside a number: `from memory`, `second-hand`, `typical`, `assumed yield`.

    A typical grade marks every strength; an assumed yield only what was computed from the yield.
    """
    marks: list[str] = [] if check.provenance not in ("from memory", "second-hand") else [check.provenance]
    if check.method.basis == DETAILING:
        return marks
    codes = {c.code for c in result.cautions}
    if "typical-strength" in codes:
        marks.append("typical strength")
    if "assumed-yield" in codes and any(YIELD & set(p.inputs) for p in check.trace if isinstance(p, Evaluation)):
        marks.append("assumed yield")
    return marks


def place_text(item: Item, system: System) -> str:
    """Where an item stands in the plan."""
    if item.place is None:
        return ""
    x1, y1, x2, y2 = (amount(show(v, "length", system)) for v in item.place)
    return f"from x {x1}, y {y1} to x {x2}, y {y2}"


def shown(value: float | None, unit: str, system: System) -> str:
    """A number with its unit; a dash where there is none."""
    if value is None:
        return "-"
    return ", ".join(amount(text) for text in show_in(value, unit, system).split(", "))


def amount_of(check: Check, which: str, system: System) -> str:
    """The capacity or the demand of a check."""
    given = getattr(check, which)
    if given is None or given.value is None:
        return "-"
    other = getattr(check, "capacity" if which == "demand" else "demand")
    dust = other is not None and other.value is not None and abs(given.value) < 1e-9 * abs(other.value)
    return shown(0.0 if dust else given.value, given.unit, system)


def caution_row(found: Caution, system: System) -> Data:
    """One caution."""
    text = breakable(unflagged(printed(found.text, system)))
    return {"severity": found.severity, "word": SEVERITY[found.severity], "text": text,
            "source": breakable(found.source)}  # fmt: skip


def ids(names: Iterable[str]) -> str:
    """Items by their names, each once, the first of many."""
    listed = list(dict.fromkeys(names))
    shown = ", ".join(breakable(short(name, 30), 14) for name in listed[:MOST_IDS])
    return shown + (f" … and {len(listed) - MOST_IDS} more" if len(listed) > MOST_IDS else "")


MOST_IDS = 12
"""Items that are named in a sentence; of more it is said how many."""


def sheets_of(model: Any) -> Iterator[Sheet]:
    """Every sheet a described thing is made of."""
    if isinstance(model, Sheet):
        yield model
    elif isinstance(model, Described):
        fields = type(model).model_fields
        for name in fields:
            yield from sheets_of(getattr(model, name))
        if "sheets" not in fields:
            # a brace makes its sheets from its profile and grade
            yield from sheets_of(getattr(model, "sheets", ()))
    elif isinstance(model, tuple):
        for part in model:
            yield from sheets_of(part)
