"""Beams and members in bending: the closed forms of the handbooks.

Signs: loads and deflections downwards positive, x from the left end, a bending moment that puts the
underside in tension (sagging) positive.  Fixed-end moments are given hogging positive, reactions
upwards positive and couples clockwise positive, as the tables print them.

The solver in `jointcalc.statics.beam` takes its span-end actions from the `fixed_end_*` formulas
here; the others are single answers a reader can follow by hand, and what the solver is held against.
"""

from __future__ import annotations

import numpy as np

from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register

HANDBOOK = Source("Beam tables, strength of materials (Roark, Formulas for Stress and Strain)", "", "from memory")
SLOPE_DEFLECTION = Source("Slope-deflection equations, uniform beam with elastic end restraints", "", "derivation")

N = Names(
    P=("N", "point load, downwards"),
    w=("N/mm", "uniform load, downwards"),
    M_0=("N*mm", "couple, clockwise"),
    L=("mm", "span"),
    a=("mm", "distance of the load from the left support"),
    b=("mm", "distance of the load from the right support"),
    EI=("N*mm^2", "bending stiffness"),
    k_1=("N*mm/rad", "rotational stiffness of the left support"),
    k_2=("N*mm/rad", "rotational stiffness of the right support"),
    M_FA=("N*mm", "fixed-end moment at the left, hogging positive"),
    M_FB=("N*mm", "fixed-end moment at the right, hogging positive"),
    M_A=("N*mm", "moment at the left support, hogging positive"),
    M_B=("N*mm", "moment at the right support, hogging positive"),
    m=("t/mm", "mass per length"),
    beta=("1", "frequency parameter of the end conditions"),
    W=("mm^3", "elastic section modulus"),
    M=("N*mm", "bending moment"),
    N_axial=("N", "axial compression"),
    N_cr=("N", "elastic critical load of the member"),
    delta=("mm", "deflection"),
    n_span=("1", "number the span is divided by to give the permitted deflection"),
)
ON_SPAN = (
    Limit("a", low=0.0, unit="mm", why="the load is on the span"),
    Limit("b", low=0.0, unit="mm", why="the load is on the span"),
)
SHORTER = (Limit("b / L", low=0.0, high=0.5, why="b is the shorter part of the span"),)


# --- pinned ends -----------------------------------------------------------------------------------


def pinned_uniform_moment(*, w: Value, L: Value) -> Value:
    """Greatest moment of a pinned span under a uniform load, at mid-span [N·mm]."""
    return w * L**2 / 8


def pinned_uniform_deflection(*, w: Value, L: Value, EI: Value) -> Value:
    """Greatest deflection of a pinned span under a uniform load, at mid-span [mm]."""
    return 5 * w * L**4 / (384 * EI)


def pinned_point_moment(*, P: Value, a: Value, b: Value, L: Value) -> Value:
    """Moment under a point load on a pinned span, its greatest [N·mm]."""
    return P * a * b / L


def pinned_point_deflection(*, P: Value, a: Value, b: Value, L: Value, EI: Value) -> Value:
    """Deflection under a point load on a pinned span [mm]."""
    return P * a**2 * b**2 / (3 * EI * L)


def pinned_point_deflection_max(*, P: Value, b: Value, L: Value, EI: Value) -> Value:
    """Greatest deflection of a pinned span with a point load; b is the shorter part [mm].

    It lies at sqrt((L² - b²)/3) from the support that is farther from the load.
    """
    return P * b * (L**2 - b**2) ** 1.5 / (9 * np.sqrt(3) * L * EI)


PINNED_UNIFORM_MOMENT = register(Formula(
    pinned_uniform_moment, symbol="M_max", unit="N*mm", title="Moment, pinned span, uniform load",
    source=HANDBOOK, names=N))  # fmt: skip
PINNED_UNIFORM_DEFLECTION = register(Formula(
    pinned_uniform_deflection, symbol="delta_max", unit="mm", title="Deflection, pinned span, uniform load",
    source=HANDBOOK, names=N))  # fmt: skip
PINNED_POINT_MOMENT = register(Formula(
    pinned_point_moment, symbol="M_max", unit="N*mm", title="Moment, pinned span, point load",
    source=HANDBOOK, names=N, limits=ON_SPAN))  # fmt: skip
PINNED_POINT_DEFLECTION = register(Formula(
    pinned_point_deflection, symbol="delta_P", unit="mm", title="Deflection under a point load, pinned span",
    source=HANDBOOK, names=N, limits=ON_SPAN))  # fmt: skip
