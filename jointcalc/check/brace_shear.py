"""A brace in shear, and shear together with bending."""

from __future__ import annotations

import numpy as np

from jointcalc.check.brace_action import BraceAction, carried, count_webs, web_angle, web_height, web_slant
from jointcalc.check.brace_base import (
    AISI_BENDING_SHEAR,
    AISI_SHEAR,
    EN_BENDING_SHEAR,
    EN_SHEAR,
    EN_SHEAR_YIELD,
)
from jointcalc.check.brace_bending import bent_over, moments
from jointcalc.check.common import Steps, once
from jointcalc.formula import web_aisi, web_en1993
from jointcalc.formula.branch import above, at_most
from jointcalc.formula.safety import GAMMA_M0
from jointcalc.quantity.sentence import joined, mm, newtons
from jointcalc.result import Check, Need, Stated
from jointcalc.section.effective_aisi import E_AISI
from jointcalc.section.families.tube import Bar
from jointcalc.section.properties import Properties


def shear(action: BraceAction) -> list[Check]:
    """Shear of the webs, or of a profile without webs by its greatest elastic stress."""
    return [check for check, _ in _both_codes(action).values()]


def shear_needs(action: BraceAction) -> list[Need]:
    """The greatest shear force."""
    why = joined("; ", dict.fromkeys(c.note for c in shear(action) if c.status == "outside"))
    return [Need("shear", f"no method applies to shear: {why}")] if action.V else []


def shears(action: BraceAction) -> dict[str, Check]:
    """Code -> the check of shear, where the method applies."""
    return {code: check for code, (check, applies) in _both_codes(action).items() if applies}


Sheared = dict[str, tuple[Check, bool]]
"""Code -> (check of shear, whether the method applies)."""


@once
def _both_codes(action: BraceAction) -> Sheared:
    given = Stated("V", "N", action.V, f"greatest shear force, at {mm(action.V_at):.4g}")
    return _shear_of_webs(action, given) if action.webs else _shear_without_webs(action, given)


def _shear_without_webs(action: BraceAction, given: Stated) -> Sheared:
    if isinstance(action.family, Bar):
        # a flat bar's mid-line lies level and has no shear flow; the parabola over its depth has this peak
        peak = web_en1993.PEAK_OF_RECTANGLE
        q, how = peak / float(action.p.area[0]), f"greatest shear stress of a rectangle for {newtons(1)}, {peak:g} / A"
    else:
        q, how = peak_stress(action.p), f"greatest shear stress of the section for {newtons(1)}, from its shear flow"
    stress = Stated("τ_1", "MPa/N", q, how)
    yielded = web_en1993.ELASTIC_SHEAR.evaluate(f_y=action.f_y, tau_1=q)
    check = EN_SHEAR_YIELD.judge(
        capacity=float(yielded.value), demand=action.V, load_factor=action.gamma, trace=[stress, yielded, given],
        covers=["shear"],
    )  # fmt: skip
    none = AISI_SHEAR.outside("written for flat webs between flanges; this profile has none", demand=action.V)
    return {"en": (check, True), "aisi": (none, False)}


def _shear_of_webs(action: BraceAction, given: Stated) -> Sheared:
    total = 0.0
    trace: Steps = []
    for web in action.webs:
        s_w, h_w, t = web_slant(web), web_height(action, web), float(web.t[0])
        slender = web_en1993.WEB_SLENDERNESS.evaluate(s_w=s_w, t=t, f_yb=action.f_y, E=action.E)
        lamda_w = float(slender.value)
        strength = web_en1993.shear_strength(lamda_w).evaluate(f_yb=action.f_y, lamda_w=lamda_w)
        one = web_en1993.WEB_SHEAR.evaluate(h_w=h_w, t=t, f_bv=float(strength.value), phi=web_angle(web))
        total += web.count * float(one.value) * float(np.sin(web_angle(web)))
        trace += [slender, strength, one, Stated("n", "1", float(web.count), f"webs like the {web.name}")]
    en = EN_SHEAR.judge(
        capacity=total, demand=action.V, load_factor=action.gamma, trace=[*trace, given], note=count_webs(action),
        covers=["shear"],
    )  # fmt: skip
    total, trace = 0.0, []
    reasons: list[str] = []
    for web in action.webs:
        h, t = float(web.length[0]), float(web.t[0])
        if above(h / t, web_aisi.MOST_SLENDER):
            most = f"must be at most {web_aisi.MOST_SLENDER:g} (webs without stiffeners)"
            reasons.append(f"h / t = {h / t:.4g}, {most}")
            t = h / web_aisi.MOST_SLENDER  # a bound from above
        inputs = {"h": h, "t": t, "E": E_AISI, "k_v": web_aisi.K_V, "F_y": action.f_y}
        stress_v = web_aisi.shear_stress(**inputs).evaluate(**inputs)
        one = web_aisi.WEB_SHEAR.evaluate(h=h, t=t, F_v=float(stress_v.value))
        total += web.count * float(one.value) * float(np.sin(web_angle(web)))
        trace += [stress_v, one, Stated("n", "1", float(web.count), f"webs like the {web.name}")]
    more: Steps = [*trace, given]
    if total <= 0:
        return {"en": (en, True), "aisi": (AISI_SHEAR.outside("the webs have no flat", demand=action.V), False)}
    if reasons:
        edge = AISI_SHEAR.at_most(dict.fromkeys(reasons), capacity=total, demand=action.V, trace=more)
        return {"en": (en, True), "aisi": (edge, False)}
    aisi = AISI_SHEAR.judge(
        capacity=total, demand=action.V, trace=more, note=count_webs(action), covers=["shear"]
    )  # fmt: skip
    return {"en": (en, True), "aisi": (aisi, True)}


