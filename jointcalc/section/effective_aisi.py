"""Effective sections by the effective widths of AISI S100-16 Appendix 1: flats, webs in bending, lipped flanges.

Decisions (stated once, here; those shared with EN stand in `effective`):

- Widths are the flats between the tangent points of the bends.
- The stress in a flat follows from the neutral axis of the effective section; when the tension face yields first the
  compression stress is below F_y.  Every candidate makes the same few rounds; those whose axis still moves then (very
  deep webs) go on alone, so a batch and a single section agree.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import partial
from typing import Any

import numpy as np
import numpy.typing as npt

from jointcalc.formula import aisi_s100
from jointcalc.formula import effective_aisi as aisi
from jointcalc.formula.branch import above
from jointcalc.formula.core import Evaluation
from jointcalc.section.effective import (
    NU,
    TINY,
    EffectiveSection,
    Face,
    Remaining,
    Working,
    choose,
    face_of,
    positive,
    with_values,
)
from jointcalc.section.families.family import Family
from jointcalc.section.families.tube import Tube
from jointcalc.section.outline import Bools, Floats
from jointcalc.section.panels import Panel, panels
from jointcalc.section.properties import Properties

E_AISI = aisi_s100.E
"""MPa (29 500 ksi), AISI S100-16 A3.3."""
ROUNDS_AISI = 6
ROUNDS_MOST = 80


def local_reduction(lamda: Floats) -> Floats:
    """Local reduction factor of a flat, AISI S100-16 Appendix 1, 1.1."""
    return np.asarray(np.minimum(aisi.local_reduction(lamda=np.maximum(lamda, 0.673)), 1.0))


def effective_aisi(
    family: Family,
    *,
    F_y: Any,
    compression: str = "top",
    E: float = E_AISI,
    properties: Properties | None = None,
    rounds: int = ROUNDS_AISI,
    known: tuple[Panel, ...] | None = None,
) -> EffectiveSection:
    """Effective section by AISI S100-16 Appendix 1, at initiation of yielding.

    `F_y` [MPa]: yield stress; with `compression="all"` the uniform stress F_n of the column instead.
    `rounds` is how often the neutral axis is refined before the candidates whose axis still moves are
    taken on by themselves.  Pass `properties` and `known` (from `panels`) when they exist already.

    Raises InputError for a strength that is not positive or an unknown face.
    """
    face = face_of(compression)
    positive(F_y, "F_y")
    p = properties or family.properties()
    section = Remaining(p)
    all_panels = known or panels(family, p)
    lips = {panel.host: panel for panel in all_panels if panel.role == "lip"}
    by_name = {panel.name: panel for panel in all_panels}
    limits: dict[str, Bools] = {}
    if isinstance(family, Tube):
        # bent, the wall buckles below yield from 0.318 on; squeezed, the column's own rule goes on to 0.441
        most = 0.441 if face == "all" else 0.318
        limits[f"D/t of the tube is over {most} E/F_y (AISI S100-16)"] = np.atleast_1d(
            np.asarray(above(family.od / family.t, most * E / np.asarray(F_y)))
        )
    sign = -1.0 if face == "bottom" else 1.0
    extreme = p.z_bottom if face == "bottom" else p.z_top
    opposite = p.z_top if face == "bottom" else p.z_bottom
    workings: list[Working] = []
    for panel in all_panels:
        _width_limits_aisi(panel, panel.name in lips, limits)
    axis = p.z_centroid
    before: tuple[Floats, Floats] | None = None
    for round_ in range(1 if face == "all" else rounds):
        if round_:
            step = section.totals()[1] - axis
            if rounds >= ROUNDS_MOST and np.all(np.abs(step) <= 1e-13 * (p.z_top - p.z_bottom)):
                break  # settled to the last digits: a further round would not tell
            axis, before = _secant(axis, step, before)
        section.strips = []
        workings = []
        if face == "all":
            stress = partial(_uniform_stress, np.asarray(F_y, dtype=float))
        else:
            reach = np.maximum(sign * (extreme - axis), sign * (axis - opposite))
            stress = partial(_bending_stress, sign * F_y / reach, axis)
        for panel in all_panels:
            if panel.role == "lip":
                continue
            lip = lips.get(panel.name)
            if lip is not None:
                _lipped_flange_aisi(section, panel, lip, stress, sign, E, limits, workings)
            elif panel.level or panel.role == "outstand":
                _plain_aisi(section, panel, stress, sign, E, face, workings)
            else:
                flange = by_name.get(panel.next_2 if sign > 0 else panel.next_1)
                if panel.z_1[0] > panel.z_2[0]:
                    flange = by_name.get(panel.next_1 if sign > 0 else panel.next_2)
                _web_aisi(section, panel, stress, E, flange, p, workings)
    made = section.result("AISI S100", face, F_y, E, limits, workings)
    if face == "all" or rounds >= ROUNDS_MOST:
        return made
    left = np.flatnonzero(np.abs(made.z_centroid - axis) > 1e-10 * (p.z_top - p.z_bottom))
    return _settled(made, left, family, F_y, E, p) if left.size else made


def _settled(
    made: EffectiveSection, left: npt.NDArray[np.intp], family: Family, F_y: Any, E: float, p: Properties
) -> EffectiveSection:
    """The section with those candidates whose neutral axis still moves taken on by themselves."""
    alone = family if family.batch == 1 else family.take(left)
    stress_of = np.asarray(F_y, dtype=float)
    again = effective_aisi(
        alone,
        F_y=stress_of[left] if stress_of.size > 1 else F_y,
        compression=made.compression,
        E=E,
        properties=p if family.batch == 1 else None,
        rounds=ROUNDS_MOST,
    )
    if family.batch == 1:
        return again
    better = {}
    for name in ("area", "z_centroid", "I_y", "W_top", "W_bottom", "lost"):
        better[name] = np.array(getattr(made, name))
        better[name][left] = getattr(again, name)
    return replace(made, **better, refined=(left, again))  # type: ignore[arg-type]


def _secant(axis: Floats, step: Floats, before: tuple[Floats, Floats] | None) -> tuple[Floats, tuple[Floats, Floats]]:
    """Next neutral axis from the step the plain iteration would make, by the secant rule where it is safe.

    Each candidate goes its own way, so that its answer does not depend on its neighbours.
    """
    if before is None:
        return axis + step, (axis, step)
    last_axis, last_step = before
    change = step - last_step
    still = np.abs(change) <= 1e-3 * np.abs(last_step) + 1e-12
    factor = (last_axis - axis) / (change + 1e30 * still)
    return axis + step * np.where(still | (np.abs(factor) > 2.0), 1.0, factor), (axis, step)


def _uniform_stress(force: Floats, z: Floats) -> Floats:
    return force * np.ones_like(z)


def _bending_stress(per_mm: Floats, axis: Floats, z: Floats) -> Floats:
    return (z - axis) * per_mm


def _width_limits_aisi(panel: Panel, lipped: bool, limits: dict[str, Bools]) -> None:
    """AISI S100-16 Table B4.1-1, from memory."""
    if panel.level:
        most = 60.0 if lipped or panel.role == "outstand" else 500.0
    elif panel.role == "internal":
        most = 200.0
    else:
        most = 60.0
    over = above(panel.length / panel.t, most)
    if np.any(over):
        limits[f"{panel.name}: flat width over thickness is above {most:g} (AISI S100-16 Table B4.1-1)"] = over


def _plain_aisi(
    section: Remaining, panel: Panel, stress: Any, sign: float, modulus: float, face: Face, workings: list[Working]
) -> None:
    """A stiffened flat in uniform compression, or an outstand at its largest compression."""
    w, t = panel.length, panel.t
    if face == "all":
        f = stress(panel.z_1)
    elif panel.level and not panel.share.any():
        f = stress(panel.z_1 + sign * t / 2)  # the outer face
    else:
        f = np.maximum(stress(panel.z_1), stress(panel.z_2))
    compressed = f > 0
    if not compressed.any():
        return  # in tension in every candidate: nothing is lost
    k = 0.43 if panel.role == "outstand" else 4.0
    critical = aisi.local_buckling_stress(k=k, E=modulus, mu=NU, t=t, w=np.maximum(w, 1e-6 * t))
    lamda = aisi.slenderness(f=np.maximum(f, 0.0), F_crl=critical)
    rho = local_reduction(np.asarray(lamda))
    lost = (1 - rho) * w
    share = panel.share
    middle = (lost / 2 if panel.free_start else w - lost / 2) if panel.role == "outstand" else w / 2
    section.take(panel, t * lost, panel.z_1 + middle * share, lost, share)
    workings.append(
        Working(
            panel.name,
            _steps_plain_aisi,
            {"k": k, "E": modulus, "mu": NU, "t": t, "w": w, "f": f, "rho": rho, "compressed": compressed},
        )
    )


def _web_aisi(
    section: Remaining,
    panel: Panel,
    stress: Any,
    modulus: float,
    flange: Panel | None,
    p: Properties,
    workings: list[Working],
) -> None:
    """A stiffened flat under stress gradient: AISI S100-16 Appendix 1, 1.1.2."""
    w, t = panel.length, panel.t
    f_a, f_b = stress(panel.z_1), stress(panel.z_2)
    f_1, f_2 = np.maximum(f_a, f_b), np.minimum(f_a, f_b)
    compressed = f_1 > 0
    pressed = np.maximum(f_1, 0.0)
    # in tension all over: psi is large, the slenderness 0, and the compressed part comes out as nothing
    psi = np.abs(f_2) / np.maximum(f_1, 1e-6)
    tension = f_2 < 0
    bent = bool(tension.all())  # the usual case; the other branch is then left out
    part_psi = np.minimum(psi, 1.0)
    k = aisi.k_web(psi=psi)
    if not bent:
        k = np.where(tension, k, aisi.k_gradient(psi=part_psi))
    critical = aisi.local_buckling_stress(k=k, E=modulus, mu=NU, t=t, w=np.maximum(w, 1e-6 * t))
    lamda = aisi.slenderness(f=pressed, F_crl=critical)
    b_e = local_reduction(np.asarray(lamda)) * w
    h_o = p.z_top - p.z_bottom
    b_o = np.full(1, np.inf)
    if flange is not None:
        bends = int(flange.turned_1) + int(flange.turned_2)
        # over the outer faces: the flat, and radius and sheet at each bend (mid-line radius + t/2 = r + t)
        b_o = flange.length + bends * (np.maximum(panel.ext_1, panel.ext_2) * np.sqrt(2.0) + t / 2)
    deep = np.asarray(above(h_o, 4 * b_o))
    b_1 = aisi.web_width_compressed_end(b_e=b_e, psi=psi)
    if not bent:
        b_1 = np.where(tension, b_1, aisi.web_width_gradient(b_e=b_e, psi=part_psi))
    b_2 = choose(psi > 0.236, lambda: b_e / 2, lambda: b_e - b_1)
    if deep.any():
        b_2 = np.where(deep, aisi.web_width_axis_deep(b_e=b_e, psi=psi, b_1=b_1), b_2)
    part = w * pressed / np.maximum(f_1 - f_2, TINY)
    if not bent:
        b_2 = np.where(tension, b_2, b_e - b_1)
        part = np.where(tension, part, w)
    lost = np.maximum(part - b_1 - b_2, 0.0)
    if not compressed.all():
        lost = np.where(compressed, lost, 0.0)
    middle = b_1 + lost / 2
    share = panel.share
    where = choose(f_a >= f_b, lambda: middle, lambda: w - middle)
    section.take(panel, t * lost, panel.z_1 + where * share, lost, share)
    workings.append(
        Working(
            panel.name,
            _steps_web_aisi,
            {
                "k": k, "E": modulus, "mu": NU, "t": t, "w": w, "f": f_1, "psi": psi, "b_e": b_e, "b_1": b_1,
                "deep": deep, "tension": tension, "compressed": compressed,
            },
        )
    )  # fmt: skip


def _lipped_flange_aisi(
    section: Remaining,
    flange: Panel,
    lip: Panel,
    stress: Any,
    sign: float,
    modulus: float,
    limits: dict[str, Bools],
    workings: list[Working],
) -> None:
    """A flange with a simple lip: AISI S100-16 Appendix 1, 1.3."""
    w, t, d = flange.length, flange.t, lip.length
    f = stress(flange.z_1 + sign * t / 2)
    compressed = f > 0
    f = np.where(compressed, f, 1e-6)
    corner = (lip.ext_2 if lip.free_start else lip.ext_1) * np.sqrt(2.0) + t / 2
    overall = d + corner
    limit = aisi.stiffener_limit(E=modulus, f=f)
    ratio = w / t / limit
    needed = ratio > 0.328
    adequate = np.where(needed, aisi.adequate_second_moment(t=t, w=np.where(needed, w, limit * t), S=limit), 0.0)
    own = aisi.lip_second_moment(d=d, t=t)
    r_i = np.where(needed, np.minimum(own / np.where(needed, adequate, 1.0), 1.0), 1.0)
    n = aisi.stiffener_exponent(w=w, t=t, S=limit)
    relative = overall / w
    by_lip: Floats = np.asarray(
        np.where(relative <= 0.25, aisi.k_lipped_short(R_I=r_i, n=n), aisi.k_lipped_long(R_I=r_i, n=n, D=overall, w=w))
    )
    # beyond D/w = 0.8, which is out of range, the line would fall below that of a free edge
    k = np.asarray(np.where(needed, np.maximum(by_lip, 0.43), 4.0), dtype=float)
    critical = aisi.local_buckling_stress(k=k, E=modulus, mu=NU, t=t, w=w)
    b: Floats = local_reduction(np.asarray(aisi.slenderness(f=f, F_crl=critical))) * w
    b = np.asarray(np.where(needed & compressed, b, w), dtype=float)
    edge = b / 2 * r_i  # at the lip
    web_side = b - edge
    lip_end = stress(lip.z_1 if not lip.free_start else lip.z_2)
    lip_critical = aisi.local_buckling_stress(k=0.43, E=modulus, mu=NU, t=t, w=np.maximum(d, 1e-6 * t))
    held = local_reduction(np.asarray(aisi.slenderness(f=np.maximum(lip_end, 0.0), F_crl=lip_critical))) * d
    d_s = np.where(compressed, held * r_i, d)
    share_f, share_l = flange.share, lip.share
    lip_at_end = flange.next_2 == lip.name
    lost = w - b
    from_start = web_side + lost / 2 if lip_at_end else edge + lost / 2
    section.take(flange, t * lost, flange.z_1 + from_start * share_f, lost, share_f)
    gone = d - d_s
    tip = lip.z_1 + share_l * gone / 2 if lip.free_start else lip.z_2 - share_l * gone / 2
    section.take(lip, t * gone, tip, gone, share_l)
    long = above(relative, 0.8)
    if np.any(long):
        limits[f"{lip.name}: lip over flange flat is above 0.8 (AISI S100-16 Table 1.3-1)"] = long
    workings.append(
        Working(
            flange.name,
            _steps_lipped_aisi,
            {
                "E": modulus, "f": f, "t": t, "w": w, "d": d, "D": overall, "mu": NU, "k": k, "R_I": r_i,
                "needed": needed, "compressed": compressed,
            },
        )
    )  # fmt: skip


def _steps_flat_aisi(v: Mapping[str, float]) -> list[Evaluation]:
    critical = with_values(aisi.LOCAL_BUCKLING_STRESS, v)
    lamda = with_values(aisi.SLENDERNESS, v, F_crl=critical.value)
    out = [critical, lamda]
    if lamda.value > 0.673:
        out.append(aisi.LOCAL_REDUCTION.evaluate(lamda=lamda.value))
    return out


def _steps_plain_aisi(v: Mapping[str, float]) -> list[Evaluation]:
    return _steps_flat_aisi(v) if v["compressed"] else []


def _steps_web_aisi(v: Mapping[str, float]) -> list[Evaluation]:
    if not v["compressed"]:
        return []
    out = [with_values(aisi.K_WEB if v["tension"] else aisi.K_GRADIENT, v), *_steps_flat_aisi(v)]
    out.append(with_values(aisi.WEB_WIDTH_COMPRESSED_END if v["tension"] else aisi.WEB_WIDTH_GRADIENT, v))
    if v["tension"] and v["deep"]:
        out.append(with_values(aisi.WEB_WIDTH_AXIS_DEEP, v))
    return out


def _steps_lipped_aisi(v: Mapping[str, float]) -> list[Evaluation]:
    if not v["compressed"]:
        return []
    limit = with_values(aisi.STIFFENER_LIMIT, v)
    out = [limit]
    if v["needed"]:
        n = with_values(aisi.STIFFENER_EXPONENT, v, S=limit.value)
        k = aisi.K_LIPPED_SHORT if v["D"] / v["w"] <= 0.25 else aisi.K_LIPPED_LONG
        out += [with_values(aisi.ADEQUATE_SECOND_MOMENT, v, S=limit.value), with_values(aisi.LIP_SECOND_MOMENT, v), n]
        out += [with_values(k, v, n=n.value), *_steps_flat_aisi(v)]
    return out
