"""A row (or rows) of spot welds that joins two or three sheets."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cached_property
from typing import Annotated, Any, ClassVar, Self

from pydantic import PrivateAttr, model_validator

from jointcalc.errors import InputError
from jointcalc.formula.branch import above, at_least, at_most, below
from jointcalc.formula.spot_size import CLASSES
from jointcalc.model.fields import DIAMETER, Diameter, Distance, Force, Length, Moment, Said, Stress, refuse
from jointcalc.model.row import MOST_WELDS, Enters, WeldRow
from jointcalc.model.sheet import Sheet
from jointcalc.quantity.sentence import mm


class SpotSeam(WeldRow):
    """A spot-welded seam.

    `weld_diameter` is the measured spot diameter or a class: `minimum` (3.5 sqrt t), `usual`
    (4 sqrt t), `target` (5 sqrt t).  Give `pitch` or `count`.  Without `end` the row is centred, half
    a pitch or more from each end.  `shear` runs along the seam, `across` pulls it apart in the plane
    of the sheets, `peel` lifts one sheet off the other: service loads of the whole seam.  `moment` turns the
    seam in the plane of the sheets about the middle of the spots (a shear beside the row, a pull beside its middle).
    `peel_arm` runs from the row to the bend that is pulled: without it peel is not judged.
    `shares` says what part of the load each interface of three sheets carries (default: all of it).
    `cycles` with `load_range` (the part of the load that comes and goes) asks for the fatigue screen.
    """

    kind: ClassVar[str] = "spot_seam"
    lasts: ClassVar[bool] = True
    one_weld: ClassVar[str] = "spot"
    word: ClassVar[str] = "seam"
    loading: ClassVar[frozenset[str]] = frozenset(
        (
            "enters",
            "strip",
            "shear",
            "across",
            "peel",
            "peel_arm",
            "moment",
            "compression",
            "presses",
            "shares",
            "cycles",
            "load_range",
        )
    )
    sheets: Annotated[
        tuple[Sheet, ...], Said('A sheet, from one outside to the other: `"1.2 mm"`, `"18 ga"`; two or three.')
    ]
    weld_diameter: Annotated[Diameter | str, Said("Measured spot diameter, or `minimum`, `usual`, `target`.")]
    lap: Annotated[Length | None, Said("Width of the lap.", absent="twice the edge distance")] = None
    # defaults are texts, validated like the rest
    shear: Annotated[Force, Said("Service load along the seam, whole seam.")] = "0 N"  # type: ignore[assignment]
    across: Annotated[Force, Said("Service pull across the seam, in the sheet's plane.")] = "0 N"  # type: ignore[assignment]
    peel: Annotated[Force, Said("Service load that lifts one sheet off the other; needs {peel_arm}.")] = "0 N"  # type: ignore[assignment]
    peel_arm: Annotated[
        Distance | None,
        Said("Distance from the row to the bend that is pulled; without it peel is not judged."),
    ] = None
    moment: Annotated[Moment, Said("Moment that turns the seam in the sheets' plane, about its middle.")] = "0 N*m"  # type: ignore[assignment]
    compression: Annotated[Stress | None, Said("Compressive stress in the sheet along the seam.")] = None
    flat_beside: Annotated[Length | None, Said("Flat width beside the row, for the pitch in compression.")] = None
    shares: Annotated[
        tuple[float, ...],
        Said(
            "Part of the load each interface of three sheets carries; at least 1 in all.",
            option="--share",
            absent="each carries all of it",
        ),
    ] = ()
    cycles: Annotated[float | None, Said("Load changes that the spots must last.")] = None
    load_range: Annotated[float, Said("Part of the load that comes and goes: 1 from nothing, 2 reversing.")] = 1.0
    _brace: str = PrivateAttr(default="")

    @property
    def brace(self) -> str:
        """Id of the brace whose weld lines it is, each of them; empty for a seam of its own."""
        return self._brace

    @property
    def entry(self) -> Enters:
        """How the load comes in: into the weld lines of a brace it flows along."""
        return self.enters or ("along" if self._brace else "")

    @property
    def joints(self) -> tuple[int, ...]:
        """Interfaces that pass some of the load on, by the number of their first sheet (from 0)."""
        return tuple(n for n, (_, _, _, part) in enumerate(self.interfaces) if part)

    @property
    def size(self) -> float:
        """Spot diameter [mm]."""
        return self.d

    @property
    def fused(self) -> float:
        """Spot diameter [mm]."""
        return self.d

    @property
    def least_strip(self) -> float:
        """Width of the lap [mm]."""
        return self.actual_lap

    @property
    def lift(self) -> float:
        """The peel [N]."""
        return abs(self.peel)

    @property
    def lever(self) -> tuple[float, float]:
        """The peel arm, the edge distance where none is given, and the edge [mm]."""
        return (self.peel_arm if self.peel_arm is not None else self.edge), self.least_edge

    def without(self, numbers: Iterable[int]) -> Self:
        """The same seam with those spots gone too, still the weld line of its brace.  InputError when none is left."""
        made = super().without(numbers)
        return made.of(self._brace) if self._brace else made

    def of(self, brace: str) -> Self:
        """The same seam, said to be each weld line of that brace."""
        made = self.model_copy()
        made._brace = brace
        return made

    @model_validator(mode="before")
    @classmethod
    def _read(cls, data: Any) -> Any:
        if not isinstance(data, Mapping):
            return data
        word = data.get("weld_diameter")
        if isinstance(word, str) and word.strip().lower() in CLASSES:
            return {**data, "weld_diameter": word.strip().lower()}
        if word is not None and "weld_diameter" in data:
            try:
                DIAMETER.read(word)
            except InputError as error:
                words = ", ".join(f"'{c}'" for c in CLASSES)
                raise refuse(f"weld_diameter: {error.message}, or one of the classes {words}") from error
        return data

    @model_validator(mode="after")
    def _consistent(self) -> Any:
        if not 2 <= len(self.sheets) <= 3:
            raise refuse(f"sheets: {len(self.sheets)} given; a spot weld joins two or three sheets")
        if (self.pitch is None) == (self.count is None):
            raise refuse("pitch: give either 'pitch' or 'count', one of the two")
        if self.count is not None and not 1 <= self.count <= MOST_WELDS:
            raise refuse(f"count: {self.count} spots; accepted is 1 to {MOST_WELDS}")
        if not 1 <= self.rows <= 10:
            raise refuse(f"rows: {self.rows}; accepted is 1 to 10")
        if self.rows > 1 and self.row_spacing is None:
            raise refuse("row_spacing: more than one row needs the distance between rows, such as '20 mm'")
        if self.end is not None and above(2 * self.end, self.length):
            raise refuse(f"end: {mm(self.end):g} at both ends is longer than the seam, {mm(self.length):g}")
        if self.pitch is not None and above(self.pitch, self.length):
            raise refuse(f"pitch: {mm(self.pitch):g} is longer than the seam, {mm(self.length):g}")
        if self.lap is not None and below(self.lap, self.edge + (self.rows - 1) * (self.row_spacing or 0)):
            raise refuse(f"lap: {mm(self.lap):g} cannot hold the rows and the edge distance")
        if self.shares and len(self.shares) != len(self.sheets) - 1:
            raise refuse(f"shares: {len(self.shares)} given for {len(self.sheets) - 1} interfaces")
        if any(not 0 <= share <= 1 for share in self.shares):
            told = ", ".join(f"{share:g}" for share in self.shares)
            raise refuse(f"shares: {told}; each is a part of the load between 0 and 1")
        if self.shares and below(sum(self.shares), 1.0):
            told = " + ".join(f"{share:g}" for share in self.shares)
            raise refuse(
                f"shares: {told} = {sum(self.shares):g} of the load; the interfaces carry at least all of it between "
                "them (more where a load goes through both); leave 'shares' out and each carries all"
            )
        if not 0.0 < self.load_range <= 2.0:
            raise refuse(
                f"load_range: {self.load_range:g}; it is the part of the load that comes and goes: 1 from nothing to "
                "all, 2 when it fully reverses"
            )
        if self.spots > MOST_WELDS:
            raise refuse(f"pitch: gives {self.spots} spots; accepted is up to {MOST_WELDS}")
        if self.along > 1 and at_most(self.actual_pitch, self.d):
            raise refuse(
                f"{'count' if self.pitch is None else 'pitch'}: spots of {mm(self.d):.3g} would touch at a pitch of "
                f"{mm(self.actual_pitch):.3g}; widen the pitch"
            )
        for name, room in (("edge", self.edge), ("end", self.end), ("lap", self.least_edge)):
            if room is not None and at_least(self.d, 2 * room):
                what = "leaves the other sheet an edge that" if name == "lap" else f"{mm(room):g}"
                lap = f"{mm(self.lap):g} " if self.lap is not None and name == "lap" else ""
                raise refuse(
                    f"{name}: {lap}{what} does not hold a spot of {mm(self.d):.3g}; at least half of it is needed"
                )
        if self.rows > 1 and self.row_spacing is not None and at_most(self.row_spacing, self.d):
            raise refuse(f"row_spacing: {mm(self.row_spacing):g}; rows of {mm(self.d):.3g} spots would touch")
        return self

    @cached_property
    def governing_thickness(self) -> float:
        """Thickness a spot is sized for [mm]: the thinner of two, the second thickest of three (AWS D8.1M)."""
        ordered = sorted(sheet.t for sheet in self.sheets)
        return ordered[0] if len(ordered) == 2 else ordered[1]

    @cached_property
    def outside_thickness(self) -> float:
        """Thickness of the thinnest outside sheet [mm]."""
        return min(self.sheets[0].t, self.sheets[-1].t)

    @cached_property
    def d(self) -> float:
        """Spot diameter [mm]."""
        if isinstance(self.weld_diameter, str):
            return float(CLASSES[self.weld_diameter](t=self.governing_thickness))
        return self.weld_diameter

    @property
    def spots(self) -> int:
        """Spots in the seam, all rows."""
        return self.welds

    @property
    def actual_lap(self) -> float:
        """Width of the lap [mm]; twice the edge distance and the rows when not given."""
        return self.lap if self.lap is not None else 2 * self.edge + (self.rows - 1) * (self.row_spacing or 0.0)

    @cached_property
    def thinnest(self) -> float:
        """Thickness of the thinnest sheet, inside or outside [mm]."""
        return min(sheet.t for sheet in self.sheets)

    @property
    def stack_ratio(self) -> float:
        """Thickest over thinnest sheet as bought, zinc included."""
        thick = [sheet.thickness for sheet in self.sheets]
        return max(thick) / min(thick)

    @cached_property
    def least_edge(self) -> float:
        """Distance from a row to the nearer of the two sheets' edges [mm]: a narrow lap leaves the other sheet less."""
        return min(self.edge, self.actual_lap - self.edge - (self.rows - 1) * (self.row_spacing or 0.0))

    @property
    def interfaces(self) -> list[tuple[str, Sheet, Sheet, float]]:
        """(name, sheet, sheet, share of the load) of each interface; the name is empty for two sheets."""
        shares = self.shares or (1.0,) * (len(self.sheets) - 1)
        pairs = list(zip(self.sheets[:-1], self.sheets[1:], shares))
        if len(pairs) == 1:
            a, b, share = pairs[0]
            return [("", a, b, share)]
        return [(f"{i + 1}-{i + 2}", a, b, share) for i, (a, b, share) in enumerate(pairs)]
