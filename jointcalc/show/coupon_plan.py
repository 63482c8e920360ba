"""The plan of a project's coupons for a reader: stack by stack, what to make and what it must show."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Any

from jointcalc.check.coupon_plan import Planned
from jointcalc.quantity.sentence import printed
from jointcalc.quantity.show import System, show
from jointcalc.show import terminal
from jointcalc.version import VERSION

if TYPE_CHECKING:
    from jointcalc.show.terminal import Out

EXTREME = {
    "thinnest": "thinnest stack of its machine: make these first",
    "thickest": "thickest stack of its machine: make these first",
    "only": "only stack of its machine",
    "": "between the extremes",
}


def plan_document(title: str, planned: Iterable[Planned], files: Sequence[str]) -> dict[str, Any]:
    """The JSON of a plan, in N and mm."""

    def amount(value: float | None, unit: str) -> dict[str, Any] | None:
        return None if value is None else {"value": value, "unit": unit}

    return {
        "jointcalc": VERSION, "kind": "coupon_plan", "project": title,
        "stacks": [
            {
                "stack": str(one.label), "weld": one.weld, "items": list(one.items), "extreme": one.extreme,
                "coupons": [
                    {
                        "test": w.test, "count": w.count, "have": w.have, "missing": w.missing, "why": w.why,
                        "button": amount(w.button, "mm"), "load": amount(w.load, "N"),
                    }
                    for w in one.wanted
                ],
            }
            for one in planned
        ],
        "files": list(files),
    }  # fmt: skip


def print_plan(planned: Sequence[Planned], out: Out, system: System, files: Sequence[str], folder: str) -> None:
    """Every stack with its coupons, how many are in the log, and the marks they must pass."""
    for one in planned:
        name = "fused diameter" if one.weld == "plug" else "button"
        items = ", ".join(one.items[:8]) + (" ..." if len(one.items) > 8 else "")
        head = f"{printed(one.label, system)}, {one.weld} welds ({items}): {EXTREME[one.extreme]}"
        terminal.hang(out, "", head, style="bold")
        for w in one.wanted:
            marks = [] if w.button is None else [f"{name} at least {show(w.button, 'length', system, 3)}"]
            marks += [] if w.load is None else [f"load of each at least {show(w.load, 'force', system)}"]
            had = f", {w.have} in the log" if w.have else ""
            terminal.hang(out, f"  {w.count} {w.test}{had}: ", f"{'; '.join(marks)} ({w.why})")
        out.print()
    if not planned:
        terminal.hang(out, "", "No seams and no plugs in this project: nothing to peel or pull.")
    for line in (
        "Six of a kind are worth a factor, three are a screening; enter each with `coupons add`, failed ones too.",
        "A button of 4√t is the least that counts (AWS D8.1M, from memory); the floor of load is its quality level.",
    ):
        terminal.hang(out, "", line)
    if files:
        out.print(f"Wrote {len(files)} files to {folder}. Print the PDFs at 100 % and measure the bar on each page.")
