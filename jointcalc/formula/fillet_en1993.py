"""Fillet welds by EN 1993-1-8, 4.5 (throat `a`), and lap fillets in sheet by EN 1993-1-3, 8.5.2.

Resistances are characteristic, before gamma_M2 = 1.25.  All of it from memory unless a formula's own
source says otherwise; the directional method is held against a published bridge-bracing example.

A weld force per length is given by three components: `F_par` along the weld, `F_1` and `F_2` along
the two legs (each normal to the other part).  On the throat of an equal-leg fillet, 45 degrees
between the legs, they become the stresses of EN 1993-1-8 figure 4.5.
"""

from __future__ import annotations

import numpy as np

from jointcalc.formula.branch import at_least, at_most
from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register
from jointcalc.tables import load

EN8 = "EN 1993-1-8:2005"
EN3 = "EN 1993-1-3:2006"


N = Names(
    s=("mm", "leg of an equal-leg fillet"),
    a=("mm", "throat"),
    L=("mm", "overall length of the weld"),
    L_j=("mm", "length of the lap in the direction of the force"),
    L_w_e=("mm", "effective length of the end fillet"),
    L_w_s=("mm", "effective length of one side fillet"),
    l_eff=("mm", "effective length"),
    F_1=("N/mm", "force per length of weld along one leg"),
    F_2=("N/mm", "force per length of weld along the other leg"),
    F_par=("N/mm", "force per length of weld along its axis"),
    F_w_Ed=("N/mm", "resultant force per length of weld"),
    sigma_perp=("MPa", "normal stress on the throat"),
    tau_perp=("MPa", "shear stress on the throat, across the weld"),
    tau_par=("MPa", "shear stress on the throat, along the weld"),
    sigma_v=("MPa", "comparison stress on the throat"),
    F_perp=("N/mm", "force per length across the weld"),
    f_y=("MPa", "yield strength of the weaker part joined"),
    f_u=("MPa", "tensile strength of the weaker part joined"),
    beta_w=("1", "correlation factor"),
    t=("mm", "thickness of the thinner part"),
    t_1=("mm", "thickness of the other part"),
    b=("mm", "width of the part"),
)


LEAST_STEEL, EN8_MOST, EN12_MOST = 235.0, 460.0, 700.0
"""Yield strengths [MPa] of the weakest steel of EN 1993, and at which EN 1993-1-8 and EN 1993-1-12 end."""
LONG_LAP = 150.0
"""Length of a lap over the throat beyond which 4.11 reduces it."""

WELD_8 = (
    Limit("t", low=4.0, unit="mm", why="thinner parts go to EN 1993-1-3"),
    Limit("a", low=3.0, unit="mm", why="least throat that carries load"),
)


def throat(*, s: Value) -> Value:
    """Throat [mm] of a fillet with equal legs [mm] at a right angle: the height of the triangle.

    Source: geometry; EN 1993-1-8 4.5.2(1).
    """
    return s / np.sqrt(2)


def sigma_perp(*, F_1: Value, F_2: Value, a: Value) -> Value:
    """Normal stress [MPa] on the throat from forces per length [N/mm] along the two legs.

    Source: EN 1993-1-8 figure 4.5, equilibrium on the 45 degree throat of an equal-leg fillet.
    """
    return (F_1 + F_2) / (np.sqrt(2) * a)


def tau_perp(*, F_1: Value, F_2: Value, a: Value) -> Value:
    """Shear stress [MPa] across the weld on the throat from forces per length [N/mm] along the legs.

    Source: EN 1993-1-8 figure 4.5, equilibrium on the 45 degree throat of an equal-leg fillet.
    """
    return (F_1 - F_2) / (np.sqrt(2) * a)


def tau_par(*, F_par: Value, a: Value) -> Value:
    """Shear stress [MPa] along the weld on the throat.  Source: EN 1993-1-8 figure 4.5."""
    return F_par / a


def directional_stress(*, sigma_perp: Value, tau_perp: Value, tau_par: Value) -> Value:
    """Comparison stress [MPa] on the throat; the normal stress along the weld is left out.

    Source: EN 1993-1-8, 4.5.3.2(6), eq. (4.1), left side.
    """
    return np.sqrt(sigma_perp**2 + 3 * (tau_perp**2 + tau_par**2))


