"""Groups of bolts, rivets, spots or plugs in a plane: elastic vector method and centre of rotation.

A fastener is a point in the plane x, y; z points out of it.  Units are N, mm and MPa.  The elastic
method spreads a load anywhere in space over the fasteners by their areas; the instantaneous centre
follows part 7 of AISC's Manual with the curve of Crawford and Kulak.

Shares of the load carry the sign of the load: they are what the joined part puts on the fastener.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from jointcalc.errors import InputError
from jointcalc.formula.group_curves import BOLT_FRACTURE
from jointcalc.quantity.sentence import mm
from jointcalc.statics.group_common import Array, Load, Sections, finite, in_plane, sizes
from jointcalc.statics.rotation_centre import Centre, PlaneProblem, Response, Slopes

Rule = Literal["instantaneous centre", "sum of the fasteners"]
"""How a group's capacity was found; a load through the centroid is carried by all fasteners in full."""


@dataclass(frozen=True, slots=True)
class ElasticFasteners:
    """A fastener group under a load by the elastic vector method.

    `force` (n, 3) [N] is each fastener's share, `shear` (n,) [N] its part in the plane, `pull` (n,) [N]
    its part out of the plane (negative: pressed on), `resultant` (n,) [N] the vector sum.  `peak` [N] is
    the highest resultant per relative area, `peak_fastener` the fastener (from 0), `peak_at` [mm] its place.
    """

    force: Array
    shear: Array
    pull: Array
    resultant: Array
    peak: float
    peak_at: tuple[float, float]
    peak_fastener: int

    def utilisation(self, strength: float | Array) -> Array:
        """Resultant over the strength [N]: one for all fasteners, or one each (n,)."""
        return np.asarray(self.resultant / sizes(strength, len(self.resultant), "strength"), dtype=np.float64)


@dataclass(frozen=True, slots=True)
class UltimateFasteners:
    """A fastener group at its capacity under a load in its plane.

    `factor` times the load is the nominal capacity, found by `rule`; `coefficient` is C, the capacity
    over the strength of one fastener, as tables print it (None when the strengths differ or the load is a
    moment).  `centre` holds forces and deformations at the first fracture.
    """

    factor: float
    coefficient: float | None
    rule: Rule
    centre: Centre


