"""Twist of closed sections: Bredt's shear, and the shear that their walls bear before they buckle."""

from __future__ import annotations

from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register

BREDT = Source("Bredt, closed thin-walled sections", "", "from memory")
AISC_H31 = Source("AISC 360-16", "H3.1(a), Equation H3-2b", "from memory", "long tubes: the least of its two")
EN_616T = Source("EN 1993-1-3:2006", "6.1.6 with 6.1.5", "from memory", "shear against what buckles the wall")

N = Names(
    T=("N*mm", "torque"),
    A_m=("mm^2", "area enclosed by the mid-line"),
    t=("mm", "thickness"),
    D=("mm", "outside diameter"),
    E=("MPa", "modulus of elasticity"),
    tau=("MPa", "shear stress"),
    tau_V=("MPa", "shear stress from the shear force"),
    f_y=("MPa", "yield strength"),
    f_bv=("MPa", "shear strength of the wall"),
)


def bredt_shear(*, T: Value, A_m: Value, t: Value, tau_V: Value) -> Value:
    """Shear stress in the wall of a cell, with that of the shear force [MPa]."""
    return T / (2 * A_m * t) + tau_V


def tube_torsion(*, E: Value, D: Value, t: Value) -> Value:
    """Shear stress at which the wall of a long round tube buckles when it is twisted [MPa]."""
    return 0.60 * E / (D / t) ** 1.5


def buckling_as_normal(*, f_y: Value, tau: Value, f_bv: Value) -> Value:
    """The shear stress as the normal stress that is used as much of yield as it uses of the wall's strength [MPa]."""
    return f_y * tau / f_bv


BREDT_SHEAR = register(Formula(
    bredt_shear, symbol="tau", unit="MPa", title="Shear stress of a twisted cell", source=BREDT, names=N,
    limits=(Limit("A_m", low=0.0, open_low=True),)))  # fmt: skip
TUBE_TORSION = register(Formula(
    tube_torsion, symbol="f_bv", unit="MPa", title="Shear buckling of a twisted tube", source=AISC_H31,
    names=N))  # fmt: skip
BUCKLING_AS_NORMAL = register(Formula(
    buckling_as_normal, symbol="sigma_bv", unit="MPa", title="Shear of a wall that buckles, as a normal stress",
    source=EN_616T, names=N))  # fmt: skip
