"""Families of folded profiles by their outside dimensions, and the text form a builder writes them in.

Every family is a frozen record of dimensions [mm], each a float or an array over a batch of
candidates.  Dimensions are outside dimensions, over the outer faces of the sheet; `r` is the inside
radius of the bends and is one sheet thickness when left out (common practice, no source).  y is
horizontal, z vertical, and z = 0 is the lowest outer face.

The text form names the family and its letters: `hat:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm`.
A range, `depth=20mm..50mm`, asks a search to find the value.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import MISSING, dataclass, fields
from functools import cached_property, partial
from math import pi
from typing import Annotated, Any, ClassVar, get_type_hints

import numpy as np

from jointcalc.errors import InputError, nearest
from jointcalc.quantity.sentence import mm
from jointcalc.section.outline import STEEL_DENSITY, Bools, Floats, Number, Outline, crossing
from jointcalc.section.properties import Properties
from jointcalc.section.tracer import Development, Flat, Role, Tracer

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


def _mm(value: Number, column: int) -> str:
    array = np.atleast_1d(np.asarray(value, dtype=float))
    number = float(array[column if array.shape[-1] > 1 else 0])
    text = f"{number:.4g}"
    return f"{text} mm"


@dataclass(frozen=True, kw_only=True)
class Family:
    """What all families share.  Raises nothing when made; `check` says what is wrong with it."""

    kind: ClassVar[str] = ""
    summary: ClassVar[str] = ""
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
        parts = ",".join(f"{k}={_mm(v, column).replace(' ', '')}" for k, v in self.dimensions().items())
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
        bends = f" and the inside radius {_mm(self.radius, column)}" if self.radius is not None else ""
        return (
            f"{part.letter} of {_mm(value, column)} is too small: sheet of {_mm(part.t, column)}{bends} would leave "
            f"the {part.name} a flat of {mm(length):.4g}; make {part.letter} at least {mm(given - length):.4g}, "
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
    return lambda i: f"{name} is {_mm(value, i)}; it must be {least} ({letter.meaning})"


def _go(tracer: Tracer, r: Number, ends: int) -> Number:
    """What sharp corners add to a flat with `ends` square bends."""
    return ends * (r + tracer.t / 2)


@dataclass(frozen=True, kw_only=True)
class Hat(Family):
    """Top-hat, open below: two flanges, two upright webs, a crown."""

    kind: ClassVar[str] = "hat"
    summary: ClassVar[str] = "top-hat, flanges down"

    top: Annotated[Number, Letter("width of the crown over the outer faces of the webs")]
    depth: Annotated[Number, Letter("overall depth")]
    flange: Annotated[Number, Letter("outer face of the web to the flange tip")]
    t: Annotated[Number, Letter("sheet thickness", thickness=True)]
    r: Annotated[Number | None, Letter("inside bend radius, one thickness if left out", zero=True)] = None

    def trace(self, *, sharp: bool = False, density: Number = STEEL_DENSITY) -> Tracer:
        """The mid-line from the left flange tip to the right one."""
        tracer = Tracer(sharp=sharp)
        self._fold(tracer, 0.0 * self.t, density, None)
        return tracer

    def _fold(self, tracer: Tracer, z: Number, density: Number, weld: Number | None) -> tuple[int, int]:
        """Fold the hat with its lowest face at `z`; returns the weld nodes when `weld` is given."""
        t, r = self.t, self.radius
        nodes = [0, 0]
        tracer.start(-self.top / 2 - self.flange, z + t / 2, 0.0, t=t, sheet="hat", density=density)
        c = _go(tracer, r, 1)
        flat, web = self.flange - r, self.depth - 2 * (t + r)
        if weld is None:
            tracer.go(flat, "left flange", "flange", role="outstand", count=2, free_end="start", corners=c)
        else:
            tracer.go(weld, "left flange edge", "weld", role="outstand", count=2, free_end="start")
            nodes[0] = tracer.node
            tracer.go(flat - weld, "left flange", "flange", count=2, corners=c)
        tracer.bend(QUARTER, r, "left flange bend")
        self._web(tracer, web, "left web", 2, c)
        tracer.bend(-QUARTER, r, "left crown bend")
        self._crown(tracer, self.top - 2 * (t + r), c)
        tracer.bend(-QUARTER, r, "right crown bend")
        self._web(tracer, web, "right web", 0, c)
        tracer.bend(QUARTER, r, "right flange bend")
        if weld is None:
            tracer.go(flat, "right flange", "flange", role="outstand", count=0, free_end="end", corners=c)
        else:
            tracer.go(flat - weld, "right flange", "flange", count=0, corners=c)
            nodes[1] = tracer.node
            tracer.go(weld, "right flange edge", "weld", role="outstand", count=0, free_end="end")
        return nodes[0], nodes[1]

    def _web(self, tracer: Tracer, length: Number, name: str, count: int, corner: Number) -> None:
        tracer.go(length, name, "depth", count=count, corners=2 * corner)

    def _crown(self, tracer: Tracer, length: Number, corner: Number) -> None:
        tracer.go(length, "crown", "top", corners=2 * corner)


@dataclass(frozen=True, kw_only=True)
class HatSkin(Hat):
    """Top-hat welded to a skin sheet; a closed section.

    The cell closes at the weld lines, `weld` from each flange tip, not at the bends and not at the
    tips: between web and weld line flange and skin lie double, and what lies outside the weld lines
    (flange edge, rest of the skin) stays open sheet.  The torsion constant depends on this by some
    20 %.  The weld line is in the middle of the flat of the flange when left out.  `skin` is the
    width of skin that counts, centred.
    """

    kind: ClassVar[str] = "hat-skin"
    summary: ClassVar[str] = "top-hat closed by a skin at its weld lines"
    closed: ClassVar[bool] = True

    skin: Annotated[Number, Letter("width of skin that works with the hat, centred")]
    skin_t: Annotated[Number, Letter("thickness of the skin", thickness=True)]
    weld: Annotated[Number | None, Letter("flange tip to weld line, middle of the flange flat if left out")] = None

    @property
    def weld_line(self) -> Number:
        """Distance of the weld line from the flange tip [mm], with the default put in."""
        return (self.flange - self.radius) / 2 if self.weld is None else self.weld

    @property
    def weld_lines(self) -> tuple[str, ...]:
        """The two weld lines."""
        return ("left weld", "right weld")

    def trace(self, *, sharp: bool = False, density: Number = STEEL_DENSITY) -> Tracer:
        """The hat, then the skin, then the two weld lines."""
        tracer = Tracer(sharp=sharp)
        weld = self.weld_line
        left, right = self._fold(tracer, self.skin_t + 0.0 * self.t, density, weld)
        line = self.top / 2 + self.flange - weld
        over = self.skin / 2 - line
        tracer.start(-self.skin / 2, self.skin_t / 2, 0.0, t=self.skin_t, sheet="skin", density=density)
        tracer.go(over, "left skin edge", "skin", role="outstand", count=2, free_end="start")
        one = tracer.node
        tracer.go(2 * line, "skin between welds", "skin")
        two = tracer.node
        tracer.go(over, "right skin edge", "skin", role="outstand", count=0, free_end="end")
        tracer.weld(left, one, "left weld")
        tracer.weld(right, two, "right weld")
        return tracer

    def _rules(self) -> Iterator[Fault]:
        weld, flat = np.atleast_1d(self.weld_line), np.atleast_1d(self.flange - self.radius)
        yield Fault(
            "weld",
            np.atleast_1d(weld >= flat),
            lambda i: (
                f"the weld line, {_mm(self.weld_line, i)} from the flange tip, is not on the flat of the flange; "
                f"it must lie less than {_mm(self.flange - self.radius, i)} from the tip (flange less inside radius)"
            ),
        )
        line = self.top / 2 + self.flange - self.weld_line
        yield Fault(
            "skin",
            np.atleast_1d(np.asarray(self.skin / 2 <= line)),
            lambda i: (
                f"skin of {_mm(self.skin, i)} does not reach the weld lines, which are {_mm(2 * line, i)} apart; "
                "make skin wider than that"
            ),
        )


@dataclass(frozen=True, kw_only=True)
class BeadedHat(Hat):
    """Top-hat with a circular-arc bead pressed inwards, lengthwise, in the crown or in each web."""

    kind: ClassVar[str] = "beaded-hat"
    summary: ClassVar[str] = "top-hat with lengthwise beads pressed inwards in crown or webs"

    bead: Annotated[Number | None, Letter("width of the bead in the crown")] = None
    bead_depth: Annotated[Number | None, Letter("depth of the bead in the crown, mid-line")] = None
    web_bead: Annotated[Number | None, Letter("width of the bead in each web")] = None
    web_bead_depth: Annotated[Number | None, Letter("depth of the bead in each web, mid-line")] = None

    def _crown(self, tracer: Tracer, length: Number, corner: Number) -> None:
        if self.bead is None or self.bead_depth is None:
            super()._crown(tracer, length, corner)
            return
        side = (length - self.bead) / 2
        tracer.go(side, "crown left of the bead", "top", count=2, corners=corner)
        tracer.bead(self.bead, self.bead_depth, -1, "crown bead")
        tracer.go(side, "crown right of the bead", "top", count=0, corners=corner)

    def _web(self, tracer: Tracer, length: Number, name: str, count: int, corner: Number) -> None:
        if self.web_bead is None or self.web_bead_depth is None:
            super()._web(tracer, length, name, count, corner)
            return
        half = (length - self.web_bead) / 2
        first, last = ("below", "above") if name.startswith("left") else ("above", "below")
        tracer.go(half, f"{name} {first} the bead", "depth", count=count, corners=corner)
        tracer.bead(self.web_bead, self.web_bead_depth, -1, f"{name} bead")
        tracer.go(half, f"{name} {last} the bead", "depth", count=count, corners=corner)

    def _rules(self) -> Iterator[Fault]:
        always = np.array([True])
        if self.bead is None and self.web_bead is None:
            yield Fault(
                "bead",
                always,
                lambda i: "no bead given; give bead and bead_depth, or web_bead and web_bead_depth, or use hat",
            )
        for width, depth in (("bead", "bead_depth"), ("web_bead", "web_bead_depth")):
            w, d = getattr(self, width), getattr(self, depth)
            if (w is None) != (d is None):
                yield Fault(width if w is None else depth, always, partial(_lone, width, depth))
            elif w is not None:
                yield Fault(depth, np.atleast_1d(np.asarray(d > w / 2)), partial(_too_deep, width, depth, d))
                room, of = (self.depth - self.t, "depth") if width == "bead" else (self.top / 2 - self.t, "half of top")
                yield Fault(depth, np.atleast_1d(np.asarray(d >= room)), partial(_no_room, depth, d, room, of))


def _lone(width: str, depth: str, column: int) -> str:
    return f"a bead needs both {width} and {depth}"


def _too_deep(width: str, depth: str, value: Number, column: int) -> str:
    return f"{depth} of {_mm(value, column)} is more than half of {width}; a circular arc can be at most a half circle"


def _no_room(depth: str, value: Number, room: Number, of: str, column: int) -> str:
    return (
        f"{depth} of {_mm(value, column)} does not fit inside the hat; "
        f"it must be less than {_mm(room, column)} ({of} less t)"
    )


def _lipless(
    tracer: Tracer, web: Number, top: Number, bottom: Number, t: Number, r: Number, top_turn: int, density: Number
) -> None:
    """Bottom flange tip, web, top flange tip; `top_turn` -1 for a channel, +1 for a zed."""
    tracer.start(bottom, t / 2, pi, t=t, density=density)
    c = _go(tracer, r, 1)
    tracer.go(bottom - t - r, "bottom flange", "flange", role="outstand", free_end="start", corners=c)
    tracer.bend(-QUARTER, r, "bottom bend")
    tracer.go(web - 2 * (t + r), "web", "web", corners=2 * c)
    tracer.bend(top_turn * QUARTER, r, "top bend")
    tracer.go(top - t - r, "top flange", "flange", role="outstand", free_end="end", corners=c)


@dataclass(frozen=True, kw_only=True)
class Channel(Family):
    """Plain channel, web upright, flanges to the right."""

    kind: ClassVar[str] = "channel"
    summary: ClassVar[str] = "plain channel, web upright"

    web: Annotated[Number, Letter("overall depth over the flanges")]
    flange: Annotated[Number, Letter("outer face of the web to the flange tip")]
    t: Annotated[Number, Letter("sheet thickness", thickness=True)]
    r: Annotated[Number | None, Letter("inside bend radius, one thickness if left out", zero=True)] = None

    def trace(self, *, sharp: bool = False, density: Number = STEEL_DENSITY) -> Tracer:
        """From the tip of the bottom flange round to that of the top flange."""
        tracer = Tracer(sharp=sharp)
        _lipless(tracer, self.web, self.flange, self.flange, self.t, self.radius, -1, density)
        return tracer

    @property
    def level_symmetric(self) -> bool:
        """Both flanges are alike."""
        return True


@dataclass(frozen=True, kw_only=True)
class Zed(Family):
    """Z profile, web upright, bottom flange to the right and top flange to the left."""

    kind: ClassVar[str] = "zed"
    summary: ClassVar[str] = "Z profile, web upright"

    web: Annotated[Number, Letter("overall depth over the flanges")]
    flange: Annotated[Number, Letter("outer face of the web to the flange tip")]
    t: Annotated[Number, Letter("sheet thickness", thickness=True)]
    r: Annotated[Number | None, Letter("inside bend radius, one thickness if left out", zero=True)] = None

    def trace(self, *, sharp: bool = False, density: Number = STEEL_DENSITY) -> Tracer:
        """From the tip of the bottom flange to that of the top flange."""
        tracer = Tracer(sharp=sharp)
        _lipless(tracer, self.web, self.flange, self.flange, self.t, self.radius, 1, density)
        return tracer

    @property
    def level_symmetric(self) -> bool:
        """Both flanges are alike."""
        return True


@dataclass(frozen=True, kw_only=True)
class LippedChannel(Family):
    """Channel with a lip on each flange, web upright, flanges to the right."""

    kind: ClassVar[str] = "lipped-channel"
    summary: ClassVar[str] = "channel with lips turned inwards"

    web: Annotated[Number, Letter("overall depth over the flanges")]
    flange: Annotated[Number, Letter("width of the top flange over the outer faces of web and lip")]
    lip: Annotated[Number, Letter("outer face of the flange to the lip tip")]
    t: Annotated[Number, Letter("sheet thickness", thickness=True)]
    r: Annotated[Number | None, Letter("inside bend radius, one thickness if left out", zero=True)] = None
    bottom: Annotated[Number | None, Letter("width of the bottom flange, like the top one if left out")] = None

    def trace(self, *, sharp: bool = False, density: Number = STEEL_DENSITY) -> Tracer:
        """From the tip of the bottom lip round to that of the top lip."""
        tracer = Tracer(sharp=sharp)
        t, r = self.t, self.radius
        bottom = self.flange if self.bottom is None else self.bottom
        tracer.start(bottom - t / 2, self.lip + 0.0 * t, -QUARTER, t=t, density=density)
        c = _go(tracer, r, 1)
        tracer.go(self.lip - t - r, "bottom lip", "lip", role="lip", host="bottom flange", free_end="start", corners=c)
        tracer.bend(-QUARTER, r, "bottom lip bend")
        tracer.go(bottom - 2 * (t + r), "bottom flange", "flange" if self.bottom is None else "bottom", corners=2 * c)
        tracer.bend(-QUARTER, r, "bottom bend")
        tracer.go(self.web - 2 * (t + r), "web", "web", corners=2 * c)
        tracer.bend(-QUARTER, r, "top bend")
        tracer.go(self.flange - 2 * (t + r), "top flange", "flange", corners=2 * c)
        tracer.bend(-QUARTER, r, "top lip bend")
        tracer.go(self.lip - t - r, "top lip", "lip", role="lip", host="top flange", free_end="end", corners=c)
        return tracer

    @property
    def level_symmetric(self) -> bool:
        """Where both flanges are alike."""
        return self.bottom is None or bool(np.all(np.asarray(self.bottom) == np.asarray(self.flange)))

    def _rules(self) -> Iterator[Fault]:
        yield Fault(
            "lip",
            np.atleast_1d(np.asarray(2 * self.lip >= self.web)),
            lambda i: (
                f"two lips of {_mm(self.lip, i)} meet inside a web of {_mm(self.web, i)}; "
                "make lip less than half the web"
            ),
        )


@dataclass(frozen=True, kw_only=True)
class Angle(Family):
    """Angle: an upright leg and a foot to the right, at the bottom."""

    kind: ClassVar[str] = "angle"
    summary: ClassVar[str] = "angle, one leg upright"

    leg: Annotated[Number, Letter("upright leg, over the outer face of the foot")]
    t: Annotated[Number, Letter("sheet thickness", thickness=True)]
    foot: Annotated[
        Number | None, Letter("horizontal leg, over the outer face of the upright one; equal legs if left out")
    ] = None
    r: Annotated[Number | None, Letter("inside bend radius, one thickness if left out", zero=True)] = None

    def trace(self, *, sharp: bool = False, density: Number = STEEL_DENSITY) -> Tracer:
        """From the tip of the foot to that of the leg."""
        tracer = Tracer(sharp=sharp)
        t, r = self.t, self.radius
        foot = self.leg if self.foot is None else self.foot
        tracer.start(foot, t / 2, pi, t=t, density=density)
        c = _go(tracer, r, 1)
        letter = "leg" if self.foot is None else "foot"
        tracer.go(foot - t - r, "foot", letter, role="outstand", free_end="start", corners=c)
        tracer.bend(-QUARTER, r, "bend")
        tracer.go(self.leg - t - r, "leg", "leg", role="outstand", free_end="end", corners=c)
        return tracer


@dataclass(frozen=True, kw_only=True)
class Lap(Family):
    """Stepped lap of two sheets, welded along one line: it makes a brace by itself.

    The lower sheet comes from the left, steps down by `step` and runs on under the upper sheet for
    `overlap`; the upper sheet begins where the lower bend ends.  With a step of the upper sheet's
    thickness (the default) the upper faces are flush.  The step is as steep as the inside radius
    allows, at most square.  One weld line, `weld` from the edge of the upper sheet (the middle of
    the overlap when left out): no cell, an open section.
    """

    kind: ClassVar[str] = "lap"
    summary: ClassVar[str] = "stepped lap of two sheets, welded along the overlap"

    left: Annotated[Number, Letter("flat of the stepped sheet from its far edge to the step")]
    overlap: Annotated[Number, Letter("width on which the sheets lie double")]
    right: Annotated[Number, Letter("upper sheet beyond the overlap")]
    t: Annotated[Number, Letter("thickness of the stepped (lower) sheet", thickness=True)]
    t_2: Annotated[
        Number | None, Letter("thickness of the upper sheet, like the lower one if left out", thickness=True)
    ] = None
    step: Annotated[Number | None, Letter("offset of the step, thickness of the upper sheet if left out")] = None
    r: Annotated[Number | None, Letter("inside radius of the step's bends, one thickness if left out", zero=True)] = (
        None
    )
    weld: Annotated[
        Number | None, Letter("edge of the upper sheet to the weld line, middle of the overlap if left out")
    ] = None

    @property
    def weld_lines(self) -> tuple[str, ...]:
        """The one weld line."""
        return ("weld",)

    def trace(self, *, sharp: bool = False, density: Number = STEEL_DENSITY) -> Tracer:
        """The stepped sheet, the upper sheet, the weld line.  There is no sharp drawing of a step."""
        tracer = Tracer()
        t, r = self.t, self.radius
        t_2 = t if self.t_2 is None else self.t_2
        step = t_2 if self.step is None else self.step
        weld = self.overlap / 2 if self.weld is None else self.weld
        middle = r + t / 2
        # steepest angle at which two bends of this radius make the step, at most a right angle
        angle = np.arccos(np.maximum(1 - step / (2 * middle), 0.0))
        rise = step - 2 * middle * (1 - np.cos(angle))
        slope = np.maximum(rise, 0.0) / np.sin(angle)
        y_edge = self.left + 2 * middle * np.sin(angle) + slope * np.cos(angle)
        tracer.start(0.0 * t, step + t / 2, 0.0, t=t, sheet="stepped sheet", density=density)
        tracer.go(self.left, "left field", "left", role="outstand", free_end="start")
        tracer.bend(-angle, r, "upper step bend")
        tracer.go(slope, "step", "step")
        tracer.bend(angle, r, "lower step bend")
        tracer.go(weld, "lower sheet to the weld", "weld")
        one = tracer.node
        tracer.go(self.overlap - weld, "lower sheet edge", "overlap", role="outstand", free_end="end")
        tracer.start(y_edge, t + t_2 / 2, 0.0, t=t_2, sheet="upper sheet", density=density)
        tracer.go(weld, "upper sheet edge", "weld", role="outstand", free_end="start")
        two = tracer.node
        tracer.go(self.overlap - weld + self.right, "right field", "right", role="outstand", free_end="end")
        tracer.weld(one, two, "weld")
        return tracer

    def _rules(self) -> Iterator[Fault]:
        if self.weld is not None:
            yield Fault(
                "weld",
                np.atleast_1d(np.asarray(self.weld >= self.overlap)),
                lambda i: (
                    f"the weld line, {_mm(self.weld, i)} from the edge, is beyond the overlap of {_mm(self.overlap, i)}"
                ),
            )


@dataclass(frozen=True, kw_only=True)
class Box(Family):
    """Rectangular closed profile, welded or drawn; all four corners alike."""

    kind: ClassVar[str] = "box"
    summary: ClassVar[str] = "rectangular box"
    closed: ClassVar[bool] = True

    depth: Annotated[Number, Letter("overall depth")]
    width: Annotated[Number, Letter("overall width")]
    t: Annotated[Number, Letter("wall thickness", thickness=True)]
    r: Annotated[Number | None, Letter("inside corner radius, one thickness if left out", zero=True)] = None

    def trace(self, *, sharp: bool = False, density: Number = STEEL_DENSITY) -> Tracer:
        """Once round, counter-clockwise from the left end of the bottom wall."""
        tracer = Tracer(sharp=sharp)
        t, r = self.t, self.radius
        tracer.start(-self.width / 2 + (t / 2 if sharp else t + r), t / 2, 0.0, t=t, density=density)
        c = _go(tracer, r, 1)
        flat, upright = self.width - 2 * (t + r), self.depth - 2 * (t + r)
        tracer.go(flat, "bottom wall", "width", corners=2 * c)
        tracer.bend(QUARTER, r, "bottom right bend")
        tracer.go(upright, "right wall", "depth", count=2, corners=2 * c)
        tracer.bend(QUARTER, r, "top right bend")
        tracer.go(flat, "top wall", "width", corners=2 * c)
        tracer.bend(QUARTER, r, "top left bend")
        tracer.go(upright, "left wall", "depth", count=0, corners=2 * c, close=0 if sharp else None)
        tracer.bend(QUARTER, r, "bottom left bend", close=0)
        return tracer

    @property
    def level_symmetric(self) -> bool:
        """Top and bottom wall are alike."""
        return True


@dataclass(frozen=True, kw_only=True)
class RectTube(Box):
    """Cold-formed rectangular hollow section; corner radii of EN 10219-2 when `r` is left out.

    Outside radius 2,0 t up to 6 mm, 2,5 t up to 10 mm, 3,0 t above (EN 10219-2 table of dimensions).
    """

    kind: ClassVar[str] = "rect-tube"
    summary: ClassVar[str] = "cold-formed rectangular hollow section"

    @property
    def radius(self) -> Number | None:
        """Inside corner radius [mm]: outside radius of the standard less the wall."""
        if self.r is not None:
            return self.r
        return self.t * np.where(np.asarray(self.t) <= 6.0, 1.0, np.where(np.asarray(self.t) <= 10.0, 1.5, 2.0))


@dataclass(frozen=True, kw_only=True)
class Tube(Family):
    """Round tube."""

    kind: ClassVar[str] = "tube"
    summary: ClassVar[str] = "round tube"
    closed: ClassVar[bool] = True

    od: Annotated[Number, Letter("outside diameter")]
    t: Annotated[Number, Letter("wall thickness", thickness=True)]

    def trace(self, *, sharp: bool = False, density: Number = STEEL_DENSITY) -> Tracer:
        """Four quarter circles, counter-clockwise from the bottom."""
        tracer = Tracer()
        inside = self.od / 2 - self.t
        tracer.start(0.0 * self.t, self.t / 2, 0.0, t=self.t, density=density)
        for i, name in enumerate(("lower right", "upper right", "upper left", "lower left")):
            tracer.bend(QUARTER, inside, name, "od", close=0 if i == 3 else None)
        return tracer

    @property
    def radius(self) -> Number | None:
        """A tube is not folded."""
        return None

    @property
    def level_symmetric(self) -> bool:
        """Round."""
        return True

    def _rules(self) -> Iterator[Fault]:
        yield Fault(
            "t",
            np.atleast_1d(np.asarray(self.t >= self.od / 2)),
            lambda i: (
                f"a wall of {_mm(self.t, i)} does not fit in a tube of {_mm(self.od, i)}; "
                "it must be less than half of that"
            ),
        )


@dataclass(frozen=True, kw_only=True)
class Bar(Family):
    """Solid flat bar, on edge when `depth` is the larger."""

    kind: ClassVar[str] = "bar"
    summary: ClassVar[str] = "solid flat bar"

    depth: Annotated[Number, Letter("vertical side")]
    width: Annotated[Number, Letter("horizontal side")]

    def trace(self, *, sharp: bool = False, density: Number = STEEL_DENSITY) -> Tracer:
        """One flat along the longer side."""
        tracer = Tracer()
        depth, width = np.asarray(self.depth, dtype=float), np.asarray(self.width, dtype=float)
        upright = depth >= width
        t = np.minimum(depth, width)
        y = np.where(upright, 0.0, -width / 2)
        z = np.where(upright, 0.0, depth / 2)
        tracer.start(y, z, np.where(upright, QUARTER, 0.0), t=t, density=density)
        tracer._pen().cos, tracer._pen().sin = np.where(upright, 0.0, 1.0), np.where(upright, 1.0, 0.0)
        tracer.go(np.maximum(depth, width), "bar", "depth", role="none")
        return tracer

    @property
    def radius(self) -> Number | None:
        """A bar is not folded."""
        return None

    @property
    def level_symmetric(self) -> bool:
        """A rectangle."""
        return True


@dataclass(frozen=True, kw_only=True)
class Points(Family):
    """Free outline: corners of the mid-line, each rounded by the inside radius `r`; one candidate only.

    Closed when the last point is the first again.  `ys` and `zs` [mm] are as typed; the section is
    moved so that its lowest face is z = 0.  For effective widths a flat with a free end is an
    outstand and any other is held at both ends; a level flat whose only far support is a free-ended
    flat counts as an outstand too, because the stiffness of that lip is not judged.
    """

    kind: ClassVar[str] = "points"
    summary: ClassVar[str] = "free outline by the corner points of its mid-line"

    ys: tuple[float, ...] = ()
    zs: tuple[float, ...] = ()
    t: Annotated[Number, Letter("sheet thickness", thickness=True)]
    r: Annotated[Number | None, Letter("inside bend radius, one thickness if left out", zero=True)] = None

    @classmethod
    def required(cls) -> tuple[str, ...]:
        """Letters that must be given; `at` stands for the points."""
        return ("at", "t")

    @property
    def batch(self) -> int:
        """A free outline is one candidate."""
        return 1

    def text(self, column: int = 0) -> str:
        """The profile in the form a builder writes."""
        at = "/".join(f"{y:.6g} {z:.6g}" for y, z in zip(self.ys, self.zs, strict=True))
        return (
            f"points:at={at} mm,t={_mm(self.t, column).replace(' ', '')},r={_mm(self.radius, column).replace(' ', '')}"
        )

    def take(self, columns: Any) -> Family:
        """A free outline is one candidate."""
        return self

    @property
    def _is_closed(self) -> bool:
        return len(self.ys) > 2 and np.hypot(self.ys[0] - self.ys[-1], self.zs[0] - self.zs[-1]) < 1e-9

    def _corners(self) -> tuple[Floats, Floats, Floats, Floats]:
        """(corner points, direction of each side, length of each side, turn at each inner corner)."""
        points = np.column_stack([self.ys, self.zs]).astype(float)
        sides = np.diff(points, axis=0)
        length = np.hypot(sides[:, 0], sides[:, 1])
        heading = np.arctan2(sides[:, 1], sides[:, 0])
        following = np.roll(heading, -1) if self._is_closed else heading[1:]
        turn = (following - heading[: len(following)] + pi) % (2 * pi) - pi
        return points, heading, length, turn

    def trace(self, *, sharp: bool = False, density: Number = STEEL_DENSITY) -> Tracer:
        """From the first point to the last."""
        tracer = Tracer(sharp=sharp)
        points, heading, length, turn = self._corners()
        t, closed = self.t, self._is_closed
        cut = (self.radius + t / 2) * np.tan(np.abs(turn) / 2)
        n = len(length)
        before = np.concatenate([[cut[-1] if closed else 0.0], cut[: n - 1]])
        after = cut if closed else np.concatenate([cut, [0.0]])
        offset = 0.0 if sharp else before[0]
        start = points[0] + offset * np.array([np.cos(heading[0]), np.sin(heading[0])])
        tracer.start(float(start[0]), float(start[1]), float(heading[0]), t=t, density=density)
        for k in range(n):
            flat = float(length[k] - before[k] - after[k])
            role, free_end = self._role(k, n, closed, heading)
            last_sharp = closed and k == n - 1 and (sharp or cut[-1] == 0)
            tracer.go(
                flat,
                f"side {k + 1}",
                "at",
                role=role,
                free_end=free_end,
                corners=float(before[k] + after[k]),
                close=0 if last_sharp else None,
            )
            if k < len(turn):
                angle = float(turn[k])
                if cut[k] > 0:
                    tracer.bend(angle, self.radius, f"bend {k + 1}", close=0 if closed and k == n - 1 else None)
                else:
                    tracer.turn(angle)
        low = _lowest(tracer.outline())
        tracer.nodes = [(y, z - low) for y, z in tracer.nodes]
        return tracer

    def _role(self, k: int, n: int, closed: bool, heading: Floats) -> tuple[Role, str]:
        if closed:
            return "internal", ""
        if n == 1:
            return "none", ""
        if k in (0, n - 1):
            return "outstand", "start" if k == 0 else "end"
        level = abs(np.cos(heading[k])) > abs(np.sin(heading[k]))
        if level and k == 1 and n > 3:
            return "outstand", "start"
        if level and k == n - 2 and n > 3:
            return "outstand", "end"
        return "internal", ""

    def check(self) -> None:
        """Raises InputError in builder's terms."""
        if len(self.ys) < 2:
            raise InputError("points: at least two points are needed, such as 'at=0 0/40 0/40 30 mm'", field="at")
        if not (np.isfinite(self.ys).all() and np.isfinite(self.zs).all()):
            raise InputError("points: every coordinate must be a finite length", field="at")
        _, _, length, turn = self._corners()
        for k in np.flatnonzero(length < 1e-9):
            raise InputError(f"points: points {k + 1} and {k + 2} are the same; leave one out", field="at")
        for k in np.flatnonzero(np.abs(turn) > pi - 1e-6):
            raise InputError(
                f"points: the outline folds back on itself at point {k + 2}; "
                "a hem lies double and needs two points a thickness apart",
                field="at",
            )
        super().check()


