"""A brace in shear, and shear together with bending."""

from __future__ import annotations

import numpy as np

from jointcalc.check.brace_base import (
    AISI_BENDING_SHEAR,
    AISI_SHEAR,
    EN_BENDING_SHEAR,
    EN_SHEAR,
    EN_SHEAR_YIELD,
    GAMMA_M0,
)
from jointcalc.check.brace_state import State, carried, count_webs, web_angle, web_height, web_slant
from jointcalc.check.common import Steps
from jointcalc.formula import web_aisi, web_en1993
from jointcalc.formula.branch import above, at_most
from jointcalc.quantity.sentence import joined, mm, newtons
from jointcalc.result import Check, Stated
from jointcalc.section.effective import E_AISI
from jointcalc.section.families import Bar
from jointcalc.section.properties import Properties


def shear(s: State) -> list[Check]:
    """Shear of the webs, or of a profile without webs by its greatest elastic stress."""
    given = Stated("V", "N", s.V, f"greatest shear force, at {mm(s.V_at):.4g}")
    checks = _shear_of_webs(s, given) if s.webs else _shear_without_webs(s, given)
    if s.V:
        why = joined("; ", dict.fromkeys(c.note for c in checks if c.status == "outside"))
        s.need("shear", f"no method applies to shear: {why}")
    return checks


def _shear_without_webs(s: State, given: Stated) -> list[Check]:
    if isinstance(s.family, Bar):
        # a flat bar's mid-line lies level and has no shear flow; the parabola over its depth has this peak
        q, how = 1.5 / float(s.p.area[0]), f"greatest shear stress of a rectangle for {newtons(1)}, 1.5 / A"
    else:
        q, how = _peak_stress(s.p), f"greatest shear stress of the section for {newtons(1)}, from its shear flow"
    stress = Stated("τ_1", "MPa/N", q, how)
    yielded = web_en1993.ELASTIC_SHEAR.evaluate(f_y=s.f_y, tau_1=q)
    check = EN_SHEAR_YIELD.judge(
        capacity=float(yielded.value), demand=s.V, load_factor=s.gamma, trace=[stress, yielded, given],
        covers=["shear"],
    )  # fmt: skip
    s.shears["en"] = check
    return [check, AISI_SHEAR.outside("written for flat webs between flanges; this profile has none", demand=s.V)]


def _shear_of_webs(s: State, given: Stated) -> list[Check]:
    total = 0.0
    trace: Steps = []
    for web in s.webs:
        s_w, h_w, t = web_slant(web), web_height(s, web), float(web.t[0])
        slender = web_en1993.WEB_SLENDERNESS.evaluate(s_w=s_w, t=t, f_yb=s.f_y, E=s.E)
        lamda_w = float(slender.value)
        strength = web_en1993.shear_strength(lamda_w).evaluate(f_yb=s.f_y, lamda_w=lamda_w)
        one = web_en1993.WEB_SHEAR.evaluate(h_w=h_w, t=t, f_bv=float(strength.value), phi=web_angle(web))
        total += web.count * float(one.value) * float(np.sin(web_angle(web)))
        trace += [slender, strength, one, Stated("n", "1", float(web.count), f"webs like the {web.name}")]
    s.shears["en"] = EN_SHEAR.judge(
        capacity=total, demand=s.V, load_factor=s.gamma, trace=[*trace, given], note=count_webs(s),
        covers=["shear"],
    )  # fmt: skip
    total, trace = 0.0, []
    reasons: list[str] = []
    for web in s.webs:
        h, t = float(web.length[0]), float(web.t[0])
        if above(h / t, 200.0):
            reasons.append(f"h / t = {h / t:.4g}, must be at most 200 (webs without stiffeners)")
            t = h / 200.0  # a bound from above
        inputs = {"h": h, "t": t, "E": E_AISI, "k_v": web_aisi.K_V, "F_y": s.f_y}
        stress_v = web_aisi.shear_stress(**inputs).evaluate(**inputs)
        one = web_aisi.WEB_SHEAR.evaluate(h=h, t=t, F_v=float(stress_v.value))
        total += web.count * float(one.value) * float(np.sin(web_angle(web)))
        trace += [stress_v, one, Stated("n", "1", float(web.count), f"webs like the {web.name}")]
    more: Steps = [*trace, given]
    if total <= 0:
        return [s.shears["en"], AISI_SHEAR.outside("the webs have no flat", demand=s.V)]
    if reasons:
        edge = AISI_SHEAR.at_most(dict.fromkeys(reasons), capacity=total, demand=s.V, trace=more)
        return [s.shears["en"], edge]
    s.shears["aisi"] = AISI_SHEAR.judge(capacity=total, demand=s.V, trace=more, note=count_webs(s), covers=["shear"])
    return [s.shears["en"], s.shears["aisi"]]


def _peak_stress(p: Properties) -> float:
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


def bending_shear(s: State) -> list[Check]:
    """Bending and shear together, wherever both act, by both codes."""
    if not s.V or not (s.sag or s.hog):
        return []
    en = _en_bending_shear(s)
    if all(c.status != "info" for c in en):  # an info says that shear leaves bending as it is
        s.need("bending with shear", "no method applies to bending together with shear")
    return [*en, *_aisi_bending_shear(s)]


def _en_bending_shear(s: State) -> list[Check]:
    sheared = s.shears["en"]
    gamma, V_w = s.gamma, carried(sheared)
    x, M, V = s.actions
    much = ~at_most(GAMMA_M0 * gamma * V / V_w, 0.5)
    if not much.any():
        return [
            EN_BENDING_SHEAR.info(
                capacity=0.5 * V_w / (GAMMA_M0 * gamma),
                demand=s.V,
                note="shear up to half the resistance leaves bending unreduced",
            )
        ]
    used = np.where(much, gamma * GAMMA_M0 * s.bent_over("en", M), 0.0)
    if not np.isfinite(used).all():
        return [EN_BENDING_SHEAR.outside("bending alone is outside its range", unit="1")]
    both = np.where(much, used + (2 * gamma * V / (V_w / GAMMA_M0) - 1) ** 2, 0.0)
    i = int(np.argmax(both))
    M_x, face = s.with_axial(float(M[i]))
    bent = s.moments.get(("en", face))
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


def _aisi_bending_shear(s: State) -> list[Check]:
    sheared = s.shears.get("aisi")
    if sheared is None or not any(code == "aisi" for code, _ in s.moments):
        reason = "bending or shear alone is outside its range"
        return [AISI_BENDING_SHEAR.outside(reason, unit="1")] if s.webs else []
    V_n = carried(sheared)
    x, M, V = s.actions
    used = web_aisi.OMEGA_BENDING * s.bent_over("aisi", M)
    if not np.isfinite(used).all():
        return [AISI_BENDING_SHEAR.outside("bending alone is outside its range", unit="1")]
    i = int(np.argmax(np.hypot(used, web_aisi.OMEGA_SHEAR * V / V_n)))
    M_x, face = s.with_axial(float(M[i]))
    bent = s.moments.get(("aisi", face)) or next(c for (code, _), c in s.moments.items() if code == "aisi")
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
