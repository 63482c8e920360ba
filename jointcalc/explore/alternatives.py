"""Alternatives a builder considered, judged for the same loads when he wrote them as a profile or a bead.

An alternative of a brace that begins with a profile (`hat:top=50mm,depth=30mm,...; bends too much`), or of a panel
that begins with a bead (`arc:depth=4mm,...; no stiffer` or `none; drums`), is the same item with that profile or bead.
Any other alternative is words, and stays words.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from jointcalc.check import check
from jointcalc.errors import InputError
from jointcalc.model.fields import Item, build
from jointcalc.model.panel import FLAT
from jointcalc.registry import BY_KEY, load
from jointcalc.result import Result

_SHAPE = re.compile(r"[a-z-]+\s*:\s*[a-z_0-9]+\s*=", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Alternative:
    """One alternative: the profile or bead, what the builder says of it, and its result.

    `shape` is empty and `result` None for an alternative in words.  `result` is None with a `why` when
    the shape cannot be made or judged.
    """

    shape: str
    words: str
    result: Result | None = None
    why: str = ""


def alternatives(item: Item) -> tuple[Alternative, ...]:
    """The item's alternatives in the order written, judged where they can be.

    Raises nothing for a shape that cannot be made: it is told in `why`.
    """
    return tuple(_read(item, text) for text in item.alternatives)


def _read(item: Item, text: str) -> Alternative:
    shape, _, words = (part.strip() for part in text.partition(";"))
    described: Callable[[Item, str], dict[str, Any] | None] = load(BY_KEY[item.kind].alternative)
    data = described(item, shape)
    if data is None:
        return Alternative("", text)
    try:
        return Alternative(shape, words, check(build(type(item), data).under(item.standings)))
    except InputError as error:
        return Alternative(shape, words, None, str(error))


def _data(item: Item) -> dict[str, Any]:
    return item.model_dump(exclude_none=True)


def other_profile(item: Item, shape: str) -> dict[str, Any] | None:
    """The brace's data with another profile, or None when the text is none."""
    if not _SHAPE.match(shape):
        return None
    data = _data(item) | {"profile": shape}
    if not shape.lower().startswith(("hat-skin", "lap")):
        data.pop("pitch", None)  # only these have a weld line to space
    return data


def other_bead(item: Item, shape: str) -> dict[str, Any] | None:
    """The panel's data with another bead, or none, or None when the text is neither."""
    if shape.lower() not in FLAT and not _SHAPE.match(shape):
        return None
    return _data(item) | {"bead": shape}
