"""Greatest and least are printed from the method itself, in both views, for every rule of the registry."""

from __future__ import annotations

import pytest

from jointcalc.check import all_methods
from jointcalc.dossier.content import _detail_row
from jointcalc.quantity.show import translated
from jointcalc.result import DETAILING, Result
from jointcalc.show.terminal import Plain, _details

RULES = [m for m in all_methods().values() if m.basis == DETAILING]
WORDS = {"least": "at least", "greatest": "at most", "information": ""}


@pytest.mark.parametrize("rule", RULES, ids=lambda m: m.key)
def test_a_rule_says_which_way_it_bounds(rule, monkeypatch: pytest.MonkeyPatch) -> None:  # type: ignore[no-untyped-def]
    """Broken by a quarter: 16 there where 14 is the greatest, 14 there where 16 is the least."""
    there, limit = (16.0, 14.0) if rule.bound == "greatest" else (14.0, 16.0)
    capacity, demand = (limit, there) if rule.bound == "greatest" else (there, limit)
    broken = rule.judge(capacity=capacity, demand=demand, required=1.0, unit="mm")
    assert broken.status == "over"
    row = _detail_row(broken, Result("trial", "T", (broken,), {}, ()), "metric")
    assert row["has"].replace("\u200b", "").split()[0] == f"{there:g}"
    assert row["bound"].replace("\u00a0", " ") == f"{WORDS[rule.bound]} {limit:g} mm".strip()
    assert row["word"] == "BROKEN"
    lines: list[str] = []
    monkeypatch.setattr(Plain, "print", lambda self, text="", style=None: lines.append(text))
    _details(Plain(200), [broken], "metric")
    assert f"{there:g} mm, {WORDS[rule.bound]} {limit:g} mm" in " ".join(lines)


@pytest.mark.parametrize(
    "metric,inch",
    [
        ("between 10 and 20 mm", "between 0.3937 and 0.7874 in"),
        ("1.2 mm A1011 SS Gr 33 + 1.5 mm A1011 SS Gr 33", "0.04724 in A1011 SS Gr 33 + 0.05906 in A1011 SS Gr 33"),
        ("A1011 SS Gr 33 + 1.5 mm A36", "A1011 SS Gr 33 + 0.05906 in A36"),
        ("1.2 mm 1.4301 + 2 mm 1.4301", "0.04724 in 1.4301 + 0.07874 in 1.4301"),
        ("M8 8.8, 20 mm", "M8 8.8, 0.7874 in"),
        ("class 8.8, 20 mm", "class 8.8, 0.7874 in"),
        ("hole 8 x 20 mm", "hole 0.315 x 0.7874 in"),
        ("EN 1993-1-8 Table 3.4, 3 mm", "EN 1993-1-8 Table 3.4, 0.1181 in"),
        ("6 or 8 mm", "0.2362 or 0.315 in"),
    ],
)
def test_grades_and_numbers_of_documents_are_no_sizes(metric: str, inch: str) -> None:
    assert translated(metric, "inch") == inch
    assert translated(metric, "metric") == metric
