"""Closed walls and solid bars: box, rectangular hollow section, round tube, flat bar."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, ClassVar

import numpy as np

from jointcalc.section.families.family import QUARTER, Family, Fault, Letter, in_mm, square_corners
from jointcalc.section.outline import STEEL_DENSITY, Number
from jointcalc.section.tracer import Tracer


@dataclass(frozen=True, kw_only=True)
class Box(Family):
    """Rectangular closed profile, welded or drawn; all four corners alike."""

    kind: ClassVar[str] = "box"
    summary: ClassVar[str] = "rectangular box"
    example: ClassVar[str] = "box:depth=40mm,width=30mm,t=1.5mm,r=2mm"
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
        c = square_corners(tracer, r, 1)
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
    example: ClassVar[str] = "rect-tube:depth=50mm,width=30mm,t=2mm"

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
    example: ClassVar[str] = "tube:od=38mm,t=2mm"
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
                f"a wall of {in_mm(self.t, i)} does not fit in a tube of {in_mm(self.od, i)}; "
                "it must be less than half of that"
            ),
        )


@dataclass(frozen=True, kw_only=True)
class Bar(Family):
    """Solid flat bar, on edge when `depth` is the larger."""

    kind: ClassVar[str] = "bar"
    summary: ClassVar[str] = "solid flat bar"
    example: ClassVar[str] = "bar:depth=30mm,width=5mm"

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
