"""Bolts, rivnuts or blind rivets in sheet, alone or in a group, under a force anywhere in space."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import combinations
from typing import Annotated, Any, ClassVar, Literal

from pydantic import PrivateAttr, model_validator

from jointcalc.errors import InputError
from jointcalc.model.fastener import READERS, Fastener
from jointcalc.model.fields import Diameter, Distance, Force, Item, Length, Numbers, PlanAxes, Said, refuse
from jointcalc.model.sheet import Sheet
from jointcalc.quantity.compare import above, at_least, at_most, below, within
from jointcalc.quantity.sentence import mm
from jointcalc.tables.materials import material

Point = Annotated[tuple[float, ...], Numbers("length", 2)]
"""x y of a hole [mm]."""
Place = Annotated[tuple[float, ...], Numbers("length", 3)]
"""x y z of a point of action [mm]."""
Vector = Annotated[tuple[float, ...], Numbers("force", 3)]
"""x y z of a force [N]."""
Turn = Annotated[tuple[float, ...], Numbers("moment", 3)]
"""Moment about x y z [N·mm]."""
PlateSize = Annotated[tuple[float, ...], Numbers("length", 3, signed=False, by=True)]
"""Length, width and thickness of a plate [mm]."""
Corners = Annotated[tuple[float, ...], Numbers("length", 4)]
"""x1 y1 x2 y2: two opposite corners of a rectangle [mm]."""

MOST_HOLES = 2000

EDGE_ASSUMED = 1.5
"""Diameters of its normal hole from a fastener's centre to every edge where the builder gives none: the least that
EN 1993-1-3 and AISI S100 take for a side edge, and what the trade takes for the least it drills."""
SUPPORTS_ASSUMED = 300.0
"""Distance between what carries the sheet that bolts pull on [mm], where the builder gives none: common practice."""
DISH_SERVICE, DISH_ULTIMATE = 5.0, 15.0
"""How far sheet may dish and stay so under a fastener [mm]: under a service load times its factor, and under a load
that is ultimate by nature (`load_factor` 1).  Common practice, no source."""


class FastenerGroup(Item):
    """Fasteners through one to three sheets, loaded by a force at a point and a moment.

    x, y lie in the plane of the sheets, z stands on it: a force along +z pulls the fasteners.  `sheets` in order from
    the head; `pulled` is the number of the sheet that brings the load, and with three sheets the load counts whole in
    every one of them until that is said.

    `edge` is the least distance from a hole's centre to an edge of a sheet, taken for every direction; `outline` gives
    the sheets as rectangles instead (two corners in the axes of the holes, once or one for each sheet), so that every
    edge counts in its own direction.  With neither, edges stand 1.5 hole diameters away.  `width` is the sheet's width
    across the force; left out it follows from the edges.

    Holes: `hole_diameter`, or a `slot` of that width and this overall length along x or y (`slot_along`); countersunk
    heads stand in the first sheet, `countersink` deep (the head's height when left out).  A `plate` (length, width,
    thickness) lies loose under the nut against the last sheet, with its own `plate_hole`; `washer` is `none`, `normal`,
    `large` or diameter and thickness, under head and nut.  `packing` is loose packing between the sheets.

    Pull: `between` is the distance between what carries the sheet on both sides of the bolts, `dish` how far it may be
    pulled out of flat, `upright` the distance from a bolt's centre to the upright of the bracket whose leg it holds
    (the sheet `pulled`, else the first), `pull` says whether the pull comes evenly from all round a head or from one
    side (left out: one-sided where the load tilts the joint).

    For loads that come from others, `axes` says in which directions of the floor's plan its x and y run (`x y`,
    `-y z`), `origin` where the zero of its axes lies; left out, such a load acts at that zero.
    """

    kind: ClassVar[str] = "bolts"
    word: ClassVar[str] = "group"
    lasts: ClassVar[bool] = True
    loading: ClassVar[frozenset[str]] = frozenset(("force", "at", "moment", "axes", "origin", "cycles", "load_range"))
    judging: ClassVar[frozenset[str]] = frozenset(("dish", "hole_growth", "pull"))
    holes: Annotated[
        tuple[Point, ...],
        Said('A hole\'s centre, `"x y mm"`, in the plane of the sheets.', option="--hole"),
    ]
    sheets: Annotated[tuple[Sheet, ...], Said('A sheet, from the head\'s side: `"1.2 mm"`, `"18 ga"`; one to three.')]
    bolt: Annotated[
        str | None, Said('Size and class: `"M8 8.8"`, `"M10x1.25 10.9"`, `"7/16-20 grade 5"`; or {rivet} or {rivnut}.')
    ] = None
    rivet: Annotated[str | None, Said('Blind rivet: `"4.8 mm steel"`.')] = None
    rivnut: Annotated[str | None, Said('Rivet nut and its screw: `"M6 8.8"`.')] = None
    force: Annotated[Vector | None, Said('Service force `"x y z kN"`; z pulls the fasteners.')] = None
    at: Annotated[Place | None, Said('Where it acts: `"x y z mm"`.')] = None
    moment: Annotated[
        Turn | None, Said('Service moment about x, y, z, on top of the force\'s own: `"0 0 50 N*m"`.')
    ] = None
    axes: PlanAxes = "x y"
    origin: Annotated[
        Place | None,
        Said(
            '`"x y z mm"`: where the zero of the joint\'s axes lies in the plan.',
            option=None,
            absent="a {load} from others acts at that zero",
        ),
    ] = None
    load_range: Annotated[float, Said("Part of the load that comes and goes: 1 from nothing, 2 reversing.")] = 1.0
    dud_rate: Annotated[
        float | None,
        Said(
            "Part of the fasteners that is bad unseen, `0.1` for one in ten: what is left with any one or two gone.",
        ),
    ] = None
    pulled: Annotated[
        int | None,
        Said("Which sheet brings the load, counted from the head; of three, `2` (the middle one) means double shear."),
    ] = None
    hole_diameter: Annotated[Diameter | None, Said("Hole diameter.", absent="clearance hole, medium fit")] = None
    slot: Annotated[Diameter | None, Said("Overall length of slotted holes; their width is the hole diameter.")] = None
    slot_along: Annotated[Literal["x", "y"], Said("Which way the slots lie: `x` or `y`.")] = "x"
    edge: Annotated[
        Distance | None,
        Said("Least distance from a hole's centre to an edge.", absent="1.5 diameters of the normal hole"),
    ] = None
    outline: Annotated[
        tuple[Corners, ...],
        Said('Two corners of the sheet, `"x1 y1 x2 y2 mm"`, in place of {edge}; once, or per sheet.'),
    ] = ()
    width: Annotated[
        Length | None, Said("Width of the sheet across the force.", absent="from the holes and the edge")
    ] = None
    washer: Annotated[str, Said('Under head and nut: `none`, `normal`, `large`, or `"24 2 mm"`.')] = "none"
    plate: Annotated[
        PlateSize | None, Said('Spreader plate under the nut: length, width, thickness, `"75 50 3 mm"`.')
    ] = None
    plate_grade: Annotated[str, Said("Grade of the plate.")] = "S235JR"
    plate_hole: Annotated[Diameter | None, Said("Hole in the plate.", absent="as in the sheets")] = None
    between: Annotated[
        Length | None,
        Said("Distance between the rails or ribs that carry the sheet on both sides of the bolts.", absent="300 mm"),
    ] = None
    dish: Annotated[
        Distance | None,
        Said(
            "How far the sheet may dish for good under a fastener.",
            absent="5 mm, and 15 mm where {load_factor} is 1",
        ),
    ] = None
    upright: Annotated[
        Distance | None,
        Said("Of a bracket: from the bolt's centre to the face of its upright, for bending and prying."),
    ] = None
    pull: Annotated[
        Literal["", "even", "one-sided"],
        Said(
            "How the pull comes to a head: `even`, or `one-sided` (a bracket's leg, a seat's foot).",
            absent="one-sided where the load tilts the joint",
        ),
    ] = ""
    packing: Annotated[Distance | None, Said("Thickness of loose packing between the sheets.")] = None
    countersunk: Annotated[bool, Said("Countersunk heads, in the first sheet.")] = False
    countersink: Annotated[Distance | None, Said("Depth of the countersink.", absent="the head's height")] = None
    hole_growth: Annotated[
        Literal["free", "limited"], Said("`free`, or `limited`: judge that the holes hardly grow.")
    ] = "free"
    threads: Annotated[Literal["in", "out"], Said("Threads `in` or `out` of the shear plane.")] = "in"
    insert_tension: Annotated[Force | None, Said("Maker's pull-out value of a rivet nut in this sheet.")] = None
    insert_shear: Annotated[Force | None, Said("Maker's shear value of a rivet nut in this sheet.")] = None
    _fastener: Fastener | None = PrivateAttr(default=None)
    _washer: tuple[float, float] | None = PrivateAttr(default=None)

    @model_validator(mode="before")
    @classmethod
    def _a_number_of_a_sheet(cls, data: Any) -> Any:
        if isinstance(data, Mapping) and isinstance(data.get("pulled"), bool):
            raise refuse("pulled: write the number of the sheet that brings the load, counted from the head: 1, 2 or 3")
        return data

    @model_validator(mode="after")
    def _consistent(self) -> Any:
        if not 1 <= len(self.holes) <= MOST_HOLES:
            raise refuse(f"holes: {len(self.holes)} given; accepted is 1 to {MOST_HOLES}")
        if self.dud_rate is not None and not 0.0 <= self.dud_rate < 1.0:
            raise refuse(f"dud_rate: {self.dud_rate:g}; it is a part of the fasteners, from 0 to less than 1")
        if not 0.0 < self.load_range <= 2.0:
            raise refuse(
                f"load_range: {self.load_range:g}; it is a part of the load: 1 from nothing to all, 2 reversing"
            )
        given = [name for name in READERS if getattr(self, name) is not None]
        if len(given) != 1:
            raise refuse("bolt: give one of 'bolt', 'rivet' and 'rivnut'")
        try:
            self._fastener = READERS[given[0]](getattr(self, given[0]))
        except InputError as error:
            raise refuse(f"{given[0]}: {error.message}") from error
        if not 1 <= len(self.sheets) <= 3:
            raise refuse(f"sheets: {len(self.sheets)} given; accepted are one to three")
        if self.pulled is not None and not 1 <= self.pulled <= len(self.sheets):
            raise refuse(
                f"pulled: {self.pulled} given, and there {'is one sheet' if len(self.sheets) == 1 else 'are'}"
                f"{'' if len(self.sheets) == 1 else f' {len(self.sheets)} sheets'}; count them from the head"
            )
        self._check_countersink()
        self._read_washer()
        self._check_plate()
        self._check_holes()
        self._check_outline()
        self._check_pull()
        self._check_load()
        return self

    def _read_washer(self) -> None:
        word = self.washer.strip().lower()
        f = self.fastener
        if word == "none":
            return
        if f.kind != "bolt":
            raise refuse(f"washer: goes with bolts; a {f.kind} bears on the sheet itself")
        if word in ("normal", "large"):
            found = f.washer if word == "normal" else f.large_washer
            if found is None:
                raise refuse(f"washer: no large series is tabulated for {f.label}; give diameter and thickness")
            self._washer = found
            return
        from jointcalc.quantity.parse import parse_list

        try:
            outside, thick = parse_list(self.washer, "length", 2, signed=False, by=True)
        except InputError as error:
            raise refuse(
                f"washer: '{self.washer}' is neither 'none', 'normal', 'large' nor diameter and thickness, such as "
                f"'24 2 mm': {error.message}"
            ) from error
        if not (above(outside, self.d_0) and at_most(outside, 100.0) and within(thick, 0.3, 15.0)):
            raise refuse(
                f"washer: {mm(outside):g} by {mm(thick):g} does not fit a hole of {mm(self.d_0):.3g}; accepted is "
                "up to "
                f"{mm(100, ' by ', 0.3, ' to ', 15)}"
            )
        self._washer = (outside, thick)

    def _check_countersink(self) -> None:
        f = self.fastener
        if self.countersunk and f.kind != "bolt":
            raise refuse(f"countersunk: goes with bolts; a countersunk {f.kind} is not judged here")
        if self.countersink is not None and not self.countersunk:
            raise refuse("countersink: its depth goes with countersunk heads; set 'countersunk' too")
        if self.countersunk and self.countersink is None and f.sunk is None:
            raise refuse(f"countersink: no head height is tabulated for {f.label}; give the depth of the countersink")

    def _check_plate(self) -> None:
        if self.plate is None:
            if self.plate_hole is not None:
                raise refuse("plate_hole: there is no plate; give its length, width and thickness in 'plate'")
            return
        if self.fastener.kind != "bolt":
            raise refuse(f"plate: goes under the nut of a bolt; a {self.fastener.kind} has none")
        long, short, thick = self.plate
        if not (within(thick, 0.5, 30.0) and within(long, 5.0, 2000.0) and within(short, 5.0, 2000.0)):
            raise refuse("plate: give length, width and thickness in that order, such as '75 50 3 mm'")
        if at_most(min(long, short), self.head_diameter):
            raise refuse(
                f"plate: {mm(min(long, short)):g} is not wider than what bears on it, {mm(self.head_diameter):.3g}"
            )
        if self.plate_hole is not None and not (
            at_least(self.plate_hole, self.fastener.d) and below(self.plate_hole, self.head_diameter)
        ):
            raise refuse(
                f"plate_hole: {mm(self.plate_hole):g}; accepted is the bolt's {mm(self.fastener.d):.3g} to less than "
                f"what bears on the plate, {mm(self.head_diameter):.3g}"
            )
        try:
            about = material(self.plate_grade, thick)
            if about.f_y is None:
                raise InputError(f"the standard of {self.plate_grade} lets no yield strength be assumed")
        except InputError as error:
            raise refuse(f"plate_grade: {error.message}") from error

    def _check_holes(self) -> None:
        f = self.fastener
        least = f.body if f.kind == "rivnut" else f.d
        if below(self.d_0, least):
            raise refuse(f"hole_diameter: {mm(self.d_0):g} does not let the fastener of {mm(least):.3g} through")
        if f.kind != "rivet" and at_least(self.d_0, self.head_diameter):
            raise refuse(
                f"hole_diameter: {mm(self.d_0):g} is larger than the sheet allows: the head of "
                f"{mm(self.head_diameter):.3g} falls through; take a washer"
            )
        if self.slot is not None:
            if f.kind != "bolt":
                raise refuse(f"slot: goes with bolts; a {f.kind} needs a round hole")
            if below(self.slot, self.d_0):
                raise refuse(
                    f"slot: {mm(self.slot):g} overall is shorter than its own width, {mm(self.d_0):.3g}; give its "
                    "overall length"
                )
        if self.edge is not None and self.outline:
            raise refuse("edge: give 'edge' or 'outline', not both; the outline says every edge by itself")
        if self.edge is not None and at_most(self.edge, self.d_0 / 2):
            raise refuse(
                f"edge: {mm(self.edge):g} from the centre: the hole of {mm(self.d_0):.3g} is larger than the sheet "
                "allows"
            )
        self._check_slots()
        nearest_two = self.pitch
        if nearest_two is not None and at_most(nearest_two, self.d_0):
            raise refuse(
                f"holes: two centres are {mm(nearest_two):.3g} apart; holes of {mm(self.d_0):.3g} would run together"
            )
        if self.width is not None and at_most(self.width, self.d_0 * self.in_section):
            raise refuse(f"width: {mm(self.width):g} is used up by {self.in_section} holes of {mm(self.d_0):.3g}")

    def _check_slots(self) -> None:
        """Slots lie inside the sheet and apart from one another, the way they lie."""
        if self.slot is None:
            return
        if self.edge is not None and at_most(self.edge, self.slot / 2):
            raise refuse(
                f"slot: {mm(self.slot):g} overall runs out over the edge, {mm(self.edge):g} from its centre; give the "
                "'outline' where the edge at its end lies farther off"
            )
        x, y = (0, 1) if self.slot_along == "x" else (1, 0)
        for (n, one), (m, other) in combinations(enumerate(self.holes, 1), 2):
            if at_most(abs(one[x] - other[x]), self.slot) and at_most(abs(one[y] - other[y]), self.d_0):
                raise refuse(f"slot: {mm(self.slot):g} overall: the slots {n} and {m} run together")

    def _check_outline(self) -> None:
        if self.outline and len(self.outline) not in (1, len(self.sheets)):
            raise refuse(f"outline: {len(self.outline)} given for {len(self.sheets)} sheets; give one, or one for each")
        for corners in self.outline:
            x1, y1, x2, y2 = corners
            low, high = (min(x1, x2), min(y1, y2)), (max(x1, x2), max(y1, y2))
            for n, (x, y) in enumerate(self.holes):
                rooms = min(x - low[0], high[0] - x), min(y - low[1], high[1] - y)
                if self.slot is not None and at_most(rooms["xy".index(self.slot_along)], self.slot / 2):
                    raise refuse(
                        f"slot: {mm(self.slot):g} overall runs out over the edge of the outline at hole {n + 1}"
                    )
                if at_most(min(rooms), self.d_0 / 2):
                    raise refuse(
                        f"outline: hole {n + 1} at {mm(x, ', ', y):g} does not lie inside the sheet from "
                        f"{mm(low[0], ', ', low[1], ' to ', high[0], ', ', high[1]):g} with its diameter of "
                        f"{mm(self.d_0):.3g}"
                    )

    def _check_pull(self) -> None:
        if self.dish is not None and above(self.dish, 50.0):
            raise refuse(f"dish: {mm(self.dish):g}; accepted is up to {mm(50)} out of flat")
        if self.upright is not None and at_most(self.upright, self.d_0 / 2):
            raise refuse(f"upright: {mm(self.upright):g} from the centre lies inside the hole of {mm(self.d_0):.3g}")
        if self.packing is not None and len(self.sheets) == 1:
            raise refuse("packing: lies between two sheets; name both")

    def _check_load(self) -> None:
        if self.force is not None and any(self.force) and self.at is None:
            raise refuse(
                "at: the force has no point of action, and its arm loads the group too; give x y z in the axes of the "
                "holes, such as '150 0 0 mm'"
            )

    @property
    def loaded_by_itself(self) -> bool:
        """Whether a force or a moment is given."""
        return (self.force is not None and any(self.force)) or (self.moment is not None and any(self.moment))

    @property
    def fastener(self) -> Fastener:
        """The fastener's sizes and strengths."""
        assert self._fastener is not None
        return self._fastener

    @property
    def d_0(self) -> float:
        """Hole diameter [mm]."""
        return self.hole_diameter if self.hole_diameter is not None else self.fastener.hole

    @property
    def d_bearing(self) -> float:
        """Diameter that bears on the hole's wall [mm]: the body of a rivnut, else the nominal diameter."""
        return self.fastener.body if self.fastener.kind == "rivnut" else self.fastener.d

    @property
    def washers(self) -> tuple[float, float] | None:
        """Outside diameter and thickness of the washers [mm]; None without."""
        return self._washer

    @property
    def head_diameter(self) -> float:
        """Diameter of what bears on the sheet [mm]: washer, else the head across its flats."""
        if self._washer is not None:
            return self._washer[0]
        return self.fastener.flats or 2 * self.fastener.d

    @property
    def d_plate(self) -> float:
        """Diameter of the plate's own hole [mm]: as the sheets' where it is not given."""
        return self.plate_hole if self.plate_hole is not None else self.d_0

    @property
    def sink(self) -> tuple[float, float]:
        """Diameter of a countersink at the surface and its depth [mm]; noughts for other heads."""
        if not self.countersunk:
            return 0.0, 0.0
        wide, high = self.fastener.sunk or (2 * self.fastener.d, 0.0)
        return wide, self.countersink if self.countersink is not None else high

    @property
    def edge_used(self) -> float:
        """Least distance to an edge [mm]: as given, else 1.5 diameters of the normal hole."""
        # of the normal hole: a wider one brings no more sheet with it
        return self.edge if self.edge is not None else EDGE_ASSUMED * max(self.fastener.hole, self.d_bearing)

    @property
    def supports(self) -> float:
        """Distance between what carries the sheet on both sides of the bolts [mm], given or assumed."""
        return self.between if self.between is not None else SUPPORTS_ASSUMED

    @property
    def dish_allowed(self) -> float:
        """How far the sheet may dish for good under a fastener [mm], given or by habit."""
        if self.dish is not None:
            return self.dish
        return DISH_ULTIMATE if self.load_factor == 1.0 else DISH_SERVICE

    def corners(self, n: int) -> tuple[float, float, float, float] | None:
        """Outline of sheet `n` (from 0) as least and greatest x and y [mm]: x1 y1 x2 y2; None where none is given."""
        if not self.outline:
            return None
        x1, y1, x2, y2 = self.outline[n if len(self.outline) > 1 else 0]
        return min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2)

    @property
    def plate_yield(self) -> float:
        """Yield strength of the plate [MPa]."""
        assert self.plate is not None
        found = material(self.plate_grade, self.plate[2]).f_y
        assert found is not None
        return found

    @property
    def meeting_plates(self) -> tuple[int, int] | None:
        """Numbers (from 1) of two holes whose plates lie over one another, the nearest pair; None where none do.

        A plate lies centred on its hole, its length along x, as it is marked out.
        """
        if self.plate is None:
            return None
        long, short = self.plate[:2]
        order = sorted(range(len(self.holes)), key=lambda n: self.holes[n])
        found: list[tuple[float, int, int]] = []
        for i, one in enumerate(order):
            x, y = self.holes[one]
            for other in order[i + 1 :]:
                a, b = self.holes[other][0] - x, abs(self.holes[other][1] - y)
                if at_least(a, long):
                    break
                if below(b, short):
                    found.append((a * a + b * b, min(one, other) + 1, max(one, other) + 1))
        return min(found)[1:] if found else None

    @property
    def pitch(self) -> float | None:
        """Least distance between two holes [mm]; None for a single one."""
        if len(self.holes) < 2:
            return None
        import numpy as np

        points = np.array(self.holes)
        order = points[np.argsort(points[:, 0])]
        best = float("inf")
        # sorted along x: only neighbours nearer in x than the best pair can beat it
        for i in range(len(order) - 1):
            j = i + 1
            while j < len(order) and order[j, 0] - order[i, 0] < best:
                best = min(best, float(np.hypot(*(order[j] - order[i]))))
                j += 1
        return best

    @property
    def in_section(self) -> int:
        """Most holes in one section across the force in the plane (1 without such a force)."""
        if self.force is None or not any(self.force[:2]):
            return 1
        from math import hypot

        size = hypot(self.force[0], self.force[1])
        u, v = self.force[0] / size, self.force[1] / size
        along = sorted(x * u + y * v for x, y in self.holes)
        most, start = 1, 0
        for stop in range(len(along)):
            while along[stop] - along[start] > self.d_0:
                start += 1
            most = max(most, stop - start + 1)
        return most
