"""The whole answer for one result: what it is, its methods, and the verdict at the end, where it stays in sight."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from jointcalc.quantity.sentence import joined, printed
from jointcalc.quantity.show import System
from jointcalc.result import MAY_CARRY, Result
from jointcalc.show.ending import print_ending, print_other_cautions, print_verdict
from jointcalc.show.terminal import drawing, hang, print_checks, print_loads, print_may_carry, print_steps, print_values

if TYPE_CHECKING:
    from jointcalc.show.terminal import Out


def print_result(
    result: Result,
    out: Out,
    *,
    system: System = "metric",
    steps: bool = False,
    full: bool = False,
    cautions: bool = False,
    found: Iterable[str] = (),
) -> None:
    """The answer for one result; the verdict stands at its end, where it stays in sight.

    Without `full` it fits a screen: the methods that are nearest to their limit, the rules that are broken, and what
    was left out by name.  `cautions` prints the cautions in full.
    """
    hang(out, "", _headline(result, system))
    for line in drawing(result, out.width, system):
        if len(line) > out.width and line.isascii():
            hang(out, "", line)
        else:
            out.print(line)
    alone = [c for c in result.checks if c.method.basis == MAY_CARRY]
    print_may_carry(out, alone, system)
    left_out = print_checks([c for c in result.checks if c.method.basis != MAY_CARRY], out, system, full=full)
    left_out += print_values(out, result, system, full=full)
    print_loads(result, out, system, full=full)
    if result.loads and not full:
        left_out.append("how the load has come")
    if steps:
        print_steps(result.checks, out, system)
    if full or cautions:
        print_other_cautions(result.cautions, out, system)
    out.print()
    for text in found:
        hang(out, "", text, style="bold")
    print_verdict(result, out, system)
    print_ending(result.cautions, out, system, full=full or cautions, left_out=left_out)


def _headline(result: Result, system: System) -> str:
    name = " ".join(part for part in (result.kind.replace("_", " "), result.id if result.id != "-" else "") if part)
    title = f" {result.title}" if result.title else ""
    about = printed(joined("; ", result.about.values()), system)
    return f"{name}{title}: {about}" if about else f"{name}{title}"
