"""The closed tables of units: what a builder may write for each kind of quantity.

Everything inside jointcalc is a float (or an array) in N, mm, MPa, tonne, s, a consistent set.  A
kind says which units its text may end in and how each becomes the base unit; nothing else is ever
accepted.  `tests/quantity` holds every row against pint.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import pi

INCH = 25.4  # mm, exact (international inch, 1959)
POUND_FORCE = 4.4482216152605  # N, exact: 0.45359237 kg x 9.80665 m/s2
POUND = 0.45359237e-3  # t, exact
GRAVITY = 9806.65  # mm/s2, exact: standard acceleration of free fall (CGPM 1901)


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of quantity: its base unit, the accepted units and a form to copy."""

    name: str
    base: str
    units: Mapping[str, float]
    example: str
    metric: tuple[tuple[str, float], ...]
    inch: tuple[tuple[str, float], ...]
    largest: float
    """Absolute value beyond which a number is taken for a slip of the pen, in base units."""

    advice: Mapping[str, str]
    """What to say about units that look right and are not."""


_LENGTH = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "um": 1e-3, "µm": 1e-3, "in": INCH, '"': INCH, "ft": 12 * INCH}
_FORCE = {"N": 1.0, "daN": 10.0, "kN": 1e3, "kgf": 9.80665, "lbf": POUND_FORCE, "kip": 1e3 * POUND_FORCE}
_PSI = POUND_FORCE / INCH**2
_STRESS = {
    "Pa": 1e-6, "kPa": 1e-3, "MPa": 1.0, "GPa": 1e3, "N/mm2": 1.0, "N/mm^2": 1.0, "bar": 0.1,
    "psi": _PSI, "ksi": 1e3 * _PSI,
}  # fmt: skip
_MASS = {"g": 1e-6, "kg": 1e-3, "t": 1.0, "lb": POUND, "oz": POUND / 16}


def _products(left: Mapping[str, float], right: Mapping[str, float], joint: str) -> dict[str, float]:
    return {f"{a}{joint}{b}": fa * fb for a, fa in left.items() for b, fb in right.items()}


_SHORT = {"mm": 1.0, "m": 1e3, "in": INCH, "ft": 12 * INCH}
_MOMENT = {
    **_products({"N": 1.0, "kN": 1e3, "daN": 10.0, "lbf": POUND_FORCE, "kip": 1e3 * POUND_FORCE}, _SHORT, "*"),
    "Nm": 1e3, "Nmm": 1.0, "kNm": 1e6,
}  # fmt: skip
_LINE_LOAD = {
    f"{f}/{ln}": a / b
    for f, a in {"N": 1.0, "kN": 1e3, "lbf": POUND_FORCE, "kip": 1e3 * POUND_FORCE}.items()
    for ln, b in _SHORT.items()
}
_TURN = {f"{m}/{a}": f / g for m, f in _MOMENT.items() for a, g in {"rad": 1.0, "deg": pi / 180}.items()}

_TURN_PER_LENGTH = {
    "N*mm/rad/mm": 1.0, "N*m/rad/m": 1.0, "kN*m/rad/m": 1e3, "N*m/deg/m": 180 / pi, "lbf*in/rad/in": POUND_FORCE,
}  # fmt: skip

_NO_ADVICE: Mapping[str, str] = {}

