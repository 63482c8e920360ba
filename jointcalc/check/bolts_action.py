"""What each fastener of a group gets, and what sheet stands round it.

Distances are taken in the direction in which a fastener pushes on its sheet: to the edge ahead (`e_1`), to the edges
beside (`e_2`), to the next hole in its own line (`p_1`) and to those of other lines (`p_2`).  Which way a fastener
pushes follows from the sheet that brings the load (`pulled`); while that is not said, both ways count and the worse one
holds.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from math import hypot, pi

import numpy as np

from jointcalc.check.common import Steps
from jointcalc.errors import InputError
from jointcalc.formula import bolts_en1993
from jointcalc.formula.bolt_holes import COUNTERSUNK_BEARING
from jointcalc.formula.branch import at_least, least
from jointcalc.model.bolts import FastenerGroup
from jointcalc.model.sheet import Sheet
from jointcalc.quantity.sentence import mm
from jointcalc.result import Stated
from jointcalc.statics import fastener_group as statics
from jointcalc.statics.group_common import Array, Load

FAR = 100.0
"""An edge or a hole this many diameters away does not weaken bearing in any of the rules."""
IN_LINE = bolts_en1993.LINES_APART
"""Two holes stand in one line along the force when their offset across it is less than this many hole diameters."""
CLOSE = least(bolts_en1993.BEARING_PLATE, "p_1 / d_0")
"""Least pitch along the force of EN 1993-1-8 Table 3.3, in hole diameters."""
STRESS_DEPTH = 0.9382
"""Nominal less stress diameter over the pitch of a thread: ISO 898-1, A_s = pi/4 (d - 0.9382 P)²."""
RUN_OUT = 3.5
"""Pitches that a thread needs between the end of the shank and the nut: a run-out of 2.5 (ISO 3508) and one whole
thread left clear (EN 1090-2, 8.2.2), from memory."""
EVEN = 1e-6
"""Shares of a load that differ by less than this part of it are even."""


@dataclass(frozen=True, eq=False)
class BoltsAction:
    """A group of fasteners and what each gets of the service load, elastically: what every rule of a group judges."""

    item: FastenerGroup

    @cached_property
    def load(self) -> Load:
        """Force and moment on the group."""
        force, moment = self.item.force or (0.0, 0.0, 0.0), self.item.moment or (0.0, 0.0, 0.0)
        return Load.at(force, self.item.at, moment)  # type: ignore[arg-type]

    @cached_property
    def group(self) -> statics.FastenerGroup:
        """The fasteners as points of one area."""
        return statics.FastenerGroup.of(self.item.holes, area=self.item.fastener.area)

    @cached_property
    def _shared(self) -> statics.ElasticFasteners:
        try:
            return self.group.elastic(self.load)
        except InputError as error:
            raise InputError(error.message, field=error.field or "holes") from error

    def _more_than_rounding(self, share: Array) -> Array:
        floor = 1e-9 * float(self._shared.resultant.max(initial=0.0))
        return np.where(np.abs(share) > floor, share, 0.0)

    @cached_property
    def force(self) -> Array:
        """Force on each fastener (n, 3) [N]."""
        return self._more_than_rounding(self._shared.force)

    @cached_property
    def shear(self) -> Array:
        """Shear of each fastener (n,) [N]."""
        return self._more_than_rounding(self._shared.shear)

    @cached_property
    def pull(self) -> Array:
        """Pull on each fastener (n,) [N]."""
        return np.maximum(self._more_than_rounding(self._shared.pull), 0.0)

    @cached_property
    def press(self) -> Array:
        """What presses each fastener into the sheet (n,) [N]."""
        return np.maximum(self._more_than_rounding(-self._shared.pull), 0.0)

    @property
    def resultant(self) -> Array:
        """Resultant on each fastener (n,) [N]."""
        return self._shared.resultant

    @property
    def peak(self) -> float:
        """Greatest resultant [N]."""
        return self._shared.peak

    @property
    def peak_at(self) -> tuple[float, float]:
        """Place of the fastener that carries most [mm]."""
        return self._shared.peak_at

    @property
    def peak_fastener(self) -> int:
        """Its number, from 0."""
        return self._shared.peak_fastener

    @property
    def peak_radius(self) -> float:
        """Its distance from the centroid of the group [mm]."""
        centre = self.group.sections()
        return hypot(self.peak_at[0] - centre.x, self.peak_at[1] - centre.y)

    @cached_property
    def shear_max(self) -> float:
        """Greatest shear [N]."""
        return float(self.shear.max())

    @cached_property
    def pull_max(self) -> float:
        """Greatest pull [N]."""
        return float(self.pull.max())

    @cached_property
    def how(self) -> Stated:
        """The greatest shear as a step of a working."""
        return self.share("V", self.shear)

    @cached_property
    def how_pull(self) -> Stated:
        """The greatest pull as a step of a working."""
        return self.share("T", self.pull)

    @cached_property
    def way(self) -> Array:
        """Unit vectors of the shear (n, 2), along x where there is none."""
        size = np.where(self.shear > 0, self.shear, 1.0)
        return np.where(self.shear[:, None] > 0, self.force[:, :2] / size[:, None], np.array([1.0, 0.0]))

    def share(self, symbol: str, of: Array, k: int | None = None, part: float = 1.0) -> Stated:
        """The share of one fastener (the largest where none is named) as a step of a working."""
        n = int(of.argmax()) if k is None else k
        x, y = self.item.holes[n]
        whole = "" if part == 1.0 else f"{part:.3g} of the "
        return Stated(symbol, "N", part * float(of[n]), f"{whole}elastic share of the hole at {mm(x, ', ', y):g}")

    @cached_property
    def net(self) -> Array | None:
        """Direction of the force in the plane, a unit vector; None without one."""
        size = hypot(self.load.F_x, self.load.F_y)
        return np.array([self.load.F_x / size, self.load.F_y / size]) if size > EVEN * max(self.peak, 1e-12) else None

    @property
    def even_shear(self) -> bool:
        """Whether all fasteners get the same share in the plane."""
        force = self.force[:, :2]
        return bool(np.ptp(force, axis=0).max() <= EVEN * max(float(np.abs(force).max()), 1e-12))

    @property
    def even_pull(self) -> bool:
        """Whether all fasteners get the same share out of the plane: nothing tilts the joint."""
        force = self.force[:, 2]
        return bool(np.ptp(force) <= EVEN * max(float(np.abs(force).max()), 1e-12))

    @property
    def halved(self) -> bool:
        """Whether the load goes half and half through two shear planes: the middle one of three sheets is pulled."""
        return len(self.item.sheets) == 3 and self.item.pulled == 2 and self.item.fastener.kind == "bolt"

    def part(self, n: int) -> float:
        """Part of a fastener's share that sheet `n` (from 0) bears.

        Of two outer sheets unlike each other the stiffer takes more than half while all is elastic; the other is
        judged for its half all the same, for what gives way first hands its load on.
        """
        if not self.halved or n == 1:
            return 1.0
        stiff = [sheet.t * sheet.material.E for sheet in self.item.sheets]
        return max(0.5, stiff[n] / (stiff[0] + stiff[2]))

    @property
    def plane(self) -> float:
        """Part of a fastener's share that passes the shear plane which gets most of it."""
        return max(self.part(0), self.part(2)) if self.halved else 1.0

    @cached_property
    def threads(self) -> tuple[str, str]:
        """Threads `in` or `out` of the shear plane, and why they are counted in though said to be out; else empty."""
        group, f = self.item, self.item.fastener
        if group.threads == "in" or f.kind == "rivet":
            return group.threads, ""
        if f.kind == "rivnut":
            return "in", "the screw's thread begins in the rivet nut, at the shear plane"
        if len(group.sheets) == 1:
            return "out", ""  # the other part is not described
        pitch = (f.d - (4 * f.A_s / pi) ** 0.5) / STRESS_DEPTH
        under = (
            group.sheets[-1].t + (group.washers[1] if group.washers else 0.0) + (group.plate[2] if group.plate else 0)
        )
        if at_least(under, RUN_OUT * pitch):
            return "out", ""
        why = f"{mm(under):.3g} of sheet, washer and plate lie between it and the nut, a shank wants "
        return "in", f"{why}{mm(RUN_OUT * pitch):.3g}"

    def senses(self, n: int) -> tuple[float, ...]:
        """Senses of a fastener's share in which it pushes on sheet `n`: the one that brings the load is pushed back."""
        if self.item.pulled is None:
            return (1.0, -1.0)
        return (-1.0,) if self.item.pulled == n + 1 else (1.0,)

    @property
    def one_sided(self) -> bool:
        """Whether the pull comes from one side of each head."""
        return self.item.pull == "one-sided" or (not self.item.pull and not self.even_pull)


