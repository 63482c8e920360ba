"""EN 1993-1-3:2006, 8.4 and Table 8.5: spot welds.

Written as printed but for the partial factor: a nominal capacity carries none, so gamma_M2 is not
divided out here but asked for by the required factor.  2.7 sqrt(t) hides mm^0.5: mm and MPa only.
"""

from __future__ import annotations

import numpy as np

from jointcalc.formula.branch import above, least, most
from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register

DUCTILE = 1.25
"""F_v over F_tb, and ΣF_v over F_n, of the condition of EN 1993-1-3 Table 8.5: the sheet gives way before the spot."""
THICK_FROM = 2.5
"""t_1 / t [1] beyond which Table 8.5 lets the thick sheet and the spot bound the tearing."""

HARDENED = 1000.0
"""Tensile strength [MPa] that is counted of sheet at most: a spot tempers a ring of hardened sheet round itself (common
practice, no source: the ring keeps some two thirds of 1500 MPa)."""

EN = Source(
    "EN 1993-1-3:2006",
    "Table 8.5",
    "from memory",
    "scope and thickness limits read in the 1996 pre-standard, whose Table 8.5 this is",
)

N = Names(
    t=("mm", "thickness of the thinner sheet of the interface"),
    t_1=("mm", "thickness of the thicker sheet of the interface"),
    d_s=("mm", "spot diameter at the interface"),
    e_1=("mm", "distance from the spot to the sheet's end, along the load"),
    e_2=("mm", "distance from the spot to the sheet's edge, across the load"),
    p_1=("mm", "pitch along the load"),
    p_2=("mm", "pitch across the load"),
    f_u=("MPa", "tensile strength"),
    A_net=("mm^2", "net area of the sheet"),
    F_v=("N", "shear strength of the spot itself"),
)

SHEETS = (
    Limit("t", high=3.0, unit="mm", why="thinner sheet"),
    Limit("t_1", high=4.0, unit="mm", why="thicker sheet"),
)
END = (Limit("e_1 / d_s", low=2.0, high=6.0, why="end distance over spot diameter, along the load"),)
EDGE = (Limit("e_2 / d_s", high=4.0, why="edge distance over spot diameter, across the load"),)
WIDEST = 8.0
"""Pitch along the load over spot diameter up to which the table covers a row."""
PITCH_ALONG = (Limit("p_1 / d_s", low=3.0, high=WIDEST, why="pitch over spot diameter, along the load"),)
PITCH_ACROSS = (Limit("p_2 / d_s", low=3.0, high=6.0, why="pitch over spot diameter, across the load"),)


def tearing(*, t: Value, d_s: Value, f_u: Value) -> Value:
    """Tearing and bearing at one spot [N], t <= t_1 <= 2.5 t, and the first bound beyond."""
    return 2.7 * np.sqrt(t) * d_s * f_u


def tearing_thick_spot(*, d_s: Value, f_u: Value) -> Value:
    """Tearing and bearing [N], second bound for t_1 > 2.5 t."""
    return 0.7 * d_s**2 * f_u


def tearing_thick_sheet(*, t: Value, d_s: Value, f_u: Value) -> Value:
    """Tearing and bearing [N], third bound for t_1 > 2.5 t."""
    return 3.1 * t * d_s * f_u


def end(*, t: Value, e_1: Value, f_u: Value) -> Value:
    """End resistance of one spot [N]."""
    return 1.4 * t * e_1 * f_u


def net_section(*, A_net: Value, f_u: Value) -> Value:
    """Net section of the sheet [N]."""
    return A_net * f_u


def spot_shear(*, d_s: Value, f_u: Value) -> Value:
    """Shear of the spot itself [N]."""
    return np.pi / 4 * d_s**2 * f_u


def ductile_bound(*, F_v: Value) -> Value:
    """What of the spot's shear strength counts where it would shear before the sheet tears [N].

    The table asks for F_v of at least 1.25 times what the sheet takes; a spot that falls short is counted with that
    reserve on itself, so that the two rules meet where the condition is just kept.  Our reading, on the safe side.
    """
    return F_v / 1.25


TEARING = register(
    Formula(tearing, symbol="F_tb", unit="N", title="Tearing and bearing", source=EN, names=N, limits=SHEETS)
)
TEARING_THICK_SPOT = register(
    Formula(
        tearing_thick_spot, symbol="F_tb2", unit="N", title="Tearing, bound by spot size", source=EN, names=N,
        limits=(Limit("t_1 / t", low=THICK_FROM, open_low=True), *SHEETS),
    )
)  # fmt: skip
TEARING_THICK_SHEET = register(
    Formula(
        tearing_thick_sheet, symbol="F_tb3", unit="N", title="Tearing, bound by the thin sheet", source=EN, names=N,
        limits=(Limit("t_1 / t", low=THICK_FROM, open_low=True), *SHEETS),
    )
)  # fmt: skip
END_DISTANCE = register(
    Formula(end, symbol="F_e", unit="N", title="End resistance", source=EN, names=N, limits=(*SHEETS, *END))
)
NET_SECTION = register(
    Formula(net_section, symbol="F_n", unit="N", title="Net section", source=EN, names=N, limits=SHEETS)
)
SPOT_SHEAR = register(
    Formula(spot_shear, symbol="F_v", unit="N", title="Shear of the spot", source=EN, names=N, limits=SHEETS)
)
DUCTILE_BOUND = register(
    Formula(
        ductile_bound, symbol="F_v_r", unit="N", title="Spot that shears first, with its reserve",
        source=Source("EN 1993-1-3:2006", "Table 8.5, condition on the spot", "derivation", "our reading of it"),
        names=N,
    )
)  # fmt: skip


def tearing_bounds(*, t: float, t_1: float) -> tuple[Formula, ...]:
    """The bounds on tearing of Table 8.5 for sheets of `t` and `t_1` [mm]: three where one is much thicker."""
    if above(t_1, THICK_FROM * t):
        return TEARING, TEARING_THICK_SPOT, TEARING_THICK_SHEET
    return (TEARING,)


def end_counted(e_1: float, d_s: float) -> float:
    """End distance with which the end resistance is worked out [mm]: within its range.

    Beyond it the end is simply far away; nearer, its value there is more than the sheet has.
    """
    return min(max(e_1, least(END_DISTANCE, "e_1 / d_s") * d_s), most(END_DISTANCE, "e_1 / d_s") * d_s)
