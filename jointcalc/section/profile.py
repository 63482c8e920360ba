"""Profiles in the text form a builder writes: the family by its name, its dimensions by their letters.

`hat:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm`.  A range, `depth=20mm..50mm`, asks a search to find the value.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from jointcalc.errors import InputError, nearest
from jointcalc.quantity import Gauge, parse, parse_list, parse_thickness
from jointcalc.quantity.parse import named_parts
from jointcalc.quantity.sentence import mm
from jointcalc.section.families.angle import Angle
from jointcalc.section.families.channel import Channel, LippedChannel, Zed
from jointcalc.section.families.family import Family, Letter
from jointcalc.section.families.hat import BeadedHat, Hat, HatSkin
from jointcalc.section.families.lap import Lap
from jointcalc.section.families.points import Points
from jointcalc.section.families.tube import Bar, Box, RectTube, Tube
from jointcalc.section.outline import Number

FAMILIES: Mapping[str, type[Family]] = {
    c.kind: c
    for c in (Hat, HatSkin, BeadedHat, Channel, LippedChannel, Zed, Angle, Lap, Box, RectTube, Tube, Bar, Points)
}
"""Families by the name a builder writes."""


@dataclass(frozen=True, kw_only=True)
class ProfileSpec:
    """A profile as written: the family, the lengths given [mm], and the ranges left to a search."""

    kind: str
    values: Mapping[str, float]
    ranges: Mapping[str, tuple[float, float]]
    points: tuple[tuple[float, float], ...] = ()

    @property
    def family_type(self) -> type[Family]:
        """The family's class."""
        return FAMILIES[self.kind]

    def family(self, **found: Number) -> Family:
        """The family with values for the ranges (and any other letters) put in; floats or arrays.

        Raises InputError when a range is left open.
        """
        given: dict[str, Any] = {**self.values, **found}
        left = [name for name in self.ranges if name not in found]
        if left:
            low, high = self.ranges[left[0]]
            raise InputError(
                f"{left[0]} is a range ({mm(low, ' to ', high):g}); only a search can use that, so give one value",
                field=left[0],
            )
        if self.kind == "points":
            given["ys"] = tuple(y for y, _ in self.points)
            given["zs"] = tuple(z for _, z in self.points)
        return self.family_type(**given)


def parse_spec(text: str, *, field: str = "profile", gauge: Callable[[int, str], float] | None = None) -> ProfileSpec:
    """Read a profile in the text form, ranges allowed.

    `gauge(number, field)` gives the thickness [mm] of a sheet gauge where one stands for a thickness;
    without it gauges are refused.  Raises InputError: unknown family or letter (the nearest known one
    is named), a letter missing or given twice, a length that cannot be read.
    """
    name, colon, rest = str(text).partition(":")
    name = name.strip().lower()
    if name not in FAMILIES:
        hint = nearest(name, FAMILIES) or "."
        raise InputError(f"'{name}' is not a profile family{hint} Known are {', '.join(FAMILIES)}", field=field)
    family = FAMILIES[name]
    example = family.example
    if not colon or not rest.strip():
        raise InputError(f"the dimensions of the {name} are missing; write them like '{example}'", field=field)
    letters = {**({"at": Letter("corner points")} if name == "points" else {}), **family.letters()}
    values: dict[str, float] = {}
    ranges: dict[str, tuple[float, float]] = {}
    points: tuple[tuple[float, float], ...] = ()
    thing = f"a letter of {'an' if name[0] in 'aeiou' else 'a'} {name}"
    for key, value in named_parts(rest, letters, thing=thing, example=example, field=field).items():
        where = f"{field} {key}"
        if key == "at":
            points = _points(value, where)
        elif ".." in value:
            ranges[key] = _range(value, where)
        else:
            values[key] = _length(value, where, letters[key].thickness, gauge)
    given = {*values, *ranges, *(("at",) if points else ())}
    missing = [key for key in family.required() if key not in given]
    if missing:
        what = f"{missing[0]} ({letters[missing[0]].meaning})"
        raise InputError(f"the {name} lacks {what}; write it like '{example}'", field=field)
    return ProfileSpec(kind=name, values=values, ranges=ranges, points=points)


def parse_profile(text: str, *, field: str = "profile", gauge: Callable[[int, str], float] | None = None) -> Family:
    """Read a profile in the text form and check that it can be built.  Raises InputError."""
    try:
        family = parse_spec(text, field=field, gauge=gauge).family()
        family.check()
    except InputError as fault:
        inner = fault.field if fault.field.startswith(field) else f"{field} {fault.field}".strip()
        raise InputError(fault.message, field=inner) from None
    return family


def _length(text: str, field: str, thickness: bool, gauge: Callable[[int, str], float] | None) -> float:
    if not thickness:
        return parse(text, "length", field=field)
    value = parse_thickness(text, field=field)
    if not isinstance(value, Gauge):
        return value
    if gauge is None:
        raise InputError(f"gauge {value.number} needs a sheet table here; write the thickness in mm or in", field=field)
    return gauge(value.number, field)


def _range(text: str, field: str) -> tuple[float, float]:
    first, _, last = (piece.strip() for piece in text.partition(".."))
    high = parse(last, "length", field=field)
    if first and (first[-1].isdigit() or first[-1] == "."):
        first += last.lstrip("0123456789./ -+eE")  # numbers share the unit that ends them
    low = parse(first, "length", field=field)
    if not low < high:
        raise InputError(f"'{text}' is not a range from small to large; write it like '20mm..50mm'", field=field)
    return low, high


def _points(text: str, field: str) -> tuple[tuple[float, float], ...]:
    words = text.replace("/", " / ").split()
    pairs = text.split("/")
    if len(pairs) < 2:
        raise InputError("at least two points are needed, such as 'at=0 0/40 0/40 30 mm'", field=field)
    numbers = parse_list(" ".join(w for w in words if w != "/"), "length", field=field)
    counts = [len(p.split()) for p in pairs]
    if len(numbers) != 2 * len(pairs) or any(c != 2 for c in counts[:-1]):
        raise InputError(
            f"'{text}' is not a list of points; write two numbers for each, such as 'at=0 0/40 0/40 30 mm'",
            field=field,
        )
    return tuple(zip(numbers[::2], numbers[1::2], strict=True))


EXAMPLES: Mapping[str, str] = {kind: family.example for kind, family in FAMILIES.items()}
"""One profile of each family, to copy."""
