"""Sheet that a load out of the plane of the welds bends again and again, and roots that it opens: both crack.

The bending checks say what such sheet holds when it is plastic along its yield lines, which is never less than it
really holds. Elastic moments that were nowhere more than that part of the plastic one would be a safe state of the
lower bound theorem; so somewhere they are at least that, and the stress at least 1.5 f_y times the use under the
service load (first yield is at two thirds of the plastic moment). A plate on edge bends evenly along its foot, and that
is its stress. Sheet under a foot, the wall of a tube and a lapped plate bend unevenly: too much with that bound is
over, and nothing is said in favour.
"""

from __future__ import annotations

from collections.abc import Iterable

from jointcalc.check.fatigue import BASIS, FACTOR, LEAST_CYCLES, strength_for, toe_detail
from jointcalc.check.fillet_action import FilletAction
from jointcalc.check.fillet_bend import FOOT, PLATE, SHEET, WALL
from jointcalc.check.fillet_root import ROOT
from jointcalc.check.fillet_strap import STRAP
from jointcalc.check.heat import beside
from jointcalc.formula import fatigue as fa
from jointcalc.formula.branch import at_most, below
from jointcalc.formula.core import Source
from jointcalc.quantity.sentence import joined
from jointcalc.quantity.show import figures
from jointcalc.result import Check, Need, Stated, method

BENT = method(
    "en1993-1-9.bent-sheet", "Fatigue, sheet bent at the weld", Source(fa.EN19, "Table 8.4, detail 6", "from memory"),
    per="mm", basis=BASIS, factor=FACTOR, covers=("lasting-bent",),
)  # fmt: skip
BENT_FOOT = method(
    "en1993-1-9.bent-foot", "Fatigue, part bent at its foot", Source(fa.EN19, "Table 8.5, detail 1", "from memory"),
    per="mm", basis=BASIS, factor=FACTOR, covers=("lasting-foot",),
)  # fmt: skip
OPENED = method(
    "en1993-1-9.opened-root", "Fatigue, root opened on one side", Source(fa.EN19, "Table 8.5, detail 3", "from memory"),
    per="mm", basis=BASIS, factor=FACTOR, covers=("lasting-root",),
)  # fmt: skip
LAPPED = method(
    "en1993-1-9.lapped-part", "Fatigue, lapped part at its weld ends",
    Source(fa.EN19, "Table 8.5, detail 5", "from memory"), per="group", basis=BASIS, factor=FACTOR,
    covers=("lasting-lapped",),
)  # fmt: skip
FIRST_YIELD = 1.5
"""Plastic moment of a rectangle over that of its first yield."""


def bent_again(action: FilletAction, checks: Iterable[Check]) -> list[Check]:
    """The fatigue screen of what the load bends; empty when no load changes are asked for, or nothing bends."""
    m = action.welds
    if m.cycles is None:
        return []
    found: list[Check] = []
    for check in checks:
        if check.method is ROOT and check.demand and check.demand.value:
            found += _opened(action, check)
        if check.method is STRAP and check.demand and check.demand.value:
            found.append(_lapped(action, check))
        if check.method not in (SHEET, WALL, PLATE, FOOT) or not check.demand or not check.capacity:
            continue
        if not check.demand.value or not check.capacity.value:
            continue
        rule, part = (BENT_FOOT, m.parts[0]) if check.method is FOOT else (BENT, m.parts[check.method is not PLATE])
        if part.material.family == "aluminium":
            reason = "EN 1993-1-9 is for steel; aluminium has EN 1999-1-3, which is not held here"
            found.append(rule.outside(reason, unit="MPa"))
            continue
        use = check.demand.value / check.capacity.value
        stress = FIRST_YIELD * (beside(part).f_y or 0.0) * use * m.load_range
        short = at_most(action.foot.c_1, fa.SHORT_ATTACHMENT)
        detail = toe_detail(m) if rule is BENT_FOOT else f"attachment-across-{50 if short else 80}"
        strength, looked, why = strength_for(detail, max(m.cycles, LEAST_CYCLES))
        bends = Stated("u", "1", use, f"of {check.key}, under the service load, without factors")
        stated = Stated("Delta_sigma", "MPa", stress, f"1.5 f_y u, {m.load_range:g} of the load")
        trace = [*beside(part).working, bends, looked, strength, stated]
        numbers = {"capacity": float(strength.value), "demand": stress, "unit": "MPa", "trace": trace}
        if rule is BENT:
            uneven = f"{part.label} bends harder somewhere than its yield lines tell"
            found.append(BENT.at_most(uneven, **numbers))  # type: ignore[arg-type]
        else:
            few = "judged as 10 000 load changes" if below(m.cycles, LEAST_CYCLES) else ""
            found.append(BENT_FOOT.judge(note=joined("; ", filter(None, (why, few))), **numbers))  # type: ignore[arg-type]
    worst = {c.method: c for c in sorted(found, key=lambda c: (c.status == "over", c.utilisation or 0.0))}
    return list(worst.values())


