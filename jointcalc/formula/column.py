"""Members in compression, beam-columns, buckling between fasteners, lateral-torsional buckling.

Capacities are characteristic: no partial factor, no safety factor.  Axes follow the printed source of
each clause (EN: y horizontal, z vertical; AISI: x and y).
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

import numpy as np

from jointcalc.formula.branch import above, at_least, at_most
from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register

EULER = Source("Euler; Timoshenko and Gere, Theory of Elastic Stability", "", "from memory")
EN_6312 = Source("EN 1993-1-1:2005", "6.3.1.2", "second-hand",
                 "read in a published worked example (Steel Buildings in Europe, part 4, A.5)")  # fmt: skip
EN_6322 = Source("EN 1993-1-1:2005", "6.3.2.2", "from memory")
EN_13_625 = Source("EN 1993-1-3:2006", "6.2.5(2)", "from memory")
ENV_F = Source("ENV 1993-1-1:1992", "Annex F.1.2", "from memory")
AISI_E2 = Source("AISI S100-16", "E2", "from memory")
AISI_TUBE = Source("AISI S100-16", "tubular members in compression (former C3.1.1, D6.1)", "from memory")
AISI_H12 = Source("AISI S100-16", "H1.2", "from memory")
AISI_F21 = Source("AISI S100-16", "F2.1", "from memory")
INTER = Source("Bruhn, Analysis and Design of Flight Vehicle Structures C7.12; NACA TN 3785", "", "from memory",
               "end-fixity coefficients differ between publications")  # fmt: skip

N = Names(
    E=("MPa", "modulus of elasticity"),
    G=("MPa", "shear modulus"),
    I=("mm^4", "second moment of area about the axis of buckling"),
    A=("mm^2", "cross-sectional area"),
    A_e=("mm^2", "effective area at the stress F_n"),
    A_o=("mm^2", "reduced area of the tube at yield"),
    K=("1", "effective length factor"),
    L=("mm", "length between restraints"),
    r=("mm", "radius of gyration"),
    f_y=("MPa", "yield strength"),
    F_y=("MPa", "yield strength"),
    F_e=("MPa", "elastic buckling stress"),
    F_n=("MPa", "buckling stress"),
    N_cr=("N", "elastic critical force"),
    N_Ed=("N", "compression"),
    N_b=("N", "buckling resistance"),
    M_Ed=("N*mm", "bending moment"),
    M_b=("N*mm", "bending resistance with buckling"),
    lamda=("1", "relative slenderness"),
    lamda_c=("1", "slenderness factor"),
    alpha=("1", "imperfection factor of the buckling curve"),
    chi=("1", "reduction factor"),
    c_fibre=("mm", "distance of the outer fibre from the centroid"),
    D=("mm", "outside diameter of the tube"),
    t=("mm", "thickness"),
    p=("mm", "pitch of the fasteners along the force"),
    C=("1", "end-fixity coefficient of the fastener"),
    n=("1", "compression over buckling resistance"),
    P=("N", "required compression"),
    P_a=("N", "available compression strength"),
    M=("N*mm", "required moment, second order"),
    M_a=("N*mm", "available moment strength"),
    M_cr=("N*mm", "elastic critical moment"),
    W_y=("mm^3", "section modulus about the axis of bending"),
    I_z=("mm^4", "second moment of area about the weak axis"),
    J=("mm^4", "torsion constant"),
    C_w=("mm^6", "warping constant"),
    k_z=("1", "effective length factor, end rotation in plan"),
    k_w=("1", "effective length factor, end warping"),
    C_1=("1", "moment diagram factor"),
    C_2=("1", "load height factor"),
    C_3=("1", "monosymmetry factor"),
    z_g=("mm", "height of the load above the shear centre"),
    z_j=("mm", "monosymmetry constant, positive when the wider flange is in compression"),
    r_o=("mm", "polar radius of gyration about the shear centre"),
    sigma_ey=("MPa", "Euler stress about the weak axis"),
    sigma_ex=("MPa", "Euler stress about the axis of bending"),
    sigma_t=("MPa", "torsional buckling stress"),
    C_b=("1", "moment gradient factor"),
    C_s=("1", "+1 compression on the shear-centre side of the centroid, -1 otherwise"),
    C_TF=("1", "end moment factor"),
    j=("mm", "monosymmetry constant"),
    S_f=("mm^3", "full section modulus of the compression fibre"),
    F_cre=("MPa", "elastic lateral-torsional buckling stress"),
    K_t=("1", "effective length factor for twisting"),
    L_t=("mm", "length between restraints against twisting"),
    I_y=("mm^4", "second moment of area about the weak axis"),
)

EFFECTIVE_LENGTH_FACTORS: Mapping[str, float] = {"pinned": 1.0, "fixed-pinned": 0.7, "fixed": 0.5, "cantilever": 2.0}
"""K of Euler's ideal ends; a brace tacked to sheet is normally not better than pinned (judgement)."""

