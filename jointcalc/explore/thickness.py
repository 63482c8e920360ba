"""The thinnest stock sheet with which a joint holds: in place of the thinnest of its stack, or of those left open."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, TypeVar

from jointcalc.errors import InputError
from jointcalc.explore.answer import Answer, Best, answered, nothing_holds
from jointcalc.model.fields import Item, build
from jointcalc.model.sheet import Sheet
from jointcalc.quantity.show import System
from jointcalc.result import Result
from jointcalc.tables.store import load

ANY = "1 mm"
"""Stands for a thickness that is sought while the rest of a description is read."""


M = TypeVar("M", bound=Item)


def find_thickness(
    data: Mapping[str, Any],
    model: type[M],
    check: Callable[[M], Result],
    system: System,
    change: str,
    alone: str = "the sheet",
) -> Answer:
    """Search the sheets of a joint described by raw data (texts with units) that say no thickness, else its thinnest.

    `change` says what to change where nothing holds, `alone` what the one sheet is called.  Raises InputError when
    nothing holds, or the joint is refused with every stock sheet.
    """
    sheets = [dict(one) for one in data["sheets"]]
    same = [i for i, one in enumerate(sheets) if one.get("thickness") is None]
    read = [build(Sheet, {**one, "thickness": one.get("thickness") or ANY}) for one in sheets]
    if not same:
        build(model, data)  # refused for another reason, it is refused here
        least = min(one.thickness for one in read)
        same = [i for i, one in enumerate(read) if one.thickness == least]
    family = read[same[0]].material.family
    best = Best()
    refused: InputError | None = None
    stock = [row for row in load("stock_thickness").rows if row["series"] == system and row["family"] == family]
    for row in sorted(stock, key=lambda row: row.need("t")):
        changed = [{**one, "thickness": row["size"]} if i in same else one for i, one in enumerate(sheets)]
        try:
            result = check(build(model, {**data, "sheets": changed}))
        except InputError as error:
            refused = error
            continue
        refused = None
        best.saw(result, row["size"])
        if result.status == "ok":
            which = "all sheets of that size" if len(same) > 1 else f"sheet {same[0] + 1}"
            which = alone if len(sheets) == 1 else which
            return answered(result, "thickness", row.need("t"), f"{row['size']} for {which}")
    if best.result is None and refused is not None:
        raise refused
    raise nothing_holds("no stock thickness holds", best, change, refused)
