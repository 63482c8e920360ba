"""What was compared with print raises statuses exactly as far as it goes, and names nothing that is not there."""

from __future__ import annotations

from dataclasses import replace

import pytest

from jointcalc.check import all_methods
from jointcalc.formula.comparisons import FORMULAS, METHODS, PRINT, compared
from jointcalc.formula.core import STATUSES, Formula, Source, load_all


def test_every_row_names_what_is_there() -> None:
    gone = sorted((set(FORMULAS) - set(load_all())) | (set(METHODS) - set(all_methods())))
    assert not gone, f"no such formula or method: {', '.join(gone)}"
    named = {compared(held)[1] for held in (*FORMULAS.values(), *METHODS.values())}
    idle = [name for name, (_, words) in PRINT.items() if not any(text.startswith(words) for text in named)]
    assert not idle, f"nothing was compared so: {', '.join(idle)}"


@pytest.mark.parametrize("key", sorted(FORMULAS))
def test_a_formula_says_what_was_compared(key: str) -> None:
    formula: Formula = load_all()[key]
    status, words = compared(FORMULAS[key])
    assert words in formula.source.note
    assert STATUSES.index(formula.source.status) <= STATUSES.index(status)


def test_a_comparison_never_lowers() -> None:
    name = next(n for n, (status, _) in PRINT.items() if status == "second-hand")
    for status in STATUSES:
        found = replace(Source("a book", "1", status, "x"), status=status).compared(name).status
        assert STATUSES.index(found) <= STATUSES.index(status)
    assert Source("a book", "1", "from memory").compared(None) == Source("a book", "1", "from memory")
