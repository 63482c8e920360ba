"""Every case of the page, one test each."""

from __future__ import annotations

import pytest

from .case import Case
from .cases import CASES


@pytest.mark.parametrize("case", CASES, ids=lambda c: c.id)
def test_published_value(case: Case) -> None:
    for printed, ours, tolerance in zip(case.prints, case.ours(), case.tolerances()):
        assert abs(ours - float(printed)) <= tolerance, f"{printed} printed, {ours!r} here"


def test_each_case_stands_once() -> None:
    names = [(c.kind, c.name, c.source) for c in CASES]
    assert len(set(names)) == len(names)


def test_enough_published_cases() -> None:
    """At least 120 of them, whatever stands beside them that is only computed independently."""
    assert sum(c.outside for c in CASES) >= 120
