"""Turns a described joint, member or panel and its loads into a judged result.

One module per kind; the kind's record says which, so that a quick command imports only the one it needs.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping
from types import ModuleType
from typing import Any

from jointcalc.model.fields import Item
from jointcalc.registry import BY_KEY, KINDS, load
from jointcalc.result import Method, Result, methods


def check(item: Item) -> Result:
    """Judge one described item.  Raises InputError when it cannot be judged as described."""
    judge: Callable[[Any], Result] = load(BY_KEY[item.kind].check)
    return judge(item)


def all_methods() -> Mapping[str, Method]:
    """Every method of every kind, by key."""
    for kind in KINDS.values():
        load(kind.check)
    return methods()


class _Callable(ModuleType):
    """The package, callable: `jointcalc.check` is a function to its users and a package to the import system.

    Whichever of the two a program meets first, `jointcalc.check(model)` judges.
    """

    def __call__(self, item: Item) -> Result:
        return check(item)


sys.modules[__name__].__class__ = _Callable
