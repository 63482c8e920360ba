"""A brace judged as a member: bending, webs, buckling, deflection, its weld lines, and whether it can be folded.

- EN 1993-1-3 gives characteristic resistances: required gamma_M x gamma_F (gamma_M0 = gamma_M1 = 1.0,
  recommended values).
- AISI S100 gives nominal strengths with their own Omega.
- Deflection is judged against the builder's own limit, with the service second moment of EN 1993-1-3 7.1
  where the section buckles locally and with what shear adds; `deflection_max` is that of the gross section by bending.

Decided here: a brace whose upper and lower half differ is judged both ways up unless it is said how it lies, and the
worse way governs as a whole; worst sections are looked for at supports, loads, extremes and 120 points between;
interaction sums take the worst place; a round tube, bar, angle or lap has no web by the rules of webs and is judged by
its greatest elastic shear stress.  What the other modules decide stands at their head.

Where each mode stands: bending and wide flanges in `brace_bending`, shear and both together in `brace_shear`, webs
under local forces in `brace_local`, what a load stands on in `brace_stand`, buckling sideways in `brace_lateral`, axial
forces in `brace_strut`, bending sideways in `brace_aside`, distortion in `brace_distortion` and `brace_direct`,
twisting in `brace_twist` (open) and `brace_cell` (closed), load changes in `brace_lasting`, deflection in
`brace_deflection`, weld lines and folding in `brace_making`; values and cautions in `brace_notes`.  The methods are
declared in `brace_base`; the brace as it lies, with its actions, is `brace_action.BraceAction`.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import inf

from jointcalc.check.brace_action import BraceAction
from jointcalc.check.brace_aside import aside, aside_needs
from jointcalc.check.brace_base import AISI_BENDING, EN_BENDING, SPOT_LINE
from jointcalc.check.brace_bending import bending, bending_needs
from jointcalc.check.brace_deflection import Bent
from jointcalc.check.brace_direct import direct_bending
from jointcalc.check.brace_distortion import distortion
from jointcalc.check.brace_lasting import lasting, lasting_needs
from jointcalc.check.brace_lateral import lateral, lateral_needs
from jointcalc.check.brace_local import bending_crippling, bending_crippling_needs, crippling, crippling_needs
from jointcalc.check.brace_making import folding, weld_line
from jointcalc.check.brace_notes import (
    about_brace,
    cautions_of,
    critical_loads,
    hole_needs,
    holed,
    lifting_needs,
    values_of,
)
from jointcalc.check.brace_shear import bending_shear, bending_shear_needs, shear, shear_needs
from jointcalc.check.brace_stand import local_collapse
from jointcalc.check.brace_strut import axial, axial_needs
from jointcalc.check.brace_twist import softer, twisting, twisting_needs
from jointcalc.model.brace import Brace
from jointcalc.quantity.show import percent
from jointcalc.result import Amount, Check, Need, Result, caution, collect, uncovered


def check_brace(brace: Brace) -> Result:
    """Judge a brace; raises InputError when a strength a design may use is missing from its grade.

    Where its upper and lower half differ and it is not said which way up it lies, the worse way is returned.
    """
    ways = _ways(brace)
    found = [_judge(one) for one in ways]
    if len(found) == 1:
        return found[0]
    rank = {"over": 2, "outside": 1, "ok": 0}
    n = max(range(len(found)), key=lambda k: (rank[found[k].status], _used(found[k]), -k))
    return _worse(ways, found, n)


def _used(result: Result) -> float:
    """Utilisation that governs; infinite where it has none and is over."""
    worst = result.worst
    if worst is None:
        return 0.0
    return inf if worst.utilisation is None else worst.utilisation


def _worse(ways: list[BraceAction], found: list[Result], n: int) -> Result:
    """The worse of both ways up, which says so where it makes a difference."""
    one, other = found[n], found[1 - n]
    if one.status == other.status and abs(_used(one) - _used(other)) <= 1e-6 * max(_used(one), 1e-9):
        return one
    words = []
    for k in (0, 1):
        verdict = {"ok": "holds", "over": "over", "outside": "cannot be judged"}[found[k].status]
        use = _used(found[k])
        words.append(f"{ways[k].way} {verdict}" + (f" at {percent(use)}" if 0 < use < inf else ""))
    raised = caution("way-up", ways=" and ".join(words), judged=ways[n].way)
    about = {**one.about, "lies": f"{ways[n].way}, the worse way: it was not said how it lies"}
    return replace(one, about=about, cautions=collect([*one.cautions, raised]))


def first_over(brace: Brace) -> bool:
    """Whether a check of strength is over, either way up where that was not said: stops at the first, for searches."""
    ways = [one for one in _ways(brace) if one.steel]
    # the quick rules of the other way up come before the slow ones of this
    return any(c.status == "over" for rule in STRENGTH for one in ways for c in rule(one))


def _ways(brace: Brace) -> list[BraceAction]:
    shared: dict[object, object] = {}
    return [BraceAction(brace, way, shared) for way in brace.ways]


STRENGTH: tuple[Callable[[BraceAction], list[Check]], ...] = (
    bending, shear, local_collapse, crippling, bending_shear, bending_crippling, lateral, distortion, direct_bending,
    twisting, axial, aside, lasting,
)  # fmt: skip
"""The rules of strength in the order they are printed, quick ones first; any other order gives the same checks."""
NEEDS: tuple[Callable[[BraceAction], list[Need]], ...] = (
    bending_needs, shear_needs, crippling_needs, bending_shear_needs, bending_crippling_needs, lateral_needs,
    twisting_needs, axial_needs, aside_needs, lasting_needs,
)  # fmt: skip
"""What of the loads those rules have to cover."""


def _judge(action: BraceAction) -> Result:
    brace = action.brace
    checks: list[Check] = []
    needs: list[Need] = []
    loads: dict[str, Amount] = {}
    if action.steel:
        checks += [check for rule in STRENGTH for check in rule(action)]
        needs += [need for part in NEEDS for need in part(action)]
        loads = critical_loads(action)
    else:
        reason = f"written for carbon steel; this brace is {brace.sheets[0].material.family}"
        checks += [method.outside(reason, unit="N*mm") for method in (EN_BENDING, AISI_BENDING)]
        material = brace.sheets[0].material.family
        needs.append(Need("strength", f"no method for the strength of a brace of {material} is at hand"))
    checks += holed(action)
    needs += [*hole_needs(action), *lifting_needs(action)]
    bent = Bent(action, softer(action))
    checks += bent.checks()
    seam, seam_values, seam_cautions = weld_line(action)
    checks += seam
    for c in seam:
        if c.method is SPOT_LINE and c.status == "outside":
            needs.append(Need("spots", f"spots of the weld line: {c.note}"))
    folds, fold_values = folding(action)
    checks += folds
    return Result(
        kind=brace.kind,
        id=brace.id,
        title=brace.title,
        checks=tuple(checks),
        values={**values_of(action, bent), **loads, **seam_values, **fold_values},
        cautions=cautions_of(action, checks, bent, seam_cautions),
        unjudged=uncovered(needs, checks),
        model=brace,
        about=about_brace(action),
    )


def bends_elastically(result: Result) -> bool:
    """Whether the deflection of a judged brace is in its range: bending is judged, and nothing yields in service."""
    senses: dict[str, list[Check]] = {}
    for c in result.checks:
        if c.method in (EN_BENDING, AISI_BENDING):
            senses.setdefault(c.key.removeprefix(c.method.key), []).append(c)
    judged = [[c.safety_factor for c in mine if c.status in ("ok", "over")] for mine in senses.values()]
    return bool(judged) and all(mine and all(f is None or f >= 1 for f in mine) for mine in judged)


__all__ = ["bends_elastically", "check_brace", "first_over"]
