"""What a sheet carries in its plane beyond the first wave: shear and thrust by EN 1993-1-5, alone and together.

A panel is held along four edges, so that its tension field can lean on nothing but the sheet around it: shear takes
the column of Table 5.1 for ends that are not rigid, without the share of flanges and without eta > 1.  Thrust is
uniform (psi = 1).  `a` is the length along the thrust, `b` the width across it.  A beaded field has no more than its
elastic critical load, its flats have: Annex D.  Stresses in MPa, flows and thrusts in N/mm.
"""

from __future__ import annotations

import numpy as np

from jointcalc.formula import column
from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register

PART_1_5 = "EN 1993-1-5:2006"
TIMOSHENKO = Source("Timoshenko and Gere, Theory of Elastic Stability", "art. 9.2, rectangular plates", "from memory")
HUBER = Source("Timoshenko and Gere, Theory of Elastic Stability", "art. 9.13, orthotropic plates", "from memory")
ARCH = Source("First yield of a bead under a thrust across it, amplified", "", "derivation",
              "the thrust runs through the flats, the crown lies off it by the bead's depth")  # fmt: skip
STRIPS = Source("Two strips of flat sheet beside the edges", "", "derivation",
                "the effective width of EN 1993-1-5 4.4, as far as no bead lies in it")  # fmt: skip
SUM = Source("Sum of what is used, one thrust, the other and shear", "", "derivation",
             "on the safe side: the buckling surfaces of plates bulge outward")  # fmt: skip
BESIDE = Source("Amplified deflection of a plate under load across and thrust", "", "derivation",
                "Timoshenko and Woinowsky-Krieger, art. 92; squared, as stretching grows with the square")  # fmt: skip


def _en(clause: str, note: str = "") -> Source:
    return Source(PART_1_5, clause, "from memory", note)


N = Names(
    f_y=("MPa", "yield strength"),
    tau_cr=("MPa", "elastic critical shear stress"),
    lamda_w=("1", "slenderness in shear"),
    chi_w=("1", "reduction factor in shear"),
    m=("1", "half waves along the thrust"),
    n=("1", "half waves across"),
    a=("mm", "length along the thrust"),
    b=("mm", "width across the thrust"),
    E=("MPa", "modulus of elasticity"),
    nu=("1", "Poisson's ratio"),
    t=("mm", "thickness"),
    k_sigma=("1", "buckling coefficient in compression"),
    sigma_cr=("MPa", "elastic critical stress"),
    sigma_cr_p=("MPa", "elastic critical stress as a plate"),
    sigma_cr_c=("MPa", "elastic critical stress as a column: the edges along the thrust let go"),
    lamda_p=("1", "plate slenderness"),
    rho=("1", "reduction factor as a plate"),
    chi_c=("1", "reduction factor as a column"),
    rho_c=("1", "reduction factor between plate and column"),
    sigma_x=("MPa", "thrust stress along"),
    sigma_z=("MPa", "thrust stress across"),
    tau=("MPa", "shear stress"),
    alpha_ult=("1", "factor on the loads at which the sheet yields"),
    alpha_cr=("1", "factor on the loads at which the sheet buckles elastically"),
    alpha_x=("1", "the same for the thrust along alone"),
    alpha_z=("1", "the same for the thrust across alone"),
    alpha_t=("1", "the same for the shear alone"),
    a_max=("mm", "widest flat part of a pitch"),
    h=("mm", "length of the beads, between supports"),
    D_x=("N*mm", "bending rigidity along the beads"),
    D_y=("N*mm", "bending rigidity across the beads"),
    D_1=("N*mm", "Poisson coupling rigidity"),
    D_xy=("N*mm", "twisting rigidity"),
    lamda_cl=("1", "slenderness of the flats between beads"),
    lamda_cg=("1", "slenderness of the whole field"),
    beta_A=("1", "effective over whole area of a pitch, local buckling"),
    n_cr=("N/mm", "elastic critical thrust"),
    n_s=("N/mm", "thrust"),
    A_w=("mm", "area of a pitch per width"),
    i=("mm", "radius of gyration of a pitch"),
    e=("mm", "distance of the farther of flat and crown from the centroid"),
    f=("mm", "depth of the bead"),
    d_e=("mm", "flat sheet between the edge and the first bead"),
    u_x=("1", "share used by the thrust along the beads"),
    u_y=("1", "share used by the thrust across the beads"),
    u_t=("1", "share used by the shear"),
    u_1=("1", "share of the yield strength used by the load across alone"),
    u_2=("1", "share used in the plane"),
    eta=("1", "load over elastic critical load in the plane, factors in"),
)


