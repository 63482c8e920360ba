"""What is said of a group of fasteners beside its strength: loads no method covers, the cautions."""

from __future__ import annotations

from jointcalc.check.bolts_action import BoltsAction, Place
from jointcalc.check.bolts_bend import BENDING, BENDING_GROUP, PRESSING, PRESSING_ONE
from jointcalc.check.bolts_lasting import needs as lasting_needs
from jointcalc.check.bolts_leg import Leg
from jointcalc.check.bolts_row import IN_LINE
from jointcalc.check.bolts_turned import turned_unknown
from jointcalc.check.common import handbook_cautions
from jointcalc.formula import bolt_holes, bolt_pull
from jointcalc.formula.branch import above, at_least
from jointcalc.formula.core import Evaluation
from jointcalc.model.bolts import FastenerGroup
from jointcalc.model.fields import PURPOSES
from jointcalc.quantity.sentence import mm
from jointcalc.result import (
    Check,
    Need,
    caution,
    collect,
    uncovered,
)
from jointcalc.result.cautions import Caution

STAINLESS = "ISO 3506-1"
"""Standard of bolts of stainless steel."""

BRITTLE = 1000.0
"""Tensile strength [MPa] from which hydrogen of pickling and plating breaks bolts late: ISO 4042, from memory."""


def unjudged_of(group: FastenerGroup, action: BoltsAction, places: list[Place], checks: list[Check]) -> tuple[str, ...]:
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
    missing = list(uncovered([*needs, *lasting_needs(action, places)], checks))
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


def cautions_of(
    group: FastenerGroup, action: BoltsAction, places: list[Place], checks: list[Check], brackets: tuple[Leg, ...]
) -> tuple[Caution, ...]:
    """What the inspector and the builder are told beside the numbers."""
    f = group.fastener
    raised: list[Caution | str] = [PURPOSES[word] for word in group.purpose]
    for sheet in group.sheets:
        # nothing is welded here: no fume
        raised += [caution(code, **words) for code, words in sheet.caution_codes() if "fume" not in code]
    if action.shear_max:
        raised += _assumed(group, action)
        raised += turned_unknown(action)
        if action.threads[1]:
            raised.append(caution("threads-counted", why=action.threads[1]))
    if len(group.sheets) == 3 and group.pulled is None and action.shear_max:
        raised.append("which-sheet")
    end = next((c for c in checks if c.method is IN_LINE), None)
    if end is not None and end.demand is not None:
        times = (end.demand.value or 0.0) / action.shear_max
        raised.append(caution("line-end", times=f"{times:.2g}"))
    if action.pull_max and f.kind != "rivet":
        raised += ["bracket-rest"] if brackets else ["prying"]
        raised.append("nut-class")
        if group.upright is None and len(brackets) == 1:
            raised.append(caution("leg-assumed", sheet=brackets[0].n + 1, distance=f"{mm(brackets[0].m):.3g}"))
        if group.upright is not None and len(brackets) > 1:
            raised.append("leg-taken")
        elif len(brackets) > 1:
            raised.append(caution("bracket-leg", distance=f"{mm(brackets[0].m):.3g}"))
    if (action.pull_max and f.kind != "rivet") or action.press.max():
        if group.between is None:
            raised.append(caution("supports-assumed", distance=f"{mm(group.supports):.4g}"))
        ways = (BENDING, BENDING_GROUP, PRESSING, PRESSING_ONE)
        bent = [c for c in checks if c.method in ways and c.status in ("ok", "over")]
        if bent and group.edge is None and not group.outline:
            reach = float(bolt_pull.REACH(L=group.supports))
            raised.append(caution("edge-unknown", distance=f"{mm(reach):.3g}"))
        if any(isinstance(s, Evaluation) and s.formula is bolt_pull.HANG for c in bent for s in c.trace):
            raised.append(caution("sheet-dishes", dish=f"{mm(group.dish_allowed):.3g}"))
    raised += _hole(group, action)
    if (meeting := group.meeting_plates) is not None:
        raised.append(plates_overlap(group, meeting))
    if group.width is not None and action.shear_max:
        raised.append("pushed-strap")
    if f.kind == "bolt":
        raised += ["bolt-locking", "solid-stack"]
        if at_least(max(f.f_ub, f.R_m), BRITTLE):
            raised.append(caution("brittle-bolt", name=f.label))
    raised += ["seizing"] if f.standard == STAINLESS else []
    if f.kind == "rivet":
        raised.append(caution("rivet-grip", grip=f"{mm(sum(s.thickness for s in group.sheets)):.3g}"))
    if f.kind == "rivnut":
        raised += ["insert-proof", "solid-stack"]
    families = {s.material.family for s in group.sheets}
    of_aluminium = f.standard == "ISO 15977"
    if len(families) > 1 or of_aluminium is not ("aluminium" in families):
        raised.append("galvanic")
    raised += ["unfactored-load"] if group.load_factor == 1.0 else []
    raised += ["corrosion", *(["fatigue"] if group.cycles is None else [])]
    judged = [c for c in checks if c.status in ("ok", "over")]
    raised += handbook_cautions(group, checks)
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
