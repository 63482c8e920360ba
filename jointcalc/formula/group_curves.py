"""Load-deformation curves of welds and bolts for the instantaneous-centre method.

Fillet welds: the curve of D. F. Lesik and D. J. L. Kennedy (Canadian Journal of Civil Engineering 17,
1990) in the form AISC 360-16, J2.4 gives it.  Bolts: the curve of S. F. Crawford and G. L. Kulak
(Journal of the Structural Division, ASCE, 97 ST3, 1971) with the constants AISC's Manual, part 7 uses.

All constants are from memory; they are confirmed by the published coefficient tables they generate
(`tests/statics/groups`): every open entry of AISC Manual Table 8-8 and of Table 7-6.

`theta` is the angle between the force on the weld element and the axis of the weld, in degrees, 0 to 90.
"""

from __future__ import annotations

import numpy as np

from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register

J24 = Source(
    "AISC 360-16",
    "J2.4(b)",
    status="from memory",
    note="confirmed by the published coefficients of AISC Manual Table 8-8",
)
J24_CONCENTRIC = Source(
    "AISC 360-16",
    "J2.4(b)(2), eqs. J2-10a and J2-10b",
    status="from memory",
    note="confirmed by row a = 0 of AISC Manual Table 8-8",
)
MANUAL_7 = Source(
    "AISC Steel Construction Manual, 13th ed.",
    "part 7",
    status="from memory",
    note="confirmed by 25 coefficients of Table 7-6, themselves from memory",
)

NAMES = Names(
    theta=("deg", "angle between the force and the axis of the weld, 0 along, 90 across"),
    w=("mm", "leg of the fillet"),
    p=("1", "deformation over the deformation at maximum stress"),
    F_EXX=("MPa", "tensile strength of the weld metal by classification"),
    t_e=("mm", "effective throat"),
    l=("mm", "length of the weld or weld element"),
    Delta=("mm", "deformation of the bolt"),
    R_ult=("N", "ultimate strength of the bolt"),
    R_nwl=("N", "strength of the welds along the load, without the direction factor"),
    R_nwt=("N", "strength of the welds across the load, without the direction factor"),
    R_n=("N", "nominal strength of the group"),
)
THETA = Limit("theta", low=0.0, high=90.0, unit="deg")


def deformation_at_maximum(*, theta: Value, w: Value) -> Value:
    """Deformation [mm] of a fillet element at its maximum stress; `theta` [deg], `w` [mm].

    Source: AISC 360-16 J2.4(b), after Lesik and Kennedy 1990.
    """
    return 0.209 * (theta + 2.0) ** -0.32 * w


def deformation_at_fracture(*, theta: Value, w: Value) -> Value:
    """Deformation [mm] of a fillet element at fracture; `theta` [deg], `w` [mm].

    Source: AISC 360-16 J2.4(b), after Lesik and Kennedy 1990.
    """
    return np.minimum(1.087 * (theta + 6.0) ** -0.65 * w, 0.17 * w)


def direction_factor(*, theta: Value) -> Value:
    """Gain in strength [1] of a fillet loaded at `theta` [deg] to its axis: 1.0 along, 1.5 across.

    Source: AISC 360-16 eq. J2-5.
    """
    return 1.0 + 0.50 * np.sin(np.pi * theta / 180.0) ** 1.5


def deformation_factor(*, p: Value) -> Value:
    """Share of the maximum stress [1] carried at the deformation ratio `p` [1].

    Valid to p = 1.9/0.9, where the curve returns to nothing; fracture comes before (p below 1.9).
    Source: AISC 360-16 J2.4(b), after Lesik and Kennedy 1990.
    """
    return (p * (1.9 - 0.9 * p)) ** 0.3


def longitudinal_strength(*, F_EXX: Value, t_e: Value, l: Value) -> Value:
    """Strength [N] of a fillet of length `l` [mm] and throat `t_e` [mm] loaded along its axis.

    Source: AISC 360-16 J2.4, eqs. J2-4 and J2-5 with theta = 0.
    """
    return 0.60 * F_EXX * t_e * l


def concentric_strength(*, R_nwl: Value, R_nwt: Value) -> Value:
    """Strength [N] of welds along and across a concentric load, the larger of two combinations.

    Both strengths are taken without the direction factor.  Source: AISC 360-16 eqs. J2-10a, J2-10b.
    """
    return np.maximum(R_nwl + R_nwt, 0.85 * R_nwl + 1.5 * R_nwt)


def bolt_resistance(*, R_ult: Value, Delta: Value) -> Value:
    """Force [N] in a bolt deformed by `Delta` [mm]; the curve itself is in inches.

    Source: AISC Manual part 7, after Crawford and Kulak 1971.
    """
    return R_ult * (1.0 - np.exp(-10.0 * (Delta / 25.4))) ** 0.55


BOLT_FRACTURE = 0.34 * 25.4
"""Deformation [mm] at which the bolt farthest from the centre breaks: 0.34 in, Crawford and Kulak."""

DEFORMATION_AT_MAXIMUM = register(
    Formula(
        deformation_at_maximum,
        symbol="Delta_m",
        unit="mm",
        title="Deformation of a fillet element at maximum stress",
        source=J24,
        names=NAMES,
        limits=(THETA,),
    )
)
DEFORMATION_AT_FRACTURE = register(
    Formula(
        deformation_at_fracture,
        symbol="Delta_u",
        unit="mm",
        title="Deformation of a fillet element at fracture",
        source=J24,
        names=NAMES,
        limits=(THETA,),
    )
)
DIRECTION_FACTOR = register(
    Formula(
        direction_factor,
        symbol="k_ds",
        unit="1",
        title="Direction factor of a fillet weld",
        source=Source("AISC 360-16", "eq. J2-5", status="from memory"),
        names=NAMES,
        limits=(THETA,),
    )
)
DEFORMATION_FACTOR = register(
    Formula(
        deformation_factor,
        symbol="f_p",
        unit="1",
        title="Share of the maximum stress at a deformation ratio",
        source=J24,
        names=NAMES,
        limits=(Limit("p", low=0.0, high=1.9),),
    )
)
LONGITUDINAL_STRENGTH = register(
    Formula(
        longitudinal_strength,
        symbol="R_n0",
        unit="N",
        title="Fillet weld loaded along its axis",
        source=Source("AISC 360-16", "J2.4, eq. J2-5 with θ = 0", status="from memory"),
        names=NAMES,
    )
)
CONCENTRIC_STRENGTH = register(
    Formula(
        concentric_strength,
        symbol="R_n",
        unit="N",
        title="Fillet welds along and across a concentric load",
        source=J24_CONCENTRIC,
        names=NAMES,
    )
)
BOLT_RESISTANCE = register(
    Formula(
        bolt_resistance,
        symbol="R",
        unit="N",
        title="Force in a bolt at a deformation",
        source=MANUAL_7,
        names=NAMES,
        limits=(Limit("Delta", low=0.0, high=BOLT_FRACTURE, unit="mm"),),
    )
)
