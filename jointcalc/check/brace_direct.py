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

from jointcalc.check.brace_state import State, given_moment, in_thinnest
from jointcalc.check.common import Steps
from jointcalc.formula import column
from jointcalc.formula import direct_strength as ds
from jointcalc.formula.branch import above, at_least
from jointcalc.formula.core import Source
from jointcalc.quantity.sentence import mm, mpa
from jointcalc.result import Amount, Check, Stated, method
from jointcalc.result.factor import omega
from jointcalc.section.buckling import Buckling, Found, Loading, buckling
from jointcalc.section.effective import E_AISI, Panel, panels
from jointcalc.section.families import Angle, Bar, Family, HatSkin, Lap, Points, Tube
from jointcalc.section.outline import Bend

LIMITS = "AISI S100-16 Table B4.1-1"
MOST_YIELD = 655.0
"""MPa (95 ksi), Table B4.1-1, from memory; so are the ratios below."""
MOST_RADIUS, MOST_LIP = 20.0, 0.7
MOST_HELD, MOST_LIPPED, MOST_FREE, MOST_WEB = 500.0, 160.0, 60.0, 300.0

DIRECT_BENDING = method(
    "aisi-s100.direct-strength-bending", "Direct strength in bending, AISI", Source(ds.S100, "F2, F3.2", "from memory"),
    per="member", basis="nominal", factor=omega(ds.OMEGA_BENDING),
)  # fmt: skip
DIRECT_COMPRESSION = method(
    "aisi-s100.direct-strength-compression", "Direct strength as a strut, AISI",
    Source(ds.S100, "E2, E3.2", "from memory"), per="member", basis="nominal", factor=omega(ds.OMEGA_COMPRESSION),
)  # fmt: skip

NOT_WRITTEN_FOR: tuple[tuple[type[Family], str], ...] = (
    (Tube, "a round tube has rules of its own"),
    (Bar, "a solid bar has no walls that buckle"),
    (Angle, "the legs of an angle buckle by twisting it; no local load stands apart from that"),
    (Lap, "a lap is part of the floor; what lies beyond its edges holds it"),
)


def solved(s: State, loading: Loading) -> Buckling:
    """The strips of the profile under a loading, solved once."""
    return buckling(s.family, loading=loading, E=E_AISI, nu=s.nu)


def reasons(s: State, loading: Loading) -> list[str]:
    """Why direct strength does not apply; empty when it does."""
    for kind, why in NOT_WRITTEN_FOR:
        if isinstance(s.family, kind):
            return [why]
    if isinstance(s.family, HatSkin) and loading != "sagging":
        return ["the strips would take the edges of the compressed skin as free, while it runs on as the floor"]
    found = [f"F_y = {mpa(s.f_y):.4g}, must be at most {mpa(MOST_YIELD):g} ({LIMITS})"] * int(above(s.f_y, MOST_YIELD))
    return found + _beyond(s.family, s.parts, loading)


def _beyond(family: Family, parts: Sequence[Panel], loading: Loading) -> list[str]:
    """What of the shape lies beyond Table B4.1-1."""
    found = []
    lips = {part.host: part for part in parts if part.role == "lip"}
    for part in parts:
        lip = lips.get(part.name)
        ratio, most = float(part.length[0] / part.t[0]), _most(part, lip, loading)
        if above(ratio, most):
            found.append(f"{part.name}: flat width over thickness is {ratio:.4g}, must be at most {most:g} ({LIMITS})")
        if lip is not None:
            corner = float((lip.ext_2 if lip.free_start else lip.ext_1)[0]) * sqrt(2.0) + float(part.t[0]) / 2
            share = (float(lip.length[0]) + corner) / (float(part.length[0]) + 2 * corner)
            if above(share, MOST_LIP):
                found.append(f"{lip.name}: lip over flange is {share:.3g}, must be at most {MOST_LIP:g} ({LIMITS})")
    bends = [bend for bend in family.flats_and_bends().parts if isinstance(bend, Bend)]
    widest = max((float(bend.r[0] / bend.t[0]) for bend in bends), default=0.0)
    if above(widest, MOST_RADIUS):
        found.append(f"R / t = {widest:.3g}, must be at most {MOST_RADIUS:g} ({LIMITS})")
    return found


def _at_edge(s: State, loading: Loading) -> Family | None:
    """The profile in the thinnest sheet that brings it into the table; None where the shape is not what is out.

    All outside dimensions stay, so that what it carries bounds from above what the thinner sheet does.
    """
    other = (HatSkin, Points, *(kind for kind, _ in NOT_WRITTEN_FOR))
    if isinstance(s.family, other) or above(s.f_y, MOST_YIELD):
        return None

    def inside(family: Family) -> Family | None:
        return None if _beyond(family, panels(family, family.properties()), loading) else family

    return in_thinnest(s.family, inside)


def _most(part: Panel, lip: Panel | None, loading: Loading) -> float:
    if part.role in ("outstand", "lip"):
        return MOST_FREE
    if lip is not None:
        return MOST_LIPPED
    return MOST_WEB if not part.level and loading != "axial" else MOST_HELD


