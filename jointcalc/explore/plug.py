"""What hole, what arc spot, what pitch holds a row of plug welds."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from jointcalc.check.plug import check_plug
from jointcalc.errors import InputError, nearest
from jointcalc.explore.answer import Answer, Best, answered, nothing_holds
from jointcalc.formula.branch import at_least, at_most
from jointcalc.model.fields import build
from jointcalc.model.plug import PlugRow
from jointcalc.model.sheet import Sheet
from jointcalc.quantity.show import System, show
from jointcalc.result import Result
from jointcalc.tables.store import load

CHANGE = "the sheet, the row or the load"
UNKNOWNS = ("pitch", "hole", "visible")

PITCH_STEP = {"metric": 1.0, "inch": 25.4 / 16}
DIAMETER_STEP = {"metric": 0.5, "inch": 25.4 / 32}
LARGEST = 40.0
"""Largest hole or arc spot that is searched [mm]."""


def find_plug(data: Mapping[str, Any], unknown: str, system: System = "metric") -> Answer:
    """Search one unknown of a row described by raw data (texts with units).

    `pitch` answers the largest that holds while every method that applies at the closest one still applies; `hole` the
    smallest that the trade punches, from the least it takes for the sheet; `visible` the smallest.  Raises InputError
    when the unknown is none of these or nothing holds.
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
    return result.applying


def _pitch(data: dict[str, Any], system: System) -> Answer:
    data = {**data, "count": None}
    step = PITCH_STEP[system]
    if _try(data, pitch=data.get("pitch") or "40 mm") is None:
        build(PlugRow, {k: v for k, v in {**data, "pitch": data.get("pitch") or "40 mm"}.items() if v is not None})
    first: Result | None = None
    tried = Best()
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
            tried.saw(result, show(pitch, "length", system))
            if first is None:
                continue
        if result.status != "ok" or not _strength(first) <= _strength(result):
            break
        best = (pitch, result)
    if best is None:
        raise nothing_holds("no pitch holds", tried, CHANGE)
    pitch, result = best
    return answered(result, "pitch", pitch, f"{show(pitch, 'length', system)}, the largest that holds")


def _diameter(data: dict[str, Any], name: str, system: System) -> Answer:
    step = DIAMETER_STEP[system]
    steps = [n * step for n in range(round(3.0 / step), round(LARGEST / step) + 1)]
    best = Best()
    for d in _punched(data, system) if name == "hole" else steps:
        result = _try(data, **{name: d})
        if result is None:
            continue
        best.saw(result, show(d, "length", system))
        if result.status == "ok":
            word, of = ("hole", " that the trade punches and") if name == "hole" else ("visible diameter", "")
            return answered(result, word, d, f"{show(d, 'length', system)}, the smallest{of or ' that'} holds")
    if best.result is None:
        build(PlugRow, {**data, name: "8 mm"})
    what = f"no {'punched hole' if name == 'hole' else 'arc spot'} up to {show(LARGEST, 'length', system, 3)} holds"
    raise nothing_holds(what, best, CHANGE)


def _punched(data: Mapping[str, Any], system: System) -> list[float]:
    """Holes that the trade punches [mm], from the least it takes for the sheets above the weld."""
    thick = max(build(Sheet, one).thickness for one in data["sheets"][:-1])
    habit = [row.need("hole_low") for row in load("plug_hole_practice").rows if at_most(row.need("t_from"), thick)]
    least = max(habit, default=min(row.need("hole_low") for row in load("plug_hole_practice").rows))
    sizes = sorted(row.need("d") for row in load("punched_holes").rows if row["series"] == system)
    # an inch punch beside a metric habit: the next one under it is what the trade means
    near = [d for d in sizes if at_least(d, least - (0 if system == "metric" else 25.4 / 32))]
    return [d for d in near if at_most(d, LARGEST)]
