"""Wide flanges: shear lag, and curling towards the axis.

EN 1993-1-5 3.2 and 3.3 (shear lag), EN 1993-1-3 5.4 (curling), AISI S100-16 B4.3 (short spans under concentrated
loads); from memory.
"""

from __future__ import annotations

import numpy as np

from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register

EN_32 = Source("EN 1993-1-5:2006", "3.2.1, Table 3.1", "from memory")
EN_33 = Source("EN 1993-1-5:2006", "3.3(1)", "from memory", "elastic-plastic shear lag at the ultimate limit state")
EN_54 = Source("EN 1993-1-3:2006", "5.4", "from memory")
AISI_B43 = Source("AISI S100-16", "B4.3, Table B4.3-1", "from memory")

N = Names(
    b_0=("mm", "flange width: half of a flat held at both edges, all of an outstand"),
    L_e=("mm", "length between the points of zero moment"),
    kappa=("1", "width over length"),
    beta=("1", "effective width factor for elastic shear lag"),
    sigma_a=("MPa", "mean stress of the flange"),
    E=("MPa", "modulus of elasticity"),
    t=("mm", "thickness"),
    z=("mm", "distance of the flange from the neutral axis"),
    b_s=("mm", "half the distance between webs, or the width of an outstand"),
    M_c=("N*mm", "moment resistance"),
    ratio=("1", "effective over full width of the flange"),
)


def width_over_length(*, b_0: Value, L_e: Value) -> Value:
    """kappa, without longitudinal stiffeners [1]."""
    return b_0 / L_e


def lag_sagging(*, kappa: Value) -> Value:
    """Beta in sagging bending, kappa up to 0.70 [1]."""
    return 1 / (1 + 6.4 * kappa**2)


def lag_hogging(*, kappa: Value) -> Value:
    """Beta in hogging bending, kappa up to 0.70 [1]."""
    return 1 / (1 + 6.0 * (kappa - 1 / (2500 * kappa)) + 1.6 * kappa**2)


def lag_sagging_wide(*, kappa: Value) -> Value:
    """Beta in sagging bending, kappa over 0.70 [1]."""
    return 1 / (5.9 * kappa)


def lag_hogging_wide(*, kappa: Value) -> Value:
    """Beta in hogging bending, kappa over 0.70 [1]."""
    return 1 / (8.6 * kappa)


def lagged_moment(*, M_c: Value, beta: Value, kappa: Value) -> Value:
    """Moment resistance with elastic-plastic shear lag, the whole section reduced like its widest flange [N·mm]."""
    return M_c * np.maximum(beta**kappa, beta)


def short_span_moment(*, M_c: Value, ratio: Value) -> Value:
    """Moment strength of a short span, the whole section reduced like its widest flange [N·mm]."""
    return M_c * ratio


def curl(*, sigma_a: Value, E: Value, t: Value, z: Value, b_s: Value) -> Value:
    """How far the flange curls towards the neutral axis [mm]."""
    return 2 * sigma_a**2 / E**2 * b_s**4 / (t**2 * z)


WIDTH_OVER_LENGTH = register(Formula(
    width_over_length, symbol="kappa", unit="1", title="Flange width over length", source=EN_32, names=N))  # fmt: skip
LAG_SAGGING = register(Formula(
    lag_sagging, symbol="beta", unit="1", title="Shear lag, sagging", source=EN_32, names=N,
    limits=(Limit("kappa", low=0.02, high=0.70),)))  # fmt: skip
LAG_HOGGING = register(Formula(
    lag_hogging, symbol="beta", unit="1", title="Shear lag, hogging", source=EN_32, names=N,
    limits=(Limit("kappa", low=0.02, high=0.70),)))  # fmt: skip
LAG_SAGGING_WIDE = register(Formula(
    lag_sagging_wide, symbol="beta", unit="1", title="Shear lag, sagging, very wide", source=EN_32, names=N,
    limits=(Limit("kappa", low=0.70),)))  # fmt: skip
LAG_HOGGING_WIDE = register(Formula(
    lag_hogging_wide, symbol="beta", unit="1", title="Shear lag, hogging, very wide", source=EN_32, names=N,
    limits=(Limit("kappa", low=0.70),)))  # fmt: skip
LAGGED_MOMENT = register(Formula(
    lagged_moment, symbol="M_c", unit="N*mm", title="Moment resistance with shear lag", source=EN_33,
    names=N))  # fmt: skip
SHORT_SPAN_MOMENT = register(Formula(
    short_span_moment, symbol="M_n", unit="N*mm", title="Moment strength of a short span", source=AISI_B43,
    names=N))  # fmt: skip
MOST_CURL, LITTLE_CURL = 0.05, "5 % of the depth"
"""Curling over the depth of the profile that bending may neglect (EN 1993-1-3, 5.4(1), from memory), and in words."""
SPAN_OF_SAGGING, SPAN_OF_HOGGING = 0.7, 0.5
"""Length between the points of zero moment over the shortest span of a continuous beam, taken for Figure 3.1 of
EN 1993-1-5 (from memory) on the safe side."""
CURL = register(Formula(
    curl, symbol="u", unit="mm", title="Curling of a wide flange", source=EN_54, names=N,
    limits=(Limit("z", low=0.0, open_low=True),)))  # fmt: skip


def lag_branch(*, kappa: float, hogging: bool) -> Formula | None:
    """The row of Table 3.1 that applies; None where the flange is narrow, b_0 up to L_e/50."""
    from jointcalc.formula.branch import at_most

    if at_most(kappa, 0.02):
        return None
    if at_most(kappa, 0.70):
        return LAG_HOGGING if hogging else LAG_SAGGING
    return LAG_HOGGING_WIDE if hogging else LAG_SAGGING_WIDE


SHORT_SPANS = (
    (30.0, 1.00), (25.0, 0.96), (20.0, 0.91), (18.0, 0.89), (16.0, 0.86), (14.0, 0.82), (12.0, 0.78), (10.0, 0.73),
    (8.0, 0.67), (6.0, 0.55),
)  # fmt: skip
"""(L / w_f, effective over full width) of AISI S100-16 Table B4.3-1, from memory."""


def short_span_ratio(slender: float) -> float | None:
    """Effective over full flange width for a span of `slender` flange widths under a concentrated load.

    Linear between the rows of the table; None under its last row, 6.
    """
    from jointcalc.formula.branch import below

    lengths, ratios = zip(*reversed(SHORT_SPANS))
    return None if below(slender, lengths[0]) else float(np.interp(slender, lengths, ratios))