IMPERFECTION_FACTORS: Mapping[str, float] = {"a0": 0.13, "a": 0.21, "b": 0.34, "c": 0.49, "d": 0.76}
"""alpha of EN 1993-1-1 Table 6.1; a0, a and b read in a worked example, c and d from memory."""


# --- Euler and EN 1993 -------------------------------------------------------------------------------


def euler_force(*, E: Value, I: Value, K: Value, L: Value) -> Value:
    """Elastic critical force of a strut [N]."""
    return np.pi**2 * E * I / (K * L) ** 2


def relative_slenderness(*, A: Value, f_y: Value, N_cr: Value) -> Value:
    """Relative slenderness; A is the effective area for class 4 sections [1]."""
    return np.sqrt(A * f_y / N_cr)


def reduction_factor(*, lamda: Value, alpha: Value) -> Value:
    """Reduction factor of the buckling curve, at most one [1]."""
    Phi = 0.5 * (1 + alpha * (lamda - 0.2) + lamda**2)
    return np.minimum(1 / (Phi + np.sqrt(Phi**2 - lamda**2)), 1.0)


def buckling_resistance(*, chi: Value, A: Value, f_y: Value) -> Value:
    """Characteristic buckling resistance [N]."""
    return chi * A * f_y


EULER_FORCE = register(Formula(
    euler_force, symbol="N_cr", unit="N", title="Elastic critical force", source=EULER, names=N))  # fmt: skip
RELATIVE_SLENDERNESS = register(Formula(
    relative_slenderness, symbol="lamda", unit="1", title="Relative slenderness of a strut",
    source=EN_6312, names=N))  # fmt: skip
REDUCTION_FACTOR = register(Formula(
    reduction_factor, symbol="chi", unit="1", title="Flexural buckling reduction factor",
    source=EN_6312, names=N, limits=(Limit("alpha", low=0.13, high=0.76, why="curves a0 to d"),),
    inner_units={"Phi": "1"}))  # fmt: skip
BUCKLING_RESISTANCE = register(Formula(
    buckling_resistance, symbol="N_b", unit="N", title="Flexural buckling resistance",
    source=EN_6312, names=N))  # fmt: skip


class Curve(NamedTuple):
    """A buckling curve chosen for a section, and why."""

    name: str
    alpha: float
    why: str


def buckling_curve(*, kind: str, f_y: float = 235.0) -> Curve:
    """The buckling curve of EN 1993-1-1 Table 6.2 / EN 1993-1-3 Table 6.3 for a kind of section.

    `kind`: "hot-finished hollow", "cold-formed hollow", "hat or channel" or "solid".  From memory.
    Raises ValueError for any other kind.
    """
    choices = {
        "hot-finished hollow": ("a0" if f_y >= 460.0 else "a", "hot-finished hollow section"),
        "cold-formed hollow": ("c", "cold-formed hollow section"),
        "hat or channel": ("c", "open cold-formed section not symmetric about both axes"),
        "solid": ("c", "solid bar"),
    }
    if kind not in choices:
        raise ValueError(f"unknown kind of section {kind!r}; known: {', '.join(choices)}")
    name, why = choices[kind]
    return Curve(name, IMPERFECTION_FACTORS[name], f"curve {name}: {why}")


def buckling_may_be_ignored(*, lamda: float, N_Ed: float, N_cr: float) -> str:
    """Why EN 1993-1-1 6.3.1.2(4) lets buckling be ignored, or an empty text."""
    if lamda <= 0.2:
        return "relative slenderness at most 0.2"
    return "compression at most 4 % of the critical force" if N_Ed <= 0.04 * N_cr else ""


# --- AISI and AISC -----------------------------------------------------------------------------------


