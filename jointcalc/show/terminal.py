"""Parts of an answer for the terminal: methods, distances, values, loads, working, cautions; 80 columns are enough."""

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
from jointcalc.quantity.sentence import printed
from jointcalc.quantity.show import System, figures, percent, show_in
from jointcalc.registry import BY_KEY, load
from jointcalc.result import DETAILING, SIDES, Caution, Check, Result
from jointcalc.result.plain import meanings


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


MOST_FACTOR = 1000.0


def down(value: float | None, places: int = 2) -> str:
    """A factor rounded down, never up; beyond all sense (next to no load) `> 1000`; a dash when there is none."""
    if value is None:
        return "-"
    if value > MOST_FACTOR:
        return f"> {MOST_FACTOR:.0f}"
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


def in_blocks(heads: Mapping[str, int], rows: Sequence[Sequence[str]], width: int, first: int = 1) -> list[str]:
    """A table as `columns` makes it; one too wide for `width` in blocks below each other, its first column in each."""
    names = list(heads)
    lines: list[str] = []
    at = first
    while at < len(names):
        block, used = list(range(first)), sum(heads[n] + 1 for n in names[:first]) - 1
        while at < len(names) and (len(block) == first or used + 1 + heads[names[at]] <= width):
            used += 1 + heads[names[at]]
            block.append(at)
            at += 1
        if lines:
            lines.append("")
        lines += columns({names[n]: heads[names[n]] for n in block}, [[row[n] for n in block] for row in rows], left="")
    return lines


def print_checks(checks: Iterable[Check], out: Out, system: System, *, full: bool) -> list[str]:
    """The methods, what is outside its range, the distances; what was left out without `full`, in words."""
    checks = list(checks)
    strength = [c for c in checks if c.method.basis != DETAILING]
    detailing = [c for c in checks if c.method.basis == DETAILING]
    left_out = _methods_table(out, strength, system, full=full) if strength else []
    outside = [c for c in strength if c.status == "outside"]
    if full:
        _outside(out, outside, system)
    elif outside:
        left_out.append(f"{len(outside)} outside their range")
    told = detailing if full else [c for c in detailing if c.status in ("over", "outside")]
    if told:
        _details(out, told, system)
    if len(told) < len(detailing):
        rules = len(detailing) - len(told)
        left_out.append(f"{rules} rule{'s' if rules != 1 else ''} kept")
    return left_out


def print_may_carry(out: Out, checks: list[Check], system: System) -> None:
    """The greatest load in each direction by itself, and what limits it."""
    if not checks:
        return
    out.print()
    hang(out, "", "It may carry, as a service load, in each direction by itself:")
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
MOST_METHODS, MOST_OVER = 8, 12
"""Methods in a table that fits a screen, and how many where more of them are over."""
LEGEND = "factor = carries / load; needs: the factor that the method asks for; used = needs / factor"


