"""The Python edge: values as pint quantities in jointcalc's one registry, for those who use the library."""

from __future__ import annotations

from functools import lru_cache
from typing import Any


@lru_cache(maxsize=1)
def registry() -> Any:
    """The one pint registry of the package (quantities of two registries refuse to mix)."""
    import pint

    return pint.UnitRegistry()


_SPELT = {"t": "tonne", "t/mm^3": "tonne/mm**3", "1": "dimensionless", "": "dimensionless", "°C": "degC"}


def quantity(value: float | None, unit: str) -> Any:
    """`value` in one of jointcalc's result units as a pint quantity; None stays None."""
    if value is None:
        return None
    return registry().Quantity(value, _SPELT.get(unit, unit.replace("^", "**")))
