"""Direct strength of AISI S100-16 (E2, E3.2, E4, F2, F3.2, F4) and its elastic distortional stress in closed form.

The direct strength formulas take the elastic buckling loads of the whole section, from finite strips
(`jointcalc.section.buckling`), instead of effective widths.  They give nominal strengths: local buckling
in interaction with overall buckling, and distortional buckling by itself; the lower counts.  Inelastic
reserve is left out.

The closed form (Appendix 2, 2.3.1.3 and 2.3.3.3) is that of C and Z sections whose flanges carry a simple
lip at a right angle.  The parts of the web follow from the bending of the web as a strip of plate
(columns: both ends turned alike, a parabola), which the tests repeat.  All from memory.
"""

from __future__ import annotations

import numpy as np

from jointcalc.formula.branch import at_most
from jointcalc.formula.column import Choice
from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register

S100 = "AISI S100-16"
OMEGA_COMPRESSION = 1.80
OMEGA_BENDING = 1.67
"""Safety factors of chapters E and F."""


def _source(clause: str, note: str = "") -> Source:
    return Source(S100, clause, status="from memory", note=note)


E2, E32, E4 = _source("E2"), _source("E3.2.1"), _source("E4.1")
F2, F32, F4 = _source("F2"), _source("F3.2.1"), _source("F4.1")
COLUMN_FORM = _source("Appendix 2, 2.3.1.3")
BEAM_FORM = _source("Appendix 2, 2.3.3.3")
FLANGE = _source("Appendix 2, Table 2.3.1.3-1")

N = Names(
    A_g=("mm^2", "gross area"),
    S_f=("mm^3", "gross section modulus of the face in compression"),
    S_fy=("mm^3", "gross section modulus of the face that yields first"),
    F_y=("MPa", "yield stress"),
    F_n=("MPa", "global buckling stress"),
    P_y=("N", "squash load"),
    P_ne=("N", "nominal strength against global buckling"),
    P_crl=("N", "elastic local buckling load"),
    P_crd=("N", "elastic distortional buckling load"),
    M_y=("N*mm", "moment at first yield"),
    M_ne=("N*mm", "nominal strength against global buckling"),
    M_crl=("N*mm", "elastic local buckling moment"),
    M_crd=("N*mm", "elastic distortional buckling moment"),
)

LOCAL_WHY = "the branches meet at 0.776"
DISTORTIONAL_WHY = "below it nothing is reduced"


# --- columns ------------------------------------------------------------------------------------------


def squash_load(*, A_g: Value, F_y: Value) -> Value:
    """Load [N] at which the whole section yields.  AISI S100-16 E4.1."""
    return A_g * F_y


def global_strength_column(*, A_g: Value, F_n: Value) -> Value:
    """Nominal strength [N] against flexural, torsional or torsional-flexural buckling.  AISI S100-16 E2."""
    return A_g * F_n


def local_slenderness_column(*, P_ne: Value, P_crl: Value) -> Value:
    """Slenderness of local buckling [1].  AISI S100-16 E3.2.1."""
    return np.sqrt(P_ne / P_crl)


def local_strength_column_stocky(*, P_ne: Value) -> Value:
    """Nominal strength [N] where local buckling does not reduce it, slenderness at most 0.776.  AISI S100-16 E3.2.1."""
    return 1.0 * P_ne


def local_strength_column(*, P_ne: Value, P_crl: Value) -> Value:
    """Nominal strength [N], local with global buckling, slenderness above 0.776.  AISI S100-16 E3.2.1."""
    return (1 - 0.15 * (P_crl / P_ne) ** 0.4) * (P_crl / P_ne) ** 0.4 * P_ne


def distortional_slenderness_column(*, P_y: Value, P_crd: Value) -> Value:
    """Slenderness of distortional buckling [1].  AISI S100-16 E4.1."""
    return np.sqrt(P_y / P_crd)


def distortional_strength_column_stocky(*, P_y: Value) -> Value:
    """Nominal strength [N] where distortion does not reduce it, slenderness at most 0.561.  AISI S100-16 E4.1."""
    return 1.0 * P_y


def distortional_strength_column(*, P_y: Value, P_crd: Value) -> Value:
    """Nominal strength [N] of distortional buckling, slenderness above 0.561.  AISI S100-16 E4.1."""
    return (1 - 0.25 * (P_crd / P_y) ** 0.6) * (P_crd / P_y) ** 0.6 * P_y


SQUASH_LOAD = register(Formula(
    squash_load, symbol="P_y", unit="N", title="Squash load", source=E4, names=N))  # fmt: skip
