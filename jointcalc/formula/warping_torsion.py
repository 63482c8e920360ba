"""Bending and twisting together of open thin-walled braces: what the stresses add up to, and what the codes ask."""

from __future__ import annotations

import numpy as np

from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register

VLASOV = Source("Vlasov, thin-walled elastic beams", "", "from memory")
EN_616T = Source("EN 1993-1-3:2006", "6.1.6", "from memory", "elastic sum of stresses")
AISI_H4 = Source("AISI S100-16", "H4", "from memory", "without the 15 % for stiffened flanges")

N = Names(
    G=("MPa", "shear modulus"),
    t=("mm", "thickness"),
    rate=("1/mm", "twist per length"),
    sigma_b=("MPa", "bending stress"),
    sigma_w=("MPa", "stress from warping and from bending sideways"),
    sigma=("MPa", "normal stress"),
    tau=("MPa", "shear stress"),
    tau_V=("MPa", "shear stress from the shear force"),
    k=("1", "growth of the twist as the moment nears the critical moment"),
    f_max=("MPa", "bending stress of the outer face at that section"),
    f_total=("MPa", "greatest stress of bending and twisting in the section"),
    M_n=("N*mm", "nominal moment strength"),
    R=("1", "reduction factor for twisting"),
    f_y=("MPa", "yield strength"),
)


def twisting_shear(*, G: Value, t: Value, rate: Value, tau_V: Value) -> Value:
    """Greatest shear stress of an open section: St Venant's and that of the shear force [MPa]."""
    return G * t * rate + tau_V


def total_normal(*, sigma_b: Value, k: Value, sigma_w: Value) -> Value:
    """Greatest normal stress [MPa]."""
    return sigma_b + k * sigma_w


def together(*, sigma: Value, tau: Value) -> Value:
    """Normal and shear stress together, over the 1.1 that the clause allows [MPa]."""
    return np.sqrt(sigma**2 + 3 * tau**2) / 1.1


def shear_as_normal(*, tau: Value) -> Value:
    """The shear stress as the normal stress that yields with it [MPa]."""
    return np.sqrt(3) * tau


def twist_reduction(*, f_max: Value, f_total: Value) -> Value:
    """Reduction factor R, at most one [1]."""
    return np.minimum(f_max / f_total, 1.0)


def twisted_moment(*, R: Value, M_n: Value) -> Value:
    """Nominal moment strength of a brace that is also twisted [N·mm]."""
    return R * M_n


TWISTING_SHEAR = register(Formula(
    twisting_shear, symbol="tau", unit="MPa", title="Shear stress with twisting", source=VLASOV, names=N))  # fmt: skip
TOTAL_NORMAL = register(Formula(
    total_normal, symbol="sigma", unit="MPa", title="Normal stress with twisting", source=EN_616T,
    names=N))  # fmt: skip
TOGETHER = register(Formula(
    together, symbol="sigma_v", unit="MPa", title="Normal and shear stress together", source=EN_616T,
    names=N))  # fmt: skip
SHEAR_AS_NORMAL = register(Formula(
    shear_as_normal, symbol="sigma_tau", unit="MPa", title="Shear stress as a normal stress", source=EN_616T,
    names=N))  # fmt: skip
TWIST_REDUCTION = register(Formula(
    twist_reduction, symbol="R", unit="1", title="Reduction of bending for twisting", source=AISI_H4, names=N,
    limits=(Limit("f_total", low=0.0, open_low=True),)))  # fmt: skip
TWISTED_MOMENT = register(Formula(
    twisted_moment, symbol="M_nR", unit="N*mm", title="Moment strength with twisting", source=AISI_H4,
    names=N))  # fmt: skip
