"""One published value, or one row of a published table, and how the package arrives at it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

STATUSES = ("read", "second-hand", "from memory", "computed")
"""How the published value is known: read in a copy, read where others quote it, recalled, or computed independently.

The last is no published value at all; it stands in a list of its own and is never counted as an outside case.
"""


def half_unit(printed: str) -> float:
    """Half a unit of the last printed digit: `0.975` -> 0.0005, `2.76e6` -> 5000."""
    mantissa, _, exponent = printed.lower().partition("e")
    places = len(mantissa.partition(".")[2])
    return 0.5 * 10.0 ** (int(exponent or 0) - places)


@dataclass(frozen=True)
class Case:
    """A value as printed and the call that has to give it.

    `published` is the print, digit by digit; a row of a table is several prints apart by blanks.  The tolerance is half
    a unit of the last printed digit; `units` allows more units of it and `relative` a share of the value, and either
    asks for `why`, which is printed beside the case.
    """

    kind: str
    name: str
    source: str
    status: str
    published: str
    unit: str
    compute: Callable[[], float | Sequence[float]]
    units: float = 0.5
    relative: float = 0.0
    why: str = ""

    def __post_init__(self) -> None:
        assert self.status in STATUSES, self.status
        assert self.published.split(), self.name
        assert self.why or (self.units == 0.5 and self.relative == 0.0), (
            f"{self.name}: a wider tolerance needs a reason"
        )

    @property
    def id(self) -> str:
        return f"{self.kind}: {self.name}"

    @property
    def prints(self) -> tuple[str, ...]:
        return tuple(self.published.split())

    @property
    def outside(self) -> bool:
        """Whether the value was published outside the project."""
        return self.status != "computed"

    def tolerances(self) -> tuple[float, ...]:
        """What each print allows, with a hair for sums that end on the half."""
        return tuple(
            max(2.0 * self.units * half_unit(p), self.relative * abs(float(p))) * (1 + 1e-6) + 1e-12
            for p in self.prints
        )

    def ours(self) -> tuple[float, ...]:
        """The package's values, in the unit of the print."""
        found = self.compute()
        values = tuple(float(v) for v in found) if isinstance(found, tuple | list) else (float(found),)  # type: ignore[arg-type]
        assert len(values) == len(self.prints), f"{self.name}: {len(values)} values for {len(self.prints)} prints"
        return values

    def agrees(self, ours: Sequence[float]) -> bool:
        """Whether every value is within the tolerance of its print."""
        return all(abs(v - float(p)) <= t for v, p, t in zip(ours, self.prints, self.tolerances()))


def shown(value: float, printed: str) -> str:
    """Our value with one digit more than the print has."""
    mantissa, _, exponent = printed.lower().partition("e")
    places = len(mantissa.partition(".")[2]) + 1
    if exponent:
        return f"{value / 10.0 ** int(exponent):.{places}f}e{int(exponent)}"
    return f"{value:.{places}f}"