GLOBAL_STRENGTH_COLUMN = register(Formula(
    global_strength_column, symbol="P_ne", unit="N", title="Nominal strength against global buckling", source=E2,
    names=N))  # fmt: skip
LOCAL_SLENDERNESS_COLUMN = register(Formula(
    local_slenderness_column, symbol="lamda_l", unit="1", title="Slenderness of local buckling", source=E32,
    names=N))  # fmt: skip
LOCAL_STRENGTH_COLUMN_STOCKY = register(Formula(
    local_strength_column_stocky, symbol="P_nl", unit="N", title="Nominal strength, no local reduction", source=E32,
    names=N))  # fmt: skip
LOCAL_STRENGTH_COLUMN = register(Formula(
    local_strength_column, symbol="P_nl", unit="N", title="Nominal strength, local with global buckling", source=E32,
    names=N, limits=(Limit("np.sqrt(P_ne / P_crl)", low=0.776, why=LOCAL_WHY),)))  # fmt: skip
DISTORTIONAL_SLENDERNESS_COLUMN = register(Formula(
    distortional_slenderness_column, symbol="lamda_d", unit="1", title="Slenderness of distortional buckling",
    source=E4, names=N))  # fmt: skip
DISTORTIONAL_STRENGTH_COLUMN_STOCKY = register(Formula(
    distortional_strength_column_stocky, symbol="P_nd", unit="N", title="Nominal strength, no distortional reduction",
    source=E4, names=N))  # fmt: skip
DISTORTIONAL_STRENGTH_COLUMN = register(Formula(
    distortional_strength_column, symbol="P_nd", unit="N", title="Nominal strength of distortional buckling",
    source=E4, names=N, limits=(Limit("np.sqrt(P_y / P_crd)", low=0.561, why=DISTORTIONAL_WHY),)))  # fmt: skip


def local_branch_column(*, P_ne: float, P_crl: float) -> Choice:
    """Stocky or slender branch of AISI S100-16 E3.2.1."""
    lamda = float(local_slenderness_column(P_ne=P_ne, P_crl=P_crl))
    if at_most(lamda, 0.776):
        return Choice(LOCAL_STRENGTH_COLUMN_STOCKY, f"local slenderness {lamda:.3f} is at most 0.776")
    return Choice(LOCAL_STRENGTH_COLUMN, f"local slenderness {lamda:.3f} is above 0.776")


def distortional_branch_column(*, P_y: float, P_crd: float) -> Choice:
    """Stocky or slender branch of AISI S100-16 E4.1."""
    lamda = float(distortional_slenderness_column(P_y=P_y, P_crd=P_crd))
    if at_most(lamda, 0.561):
        return Choice(DISTORTIONAL_STRENGTH_COLUMN_STOCKY, f"distortional slenderness {lamda:.3f} is at most 0.561")
    return Choice(DISTORTIONAL_STRENGTH_COLUMN, f"distortional slenderness {lamda:.3f} is above 0.561")


# --- beams --------------------------------------------------------------------------------------------


def yield_moment(*, S_fy: Value, F_y: Value) -> Value:
    """Moment [N mm] at first yield.  AISI S100-16 F2.1."""
    return S_fy * F_y


def global_strength_beam(*, S_f: Value, F_n: Value, M_y: Value) -> Value:
    """Nominal strength [N mm] against lateral-torsional buckling, at most first yield.  AISI S100-16 F2.1."""
    return np.minimum(S_f * F_n, M_y)


def local_slenderness_beam(*, M_ne: Value, M_crl: Value) -> Value:
    """Slenderness of local buckling [1].  AISI S100-16 F3.2.1."""
    return np.sqrt(M_ne / M_crl)


def local_strength_beam_stocky(*, M_ne: Value) -> Value:
    """Nominal strength [N mm] without local reduction, slenderness at most 0.776.  AISI S100-16 F3.2.1."""
    return 1.0 * M_ne


def local_strength_beam(*, M_ne: Value, M_crl: Value) -> Value:
    """Nominal strength [N mm], local with global buckling, slenderness above 0.776.  AISI S100-16 F3.2.1."""
    return (1 - 0.15 * (M_crl / M_ne) ** 0.4) * (M_crl / M_ne) ** 0.4 * M_ne


def distortional_slenderness_beam(*, M_y: Value, M_crd: Value) -> Value:
    """Slenderness of distortional buckling [1].  AISI S100-16 F4.1."""
    return np.sqrt(M_y / M_crd)


