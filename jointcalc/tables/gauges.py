"""Sheet gauges: a gauge number is a key into a named table, and coated, bare and aluminium sheet differ."""

from __future__ import annotations

from jointcalc.errors import InputError
from jointcalc.quantity.parse import Gauge, parse_thickness
from jointcalc.tables.store import load

TABLE = {
    ("steel", False): "gauge_steel_cold_rolled",
    ("steel", True): "gauge_steel_galvanised",
    ("aluminium", False): "gauge_aluminium",
    ("stainless", False): "gauge_stainless",
}
"""(family, zinc coated) -> the gauge table that applies."""


WIRE = "gauge_uk_swg"
"""The table of the British standard wire gauge, one for every metal."""


def table_of(gauge: Gauge, family: str, coated: bool = False) -> str:
    """Name of the table that says how thick that gauge is in that family of sheet."""
    return WIRE if gauge.wire else TABLE.get((family, coated)) or TABLE[(family, False)]


def gauges_between(first: Gauge, last: Gauge, family: str, coated: bool = False) -> list[tuple[Gauge, float]]:
    """Gauges from one to another with their thickness [mm], thinnest first: those a stockholder keeps, and both ends.

    Raises InputError for one that the table does not have, or for gauges of two systems.
    """
    if first.wire != last.wire:
        raise InputError(f"'{first}' and '{last}' are gauges of two systems; give both in one")
    low, high = sorted((first.number, last.number))
    if first.wire:
        kept = {int(row["gauge"]) for row in load(WIRE).rows}
    else:
        named = "galvanised" if coated and family == "steel" else family
        sizes = [row["size"].split() for row in load("stock_thickness").rows if row["family"] == named]
        kept = {int(size[0]) for size in sizes if size[1] == "ga"}
    numbers = sorted({low, high} | {n for n in kept if low <= n <= high}, reverse=True)
    gauges = [Gauge(n, wire=first.wire) for n in numbers]
    return [(gauge, gauge_thickness(gauge, family, coated)) for gauge in gauges]


def gauge_thickness(gauge: Gauge, family: str, coated: bool = False, *, field: str = "thickness") -> float:
    """Nominal thickness [mm] of a gauge number in the table of that family of sheet.

    Raises InputError when that table has no such gauge.
    """
    name = table_of(gauge, family, coated)
    table = load(name)
    for row in table.rows:
        if int(row["gauge"]) == gauge.number:
            return row.need("t" if "t" in table.columns else "t_mm")
    numbers = [int(row["gauge"]) for row in table.rows]
    unit = "swg" if gauge.wire else "ga"
    every = set(numbers) == set(range(min(numbers), max(numbers) + 1))
    runs = (
        f"runs from {min(numbers)} to {max(numbers)} {unit}" if every else f"has {', '.join(map(str, numbers))} {unit}"
    )
    raise InputError(
        f"{gauge} is not in table '{name}', which {runs}; write the thickness, such as '1.2 mm'",
        field=field,
    )


def sheet_thickness(
    text: object, family: str = "steel", coated: bool = False, *, field: str = "thickness", numbers: bool = False
) -> float:
    """Thickness [mm] of a builder's text, a size with its unit or a gauge (`18 ga`) of that family; or of a number.

    Raises InputError.
    """
    value = parse_thickness(text, field=field, numbers=numbers)
    return gauge_thickness(value, family, coated, field=field) if isinstance(value, Gauge) else value