def elastic_buckling_stress(*, E: Value, K: Value, L: Value, r: Value) -> Value:
    """Elastic flexural buckling stress [MPa]."""
    return np.pi**2 * E / (K * L / r) ** 2


def slenderness_factor(*, F_y: Value, F_e: Value) -> Value:
    """Slenderness factor [1]."""
    return np.sqrt(F_y / F_e)


def aisi_inelastic_stress(*, F_y: Value, lamda_c: Value) -> Value:
    """Buckling stress of the stocky range [MPa]."""
    return 0.658 ** (lamda_c**2) * F_y


def aisi_elastic_stress(*, F_y: Value, lamda_c: Value) -> Value:
    """Buckling stress of the slender range [MPa]."""
    return 0.877 / lamda_c**2 * F_y


def aisi_strength(*, A_e: Value, F_n: Value) -> Value:
    """Nominal axial strength [N]."""
    return A_e * F_n


def tube_reduced_area(*, D: Value, t: Value, F_y: Value, E: Value, A: Value) -> Value:
    """Area of a round tube with local buckling at yield, at most A [mm²]."""
    return np.minimum((0.037 / (D * F_y / (t * E)) + 0.667) * A, A)


def tube_effective_area(*, A_o: Value, A: Value, F_y: Value, F_e: Value) -> Value:
    """Effective area of a round tube at its column stress [mm²]."""
    R = np.minimum(F_y / (2 * F_e), 1.0)
    return A_o + R * (A - A_o)


ELASTIC_BUCKLING_STRESS = register(Formula(
    elastic_buckling_stress, symbol="F_e", unit="MPa", title="Elastic flexural buckling stress",
    source=AISI_E2, names=N,
    limits=(Limit("K * L / r", high=200.0, why="preferably; 300 during construction only"),)))  # fmt: skip
SLENDERNESS_FACTOR = register(Formula(
    slenderness_factor, symbol="lamda_c", unit="1", title="Slenderness factor", source=AISI_E2, names=N))  # fmt: skip
AISI_INELASTIC_STRESS = register(Formula(
    aisi_inelastic_stress, symbol="F_n", unit="MPa", title="Flexural buckling stress, stocky",
    source=AISI_E2, names=N, limits=(Limit("lamda_c", high=1.5),)))  # fmt: skip
AISI_ELASTIC_STRESS = register(Formula(
    aisi_elastic_stress, symbol="F_n", unit="MPa", title="Flexural buckling stress, slender",
    source=AISI_E2, names=N, limits=(Limit("lamda_c", low=1.5),)))  # fmt: skip
AISI_STRENGTH = register(Formula(
    aisi_strength, symbol="P_n", unit="N", title="Nominal axial strength", source=AISI_E2, names=N))  # fmt: skip
MOST_SLENDER_TUBE = 0.441
"""(D/t) / (E/F_y) up to which the rule of tubes holds."""
TUBE_REDUCED_AREA = register(Formula(
    tube_reduced_area, symbol="A_o", unit="mm^2", title="Round tube area with local buckling at yield",
    source=AISI_TUBE, names=N, limits=(Limit("(D / t) / (E / F_y)", high=MOST_SLENDER_TUBE),)))  # fmt: skip
TUBE_EFFECTIVE_AREA = register(Formula(
    tube_effective_area, symbol="A_e", unit="mm^2", title="Round tube effective area at the column stress",
    source=AISI_TUBE, names=N, inner_units={"R": "1"}))  # fmt: skip


class Choice(NamedTuple):
    """The branch of a clause that applies, and why."""

    formula: Formula
    why: str


def aisi_column_branch(*, lamda_c: float) -> Choice:
    """Stocky or slender branch of AISI S100-16 E2."""
    if at_most(lamda_c, 1.5):
        return Choice(AISI_INELASTIC_STRESS, f"slenderness factor {lamda_c:.3f} is at most 1.5")
    return Choice(AISI_ELASTIC_STRESS, f"slenderness factor {lamda_c:.3f} is over 1.5")


# --- beam-columns ------------------------------------------------------------------------------------


def en_power_interaction(*, N_Ed: Value, N_b: Value, M_Ed: Value, M_b: Value) -> Value:
    """Utilisation under compression and bending, at most one [1]."""
    return (N_Ed / N_b) ** 0.8 + (M_Ed / M_b) ** 0.8


