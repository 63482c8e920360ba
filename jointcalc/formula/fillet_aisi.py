"""Welds in thin sheet by AISI S100-16, J2: fillet, flare groove and groove welds.

Nominal strengths, before phi or Omega; `t` is the thinner part unless said.  For parts over 2.54 mm
(0.10 in) the throat is checked too; the 1996 edition had 3.81 mm (0.150 in) there.
Clause numbers are those of 2016; editions 2007 and 2012 have E2.4 and E2.5 for the fillet.
"""

from __future__ import annotations

import numpy as np

from jointcalc.formula.branch import at_least, below
from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register
from jointcalc.quantity.sentence import mm

AISI = "AISI S100-16"

N = Names(
    t=("mm", "thickness of the thinner part"),
    t_1=("mm", "thickness of the first part"),
    t_2=("mm", "thickness of the second part"),
    F_u1=("MPa", "tensile strength of the first part"),
    F_u2=("MPa", "tensile strength of the second part"),
    L=("mm", "length of the weld"),
    h=("mm", "height of the lip"),
    F_u=("MPa", "tensile strength of the sheet"),
    F_y=("MPa", "yield strength of the sheet"),
    F_xx=("MPa", "tensile strength of the weld metal by classification"),
    w_1=("mm", "leg of the fillet on one part"),
    w_2=("mm", "leg of the fillet on the other part"),
    t_w=("mm", "effective throat"),
    t_e=("mm", "effective throat of the groove weld"),
)

THIN = Limit("t", high=4.76, unit="mm", why="3/16 in; thicker parts go to the rules for structural steel")
THROAT_FROM = 2.54
"""Thickness [mm] above which the throat is checked (0.10 in; 3.81 mm in the 1996 edition)."""


def longitudinal_short(*, L: Value, t: Value, F_u: Value) -> Value:
    """Sheet tearing [N] beside a fillet loaded along, L/t < 25.  Source: AISI S100-16 eqs. J2.5-1, -2."""
    return (1 - 0.01 * L / t) * L * t * F_u


def longitudinal_long(*, L: Value, t: Value, F_u: Value) -> Value:
    """Sheet tearing [N] beside a fillet loaded along, L/t >= 25.  Source: AISI S100-16 eqs. J2.5-3, -4."""
    return 0.75 * t * L * F_u


def transverse(*, t_1: Value, F_u1: Value, t_2: Value, F_u2: Value, L: Value) -> Value:
    """Sheet tearing [N] beside a fillet loaded across, weaker of both parts.

    Source: AISI S100-16 eqs. J2.5-5 and J2.5-6 (one for each sheet).
    """
    return np.minimum(t_1 * L * F_u1, t_2 * L * F_u2)


def base_shear(*, F_u: Value, t: Value, L: Value) -> Value:
    """Shear rupture [N] through the thickness of the part that is pulled off beside a weld of length `L` [mm].

    Source: AISI S100-16 J6.1, eq. J6.1-1, with the net area of one cut along the weld.
    """
    return 0.6 * F_u * t * L


def throat(*, w_1: Value, w_2: Value) -> Value:
    """Effective throat [mm] of a fillet: 0.707 of the smaller leg.  Source: AISI S100-16 J2.5."""
    return np.minimum(0.707 * w_1, 0.707 * w_2)


def weld_metal(*, t_w: Value, L: Value, F_xx: Value) -> Value:
    """Strength of the weld metal [N] of a fillet or flare weld.  Source: AISI S100-16 eqs. J2.5-7, J2.6-5."""
    return 0.75 * t_w * L * F_xx


def flare_transverse(*, t: Value, L: Value, F_u: Value) -> Value:
    """Sheet tearing [N] beside a flare-bevel weld loaded across.  Source: AISI S100-16 eq. J2.6-1."""
    return 0.833 * t * L * F_u


def flare_longitudinal_single(*, t: Value, L: Value, F_u: Value) -> Value:
    """Sheet tearing [N] beside a flare weld loaded along, one line of tearing.

    Source: AISI S100-16 eq. J2.6-2.
    """
    return 0.75 * t * L * F_u


def flare_longitudinal_double(*, t: Value, L: Value, F_u: Value) -> Value:
    """Sheet tearing [N] beside a flare weld loaded along, two lines of tearing.

    Source: AISI S100-16 eq. J2.6-3.
    """
    return 1.50 * t * L * F_u


def groove_tension(*, L: Value, t_e: Value, F_y: Value) -> Value:
    """Strength [N] of a groove (butt) weld in tension or compression.  Source: AISI S100-16 eq. J2.1-1."""
    return L * t_e * F_y


def groove_shear_weld(*, L: Value, t_e: Value, F_xx: Value) -> Value:
    """Strength [N] of a groove weld in shear, weld metal.  Source: AISI S100-16 eq. J2.1-2."""
    return L * t_e * 0.6 * F_xx


def groove_shear_sheet(*, L: Value, t_e: Value, F_y: Value) -> Value:
    """Strength [N] of a groove weld in shear, sheet.  Source: AISI S100-16 eq. J2.1-3."""
    return L * t_e * F_y / np.sqrt(3)


def _aisi(clause: str) -> Source:
    return Source(AISI, clause)


