"""The strict grammar: a number (decimal, fraction or mixed number), then a unit of the kind asked for."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from itertools import pairwise
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
_GAUGE = re.compile(r"\s*(?P<n>[0-9]{1,2})\s*(?:ga|gauge|(?P<swg>swg))\.?\s*", re.IGNORECASE)
_IN_LIST = rf"[+{_MINUS}-]?(?:[0-9]+-[0-9]+/[0-9]+|[0-9]+/[0-9]+|{_DECIMAL})"
_ONE_NUMBER = re.compile(_IN_LIST)
_GLUED = re.compile(rf"({_IN_LIST})([^0-9\s].*)")
_WHOLE = re.compile(rf"[+{_MINUS}-]?0*[1-9][0-9]*")
_PART = re.compile(r"([0-9]+/[0-9]+)[^0-9/]*")
_FEET = re.compile(
    rf"\s*{_SIGN}(?P<feet>[0-9]+)\s*(?:'|ft)\s*-?\s*(?:{_FRACTION}|(?P<decimal>{_DECIMAL}))\s*(?P<mark>\"|in)?\s*"
)
_BY = re.compile(r"(?<=[0-9.\"'\sntm])[xX×](?=[\s0-9.])")
_VULGAR = re.compile("[\xbc-\xbe\u2150-\u215f]")


@dataclass(frozen=True, slots=True)
class Gauge:
    """A sheet gauge number: a key into a named sheet table, never a unit."""

    number: int
    wire: bool = False
    """Whether it is a number of the British standard wire gauge (`18 swg`), which is one table for every metal."""

    def __str__(self) -> str:
        return f"{self.number} {'swg' if self.wire else 'ga'}"


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


_TIMES = {"date": "a date", "datetime": "a date and time", "time": "a time"}


def worded(value: Any) -> str:
    """A value that cannot be used, as a builder would call it: `'12'`, `1.5`, `a date`, `a list`, `a table`."""
    if isinstance(value, str):
        return _shown(value)
    if value is None or isinstance(value, bool):
        return {None: "nothing", True: "true", False: "false"}[value]
    if isinstance(value, int | float):
        return "so large a number" if abs(value) >= 1e15 else repr(value)
    if isinstance(value, list | tuple):
        return f"the list {' '.join(str(one) for one in value)[:60]}" if value else "an empty list"
    return _TIMES.get(type(value).__name__, "a table" if isinstance(value, Mapping) else f"a {type(value).__name__}")


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
        raise InputError(f"{worded(text)} has no unit; {form}", field=field)
    elif not isinstance(text, str):
        what = _TIMES.get(type(text).__name__, type(text).__name__)
        raise InputError(f"a text with a unit is needed, not {what}; {form}", field=field)
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
    if _VULGAR.search(text):
        raise InputError(f"{_shown(text)} cannot be read: write a fraction as '1/2' or '1-1/2'; {form}", field=field)
    if kind.name == "length" and (feet := _FEET.fullmatch(text)):
        return _feet(text, feet, field, form)
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


def feet_and_inches(text: str) -> bool:
    """Whether a text is one length of feet and inches: `1'6"`, `1 ft 6-1/2 in`."""
    return _FEET.fullmatch(text) is not None


def _feet(text: str, match: re.Match[str], field: str, form: str) -> float:
    """Millimetres of feet and inches, the sign before both."""
    inches = _number(match, field, form)
    if match["mark"] is None:
        raise InputError(f"""{_shown(text)} has no unit behind its inches; write it like '1'6"'; {form}""", field=field)
    if abs(inches) >= 12:
        raise InputError(
            f"{_shown(text)} has a foot or more in its inches; write fewer than 12, or inches alone; {form}",
            field=field,
        )
    feet = KINDS["length"].units["ft"] * int(match["feet"])
    return (-feet if inches < 0 or match["sign"] in ("-", _MINUS) else feet) + KINDS["length"].units["in"] * inches


