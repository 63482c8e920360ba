"""Webs of cold-formed members by EN 1993-1-3: shear, local transverse forces, and both with bending.

Resistances are characteristic (before gamma_M) and for one web unless said otherwise.  From memory,
held against the continuity of neighbouring branches and, for shear, the plate-buckling theory behind.
"""

from __future__ import annotations

import numpy as np

from jointcalc.formula.branch import at_least, at_most, below
from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register

SHEAR_LEAVES_BENDING = 0.5
"""Shear over its resistance up to which bending is not reduced (EN 1993-1-3, 6.1.10, from memory)."""
PEAK_OF_RECTANGLE = 1.5
"""Greatest over mean shear stress of a rectangle (elasticity)."""
MOST_SLENDER, MOST_BENT_ONE, MOST_BENT_TWO = 200.0, 6.0, 10.0
"""Web height over thickness, and bend radius over thickness of one web and of two, up to which crippling is judged
(6.1.7.1, 6.1.7.2, 6.1.7.3, from memory)."""
LONGEST_ONE, LONGEST_ONE_HEIGHTS = 210.0, 3.5
"""Bearing length over thickness and over web height that 6.1.7.2 counts at most, from memory."""
CLEAR_END, LEAST_BEARING, LONGEST_BEARING = 40.0, 10.0, 200.0
"""Clear distance from a bearing to a free end from which on 6.1.7.3 holds, and the effective bearing lengths [mm] that
it counts at least and at most, from memory."""
NEAR = 1.5
"""Web heights within which an end or an opposite force counts, 6.1.7.2 and 6.1.7.3 (AISI S100 G5 alike)."""
MOST_BENDING_CRIPPLING = 1.25
"""Greatest sum of bending and a local force (EN 1993-1-3, 6.1.11, from memory)."""

EN_615 = Source("EN 1993-1-3:2006", "6.1.5, Table 6.1", "from memory")
EN_6172 = Source("EN 1993-1-3:2006", "6.1.7.2", "from memory")
EN_6173 = Source("EN 1993-1-3:2006", "6.1.7.3", "from memory")
EN_6110 = Source("EN 1993-1-3:2006", "6.1.10", "from memory")
EN_6111 = Source("EN 1993-1-3:2006", "6.1.11", "from memory")
EN_626 = Source("EN 1993-1-1:2005", "6.2.6(4)", "from memory")
EN_612 = Source("EN 1993-1-3:2006", "6.1.2", "from memory")
EN_616 = Source("EN 1993-1-3:2006", "6.1.8", "from memory", "linear sum, without the credit of 6.1.8(3)")
EN_71 = Source("EN 1993-1-3:2006", "7.1(3)", "from memory")

N = Names(
    s_w=("mm", "slant height of the web between the mid-points of its bends"),
    h_w=("mm", "height of the web between the mid-lines of the flanges"),
    t=("mm", "thickness"),
    f_yb=("MPa", "yield strength"),
    f_y=("MPa", "yield strength"),
    f_bv=("MPa", "shear strength with buckling"),
    E=("MPa", "modulus of elasticity"),
    phi=("rad", "angle of the web to the flanges"),
    phi_deg=("deg", "angle of the web to the flanges"),
    lamda_w=("1", "relative slenderness of the web"),
    alpha=("1", "coefficient of section and load category"),
    r=("mm", "inside bend radius"),
    l_a=("mm", "effective bearing length"),
    s_s=("mm", "bearing length"),
    k=("1", "f_yb / 228"),
    k_1=("1", "strength coefficient"),
    k_2=("1", "radius coefficient"),
    k_3=("1", "web angle coefficient"),
    k_4=("1", "strength coefficient, interior"),
    k_5=("1", "radius coefficient, interior"),
    V_1=("N", "greater shear force beside the load"),
    V_2=("N", "smaller shear force beside the load, negative when of the other sign"),
    tau_1=("MPa/N", "greatest shear stress for a shear force of 1 N"),
    M=("N*mm", "bending moment"),
    M_c=("N*mm", "moment resistance"),
    V=("N", "shear force"),
    V_w=("N", "shear resistance of the webs"),
    F=("N", "local force"),
    R_w=("N", "local transverse resistance"),
    A=("mm^2", "area"),
    N_t=("N", "tension resistance"),
    T=("N", "tension"),
    I_gr=("mm^4", "second moment of area of the gross section"),
    I_eff=("mm^4", "second moment of area of the effective section at the stress sigma"),
    sigma_gr=("MPa", "greatest compressive service stress on the gross section"),
    sigma=("MPa", "stress the effective section was found for, at least σ_gr"),
)


