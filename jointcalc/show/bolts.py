"""A group of fasteners drawn to scale in the terminal, the highest loaded one marked."""

from __future__ import annotations

from jointcalc.model.bolts import FastenerGroup
from jointcalc.quantity.show import System, show
from jointcalc.result import Result
from jointcalc.show.plan import LOAD, PEAK, Plan, bounds

HOLE, WEAKEST = "0", "!"
MOST_LINES = 8
"""Fasteners whose shares are told line by line; those of more are in the values."""


def draw(result: Result, width: int, system: System) -> list[str]:
    """The holes seen from the head's side (x right, y up), the peak and the point of action marked."""
    group = result.model
    if not isinstance(group, FastenerGroup):
        return []
    if not group.loaded_by_itself:
        return []
    points = [(x, y) for x, y in group.holes]
    loaded = group.force is not None and any(group.force) and group.at is not None
    load = (group.at[0], group.at[1]) if loaded and group.at is not None else None
    if len(points) == 1:
        return []
    plan = Plan(bounds(points, load), width)
    if load is not None:
        plan.mark(*load, LOAD)
    for x, y in points:
        plan.mark(x, y, HOLE)
    peak = points[int(result.values["peak_fastener"].value or 1) - 1]
    plan.mark(*peak, PEAK)
    place = [result.values[name].value for name in ("one_missing_at_x", "one_missing_at_y") if name in result.values]
    spared = ""
    if len(place) == 2 and place[0] is not None and place[1] is not None:
        plan.mark(place[0], place[1], WEAKEST)
        spared = f"   {WEAKEST} spared least"
    at_x, at_y = (show(v, "length", system, 4) for v in peak)
    size = show(result.values["peak"].value or 0.0, "force", system)
    legend = f"  {PEAK} peak {size} at x {at_x}, y {at_y}   {HOLE} fastener   {LOAD} load{spared}"
    return [*plan.lines(), legend, *_shares(result, system)]


def _shares(result: Result, system: System) -> list[str]:
    """A line for each fastener: where it sits, what it takes in shear and in pull."""
    group = result.model
    assert isinstance(group, FastenerGroup)
    if len(group.holes) > MOST_LINES or "fastener_1_shear" not in result.values:
        return []
    rows = []
    for n, place in enumerate(group.holes, 1):
        shear, pull = (result.values[f"fastener_{n}_{part}"].value or 0.0 for part in ("shear", "pull"))
        at = ", ".join(show(v, "length", system, 4) for v in place)
        rows.append((f"{n} at {at}", show(shear, "force", system), "presses" if pull < 0 else "pull",
                     show(abs(pull), "force", system)))  # fmt: skip
    wide = [max(len(row[i]) for row in rows) for i in range(4)]
    lines = [
        f"    {where:<{wide[0]}}  shear {shear:>{wide[1]}}  {way:<{wide[2]}} {lift:>{wide[3]}}"
        for where, shear, way, lift in rows
    ]
    return ["  each takes by its stiffness:", *lines]
