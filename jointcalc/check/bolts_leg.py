"""The leg of a bracket, and what it pries off its fasteners."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from jointcalc.check.bolts_action import BoltsAction, Place
from jointcalc.check.common import YIELDS, Steps, gamma_M0
from jointcalc.formula import bolt_pull, plate_bending
from jointcalc.quantity.sentence import joined, mm
from jointcalc.result import Check, Stated, method
from jointcalc.statics.group_common import Array

LEG = method(
    "en1993-1-8.bracket-leg",
    "Leg of the bracket bent",
    bolt_pull.T_STUB,
    per="fastener",
    basis="yield lines of half a T-stub",
    factor=YIELDS,
    covers=("bending",),
)

UPRIGHT_ASSUMED = 25.0
"""Distance from a bolt to the upright of its bracket [mm] where the builder gives none: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Leg:
    """The leg of a bracket, sheet `n` (from 0): `m` [mm] to its upright, whence, check, prying (n,) [N], working."""

    n: int
    m: float
    how: str
    check: Check
    prying: Array
    step: Steps


def legs(action: BoltsAction) -> tuple[Leg, ...]:
    """The bracket's leg where there is one: its upright is given, or the load tilts a joint of two or more sheets.

    Where none is said to be the bracket, both outer sheets are taken for it: the worse governs.
    """
    group = action.item
    last = len(group.sheets)
    if not action.pull_max or group.fastener.kind == "rivet":
        return ()
    if group.upright is None and not (last > 1 and action.one_sided):
        return ()
    if group.pulled in (1, last):
        return (_leg(action, group.pulled - 1),)
    if group.upright is None and group.pulled is not None:
        return ()  # what is pulled lies between the others, and has no leg
    return tuple(_leg(action, n) for n in sorted({0, last - 1}))


def _leg(action: BoltsAction, n: int) -> Leg:
    """Sheet `n` (from 0) as the leg of a bracket."""
    group = action.item
    place = Place(action, n)
    sheet = place.sheet
    edge = place.nearest_edge
    e = group.edge_used if edge is None else edge
    if group.upright is not None:
        m, how = group.upright, "as given"
    else:
        m, how = UPRIGHT_ASSUMED, "taken by habit: give 'upright'"
    stated = Stated("m", "mm", m, how)
    if not sheet.has_yield:
        check = LEG.outside(no_yield(), demand=action.pull_max, where=place.where)
        return Leg(n, m, how, check, np.zeros_like(action.pull), [])
    moment = plate_bending.PLASTIC_MOMENT.evaluate(f_y=sheet.f_y, t=sheet.t)
    b = min(2 * e, group.pitch) if group.pitch is not None else 2 * e
    length = bolt_pull.LEG_LENGTH.evaluate(m=m, e=e, b=b)
    fold = bolt_pull.LEG_FOLD.evaluate(m_p=float(moment.value), l_eff=float(length.value), m=m)
    partial, metal = gamma_M0([sheet])
    assumed = f"upright {mm(m):.3g} from the bolt, {how}" if group.upright is None else ""
    check = LEG.judge(
        capacity=float(fold.value),
        demand=action.pull_max,
        required=partial * group.load_factor,
        where=place.where,
        trace=[
            *place.before, stated, moment, Stated("b", "mm", b, "leg for one bolt: to the edges, or the pitch"),
            length, fold, action.how_pull,
        ],
        note=joined("; ", filter(None, (assumed, metal))),
    )  # fmt: skip
    lever = min(e, bolt_pull.MOST_LEVER * m)
    inputs: dict[str, Any] = {"m": m, "m_p": float(moment.value), "l_eff": float(length.value), "n": lever}
    gamma = group.load_factor
    Q = bolt_pull.PRYING(P=gamma * action.pull, **inputs) / gamma
    worst = bolt_pull.PRYING.evaluate(P=gamma * action.pull_max, **inputs)
    steps: Steps = [stated, moment, length, worst] if float(Q.max()) else []
    return Leg(n, m, how, check, np.asarray(Q, dtype=np.float64), steps)


def no_yield() -> str:
    """Why nothing can be said of metal whose yield strength is not known."""
    return "the standard of the grade lets no yield strength be assumed; give 'yield_strength'"