LONGITUDINAL_SHORT = register(
    Formula(
        longitudinal_short,
        symbol="P_n",
        unit="N",
        title="Sheet beside a fillet loaded along, L/t under 25",
        source=_aisi("J2.5(a)"),
        names=N,
        limits=(THIN, Limit("L / t", high=25.0, open_high=True)),
    )
)
LONGITUDINAL_LONG = register(
    Formula(
        longitudinal_long,
        symbol="P_n",
        unit="N",
        title="Sheet beside a fillet loaded along, L/t 25 or more",
        source=_aisi("J2.5(a)"),
        names=N,
        limits=(THIN, Limit("L / t", low=25.0)),
    )
)
TRANSVERSE = register(
    Formula(
        transverse,
        symbol="P_n",
        unit="N",
        title="Sheet beside a fillet loaded across",
        source=_aisi("J2.5(b)"),
        names=N,
        limits=(THIN,),
    )
)
BASE_SHEAR = register(
    Formula(
        base_shear,
        symbol="P_n",
        unit="N",
        title="Part under the weld sheared through beside it",
        source=Source(AISI, "J6.1", "second-hand"),
        names=N,
        limits=(THIN,),
    )
)
THROAT = register(
    Formula(throat, symbol="t_w", unit="mm", title="Effective throat of a fillet", source=_aisi("J2.5"), names=N)
)
WELD_METAL = register(
    Formula(
        weld_metal,
        symbol="P_n",
        unit="N",
        title="Weld metal on the throat",
        source=_aisi("J2.5, J2.6"),
        names=N,
        limits=(THIN, Limit("t", low=THROAT_FROM, unit="mm", open_low=True, why="thinner sheet fails beside the weld")),
    )
)
FLARE_TRANSVERSE = register(
    Formula(
        flare_transverse,
        symbol="P_n",
        unit="N",
        title="Sheet beside a flare-bevel weld loaded across",
        source=_aisi("J2.6(a)"),
        names=N,
        limits=(THIN,),
    )
)
FLARE_LONGITUDINAL_SINGLE = register(
    Formula(
        flare_longitudinal_single,
        symbol="P_n",
        unit="N",
        title="Sheet beside a flare weld loaded along, single shear",
        source=_aisi("J2.6(b)(1)"),
        names=N,
        limits=(THIN, Limit("t_w / t", low=1.0, why="the throat must be at least the sheet")),
    )
)
FLARE_LONGITUDINAL_DOUBLE = register(
    Formula(
        flare_longitudinal_double,
        symbol="P_n",
        unit="N",
        title="Sheet beside a flare weld loaded along, double shear",
        source=_aisi("J2.6(b)(2)"),
        names=N,
        limits=(THIN, Limit("t_w / t", low=2.0), Limit("h / L", low=1.0)),
    )
)
GROOVE_TENSION = register(
    Formula(
        groove_tension,
        symbol="P_n",
        unit="N",
        title="Butt weld in tension or compression",
        source=_aisi("J2.1(a)"),
        names=N,
        limits=(THIN,),
    )
)
GROOVE_SHEAR_WELD = register(
    Formula(
        groove_shear_weld,
        symbol="P_n",
        unit="N",
        title="Butt weld in shear, weld metal",
        source=_aisi("J2.1(b)"),
        names=N,
        limits=(THIN,),
    )
)
GROOVE_SHEAR_SHEET = register(
    Formula(
        groove_shear_sheet,
        symbol="P_n",
        unit="N",
        title="Butt weld in shear, sheet",
        source=_aisi("J2.1(b)"),
        names=N,
        limits=(THIN,),
    )
)

OMEGA = {
    LONGITUDINAL_SHORT.key: 2.55,
    LONGITUDINAL_LONG.key: 3.05,
    TRANSVERSE.key: 2.35,
    BASE_SHEAR.key: 2.50,
    WELD_METAL.key: 2.55,
    FLARE_TRANSVERSE.key: 2.55,
    FLARE_LONGITUDINAL_SINGLE.key: 2.80,
    FLARE_LONGITUDINAL_DOUBLE.key: 2.80,
    GROOVE_TENSION.key: 1.70,
    GROOVE_SHEAR_WELD.key: 1.90,
    GROOVE_SHEAR_SHEET.key: 1.70,
}
"""Safety factor Omega (allowable-stress design) of each formula, by its key; from memory."""


LONG_FROM = 25.0
"""Length over thickness [1] from which a longitudinal fillet is long; both formulas give the same there."""


def longitudinal(*, L: float, t: float) -> tuple[Formula, str]:
    """The longitudinal formula that applies, and why; both give the same at L/t = 25."""
    if below(L / t, LONG_FROM):
        return LONGITUDINAL_SHORT, f"L/t = {L / t:.4g}, under {LONG_FROM:g}"
    return LONGITUDINAL_LONG, f"L/t = {L / t:.4g}, {LONG_FROM:g} or more"


def flare_longitudinal(*, t_w: float, t: float, h: float, L: float) -> tuple[Formula, str]:
    """The longitudinal flare formula that applies, and why; double shear needs throat and lip."""
    if at_least(t_w, 2 * t) and at_least(h, L):
        return FLARE_LONGITUDINAL_DOUBLE, "throat at least twice the sheet and lip at least the weld length"
    short = (
        f"throat {mm(t_w):.4g} under twice the sheet" if below(t_w, 2 * t) else f"lip {mm(h):.4g} shorter than the weld"
    )
    return FLARE_LONGITUDINAL_SINGLE, short
