"""Sheet round a bolt that is pulled (or pressed) out of its plane: it folds, dishes, and hangs as a membrane.

Sheet that runs on between two supports a distance L apart, a bolt in the middle, pulled at a stiff head (or washer, or
spreader plate) of radius c:

1. Reach.  The two parallel supports hold the middle as a round support of radius R = 2 L/pi would: that is the radius
   on which the strip maps conformally, and a membrane under a point load follows Laplace's equation.
2. Folding.  A fan of yield lines round the head and a fold round the fan: P = 4 pi m_p R/(R - c), which is
   `plate_bending.foot` of a round foot.  With a spreader plate on the sheet either the plate stays stiff (c is its
   radius) or it joins in: then its own fan adds 2 pi m_pl R_p.  The lesser holds.
3. Near a free edge the fan is cut.  A point load on the edge itself has (pi + 2) m_p (fan between two straight folds
   at 45 degrees); the cut fan of radius R about a point at e has 4 (pi - phi) + 2 (e/R) artanh(sin phi) times m_p,
   cos phi = e/R.  The straight line (pi + 2 + 2 pi e/R) m_p lies below the cut fan throughout and meets the first.
4. Hanging.  Once the sheet has dished, its plastic membrane force f_y t carries: P = 2 pi f_y t w/ln(R/c) with w the
   dish, in equilibrium and at yield everywhere, so a lower bound in the dished shape (static theorem).  It needs
   sheet that runs on over its supports all round: near a free edge it is not counted.  w is what stays; what springs
   back comes on top.  A spreader plate hands the pull over to the sheet on a ring of any radius within it that its own
   bending stands (`jointcalc.formula.backing_plate`, 2): both in equilibrium, so the best ring counts.

The greater of folding and hanging (at the dish that is allowed) holds.  Whether head or plate then pulls through is
judged by its own rules.

The leg of a bracket, its upright a distance m beside the bolt, is half a T-stub of EN 1993-1-8, 6.2.4: it yields
along the upright and through the bolts, P = 2 M_pl/m with M_pl = m_p l_eff, while its tip presses on the other part
and adds prying Q to the bolt.  With one yield line at the upright alone, P m - M_pl is left for the tip: Q = (P m -
M_pl)/n is enough for equilibrium (static theorem), n being the tip's lever, at most 1.25 m.
"""

from __future__ import annotations

import numpy as np

from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register

OURS = Source("yield-line theory (upper bound)", "own derivation", "derivation")
HANGING = Source("plastic membrane in equilibrium (lower bound)", "own derivation", "derivation")
T_STUB = Source("EN 1993-1-8:2005", "6.2.4, Tables 6.2 and 6.4", "from memory")
ONE_SIDED = Source("AISI S100-16", "J4.4.2", "second-hand", "printed in a textbook: 50 % for an eccentric load")

NAMES = Names(
    m_p=("N*mm/mm", "plastic moment of the sheet per width"),
    m_pl=("N*mm/mm", "plastic moment of the spreader plate per width"),
    f_y=("MPa", "yield strength of the sheet"),
    t=("mm", "thickness of the sheet"),
    L=("mm", "distance between the supports on both sides of the bolts"),
    R=("mm", "radius of the round support that stands for them"),
    R_p=("mm", "radius of the largest circle in the spreader plate"),
    c=("mm", "radius of what stays stiff: head, washer or plate"),
    e=("mm", "distance from the bolt's centre to a free edge"),
    w=("mm", "dish: how far the sheet may be pulled out of flat for good"),
    m=("mm", "distance from the bolt's centre to the upright of the bracket"),
    n=("mm", "lever of the tip of the leg, from the bolt's centre: to the edge, at most 1.25 m"),
    b=("mm", "width of the leg that there is for one bolt"),
    l_eff=("mm", "effective length of the yield line for one bolt"),
    P=("N", "pull of one bolt"),
)


