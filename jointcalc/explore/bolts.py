"""What bolt, what spreader plate, what sheet, what hole holds a group of fasteners."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from jointcalc.check.bolts import check_bolts
from jointcalc.errors import InputError, nearest
from jointcalc.explore.answer import Answer, Best, answered, nothing_holds, sheet_size
from jointcalc.explore.thickness import find_thickness
from jointcalc.model.bolts import FastenerGroup
from jointcalc.model.fastener import read_bolt
from jointcalc.model.fields import build
from jointcalc.quantity.show import System, show
from jointcalc.result import Amount, Result
from jointcalc.tables.store import load

CHANGE = "the sheet, the group or the load"
UNKNOWNS = ("bolt", "plate", "thickness", "hole")

_CUTS = {
    "metric": ((40, 40), (50, 50), (75, 50), (80, 60), (80, 80), (100, 75), (100, 100), (120, 120), (150, 150)),
    "inch": ((1.5, 1.5), (2, 2), (3, 2), (3, 3), (4, 3), (4, 4), (5, 5), (6, 6)),
}
PLATES: Mapping[str, tuple[tuple[float, float], ...]] = {
    "metric": tuple((float(a), float(b)) for a, b in _CUTS["metric"]),
    "inch": tuple((25.4 * a, 25.4 * b) for a, b in _CUTS["inch"]),
}
"""Plates that are searched, length and width [mm]: handy cuts, common practice."""
THICKNESSES: Mapping[str, tuple[float, ...]] = {
    "metric": (2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0),
    "inch": (*(25.4 * t for t in (0.0747, 0.1046)), *(25.4 * k / 16 for k in (2, 3, 4, 5, 6))),
}
"""Thicknesses of such plates [mm]: bought by size, in inches below 1/8 in by gauge (14 and 12 ga, as in the table)."""


def find_bolts(data: Mapping[str, Any], unknown: str, system: System = "metric") -> Answer:
    """Search one unknown of a group described by raw data (texts with units).

    `bolt` answers the smallest size of the same class, `plate` the lightest spreader plate (of the size given, if one
    is given), `thickness` the thinnest stock sheet in place of the thinnest one, `hole` the widest clearance hole that
    the trade drills or punches for the bolt (coarse, medium or fine series).  Raises InputError when the unknown is
    none of these or nothing holds.
    """
    if unknown not in UNKNOWNS:
        raise InputError(
            f"'{unknown}' cannot be searched{nearest(unknown, UNKNOWNS)} (accepted: {', '.join(UNKNOWNS)})",
            field="--find",
        )
    if unknown == "thickness":
        return find_thickness(data, FastenerGroup, check_bolts, system, CHANGE)
    return {"bolt": _bolt, "plate": _plate, "hole": _hole}[unknown](dict(data), system)


def _try(data: Mapping[str, Any], **change: Any) -> Result | None:
    raw = {k: v for k, v in {**data, **change}.items() if v is not None}
    try:
        return check_bolts(build(FastenerGroup, raw))
    except InputError:
        return None


ANY: Mapping[System, str] = {"metric": "M8 8.8", "inch": "5/16-18 Gr 5"}
"""The bolt whose class is taken where none is said (common practice, no source)."""


def with_class(data: Mapping[str, Any], system: System) -> tuple[str, str]:
    """The bolt from which a search takes class and series, and the words where no class was said.

    What is sought may be left out: a class may stand alone.  Raises InputError where rivets or rivet nuts
    hold the group.
    """
    other = next((word for word in ("rivet", "rivnut") if data.get(word) is not None), None)
    if other is not None:
        raise InputError(
            f"a search for the bolt takes no '--{other}'; leave it out, or search another size", field="--find"
        )
    text = data.get("bolt")
    if text is None:
        return ANY[system], f" (no class was given: {ANY[system].partition(' ')[2]} is taken)"
    for one in (f"{bolt.partition(' ')[0]} {text}" for bolt in ANY.values()):
        try:
            read_bolt(one)
        except InputError:
            continue
        return one, ""
    return str(text), ""


def _bolt(data: dict[str, Any], system: System) -> Answer:
    text, taken = with_class(data, system)
    data["bolt"] = text
    build(FastenerGroup, {k: v for k, v in data.items() if v is not None})
    match = re.match(r"\s*(\S+(?:\s*[xX]\s*[0-9.]+)?)\s+(.*)", str(text))
    assert match
    grade = match[2]
    inch = "/" in match[1]
    table = load("bolt_inch" if inch else "bolt_metric")
    rows = [r for r in table.rows if inch or "x" not in r["size"]]
    rows.sort(key=lambda r: (r.need("d"), r.need("stress_area")))
    best = Best()
    for row in rows:
        result = _try(data, bolt=f"{row['size']} {grade}", hole_diameter=None)
        if result is None:
            continue
        best.saw(result, row["size"])
        if result.status == "ok":
            d = row.need("d")
            return answered(result, "bolt", d, f"{result.model.fastener.label}{taken}")
    raise nothing_holds(f"no bolt of class {grade} up to {rows[-1]['size']} holds", best, CHANGE)


def _plate(data: dict[str, Any], system: System) -> Answer:
    fixed = data.get("plate")
    best = Best()
    if fixed is not None:
        group = build(FastenerGroup, {k: v for k, v in data.items() if v is not None})
        assert group.plate is not None
        sizes: tuple[tuple[float, float], ...] = ((group.plate[0], group.plate[1]),)
    else:
        # refused for another reason than the plate, it is refused here
        build(FastenerGroup, {k: v for k, v in {**data, "plate": "150 150 3 mm"}.items() if v is not None})
        sizes = PLATES[system]
    plates = sorted(((a, b, t) for a, b in sizes for t in THICKNESSES[system]), key=lambda p: (p[0] * p[1] * p[2], p))
    for long, short, thick in plates:
        result = _try(data, plate=(long, short, thick))
        if result is None:
            continue
        cut = f"{show(long, 'length', system)} x {show(short, 'length', system)}"
        shown = f"{cut} x {sheet_size(thick, 'steel', system)}"
        best.saw(result, shown)
        if result.status == "ok":
            amounts = {
                "found": Amount(thick, "mm"),
                "plate_length": Amount(long, "mm"),
                "plate_width": Amount(short, "mm"),
                "plate_thickness": Amount(thick, "mm"),
            }
            return answered(result, "plate", amounts, f"{shown} {result.model.plate_grade}, the lightest that holds")
    raise nothing_holds("no spreader plate holds", best, CHANGE)


FITS = ("fine", "medium", "coarse")
"""Series of clearance holes, tightest first (ISO 273); inch sizes: close, normal, loose."""


DRILLED = 0.02
"""How far a table's decimals of an inch may lie beside the drill they mean [mm]: 0.359 in is 23/64."""


def _drill(size: float, system: System) -> float:
    """The hole [mm] as a reader of inches drills it, in 64ths where the table's figure is one; judged at that."""
    drill = round(size * 64 / 25.4) * 25.4 / 64
    return drill if system == "inch" and abs(drill - size) <= DRILLED else size


def _hole(data: dict[str, Any], system: System) -> Answer:
    # whatever hole is given: it is what is looked for
    base = build(FastenerGroup, {k: v for k, v in data.items() if v is not None and k != "hole_diameter"})
    if base.slot is not None:
        raise InputError("a slot has no hole to search; leave out 'slot'", field="--find")
    best = Best()
    for n, size in reversed(list(enumerate(base.fastener.holes))):
        hole = _drill(size, system)
        result = _try(data, hole_diameter=hole)
        if result is None:
            hole, result = size, _try(data, hole_diameter=size)
        if result is None:
            continue
        best.saw(result, show(hole, "length", system))
        if result.status == "ok":
            series = f", {FITS[n]} series" if len(base.fastener.holes) == len(FITS) else ""
            text = f"{show(hole, 'length', system)}{series}, the widest that holds"
            return answered(result, "hole", hole, text)
    raise nothing_holds(f"no clearance hole for {base.fastener.label} holds", best, CHANGE)
