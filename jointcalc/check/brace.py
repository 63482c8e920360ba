"""A brace judged as a member: bending, webs, buckling, deflection, its weld lines, and whether it can be folded.

- EN 1993-1-3 gives characteristic resistances: required gamma_M x gamma_F (gamma_M0 = gamma_M1 = 1.0,
  recommended values).
- AISI S100 gives nominal strengths with their own Omega.
- Deflection is judged against the builder's own limit, with the service second moment of EN 1993-1-3 7.1
  where the section buckles locally; `deflection_max` is that of the gross section.

Decided here: worst sections are looked for at supports, loads, extremes and 120 points between; every
local force is taken to press on the webs; interaction sums take the worst place; a face that nothing
holds sideways is judged for lateral-torsional buckling only where the brace bends about its stiffer
axis, with the least favourable of the tabulated moment factors; a round tube, bar, angle or lap has no
web by the rules of webs and is judged by its greatest elastic shear stress.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import cached_property
from math import asin, degrees, hypot, inf, pi, sqrt
from typing import Literal

import numpy as np
import numpy.typing as npt

from jointcalc.check.common import CHARACTERISTIC
from jointcalc.check.seam import AISI_PITCH, BETWEEN_SPOTS, check_seam
from jointcalc.errors import InputError
from jointcalc.formula import beam as beam_formulas
from jointcalc.formula import column, forming, joint_flow, torsional, web_aisi, web_en1993
from jointcalc.formula.core import Evaluation, Source
from jointcalc.model.brace import Brace
from jointcalc.model.fields import PURPOSES, build
from jointcalc.model.seam import SpotSeam
from jointcalc.model.sheet import Sheet
from jointcalc.result import DETAILING, Amount, Check, Looked, Method, Result, Stated, caution, collect, method
from jointcalc.result.cautions import Caution
from jointcalc.section.effective import E_AISI, EffectiveSection, Panel, effective_aisi, effective_en, panels
from jointcalc.section.families import (
    Angle,
    Bar,
    Box,
    Channel,
    Family,
    Hat,
    HatSkin,
    Lap,
    LippedChannel,
    RectTube,
    Tube,
    Zed,
)
from jointcalc.section.forming import BendRow, bend_list, blank, brake_force
from jointcalc.section.outline import Bend, Flat
from jointcalc.section.properties import Properties
from jointcalc.statics.beam import Beam, PointLoad, SpreadLoad, frequency_1, solve
from jointcalc.tables.store import load

GAMMA_M0 = 1.0
GAMMA_M1 = 1.0
"""Recommended values of EN 1993-1-3, 2(3)."""
ALPHA_ASD = 1.6
"""Factor on the loads of an allowable-strength second-order analysis, AISI S100-16 C1 (from memory)."""

PARTIAL_0, PARTIAL_1 = "γ_M0 × γ_F", "γ_M1 × γ_F"
SUM = "sum of utilisations"
LIMIT = "1 (a limit)"

EN_BENDING_SOURCE = Source("EN 1993-1-3:2006", "6.1.4.1 with 5.5 and EN 1993-1-5 4.4", "from memory")
AISI_BENDING_SOURCE = Source("AISI S100-16", "F3.1, initiation of yielding, Appendix 1", "from memory")
EN_COMPRESSION_SOURCE = Source("EN 1993-1-3:2006", "6.2.2, 6.2.3 (EN 1993-1-1 6.3.1)", "from memory")
AISI_COMPRESSION_SOURCE = Source("AISI S100-16", "E2, E3.1", "from memory")
PRACTICE = Source("press-brake practice", "", "common practice")

EN_BENDING = method(
    "en1993-1-3.bending", "Bending, EN", EN_BENDING_SOURCE, per="member", basis=CHARACTERISTIC, factor=PARTIAL_0
)
AISI_BENDING = method(
    "aisi-s100.bending", "Bending, AISI", AISI_BENDING_SOURCE, per="member", basis="nominal", factor="Ω = 1.67"
)
EN_SHEAR = method(
    "en1993-1-3.web-shear",
    "Shear of the webs, EN",
    web_en1993.EN_615,
    per="member",
    basis=CHARACTERISTIC,
    factor=PARTIAL_0,
)
AISI_SHEAR = method(
    "aisi-s100.web-shear", "Shear of the webs, AISI", web_aisi.G21, per="member", basis="nominal", factor="Ω = 1.60"
)
EN_SHEAR_YIELD = method(
    "en1993-1-1.shear-yield",
    "Elastic shear, EN",
    web_en1993.EN_626,
    per="member",
    basis=CHARACTERISTIC,
    factor=PARTIAL_0,
)
EN_CRIPPLING = method(
    "en1993-1-3.web-crippling",
    "Crippling of the webs, EN",
    web_en1993.EN_6173,
    per="member",
    basis=CHARACTERISTIC,
    factor=PARTIAL_1,
)
AISI_CRIPPLING = method(
    "aisi-s100.web-crippling",
    "Crippling of the webs, AISI",
    web_aisi.G5,
    per="member",
    basis="nominal",
    factor="Ω by row",
)
EN_BENDING_SHEAR = method(
    "en1993-1-3.bending-shear", "Bending with shear, EN", web_en1993.EN_6110, per="member", basis=SUM, factor="1"
)
AISI_BENDING_SHEAR = method(
    "aisi-s100.bending-shear", "Bending with shear, AISI", web_aisi.H2, per="member", basis=SUM, factor="1"
)
EN_BENDING_CRIPPLING = method(
    "en1993-1-3.bending-crippling",
    "Bending with crippling, EN",
    web_en1993.EN_6111,
    per="member",
    basis="sum of utilisations, at most 1.25",
    factor="1",
)
AISI_BENDING_CRIPPLING = method(
    "aisi-s100.bending-crippling",
    "Bending with crippling, AISI",
    web_aisi.H3,
    per="member",
    basis="sum of nominal ratios, at most 1.33 / Ω",
    factor="Ω = 1.70",
)
EN_LTB = method(
    "en1993-1-1.lateral-torsional",
    "Lateral buckling, EN",
    column.EN_6322,
    per="member",
    basis=CHARACTERISTIC,
    factor=PARTIAL_1,
)
AISI_LTB = method(
    "aisi-s100.lateral-torsional",
    "Lateral buckling, AISI",
    column.AISI_F21,
    per="member",
    basis="nominal",
    factor="Ω = 1.67",
)
EN_COMPRESSION = method(
    "en1993-1-3.compression", "Buckling as a strut, EN", EN_COMPRESSION_SOURCE, per="member", basis=CHARACTERISTIC,
    factor=PARTIAL_1,
)  # fmt: skip
AISI_COMPRESSION = method(
    "aisi-s100.compression", "Buckling as a strut, AISI", AISI_COMPRESSION_SOURCE, per="member", basis="nominal",
    factor="Ω = 1.80",
)  # fmt: skip
EN_BEAM_COLUMN = method(
    "en1993-1-3.beam-column", "Compression with bending, EN", column.EN_13_625, per="member", basis=SUM, factor="1"
)
AISI_BEAM_COLUMN = method(
    "aisi-s100.beam-column", "Compression with bending, AISI", column.AISI_H12, per="member", basis=SUM, factor="1"
)
EN_TENSION = method(
    "en1993-1-3.tension", "Tension yield, EN", web_en1993.EN_612, per="member", basis=CHARACTERISTIC, factor=PARTIAL_0
)
AISI_TENSION = method(
    "aisi-s100.tension", "Tension yield, AISI", web_aisi.D2, per="member", basis="nominal", factor="Ω = 1.67"
)
AISI_RUPTURE = method(
    "aisi-s100.tension-rupture", "Tension rupture, AISI", web_aisi.D3, per="member", basis="nominal", factor="Ω = 2.00"
)
EN_TENSION_BENDING = method(
    "en1993-1-3.tension-bending", "Tension with bending, EN", web_en1993.EN_616, per="member", basis=SUM, factor="1"
)
DEFLECTION = method(
    "limit.deflection",
    "Deflection",
    Source("the builder's own limit", "", "common practice", "no published limit for vehicle floors was found"),
    per="member",
    basis="limit",
    factor=LIMIT,
)
SPOT_LINE = method(
    "brace.spot-line",
    "Spots along the weld line",
    joint_flow.MECHANICS,
    per="spot",
    basis="governing method of the seam",
    factor="that of the seam's governing method",
)
FOLD_RADIUS = method(
    "forming.radius",
    "Inside bend radius",
    Source("press-brake practice", "1 t, drawing steel 0.5 t; above 390 MPa by elongation", "common practice"),
    per="mm",
    basis=DETAILING,
    bound="least",
    factor=LIMIT,
)
FOLD_DIN = method(
    "forming.radius-din",
    "Inside radius by DIN 6935",
    Source("DIN 6935", "steel up to 390 MPa", "from memory"),
    per="mm",
    basis=DETAILING,
    bound="least",
    factor=LIMIT,
)
FOLD_LEG = method(
    "forming.flange",
    "Shortest leg on the die",
    forming.GEOMETRY,
    per="mm",
    basis=DETAILING,
    bound="least",
    factor=LIMIT,
)
FOLD_LIST = method(
    "forming.bends", "Bend list", PRACTICE, per="mm", basis=DETAILING, bound="information", factor="none: information"
)

WEBLESS = (Tube, Bar, Angle, Lap)
IN_THE_FLOOR = (HatSkin, Lap)
"""Profiles that are part of a sheet: the sheet keeps them from moving sideways and twisting."""

Array = npt.NDArray[np.float64]
Trace = list[Evaluation | Looked | Stated]
SIDES: tuple[Literal["left"], Literal["right"]] = ("left", "right")


def check_brace(brace: Brace) -> Result:
    """Judge a brace; raises InputError when a strength a design may use is missing from its grade."""
    s = _State(brace)
    checks: list[Check] = []
    unjudged: list[str] = []
    if s.steel:
        checks += _bending(s)
        checks += _shear(s)
        unjudged += _uncovered(s, checks)
        crippling = _crippling(s)
        checks += crippling
        if s.webs and crippling and all(c.status == "outside" for c in crippling):
            why = "; ".join(dict.fromkeys(c.note for c in crippling))
            unjudged.append(f"no method applies to the webs under a local force: {why}")
        checks += _bending_shear(s)
        checks += _bending_crippling(s)
        lateral, missing = _lateral(s)
        checks += lateral
        unjudged += missing
        axial, missing = _axial(s)
        checks += axial
        unjudged += missing
    else:
        reason = f"written for carbon steel; this brace is {brace.sheets[0].material.family}"
        checks += [EN_BENDING.outside(reason, unit="N*mm"), AISI_BENDING.outside(reason, unit="N*mm")]
        unjudged.append(f"no method for the strength of a brace of {brace.sheets[0].material.family} is at hand")
    checks += _deflection(s)
    seam, seam_values, seam_cautions = _weld_line(s)
    checks += seam
    unjudged += [f"spots of the weld line: {c.note}" for c in seam if c.method is SPOT_LINE and c.status == "outside"]
    folds, fold_values = _forming(s)
    checks += folds
    return Result(
        kind=brace.kind,
        id=brace.id,
        title=brace.title,
        checks=tuple(checks),
        values={**_values(s), **seam_values, **fold_values},
        cautions=_cautions(s, checks, seam_cautions),
        unjudged=tuple(unjudged),
        model=brace,
        about=_about(s),
    )


def _uncovered(s: _State, checks: list[Check]) -> list[str]:
    """Bending or shear that no method covers: another check holding is no answer for them."""
    found = []
    for what, load_of, hows in (
        ("bending", s.sag or s.hog, (EN_BENDING, AISI_BENDING)),
        ("shear", s.V, (EN_SHEAR, EN_SHEAR_YIELD, AISI_SHEAR)),
    ):
        keys = {how.key for how in hows}
        mine = [c for c in checks if c.method.key in keys]
        # bending is judged face by face
        for face in {c.key.rpartition(".")[2] for c in mine} if what == "bending" else {""}:
            here = [c for c in mine if not face or c.key.endswith(face)]
            if load_of and all(c.status == "outside" for c in here):
                why = "; ".join(dict.fromkeys(c.note for c in here))
                found.append(f"no method applies to {what}{f' ({face})' if face else ''}: {why}")
    return found


@dataclass(frozen=True, slots=True)
class _Bearing:
    """A local force on the webs: where, how much, and whether the brace ends there."""

    at: float
    force: float
    what: str
    support: bool


class _State:
    """What the checks share: section, beam, greatest actions, capacities found so far."""

    def __init__(self, brace: Brace) -> None:
        self.brace = brace
        self.p: Properties = brace.properties
        self.family = brace.core
        about = brace.sheets[0].material
        self.steel = all(sheet.material.family == "steel" for sheet in brace.sheets)
        self.E, self.nu = about.E, about.nu
        self.G = self.E / (2 * (1 + self.nu))
        self.I_y = float(self.p.I_y[0])
        self.EI = self.E * self.I_y
        self.beam: Beam = solve(brace.length, self.EI, brace.supports, brace.loads)
        high, low = self.beam.moment_extremes()
        size = max(abs(float(high.value)), abs(float(low.value)))
        none = 1e-9 * size
        self.sag, self.sag_at = max(0.0, float(high.value)), float(high.at)
        self.hog, self.hog_at = max(0.0, -float(low.value)), float(low.at)
        self.sag, self.hog = (0.0 if v <= none else v for v in (self.sag, self.hog))
        shear = self.beam.shear_max()
        self.V, self.V_at = abs(float(shear.value)), float(shear.at)
        self.gamma = brace.load_factor
        self.moments: dict[tuple[str, str], float] = {}
        """(code, face) -> moment resistance that may be used in interactions."""
        self.buckling: dict[tuple[str, str], float] = {}
        self.shears: dict[str, float] = {}

    @cached_property
    def f_y(self) -> float:
        return self.brace.f_y

    @property
    def t(self) -> float:
        return self.brace.t

    @property
    def radius(self) -> float:
        r = self.family.radius
        return 0.0 if r is None else float(np.atleast_1d(r)[0])

    @cached_property
    def parts(self) -> tuple[Panel, ...]:
        return panels(self.family, self.p)

    @cached_property
    def webs(self) -> tuple[Panel, ...]:
        """Flats held at both ends that stand at 45 degrees or more."""
        if isinstance(self.family, WEBLESS):
            return ()
        return tuple(
            part
            for part in self.parts
            if part.role == "internal" and abs(float(part.share[0])) >= sqrt(0.5) - 1e-9 and part.count
        )

    def effective(self, code: str, face: str) -> EffectiveSection:
        """Effective section with a face in compression ("all": uniform)."""
        if code == "en":
            return effective_en(self.family, f_yb=self.f_y, compression=face, properties=self.p)
        return effective_aisi(self.family, F_y=self.f_y, compression=face, properties=self.p)

    @cached_property
    def places(self) -> Array:
        """Sections looked at: supports, loads, extremes and 120 between."""
        L = self.brace.length
        own = [s.at for s in self.brace.supports]
        own += [one.at for one in self.brace.loads if not isinstance(one, SpreadLoad)]
        own += [x for one in self.brace.loads if isinstance(one, SpreadLoad) for x in (one.start, one.end)]
        own += [self.sag_at, self.hog_at, self.V_at]
        return np.unique(np.clip(np.concatenate([np.linspace(0, L, 121), np.array(own)]), 0, L))

    @cached_property
    def actions(self) -> list[tuple[float, float, float]]:
        """(place, moment, shear without sign) on both sides of every section looked at."""
        found = []
        for side in SIDES:
            m = self.beam.moment(self.places, side)
            v = self.beam.shear(self.places, side)
            found += [(float(x), float(a), abs(float(b))) for x, a, b in zip(self.places, m, v)]
        return found

    @cached_property
    def bearings(self) -> list[_Bearing]:
        """Local forces: support reactions and point loads."""
        found = []
        for reaction in self.beam.reactions:
            force = abs(float(reaction.force))
            found.append(_Bearing(reaction.at, force, f"support at {reaction.at:g} mm", True))
        for one in self.brace.loads:
            if isinstance(one, PointLoad) and not any(abs(one.at - s.at) < 1e-6 for s in self.brace.supports):
                found.append(_Bearing(one.at, abs(float(one.force)), f"load at {one.at:g} mm", False))
        return [b for b in found if b.force > 1e-9 * (self.V or 1.0)]

    def moment_at(self, x: float) -> tuple[float, str]:
        """(greatest moment without sign at a place, face it compresses)."""
        both = [float(self.beam.moment(x, side)) for side in SIDES]
        worst = max(both, key=abs)
        if abs(worst) <= 1e-9 * max(self.sag, self.hog):
            return 0.0, "top"
        return abs(worst), "top" if worst >= 0 else "bottom"

    @property
    def cases(self) -> list[tuple[str, float, str, float]]:
        """(word, moment, compressed face, place) of what occurs; sagging when nothing does."""
        found = [("sagging", self.sag, "top", self.sag_at), ("hogging", self.hog, "bottom", self.hog_at)]
        return [case for case in found if case[1]] or found[:1]

    def held(self, face: str) -> bool:
        """Whether something keeps that face from moving sideways."""
        return self.brace.held in (face, "both") or isinstance(self.family, IN_THE_FLOOR)

    @property
    def strut_length(self) -> float:
        """Buckling length [mm]: the factor times the longest span, doubled for a cantilever."""
        free = len(self.brace.supports) == 1
        return self.brace.effective_length * self.brace.longest * (2.0 if free else 1.0)


def _called(s: _State) -> str:
    if s.family.kind == "points":
        return "a free outline"
    return f"{'an' if s.family.kind == 'angle' else 'a'} {s.family.kind}"


# --- bending -----------------------------------------------------------------------------------------


def _bending(s: _State) -> list[Check]:
    checks = []
    for word, M, face, at in s.cases:
        given = Stated("M", "N*mm", M, f"greatest {word} moment, at {at:.4g} mm")
        for how, code, required in (
            (EN_BENDING, "en", GAMMA_M0 * s.gamma),
            (AISI_BENDING, "aisi", web_aisi.OMEGA_BENDING),
        ):
            e = s.effective(code, face)
            reasons = e.outside()
            if reasons:
                checks.append(how.outside(reasons, demand=M, unit="N*mm", where=word))
                continue
            capacity = float(e.moment[0])
            s.moments[code, face] = capacity
            lost = float(e.lost[0]) / float(e.area[0] + e.lost[0])
            note = f"{face} face in compression"
            note += f"; {lost:.1%} of the section does not work" if lost > 1e-9 else ", fully effective"
            if code == "aisi" and isinstance(s.family, LippedChannel):
                note += "; distortional buckling (F4) is left to EN's reduction of the lipped flange"
            trace: Trace = [*e.steps(), given]
            checks.append(
                how.judge(
                    capacity=capacity, demand=M, required=required, unit="N*mm", trace=trace, where=word, note=note
                )
            )
    return checks


# --- shear -------------------------------------------------------------------------------------------


def _web_height(s: _State, web: Panel) -> float:
    """Height of a web between the mid-lines of the flanges [mm]."""
    turned = int(web.turned_1) + int(web.turned_2)
    return abs(float(web.z_2[0] - web.z_1[0])) + turned * (s.radius + s.t / 2)


def _slant(web: Panel) -> float:
    """Slant height of a web between the mid-points of its bends [mm]."""
    return float(web.length[0] + web.ext_1[0] + web.ext_2[0])


def _angle(web: Panel) -> float:
    return asin(min(1.0, abs(float(web.share[0]))))


def _shear(s: _State) -> list[Check]:
    given = Stated("V", "N", s.V, f"greatest shear force, at {s.V_at:.4g} mm")
    if not s.webs:
        if isinstance(s.family, Bar):
            # a flat bar's mid-line lies level and has no shear flow; the parabola over its depth has this peak
            q, how = 1.5 / float(s.p.area[0]), "greatest shear stress of a rectangle for 1 N, 1.5 / A"
        else:
            q, how = _peak_stress(s.p), "greatest shear stress of the section for 1 N, from its shear flow"
        stress = Stated("τ_1", "MPa/N", q, how)
        yielded = web_en1993.ELASTIC_SHEAR.evaluate(f_y=s.f_y, tau_1=q)
        s.shears["en"] = float(yielded.value)
        return [
            EN_SHEAR_YIELD.judge(
                capacity=float(yielded.value), demand=s.V, required=GAMMA_M0 * s.gamma, trace=[stress, yielded, given]
            ),
            AISI_SHEAR.outside("written for flat webs between flanges; this profile has none", demand=s.V),
        ]
    checks = []
    total = 0.0
    trace: Trace = []
    for web in s.webs:
        s_w, h_w, t = _slant(web), _web_height(s, web), float(web.t[0])
        slender = web_en1993.WEB_SLENDERNESS.evaluate(s_w=s_w, t=t, f_yb=s.f_y, E=s.E)
        lamda_w = float(slender.value)
        strength = web_en1993.shear_strength(lamda_w).evaluate(f_yb=s.f_y, lamda_w=lamda_w)
        one = web_en1993.WEB_SHEAR.evaluate(h_w=h_w, t=t, f_bv=float(strength.value), phi=_angle(web))
        total += web.count * float(one.value) * float(np.sin(_angle(web)))
        trace += [slender, strength, one, Stated("n", "1", float(web.count), f"webs like the {web.name}")]
    s.shears["en"] = total
    checks.append(
        EN_SHEAR.judge(capacity=total, demand=s.V, required=GAMMA_M0 * s.gamma, trace=[*trace, given], note=_count(s))
    )
    total, trace = 0.0, []
    reasons: list[str] = []
    for web in s.webs:
        inputs = {"h": float(web.length[0]), "t": float(web.t[0]), "E": E_AISI, "k_v": web_aisi.K_V, "F_y": s.f_y}
        branch = web_aisi.shear_stress(**inputs)
        reasons += branch.outside(**inputs)
        stress_v = branch.evaluate(**inputs)
        one = web_aisi.WEB_SHEAR.evaluate(h=inputs["h"], t=inputs["t"], F_v=float(stress_v.value))
        total += web.count * float(one.value) * float(np.sin(_angle(web)))
        trace += [stress_v, one, Stated("n", "1", float(web.count), f"webs like the {web.name}")]
    if reasons or total <= 0:
        checks.append(AISI_SHEAR.outside(reasons or "the webs have no flat", demand=s.V))
        return checks
    s.shears["aisi"] = total
    checks.append(
        AISI_SHEAR.judge(
            capacity=total, demand=s.V, required=web_aisi.OMEGA_SHEAR, trace=[*trace, given], note=_count(s)
        )
    )
    return checks


def _count(s: _State) -> str:
    n = sum(web.count for web in s.webs)
    return f"{n} webs together" if n > 1 else "one web"


def _peak_stress(p: Properties) -> float:
    """Greatest shear stress [MPa] of the section for a vertical shear force of 1 N.

    The flow of a flat is a quadratic of the distance along it, fixed by both ends and the total.
    """
    o = p.outline
    flow = p.shear_flow(V_z=1.0)
    worst = 0.0
    for i, piece in enumerate(o.segments):
        if piece.kind == "weld":
            continue
        q_1, q_2 = float(flow.start[i, 0]), float(flow.end[i, 0])
        ends = o.polyline(i)
        length = abs(float(o.sweep[i].flat[0] * o.radius[i].flat[0])) or float(np.hypot(*(ends[-1] - ends[0])))
        bulge = 6 * (float(flow.force[i, 0]) / length - (q_1 + q_2) / 2) if length > 0 else 0.0
        x = np.linspace(0.0, 1.0, 201)
        q = q_1 + (q_2 - q_1) * x + bulge * x * (1 - x)
        worst = max(worst, float(np.abs(q).max()) / float(np.broadcast_to(o.t[i], (1,))[0]))
    return worst


# --- crippling ---------------------------------------------------------------------------------------


def _gap_to_end(s: _State, b: _Bearing) -> float:
    """Clear distance from a bearing's edge to the nearer end of the brace [mm]."""
    return max(0.0, min(b.at, s.brace.length - b.at) - s.brace.bearing / 2)


