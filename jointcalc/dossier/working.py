"""The working of every check line by line, and the nomenclature of its formulas: one symbol, one meaning in an item."""

from __future__ import annotations

import ast
from collections.abc import Iterable, Mapping
from functools import cache

from jointcalc.dossier.common import WORD, Data, amount_of, marks_of
from jointcalc.dossier.words import amount, breakable, clean, maths, no_dust, short, spoken, unflagged
from jointcalc.dossier.words import unit as unit_text
from jointcalc.formula.core import Evaluation, Limit, Line
from jointcalc.formula.printed import number, plain, pretty, typst_name
from jointcalc.quantity.sentence import printed
from jointcalc.quantity.show import System, figures, percent, show_in
from jointcalc.result import Check, Result, Stated
from jointcalc.show.terminal import down, up

PRIMES = ("", "′", "″")


class Names:
    """The symbols of an item's workings: a letter that means several things there gets a prime for each further one.

    Two wordings are one meaning where unit and all values in the item are the same.
    """

    def __init__(self, checks: Iterable[Check]) -> None:
        values: dict[str, dict[str, set[tuple[str, str]]]] = {}

        def enter(name: str, meaning: str, unit: str, value: float) -> None:
            values.setdefault(pretty(name), {}).setdefault(meaning, set()).add((unit, f"{value:.9g}"))

        for check in checks:
            for part in check.trace:
                if isinstance(part, Evaluation):
                    formula = part.formula
                    for name in formula.parameters:
                        unit, meaning = formula.names[name]
                        enter(name, meaning, unit, float(part.inputs[name]))
                    enter(formula.symbol, formula.title.lower(), formula.unit, float(part.value))
        self._groups: dict[str, list[tuple[list[str], str]]] = {}
        for symbol, meanings in values.items():
            alike: dict[frozenset[tuple[str, str]], list[str]] = {}
            for meaning, held in meanings.items():
                alike.setdefault(frozenset(held), []).append(meaning)
            self._groups[symbol] = [(told, min(held)[0]) for held, told in alike.items()]

    def mark(self, symbol: str, meaning: str) -> str:
        """What is set behind a symbol of that meaning: nothing, or its primes."""
        for n, (meanings, _) in enumerate(self._groups.get(symbol, ())):
            if meaning in meanings:
                return PRIMES[n] if n < len(PRIMES) else f"′{n + 1}"
        return ""

    def rows(self) -> list[Data]:
        """Symbol, meaning, unit, once each, in the order of the alphabet."""
        return [
            {
                "symbol": clean(primed(symbol, self.mark(symbol, meanings[0]))),
                "meaning": breakable(meanings[0]),
                "unit": "" if unit in ("", "1") else unit_text(unit),
            }
            for symbol in sorted(self._groups, key=lambda s: (s.lower(), s))
            for meanings, unit in self._groups[symbol]
        ]


def primed(symbol: str, mark: str) -> str:
    """`t_1` with its primes: behind the letter, before the index."""
    head, bar, rest = symbol.partition("_")
    return f"{head}{mark}{bar}{rest}"


def _renamed(text: str, names: Mapping[str, str]) -> str:
    """The text with every name that stands by itself given its new one."""
    for old, new in names.items():
        made, start = "", 0
        while (at := text.find(old, start)) >= 0:
            end = at + len(old)
            alone = not _in_a_name(text[at - 1 : at], '"') and not _in_a_name(text[end : end + 1], '"(′″')
            made += text[start:at] + (new if alone else old)
            start = end
        text = made + text[start:]
    return text


def _in_a_name(letter: str, more: str) -> bool:
    return bool(letter) and (letter.isalnum() or letter == "_" or letter in more)


def _set_name(name: str, mark: str) -> str:
    """A primed symbol in the maths notation of the document, upright where it carries a prime."""
    head, bar, rest = typst_name(name).partition("_")
    letter = head.strip('"')
    return f'"{letter}{mark}"{bar}{rest}'


def working_of(check: Check, result: Result, system: System, names: Names, told: set[tuple[str, ...]]) -> Data:
    """One working.  `told` are the lines the item's workings hold so far: those stand once, later in short."""
    lines, again = _lines(check, system, names, told)
    return {
        "title": breakable(printed(check.title, system), 30),
        "key": breakable(check.key, 44),
        "marks": marks_of(check, result),
        "word": WORD[check.status],
        "governs": check is result.worst,
        "again": again,
        "lines": lines,
        "end": end_of(check, system),
    }


def chosen(result: Result, steps: str) -> list[Check]:
    """The checks whose working is printed, the governing one first; `steps` is none, short (what governs) or full."""
    worst = result.worst
    if steps == "none":
        return [worst] if worst is not None and worst.trace else []
    found = [c for c in result.checks if c.trace and (steps == "full" or c is worst or c.status == "over")]
    return sorted(found, key=lambda c: c is not worst)


