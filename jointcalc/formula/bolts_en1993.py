"""Bolts, blind rivets and screws by EN 1993: parts 1-8 (thicker plate) and 1-3 (thin sheet).

The results are characteristic resistances: the division by gamma_M2 = 1.25 that the standard prints is left to the
required factor.
EN 1993-1-3 gives no pull-through value for bolts and rivets (it asks for tests); the punching rule of EN 1993-1-8 is
therefore used below its thickness only beside that remark.
"""

from __future__ import annotations

import numpy as np

from jointcalc.formula.branch import at_least
from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register

SHANK_CLASSES, THREAD_CLASSES = ("4.6", "5.6", "8.8"), ("4.8", "5.8", "6.8", "10.9")
"""Classes whose shear coefficient is that of the shank with the thread in the shear plane, and those with less."""
ALPHA_SHANK, ALPHA_THREAD = 0.6, 0.5
"""Shear coefficients of Table 3.4."""
K_2, K_2_COUNTERSUNK = 0.9, 0.63
"""Tension coefficients of Table 3.4."""
LARGE_CLEARANCE, CLEARANCE_SIZES = 1.0, (12.0, 14.0)
"""Clearance [mm] beyond which bolts of these diameters stand in a 2 mm hole (3.6.1(5))."""
K_S_SLOT, K_S_OVERSIZED = 0.63, 0.85
"""Slip in the worst slot and in an oversized hole (Table 3.6, from memory)."""
MU_AS_ROLLED = 0.2
"""Slip factor of faces as rolled, class D of EN 1090-2, from memory."""
LINES_APART = 1.2
"""Least distance in hole diameters at which Table 3.3 lets lines of holes stand apart."""
DUCTILE = 1.2
"""How many times as strong in shear as the sheet in bearing a fastener is to be (EN 1993-1-3 Tables 8.1 to 8.4)."""

BEARING = Source("EN 1993-1-8:2005", "Table 3.4", status="second-hand", note="read in a published worked example")
SHEAR = Source("EN 1993-1-8:2005", "Table 3.4", status="second-hand", note="reproduces a published bolt table")
TENSION = Source("EN 1993-1-8:2005", "Table 3.4", status="computed", note="reproduces a published bolt table")
MEMORY = Source("EN 1993-1-8:2005", "Table 3.4", status="from memory")
EDGE_LINES = Source(
    "EN 1993-1-8:2005 with AC:2009",
    "Table 3.4",
    status="from memory",
    note="p_2 for edge bolts came by the corrigendum, which was not found; safer than the table of 2005",
)
SINGLE_LAP = Source("EN 1993-1-8:2005", "3.6.1(10)", status="second-hand", note="read in a published bolt table")
CLEARANCE = Source("EN 1993-1-8:2005", "3.6.1(5)", status="second-hand", note="read in a published bolt table")
SLIP = Source("EN 1993-1-8:2005", "3.9.1", status="computed", note="reproduces a published bolt table")
LONG_JOINTS = Source("EN 1993-1-8:2005", "3.8(1), eq. (3.5)", status="from memory")
PART_1_1 = Source("EN 1993-1-1:2005", "6.2.3(2)", status="from memory")
SHEET = Source("EN 1993-1-3:2006", "Table 8.4", status="from memory")
RIVET = Source("EN 1993-1-3:2006", "Table 8.1", status="from memory")
SCREW = Source("EN 1993-1-3:2006", "Table 8.2", status="from memory")

