"""Drawings of results, named by the kind's record; a result without one still gets a complete sheet.

A figure function takes (result, system) and returns pictures.  It draws what the model and the
result's values say and works nothing out anew.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import partial
from typing import TYPE_CHECKING

from jointcalc.registry import BY_KEY, load

if TYPE_CHECKING:
    from jointcalc.dossier.figures.canvas import Picture
    from jointcalc.quantity.show import System
    from jointcalc.result import Result


def figures_of(result: Result, system: System) -> list[Picture]:
    """The drawings of a result, none when there is no model to draw."""
    if result.model is None:
        return []
    draw: Callable[[Result, System], list[Picture]] = load(BY_KEY[result.kind].figure)
    return draw(result, system)


def drawing(kinds: Iterable[str], system: System) -> Callable[[Result], list[Picture]]:
    """`figures_of` in a system of units, what draws these kinds imported already: once, and not by every worker."""
    for kind in set(kinds):
        load(BY_KEY[kind].figure)
    return partial(figures_of, system=system)
