"""Free outline by the corner points of its mid-line."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi
from typing import Annotated, Any, ClassVar

import numpy as np

from jointcalc.errors import InputError
from jointcalc.section.families.family import Family, Letter, in_mm
from jointcalc.section.outline import STEEL_DENSITY, Floats, Number, Outline
from jointcalc.section.properties import Properties
from jointcalc.section.tracer import Role, Tracer


@dataclass(frozen=True, kw_only=True)
class Points(Family):
    """Free outline: corners of the mid-line, each rounded by the inside radius `r`; one candidate only.

    Closed when the last point is the first again.  `ys` and `zs` [mm] are as typed; the section is
    moved so that its lowest face is z = 0.  For effective widths a flat with a free end is an
    outstand and any other is held at both ends; a level flat whose only far support is a free-ended
    flat counts as an outstand too, because the stiffness of that lip is not judged.
    """

    kind: ClassVar[str] = "points"
    summary: ClassVar[str] = "free outline by the corner points of its mid-line"
    example: ClassVar[str] = "points:at=0 30/0 0/40 0/40 30 mm,t=1.2mm,r=2mm"

    ys: tuple[float, ...] = ()
    zs: tuple[float, ...] = ()
    t: Annotated[Number, Letter("sheet thickness", thickness=True)]
    r: Annotated[Number | None, Letter("inside bend radius, one thickness if left out", zero=True)] = None

    @classmethod
    def required(cls) -> tuple[str, ...]:
        """Letters that must be given; `at` stands for the points."""
        return ("at", "t")

    @property
    def batch(self) -> int:
        """A free outline is one candidate."""
        return 1

    def text(self, column: int = 0) -> str:
        """The profile in the form a builder writes."""
        at = "/".join(f"{y:.6g} {z:.6g}" for y, z in zip(self.ys, self.zs, strict=True))
        t, r = (in_mm(value, column).replace(" ", "") for value in (self.t, self.radius))
        return f"points:at={at} mm,t={t},r={r}"

    def take(self, columns: Any) -> Family:
        """A free outline is one candidate."""
        return self

    @property
    def _is_closed(self) -> bool:
        return len(self.ys) > 2 and np.hypot(self.ys[0] - self.ys[-1], self.zs[0] - self.zs[-1]) < 1e-9

    def _corners(self) -> tuple[Floats, Floats, Floats, Floats]:
        """(corner points, direction of each side, length of each side, turn at each inner corner)."""
        points = np.column_stack([self.ys, self.zs]).astype(float)
        sides = np.diff(points, axis=0)
        length = np.hypot(sides[:, 0], sides[:, 1])
        heading = np.arctan2(sides[:, 1], sides[:, 0])
        following = np.roll(heading, -1) if self._is_closed else heading[1:]
        turn = (following - heading[: len(following)] + pi) % (2 * pi) - pi
        return points, heading, length, turn

    def trace(self, *, sharp: bool = False, density: Number = STEEL_DENSITY) -> Tracer:
        """From the first point to the last."""
        tracer = Tracer(sharp=sharp)
        points, heading, length, turn = self._corners()
        t, closed = self.t, self._is_closed
        cut = (self.radius + t / 2) * np.tan(np.abs(turn) / 2)
        n = len(length)
        before = np.concatenate([[cut[-1] if closed else 0.0], cut[: n - 1]])
        after = cut if closed else np.concatenate([cut, [0.0]])
        offset = 0.0 if sharp else before[0]
        start = points[0] + offset * np.array([np.cos(heading[0]), np.sin(heading[0])])
        tracer.start(float(start[0]), float(start[1]), float(heading[0]), t=t, density=density)
        for k in range(n):
            flat = float(length[k] - before[k] - after[k])
            role, free_end = self._role(k, n, closed, heading)
            last_sharp = closed and k == n - 1 and (sharp or cut[-1] == 0)
            tracer.go(
                flat,
                f"side {k + 1}",
                "at",
                role=role,
                free_end=free_end,
                corners=float(before[k] + after[k]),
                close=0 if last_sharp else None,
            )
            if k < len(turn):
                angle = float(turn[k])
                if cut[k] > 0:
                    tracer.bend(angle, self.radius, f"bend {k + 1}", close=0 if closed and k == n - 1 else None)
                else:
                    tracer.turn(angle)
        low = _lowest(tracer.outline())
        tracer.nodes = [(y, z - low) for y, z in tracer.nodes]
        return tracer

    def _role(self, k: int, n: int, closed: bool, heading: Floats) -> tuple[Role, str]:
        if closed:
            return "internal", ""
        if n == 1:
            return "none", ""
        if k in (0, n - 1):
            return "outstand", "start" if k == 0 else "end"
        level = abs(np.cos(heading[k])) > abs(np.sin(heading[k]))
        if level and k == 1 and n > 3:
            return "outstand", "start"
        if level and k == n - 2 and n > 3:
            return "outstand", "end"
        return "internal", ""

    def check(self) -> None:
        """Raises InputError in builder's terms."""
        if len(self.ys) < 2:
            raise InputError("points: at least two points are needed, such as 'at=0 0/40 0/40 30 mm'", field="at")
        if not (np.isfinite(self.ys).all() and np.isfinite(self.zs).all()):
            raise InputError("points: every coordinate must be a finite length", field="at")
        _, _, length, turn = self._corners()
        for k in np.flatnonzero(length < 1e-9):
            raise InputError(f"points: points {k + 1} and {k + 2} are the same; leave one out", field="at")
        for k in np.flatnonzero(np.abs(turn) > pi - 1e-6):
            raise InputError(
                f"points: the outline folds back on itself at point {k + 2}; "
                "a hem lies double and needs two points a thickness apart",
                field="at",
            )
        super().check()


def _lowest(outline: Outline) -> float:
    return float(Properties(outline).z_bottom[0])