NAMES = Names(
    d=("mm", "nominal diameter of the fastener"),
    L_j=("mm", "length of the joint between its end fasteners"),
    d_0=("mm", "diameter of the hole"),
    d_m=(
        "mm",
        "mean of the across-points and across-flats sizes of head or nut, the smaller; or the washer's diameter",
    ),
    d_w=("mm", "diameter of the washer or the head of the fastener"),
    t=("mm", "thickness of the sheet, the thinner one where it says so"),
    t_1=("mm", "thickness of the thicker sheet"),
    t_p=("mm", "thickness of the plate under the head or nut"),
    e_1=("mm", "distance from the fastener's centre to the end of the sheet, along the force"),
    e_2=("mm", "distance from the fastener's centre to the edge of the sheet, across the force"),
    p_1=("mm", "pitch of the fasteners along the force"),
    p_2=("mm", "pitch of the fasteners across the force"),
    f_u=("MPa", "tensile strength of the sheet"),
    f_ub=("MPa", "tensile strength of the bolt, nominal value of its class"),
    f_y=("MPa", "yield strength of the sheet"),
    A=("mm^2", "area of the bolt in the shear plane: stress area if the thread is there, else the shank"),
    A_s=("mm^2", "tensile stress area of the bolt"),
    A_net=("mm^2", "net section of the sheet"),
    alpha_v=("1", "shear coefficient of the property class"),
    alpha_b=("1", "bearing coefficient along the force"),
    alpha=("1", "bearing coefficient of the rivet or screw"),
    k_1=("1", "bearing coefficient across the force"),
    k_2=("1", "0.9, or 0.63 for a countersunk bolt"),
    k_t=("1", "thickness coefficient"),
    k_s=("1", "hole coefficient, 1.0 for normal holes"),
    n=("1", "number of friction surfaces"),
    mu=("1", "slip factor"),
    r=("1", "fasteners at the section over all fasteners of the joint"),
    u=("mm", "2 e_2, but at most p_2"),
    F_p_C=("N", "preload of the bolt"),
    F_v_Ed=("N", "shear on one fastener, design level"),
    F_t_Ed=("N", "tension on one fastener, design level"),
    F_v_Rd=("N", "design shear resistance of one fastener"),
    F_t_Rd=("N", "design tension resistance of one fastener"),
)


def bolt_shear(*, alpha_v: Value, f_ub: Value, A: Value) -> Value:
    """Characteristic shear resistance F_v,R [N] of a bolt per shear plane; `f_ub` [MPa], `A` [mm²].

    alpha_v = 0.6 for classes 4.6, 5.6, 8.8 and for any class where the shank is in the shear plane; 0.5 for 4.8, 5.8,
    6.8 and 10.9 with the thread in it.
    Source: EN 1993-1-8:2005, Table 3.4, without gamma_M2.
    """
    return alpha_v * f_ub * A


def bolt_tension(*, k_2: Value, f_ub: Value, A_s: Value) -> Value:
    """Characteristic tension resistance F_t,R [N] of a bolt; k_2 = 0.9, countersunk 0.63.

    Source: EN 1993-1-8:2005, Table 3.4, without gamma_M2.
    """
    return k_2 * f_ub * A_s


def clearance_reduced(*, F_v_Rd: Value) -> Value:
    """Shear resistance [N] of an M12 or M14 bolt in a hole with 2 mm clearance.

    Source: EN 1993-1-8:2005, 3.6.1(5).
    """
    return 0.85 * F_v_Rd


def alpha_b_end(*, e_1: Value, d_0: Value, f_ub: Value, f_u: Value) -> Value:
    """Bearing coefficient alpha_b of an end bolt.  Source: EN 1993-1-8:2005, Table 3.4."""
    return np.minimum(np.minimum(e_1 / (3.0 * d_0), f_ub / f_u), 1.0)


def alpha_b_inner(*, p_1: Value, d_0: Value, f_ub: Value, f_u: Value) -> Value:
    """Bearing coefficient alpha_b of an inner bolt.  Source: EN 1993-1-8:2005, Table 3.4."""
    return np.minimum(np.minimum(p_1 / (3.0 * d_0) - 1.0 / 4.0, f_ub / f_u), 1.0)


def k_1_edge(*, e_2: Value, d_0: Value) -> Value:
    """Bearing coefficient k_1 of an edge bolt in a single line.  Source: EN 1993-1-8:2005, Table 3.4."""
    return np.minimum(2.8 * e_2 / d_0 - 1.7, 2.5)


def k_1_edge_lines(*, e_2: Value, p_2: Value, d_0: Value) -> Value:
    """Bearing coefficient k_1 of an edge bolt beside another line.

    Source: EN 1993-1-8:2005 with AC:2009, Table 3.4 (from memory).
    """
    return np.minimum(np.minimum(2.8 * e_2 / d_0 - 1.7, 1.4 * p_2 / d_0 - 1.7), 2.5)


def k_1_inner(*, p_2: Value, d_0: Value) -> Value:
    """Bearing coefficient k_1 of an inner bolt.  Source: EN 1993-1-8:2005, Table 3.4."""
    return np.minimum(1.4 * p_2 / d_0 - 1.7, 2.5)


def bearing(*, k_1: Value, alpha_b: Value, f_u: Value, d: Value, t: Value) -> Value:
    """Characteristic bearing resistance F_b,R [N] of one bolt in one plate.

    Source: EN 1993-1-8:2005, Table 3.4, without gamma_M2.
    """
    return k_1 * alpha_b * f_u * d * t


