"""Whether bolts, and the sheets at their holes, last the load changes that are asked for.

Detail categories of EN 1993-1-9 Table 8.1: a bolt in tension on its stress area, prying counted; a bolt in shear on its
shank; the net section of a sheet with bolts in clearance holes that are not preloaded. The last two hold for loads that
do not reverse: a bolt that slips to and fro works its hole loose. Thread in the shear plane, blind rivets, rivet nuts
and sheet bent round a head that pulls on it have no category. A preload that keeps the joint shut takes most of the
change off a bolt; none is counted.
"""

from __future__ import annotations

import numpy as np

from jointcalc.check.bolts_action import BoltsAction, Place
from jointcalc.check.bolts_section import net_area
from jointcalc.check.fatigue import BASIS, FACTOR, LEAST_CYCLES, strength_for
from jointcalc.formula import fatigue as fa
from jointcalc.formula.bolt_holes import fit_en
from jointcalc.formula.branch import above, below
from jointcalc.formula.core import Source
from jointcalc.quantity.sentence import joined, mm, mpa
from jointcalc.quantity.show import figures
from jointcalc.result import Check, Need, Stated, method
from jointcalc.result.factor import fixed
from jointcalc.statics.group_common import Array


def _table(details: str) -> Source:
    return Source(fa.EN19, f"Table 8.1, {details}", "from memory")


BOLT_SHEAR = method(
    "en1993-1-9.bolt-shear", "Fatigue, bolt in shear", _table("detail 15"), per="fastener", basis=BASIS, factor=FACTOR,
    covers=("lasting-shear",),
)  # fmt: skip
BOLT_TENSION = method(
    "en1993-1-9.bolt-tension", "Fatigue, bolt in tension", _table("detail 14"), per="fastener", basis=BASIS,
    factor=FACTOR, covers=("lasting-tension",),
)  # fmt: skip
BOLT_BOTH = method(
    "en1993-1-9.bolt-interaction", "Fatigue, bolt in shear and tension", Source(fa.EN19, "8(3)", "from memory"),
    per="fastener", basis=BASIS, factor=fixed(1.0, "{:g}, factors inside"),
)  # fmt: skip
NET_SHEET = method(
    "en1993-1-9.bolted-sheet", "Fatigue, sheet at the holes", _table("detail 13"), per="group", basis=BASIS,
    factor=FACTOR, covers=("lasting-sheet",),
)  # fmt: skip
HEAD_SHEET = method(
    "en1993-1-9.sheet-at-head", "Fatigue, sheet bent round the head", _table("no detail"), per="fastener", basis=BASIS,
    factor=FACTOR, covers=("lasting-head",),
)  # fmt: skip

SHEARED = ("5.6", "8.8", "10.9")
"""Classes of bolts that detail 15 names."""
WIDEST = 30.0
"""Bolt diameter [mm] from which on detail 14 falls with the size."""
LOOSE = "its details want bolts in normal clearance holes, and these are wider or slotted"
REVERSES = "its details of bolts in clearance holes want a load that does not reverse: they slip to and fro"


def lasting(action: BoltsAction, pull: Array, places: list[Place]) -> list[Check]:
    """The fatigue screen of a group; empty when no load changes are asked for.  `pull` (n,) [N] with prying."""
    group = action.item
    if group.cycles is None:
        return []
    checks = []
    f = group.fastener
    no_bolt = [] if f.kind == "bolt" else [f"EN 1993-1-9 has no category for a blind {f.kind}"]
    if f.kind == "rivnut":
        no_bolt = ["EN 1993-1-9 has no category for a rivet nut and its screw"]
    if action.shear_max:
        checks.append(_sheared(action, no_bolt))
        checks += [_net(action, place, no_bolt) for place in places]
    if pull.max():
        checks.append(_pulled(action, pull, no_bolt))
    if action.shear_max and pull.max() and not no_bolt:
        checks.append(_both(action, pull))
    if pull.max() or action.press.max():
        reason = (
            "EN 1993-1-9 has no category for sheet bent round a head or a nut: test it, or turn the load into shear"
        )
        checks.append(HEAD_SHEET.outside(reason, unit="MPa"))
    return checks


