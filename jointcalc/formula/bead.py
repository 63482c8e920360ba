"""Beaded sheet as an orthotropic plate, and what the bead costs the sheet.

All values are per pitch of a pattern repeated across the sheet; x runs along the beads.  Lengths and
moments are those of the mid-line; the terms in t³ that a finite thickness adds are formulas of their own.
"""

from __future__ import annotations

import numpy as np

from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register

GEOMETRY = Source("Geometry of arcs and straight flanks", "", "derivation", "checked against polygons")
SEYDEL = Source("Seydel 1931; Xia, Friswell and Saavedra Flores 2012", "",
                "from memory", "confirmed within 3 % by shell finite elements, computed")  # fmt: skip
CROSSED = Source("Beads that cross: pieces between them bent one after the other", "", "derivation",
                 "flat across every bead that is crossed; softer than shell finite elements of the true "
                 "shape")  # fmt: skip
STRETCH = Source("Developed-length stretching stiffness of a corrugated sheet", "", "derivation",
                 "curvature across the beads suppressed")  # fmt: skip
DRAW = Source("Bead stretch without draw-in", "", "derivation",
              "rolled and pressed beads draw metal in from the sides, so the true mean strain is lower")  # fmt: skip

CREASE = Source("Sheet where two beads cross", "", "derivation",
                "no less than the growth in area of the shape that is left; rolled twice, it is strained "
                "further")  # fmt: skip

N = Names(
    b=("mm", "width of the bead at its foot, mid-line"),
    f=("mm", "depth of the bead, mid-line"),
    p=("mm", "pitch of the beads"),
    t=("mm", "sheet thickness"),
    R=("mm", "mid-line radius"),
    alpha=("rad", "half angle of the arc, or slope of the flank"),
    z_c=("mm", "height of the arc's centre above the flat"),
    s=("1", "+1 for the crown, -1 for the fillet at the foot"),
    z_m=("mm", "height of the middle of the flank above the flat"),
    l=("mm", "length of the straight flank"),
    L=("mm", "developed length of one pitch"),
    L_b=("mm", "developed length of one bead"),
    S_1=("mm^2", "first moment of the mid-line of one pitch about the flat"),
    S_2=("mm^3", "second moment of the mid-line of one pitch about the flat"),
    T_1=("1", "thickness term of the first moment"),
    T_2=("mm", "thickness term of the second moment"),
    z_s=("mm", "height of the centroid above the mid-line of the flat"),
    z_l=("mm", "height of the mid-line's own centroid above the flat"),
    c_2=("mm", "length of one pitch weighted with the squared cosine of its slope"),
    r=("mm", "mid-line radius of foot and crown bends"),
    d_x=("mm", "half of what the two flanks cover across"),
    I=("mm^3", "second moment of area per width, along the beads (mm⁴/mm)"),
    e_1=("mm", "distance of the outer fibre from the centroid"),
    E=("MPa", "modulus of elasticity"),
    nu=("1", "Poisson's ratio"),
    rho=("t/mm^3", "density"),
    x_r=("mm", "length of the run-out"),
    n=("1", "number of beads"),
    R_m=("mm", "mid-line radius of the tightest bend"),
    D_b=("N*mm", "bending rigidity along the beads where nothing crosses them"),
    D=("N*mm", "bending rigidity of flat sheet"),
)

# --- geometry ----------------------------------------------------------------------------------------


def arc_radius(*, b: Value, f: Value) -> Value:
    """Radius of a circular arc of chord b and rise f [mm]."""
    return (b**2 / 4 + f**2) / (2 * f)


def arc_half_angle(*, b: Value, f: Value) -> Value:
    """Half of the angle a circular arc of chord b and rise f spans [rad]."""
    return 2 * np.arctan(2 * f / b)


def flank_length(*, d_x: Value, f: Value, r: Value) -> Value:
    """Straight part of a flank between two opposite bends of equal radius [mm]."""
    return np.sqrt(d_x**2 + (f - 2 * r) ** 2 - 4 * r**2)


def flank_slope(*, d_x: Value, f: Value, r: Value, l: Value) -> Value:
    """Slope of a flank between two opposite bends of equal radius [rad]."""
    return np.arctan((f - 2 * r) / d_x) + 2 * np.arctan(2 * r / (l + np.hypot(l, 2 * r)))


