"""Local forces on a brace: crippling of the webs, alone and with bending.

Decided here:

- Every support and load presses on the webs.  A method judges the places that it covers, at the worst of them; a place
  that no method covers leaves the brace unjudged.
- EN 1993-1-3 6.1.7.3 asks for 40 mm between a bearing and the end of the brace.  Nearer to it each web is taken by
  itself by 6.1.7.2, which reaches to the very end, and never above 6.1.7.3.
- Bearings longer than a rule reckons with count with the longest it does; sizes on the weak side of a range bound
  the resistance from above.

Collapse of what a load stands on: `brace_stand`.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import degrees, pi

from jointcalc.check.brace_action import SIDES, Bearing, BraceAction, called, carried, web_angle, web_height, worst_of
from jointcalc.check.brace_base import (
    AISI_BENDING_CRIPPLING,
    AISI_CRIPPLING,
    EN_BENDING_CRIPPLING,
    EN_CRIPPLING,
)
from jointcalc.check.brace_bending import moments
from jointcalc.check.common import Steps, once
from jointcalc.formula import web_aisi, web_en1993
from jointcalc.formula.branch import at_least, at_most, below
from jointcalc.formula.core import Evaluation, Source
from jointcalc.formula.safety import GAMMA_M0, GAMMA_M1
from jointcalc.quantity.sentence import joined, mm
from jointcalc.result import Check, Looked, Need, Stated
from jointcalc.section.families.channel import LippedChannel
from jointcalc.section.families.hat import Hat
from jointcalc.section.families.tube import Bar, Tube
from jointcalc.section.panels import Panel
from jointcalc.tables.store import load


@dataclass(frozen=True, slots=True)
class Pressed:
    """What a rule says of one local force: the resistance of all webs and the factor it asks for.

    `reasons` is empty where the rule holds; else it tells what is outside, and `resistance` is that at the edge of the
    range, from above, or None where nothing can be said.
    """

    bearing: Bearing
    resistance: float | None
    required: float
    trace: Steps
    note: str
    reasons: tuple[str, ...] = ()

    @property
    def use(self) -> float:
        """Utilisation."""
        return self.required * self.bearing.force / self.resistance if self.resistance else float("inf")


def gap_to_end(action: BraceAction, b: Bearing) -> float:
    """Clear distance from a bearing's edge to the nearer end of the brace [mm]."""
    to_end = min(b.at, action.brace.length - b.at)
    return max(0.0, to_end - (b.length / 2 if to_end > 1e-6 else 0.0)) + action.brace.overhang


def _opposed(action: BraceAction, b: Bearing, height: float) -> bool:
    """Whether a force on the other face stands within 1.5 web heights, clear of both bearings."""
    return any(
        other.above != b.above and below(abs(other.at - b.at) - (b.length + other.length) / 2, web_en1993.NEAR * height)
        for other in action.bearings
    )


def _en_single(
    action: BraceAction, b: Bearing, web: Panel, at_end: bool, opposed: bool
) -> tuple[Evaluation, Steps, list[str]]:
    """(resistance of one web by 6.1.7.2, working, what left its range on the weak side and is raised to the edge)."""
    h_w, phi = web_height(action, web), degrees(web_angle(web))
    t, r = float(web.t[0]), action.radius
    t, reasons = _in_range(r, t, h_w, web_en1993.MOST_BENT_ONE)
    s_s = min(b.length, web_en1993.LONGEST_ONE * t, web_en1993.LONGEST_ONE_HEIGHTS * h_w)
    k = web_en1993.STRENGTH_COEFFICIENT.evaluate(f_yb=action.f_y)
    k_3 = web_en1993.ANGLE_COEFFICIENT.evaluate(phi_deg=phi)
    lipped = isinstance(action.family, LippedChannel)
    branch = web_en1993.crippling_single_web(end=at_end, lipped=lipped, s_s=s_s, t=t, opposed=opposed)
    if at_end:
        more = {"k_1": web_en1993.STRENGTH_COEFFICIENT_END.evaluate(k=float(k.value)),
                "k_2": web_en1993.RADIUS_COEFFICIENT_END.evaluate(r=r, t=t)}  # fmt: skip
    else:
        more = {"k_4": web_en1993.STRENGTH_COEFFICIENT_INTERIOR.evaluate(k=float(k.value)),
                "k_5": web_en1993.RADIUS_COEFFICIENT_INTERIOR.evaluate(r=r, t=t)}  # fmt: skip
    values = {"k_3": float(k_3.value), "h_w": h_w, "t": t, "s_s": s_s, "f_yb": action.f_y}
    values |= {name: float(e.value) for name, e in more.items()}
    one = branch.evaluate(**values)
    return one, [k, *more.values(), k_3, one], reasons