def _opened(action: FilletAction, check: Check) -> list[Check]:
    """A weld on one side that is pulled open at its root: what its static check finds on the throat comes and goes."""
    m = action.welds
    on_throat = next((s for s in check.trace if isinstance(s, Stated) and s.symbol == "sigma_v"), None)
    if on_throat is None or m.cycles is None or action.family == "aluminium":
        return [OPENED.outside("no detail category is held for a root that is pulled open in this metal", unit="MPa")]
    stress = float(on_throat.value) * m.load_range
    strength, looked, _ = strength_for("tee-root", max(m.cycles, LEAST_CYCLES))
    stated = Stated("Delta_sigma", "MPa", stress, f"{m.load_range:g} of it, the bending of the root counted")
    one_side = "its detail is of a weld on both sides: one that is pulled open from one side has no category"
    return [
        OPENED.at_most(
            one_side, capacity=float(strength.value), demand=stress, unit="MPa",
            trace=[on_throat, looked, strength, stated],
        )
    ]  # fmt: skip


def _lapped(action: FilletAction, check: Check) -> Check:
    """A lapped part where it leaves its welds, under all that its section passes: pull, bending edgewise, shear."""
    m = action.welds
    if m.parts[0].material.family == "aluminium":
        reason = "EN 1993-1-9 is for steel; aluminium has EN 1999-1-3, which is not held here"
        return LAPPED.outside(reason, unit="MPa")
    assert check.demand is not None
    stress = float(check.demand.value or 0.0) * m.load_range
    strength, looked, why = strength_for("lap-lap-plate", max(m.cycles or 0.0, LEAST_CYCLES))
    stated = Stated("Delta_sigma", "MPa", stress, f"{m.load_range:g} of the stress of {check.key}")
    return LAPPED.judge(
        capacity=float(strength.value), demand=stress, unit="MPa", trace=[looked, strength, stated],
        note=f"{why}; the part beneath, at 30 degrees wider, is not looked at",
    )  # fmt: skip


def needs(action: FilletAction, checks: Iterable[Check]) -> list[Need]:
    """What of the load changes has to be covered where the load bends something."""
    if action.welds.cycles is None:
        return []
    many = f"{figures(action.welds.cycles)} load changes"
    judged = {c.method for c in checks if c.status in ("ok", "over") and c.demand and c.demand.value}
    found = []
    if judged & {SHEET, WALL, PLATE}:
        found.append(Need("lasting-bent", f"no method judges whether the sheet that the load bends lasts {many}"))
    if STRAP in judged:
        found.append(Need("lasting-lapped", f"no method judges whether the lapped part lasts {many} at its welds"))
    if ROOT in judged:
        found.append(Need("lasting-root", f"no method judges whether a root that is pulled open lasts {many}"))
    if FOOT in judged:
        found.append(Need("lasting-foot", f"no method judges whether the part lasts {many}, bent at its foot"))
    return found