PINNED_POINT_DEFLECTION_MAX = register(Formula(
    pinned_point_deflection_max, symbol="delta_max", unit="mm", title="Greatest deflection, pinned span, point load",
    source=HANDBOOK, names=N, limits=SHORTER))  # fmt: skip


# --- fixed ends ------------------------------------------------------------------------------------


def fixed_uniform_moment_end(*, w: Value, L: Value) -> Value:
    """Hogging moment at either end of a fixed span under a uniform load [N·mm]."""
    return w * L**2 / 12


def fixed_uniform_moment_middle(*, w: Value, L: Value) -> Value:
    """Sagging moment at mid-span of a fixed span under a uniform load [N·mm]."""
    return w * L**2 / 24


def fixed_uniform_deflection(*, w: Value, L: Value, EI: Value) -> Value:
    """Greatest deflection of a fixed span under a uniform load, at mid-span [mm]."""
    return w * L**4 / (384 * EI)


def fixed_point_deflection_middle(*, P: Value, b: Value, L: Value, EI: Value) -> Value:
    """Mid-span deflection of a fixed span under a point load; b is the shorter part [mm]."""
    return P * b**2 * (3 * L - 4 * b) / (48 * EI)


def fixed_end_point_moment_left(*, P: Value, a: Value, b: Value, L: Value) -> Value:
    """Hogging moment at the left fixed end under a point load [N·mm]."""
    return P * a * b**2 / L**2


def fixed_end_point_moment_right(*, P: Value, a: Value, b: Value, L: Value) -> Value:
    """Hogging moment at the right fixed end under a point load [N·mm]."""
    return P * a**2 * b / L**2


def fixed_end_point_reaction_left(*, P: Value, a: Value, b: Value, L: Value) -> Value:
    """Upward reaction at the left fixed end under a point load [N]."""
    return P * b**2 * (3 * a + b) / L**3


def fixed_end_point_reaction_right(*, P: Value, a: Value, b: Value, L: Value) -> Value:
    """Upward reaction at the right fixed end under a point load [N]."""
    return P * a**2 * (a + 3 * b) / L**3


def fixed_end_couple_moment_left(*, M_0: Value, a: Value, b: Value, L: Value) -> Value:
    """Hogging moment at the left fixed end under a clockwise couple [N·mm]."""
    return M_0 * b * (b - 2 * a) / L**2


def fixed_end_couple_moment_right(*, M_0: Value, a: Value, b: Value, L: Value) -> Value:
    """Hogging moment at the right fixed end under a clockwise couple [N·mm]."""
    return M_0 * a * (2 * b - a) / L**2


def fixed_end_couple_reaction(*, M_0: Value, a: Value, b: Value, L: Value) -> Value:
    """Upward reaction at the right fixed end under a clockwise couple; the left one is its opposite [N]."""
    return 6 * M_0 * a * b / L**3


FIXED_UNIFORM_MOMENT_END = register(Formula(
    fixed_uniform_moment_end, symbol="M_end", unit="N*mm", title="End moment, fixed span, uniform load",
    source=HANDBOOK, names=N))  # fmt: skip
FIXED_UNIFORM_MOMENT_MIDDLE = register(Formula(
    fixed_uniform_moment_middle, symbol="M_mid", unit="N*mm", title="Mid-span moment, fixed span, uniform load",
    source=HANDBOOK, names=N))  # fmt: skip
FIXED_UNIFORM_DEFLECTION = register(Formula(
    fixed_uniform_deflection, symbol="delta_max", unit="mm", title="Deflection, fixed span, uniform load",
    source=HANDBOOK, names=N))  # fmt: skip
FIXED_POINT_DEFLECTION_MIDDLE = register(Formula(
    fixed_point_deflection_middle, symbol="delta_mid", unit="mm", title="Mid-span deflection, fixed span, point load",
    source=Source(HANDBOOK.document, "", "from memory",
                  "one published page names the longer part b; the form holds for the shorter part"),
    names=N, limits=SHORTER))  # fmt: skip
FIXED_END_POINT_MOMENT_LEFT = register(Formula(
    fixed_end_point_moment_left, symbol="M_FA", unit="N*mm", title="Left fixed-end moment, point load",
    source=Source("Fixed-end moment tables", "point load", "read"), names=N, limits=ON_SPAN))  # fmt: skip
FIXED_END_POINT_MOMENT_RIGHT = register(Formula(
    fixed_end_point_moment_right, symbol="M_FB", unit="N*mm", title="Right fixed-end moment, point load",
    source=Source("Fixed-end moment tables", "point load", "read"), names=N, limits=ON_SPAN))  # fmt: skip