def _in_range(r: float, t: float, h_w: float, most_bent: float) -> tuple[float, list[str]]:
    """(thickness raised to the edge of the range of a web, what left it on the weak side)."""
    slender, reasons = web_en1993.MOST_SLENDER, []
    if not at_most(r / t, most_bent):
        reasons.append(f"r / t = {r / t:.3g}, must be at most {most_bent:g}")
    if not at_most(h_w / t, slender):
        reasons.append(f"h_w / t = {h_w / t:.4g}, must be at most {slender:g}")
    return max(t, r / most_bent, h_w / slender), reasons


def _en_crippling(action: BraceAction, b: Bearing) -> Pressed:
    required = GAMMA_M1 * action.gamma
    height = max(web_height(action, web) for web in action.webs)
    gap = gap_to_end(action, b)
    at_end = at_most(gap, web_en1993.NEAR * height)
    opposed = _opposed(action, b, height)
    n = sum(web.count for web in action.webs)
    trace: Steps = [Stated("F", "N", b.force, b.what)]
    total, note = 0.0, b.what
    if n < 2 and opposed:
        note += ", pressed from both sides"
    reasons: list[str] = []
    for web in action.webs:
        if n < 2:
            one, steps, out = _en_single(action, b, web, at_end, opposed)
            trace, reasons, total = trace + steps, reasons + out, total + web.count * float(one.value)
            continue
        h_w, phi = web_height(action, web), degrees(web_angle(web))
        t, r = float(web.t[0]), action.radius
        t, beyond = _in_range(r, t, h_w, web_en1993.MOST_BENT_TWO)
        reasons += beyond
        category = 1 if at_end or opposed else 2
        l_a = web_en1993.LEAST_BEARING
        if category == 2:
            ends = (max(b.at - b.length / 2, 0.0), min(b.at + b.length / 2, action.brace.length))
            v = [abs(float(action.beam.shear(b.at, side))) for side in SIDES]
            if max(v) < 1e-9 * action.V:  # several loads that press as one: the shear beside them all
                v = [abs(float(action.beam.shear(ends[0], "left"))), abs(float(action.beam.shear(ends[1], "right")))]
            ratio = web_en1993.SHEAR_RATIO.evaluate(V_1=max(*v, 1e-12 * b.force), V_2=min(v))
            counted = max(web_en1993.LEAST_BEARING, min(b.length, web_en1993.LONGEST_BEARING))
            l_a = web_en1993.bearing_category_2(counted, float(ratio.value))
            trace.append(ratio)
        inputs = {"alpha": web_en1993.ALPHA_HAT[category], "t": t, "f_yb": action.f_y, "E": action.E, "r": r,
                  "l_a": l_a, "phi_deg": phi}  # fmt: skip
        trace.append(Stated("l_a", "mm", l_a, f"effective bearing length, category {category}"))
        one = web_en1993.CRIPPLING_TWO_WEBS.evaluate(**inputs)
        trace.append(one)
        note = f"{b.what}, category {category}"
        resistance = float(one.value)
        if below(gap, web_en1993.CLEAR_END):
            alone, steps, out = _en_single(action, b, web, True, opposed)
            reasons += out
            note += (
                f"; the brace ends {mm(gap):.3g} from the bearing, 6.1.7.3 asks for "
                f"{mm(web_en1993.CLEAR_END)}: each web by 6.1.7.2 as well"
            )
            if float(alone.value) < resistance:
                trace += steps
                resistance = float(alone.value)
        total += web.count * resistance
    return Pressed(b, total, required, trace, note, tuple(dict.fromkeys(reasons)))


