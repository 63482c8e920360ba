"""Groups of fillet welds in a plane: elastic vector method and instantaneous centre of rotation.

A weld is a straight line in the plane x, y with a leg and a throat; z points out of the plane.  Units
are N, mm and MPa.  Properties and stresses come from exact integrals along the lines ("the weld as a
line", Shigley, Mechanical Engineering Design, Tables 9-1 and 9-2); the instantaneous centre follows AISC
360-16 J2.4 with short elements, as its Manual does in part 8.

Shares of the load carry the sign of the load: they are what the joined part puts on the weld.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt

from jointcalc.errors import InputError
from jointcalc.formula.group_curves import (
    concentric_strength,
    deformation_at_fracture,
    deformation_at_maximum,
    deformation_factor,
    direction_factor,
    longitudinal_strength,
)
from jointcalc.quantity.sentence import mm
from jointcalc.statics.group_common import Array, Load, Sections, finite, in_plane, sizes
from jointcalc.statics.rotation_centre import Centre, PlaneProblem, Response, Slopes

ELEMENTS = 400
"""Elements a group is cut into for the instantaneous centre unless the caller says otherwise."""

_LEAST_PER_LINE = 4
_PARALLEL = 1e-6
_DEGREES = 180.0 / math.pi

Rule = Literal["instantaneous centre", "direction factor", "longitudinal and transverse"]
"""How a group's capacity was found: strain compatibility about a centre (J2.4(b), Manual part 8); eq. J2-5
for parallel welds under a concentric load; eqs. J2-10 for welds along and across a concentric load."""


@dataclass(frozen=True, slots=True)
class Stations:
    """Elastic shares of the load at points along the welds; all arrays have the shape (lines, points).

    `x`, `y` [mm] say where, `s` [mm] how far from the start of the line.  `axial`, `normal` and `lift`
    [N/mm] are the shares along the weld, across it in the plane (to its left) and out of the plane;
    `resultant` [N/mm] their vector sum, `stress` [MPa] the resultant over the throat.
    """

    x: Array
    y: Array
    s: Array
    axial: Array
    normal: Array
    lift: Array
    resultant: Array
    stress: Array

    def utilisation(self, strength: float | Array) -> Array:
        """Resultant over the strength [N/mm]: one for all lines, or one per line (lines,)."""
        limit = sizes(strength, len(self.x), "strength")
        return np.asarray(self.resultant / limit[:, None], dtype=np.float64)


@dataclass(frozen=True, slots=True)
class ElasticWelds:
    """A weld group under a load by the elastic vector method.

    `ends` holds the two ends of every line, where each line is stressed most (stresses are linear along
    a line, so their resultant is convex).  `peak` [N/mm] is the resultant at the highest throat stress
    `peak_stress` [MPa], `peak_at` [mm] its place, `peak_line` its line (from 0).
    """

    group: WeldGroup
    field: Array
    ends: Stations
    peak: float
    peak_stress: float
    peak_at: tuple[float, float]
    peak_line: int

    def along(self, points: int = 21) -> Stations:
        """Shares at `points` evenly spaced points of every line, both ends included (at least 2)."""
        return self.group.stations(self.field, np.linspace(0.0, 1.0, max(points, 2)))


@dataclass(frozen=True, slots=True)
class WeldElements:
    """A group cut into short elements, n of them.

    `points` (n, 2) [mm] are their middles, `axis` (n, 2) their unit axes, `length`, `leg` and `throat`
    (n,) their sizes [mm], `line` (n,) the line each belongs to (from 0).
    """

    points: Array
    axis: Array
    length: Array
    leg: Array
    throat: Array
    line: npt.NDArray[np.int64]

    def problem(self, load: Load, F_EXX: float) -> PlaneProblem:
        """The search for the centre of rotation under the part of `load` in the plane."""
        base = longitudinal_strength(F_EXX=F_EXX, t_e=self.throat, l=self.length)
        curve = _FilletCurve(self.axis, self.leg, base)
        return PlaneProblem(self.points, base, curve, load, what="the weld group")


@dataclass(frozen=True, slots=True)
class UltimateWelds:
    """A weld group at its capacity under a load in its plane.

    `factor` times the load is the nominal capacity, found by `rule`; where a concentric load has a rule
    of its own, `centre.factor` still says what strain compatibility gives.  `elements` and `centre` hold
    forces and deformations at the first fracture, element by element.
    """

    factor: float
    rule: Rule
    centre: Centre
    elements: WeldElements

    def axial(self) -> Array:
        """Share of each element along its axis at the first fracture [N/mm] (n,)."""
        along = (self.centre.force * self.elements.axis).sum(axis=1)
        return np.asarray(along / self.elements.length, dtype=np.float64)

    def normal(self) -> Array:
        """Share of each element across its axis, to its left, at the first fracture [N/mm] (n,)."""
        force, axis = self.centre.force, self.elements.axis
        across = axis[:, 0] * force[:, 1] - axis[:, 1] * force[:, 0]
        return np.asarray(across / self.elements.length, dtype=np.float64)

    def utilisation(self) -> Array:
        """Deformation of each element over its deformation at fracture (n,); 1 at the critical one."""
        theta = np.arctan2(np.abs(self.normal()), np.abs(self.axial())) * _DEGREES
        limit = deformation_at_fracture(theta=theta, w=self.elements.leg)
        return np.asarray(self.centre.deformation / limit, dtype=np.float64)


@dataclass(frozen=True, slots=True)
class WeldGroup:
    """Straight fillet welds in a plane: `lines` (n, 4) as x1 y1 x2 y2, `leg` and `throat` (n,), in mm."""

    lines: Array
    leg: Array
    throat: Array

    @classmethod
    def of(
        cls,
        lines: Sequence[Sequence[float]] | Array,
        *,
        leg: float | Sequence[float] | Array | None = None,
        throat: float | Sequence[float] | Array | None = None,
    ) -> WeldGroup:
        """A group from its lines and a leg or a throat, one for all or one per line.

        The throat of a leg is leg/√2, and the other way round (equal legs, flat face).  Raises InputError
        for no lines, a line without length, a line given twice, and sizes that are missing or not positive.
        """
        table = np.array(lines, dtype=np.float64, ndmin=2)
        if table.size == 0 or table.shape[1] != 4:
            raise InputError("a weld group needs lines, each as x1 y1 x2 y2; for example 0 0 100 0 mm", field="line")
        finite(table.ravel(), "line")
        length = np.hypot(table[:, 2] - table[:, 0], table[:, 3] - table[:, 1])
        extent = float(length.max()) or 1.0
        for i in np.flatnonzero(length <= 1e-9 * extent).tolist():
            raise InputError(
                f"weld line {i + 1} has no length: both ends are at {mm(table[i, 0], ', ', table[i, 1]):g}; "
                "give two different ends or leave the line out",
                field="line",
            )
        seen: dict[frozenset[tuple[float, ...]], int] = {}
        for i, (a, b, c, d) in enumerate(np.round(table / (1e-9 * extent)).tolist()):
            both = frozenset({(a, b), (c, d)})
            if both in seen:
                raise InputError(
                    f"weld lines {seen[both] + 1} and {i + 1} are one and the same; leave one out",
                    field="line",
                )
            seen[both] = i
        if leg is not None:
            legs = sizes(leg, len(table), "leg")
            throats = legs / math.sqrt(2.0) if throat is None else sizes(throat, len(table), "throat")
        elif throat is not None:
            throats = sizes(throat, len(table), "throat")
            legs = throats * math.sqrt(2.0)
        else:
            raise InputError("a weld needs its leg or its throat; for example a leg of 5 mm", field="leg")
        return cls(table, legs, throats)

    @property
    def lengths(self) -> Array:
        """Length of each line [mm] (n,)."""
        return np.hypot(self.lines[:, 2] - self.lines[:, 0], self.lines[:, 3] - self.lines[:, 1])

    @property
    def axes(self) -> Array:
        """Unit vector from the start to the end of each line (n, 2)."""
        return np.asarray((self.lines[:, 2:] - self.lines[:, :2]) / self.lengths[:, None], dtype=np.float64)

    def sections(self, *, unit_throat: bool = False) -> Sections:
        """Exact line integrals: A, centroid, second moments, with the throats as widths [mm², mm⁴].

        With `unit_throat` every line has width 1: total length [mm] and A, I_u, J_u of the handbook
        tables [mm³] (Shigley Tables 9-1 and 9-2).
        """
        width = np.ones(len(self.lines)) if unit_throat else self.throat
        area = self.lengths * width
        middle = 0.5 * (self.lines[:, :2] + self.lines[:, 2:])
        half = 0.5 * (self.lines[:, 2:] - self.lines[:, :2])
        A = float(area.sum())
        x, y = (float(v) for v in area @ middle / A)
        dx, dy = middle[:, 0] - x, middle[:, 1] - y
        return Sections(
            A=A,
            x=x,
            y=y,
            I_x=float(area @ (dy**2 + half[:, 1] ** 2 / 3.0)),
            I_y=float(area @ (dx**2 + half[:, 0] ** 2 / 3.0)),
            I_xy=float(area @ (dx * dy + half[:, 0] * half[:, 1] / 3.0)),
        )

    def elastic(self, load: Load) -> ElasticWelds:
        """Elastic vector method for a load anywhere in space: shares linear in x and y about the centroid.

        Raises NoStiffnessError when a moment of the load has no arm in the group.  Source: Shigley,
        section 9-3 and 9-4; out of the plane the same with the full tensor of second moments.
        """
        field = self.sections().stress(load, what="the weld group")
        ends = self.stations(field, np.array([0.0, 1.0]))
        line, end = np.unravel_index(int(np.argmax(ends.stress)), ends.stress.shape)
        return ElasticWelds(
            group=self,
            field=field,
            ends=ends,
            peak=float(ends.resultant[line, end]),
            peak_stress=float(ends.stress[line, end]),
            peak_at=(float(ends.x[line, end]), float(ends.y[line, end])),
            peak_line=int(line),
        )

    def stations(self, field: Array, share: Array) -> Stations:
        """The elastic field (3, 3) of `Sections.stress` at shares (0 to 1) of the length of every line."""
        centre = self.sections()
        delta = self.lines[:, 2:] - self.lines[:, :2]
        x = self.lines[:, :1] + delta[:, :1] * share
        y = self.lines[:, 1:2] + delta[:, 1:] * share
        one = np.stack((np.ones_like(x), x - centre.x, y - centre.y))
        stress = np.tensordot(field, one, axes=1)
        f_x, f_y, f_z = stress * self.throat[None, :, None]
        a_x, a_y = self.axes[:, :1], self.axes[:, 1:]
        resultant = np.sqrt(f_x**2 + f_y**2 + f_z**2)
        return Stations(
            x=x,
            y=y,
            s=self.lengths[:, None] * share,
            axial=a_x * f_x + a_y * f_y,
            normal=a_x * f_y - a_y * f_x,
            lift=f_z,
            resultant=resultant,
            stress=resultant / self.throat[:, None],
        )

    def elements(self, count: int = ELEMENTS, *, per_line: int | None = None) -> WeldElements:
        """The group in about `count` elements by length, at least four to a line, or `per_line` each."""
        length = self.lengths
        if per_line is None:
            number = np.maximum(np.rint(count * length / length.sum()), _LEAST_PER_LINE).astype(np.int64)
        else:
            number = np.full(len(length), max(per_line, 2), dtype=np.int64)
        line = np.repeat(np.arange(len(length)), number)
        place = np.arange(len(line)) - np.repeat(np.cumsum(number) - number, number)
        share = (place + 0.5) / number[line]
        start, delta = self.lines[:, :2], self.lines[:, 2:] - self.lines[:, :2]
        return WeldElements(
            points=start[line] + delta[line] * share[:, None],
            axis=self.axes[line],
            length=length[line] / number[line],
            leg=self.leg[line],
            throat=self.throat[line],
            line=line,
        )

    def ultimate(
        self, load: Load, F_EXX: float, count: int = ELEMENTS, *, per_line: int | None = None
    ) -> UltimateWelds:
        """Capacity under a load in the plane by the instantaneous centre, or by the concentric rules.

        `F_EXX` [MPa] is the strength of the filler.  A load through the centroid has rules of its own in
        AISC 360-16 J2.4 for uniform legs (`Rule`); the Manual's tables print them in the row a = 0.
        Raises InputError for a load out of the plane (use the elastic method) or a strength not positive.
        """
        if not (math.isfinite(F_EXX) and F_EXX > 0.0):
            raise InputError("the strength of the filler must be more than nothing", field="F_EXX")
        in_plane(load)
        cut = self.elements(count, per_line=per_line)
        centre = cut.problem(load, F_EXX).solve()
        factor = centre.factor
        rule: Rule = "instantaneous centre"
        if centre.kind == "concentric" and float(np.ptp(self.leg)) <= 1e-9 * float(self.leg.max()):
            factor, rule = self._concentric(load, F_EXX, factor)
        return UltimateWelds(factor=factor, rule=rule, centre=centre, elements=cut)

    def _concentric(self, load: Load, F_EXX: float, factor: float) -> tuple[float, Rule]:
        size = math.hypot(load.F_x, load.F_y)
        axis = self.axes
        along = np.abs(axis @ np.array([load.F_x, load.F_y])) / size
        across = np.abs(axis[:, 0] * load.F_y - axis[:, 1] * load.F_x) / size
        base = longitudinal_strength(F_EXX=F_EXX, t_e=self.throat, l=self.lengths)
        turned = np.abs(axis[0, 0] * axis[:, 1] - axis[0, 1] * axis[:, 0])
        if np.all(turned <= _PARALLEL):
            theta = math.degrees(math.atan2(float(across[0]), float(along[0])))
            return float(base.sum() * direction_factor(theta=theta)) / size, "direction factor"
        if np.all((across <= _PARALLEL) | (along <= _PARALLEL)):
            longitudinal = float(base[across <= _PARALLEL].sum())
            transverse = float(base[across > _PARALLEL].sum())
            strength = float(concentric_strength(R_nwl=longitudinal, R_nwt=transverse))
            return strength / size, "longitudinal and transverse"
        return factor, "instantaneous centre"


NEARLY_PARALLEL = 0.2
"""Sine of the angle up to which two lines run beside one another; beyond they cross."""
SHARED = 0.01
"""Part of the shorter line that may lie beside the other: corners that a builder has rounded."""


def side_by_side(lines: Iterable[Sequence[float]], room: float) -> tuple[int, int, float] | None:
    """The first two lines that run beside one another within `room` [mm], and for how long; None where there are none.

    Lines that only touch at their ends, or cross, do not.
    """
    table = np.array(list(lines), dtype=np.float64)
    for i in range(len(table) - 1):
        start, rest = table[i, :2], table[i + 1 :]
        length = math.hypot(*(table[i, 2:] - start))
        u = (table[i, 2:] - start) / length
        first, last = rest[:, :2] - start, rest[:, 2:] - start
        along = np.stack((first @ u, last @ u))
        off = np.stack((u[0] * first[:, 1] - u[1] * first[:, 0], u[0] * last[:, 1] - u[1] * last[:, 0]))
        other = np.hypot(*(last - first).T)
        low, high = np.maximum(along.min(axis=0), 0.0), np.minimum(along.max(axis=0), length)
        flat = np.abs(off[1] - off[0]) < NEARLY_PARALLEL * other
        slope = (off[1] - off[0]) / np.where(flat, along[1] - along[0], 1.0)
        gap = np.maximum(*(np.abs(off[0] + slope * (s - along[0])) for s in (low, high)))
        beside = flat & (high - low > SHARED * np.minimum(length, other)) & (gap < room)
        if beside.any():
            j = int(beside.argmax())
            return i, i + 1 + j, float(high[j] - low[j])
    return None


def arc(x: float, y: float, radius: float, start: float = 0.0, end: float = 360.0, *, pieces: int = 180) -> Array:
    """Lines (pieces, 4) for a weld on an arc about (x, y) [mm], from `start` to `end` [deg].

    The corners lie a little outside the arc, so that the length is that of the arc; J of a full circle is
    then low by π²/(3·pieces²) of itself.  Raises InputError for a radius or an angle of nothing.
    """
    if not (radius > 0.0 and end != start and pieces >= 1):
        raise InputError("an arc needs a radius, an angle and at least one piece", field="line")
    angle = np.radians(np.linspace(start, end, pieces + 1))
    half = abs(float(angle[1] - angle[0])) / 2.0
    corner = radius * half / math.sin(half)
    px, py = x + corner * np.cos(angle), y + corner * np.sin(angle)
    return np.column_stack((px[:-1], py[:-1], px[1:], py[1:]))


class _FilletCurve:
    """Lesik and Kennedy's curve for elements with unit axes (n, 2), legs [mm] and strengths along [N]."""

    exponent = 0.3

    def __init__(self, axis: Array, leg: Array, strength: Array) -> None:
        self.a_x, self.a_y = np.ascontiguousarray(axis.T)
        self.leg = leg
        self.strength = strength

    def respond(self, u_x: Array, u_y: Array, reach: Array) -> Response:
        along = self.a_x * u_x + self.a_y * u_y
        across = self.a_x * u_y - self.a_y * u_x
        theta = np.arctan2(np.abs(across), np.abs(along)) * _DEGREES
        limit = deformation_at_fracture(theta=theta, w=self.leg) / reach
        critical = int(limit.argmin())
        scale = float(limit[critical])
        deformation = scale * reach
        p = deformation / deformation_at_maximum(theta=theta, w=self.leg)
        gain = direction_factor(theta=theta)
        resistance = self.strength * gain * deformation_factor(p=p)
        return Response(scale, critical, deformation, resistance, (along, across, theta, p, gain))

    def slopes(self, response: Response) -> Slopes:
        along, across, theta, p, gain = response.memo
        resistance, k = response.resistance, response.critical
        # d ln f/d ln p of [p(1.9 - 0.9p)]^0.3; p falls with Δ_m, which goes like (θ + 2)^-0.32
        by_log = 0.3 * (1.9 - 1.8 * p) / (1.9 - 0.9 * p)
        grow = response.scale / response.deformation
        sine, cosine = np.abs(across) * grow, np.abs(along) * grow
        by_theta = 0.75 * np.sqrt(sine) * cosine / gain + by_log * (0.32 * _DEGREES) / (theta + 2.0)
        sense = np.sign(along * across)
        capped = 1.087 * (theta[k] + 6.0) ** -0.65 >= 0.17
        return Slopes(
            by_deformation=resistance * by_log / response.deformation,
            by_direction=resistance * by_theta * sense,
            limit_by_direction=0.0 if capped else float(-0.65 * _DEGREES / (theta[k] + 6.0) * sense[k]),
        )
