"""Parts that are only marked out and cut: rectangles of sheet and wheel tubs.

They carry nothing that is judged here, so they are not items: `check` reads and validates them with the
rest of the file and then leaves them alone; `layout` draws them and counts them into the cut list.
"""

from __future__ import annotations

import re
from math import acos, hypot
from typing import Annotated, Any, ClassVar, Literal

from pydantic import PrivateAttr, model_validator

from jointcalc.errors import InputError, nearest
from jointcalc.model.fields import Described, Distance, Length, Numbers, Quantity, Said, refuse
from jointcalc.model.sheet import Sheet
from jointcalc.quantity.compare import above, at_least, at_most, within
from jointcalc.quantity.sentence import mm
from jointcalc.quantity.units import INCH
from jointcalc.section.joggle import Joggle
from jointcalc.statics.steer import Swept, swept
from jointcalc.tables.store import load

MOST_PIECES = 500
MOST_HOLES = 2000

Size = Annotated[tuple[float, ...], Numbers("length", 2, signed=False, by=True)]
"""Length and width of a rectangle [mm]."""
Hole = Annotated[tuple[float, ...], Numbers("length", 3, signed=False)]
"""x, y from the lower left corner and diameter of a hole [mm]."""
FloorHeight = Annotated[float, Quantity("length", high=2000.0, example="40 mm")]
Wheel = Annotated[float, Quantity("length", low=200.0, high=2000.0, example="711 mm")]
"""Diameter of a tyre on its rim [mm]."""
Lock = Annotated[float, Quantity("angle", high=1.05, example="33 deg")]
"""How far a wheel steers to either side [rad]."""
Offset = Annotated[float, Quantity("length", high=500.0, signed=True, example="40 mm")]
"""A distance inboard, negative outboard [mm]."""
Bend = Annotated[float, Quantity("length", low=0.1, high=50.0, example="2 mm")]
"""An inside bend radius [mm]."""
Step = Annotated[float, Quantity("length", low=0.1, high=100.0, example="1.2 mm")]
"""Height of a step [mm]."""


class Marked(Described):
    """What every part for marking out says of itself."""

    word: ClassVar[str] = "part"
    id: Annotated[str, Said("Name of the {item}, short and unique in the file.")]
    title: Annotated[str, Said("What it is.")] = ""
    sheet: Annotated[Sheet, Said("The sheet.")]
    reason: Annotated[str, Said("Why it is made so.")] = ""

    @property
    def unjudged(self) -> str:
        """What a project's answer says of it: no check judges what is only marked out."""
        return "only marked out and cut; its sheet is judged where it is a [[panel]], its edges where they are joined"


