"""What a panel is to its finite elements: sides, sheet, edges, beads, loads.  Units: N, mm, MPa."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from jointcalc.statics.band import Array
from jointcalc.statics.plate import Patch

Inplane = Literal["held", "straight", "free"]
"""Edges in the plane of the sheet: cannot move; stay straight but draw in; draw in as they like."""


@dataclass(frozen=True, slots=True)
class Beads:
    """Beads all one way: middles [mm across], one bead's mid-line and where its parts meet, and its ends.

    `line` (points, 2) is the mid-line (across from the bead's middle, up) from foot to foot, `joints` the places
    along it [mm of length] where fillet, flank and crown meet.  From `stop` [mm] off the edge the bead rises in a
    straight ramp `runout` long, its width the same.  `towards` beads rise against the loads.
    """

    middles: tuple[float, ...]
    line: tuple[tuple[float, float], ...]
    joints: tuple[float, ...]
    stop: float
    runout: float
    towards: bool = True

    @property
    def length(self) -> float:
        """Of the mid-line [mm]."""
        return float(np.hypot(*np.diff(np.array(self.line), axis=0).T).sum())

    def height(self, x: Array, a: float) -> Array:
        """Part of the full depth that the bead has at x along it, of a panel a long that way."""
        x = np.minimum(x, a - x)
        if self.runout == 0:
            return np.where(x >= self.stop - 1e-9 * a, 1.0, 0.0)
        return np.clip((x - self.stop) / self.runout, 0.0, 1.0)

    def unrolled(self, b: float) -> tuple[Array, Array, Array]:
        """Length along the sheet across the whole panel, with y and z there."""
        line = np.array(self.line)
        own = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(line, axis=0).T))])
        s, y, z, at = [0.0], [0.0], [0.0], 0.0
        for middle in self.middles:
            foot = middle + line[0, 0]
            at += foot - y[-1]
            s += list(at + own)
            y += list(middle + line[:, 0])
            z += list(line[:, 1] * (-1 if self.towards else 1))
            at += own[-1]
        if b - y[-1] > 1e-9 * b:
            s.append(at + b - y[-1])
            y.append(b)
            z.append(0.0)
        keep = np.concatenate([[True], np.diff(s) > 1e-9 * b])
        return np.array(s)[keep], np.array(y)[keep], np.array(z)[keep]


@dataclass(frozen=True, slots=True)
class Field:
    """A panel a x b [mm] of sheet t with its edges and what stands on it.

    `turn` is how stiffly the edges are held against turning [N mm/rad per mm]: 0 simply supported, inf clamped,
    for all four or (x = 0, x = a, y = 0, y = b).  Loads push along +z.  `thrust` [N/mm] pushes the edges across x and
    across y towards each other, `flow` [N/mm] shears all four; edges that are held take no thrust.  `whole` forbids to
    take a half for alike about the middle of x, of y.  `beads` run along x, `cross` along y; where two cross, the sheet
    lies as high as the higher of them.
    """

    a: float
    b: float
    t: float
    E: float
    nu: float
    turn: float | tuple[float, float, float, float] = float("inf")
    inplane: Inplane = "held"
    pressure: float = 0.0
    patches: tuple[Patch, ...] = ()
    f_y: float | None = None
    fineness: float = 1.0
    beads: Beads | None = None
    cross: Beads | None = None
    thrust: tuple[float, float] = (0.0, 0.0)
    flow: float = 0.0
    whole: tuple[bool, bool] = (False, False)

    @property
    def turns(self) -> tuple[float, float, float, float]:
        """Edge by edge."""
        return self.turn if isinstance(self.turn, tuple) else (self.turn,) * 4

    @property
    def alike(self) -> tuple[bool, bool]:
        """Whether x and a - x, y and b - y are alike."""
        left, right, low, high = self.turns
        there = {self._spot(p) for p in self.patches}
        x = left == right and all(self._spot(replace(p, x=self.a - p.x)) in there for p in self.patches)
        y = low == high and all(self._spot(replace(p, y=self.b - p.y)) in there for p in self.patches)
        return x and not (self.flow or self.whole[0]), y and not (self.flow or self.whole[1])

    @property
    def unloaded(self) -> Field:
        """The same sheet, cut and held alike, with nothing on it: what its stiffness at rest hangs on."""
        whole = (not self.alike[0], not self.alike[1])
        return replace(self, pressure=0.0, patches=(), f_y=None, thrust=(0.0, 0.0), flow=0.0, whole=whole)

    def _spot(self, p: Patch) -> tuple[float, ...]:
        """A patch, told apart from others to some 1e-7 of a side."""
        return round(p.x / self.a, 7), round(p.y / self.b, 7), round(p.c / self.a, 7), round(p.d / self.b, 7), p.force

    @property
    def load(self) -> float:
        """Total force across the panel [N]."""
        return self.pressure * self.a * self.b + sum(p.force for p in self.patches)
