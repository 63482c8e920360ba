"""What each fastener of a group gets, what sheet stands round it, and how a formula is asked of all of them at once.

Distances are taken in the direction in which a fastener pushes on its sheet: to the edge ahead (`e_1`), to the edges
beside (`e_2`), to the next hole in its own line (`p_1`) and to those of other lines (`p_2`).  Which way a fastener
pushes follows from the sheet that brings the load (`pulled`); while that is not said, both ways count and the worse one
holds.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from math import hypot
from typing import Any

import numpy as np

from jointcalc.check.common import Steps
from jointcalc.errors import InputError
from jointcalc.formula import bolts_en1993
from jointcalc.formula.bolt_holes import COUNTERSUNK_BEARING
from jointcalc.formula.branch import least
from jointcalc.formula.core import Evaluation, Formula
from jointcalc.model.bolts import FastenerGroup
from jointcalc.model.sheet import Sheet
from jointcalc.quantity.sentence import mm
from jointcalc.result import Check, Method, Stated
from jointcalc.statics import fastener_group as statics
from jointcalc.statics.group_common import Array, Load

FAR = 100.0
"""An edge or a hole this many diameters away does not weaken bearing in any of the rules."""
IN_LINE = bolts_en1993.LINES_APART
"""Two holes stand in one line along the force when their offset across it is less than this many hole diameters."""
CLOSE = least(bolts_en1993.BEARING_PLATE, "p_1 / d_0")
"""Least pitch along the force of EN 1993-1-8 Table 3.3, in hole diameters."""
EVEN = 1e-6
"""Shares of a load that differ by less than this part of it are even."""


class Spread:
    """What each fastener gets of the service load, elastically, and of it each sheet."""

    def __init__(self, group: FastenerGroup) -> None:
        self.of = group
        force, moment = group.force or (0.0, 0.0, 0.0), group.moment or (0.0, 0.0, 0.0)
        self.load = Load.at(force, group.at, moment)  # type: ignore[arg-type]
        self.group = statics.FastenerGroup.of(group.holes, area=group.fastener.area)
        try:
            shared = self.group.elastic(self.load)
        except InputError as error:
            raise InputError(error.message, field=error.field or "holes") from error
        floor = 1e-9 * float(shared.resultant.max(initial=0.0))
        self.force = np.where(np.abs(shared.force) > floor, shared.force, 0.0)
        self.shear = np.where(shared.shear > floor, shared.shear, 0.0)
        self.pull = np.where(shared.pull > floor, shared.pull, 0.0)
        self.press = np.where(-shared.pull > floor, -shared.pull, 0.0)
        self.resultant = shared.resultant
        self.peak, self.peak_at, self.peak_fastener = shared.peak, shared.peak_at, shared.peak_fastener
        centre = self.group.sections()
        self.peak_radius = hypot(self.peak_at[0] - centre.x, self.peak_at[1] - centre.y)
        self.shear_max, self.pull_max = float(self.shear.max()), float(self.pull.max())
        self.how = self.share("V", self.shear)
        self.how_pull = self.share("T", self.pull)
        # unit vectors of the shear, along x where there is none
        size = np.where(self.shear > 0, self.shear, 1.0)
        self.way = np.where(self.shear[:, None] > 0, self.force[:, :2] / size[:, None], np.array([1.0, 0.0]))

    def share(self, symbol: str, of: Array, k: int | None = None, part: float = 1.0) -> Stated:
        """The share of one fastener (the largest where none is named) as a step of a working."""
        n = int(of.argmax()) if k is None else k
        x, y = self.of.holes[n]
        whole = "" if part == 1.0 else f"{part:g} of the "
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
        return len(self.of.sheets) == 3 and self.of.pulled == 2 and self.of.fastener.kind == "bolt"

    def part(self, n: int) -> float:
        """Part of a fastener's share that sheet `n` (from 0) bears."""
        return 0.5 if self.halved and n != 1 else 1.0

    def senses(self, n: int) -> tuple[float, ...]:
        """Senses of a fastener's share in which it pushes on sheet `n`: the one that brings the load is pushed back."""
        if self.of.pulled is None:
            return (1.0, -1.0)
        return (-1.0,) if self.of.pulled == n + 1 else (1.0,)

    @property
    def one_sided(self) -> bool:
        """Whether the pull comes from one side of each head."""
        return self.of.pull == "one-sided" or (not self.of.pull and not self.even_pull)


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