def _opposed(s: _State, b: _Bearing, height: float) -> bool:
    """Whether an opposing local force stands within 1.5 web heights, clear of both bearings."""
    return any(
        other.support != b.support and abs(other.at - b.at) - s.brace.bearing < 1.5 * height for other in s.bearings
    )


Crippled = tuple[_Bearing, float, float, Trace, str]
"""(local force, resistance of all webs, required factor, working, note)."""


def _en_crippling(s: _State, b: _Bearing) -> Crippled | list[str]:
    required = GAMMA_M1 * s.gamma
    height = max(_web_height(s, web) for web in s.webs)
    at_end = _gap_to_end(s, b) <= 1.5 * height
    opposed = _opposed(s, b, height)
    total, note = 0.0, b.what
    trace: Trace = [Stated("F", "N", b.force, b.what)]
    n = sum(web.count for web in s.webs)
    for web in s.webs:
        t, h_w, phi = float(web.t[0]), _web_height(s, web), degrees(_angle(web))
        if n >= 2:
            category = 1 if at_end or opposed else 2
            l_a = 10.0
            if category == 2:
                v = [abs(float(s.beam.shear(b.at, side))) for side in SIDES]
                ratio = web_en1993.SHEAR_RATIO.evaluate(V_1=max(v), V_2=min(v))
                l_a = web_en1993.bearing_category_2(s.brace.bearing, float(ratio.value))
                trace.append(ratio)
            inputs = {"alpha": web_en1993.ALPHA_HAT[category], "t": t, "f_yb": s.f_y, "E": s.E, "r": s.radius,
                      "l_a": l_a, "phi_deg": phi}  # fmt: skip
            reasons = web_en1993.CRIPPLING_TWO_WEBS.outside(**inputs, h_w=h_w)
            if reasons:
                return reasons
            trace.append(Stated("l_a", "mm", l_a, f"effective bearing length, category {category}"))
            one = web_en1993.CRIPPLING_TWO_WEBS.evaluate(**inputs)
            note = f"{b.what}, category {category}"
        else:
            if opposed:
                return ["a load within 1.5 web heights of a support presses the single web from both sides; "
                        "that case is not in jointcalc"]  # fmt: skip
            k = web_en1993.STRENGTH_COEFFICIENT.evaluate(f_yb=s.f_y)
            k_3 = web_en1993.ANGLE_COEFFICIENT.evaluate(phi_deg=phi)
            lipped = isinstance(s.family, LippedChannel)
            branch = web_en1993.crippling_single_web(end=at_end, lipped=lipped, s_s=s.brace.bearing, t=t)
            if at_end:
                more = {"k_1": web_en1993.STRENGTH_COEFFICIENT_END.evaluate(k=float(k.value)),
                        "k_2": web_en1993.RADIUS_COEFFICIENT_END.evaluate(r=s.radius, t=t)}  # fmt: skip
            else:
                more = {"k_4": web_en1993.STRENGTH_COEFFICIENT_INTERIOR.evaluate(k=float(k.value)),
                        "k_5": web_en1993.RADIUS_COEFFICIENT_INTERIOR.evaluate(r=s.radius, t=t)}  # fmt: skip
            values = {"k_3": float(k_3.value), "h_w": h_w, "t": t, "s_s": s.brace.bearing, "f_yb": s.f_y}
            values |= {name: float(e.value) for name, e in more.items()}
            reasons = branch.outside(**values, r=s.radius, phi_deg=phi)
            if reasons:
                return reasons
            one = branch.evaluate(**values)
            trace += [k, *more.values(), k_3]
        trace.append(one)
        total += web.count * float(one.value)
    return b, total, required, trace, note


