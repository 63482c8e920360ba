"""Axial forces in a brace: tension, buckling as a strut, both with bending.

Decided here:

- An axial force is judged at the eccentricity that was given; else at that of the joint where it is known (a hat is
  fixed by its flanges), through the axis for tubes, boxes and bars with a caution, and for the rest it is asked for.
- Its moment, force times eccentricity, counts as bending like any other; under compression it grows by the secant of
  the exact solution, and the moment of the loads by the exact solution of a pinned span, else by the same secant,
  which bounds it.
"""

from __future__ import annotations

from math import hypot, pi

import numpy as np

from jointcalc.check.brace_base import (
    AISI_BEAM_COLUMN,
    AISI_COMPRESSION,
    AISI_RUPTURE,
    AISI_TENSION,
    AISI_TENSION_BENDING,
    ALPHA_ASD,
    EN_BEAM_COLUMN,
    EN_COMPRESSION,
    EN_TENSION,
    EN_TENSION_BENDING,
    GAMMA_M0,
    GAMMA_M1,
)
from jointcalc.check.brace_direct import direct_strut
from jointcalc.check.brace_distortion import distortion_column
from jointcalc.check.brace_lateral import symmetry
from jointcalc.check.brace_state import State, called, carried
from jointcalc.check.common import Steps
from jointcalc.formula import column, torsional, web_aisi, web_en1993
from jointcalc.formula.core import Evaluation
from jointcalc.quantity.sentence import Measure, as_printed, joined, mm, mpa
from jointcalc.result import Check, Stated
from jointcalc.section.buckling import buckling
from jointcalc.section.effective import E_AISI, effective_aisi
from jointcalc.section.families import Bar, Box, Hat, HatSkin, RectTube, Tube, Zed


def eccentricity(s: State) -> tuple[float, str, str] | None:
    """(how far the axial force acts from the centroid [mm], in words, face of the profile on that side or "").

    None where it was not given and nothing says where the brace is joined.
    """
    if s.brace.eccentricity is not None:
        return s.brace.eccentricity, "as given", ""
    if isinstance(s.family, Hat):
        skin = float(s.family.skin_t) if isinstance(s.family, HatSkin) else 0.0
        low = skin / 2 if skin else s.t / 2
        return float(s.p.z_centroid[0] - s.p.z_bottom[0]) - low, "fixed by its flanges", "bottom"
    if isinstance(s.family, Tube | Box | Bar):
        return 0.0, "through the axis", ""
    return None


def eccentric(s: State) -> dict[str, float]:
    """Face of the profile -> first-order moment [N mm] of the axial force that compresses it."""
    N = s.brace.compression or -s.brace.tension
    known = eccentricity(s)
    if not N or known is None:
        return {}
    arm, _, side = known
    if not arm:
        return {}
    if not side:
        return {"top": abs(N) * arm, "bottom": abs(N) * arm}
    # pushed at the flanges, the flanges are pressed; pulled there, the other face is
    face = side if N > 0 else {"top": "bottom", "bottom": "top"}[side]
    return {face: abs(N) * arm}


def shifted(s: State) -> dict[str, float]:
    """Face of the profile -> N e_N [N mm] (EN 1993-1-3 6.2.5): the centroid of what works leaves what buckles."""
    if not s.brace.compression or not s.steel:
        return {}
    e = s.effective("en", "all")
    shift = 0.0 if e.outside() else float(e.z_centroid[0] - s.p.z_centroid[0])
    if abs(shift) < 1e-6:
        return {}
    return {"bottom" if shift > 0 else "top": s.brace.compression * abs(shift)}


def axial(s: State) -> list[Check]:
    """Compression or tension, alone and with bending."""
    if not s.brace.compression and not s.brace.tension:
        return []
    if eccentricity(s) is None:
        s.need(
            "eccentricity",
            f"how far the axial force acts above or below the centroid of {called(s)} is not known: give the "
            f"eccentricity, {mm(0)} where the joint brings it through the centroid",
        )
    return _compression(s) if s.brace.compression else _tension(s)


