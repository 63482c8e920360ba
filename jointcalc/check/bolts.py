"""Bolts, rivnuts and blind rivets in sheet, alone or in a group, by every applicable published method side by side.

The load is spread over the fasteners elastically (vector method, the arm of the load counted in space); each method
then judges the worst fastener.  For bolts the instantaneous centre of rotation stands beside it when the load lies in
the plane.  Contact pressure between the parts is not counted.

What is asked stands in its own module: the fastener itself (`bolts_fastener`); the sheet in its plane at one
fastener (`bolts_sheet`), through a row of them (`bolts_section`), torn out in a block (`bolts_block`); the sheet out
of its plane pulled over a head or spreader plate (`bolts_pull`), bent between its supports (`bolts_bend`); the leg of a
bracket (`bolts_leg`); lines that are loaded from an end (`bolts_row`).  What each fastener gets and what sheet stands
round it: `bolts_action`; how a formula is asked of all of them: `bolts_base`.
"""

from __future__ import annotations

import numpy as np

from jointcalc.check.bolts_action import BoltsAction, Place
from jointcalc.check.bolts_bend import BENDING, PRESSING, bending
from jointcalc.check.bolts_block import blocks
from jointcalc.check.bolts_fastener import fastener
from jointcalc.check.bolts_leg import Leg, legs
from jointcalc.check.bolts_pull import PLATE_CONTACT, pull_through
from jointcalc.check.bolts_row import IN_LINE, in_line
from jointcalc.check.bolts_section import sections
from jointcalc.check.bolts_sheet import ductility, in_plane
from jointcalc.check.common import ADDED, INFORMATION, LIMIT, OWN
from jointcalc.errors import InputError
from jointcalc.formula import bolt_holes
from jointcalc.formula.branch import above
from jointcalc.formula.core import Evaluation, Source
from jointcalc.model.bolts import FastenerGroup
from jointcalc.model.fields import NO_LOAD, PURPOSES
from jointcalc.quantity.sentence import joined, mm
from jointcalc.result import (
    DETAILING,
    Amount,
    Check,
    Looked,
    Need,
    Result,
    Stated,
    caution,
    collect,
    method,
    uncovered,
)
from jointcalc.result.cautions import Caution
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


