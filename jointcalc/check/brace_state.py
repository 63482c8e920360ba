"""The state of one brace as it lies: section, beam, greatest actions, local forces, effective sections; and its webs.

The profile is drawn one way up; `State.turned` says that it lies the other way.  Words for the reader (top, bottom,
sagging) are of the brace as it lies; section properties and effective sections are of the profile as it is drawn, so
every face goes through `State.face`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from functools import cached_property
from math import asin, inf, sqrt
from typing import Any, Literal, TypeVar

import numpy as np
import numpy.typing as npt

from jointcalc.check.common import Steps
from jointcalc.formula.branch import at_least
from jointcalc.model.brace import Brace
from jointcalc.quantity.sentence import mm
from jointcalc.result import Check, Need, Stated
from jointcalc.section.effective import EffectiveSection, Panel, effective_aisi, effective_en, panels
from jointcalc.section.families import Angle, Bar, Family, HatSkin, Lap, Points, Tube
from jointcalc.section.properties import Properties
from jointcalc.statics.beam import Beam, PointLoad, SpreadLoad, solve

T = TypeVar("T")
WEBLESS = (Tube, Bar, Angle, Lap)

Array = npt.NDArray[np.float64]
SIDES: tuple[Literal["left"], Literal["right"]] = ("left", "right")
OTHER = {"top": "bottom", "bottom": "top"}
CODES = ("en", "aisi")

MOST_THICKER = 64.0
"""How many times thicker a sheet is tried in search of the edge of a range."""


@dataclass(frozen=True, slots=True)
class Bearing:
    """A local force on the brace: where, how much, and whether a support or a load brings it."""

    at: float
    force: float
    length: float
    what: str
    support: bool
    above: bool
    """Whether it presses on the upper face of the brace as it lies: a load downwards, a support that holds it down."""


@dataclass(frozen=True, slots=True)
class Edge:
    """A capacity at the edge of a range that the brace has left on its weak side, and why it is out."""

    capacity: float
    reasons: tuple[str, ...]
    trace: Steps


class State:
    """What the checks of one brace share, as it lies: section, beam, greatest actions, capacities found so far.

    `shared` keeps effective sections for both ways up; they do not depend on it.
    """

    def __init__(self, brace: Brace, turned: bool, shared: dict[Any, Any]) -> None:
        self.brace = brace
        self.turned = turned
        self._shared = shared
        self.p: Properties = brace.properties
        self.family = brace.core
        about = brace.sheets[0].material
        self.steel = all(sheet.material.family == "steel" for sheet in brace.sheets)
        self.E, self.nu = about.E, about.nu
        self.G = self.E / (2 * (1 + self.nu))
        self.I_y = float(self.p.I_y[0])
        self.EI = self.E * self.I_y
        if "beam" not in shared:
            shared["beam"] = solve(brace.length, self.EI, brace.supports, brace.loads)
        self.beam: Beam = shared["beam"]
        high, low = self.beam.moment_extremes()
        size = max(abs(float(high.value)), abs(float(low.value)))
        none = 1e-9 * size
        self.sag, self.sag_at = max(0.0, float(high.value)), float(high.at)
        self.hog, self.hog_at = max(0.0, -float(low.value)), float(low.at)
        self.sag, self.hog = (0.0 if v <= none else v for v in (self.sag, self.hog))
        shear = self.beam.shear_max()
        self.V, self.V_at = abs(float(shear.value)), float(shear.at)
        self.gamma = brace.load_factor
        self.moments: dict[tuple[str, str], Check] = {}
        """(code, face of the profile) -> the check of bending, where it judged."""
        self.buckling: dict[tuple[str, str], Check] = {}
        """The same with lateral-torsional buckling, where that was judged."""
        self.distortion: dict[str, Check] = {}
        """Face of the profile -> the check of distortional buckling, where there is such a mode."""
        self.overall: dict[str, tuple[float, Steps]] = {}
        """Face of the profile -> (lateral-torsional buckling stress of AISI F2 [MPa], working), where nothing holds it.

        "all" is the global buckling stress of E2.
        """
        self.overall_loads: dict[str, tuple[float, str]] = {}
        """Name -> elastic critical load of the brace as a whole, and its unit."""
        self.critical: dict[str, float] = {}
        """Face of the profile -> elastic critical moment [N mm], where nothing holds that face."""
        self.shears: dict[str, Check] = {}
        self.extra: dict[str, float] = {}
        """Face of the profile -> first-order moment [N mm] with which an eccentric axial force compresses it."""
        self.turned_how: Any = None
        """How it bends and twists at once, where it does (`brace_twist.Turned`)."""
        self.needs: list[Need] = []

    # --- the sheet -----------------------------------------------------------------------------------

    @cached_property
    def f_y(self) -> float:
        """Yield strength of the weaker sheet [MPa]."""
        return self.brace.f_y

    @property
    def t(self) -> float:
        """Thickness of the profile's sheet that carries [mm]."""
        return self.brace.t

    @property
    def radius(self) -> float:
        """Inside bend radius [mm]; 0 where nothing is bent."""
        r = self.family.radius
        return 0.0 if r is None else float(np.atleast_1d(r)[0])

    @cached_property
    def parts(self) -> tuple[Panel, ...]:
        """The flats as the rules of effective widths see them."""
        if "parts" not in self._shared:
            self._shared["parts"] = panels(self.family, self.p)
        found: tuple[Panel, ...] = self._shared["parts"]
        return found

    @cached_property
    def webs(self) -> tuple[Panel, ...]:
        """Flats held at both ends that stand at 45 degrees or more."""
        if isinstance(self.family, WEBLESS):
            return ()
        return tuple(
            part
            for part in self.parts
            if part.role == "internal" and at_least(abs(float(part.share[0])), sqrt(0.5)) and part.count
        )

    # --- which way up -----------------------------------------------------------------------------------

    def face(self, word: str) -> str:
        """The face of the profile as drawn that is `word` (top or bottom) as the brace lies; and the reverse."""
        return OTHER[word] if self.turned else word

    @property
    def way(self) -> str:
        """How it lies, in words; empty for a profile that lies the same either way."""
        if self.family.level_symmetric:
            return ""
        hat = self.family.kind in ("hat", "hat-skin", "beaded-hat")
        return ("flanges up" if hat else "turned over") if self.turned else ("crown up" if hat else "as drawn")

    def modulus(self, face: str) -> float:
        """Gross elastic modulus of a face of the profile [mm^3]."""
        return float((self.p.W_y_top if face == "top" else self.p.W_y_bottom)[0])

    # --- effective sections ----------------------------------------------------------------------------

    def effective(self, code: str, face: str) -> EffectiveSection:
        """Effective section with a face of the profile in compression ("all": uniform)."""
        key = (code, face)
        if key not in self._shared:
            self._shared[key] = self._effective(self.family, self.p, code, face)
        found: EffectiveSection = self._shared[key]
        return found

    def _effective(self, family: Family, p: Properties, code: str, face: str) -> EffectiveSection:
        if code == "en":
            return effective_en(family, f_yb=self.f_y, compression=face, properties=p)
        return effective_aisi(family, F_y=self.f_y, compression=face, properties=p)

    def effective_at_edge(self, code: str, face: str) -> EffectiveSection | None:
        """The effective section of the thinnest sheet that brings the profile into the rules' range; None: none does.

        All outside dimensions stay; so what it carries bounds from above what the thinner sheet does.
        """
        key = (code, face, "edge")
        if key not in self._shared:
            self._shared[key] = self._at_edge(code, face)
        found: EffectiveSection | None = self._shared[key]
        return found

    def _at_edge(self, code: str, face: str) -> EffectiveSection | None:
        def inside(family: Family) -> EffectiveSection | None:
            e = self._effective(family, family.properties(), code, face)
            return None if e.outside() else e

        return in_thinnest(self.family, inside)

    # --- along the brace -----------------------------------------------------------------------------------

    @cached_property
    def places(self) -> Array:
        """Sections looked at: supports, loads, extremes and 120 between."""
        L = self.brace.length
        own = [s.at for s in self.brace.supports]
        own += [one.at for one in self.brace.loads if not isinstance(one, SpreadLoad)]
        own += [x for one in self.brace.loads if isinstance(one, SpreadLoad) for x in (one.start, one.end)]
        own += [self.sag_at, self.hog_at, self.V_at]
        return np.unique(np.clip(np.concatenate([np.linspace(0, L, 121), np.array(own)]), 0, L))

    @property
    def actions(self) -> tuple[Array, Array, Array]:
        """(places, moment, shear without sign) on both sides of every section looked at."""
        if "actions" not in self._shared:
            x = np.concatenate([self.places, self.places])
            M = np.concatenate([self.beam.moment(self.places, side) for side in SIDES])
            V = np.abs(np.concatenate([self.beam.shear(self.places, side) for side in SIDES]))
            self._shared["actions"] = x, M, V
        found: tuple[Array, Array, Array] = self._shared["actions"]
        return found

    def bent_over(self, code: str, M: Array) -> Array:
        """Moments (sagging positive) with an eccentric axial force over the resistance; inf where none is known."""
        total = np.zeros(M.shape)
        small = 1e-9 * max(self.sag, self.hog)
        for face in ("top", "bottom"):
            sense = 1.0 if face == self.face("top") else -1.0
            mine = sense * M + self.extra.get(face, 0.0)
            mine = np.where(mine > small, mine, 0.0)
            bent = self.moments.get((code, face))
            with np.errstate(invalid="ignore"):
                part = mine / carried(bent) if bent is not None else np.where(mine > 0, inf, 0.0)
            total = np.maximum(total, part)
        return total

    @cached_property
    def bearings(self) -> list[Bearing]:
        """Local forces: support reactions, point loads, and loads spread over so little that they are one.

        Loads of one direction whose bearings touch press together: two halves of a load are no less than the whole.
        """
        length = self.brace.bearing_length
        found = []
        for reaction in self.beam.reactions:
            force = float(reaction.force)
            what = f"support at {mm(reaction.at):g}"
            found.append(Bearing(reaction.at, abs(force), length, what, True, force < 0))
        own: list[tuple[float, float, float]] = []
        for one in self.brace.loads:
            if isinstance(one, PointLoad):
                own.append((one.at - length / 2, one.at + length / 2, float(one.force)))
            elif isinstance(one, SpreadLoad) and one.end - one.start <= self.local_reach:
                size = (float(one.first) + float(one.last)) / 2 * (one.end - one.start)
                own.append((one.start, one.end, size))
        for sign in (1.0, -1.0):
            start = end = force = 0.0
            for a, b, F in [*sorted(one for one in own if one[2] * sign > 0), (inf, inf, 0.0)]:
                if force and a <= end:
                    end, force = max(end, b), force + F
                    continue
                if force:
                    at = (start + end) / 2
                    found.append(Bearing(at, abs(force), end - start, f"load at {mm(at):.4g}", False, force > 0))
                start, end, force = a, b, F
        supports = [s.at for s in self.brace.supports]
        return [
            b
            for b in found
            if b.force > 1e-9 * (self.V or 1.0) and (b.support or not any(abs(b.at - x) < 1e-6 for x in supports))
        ]

    @cached_property
    def local_reach(self) -> float:
        """Length up to which a spread load presses like one force [mm]: four times the depth, our choice."""
        return 4.0 * float(self.p.z_top[0] - self.p.z_bottom[0])

    def moment_at(self, x: float) -> tuple[float, str]:
        """(greatest moment without sign at a place, face of the profile it compresses)."""
        return max((self.with_axial(float(self.beam.moment(x, side))) for side in SIDES), key=lambda one: one[0])

    def with_axial(self, M: float) -> tuple[float, str]:
        """(moment without sign, face of the profile it compresses) with what an eccentric axial force adds to it."""
        if abs(M) <= 1e-9 * max(self.sag, self.hog):
            M = 0.0
        face = self.pressed(M)
        both = {face: abs(M) + self.extra.get(face, 0.0), OTHER[face]: self.extra.get(OTHER[face], 0.0) - abs(M)}
        worst = max(both, key=lambda one: both[one])
        return both[worst], worst

    def loads_moment(self, word: str) -> float:
        """Greatest sagging or hogging moment of the loads alone [N mm]."""
        return self.sag if word == "sagging" else self.hog

    @property
    def cases(self) -> list[tuple[str, float, str, float]]:
        """(word, moment, compressed face of the profile, place) of what occurs; sagging when nothing does."""
        found = []
        for word, M, face, at in (
            ("sagging", self.sag, self.face("top"), self.sag_at),
            ("hogging", self.hog, self.face("bottom"), self.hog_at),
        ):
            found.append((word, M + self.extra.get(face, 0.0), face, at))
        return [case for case in found if case[1]] or found[:1]

    def pressed(self, M: float) -> str:
        """Face of the profile that a moment (sagging positive) compresses."""
        return self.face("top" if M >= 0 else "bottom")

    def held(self, face: str) -> bool:
        """Whether something keeps that face of the profile from moving sideways."""
        return self.brace.held in (self.face(face), "both")

    @property
    def held_both(self) -> bool:
        """Whether both faces are held, so that nothing twists or moves sideways."""
        return self.brace.held == "both"

    @property
    def free_length(self) -> float:
        """Longest span, doubled for a cantilever [mm]."""
        return self.brace.longest * (2.0 if len(self.brace.supports) == 1 else 1.0)

    @property
    def strut_length(self) -> float:
        """Buckling length [mm]: the factor times the longest span, doubled for a cantilever."""
        return self.brace.effective_length * self.free_length

    # --- what must be judged ---------------------------------------------------------------------------------

    def need(self, part: str, sentence: str) -> None:
        """A part of the load that some check has to cover."""
        self.needs.append(Need(part, sentence))

    def resistance(self, code: str, face: str) -> Check | None:
        """The check whose capacity sums use: the lowest of bending, lateral-torsional and distortional buckling.

        None where bending alone is not judged.
        """
        bent = self.moments.get((code, face))
        if bent is None:
            return None
        more = [self.buckling.get((code, face)), self.distortion.get(face) if code == "aisi" else None]
        return min([bent, *(c for c in more if c is not None)], key=carried)


