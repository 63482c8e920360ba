"""Effective widths of plane elements and edge stiffeners: EN 1993-1-5:2006 4.4 and EN 1993-1-3:2006 5.5.

From memory, confirmed by the published results of the worked example SX022a-EN-EU (lipped channel in
bending, 2005), which they reproduce; see `tests/section/test_effective.py`.  Stress ratios `psi` are
smaller over larger compressive stress.  `lamda_p` is the plate slenderness.
"""

from __future__ import annotations

import numpy as np

from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register

PART_1_5 = "EN 1993-1-5:2006"
PART_1_3 = "EN 1993-1-3:2006"


def _source(document: str, clause: str, note: str = "confirmed by worked example SX022a-EN-EU") -> Source:
    return Source(document, clause, status="from memory", note=note)


NAMES = Names(
    f_y=("MPa", "yield strength"),
    f_yb=("MPa", "basic yield strength"),
    b=("mm", "width of the plane element"),
    t=("mm", "thickness"),
    epsilon=("1", "square root of 235 over the yield strength"),
    k_sigma=("1", "buckling factor"),
    lamda_p=("1", "plate slenderness"),
    psi=("1", "stress ratio over the width"),
    rho=("1", "reduction factor for width"),
    b_c=("mm", "compressed part of the width"),
    b_eff=("mm", "effective width"),
    b_pc=("mm", "notional width of the lip"),
    b_p=("mm", "notional width of the flange"),
    b_e2=("mm", "effective width of the flange next to the lip"),
    c_eff=("mm", "effective width of the lip"),
    E=("MPa", "modulus of elasticity"),
    nu=("1", "Poisson's ratio"),
    b_1=("mm", "web to the centroid of the stiffener"),
    b_2=("mm", "web to the centroid of the stiffener of the other flange"),
    h_w=("mm", "depth of the web between the mid-lines of the flanges"),
    k_f=("1", "stiffener area of the other flange over this one's, 0 in bending"),
    K=("N/mm^2", "spring stiffness per unit length"),
    I_s=("mm^4", "second moment of area of the stiffener about its own axis"),
    A_s=("mm^2", "area of the stiffener"),
    b_s=("mm", "developed width of the stiffener"),
    sigma_cr_s=("MPa", "elastic critical stress of the stiffener"),
    lamda_d=("1", "slenderness of the stiffener"),
    chi_d=("1", "reduction factor for the stiffener"),
    W_eff=("mm^3", "effective section modulus, the smaller of the two faces"),
)


def epsilon(*, f_y: Value) -> Value:
    """Strength factor; `f_y` [MPa].  EN 1993-1-5:2006 Table 4.1."""
    return np.sqrt(235.0 / f_y)


EPSILON = register(
    Formula(epsilon, symbol="epsilon", unit="1", title="Strength factor", source=_source(PART_1_5, "4.4"), names=NAMES)
)


def slenderness(*, b: Value, t: Value, epsilon: Value, k_sigma: Value) -> Value:
    """Plate slenderness; `b`, `t` [mm].  EN 1993-1-5:2006 4.4(2)."""
    return (b / t) / (28.4 * epsilon * np.sqrt(k_sigma))


SLENDERNESS = register(
    Formula(
        slenderness,
        symbol="lamda_p",
        unit="1",
        title="Plate slenderness",
        source=_source(PART_1_5, "4.4(2)"),
        names=NAMES,
    )
)


def rho_internal(*, lamda_p: Value, psi: Value) -> Value:
    """Reduction of an internal element beyond its limit 0.5 + sqrt(0.085 - 0.055 psi).  EN 1993-1-5:2006 (4.2)."""
    return (lamda_p - 0.055 * (3.0 + psi)) / lamda_p**2


RHO_INTERNAL = register(
    Formula(
        rho_internal,
        symbol="rho",
        unit="1",
        title="Reduction factor of an internal element",
        source=_source(PART_1_5, "4.4(2), eq. (4.2)"),
        names=NAMES,
        limits=(
            Limit("lamda_p - 0.5 - np.sqrt(0.085 - 0.055 * psi)", low=0.0, why="a stockier element is fully effective"),
            Limit("3 + psi", low=0.0),
        ),
    )
)


def limit_internal(*, psi: Value) -> Value:
    """Slenderness up to which an internal element is fully effective.  EN 1993-1-5:2006 4.4(2), corrigendum 2009."""
    return 0.5 + np.sqrt(0.085 - 0.055 * psi)


LIMIT_INTERNAL = register(
    Formula(
        limit_internal,
        symbol="lamda_lim",
        unit="1",
        title="Slenderness limit of an internal element",
        source=_source(PART_1_5, "4.4(2)"),
        names=NAMES,
    )
)