def check_bolts(group: FastenerGroup) -> Result:
    """Judge a group of fasteners; raises InputError when it has no stiffness against the load.

    `peak` is the highest resultant on a fastener, `peak_fastener` its number in the order given (from 1), `peak_at_x`
    and `peak_at_y` its place, `peak_at` its distance from the centroid of the group; `pull_max` is the largest elastic
    share of the pull, `prying_max` what the leg of a bracket adds to it.
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
    pulls, uses = pull_through(action, pull, brackets)
    checks += pulls
    checks += _bearing_and_pull(sheets, pulls, used | uses, action)
    checks += bending(action, pull, brackets)
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
    end = next((c for c in checks if c.method is IN_LINE), None)
    if end is not None and end.demand is not None:
        values["peak_elastic"] = end.demand
    return Result(
        kind=group.kind,
        id=group.id,
        title=group.title,
        checks=tuple(checks),
        values=values,
        cautions=_cautions(group, action, places, checks, brackets),
        unjudged=_unjudged(group, action, places, checks),
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


# --- detailing, unjudged loads, cautions ------------------------------------------------------------------


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


def _unjudged(group: FastenerGroup, action: BoltsAction, places: list[Place], checks: list[Check]) -> tuple[str, ...]:
    """Parts of the load on fastener or sheet that no method covers."""
    f = group.fastener
    last = len(places) - 1
    needs: list[Need] = []
    why = {c.key: c.note for c in checks if c.status == "outside"}
    reach = {c.key for c in checks if c.method is BENDING and c.status == "info"}
    for place in places:
        name, where = place.sheet.label, place.where
        if action.shear_max:
            needs.append(Need("bearing", f"no method applies to {name} in bearing", where))
            needs.append(Need("tear-out", f"no method applies to {name} torn out to its edge", where))
            if action.net is not None:
                net = next((n for k, n in why.items() if "net-section" in k and _at(k, where)), "")
                needs.append(Need("net-section", f"no method applies to the net section of {name}: {net}", where))
                block = next((n for k, n in why.items() if "block-" in k and _at(k, where)), "")
                needs.append(Need("block", f"no method applies to a block torn out of {name}: {block}", where))
        if action.pull_max and place.n in (0, last):
            plated = place.n == last and group.plate is not None
            over = "the plate" if plated else "head or washer"
            if f.kind == "bolt" or (f.kind == "rivnut" and place.n < last):
                needs.append(Need("pull-through", f"no method applies to {name} pulled over {over}", where))
            if f.kind != "rivet" and _key(BENDING.key, where) not in reach:
                bent = next((n for k, n in why.items() if k == _key(BENDING.key, where)), "")
                needs.append(Need("bending", f"no method applies to {name} bent by the pull: {bent}", where))
        pressed = next((c for c in checks if c.key == _key(PRESSING.key, where)), None)
        if pressed is not None and pressed.status == "outside":
            needs.append(Need("pressing", f"no method applies to {name} pressed in: {pressed.note}", where))
    if action.shear_max:
        needs.append(Need("shear", "no method applies to the fastener in shear"))
    missing = list(uncovered(needs, checks))
    if action.pull_max:
        if f.kind == "rivet":
            missing.append("no published rule covers sheet pulled over the head of a blind rivet: test coupons")
        elif f.kind == "rivnut":
            insert = "no standard covers a rivnut pulled out of sheet: give the maker's value or test coupons"
            missing += uncovered([Need("insert-tension", insert)], checks)
            missing += uncovered([Need("tension", "no method applies to the rivnut's screw in tension")], checks)
        else:
            missing += uncovered([Need("tension", "no method applies to the bolt in tension")], checks)
    return tuple(missing)


def _key(key: str, where: str) -> str:
    return f"{key}.{where}" if where else key


def _at(key: str, where: str) -> bool:
    return not where or key.endswith(f".{where}")


def _cautions(
    group: FastenerGroup, action: BoltsAction, places: list[Place], checks: list[Check], brackets: tuple[Leg, ...]
) -> tuple[Caution, ...]:
    f = group.fastener
    raised: list[Caution | str] = [PURPOSES[word] for word in group.purpose]
    for sheet in group.sheets:
        # nothing is welded here: no fume
        raised += [caution(code, **words) for code, words in sheet.caution_codes() if "fume" not in code]
    if action.shear_max:
        raised += _assumed(group, action)
    if len(group.sheets) == 3 and group.pulled is None and action.shear_max:
        raised.append("which-sheet")
    end = next((c for c in checks if c.method is IN_LINE), None)
    if end is not None and end.demand is not None:
        times = (end.demand.value or 0.0) / action.shear_max
        raised.append(caution("line-end", times=f"{times:.2g}"))
    if action.pull_max and f.kind != "rivet":
        raised += [] if brackets else ["prying"]
        raised.append("nut-class")
        if group.upright is None and len(brackets) == 1:
            raised.append(caution("leg-assumed", sheet=brackets[0].n + 1, distance=f"{mm(brackets[0].m):.3g}"))
        if len(brackets) > 1:
            raised.append(caution("bracket-leg", distance=f"{mm(brackets[0].m):.3g}"))
    if (action.pull_max and f.kind != "rivet") or action.press.max():
        if group.between is None:
            raised.append(caution("supports-assumed", distance=f"{mm(group.supports):.4g}"))
        if any(c.method is BENDING and "hangs" in c.note for c in checks):
            raised.append(caution("sheet-dishes", dish=f"{mm(group.dish_allowed):.3g}"))
    raised += _hole(group, action)
    if (meeting := group.meeting_plates) is not None:
        raised.append(plates_overlap(group, meeting))
    if group.width is not None and action.shear_max:
        raised.append("pushed-strap")
    if f.kind == "bolt":
        raised.append("bolt-locking")
    if f.kind == "rivnut":
        raised.append("insert-proof")
    families = {s.material.family for s in group.sheets}
    if len(families) > 1 or (f.standard == "ISO 15977" and families != {"aluminium"}):
        raised.append("galvanic")
    raised += ["unfactored-load"] if group.load_factor == 1.0 else []
    raised += ["corrosion", "fatigue"]
    judged = [c for c in checks if c.status in ("ok", "over")]
    if group.handbook_factor == 3.0 and any(c.method.factor.words == OWN for c in judged):
        raised.append(caution("handbook-default", factor="3.0"))
    if any(c.provenance == "from memory" for c in judged):
        raised.append("from-memory")
    return collect(raised)


def plates_overlap(group: FastenerGroup, meeting: tuple[int, int]) -> Caution:
    """That the plates of two holes lie over one another, and how far."""
    assert group.plate is not None
    (x1, y1), (x2, y2) = (group.holes[n - 1] for n in meeting)
    long, short = group.plate[:2]
    return caution(
        "plates-overlap",
        one=str(meeting[0]),
        other=str(meeting[1]),
        apart=f"{mm(abs(x2 - x1), ' and ', abs(y2 - y1)):.4g}",
        plate=f"{mm(long, ' x ', short):.4g}",
    )


def _assumed(group: FastenerGroup, action: BoltsAction) -> list[Caution | str]:
    """What was taken of edges and width because nobody said it."""
    if group.edge is None and not group.outline:
        return [caution("edge-assumed", edge=f"{mm(group.edge_used):.3g}")]
    if group.width is None and not group.outline and action.net is not None:
        width = Place(action, 0).extent + 2 * group.edge_used
        return [caution("width-assumed", width=f"{mm(width):.4g}")]
    return []


def _hole(group: FastenerGroup, action: BoltsAction) -> list[Caution | str]:
    """Holes that let the joint slip, and bear worse."""
    f = group.fastener
    if f.kind != "bolt" or not action.shear_max:
        return []
    if group.slot is not None:
        return [caution("oversized-hole", slip=f"{mm(group.slot - f.d):.3g}")]
    loose = above(group.d_0, f.hole) or bolt_holes.fit_en(f.d, group.d_0) != "normal"
    return [caution("oversized-hole", slip=f"{mm(group.d_0 - f.d):.3g}")] if loose else []


__all__ = ["PLATE_CONTACT", "check_bolts"]