def _lowest(outline: Outline) -> float:
    return float(Properties(outline).z_bottom[0])


FAMILIES: Mapping[str, type[Family]] = {
    c.kind: c
    for c in (Hat, HatSkin, BeadedHat, Channel, LippedChannel, Zed, Angle, Lap, Box, RectTube, Tube, Bar, Points)
}
"""Families by the name a builder writes."""


# --- the text form -----------------------------------------------------------------------------------


@dataclass(frozen=True, kw_only=True)
class ProfileSpec:
    """A profile as written: the family, the lengths given [mm], and the ranges left to a search."""

    kind: str
    values: Mapping[str, float]
    ranges: Mapping[str, tuple[float, float]]
    points: tuple[tuple[float, float], ...] = ()

    @property
    def family_type(self) -> type[Family]:
        """The family's class."""
        return FAMILIES[self.kind]

    def family(self, **found: Number) -> Family:
        """The family with values for the ranges (and any other letters) put in; floats or arrays.

        Raises InputError when a range is left open.
        """
        given: dict[str, Any] = {**self.values, **found}
        left = [name for name in self.ranges if name not in found]
        if left:
            low, high = self.ranges[left[0]]
            raise InputError(
                f"{left[0]} is a range ({mm(low, ' to ', high):g}); only a search can use that, so give one value",
                field=left[0],
            )
        if self.kind == "points":
            given["ys"] = tuple(y for y, _ in self.points)
            given["zs"] = tuple(z for _, z in self.points)
        return self.family_type(**given)


