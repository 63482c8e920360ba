"""A result for the terminal: the answer first, then methods, detailing, cautions; 80 columns are enough."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from importlib import import_module
from math import floor
from typing import TYPE_CHECKING, Any

from jointcalc.quantity.show import System, figures, show_in
from jointcalc.result import DETAILING, Caution, Check, Result

if TYPE_CHECKING:
    from rich.console import Console

VERDICT = {"ok": "HOLDS", "over": "DOES NOT HOLD", "outside": "CANNOT BE JUDGED"}
STYLE = {"ok": "bold green", "over": "bold red", "outside": "bold yellow", "info": "dim"}
SEVERITY = {"stop": ("STOP", "bold red"), "warn": ("warn", "yellow"), "note": ("note", "dim")}

DRAWINGS: dict[str, tuple[str, str]] = {"spot_seam": ("jointcalc.show.seam", "draw")}
"""Kind of result -> (module, function) that draws it in the terminal: (result, width, system) -> lines."""


def down(value: float | None, places: int = 2) -> str:
    """A factor rounded down, never up; a dash when there is none."""
    if value is None:
        return "-"
    scale = 10**places if abs(value) < 100 else 1
    return f"{floor(value * scale + 1e-9) / scale:.{places if scale > 1 else 0}f}"


def up(value: float | None) -> str:
    """A required factor rounded up, never down; a dash when there is none."""
    return "-" if value is None else f"{-floor(-value * 100 + 1e-6) / 100:.2f}"


def percent(value: float | None) -> str:
    """A utilisation in percent, rounded up."""
    return "-" if value is None else f"{-floor(-value * 100 + 1e-7):d} %"


def console(width: int | None = None) -> Console:
    """The console answers are printed on; wrapped at the terminal's width, plain when piped."""
    from rich.console import Console

    return Console(width=width, highlight=False, soft_wrap=False, markup=False, emoji=False)


def print_result(
    result: Result,
    out: Console,
    *,
    system: System = "metric",
    steps: bool = False,
    found: Iterable[str] = (),
) -> None:
    """The whole answer for one result."""
    from rich.text import Text

    out.print(_headline(result))
    for line in _answer(result, system):
        out.print(line)
    for text in found:
        out.print(Text(text, style="bold"))
    for line in drawing(result, out.width, system):
        out.print(line)
    strength = [c for c in result.checks if c.method.basis != DETAILING]
    _methods_table(out, strength, system)
    _outside(out, strength)
    detailing = [c for c in result.checks if c.method.basis == DETAILING]
    if detailing:
        _details(out, detailing, system)
    _values(out, result, system)
    if steps:
        print_steps(result.checks, out)
    print_cautions(result.cautions, out)


def _headline(result: Result) -> Any:
    from rich.text import Text

    name = " ".join(part for part in (result.kind.replace("_", " "), result.id if result.id != "-" else "") if part)
    title = f" {result.title}" if result.title else ""
    about = "; ".join(result.about.values())
    return Text(f"{name}{title}: {about}" if about else f"{name}{title}")


def _answer(result: Result, system: System) -> list[Any]:
    from rich.text import Text

    worst = result.worst
    text = Text(VERDICT[result.status], style=STYLE[result.status])
    if result.unjudged:
        return [text, *(Text(reason) for reason in result.unjudged)]
    if worst is None:
        return [text]
    if worst.safety_factor is None:
        text.append("   no load given: capacities only", style="default")
        return [text]
    text.append(
        f"   safety factor {down(worst.safety_factor)}, required {up(worst.required_factor)}"
        f" ({percent(worst.utilisation)} used)",
        style="bold",
    )
    return [text, Text(f"governed by {worst.title}, {worst.source} [{worst.key}]")]


def _amount(check: Check, which: str, system: System) -> str:
    amount = getattr(check, which)
    if amount is None or amount.value is None:
        return "-"
    return show_in(amount.value, amount.unit, system, 4)


def _methods_table(out: Console, checks: Iterable[Check], system: System) -> None:
    from rich.box import SIMPLE_HEAD
    from rich.table import Table
    from rich.text import Text

    table = Table(box=SIMPLE_HEAD, pad_edge=False, padding=(0, 1), show_edge=False, collapse_padding=True)
    width = min(out.width, 100)
    sizes = {"per": 6, "carries": 10, "load": 10, "factor": 6, "needs": 5, "used": 5}
    table.add_column(
        "Method", no_wrap=True, overflow="ellipsis", width=max(12, width - sum(sizes.values()) - len(sizes) - 1)
    )
    for head, size in sizes.items():
        table.add_column(head, justify="left" if head == "per" else "right", no_wrap=True, width=size)
    rows = [c for c in checks if c.status != "outside"]
    rows.sort(key=lambda c: (c.status == "info", -(c.utilisation if c.utilisation is not None else 0.0)))
    for check in rows:
        needs = "info" if check.status == "info" else up(check.required_factor)
        used = Text(percent(check.utilisation), style=STYLE[check.status] if check.status == "over" else "")
        table.add_row(
            Text(check.title),
            check.per,
            _amount(check, "capacity", system),
            _amount(check, "demand", system),
            down(check.safety_factor),
            needs,
            used,
            style="dim" if check.status == "info" else None,
        )
    out.print()
    out.print(table)
    for check in rows:
        if check.note and check.status == "over":
            _hang(out, f"{check.title}: ", check.note)