def thicker(family: Family, k: float) -> Family:
    """The profile with every sheet k times as thick; outside dimensions and bend radii stay."""
    change: dict[str, Any] = {"t": family.t * k} if hasattr(family, "t") else {}
    if isinstance(family, HatSkin):
        change["skin_t"] = family.skin_t * k
    if isinstance(family, Lap):
        change["t_2"] = (family.t if family.t_2 is None else family.t_2) * k
        change["step"] = (family.t if family.t_2 is None else family.t_2) if family.step is None else family.step
    if family.radius is not None and (isinstance(family, Points) or "r" in family.letters()):
        change["r"] = family.radius
    return replace(family, **change)


def in_thinnest(family: Family, inside: Callable[[Family], T | None]) -> T | None:
    """What `inside` gives for the profile in the thinnest sheet at which it gives anything; None where none does."""

    def tried(k: float) -> T | None:
        one = thicker(family, k)
        return inside(one) if bool(np.all(one.valid())) else None

    low, high = 1.0, 1.25
    while (found := tried(high)) is None:
        low, high = high, high * 1.25
        if high > MOST_THICKER:
            return None
    for _ in range(20):
        middle = (low + high) / 2
        one = tried(middle)
        low, high, found = (middle, high, found) if one is None else (low, middle, one)
    return found