def bearing_single_lap(*, f_u: Value, d: Value, t: Value) -> Value:
    """Upper limit [N] on bearing in a single lap with one row of bolts (washers under head and nut).

    Source: EN 1993-1-8:2005, 3.6.1(10), without gamma_M2.
    """
    return 1.5 * f_u * d * t


def punching(*, d_m: Value, t_p: Value, f_u: Value) -> Value:
    """Characteristic punching shear resistance B_p,R [N] of the plate under a bolt head or nut.

    Source: EN 1993-1-8:2005, Table 3.4, without gamma_M2.
    """
    return 0.6 * np.pi * d_m * t_p * f_u


def shear_and_tension(*, F_v_Ed: Value, F_v_Rd: Value, F_t_Ed: Value, F_t_Rd: Value) -> Value:
    """Interaction sum of shear and tension on one bolt, at most 1.

    Source: EN 1993-1-8:2005, Table 3.4.
    """
    return F_v_Ed / F_v_Rd + F_t_Ed / (1.4 * F_t_Rd)


def preload(*, f_ub: Value, A_s: Value) -> Value:
    """Preload F_p,C [N] of a class 8.8 or 10.9 bolt for a slip-resistant joint.

    Source: EN 1993-1-8:2005, 3.9.1(2).
    """
    return 0.7 * f_ub * A_s


def long_joint(*, L_j: Value, d: Value) -> Value:
    """Reduction of the shear resistance of fasteners in a long joint; `L_j` between the end ones, along the force."""
    return np.maximum(0.75, 1 - (L_j - 15 * d) / (200 * d))


def slip(*, k_s: Value, n: Value, mu: Value, F_p_C: Value) -> Value:
    """Characteristic slip resistance F_s,R [N] of one preloaded bolt, before gamma_M3.

    Source: EN 1993-1-8:2005, 3.9.1(1), eq. 3.6.
    """
    return k_s * n * mu * F_p_C


def sheet_alpha_b(*, e_1: Value, d: Value) -> Value:
    """Bearing coefficient alpha_b of a bolt in thin sheet.  Source: EN 1993-1-3:2006, Table 8.4."""
    return np.minimum(1.0, e_1 / (3.0 * d))


def sheet_k_t(*, t: Value) -> Value:
    """Thickness coefficient k_t: (0.8 t + 1.5)/2.5 up to 1.25 mm, 1.0 above (the two meet there).

    Source: EN 1993-1-3:2006, Table 8.4.
    """
    return np.minimum((0.8 * t + 1.5) / 2.5, 1.0)


def sheet_bearing(*, alpha_b: Value, k_t: Value, f_u: Value, d: Value, t: Value) -> Value:
    """Characteristic bearing resistance F_b,R [N] of one bolt in sheet of 0.75 to 3 mm; `t` [mm] in k_t.

    Source: EN 1993-1-3:2006, Table 8.4, without gamma_M2.
    """
    return 2.5 * alpha_b * k_t * f_u * d * t


def sheet_net_section(*, r: Value, d_0: Value, u: Value, A_net: Value, f_u: Value) -> Value:
    """Characteristic net-section resistance F_n,R [N] of bolted sheet.

    Source: EN 1993-1-3:2006, Table 8.4, without gamma_M2.
    """
    return np.minimum(1.0 + 3.0 * r * (d_0 / u - 0.3), 1.0) * A_net * f_u


def rivet_alpha(*, t: Value, t_1: Value, d: Value) -> Value:
    """Bearing coefficient of a blind rivet: 3.6 sqrt(t/d) up to 2.1 at t_1 = t, 2.1 from t_1 = 2.5 t, linear between.

    Source: EN 1993-1-3:2006, Table 8.1 (from memory).
    """
    alpha_1 = np.minimum(3.6 * np.sqrt(t / d), 2.1)
    share = np.minimum((t_1 / t - 1.0) / 1.5, 1.0)
    return alpha_1 + (2.1 - alpha_1) * share


def rivet_bearing(*, alpha: Value, f_u: Value, d: Value, t: Value, e_1: Value) -> Value:
    """Characteristic bearing resistance F_b,R [N] of one blind rivet in the thinner sheet.

    Source: EN 1993-1-3:2006, Table 8.1, without gamma_M2 (from memory; the cap of f_u e_1 t/1.2 is named as the
    rivets' own in a comment to a transcription of Table 8.2).
    """
    return np.minimum(alpha * f_u * d * t, f_u * e_1 * t / 1.2)