def distortional_strength_beam_stocky(*, M_y: Value) -> Value:
    """Nominal strength [N mm] without distortional reduction, slenderness at most 0.673.  AISI S100-16 F4.1."""
    return 1.0 * M_y


def distortional_strength_beam(*, M_y: Value, M_crd: Value) -> Value:
    """Nominal strength [N mm] of distortional buckling, slenderness above 0.673.  AISI S100-16 F4.1."""
    return (1 - 0.22 * (M_crd / M_y) ** 0.5) * (M_crd / M_y) ** 0.5 * M_y


YIELD_MOMENT = register(Formula(
    yield_moment, symbol="M_y", unit="N*mm", title="Moment at first yield", source=F2, names=N))  # fmt: skip
GLOBAL_STRENGTH_BEAM = register(Formula(
    global_strength_beam, symbol="M_ne", unit="N*mm", title="Nominal strength against lateral-torsional buckling",
    source=F2, names=N))  # fmt: skip
LOCAL_SLENDERNESS_BEAM = register(Formula(
    local_slenderness_beam, symbol="lamda_l", unit="1", title="Slenderness of local buckling", source=F32,
    names=N))  # fmt: skip
LOCAL_STRENGTH_BEAM_STOCKY = register(Formula(
    local_strength_beam_stocky, symbol="M_nl", unit="N*mm", title="Nominal strength, no local reduction", source=F32,
    names=N))  # fmt: skip
LOCAL_STRENGTH_BEAM = register(Formula(
    local_strength_beam, symbol="M_nl", unit="N*mm", title="Nominal strength, local with global buckling", source=F32,
    names=N, limits=(Limit("np.sqrt(M_ne / M_crl)", low=0.776, why=LOCAL_WHY),)))  # fmt: skip
DISTORTIONAL_SLENDERNESS_BEAM = register(Formula(
    distortional_slenderness_beam, symbol="lamda_d", unit="1", title="Slenderness of distortional buckling",
    source=F4, names=N))  # fmt: skip
DISTORTIONAL_STRENGTH_BEAM_STOCKY = register(Formula(
    distortional_strength_beam_stocky, symbol="M_nd", unit="N*mm",
    title="Nominal strength, no distortional reduction", source=F4, names=N))  # fmt: skip
DISTORTIONAL_STRENGTH_BEAM = register(Formula(
    distortional_strength_beam, symbol="M_nd", unit="N*mm", title="Nominal strength of distortional buckling",
    source=F4, names=N, limits=(Limit("np.sqrt(M_y / M_crd)", low=0.673, why=DISTORTIONAL_WHY),)))  # fmt: skip


def local_branch_beam(*, M_ne: float, M_crl: float) -> Choice:
    """Stocky or slender branch of AISI S100-16 F3.2.1."""
    lamda = float(local_slenderness_beam(M_ne=M_ne, M_crl=M_crl))
    if at_most(lamda, 0.776):
        return Choice(LOCAL_STRENGTH_BEAM_STOCKY, f"local slenderness {lamda:.3f} is at most 0.776")
    return Choice(LOCAL_STRENGTH_BEAM, f"local slenderness {lamda:.3f} is above 0.776")


def distortional_branch_beam(*, M_y: float, M_crd: float) -> Choice:
    """Stocky or slender branch of AISI S100-16 F4.1."""
    lamda = float(distortional_slenderness_beam(M_y=M_y, M_crd=M_crd))
    if at_most(lamda, 0.673):
        return Choice(DISTORTIONAL_STRENGTH_BEAM_STOCKY, f"distortional slenderness {lamda:.3f} is at most 0.673")
    return Choice(DISTORTIONAL_STRENGTH_BEAM, f"distortional slenderness {lamda:.3f} is above 0.673")


# --- elastic distortional stress in closed form: flange with a simple lip at a right angle ---------------

