"""Whether the sheet of a brace lasts the load changes that are asked for.

The greatest nominal stress of the service loads by elastic theory, with what works of the section, its growth as a
strut and its twist, against the detail category of a plate with something small welded to it (EN 1993-1-9 Table 8.4).
The local bending of a flat under a foot is not in it, and a note says so; the joints at the ends are items of their
own, the spots of a weld line are judged for life with it (`brace_making`).
"""

from __future__ import annotations

from jointcalc.check.brace_action import BraceAction, carried
from jointcalc.check.brace_aside import bends_aside
from jointcalc.check.brace_base import EN_TWIST
from jointcalc.check.brace_bending import moments
from jointcalc.check.brace_cell import least_aside
from jointcalc.check.brace_strut import squashed
from jointcalc.check.brace_twist import twisting
from jointcalc.check.fatigue import SHEET, sheet_fatigue
from jointcalc.quantity.show import figures
from jointcalc.result import Check, Need, Stated
from jointcalc.section.effective_en1993 import effective_en


def _asked(action: BraceAction) -> bool:
    brace = action.brace
    loaded = action.V or action.sag or action.hog or brace.compression or brace.tension or brace.torques
    return brace.cycles is not None and bool(loaded or bends_aside(action))


def lasting_needs(action: BraceAction) -> list[Need]:
    """The load changes, and those of the spots where their pitch is not known."""
    if not _asked(action):
        return []
    many = figures(action.brace.cycles or 0.0)
    why = "; ".join(c.note for c in lasting(action) if c.status == "outside")
    needs = [Need("fatigue", f"no method judges whether the brace lasts {many} load changes: {why}")]
    if action.brace.core.weld_lines and action.brace.pitch is None:
        needs.append(Need("life of the spots", f"spots of the weld line, whose pitch is not given, for {many} changes"))
    return needs


HIGHEST = 1000.0
"""Stress from which what works in service is looked for [MPa]: above the yield strength of any sheet here."""
ROUNDS = 6
"""Times it is looked for anew; each brings it nearer from the safe side (tried: less than 0.5 % is left)."""


def _works_at_service(action: BraceAction, face: str, M: float, axial: float) -> float:
    """Modulus [mm^3] of what works of the section under the moment [N mm] and axial stress [MPa] of the service loads.

    It is that of the stress it has itself, whatever its sheet would yield at: harder sheet is tired by the same load
    like softer sheet.
    """
    stress, W = HIGHEST, 0.0
    for _ in range(ROUNDS):
        e = effective_en(action.family, f_yb=stress, compression=face, properties=action.p)
        W = float(e.W_eff[0])
        stress = M / W + axial
    return W


def lasting(action: BraceAction) -> list[Check]:
    """The fatigue screen of the sheet; empty when no load changes are asked for."""
    if not _asked(action):
        return []
    brace, p = action.brace, action.p
    least = min(float(p.W_y_top[0]), float(p.W_y_bottom[0]))
    _, M, _ = action.along
    most, face = max((action.with_axial(float(m)) for m in M), key=lambda one: one[0])
    bent = moments(action).get(("en", face))
    if most and bent is None:
        return [SHEET.outside("bending alone is outside its range", unit="MPa")]
    axial, grown = (brace.compression or brace.tension) / float(p.area[0]), 1.0
    if brace.compression:
        strut = squashed(action)
        part = 1.0 if strut is None else brace.compression / strut.elastic
        if strut is None or part >= 1.0:
            return [SHEET.outside("the compression is outside its range, or buckles the brace", unit="MPa")]
        grown = 1.0 / (1.0 - part)
    if bent is not None and most:
        lagged = carried(bent) / float(action.effective("en", face).moment[0])
        least = min(least, lagged * _works_at_service(action, face, grown * most, axial))
    stress = grown * most / least + axial
    if bends_aside(action):
        stress += grown * abs(brace.aside) / least_aside(action)
    turns = [c for c in twisting(action) if c.method is EN_TWIST]
    if any(c.status == "outside" for c in turns):
        return [SHEET.outside("twisting is outside its range", unit="MPa")]
    stress = max([stress, *(c.demand.value or 0.0 for c in turns if c.demand is not None)])
    trace = [
        Stated("W", "mm^3", least, "least modulus of what works of the section"),
        Stated("M", "N*mm", grown * most, "greatest moment of the service loads, with that of the axial force"),
    ]
    what = "without the local bending of a flat that a load stands on"
    return [
        sheet_fatigue(
            stress=stress, cycles=brace.cycles or 0.0, part=brace.load_range, t=action.t, f_y=action.f_y, what=what,
            trace=trace,
        )
    ]  # fmt: skip
