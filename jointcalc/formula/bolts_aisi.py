"""Bolts and screws by AISI S100-16: bolts under 1/2 in (J3.4), bearing (J3.3), tear-out (J6.1), pull-over (J4.4).

The results are nominal strengths; the factors stand beside them.
"""

from __future__ import annotations

import numpy as np

from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register
from jointcalc.formula.safety import Safety

BEARING = Source("AISI S100-16", "J3.3.1", status="second-hand", note="read in a question to the committee's list")
FACTOR = Source("AISI S100-16", "Table J3.3.1-1", status="from memory")
SMALL = Source(
    "AISI S100-16",
    "App. A Table J3.4-1",
    note="the table begins at 1/4 in, lesser bolts are taken alike",
)
DEFORMATION = Source("AISI S100-16", "J3.3.2", status="second-hand")
RUPTURE = Source("AISI S100-16", "J6.1", status="from memory")
NET = Source("AISI S100-16", "J6.2", status="from memory")
SCREW = Source("AISI S100-16", "J4.3.1", status="from memory")
PULL_OUT = Source("AISI S100-16", "J4.4.1", status="from memory")
PULL_OVER = Source("AISI S100-16", "J4.4.2", status="from memory")
COMBINED = Source("AISI S100-16", "J4.5.1", status="from memory")

SAFETY_BEARING = Safety(2.50, 0.60)
SAFETY_DEFORMATION = Safety(2.22, 0.65)
SAFETY_RUPTURE = Safety(2.22, 0.65)
SAFETY_SCREW = Safety(3.00, 0.50)
SAFETY_COMBINED = Safety(2.35, 0.65)

M_F_WASHERS_BOTH_SIDES = 1.00
M_F_NONE_OR_ONE = 0.75
M_F_INNER_SHEET = 1.33

NAMES = Names(
    C=("1", "bearing factor"),
    m_f=("1", "connection factor: washers on both sides 1.00, none or one 0.75, inner sheet of double shear 1.33"),
    d=("mm", "nominal diameter of the fastener"),
    d_w=("mm", "diameter of the washer or the head, whichever bears on the sheet"),
    d_h=("mm", "diameter of the screw head or of the hexagon's washer face"),
    t=("mm", "base-steel thickness of the sheet, without coating"),
    t_w=("mm", "thickness of the washer"),
    t_1=("mm", "thickness of the sheet under the head or washer"),
    t_2=("mm", "thickness of the sheet not in contact with the head"),
    t_c=("mm", "lesser of the depth of penetration and t_2"),
    F_ub=("MPa", "tensile strength of the bolt"),
    F_u=("MPa", "tensile strength of the sheet"),
    F_u1=("MPa", "tensile strength of the sheet under the head"),
    F_u2=("MPa", "tensile strength of the sheet not in contact with the head"),
    n=("1", "number of fasteners in the line that tears out"),
    e_net=("mm", "clear distance from the edge of the hole to the end of the sheet, or to the next hole"),
    Q=("N", "shear on one screw, service level"),
    T=("N", "tension on one screw, service level"),
)


def tension_stress_small(*, F_ub: Value) -> Value:
    """Nominal tensile stress F_nt [MPa] of a bolt under 1/2 in, on its nominal area.

    The table begins at 1/4 in.  M3 to M6 are taken alike: 0.675 of the nominal area is less than their stress area.
    Source: AISI S100-16 Appendix A, Table J3.4-1.
    """
    return 0.675 * F_ub


def shear_stress_small(*, F_ub: Value) -> Value:
    """Nominal shear stress F_nv [MPa] of a bolt under 1/2 in, on its nominal area, threads in the shear plane or not.

    Source: AISI S100-16 Appendix A, Table J3.4-1.
    """
    return 0.40 * F_ub


def bearing_factor_standard(*, d: Value, t: Value) -> Value:
    """Bearing factor C for standard holes: 3.0 below d/t = 10, 4 - 0.1 d/t up to 22, 1.8 above (they meet there).

    Source: AISI S100-16 Table J3.3.1-1.
    """
    return np.minimum(3.0, np.maximum(4.0 - 0.1 * (d / t), 1.8))


def bearing_factor_oversized(*, d: Value, t: Value) -> Value:
    """Bearing factor C for oversized and short-slotted holes: 3.0 below d/t = 7, 1 + 14/(d/t) up to 18, 1.8 above.

    Source: AISI S100-16 Table J3.3.1-1.
    """
    return np.where(d / t < 7.0, 3.0, np.where(d / t <= 18.0, 1.0 + 14.0 / (d / t), 1.8))


