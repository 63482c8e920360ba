"""Which drawing an item or part gets; a kind without one is named with the reason."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from importlib import import_module
from typing import Any

from jointcalc.layout.drawing import Drawing
from jointcalc.quantity.show import System

DRAWN: Mapping[str, tuple[str, str]] = {
    "SpotSeam": ("jointcalc.layout.rows", "seam"),
    "PlugRow": ("jointcalc.layout.rows", "plug"),
    "FastenerGroup": ("jointcalc.layout.rows", "bolts"),
    "FilletGroup": ("jointcalc.layout.rows", "fillet"),
    "Brace": ("jointcalc.layout.blanks", "brace"),
    "Panel": ("jointcalc.layout.parts", "panel"),
    "Part": ("jointcalc.layout.parts", "part"),
    "Tub": ("jointcalc.layout.parts", "tub"),
}
"""Model -> (module, function) that draws it: (item, system) -> Drawing, or None for nothing to mark."""


NOTHING: Mapping[str, str] = {
    "Brace": "a bought section is cut to length only; it is in the cut list",
    "Panel": "a flat panel has nothing to mark but its outline; list its sheet as a [[part]]",
}
"""Model -> why one of its kind may have no drawing."""


def draw(item: Any, system: System) -> tuple[Drawing | None, str]:
    """The drawing of an item, or None and the reason."""
    place = DRAWN.get(type(item).__name__)
    if place is None:
        return None, f"a {type(item).__name__.lower()} has nothing that is marked out"
    make: Callable[[Any, System], Drawing | None] = getattr(import_module(place[0]), place[1])
    made = make(item, system)
    return made, "" if made else NOTHING[type(item).__name__]


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
