"""What a straight beam is given: supports, loads, masses, and the refusal of what would fall, turn or stand off it.

Signs: x from the left end; forces downwards positive, couples clockwise positive.  Units: N, mm, t.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import inf, isfinite
from typing import Literal

import numpy as np
import numpy.typing as npt

from jointcalc.errors import InputError
from jointcalc.quantity.sentence import mm

Array = npt.NDArray[np.float64]
Number = float | Array
SNAP = 1e-9
"""Part of the length within which two positions are one; far below what a shop can measure."""


@dataclass(frozen=True, slots=True)
class Support:
    """A support at `at` mm: `vertical` stiffness [N/mm] and `rotation` stiffness [N·mm/rad].

    inf holds, 0 leaves free.  The defaults make a pinned support.
    """

    at: float
    vertical: float = inf
    rotation: float = 0.0


@dataclass(frozen=True, slots=True)
class PointLoad:
    """A force [N, downwards positive] at `at` mm; `force` may be an array over candidates."""

    force: Number
    at: float


@dataclass(frozen=True, slots=True)
class Couple:
    """A couple [N·mm, clockwise positive] at `at` mm; `moment` may be an array over candidates."""

    moment: Number
    at: float


@dataclass(frozen=True, slots=True)
class SpreadLoad:
    """A load per length from `start` to `end` mm, going linearly from `first` to `last` [N/mm, downwards]."""

    first: Number
    last: Number
    start: float
    end: float


Load = PointLoad | Couple | SpreadLoad


def is_some(load: Load) -> bool:
    """Whether a load is more than nothing, of a candidate or another."""
    if isinstance(load, SpreadLoad):
        return bool(np.any(load.first) or np.any(load.last))
    return bool(np.any(load.force if isinstance(load, PointLoad) else load.moment))


@dataclass(frozen=True, slots=True)
class PointMass:
    """A mass [t] carried at `at` mm, without rotational inertia."""

    mass: float
    at: float


Ends = Literal["pinned", "fixed", "cantilever"] | tuple[float, float]


def supports_of(ends: Ends, length: float) -> tuple[Support, ...]:
    """The supports of a single span.

    `ends` is "pinned", "fixed", "cantilever" (held at the left, free at the right) or the two
    rotational stiffnesses [N·mm/rad] of ends that are held vertically.  Raises InputError for any
    other word or a negative stiffness.
    """
    if isinstance(ends, tuple):
        return (Support(0.0, rotation=ends[0]), Support(length, rotation=ends[1]))
    if ends == "pinned":
        return (Support(0.0), Support(length))
    if ends == "fixed":
        return (Support(0.0, rotation=inf), Support(length, rotation=inf))
    if ends == "cantilever":
        return (Support(0.0, rotation=inf),)
    raise InputError(
        f"'{ends}' is not a kind of end; give pinned, fixed, cantilever or two rotational stiffnesses such as "
        "5e7 1e7 N*mm/rad",
        field="ends",
    )


def check_length(length: float) -> None:
    """Refuses a length that is not greater than zero."""
    if not (isfinite(length) and length > 0):
        raise InputError(f"the beam needs a length greater than zero, got {mm(length):g}", field="span")


def check_position(at: float, length: float, what: str, field: str) -> None:
    """Refuses a place off the beam."""
    if not isfinite(at) or at < -SNAP * length or at > length * (1 + SNAP):
        raise InputError(
            f"{what} at {mm(at):g} is off the beam, which runs from {mm(0, ' to ', length):g}; "
            "move it onto the beam or lengthen the span",
            field=field,
        )


def check_supports(length: float, supports: Sequence[Support]) -> tuple[Support, ...]:
    """Supports sorted along the beam; refuses what would let the beam fall or turn."""
    for s in supports:
        check_position(s.at, length, "the support", "support")
        if not (s.vertical >= 0 and s.rotation >= 0):
            raise InputError(
                f"the support at {mm(s.at):g} has a negative stiffness; 0 is free, a larger number is stiffer",
                field="support",
            )
    ordered = tuple(sorted(supports, key=lambda s: s.at))
    for one, two in pairwise(ordered):
        if two.at - one.at <= SNAP * length:
            raise InputError(f"two supports stand at {mm(one.at):g}; give one, or move them apart", field="support")
    holding = [s for s in ordered if s.vertical > 0]
    if not holding:
        raise InputError("nothing holds the beam up; give it at least one support that takes load", field="support")
    if len(holding) == 1 and not any(s.rotation > 0 for s in ordered):
        raise InputError(
            f"the beam would turn about its only support at {mm(holding[0].at):g}; "
            "add a second support or fix that one against turning",
            field="support",
        )
    return ordered


def check_loads(length: float, loads: Sequence[Load]) -> None:
    """Refuses loads off the beam, turned round, or without a finite size."""
    for load in loads:
        if isinstance(load, SpreadLoad):
            check_position(load.start, length, "the spread load starts", "spread")
            check_position(load.end, length, "the spread load ends", "spread")
            if not load.end > load.start:
                raise InputError(
                    f"the spread load runs from {mm(load.start, ' to ', load.end):g}; its end must lie to the right of "
                    "its start",
                    field="spread",
                )
            sizes: tuple[Number, ...] = (load.first, load.last)
        elif isinstance(load, PointLoad):
            check_position(load.at, length, "the point load", "point")
            sizes = (load.force,)
        else:
            check_position(load.at, length, "the couple", "couple")
            sizes = (load.moment,)
        if not all(np.all(np.isfinite(size)) for size in sizes):
            raise InputError("a load must be a finite number", field="load")


def check_given(length: float, supports: Sequence[Support], loads: Sequence[Load]) -> tuple[Support, ...]:
    """The supports sorted along the beam; refuses what would fall, turn or lies off the beam."""
    check_length(length)
    ordered = check_supports(length, supports)
    check_loads(length, loads)
    return ordered


def check_stiffness(EI: Number) -> Array:
    """The stiffness as an array; refuses what is not greater than zero."""
    value = np.asarray(EI, dtype=float)
    if not np.all(np.isfinite(value) & (value > 0)):
        raise InputError("the bending stiffness EI must be greater than zero", field="EI")
    return value
