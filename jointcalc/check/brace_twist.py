"""Open braces that twist: loads beside the shear centre, and profiles askew that one face alone holds.

Decided here: a load stands on the web, or in the middle of the flat beside it where it is not said to stand over the
web; supports hold the twist and let the ends warp; a face that is held does not move sideways, and the section turns
about it.  Stresses are those of the gross section, the bending part raised to that of the effective one.  Where
nothing holds the brace the twist grows as the moment nears the critical moment of lateral-torsional buckling.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from jointcalc.check.brace_action import SIDES, BraceAction, called, carried, web_angle, web_height
from jointcalc.check.brace_base import AISI_TWIST, EN_TWIST
from jointcalc.check.brace_bending import moments
from jointcalc.check.brace_lateral import sideways
from jointcalc.check.common import Steps, once
from jointcalc.formula import warping_torsion
from jointcalc.quantity.sentence import mm
from jointcalc.result import Check, Need, Stated
from jointcalc.section.families.angle import Angle
from jointcalc.section.families.lap import Lap
from jointcalc.section.families.tube import Bar
from jointcalc.section.panels import Panel
from jointcalc.statics.beam_model import Couple
from jointcalc.statics.twist import Stiffness, Twisted, normal_stress, solve_twist

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Turned:
    """How a brace bends and twists at once: the solution, what it was solved for, and where the load stands."""

    twisted: Twisted
    section: Stiffness
    arm: float
    where: str


def _middle(action: BraceAction, part: Panel) -> float:
    """Horizontal place of the middle of a flat [mm]; of a mirrored pair, that of the profile's middle."""
    if part.count > 1:
        return float(action.p.y_centroid[0])
    o = action.p.outline
    piece = o.segments[o.index(part.name.removesuffix(" (with bead)"))]
    return float(o.y[piece.start][0] + o.y[piece.end][0]) / 2


def load_line(action: BraceAction) -> tuple[float, str]:
    """(horizontal place of the loads [mm] in the outline's coordinates, in words)."""
    o = action.p.outline
    if isinstance(action.family, Lap):
        piece = o.segments[o.index("weld")]
        return float(o.y[piece.start][0]), "at the weld line"
    upright = (
        [p for p in action.parts if not p.level and p.count] if isinstance(action.family, Angle) else list(action.webs)
    )
    number = sum(p.count for p in upright)
    webs = sum(p.count * _middle(action, p) for p in upright) / number if number else float(action.p.y_centroid[0])
    if action.brace.over == "webs":
        return webs, "over the web"
    face = action.face("top")
    height = float(action.p.z_top[0] if face == "top" else action.p.z_bottom[0])
    outer = [p for p in action.parts if p.level and p.count and abs(float(p.z_1[0]) - height) <= float(p.t[0]) * 1.01]
    middles = [(_middle(action, p), p.name) for p in outer if p.role in ("internal", "outstand")]
    y_s = float(action.p.y_shear_centre[0])
    found = max([(webs, ""), *middles], key=lambda one: abs(one[0] - y_s))
    return found[0], f"in the middle of the {found[1]}" if found[1] else "over the web"


@once
def turned(action: BraceAction) -> Turned | None:
    """How it bends and twists; None where nothing can twist it or the profile cannot be solved so."""
    if action.held_both or action.family.closed or isinstance(action.family, Bar) or action.p.outline.tree.loops:
        return None
    if not any(not isinstance(one, Couple) for one in action.brace.loads):
        return None
    row = {name: float(getattr(action.p, name)[0]) for name in ("I_y", "I_z", "I_yz", "C_w", "J")}
    askew = abs(row["I_yz"]) > 1e-9 * (row["I_y"] + row["I_z"])
    held = action.brace.held in ("top", "bottom")
    if askew and not held:
        return None  # bends about no axis of its own: told by the check of lateral buckling
    y, where = load_line(action)
    arm = y - float(action.p.y_shear_centre[0])
    if abs(arm) < 1e-3 * float(action.p.i_0[0]) and not askew:
        return None
    height = 0.0
    if held:
        face = action.face(action.brace.held)
        height = float((action.p.z_top if face == "top" else action.p.z_bottom)[0] - action.p.z_shear_centre[0])
    # as the profile is drawn gravity acts downwards; turned over, the section is mirrored top to bottom
    section = Stiffness(E=action.E, G=action.G, height=-height if action.turned else height, **{
        **row, "I_yz": -row["I_yz"] if action.turned else row["I_yz"],
    })  # fmt: skip
    return Turned(
        solve_twist(action.brace.length, section, action.brace.supports, action.brace.loads, arm), section, arm, where
    )


def twisting_needs(action: BraceAction) -> list[Need]:
    """The twist, where something twists."""
    if turned(action) is None:
        return []
    return [Need("twisting", f"no method applies to the twisting of {called(action)}")]


