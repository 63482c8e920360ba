"""Welds in one or more straight rows: where they stand along the row."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cached_property
from itertools import pairwise
from math import floor
from typing import TYPE_CHECKING, Annotated, Any, ClassVar, Literal, Self

from pydantic import PrivateAttr, model_validator

from jointcalc.formula.branch import at_most
from jointcalc.model.fields import Distance, Item, Length, Pitch, Said, refuse
from jointcalc.quantity.sentence import mm

if TYPE_CHECKING:
    from jointcalc.model.coupon_source import Tested

MOST_WELDS = 5000
"""Welds in one item beyond which the input is taken for a slip."""


Enters = Literal["", "along", "through", "one-end", "both-ends"]
"""How a load along a row comes into it."""


class WeldRow(Item):
    """Equal welds at a pitch along a row of stated length.

    Give `pitch` or `count`.  Without `end` the row is centred, half a pitch or more from each end, so that
    the load on one weld is the load per length times the pitch.

    `enters` says how the load comes in: `along` the whole row (a shear flow), `through` (in at one end of the one
    sheet, out at the other end of the other: a lap pulled in line), at `one-end` (out there too, or wherever), at
    `both-ends`, half at each.  `strip` is the width of sheet it is spread over there.  Not said, strengths are judged
    by the equal shares that their documents take, and what is elastic (a life under load changes) is not judged.
    `missing` are welds known to be bad; `dud_rate` asks what such welds would do.

    Of a load that comes from others, `presses` says which way it presses the sheets together: `down` where the part
    that brings it lies on top, `up` where it hangs below.  Not said, it lifts them off either way.
    """

    word: ClassVar[str] = "row"
    length: Annotated[Length, Said("Length of the {item}.")]
    pitch: Annotated[Pitch | None, Said("Pitch of the {weld}s, from one to the next; or give {count}.")] = None
    count: Annotated[int | None, Said("{Weld}s in one row; or give {pitch}.")] = None
    rows: Annotated[int, Said("Rows of {weld}s.")] = 1
    row_spacing: Annotated[Distance | None, Said("Distance between rows.")] = None
    edge: Annotated[Distance, Said("Distance from the row to the sheet's edge.")]
    presses: Annotated[
        Literal["", "down", "up"],
        Said(
            "Of a {load} from others: `down` where the part that brings it lies on top, `up` where it hangs below.",
            option=None,
            absent="it lifts either way",
        ),
    ] = ""
    end: Annotated[
        Distance | None, Said("Distance of the first {weld} from the {item}'s end.", absent="the row is centred")
    ] = None

    enters: Annotated[
        Enters,
        Said(
            "How the load comes in: `along` the whole {item}, `through` (in at one end, out at the other), `one-end`, "
            "`both-ends`.",
            absent="equal shares, and no life is judged",
        ),
    ] = ""
    strip: Annotated[
        tuple[Length, ...],
        Said(
            "Width of sheet that brings a load which comes in at an end; one for all sheets, or one each.",
            absent="the lap",
        ),
    ] = ()
    missing: Annotated[
        tuple[int, ...],
        Said("Number of a {weld} that is bad or left out, counted along the {item}, row by row."),
    ] = ()
    dud_rate: Annotated[
        float | None,
        Said("Part of the {weld}s that is bad unseen, `0.1` for one in ten: what is left with any one or two gone."),
    ] = None

    @model_validator(mode="after")
    def _shared(self) -> Any:
        if self.dud_rate is not None and not 0.0 <= self.dud_rate < 1.0:
            raise refuse(f"dud_rate: {self.dud_rate:g}; it is a part of the {self.one_weld}s, from 0 to less than 1")
        if self.strip and len(self.strip) not in (1, len(self.sheets)):  # type: ignore[attr-defined]  # of each row
            raise refuse(f"strip: {len(self.strip)} widths; give one for all sheets, or one for each")
        if self.strip and at_most(min(self.strip), self.edge):
            raise refuse(
                f"strip: {mm(min(self.strip)):g} does not hold the row, whose edge distance is {mm(self.edge):g}"
            )
        if self.missing and (self.pitch is None) != (self.count is None):
            wrong = next((n for n in self.missing if not 1 <= n <= self.welds), None)
            if wrong is not None:
                raise refuse(f"missing: {wrong} is no {self.one_weld} of this {self.word}; they are 1 to {self.welds}")
            if len(set(self.missing)) != len(self.missing):
                raise refuse("missing: names one twice")
            if len(self.missing) == self.welds:
                raise refuse(f"missing: names every {self.one_weld}; nothing is left to hold")
        return self

    @property
    def entry(self) -> Enters:
        """How the load comes in, as far as it is known."""
        return self.enters

    @property
    def ends(self) -> bool:
        """Whether the load is said to come in at an end."""
        return self.enters in ("through", "one-end", "both-ends")

    @property
    def standing(self) -> int:
        """Welds that are not known to be bad, all rows."""
        return self.welds - len(self.missing)

    @cached_property
    def stations(self) -> tuple[int, ...]:
        """Standing welds at each place along the row."""
        found = [self.rows] * self.along
        for number in self.missing:
            found[(number - 1) % self.along] -= 1
        return tuple(found)

    @cached_property
    def widest(self) -> float:
        """Widest distance between standing neighbours along the row [mm]; the pitch where none is missing."""
        if not self.missing:
            return self.actual_pitch
        stand = [k for k, some in enumerate(self.stations) if some]
        gaps = [b - a for a, b in pairwise(stand)]
        return self.actual_pitch * max(gaps, default=1)

    _tested: Tested | None = PrivateAttr(default=None)

    @property
    def tested(self) -> Tested | None:
        """The coupons its machine made, of any stack; None where the project names no log or no machine for it."""
        return self._tested

    def with_tests(self, tested: Tested | None) -> Self:
        """The same row beside those coupons."""
        made = self.model_copy()
        made._tested = tested
        return made

    def but(self, **changes: Any) -> Self:
        """The same with some fields changed; the coupons of its machine stay beside it."""
        return super().but(**changes).with_tests(self._tested)

    def remade(self, data: Mapping[str, Any]) -> Self:
        """A row from other raw data, tried in its place beside the same coupons.  Raises InputErrors."""
        return super().remade(data).with_tests(self._tested)

    def without(self, numbers: Iterable[int]) -> Self:
        """The same row with those welds gone too.  InputError when none would be left."""
        return self.but(missing=tuple(sorted({*self.missing, *numbers})))

    @property
    def joints(self) -> tuple[int, ...]:
        """Interfaces that pass some of the load on, by the number of their first sheet (from 0)."""
        return tuple(range(len(self.sheets) - 1))  # type: ignore[attr-defined]  # every row has sheets

    @property
    def size(self) -> float:
        """Diameter over which a weld holds its sheets stiffly [mm]."""
        raise NotImplementedError

    @property
    def fused(self) -> float:
        """Diameter of what is welded between two sheets [mm]: no more than is sure."""
        raise NotImplementedError

    @property
    def least_strip(self) -> float:
        """Width of sheet that takes part in a load along the row whatever stands beside it [mm]."""
        return 2 * self.edge + (self.rows - 1) * (self.row_spacing or 0.0)

    @property
    def lift(self) -> float:
        """Load that lifts the sheets off [N]."""
        raise NotImplementedError

    @property
    def lever(self) -> tuple[float, float]:
        """From the row to the bend that is lifted, and to the edge behind it [mm]."""
        return self.edge, self.edge

    @cached_property
    def along(self) -> int:
        """Welds in one row."""
        if self.count is not None:
            return self.count
        assert self.pitch is not None
        room = self.length if self.end is None else self.length - 2 * self.end
        whole = floor(room / self.pitch + 1e-9)
        return max(1, whole) if self.end is None else whole + 1

    @cached_property
    def welds(self) -> int:
        """Welds in all rows."""
        return self.along * self.rows

    @cached_property
    def actual_pitch(self) -> float:
        """Distance between centres along the row [mm]; the whole length for a single weld."""
        if self.pitch is not None:
            return self.pitch
        if self.end is None or self.along == 1:
            return self.length / self.along
        return (self.length - 2 * self.end) / max(1, self.along - 1)

    @cached_property
    def actual_end(self) -> float:
        """Distance of the first and last centre from the row's ends [mm], equal at both."""
        return (self.length - (self.along - 1) * self.actual_pitch) / 2
