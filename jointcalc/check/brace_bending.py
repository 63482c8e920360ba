"""A brace bent: its section by EN 1993-1-3 and AISI S100, wide flanges that lag in shear or curl."""

from __future__ import annotations

from math import floor, inf

import numpy as np

from jointcalc.check.brace_action import CODES, Array, BraceAction, carried, given_moment
from jointcalc.check.brace_base import AISI_BENDING, CURLING, EN_BENDING
from jointcalc.check.common import Steps, once
from jointcalc.formula import wide_flange
from jointcalc.formula.branch import at_most, below
from jointcalc.formula.core import Evaluation
from jointcalc.quantity.sentence import joined, mm
from jointcalc.result import Check, Need, Stated
from jointcalc.section.effective import EffectiveSection
from jointcalc.section.effective_en1993 import WIDEST_OUTSTAND
from jointcalc.section.families.hat import HatSkin
from jointcalc.section.panels import Panel
from jointcalc.statics.beam_model import PointLoad

TOLD_FROM = 0.1
"""Part of what curling may be neglected from which it is listed (our choice)."""


def bending(action: BraceAction) -> list[Check]:
    """Bending of the section, sagging and hogging, by both codes; and curling of its flanges."""
    judged = _both_codes(action)
    checks: list[Check] = []
    for word, M, face, _ in action.bends:
        checks += [judged[code, face][0] for code in CODES]
        checks += _curling(action, word, M, face)
    return checks


def bending_needs(action: BraceAction) -> list[Need]:
    """Every face that is compressed, for bending."""
    judged, needs = _both_codes(action), []
    for word, M, face, _ in action.bends:
        mine = [judged[code, face][0] for code in CODES]
        why = joined("; ", dict.fromkeys(c.note for c in mine if c.status == "outside"))
        needs += [Need(word, f"no method applies to bending ({word}): {why}{_skin_that_counts(action)}")] if M else []
    return needs


def _skin_that_counts(action: BraceAction) -> str:
    """What to write of a skin wider than the rules reach: a floor that runs on; empty where it is none such."""
    family = action.family
    if not isinstance(family, HatSkin):
        return ""
    line = float(family.top) / 2 + float(family.flange) - float(family.weld_line)
    most = 2 * (line + WIDEST_OUTSTAND * float(family.skin_t))
    if at_most(float(family.skin), most):
        return ""
    return f"; of a sheet that runs on, give as 'skin' the width that counts, at most {mm(floor(most)):g}"


def moments(action: BraceAction) -> dict[tuple[str, str], Check]:
    """(code, face of the profile) -> the check of bending, where the method applies."""
    return {place: check for place, (check, applies) in _both_codes(action).items() if applies}


def bent_over(action: BraceAction, code: str, M: Array, *, at_least: bool = False) -> Array:
    """Moments (sagging positive) with an eccentric axial force over the resistance; inf where none is known.

    `at_least`: where none is known, over that at the edge of the method's range, and 0 where there is no such edge.
    """
    total = np.zeros(M.shape)
    small = 1e-9 * max(action.sag, action.hog)
    for face in ("top", "bottom"):
        sense = 1.0 if face == action.face("top") else -1.0
        mine = sense * M + action.extra.get(face, 0.0)
        mine = np.where(mine > small, mine, 0.0)
        bent = moments(action).get((code, face))
        if bent is not None:
            part = mine / carried(bent)
        elif at_least and mine.any():
            part = mine / at_most_carried(action, code, face)
        else:
            part = np.where(mine > 0, inf, 0.0)
        total = np.maximum(total, part)
    return total


def at_most_carried(action: BraceAction, code: str, face: str) -> float:
    """Moment resistance at the edge of a method's range that the section has left on its weak side; inf: none."""
    word = "sagging" if face == action.face("top") else "hogging"
    e = action.effective(code, face)
    edge = action.effective_at_edge(code, face) if e.outside() else e
    return inf if edge is None else _lagged(action, code, word, edge)[0]


@once
def _both_codes(action: BraceAction) -> dict[tuple[str, str], tuple[Check, bool]]:
    """(code, face of the profile) -> (check of bending, whether the method applies)."""
    return {
        (code, face): _bent(action, code, word, M, face, at)
        for word, M, face, at in action.bends
        for code in CODES
    }  # fmt: skip


METHODS = {"en": EN_BENDING, "aisi": AISI_BENDING}


def _bent(action: BraceAction, code: str, word: str, M: float, face: str, at: float) -> tuple[Check, bool]:
    method = METHODS[code]
    e = action.effective(code, face)
    reasons = e.outside()
    if reasons:
        edge = action.effective_at_edge(code, face)
        if edge is None:
            return method.outside(reasons, demand=M, unit="N*mm", where=word), False
        most, lag, _, _ = _lagged(action, code, word, edge)
        bound = method.at_most(
            reasons, capacity=most, demand=M, load_factor=action.gamma, unit="N*mm",
            trace=[*edge.steps(), given_moment(word, M, at), *lag], where=word,
        )  # fmt: skip
        return bound, False
    trace: Steps = [*e.steps(), given_moment(word, M, at)]
    capacity, lag, note_lag, short = _lagged(action, code, word, e)
    if short:
        bound = method.at_most(
            short, capacity=capacity, demand=M, load_factor=action.gamma, unit="N*mm", trace=[*trace, *lag], where=word
        )
        return bound, False
    lost = float(e.lost[0]) / float(e.area[0] + e.lost[0])
    note = f"{action.face(face)} face in compression"
    note += f"; {100 * lost:.1f} % of the section does not work" if lost > 1e-9 else ", fully effective"
    check = method.judge(
        capacity=capacity, demand=M, load_factor=action.gamma, unit="N*mm", trace=[*trace, *lag], where=word,
        note=note + note_lag, covers=[word],
    )  # fmt: skip
    return check, True