def direct_bending(s: State) -> list[Check]:
    """Local with lateral-torsional buckling, for every face that is compressed."""
    checks = []
    for word, M, face, at in s.cases:
        loading: Loading = "sagging" if face == "top" else "hogging"
        why = reasons(s, loading)
        if not why:
            checks.append(_bent(s, solved(s, loading), word, M, face, at))
            continue
        edge = _at_edge(s, loading)
        strips = None if edge is None else buckling(edge, loading=loading, E=E_AISI, nu=s.nu)
        if strips is None or strips.local is None:
            checks.append(DIRECT_BENDING.outside(why, demand=M, unit="N*mm", where=word))
            continue
        # what the thicker sheet carries when nothing lets it move sideways
        inputs = {"M_ne": strips.modulus * s.f_y, "M_crl": strips.local.load}
        most = float(ds.local_branch_beam(**inputs).formula.evaluate(**inputs).value)
        checks.append(
            DIRECT_BENDING.at_most(
                why, capacity=most, demand=M, unit="N*mm",
                trace=[critical("M_crl", strips.local), given_moment(word, M, at)], where=word,
            )
        )  # fmt: skip
    return checks


def _bent(s: State, strips: Buckling, word: str, M: float, face: str, at: float) -> Check:
    S_f, S_fy = s.modulus(face), min(s.modulus("top"), s.modulus("bottom"))
    yielding = ds.YIELD_MOMENT.evaluate(S_fy=S_fy, F_y=s.f_y)
    M_y = float(yielding.value)
    told: Steps = []
    F_n, covers = s.f_y, [word]
    if not s.held(face):
        found = s.overall.get(face) or _sideways(s, strips, S_f)
        if found is None:
            reason = "nothing holds it sideways, and it bends askew"
            return DIRECT_BENDING.outside(reason, demand=M, unit="N*mm", where=word)
        F_n, told = found
        covers = [word, f"{word}, sideways"]
    if strips.local is None:
        return DIRECT_BENDING.outside(strips.why_no_local, demand=M, unit="N*mm", where=word)
    overall = ds.GLOBAL_STRENGTH_BEAM.evaluate(S_f=S_f, F_n=F_n, M_y=M_y)
    inputs = {"M_ne": float(overall.value), "M_crl": strips.local.load}
    choice = ds.local_branch_beam(**inputs)
    strength = choice.formula.evaluate(**inputs)
    slender = ds.LOCAL_SLENDERNESS_BEAM.evaluate(**inputs)
    elastic = critical("M_crl", strips.local)
    trace: Steps = [*told, yielding, overall, elastic, slender, strength, given_moment(word, M, at)]
    check = DIRECT_BENDING.judge(
        capacity=float(strength.value), demand=M, unit="N*mm", trace=trace, where=word,
        note=f"{s.face(face)} face in compression; {choice.why}", covers=covers,
    )  # fmt: skip
    if face not in s.overall and told:
        s.buckling["aisi", face] = check  # nothing else judges it sideways, so that sums take this
    return check


def _sideways(s: State, strips: Buckling, S_f: float) -> tuple[float, Steps] | None:
    """(stress of F2 [MPa], working) of a profile without a closed form, by the strips; None where it bends askew."""
    if abs(float(s.p.I_yz[0])) > 1e-6 * s.I_y:
        return None
    if at_least(float(s.p.I_z[0]), s.I_y):
        return s.f_y, []  # bent about its weaker axis, or square
    found = strips.overall(s.free_length)
    if found is None:
        return s.f_y, []
    F_cre = found.load / S_f
    choice = column.aisi_ltb_branch(F_y=s.f_y, F_cre=F_cre)
    stress = choice.formula.evaluate(F_y=s.f_y, F_cre=F_cre)
    how = f"finite strips, one half-wave over {mm(s.free_length):.4g}, uniform moment"
    return min(float(stress.value), s.f_y), [Stated("F_cre", "MPa", F_cre, how, status="computed"), stress]


def direct_strut(s: State, F_n: float, steps: Steps, mode: str) -> Check:
    """Local with global buckling in compression; `F_n` [MPa] is the global buckling stress of E2."""
    N = s.brace.compression
    why = reasons(s, "axial")
    if why:
        edge = _at_edge(s, "axial")
        bound = None if edge is None else buckling(edge, loading="axial", E=E_AISI, nu=s.nu)
        if bound is None or bound.local is None:
            return DIRECT_COMPRESSION.outside(why, demand=N)
        inputs = {"P_ne": bound.modulus * s.f_y, "P_crl": bound.local.load}
        most = float(ds.local_branch_column(**inputs).formula.evaluate(**inputs).value)
        return DIRECT_COMPRESSION.at_most(why, capacity=most, demand=N, trace=[critical("P_crl", bound.local)])
    strips = solved(s, "axial")
    if strips.local is None:
        return DIRECT_COMPRESSION.outside(strips.why_no_local, demand=N)
    overall = ds.GLOBAL_STRENGTH_COLUMN.evaluate(A_g=float(s.p.area[0]), F_n=F_n)
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


def critical_loads(s: State) -> dict[str, Amount]:
    """Elastic critical loads and half-wavelengths by the symbols of the specification, of what the strips judged."""
    out: dict[str, Amount] = {}
    wanted: list[tuple[Loading, str, str, str]] = [
        ("sagging" if face == "top" else "hogging", "M", f"_{word}", "N*mm") for word, _, face, _ in s.cases
    ]
    if s.brace.compression:
        wanted.append(("axial", "P", "", "N"))
    for loading, letter, word, unit in wanted:
        if reasons(s, loading):
            continue
        strips = solved(s, loading)
        for end, found in (("l", strips.local), ("d", strips.distortional)):
            if found is not None:
                out[f"{letter}_cr{end}{word}"] = Amount(found.load, unit)
                out[f"L_cr{end}{word}"] = Amount(found.half_wavelength, "mm")
    out |= {name: Amount(load, unit) for name, (load, unit) in s.overall_loads.items()}
    return out


__all__ = ["critical", "critical_loads", "direct_bending", "direct_strut", "reasons", "solved"]
