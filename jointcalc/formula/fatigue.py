"""Fatigue: nominal-stress detail categories of EN 1993-1-9, and the structural stress of a spot weld.

Stress ranges are of constant amplitude.  Direct stress: slope 3 to 5e6 cycles, slope 5 to the cut-off
at 1e8; shear: slope 5 to 1e8.  Below the cut-off a range does no damage.  The categories are the table
`fatigue_en1993_1_9`.  Where no category fits, nothing is said.

Spot welds: stress at the edge of the spot after Rupp, Storzel and Grubisic (SAE 950711).  Its plate
constants 1.744 and 1.872 are those of a clamped circular plate ten times the rigid spot across.
"""

from __future__ import annotations

import numpy as np

from jointcalc.formula.branch import at_least, at_most
from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register
from jointcalc.quantity.sentence import mm

EN19 = "EN 1993-1-9:2005"

N = Names(
    Delta_sigma_C=("MPa", "detail category: range of direct stress at 2 million cycles"),
    Delta_sigma_D=("MPa", "constant-amplitude limit at 5 million cycles"),
    Delta_tau_C=("MPa", "detail category: range of shear stress at 2 million cycles"),
    Delta_sigma=("MPa", "range of direct stress"),
    Delta_tau=("MPa", "range of shear stress"),
    Delta_sigma_R=("MPa", "strength for the cycles asked"),
    Delta_tau_R=("MPa", "shear strength for the cycles asked"),
    N_R=("1", "cycles"),
    f_y=("MPa", "yield strength"),
    F=("N", "shear force on the spot"),
    F_z=("N", "pull across the sheets on the spot"),
    M=("N*mm", "bending moment on the spot"),
    F_x=("N", "shear force on the spot, x"),
    F_y=("N", "shear force on the spot, y"),
    M_x=("N*mm", "bending moment about x"),
    M_y=("N*mm", "bending moment about y"),
    t=("mm", "sheet thickness"),
    d=("mm", "spot diameter"),
    theta=("rad", "angle round the edge of the spot, from x"),
    Delta_S=("MPa", "range of structural stress"),
    S_RI=("MPa", "intercept of the stress-life line at one cycle"),
    N=("1", "load changes asked for"),
)

GAMMA_MF = 1.35
"""Partial factor on fatigue strength, safe life with grave consequence (EN 1993-1-9 Table 3.1, from memory)."""
MOST_RANGE, THINNEST, SHORT_ATTACHMENT = 1.5, 4.0, 50.0
"""Direct stress range over the yield strength that EN 1993-1-9, 8(1) allows at most; the sheet [mm] its details begin
with, and the length of an attachment [mm] at which its category changes (Table 8.4, Table 8.5), from memory."""
CYCLES_3 = Limit("N_R", low=1e4, high=5e6, why="slope 3")
CYCLES_5 = Limit("N_R", low=5e6, high=1e8, why="slope 5")


def strength_slope_3(*, Delta_sigma_C: Value, N_R: Value) -> Value:
    """Range of direct stress [MPa] survived for `N_R` cycles, up to 5e6.  Source: EN 1993-1-9, 7.1(2)."""
    return Delta_sigma_C * (2e6 / N_R) ** (1 / 3)


def strength_slope_5(*, Delta_sigma_C: Value, N_R: Value) -> Value:
    """Range of direct stress [MPa] survived for `N_R` cycles, 5e6 to 1e8.  Source: EN 1993-1-9, 7.1(3)."""
    Delta_sigma_D = (2 / 5) ** (1 / 3) * Delta_sigma_C
    return Delta_sigma_D * (5e6 / N_R) ** (1 / 5)


def cut_off(*, Delta_sigma_C: Value) -> Value:
    """Range of direct stress [MPa] that does no damage.  Source: EN 1993-1-9, 7.1(3): 0.549 of the limit."""
    Delta_sigma_D = (2 / 5) ** (1 / 3) * Delta_sigma_C
    return (5 / 100) ** (1 / 5) * Delta_sigma_D


def shear_strength(*, Delta_tau_C: Value, N_R: Value) -> Value:
    """Range of shear stress [MPa] survived for `N_R` cycles, up to 1e8.  Source: EN 1993-1-9, 7.1(2)."""
    return Delta_tau_C * (2e6 / N_R) ** (1 / 5)


def shear_cut_off(*, Delta_tau_C: Value) -> Value:
    """Range of shear stress [MPa] that does no damage.  Source: EN 1993-1-9, 7.1(2): 0.457 of the category."""
    return (2 / 100) ** (1 / 5) * Delta_tau_C


