"""Rectangular plates, flat or beaded: rigidity, deflection, frequency, buckling in shear, membrane stiffening.

The plate spans 0..a along x and 0..b along y.  Orthotropic plates obey
D_x w_xxxx + 2 (D_1 + 2 D_xy) w_xxyy + D_y w_yyyy = q with M_xy = 2 D_xy w_xy; for a beaded sheet x runs
along the beads.  A flat sheet has D_x = D_y = D, D_1 = nu D, D_xy = D (1 - nu)/2.
"""

from __future__ import annotations

import numpy as np

from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register

TIMOSHENKO = Source("Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed.", "", "from memory")
NAVIER = Source("Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed.",
                "arts. 28-34 and 85 (Navier's solution)", "from memory")  # fmt: skip
ROARK = Source("Roark's Formulas for Stress and Strain, 7th ed.", "Table 11.4", "read")
ONE_TERM = Source("One-term energy solution, clamped orthotropic plate", "", "derivation",
                  "2 to 3 % above the converged frequency")  # fmt: skip
MEMBRANE = Source("One-term von Karman solution with Airy's stress function", "", "derivation",
                  "an estimate: within 6 % of Levy's values for flat square plates; not verified for beaded "
                  "sheet")  # fmt: skip
SHEAR = Source("Timoshenko and Gere, Theory of Elastic Stability; Roark Table 15.2", "shear buckling", "from memory")
EASLEY = Source("Easley, Buckling formulas for corrugated metal shear diaphragms, ASCE J. Struct. Div. 101 (1975)", "",
                "from memory", "confirmed within 3 % by a finite-element field, computed")  # fmt: skip

N = Names(
    E=("MPa", "modulus of elasticity"),
    nu=("1", "Poisson's ratio"),
    t=("mm", "thickness"),
    a=("mm", "side along x"),
    b=("mm", "side along y"),
    D=("N*mm", "flexural rigidity"),
    D_x=("N*mm", "bending rigidity along x (along the beads)"),
    D_y=("N*mm", "bending rigidity along y (across the beads)"),
    D_1=("N*mm", "Poisson coupling rigidity"),
    D_xy=("N*mm", "twisting rigidity, M_xy = 2 D_xy w_xy"),
    A_x=("N/mm", "stretching stiffness along x"),
    A_y=("N/mm", "stretching stiffness along y"),
    A_xy=("N/mm", "in-plane shear stiffness"),
    q=("MPa", "pressure"),
    q_mn=("MPa", "load amplitude of one term"),
    P=("N", "force on the patch"),
    m=("1", "half waves along x"),
    n=("1", "half waves along y"),
    x_0=("mm", "centre of the patch along x"),
    y_0=("mm", "centre of the patch along y"),
    c=("mm", "size of the patch along x"),
    d=("mm", "size of the patch along y"),
    mu=("t/mm^2", "mass per area"),
    M=("N", "bending moment per width"),
    W=("N", "central load"),
    r_0=("mm", "radius of the loaded circle"),
    r_e=("mm", "equivalent radius of the loaded circle"),
    beta=("1", "coefficient of the side ratio"),
    k_3=("N/mm^3", "membrane stiffness: force per deflection cubed"),
    Q=("N", "generalised force"),
    w_lin=("mm", "deflection by the linear formulas"),
)


def flexural_rigidity(*, E: Value, t: Value, nu: Value) -> Value:
    """Flexural rigidity of a flat sheet [N·mm]."""
    return E * t**3 / (12 * (1 - nu**2))


FLEXURAL_RIGIDITY = register(Formula(
    flexural_rigidity, symbol="D", unit="N*mm", title="Flexural rigidity of flat sheet",
    source=TIMOSHENKO, names=N))  # fmt: skip


# --- simply supported: Navier's series -----------------------------------------------------------------


def navier_uniform(*, q: Value, m: Value, n: Value) -> Value:
    """Load amplitude of one term, uniform pressure, m and n odd [MPa]."""
    return 16 * q / (np.pi**2 * m * n)


def navier_patch(
    *, P: Value, m: Value, n: Value, a: Value, b: Value, x_0: Value, y_0: Value, c: Value, d: Value
) -> Value:
    """Load amplitude of one term, force spread over a rectangle c x d [MPa]."""
    place = np.sin(m * np.pi * x_0 / a) * np.sin(n * np.pi * y_0 / b)
    size = np.sin(m * np.pi * c / (2 * a)) * np.sin(n * np.pi * d / (2 * b))
    return 16 * P / (np.pi**2 * m * n * c * d) * place * size


