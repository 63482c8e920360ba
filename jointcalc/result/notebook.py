"""Results as a notebook shows them: a line or two as text, a table as HTML.  Words carry the verdict."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from html import escape
from typing import TYPE_CHECKING

from jointcalc.quantity.show import figures, percent

if TYPE_CHECKING:
    from jointcalc.result.checks import Check
    from jointcalc.result.results import Result
    from jointcalc.result.trace import Amount

VERDICT = {"ok": "holds", "over": "does not hold", "outside": "cannot be judged", "info": "for information"}


def check_line(check: Check) -> str:
    """One check in one line."""
    numbers = "" if check.utilisation is None else f", {percent(check.utilisation)} used"
    if check.safety_factor is not None and check.required_factor is not None:
        numbers += f" (factor {figures(check.safety_factor)}, required {figures(check.required_factor)})"
    return f"<{check.key}: {VERDICT[check.status]}{numbers}>"


def result_line(result: Result) -> str:
    """One result in one line, two where a load has no method."""
    worst = result.worst
    told = f"<{_name(result)}: {VERDICT[result.status]}"
    if worst is not None and worst.utilisation is not None:
        told += f"; {worst.key} governs, {percent(worst.utilisation)} used"
    told += f"; {len(result.checks)} checks, {len(result.cautions)} cautions"
    return told + (f"\n not judged: {result.unjudged[0]}" if result.unjudged else "") + ">"


def result_html(result: Result) -> str:
    """The verdict, the checks and the cautions of one result."""
    rows = [
        (c.key, c.title, _amount(c.capacity), _amount(c.demand), _number(c.safety_factor), _number(c.required_factor),
         "" if c.utilisation is None else percent(c.utilisation), VERDICT[c.status], c.note)
        for c in result.checks
    ]  # fmt: skip
    heads = ("check", "what", "capacity", "demand", "factor", "required", "used", "verdict", "note")
    notes = [*(f"Not judged: {text}" for text in result.unjudged)]
    notes += [f"{c.severity}: {c.text}" for c in result.cautions]
    below = "".join(f"<li>{escape(text)}</li>" for text in notes)
    head = f"<p><b>{escape(_name(result))}: {VERDICT[result.status]}</b></p>"
    return f"{head}{_table(heads, rows)}" + (f"<ul>{below}</ul>" if below else "")


def results_html(results: Iterable[Result]) -> str:
    """One row for each result."""
    rows = [
        (r.kind.replace("_", " "), r.id, VERDICT[r.status], r.governing or "",
         percent(r.worst.utilisation) if r.worst is not None and r.worst.utilisation is not None else "", r.title)
        for r in results
    ]  # fmt: skip
    return _table(("kind", "id", "verdict", "governs", "used", "title"), rows)


def _name(result: Result) -> str:
    return result.kind.replace("_", " ") + (f" {result.id}" if result.id != "-" else "")


def _number(value: float | None) -> str:
    return "" if value is None else figures(value)


def _amount(amount: Amount | None) -> str:
    return "" if amount is None or amount.value is None else f"{figures(amount.value)} {amount.unit}"


def _table(heads: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    def line(cells: Sequence[str], tag: str) -> str:
        return "<tr>" + "".join(f"<{tag}>{escape(str(cell))}</{tag}>" for cell in cells) + "</tr>"

    return f"<table>{line(heads, 'th')}{''.join(line(row, 'td') for row in rows)}</table>"
