"""Bolts, rivnuts or blind rivets in sheet, alone or in a group, under a force anywhere in space."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from math import pi
from typing import Annotated, Any, ClassVar, Literal

from pydantic import PrivateAttr, model_validator

from jointcalc.errors import InputError, nearest
from jointcalc.model.fields import Axes, Diameter, Distance, Force, Item, Length, Numbers, refuse
from jointcalc.model.sheet import Sheet
from jointcalc.quantity.compare import above, at_least, at_most, below, within
from jointcalc.quantity.sentence import Sentence, mm
from jointcalc.tables.materials import material
from jointcalc.tables.store import load

Point = Annotated[tuple[float, ...], Numbers("length", 2)]
"""x y of a hole [mm]."""
Place = Annotated[tuple[float, ...], Numbers("length", 3)]
"""x y z of a point of action [mm]."""
Vector = Annotated[tuple[float, ...], Numbers("force", 3)]
"""x y z of a force [N]."""
Turn = Annotated[tuple[float, ...], Numbers("moment", 3)]
"""Moment about x y z [N·mm]."""
PlateSize = Annotated[tuple[float, ...], Numbers("length", 3, signed=False)]
"""Length, width and thickness of a plate [mm]."""
Corners = Annotated[tuple[float, ...], Numbers("length", 4)]
"""x1 y1 x2 y2: two opposite corners of a rectangle [mm]."""
WasherSize = Annotated[tuple[float, ...], Numbers("length", 2, signed=False)]
"""Outside diameter and thickness of a washer [mm]."""

MOST_HOLES = 2000

EDGE_ASSUMED = 1.5
"""Diameters of its normal hole from a fastener's centre to every edge where the builder gives none: the least that
EN 1993-1-3 and AISI S100 take for a side edge, and what the trade takes for the least it drills."""
SUPPORTS_ASSUMED = 300.0
"""Distance between what carries the sheet that bolts pull on [mm], where the builder gives none: common practice."""
DISH_SERVICE, DISH_ULTIMATE = 5.0, 15.0
"""How far sheet may dish and stay so under a fastener [mm]: under a service load times its factor, and under a load
that is ultimate by nature (`load_factor` 1).  Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Fastener:
    """A fastener as its tables give it; sizes [mm], areas [mm²], strengths [MPa] or [N].

    `f_ub` is the nominal tensile strength EN 1993 counts with, `R_m` the minimum of the product standard.  `hole` is
    the clearance hole of medium fit, `holes` the series the trade drills, smallest first; `sunk` are diameter and
    height of a countersunk head.  A rivet nut has `body` and `hole` in its own sheet, its screw a hole of `clear` in
    the others.
    """

    kind: Literal["bolt", "rivnut", "rivet"]
    label: str
    d: float
    hole: float
    A_s: float = 0.0
    grade: str = ""
    f_ub: float = 0.0
    R_m: float = 0.0
    S_p: float = 0.0
    flats: float = 0.0
    washer: tuple[float, float] | None = None
    large_washer: tuple[float, float] | None = None
    holes: tuple[float, ...] = ()
    sunk: tuple[float, float] | None = None
    body: float = 0.0
    clear: float = 0.0
    shear_min: float = 0.0
    tension_min: float = 0.0
    standard: str = ""
    status: str = "read"

    @property
    def area(self) -> float:
        """Nominal area of the shank [mm²]."""
        return pi / 4 * self.d**2


_BOLT = re.compile(
    r"\s*(?P<size>M\s*[0-9.]+(?:\s*[xX×]\s*[0-9.]+)?|[0-9]+/[0-9]+\s*-\s*[0-9]+)\s+"
    r"(?:UN[CF]\s+)?(?:class\s+|grade\s+|gr\.?\s*)?(?P<grade>[A-Za-z0-9.\-]+)\s*",
    re.IGNORECASE,
)
_FORM = "write size and class, such as 'M8 8.8', 'M10x1.25 10.9' or '7/16-20 grade 5'"


METRIC_HOLES = ("hole_fine", "hole_medium", "hole_coarse")
INCH_HOLES = ("hole_close", "hole_normal", "hole_loose")


