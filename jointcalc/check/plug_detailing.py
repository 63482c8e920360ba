"""Distances, hole and fill of plug and slot welds."""

from __future__ import annotations

from collections.abc import Iterable
from math import prod
from typing import NamedTuple

from jointcalc.check.common import INFORMATION, LIMIT
from jointcalc.check.plug_base import PlugAction
from jointcalc.formula import plug_aisc, spot_en1993
from jointcalc.formula.branch import at_least, at_most
from jointcalc.formula.core import Evaluation, Limit
from jointcalc.model.plug import PlugRow
from jointcalc.quantity.sentence import mm
from jointcalc.result import DETAILING, Check, Method, method
from jointcalc.tables.store import Row, load

HOLE_LEAST = method(
    "detail.plug-hole-min",
    "Hole against the structural codes",
    plug_aisc.LIMITS_READ,
    per="mm",
    basis=DETAILING,
    bound="least",
    factor=LIMIT,
)
HOLE_GREATEST = method(
    "detail.plug-hole-max",
    "Greatest hole for the weld",
    plug_aisc.LIMITS_READ,
    per="mm",
    basis=DETAILING,
    bound="greatest",
    factor=LIMIT,
)
HOLE_PRACTICE = method(
    "detail.plug-hole-practice",
    "Hole by habit of the trade",
    plug_aisc.PRACTICE,
    per="mm",
    basis=DETAILING,
    bound="least",
    factor=INFORMATION,
)
SPACING = method(
    "detail.plug-spacing",
    "Spacing of plug or slot welds",
    plug_aisc.LIMITS_MEMORY,
    per="mm",
    basis=DETAILING,
    bound="least",
    factor=LIMIT,
)
ROW_SPACING = method(
    "detail.plug-row-spacing",
    "Spacing of the rows",
    plug_aisc.LIMITS_MEMORY,
    per="mm",
    basis=DETAILING,
    bound="least",
    factor=LIMIT,
)
SLOT_LENGTH = method(
    "detail.slot-length",
    "Greatest length of a slot",
    plug_aisc.LIMITS_MEMORY,
    per="mm",
    basis=DETAILING,
    bound="greatest",
    factor=LIMIT,
)
FILL = method(
    "detail.plug-fill",
    "Depth of fill",
    plug_aisc.LIMITS_READ,
    per="mm",
    basis=DETAILING,
    bound="least",
    factor=LIMIT,
)


TWIN = 1.02
"""How far the gauge or drill of an inch shop may lie beside the millimetres of a habit of the trade: 18 ga (1.214 mm)
is punched like 1.2 mm, and 5/16 in (7.94 mm) is its 8 mm.  Common practice, no source."""


def usual_holes(t: float) -> Row:
    """The trade's holes for the sheets above [mm]: between two rows the next thicker, beyond the last the last."""
    rows = load("plug_hole_practice").rows
    return next((r for r in rows if at_most(t, TWIN * r.need("t_to"))), rows[-1])


class Spaced(NamedTuple):
    """What counts of welds that stand as they do."""

    d_s: float
    """Fused diameter that counts [mm]."""
    share: float
    """How many of the welds count, over how many there are."""
    told: list[str]