def carried(check: Check) -> float:
    """Capacity of a check that judged."""
    assert check.capacity is not None
    assert check.capacity.value is not None
    return check.capacity.value


def called(s: State) -> str:
    """The profile in a sentence."""
    if s.family.kind == "points":
        return "a free outline"
    return f"{'an' if s.family.kind == 'angle' else 'a'} {s.family.kind}"


def given_moment(word: str, M: float, at: float) -> Stated:
    """The greatest moment as a step of a working."""
    return Stated("M", "N*mm", M, f"greatest {word} moment, at {mm(at):.4g}")


def web_height(s: State, web: Panel) -> float:
    """Height of a web between the mid-lines of the flanges [mm]."""
    turned = int(web.turned_1) + int(web.turned_2)
    return abs(float(web.z_2[0] - web.z_1[0])) + turned * (s.radius + s.t / 2)


def web_slant(web: Panel) -> float:
    """Slant height of a web between the mid-points of its bends [mm]."""
    return float(web.length[0] + web.ext_1[0] + web.ext_2[0])


def web_angle(web: Panel) -> float:
    """Angle of a web to the flanges [rad]."""
    return asin(min(1.0, abs(float(web.share[0]))))


def count_webs(s: State) -> str:
    """How many webs share, in words."""
    n = sum(web.count for web in s.webs)
    return f"{n} webs together" if n > 1 else "one web"


def worst_of(found: Iterable[tuple[float, Any]]) -> Any:
    """What belongs to the largest number; None when there is nothing."""
    best = max(found, key=lambda one: one[0], default=None)
    return None if best is None else best[1]
