"""The sheet that brings a load beside its fasteners: bent in its own plane, and sheared, where it leaves the group.

Beyond the holes nearest to the load every section of the sheet carries the load and its arm whole, so that the section
through those holes is bent hardest.  What runs on from there to the load is a member, and judged as one.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from jointcalc.check.bolts_action import BoltsAction, Place
from jointcalc.check.bolts_base import family
from jointcalc.check.bolts_leg import no_yield
from jointcalc.check.common import CHARACTERISTIC, YIELDS, gamma_M0
from jointcalc.formula import rupture
from jointcalc.formula.branch import above
from jointcalc.quantity.sentence import Measure, joined, mm, newtons
from jointcalc.result import Check, Stated, caution, method
from jointcalc.result.cautions import Caution

SECTION = method(
    "en1993-1-1.section-at-holes", "Section at the holes, bent in its plane", rupture.EN_SECTION, per="group",
    basis=CHARACTERISTIC, factor=YIELDS,
)  # fmt: skip
RUNS_ON = "what runs on from the holes to the load is a member: it may roll over sideways sooner"
NOTHING = 1e-6
"""Part of a load, or of a load times the reach of the group, that is none."""


@dataclass(frozen=True, slots=True)
class _Cut:
    """A section across the sheet: which way its normal lies and where, depth [mm], and what passes [N, N mm]."""

    axis: int
    station: float
    h: float
    middle: float
    N: float
    V: float
    M: float
    where: str


def _cuts(action: BoltsAction, low: tuple[float, float], high: tuple[float, float], how: str) -> list[_Cut]:
    """The sections that all of the load passes between group and load, in a sheet that reaches from `low` to `high`."""
    group, load = action.item, action.load
    points, force = action.group.points, action.force[:, :2]
    least, most = points.min(axis=0), points.max(axis=0)
    inside = group.at is not None and all(least[k] <= group.at[k] <= most[k] for k in (0, 1))
    turned_alone = group.at is None or (inside and group.moment is not None and group.moment[2] != 0)
    found = []
    for axis in (0, 1):
        other = 1 - axis
        along = points[:, axis]
        if group.at is None or turned_alone:
            # a moment alone comes from where the sheet runs
            if high[axis] - low[axis] < high[other] - low[other]:
                continue
            ahead = high[axis] - along.max() >= along.min() - low[axis]
        elif group.at[axis] > along.max() or group.at[axis] < along.min():
            ahead = group.at[axis] > along.max()
        else:
            continue
        station = float(along.max() if ahead else along.min())
        middle = (low[other] + high[other]) / 2
        arms = points - np.array([station, middle] if axis == 0 else [middle, station])
        M = float(np.sum(arms[:, 0] * force[:, 1] - arms[:, 1] * force[:, 0]))
        N, V = (float(force[:, k].sum()) for k in (axis, other))
        size = float(np.hypot(load.F_x, load.F_y))
        reach = float(np.ptp(points, axis=0).max()) + group.d_0
        if abs(V) <= NOTHING * size and abs(M) <= NOTHING * max(size, float(action.shear_max)) * reach:
            continue
        found.append(_Cut(axis, station, high[other] - low[other], middle, N, V, M, how))
    return found


def _judged(place: Place, cut: _Cut) -> Check | None:
    """One section of one sheet; None where the holes leave nothing of it, which the net section says."""
    group, sheet, action = place.group, place.sheet, place.action
    here = action.group.points[np.abs(action.group.points[:, cut.axis] - cut.station) < place.d_0 / 2][:, 1 - cut.axis]
    tall = place.d_0
    if group.slot is not None and "xy"[1 - cut.axis] == group.slot_along:
        tall = group.slot
    A = sheet.t * cut.h
    I_net = sheet.t * (cut.h**3 / 12 - float(np.sum(tall**3 / 12 + tall * (here - cut.middle) ** 2)))
    if I_net <= 0 or tall * len(here) >= cut.h:
        return None
    W_net = I_net / (cut.h / 2)
    passes = [
        Stated("N", "N", abs(cut.N), "passes the section along the sheet"),
        Stated("V", "N", abs(cut.V), "passes it across"),
        Stated("M", "N*mm", abs(cut.M), f"of all the load, at {'xy'[cut.axis]} = {mm(cut.station):g}"),
    ]
    size = Stated("W_net", "mm^3", W_net, f"{mm(sheet.t, ' x ', cut.h):.4g} ({cut.where}), less {len(here)} holes")
    stress = rupture.SECTION_STRESS.evaluate(
        N=abs(cut.N), V=abs(cut.V), M=abs(cut.M), A=A, W_net=W_net,
    )  # fmt: skip
    demand = float(stress.value)
    wrong = [*family(sheet, "EN 1993"), *([] if sheet.has_yield else [no_yield()])]
    if wrong:
        return SECTION.outside(wrong, demand=demand, unit="MPa", where=place.where)
    partial, metal = gamma_M0([sheet])
    return SECTION.judge(
        capacity=sheet.f_y, demand=demand, required=partial * group.load_factor, unit="MPa", where=place.where,
        trace=[*place.before, size, *passes, stress, Stated("f_y", "MPa", sheet.f_y, "yield strength of the sheet")],
        note=joined("; ", filter(None, (RUNS_ON, metal))),
    )  # fmt: skip


def _places(action: BoltsAction) -> list[Place]:
    """The sheet that brings the load; every one while that is not said."""
    pulled = action.item.pulled
    return [Place(action, n) for n in range(len(action.item.sheets)) if pulled is None or n == pulled - 1]


def turned(action: BoltsAction) -> list[Check]:
    """The section at the holes of each sheet whose outline is known."""
    checks = []
    for place in _places(action):
        if place.corners is None:
            continue
        x1, y1, x2, y2 = place.corners
        found = [_judged(place, cut) for cut in _cuts(action, (x1, y1), (x2, y2), "the outline")]
        every = [c for c in found if c is not None]
        if every:
            checks.append(max(every, key=lambda c: (c.demand.value or 0.0) if c.demand is not None else 0.0))
    return checks


def turned_unknown(action: BoltsAction) -> list[Caution]:
    """That a sheet of unknown outline, no deeper than its holes and edges, would yield at its holes; else nothing."""
    places = [place for place in _places(action) if place.corners is None]
    worst: tuple[float, _Cut] | None = None
    for place in places:
        low = action.group.points.min(axis=0) - place.edge
        high = action.group.points.max(axis=0) + place.edge
        for cut in _cuts(action, (low[0], low[1]), (high[0], high[1]), "holes and edges"):
            check = _judged(place, cut)
            if (
                check is not None
                and check.status == "over"
                and above(check.utilisation or 0.0, worst[0] if worst else 1.0)
            ):
                worst = check.utilisation or 0.0, cut
    if worst is None:
        return []
    cut = worst[1]
    moment, across = Measure(abs(cut.M), unit="N·mm"), f"{newtons(abs(cut.V)):.4g}"
    return [caution("sheet-turned", moment=f"{moment:.4g}", across=across, depth=f"{mm(cut.h):.4g}")]
