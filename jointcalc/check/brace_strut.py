"""Axial forces in a brace: tension, buckling as a strut, both with bending.

Decided here:

- An axial force is judged at the eccentricity that was given; else at that of the joint where it is known (a hat is
  fixed by its flanges), through the axis for tubes, boxes and bars with a caution, and for the rest it is asked for.
- Its moment, force times eccentricity, counts as bending like any other; under compression it grows by the secant of
  the exact solution, and the moment of the loads by the exact solution of a pinned span, else by the same secant,
  which bounds it.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from math import hypot, pi

import numpy as np

from jointcalc.check.brace_action import CODES, Array, BraceAction, called, carried
from jointcalc.check.brace_base import (
    AISI_BEAM_COLUMN,
    AISI_COMPRESSION,
    AISI_RUPTURE,
    AISI_TENSION,
    AISI_TENSION_BENDING,
    EN_BEAM_COLUMN,
    EN_COMPRESSION,
    EN_TENSION,
    EN_TENSION_BENDING,
)
from jointcalc.check.brace_bending import moments
from jointcalc.check.brace_direct import direct_strut, sideways_by_strips
from jointcalc.check.brace_distortion import distorted, distortion_column
from jointcalc.check.brace_lateral import sideways, symmetry
from jointcalc.check.common import Steps, once
from jointcalc.formula import column, torsional, web_aisi, web_en1993
from jointcalc.formula.core import Evaluation
from jointcalc.formula.safety import GAMMA_M0, GAMMA_M1
from jointcalc.quantity.sentence import Measure, as_printed, joined, mm, mpa
from jointcalc.result import Check, Need, Stated
from jointcalc.section.buckling import buckling
from jointcalc.section.effective_aisi import E_AISI, effective_aisi
from jointcalc.section.families.channel import Zed
from jointcalc.section.families.tube import Bar, Box, RectTube, Tube


def axial(action: BraceAction) -> list[Check]:
    """Compression or tension, alone and with bending."""
    if not action.brace.compression and not action.brace.tension:
        return []
    return _compression(action) if action.brace.compression else _tension(action)


def axial_needs(action: BraceAction) -> list[Need]:
    """The axial force where it acts, alone and with bending."""
    if not action.brace.compression and not action.brace.tension:
        return []
    needs = []
    if action.eccentricity is None:
        sentence = (
            f"how far the axial force acts above or below the centroid of {called(action)} is not known: give the "
            f"eccentricity, {mm(0)} where the joint brings it through the centroid"
        )
        needs.append(Need("eccentricity", sentence))
    if action.brace.tension:
        needs.append(Need("tension", "no method applies to the tension"))
        words = [word for word, M, _, _ in action.bends if M]
        return needs + [Need(f"tension with {w}", f"no method applies to tension with bending ({w})") for w in words]
    pushed = _strut(action)
    if isinstance(pushed, str):
        return [*needs, Need("compression", pushed)]
    why = joined("; ", dict.fromkeys(c.note for c in pushed.alone if c.status == "outside"))
    needs.append(Need("compression", f"no method applies to the compression: {why}"))
    words = list(dict.fromkeys(word for _, _, word, _, _ in _with_bending(action)))
    return needs + [
        Need(f"compression with {w}", f"no method applies to compression with bending ({w})") for w in words
    ]


def resistance(action: BraceAction, code: str, face: str) -> Check | None:
    """The check whose capacity sums use: the lowest of bending, lateral-torsional and distortional buckling.

    None where bending alone is not judged.
    """
    bent = moments(action).get((code, face))
    if bent is None:
        return None
    more = [distorted(action).get(face)] if code == "aisi" else []
    one = sideways(action).get(face)
    if one is not None and code in one.applies:
        more.append(one.en if code == "en" else one.aisi)
    if code == "aisi":
        more.append(sideways_by_strips(action).get(face))
    return min([bent, *(c for c in more if c is not None)], key=carried)


def _tension(action: BraceAction) -> list[Check]:
    T, A = action.brace.tension, float(action.p.area[0])
    en = web_en1993.TENSION_RESISTANCE.evaluate(A=A, f_y=action.f_y)
    yielded = web_aisi.TENSION_YIELD.evaluate(A_g=A, F_y=action.f_y)
    torn = web_aisi.TENSION_RUPTURE.evaluate(A_n=A, F_u=action.brace.f_u)
    pulled = {
        "en": EN_TENSION.judge(
            capacity=float(en.value), demand=T, load_factor=action.gamma, trace=[en], covers=["tension"]
        ),
        "aisi": AISI_TENSION.judge(
            capacity=float(yielded.value), demand=T, trace=[yielded],
            covers=["tension"],
        ),
    }  # fmt: skip
    checks = [
        *pulled.values(),
        AISI_RUPTURE.judge(
            capacity=float(torn.value),
            demand=T,
            trace=[torn],
            note="no holes deducted; judge the end joint by itself",
        ),
    ]
    for word, M, face, _ in action.bends:
        if not M:
            continue
        for method, code in ((EN_TENSION_BENDING, "en"), (AISI_TENSION_BENDING, "aisi")):
            bent = resistance(action, code, face)
            if bent is None:
                checks.append(method.outside("bending alone is outside its range", unit="1", where=word))
                continue
            if code == "en":
                eta = web_en1993.TENSION_AND_BENDING.evaluate(
                    T=action.gamma * T, N_t=float(en.value) / GAMMA_M0, M=action.gamma * M, M_c=carried(bent) / GAMMA_M0
                )
            else:
                T_n = min(float(yielded.value) / web_aisi.OMEGA_TENSION_YIELD,
                          float(torn.value) / web_aisi.OMEGA_TENSION_RUPTURE)  # fmt: skip
                eta = web_aisi.TENSION_AND_BENDING.evaluate(
                    T=T, T_a=T_n, M=M, M_a=carried(bent) / web_aisi.OMEGA_BENDING
                )
            checks.append(
                method.judge(
                    capacity=1.0, demand=float(eta.value), unit="1",
                    trace=[Stated.of("u_N", pulled[code]), Stated.of("u_M", bent), eta], where=word,
                    covers=[f"tension with {word}"],
                )
            )  # fmt: skip
    return checks


def _critical(action: BraceAction, E: float) -> tuple[str, float, Steps] | str:
    """(mode, lowest critical force [N], working), or why there is none.

    A profile without an axis of symmetry is solved by finite strips, one half-wave over the buckling length.
    """
    p, L = action.p, action.strut_length
    G = E / (2 * (1 + action.nu))
    first = column.EULER_FORCE.evaluate(E=E, I=action.I_y, K=1.0, L=L)
    found: list[tuple[str, Evaluation, list[Evaluation]]] = [("bending in the plane of the loads", first, [first])]
    if not action.held_both:
        axis = symmetry(action)
        if axis == "none" and not isinstance(action.family, Zed):
            whole = buckling(action.family, loading="axial", E=E_AISI, nu=action.nu).overall(L)
            if whole is None:
                return f"{called(action)} that nothing holds bends and twists about no axis of symmetry"
            how = f"finite strips, one half-wave over {mm(L):.4g}, E = {mpa(E):g}"
            force = whole.load * E / E_AISI
            return "bending and twisting together", force, [Stated("N_cr", "N", force, how, status="computed")]
        weak = float(p.I_2[0]) if isinstance(action.family, Zed) else float(p.I_z[0])
        sideways = column.EULER_FORCE.evaluate(E=E, I=weak, K=1.0, L=L)
        found.append(
            ("bending about the weaker axis" if weak < action.I_y else "bending sideways", sideways, [sideways])
        )
        if not action.family.closed and not isinstance(action.family, Bar):
            i_o = float(p.i_0[0])
            twist = torsional.TORSIONAL_FORCE.evaluate(
                i_o=i_o, G=G, J=float(p.J[0]), E=E, C_w=max(0.0, float(p.C_w[0])), L=L
            )
            d_o = hypot(float(p.z_shear_centre[0] - p.z_centroid[0]), float(p.y_shear_centre[0] - p.y_centroid[0]))
            if d_o < 1e-6 * i_o:
                found.append(("twisting", twist, [twist]))
            else:
                flexure = first if axis == "y" else sideways
                both = torsional.TORSIONAL_FLEXURAL_FORCE.evaluate(
                    N_f=float(flexure.value), N_t=float(twist.value), d_o=d_o, i_o=i_o
                )
                found.append(("twisting and bending together", both, [flexure, twist, both]))
    mode, lowest, steps = min(found, key=lambda one: float(one[1].value))
    return mode, float(lowest.value), [*steps]


def _curve(action: BraceAction) -> column.Curve:
    hollow = isinstance(action.family, Box | RectTube | Tube)
    kind = "cold-formed hollow" if hollow else "solid" if isinstance(action.family, Bar) else "hat or channel"
    return column.buckling_curve(kind=kind, f_y=action.f_y)


@dataclass(frozen=True, slots=True)
class Strut:
    """What both documents say of the compression alone."""

    alone: tuple[Check, ...]
    """The checks of buckling as a whole, with local buckling."""
    distorted: Check | None
    elastic: float
    """Lowest elastic critical force by AISI's modulus [N]."""

    @property
    def counted(self) -> dict[str, Check]:
        """Code -> the check whose capacity sums with bending use."""
        en, aisi, direct = self.alone
        if aisi.status not in ("ok", "over") and direct.status in ("ok", "over"):
            aisi = direct
        if self.distorted is not None and aisi.status != "outside" and carried(self.distorted) < carried(aisi):
            aisi = self.distorted
        return {"en": en, "aisi": aisi}