def _methods_table(out: Out, checks: Iterable[Check], system: System, *, full: bool) -> list[str]:
    """Every method that applies, the hardest first; the name takes the room that the figures leave.

    Without `full` the hardest only; what was left out, in words.
    """
    every = [c for c in checks if c.status != "outside"]
    every.sort(key=lambda c: (c.status == "info", -(c.utilisation if c.utilisation is not None else 0.0)))
    if not every:
        return []
    rows = (
        every
        if full
        else [c for n, c in enumerate(_telling(every)) if n < (MOST_OVER if c.status == "over" else MOST_METHODS)]
    )
    cells = [
        (
            check.per,
            _side(check, "capacity", system),
            _side(check, "demand", system),
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
        named = [broken(printed(check.title, system), max(out.width, 40)) for check in rows]
    else:
        named = [broken(printed(check.title, system), room) for check in rows]
        lines = columns(
            {"method": room, **sizes}, [(name[0], *row) for name, row in zip(named, cells)], left=("method", "per")
        )
    for line in lines[:2]:
        out.print(line)
    for check, name, line in zip(rows, named, lines[2:]):
        style = {"over": STYLE["over"], "info": "dim"}.get(check.status)
        for text in [*name, line] if room < LEAST_TITLE else [line, *name[1:]]:
            out.print(text, style=style)
    hang(out, "", LEGEND, style="dim")
    told = meanings("\n".join(str(check.title) for check in rows))
    if told:
        hang(out, "", "; ".join(f"{word}: {meaning}" for word, meaning in told.items()), style="dim")
    for check in rows if full else rows[:1]:
        if check.note and check.status == "over":
            hang(out, f"{printed(check.title, system)}: ", printed(check.note, system))
    left = len(every) - len(rows)
    over = sum(c.status == "over" for c in every) - sum(c.status == "over" for c in rows)
    if not left:
        return []
    return [f"{left} more method{'s' if left != 1 else ''}" + (f" ({over} of them over)" if over else "")]


def _telling(checks: list[Check]) -> list[Check]:
    """Those that judge a load; all where none does."""
    return [c for c in checks if c.status != "info" and c.utilisation] or checks


def _side(check: Check, which: str, system: System) -> str:
    """Capacity or demand; a sum of utilisations in percent of what it may be, for it is nothing that is carried."""
    amount = getattr(check, which)
    if (
        amount is not None
        and amount.value is not None
        and amount.unit == "1"
        and check.method.basis.startswith("sum of")
    ):
        return percent(amount.value)
    return _amount(check, which, system)


def broken(text: str, room: int) -> list[str]:
    """The text on lines of at most `room` characters, later ones indented."""
    from textwrap import wrap

    return wrap(text, width=room, subsequent_indent="  ") or [""]


def _outside(out: Out, checks: Iterable[Check], system: System) -> None:
    outside = list(checks)
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


MOST_VALUES = 24
"""Values that are told without being asked for; a list of more is left out."""


def print_values(out: Out, result: Result, system: System, *, full: bool) -> list[str]:
    """The named numbers of a result; a long list only with `full`, else what was left out, in words."""
    if not result.values:
        return []
    if not full and len(result.values) > MOST_VALUES:
        return [f"{len(result.values)} values"]
    out.print()
    pairs = []
    for name, amount in result.values.items():
        shown = "-" if amount.value is None else show_in(amount.value, amount.unit, system)
        pairs.append(f"{name.replace('_', ' ')} {shown}")
    hang(out, "", "; ".join(pairs))
    return []


_TIED = re.compile(r"(?<=[0-9]) (?=(?:%|°C|[a-zA-Z]{1,3})(?![a-zA-Z])|[0-9]{3}(?![0-9]))")
"""The blank between a number and its unit, or inside a number, where no line ends."""


def filled(text: str, width: int, indent: int = 0) -> list[str]:
    """The text on lines of at most `width` characters, later ones indented; no word and no measure is cut."""
    from textwrap import wrap

    text = " ".join(_at_commas(word, width - indent) for word in text.split(" "))
    lines = wrap(
        _TIED.sub("\u00a0", text), width=width, subsequent_indent=" " * indent, break_long_words=False,
        break_on_hyphens=False,
    )  # fmt: skip
    return [line.replace("\u00a0", " ") for line in lines] or [""]


def hang(out: Out, head: str, text: str, style: str = "", indent: int = 4) -> None:
    """A paragraph whose later lines are indented."""
    width = max(out.width, 40)
    style_ = style if style and "green" not in style else None
    whole = unmarked(head + text)
    if 0 < len(whole) <= width and whole.isprintable():  # most lines of a long list: nothing to break
        out.print(whole.rstrip(), style=style_)
        return
    # a measure still marked would be cut at the blank before its unit
    for line in filled(whole, width, indent):
        out.print(line, style=style_)


def _at_commas(word: str, longest: int) -> str:
    """A word that fits no line, such as a long profile, with blanks after its commas."""
    return word if len(word) <= longest else word.replace(",", ", ")


MOST_LOADS = 12
"""Loads of an item that are listed; more are counted."""
MOST_LOADS_SHORT = 3


def print_loads(result: Result, out: Out, system: System, *, full: bool = True) -> None:
    """Of an item whose load follows from others: each load with its verdict, and the way of the one that governs.

    Without `full` the worst of them, and not their way.
    """
    if not result.loads or (not full and (kind := BY_KEY.get(result.kind)) is not None and kind.tells_loads):
        return
    out.print()
    hang(out, "", "Judged under these loads, the worst governs:", style="bold")
    most = MOST_LOADS if full else MOST_LOADS_SHORT
    for one in result.loads[:most]:
        governs = f", {one.governing}" if one.governing else ""
        hang(out, f"  {percent(one.utilisation):>5}  ", f"{one.standing.name}; {one.standing.under}{governs}")
    if len(result.loads) > most:
        out.print(f"  and {len(result.loads) - most} more, none of them worse")
    if not full:
        return
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
