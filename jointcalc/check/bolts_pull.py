"""The sheet out of its plane: pulled over head or washer, pulled over a spreader plate.

EN 1993-1-3 asks for tests of the pull-through of bolts; its value for screws (and AISI's pull-over) is used for head
and washer, and says so.  The spreader plate is our own lower bound (`jointcalc.formula.backing_plate`).
Bent between its supports it stands in `bolts_bend`, pried by a bracket's leg in `bolts_leg`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from jointcalc.check.bolts_action import BoltsAction, Place
from jointcalc.check.bolts_base import Asked, family
from jointcalc.check.bolts_leg import Leg
from jointcalc.check.common import CHARACTERISTIC, INFORMATION, LOAD_ALONE, NOMINAL, PARTIAL, Steps
from jointcalc.formula import backing_plate, bolt_holes, bolt_pull, bolts_aisi, bolts_en1993, rupture
from jointcalc.formula.branch import above, at_least, at_most, below, least, most
from jointcalc.formula.core import Formula
from jointcalc.model.bolts import FastenerGroup
from jointcalc.quantity.sentence import either, joined, mm
from jointcalc.result import Check, Method, Stated, method
from jointcalc.result.factor import omega
from jointcalc.statics.group_common import Array

EN_PUNCHING = method(
    "en1993-1-8.punching",
    "Punching of plate (EN)",
    bolts_en1993.MEMORY,
    per="fastener",
    basis=CHARACTERISTIC,
    factor=PARTIAL,
    covers=("pull-through",),
)
EN_PULL_THROUGH = method(
    "en1993-1-3.pull-through",
    "Pull-through of head (EN)",
    bolts_en1993.SCREW,
    per="fastener",
    basis=CHARACTERISTIC,
    factor=PARTIAL,
    covers=("pull-through",),
)
AISI_PULL_OVER = method(
    "aisi-s100.pull-over",
    "Pull-over of head (AISI)",
    bolts_aisi.PULL_OVER,
    per="fastener",
    basis=NOMINAL,
    factor=omega(bolts_aisi.SAFETY_SCREW),
    covers=("pull-through",),
)
SPREADER = method(
    "spreader-plate.pull-through",
    "Sheet under spreader plate",
    backing_plate.OURS,
    per="fastener",
    basis="lower bound, own derivation",
    factor=PARTIAL,
    covers=("pull-through",),
)
PLATE_CONTACT = method(
    "spreader-plate.contact",
    "Nut bearing on the plate",
    backing_plate.CONTACT,
    per="fastener",
    basis="yield, own derivation",
    factor=LOAD_ALONE,
)
PLATE_ELASTIC = method(
    "spreader-plate.elastic-stress",
    "Elastic stress in the plate",
    backing_plate.ROARK,
    per="fastener",
    bound="information",
    basis="first yield, not strength",
    factor=INFORMATION,
)
THIN_SHEET, WIDE_SHEET = least(bolts_en1993.SCREW_PULL_THROUGH, "t"), most(bolts_en1993.SCREW_PULL_THROUGH, "t")
"""Range of EN 1993-1-3 Table 8.2 for the sheet under a head [mm]: beyond it thicker sheet counts no more."""
PLATE_FROM = least(bolts_en1993.PUNCHING, "t_p")
_EDGE = least(bolts_en1993.SCREW_PULL_THROUGH, "e_2 / d")
"""Least edge distance of a fastener in thin sheet, in its diameters."""


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
class _Ring:
    """What a head stands on: its share of the ring of a normal hole, and why it stands on too little."""

    share: float
    steps: Steps
    reasons: list[str]
    at_edge: float


def _ring(group: FastenerGroup, d_b: float, hole: float, t: float, what: str) -> _Ring:
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
        return _Ring(share, steps, [], at_edge)
    left = max(d_b - hole, 0.0) / 2
    reason = (
        f"{'slot' if group.slot is not None and hole == group.slot else 'hole'} of {mm(hole):.3g} under "
        f"{mm(d_b):.3g} of "
        f"head or washer: {mm(left):.2g} of {what} left to stand on, at least {mm(least):.2g} counts; take a washer"
    )
    return _Ring(share, steps, [reason], at_edge)


def pull_through(action: BoltsAction, pull: Array, brackets: tuple[Leg, ...]) -> tuple[list[Check], dict[str, Array]]:
    """Head, washer and spreader plate on the outer sheets; and what each fastener uses of them, bounds included."""
    group = action.item
    kind = group.fastener.kind
    if not pull.max() or kind == "rivet":
        return [], {}
    last = len(group.sheets) - 1
    outer = sorted({0, last})
    if kind == "rivnut":
        # the insert sits in the last sheet, and its maker says what it holds there; the screw's head pulls on the first
        outer = [0] if last else []
    asked: list[Asked] = []
    for n in outer:
        place = Place(action, n)
        if n == last and group.plate is not None:
            asked += _spreader(place, pull)
        else:
            asked += _head(place, pull, brackets)
    return [a.check for a in asked], {a.check.key: a.use for a in asked if a.use is not None}


def _head(place: Place, pull: Array, brackets: tuple[Leg, ...]) -> list[Asked]:
    group, sheet, action = place.group, place.sheet, place.action
    d_w, shown = bears(group, sheet.t)
    sunk = group.countersunk and place.n == 0
    flush = ["a countersunk head bears on a cone, not on the face: no rule says what pulls it through"] if sunk else []
    hole = max(place.d_0, group.slot or 0.0)
    ring = _ring(group, d_w, hole, sheet.t, "the sheet")
    after: Steps = [action.share("T", pull)]
    demand = float(pull.max())
    eccentric = action.one_sided and (not brackets or place.n in [leg.n for leg in brackets])

    def judged(
        method: Method, formula: Formula, inputs: dict[str, float], *, hard: list[str], note: str,
        at_edge: dict[str, float], half: bool = False,
    ) -> Asked:  # fmt: skip
        stop = [*flush, *hard]
        before: Steps = [*place.before, *shown]
        if stop:
            return Asked(method.outside(stop, demand=demand, trace=before, where=place.where))
        ranged = formula.outside(**inputs)
        at = inputs
        if ranged or ring.reasons:
            at = {**inputs, **at_edge}
            if formula.outside(**at):
                return Asked(method.outside([*ring.reasons, *ranged], demand=demand, trace=before, where=place.where))
        e = formula.evaluate(**at)
        steps: Steps = [*before, e]
        R = float(e.value)
        share = ring.at_edge if ring.reasons else ring.share
        if share < 1.0:
            less = bolt_holes.RING_REDUCED.evaluate(k_o=share, F=R)
            steps += [*(ring.steps if not ring.reasons else [Stated("k_o", "1", share, "at the least ring")]), less]
            R = float(less.value)
        if half:
            less = bolt_pull.PULL_OVER_ONE_SIDED.evaluate(P=R)
            steps.append(less)
            R = float(less.value)
        use = method.factor.required(group.load_factor) * pull / R
        if ring.reasons or ranged:
            bound = method.at_most(
                [*ring.reasons, *ranged], capacity=R, demand=demand, load_factor=group.load_factor,
                trace=[*steps, *after], where=place.where,
            )  # fmt: skip
            return Asked(bound, use)
        words = "pulled from one side: half counts (AISI S100 J4.4.2)" if half else ""
        check = method.judge(
            capacity=R, demand=demand, load_factor=group.load_factor, trace=[*steps, *after], where=place.where,
            note=joined("; ", (part for part in (note, words) if part)),
        )  # fmt: skip
        return Asked(check, use)

    counted = min(d_w, bolts_aisi.MOST_WASHER)
    edge, pitch = _room(place, pull)
    d = group.fastener.d
    # the rule has no diameter in it: its range is one of screws
    screw = bolts_en1993.SCREW_PULL_THROUGH
    size = min(max(d, least(screw, "d")), most(screw, "d"))
    t = min(sheet.t, WIDE_SHEET)
    thin = {
        "d_w": d_w, "t": t, "f_u": sheet.f_u, "d": size, "t_1": 1.0, "e_2": edge / d * size, "p_2": pitch / d * size,
    }  # fmt: skip
    room = {"e_2": max(edge / d, least(screw, "e_2 / d")) * size, "p_2": max(pitch / d, least(screw, "p_2 / d")) * size}
    over = (
        []
        if below(sheet.t, PLATE_FROM)
        else [f"t = {mm(sheet.t):.4g}: plate of {mm(PLATE_FROM)} and more goes to EN 1993-1-8"]
    )
    wide = f"; sheet over {mm(WIDE_SHEET)} counts as {mm(WIDE_SHEET)}" if above(sheet.t, WIDE_SHEET) else ""
    plate = bolts_en1993.PUNCHING
    punching = {"d_m": d_w, "t_p": sheet.t, "f_u": sheet.f_u, "d_0": place.d_0, "e_2": edge, "p_1": pitch}
    over_head = bolts_aisi.PULL_OVER_STRENGTH
    return [
        judged(
            AISI_PULL_OVER,
            over_head,
            {"t_1": sheet.t, "d_w": counted, "F_u1": sheet.f_u, "d": d, "e": edge, "s": pitch},
            hard=[*family(sheet, "AISI S100"), *_too_thick(sheet.t)],
            note="written for screws" + (f"; {mm(19)} is the most that counts" if counted < d_w else ""),
            at_edge={"e": max(edge, least(over_head, "e / d") * d), "s": max(pitch, least(over_head, "s / d") * d)},
            half=eccentric,
        ),
        judged(
            EN_PULL_THROUGH,
            screw,
            thin,
            hard=[*family(sheet, "EN 1993"), *over],
            note=f"written for screws; for bolts the standard asks for a test{wide}",
            at_edge={"t": max(t, THIN_SHEET), **room},
            half=eccentric,
        ),
        judged(
            EN_PUNCHING,
            plate,
            punching,
            hard=family(sheet, "EN 1993"),
            note="",
            at_edge={
                "t_p": max(sheet.t, PLATE_FROM),
                "e_2": max(edge, least(plate, "e_2 / d_0") * place.d_0),
                "p_1": max(pitch, least(plate, "p_1 / d_0") * place.d_0),
            },
        ),
    ]


def _room(place: Place, pull: Array) -> tuple[float, float]:
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


def _too_thick(t: float) -> list[str]:
    return (
        []
        if below(t, most(rupture.NET_RUPTURE, "t"))
        else [f"AISI S100 is for sheet under {either('3/16 in (4.76 mm)', '3/16 in')}"]
    )


def _spreader(place: Place, pull: Array) -> list[Asked]:
    group, sheet, action, where = place.group, place.sheet, place.action, place.where
    assert group.plate is not None
    _, _, t_p = group.plate
    short = min(group.plate[:2])
    demand = float(pull.max())
    given = action.share("T", pull)
    d_w, how = bears(group, 0.0)
    thick = at_least(sheet.t, backing_plate.PLATE_FROM)
    k_p = backing_plate.K_P_PLATE if thick else backing_plate.K_P_SHEET
    before: Steps = [
        *place.before,
        *how,
        Stated(
            "k_p",
            "1",
            k_p,
            f"plate of {mm(backing_plate.PLATE_FROM)} and more"
            if thick
            else f"sheet under {mm(backing_plate.PLATE_FROM)}",
        ),
    ]
    hole = group.d_plate
    ring = _ring(group, d_w, hole, t_p, "the plate")
    d_h = min(hole, d_w * 0.999)
    if ring.reasons:
        d_h = (
            d_w * (1 - 1e-3)
            if ring.at_edge >= 1.0
            else d_w - ring.at_edge * (d_w - min(group.fastener.hole, d_w * 0.999))
        )
    P_s = backing_plate.SHEET_PULL_THROUGH.evaluate(k_p=k_p, d_w=d_w, t=sheet.t, f_u=sheet.f_u)
    m_p = backing_plate.PLASTIC_MOMENT.evaluate(f_y_p=group.plate_yield, t_p=t_p)
    both = backing_plate.PLATE_AND_SHEET.evaluate(P_s=float(P_s.value), m_p=float(m_p.value), d_h=d_h, d_w=d_w)
    # two plates side by side stand on the same sheet: each has it as far as half way to the next
    R_p = min(short, group.pitch) / 2 if group.pitch is not None else short / 2
    # and where the sheet ends, no ring of it holds
    edge, _ = _room(place, pull)
    ends = below(edge, R_p)
    R_p = min(R_p, edge)
    rim = backing_plate.SHEET_AT_RIM.evaluate(k_p=k_p, R_p=R_p, t=sheet.t, f_u=sheet.f_u)
    capacity = min(float(both.value), float(rim.value))
    note = (
        f"the sheet gives way where it ends, {mm(edge):.3g} from the bolt: more edge helps, another plate does not"
        if ends and float(rim.value) < float(both.value)
        else "the sheet gives way at the plate's rim: a larger plate helps, a thicker one does not"
        if float(rim.value) < float(both.value)
        else "the plate bends before its rim is reached: a thicker plate helps, a larger one does not"
    )
    reach = backing_plate.WORKING_RADIUS.evaluate(P=capacity, k_p=k_p, t=sheet.t, f_u=sheet.f_u)
    trace: Steps = [*before, P_s, m_p, both, rim, given, reach]
    reasons = list(ring.reasons)
    wanted = least(bolts_en1993.PUNCHING, "e_2 / d_0") * group.d_0 if thick else _EDGE * group.fastener.d
    if below(edge, wanted):
        reasons.append(f"{mm(edge):.4g} to the edge, no rule of fasteners in sheet goes below {mm(wanted):.4g}")
    # the plate must bridge the hole in the sheet before anything holds it
    bridge = max(group.d_0, group.slot or 0.0) / 2 + bolt_holes.LEAST_RING
    if float(reach.value) < bridge and max(group.d_0, group.slot or 0.0) > group.fastener.hole * (1 + 1e-9):
        if bridge > R_p:
            reasons.append(
                f"the plate reaches {mm(R_p):.3g} from the bolt and has to bridge a hole in the sheet: {mm(bridge):.3g}"
            )
        elif bridge > d_w / 2:
            over = backing_plate.PLATE_ON_RING.evaluate(m_p=float(m_p.value), R=bridge, d_h=d_h, c=d_w / 2)
            if float(over.value) < capacity:
                capacity, note = float(over.value), "the plate bends over the hole in the sheet: a thicker plate helps"
                trace.append(over)
    asks: dict[str, Any] = {
        "capacity": capacity, "demand": demand, "load_factor": group.load_factor, "trace": trace,
        "where": where,
    }  # fmt: skip
    stop = family(sheet, "the pull-through rule")
    if stop:
        held = SPREADER.outside(stop, demand=demand, trace=trace, where=where)
    elif reasons:
        held = SPREADER.at_most(reasons, **asks)
    else:
        held = SPREADER.judge(**asks, note=note)
    contact = backing_plate.CONTACT_PRESSURE_LIMIT.evaluate(d_w=d_w, d_h=d_h, f_y_p=group.plate_yield)
    use = None if stop else SPREADER.factor.required(group.load_factor) * pull / capacity
    checks = [
        Asked(held, use),
        Asked(
            PLATE_CONTACT.judge(
                capacity=float(contact.value),
                demand=demand,
                load_factor=group.load_factor,
                trace=[contact, given],
                where=where,
            )
        ),
    ]
    too_large = f"a plate of {mm(short):.4g} is beyond the {mm(19)} that counts; the spreader plate's rule is used"
    checks.append(Asked(AISI_PULL_OVER.outside(too_large, demand=demand, where=where)))
    inputs = {"P": demand, "t_p": t_p, "nu": backing_plate.NU, "R": short / 2, "c": d_w / 2}
    if not backing_plate.PLATE_STRESS.outside(**inputs):
        stress = backing_plate.PLATE_STRESS.evaluate(**inputs)
        bent = backing_plate.PLATE_DEFLECTION.evaluate(
            P=demand, R=short / 2, E=backing_plate.E, t_p=t_p, nu=backing_plate.NU
        )
        checks.append(
            Asked(
                PLATE_ELASTIC.info(
                    capacity=group.plate_yield,
                    demand=float(stress.value),
                    unit="MPa",
                    trace=[stress, bent],
                    where=where,
                    note="under the service pull, resting on the largest circle in it, no hole counted",
                )
            )
        )
    return checks
