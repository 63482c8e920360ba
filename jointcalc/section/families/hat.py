"""Top-hats: open below, closed by a skin at the weld lines, with beads pressed into crown or webs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from typing import Annotated, ClassVar

import numpy as np

from jointcalc.section.families.family import QUARTER, Family, Fault, Letter, in_mm, square_corners
from jointcalc.section.outline import STEEL_DENSITY, Number
from jointcalc.section.tracer import Tracer


@dataclass(frozen=True, kw_only=True)
class Hat(Family):
    """Top-hat, open below: two flanges, two upright webs, a crown."""

    kind: ClassVar[str] = "hat"
    summary: ClassVar[str] = "top-hat, flanges down"
    example: ClassVar[str] = "hat:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm"

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
        c = square_corners(tracer, r, 1)
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
    example: ClassVar[str] = "hat-skin:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm,skin=120mm,skin_t=1mm,weld=9mm"
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
                f"the weld line, {in_mm(self.weld_line, i)} from the flange tip, is not on the flat of the flange; "
                f"it must lie less than {in_mm(self.flange - self.radius, i)} from the tip (flange less inside radius)"
            ),
        )
        line = self.top / 2 + self.flange - self.weld_line
        yield Fault(
            "skin",
            np.atleast_1d(np.asarray(self.skin / 2 <= line)),
            lambda i: (
                f"skin of {in_mm(self.skin, i)} does not reach the weld lines, which are {in_mm(2 * line, i)} apart; "
                "make skin wider than that"
            ),
        )


@dataclass(frozen=True, kw_only=True)
class BeadedHat(Hat):
    """Top-hat with a circular-arc bead pressed inwards, lengthwise, in the crown or in each web."""

    kind: ClassVar[str] = "beaded-hat"
    summary: ClassVar[str] = "top-hat with lengthwise beads pressed inwards in crown or webs"
    example: ClassVar[str] = "beaded-hat:top=60mm,depth=30mm,flange=20mm,t=1mm,r=2mm,bead=15mm,bead_depth=4mm"

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
    return (
        f"{depth} of {in_mm(value, column)} is more than half of {width}; a circular arc can be at most a half circle"
    )


def _no_room(depth: str, value: Number, room: Number, of: str, column: int) -> str:
    return (
        f"{depth} of {in_mm(value, column)} does not fit inside the hat; "
        f"it must be less than {in_mm(room, column)} ({of} less t)"
    )
