"""What bolt, plate, sheet or mass a mount holds with; and the mount in thinner sheet or with a foot fewer."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import partial
from math import floor, hypot, log10
from typing import Any

from jointcalc.check.bolts import check_bolts
from jointcalc.errors import InputError, nearest
from jointcalc.explore.answer import Answer, margin, stopped
from jointcalc.explore.bolts import find_bolts, with_class
from jointcalc.explore.changed import Changed, judged, left
from jointcalc.explore.sensitivity import LEFT, MOST_TRIED, thinner_joint
from jointcalc.explore.thickness import ANY
from jointcalc.kinds.mount.acting import acting
from jointcalc.kinds.mount.check import check_mount
from jointcalc.kinds.mount.model import Mount
from jointcalc.model.fields import build
from jointcalc.quantity.show import System, show
from jointcalc.result import Amount, Result

UNKNOWNS = ("bolt", "plate", "thickness", "mass")
MOST_ROUNDS = 20
FIGURES = 3
"""Figures to which the greatest mass is told, rounded down."""
LEAST, MOST = 1e-6, 100.0
"""Masses that are tried [t]."""


def find_mount(data: Mapping[str, Any], unknown: str, system: System = "metric") -> Answer:
    """Search one unknown of a mount described by raw data (texts with units).

    `bolt`, `plate`, `thickness` as of the bolts of its worst foot, held against every other; `mass` the greatest mass
    that all holds with, other loads as they are.  Raises InputError when it is none of these or nothing holds.
    """
    if unknown not in UNKNOWNS:
        raise InputError(
            f"'{unknown}' cannot be searched{nearest(unknown, UNKNOWNS)} (accepted: {', '.join(UNKNOWNS)})",
            field="--find",
        )
    given = {k: v for k, v in data.items() if v is not None}
    return _mass(given, system) if unknown == "mass" else _joint(given, unknown, system)


def _joint(data: dict[str, Any], unknown: str, system: System) -> Answer:
    if unknown == "bolt" and data.get("sheets"):
        data["bolt"], taken = with_class(data, system)
    else:
        taken = ""
    if unknown == "thickness" and data.get("sheets"):
        data["sheets"] = [{**one, "thickness": one.get("thickness") or ANY} for one in map(dict, data["sheets"])]
    mount = build(Mount, data)
    if not mount.fastened:
        raise InputError("what holds the feet is searched with a bolt and its sheets; give both", field="--find")
    loads = {
        (n, *mount.local(force), act.load_factor): (n, mount.local(force), act.load_factor)
        for act in acting(mount)
        for n, force in enumerate(act.force)
        if force.any()
    }
    # the largest first: what holds it holds most of the others
    order = sorted(loads.values(), key=lambda one: -one[2] * hypot(*one[1]))
    asks: tuple[int, tuple[float, float, float], float] | None = order[0]
    found: Answer | None = None
    for _ in range(MOST_ROUNDS):
        if asks is None:
            assert found is not None
            return _found(mount, found, taken)
        found = find_bolts(mount.group(*asks)._typed, unknown, system)
        answer = found.result.model
        field = {"bolt": "bolt", "plate": "plate", "thickness": "sheets"}[unknown]
        mount = mount.but(**{field: answer._typed[field]})
        asks = next((one for one in order if check_bolts(mount.group(*one)).status != "ok"), None)
    raise InputError(
        "what holds one foot does not hold the next; change the sheet, the feet or the load", field="--find"
    )


def _found(mount: Mount, found: Answer, taken: str) -> Answer:
    result = check_mount(mount)
    worst = result.worst
    text = (found.text.rpartition("; ")[0] or found.text) + taken
    text += f"; {margin(worst)}" if worst is not None and worst.utilisation else ""
    kept = {k: v for k, v in found.result.values.items() if k == "found" or k.startswith("plate_")}
    return Answer(replace(result, values={**result.values, **kept}), text)


def _mass(data: dict[str, Any], system: System) -> Answer:
    if data.get("centre") is None:
        raise InputError("the greatest mass needs its centre; give where it is", field="--centre")

    def tried(mass: float) -> Result | None:
        try:
            return check_mount(build(Mount, {**data, "mass": mass}))
        except InputError:
            return None

    check_mount(build(Mount, {**data, "mass": data.get("mass") or 0.01}))  # refused here for another reason
    low = tried(LEAST)
    if low is None or low.status != "ok":
        why = f"; it {stopped(low)}" if low is not None else ""
        raise InputError(f"it does not hold even without the mass{why}", field="--find")
    a, b = LEAST, MOST
    if (most := tried(b)) is not None and most.status == "ok":
        raise InputError("it holds with any mass tried, so the mass does not govern", field="--find")
    while b / a > 1 + 1e-5:
        middle = (a * b) ** 0.5
        result = tried(middle)
        a, b = (middle, b) if result is not None and result.status == "ok" else (a, middle)
    step = 10.0 ** (floor(log10(a)) - FIGURES + 1)
    rounded = floor(a / step + 1e-9) * step
    result = tried(rounded)
    assert result is not None
    worst = result.worst
    text = f"Found mass: {show(rounded, 'mass', system)}, the greatest that holds"
    text += f"; {margin(worst)}" if worst is not None and worst.utilisation else ""
    return Answer(replace(result, values={**result.values, "found": Amount(rounded * 1e3, "kg")}), text)


def thinner(item: Mount, left: float = LEFT) -> Mount:
    """The mount on thinner sheets, and thinner plates under its nuts.  InputError where it describes no sheet."""
    if not item.sheets:
        raise InputError("the mount describes no sheet of its own; what carries its feet is an item of its own")
    if item.plate is None:
        return _inside(item, thinner_joint(item, left))
    long, short, thick = item.plate
    return _inside(item, thinner_joint(item, left, plate=(long, short, thick * left)))


def foot_fewer(item: Mount, result: Result) -> Changed:
    """The mount without the foot whose loss is worst."""
    count = len(item.feet)
    if any(item.below(n) for n in range(count)):
        why = (
            "what carries the feet are items of their own, judged under the feet as they are: take one out in the file"
        )
        return Changed("one foot fewer", None, why)
    if count < 2:
        return Changed("one foot fewer", None, "there is only one foot: without it nothing holds")
    every = range(count)
    if count > MOST_TRIED:
        every = range(int(result.values["worst_foot"].value or 1) - 1, int(result.values["worst_foot"].value or 1))
    tried = [judged(f"one foot fewer: without foot {n + 1}", partial(_without, item, n), result) for n in every]
    return min(tried, key=left)


def _without(item: Mount, n: int) -> Mount:
    data = item.model_dump(exclude_none=True)
    for name in ("feet", "stiffness", "bolts", "fillet", "brace"):
        if len(data[name]) == len(item.feet):
            data[name] = [part for i, part in enumerate(data[name]) if i != n]
    return _inside(item, build(Mount, data))


def _inside(item: Mount, made: Mount) -> Mount:
    return made if item.context is None else made.inside(item.context, item.links)