def interaction(*, Delta_sigma: Value, Delta_sigma_R: Value, Delta_tau: Value, Delta_tau_R: Value) -> Value:
    """Use of both strengths together, at most 1.  Source: EN 1993-1-9, 8(3), eq. (8.3)."""
    return (Delta_sigma / Delta_sigma_R) ** 3 + (Delta_tau / Delta_tau_R) ** 5


# --- spot welds --------------------------------------------------------------------------------------


def spot_sheet_stress(
    *, F_x: Value, F_y: Value, F_z: Value, M_x: Value, M_y: Value, t: Value, d: Value, theta: Value
) -> Value:
    """Structural stress [MPa] in the sheet at the edge of the spot at angle `theta`.

    Compression across the sheets (F_z below zero) does no harm.  The factor 0.6·sqrt(t) on bending wants
    t in mm.  Source: Rupp, Storzel and Grubisic, SAE 950711.
    """
    kappa = 0.6 * np.sqrt(t)
    s_x = F_x / (np.pi * d * t)
    s_y = F_y / (np.pi * d * t)
    s_z = kappa * (1.744 * np.maximum(F_z, 0) / t**2)
    s_Mx = kappa * (1.872 * M_x / (d * t**2))
    s_My = kappa * (1.872 * M_y / (d * t**2))
    return -s_x * np.cos(theta) - s_y * np.sin(theta) + s_z + s_Mx * np.sin(theta) - s_My * np.cos(theta)


def spot_nugget_shear(*, F: Value, d: Value) -> Value:
    """Greatest shear stress [MPa] in the nugget, a round bar.  Source: Rupp, Storzel and Grubisic, SAE 950711."""
    return 16 * F / (3 * np.pi * d**2)


def spot_nugget_normal(*, F_z: Value, M: Value, d: Value) -> Value:
    """Greatest normal stress [MPa] in the nugget, a round bar.  Source: Rupp, Storzel and Grubisic, SAE 950711."""
    return 4 * F_z / (np.pi * d**2) + 32 * M / (np.pi * d**3)


def spot_cycles_high(*, S_RI: Value, Delta_S: Value) -> Value:
    """Cycles to failure of a spot, slope 6, up to a million; the constants are generic."""
    return (S_RI / Delta_S) ** 6


def spot_cycles_low(*, S_RI: Value, Delta_S: Value) -> Value:
    """Cycles to failure of a spot beyond a million, slope 11; the constants are generic."""
    S_6 = S_RI / 1e6 ** (1 / 6)
    return 1e6 * (S_6 / Delta_S) ** 11


def spot_strength_high(*, S_RI: Value, N: Value) -> Value:
    """Range of structural stress [MPa] a spot survives for `N` changes, slope 6, up to a million; generic constants."""
    return S_RI / N ** (1 / 6)


def spot_strength_low(*, S_RI: Value, N: Value) -> Value:
    """Range of structural stress [MPa] a spot survives for `N` changes, slope 11, over a million; generic constants."""
    S_6 = S_RI / 1e6 ** (1 / 6)
    return S_6 * (1e6 / N) ** (1 / 11)


def _19(clause: str) -> Source:
    return Source(EN19, clause)


RUPP = Source("Rupp, Storzel and Grubisic, SAE 950711", "", note="plate constants confirmed by plate theory")
GENERIC = Source("Generic spot-weld fatigue constants of the finite-element literature", "", note="low confidence")

