"""What all families of folded profiles share: dimensions by their letters, the geometry they give, what is wrong.

Every family is a frozen record of dimensions [mm], each a float or an array over a batch of
candidates.  Dimensions are outside dimensions, over the outer faces of the sheet; `r` is the inside
radius of the bends and is one sheet thickness when left out (common practice, no source).  y is
horizontal, z vertical, and z = 0 is the lowest outer face.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import MISSING, dataclass, fields
from functools import cached_property, partial
from math import pi
from typing import Any, ClassVar, get_type_hints

import numpy as np

from jointcalc.errors import InputError
from jointcalc.quantity.sentence import mm
from jointcalc.section.outline import STEEL_DENSITY, Bools, Number, Outline, crossing
from jointcalc.section.properties import Properties
from jointcalc.section.tracer import Development, Flat, Tracer

QUARTER = pi / 2
SLACK = 1e-9  # mm: what rounding may leave of a flat that is exactly used up


@dataclass(frozen=True, slots=True)
class Letter:
    """What one dimension of a family means, for the docs, the parser and the messages.

    `zero` allows 0; `thickness` marks a sheet thickness, for which a gauge may stand.
    """

    meaning: str
    zero: bool = False
    thickness: bool = False


@dataclass(frozen=True, slots=True)
class Fault:
    """What makes candidates impossible: the dimension to change, where in the batch, and why."""

    field: str
    wrong: Bools
    message: Callable[[int], str]


def _one(value: Number, column: int) -> float:
    array = np.atleast_1d(np.asarray(value, dtype=float))
    return float(array[column if array.shape[-1] > 1 else 0])


def in_mm(value: Number, column: int) -> str:
    """A dimension of one candidate, for a message."""
    return f"{_one(value, column):.4g} mm"


@dataclass(frozen=True, kw_only=True)
class Family:
    """What all families share.  Raises nothing when made; `check` says what is wrong with it."""

    kind: ClassVar[str] = ""
    summary: ClassVar[str] = ""
    example: ClassVar[str] = ""
    """One profile of the family as a builder writes it, to copy."""
    closed: ClassVar[bool] = False

    # --- letters -------------------------------------------------------------------------------------

    @classmethod
    def letters(cls) -> dict[str, Letter]:
        """Letter -> meaning, in the order a builder would write them."""
        return dict(_letters(cls))

    @classmethod
    def required(cls) -> tuple[str, ...]:
        """Letters that must be given."""
        lettered = _letters(cls)
        return tuple(f.name for f in fields(cls) if f.name in lettered and f.default is MISSING)

    def dimensions(self) -> dict[str, Number]:
        """Letter -> value as given; letters left out are not listed."""
        return {k: getattr(self, k) for k in self.letters() if getattr(self, k) is not None}

    def text(self, column: int = 0) -> str:
        """The profile in the form a builder writes."""
        # sixteenths and gauges have more figures than a message shows
        parts = ",".join(f"{k}={_one(v, column):.7g}mm" for k, v in self.dimensions().items())
        return f"{self.kind}:{parts}"

    @property
    def batch(self) -> int:
        """How many candidates this holds."""
        return max(int(np.size(v)) for v in self.dimensions().values())

    def take(self, columns: Any) -> Family:
        """The candidates at these columns (an index array or a slice) of a batch."""
        chosen = {}
        for name, value in self.dimensions().items():
            array = np.atleast_1d(np.asarray(value, dtype=float))
            chosen[name] = array[columns] if array.shape[-1] > 1 else value
        return type(self)(**chosen)

    # --- geometry ------------------------------------------------------------------------------------

    def trace(self, *, sharp: bool = False, density: Number = STEEL_DENSITY) -> Tracer:
        """The mid-line as it is folded."""
        raise NotImplementedError(f"{self.kind} draws no mid-line")

    def outline(self, *, sharp: bool = False, density: Number = STEEL_DENSITY) -> Outline:
        """The mid-line outline.

        `sharp` draws the bends as sharp corners of the mid-line, the idealisation that published
        examples use when the radii are small (EN 1993-1-3 5.1(3)).  `density` in t/mm^3.
        """
        return self.trace(sharp=sharp, density=density).outline()

    def properties(self, *, sharp: bool = False, density: Number = STEEL_DENSITY) -> Properties:
        """Section properties of the profile."""
        return Properties(self.outline(sharp=sharp, density=density))

    def flats_and_bends(self) -> Development:
        """Flats, bends and beads, for the blank and for effective widths."""
        return self._development

    @cached_property
    def _development(self) -> Development:
        return self.trace().development()

    @property
    def weld_lines(self) -> tuple[str, ...]:
        """Names of the weld lines of the outline (see `Properties.shear_flow(...).at(name)`)."""
        return ()

    @property
    def level_symmetric(self) -> bool:
        """Whether the profile bends the same turned upside down: its upper and lower half are alike."""
        return False

    # --- faults --------------------------------------------------------------------------------------

    def _rules(self) -> Iterator[Fault]:
        """Faults of the family beyond the general ones."""
        return iter(())

    def faults(self) -> tuple[Fault, ...]:
        """Everything that makes candidates impossible; `wrong` marks them in the batch."""
        found = []
        for name, value in self.dimensions().items():
            letter = _letters(type(self))[name]
            array = np.atleast_1d(np.asarray(value, dtype=float))
            wrong = ~np.isfinite(array) | (array < 0) | ((array == 0) & (not letter.zero))
            if wrong.any():
                found.append(Fault(name, wrong, _unusable(name, letter, value)))
        if found and self.batch == 1:
            return tuple(found)  # the geometry cannot be drawn
        with np.errstate(all="ignore"):  # candidates marked above may give anything
            found.extend(self._rules())
            for part in self._development.flats:
                wrong = part.length < -SLACK
                if part.count and wrong.any():
                    found.append(Fault(part.letter, wrong, partial(self._too_small, part)))
        return tuple(found)

    def _too_small(self, part: Flat, column: int) -> str:
        value = getattr(self, part.letter, None)
        length = float(part.length[column if part.length.shape[-1] > 1 else 0])
        if value is None:
            return (
                f"the bends leave the {part.name} a flat of {mm(length):.4g}; "
                "make the profile larger or the inside radius smaller"
            )
        given = float(np.atleast_1d(np.asarray(value, dtype=float))[column if np.size(value) > 1 else 0])
        bends = f" and the inside radius {in_mm(self.radius, column)}" if self.radius is not None else ""
        return (
            f"{part.letter} of {in_mm(value, column)} is too small: sheet of {in_mm(part.t, column)}{bends} would "
            f"leave the {part.name} a flat of {mm(length):.4g}; make {part.letter} at least {mm(given - length):.4g}, "
            "or the radius smaller"
        )

    @property
    def radius(self) -> Number | None:
        """Inside bend radius [mm], with the default put in; None where nothing is bent."""
        r = getattr(self, "r", None)
        return getattr(self, "t", None) if r is None else r

    def valid(self) -> Bools:
        """Boolean array: which candidates can be built."""
        ok = np.ones(self.batch, dtype=bool)
        for fault in self.faults():
            ok &= ~fault.wrong
        return ok

    def check(self) -> None:
        """Raises InputError in builder's terms for the first fault of the first faulty candidate."""
        for fault in self.faults():
            wrong = np.broadcast_to(fault.wrong, (self.batch,))
            if wrong.any():
                raise InputError(f"{self.kind}: {fault.message(int(np.flatnonzero(wrong)[0]))}", field=fault.field)
        if self.batch == 1:
            outline = self.outline()
            _ = outline.tree
            met = crossing(outline)
            if met:
                raise InputError(
                    f"{self.kind}: the {met[0]} and the {met[1]} cross; "
                    "change the dimensions so that the sheet stays clear of itself"
                )


_LETTERS: dict[str, Mapping[str, Letter]] = {}


def _letters(family: type[Family]) -> Mapping[str, Letter]:
    if family.kind in _LETTERS:
        return _LETTERS[family.kind]
    hints = get_type_hints(family, include_extras=True)
    found = {}
    for f in fields(family):
        notes = getattr(hints[f.name], "__metadata__", ())
        if notes and isinstance(notes[0], Letter):
            found[f.name] = notes[0]
    _LETTERS[family.kind] = found
    return found


def _unusable(name: str, letter: Letter, value: Number) -> Callable[[int], str]:
    least = "0 or more" if letter.zero else "more than 0"
    return lambda i: f"{name} is {in_mm(value, i)}; it must be {least} ({letter.meaning})"


def square_corners(tracer: Tracer, r: Number, ends: int) -> Number:
    """What sharp corners add to a flat with `ends` square bends."""
    return ends * (r + tracer.t / 2)