def directional_strength(*, f_u: Value, beta_w: Value) -> Value:
    """Characteristic strength [MPa] the comparison stress is held against.

    Source: EN 1993-1-8, 4.5.3.2(6), eq. (4.1), right side without gamma_M2.
    """
    return f_u / beta_w


def directional_resistance(*, F_w_Ed: Value, f_u: Value, beta_w: Value, sigma_v: Value) -> Value:
    """Force per length [N/mm] in the direction of the load at which eq. (4.1) is met.

    The comparison stress `sigma_v` [MPa] is that of the force per length `F_w_Ed` [N/mm]; stresses grow
    with it.  Source: from EN 1993-1-8, 4.5.3.2(6), eq. (4.1), without gamma_M2.
    """
    return F_w_Ed * (f_u / beta_w) / sigma_v


def normal_resistance(*, F_w_Ed: Value, f_u: Value, sigma_perp: Value) -> Value:
    """Force per length [N/mm] in the direction of the load at which the second condition is met.

    Source: from EN 1993-1-8, 4.5.3.2(6), second condition of eq. (4.1), without gamma_M2.
    """
    return F_w_Ed * 0.9 * f_u / np.abs(sigma_perp)


def butt_comparison(*, F_perp: Value, F_par: Value) -> Value:
    """Comparison force per length [N/mm] of a butt weld: across it and along it, von Mises.

    Source: EN 1993-1-1, 6.2.1(5), for the part beside the weld.
    """
    return np.sqrt(F_perp**2 + 3 * F_par**2)


def butt_resistance(*, t: Value, f_y: Value) -> Value:
    """Resistance per length [N/mm] of a full-penetration butt weld: that of the weaker part.

    Source: EN 1993-1-8, 4.7.1(1), without gamma_M0.
    """
    return t * f_y


def simplified_resistance(*, f_u: Value, beta_w: Value, a: Value) -> Value:
    """Characteristic resistance per length [N/mm], whatever the direction of the force.

    Source: EN 1993-1-8, 4.5.3.3(2), eqs. (4.3) and (4.4) without gamma_M2.
    """
    f_vw = f_u / np.sqrt(3) / beta_w
    return f_vw * a


def effective_length(*, L: Value, a: Value) -> Value:
    """Effective length [mm]: overall length less the throat at each end, for start and crater.

    Not reduced where the weld is full size over its whole length.  Source: EN 1993-1-8, 4.5.1(1).
    """
    return L - 2 * a


def least_effective_length(*, a: Value) -> Value:
    """Effective length [mm] below which a weld carries no load.  Source: EN 1993-1-8, 4.5.1(2)."""
    return np.maximum(30.0, 6 * a)


def long_lap_factor(*, L_j: Value, a: Value) -> Value:
    """Reduction [1] of a lap joint longer than 150 throats in the direction of the force; nothing is left at 900.

    Source: EN 1993-1-8, 4.11(3), eq. (4.9).
    """
    return np.maximum(np.minimum(1.2 - 0.2 * L_j / (150 * a), 1.0), 0.0)


def intermittent_gap_tension(*, t: Value, t_1: Value) -> Value:
    """Largest clear gap [mm] of an intermittent fillet in tension.  Source: EN 1993-1-8, figure 4.1."""
    return np.minimum(np.minimum(16 * t, 16 * t_1), 200.0)


def intermittent_gap_compression(*, t: Value, t_1: Value, b: Value) -> Value:
    """Largest clear gap [mm] of an intermittent fillet in compression or shear.

    Source: EN 1993-1-8, figure 4.1.
    """
    return np.minimum(np.minimum(12 * t, 12 * t_1), np.minimum(0.25 * b, 200.0))


def end_lap(*, t: Value, L_w_e: Value, b: Value, f_u: Value) -> Value:
    """Characteristic resistance [N] of an end fillet in a sheet lap.

    The fillet must be big enough for the sheet to govern: throat at least the sheet thickness.
    Source: EN 1993-1-3, 8.5.2(3), eq. (8.4c) without gamma_M2.
    """
    return t * L_w_e * (1 - 0.3 * L_w_e / b) * f_u


