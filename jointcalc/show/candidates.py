"""Candidates side by side: their table, and what comes behind it, alike for braces and panels."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from jointcalc.quantity.sentence import printed
from jointcalc.quantity.show import System, figures
from jointcalc.result import DETAILING, Result
from jointcalc.show import terminal
from jointcalc.show.ending import print_end

if TYPE_CHECKING:
    from jointcalc.show.terminal import Out


def letter(n: int) -> str:
    """Name of the n-th candidate: A, B, ... Z, A1, B1, ..."""
    return chr(ord("A") + n % 26) + (str(n // 26) if n >= 26 else "")


@dataclass(frozen=True, slots=True)
class Column:
    """A column of the comparison: heading, width, the value it shows and (unit, factor) by system.

    One that is `sparse` is left out where no candidate has its value.
    """

    head: str
    width: int
    name: str
    units: Mapping[System, tuple[str, float]]
    sparse: bool = False


LENGTHS: Mapping[System, tuple[str, float]] = {"metric": ("mm", 1.0), "inch": ("in", 1 / 25.4)}
"""Unit and factor of a length in millimetres."""

Amounts = Callable[[Result, Column], float | None]
"""What a column shows of a candidate, in the unit of its value."""


def columns_of(results: Sequence[Result], columns: Iterable[Column], amount: Amounts) -> list[Column]:
    """The columns that say something of these candidates."""
    return [c for c in columns if not c.sparse or any(amount(r, c) is not None for r in results)]


def rows_of(
    results: Sequence[Result],
    columns: Sequence[Column],
    system: System,
    amount: Amounts,
    before: Callable[[Result, Column], str] = lambda result, column: "",
) -> list[list[str]]:
    """The line of units, then a line for each candidate under its letter; `before` is a mark in front of a number."""
    rows = [["", *(c.units[system][0] for c in columns)]]
    for n, result in enumerate(results):
        cells = [letter(n)]
        for column in columns:
            value = amount(result, column)
            shown = "" if value is None else figures(value * column.units[system][1], 3)
            cells.append(before(result, column) + shown if shown else "-")
        rows.append(cells)
    return rows


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
