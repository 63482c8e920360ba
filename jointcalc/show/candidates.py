"""Candidates side by side: what comes behind their table, alike for braces and panels."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from jointcalc.quantity.sentence import printed
from jointcalc.quantity.show import System
from jointcalc.result import DETAILING, Result
from jointcalc.show import terminal
from jointcalc.show.ending import print_end

if TYPE_CHECKING:
    from jointcalc.show.terminal import Out


def letter(n: int) -> str:
    """Name of the n-th candidate: A, B, ... Z, A1, B1, ..."""
    return chr(ord("A") + n % 26) + (str(n // 26) if n >= 26 else "")


def print_candidates(
    results: Sequence[Result],
    titles: Sequence[str],
    out: Out,
    system: System,
    found: Iterable[str],
    *,
    steps: bool,
    full: bool,
    cautions: bool,
) -> None:
    """The methods of a single candidate, or with `full` of each under its title; workings; the verdicts last."""
    alone = len(results) == 1
    left_out: list[str] = []
    for n, result in enumerate(results if full or alone else ()):
        if not alone:
            out.print()
            out.print(f"{letter(n)}  {titles[n]}".rstrip(), style="bold")
        if "cell" in result.about and full:
            terminal.hang(out, "", printed(result.about["cell"], system))
        left_out += terminal.print_checks(result.checks, out, system, full=full)
        if full:
            for check in (c for c in result.checks if c.status == "info" and c.note and c.method.basis != DETAILING):
                terminal.hang(out, f"  {printed(check.title, system)}: ", printed(check.note, system))
        if alone:
            left_out += terminal.print_values(out, result, system, full=full)
    for n, result in enumerate(results if steps else ()):
        if not alone:
            out.print()
            out.print(letter(n), style="bold")
        terminal.print_steps(result.checks, out, system)
    names = [letter(n) for n in range(len(results))]
    print_end(results, names, out, system, left_out, found, full=full, cautions=cautions)
