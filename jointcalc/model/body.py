"""What a builder says of the body as a whole, and of the tubes that hold it while the floor is out."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any, ClassVar

from pydantic import PrivateAttr, model_validator

from jointcalc.errors import InputError, nearest
from jointcalc.model.fields import Described, Length, Numbers, Said, refuse
from jointcalc.model.sheet import Sheet
from jointcalc.quantity.compare import at_least, within
from jointcalc.quantity.parse import parse, parse_range
from jointcalc.quantity.sentence import mm
from jointcalc.statics.body import SIDES, Box
from jointcalc.statics.body_bending import Weight
from jointcalc.tables.store import load

MOST_MASSES = 200
MOST_TUBES = 100
ROADS = {"smooth": ("low", "vertical symmetric"), "rough": ("high", "vertical symmetric"),
         "off-road": ("high", "vertical off-road")}  # fmt: skip
"""Road -> the end of the torsion row that is taken, and the row for bending, of `vehicle_dynamic_factors`."""
SHEETS = {
    "floor": "floor_sheet", "roof": "roof_sheet", "left side": "side_sheet", "right side": "side_sheet",
    "front": "front_sheet", "rear": "rear_sheet", "sill": "sill_sheet", "tunnel": "tunnel_sheet",
    "tunnel plate": "tunnel_plate",
}  # fmt: skip
"""Part of a body -> the key that names its sheet."""

Size = Annotated[tuple[float, ...], Numbers("length", 3, signed=False, by=True)]
Pair = Annotated[tuple[float, ...], Numbers("length", 2, signed=False)]


class Body(Described):
    """A body as a box of sheets between its ends, with sills and a tunnel, on two axles.

    `wheelbase` and `track` (one, or front and rear) are measured on the ground.  `mass` is a list such as
    `"350 kg @ 200 mm"` or `"600 kg @ -700 mm..3300 mm"`: what, and how far behind the front axle.  `size` is length,
    width and height of the box between its front and rear sheet.  A face whose sheet is named carries shear; one in
    `rings` is a frame round a window or a door; one that is neither is open.  `sill` and `tunnel` are width and height;
    `tunnel_plate` closes the tunnel from below.  `opening` (along, across) is a hole in the floor.

    `road` (smooth, rough, off-road) chooses the dynamic factors; `bending` names cases of the file that replace the one
    for bending.  `twist` names the case of one wheel on a kerb, whose load factor then counts.
    """

    word: ClassVar[str] = "body"
    id: Annotated[str, Said("Name of the {item}, short and unique in the file.")]
    title: Annotated[str, Said("What it is.")] = ""
    reason: Annotated[str, Said("Why it is described so.")] = ""
    wheelbase: Annotated[Length, Said("Axle to axle.")]
    track: Annotated[Pair, Said('Wheel to wheel: one, or front and rear, `"1480 1460 mm"`.')]
    mass: Annotated[
        tuple[str, ...],
        Said('What, and how far behind the front axle: `"350 kg @ 200 mm"`, `"600 kg @ -700 mm..3300 mm"`.'),
    ]
    size: Annotated[Size, Said("Length, width and height of the box between its front and rear sheet.")]
    floor_sheet: Annotated[Sheet | None, Said("Sheet of the floor.", absent="open, as each face is")] = None
    roof_sheet: Annotated[Sheet | None, Said("Sheet of the roof.")] = None
    side_sheet: Annotated[Sheet | None, Said("Sheet of both sides.")] = None
    front_sheet: Annotated[Sheet | None, Said("Bulkhead in front.")] = None
    rear_sheet: Annotated[Sheet | None, Said("Bulkhead behind.")] = None
    rings: Annotated[
        tuple[str, ...],
        Said(f"Faces that are a frame round a window or door: {', '.join(f'`{side}`' for side in SIDES)}."),
    ] = ()
    sill: Annotated[Pair | None, Said("Width and height of each sill's box.")] = None
    sill_sheet: Annotated[Sheet | None, Said("Sheet of the sills.")] = None
    tunnel: Annotated[Pair | None, Said("Width and height of the tunnel.")] = None
    tunnel_sheet: Annotated[Sheet | None, Said("Sheet of the tunnel.")] = None
    tunnel_plate: Annotated[Sheet | None, Said("Sheet that closes the tunnel from below.", absent="open")] = None
    opening: Annotated[Pair | None, Said("Hole in the floor: along and across.")] = None
    road: Annotated[str, Said("`smooth`, `rough` or `off-road`: which dynamic factors.")] = "rough"
    bending: Annotated[
        tuple[str, ...], Said("Ids of cases with an upright acceleration, in place of the road's factor.")
    ] = ()
    twist: Annotated[str, Said("Id of the case of one wheel on a kerb, for its name and load factor.")] = ""
    _masses: tuple[tuple[float, float, float], ...] = PrivateAttr(default=())
    _box: Box | None = PrivateAttr(default=None)

    @property
    def unjudged(self) -> str:
        """What a project's answer says of it."""
        return "gives loads; the body as a whole is not judged, only the items that take a load from it"

    @model_validator(mode="before")
    @classmethod
    def _read(cls, data: Any) -> Any:
        if not isinstance(data, Mapping):
            return data
        read = dict(data)
        track = read.get("track")
        if isinstance(track, str) and len(track.split()) == 2:
            number, unit = track.split()
            read["track"] = f"{number} {number} {unit}"
        elif isinstance(track, int | float) and not isinstance(track, bool):
            read["track"] = (track, track)
        return read

    @model_validator(mode="after")
    def _consistent(self) -> Any:
        for name, low in (("wheelbase", 500.0),):
            if not at_least(getattr(self, name), low):
                raise refuse(f"{name}: {mm(getattr(self, name)):g} is no {name} of a vehicle; from {mm(low):g} up")
        if any(not within(b, 300.0, 5000.0) for b in self.track):
            raise refuse(f"track: a track lies between {mm(300, ' and ', 5000)}, such as '1480 mm' or '1480 1460 mm'")
        for face in self.rings:
            if face not in SIDES:
                raise refuse(
                    f"rings: '{face}' is no face of the box{nearest(face, SIDES)} (they are: {', '.join(SIDES)})"
                )
        if self.road not in ROADS:
            raise refuse(f"road: '{self.road}' is not known{nearest(self.road, ROADS)} (known: {', '.join(ROADS)})")
        for part in ("sill", "tunnel"):
            size, sheet = getattr(self, part), getattr(self, f"{part}_sheet")
            if (size is None) != (sheet is None):
                missing = f"{part}_sheet" if sheet is None else part
                what = "the sheet it is made of" if sheet is None else "its width and height"
                raise refuse(f"{missing}: is missing; a {part} needs {what}")
        if self.tunnel_plate is not None and self.tunnel is None:
            raise refuse("tunnel: is missing; 'tunnel_plate' closes a tunnel of a stated width and height")
        if self.opening is not None and self.floor_sheet is None:
            raise refuse("floor_sheet: is missing; 'opening' is a hole in the floor")
        if len(self.mass) > MOST_MASSES:
            raise refuse(f"mass: {len(self.mass)} given; accepted is up to {MOST_MASSES}")
        try:
            self._masses = tuple(_placed(text) for text in self.mass)
            self._box = self._made()
        except InputError as error:
            raise refuse(error.marked) from error
        return self

    def _made(self) -> Box:
        sheets = {part: getattr(self, key) for part, key in SHEETS.items() if getattr(self, key) is not None}
        first = next(iter(sheets.values()), None)
        if first is None:
            raise InputError("is missing; no sheet of the body is named, so nothing carries", field="floor_sheet")
        metal = first.material
        faces = {face: sheets[face].t for face in SIDES if face in sheets and face not in self.rings}
        ratios = {part: sheet.material.E / metal.E for part, sheet in sheets.items() if sheet.material.E != metal.E}

        def profile(part: str) -> tuple[float, float, float] | None:
            size = getattr(self, part)
            return None if size is None else (size[0], size[1], sheets[part].t)

        long, wide, high = self.size
        return Box(
            long, wide, high, faces, frozenset(self.rings), profile("sill"), profile("tunnel"),
            sheets["tunnel plate"].t if "tunnel plate" in sheets else None,
            None if self.opening is None else (self.opening[0], self.opening[1]), ratios,
            metal.E / (2 * (1 + metal.nu)),
        )  # fmt: skip

    @property
    def box(self) -> Box:
        """The box for `statics.body`."""
        assert self._box is not None
        return self._box

    def weights(self, g: float) -> list[Weight]:
        """The masses as weights [N] in a field of `g` [mm/s²]."""
        return [Weight(mass * g, first, last) for mass, first, last in self._masses]

    @property
    def twist_factor(self) -> float:
        """Dynamic factor on the torque, of `vehicle_dynamic_factors`."""
        return load("vehicle_dynamic_factors").find(case="torsion").need(ROADS[self.road][0])

    @property
    def bending_factor(self) -> float:
        """Dynamic factor on the weight, of `vehicle_dynamic_factors`."""
        end, row = ROADS[self.road]
        return load("vehicle_dynamic_factors").find(case=row).need(end)


