"""Direct strength of braces by AISI S100-16: elastic buckling of the whole section from finite strips.

Beside the effective widths, which know flats one by one, this judges the section as one: flats restrain
each other, and flanges with lips (or the flanges of a hat) may turn about their corner, which is
distortional buckling and is judged in no other way here.

Decided here: the section is bent about y and held so (as by the effective widths); nothing attached to
it holds its flanges; the inelastic reserve is left out; profiles outside Table B4.1-1 are refused.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

import numpy as np

from jointcalc.formula import direct_strength as ds
from jointcalc.formula.branch import above
from jointcalc.formula.column import Choice
from jointcalc.formula.core import Evaluation, Source
from jointcalc.result import Amount, Check, Looked, Method, Stated, method
from jointcalc.section.buckling import Buckling, Found, Loading, buckling
from jointcalc.section.effective import E_AISI, Panel
from jointcalc.section.families import Angle, Bar, Family, HatSkin, Lap, Tube
from jointcalc.section.outline import Bend
from jointcalc.section.properties import Properties

Trace = list[Evaluation | Looked | Stated]

LIMITS = "AISI S100-16 Table B4.1-1"
MOST_YIELD = 655.0
"""MPa (95 ksi), Table B4.1-1, from memory; so are the widths below."""
MOST_RADIUS, MOST_LIP = 20.0, 0.7
MOST_HELD, MOST_LIPPED, MOST_FREE, MOST_WEB = 500.0, 160.0, 60.0, 300.0

DIRECT_BENDING = method(
    "aisi-s100.direct-strength-bending", "Direct strength in bending, AISI", Source(ds.S100, "F2, F3.2", "from memory"),
    per="member", basis="nominal", factor="Ω = 1.67", covers=("bending",),
)  # fmt: skip
DISTORTIONAL_BENDING = method(
    "aisi-s100.distortional-bending", "Distortional buckling in bending, AISI", Source(ds.S100, "F4", "from memory"),
    per="member", basis="nominal", factor="Ω = 1.67",
)  # fmt: skip
DIRECT_COMPRESSION = method(
    "aisi-s100.direct-strength-compression", "Direct strength as a strut, AISI",
    Source(ds.S100, "E2, E3.2", "from memory"), per="member", basis="nominal", factor="Ω = 1.80",
    covers=("compression",),
)  # fmt: skip
DISTORTIONAL_COMPRESSION = method(
    "aisi-s100.distortional-compression", "Distortional buckling as a strut, AISI",
    Source(ds.S100, "E4", "from memory"), per="member", basis="nominal", factor="Ω = 1.80",
)  # fmt: skip


@dataclass(frozen=True)
class Judged:
    """What direct strength says: its checks, the critical loads by name, and the strengths for interactions."""

    checks: list[Check]
    values: dict[str, Amount] = field(default_factory=dict)
    local: float | None = None
    distortional: float | None = None


def reasons(family: Family, parts: Sequence[Panel], *, F_y: float, loading: Loading) -> list[str]:
    """Why direct strength does not apply to a profile under a loading; empty when it does."""
    plain: tuple[tuple[type[Family], str], ...] = (
        (Tube, "a round tube has rules of its own"),
        (Bar, "a solid bar has no walls that buckle"),
        (Angle, "the legs of an angle buckle by twisting it; no local load stands apart from that"),
        (Lap, "a lap is part of the floor; what lies beyond its edges holds it"),
    )
    for kind, why in plain:
        if isinstance(family, kind):
            return [why]
    if isinstance(family, HatSkin) and loading != "sagging":
        return ["the strips would take the edges of the compressed skin as free, while it runs on as the floor"]
    found = []
    if above(F_y, MOST_YIELD):
        found.append(f"F_y = {F_y:.4g} MPa, must be at most {MOST_YIELD:g} MPa ({LIMITS})")
    lips = {part.host: part for part in parts if part.role == "lip"}
    for part in parts:
        ratio = float(part.length[0] / part.t[0])
        lip = lips.get(part.name)
        if part.role in ("outstand", "lip"):
            most = MOST_FREE
        elif lip is not None:
            most = MOST_LIPPED
        elif not part.level and loading != "axial":
            most = MOST_WEB
        else:
            most = MOST_HELD
        if above(ratio, most):
            found.append(f"{part.name}: flat width over thickness is {ratio:.4g}, must be at most {most:g} ({LIMITS})")
        if lip is not None:
            corner = float((lip.ext_2 if lip.free_start else lip.ext_1)[0]) * np.sqrt(2.0) + float(part.t[0]) / 2
            share = (float(lip.length[0]) + corner) / (float(part.length[0]) + 2 * corner)
            if above(share, MOST_LIP):
                found.append(f"{lip.name}: lip over flange is {share:.3g}, must be at most {MOST_LIP:g} ({LIMITS})")
    for bend in family.flats_and_bends().parts:
        if isinstance(bend, Bend) and above(float(bend.r[0] / bend.t[0]), MOST_RADIUS):
            found.append(f"R / t = {float(bend.r[0] / bend.t[0]):.3g}, must be at most {MOST_RADIUS:g} ({LIMITS})")
            break
    return found


def bending(
    family: Family,
    p: Properties,
    parts: Sequence[Panel],
    *,
    F_y: float,
    face: str,
    word: str,
    demand: float,
    nu: float,
    F_n: float | None = None,
    unknown: str = "",
) -> Judged:
    """Local-global and distortional strength in bending with one face ("top" or "bottom") compressed.

    `F_n` [MPa] is the lateral-torsional buckling stress where that was judged, None where the face is
    held; `unknown` says why it is neither, and then only distortion is judged.
    """
    loading: Loading = "sagging" if face == "top" else "hogging"
    why = reasons(family, parts, F_y=F_y, loading=loading)
    if why:
        return Judged(
            [how.outside(why, demand=demand, unit="N*mm", where=word) for how in (DIRECT_BENDING, DISTORTIONAL_BENDING)]
        )
    solved = buckling(family, loading=loading, E=E_AISI, nu=nu)
    S_f = float((p.W_y_top if face == "top" else p.W_y_bottom)[0])
    S_fy = float(min(p.W_y_top[0], p.W_y_bottom[0]))
    yielding = ds.YIELD_MOMENT.evaluate(S_fy=S_fy, F_y=F_y)
    M_y = float(yielding.value)
    overall = ds.GLOBAL_STRENGTH_BEAM.evaluate(S_f=S_f, F_n=F_y if F_n is None else F_n, M_y=M_y)
    checks: list[Check] = []
    local = None
    if unknown:
        checks.append(DIRECT_BENDING.outside(unknown, demand=demand, unit="N*mm", where=word))
    elif solved.local is None:
        checks.append(DIRECT_BENDING.outside(solved.why_no_local, demand=demand, unit="N*mm", where=word))
    else:
        inputs = {"M_ne": float(overall.value), "M_crl": solved.local.load}
        choice = ds.local_branch_beam(**inputs)
        strength = choice.formula.evaluate(**inputs)
        local = float(strength.value)
        trace: Trace = [yielding, overall, _stated("M_crl", solved.local), ds.LOCAL_SLENDERNESS_BEAM.evaluate(**inputs)]
        checks.append(
            DIRECT_BENDING.judge(
                capacity=local, demand=demand, required=ds.OMEGA_BENDING, unit="N*mm", trace=[*trace, strength],
                where=word, note=f"{face} face in compression; {choice.why}",
            )
        )  # fmt: skip
    check, distorted = _distortional(
        solved, DISTORTIONAL_BENDING, ("M_y", M_y, yielding), ds.distortional_branch_beam, demand, word
    )
    checks.append(check)
    values = _values(solved, "M", f"_{word}")
    if F_n is not None:
        values[f"M_ne_{word}"] = Amount(float(overall.value), "N*mm")
    return Judged(checks, values, local, distorted)


def compression(
    family: Family,
    p: Properties,
    parts: Sequence[Panel],
    *,
    F_y: float,
    F_n: float,
    critical: float,
    demand: float,
    nu: float,
    steps: Sequence[Evaluation | Stated] = (),
    mode: str = "",
) -> Judged:
    """Local-global and distortional strength in compression.

    `F_n` [MPa] is the global buckling stress of E2, `critical` [N] the elastic force it came from,
    `steps` how.
    """
    why = reasons(family, parts, F_y=F_y, loading="axial")
    if why:
        return Judged([how.outside(why, demand=demand) for how in (DIRECT_COMPRESSION, DISTORTIONAL_COMPRESSION)])
    solved = buckling(family, loading="axial", E=E_AISI, nu=nu)
    A_g = float(p.area[0])
    squash = ds.SQUASH_LOAD.evaluate(A_g=A_g, F_y=F_y)
    checks: list[Check] = []
    local = None
    if solved.local is None:
        checks.append(DIRECT_COMPRESSION.outside(solved.why_no_local, demand=demand))
    else:
        overall = ds.GLOBAL_STRENGTH_COLUMN.evaluate(A_g=A_g, F_n=F_n)
        inputs = {"P_ne": float(overall.value), "P_crl": solved.local.load}
        choice = ds.local_branch_column(**inputs)
        strength = choice.formula.evaluate(**inputs)
        local = float(strength.value)
        trace: Trace = [*steps, overall, _stated("P_crl", solved.local), ds.LOCAL_SLENDERNESS_COLUMN.evaluate(**inputs)]
        checks.append(
            DIRECT_COMPRESSION.judge(
                capacity=local, demand=demand, required=ds.OMEGA_COMPRESSION, trace=[*trace, strength],
                note="; ".join(word for word in (mode, choice.why) if word),
            )
        )  # fmt: skip
    check, distorted = _distortional(
        solved,
        DISTORTIONAL_COMPRESSION,
        ("P_y", float(squash.value), squash),
        ds.distortional_branch_column,
        demand,
        "",
    )
    checks.append(check)
    values = {**_values(solved, "P", ""), "P_cre": Amount(critical, "N")}
    return Judged(checks, values, local, distorted)


def _distortional(
    solved: Buckling,
    how: Method,
    yielding: tuple[str, float, Evaluation],
    branch: Callable[..., Choice],
    demand: float,
    word: str,
) -> tuple[Check, float | None]:
    bent = how is DISTORTIONAL_BENDING
    unit, symbol = ("N*mm", "M_crd") if bent else ("N", "P_crd")
    found = solved.distortional
    if found is None:
        return how.info(unit=unit, note=solved.why_no_distortional, where=word), None
    name, value, step = yielding
    inputs = {name: value, symbol: found.load}
    choice = branch(**inputs)
    strength = choice.formula.evaluate(**{k: inputs[k] for k in choice.formula.parameters})
    slender = (ds.DISTORTIONAL_SLENDERNESS_BEAM if bent else ds.DISTORTIONAL_SLENDERNESS_COLUMN).evaluate(**inputs)
    check = how.judge(
        capacity=float(strength.value), demand=demand, required=ds.OMEGA_BENDING if bent else ds.OMEGA_COMPRESSION,
        unit=unit, trace=[step, _stated(symbol, found), slender, strength], where=word, note=choice.why,
    )  # fmt: skip
    return check, float(strength.value)


def _stated(symbol: str, found: Found) -> Stated:
    unit = "N" if found.loading == "axial" else "N*mm"
    return Stated(symbol, unit, found.load, f"finite strips: {found.note}", status="computed")


def _values(solved: Buckling, letter: str, word: str) -> dict[str, Amount]:
    """Critical loads and half-wavelengths, by the symbols of the specification."""
    unit = "N" if letter == "P" else "N*mm"
    out = {}
    for end, found in (("l", solved.local), ("d", solved.distortional)):
        if found is not None:
            out[f"{letter}_cr{end}{word}"] = Amount(found.load, unit)
            out[f"L_cr{end}{word}"] = Amount(found.half_wavelength, "mm")
    return out