def _aisi_crippling(s: _State, b: _Bearing) -> Crippled | list[str]:
    if not isinstance(s.family, Hat):
        return ["jointcalc has the coefficients of hat sections only"]
    table = load("crippling_aisi")
    height = max(float(web.length[0]) for web in s.webs)
    two = _opposed(s, b, height)
    place = "end" if _gap_to_end(s, b) < 1.5 * height else "interior"
    row = table.find(loading=f"{'two' if two else 'one'}-flange {place}")
    if row["support"] == "fastened" and not s.brace.fastened:
        return ["two opposing forces on a hat that is not fastened to its support are not tabulated"]
    source = Source("AISI S100-16", "G5, single hat sections", "from memory")
    looked = Looked("C", "1", row.need("C"), "crippling_aisi", row["loading"], source)
    total = 0.0
    trace: Trace = [Stated("F", "N", b.force, b.what), looked]
    for web in s.webs:
        t = float(web.t[0])
        most = row.need("R_over_t_max")
        inputs = {"C": row.need("C"), "t": t, "F_y": s.f_y, "theta": _angle(web), "C_R": row.need("C_R"),
                  "R": s.radius, "C_N": row.need("C_N"), "N": s.brace.bearing, "C_h": row.need("C_h"),
                  "h": float(web.length[0])}  # fmt: skip
        reasons = web_aisi.CRIPPLING.outside(**inputs)
        if s.radius / t > most:
            reasons.append(f"R / t = {s.radius / t:.3g}, must be at most {most:g} for {row['loading']} loading")
        if reasons:
            return reasons
        one = web_aisi.CRIPPLING.evaluate(**inputs)
        trace.append(one)
        total += web.count * float(one.value)
    return b, total, row.need("omega"), trace, f"{b.what}, {row['loading']} loading"