# --- shear ---------------------------------------------------------------------------------------------


def web_slenderness(*, s_w: Value, t: Value, f_yb: Value, E: Value) -> Value:
    """Relative slenderness of a web without longitudinal stiffeners [1]."""
    return 0.346 * s_w / t * np.sqrt(f_yb / E)


def shear_strength_stocky(*, f_yb: Value, lamda_w: Value) -> Value:
    """Shear strength, lamda_w up to 0.83 [MPa]."""
    return 0.58 * f_yb


def shear_strength_medium(*, f_yb: Value, lamda_w: Value) -> Value:
    """Shear strength, lamda_w from 0.83 to 1.40 [MPa]."""
    return 0.48 * f_yb / lamda_w


def shear_strength_slender(*, f_yb: Value, lamda_w: Value) -> Value:
    """Shear strength, lamda_w from 1.40, web not stiffened at the support [MPa]."""
    return 0.67 * f_yb / lamda_w**2


def web_shear(*, h_w: Value, t: Value, f_bv: Value, phi: Value) -> Value:
    """Shear resistance of one web [N]."""
    return h_w / np.sin(phi) * t * f_bv


def elastic_shear(*, f_y: Value, tau_1: Value) -> Value:
    """Shear force at which the most stressed fibre of a section without slender webs yields [N]."""
    return f_y / np.sqrt(3) / tau_1


WEB_SLENDERNESS = register(Formula(
    web_slenderness, symbol="lamda_w", unit="1", title="Slenderness of a web in shear", source=EN_615,
    names=N))  # fmt: skip
SHEAR_STRENGTH_STOCKY = register(Formula(
    shear_strength_stocky, symbol="f_bv", unit="MPa", title="Shear strength of a stocky web", source=EN_615,
    names=N, limits=(Limit("lamda_w", high=0.83),)))  # fmt: skip
SHEAR_STRENGTH_MEDIUM = register(Formula(
    shear_strength_medium, symbol="f_bv", unit="MPa", title="Shear strength of a web, middle range",
    source=EN_615, names=N, limits=(Limit("lamda_w", low=0.83, high=1.40),)))  # fmt: skip
SHEAR_STRENGTH_SLENDER = register(Formula(
    shear_strength_slender, symbol="f_bv", unit="MPa", title="Shear strength of a slender web", source=EN_615,
    names=N, limits=(Limit("lamda_w", low=1.40),)))  # fmt: skip
WEB_SHEAR = register(Formula(
    web_shear, symbol="V_b", unit="N", title="Shear resistance of one web", source=EN_615, names=N))  # fmt: skip
ELASTIC_SHEAR = register(Formula(
    elastic_shear, symbol="V_el", unit="N", title="Shear force at first shear yield", source=EN_626,
    names=N))  # fmt: skip


def shear_strength(lamda_w: float) -> Formula:
    """The branch of Table 6.1 that applies to a web not stiffened at its support."""
    if at_most(lamda_w, 0.83):
        return SHEAR_STRENGTH_STOCKY
    return SHEAR_STRENGTH_MEDIUM if below(lamda_w, 1.40) else SHEAR_STRENGTH_SLENDER


# --- local transverse forces ------------------------------------------------------------------------------

ALPHA_HAT = {1: 0.057, 2: 0.115}
"""alpha of 6.1.7.3(2) for liner trays and hat sections, by category of the load.

Sheeting has 0.075 and 0.15; the lower pair is taken for every section with two webs.
"""