def parse_spec(text: str, *, field: str = "profile", gauge: Callable[[int, str], float] | None = None) -> ProfileSpec:
    """Read a profile in the text form, ranges allowed.

    `gauge(number, field)` gives the thickness [mm] of a sheet gauge where one stands for a thickness;
    without it gauges are refused.  Raises InputError: unknown family or letter (the nearest known one
    is named), a letter missing or given twice, a length that cannot be read.
    """
    name, colon, rest = str(text).partition(":")
    name = name.strip().lower()
    if name not in FAMILIES:
        hint = nearest(name, FAMILIES) or "."
        raise InputError(f"'{name}' is not a profile family{hint} Known are {', '.join(FAMILIES)}", field=field)
    family = FAMILIES[name]
    example = EXAMPLES[name]
    if not colon or not rest.strip():
        raise InputError(f"the dimensions of the {name} are missing; write them like '{example}'", field=field)
    letters = {**({"at": Letter("corner points")} if name == "points" else {}), **family.letters()}
    values: dict[str, float] = {}
    ranges: dict[str, tuple[float, float]] = {}
    points: tuple[tuple[float, float], ...] = ()
    for part in rest.split(","):
        key, equals, value = (piece.strip() for piece in part.partition("="))
        key = key.lower()
        if not equals:
            raise InputError(f"'{part.strip()}' is not 'letter=length'; write the {name} like '{example}'", field=field)
        if key not in letters:
            hint = nearest(key, letters) or "."
            article = "an" if name[0] in "aeiou" else "a"
            raise InputError(f"{article} {name} has no '{key}'{hint} Its letters are {', '.join(letters)}", field=field)
        where = f"{field} {key}"
        if key in values or key in ranges or (key == "at" and points):
            raise InputError(f"'{key}' is given twice", field=where)
        if key == "at":
            points = _points(value, where)
        elif ".." in value:
            ranges[key] = _range(value, where)
        else:
            values[key] = _length(value, where, letters[key].thickness, gauge)
    given = {*values, *ranges, *(("at",) if points else ())}
    missing = [key for key in family.required() if key not in given]
    if missing:
        what = f"{missing[0]} ({letters[missing[0]].meaning})"
        raise InputError(f"the {name} lacks {what}; write it like '{example}'", field=field)
    return ProfileSpec(kind=name, values=values, ranges=ranges, points=points)


