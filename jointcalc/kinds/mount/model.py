"""A thing of some mass, its feet, and what holds them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, Annotated, Any, ClassVar, Literal, Self

from pydantic import Field as Default
from pydantic import PrivateAttr, create_model, model_validator

from jointcalc.errors import InputError, InputErrors
from jointcalc.formula.safety import GAMMA_F
from jointcalc.model.bolts import FastenerGroup, Place, PlateSize, Point, Turn, Vector
from jointcalc.model.fields import Item, Mass, Numbers, Said, refuse
from jointcalc.model.given import Context
from jointcalc.model.project import FORWARD
from jointcalc.model.sheet import Sheet
from jointcalc.quantity.compare import above, within
from jointcalc.quantity.parse import as_written
from jointcalc.registry import BY_KEY
from jointcalc.statics.feet import Feet

MOST_FEET = 100
MOST_CASES = 20

Felt = Annotated[tuple[float, ...], Numbers("acceleration", 3)]
"""x y z of an acceleration [mm/s²]."""
Spring = Annotated[tuple[float, ...], Numbers("line load", 3, signed=False)]
"""Stiffness of a foot along x, y and z [N/mm]."""

FASTENING: Mapping[str, str] = {
    "sheets": 'A sheet under the feet, from the head\'s side: `"1.2 mm"`, `"18 ga"`; one to three.',
    "bolt": 'Bolt of every foot, size and class: `"M8 8.8"`, `"7/16-20 grade 5"`.',
    "rivet": 'Blind rivet of every foot: `"4.8 mm steel"`.',
    "rivnut": "",
    "pulled": "",
    "hole_diameter": "",
    "slot": "",
    "slot_along": "",
    "edge": "Least distance from a bolt to an edge of the sheet.",
    "outline": 'Two corners of the sheet, `"x1 y1 x2 y2 mm"` from the foot, in place of {edge}; once, or per sheet.',
    "width": "",
    "washer": "",
    "plate": 'Spreader plate under the nut of every foot: `"60 60 4 mm"`.',
    "plate_grade": "",
    "plate_hole": "",
    "countersunk": "",
    "countersink": "",
    "packing": "",
    "between": "Distance between the rails or ribs that carry the sheet on both sides of a foot.",
    "dish": "How far the sheet may dish for good under a foot.",
    "upright": "Of a bracket's foot: from the bolt to the face of its upright, for bending and prying.",
    "pull": "How the pull comes to a head: `even`, or `one-sided` (a bracket's leg).",
    "hole_growth": "",
    "threads": "",
    "insert_tension": "",
    "insert_shear": "",
}
"""Fields of a fastener group that a mount takes for the bolts of its feet -> what it says of them in other words."""


def _fastening() -> dict[str, Any]:
    """Those fields as the group of fasteners has them, none of them required."""
    made: dict[str, Any] = {}
    for name, help_ in FASTENING.items():
        about = FastenerGroup.model_fields[name]
        default = () if name == "sheets" else about.default
        own = [replace(part, help=help_ or part.help) if isinstance(part, Said) else part for part in about.metadata]
        made[name] = (Annotated[about.annotation, *own], default)
    return made


if TYPE_CHECKING:

    class _OnBolts(Item):
        sheets: tuple[Sheet, ...] = ()
        plate: PlateSize | None = None

else:
    _OnBolts = create_model("_OnBolts", __base__=Item, __module__=__name__, **_fastening())

AXES: Mapping[str, tuple[int, float]] = {
    "z": (2, 1.0), "-z": (2, -1.0), "x": (0, 1.0), "-x": (0, -1.0), "y": (1, 1.0), "-y": (1, -1.0),
}  # fmt: skip
"""Way a surface faces -> (axis, sense)."""

ASKS: Mapping[str, str] = {
    "mass": "the mass of the thing ('mass'), such as '18 kg'",
    "centre": "where its centre of mass is ('centre'), such as '150 180 260 mm'",
    "at": "where the load acts ('at'), such as '150 100 400 mm'",
    "lap": "where the lap belt pulls ('lap'), such as '0 0 250 mm'",
    "torso": "where the shoulder belt pulls ('torso'), such as '100 0 700 mm'",
    "occupants": "how many sit there ('occupants'), such as 1",
    "vehicle_mass": "the mass of the vehicle ('vehicle_mass'), such as '1200 kg'",
    "axle_share": "the part of it on the heavier axle ('axle_share'), such as 0.55",
}
"""What a case may ask for -> in words."""


class Mount(_OnBolts):
    """A thing of some mass with its centre on feet, under what it feels and what pulls at it.

    Axes are those of the plan: x and y in the floor, z up.  A foot is a place where one bolt holds or something stands:
    it takes forces and no moment; forces of the mount on the structure come out.  `acceleration` is what the thing
    feels (`0 0 -3 g` presses it down with three times its weight), or `cases` name what it stands under: cases of the
    project, or on the command line of the table `cases`.  `force`, `at`, `moment` act besides.

    `faces` is the way the surface faces that the feet stand on: `z` a floor, `-z` a roof they hang from, `x` a wall.
    `resting` feet press and lift; they slide unless `located` (pins, a tray's rim) or by `friction`.  `stiffness` is
    along x, y, z, one for all feet or one each; without it the feet are rigid, that is, alike.

    What carries the feet: the bolts' own fields (`bolt`, `sheets`, `plate` ... as of a fastener group, the same at
    every foot; `holes` where a foot has several), or in a project ids of items: `bolts`, `fillet`, `brace`, each one
    for all feet or one for each ("" for none).
    """

    kind: ClassVar[str] = "mount"
    word: ClassVar[str] = "thing"
    loading: ClassVar[frozenset[str]] = frozenset(
        (
            "mass",
            "centre",
            "acceleration",
            "cases",
            "force",
            "at",
            "moment",
            "lap",
            "torso",
            "occupants",
            "vehicle_mass",
            "axle_share",
            "forward",
            "faces",
        )
    )
    judging: ClassVar[frozenset[str]] = frozenset(("dish", "hole_growth", "pull"))
    one_weld: ClassVar[str] = "bolt"
    feet: Annotated[tuple[Place, ...], Said('A foot, `"x y z mm"`; x, y in the floor, z up.', option="--foot")]
    mass: Annotated[Mass | None, Said('Mass of the thing: `"18 kg"`.')] = None
    centre: Annotated[Place | None, Said('Its centre of mass, `"x y z mm"`.')] = None
    acceleration: Annotated[
        Felt | None, Said('What it feels: `"0 0 -3 g"` presses it down with three times its weight.')
    ] = None
    cases: Annotated[
        tuple[str, ...],
        Said(
            "Load case by name: of `jointcalc tables show cases` on the command line, of the file in a file.",
            option="--case",
            absent="in a file `case`, else every case that says what a thing feels",
        ),
    ] = ()
    force: Annotated[Vector | None, Said('A service force besides, `"x y z kN"`.')] = None
    at: Annotated[Place | None, Said('Where it, a person or a jack acts: `"x y z mm"`.')] = None
    moment: Annotated[Turn | None, Said('A service moment about x, y, z besides: `"0 0 50 N*m"`.')] = None
    lap: Annotated[Place | None, Said('Where a lap belt pulls, `"x y z mm"`.')] = None
    torso: Annotated[Place | None, Said('Where a shoulder belt pulls, `"x y z mm"`.')] = None
    occupants: Annotated[int | None, Said("How many sit or stand there.")] = None
    vehicle_mass: Annotated[Mass | None, Said('Mass of the vehicle, for a jack: `"1200 kg"`.')] = None
    axle_share: Annotated[float | None, Said("Part of it on the heavier axle, for a jack: 0.55.")] = None
    forward: Annotated[
        str,
        Said("The direction of the plan in which it drives: `x`, `-x`, `y` or `-y`; in a file `[project]` says it."),
    ] = "-x"
    faces: Annotated[
        Literal["z", "-z", "x", "-x", "y", "-y"],
        Said(
            "Which way the surface faces that the feet stand on: `z` a floor, `-z` a roof, `x`, `-x`, `y`, `-y` a wall."
        ),
    ] = "z"
    resting: Annotated[bool, Said("The feet only rest: they press, and lift.")] = False
    located: Annotated[bool, Said("Resting feet are held sideways by pins, stops or a rim.")] = False
    friction: Annotated[float | None, Said("Friction of resting feet that nothing else holds sideways: 0.3.")] = None
    stiffness: Annotated[
        tuple[Spring, ...],
        Said('Stiffness of a foot along x, y, z: `"500 500 2000 N/mm"`; once, or per foot.', absent="rigid, all alike"),
    ] = ()
    holes: Annotated[
        tuple[Point, ...],
        Said(
            'A bolt of every foot, `"x y mm"` from it along the surface it stands on, where a foot has several.',
            option="--hole",
        ),
    ] = ()
    bolts: Annotated[
        tuple[str, ...],
        Said(
            'Ids of the bolts that hold the feet: one for all, or one for each foot (`""` for none); they take '
            "their load from it.",
            option=None,
        ),
    ] = ()
    fillet: Annotated[tuple[str, ...], Said("Ids of the welds that carry the feet, as {bolts}.", option=None)] = ()
    brace: Annotated[
        tuple[str, ...],
        Said(
            "Ids of the braces under the feet, as {bolts}; the joints at their ends come into the chain by their own "
            "`end_joints`.",
            option=None,
        ),
    ] = ()
    load_factor: Annotated[
        float,
        Said("Partial factor on a service load, γ_F.", absent="the case's; 1 for one that is ultimate, else 1.5"),
    ] = Default(default=None)  # type: ignore[assignment]  # `_filled` puts a number in before it is read
    _context: Context | None = PrivateAttr(default=None)
    _links: dict[str, Any] = PrivateAttr(default_factory=dict)

    @model_validator(mode="before")
    @classmethod
    def _filled(cls, data: Any) -> Any:
        if not isinstance(data, Mapping):
            return data
        factor = {} if data.get("load_factor") is not None else {"load_factor": GAMMA_F}
        return {**data, **factor}

    @model_validator(mode="after")
    def _consistent(self) -> Any:
        if not 1 <= len(self.feet) <= MOST_FEET:
            raise refuse(f"feet: {len(self.feet)} given; accepted is 1 to {MOST_FEET}")
        if len(self.cases) > MOST_CASES:
            raise refuse(f"cases: {len(self.cases)} given; accepted is up to {MOST_CASES}")
        if len(set(self.cases)) < len(self.cases):
            raise refuse("cases: one is named twice; leave it out")
        if self.load:
            raise refuse(
                "load: a mount gives loads and takes none; say what it feels: 'acceleration', 'cases', 'force'"
            )
        try:
            self.on_feet  # noqa: B018 - refused here, where the field can be named
        except InputError as error:
            raise refuse(f"{'stiffness' if error.field == 'stiffness' else 'feet'}: {error.message}") from error
        self._check_load()
        self._check_rest()
        self._check_below()
        return self

    def _check_load(self) -> None:
        if self.acceleration is not None:
            if self.cases:
                raise refuse("acceleration: a case says what the thing feels; give one of them")
            missing = [name for name in ("mass", "centre") if getattr(self, name) is None]
            if missing:
                raise refuse(f"{missing[0]}: what the thing feels needs {' and '.join(ASKS[name] for name in missing)}")
        if self.mass is not None and not above(self.mass, 0.0):
            raise refuse("mass: is nothing; leave it out, or weigh the thing")
        if self.force is not None and any(self.force) and self.at is None:
            raise refuse("at: the force has no point of action, and its arm loads the feet too; give x y z")
        if self.occupants is not None and not 1 <= self.occupants <= 10:
            raise refuse(f"occupants: {self.occupants}; accepted is 1 to 10")
        if self.axle_share is not None and not within(self.axle_share, 0.5, 1.0):
            raise refuse(f"axle_share: {self.axle_share:g}; the heavier axle carries 0.5 to 1 of the mass")
        if self.forward not in FORWARD:
            raise refuse(f"forward: '{self.forward}' is no direction of the plan; say {', '.join(FORWARD)}")

    def _check_rest(self) -> None:
        if not self.resting:
            extra = [n for n in ("located", "friction") if getattr(self, n)]
            if extra:
                raise refuse(f"{extra[0]}: is said of feet that only rest; set 'resting', or take it out")
            return
        if self.fastened or self.bolts or self.fillet:
            raise refuse("resting: feet that only rest have no bolts or welds; take 'resting' or those out")
        if self.located and self.friction is not None:
            raise refuse("friction: feet that are located do not slide; give one of them")
        if self.friction is not None and not within(self.friction, 0.01, 1.0):
            raise refuse(f"friction: {self.friction:g}; accepted is 0.01 to 1 (painted steel on steel about 0.2)")

    def _check_below(self) -> None:
        for name in ("bolts", "fillet", "brace"):
            ids = getattr(self, name)
            if len(ids) not in (0, 1, len(self.feet)):
                raise refuse(f"{name}: {len(ids)} ids for {len(self.feet)} feet; give one, or one for each")
        if self.fastened and self.bolts:
            raise refuse("bolts: the mount describes its bolts itself; take out the ids or its own bolt and sheets")
        given = [n for n in FASTENING if getattr(self, n) != type(self).model_fields[n].get_default()]
        if self.fastened:
            try:
                self.group(0, (0.0, 0.0, -1.0), 1.5)
            except InputError as error:  # told here, where the builder wrote it
                first = error.faults[0] if isinstance(error, InputErrors) else error
                raise refuse(f"{first.field}: {first.message}" if first.field else first.message) from error
        elif given:
            missing = "sheets" if not self.sheets else "bolt"
            raise refuse(f"{missing}: is missing; bolts are judged with the sheets they hold: give both")

    # --- what follows ---------------------------------------------------------------------------------------

    @property
    def fastened(self) -> bool:
        """Whether the mount itself says what bolts and sheets hold its feet."""
        return bool(self.sheets) and any(getattr(self, name) is not None for name in ("bolt", "rivet", "rivnut"))

    @property
    def places(self) -> tuple[tuple[float, ...], ...]:
        """The bolts of a foot, from it, along the surface [mm]: one at the foot where none is said."""
        return self.holes or ((0.0, 0.0),)

    @property
    def on_feet(self) -> Feet:
        """Its feet as springs, in axes of the plan."""
        return Feet.of(self.feet, self.stiffness or None)

    @property
    def axis(self) -> int:
        """Axis across the surface: 0, 1, 2 for x, y, z."""
        return AXES[self.faces][0]

    @property
    def side(self) -> float:
        """Sense in which the surface faces along that axis."""
        return AXES[self.faces][1]

    def local(self, force: Iterable[float]) -> tuple[float, float, float]:
        """A force on the structure in the axes of a foot's bolts [N]: along the surface, and z off it (it pulls)."""
        f = [float(v) + 0.0 for v in force]
        a, b = f[(self.axis + 1) % 3], f[(self.axis + 2) % 3]
        # right-handed about the way it faces
        return (a, b, f[self.axis]) if self.side > 0 else (a, -b + 0.0, -f[self.axis] + 0.0)

    def group(
        self, foot: int, force: tuple[float, float, float], load_factor: float, purpose: Iterable[str] = ()
    ) -> FastenerGroup:
        """The bolts of a foot (from 0) under a force in their own axes; `purpose` besides the mount's.

        Raises InputErrors.
        """
        data = {name: self._typed[name] for name in FASTENING if self._typed.get(name) not in (None, ())}
        shared = ("handbook_factor", "coupons")
        own = {name: getattr(self, name) for name in shared}
        with as_written(False):  # what the builder wrote was read with the mount; the rest is ours
            return FastenerGroup(
                **data,
                **own,
                id=f"{self.id} foot {foot + 1}",
                holes=self.places,
                force=force,
                at=(0.0, 0.0, 0.0),
                load_factor=load_factor,
                purpose=tuple(dict.fromkeys((*self.purpose, *purpose))),
            )

    @property
    def on_surface(self) -> list[tuple[float, float]]:
        """The feet in axes along the surface they stand on [mm]."""
        return [self.local(foot)[:2] for foot in self.feet]

    @property
    def pattern(self) -> FastenerGroup:
        """All bolts of all feet as one pattern on the surface."""
        group = self.group(0, (0.0, 0.0, -1.0), 1.5)
        places = tuple((x + a, y + b) for x, y in self.on_surface for a, b in self.places)
        return group.but(id=self.id, title=self.title, holes=places, edge=None, outline=None, width=None)

    # --- in a project -----------------------------------------------------------------------------------------

    @property
    def context(self) -> Context | None:
        """The project's cases and items around it; None outside a project."""
        return self._context

    @property
    def links(self) -> dict[str, Any]:
        """Results of what it stands on, by id; all mounts of a project keep them in one place."""
        return self._links

    def beneath(self, one: str) -> Item | None:
        """The item of that id in its project; None outside one."""
        return None if self.context is None else self.context.items.get(one)

    def inside(self, context: Context, links: dict[str, Any] | None = None) -> Self:
        """The same mount with its project around it; `links` keeps the results of its items, for all its mounts.

        Raises InputError where it says for itself what the project says.
        """
        if self.forward != "-x":
            raise InputError("is said once for the whole vehicle: [project] forward", field="forward")
        made = self.model_copy()
        made._context = context
        made._links = {} if links is None else links
        return made

    def but(self, **changes: Any) -> Self:
        """The same with some fields changed, in the same project."""
        made = super().but(**changes)
        made._context, made._links = self._context, self._links
        return made

    def below(self, foot: int) -> tuple[str, ...]:
        """Ids of the items that carry a foot (from 0), from the foot down."""
        named = (getattr(self, name) for name in ("bolts", "fillet", "brace"))
        found = (ids[foot if len(ids) > 1 else 0] for ids in named if ids)
        return tuple(one for one in found if one)

    def asked_by(self, item: Any) -> bool:
        """Whether an item says that its load comes from this mount."""
        said = (" ".join(text.split()).partition(" ")[2] for text in item.load)
        return any(words == self.id or words.startswith(f"{self.id} ") for words in said)

    def takers(self, foot: int) -> frozenset[str]:
        """Ids of the items that take the load of a foot (from 0): those it names, and those of other kinds that ask."""
        below = self.below(foot)
        if not any(self.below(n) for n in range(len(self.feet))) or self.context is None:
            return frozenset(below)
        asking = [i for i in self.context.items.values() if i is not self and self.asked_by(i)]
        return frozenset(below) | {i.id for i in asking if not getattr(self, BY_KEY[i.kind].name, ())}


def takes_none(item: Mount, given: Any) -> Any:
    """A mount gives loads and takes none."""
    raise InputError("a mount gives loads and takes none; say what it feels", field="load")
