"""What the hole does to a bolted joint: fits, bearing in oversized and slotted holes, and what a head stands on.

Each document draws its own line between a normal and an oversized hole, by the clearance d_0 - d:

- EN 1993-1-8 Table 3.4, note 1: bearing times 0.8 in oversized holes, times 0.6 in slots across the force.  Normal is
  1 mm of clearance to M14, 2 mm to M24, 3 mm above (EN 1090-2), and M12 and M14 may have 2 mm where their shear is
  reduced (3.6.1(5); a published bolt table bears them in full); oversized goes to 4, 6 and 8 mm there.  Below M12 the
  list ends: at most 0.4 d is taken (our choice).
- AISI S100 Table J3-1: standard is 1/32 in under 1/2 in and 1/16 in from there on, oversized twice that, short slots
  are up to d + 1/4 in long; longer slots have no bearing factor.  A metric clearance hole of medium fit is oversized
  there for M8 to M12.
- AISC 360 J3.2: in joints that bear, standard holes only.

A head or washer that stands on the sheet with a narrow ring pulls through.  The pull-through rules were found on
holes that fit; the ring that is left under the head is counted in proportion to that of a normal clearance hole, and
nothing is counted of a ring narrower than 1.5 mm or than the sheet is thick (a full head in its normal hole
excepted).
"""

from __future__ import annotations

from typing import Literal

import numpy as np

from jointcalc.formula.branch import above, at_least, at_most, below
from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register

Fit = Literal["normal", "oversized", "beyond"]

EN = Source("EN 1993-1-8:2005", "Table 3.4, note 1", "read")
SLOT = Source("EN 1993-1-8:2005", "Table 3.4, note 1", "second-hand", "read in a published bolt table")
SUNK = Source("EN 1993-1-8:2005", "Table 3.4, note 2", "read")
RING = Source("own derivation, ring under the head", "", "derivation")
FITS = Source("EN 1090-2; AISI S100-16 Table J3-1; AISC 360-16 J3.2", "", "second-hand")
FILLED = Source("AISC 360-16", "J5.2", "from memory")
PACKED = Source("EN 1993-1-8:2005", "3.6.1(12)", "from memory")

NAMES = Names(
    F_b=("N", "bearing resistance in a normal hole"),
    F=("N", "pull-through resistance in a normal hole"),
    k_o=("1", "ring under the head over that of a normal hole"),
    d=("mm", "nominal diameter of the bolt"),
    d_b=("mm", "diameter that bears: head across the flats, or what the washer spreads it to"),
    d_0=("mm", "diameter of the hole, or length of the slot"),
    d_n=("mm", "diameter of the normal clearance hole"),
    t=("mm", "thickness of the sheet, or what bears of it"),
    k=("mm", "depth of the countersink in this sheet"),
    t_p=("mm", "total thickness of the packing"),
)

INCH_32, INCH_16, INCH_8 = 0.81, 1.61, 3.2
"""1/32, 1/16 and 1/8 in [mm], with what inch tables round up."""
M_F_BARE = {"standard": 0.75, "oversized": 0.70, "slotted": 0.55}
"""m_f of AISI S100 Table J3.3.1-2 in single shear without washers, by hole; a slot is taken across the force."""
M_F_INNER = {"standard": 1.33, "oversized": 1.10, "slotted": 0.90}
"""m_f of the inner sheet of a double lap, with or without washers (from memory)."""
LEAST_RING = 1.5
"""Ring of the sheet under a head [mm] below which nothing is counted: common practice."""


def fit_en(d: float, d_0: float) -> Fit:
    """Fit of a round hole by EN 1993-1-8 and EN 1090-2.  Sizes [mm]."""
    clearance = d_0 - d
    normal = 1.0 if below(d, 12.0) else 2.0 if at_most(d, 24.0) else 3.0
    wide = 4.0 if at_most(d, 22.3) else 6.0 if at_most(d, 25.4) else 8.0
    if at_most(clearance, normal):
        return "normal"
    return "oversized" if at_most(clearance, min(wide, 0.4 * d)) else "beyond"


def fit_aisi(d: float, d_0: float) -> Fit:
    """Fit of a round hole by AISI S100 Table J3-1.  Sizes [mm]."""
    clearance = d_0 - d
    normal, wide = (INCH_32, INCH_16) if above(12.7, d) else (INCH_16, INCH_8)
    if at_most(clearance, normal):
        return "normal"
    return "oversized" if at_most(clearance, wide) else "beyond"


