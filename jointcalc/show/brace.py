"""Braces side by side: one table, sections to scale in the terminal, a plot for the bench."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from io import BytesIO
from math import ceil
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from jointcalc.check.brace import bends_elastically
from jointcalc.explore.brace import Choice, deflection_line
from jointcalc.files import write_file
from jointcalc.model.brace import Brace
from jointcalc.quantity.sentence import joined, printed
from jointcalc.quantity.show import System, respelt, show_in
from jointcalc.quantity.units import KINDS as UNITS
from jointcalc.result import Result
from jointcalc.section.outline import Outline
from jointcalc.show import terminal
from jointcalc.show.candidates import LENGTHS, Column, columns_of, letter, print_candidates, rows_of
from jointcalc.show.canvas import Canvas

if TYPE_CHECKING:
    from jointcalc.show.terminal import Out

MOST_ROWS = 12
SIDE_BY_SIDE = 4
KIP_INCH2 = 4448.2216152605 * 25.4**2

_STIFFNESS: Mapping[System, tuple[str, float]] = {"metric": ("N m²", 1e-6), "inch": ("kip in²", 1 / KIP_INCH2)}

COLUMNS = (
    Column("mass", 7, "mass_per_metre", {"metric": ("kg/m", 1.0), "inch": ("lb/ft", 0.3048 / 0.45359237)}),
    Column("EI", 8, "EI", _STIFFNESS),
    Column("deflec", 7, "deflection_service", LENGTHS),
    Column("limit", 6, "", LENGTHS, sparse=True),
    Column("GJ", 8, "GJ", _STIFFNESS),
    Column("freq", 6, "frequency_1", {"metric": ("Hz", 1.0), "inch": ("Hz", 1.0)}),
    Column("blank", 6, "blank_width", LENGTHS),
    Column("pitch", 6, "required_pitch", LENGTHS, sparse=True),
)
"""The comparison.

Deflection is the one that is held against the limit beside it; it is not compared where it left its range.
"""
MEANS = {
    "EI": "stiffness in bending", "deflec": "how far it bends, as judged", "GJ": "stiffness in twisting",
    "freq": "first frequency", "blank": "flat sheet to cut", "pitch": "of its spots, at most",
}  # fmt: skip
"""Heading -> what it is, told once under the table."""
MOST_RATIOS = 4
"""Candidates up to which ratios to the first are told without being asked for."""
FEW_ROWS = 5
"""Lines of a drawing where many candidates stand side by side."""


def _amount(result: Result, column: Column) -> float | None:
    limit = next((c for c in result.checks if c.method.key == "limit.deflection"), None)
    if column.head == "limit":
        return None if limit is None or limit.status == "info" or limit.capacity is None else limit.capacity.value
    if column.head == "deflec" and limit is not None and limit.demand is not None:
        return limit.demand.value
    found = result.values.get(column.name)
    return None if found is None else found.value


def _beyond(result: Result, column: Column) -> str:
    """The mark of a deflection that is greater than its number: the brace yields."""
    return ">" if column.head == "deflec" and not bends_elastically(result) else ""


def table(results: Sequence[Result], system: System, width: int = 100, *, ratios: bool = True) -> list[str]:
    """The comparison, then with `ratios` each value as a multiple of the first candidate's, and what the heads mean."""
    shown = columns_of(results, COLUMNS, _amount)
    heads = {"": 3, **{column.head: column.width for column in shown}}
    rows = rows_of(results, shown, system, _amount, _beyond)
    if ratios and len(results) > 1:
        rows.append(["", *("to A" for _ in shown)])
        for n, result in enumerate(results[1:], start=1):
            cells = [letter(n)]
            for column in shown:
                one, first = _amount(result, column), _amount(results[0], column)
                apart = column.head == "limit" or bool(_beyond(result, column) or _beyond(results[0], column))
                cells.append("-" if one is None or not first or apart else f"{one / first:.2f}")
            rows.append(cells)
    return terminal.in_blocks(heads, rows, width)


