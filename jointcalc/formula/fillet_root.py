"""Root of a weld from one side, by EN 1993-1-8, 4.12: the moment about the throat that opens it, and what it bends.

4.12 asks for the moment (from memory); arms, moduli and the share of a wall that cannot turn are our derivation.
"""

from __future__ import annotations

import numpy as np

from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register


def root_arm(*, t: Value, s: Value) -> Value:
    """Arm [mm] of a sheet about the throat of the one fillet on its side.

    From the middle of the sheet to its face, and from there a quarter of the leg to the middle of the throat.
    Source: EN 1993-1-8, 4.12(2) and figure 4.9 ask for it; geometry of the equal-leg fillet.
    """
    return t / 2 + s / 4


def root_arm_edge(*, s: Value) -> Value:
    """Arm [mm] of a force in the edge of a lapped plate about the throat of the fillet there: a quarter of the leg.

    Source: geometry of the equal-leg fillet.
    """
    return s / 4


def root_arm_partial(*, t: Value, a: Value) -> Value:
    """Arm [mm] of a force in the middle of a sheet about a butt weld of throat `a` [mm] from one side.

    Source: EN 1993-1-8, 4.12 asks for it; geometry.
    """
    return (t - a) / 2


def root_moment(*, F_root: Value, e: Value) -> Value:
    """Moment per length [N·mm/mm] on a throat whose root a force opens.  Source: EN 1993-1-8, 4.12."""
    return F_root * e


def root_moment_held(*, F_root: Value, s: Value, f_y: Value, t: Value) -> Value:
    """Moment per length [N·mm/mm] left to the throat of a part that cannot turn: its wall takes what it can plastic.

    The wall has f_y t²/4 less what the pull uses of it; a wall that the pull makes yield is counted as the thickness
    that it just would not.  Source: EN 1993-1-8, 4.12, with equilibrium at the foot of the wall (static theorem of
    plasticity).
    """
    t_1 = np.maximum(t, F_root / f_y)
    wall = f_y * t_1**2 / 4 - F_root**2 / (4 * f_y)
    return np.maximum(F_root * (t_1 / 2 + s / 4) - wall, 0.0)


def root_bending(*, M: Value, a: Value) -> Value:
    """Bending stress [MPa] on a throat under a moment that opens its root, the throat plastic.

    Source: EN 1993-1-8, 4.12; plastic modulus a²/4 of the throat per length.
    """
    return M / (a**2 / 4)


ROOT_NAMES = Names(
    s=("mm", "leg of an equal-leg fillet"),
    a=("mm", "throat"),
    t=("mm", "thickness of the thinner part"),
    f_y=("MPa", "yield strength of the weaker part joined"),
    e=("mm", "arm of the force about the middle of the throat"),
    F_root=("N/mm", "force per length of weld that opens its root"),
    M=("N*mm/mm", "moment per length of weld that opens its root"),
)


_ROOT = Source(
    "EN 1993-1-8:2005",
    "4.12, local eccentricity",
    "derivation",
    "4.12 asks for the moment (from memory); arm and modulus are ours",
)


ROOT_ARM = register(
    Formula(
        root_arm,
        symbol="e",
        unit="mm",
        title="Arm of a one-sided fillet about its throat",
        source=_ROOT,
        names=ROOT_NAMES,
    )
)


ROOT_ARM_EDGE = register(
    Formula(
        root_arm_edge,
        symbol="e",
        unit="mm",
        title="Arm of the edge of a lapped plate about the throat",
        source=_ROOT,
        names=ROOT_NAMES,
    )
)


ROOT_ARM_PARTIAL = register(
    Formula(
        root_arm_partial,
        symbol="e",
        unit="mm",
        title="Arm of a sheet about a butt weld that does not go through",
        source=_ROOT,
        names=ROOT_NAMES,
        limits=(Limit("t - a", low=0.0, unit="mm"),),
    )
)


ROOT_MOMENT = register(
    Formula(
        root_moment,
        symbol="M",
        unit="N*mm/mm",
        title="Moment that opens a root",
        source=_ROOT,
        names=ROOT_NAMES,
    )
)


ROOT_MOMENT_HELD = register(
    Formula(
        root_moment_held,
        symbol="M",
        unit="N*mm/mm",
        title="Moment that opens a root, the wall taking its share",
        source=_ROOT,
        names=ROOT_NAMES,
        inner_units={"t_1": "mm", "wall": "N*mm/mm"},
    )
)


ROOT_BENDING = register(
    Formula(
        root_bending,
        symbol="sigma_b",
        unit="MPa",
        title="Bending of the throat, root opened",
        source=_ROOT,
        names=ROOT_NAMES,
    )
)
