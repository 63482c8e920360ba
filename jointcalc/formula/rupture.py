"""Sheet that ruptures at its holes: net section, gross section, and blocks torn out of it.

A block is torn out where the fasteners of a group stand near an edge: along one or two lines towards the edge the sheet
shears, across the row furthest from it it is pulled apart.  The results are nominal (AISI, AISC) or characteristic (EN,
without its partial factors).
"""

from __future__ import annotations

import numpy as np

from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register
from jointcalc.formula.safety import Safety

AISC_BLOCK = Source("AISC 360-16", "J4.3", "second-hand", "terms read in course notes; U_bs from memory")
AISI_BLOCK = Source("AISI S100-16", "J6.3", "from memory")
AISI_NET = Source("AISI S100-16", "J6.2", "from memory")
EN_BLOCK = Source("EN 1993-1-8:2005", "3.10.2", "from memory")
EN_GROSS = Source("EN 1993-1-1:2005", "6.2.3(2)", "from memory")
EN_SECTION = Source("EN 1993-1-1:2005", "6.2.1(5), 6.2.9.2", "from memory", "elementary bending, holes off its modulus")

SAFETY_AISC = Safety(2.00, 0.75)
SAFETY_AISI = Safety(2.22, 0.65)
"""Bolts."""
SAFETY_AISI_SCREW = Safety(3.00, 0.50)
"""Screws; taken for blind rivets too, of which AISI S100 says nothing."""

STAGGERED = 0.9
"""Part of the net section that counts where holes are staggered along the force: AISI S100-16 J6.2, from memory."""

NAMES = Names(
    A_gv=("mm^2", "gross area in shear"),
    A_nv=("mm^2", "net area in shear"),
    A_nt=("mm^2", "net area in tension"),
    A=("mm^2", "gross section of the sheet"),
    A_n=("mm^2", "net section of the sheet"),
    U_bs=("1", "1 where the block is pulled evenly, 0.5 where it is not"),
    U_sl=("1", "shear lag factor"),
    F_u=("MPa", "tensile strength of the sheet"),
    F_y=("MPa", "yield strength of the sheet"),
    f_u=("MPa", "tensile strength of the sheet"),
    f_y=("MPa", "yield strength of the sheet"),
    k=("1", "1 where the block is pulled evenly, 0.5 where it is not"),
    d=("mm", "nominal diameter of the fastener"),
    s=("mm", "width of the sheet over the fasteners in the section"),
    t=("mm", "thickness of the sheet"),
    N=("N", "force along the sheet through the section"),
    V=("N", "force across it"),
    M=("N*mm", "moment in the plane of the sheet"),
    W_net=("mm^3", "section modulus less the holes"),
)


def block_shear(*, A_nv: Value, A_gv: Value, A_nt: Value, U_bs: Value, F_u: Value, F_y: Value) -> Value:
    """Nominal strength [N] of a block torn out of plate: shear by rupture or by yield, tension by rupture.

    Source: AISC 360-16 eq. J4-5.
    """
    return np.minimum(0.6 * F_u * A_nv, 0.6 * F_y * A_gv) + U_bs * F_u * A_nt


def block_shear_sheet(*, A_nv: Value, A_gv: Value, A_nt: Value, U_bs: Value, F_u: Value, F_y: Value) -> Value:
    """Nominal strength P_nr [N] of a block torn out of sheet.  Omega 2.22, phi 0.65.

    Source: AISI S100-16 eqs. J6.3-1 and -2, the lesser (from memory).
    """
    return np.minimum(0.6 * F_y * A_gv + U_bs * F_u * A_nt, 0.6 * F_u * A_nv + U_bs * F_u * A_nt)


def block_tearing(*, f_u: Value, f_y: Value, A_nt: Value, A_nv: Value, k: Value) -> Value:
    """Characteristic resistance [N] of a block against being torn out, both terms without their partial factors.

    Source: EN 1993-1-8:2005, eqs. 3.9 and 3.10 (from memory).
    """
    return k * f_u * A_nt + f_y * A_nv / np.sqrt(3.0)


def shear_lag(*, d: Value, s: Value) -> Value:
    """Shear lag factor U_sl of flat sheet held by a single row of bolts across the force; 1 for more rows.

    Source: AISI S100-16 Table J6.2-1 (from memory).
    """
    return np.minimum(0.9 + 0.1 * d / s, 1)


def net_rupture(*, U_sl: Value, A_n: Value, F_u: Value) -> Value:
    """Nominal strength [N] of the net section in tension.  Source: AISI S100-16 eq. J6.2-1 (from memory)."""
    return U_sl * A_n * F_u


def gross_yield(*, A: Value, f_y: Value) -> Value:
    """Characteristic resistance [N] of the gross section in tension, gamma_M0 = 1.0.  Source: EN 1993-1-1, eq. 6.6."""
    return A * f_y


def section_stress(*, N: Value, V: Value, M: Value, A: Value, W_net: Value) -> Value:
    """Comparison stress [MPa] of a flat section bent in its plane, pulled and sheared; yields at f_y, gamma_M0 = 1.0.

    Source: EN 1993-1-1, eq. 6.1 at the edge, with the mean of the shear (from memory).
    """
    return np.sqrt((N / A + M / W_net) ** 2 + 3 * (V / A) ** 2)


def _enter(function: Value, symbol: str, unit: str, title: str, source: Source, *limits: Limit) -> Formula:
    return register(Formula(function, symbol=symbol, unit=unit, title=title, source=source, names=NAMES, limits=limits))


THIN = Limit("t", high=4.7625, open_high=True, unit="mm", why="from 3/16 in on AISC 360 applies")
THICK = Limit("t", low=4.7625, unit="mm", why="thinner sheet goes to AISI S100")
BLOCK_SHEAR_AISC = _enter(block_shear, "R_n", "N", "Block torn out of plate", AISC_BLOCK, THICK)
BLOCK_SHEAR_AISI = _enter(block_shear_sheet, "P_nr", "N", "Block torn out of sheet", AISI_BLOCK, THIN)
BLOCK_TEARING = _enter(block_tearing, "V_eff", "N", "Block torn out of the sheet", EN_BLOCK)
SHEAR_LAG = _enter(shear_lag, "U_sl", "1", "Shear lag of a single row", AISI_NET)
NET_RUPTURE = _enter(net_rupture, "T_n", "N", "Net section of bolted sheet", AISI_NET, THIN)
SECTION_STRESS = _enter(section_stress, "sigma_v", "MPa", "Stress of the section at the holes", EN_SECTION)
GROSS_YIELD = _enter(gross_yield, "N_pl", "N", "Gross section of the sheet", EN_GROSS)
