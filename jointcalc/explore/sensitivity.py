"""How much hangs on the sheet's thickness and on one weld or fastener: the same checks, run on a changed model.

Two questions an engineer puts to every result.  What if every sheet is 8 % thinner than ordered, which the
tolerances of EN 10131 and of the gauge charts allow?  What if one spot, weld or fastener is missing?  Each is
answered by describing the item again with that change and judging it by the same checks.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import partial
from math import hypot
from typing import Any

from jointcalc.check import check
from jointcalc.explore.changed import Changed, judged, left, tried
from jointcalc.explore.duds import duds
from jointcalc.model.bolts import FastenerGroup
from jointcalc.model.brace import Brace
from jointcalc.model.fields import Item, build
from jointcalc.model.fillet import FilletGroup
from jointcalc.model.panel import Panel
from jointcalc.model.plug import PlugRow
from jointcalc.model.row import WeldRow
from jointcalc.model.sheet import Sheet
from jointcalc.model.spelled import Spelled
from jointcalc.quantity.sentence import mm
from jointcalc.registry import BY_KEY, load
from jointcalc.result import Result
from jointcalc.section.families.family import Family
from jointcalc.section.families.tube import Bar
from jointcalc.tables.gauges import table_of
from jointcalc.tables.store import load as load_table

THINNER = 0.08
"""Part of the nominal thickness that may be missing: what is usual under EN 10131 and the gauge charts."""
LEFT = 1 - THINNER
MOST_TRIED = 50
"""Welds or fasteners of a group each of which is left out in turn; of more, only the one that carries most."""

EN10131 = "sheet_tolerance_en10131"

Data = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Tolerance:
    """How thin a sheet may be delivered: thickness and shortfall [mm], and the table that says so.

    Where the table goes by the width of the sheet, `least` is for narrow and `most` for wide sheet.
    """

    thickness: float
    least: float
    most: float
    table: str


def sensitivity(item: Item, result: Result | None = None) -> tuple[Changed, ...]:
    """The item with every sheet 8 % thinner and, where there are several, with one spot, weld or fastener fewer.

    Of a row also with the one weld and the two neighbours missing whose loss is worst, of a group the two neighbours.
    `result` is the judged item, where it is at hand.  Of a group of bolts or weld lines the one is left out whose
    loss leaves the lowest factor.  Raises nothing for a change that cannot be built: it is told in `why`.
    """
    result = check(item) if result is None else result
    return thinner(item, result), *fewer(item, result)


def thinner(item: Item, result: Result | None = None) -> Changed:
    """The item with every sheet 8 % thinner.

    `result` is the item judged as described; where another process judges that, `Changed.against` compares with it.
    """
    what = f"every sheet {THINNER:.0%} thinner".replace("%", " %")
    found = tried(what, partial(load(BY_KEY[item.kind].thinner), item), item.standings)
    return found if result is None else found.against(result)


def fewer(item: Item, result: Result) -> tuple[Changed, ...]:
    """The item with one spot, weld or fastener fewer, as of `sensitivity`; nothing where it has no several."""
    one_fewer: Changed | None = load(BY_KEY[item.kind].one_fewer)(item, result)
    several = duds(item, result) if isinstance(item, WeldRow | FastenerGroup) else ()
    return several if one_fewer is None else (one_fewer, *several)


def tolerances(item: Item) -> tuple[Tolerance, ...]:
    """How thin each sheet of the item may be, of those our tables know; each thickness once, thinnest first.

    A sheet ordered by gauge by the limits of its gauge chart; cold-rolled low carbon sheet of EN 10130 by EN 10131.
    """
    found = {(t.thickness, t.table): t for sheet in _sheets(item) if (t := _tolerance(sheet)) is not None}
    return tuple(found[key] for key in sorted(found))


# --- thinner sheets ------------------------------------------------------------------------------------


def _data(item: Item) -> Data:
    return item.model_dump(exclude_none=True)


def _thinner_sheet(data: Mapping[str, Any], sheet: Sheet, left: float) -> Data:
    """The sheet's data, thinner, with the strengths of the thickness that was ordered."""
    return {**data, "thickness": sheet.thickness * left, **_strengths(sheet, left)}


def _strengths(sheet: Sheet, left: float) -> Data:
    """Strengths to state so that a thinner sheet keeps those of its grade as ordered; empty when it does anyway."""
    thin = build(Sheet, {**_data_of(sheet), "thickness": sheet.thickness * left})
    stated: Data = {}
    if sheet.has_yield and thin.has_yield and thin.f_y != sheet.f_y:
        stated["yield_strength"] = sheet.f_y
    if thin.f_u != sheet.f_u:
        stated["tensile_strength"] = sheet.f_u
    return stated


