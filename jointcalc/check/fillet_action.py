"""A weld group under its load as its checks see it: shares at the ends of every weld, what opens, what is a foot."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from math import hypot

import numpy as np

from jointcalc.formula.branch import at_most
from jointcalc.formula.core import Evaluation, Source
from jointcalc.model.fillet import FilletGroup
from jointcalc.quantity.sentence import mm
from jointcalc.result import Check, Looked, Method, Stated
from jointcalc.statics.group_common import Array, Load
from jointcalc.statics.weld_group import ElasticWelds

NOTHING = 1e-6
"""Share of the greatest share (or of the load) that counts as none."""


@dataclass(frozen=True)
class Foot:
    """What the welds outline on the part they sit on: perimeter of the hull and the rectangle about it [mm].

    `hull` are its corners in order (two for one straight line), `long` the unit vector along the longer side `c_1` of
    the rectangle, `c_2` its shorter side, `middle` its middle.
    """

    hull: Array
    U: float
    c_1: float
    c_2: float
    long: Array
    middle: Array

    @property
    def width(self) -> float:
        """Least width of the hull [mm]: a hull that lies inside another is never the wider."""
        sides = np.roll(self.hull, -1, axis=0) - self.hull
        square = np.stack((-sides[:, 1], sides[:, 0]), axis=1) / np.hypot(sides[:, 0], sides[:, 1])[:, None]
        return float(np.ptp(self.hull @ square.T, axis=0).min())

    def nearest(self, point: Array) -> Array:
        """The point of the hull nearest to a point of the plane; the point itself when it lies inside."""
        corners, follow = self.hull, np.roll(self.hull, -1, axis=0)
        side = follow - corners
        to = point - corners
        if len(corners) > 2 and bool(np.all(side[:, 0] * to[:, 1] - side[:, 1] * to[:, 0] >= 0)):
            return point
        share = np.clip((to * side).sum(axis=1) / (side**2).sum(axis=1), 0.0, 1.0)
        feet = corners + share[:, None] * side
        return np.asarray(feet[int(np.hypot(*(feet - point).T).argmin())], dtype=np.float64)

    def across(self, moment: Array) -> tuple[float, float]:
        """Parts of a moment vector that tilt the foot along its longer side and across it."""
        square = np.array([-self.long[1], self.long[0]])
        return abs(float(moment @ square)), abs(float(moment @ self.long))


@dataclass(frozen=True)
class FilletAction:
    """The group under its load: shares at both ends of every weld, arrays of shape (welds, 2) [N/mm]."""

    welds: FilletGroup
    elastic: ElasticWelds
    family: str

    @classmethod
    def of(cls, welds: FilletGroup) -> FilletAction:
        """The elastic shares of a group and its family of metal."""
        return cls(welds, welds.group.elastic(welds.acting), welds.family)

    @property
    def along(self) -> Array:
        """Share along each weld."""
        return np.abs(self.elastic.ends.axial)

    @property
    def sideways(self) -> Array:
        """Share across each weld in the plane."""
        return np.abs(self.elastic.ends.normal)

    @property
    def lift(self) -> Array:
        """Share out of the plane, either way."""
        return np.abs(self.elastic.ends.lift)

    @property
    def across(self) -> Array:
        """Share across each weld, in and out of the plane together."""
        return np.hypot(self.elastic.ends.normal, self.elastic.ends.lift)

    @property
    def filler(self) -> Looked:
        """Strength of the weld metal by classification."""
        row = self.welds.filler_row
        status = row.status
        source = Source(row["specification"], "", status)  # type: ignore[arg-type]
        return Looked("F_EXX", "MPa", row.need("tensile_min"), "filler_metals", row["classification"], source)

    def has(self, share: Array) -> bool:
        """Whether there is any of it."""
        return bool(np.any(share > NOTHING * self.elastic.peak))

    @property
    def lifted(self) -> bool:
        """Whether a part of the load acts out of the plane of the welds."""
        return self.has(self.lift)

    @cached_property
    def here(self) -> Load:
        """The load about the middle of the welds."""
        centre = self.welds.group.sections()
        return self.welds.acting.about(centre.x, centre.y)

    @cached_property
    def foot(self) -> Foot:
        """Outline of the welds; a hull of the ends of all lines."""
        return outline(self.welds.group.lines.reshape(-1, 2))

    @cached_property
    def one_plate(self) -> bool:
        """Whether the welds of a tee lie so close together that they hold one plate, one on each of its faces."""
        m = self.welds
        if m.joint != "tee":
            return False
        return at_most(self.foot.c_2, m.parts[0].thickness + m.leg_over_all)  # type: ignore[no-any-return]

    @cached_property
    def one_sided(self) -> Array:
        """Welds (bool) that hold their part on one side only: neither closed all round nor paired over its thickness.

        EN 1993-1-8, 4.12(4) spares welds all round a hollow section the moment at their root; a fillet on each face of
        a plate has none.
        """
        lines = self.welds.group.lines
        leg = self.welds.leg_over_all
        if self.welds.both_sides or _closed(np.asarray(self.welds.lines, dtype=float), max(5.0, 3 * leg)):
            return np.zeros(len(lines), dtype=bool)
        if self.welds.joint == "lap":
            return np.ones(len(lines), dtype=bool)
        reach = self.welds.parts[0].thickness + leg
        return np.array([not _paired(lines, i, reach) for i in range(len(lines))])

    @cached_property
    def in_line(self) -> bool:
        """Whether all welds lie on one straight line."""
        return bool(self.foot.c_2 <= 1e-9 * self.foot.c_1)


def _closed(lines: Array, near: float) -> bool:
    """Whether the lines run round: the two ends of each come within `near` of two different other lines' ends."""
    if len(lines) < 3:
        return False
    points = lines.reshape(-1, 2)
    apart = np.hypot(points[:, None, 0] - points[None, :, 0], points[:, None, 1] - points[None, :, 1])
    line = np.arange(len(points)) // 2
    apart[line[:, None] == line[None, :]] = np.inf
    next_to = line[apart.argmin(axis=1)].reshape(-1, 2)
    return bool(np.all(apart.min(axis=1) <= near) and np.all(next_to[:, 0] != next_to[:, 1]))


