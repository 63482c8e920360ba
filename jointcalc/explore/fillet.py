"""What length, what leg, what sheet holds: answered with the next practical size and its margin."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from jointcalc.check.fillet import check_fillet
from jointcalc.errors import InputError, InputErrors, nearest
from jointcalc.explore.answer import Answer, Best, answered, nothing_holds
from jointcalc.explore.thickness import find_thickness
from jointcalc.formula.branch import below
from jointcalc.model.fields import build
from jointcalc.model.fillet import FilletGroup
from jointcalc.quantity.show import System, show

CHANGE = "the welds (longer, or on both sides), the sheet, or where the load acts"
UNKNOWNS = ("length", "leg", "size", "thickness")
LEG_STEP = {"metric": 0.5, "inch": 25.4 / 32}
LARGEST_LEG = 16.0
LENGTH_STEP = {"metric": 5.0, "inch": 25.4 / 4}
SOME_LINE = "-50 0 50 0 mm"
"""Where a straight weld lies whose length is searched; any length would do to begin with."""
LONGEST = 1000.0
"""Longest weld that is searched [mm]."""
SHORTEST = 25.0
"""Shortest weld worth laying [mm]: what is shorter is start and crater (common practice, no source)."""


def find_fillet(data: Mapping[str, Any], unknown: str, system: System = "metric") -> Answer:
    """Search one unknown of a weld group described by raw data (texts with units).

    `leg` (or `size`) answers the smallest leg in steps of 0.5 mm or 1/32 in at which every applicable
    method and rule holds; `thickness` the thinnest stock sheet in place of the thinner part; `length` the shortest
    weld in steps of 5 mm or 1/4 in: that of the longest line, the others in proportion, each about its own middle.
    Without `lines` that is one straight weld along x with its middle at zero, where a force without `at` acts too.
    Raises InputError when the unknown is none of these, the weld has no leg, the lines meet at corners so that their
    lengths are those of the part, or nothing holds.
    """
    if unknown not in UNKNOWNS:
        raise InputError(
            f"'{unknown}' cannot be searched{nearest(unknown, UNKNOWNS)} (accepted: {', '.join(UNKNOWNS)})",
            field="--find",
        )
    if unknown == "thickness":
        return find_thickness(data, FilletGroup, check_fillet, system, CHANGE, "both parts")
    if unknown == "length":
        return _length(dict(data), system)
    if data.get("weld", "fillet") != "fillet":
        raise InputError("only a fillet has a leg to find; a butt or flare weld follows the sheet", field="--find")
    return _leg({k: v for k, v in data.items() if k != "throat"}, system)


def _leg(data: dict[str, Any], system: System) -> Answer:
    step = LEG_STEP[system]
    best = Best()
    refused: InputError | None = None
    for n in range(round(2.0 / step), round(LARGEST_LEG / step) + 1):
        leg = n * step
        try:
            welds = build(FilletGroup, {**data, "leg": leg})
        except InputErrors as error:
            if any("leg" not in fault.message[:4] for fault in error.faults):
                raise
            refused = error
            break
        text = show(leg, "length", system)
        result = best.saw(check_fillet(welds), f"a leg of {text}")
        if result.status == "ok":
            return answered(result, "leg", leg, text)
    raise nothing_holds(f"no leg up to {show(LARGEST_LEG, 'length', system)} holds", best, CHANGE, refused)


def _straight(data: dict[str, Any]) -> tuple[dict[str, Any], str]:
    """The data of one straight weld where no line is drawn, and what is said of it."""
    if data.get("lines"):
        return data, ""
    made = {**data, "lines": [SOME_LINE]}
    taken = "One straight weld along x is taken, with its middle at 0 0"
    if data.get("at") is None and data.get("force") is not None:
        return {**made, "at": "0 0 0 mm"}, f"{taken}, where the force acts: give 'at' where it acts beside it"
    return made, taken


def _length(data: dict[str, Any], system: System) -> Answer:
    data, taken = _straight(data)
    base = build(FilletGroup, data)
    lines = np.array(base.lines, dtype=float).reshape(-1, 2, 2)
    if _meet(lines):
        raise InputError(
            "the lines meet at their ends: their lengths are those of the part; search the leg instead", field="--find"
        )
    middle, half = lines.mean(axis=1, keepdims=True), lines[:, 1:] - lines[:, :1]
    longest = float(np.hypot(half[:, 0, 0], half[:, 0, 1]).max())
    step = LENGTH_STEP[system]
    least = max(SHORTEST, 4 * (base.leg or 0.0), base.stitch[0] if base.stitch is not None else 0.0)
    best = Best()
    refused: InputError | None = None
    for n in range(1, round(LONGEST / step) + 1):
        length = n * step
        if below(length, least):
            continue
        k = length / longest / 2
        drawn = np.concatenate((middle - k * half, middle + k * half), axis=1).reshape(-1, 4).tolist()
        texts = [" ".join(repr(v) for v in line) + " mm" for line in drawn]
        try:
            welds = build(FilletGroup, {**data, "lines": texts})
        except InputError as error:
            refused = error
            continue
        result = best.saw(check_fillet(welds), show(length, "length", system))
        if result.status == "ok":
            each = (
                "each weld"
                if np.ptp(welds.group.lengths) <= 1e-6 * longest
                else "the longest weld, others in proportion"
            )
            return answered(result, "length", length, f"{show(length, 'length', system)} for {each}", taken)
    raise nothing_holds(f"no length up to {show(LONGEST, 'length', system)} holds", best, CHANGE, refused)


def _meet(lines: Any) -> bool:
    """Whether ends of different lines touch."""
    points = lines.reshape(-1, 2)
    apart = np.hypot(*(points[:, None] - points[None, :]).transpose(2, 0, 1))
    line = np.arange(len(points)) // 2
    return bool(np.any(apart[line[:, None] != line[None, :]] <= 1.0))