class Part(Marked):
    """A rectangle of sheet, `count` of them alike.

    `corner` is the radius of its corners; `holes` are x, y from the lower left corner and the diameter.
    `turn = false` keeps its length along the length of the stock sheet, for the rolling direction's sake.
    What the beads of panels draw in (`part` of a panel names the part) is handed over when the project is read.
    `size` is that of the finished part seen from above: a `step` (joggle) along one side takes more of the flat sheet.
    """

    size: Annotated[Size, Said('Length and width of the finished part, seen from above: `"1480 960 mm"`.')]
    count: Annotated[int, Said("How many alike.")] = 1
    corner: Annotated[Distance | None, Said("Radius of the corners.")] = None
    holes: Annotated[tuple[Hole, ...], Said('A hole, `"x y diameter mm"` from the lower left corner.')] = ()
    turn: Annotated[bool, Said("`false` keeps its length along the stock sheet.")] = True
    step: Annotated[
        Step | None,
        Said("Height of a step (joggle) along one side, usually the thickness of the sheet it takes."),
    ] = None
    step_at: Annotated[Length | None, Said("From that side to the step: what lies under the sheet.")] = None
    step_side: Annotated[
        Literal["left", "right", "lower", "upper"],
        Said("Side of the step: `left`, `right`, `lower` or `upper`; the length lies level."),
    ] = "upper"
    step_radius: Annotated[Bend | None, Said("Inside radius of the step's bends.", absent="a thickness")] = None
    _draw_in: tuple[float, float] = PrivateAttr(default=(0.0, 0.0))

    @property
    def draw_in(self) -> tuple[float, float]:
        """What beads draw in over its length and over its width [mm]."""
        return self._draw_in

    @property
    def joggle(self) -> Joggle | None:
        """The step along one side; None where there is none."""
        if self.step is None:
            return None
        t = self.sheet.thickness
        return Joggle(t=t, height=self.step, r=t if self.step_radius is None else self.step_radius)

    @property
    def stepped(self) -> int:
        """The direction a step takes more of: 0 the length, 1 the width."""
        return 0 if self.step_side in ("left", "right") else 1

    @property
    def flat(self) -> tuple[float, float]:
        """Length and width before the step is set [mm]."""
        grown = list(self.size)
        if (joggle := self.joggle) is not None:
            grown[self.stepped] += joggle.growth
        return grown[0], grown[1]

    @property
    def step_zone(self) -> tuple[float, float]:
        """Where the step begins and ends on the flat sheet, from its left or lower edge [mm]."""
        joggle = self.joggle
        assert joggle is not None
        assert self.step_at is not None
        if self.step_side in ("left", "lower"):
            return self.step_at, self.step_at + joggle.flat
        end = self.flat[self.stepped] - self.step_at
        return end - joggle.flat, end

    def on_flat(self, x: float, y: float) -> tuple[float, float]:
        """A place of the finished part on the flat sheet [mm]."""
        at = [x, y]
        if (joggle := self.joggle) is not None and at[self.stepped] > self.step_zone[0]:
            at[self.stepped] += joggle.growth
        return at[0], at[1]

    @property
    def blank(self) -> tuple[float, float]:
        """Length and width to cut [mm]: the flat part and what its beads draw in."""
        return self.flat[0] + self._draw_in[0], self.flat[1] + self._draw_in[1]

    def beaded(self, panel: Any) -> None:
        """Take over what the beads of a panel draw in, both ways: added to that of other panels of this part."""
        longer = 0 if self.size[0] >= self.size[1] else 1
        side = longer if panel.across_beads > panel.along_beads else 1 - longer
        drawn = list(self._draw_in)
        drawn[side] += panel.draw_in
        drawn[1 - side] += panel.draw_in_along
        self._draw_in = (drawn[0], drawn[1])

    @model_validator(mode="after")
    def _consistent(self) -> Any:
        long, wide = self.size
        if not (within(long, 1.0, 20e3) and within(wide, 1.0, 20e3)):
            raise refuse("size: length and width lie between 1 mm and 20 m; write them like '1480 960 mm'")
        if not 1 <= self.count <= MOST_PIECES:
            raise refuse(f"count: {self.count}; accepted is 1 to {MOST_PIECES}")
        if self.corner is not None and above(2 * self.corner, min(long, wide)):
            raise refuse(f"corner: a radius of {mm(self.corner):g} does not fit a side of {mm(min(long, wide)):g}")
        if len(self.holes) > MOST_HOLES:
            raise refuse(f"holes: {len(self.holes)} given; accepted is up to {MOST_HOLES}")
        for x, y, d in self.holes:
            if not within(d, 0.5, 1000.0) or at_most(min(x, y, long - x, wide - y), d / 2):
                raise refuse(
                    f"holes: '{mm(x, ' ', y, ' ', d):g}' does not lie inside the part of {mm(long, ' by ', wide):g}; "
                    "write x, y from the lower left corner and the diameter"
                )
        c = self.corner or 0.0
        for x, y, d in self.holes:
            # in the square of a rounded corner the hole must stay inside the arc
            across, up = max(c - x, x - (long - c), 0.0), max(c - y, y - (wide - c), 0.0)
            if across and up and at_least(hypot(across, up) + d / 2, c):
                raise refuse(f"holes: '{mm(x, ' ', y, ' ', d):g}' runs out of the rounded corner")
        self._check_step()
        return self

    def _check_step(self) -> None:
        joggle = self.joggle
        if joggle is None:
            for name in ("step_at", "step_radius"):
                if getattr(self, name) is not None:
                    raise refuse(f"{name}: there is no step; give its height in 'step'")
            return
        if self.step_at is None:
            raise refuse("step_at: is missing; how far from its side does the step begin?")
        across = self.size[self.stepped]
        if at_least(self.step_at + joggle.plan, across):
            raise refuse(
                f"step_at: {mm(self.step_at):g} and a step {mm(joggle.plan):.3g} wide do not fit a side of "
                f"{mm(across):g}"
            )
        if self.corner is not None and above(self.corner, self.step_at):
            raise refuse(
                f"corner: a radius of {mm(self.corner):g} runs into the step, {mm(self.step_at):g} from a side"
            )
        far = self.step_side in ("right", "upper")
        low = across - self.step_at - joggle.plan if far else self.step_at
        for x, y, d in self.holes:
            at = (x, y)[self.stepped]
            if at > low - d / 2 and at < low + joggle.plan + d / 2:
                raise refuse(f"holes: '{mm(x, ' ', y, ' ', d):g}' lies in the step; punch it beside the step")