def _paired(lines: Array, i: int, reach: float) -> bool:
    """Whether another weld lies parallel to weld `i`, no further off than `reach`, along most of it."""
    x1, y1, x2, y2 = lines[i]
    length = hypot(x2 - x1, y2 - y1)
    axis = np.array([x2 - x1, y2 - y1]) / length
    ends = lines.reshape(-1, 2, 2) - np.array([x1, y1])
    along, off = ends @ axis, ends @ np.array([-axis[1], axis[0]])
    parallel = np.abs(off[:, 0] - off[:, 1]) <= 0.02 * np.abs(along[:, 0] - along[:, 1])
    beside = (np.abs(off).max(axis=1) <= reach * (1 + 1e-9)) & (np.abs(off).min(axis=1) > 1e-6 * length)
    shared = np.minimum(along.max(axis=1), length) - np.maximum(along.min(axis=1), 0.0)
    good = parallel & beside & (shared >= 0.9 * length)
    good[i] = False
    return bool(good.any())


def outline(points: Array) -> Foot:
    """Hull of points in the plane: its perimeter and the rectangle of least perimeter about it."""
    hull = _hull(points)
    if len(hull) == 2:
        side = hull[1] - hull[0]
        size = float(np.hypot(*side))
        return Foot(hull, 2 * size, size, 0.0, side / size, hull.mean(axis=0))
    sides = np.roll(hull, -1, axis=0) - hull
    lengths = np.hypot(sides[:, 0], sides[:, 1])
    best: tuple[float, float, float, Array] | None = None
    for axis in sides / lengths[:, None]:
        square = np.array([-axis[1], axis[0]])
        a, b = float(np.ptp(hull @ axis)), float(np.ptp(hull @ square))
        if best is None or a + b < best[0] * (1 - 1e-12):
            best = (a + b, a, b, axis)
    assert best is not None
    _, a, b, axis = best
    if a < b:
        a, b, axis = b, a, np.array([-axis[1], axis[0]])
    square = np.array([-axis[1], axis[0]])
    middle = sum((np.max(hull @ v) + np.min(hull @ v)) / 2 * v for v in (axis, square))
    return Foot(hull, float(lengths.sum()), a, b, axis, np.asarray(middle, dtype=np.float64))


def _hull(points: Array) -> Array:
    """Corners of the convex hull in order; the two ends where all points lie on a line."""
    origin = points.mean(axis=0)
    size = float(np.ptp(points, axis=0).max())
    rows = sorted({(float(x), float(y)) for x, y in np.round((points - origin) / size, 12)})

    def half(ordered: list[tuple[float, float]]) -> list[tuple[float, float]]:
        kept: list[tuple[float, float]] = []
        for p in ordered:
            while len(kept) > 1:
                (ax, ay), (bx, by) = kept[-2], kept[-1]
                if (bx - ax) * (p[1] - ay) - (by - ay) * (p[0] - ax) > 1e-9:
                    break
                kept.pop()
            kept.append(p)
        return kept[:-1]

    corners = half(rows) + half(rows[::-1])
    return np.asarray(np.array(corners) * size + origin, dtype=np.float64)


def place(action: FilletAction, elastic: ElasticWelds, weld: int, end: int) -> str:
    """Where on the welds, in words."""
    ends = elastic.ends
    line = action.welds.parents[weld] + 1
    return f"line {line}, at {mm(ends.x[weld, end], ', ', ends.y[weld, end]):.4g}"


def worst(used: Array) -> tuple[int, int]:
    """Weld and end where an array of shape (welds, 2) is greatest."""
    i, j = np.unravel_index(int(np.argmax(used)), used.shape)
    return int(i), int(j)


def measured(m: FilletGroup) -> Stated:
    """The throat as a step of a working."""
    how = "measured on cut coupons" if m.throat is not None else f"{m.weld} weld"
    return Stated("a", "mm", m.design_throat, how)


def bounded(
    method: Method,
    reasons: list[str],
    *,
    capacity: float,
    demand: float,
    required: float | None = None,
    load_factor: float,
    trace: Iterable[Evaluation | Looked | Stated],
    unit: str = "N",
    note: str = "",
) -> Check:
    """Judged; where there are reasons, `capacity` is that at the edge of the range and bounds from above only.

    `required` is for a method whose clause leaves a choice.
    """
    required = method.factor.required(load_factor) if required is None else required
    if reasons:
        return method.at_most(reasons, capacity=capacity, demand=demand, required=required, unit=unit, trace=trace)
    return method.judge(capacity=capacity, demand=demand, required=required, unit=unit, trace=trace, note=note)