def _crippled(s: _State, rule: Callable[[_State, _Bearing], Crippled | list[str]]) -> tuple[list[Crippled], list[str]]:
    """(answers, reasons where there is none) of a rule at every local force."""
    found, reasons = [], []
    for b in s.bearings:
        answer = rule(s, b)
        if isinstance(answer, list):
            reasons += answer
        else:
            found.append(answer)
    return found, list(dict.fromkeys(reasons))


def _crippling(s: _State) -> list[Check]:
    if isinstance(s.family, Tube | Bar) or not s.bearings:
        return []
    worst = max(b.force for b in s.bearings)
    if not s.webs:
        reason = (
            f"no published rule for a local force on {'an' if isinstance(s.family, Angle) else 'a'} {s.family.kind}"
        )
        return [how.outside(reason, demand=worst) for how in (EN_CRIPPLING, AISI_CRIPPLING)]
    checks = []
    for how, rule in ((EN_CRIPPLING, _en_crippling), (AISI_CRIPPLING, _aisi_crippling)):
        found, reasons = _crippled(s, rule)
        if reasons or not found:
            checks.append(how.outside(reasons or "no local force", demand=worst))
            continue
        b, capacity, required, trace, note = max(found, key=lambda one: one[2] * one[0].force / one[1])
        checks.append(how.judge(capacity=capacity, demand=b.force, required=required, trace=trace, note=note))
    return checks


# --- together ----------------------------------------------------------------------------------------


def _bending_shear(s: _State) -> list[Check]:
    if not s.webs or not s.V:
        return []
    checks = []
    gamma, V_w = s.gamma, s.shears.get("en")
    if V_w is None or not any(code == "en" for code, _ in s.moments):
        checks.append(EN_BENDING_SHEAR.outside("bending or shear alone is outside its range", unit="1"))
    elif GAMMA_M0 * gamma * s.V / V_w <= 0.5:
        checks.append(
            EN_BENDING_SHEAR.info(
                capacity=0.5 * V_w / (GAMMA_M0 * gamma),
                demand=s.V,
                note="shear up to half the resistance leaves bending unreduced",
            )
        )
    else:
        worst: Evaluation | None = None
        where = 0.0
        for x, M, V in s.actions:
            M_c = s.moments.get(("en", "top" if M >= 0 else "bottom"))
            if M_c is None or GAMMA_M0 * gamma * V / V_w <= 0.5:
                continue
            eta = web_en1993.BENDING_AND_SHEAR.evaluate(
                M=gamma * abs(M), M_c=M_c / GAMMA_M0, V=gamma * V, V_w=V_w / GAMMA_M0
            )
            if worst is None or float(eta.value) > float(worst.value):
                worst, where = eta, x
        if worst is not None:
            checks.append(
                EN_BENDING_SHEAR.judge(
                    capacity=1.0, demand=float(worst.value), required=1.0, unit="1", trace=[worst],
                    note=f"at {where:.4g} mm, with design values",
                )
            )  # fmt: skip
    V_n = s.shears.get("aisi")
    if V_n is None or not any(code == "aisi" for code, _ in s.moments):
        checks.append(AISI_BENDING_SHEAR.outside("bending or shear alone is outside its range", unit="1"))
        return checks
    best: tuple[float, float, float, float, float] | None = None
    for x, M, V in s.actions:
        M_n = s.moments.get(("aisi", "top" if M >= 0 else "bottom"))
        if M_n is None:
            continue
        eta_a = hypot(abs(M) * web_aisi.OMEGA_BENDING / M_n, V * web_aisi.OMEGA_SHEAR / V_n)
        if best is None or eta_a > best[0]:
            best = (eta_a, x, abs(M), V, M_n)
    if best is not None:
        eta = web_aisi.BENDING_AND_SHEAR.evaluate(
            M=best[2], M_a=best[4] / web_aisi.OMEGA_BENDING, V=best[3], V_a=V_n / web_aisi.OMEGA_SHEAR
        )
        checks.append(
            AISI_BENDING_SHEAR.judge(
                capacity=1.0, demand=float(eta.value), required=1.0, unit="1", trace=[eta], note=f"at {best[1]:.4g} mm"
            )
        )
    return checks


