"""Effective sections of slender profiles: EN 1993-1-3 with EN 1993-1-5, and AISI S100 effective widths.

The effective section is the gross one (bends exactly, see `properties`) less the strips of its flats
that buckle.  It is found in bending about y with either face in compression, or in uniform
compression, for every candidate of a batch at once.

Decisions (stated once, here):

- EN widths are notional widths between the mid-points of the bends (EN 1993-1-3 Figure 5.1), AISI
  widths are the flats between the tangent points.
- EN: `sigma_com` is the yield strength, whatever face yields first (on the safe side); level flats
  take their stress ratio from the gross section, webs from the section with effective flanges and
  gross webs, in one pass (EN 1993-1-3 5.5.2(3), as in worked example SX022a).
- EN edge stiffeners: the spring stiffness K keeps its first value while chi_d is iterated.  SX022a's
  printed result is only reproduced that way; refreshing K gives an effective modulus 0.34 % higher.
- EN bead in a compressed crown: one central stiffener held by its flats alone.  Any other bead (in a
  web, and all of them under AISI) is not counted as a stiffener: the flat is taken as plain over its
  whole width, which is on the safe side.
- AISI: the stress in a flat follows from the neutral axis of the effective section; when the tension
  face yields first the compression stress is below F_y.  Every candidate makes the same few rounds;
  those whose axis still moves then (very deep webs) go on alone, so a batch and a single section agree.
- Profiles with I_yz (zed, angle) are taken to bend about y, held sideways.
- A round tube has no flats: its effective section is the gross one, and `slender` tells whether its
  wall is beyond d/t = 90 (235/f_y) (EN), 0.318 E/F_y bent or 0.441 E/F_y squeezed (AISI), where that no longer holds.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from functools import partial
from typing import Any, Literal

import numpy as np
import numpy.typing as npt

from jointcalc.errors import InputError
from jointcalc.formula import aisi_s100
from jointcalc.formula import effective_aisi as aisi
from jointcalc.formula import effective_en as en
from jointcalc.formula.branch import above, below
from jointcalc.formula.core import Evaluation, Formula
from jointcalc.quantity.sentence import mm
from jointcalc.section.families import Bar, Family, Tube
from jointcalc.section.outline import Bead, Bools, Flat, Floats
from jointcalc.section.properties import Properties

Face = Literal["top", "bottom", "all"]
"""Which face is in compression; "all" is uniform compression."""

E_EN = 210000.0
"""MPa, EN 1993-1-1:2005 3.2.6."""
E_AISI = aisi_s100.E
"""MPa (29 500 ksi), AISI S100-16 A3.3."""
NU = 0.3
LEAST_SHEET = 0.45
"""mm without zinc, EN 1993-1-3:2006 3.2.4(1), from memory."""
ROUNDS_LIP = 12
ROUNDS_AISI = 6
ROUNDS_MOST = 80
TINY = 1e-200


@dataclass(frozen=True, slots=True)
class Panel:
    """One flat as the effective-width rules see it; arrays over the batch.

    The strip runs from its start to its end; `z_1`, `z_2` are the heights of the tangent points on the
    mid-line, `length` the flat, `ext_1`, `ext_2` what the notional width adds at each end.
    """

    name: str
    role: str
    count: int
    host: str
    free_start: bool
    level: bool
    z_1: Floats
    z_2: Floats
    length: Floats
    t: Floats
    ext_1: Floats
    ext_2: Floats
    turned_1: bool
    turned_2: bool
    bead: Bead | None
    side: Floats
    """Width of each flat beside the bead; only with a bead."""
    share: Floats
    """Rise over length: 0 on a level flat, +-1 on an upright one."""
    next_1: str = ""
    next_2: str = ""


@dataclass(frozen=True, slots=True)
class Removed:
    """A strip that does not work: its area, the height of its middle, its own second moment."""

    panel: str
    area: Floats
    z: Floats
    own: Floats


@dataclass(frozen=True, slots=True)
class Working:
    """What a panel's effective width came from, for the printed steps: formula inputs by name."""

    panel: str
    kind: str
    values: Mapping[str, Any]


