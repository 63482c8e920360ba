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
DEFORMATION = Source(
    "AISI S100-16", "J3.3.2", note="form and phi read in a question to the committee; its metric factor was not found"
)
RUPTURE = Source("AISI S100-16", "J6.1", status="from memory")
PULL_OVER = Source("AISI S100-16", "J4.4.2", status="from memory")

SAFETY_BEARING = Safety(2.50, 0.60)
SAFETY_DEFORMATION = Safety(2.22, 0.65)
SAFETY_RUPTURE = Safety(2.22, 0.65)
SAFETY_SCREW = Safety(3.00, 0.50)

MOST_WASHER = 19.05
"""Washer diameter [mm] that pull-over counts at most (J4.4.2, 3/4 in)."""
OVERSIZED_JUMPS = 18.0
"""Diameter over thickness at which the printed bearing factor of oversized holes jumps."""
HOLE_GROWTH = 6.4
"""Growth of the holes [mm] that the limit on deformation stands for (1/4 in)."""
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
    F_ub=("MPa", "tensile strength of the bolt"),
    F_u=("MPa", "tensile strength of the sheet"),
    F_u1=("MPa", "tensile strength of the sheet under the head"),
    n=("1", "number of fasteners in the line that tears out"),
    e=("mm", "distance from the fastener's centre to the nearest edge of the sheet"),
    s=("mm", "distance between the centres of two fasteners, the nearest"),
    e_net=("mm", "clear distance from the edge of the hole to the end of the sheet, or to the next hole"),
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


def _enter(function: Value, symbol: str, unit: str, title: str, source: Source, *limits: Limit) -> Formula:
    return register(Formula(function, symbol=symbol, unit=unit, title=title, source=source, names=NAMES, limits=limits))


THIN = Limit("t", high=4.7625, open_high=True, unit="mm", why="from 3/16 in on AISC 360 applies")
SMALL_BOLT = Limit("d", high=12.7, open_high=True, unit="mm", why="from 1/2 in on AISC 360 Table J3.2 applies")
WASHER_COUNTS = Limit("d_w", high=19.05, unit="mm", why="3/4 in is the most that counts")
ROOM = (
    Limit("e / d", low=1.5, why="least edge distance of J3.2 and J4.2, from memory"),
    Limit("s / d", low=3.0, why="least spacing of J3.1 and J4.1, from memory"),
)
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
PULL_OVER_STRENGTH = _enter(
    pull_over, "P_nov", "N", "Pull-over of the sheet over a head or washer", PULL_OVER, WASHER_COUNTS, *ROOM
)
EFFECTIVE_WASHER = _enter(
    effective_washer, "d_w", "mm", "Effective diameter of a loose washer", PULL_OVER,
    Limit("t_w", low=1.27, unit="mm", why="0.05 in is the thinnest washer that counts"),
)  # fmt: skip
