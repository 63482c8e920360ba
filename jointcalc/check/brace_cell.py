"""Closed braces and bars under a torque, with bending and shear (EN 1993-1-3 6.1.6); what all that twist share.

Decided here: a torque runs as constant shear flow round a cell, by the flow of the section's own cells; a round tube
takes it at its outer face, a bar as thin sheet does, on the safe side.  The greatest shear of the shear force and of
the torque are added wherever they are; the widest flat buckles under their sum as a web does, a round wall as a long
tube.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from jointcalc.check.brace_action import SIDES, BraceAction, carried, web_slant
from jointcalc.check.brace_base import EN_TWIST
from jointcalc.check.brace_bending import moments
from jointcalc.check.brace_shear import peak_stress
from jointcalc.check.brace_strut import squashed
from jointcalc.check.common import Steps, once
from jointcalc.formula import closed_torsion, warping_torsion, web_en1993
from jointcalc.formula.core import Evaluation
from jointcalc.quantity.sentence import Measure, mm
from jointcalc.result import Check, Stated
from jointcalc.section.families.tube import Bar, Tube
from jointcalc.section.panels import Panel
from jointcalc.statics.twist import torque_along

Floats = npt.NDArray[np.float64]


def first_greatest(values: Floats) -> int:
    """Where the greatest of them stands first, whatever rounding makes of places that are alike."""
    return int(np.flatnonzero(values.ravel() >= values.max() * (1 - 1e-9))[0])


@once
def torques_inside(action: BraceAction) -> tuple[Floats, Floats]:
    """(places, torque without sign [N mm]) on both sides of every section looked at."""
    brace = action.brace
    left, right = torque_along(brace.length, brace.supports, brace.torques, action.places)
    return np.concatenate([action.places, action.places]), np.abs(np.concatenate([left, right]))


def greatest_torque(action: BraceAction) -> float:
    """Greatest torque inside the brace [N mm]."""
    return float(torques_inside(action)[1].max()) if action.brace.torques else 0.0


def raising(action: BraceAction, M: Floats) -> tuple[Floats, bool]:
    """How many times the gross section's bending stress that of the effective one is; whether one is out of range."""
    raised, missing = np.ones(len(M)), False
    for k in range(len(M)):
        bent = moments(action).get(("en", action.pressed(float(M[k]))))
        if bent is None and abs(M[k]) > 1e-9 * max(action.sag, action.hog, 1.0):
            missing = True
        elif bent is not None:
            raised[k] = min(action.p.W_y_top[0], action.p.W_y_bottom[0]) * action.f_y / carried(bent)
    return np.maximum(raised, 1.0), missing


@once
def along_it(action: BraceAction) -> tuple[float, float]:
    """(normal stress of what acts along and sideways [MPa], how many times a thrust lets bending and twist grow)."""
    brace = action.brace
    force, area, grown = brace.compression or brace.tension, float(action.p.area[0]), 1.0
    level = abs(brace.aside) / least_aside(action) if brace.held == "none" else 0.0
    if not force:
        return level, 1.0
    if brace.compression:
        strut, e = squashed(action), action.effective("en", "all")
        part = 1.0 if strut is None else action.gamma * force / strut.elastic
        grown = 1 / (1 - part) if part < 0.999 else 1e3
        area = area if e.outside() else min(area, float(e.area[0]))
    least = min(float(action.p.W_y_top[0]), float(action.p.W_y_bottom[0]))
    return force / area + grown * (max(action.extra.values(), default=0.0) / least + level), grown


def least_aside(action: BraceAction) -> float:
    """Elastic modulus sideways of the gross section [mm^3]."""
    return min(float(action.p.W_z_left[0]), float(action.p.W_z_right[0]))


def buckled(action: BraceAction, wall: Panel, tau: float) -> list[Evaluation]:
    """The shear stress of a flat as a normal stress, where the flat may buckle before it yields."""
    slender = web_en1993.WEB_SLENDERNESS.evaluate(s_w=web_slant(wall), t=float(wall.t[0]), f_yb=action.f_y, E=action.E)
    lamda_w = float(slender.value)
    strength = web_en1993.shear_strength(lamda_w).evaluate(f_yb=action.f_y, lamda_w=lamda_w)
    f_bv = float(strength.value)
    return [slender, strength, closed_torsion.BUCKLING_AS_NORMAL.evaluate(f_y=action.f_y, tau=tau, f_bv=f_bv)]