def needs(action: BoltsAction, places: list[Place]) -> list[Need]:
    """What of the load changes has to be covered."""
    group = action.item
    if group.cycles is None:
        return []
    many = f"{figures(group.cycles)} load changes"
    found = []
    if action.shear_max:
        found.append(Need("lasting-shear", f"no method judges whether the fasteners last {many} in shear"))
        found += [
            Need("lasting-sheet", f"no method judges whether {p.sheet.label} lasts {many} at its holes", p.where)
            for p in places
        ]
    if action.pull_max:
        found.append(Need("lasting-tension", f"no method judges whether the fasteners last {many} in tension"))
    if action.pull_max or action.press.max():
        found.append(Need("lasting-head", f"no method judges whether sheet bent round the heads lasts {many}"))
    return found


def _changes(action: BoltsAction) -> tuple[float, str]:
    """Load changes to judge by, and what is said where the curves begin later."""
    cycles = action.item.cycles or 0.0
    few = "the curves start at 10 000 load changes, judged as so many" if below(cycles, LEAST_CYCLES) else ""
    return max(cycles, LEAST_CYCLES), few


def _area(action: BoltsAction) -> tuple[float, str]:
    """What is sheared of a bolt [mm²], and what it is."""
    f = action.item.fastener
    return (f.area, "shank") if action.threads[0] == "out" else (f.A_s, "stress area of the thread")


def _moving(action: BoltsAction) -> list[str]:
    """Why the bolts move in their holes more than the details have it; empty where they do not."""
    group = action.item
    loose = group.slot is not None or fit_en(group.fastener.d, group.d_0) != "normal"
    return [*([REVERSES] if above(group.load_range, 1.0) else []), *([LOOSE] if loose else [])]


def _weaker_in_shear(action: BoltsAction) -> list[str]:
    """Why a bolt is weaker than the detail of bolts in shear has it; empty where it is not."""
    grade, weak = action.item.fastener.grade, _moving(action)
    if action.threads[0] == "in":
        weak.append("its detail is of a shank in the shear plane; thread there has no category")
    if grade not in SHEARED:
        weak.append(f"its detail names the classes {', '.join(SHEARED)}; this is {grade}")
    return weak


def _sheared(action: BoltsAction, no_bolt: list[str]) -> Check:
    """A bolt in shear."""
    group = action.item
    if no_bolt:
        return BOLT_SHEAR.outside(no_bolt, unit="MPa")
    weak = _weaker_in_shear(action)
    cycles, few = _changes(action)
    strength, looked, why = strength_for("bolt-shear", cycles)
    A, what = _area(action)
    force = action.shear_max * action.plane
    stress = group.load_range * force / A
    share = action.share("V", action.shear, part=action.plane)
    area = Stated("A", "mm^2", A, what)
    stated = Stated("Delta_tau", "MPa", stress, f"{group.load_range:g} of it, on that area")
    numbers = {"capacity": float(strength.value), "demand": stress, "unit": "MPa"}
    trace = [looked, strength, share, area, stated]
    if weak:
        return BOLT_SHEAR.at_most(weak, trace=trace, **numbers)  # type: ignore[arg-type]
    return BOLT_SHEAR.judge(trace=trace, note=joined("; ", filter(None, (why, few))), **numbers)  # type: ignore[arg-type]