def _bending_crippling(s: _State) -> list[Check]:
    if not s.webs or not s.bearings:
        return []
    checks = []
    for how, code, rule in (
        (EN_BENDING_CRIPPLING, "en", _en_crippling),
        (AISI_BENDING_CRIPPLING, "aisi", _aisi_crippling),
    ):
        found, reasons = _crippled(s, rule)
        worst: tuple[Evaluation, _Bearing] | None = None
        for b, capacity, *_ in found:
            M, face = s.moment_at(b.at)
            M_c = s.moments.get((code, face))
            if not M:
                continue  # no bending there: the local force is judged by itself
            if M_c is None:
                reasons.append("bending alone is outside its range")
                continue
            if code == "en":
                eta = web_en1993.BENDING_AND_CRIPPLING.evaluate(
                    M=s.gamma * M, M_c=M_c / GAMMA_M0, F=s.gamma * b.force, R_w=capacity / GAMMA_M1
                )
            else:
                eta = web_aisi.BENDING_AND_CRIPPLING.evaluate(P=b.force, P_n=capacity, M=M, M_n=M_c)
            if worst is None or float(eta.value) > float(worst[0].value):
                worst = eta, b
        if reasons:
            checks.append(how.outside("crippling or bending alone is outside its range", unit="1"))
            continue
        if worst is None:
            continue
        eta, b = worst
        most, required = (1.25, 1.0) if code == "en" else (1.33, web_aisi.OMEGA_BENDING_CRIPPLING)
        checks.append(
            how.judge(capacity=most, demand=float(eta.value), required=required, unit="1", trace=[eta], note=b.what)
        )
    return checks


# --- lateral-torsional buckling ----------------------------------------------------------------------


def _symmetry(s: _State) -> str:
    """Axis of symmetry: z (upright), y (level), both or none."""
    if isinstance(s.family, Box | Tube | Bar):
        return "both"
    if isinstance(s.family, Hat):
        return "z"
    if isinstance(s.family, Channel) or (isinstance(s.family, LippedChannel) and s.family.bottom is None):
        return "y"
    return "none"


def _lateral(s: _State) -> tuple[list[Check], list[str]]:
    I_y, I_z = s.I_y, float(s.p.I_z[0])
    checks: list[Check] = []
    for word, M, face, _ in s.cases:
        if s.held(face) or isinstance(s.family, Tube):
            continue
        symmetry = _symmetry(s)
        if symmetry == "none":
            reason = (
                f"{_called(s)} that nothing holds sideways bends askew and twists; no rule for it is at hand: "
                "hold the compressed face ('held') or take a symmetric profile"
            )
            checks += [how.outside(reason, demand=M, unit="N*mm", where=word) for how in (EN_LTB, AISI_LTB)]
            return checks, [reason]
        if I_z >= I_y * (1 - 1e-9):  # a square box is square in either system of units
            continue
        checks += [_en_lateral(s, word, M, face, symmetry), _aisi_lateral(s, word, M, face, symmetry)]
    return checks, []


def _monosymmetry(s: _State, face: str) -> float:
    """z_j [mm]: positive when the wider flange is in compression."""
    beta = float(s.p.beta_y[0])
    return -beta / 2 if face == "top" else beta / 2


def _en_lateral(s: _State, word: str, M: float, face: str, symmetry: str) -> Check:
    e = s.effective("en", face)
    if e.outside():
        return EN_LTB.outside(e.outside(), demand=M, unit="N*mm", where=word)
    p, L = s.p, s.brace.longest * (2.0 if len(s.brace.supports) == 1 else 1.0)
    z_j = 0.0 if symmetry in ("y", "both") else _monosymmetry(s, face)
    z_g = max(0.0, float(p.z_top[0] - p.z_shear_centre[0]))
    given = [
        Stated("L", "mm", L, "longest span, free to move sideways between its supports"),
        Stated("z_g", "mm", z_g, "load on top, above the shear centre"),
    ]
    C_1, C_2, C_3 = 1.0, 0.553, 0.411 if z_j > 0 else 1.0
    critical = column.CRITICAL_MOMENT.evaluate(
        E=s.E, G=s.G, I_z=float(p.I_z[0]), J=float(p.J[0]), C_w=float(p.C_w[0]), L=L, k_z=1.0, k_w=1.0,
        C_1=C_1, C_2=C_2, C_3=C_3, z_g=z_g, z_j=z_j,
    )  # fmt: skip
    W = float(e.W_eff[0])
    slender = column.RELATIVE_SLENDERNESS_LT.evaluate(W_y=W, f_y=s.f_y, M_cr=float(critical.value))
    reduction = column.REDUCTION_FACTOR_LT.evaluate(lamda=float(slender.value), alpha=column.IMPERFECTION_FACTORS["b"])
    resistance = column.MOMENT_RESISTANCE_LT.evaluate(chi=float(reduction.value), W_y=W, f_y=s.f_y)
    s.buckling["en", face] = float(resistance.value)
    return EN_LTB.judge(
        capacity=float(resistance.value),
        demand=M,
        required=GAMMA_M1 * s.gamma,
        unit="N*mm",
        trace=[*given, critical, slender, reduction, resistance],
        where=word,
        note="least favourable moment factors; the load goes through the shear centre",
    )


def _aisi_lateral(s: _State, word: str, M: float, face: str, symmetry: str) -> Check:
    p, L = s.p, s.brace.longest * (2.0 if len(s.brace.supports) == 1 else 1.0)
    A, r_o = float(p.area[0]), float(p.i_0[0])
    S_f = float(p.W_y_top[0] if face == "top" else p.W_y_bottom[0])
    G = E_AISI / (2 * (1 + s.nu))
    sigma_z = column.ELASTIC_BUCKLING_STRESS.evaluate(E=E_AISI, K=1.0, L=L, r=float(p.i_z[0]))
    sigma_t = column.TORSIONAL_BUCKLING_STRESS.evaluate(
        A=A, r_o=r_o, G=G, J=float(p.J[0]), E=E_AISI, C_w=max(0.0, float(p.C_w[0])), K_t=1.0, L_t=L
    )
    trace: list[Evaluation | Stated] = [sigma_z, sigma_t]
    if isinstance(s.family, Box | HatSkin):
        elastic = column.AISI_LTB_CLOSED.evaluate(
            C_b=1.0, K=1.0, L=L, S_f=S_f, E=E_AISI, G=G, J=float(p.J[0]), I_y=float(p.I_z[0])
        )
        trace = []
    elif symmetry in ("y", "both"):
        elastic = column.AISI_LTB_ABOUT_SYMMETRY_AXIS.evaluate(
            C_b=1.0, r_o=r_o, A=A, S_f=S_f, sigma_ey=float(sigma_z.value), sigma_t=float(sigma_t.value)
        )
    else:
        above = float(p.z_shear_centre[0]) >= float(p.z_centroid[0])
        C_s = 1.0 if above == (face == "top") else -1.0
        beta = float(p.beta_y[0])
        elastic = column.AISI_LTB_ACROSS_SYMMETRY_AXIS.evaluate(
            C_s=C_s, A=A, sigma_ex=float(sigma_z.value), j=-beta / 2 if above else beta / 2, r_o=r_o,
            sigma_t=float(sigma_t.value), C_TF=1.0, S_f=S_f,
        )  # fmt: skip
    choice = column.aisi_ltb_branch(F_y=s.f_y, F_cre=float(elastic.value))
    stress = choice.formula.evaluate(F_y=s.f_y, F_cre=float(elastic.value))
    F_n = min(float(stress.value), s.f_y)
    e = effective_aisi(s.family, F_y=F_n, compression=face, properties=p)
    if e.outside():
        return AISI_LTB.outside(e.outside(), demand=M, unit="N*mm", where=word)
    S_c = float((e.W_top if face == "top" else e.W_bottom)[0])
    capacity = S_c * F_n
    s.buckling["aisi", face] = capacity
    trace += [elastic, stress, Stated("S_c", "mm^3", S_c, "effective modulus of the compressed face at F_n")]
    return AISI_LTB.judge(
        capacity=capacity,
        demand=M,
        required=web_aisi.OMEGA_BENDING,
        unit="N*mm",
        trace=trace,
        where=word,
        note=f"{choice.why}; C_b = 1",
    )


# --- axial -------------------------------------------------------------------------------------------


def _moment_limit(s: _State, code: str, face: str) -> float | None:
    """Moment resistance for interactions: with lateral-torsional buckling where that was judged."""
    return s.buckling.get((code, face), s.moments.get((code, face)))


def _axial(s: _State) -> tuple[list[Check], list[str]]:
    if s.brace.compression:
        return _compression(s)
    if s.brace.tension:
        return _tension(s), []
    return [], []