def rho_outstand(*, lamda_p: Value) -> Value:
    """Reduction of an outstand beyond lamda_p = 0.748.  EN 1993-1-5:2006 (4.3)."""
    return (lamda_p - 0.188) / lamda_p**2


RHO_OUTSTAND = register(
    Formula(
        rho_outstand,
        symbol="rho",
        unit="1",
        title="Reduction factor of an outstand element",
        source=_source(PART_1_5, "4.4(2), eq. (4.3)"),
        names=NAMES,
        limits=(Limit("lamda_p", low=0.748, why="a stockier element is fully effective"),),
    )
)


def k_internal_compression(*, psi: Value) -> Value:
    """Buckling factor of an internal element all in compression, 1 >= psi >= 0.  EN 1993-1-5:2006 Table 4.1."""
    return 8.2 / (1.05 + psi)


def k_internal_bending(*, psi: Value) -> Value:
    """Buckling factor of an internal element partly in tension, 0 > psi >= -1.  EN 1993-1-5:2006 Table 4.1."""
    return 7.81 - 6.29 * psi + 9.78 * psi**2


def k_internal_tension(*, psi: Value) -> Value:
    """Buckling factor of an internal element mostly in tension, -1 > psi >= -3.  EN 1993-1-5:2006 Table 4.1."""
    return 5.98 * (1.0 - psi) ** 2


def k_outstand_free(*, psi: Value) -> Value:
    """Buckling factor of an outstand most compressed at its free edge, 1 >= psi >= -3.  EN 1993-1-5:2006 Table 4.2."""
    return 0.57 - 0.21 * psi + 0.07 * psi**2


def k_outstand_held(*, psi: Value) -> Value:
    """Buckling factor of an outstand most compressed at its support, 1 >= psi >= 0.  EN 1993-1-5:2006 Table 4.2."""
    return 0.578 / (psi + 0.34)


def k_outstand_held_bending(*, psi: Value) -> Value:
    """Buckling factor of an outstand compressed at its support, 0 > psi >= -1.  EN 1993-1-5:2006 Table 4.2."""
    return 1.7 - 5.0 * psi + 17.1 * psi**2


K_INTERNAL_COMPRESSION, K_INTERNAL_BENDING, K_INTERNAL_TENSION = (
    register(
        Formula(
            function,
            symbol="k_sigma",
            unit="1",
            title="Buckling factor of an internal element",
            source=_source(PART_1_5, "Table 4.1"),
            names=NAMES,
            limits=(Limit("psi", low=low, high=high),),
        )
    )
    for function, low, high in (
        (k_internal_compression, 0.0, 1.0),
        (k_internal_bending, -1.0, 0.0),
        (k_internal_tension, -3.0, -1.0),
    )
)
K_OUTSTAND_FREE, K_OUTSTAND_HELD, K_OUTSTAND_HELD_BENDING = (
    register(
        Formula(
            function,
            symbol="k_sigma",
            unit="1",
            title="Buckling factor of an outstand element",
            source=_source(PART_1_5, "Table 4.2", note=""),
            names=NAMES,
            limits=(Limit("psi", low=low, high=high),),
        )
    )
    for function, low, high in (
        (k_outstand_free, -3.0, 1.0),
        (k_outstand_held, 0.0, 1.0),
        (k_outstand_held_bending, -1.0, 0.0),
    )
)


def k_lip(*, b_pc: Value, b_p: Value) -> Value:
    """Buckling factor of a single lip, 0.35 < b_pc/b_p <= 0.6; 0.5 below.  EN 1993-1-3:2006 (5.13)."""
    return 0.5 + 0.83 * (b_pc / b_p - 0.35) ** (2.0 / 3.0)


K_LIP = register(
    Formula(
        k_lip,
        symbol="k_sigma",
        unit="1",
        title="Buckling factor of a lip",
        source=_source(PART_1_3, "5.5.3.2(5)", note=""),
        names=NAMES,
        limits=(Limit("b_pc / b_p", low=0.35, high=0.6),),
    )
)


def stiffener_second_moment(*, b_e2: Value, c_eff: Value, t: Value) -> Value:
    """Second moment [mm^4] of lip and effective flange edge about their level axis.  EN 1993-1-3:2006 Figure 5.8."""
    z_s = c_eff**2 / (2.0 * (b_e2 + c_eff))
    return (b_e2 * t**3 + c_eff**3 * t) / 12.0 + b_e2 * t * z_s**2 + c_eff * t * (c_eff / 2.0 - z_s) ** 2