def _number(match: re.Match[str], field: str, form: str) -> float:
    if match["decimal"] is not None:
        size = float(match["decimal"])
    else:
        bottom = int(match["bottom"])
        if bottom == 0:
            raise InputError(f"'{match['top']}/0' divides by zero; {form}", field=field)
        size = int(match["whole"] or 0) + int(match["top"]) / bottom
    return -size if match["sign"] in ("-", _MINUS) else size


GAUGE_WORDS = ("gauge", "gage", "gauges")


def _wrong_unit(unit: str, kind: Kind, form: str) -> str:
    if unit in kind.advice:
        return f"unit '{unit}': {kind.advice[unit]}; {form}"
    other = next((k.name for k in KINDS.values() if unit in k.units and k.base != kind.base), None)
    if other:
        return f"'{unit}' is a unit of {other}, but this is a {kind.name}; {form}"
    known = ", ".join(f"'{u}'" for u in list(kind.units)[:9])
    if kind.name == "length" and nearest(unit, GAUGE_WORDS):
        return (
            f"'{unit[:24]}' is not a unit jointcalc knows for a length; a gauge is written '18 ga' or '18 swg'; {form}"
        )
    return f"'{unit[:24]}' is not a unit jointcalc knows for a {kind.name} (known: {known}); {form}"


def _from_pint(quantity: Any, kind: Kind, field: str, form: str) -> float:
    base = {"t": "tonne", "t/mm^3": "tonne/mm**3", "t/mm^2": "tonne/mm**2", "°C": "degC"}.get(kind.base, kind.base)
    try:
        return float(quantity.to(base).magnitude)
    except Exception as error:  # pint's errors cannot be named without importing it
        raise InputError(f"{quantity} is not a {kind.name}; {form}", field=field) from error


def parse_thickness(text: Any, *, field: str = "thickness", high: float = 30.0, numbers: bool = False) -> float | Gauge:
    """A sheet thickness in mm, or the gauge number when one was written (`18 ga`, `18 swg`).

    Which sheet table the gauge belongs to is the caller's to know; `numbers` as for `parse`.  Raises InputError.
    """
    if isinstance(text, Gauge):
        return text
    if isinstance(text, str) and (match := _GAUGE.fullmatch(text)):
        return Gauge(int(match["n"]), wire=match["swg"] is not None)
    return parse(text, "length", field=field, low=0.05, high=high, example="1.2 mm' or '18 ga", numbers=numbers)


