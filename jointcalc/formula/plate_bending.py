"""Sheet bent out of its plane by a post, foot, bracket or point load: yield-line collapse, and walls of tubes.

A sheet pulled or pushed out of its plane by something small folds along yield lines.  For any mechanism of such folds
the work of the load equals the work of the folds, which gives an UPPER BOUND on the load at which plastic bending
spreads (the kinematic theorem).  Folds carry m_p = f_y t²/4 per length in either sense: the square yield condition of
yield-line theory, which EN 1993-1-8 uses for end plates (its circular pattern, l_eff = 2 pi m, is 4 pi m_p per bolt).
Derived so:

1. Foot of outline U (its perimeter, convex) that stays stiff, ring of folds at a distance s all round.  Folds along
   outline and ring turn by 1/s, the corners are fans: P = 4 pi m_p + 2 m_p U/s.  A circle of radius r in a ring R gives
   4 pi m_p/(1 - r/R), a point 4 pi m_p, a line of length L has U = 2 L.  The ring may lie anywhere in the sheet, so s
   is the distance to the nearest support, and with none near the value falls to 4 pi m_p.
2. The same ring on simple supports that let the sheet turn has half of it (not asked for here).
3. Two parallel simple supports at s on both sides of the foot, the sheet running on along them: trapezoids against the
   supports, fans of 45 degrees beside them: m_p (4 + 2 pi + 2 c_1/s + 2 sqrt(2) c_2/s), c_1 along the supports.
4. Foot at a distance e from a free edge of the sheet: the strip up to the edge goes with the foot and fans remain on
   the far side only: 2 pi m_p + 2 m_p (c_1 + 2 (c_2 + e))/s, c_1 along the edge.
5. Foot tilted about its middle: each half as in 1, rising on one side and sinking on the other; between the two lies a
   flat triangle that goes with the foot.  With s = c_1/(2 cos beta), c_1 across the axis of tilt:
   M = m_p (2 c_2 (1 + 2 cos beta) + 4 (pi - beta) c_1 + 2 c_1 tan beta), least over beta: near 60 degrees for a square.
   Without room for that (s < c_1/2) strips beside the foot turn and twist with it, quarter fans close the corners:
   M = m_p (c_1^2/s + (4 + 2 pi) c_1 + 2 s + 2 c_2 (1 + c_1/s)); twisting counts as two folds of 45 degrees.

What the bound leaves out works both ways.  Metal follows von Mises or Tresca rather than the square condition: the
exact limit of a stiff disc in a clamped ring by Tresca is 0.65 to 0.9 of 1. (tests).  Membrane action, which no bending
theory has, holds far more once the dent is deeper than the sheet is thick.  So this is where a lasting dent starts to
grow, not where the sheet tears.

Walls of hollow sections stand beside it by the published rules of EN 1993-1-8, chapter 7 (chord face plastification;
the rectangular ones are yield-line mechanisms too), without gamma_M5 = 1.0 and without stress in the chord (k_n = k_m =
k_p = 1): in a chord under compression they are lower.
"""

from __future__ import annotations

import numpy as np

from jointcalc.formula.branch import below
from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register

EN8 = "EN 1993-1-8:2005"
OURS = Source("yield-line theory (upper bound)", "own derivation", status="derivation")

N = Names(
    m_p=("N*mm/mm", "plastic moment of the sheet per width"),
    f_y=("MPa", "yield strength of the sheet or wall"),
    t=("mm", "thickness of the sheet or wall"),
    U=("mm", "perimeter of what is stiff: twice the length for a line"),
    s=("mm", "distance from the foot to the support or to the next stiff part"),
    e=("mm", "distance from the foot to a free edge of the sheet"),
    c_1=("mm", "side of the foot: along the supports or the edge, or across the axis of tilt"),
    c_2=("mm", "side of the foot square to c_1"),
    beta_f=("rad", "angle that fixes how far the folds reach, s = c_1/(2 cos beta_f)"),
    L=("mm", "length of the fold, width of the strip"),
    x=("mm", "arm of the force about the fold"),
    eta=("1", "length of the foot along the member over the width (or diameter) of the member"),
    beta=("1", "width of the foot across the member over the width (or diameter) of the member"),
    h_1=("mm", "length of the foot along the member"),
    b_0=("mm", "width of the loaded face of the member"),
    b_1=("mm", "width of the foot across the member"),
    N_1=("N", "resistance to a pull or push square to the wall"),
    D=("mm", "outside diameter of the tube"),
    P=("N", "force square to the wall"),
)


def plastic_moment(*, f_y: Value, t: Value) -> Value:
    """Plastic moment m_p of a sheet [N·mm/mm].  Source: theory of plasticity, rectangle of width 1."""
    return f_y * t**2 / 4


# --- a foot square to the sheet -----------------------------------------------------------------------------


def foot_far(*, m_p: Value) -> Value:
    """Force [N] at which sheet folds about a point, foot or bolt far from every support and edge.

    The least of `foot` over all distances.  Source: own derivation (module text, 1); EN 1993-1-8, 6.2.4 and Table 6.6
    (circular patterns).
    """
    return 4 * np.pi * m_p