_METRIC_TYRE = re.compile(r"(?:P|LT)?\s*(?P<w>[0-9]{3})/(?P<ar>[0-9]{2})\s*-?\s*Z?[RDB-]?\s*(?P<d>[0-9]{2})C?", re.I)
_FLOTATION = re.compile(
    r"(?P<D>[0-9]{2}(?:\.[0-9]+)?)\s*x\s*(?P<W>[0-9]{1,2}(?:\.[0-9]+)?)\s*-?R?\s*(?P<d>[0-9]{2})(?:LT)?", re.I
)


def tyre_size(code: str) -> tuple[float, float]:
    """(largest diameter, largest section width) [mm] of a radial tyre by its size code.

    `275/60R15`: section height 0.60 x 275, diameter d + 2 H; the tolerances of UN R30 (from memory) are
    added, because clearances must hold with the largest tyre that bears the code.  `31x10.5R15` states
    its diameter and width in inches; the same tolerances are put on (its rim makes the rest).
    Raises InputError.
    """
    rules = load("tyre_tolerance")
    taller = rules.find(rule="section_height_max_radial").need("factor")
    wider = rules.find(rule="section_width_max_radial").need("factor")
    text = code.strip()
    if match := _METRIC_TYRE.fullmatch(text):
        width, height = float(match["w"]), float(match["w"]) * float(match["ar"]) / 100
        return INCH * float(match["d"]) + 2 * height * taller, width * wider
    if match := _FLOTATION.fullmatch(text):
        rim = INCH * float(match["d"])
        diameter = INCH * float(match["D"])
        if at_most(diameter, rim):
            raise InputError(f"'{code}' has a rim larger than the tyre", field="tyre")
        return rim + (diameter - rim) * taller, INCH * float(match["W"]) * wider
    raise InputError(
        f"'{code}' is not a size code with width and aspect ratio such as '275/60R15' or '31x10.5R15'; for an older "
        "code measure the inflated tyre on its rim and give 'diameter' and 'section'",
        field="tyre",
    )