def _data_of(sheet: Sheet) -> Data:
    return sheet.model_dump(exclude_none=True)


def thinner_joint(item: Any, left: float = LEFT, **change: Any) -> Any:
    """The joint with each of its `sheets` thinner, and a further change of its data."""
    sheets = [_thinner_sheet(d, s, left) for d, s in zip(_data(item)["sheets"], item.sheets, strict=True)]
    return item.remade({**_data(item), "sheets": sheets, **change})


def thinner_plugs(item: PlugRow, left: float = LEFT) -> Any:
    """The plugs in thinner sheets, filled in the same proportion."""
    return thinner_joint(item, left, **({} if item.fill is None else {"fill": item.fill * left}))


def thinner_bolts(item: FastenerGroup, left: float = LEFT) -> Any:
    """The fasteners in thinner sheets, on thinner backing plates."""
    if item.plate is None:
        return thinner_joint(item, left)
    long, short, thick = item.plate
    return thinner_joint(item, left, plate=(long, short, thick * left))


def thinner_fillet(item: FilletGroup, left: float = LEFT) -> Any:
    """The welds between thinner sheets."""
    return thinner_joint(item, left, **_thinner_welds(item, left))


def thinner_brace(item: Brace, left: float = LEFT) -> Brace:
    """The brace with all its sheets thinner."""
    data = {**_data(item), "profile": _thinner_profile(item.family, left)}
    # a brace states one strength for all its sheets
    if len({sheet.grade for sheet in item.sheets}) == 1:
        data |= _strengths(item.sheets[0], left)
    return build(type(item), data)


def thinner_panel(item: Panel, left: float = LEFT) -> Panel:
    """The panel of a thinner sheet, judged without what only informs: beside the panel itself that is never shown."""
    data = _data(item)
    return build(type(item), {**data, "sheet": _thinner_sheet(data["sheet"], item.sheet, left)}).briefly()


def _thinner_welds(item: FilletGroup, left: float) -> Data:
    """What of the welds cannot outlast a thinner sheet: a lap's bead along its edge, a butt weld's throat."""
    change: Data = {}
    edge = item.sheets[0].thickness * left
    if item.weld == "fillet" and item.joint == "lap" and item.leg is not None and item.leg > edge:
        change["leg"] = edge
        if item.throat is not None:
            change["throat"] = item.throat * edge / item.leg
    elif item.weld == "fillet" and item.leg is not None:
        # a weld that was the largest its sheet takes
        most = max(3 * item.thin.thickness * left, 4.0)
        if item.leg > most:
            change["leg"] = most
    elif item.weld == "butt" and item.throat is not None:
        change["throat"] = min(item.throat, item.thin.thickness * left)
    return change


def _spelled(family: Family) -> Spelled:
    return Spelled(family.text(), family)


def _thinner_profile(family: Family, left: float) -> Spelled:
    """The profile with all its sheets thinner: outside dimensions and the tool's radius stay."""
    if isinstance(family, Bar):
        thin = min(("depth", "width"), key=lambda side: float(getattr(family, side)))
        return _spelled(replace(family, **{thin: float(getattr(family, thin)) * left}))
    change: Data = {
        name: float(getattr(family, name)) * left
        for name, letter in family.letters().items()
        if letter.thickness and getattr(family, name) is not None
    }
    if family.radius is not None and "r" in family.letters():
        change["r"] = float(family.radius)
    return _spelled(replace(family, **change))


# --- one fewer -------------------------------------------------------------------------------------------


def spot_fewer(item: Brace, result: Result) -> Changed | None:
    """One spot fewer in each weld line of a brace; None for a brace without a pitch."""
    if item.pitch is None:
        return None
    if item.seam is None:
        spots = int(item.length / item.pitch + 1e-9)
        wider = item.length / max(spots - 1, 1)
    else:  # its own spots, with its own ends
        spots = item.seam.along
        wider = item.pitch * (spots - 1) / max(spots - 2, 1)
    if spots < (2 if item.seam is None else 3):
        return None
    data = _data(item) | {"pitch": wider}
    what = f"one spot fewer in each weld line, {spots - 1} instead of {spots}"
    return judged(what, partial(build, type(item), data), result)


