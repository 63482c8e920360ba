"""Quantities printed for a reader, in metric or inch units; the only rounding there is."""

from __future__ import annotations

import re
from math import floor, gcd
from typing import Literal

from jointcalc.quantity.units import INCH, KINDS, POUND_FORCE

System = Literal["metric", "inch"]

_BY_BASE = {
    "mm": "length", "N": "force", "MPa": "stress", "t": "mass", "mm/s^2": "acceleration", "N*mm": "moment",
    "N/mm": "line load", "N*mm/rad": "rotational stiffness", "rad": "angle", "mm^2": "area", "mm/s": "speed",
    "t/mm^3": "density",
}  # fmt: skip

_POWERS = {"mm^3": 3, "mm^4": 4, "mm^6": 6}

_FEW = {
    "kg": ("lb", 0.45359237),
    "kg/m": ("lb/ft", 0.45359237 / 0.3048),
    "kg/m^2": ("lb/ft^2", 0.45359237 / 0.3048**2),
    "N*mm^2": ("kip*in^2", 1e3 * POUND_FORCE * INCH**2),
    "mm^4/mm": ("in^4/in", INCH**3),
    "mm^3/mm": ("in^3/in", INCH**2),
    "kJ/mm": ("kJ/in", 1 / INCH),
    "N*mm/mm": ("lbf*in/in", POUND_FORCE),
}
"""Result unit that belongs to no kind of input -> (unit of an inch reader, how many of the first it is)."""


def percent(value: float | None) -> str:
    """A utilisation in percent, rounded up, never down; a dash where there is none."""
    return "-" if value is None else f"{-floor(-value * 100 + 1e-7):d} %"


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


FINEST = 64
"""Parts of an inch a rule or a drill is marked in."""


def fraction(inches: float) -> str:
    """A length that is whole 64ths of an inch as the trade writes it, `1-3/8`; empty for any other.

    Whole to a millionth: a computed length is a 64th by chance once in ten thousand, and then the fraction is as true.
    """
    parts = round(abs(inches) * FINEST)
    if not parts or parts % FINEST == 0 or abs(abs(inches) * FINEST - parts) > 1e-6 * max(parts, FINEST):
        return ""
    whole, top = divmod(parts, FINEST)
    shared = gcd(top, FINEST)
    sign = "-" if inches < 0 else ""
    return f"{sign}{whole}-{top // shared}/{FINEST // shared}" if whole else f"{sign}{top // shared}/{FINEST // shared}"


LEAST = {"force": 0.01, "stress": 0.001}
"""Below so much of its unit a load is what rounding and coupling leave: nobody weighs it, its digits are not told."""


def show(value: float, kind: str, system: System = "metric", digits: int = 4) -> str:
    """The value (base units) of a kind as text with the unit a reader of that system expects.

    For a reader of inches a length that is whole 64ths is a fraction, any other a decimal.  A force or stress under
    `LEAST` is told as less than that.
    """
    if kind == "length" and system == "inch" and (text := fraction(value / INCH)):
        return f"{text} in"
    table = KINDS[kind]
    choices = table.metric if system == "metric" else table.inch
    unit, factor = choices[0]
    for candidate, size in choices[1:]:
        if abs(value) >= 10 * size:
            unit, factor = candidate, size
    if 0 < abs(value) / factor < LEAST.get(kind, 0.0):
        return f"< {LEAST[kind]} {unit}"
    return f"{figures(value / factor, digits)} {unit}"


MAINS: dict[System, int] = {"metric": 50, "inch": 60}
"""Mains frequency [Hz] whose cycles a reader counts (common practice, no source)."""


def show_in(value: float, unit: str, system: System = "metric", digits: int = 4) -> str:
    """A value given in one of jointcalc's result units, printed for a reader of that system.

    Times of a machine, in cycles of either mains, are told in seconds and in cycles of the reader's.
    """
    if unit.startswith("cycles at "):
        seconds = value / float(unit.split()[2])
        return f"{figures(seconds, 3)} s, {figures(seconds * MAINS[system], 3)} cycles at {MAINS[system]} Hz"
    if unit in _BY_BASE:
        return show(value, _BY_BASE[unit], system, digits)
    if unit in _POWERS:
        if system == "inch":
            return f"{figures(value / 25.4 ** _POWERS[unit], digits)} in^{_POWERS[unit]}"
        return f"{figures(value, digits)} {unit}"
    if unit in _FEW and system == "inch":
        other, size = _FEW[unit]
        return f"{figures(value / size, digits)} {other}"
    return figures(value, digits) if unit in ("", "1") else f"{figures(value, digits)} {unit}"


_LETTER = re.compile(r"(?<==)([0-9]+(?:\.[0-9]+)?)mm\b")


def respelt(profile: str, system: System) -> str:
    """A profile that a search found, its letters in the units of the reader: `top=1-1/4in` for `top=31.75mm`."""
    if system == "metric":
        return profile
    return _LETTER.sub(lambda letter: show(float(letter[1]), "length", system).replace(" ", ""), profile)