def arc_first_moment(*, R: Value, alpha: Value, z_c: Value, s: Value) -> Value:
    """First moment about the flat of the mid-line of half an arc [mm²]."""
    return z_c * R * alpha + s * R**2 * np.sin(alpha)


def arc_second_moment(*, R: Value, alpha: Value, z_c: Value, s: Value) -> Value:
    """Second moment about the flat of the mid-line of half an arc [mm³]."""
    own = R**3 * (alpha + np.sin(alpha) * np.cos(alpha)) / 2
    return z_c**2 * R * alpha + 2 * s * z_c * R**2 * np.sin(alpha) + own


def arc_cosine_length(*, R: Value, alpha: Value) -> Value:
    """Length of half an arc weighted with the squared cosine of its slope [mm]."""
    return R * (alpha + np.sin(alpha) * np.cos(alpha)) / 2


def flank_second_moment(*, l: Value, z_m: Value, alpha: Value) -> Value:
    """Second moment about the flat of the mid-line of a straight flank [mm³]."""
    return l * (z_m**2 + (l * np.sin(alpha)) ** 2 / 12)


def arc_thickness_second(*, R: Value, alpha: Value, z_c: Value, s: Value) -> Value:
    """What the thickness adds to the second moment of half an arc, times t³/12 [mm]."""
    return 2 * s * z_c * np.sin(alpha) + 3 * R * (alpha + np.sin(alpha) * np.cos(alpha)) / 2


def centroid_height(*, S_1: Value, T_1: Value, L: Value, t: Value) -> Value:
    """Height of the centroid of one pitch above the mid-line of the flat [mm]."""
    return (S_1 + t**2 / 12 * T_1) / L


def inertia_along(*, S_2: Value, T_2: Value, L: Value, z_s: Value, t: Value, p: Value) -> Value:
    """Second moment of area per width about the centroid, bending along the beads [mm⁴/mm]."""
    return (t * S_2 + t**3 / 12 * T_2 - L * t * z_s**2) / p


def modulus_along(*, I: Value, e_1: Value) -> Value:
    """Section modulus per width, bending along the beads [mm³/mm]."""
    return I / e_1


ARC_RADIUS = register(Formula(arc_radius, symbol="R", unit="mm", title="Radius of an arc bead", source=GEOMETRY,
                              names=N))  # fmt: skip
ARC_HALF_ANGLE = register(Formula(arc_half_angle, symbol="alpha", unit="rad", title="Half angle of an arc bead",
                                  source=GEOMETRY, names=N,
                                  limits=(Limit("f / b", high=0.5, why="at most half round"),)))  # fmt: skip
FLANK_LENGTH = register(Formula(flank_length, symbol="l", unit="mm", title="Straight part of a flank",
                                source=GEOMETRY, names=N,
                                limits=(Limit("d_x**2 + (f - 2 * r) ** 2 - 4 * r**2", low=0.0,
                                              why="the two bends must fit into the flank"),)))  # fmt: skip
FLANK_SLOPE = register(Formula(flank_slope, symbol="alpha", unit="rad", title="Slope of a flank", source=GEOMETRY,
                               names=N))  # fmt: skip
ARC_FIRST_MOMENT = register(Formula(arc_first_moment, symbol="S_1", unit="mm^2", title="First moment of half an arc",
                                    source=GEOMETRY, names=N))  # fmt: skip
ARC_SECOND_MOMENT = register(Formula(arc_second_moment, symbol="S_2", unit="mm^3", title="Second moment of half an arc",
                                     source=GEOMETRY, names=N, inner_units={"own": "mm^3"}))  # fmt: skip
ARC_COSINE_LENGTH = register(Formula(arc_cosine_length, symbol="c_2", unit="mm", title="Level part of half an arc",
                                     source=GEOMETRY, names=N))  # fmt: skip
FLANK_SECOND_MOMENT = register(Formula(flank_second_moment, symbol="S_2", unit="mm^3",
                                       title="Second moment of a flank", source=GEOMETRY, names=N))  # fmt: skip
ARC_THICKNESS_SECOND = register(Formula(arc_thickness_second, symbol="T_2", unit="mm",
                                        title="Thickness term of half an arc", source=GEOMETRY, names=N))  # fmt: skip