def _outside(out: Console, checks: Iterable[Check]) -> None:
    outside = [c for c in checks if c.status == "outside"]
    if outside:
        out.print()
        out.print("Outside their range, not used:", style="bold")
        together: dict[str, list[str]] = {}
        for check in outside:
            together.setdefault(check.note, []).append(check.title)
        for note, titles in together.items():
            _hang(out, f"  {'; '.join(titles)}: ", note)


def _details(out: Console, checks: Iterable[Check], system: System) -> None:
    out.print()
    out.print("Detailing:", style="bold")
    for check in checks:
        word = {"ok": "ok   ", "over": "BREAKS", "outside": "unchecked", "info": "note "}[check.status]
        is_maximum = check.method.key in ("detail.stack-ratio", "detail.stack-total", "detail.pitch-max")
        has, limit = ("demand", "capacity") if is_maximum else ("capacity", "demand")
        bound = "at most" if is_maximum else "at least"
        text = f"{_amount(check, has, system)}, {bound} {_amount(check, limit, system)}" if check.capacity else ""
        note = f" ({check.note})" if check.note and check.status != "ok" else ""
        _hang(out, f"  {word} {check.title}: ", f"{text} [{check.source}]{note}", style=STYLE[check.status])


def _values(out: Console, result: Result, system: System) -> None:
    if not result.values:
        return
    out.print()
    pairs = []
    for name, amount in result.values.items():
        shown = "-" if amount.value is None else show_in(amount.value, amount.unit, system)
        pairs.append(f"{name.replace('_', ' ')} {shown}")
    _hang(out, "", "; ".join(pairs))


def _hang(out: Console, head: str, text: str, style: str = "") -> None:
    """A paragraph whose later lines stand under the first one's text."""
    from textwrap import wrap

    lines = wrap(head + text, width=max(out.width, 40), subsequent_indent="    ", break_long_words=False)
    for line in lines or [""]:
        out.print(line, style=style if style and "green" not in style else None)


def print_steps(checks: Iterable[Check], out: Console) -> None:
    """The full working of every check: symbols, numbers, value, source."""
    out.print()
    out.print("Working (N, mm, MPa):", style="bold")
    for check in checks:
        lines = check.steps()
        if not lines:
            continue
        _hang(
            out, f"{check.title} ", f"[{check.key}] {check.method.basis}; factor: {check.method.factor}", style="bold"
        )
        for line in lines:
            unit = f" {line.unit}" if line.unit not in ("", "1") else ""
            _hang(out, f"  {line.symbol} = {line.expression} = ", f"{line.substituted} = {figures(line.value)}{unit}")
            if line.source:
                _hang(out, "      ", line.source, style="dim")


def print_cautions(cautions: Iterable[Caution], out: Console) -> None:
    """The cautions, gravest first."""
    out.print()
    for item in cautions:
        word, style = SEVERITY[item.severity]
        _hang(out, f"{word}: ", item.text, style=style if item.severity == "stop" else "")


def drawing(result: Result, width: int, system: System) -> list[str]:
    """A small drawing to scale, or nothing when the kind has none."""
    place = DRAWINGS.get(result.kind)
    if place is None:
        return []
    draw: Callable[[Result, int, System], list[str]] = getattr(import_module(place[0]), place[1])
    return draw(result, width, system)


def print_summary(
    results: Iterable[Result], out: Console, cautions: Iterable[Caution], about: Mapping[str, str]
) -> None:
    """A project's answer: one line an item, worst first where it matters, then the cautions once."""
    from rich.box import SIMPLE_HEAD
    from rich.table import Table
    from rich.text import Text

    results = list(results)
    for label, text in about.items():
        _hang(out, f"{label}: ", text)
    table = Table(box=SIMPLE_HEAD, pad_edge=False, padding=(0, 1), show_edge=False)
    table.add_column("Item", no_wrap=True)
    table.add_column("what", ratio=1, no_wrap=True, overflow="ellipsis")
    table.add_column("verdict", no_wrap=True)
    table.add_column("factor", justify="right", no_wrap=True)
    table.add_column("needs", justify="right", no_wrap=True)
    table.add_column("used", justify="right", no_wrap=True)
    table.add_column("governed by", no_wrap=True, overflow="ellipsis", max_width=28)
    for result in results:
        worst = result.worst
        what = result.title or "; ".join(result.about.values()) or result.kind
        table.add_row(
            result.id,
            what,
            Text(VERDICT[result.status].lower(), style=STYLE[result.status]),
            down(worst.safety_factor) if worst else "-",
            up(worst.required_factor) if worst else "-",
            percent(worst.utilisation) if worst else "-",
            worst.key if worst else "-",
        )
    out.print(table, width=min(out.width, 120))
    counts = {word: sum(r.status == word for r in results) for word in ("ok", "over", "outside")}
    told = [f"{counts['ok']} hold"]
    if counts["over"]:
        told.append(f"{counts['over']} do not hold")
    if counts["outside"]:
        told.append(f"{counts['outside']} cannot be judged")
    out.print()
    out.print(f"{len(results)} items: " + ", ".join(told), style="bold")
    for result in results:
        if result.status != "ok":
            worst = result.worst
            over = [c for c in result.checks if c.status == "over"] or [
                c for c in result.checks if c.status == "outside"
            ]
            for check in over[:3]:
                why = check.note or f"{percent(check.utilisation)} used"
                _hang(out, f"  {result.id}: {check.title}: ", why)
    print_cautions(cautions, out)
