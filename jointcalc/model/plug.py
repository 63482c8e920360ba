"""A row (or rows) of plug, slot or arc spot welds: for where the spot gun cannot reach."""

from __future__ import annotations

from typing import Annotated, Any, ClassVar, Literal

from pydantic import PrivateAttr, model_validator

from jointcalc.errors import InputError
from jointcalc.formula.spot_size import FUSION_EN
from jointcalc.model.fields import Diameter, Distance, Force, Length, Said, refuse
from jointcalc.model.row import MOST_WELDS, WeldRow
from jointcalc.model.sheet import Sheet
from jointcalc.quantity.compare import above, at_least, at_most
from jointcalc.quantity.sentence import mm
from jointcalc.tables.store import load
from jointcalc.tables.trade import filler_row

Uplift = Literal["field", "edge", "side-lap"]
"""Where an arc spot is lifted: inside a sheet, at its edge (eccentric), at a side lap between sheets."""


class PlugRow(WeldRow):
    """Plug (rosette) welds through a punched hole, slot welds, or arc spot welds melted through the sheet.

    `sheets` in order from the side that is welded; the last one lies underneath and is not holed.  Give `hole` (and
    `slot`, its overall length, for a slot) or `visible`, the visible diameter of an arc spot (and `seam`, the length
    between its end circles, for an elongated one).  `interface` is the fused diameter measured on sectioned coupons.
    `shear` runs along the row, `across` pulls across it in the sheets' plane, `uplift` lifts the sheets off: service
    loads of the whole row.  `fill` is the depth the hole is filled to (default: full).
    """

    kind: ClassVar[str] = "plug"
    loading: ClassVar[frozenset[str]] = frozenset(
        ("enters", "strip", "shear", "across", "uplift", "uplift_place", "presses")
    )
    sheets: Annotated[
        tuple[Sheet, ...], Said('A sheet, from the welded side: `"1.2 mm"`, `"18 ga"`; the last lies underneath.')
    ]
    hole: Annotated[Diameter | None, Said("Diameter of the punched hole, or width of the slot; or give {visible}.")] = (
        None
    )
    slot: Annotated[Length | None, Said("Overall length of a slot.")] = None
    visible: Annotated[
        Diameter | None, Said("Visible diameter of an arc spot melted through the sheet, instead of {hole}.")
    ] = None
    seam: Annotated[Length | None, Said("Length of an elongated arc spot between its end circles.")] = None
    interface: Annotated[Diameter | None, Said("Fused diameter measured on sectioned coupons.")] = None
    filler: Annotated[str, Said("Filler by classification: `ER70S-6`, `E7018`, `E6013`, `ER308L` ...")] = "ER70S-6"
    fill: Annotated[Distance | None, Said("Depth the hole is filled to.", absent="full")] = None
    # defaults are texts, validated like the rest
    shear: Annotated[Force, Said("Service load along the row, whole row.")] = "0 N"  # type: ignore[assignment]
    across: Annotated[Force, Said("Service pull across the row, in the sheets' plane.")] = "0 N"  # type: ignore[assignment]
    uplift: Annotated[Force, Said("Service load that lifts the sheets off.")] = "0 N"  # type: ignore[assignment]
    uplift_place: Annotated[Uplift, Said("Where the welds are lifted: `field`, `edge` or `side-lap` of a sheet.")] = (
        "field"
    )
    deck: Annotated[bool, Said("A deck or panel, for the factor on uplift.")] = False
    weld_washer: Annotated[bool, Said("Arc spots in sheet under 0.7 mm are made through weld washers.")] = False
    _F_EXX: float = PrivateAttr(default=0.0)

    @model_validator(mode="after")
    def _consistent(self) -> Any:
        light = [row["filler"] for row in load("filler_aluminium_shear").rows]
        if self.filler.upper().removeprefix("ER") in light:
            raise refuse(
                f"filler: '{self.filler}' is a wire for aluminium, and no method here judges plugs or arc spots in "
                "aluminium sheet: lay a fillet along the edge of the lap, or take bolts or rivets"
            )
        try:
            row = filler_row(self.filler)
            self._F_EXX = row.need("tensile_min")
        except InputError as error:
            raise refuse(f"filler: {error.message}") from error
        stainless = any(sheet.material.family == "stainless" for sheet in self.sheets)
        if stainless != (row["family"] == "stainless"):
            raise refuse(
                f"filler: {row['classification']} does not go with these sheets; "
                + (
                    "stainless needs a stainless filler, such as 'ER308L', or 'ER309L' to carbon steel"
                    if stainless
                    else "carbon steel takes a steel filler, such as 'ER70S-6'"
                )
            )
        if (self.hole is None) == (self.visible is None):
            raise refuse(
                "hole: give 'hole' for a plug weld through a punched hole, or 'visible' for an arc spot, one of the two"
            )
        self._stack()
        self._sizes()
        self._places()
        return self

    def _stack(self) -> None:
        if not 2 <= len(self.sheets) <= (3 if self.hole is not None else 5):
            raise refuse(
                f"sheets: {len(self.sheets)} given; accepted are two or three for a plug weld, two to five for an arc "
                "spot"
            )

    def _sizes(self) -> None:
        if self.hole is not None:
            if self.seam is not None or self.weld_washer:
                raise refuse("seam: an elongated arc spot and a weld washer go with 'visible', not with 'hole'")
            if self.slot is not None and at_most(self.slot, self.hole):
                raise refuse(
                    f"slot: {mm(self.slot):g} overall is not longer than its width, {mm(self.hole):g}; leave 'slot' "
                    "out "
                    "for a round hole"
                )
            if self.interface is not None and above(self.interface, self.slot or self.hole):
                raise refuse(
                    f"interface: {mm(self.interface):g} is more than the hole it was fused through, "
                    f"{mm(self.slot or self.hole):g}; give the diameter of what is fused to the sheet below"
                )
            if self.fill is not None and above(self.fill, self.top):
                raise refuse(
                    f"fill: {mm(self.fill):g} is deeper than the hole, {mm(self.top):.3g}; leave it out when full"
                )
        else:
            if self.slot is not None or self.fill is not None:
                raise refuse("slot: a slot and a depth of fill go with 'hole', not with 'visible'")
            assert self.visible is not None
            if at_most(self.visible, 2 * self.top):
                raise refuse(
                    f"visible: a spot of {mm(self.visible):g} through {mm(self.top):.3g} of sheet has nothing left at "
                    "the faying surface"
                )

    def _places(self) -> None:
        word = "hole" if self.hole is not None else "visible"
        d = self.diameter
        if (self.pitch is None) == (self.count is None):
            raise refuse("pitch: give either 'pitch' or 'count', one of the two")
        if self.count is not None and not 1 <= self.count <= MOST_WELDS:
            raise refuse(f"count: {self.count} welds; accepted is 1 to {MOST_WELDS}")
        if not 1 <= self.rows <= 10:
            raise refuse(f"rows: {self.rows}; accepted is 1 to 10")
        if self.rows > 1 and self.row_spacing is None:
            raise refuse("row_spacing: more than one row needs the distance between rows, such as '30 mm'")
        if self.end is not None and above(2 * self.end, self.length):
            raise refuse(f"end: {mm(self.end):g} at both ends is longer than the row, {mm(self.length):g}")
        if self.pitch is not None and above(self.pitch, self.length):
            raise refuse(f"pitch: {mm(self.pitch):g} is longer than the row, {mm(self.length):g}")
        if self.welds > MOST_WELDS:
            raise refuse(f"pitch: gives {self.welds} welds; accepted is up to {MOST_WELDS}")
        if at_least(d, 2 * self.edge):
            raise refuse(
                f"{word}: {mm(d):.3g} is larger than the sheet allows: its centre is {mm(self.edge):g} from the edge; "
                "take a smaller one or widen the edge distance"
            )
        size = self.overall
        if self.along > 1 and at_most(self.actual_pitch, size):
            raise refuse(
                f"{word}: {mm(size):.3g} is larger than the sheet allows at a pitch of {mm(self.actual_pitch):.3g}: "
                "they would touch; widen the pitch"
            )
        if at_least(size, 2 * self.actual_end):
            raise refuse(
                f"{word}: {mm(size):.3g} is larger than the sheet allows at its end: the last centre is "
                f"{mm(self.actual_end):.3g} from it; use fewer welds or shift them"
            )
        if self.rows > 1 and self.row_spacing is not None and at_most(self.row_spacing, d):
            raise refuse(f"row_spacing: {mm(self.row_spacing):g}; rows of {mm(d):.3g} welds would touch")

    @property
    def F_EXX(self) -> float:
        """Tensile strength of the weld metal [MPa]."""
        return self._F_EXX

    @property
    def top(self) -> float:
        """Thickness of all sheets above the lowest [mm], zinc deducted."""
        return sum(sheet.t for sheet in self.sheets[:-1])

    @property
    def base(self) -> Sheet:
        """The sheet underneath."""
        return self.sheets[-1]

    @property
    def diameter(self) -> float:
        """Hole diameter, slot width or visible diameter [mm]."""
        return self.hole if self.hole is not None else self.visible  # type: ignore[return-value]

    @property
    def size(self) -> float:
        """Hole diameter, slot width or visible diameter [mm]."""
        return self.diameter

    @property
    def fused(self) -> float:
        """Fused diameter [mm]: measured, else 0.5 t + 5 mm (EN 1993-1-3), not more than the hole."""
        usual = float(FUSION_EN(t=min(s.t for s in self.sheets)))
        return self.interface if self.interface is not None else min(usual, self.diameter)

    @property
    def lift(self) -> float:
        """The uplift [N]."""
        return abs(self.uplift)

    @property
    def overall(self) -> float:
        """Size of one weld along the row [mm]."""
        if self.slot is not None:
            return self.slot
        return self.diameter + (self.seam or 0.0)