FN = Names(
    b=("mm", "mid-line width of the flange, web to lip"),
    d=("mm", "mid-line depth of the lip"),
    t=("mm", "thickness"),
    h_o=("mm", "overall depth of the web"),
    E=("MPa", "modulus of elasticity"),
    G=("MPa", "shear modulus"),
    mu=("1", "Poisson's ratio"),
    L=("mm", "half-wavelength of distortional buckling, or the spacing of what prevents it if shorter"),
    A_f=("mm^2", "area of flange and lip"),
    J_f=("mm^4", "torsion constant of flange and lip"),
    I_xf=("mm^4", "second moment of flange and lip about the axis along the flange"),
    I_yf=("mm^4", "second moment of flange and lip about the axis along the web"),
    I_xyf=("mm^4", "product of inertia of flange and lip"),
    x_of=("mm", "distance along the flange from its centroid to its shear centre"),
    h_xf=("mm", "distance along the flange from its centroid to the web, negative"),
    y_of=("mm", "distance along the web from the centroid of the flange to its shear centre"),
    xi=("1", "stress gradient of the web, (f_1 - f_2) / f_1: 0 uniform, 2 pure bending"),
    beta=("1", "moment gradient factor, 1 on the safe side"),
    k_phi=("N", "rotational stiffness from attachments, per length and radian"),
    k_fe=("N", "elastic rotational stiffness of the flange at the web corner, per length"),
    k_we=("N", "elastic rotational stiffness of the web at its corner, per length"),
    k_fg=("mm^2", "geometric rotational stiffness of the flange per stress, per length"),
    k_wg=("mm^2", "geometric rotational stiffness of the web per stress, per length"),
)


def flange_area(*, b: Value, d: Value, t: Value) -> Value:
    """Area [mm^2] of flange and lip.  AISI S100-16 Appendix 2."""
    return (b + d) * t


def flange_torsion(*, b: Value, d: Value, t: Value) -> Value:
    """Torsion constant [mm^4] of flange and lip.  AISI S100-16 Appendix 2."""
    return (b * t**3 + d * t**3) / 3


def flange_second_moment_x(*, b: Value, d: Value, t: Value) -> Value:
    """Second moment [mm^4] of flange and lip about the axis along the flange.  AISI S100-16 Appendix 2."""
    return t * (t**2 * b**2 + 4 * b * d**3 + t**2 * b * d + d**4) / (12 * (b + d))


def flange_second_moment_y(*, b: Value, d: Value, t: Value) -> Value:
    """Second moment [mm^4] of flange and lip about the axis along the web.  AISI S100-16 Appendix 2."""
    return t * (b**4 + 4 * d * b**3) / (12 * (b + d))


def flange_product(*, b: Value, d: Value, t: Value) -> Value:
    """Product of inertia [mm^4] of flange and lip.  AISI S100-16 Appendix 2."""
    return t * b**2 * d**2 / (4 * (b + d))


def flange_shear_centre_x(*, b: Value, d: Value) -> Value:
    """Distance [mm] along the flange from its centroid to its shear centre.  AISI S100-16 Appendix 2."""
    return b**2 / (2 * (b + d))


def flange_web_x(*, b: Value, d: Value) -> Value:
    """Distance [mm] along the flange from its centroid to the web, negative.  AISI S100-16 Appendix 2."""
    return -(b**2 + 2 * d * b) / (2 * (b + d))


def flange_shear_centre_y(*, b: Value, d: Value) -> Value:
    """Distance [mm] along the web from the flange's centroid to its shear centre.  AISI S100-16 Appendix 2."""
    return -(d**2) / (2 * (b + d))


def distortional_length_column(
    *, h_o: Value, mu: Value, t: Value, I_xf: Value, I_yf: Value, I_xyf: Value, x_of: Value, h_xf: Value
) -> Value:
    """Half-wavelength [mm] of distortional buckling in compression.  AISI S100-16 Appendix 2, 2.3.1.3."""
    C = (I_xf - I_xyf**2 / I_yf) * (x_of - h_xf) ** 2
    return (6 * np.pi**4 * h_o * (1 - mu**2) / t**3 * C) ** 0.25


def distortional_length_beam(
    *, h_o: Value, mu: Value, t: Value, I_xf: Value, I_yf: Value, I_xyf: Value, x_of: Value, h_xf: Value
) -> Value:
    """Half-wavelength [mm] of distortional buckling in bending.  AISI S100-16 Appendix 2, 2.3.3.3."""
    C = (I_xf - I_xyf**2 / I_yf) * (x_of - h_xf) ** 2
    return (4 * np.pi**4 * h_o * (1 - mu**2) / t**3 * C + np.pi**4 * h_o**4 / 720) ** 0.25


def flange_stiffness(
    *, L: Value, E: Value, G: Value, I_xf: Value, I_yf: Value, I_xyf: Value, x_of: Value, h_xf: Value, J_f: Value
) -> Value:
    """Elastic rotational stiffness [N] of the flange.  AISI S100-16 Appendix 2, 2.3.1.3 (a simple lip has no C_w)."""
    C = (I_xf - I_xyf**2 / I_yf) * (x_of - h_xf) ** 2
    return (np.pi / L) ** 4 * E * C + (np.pi / L) ** 2 * G * J_f