def _placed(text: str) -> tuple[float, float, float]:
    """(mass [t], from, to [mm behind the front axle]) of `350 kg @ 200 mm` or `600 kg @ -700 mm..3300 mm`."""
    example = "write it like '350 kg @ 200 mm' or '600 kg @ -700 mm..3300 mm', behind the front axle"
    size, at, place = str(text).partition("@")
    if not at:
        raise InputError(f"'{text}' does not say where; {example}", field="mass")
    mass = parse(size.strip(), "mass", field="mass")
    if ".." not in place:
        where = parse(place.strip(), "length", field="mass", signed=True, example="200 mm")
        return mass, where, where
    start, end = parse_range(place, "length", field="mass", signed=True, example="-700 mm")
    return mass, start, end


class Bracing(Described):
    """Temporary tubes that hold a face of the body in shape while its sheet is out.

    `body` is the id of a `[[body]]`, `face` which of its faces is out; `corner` is where that face begins in the plan
    (the corner with the least x and y; for a side or an end the least height too).  `tubes` are the ids of braces, one
    for each tube: their profiles say how stiff they are.  A brace's `place` says where it runs in the floor's plan;
    for a face that is not level `points` says it, for each tube, as along and up from the corner of the face.

    `share` is the part of the greatest static torque that the tubes are to hold, `factor` the dynamic factor on it: 1
    for a vehicle that stands.
    """

    word: ClassVar[str] = "bracing"
    id: Annotated[str, Said("Name of the {item}, short and unique in the file.")]
    title: Annotated[str, Said("What it is.")] = ""
    reason: Annotated[str, Said("Why it is made so.")] = ""
    body: Annotated[str, Said("Id of the `[[body]]`.")]
    face: Annotated[str, Said("The face whose sheet is out.")] = "floor"
    corner: Annotated[
        Annotated[tuple[float, ...], Numbers("length", 2)],
        Said("Where that face begins in the plan: its least x and y."),
    ] = "0 0 mm"  # type: ignore[assignment]  # as of all defaults
    tubes: Annotated[tuple[str, ...], Said("Ids of the braces.")]
    points: Annotated[
        tuple[Annotated[tuple[float, ...], Numbers("length", 4)], ...],
        Said(
            '`"x1 y1 x2 y2 mm"` for each tube, along and up from the corner of the face.',
            absent="the `place` of each brace",
        ),
    ] = ()
    share: Annotated[float, Said("Part of the torque the tubes are to hold; 1 is all of it.")] = 1.0
    factor: Annotated[float, Said("Dynamic factor on it; 1 is standing.")] = 1.0

    @property
    def unjudged(self) -> str:
        """What a project's answer says of it."""
        return "gives its tubes their loads; the places of the body they are fixed to are judged where they are items"

    @model_validator(mode="after")
    def _consistent(self) -> Any:
        if self.face not in SIDES:
            raise refuse(f"face: '{self.face}' is no face of the box{nearest(self.face, SIDES)} ({', '.join(SIDES)})")
        if not 1 <= len(self.tubes) <= MOST_TUBES:
            raise refuse(f"tubes: {len(self.tubes)} given; accepted is 1 to {MOST_TUBES}")
        if len(set(self.tubes)) < len(self.tubes):
            raise refuse("tubes: one of them is named twice; each tube is a brace of its own")
        if self.points and len(self.points) != len(self.tubes):
            raise refuse(f"points: {len(self.points)} given for {len(self.tubes)} tubes; one line for each, in order")
        if self.face not in ("floor", "roof") and not self.points:
            raise refuse(f"points: is missing; the {self.face} stands upright, say where each tube runs in it")
        if not 0.0 < self.share <= 1.0:
            raise refuse(f"share: {self.share:g}; it is the part of the torque that is held, above 0 and up to 1")
        if not 1.0 <= self.factor <= 5.0:
            raise refuse(f"factor: {self.factor:g} is no dynamic factor; accepted is 1 to 5")
        return self
