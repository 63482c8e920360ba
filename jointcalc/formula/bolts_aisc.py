"""Bolts by AISC 360, section J3: shear, tension, both together, bearing, tear-out and slip.

The results are nominal strengths (phi 0.75, Omega 2.00; slip has its own).  AISC 360 counts bolts on their nominal
area.  Edition conflict kept in the table `bolt_nominal_aisc`: A325 in shear is 48/60 ksi in 2005, 54/68 ksi from 2010.
"""

from __future__ import annotations

import numpy as np

from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register
from jointcalc.formula.safety import Safety

STRESS = Source("AISC 360-16", "J3.6", status="from memory", note="reproduces a published example")
COMBINED = Source("AISC 360-16", "J3.7", status="from memory")
SLIP = Source("AISC 360-16", "J3.8", status="from memory", note="reproduces a published example")
BEARING = Source("AISC 360-16", "J3.10", status="from memory")

THREADED = Source("AISC 360-16", "Table J3.2", status="from memory")

SAFETY = Safety(2.00, 0.75)
SAFETY_SLIP = Safety(1.50, 1.00)
SMALL = 12.7
"""Diameter [mm] under which AISI S100 Table J3.4-1 has stresses of its own (1/2 in)."""
ALONE = 0.3
"""Shear or tension over what is available up to which the other counts in full (J3.7)."""
FILLERS_FROM = 6.0
"""Thickness of fillers [mm] beyond which they count (J5.2, 1/4 in)."""
PRETENSION, MU_CLEAN, D_U = 0.70, 0.30, 1.13
"""Pretension over the least tensile strength (Table J3.1), slip coefficient of clean mill scale (class A, 0.35 before
2010) and the mean of installed over specified pretension (J3.8)."""

NAMES = Names(
    F_nt=("MPa", "nominal tensile stress of the bolt"),
    F_nv=("MPa", "nominal shear stress of the bolt"),
    F_u=("MPa", "tensile strength of the plate"),
    F_ub=("MPa", "tensile strength of the bolt"),
    A_b=("mm^2", "nominal area of the bolt"),
    d=("mm", "nominal diameter of the bolt"),
    t=("mm", "thickness of the plate"),
    l_c=("mm", "clear distance from the hole to the edge or the next hole, along the force"),
    f_rv=("MPa", "required shear stress"),
    Omega=("1", "safety factor"),
    mu=("1", "slip coefficient"),
    D_u=("1", "mean installed over specified pretension, 1.13"),
    h_f=("1", "filler factor"),
    T_b=("N", "least pretension of the bolt"),
    n_s=("1", "number of slip planes"),
)


def tension_stress_threaded(*, F_ub: Value) -> Value:
    """Nominal tensile stress F_nt [MPa] of a threaded part of 1/2 in or more, on its nominal area.

    A smaller bolt's stress area is a lesser share of its nominal area: AISI S100 gives 0.675 (`bolts_aisi`).
    Source: AISC 360-16 Table J3.2, threaded parts.
    """
    return 0.75 * F_ub


def shear_stress_threads_in(*, F_ub: Value) -> Value:
    """Nominal shear stress F_nv [MPa] of a threaded part, threads in the shear plane, on its nominal area.

    Source: AISC 360-16 Table J3.2, threaded parts of 1/2 in or more (0.40 before 2010).
    """
    return 0.450 * F_ub


def shear_stress_threads_out(*, F_ub: Value) -> Value:
    """Nominal shear stress F_nv [MPa] of a threaded part, threads out of the shear plane, on its nominal area.

    Source: AISC 360-16 Table J3.2, threaded parts of 1/2 in or more (0.50 before 2010).
    """
    return 0.563 * F_ub


def nominal_area(*, d: Value) -> Value:
    """Nominal area A_b [mm²] of a bolt of diameter `d` [mm].  Source: AISC 360-16 J3.6."""
    return np.pi * d**2 / 4.0


def bolt_shear(*, F_nv: Value, A_b: Value) -> Value:
    """Nominal shear strength R_n [N] of a bolt per shear plane.  Source: AISC 360-16 eq. J3-1."""
    return F_nv * A_b


def bolt_tension(*, F_nt: Value, A_b: Value) -> Value:
    """Nominal tensile strength R_n [N] of a bolt.  Source: AISC 360-16 eq. J3-1."""
    return F_nt * A_b


def tension_beside_shear_asd(*, F_nt: Value, F_nv: Value, f_rv: Value, Omega: Value) -> Value:
    """Nominal tensile stress F'_nt [MPa] left beside the service shear stress `f_rv`.

    Need not be applied when either stress is at most 30 % of what is available.
    Source: AISC 360-16 eq. J3-3b.
    """
    return np.minimum(1.3 * F_nt - Omega * F_nt / F_nv * f_rv, F_nt)


def bearing(*, d: Value, t: Value, F_u: Value) -> Value:
    """Nominal bearing strength R_n [N], hole deformation at service load limited.  Source: AISC 360-16 eq. J3-6a."""
    return 2.4 * d * t * F_u


def tear_out(*, l_c: Value, t: Value, F_u: Value) -> Value:
    """Nominal tear-out strength R_n [N], hole deformation limited.  Source: AISC 360-16 eq. J3-6c."""
    return 1.2 * l_c * t * F_u


def slip(*, mu: Value, D_u: Value, h_f: Value, T_b: Value, n_s: Value) -> Value:
    """Nominal slip resistance R_n [N] of a pretensioned bolt.  Source: AISC 360-16 eq. J3-4."""
    return mu * D_u * h_f * T_b * n_s


def _enter(function: Value, symbol: str, unit: str, title: str, source: Source, *limits: Limit) -> Formula:
    return register(Formula(function, symbol=symbol, unit=unit, title=title, source=source, names=NAMES, limits=limits))


THICK = Limit("t", low=4.7625, unit="mm", why="thinner sheet goes to AISI S100")
HALF_INCH = Limit("d", low=12.7, unit="mm", why="bolts under 1/2 in have lower stresses by AISI S100 Table J3.4-1")
TENSION_STRESS_THREADED = _enter(
    tension_stress_threaded, "F_nt", "MPa", "Nominal tensile stress of a threaded part", THREADED, HALF_INCH
)
SHEAR_STRESS_THREADS_IN = _enter(
    shear_stress_threads_in, "F_nv", "MPa", "Nominal shear stress, threads in the shear plane", THREADED, HALF_INCH
)
SHEAR_STRESS_THREADS_OUT = _enter(
    shear_stress_threads_out, "F_nv", "MPa", "Nominal shear stress, threads out of the shear plane", THREADED, HALF_INCH
)
NOMINAL_AREA = _enter(nominal_area, "A_b", "mm^2", "Nominal area of a bolt", STRESS)
BOLT_SHEAR = _enter(bolt_shear, "R_n", "N", "Shear of a bolt", STRESS)
BOLT_TENSION = _enter(bolt_tension, "R_n", "N", "Tension of a bolt", STRESS)
TENSION_BESIDE_SHEAR_ASD = _enter(
    tension_beside_shear_asd, "F_nt'", "MPa", "Tensile stress left beside shear, ASD", COMBINED
)
BEARING_STRENGTH = _enter(bearing, "R_n", "N", "Bearing of a bolt in plate", BEARING, THICK)
TEAR_OUT = _enter(tear_out, "R_n", "N", "Tear-out of a bolt from plate", BEARING, THICK)
SLIP_RESISTANCE = _enter(slip, "R_n", "N", "Slip of a pretensioned bolt", SLIP)
