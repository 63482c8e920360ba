"""Stepped lap of two sheets, welded along the overlap: a brace by itself."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, ClassVar

import numpy as np

from jointcalc.section.families.family import Family, Fault, Letter, in_mm
from jointcalc.section.outline import STEEL_DENSITY, Number
from jointcalc.section.tracer import Tracer


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
    example: ClassVar[str] = "lap:left=60mm,overlap=25mm,right=60mm,t=1mm,step=10mm,r=2mm"

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
                    f"the weld line, {in_mm(self.weld, i)} from the edge, is beyond the overlap of "
                    f"{in_mm(self.overlap, i)}"
                ),
            )