def _tension(s: State) -> list[Check]:
    T, A = s.brace.tension, float(s.p.area[0])
    s.need("tension", "no method applies to the tension")
    en = web_en1993.TENSION_RESISTANCE.evaluate(A=A, f_y=s.f_y)
    yielded = web_aisi.TENSION_YIELD.evaluate(A_g=A, F_y=s.f_y)
    torn = web_aisi.TENSION_RUPTURE.evaluate(A_n=A, F_u=s.brace.f_u)
    pulled = {
        "en": EN_TENSION.judge(
            capacity=float(en.value), demand=T, load_factor=s.gamma, trace=[en], covers=["tension"]
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
    for word, M, face, _ in s.cases:
        if not M:
            continue
        s.need(f"tension with {word}", f"no method applies to tension with bending ({word})")
        for how, code in ((EN_TENSION_BENDING, "en"), (AISI_TENSION_BENDING, "aisi")):
            bent = s.resistance(code, face)
            if bent is None:
                checks.append(how.outside("bending alone is outside its range", unit="1", where=word))
                continue
            if code == "en":
                eta = web_en1993.TENSION_AND_BENDING.evaluate(
                    T=s.gamma * T, N_t=float(en.value) / GAMMA_M0, M=s.gamma * M, M_c=carried(bent) / GAMMA_M0
                )
            else:
                T_n = min(float(yielded.value) / web_aisi.OMEGA_TENSION_YIELD,
                          float(torn.value) / web_aisi.OMEGA_TENSION_RUPTURE)  # fmt: skip
                eta = web_aisi.TENSION_AND_BENDING.evaluate(
                    T=T, T_a=T_n, M=M, M_a=carried(bent) / web_aisi.OMEGA_BENDING
                )
            checks.append(
                how.judge(
                    capacity=1.0, demand=float(eta.value), unit="1",
                    trace=[Stated.of("u_N", pulled[code]), Stated.of("u_M", bent), eta], where=word,
                    covers=[f"tension with {word}"],
                )
            )  # fmt: skip
    return checks


def _critical(s: State, E: float) -> tuple[str, float, Steps] | str:
    """(mode, lowest critical force [N], working), or why there is none.

    A profile without an axis of symmetry is solved by finite strips, one half-wave over the buckling length.
    """
    p, L = s.p, s.strut_length
    G = E / (2 * (1 + s.nu))
    first = column.EULER_FORCE.evaluate(E=E, I=s.I_y, K=1.0, L=L)
    found: list[tuple[str, Evaluation, list[Evaluation]]] = [("bending in the plane of the loads", first, [first])]
    if not s.held_both:
        axis = symmetry(s)
        if axis == "none" and not isinstance(s.family, Zed):
            whole = buckling(s.family, loading="axial", E=E_AISI, nu=s.nu).overall(L)
            if whole is None:
                return f"{called(s)} that nothing holds bends and twists about no axis of symmetry"
            how = f"finite strips, one half-wave over {mm(L):.4g}, E = {mpa(E):g}"
            force = whole.load * E / E_AISI
            return "bending and twisting together", force, [Stated("N_cr", "N", force, how, status="computed")]
        weak = float(p.I_2[0]) if isinstance(s.family, Zed) else float(p.I_z[0])
        sideways = column.EULER_FORCE.evaluate(E=E, I=weak, K=1.0, L=L)
        found.append(("bending about the weaker axis" if weak < s.I_y else "bending sideways", sideways, [sideways]))
        if not s.family.closed and not isinstance(s.family, Bar):
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


def _curve(s: State) -> column.Curve:
    hollow = isinstance(s.family, Box | RectTube | Tube)
    kind = "cold-formed hollow" if hollow else "solid" if isinstance(s.family, Bar) else "hat or channel"
    return column.buckling_curve(kind=kind, f_y=s.f_y)


def _compression(s: State) -> list[Check]:
    N = s.brace.compression
    en, aisi = _critical(s, s.E), _critical(s, E_AISI)
    if isinstance(en, str) or isinstance(aisi, str):
        reason = en if isinstance(en, str) else str(aisi)
        s.need("compression", reason)
        return [how.outside(reason, demand=N) for how in (EN_COMPRESSION, AISI_COMPRESSION)]
    pushed = {"en": _en_compression(s, *en), "aisi": _aisi_compression(s, *aisi)}
    checks = list(pushed.values())
    direct = direct_strut(s, *s.overall["all"], aisi[0])
    checks.append(direct)
    if pushed["aisi"].status not in ("ok", "over") and direct.status in ("ok", "over"):
        pushed["aisi"] = direct
    why = joined("; ", dict.fromkeys(c.note for c in checks if c.status == "outside"))
    s.need("compression", f"no method applies to the compression: {why}")
    distorted = distortion_column(s)
    if distorted is not None:
        checks.append(distorted)
        if pushed["aisi"].status != "outside" and carried(distorted) < carried(pushed["aisi"]):
            pushed["aisi"] = distorted
    return checks + _beam_column(s, pushed)


def _en_compression(s: State, mode: str, force: float, steps: Steps) -> Check:
    N, required = s.brace.compression, GAMMA_M1 * s.gamma
    curve = _curve(s)

    def resistance(A: float) -> tuple[float, list[Evaluation]]:
        slender = column.RELATIVE_SLENDERNESS.evaluate(A=A, f_y=s.f_y, N_cr=force)
        chi = column.REDUCTION_FACTOR.evaluate(lamda=float(slender.value), alpha=curve.alpha)
        last = column.BUCKLING_RESISTANCE.evaluate(chi=float(chi.value), A=A, f_y=s.f_y)
        return float(last.value), [slender, chi, last]

    e = s.effective("en", "all")
    note = f"{mode}; {curve.why}"
    if e.outside():
        edge = s.effective_at_edge("en", "all")
        if edge is None:
            return EN_COMPRESSION.outside(e.outside(), demand=N)
        # the thicker section squeezed flat: more than it and the real one carry as struts
        return EN_COMPRESSION.at_most(
            e.outside(), capacity=float(edge.area[0]) * s.f_y, demand=N, required=required, trace=edge.steps()
        )
    capacity, last = resistance(float(e.area[0]))
    return EN_COMPRESSION.judge(
        capacity=capacity, demand=N, required=required, trace=[*e.steps(), *steps, *last], note=note,
        covers=["compression"],
    )  # fmt: skip


def _aisi_compression(s: State, mode: str, force: float, steps: Steps) -> Check:
    N, A_g = s.brace.compression, float(s.p.area[0])
    required = web_aisi.OMEGA_COMPRESSION
    elastic = Stated("F_e", "MPa", force / A_g, "critical force over the gross area")
    lamda_c = column.SLENDERNESS_FACTOR.evaluate(F_y=s.f_y, F_e=force / A_g)
    choice = column.aisi_column_branch(lamda_c=float(lamda_c.value))
    stress = choice.formula.evaluate(F_y=s.f_y, lamda_c=float(lamda_c.value))
    F_n = float(stress.value)
    working: Steps = [*steps, elastic, lamda_c, stress]
    s.overall["all"] = F_n, [*working]
    s.overall_loads["P_cre"] = force, "N"
    note = f"{mode}; {choice.why}"
    if isinstance(s.family, Tube):
        D, t = float(s.family.od), s.t
        given = {"D": D, "t": t, "F_y": s.f_y, "E": E_AISI, "A": A_g}
        reasons = column.TUBE_REDUCED_AREA.outside(**given)
        if reasons:
            # at the thickest wall that is still too slender the rule begins: a bound from above
            t_edge = D * s.f_y / (0.441 * E_AISI)
            A_edge = pi * (D - t_edge) * t_edge
            return AISI_COMPRESSION.at_most(reasons, capacity=A_edge * s.f_y, demand=N, required=required)
        reduced = column.TUBE_REDUCED_AREA.evaluate(**given)
        area = column.TUBE_EFFECTIVE_AREA.evaluate(A_o=float(reduced.value), A=A_g, F_y=s.f_y, F_e=force / A_g)
        A_e = float(area.value)
        working += [reduced, area]
    else:
        e = effective_aisi(s.family, F_y=F_n, compression="all", properties=s.p)
        if e.outside():
            edge = s.effective_at_edge("aisi", "all")
            if edge is None:
                return AISI_COMPRESSION.outside(e.outside(), demand=N)
            return AISI_COMPRESSION.at_most(
                e.outside(), capacity=float(edge.area[0]) * s.f_y, demand=N, required=required, trace=edge.steps()
            )
        A_e = float(e.area[0])
        working += list(e.steps())
    strength = column.AISI_STRENGTH.evaluate(A_e=A_e, F_n=F_n)
    return AISI_COMPRESSION.judge(
        capacity=float(strength.value), demand=N, required=required, trace=[*working, strength], note=note,
        covers=["compression"],
    )  # fmt: skip


def _growth(s: State, n: float) -> tuple[float, float, str]:
    """(growth of the greatest sagging moment of the loads, of the hogging one, how), at n of the critical force."""
    single = len(s.brace.span) == 1 and len(s.brace.supports) == 2
    if not single or any(one.rotation for one in s.brace.supports) or s.brace.effective_length != 1.0:
        secant = float(column.SECANT_FACTOR(n=n))
        return secant, secant, "bounded by the secant"
    # pinned: y'' + k^2 y = -M/EI in sines, term by term M_j/(1 - n/j^2)
    x = np.linspace(0.0, s.brace.length, 1601)
    M = (s.beam.moment(x, "left") + s.beam.moment(x, "right")) / 2
    j = np.arange(1, 61)[:, None]
    shape = np.sin(j * pi * x / s.brace.length)
    part = np.atleast_1d(2 / s.brace.length * np.trapezoid(M * shape, x, axis=1))[:, None]
    more = M + (part * n / (j**2 - n) * shape).sum(axis=0)
    up = max(float(more.max()), 0.0) / s.sag if s.sag else 1.0
    down = max(float(-more.min()), 0.0) / s.hog if s.hog else 1.0
    return max(up, 1.0), max(down, 1.0), "exact, pinned span"


def _beam_column(s: State, pushed: dict[str, Check]) -> list[Check]:
    N = s.brace.compression
    first, shift = eccentric(s), shifted(s)
    checks = []
    for how, code, E, load_factor in (
        (EN_BEAM_COLUMN, "en", s.E, s.gamma),
        (AISI_BEAM_COLUMN, "aisi", E_AISI, ALPHA_ASD),
    ):
        in_plane = column.EULER_FORCE.evaluate(E=E, I=s.I_y, K=1.0, L=s.strut_length)
        n = load_factor * N / float(in_plane.value)
        for face in ("top", "bottom"):
            word = "sagging" if face == s.face("top") else "hogging"
            M = s.loads_moment(word)
            extra = first.get(face, 0.0) + (shift.get(face, 0.0) if code == "en" else 0.0)
            if not M and not extra:
                continue
            s.need(f"compression with {word}", f"no method applies to compression with bending ({word})")
            alone, bent = pushed[code], s.resistance(code, face)
            if alone.status not in ("ok", "over") or bent is None:
                reason = "compression or bending alone is outside its range"
                checks.append(how.outside(reason, unit="1", where=word))
                continue
            if n >= 1:
                reason = "the loads with their factor reach the critical force: the brace buckles"
                checks.append(how.outside(reason, unit="1", where=word))
                continue
            secant = column.SECANT_FACTOR.evaluate(n=n)
            sag, hog, how_grown = _growth(s, n)
            grown = sag if word == "sagging" else hog
            M_2 = grown * M + float(secant.value) * extra
            M_b, N_b = carried(bent), carried(alone)
            if code == "en":
                eta = column.EN_POWER_INTERACTION.evaluate(
                    N_Ed=s.gamma * N, N_b=N_b / GAMMA_M1, M_Ed=s.gamma * M_2, M_b=M_b / GAMMA_M1
                )
            else:
                eta = column.AISI_INTERACTION.evaluate(
                    P=N, P_a=N_b / web_aisi.OMEGA_COMPRESSION, M=M_2, M_a=M_b / web_aisi.OMEGA_BENDING
                )
            trace: Steps = [in_plane]
            if M:
                trace.append(
                    Stated("k_2nd", "1", grown, f"growth of the loads' moment by the axial force, {how_grown}")
                )
            if extra:
                trace.append(secant)
            trace += [
                Stated("M_II", "N*mm", M_2, f"{Measure(M, unit='N*mm'):.4g} of the loads, "
                    f"{as_printed(f'{N:.4g} x {extra / N:.4g} N*mm', extra, unit='N*mm')}, both grown"),
                Stated.of("u_N", alone), Stated.of("u_M", bent), eta,
            ]  # fmt: skip
            checks.append(
                how.judge(
                    capacity=1.0, demand=float(eta.value), unit="1", trace=trace, where=word,
                    covers=[f"compression with {word}"],
                )
            )  # fmt: skip
    return checks
