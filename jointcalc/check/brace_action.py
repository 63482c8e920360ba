"""One brace as it lies: section, beam, greatest actions, local forces, effective sections; and its webs.

The profile is drawn one way up; `BraceAction.turned` says that it lies the other way.  Words for the reader (top,
bottom, sagging) are of the brace as it lies; section properties and effective sections are of the profile as it is
drawn, so every face goes through `BraceAction.face`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from math import asin, inf, sqrt
from typing import Any, Literal, TypeVar

import numpy as np
import numpy.typing as npt

from jointcalc.check.brace_thinnest import in_thinnest
from jointcalc.formula.branch import at_least
from jointcalc.model.brace import Brace
from jointcalc.model.brace_section import BraceSection
from jointcalc.quantity.sentence import mm
from jointcalc.result import Check, Stated
from jointcalc.section.effective import EffectiveSection
from jointcalc.section.effective_aisi import effective_aisi
from jointcalc.section.effective_en1993 import effective_en
from jointcalc.section.families.angle import Angle
from jointcalc.section.families.family import Family
from jointcalc.section.families.hat import Hat, HatSkin
from jointcalc.section.families.lap import Lap
from jointcalc.section.families.tube import Bar, Box, Tube
from jointcalc.section.panels import Panel, panels
from jointcalc.section.properties import Properties
from jointcalc.statics.beam import Beam, solve
from jointcalc.statics.beam_model import PointLoad, SpreadLoad
from jointcalc.statics.distinct import distinct
from jointcalc.statics.twist import torque_along

T = TypeVar("T")
WEBLESS = (Tube, Bar, Angle, Lap)

Array = npt.NDArray[np.float64]
SIDES: tuple[Literal["left"], Literal["right"]] = ("left", "right")
OTHER = {"top": "bottom", "bottom": "top"}
CODES = ("en", "aisi")


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


@dataclass(frozen=True, eq=False)
class BraceAction:
    """One brace as it lies, with all that acts on it: what every rule judges.

    Whatever follows from the brace is worked out when it is asked for, and kept; nothing is ever set from outside, so
    that rules may be asked in any order.  `shared` keeps what does not depend on the way up, for both ways.
    """

    brace: Brace
    turned: bool = False
    shared: dict[Any, Any] = field(default_factory=dict, repr=False)

    def _once(self, name: Any, work_out: Callable[[], T]) -> T:
        """What is the same both ways up, worked out by whoever asks first."""
        if name not in self.shared:
            self.shared[name] = work_out()
        found: T = self.shared[name]
        return found

    @cached_property
    def section(self) -> BraceSection:
        """What the brace is folded of."""
        return self.brace.section

    @cached_property
    def p(self) -> Properties:
        """Gross section of the profile as it is drawn."""
        return self.section.properties

    @property
    def family(self) -> Family:
        """The profile that carries."""
        return self.section.core

    @cached_property
    def steel(self) -> bool:
        """Whether every sheet is carbon steel, as the methods of strength ask."""
        return all(sheet.material.family == "steel" for sheet in self.brace.sheets)

    @property
    def E(self) -> float:
        """Modulus of elasticity [MPa]."""
        return self.section.sheets[0].material.E

    @property
    def nu(self) -> float:
        """Poisson's ratio."""
        return self.section.sheets[0].material.nu

    @property
    def G(self) -> float:
        """Shear modulus [MPa]."""
        return self.E / (2 * (1 + self.nu))

    @cached_property
    def I_y(self) -> float:
        """Second moment of area about the level axis [mm^4]."""
        return float(self.p.I_y[0])

    @property
    def EI(self) -> float:
        """Stiffness against bending by the loads [N mm^2]."""
        return self.E * self.I_y

    @property
    def gamma(self) -> float:
        """Partial factor on the loads."""
        return self.brace.load_factor

    @property
    def beam(self) -> Beam:
        """The brace on its supports under its loads."""
        brace = self.brace
        return self._once("beam", lambda: solve(brace.length, self.EI, brace.supports, brace.loads))

    @cached_property
    def _greatest(self) -> tuple[tuple[float, float], tuple[float, float], tuple[float, float]]:
        """(size, place) of the sagging moment, the hogging moment, the shear force; rounding is no moment."""
        high, low = self.beam.moment_extremes()
        none = 1e-9 * max(abs(float(high.value)), abs(float(low.value)))
        sag, hog = (0.0 if v <= none else v for v in (max(0.0, float(high.value)), max(0.0, -float(low.value))))
        shear = self.beam.shear_max()
        return (sag, float(high.at)), (hog, float(low.at)), (abs(float(shear.value)), float(shear.at))

    @property
    def sag(self) -> float:
        """Greatest sagging moment of the loads [N mm]."""
        return self._greatest[0][0]

    @property
    def sag_at(self) -> float:
        """Where it sags most [mm]."""
        return self._greatest[0][1]

    @property
    def hog(self) -> float:
        """Greatest hogging moment of the loads, without sign [N mm]."""
        return self._greatest[1][0]

    @property
    def hog_at(self) -> float:
        """Where it hogs most [mm]."""
        return self._greatest[1][1]

    @property
    def V(self) -> float:
        """Greatest shear force without sign [N]."""
        return self._greatest[2][0]

    @property
    def V_at(self) -> float:
        """Where it is sheared most [mm]."""
        return self._greatest[2][1]

    # --- axial forces ----------------------------------------------------------------------------------

    @cached_property
    def eccentricity(self) -> tuple[float, str, str] | None:
        """(how far the axial force acts from the centroid [mm], in words, face of the profile on that side or "").

        None where it was not given and nothing says where the brace is joined.
        """
        family, p = self.family, self.p
        if self.brace.eccentricity is not None:
            return self.brace.eccentricity, "as given", ""
        if isinstance(family, Hat):
            skin = float(family.skin_t) if isinstance(family, HatSkin) else 0.0
            low = skin / 2 if skin else self.t / 2
            return float(p.z_centroid[0] - p.z_bottom[0]) - low, "fixed by its flanges", "bottom"
        if isinstance(family, Tube | Box | Bar):
            return 0.0, "through the axis", ""
        return None

    @cached_property
    def eccentric(self) -> Mapping[str, float]:
        """Face of the profile -> first-order moment [N mm] of the axial force that compresses it."""
        N = self.brace.compression or -self.brace.tension
        if not N or self.eccentricity is None:
            return {}
        arm, _, side = self.eccentricity
        if not arm:
            return {}
        if not side:
            return {"top": abs(N) * arm, "bottom": abs(N) * arm}
        # pushed at the flanges, the flanges are pressed; pulled there, the other face is
        return {side if N > 0 else OTHER[side]: abs(N) * arm}

    @cached_property
    def shifted(self) -> Mapping[str, float]:
        """Face of the profile -> N e_N [N mm] (EN 1993-1-3 6.2.5): the centroid of what works leaves what buckles."""
        if not self.brace.compression or not self.steel:
            return {}
        e = self.effective("en", "all")
        shift = 0.0 if e.outside() else float(e.z_centroid[0] - self.p.z_centroid[0])
        if abs(shift) < 1e-6:
            return {}
        return {"bottom" if shift > 0 else "top": self.brace.compression * abs(shift)}

    @cached_property
    def extra(self) -> Mapping[str, float]:
        """Face of the profile -> first-order moment [N mm] with which an eccentric axial force compresses it."""
        return {
            face: self.eccentric.get(face, 0.0) + self.shifted.get(face, 0.0)
            for face in dict.fromkeys([*self.eccentric, *self.shifted])
        }

    # --- the sheet -----------------------------------------------------------------------------------

    @cached_property
    def f_y(self) -> float:
        """Yield strength of the weaker sheet [MPa]."""
        return self.brace.f_y

    @property
    def t(self) -> float:
        """Thickness of the profile's sheet that carries [mm]."""
        return self.section.sheets[0].t

    @property
    def radius(self) -> float:
        """Inside bend radius [mm]; 0 where nothing is bent."""
        r = self.family.radius
        return 0.0 if r is None else float(np.atleast_1d(r)[0])

    @cached_property
    def parts(self) -> tuple[Panel, ...]:
        """The flats as the rules of effective widths see them."""
        return self.section.once("parts", lambda: panels(self.family, self.p))

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
        return self.section.once((code, face), lambda: self._effective(self.family, self.p, code, face))

    def _effective(self, family: Family, p: Properties, code: str, face: str) -> EffectiveSection:
        if code == "en":
            return effective_en(family, f_yb=self.f_y, compression=face, properties=p)
        return effective_aisi(family, F_y=self.f_y, compression=face, properties=p)

    def effective_at_edge(self, code: str, face: str) -> EffectiveSection | None:
        """The effective section of the thinnest sheet that brings the profile into the rules' range; None: none does.

        All outside dimensions stay; so what it carries bounds from above what the thinner sheet does.
        """

        def inside(family: Family) -> EffectiveSection | None:
            e = self._effective(family, family.properties(), code, face)
            return None if e.outside() else e

        return self.section.once((code, face, "edge"), lambda: in_thinnest(self.family, inside))

    # --- along the brace -----------------------------------------------------------------------------------

    @cached_property
    def places(self) -> Array:
        """Sections looked at: supports, loads, extremes and 120 between."""
        L = self.brace.length
        own = [one.at for one in self.brace.supports]
        own += [one.at for one in self.brace.loads if not isinstance(one, SpreadLoad)]
        own += [x for one in self.brace.loads if isinstance(one, SpreadLoad) for x in (one.start, one.end)]
        own += [self.sag_at, self.hog_at, self.V_at]
        own += [one.at for one in self.brace.torques if one.at is not None]
        return distinct(np.clip(np.concatenate([np.linspace(0, L, 121), np.array(own)]), 0, L))

    @property
    def along(self) -> tuple[Array, Array, Array]:
        """(places, moment, shear without sign) on both sides of every section looked at."""
        return self._once("along", self._along)

    def _along(self) -> tuple[Array, Array, Array]:
        M = np.concatenate([self.beam.moment(self.places, side) for side in SIDES])
        V = np.abs(np.concatenate([self.beam.shear(self.places, side) for side in SIDES]))
        V[self.V * 1e-9 >= V] = 0.0  # rounding is no shear force
        return np.concatenate([self.places, self.places]), M, V

    @cached_property
    def bearings(self) -> list[Bearing]:
        """Local forces on the webs: support reactions, and what presses clear of the supports."""
        found = []
        for reaction in self.beam.reactions:
            force = float(reaction.force)
            what = f"support at {mm(reaction.at):g}"
            found.append(Bearing(reaction.at, abs(force), self.brace.bearing_length, what, True, force < 0))
        supports = [one.at for one in self.brace.supports]
        pressing = [b for b in self.pressing if not any(abs(b.at - x) < 1e-6 for x in supports)]
        found = [b for b in found if b.force > 1e-9 * (self.V or 1.0)] + pressing
        return [self._racked(b) for b in found] if self.brace.torques and self.webs_apart else found

    def _racked(self, bearing: Bearing) -> Bearing:
        """With what a torque there puts on the harder pressed of two webs, as if both had it; at most as much again."""
        brace, at = self.brace, np.array([bearing.at])
        if bearing.support:
            left, right = (float(T[0]) for T in torque_along(brace.length, brace.supports, brace.torques, at))
            T = right if at[0] < 1e-6 else left if at[0] > brace.length - 1e-6 else right - left
        else:
            there = [t for t in brace.torques if t.at is not None and abs(t.at - bearing.at) <= bearing.length / 2]
            T = sum(one.moment for one in there)
        return replace(bearing, force=bearing.force + min(2 * abs(T) / self.webs_apart, bearing.force))

    @cached_property
    def webs_apart(self) -> float:
        """Distance between two webs [mm]; 0 where there are not two."""
        if sum(part.count for part in self.webs) != 2:
            return 0.0
        o, at = self.p.outline, []
        for part in self.webs:
            piece = o.segments[o.index(part.name.removesuffix(" (with bead)"))]
            at.append(float(o.y[piece.start][0] + o.y[piece.end][0]) / 2)
        return 2 * abs(at[0] - float(self.p.y_centroid[0])) if len(at) == 1 else abs(at[0] - at[1])

    @cached_property
    def pressing(self) -> list[Bearing]:
        """Point loads, and loads spread over so little that they are one; over a support as well.

        Loads of one direction whose bearings touch press together: two halves of a load are no less than the whole.
        """
        length = self.brace.bearing_length
        found: list[Bearing] = []
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
        return [b for b in found if b.force > 1e-9 * (self.V or 1.0)]

    @cached_property
    def local_reach(self) -> float:
        """Length up to which a spread load presses like one force [mm]: four times the depth, our choice."""
        return 4.0 * float(self.p.z_top[0] - self.p.z_bottom[0])

    def moment_at(self, x: float) -> tuple[float, str]:
        """(greatest moment without sign at a place, face of the profile it compresses)."""
        moments = self._once(("moments", x), lambda: [float(self.beam.moment(x, side)) for side in SIDES])
        return max((self.with_axial(M) for M in moments), key=lambda one: one[0])

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
    def bends(self) -> list[tuple[str, float, str, float]]:
        """(word, moment, compressed face of the profile, place) of what occurs; sagging when nothing does."""
        found = []
        for word, M, face, at in (
            ("sagging", self.sag, self.face("top"), self.sag_at),
            ("hogging", self.hog, self.face("bottom"), self.hog_at),
        ):
            found.append((word, M + self.extra.get(face, 0.0), face, at))
        return [one for one in found if one[1]] or found[:1]

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