CENTROID_HEIGHT = register(Formula(centroid_height, symbol="z_s", unit="mm", title="Centroid of one pitch",
                                   source=GEOMETRY, names=N))  # fmt: skip
INERTIA_ALONG = register(Formula(inertia_along, symbol="I_along", unit="mm^4/mm",
                                 title="Second moment of area per width, along the beads", source=GEOMETRY,
                                 names=N))  # fmt: skip
MODULUS_ALONG = register(Formula(modulus_along, symbol="W_along", unit="mm^3/mm",
                                 title="Section modulus per width, along the beads", source=GEOMETRY,
                                 names=N))  # fmt: skip


# --- orthotropic plate ---------------------------------------------------------------------------------


def rigidity_along(*, E: Value, I: Value) -> Value:
    """Bending rigidity along the beads [N·mm]."""
    return E * I


def rigidity_across(*, E: Value, t: Value, nu: Value, p: Value, L: Value) -> Value:
    """Bending rigidity across the beads [N·mm]."""
    return E * t**3 / (12 * (1 - nu**2)) * p / L


def rigidity_crossed(*, D_b: Value, D: Value, p: Value, b: Value, L_b: Value) -> Value:
    """Bending rigidity along beads that are crossed by others, flat where they are [N·mm]."""
    return p / ((p - b) / D_b + L_b / D)


def rigidity_twisting(*, E: Value, t: Value, nu: Value, p: Value, L: Value) -> Value:
    """Twisting rigidity, M_xy = 2 D_xy w_xy [N·mm]."""
    return E * t**3 / (24 * (1 + nu)) * L / p


def rigidity_coupling(*, E: Value, t: Value, nu: Value, p: Value, L: Value) -> Value:
    """Poisson coupling, nu times the rigidity across the beads [N·mm]."""
    return nu * E * t**3 / (12 * (1 - nu**2)) * p / L


def stretch_along(*, E: Value, t: Value, p: Value, L: Value) -> Value:
    """Stretching stiffness along the beads [N/mm]."""
    return E * t * L / p


def stretch_across(*, E: Value, t: Value, nu: Value, p: Value, L: Value, S_2: Value, z_l: Value, c_2: Value) -> Value:
    """Stretching stiffness across the beads, which open like a bellows [N/mm]."""
    bellows = (1 - nu**2) * 12 * (S_2 - L * z_l**2) / (E * t**3)
    return p / (c_2 / (E * t) + bellows)


def shear_in_plane(*, E: Value, t: Value, nu: Value, p: Value, L: Value) -> Value:
    """In-plane shear stiffness [N/mm]."""
    return E / (2 * (1 + nu)) * t * p / L


RIGIDITY_ALONG = register(Formula(rigidity_along, symbol="D_x", unit="N*mm", title="Bending rigidity along the beads",
                                  source=SEYDEL, names=N))  # fmt: skip
RIGIDITY_ACROSS = register(Formula(rigidity_across, symbol="D_y", unit="N*mm",
                                   title="Bending rigidity across the beads", source=SEYDEL, names=N))  # fmt: skip
RIGIDITY_CROSSED = register(Formula(rigidity_crossed, symbol="D_x", unit="N*mm",
                                    title="Bending rigidity along crossed beads", source=CROSSED, names=N))  # fmt: skip
RIGIDITY_TWISTING = register(Formula(rigidity_twisting, symbol="D_xy", unit="N*mm", title="Twisting rigidity",
                                     source=SEYDEL, names=N))  # fmt: skip
RIGIDITY_COUPLING = register(Formula(rigidity_coupling, symbol="D_1", unit="N*mm", title="Poisson coupling",
                                     source=SEYDEL, names=N))  # fmt: skip
STRETCH_ALONG = register(Formula(stretch_along, symbol="A_x", unit="N/mm", title="Stretching stiffness along the beads",
                                 source=STRETCH, names=N))  # fmt: skip
STRETCH_ACROSS = register(Formula(stretch_across, symbol="A_y", unit="N/mm",
                                  title="Stretching stiffness across the beads", source=STRETCH, names=N,
                                  inner_units={"bellows": "mm^2/N"}))  # fmt: skip