def bearing(*, C: Value, m_f: Value, d: Value, t: Value, F_u: Value) -> Value:
    """Nominal bearing strength P_nb [N], deformation of the hole not limited.  Omega 2.50, phi 0.60.

    Source: AISI S100-16 eq. J3.3.1-1.
    """
    return C * m_f * d * t * F_u


def bearing_deformation(*, t: Value, d: Value, F_u: Value) -> Value:
    """Nominal bearing strength P_nd [N] with the deformation of the hole limited; `t` [mm].  Omega 2.22, phi 0.65.

    The coefficient 0.0394 carries 1/mm (1.0 with `t` in inches).
    Source: AISI S100-16 eq. J3.3.2-1.
    """
    return (4.64 * 0.0394 * t + 1.53) * d * t * F_u


def tear_out(*, F_u: Value, n: Value, t: Value, e_net: Value) -> Value:
    """Nominal strength P_nv [N] against shear rupture of `n` fasteners towards the end.  Omega 2.22, phi 0.65.

    0.6 F_u A_nv with A_nv = 2 n t e_net.
    Source: AISI S100-16 J6.1.
    """
    return 0.6 * F_u * 2.0 * n * t * e_net


def screw_tilting(*, t_2: Value, d: Value, F_u2: Value) -> Value:
    """Nominal shear strength P_ns [N] of a screw by tilting.  Omega 3.00, phi 0.50.

    Source: AISI S100-16 eq. J4.3.1-1.
    """
    return 4.2 * np.sqrt(t_2**3 * d) * F_u2


def screw_bearing_head_side(*, t_1: Value, d: Value, F_u1: Value) -> Value:
    """Nominal bearing strength P_ns [N] of a screw in the sheet under its head.  Omega 3.00, phi 0.50.

    Source: AISI S100-16 eq. J4.3.1-2.
    """
    return 2.7 * t_1 * d * F_u1


def screw_bearing_far_side(*, t_2: Value, d: Value, F_u2: Value) -> Value:
    """Nominal bearing strength P_ns [N] of a screw in the sheet away from its head.  Omega 3.00, phi 0.50.

    Source: AISI S100-16 eq. J4.3.1-3.
    """
    return 2.7 * t_2 * d * F_u2


def screw_shear(*, t_1: Value, t_2: Value, d: Value, F_u1: Value, F_u2: Value) -> Value:
    """Nominal shear strength P_ns [N] of a screwed lap: tilting counts up to t_2/t_1 = 1, fades out at 2.5, linear.

    Source: AISI S100-16 J4.3.1.
    """
    P_bearing = np.minimum(2.7 * t_1 * d * F_u1, 2.7 * t_2 * d * F_u2)
    P_tilting = np.minimum(4.2 * np.sqrt(t_2**3 * d) * F_u2, P_bearing)
    share = np.minimum(np.maximum((t_2 / t_1 - 1.0) / 1.5, 0.0), 1.0)
    return P_tilting + (P_bearing - P_tilting) * share


def pull_out(*, t_c: Value, d: Value, F_u2: Value) -> Value:
    """Nominal pull-out strength P_not [N] of a screw's thread.  Omega 3.00, phi 0.50.

    Source: AISI S100-16 eq. J4.4.1-1.
    """
    return 0.85 * t_c * d * F_u2


def pull_over(*, t_1: Value, d_w: Value, F_u1: Value) -> Value:
    """Nominal pull-over strength P_nov [N] of the sheet over a head or washer.  Omega 3.00, phi 0.50.

    Written for screws; the washer counts up to 3/4 in (19 mm; 1/2 in in older editions).  Half of it where the pull
    comes from one side of the head.
    Source: AISI S100-16 eq. J4.4.2-1.
    """
    return 1.5 * t_1 * d_w * F_u1


def effective_washer(*, d_h: Value, t_w: Value, t_1: Value, d_w: Value) -> Value:
    """Effective diameter d'_w [mm] of a loose washer under a head of diameter `d_h`.

    Source: AISI S100-16 eq. J4.4.2-2 (from memory).
    """
    return np.minimum(d_h + 2.0 * t_w + t_1, d_w)


