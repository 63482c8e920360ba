"""Bolts, rivnuts and blind rivets in sheet, alone or in a group, by every applicable published method side by side.

The load is spread over the fasteners elastically (vector method, the arm of the load counted in space); each method
then judges the worst fastener.  For bolts the instantaneous centre of rotation stands beside it when the load lies in
the plane.  Contact pressure between the parts is not counted.

What is asked stands in its own module: the fastener itself (`bolts_fastener`); the sheet in its plane at one fastener
(`bolts_sheet`), through a row of them (`bolts_section`), torn out in a block (`bolts_block`), bent where it leaves the
group (`bolts_turned`); the sheet out of its plane (`bolts_pull`) pulled over a head (`bolts_head`) or a spreader plate
(`bolts_spreader`) by what it stands on (`bolts_ring`), bent between its supports (`bolts_bend`); the leg of a bracket
(`bolts_leg`); lines loaded from an end (`bolts_row`); load changes (`bolts_lasting`). What each fastener gets and what
sheet stands round it: `bolts_action`; how a formula is asked of all of them: `bolts_base`; loads that nothing covers
and cautions: `bolts_notes`.
"""

from __future__ import annotations

import numpy as np

from jointcalc.check.bolts_action import BoltsAction, Place
from jointcalc.check.bolts_bend import bending
from jointcalc.check.bolts_block import blocks
from jointcalc.check.bolts_fastener import fastener
from jointcalc.check.bolts_lasting import lasting
from jointcalc.check.bolts_leg import legs
from jointcalc.check.bolts_notes import cautions_of, unjudged_of
from jointcalc.check.bolts_pull import pull_through
from jointcalc.check.bolts_row import IN_LINE, in_line
from jointcalc.check.bolts_section import sections
from jointcalc.check.bolts_sheet import ductility, in_plane
from jointcalc.check.bolts_turned import turned
from jointcalc.check.common import ADDED, INFORMATION, LIMIT
from jointcalc.errors import InputError
from jointcalc.formula.core import Evaluation, Source
from jointcalc.model.bolts import FastenerGroup
from jointcalc.model.fields import NO_LOAD
from jointcalc.quantity.sentence import joined, mm
from jointcalc.result import (
    DETAILING,
    Amount,
    Check,
    Looked,
    Result,
    Stated,
    method,
)
from jointcalc.statics.group_common import Array
from jointcalc.tables.store import load as table

LINEAR = Source(
    "linear interaction",
    "exponent 1",
    "derivation",
    "the safe end; AISI J4.5.1 weighs the pull by 0.71 for screws",
)
TOGETHER = method(
    "interaction.bearing-pull",
    "Bearing and pull together",
    LINEAR,
    per="fastener",
    basis="sum of utilisations",
    factor=ADDED,
)
SPACING = method(
    "detail.hole-spacing",
    "Spacing of the holes",
    Source("EN 1993-1-3:2006 Table 8.4; EN 1993-1-8 Table 3.3", "", "from memory"),
    per="mm",
    basis=DETAILING,
    bound="least",
    factor=INFORMATION,
)
PLATE_AREA = method(
    "detail.plate-area",
    "Spreader plate, area",
    Source("Queensland light-vehicle code", "cl. 2.1 to 2.5", "second-hand"),
    per="fastener",
    basis=DETAILING,
    bound="least",
    factor=LIMIT,
)
PLATE_THICKNESS = method(
    "detail.plate-thickness",
    "Spreader plate, thickness",
    Source("Queensland light-vehicle code", "cl. 2.1 to 2.5", "second-hand"),
    per="mm",
    basis=DETAILING,
    bound="least",
    factor=LIMIT,
)

OCCUPANT = ("seat", "belt", "child restraint")
MOST_TOLD = 24
"""Fasteners of a group whose own shares are told, one by one."""


