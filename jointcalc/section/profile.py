"""Profiles in the text form a builder writes: the family by its name, its dimensions by their letters.

`hat:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm`.  A range, `depth=20mm..50mm`, asks a search to find the value.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from jointcalc.errors import InputError, nearest
from jointcalc.quantity import Gauge, parse, parse_list, parse_thickness
from jointcalc.quantity.compare import above
from jointcalc.quantity.parse import named_parts, parse_range
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
    gauges: Mapping[str, tuple[Gauge, Gauge]] = field(default_factory=dict)
    """Of the ranges those that were written in gauges, in which a search steps from gauge to gauge."""
    steps: Mapping[str, float] = field(default_factory=dict)
    """Of the ranges those whose step was written too (`depth=1in..2in step 1/8in`) [mm]."""

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


def parse_spec(text: str, *, field: str = "profile", gauge: Callable[[Gauge, str], float] | None = None) -> ProfileSpec:
    """Read a profile in the text form, ranges allowed.

    `gauge(gauge, field)` gives the thickness [mm] of a sheet gauge where one stands for a thickness;
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
    gauges: dict[str, tuple[Gauge, Gauge]] = {}
    steps: dict[str, float] = {}
    points: tuple[tuple[float, float], ...] = ()
    thing = f"a letter of {'an' if name[0] in 'aeiou' else 'a'} {name}"
    for key, value in named_parts(rest, letters, thing=thing, example=example, field=field).items():
        where = f"{field} {key}"
        if key == "at":
            points = _points(value, where)
        elif ".." in value:
            ends, step = _stepped(value)
            between = _gauges(ends, where) if letters[key].thickness else None
            if between is not None:
                gauges[key] = between
                low, high = sorted(_of_gauge(one, where, gauge) for one in between)
                if low == high:
                    raise InputError(f"'{value}' is one gauge and no range; give one value", field=where)
                ranges[key] = (low, high)
            else:
                ranges[key] = parse_range(ends, "length", field=where)
            if step:
                if between is not None:
                    raise InputError("a range of gauges steps from gauge to gauge; leave out 'step'", field=where)
                steps[key] = parse(step, "length", field=where, low=0.05)
                if above(steps[key], ranges[key][1] - ranges[key][0]):
                    raise InputError(
                        f"the step of '{value}' is longer than the range; write a shorter one", field=where
                    )
        else:
            values[key] = _length(value, where, letters[key].thickness, gauge)
    given = {*values, *ranges, *(("at",) if points else ())}
    missing = [key for key in family.required() if key not in given]
    if missing:
        what = f"{missing[0]} ({letters[missing[0]].meaning})"
        raise InputError(f"the {name} lacks {what}; write it like '{example}'", field=field)
    return ProfileSpec(kind=name, values=values, ranges=ranges, points=points, gauges=gauges, steps=steps)


def parse_profile(text: str, *, field: str = "profile", gauge: Callable[[Gauge, str], float] | None = None) -> Family:
    """Read a profile in the text form and check that it can be built.  Raises InputError."""
    try:
        family = parse_spec(text, field=field, gauge=gauge).family()
        family.check()
    except InputError as fault:
        inner = fault.field if fault.field.startswith(field) else f"{field} {fault.field}".strip()
        raise InputError(fault.message, field=inner) from None
    return family


def _length(text: str, field: str, thickness: bool, gauge: Callable[[Gauge, str], float] | None) -> float:
    if not thickness:
        return parse(text, "length", field=field)
    value = parse_thickness(text, field=field)
    return _of_gauge(value, field, gauge) if isinstance(value, Gauge) else value


def _of_gauge(value: Gauge, field: str, gauge: Callable[[Gauge, str], float] | None) -> float:
    if gauge is None:
        raise InputError(f"gauge {value.number} needs a sheet table here; write the thickness in mm or in", field=field)
    return gauge(value, field)


def _stepped(text: str) -> tuple[str, str]:
    """A range and the step that is written behind it; an empty text where there is none."""
    between, _, step = (part.strip() for part in re.sub(r"\bsteps?(?: of)?\b", "step", text).partition("step"))
    return between, step


def _gauges(text: str, field: str) -> tuple[Gauge, Gauge] | None:
    """The two gauges of `20ga..14ga` or `20..14 ga`, either of them first; None where neither end is a gauge."""
    first, _, last = (piece.strip() for piece in text.partition(".."))
    ends = []
    for end in (first, last):
        try:
            ends.append(parse_thickness(end, field=field))
        except InputError:
            ends.append(0.0)
    if not any(isinstance(end, Gauge) for end in ends):
        return None
    low, high = ends
    if isinstance(high, Gauge) and first.isdigit():
        low = Gauge(int(first), wire=high.wire)
    if not (isinstance(low, Gauge) and isinstance(high, Gauge) and low.wire == high.wire):
        raise InputError(f"'{text}' mixes a gauge with another size; write both ends alike: '20ga..14ga'", field=field)
    return low, high


def _points(text: str, field: str) -> tuple[tuple[float, float], ...]:
    """Points parted by `/`, or by `;`, between which a number may be a fraction."""
    mark = ";" if ";" in text else "/"
    words = text.replace(mark, f" {mark} ").split()
    pairs = text.split(mark)
    if len(pairs) < 2:
        raise InputError("at least two points are needed, such as 'at=0 0/40 0/40 30 mm'", field=field)
    if mark == "/" and any(re.search("[0-9]-[0-9]", pair) for pair in pairs):
        raise InputError(
            f"'{text}': a '/' parts the points here; with fractions part them by ';', such as "
            "'at=0 0; 1-1/2 0; 1-1/2 3/4 in'",
            field=field,
        )
    numbers = parse_list(" ".join(w for w in words if w != mark), "length", field=field)
    counts = [len(p.split()) for p in pairs]
    if len(numbers) != 2 * len(pairs) or any(c != 2 for c in counts[:-1]):
        raise InputError(
            f"'{text}' is not a list of points; write two numbers for each, such as 'at=0 0/40 0/40 30 mm', "
            "or with fractions 'at=0 0; 1-1/2 0; 1-1/2 3/4 in'",
            field=field,
        )
    return tuple(zip(numbers[::2], numbers[1::2], strict=True))


EXAMPLES: Mapping[str, str] = {kind: family.example for kind, family in FAMILIES.items()}
"""One profile of each family, to copy."""
