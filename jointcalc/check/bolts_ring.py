"""What a head, nut or washer stands on: its diameter, the ring of sheet that the hole leaves it, the sheet about it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from jointcalc.check.bolts_action import Place
from jointcalc.check.common import Steps
from jointcalc.formula import bolt_holes, bolts_aisi
from jointcalc.formula.branch import at_most
from jointcalc.model.bolts import FastenerGroup
from jointcalc.quantity.sentence import mm
from jointcalc.result import Stated
from jointcalc.statics.group_common import Array


def bears(group: FastenerGroup, t: float) -> tuple[float, Steps]:
    """Diameter that bears on the sheet (or on the plate, t = 0) [mm]: head, or what a loose washer spreads it to."""
    f = group.fastener
    flats = f.flats
    if group.washers is None:
        return flats, [Stated("d_w", "mm", flats, "across the flats of head or nut")]
    outside, thick = group.washers
    if bolts_aisi.EFFECTIVE_WASHER.outside(t_w=thick):
        return flats, [Stated("d_w", "mm", flats, f"across the flats: a washer of {mm(thick):g} is too thin to count")]
    spreads = bolts_aisi.EFFECTIVE_WASHER.evaluate(d_h=flats, t_w=thick, t_1=t, d_w=outside)
    return float(spreads.value), [spreads]


@dataclass(frozen=True, slots=True)
class Ring:
    """What a head stands on: its share of the ring of a normal hole, and why it stands on too little."""

    share: float
    steps: Steps
    reasons: list[str]
    at_edge: float


def ring(group: FastenerGroup, d_b: float, hole: float, t: float, what: str) -> Ring:
    """What a head of diameter `d_b` has of the sheet or plate (`what`, `t` thick) round a `hole`; all in mm."""
    f = group.fastener
    d_n = f.hole if f.kind == "bolt" else f.clear
    least = bolt_holes.least_ring(t, f.flats, d_n)
    steps: Steps = []
    share = 1.0
    if not at_most(hole, d_n):
        found = bolt_holes.RING_SHARE.evaluate(d_b=d_b, d_0=hole, d_n=d_n)
        share, steps = float(found.value), [found]
    at_edge = min(2 * least / (d_b - d_n), 1.0) if d_b > d_n else 1.0
    if bolt_holes.stands(d_b, hole, least):
        return Ring(share, steps, [], at_edge)
    left = max(d_b - hole, 0.0) / 2
    reason = (
        f"{'slot' if group.slot is not None and hole == group.slot else 'hole'} of {mm(hole):.3g} under "
        f"{mm(d_b):.3g} of "
        f"head or washer: {mm(left):.2g} of {what} left to stand on, at least {mm(least):.2g} counts; take a washer"
    )
    return Ring(share, steps, [reason], at_edge)


def room(place: Place, pull: Array) -> tuple[float, float]:
    """Least distance of a pulled fastener's centre to an edge of the sheet, and to another hole [mm].

    Where no edge is given the sheet is taken to run on, as where it bends.
    """
    pulled = pull > 0
    pitch = float(np.minimum(place.around.p_1, place.around.p_2)[pulled].min())
    if place.corners is None:
        group = place.group
        given = [] if group.edge is None else [group.edge]
        if group.width is not None and place.action.net is not None:
            given.append((group.width - place.extent) / 2)
        # whichever way the edge lies, a slot may lie towards it
        slot = 0.0 if group.slot is None else (group.slot - place.d_0) / 2
        return min(given, default=np.inf) - slot, pitch
    n = len(pull)
    ways = (np.tile(way, (n, 1)) for way in ((1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)))
    edge = np.min([place.to_edge(way) for way in ways], axis=0)
    return float(edge[pulled].min()), pitch
