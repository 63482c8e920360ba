"""Beams and members in bending: end actions of fixed spans, frequency.

Signs: loads and deflections downwards positive, x from the left end, a bending moment that puts the
underside in tension (sagging) positive.  Fixed-end moments are given hogging positive, reactions
upwards positive and couples clockwise positive, as the tables print them.

The solver in `jointcalc.statics.beam` takes its span-end actions from the `fixed_end_*` formulas
here.
"""

from __future__ import annotations

import numpy as np

from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register

HANDBOOK = Source("Beam tables, strength of materials (Roark, Formulas for Stress and Strain)", "", "from memory")

N = Names(
    P=("N", "point load, downwards"),
    M_0=("N*mm", "couple, clockwise"),
    L=("mm", "span"),
    a=("mm", "distance of the load from the left support"),
    b=("mm", "distance of the load from the right support"),
    EI=("N*mm^2", "bending stiffness"),
    m=("t/mm", "mass per length"),
    beta=("1", "frequency parameter of the end conditions"),
)
ON_SPAN = (
    Limit("a", low=0.0, unit="mm", why="the load is on the span"),
    Limit("b", low=0.0, unit="mm", why="the load is on the span"),
)


# --- fixed ends ------------------------------------------------------------------------------------


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


# --- frequency ------------------------------------------------------------


def natural_frequency(*, beta: Value, L: Value, EI: Value, m: Value) -> Value:
    """First natural frequency of a uniform span from its frequency parameter [Hz]."""
    return beta**2 / (2 * np.pi * L**2) * np.sqrt(EI / m)


NATURAL_FREQUENCY = register(Formula(
    natural_frequency, symbol="f_1", unit="Hz", title="First natural frequency of a uniform span",
    source=Source("Blevins, Formulas for Natural Frequency and Mode Shape", "uniform beams", "from memory"),
    names=N))  # fmt: skip