SHEAR_IN_PLANE = register(Formula(shear_in_plane, symbol="A_xy", unit="N/mm", title="In-plane shear stiffness",
                                  source=STRETCH, names=N))  # fmt: skip


RUN_OUT = Source("Sheet at the run-out of a bead", "", "derivation",
                 "growth of the mid-plane's area, which is its thinning: sheet necks at one thinning up to plane "
                 "strain, and at more when it is stretched both ways (forming limit curves, second-hand)")  # fmt: skip
DRAWN = Source("Bead with the sheet drawn in", "", "derivation", "no strain across it but bending")  # fmt: skip


# --- mass, comparison with flat sheet, forming ------------------------------------------------------------


def mass_per_area(*, rho: Value, t: Value, L: Value, p: Value) -> Value:
    """Mass per projected area at unchanged thickness [t/mm²]."""
    return rho * t * L / p


def equal_mass_thickness(*, t: Value, L: Value, p: Value) -> Value:
    """Thickness of the flat sheet of the same mass per area [mm]."""
    return t * L / p


def stiffness_ratio(*, I: Value, t: Value) -> Value:
    """Second moment of area per width over that of flat sheet of thickness t [1]."""
    return I / (t**3 / 12)


def bead_strain(*, L_b: Value, b: Value) -> Value:
    """Mean strain over the bead when no metal draws in [1]."""
    return L_b / b - 1


def run_out_strain(*, L_b: Value, b: Value, f: Value, x_r: Value) -> Value:
    """Growth in area at the top of the run-out, stretched both ways, when no metal draws in [1]."""
    return L_b / b * np.sqrt(1 + (f / x_r) ** 2) - 1


def crown_strain(*, f: Value, x_r: Value) -> Value:
    """Stretch of the crown's line along the run-out, the sheet drawn in across [1]."""
    return np.sqrt(1 + (f / x_r) ** 2) - 1


def drawn_shear_strain(*, L_b: Value, b: Value, x_r: Value) -> Value:
    """Principal strain beside the run-out, which is drawn in at its top and not at its foot [1]."""
    gamma = (L_b - b) / 2 / x_r
    return gamma / 2


def face_strain(*, t: Value, R_m: Value) -> Value:
    """Strain of the face of a bend whose mid-line is not stretched [1]."""
    return t / (2 * R_m)


def draw_in(*, n: Value, L_b: Value, b: Value) -> Value:
    """What all beads together draw in from the sides when nothing stretches across them [mm]."""
    return n * (L_b - b)


MASS_PER_AREA = register(Formula(mass_per_area, symbol="mu", unit="t/mm^2", title="Mass per area", source=GEOMETRY,
                                 names=N))  # fmt: skip
EQUAL_MASS_THICKNESS = register(Formula(equal_mass_thickness, symbol="t_flat", unit="mm",
                                        title="Flat sheet of the same mass", source=GEOMETRY, names=N))  # fmt: skip
STIFFNESS_RATIO = register(Formula(stiffness_ratio, symbol="k_I", unit="1", title="Stiffness against flat sheet",
                                   source=GEOMETRY, names=N))  # fmt: skip
BEAD_STRAIN = register(Formula(bead_strain, symbol="e_bead", unit="1", title="Mean strain over the bead",
                               source=DRAW, names=N))  # fmt: skip
RUN_OUT_STRAIN = register(Formula(run_out_strain, symbol="e_run", unit="1", title="Growth at the run-out",
                                  source=RUN_OUT, names=N))  # fmt: skip
CROWN_STRAIN = register(Formula(crown_strain, symbol="e_crown", unit="1", title="Stretch along the run-out",
                                source=DRAWN, names=N))  # fmt: skip
DRAWN_SHEAR_STRAIN = register(Formula(drawn_shear_strain, symbol="e_side", unit="1", title="Shear beside the run-out",
                                      source=DRAWN, names=N, inner_units={"gamma": "1"}))  # fmt: skip
FACE_STRAIN = register(Formula(face_strain, symbol="e_face", unit="1", title="Strain of a bend's face", source=DRAWN,
                               names=N))  # fmt: skip
DRAW_IN = register(Formula(draw_in, symbol="v_in", unit="mm", title="Sheet drawn in by the beads", source=DRAWN,
                           names=N))  # fmt: skip