def net_section(*, A_net: Value, f_u: Value) -> Value:
    """Characteristic net-section resistance F_n,R [N] of riveted or screwed sheet.

    Source: EN 1993-1-3:2006, Tables 8.1 and 8.2, without gamma_M2.
    """
    return A_net * f_u


def plate_net_section(*, A_net: Value, f_u: Value) -> Value:
    """Characteristic ultimate resistance N_u,R [N] of the section through the holes of a plate.

    Source: EN 1993-1-1:2005, 6.2.3(2), without gamma_M2 (from memory).
    """
    return 0.9 * A_net * f_u


def screw_pull_through(*, d_w: Value, t: Value, f_u: Value) -> Value:
    """Characteristic pull-through resistance F_p,R [N] of a screw's head or washer, static load.

    Half of it for repeated wind load.
    Source: EN 1993-1-3:2006, Table 8.2, without gamma_M2 (static value from memory).
    """
    return d_w * t * f_u


PLATE = (Limit("t", low=3.0, unit="mm", why="thinner sheet goes to EN 1993-1-3"),)
HOLE_POSITION = (
    Limit("e_1 / d_0", low=1.2, why="least end distance of Table 3.3"),
    Limit("e_2 / d_0", low=1.2, why="least edge distance of Table 3.3"),
    Limit("p_1 / d_0", low=2.2, why="least pitch of Table 3.3"),
    Limit("p_2 / d_0", low=2.4, why="least pitch of Table 3.3"),
)
"""EN 1993-1-8 Table 3.3, second-hand; p_1 from memory."""
SHEET_RANGE = (
    Limit("t", low=0.75, high=3.0, unit="mm", open_high=True, why="range of Table 8.4"),
    Limit("d", low=6.0, unit="mm", why="M6 is the least bolt of Table 8.4"),
    Limit("f_u", high=550.0, unit="MPa", why="range of Table 8.4"),
    Limit("e_1 / d_0", low=1.0, why="least end distance of Table 8.4"),
    Limit("e_2 / d_0", low=1.5, why="least edge distance of Table 8.4"),
    Limit("p_1 / d_0", low=3.0, why="least pitch of Table 8.4"),
    Limit("p_2 / d_0", low=3.0, why="least pitch of Table 8.4"),
)
RIVET_RANGE = (
    Limit("d", low=2.6, high=6.4, unit="mm", why="range of Table 8.1"),
    Limit("e_1 / d", low=1.5, why="least end distance of Table 8.1"),
    Limit("e_2 / d", low=1.5, why="least edge distance of Table 8.1"),
    Limit("p_1 / d", low=3.0, why="least pitch of Table 8.1"),
    Limit("p_2 / d", low=3.0, why="least pitch of Table 8.1"),
    Limit("f_u", high=550.0, unit="MPa", why="range of Table 8.1"),
)
SCREW_RANGE = (
    Limit("d", low=3.0, high=8.0, unit="mm", why="range of Table 8.2"),
    Limit("t", low=0.5, high=1.5, unit="mm", why="range of Table 8.2"),
    Limit("t_1", low=0.9, unit="mm", why="range of Table 8.2"),
    Limit("f_u", high=550.0, unit="MPa", why="range of Table 8.2"),
    Limit("e_2 / d", low=1.5, why="least edge distance of Table 8.2"),
    Limit("p_2 / d", low=3.0, why="least pitch of Table 8.2"),
)
"""Of the sheet under a head.  A pull has no direction in the sheet: `e_2` is to the nearest edge, `p_2` to the nearest
hole, by what Table 8.2 asks across a force (along it, the end distance is 3 d)."""


def _enter(function: Value, symbol: str, unit: str, title: str, source: Source, *limits: Limit) -> Formula:
    return register(Formula(function, symbol=symbol, unit=unit, title=title, source=source, names=NAMES, limits=limits))


BOLT_SHEAR = _enter(bolt_shear, "F_v", "N", "Shear of a bolt", SHEAR)
BOLT_TENSION = _enter(bolt_tension, "F_t", "N", "Tension of a bolt", TENSION)
CLEARANCE_REDUCED = _enter(clearance_reduced, "F_v", "N", "Shear of a bolt in a 2 mm clearance hole", CLEARANCE)
ALPHA_B_END = _enter(alpha_b_end, "alpha_b", "1", "Bearing coefficient of an end bolt", BEARING)
ALPHA_B_INNER = _enter(alpha_b_inner, "alpha_b", "1", "Bearing coefficient of an inner bolt", BEARING)
K_1_EDGE = _enter(k_1_edge, "k_1", "1", "Bearing coefficient of an edge bolt", BEARING)
K_1_EDGE_LINES = _enter(k_1_edge_lines, "k_1", "1", "Bearing coefficient of an edge bolt beside a line", EDGE_LINES)
K_1_INNER = _enter(k_1_inner, "k_1", "1", "Bearing coefficient of an inner bolt", BEARING)
BEARING_PLATE = _enter(bearing, "F_b", "N", "Bearing of a bolt in plate", BEARING, *PLATE, *HOLE_POSITION)


