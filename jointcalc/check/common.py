"""Words and small pieces the checks of joints share: what a capacity is, what a factor comes from."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import wraps
from typing import TypeVar

from jointcalc.formula.branch import below
from jointcalc.formula.core import Evaluation
from jointcalc.formula.safety import FITTING, GAMMA_M0, GAMMA_M2, GAMMA_M_OTHER, HANDBOOK_FACTOR, LIMIT_LOAD
from jointcalc.model.fields import Item
from jointcalc.model.sheet import Sheet
from jointcalc.result import Check, Looked, Stated, caution
from jointcalc.result.cautions import Caution
from jointcalc.result.factor import Factor, fixed, partial, product

CHARACTERISTIC = "characteristic value"
NOMINAL = "nominal"
PARTIAL = partial("γ_M2", GAMMA_M2)
YIELDS = partial("γ_M0", GAMMA_M0, GAMMA_M_OTHER)
"""Yield by EN 1993 and EN 1999: `gamma_M0` says which of both a metal asks for."""
LOAD_ALONE = partial("", 1.0, words="γ_F")
LIMIT = fixed(1.0, "{:g} (a limit)")
INFORMATION = Factor("none: information")
ADDED = fixed(1.0)
"""Utilisations that are added up stand beside 1."""
FITTED = product((LIMIT_LOAD, FITTING))
"""An ultimate allowable: 1.5 on limit load (14 CFR 25.303) and 1.15 for a fitting (25.625)."""
OWN_WORD = "the builder's own factor"
OWN = f"{OWN_WORD} (our default {HANDBOOK_FACTOR:.1f}, common practice)"

Steps = list[Evaluation | Looked | Stated]
"""The working of a check while it is being put together."""


A = TypeVar("A")
T = TypeVar("T")


def once(rule: Callable[[A], T]) -> Callable[[A], T]:
    """A function of a frozen action that works out its answer once for each action and keeps it there.

    It is pure, so that it makes no difference who asks first; `functools.cached_property` does the same for what
    stands on the action itself.
    """
    name = f"{rule.__module__}.{rule.__qualname__}"

    @wraps(rule)
    def asked(action: A) -> T:
        kept = vars(action)
        if name not in kept:
            kept[name] = rule(action)
        found: T = kept[name]
        return found

    return asked


def gamma_M0(sheets: Iterable[Sheet]) -> tuple[float, str]:
    """Partial factor on yield of these sheets, and where it is from; empty words for carbon steel."""
    other = next((s.material.family for s in sheets if s.material.family != "steel"), None)
    if other is None:
        return GAMMA_M0, ""
    return GAMMA_M_OTHER, f"γ_M0 = {GAMMA_M_OTHER:g} for {other} (EN 1993-1-4, EN 1999-1-1; from memory)"


def cores(sheets: Iterable[Sheet]) -> list[Evaluation]:
    """The zinc deductions of these sheets, each once."""
    return list({id(s.core): s.core for s in sheets if s.core is not None}.values())


LEAST_HANDBOOK_FACTOR = 2.0
"""A builder's own factor under this is told: handbook strengths scatter (common practice, no source)."""


def handbook_cautions(item: Item, checks: Iterable[Check]) -> list[Caution]:
    """What is said of the builder's own factor: that it is our default, or that it is low; only where it judged."""
    if not any(OWN_WORD in c.method.factor.words for c in checks if c.status in ("ok", "over")):
        return []
    if below(item.handbook_factor, LEAST_HANDBOOK_FACTOR):
        return [caution("handbook-low", factor=f"{item.handbook_factor:g}")]
    if item.handbook_factor == HANDBOOK_FACTOR:
        return [caution("handbook-default", factor=f"{HANDBOOK_FACTOR:.1f}")]
    return []