def legend(results: Sequence[Result]) -> str:
    """What the heads of the comparison mean."""
    told = [f"{head}: {words}" for head, words in MEANS.items()]
    if not any("required_pitch" in r.values for r in results):
        told = told[:-1]
    if any(not bends_elastically(r) for r in results):
        told.append(">: it yields, and bends further than that")
    return "; ".join(told)


# --- sections to scale --------------------------------------------------------------------------------


def _box(outline: Outline) -> tuple[float, float, float, float]:
    faces = np.concatenate([outline.faces(i) for i, s in enumerate(outline.segments) if s.kind != "weld"])
    (left, low), (right, high) = faces.min(axis=0), faces.max(axis=0)
    return float(left), float(low), float(right), float(high)


def _fill(canvas: Canvas, outline: Outline, scale: float, left: float, low: float) -> None:
    """Every piece of sheet as dots, at least one dot thick."""
    for i, piece in enumerate(outline.segments):
        if piece.kind == "weld":
            continue
        line = outline.polyline(i, points=48)
        t = float(np.ravel(outline.t[i])[0])
        step = np.hypot(*np.diff(line, axis=0).T)
        across = np.linspace(-0.5, 0.5, max(1, round(t * scale * 2)) + 1)[:-1] if t * scale > 1 else np.zeros(1)
        for a, b, length in zip(line[:-1], line[1:], step):
            if length <= 0:
                continue
            normal = np.array([-(b - a)[1], (b - a)[0]]) / length * t
            for u in np.linspace(0.0, 1.0, max(2, ceil(length * scale * 2))):
                for v in across:
                    y, z = a + u * (b - a) + v * normal
                    canvas.dot((y - left) * scale, (z - low) * scale)


LEAST_SCALE = 0.1
"""Dots per mm below which a section is not drawn smaller."""


def _columns(names: Sequence[str], boxes: Sequence[tuple[float, float, float, float]], scale: float) -> int:
    """Columns that sections and their names take side by side."""
    return sum(max(ceil((b[2] - b[0]) * scale / 2) + 1, len(name)) for name, b in zip(names, boxes))