def side_lap_short(*, t: Value, L_w_s: Value, b: Value, f_u: Value) -> Value:
    """Characteristic resistance [N] of one of a pair of side fillets not longer than the width.

    Source: EN 1993-1-3, 8.5.2(3), eq. (8.4a) without gamma_M2.
    """
    return t * L_w_s * (0.9 - 0.45 * L_w_s / b) * f_u


def side_lap_long(*, t: Value, b: Value, f_u: Value) -> Value:
    """Characteristic resistance [N] of one of a pair of side fillets longer than the width.

    Source: EN 1993-1-3, 8.5.2(3), eq. (8.4b) without gamma_M2.
    """
    return 0.45 * t * b * f_u


SHEET_LAP = (
    Limit("t", high=4.0, unit="mm", why="thicker parts go to EN 1993-1-8"),
    Limit("a / t", low=1.0, why="the throat must be at least the sheet so that the sheet governs"),
)


def _8(clause: str) -> Source:
    return Source(EN8, clause)


def _3(clause: str) -> Source:
    return Source(EN3, clause)


THROAT = register(
    Formula(
        throat,
        symbol="a",
        unit="mm",
        title="Throat of an equal-leg fillet",
        source=Source("Geometry of the right-angled fillet", "", "derivation"),
        names=N,
    )
)


SIGMA_PERP = register(
    Formula(
        sigma_perp,
        symbol="sigma_perp",
        unit="MPa",
        title="Normal stress on the throat",
        source=_8("figure 4.5"),
        names=N,
    )
)


TAU_PERP = register(
    Formula(
        tau_perp,
        symbol="tau_perp",
        unit="MPa",
        title="Shear across the weld on the throat",
        source=_8("figure 4.5"),
        names=N,
    )
)


TAU_PAR = register(
    Formula(
        tau_par,
        symbol="tau_par",
        unit="MPa",
        title="Shear along the weld on the throat",
        source=_8("figure 4.5"),
        names=N,
    )
)


DIRECTIONAL_STRESS = register(
    Formula(
        directional_stress,
        symbol="sigma_v",
        unit="MPa",
        title="Comparison stress on the throat",
        source=Source(EN8, "4.5.3.2(6), eq. (4.1)", "second-hand", note="read in a published worked example"),
        names=N,
        limits=WELD_8,
    )
)


DIRECTIONAL_STRENGTH = register(
    Formula(
        directional_strength,
        symbol="f_w",
        unit="MPa",
        title="Strength of the weld for the comparison stress",
        source=Source(EN8, "4.5.3.2(6), eq. (4.1)", "second-hand", note="read in a published worked example"),
        names=N,
        limits=WELD_8,
    )
)


DIRECTIONAL_RESISTANCE = register(
    Formula(
        directional_resistance,
        symbol="F_w_R",
        unit="N/mm",
        title="Resistance per length, directional method",
        source=Source(EN8, "4.5.3.2(6), eq. (4.1)", "second-hand", note="read in a published worked example"),
        names=N,
        limits=WELD_8,
    )
)


NORMAL_RESISTANCE = register(
    Formula(
        normal_resistance,
        symbol="F_w_R",
        unit="N/mm",
        title="Resistance per length, normal stress on the throat",
        source=Source(EN8, "4.5.3.2(6), eq. (4.1)", "second-hand", note="read in a published worked example"),
        names=N,
        limits=WELD_8,
    )
)


BUTT_COMPARISON = register(
    Formula(
        butt_comparison,
        symbol="F_v",
        unit="N/mm",
        title="Comparison force of a butt weld",
        source=Source("EN 1993-1-1:2005", "6.2.1(5)"),
        names=N,
    )
)


BUTT_RESISTANCE = register(
    Formula(
        butt_resistance,
        symbol="F_R",
        unit="N/mm",
        title="Full-penetration butt weld",
        source=_8("4.7.1(1)"),
        names=N,
    )
)


SIMPLIFIED_RESISTANCE = register(
    Formula(
        simplified_resistance,
        symbol="F_w_R",
        unit="N/mm",
        title="Resistance per length, simplified method",
        source=_8("4.5.3.3, eqs. (4.3), (4.4)"),
        names=N,
        limits=WELD_8,
        inner_units={"f_vw": "MPa"},
    )
)