def _tension(s: _State) -> list[Check]:
    T, A = s.brace.tension, float(s.p.area[0])
    en = web_en1993.TENSION_RESISTANCE.evaluate(A=A, f_y=s.f_y)
    yielded = web_aisi.TENSION_YIELD.evaluate(A_g=A, F_y=s.f_y)
    torn = web_aisi.TENSION_RUPTURE.evaluate(A_n=A, F_u=s.brace.f_u)
    checks = [
        EN_TENSION.judge(capacity=float(en.value), demand=T, required=GAMMA_M0 * s.gamma, trace=[en]),
        AISI_TENSION.judge(
            capacity=float(yielded.value), demand=T, required=web_aisi.OMEGA_TENSION_YIELD, trace=[yielded]
        ),
        AISI_RUPTURE.judge(
            capacity=float(torn.value),
            demand=T,
            required=web_aisi.OMEGA_TENSION_RUPTURE,
            trace=[torn],
            note="no holes deducted; judge the end joint by itself",
        ),
    ]
    for word, M, face, _ in s.cases:
        M_c = _moment_limit(s, "en", face)
        if not M:
            continue
        if M_c is None:
            checks.append(EN_TENSION_BENDING.outside("bending alone is outside its range", unit="1", where=word))
            continue
        eta = web_en1993.TENSION_AND_BENDING.evaluate(
            T=s.gamma * T, N_t=float(en.value) / GAMMA_M0, M=s.gamma * M, M_c=M_c / GAMMA_M0
        )
        checks.append(
            EN_TENSION_BENDING.judge(
                capacity=1.0, demand=float(eta.value), required=1.0, unit="1", trace=[eta], where=word
            )
        )
    return checks


def _critical(s: _State, E: float) -> tuple[str, float, list[Evaluation]] | str:
    """(mode, lowest critical force [N], working), or why there is none."""
    p, L = s.p, s.strut_length
    G = E / (2 * (1 + s.nu))
    first = column.EULER_FORCE.evaluate(E=E, I=s.I_y, K=1.0, L=L)
    found: list[tuple[str, Evaluation, list[Evaluation]]] = [("bending in the plane of the loads", first, [first])]
    if not (s.brace.held == "both" or isinstance(s.family, IN_THE_FLOOR)):
        symmetry = _symmetry(s)
        if symmetry == "none" and not isinstance(s.family, Zed):
            return (
                f"{_called(s)} that nothing holds bends and twists about no axis of symmetry; hold both faces "
                "('held') or take a symmetric profile"
            )
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
                flexure = first if symmetry == "y" else sideways
                both = torsional.TORSIONAL_FLEXURAL_FORCE.evaluate(
                    N_f=float(flexure.value), N_t=float(twist.value), d_o=d_o, i_o=i_o
                )
                found.append(("twisting and bending together", both, [flexure, twist, both]))
    mode, force, steps = min(found, key=lambda one: float(one[1].value))
    return mode, float(force.value), steps


def _curve(s: _State) -> column.Curve:
    hollow = isinstance(s.family, Box | RectTube | Tube)
    kind = "cold-formed hollow" if hollow else "solid" if isinstance(s.family, Bar) else "hat or channel"
    return column.buckling_curve(kind=kind, f_y=s.f_y)


def _compression(s: _State) -> tuple[list[Check], list[str]]:
    N = s.brace.compression
    en, aisi = _critical(s, s.E), _critical(s, E_AISI)
    if isinstance(en, str) or isinstance(aisi, str):
        reason = en if isinstance(en, str) else str(aisi)
        return [how.outside(reason, demand=N) for how in (EN_COMPRESSION, AISI_COMPRESSION)], [reason]
    checks: list[Check] = []
    e = s.effective("en", "all")
    shift = 0.0
    N_b = P_n = None
    if e.outside():
        checks.append(EN_COMPRESSION.outside(e.outside(), demand=N))
    else:
        mode, force, steps = en
        A = float(e.area[0])
        shift = abs(float(e.z_centroid[0] - s.p.z_centroid[0]))
        shift = 0.0 if shift < 1e-6 else shift
        curve = _curve(s)
        slender = column.RELATIVE_SLENDERNESS.evaluate(A=A, f_y=s.f_y, N_cr=force)
        chi = column.REDUCTION_FACTOR.evaluate(lamda=float(slender.value), alpha=curve.alpha)
        resistance = column.BUCKLING_RESISTANCE.evaluate(chi=float(chi.value), A=A, f_y=s.f_y)
        N_b = float(resistance.value)
        checks.append(
            EN_COMPRESSION.judge(
                capacity=N_b,
                demand=N,
                required=GAMMA_M1 * s.gamma,
                trace=[*e.steps(), *steps, slender, chi, resistance],
                note=f"{mode}; {curve.why}",
            )
        )
    mode, force, steps = aisi
    A_g = float(s.p.area[0])
    elastic = Stated("F_e", "MPa", force / A_g, "critical force over the gross area")
    lamda_c = column.SLENDERNESS_FACTOR.evaluate(F_y=s.f_y, F_e=force / A_g)
    choice = column.aisi_column_branch(lamda_c=float(lamda_c.value))
    stress = choice.formula.evaluate(F_y=s.f_y, lamda_c=float(lamda_c.value))
    F_n = float(stress.value)
    working: list[Evaluation | Stated] = [*steps, elastic, lamda_c, stress]
    if isinstance(s.family, Tube):
        D, t = float(s.family.od), s.t
        reduced = column.TUBE_REDUCED_AREA.evaluate(D=D, t=t, F_y=s.f_y, E=E_AISI, A=A_g)
        area = column.TUBE_EFFECTIVE_AREA.evaluate(A_o=float(reduced.value), A=A_g, F_y=s.f_y, F_e=force / A_g)
        A_e, reasons = float(area.value), column.TUBE_REDUCED_AREA.outside(D=D, t=t, F_y=s.f_y, E=E_AISI, A=A_g)
        working += [reduced, area]
    else:
        e_a = effective_aisi(s.family, F_y=F_n, compression="all", properties=s.p)
        A_e, reasons = float(e_a.area[0]), e_a.outside()
        working += list(e_a.steps())
    if reasons:
        checks.append(AISI_COMPRESSION.outside(reasons, demand=N))
    else:
        strength = column.AISI_STRENGTH.evaluate(A_e=A_e, F_n=F_n)
        P_n = float(strength.value)
        checks.append(
            AISI_COMPRESSION.judge(
                capacity=P_n,
                demand=N,
                required=web_aisi.OMEGA_COMPRESSION,
                trace=[*working, strength],
                note=f"{mode}; {choice.why}",
            )
        )
    missing = []
    if all(c.status == "outside" for c in checks):
        missing.append("no method applies to the compression: " + "; ".join(c.note for c in checks))
    together = _beam_column(s, N_b, P_n, shift)
    if together and all(c.status == "outside" for c in together) and not missing:
        missing.append("no method applies to compression with bending: " + together[0].note)
    return [*checks, *together], missing


def _beam_column(s: _State, N_b: float | None, P_n: float | None, shift: float) -> list[Check]:
    N = s.brace.compression
    arm = s.brace.eccentricity + shift
    extra = N * arm
    if not s.sag and not s.hog and not extra:
        return []
    checks = []
    for how, code, E, capacity, load_factor in (
        (EN_BEAM_COLUMN, "en", s.E, N_b, s.gamma),
        (AISI_BEAM_COLUMN, "aisi", E_AISI, P_n, ALPHA_ASD),
    ):
        for word, M, face, _ in s.cases:
            M_b = _moment_limit(s, code, face)
            if capacity is None or M_b is None:
                reason = "compression or bending alone is outside its range"
                checks.append(how.outside(reason, unit="1", where=word))
                continue
            in_plane = column.EULER_FORCE.evaluate(E=E, I=s.I_y, K=1.0, L=s.strut_length)
            amplify = {"N_axial": load_factor * N, "N_cr": float(in_plane.value)}
            if beam_formulas.AMPLIFIER.outside(**amplify):
                reason = "the loads with their factor reach the critical force: the brace buckles"
                checks.append(how.outside(reason, unit="1", where=word))
                continue
            k = beam_formulas.AMPLIFIER.evaluate(**amplify)
            M_2 = float(k.value) * (M + extra)
            if code == "en":
                eta = column.EN_POWER_INTERACTION.evaluate(
                    N_Ed=s.gamma * N, N_b=capacity / GAMMA_M1, M_Ed=s.gamma * M_2, M_b=M_b / GAMMA_M1
                )
            else:
                eta = column.AISI_INTERACTION.evaluate(
                    P=N, P_a=capacity / web_aisi.OMEGA_COMPRESSION, M=M_2, M_a=M_b / web_aisi.OMEGA_BENDING
                )
            moment = Stated("M_II", "N*mm", M_2, f"({M:.4g} + {N:.4g} x {arm:.4g}) N*mm, amplified by the axial force")
            checks.append(
                how.judge(
                    capacity=1.0, demand=float(eta.value), required=1.0, unit="1",
                    trace=[in_plane, k, moment, eta], where=word,
                )
            )  # fmt: skip
    return checks