@once
def _strut(action: BraceAction) -> Strut | str:
    """The compression alone, or why nothing can be said of it."""
    en, aisi = _critical(action, action.E), _critical(action, E_AISI)
    if isinstance(en, str) or isinstance(aisi, str):
        return en if isinstance(en, str) else str(aisi)
    by_aisi, F_n, working = _aisi_compression(action, *aisi)
    alone = _en_compression(action, *en), by_aisi, direct_strut(action, F_n, working, aisi[0])
    return Strut(alone, distortion_column(action), aisi[1])


def squashed(action: BraceAction) -> Strut | None:
    """What is said of the compression alone; None where there is none, or no method for it."""
    found = _strut(action) if action.brace.compression else None
    return None if isinstance(found, str) else found


def _compression(action: BraceAction) -> list[Check]:
    pushed = _strut(action)
    if isinstance(pushed, str):
        return [
            method.outside(pushed, demand=action.brace.compression) for method in (EN_COMPRESSION, AISI_COMPRESSION)
        ]
    distorted = [] if pushed.distorted is None else [pushed.distorted]
    return [*pushed.alone, *distorted, *_beam_column(action, pushed.counted)]


def _en_compression(action: BraceAction, mode: str, force: float, steps: Steps) -> Check:
    N = action.brace.compression
    curve = _curve(action)

    def resistance(A: float) -> tuple[float, list[Evaluation]]:
        slender = column.RELATIVE_SLENDERNESS.evaluate(A=A, f_y=action.f_y, N_cr=force)
        chi = column.REDUCTION_FACTOR.evaluate(lamda=float(slender.value), alpha=curve.alpha)
        last = column.BUCKLING_RESISTANCE.evaluate(chi=float(chi.value), A=A, f_y=action.f_y)
        return float(last.value), [slender, chi, last]

    e = action.effective("en", "all")
    note = f"{mode}; {curve.why}"
    if e.outside():
        edge = action.effective_at_edge("en", "all")
        if edge is None:
            return EN_COMPRESSION.outside(e.outside(), demand=N)
        # the thicker section squeezed flat: more than it and the real one carry as struts
        return EN_COMPRESSION.at_most(
            e.outside(),
            capacity=float(edge.area[0]) * action.f_y,
            demand=N,
            load_factor=action.gamma,
            trace=edge.steps(),
        )
    capacity, last = resistance(float(e.area[0]))
    return EN_COMPRESSION.judge(
        capacity=capacity, demand=N, load_factor=action.gamma, trace=[*e.steps(), *steps, *last], note=note,
        covers=["compression"],
    )  # fmt: skip


