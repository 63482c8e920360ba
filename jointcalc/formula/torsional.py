"""Torsional and torsional-flexural buckling of struts whose section has one axis of symmetry.

The closed form is the smaller root of the stability equation of Timoshenko and Gere; EN 1993-1-3
6.2.3 and AISI S100-16 E2.2 print the same.
"""

from __future__ import annotations

import numpy as np

from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register

EN_623 = Source("EN 1993-1-3:2006", "6.2.3", "from memory", "same form as AISI S100-16 E2.2")

N = Names(
    i_o=("mm", "polar radius of gyration about the shear centre"),
    d_o=("mm", "distance from the centroid to the shear centre"),
    G=("MPa", "shear modulus"),
    J=("mm^4", "torsion constant"),
    E=("MPa", "modulus of elasticity"),
    C_w=("mm^6", "warping constant"),
    L=("mm", "length between restraints against twisting"),
    N_f=("N", "critical force, flexure in the plane across the axis of symmetry"),
    N_t=("N", "critical force, torsion"),
)


def torsional_force(*, i_o: Value, G: Value, J: Value, E: Value, C_w: Value, L: Value) -> Value:
    """Elastic critical force of torsional buckling [N]."""
    return 1 / i_o**2 * (G * J + np.pi**2 * E * C_w / L**2)


def torsional_flexural_force(*, N_f: Value, N_t: Value, d_o: Value, i_o: Value) -> Value:
    """Elastic critical force of torsion coupled with flexure across the axis of symmetry [N]."""
    beta = 1 - (d_o / i_o) ** 2
    return N_f / (2 * beta) * (1 + N_t / N_f - np.sqrt((1 - N_t / N_f) ** 2 + 4 * (d_o / i_o) ** 2 * N_t / N_f))


TORSIONAL_FORCE = register(Formula(
    torsional_force, symbol="N_cr_T", unit="N", title="Critical force of torsional buckling", source=EN_623,
    names=N))  # fmt: skip
TORSIONAL_FLEXURAL_FORCE = register(Formula(
    torsional_flexural_force, symbol="N_cr_TF", unit="N", title="Critical force of torsional-flexural buckling",
    source=EN_623, names=N, limits=(Limit("d_o / i_o", low=0.0, high=1.0, open_high=True),),
    inner_units={"beta": "1"}))  # fmt: skip
