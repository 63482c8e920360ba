"""A result for the terminal: the answer first, then methods, detailing, cautions; 80 columns are enough."""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Callable, Container, Iterable, Mapping, Sequence
from math import floor
from typing import TYPE_CHECKING, Any

from jointcalc.files import to_stdout
from jointcalc.marks import unmarked
from jointcalc.quantity.letters import spelt
from jointcalc.quantity.sentence import joined, printed
from jointcalc.quantity.show import System, figures, percent, respelt, show_in
from jointcalc.registry import BY_KEY, load
from jointcalc.result import DETAILING, MAY_CARRY, SIDES, Caution, Check, Result


class Plain:
    """Plain lines on stdout: what a pipe or a file gets, and quicker to start than a terminal's console."""

    def __init__(self, width: int) -> None:
        self.width = width

    def print(self, text: str = "", style: str | None = None) -> None:
        """One line."""
        to_stdout(text + "\n")


if TYPE_CHECKING:
    from rich.console import Console

    Out = Console | Plain

VERDICT = {"ok": "HOLDS", "over": "DOES NOT HOLD", "outside": "CANNOT BE JUDGED"}
STYLE = {"ok": "bold green", "over": "bold red", "outside": "bold yellow", "info": "dim"}
SEVERITY = {"stop": ("STOP", "bold red"), "warn": ("warn", "yellow"), "note": ("note", "dim")}


def down(value: float | None, places: int = 2) -> str:
    """A factor rounded down, never up; a dash when there is none."""
    if value is None:
        return "-"
    scale = 10**places if abs(value) < 100 else 1
    return f"{floor(value * scale + 1e-9) / scale:.{places if scale > 1 else 0}f}"


def up(value: float | None) -> str:
    """A required factor rounded up, never down; a dash when there is none."""
    return "-" if value is None else f"{-floor(-value * 100 + 1e-6) / 100:.2f}"


def console(width: int | None = None) -> Out:
    """Where answers are printed: in colour on a terminal, plain when piped; `COLUMNS` sets the width."""
    if not sys.stdout.isatty() and "FORCE_COLOR" not in os.environ:
        from shutil import get_terminal_size

        return Plain(width or get_terminal_size((80, 24)).columns)
    from rich.console import Console

    class Shown(Console):
        """A console that spells out what a terminal would obey."""

        def print(self, *objects: Any, **how: Any) -> None:
            super().print(*(spelt(o) if isinstance(o, str) else o for o in objects), **how)

    return Shown(width=width, highlight=False, soft_wrap=True, markup=False, emoji=False)


def columns(heads: Mapping[str, int], rows: Iterable[Sequence[str]], left: Container[str] = ()) -> list[str]:
    """Lines of a table: `heads` are column names and widths; cells that are too long end in `…`."""

    def line(cells: Sequence[str]) -> str:
        shown = []
        for (head, size), cell in zip(heads.items(), cells):
            one = re.sub(r"\s*[\n\r\t]\s*", " ", cell)  # a title of two lines must not look like two rows
            text = one if len(one) <= size else one[: size - 1] + "…"
            shown.append(text.ljust(size) if head in left else text.rjust(size))
        return " ".join(shown).rstrip()

    total = sum(heads.values()) + len(heads) - 1
    return [line(list(heads)), "─" * total, *(line(row) for row in rows)]


def print_result(
    result: Result,
    out: Out,
    *,
    system: System = "metric",
    steps: bool = False,
    found: Iterable[str] = (),
) -> None:
    """The whole answer for one result."""
    hang(out, "", _headline(result, system))
    _answer(out, result, system)
    for text in found:
        hang(out, "", text, style="bold")
    for line in drawing(result, out.width, system):
        if len(line) > out.width and line.isascii():
            hang(out, "", line)
        else:
            out.print(line)
    alone = [c for c in result.checks if c.method.basis == MAY_CARRY]
    _may_carry(out, alone, system)
    strength = [c for c in result.checks if c.method.basis not in (DETAILING, MAY_CARRY)]
    if strength:
        _methods_table(out, strength, system)
    _outside(out, strength, system)
    detailing = [c for c in result.checks if c.method.basis == DETAILING]
    if detailing:
        _details(out, detailing, system)
    _values(out, result, system)
    print_loads(result, out, system)
    if steps:
        print_steps(result.checks, out, system)
    print_cautions(result.cautions, out, system)


def _headline(result: Result, system: System) -> str:
    name = " ".join(part for part in (result.kind.replace("_", " "), result.id if result.id != "-" else "") if part)
    title = f" {result.title}" if result.title else ""
    about = respelt(printed(joined("; ", result.about.values()), system), system)
    return f"{name}{title}: {about}" if about else f"{name}{title}"