def navier_point(*, P: Value, m: Value, n: Value, a: Value, b: Value, x_0: Value, y_0: Value) -> Value:
    """Load amplitude of one term, point force [MPa]."""
    return 4 * P / (a * b) * np.sin(m * np.pi * x_0 / a) * np.sin(n * np.pi * y_0 / b)


def navier_deflection(
    *, q_mn: Value, m: Value, n: Value, a: Value, b: Value, D_x: Value, D_y: Value, D_1: Value, D_xy: Value
) -> Value:
    """Deflection amplitude of one term of the simply supported plate [mm]."""
    H = D_1 + 2 * D_xy
    return q_mn / (np.pi**4 * (D_x * m**4 / a**4 + 2 * H * m**2 * n**2 / (a**2 * b**2) + D_y * n**4 / b**4))


NAVIER_UNIFORM = register(Formula(
    navier_uniform, symbol="q_mn", unit="MPa", title="Load amplitude, uniform pressure", source=NAVIER, names=N,
    limits=(Limit("m", low=1.0), Limit("n", low=1.0))))  # fmt: skip
NAVIER_PATCH = register(Formula(
    navier_patch, symbol="q_mn", unit="MPa", title="Load amplitude, loaded rectangle", source=NAVIER, names=N,
    limits=(Limit("c", low=0.0, open_low=True), Limit("d", low=0.0, open_low=True))))  # fmt: skip
NAVIER_POINT = register(Formula(
    navier_point, symbol="q_mn", unit="MPa", title="Load amplitude, point force", source=NAVIER, names=N))  # fmt: skip
NAVIER_DEFLECTION = register(Formula(
    navier_deflection, symbol="w_mn", unit="mm", title="Deflection amplitude of one term",
    source=NAVIER, names=N, inner_units={"H": "N*mm"}))  # fmt: skip


# --- stress ----------------------------------------------------------------------------------------------


def flat_stress(*, M: Value, t: Value) -> Value:
    """Surface stress of flat sheet under a moment per width [MPa]."""
    return 6 * M / t**2


def equivalent_radius(*, r_0: Value, t: Value) -> Value:
    """Equivalent radius of a small loaded circle (Westergaard) [mm]."""
    return np.where(r_0 < 0.5 * t, np.sqrt(1.6 * r_0**2 + t**2) - 0.675 * t, r_0)


def central_load_stress(*, W: Value, t: Value, nu: Value, b: Value, r_e: Value, beta: Value) -> Value:
    """Stress under a central load on a small circle, flat plate; b is the shorter side [MPa]."""
    return 3 * W / (2 * np.pi * t**2) * ((1 + nu) * np.log(2 * b / (np.pi * r_e)) + beta)


FLAT_STRESS = register(Formula(
    flat_stress, symbol="sigma", unit="MPa", title="Surface stress of flat sheet",
    source=TIMOSHENKO, names=N))  # fmt: skip
EQUIVALENT_RADIUS = register(Formula(
    equivalent_radius, symbol="r_e", unit="mm", title="Equivalent radius of a small loaded circle",
    source=ROARK, names=N))  # fmt: skip
CENTRAL_LOAD_STRESS = register(Formula(
    central_load_stress, symbol="sigma_max", unit="MPa", title="Stress under a central load", source=ROARK, names=N,
    limits=(Limit("2 * b / (np.pi * r_e)", low=4.0, why="the loaded circle is small against the plate"),)))  # fmt: skip


# --- frequency ---------------------------------------------------------------------------------------------


def frequency_simple(*, a: Value, b: Value, D_x: Value, D_y: Value, D_1: Value, D_xy: Value, mu: Value) -> Value:
    """First frequency of a simply supported orthotropic plate, exact [Hz]."""
    H = D_1 + 2 * D_xy
    return np.pi / 2 / np.sqrt(mu) * np.sqrt(D_x / a**4 + 2 * H / (a**2 * b**2) + D_y / b**4)


def frequency_clamped_one_term(
    *, a: Value, b: Value, D_x: Value, D_y: Value, D_1: Value, D_xy: Value, mu: Value
) -> Value:
    """First frequency of a clamped orthotropic plate, one term: an upper bound [Hz]."""
    H = D_1 + 2 * D_xy
    stiff = 16 * np.pi**4 / (9 * mu) * (3 * D_x / a**4 + 2 * H / (a**2 * b**2) + 3 * D_y / b**4)
    return np.sqrt(stiff) / (2 * np.pi)


