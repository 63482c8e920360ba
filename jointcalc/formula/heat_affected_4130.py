"""Welded chromium-molybdenum steel 4130, normalised and not heat treated after welding.

Near-weld strengths of MIL-HDBK-5 (ANC-5 before it), from memory; factors and weld-metal values are
the table `haz_4130`.  Guidance seen with these values: keep at least 15 % margin.
"""

from __future__ import annotations

from jointcalc.formula.branch import at_most
from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register

N = Names(
    F_tu=("MPa", "tensile strength of the parent tube or sheet"),
    k_near=("1", "share of the parent strength that is left beside the weld"),
    t=("mm", "thickness of the wall"),
    t_e=("mm", "effective throat"),
    F_sw=("MPa", "allowable shear strength of the weld metal"),
)
NEAR_TAPERED = 0.941
"""Share left beside tapered joints of up to 30 degrees (90 of 95 ksi)."""
NEAR_OTHER = 0.841
"""Share left beside all other welds (80 of 95 ksi)."""


ALLOYED_FILLER = 551.0
"""Tensile strength [MPa] from which a filler counts as an alloyed one (80 ksi)."""
F_TU_MOST = 655.1
"""Tensile strength [MPa] of normalised 4130 for which the values are published (95 ksi)."""
NEAR_RANGE = (
    Limit("t", high=4.78, unit="mm", why="published for walls up to 0.188 in"),
    Limit("F_tu", high=F_TU_MOST, unit="MPa", why="published for normalised 4130, 95 ksi"),
)


def near_weld_strength(*, k_near: Value, F_tu: Value) -> Value:
    """Tensile strength [MPa] of 4130 beside the weld.  Source: MIL-HDBK-5, welded joints of alloy steel."""
    return k_near * F_tu


def near_weld_resistance(*, k_near: Value, F_tu: Value, t: Value) -> Value:
    """Strength per length [N/mm] of the sheet or wall beside the weld.

    Source: MIL-HDBK-5, welded joints of alloy steel.
    """
    return k_near * F_tu * t


def weld_metal_shear(*, F_sw: Value, t_e: Value) -> Value:
    """Strength per length [N/mm] of the weld metal in shear on the throat.

    Source: MIL-HDBK-5, allowable strength of weld metal.
    """
    return F_sw * t_e


NEAR_WELD_STRENGTH = register(
    Formula(
        near_weld_strength,
        symbol="F_tu_near",
        unit="MPa",
        title="4130 beside the weld, tensile strength",
        source=Source("MIL-HDBK-5", "welded joints, near-weld strength"),
        names=N,
        limits=NEAR_RANGE,
    )
)
NEAR_WELD_RESISTANCE = register(
    Formula(
        near_weld_resistance,
        symbol="F_near",
        unit="N/mm",
        title="4130 beside the weld, strength per length",
        source=Source("MIL-HDBK-5", "welded joints, near-weld strength"),
        names=N,
        limits=NEAR_RANGE,
    )
)
WELD_METAL_SHEAR = register(
    Formula(
        weld_metal_shear,
        symbol="F_w",
        unit="N/mm",
        title="4130 weld metal in shear, strength per length",
        source=Source("MIL-HDBK-5", "weld-metal strength"),
        names=N,
    )
)


def near_factor(*, taper: float) -> tuple[float, str]:
    """Share of the strength left beside the weld, and why; `taper` [deg] is the angle of the joint."""
    if at_most(taper, 30.0):
        return NEAR_TAPERED, f"tapered joint of {taper:.3g} degrees, up to 30"
    return NEAR_OTHER, f"joint of {taper:.3g} degrees, over 30"
