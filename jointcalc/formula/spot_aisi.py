"""AISI S100 resistance spot welds, spacing in compression, and rupture of the sheet along a row."""

from __future__ import annotations

import numpy as np

from jointcalc.formula.branch import at_least
from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register

S100 = Source("AISI S100-16", "J2.7", "from memory", "E2.7 in S100-12, E2.6 in S100-07; size limits read")
SPACING = Source("AISI S100-16", "I1.3", "from memory", "D1.3 before 2016")
RUPTURE = Source("AISI S100-16", "J6.1", "from memory")

N = Names(
    t=("mm", "thickness of the thinnest outside sheet"),
    E=("MPa", "modulus of elasticity, 203 000 MPa in this standard"),
    f_c=("MPa", "compressive stress in the sheet under service load"),
    f_y=("MPa", "yield strength"),
    f_u=("MPa", "tensile strength"),
    w=("mm", "flat width of the narrowest unstiffened compression part beside the row"),
    A_nv=("mm^2", "net area in shear"),
)

THICK_FROM = 3.56
"""Thickness from which the line for thick sheet holds [mm]; the power law ends 0.01 % above it."""
OMEGA_TABLES = 2.50
"""Safety factor on the spot tables of AISI 1996 and ASCE 8."""
OMEGA = 2.35
"""Safety factor on a resistance spot (2007 edition on)."""
OMEGA_RUPTURE_WELDED = 2.50
"""Safety factor on rupture beside welds."""


def spot_thin(*, t: Value) -> Value:
    """Nominal shear of one spot [N], 0.25 mm <= t < 3.56 mm."""
    return 5.51 * t**1.47 * 1000


def spot_thick(*, t: Value) -> Value:
    """Nominal shear of one spot [N], 3.56 mm <= t <= 4.57 mm."""
    return (7.6 * t + 8.57) * 1000


def pitch_wave(*, t: Value, E: Value, f_c: Value) -> Value:
    """Widest pitch so that the sheet does not buckle between spots [mm]: limit (b)."""
    return 1.16 * t * np.sqrt(E / f_c)


def pitch_outstand(*, w: Value) -> Value:
    """Widest pitch from the flat width beside the row [mm]: limit (c)."""
    return 3 * w


def pitch_outstand_floor_stocky(*, t: Value, E: Value, f_y: Value) -> Value:
    """Pitch below which limit (c) need not go [mm], w/t < 0.50 sqrt(E/f_y)."""
    return 1.11 * t * np.sqrt(E / f_y)


def pitch_outstand_floor_slender(*, t: Value, E: Value, f_y: Value) -> Value:
    """Pitch below which limit (c) need not go [mm], w/t >= 0.50 sqrt(E/f_y)."""
    return 1.33 * t * np.sqrt(E / f_y)


def shear_rupture(*, A_nv: Value, f_u: Value) -> Value:
    """Rupture of the sheet along the row of spots [N]."""
    return 0.6 * f_u * A_nv


SPOT_THIN = register(
    Formula(
        spot_thin, symbol="P_n", unit="N", title="Resistance spot, thin sheet", source=S100, names=N,
        limits=(Limit("t", low=0.25, high=THICK_FROM, open_high=True, unit="mm", why="thinnest outside sheet"),),
    )
)  # fmt: skip
SPOT_THICK = register(
    Formula(
        spot_thick, symbol="P_n", unit="N", title="Resistance spot, thick sheet", source=S100, names=N,
        limits=(Limit("t", low=THICK_FROM, high=4.57, unit="mm", why="thinnest outside sheet"),),
    )
)  # fmt: skip
PITCH_WAVE = register(
    Formula(pitch_wave, symbol="s_b", unit="mm", title="Pitch, buckling between spots", source=SPACING, names=N)
)
PITCH_OUTSTAND = register(
    Formula(pitch_outstand, symbol="s_c", unit="mm", title="Pitch, flat width beside the row", source=SPACING, names=N)
)
PITCH_OUTSTAND_FLOOR_STOCKY = register(
    Formula(
        pitch_outstand_floor_stocky, symbol="s_c,min", unit="mm", title="Floor of limit (c), stocky", source=SPACING,
        names=N, limits=(Limit("w / t / np.sqrt(E / f_y)", high=0.5, open_high=True),),
    )
)  # fmt: skip
PITCH_OUTSTAND_FLOOR_SLENDER = register(
    Formula(
        pitch_outstand_floor_slender, symbol="s_c,min", unit="mm", title="Floor of limit (c), slender",
        source=SPACING, names=N, limits=(Limit("w / t / np.sqrt(E / f_y)", low=0.5),),
    )
)  # fmt: skip
SHEAR_RUPTURE = register(
    Formula(shear_rupture, symbol="P_nv", unit="N", title="Shear rupture along the row", source=RUPTURE, names=N)
)


def spot(t: float) -> Formula:
    """The branch for that thickness [mm]: a smooth power law for thin sheet, a line for thick."""
    return SPOT_THICK if at_least(t, THICK_FROM) else SPOT_THIN