class Place:
    """One sheet of a group with what its rules ask for."""

    def __init__(self, spread: Spread, n: int) -> None:
        self.spread, self.n = spread, n
        self.group: FastenerGroup = spread.of
        self.sheet: Sheet = self.group.sheets[n]
        self.where = "" if len(self.group.sheets) == 1 else str(n + 1)
        self.part = spread.part(n)
        f = self.group.fastener
        # a rivet nut sits in the last sheet; the others are held by its screw
        screw = f.kind == "rivnut" and n < len(self.group.sheets) - 1
        self.d = f.d if screw else self.group.d_bearing
        self.d_0 = f.clear if screw else self.group.d_0
        self.edge, self.corners = self.group.edge_used, self.group.corners(n)
        self.demand: Array = self.part * spread.shear

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
        if self.spread.net is None:
            return 0.0
        across = np.array([-self.spread.net[1], self.spread.net[0]])
        return float(np.ptp(self.spread.group.points @ across))

    @cached_property
    def side(self) -> float:
        """Distance from the outermost holes to the side edges [mm] where the edges are no outline."""
        if self.group.width is None or self.spread.net is None:
            return self.edge
        return min(self.edge, (self.group.width - self.extent) / 2)

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
        at = self.spread.group.points if points is None else points
        corners = self.corners
        if corners is None:
            found = np.full(len(at), self.edge)
            if self.spread.net is not None and self.side < self.edge:
                across = np.abs(way @ np.array([-self.spread.net[1], self.spread.net[0]]))
                found = np.minimum(found, self.side / np.maximum(across, 1e-12))
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
        at = self.spread.group.points
        return float(min((at - np.array(corners[:2])).min(), (np.array(corners[2:]) - at).min()))

    @cached_property
    def around(self) -> Around:
        """Distances in the direction of every fastener's own share."""
        way = self.spread.way
        beside = np.stack((-way[:, 1], way[:, 0]), axis=1)
        senses = self.spread.senses(self.n)
        e_1 = np.min([self.to_edge(s * way) for s in senses], axis=0)
        e_2 = np.minimum(self.to_edge(beside), self.to_edge(-beside))
        p_1, p_2, gap = self._neighbours(way, senses)
        clear = np.minimum(e_1 - self.d_0 / 2, gap)
        return Around(e_1 - self.looser(way), e_2 - self.looser(beside), p_1, p_2, clear)

    def _neighbours(self, way: Array, senses: tuple[float, ...]) -> tuple[Array, Array, Array]:
        """Nearest holes in line, in other lines, and clear distance to the next hole ahead [mm], each (n,)."""
        at, d_0 = self.spread.group.points, self.d_0
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


@dataclass(frozen=True)
class Asked:
    """The verdict of one method on all fasteners: the check of the worst, and how much each one uses of it.

    Of a method left on its weak side `use` is what each uses of the bound at the edge of its range.
    """

    check: Check
    use: Array | None = field(default=None, compare=False)


Inputs = Mapping[str, Any]
Shown = Callable[[int], Steps]


