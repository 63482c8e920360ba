"""Greatest and least are printed from the method itself, in both views, for every rule of the registry."""

from __future__ import annotations

import pytest

from jointcalc.check import all_methods
from jointcalc.dossier.sheet import detail_row
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
    row = detail_row(broken, Result("trial", "T", (broken,), {}, ()), "metric")
    assert row["has"].replace("\u200b", "").split()[0] == f"{there:g}"
    assert row["bound"].replace("\u00a0", " ") == f"{WORDS[rule.bound]} {limit:g} mm".strip()
    assert row["word"] == "BROKEN"
    lines: list[str] = []
    monkeypatch.setattr(Plain, "print", lambda self, text="", style=None: lines.append(text))
    _details(Plain(200), [broken], "metric")
    assert f"{there:g} mm, {WORDS[rule.bound]} {limit:g} mm" in " ".join(lines)


def test_a_kept_rule_says_its_note() -> None:
    # a bend the elongation does not allow is kept by the table of the trade: a reader of the dossier is told so too
    least = next(m for m in RULES if m.bound == "least")
    kept = least.judge(capacity=2.0, demand=1.5, required=1.0, unit="mm", note="fold a strip first")
    row = detail_row(kept, Result("trial", "T", (kept,), {}, ()), "metric")
    assert row["bound"].replace("\u00a0", " ") == "at least 1.5 mm; fold a strip first"
    assert row["note"] == ""