@dataclass(frozen=True, slots=True)
class Around:
    """Distances round every fastener of a sheet [mm], each (n,); `clear` is to the edge or hole ahead."""

    e_1: Array
    e_2: Array
    p_1: Array
    p_2: Array
    clear: Array

    def at_least(self, *, e_1: float, e_2: float, p_1: float, p_2: float) -> Around:
        """The same, nowhere less than these: the edge of a rule's range."""
        return replace(
            self, e_1=np.maximum(self.e_1, e_1), e_2=np.maximum(self.e_2, e_2), p_1=np.maximum(self.p_1, p_1),
            p_2=np.maximum(self.p_2, p_2),
        )  # fmt: skip


@dataclass(frozen=True, eq=False)
class Place:
    """One sheet of a group (`n` from 0) with what its rules ask for."""

    action: BoltsAction
    n: int

    @property
    def group(self) -> FastenerGroup:
        """The group as it was described."""
        return self.action.item

    @property
    def sheet(self) -> Sheet:
        """The sheet."""
        return self.group.sheets[self.n]

    @property
    def where(self) -> str:
        """Its number in the key of a check; empty for a single sheet."""
        return "" if len(self.group.sheets) == 1 else str(self.n + 1)

    @property
    def part(self) -> float:
        """Part of a fastener's share that it bears."""
        return self.action.part(self.n)

    @property
    def _held_by_screw(self) -> bool:
        # a rivet nut sits in the last sheet; the others are held by its screw
        return self.group.fastener.kind == "rivnut" and self.n < len(self.group.sheets) - 1

    @cached_property
    def d(self) -> float:
        """Diameter that bears [mm]."""
        return self.group.fastener.d if self._held_by_screw else self.group.d_bearing

    @cached_property
    def d_0(self) -> float:
        """Diameter of the hole [mm]."""
        return self.group.fastener.clear if self._held_by_screw else self.group.d_0

    @property
    def edge(self) -> float:
        """Distance of the edges from the holes where no outline says it [mm]."""
        return self.group.edge_used

    @cached_property
    def corners(self) -> tuple[float, float, float, float] | None:
        """Corners of the sheet's outline [mm]; None where it is not known."""
        return self.group.corners(self.n)

    @cached_property
    def demand(self) -> Array:
        """What each fastener presses on the sheet [N]."""
        return self.part * self.action.shear

    # --- countersink ------------------------------------------------------------------------------------

    @property
    def sunk(self) -> float:
        """Depth of the countersink in this sheet [mm]: it passes on to the next one where the head is deeper."""
        above_it = sum(s.t for s in self.group.sheets[: self.n])
        return min(max(self.group.sink[1] - above_it, 0.0), self.sheet.t)

    @property
    def deep(self) -> float:
        """Countersink that is taken off this sheet's bearing [mm]: its whole depth, also where it goes through."""
        above_it = sum(s.t for s in self.group.sheets[: self.n])
        return max(self.group.sink[1] - above_it, 0.0)

    @cached_property
    def bears(self) -> tuple[float, Steps]:
        """Thickness that bears [mm], with its working: less half the countersink."""
        if not self.deep:
            return self.sheet.t, []
        left = COUNTERSUNK_BEARING.evaluate(t=self.sheet.t, k=self.deep)
        return float(left.value), [left]

    def raised(self, least: float) -> float:
        """Thickness that bears [mm] were the sheet at least so thick, its countersink as deep as it is."""
        return self.bears[0] + max(least - self.sheet.t, 0.0)

    @property
    def nothing_left(self) -> list[str]:
        """Why a countersunk head has nothing to bear on; empty while it has."""
        t, _ = self.bears
        if t > 1e-9:
            return []
        return [f"the countersink, {mm(self.deep):.3g} deep, leaves nothing of {mm(self.sheet.t):.3g} to bear on"]

    @property
    def before(self) -> Steps:
        """What the working of every check of this sheet begins with."""
        return [self.sheet.core] if self.sheet.core is not None else []

    # --- distances ----------------------------------------------------------------------------------------

    @property
    def note(self) -> str:
        """What is assumed of the edges."""
        if self.group.edge is not None or self.group.outline:
            return ""
        return f"edges taken {mm(self.edge):.3g} from the holes: give 'edge' or 'outline'"

    @cached_property
    def extent(self) -> float:
        """Extent of the holes across the force [mm]."""
        if self.action.net is None:
            return 0.0
        across = np.array([-self.action.net[1], self.action.net[0]])
        return float(np.ptp(self.action.group.points @ across))

    @cached_property
    def side(self) -> float:
        """Distance from the outermost holes to the side edges [mm] where the edges are no outline.

        Nought where the width, under a force askew, does not reach over the holes.
        """
        if self.group.width is None or self.action.net is None:
            return self.edge
        return max(min(self.edge, (self.group.width - self.extent) / 2), 0.0)

    def lengthened(self, way: Array) -> Array:
        """How much further than half its width the hole reaches in a direction [mm]: half the slot's straight part."""
        if self.group.slot is None:
            return np.zeros(way.shape[:-1])
        along = np.array([1.0, 0.0] if self.group.slot_along == "x" else [0.0, 1.0])
        return np.asarray(np.abs(way @ along) * (self.group.slot - self.d_0) / 2, dtype=np.float64)

    def looser(self, way: Array) -> Array:
        """What a slot's width beyond the bolt takes off the distances to its end's centre [mm].

        A wider slot of the same length has its ends' centres nearer to its middle, and holds no more for that.
        """
        if self.group.slot is None:
            return np.zeros(way.shape[:-1])
        along = np.array([1.0, 0.0] if self.group.slot_along == "x" else [0.0, 1.0])
        return np.asarray(np.abs(way @ along) * (self.d_0 - self.d) / 2, dtype=np.float64)

    def to_edge(self, way: Array, points: Array | None = None) -> Array:
        """Distance [mm] from each hole's centre (or from points) to the sheet's edge in a direction each, slots off."""
        at = self.action.group.points if points is None else points
        corners = self.corners
        if corners is None:
            found = np.full(len(at), self.edge)
            if self.action.net is not None and self.side < self.edge:
                across = np.abs(way @ np.array([-self.action.net[1], self.action.net[0]]))
                # ahead of the force there is no side edge, however near it is
                found = np.where(across > 1e-9, np.minimum(found, self.side / np.maximum(across, 1e-9)), found)
        else:
            ahead = np.where(way > 0, np.array(corners[2:]) - at, at - np.array(corners[:2]))
            with np.errstate(divide="ignore"):
                found = np.where(np.abs(way) > 1e-12, ahead / np.abs(way), np.inf).min(axis=-1)
        return np.asarray(found - self.lengthened(way), dtype=np.float64)

    @property
    def nearest_edge(self) -> float | None:
        """Least distance of any hole to an edge [mm]; None where none is known."""
        corners = self.corners
        if corners is None:
            return self.group.edge
        at = self.action.group.points
        return float(min((at - np.array(corners[:2])).min(), (np.array(corners[2:]) - at).min()))

    @cached_property
    def around(self) -> Around:
        """Distances in the direction of every fastener's own share."""
        way = self.action.way
        beside = np.stack((-way[:, 1], way[:, 0]), axis=1)
        senses = self.action.senses(self.n)
        e_1 = np.min([self.to_edge(s * way) for s in senses], axis=0)
        e_2 = np.minimum(self.to_edge(beside), self.to_edge(-beside))
        p_1, p_2, gap = self._neighbours(way, senses)
        clear = np.maximum(np.minimum(e_1 - self.d_0 / 2, gap), 0.0)
        return Around(e_1 - self.looser(way), e_2 - self.looser(beside), p_1, p_2, clear)

    def _neighbours(self, way: Array, senses: tuple[float, ...]) -> tuple[Array, Array, Array]:
        """Nearest holes in line, in other lines, and clear distance to the next hole ahead [mm], each (n,)."""
        at, d_0 = self.action.group.points, self.d_0
        far = FAR * max(self.d, d_0)
        n = len(at)
        p_1, p_2, gap = np.full(n, far), np.full(n, far), np.full(n, far)
        for start in range(0, n, 256):  # 2000 holes: the table of all pairs is made in strips
            some = slice(start, min(start + 256, n))
            to = at[None, :, :] - at[some, None, :]
            along = np.einsum("ijk,ik->ij", to, way[some])
            apart = np.hypot(to[:, :, 0], to[:, :, 1])
            across = np.sqrt(np.maximum(apart**2 - along**2, 0.0))
            unit = np.divide(to, np.maximum(apart, 1e-12)[:, :, None])
            shorter = apart - 2 * (self.lengthened(unit) + self.looser(unit))
            itself = apart == 0.0
            line = across < IN_LINE * d_0 * (1 - 1e-9)
            # nearer than any rule lets holes stand, a neighbour weakens both ways
            close = shorter < CLOSE * d_0 * (1 - 1e-9)
            p_1[some] = np.minimum(p_1[some], np.where((line | close) & ~itself, shorter, far).min(axis=1))
            p_2[some] = np.minimum(p_2[some], np.where((~line | close) & ~itself, shorter, far).min(axis=1))
            hit = (across < d_0 * (1 - 1e-9)) & ~itself
            if len(senses) == 1:
                hit &= senses[0] * along > 0
            # of a hole that stands half beside, the ligament between the two: never less than its part along the force
            ahead = apart - 2 * self.lengthened(unit) - d_0
            gap[some] = np.minimum(gap[some], np.where(hit, ahead, far).min(axis=1))
        return p_1, p_2, gap
