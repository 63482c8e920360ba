"""A panel: a rectangle of flat or beaded sheet, held along its four edges."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from typing import Annotated, Any, ClassVar, Self

from pydantic import PrivateAttr, WithJsonSchema, model_validator

from jointcalc.errors import InputError, nearest
from jointcalc.formula.bead import DRAW_IN
from jointcalc.model.fields import Item, Length, Numbers, Pressure, Quantity, Said, refuse
from jointcalc.model.opening import EXAMPLES as OPENINGS
from jointcalc.model.opening import Opening, parse_opening
from jointcalc.model.panel_fits import edges_of, fitted
from jointcalc.model.sheet import Sheet
from jointcalc.model.spelled import KEPT, Spelled
from jointcalc.quantity.compare import above, below, within
from jointcalc.quantity.parse import parse
from jointcalc.quantity.sentence import Measure, mm, newtons
from jointcalc.statics import bead_crossing as crossing
from jointcalc.statics.bead import EXAMPLES, Bead, Making, Strip, flank_angle, middles, section
from jointcalc.statics.field_shape import Inplane
from jointcalc.statics.plate import Edge

ALONG = ("long", "short")
IN_PLANE = ("held", "straight", "free")
CROWNS = ("towards", "away")
FLAT = ("none", "flat")
ROLLED = ("held", "loose")
SIDE = (20.0, 6000.0)
MOST_ASPECT = 20.0
MOST_THRUST = 1e4
FOOT = 50.0
"""Side of the square a load is taken to stand on when stress is asked for and no size was given [mm]: what
EN 1991-1-1 6.3.1.2 takes for a concentrated load on a floor (from memory)."""

Sides = Annotated[tuple[float, ...], Numbers("length", 2, signed=False, by=True)]
Place = Annotated[tuple[float, ...], Numbers("length", 2, signed=False)]
Laid = Annotated[float, Quantity("mass per area", high=200e-9, example="4 kg/m2")]
MOST_PATCHES = 12
PatchForce = Annotated[float, Quantity("force", high=1e6, example="750 N")]
Frequency = Annotated[float, Quantity("frequency", low=0.1, high=10e3)]
ShearFlow = Annotated[float, Quantity("line load", high=1e4, signed=True, example="10 N/mm")]
Thrusts = Annotated[tuple[float, ...], Numbers("line load", 2, signed=False)]
BeadText = Annotated[
    str,
    KEPT,
    WithJsonSchema(
        {"type": "string", "description": "a bead, or none", "examples": ["none", *EXAMPLES.values(), crossing.EXAMPLE]}
    ),
]

OpeningText = Annotated[
    str,
    WithJsonSchema({"type": "string", "description": "an opening, or none", "examples": ["none", *OPENINGS.values()]}),
]


class Panel(Item):
    """A rectangular panel of `size` (two sides), flat or with beads.

    `bead` is written like `arc:depth=6mm,width=25mm,pitch=75mm,stop=30mm,runout=30mm` (arc, trapezoid, vee), or
    `none`.  It begins `stop` off the supported edge and rises over `runout`; `stop=0mm` runs through, and where
    nothing is said it stops as a spot-welded flange needs.  `along` says which side the beads run along: long or
    short; of a square panel, the first of `size` is the long one.  A bead may say its own: `arc:...,along=short`, which
    then counts.  Two beads joined by `+` cross, one along either side: `arc:... + vee:...,along=short`; what is said of
    "along the beads" and "across them" is then meant of the first.  `crowns` of the beads rise towards what
    presses on the panel, or away from it.  `edges` are simple (free to turn) or clamped, all four alike;
    `in_plane` they are free to draw in, stay straight but draw in, or are held.  `rolled` says whether the sheet is
    held while it is beaded, so that beads are stretched out of it, or lies loose and draws in; `part` names the part
    that is beaded, whose blank grows by what the beads draw in.

    Service loads, taken to act together: `pressure` over the whole panel; `patch`, a force at its
    middle, spread over `patch_size` (along the beads, across them; one size for a square); `shear`, a
    flow in the plane of the sheet along all four edges; `compression`, a thrust per length of edge that pushes two
    opposite edges towards each other (along the beads, across them; one number for along), positive only: a pull
    stiffens and is left out.  A panel under thrust draws in: its `in_plane` edges cannot be `held`.  Without a size
    the patch is a point for deflection, which is the larger answer, and stands on 50 x 50 mm for stress, which has
    no limit under a point.

    `opening` is a hole cut into the panel, such as `round:diameter=80mm,x=200mm,y=150mm,flange=8mm` or
    `rectangle:width=100mm,height=60mm,corner=12mm`: width along the beads, x and y its middle from the start and the
    left edge (left out: the middle of the panel).  `mass_added` is what is glued or laid on the panel and swings with
    it.  `fine` asks for grids twice as fine.
    """

    kind: ClassVar[str] = "panel"
    lasts: ClassVar[bool] = True
    word: ClassVar[str] = "panel"
    loading: ClassVar[frozenset[str]] = frozenset(
        ("pressure", "patch", "patch_size", "patch_at", "shear", "compression", "in_plane", "mass_added", "load_range")
    )
    judging: ClassVar[frozenset[str]] = frozenset(
        ("permanent_set_limit", "limit_deflection", "limit_frequency", "fine")
    )
    size: Annotated[Sides, Said('The two sides between the supports, `"600 400 mm"`.')]
    sheet: Annotated[Sheet, Said('The sheet, `"1.0 mm"` or `"18 ga"`.')]
    bead: Annotated[
        BeadText,
        Said(
            '`none`, or a bead, `"arc:depth=6mm,width=25mm,pitch=75mm,stop=25mm,runout=24mm"`;'
            ' two that cross are one text, `"arc:... + arc:...,along=short"`.'
        ),
    ] = "none"
    opening: Annotated[
        OpeningText,
        Said(
            'A hole cut into it: `"round:diameter=80mm,flange=8mm"`, `"rectangle:width=100mm,height=60mm,corner=12mm"`'
            " (width along the beads), with x= and y= of its middle, from the start and the left edge, where it is not "
            "the panel's."
        ),
    ] = "none"
    along: Annotated[str, Said("Side the beads run along: `long` or `short`.")] = "long"
    edges: Annotated[
        str,
        Said(
            'How the edges are held: `simple`, `clamped`, or against turning by `"500 N*m/rad/m"`; each on its own: '
            '`"clamped, left=simple"` (start, end, left, right, looking along the beads).'
        ),
    ] = "simple"
    # defaults are texts, validated like the rest
    pressure: Annotated[Pressure, Said("Service pressure over the whole panel.")] = "0 kPa"  # type: ignore[assignment]
    patch: Annotated[PatchForce, Said("Service force, such as a foot, at the middle or at {patch_at}.")] = "0 N"  # type: ignore[assignment]
    patch_size: Annotated[
        Sides | None,
        Said(
            'What the force stands on, along and across the beads: `"80 50 mm"`, or `"50 mm"` for a square.',
            absent="50 x 50 mm",
        ),
    ] = None
    patch_at: Annotated[
        tuple[Place, ...],
        Said(
            'Where the force stands, along the beads from the start and across them from the left edge: `"150 100 mm"`;'
            " one force at each place.",
            absent="the middle",
        ),
    ] = ()
    shear: Annotated[ShearFlow, Said('Service shear flow in the plane of the sheet, `"10 N/mm"`.')] = "0 N/mm"  # type: ignore[assignment]
    compression: Annotated[
        Thrusts,
        Said(
            'Service thrust that pushes opposite edges together, along and across the beads: `"12 4 N/mm"`, or '
            '`"12 N/mm"` along.'
        ),
    ] = "0 0 N/mm"  # type: ignore[assignment]
    in_plane: Annotated[
        str,
        Said(
            "The edges in the plane of the sheet: `free` to draw in, `straight` as they do, or `held` by what stands "
            "round it.",
            absent="free, and the pull of held edges judged as well",
        ),
    ] = ""
    crowns: Annotated[str, Said("Beads rise `towards` what presses on the panel, or `away` from it.")] = "towards"
    permanent_set_limit: Annotated[
        Length | None, Said("What may stay after the load.", absent="half the thickness")
    ] = None
    limit_deflection: Annotated[Length | None, Said("Greatest deflection under all loads together.")] = None
    limit_frequency: Annotated[Frequency | None, Said('Least first frequency, `"25 Hz"`.')] = None
    mass_added: Annotated[
        Laid, Said('Carpet, damping mat or load that swings with the panel, per area: `"4 kg/m2"`.')
    ] = "0 kg/m2"  # type: ignore[assignment]
    load_range: Annotated[
        float, Said("Part of the load that comes and goes, for {cycles}: 1 from nothing, 2 reversing.")
    ] = 1.0
    fine: Annotated[bool, Said("Grids twice as fine: slower, closer.")] = False
    rolled: Annotated[str, Said("The sheet while it is beaded: `held`, or `loose`, so that it draws in.")] = "held"
    part: Annotated[
        str | None,
        Said("The `[[part]]` that is beaded: its blank grows by what the beads draw in.", option=None),
    ] = None
    _pattern: Bead | None = PrivateAttr(default=None)
    _cross: Bead | None = PrivateAttr(default=None)
    _hole: Opening | None = PrivateAttr(default=None)
    _turns: tuple[float, float, float, float] = PrivateAttr(default=(0.0, 0.0, 0.0, 0.0))
    _brief: bool = PrivateAttr(default=False)

    @model_validator(mode="before")
    @classmethod
    def _read(cls, data: Any) -> Any:
        if not isinstance(data, Mapping):
            return data
        read = dict(data)
        for name in ("along", "in_plane", "crowns", "rolled"):
            if isinstance(read.get(name), str):
                read[name] = read[name].strip().lower()
        if isinstance(read.get("bead"), str) and read["bead"].strip().lower() in FLAT:
            read["bead"] = FLAT[0]
        elif isinstance(read.get("bead"), str):
            try:
                own = _beads_of(read["bead"])[0].way
            except InputError:
                own = ""  # told below, in its own words
            if own:
                read["along"] = own
        if isinstance(read.get("patch_size"), str):
            try:
                side = parse(read["patch_size"], "length")
                read["patch_size"] = f"{side!r} {side!r} mm"
            except InputError:
                pass  # two sides, or a fault that the field tells in its own words
        if isinstance(read.get("compression"), str):
            try:
                thrust = parse(read["compression"], "line load", signed=True)
                read["compression"] = f"{thrust!r} 0 N/mm"
            except InputError:
                pass  # two thrusts, or a fault that the field tells in its own words
        return read

    @model_validator(mode="after")
    def _consistent(self) -> Any:
        for side in self.size:
            if not within(side, *SIDE):
                raise refuse(
                    f"size: a side of {mm(side):g} is out of proportion for a panel; accepted is "
                    f"{mm(SIDE[0], ' to ', SIDE[1]):g}"
                )
        if above(max(self.size), MOST_ASPECT * min(self.size)):
            raise refuse(
                f"size: {mm(self.size[0], ' x ', self.size[1]):g} is more than {MOST_ASPECT:g} times as long as wide; "
                "that is a strip: give the piece between two supports"
            )
        words = (("along", ALONG), ("in_plane", IN_PLANE), ("crowns", CROWNS),
                 ("rolled", ROLLED))  # fmt: skip
        for name, accepted in words:
            word = getattr(self, name)
            if word not in accepted and not (name == "in_plane" and word == ""):
                raise refuse(f"{name}: '{word}' is neither {' nor '.join(accepted)}{nearest(word, accepted)}")
        self._turns = edges_of(self.edges)
        if any(self.compression) and self.in_plane == "held":
            raise refuse(
                "in_plane: edges that are held in the plane take the compression themselves and cannot be pushed in; "
                "write 'straight' or 'free', or leave it out (free)"
            )
        if above(max(self.compression), MOST_THRUST):
            raise refuse(
                f"compression: {Measure(max(self.compression), unit='N/mm'):g} is out of proportion for a sheet; "
                "accepted is "
                f"{Measure(0, ' to ', MOST_THRUST, unit='N/mm'):g}"
            )
        thick = self.sheet.thickness
        if above(thick, min(self.size) / 10):
            raise refuse(
                f"sheet: {mm(thick):g} is no thin sheet on a panel {mm(min(self.size)):g} wide; plate formulas hold up "
                "to a tenth of the shorter side"
            )
        if self.bead not in FLAT:
            try:
                self._pattern, self._cross = self._read_beads()
            except InputError as error:
                part = error.field.removeprefix("bead").strip()
                raise refuse(f"bead: {f'{part}: ' if part else ''}{error.message}") from error
        if self.opening.strip().lower() != FLAT[0]:
            try:
                self._hole = parse_opening(self.opening, self.along_beads, self.across_beads)
            except InputError as error:
                raise refuse(f"opening: {error.message}") from error
        if self.patch_size is not None:
            self._check_patch(self.patch_size)
        self._check_places()
        return self

    def _check_places(self) -> None:
        """Every patch stands on the panel."""
        if self.patch_at and not self.patch:
            raise refuse("patch_at: says where a patch stands, but no 'patch' is given; give its force")
        if len(self.patch_at) > MOST_PATCHES:
            raise refuse(f"patch_at: {len(self.patch_at)} places are too many; up to {MOST_PATCHES} are worked out")
        sides = (self.along_beads, self.across_beads)
        for place in self.patch_at:
            for at, side, foot, where in zip(place, sides, self.foot, ("along", "across")):
                if below(at, foot / 2) or above(at, side - foot / 2):
                    raise refuse(
                        f"patch_at: {mm(at):g} {where} the beads is off the panel for a patch {mm(foot):g} wide there; "
                        f"accepted is {mm(foot / 2, ' to ', side - foot / 2):g} (or give a smaller 'patch_size')"
                    )

    def _read_beads(self) -> tuple[Bead, Bead | None]:
        """The beads along `along`, and those that cross them."""
        (first, _), *more = _beads_of(self.bead)
        pattern = fitted(first, self.sheet.t, self.along, self.along_beads, self.across_beads)
        if not more:
            return pattern, None
        ((second, way),) = more
        other = ALONG[1 - ALONG.index(self.along)]
        if (way or self.along) != other:
            raise InputError(
                f"both beads run along the {self.along} side; beads that cross run one along either: write "
                f"along={other} on one of them, or give one set of beads"
            )
        cross = fitted(second, self.sheet.t, other, self.across_beads, self.along_beads)
        for bead in (pattern, cross):
            slope = flank_angle(bead, self.sheet.t)
            if above(slope, crossing.STEEPEST_CROSSED):
                raise InputError(
                    f"the flanks of {bead} stand at {slope:.3g} degrees; another bead cannot be rolled over flanks "
                    f"steeper than {crossing.STEEPEST_CROSSED:g}: make it shallower or wider, or leave one way out"
                )
        return pattern, cross

    def _check_patch(self, sides: tuple[float, ...]) -> None:
        for side, room, where in zip(sides, (self.along_beads, self.across_beads), ("along", "across")):
            if below(side, 1.0):
                raise refuse(
                    f"patch_size: {mm(side):g} is too small for a loaded area; leave it out, or give {mm(1)} or more"
                )
            if above(side, room):
                raise refuse(
                    f"patch_size: {mm(side):g} {where} the beads is larger than the panel, {mm(room):g} there; "
                    "give what the load stands on, or use a pressure"
                )

    @property
    def brief(self) -> bool:
        """Whether what only informs and is long to work out, a heel on it, is left out of its result."""
        return self._brief

    def briefly(self) -> Self:
        """The same panel, of which only what may govern is asked."""
        made = self.model_copy()
        made._brief = True
        return made

    def but(self, **changes: Any) -> Self:
        """The same with some fields changed; what is asked of it stays."""
        made = super().but(**changes)
        return made.briefly() if self._brief else made

    @property
    def along_beads(self) -> float:
        """The side the beads run along [mm]."""
        return max(self.size) if self.along == "long" else min(self.size)

    @property
    def across_beads(self) -> float:
        """The other side [mm]."""
        return min(self.size) if self.along == "long" else max(self.size)

    @property
    def pattern(self) -> Bead | None:
        """The bead; None for a flat sheet."""
        return self._pattern

    @property
    def cross(self) -> Bead | None:
        """The bead that runs across `pattern`, along the other side; None where there is none."""
        return self._cross

    @property
    def beads(self) -> tuple[tuple[str, Bead], ...]:
        """Every set of beads: the side it runs along, and one of it."""
        other = ALONG[1 - ALONG.index(self.along)]
        both = ((self.along, self._pattern), (other, self._cross))
        return tuple((way, bead) for way, bead in both if bead is not None)

    @property
    def hole(self) -> Opening | None:
        """The opening; None for a whole panel."""
        return self._hole

    @cached_property
    def strip(self) -> Strip | None:
        """Section of one pitch, of the steel that carries; None for a flat sheet."""
        return None if self._pattern is None else section(self._pattern, self.sheet.t)

    @cached_property
    def cross_strip(self) -> Strip | None:
        """Section of one pitch of the beads that run across; None where there are none."""
        return None if self._cross is None else section(self._cross, self.sheet.t)

    @cached_property
    def _developed(self) -> tuple[float, float]:
        """Area of the sheet over that of the panel, and over that of the squares where beads cross."""
        if self.strip is None:
            return 1.0, 1.0
        if self.cross_strip is None:
            return self.strip.developed, 1.0
        return crossing.developed(self.strip, self.cross_strip)

    @property
    def developed(self) -> float:
        """Area of the sheet over that seen from above, so also its mass over that of flat sheet."""
        return self._developed[0]

    @property
    def crossing_growth(self) -> float:
        """By how much the sheet is larger than seen from above where beads cross, as a part; 0 where none do."""
        return self._developed[1] - 1

    @property
    def bead_places(self) -> tuple[float, ...]:
        """Middles of the beads from one edge [mm]: as many as fit with half a width to spare, centred."""
        return middles(self._pattern, self.across_beads)

    @property
    def cross_places(self) -> tuple[float, ...]:
        """Middles of the beads that run across, from the start [mm]."""
        return middles(self._cross, self.along_beads)

    @cached_property
    def making(self) -> Making | None:
        """How the beads strain the sheet; None for a flat sheet."""
        return self._made(self._pattern, self.strip)

    @cached_property
    def cross_making(self) -> Making | None:
        """The same of the beads that run across."""
        return self._made(self._cross, self.cross_strip)

    def _made(self, bead: Bead | None, strip: Strip | None) -> Making | None:
        if bead is None or strip is None:
            return None
        return Making(strip, self.rolled == "held", bead.ends[1])

    @property
    def draw_in(self) -> float:
        """What all beads together draw in across them [mm] when nothing stretches: 0 for a flat sheet."""
        return _drawn(self.strip, len(self.bead_places))

    @property
    def draw_in_along(self) -> float:
        """The same of the beads that run across, so along the others [mm]."""
        return _drawn(self.cross_strip, len(self.cross_places))

    @property
    def turns(self) -> tuple[float, float, float, float]:
        """How stiffly start, end, left and right are held against turning [N mm/rad per mm]; inf is clamped."""
        return self._turns

    @property
    def edges_alike(self) -> bool:
        """Whether all four edges are simple, or all clamped, as the series of plates take them."""
        return set(self.turns) in ({0.0}, {float("inf")})

    @property
    def edge(self) -> Edge:
        """The kind of all four edges for the series of plates: simple unless all are clamped."""
        return "clamped" if min(self.turns) == float("inf") else "simple"

    @property
    def places(self) -> tuple[tuple[float, float], ...]:
        """Middles of the patches [mm], along the beads and across them."""
        return tuple((x, y) for x, y in self.patch_at) or ((self.along_beads / 2, self.across_beads / 2),)

    @property
    def centred(self) -> bool:
        """Whether the only patch stands at the middle."""
        (x, y), *more = self.places
        middle = abs(x - self.along_beads / 2) < 1e-6 * self.along_beads
        return middle and abs(y - self.across_beads / 2) < 1e-6 * self.across_beads and not more

    @property
    def drawing_in(self) -> Inplane:
        """The edges in the plane of the sheet: as said, else free, which is the weakest."""
        return self.in_plane or "free"  # type: ignore[return-value]

    @property
    def foot(self) -> tuple[float, float]:
        """What the patch stands on for stress [mm]: as given, else 50 x 50 mm or what the panel has room for."""
        if self.patch_size is not None:
            return self.patch_size[0], self.patch_size[1]
        return min(FOOT, self.along_beads), min(FOOT, self.across_beads)

    @property
    def loads_text(self) -> str:
        """The loads in words."""
        words = []
        if self.pressure:
            words.append(f"{Measure(self.pressure * 1e3, unit='kPa'):g}")
        if self.patch:
            on = f" on {mm(self.foot[0], ' x ', self.foot[1]):g}" if self.patch_size is not None else ""
            at = "at the middle" if self.centred else " and ".join(f"at {mm(x, ', ', y):g}" for x, y in self.places)
            words.append(f"{newtons(self.patch):g} {at}{on}")
        if self.shear:
            words.append(f"{Measure(self.shear, unit='N/mm'):g} shear in plane")
        for thrust, way in zip(self.compression, ("along", "across")):
            if thrust:
                words.append(f"{Measure(thrust, unit='N/mm'):g} pushed in {way} the beads")
        return ", ".join(words) or "no load"


def _beads_of(text: str) -> tuple[crossing.Along, ...]:
    """The beads that a text names, as they were made where a search spelled it."""
    return text.made if isinstance(text, Spelled) else crossing.parse_beads(text)


def _drawn(strip: Strip | None, count: int) -> float:
    """What so many beads draw in across them [mm]."""
    return 0.0 if strip is None else float(DRAW_IN(n=count, L_b=strip.bead_length, b=strip.bead.width))