def aisi_interaction(*, P: Value, P_a: Value, M: Value, M_a: Value) -> Value:
    """Utilisation under compression and second-order bending, at most one [1]."""
    return P / P_a + M / M_a


def secant_factor(*, n: Value) -> Value:
    """How the moment of a force at equal eccentricities of both ends grows at the middle, exact [1]."""
    return 1 / np.cos(np.pi / 2 * np.sqrt(n))


EN_POWER_INTERACTION = register(Formula(
    en_power_interaction, symbol="eta", unit="1", title="Compression and bending, cold-formed",
    source=EN_13_625, names=N))  # fmt: skip
AISI_INTERACTION = register(Formula(
    aisi_interaction, symbol="eta", unit="1", title="Compression and bending", source=AISI_H12, names=N))  # fmt: skip
SECANT_FACTOR = register(Formula(
    secant_factor, symbol="k_sec", unit="1", title="Growth of an eccentric strut's moment", source=EULER,
    names=N | Names(n=("1", "axial force over the critical force")),
    limits=(Limit("n", low=0.0, high=1.0, open_high=True, why="at the critical force it buckles"),)))  # fmt: skip


# --- buckling of a sheet between fasteners -------------------------------------------------------------


def inter_fastener_column(*, C: Value, E: Value, t: Value, p: Value) -> Value:
    """Buckling stress of a sheet strip between fasteners as a column; 9 % below the plate form [MPa]."""
    return C * np.pi**2 * E * (t / p) ** 2 / 12


def johnson_parabola(*, F_e: Value, f_y: Value) -> Value:
    """Buckling stress above half the yield strength, tangent there to the elastic curve [MPa]."""
    return f_y * (1 - f_y / (4 * F_e))


C_RANGE = (Limit("C", low=1.0, high=4.0, why="from simple support to full fixity at the fasteners"),)
FIXITY_SPOT = 3.5
"""End fixity of a sheet that is held by spots (from memory, not verified by test)."""
INTER_FASTENER_COLUMN = register(Formula(
    inter_fastener_column, symbol="sigma_ir", unit="MPa", title="Inter-fastener buckling, column form",
    source=INTER, names=N, limits=C_RANGE))  # fmt: skip


JOHNSON_PARABOLA = register(Formula(
    johnson_parabola, symbol="sigma_ir", unit="MPa", title="Buckling between fasteners, past the elastic range",
    source=Source("Johnson's parabola; Bruhn, Analysis and Design of Flight Vehicle Structures", "short columns",
                  "from memory"),
    names=N, limits=(Limit("F_e / f_y", low=0.5, why="below half the yield buckling is elastic"),)))  # fmt: skip


def inter_fastener_branch(*, F_e: float, f_y: float) -> tuple[Formula | None, str]:
    """What follows the elastic stress between fasteners, and why: nothing up to half the yield strength."""
    if at_most(F_e, 0.5 * f_y):
        return None, "elastic: at most half the yield strength"
    return JOHNSON_PARABOLA, "over half the yield strength: Johnson's parabola"


class Fixity(NamedTuple):
    """End-fixity coefficient of a kind of fastener, with what is doubtful about it."""

    C: float
    doubt: str


END_FIXITY: Mapping[str, Fixity] = {
    "bolt or flat-head rivet": Fixity(4.0, "other publications use less; 4 is Bruhn C7.12"),
    "spot weld": Fixity(3.5, "3.5 for spot welds is flagged in the literature as not verified by test; state your own"),
    "round-head rivet": Fixity(3.0, "2 is published for some upset heads"),
    "dimpled or flush tension-head rivet": Fixity(1.5, ""),
    "flush shear-head rivet": Fixity(1.0, ""),
}
"""C of inter-fastener buckling (Bruhn C7.12, NACA TN 3785, from memory); sources conflict, C is an input."""


# --- lateral-torsional buckling --------------------------------------------------------------------------