class Tub(Marked):
    """A wheel tub: a wrap rolled round the tyre and one or two flat sides.

    `steer` is how far the wheel turns to either side, about a king pin `kingpin` inboard of the middle of the tyre at
    the height of the floor; the tub then clears what the tyre sweeps.  `travel` is how far the wheel still rises from
    where `floor` was measured to full bump.

    Give `tyre` (its size code) or the measured `diameter` and `section` (width over the side walls).
    `floor` is how far the floor lies above the wheel's centre with the suspension at full bump.
    `clearance` is radial, `side_clearance` on each side of the tyre; left out they are common practice
    (3 in on the diameter, 2 in on the width), or those of the snow chain class in `chains`.  `width`
    replaces the inside width.  `flange` along the wrap's edge is tipped outwards, away from the tyre,
    and takes the side; `floor_flange` lies on the floor.  `r` is the inside radius of both bends, a
    thickness when left out.
    """

    word: ClassVar[str] = "tub"
    tyre: Annotated[str, Said('Size code of the tyre, `"205/65R15"`; or {diameter} and {section}.')] = ""
    diameter: Annotated[Wheel | None, Said("Diameter of the tyre, measured.")] = None
    section: Annotated[Length | None, Said("Width of the tyre over its side walls.")] = None
    floor: Annotated[FloorHeight, Said("Floor above the wheel's centre at full bump, or where {travel} is left to it.")]
    # defaults are texts, validated like the rest
    travel: Annotated[FloorHeight, Said("How far the wheel still rises from there to full bump.")] = "0 mm"  # type: ignore[assignment]
    steer: Annotated[
        Lock, Said("How far the wheel turns to either side; the tub then clears what the tyre sweeps.")
    ] = "0 deg"  # type: ignore[assignment]
    kingpin: Annotated[
        Offset, Said("King pin inboard of the middle of the tyre, at the height of the floor; negative is outboard.")
    ] = "0 mm"  # type: ignore[assignment]
    clearance: Annotated[Distance | None, Said("Radial clearance.", absent="common practice")] = None
    side_clearance: Annotated[Distance | None, Said("Clearance on each side.", absent="common practice")] = None
    chains: Annotated[str, Said("Class of snow chains, for its clearances.")] = ""
    width: Annotated[Length | None, Said("Inside width.", absent="the tyre's and the clearances")] = None
    sides: Annotated[int, Said("Flat sides: 1 or 2.")] = 1
    flange: Annotated[Distance, Said("Flange along the wrap's edge.")] = "15 mm"  # type: ignore[assignment]
    floor_flange: Annotated[Distance, Said("Flange on the floor.")] = "20 mm"  # type: ignore[assignment]
    r: Annotated[Bend | None, Said("Inside radius of the bends.", absent="a thickness")] = None
    k_factor: Annotated[float | None, Said("K of the bend allowance.", absent="DIN 6935")] = None
    count: Annotated[int, Said("How many alike.")] = 1
    _tyre: tuple[float, float] = PrivateAttr(default=(0.0, 0.0))

    @property
    def unjudged(self) -> str:
        """What a project's answer says of it."""
        return (
            "a wheel tub, only marked out and cut: whether its sheet drums, dents under stones or stands a burst tyre, "
            "and whether its flanges hold, is not judged; give its flat sides as [[panel]], its flanges as [[seam]]"
        )

    _gaps: tuple[float, float] = PrivateAttr(default=(0.0, 0.0))
    _swept: Swept | None = PrivateAttr(default=None)

    @model_validator(mode="after")
    def _consistent(self) -> Any:
        if bool(self.tyre) == (self.diameter is not None):
            raise refuse("tyre: give its size code in 'tyre', or the measured 'diameter' and 'section', not both")
        if self.tyre:
            if self.section is not None:
                raise refuse(
                    "section: is in the tyre's code already; leave it out or give 'diameter' instead of 'tyre'"
                )
            try:
                self._tyre = tyre_size(self.tyre)
            except InputError as error:
                raise refuse(error.marked) from error
        else:
            if self.section is None and self.width is None:
                raise refuse("section: is missing; measure the tyre's width over its side walls, or give 'width'")
            assert self.diameter is not None
            self._tyre = (self.diameter, self.section or 0.0)
        self._gaps = self._clearances()
        if above(self.travel, self.floor):
            raise refuse(
                f"travel: {mm(self.travel):g} lifts the wheel's centre over the floor, which is {mm(self.floor):g} "
                "above it; a tub of half a round is not enough there"
            )
        if not self.steer and self.kingpin:
            raise refuse("steer: is missing; 'kingpin' is where the wheel turns about")
        if self.steer and not self._tyre[1]:
            raise refuse("section: is missing; how far a steered tyre reaches depends on its width over the side walls")
        if at_least(self.line, self.tyre_diameter / 2) and self.steer:
            raise refuse(
                f"floor: {mm(self.line):g} above the wheel's centre lies over the tyre; nothing of it comes through"
            )
        if self.steer:
            self._swept = swept(self.tyre_diameter, self._tyre[1], self.line, self.steer, self.kingpin)
        if self.sides not in (1, 2):
            raise refuse(f"sides: {self.sides}; a tub has one flat side (the body is the other) or two")
        if not 1 <= self.count <= 50:
            raise refuse(f"count: {self.count}; accepted is 1 to 50")
        if self.k_factor is not None and not 0.0 <= self.k_factor <= 1.0:
            raise refuse(f"k_factor: {self.k_factor} is not possible; it lies between 0 and 1, such as 0.38")
        if at_least(self.line, self.radius * 0.99):
            raise refuse(
                f"floor: {mm(self.line):g} above the wheel's centre leaves nothing of a tub of {mm(self.radius):.4g} "
                "radius; the tyre stays below the floor"
            )
        least = self.bend_radius + self.sheet.thickness
        for name in ("flange", "floor_flange"):
            if at_most(getattr(self, name), least):
                raise refuse(
                    f"{name}: {mm(getattr(self, name)):g} is used up by its bend; make it more than {mm(least):.3g}"
                )
        if at_most(self.inside_width, 2 * least):
            raise refuse(f"width: {mm(self.inside_width):g} is used up by the bends")
        return self

    def _clearances(self) -> tuple[float, float]:
        rows = load("tub_practice")
        tread = rows.find(rule="diameter_over_tyre").need("length") / 2
        side = rows.find(rule="width_over_section").need("length") / 2
        if self.chains:
            classes = load("tyre_clearance")
            known = [row["class"] for row in classes.rows]
            if self.chains.upper() not in known:
                raise refuse(
                    f"chains: '{self.chains}' is not a class of SAE J1232{nearest(self.chains, known)} "
                    f"(accepted: {', '.join(known)})"
                )
            row = classes.find(**{"class": self.chains.upper()})
            # never less than without chains
            tread, side = max(tread, row.need("tread")), max(side, row.need("side"))
        return self.clearance or tread, self.side_clearance or side

    @property
    def tyre_diameter(self) -> float:
        """Diameter of the tyre the tub clears [mm]: the largest of its code, or as measured."""
        return self._tyre[0]

    @property
    def tread_gap(self) -> float:
        """Radial clearance over the tread [mm]."""
        return self._gaps[0]

    @property
    def side_gap(self) -> float:
        """Clearance beside the tyre, each side [mm]."""
        return self._gaps[1]

    @property
    def radius(self) -> float:
        """Inside radius of the wrap [mm]."""
        return (self.tyre_diameter / 2 if self._swept is None else self._swept.radius) + self.tread_gap

    @property
    def line(self) -> float:
        """Height of the floor over the wheel's centre at full bump [mm]."""
        return self.floor - self.travel

    @property
    def swept(self) -> Swept | None:
        """What the steered tyre sweeps; None of a wheel that does not steer."""
        return self._swept

    @property
    def needed_width(self) -> float | None:
        """Inside width that the tyre and its clearance take, steered as far as it goes [mm]; None: nothing is known.

        With one side the body is the other: what the tyre sweeps outboard is outside of the tub.
        """
        section = self._tyre[1]
        if self._swept is None:
            return section + 2 * self.side_gap if section else None
        outboard = self._swept.outboard if self.sides == 2 else section / 2
        return self._swept.inboard + outboard + 2 * self.side_gap

    @property
    def inside_width(self) -> float:
        """Width between the inner faces of the sides [mm]."""
        return self.width if self.width is not None else self.needed_width or 2 * self.side_gap

    @property
    def half_angle(self) -> float:
        """Half of the angle the wrap goes round [rad]."""
        return acos(self.line / self.radius)

    @property
    def bend_radius(self) -> float:
        """Inside radius of the flange bends [mm]."""
        return self.sheet.thickness if self.r is None else self.r
