"""A brace that level loads bend sideways, with everything else on it.

Decided here: the greatest moment sideways is taken where all else is greatest; what works of the section sideways is
bounded by that in uniform compression, all that is lost being lost at one far fibre; a thrust lets it grow.  A face
that is held hands it to what holds it.  The shear of level loads is left out, and said so.
"""

from __future__ import annotations

from math import sqrt

from jointcalc.check.brace_action import BraceAction, called
from jointcalc.check.brace_base import (
    EN_ASIDE,
    EN_BEAM_COLUMN,
    EN_BENDING,
    EN_COMPRESSION,
    EN_LTB,
    EN_TENSION,
    EN_TENSION_BENDING,
)
from jointcalc.check.brace_bending import bending
from jointcalc.check.brace_lateral import lateral
from jointcalc.check.brace_strut import axial, squashed
from jointcalc.check.common import Steps
from jointcalc.formula import bending_both_ways
from jointcalc.result import Check, Need, Stated
from jointcalc.section.families.tube import Bar, Tube

ELSE = (EN_BENDING, EN_LTB, EN_COMPRESSION, EN_BEAM_COLUMN, EN_TENSION, EN_TENSION_BENDING)
"""The checks whose utilisation stands beside bending sideways."""


def bends_aside(action: BraceAction) -> bool:
    """Whether level loads bend it: a face that something holds hands them on."""
    return bool(action.brace.aside) and action.brace.held == "none"


def aside_needs(action: BraceAction) -> list[Need]:
    """The moment sideways."""
    if not bends_aside(action):
        return []
    return [Need("aside", f"no method applies to bending {called(action)} sideways")]


def aside(action: BraceAction) -> list[Check]:
    """Bending both ways, with what acts along."""
    if not bends_aside(action):
        return []
    p, brace = action.p, action.brace
    if abs(float(p.I_yz[0])) > 1e-9 * float(p.I_y[0] + p.I_z[0]):
        return [EN_ASIDE.outside("a profile that bends askew, and nothing holds it", demand=brace.aside, unit="N*mm")]
    others = [
        c for rule in (bending, lateral, axial) for c in rule(action) if c.method in ELSE and c.demand is not None
    ]
    for c in others:
        if c.status == "outside" and c.demand is not None and c.demand.value:
            return [EN_ASIDE.outside(f"{c.title.lower()} alone is outside its range", unit="1")]
    worst = max((c for c in others if c.utilisation), key=lambda c: c.utilisation or 0.0, default=None)
    y_max = max(float(p.y_centroid[0] - p.y_left[0]), float(p.y_right[0] - p.y_centroid[0]))
    area = gross = float(p.area[0])
    if not isinstance(action.family, Bar | Tube):
        e = action.effective("en", "all")
        if e.outside():
            return [EN_ASIDE.outside(e.outside(), demand=brace.aside, unit="N*mm")]
        area = min(area, float(e.area[0]))
    modulus = bending_both_ways.MODULUS_ASIDE.evaluate(
        W_z=float(p.I_z[0]) / y_max, A=gross, A_eff=area, y_max=y_max, i_z=sqrt(float(p.I_z[0]) / gross)
    )
    bears = bending_both_ways.MOMENT_ASIDE.evaluate(W_zeff=float(modulus.value), f_y=action.f_y)
    if not float(bears.value):
        return [EN_ASIDE.outside("so much of it buckles that no bound of it sideways is left", unit="1")]
    grown = 1.0
    if brace.compression:
        strut = squashed(action)
        part = 1.0 if strut is None else action.gamma * brace.compression / strut.elastic
        grown = 1 / (1 - part) if part < 0.999 else 1e3
    used = 0.0 if worst is None else worst.utilisation or 0.0
    eta = bending_both_ways.BOTH_WAYS.evaluate(
        u=used, M_z=action.gamma * grown * abs(brace.aside), M_zR=carried_of(bears.value)
    )
    trace: Steps = [*([Stated.of("u", worst)] if worst is not None else []), modulus, bears, eta]
    return [
        EN_ASIDE.judge(
            capacity=1.0, demand=float(eta.value), unit="1", trace=trace, covers=["aside"],
            note="both greatest at one place; the shear of level loads is not in it, and the ends have to hold them",
        )
    ]  # fmt: skip


def carried_of(value: object) -> float:
    """A resistance as a plain number."""
    return float(value)  # type: ignore[arg-type]


__all__ = ["aside", "aside_needs", "bends_aside"]
