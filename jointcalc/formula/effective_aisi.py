"""Effective widths of AISI S100-16 Appendix 1 (formerly chapter B), with edge stiffeners.

From memory; the hat section of the classic handbook example (crown in compression, yielding first in
tension) is reproduced, see `tests/section/test_effective.py`.  E is 203 000 MPa (29 500 ksi) in this
specification.
"""

from __future__ import annotations

import numpy as np

from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register

S100 = "AISI S100-16"


def _source(clause: str, note: str = "") -> Source:
    return Source(S100, clause, status="from memory", note=note)


HAT = "confirmed by the classic hat example, itself from memory"

NAMES = Names(
    k=("1", "plate buckling coefficient"),
    E=("MPa", "modulus of elasticity, 203 000 MPa"),
    mu=("1", "Poisson's ratio"),
    t=("mm", "thickness"),
    w=("mm", "flat width"),
    f=("MPa", "stress in the compression element"),
    F_crl=("MPa", "elastic local buckling stress"),
    F_y=("MPa", "yield stress"),
    lamda=("1", "slenderness factor"),
    rho=("1", "local reduction factor"),
    psi=("1", "absolute value of the ratio of the stresses f_2/f_1 at the ends of the flat"),
    b_e=("mm", "effective width of the element under stress gradient"),
    b_o=("mm", "overall width of the compression flange"),
    h_o=("mm", "overall depth of the web"),
    b_1=("mm", "effective width at the more compressed end"),
    S=("1", "slenderness S of the edge stiffener rule"),
    n=("1", "exponent of the stiffener ratio"),
    I_a=("mm^4", "second moment of area that makes the lip an adequate stiffener"),
    I_s=("mm^4", "second moment of area of the lip about its own axis"),
    d=("mm", "flat width of the lip"),
    D=("mm", "overall width of the lip"),
    R_I=("1", "stiffness of the lip over the adequate one, at most 1"),
    S_e=("mm^3", "effective section modulus at the face that yields first"),
)


def local_buckling_stress(*, k: Value, E: Value, mu: Value, t: Value, w: Value) -> Value:
    """Elastic local buckling stress [MPa] of a flat; `t`, `w` [mm].  AISI S100-16 eq. 1.1-4."""
    return k * np.pi**2 * E / (12.0 * (1.0 - mu**2)) * (t / w) ** 2


LOCAL_BUCKLING_STRESS = register(
    Formula(
        local_buckling_stress,
        symbol="F_crl",
        unit="MPa",
        title="Elastic local buckling stress of the flat",
        source=_source("Appendix 1, 1.1, eq. 1.1-4", HAT),
        names=NAMES,
        limits=(Limit("w / t", high=500.0, why="the specification goes no further"),),
    )
)


def slenderness(*, f: Value, F_crl: Value) -> Value:
    """Slenderness factor of a flat.  AISI S100-16 eq. 1.1-3."""
    return np.sqrt(f / F_crl)


SLENDERNESS = register(
    Formula(
        slenderness,
        symbol="lamda",
        unit="1",
        title="Slenderness factor",
        source=_source("Appendix 1, 1.1, eq. 1.1-3", HAT),
        names=NAMES,
    )
)


def local_reduction(*, lamda: Value) -> Value:
    """Local reduction factor beyond lamda = 0.673.  AISI S100-16 eq. 1.1-2."""
    return (1.0 - 0.22 / lamda) / lamda


LOCAL_REDUCTION = register(
    Formula(
        local_reduction,
        symbol="rho",
        unit="1",
        title="Local reduction factor",
        source=_source("Appendix 1, 1.1, eq. 1.1-2", HAT),
        names=NAMES,
        limits=(Limit("lamda", low=0.673, why="a stockier flat is fully effective"),),
    )
)


def k_web(*, psi: Value) -> Value:
    """Buckling coefficient of a stiffened flat, one end in tension.  AISI S100-16 eq. 1.1.2-2."""
    return 4.0 + 2.0 * (1.0 + psi) ** 3 + 2.0 * (1.0 + psi)


def k_gradient(*, psi: Value) -> Value:
    """Buckling coefficient of a stiffened flat, both ends in compression.  AISI S100-16 eq. 1.1.2-6."""
    return 4.0 + 2.0 * (1.0 - psi) ** 3 + 2.0 * (1.0 - psi)


K_WEB, K_GRADIENT = (
    register(
        Formula(
            function,
            symbol="k",
            unit="1",
            title="Plate buckling coefficient of the web",
            source=_source("Appendix 1, 1.1.2"),
            names=NAMES,
            limits=limits,
        )
    )
    for function, limits in ((k_web, (Limit("psi", low=0.0),)), (k_gradient, (Limit("psi", low=0.0, high=1.0),)))
)


def web_width_compressed_end(*, b_e: Value, psi: Value) -> Value:
    """Effective width [mm] at the compressed end, other end in tension.  AISI S100-16 eq. 1.1.2-3."""
    return b_e / (3.0 + psi)