def parse_profile(text: str, *, field: str = "profile", gauge: Callable[[int, str], float] | None = None) -> Family:
    """Read a profile in the text form and check that it can be built.  Raises InputError."""
    try:
        family = parse_spec(text, field=field, gauge=gauge).family()
        family.check()
    except InputError as fault:
        inner = fault.field if fault.field.startswith(field) else f"{field} {fault.field}".strip()
        raise InputError(fault.message, field=inner) from None
    return family


def _length(text: str, field: str, thickness: bool, gauge: Callable[[int, str], float] | None) -> float:
    from jointcalc.quantity import Gauge, parse, parse_thickness

    if not thickness:
        return parse(text, "length", field=field)
    value = parse_thickness(text, field=field)
    if not isinstance(value, Gauge):
        return value
    if gauge is None:
        raise InputError(f"gauge {value.number} needs a sheet table here; write the thickness in mm or in", field=field)
    return gauge(value.number, field)


def _range(text: str, field: str) -> tuple[float, float]:
    from jointcalc.quantity import parse

    first, _, last = (piece.strip() for piece in text.partition(".."))
    high = parse(last, "length", field=field)
    if first and (first[-1].isdigit() or first[-1] == "."):
        first += last.lstrip("0123456789./ -+eE")  # numbers share the unit that ends them
    low = parse(first, "length", field=field)
    if not low < high:
        raise InputError(f"'{text}' is not a range from small to large; write it like '20mm..50mm'", field=field)
    return low, high


