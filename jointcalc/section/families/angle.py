"""Angle: an upright leg and a foot."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi
from typing import Annotated, ClassVar

from jointcalc.section.families.family import QUARTER, Family, Letter, square_corners
from jointcalc.section.outline import STEEL_DENSITY, Number
from jointcalc.section.tracer import Tracer


@dataclass(frozen=True, kw_only=True)
class Angle(Family):
    """Angle: an upright leg and a foot to the right, at the bottom."""

    kind: ClassVar[str] = "angle"
    summary: ClassVar[str] = "angle, one leg upright"
    example: ClassVar[str] = "angle:leg=30mm,foot=25mm,t=2mm,r=2mm"

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
        c = square_corners(tracer, r, 1)
        letter = "leg" if self.foot is None else "foot"
        tracer.go(foot - t - r, "foot", letter, role="outstand", free_end="start", corners=c)
        tracer.bend(-QUARTER, r, "bend")
        tracer.go(self.leg - t - r, "leg", "leg", role="outstand", free_end="end", corners=c)
        return tracer