def _lines(check: Check, system: System, names: Names, told: set[tuple[str, ...]]) -> tuple[list[Data], str]:
    lines, again = [], []
    for part in check.trace:
        signs: dict[str, str] = {}
        sets: dict[str, str] = {}
        if isinstance(part, Evaluation):
            pairs = [(name, part.formula.names[name][1]) for name in part.formula.parameters]
            for name, meaning in [*pairs, (part.formula.symbol, part.formula.title.lower())]:
                if mark := names.mark(pretty(name), meaning):
                    signs[pretty(name)] = primed(pretty(name), mark)
                    sets[typst_name(name)] = _set_name(name, mark)
        for line in part.lines():
            known = (line.symbol, line.expression, line.substituted)
            if known in told:
                again.append(f"{clean(_renamed(line.symbol, signs))} = {_value(line, system)}")
            else:
                told.add(known)
                lines.append(_line(line, system, signs, sets, given=isinstance(part, Stated)))
    # a source is named where it differs from the one named above
    last = breakable(check.method.source.cited)
    for one in lines:
        if one["source"] == last:
            one["source"] = ""
        elif one["source"]:
            last = one["source"]
    return lines, ", ".join(dict.fromkeys(again))


LONGEST = 76
"""Characters of a line beyond which it is set as text, that can break, and no more as a formula."""


def _value(line: Line, system: System) -> str:
    value = figures(line.value) if line.value == line.value and abs(line.value) != float("inf") else "-"
    shown = no_dust(f"{value} {line.unit}" if line.unit not in ("", "1") else value)
    shown = amount(shown)
    if system == "inch" and line.unit not in ("", "1"):
        other = amount(show_in(line.value, line.unit, "inch"))
        shown = shown if other == shown else f"{shown} ({other})"
    return shown


def _line(line: Line, system: System, signs: Mapping[str, str], sets: Mapping[str, str], *, given: bool) -> Data:
    symbol = _renamed(line.symbol, signs)
    expression, numbers = _renamed(line.expression, signs), no_dust(line.substituted)
    left, first, second = "", "", ""
    if line.typeset and max(len(line.expression), len(numbers)) <= LONGEST:
        left = maths(_renamed(typst_name_of(line.symbol), sets))
        first, second = maths(_renamed(line.typeset, sets)), maths(no_dust(line.typeset_numbers))
        if not (left and first and second):
            left, first, second = "", "", ""
    return {
        "left": left,
        "first": first,
        "second": second if second != first else "",
        "given": given or not line.typeset,
        "symbol": clean(symbol),
        "expression": breakable(expression, 40),
        "numbers": breakable(unflagged(spoken(no_dust(printed(line.substituted, system)))), 40),
        "alt": short(f"{symbol} = {expression} = {numbers}", 2000),
        "value": _value(line, system),
        "source": breakable(line.source),
    }


def typst_name_of(symbol: str) -> str:
    """A printed symbol such as `λ_p` or `F_tb,Rd` in the maths notation of the document."""
    head, _, rest = symbol.partition("_")
    shown = head if len(head) == 1 else f'"{head}"'
    return f'{shown}_("{rest}")' if rest else shown


def end_of(check: Check, system: System) -> str:
    """The last line of a working: the factor there is against the factor asked for."""
    if check.safety_factor is None or check.capacity is None or check.demand is None:
        return ""
    capacity, demand = amount_of(check, "capacity", system), amount_of(check, "demand", system)
    if check.safety_factor > 1e9:
        return f"carries {capacity}, no load: {WORD[check.status]}"
    text = f"safety factor {capacity} / {demand} = {down(check.safety_factor)}"
    if check.required_factor is None:
        return text
    used = f"{percent(check.utilisation)} used"
    return f"{text}; required {up(check.required_factor)}; {used}: {WORD[check.status]}"


@cache
def _limit_text(limit: Limit) -> str:
    shown = plain(ast.parse(limit.expression, mode="eval").body)
    unit = f" {unit_text(limit.unit)}" if limit.unit else ""
    low = "" if limit.low is None else f"{number(limit.low)}{unit} {'<' if limit.open_low else '≤'} "
    high = "" if limit.high is None else f" {'<' if limit.open_high else '≤'} {number(limit.high)}{unit}"
    return f"{low}{shown}{high}"


def ranges_of(check: Check) -> list[str]:
    """The ranges in which the formulas of a check hold, as text."""
    found = [
        clean(_limit_text(limit))
        for part in check.trace
        if isinstance(part, Evaluation)
        for limit in part.formula.limits
    ]
    return list(dict.fromkeys(found))
