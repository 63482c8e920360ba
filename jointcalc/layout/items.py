"""Which drawing an item or part gets; a kind without one is named with the reason."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Any

from jointcalc.layout.drawing import Drawing
from jointcalc.quantity.show import System
from jointcalc.registry import BY_MODEL, load


def draw(item: Any, system: System) -> tuple[Drawing | None, str]:
    """The drawing of an item, or None and the reason."""
    record = BY_MODEL[type(item).__name__]
    make: Callable[[Any, System], Drawing | None] = load(record.marking)
    made = make(item, system)
    return made, "" if made else record.unmarked


def drawings(items: Iterable[Any], system: System) -> tuple[list[Drawing], list[tuple[str, str]]]:
    """Drawings of what can be marked out, and (id, reason) of what cannot."""
    made: list[Drawing] = []
    left: list[tuple[str, str]] = []
    for item in items:
        drawing, why = draw(item, system)
        if drawing is None:
            left.append((item.id, why))
        else:
            made.append(drawing)
    return made, left


RESERVED = {"cut-list", "con", "prn", "aux", "nul", *(f"{w}{n}" for w in ("com", "lpt") for n in range(1, 10))}
"""Names a file must not have: the cut list's own, and those one common system keeps for itself."""


def file_names(ids: Sequence[str]) -> list[str]:
    """A file name for each id, without ending: letters, digits, `-`, `_` and `.` inside; no two alike, case aside."""
    taken = set(RESERVED)
    names = []
    for one in ids:
        base = "".join(c if c.isalnum() or c in "-_." else "_" for c in one).strip(".")[:60] or "item"
        name, n = base, 2
        while name.casefold() in taken:
            name, n = f"{base}_{n}", n + 1
        taken.add(name.casefold())
        names.append(name)
    return names
