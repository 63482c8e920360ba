"""Open braces that twist: loads beside the shear centre, torques, and profiles askew that one face alone holds.

Decided here: a load stands on the web, or in the middle of the flat beside it where it is not said to stand over the
web; a torque (`torque`) acts besides; supports hold the twist and let the ends warp, and where an end is held against
bending it is also tried as one that cannot warp, the worse counts; a face that is held does not move sideways, and the
section turns about it.  Stresses are those of the gross section, the bending part raised to that of the effective one.
Where nothing holds the brace the twist grows as the moment nears the critical moment of lateral-torsional buckling.
What warping carries of a torque shears two webs against each other, all of it given to them.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from jointcalc.check.brace_action import SIDES, BraceAction, called, carried, web_angle, web_height, web_slant
from jointcalc.check.brace_base import AISI_TWIST, EN_TWIST
from jointcalc.check.brace_bending import moments
from jointcalc.check.brace_cell import along_it, buckled, first_greatest, raising, twisted_cell
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
    stiff: bool
    """Whether ends that are held against bending are held against warping too."""

    def words(self, action: BraceAction) -> str:
        """What twists it, for the note of a check."""
        said = f"load {self.where}, {mm(abs(self.arm)):.3g} beside the shear centre; " if self.where else ""
        torques = action.brace.torques
        said += "with the torque on it; " if torques else ""
        stiff = self.stiff or any(one.at is None for one in torques)
        return f"{said}ends held against turning, {'and as if they could not warp' if stiff else 'free to warp'}"


def _warping_torque(twist: Turned) -> Floats:
    """The part of the torque that warping carries [N mm], on both sides of every node."""
    x, bent, section = twist.twisted.x, twist.twisted.warping, twist.section
    third = np.diff(bent)[::2] / np.diff(x)[::2]
    return np.repeat(np.abs(section.E * (section.C_w + section.height**2 * section.I_z) * third), 2)


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
def turnings(action: BraceAction) -> tuple[Turned, ...]:
    """How it bends and twists; empty where nothing can twist it or the profile cannot be solved so.

    For both senses of its torques where the profile or its loads make that a difference: which way it faces is unknown.
    """
    if action.held_both or not _open(action):
        return ()
    torques = action.brace.torques
    loaded = any(not isinstance(one, Couple) for one in action.brace.loads)
    if not loaded and not torques:
        return ()
    row = {name: float(getattr(action.p, name)[0]) for name in ("I_y", "I_z", "I_yz", "C_w", "J")}
    askew = abs(row["I_yz"]) > 1e-9 * (row["I_y"] + row["I_z"])
    held = action.brace.held in ("top", "bottom")
    if askew and not held and loaded:
        return ()  # bends about no axis of its own: told by the check of lateral buckling
    y, where = load_line(action)
    arm = y - float(action.p.y_shear_centre[0]) if loaded else 0.0
    beside = abs(arm) >= 1e-3 * float(action.p.i_0[0])
    if not beside and not askew and not torques:
        return ()
    height = 0.0
    if held:
        face = action.face(action.brace.held)
        height = float((action.p.z_top if face == "top" else action.p.z_bottom)[0] - action.p.z_shear_centre[0])
    # as the profile is drawn gravity acts downwards; turned over, the section is mirrored top to bottom
    section = Stiffness(E=action.E, G=action.G, height=-height if action.turned else height, **{
        **row, "I_yz": -row["I_yz"] if action.turned else row["I_yz"],
    })  # fmt: skip
    brace = action.brace
    return tuple(
        Turned(
            solve_twist(
                brace.length, section, brace.supports, brace.loads, arm,
                [replace(one, moment=sense * one.moment) for one in torques], stiff,
            ),
            section, arm, where if beside or not torques else "", stiff,
        )
        for sense in ((1.0, -1.0) if torques and (askew or beside) else (1.0,))
        for stiff in ((False, True) if any(one.rotation > 0 for one in brace.supports) else (False,))
    )  # fmt: skip


def _open(action: BraceAction) -> bool:
    return not (action.family.closed or isinstance(action.family, Bar) or action.p.outline.tree.loops)


def twisting_needs(action: BraceAction) -> list[Need]:
    """The twist, where something twists."""
    torques = action.brace.torques
    if action.held_both or not (torques or turnings(action)):
        return []
    needs = [Need("twisting", f"no method applies to the twisting of {called(action)}")]
    if torques and not action.brace.fastened:
        needs.append(Need("held against turning", "it lies loose, and nothing holds its ends against its torque"))
    if torques and isinstance(action.family, Lap):
        needs.append(Need("spots of a twisted lap", "no method judges what a torque puts on the spots of a lap"))
    return needs


@once
def twisting(action: BraceAction) -> list[Check]:
    """Bending with twisting by both documents."""
    if action.brace.torques and not action.held_both and not _open(action):
        return [twisted_cell(action)]
    found = [_together(action, one) for one in turnings(action)]
    if not found:
        return []
    used = np.array([max((c.utilisation or 0.0 for c in checks), default=0.0) for checks in found])
    return found[first_greatest(used)]


def _together(action: BraceAction, twist: Turned) -> list[Check]:
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
    if action.webs_apart and web_area > 0:
        # what warps the profile shears its two webs against each other: all of it given to them
        tau_V = tau_V + 2 * _warping_torque(twist) / action.webs_apart / web_area
    rate = np.abs(twist.twisted.rate)
    t = float(points.t.max())
    raised, missing = raising(action, M)
    grown = np.ones(n)
    for k in range(n):
        free = sideways(action).get(action.pressed(float(M[k])))
        if free is not None and free.critical:
            part = action.gamma * abs(float(M[k])) / free.critical
            grown[k] = 1 / (1 - part) if part < 0.999 else 1e3
    axial, thrust = along_it(action)
    grown *= thrust
    base = plain * raised[:, None] * thrust
    total = np.abs(base + grown[:, None] * extra)
    i, j = np.unravel_index(first_greatest(total), total.shape)
    sense = float(np.sign(base[i, j] + grown[i] * extra[i, j])) or 1.0
    given: Steps = [
        *_beside(twist),
        Stated(
            "sigma_w",
            "MPa",
            float(sense * extra[i, j]),
            f"warping and sideways bending, at {mm(x[i]):.4g}, gross section",
        ),
    ]
    if axial:
        given.append(Stated("sigma_N", "MPa", axial, "axial force with its moment, added to bending"))
    normal = warping_torsion.TOTAL_NORMAL.evaluate(
        sigma_b=float(sense * base[i, j]) + axial, k=float(grown[i]), sigma_w=float(sense * extra[i, j])
    )
    h = first_greatest(action.G * t * rate + tau_V)
    shear = warping_torsion.TWISTING_SHEAR.evaluate(G=action.G, t=t, rate=float(rate[h]), tau_V=float(tau_V[h]))
    here = warping_torsion.TWISTING_SHEAR.evaluate(G=action.G, t=t, rate=float(rate[i]), tau_V=float(tau_V[i]))
    as_normal = warping_torsion.SHEAR_AS_NORMAL.evaluate(tau=float(shear.value))
    both = warping_torsion.TOGETHER.evaluate(sigma=float(normal.value), tau=float(here.value))
    demand = max(float(normal.value), float(as_normal.value), float(both.value))
    walls: Steps = []
    if action.brace.torques and action.webs:
        widest = max(action.webs, key=lambda one: web_slant(one) / float(one.t[0]))
        walls = [*buckled(action, widest, float(tau_V.max()))]
        demand = max(demand, float(walls[-1].value))
    note = twist.words(action)
    if missing:
        checks.append(EN_TWIST.outside("bending alone is outside its range", unit="MPa"))
    else:
        checks.append(
            EN_TWIST.judge(
                capacity=action.f_y, demand=demand, load_factor=action.gamma, unit="MPa",
                trace=[*given, normal, shear, as_normal, here, both, *walls,
                       Stated("f_y", "MPa", action.f_y, "yield strength of the weaker sheet")],
                note=note, covers=["twisting"],
            )
        )  # fmt: skip
    return checks + _aisi(action, twist, x, M, np.abs(plain + grown[:, None] * extra), note)


def _beside(twist: Turned) -> Steps:
    return [Stated("y_q", "mm", twist.arm, f"load beside the shear centre, {twist.where}")] if twist.where else []


def _aisi(action: BraceAction, twist: Turned, x: Floats, M: Floats, total: Floats, note: str) -> list[Check]:
    """AISI S100 H4: at the section where bending and twisting together stress most."""
    greatest = total.max(axis=1) * (np.abs(M) > 1e-9 * max(action.sag, action.hog))
    i = first_greatest(greatest)
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
            trace=[Stated.of("u_M", bent), *_beside(twist),
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
    down = [float(np.abs(one.twisted.down).max()) for one in turnings(action)]
    if not down or plain <= 0:
        return 1.0
    return max(1.0, max(down) / plain)