@dataclass(frozen=True)
class EffectiveSection:
    """The effective section of every candidate; arrays `(batch,)`.

    Heights are in the outline's coordinates (z = 0 is the lowest face).  `W_eff` is the modulus of the
    face that yields first.  `lost` is the area of the strips taken out.  `limits` lists what lies
    outside the rules: reason -> where in the batch.
    """

    method: Literal["EN 1993-1-3", "AISI S100"]
    compression: Face
    f_y: Any
    E: float
    area: Floats
    z_centroid: Floats
    I_y: Floats
    W_top: Floats
    W_bottom: Floats
    lost: Floats
    limits: Mapping[str, Bools]
    workings: tuple[Working, ...] = field(repr=False, default=())
    refined: tuple[npt.NDArray[np.intp], EffectiveSection] | None = field(repr=False, default=None)
    """Candidates that took further rounds, and the section of those alone."""

    @property
    def W_eff(self) -> Floats:
        """Effective section modulus [mm^3] of the face that yields first."""
        return np.minimum(self.W_top, self.W_bottom)

    @property
    def moment(self) -> Floats:
        """Nominal (characteristic) moment capacity [N mm] at first yield of the effective section."""
        if self.method == "AISI S100":
            return np.asarray(aisi.nominal_moment(S_e=self.W_eff, F_y=self.f_y))
        return np.asarray(en.moment_resistance(W_eff=self.W_eff, f_yb=self.f_y))

    @property
    def fully_effective(self) -> Bools:
        """Where nothing was taken out."""
        return np.asarray(self.lost <= 1e-9 * self.area)

    def outside(self, column: int = 0) -> list[str]:
        """Reasons why one candidate is outside the published range; empty when inside."""
        return [text for text, where in self.limits.items() if bool(np.broadcast_to(where, self.area.shape)[column])]

    def steps(self, column: int = 0) -> tuple[Evaluation, ...]:
        """The workings of one candidate: the published formulas with its numbers, ready to print."""
        if self.refined is not None and column in self.refined[0]:
            return self.refined[1].steps(int(np.searchsorted(self.refined[0], column)))
        out: list[Evaluation] = []
        for working in self.workings:
            values = {k: _at(v, column) for k, v in working.values.items()}
            if values.get("w") == 0:
                continue  # its bends use the flat up: there is nothing to buckle
            out.extend(_STEPS[working.kind](values))
        if self.compression != "all":
            if self.method == "AISI S100":
                last = aisi.NOMINAL_MOMENT.evaluate(S_e=float(self.W_eff[column]), F_y=_at(self.f_y, column))
            else:
                last = en.MOMENT_RESISTANCE.evaluate(W_eff=float(self.W_eff[column]), f_yb=_at(self.f_y, column))
            out.append(last)
        return tuple(out)


def _at(value: Any, column: int) -> float:
    array = np.atleast_1d(np.asarray(value, dtype=float))
    return float(array[column if array.shape[-1] > 1 else 0])


# --- panels ---------------------------------------------------------------------------------------------