def flange_geometric(
    *, L: Value, A_f: Value, I_xf: Value, I_yf: Value, I_xyf: Value, x_of: Value, h_xf: Value, y_of: Value
) -> Value:
    """Geometric rotational stiffness [mm^2] of the flange per stress.  AISI S100-16 Appendix 2, 2.3.1.3."""
    r = (x_of - h_xf) * I_xyf / I_yf
    return (np.pi / L) ** 2 * (A_f * (r**2 - 2 * y_of * r + h_xf**2 + y_of**2) + I_xf + I_yf)


def web_stiffness_column(*, E: Value, t: Value, h_o: Value, mu: Value) -> Value:
    """Elastic rotational stiffness [N] of the web in compression.  AISI S100-16 Appendix 2, 2.3.1.3."""
    return E * t**3 / (6 * h_o * (1 - mu**2))


def web_geometric_column(*, L: Value, t: Value, h_o: Value) -> Value:
    """Geometric rotational stiffness [mm^2] of the web in compression.  AISI S100-16 Appendix 2, 2.3.1.3."""
    return (np.pi / L) ** 2 * t * h_o**3 / 60


def web_stiffness_beam(*, E: Value, t: Value, h_o: Value, mu: Value, L: Value) -> Value:
    """Elastic rotational stiffness [N] of the web in bending.  AISI S100-16 Appendix 2, 2.3.3.3."""
    return (
        E * t**3 / (12 * (1 - mu**2)) * (3 / h_o + (np.pi / L) ** 2 * 19 * h_o / 60 + (np.pi / L) ** 4 * h_o**3 / 240)
    )


def web_geometric_beam(*, L: Value, t: Value, h_o: Value, xi: Value) -> Value:
    """Geometric rotational stiffness [mm^2] of the web in bending.  AISI S100-16 Appendix 2, 2.3.3.3."""
    above = (
        (45360 * (1 - xi) + 62160) * (L / h_o) ** 2 + 448 * np.pi**2 + (h_o / L) ** 2 * (53 + 3 * (1 - xi)) * np.pi**4
    )
    below = np.pi**4 + 28 * np.pi**2 * (L / h_o) ** 2 + 420 * (L / h_o) ** 4
    return h_o * t * np.pi**2 / 13440 * above / below


def elastic_distortional_stress(
    *, beta: Value, k_fe: Value, k_we: Value, k_phi: Value, k_fg: Value, k_wg: Value
) -> Value:
    """Elastic distortional buckling stress [MPa]; `beta` is 1 in compression.  AISI S100-16 Appendix 2."""
    return beta * (k_fe + k_we + k_phi) / (k_fg + k_wg)


_LIP = (Limit("d / b", low=0.1, high=0.7, why="a simple lip that stiffens the flange"),)

FLANGE_AREA = register(Formula(
    flange_area, symbol="A_f", unit="mm^2", title="Area of flange and lip", source=FLANGE, names=FN))  # fmt: skip
FLANGE_TORSION = register(Formula(
    flange_torsion, symbol="J_f", unit="mm^4", title="Torsion constant of flange and lip", source=FLANGE,
    names=FN))  # fmt: skip
FLANGE_SECOND_MOMENT_X = register(Formula(
    flange_second_moment_x, symbol="I_xf", unit="mm^4", title="Second moment of flange and lip, axis along the flange",
    source=FLANGE, names=FN, limits=_LIP))  # fmt: skip
FLANGE_SECOND_MOMENT_Y = register(Formula(
    flange_second_moment_y, symbol="I_yf", unit="mm^4", title="Second moment of flange and lip, axis along the web",
    source=FLANGE, names=FN))  # fmt: skip
FLANGE_PRODUCT = register(Formula(
    flange_product, symbol="I_xyf", unit="mm^4", title="Product of inertia of flange and lip", source=FLANGE,
    names=FN))  # fmt: skip
FLANGE_SHEAR_CENTRE_X = register(Formula(
    flange_shear_centre_x, symbol="x_of", unit="mm", title="Shear centre of the flange from its centroid",
    source=FLANGE, names=FN))  # fmt: skip
FLANGE_WEB_X = register(Formula(
    flange_web_x, symbol="h_xf", unit="mm", title="Web from the centroid of the flange", source=FLANGE,
    names=FN))  # fmt: skip
