"""What a builder says of a floor frame: members, supports, loads, what joins its ends."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any, ClassVar

from pydantic import BeforeValidator, PrivateAttr, WithJsonSchema, model_validator

from jointcalc.errors import InputError, InputErrors, nearest
from jointcalc.model.brace import LIES, Brace
from jointcalc.model.brace_texts import read_supports
from jointcalc.model.fields import Described, Mass, Numbers, Pressure, Quantity, Said, build, refuse
from jointcalc.quantity.parse import parse_list
from jointcalc.quantity.sentence import mm

LINES = ("centroid", "top", "bottom")
DIRECTIONS = ("x", "y", "z", "rx", "ry", "rz")
MOST_MEMBERS = 500
MOST_NAMED = 6
"""Members named in a sentence; the others are counted."""
Place = Annotated[tuple[float, ...], Numbers("length", 3)]
Vector = Annotated[tuple[float, ...], Numbers("force", 3)]
Level = Annotated[float, Quantity("length", high=5000.0, signed=True)]
SpringRate = Annotated[float, Quantity("line load", low=1e-3, high=1e9, example="5000 N/mm")]


def _corners(value: Any) -> tuple[float, ...]:
    """The corners: x y of two opposite corners, or of three and more round the field."""
    try:
        found = tuple(parse_list(value, "length", numbers=True))
    except InputError as error:
        raise refuse(error.message) from error
    if len(found) < 4 or len(found) % 2:
        raise refuse("has no pair of x and y for each corner; write two opposite corners such as '0 0 800 600 mm'")
    return found


def _point(value: Any) -> tuple[float, ...]:
    try:
        found = tuple(parse_list(value, "length", numbers=True))
    except InputError as error:
        raise refuse(error.message) from error
    if len(found) not in (2, 3):
        raise refuse("is no point; write x y or x y z and the unit, such as '400 0 mm'")
    return found


Texts = tuple[str, ...]
"""One or several ids."""
Corners = Annotated[
    tuple[float, ...],
    BeforeValidator(_corners),
    WithJsonSchema({"type": "string", "description": "corners and one unit", "examples": ["0 0 800 600 mm"]}),
]
Point = Annotated[
    tuple[float, ...],
    BeforeValidator(_point),
    WithJsonSchema({"type": "string", "description": "x y or x y z, and one unit", "examples": ["400 0 mm"]}),
]


class FrameMember(Described):
    """One member: where it runs, what it is made of, how its ends are joined.

    `start` and `end` (x y z) lie on its `line`: that of its centroids, its top or its bottom.  `profile` and `grade`
    are written as a brace's; or `brace` names a brace of the project, which brings profile, grade, `ends` and `place`,
    and `level` says how high its line lies.  `lies` says which way up; a frame has to know it.  `ends` are pinned,
    fixed, one of them for each end, or rotational stiffnesses; fixed where nothing is said, for welded members pass on
    what they get.  `joints` are the items that join its ends, `seams` those that close its section along its length.
    """

    word: ClassVar[str] = "member"
    id: Annotated[str, Said("Name of the {item}, unique in the frame.")]
    start: Annotated[Place | None, Said('Where its {line} begins, `"0 0 0 mm"`; or name a {brace}.')] = None
    end: Annotated[Place | None, Said("Where it ends.")] = None
    brace: Annotated[str, Said("Id of the `[[brace]]` that says profile, grade, ends and place.")] = ""
    level: Annotated[Level, Said("Height of the line of a member that names its {brace}.")] = "0 mm"  # type: ignore[assignment]
    profile: Annotated[str, Said("Profile, as of a brace.")] = ""
    grade: Annotated[str, Said("Grade of the profile.")] = ""
    coating: Annotated[str, Said("Zinc of the profile.")] = ""
    skin_grade: Annotated[str, Said("Grade of the skin or of the upper sheet of a lap.")] = ""
    lies: Annotated[str, Said("Which way up: `crown-up` or `flanges-up`.")] = ""
    line: Annotated[str, Said("What runs from {start} to {end}: `centroid`, `top` or `bottom`.")] = "centroid"
    ends: Annotated[str, Said('`pinned`, `fixed`, one for each end, or `"5e7 1e7 N*mm/rad"`.', absent="fixed")] = ""
    joints: Annotated[Texts, Said("Ids of the items that join its two ends.")] = ()
    seams: Annotated[Texts, Said("Ids of the items that close its section.")] = ()

    @model_validator(mode="after")
    def _whole(self) -> Any:
        if self.brace:
            for name in ("start", "end", "profile", "grade", "coating", "skin_grade"):
                if getattr(self, name):
                    raise refuse(
                        f"{name}: brace {self.brace} says it; a number stands in one place: take one of them out"
                    )
        else:
            for name in ("start", "end", "profile", "grade"):
                if not getattr(self, name):
                    raise refuse(f"{name}: is missing; a member has start, end, profile and grade, or names its brace")
        for name, words, what in (("lies", LIES, "a way up"), ("line", LINES, "a line of a member")):
            word = getattr(self, name)
            if word not in words and (word or name == "line"):
                raise refuse(f"{name}: '{word}' is not {what}; say {', '.join(words)}{nearest(word, words)}")
        if self.ends:
            try:
                read_ends(self.ends)
            except InputError as error:
                raise refuse(f"ends: {error.message}") from error
        return self

    def section(self, length: float) -> Brace:
        """The member as a brace of its own, for its section and material.  Raises InputErrors."""
        data = {name: getattr(self, name) for name in ("profile", "grade", "coating", "skin_grade", "lies")}
        return build(Brace, {"id": self.id, "span": length, **{k: v for k, v in data.items() if v}})


class FrameSupport(Described):
    """What holds the frame `at` a point (x y, or x y z) of a member: `held` directions, a `stiffness` where it gives.

    `held` names x, y, z and rx, ry, rz (turning about them); `all` is all six.
    """

    word: ClassVar[str] = "support"
    at: Annotated[Point, Said('The point of a member it holds, `"0 600 mm"`.')]
    held: Annotated[
        str, Said("Directions it holds: of `x y z` and, against turning, `rx ry rz`; `all` is all six.")
    ] = "x y z"
    stiffness: Annotated[SpringRate | None, Said('How stiff, `"5000 N/mm"`.', absent="it does not give")] = None

    @model_validator(mode="after")
    def _directions(self) -> Any:
        words = self.words
        for word in words:
            if word not in DIRECTIONS:
                raise refuse(f"held: '{word}' is no direction; say of {', '.join(DIRECTIONS)}, or all")
        if not words:
            raise refuse("held: holds nothing; say of x, y, z, rx, ry, rz, or all")
        if self.stiffness is not None and any(word.startswith("r") for word in words):
            raise refuse("stiffness: is that of a movement in N/mm; hold turning (rx, ry, rz) by a support of its own")
        return self

    @property
    def words(self) -> tuple[str, ...]:
        """The directions that are held."""
        return DIRECTIONS if self.held.strip() == "all" else tuple(self.held.split())


class FrameLoad(Described):
    """A load of the frame's own: a `mass` (a person, a box) or a `force` `at` a point, or a `pressure` over a field.

    A mass is pressed by what its `case` lets it feel, in every case where none is named; a force and a pressure stand
    in the named case.  A pressure, or a mass that lies spread out, presses over `corners`: two opposite ones (x y x y),
    or all of them round.  A panel under it asks for it by its number: `load = "from F1 load 3"`.
    """

    word: ClassVar[str] = "load"
    case: Annotated[str, Said("Id of its case.", absent="a mass weighs in every case that has an acceleration")] = ""
    mass: Annotated[Mass | None, Said('A mass, `"90 kg"`; or {force}, or {pressure}.')] = None
    force: Annotated[Vector | None, Said('A force, `"0 0 -800 N"`.')] = None
    at: Annotated[Point | None, Said("Where mass or force acts.")] = None
    pressure: Annotated[Pressure | None, Said('A pressure, `"2 kPa"`, over the field between its {corners}.')] = None
    corners: Annotated[Corners | None, Said("Two opposite corners of that field, or all of them round.")] = None

    @model_validator(mode="after")
    def _one(self) -> Any:
        given = [name for name in ("mass", "force", "pressure") if getattr(self, name) is not None]
        if len(given) != 1:
            told = "nothing is" if not given else " and ".join(given) + " are"
            raise refuse(f"mass: {told} given; give one of mass, force, pressure (a load each)")
        name = given[0]
        spread = name == "pressure" or (name == "mass" and self.corners is not None)
        where, other = ("corners", "at") if spread else ("at", "corners")
        if getattr(self, where) is None:
            raise refuse(f"{where}: is missing; a {name} needs it to say where it acts")
        if getattr(self, other) is not None:
            what = "mass that is spread" if name == "mass" else name
            raise refuse(f"{other}: does not belong to a {what}, which says '{where}'")
        if name != "mass" and not self.case:
            raise refuse(f"case: is missing; a {name} acts in the case it names")
        return self


class Frame(Described):
    """A frame of members in the plan of the floor (x, y in the floor, z up), solved as one for every case.

    Members are joined where their lines meet in the plan and they touch in height; an end that stops within half the
    width of another member, or 5 mm beyond it, is joined to that member.  `carries` names what stands on it (mounts).
    `own_weight` adds that of the members in every case that has an acceleration.
    """

    word: ClassVar[str] = "frame"
    id: Annotated[str, Said("Name of the {item}, short and unique in the file.")]
    title: Annotated[str, Said("What it is.")] = ""
    reason: Annotated[str, Said("Why it is made so.")] = ""
    members: Annotated[tuple[FrameMember, ...], Said("Each as `[[frame.members]]`, see below.")]
    supports: Annotated[tuple[FrameSupport, ...], Said("Each as `[[frame.supports]]`.")] = ()
    carries: Annotated[Texts, Said("Ids of the mounts that stand on it.")] = ()
    loads: Annotated[tuple[FrameLoad, ...], Said("Each as `[[frame.loads]]`.")] = ()
    own_weight: Annotated[bool, Said("`true` or `false`: the members' weight is carried too.")] = True
    _solved: Any = PrivateAttr(default=None)

    @property
    def unjudged(self) -> str:
        """What a project's answer says of it."""
        bare = [one.id for one in self.members if not one.brace]
        told = "gives loads; how far it bends as a whole is judged by `jointcalc frame` with --limit-deflection only"
        told += '; what its supports stand on is judged where it says load = "from ' + self.id + ' support 1"'
        if not bare:
            return told
        shown = ", ".join(bare[:MOST_NAMED]) + (f" and {len(bare) - MOST_NAMED} more" if len(bare) > MOST_NAMED else "")
        one, are = ("its member", "is") if len(bare) == 1 else ("its members", "are")
        return f"{told}; {one} {shown}, without a [[brace]], {are} judged by nothing"

    @property
    def load(self) -> tuple[str, ...]:
        """From whom it takes loads, in an item's words."""
        return tuple(f"from {name}" for name in self.carries)

    @property
    def solved(self) -> Any:
        """The frame under its project's cases (`acting.Solved`); InputError for one that is in no project."""
        if self._solved is None:
            raise InputError("is solved with its project: read it with load_project(path)", field=self.id)
        return self._solved

    @model_validator(mode="before")
    @classmethod
    def _tables(cls, data: Any) -> Any:
        """Each table is read on its own, so that a fault names the member it is in."""
        if not isinstance(data, Mapping):
            return data
        read = dict(data)
        for name, kind in (("members", FrameMember), ("supports", FrameSupport), ("loads", FrameLoad)):
            entries = read.get(name)
            if isinstance(entries, list | tuple):
                read[name] = tuple(_entry(kind, e, name[:-1], n) for n, e in enumerate(entries))
        return read

    @model_validator(mode="after")
    def _consistent(self) -> Any:
        if not 1 <= len(self.members) <= MOST_MEMBERS:
            raise refuse(f"members: {len(self.members)} members; accepted is 1 to {MOST_MEMBERS}")
        seen = set()
        for one in self.members:
            if one.id in seen:
                raise refuse(f"members: '{one.id}' is used twice; every member needs an id of its own")
            seen.add(one.id)
            if one.start is not None and one.start == one.end:
                x, y, z = one.start
                raise refuse(
                    f"members: {one.id} has no length: start and end are both {mm(x, ' ', y, ' ', z):g}; move one"
                )
        return self


def _entry(kind: type[Described], data: Any, word: str, n: int) -> Any:
    """One table of the frame, read on its own so that a fault names the member it is in."""
    if not isinstance(data, Mapping):
        return data
    try:
        return kind.model_validate(dict(data))
    except InputErrors as error:
        name = data.get("id", n + 1)
        first = error.faults[0]
        raise refuse(f"{word}s: {name}: {first.marked}") from error


def read_ends(text: str) -> tuple[float, float]:
    """Rotational stiffness of both ends [N·mm/rad], inf fixed.  Raises InputError."""
    if text.strip().lower() == "cantilever":
        raise InputError("a member of a frame is free where nothing joins it; say pinned, fixed or a stiffness")
    supports = read_supports(text, (1000.0,))
    return supports[0].rotation, supports[-1].rotation


__all__ = ["DIRECTIONS", "Frame", "FrameLoad", "FrameMember", "FrameSupport", "read_ends"]