def _answer(out: Out, result: Result, system: System) -> None:
    worst = result.worst
    word, style = VERDICT[result.status], STYLE[result.status]
    if result.unjudged or worst is None:
        out.print(word, style=style)
        for reason in result.unjudged:
            hang(out, "", printed(reason, system), style="bold")
        return
    if worst.safety_factor is None:
        # nothing is carried, so nothing is said to hold
        out.print(
            "NO LOAD GIVEN   capacities only" if result.status == "ok" else f"{word}   no load given", style="bold"
        )
        return
    factors = f"safety factor {down(worst.safety_factor)}, required {up(worst.required_factor)}"
    for line in _broken(f"{word}   {factors} ({percent(worst.utilisation)} used)", max(out.width, 40)):
        out.print(line, style=style)
    hang(out, "", f"governed by {printed(worst.title, system)}, {worst.source} [{worst.key}]")


def _may_carry(out: Out, checks: list[Check], system: System) -> None:
    """The greatest load in each direction by itself, and what limits it."""
    if not checks:
        return
    out.print()
    out.print("It may carry, as a service load, in each direction by itself:")
    same: dict[tuple[str, str], list[str]] = {}
    for check in checks:
        size = _amount(check, "capacity", system) if check.capacity else "not judged"
        same.setdefault((size, printed(check.note, system)), []).append(check.title)
    for (size, note), titles in same.items():
        first, *more = titles
        where = ", ".join([first, *(title[0].lower() + title[1:] for title in more)])
        hang(out, "  ", f"{where}: {size}; {note}")


def _amount(check: Check, which: str, system: System) -> str:
    amount = getattr(check, which)
    if amount is None or amount.value is None:
        return "-"
    return show_in(amount.value, amount.unit, system, 4)


LEAST_TITLE = 18
"""Columns below which a method's name stands on a line of its own."""


def _methods_table(out: Out, checks: Iterable[Check], system: System) -> None:
    """Every method that applies, the hardest first; the name takes the room that the figures leave."""
    rows = [c for c in checks if c.status != "outside"]
    rows.sort(key=lambda c: (c.status == "info", -(c.utilisation if c.utilisation is not None else 0.0)))
    cells = [
        (
            check.per,
            _amount(check, "capacity", system),
            _amount(check, "demand", system),
            down(check.safety_factor),
            "info" if check.status == "info" else up(check.required_factor),
            percent(check.utilisation),
        )
        for check in rows
    ]
    least = {"per": 4, "carries": 7, "load": 6, "factor": 6, "needs": 5, "used": 5}
    sizes = {head: max([size, *(len(row[n]) for row in cells)]) for n, (head, size) in enumerate(least.items())}
    room = min(out.width, 100) - sum(sizes.values()) - len(sizes)
    out.print()
    if room < LEAST_TITLE:
        heads = {"": 1, **{head: size for head, size in sizes.items() if head != "per"}}
        lines = columns(heads, [("", *row[1:]) for row in cells])
        named = [[printed(check.title, system)] for check in rows]
    else:
        named = [_broken(printed(check.title, system), room) for check in rows]
        lines = columns(
            {"method": room, **sizes}, [(name[0], *row) for name, row in zip(named, cells)], left=("method", "per")
        )
    for line in lines[:2]:
        out.print(line)
    for check, name, line in zip(rows, named, lines[2:]):
        style = {"over": STYLE["over"], "info": "dim"}.get(check.status)
        for text in [*name, line] if room < LEAST_TITLE else [line, *name[1:]]:
            out.print(text, style=style)
    for check in rows:
        if check.note and check.status == "over":
            hang(out, f"{printed(check.title, system)}: ", printed(check.note, system))


def _broken(text: str, room: int) -> list[str]:
    """The text on lines of at most `room` characters, later ones indented."""
    from textwrap import wrap

    return wrap(text, width=room, subsequent_indent="  ") or [""]


def _outside(out: Out, checks: Iterable[Check], system: System) -> None:
    outside = [c for c in checks if c.status == "outside"]
    if outside:
        out.print()
        out.print("Outside their range, not used:", style="bold")
        together: dict[str, list[str]] = {}
        for check in outside:
            together.setdefault(check.note, []).append(printed(check.title, system))
        for note, titles in together.items():
            hang(out, f"  {'; '.join(titles)}: ", printed(note, system))


def _details(out: Out, checks: Iterable[Check], system: System) -> None:
    out.print()
    out.print("Detailing:", style="bold")
    for check in checks:
        word = {"ok": "ok   ", "over": "BREAKS", "outside": "unchecked", "info": "note "}[check.status]
        has, limit, bound = SIDES[check.method.bound]
        text = f"{_amount(check, has, system)}, {bound} {_amount(check, limit, system)}" if check.capacity else ""
        note = f"({printed(check.note, system)})" if check.note and check.status != "ok" else ""
        told = " ".join(part for part in (text, f"[{check.source}]", note) if part)
        hang(out, f"  {word} {printed(check.title, system)}: ", told, style=STYLE[check.status])


