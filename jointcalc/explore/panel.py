"""How deep a bead, how close, how thick a sheet makes a panel hold: answered with the next practical size."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from jointcalc.check.panel import check_panel
from jointcalc.check.panel_forming import MAKING
from jointcalc.errors import InputError, nearest
from jointcalc.explore.margin import margin
from jointcalc.model.fields import build
from jointcalc.model.panel import Panel
from jointcalc.quantity.show import System, show
from jointcalc.result import Amount, Result
from jointcalc.tables.store import load

UNKNOWNS = ("depth", "pitch", "thickness")
STEPS: Mapping[str, Mapping[System, float]] = {
    "depth": {"metric": 0.5, "inch": 25.4 / 32},
    "pitch": {"metric": 5.0, "inch": 25.4 / 4},
}


@dataclass(frozen=True, slots=True)
class Found:
    """The judged panel with the answer put in, and the answer in one sentence."""

    result: Result
    text: str


def find_panel(data: Mapping[str, Any], unknown: str, system: System = "metric") -> Found:
    """Search one unknown of a panel described by raw data (texts with units).

    `depth` answers the shallowest bead that holds, `pitch` the widest, `thickness` the thinnest stock
    sheet; everything else stays as given, the limits on deflection and frequency included.  Raises
    InputError when the unknown is none of these, the panel has no bead to change, or nothing holds.
    """
    if unknown not in UNKNOWNS:
        raise InputError(
            f"'{unknown}' cannot be searched{nearest(unknown, UNKNOWNS)} (accepted: {', '.join(UNKNOWNS)})",
            field="--find",
        )
    if unknown == "thickness":
        return _thickness(dict(data), system)
    panel = build(Panel, data)
    if panel.pattern is None:
        raise InputError(f"a flat panel has no bead whose {unknown} could be found; give a bead", field="--find")
    bead, step = panel.pattern, STEPS[unknown][system]

    def made(size: float) -> Panel | None:
        text = str(replace(bead, **{unknown: size}))  # type: ignore[arg-type]
        try:
            return build(Panel, {**data, "bead": text})
        except InputError:
            return None

    if unknown == "depth":
        top = bead.width / 2 if bead.family == "arc" else bead.width
        sizes = [n * step for n in range(1, int(top / step + 1e-9) + 1)]
    else:
        first = int(-(-bead.width // step))
        sizes = [n * step for n in range(int(panel.across_beads / step + 1e-9), first - 1, -1)]
    tried = [(size, one) for size in sizes if (one := made(size)) is not None]
    if unknown == "pitch":
        # beads side by side lose the flats they stand off from: closer than the stiffest pitch is no gain
        stiff = [one.strip.I_along if one.strip is not None else 0.0 for _, one in tried]
        tried = tried[: stiff.index(max(stiff)) + 1] if stiff else tried
    result, at = _first(tried)
    if result is None or result.status != "ok":
        raise _nothing(unknown, result)
    word = {"depth": "the shallowest that holds", "pitch": "the widest that holds"}[unknown]
    shown = f"{show(at, 'length', system)} ({word}, in steps of {show(step, 'length', system)})"
    return _answer(result, unknown, at, shown)


def _first(panels: Sequence[tuple[float, Panel]]) -> tuple[Result | None, float]:
    """The first panel at which all but the making of the bead holds, by halving: they grow stiffer along the list."""
    if not panels:
        return None, 0.0
    known: dict[int, Result] = {}

    def holds(n: int) -> bool:
        known[n] = result = check_panel(panels[n][1])
        return not result.unjudged and all(c.status != "over" for c in result.checks if c.method.key not in MAKING)

    low, high = 0, len(panels) - 1
    if not holds(high):
        return known[high], panels[high][0]
    while low < high:
        middle = (low + high) // 2
        if holds(middle):
            high = middle
        else:
            low = middle + 1
    return known[high], panels[high][0]


def _thickness(data: dict[str, Any], system: System) -> Found:
    panel = build(Panel, data)
    family = panel.sheet.material.family
    stock = [r for r in load("stock_thickness").rows if r["series"] == system and r["family"] == family]
    last: Result | None = None
    for row in sorted(stock, key=lambda r: r.need("t")):
        try:
            last = check_panel(build(Panel, {**data, "sheet": {**data["sheet"], "thickness": row["size"]}}))
        except InputError:
            continue
        if last.status == "ok":
            return _answer(last, "thickness", row.need("t"), f"{row['size']}, the thinnest stock sheet that holds")
    raise _nothing("stock thickness", last)


def _answer(result: Result, name: str, value: float, text: str) -> Found:
    worst = result.worst
    if worst is not None and worst.utilisation:
        text += f"; {margin(worst)}"
    found = {**result.values, "found": Amount(value, "mm")}
    return Found(replace(result, values=found), f"Found {name}: {text}")


def _nothing(what: str, result: Result | None) -> InputError:
    why = ""
    if result is not None:
        worst = result.worst
        if result.unjudged:
            why = f"; at the stiffest, {result.unjudged[0]}"
        elif worst is not None and worst.utilisation is not None:
            why = f"; even at the stiffest, {worst.title} is {worst.utilisation:.0%} used"
    return InputError(f"no {what} holds{why}; change the sheet, the bead or the loads", field="--find")