# --- shear ----------------------------------------------------------------------------------------------------------


def shear_slenderness(*, f_y: Value, tau_cr: Value) -> Value:
    """Slenderness of a sheet in shear [1].  EN 1993-1-5:2006 5.3(3), eq. (5.3)."""
    return 0.76 * np.sqrt(f_y / tau_cr)


def shear_reduction(*, lamda_w: Value) -> Value:
    """Reduction factor in shear, ends not rigid, eta = 1 [1].  EN 1993-1-5:2006 Table 5.1."""
    return np.minimum(0.83 / lamda_w, 1.0)


def shear_reduction_stainless(*, lamda_w: Value) -> Value:
    """Reduction factor in shear of stainless sheet, no more than that of carbon steel [1].  EN 1993-1-4:2006 5.6."""
    own = 0.11 + 0.64 / lamda_w - 0.05 / lamda_w**2
    return np.minimum(np.minimum(own, 0.83 / lamda_w), 1.0)


def shear_reduction_aluminium(*, lamda_w: Value) -> Value:
    """Reduction factor in shear of aluminium sheet, ends not rigid, eta = 1 [1].  EN 1999-1-1:2007 Table 6.13."""
    return np.minimum(0.83 / lamda_w, 1.0)


def shear_strength(*, chi_w: Value, f_y: Value) -> Value:
    """Shear stress that a sheet carries, beyond buckling [MPa].  EN 1993-1-5:2006 5.2, without flanges."""
    return chi_w * f_y / np.sqrt(3)


COLUMN_IMPERFECTION = column.IMPERFECTION_FACTORS["a"]
"""Imperfection factor of an unstiffened plate as a column, EN 1993-1-5 4.5.3(5) (from memory)."""
STEEP = 30.0
"""Least slope of the flanks of a corrugation in EN 1993-1-5 Annex D [degrees]."""
MEMBRANE_STRAIN = 0.05
"""Greatest principal strain of the mid-plane, EN 1993-1-5 C.8(1) note (recommended value, from memory)."""
SHEAR_SLENDERNESS = register(Formula(
    shear_slenderness, symbol="lamda_w", unit="1", title="Slenderness in shear", source=_en("5.3(3)"),
    names=N))  # fmt: skip
SHEAR_REDUCTION = register(Formula(
    shear_reduction, symbol="chi_w", unit="1", title="Reduction in shear", source=_en("Table 5.1, non-rigid end"),
    names=N))  # fmt: skip
SHEAR_REDUCTION_STAINLESS = register(Formula(
    shear_reduction_stainless, symbol="chi_w", unit="1", title="Reduction in shear, stainless",
    source=Source("EN 1993-1-4:2006", "5.6", "from memory", "never above Table 5.1 of EN 1993-1-5"), names=N,
    inner_units={"own": "1"}, limits=(Limit("lamda_w", low=0.3, why="the expression turns round"),)))  # fmt: skip
SHEAR_REDUCTION_ALUMINIUM = register(Formula(
    shear_reduction_aluminium, symbol="chi_w", unit="1", title="Reduction in shear, aluminium",
    source=Source("EN 1999-1-1:2007", "Table 6.13, non-rigid end", "from memory"), names=N))  # fmt: skip
