"""A spreader plate under the nut: the sheet pulled over it, and the nut bearing on it.

The plate is our own lower bound (`jointcalc.formula.backing_plate`); it is read in the order in which things give way.
"""

from __future__ import annotations

from typing import Any, NamedTuple

from jointcalc.check.bolts_action import Place
from jointcalc.check.bolts_base import Asked, family
from jointcalc.check.bolts_head import AISI_PULL_OVER
from jointcalc.check.bolts_ring import bears, ring, room
from jointcalc.check.common import INFORMATION, LOAD_ALONE, PARTIAL, Steps
from jointcalc.formula import backing_plate, bolt_holes, bolts_en1993
from jointcalc.formula.branch import at_least, below, least
from jointcalc.quantity.sentence import mm
from jointcalc.result import Stated, method
from jointcalc.statics.group_common import Array

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
HARDLY = 1e-3
"""Radius [mm] that is left where a width does not reach over its holes: hardly anything, and not less than nothing."""
_EDGE = least(bolts_en1993.SCREW_PULL_THROUGH, "e_2 / d")
"""Least edge distance of a fastener in thin sheet, in its diameters."""


def spreader(place: Place, pull: Array) -> list[Asked]:
    """What a spreader plate holds of each fastener's pull (n,) [N]: the sheet, the nut on it, its elastic stress."""
    group, sheet, where = place.group, place.sheet, place.where
    assert group.plate is not None
    short, demand = min(group.plate[:2]), float(pull.max())
    d_w, _ = bears(group, 0.0)
    capacity, trace, reasons, note, d_h = _held(place, pull)
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
    on_plate = PLATE_CONTACT.judge(
        capacity=float(contact.value), demand=demand, load_factor=group.load_factor,
        trace=[contact, place.action.share("T", pull)], where=where,
    )  # fmt: skip
    too_large = f"a plate of {mm(short):.4g} is beyond the {mm(19)} that counts; the spreader plate's rule is used"
    beyond = AISI_PULL_OVER.outside(too_large, demand=demand, where=where)
    return [Asked(held, use), Asked(on_plate), Asked(beyond), *_elastic(place, demand, d_w)]


class _Held(NamedTuple):
    """Pull [N] that sheet and plate hold, its working, what is out of range, what would help, the hole counted [mm]."""

    capacity: float
    trace: Steps
    reasons: list[str]
    note: str
    d_h: float


def _held(place: Place, pull: Array) -> _Held:
    group, sheet = place.group, place.sheet
    assert group.plate is not None
    t_p = group.plate[2]
    short = min(group.plate[:2])
    given = place.action.share("T", pull)
    d_w, how = bears(group, 0.0)
    thick = at_least(sheet.t, backing_plate.PLATE_FROM)
    k_p = backing_plate.K_P_PLATE if thick else backing_plate.K_P_SHEET
    least_plate = mm(backing_plate.PLATE_FROM)
    kind = f"plate of {least_plate} and more" if thick else f"sheet under {least_plate}"
    before: Steps = [*place.before, *how, Stated("k_p", "1", k_p, kind)]
    hole = group.d_plate
    stands = ring(group, d_w, hole, t_p, "the plate")
    d_h = min(hole, d_w * 0.999)
    if stands.reasons:
        d_h = (
            d_w * (1 - 1e-3)
            if stands.at_edge >= 1.0
            else d_w - stands.at_edge * (d_w - min(group.fastener.hole, d_w * 0.999))
        )
    P_s = backing_plate.SHEET_PULL_THROUGH.evaluate(k_p=k_p, d_w=d_w, t=sheet.t, f_u=sheet.f_u)
    m_p = backing_plate.PLASTIC_MOMENT.evaluate(f_y_p=group.plate_yield, t_p=t_p)
    both = backing_plate.PLATE_AND_SHEET.evaluate(P_s=float(P_s.value), m_p=float(m_p.value), d_h=d_h, d_w=d_w)
    # two plates side by side stand on the same sheet: each has it as far as half way to the next
    R_p = min(short, group.pitch) / 2 if group.pitch is not None else short / 2
    # and where the sheet ends, no ring of it holds
    edge, _ = room(place, pull)
    ends = below(edge, R_p)
    R_p = max(min(R_p, edge), HARDLY)
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
    reasons = list(stands.reasons)
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
    return _Held(capacity, trace, reasons, note, d_h)


def _elastic(place: Place, demand: float, d_w: float) -> list[Asked]:
    """The elastic stress in the plate, told: bent on the largest circle in it."""
    group = place.group
    assert group.plate is not None
    short, t_p = min(group.plate[:2]), group.plate[2]
    inputs = {"P": demand, "t_p": t_p, "nu": backing_plate.NU, "R": short / 2, "c": d_w / 2}
    if backing_plate.PLATE_STRESS.outside(**inputs):
        return []
    stress = backing_plate.PLATE_STRESS.evaluate(**inputs)
    bent = backing_plate.PLATE_DEFLECTION.evaluate(
        P=demand, R=short / 2, E=backing_plate.E, t_p=t_p, nu=backing_plate.NU
    )
    told = PLATE_ELASTIC.info(
        capacity=group.plate_yield, demand=float(stress.value), unit="MPa", trace=[stress, bent], where=place.where,
        note="under the service pull, resting on the largest circle in it, no hole counted",
    )  # fmt: skip
    return [Asked(told)]
