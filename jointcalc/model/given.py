"""Loads that follow from something else: what one thing puts on another, and the way every newton has come.

A builder knows masses, places and what stands on what; the load of a joint follows.  A *giver* (a mount on its feet, a
frame, a body that is twisted) is solved under the cases of the project and says what it puts on what carries it: one
`Given` for each place, case and direction.  A joint or member that says `load = "from bench"` stands under them.

Axes are those of the floor's plan, as in `place`: x and y in the floor, z up.  Positions [mm], forces [N], moments
[N·mm] about the place of the force.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Literal

from jointcalc.errors import InputError, nearest
from jointcalc.quantity.sentence import Sentence

if TYPE_CHECKING:
    from jointcalc.formula.core import Status

Vector = tuple[float, float, float]
"""x, y, z in the axes of the floor's plan."""

NOTHING: Vector = (0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Station:
    """One station on a load's way: the thing (`bench, foot 2`), what happens there in words and measures, its source.

    `status` is how sure its source is, of the statuses of every source; None for what the builder gave himself.
    """

    thing: str
    sentence: str
    source: str = ""
    status: Status | None = None

    def __post_init__(self) -> None:
        object.__setattr__(self, "sentence", Sentence(self.sentence))


@dataclass(frozen=True, slots=True, kw_only=True)
class Given:
    """What a giver puts on what carries it, at one place, in one case and one of its directions.

    `onto` are the ids of the items that the giver says carry it here: only those take it.  Empty, any item may that
    asks for it.  `flow` [N/mm] is a shear flow along a weld line or panel edge.  `fields` are numbers for named fields
    of the item that takes it, where the giver knows what the item is (a frame knows its braces).  `left` says in
    sentences what of the load the fields leave out: it makes the item `outside`.  `load_factor` is that of the case: 1
    for a load that is ultimate by nature.  `cautions` are codes of `tables/cautions.toml`.
    """

    giver: str
    part: str = ""
    case: str = ""
    direction: str = ""
    at: Vector = NOTHING
    force: Vector = NOTHING
    moment: Vector = NOTHING
    flow: float = 0.0
    fields: Mapping[str, Any] = field(default_factory=dict)
    onto: frozenset[str] = frozenset()
    left: tuple[str, ...] = ()
    load_factor: float | None = None
    cycles: float | None = None
    way: tuple[Station, ...] = ()
    cautions: tuple[str, ...] = ()
    right_there: bool = False

    @property
    def name(self) -> str:
        """Who gives it: `bench foot 2`."""
        return f"{self.giver} {self.part}".strip()

    @property
    def under(self) -> str:
        """The case and its direction: `crash, forward`."""
        return f"{self.case}, {self.direction}" if self.direction else self.case


@dataclass(frozen=True, slots=True, kw_only=True)
class Pull:
    """What a rule pulls with at a place of its own: force [N] and moment [N·mm] at `part` (`lap`, `torso`, `at`).

    `per` says what they are multiplied by: nothing, each `occupant`, each tonne of the `vehicle`, or each tonne on its
    heavier `axle`.
    """

    part: str
    force: Vector = NOTHING
    moment: Vector = NOTHING
    per: Literal["", "occupant", "vehicle", "axle"] = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """One direction of a case: what a thing of mass m feels, and what the case pulls with besides.

    `acceleration` [mm/s²] is the field the thing feels: the force on what holds it is m x acceleration, so that
    (0, 0, -29420) presses it down with three times its weight.  `pulls` act at the same time (a belt's pull, a person).
    """

    direction: str = ""
    acceleration: Vector = NOTHING
    pulls: tuple[Pull, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class CaseInForce:
    """A load case of the project with what it means: directions, factor, source, what it asks the builder for.

    `asks` are the data it cannot do without (`mass`, `centre`, `lap`, `occupants` ...), `purpose` what such a thing
    serves.  `weightless` says that its fields are a rule's test load alone, without the thing's own weight.
    """

    id: str
    title: str
    fields: tuple[Field, ...] = ()
    ultimate: bool = False
    load_factor: float | None = None
    cycles: float | None = None
    source: str = ""
    status: Status | None = None
    cautions: tuple[str, ...] = ()
    asks: tuple[str, ...] = ()
    purpose: tuple[str, ...] = ()
    weightless: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Context:
    """What a giver may ask for: the cases by id, what givers before it give by id, the items, and where forward is.

    `things` are all givers and what is only marked out, by id.  `forward` is a unit vector in the plan's axes.
    """

    cases: Mapping[str, CaseInForce]
    given: Mapping[str, tuple[Given, ...]]
    items: Mapping[str, Any]
    things: Mapping[str, Any] = field(default_factory=dict)
    forward: Vector = (-1.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """The load an item stands under in one case: what is given, and the numbers that go into the item's fields."""

    given: tuple[Given, ...]
    fields: Mapping[str, Any]
    left: tuple[str, ...] = ()
    way: tuple[Station, ...] = ()

    @property
    def name(self) -> str:
        """Who gives it: `bench foot 2 + F1 end 1`."""
        return " + ".join(one.name for one in self.given)

    @property
    def under(self) -> str:
        """The case and its direction."""
        return self.given[0].under


_FROM = re.compile(r"from\s+(?P<name>\S.*?)\s*", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Asked:
    """What `load = "from bench foot 2"` asks for: the giver, and its part ("" for all parts that fall to the item)."""

    giver: str
    part: str = ""


def read_asked(text: str, known: Iterable[str]) -> Asked:
    """Who gives, of `from NAME` or `from NAME PART`; `known` are the ids of all givers.  Raises InputError."""
    match = _FROM.fullmatch(text.strip())
    if match is None:
        raise InputError(f"'{text}' names nobody; write it like 'from bench' or 'from bench foot 2'", field="load")
    words = match["name"]
    names = sorted(known, key=len, reverse=True)  # an id may begin with another
    for name in names:
        if words == name or words.startswith(f"{name} "):
            return Asked(name, words[len(name) :].strip())
    told = ", ".join(sorted(names)) or "none is there: a [[mount]], [[frame]] or [[body]] gives loads"
    raise InputError(
        f"'{words}' gives no load in this file{nearest(words.split()[0], names)} (they are: {told})", field="load"
    )
