"""Plug and slot welds in a punched hole: AISC 360 J2.3 and EN 1993-1-8, clauses 4.3.5 and 4.6.

AISC results are nominal strengths (phi 0.75, Omega 2.00), EN results characteristic resistances before gamma_M2.
Both clauses give strength in shear along the faying surface only.  The limits on hole, fill and spacing were read in a
published summary except the plug spacing and the slot length, which are from memory.
"""

from __future__ import annotations

import numpy as np

from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register
from jointcalc.formula.safety import Safety
from jointcalc.quantity.sentence import mm

AREA = Source("AISC 360-16", "J2.3a", status="second-hand")
LIMITS_READ = Source("AISC 360-16", "J2.3b", status="read")
LIMITS_MEMORY = Source("AISC 360-16", "J2.3b", status="from memory")
STRENGTH = Source("AISC 360-16", "J2.4, Table J2.5", status="second-hand", note="row read in the LRFD edition of 1993")
EN_STRENGTH = Source("EN 1993-1-8:2005", "4.6, 4.5.3.3", status="from memory")
PRACTICE = Source("common practice, no source", "", status="common practice")

SAFETY = Safety(2.00, 0.75)

NAMES = Names(
    d=("mm", "diameter of the hole, or width of the slot"),
    d_min=("mm", "least diameter of the hole"),
    l=("mm", "length of the slot, overall"),
    t=("mm", "thickness of the sheet with the hole"),
    w=("mm", "thickness of the weld (depth of fill)"),
    A_w=("mm^2", "area of the hole or slot at the faying surface"),
    F_EXX=("MPa", "tensile strength of the weld metal by classification"),
    f_u=("MPa", "tensile strength of the weaker part joined"),
    beta_w=("1", "correlation factor"),
)


def hole_area(*, d: Value) -> Value:
    """Area A_w [mm²] of a round hole of diameter `d` [mm].

    Source: AISC 360-16 J2.3a: the nominal area of the hole in the plane of the faying surface.
    """
    return np.pi * d**2 / 4.0


def slot_area(*, d: Value, l: Value) -> Value:
    """Area A_w [mm²] of a slot with semicircular ends, width `d` and overall length `l` [mm].

    Source: AISC 360-16 J2.3a: the nominal area of the slot in the plane of the faying surface.
    """
    return d * (l - d) + np.pi * d**2 / 4.0


def weld_shear(*, A_w: Value, F_EXX: Value) -> Value:
    """Nominal shear strength R_n [N] of a plug or slot weld; `A_w` [mm²], `F_EXX` [MPa].

    Source: AISC 360-16 Table J2.5, plug and slot welds.
    """
    return 0.60 * F_EXX * A_w


def weld_shear_en(*, A_w: Value, f_u: Value, beta_w: Value) -> Value:
    """Characteristic shear resistance F_w,R [N] of a plug weld: f_vw A_w with f_vw = f_u/(sqrt(3) beta_w).

    Source: EN 1993-1-8:2005, 4.6(1) with 4.5.3.3(3), without gamma_M2 (from memory).
    """
    f_vw = f_u / np.sqrt(3.0) / beta_w
    return f_vw * A_w


def least_hole(*, t: Value) -> Value:
    """Least diameter of the hole (width of the slot) [mm]: t + 8 mm (t + 5/16 in).

    AISC rounds up to the next odd 1/16 in.
    Source: AISC 360-16 J2.3b; EN 1993-1-8:2005, 4.3.5(2) has the same.
    """
    return t + 8.0


def greatest_hole(*, d_min: Value, w: Value) -> Value:
    """Greatest diameter of the hole [mm]: the least plus 3 mm (1/8 in), or 2.25 times the weld's thickness.

    Source: AISC 360-16 J2.3b.
    """
    return np.maximum(d_min + 3.0, 2.25 * w)


def least_plug_spacing(*, d: Value) -> Value:
    """Least distance [mm] between centres of plug welds.

    Source: AISC 360-16 J2.3b (from memory).
    """
    return 4.0 * d


def least_slot_spacing_across(*, d: Value) -> Value:
    """Least distance [mm] between lines of slots, across their length.

    Source: AISC 360-16 J2.3b.
    """
    return 4.0 * d


