"""Collapse of the flat, tube or edge of a brace that a load or support stands on.

Not told where a load stands, the flat is judged: the middle of a flat between two webs, the free edge of a flange.
What stands on two flanges is shared by them.  Over a support a load stands on the flat as well; near an end of the
brace that nothing holds half of the yield lines are left.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import inf
from typing import Any

import numpy as np

from jointcalc.check.brace_action import CODES, BraceAction, worst_of
from jointcalc.check.brace_base import LOCAL
from jointcalc.check.brace_bending import bent_over
from jointcalc.check.common import Steps
from jointcalc.formula import local_load, plate_bending
from jointcalc.quantity.sentence import mm
from jointcalc.result import Check, Stated
from jointcalc.section.families.angle import Angle
from jointcalc.section.families.family import Family
from jointcalc.section.families.tube import Bar, Tube
from jointcalc.section.panels import Panel
from jointcalc.section.properties import Properties
from jointcalc.statics.beam_model import SpreadLoad


@dataclass(frozen=True, slots=True)
class Stand:
    """A flat, flange, tube or edge under loads: how it is held, its width, sheet, and how many share a load.

    Width and sheet are arrays over a batch of candidates.
    """

    how: str
    name: str
    b: Any
    t: Any
    share: int


def stands(family: Family, parts: tuple[Panel, ...], p: Properties, face: str) -> list[Stand]:
    """What loads on a face of the profile may stand on."""
    if isinstance(family, Bar):
        return [Stand("edge", "edge of the bar", family.depth, family.width, 1)]
    if isinstance(family, Tube):
        return [Stand("tube", "wall", family.od, family.t, 1)]
    height = p.z_top if face == "top" else p.z_bottom
    outer = [
        one
        for one in parts
        if one.level and one.count and abs(float(height[0]) - float(one.z_1[0])) <= float(one.t[0]) * 1.01
    ]
    held = [one for one in outer if one.role == "internal"]
    free = [one for one in outer if one.role == "outstand"]
    lips = {one.host for one in parts if one.role == "lip"}
    found = [Stand("held", one.name, _wide(one), one.t, 1) for one in held if one.name not in lips]
    # a lip holds the edge of a flange, but not like a web: the flange is taken as free
    found += [Stand("free", one.name, _wide(one), one.t, 1) for one in held if one.name in lips]
    if not held:
        found += [Stand("free", one.name, _wide(one), one.t, one.count) for one in free]
    if not found:
        found = [Stand("edge", "edge of the sheet", p.z_top - p.z_bottom, parts[0].t if parts else np.ones(1), 1)]
    return found


def _wide(p: Panel) -> Any:
    """Width between the mid-points of the bends [mm]."""
    return p.length + p.ext_1 + p.ext_2


def collapse_force(stand: Stand, *, f_y: float, c: float, beta: Any, spread: bool) -> Any:
    """Force [N] at which what loads stand on collapses over a length `c`: arrays over candidates, for searches.

    Edges are left to the full check.
    """
    if stand.how == "edge":
        return np.inf
    m_p = plate_bending.PLASTIC_MOMENT(f_y=f_y, t=stand.t)
    along = local_load.MOMENT_ALONG(m_p=m_p, beta=beta)
    hinges = {"m_across": local_load.MOMENT_ACROSS(m_p=m_p, beta=beta), "m_along": along}
    if stand.how == "tube":
        return local_load.COLLAPSE_TUBE(**hinges)
    if spread:
        line = local_load.LINE_COLLAPSE_HELD if stand.how == "held" else local_load.LINE_COLLAPSE_FREE
        return line(m_along=along, b=stand.b) * stand.share * c
    round_ = local_load.COLLAPSE_HELD if stand.how == "held" else local_load.COLLAPSE_FREE
    return round_(**hinges, c=c, b=stand.b) * stand.share


def _stress(action: BraceAction, start: float, end: float) -> tuple[float, bool]:
    """(greatest bending over its resistance between two places, service loads; whether some method judges it).

    A method that is left on its weak side counts with its edge: thicker sheet, within its range, is bent no more.
    """
    own = np.clip(np.array([start, (start + end) / 2, end]), 0.0, action.brace.length)
    x, M, _ = action.along
    M = np.concatenate(
        [action.beam.moment(own, "left"), action.beam.moment(own, "right"), M[(x >= start) & (x <= end)]]
    )
    known = any(np.isfinite(bent_over(action, code, M).max()) for code in CODES)
    return max(float(bent_over(action, code, M, at_least=True).max()) for code in CODES), known


def _collapse(action: BraceAction, stand: Stand, c: float, beta: float) -> tuple[float, Steps]:
    """(force at which what a load stands on collapses over a length c, working)."""
    stand = replace(stand, b=float(np.atleast_1d(stand.b)[0]), t=float(np.atleast_1d(stand.t)[0]))
    if stand.how == "edge":
        strut = local_load.EDGE_STRUT_FORCE.evaluate(E=action.E, t=stand.t, c=c, h=stand.b)
        yielded = local_load.EDGE_YIELD.evaluate(f_y=action.f_y, t=stand.t, c=c)
        both = local_load.EDGE_COLLAPSE.evaluate(F_yield=float(yielded.value), F_strut=float(strut.value))
        return float(both.value), [strut, yielded, both]
    m_p = plate_bending.PLASTIC_MOMENT.evaluate(f_y=action.f_y, t=stand.t)
    across = local_load.MOMENT_ACROSS.evaluate(m_p=float(m_p.value), beta=beta)
    along = local_load.MOMENT_ALONG.evaluate(m_p=float(m_p.value), beta=beta)
    hinges = {"m_across": float(across.value), "m_along": float(along.value)}
    steps: Steps = [Stated("beta", "1", beta, "bending there over its resistance, as it collapses"), m_p, across, along]
    if stand.how == "tube":
        last = local_load.COLLAPSE_TUBE.evaluate(**hinges)
    elif c > action.local_reach:
        # spread along the brace: what it carries is per length
        line = local_load.LINE_COLLAPSE_HELD if stand.how == "held" else local_load.LINE_COLLAPSE_FREE
        last = line.evaluate(m_along=hinges["m_along"], b=stand.b)
        return float(last.value) * stand.share * c, [*steps, last]
    elif stand.how == "held":
        last = local_load.COLLAPSE_HELD.evaluate(**hinges, c=c, b=stand.b)
    else:
        last = local_load.COLLAPSE_FREE.evaluate(**hinges, c=c, b=stand.b)
    return float(last.value) * stand.share, [*steps, last]


def _growing(
    action: BraceAction, stand: Stand, c: float, beta: float, force: float, part: float
) -> tuple[float, Steps]:
    """(force at collapse, working) while the moment of the brace grows with it from `beta` at the service load."""
    low, high = 0.0, 1.0 / beta if beta > 0 else inf
    if high == inf or stand.how == "edge":
        capacity, steps = _collapse(action, stand, c, min(beta, 1.0))
        return capacity * part, steps
    spread = c > action.local_reach
    for _ in range(50):
        middle = (low + high) / 2
        most = collapse_force(stand, f_y=action.f_y, c=c, beta=min(middle * beta, 1.0), spread=spread)
        holds = float(np.atleast_1d(most)[0]) * part >= middle * force
        low, high = (middle, high) if holds else (low, middle)
    _, steps = _collapse(action, stand, c, min(low * beta, 1.0))
    grown = Stated("k", "1", low, "times the service loads, the moment grown alike")
    return max(low * force, 1e-12), [*steps, grown]


WHERE = {
    "held": "in the middle of the {name}",
    "free": "at the free edge of the {name}",
    "tube": "on the {name}",
    "edge": "on the {name}",
}


END = 0.5
"""Part of the yield lines that is left at a free end, where nothing holds the sheet on one side (derivation)."""


def _near_end(action: BraceAction, stand: Stand, start: float, end: float) -> float:
    """Part of the collapse force that is left near an end of the brace which nothing holds against turning.

    The lines of a flat reach half its width beside the load, those of a flange its width.
    """
    if stand.how == "edge" or end - start > action.local_reach:
        return 1.0  # no lines beside it, or so long that its ends are a small part
    reach = float(np.atleast_1d(stand.b)[0]) * (1.0 if stand.how == "free" else 0.5)
    fixed = [one.at for one in action.brace.supports if one.rotation == inf]
    length, over = action.brace.length, action.brace.overhang
    gaps = [
        gap + over for at, gap in ((0.0, start), (length, length - end)) if not any(abs(at - x) < 1e-6 for x in fixed)
    ]
    part = min([1.0, *(max(gap, 0.0) / reach for gap in gaps)])
    return END + (1.0 - END) * part


def local_collapse(action: BraceAction) -> list[Check]:
    """Loads that stand on a flat between webs, a flange, a tube or an edge; none where they stand over the webs."""
    if action.brace.over == "webs" and action.webs and not isinstance(action.family, Bar):
        return []
    found_stands = stands(action.family, action.parts, action.p, action.face("top"))
    presses: list[tuple[str, float, float, float]] = [
        (b.what, b.force, b.at - b.length / 2, b.at + b.length / 2) for b in action.pressing
    ]
    for one in action.brace.loads:
        if isinstance(one, SpreadLoad) and one.end - one.start > action.local_reach:
            q = max(abs(float(one.first)), abs(float(one.last)))
            length = one.end - one.start
            presses.append((f"load from {mm(one.start, ' to ', one.end):g}", q * length, one.start, one.end))
    if isinstance(action.family, Tube | Angle | Bar) and not action.brace.fastened:
        presses += [(b.what, b.force, b.at - b.length / 2, b.at + b.length / 2) for b in action.bearings if b.support]
    if not presses or not found_stands:
        return []
    found = []
    for what, force, start, end in presses:
        c = end - start
        beta, known = _stress(action, start, end)
        for stand in found_stands:
            if stand.how == "edge" and c > action.local_reach:
                continue  # spread along the edge it is no local force
            end_of = END if stand.how == "tube" and what.startswith("support") else _near_end(action, stand, start, end)
            capacity, steps = _growing(action, stand, c, beta, force, end_of)
            found.append((force / capacity, (what, force, stand, capacity, steps, known)))
    best: Any = worst_of(found)
    if best is None:
        return []
    what, force, stand, capacity, steps, known = best
    told = WHERE[stand.how].format(name=stand.name)
    note = f"{what}, standing {told}" + (f", {stand.share} of them sharing" if stand.share > 1 else "")
    if action.webs and not action.brace.over and stand.how != "edge":
        note += "; over the webs it would not: say so (over) where a foot, plate or sheet reaches from web to web"
    trace: Steps = [Stated("F", "N", force, what), *steps]
    if not known:
        # nobody knows how near to its strength it is bent: bent by the least that is known, the flat is a bound
        reason = f"{note}; how much the brace is bent there is not judged"
        return [LOCAL.at_most(reason, capacity=capacity, demand=force, load_factor=action.gamma, trace=trace)]
    return [LOCAL.judge(capacity=capacity, demand=force, load_factor=action.gamma, trace=trace, note=note)]