def panels(family: Family, properties: Properties, *, sharp: bool = False) -> tuple[Panel, ...]:
    """The flats of a family as the effective-width rules see them; flats beside a bead are one panel."""
    outline = properties.outline
    parts = family.trace(sharp=True).development().parts if sharp else family.flats_and_bends().parts
    touching: dict[int, list[int]] = {}
    for i, piece in enumerate(outline.segments):
        touching.setdefault(piece.start, []).append(i)
        touching.setdefault(piece.end, []).append(i)
    beads = {p.segment for p in parts if isinstance(p, Bead)}
    flat_of = {p.segment: p for p in parts if isinstance(p, Flat)}

    def beyond(segment: int, node: int) -> tuple[Floats, bool, str]:
        """(notional extension, whether a bend follows, name of the flat after it) at one end of a flat."""
        others = [j for j in touching[node] if j != segment]
        if len(others) != 1:
            return np.zeros(1), False, ""
        other = others[0]
        piece = outline.segments[other]
        if piece.kind != "bend" or other in beads:
            name = flat_of[other].name if other in flat_of else ""
            return np.zeros(1), piece.kind == "flat", name
        far = piece.end if piece.start == node else piece.start
        after = next((flat_of[j].name for j in touching[far] if j != other and j in flat_of), "")
        return np.asarray(outline.radius[other] * np.sin(np.abs(outline.sweep[other]) / 2)), True, after

    found = []
    skip = False
    for k, part in enumerate(parts):
        if not isinstance(part, Flat) or part.role == "none":
            continue
        if skip:
            skip = False
            continue
        first = last = part
        bead: Bead | None = None
        follower = parts[k + 1] if k + 1 < len(parts) else None
        if isinstance(follower, Bead):
            bead, skip = follower, True
            nxt = parts[k + 2]
            assert isinstance(nxt, Flat)
            last = nxt
        if part.count == 0:
            continue
        s1, s2 = outline.segments[first.segment], outline.segments[last.segment]
        z_1, z_2 = outline.z[s1.start], outline.z[s2.end]
        dz = z_2 - z_1
        dy = outline.y[s2.end] - outline.y[s1.start]
        length = np.sqrt(dy * dy + dz * dz)
        ext_1, turned_1, next_1 = beyond(first.segment, s1.start)
        ext_2, turned_2, next_2 = beyond(last.segment, s2.end)
        # a bead across a crown halves into a mirrored pair of flats, but it is one panel
        count = 1 if bead is not None and last.count == 0 else part.count
        found.append(
            Panel(
                name=part.name if bead is None else f"{part.name} (with bead)",
                role=part.role,
                count=count,
                host=part.host,
                free_start=part.free_end == "start",
                level=bool(abs(dz[0]) < abs(dy[0])),
                z_1=z_1,
                z_2=z_2,
                length=length,
                t=np.asarray(part.t),
                ext_1=ext_1,
                ext_2=ext_2,
                turned_1=turned_1,
                turned_2=turned_2,
                bead=bead,
                side=np.asarray(part.length),
                share=_rise(dy, dz, length),
                next_1=next_1,
                next_2=next_2,
            )
        )
    return tuple(found)


class _Section:
    """The gross section and the strips taken out of it so far."""

    def __init__(self, properties: Properties) -> None:
        p = properties
        self.area = p.area
        self.s = p.area * p.z_centroid
        self.i = p.I_y + p.area * p.z_centroid**2
        self.top, self.bottom = p.z_top, p.z_bottom
        self.strips: list[Removed] = []

    def take(self, panel: Panel, area: Floats, z: Floats, along: Floats, share: Floats) -> None:
        """Take a strip out: its area, the height of its middle, its length, its upright share dz/length."""
        if share.size == 1 and share[0] in {-1.0, 0.0, 1.0}:  # level or upright: one of the two terms is nothing
            own = area / 12 * (along**2 if share[0] else panel.t**2)
        else:
            own = area / 12 * (along**2 * share**2 + panel.t**2 * (1 - share**2))
        self.strips.append(Removed(panel.name, panel.count * area, z, panel.count * own))

    def totals(self, upto: int | None = None) -> tuple[Floats, Floats, Floats]:
        """(area, centroid height, I_y) of what is left."""
        strips = self.strips[:upto]
        area, s, i = self.area, self.s, self.i
        for strip in strips:
            moment = strip.area * strip.z
            area, s, i = area - strip.area, s - moment, i - moment * strip.z - strip.own
        z = s / area
        return area, z, i - s * z

    def result(
        self,
        method: Literal["EN 1993-1-3", "AISI S100"],
        face: Face,
        f_y: Any,
        modulus: float,
        limits: Mapping[str, Bools],
        workings: list[Working],
    ) -> EffectiveSection:
        area, z, i = self.totals()
        area, z, i = (
            np.broadcast_to(v, np.broadcast_shapes(np.shape(area), np.shape(self.area))) for v in (area, z, i)
        )
        return EffectiveSection(
            method=method,
            compression=face,
            f_y=f_y,
            E=modulus,
            area=area,
            z_centroid=z,
            I_y=i,
            W_top=i / (self.top - z),
            W_bottom=i / (z - self.bottom),
            lost=self.area - area,
            limits=limits,
            workings=tuple(workings),
        )


