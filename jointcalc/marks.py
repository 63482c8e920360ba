"""The marks that hold a measure inside a text; what they mean is told in `jointcalc.quantity.sentence`.

They stand in a module of their own, below everything, because an error is raised with marked text too.
"""

from __future__ import annotations

import re
from operator import itemgetter
from typing import Self

MARKS = "\ufdd0\ufdd1\ufdd2"
"""Open, next, close: noncharacters, set aside by Unicode for use inside a program; nobody may type them."""

MARKED = re.compile(f"{MARKS[0]}([^{MARKS}]*){MARKS[1]}([^{MARKS[0]}{MARKS[2]}]*){MARKS[2]}")
"""A measure in a text: the metric text, then what it was made from."""

_METRIC = itemgetter(1)
"""The metric text of a match; a template would be filled in slowly, in Python, a hundred times for each item judged."""


def unmarked(text: str) -> str:
    """The text as a metric reader sees it."""
    return MARKED.sub(_METRIC, text) if MARKS[0] in text else text


class Marked(str):
    """A text that keeps its marks: as a `str` it is what a metric reader sees."""

    marked: str
    """The text with its measures marked, as f-strings make it."""

    def __new__(cls, text: str) -> Self:
        """From text with or without marks in it; of one of its kind, itself."""
        if type(text) is cls:
            return text
        if isinstance(text, Marked):
            text = text.marked
        made = super().__new__(cls, unmarked(text) if MARKS[0] in text else text)
        made.marked = text
        return made

    def __format__(self, spec: str) -> str:
        return format(self.marked, spec)

    def __add__(self, other: str) -> Self:
        return type(self)(self.marked + marked(other))

    def __radd__(self, other: str) -> Self:
        return type(self)(marked(other) + self.marked)

    def __reduce__(self) -> tuple[object, ...]:
        return (type(self), (self.marked,))


def marked(text: str) -> str:
    """The text with its marks, where it keeps any."""
    return text.marked if isinstance(text, Marked) else text
