"""Welds in one or more straight rows: where they stand along the row."""

from __future__ import annotations

from functools import cached_property
from math import floor
from typing import Annotated, ClassVar, Literal

from jointcalc.model.fields import Distance, Item, Length, Pitch, Said

MOST_WELDS = 5000
"""Welds in one item beyond which the input is taken for a slip."""


class WeldRow(Item):
    """Equal welds at a pitch along a row of stated length.

    Give `pitch` or `count`.  Without `end` the row is centred, half a pitch or more from each end, so that
    the load on one weld is the load per length times the pitch.

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
