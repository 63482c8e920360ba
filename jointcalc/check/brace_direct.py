"""Direct strength of braces by AISI S100-16, E3.2 and F3.2: the whole section buckles locally, by finite strips.

Beside the effective widths, which know flats one by one, this judges the section as one: flats hold each other.

Decided here: the section is bent about y and held so, as by the effective widths; what is attached to it does not hold
its flats; inelastic reserve is left out; profiles beyond Table B4.1-1 are outside, and
bounded from above by the thinnest sheet within it.  A free outline that is symmetric
about one axis is judged sideways as well: its elastic lateral-torsional moment comes from the strips, over the whole
length in one half-wave, with a uniform moment.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import sqrt

from jointcalc.check.brace_action import BraceAction, given_moment
from jointcalc.check.brace_lateral import sideways
from jointcalc.check.brace_thinnest import in_thinnest
from jointcalc.check.common import Steps, once
from jointcalc.formula import column, web_aisi
from jointcalc.formula import direct_strength as ds
from jointcalc.formula.branch import above, at_least
from jointcalc.formula.core import Source
from jointcalc.quantity.sentence import mm, mpa
from jointcalc.result import Check, Stated, method
from jointcalc.result.factor import omega
from jointcalc.section.buckling import Buckling, Found, Loading, buckling
from jointcalc.section.effective_aisi import E_AISI
from jointcalc.section.families.angle import Angle
from jointcalc.section.families.family import Family
from jointcalc.section.families.hat import HatSkin
from jointcalc.section.families.lap import Lap
from jointcalc.section.families.points import Points
from jointcalc.section.families.tube import Bar, Tube
from jointcalc.section.panels import Panel, panels
from jointcalc.section.tracer import Bend

DIRECT_BENDING = method(
    "aisi-s100.direct-strength-bending", "Direct strength in bending, AISI", Source(ds.S100, "F2, F3.2", "from memory"),
    per="member", basis="nominal", factor=omega(web_aisi.OMEGA_BENDING),
)  # fmt: skip
DIRECT_COMPRESSION = method(
    "aisi-s100.direct-strength-compression", "Direct strength as a strut, AISI",
    Source(ds.S100, "E2, E3.2", "from memory"), per="member", basis="nominal", factor=omega(web_aisi.OMEGA_COMPRESSION),
)  # fmt: skip

NOT_WRITTEN_FOR: tuple[tuple[type[Family], str], ...] = (
    (Tube, "a round tube has rules of its own"),
    (Bar, "a solid bar has no walls that buckle"),
    (Angle, "the legs of an angle buckle by twisting it; no local load stands apart from that"),
    (Lap, "a lap is part of the floor; what lies beyond its edges holds it"),
)


def solved(action: BraceAction, loading: Loading) -> Buckling:
    """The strips of the profile under a loading, solved once."""
    return buckling(action.family, loading=loading, E=E_AISI, nu=action.nu)


def reasons(action: BraceAction, loading: Loading) -> list[str]:
    """Why direct strength does not apply; empty when it does."""
    for kind, why in NOT_WRITTEN_FOR:
        if isinstance(action.family, kind):
            return [why]
    if isinstance(action.family, HatSkin) and loading != "sagging":
        return ["the strips would take the edges of the compressed skin as free, while it runs on as the floor"]
    found = [f"F_y = {mpa(action.f_y):.4g}, must be at most {mpa(ds.MOST_YIELD):g} ({ds.LIMITS})"] * int(
        above(action.f_y, ds.MOST_YIELD)
    )
    return found + _beyond(action.family, action.parts, loading)


def _beyond(family: Family, parts: Sequence[Panel], loading: Loading) -> list[str]:
    """What of the shape lies beyond Table B4.1-1."""
    found = []
    lips = {part.host: part for part in parts if part.role == "lip"}
    for part in parts:
        lip = lips.get(part.name)
        ratio, most = float(part.length[0] / part.t[0]), _most(part, lip, loading)
        if above(ratio, most):
            found.append(
                f"{part.name}: flat width over thickness is {ratio:.4g}, must be at most {most:g} ({ds.LIMITS})"
            )
        if lip is not None:
            corner = float((lip.ext_2 if lip.free_start else lip.ext_1)[0]) * sqrt(2.0) + float(part.t[0]) / 2
            share = (float(lip.length[0]) + corner) / (float(part.length[0]) + 2 * corner)
            if above(share, ds.MOST_LIP):
                found.append(
                    f"{lip.name}: lip over flange is {share:.3g}, must be at most {ds.MOST_LIP:g} ({ds.LIMITS})"
                )
    bends = [bend for bend in family.flats_and_bends().parts if isinstance(bend, Bend)]
    widest = max((float(bend.r[0] / bend.t[0]) for bend in bends), default=0.0)
    if above(widest, ds.MOST_RADIUS):
        found.append(f"R / t = {widest:.3g}, must be at most {ds.MOST_RADIUS:g} ({ds.LIMITS})")
    return found


def _at_edge(action: BraceAction, loading: Loading) -> Family | None:
    """The profile in the thinnest sheet that brings it into the table; None where the shape is not what is out.

    All outside dimensions stay, so that what it carries bounds from above what the thinner sheet does.
    """
    other = (HatSkin, Points, *(kind for kind, _ in NOT_WRITTEN_FOR))
    if isinstance(action.family, other) or above(action.f_y, ds.MOST_YIELD):
        return None

    def inside(family: Family) -> Family | None:
        return None if _beyond(family, panels(family, family.properties()), loading) else family

    return in_thinnest(action.family, inside)


def _most(part: Panel, lip: Panel | None, loading: Loading) -> float:
    if part.role in ("outstand", "lip"):
        return ds.MOST_FREE
    if lip is not None:
        return ds.MOST_LIPPED
    return ds.MOST_WEB if not part.level and loading != "axial" else ds.MOST_HELD


def direct_bending(action: BraceAction) -> list[Check]:
    """Local with lateral-torsional buckling, for every face that is compressed."""
    return [check for check, _ in _by_face(action).values()]


def sideways_by_strips(action: BraceAction) -> dict[str, Check]:
    """Face of the profile -> the check that judges it sideways where no closed form does, so that sums take it."""
    return {face: check for face, (check, alone) in _by_face(action).items() if alone}


@once
def _by_face(action: BraceAction) -> dict[str, tuple[Check, bool]]:
    """Face of the profile -> (check, whether it alone judges that face sideways)."""
    checks: dict[str, tuple[Check, bool]] = {}
    for word, M, face, at in action.bends:
        loading: Loading = "sagging" if face == "top" else "hogging"
        why = reasons(action, loading)
        if not why:
            checks[face] = _bent(action, solved(action, loading), word, M, face, at)
            continue
        edge = _at_edge(action, loading)
        strips = None if edge is None else buckling(edge, loading=loading, E=E_AISI, nu=action.nu)
        if strips is None or strips.local is None:
            checks[face] = DIRECT_BENDING.outside(why, demand=M, unit="N*mm", where=word), False
            continue
        # what the thicker sheet carries when nothing lets it move sideways
        inputs = {"M_ne": strips.modulus * action.f_y, "M_crl": strips.local.load}
        most = float(ds.local_branch_beam(**inputs).formula.evaluate(**inputs).value)
        bound = DIRECT_BENDING.at_most(
            why, capacity=most, demand=M, unit="N*mm",
            trace=[critical("M_crl", strips.local), given_moment(word, M, at)], where=word,
        )  # fmt: skip
        checks[face] = bound, False
    return checks


def _bent(action: BraceAction, strips: Buckling, word: str, M: float, face: str, at: float) -> tuple[Check, bool]:
    S_f, S_fy = action.modulus(face), min(action.modulus("top"), action.modulus("bottom"))
    yielding = ds.YIELD_MOMENT.evaluate(S_fy=S_fy, F_y=action.f_y)
    M_y = float(yielding.value)
    steps: Steps = []
    F_n, covers, alone = action.f_y, [word], False
    if not action.held(face):
        closed = sideways(action).get(face)
        found = _sideways(action, strips, S_f) if closed is None else (closed.stress, [*closed.working])
        if found is None:
            reason = "nothing holds it sideways, and it bends askew"
            return DIRECT_BENDING.outside(reason, demand=M, unit="N*mm", where=word), False
        F_n, steps = found
        alone = closed is None and bool(steps)
        covers = [word, f"{word}, sideways"]
    if strips.local is None:
        return DIRECT_BENDING.outside(strips.why_no_local, demand=M, unit="N*mm", where=word), False
    overall = ds.GLOBAL_STRENGTH_BEAM.evaluate(S_f=S_f, F_n=F_n, M_y=M_y)
    inputs = {"M_ne": float(overall.value), "M_crl": strips.local.load}
    choice = ds.local_branch_beam(**inputs)
    strength = choice.formula.evaluate(**inputs)
    slender = ds.LOCAL_SLENDERNESS_BEAM.evaluate(**inputs)
    elastic = critical("M_crl", strips.local)
    trace: Steps = [*steps, yielding, overall, elastic, slender, strength, given_moment(word, M, at)]
    check = DIRECT_BENDING.judge(
        capacity=float(strength.value), demand=M, unit="N*mm", trace=trace, where=word,
        note=f"{action.face(face)} face in compression; {choice.why}", covers=covers,
    )  # fmt: skip
    return check, alone


def _sideways(action: BraceAction, strips: Buckling, S_f: float) -> tuple[float, Steps] | None:
    """(stress of F2 [MPa], working) of a profile without a closed form, by the strips; None where it bends askew."""
    if abs(float(action.p.I_yz[0])) > 1e-6 * action.I_y:
        return None
    if at_least(float(action.p.I_z[0]), action.I_y):
        return action.f_y, []  # bent about its weaker axis, or square
    found = strips.overall(action.free_length)
    if found is None:
        return action.f_y, []
    F_cre = found.load / S_f
    choice = column.aisi_ltb_branch(F_y=action.f_y, F_cre=F_cre)
    stress = choice.formula.evaluate(F_y=action.f_y, F_cre=F_cre)
    how = f"finite strips, one half-wave over {mm(action.free_length):.4g}, uniform moment"
    return min(float(stress.value), action.f_y), [Stated("F_cre", "MPa", F_cre, how, status="computed"), stress]


def direct_strut(action: BraceAction, F_n: float, steps: Steps, mode: str) -> Check:
    """Local with global buckling in compression; `F_n` [MPa] is the global buckling stress of E2."""
    N = action.brace.compression
    why = reasons(action, "axial")
    if why:
        edge = _at_edge(action, "axial")
        bound = None if edge is None else buckling(edge, loading="axial", E=E_AISI, nu=action.nu)
        if bound is None or bound.local is None:
            return DIRECT_COMPRESSION.outside(why, demand=N)
        inputs = {"P_ne": bound.modulus * action.f_y, "P_crl": bound.local.load}
        most = float(ds.local_branch_column(**inputs).formula.evaluate(**inputs).value)
        return DIRECT_COMPRESSION.at_most(why, capacity=most, demand=N, trace=[critical("P_crl", bound.local)])
    strips = solved(action, "axial")
    if strips.local is None:
        return DIRECT_COMPRESSION.outside(strips.why_no_local, demand=N)
    overall = ds.GLOBAL_STRENGTH_COLUMN.evaluate(A_g=float(action.p.area[0]), F_n=F_n)
    inputs = {"P_ne": float(overall.value), "P_crl": strips.local.load}
    choice = ds.local_branch_column(**inputs)
    strength = choice.formula.evaluate(**inputs)
    trace: Steps = [
        *steps, overall, critical("P_crl", strips.local), ds.LOCAL_SLENDERNESS_COLUMN.evaluate(**inputs), strength,
    ]  # fmt: skip
    return DIRECT_COMPRESSION.judge(
        capacity=float(strength.value), demand=N, trace=trace,
        note=f"{mode}; {choice.why}", covers=["compression"],
    )  # fmt: skip


def critical(symbol: str, found: Found) -> Stated:
    """An elastic critical load as a step of a working."""
    unit = "N" if found.loading == "axial" else "N*mm"
    how = f"finite strips, E = {mpa(E_AISI):g}: {found.note}"
    return Stated(symbol, unit, found.load, how, status="computed")


__all__ = ["critical", "direct_bending", "direct_strut", "reasons", "sideways_by_strips", "solved"]
