"""Webs of cold-formed members by AISI S100-16: shear, crippling, both with bending; tension.

Nominal strengths, for one web unless said otherwise; Omega stands beside.  The shear rules were read
as quoted in a conference paper (second-hand); the rest is from memory.
"""

from __future__ import annotations

import numpy as np

from jointcalc.formula.branch import at_most
from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register

G21 = Source("AISI S100-16", "G2.1", "second-hand", "read as quoted in a conference paper on web shear")
G5 = Source("AISI S100-16", "G5", "from memory")
H2 = Source("AISI S100-16", "H2", "from memory")
H3 = Source("AISI S100-16", "H3", "from memory")
H11 = Source("AISI S100-16", "H1.1", "from memory")
D2 = Source("AISI S100-16", "D2", "from memory")
D3 = Source("AISI S100-16", "D3", "from memory")

OMEGA_BENDING = 1.67
OMEGA_SHEAR = 1.60
OMEGA_COMPRESSION = 1.80
OMEGA_TENSION_YIELD = 1.67
OMEGA_TENSION_RUPTURE = 2.00
OMEGA_BENDING_CRIPPLING = 1.70
MOST_BENDING_CRIPPLING = 1.33
"""Greatest sum of bending and a local force, single webs, before Omega."""
MOST_SLENDER = 200.0
"""Flat height over thickness of a web without stiffeners (B4.1, from memory)."""
LEAST_BEARING = 19.05
"""Bearing length [mm] from which on G5 holds (3/4 in), from memory."""
LONGEST_BEARING, LONGEST_BEARING_HEIGHTS = 200.0, 2.0
"""Bearing length over thickness and over flat height up to which G5 was tested, from memory."""
K_V = 5.34
"""Shear buckling coefficient of a web without transverse stiffeners."""

N = Names(
    h=("mm", "flat depth of the web"),
    t=("mm", "thickness"),
    E=("MPa", "modulus of elasticity"),
    F_y=("MPa", "yield stress"),
    F_u=("MPa", "tensile strength"),
    F_v=("MPa", "nominal shear stress"),
    k_v=("1", "shear buckling coefficient"),
    C=("1", "coefficient of the table"),
    C_R=("1", "inside bend radius coefficient"),
    C_N=("1", "bearing length coefficient"),
    C_h=("1", "web slenderness coefficient"),
    R=("mm", "inside bend radius"),
    N=("mm", "bearing length"),
    theta=("rad", "angle between web and bearing surface"),
    M=("N*mm", "moment"),
    M_a=("N*mm", "allowable moment, M_n / Omega"),
    M_n=("N*mm", "nominal moment strength"),
    V=("N", "shear force"),
    V_a=("N", "allowable shear, V_n / Omega"),
    P=("N", "local force"),
    P_n=("N", "nominal crippling strength"),
    A_g=("mm^2", "gross area"),
    A_n=("mm^2", "net area"),
)


def shear_stress_stocky(*, h: Value, t: Value, E: Value, k_v: Value, F_y: Value) -> Value:
    """Nominal shear stress, h/t up to sqrt(E k_v/F_y) [MPa]."""
    return 0.60 * F_y


def shear_stress_medium(*, h: Value, t: Value, E: Value, k_v: Value, F_y: Value) -> Value:
    """Nominal shear stress, h/t up to 1.51 sqrt(E k_v/F_y) [MPa]."""
    return 0.60 * np.sqrt(E * k_v * F_y) / (h / t)


def shear_stress_slender(*, h: Value, t: Value, E: Value, k_v: Value, F_y: Value) -> Value:
    """Nominal shear stress of a web that buckles elastically [MPa]."""
    return 0.904 * E * k_v / (h / t) ** 2


def web_shear(*, h: Value, t: Value, F_v: Value) -> Value:
    """Nominal shear strength of one web [N]."""
    return h * t * F_v


_HT = Limit("h / t", high=MOST_SLENDER, why="webs without stiffeners")
SHEAR_STRESS_STOCKY = register(Formula(
    shear_stress_stocky, symbol="F_v", unit="MPa", title="Shear stress of a stocky web", source=G21, names=N,
    limits=(_HT, Limit("h / t / np.sqrt(E * k_v / F_y)", high=1.0))))  # fmt: skip
