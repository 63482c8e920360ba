"""A brace judged as a member: bending, webs, buckling, deflection, its weld lines, and whether it can be folded.

- EN 1993-1-3 gives characteristic resistances: required gamma_M x gamma_F (gamma_M0 = gamma_M1 = 1.0,
  recommended values).
- AISI S100 gives nominal strengths with their own Omega.
- Deflection is judged against the builder's own limit, with the service second moment of EN 1993-1-3 7.1
  where the section buckles locally; `deflection_max` is that of the gross section.

Decided here: a brace whose upper and lower half differ is judged both ways up unless it is said how it lies, and the
worse way governs as a whole; worst sections are looked for at supports, loads, extremes and 120 points between;
interaction sums take the worst place; a round tube, bar, angle or lap has no web by the rules of webs and is judged by
its greatest elastic shear stress.  What the other modules decide stands at their head: local forces in `brace_local`,
buckling and axial forces in `brace_strut`, twisting in `brace_twist`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from math import inf

import numpy as np

from jointcalc.check.brace_base import (
    AISI_BENDING,
    AISI_BENDING_SHEAR,
    AISI_SHEAR,
    CURLING,
    DEFLECTION,
    EN_BENDING,
    EN_BENDING_SHEAR,
    EN_SHEAR,
    EN_SHEAR_YIELD,
    GAMMA_M0,
    SPOT_LINE,
    State,
    carried,
    count_webs,
    given_moment,
    web_angle,
    web_height,
    web_slant,
)
from jointcalc.check.brace_direct import critical_loads, direct_bending
from jointcalc.check.brace_distortion import distortion
from jointcalc.check.brace_local import bending_crippling, crippling, local_collapse
from jointcalc.check.brace_making import folding, weld_line
from jointcalc.check.brace_strut import axial, eccentric, eccentricity, lateral, shifted
from jointcalc.check.brace_twist import softer, turned, twisting
from jointcalc.check.common import Steps
from jointcalc.formula import web_aisi, web_en1993, wide_flange
from jointcalc.formula.branch import above, at_most
from jointcalc.formula.core import Evaluation
from jointcalc.model.brace import Brace
from jointcalc.model.fields import PURPOSES
from jointcalc.result import Amount, Check, Method, Result, Stated, caution, collect, uncovered
from jointcalc.result.cautions import Caution
from jointcalc.section.effective import E_AISI, EffectiveSection, Panel
from jointcalc.section.families import Bar, HatSkin
from jointcalc.section.properties import Properties
from jointcalc.statics.beam import PointLoad, frequency_1, solve

SAG = 200.0
"""Part of the span beyond which a deflection is told where no limit was given: common practice, no source."""


def check_brace(brace: Brace) -> Result:
    """Judge a brace; raises InputError when a strength a design may use is missing from its grade.

    Where its upper and lower half differ and it is not said which way up it lies, the worse way is returned.
    """
    shared: dict[object, object] = {}
    states = [State(brace, way, shared) for way in brace.ways]
    found = [_judge(s) for s in states]
    if len(found) == 1:
        return found[0]
    rank = {"over": 2, "outside": 1, "ok": 0}
    n = max(range(len(found)), key=lambda k: (rank[found[k].status], _used(found[k]), -k))
    return _told(states, found, n)


def _used(result: Result) -> float:
    """Utilisation that governs; infinite where it has none and is over."""
    worst = result.worst
    if worst is None:
        return 0.0
    return inf if worst.utilisation is None else worst.utilisation


def _told(states: list[State], found: list[Result], n: int) -> Result:
    """The worse of both ways up, which says so where it makes a difference."""
    one, other = found[n], found[1 - n]
    if one.status == other.status and abs(_used(one) - _used(other)) <= 1e-6 * max(_used(one), 1e-9):
        return one
    words = []
    for k in (0, 1):
        verdict = {"ok": "holds", "over": "over", "outside": "cannot be judged"}[found[k].status]
        use = _used(found[k])
        words.append(f"{states[k].way} {verdict}" + (f" at {-int(-use * 100 // 1)} %" if 0 < use < inf else ""))
    raised = caution("way-up", ways=" and ".join(words), judged=states[n].way)
    about = {**one.about, "lies": f"{states[n].way}, the worse way: it was not said how it lies"}
    return replace(one, about=about, cautions=collect([*one.cautions, raised]))


def first_over(brace: Brace) -> bool:
    """Whether a check of strength is over, either way up where that was not said: stops at the first, for searches."""
    shared: dict[object, object] = {}
    stages = [_strength(s) for s in (State(brace, way, shared) for way in brace.ways) if s.steel]
    # stage by stage through both ways up: the quick checks of the other way come before the slow ones of this
    while stages:
        for run in list(stages):
            found = next(run, None)
            if found is None:
                stages.remove(run)
            elif any(c.status == "over" for c in found):
                return True
    return False


def _strength(s: State) -> Iterator[list[Check]]:
    """The checks of strength, stage by stage, quick ones first; each rests on those before it."""
    s.extra = {}
    for more in (eccentric(s), shifted(s)):
        for face, M in more.items():
            s.extra[face] = s.extra.get(face, 0.0) + M
    yield _bending(s)
    yield _shear(s)
    yield local_collapse(s)
    pressed, said = crippling(s)
    yield pressed
    yield _bending_shear(s)
    yield bending_crippling(s, said)
    yield lateral(s)
    yield distortion(s)
    yield direct_bending(s)
    s.turned_how = turned(s)
    yield twisting(s, s.turned_how)
    yield axial(s)


def _judge(s: State) -> Result:
    brace = s.brace
    checks: list[Check] = []
    loads: dict[str, Amount] = {}
    if s.steel:
        for found in _strength(s):
            checks += found
        loads = critical_loads(s)
    else:
        reason = f"written for carbon steel; this brace is {brace.sheets[0].material.family}"
        checks += [how.outside(reason, unit="N*mm") for how in (EN_BENDING, AISI_BENDING)]
        s.need("strength", f"no method for the strength of a brace of {brace.sheets[0].material.family} is at hand")
    bent = _Bent(s, softer(s, s.turned_how))
    checks += bent.checks()
    seam, seam_values, seam_cautions = weld_line(s)
    checks += seam
    for c in seam:
        if c.method is SPOT_LINE and c.status == "outside":
            s.need("spots", f"spots of the weld line: {c.note}")
    folds, fold_values = folding(s)
    checks += folds
    return Result(
        kind=brace.kind,
        id=brace.id,
        title=brace.title,
        checks=tuple(checks),
        values={**_values(s, bent), **loads, **seam_values, **fold_values},
        cautions=_cautions(s, checks, bent, seam_cautions),
        unjudged=uncovered(s.needs, checks),
        model=brace,
        about=_about(s),
    )


# --- bending -----------------------------------------------------------------------------------------


def _bending(s: State) -> list[Check]:
    checks = []
    for word, M, face, at in s.cases:
        mine = [_bent(s, how, code, word, M, face, at) for how, code in ((EN_BENDING, "en"), (AISI_BENDING, "aisi"))]
        if M:
            why = "; ".join(dict.fromkeys(c.note for c in mine if c.status == "outside"))
            s.need(word, f"no method applies to bending ({word}): {why}")
        checks += mine
        checks += _curling(s, word, M, face)
    return checks


def _bent(s: State, how: Method, code: str, word: str, M: float, face: str, at: float) -> Check:
    required = GAMMA_M0 * s.gamma if code == "en" else web_aisi.OMEGA_BENDING
    e = s.effective(code, face)
    reasons = e.outside()
    if reasons:
        edge = s.effective_at_edge(code, face)
        if edge is None:
            return how.outside(reasons, demand=M, unit="N*mm", where=word)
        return how.at_most(
            reasons, capacity=float(edge.moment[0]), demand=M, required=required, unit="N*mm",
            trace=[*edge.steps(), given_moment(word, M, at)], where=word,
        )  # fmt: skip
    trace: Steps = [*e.steps(), given_moment(word, M, at)]
    capacity, lag, note_lag, short = _lagged(s, code, word, e)
    if short:
        return how.at_most(
            short, capacity=capacity, demand=M, required=required, unit="N*mm", trace=[*trace, *lag], where=word
        )
    lost = float(e.lost[0]) / float(e.area[0] + e.lost[0])
    note = f"{s.face(face)} face in compression"
    note += f"; {lost:.1%} of the section does not work" if lost > 1e-9 else ", fully effective"
    check = how.judge(
        capacity=capacity, demand=M, required=required, unit="N*mm", trace=[*trace, *lag], where=word,
        note=note + note_lag, covers=[word],
    )  # fmt: skip
    s.moments[code, face] = check
    return check


# --- wide flanges ------------------------------------------------------------------------------------


def _zero_to_zero(s: State, word: str) -> tuple[float, bool]:
    """(length between the points of zero moment [mm], whether the flange is that over a support), EN 1993-1-5 Fig. 3.1.

    Where several spans or ends differ, the shortest is taken.
    """
    brace = s.brace
    least = min(brace.span)
    if len(brace.supports) == 1:
        return 2.0 * least, True
    stiff = [one.rotation > 0 for one in (brace.supports[0], brace.supports[-1])]
    continuous = len(brace.span) > 1 or any(stiff)
    if not continuous:
        return least, False  # upward loads on a pinned span bend it as downward ones do
    return (0.5 * least, True) if word == "hogging" else (0.7 * least, False)


def _width(p: Panel) -> float:
    """Half of a flat that is held at both edges, all of an outstand, between the mid-points of the bends [mm]."""
    return float(p.length[0] + p.ext_1[0] + p.ext_2[0]) * (0.5 if p.role == "internal" else 1.0)


def _lagged(s: State, code: str, word: str, e: EffectiveSection) -> tuple[float, Steps, str, str]:
    """(moment with shear lag, working, words for the note, why it is out of range or "").

    The whole section is reduced like the flange that suffers most, on the safe side.
    """
    M_c = float(e.moment[0])
    flats = [p for p in s.parts if p.level and p.count]
    b_0 = max((_width(p) for p in flats), default=0.0)
    if not b_0:
        return M_c, [], "", ""
    if code == "en":
        L_e, hogging = _zero_to_zero(s, word)
        kappa = wide_flange.WIDTH_OVER_LENGTH.evaluate(b_0=b_0, L_e=L_e)
        branch = wide_flange.lag_branch(kappa=float(kappa.value), hogging=hogging)
        if branch is None:
            return M_c, [], "", ""
        beta = branch.evaluate(kappa=float(kappa.value))
        last = wide_flange.LAGGED_MOMENT.evaluate(M_c=M_c, beta=min(float(beta.value), 1.0), kappa=float(kappa.value))
        return float(last.value), [kappa, beta, last], "; with shear lag", ""
    if not any(isinstance(one, PointLoad) for one in s.brace.loads):
        return M_c, [], "", ""
    span, why, worst = min(s.brace.span), "", 1.0
    steps: Steps = []
    for p in flats:
        slender = span / _width(p)
        most = wide_flange.short_span_ratio(slender)
        if most is None:
            why = f"span over flange width = {slender:.3g}, must be at least 6 (Table B4.3-1)"
            most = wide_flange.SHORT_SPANS[-1][1]
        # the table caps what works of a flange; what buckles locally counts already
        part = most / max(_works(e, p.name), most)
        if part < worst:
            worst = part
            steps = [Stated("ratio", "1", part, f"Table B4.3-1 at a span of {slender:.3g} times the {p.name}",
                            status="from memory")]  # fmt: skip
    if not steps:
        return M_c, [], "", ""
    last = wide_flange.SHORT_SPAN_MOMENT.evaluate(M_c=M_c, ratio=worst)
    return float(last.value), [*steps, last], "; short span, wide flange", why


def _works(e: EffectiveSection, panel: str) -> float:
    """Part of a flat that works."""
    for working in e.workings:
        if working.panel == panel and "rho" in working.values:
            inside = np.atleast_1d(np.asarray(working.values.get("compressed", True)))
            return float(np.atleast_1d(working.values["rho"])[0]) if bool(inside[0]) else 1.0
    return 1.0


def _curling(s: State, word: str, M: float, face: str) -> list[Check]:
    """Flats that curl towards the axis by more than bending may neglect; told from a tenth of that on."""
    e = s.effective("en", face)
    if not M or e.outside():
        return []
    depth = float(s.p.z_top[0] - s.p.z_bottom[0])
    worst: tuple[float, Evaluation, str] | None = None
    for p in s.parts:
        if not p.level or not p.count:
            continue
        z = abs(float(p.z_1[0]) - float(e.z_centroid[0]))
        if z <= 0:
            continue
        b_s = _width(p)
        sigma = min(s.gamma * M * z / float(e.I_y[0]), s.f_y) * _works(e, p.name)
        u = wide_flange.CURL.evaluate(sigma_a=sigma, E=s.E, t=float(p.t[0]), z=z, b_s=b_s)
        if worst is None or float(u.value) > worst[0]:
            worst = float(u.value), u, p.name
    if worst is None or worst[0] < 0.1 * 0.05 * depth:
        return []
    limit = Stated("u_lim", "mm", 0.05 * depth, "5 % of the depth")
    return [
        CURLING.judge(
            capacity=0.05 * depth, demand=worst[0], required=1.0, unit="mm", trace=[worst[1], limit], where=word,
            note=f"the {worst[2]} curls towards the axis; bending neglects up to 5 % of the depth",
        )
    ]  # fmt: skip


# --- shear -------------------------------------------------------------------------------------------


def _shear(s: State) -> list[Check]:
    given = Stated("V", "N", s.V, f"greatest shear force, at {s.V_at:.4g} mm")
    checks = _shear_of_webs(s, given) if s.webs else _shear_without_webs(s, given)
    if s.V:
        why = "; ".join(dict.fromkeys(c.note for c in checks if c.status == "outside"))
        s.need("shear", f"no method applies to shear: {why}")
    return checks


def _shear_without_webs(s: State, given: Stated) -> list[Check]:
    if isinstance(s.family, Bar):
        # a flat bar's mid-line lies level and has no shear flow; the parabola over its depth has this peak
        q, how = 1.5 / float(s.p.area[0]), "greatest shear stress of a rectangle for 1 N, 1.5 / A"
    else:
        q, how = _peak_stress(s.p), "greatest shear stress of the section for 1 N, from its shear flow"
    stress = Stated("τ_1", "MPa/N", q, how)
    yielded = web_en1993.ELASTIC_SHEAR.evaluate(f_y=s.f_y, tau_1=q)
    check = EN_SHEAR_YIELD.judge(
        capacity=float(yielded.value), demand=s.V, required=GAMMA_M0 * s.gamma, trace=[stress, yielded, given],
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
        capacity=total, demand=s.V, required=GAMMA_M0 * s.gamma, trace=[*trace, given], note=count_webs(s),
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
        edge = AISI_SHEAR.at_most(
            dict.fromkeys(reasons), capacity=total, demand=s.V, required=web_aisi.OMEGA_SHEAR, trace=more
        )
        return [s.shears["en"], edge]
    s.shears["aisi"] = AISI_SHEAR.judge(
        capacity=total, demand=s.V, required=web_aisi.OMEGA_SHEAR, trace=more, note=count_webs(s), covers=["shear"]
    )
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


# --- together ----------------------------------------------------------------------------------------


def _bending_shear(s: State) -> list[Check]:
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
            capacity=1.0, demand=float(eta.value), required=1.0, unit="1", trace=trace,
            note=f"at {x[i]:.4g} mm, with design values", covers=["bending with shear"],
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
            capacity=1.0, demand=float(eta.value), required=1.0, unit="1",
            trace=[Stated.of("u_M", bent), Stated.of("u_V", sheared), eta], note=f"at {x[i]:.4g} mm",
            covers=["bending with shear"],
        )
    ]  # fmt: skip


# --- deflection --------------------------------------------------------------------------------------


class _Bent:
    """How far the brace bends: gross and in service, and what the builder's limit says.

    `softer` is how many times farther a profile askew bends than about its level axis.
    """

    def __init__(self, s: State, softer: float) -> None:
        self.s = s
        most = s.beam.deflection_max()
        self.softer = softer
        self.gross = abs(float(most.value)) * softer
        self.at = float(most.at)
        self.working: list[Evaluation] = []
        self.service = self._service() * softer

    def _service(self) -> float:
        s = self.s
        gross = abs(float(s.beam.deflection_max().value))
        if not s.steel or not all(sheet.has_yield for sheet in s.brace.sheets):
            return gross
        least: Evaluation | None = None
        for word, M, face in (("sagging", s.sag, s.face("top")), ("hogging", s.hog, s.face("bottom"))):
            if not M or not word:
                continue
            e = s.effective("en", face)
            I_eff = float(e.I_y[0])
            if I_eff >= s.I_y * (1 - 1e-12):
                continue
            fic = web_en1993.SERVICE_SECOND_MOMENT.evaluate(
                I_gr=s.I_y, I_eff=I_eff, sigma_gr=min(M / s.modulus(face), s.f_y), sigma=s.f_y
            )
            if least is None or float(fic.value) < float(least.value):
                least = fic
        if least is None:
            return gross
        self.working = [least]
        beam = solve(s.brace.length, s.E * float(least.value), s.brace.supports, s.brace.loads)
        return abs(float(beam.deflection_max().value))

    def checks(self) -> list[Check]:
        limit = self.s.brace.deflection_limit()
        if limit is None:
            return []
        most, how = limit
        trace: Steps = [*self.working]
        if self.softer > 1:
            trace.append(Stated("k", "1", self.softer, "bends askew: farther than about its level axis"))
        return [
            DEFLECTION.judge(
                capacity=most,
                demand=self.service,
                required=1.0,
                unit="mm",
                trace=[*trace, Stated("δ_lim", "mm", most, how)],
                note="" if not self.working else "with the section that works in service",
            )
        ]


# --- values, cautions --------------------------------------------------------------------------------


def _values(s: State, bent: _Bent) -> dict[str, Amount]:
    brace = s.brace
    # as it lies where that was said, else as the profile is drawn
    said = s.turned and bool(brace.lies)
    row = (Properties(s.p.outline.turned()) if said else s.p).row()
    mass_line = float(brace.family.properties(density=brace.sheets[0].material.density).mass_per_metre[0])
    units = {
        "area": "mm^2", "centroid_height": "mm", "I_y": "mm^4", "I_z": "mm^4", "I_yz": "mm^4", "W_y_top": "mm^3",
        "W_y_bottom": "mm^3", "W_pl_y": "mm^3", "J": "mm^4", "C_w": "mm^6", "shear_centre_height": "mm",
    }  # fmt: skip
    if abs(row["I_yz"]) < 1e-9 * (row["I_y"] + row["I_z"]):
        row["I_yz"] = 0.0  # symmetric: what is left is rounding
    frequency = float(frequency_1(brace.length, s.EI, brace.supports, mass_line * 1e-6, brace.masses))
    left, right = _ends(s)
    return {
        **{name: Amount(row[name], unit) for name, unit in units.items()},
        "mass_per_metre": Amount(mass_line, "kg/m"),
        "EI": Amount(s.EI, "N*mm^2"),
        "GJ": Amount(s.G * row["J"], "N*mm^2"),
        "deflection_max": Amount(bent.gross, "mm"),
        "deflection_at": Amount(bent.at, "mm"),
        "deflection_service": Amount(bent.service, "mm"),
        "moment_max": Amount(max(s.sag, s.hog), "N*mm"),
        "moment_sagging": Amount(s.sag, "N*mm"),
        "moment_hogging": Amount(s.hog, "N*mm"),
        "shear_max": Amount(s.V, "N"),
        "reaction_max": Amount(max(abs(float(r.force)) for r in s.beam.reactions), "N"),
        "end_moment_left": Amount(left[0], "N*mm"),
        "end_moment_right": Amount(right[0], "N*mm"),
        "end_force_left": Amount(left[1], "N"),
        "end_force_right": Amount(right[1], "N"),
        "frequency_1": Amount(frequency if frequency < inf else None, "Hz"),
        **({} if brace.family.level_symmetric else {"flanges_up": Amount(float(s.turned), "1")}),
    }


def _ends(s: State) -> tuple[tuple[float, float], tuple[float, float]]:
    """(moment, hogging positive [N mm], force upwards [N]) that what carries each end gives; 0 at a free end."""
    found = []
    for x, sign in ((0.0, -1.0), (s.brace.length, 1.0)):
        mine = [r for r in s.beam.reactions if abs(r.at - x) < 1e-6]
        # reactions are clockwise positive: at the left end that lifts the beam's left side, which hogs it when negative
        moment = sign * float(mine[0].moment) if mine else 0.0
        least = 1e-9 * max(s.sag, s.hog)  # what rounding leaves of a pinned end
        found.append((moment if abs(moment) > least else 0.0, float(mine[0].force) if mine else 0.0))
    return found[0], found[1]


def _about(s: State) -> dict[str, str]:
    brace = s.brace
    found = {
        "profile": brace.profile,
        "sheets": " + ".join(dict.fromkeys(sheet.label for sheet in brace.sheets)),
        "span": " + ".join(f"{x:g}" for x in brace.span) + f" mm, ends {brace.ends}",
        "loads": brace.loads_text,
    }
    if s.way and (brace.lies or len(brace.ways) > 1):
        found["lies"] = s.way
    if isinstance(brace.core, HatSkin):
        found["cell"] = (
            f"the cell closes at the weld lines, {float(brace.core.weld_line):.3g} mm from the flange tips, not at the "
            "bends: the torsion constant depends on it by some 20 %"
        )
    return found


def _cautions(s: State, checks: Iterable[Check], bent: _Bent, more: Iterable[Caution]) -> tuple[Caution, ...]:
    brace = s.brace
    raised: list[Caution | str] = [PURPOSES[word] for word in brace.purpose]
    for sheet in brace.sheets:
        raised += [caution(code, **words) for code, words in sheet.caution_codes()]
    raised += [*more, "forming", "corrosion", "fatigue", "brace-holes"]
    raised += ["unfactored-load"] if brace.load_factor == 1.0 else []
    raised += [] if s.V or s.sag or s.hog or brace.compression or brace.tension else ["no-load"]
    offset = abs(float(s.p.y_shear_centre[0] - s.p.y_centroid[0]))
    if offset > 1e-3 * float(s.p.i_0[0]) and not s.held_both:
        raised.append(caution("twist", offset=f"{offset:.3g}"))
    if brace.core.weld_lines and not brace.coupons:
        raised.append("no-coupons")
    if brace.core.weld_lines and brace.pitch is None and s.V:
        raised.append("weld-line-pitch")
    raised += _of_the_ends(s)
    if brace.deflection_limit() is None and bent.service > brace.longest / SAG:
        raised.append(caution("sag", sag=f"{bent.service:.3g}", part=f"{brace.longest / bent.service:.0f}"))
    known = eccentricity(s)
    if (brace.compression or brace.tension) and brace.eccentricity is None and known is not None:
        arm, words, _ = known
        raised.append(caution("strut-eccentricity", arm=f"{arm:.3g}", how=words))
    if brace.bearing is None and any("AISI's least" in c.note for c in checks):
        raised.append("bearing-taken")
    if any(c.provenance == "from memory" for c in checks if c.status in ("ok", "over")):
        raised.append("from-memory")
    return collect(raised)


def _of_the_ends(s: State) -> list[Caution | str]:
    """What the joints at the ends have to carry."""
    left, right = _ends(s)
    moment = max(abs(left[0]), abs(right[0]))
    if moment > 1e-6 * max(s.sag, s.hog, 1e-9):
        force = max(abs(left[1]), abs(right[1]))
        words = {"moment": f"{moment / 1e3:.4g} N*m", "force": f"{force:.4g} N"}
        if s.brace.end_joints:
            return [caution("end-moment", joints=", ".join(s.brace.end_joints), **words)]
        return [caution("end-moment-no-joint", **words)]
    return ["end-joints"] if s.V and not s.brace.end_joints else []


def bends_elastically(result: Result) -> bool:
    """Whether the deflection of a judged brace is in its range: bending is judged, and nothing yields in service."""
    senses: dict[str, list[Check]] = {}
    for c in result.checks:
        if c.method in (EN_BENDING, AISI_BENDING):
            senses.setdefault(c.key.removeprefix(c.method.key), []).append(c)
    judged = [[c.safety_factor for c in mine if c.status in ("ok", "over")] for mine in senses.values()]
    return bool(judged) and all(mine and all(f is None or f >= 1 for f in mine) for mine in judged)


__all__ = ["bends_elastically", "check_brace", "first_over"]