FLANGE_SHEAR_CENTRE_Y = register(Formula(
    flange_shear_centre_y, symbol="y_of", unit="mm", title="Shear centre of the flange from its centroid, upright",
    source=FLANGE, names=FN))  # fmt: skip
DISTORTIONAL_LENGTH_COLUMN = register(Formula(
    distortional_length_column, symbol="L_crd", unit="mm", title="Half-wavelength of distortional buckling",
    source=COLUMN_FORM, names=FN, inner_units={"C": "mm^6"}))  # fmt: skip
DISTORTIONAL_LENGTH_BEAM = register(Formula(
    distortional_length_beam, symbol="L_crd", unit="mm", title="Half-wavelength of distortional buckling",
    source=BEAM_FORM, names=FN, inner_units={"C": "mm^6"}))  # fmt: skip
FLANGE_STIFFNESS = register(Formula(
    flange_stiffness, symbol="k_fe", unit="N", title="Elastic stiffness of the flange in rotation", source=COLUMN_FORM,
    names=FN, inner_units={"C": "mm^6"}))  # fmt: skip
FLANGE_GEOMETRIC = register(Formula(
    flange_geometric, symbol="k_fg", unit="mm^2", title="Geometric stiffness of the flange in rotation",
    source=COLUMN_FORM, names=FN, inner_units={"r": "mm"}))  # fmt: skip
WEB_STIFFNESS_COLUMN = register(Formula(
    web_stiffness_column, symbol="k_we", unit="N", title="Elastic stiffness of the web in rotation",
    source=COLUMN_FORM, names=FN))  # fmt: skip
WEB_GEOMETRIC_COLUMN = register(Formula(
    web_geometric_column, symbol="k_wg", unit="mm^2", title="Geometric stiffness of the web in rotation",
    source=COLUMN_FORM, names=FN))  # fmt: skip
WEB_STIFFNESS_BEAM = register(Formula(
    web_stiffness_beam, symbol="k_we", unit="N", title="Elastic stiffness of the web in rotation", source=BEAM_FORM,
    names=FN))  # fmt: skip
WEB_GEOMETRIC_BEAM = register(Formula(
    web_geometric_beam, symbol="k_wg", unit="mm^2", title="Geometric stiffness of the web in rotation",
    source=BEAM_FORM, names=FN, inner_units={"above": "1", "below": "1"}))  # fmt: skip
ELASTIC_DISTORTIONAL_STRESS = register(Formula(
    elastic_distortional_stress, symbol="F_crd", unit="MPa", title="Elastic distortional buckling stress",
    source=COLUMN_FORM, names=FN))  # fmt: skip


def closed_form_distortional(
    *, h_o: Value, b: Value, d: Value, t: Value, E: Value, mu: Value = 0.3, bending: bool, k_phi: Value = 0.0,
    most: Value = np.inf,
) -> tuple[Value, Value]:  # fmt: skip
    """(elastic distortional stress [MPa], half-wavelength [mm]) of a C or Z with lips, by the closed form.

    `b` and `d` are mid-line widths of flange and lip, `h_o` the overall depth; `bending` about the axis
    across the web (equal flanges), else compression; `most` [mm] the spacing of what prevents distortion.
    """
    given = {"b": b, "d": d}
    flange = {
        "I_xf": flange_second_moment_x(t=t, **given),
        "I_yf": flange_second_moment_y(t=t, **given),
        "I_xyf": flange_product(t=t, **given),
        "x_of": flange_shear_centre_x(**given),
        "h_xf": flange_web_x(**given),
    }
    length = distortional_length_beam if bending else distortional_length_column
    L = np.minimum(length(h_o=h_o, mu=mu, t=t, **flange), most)
    k_fe = flange_stiffness(L=L, E=E, G=E / (2 * (1 + mu)), J_f=flange_torsion(t=t, **given), **flange)
    k_fg = flange_geometric(L=L, A_f=flange_area(t=t, **given), y_of=flange_shear_centre_y(**given), **flange)
    if bending:
        k_we = web_stiffness_beam(E=E, t=t, h_o=h_o, mu=mu, L=L)
        k_wg = web_geometric_beam(L=L, t=t, h_o=h_o, xi=2.0)
    else:
        k_we, k_wg = web_stiffness_column(E=E, t=t, h_o=h_o, mu=mu), web_geometric_column(L=L, t=t, h_o=h_o)
    return elastic_distortional_stress(beta=1.0, k_fe=k_fe, k_we=k_we, k_phi=k_phi, k_fg=k_fg, k_wg=k_wg), L