# --- deflection --------------------------------------------------------------------------------------


def service_deflection(s: _State) -> tuple[float, list[Evaluation]]:
    """(greatest deflection [mm] with the section that works in service, working)."""
    gross = abs(float(s.beam.deflection_max().value))
    if not s.steel or not all(sheet.has_yield for sheet in s.brace.sheets):
        return gross, []
    least: Evaluation | None = None
    for _, M, face, _ in s.cases:
        e = s.effective("en", face)
        I_eff = float(e.I_y[0])
        if not M or I_eff >= s.I_y * (1 - 1e-12):
            continue
        W = float(s.p.W_y_top[0] if face == "top" else s.p.W_y_bottom[0])
        fic = web_en1993.SERVICE_SECOND_MOMENT.evaluate(
            I_gr=s.I_y, I_eff=I_eff, sigma_gr=min(M / W, s.f_y), sigma=s.f_y
        )
        if least is None or float(fic.value) < float(least.value):
            least = fic
    if least is None:
        return gross, []
    beam = solve(s.brace.length, s.E * float(least.value), s.brace.supports, s.brace.loads)
    return abs(float(beam.deflection_max().value)), [least]


def _deflection(s: _State) -> list[Check]:
    limit = s.brace.deflection_limit()
    if limit is None:
        return []
    most, how = limit
    found, working = service_deflection(s)
    return [
        DEFLECTION.judge(
            capacity=most,
            demand=found,
            required=1.0,
            unit="mm",
            trace=[*working, Stated("δ_lim", "mm", most, how)],
            note="" if not working else "with the section that works in service",
        )
    ]


# --- weld lines --------------------------------------------------------------------------------------


def weld_flow(brace: Brace, V: float) -> float:
    """Greatest shear flow [N/mm] through one weld line under a shear force V [N]; 0 without a weld line."""
    lines = brace.core.weld_lines
    if not lines:
        return 0.0
    flow = brace.properties.shear_flow(V_z=V)
    return max(abs(float(flow.at(name)[0])) for name in lines)


def seam_data(brace: Brace, q: float) -> dict[str, object]:
    """The raw data of the spot seam of one weld line that carries the flow q [N/mm] over its whole length."""
    family = brace.core
    if isinstance(family, HatSkin):
        edge = float(family.weld_line)
    else:
        assert isinstance(family, Lap)
        weld = family.overlap / 2 if family.weld is None else family.weld
        edge = float(min(weld, family.overlap - weld))
    own: dict[str, str] = {}
    if brace.yield_strength is not None:
        own["yield_strength"] = f"{brace.yield_strength!r} MPa"
    if brace.tensile_strength is not None:
        own["tensile_strength"] = f"{brace.tensile_strength!r} MPa"
    sheets = [{"thickness": f"{s.thickness!r} mm", "grade": s.grade, "coating": s.coating, **own} for s in brace.sheets]
    data: dict[str, object] = {
        "sheets": sheets, "weld_diameter": brace.weld_diameter, "length": f"{brace.length!r} mm",
        "edge": f"{edge!r} mm", "shear": f"{q * brace.length!r} N", "load_factor": brace.load_factor,
        "handbook_factor": brace.handbook_factor, "coupons": brace.coupons, "id": brace.id,
    }  # fmt: skip
    if isinstance(family, Lap):
        data["lap"] = f"{float(family.overlap)!r} mm"
    return data


def _weld_line(s: _State) -> tuple[list[Check], dict[str, Amount], tuple[Caution, ...]]:
    brace = s.brace
    if not brace.core.weld_lines:
        return [], {}, ()
    q = weld_flow(brace, s.V)
    Q = q * s.I_y / s.V if s.V else 0.0
    flow = joint_flow.SHEAR_FLOW.evaluate(V=s.V, Q=Q, I=s.I_y)
    how = Stated("Q", "mm^3", Q, "first moment that one weld line answers for, from the section's shear flow")
    values = {"weld_flow": Amount(q, "N/mm")}
    lines = len(brace.core.weld_lines)
    each = f"{lines} weld lines, each" if lines > 1 else "one weld line,"
    if brace.pitch is None:
        note = f"{each} {q:.4g} N/mm at the greatest shear force; give a pitch, or let the comparison find one"
        return [SPOT_LINE.info(demand=q, unit="N/mm", trace=[how, flow], note=note)], values, ()
    try:
        seam = build(SpotSeam, {**seam_data(brace, q), "pitch": f"{brace.pitch!r} mm"})
    except InputError as error:
        raise InputError(f"the weld line cannot be spotted: {error}", field="pitch") from error
    judged = check_seam(seam)
    worst = judged.worst
    per_spot = joint_flow.LOAD_PER_SPOT.evaluate(q_line=q, p=brace.pitch)
    values["spot_load"] = Amount(float(per_spot.value), "N")
    values["pitch"] = Amount(brace.pitch, "mm")
    if judged.status == "outside" or worst is None or worst.capacity is None or worst.demand is None:
        reason = "; ".join(judged.unjudged) or "no method applies to these spots"
        return [SPOT_LINE.outside(reason, demand=float(per_spot.value), trace=[how, flow])], values, ()
    check = SPOT_LINE.judge(
        capacity=worst.capacity.value or 0.0,
        demand=worst.demand.value or 0.0,
        required=worst.required_factor or 1.0,
        unit=worst.capacity.unit,
        trace=[how, flow, per_spot, *worst.trace],
        note=f"governed by {worst.title}, {worst.key}; {each} {q:.4g} N/mm",
    )
    return [check, *_pressed_skin(s, q)], values, judged.cautions


def _pressed_skin(s: _State, q: float) -> list[Check]:
    """The skin between spots where a hogging moment presses it: widest pitch, and buckling from spot to spot."""
    brace = s.brace
    if not isinstance(brace.core, HatSkin) or not s.hog:
        return []
    f_c = max(s.hog / float(s.p.W_y_bottom[0]), 1e-3)
    data = {**seam_data(brace, q), "pitch": f"{brace.pitch!r} mm", "compression": f"{f_c!r} MPa"}
    pressed = check_seam(build(SpotSeam, data))
    return [c for c in pressed.checks if c.method in (AISI_PITCH, BETWEEN_SPOTS)]


# --- making it ---------------------------------------------------------------------------------------


def _forming(s: _State) -> tuple[list[Check], dict[str, Amount]]:
    brace = s.brace
    family, nominal = brace.family, brace.sheets[0].thickness
    made = blank(family, K=brace.k_factor, density=brace.sheets[0].material.density)
    values = {"blank_width": Amount(float(made.width[0]), "mm")}
    if made.widths and isinstance(family, HatSkin):
        values["skin_width"] = Amount(float(np.atleast_1d(made.widths["skin"])[0]), "mm")
    values["blank_mass"] = Amount(float(made.mass_per_metre[0]) * brace.length * 1e-3, "kg")
    parts = family.flats_and_bends().parts
    bends = [part for part in parts if isinstance(part, Bend)]
    if not bends or isinstance(family, Tube | RectTube):
        return [], values
    checks: list[Check] = []
    about = brace.sheets[0].material
    rows: tuple[BendRow, ...] = ()
    if brace.sheets[0].has_yield:
        rows = bend_list(family, f_y=brace.sheets[0].f_y, E=about.E, K=brace.k_factor)
        values["overbend"] = Amount(max(row.overbend for row in rows), "deg")
    force = brake_force(R_m=brace.sheets[0].f_u, length=1.0, t=nominal, V=brace.die)
    values["brake_force"] = Amount(force, "N/mm")
    tightest = min(bends, key=lambda bend: float(bend.r[0] / bend.t[0]))
    r, t = float(tightest.r[0]), float(tightest.t[0])
    checks += _radius(s, r, t)
    checks += _legs(s)
    text = "; ".join(
        f"{row.name} {row.angle:.3g}° r {row.r:.3g} mm, middle at {row.at:.4g} mm, "
        f"bend to {row.angle + row.overbend:.4g}°"
        for row in rows
    )
    if text:
        checks.append(FOLD_LIST.info(unit="mm", note=text))
    return checks, values