def ask(
    how: Method, formula: Formula, inputs: Inputs, *, demand: Array, load_factor: float,
    share: Callable[[int], Stated], required: float | None = None,
    shown: Shown = lambda k: [], after: Callable[[Evaluation], Steps] = lambda e: [], within: Inputs | None = None,
    hard: Iterable[str] = (), weak: Iterable[str] = (), edge: Inputs | None = None, edge_within: Inputs | None = None,
    edge_after: Callable[[Evaluation], Steps] | None = None, where: str = "", note: str = "",
    covers: Iterable[str] | None = None,
) -> Asked:  # fmt: skip
    """One formula asked of every fastener; the one nearest its limit becomes the check.

    `inputs` are floats or arrays (n,); `within` replaces those that the formula's range is asked of.  `hard` are
    reasons why the method does not apply at all; `weak` why it is left on its weak side, beside what its own range
    says.  `edge` are the inputs at the edge of the range, which bound from above what was left on that side.  `shown`
    gives the steps before the formula, `after` those that follow it and end with the capacity.  `required` is for a
    method whose clause leaves a choice.
    """
    n = len(demand)
    required = how.factor.required(load_factor) if required is None else required
    stop = list(dict.fromkeys(hard))

    def spread_out(values: Inputs) -> dict[str, Array]:
        return {
            name: np.asarray(v, dtype=np.float64) if np.ndim(v) else np.full(n, v, dtype=np.float64)
            for name, v in values.items()
        }

    def scalars(values: dict[str, Array], k: int) -> dict[str, float]:
        return {name: float(v[k]) for name, v in values.items()}

    def worst(values: dict[str, Array], more: Callable[[Evaluation], Steps]) -> tuple[int, Steps, float, Array]:
        capacity = np.empty(n)
        seen: dict[tuple[float, ...], float] = {}
        names = formula.parameters
        for k in range(n):
            one = tuple(float(values[name][k]) for name in names)
            if one not in seen:
                e = formula.evaluate(**dict(zip(names, one)))
                seen[one] = _last([e, *more(e)])
            capacity[k] = seen[one]
        with np.errstate(divide="ignore", invalid="ignore"):
            use = np.where(demand > 0, np.where(capacity > 0, required * demand / capacity, np.inf), 0.0)
        k = int(use.argmax()) if demand.any() else 0
        evaluation = formula.evaluate(**scalars(values, k))
        return k, [evaluation, *more(evaluation)], float(capacity[k]), use

    active = demand > 0 if demand.any() else np.ones(n, dtype=bool)
    ranged = spread_out({**inputs, **(within or {})})
    ok = np.broadcast_to(np.asarray(formula.inside(**ranged)), (n,))
    worst_demand = float(demand.max(initial=0.0))
    if stop:
        return Asked(how.outside(stop, demand=worst_demand, where=where))
    left = list(dict.fromkeys(weak))
    if ok[active].all() and not left:
        k, trace, capacity, use = worst(spread_out(inputs), after)
        check = how.judge(
            capacity=capacity, demand=float(demand[k]), required=required, trace=[*shown(k), *trace, share(k)],
            where=where, note=note, covers=covers,
        )  # fmt: skip
        return Asked(check, use)
    bad = np.flatnonzero(active & ~ok)
    reasons = [*left, *(formula.outside(**scalars(ranged, int(bad[0]))) if len(bad) else [])]
    if edge is not None:
        at_edge = spread_out({**edge, **(edge_within or {})})
        if np.broadcast_to(np.asarray(formula.inside(**at_edge)), (n,))[active].all():
            k, trace, capacity, use = worst(spread_out(edge), edge_after or after)
            check = how.at_most(
                reasons, capacity=capacity, demand=float(demand[k]), required=required, trace=[*trace, share(k)],
                where=where, covers=covers,
            )  # fmt: skip
            return Asked(check, use)
    return Asked(how.outside(reasons, demand=worst_demand, where=where))


def _last(steps: Steps) -> float:
    return float(steps[-1].value)


def family(sheet: Sheet, body: str) -> list[str]:
    """Why a rule does not cover the sheet; EN 1993-1-4 sends stainless to parts 1-3 and 1-8, no American one does."""
    if sheet.material.family == "aluminium":
        return [f"{body} is for steel, this sheet is aluminium"]
    if sheet.material.family == "stainless" and body.startswith("AI"):
        return [f"{body} is for carbon steel, this sheet is stainless"]
    return []
