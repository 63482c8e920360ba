"""What hole, what arc spot, what pitch holds a row of plug welds."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from jointcalc.check.plug import check_plug
from jointcalc.errors import InputError, nearest
from jointcalc.explore.answer import Answer, answered, nothing_holds
from jointcalc.model.fields import build
from jointcalc.model.plug import PlugRow
from jointcalc.quantity.show import System, show
from jointcalc.result import Result

CHANGE = "the sheet, the row or the load"
UNKNOWNS = ("pitch", "hole", "visible")

PITCH_STEP = {"metric": 1.0, "inch": 25.4 / 16}
DIAMETER_STEP = {"metric": 0.5, "inch": 25.4 / 32}
LARGEST = 40.0
"""Largest hole or arc spot that is searched [mm]."""


def find_plug(data: Mapping[str, Any], unknown: str, system: System = "metric") -> Answer:
    """Search one unknown of a row described by raw data (texts with units).

    `pitch` answers the largest that holds while every method that applies at the closest one still applies; `hole` and
    `visible` the smallest.  Raises InputError when the unknown is none of these or nothing holds.
    """
    if unknown not in UNKNOWNS:
        raise InputError(
            f"'{unknown}' cannot be searched{nearest(unknown, UNKNOWNS)} (accepted: {', '.join(UNKNOWNS)})",
            field="--find",
        )
    raw = dict(data)
    if unknown == "pitch":
        return _pitch(raw, system)
    other = "visible" if unknown == "hole" else "hole"
    if raw.get(other) is not None:
        raise InputError(f"the row is described with '{other}'; search that, or leave it out", field="--find")
    return _diameter(raw, unknown, system)


def _try(data: Mapping[str, Any], **change: Any) -> Result | None:
    raw = {k: v for k, v in {**data, **change}.items() if v is not None}
    try:
        return check_plug(build(PlugRow, raw))
    except InputError:
        return None


def _strength(result: Result) -> frozenset[str]:
    return frozenset(c.key for c in result.checks if c.status in ("ok", "over"))


def _used(result: Result) -> float:
    worst = result.worst
    return float("inf") if result.unjudged or worst is None or worst.utilisation is None else worst.utilisation


def _pitch(data: dict[str, Any], system: System) -> Answer:
    data = {**data, "count": None}
    step = PITCH_STEP[system]
    if _try(data, pitch=data.get("pitch") or "40 mm") is None:
        build(PlugRow, {k: v for k, v in {**data, "pitch": data.get("pitch") or "40 mm"}.items() if v is not None})
    first: Result | None = None
    last: Result | None = None
    best: tuple[float, Result] | None = None
    for n in range(1, 400):
        pitch = n * step
        result = _try(data, pitch=pitch)
        if result is None:
            if best is not None:
                break
            continue
        if first is None:
            first = result if result.status == "ok" else None
            if last is None or _used(result) < _used(last):
                last = result
            if first is None:
                continue
        if result.status != "ok" or not _strength(first) <= _strength(result):
            break
        best = (pitch, result)
    if best is None:
        raise nothing_holds("no pitch holds", last, CHANGE)
    pitch, result = best
    return answered(result, "pitch", pitch, f"{show(pitch, 'length', system)}, the largest that holds")


def _diameter(data: dict[str, Any], name: str, system: System) -> Answer:
    step = DIAMETER_STEP[system]
    last: Result | None = None
    start = round(3.0 / step)
    for n in range(start, round(LARGEST / step) + 1):
        d = n * step
        result = _try(data, **{name: d})
        if result is None:
            continue
        last = result
        if result.status == "ok":
            word = "hole" if name == "hole" else "visible diameter"
            return answered(result, word, d, f"{show(d, 'length', system)}, the smallest that holds")
    if last is None:
        build(PlugRow, {**data, name: "8 mm"})
    what = f"no {'hole' if name == 'hole' else 'arc spot'} up to {show(LARGEST, 'length', system, 3)} holds"
    raise nothing_holds(what, last, CHANGE)