@dataclass(frozen=True, slots=True)
class FastenerGroup:
    """Fasteners in a plane: `points` (n, 2) [mm], `area` (n,) [mm²] or relative sizes."""

    points: Array
    area: Array

    @classmethod
    def of(
        cls,
        points: Sequence[Sequence[float]] | Array,
        *,
        area: float | Sequence[float] | Array = 1.0,
    ) -> FastenerGroup:
        """A group from its points, and an area for all or one each.

        Raises InputError for no points, two at one place, and areas that are not positive.
        """
        table = np.array(points, dtype=np.float64, ndmin=2)
        if table.size == 0 or table.shape[1] != 2:
            raise InputError("a fastener group needs holes, each as x y; for example 0 0 mm", field="hole")
        finite(table.ravel(), "hole")
        extent = float(np.ptp(table, axis=0).max()) or 1.0
        seen: dict[tuple[float, ...], int] = {}
        for i, place in enumerate(np.round(table / (1e-9 * extent))):
            key = tuple(float(v) for v in place)
            if key in seen:
                raise InputError(
                    f"holes {seen[key] + 1} and {i + 1} are at one place, "
                    f"{mm(table[i, 0], ', ', table[i, 1]):g}; leave one out",
                    field="hole",
                )
            seen[key] = i
        return cls(table, sizes(area, len(table), "area"))

    def sections(self) -> Sections:
        """Total area, centroid and second moments of the points."""
        A = float(self.area.sum())
        x, y = (float(v) for v in self.area @ self.points / A)
        dx, dy = self.points[:, 0] - x, self.points[:, 1] - y
        return Sections(
            A=A,
            x=x,
            y=y,
            I_x=float(self.area @ dy**2),
            I_y=float(self.area @ dx**2),
            I_xy=float(self.area @ (dx * dy)),
        )

    def elastic(self, load: Load) -> ElasticFasteners:
        """Elastic vector method for a load anywhere in space.

        A moment that lifts the joint turns it about the centroid of the fasteners (no contact pressure is
        counted).  Raises NoStiffnessError when a moment of the load has no arm in the group.  Source:
        Shigley, section 8-12; out of the plane the same with the full tensor of second moments.
        """
        centre = self.sections()
        field = centre.stress(load, what="the fastener group")
        x, y = self.points[:, 0] - centre.x, self.points[:, 1] - centre.y
        stress = field @ np.stack((np.ones_like(x), x, y))
        force = (stress * self.area).T
        highest = int(np.argmax((stress**2).sum(axis=0)))
        resultant = np.sqrt((force**2).sum(axis=1))
        return ElasticFasteners(
            force=force,
            shear=np.hypot(force[:, 0], force[:, 1]),
            pull=force[:, 2].copy(),
            resultant=resultant,
            peak=float(resultant[highest]),
            peak_at=(float(self.points[highest, 0]), float(self.points[highest, 1])),
            peak_fastener=highest,
        )

    def problem(
        self, load: Load, R_ult: float | Sequence[float] | Array, *, fracture: float = BOLT_FRACTURE
    ) -> PlaneProblem:
        """The search for the centre of rotation under the part of `load` in the plane.

        `R_ult` [N] is the strength of a fastener, one for all or one each, `fracture` [mm] the
        deformation at which one breaks; only its ratio to the published 0.34 in matters.
        """
        strength = sizes(R_ult, len(self.points), "R_ult")
        curve = _BoltCurve(strength, fracture)
        return PlaneProblem(self.points, strength, curve, load, what="the fastener group")

    def ultimate(
        self, load: Load, R_ult: float | Sequence[float] | Array, *, fracture: float = BOLT_FRACTURE
    ) -> UltimateFasteners:
        """Capacity under a load in the plane by the instantaneous centre.

        Through the centroid every fastener carries its `R_ult` [N].  Raises InputError for a load out of
        the plane (use the elastic method) and NoStiffnessError when a moment has no arm.
        """
        in_plane(load)
        strength = sizes(R_ult, len(self.points), "R_ult")
        centre = self.problem(load, strength, fracture=fracture).solve()
        size = math.hypot(load.F_x, load.F_y)
        factor = centre.factor
        rule: Rule = "instantaneous centre"
        if centre.kind == "concentric":
            factor, rule = float(strength.sum()) / size, "sum of the fasteners"
        uniform = float(np.ptp(strength)) <= 1e-12 * float(strength.max())
        coefficient = factor * size / float(strength[0]) if uniform and centre.kind != "pure moment" else None
        return UltimateFasteners(factor=factor, coefficient=coefficient, rule=rule, centre=centre)


class _BoltCurve:
    """Crawford and Kulak's curve for fasteners of `strength` (n,) [N] that break at `fracture` [mm]."""

    exponent = 0.55

    def __init__(self, strength: Array, fracture: float) -> None:
        self.strength = strength
        self.fracture = fracture

    def respond(self, u_x: Array, u_y: Array, reach: Array) -> Response:
        critical = int(reach.argmax())
        scale = self.fracture / float(reach[critical])
        deformation = scale * reach
        # expm1 where the formula `bolt_resistance` has 1 - exp: a bolt at the centre hardly moves
        grown = -np.expm1(-10.0 * (deformation / 25.4))
        return Response(scale, critical, deformation, self.strength * grown**0.55, (grown,))

    def slopes(self, response: Response) -> Slopes:
        (grown,) = response.memo
        rate = 0.55 * (1.0 - grown) / grown * (10.0 / 25.4)
        return Slopes(response.resistance * rate, np.zeros_like(grown), 0.0)