def shear_and_pull_over(*, Q: Value, T: Value, t_1: Value, d: Value, d_w: Value, F_u1: Value) -> Value:
    """Interaction sum of shear and pull-over on one screw; at most 1.10/Omega (Omega 2.35) or 1.10 phi (phi 0.65).

    Source: AISI S100-16 J4.5.1 (from memory).
    """
    return Q / (2.7 * t_1 * d * F_u1) + 0.71 * T / (1.5 * t_1 * d_w * F_u1)


def _enter(function: Value, symbol: str, unit: str, title: str, source: Source, *limits: Limit) -> Formula:
    return register(Formula(function, symbol=symbol, unit=unit, title=title, source=source, names=NAMES, limits=limits))


THIN = Limit("t", high=4.7625, open_high=True, unit="mm", why="from 3/16 in on AISC 360 applies")
SCREW_SPACING = (
    Limit("p_1 / d", low=3.0, why="least spacing of screws"),
    Limit("e_1 / d", low=1.5, why="least edge distance of screws"),
    Limit("d", low=2.03, high=6.35, unit="mm", why="screws of 0.08 to 0.25 in"),
)
SMALL_BOLT = Limit("d", high=12.7, open_high=True, unit="mm", why="from 1/2 in on AISC 360 Table J3.2 applies")
TESTED_TOGETHER = (
    Limit("t_1", low=0.724, high=1.13, unit="mm", why="sheets that were tested"),
    Limit("d", low=5.49, high=6.35, unit="mm", why="screws No. 12 and 14 were tested"),
    Limit("F_u1", high=483.0, unit="MPa", why="sheets that were tested"),
    Limit("t_2 / t_1", low=2.5, why="thin sheet on thick was tested"),
)
WASHER_COUNTS = Limit("d_w", high=19.05, unit="mm", why="3/4 in is the most that counts")
TENSION_STRESS_SMALL = _enter(
    tension_stress_small, "F_nt", "MPa", "Nominal tensile stress of a bolt under 1/2 in", SMALL, SMALL_BOLT
)
SHEAR_STRESS_SMALL = _enter(
    shear_stress_small, "F_nv", "MPa", "Nominal shear stress of a bolt under 1/2 in", SMALL, SMALL_BOLT
)
BEARING_FACTOR_STANDARD = _enter(bearing_factor_standard, "C", "1", "Bearing factor, standard hole", FACTOR, THIN)
BEARING_FACTOR_OVERSIZED = _enter(
    bearing_factor_oversized, "C", "1", "Bearing factor, oversized or slotted hole", FACTOR, THIN
)
BEARING_STRENGTH = _enter(bearing, "P_nb", "N", "Bearing of a bolt in sheet", BEARING, THIN)
BEARING_DEFORMATION = _enter(
    bearing_deformation, "P_nd", "N", "Bearing of a bolt in sheet, hole deformation limited", DEFORMATION, THIN
)
TEAR_OUT = _enter(
    tear_out, "P_nv", "N", "Tear-out of fasteners to the end of the sheet", RUPTURE, THIN,
    Limit("e_net", low=0.0, open_low=True, unit="mm", why="the hole must lie inside the sheet"),
)  # fmt: skip
SCREW_TILTING = _enter(screw_tilting, "P_ns", "N", "Tilting of a screw", SCREW)
SCREW_BEARING_HEAD = _enter(screw_bearing_head_side, "P_ns", "N", "Bearing of a screw, sheet under the head", SCREW)
SCREW_BEARING_FAR = _enter(screw_bearing_far_side, "P_ns", "N", "Bearing of a screw, far sheet", SCREW)
SCREW_SHEAR = _enter(screw_shear, "P_ns", "N", "Screwed lap in shear", SCREW, *SCREW_SPACING)
SCREW_PULL_OUT = _enter(pull_out, "P_not", "N", "Pull-out of a screw", PULL_OUT, *SCREW_SPACING)
PULL_OVER_STRENGTH = _enter(
    pull_over, "P_nov", "N", "Pull-over of the sheet over a head or washer", PULL_OVER, WASHER_COUNTS
)
EFFECTIVE_WASHER = _enter(
    effective_washer, "d_w", "mm", "Effective diameter of a loose washer", PULL_OVER,
    Limit("t_w", low=1.27, unit="mm", why="0.05 in is the thinnest washer that counts"),
)  # fmt: skip
SHEAR_AND_PULL_OVER = _enter(
    shear_and_pull_over, "u", "1", "Shear and pull-over on a screw together", COMBINED, WASHER_COUNTS,
    *TESTED_TOGETHER,
)  # fmt: skip