EFFECTIVE_LENGTH = register(
    Formula(
        effective_length,
        symbol="l_eff",
        unit="mm",
        title="Effective length of a fillet",
        source=Source(EN8, "4.5.1(1)", "second-hand"),
        names=N,
    )
)


LEAST_EFFECTIVE_LENGTH = register(
    Formula(
        least_effective_length,
        symbol="l_min",
        unit="mm",
        title="Least effective length of a fillet",
        source=Source(EN8, "4.5.1(2)", "second-hand"),
        names=N,
    )
)


LONG_LAP_FACTOR = register(
    Formula(
        long_lap_factor,
        symbol="beta_Lw_1",
        unit="1",
        title="Reduction of a long lap joint",
        source=_8("4.11(3), eq. (4.9)"),
        names=N,
    )
)


INTERMITTENT_GAP_TENSION = register(
    Formula(
        intermittent_gap_tension,
        symbol="L_1",
        unit="mm",
        title="Largest gap of an intermittent fillet in tension",
        source=_8("4.3.2.2, figure 4.1"),
        names=N,
    )
)


INTERMITTENT_GAP_COMPRESSION = register(
    Formula(
        intermittent_gap_compression,
        symbol="L_2",
        unit="mm",
        title="Largest gap of an intermittent fillet in compression or shear",
        source=_8("4.3.2.2, figure 4.1"),
        names=N,
    )
)


END_LAP = register(
    Formula(
        end_lap,
        symbol="F_w_e",
        unit="N",
        title="End fillet of a sheet lap",
        source=_3("8.5.2(3), eq. (8.4c)"),
        names=N,
        limits=(
            *SHEET_LAP,
            Limit("L_w_e / t", low=8.0, why="shorter lengths carry no load"),
            Limit("L_w_e / b", high=1.0),
        ),
    )
)


SIDE_LAP_SHORT = register(
    Formula(
        side_lap_short,
        symbol="F_w_s",
        unit="N",
        title="One of a pair of side fillets, not longer than the width",
        source=_3("8.5.2(3), eq. (8.4a)"),
        names=N,
        limits=(
            *SHEET_LAP,
            Limit("L_w_s / t", low=8.0, why="shorter lengths carry no load"),
            Limit("L_w_s / b", high=1.0),
        ),
    )
)


SIDE_LAP_LONG = register(
    Formula(
        side_lap_long,
        symbol="F_w_s",
        unit="N",
        title="One of a pair of side fillets, longer than the width",
        source=_3("8.5.2(3), eq. (8.4b)"),
        names=N,
        limits=(
            *SHEET_LAP,
            Limit("L_w_s / b", low=1.0),
            Limit("L_w_s / t", low=8.0, why="shorter lengths carry no load"),
        ),
    )
)


def side_lap(*, L_w_s: float, b: float) -> tuple[Formula, str]:
    """The side-fillet formula that applies, and why; both give the same at L_w_s = b."""
    if at_most(L_w_s, b):
        return SIDE_LAP_SHORT, f"side fillet {L_w_s:.4g} mm, not longer than the width {b:.4g} mm"
    return SIDE_LAP_LONG, f"side fillet {L_w_s:.4g} mm, longer than the width {b:.4g} mm"


def corner(*, r: float, t: float, kind: str = "static") -> tuple[bool, str]:
    """Whether a fillet may lie within 5 t of a cold-formed bend of inside radius `r` [mm], and why.

    `kind` is `static`, `fatigue` (fatigue governs) or `killed` (fully killed steel with aluminium).
    Source: EN 1993-1-8, 4.14 and Table 4.2 (table `cold_formed_corner`, from memory).
    """
    for row in load("cold_formed_corner").rows:
        if at_least(r / t, row.need("r_over_t_min")):
            most = row.number(f"t_max_{kind}")
            if most is None or at_most(t, most):
                return True, f"r/t = {r / t:.3g}, at least {row['r_over_t_min']}"
            return False, f"r/t = {r / t:.3g} allows {most:g} mm at most, the sheet is {t:.4g} mm"
    return False, f"r/t = {r / t:.3g}, sharper than the sharpest corner that may be welded beside (1.0)"