def critical_moment(
    *, E: Value, G: Value, I_z: Value, J: Value, C_w: Value, L: Value, k_z: Value, k_w: Value,
    C_1: Value, C_2: Value, C_3: Value, z_g: Value, z_j: Value,
) -> Value:  # fmt: skip
    """Elastic critical moment of a beam of doubly or mono-symmetric section [N·mm].

    Three-factor form: z_j = 0 for doubly symmetric sections, z_g = 0 for end moments or a load at the
    shear centre; a load above the shear centre (z_g > 0) lowers the moment.
    """
    a = (k_z / k_w) ** 2 * C_w / I_z + (k_z * L) ** 2 * G * J / (np.pi**2 * E * I_z)
    b = C_2 * z_g - C_3 * z_j
    return C_1 * np.pi**2 * E * I_z / (k_z * L) ** 2 * (np.sqrt(a + b**2) - b)


def relative_slenderness_LT(*, W_y: Value, f_y: Value, M_cr: Value) -> Value:
    """Relative slenderness for lateral-torsional buckling [1]."""
    return np.sqrt(W_y * f_y / M_cr)


def reduction_factor_LT(*, lamda: Value, alpha: Value) -> Value:
    """Reduction factor for lateral-torsional buckling, general case, at most one [1]."""
    Phi_LT = 0.5 * (1 + alpha * (lamda - 0.2) + lamda**2)
    return np.minimum(1 / (Phi_LT + np.sqrt(Phi_LT**2 - lamda**2)), 1.0)


def moment_resistance_LT(*, chi: Value, W_y: Value, f_y: Value) -> Value:
    """Characteristic lateral-torsional buckling resistance [N·mm]."""
    return chi * W_y * f_y


CRITICAL_MOMENT = register(Formula(
    critical_moment, symbol="M_cr", unit="N*mm", title="Elastic critical moment", source=ENV_F, names=N,
    inner_units={"a": "mm^2", "b": "mm"}))  # fmt: skip
RELATIVE_SLENDERNESS_LT = register(Formula(
    relative_slenderness_LT, symbol="lamda_LT", unit="1", title="Relative slenderness, lateral-torsional",
    source=EN_6322, names=N))  # fmt: skip
REDUCTION_FACTOR_LT = register(Formula(
    reduction_factor_LT, symbol="chi_LT", unit="1", title="Lateral-torsional reduction factor, general case",
    source=Source("EN 1993-1-1:2005", "6.3.2.2, curve b by EN 1993-1-3:2006 6.2.4", "from memory"), names=N,
    limits=(Limit("alpha", low=0.21, high=0.76, why="curves a to d; b (0.34) for cold-formed sections"),),
    inner_units={"Phi_LT": "1"}))  # fmt: skip
MOMENT_RESISTANCE_LT = register(Formula(
    moment_resistance_LT, symbol="M_b", unit="N*mm", title="Lateral-torsional buckling resistance",
    source=EN_6322, names=N))  # fmt: skip

MOMENT_FACTORS: Mapping[str, tuple[float, float, float]] = {
    "uniform moment": (1.0, 0.0, 1.0),
    "uniform load, pinned": (1.132, 0.459, 0.525),
    "central point load, pinned": (1.365, 0.553, 0.411),
}
"""(C_1, C_2, C_3) for k_z = k_w = 1, ENV 1993-1-1 Table F.1.2, from memory; all confirmed within 2 % by an
energy solution in the tests.  For the central point load C_3 = 1.730 is also in print: it is wrong (up to
80 % on the unsafe side by the same energy solution), and so is C_2 = 0.630 with C_1 = 1.348 of a later
note, which misses by 7 % for loads well above the shear centre, on the safe side."""


def least_favourable_factors(z_j: float) -> tuple[float, float, float]:
    """(C_1, C_2, C_3) that give the lowest critical moment of the table: `z_j` is positive where it helps."""
    C_1, C_2, C_3 = zip(*MOMENT_FACTORS.values())
    return min(C_1), max(C_2), min(C_3) if z_j > 0 else max(C_3)


ALPHA_ASD = 1.6
"""Factor on the loads of an allowable-strength second-order analysis, AISI S100-16 C1 (from memory)."""


def torsional_buckling_stress(
    *, A: Value, r_o: Value, G: Value, J: Value, E: Value, C_w: Value, K_t: Value, L_t: Value
) -> Value:
    """Torsional buckling stress [MPa]."""
    return 1 / (A * r_o**2) * (G * J + np.pi**2 * E * C_w / (K_t * L_t) ** 2)