def _points(text: str, field: str) -> tuple[tuple[float, float], ...]:
    from jointcalc.quantity import parse_list

    words = text.replace("/", " / ").split()
    pairs = text.split("/")
    if len(pairs) < 2:
        raise InputError("at least two points are needed, such as 'at=0 0/40 0/40 30 mm'", field=field)
    numbers = parse_list(" ".join(w for w in words if w != "/"), "length", field=field)
    counts = [len(p.split()) for p in pairs]
    if len(numbers) != 2 * len(pairs) or any(c != 2 for c in counts[:-1]):
        raise InputError(
            f"'{text}' is not a list of points; write two numbers for each, such as 'at=0 0/40 0/40 30 mm'",
            field=field,
        )
    return tuple(zip(numbers[::2], numbers[1::2], strict=True))


EXAMPLES: Mapping[str, str] = {
    "hat": "hat:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm",
    "hat-skin": "hat-skin:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm,skin=120mm,skin_t=1mm,weld=9mm",
    "beaded-hat": "beaded-hat:top=60mm,depth=30mm,flange=20mm,t=1mm,r=2mm,bead=15mm,bead_depth=4mm",
    "channel": "channel:web=50mm,flange=25mm,t=1.5mm,r=2mm",
    "lipped-channel": "lipped-channel:web=60mm,flange=30mm,lip=10mm,t=1.2mm,r=2mm",
    "zed": "zed:web=40mm,flange=20mm,t=1.2mm,r=2mm",
    "angle": "angle:leg=30mm,foot=25mm,t=2mm,r=2mm",
    "lap": "lap:left=60mm,overlap=25mm,right=60mm,t=1mm,step=10mm,r=2mm",
    "box": "box:depth=40mm,width=30mm,t=1.5mm,r=2mm",
    "rect-tube": "rect-tube:depth=50mm,width=30mm,t=2mm",
    "tube": "tube:od=38mm,t=2mm",
    "bar": "bar:depth=30mm,width=5mm",
    "points": "points:at=0 30/0 0/40 0/40 30 mm,t=1.2mm,r=2mm",
}
"""One profile of each family, to copy."""
