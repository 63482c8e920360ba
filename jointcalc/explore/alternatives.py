"""Alternatives a builder considered, judged for the same loads when he wrote them as a profile or a bead.

An alternative of a brace that begins with a profile (`hat:top=50mm,depth=30mm,...; bends too much`), or of a panel
that begins with a bead (`arc:depth=4mm,...; no stiffer` or `none; drums`), is the same item with that profile or bead.
Any other alternative is words, and stays words.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from jointcalc.check import check
from jointcalc.errors import InputError
from jointcalc.model.brace import Brace
from jointcalc.model.fields import Item, build
from jointcalc.model.panel import FLAT, Panel
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
    key = {Brace: "profile", Panel: "bead"}.get(type(item))
    flat = isinstance(item, Panel) and shape.lower() in FLAT
    if key is None or not (flat or _SHAPE.match(shape)):
        return Alternative("", text)
    data = item.model_dump(mode="json", exclude_none=True) | {key: shape}
    if isinstance(item, Brace) and not shape.lower().startswith(("hat-skin", "lap")):
        data.pop("pitch", None)  # only these have a weld line to space
    try:
        return Alternative(shape, words, check(build(type(item), data)))
    except InputError as error:
        return Alternative(shape, words, None, str(error))