def _pulled(action: BoltsAction, pull: Array, no_bolt: list[str]) -> Check:
    """A bolt in tension, prying counted, no preload."""
    group, f = action.item, action.item.fastener
    if no_bolt:
        return BOLT_TENSION.outside(no_bolt, unit="MPa")
    cycles, few = _changes(action)
    strength, looked, why = strength_for("bolt-tension", cycles)
    stress = group.load_range * float(pull.max()) / f.A_s
    share = action.share("T", pull)
    stated = Stated("Delta_sigma", "MPa", stress, f"{group.load_range:g} of it, on the stress area, no preload counted")
    numbers = {"capacity": float(strength.value), "demand": stress, "unit": "MPa"}
    trace = [looked, strength, share, stated]
    if above(f.d, WIDEST):
        return BOLT_TENSION.at_most(f"over {mm(WIDEST)} the size takes off its category", trace=trace, **numbers)  # type: ignore[arg-type]
    note = joined("; ", filter(None, (why, few)))
    return BOLT_TENSION.judge(trace=trace, note=note, **numbers)  # type: ignore[arg-type]


def _both(action: BoltsAction, pull: Array) -> Check:
    """Shear and tension of one bolt; a bound from above where the shear has no category."""
    group, f = action.item, action.item.fastener
    cycles, _ = _changes(action)
    strong = [float(strength_for(detail, cycles)[0].value) / fa.GAMMA_MF for detail in ("bolt-tension", "bolt-shear")]
    A, _ = _area(action)
    direct = group.load_range * pull / f.A_s
    shear = group.load_range * action.shear * action.plane / A
    sums = fa.interaction(Delta_sigma=direct, Delta_sigma_R=strong[0], Delta_tau=shear, Delta_tau_R=strong[1])
    k = int(np.argmax(sums))
    worked = fa.INTERACTION.evaluate(
        Delta_sigma=float(direct[k]), Delta_sigma_R=strong[0], Delta_tau=float(shear[k]), Delta_tau_R=strong[1]
    )
    numbers = {"capacity": 1.0, "demand": float(worked.value), "unit": "1", "trace": [worked]}
    if weak := _weaker_in_shear(action):
        return BOLT_BOTH.at_most(weak, **numbers)  # type: ignore[arg-type]
    note = "strengths divided by γ_Mf first; grows with the third and fifth power of the stress"
    return BOLT_BOTH.judge(note=note, **numbers)  # type: ignore[arg-type]


def _net(action: BoltsAction, place: Place, no_bolt: list[str]) -> Check:
    """The net section of one sheet."""
    group, sheet = action.item, place.sheet
    hard = list(no_bolt)
    if sheet.material.family == "aluminium":
        hard.append("EN 1993-1-9 is for steel; aluminium has EN 1999-1-3, which is not held here")
    net = net_area(place)
    if net is None:
        hard.append("no force passes the sheet that a section across it could be told for")
    if hard or net is None:
        return NET_SHEET.outside(hard, unit="MPa", where=place.where)
    A_net, steps = net
    weak = _moving(action)
    if not action.even_shear:
        weak.append("the load turns the group: the bending of the sheet at its holes comes on top")
    cycles, few = _changes(action)
    strength, looked, why = strength_for("bolted-plain", cycles)
    force = place.part * float(np.hypot(action.load.F_x, action.load.F_y))
    stress = group.load_range * force / A_net
    if sheet.has_yield and above(stress, fa.MOST_RANGE * sheet.f_y):
        limit = mpa(fa.MOST_RANGE * sheet.f_y)
        weak.append(f"the range of {mpa(stress):.4g} is over {fa.MOST_RANGE:g} times the yield strength ({limit:.4g})")
    stated = Stated("Delta_sigma", "MPa", stress, f"{group.load_range:g} of the force, on the net section")
    numbers = {
        "capacity": float(strength.value), "demand": stress, "unit": "MPa", "where": place.where,
        "trace": [*place.before, *steps, looked, strength, stated],
    }  # fmt: skip
    if weak:
        return NET_SHEET.at_most(weak, **numbers)  # type: ignore[arg-type]
    thin = f"sheet under {mm(fa.THINNEST)}: a screen only" if below(sheet.t, fa.THINNEST) else ""
    return NET_SHEET.judge(note=joined("; ", filter(None, (why, few, thin))), **numbers)  # type: ignore[arg-type]