FIXED_END_POINT_REACTION_LEFT = register(Formula(
    fixed_end_point_reaction_left, symbol="R_FA", unit="N", title="Left fixed-end reaction, point load",
    source=HANDBOOK, names=N, limits=ON_SPAN))  # fmt: skip
FIXED_END_POINT_REACTION_RIGHT = register(Formula(
    fixed_end_point_reaction_right, symbol="R_FB", unit="N", title="Right fixed-end reaction, point load",
    source=HANDBOOK, names=N, limits=ON_SPAN))  # fmt: skip
FIXED_END_COUPLE_MOMENT_LEFT = register(Formula(
    fixed_end_couple_moment_left, symbol="M_FA", unit="N*mm", title="Left fixed-end moment, couple",
    source=HANDBOOK, names=N, limits=ON_SPAN))  # fmt: skip
FIXED_END_COUPLE_MOMENT_RIGHT = register(Formula(
    fixed_end_couple_moment_right, symbol="M_FB", unit="N*mm", title="Right fixed-end moment, couple",
    source=HANDBOOK, names=N, limits=ON_SPAN))  # fmt: skip
FIXED_END_COUPLE_REACTION = register(Formula(
    fixed_end_couple_reaction, symbol="R_FB", unit="N", title="Right fixed-end reaction, couple",
    source=HANDBOOK, names=N, limits=ON_SPAN))  # fmt: skip


# --- ends with rotational stiffness ----------------------------------------------------------------


def sprung_end_moment_left(*, M_FA: Value, M_FB: Value, EI: Value, L: Value, k_1: Value, k_2: Value) -> Value:
    """Hogging moment at the left support when both supports turn elastically [N·mm]."""
    a_1 = EI / (k_1 * L)
    a_2 = EI / (k_2 * L)
    return (M_FA * (1 + 4 * a_2) + 2 * a_2 * M_FB) / (1 + 4 * a_1 + 4 * a_2 + 12 * a_1 * a_2)


def sprung_end_moment_right(*, M_FA: Value, M_FB: Value, EI: Value, L: Value, k_1: Value, k_2: Value) -> Value:
    """Hogging moment at the right support when both supports turn elastically [N·mm]."""
    a_1 = EI / (k_1 * L)
    a_2 = EI / (k_2 * L)
    return (M_FB * (1 + 4 * a_1) + 2 * a_1 * M_FA) / (1 + 4 * a_1 + 4 * a_2 + 12 * a_1 * a_2)


def moment_ratio_symmetric(*, EI: Value, L: Value, k_1: Value) -> Value:
    """End moment over the fixed-end moment, equal end springs and symmetric load [1].

    Not the member-end fixity factor 1/(1 + 3 EI/(k L)), which other books call fixity.
    """
    a_1 = EI / (k_1 * L)
    return 1 / (1 + 2 * a_1)


def end_fixity_factor(*, EI: Value, L: Value, k_1: Value) -> Value:
    """Member-end fixity factor of one support: 0 pinned, 1 built in [1].

    Not the ratio of end moment to fixed-end moment, 1/(1 + 2 EI/(k L)) under symmetric load.
    """
    return 1 / (1 + 3 * EI / (k_1 * L))


def sprung_point_deflection(*, P: Value, a: Value, b: Value, L: Value, EI: Value, M_A: Value, M_B: Value) -> Value:
    """Deflection under a point load on a span with end moments M_A, M_B (hogging positive) [mm]."""
    free = P * a**2 * b**2 / (3 * EI * L)
    return free - (M_A * a * (L - a) * (2 * L - a) + M_B * a * (L - a) * (L + a)) / (6 * EI * L)


STIFF = (Limit("k_1", low=0.0, open_low=True, unit="N*mm/rad"), Limit("k_2", low=0.0, open_low=True, unit="N*mm/rad"))
SPRUNG_END_MOMENT_LEFT = register(Formula(
    sprung_end_moment_left, symbol="M_A", unit="N*mm", title="Left end moment, elastic end restraint",
    source=SLOPE_DEFLECTION, names=N, limits=STIFF))  # fmt: skip
SPRUNG_END_MOMENT_RIGHT = register(Formula(
    sprung_end_moment_right, symbol="M_B", unit="N*mm", title="Right end moment, elastic end restraint",
    source=SLOPE_DEFLECTION, names=N, limits=STIFF))  # fmt: skip
MOMENT_RATIO_SYMMETRIC = register(Formula(
    moment_ratio_symmetric, symbol="r_M", unit="1", title="End moment over fixed-end moment, symmetric load",
    source=SLOPE_DEFLECTION, names=N, limits=STIFF[:1]))  # fmt: skip