def _stiff(action: BraceAction) -> tuple[float, float]:
    """(area, thickness) with which Bredt's shear is that of the section where it is greatest."""
    p, family = action.p, action.family
    if isinstance(family, Tube):
        t = action.t
        return float(p.I_y[0]) / (t * float(family.od) / 2), t  # T r / I_p at the outer face
    if isinstance(family, Bar):
        t = min(float(family.depth), float(family.width))
        return float(p.J[0]) / (2 * t**2), t  # T t / J, no less than that of a rectangle
    o, flow = p.outline, np.abs(p.torsion_flow(1.0))[:, 0]
    found = []
    for k, piece in enumerate(o.segments):
        sheet = float(np.atleast_1d(o.t[k])[0])
        if piece.kind != "weld" and sheet > 0 and flow[k] > 0:
            found.append((flow[k] / sheet, 1 / (2 * float(flow[k])), sheet))
    _, area, sheet = max(found)
    return area, sheet


def twisted_cell(action: BraceAction) -> Check:
    """Torque with bending and shear of a closed section or a bar."""
    x, T = torques_inside(action)
    M = np.concatenate([np.asarray(action.beam.moment(action.places, side)) for side in SIDES])
    V = np.abs(np.concatenate([np.asarray(action.beam.shear(action.places, side)) for side in SIDES]))
    raised, missing = raising(action, M)
    if missing:
        return EN_TWIST.outside("bending alone is outside its range", unit="MPa")
    bar = isinstance(action.family, Bar)
    per_V = web_en1993.PEAK_OF_RECTANGLE / float(action.p.area[0]) if bar else peak_stress(action.p)
    area, t = _stiff(action)
    axial, grown = along_it(action)
    sigma = grown * np.abs(M) / min(float(action.p.W_y_top[0]), float(action.p.W_y_bottom[0])) * raised + axial
    tau = T / (2 * area * t) + V * per_V
    i, j = first_greatest(np.hypot(sigma, np.sqrt(3) * tau)), first_greatest(tau)
    most, here = (
        closed_torsion.BREDT_SHEAR.evaluate(T=float(T[k]), A_m=area, t=t, tau_V=float(V[k]) * per_V) for k in (j, i)
    )
    as_normal = warping_torsion.SHEAR_AS_NORMAL.evaluate(tau=float(most.value))
    both = warping_torsion.TOGETHER.evaluate(sigma=float(sigma[i]), tau=float(here.value))
    walls: Steps = []
    flats = [part for part in action.parts if part.role == "internal" and part.count]
    if isinstance(action.family, Tube):
        bears = closed_torsion.TUBE_TORSION.evaluate(E=action.E, D=float(action.family.od), t=action.t)
        walls = [bears, closed_torsion.BUCKLING_AS_NORMAL.evaluate(
            f_y=action.f_y, tau=float(most.value), f_bv=float(bears.value))]  # fmt: skip
    elif flats and not bar:
        walls = [*buckled(action, max(flats, key=lambda one: web_slant(one) / float(one.t[0])), float(most.value))]
    numbers = [float(sigma.max()), float(as_normal.value), float(both.value)]
    numbers += [float(walls[-1].value)] if walls else []
    trace: Steps = [
        Stated("sigma_b", "MPa", float(sigma[i]), f"bending at {mm(x[i]):.4g}, effective, with axial force"),
        most, as_normal, here, both, *walls,
        Stated("f_y", "MPa", action.f_y, "yield strength of the weaker sheet"),
    ]  # fmt: skip
    return EN_TWIST.judge(
        capacity=action.f_y, demand=max(numbers), load_factor=action.gamma, unit="MPa", trace=trace,
        note=f"up to {Measure(float(T.max()) / 1e3, unit='N*m'):.4g} of torque; ends held against turning",
        covers=["twisting"],
    )  # fmt: skip


__all__ = [
    "along_it",
    "buckled",
    "first_greatest",
    "greatest_torque",
    "least_aside",
    "raising",
    "torques_inside",
    "twisted_cell",
]