SHEAR_STRESS_MEDIUM = register(Formula(
    shear_stress_medium, symbol="F_v", unit="MPa", title="Shear stress of a web, middle range", source=G21,
    names=N, limits=(_HT, Limit("h / t / np.sqrt(E * k_v / F_y)", low=1.0, high=1.51))))  # fmt: skip
SHEAR_STRESS_SLENDER = register(Formula(
    shear_stress_slender, symbol="F_v", unit="MPa", title="Shear stress of a slender web", source=G21, names=N,
    limits=(_HT, Limit("h / t / np.sqrt(E * k_v / F_y)", low=1.51))))  # fmt: skip
WEB_SHEAR = register(Formula(
    web_shear, symbol="V_n", unit="N", title="Nominal shear strength of one web", source=G21, names=N))  # fmt: skip


def shear_stress(*, h: float, t: float, E: float, k_v: float, F_y: float) -> Formula:
    """The branch of G2.1 that applies."""
    ratio = h / t / float(np.sqrt(E * k_v / F_y))
    if at_most(ratio, 1):
        return SHEAR_STRESS_STOCKY
    return SHEAR_STRESS_MEDIUM if at_most(ratio, 1.51) else SHEAR_STRESS_SLENDER


def crippling(
    *, C: Value, t: Value, F_y: Value, theta: Value, C_R: Value, R: Value, C_N: Value, N: Value, C_h: Value, h: Value
) -> Value:
    """Nominal crippling strength of one web [N]; coefficients from table `crippling_aisi`."""
    return (
        C * t**2 * F_y * np.sin(theta) * (1 - C_R * np.sqrt(R / t)) * (1 + C_N * np.sqrt(N / t))
        * (1 - C_h * np.sqrt(h / t))
    )  # fmt: skip


CRIPPLING = register(Formula(
    crippling, symbol="P_n", unit="N", title="Nominal crippling strength of one web", source=G5, names=N,
    limits=(Limit("h / t", high=MOST_SLENDER), Limit("N / t", high=LONGEST_BEARING),
            Limit("N / h", high=LONGEST_BEARING_HEIGHTS),
            Limit("theta", low=np.pi / 2 - 1e-6, high=np.pi / 2 + 1e-6, unit="rad",
                  why="the hat rows are for webs at right angles"))))  # fmt: skip


def bending_and_shear(*, M: Value, M_a: Value, V: Value, V_a: Value) -> Value:
    """Sum under bending and shear of a web without stiffeners, at most one [1]."""
    return np.sqrt((M / M_a) ** 2 + (V / V_a) ** 2)


def bending_and_crippling(*, P: Value, P_n: Value, M: Value, M_n: Value) -> Value:
    """Sum under bending and a local force, single webs, at most 1.33 / Omega [1]."""
    return 0.91 * P / P_n + M / M_n


def tension_and_bending(*, T: Value, T_a: Value, M: Value, M_a: Value) -> Value:
    """Sum under tension and bending, at most one [1]."""
    return T / T_a + M / M_a


def tension_yield(*, A_g: Value, F_y: Value) -> Value:
    """Nominal tension strength, yield of the gross section [N]."""
    return A_g * F_y


def tension_rupture(*, A_n: Value, F_u: Value) -> Value:
    """Nominal tension strength, rupture of the net section [N]."""
    return A_n * F_u


BENDING_AND_SHEAR = register(Formula(
    bending_and_shear, symbol="eta", unit="1", title="Bending and shear together", source=H2, names=N))  # fmt: skip
BENDING_AND_CRIPPLING = register(Formula(
    bending_and_crippling, symbol="eta", unit="1", title="Bending and crippling together", source=H3,
    names=N))  # fmt: skip
TENSION_AND_BENDING = register(Formula(
    tension_and_bending, symbol="eta", unit="1", title="Tension and bending together", source=H11,
    names=N | Names(T=("N", "tension"), T_a=("N", "allowable tension, T_n / Omega"))))  # fmt: skip
TENSION_YIELD = register(Formula(
    tension_yield, symbol="T_n", unit="N", title="Tension, yield", source=D2, names=N))  # fmt: skip
TENSION_RUPTURE = register(Formula(
    tension_rupture, symbol="T_n", unit="N", title="Tension, rupture", source=D3, names=N))  # fmt: skip