SHEAR_STRENGTH = register(Formula(
    shear_strength, symbol="tau_b", unit="MPa", title="Shear stress carried beyond buckling", source=_en("5.2"),
    names=N))  # fmt: skip


# --- thrust on flat sheet -------------------------------------------------------------------------------------------


def compression_coefficient(*, m: Value, a: Value, b: Value) -> Value:
    """Buckling coefficient of m half waves along a uniform thrust, four edges simply supported [1]."""
    return (m * b / a + a / (m * b)) ** 2


def plate_stress(*, k_sigma: Value, E: Value, nu: Value, t: Value, b: Value) -> Value:
    """Elastic critical stress as a plate [MPa].  EN 1993-1-5:2006 A.1."""
    return k_sigma * np.pi**2 * E / (12 * (1 - nu**2)) * (t / b) ** 2


def column_stress(*, E: Value, nu: Value, t: Value, a: Value) -> Value:
    """Elastic critical stress with the edges along the thrust let go [MPa].  EN 1993-1-5:2006 4.5.3(2), eq. (4.8)."""
    return np.pi**2 * E * t**2 / (12 * (1 - nu**2) * a**2)


def plate_slenderness(*, f_y: Value, sigma_cr: Value) -> Value:
    """Slenderness of a sheet under thrust [1].  EN 1993-1-5:2006 4.4(2)."""
    return np.sqrt(f_y / sigma_cr)


def plate_reduction(*, lamda_p: Value) -> Value:
    """Reduction under a uniform thrust, 1 up to lamda_p = 0.673 [1].  EN 1993-1-5:2006 4.4(2), eq. (4.2), psi = 1."""
    slender = np.maximum(lamda_p, 0.673)
    return np.minimum((slender - 0.22) / slender**2, 1.0)


def between_plate_and_column(*, rho: Value, chi_c: Value, sigma_cr_p: Value, sigma_cr_c: Value) -> Value:
    """Reduction between plate-like and column-like behaviour [1].  EN 1993-1-5:2006 4.5.4, eq. (4.13)."""
    xi = np.minimum(np.maximum(sigma_cr_p / sigma_cr_c - 1, 0.0), 1.0)
    return np.maximum((rho - chi_c) * xi * (2 - xi) + chi_c, 0.0)


def thrust_strength(*, rho_c: Value, f_y: Value, A_w: Value) -> Value:
    """Thrust per width of edge that a sheet carries [N/mm].  EN 1993-1-5:2006 4.3 to 4.5."""
    return rho_c * f_y * A_w


def thrust_kept_elastic(*, sigma_cr: Value, f_y: Value, t: Value) -> Value:
    """Thrust at elastic buckling, at most 4/9 of yield so that it stays elastic [N/mm]."""
    return np.minimum(sigma_cr, f_y / 1.5**2) * t


COMPRESSION_COEFFICIENT = register(Formula(
    compression_coefficient, symbol="k_sigma", unit="1", title="Buckling coefficient under thrust", source=TIMOSHENKO,
    names=N))  # fmt: skip
PLATE_STRESS = register(Formula(
    plate_stress, symbol="sigma_cr_p", unit="MPa", title="Critical stress as a plate", source=_en("A.1"),
    names=N))  # fmt: skip
COLUMN_STRESS = register(Formula(
    column_stress, symbol="sigma_cr_c", unit="MPa", title="Critical stress as a column", source=_en("4.5.3(2)"),
    names=N))  # fmt: skip
PLATE_SLENDERNESS = register(Formula(
    plate_slenderness, symbol="lamda_p", unit="1", title="Slenderness under thrust", source=_en("4.4(2)"),
    names=N))  # fmt: skip
PLATE_REDUCTION = register(Formula(
    plate_reduction, symbol="rho", unit="1", title="Reduction as a plate", source=_en("4.4(2), eq. (4.2)"),
    names=N, inner_units={"slender": "1"}))  # fmt: skip