def _aisi_compression(
    action: BraceAction, mode: str, force: float, steps: Steps
) -> tuple[Check, float, Steps]:  # fmt: skip
    """(check, global buckling stress of E2 [MPa], its working)."""
    N, A_g = action.brace.compression, float(action.p.area[0])
    elastic = Stated("F_e", "MPa", force / A_g, "critical force over the gross area")
    lamda_c = column.SLENDERNESS_FACTOR.evaluate(F_y=action.f_y, F_e=force / A_g)
    choice = column.aisi_column_branch(lamda_c=float(lamda_c.value))
    stress = choice.formula.evaluate(F_y=action.f_y, lamda_c=float(lamda_c.value))
    F_n = float(stress.value)
    working: Steps = [*steps, elastic, lamda_c, stress]
    said = F_n, [*working]
    note = f"{mode}; {choice.why}"
    if isinstance(action.family, Tube):
        D, t = float(action.family.od), action.t
        given = {"D": D, "t": t, "F_y": action.f_y, "E": E_AISI, "A": A_g}
        reasons = column.TUBE_REDUCED_AREA.outside(**given)
        if reasons:
            # at the thickest wall that is still too slender the rule begins: a bound from above
            t_edge = D * action.f_y / (column.MOST_SLENDER_TUBE * E_AISI)
            A_edge = pi * (D - t_edge) * t_edge
            return AISI_COMPRESSION.at_most(
                reasons, capacity=A_edge * action.f_y, demand=N, load_factor=action.gamma
            ), *said
        reduced = column.TUBE_REDUCED_AREA.evaluate(**given)
        area = column.TUBE_EFFECTIVE_AREA.evaluate(A_o=float(reduced.value), A=A_g, F_y=action.f_y, F_e=force / A_g)
        A_e = float(area.value)
        working += [reduced, area]
    else:
        e = effective_aisi(action.family, F_y=F_n, compression="all", properties=action.p)
        if e.outside():
            edge = action.effective_at_edge("aisi", "all")
            if edge is None:
                return AISI_COMPRESSION.outside(e.outside(), demand=N), *said
            bound = AISI_COMPRESSION.at_most(
                e.outside(),
                capacity=float(edge.area[0]) * action.f_y,
                demand=N,
                load_factor=action.gamma,
                trace=edge.steps(),
            )
            return bound, *said
        A_e = float(e.area[0])
        working += list(e.steps())
    strength = column.AISI_STRENGTH.evaluate(A_e=A_e, F_n=F_n)
    check = AISI_COMPRESSION.judge(
        capacity=float(strength.value), demand=N, load_factor=action.gamma, trace=[*working, strength], note=note,
        covers=["compression"],
    )  # fmt: skip
    return check, *said