FREQUENCY_SIMPLE = register(Formula(
    frequency_simple, symbol="f_1", unit="Hz", title="First frequency, simply supported", source=NAVIER, names=N,
    inner_units={"H": "N*mm"}))  # fmt: skip
FREQUENCY_CLAMPED_ONE_TERM = register(Formula(
    frequency_clamped_one_term, symbol="f_1", unit="Hz", title="First frequency, clamped, one-term upper bound",
    source=ONE_TERM, names=N, inner_units={"H": "N*mm", "stiff": "rad^2/s^2"}))  # fmt: skip


# --- deflection beyond half the thickness --------------------------------------------------------------------


def membrane_stiffness_simple(*, a: Value, b: Value, A_x: Value, A_y: Value) -> Value:
    """Membrane stiffness of a simply supported plate, edges straight but free to draw in [N/mm³]."""
    return np.pi**4 * a * b / 64 * (A_x / a**4 + A_y / b**4)


def membrane_stiffness_clamped(*, a: Value, b: Value, A_x: Value, A_y: Value, A_xy: Value, nu: Value) -> Value:
    """Membrane stiffness of a clamped plate, edges straight but free to draw in [N/mm³].

    Deflection (1 - cos 2πx/a)(1 - cos 2πy/b)/4; the stress function has seven terms.
    """
    A = (2 * np.pi / a) ** 4 / A_y
    B = (2 * np.pi / a) ** 2 * (2 * np.pi / b) ** 2 * (1 / A_xy - 2 * nu / A_x)
    C = (2 * np.pi / b) ** 4 / A_x
    along = (1 / A + 1 / C) * (1 + 1 / 16) / 8
    mixed = (1 / (A + B + C) + 0.25 / (A + 4 * B + 16 * C) + 0.25 / (16 * A + 4 * B + C)) / 4
    return 2 * a * b * ((2 * np.pi / a) ** 2 * (2 * np.pi / b) ** 2 / 16) ** 2 * (along + mixed)


def membrane_stiffness_held(*, a: Value, b: Value, A_x: Value, A_y: Value, nu: Value, beta: Value) -> Value:
    """What edges held against drawing in add to the membrane stiffness [N/mm³].

    beta: mean of (w_x)²/2 over W² (pi/a)²: 1/8 simply supported, 3/32 clamped.
    """
    e_x = beta * np.pi**2 / a**2
    e_y = beta * np.pi**2 / b**2
    return 2 * a * b * (A_x * e_x**2 + A_y * e_y**2 + 2 * nu * A_y * e_x * e_y) / (1 - nu**2 * A_y / A_x)


def membrane_stiffened_deflection(*, w_lin: Value, k_3: Value, Q: Value) -> Value:
    """Deflection with membrane stiffening: the root of w + (k_3 w_lin / Q) w³ = w_lin [mm]."""
    z = 1.5 * np.sqrt(3 * k_3 * w_lin / Q) * w_lin
    s = (z + np.sqrt(z**2 + 1)) ** (1 / 3)
    return 3 * w_lin / (s**2 + 1 + 1 / s**2)


MEMBRANE_STIFFNESS_SIMPLE = register(Formula(
    membrane_stiffness_simple, symbol="k_3", unit="N/mm^3", title="Membrane stiffness, simply supported",
    source=MEMBRANE, names=N))  # fmt: skip
MEMBRANE_STIFFNESS_CLAMPED = register(Formula(
    membrane_stiffness_clamped, symbol="k_3", unit="N/mm^3", title="Membrane stiffness, clamped",
    source=MEMBRANE, names=N))  # fmt: skip
MEMBRANE_STIFFNESS_HELD = register(Formula(
    membrane_stiffness_held, symbol="k_3h", unit="N/mm^3", title="Membrane stiffness added by held edges",
    source=MEMBRANE, names=N, limits=(Limit("nu**2 * A_y / A_x", high=1.0, open_high=True),)))  # fmt: skip
MEMBRANE_STIFFENED_DEFLECTION = register(Formula(
    membrane_stiffened_deflection, symbol="w", unit="mm", title="Deflection with membrane stiffening (estimate)",
    source=MEMBRANE, names=N, limits=(Limit("k_3", low=0.0), Limit("w_lin", low=0.0))))  # fmt: skip


# --- buckling in shear -----------------------------------------------------------------------------------------