def carried(check: Check) -> float:
    """Capacity of a check that judged."""
    assert check.capacity is not None
    assert check.capacity.value is not None
    return check.capacity.value


def called(action: BraceAction) -> str:
    """The profile in a sentence."""
    if action.family.kind == "points":
        return "a free outline"
    return f"{'an' if action.family.kind == 'angle' else 'a'} {action.family.kind}"


def given_moment(word: str, M: float, at: float) -> Stated:
    """The greatest moment as a step of a working."""
    return Stated("M", "N*mm", M, f"greatest {word} moment, at {mm(at):.4g}")


def web_height(action: BraceAction, web: Panel) -> float:
    """Height of a web between the mid-lines of the flanges [mm]."""
    turned = int(web.turned_1) + int(web.turned_2)
    return abs(float(web.z_2[0] - web.z_1[0])) + turned * (action.radius + action.t / 2)


def web_slant(web: Panel) -> float:
    """Slant height of a web between the mid-points of its bends [mm]."""
    return float(web.length[0] + web.ext_1[0] + web.ext_2[0])


def web_angle(web: Panel) -> float:
    """Angle of a web to the flanges [rad]."""
    return asin(min(1.0, abs(float(web.share[0]))))


def count_webs(action: BraceAction) -> str:
    """How many webs share, in words."""
    n = sum(web.count for web in action.webs)
    return f"{n} webs together" if n > 1 else "one web"


def worst_of(found: Iterable[tuple[float, Any]]) -> Any:
    """What belongs to the largest number; None when there is nothing."""
    best = max(found, key=lambda one: one[0], default=None)
    return None if best is None else best[1]