def reach(*, L: Value) -> Value:
    """Radius R [mm] of the round support that stands for two long parallel ones.  Source: own derivation (1)."""
    return 2 * L / np.pi


def fold_with_plate(*, m_p: Value, m_pl: Value, R: Value, R_p: Value, c: Value) -> Value:
    """Pull [N] at which sheet and spreader plate fold together about the nut.  Source: own derivation (2)."""
    return (4 * np.pi * m_p * R + 2 * np.pi * m_pl * R_p) / (R - c)


def fold_at_edge(*, m_p: Value, R: Value, c: Value, e: Value) -> Value:
    """Pull [N] at which the sheet folds about a head near its free edge.  Source: own derivation (3)."""
    return m_p * (np.pi + 2 + 2 * np.pi * np.minimum(e / R, 1)) * R / (R - c)


def hang(*, f_y: Value, t: Value, w: Value, R: Value, c: Value) -> Value:
    """Pull [N] that the sheet carries as a membrane once dished by `w` [mm].  Source: own derivation (4)."""
    return 2 * np.pi * f_y * t * w / np.log(R / c)


def leg_length(*, m: Value, e: Value, b: Value) -> Value:
    """Effective length l_eff [mm] of the leg for one bolt: circular and straight pattern, and the width there is.

    Source: EN 1993-1-8:2005 Table 6.4, unstiffened flange (from memory).
    """
    return np.minimum(np.minimum(2 * np.pi * m, 4 * m + 1.25 * e), b)


def leg_fold(*, m_p: Value, l_eff: Value, m: Value) -> Value:
    """Pull [N] of one bolt at which the leg yields at its upright and through the bolt: mode 1 of half a T-stub.

    Source: EN 1993-1-8:2005 Table 6.2, 4 M_pl/m for both flanges (from memory).
    """
    return 2 * m_p * l_eff / m


def prying(*, P: Value, m: Value, m_p: Value, l_eff: Value, n: Value) -> Value:
    """Prying force Q [N] that the tip of the leg adds to the bolt; 0 while one yield line is enough.

    Source: equilibrium of half a T-stub of EN 1993-1-8:2005, 6.2.4.
    """
    return np.maximum(P * m - m_p * l_eff, 0) / n


def one_sided(*, P: Value) -> Value:
    """Pull-over strength [N] where the pull comes from one side of the head.  Source: AISI S100-16 J4.4.2."""
    return 0.5 * P


def _enter(
    function: Value, symbol: str, unit: str, title: str, source: Source, *limits: Limit
) -> Formula:  # fmt: skip
    return register(Formula(function, symbol=symbol, unit=unit, title=title, source=source, names=NAMES, limits=limits))


MOST_LEVER = 1.25
"""Distance from bolt to tip of the leg that prying counts at most, over that to the upright (Table 6.2)."""
ROOM = Limit("R / c", low=1.0, open_low=True, why="the supports stand outside what is pulled on")
REACH = _enter(reach, "R", "mm", "Reach of the supports", OURS)
FOLD_WITH_PLATE = _enter(fold_with_plate, "P", "N", "Sheet and spreader plate folded about the nut", OURS, ROOM)
FOLD_AT_EDGE = _enter(fold_at_edge, "P", "N", "Sheet folded about a head near its free edge", OURS, ROOM)
HANG = _enter(hang, "P", "N", "Sheet hanging as a membrane", HANGING, ROOM)
LEG_LENGTH = _enter(leg_length, "l_eff", "mm", "Effective length of a bracket's leg", T_STUB)
LEG_FOLD = _enter(leg_fold, "P", "N", "Leg of a bracket bent by a bolt", T_STUB)
PRYING = _enter(prying, "Q", "N", "Prying at the tip of the leg", T_STUB)
PULL_OVER_ONE_SIDED = _enter(one_sided, "P_nov", "N", "Pull-over, pulled from one side", ONE_SIDED)
