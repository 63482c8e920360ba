"""The bolt itself: stress areas, ultimate and proof loads, and tension with shear by interaction curves."""

from __future__ import annotations

import numpy as np

from jointcalc.formula.core import Formula, Names, Source, Value, register

METRIC_AREA = Source("ISO 898-1", "tensile stress area", status="read", note="reproduces the printed areas")
INCH_AREA = Source("ASME B1.1", "tensile stress area", status="from memory")
LOADS = Source("ISO 898-1", "minimum ultimate and proof loads", status="read")
ELLIPSE = Source("Kulak, Fisher and Struik, Guide to Design Criteria, 2nd ed.", "4.1", status="from memory")
SPACE = Source("NASA, Space Shuttle criteria for preloaded fasteners", "combined loads", status="read")

NAMES = Names(
    d=("mm", "nominal diameter of the thread"),
    P=("mm", "thread pitch"),
    D=("mm", "nominal diameter of the inch thread"),
    A_s=("mm^2", "tensile stress area"),
    R_m=("MPa", "tensile strength of the class, minimum"),
    S_p=("MPa", "stress under proof load"),
    d_h=("mm", "diameter of the hole"),
    s=("mm", "width across flats of the hexagon"),
    R_a=("1", "axial load over axial strength"),
    R_b=("1", "bending moment over bending strength"),
    R_s=("1", "shear load over shear strength"),
    K=("1", "plastic bending factor, between 1 (elastic) and the full plastic value"),
    f_t=("1", "tension over tensile strength"),
    f_v=("1", "shear over shear strength"),
)


def stress_area_metric(*, d: Value, P: Value) -> Value:
    """Tensile stress area A_s [mm²] of a metric thread; `d`, pitch `P` [mm].  Source: ISO 898-1."""
    return np.pi / 4.0 * (d - 0.9382 * P) ** 2


def stress_area_inch(*, D: Value, P: Value) -> Value:
    """Tensile stress area A_t [mm²] of a unified thread; `D` and pitch `P` = 25.4/n, both [mm].

    Source: ASME B1.1, 0.7854 (D - 0.9743/n)^2 with n threads per inch (from memory).
    """
    return 0.7854 * (D - 0.9743 * P) ** 2


def ultimate_load(*, R_m: Value, A_s: Value) -> Value:
    """Least ultimate tensile load [N] of a bolt; `R_m` [MPa], `A_s` [mm²].  Source: ISO 898-1; SAE J429 alike."""
    return R_m * A_s


def proof_load(*, S_p: Value, A_s: Value) -> Value:
    """Proof load [N] of a bolt; `S_p` [MPa], `A_s` [mm²].  Source: ISO 898-1; SAE J429 alike."""
    return S_p * A_s


def hexagon_mean_diameter(*, s: Value) -> Value:
    """Mean d_m [mm] of the across-flats and across-points sizes of a regular hexagon of `s` [mm] across flats.

    Real heads are a little smaller across points (chamfer); the standard's value then is up to 2 % lower.
    Source: geometry; d_m as EN 1993-1-8:2005, 1.5 defines it.
    """
    return (s + s / np.cos(np.pi / 6.0)) / 2.0


def elliptical(*, f_t: Value, f_v: Value) -> Value:
    """Interaction sum f_t² + f_v² of a bolt in tension and shear, at most 1.

    Source: Kulak, Fisher and Struik, 4.1 (from memory).
    """
    return f_t**2 + f_v**2


def axial_bending_shear(*, R_a: Value, R_b: Value, K: Value, R_s: Value) -> Value:
    """Interaction sum (R_a + R_b/K)² + R_s³ of a fastener in tension, bending and shear, at most 1.

    Source: NASA Space Shuttle criteria for preloaded fasteners.
    """
    return (R_a + R_b / K) ** 2 + R_s**3


def _enter(function: Value, symbol: str, unit: str, title: str, source: Source) -> Formula:
    return register(Formula(function, symbol=symbol, unit=unit, title=title, source=source, names=NAMES))


STRESS_AREA_METRIC = _enter(stress_area_metric, "A_s", "mm^2", "Stress area of a metric thread", METRIC_AREA)
STRESS_AREA_INCH = _enter(stress_area_inch, "A_t", "mm^2", "Stress area of an inch thread", INCH_AREA)
ULTIMATE_LOAD = _enter(ultimate_load, "F_m", "N", "Least ultimate load of a bolt", LOADS)
PROOF_LOAD = _enter(proof_load, "F_p", "N", "Proof load of a bolt", LOADS)
HEXAGON_MEAN_DIAMETER = _enter(
    hexagon_mean_diameter,
    "d_m",
    "mm",
    "Mean diameter of a hexagon",
    Source("EN 1993-1-8:2005", "1.5", status="derivation"),
)
ELLIPTICAL = _enter(elliptical, "u", "1", "Tension and shear on a bolt, ellipse", ELLIPSE)
AXIAL_BENDING_SHEAR = _enter(axial_bending_shear, "u", "1", "Tension, bending and shear on a fastener", SPACE)