def _values(out: Out, result: Result, system: System) -> None:
    if not result.values:
        return
    out.print()
    pairs = []
    for name, amount in result.values.items():
        shown = "-" if amount.value is None else show_in(amount.value, amount.unit, system)
        pairs.append(f"{name.replace('_', ' ')} {shown}")
    hang(out, "", "; ".join(pairs))


_TIED = re.compile(r"(?<=[0-9]) (?=(?:%|°C|[a-zA-Z]{1,3})(?![a-zA-Z]))")
"""The blank between a number and its unit, where no line ends."""


def hang(out: Out, head: str, text: str, style: str = "") -> None:
    """A paragraph whose later lines stand under the first one's text."""
    width = max(out.width, 40)
    style_ = style if style and "green" not in style else None
    whole = unmarked(head + text)
    if 0 < len(whole) <= width and whole.isprintable():  # most lines of a long list: nothing to break
        out.print(whole.rstrip(), style=style_)
        return
    from textwrap import wrap

    # a measure still marked would be cut at the blank before its unit
    text = " ".join(_at_commas(word, width - 4) for word in whole.split(" "))
    lines = wrap(_TIED.sub("\u00a0", text), width=width, subsequent_indent="    ", break_long_words=False)
    for line in lines or [""]:
        out.print(line.replace("\u00a0", " "), style=style_)


def _at_commas(word: str, longest: int) -> str:
    """A word that fits no line, such as a long profile, with blanks after its commas."""
    return word if len(word) <= longest else word.replace(",", ", ")


MOST_LOADS = 12
"""Loads of an item that are listed; more are counted."""


def print_loads(result: Result, out: Out, system: System) -> None:
    """Of an item whose load follows from others: each load with its verdict, and the way of the one that governs."""
    if not result.loads:
        return
    out.print()
    out.print("Judged under these loads, the worst governs:", style="bold")
    for one in result.loads[:MOST_LOADS]:
        governs = f", {one.governing}" if one.governing else ""
        hang(out, f"  {percent(one.utilisation):>5}  ", f"{one.standing.name}; {one.standing.under}{governs}")
    if len(result.loads) > MOST_LOADS:
        out.print(f"  and {len(result.loads) - MOST_LOADS} more, none of them worse")
    out.print()
    out.print("How the load that governs has come:", style="bold")
    for station in result.loads[0].standing.way:
        source = (
            f" [{station.source}{', from memory' if station.status == 'from memory' else ''}]" if station.source else ""
        )
        hang(out, f"  {station.thing}: ", f"{printed(station.sentence, system)}{source}")


def print_steps(checks: Iterable[Check], out: Out, system: System = "metric") -> None:
    """The full working of every check: symbols, numbers, value, source.

    Formulas have their constants in N, mm, MPa, so every reader sees them with those numbers; a reader of inches is
    told each value in his units too.
    """
    out.print()
    more = "" if system == "metric" else "; the formulas are made for them, values follow in inch units"
    hang(out, "", f"Working (N, mm, MPa{more}):", style="bold")
    for check in checks:
        lines = check.steps()
        if not lines:
            continue
        hang(
            out,
            f"{printed(check.title, system)} ",
            f"[{check.key}] {check.method.basis}; factor: {check.method.factor}",
            style="bold",
        )
        for line in lines:
            unit = f" {line.unit}" if line.unit not in ("", "1") else ""
            value = f"{figures(line.value)}{unit}"
            told = f"{line.substituted} = {value}"
            if unit and system == "inch" and (here := show_in(line.value, line.unit, system)) != value:
                told += f" = {here}"
            hang(out, f"  {line.symbol} = {line.expression} = ", told)
            if line.source:
                hang(out, "      ", line.source, style="dim")


def print_cautions(cautions: Iterable[Caution], out: Out, system: System) -> None:
    """The cautions, gravest first."""
    out.print()
    for item in cautions:
        word, style = SEVERITY[item.severity]
        hang(out, f"{word}: ", printed(item.text, system), style=style if item.severity == "stop" else "")


def drawing(result: Result, width: int, system: System) -> list[str]:
    """A small drawing to scale; nothing for a result that is not of a kind, or has nothing to draw."""
    kind = BY_KEY.get(result.kind)
    if kind is None:
        return []
    draw: Callable[[Result, int, System], list[str]] = load(kind.sketch)
    return draw(result, width, system)