def aisi_ltb_about_symmetry_axis(
    *, C_b: Value, r_o: Value, A: Value, S_f: Value, sigma_ey: Value, sigma_t: Value
) -> Value:
    """Elastic buckling stress, singly or doubly symmetric section bent about the axis of symmetry [MPa]."""
    return C_b * r_o * A / S_f * np.sqrt(sigma_ey * sigma_t)


def aisi_ltb_across_symmetry_axis(
    *, C_s: Value, A: Value, sigma_ex: Value, j: Value, r_o: Value, sigma_t: Value, C_TF: Value, S_f: Value
) -> Value:
    """Elastic buckling stress, singly symmetric section bent across its axis of symmetry [MPa].

    sigma_ex is the Euler stress of buckling in the other plane, as the clause defines it.
    """
    return C_s * A * sigma_ex * (j + C_s * np.sqrt(j**2 + r_o**2 * (sigma_t / sigma_ex))) / (C_TF * S_f)


def aisi_ltb_closed(*, C_b: Value, K: Value, L: Value, S_f: Value, E: Value, G: Value, J: Value, I_y: Value) -> Value:
    """Elastic buckling stress of a closed box section [MPa]."""
    return C_b * np.pi / (K * L * S_f) * np.sqrt(E * G * J * I_y)


def aisi_ltb_yield(*, F_y: Value) -> Value:
    """Global buckling stress of a stocky beam [MPa]."""
    return 1.0 * F_y


def aisi_ltb_inelastic(*, F_y: Value, F_cre: Value) -> Value:
    """Global buckling stress of the middle range [MPa]."""
    return 10 / 9 * F_y * (1 - 10 * F_y / (36 * F_cre))


def aisi_ltb_elastic(*, F_cre: Value) -> Value:
    """Global buckling stress of a slender beam [MPa]."""
    return 1.0 * F_cre


TORSIONAL_BUCKLING_STRESS = register(Formula(
    torsional_buckling_stress, symbol="sigma_t", unit="MPa", title="Torsional buckling stress",
    source=AISI_F21, names=N))  # fmt: skip
AISI_LTB_ABOUT_SYMMETRY_AXIS = register(Formula(
    aisi_ltb_about_symmetry_axis, symbol="F_cre", unit="MPa", title="Elastic lateral-torsional buckling stress",
    source=AISI_F21, names=N))  # fmt: skip
AISI_LTB_ACROSS_SYMMETRY_AXIS = register(Formula(
    aisi_ltb_across_symmetry_axis, symbol="F_cre", unit="MPa", title="Elastic lateral-torsional buckling stress",
    source=AISI_F21, names=N))  # fmt: skip
AISI_LTB_CLOSED = register(Formula(
    aisi_ltb_closed, symbol="F_cre", unit="MPa", title="Elastic lateral-torsional buckling stress, closed box",
    source=AISI_F21, names=N))  # fmt: skip
AISI_LTB_YIELD = register(Formula(
    aisi_ltb_yield, symbol="F_n", unit="MPa", title="Global buckling stress in bending, stocky",
    source=AISI_F21, names=N | Names(F_cre=N["F_cre"]),
    limits=(Limit("F_cre / F_y", low=2.78),)))  # fmt: skip
AISI_LTB_INELASTIC = register(Formula(
    aisi_ltb_inelastic, symbol="F_n", unit="MPa", title="Global buckling stress in bending, middle range",
    source=AISI_F21, names=N, limits=(Limit("F_cre / F_y", low=0.56, high=2.78),)))  # fmt: skip
AISI_LTB_ELASTIC = register(Formula(
    aisi_ltb_elastic, symbol="F_n", unit="MPa", title="Global buckling stress in bending, slender",
    source=AISI_F21, names=N, limits=(Limit("F_cre / F_y", high=0.56),)))  # fmt: skip


def aisi_ltb_branch(*, F_y: float, F_cre: float) -> Choice:
    """Stocky, middle or slender branch of AISI S100-16 F2.1."""
    ratio = F_cre / F_y
    if at_least(ratio, 2.78):
        return Choice(AISI_LTB_YIELD, f"F_cre/F_y = {ratio:.3f} is at least 2.78")
    if above(ratio, 0.56):
        return Choice(AISI_LTB_INELASTIC, f"F_cre/F_y = {ratio:.3f} lies between 0.56 and 2.78")
    return Choice(AISI_LTB_ELASTIC, f"F_cre/F_y = {ratio:.3f} is at most 0.56")