def _rise(dy: Floats, dz: Floats, length: Floats) -> Floats:
    """Rise over length; one number for all candidates where the flat is level or upright in all of them."""
    if np.all(np.abs(dz) <= 1e-12 * length):
        return np.zeros(1)
    if np.all(np.abs(dy) <= 1e-12 * length):
        return np.sign(dz[:1])
    return np.asarray(dz / np.where(length > 0, length, 1.0))


def _positive(value: Any, name: str) -> Any:
    array = np.asarray(value, dtype=float)
    if not np.all(np.isfinite(array)) or np.any(array <= 0):
        raise InputError(f"{name} must be a number above 0", field=name)
    return value


def _face(compression: str) -> Face:
    if compression in ("top", "bottom", "all"):
        return compression  # type: ignore[return-value]
    raise InputError(
        f"'{compression}' is not a face; use top, bottom or all (uniform compression)", field="compression"
    )


def _choose(condition: Bools, yes: Callable[[], Floats], no: Callable[[], Floats]) -> Floats:
    """The one or the other for each candidate; a branch that no candidate takes is not worked out."""
    if condition.all():
        return np.asarray(yes())
    if not condition.any():
        return np.asarray(no())
    return np.asarray(np.where(condition, yes(), no()))


# --- EN 1993-1-3 -----------------------------------------------------------------------------------------


def k_internal(psi: Floats) -> Floats:
    """Buckling factor of an internal element, 1 >= psi >= -3, by EN 1993-1-5 Table 4.1."""
    return _choose(
        psi >= 0,
        lambda: en.k_internal_compression(psi=np.maximum(psi, 0.0)),
        lambda: _choose(
            psi >= -1,
            lambda: en.k_internal_bending(psi=np.minimum(psi, 0.0)),
            lambda: en.k_internal_tension(psi=np.minimum(psi, 0.0)),
        ),
    )


def k_held(psi: Floats) -> Floats:
    """Buckling factor of an outstand most compressed at its support, by EN 1993-1-5 Table 4.2; psi below -1 as -1."""
    return _choose(
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
    face = _face(compression)
    _positive(f_yb, "f_yb")
    p = properties or family.properties(sharp=sharp)
    eps = np.atleast_1d(np.asarray(en.epsilon(f_y=f_yb), dtype=float))
    section = _Section(p)
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
        else (50.0, "an outstand")
        if panel.role == "outstand"
        else (500.0, "a flat held at both edges")
    )
    over = above(panel.length / panel.t, most)
    if np.any(over):
        limits[
            f"{panel.name}: width over thickness is above {most:g}, the limit of EN 1993-1-3 Table 5.1 for {what}"
        ] = over


def _plain_en(section: _Section, panel: Panel, stress: Any, axis: Floats, eps: Floats, workings: list[Working]) -> None:
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
        k = _choose(at_free, lambda: en.k_outstand_free(psi=psi), lambda: k_held(psi))
        lamda = en.slenderness(b=b, t=panel.t, epsilon=eps, k_sigma=k)
        rho = rho_outstand(lamda)
        lost = np.where(compressed, (1 - rho) * b_c, 0.0)
        # distance of the lost strip's middle from the more compressed end
        middle = _choose(at_free, lambda: lost / 2, lambda: rho * b_c + lost / 2)
        if uniform:
            from_start = np.array([panel.free_start])
        kind = "en.outstand"
    else:
        k = k_internal(psi)
        lamda = en.slenderness(b=b, t=panel.t, epsilon=eps, k_sigma=k)
        rho = rho_internal(lamda, psi)
        lost = np.where(compressed, (1 - rho) * b_c, 0.0)
        first = 2 / (5 - np.maximum(psi, 0.0)) * rho * b_c  # 0.4 where part is in tension
        middle = first + lost / 2
        at_free = np.array([False])
        kind = "en.internal"
    where = _choose(from_start, lambda: middle, lambda: b - middle)
    z = start + where * share
    section.take(panel, panel.t * lost, z, lost, share)
    workings.append(
        Working(
            panel.name,
            kind,
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
    section: _Section,
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
            "en.lipped",
            {
                "b_p": b_p, "c_p": c_p, "t": t, "epsilon": eps, "k_lip": k_c, "E": modulus, "f_yb": f_yb, "h_w": h_w,
                "b_1": b_1, "b_2": b_2, "k_f": k_f, "K": spring, "b_e2": edge, "c_eff": lip_width, "chi_d": chi,
                "b_e2_first": first["b_e2"], "c_eff_first": first["c_eff"], "compressed": compressed, "nu": NU,
            },
        )
    )  # fmt: skip