def crippling_two_webs(*, alpha: Value, t: Value, f_yb: Value, E: Value, r: Value, l_a: Value, phi_deg: Value) -> Value:
    """Local transverse resistance of each of two or more unstiffened webs [N]."""
    return (
        alpha * t**2 * np.sqrt(f_yb * E) * (1 - 0.1 * np.sqrt(r / t)) * (0.5 + np.sqrt(0.02 * l_a / t))
        * (2.4 + (phi_deg / 90) ** 2)
    )  # fmt: skip


def shear_ratio(*, V_1: Value, V_2: Value) -> Value:
    """beta_V: how unequal the shear forces beside a local force are [1]."""
    return (np.abs(V_1) - np.abs(V_2)) / (np.abs(V_1) + np.abs(V_2))


CRIPPLING_TWO_WEBS = register(Formula(
    crippling_two_webs, symbol="R_w", unit="N", title="Local transverse resistance per web, two or more webs",
    source=EN_6173, names=N | Names(h_w=N["h_w"]),
    limits=(Limit("r / t", high=MOST_BENT_TWO), Limit("h_w / t", high=MOST_SLENDER),
            Limit("phi_deg", low=45.0, high=90.0))))  # fmt: skip
SHEAR_RATIO = register(Formula(
    shear_ratio, symbol="beta_V", unit="1", title="Ratio of the shear forces beside the load", source=EN_6173,
    names=N))  # fmt: skip


def bearing_category_2(s_s: float, beta_V: float) -> float:
    """Effective bearing length [mm] of category 2: the bearing, falling to 10 mm from beta_V 0.2 to 0.3.

    Source: EN 1993-1-3:2006 6.1.7.3(4), from memory.  Category 1 takes 10 mm always.
    """
    if at_most(beta_V, 0.2):
        return s_s
    if at_least(beta_V, 0.3):
        return 10.0
    return s_s + (10.0 - s_s) * (beta_V - 0.2) / 0.1


def strength_coefficient(*, f_yb: Value) -> Value:
    """Strength coefficient k of a single web [1]."""
    return f_yb / 228


def strength_coefficient_end(*, k: Value) -> Value:
    """Coefficient k_1 [1]."""
    return 1.33 - 0.33 * k


def radius_coefficient_end(*, r: Value, t: Value) -> Value:
    """Coefficient k_2, between 0.50 and 1 [1]."""
    return np.minimum(np.maximum(1.15 - 0.15 * r / t, 0.50), 1.0)


def angle_coefficient(*, phi_deg: Value) -> Value:
    """Coefficient k_3 [1]."""
    return 0.7 + 0.3 * (phi_deg / 90) ** 2


def strength_coefficient_interior(*, k: Value) -> Value:
    """Coefficient k_4 [1]."""
    return 1.22 - 0.22 * k


def radius_coefficient_interior(*, r: Value, t: Value) -> Value:
    """Coefficient k_5, at most 1 [1]."""
    return np.minimum(1.06 - 0.06 * r / t, 1.0)


def crippling_end_lipped(*, k_1: Value, k_2: Value, k_3: Value, h_w: Value, t: Value, s_s: Value, f_yb: Value) -> Value:
    """Resistance of a single web near an end, flanges with lips [N]."""
    return k_1 * k_2 * k_3 * (9.04 - h_w / t / 60) * (1 + 0.01 * s_s / t) * t**2 * f_yb


def crippling_end_short(*, k_1: Value, k_2: Value, k_3: Value, h_w: Value, t: Value, s_s: Value, f_yb: Value) -> Value:
    """Resistance of a single web near an end, plain flanges, s_s/t up to 60 [N]."""
    return k_1 * k_2 * k_3 * (5.92 - h_w / t / 132) * (1 + 0.01 * s_s / t) * t**2 * f_yb


def crippling_end_long(*, k_1: Value, k_2: Value, k_3: Value, h_w: Value, t: Value, s_s: Value, f_yb: Value) -> Value:
    """Resistance of a single web near an end, plain flanges, s_s/t over 60 [N]."""
    return k_1 * k_2 * k_3 * (5.92 - h_w / t / 132) * (0.71 + 0.015 * s_s / t) * t**2 * f_yb


