"""Fasteners in line with the force: the end of the line while all is elastic, and joints too long to share alike.

The codes judge each fastener by equal shares, for the sheet yields at its holes before a fastener breaks.  EN 1993-1-8
takes that back for long lines (3.8).  What the end fastener gets before anything yields is told beside it: a slip in
the holes evens it out once, a load that comes and goes does not.
"""

from __future__ import annotations

import numpy as np

from jointcalc.check.bolts_action import BoltsAction
from jointcalc.check.common import CHARACTERISTIC, INFORMATION, PARTIAL
from jointcalc.formula import bolts_en1993
from jointcalc.formula import row_sharing as rs
from jointcalc.formula.branch import above, least
from jointcalc.formula.core import Evaluation
from jointcalc.model.sheet import Sheet
from jointcalc.quantity.sentence import mm
from jointcalc.result import Check, Stated, method
from jointcalc.statics.row import Array, shares

IN_LINE = method(
    "shear-lag.fasteners",
    "End of the line while all is elastic",
    rs.LAP,
    per="fastener",
    bound="information",
    basis="elastic load sharing",
    factor=INFORMATION,
)
LONG_JOINT = method(
    "en1993-1-8.long-joint",
    "Fastener of a long joint, shear",
    bolts_en1993.LONG_JOINTS,
    per="fastener",
    basis=CHARACTERISTIC,
    factor=PARTIAL,
)
STEEL = 210e3
"""Modulus of the fastener [MPa]: of steel, the stiffest in use, which loads the end most."""
FEW = 3
"""Fasteners in line from which on an end stands out."""


def lines(action: BoltsAction) -> tuple[Array, Array] | None:
    """(places along the force [mm], fasteners at each) where several places stand in line with it; None otherwise."""
    if action.net is None or not action.even_shear:
        return None
    along = action.group.points @ action.net
    step = 0.25 * action.item.d_0
    order = np.sort(along)
    first = np.concatenate(([True], np.diff(order) > step))
    at = np.flatnonzero(first)
    count = np.diff(np.append(at, len(order))).astype(np.float64)
    return order[at], count


def in_line(action: BoltsAction, checks: list[Check]) -> list[Check]:
    """What the end fastener of a line takes, and the code's reduction of long lines."""
    found = lines(action)
    if found is None or len(found[0]) < FEW or not action.shear_max:
        return []
    places, count = found
    return [*_elastic(action, places, count), *_long(action, float(places[-1] - places[0]), checks)]


def _elastic(action: BoltsAction, places: Array, count: Array) -> list[Check]:
    group, f = action.item, action.item.fastener
    across = action.group.points @ np.array([-action.net[1], action.net[0]]) if action.net is not None else np.zeros(1)
    width = group.width if group.width is not None else float(np.ptp(across)) + 2 * group.edge_used
    formula = rs.FASTENER_GIVE_BOLTED if f.kind == "bolt" else rs.FASTENER_GIVE_RIVETED
    others: list[Sheet | None] = [*group.sheets[1:]] or [None]
    found: list[tuple[float, Evaluation]] = []
    for a, b in zip(group.sheets, others):
        # of one sheet the other part is not described: stiff, it leaves all of the stretch to the sheet
        t_2, E_2 = (b.t, b.material.E) if b is not None else (group.d_0, a.material.E)
        give = formula.evaluate(t_1=a.t, t_2=t_2, d=f.d, E_1=a.material.E, E_2=E_2, E_f=STEEL)
        own = 1 / (a.material.E * width * a.t)
        strips = own if b is None else own + 1 / (E_2 * width * t_2)
        first = max(own / strips, 1 - own / strips)
        push = np.zeros(len(places))
        push[0], push[-1] = first, 1 - first
        each = shares(stiffness=count / float(give.value), gaps=np.diff(places), give=strips, push=push) / count
        found.append((float(each.max()), give))
    part, give = max(found, key=lambda one: one[0])
    load = part * float(np.hypot(action.load.F_x, action.load.F_y))
    times = part * float(count.sum())
    note = (
        f"a lap {mm(width):.4g} wide pulled in line: the end takes {times:.3g} times an equal share until the sheet "
        "yields at its hole; told and not judged, for the codes judge by equal shares"
    )
    end = Stated("F_end", "N", load, "the end fastener, elastic")
    return [IN_LINE.info(demand=load, trace=[give, end], note=note)]


def _long(action: BoltsAction, length: float, checks: list[Check]) -> list[Check]:
    """EN 1993-1-8, 3.8: the shear resistance of every fastener less by the length of the joint."""
    shear = next((c for c in checks if c.key == "en1993-1-8.bolt-shear" and c.status in ("ok", "over")), None)
    d = action.item.fastener.d
    if (
        shear is None
        or shear.capacity is None
        or shear.demand is None
        or not above(length / d, least(bolts_en1993.LONG_JOINT, "L_j / d"))
    ):
        return []
    factor = bolts_en1993.LONG_JOINT.evaluate(L_j=length, d=d)
    return [
        LONG_JOINT.judge(
            capacity=float(factor.value) * (shear.capacity.value or 0.0), demand=shear.demand.value or 0.0,
            required=shear.required_factor, trace=[*shear.trace, factor],
            note=f"{mm(length):.4g} between the end fasteners",
        )
    ]  # fmt: skip