def shear_coefficient(grade: str, *, threads: str, stainless: bool) -> tuple[float, str] | None:
    """Shear coefficient of Table 3.4 and why; `threads` are "in" or "out" of the shear plane.

    None for a class that the table does not give.
    """
    if threads == "out":
        return ALPHA_SHANK, f"{ALPHA_SHANK:g}: shank in the shear plane"
    if grade in SHANK_CLASSES:
        return ALPHA_SHANK, f"{ALPHA_SHANK:g}: class {grade}"
    if grade in THREAD_CLASSES:
        return ALPHA_THREAD, f"{ALPHA_THREAD:g}: class {grade}, thread in the shear plane"
    if stainless:
        return ALPHA_THREAD, f"{ALPHA_THREAD:g}: stainless, thread in the shear plane (EN 1993-1-4 6.2, from memory)"
    return None


def k_1_branch(*, e_2: float, p_2: float, d_0: float) -> Formula:
    """The bound of k_1 that works: the edge's or the next line's alone where the other reaches its 2.5 anyway."""
    if at_least(p_2, 3.0 * d_0):  # 1.4 x 3 - 1.7 = 2.5
        return K_1_EDGE
    if at_least(e_2, 1.5 * d_0):  # 2.8 x 1.5 - 1.7 = 2.5
        return K_1_INNER
    return K_1_EDGE_LINES


BEARING_SINGLE_LAP = _enter(
    bearing_single_lap, "F_b", "N", "Bearing of a bolt in a single lap with one row", SINGLE_LAP, *PLATE
)
PUNCHING = _enter(
    punching,
    "B_p",
    "N",
    "Punching of the plate under head or nut",
    MEMORY,
    Limit("t_p", low=3.0, unit="mm", why="thinner sheet goes to EN 1993-1-3"),
    Limit("e_2 / d_0", low=1.2, why="least edge distance of Table 3.3"),
    Limit("p_1 / d_0", low=2.2, why="least pitch of Table 3.3"),
)
SHEAR_AND_TENSION = _enter(shear_and_tension, "u", "1", "Shear and tension on a bolt together", MEMORY)
LONG_JOINT = _enter(
    long_joint, "beta_Lf", "1", "Reduction of a long joint", LONG_JOINTS,
    Limit("L_j / d", low=15.0, why="a shorter joint is not reduced"),
)  # fmt: skip
PRELOAD = _enter(preload, "F_p_C", "N", "Preload of a bolt", SLIP)
SLIP_RESISTANCE = _enter(slip, "F_s", "N", "Slip of a preloaded bolt", SLIP)
SHEET_ALPHA_B = _enter(sheet_alpha_b, "alpha_b", "1", "Bearing coefficient of a bolt in sheet", SHEET)
SHEET_K_T = _enter(sheet_k_t, "k_t", "1", "Thickness coefficient of a bolt in sheet", SHEET)
SHEET_BEARING = _enter(sheet_bearing, "F_b", "N", "Bearing of a bolt in sheet", SHEET, *SHEET_RANGE)
SHEET_NET_SECTION = _enter(sheet_net_section, "F_n", "N", "Net section of bolted sheet", SHEET, *SHEET_RANGE)
RIVET_ALPHA = _enter(
    rivet_alpha,
    "alpha",
    "1",
    "Bearing coefficient of a blind rivet",
    RIVET,
    Limit("t_1 / t", low=1.0, why="t is the thinner sheet"),
)
RIVET_BEARING = _enter(rivet_bearing, "F_b", "N", "Bearing of a blind rivet in sheet", RIVET, *RIVET_RANGE)
PLATE_NET_SECTION = _enter(plate_net_section, "N_u", "N", "Net section of bolted plate", PART_1_1, *PLATE)
NET_SECTION = _enter(net_section, "F_n", "N", "Net section of riveted sheet", RIVET)
SCREW_PULL_THROUGH = _enter(screw_pull_through, "F_p", "N", "Pull-through of a screw head", SCREW, *SCREW_RANGE)
