"""Panels side by side: one table, the beads to scale in the terminal."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from itertools import pairwise
from math import ceil, hypot
from typing import TYPE_CHECKING

from jointcalc.check.panel import bead_verdict, surface
from jointcalc.model.panel import Panel
from jointcalc.quantity.sentence import printed
from jointcalc.quantity.show import System, respelt, show_in
from jointcalc.result import Result
from jointcalc.show import terminal
from jointcalc.show.candidates import LENGTHS, Column, columns_of, letter, print_candidates, rows_of
from jointcalc.show.canvas import Canvas
from jointcalc.show.contour import Seen, pictures
from jointcalc.statics.bead import Bead, path

if TYPE_CHECKING:
    from jointcalc.show.terminal import Out

PITCHES_SHOWN = 2
MOST_DOTS_PER_MM = 4.0
INDENT = 3
SEEN_FROM = 0.02
"""Part of the thickness from which what stays is drawn."""

COLUMNS = (
    Column("mass", 6, "mass_per_area", {"metric": ("kg/m²", 1.0), "inch": ("lb/ft²", 0.09290304 / 0.45359237)}),
    Column("stiff", 6, "stiffness_ratio_same_mass", {"metric": ("x flat", 1.0), "inch": ("x flat", 1.0)}),
    Column("deflects", 8, "deflection_yielding", LENGTHS),
    Column("limit", 6, "", LENGTHS, sparse=True),
    Column("stays", 7, "permanent_set", LENGTHS),
    Column("freq", 6, "frequency_1", {"metric": ("Hz", 1.0), "inch": ("Hz", 1.0)}),
)
"""The comparison."""


def _amount(result: Result, column: Column) -> float | None:
    if column.head == "limit":
        limit = next((c for c in result.checks if c.method.key == "limit.panel-deflection"), None)
        return None if limit is None or limit.capacity is None else limit.capacity.value
    found = result.values.get(column.name)
    return None if found is None else found.value


def table(results: Sequence[Result], system: System, width: int = 100) -> list[str]:
    """The comparison: deflection and what stays as they are judged, each beside its limit where it has one."""
    shown = columns_of(results, COLUMNS, _amount)
    heads = {"": 3, **{column.head: column.width for column in shown}, "bead": 8}
    strains = ["strain", *(bead_verdict(result) or "-" for result in results)]
    rows = [[*row, strain] for row, strain in zip(rows_of(results, shown, system, _amount), strains, strict=True)]
    return terminal.in_blocks(heads, rows, width)


LEGEND = (
    "stiff: along the beads, against flat sheet of the same mass; stays: what is left when the load is gone; "
    "freq: first frequency; bead strain: whether the bead can be rolled"
)


def _best(results: Sequence[Result]) -> str:
    """The lightest candidate that holds, in a sentence."""
    holding = [(r.values["mass_per_area"].value or 0.0, n) for n, r in enumerate(results) if r.status == "ok"]
    if not holding:
        return "None of them holds." if len(results) > 1 else ""
    if len(results) == 1:
        return ""
    least = min(holding)[0]
    best = [letter(n) for mass, n in holding if mass <= least * (1 + 1e-6)]
    return f"Lightest that holds: {', '.join(best)}."


# --- profiles to scale --------------------------------------------------------------------------------------


def profile(panel: Panel, scale: float, shown: float, bead: Bead | None = None) -> list[str]:
    """The sheet across its beads, `shown` mm of it, at `scale` dots per mm; `bead` for others than the first."""
    bead, t = bead or panel.pattern, panel.sheet.thickness
    if bead is None:
        line = [(0.0, 0.0), (shown, 0.0)]
        high = 0.0
    else:
        one = path(bead, panel.sheet.t)
        line, high = [], bead.depth
        for n in range(ceil(shown / bead.pitch)):
            line += [(x + (n + 0.5) * bead.pitch, z) for x, z in one]
    canvas = Canvas(ceil(shown * scale) + 1, ceil((high + t) * scale) + 1)
    layers = max(1, round(t * scale))
    for (x_1, z_1), (x_2, z_2) in pairwise(line):
        count = max(1, ceil(hypot(x_2 - x_1, z_2 - z_1) * scale * 2))
        for k in range(count + 1):
            x, z = x_1 + (x_2 - x_1) * k / count, z_1 + (z_2 - z_1) * k / count
            if x <= shown:
                canvas.dots((x * scale, z * scale + layer) for layer in range(layers))
    lines = canvas.lines()
    return lines[next((n for n, row in enumerate(lines) if row), 0) :]


def profiles(panels: Sequence[tuple[str, Panel]], width: int, system: System) -> list[str]:
    """The profiles below each other at one scale, each beside its name."""
    widest = max([PITCHES_SHOWN * bead.pitch for _, p in panels for _, bead in p.beads] or [100.0])
    room = 2 * (min(width, 100) - INDENT - 2)
    scale = min(room / widest, MOST_DOTS_PER_MM)
    lines = []
    for name, panel in panels:
        cuts: list[tuple[str, Bead | None, float]] = [(name, panel.pattern, panel.across_beads)]
        cuts += [(f"{name}+", panel.cross, panel.along_beads)] if panel.cross is not None else []
        for head, bead, side in cuts:
            drawn = profile(panel, scale, min(widest, side), bead)
            lines += [
                head.ljust(INDENT) + row if n == len(drawn) - 1 else " " * INDENT + row for n, row in enumerate(drawn)
            ]
    shown = [p for _, p in panels if p.pattern is not None]
    if shown:
        second = "; + across those that cross them" if any(p.cross is not None for p in shown) else ""
        lines.append(f"{' ' * INDENT}{show_in(widest, 'mm', system, 3)} across the beads, to scale{second}")
    return [line.rstrip() for line in lines]


def draw(result: Result, width: int, system: System) -> list[str]:
    """The profile of one beaded panel, to scale, and its shape under load."""
    panel = result.model
    if not isinstance(panel, Panel):
        return []
    section = [] if panel.pattern is None else profiles([("", panel)], min(width, 80), system)
    return [*section, *shape(panel, width, system)]


# --- the shape under load -------------------------------------------------------------------------------------


def shape(panel: Panel, width: int, system: System) -> list[str]:
    """The deflection from above, and what stays of it where anything worth seeing does."""
    found = surface(panel)
    if found is None:
        return []
    seen = [Seen("Deflects", found.x, found.y, found.yielding, panel.bead_places, panel.cross_places)]
    if abs(found.stays).max() > SEEN_FROM * panel.sheet.t:
        seen.append(Seen("Stays", found.x, found.y, found.stays, panel.bead_places, panel.cross_places))
    return pictures(seen, width, system)


# --- the whole answer -------------------------------------------------------------------------------------------


def print_comparison(
    results: Sequence[Result],
    out: Out,
    *,
    system: System = "metric",
    steps: bool = False,
    full: bool = False,
    cautions: bool = False,
    found: Sequence[str] = (),
) -> None:
    """The candidates, the comparison, the profiles; then the verdict of each, last, where it stays in sight.

    A single candidate, or with `full` each, is told with its methods and rules.
    """
    alone = len(results) == 1
    first = results[0].about
    head = printed(f"panel: {first.get('panel', '')}; {first.get('loads', '')}", system)
    terminal.hang(out, "", head, style="bold")
    panels = [(letter(n), r.model) for n, r in enumerate(results) if isinstance(r.model, Panel)]
    for n, result in enumerate(results):
        sheet, bead = printed(result.about.get("sheet", ""), system), result.about.get("bead", "")
        terminal.hang(out, f"{letter(n):{INDENT}}", f"{sheet}, {respelt(bead, system)}")
    out.print()
    for line in table(results, system, max(out.width, 40)):
        out.print(line)
    terminal.hang(out, "", LEGEND, style="dim")
    out.print()
    for line in profiles(panels, out.width, system):
        out.print(line)
    if alone and (lines := shape(panels[0][1], out.width, system)):
        out.print()
        for line in lines:
            (out.print if len(line) <= out.width else partial(terminal.hang, out, ""))(line)
    titles = [result.title or respelt(result.about.get("bead", ""), system) for result in results]
    sentences = [*found, *([best] if (best := _best(results)) else [])]
    print_candidates(results, titles, out, system, sentences, steps=steps, full=full, cautions=cautions)