SINES = np.arange(1, 61)
"""Half-waves of a pinned span into which its moments are taken apart."""
HALVES = 1600
"""Parts of the span between which they are looked at."""


@cache
def _sines() -> Array:
    """Half-waves at the places looked at, (half-waves, places)."""
    return np.sin(pi * np.outer(SINES, np.linspace(0.0, 1.0, HALVES + 1)))


@once
def _in_sines(action: BraceAction) -> tuple[Array, Array]:
    """(moments of the loads along a pinned span, how much of each half-wave is in them) [N mm]."""
    x = np.linspace(0.0, action.brace.length, HALVES + 1)
    M = (action.beam.moment(x, "left") + action.beam.moment(x, "right")) / 2
    return M, 2 / HALVES * (_sines() @ M)  # by trapezia: a sine ends in nought


def _growth(action: BraceAction, n: float) -> tuple[float, float, str]:
    """(growth of the greatest sagging moment of the loads, of the hogging one, how), at n of the critical force."""
    single = len(action.brace.span) == 1 and len(action.brace.supports) == 2
    if not single or any(one.rotation for one in action.brace.supports) or action.brace.effective_length != 1.0:
        secant = float(column.SECANT_FACTOR(n=n))
        return secant, secant, "bounded by the secant"
    # pinned: y'' + k^2 y = -M/EI in sines, term by term M_j/(1 - n/j^2)
    M, part = _in_sines(action)
    more = M + (part * n / (SINES**2 - n)) @ _sines()
    up = max(float(more.max()), 0.0) / action.sag if action.sag else 1.0
    down = max(float(-more.min()), 0.0) / action.hog if action.hog else 1.0
    return max(up, 1.0), max(down, 1.0), "exact, pinned span"


