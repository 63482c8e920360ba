"""Profiles with one upright web: plain channel, channel with lips, zed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import pi
from typing import Annotated, ClassVar

import numpy as np

from jointcalc.section.families.family import QUARTER, Family, Fault, Letter, in_mm, square_corners
from jointcalc.section.outline import STEEL_DENSITY, Number
from jointcalc.section.tracer import Tracer


def _lipless(
    tracer: Tracer, web: Number, top: Number, bottom: Number, t: Number, r: Number, top_turn: int, density: Number
) -> None:
    """Bottom flange tip, web, top flange tip; `top_turn` -1 for a channel, +1 for a zed."""
    tracer.start(bottom, t / 2, pi, t=t, density=density)
    c = square_corners(tracer, r, 1)
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
    example: ClassVar[str] = "channel:web=50mm,flange=25mm,t=1.5mm,r=2mm"

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
    example: ClassVar[str] = "zed:web=40mm,flange=20mm,t=1.2mm,r=2mm"

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
    example: ClassVar[str] = "lipped-channel:web=60mm,flange=30mm,lip=10mm,t=1.2mm,r=2mm"

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
        c = square_corners(tracer, r, 1)
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
                f"two lips of {in_mm(self.lip, i)} meet inside a web of {in_mm(self.web, i)}; "
                "make lip less than half the web"
            ),
        )