def spacing_of(action: PlugAction, d_s: float) -> Spaced:
    """Pitch and edge of Table 8.5 in the loaded directions (along the row when nothing is loaded).

    Of welds closer to each other than the table has them so many count as would stand on their length at its least
    pitch: those between take nothing away.  Nearer an edge they count as smaller ones that stand just so far from it.
    Wider than the table's greatest they are single welds, no weaker each.
    """
    row = action.row
    counted = d_s
    shares: dict[str, float] = {}
    told: dict[str, None] = {}

    def look(of: Iterable[Limit], word: str, many: int = 0, **inputs: float | None) -> None:
        nonlocal counted
        value = next(iter(inputs.values()))
        if value is None:
            return
        for limit in of:
            at = {**inputs, "d_s": d_s}
            ratio = float(limit.value(at))
            if limit.low is not None and not at_least(ratio, limit.low) and many:
                stand = 1 + (many - 1) * ratio / limit.low
                shares[word] = min(stand / many, shares.get(word, 1.0))
                told[f"{limit.reason(at)}: counted as {stand:.3g} of the {many} there"] = None
            elif limit.low is not None and not at_least(ratio, limit.low):
                counted = min(counted, d_s * ratio / limit.low)
                told[f"{limit.reason(at)}: counted as welds of {mm(d_s * ratio / limit.low):.3g}"] = None
            elif limit.high is not None and not at_most(ratio, limit.high):
                told[
                    f"{word} {mm(value):.3g} is beyond the {mm(limit.high * d_s):.3g} of the table: counted as at it"
                ] = None

    pitch = row.actual_pitch if row.along > 1 else None
    spacing = row.row_spacing if row.rows > 1 else None
    if action.along or not action.across:
        look(spot_en1993.PITCH_ALONG, "pitch", row.along, p_1=pitch)
        look(spot_en1993.PITCH_ACROSS, "row spacing", row.rows, p_2=spacing)
        look(spot_en1993.EDGE, "edge", e_2=row.edge)
    if action.across:
        look(spot_en1993.PITCH_ALONG, "row spacing", row.rows, p_1=spacing)
        look(spot_en1993.PITCH_ACROSS, "pitch", row.along, p_2=pitch)
        if row.along == 1:
            look(spot_en1993.EDGE, "end", e_2=row.actual_end)
    return Spaced(counted, prod(shares.values()), list(told))


def hole_details(row: PlugRow, fill: float, by_area: list[Check]) -> list[Check]:
    """Limits on the hole: they judge where a method that needs them is used, else they inform."""
    assert row.hole is not None
    t, d = row.top, row.hole
    least = plug_aisc.LEAST_HOLE.evaluate(t=t)
    greatest = plug_aisc.GREATEST_HOLE.evaluate(d_min=float(least.value), w=fill)
    deep = plug_aisc.LEAST_FILL.evaluate(t=t)
    checks = [
        HOLE_LEAST.info(
            capacity=d,
            demand=float(least.value),
            unit="mm",
            trace=[least],
            note=""
            if at_least(d, float(least.value))
            else "smaller: the codes' strength on the hole's area is not used",
        ),
        FILL.judge(capacity=fill, demand=float(deep.value), unit="mm", trace=[deep]),
    ]
    spacing: list[tuple[Method, Evaluation, float]] = []
    if row.along > 1:
        need = plug_aisc.LEAST_PLUG_SPACING if row.slot is None else plug_aisc.LEAST_SLOT_SPACING_ALONG
        inputs = {"d": d} if row.slot is None else {"l": row.slot}
        spacing.append((SPACING, need.evaluate(**inputs), row.actual_pitch))
    if row.rows > 1 and row.row_spacing is not None:
        need = plug_aisc.LEAST_PLUG_SPACING if row.slot is None else plug_aisc.LEAST_SLOT_SPACING_ACROSS
        spacing.append((ROW_SPACING, need.evaluate(d=d), row.row_spacing))
    limits: list[tuple[Method, float, Evaluation]] = []
    if by_area:
        checks.append(HOLE_GREATEST.judge(capacity=float(greatest.value), demand=d, unit="mm", trace=[greatest]))
        if row.slot is not None:
            longest = plug_aisc.GREATEST_SLOT_LENGTH.evaluate(w=fill)
            limits.append((SLOT_LENGTH, row.slot, longest))
    for one, has, longest in limits:
        checks.append(one.judge(capacity=float(longest.value), demand=has, unit="mm", trace=[longest]))
    for rule, evaluation, has in spacing:
        if by_area:
            checks.append(rule.judge(capacity=has, demand=float(evaluation.value), unit="mm", trace=[evaluation]))
        else:
            checks.append(
                rule.info(
                    capacity=has,
                    demand=float(evaluation.value),
                    unit="mm",
                    trace=[evaluation],
                    note="asked for where the structural clause is used",
                )
            )
    habit = usual_holes(t)
    low, high = habit.need("hole_low"), habit.need("hole_high")
    checks.append(
        HOLE_PRACTICE.info(
            capacity=d, demand=low, unit="mm", note=f"the trade punches {mm(low, ' to ', high):g} for this sheet"
        )
    )
    return checks
