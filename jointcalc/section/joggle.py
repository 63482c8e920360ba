"""The step (joggle) that is set along the edge of one sheet, so that another lies flush in it."""

from __future__ import annotations

from dataclasses import dataclass
from math import acos, cos, sin

import numpy as np

from jointcalc.section.forming import bend_allowance
from jointcalc.section.outline import STEEL_DENSITY, Outline
from jointcalc.section.tracer import Bend, Tracer


@dataclass(frozen=True, slots=True, kw_only=True)
class Joggle:
    """Two bends of the inside radius `r` that set a sheet of thickness `t` off by `height` [mm].

    As in the stepped lap of `families.lap`, the step is as steep as its radius allows, at most square.
    """

    t: float
    height: float
    r: float

    @property
    def middle(self) -> float:
        """Radius of the middle of the sheet in a bend [mm]."""
        return self.r + self.t / 2

    @property
    def angle(self) -> float:
        """Angle of either bend [rad]."""
        return acos(max(1 - self.height / (2 * self.middle), 0.0))

    @property
    def slope(self) -> float:
        """Straight length between the bends [mm]."""
        return max(self.height - 2 * self.middle * (1 - cos(self.angle)), 0.0) / sin(self.angle)

    @property
    def plan(self) -> float:
        """Width of the step seen from above [mm]."""
        return 2 * self.middle * sin(self.angle) + self.slope * cos(self.angle)

    @property
    def flat(self) -> float:
        """What the step takes of the flat sheet [mm]: the longer of DIN 6935's allowances and the middle line.

        A joggle is pressed in one stroke and held beside it, so that it stretches less than a bend on a brake; the
        longer is trimmed, the shorter cannot be made longer (derivation).
        """
        one = Bend("", -1, np.asarray(self.angle), np.asarray(self.r), np.asarray(self.t), "", "r")
        return self.slope + 2 * max(float(bend_allowance(one)), self.middle * self.angle)

    @property
    def growth(self) -> float:
        """How much longer the flat sheet is than the stepped one seen from above [mm]."""
        return self.flat - self.plan

    def outline(self, before: float, after: float) -> Outline:
        """The stepped sheet seen from its end: `before` of the flat that stays up, `after` of the flat set down."""
        pen = Tracer()
        pen.start(0.0, self.height + self.t / 2, 0.0, t=self.t, sheet="stepped sheet", density=STEEL_DENSITY)
        pen.go(before, "field", "before", role="outstand", free_end="start")
        pen.bend(-self.angle, self.r, "upper step bend")
        if self.slope > 1e-9:
            pen.go(self.slope, "step", "step")
        pen.bend(self.angle, self.r, "lower step bend")
        pen.go(after, "edge", "after", role="outstand", free_end="end")
        return pen.outline()