def _with_bending(action: BraceAction) -> list[tuple[str, str, str, float, float]]:
    """(code, face of the profile, word, moment of the loads, of the eccentric force) of what bends a strut."""
    found = []
    for code in CODES:
        for face in ("top", "bottom"):
            word = "sagging" if face == action.face("top") else "hogging"
            M = action.loads_moment(word)
            extra = action.eccentric.get(face, 0.0) + (action.shifted.get(face, 0.0) if code == "en" else 0.0)
            found += [(code, face, word, M, extra)] if M or extra else []
    return found


def _beam_column(action: BraceAction, pushed: dict[str, Check]) -> list[Check]:
    N = action.brace.compression
    by_code = {"en": (EN_BEAM_COLUMN, action.E, action.gamma), "aisi": (AISI_BEAM_COLUMN, E_AISI, column.ALPHA_ASD)}
    checks = []
    for code, face, word, M, extra in _with_bending(action):
        method, E, load_factor = by_code[code]
        in_plane = column.EULER_FORCE.evaluate(E=E, I=action.I_y, K=1.0, L=action.strut_length)
        n = load_factor * N / float(in_plane.value)
        alone, bent = pushed[code], resistance(action, code, face)
        if alone.status not in ("ok", "over") or bent is None:
            reason = "compression or bending alone is outside its range"
            checks.append(method.outside(reason, unit="1", where=word))
            continue
        if n >= 1:
            reason = "the loads with their factor reach the critical force: the brace buckles"
            checks.append(method.outside(reason, unit="1", where=word))
            continue
        secant = column.SECANT_FACTOR.evaluate(n=n)
        sag, hog, how_grown = _growth(action, n)
        grown = sag if word == "sagging" else hog
        M_2 = grown * M + float(secant.value) * extra
        M_b, N_b = carried(bent), carried(alone)
        if code == "en":
            eta = column.EN_POWER_INTERACTION.evaluate(
                N_Ed=action.gamma * N, N_b=N_b / GAMMA_M1, M_Ed=action.gamma * M_2, M_b=M_b / GAMMA_M1
            )
        else:
            eta = column.AISI_INTERACTION.evaluate(
                P=N, P_a=N_b / web_aisi.OMEGA_COMPRESSION, M=M_2, M_a=M_b / web_aisi.OMEGA_BENDING
            )
        trace: Steps = [in_plane]
        if M:
            trace.append(Stated("k_2nd", "1", grown, f"growth of the loads' moment by the axial force, {how_grown}"))
        if extra:
            trace.append(secant)
        trace += [
            Stated("M_II", "N*mm", M_2, f"{Measure(M, unit='N*mm'):.4g} of the loads, "
                f"{as_printed(f'{N:.4g} x {extra / N:.4g} N*mm', extra, unit='N*mm')}, both grown"),
            Stated.of("u_N", alone), Stated.of("u_M", bent), eta,
        ]  # fmt: skip
        checks.append(
            method.judge(
                capacity=1.0, demand=float(eta.value), unit="1", trace=trace, where=word,
                covers=[f"compression with {word}"],
            )
        )  # fmt: skip
    return checks
