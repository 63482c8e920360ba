"""Welded aluminium: weld metal and heat-affected zone by EN 1999-1-1, 8.6, and filler shear of US practice.

Characteristic values, before gamma_Mw = 1.25.  Weld-metal and zone strengths are tables
(`filler_aluminium_fw`, `haz_aluminium`); the throat stresses come from `jointcalc.formula.fillet_en1993`.
"""

from __future__ import annotations

import numpy as np

from jointcalc.errors import InputError
from jointcalc.formula.branch import above, at_most
from jointcalc.formula.core import Formula, Names, Source, Value, register
from jointcalc.quantity.sentence import mm
from jointcalc.tables import load

TIG_ON_HARDENED = 0.8
"""Part of the zone strength that TIG leaves of 6xxx and 7xxx alloys."""
GAMMA_MW = 1.25
"""Partial factor on weld metal and heat-affected zone, recommended value of EN 1999-1-1, 8.6.3."""
OMEGA_ADM = 1.95
"""Safety factor of the Aluminum Design Manual on fillet welds."""

EN9 = "EN 1999-1-1:2007"

N = Names(
    f_w=("MPa", "characteristic strength of the weld metal"),
    F_sw=("MPa", "ultimate shear strength of the filler in a fillet"),
    sigma_perp=("MPa", "normal stress on the throat"),
    tau_perp=("MPa", "shear stress on the throat, across the weld"),
    tau_par=("MPa", "shear stress on the throat, along the weld"),
    sigma_haz=("MPa", "normal stress in the heat-affected zone"),
    tau_haz=("MPa", "shear stress in the heat-affected zone"),
    F_perp=("N/mm", "force per length across the weld in the plane of the sheet"),
    F_par=("N/mm", "force per length along the weld"),
    t=("mm", "thickness of the sheet beside the weld"),
    t_e=("mm", "effective throat"),
)


def weld_stress(*, sigma_perp: Value, tau_perp: Value, tau_par: Value) -> Value:
    """Comparison stress [MPa] on the throat, held against f_w.  Source: EN 1999-1-1, 8.6.3.3, eq. (8.33)."""
    return np.sqrt(sigma_perp**2 + 3 * (tau_perp**2 + tau_par**2))


def haz_stress(*, F_perp: Value, F_par: Value, t: Value) -> Value:
    """Comparison stress [MPa] at the toe over the sheet thickness, held against f_u_haz.

    Source: EN 1999-1-1, 8.6.3.4, sigma and tau in the zone combined by von Mises.
    """
    sigma_haz = F_perp / t
    tau_haz = F_par / t
    return np.sqrt(sigma_haz**2 + 3 * tau_haz**2)


def filler_shear(*, F_sw: Value, t_e: Value) -> Value:
    """Nominal strength per length [N/mm] of an aluminium fillet loaded along.

    Source: Aluminum Design Manual, fillet weld shear on the effective throat.
    """
    return F_sw * t_e


def _en9(clause: str) -> Source:
    return Source(EN9, clause)


WELD_STRESS = register(
    Formula(
        weld_stress,
        symbol="sigma_c",
        unit="MPa",
        title="Comparison stress on the throat, aluminium",
        source=_en9("8.6.3.3, eq. (8.33)"),
        names=N,
    )
)
HAZ_STRESS = register(
    Formula(
        haz_stress,
        symbol="sigma_haz_c",
        unit="MPa",
        title="Comparison stress beside the weld",
        source=_en9("8.6.3.4"),
        names=N,
        inner_units={"sigma_haz": "MPa", "tau_haz": "MPa"},
    )
)
FILLER_SHEAR = register(
    Formula(
        filler_shear,
        symbol="r_n",
        unit="N/mm",
        title="Aluminium fillet in shear, nominal strength per length",
        source=Source("Aluminum Design Manual", "welds, fillet shear"),
        names=N,
    )
)


def zone_width(*, process: str, t: float) -> tuple[float, str]:
    """Extent [mm] of the heat-affected zone from the weld each way, and how it was read.

    `process` is MIG or TIG.  Raises InputError where the table has no row (TIG over 6 mm).
    Source: EN 1999-1-1, 6.1.6.3, interpass temperature to 60 °C (table `haz_aluminium_width`).
    """
    table = load("haz_aluminium_width")
    known = sorted({row["process"] for row in table.rows})
    if process not in known:
        raise InputError(f"no heat-affected width for '{process}'; accepted: {', '.join(known)}", field="process")
    for row in table.rows:
        upper = row.number("t_to")
        if row["process"] == process and above(t, row.need("t_over")) and (upper is None or at_most(t, upper)):
            return row.need("half_width"), f"{process}, sheet {mm(t):.4g}"
    raise InputError(f"no heat-affected width is published here for {process} on {mm(t):.4g}", field="process")