STRENGTH_SLOPE_3 = register(
    Formula(
        strength_slope_3,
        symbol="Delta_sigma_R",
        unit="MPa",
        title="Fatigue strength, to 5 million cycles",
        source=_19("7.1(2)"),
        names=N,
        limits=(CYCLES_3,),
    )
)
STRENGTH_SLOPE_5 = register(
    Formula(
        strength_slope_5,
        symbol="Delta_sigma_R",
        unit="MPa",
        title="Fatigue strength, 5 to 100 million cycles",
        source=_19("7.1(3)"),
        names=N,
        limits=(CYCLES_5,),
        inner_units={"Delta_sigma_D": "MPa"},
    )
)
CUT_OFF = register(
    Formula(
        cut_off,
        symbol="Delta_sigma_L",
        unit="MPa",
        title="Cut-off of the direct stress range",
        source=_19("7.1(3)"),
        names=N,
        inner_units={"Delta_sigma_D": "MPa"},
    )
)
SHEAR_STRENGTH = register(
    Formula(
        shear_strength,
        symbol="Delta_tau_R",
        unit="MPa",
        title="Fatigue strength in shear, to 100 million cycles",
        source=_19("7.1(2)"),
        names=N,
        limits=(Limit("N_R", low=1e4, high=1e8),),
    )
)
SHEAR_CUT_OFF = register(
    Formula(
        shear_cut_off,
        symbol="Delta_tau_L",
        unit="MPa",
        title="Cut-off of the shear stress range",
        source=_19("7.1(2)"),
        names=N,
    )
)
INTERACTION = register(
    Formula(
        interaction,
        symbol="U",
        unit="1",
        title="Direct and shear range together",
        source=_19("8(3), eq. (8.3)"),
        names=N,
    )
)
SPOT_SHEET_STRESS = register(
    Formula(
        spot_sheet_stress,
        symbol="S",
        unit="MPa",
        title="Structural stress in the sheet at the edge of a spot",
        source=RUPP,
        names=N,
        inner_units={"kappa": "1", "s_x": "MPa", "s_y": "MPa", "s_z": "MPa", "s_Mx": "MPa", "s_My": "MPa"},
        limits=(
            Limit("d / t**0.5", low=3.5, why="a smaller spot fails through the nugget; t and d in mm"),
            Limit("t", low=0.5, high=3.0, unit="mm", why="sheet the method was made for"),
        ),
    )
)
SPOT_NUGGET_SHEAR = register(
    Formula(
        spot_nugget_shear,
        symbol="tau_n",
        unit="MPa",
        title="Shear stress in the nugget",
        source=RUPP,
        names=N,
    )
)
SPOT_NUGGET_NORMAL = register(
    Formula(
        spot_nugget_normal,
        symbol="sigma_n",
        unit="MPa",
        title="Normal stress in the nugget",
        source=RUPP,
        names=N,
    )
)
SPOT_CYCLES_HIGH = register(
    Formula(
        spot_cycles_high,
        symbol="N_f",
        unit="1",
        title="Cycles of a spot, to a million",
        source=GENERIC,
        names=N,
        limits=(Limit("(S_RI / Delta_S) ** 6", low=1e3, high=1e6),),
    )
)
SPOT_CYCLES_LOW = register(
    Formula(
        spot_cycles_low,
        symbol="N_f",
        unit="1",
        title="Cycles of a spot, beyond a million",
        source=GENERIC,
        names=N,
        inner_units={"S_6": "MPa"},
        limits=(Limit("(S_RI / Delta_S) ** 6", low=1e6),),
    )
)
SPOT_STRENGTH_HIGH = register(
    Formula(
        spot_strength_high,
        symbol="Delta_S_R",
        unit="MPa",
        title="Stress range of a spot, to a million",
        source=GENERIC,
        names=N,
        limits=(Limit("N", low=1e3, high=1e6, why="the line starts at 1000 load changes"),),
    )
)
SPOT_STRENGTH_LOW = register(
    Formula(
        spot_strength_low,
        symbol="Delta_S_R",
        unit="MPa",
        title="Stress range of a spot, beyond a million",
        source=GENERIC,
        names=N,
        inner_units={"S_6": "MPa"},
        limits=(Limit("N", low=1e6),),
    )
)
LEAST_IN_SHEET = 3.5
"""A spot smaller than this times the root of the thickness (both in mm) cracks itself and not the sheet."""
GENERIC_INTERCEPT = {"sheet": 2100.0, "nugget": 2900.0}
"""Stress-range intercepts [MPa] that circulate for spot welds; from memory, low confidence."""


def strength(*, N_R: float) -> tuple[Formula, str]:
    """The direct-stress strength formula for `N_R` cycles, and why; continuous at 5e6 and at 1e8."""
    if at_most(N_R, 5e6):
        return STRENGTH_SLOPE_3, f"{N_R:.4g} cycles, up to 5 million: slope 3"
    if at_most(N_R, 1e8):
        return STRENGTH_SLOPE_5, f"{N_R:.4g} cycles, up to 100 million: slope 5"
    return CUT_OFF, f"{N_R:.4g} cycles, over 100 million: the cut-off"


def shear(*, N_R: float) -> tuple[Formula, str]:
    """The shear strength formula for `N_R` cycles, and why; continuous at 1e8."""
    if at_most(N_R, 1e8):
        return SHEAR_STRENGTH, f"{N_R:.4g} cycles, up to 100 million: slope 5"
    return SHEAR_CUT_OFF, f"{N_R:.4g} cycles, over 100 million: the cut-off"


def spot_failure(*, d: float, t: float) -> tuple[str, str]:
    """Where a spot cracks, `sheet` or `nugget`, and why: nugget below 3.5·sqrt(t), both in mm."""
    limit = LEAST_IN_SHEET * t**0.5
    if at_least(d, limit):  # the class `minimum` is the limit itself, in inches too
        return "sheet", f"spot {mm(d):.4g}, at least 3.5·√t = {mm(limit):.4g}"
    return "nugget", f"spot {mm(d):.4g}, under 3.5·√t = {mm(limit):.4g}"