STIFFENER_SECOND_MOMENT = register(
    Formula(
        stiffener_second_moment,
        symbol="I_s",
        unit="mm^4",
        title="Second moment of area of the edge stiffener",
        source=_source(PART_1_3, "5.5.3.2, Figure 5.8"),
        names=NAMES,
        inner_units={"z_s": "mm"},
    )
)


def spring_stiffness(*, E: Value, t: Value, nu: Value, b_1: Value, h_w: Value, b_2: Value, k_f: Value) -> Value:
    """Spring stiffness [N/mm^2] that web and flange give an edge stiffener.  EN 1993-1-3:2006 (5.10b)."""
    return E * t**3 / (4.0 * (1.0 - nu**2)) * 1.0 / (b_1**2 * h_w + b_1**3 + 0.5 * b_1 * b_2 * h_w * k_f)


SPRING_STIFFNESS = register(
    Formula(
        spring_stiffness,
        symbol="K",
        unit="N/mm^2",
        title="Spring stiffness of the edge stiffener",
        source=_source(PART_1_3, "5.5.3.1(5), eq. (5.10b)"),
        names=NAMES,
    )
)


def stiffener_critical_stress(*, K: Value, E: Value, I_s: Value, A_s: Value) -> Value:
    """Elastic critical stress [MPa] of an edge stiffener on its spring.  EN 1993-1-3:2006 (5.15)."""
    return 2.0 * np.sqrt(K * E * I_s) / A_s


STIFFENER_CRITICAL_STRESS = register(
    Formula(
        stiffener_critical_stress,
        symbol="sigma_cr_s",
        unit="MPa",
        title="Elastic critical stress of the edge stiffener",
        source=_source(PART_1_3, "5.5.3.2(7), eq. (5.15)"),
        names=NAMES,
    )
)


def bead_critical_stress(*, E: Value, I_s: Value, t: Value, A_s: Value, b_p: Value, b_s: Value) -> Value:
    """Elastic critical stress [MPa] of one central bead, held by its flats only (k_w = 1, on the safe side).

    `b_p` [mm] is the width of each flat beside the bead.  EN 1993-1-3:2006 5.5.3.3, eq. (5.21).
    """
    return 4.2 * E / A_s * np.sqrt(I_s * t**3 / (4.0 * b_p**2 * (2.0 * b_p + 3.0 * b_s)))


BEAD_CRITICAL_STRESS = register(
    Formula(
        bead_critical_stress,
        symbol="sigma_cr_s",
        unit="MPa",
        title="Elastic critical stress of a central bead",
        source=_source(PART_1_3, "5.5.3.3, eq. (5.21)", note="k_w = 1; agrees with a strut on the spring of its flats"),
        names=NAMES,
    )
)


def stiffener_slenderness(*, f_yb: Value, sigma_cr_s: Value) -> Value:
    """Slenderness of a stiffener.  EN 1993-1-3:2006 5.5.3.1(7)."""
    return np.sqrt(f_yb / sigma_cr_s)


STIFFENER_SLENDERNESS = register(
    Formula(
        stiffener_slenderness,
        symbol="lamda_d",
        unit="1",
        title="Slenderness of the stiffener",
        source=_source(PART_1_3, "5.5.3.1(7)"),
        names=NAMES,
    )
)


def chi_d_medium(*, lamda_d: Value) -> Value:
    """Reduction of a stiffener, 0.65 < lamda_d < 1.38.  EN 1993-1-3:2006 (5.12b)."""
    return 1.47 - 0.723 * lamda_d


def chi_d_slender(*, lamda_d: Value) -> Value:
    """Reduction of a stiffener, lamda_d >= 1.38.  EN 1993-1-3:2006 (5.12c)."""
    return 0.66 / lamda_d


CHI_D_MEDIUM, CHI_D_SLENDER = (
    register(
        Formula(
            function,
            symbol="chi_d",
            unit="1",
            title="Reduction factor of the stiffener",
            source=_source(PART_1_3, "5.5.3.1(7)"),
            names=NAMES,
            limits=(Limit("lamda_d", low=low, high=high),),
        )
    )
    for function, low, high in ((chi_d_medium, 0.65, 1.38), (chi_d_slender, 1.38, None))
)


def moment_resistance(*, W_eff: Value, f_yb: Value) -> Value:
    """Characteristic moment resistance [N mm] at first yield of the effective section.  EN 1993-1-3:2006 6.1.4.1."""
    return W_eff * f_yb


MOMENT_RESISTANCE = register(
    Formula(
        moment_resistance,
        symbol="M_c_Rk",
        unit="N*mm",
        title="Moment resistance of the effective section",
        source=_source(PART_1_3, "6.1.4.1(1), eq. (6.4)"),
        names=NAMES,
    )
)
