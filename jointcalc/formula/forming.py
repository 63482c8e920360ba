"""Folding sheet: bend allowance, bend radius, springback, brake force.

`r` is the inside radius, `s` or `t` the sheet thickness, `theta` the angle the sheet is turned [rad].
"""

from __future__ import annotations

import numpy as np

from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register

DIN = Source(
    "DIN 6935",
    "correction factor k",
    status="second-hand",
    note="several secondary pages print (r + k s) without the halving; the consistent form is (r + k s/2)",
)
GEOMETRY = Source("geometry of the bend", "", status="derivation")
GARDINER = Source("F. J. Gardiner, The spring back of metals, Trans. ASME 79 (1957)", "", status="from memory")
GROOVER = Source("Groover, Fundamentals of Modern Manufacturing", "sheet metal bending", status="from memory")
SHOP = Source("common practice of press-brake tables", "", status="common practice")

NAMES = Names(
    r=("mm", "inside radius"),
    s=("mm", "sheet thickness"),
    t=("mm", "sheet thickness"),
    k=("1", "correction factor, neutral fibre at k s/2 from the inside face"),
    K=("1", "position of the neutral fibre from the inside face over the thickness"),
    theta=("rad", "angle the sheet is turned"),
    BA=("mm", "bend allowance"),
    SB=("mm", "outside set-back"),
    e=("1", "strain that the sheet can take"),
    R_i=("mm", "inside radius under the punch"),
    R_f=("mm", "inside radius after springing back"),
    Y=("MPa", "yield strength"),
    E=("MPa", "modulus of elasticity"),
    K_bf=("1", "1.33 for a V die, 0.33 for a wiping die"),
    R_m=("MPa", "tensile strength"),
    w=("mm", "length of the bend line"),
    W=("mm", "die opening"),
    V=("mm", "die opening"),
)


def correction_factor(*, r: Value, s: Value) -> Value:
    """DIN 6935 correction factor k for r/s up to 5; 1 above."""
    return 0.65 + 0.5 * np.log10(r / s)


CORRECTION_FACTOR = register(
    Formula(
        correction_factor,
        symbol="k",
        unit="1",
        title="Correction factor for the neutral fibre",
        source=DIN,
        names=NAMES,
        limits=(Limit("r / s", low=0.1, high=5.0, why="above 5 the factor is 1"),),
    )
)


def allowance_din(*, theta: Value, r: Value, k: Value, s: Value) -> Value:
    """Developed length [mm] of a bend by DIN 6935; `theta` [rad]."""
    return theta * (r + k * s / 2.0)


ALLOWANCE_DIN = register(
    Formula(allowance_din, symbol="BA", unit="mm", title="Bend allowance", source=DIN, names=NAMES)
)


def allowance(*, theta: Value, r: Value, K: Value, t: Value) -> Value:
    """Developed length [mm] of a bend with a stated K-factor; `theta` [rad]."""
    return theta * (r + K * t)


ALLOWANCE = register(
    Formula(
        allowance,
        symbol="BA",
        unit="mm",
        title="Bend allowance with the stated K",
        source=GEOMETRY,
        names=NAMES,
        limits=(Limit("K", low=0.0, high=1.0),),
    )
)


def setback(*, r: Value, t: Value, theta: Value) -> Value:
    """Outside set-back [mm]: tangent point to the corner of the outer faces."""
    return (r + t) * np.tan(theta / 2.0)


SETBACK = register(Formula(setback, symbol="SB", unit="mm", title="Outside set-back", source=GEOMETRY, names=NAMES))


def deduction(*, SB: Value, BA: Value) -> Value:
    """Bend deduction [mm]: what two outside legs are longer than the blank."""
    return 2.0 * SB - BA


DEDUCTION = register(Formula(deduction, symbol="BD", unit="mm", title="Bend deduction", source=GEOMETRY, names=NAMES))


def outer_strain(*, r: Value, t: Value) -> Value:
    """Strain of the outer fibre of a bend, neutral fibre in the middle."""
    return 1.0 / (2.0 * r / t + 1.0)


OUTER_STRAIN = register(
    Formula(outer_strain, symbol="e", unit="1", title="Strain of the outer fibre", source=GEOMETRY, names=NAMES)
)


def radius_for_strain(*, t: Value, e: Value) -> Value:
    """Least inside radius [mm] whose outer strain stays within `e` (elongation at fracture: on the safe side)."""
    return t * (1.0 / e - 1.0) / 2.0


RADIUS_FOR_STRAIN = register(
    Formula(
        radius_for_strain,
        symbol="r_min",
        unit="mm",
        title="Least inside radius by elongation",
        source=GEOMETRY,
        names=NAMES,
        limits=(Limit("e", low=0.0, high=1.0, open_low=True),),
    )
)


def springback_ratio(*, R_i: Value, Y: Value, E: Value, t: Value) -> Value:
    """Radius under the punch over radius after springing back."""
    return 4.0 * (R_i * Y / (E * t)) ** 3 - 3.0 * (R_i * Y / (E * t)) + 1.0


SPRINGBACK_RATIO = register(
    Formula(
        springback_ratio,
        symbol="R_i_R_f",
        unit="1",
        title="Radius before over radius after springback",
        source=GARDINER,
        names=NAMES,
        limits=(Limit("R_i * Y / (E * t)", low=0.0, high=0.5, open_high=True, why="beyond it the bend is elastic"),),
    )
)


def angle_ratio(*, R_i: Value, R_f: Value, t: Value) -> Value:
    """Bend angle after over before springback, from the unchanged length of the mid-line."""
    return (2.0 * R_i / t + 1.0) / (2.0 * R_f / t + 1.0)


ANGLE_RATIO = register(
    Formula(
        angle_ratio,
        symbol="K_s",
        unit="1",
        title="Bend angle after over before springback",
        source=GROOVER,
        names=NAMES,
    )
)


def brake_force(*, K_bf: Value, R_m: Value, w: Value, t: Value, W: Value) -> Value:
    """Bending force [N] of a press brake over a bend line of length `w` [mm]."""
    return K_bf * R_m * w * t**2 / W


BRAKE_FORCE = register(
    Formula(
        brake_force,
        symbol="F",
        unit="N",
        title="Bending force",
        source=GROOVER,
        names=NAMES,
    )
)


def die_opening(*, t: Value) -> Value:
    """Usual V-die opening [mm] for thin sheet: eight thicknesses."""
    return 8.0 * t


LEAST_RADIUS, LEAST_RADIUS_DRAWING, DRAWING = 1.0, 0.5, 0.28
"""Least inside radius over thickness, the same of drawing steel, and the elongation from which steel counts as such:
common practice, no source."""
FOLDS_FREELY = 390.0
"""Tensile strength [MPa] up to which DIN 6935 gives least radii and no elongation has to be asked for."""
MOST_DIN = 3.0
"""Thickness [mm] up to which the table of least radii is taken from DIN 6935."""
DIE_OPENING = register(
    Formula(
        die_opening,
        symbol="V",
        unit="mm",
        title="Usual die opening",
        source=SHOP,
        names=NAMES,
        limits=(Limit("t", high=6.0, unit="mm", why="thicker sheet takes a wider die"),),
    )
)


def least_flange(*, V: Value) -> Value:
    """Shortest outside leg [mm] that still rests on both edges of a V die when bent square.

    Half the opening, measured along a leg that lies at 45 degrees.
    """
    return V / np.sqrt(2.0)


LEAST_FLANGE = register(
    Formula(
        least_flange,
        symbol="b_min",
        unit="mm",
        title="Shortest leg the die holds",
        source=GEOMETRY,
        names=NAMES,
    )
)
