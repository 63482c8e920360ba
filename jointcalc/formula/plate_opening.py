"""Flat sheet in shear with an opening: buckling, the sheet left beside the opening, the flange round its edge.

The strips left beside an opening bend as a frame does: by equilibrium, with the shear flow running in along the edge of
the panel.  At the middle of the opening a strip carries half the shear of the cut and nothing else; at the end of the
opening, half its length on, q w/2 along it and q w (b - h)/4 of moment.  Plastic: no buckling of the strips, which is
judged by the plate.  A round opening counts as a rectangle 0.45 d long and 0.9 d high, as beams with round openings do.
"""

from __future__ import annotations

import numpy as np

from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register

HOLED = Source("Narayanan and Der-Avanessian, Int. J. Struct. Eng. (1984), elastic buckling of perforated webs", "",
               "from memory", "agrees with 1 - d/b of Rockey, Anderson and Cheung for square plates")  # fmt: skip
FRAME = Source("Strips beside an opening as a frame, fully plastic", "", "derivation",
               "with the shape of the yield surface of von Mises; no more than the net section")  # fmt: skip
ROUND = Source("SCI P355, Design of composite beams with large web openings", "equivalent rectangle of a round opening",
               "from memory")  # fmt: skip
COLLAR = Source("Growth of the edge of a hole that is flanged", "", "derivation", "no metal draws in along the flange")

N = Names(
    k_0=("1", "shear buckling coefficient of the whole sheet"),
    alpha_c=("1", "1.5 for edges that turn freely, 1.25 for clamped ones"),
    d=("mm", "diameter of an opening at the middle that encloses the real one"),
    a=("mm", "longer side"),
    b=("mm", "shorter side"),
    w=("mm", "length of the opening along the strips"),
    h=("mm", "depth of the narrower strip left beside the opening"),
    l_c=("mm", "length of an opening at the middle that encloses the real one"),
    h_c=("mm", "height of the same"),
    q=("N/mm", "shear flow"),
    t=("mm", "thickness"),
    f_y=("MPa", "yield strength"),
    side=("mm", "side of the panel across the strips"),
    r_c=("mm", "inside radius of the finished flange: half the diameter, or the corner"),
    f=("mm", "height of the flange"),
)


def holed_coefficient_round(*, k_0: Value, alpha_c: Value, d: Value, a: Value, b: Value) -> Value:
    """Shear buckling coefficient of a sheet with a round opening at its middle [1]."""
    return k_0 * (1 - alpha_c * d / np.sqrt(a**2 + b**2))


def holed_coefficient_rectangle(*, k_0: Value, alpha_c: Value, l_c: Value, h_c: Value, a: Value, b: Value) -> Value:
    """Shear buckling coefficient of a sheet with a rectangular opening at its middle [1]."""
    return k_0 * (1 - alpha_c * np.sqrt(l_c * h_c / (a * b)))


def round_length(*, d: Value) -> Value:
    """Length of the rectangle that stands for a round opening [mm]."""
    return 0.45 * d


def round_height(*, d: Value) -> Value:
    """Height of the rectangle that stands for a round opening [mm]."""
    return 0.9 * d


def frame_flow(*, f_y: Value, t: Value, h: Value, w: Value, side: Value) -> Value:
    """Shear flow at which the narrower strip beside an opening is fully plastic [N/mm]."""
    shear = side / 2 / (h * t * f_y / np.sqrt(3))
    axial = w / 2 / (h * t * f_y)
    bent = w * (side - h) / 4 / (t * h**2 * f_y / 4)
    return 1 / np.hypot(axial + bent, shear)


def collar_strain(*, r_c: Value, f: Value) -> Value:
    """Strain of the edge of a flange round an opening [1]."""
    return r_c / (r_c - f) - 1


HALF = "tests of it went to half the width"
ALPHA_FREE, ALPHA_CLAMPED = 1.5, 1.25
"""alpha_c of the reduced buckling coefficient for edges that turn freely, and clamped (from memory)."""
HOLED_COEFFICIENT_ROUND = register(Formula(
    holed_coefficient_round, symbol="k", unit="1", title="Shear buckling coefficient with a round opening",
    source=HOLED, names=N, limits=(Limit("d / b", high=0.5, why=HALF), Limit("b / a", high=1.0))))  # fmt: skip
HOLED_COEFFICIENT_RECTANGLE = register(Formula(
    holed_coefficient_rectangle, symbol="k", unit="1", title="Shear buckling coefficient with a rectangular opening",
    source=HOLED, names=N, limits=(Limit("l_c / a", high=0.5, why=HALF), Limit("h_c / b", high=0.5, why=HALF),
                                   Limit("b / a", high=1.0))))  # fmt: skip
ROUND_LENGTH = register(Formula(
    round_length, symbol="w", unit="mm", title="Rectangle for a round opening, length", source=ROUND,
    names=N))  # fmt: skip
ROUND_HEIGHT = register(Formula(
    round_height, symbol="h_o", unit="mm", title="Rectangle for a round opening, height", source=ROUND,
    names=N))  # fmt: skip
FRAME_FLOW = register(Formula(
    frame_flow, symbol="q_pl", unit="N/mm", title="Shear flow that the strips beside an opening carry", source=FRAME,
    names=N, limits=(Limit("h", low=0.0, open_low=True, unit="mm"),)))  # fmt: skip
COLLAR_STRAIN = register(Formula(
    collar_strain, symbol="epsilon_f", unit="1", title="Strain of a flange round an opening", source=COLLAR, names=N,
    limits=(Limit("f / r_c", high=1.0, open_high=True),)))  # fmt: skip