def least_slot_spacing_along(*, l: Value) -> Value:
    """Least distance [mm] between centres of slots along a line.

    Source: AISC 360-16 J2.3b.
    """
    return 2.0 * l


def greatest_slot_length(*, w: Value) -> Value:
    """Greatest length of a slot [mm] for a weld of thickness `w` [mm].

    Source: AISC 360-16 J2.3b (from memory).
    """
    return 10.0 * w


def least_fill(*, t: Value) -> Value:
    """Least depth of fill [mm]: the full sheet up to 16 mm (5/8 in), else half of it but not under 16 mm.

    Source: AISC 360-16 J2.3b.
    """
    return np.where(t <= 16.0, t, np.maximum(t / 2.0, 16.0))


HOLE_AREA = register(
    Formula(hole_area, symbol="A_w", unit="mm^2", title="Area of a plug weld", source=AREA, names=NAMES)
)
SLOT_AREA = register(
    Formula(
        slot_area,
        symbol="A_w",
        unit="mm^2",
        title="Area of a slot weld",
        source=AREA,
        names=NAMES,
        limits=(Limit("l / d", low=1.0, why="a slot is at least as long as it is wide"),),
    )
)
CODE_HOLE = (
    Limit("d - t", low=8.0, unit="mm", why=f"the structural clause asks for a hole of at least t + {mm(8)}"),
    Limit("w / np.where(t <= 16, t, np.maximum(t / 2, 16))", low=1.0, why="depth of fill against the least depth"),
)
THIN_D11 = 3.0
"""Thinnest part of AWS D1.1 [mm] (1/8 in), the welding code AISC 360 rests on; thinner sheet tears first."""
WELD_SHEAR = register(
    Formula(
        weld_shear,
        symbol="R_n",
        unit="N",
        title="Shear of a plug or slot weld",
        source=STRENGTH,
        names=NAMES,
        limits=CODE_HOLE,
    )
)
WELD_SHEAR_EN = register(
    Formula(
        weld_shear_en,
        symbol="F_w",
        unit="N",
        title="Shear of a plug weld",
        source=EN_STRENGTH,
        names=NAMES,
        inner_units={"f_vw": "MPa"},
        limits=(
            Limit("t", low=4.0, unit="mm", why=f"EN 1993-1-8 is for parts of {mm(4)} and more"),
            Limit("d - t", low=8.0, unit="mm", why=f"hole at least t + {mm(8)}"),
            Limit("w / np.where(t <= 16, t, np.maximum(t / 2, 16))", low=1.0, why="depth of fill"),
        ),
    )
)
LEAST_HOLE = register(
    Formula(least_hole, symbol="d_min", unit="mm", title="Least hole of a plug weld", source=LIMITS_READ, names=NAMES)
)
GREATEST_HOLE = register(
    Formula(
        greatest_hole,
        symbol="d_max",
        unit="mm",
        title="Greatest hole of a plug weld",
        source=LIMITS_READ,
        names=NAMES,
    )
)
LEAST_PLUG_SPACING = register(
    Formula(
        least_plug_spacing,
        symbol="s_min",
        unit="mm",
        title="Least spacing of plug welds",
        source=LIMITS_MEMORY,
        names=NAMES,
    )
)
LEAST_SLOT_SPACING_ACROSS = register(
    Formula(
        least_slot_spacing_across,
        symbol="s_min",
        unit="mm",
        title="Least spacing of slot welds across",
        source=LIMITS_READ,
        names=NAMES,
    )
)
LEAST_SLOT_SPACING_ALONG = register(
    Formula(
        least_slot_spacing_along,
        symbol="s_min",
        unit="mm",
        title="Least spacing of slot welds along",
        source=LIMITS_READ,
        names=NAMES,
    )
)
GREATEST_SLOT_LENGTH = register(
    Formula(
        greatest_slot_length,
        symbol="l_max",
        unit="mm",
        title="Greatest length of a slot weld",
        source=LIMITS_MEMORY,
        names=NAMES,
    )
)
LEAST_FILL = register(
    Formula(least_fill, symbol="w_min", unit="mm", title="Least fill of a plug weld", source=LIMITS_READ, names=NAMES)
)
