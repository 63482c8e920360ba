"""The profile of a brace in the thinnest sheet that brings it into the range of a rule: what it carries is a bound."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any, TypeVar

import numpy as np

from jointcalc.section.families.family import Family
from jointcalc.section.families.hat import HatSkin
from jointcalc.section.families.lap import Lap
from jointcalc.section.families.points import Points

T = TypeVar("T")

MOST_THICKER = 64.0
"""How many times thicker a sheet is tried in search of the edge of a range."""


def thicker(family: Family, k: float) -> Family:
    """The profile with every sheet k times as thick; outside dimensions and bend radii stay."""
    change: dict[str, Any] = {"t": family.t * k} if hasattr(family, "t") else {}
    if isinstance(family, HatSkin):
        change["skin_t"] = family.skin_t * k
    if isinstance(family, Lap):
        change["t_2"] = (family.t if family.t_2 is None else family.t_2) * k
        change["step"] = (family.t if family.t_2 is None else family.t_2) if family.step is None else family.step
    if family.radius is not None and (isinstance(family, Points) or "r" in family.letters()):
        change["r"] = family.radius
    return replace(family, **change)


def in_thinnest(family: Family, inside: Callable[[Family], T | None]) -> T | None:
    """What `inside` gives for the profile in the thinnest sheet at which it gives anything; None where none does."""

    def tried(k: float) -> T | None:
        one = thicker(family, k)
        return inside(one) if bool(np.all(one.valid())) else None

    low, high = 1.0, 1.25
    while (found := tried(high)) is None:
        low, high = high, high * 1.25
        if high > MOST_THICKER:
            return None
    for _ in range(20):
        middle = (low + high) / 2
        one = tried(middle)
        low, high, found = (middle, high, found) if one is None else (low, middle, one)
    return found