BETWEEN_PLATE_AND_COLUMN = register(Formula(
    between_plate_and_column, symbol="rho_c", unit="1", title="Reduction between plate and column",
    source=_en("4.5.4"), names=N, inner_units={"xi": "1"}))  # fmt: skip
THRUST_STRENGTH = register(Formula(
    thrust_strength, symbol="n_b", unit="N/mm", title="Thrust carried per width", source=_en("4.3"),
    names=N))  # fmt: skip
THRUST_KEPT_ELASTIC = register(Formula(
    thrust_kept_elastic, symbol="n_b", unit="N/mm", title="Thrust at elastic buckling",
    source=Source("Elastic buckling, at most 4/9 of yield", "", "derivation",
                  "no more than Johnson's and the codes' curves allow"), names=N))  # fmt: skip


# --- together on flat sheet -----------------------------------------------------------------------------------------


def yield_factor(*, f_y: Value, sigma_x: Value, sigma_z: Value, tau: Value) -> Value:
    """Factor on the stresses at yield, without the relief of two thrusts [1].  EN 1993-1-5:2006 10(3), eq. (10.3)."""
    return f_y / np.sqrt(sigma_x**2 + sigma_z**2 + 3 * tau**2)


def critical_factor(*, alpha_x: Value, alpha_z: Value, alpha_t: Value) -> Value:
    """Factor on the stresses at elastic buckling under all of them [1].  EN 1993-1-5:2006 10(6), (10.6), psi = 1."""
    thrusts = (1 / alpha_x + 1 / alpha_z) / 2
    return 1 / (thrusts + np.sqrt(thrusts**2 + 1 / alpha_t**2))


def field_slenderness(*, alpha_ult: Value, alpha_cr: Value) -> Value:
    """Slenderness under all stresses together [1].  EN 1993-1-5:2006 10(2), eq. (10.2)."""
    return np.sqrt(alpha_ult / alpha_cr)


def field_factor(*, alpha_ult: Value, rho_c: Value) -> Value:
    """Factor on the stresses that the sheet carries [1].  EN 1993-1-5:2006 10(1), eq. (10.1)."""
    return alpha_ult * rho_c


YIELD_FACTOR = register(Formula(
    yield_factor, symbol="alpha_ult", unit="1", title="Factor at yield", source=_en("10(3)"), names=N))  # fmt: skip
CRITICAL_FACTOR = register(Formula(
    critical_factor, symbol="alpha_cr", unit="1", title="Factor at elastic buckling", source=_en("10(6)"),
    names=N, inner_units={"thrusts": "1"}))  # fmt: skip
FIELD_SLENDERNESS = register(Formula(
    field_slenderness, symbol="lamda_p", unit="1", title="Slenderness under all stresses", source=_en("10(2)"),
    names=N))  # fmt: skip
FIELD_FACTOR = register(Formula(
    field_factor, symbol="alpha_b", unit="1", title="Factor that the sheet carries", source=_en("10(1)"),
    names=N))  # fmt: skip


# --- beaded sheet in shear ------------------------------------------------------------------------------------------


def local_shear_stress(*, E: Value, t: Value, a_max: Value) -> Value:
    """Critical shear stress of the widest flat of a pitch [MPa].  EN 1993-1-5:2006 D.2.2(3), eq. (D.8)."""
    return 4.83 * E * (t / a_max) ** 2


def local_shear_slenderness(*, f_y: Value, tau_cr: Value) -> Value:
    """Slenderness of the flats, or of the field, in shear [1].  EN 1993-1-5:2006 D.2.2(2), eqs. (D.6), (D.9)."""
    return np.sqrt(f_y / (np.sqrt(3) * tau_cr))


def local_shear_reduction(*, lamda_cl: Value) -> Value:
    """Reduction by buckling of the flats in shear [1].  EN 1993-1-5:2006 D.2.2(2), eq. (D.5)."""
    return np.minimum(1.15 / (0.9 + lamda_cl), 1.0)