def row_fewer(item: WeldRow, result: Result) -> Changed | None:
    """One weld fewer in each row, the rest spread over the same length."""
    word = item.one_weld
    each = f" in each of {item.rows} rows" if item.rows > 1 else ""
    if item.along < 2:
        return Changed(f"one {word} fewer{each}", None, f"there is only one {word}: without it nothing holds")
    data = _data(item) | {"count": item.along - 1}
    data.pop("pitch", None)
    what = f"one {word} fewer{each}, {item.along - 1} instead of {item.along}, spread over the same length"
    return judged(what, partial(item.remade, data), result)


def fastener_fewer(item: FastenerGroup, result: Result) -> Changed:
    """The group without the fastener whose loss is worst."""
    return _group(item, "holes", _fasteners(item, result), result, "fastener")


def weld_fewer(item: FilletGroup, result: Result) -> Changed | None:
    """The group without the weld line whose loss is worst, or with one stitch fewer."""
    if item.stitch is not None:
        return _stitches(item, result)
    return _group(item, "lines", _lines(item, result), result, "weld")


def _group(item: Item, name: str, tried: list[tuple[int, str]], result: Result, word: str) -> Changed:
    """One of a group left out: of those tried, the one whose loss is worst."""
    parts = _data(item)[name]
    if len(parts) < 2:
        return Changed(f"one {word} fewer", None, f"there is only one {word}: without it nothing holds")

    def without() -> Iterator[Changed]:
        for n, told in tried:
            data = _data(item) | {name: [part for i, part in enumerate(parts) if i != n]}
            yield judged(f"one {word} fewer: without {told}", partial(build, type(item), data), result)

    return min(without(), key=left)


def _fasteners(item: FastenerGroup, result: Result) -> list[tuple[int, str]]:
    every = [(n, f"number {n + 1}") for n in range(len(item.holes))]
    return every if len(every) <= MOST_TRIED else [every[_peak(result, "peak_fastener")]]


def _lines(item: FilletGroup, result: Result) -> list[tuple[int, str]]:
    every = [
        (n, f"line {n + 1}, {mm(hypot(x2 - x1, y2 - y1)):.4g} long") for n, (x1, y1, x2, y2) in enumerate(item.lines)
    ]
    return every if len(every) <= MOST_TRIED else [every[_peak(result, "peak_line")]]


def _peak(result: Result, name: str) -> int:
    """Place in the group, from 0, of the one that carries most."""
    value = result.values[name].value if name in result.values else None
    return 0 if value is None else round(value) - 1


def _stitches(item: FilletGroup, result: Result) -> Changed | None:
    """One stitch fewer in the longest line, the pitch wider everywhere."""
    assert item.stitch is not None
    length, _ = item.stitch
    counts = [item.parents.count(n) for n in range(len(item.lines))]
    most = max(counts)
    longest = max(hypot(x2 - x1, y2 - y1) for (x1, y1, x2, y2), n in zip(item.lines, counts, strict=True) if n == most)
    if most < 3:
        return None  # a stitch stands at each end: with two there is none to spare
    pitch = (longest - length) / (most - 2)
    data = _data(item) | {"stitch": (length, pitch)}
    what = f"one stitch fewer in the longest line, {most - 1} instead of {most}, a pitch of {mm(pitch):.4g}"
    return judged(what, partial(build, type(item), data), result)


# --- tolerances ------------------------------------------------------------------------------------------


def _sheets(item: Item) -> tuple[Sheet, ...]:
    sheets: tuple[Sheet, ...] | None = getattr(item, "sheets", None)
    return (item.sheet,) if sheets is None else sheets  # type: ignore[attr-defined]  # one or several


def _tolerance(sheet: Sheet) -> Tolerance | None:
    gauge = sheet.gauge
    if gauge is not None and not gauge.wire:
        family = sheet.material.family
        name = table_of(gauge, family, sheet.coated and family == "steel")
        row = next((r for r in load_table(name).rows if r["gauge"] == str(gauge.number) and r.get("t_min")), None)
        if row is None:
            return None
        short = row.need("t") - row.need("t_min")
        return Tolerance(sheet.thickness, short, short, name)
    if not sheet.material.standard.startswith("EN 10130"):
        return None
    # where two ranges meet, the larger tolerance is the safe reading
    found = [
        (row.need("tol_to_1200"), row.need("tol_over_1500"))
        for row in load_table(EN10131).rows
        if row.need("t_from") - 1e-9 <= sheet.thickness <= row.need("t_to") + 1e-9
    ]
    return Tolerance(sheet.thickness, *max(found), EN10131) if found else None
