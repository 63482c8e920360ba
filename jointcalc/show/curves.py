"""Signature curves and buckled sections in dots."""

from __future__ import annotations

from itertools import pairwise
from math import log10
from typing import TYPE_CHECKING

import numpy as np

from jointcalc.explore.curves import Curve, Named
from jointcalc.quantity.show import System, show, show_in
from jointcalc.show import terminal
from jointcalc.show.canvas import Canvas

if TYPE_CHECKING:
    from jointcalc.show.terminal import Out

WIDE, HIGH = 120, 40
"""Dots of the curve."""
MODE_WIDE, MODE_HIGH = 44, 36
TALLEST = 30.0
"""Greatest stress drawn over the least."""


def print_curves(curves: tuple[Curve, ...], out: Out, system: System) -> None:
    """Every curve, the loads named on it, and how the section moves in each."""
    for curve in curves:
        out.print()
        out.print(f"Elastic buckling of the section {curve.words}: stress over half-wavelength", style="bold")
        for line in _drawn(curve, system):
            out.print(line)
        for n, one in enumerate(curve.named, start=1):
            terminal.hang(out, f"  {n} ", _said(one, system))
        for why in curve.none:
            terminal.hang(out, "  - ", why)
        for line in _modes(curve):
            out.print(line)


def _said(one: Named, system: System) -> str:
    found = one.found
    unit = "force" if found.loading == "axial" else "moment"
    load = show_in(found.load, "N" if unit == "force" else "N*mm", system, 4)
    where = show(found.half_wavelength, "length", system)
    if one.ends == "fixed":
        at = f"{where} with fixed ends, the lowest of all modes"
    elif found.kind == "global":
        at = f"one half-wave over {where}, ends that turn"
    else:
        at = f"at {where}" + ("" if found.how == "minimum" else ", no minimum of its own")
    kind = "over the whole span" if one.ends == "fixed" else found.kind
    return f"{kind}: {show(found.stress, 'stress', system)} at the pressed face, {unit} {load}, {at}"


def _drawn(curve: Curve, system: System) -> list[str]:
    """The curve on logarithmic scales; named loads as rings."""
    keep = np.isfinite(curve.stress)
    if not keep.any():
        return ["  nothing buckles"]
    lengths, stress = curve.lengths[keep], curve.stress[keep]
    least = float(min([stress.min(), *(n.found.stress for n in curve.named)]))
    high = min(float(max([stress.max(), *(n.found.stress for n in curve.named)])), TALLEST * least)
    canvas = Canvas(WIDE, HIGH)

    def place(length: float, value: float) -> tuple[float, float]:
        x = (WIDE - 5) * log10(length / lengths[0]) / log10(lengths[-1] / lengths[0]) + 2
        return x, (HIGH - 5) * log10(value / least) / max(log10(high / least), 1e-9) + 2

    points = [place(float(a), float(s)) for a, s in zip(lengths, stress, strict=True) if s <= high * 1.02]
    for (x_1, y_1), (x_2, y_2) in pairwise(points):
        count = max(1, int(2 * max(abs(x_2 - x_1), abs(y_2 - y_1))))
        canvas.dots((x_1 + (x_2 - x_1) * k / count, y_1 + (y_2 - y_1) * k / count) for k in range(count + 1))
    for one in curve.named:
        if one.found.stress <= high:
            x, y = place(one.found.half_wavelength, one.found.stress)
            canvas.dots(
                (x + i, y + j) for i in (-2, -1, 0, 1, 2) for j in (-2, -1, 0, 1, 2) if max(abs(i), abs(j)) == 2
            )
    top, low = show(high, "stress", system), show(least, "stress", system)
    rows = canvas.lines()
    edge = max(len(top), len(low))
    lines = [
        f"  {(top if k == 0 else low if k == len(rows) - 1 else '').rjust(edge)} {row}" for k, row in enumerate(rows)
    ]
    left, right = show(float(lengths[0]), "length", system), show(float(lengths[-1]), "length", system)
    lines.append(f"  {'':{edge}} {left}{right.rjust(WIDE // 2 - len(left))}")
    return [line.rstrip() for line in lines]


def _modes(curve: Curve) -> list[str]:
    """The section as it moves in each named mode of one half-wave, side by side."""
    model, sense = curve.solved.model, np.array([[1.0], [-1.0 if curve.turned else 1.0]])
    rest = np.stack([model.y, model.z]) * sense
    size = float(np.ptp(rest, axis=1).max())
    drawn = []
    for n, one in enumerate(curve.named, start=1):
        if one.ends == "fixed":
            continue
        moved = rest + 0.18 * size * sense * curve.solved.shape(one.found).T
        low = moved.min(axis=1)
        scale = min((MODE_WIDE - 2) / max(np.ptp(moved[0]), 1e-9), (MODE_HIGH - 2) / max(np.ptp(moved[1]), 1e-9))
        canvas = Canvas(MODE_WIDE, MODE_HIGH)
        at = (moved - low[:, None]) * scale
        for i, j in zip(model.first, model.last, strict=True):
            count = max(1, int(2 * np.abs(at[:, j] - at[:, i]).max()))
            canvas.dots(
                (
                    float(at[0, i] + (at[0, j] - at[0, i]) * k / count),
                    float(at[1, i] + (at[1, j] - at[1, i]) * k / count),
                )
                for k in range(count + 1)
            )
        drawn.append((f"{n} {one.found.kind}", canvas.lines()))
    if not drawn:
        return []
    first = next(k for k in range(len(drawn[0][1])) if any(rows[k].strip() for _, rows in drawn))
    wide = MODE_WIDE // 2
    lines = ["  " + "   ".join(rows[k].ljust(wide) for _, rows in drawn) for k in range(first, len(drawn[0][1]))]
    lines.append("  " + "   ".join(name.ljust(wide) for name, _ in drawn))
    return [line.rstrip() for line in lines]