def _beaded_en(
    section: _Section,
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
            "en.beaded",
            {
                "E": modulus, "I_s": second, "t": t, "A_s": area, "b_p": b_p, "b_s": bead.length, "f_yb": f_yb,
                "epsilon": eps, "lamda_d": lamda_d, "chi_d": chi, "compressed": compressed,
            },
        )
    )  # fmt: skip


# --- AISI S100 -------------------------------------------------------------------------------------------


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
    face = _face(compression)
    _positive(F_y, "F_y")
    p = properties or family.properties()
    section = _Section(p)
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
    if not left.size:
        return made
    alone = family if family.batch == 1 else family.take(left)
    stress_of = np.asarray(F_y, dtype=float)
    again = effective_aisi(
        alone,
        F_y=stress_of[left] if stress_of.size > 1 else F_y,
        compression=face,
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
    section: _Section, panel: Panel, stress: Any, sign: float, modulus: float, face: Face, workings: list[Working]
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
            "aisi.plain",
            {"k": k, "E": modulus, "mu": NU, "t": t, "w": w, "f": f, "rho": rho, "compressed": compressed},
        )
    )


def _web_aisi(
    section: _Section,
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
    b_2 = _choose(psi > 0.236, lambda: b_e / 2, lambda: b_e - b_1)
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
    where = _choose(f_a >= f_b, lambda: middle, lambda: w - middle)
    section.take(panel, t * lost, panel.z_1 + where * share, lost, share)
    workings.append(
        Working(
            panel.name,
            "aisi.web",
            {
                "k": k, "E": modulus, "mu": NU, "t": t, "w": w, "f": f_1, "psi": psi, "b_e": b_e, "b_1": b_1,
                "deep": deep, "tension": tension, "compressed": compressed,
            },
        )
    )  # fmt: skip


def _lipped_flange_aisi(
    section: _Section,
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
            "aisi.lipped",
            {
                "E": modulus, "f": f, "t": t, "w": w, "d": d, "D": overall, "mu": NU, "k": k, "R_I": r_i,
                "needed": needed, "compressed": compressed,
            },
        )
    )  # fmt: skip


# --- printed steps ---------------------------------------------------------------------------------------


def _use(formula: Formula, v: Mapping[str, float], **other: float) -> Evaluation:
    given = {**v, **other}
    return formula.evaluate(**{name: given[name] for name in formula.parameters})


def _steps_en_plain(v: Mapping[str, float], outstand: bool) -> list[Evaluation]:
    if not v["compressed"]:
        return []
    psi = v["psi"]
    if not outstand:
        k = en.K_INTERNAL_COMPRESSION if psi >= 0 else en.K_INTERNAL_BENDING if psi >= -1 else en.K_INTERNAL_TENSION
    elif v["at_free"]:
        k = en.K_OUTSTAND_FREE
    else:
        k = en.K_OUTSTAND_HELD if psi >= 0 else en.K_OUTSTAND_HELD_BENDING
    out = [_use(k, v, psi=psi if not outstand or v["at_free"] else max(psi, -1.0)), _use(en.SLENDERNESS, v)]
    if v["rho"] < 1:
        out.append(_use(en.RHO_OUTSTAND if outstand else en.RHO_INTERNAL, v))
    return out