def global_shear_stress(*, D_x: Value, D_y: Value, t: Value, h: Value) -> Value:
    """Critical shear stress of a field with beads from flange to flange [MPa].  EN 1993-1-5:2006 D.2.2(5), eq. (D.10).

    D_x here is along the beads, which the clause calls D_z.
    """
    return 32.4 / (t * h**2) * (D_y * D_x**3) ** 0.25


def global_shear_reduction(*, lamda_cg: Value) -> Value:
    """Reduction by buckling of the whole field in shear [1].  EN 1993-1-5:2006 D.2.2(4), eq. (D.9)."""
    return np.minimum(1.5 / (0.5 + lamda_cg**2), 1.0)


LOCAL_SHEAR_STRESS = register(Formula(
    local_shear_stress, symbol="tau_cr_l", unit="MPa", title="Critical shear stress of the widest flat",
    source=_en("D.2.2(3)"), names=N))  # fmt: skip
LOCAL_SHEAR_SLENDERNESS = register(Formula(
    local_shear_slenderness, symbol="lamda_c", unit="1", title="Slenderness in shear, beaded sheet",
    source=_en("D.2.2(2)"), names=N))  # fmt: skip
LOCAL_SHEAR_REDUCTION = register(Formula(
    local_shear_reduction, symbol="chi_cl", unit="1", title="Reduction in shear, flats of a beaded sheet",
    source=_en("D.2.2(2)"), names=N))  # fmt: skip
GLOBAL_SHEAR_STRESS = register(Formula(
    global_shear_stress, symbol="tau_cr_g", unit="MPa", title="Critical shear stress of a beaded field",
    source=_en("D.2.2(5)"), names=N))  # fmt: skip
GLOBAL_SHEAR_REDUCTION = register(Formula(
    global_shear_reduction, symbol="chi_cg", unit="1", title="Reduction in shear, beaded field",
    source=_en("D.2.2(4)"), names=N))  # fmt: skip


# --- beaded sheet under thrust --------------------------------------------------------------------------------------


def orthotropic_thrust(
    *, D_x: Value, D_y: Value, D_1: Value, D_xy: Value, m: Value, n: Value, a: Value, b: Value
) -> Value:
    """Critical thrust along the beads, m by n half waves, edges simply supported [N/mm]; b is across the beads."""
    H = D_1 + 2 * D_xy
    bent = D_x * (m / a) ** 4 + 2 * H * (m / a) ** 2 * (n / b) ** 2 + D_y * (n / b) ** 4
    return np.pi**2 * bent / (m / a) ** 2


def orthotropic_thrust_across(
    *, D_x: Value, D_y: Value, D_1: Value, D_xy: Value, m: Value, n: Value, a: Value, b: Value
) -> Value:
    """Critical thrust across the beads, m by n half waves, edges simply supported [N/mm]; b is across the beads."""
    H = D_1 + 2 * D_xy
    bent = D_x * (m / a) ** 4 + 2 * H * (m / a) ** 2 * (n / b) ** 2 + D_y * (n / b) ** 4
    return np.pi**2 * bent / (n / b) ** 2


def column_thrust(*, D_x: Value, a: Value) -> Value:
    """Critical thrust along the beads as a wide column [N/mm].  EN 1993-1-5:2006 4.5.3(3), eq. (4.9)."""
    return np.pi**2 * D_x / a**2


def beaded_slenderness(*, beta_A: Value, f_y: Value, A_w: Value, n_cr: Value) -> Value:
    """Slenderness of a beaded field under thrust [1].  EN 1993-1-5:2006 4.5.2(1), 4.5.3(4)."""
    return np.sqrt(beta_A * f_y * A_w / n_cr)


