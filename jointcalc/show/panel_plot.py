"""Panels drawn into an SVG file: what they deflect from above, and the sheet across its beads."""

from __future__ import annotations

from collections.abc import Sequence
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from jointcalc.check.panel import surface
from jointcalc.files import write_file
from jointcalc.model.panel import Panel
from jointcalc.quantity.sentence import printed
from jointcalc.quantity.show import System, show_in
from jointcalc.result import Result
from jointcalc.show.candidates import letter
from jointcalc.show.contour import UPWARD_FROM
from jointcalc.show.panel import PITCHES_SHOWN
from jointcalc.statics.bead import path as mid_line

if TYPE_CHECKING:
    from jointcalc.statics.bead import Bead
    from jointcalc.statics.field import Surface

LINES = 6
"""Steps of the contour from nothing to the greatest, about: they are round."""
WIDE, ROW, SECTION, HEAD = 7.5, 3.0, 1.1, 0.8
"""Inches: the sheet of paper, a plan, a section, the heading."""
INK, LOAD = "#000000", "#D55E00"


def plot(results: Sequence[Result], path: Path, system: System = "metric") -> None:
    """Every candidate's deflection under its loads, and its beads, in one SVG file, written whole or not at all.

    Raises InputError when the place cannot be written.
    """
    from matplotlib import rc_context
    from matplotlib.figure import Figure

    factor, unit = (1.0, "mm") if system == "metric" else (1 / 25.4, "in")
    panels = [(letter(n), r) for n, r in enumerate(results) if isinstance(r.model, Panel)]
    heights = [part for _, r in panels for part in (ROW, *[SECTION] * len(r.model.beads))]
    with rc_context({"svg.hashsalt": "jointcalc", "svg.fonttype": "none", "font.size": 8}):
        figure = Figure(figsize=(WIDE, HEAD + sum(heights)), layout="constrained")
        figure.suptitle("Deflection under all loads together, with yielding", fontsize=9)
        grid = figure.add_gridspec(len(heights), 1, height_ratios=heights)
        at = 0
        for name, result in panels:
            panel = result.model
            _plan(figure.add_subplot(grid[at, 0]), name, panel, factor, unit, system)
            at += 1
            for way, bead in panel.beads:
                which = "" if panel.cross is None else f" along the {way} side"
                _section(
                    figure.add_subplot(grid[at, 0]), bead, panel.sheet.t, factor, f"across the beads{which} [{unit}]"
                )
                at += 1
        made = BytesIO()
        figure.savefig(made, format="svg", metadata={"Date": None, "Creator": "jointcalc"})
    write_file(path, made.getvalue())


def _plan(axes: Any, name: str, panel: Panel, factor: float, unit: str, system: System) -> None:
    """The panel from above: contour, beads with their ends, what is loaded."""
    from matplotlib.patches import Rectangle

    lying, a, b = panel.along_beads >= panel.across_beads, panel.along_beads, panel.across_beads

    def at(x: float, y: float) -> tuple[float, float]:
        level, upright = (x, y) if lying else (y, x)
        return level * factor, upright * factor

    def box(x: float, y: float, wide: float, high: float, **how: Any) -> None:
        (one, two), (three, four) = at(x, y), at(x + wide, y + high)
        axes.add_patch(
            Rectangle((min(one, three), min(two, four)), abs(three - one), abs(four - two), fill=False, **how)
        )

    found = surface(panel)
    if found is not None:
        _contour(axes, found, lying, factor, unit)
    for bead, places in ((panel.pattern, panel.bead_places), (panel.cross, panel.cross_places)):
        if bead is None:
            continue
        stop, runout = bead.ends
        for middle in places:
            for off, how in ((stop, {"linewidth": 0.5, "linestyle": "--"}), (stop + runout, {"linewidth": 0.3})):
                if off == stop + runout and not runout:
                    continue
                if bead is panel.pattern:
                    box(off, middle - bead.width / 2, a - 2 * off, bead.width, edgecolor=INK, **how)
                else:
                    box(middle - bead.width / 2, off, bead.width, b - 2 * off, edgecolor=INK, **how)
    for x, y in panel.places if panel.patch else ():
        c, d = panel.foot
        box(x - c / 2, y - d / 2, c, d, edgecolor=LOAD, linewidth=1.4)
    corners = ((0.0, 0.0), (0.0, b)), ((a, 0.0), (a, b)), ((0.0, 0.0), (a, 0.0)), ((0.0, b), (a, b))
    for turn, ends in zip(panel.turns, corners):
        axes.plot(*zip(*(at(*end) for end in ends)), color=INK, linewidth=2.5 if turn else 0.8, clip_on=False)
    axes.set_aspect("equal")
    axes.autoscale_view()
    if lying:  # seen from above: looking along the beads from their start, left is at the left
        axes.invert_yaxis()
    edges = f"edges {panel.edges}, thick where held against turning"
    most = "" if found is None else f", {show_in(float(np.abs(found.yielding).max()), 'mm', system)} at most"
    beads = " + ".join(str(bead) for _, bead in panel.beads) or "flat"
    told = printed(f"{panel.sheet.label}, {beads}; {panel.loads_text}", system)
    axes.set_title(f"{name}  {told}{most}; {edges}", fontsize=7, loc="left", wrap=True)
    along, across = f"along the beads from the start [{unit}]", f"across from the left [{unit}]"
    axes.set_xlabel(along if lying else across, fontsize=7)
    axes.set_ylabel(across if lying else along, fontsize=7)
    axes.tick_params(labelsize=6)


def _contour(axes: Any, found: Surface, lying: bool, factor: float, unit: str) -> None:
    """Bands of deflection, their lines labelled, and the scale beside."""
    from matplotlib.ticker import MaxNLocator

    w = found.yielding * factor
    if not np.abs(w).max() > 0:
        return
    x, y, z = (found.x, found.y, w.T) if lying else (found.y, found.x, w)
    least = float(w.min()) if w.min() < -UPWARD_FROM * w.max() else 0.0
    levels = MaxNLocator(LINES).tick_values(least, float(w.max()))
    filled = axes.contourf(x * factor, y * factor, np.maximum(z, levels[0]), levels=levels, cmap="Blues")
    lines = axes.contour(x * factor, y * factor, z, levels=levels[1:-1], colors=INK, linewidths=0.5)
    axes.clabel(lines, fontsize=6, fmt="%.3g")
    bar = axes.figure.colorbar(filled, ax=axes, shrink=0.8, format="%.3g")
    bar.set_label(f"deflection [{unit}]", fontsize=7)
    bar.ax.tick_params(labelsize=6)


def _section(axes: Any, bead: Bead, t: float, factor: float, told: str) -> None:
    """Two pitches of the sheet across beads, to scale, thickness and all."""
    one = np.array(mid_line(bead, t))
    line = np.concatenate([one + np.array([n * bead.pitch, 0.0]) for n in range(PITCHES_SHOWN)])
    line = line[np.concatenate([[True], np.hypot(*np.diff(line, axis=0).T) > 1e-9 * bead.pitch])]
    turn = np.gradient(line, axis=0)
    normal = np.stack([-turn[:, 1], turn[:, 0]], axis=1) / np.hypot(*turn.T)[:, None] * t / 2
    y, z = (np.concatenate([line + normal, (line - normal)[::-1]]) * factor).T
    axes.fill(y, z, facecolor="#dddddd", edgecolor=INK, linewidth=0.6)
    axes.set_aspect("equal")
    axes.set_xlabel(told, fontsize=7)
    axes.tick_params(labelsize=6)
