"""Stresses of a flat or beaded panel from its moments, and what they are held against."""

from __future__ import annotations

import numpy as np

from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register

BENDING = Source("Elastic bending of a beaded strip, sigma = M / W", "", "derivation",
                 "plane sections of one pitch; the sheet taken as an orthotropic plate")  # fmt: skip
PLATE = Source("Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed.", "arts. 9-11", "from memory")
MISES = Source("von Mises' yield condition, pure shear", "", "derivation")
TOGETHER = Source("von Mises' yield condition, one normal and one shear stress", "", "derivation",
                  "for buckling the usual interaction of plates in bending and shear has the same form")  # fmt: skip

N = Names(
    M_x=("N", "bending moment per width, along the beads"),
    W=("mm^2", "section modulus per width, along the beads (mm³/mm)"),
    I=("mm^3", "second moment of area per width, along the beads (mm⁴/mm)"),
    z_s=("mm", "height of the centroid above the mid-line of the flat"),
    M_xy=("N", "twisting moment per width"),
    t=("mm", "sheet thickness"),
    f_y=("MPa", "yield strength"),
    q=("N/mm", "in-plane shear flow"),
    u_1=("1", "share of the bending capacity used"),
    u_2=("1", "share of the shear capacity used"),
)


def stress_along(*, M_x: Value, W: Value) -> Value:
    """Greatest stress of bending along the beads [MPa]."""
    return M_x / W


def stress_in_flats(*, M_x: Value, z_s: Value, I: Value) -> Value:
    """Stress of bending along the beads in the mid-line of the flats between them [MPa]."""
    return M_x * z_s / I


def twisting_stress(*, M_xy: Value, t: Value) -> Value:
    """Surface shear stress of a twisted sheet [MPa]."""
    return 6 * M_xy / t**2


def shear_yield(*, f_y: Value) -> Value:
    """Yield stress in shear [MPa]."""
    return f_y / np.sqrt(3)


def shear_stress(*, q: Value, t: Value) -> Value:
    """Shear stress of a shear flow [MPa]."""
    return q / t


def bending_with_shear(*, u_1: Value, u_2: Value) -> Value:
    """Sum of squares of the shares used by bending and by shear [1]."""
    return u_1**2 + u_2**2


STRESS_ALONG = register(Formula(
    stress_along, symbol="sigma_x", unit="MPa", title="Bending stress along the beads", source=BENDING,
    names=N))  # fmt: skip
STRESS_IN_FLATS = register(Formula(
    stress_in_flats, symbol="sigma_f", unit="MPa", title="Bending stress in the flats between beads", source=BENDING,
    names=N))  # fmt: skip
TWISTING_STRESS = register(Formula(
    twisting_stress, symbol="tau_xy", unit="MPa", title="Surface shear stress of twisting", source=PLATE,
    names=N))  # fmt: skip
SHEAR_YIELD = register(Formula(
    shear_yield, symbol="tau_y", unit="MPa", title="Yield stress in shear", source=MISES, names=N))  # fmt: skip
SHEAR_STRESS = register(Formula(
    shear_stress, symbol="tau", unit="MPa", title="Shear stress of a shear flow", source=MISES, names=N))  # fmt: skip
BENDING_WITH_SHEAR = register(Formula(
    bending_with_shear, symbol="eta", unit="1", title="Bending and shear together", source=TOGETHER, names=N,
    limits=(Limit("u_1", low=0.0), Limit("u_2", low=0.0))))  # fmt: skip


LEVY = Source("Levy, NACA TN 847 (1942)", "clamped square plate, large deflections", "from memory")


def pressure_number(*, p: Value, a: Value, E: Value, t: Value) -> Value:
    """Pressure of a square plate made free of units, as Levy tabulates it [1]."""
    return p * a**4 / (E * t**4)


PRESSURE_NUMBER = register(Formula(
    pressure_number, symbol="Q", unit="1", title="Pressure number of a square plate", source=LEVY,
    names=Names(p=("MPa", "pressure"), a=("mm", "side"), E=("MPa", "modulus of elasticity"), t=N["t"]),
    limits=(Limit("p", low=0.0),)))  # fmt: skip
