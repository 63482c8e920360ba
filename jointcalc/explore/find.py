"""Searching and comparing any kind of item, through the hooks of its record."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from jointcalc.check import check
from jointcalc.errors import InputError, nearest
from jointcalc.explore.answer import Answer
from jointcalc.model.fields import Item
from jointcalc.quantity.show import System
from jointcalc.registry import BY_KEY, KINDS, load
from jointcalc.result import Results


def find(item: Item | Mapping[str, Any], unknown: str, *, kind: str = "", system: System = "metric") -> Answer:
    """Search one unknown (`"pitch"`, `"thickness"`, `"lightest"` ...; a wrong word names those of the kind).

    `item` is a model, or with `kind` (`"seam"`, `"brace"` ...) raw data, which may leave the unknown out or hold
    the ranges of a profile.  `system` says whose practical sizes the answer is rounded to.

    Raises InputError when that cannot be searched or nothing holds.
    """
    if isinstance(item, Item):
        record, data = BY_KEY[item.kind], item.model_dump(exclude_none=True)
    elif kind in KINDS:
        record, data = KINDS[kind], dict(item)
    else:
        raise InputError(
            f"'{kind}' is not a kind of item{nearest(kind, KINDS)} (accepted: {', '.join(KINDS)})", field="kind"
        )
    found: Answer = load(record.search)(data, unknown, system)
    return found


def compare(items: Iterable[Item]) -> Results:
    """The items judged, side by side in the order given.  Raises InputError when one cannot be judged."""
    return Results(check(item) for item in items)