def crippling_interior_short(
    *, k_3: Value, k_4: Value, k_5: Value, h_w: Value, t: Value, s_s: Value, f_yb: Value
) -> Value:
    """Resistance of a single web away from the ends, s_s/t up to 60 [N]."""
    return k_3 * k_4 * k_5 * (14.7 - h_w / t / 49.5) * (1 + 0.007 * s_s / t) * t**2 * f_yb


def crippling_interior_long(
    *, k_3: Value, k_4: Value, k_5: Value, h_w: Value, t: Value, s_s: Value, f_yb: Value
) -> Value:
    """Resistance of a single web away from the ends, s_s/t over 60 [N]."""
    return k_3 * k_4 * k_5 * (14.7 - h_w / t / 49.5) * (0.75 + 0.011 * s_s / t) * t**2 * f_yb


def crippling_end_opposed(
    *, k_1: Value, k_2: Value, k_3: Value, h_w: Value, t: Value, s_s: Value, f_yb: Value
) -> Value:
    """Resistance of a single web near an end, pressed from both sides [N]."""
    return k_1 * k_2 * k_3 * (6.66 - h_w / t / 64) * (1 + 0.01 * s_s / t) * t**2 * f_yb


def crippling_interior_opposed(
    *, k_3: Value, k_4: Value, k_5: Value, h_w: Value, t: Value, s_s: Value, f_yb: Value
) -> Value:
    """Resistance of a single web away from the ends, pressed from both sides [N]."""
    return k_3 * k_4 * k_5 * (21.0 - h_w / t / 16.3) * (1 + 0.0013 * s_s / t) * t**2 * f_yb


_SINGLE = (
    Limit("h_w / t", high=MOST_SLENDER), Limit("r / t", high=MOST_BENT_ONE), Limit("phi_deg", low=45.0, high=90.0),
)  # fmt: skip
_MORE = N | Names(r=N["r"], phi_deg=N["phi_deg"])
STRENGTH_COEFFICIENT = register(Formula(
    strength_coefficient, symbol="k", unit="1", title="Strength coefficient", source=EN_6172, names=N))  # fmt: skip
STRENGTH_COEFFICIENT_END = register(Formula(
    strength_coefficient_end, symbol="k_1", unit="1", title="Strength coefficient, end", source=EN_6172,
    names=N))  # fmt: skip
RADIUS_COEFFICIENT_END = register(Formula(
    radius_coefficient_end, symbol="k_2", unit="1", title="Radius coefficient, end", source=EN_6172,
    names=N))  # fmt: skip
ANGLE_COEFFICIENT = register(Formula(
    angle_coefficient, symbol="k_3", unit="1", title="Web angle coefficient", source=EN_6172, names=N))  # fmt: skip
STRENGTH_COEFFICIENT_INTERIOR = register(Formula(
    strength_coefficient_interior, symbol="k_4", unit="1", title="Strength coefficient, interior",
    source=EN_6172, names=N))  # fmt: skip
RADIUS_COEFFICIENT_INTERIOR = register(Formula(
    radius_coefficient_interior, symbol="k_5", unit="1", title="Radius coefficient, interior", source=EN_6172,
    names=N))  # fmt: skip
CRIPPLING_END_LIPPED = register(Formula(
    crippling_end_lipped, symbol="R_w", unit="N", title="Local transverse resistance, end, lipped flanges",
    source=EN_6172, names=_MORE, limits=_SINGLE))  # fmt: skip
CRIPPLING_END_SHORT = register(Formula(
    crippling_end_short, symbol="R_w", unit="N", title="Local transverse resistance, end, plain flanges",
    source=EN_6172, names=_MORE, limits=(*_SINGLE, Limit("s_s / t", high=60.0))))  # fmt: skip
CRIPPLING_END_LONG = register(Formula(
    crippling_end_long, symbol="R_w", unit="N", title="Local transverse resistance, end, long bearing",
    source=EN_6172, names=_MORE, limits=(*_SINGLE, Limit("s_s / t", low=60.0))))  # fmt: skip
CRIPPLING_INTERIOR_SHORT = register(Formula(
    crippling_interior_short, symbol="R_w", unit="N", title="Local transverse resistance, interior",
    source=EN_6172, names=_MORE, limits=(*_SINGLE, Limit("s_s / t", high=60.0))))  # fmt: skip
