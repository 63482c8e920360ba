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


def gauge_thickness(gauge: Gauge, family: str, coated: bool = False, *, field: str = "thickness") -> float:
    """Nominal thickness [mm] of a gauge number in the table of that family of sheet.

    Raises InputError when that table has no such gauge.
    """
    name = TABLE.get((family, coated)) or TABLE[(family, False)]
    table = load(name)
    for row in table.rows:
        if int(row["gauge"]) == gauge.number:
            return row.need("t")
    numbers = [int(row["gauge"]) for row in table.rows]
    raise InputError(
        f"{gauge.number} ga is not in table '{name}', which runs from {min(numbers)} to {max(numbers)} ga; "
        "write the thickness, such as '1.2 mm'",
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
