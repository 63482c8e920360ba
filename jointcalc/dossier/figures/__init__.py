"""Drawings of results, one module per kind; a kind without one still gets a complete sheet.

A figure function takes (result, system) and returns pictures.  It draws what the model and the
result's values say and works nothing out anew.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from jointcalc.dossier.figures.canvas import Picture
    from jointcalc.quantity.show import System
    from jointcalc.result import Result

FIGURES: Mapping[str, tuple[str, str]] = {
    "spot_seam": ("jointcalc.dossier.figures.rows", "draw_seam"),
    "plug": ("jointcalc.dossier.figures.rows", "draw_plugs"),
    "bolts": ("jointcalc.dossier.figures.groups", "draw_fasteners"),
    "fillet": ("jointcalc.dossier.figures.groups", "draw_welds"),
    "brace": ("jointcalc.dossier.figures.beams", "draw_brace"),
    "panel": ("jointcalc.dossier.figures.panels", "draw_panel"),
}
"""Kind of result -> (module, function) that draws it: (result, system) -> pictures."""


def figures_of(result: Result, system: System) -> list[Picture]:
    """The drawings of a result, none when its kind has no figure or there is no model to draw."""
    place = FIGURES.get(result.kind)
    if place is None or result.model is None:
        return []
    draw: Callable[[Result, System], list[Picture]] = getattr(import_module(place[0]), place[1])
    return draw(result, system)
