"""The marks that hold a measure inside a text; what they mean is told in `jointcalc.quantity.sentence`.

They stand in a module of their own, below everything, because an error is raised with marked text too.
"""

from __future__ import annotations

import re
from operator import itemgetter

MARKS = "\ufdd0\ufdd1\ufdd2"
"""Open, next, close: noncharacters, set aside by Unicode for use inside a program; nobody may type them."""

MARKED = re.compile(f"{MARKS[0]}([^{MARKS}]*){MARKS[1]}([^{MARKS[0]}{MARKS[2]}]*){MARKS[2]}")
"""A measure in a text: the metric text, then what it was made from."""

_METRIC = itemgetter(1)
"""The metric text of a match; a template would be filled in slowly, in Python, a hundred times for each item judged."""


def unmarked(text: str) -> str:
    """The text as a metric reader sees it."""
    return MARKED.sub(_METRIC, text) if MARKS[0] in text else text