def _aisi_crippling(action: BraceAction, b: Bearing) -> Pressed:
    trace: Steps = [Stated("F", "N", b.force, b.what)]
    if not isinstance(action.family, Hat):
        return Pressed(b, None, 1.0, trace, b.what, ("jointcalc has the coefficients of hat sections only",))
    table = load("crippling_aisi")
    height = max(float(web.length[0]) for web in action.webs)
    two = _opposed(action, b, height)
    place = "end" if below(gap_to_end(action, b), web_en1993.NEAR * height) else "interior"
    row = table.find(loading=f"{'two' if two else 'one'}-flange {place}")
    required = row.need("omega")
    if row["support"] == "fastened" and not action.brace.fastened:
        reason = "two opposing forces on a hat that is not fastened to its support are not tabulated"
        return Pressed(b, None, required, trace, b.what, (reason,))
    source = Source("AISI S100-16", "G5, single hat sections", "from memory")
    trace.append(Looked("C", "1", row.need("C"), "crippling_aisi", row["loading"], source))
    total = 0.0
    reasons: list[str] = []
    note = f"{b.what}, {row['loading']} loading"
    N = b.length
    if below(N, web_aisi.LEAST_BEARING):
        if action.brace.bearing is None and b.length == action.brace.bearing_length:
            note += f"; {mm(19)} of bearing taken, AISI's least"
        else:
            reasons.append(f"a bearing of {mm(N):.3g}, must be at least {mm(19)}")
        N = web_aisi.LEAST_BEARING
    for web in action.webs:
        t, h, r = float(web.t[0]), float(web.length[0]), action.radius
        most = row.need("R_over_t_max")
        if not at_most(r / t, most):
            reasons.append(f"R / t = {r / t:.3g}, must be at most {most:g} for {row['loading']} loading")
        if not at_most(h / t, web_aisi.MOST_SLENDER):
            reasons.append(f"h / t = {h / t:.4g}, must be at most {web_aisi.MOST_SLENDER:g}")
        t = max(t, r / most, h / web_aisi.MOST_SLENDER)
        # a bearing longer than the tests counts as the longest of them
        counted = min(N, web_aisi.LONGEST_BEARING * t, max(web_aisi.LONGEST_BEARING_HEIGHTS * h, 1e-9))
        inputs = {"C": row.need("C"), "t": t, "F_y": action.f_y, "theta": web_angle(web), "C_R": row.need("C_R"),
                  "R": r, "C_N": row.need("C_N"), "N": counted, "C_h": row.need("C_h"), "h": h}  # fmt: skip
        if not at_least(inputs["theta"], pi / 2 - 1e-6):
            return Pressed(b, None, required, trace, note, ("the hat rows are for webs at right angles",))
        one = web_aisi.CRIPPLING.evaluate(**inputs)
        trace.append(one)
        total += web.count * float(one.value)
    return Pressed(b, total, required, trace, note, tuple(dict.fromkeys(reasons)))


RULES = ((EN_CRIPPLING, "en", _en_crippling), (AISI_CRIPPLING, "aisi", _aisi_crippling))


@once
def pressed(action: BraceAction) -> dict[str, list[Pressed]]:
    """Code -> what its rule says of every local force; empty where the profile has no webs or nothing presses."""
    if isinstance(action.family, Tube | Bar) or not action.webs or not action.bearings:
        return {}
    return {code: [rule(action, b) for b in action.bearings] for _, code, rule in RULES}


def crippling_needs(action: BraceAction) -> list[Need]:
    """Every place where something presses on the webs."""
    said, needs = pressed(action), []
    for b in action.bearings if said else ():
        why = joined(
            "; ", dict.fromkeys(r for found in said.values() for p in found if p.bearing is b for r in p.reasons)
        )
        sentence = f"no method applies to the webs under the local force of the {b.what}: {why}"
        needs.append(Need(f"webs, {b.what}", sentence))
    return needs


