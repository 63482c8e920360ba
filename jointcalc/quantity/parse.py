"""The strict grammar: a number (decimal, fraction or mixed number), then a unit of the kind asked for."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from math import isfinite
from typing import Any, Literal

from jointcalc.errors import InputError, nearest
from jointcalc.quantity.compare import above, below
from jointcalc.quantity.units import KINDS, Kind

_DECIMAL = r"[0-9]+(?:\.[0-9]*)?(?:[eE][+-]?[0-9]+)?|\.[0-9]+(?:[eE][+-]?[0-9]+)?"
_FRACTION = r"(?:(?P<whole>[0-9]+)[ -])?(?P<top>[0-9]+)/(?P<bottom>[0-9]+)"
_MINUS = "\N{MINUS SIGN}"
_SIGN = f"(?P<sign>[+{_MINUS}-]?)"
_TEXT = re.compile(rf"\s*{_SIGN}(?:{_FRACTION}|(?P<decimal>{_DECIMAL}))\s*(?P<unit>[^\s0-9].*?)?\s*")
_GAUGE = re.compile(r"\s*(?P<n>[0-9]{1,2})\s*(?:ga|gauge)\.?\s*", re.IGNORECASE)
_ONE_NUMBER = re.compile(rf"[+{_MINUS}-]?(?:{_DECIMAL})")


@dataclass(frozen=True, slots=True)
class Gauge:
    """A sheet gauge number: a key into a named sheet table, never a unit."""

    number: int


_WRITTEN: ContextVar[bool] = ContextVar("written", default=False)


@contextmanager
def as_written(written: bool) -> Iterator[None]:
    """While it lasts, what is read was written by a builder (a project file): a number without a unit is refused.

    The line lies here, and not at the models, because a model cannot see who fills it: a program that holds
    numbers holds them in N, mm, MPa, t, s, a builder who leaves out a unit has one in mind that nobody knows.
    """
    before = _WRITTEN.set(written)
    try:
        yield
    finally:
        _WRITTEN.reset(before)


def _bare(value: Any, numbers: bool) -> bool:
    """Whether that is a number which is taken as it stands, in the base unit of its kind."""
    return numbers and not _WRITTEN.get() and isinstance(value, int | float) and not isinstance(value, bool)


def _shown(text: object) -> str:
    shown = str(text)
    return f"'{shown if len(shown) <= 60 else shown[:57] + '...'}'"


def _expected(kind: Kind, example: str = "") -> str:
    article = "an" if kind.name[0] in "aeiou" else "a"
    return f"write {article} {kind.name} such as '{example or kind.example}'"


LONGEST = 200
"""Characters of a text with a number beyond which it is taken for a slip."""


def parse(
    text: Any,
    kind: str,
    *,
    field: str = "",
    low: float | None = None,
    high: float | None = None,
    signed: bool = False,
    example: str = "",
    numbers: bool = False,
) -> float:
    """The value of a builder's text in the base unit of its kind (N, mm, MPa, t, s).

    `low` and `high` are the sizes (base units) beyond which the value is taken for a slip and
    refused; `signed` allows negative values.  A pint quantity is accepted too, and with `numbers` a
    plain number in the base unit, unless it comes from a file (`as_written`).

    Raises InputError naming the field, what was wrong and the accepted form.
    """
    table = KINDS[kind]
    form = _expected(table, example)
    if hasattr(text, "magnitude") and hasattr(text, "to"):
        value = _from_pint(text, table, field, form)
    elif _bare(text, numbers):
        value = float(text)
    elif isinstance(text, bool) or text is None:
        raise InputError(f"nothing usable given; {form}", field=field)
    elif isinstance(text, int | float):
        shown = repr(text) if abs(text) < 1e15 else "so large a number"
        raise InputError(f"{shown} has no unit; {form}", field=field)
    elif not isinstance(text, str):
        raise InputError(f"a text with a unit is needed, not {type(text).__name__}; {form}", field=field)
    else:
        value = _value(text, table, field, form)
    if not isfinite(value):
        raise InputError(f"{_shown(text)} is not a finite number; {form}", field=field)
    if value < 0 and not signed:
        raise InputError(f"{_shown(text)} is negative; {form}", field=field)
    top = min(table.largest, high) if high is not None else table.largest
    if above(abs(value), top) or (low is not None and below(abs(value), low)):
        from jointcalc.quantity.sentence import either
        from jointcalc.quantity.show import System, show

        def accepted(system: System) -> str:
            return f"{'0' if low is None else show(low, kind, system)} to {show(top, kind, system)}"

        raise InputError(
            f"{_shown(text)} is out of proportion here: accepted is {either(accepted('metric'), accepted('inch'))}; "
            "check the number and its unit",
            field=field,
        )
    return value


def _value(text: str, kind: Kind, field: str, form: str) -> float:
    if not text.strip():
        raise InputError(f"nothing given; {form}", field=field)
    if len(text) > LONGEST:
        raise InputError(f"{_shown(text[:40])}… has {len(text)} characters; {form}", field=field)
    if "," in text:
        raise InputError(f"{_shown(text)} has a comma; write the decimals after a point; {form}", field=field)
    match = _TEXT.fullmatch(text)
    if not match:
        raise InputError(f"{_shown(text)} cannot be read; {form}", field=field)
    unit = match["unit"]
    if unit is None:
        raise InputError(f"{_shown(text)} has no unit; {form}", field=field)
    unit = unit.strip()
    if unit not in kind.units:
        raise InputError(_wrong_unit(unit, kind, form), field=field)
    return _number(match, field, form) * kind.units[unit]


def _number(match: re.Match[str], field: str, form: str) -> float:
    if match["decimal"] is not None:
        size = float(match["decimal"])
    else:
        bottom = int(match["bottom"])
        if bottom == 0:
            raise InputError(f"'{match['top']}/0' divides by zero; {form}", field=field)
        size = int(match["whole"] or 0) + int(match["top"]) / bottom
    return -size if match["sign"] in ("-", _MINUS) else size


def _wrong_unit(unit: str, kind: Kind, form: str) -> str:
    if unit in kind.advice:
        return f"unit '{unit}': {kind.advice[unit]}; {form}"
    other = next((k.name for k in KINDS.values() if unit in k.units and k.base != kind.base), None)
    if other:
        return f"'{unit}' is a unit of {other}, but this is a {kind.name}; {form}"
    known = ", ".join(f"'{u}'" for u in list(kind.units)[:9])
    return f"'{unit[:24]}' is not a unit jointcalc knows for a {kind.name} (known: {known}); {form}"


def _from_pint(quantity: Any, kind: Kind, field: str, form: str) -> float:
    base = {"t": "tonne", "t/mm^3": "tonne/mm**3", "t/mm^2": "tonne/mm**2", "°C": "degC"}.get(kind.base, kind.base)
    try:
        return float(quantity.to(base).magnitude)
    except Exception as error:  # pint's errors cannot be named without importing it
        raise InputError(f"{quantity} is not a {kind.name}; {form}", field=field) from error


def parse_thickness(text: Any, *, field: str = "thickness", high: float = 30.0, numbers: bool = False) -> float | Gauge:
    """A sheet thickness in mm, or the gauge number when one was written (`18 ga`).

    Which sheet table the gauge belongs to is the caller's to know; `numbers` as for `parse`.  Raises InputError.
    """
    if isinstance(text, Gauge):
        return text
    if isinstance(text, str) and (match := _GAUGE.fullmatch(text)):
        return Gauge(int(match["n"]))
    return parse(text, "length", field=field, low=0.05, high=high, example="1.2 mm' or '18 ga", numbers=numbers)


def parse_list(
    text: Any, kind: str, count: int | None = None, *, field: str = "", signed: bool = True, numbers: bool = False
) -> list[float]:
    """Several numbers that share the unit that ends the text: `"0 0 100 0 mm"` -> [0, 0, 100, 0].

    `count` is how many there must be.  With `numbers` a list of plain numbers in the base unit is taken too, unless
    it comes from a file (`as_written`).  Raises InputError.
    """
    table = KINDS[kind]
    want = count or 2
    sample = f"{' '.join(['0'] * (want - 1))} {table.example}"
    form = f"write {want if count else 'the'} numbers and one unit, such as '{sample}'"
    if isinstance(text, list | tuple) and text and all(_bare(one, numbers) for one in text):
        return _listed([float(one) for one in text], text, table, form, count=count, field=field, signed=signed)
    if not isinstance(text, str):
        raise InputError(f"{text!r} is not a text with a unit; {form}", field=field)
    if len(text) > LONGEST * (count or 20):
        raise InputError(f"{_shown(text[:40])}… has {len(text)} characters; {form}", field=field)
    if "," in text:
        advice = "separate numbers by blanks, decimals by a point"
        raise InputError(f"{_shown(text)} has a comma; {advice}; {form}", field=field)
    words = text.split()
    read: list[float] = []
    while words and _ONE_NUMBER.fullmatch(words[0]):
        read.append(float(words.pop(0).replace(_MINUS, "-")))
    unit = " ".join(words)
    if not unit and read:
        raise InputError(f"{_shown(text)} has no unit at its end; {form}", field=field)
    if unit not in table.units:
        glued = re.fullmatch(rf"({_ONE_NUMBER.pattern})([^0-9\s].*)", unit)
        if not glued or glued[2] not in table.units:
            unread = f"{_shown(text)} cannot be read; {form}"
            raise InputError(_wrong_unit(unit, table, form) if unit else unread, field=field)
        read.append(float(glued[1].replace(_MINUS, "-")))
        unit = glued[2]
    scaled = [n * table.units[unit] for n in read]
    return _listed(scaled, text, table, form, count=count, field=field, signed=signed)


def named_parts(text: str, known: Collection[str], *, thing: str, example: str, field: str) -> dict[str, str]:
    """What is said by each name in `name=size,name=size`, unread; none from an empty text.

    `thing` says what a name stands for ("a dimension of a vee bead").  Raises InputError: not of that form, an unknown
    name (the nearest known one is told), one given twice.
    """
    found: dict[str, str] = {}
    for part in text.split(",") if text else []:
        name, equals, said = (piece.strip() for piece in part.partition("="))
        name = name.lower()
        if not equals:
            raise InputError(f"'{part.strip()}' is not of the form name=size; write it as in '{example}'", field=field)
        if name not in known:
            hint = nearest(name, known)
            raise InputError(f"'{name}' is not {thing} (known: {', '.join(known)}){hint}", field=field)
        if name in found:
            raise InputError(f"{name} is given twice; give it once", field=field)
        found[name] = said
    return found


def parse_lengths(text: str, known: Collection[str], *, thing: str, example: str, field: str) -> dict[str, float]:
    """Lengths [mm] by name from `name=size,name=size`, as `named_parts` tells them apart.

    Raises InputError as that does, and for a length that cannot be read.
    """
    said = named_parts(text, known, thing=thing, example=example, field=field)
    return {name: parse(size, "length", field=f"{field} {name}") for name, size in said.items()}


def _listed(
    values: list[float], text: object, table: Kind, form: str, *, count: int | None, field: str, signed: bool
) -> list[float]:
    """Those values [base unit], refused when they are too many, too few or out of proportion."""
    if count is not None and len(values) != count:
        raise InputError(f"{_shown(text)} has {_counted(len(values))}, {count} are needed; {form}", field=field)
    for value in values:
        if not isfinite(value) or abs(value) > table.largest:
            raise InputError(f"{_shown(text)} is out of proportion here; check the numbers and the unit", field=field)
        if value < 0 and not signed:
            raise InputError(f"{_shown(text)} has a negative number; {form}", field=field)
    return values


def _counted(n: int) -> str:
    return f"{n} number" if n == 1 else f"{n} numbers"


_LENGTHS = re.compile(r"[0-9.]\s*(?:(?P<inch>in|ft|\")|mm|cm|m)(?![\w/*^])")


def written_in(data: object) -> Literal["metric", "inch"]:
    """The units in which most lengths of raw data are written, so that an error can speak in them."""
    inch = metric = 0
    left = [data]
    while left:
        value = left.pop()
        if isinstance(value, str):
            for found in _LENGTHS.finditer(value):
                inch, metric = inch + bool(found["inch"]), metric + (not found["inch"])
        elif isinstance(value, Mapping):
            left += value.values()
        elif isinstance(value, list | tuple):
            left += value
    return "inch" if inch > metric else "metric"
