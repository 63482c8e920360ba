"""The mark of the weakest source reaches the governing line, and the summary and the cover count such lines."""

from __future__ import annotations

import re

import pytest

from jointcalc.formula.core import Source
from jointcalc.result import Method, Result, Stated, trust


def item(status: str, carried: str | None = None) -> Result:
    source = Source("own", "", status)  # type: ignore[arg-type]
    how = Method("trial.sum", "Sum", source, "spot", "trial", "1")
    trace = [Stated("u_V", "1", 0.5, "carried", status=carried)]  # type: ignore[arg-type]
    check = how.judge(capacity=1.0, demand=0.5, required=1.0, unit="1", trace=trace)
    return Result(kind="trial", id="T", checks=(check,), values={}, cautions=())


@pytest.mark.parametrize(
    "items,counts",
    [
        ([item("read")], []),
        ([item("read"), item("from memory")], ["1", "2"]),
        # a sum of its own source "read" rests on what it sums
        ([item("read", "from memory"), item("read", "second-hand"), item("derivation")], ["1", "3", "1"]),
    ],
)
def test_the_sentence_counts(items: list[Result], counts: list[str]) -> None:
    sentence = trust(items)
    assert ("None of" in sentence) == (not counts)
    if counts:
        assert re.findall(r"\d+", sentence) == counts
        assert ("from memory" in sentence) == any(i.worst.provenance == "from memory" for i in items)  # type: ignore[union-attr]


def test_nothing_governs_nothing_is_said() -> None:
    assert trust([]) == ""
