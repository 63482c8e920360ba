"""Arc spot welds in sheet by EN 1993-1-3, clause 8.5.3: shear only.

The results are characteristic resistances: the division by gamma_M2 = 1.25 that the standard prints is left to the
required factor.  Expressions are from memory; the limits on sheet thickness (4 mm in all), interface diameter (10 mm)
and weld washer (below 0.7 mm) were read in the 1996 pre-standard, clause 8.6.3, which prints a single peripheral line
in place of the three branches (conflict kept, the branches are used).
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register

CLAUSE = Source("EN 1993-1-3:2006", "8.5.3", status="from memory")

NAMES = Names(
    d_w=("mm", "visible diameter of the arc spot weld"),
    d_s=("mm", "interface diameter of the arc spot weld"),
    d_p=("mm", "effective peripheral diameter of the arc spot weld"),
    t=("mm", "thickness of the sheet"),
    S_t=("mm", "total thickness of the connected sheets, Σt"),
    L_w=("mm", "length of an elongated arc spot weld between the centres of its end circles"),
    f_u=("MPa", "tensile strength of the sheet"),
    f_uw=("MPa", "tensile strength of the weld metal"),
    F_w_Sd=("N", "force on one weld, design level"),
    gamma_M2=("1", "partial factor on resistance"),
)

LIMITS = (
    Limit("S_t", high=4.0, unit="mm", why="connected sheets together"),
    Limit("d_s", low=10.0, unit="mm", why="least interface diameter"),
    Limit("t", low=0.7, unit="mm", why="thinner sheet needs a weld washer"),
)


def interface_diameter(*, d_w: Value, S_t: Value) -> Value:
    """Interface diameter d_s [mm]; `d_w`, `S_t` [mm].

    Conflict kept: AISI prints 0.55 d as an upper limit, this standard as a lower one.
    Source: EN 1993-1-3:2006, 8.5.3(6), eq. 8.6 (from memory).
    """
    return np.maximum(0.7 * d_w - 1.5 * S_t, 0.55 * d_w)


def peripheral_diameter_one_sheet(*, d_w: Value, t: Value) -> Value:
    """Effective peripheral diameter d_p [mm] for one sheet of thickness `t` [mm].

    Source: EN 1993-1-3:2006, 8.5.3(7) (from memory).
    """
    return d_w - t


def peripheral_diameter_sheets(*, d_w: Value, S_t: Value) -> Value:
    """Effective peripheral diameter d_p [mm] for several sheets of total thickness `S_t` [mm].

    Source: EN 1993-1-3:2006, 8.5.3(7) (from memory).
    """
    return d_w - 2.0 * S_t


def weld_shear(*, d_s: Value, f_uw: Value) -> Value:
    """Characteristic shear resistance F_w,R [N] of the weld metal; `d_s` [mm], `f_uw` [MPa].

    Source: EN 1993-1-3:2006, 8.5.3(5), eq. 8.5a without gamma_M2 (from memory).
    """
    return np.pi / 4.0 * d_s**2 * 0.625 * f_uw


def peripheral_stocky(*, d_p: Value, S_t: Value, f_u: Value) -> Value:
    """Characteristic resistance F_w,R [N] of the sheet round the weld, d_p/Σt <= 18 sqrt(420/f_u).

    Source: EN 1993-1-3:2006, 8.5.3(5), eq. 8.5b without gamma_M2 (from memory).
    """
    return 1.5 * d_p * S_t * f_u


def peripheral_middle(*, S_t: Value, f_u: Value) -> Value:
    """Characteristic resistance F_w,R [N] of the sheet, 18 sqrt(420/f_u) < d_p/Σt < 30 sqrt(420/f_u).

    Source: EN 1993-1-3:2006, 8.5.3(5), eq. 8.5c without gamma_M2 (from memory).
    """
    return 27.0 * np.sqrt(420.0 / f_u) * S_t**2 * f_u


def peripheral_slender(*, d_p: Value, S_t: Value, f_u: Value) -> Value:
    """Characteristic resistance F_w,R [N] of the sheet round the weld, d_p/Σt >= 30 sqrt(420/f_u).

    Source: EN 1993-1-3:2006, 8.5.3(5), eq. 8.5d without gamma_M2 (from memory).
    """
    return 0.9 * d_p * S_t * f_u


def elongated_weld_shear(*, d_s: Value, L_w: Value, f_uw: Value) -> Value:
    """Characteristic shear resistance F_w,R [N] of the metal of an elongated arc spot weld.

    Source: EN 1993-1-3:2006, 8.5.3(8), eq. 8.8a without gamma_M2 (from memory).
    """
    return (np.pi / 4.0 * d_s**2 + L_w * d_s) * 0.625 * f_uw


def elongated_peripheral(*, L_w: Value, d_p: Value, S_t: Value, f_u: Value) -> Value:
    """Characteristic resistance F_w,R [N] of the sheet round an elongated arc spot weld.

    Source: EN 1993-1-3:2006, 8.5.3(8), eq. 8.8b without gamma_M2 (from memory).
    """
    return (0.5 * L_w + 1.67 * d_p) * S_t * f_u


def least_edge_distance_low_ratio(*, F_w_Sd: Value, t: Value, f_u: Value, gamma_M2: Value) -> Value:
    """Least distance e_min [mm] from the weld's centre to the edge along the force, f_u/f_y <= 1.15.

    Source: EN 1993-1-3:2006, 8.5.3(3) (from memory).
    """
    return 1.8 * F_w_Sd / (t * f_u / gamma_M2)


def least_edge_distance_high_ratio(*, F_w_Sd: Value, t: Value, f_u: Value, gamma_M2: Value) -> Value:
    """Least distance e_min [mm] from the weld's centre to the edge along the force, f_u/f_y > 1.15.

    Source: EN 1993-1-3:2006, 8.5.3(3) (from memory).
    """
    return 2.1 * F_w_Sd / (t * f_u / gamma_M2)


INTERFACE_DIAMETER = register(
    Formula(
        interface_diameter,
        symbol="d_s",
        unit="mm",
        title="Interface diameter of an arc spot weld",
        source=CLAUSE,
        names=NAMES,
    )
)
PERIPHERAL_DIAMETER_ONE_SHEET = register(
    Formula(
        peripheral_diameter_one_sheet,
        symbol="d_p",
        unit="mm",
        title="Peripheral diameter of an arc spot weld, one sheet",
        source=CLAUSE,
        names=NAMES,
    )
)
PERIPHERAL_DIAMETER_SHEETS = register(
    Formula(
        peripheral_diameter_sheets,
        symbol="d_p",
        unit="mm",
        title="Peripheral diameter of an arc spot weld, several sheets",
        source=CLAUSE,
        names=NAMES,
    )
)
WELD_SHEAR = register(
    Formula(
        weld_shear,
        symbol="F_w",
        unit="N",
        title="Shear of the weld metal of an arc spot",
        source=CLAUSE,
        names=NAMES,
        limits=LIMITS,
    )
)
SLENDERNESS = "(d_p / S_t) / np.sqrt(420 / f_u)"
PERIPHERAL_STOCKY = register(
    Formula(
        peripheral_stocky,
        symbol="F_w",
        unit="N",
        title="Sheet round an arc spot, stocky",
        source=CLAUSE,
        names=NAMES,
        limits=(*LIMITS, Limit(SLENDERNESS, high=18.0)),
    )
)
PERIPHERAL_MIDDLE = register(
    Formula(
        peripheral_middle,
        symbol="F_w",
        unit="N",
        title="Sheet round an arc spot, middle range",
        source=CLAUSE,
        names=NAMES,
        limits=(*LIMITS, Limit(SLENDERNESS, low=18.0, high=30.0)),
    )
)
PERIPHERAL_SLENDER = register(
    Formula(
        peripheral_slender,
        symbol="F_w",
        unit="N",
        title="Sheet round an arc spot, slender",
        source=CLAUSE,
        names=NAMES,
        limits=(*LIMITS, Limit(SLENDERNESS, low=30.0)),
    )
)
ELONGATED_WELD_SHEAR = register(
    Formula(
        elongated_weld_shear,
        symbol="F_w",
        unit="N",
        title="Shear of the weld metal of an elongated arc spot",
        source=CLAUSE,
        names=NAMES,
        limits=LIMITS,
    )
)
ELONGATED_PERIPHERAL = register(
    Formula(
        elongated_peripheral,
        symbol="F_w",
        unit="N",
        title="Sheet round an elongated arc spot",
        source=CLAUSE,
        names=NAMES,
        limits=LIMITS,
    )
)
LEAST_EDGE_LOW = register(
    Formula(
        least_edge_distance_low_ratio,
        symbol="e_min",
        unit="mm",
        title="Least edge distance of an arc spot for its force",
        source=CLAUSE,
        names=NAMES,
        limits=(Limit("f_u / f_y", high=1.15, why="tensile over yield strength"),),
    )
)
LEAST_EDGE_HIGH = register(
    Formula(
        least_edge_distance_high_ratio,
        symbol="e_min",
        unit="mm",
        title="Least edge distance of an arc spot for its force",
        source=CLAUSE,
        names=NAMES,
        limits=(Limit("f_u / f_y", low=1.15, open_low=True, why="tensile over yield strength"),),
    )
)


class Branch(NamedTuple):
    """The peripheral branch that applies, and why."""

    formula: Formula
    why: str


def peripheral(*, d_p: float, S_t: float, f_u: float) -> Branch:
    """Which peripheral branch of 8.5.3(5) applies; lengths [mm], `f_u` [MPa].

    Source: EN 1993-1-3:2006, 8.5.3(5) (from memory).
    """
    slenderness = (d_p / S_t) / (420.0 / f_u) ** 0.5
    shown = f"d_p/Σt = {d_p / S_t:.3g} is {slenderness:.3g} sqrt(420/f_u)"
    if slenderness <= 18.0:
        return Branch(PERIPHERAL_STOCKY, f"{shown}, at most 18")
    if slenderness < 30.0:
        return Branch(PERIPHERAL_MIDDLE, f"{shown}, between 18 and 30")
    return Branch(PERIPHERAL_SLENDER, f"{shown}, at least 30")
