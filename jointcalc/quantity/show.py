"""Quantities printed for a reader, in metric or inch units; the only rounding there is."""

from __future__ import annotations

from typing import Literal

from jointcalc.quantity.units import KINDS

System = Literal["metric", "inch"]

_BY_BASE = {
    "mm": "length", "N": "force", "MPa": "stress", "t": "mass", "mm/s^2": "acceleration", "N*mm": "moment",
    "N/mm": "line load", "N*mm/rad": "rotational stiffness", "rad": "angle", "mm^2": "area", "mm/s": "speed",
    "t/mm^3": "density",
}  # fmt: skip

_POWERS = {"mm^3": 3, "mm^4": 4, "mm^6": 6}


def figures(value: float, digits: int = 4) -> str:
    """A number with `digits` significant figures, no exponent up to a million, thin groups of three."""
    if value == 0:
        return "0"
    size = abs(value)
    if size >= 10.0 ** max(digits, 7) or size < 1e-4:
        mantissa, _, exponent = f"{value:.{digits - 1}e}".partition("e")
        return f"{mantissa}e{int(exponent)}"
    text = f"{value:.{digits}g}"
    if "e" in text:
        text = f"{float(text):.0f}"
    whole, dot, rest = text.partition(".")
    sign, whole = ("-", whole[1:]) if whole.startswith("-") else ("", whole)
    if len(whole) > 4:
        whole = f"{int(whole):,}".replace(",", " ")
    return sign + whole + (dot + rest.rstrip("0") if rest.rstrip("0") else "")


def show(value: float, kind: str, system: System = "metric", digits: int = 4) -> str:
    """The value (base units) of a kind as text with the unit a reader of that system expects."""
    table = KINDS[kind]
    choices = table.metric if system == "metric" else table.inch
    unit, factor = choices[0]
    for candidate, size in choices[1:]:
        if abs(value) >= 10 * size:
            unit, factor = candidate, size
    return f"{figures(value / factor, digits)} {unit}"


def show_in(value: float, unit: str, system: System = "metric", digits: int = 4) -> str:
    """A value given in one of jointcalc's result units, printed for a reader of that system."""
    if unit in _BY_BASE:
        return show(value, _BY_BASE[unit], system, digits)
    if unit in _POWERS:
        if system == "inch":
            return f"{figures(value / 25.4 ** _POWERS[unit], digits)} in^{_POWERS[unit]}"
        return f"{figures(value, digits)} {unit}"
    if unit == "kg/m" and system == "inch":
        return f"{figures(value * 0.3048 / 0.45359237, digits)} lb/ft"
    if unit == "kg/m^2" and system == "inch":
        return f"{figures(value * 0.09290304 / 0.45359237, digits)} lb/ft^2"
    return figures(value, digits) if unit in ("", "1") else f"{figures(value, digits)} {unit}"