def check_bolts(group: FastenerGroup) -> Result:
    """Judge a group of fasteners; raises InputError when it has no stiffness against the load.

    `peak` is the highest resultant on a fastener, `peak_fastener` its number in the order given (from 1), `peak_at_x`
    and `peak_at_y` its place, `peak_at` its distance from the centroid of the group; `pull_max` is the largest elastic
    share of the pull, `prying_max` what the leg of a bracket adds to it.  Of a group of up to `MOST_TOLD` fasteners
    `fastener_1_shear` and `fastener_1_pull` (negative where it presses) are the elastic shares of the first.
    """
    if not group.loaded_by_itself:
        raise InputError(NO_LOAD, field="force")
    action = BoltsAction(group)
    f = group.fastener
    brackets = legs(action)
    prying = np.max([np.zeros_like(action.pull), *(leg.prying for leg in brackets)], axis=0)
    pull = action.pull + prying
    places = [Place(action, n) for n in range(len(group.sheets))]
    checks = fastener(action, pull)
    used: dict[str, Array] = {}
    sheets: list[Check] = []
    for place in places:
        found, uses = in_plane(action, place)
        sheets += found
        used |= uses
    checks += sheets
    checks += ductility(action, sheets)
    checks += in_line(action, checks)
    for place in places:
        checks += [*sections(place), *blocks(place)]
    checks += turned(action)
    pulls, uses = pull_through(action, pull, brackets)
    checks += pulls
    checks += _bearing_and_pull(sheets, pulls, used | uses, action)
    checks += bending(action, pull, brackets)
    checks += lasting(action, pull, places)
    checks += _details(group)
    values = {
        "fasteners": Amount(float(len(group.holes)), "1"),
        "peak": Amount(action.peak, "N"),
        "peak_at": Amount(action.peak_radius, "mm"),
        "peak_at_x": Amount(action.peak_at[0], "mm"),
        "peak_at_y": Amount(action.peak_at[1], "mm"),
        "peak_fastener": Amount(float(action.peak_fastener + 1), "1"),
        "shear_max": Amount(action.shear_max, "N"),
        "pull_max": Amount(action.pull_max, "N"),
        "prying_max": Amount(float(prying.max()), "N"),
        "hole_diameter": Amount(group.d_0, "mm"),
    }
    if 1 < len(group.holes) <= MOST_TOLD:
        for n, (shear, lift) in enumerate(zip(action.shear, action.pull - action.press, strict=True), 1):
            values[f"fastener_{n}_shear"] = Amount(float(shear), "N")
            values[f"fastener_{n}_pull"] = Amount(float(lift), "N")
    end = next((c for c in checks if c.method is IN_LINE), None)
    if end is not None and end.demand is not None:
        values["peak_elastic"] = end.demand
    return Result(
        kind=group.kind,
        id=group.id,
        title=group.title,
        checks=tuple(checks),
        values=values,
        cautions=cautions_of(group, action, places, checks, brackets),
        unjudged=unjudged_of(group, action, places, checks),
        model=group,
        about={
            "fastener": f"{len(group.holes)} x {f.label}",
            "sheets": joined(" + ", (sheet.label for sheet in group.sheets)),
            **(
                {"plate": f"plate {mm(group.plate[0], ' x ', group.plate[1], ' x ', group.plate[2]):g}"}
                if group.plate
                else {}
            ),
        },
    )


def _bearing_and_pull(
    sheets: list[Check], pulls: list[Check], used: dict[str, Array], action: BoltsAction
) -> list[Check]:  # fmt: skip
    """Bearing and pull-through of each fastener added, the worst of the methods in each, sheet by sheet.

    A method left on its weak side comes in by its bound at the edge of its range: too much with that is over, enough
    says nothing in favour.
    """
    checks: list[Check] = []
    for place in dict.fromkeys(c.key.removeprefix(c.method.key) for c in pulls):
        here = [c for c in sheets if c.key.removeprefix(c.method.key) == place and c.key in used]
        over = [c for c in pulls if c.key.removeprefix(c.method.key) == place and c.key in used]
        if not here or not over or not action.shear_max or not action.pull_max:
            continue
        where = place.lstrip(".")
        total, trace = _added(here, over, used, action)
        applied = [[c for c in part if c.status in ("ok", "over")] for part in (here, over)]
        if all(applied):
            sums, working = _added(applied[0], applied[1], used, action)
            check = TOGETHER.judge(capacity=1.0, demand=sums, unit="1", where=where, trace=working)
            if check.status == "over" or applied == [here, over]:
                checks.append(check)
                continue
        else:
            check = None
        reason = "one of its parts is left to a rule that the joint is too weak for"
        bound = TOGETHER.at_most(reason, capacity=1.0, demand=total, unit="1", where=where, trace=trace)
        checks.append(bound if bound.status == "over" or check is None else check)
    return checks


def _added(
    here: list[Check], over: list[Check], used: dict[str, Array], action: BoltsAction
) -> tuple[float, list[Evaluation | Looked | Stated]]:
    """The greatest sum of bearing and pull-through on one fastener, and where it comes from."""
    bears = np.max([used[c.key] for c in here], axis=0)
    pulled = np.max([used[c.key] for c in over], axis=0)
    k = int((bears + pulled).argmax())
    b = max(here, key=lambda c: float(used[c.key][k]))
    p = max(over, key=lambda c: float(used[c.key][k]))
    x, y = action.item.holes[k]
    at = f"at the hole {mm(x, ', ', y):g}"
    working: list[Evaluation | Looked | Stated] = [
        Stated("u_b", "1", float(bears[k]), f"{b.title}, {at}", status=b.provenance),
        Stated("u_p", "1", float(pulled[k]), f"{p.title}, {at}", status=p.provenance),
    ]
    return float(bears[k] + pulled[k]), working


# --- detailing --------------------------------------------------------------------------------------------


def _details(group: FastenerGroup) -> list[Check]:
    checks: list[Check] = []
    if group.pitch is not None:
        checks.append(
            SPACING.info(
                capacity=group.pitch,
                demand=3 * group.d_0,
                unit="mm",
                note="3 hole diameters in sheet (EN 1993-1-3); 2.2 along, 2.4 across the force in plate (EN 1993-1-8)",
            )
        )
    if any(word in OCCUPANT for word in group.purpose):
        rule = table("mount_plates").find(id="qld_seat")
        area, thick = rule.need("area_min"), rule.need("thickness_min")
        has = group.plate[0] * group.plate[1] if group.plate else 0.0
        checks.append(
            PLATE_AREA.judge(
                capacity=has, demand=area, unit="mm^2",
                note="" if group.plate else "no spreader plate given",
            )
        )  # fmt: skip
        if group.plate:
            checks.append(PLATE_THICKNESS.judge(capacity=group.plate[2], demand=thick, unit="mm"))
    return checks