def _radius(s: _State, r: float, t: float) -> list[Check]:
    sheet = s.brace.sheets[0]
    e = sheet.material.elongation
    strain = forming.OUTER_STRAIN.evaluate(r=r, t=t)
    checks = []
    by_strain = None if e is None else forming.RADIUS_FOR_STRAIN.evaluate(t=t, e=e)
    least = least_radius(sheet, r, t)
    how: list[Evaluation | Stated] = [strain, Stated("r_min", "mm", least, f"{least / t:.3g} thicknesses")]
    note = f"outer face strained {float(strain.value):.0%}"
    if by_strain is not None and e is not None:
        how.append(by_strain)
        if r < float(by_strain.value):
            note += (
                f", more than the elongation of {e:.0%} (that rule, on the safe side, asks for "
                f"{float(by_strain.value):.3g} mm): fold a strip across the grain first"
            )
    if r < least:
        note += "; it may crack: take a larger radius"
    checks.append(FOLD_RADIUS.judge(capacity=r, demand=least, required=1.0, unit="mm", trace=how, note=note))
    if sheet.f_u <= 390 and t <= 3.0 and sheet.material.family == "steel":
        row = next(x for x in load("bend_radius_min").rows if x.need("t_over") < t <= x.need("t_to"))
        checks.append(
            FOLD_DIN.info(
                capacity=r, demand=row.need("radius_min"), unit="mm",
                note="a smaller radius is folded in practice, and thins the bend" if r < row.need("radius_min") else "",
            )
        )  # fmt: skip
    return checks


@dataclass(frozen=True, slots=True)
class Leg:
    """An outside leg at a free edge: its length, the shortest the die holds, the opening; arrays over candidates."""

    name: str
    length: Array
    least: Array
    opening: Array


def legs(family: Family, die: float | None = None) -> list[Leg]:
    """The outside legs at free edges of every candidate, against a die of opening `die` [mm], else eight t."""
    listed = list(family.flats_and_bends().parts)
    found = []
    for i, part in enumerate(listed):
        if not isinstance(part, Flat) or part.role not in ("outstand", "lip"):
            continue
        step = 1 if part.free_end == "start" else -1
        beside = listed[i + step] if 0 <= i + step < len(listed) else None
        length = part.length
        if isinstance(beside, Flat) and beside.sheet == part.sheet and 0 <= i + 2 * step < len(listed):
            # a weld line cuts a flange into two flats: the leg runs on to the bend
            length, beside = length + beside.length, listed[i + 2 * step]
        if not isinstance(beside, Bend) or beside.sheet != part.sheet:
            continue
        opening = np.asarray(forming.DIE_OPENING(t=part.t) if die is None else np.full(1, die))
        turn = np.minimum(beside.angle, pi / 2)
        length = length + forming.SETBACK(r=beside.r, t=part.t, theta=turn)
        found.append(Leg(part.name, np.asarray(length), np.asarray(forming.LEAST_FLANGE(V=opening)), opening))
    return found


def least_radius(sheet: Sheet, r: float, t: float) -> float:
    """Least inside bend radius that is folded [mm].

    One thickness, drawing steel (elongation 28 % or more) half of it: common practice.  A smaller
    radius in steel above 390 MPa is asked what the elongation at fracture allows.
    """
    e = sheet.material.elongation
    least = 0.5 * t if e is not None and e >= 0.28 else t
    if e is not None and sheet.f_u > 390 and r < least:
        return max(least, float(forming.RADIUS_FOR_STRAIN(t=t, e=e)))
    return least


def _legs(s: _State) -> list[Check]:
    found = legs(s.brace.family, s.brace.die)
    if not found:
        return []
    leg = min(found, key=lambda one: float(one.length[0] / one.least[0]))
    length, least, opening = (float(v[0]) for v in (leg.length, leg.least, leg.opening))
    note = f"{leg.name}, die opening {opening:.3g} mm" + ("" if s.brace.die is not None else " (eight thicknesses)")
    if length < least:
        note += "; it slips into the die: make the leg longer or the die narrower"
    trace = [forming.LEAST_FLANGE.evaluate(V=opening)]
    return [FOLD_LEG.judge(capacity=length, demand=least, required=1.0, unit="mm", trace=trace, note=note)]


# --- values, cautions --------------------------------------------------------------------------------


def _values(s: _State) -> dict[str, Amount]:
    row = s.p.row()
    down = s.beam.deflection_max()
    service, _ = service_deflection(s)
    mass_line = float(s.brace.family.properties(density=s.brace.sheets[0].material.density).mass_per_metre[0])
    units = {
        "area": "mm^2", "centroid_height": "mm", "I_y": "mm^4", "I_z": "mm^4", "I_yz": "mm^4", "W_y_top": "mm^3",
        "W_y_bottom": "mm^3", "W_pl_y": "mm^3", "J": "mm^4", "C_w": "mm^6", "shear_centre_height": "mm",
    }  # fmt: skip
    if abs(row["I_yz"]) < 1e-9 * (row["I_y"] + row["I_z"]):
        row["I_yz"] = 0.0  # symmetric: what is left is rounding
    frequency = float(frequency_1(s.brace.length, s.EI, s.brace.supports, mass_line * 1e-6, s.brace.masses))
    return {
        **{name: Amount(row[name], unit) for name, unit in units.items()},
        "mass_per_metre": Amount(mass_line, "kg/m"),
        "EI": Amount(s.EI, "N*mm^2"),
        "GJ": Amount(s.G * row["J"], "N*mm^2"),
        "deflection_max": Amount(abs(float(down.value)), "mm"),
        "deflection_at": Amount(float(down.at), "mm"),
        "deflection_service": Amount(service, "mm"),
        "moment_max": Amount(max(s.sag, s.hog), "N*mm"),
        "moment_sagging": Amount(s.sag, "N*mm"),
        "moment_hogging": Amount(s.hog, "N*mm"),
        "shear_max": Amount(s.V, "N"),
        "reaction_max": Amount(max(abs(float(r.force)) for r in s.beam.reactions), "N"),
        "frequency_1": Amount(frequency if frequency < inf else None, "Hz"),
    }


def _about(s: _State) -> dict[str, str]:
    brace = s.brace
    found = {
        "profile": brace.profile,
        "sheets": " + ".join(dict.fromkeys(sheet.label for sheet in brace.sheets)),
        "span": " + ".join(f"{x:g}" for x in brace.span) + f" mm, ends {brace.ends}",
        "loads": brace.loads_text,
    }
    if isinstance(brace.core, HatSkin):
        found["cell"] = (
            f"the cell closes at the weld lines, {float(brace.core.weld_line):.3g} mm from the flange tips, not at the "
            "bends: the torsion constant depends on it by some 20 %"
        )
    return found


def _cautions(s: _State, checks: Iterable[Check], more: Iterable[Caution]) -> tuple[Caution, ...]:
    brace = s.brace
    raised: list[Caution | str] = [PURPOSES[word] for word in brace.purpose]
    for sheet in brace.sheets:
        raised += [caution(code, **words) for code, words in sheet.caution_codes()]
    raised += [*more, "forming", "corrosion", "fatigue"]
    raised += ["unfactored-load"] if brace.load_factor == 1.0 else []
    raised += [] if s.V or s.sag or s.hog or brace.compression or brace.tension else ["no-load"]
    offset = abs(float(s.p.y_shear_centre[0] - s.p.y_centroid[0]))
    if offset > 1e-3 * float(s.p.i_0[0]) and brace.held != "both" and not isinstance(s.family, IN_THE_FLOOR):
        raised.append(caution("twist", offset=f"{offset:.3g}"))
    if brace.core.weld_lines and not brace.coupons:
        raised.append("no-coupons")
    if any(c.provenance == "from memory" for c in checks if c.status in ("ok", "over")):
        raised.append("from-memory")
    return collect(raised)


def bending_factor(result: Result) -> float | None:
    """The lowest safety factor in bending of a judged brace, lateral-torsional buckling included; None without load."""
    keys = {m.key for m in (EN_BENDING, AISI_BENDING, EN_LTB, AISI_LTB)}
    factors = [c.safety_factor for c in result.checks if c.method.key in keys and c.safety_factor is not None]
    return min(factors, default=None)


def methods_of_forming() -> tuple[Method, ...]:
    """The checks of making it, apart from those of strength."""
    return (FOLD_RADIUS, FOLD_DIN, FOLD_LEG, FOLD_LIST)


__all__ = ["bending_factor", "check_brace", "methods_of_forming", "seam_data", "weld_flow"]
