"""The working of every check line by line, its ranges of validity, and the nomenclature of its formulas."""

from __future__ import annotations

import ast
from functools import cache

from jointcalc.dossier.common import WORD, Data, amount_of, marks_of
from jointcalc.dossier.words import amount, breakable, clean, maths, short, symbol
from jointcalc.dossier.words import unit as unit_text
from jointcalc.formula.core import Evaluation, Limit, Line
from jointcalc.formula.printed import number, plain, pretty
from jointcalc.quantity.sentence import printed
from jointcalc.quantity.show import System, figures, percent, show_in
from jointcalc.result import Check, Result
from jointcalc.show.terminal import down, up


def working_of(result: Result, system: System, steps: str) -> list[Data]:
    """The workings of a sheet, the governing one first; `steps` is none, short (what governs) or full."""
    if steps == "none":
        return []
    worst = result.worst
    chosen = [c for c in result.checks if c.trace and (steps == "full" or c is worst or c.status == "over")]
    chosen.sort(key=lambda c: c is not worst)
    told: set[tuple[str, str, str]] = set()
    workings = []
    for check in chosen:
        lines, again = _lines(check, system, told)
        workings.append({
            "title": breakable(printed(check.title, system), 30),
            "key": breakable(check.key, 44),
            "marks": marks_of(check, result),
            "word": WORD[check.status],
            "governs": check is worst,
            "source": breakable(check.method.source.cited),
            "basis": clean(check.method.basis),
            "factor": clean(str(check.method.factor)),
            "again": again,
            "lines": lines,
            "ranges": _ranges(check),
            "end": _end(check, system),
        })  # fmt: skip
    return workings


def _lines(check: Check, system: System, told: set[tuple[str, str, str]]) -> tuple[list[Data], str]:
    """The lines of a working, and those that stand in an earlier working of the same sheet in short.

    `told` are the lines the sheet holds so far.  A source is named where it differs from the one named above.
    """
    lines, again = [], []
    for line in check.steps():
        known = (line.symbol, line.expression, line.substituted)
        made = _line(line, system)
        if known in told:
            again.append(f"{made['symbol']} = {made['value']}")
        else:
            told.add(known)
            lines.append(made)
    last = breakable(check.method.source.cited)
    for one in lines:
        if one["source"] == last:
            one["source"] = ""
        elif one["source"]:
            last = one["source"]
    return lines, ", ".join(dict.fromkeys(again))


def _line(line: Line, system: System) -> Data:
    value = figures(line.value) if line.value == line.value and abs(line.value) != float("inf") else "-"
    shown = amount(f"{value} {line.unit}" if line.unit not in ("", "1") else value)
    if system == "inch" and line.unit not in ("", "1"):
        other = amount(show_in(line.value, line.unit, "inch"))
        shown = shown if other == shown else f"{shown} ({other})"
    left, first, second = symbol(line.symbol), maths(line.typeset), maths(line.typeset_numbers)
    if not left:
        first = ""
    return {
        "left": left,
        "first": first,
        "second": second if first and second != first else "",
        "given": not line.typeset,
        "symbol": breakable(line.symbol),
        "expression": breakable(line.expression, 60),
        "numbers": breakable(line.substituted, 60),
        "alt": short(f"{line.symbol} = {line.expression} = {line.substituted}", 2000),
        "value": shown,
        "source": breakable(line.source),
    }


def _end(check: Check, system: System) -> str:
    """The last line of a working: the factor there is against the factor asked for."""
    if check.safety_factor is None or check.capacity is None or check.demand is None:
        return ""
    capacity, demand = amount_of(check, "capacity", system), amount_of(check, "demand", system)
    text = f"safety factor {capacity} / {demand} = {down(check.safety_factor)}"
    if check.required_factor is None:
        return text
    used = f"{percent(check.utilisation)} used"
    return f"{text} (rounded down); required {up(check.required_factor)}; {used}: {WORD[check.status]}"


@cache
def _limit_text(limit: Limit) -> str:
    shown = plain(ast.parse(limit.expression, mode="eval").body)
    unit = f" {unit_text(limit.unit)}" if limit.unit else ""
    low = "" if limit.low is None else f"{number(limit.low)}{unit} {'<' if limit.open_low else '≤'} "
    high = "" if limit.high is None else f" {'<' if limit.open_high else '≤'} {number(limit.high)}{unit}"
    return f"{low}{shown}{high}"


def _ranges(check: Check) -> list[str]:
    found = [
        clean(_limit_text(limit))
        for part in check.trace
        if isinstance(part, Evaluation)
        for limit in part.formula.limits
    ]
    return list(dict.fromkeys(found))


def symbols_of(result: Result, steps: str) -> list[Data]:
    """Nomenclature of the formulas in this sheet: symbol, meaning, unit, once each."""
    if steps == "none":
        return []
    worst = result.worst
    found: dict[tuple[str, str, str], Data] = {}
    for check in result.checks:
        if steps != "full" and check is not worst and check.status != "over":
            continue
        for part in check.trace:
            if not isinstance(part, Evaluation):
                continue
            for name in part.formula.parameters:
                unit, meaning = part.formula.names[name]
                _symbol_row(found, pretty(name), meaning, unit)
            _symbol_row(found, pretty(part.formula.symbol), part.formula.title.lower(), part.formula.unit)
    return [found[key] for key in sorted(found, key=lambda k: (k[0].lower(), k))]


def _symbol_row(found: dict[tuple[str, str, str], Data], name: str, meaning: str, unit: str) -> None:
    found[(name, meaning, unit)] = {
        "maths": symbol(name),
        "symbol": clean(name),
        "meaning": breakable(meaning),
        "unit": "" if unit in ("", "1") else unit_text(unit),
    }