def twisting(action: BraceAction) -> list[Check]:
    """Bending with twisting by both documents."""
    twist = turned(action)
    if twist is None:
        return []
    x = twist.twisted.x
    points = action.p.sectorial()
    flip = -1.0 if action.turned else 1.0
    # mirrored top to bottom: heights change sign, and with them the sense in which the warping runs
    z, omega = flip * points.z, flip * points.omega
    field = normal_stress(twist.twisted, twist.section, points.y, z, omega)
    n = len(x)
    sides = [SIDES[1] if k % 2 == 0 else SIDES[0] for k in range(n)]
    M = np.array([float(action.beam.moment(at, side)) for at, side in zip(x, sides)])
    V = np.array([abs(float(action.beam.shear(at, side))) for at, side in zip(x, sides)])
    plain = -M[:, None] * z / action.I_y
    extra = field - plain
    checks: list[Check] = []
    web_area = sum(p.count * web_height(action, p) * float(p.t[0]) * float(np.sin(web_angle(p))) for p in action.webs)
    tau_V = V / web_area if web_area > 0 else 0.0 * V
    rate = np.abs(twist.twisted.rate)
    t = float(points.t.max())
    raised, grown = np.ones(n), np.ones(n)
    missing = False
    for k in range(n):
        face = action.pressed(float(M[k]))
        bent = moments(action).get(("en", face))
        if bent is None and abs(M[k]) > 1e-9 * max(action.sag, action.hog, 1.0):
            missing = True
        elif bent is not None:
            raised[k] = min(action.p.W_y_top[0], action.p.W_y_bottom[0]) * action.f_y / carried(bent)
        free = sideways(action).get(face)
        if free is not None and free.critical:
            part = action.gamma * abs(float(M[k])) / free.critical
            grown[k] = 1 / (1 - part) if part < 0.999 else 1e3
    raised = np.maximum(raised, 1.0)
    base = plain * raised[:, None]
    total = np.abs(base + grown[:, None] * extra)
    i, j = np.unravel_index(int(np.argmax(total)), total.shape)
    sense = float(np.sign(base[i, j] + grown[i] * extra[i, j])) or 1.0
    given: Steps = [
        Stated("y_q", "mm", twist.arm, f"load beside the shear centre, {twist.where}"),
        Stated(
            "sigma_w",
            "MPa",
            float(sense * extra[i, j]),
            f"warping and sideways bending, at {mm(x[i]):.4g}, gross section",
        ),
    ]
    normal = warping_torsion.TOTAL_NORMAL.evaluate(
        sigma_b=float(sense * base[i, j]), k=float(grown[i]), sigma_w=float(sense * extra[i, j])
    )
    h = int(np.argmax(action.G * t * rate + tau_V))
    shear = warping_torsion.TWISTING_SHEAR.evaluate(G=action.G, t=t, rate=float(rate[h]), tau_V=float(tau_V[h]))
    here = warping_torsion.TWISTING_SHEAR.evaluate(G=action.G, t=t, rate=float(rate[i]), tau_V=float(tau_V[i]))
    as_normal = warping_torsion.SHEAR_AS_NORMAL.evaluate(tau=float(shear.value))
    both = warping_torsion.TOGETHER.evaluate(sigma=float(normal.value), tau=float(here.value))
    demand = max(float(normal.value), float(as_normal.value), float(both.value))
    note = (
        f"load {twist.where}, {mm(abs(twist.arm)):.3g} beside the shear centre; ends held against turning, free to warp"
    )
    if missing:
        checks.append(EN_TWIST.outside("bending alone is outside its range", unit="MPa"))
    else:
        checks.append(
            EN_TWIST.judge(
                capacity=action.f_y, demand=demand, load_factor=action.gamma, unit="MPa",
                trace=[*given, normal, shear, as_normal, here, both], note=note, covers=["twisting"],
            )
        )  # fmt: skip
    return checks + _aisi(action, twist, x, M, np.abs(plain + grown[:, None] * extra), note)


def _aisi(action: BraceAction, twist: Turned, x: Floats, M: Floats, total: Floats, note: str) -> list[Check]:
    """AISI S100 H4: at the section where bending and twisting together stress most."""
    greatest = total.max(axis=1) * (np.abs(M) > 1e-9 * max(action.sag, action.hog))
    i = int(np.argmax(greatest))
    if not greatest[i]:
        return []
    face = action.pressed(float(M[i]))
    bent = moments(action).get(("aisi", face))
    if bent is None:
        return [AISI_TWIST.outside("bending alone is outside its range", unit="N*mm")]
    most = abs(float(M[i])) / min(float(action.p.W_y_top[0]), float(action.p.W_y_bottom[0]))
    factor = warping_torsion.TWIST_REDUCTION.evaluate(f_max=most, f_total=float(greatest[i]))
    left = warping_torsion.TWISTED_MOMENT.evaluate(R=float(factor.value), M_n=carried(bent))
    return [
        AISI_TWIST.judge(
            capacity=float(left.value), demand=abs(float(M[i])), unit="N*mm",
            trace=[Stated.of("u_M", bent),
                   Stated("y_q", "mm", twist.arm, f"load beside the shear centre, {twist.where}"),
                   Stated("f_total", "MPa", float(greatest[i]), f"both together, at {mm(x[i]):.4g}, gross section"),
                   factor, left],
            note=note, covers=["twisting"],
        )
    ]  # fmt: skip


def softer(action: BraceAction) -> float:
    """How many times farther a profile askew bends than about its level axis alone; 1 where nothing is askew."""
    I_y, I_z, I_yz = action.I_y, float(action.p.I_z[0]), float(action.p.I_yz[0])
    if action.held_both or abs(I_yz) <= 1e-9 * (I_y + I_z):
        return 1.0
    if action.brace.held == "none":
        return I_y / (I_y - I_yz**2 / I_z)
    plain = abs(float(action.beam.deflection_max().value))
    twist = turned(action)
    if twist is None or plain <= 0:
        return 1.0
    return max(1.0, float(np.abs(twist.twisted.down).max()) / plain)