def sections(
    profiles: Sequence[tuple[str, Outline]], width: int, system: System, rows_at_most: int = MOST_ROWS
) -> list[str]:
    """The sections side by side at one scale, each over its name."""
    lines: list[str] = []
    groups: list[tuple[list[str], list[tuple[float, float, float, float]], Sequence[tuple[str, Outline]], float]] = []
    beside = max(1, min(SIDE_BY_SIDE, width // 18)) if rows_at_most == MOST_ROWS else max(1, min(6, width // 16))
    for start in range(0, len(profiles), beside):
        group = profiles[start : start + beside]
        boxes = [_box(outline) for _, outline in group]
        wide = sum(right - left for left, _, right, _ in boxes)
        high = max(top - low for _, low, _, top in boxes)
        room = 2 * (min(width, 100) - 5 - 4 * (len(group) - 1))
        scale = min((room - 2 * len(group)) / wide, (4 * rows_at_most - 1) / high, 4.0)
        names = [f"{name} {show_in(b[3] - b[1], 'mm', system, 3)} high".strip() for (name, _), b in zip(group, boxes)]
        # where a name is wider than its section the others get less
        while _columns(names, boxes, scale) > room / 2 and scale > LEAST_SCALE:
            scale *= 0.9
        groups.append((names, boxes, group, scale))
    # below each other they are compared as well: one scale for all
    scale = min((one for *_, one in groups), default=1.0)
    for names, boxes, group, _ in groups:
        drawn = []
        high = max(top - low for _, low, _, top in boxes)
        for under, (_, outline), (left, low, right, _) in zip(names, group, boxes):
            canvas = Canvas(ceil((right - left) * scale) + 1, ceil(high * scale) + 1)
            _fill(canvas, outline, scale, left, low)
            drawn.append((max(canvas.columns, len(under)), canvas.lines(), under))
        blank = next((k for k in range(len(drawn[0][1])) if any(rows[k].strip() for _, rows, _ in drawn)), 0)
        for row in range(blank, len(drawn[0][1])):
            lines.append("  " + "   ".join(rows[row].ljust(size) for size, rows, _ in drawn).rstrip())
        lines.append("  " + "   ".join(under.ljust(size) for size, _, under in drawn).rstrip())
    return lines


def lying(result: Result) -> Outline:
    """The section of a judged brace as it lies."""
    outline: Outline = result.model.family.outline()
    turned = result.values.get("flanges_up")
    return outline.turned() if turned is not None and turned.value else outline


def draw(result: Result, width: int, system: System) -> list[str]:
    """The section of one brace, to scale, as it lies."""
    if not isinstance(result.model, Brace):
        return []
    return sections([("", lying(result))], min(width, 60), system)


# --- the whole answer ----------------------------------------------------------------------------------------


def print_comparison(
    results: Sequence[Result],
    out: Out,
    *,
    system: System = "metric",
    steps: bool = False,
    full: bool = False,
    cautions: bool = False,
    found: str = "",
    pareto: Sequence[Choice] = (),
) -> None:
    """The candidates, the comparison, the sections; then the verdict of each, last, where it stays in sight.

    A single candidate, or with `full` each, is told with its methods and rules.
    """
    profiles = []
    for n, result in enumerate(results):
        profile = result.about.get("profile", "")
        # millimetres of a profile are told in the reader's units, as its sheet and loads are; inches as he typed them
        terminal.hang(out, f"{letter(n):3}", respelt(profile, system))
        described = joined(", ", [result.about[k] for k in ("sheets", "lies") if k in result.about])
        terminal.hang(out, "   ", printed(described, system))
        if isinstance(result.model, Brace):
            profiles.append((letter(n), lying(result)))
    first = results[0].about
    terminal.hang(out, "   ", printed(f"span {first.get('span', '')}; {first.get('loads', '')}", system))
    out.print()
    for line in table(results, system, max(out.width, 40), ratios=full or len(results) <= MOST_RATIOS):
        out.print(line)
    terminal.hang(out, "", legend(results), style="dim")
    out.print()
    few = not full and len(results) > SIDE_BY_SIDE
    for line in sections(profiles, out.width, system, FEW_ROWS if few else MOST_ROWS):
        out.print(line)
    if len(pareto) > 1:
        out.print()
        out.print("Stiffer for more mass (none is both lighter and stiffer):", style="bold")
        for one in pareto:
            size = f"{show_in(one.mass_per_metre, 'kg/m', system, 3)}, {show_in(one.deflection, 'mm', system, 3)}"
            terminal.hang(out, "  ", f"{size}  {respelt(one.profile, system)}")
    titles = [result.title or "" for result in results]
    told = [found] if found else []
    print_candidates(results, titles, out, system, told, steps=steps, full=full, cautions=cautions)


# --- a plot -----------------------------------------------------------------------------------------------------

STYLES = (
    ("#000000", "-", ""), ("#D55E00", "--", "///"), ("#0072B2", "-.", "..."), ("#009E73", ":", "xxx"),
    ("#CC79A7", (0, (8, 2)), "\\\\\\"), ("#E69F00", (0, (3, 1, 1, 1, 1, 1)), "+++"),
)  # fmt: skip
"""Colour, line and hatch of each candidate: told apart by the colour-blind and on a black and white print."""


def plot(results: Sequence[Result], path: Path, system: System = "metric", buckling: bool = False) -> None:
    """Deflection lines and sections in one SVG file, written whole or not at all; with `buckling` signature curves too.

    Raises InputError when the place cannot be written.
    """
    from matplotlib import rc_context
    from matplotlib.figure import Figure

    factor, unit = (1.0, "mm") if system == "metric" else (1 / 25.4, "in")
    braces = [(letter(n), r.model) for n, r in enumerate(results) if isinstance(r.model, Brace)]
    outlines = [lying(r) for r in results if isinstance(r.model, Brace)]
    with rc_context({"svg.hashsalt": "jointcalc", "svg.fonttype": "none", "font.size": 9, "hatch.linewidth": 0.5}):
        rows = (3, 2, 3) if buckling else (3, 2)
        figure = Figure(figsize=(7.5, 6.5 * sum(rows) / 5), layout="constrained")
        grid = figure.add_gridspec(len(rows), len(braces), height_ratios=rows)
        lines = figure.add_subplot(grid[0, :])
        for n, (name, brace) in enumerate(braces):
            colour, style, _ = STYLES[n % len(STYLES)]
            x, w = deflection_line(brace)
            label = f"{name}  {respelt(brace.profile, system)}"
            lines.plot(x * factor, w * factor, color=colour, linestyle=style, linewidth=1.6, label=label)
            at = int(np.argmax(np.abs(w)))
            lines.annotate(name, (x[at] * factor, w[at] * factor), textcoords="offset points", xytext=(0, -11),
                           ha="center", color=colour)  # fmt: skip
        lines.invert_yaxis()
        lines.set_xlabel(f"from the left end [{unit}]")
        lines.set_ylabel(f"deflection [{unit}]")
        lines.set_title(
            "Deflection, gross sections" + (f": {printed(braces[0][1].loads_text, system)}" if braces else "")
        )
        lines.grid(True, linewidth=0.4, color="#bbbbbb")
        lines.legend(fontsize=7, loc="upper center", bbox_to_anchor=(0.5, -0.16), frameon=False)
        boxes = [_box(outline) for outline in outlines]
        wide = max(right - left for left, _, right, _ in boxes) * factor
        high = max(top - low for _, low, _, top in boxes) * factor
        for n, ((name, _), outline) in enumerate(zip(braces, outlines, strict=True)):
            colour, _, hatch = STYLES[n % len(STYLES)]
            axes = figure.add_subplot(grid[1, n])
            for i, piece in enumerate(outline.segments):
                if piece.kind != "weld":
                    y, z = (outline.faces(i) * factor).T
                    axes.fill(y, z, facecolor="#dddddd", edgecolor=colour, linewidth=0.8, hatch=hatch)
            left, low, right, _ = boxes[n]
            middle = (left + right) / 2 * factor
            axes.set_xlim(middle - wide / 2 * 1.05, middle + wide / 2 * 1.05)
            axes.set_ylim(low * factor - high * 0.05, low * factor + high * 1.05)
            axes.set_aspect("equal")
            axes.set_title(name, color=colour)
            axes.tick_params(labelsize=6)
            axes.set_xlabel(f"[{unit}]", fontsize=7)
        if buckling:
            _signature(figure.add_subplot(grid[2, :]), results, system)
        made = BytesIO()
        figure.savefig(made, format="svg", metadata={"Date": None, "Creator": "jointcalc"})
    write_file(path, made.getvalue())


def _signature(axes: Any, results: Sequence[Result], system: System) -> None:
    """The signature curve of each candidate, the loads that have a name marked with it."""
    from jointcalc.explore.curves import curves

    length, long = (1.0, "mm") if system == "metric" else (1 / 25.4, "in")
    stress, unit = (1.0, "MPa") if system == "metric" else (1 / UNITS["stress"].units["ksi"], "ksi")
    shown = [(n, curve) for n, result in enumerate(results) for curve in curves(result)]
    for n, curve in shown:
        colour, style, _ = STYLES[n % len(STYLES)]
        label = f"{letter(n)}  {curve.words}"
        axes.loglog(curve.lengths * length, curve.stress * stress, color=colour, linestyle=style, label=label)
        for one in curve.named:
            at = (one.found.half_wavelength * length, one.found.stress * stress)
            axes.plot(*at, marker="o", markersize=4, color=colour, markerfacecolor="white")
            word = f"{one.found.kind}{', fixed ends' if one.ends == 'fixed' else ''}"
            axes.annotate(word, at, textcoords="offset points", xytext=(4, 5), fontsize=7, color=colour)
    axes.set_title("Elastic buckling of the section" if shown else "Nothing of these sections buckles", fontsize=9)
    axes.set_xlabel(f"half-wavelength [{long}]")
    axes.set_ylabel(f"stress at the pressed face [{unit}]")
    axes.grid(True, which="both", linewidth=0.3, color="#bbbbbb")
    if shown:
        axes.legend(fontsize=7, frameon=False)