def read_bolt(text: Any, kind: Literal["bolt", "rivnut"] = "bolt") -> Fastener:
    """A bolt from `M8 8.8`, `M8x1 10.9`, `M8 A2-70`, `7/16-20 grade 8`.  Raises InputError."""
    match = _BOLT.fullmatch(text) if isinstance(text, str) else None
    if not match:
        raise InputError(f"'{text}' cannot be read; {_FORM}", field=kind)
    size = "".join(match["size"].split()).replace("X", "x").replace("×", "x")
    size = "M" + size[1:] if size[0] in "mM" else size
    grade = match["grade"]
    inch = not size.startswith("M")
    table = load("bolt_inch" if inch else "bolt_metric")
    row = next((r for r in table.rows if r["size"] == size), None)
    if row is None:
        known = [r["size"] for r in table.rows]
        raise InputError(f"'{size}' is not in table '{table.name}'{nearest(size, known)}; {_FORM}", field=kind)
    d = row.need("d")
    about = load("bolt_inch_dimensions" if inch else "bolt_metric_dimensions")
    base = size.split("-")[0] if inch else size.split("x")[0]
    dims = about.find(size=base)
    strength, f_ub = _strength(grade, d, inch, kind)
    large = None if inch else (dims.need("large_washer_diameter"), dims.need("large_washer_thickness"))
    return Fastener(
        kind=kind,
        label=f"{size} {'grade ' if inch else ''}{strength['name']}",
        d=d,
        hole=dims.need("hole_normal" if inch else "hole_medium"),
        A_s=row.need("stress_area"),
        grade=str(strength["name"]),
        f_ub=f_ub,
        R_m=float(strength["R_m"]),
        S_p=float(strength["S_p"]),
        flats=dims.need("across_flats"),
        washer=(dims.need("washer_diameter"), dims.need("washer_thickness")),
        large_washer=large,
        holes=tuple(dims.need(name) for name in (INCH_HOLES if inch else METRIC_HOLES)),
        sunk=(dims.need("sunk_diameter"), dims.need("sunk_depth")),
        standard=str(strength["standard"]),
        status=str(strength["status"]),
    )


def _strength(grade: str, d: float, inch: bool, kind: str) -> tuple[Mapping[str, Any], float]:
    """(name, R_m, S_p, standard, status) of a class, and the nominal strength of EN 1993 (0 where it has none)."""
    if inch:
        rows = [r for r in load("bolt_classes_sae_j429").rows if r["grade"] == grade]
        row = next((r for r in rows if r.need("d_from") - 1e-9 <= d <= r.need("d_to") + 1e-9), None)
        known = sorted({r["grade"] for r in load("bolt_classes_sae_j429").rows})
        standard, column = "SAE J429", "proof_stress"
    elif grade.upper().startswith(("A2", "A4")):
        rows = [r for r in load("bolt_classes_iso3506").rows if r["class"] == grade.upper()]
        row = rows[0] if rows else None
        known = [r["class"] for r in load("bolt_classes_iso3506").rows]
        standard, column = "ISO 3506-1", ""
    else:
        rows = [r for r in load("bolt_classes_iso898").rows if r["class"] == grade]
        row = next(
            (r for r in rows if (r.number("d_over") or 0.0) < d <= (r.number("d_to") or 1e9) + 1e-9),
            None,
        )
        known = list(dict.fromkeys(r["class"] for r in load("bolt_classes_iso898").rows))
        standard, column = "ISO 898-1", "proof_stress"
    if row is None:
        what = "grade" if inch else "class"
        if rows:
            raise InputError(f"{standard} has no {what} {grade} at this diameter, {mm(d):.4g}", field=kind)
        raise InputError(f"'{grade}' is not a {what} of {standard} (known: {', '.join(known)})", field=kind)
    R_m = row.need("tensile_min")
    nominal = 0.0
    if standard == "ISO 898-1":
        nominal = 100.0 * float(grade.split(".", maxsplit=1)[0])
    elif standard == "ISO 3506-1":
        nominal = R_m
    name = row["grade"] if inch else row["class"]
    S_p = row.need(column) if column else 0.0
    return {"name": name, "R_m": R_m, "S_p": S_p, "standard": standard, "status": row.status}, nominal


def read_rivnut(text: Any) -> Fastener:
    """A rivet nut with the screw in it: `M6 8.8`.  Raises InputError."""
    screw = read_bolt(text, "rivnut")
    size = screw.label.split()[0].split("x")[0]
    row = next((r for r in load("rivnut_body").rows if r["size"] == size), None)
    if row is None:
        known = ", ".join(r["size"] for r in load("rivnut_body").rows)
        raise InputError(f"no body diameter is known for a rivnut {size} (known: {known})", field="rivnut")
    body = row.need("body_diameter")
    fields = {name: getattr(screw, name) for name in Fastener.__slots__}
    return Fastener(
        **{
            **fields, "kind": "rivnut", "label": f"rivnut {screw.label}", "body": body, "hole": row.need("hole"),
            "holes": (row.need("hole"),), "sunk": None, "clear": screw.hole,
        }
    )  # fmt: skip


