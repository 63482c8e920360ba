"""What leg, what sheet holds: answered with the next practical size and its margin."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from jointcalc.check.fillet import check_fillet
from jointcalc.errors import InputError, InputErrors, nearest
from jointcalc.explore.margin import margin
from jointcalc.model.fields import build
from jointcalc.model.fillet import FilletGroup
from jointcalc.quantity.show import System, show
from jointcalc.result import Amount, Result
from jointcalc.tables.store import load

UNKNOWNS = ("leg", "size", "thickness")
LEG_STEP = {"metric": 0.5, "inch": 25.4 / 32}
LARGEST_LEG = 16.0


@dataclass(frozen=True, slots=True)
class Found:
    """The judged welds with the answer put in, and the answer in one sentence."""

    result: Result
    text: str


def find_fillet(data: Mapping[str, Any], unknown: str, system: System = "metric") -> Found:
    """Search one unknown of a weld group described by raw data (texts with units).

    `leg` (or `size`) answers the smallest leg in steps of 0.5 mm or 1/32 in at which every applicable
    method and rule holds; `thickness` the thinnest stock sheet in place of the thinner part.  Raises
    InputError when the unknown is neither, the weld has no leg, or nothing holds.
    """
    if unknown not in UNKNOWNS:
        raise InputError(
            f"'{unknown}' cannot be searched{nearest(unknown, UNKNOWNS)} (accepted: {', '.join(UNKNOWNS)})",
            field="--find",
        )
    if unknown == "thickness":
        return _thickness(dict(data), system)
    if data.get("weld", "fillet") != "fillet":
        raise InputError("only a fillet has a leg to find; a butt or flare weld follows the sheet", field="--find")
    return _leg({k: v for k, v in data.items() if k != "throat"}, system)


def _leg(data: dict[str, Any], system: System) -> Found:
    step = LEG_STEP[system]
    last: Result | None = None
    refused: InputError | None = None
    for n in range(round(2.0 / step), round(LARGEST_LEG / step) + 1):
        leg = n * step
        try:
            welds = build(FilletGroup, {**data, "leg": f"{leg!r} mm"})
        except InputErrors as error:
            if any("leg" not in fault.message[:4] for fault in error.faults):
                raise
            refused = error
            break
        last = check_fillet(welds)
        if last.status == "ok":
            text = show(leg, "length", system)
            return _answer(last, "leg", leg, text)
    raise _nothing(f"no leg up to {show(LARGEST_LEG, 'length', system)} holds", last, refused)


def _thickness(data: dict[str, Any], system: System) -> Found:
    base = build(FilletGroup, data)
    thin = base.thin
    last: Result | None = None
    stock = [r for r in load("stock_thickness").rows if r["series"] == system and r["family"] == thin.material.family]
    for row in sorted(stock, key=lambda r: r.need("t")):
        changed = [dict(s) for s in data["sheets"]]
        same = [i for i, s in enumerate(base.sheets) if s.thickness == thin.thickness]
        for i in same:
            changed[i]["thickness"] = row["size"]
        try:
            welds = build(FilletGroup, {**data, "sheets": changed})
        except InputError:
            continue
        last = check_fillet(welds)
        if last.status == "ok":
            which = "both parts" if len(same) == len(base.sheets) else f"sheet {same[0] + 1}"
            return _answer(last, "thickness", row.need("t"), f"{row['size']} for {which}")
    raise _nothing("no stock thickness holds", last, None)


def _answer(result: Result, name: str, value: float, text: str) -> Found:
    worst = result.worst
    if worst is not None and worst.utilisation:
        text += f"; {margin(worst)}"
    return Found(replace(result, values={**result.values, "found": Amount(value, "mm")}), f"Found {name}: {text}")


def _nothing(what: str, result: Result | None, refused: InputError | None) -> InputError:
    why = ""
    if refused is not None:
        why = f"; a larger one is refused: {refused.message}" if result is not None else f": {refused.message}"
    if result is not None and (worst := result.worst) is not None and worst.utilisation is not None:
        why += f"; at the largest tried {worst.title} is {worst.utilisation:.0%} used"
    return InputError(f"{what}{why}. Lengthen the welds, take thicker sheet or bring the load nearer", field="--find")