def foot(*, m_p: Value, U: Value, s: Value) -> Value:
    """Force [N] at which sheet folds about a stiff foot of perimeter `U` [mm], supports at `s` [mm] all round.

    The sheet runs on over its supports or is held there against turning.  Source: own derivation (module text, 1).
    """
    return 4 * np.pi * m_p + 2 * m_p * U / s


def foot_between_simple(*, m_p: Value, c_1: Value, c_2: Value, s: Value) -> Value:
    """Force [N] on a foot between two parallel simple supports at `s` [mm], `c_1` [mm] along them.

    Source: own derivation (module text, 3).
    """
    return m_p * (4 + 2 * np.pi + 2 * c_1 / s + 2 * np.sqrt(2) * c_2 / s)


def foot_far_at_edge(*, m_p: Value) -> Value:
    """Force [N] at which sheet folds about a foot near a free edge, far from every support.

    Half of `foot_far`, the least of `foot_at_edge` over all distances.  Source: own derivation (module text, 4).
    """
    return 2 * np.pi * m_p


def strip(*, m_p: Value, L: Value, s: Value) -> Value:
    """Force [N] at which a strip of width `L` [mm], free to turn at both ends, folds under what stands on it.

    `s` [mm] from there to each end.  Source: plastic collapse of a simply supported beam.
    """
    return 2 * m_p * L / s


def foot_at_edge(*, m_p: Value, c_1: Value, c_2: Value, e: Value, s: Value) -> Value:
    """Force [N] on a foot at a distance `e` [mm] from a free edge, `c_1` [mm] along it, supports at `s` [mm].

    Source: own derivation (module text, 4).
    """
    return 2 * np.pi * m_p + 2 * m_p * (c_1 + 2 * (c_2 + e)) / s


# --- a foot tilted -------------------------------------------------------------------------------------------


def tilt(*, m_p: Value, c_1: Value, c_2: Value, beta_f: Value) -> Value:
    """Moment [N·mm] at which sheet folds about a tilted foot, supports at least c_1/(2 cos beta_f) away.

    Source: own derivation (module text, 5).
    """
    return m_p * (2 * c_2 * (1 + 2 * np.cos(beta_f)) + 4 * (np.pi - beta_f) * c_1 + 2 * c_1 * np.tan(beta_f))


def tilt_near(*, m_p: Value, c_1: Value, c_2: Value, s: Value) -> Value:
    """Moment [N·mm] as `tilt`, supports at `s` [mm], nearer than half the foot.

    Source: own derivation (module text, 5).
    """
    return m_p * (c_1**2 / s + (4 + 2 * np.pi) * c_1 + 2 * s + 2 * c_2 * (1 + c_1 / s))


# --- a flap ---------------------------------------------------------------------------------------------------


def fold(*, m_p: Value, L: Value, x: Value) -> Value:
    """Force [N] at which a flap folds along one line of length `L` [mm], the force at an arm `x` [mm].

    Source: equilibrium with the plastic moment along the line.
    """
    return m_p * L / x


def edge_moment(*, m_p: Value, L: Value) -> Value:
    """Moment [N·mm] at which a part folds along its foot of length `L` [mm].

    Source: equilibrium with the plastic moment along the line.
    """
    return m_p * L


# --- walls of hollow sections ---------------------------------------------------------------------------------


def box_wall(*, f_y: Value, t: Value, eta: Value, beta: Value) -> Value:
    """Force [N] square to the face of a rectangular hollow section over a stiff foot.

    Source: EN 1993-1-8 Table 7.11, chord face failure at 90 degrees, without gamma_M5.
    """
    return f_y * t**2 / (1 - beta) * (2 * eta + 4 * np.sqrt(1 - beta))


def box_wall_moment_along(*, f_y: Value, t: Value, h_1: Value, eta: Value, beta: Value) -> Value:
    """Moment [N·mm] that tilts a stiff foot along the member, face of a rectangular hollow section.

    Source: EN 1993-1-8 Table 7.14, chord face failure, without gamma_M5.
    """
    return f_y * t**2 * h_1 * (1 / (2 * eta) + 2 / np.sqrt(1 - beta) + eta / (1 - beta))


def box_wall_moment_across(*, f_y: Value, t: Value, h_1: Value, b_0: Value, b_1: Value, beta: Value) -> Value:
    """Moment [N·mm] that tilts a stiff foot across the member, face of a rectangular hollow section.

    Source: EN 1993-1-8 Table 7.14, chord face failure, without gamma_M5.
    """
    return f_y * t**2 * (h_1 * (1 + beta) / (2 * (1 - beta)) + np.sqrt(2 * b_0 * b_1 * (1 + beta) / (1 - beta)))


def tube_wall(*, f_y: Value, t: Value, eta: Value, beta: Value) -> Value:
    """Force [N] square to the wall of a round tube over a stiff rectangular foot; eta and beta over the diameter.

    Source: EN 1993-1-8 Table 7.3, rows of I, H and rectangular sections, without gamma_M5.
    """
    return f_y * t**2 * (4 + 20 * beta**2) * (1 + 0.25 * eta)


