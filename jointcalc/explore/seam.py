"""What pitch, what spot, what sheet holds: answered with the next practical size and its margin."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any

from jointcalc.check.seam import check_seam
from jointcalc.errors import InputError, nearest
from jointcalc.explore.answer import Answer, Best, answered, nothing_holds
from jointcalc.explore.thickness import find_thickness
from jointcalc.formula.spot_size import USUAL
from jointcalc.model.fields import build
from jointcalc.model.seam import SpotSeam
from jointcalc.quantity.show import System, show
from jointcalc.result import Result

CHANGE = "the sheet, the spot or the load"
UNKNOWNS = ("pitch", "weld-diameter", "thickness")

PITCH_STEP = {"metric": 1.0, "inch": 25.4 / 16}
PITCH_PRACTICAL = {"metric": 5.0, "inch": 25.4 / 4}
DIAMETER_PRACTICAL = {"metric": 0.5, "inch": 25.4 / 64}
LARGEST = 15.0
"""Largest spot that is searched [mm]."""


def find_seam(data: Mapping[str, Any], unknown: str, system: System = "metric") -> Answer:
    """Search one unknown of a seam described by raw data (texts with units).

    `pitch` answers the largest that holds, up to 8 spot diameters (EN 1993-1-3), while every method
    that applies at a close pitch still applies.  `weld-diameter` answers the smallest spot, not below
    4 sqrt(t), the least size AWS D8.1M accepts.  `thickness` answers the thinnest stock sheet put in
    place of the thinnest one, or of those that say none.  Raises InputError when the unknown is none of these or
    nothing holds.
    """
    if unknown not in UNKNOWNS:
        raise InputError(
            f"'{unknown}' cannot be searched{nearest(unknown, UNKNOWNS)} (accepted: {', '.join(UNKNOWNS)})",
            field="--find",
        )
    if unknown == "thickness":
        return find_thickness(data, SpotSeam, check_seam, system, CHANGE)
    return {"pitch": _pitch, "weld-diameter": _diameter}[unknown](dict(data), system)


def _with(data: Mapping[str, Any], **change: Any) -> SpotSeam | None:
    """The seam with a change, or None when that change cannot be built."""
    raw = {k: v for k, v in {**data, **change}.items() if v is not None}
    try:
        return build(SpotSeam, raw)
    except InputError:
        return None


def _try(data: Mapping[str, Any], **change: Any) -> Result | None:
    seam = _with(data, **change)
    return None if seam is None else check_seam(seam)


def _strength_keys(result: Result) -> frozenset[str]:
    return result.applying


def _largest(candidates: Iterable[float], judge: Callable[[float], bool]) -> float | None:
    """The largest candidate that holds, walking up until the first that does not."""
    found = None
    for value in candidates:
        if not judge(value):
            break
        found = value
    return found


def _stepped(low: float, high: float, step: float) -> list[float]:
    n = round((high - low) / step)
    return [low + i * step for i in range(n + 1) if low + i * step <= high * (1 + 1e-12)]


def _pitch(data: dict[str, Any], system: System) -> Answer:
    data.pop("count", None)
    base = _with(data, pitch=data.get("pitch") or "40 mm")
    if base is None:
        build(SpotSeam, {**data, "pitch": data.get("pitch") or "40 mm"})
        raise AssertionError("the seam was refused once and accepted the next time")
    step = PITCH_STEP[system]
    closest = next((p for p in _stepped(step * 5, base.length, step) if p > base.d), base.length)
    least = next(
        (c.demand.value for c in check_seam(base).checks if c.method.key == "detail.pitch-min" and c.demand), None
    )
    start = max(closest, -(-(least or closest) // step) * step)
    first = _try(data, pitch=start)
    if first is None or first.status != "ok":
        best = Best()
        if first is not None:
            best.saw(first, f"the closest that detailing allows, {show(start, 'length', system)}")
        raise nothing_holds("no pitch holds", best, CHANGE)
    keys = _strength_keys(first)

    def holds(pitch: float) -> bool:
        result = _try(data, pitch=pitch)
        return result is not None and result.status == "ok" and keys <= _strength_keys(result)

    # wider than 8 d the lap gapes between spots, whatever the strength says
    widest = max(start, min(base.length / 2, 1000.0, 8 * base.d))
    exact = _largest(_stepped(start, widest, step), holds)
    assert exact is not None
    grid = PITCH_PRACTICAL[system]
    practical = max(start, exact // grid * grid) if exact >= grid else exact
    if not holds(practical):
        practical = exact
    result = _try(data, pitch=practical)
    assert result is not None
    text = (
        f"{show(practical, 'length', system)} (largest that holds {show(exact, 'length', system)}, "
        f"closest allowed {show(start, 'length', system)})"
    )
    return answered(result, "pitch", practical, text)


def _diameter(data: dict[str, Any], system: System) -> Answer:
    grid = DIAMETER_PRACTICAL[system]
    best = Best()
    for n in range(max(1, round(2.0 / grid)), round(LARGEST / grid) + 1):
        d = n * grid
        seam = _with(data, weld_diameter=d)
        if seam is None or d < float(USUAL(t=seam.governing_thickness)) * (1 - 1e-9):
            continue
        result = _try(data, weld_diameter=d)
        if result is None:
            continue
        best.saw(result, f"a spot of {show(d, 'length', system)}")
        if result.status == "ok":
            t = result.model.governing_thickness
            one = 25.4 if system == "inch" else 1.0  # the unit in which both are measured [mm]
            root = f"{d / one / (t / one) ** 0.5:.2f} times the root of the governing thickness"
            text = f"{show(d, 'length', system)} ({root} in {'inches' if system == 'inch' else 'mm'})"
            return answered(result, "weld diameter", d, text)
    if best.result is None:
        build(SpotSeam, {**data, "weld_diameter": "5 mm"})
    raise nothing_holds(f"no spot diameter up to {show(LARGEST, 'length', system)} holds", best, CHANGE)