CRIPPLING_INTERIOR_LONG = register(Formula(
    crippling_interior_long, symbol="R_w", unit="N", title="Local transverse resistance, interior, long bearing",
    source=EN_6172, names=_MORE, limits=(*_SINGLE, Limit("s_s / t", low=60.0))))  # fmt: skip
CRIPPLING_END_OPPOSED = register(Formula(
    crippling_end_opposed, symbol="R_w", unit="N", title="Local transverse resistance, end, pressed from both sides",
    source=EN_6172, names=_MORE, limits=_SINGLE))  # fmt: skip
CRIPPLING_INTERIOR_OPPOSED = register(Formula(
    crippling_interior_opposed, symbol="R_w", unit="N",
    title="Local transverse resistance, interior, pressed from both sides", source=EN_6172, names=_MORE,
    limits=_SINGLE))  # fmt: skip


def crippling_single_web(*, end: bool, lipped: bool, s_s: float, t: float, opposed: bool = False) -> Formula:
    """The branch of 6.1.7.2 for a single web: near an end or not, pressed from both sides or one, lips or none."""
    if opposed:
        return CRIPPLING_END_OPPOSED if end else CRIPPLING_INTERIOR_OPPOSED
    if end and lipped:
        return CRIPPLING_END_LIPPED
    short = at_most(s_s / t, 60)
    if end:
        return CRIPPLING_END_SHORT if short else CRIPPLING_END_LONG
    return CRIPPLING_INTERIOR_SHORT if short else CRIPPLING_INTERIOR_LONG


# --- together ------------------------------------------------------------------------------------------


def bending_and_shear(*, M: Value, M_c: Value, V: Value, V_w: Value) -> Value:
    """Sum under bending and shear, at most one; for V over half of V_w [1].

    The clause multiplies the second term by 1 - M_f/M_pl, the share the flanges alone cannot take;
    one is taken for it, on the safe side.
    """
    return M / M_c + (2 * V / V_w - 1) ** 2


def bending_and_crippling(*, M: Value, M_c: Value, F: Value, R_w: Value) -> Value:
    """Sum under bending and a local force, at most 1.25 [1]."""
    return M / M_c + F / R_w


BENDING_AND_SHEAR = register(Formula(
    bending_and_shear, symbol="eta", unit="1", title="Bending and shear together", source=EN_6110, names=N,
    limits=(
        Limit("V / V_w", low=SHEAR_LEAVES_BENDING, why="below half the shear resistance bending is not reduced"),
    )))  # fmt: skip
BENDING_AND_CRIPPLING = register(Formula(
    bending_and_crippling, symbol="eta", unit="1", title="Bending and local force together", source=EN_6111,
    names=N))  # fmt: skip


def tension_resistance(*, A: Value, f_y: Value) -> Value:
    """Tension resistance of the gross section [N]."""
    return A * f_y


def tension_and_bending(*, T: Value, N_t: Value, M: Value, M_c: Value) -> Value:
    """Sum under tension and bending, at most one [1]."""
    return T / N_t + M / M_c


def service_second_moment(*, I_gr: Value, I_eff: Value, sigma_gr: Value, sigma: Value) -> Value:
    """Second moment of area for deflections of a section that buckles locally [mm^4]."""
    return I_gr - sigma_gr / sigma * (I_gr - I_eff)


TENSION_RESISTANCE = register(Formula(
    tension_resistance, symbol="N_t", unit="N", title="Tension resistance", source=EN_612, names=N))  # fmt: skip
TENSION_AND_BENDING = register(Formula(
    tension_and_bending, symbol="eta", unit="1", title="Tension and bending together", source=EN_616,
    names=N))  # fmt: skip
SERVICE_SECOND_MOMENT = register(Formula(
    service_second_moment, symbol="I_fic", unit="mm^4", title="Second moment of area for deflection", source=EN_71,
    names=N, limits=(Limit("sigma_gr / sigma", low=0.0, high=1.0),)))  # fmt: skip
