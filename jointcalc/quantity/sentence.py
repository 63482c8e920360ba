"""Sentences for people, made from words and measures and printed for the reader whoever it turns out to be.

A note is written where a joint is judged, and printed where it is known who reads: in metric, in inches, for a
terminal or for the typesetter.  Finding the sizes in a finished English sentence is guessing (`between 10 and
20 mm` came out in two units, and the 33 of `A1011 SS Gr 33` as a size), so a sentence here keeps its numbers:

    note=f"the sheet is {mm(sheet.t):.3g}, at least {mm(3)} counts"
    note=f"a size between {mm(10, ' and ', 20)}"

What is not written as a measure is never rewritten, whatever it looks like: grades, names, clauses, what a builder
typed himself.  Measures that share one unit are one measure, so that all their numbers are in the reader's unit.

Why this form.  A measure formats itself, inside any f-string, into a marked piece of text; so sentences are written,
joined and cut into lists as plain text, in the same line as before, and the number travels with its words.  Fields
that people read (`Check.note`, `Caution.text` ...) hold a `Sentence`, made from such text: a `str` that *is* the
metric sentence, for JSON, for tests and for comparing, and that keeps its parts beside it.  A sentence put into
another by an f-string or by `+` keeps its parts; `str.join` is blind to them, so sentences are joined by `joined`.
A tree of words and numbers would be stricter, but four hundred notes would read like code, and what is
read as code is not mended as English.

The marks are three code points that Unicode sets aside for use inside a program (noncharacters, chapter 23.7); what
a builder types may not hold them (`letters.unseen`), and every edge prints through `printed`.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import partial
from typing import SupportsFloat, SupportsIndex

from jointcalc.marks import MARKED, MARKS, Marked, marked
from jointcalc.quantity.show import LEAST, System, figures, respelt, show, show_in
from jointcalc.quantity.units import KINDS

_OPEN, _NEXT, _CLOSE = MARKS[0], MARKS[1], MARKS[2]

_KIND = {
    "mm": "length", "mm^2": "area", "N": "force", "kN": "force", "MPa": "stress", "kPa": "pressure", "N*mm": "moment",
    "N*m": "moment", "N/mm": "line load", "N*mm/rad": "rotational stiffness",
}  # fmt: skip
"""Unit a sentence may be written in -> the kind of quantity it is; `kPa` is said of pressures only."""

_RESULT_ONLY = frozenset({"kg", "kg/m", "kg/m^2", "kJ/mm"})
"""Units of results that no builder types; `show_in` knows what an inch reader is told instead."""

_SPELT = {"N·mm": "N*mm"}
"""Other spellings of those units in sentences."""

_KNOWN = frozenset({*_KIND, *_RESULT_ONLY, *_SPELT})


class Measure:
    """One or more numbers that share a unit, with the words between them: `8 to 10 mm`, `40 x 30 mm`.

    Numbers are in the unit named; `base` gives them in N, mm, MPa, t, s where the unit is one that builders type.
    `digits` are the significant figures of an inch reader: four, for sheet is told apart by ten-thousandths.
    Formatted with a specification, the metric numbers follow it; without one they are `figures`.  `written` is the
    metric text where numbers and unit are printed in another way (`2·10^7 N`).
    """

    __slots__ = ("between", "digits", "unit", "values", "written")

    def __init__(
        self, *parts: SupportsFloat | SupportsIndex | str, unit: str, digits: int = 4, written: str = ""
    ) -> None:
        self.values = tuple([float(part) for part in parts[::2]])
        self.between = tuple([str(part) for part in parts[1::2]])
        self.unit = unit
        self.digits = digits
        self.written = written
        if unit not in _KNOWN or len(parts) % 2 == 0:
            raise ValueError(f"no measure: {parts!r} in {unit!r}")

    @classmethod
    def of(cls, values: Iterable[float], between: str, *, unit: str) -> Measure:
        """Any number of values with the same words between them: `800 + 600 mm`."""
        parts = [part for value in values for part in (between, value)]
        return cls(*parts[1:], unit=unit)

    @property
    def base(self) -> tuple[float, ...]:
        """The numbers in base units."""
        unit = _SPELT.get(self.unit, self.unit)
        factor = KINDS[_KIND[unit]].units[unit] if unit in _KIND else 1.0
        return tuple(value * factor for value in self.values)

    def to(self, system: System) -> str:
        """The text for a reader of that system."""
        return self._metric("") if system == "metric" else self._inch()

    def _metric(self, spec: str) -> str:
        if self.written:
            return self.written
        least = LEAST.get(_KIND.get(self.unit, ""), 0.0) if self.unit in ("N", "MPa") else 0.0
        shown = [
            f"< {least}" if 0 < abs(value) < least else format(value, spec) if spec else figures(value)
            for value in self.values
        ]
        if any("e+" in text for text in shown):  # no reader of sentences wants 1.557e+04
            shown = [figures(value) for value in self.values]
        return f"{self._with(shown) if self.between else shown[0]} {self.unit}"

    def _inch(self) -> str:
        unit = _SPELT.get(self.unit, self.unit)
        if unit in _KIND:
            texts = [show(value, _KIND[unit], "inch", self.digits) for value in self.base]
        else:
            texts = [show_in(value, unit, "inch", self.digits) for value in self.values]
        numbers = [text.rpartition(" ")[0] for text in texts]
        return f"{self._with(numbers)} {texts[0].rpartition(' ')[2]}"

    def _with(self, numbers: list[str]) -> str:
        return numbers[0] + "".join(word + number for word, number in zip(self.between, numbers[1:]))

    def __format__(self, spec: str) -> str:
        held = f"{self.unit}{_NEXT}{self.digits}{_NEXT}{self.values[0]!r}"
        for word, value in zip(self.between, self.values[1:]):
            held += f"{_NEXT}{word}{_NEXT}{value!r}"
        return f"{_OPEN}{self._metric(spec)}{_NEXT}{held}{_CLOSE}"

    def __str__(self) -> str:
        return self._metric("")

    def __repr__(self) -> str:
        return f"Measure({self})"


def as_printed(written: str, *parts: float | str, unit: str) -> str:
    """Numbers printed elsewhere with a unit that is known at run time only; one without inch twin stays as written."""
    if unit not in _KIND and unit not in _RESULT_ONLY:
        return written
    return f"{Measure(*parts, unit=unit, written=written)}"


mm = partial(Measure, unit="mm")
newtons = partial(Measure, unit="N")
mpa = partial(Measure, unit="MPa")


def either(metric: str, inch: str) -> str:
    """Words that differ with the reader, where the source prints a size in both: `3 mm (1/8 in)`, or `1/8 in`."""
    return f"{_OPEN}{metric}{_NEXT}{_NEXT}{inch}{_CLOSE}"


def shaped(text: str) -> str:
    """A profile or bead by its letters, for readers of either system: millimetres are told in inches too."""
    return either(text, respelt(text, "inch"))


class Sentence(Marked):
    """A sentence that knows its measures; as a `str` it is the metric text."""

    @property
    def parts(self) -> tuple[str | Measure, ...]:
        """Words and measures in the order they are read; words that differ with the reader count as metric words."""
        found: list[str | Measure] = []
        end = 0
        for match in MARKED.finditer(self.marked):
            unit, *held = match[2].split(_NEXT)
            found += [self.marked[end : match.start()], _measure(unit, held) if unit else match[1]]
            end = match.end()
        found.append(self.marked[end:])
        return tuple(part for part in found if part != "")

    def to(self, system: System) -> str:
        """The sentence for a reader of that system."""
        return str(self) if system == "metric" or _OPEN not in self.marked else MARKED.sub(_in_inches, self.marked)


def printed(text: str, system: System) -> str:
    """What that reader is shown: of a sentence the text in his units, any other text as it stands."""
    return Sentence(text).to(system)


def joined(between: str, texts: Iterable[str]) -> Sentence:
    """Sentences joined to one, as `str.join` does it, with their measures kept."""
    return Sentence(between.join(marked(text) for text in texts))


def _measure(unit: str, held: list[str]) -> Measure:
    digits, *parts = held
    return Measure(*(part if n % 2 else float(part) for n, part in enumerate(parts)), unit=unit, digits=int(digits))


def _in_inches(match: re.Match[str]) -> str:
    unit, *held = match[2].split(_NEXT)
    return _measure(unit, held).to("inch") if unit else held[0]
