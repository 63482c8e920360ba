"""Signature curves of braces: the stress at which the section buckles against the half-wavelength, and its modes."""

from __future__ import annotations

from math import ceil, floor, log10
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

from jointcalc.dossier.figures.canvas import (
    BLUE,
    BOLD_LINE,
    GREY,
    RED,
    THIN_LINE,
    WIDTH,
    Canvas,
    Picture,
    show,
)
from jointcalc.quantity.show import System
from jointcalc.result import Result
from jointcalc.section.buckling import Buckling, Found, Loading, buckling
from jointcalc.section.effective_aisi import E_AISI

if TYPE_CHECKING:
    from jointcalc.model.brace import Brace

Floats = npt.NDArray[np.float64]
LEFT, RIGHT, LOW, HIGH = 22.0, 112.0, 11.0, 57.0
"""The field of the curve, mm of paper."""
TALLEST = 40.0
"""Greatest stress drawn over the least."""
LOADINGS = {"sagging": "bent, the top pressed", "hogging": "bent, the bottom pressed", "axial": "pressed all over"}


def draw_curves(result: Result, brace: Brace, system: System) -> list[Picture]:
    """One signature curve for each way in which direct strength judged the brace."""
    pictures = []
    up = result.values.get("flanges_up")
    turned = bool(up is not None and up.value)
    drawn: list[tuple[str, Loading, Loading]] = [
        ("M_crl_sagging", "sagging", "hogging"), ("M_crl_hogging", "hogging", "sagging"), ("P_crl", "axial", "axial"),
    ]  # fmt: skip
    for name, loading, other in drawn:
        if name in result.values:
            # kept from the check: nothing is solved a second time
            way = other if turned else loading
            solved = buckling(brace.core, loading=way, E=E_AISI, nu=brace.sheets[0].material.nu)
            pictures.append(_curve(result, solved, LOADINGS[loading], turned, brace.f_y, system))
    return pictures


def _ticks(low: float, high: float) -> list[float]:
    """1, 2, 5 and their multiples by ten between two values."""
    powers = range(floor(log10(low)), ceil(log10(high)) + 1)
    return [m * 10.0**p for p in powers for m in (1.0, 2.0, 5.0) if low <= m * 10.0**p <= high]


def _curve(result: Result, solved: Buckling, pressed: str, turned: bool, f_y: float, system: System) -> Picture:
    lengths, factors = solved.curve
    found = [one for one in (solved.local, solved.distortional) if one is not None]
    low = min(float(factors.min()), *(one.stress for one in found))
    keep = factors <= TALLEST * low
    lengths, factors = lengths[keep], factors[keep]
    found = [one for one in found if one.stress <= TALLEST * low]
    x = (float(lengths[0]), float(lengths[-1]))
    y = (low / 1.4, max(float(factors.max()), *(one.stress for one in found)) * 1.1)
    canvas = Canvas(HIGH + 10)

    def across(value: float) -> float:
        return LEFT + (RIGHT - LEFT) * log10(value / x[0]) / log10(x[1] / x[0])

    def up(value: float) -> float:
        return LOW + (HIGH - LOW) * log10(value / y[0]) / log10(y[1] / y[0])

    unit, per = ("mm", 1.0) if system == "metric" else ("in", 25.4)
    canvas.box(LEFT, LOW, RIGHT - LEFT, HIGH - LOW, edge=GREY, width=THIN_LINE)
    for tick in _ticks(x[0] / per, x[1] / per):
        at = across(tick * per)
        canvas.line([(at, LOW), (at, LOW - 1)], width=THIN_LINE)
        if at < RIGHT - 2:
            canvas.text(at, LOW - 1.6, f"{tick:g}", up="top")
    canvas.text(RIGHT, LOW - 5.6, f"half-wavelength, {unit}", across="right", up="top")
    stress_unit, stress_per = ("MPa", 1.0) if system == "metric" else ("ksi", 6.894757293168361)
    last = -9.0
    for tick in _ticks(y[0] / stress_per, y[1] / stress_per):
        at = up(tick * stress_per)
        canvas.line([(LEFT, at), (LEFT - 1, at)], width=THIN_LINE)
        if at - last > 3.6:
            canvas.text(LEFT - 1.6, at, f"{tick:g}", across="right")
            last = at
    canvas.text(0, HIGH + 5, f"stress, {stress_unit}", across="left")
    canvas.line([(across(float(a)), up(float(f))) for a, f in zip(lengths, factors, strict=True)], width=BOLD_LINE,
                colour=BLUE)  # fmt: skip
    said = []
    if y[0] < f_y < y[1]:
        canvas.line([(LEFT, up(f_y)), (RIGHT, up(f_y))], dash="--")
        said.append("dashed: yield strength")
    for n, one in enumerate(found):
        place = across(one.half_wavelength), up(one.stress)
        canvas.circles([place], 1.1, fill="#ffffff", edge=RED, width=BOLD_LINE)
        canvas.text(place[0] - 2.4, place[1] - 2.6, str(n + 1), bold=True, back=True)
        _mode(canvas, solved, one, turned, n, len(found), system)
    words = "; ".join(f"{n + 1} {_words(one, system)}" for n, one in enumerate(found)) or "no minimum"
    return canvas.picture(
        f"{result.id}: elastic buckling stress of the section {pressed} against the half-wavelength "
        f"of one harmonic, from {show(x[0], 'length', system)} to {show(x[1], 'length', system)}: {words}.",
        f"{result.id}: elastic buckling by finite strips, {pressed}; "
        + "; ".join([words, *said, "grey: the section at rest"]),
    )


def _words(found: Found, system: System) -> str:
    own = "" if found.how == "minimum" else ", no minimum of its own"
    return (
        f"{found.kind}, {show(found.stress, 'stress', system)} at {show(found.half_wavelength, 'length', system)}{own}"
    )


def _mode(canvas: Canvas, solved: Buckling, found: Found, turned: bool, n: int, of: int, system: System) -> None:
    """The section as it buckles, beside the curve."""
    model, sense = solved.model, np.array([[1.0], [-1.0 if turned else 1.0]])
    rest = np.stack([model.y, model.z]) * sense
    size = float(np.ptp(rest, axis=1).max())
    y, z = rest + 0.16 * size * sense * solved.shape(found).T
    room = (HIGH - LOW) / of
    text = show(found.stress, "stress", system)
    left, wide = RIGHT + 6.0, WIDTH - RIGHT - 8.0
    top = HIGH - n * room
    canvas.text(left, top - 1.5, f"{n + 1} {found.kind}", across="left", bold=True)
    canvas.text(WIDTH - 1, top - 1.5, text, across="right")
    every_y, every_z = np.concatenate([y, rest[0]]), np.concatenate([z, rest[1]])
    scale = min(wide / float(np.ptp(every_y)), (room - 7.0) / float(np.ptp(every_z)))
    x0 = left + (wide - scale * float(np.ptp(every_y))) / 2
    y0 = top - room + 2.0

    def line(a: Floats, b: Floats) -> list[list[tuple[float, float]]]:
        low_y, low_z = float(every_y.min()), float(every_z.min())
        at = [(x0 + (float(p) - low_y) * scale, y0 + (float(q) - low_z) * scale) for p, q in zip(a, b, strict=True)]
        return [[at[i], at[j]] for i, j in zip(model.first, model.last, strict=True)]

    canvas.lines(line(rest[0], rest[1]), width=THIN_LINE, colour=GREY)
    canvas.lines(line(y, z), width=BOLD_LINE)
