"""A brace: a folded profile that carries loads over one or more spans."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any, ClassVar, Self

from pydantic import PlainSerializer, PrivateAttr, WithJsonSchema, model_validator

from jointcalc.errors import InputError, nearest
from jointcalc.formula.spot_size import CLASSES
from jointcalc.model.brace_section import BraceSection, SheetSaid, section_of
from jointcalc.model.brace_texts import (
    Placed,
    Spread,
    Turning,
    as_typed,
    placed,
    read_holes,
    read_limit,
    read_loads,
    read_spans,
    read_supports,
    spread_as_typed,
    together,
    torque_as_typed,
    torque_of,
)
from jointcalc.model.fields import DIAMETER, Item, Length, Moment, Pitch, Quantity, Said, Stress, refuse
from jointcalc.model.seam import SpotSeam
from jointcalc.model.sheet import Sheet
from jointcalc.model.spelled import KEPT, Spelled
from jointcalc.quantity.compare import above
from jointcalc.quantity.sentence import Measure, mm, newtons
from jointcalc.section.families.family import Family
from jointcalc.section.families.lap import Lap
from jointcalc.section.properties import Properties
from jointcalc.statics.beam_model import Load, PointMass, Support, check_given, is_some
from jointcalc.statics.twist import Torque

HELD = ("none", "top", "bottom", "both")
LIES = ("crown-up", "flanges-up")
OVER = ("webs", "flat")
LEAST_BEARING = 10.0
"""Bearing taken where none is given [mm]: the least that EN 1993-1-3, 6.1.7.3 reckons with (from memory)."""
MOST_LOADS = 200

Spans = Annotated[
    tuple[float, ...],
    PlainSerializer(lambda spans: f"{' '.join(repr(x) for x in spans)} mm", return_type=str, when_used="json"),
    WithJsonSchema({"type": "string", "description": "a span, or several and one unit", "examples": ["1000 mm"]}),
]
AxialForce = Annotated[float, Quantity("force", high=1e7)]
Arm = Annotated[float, Quantity("length", high=2000.0, example="5 mm")]
Overhang = Annotated[float, Quantity("length", high=2000.0, example="40 mm")]


class Brace(Item):
    """A brace of one profile over `span` (several spans: supports between them).

    `profile` is written like `hat:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm`.  `ends` is pinned,
    fixed, cantilever (held at the left), one of the first two for each end (`"fixed pinned"`), or the
    rotational stiffness of the ends (`"5e7 1e7 N*mm/rad"`).  Loads act downwards when positive, at a
    distance from the left end: `point` `"750 N @ 500 mm"`, `spread` `"1 N/mm"` or
    `"1 N/mm @ 200 mm..600 mm"`, `moment` `"50 N*m @ 300 mm"` (clockwise), `torque` `"30 N*m @ 300 mm"` about its
    length, or `"12 N*m"`, which runs through it from end to end: a load beside the middle twists by its distance.
    `mass` `"15 kg @ 500 mm"` is carried along in vibration and loads nothing.

    `lies` says which way up a profile lies whose upper and lower half differ: `crown-up`, as it is drawn, or
    `flanges-up`, turned over; not said, both are judged and the worse governs.  Top and bottom are those of the
    brace as it lies.  `held` says which face something keeps from moving sideways: none, top, bottom or both.
    `over` says where point and spread loads stand: over the `webs` (a foot, plate or sheet that reaches from web to
    web) or on the `flat` between or beside them; not said, the flat is judged, the worse.  `bearing` is the length
    over which supports and loads press on the webs; where it is unknown 10 mm is taken, the least EN 1993-1-3
    reckons with.  `overhang` is how far the brace runs on beyond the bearings at its ends.  `fastened` says that
    the brace is welded or bolted down there.

    `effective_length` is the factor on the span for buckling as a strut; a brace tacked to sheet is normally no
    better than 1.  `eccentricity` is how far `compression` or `tension` acts above or below the centroid; where it is
    not given that of the joint is taken if it is known (a hat fixed by its flanges), else it is asked for.
    `end_joints` names the items of the project that join the ends to what carries them.

    A hat on a skin and a lap have weld lines: `pitch` (with `weld_diameter`) says how they are spotted, or `welded_by`
    names the seam of the project that is each of these lines.
    """

    kind: ClassVar[str] = "brace"
    lasts: ClassVar[bool] = True
    word: ClassVar[str] = "brace"
    loading: ClassVar[frozenset[str]] = frozenset(
        ("point", "spread", "moment", "torque", "aside", "mass", "compression", "tension", "eccentricity", "load_range")
    )
    judging: ClassVar[frozenset[str]] = frozenset(("limit_deflection", "effective_length"))
    profile: Annotated[
        str, Said('A profile: family and letters, such as `"hat:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm"`.'), KEPT
    ]
    grade: Annotated[str, Said("Grade of the profile.")]
    span: Annotated[Spans, Said('The span, or several: `"1000 mm"`, `"800 600 mm"`.')]
    point: Annotated[tuple[Placed, ...], Said('A force and its place: `"750 N @ 500 mm"`.')] = ()
    spread: Annotated[
        tuple[Spread, ...], Said('A load per length: `"1 N/mm"`, or `"1 N/mm @ 200 mm..600 mm"` for a part.')
    ] = ()
    moment: Annotated[tuple[Placed, ...], Said('A couple, clockwise: `"50 N*m @ 300 mm"`.')] = ()
    torque: Annotated[
        tuple[Turning, ...],
        Said(
            'A torque about its length: `"30 N*m @ 500 mm"` (a load times how far it stands beside the middle), or '
            '`"12 N*m"` that runs through from end to end.'
        ),
    ] = ()
    aside: Annotated[
        Moment, Said("Greatest bending moment sideways, of level loads; what holds a face takes it instead.")
    ] = "0 N*m"  # type: ignore[assignment]
    mass: Annotated[
        tuple[Placed, ...], Said('A mass that rides along, for the frequency only: `"15 kg @ 500 mm"`.')
    ] = ()
    hole: Annotated[
        tuple[Placed, ...],
        Said('A hole, notch or cut-out: its greatest width and its place, `"20 mm @ 400 mm"`; no rule here judges it.'),
    ] = ()
    ends: Annotated[
        str,
        Said(
            '`pinned`, `fixed`, `cantilever`, one for each end, `"fixed pinned"`, or stiffnesses, `"5e7 1e7 N*mm/rad"`.'
        ),
    ] = "pinned"
    # defaults are texts, validated like the rest
    compression: Annotated[AxialForce, Said("Service compression along the brace.")] = "0 N"  # type: ignore[assignment]
    tension: Annotated[AxialForce, Said("Service tension along the brace.")] = "0 N"  # type: ignore[assignment]
    eccentricity: Annotated[Arm | None, Said("How far compression or tension acts above or below the centroid.")] = None
    effective_length: Annotated[float, Said("Factor on the span for buckling as a strut.")] = 1.0
    held: Annotated[
        str,
        Said(
            "Face kept from moving sideways: `none`, `top`, `bottom` or `both`; top and bottom are those of the brace "
            "as it lies."
        ),
    ] = "none"
    lies: Annotated[
        str,
        Said(
            "Which way up: `crown-up` (as drawn) or `flanges-up`.",
            absent="both are judged, the worse governs",
        ),
    ] = ""
    over: Annotated[str, Said("Loads stand over the `webs`, or on the `flat`.", absent="the flat, the worse")] = ""
    bearing: Annotated[
        Length | None, Said("Length over which supports and loads press on the webs.", absent="10 mm")
    ] = None
    overhang: Annotated[Overhang, Said("How far the brace runs on beyond the bearings at its ends.")] = "0 mm"  # type: ignore[assignment]
    fastened: Annotated[
        bool, Said("Welded or bolted to its supports, or lying on them.", option="--fastened/--loose")
    ] = True
    end_joints: Annotated[
        tuple[str, ...], Said("Ids of the items that join its ends to what carries them.", option=None)
    ] = ()
    limit_deflection: Annotated[str, Said('Greatest deflection: `"L/240"` or `"3 mm"`.')] = ""
    coating: Annotated[str, Said('Zinc of the profile, such as `"Z275"` or `"G90"`.')] = ""
    skin_grade: Annotated[
        str, Said("Grade of the skin of a hat-skin or of the upper sheet of a lap.", absent="that of the profile")
    ] = ""
    skin_coating: Annotated[
        str,
        Said(
            "Zinc of the skin or of the upper sheet of a lap.",
            absent="that of the profile, unless {skin_grade} is given",
        ),
    ] = ""
    weld_diameter: Annotated[str, Said("Spot diameter on the weld line, or `minimum`, `usual`, `target`.")] = "usual"
    pitch: Annotated[Pitch | None, Said("Pitch of the spots on a weld line; judged when given.")] = None
    yield_strength: Annotated[Stress | None, Said("Yield strength from a mill certificate.")] = None
    tensile_strength: Annotated[Stress | None, Said("Tensile strength from a mill certificate.")] = None
    skin_yield_strength: Annotated[
        Stress | None,
        Said(
            "Yield strength of the skin or of the upper sheet of a lap, from its certificate.",
            absent="that of the profile, unless {skin_grade} is given",
        ),
    ] = None
    skin_tensile_strength: Annotated[
        Stress | None,
        Said("Tensile strength of the same.", absent="that of the profile, unless {skin_grade} is given"),
    ] = None
    load_range: Annotated[
        float, Said("Part of the load that comes and goes, for {cycles}: 1 from nothing, 2 reversing.")
    ] = 1.0
    die: Annotated[Length | None, Said("Opening of the V die.", absent="eight thicknesses")] = None
    k_factor: Annotated[float | None, Said("K of the bend allowance.", absent="DIN 6935")] = None
    welded_by: Annotated[
        str,
        Said(
            "Id of the `[[seam]]` that is each of its weld lines: pitch and spots are taken from there, counted once.",
            option=None,
        ),
    ] = ""
    _seam: SpotSeam | None = PrivateAttr(default=None)
    _section: BraceSection | None = PrivateAttr(default=None)
    _supports: tuple[Support, ...] = PrivateAttr(default=())
    _loads: tuple[Load, ...] = PrivateAttr(default=())
    _masses: tuple[PointMass, ...] = PrivateAttr(default=())
    _torques: tuple[Torque, ...] = PrivateAttr(default=())
    _holes: tuple[tuple[float, float], ...] = PrivateAttr(default=())

    @model_validator(mode="before")
    @classmethod
    def _read(cls, data: Any) -> Any:
        if not isinstance(data, Mapping):
            return data
        read = dict(data)
        if "span" in read:
            try:
                read["span"] = read_spans(read["span"])
            except InputError as error:
                raise refuse(f"span: {error.message}") from error
        return read

    @model_validator(mode="after")
    def _consistent(self) -> Any:
        try:
            self._profile()
            self._statics()
            self.deflection_limit()
            if self.weld_diameter.strip().lower() not in CLASSES:
                DIAMETER.read(self.weld_diameter, field="weld_diameter")
        except InputError as error:
            field, _, letter = error.field.partition(" ")
            told = error.message if not letter else f"{letter}: {error.message}"
            raise refuse(f"{field}: {told}" if field else error.marked) from error
        for name, words, what in (("held", HELD, "a face"), ("lies", LIES, "a way up"), ("over", OVER, "a place")):
            word = getattr(self, name)
            if word not in words and (word or name == "held"):
                raise refuse(f"{name}: '{word}' is not {what}; say {', '.join(words)}{nearest(word, words)}")
        if self.compression and self.tension:
            raise refuse("tension: a brace is pulled or pushed, not both at once; judge the two cases as two braces")
        if not 0.0 < self.load_range <= 2.0:
            raise refuse(
                f"load_range: {self.load_range:g}; it is the part of the load that comes and goes: 1 from nothing to "
                "all, 2 when it fully reverses"
            )
        if not 0.5 <= self.effective_length <= 4.0:
            raise refuse(
                f"effective_length: {self.effective_length} is not a factor between 0.5 (both ends clamped) and 4"
            )
        if self.k_factor is not None and not 0.0 <= self.k_factor <= 1.0:
            raise refuse(f"k_factor: {self.k_factor} is not possible; it lies between 0 and 1, such as 0.38")
        if self.pitch is not None and not self.family.weld_lines:
            raise refuse(f"pitch: a {self.family.kind} has no weld line; a hat-skin or a lap has")
        return self

    @property
    def seam(self) -> SpotSeam | None:
        """The seam of the project that is each of its weld lines."""
        return self._seam

    def along(self, seam: SpotSeam) -> Self:
        """The same brace with that seam along it."""
        made = self.model_copy()
        made._seam = seam
        return made

    def but(self, **changes: Any) -> Self:
        """The same with some fields changed; the seam along it stays where its spots do."""
        made = super().but(**changes)
        return made if self._seam is None or "pitch" in changes else made.along(self._seam)

    # --- profile and sheets --------------------------------------------------------------------------

    def _profile(self) -> None:
        own = SheetSaid(self.grade, self.coating, self.yield_strength, self.tensile_strength)
        f_y, f_u = self.skin_yield_strength, self.skin_tensile_strength
        if not self.skin_grade:  # else a certificate of the profile says nothing of the skin
            f_y, f_u = (own.yield_strength if f_y is None else f_y), (own.tensile_strength if f_u is None else f_u)
        coating = self.skin_coating or ("" if self.skin_grade else self.coating)
        skin = SheetSaid(self.skin_grade or self.grade, coating, f_y, f_u)
        made = self.profile.made if isinstance(self.profile, Spelled) else self.profile
        self._section = section_of(made, own, skin)

    @property
    def section(self) -> BraceSection:
        """What it is folded of."""
        assert self._section is not None
        return self._section

    @property
    def family(self) -> Family:
        """The profile by its outside dimensions, as the sheet is bought."""
        return self.section.family

    @property
    def core(self) -> Family:
        """The profile of the sheet that carries: zinc deducted."""
        return self.section.core

    @property
    def sheets(self) -> tuple[Sheet, ...]:
        """The profile's sheet, then the skin or the upper sheet of a lap."""
        return self.section.sheets

    @property
    def bearing_length(self) -> float:
        """Length over which supports and loads press on the webs [mm], with what is taken where none is given."""
        return LEAST_BEARING if self.bearing is None else self.bearing

    @property
    def ways(self) -> tuple[bool, ...]:
        """Ways up to judge, True for turned over: the one that was said; both where they differ and none was said."""
        if self.lies:
            return (self.lies == "flanges-up",)
        return (False,) if self.family.level_symmetric else (False, True)

    @property
    def properties(self) -> Properties:
        """Section properties of the sheet that carries, as the profile is drawn."""
        return self.section.properties

    @property
    def f_y(self) -> float:
        """Yield strength of the weaker sheet [MPa]; InputError where the standard gives none to design with."""
        return min(sheet.f_y for sheet in self.sheets)

    @property
    def f_u(self) -> float:
        """Tensile strength of the weaker sheet [MPa]."""
        return min(sheet.f_u for sheet in self.sheets)

    @property
    def t(self) -> float:
        """Thickness of the profile's sheet that carries [mm]."""
        return self.sheets[0].t

    # --- spans and loads -----------------------------------------------------------------------------------

    def _statics(self) -> None:
        self._supports = read_supports(self.ends, self.span)
        self._loads = read_loads(self.length, self.point, self.spread, self.moment)
        self._masses = tuple(
            PointMass(size, at) for size, at in (placed(text, "mass", "mass", signed=False) for text in self.mass)
        )
        for lump in self._masses:
            if above(lump.at, self.length):
                raise InputError(
                    f"at {mm(lump.at):g} is off the brace, which is {mm(self.length):g} long", field="mass"
                )
        self._holes = read_holes(self.hole, self.length)
        self._torques = together(map(torque_of, self.torque))
        for one in self._torques:
            if one.at is not None and above(one.at, self.length):
                raise InputError(
                    f"at {mm(one.at):g} is off the brace, which is {mm(self.length):g} long", field="torque"
                )
        if len(self._loads) + len(self._torques) > MOST_LOADS:
            raise InputError(f"{len(self._loads)} loads; accepted is up to {MOST_LOADS}", field="point")
        check_given(self.length, self._supports, self._loads)

    @property
    def length(self) -> float:
        """Length over all spans [mm]."""
        return sum(self.span)

    @property
    def beyond(self) -> tuple[float, float]:
        """How far the brace runs on beyond the outer supports, at its left and right end [mm].

        Half of the bearing (spans count from middle to middle of the bearings) and the overhang; nothing at the free
        end of a cantilever, and nothing of a lap, whose sheets are parts of their own.
        """
        if isinstance(self.family, Lap):
            return 0.0, 0.0
        places = [one.at for one in self._supports]
        more = self.bearing_length / 2 + self.overhang
        return more if min(places) <= 1e-6 else 0.0, more if max(places) >= self.length - 1e-6 else 0.0

    @property
    def cut_length(self) -> float:
        """Length to cut [mm]: all spans, and what runs on beyond the outer supports."""
        return self.length + sum(self.beyond)

    @property
    def longest(self) -> float:
        """The longest span [mm]; twice its length for a cantilever is the buckling length, not this."""
        return max(self.span)

    @property
    def supports(self) -> tuple[Support, ...]:
        """The supports, for the beam solver."""
        return self._supports

    @property
    def loads(self) -> tuple[Load, ...]:
        """The loads, for the beam solver."""
        return self._loads

    @property
    def torques(self) -> tuple[Torque, ...]:
        """What twists it about its length, besides loads beside its shear centre."""
        return self._torques

    @property
    def bears(self) -> bool:
        """Whether any of its loads is more than nothing."""
        others = (*(one.moment for one in self._torques), self.aside, self.compression, self.tension)
        return any(others) or any(map(is_some, self._loads))

    @property
    def masses(self) -> tuple[PointMass, ...]:
        """The masses carried in vibration."""
        return self._masses

    @property
    def holes(self) -> tuple[tuple[float, float], ...]:
        """(greatest width, place) of each hole cut into it [mm]."""
        return self._holes

    def deflection_limit(self) -> tuple[float, str] | None:
        """(greatest deflection [mm], how it was stated); None when no limit was given."""
        return read_limit(self.limit_deflection, self.longest)

    @property
    def loads_text(self) -> str:
        """The loads in words."""
        words = [as_typed(text, "force") for text in self.point]
        words += [spread_as_typed(text, self.length) for text in self.spread]
        words += [as_typed(text, "moment") for text in self.moment]
        words += [torque_as_typed(text) for text in self.torque]
        if self.aside:
            words.append(f"{Measure(abs(self.aside) / 1e3, unit='N*m'):g} sideways")
        if self.compression:
            words.append(f"{newtons(self.compression)} compression")
        if self.tension:
            words.append(f"{newtons(self.tension)} tension")
        return ", ".join(words) or "no load"
