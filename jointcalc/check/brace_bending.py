"""A brace bent: its section by EN 1993-1-3 and AISI S100, wide flanges that lag in shear or curl."""

from __future__ import annotations

import numpy as np

from jointcalc.check.brace_base import AISI_BENDING, CURLING, EN_BENDING, GAMMA_M0
from jointcalc.check.brace_state import State, given_moment
from jointcalc.check.common import Steps
from jointcalc.formula import web_aisi, wide_flange
from jointcalc.formula.core import Evaluation
from jointcalc.quantity.sentence import joined
from jointcalc.result import Check, Method, Stated
from jointcalc.section.effective import EffectiveSection, Panel
from jointcalc.statics.beam import PointLoad


def bending(s: State) -> list[Check]:
    """Bending of the section, sagging and hogging, by both codes; and curling of its flanges."""
    checks = []
    for word, M, face, at in s.cases:
        mine = [_bent(s, how, code, word, M, face, at) for how, code in ((EN_BENDING, "en"), (AISI_BENDING, "aisi"))]
        if M:
            why = joined("; ", dict.fromkeys(c.note for c in mine if c.status == "outside"))
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
            capacity=0.05 * depth, demand=worst[0], unit="mm", trace=[worst[1], limit], where=word,
            note=f"the {worst[2]} curls towards the axis; bending neglects up to 5 % of the depth",
        )
    ]  # fmt: skip