def peak_stress(p: Properties) -> float:
    """Greatest shear stress [MPa] of the section for a vertical shear force of 1 N.

    The flow of a flat is a quadratic of the distance along it, fixed by both ends and the total.
    """
    o = p.outline
    flow = p.shear_flow(V_z=1.0)
    worst = 0.0
    for i, piece in enumerate(o.segments):
        if piece.kind == "weld":
            continue
        q_1, q_2 = float(flow.start[i, 0]), float(flow.end[i, 0])
        ends = o.polyline(i)
        length = abs(float(o.sweep[i].flat[0] * o.radius[i].flat[0])) or float(np.hypot(*(ends[-1] - ends[0])))
        bulge = 6 * (float(flow.force[i, 0]) / length - (q_1 + q_2) / 2) if length > 0 else 0.0
        x = np.linspace(0.0, 1.0, 201)
        q = q_1 + (q_2 - q_1) * x + bulge * x * (1 - x)
        worst = max(worst, float(np.abs(q).max()) / float(np.broadcast_to(o.t[i], (1,))[0]))
    return worst


def _both_act(action: BraceAction) -> bool:
    return bool(action.V and (action.sag or action.hog))


def bending_shear(action: BraceAction) -> list[Check]:
    """Bending and shear together, wherever both act, by both codes."""
    return [*_en_bending_shear(action), *_aisi_bending_shear(action)] if _both_act(action) else []


def bending_shear_needs(action: BraceAction) -> list[Need]:
    """Both together, unless shear is so small that it leaves bending as it is."""
    if not _both_act(action) or any(c.status == "info" for c in _en_bending_shear(action)):
        return []
    return [Need("bending with shear", "no method applies to bending together with shear")]


@once
def _en_bending_shear(action: BraceAction) -> list[Check]:
    sheared = shears(action)["en"]
    gamma, V_w = action.gamma, carried(sheared)
    x, M, V = action.along
    half = web_en1993.SHEAR_LEAVES_BENDING
    much = ~at_most(GAMMA_M0 * gamma * V / V_w, half)
    if not much.any():
        return [
            EN_BENDING_SHEAR.info(
                capacity=half * V_w / (GAMMA_M0 * gamma),
                demand=action.V,
                note="shear up to half the resistance leaves bending unreduced",
            )
        ]
    used = np.where(much, gamma * GAMMA_M0 * bent_over(action, "en", M), 0.0)
    if not np.isfinite(used).all():
        return [EN_BENDING_SHEAR.outside("bending alone is outside its range", unit="1")]
    both = np.where(much, used + (2 * gamma * V / (V_w / GAMMA_M0) - 1) ** 2, 0.0)
    i = int(np.argmax(both))
    M_x, face = action.with_axial(float(M[i]))
    bent = moments(action).get(("en", face))
    M_c = carried(bent) if bent is not None else 1.0  # no moment there
    eta = web_en1993.BENDING_AND_SHEAR.evaluate(
        M=gamma * M_x if bent is not None else 0.0, M_c=M_c / GAMMA_M0, V=gamma * float(V[i]), V_w=V_w / GAMMA_M0
    )
    trace: Steps = [Stated.of("u_V", sheared), eta]
    if bent is not None:
        trace.insert(0, Stated.of("u_M", bent))
    return [
        EN_BENDING_SHEAR.judge(
            capacity=1.0, demand=float(eta.value), unit="1", trace=trace,
            note=f"at {mm(x[i]):.4g}, with design values", covers=["bending with shear"],
        )
    ]  # fmt: skip


def _aisi_bending_shear(action: BraceAction) -> list[Check]:
    sheared, bends = shears(action).get("aisi"), moments(action)
    if sheared is None or not any(code == "aisi" for code, _ in bends):
        reason = "bending or shear alone is outside its range"
        return [AISI_BENDING_SHEAR.outside(reason, unit="1")] if action.webs else []
    V_n = carried(sheared)
    x, M, V = action.along
    used = web_aisi.OMEGA_BENDING * bent_over(action, "aisi", M)
    if not np.isfinite(used).all():
        return [AISI_BENDING_SHEAR.outside("bending alone is outside its range", unit="1")]
    i = int(np.argmax(np.hypot(used, web_aisi.OMEGA_SHEAR * V / V_n)))
    M_x, face = action.with_axial(float(M[i]))
    bent = bends.get(("aisi", face)) or next(c for (code, _), c in bends.items() if code == "aisi")
    eta = web_aisi.BENDING_AND_SHEAR.evaluate(
        M=M_x, M_a=carried(bent) / web_aisi.OMEGA_BENDING, V=float(V[i]), V_a=V_n / web_aisi.OMEGA_SHEAR
    )
    return [
        AISI_BENDING_SHEAR.judge(
            capacity=1.0, demand=float(eta.value), unit="1",
            trace=[Stated.of("u_M", bent), Stated.of("u_V", sheared), eta], note=f"at {mm(x[i]):.4g}",
            covers=["bending with shear"],
        )
    ]  # fmt: skip