def crippling(action: BraceAction) -> list[Check]:
    """The checks of the webs under local forces."""
    if isinstance(action.family, Tube | Bar) or not action.bearings:
        return []
    if not action.webs:
        return _no_webs(action)
    said = pressed(action)
    checks = []
    for method, code, _ in RULES:
        inside = [p for p in said[code] if not p.reasons]
        out = [p for p in said[code] if p.reasons]
        worst: Pressed | None = worst_of((p.use, p) for p in inside)
        beyond: Pressed | None = worst_of((p.use, p) for p in out if p.resistance)
        why = _why(out, everywhere=not inside)
        if beyond is not None and beyond.resistance and (worst is None or beyond.use > max(worst.use, 1.0)):
            checks.append(
                method.at_most(
                    why, capacity=beyond.resistance, demand=beyond.bearing.force, required=beyond.required,
                    trace=beyond.trace, covers=[f"webs, {p.bearing.what}" for p in inside],
                )
            )  # fmt: skip
            if checks[-1].status == "over" or worst is None:
                continue
            checks.pop()
        if worst is None or not worst.resistance:
            checks.append(method.outside(why, demand=max(b.force for b in action.bearings)))
            continue
        note = worst.note + (f"; not judged by this method: {why}" if why else "")
        checks.append(
            method.judge(
                capacity=worst.resistance, demand=worst.bearing.force, required=worst.required, trace=worst.trace,
                note=note, covers=[f"webs, {p.bearing.what}" for p in inside],
            )
        )  # fmt: skip
    return checks


def _why(out: list[Pressed], *, everywhere: bool) -> str:
    """What is out of range, place by place; once where it is the same at every place."""
    if everywhere and len({p.reasons for p in out}) == 1:
        return joined("; ", out[0].reasons)
    return joined("; ", dict.fromkeys(f"{p.bearing.what}: {r}" for p in out for r in p.reasons))


def _no_webs(action: BraceAction) -> list[Check]:
    """Angles and laps: no rule for a web; what a load stands on is judged as a flat or an edge."""
    reason = f"no published rule for a local force on {called(action)}"
    return [
        method.outside(reason, demand=max(b.force for b in action.bearings))
        for method in (EN_CRIPPLING, AISI_CRIPPLING)
    ]


def bending_crippling_needs(action: BraceAction) -> list[Need]:
    """Every place where something presses on the webs of a brace that is bent there."""
    places = [
        p.bearing.what for found in pressed(action).values() for p in found if action.moment_at(p.bearing.at)[0]
    ]  # fmt: skip
    sentence = "no method applies to bending together with the local force of the {}"
    return [Need(f"webs with bending, {what}", sentence.format(what)) for what in places]


def bending_crippling(action: BraceAction) -> list[Check]:
    """Bending and a local force at one place, for every place that a document covers with both."""
    checks, said, bends = [], pressed(action), moments(action)
    for method, code in ((EN_BENDING_CRIPPLING, "en"), (AISI_BENDING_CRIPPLING, "aisi")):
        worst: tuple[float, Evaluation, Pressed, Check] | None = None
        covered, missing = [], []
        for p in said.get(code, []):
            M, face = action.moment_at(p.bearing.at)
            if not M:
                continue  # no bending there: the local force is judged by itself
            bent = bends.get((code, face))
            if bent is None or p.reasons or not p.resistance:
                missing.append(p.bearing.what)
                continue
            M_c = carried(bent)
            if code == "en":
                eta = web_en1993.BENDING_AND_CRIPPLING.evaluate(
                    M=action.gamma * M,
                    M_c=M_c / GAMMA_M0,
                    F=action.gamma * p.bearing.force,
                    R_w=p.resistance / GAMMA_M1,
                )
            else:
                eta = web_aisi.BENDING_AND_CRIPPLING.evaluate(P=p.bearing.force, P_n=p.resistance, M=M, M_n=M_c)
            covered.append(f"webs with bending, {p.bearing.what}")
            if worst is None or float(eta.value) > worst[0]:
                worst = float(eta.value), eta, p, bent
        if worst is None:
            if missing:
                checks.append(method.outside("crippling or bending alone is outside its range", unit="1"))
            continue
        most = web_en1993.MOST_BENDING_CRIPPLING if code == "en" else web_aisi.MOST_BENDING_CRIPPLING
        value, eta, p, bent = worst
        note = p.bearing.what + (f"; not judged by this method: {', '.join(missing)}" if missing else "")
        alone = Stated("u_F", "1", p.use, "utilisation of the webs there", status="from memory")
        checks.append(
            method.judge(
                capacity=most, demand=value, unit="1", trace=[Stated.of("u_M", bent), alone, eta],
                note=note, covers=covered,
            )
        )  # fmt: skip
    return checks