def _steps_en_lipped(v: Mapping[str, float]) -> list[Evaluation]:
    if not v["compressed"]:
        return []
    area = v["t"] * (v["b_e2"] + v["c_eff"])
    second = _use(en.STIFFENER_SECOND_MOMENT, v)
    critical = _use(en.STIFFENER_CRITICAL_STRESS, v, I_s=second.value, A_s=area)
    lamda_d = _use(en.STIFFENER_SLENDERNESS, v, sigma_cr_s=critical.value)
    out = [
        _use(en.SLENDERNESS, v, b=v["b_p"], k_sigma=4.0),
        _use(en.SLENDERNESS, v, b=v["c_p"], k_sigma=v["k_lip"]),
        _use(en.SPRING_STIFFNESS, v),
        second,
        critical,
        lamda_d,
    ]
    return out + _steps_chi(float(lamda_d.value))


def _steps_chi(lamda_d: float) -> list[Evaluation]:
    if lamda_d <= 0.65:
        return []
    return [(en.CHI_D_MEDIUM if lamda_d < 1.38 else en.CHI_D_SLENDER).evaluate(lamda_d=lamda_d)]


def _steps_en_beaded(v: Mapping[str, float]) -> list[Evaluation]:
    if not v["compressed"]:
        return []
    critical = _use(en.BEAD_CRITICAL_STRESS, v)
    lamda_d = _use(en.STIFFENER_SLENDERNESS, v, sigma_cr_s=critical.value)
    return [_use(en.SLENDERNESS, v, b=v["b_p"], k_sigma=4.0), critical, lamda_d, *_steps_chi(float(lamda_d.value))]


def _steps_aisi_flat(v: Mapping[str, float]) -> list[Evaluation]:
    critical = _use(aisi.LOCAL_BUCKLING_STRESS, v)
    lamda = _use(aisi.SLENDERNESS, v, F_crl=critical.value)
    out = [critical, lamda]
    if lamda.value > 0.673:
        out.append(aisi.LOCAL_REDUCTION.evaluate(lamda=lamda.value))
    return out


def _steps_aisi_plain(v: Mapping[str, float]) -> list[Evaluation]:
    return _steps_aisi_flat(v) if v["compressed"] else []


def _steps_aisi_web(v: Mapping[str, float]) -> list[Evaluation]:
    if not v["compressed"]:
        return []
    out = [_use(aisi.K_WEB if v["tension"] else aisi.K_GRADIENT, v), *_steps_aisi_flat(v)]
    out.append(_use(aisi.WEB_WIDTH_COMPRESSED_END if v["tension"] else aisi.WEB_WIDTH_GRADIENT, v))
    if v["tension"] and v["deep"]:
        out.append(_use(aisi.WEB_WIDTH_AXIS_DEEP, v))
    return out


def _steps_aisi_lipped(v: Mapping[str, float]) -> list[Evaluation]:
    if not v["compressed"]:
        return []
    limit = _use(aisi.STIFFENER_LIMIT, v)
    out = [limit]
    if v["needed"]:
        n = _use(aisi.STIFFENER_EXPONENT, v, S=limit.value)
        k = aisi.K_LIPPED_SHORT if v["D"] / v["w"] <= 0.25 else aisi.K_LIPPED_LONG
        out += [_use(aisi.ADEQUATE_SECOND_MOMENT, v, S=limit.value), _use(aisi.LIP_SECOND_MOMENT, v), n]
        out += [_use(k, v, n=n.value), *_steps_aisi_flat(v)]
    return out


_STEPS: Mapping[str, Any] = {
    "en.internal": lambda v: _steps_en_plain(v, outstand=False),
    "en.outstand": lambda v: _steps_en_plain(v, outstand=True),
    "en.lipped": _steps_en_lipped,
    "en.beaded": _steps_en_beaded,
    "aisi.plain": _steps_aisi_plain,
    "aisi.web": _steps_aisi_web,
    "aisi.lipped": _steps_aisi_lipped,
}
