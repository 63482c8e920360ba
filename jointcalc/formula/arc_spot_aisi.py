"""Arc spot (puddle) and arc seam welds by AISI S100: sheet welded through to thicker steel, or to another sheet.

Source: AISI S100-16, J2.2 and J2.3 (E2.2 and E2.3 before 2016).  The least effective
diameter, the greatest sheet thickness and the weld-washer rule were read in a published summary.  The
results are nominal strengths; the factors stand beside them as `Safety` pairs.

The clause is written for a puddle burnt through the sheet: no hole is punched first.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from jointcalc.formula import aisi_s100
from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register
from jointcalc.formula.safety import Safety

SHEAR = Source("AISI S100-16", "J2.2.2", status="from memory")
SHEET_TO_SHEET = Source("AISI S100-16", "J2.2.2.2", status="from memory")
TENSION = Source("AISI S100-16", "J2.2.3", status="from memory")
INTERACTION = Source("AISI S100-16", "J2.2.4", status="from memory")
EDGE = Source("AISI S100-16", "J2.2.1", status="from memory")
SEAM = Source("AISI S100-16", "J2.3", status="from memory")
RUPTURE = Source("AISI S100-16", "J6.1", status="from memory")

OMEGA_WELD = Safety(2.55, 0.60)
OMEGA_SHEET_STOCKY = Safety(2.20, 0.70)
OMEGA_SHEET_MIDDLE = Safety(2.80, 0.55)
OMEGA_SHEET_SLENDER = Safety(3.05, 0.50)
OMEGA_SHEET_TO_SHEET = Safety(2.20, 0.70)
OMEGA_TENSION_DECK = Safety(2.50, 0.60)
OMEGA_TENSION_OTHER = Safety(3.00, 0.50)
OMEGA_SEAM = Safety(2.55, 0.60)
OMEGA_RUPTURE = Safety(2.50, 0.60)

E_AISI = aisi_s100.E
"""Modulus of elasticity [MPa] of AISI S100 (29 500 ksi); EN 1993 has 210 000."""

LEAST_EFFECTIVE_DIAMETER = 9.525
"""Least effective diameter [mm]: 3/8 in (read)."""
THICKEST_SHEETS = 3.81
"""Greatest thickness of the sheets welded through [mm]: 0.15 in (read)."""
UPLIFT_EDGE, UPLIFT_SIDE_LAP = 0.5, 0.7
"""Parts of the uplift strength that count at the edge of a sheet and at a side lap (J2.2.3)."""
UPLIFT_ALONE = 0.15
"""(T/T_a)^1.5 up to which shear and uplift need not be added (J2.2.4)."""
WASHER_BELOW = 0.7112
"""A weld washer is needed for sheet thinner than this [mm]: 0.028 in (read)."""

NAMES = Names(
    d=("mm", "visible diameter of the weld's outer surface"),
    d_a=("mm", "average diameter at mid-thickness of the sheets"),
    d_e=("mm", "effective diameter of the fused area at the faying surface"),
    t=("mm", "total base-steel thickness of the sheets welded through, without coating"),
    t_1=("mm", "thickness of one sheet"),
    L=("mm", "length of the seam weld between the centres of its end circles"),
    F_u=("MPa", "tensile strength of the sheet"),
    F_y=("MPa", "yield strength of the sheet"),
    F_xx=("MPa", "tensile strength of the weld metal by classification"),
    E=("MPa", "modulus of elasticity of the sheet"),
    V=("N", "shear on one weld"),
    T=("N", "tension on one weld"),
    V_a=("N", "available shear strength of one weld"),
    T_a=("N", "available tension strength of one weld"),
    e_net=("mm", "clear distance from the weld to the end of the sheet, along the force"),
)

SHEETS = Limit("t", high=THICKEST_SHEETS, unit="mm", why="0.15 in, all sheets welded through together")
WASHER = Limit("t_1", low=WASHER_BELOW, unit="mm", why="thinner sheet needs a weld washer")
FUSED = Limit("d_e", low=LEAST_EFFECTIVE_DIAMETER, unit="mm", why="3/8 in is the least effective diameter")


def average_diameter_one_sheet(*, d: Value, t: Value) -> Value:
    """Average diameter d_a [mm] of a spot through one sheet; `d`, `t` [mm].

    Source: AISI S100-16 J2.2.2.1, definition of d_a.
    """
    return d - t


def average_diameter_lapped(*, d: Value, t: Value) -> Value:
    """Average diameter d_a [mm] of a spot through two to four lapped sheets of total thickness `t` [mm].

    Source: AISI S100-16 J2.2.2.1, definition of d_a (from memory).
    """
    return d - 2.0 * t


def effective_diameter(*, d: Value, t: Value) -> Value:
    """Effective diameter d_e [mm] at the faying surface; `d`, `t` [mm].

    Conflict kept: AISI prints the second term as an upper limit, EN 1993-1-3 as a lower one; a published research
    summary recommends to drop the upper limit.
    Source: AISI S100-16 J2.2.2.1; the first term read in AWS D1.3, 2.2.6.
    """
    return np.minimum(0.7 * d - 1.5 * t, 0.55 * d)


def weld_shear(*, d_e: Value, F_xx: Value) -> Value:
    """Nominal shear strength P_n [N] of the weld metal; `d_e` [mm], `F_xx` [MPa].  Omega 2.55, phi 0.60.

    Source: AISI S100-16 eq. J2.2.2.1-1.
    """
    return np.pi * d_e**2 / 4.0 * 0.75 * F_xx


def sheet_shear_stocky(*, t: Value, d_a: Value, F_u: Value) -> Value:
    """Nominal strength P_n [N] of the sheet around a spot, d_a/t <= 0.815 sqrt(E/F_u).  Omega 2.20, phi 0.70.

    Source: AISI S100-16 eq. J2.2.2.1-2.
    """
    return 2.20 * t * d_a * F_u


def sheet_shear_middle(*, t: Value, d_a: Value, F_u: Value, E: Value) -> Value:
    """Nominal strength P_n [N] of the sheet, 0.815 sqrt(E/F_u) < d_a/t < 1.397 sqrt(E/F_u).  Omega 2.80, phi 0.55.

    Source: AISI S100-16 eq. J2.2.2.1-3 (from memory).
    """
    return 0.280 * (1.0 + 5.59 * np.sqrt(E / F_u) / (d_a / t)) * t * d_a * F_u


def sheet_shear_slender(*, t: Value, d_a: Value, F_u: Value) -> Value:
    """Nominal strength P_n [N] of the sheet, d_a/t >= 1.397 sqrt(E/F_u).  Omega 3.05, phi 0.50.

    Source: AISI S100-16 eq. J2.2.2.1-4.
    """
    return 1.40 * t * d_a * F_u


def sheet_to_sheet_shear(*, t: Value, d_a: Value, F_u: Value) -> Value:
    """Nominal shear strength P_n [N] of a spot between two sheets of thickness `t`.  Omega 2.20, phi 0.70.

    Source: AISI S100-16 eq. J2.2.2.2-1 (from memory).
    """
    return 1.65 * t * d_a * F_u


def weld_tension(*, d_e: Value, F_xx: Value) -> Value:
    """Nominal tension (uplift) strength P_n [N] of the weld metal; `d_e` [mm], `F_xx` [MPa].

    A published research summary (AISI RP16-1) found that this rule overpredicts strength substantially.
    Source: AISI S100-16 eq. J2.2.3-1 (from memory).
    """
    return np.pi * d_e**2 / 4.0 * F_xx


def sheet_tension(*, t: Value, d_a: Value, F_u: Value, F_y: Value) -> Value:
    """Nominal tension (uplift) strength P_n [N] of the sheet around a spot; `t`, `d_a` [mm], `F_u`, `F_y` [MPa].

    Half of it for eccentric load (edge of a panel), 0.7 of it at a side lap between sheets.
    Source: AISI S100-16 eq. J2.2.3-2 (from memory).
    """
    return 0.8 * (F_u / F_y) ** 2 * t * d_a * F_u


def shear_and_tension(*, V: Value, V_a: Value, T: Value, T_a: Value) -> Value:
    """Interaction sum of shear and tension on one spot, at most 1; needed only if (T/T_a)^1.5 > 0.15.

    Source: AISI S100-16 J2.2.4 (from memory).
    """
    return (V / V_a) ** 1.5 + (T / T_a) ** 1.5


def least_edge_distance(*, d: Value) -> Value:
    """Least distance [mm] from the centre of a spot to an end or edge; the clear distance is at least d as well.

    Source: AISI S100-16 J2.2.1 (from memory).
    """
    return 1.5 * d


def sheet_end_rupture(*, F_u: Value, t: Value, e_net: Value) -> Value:
    """Nominal strength [N] against tear-out of the sheet on two planes between weld and end.  Omega 2.50, phi 0.60.

    0.6 F_u A_nv with A_nv = 2 t e_net.
    Source: AISI S100-16 J6.1.
    """
    return 0.6 * F_u * 2.0 * t * e_net


def seam_weld_shear(*, d_e: Value, L: Value, F_xx: Value) -> Value:
    """Nominal shear strength P_n [N] of an arc seam weld's metal.  Omega 2.55, phi 0.60.

    Source: AISI S100-16 eq. J2.3.2.1-1.
    """
    return (np.pi * d_e**2 / 4.0 + L * d_e) * 0.75 * F_xx


def seam_sheet_shear(*, t: Value, F_u: Value, L: Value, d_a: Value) -> Value:
    """Nominal shear strength P_n [N] of the sheet around an arc seam weld; count `L` up to 3 d.  Omega 2.55, phi 0.60.

    Source: AISI S100-16 eq. J2.3.2.1-2.
    """
    return 2.5 * t * F_u * (0.25 * L + 0.96 * d_a)


AVERAGE_DIAMETER_ONE_SHEET = register(
    Formula(
        average_diameter_one_sheet,
        symbol="d_a",
        unit="mm",
        title="Average diameter of an arc spot, one sheet",
        source=SHEAR,
        names=NAMES,
    )
)
AVERAGE_DIAMETER_LAPPED = register(
    Formula(
        average_diameter_lapped,
        symbol="d_a",
        unit="mm",
        title="Average diameter of an arc spot, lapped sheets",
        source=SHEAR,
        names=NAMES,
    )
)
EFFECTIVE_DIAMETER = register(
    Formula(
        effective_diameter,
        symbol="d_e",
        unit="mm",
        title="Effective diameter of an arc spot at the faying surface",
        source=SHEAR,
        names=NAMES,
    )
)
WELD_SHEAR = register(
    Formula(
        weld_shear,
        symbol="P_nv",
        unit="N",
        title="Shear of the weld metal of an arc spot",
        source=SHEAR,
        names=NAMES,
        limits=(SHEETS, WASHER, FUSED),
    )
)
SHEET_SHEAR_STOCKY = register(
    Formula(
        sheet_shear_stocky,
        symbol="P_nv",
        unit="N",
        title="Sheet around an arc spot in shear, stocky",
        source=SHEAR,
        names=NAMES,
        limits=(SHEETS, WASHER, FUSED, Limit("(d_a / t) / np.sqrt(E / F_u)", high=0.815)),
    )
)
SHEET_SHEAR_MIDDLE = register(
    Formula(
        sheet_shear_middle,
        symbol="P_nv",
        unit="N",
        title="Sheet around an arc spot in shear, middle range",
        source=SHEAR,
        names=NAMES,
        limits=(SHEETS, WASHER, FUSED, Limit("(d_a / t) / np.sqrt(E / F_u)", low=0.815, high=1.397)),
    )
)
SHEET_SHEAR_SLENDER = register(
    Formula(
        sheet_shear_slender,
        symbol="P_nv",
        unit="N",
        title="Sheet around an arc spot in shear, slender",
        source=SHEAR,
        names=NAMES,
        limits=(SHEETS, WASHER, FUSED, Limit("(d_a / t) / np.sqrt(E / F_u)", low=1.397)),
    )
)
SHEET_TO_SHEET_SHEAR = register(
    Formula(
        sheet_to_sheet_shear,
        symbol="P_nv",
        unit="N",
        title="Arc spot between two sheets in shear",
        source=SHEET_TO_SHEET,
        names=NAMES,
        limits=(
            Limit("t", low=WASHER_BELOW, high=1.6129, unit="mm", why="0.028 to 0.0635 in"),
            Limit("F_u", high=407.0, unit="MPa", why="59 ksi"),
            Limit("F_xx / F_u", low=1.0, open_low=True, why="the weld metal must be stronger than the sheet"),
            FUSED,
        ),
    )
)
UPLIFT_LIMITS = (
    SHEETS,
    WASHER,
    FUSED,
    Limit("t * d_a * F_u", high=13344.7, unit="N", why="3 kip"),
    Limit("F_xx", low=410.0, unit="MPa", why="60 ksi"),
    Limit("F_u", high=565.0, unit="MPa", why="82 ksi"),
    Limit("F_xx / F_u", low=1.0, open_low=True, why="the weld metal must be stronger than the sheet"),
    Limit("e_min / d", low=1.0, why="distance from the weld to the edge against its diameter"),
)
WELD_TENSION = register(
    Formula(
        weld_tension,
        symbol="P_nt",
        unit="N",
        title="Uplift strength of the weld metal of an arc spot",
        source=TENSION,
        names=NAMES,
        limits=UPLIFT_LIMITS,
    )
)
SHEET_TENSION = register(
    Formula(
        sheet_tension,
        symbol="P_nt",
        unit="N",
        title="Uplift strength of the sheet around an arc spot",
        source=TENSION,
        names=NAMES,
        limits=UPLIFT_LIMITS,
    )
)
SHEAR_AND_TENSION = register(
    Formula(
        shear_and_tension,
        symbol="u",
        unit="1",
        title="Shear and tension on an arc spot together",
        source=INTERACTION,
        names=NAMES,
        limits=(
            Limit("F_u", high=724.0, unit="MPa", why="105 ksi"),
            Limit("F_xx", low=410.0, unit="MPa", why="60 ksi"),
            Limit("t * d_a * F_u", high=13344.7, unit="N", why="3 kip"),
            Limit("F_u / F_y", low=1.02),
        ),
    )
)
LEAST_EDGE_DISTANCE = register(
    Formula(
        least_edge_distance,
        symbol="e_min",
        unit="mm",
        title="Least edge distance of an arc spot",
        source=EDGE,
        names=NAMES,
    )
)
SHEET_END_RUPTURE = register(
    Formula(
        sheet_end_rupture,
        symbol="P_n",
        unit="N",
        title="Tear-out of the sheet to its end",
        source=RUPTURE,
        names=NAMES,
    )
)
SEAM_WELD_SHEAR = register(
    Formula(
        seam_weld_shear,
        symbol="P_n",
        unit="N",
        title="Shear of the metal of an arc seam weld",
        source=SEAM,
        names=NAMES,
        limits=(SHEETS, FUSED),
    )
)
SEAM_SHEET_SHEAR = register(
    Formula(
        seam_sheet_shear,
        symbol="P_n",
        unit="N",
        title="Sheet around an arc seam weld in shear",
        source=SEAM,
        names=NAMES,
        limits=(SHEETS, FUSED, Limit("L / d", high=3.0, why="only three diameters of length count")),
    )
)


class SheetShear(NamedTuple):
    """The branch that applies to the sheet around an arc spot, its factors, and why."""

    formula: Formula
    safety: Safety
    why: str


def sheet_shear(*, d_a: float, t: float, F_u: float, E: float = E_AISI) -> SheetShear:
    """Which sheet-tearing branch of J2.2.2.1 applies; lengths [mm], stresses [MPa].

    Source: AISI S100-16 J2.2.2.1 (from memory).
    """
    slenderness = (d_a / t) / (E / F_u) ** 0.5
    shown = f"d_a/t = {d_a / t:.3g} is {slenderness:.3g} sqrt(E/F_u)"
    if slenderness <= 0.815:
        return SheetShear(SHEET_SHEAR_STOCKY, OMEGA_SHEET_STOCKY, f"{shown}, at most 0.815: stocky")
    if slenderness < 1.397:
        return SheetShear(SHEET_SHEAR_MIDDLE, OMEGA_SHEET_MIDDLE, f"{shown}, between 0.815 and 1.397")
    return SheetShear(SHEET_SHEAR_SLENDER, OMEGA_SHEET_SLENDER, f"{shown}, at least 1.397: slender")