def fit_aisc(d: float, d_0: float) -> Fit:
    """Fit of a round hole by AISC 360 J3.2: `beyond` is for joints that do not slip only.  Sizes [mm]."""
    normal = INCH_16 if above(12.7, d) else 2.0 if above(24.0, d) else 3.0
    return "normal" if at_most(d_0 - d, normal) else "beyond"


def short_slot(d: float, length: float) -> bool:
    """Whether a slot of that overall length [mm] is a short one by AISI S100: up to d + 1/4 in."""
    return bool(at_most(length, d + 6.35 + 0.01))


def least_ring(t: float, flats: float, d_n: float) -> float:
    """Least ring [mm] under a head that still counts: 1.5 mm and the sheet's thickness, but what a bare head has."""
    return min(max(LEAST_RING, t), (flats - d_n) / 2)


def stands(d_b: float, d_0: float, least: float) -> bool:
    """Whether a head of diameter `d_b` still stands on enough of the sheet round the hole `d_0` [mm]."""
    return bool(at_least((d_b - d_0) / 2, least))


def oversized(*, F_b: Value) -> Value:
    """Bearing resistance [N] in an oversized hole.  Source: EN 1993-1-8:2005, Table 3.4, note 1."""
    return 0.8 * F_b


def slotted(*, F_b: Value) -> Value:
    """Bearing resistance [N] in a slotted hole, the slot across the force (taken for every direction).

    Source: EN 1993-1-8:2005, Table 3.4, note 1.
    """
    return 0.6 * F_b


def countersunk_bearing(*, t: Value, k: Value) -> Value:
    """Thickness that bears [mm] under a countersunk head: the sheet less half the countersink.

    Source: EN 1993-1-8:2005, Table 3.4, note 2.
    """
    return t - k / 2


def ring_share(*, d_b: Value, d_0: Value, d_n: Value) -> Value:
    """Share k_o of the ring under a head that an oversized hole leaves.  Source: own derivation (module text)."""
    return np.minimum((d_b - d_0) / (d_b - d_n), 1)


def ring_reduced(*, k_o: Value, F: Value) -> Value:
    """Pull-through resistance [N] over the ring that is left.  Source: own derivation (module text)."""
    return k_o * F


def packing(*, d: Value, t_p: Value) -> Value:
    """Factor beta_p on the shear resistance of a bolt through packing thicker than d/3.

    Source: EN 1993-1-8:2005, 3.6.1(12), eq. 3.3 (from memory).
    """
    return np.minimum(9 * d / (8 * d + 3 * t_p), 1)


def fillers(*, t_p: Value) -> Value:
    """Factor on the shear strength of a bolt through fillers thicker than 6 mm.  Source: AISC 360-16 J5.2."""
    return np.minimum(np.maximum(1 - 0.0154 * (t_p - 6), 0.85), 1)


def _enter(function: Value, symbol: str, unit: str, title: str, source: Source, *limits: Limit) -> Formula:
    return register(Formula(function, symbol=symbol, unit=unit, title=title, source=source, names=NAMES, limits=limits))


OVERSIZED = _enter(oversized, "F_b", "N", "Bearing in an oversized hole", EN)
SLOTTED = _enter(slotted, "F_b", "N", "Bearing in a slotted hole", SLOT)
COUNTERSUNK_BEARING = _enter(countersunk_bearing, "t", "mm", "Thickness that bears under a countersunk head", SUNK)
RING_SHARE = _enter(ring_share, "k_o", "1", "Ring under the head", RING)
RING_REDUCED = _enter(ring_reduced, "F", "N", "Pull-through over the ring that is left", RING)
PACKED_FROM = 1 / 3
"""Packing over diameter beyond which it counts (EN 1993-1-8, 3.6.1(12))."""
PACKING = _enter(
    packing, "beta_p", "1", "Packing in the shear plane", PACKED,
    Limit("t_p / d", high=4 / 3, why="thicker packing is bolted on its own"),
)  # fmt: skip
FILLERS = _enter(
    fillers, "k_f", "1", "Fillers in the shear plane", FILLED,
    Limit("t_p", high=19.0, unit="mm", why="thicker fillers are bolted on their own"),
)  # fmt: skip
