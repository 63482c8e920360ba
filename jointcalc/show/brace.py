"""Braces side by side: one table, sections to scale in the terminal, a plot for the bench."""

from __future__ import annotations

from collections.abc import Sequence
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
from jointcalc.quantity.show import System, figures, percent, respelt, show_in
from jointcalc.quantity.units import KINDS as UNITS
from jointcalc.result import DETAILING, Result, collect
from jointcalc.section.outline import Outline
from jointcalc.show import terminal
from jointcalc.show.canvas import Canvas

if TYPE_CHECKING:
    from jointcalc.show.terminal import Out

MOST_ROWS = 12
SIDE_BY_SIDE = 4
KIP_INCH2 = 4448.2216152605 * 25.4**2

COLUMNS: tuple[tuple[str, int, str, dict[System, tuple[str, float]]], ...] = (
    ("mass", 7, "mass_per_metre", {"metric": ("kg/m", 1.0), "inch": ("lb/ft", 0.3048 / 0.45359237)}),
    ("EI", 8, "EI", {"metric": ("N m²", 1e-6), "inch": ("kip in²", 1 / KIP_INCH2)}),
    ("deflec", 7, "deflection_service", {"metric": ("mm", 1.0), "inch": ("in", 1 / 25.4)}),
    ("used", 7, "", {"metric": ("%", 100.0), "inch": ("%", 100.0)}),
    ("GJ", 8, "GJ", {"metric": ("N m²", 1e-6), "inch": ("kip in²", 1 / KIP_INCH2)}),
    ("freq", 6, "frequency_1", {"metric": ("Hz", 1.0), "inch": ("Hz", 1.0)}),
    ("blank", 6, "blank_width", {"metric": ("mm", 1.0), "inch": ("in", 1 / 25.4)}),
    ("pitch", 6, "required_pitch", {"metric": ("mm", 1.0), "inch": ("in", 1 / 25.4)}),
)
"""Heading, width, value and (unit, factor) of the comparison.

Deflection is that of the section that works in service, what a limit is held against; `used` is the utilisation that
governs.  Neither is compared where it left its range.
"""


def letter(n: int) -> str:
    """Name of the n-th candidate: A, B, ... Z, A1, B1, ..."""
    return chr(ord("A") + n % 26) + (str(n // 26) if n >= 26 else "")


def _amount(result: Result, name: str) -> float | None:
    if not name:
        worst = result.worst
        # what no method covers may be worse than what one does
        return None if worst is None or result.unjudged else worst.utilisation
    found = result.values.get(name)
    return None if found is None else found.value


def table(results: Sequence[Result], system: System) -> list[str]:
    """The comparison, then each value as a multiple of the first candidate's."""
    shown = [c for c in COLUMNS if c[0] != "pitch" or any("required_pitch" in r.values for r in results)]
    heads = {"": 3, **{head: size for head, size, *_ in shown}, "holds": 6}
    words = {"ok": "yes", "over": "NO", "outside": "?"}
    rows: list[list[str]] = [["", *(units[system][0] for *_, units in shown), ""]]
    for n, result in enumerate(results):
        cells = [letter(n)]
        for head, _, name, units in shown:
            value = _amount(result, name)
            if head == "used":
                cells.append(percent(value).removesuffix(" %"))
            elif value is None:
                cells.append("-")
            else:
                more = ">" if head == "deflec" and not bends_elastically(result) else ""
                cells.append(more + figures(value * units[system][1], 3))
        rows.append([*cells, words[result.status]])
    if len(results) > 1:
        for n, result in enumerate(results[1:], start=1):
            cells = [letter(n)]
            for head, _, name, _ in shown:
                one, first = _amount(result, name), _amount(results[0], name)
                past = head == "deflec" and (not bends_elastically(result) or not bends_elastically(results[0]))
                cells.append("-" if one is None or not first or past else f"{one / first:.2f}")
            rows.append([*cells, ""])
    lines = terminal.columns(heads, rows, left=("",))
    if len(results) > 1:
        lines.insert(3 + len(results), "ratio to A:")
    return lines


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


def sections(profiles: Sequence[tuple[str, Outline]], width: int, system: System) -> list[str]:
    """The sections side by side at one scale, each over its name."""
    lines: list[str] = []
    for start in range(0, len(profiles), SIDE_BY_SIDE):
        group = profiles[start : start + SIDE_BY_SIDE]
        boxes = [_box(outline) for _, outline in group]
        wide = sum(right - left for left, _, right, _ in boxes)
        high = max(top - low for _, low, _, top in boxes)
        room = 2 * (min(width, 100) - 4 - 3 * (len(group) - 1))
        scale = min((room - 2 * len(group)) / wide, (4 * MOST_ROWS - 1) / high, 4.0)
        drawn = []
        for (name, outline), (left, low, right, top) in zip(group, boxes):
            canvas = Canvas(ceil((right - left) * scale) + 1, ceil(high * scale) + 1)
            _fill(canvas, outline, scale, left, low)
            under = f"{name} {show_in(top - low, 'mm', system, 3)} high".strip()
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
    found: str = "",
    pareto: Sequence[Choice] = (),
) -> None:
    """The comparison, the sections, then each candidate's verdict, and the cautions once."""
    if found:
        terminal.hang(out, "", found, style="bold")
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
    for line in table(results, system):
        out.print(line)
    out.print()
    for line in sections(profiles, out.width, system):
        out.print(line)
    if len(pareto) > 1:
        out.print()
        out.print("Stiffer for more mass (none is both lighter and stiffer):", style="bold")
        for one in pareto:
            size = f"{show_in(one.mass_per_metre, 'kg/m', system, 3)}, {show_in(one.deflection, 'mm', system, 3)}"
            terminal.hang(out, "  ", f"{size}  {respelt(one.profile, system)}")
    for n, result in enumerate(results):
        out.print()
        out.print(f"{letter(n)}  {result.title or ''}".rstrip(), style="bold")
        terminal._answer(out, result, system)
        if "cell" in result.about:
            terminal.hang(out, "", printed(result.about["cell"], system))
        strength = [c for c in result.checks if c.method.basis != DETAILING]
        terminal._methods_table(out, strength, system)
        terminal._outside(out, strength, system)
        noted = [c for c in strength if c.status == "info" and c.note]
        for check in noted:
            terminal.hang(out, f"  {printed(check.title, system)}: ", printed(check.note, system))
        terminal._details(out, [c for c in result.checks if c.method.basis == DETAILING], system)
        if len(results) == 1:
            terminal._values(out, result, system)
        if steps:
            terminal.print_steps(result.checks, out, system)
    terminal.print_cautions(collect(c for r in results for c in r.cautions), out, system)


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
            label = f"{name}  {brace.profile}"
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