def web_width_gradient(*, b_e: Value, psi: Value) -> Value:
    """Effective width [mm] at the more compressed end, both ends in compression.  AISI S100-16 eq. 1.1.2-7."""
    return b_e / (3.0 - psi)


def web_width_axis_deep(*, b_e: Value, psi: Value, b_1: Value) -> Value:
    """Effective width [mm] next to the neutral axis where h_o/b_o > 4.  AISI S100-16 eq. 1.1.2-5."""
    return b_e / (1.0 + psi) - b_1


WEB_WIDTH_COMPRESSED_END, WEB_WIDTH_GRADIENT, WEB_WIDTH_AXIS_DEEP = (
    register(
        Formula(
            function,
            symbol=symbol,
            unit="mm",
            title="Effective width of the web",
            source=_source("Appendix 1, 1.1.2"),
            names=NAMES,
        )
    )
    for function, symbol in (
        (web_width_compressed_end, "b_1"),
        (web_width_gradient, "b_1"),
        (web_width_axis_deep, "b_2"),
    )
)


def stiffener_limit(*, E: Value, f: Value) -> Value:
    """The slenderness S of the edge stiffener rule.  AISI S100-16 eq. 1.3-7."""
    return 1.28 * np.sqrt(E / f)


STIFFENER_LIMIT = register(
    Formula(
        stiffener_limit,
        symbol="S",
        unit="1",
        title="Slenderness S of the edge stiffener rule",
        source=_source("Appendix 1, 1.3"),
        names=NAMES,
    )
)


def adequate_second_moment(*, t: Value, w: Value, S: Value) -> Value:
    """Second moment [mm^4] of an adequate lip, for w/t > 0.328 S.  AISI S100-16 eq. 1.3-8."""
    return np.minimum(399.0 * t**4 * (w / t / S - 0.328) ** 3, t**4 * (115.0 * (w / t) / S + 5.0))


ADEQUATE_SECOND_MOMENT = register(
    Formula(
        adequate_second_moment,
        symbol="I_a",
        unit="mm^4",
        title="Second moment of area of an adequate lip",
        source=_source("Appendix 1, 1.3"),
        names=NAMES,
        limits=(Limit("w / t / S", low=0.328, why="a stockier flange needs no stiffener"),),
    )
)


def lip_second_moment(*, d: Value, t: Value) -> Value:
    """Second moment [mm^4] of a square lip about its own axis.  AISI S100-16 eq. 1.3-10 with theta = 90 deg."""
    return d**3 * t / 12.0


LIP_SECOND_MOMENT = register(
    Formula(
        lip_second_moment,
        symbol="I_s",
        unit="mm^4",
        title="Second moment of area of the lip",
        source=_source("Appendix 1, 1.3"),
        names=NAMES,
    )
)


def stiffener_exponent(*, w: Value, t: Value, S: Value) -> Value:
    """Exponent n of the stiffener ratio.  AISI S100-16 eq. 1.3-11."""
    return np.maximum(0.582 - w / t / (4.0 * S), 1.0 / 3.0)


STIFFENER_EXPONENT = register(
    Formula(
        stiffener_exponent,
        symbol="n",
        unit="1",
        title="Exponent of the stiffener ratio",
        source=_source("Appendix 1, 1.3"),
        names=NAMES,
    )
)


def k_lipped_short(*, R_I: Value, n: Value) -> Value:
    """Buckling coefficient of a flange with a simple lip, D/w <= 0.25.  AISI S100-16 Table 1.3-1."""
    return np.minimum(3.57 * R_I**n + 0.43, 4.0)


def k_lipped_long(*, R_I: Value, n: Value, D: Value, w: Value) -> Value:
    """Buckling coefficient of a flange with a simple lip, 0.25 < D/w <= 0.8.  AISI S100-16 Table 1.3-1."""
    return np.minimum((4.82 - 5.0 * D / w) * R_I**n + 0.43, 4.0)


K_LIPPED_SHORT = register(
    Formula(
        k_lipped_short,
        symbol="k",
        unit="1",
        title="Plate buckling coefficient of the lipped flange",
        source=_source("Appendix 1, Table 1.3-1"),
        names=NAMES,
    )
)
K_LIPPED_LONG = register(
    Formula(
        k_lipped_long,
        symbol="k",
        unit="1",
        title="Plate buckling coefficient of the lipped flange",
        source=_source("Appendix 1, Table 1.3-1"),
        names=NAMES,
        limits=(Limit("D / w", low=0.25, high=0.8),),
    )
)


def nominal_moment(*, S_e: Value, F_y: Value) -> Value:
    """Nominal moment [N mm] at initiation of yielding.  AISI S100-16 F3.1."""
    return S_e * F_y


NOMINAL_MOMENT = register(
    Formula(
        nominal_moment,
        symbol="M_n",
        unit="N*mm",
        title="Nominal moment at first yield of the effective section",
        source=_source("F3.1", HAT),
        names=NAMES,
    )
)
