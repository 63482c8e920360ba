"""Bending about both axes of a thin-walled member, with what works of it sideways bounded from below."""

from __future__ import annotations

import numpy as np

from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register

EN_6217 = Source("EN 1993-1-1:2005", "6.2.1(7)", "from memory", "linear sum of utilisations")
STRIPS = Source("derivation", "strips taken out at one outermost fibre, with the shift of the axis", "derivation")

N = Names(
    W_z=("mm^3", "elastic modulus sideways, gross section"),
    A=("mm^2", "area of the gross section"),
    A_eff=("mm^2", "area of the effective section, uniform compression"),
    y_max=("mm", "farthest fibre from the upright axis"),
    i_z=("mm", "radius of gyration about the upright axis"),
    W_zeff=("mm^3", "elastic modulus sideways of what works, at least"),
    f_y=("MPa", "yield strength"),
    u=("1", "utilisation by all other loads"),
    M_z=("N*mm", "moment sideways, with its growth under a thrust, design value"),
    M_zR=("N*mm", "moment resistance sideways"),
)


def modulus_aside(*, W_z: Value, A: Value, A_eff: Value, y_max: Value, i_z: Value) -> Value:
    """Least elastic modulus sideways of what works of the section [mm^3]: all that is lost is lost at one far fibre."""
    return W_z * np.maximum(1 - (1 + (y_max / i_z) ** 2) * (1 - A_eff / A), 0.0)


def moment_aside(*, W_zeff: Value, f_y: Value) -> Value:
    """Moment resistance sideways [N mm]."""
    return W_zeff * f_y


def both_ways(*, u: Value, M_z: Value, M_zR: Value) -> Value:
    """Utilisation by bending both ways, with what acts along [1]."""
    return u + M_z / M_zR


MODULUS_ASIDE = register(Formula(
    modulus_aside, symbol="W_zeff", unit="mm^3", title="Modulus sideways of what works", source=STRIPS,
    names=N))  # fmt: skip
MOMENT_ASIDE = register(Formula(
    moment_aside, symbol="M_zR", unit="N*mm", title="Moment resistance sideways", source=EN_6217, names=N))  # fmt: skip
BOTH_WAYS = register(Formula(
    both_ways, symbol="eta", unit="1", title="Bending both ways", source=EN_6217, names=N,
    limits=(Limit("M_zR", low=0.0, open_low=True),)))  # fmt: skip
