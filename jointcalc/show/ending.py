"""The end of an answer, which stays in sight: the verdict, what gives way, what stops the work, cautions counted."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from jointcalc.quantity.sentence import printed
from jointcalc.quantity.show import System, percent
from jointcalc.result import Caution, Check, Result, collect
from jointcalc.result.plain import plain
from jointcalc.show.terminal import SEVERITY, STYLE, VERDICT, broken, down, hang, print_cautions, up

if TYPE_CHECKING:
    from jointcalc.show.terminal import Out

MOST_ALSO = 3
"""Further checks that are over and told; more are counted."""


def print_verdict(result: Result, out: Out, system: System) -> None:
    """The verdict, what gives way first in the words of the shop, the method that says so, and what else is over."""
    worst = result.worst
    word, style = VERDICT[result.status], STYLE[result.status]
    if result.unjudged or worst is None:
        out.print(word, style=style)
        for reason in result.unjudged:
            hang(out, "", printed(reason, system), style="bold")
    elif worst.safety_factor is None:
        # nothing is carried, so nothing is said to hold
        out.print(
            "NO LOAD GIVEN   capacities only" if result.status == "ok" else f"{word}   no load given", style="bold"
        )
        return
    else:
        factors = f"safety factor {down(worst.safety_factor)}, required {up(worst.required_factor)}"
        used = f"{percent(worst.utilisation)} used{' at most' if worst.goes_on else ''}"
        for line in broken(f"{word}   {factors} ({used})", max(out.width, 40)):
            out.print(line, style=style)
    if worst is not None and worst.safety_factor is not None and (not result.unjudged or worst.status == "over"):
        word = "gives way" if worst.status == "over" else "first to give"
        word = "followed no further, what would give is" if worst.goes_on else word
        mark = f" ({worst.provenance})" if worst.provenance in ("from memory", "second-hand") else ""
        hang(out, f"{word}: ", f"{plain(worst)}", style="bold")
        hang(out, "by ", f"{printed(worst.title, system)}, {worst.source} [{worst.key}]{mark}")
    if also := also_over(result):
        hang(out, "also over: ", also)


SHORT = {"ok": "holds", "over": "OVER", "outside": "NOT JUDGED"}
NARROW = 60
"""Columns below which the factors are left out of a table of verdicts."""


def print_verdicts(results: Sequence[Result], names: Sequence[str], out: Out, system: System) -> None:
    """A line for each of several candidates: verdict, what is used, factor, what it needs, what gives way first."""
    narrow = out.width < NARROW
    head = f"{'':3} {'':10} {'used':>6}" + ("" if narrow else f" {'factor':>6} {'needs':>5}")
    out.print(head if narrow else f"{head}  first to give")
    out.print("─" * min(max(out.width, 40), len(head) + (0 if narrow else 2 + 32)))
    for name, result in zip(names, results, strict=True):
        worst = result.worst
        told = worst is not None and worst.safety_factor is not None and result.status != "outside"
        used = percent(worst.utilisation) if worst is not None and told else "-"
        cells = f"{name:3} {SHORT[result.status]:10} {used:>6}"
        if not narrow:
            factors = (down(worst.safety_factor), up(worst.required_factor)) if worst is not None and told else "--"
            cells += f" {factors[0]:>6} {factors[1]:>5}"
        words = [printed(text, system) for text in result.unjudged]
        if worst is not None and (told or worst.status == "over"):
            words.insert(0, plain(worst))
        elif worst is not None and worst.safety_factor is None and not words:
            words.append("no load given")
        text = "; ".join(words)
        style = STYLE[result.status]
        if narrow:
            out.print(cells.rstrip(), style=style)
            hang(out, " " * 4, text, style=style)
        else:
            hang(out, f"{cells}  ", text, style=style, indent=len(cells) + 2)


def also_over(result: Result) -> str:
    """What else is over, in the words of the shop, each once, the worst first; empty when nothing is."""
    worst = result.worst
    over = [c for c in result.checks if c.status == "over" and c is not worst]
    over.sort(key=lambda c: -(float("inf") if c.utilisation is None else c.utilisation))
    told: dict[str, Check] = {}
    for check in over:
        if worst is None or plain(check) != plain(worst):
            told.setdefault(plain(check), check)
    shown = [f"{words}{_used(check)}" for words, check in list(told.items())[:MOST_ALSO]]
    more = len(told) - len(shown)
    return "; ".join([*shown, *([f"and {more} more"] if more > 0 else [])])


def _used(check: Check) -> str:
    return "" if check.utilisation is None else f", {percent(check.utilisation)}"


def print_ending(
    cautions: Iterable[Caution], out: Out, system: System, *, full: bool, left_out: Sequence[str] = ()
) -> None:
    """What stops the work and what was asked for in full, the other cautions by their subjects, and what was left out.

    With `full` the other cautions have been printed before.
    """
    cautions = list(cautions)
    for one in cautions:
        if one.stands:
            word, style = SEVERITY[one.severity]
            hang(out, f"{word}: ", printed(one.text, system), style=style)
    others = list(dict.fromkeys(one.short for one in cautions if not one.stands))
    if others and not full:
        count = sum(not one.stands for one in cautions)
        words = "caution" if count == 1 else "cautions"
        hang(out, f"{count} {words} (--cautions tells them): ", "; ".join(others))
    if left_out:
        hang(out, "--full adds ", ", ".join(left_out), style="dim")


def print_other_cautions(cautions: Iterable[Caution], out: Out, system: System) -> None:
    """All cautions but those that stand at the end in full."""
    others = [one for one in cautions if not one.stands]
    if others:
        print_cautions(others, out, system)


def print_end(
    results: Sequence[Result],
    names: Sequence[str],
    out: Out,
    system: System,
    left_out: Sequence[str],
    found: Iterable[str],
    *,
    full: bool,
    cautions: bool,
) -> None:
    """The end of a comparison: cautions where asked for, what a search found, the verdicts, what stops the work."""
    raised = collect(c for r in results for c in r.cautions)
    if full or cautions:
        print_other_cautions(raised, out, system)
    out.print()
    for text in found:
        hang(out, "", text, style="bold")
    if len(results) == 1:
        print_verdict(results[0], out, system)
    else:
        print_verdicts(results, names, out, system)
        left_out = [] if full else ["the methods, rules and values of each"]
    print_ending(raised, out, system, full=full or cautions, left_out=left_out)