KINDS: Mapping[str, Kind] = {
    k.name: k
    for k in (
        Kind("length", "mm", _LENGTH, "1.2 mm", (("mm", 1.0),), (("in", INCH),), 50e3,
             {"mil": "write 'thou' sizes as inches, such as '0.048 in'", "ga": "a gauge is a sheet thickness only",
              "inch": "write 'in'", "inches": "write 'in'", "MM": "write 'mm'", "'": "write 'ft'", "''": "write 'in'", "″": "write 'in'",
              "′": "write 'ft'", "”": "write 'in'", "’": "write 'ft'", "swg": "a gauge is a sheet thickness only", "thou": "write inches, such as '0.048 in'",
              "feet": "write 'ft'"}),
        Kind("force", "N", _FORCE, "12 kN", (("N", 1.0), ("kN", 1e3)), (("lbf", POUND_FORCE),), 1e8,
             {"lb": "'lb' is a mass; a force is in 'lbf'", "lbs": "write 'lbf'", "kg": "'kg' is a mass; a force is in 'N' or 'kgf'",
              "g": "'g' is an acceleration; a force is in 'N'", "kn": "write 'kN'", "KN": "write 'kN'"}),
        Kind("stress", "MPa", _STRESS, "270 MPa", (("MPa", 1.0),), (("ksi", 1e3 * _PSI),), 1e6,
             {"Mpa": "write 'MPa'", "mpa": "write 'MPa'", "N/mm": "that is a load per length; a stress is in 'N/mm2' or 'MPa'"}),
        Kind("pressure", "MPa", _STRESS, "1 kPa", (("kPa", 1e-3),), (("psi", _PSI),), 100.0,
             {"kpa": "write 'kPa'", "KPa": "write 'kPa'"}),
        Kind("mass", "t", _MASS, "15 kg", (("kg", 1e-3),), (("lb", POUND),), 1e3,
             {"N": "'N' is a force; a mass is in 'kg'", "lbf": "'lbf' is a force; a mass is in 'lb'", "Kg": "write 'kg'", "kgs": "write 'kg'"}),
        Kind("density", "t/mm^3", {"kg/m3": 1e-12, "kg/m^3": 1e-12, "t/mm^3": 1.0, "lb/in3": POUND / INCH**3}, "7850 kg/m3",
             (("kg/m3", 1e-12),), (("lb/in3", POUND / INCH**3),), 3e-8, _NO_ADVICE),
        Kind("acceleration", "mm/s^2", {"g": GRAVITY, "m/s2": 1e3, "m/s^2": 1e3, "mm/s2": 1.0, "ft/s2": 12 * INCH}, "20 g",
             (("g", GRAVITY),), (("g", GRAVITY),), 200 * GRAVITY, {"G": "write 'g'", "kg": "that is a mass; an acceleration is in 'g'"}),
        Kind("moment", "N*mm", _MOMENT, "50 N*m", (("N*m", 1e3),), (("lbf*in", POUND_FORCE * INCH),), 1e12,
             {"N.m": "write 'N*m'", "ft-lbf": "write 'lbf*ft'", "ft*lbf": "write 'lbf*ft'"}),
        Kind("line load", "N/mm", _LINE_LOAD, "1 N/mm", (("N/mm", 1.0),), (("lbf/in", POUND_FORCE / INCH),), 1e6, _NO_ADVICE),
        Kind("rotational stiffness", "N*mm/rad", _TURN, "5e7 N*mm/rad", (("N*mm/rad", 1.0),),
             (("lbf*in/rad", POUND_FORCE * INCH),), 1e18, _NO_ADVICE),
        Kind("rotational stiffness per length", "N*mm/rad/mm", _TURN_PER_LENGTH, "500 N*m/rad/m", (("N*m/rad/m", 1.0),),
             (("lbf*in/rad/in", POUND_FORCE),), 1e12, {"N*m/rad": "give it per length of edge: 'N*m/rad/m'"}),
        Kind("mass per area", "t/mm^2", {"kg/m2": 1e-9, "kg/m^2": 1e-9, "g/m2": 1e-12, "t/mm^2": 1.0, "lb/ft2": POUND / (12 * INCH)**2},
             "4 kg/m2", (("kg/m2", 1e-9),), (("lb/ft2", POUND / (12 * INCH)**2),), 1e-5,
             {"kg": "give it per area: 'kg/m2'", "N/m2": "that is a pressure; a mass per area is in 'kg/m2'"}),
        Kind("angle", "rad", {"deg": pi / 180, "°": pi / 180, "rad": 1.0}, "30 deg", (("deg", pi / 180),), (("deg", pi / 180),), 100.0,
             _NO_ADVICE),
        Kind("area", "mm^2", {"mm2": 1.0, "mm^2": 1.0, "cm2": 100.0, "m2": 1e6, "in2": INCH**2, "in^2": INCH**2}, "3750 mm2",
             (("mm2", 1.0),), (("in2", INCH**2),), 1e9, _NO_ADVICE),
        Kind("time", "s", {"s": 1.0, "ms": 1e-3, "min": 60.0, "h": 3600.0}, "10 s", (("s", 1.0),), (("s", 1.0),), 1e9, _NO_ADVICE),
        Kind("speed", "mm/s", {"mm/s": 1.0, "mm/min": 1 / 60, "cm/min": 10 / 60, "m/min": 1e3 / 60, "in/min": INCH / 60}, "6 mm/s",
             (("mm/s", 1.0),), (("in/min", INCH / 60),), 1e5, _NO_ADVICE),
        Kind("frequency", "Hz", {"Hz": 1.0, "kHz": 1e3}, "25 Hz", (("Hz", 1.0),), (("Hz", 1.0),), 1e6, _NO_ADVICE),
        Kind("voltage", "V", {"V": 1.0}, "18 V", (("V", 1.0),), (("V", 1.0),), 1e4, _NO_ADVICE),
        Kind("current", "A", {"A": 1.0, "kA": 1e3}, "130 A", (("A", 1.0),), (("A", 1.0),), 1e6, _NO_ADVICE),
        Kind("temperature", "°C", {"degC": 1.0, "°C": 1.0}, "20 degC", (("°C", 1.0),), (("°C", 1.0),), 2000.0,
             {"C": "write 'degC'", "F": "give the temperature in 'degC'"}),
    )
}  # fmt: skip
"""Every kind of quantity by name."""

COLUMN_UNITS: Mapping[str, tuple[float, str]] = {
    **{u: (f, "mm") for u, f in _LENGTH.items()},
    **{u: (f, "N") for u, f in _FORCE.items()},
    **{u: (f, "MPa") for u, f in _STRESS.items()},
    **{u: (f, "mm^2") for u, f in KINDS["area"].units.items()},
    **{u: (f, "t/mm^3") for u, f in KINDS["density"].units.items()},
    "kg": (1e-3, "t"),
    "g_n": (GRAVITY, "mm/s^2"),
    "N*m": (1e3, "N*mm"),
    "kA": (1e3, "A"),
    "percent": (0.01, "1"),
    "deg": (pi / 180, "rad"),
}
"""Unit of a table column -> (factor, base unit); units not listed are kept as they stand."""