def bead_imperfection(*, i: Value, e: Value) -> Value:
    """Imperfection factor of beads as open stiffeners [1].  EN 1993-1-5:2006 4.5.3(5), eq. (4.12)."""
    return 0.49 + 0.09 / (i / e)


def beaded_thrust_strength(*, rho_c: Value, beta_A: Value, f_y: Value, A_w: Value) -> Value:
    """Thrust along through beads that a beaded field carries [N/mm].  EN 1993-1-5:2006 4.5.1(3), eq. (4.5)."""
    return rho_c * beta_A * f_y * A_w


def edge_strips(*, rho: Value, b: Value, d_e: Value, f_y: Value, t: Value) -> Value:
    """Thrust per width that the flat sheet beside the two edges carries, beads in the middle left out [N/mm]."""
    return 2 * np.minimum(rho * b / 2, d_e) * f_y * t / b


def bellows_stress(*, n_s: Value, t: Value, f: Value, n_cr: Value) -> Value:
    """Greatest stress in the crown of a bead under a thrust across the beads, amplified [MPa]."""
    return n_s / t * (1 + 6 * f / t / (1 - n_s / n_cr))


def used_in_plane(*, u_x: Value, u_y: Value, u_t: Value) -> Value:
    """Sum of what the loads in the plane of a beaded field use [1]."""
    return u_x + u_y + u_t


def used_with_load_across(*, u_1: Value, u_2: Value, eta: Value) -> Value:
    """First yield of a plate that is pushed in its plane and loaded across [1]."""
    return u_1 / (1 - eta) ** 2 + u_2


ORTHOTROPIC_THRUST = register(Formula(
    orthotropic_thrust, symbol="n_cr", unit="N/mm", title="Critical thrust along the beads", source=HUBER,
    names=N, inner_units={"H": "N*mm"}))  # fmt: skip
ORTHOTROPIC_THRUST_ACROSS = register(Formula(
    orthotropic_thrust_across, symbol="n_cr", unit="N/mm", title="Critical thrust across the beads", source=HUBER,
    names=N, inner_units={"H": "N*mm"}))  # fmt: skip
COLUMN_THRUST = register(Formula(
    column_thrust, symbol="n_cr_c", unit="N/mm", title="Critical thrust as a wide column", source=_en("4.5.3(3)"),
    names=N))  # fmt: skip
BEADED_SLENDERNESS = register(Formula(
    beaded_slenderness, symbol="lamda", unit="1", title="Slenderness of a beaded field", source=_en("4.5.2(1)"),
    names=N))  # fmt: skip
BEAD_IMPERFECTION = register(Formula(
    bead_imperfection, symbol="alpha_e", unit="1", title="Imperfection factor of beads", source=_en("4.5.3(5)"),
    names=N))  # fmt: skip
BEADED_THRUST_STRENGTH = register(Formula(
    beaded_thrust_strength, symbol="n_b", unit="N/mm", title="Thrust along beads carried per width",
    source=_en("4.5.1(3)"), names=N))  # fmt: skip
EDGE_STRIPS = register(Formula(
    edge_strips, symbol="n_b", unit="N/mm", title="Thrust carried beside the edges", source=STRIPS,
    names=N))  # fmt: skip
BELLOWS_STRESS = register(Formula(
    bellows_stress, symbol="sigma_f", unit="MPa", title="Stress of a thrust across beads", source=ARCH, names=N,
    limits=(Limit("n_s / n_cr", high=1.0, open_high=True, why="beyond it the field folds up"),)))  # fmt: skip
USED_IN_PLANE = register(Formula(
    used_in_plane, symbol="eta", unit="1", title="Loads in the plane together", source=SUM, names=N))  # fmt: skip
USED_WITH_LOAD_ACROSS = register(Formula(
    used_with_load_across, symbol="eta", unit="1", title="Loads in the plane with load across",
    source=BESIDE, names=N,
    limits=(Limit("eta", high=1.0, open_high=True, why="a sheet that has buckled in its plane"),)))  # fmt: skip
