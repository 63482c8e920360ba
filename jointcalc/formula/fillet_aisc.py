"""Fillet welds and base metal by AISC 360-16, J2 and J4 (leg `w`, throat 0.707·w).

Nominal strengths, before phi or Omega (welds and rupture 2.00, shear yield 1.50, tension yield 1.67).
The direction factor and the concentric combination stand in `jointcalc.formula.group_curves`.
"""

from __future__ import annotations

import numpy as np

from jointcalc.formula.branch import below
from jointcalc.formula.core import Formula, Limit, Names, Source, Status, Value, register
from jointcalc.quantity.sentence import mm

OMEGA_WELD, OMEGA_YIELD, OMEGA_RUPTURE = 2.00, 1.50, 2.00
"""Safety factors of J2.4 (weld metal) and J4 (base metal: shear yield, shear rupture)."""

AISC = "AISC 360-16"

N = Names(
    w=("mm", "leg of the fillet"),
    t_e=("mm", "effective throat"),
    l=("mm", "length of the weld"),
    t=("mm", "thickness of the base metal"),
    F_EXX=("MPa", "tensile strength of the weld metal by classification"),
    F_y=("MPa", "yield strength of the base metal"),
    F_u=("MPa", "tensile strength of the base metal"),
    k_ds=("1", "direction factor"),
    A_gv=("mm^2", "gross area in shear"),
    A_nv=("mm^2", "net area in shear"),
    s=("mm", "distance between two fillets along the load"),
)


def throat(*, w: Value) -> Value:
    """Effective throat [mm] of an equal-leg fillet of leg `w` [mm].  Source: AISC 360-16 J2.2a."""
    return 0.707 * w


def weld_strength(*, F_EXX: Value, k_ds: Value, t_e: Value) -> Value:
    """Nominal strength per length [N/mm] of a fillet with direction factor `k_ds`.

    Source: AISC 360-16 J2.4, eqs. J2-4 and J2-5 (k_ds = 1.0 + 0.50·sin^1.5 theta).
    """
    return 0.60 * F_EXX * k_ds * t_e


def shear_yield(*, F_y: Value, A_gv: Value) -> Value:
    """Nominal shear-yield strength [N] of the base metal.  Source: AISC 360-16 eq. J4-3."""
    return 0.60 * F_y * A_gv


def shear_rupture(*, F_u: Value, A_nv: Value) -> Value:
    """Nominal shear-rupture strength [N] of the base metal.  Source: AISC 360-16 eq. J4-4."""
    return 0.60 * F_u * A_nv


def largest_leg_thin(*, t: Value) -> Value:
    """Largest leg [mm] along the edge of a part under 6 mm.  Source: AISC 360-16 J2.2b."""
    return 1.0 * t


def largest_leg_thick(*, t: Value) -> Value:
    """Largest leg [mm] along the edge of a part of 6 mm or more.  Source: AISC 360-16 J2.2b."""
    return t - 2.0


def least_length(*, w: Value) -> Value:
    """Length [mm] below which the fillet counts with a smaller leg.  Source: AISC 360-16 J2.2b."""
    return 4 * w


def effective_leg(*, w: Value, l: Value) -> Value:
    """Leg [mm] that counts: no more than a quarter of the length.  Source: AISC 360-16 J2.2b."""
    return np.minimum(w, l / 4)


def long_weld_factor(*, l: Value, w: Value) -> Value:
    """Reduction [1] of an end-loaded fillet longer than 100 legs.  Source: AISC 360-16 eq. J2-1."""
    return np.minimum(1.2 - 0.002 * (l / w), 1.0)


def very_long_weld_length(*, w: Value) -> Value:
    """Effective length [mm] of an end-loaded fillet longer than 300 legs.  Source: AISC 360-16 J2.2b."""
    return 180 * w


def least_segment(*, w: Value) -> Value:
    """Least length [mm] of a segment of an intermittent fillet.  Source: AISC 360-16 J2.2b."""
    return np.maximum(4 * w, 38.0)


