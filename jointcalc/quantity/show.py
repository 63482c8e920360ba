"""Quantities printed for a reader, in metric or inch units; the only rounding there is."""

from __future__ import annotations

import re
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
}
"""Result unit that belongs to no kind of input -> (unit of an inch reader, how many of the first it is)."""


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
    if unit in _FEW and system == "inch":
        other, size = _FEW[unit]
        return f"{figures(value / size, digits)} {other}"
    return figures(value, digits) if unit in ("", "1") else f"{figures(value, digits)} {unit}"


_NUMBER = r"(?:[0-9]{1,3}(?: [0-9]{3})+|[0-9]+)(?:\.[0-9]+)?(?:e[-+]?[0-9]+)?"
_TEXT_UNITS = (
    "mm", "mm^2", "mm2", "N", "kN", "MPa", "kPa", "N/mm", "kN/m", "N*mm", "N*m", "kN*m",
    "N*mm/rad", "kg", "kg/m", "kg/m^2", "kg/m2", "kJ/mm",
)  # fmt: skip
_AMOUNTS = re.compile(
    rf"(?<![\w.:/^-])(?<!mm )(?P<first>-?{_NUMBER})"
    rf"(?P<more>(?:(?: x | to | on | by | or | \+ | |, )-?{_NUMBER})*)"
    rf" (?P<unit>{'|'.join(re.escape(u) for u in sorted(_TEXT_UNITS, key=len, reverse=True))})(?![\w*/^²³⁴])"
    rf"(?P<inch> \((?P<said>[0-9][^()]* in)\))?"
)
_BETWEEN = re.compile(
    rf"(?<=between )(?P<first>-?{_NUMBER}) and (?P<second>-?{_NUMBER}) "
    rf"(?P<unit>{'|'.join(re.escape(u) for u in sorted(_TEXT_UNITS, key=len, reverse=True))})(?![\w*/^²³⁴])"
)
_NAME_BEFORE = re.compile(
    r"(?:\b(?:[Gg]r|[Gg]rade|[Cc]lass|SS|CS|HSLAS|LWS|[Tt]ype|[Nn]o\.|number|line|weld|row|interface|clause|"
    r"Table|eq\.|case|fig\.)|\bM[0-9]+(?:x[0-9.]+)?) $"
)
_LETTER = re.compile(r"(?<==)([0-9]+(?:\.[0-9]+)?)mm\b")
_COORDINATE = re.compile(r"(?:\bat|\bbetween) $")


def translated(text: str, system: System) -> str:
    """A sentence with its metric amounts in the units of the reader; in metric the sentence itself.

    Notes, labels and cautions are written once, in metric, where a check is made; only here, where they are
    printed, is it known who reads.  What a builder typed in one word (`top=40mm`) stays as he typed it, and
    where the sentence gives the inch size itself (`3 mm (1/8 in)`) that is what is printed.
    """
    if system == "metric":
        return text

    def one(match: re.Match[str]) -> str:
        if match["said"]:
            return match["said"]
        unit = match["unit"]
        numbers = re.findall(rf"-?{_NUMBER}", match["first"] + match["more"])
        between = re.split(rf"-?{_NUMBER}", match["first"] + match["more"])[1:-1]
        kept = ""
        if len(numbers) > 1 and _NAME_BEFORE.search(match.string[: match.start()]):
            # the number of a grade, a class or a line is no size: `A1011 SS Gr 33 + 1.5 mm`
            kept, numbers, between = numbers[0] + between[0], numbers[1:], between[1:]
        if ", " in between and not _COORDINATE.search(match.string[: match.start()]):
            # a list of other things ends where the amount begins: `line 2, 40 mm long`
            last = len(between) - between[::-1].index(", ")
            kept += "".join(n + b for n, b in zip(numbers[:last], between[:last]))
            numbers, between = numbers[last:], between[last:]
        shown = [_inch(float(n.replace(" ", "")), unit) for n in numbers]
        values = [value for value, _ in shown]
        return kept + "".join(v + b for v, b in zip(values, [*between, ""])) + f" {shown[-1][1]}"

    def range_(match: re.Match[str]) -> str:
        ends = [_inch(float(match[name].replace(" ", "")), match["unit"]) for name in ("first", "second")]
        return f"{ends[0][0]} and {ends[1][0]} {ends[1][1]}"

    return _AMOUNTS.sub(one, _BETWEEN.sub(range_, text))


def respelt(profile: str, system: System) -> str:
    """A profile that a search found, its letters in the units of the reader: `top=1.25in` for `top=31.75mm`."""
    if system == "metric":
        return profile
    return _LETTER.sub(lambda letter: f"{figures(float(letter[1]) / INCH)}in", profile)


def _inch(value: float, unit: str) -> tuple[str, str]:
    """Number and unit an inch reader is told for a metric amount."""
    unit = {"kg/m2": "kg/m^2"}.get(unit, unit)
    if unit in _FEW:
        text = show_in(value, unit, "inch")
    else:
        kind = next(k for k in KINDS.values() if unit in k.units and (unit != "kPa" or k.name == "pressure"))
        text = show(value * kind.units[unit], kind.name, "inch")
    number, _, other = text.rpartition(" ")
    return number, other
