"""What people read of random items: an inch reader meets no metric size, and no reader meets a mark of the program."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import given

from jointcalc.marks import MARKS
from jointcalc.quantity.sentence import printed
from jointcalc.result import Looked, Result, Stated

from .describe import EVERY, judged, tries

METRIC = re.compile(
    r"(?<![\w.])(?:[0-9]{1,3}(?: [0-9]{3})+|[0-9]+)(?:\.[0-9]+)?(?:e[-+]?[0-9]+)? "
    r"(?:mm|cm|N|kN|MPa|kPa|kg|N/mm|kN/m|N[*·]mm|N[*·]m|kg/m|kJ/mm)(?:\^[0-9])?(?![\w/*·-])"
)
"""A number with a metric unit, as sentences print it; the stiffness of an end stands as the builder typed it."""

EXAMPLES = {"brace": 15, "panel": 2}


def texts(result: Result) -> Iterator[tuple[str, str]]:
    """(where it stands, text) of everything of a result that is written for people."""
    for check_ in result.checks:
        yield f"{check_.key} title", check_.title
        yield f"{check_.key} note", check_.note
        for part in check_.trace:
            # a class of fatigue is described in the words of its table
            if isinstance(part, Stated | Looked) and getattr(part, "table", "") != "fatigue_en1993_1_9":
                yield f"{check_.key} {part.symbol}", part.how
    for caution in result.cautions:
        yield caution.code, caution.text
    for text in result.unjudged:
        yield "unjudged", text
    for label, text in result.about.items():
        yield label, text


def strays(result: Result) -> list[tuple[str, str]]:
    """Texts in which an inch reader meets a metric size."""
    # a profile or bead is what the builder typed, in one word
    return [
        (w, t)
        for w, text in texts(result)
        if METRIC.search(t := printed(text, "inch")) and w not in ("profile", "bead")
    ]


@pytest.mark.parametrize("kind", EVERY)
def test_an_inch_reader_meets_no_metric_size(kind: str) -> None:
    @tries(EXAMPLES.get(kind, 60))
    @given(data=EVERY[kind])
    def holds(data: dict[str, Any]) -> None:
        result = judged(kind, data)
        assert strays(result) == []
        assert not set(MARKS) & set(json.dumps(result.json(), ensure_ascii=False))
        for where, text in texts(result):
            for system in ("metric", "inch"):
                assert not set(MARKS) & set(printed(text, system)), (where, text)  # type: ignore[arg-type]

    holds()


@pytest.mark.parametrize("text", ["a sheet of 1.2 mm", "12 000 N", "3 kN over 4 in", "1e7 N*mm", "5 mm^2", "2 N·mm"])
def test_the_pattern_of_this_test_finds_metric(text: str) -> None:
    assert METRIC.search(text)