def parse_list(
    text: Any,
    kind: str,
    count: int | None = None,
    *,
    field: str = "",
    signed: bool = True,
    numbers: bool = False,
    by: bool = False,
) -> list[float]:
    """Several numbers that share the unit that ends the text: `"0 0 100 0 mm"` -> [0, 0, 100, 0].

    A number may be a fraction or a mixed number with a hyphen (`4-1/2`): with a blank it could be two numbers, and is
    refused.  `count` is how many there must be.  With `by` an `x` may stand between them (`600x400 mm`, `24 in x 16
    in`).  With `numbers` a list of plain numbers in the base unit is taken too, unless it comes from a file
    (`as_written`).  Raises InputError.
    """  # fmt: skip
    table = KINDS[kind]
    want = count or 2
    last = "4-1/2 in" if kind == "length" and isinstance(text, str) and written_in(text) == "inch" else table.example
    sample = f"{' '.join(['0'] * (want - 1))} {last}"
    if by and last == table.example:
        sample = " ".join(("600", "400", "300")[:want]) + " mm"
    form = f"write {want if count else 'the'} numbers and one unit, such as '{sample}'"
    if isinstance(text, list | tuple) and text and all(_bare(one, numbers) for one in text):
        return _listed([float(one) for one in text], text, table, form, count=count, field=field, signed=signed)
    if not isinstance(text, str):
        raise InputError(f"{worded(text)} is not a text with a unit; {form}", field=field)
    if len(text) > LONGEST * (count or 20):
        raise InputError(f"{_shown(text[:40])}… has {len(text)} characters; {form}", field=field)
    if "," in text:
        advice = "separate numbers by blanks, decimals by a point"
        raise InputError(f"{_shown(text)} has a comma; {advice}; {form}", field=field)
    if len(_BY.split(text)) > 1:
        if not by:
            raise InputError(
                f"{_shown(text)} has an 'x' between its numbers; separate them by blanks; {form}", field=field
            )
        sizes = _by(text, table, field, form)
        return _listed(sizes, text, table, form, count=count, field=field, signed=signed)
    words = text.split()
    for whole, part in pairwise(words):
        if _WHOLE.fullmatch(whole) and (found := _PART.fullmatch(part)):
            one = f"{whole} {found[1]}"
            raise InputError(
                f"'{one}' in {_shown(text)} may be one size or two; write '{whole}-{found[1]}' for one, "
                f"'{whole}.0 {found[1]}' for two; {form}",
                field=field,
            )
    read: list[float] = []
    while words and _ONE_NUMBER.fullmatch(words[0]):
        read.append(_one_of(words.pop(0), field, form))
    unit = " ".join(words)
    if not unit and read:
        raise InputError(f"{_shown(text)} has no unit at its end; {form}", field=field)
    if unit not in table.units:
        glued = _GLUED.fullmatch(unit)
        if not glued or glued[2] not in table.units:
            if not unit or _VULGAR.search(text):
                hint = "" if not unit else ": write a fraction as '1/2' or '1-1/2'"
                raise InputError(f"{_shown(text)} cannot be read{hint}; {form}", field=field)
            once = "the unit stands once, at the end; " if any(word in table.units for word in words[:-1]) else ""
            raise InputError(_wrong_unit(unit, table, once + form), field=field)
        read.append(_one_of(glued[1], field, form))
        unit = glued[2]
    scaled = [n * table.units[unit] for n in read]
    return _listed(scaled, text, table, form, count=count, field=field, signed=signed)


def _one_of(word: str, field: str, form: str) -> float:
    """One number of a list, which may be a fraction."""
    match = _TEXT.fullmatch(word)
    assert match is not None
    return _number(match, field, form)


def _by(text: str, table: Kind, field: str, form: str) -> list[float]:
    """Sizes with an `x` between them [base unit]: one unit for all at the end, or each with its own."""
    parts = _BY.split(text)
    read = [(_TEXT.fullmatch(part), feet_and_inches(part)) for part in parts]
    own = [feet or (match is not None and match["unit"] is not None) for match, feet in read]
    if not own[-1]:
        raise InputError(f"{_shown(text)} has no unit at its end; {form}", field=field)
    if any(own[:-1]) and not all(own):
        raise InputError(
            f"{_shown(text)} has units for some of its numbers; give one at the end, or one for each", field=field
        )
    unit = "" if all(own) or read[-1][0] is None else read[-1][0]["unit"]
    found = [_value(f"{part} {unit}", table, field, form) for part in parts[:-1]]
    found.append(_value(parts[-1], table, field, form))
    if any(value == 0 for value in found):
        raise InputError(f"{_shown(text)} has a size of 0; {form}", field=field)
    return found


def parse_range(
    text: str, kind: str, *, field: str = "", signed: bool = False, example: str = ""
) -> tuple[float, float]:
    """The two ends of `FROM..TO` [base unit]; numbers share the unit that ends them: `200..600 mm`, `1/32..1/8 in`.

    Raises InputError for an end that cannot be read, or a range that does not rise.
    """
    first, _, last = (piece.strip() for piece in text.partition(".."))
    sample = example or KINDS[kind].example
    high = parse(last, kind, field=field, signed=signed, example=sample)
    match = _TEXT.fullmatch(last)
    if first and match is not None and (first[-1].isdigit() or first[-1] == "."):
        first = f"{first} {match['unit']}"
    low = parse(first, kind, field=field, signed=signed, example=sample)
    if not below(low, high):
        how = "a range goes from small to large, from left to right"
        raise InputError(f"{_shown(text.strip())} ends before it begins; {how}, like '20mm..50mm'", field=field)
    return low, high


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