def read_rivet(text: Any) -> Fastener:
    """A blind rivet: `4.8 mm steel`, `4 mm aluminium`.  Raises InputError."""
    words = {
        "steel": "ISO 15979",
        "st": "ISO 15979",
        "aluminium": "ISO 15977",
        "aluminum": "ISO 15977",
        "al": "ISO 15977",
    }
    form = "write diameter and body, such as '4.8 mm steel' or '4 mm aluminium'"
    match = re.fullmatch(r"\s*(?P<d>[0-9.]+)\s*mm\s+(?P<body>[A-Za-z]+)\s*", text) if isinstance(text, str) else None
    if not match or match["body"].lower() not in words:
        raise InputError(f"'{text}' cannot be read; {form}", field="rivet")
    standard = words[match["body"].lower()]
    rows = [r for r in load("rivet_blind").rows if r["standard"] == standard]
    try:
        wanted = float(match["d"])
    except ValueError as error:
        raise InputError(f"'{match['d']}' is not a number; {form}", field="rivet") from error
    row = next((r for r in rows if abs(r.need("d") - wanted) < 0.01), None)
    if row is None:
        known = ", ".join(r["d"] for r in rows)
        raise InputError(f"no rivet of {mm(wanted):g} in {standard} (known: {known} mm)", field="rivet")
    d = row.need("d")
    metal = "steel" if standard == "ISO 15979" else "aluminium"
    return Fastener(
        kind="rivet",
        label=Sentence(f"blind rivet {mm(d):g} {metal}"),
        d=d,
        hole=d + 0.1,
        holes=(d + 0.1,),
        shear_min=row.need("shear_min"),
        tension_min=row.need("tension_min"),
        standard=standard,
        status=row.status,
    )


READERS = {"bolt": read_bolt, "rivet": read_rivet, "rivnut": read_rivnut}


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
    holes: tuple[Point, ...]
    bolt: str | None = None
    rivet: str | None = None
    rivnut: str | None = None
    sheets: tuple[Sheet, ...]
    pulled: int | None = None
    hole_diameter: Diameter | None = None
    slot: Diameter | None = None
    slot_along: Literal["x", "y"] = "x"
    edge: Distance | None = None
    outline: tuple[Corners, ...] = ()
    width: Length | None = None
    washer: str = "none"
    plate: PlateSize | None = None
    plate_grade: str = "S235JR"
    plate_hole: Diameter | None = None
    countersunk: bool = False
    countersink: Distance | None = None
    packing: Distance | None = None
    between: Length | None = None
    dish: Distance | None = None
    upright: Distance | None = None
    pull: Literal["", "even", "one-sided"] = ""
    hole_growth: Literal["free", "limited"] = "free"
    threads: Literal["in", "out"] = "in"
    insert_tension: Force | None = None
    insert_shear: Force | None = None
    force: Vector | None = None
    at: Place | None = None
    moment: Turn | None = None
    axes: Axes = "x y"
    origin: Annotated[tuple[float, ...], Numbers("length", 3)] | None = None
    _fastener: Fastener | None = PrivateAttr(default=None)
    _washer: tuple[float, float] | None = PrivateAttr(default=None)

    @model_validator(mode="before")
    @classmethod
    def _one_outline(cls, data: Any) -> Any:
        if not isinstance(data, Mapping):
            return data
        if isinstance(data.get("pulled"), bool):
            raise refuse("pulled: write the number of the sheet that brings the load, counted from the head: 1, 2 or 3")
        return {**data, "outline": (data["outline"],)} if isinstance(data.get("outline"), str) else data

    @model_validator(mode="after")
    def _consistent(self) -> Any:
        if not 1 <= len(self.holes) <= MOST_HOLES:
            raise refuse(f"holes: {len(self.holes)} given; accepted is 1 to {MOST_HOLES}")
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
            outside, thick = parse_list(self.washer, "length", 2, signed=False)
        except InputError as error:
            raise refuse(
                f"washer: '{self.washer}' is neither 'none', 'normal', 'large' nor diameter and thickness, such as "
                "'24 2 mm'"
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
        nearest_two = self.pitch
        if nearest_two is not None and at_most(nearest_two, self.d_0):
            raise refuse(
                f"holes: two centres are {mm(nearest_two):.3g} apart; holes of {mm(self.d_0):.3g} would run together"
            )
        if self.width is not None and at_most(self.width, self.d_0 * self.in_section):
            raise refuse(f"width: {mm(self.width):g} is used up by {self.in_section} holes of {mm(self.d_0):.3g}")

    def _check_outline(self) -> None:
        if self.outline and len(self.outline) not in (1, len(self.sheets)):
            raise refuse(f"outline: {len(self.outline)} given for {len(self.sheets)} sheets; give one, or one for each")
        for corners in self.outline:
            x1, y1, x2, y2 = corners
            low, high = (min(x1, x2), min(y1, y2)), (max(x1, x2), max(y1, y2))
            for n, (x, y) in enumerate(self.holes):
                room = min(x - low[0], high[0] - x, y - low[1], high[1] - y)
                if at_most(room, self.d_0 / 2):
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
