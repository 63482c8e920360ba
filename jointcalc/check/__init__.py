"""Turns a described joint, member or panel and its loads into a judged result.

One module per kind; `CHECKS` says which, so that a quick command imports only the one it needs.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping
from importlib import import_module
from types import ModuleType
from typing import Any

from jointcalc.model.fields import Item
from jointcalc.result import Method, Result, methods

CHECKS: Mapping[str, tuple[str, str]] = {
    "spot_seam": ("jointcalc.check.seam", "check_seam"),
    "brace": ("jointcalc.check.brace", "check_brace"),
    "panel": ("jointcalc.check.panel", "check_panel"),
    "plug": ("jointcalc.check.plug", "check_plug"),
    "bolts": ("jointcalc.check.bolts", "check_bolts"),
    "fillet": ("jointcalc.check.fillet", "check_fillet"),
}
"""Kind of item -> (module, function) that judges it."""


def check(item: Item) -> Result:
    """Judge one described item.  Raises InputError when it cannot be judged as described."""
    module, function = CHECKS[item.kind]
    judge: Callable[[Any], Result] = getattr(import_module(module), function)
    return judge(item)


def all_methods() -> Mapping[str, Method]:
    """Every method of every kind, by key."""
    for module, _ in CHECKS.values():
        import_module(module)
    return methods()


class _Callable(ModuleType):
    """The package, callable: `jointcalc.check` is a function to its users and a package to the import system.

    Whichever of the two a program meets first, `jointcalc.check(model)` judges.
    """

    def __call__(self, item: Item) -> Result:
        return check(item)


sys.modules[__name__].__class__ = _Callable