SHEAR_NAMES = Names(
    a=("mm", "longer side"),
    b=("mm", "shorter side"),
    k=("1", "buckling coefficient"),
    E=N["E"],
    nu=N["nu"],
    t=N["t"],
    D_x=("N*mm", "bending rigidity along the beads"),
    D_y=("N*mm", "bending rigidity across the beads"),
    h=("mm", "length of the beads, between supports"),
    w_flat=("mm", "width of the flat between beads"),
)


def shear_coefficient_simple(*, a: Value, b: Value) -> Value:
    """Shear buckling coefficient, edges simply supported [1]."""
    return 5.34 + 4.00 * (b / a) ** 2


def shear_coefficient_clamped(*, a: Value, b: Value) -> Value:
    """Shear buckling coefficient, edges clamped [1]."""
    return 8.98 + 5.60 * (b / a) ** 2


def plate_buckling_stress(*, k: Value, E: Value, nu: Value, t: Value, b: Value) -> Value:
    """Elastic buckling stress of a flat plate [MPa]."""
    return k * np.pi**2 * E / (12 * (1 - nu**2)) * (t / b) ** 2


def orthotropic_shear_simple(*, D_x: Value, D_y: Value, h: Value) -> Value:
    """Shear flow at which a beaded field of many pitches buckles, edges simply supported [N/mm]."""
    return 36 * (D_x**3 * D_y) ** 0.25 / h**2


def orthotropic_shear_clamped(*, D_x: Value, D_y: Value, h: Value) -> Value:
    """Shear flow at which a beaded field of many pitches buckles, edges clamped [N/mm]."""
    return 68.4 * (D_x**3 * D_y) ** 0.25 / h**2


def flat_between_beads_compression(*, E: Value, nu: Value, t: Value, w_flat: Value) -> Value:
    """Local buckling stress of the flat between beads under compression along them [MPa]."""
    return 4.00 * np.pi**2 * E / (12 * (1 - nu**2)) * (t / w_flat) ** 2


def flat_between_beads_shear(*, E: Value, nu: Value, t: Value, w_flat: Value) -> Value:
    """Local buckling stress of the flat between beads under shear [MPa]."""
    return 5.34 * np.pi**2 * E / (12 * (1 - nu**2)) * (t / w_flat) ** 2


RECTANGLE = (Limit("b / a", high=1.0, why="b is the shorter side"),)
SHEAR_COEFFICIENT_SIMPLE = register(Formula(
    shear_coefficient_simple, symbol="k", unit="1", title="Shear buckling coefficient, simply supported",
    source=SHEAR, names=SHEAR_NAMES, limits=RECTANGLE))  # fmt: skip
SHEAR_COEFFICIENT_CLAMPED = register(Formula(
    shear_coefficient_clamped, symbol="k", unit="1", title="Shear buckling coefficient, clamped",
    source=SHEAR, names=SHEAR_NAMES, limits=RECTANGLE))  # fmt: skip
PLATE_BUCKLING_STRESS = register(Formula(
    plate_buckling_stress, symbol="tau_cr", unit="MPa", title="Elastic buckling stress of a flat plate",
    source=SHEAR, names=SHEAR_NAMES))  # fmt: skip
ORTHOTROPIC_SHEAR_SIMPLE = register(Formula(
    orthotropic_shear_simple, symbol="N_cr", unit="N/mm", title="Shear buckling of a beaded field, simply supported",
    source=EASLEY, names=SHEAR_NAMES,
    limits=(Limit("D_x / D_y", low=10.0, why="beads much stiffer along than across"),)))  # fmt: skip
ORTHOTROPIC_SHEAR_CLAMPED = register(Formula(
    orthotropic_shear_clamped, symbol="N_cr", unit="N/mm", title="Shear buckling of a beaded field, clamped",
    source=EASLEY, names=SHEAR_NAMES,
    limits=(Limit("D_x / D_y", low=10.0, why="beads much stiffer along than across"),)))  # fmt: skip
FLAT_BETWEEN_BEADS_COMPRESSION = register(Formula(
    flat_between_beads_compression, symbol="sigma_cr", unit="MPa", title="Local buckling between beads, compression",
    source=SHEAR, names=SHEAR_NAMES))  # fmt: skip
FLAT_BETWEEN_BEADS_SHEAR = register(Formula(
    flat_between_beads_shear, symbol="tau_cr", unit="MPa", title="Local buckling between beads, shear",
    source=SHEAR, names=SHEAR_NAMES))  # fmt: skip