END_FIXITY_FACTOR = register(Formula(
    end_fixity_factor, symbol="r_end", unit="1", title="Member-end fixity factor",
    source=Source("Semi-rigid frame analysis, fixity factor", "", "from memory"), names=N,
    limits=STIFF[:1]))  # fmt: skip
SPRUNG_POINT_DEFLECTION = register(Formula(
    sprung_point_deflection, symbol="delta_P", unit="mm", title="Deflection under a point load, end moments known",
    source=SLOPE_DEFLECTION, names=N, limits=ON_SPAN))  # fmt: skip


# --- cantilever ------------------------------------------------------------------------------------


def cantilever_point_deflection(*, P: Value, L: Value, EI: Value) -> Value:
    """Tip deflection of a cantilever with a load at the tip [mm]."""
    return P * L**3 / (3 * EI)


def cantilever_uniform_deflection(*, w: Value, L: Value, EI: Value) -> Value:
    """Tip deflection of a cantilever under a uniform load [mm]."""
    return w * L**4 / (8 * EI)


CANTILEVER_POINT_DEFLECTION = register(Formula(
    cantilever_point_deflection, symbol="delta_tip", unit="mm", title="Tip deflection, cantilever, load at the tip",
    source=HANDBOOK, names=N))  # fmt: skip
CANTILEVER_UNIFORM_DEFLECTION = register(Formula(
    cantilever_uniform_deflection, symbol="delta_tip", unit="mm", title="Tip deflection, cantilever, uniform load",
    source=HANDBOOK, names=N))  # fmt: skip


# --- stress, stability, limits, frequency ------------------------------------------------------------


def bending_stress(*, M: Value, W: Value) -> Value:
    """Extreme-fibre stress of an elastic section [MPa]."""
    return M / W


def amplifier(*, N_axial: Value, N_cr: Value) -> Value:
    """Factor on first-order deflection and moment in the presence of axial compression [1].

    Exact for a sine-shaped first-order deflection, within a few per cent for usual loads.
    """
    return 1 / (1 - N_axial / N_cr)


def permitted_deflection(*, L: Value, n_span: Value) -> Value:
    """Deflection limit as a part of the span [mm]."""
    return L / n_span


def natural_frequency(*, beta: Value, L: Value, EI: Value, m: Value) -> Value:
    """First natural frequency of a uniform span from its frequency parameter [Hz]."""
    return beta**2 / (2 * np.pi * L**2) * np.sqrt(EI / m)


BENDING_STRESS = register(Formula(
    bending_stress, symbol="sigma_b", unit="MPa", title="Bending stress", source=HANDBOOK, names=N))  # fmt: skip
AMPLIFIER = register(Formula(
    amplifier, symbol="k_2nd", unit="1", title="Second-order amplification under axial compression",
    source=Source("Timoshenko and Gere, Theory of Elastic Stability", "beam-columns", "from memory"), names=N,
    limits=(Limit("N_axial / N_cr", low=0.0, high=1.0, open_high=True,
                  why="at the critical load the member buckles"),)))  # fmt: skip
PERMITTED_DEFLECTION = register(Formula(
    permitted_deflection, symbol="delta_lim", unit="mm", title="Permitted deflection",
    source=Source("Deflection practice, span over a number (IBC Table 1604.3 gives the form)", "", "common practice",
                  "no published limit was found for braces of vehicle floors: the number is the builder's choice"),
    names=N, limits=(Limit("n_span", low=0.0, open_low=True),)))  # fmt: skip
NATURAL_FREQUENCY = register(Formula(
    natural_frequency, symbol="f_1", unit="Hz", title="First natural frequency of a uniform span",
    source=Source("Blevins, Formulas for Natural Frequency and Mode Shape", "uniform beams", "from memory"),
    names=N))  # fmt: skip

DEFLECTION_PRACTICE: dict[str, float] = {
    "IBC Table 1604.3, floor members, live load": 360.0,
    "IBC Table 1604.3, floor members, dead + live load": 240.0,
    "IBC Table 1604.3, roof not supporting a ceiling, live load": 180.0,
    "IBC Table 1604.3, roof not supporting a ceiling, dead + live load": 120.0,
    "IBC Table 1604.3, formed-metal structural roofing and siding, total load": 60.0,
    "IBC Table 1604.3, secondary members of formed-metal roofs, live load": 150.0,
    "IBC Table 1604.3, secondary members of formed-metal walls, wind": 90.0,
}
"""Span divisors of published deflection limits for buildings, for orientation; none is for vehicles."""