def tube_wall_moment_along(*, N_1: Value, h_1: Value) -> Value:
    """Moment [N·mm] that tilts a foot along a round tube.  Source: EN 1993-1-8 Table 7.3, M_ip = h_1 N_1."""
    return h_1 * N_1


def tube_wall_moment_across(*, N_1: Value, b_1: Value) -> Value:
    """Moment [N·mm] that tilts a foot across a round tube.  Source: EN 1993-1-8 Table 7.3, M_op = 0.5 b_1 N_1."""
    return 0.5 * b_1 * N_1


def _enter(
    function: Value, symbol: str, unit: str, title: str, source: Source, *limits: Limit
) -> Formula:  # fmt: skip
    return register(Formula(function, symbol=symbol, unit=unit, title=title, source=source, names=N, limits=limits))


def _7(table: str) -> Source:
    return Source(EN8, table, "from memory")


AWAY = Limit("s", low=0.0, unit="mm", open_low=True, why="there must be sheet between the foot and its supports")
FACE = Limit("beta", high=0.85, why="a foot nearly as wide as the face is carried by the side walls")
PLATE = Limit("beta", high=0.2, why="a plate along the face is thin against it")
WALL = Limit("D / t", high=50.0, why="walls of the tests behind the rule")
TURN = Limit("beta_f", low=0.0, high=1.5, unit="rad")

PLASTIC_MOMENT = _enter(plastic_moment, "m_p", "N*mm/mm", "Plastic moment of the sheet per width", OURS)
FOOT_FAR = _enter(foot_far, "P", "N", "Sheet folded about a foot far from supports", OURS)
FOOT = _enter(foot, "P", "N", "Sheet folded about a foot, held at a distance", OURS, AWAY)
FOOT_BETWEEN_SIMPLE = _enter(
    foot_between_simple, "P", "N", "Sheet folded about a foot between two simple supports", OURS, AWAY
)
FOOT_FAR_AT_EDGE = _enter(foot_far_at_edge, "P", "N", "Sheet folded near a free edge, far from supports", OURS)
STRIP = _enter(strip, "P", "N", "Strip folded between its welded ends", OURS, AWAY)
FOOT_AT_EDGE = _enter(foot_at_edge, "P", "N", "Sheet folded about a foot near a free edge", OURS, AWAY)
TILT = _enter(tilt, "M", "N*mm", "Sheet folded about a tilted foot", OURS, TURN)
TILT_NEAR = _enter(tilt_near, "M", "N*mm", "Sheet folded about a tilted foot, supports close by", OURS, AWAY)
FOLD = _enter(fold, "P", "N", "Flap folded along a line", OURS)
EDGE_MOMENT = _enter(edge_moment, "M", "N*mm", "Part folded along its foot", OURS)
BOX_WALL = _enter(box_wall, "N_1", "N", "Face of a rectangular tube under a foot", _7("Table 7.11"), FACE)
BOX_WALL_MOMENT_ALONG = _enter(
    box_wall_moment_along, "M_ip", "N*mm", "Face of a rectangular tube, foot tilted along it", _7("Table 7.14"), FACE
)
BOX_WALL_MOMENT_ACROSS = _enter(
    box_wall_moment_across, "M_op", "N*mm", "Face of a rectangular tube, foot tilted across it", _7("Table 7.14"), FACE
)
TUBE_WALL = _enter(tube_wall, "N_1", "N", "Wall of a round tube under a foot", _7("Table 7.3"), WALL)
TUBE_WALL_MOMENT_ALONG = _enter(
    tube_wall_moment_along, "M_ip", "N*mm", "Wall of a round tube, foot tilted along it", _7("Table 7.3")
)
TUBE_WALL_MOMENT_ACROSS = _enter(
    tube_wall_moment_across, "M_op", "N*mm", "Wall of a round tube, foot tilted across it", _7("Table 7.3")
)


def tilted(*, c_1: float, c_2: float, s: float | None) -> tuple[Formula, dict[str, float]]:
    """The tilt formula with the least moment for which there is room, and its angle: inputs but for `m_p`.

    `c_1` [mm] across the axis of tilt, `c_2` along it, `s` [mm] from the foot to the supports; None where they are far.
    """
    if s is not None and below(s, c_1 / 2):
        return TILT_NEAR, {"c_1": c_1, "c_2": c_2, "s": s}
    # the slope 2 c_1/cos² - 4 c_1 - 4 c_2 sin changes its sign once, from below: halving finds where
    low, high = 0.0, 1.5
    for _ in range(60):
        middle = (low + high) / 2
        falls = c_1 / np.cos(middle) ** 2 < 2 * c_1 + 2 * c_2 * np.sin(middle)
        low, high = (middle, high) if falls else (low, middle)
    room = high if s is None else float(np.arccos(min(c_1 / (2 * s), 1.0)))
    return TILT, {"c_1": c_1, "c_2": c_2, "beta_f": min(high, room)}
