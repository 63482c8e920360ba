"""Effective sections by EN 1993-1-3:2006 5.5 with EN 1993-1-5:2006 4.4: flats, lipped flanges, a beaded crown.

Decisions (stated once, here; those shared with AISI stand in `effective`):

- Widths are notional widths between the mid-points of the bends (EN 1993-1-3 Figure 5.1).
- `sigma_com` is the yield strength, whatever face yields first (on the safe side); level flats take their stress ratio
  from the gross section, webs from the section with effective flanges and gross webs, in one pass (EN 1993-1-3
  5.5.2(3), as in worked example SX022a).
- Edge stiffeners: the spring stiffness K keeps its first value while chi_d is iterated.  SX022a's printed result is
  only reproduced that way; refreshing K gives an effective modulus 0.34 % higher.
- A bead in a compressed crown: one central stiffener held by its flats alone.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from jointcalc.formula import effective_en as en
from jointcalc.formula.branch import above, below
from jointcalc.formula.core import Evaluation
from jointcalc.quantity.sentence import mm
from jointcalc.section.effective import (
    NU,
    TINY,
    EffectiveSection,
    Face,
    Remaining,
    Removed,
    Working,
    choose,
    face_of,
    positive,
    with_values,
)
from jointcalc.section.families.family import Family
from jointcalc.section.families.tube import Bar, Tube
from jointcalc.section.outline import Bools, Floats
from jointcalc.section.panels import Panel, panels
from jointcalc.section.properties import Properties

E_EN = 210000.0
"""MPa, EN 1993-1-1:2005 3.2.6."""
LEAST_SHEET = 0.45
"""mm without zinc, EN 1993-1-3:2006 3.2.4(1), from memory."""
ROUNDS_LIP = 12
WIDEST_OUTSTAND = 50.0
"""Width over thickness of an outstand, at most: EN 1993-1-3 Table 5.1, from memory."""


def k_internal(psi: Floats) -> Floats:
    """Buckling factor of an internal element, 1 >= psi >= -3, by EN 1993-1-5 Table 4.1."""
    return choose(
        psi >= 0,
        lambda: en.k_internal_compression(psi=np.maximum(psi, 0.0)),
        lambda: choose(
            psi >= -1,
            lambda: en.k_internal_bending(psi=np.minimum(psi, 0.0)),
            lambda: en.k_internal_tension(psi=np.minimum(psi, 0.0)),
        ),
    )


def k_held(psi: Floats) -> Floats:
    """Buckling factor of an outstand most compressed at its support, by EN 1993-1-5 Table 4.2; psi below -1 as -1."""
    return choose(
        psi >= 0,
        lambda: en.k_outstand_held(psi=np.maximum(psi, 0.0)),
        lambda: en.k_outstand_held_bending(psi=np.minimum(np.maximum(psi, -1.0), 0.0)),
    )


def rho_internal(lamda_p: Floats, psi: Floats) -> Floats:
    """Reduction factor of an internal element, EN 1993-1-5 4.4(2); the formula is 1 at its limit and falls beyond."""
    beyond = np.maximum(lamda_p, en.limit_internal(psi=psi))
    return np.asarray(np.minimum(en.rho_internal(lamda_p=beyond, psi=psi), 1.0))


def rho_outstand(lamda_p: Floats) -> Floats:
    """Reduction factor of an outstand, EN 1993-1-5 4.4(2)."""
    return np.asarray(np.minimum(en.rho_outstand(lamda_p=np.maximum(lamda_p, 0.748)), 1.0))


def chi_d(lamda_d: Floats) -> Floats:
    """Reduction factor of a stiffener, EN 1993-1-3 5.5.3.1(7)."""
    return np.where(
        lamda_d <= 0.65,
        1.0,
        np.where(lamda_d < 1.38, en.chi_d_medium(lamda_d=lamda_d), en.chi_d_slender(lamda_d=np.maximum(lamda_d, 0.65))),
    )


def effective_en(
    family: Family,
    *,
    f_yb: Any,
    compression: str = "top",
    E: float = E_EN,
    sharp: bool = False,
    properties: Properties | None = None,
    passes: int = 1,
    known: tuple[Panel, ...] | None = None,
) -> EffectiveSection:
    """Effective section by EN 1993-1-3:2006 5.5 with EN 1993-1-5:2006 4.4.

    `f_yb` [MPa], a float or one value per candidate.  `compression` is the compressed face, "top",
    "bottom" or "all" for uniform compression.  `passes` is how often the webs are refined.  `sharp`
    draws the section with sharp corners.  Pass `properties` and `known` (from `panels`) when they exist
    already.

    Raises InputError for a strength that is not positive or an unknown face.
    """
    face = face_of(compression)
    positive(f_yb, "f_yb")
    p = properties or family.properties(sharp=sharp)
    eps = np.atleast_1d(np.asarray(en.epsilon(f_y=f_yb), dtype=float))
    section = Remaining(p)
    all_panels = known or panels(family, p, sharp=sharp)
    lips = {panel.host: panel for panel in all_panels if panel.role == "lip"}
    hosts = {panel.name: panel for panel in all_panels}
    limits: dict[str, Bools] = {}
    workings: list[Working] = []
    if not isinstance(family, Bar):
        _thickness_limit_en(all_panels, family, limits)
    if isinstance(family, Tube):
        limits["d/t of the tube is over 90 (235/f_y): its wall buckles locally (EN 1993-1-1 Table 5.2)"] = (
            np.atleast_1d(np.asarray(above(family.od / family.t, 90 * eps**2)))
        )
    else:
        _radius_limit_en(family, f_yb, E, limits)
    sign = -1.0 if face == "bottom" else 1.0

    def stress(z: Floats, axis: Floats) -> Floats:
        return np.ones_like(z) if face == "all" else sign * (z - axis)

    axis = p.z_centroid
    webs = []
    for panel in all_panels:
        if panel.role == "lip":
            continue
        lip = lips.get(panel.name)
        if not panel.level and face != "all":
            webs.append(panel)
        elif lip is not None:
            _lipped_flange_en(section, panel, lip, stress, axis, f_yb, eps, E, face, lips, hosts, limits, workings)
        elif panel.bead is not None and panel.level:
            _beaded_en(section, panel, stress, axis, f_yb, eps, E, workings)
        else:
            _plain_en(section, panel, stress, axis, eps, workings)
        _width_limits_en(panel, lip is not None, limits)
    upto = len(section.strips)
    for round_ in range(passes):
        _, axis, _ = section.totals(upto if round_ == 0 else None)
        del section.strips[upto:]
        fresh: list[Working] = []
        for panel in webs:
            _plain_en(section, panel, stress, axis, eps, fresh)
        if round_ == passes - 1:
            workings.extend(fresh)
    return section.result("EN 1993-1-3", face, f_yb, E, limits, workings)


def _radius_limit_en(family: Family, f_yb: Any, modulus: float, limits: dict[str, Bools]) -> None:
    """EN 1993-1-3 5.1(6), from memory: beyond this radius the resistance of a bend is found by tests only."""
    seen = set()
    for bend in family.flats_and_bends().bends:
        if (id(bend.r), id(bend.t)) in seen:
            continue
        seen.add((id(bend.r), id(bend.t)))
        over = above(bend.r / bend.t, 0.04 * modulus / np.asarray(f_yb, dtype=float))
        if np.any(over):
            limits[f"{bend.name}: inside radius is above 0.04 t E/f_yb (EN 1993-1-3 5.1(6))"] = over


def _thickness_limit_en(all_panels: tuple[Panel, ...], family: Family, limits: dict[str, Bools]) -> None:
    """EN 1993-1-3 3.2.4(1), the recommended range of core thickness; from memory."""
    sizes = [np.asarray(family.t)] if isinstance(family, Tube) else [panel.t for panel in all_panels]
    for t in sizes:
        thin = np.atleast_1d(below(t, LEAST_SHEET))
        if np.any(thin):
            limits[f"sheet under {mm(LEAST_SHEET):g} (EN 1993-1-3 3.2.4)"] = thin


def _width_limits_en(panel: Panel, lipped: bool, limits: dict[str, Bools]) -> None:
    """EN 1993-1-3 Table 5.1, from memory."""
    most, what = (
        (60.0, "a flange with a lip")
        if lipped
        else (WIDEST_OUTSTAND, "an outstand")
        if panel.role == "outstand"
        else (500.0, "a flat held at both edges")
    )
    over = above(panel.length / panel.t, most)
    if np.any(over):
        limits[
            f"{panel.name}: width over thickness is above {most:g}, the limit of EN 1993-1-3 Table 5.1 for {what}"
        ] = over


def _plain_en(
    section: Remaining, panel: Panel, stress: Any, axis: Floats, eps: Floats, workings: list[Working]
) -> None:
    """Take the buckled strip out of a flat held at both edges, or out of an outstand."""
    share = panel.share
    b = panel.length + panel.ext_1 + panel.ext_2
    uniform = panel.level and not share.any()
    start = panel.z_1 - panel.ext_1 * share
    end = panel.z_2 + panel.ext_2 * share
    c_1 = stress(start, axis)
    if uniform:
        compressed = c_1 > 0
        if not compressed.any():
            return  # in tension in every candidate: nothing is lost
        psi = np.ones(1)
        from_start = np.array([True])
        b_c = b
    else:
        c_2 = stress(end, axis)
        high, low = np.maximum(c_1, c_2), np.minimum(c_1, c_2)
        compressed = high > 0
        # in tension all over: psi is put at -3 and the compressed width comes out as nothing
        psi = np.maximum(low / np.maximum(high, TINY), -3.0)
        from_start = c_1 >= c_2
        b_c = np.minimum(b * np.maximum(high, 0.0) / np.maximum(high - low, TINY), b)
    if panel.role == "outstand":
        at_free = np.asarray(from_start == panel.free_start) if not uniform else np.array([True])
        k = choose(at_free, lambda: en.k_outstand_free(psi=psi), lambda: k_held(psi))
        lamda = en.slenderness(b=b, t=panel.t, epsilon=eps, k_sigma=k)
        rho = rho_outstand(lamda)
        lost = np.where(compressed, (1 - rho) * b_c, 0.0)
        # distance of the lost strip's middle from the more compressed end
        middle = choose(at_free, lambda: lost / 2, lambda: rho * b_c + lost / 2)
        if uniform:
            from_start = np.array([panel.free_start])
        steps = _steps_outstand
    else:
        k = k_internal(psi)
        lamda = en.slenderness(b=b, t=panel.t, epsilon=eps, k_sigma=k)
        rho = rho_internal(lamda, psi)
        lost = np.where(compressed, (1 - rho) * b_c, 0.0)
        first = 2 / (5 - np.maximum(psi, 0.0)) * rho * b_c  # 0.4 where part is in tension
        middle = first + lost / 2
        at_free = np.array([False])
        steps = _steps_internal
    where = choose(from_start, lambda: middle, lambda: b - middle)
    z = start + where * share
    section.take(panel, panel.t * lost, z, lost, share)
    workings.append(
        Working(
            panel.name,
            steps,
            {
                "b": b, "t": panel.t, "epsilon": eps, "k_sigma": k, "psi": psi, "lamda_p": lamda, "rho": rho,
                "compressed": compressed, "at_free": at_free,
            },
        )
    )  # fmt: skip


def _first_stiffener(flange: Panel, lip: Panel, eps: Floats) -> tuple[Floats, ...]:
    """(b_p, c_p, their slenderness, k of the lip, half the flange, lip that works, A_s, b_1) of the first round."""
    b_p = flange.length + flange.ext_1 + flange.ext_2
    c_p = lip.length + (lip.ext_2 if lip.free_start else lip.ext_1)
    ratio = c_p / b_p
    k_c = np.where(ratio <= 0.35, 0.5, en.k_lip(b_pc=np.maximum(ratio, 0.35), b_p=1.0))
    lamda_b = np.asarray(en.slenderness(b=b_p, t=flange.t, epsilon=eps, k_sigma=4.0))
    lamda_c = np.asarray(en.slenderness(b=c_p, t=flange.t, epsilon=eps, k_sigma=k_c))
    edge, lip_width = rho_internal(lamda_b, np.ones(1)) * b_p / 2, rho_outstand(lamda_c) * c_p
    b_1 = b_p - edge**2 / (2 * (edge + lip_width))
    return b_p, c_p, lamda_b, lamda_c, k_c, edge, lip_width, flange.t * (edge + lip_width), b_1


def _lipped_flange_en(
    section: Remaining,
    flange: Panel,
    lip: Panel,
    stress: Any,
    axis: Floats,
    f_yb: Any,
    eps: Floats,
    modulus: float,
    face: Face,
    lips: Mapping[str, Panel],
    hosts: Mapping[str, Panel],
    limits: dict[str, Bools],
    workings: list[Working],
) -> None:
    """A flange with a single lip: EN 1993-1-3 5.5.3.2, by the iteration of 5.5.3.2(10)."""
    t = flange.t
    compressed = stress(flange.z_1, axis) > 0
    one = np.ones(1)
    b_p, c_p, lamda_b, lamda_c, k_c, half, lip_width, area, b_1 = _first_stiffener(flange, lip, eps)
    ratio, edge = c_p / b_p, half
    second = en.stiffener_second_moment(b_e2=edge, c_eff=lip_width, t=t)
    h_w = np.abs(section.top - section.bottom) - t
    # k_f: 0 when the other flange is pulled; else what it holds back, A_s2 / A_s1
    b_2, k_f = b_1, np.zeros(1)
    if face == "all":
        for host, other_lip in lips.items():
            if host != flange.name:
                *_, other_area, b_2 = _first_stiffener(hosts[host], other_lip, eps)
                k_f = other_area / area
    spring = en.spring_stiffness(E=modulus, t=t, nu=NU, b_1=b_1, h_w=h_w, b_2=b_2, k_f=k_f)
    first = {"b_e2": edge, "c_eff": lip_width}
    chi = one
    for _ in range(ROUNDS_LIP):
        critical = en.stiffener_critical_stress(K=spring, E=modulus, I_s=second, A_s=area)
        lamda_d = en.stiffener_slenderness(f_yb=f_yb, sigma_cr_s=critical)
        chi = chi_d(np.asarray(lamda_d))
        root = np.sqrt(chi)
        edge = rho_internal(lamda_b * root, one) * b_p / 2
        lip_width = rho_outstand(lamda_c * root) * c_p
        area = t * (edge + lip_width)
        second = en.stiffener_second_moment(b_e2=edge, c_eff=lip_width, t=t)
    here = np.where(compressed, 1.0, 0.0)
    share_f, share_l = flange.share, lip.share
    # the lip is at the far end of the flange from the web
    lip_at_end = flange.next_2 == lip.name
    sign = 1.0 if lip_at_end else -1.0
    far = flange.z_2 + flange.ext_2 * share_f if lip_at_end else flange.z_1 - flange.ext_1 * share_f
    lost = np.maximum(b_p - half - edge, 0.0) * here
    section.take(flange, t * lost, far - sign * share_f * (edge + lost / 2), lost, share_f)
    section.take(flange, (1 - chi) * t * edge * here, far - sign * share_f * edge / 2, edge, share_f)
    near = lip.z_2 + lip.ext_2 * share_l if lip.free_start else lip.z_1 - lip.ext_1 * share_l
    way = -1.0 if lip.free_start else 1.0
    section.take(lip, (1 - chi) * t * lip_width * here, near + way * share_l * lip_width / 2, lip_width, share_l)
    gone = (c_p - lip_width) * here
    section.take(lip, t * gone, near + way * share_l * (lip_width + gone / 2), gone, share_l)
    short = below(ratio, 0.2) | above(ratio, 0.6)
    if np.any(short):
        limits[f"{lip.name}: lip over flange is outside 0.2 to 0.6 (EN 1993-1-3 5.2(2))"] = short
    slender = above(lip.length / t, 50.0)
    if np.any(slender):
        limits[f"{lip.name}: width over thickness is above 50 (EN 1993-1-3 Table 5.1)"] = slender
    workings.append(
        Working(
            flange.name,
            _steps_lipped_en,
            {
                "b_p": b_p, "c_p": c_p, "t": t, "epsilon": eps, "k_lip": k_c, "E": modulus, "f_yb": f_yb, "h_w": h_w,
                "b_1": b_1, "b_2": b_2, "k_f": k_f, "K": spring, "b_e2": edge, "c_eff": lip_width, "chi_d": chi,
                "b_e2_first": first["b_e2"], "c_eff_first": first["c_eff"], "compressed": compressed, "nu": NU,
            },
        )
    )  # fmt: skip


def _beaded_en(
    section: Remaining,
    panel: Panel,
    stress: Any,
    axis: Floats,
    f_yb: Any,
    eps: Floats,
    modulus: float,
    workings: list[Working],
) -> None:
    """A level flat with one bead in its middle: EN 1993-1-3 5.5.3.3, bead held by its flats only."""
    bead = panel.bead
    assert bead is not None
    t = panel.t
    b_p = panel.side + panel.ext_1
    compressed = stress(panel.z_1, axis) > 0
    lamda = en.slenderness(b=b_p, t=t, epsilon=eps, k_sigma=4.0)
    one = np.ones(1)
    far = rho_internal(lamda, one) * b_p / 2
    near = far
    radius = (bead.width**2 / 4 + bead.depth**2) / (2 * bead.depth)
    half = bead.length / (2 * radius)
    # the arc about its own centroid, and that centroid over the plane of the flat
    own = radius**3 * t * (half + np.sin(half) * np.cos(half) - 2 * np.sin(half) ** 2 / half)
    rise = radius * (np.sin(half) / half - np.cos(half))
    chi = one
    lamda_d = one
    for _ in range(ROUNDS_LIP):
        flat = 2 * near * t
        arc = bead.length * t
        area = flat + arc
        z_s = arc * rise / area
        second = own + arc * (rise - z_s) ** 2 + flat * (z_s**2 + t**2 / 12)
        critical = en.bead_critical_stress(E=modulus, I_s=second, t=t, A_s=area, b_p=b_p, b_s=bead.length)
        lamda_d = np.asarray(en.stiffener_slenderness(f_yb=f_yb, sigma_cr_s=critical))
        chi = chi_d(lamda_d)
        near = rho_internal(lamda * np.sqrt(chi), one) * b_p / 2
    here = np.where(compressed, 1.0, 0.0)
    level = np.zeros(1)
    section.take(panel, 2 * t * np.maximum(b_p - far - near, 0.0) * here, panel.z_1, level, level)
    section.take(panel, (1 - chi) * 2 * near * t * here, panel.z_1, level, level)
    # an arc has no length along which it is upright; its own second moment is lost in proportion
    inward = panel.z_1 - rise
    arc = (1 - chi) * bead.length * t * here
    section.strips.append(Removed(panel.name, arc * panel.count, inward, (1 - chi) * own * here * panel.count))
    workings.append(
        Working(
            panel.name,
            _steps_beaded_en,
            {
                "E": modulus, "I_s": second, "t": t, "A_s": area, "b_p": b_p, "b_s": bead.length, "f_yb": f_yb,
                "epsilon": eps, "lamda_d": lamda_d, "chi_d": chi, "compressed": compressed,
            },
        )
    )  # fmt: skip


def _steps_internal(v: Mapping[str, float]) -> list[Evaluation]:
    return _steps_plain_en(v, outstand=False)


def _steps_outstand(v: Mapping[str, float]) -> list[Evaluation]:
    return _steps_plain_en(v, outstand=True)


def _steps_plain_en(v: Mapping[str, float], outstand: bool) -> list[Evaluation]:
    if not v["compressed"]:
        return []
    psi = v["psi"]
    if not outstand:
        k = en.K_INTERNAL_COMPRESSION if psi >= 0 else en.K_INTERNAL_BENDING if psi >= -1 else en.K_INTERNAL_TENSION
    elif v["at_free"]:
        k = en.K_OUTSTAND_FREE
    else:
        k = en.K_OUTSTAND_HELD if psi >= 0 else en.K_OUTSTAND_HELD_BENDING
    out = [
        with_values(k, v, psi=psi if not outstand or v["at_free"] else max(psi, -1.0)),
        with_values(en.SLENDERNESS, v),
    ]
    if v["rho"] < 1:
        out.append(with_values(en.RHO_OUTSTAND if outstand else en.RHO_INTERNAL, v))
    return out


def _steps_lipped_en(v: Mapping[str, float]) -> list[Evaluation]:
    if not v["compressed"]:
        return []
    area = v["t"] * (v["b_e2"] + v["c_eff"])
    second = with_values(en.STIFFENER_SECOND_MOMENT, v)
    critical = with_values(en.STIFFENER_CRITICAL_STRESS, v, I_s=second.value, A_s=area)
    lamda_d = with_values(en.STIFFENER_SLENDERNESS, v, sigma_cr_s=critical.value)
    out = [
        with_values(en.SLENDERNESS, v, b=v["b_p"], k_sigma=4.0),
        with_values(en.SLENDERNESS, v, b=v["c_p"], k_sigma=v["k_lip"]),
        with_values(en.SPRING_STIFFNESS, v),
        second,
        critical,
        lamda_d,
    ]
    return out + _steps_chi(float(lamda_d.value))


def _steps_chi(lamda_d: float) -> list[Evaluation]:
    if lamda_d <= 0.65:
        return []
    return [(en.CHI_D_MEDIUM if lamda_d < 1.38 else en.CHI_D_SLENDER).evaluate(lamda_d=lamda_d)]


def _steps_beaded_en(v: Mapping[str, float]) -> list[Evaluation]:
    if not v["compressed"]:
        return []
    critical = with_values(en.BEAD_CRITICAL_STRESS, v)
    lamda_d = with_values(en.STIFFENER_SLENDERNESS, v, sigma_cr_s=critical.value)
    return [
        with_values(en.SLENDERNESS, v, b=v["b_p"], k_sigma=4.0),
        critical,
        lamda_d,
        *_steps_chi(float(lamda_d.value)),
    ]