def least_lap(*, t: Value) -> Value:
    """Least lap [mm] of a lap joint whose thinner part is `t` [mm].  Source: AISC 360-16 J2.2b."""
    return np.maximum(5 * t, 25.0)


def _aisc(clause: str, status: Status = "from memory") -> Source:
    return Source(AISC, clause, status)


THROAT = register(
    Formula(
        throat,
        symbol="t_e",
        unit="mm",
        title="Effective throat of a fillet",
        source=_aisc("J2.2a", "second-hand"),
        names=N,
    )
)
WELD_STRENGTH = register(
    Formula(
        weld_strength,
        symbol="r_n",
        unit="N/mm",
        title="Fillet weld, nominal strength per length",
        source=_aisc("J2.4, eqs. J2-4, J2-5", "second-hand"),
        names=N,
        limits=(Limit("k_ds", low=1.0, high=1.5),),
    )
)
SHEAR_YIELD = register(
    Formula(
        shear_yield,
        symbol="R_n",
        unit="N",
        title="Base metal, shear yield",
        source=_aisc("eq. J4-3"),
        names=N,
    )
)
SHEAR_RUPTURE = register(
    Formula(
        shear_rupture,
        symbol="R_n",
        unit="N",
        title="Base metal, shear rupture",
        source=_aisc("eq. J4-4"),
        names=N,
    )
)
LARGEST_LEG_THIN = register(
    Formula(
        largest_leg_thin,
        symbol="w_max",
        unit="mm",
        title="Largest leg along an edge, part under 6 mm",
        source=_aisc("J2.2b", "second-hand"),
        names=N,
        limits=(Limit("t", high=6.0, unit="mm", open_high=True),),
    )
)
LARGEST_LEG_THICK = register(
    Formula(
        largest_leg_thick,
        symbol="w_max",
        unit="mm",
        title="Largest leg along an edge, part of 6 mm or more",
        source=_aisc("J2.2b", "second-hand"),
        names=N,
        limits=(Limit("t", low=6.0, unit="mm"),),
    )
)
LEAST_LENGTH = register(
    Formula(
        least_length,
        symbol="l_min",
        unit="mm",
        title="Least length for the full leg to count",
        source=_aisc("J2.2b", "second-hand"),
        names=N,
    )
)
EFFECTIVE_LEG = register(
    Formula(
        effective_leg,
        symbol="w_eff",
        unit="mm",
        title="Leg that counts",
        source=_aisc("J2.2b", "second-hand"),
        names=N,
    )
)
LONG_WELD_FACTOR = register(
    Formula(
        long_weld_factor,
        symbol="beta",
        unit="1",
        title="Reduction of a long end-loaded fillet",
        source=_aisc("eq. J2-1", "second-hand"),
        names=N,
        limits=(Limit("l / w", high=300.0, why="longer welds count as 180 legs"),),
    )
)
VERY_LONG_WELD_LENGTH = register(
    Formula(
        very_long_weld_length,
        symbol="l_eff",
        unit="mm",
        title="Effective length of a very long end-loaded fillet",
        source=_aisc("J2.2b", "second-hand"),
        names=N,
    )
)
LEAST_SEGMENT = register(
    Formula(
        least_segment,
        symbol="l_seg",
        unit="mm",
        title="Least segment of an intermittent fillet",
        source=_aisc("J2.2b", "second-hand"),
        names=N,
    )
)
LEAST_LAP = register(
    Formula(
        least_lap,
        symbol="lap_min",
        unit="mm",
        title="Least lap",
        source=_aisc("J2.2b", "second-hand"),
        names=N,
    )
)


def largest_leg(*, t: float) -> tuple[Formula, str]:
    """The rule for the largest leg along an edge, and why; inch print: 1/4 in, here 6 mm."""
    if below(t, 6.0):
        return LARGEST_LEG_THIN, f"edge {mm(t):.4g}, under {mm(6)}"
    return LARGEST_LEG_THICK, f"edge {mm(t):.4g}, {mm(6)} or more"