def _zero_to_zero(action: BraceAction, word: str) -> tuple[float, bool]:
    """(length between the points of zero moment [mm], whether the flange is that over a support), EN 1993-1-5 Fig. 3.1.

    Where several spans or ends differ, the shortest is taken.
    """
    brace = action.brace
    least = min(brace.span)
    if len(brace.supports) == 1:
        return 2.0 * least, True
    stiff = [one.rotation > 0 for one in (brace.supports[0], brace.supports[-1])]
    continuous = len(brace.span) > 1 or any(stiff)
    if not continuous:
        return least, False  # upward loads on a pinned span bend it as downward ones do
    if word == "hogging":
        return wide_flange.SPAN_OF_HOGGING * least, True
    return wide_flange.SPAN_OF_SAGGING * least, False


def _width(p: Panel) -> float:
    """Half of a flat that is held at both edges, all of an outstand, between the mid-points of the bends [mm]."""
    return float(p.length[0] + p.ext_1[0] + p.ext_2[0]) * (0.5 if p.role == "internal" else 1.0)


def _lagged(action: BraceAction, code: str, word: str, e: EffectiveSection) -> tuple[float, Steps, str, str]:
    """(moment with shear lag, working, words for the note, why it is out of range or "").

    An eccentric axial force bends the brace alike all along: no shear brings that into the flanges, and nothing lags.
    The moment of the loads alone is held against what lags, the rest against the section.
    """
    M_c = float(e.moment[0])
    of_loads = action.loads_moment(word)
    if not of_loads:
        return M_c, [], "", ""
    lagged, steps, note, why = _lagged_wholly(action, code, word, e)
    even = action.extra.get(action.face("top" if word == "sagging" else "bottom"), 0.0)
    if not steps or not even:
        return lagged, steps, note, why
    both = (of_loads + even) / (of_loads / lagged + even / M_c)
    told = f"what loads bend ({100 * of_loads / (of_loads + even):.3g} %) lags, what the axial force does has no shear"
    return both, [*steps, Stated("M_c", "N*mm", both, told)], note, why


def _lagged_wholly(action: BraceAction, code: str, word: str, e: EffectiveSection) -> tuple[float, Steps, str, str]:
    """What `_lagged` gives where all of the moment comes with shear.

    The whole section is reduced like the flange that suffers most, on the safe side.
    """
    M_c = float(e.moment[0])
    flats = [p for p in action.parts if p.level and p.count]
    b_0 = max((_width(p) for p in flats), default=0.0)
    if not b_0:
        return M_c, [], "", ""
    if code == "en":
        L_e, hogging = _zero_to_zero(action, word)
        kappa = wide_flange.WIDTH_OVER_LENGTH.evaluate(b_0=b_0, L_e=L_e)
        branch = wide_flange.lag_branch(kappa=float(kappa.value), hogging=hogging)
        if branch is None:
            return M_c, [], "", ""
        beta = branch.evaluate(kappa=float(kappa.value))
        last = wide_flange.LAGGED_MOMENT.evaluate(M_c=M_c, beta=min(float(beta.value), 1.0), kappa=float(kappa.value))
        return float(last.value), [kappa, beta, last], "; with shear lag", ""
    if not any(isinstance(one, PointLoad) for one in action.brace.loads):
        return M_c, [], "", ""
    span, why, worst = min(action.brace.span), "", 1.0
    steps: Steps = []
    shortest, least = wide_flange.SHORT_SPANS[-1]
    for p in flats:
        slender = span / _width(p)
        most = wide_flange.short_span_ratio(slender)
        if most is None:
            why = f"span over flange width = {slender:.3g}, must be at least {shortest:g} (Table B4.3-1)"
            most = least
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


def _curling(action: BraceAction, word: str, M: float, face: str) -> list[Check]:
    """Flats that curl towards the axis by more than bending may neglect; told from a tenth of that on."""
    e = action.effective("en", face)
    if not M or e.outside():
        return []
    depth = float(action.p.z_top[0] - action.p.z_bottom[0])
    worst: tuple[float, Evaluation, str] | None = None
    for p in action.parts:
        if not p.level or not p.count:
            continue
        z = abs(float(p.z_1[0]) - float(e.z_centroid[0]))
        if z <= 0:
            continue
        b_s = _width(p)
        sigma = min(action.gamma * M * z / float(e.I_y[0]), action.f_y) * _works(e, p.name)
        u = wide_flange.CURL.evaluate(sigma_a=sigma, E=action.E, t=float(p.t[0]), z=z, b_s=b_s)
        if worst is None or float(u.value) > worst[0]:
            worst = float(u.value), u, p.name
    most = wide_flange.MOST_CURL * depth
    if worst is None or below(worst[0], TOLD_FROM * most):
        return []
    limit = Stated("u_lim", "mm", most, wide_flange.LITTLE_CURL)
    return [
        CURLING.judge(
            capacity=most, demand=worst[0], unit="mm", trace=[worst[1], limit], where=word,
            note=f"the {worst[2]} curls towards the axis; bending neglects up to {wide_flange.LITTLE_CURL}",
        )
    ]  # fmt: skip
