"""What weld groups and fastener groups share: loads, stiffness checks and elastic stresses."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from jointcalc.errors import InputError

Array = npt.NDArray[np.float64]
EXACT = 1e-9
COLLINEAR = 1e-12


class NoStiffnessError(InputError):
    """The group cannot resist a part of the load; `direction` names it."""

    def __init__(self, direction: str, message: str, *, field: str = "", where: str = "") -> None:
        super().__init__(message, field=field, where=where)
        self.direction = direction

    def at(self, *, field: str = "", where: str = "") -> NoStiffnessError:
        """The same fault with its place filled in."""
        return NoStiffnessError(self.direction, self.message, field=self.field or field, where=self.where or where)

    def __reduce__(self) -> tuple[object, ...]:
        return (_again_named, (self.direction, self.message, self.field, self.where))


def _again_named(direction: str, message: str, field: str, where: str) -> NoStiffnessError:
    return NoStiffnessError(direction, message, field=field, where=where)


@dataclass(frozen=True, slots=True)
class Load:
    """A force [N] and a moment [N·mm] at the origin of the group's axes; x, y in its plane, z out of it."""

    F_x: float = 0.0
    F_y: float = 0.0
    F_z: float = 0.0
    M_x: float = 0.0
    M_y: float = 0.0
    M_z: float = 0.0

    @classmethod
    def at(
        cls,
        force: tuple[float, float, float] = (0.0, 0.0, 0.0),
        point: tuple[float, float, float] | None = None,
        moment: tuple[float, float, float] = (0.0, 0.0, 0.0),
    ) -> Load:
        """The force [N] acting at `point` [mm], with a free moment [N·mm] added.

        Raises InputError for a force without a point of action, for no load at all, and for values
        that are not finite.
        """
        finite(np.array([*force, *(point or ()), *moment], dtype=np.float64), "load")
        if any(force) and point is None:
            raise InputError(
                "a force needs the point it acts at, because its arm loads the group too; "
                "give the point as x y z in the axes of the group, for example 150 0 0 mm",
                field="at",
            )
        if not any(force) and not any(moment):
            raise InputError("the load is nothing; give a force with its point of action, or a moment", field="force")
        f_x, f_y, f_z = (float(v) for v in force)
        x, y, z = (float(v) for v in point) if point is not None else (0.0, 0.0, 0.0)
        return cls(
            f_x,
            f_y,
            f_z,
            float(moment[0]) + y * f_z - z * f_y,
            float(moment[1]) + z * f_x - x * f_z,
            float(moment[2]) + x * f_y - y * f_x,
        )

    def about(self, x: float, y: float) -> Load:
        """The same load with its moment taken about (x, y, 0) [mm]."""
        return Load(
            self.F_x,
            self.F_y,
            self.F_z,
            self.M_x - y * self.F_z,
            self.M_y + x * self.F_z,
            self.M_z - x * self.F_y + y * self.F_x,
        )


@dataclass(frozen=True, slots=True)
class Sections:
    """Moments of a set of points or lines: size A, centroid, second moments about the centroid.

    For lines with their throats: A [mm²], I [mm⁴]; with unit throats [mm], [mm³]; for points with
    areas [mm²], [mm⁴].  `I_x` is the moment of y², `I_y` of x², `I_xy` of x·y, `J` = I_x + I_y.
    """

    A: float
    x: float
    y: float
    I_x: float
    I_y: float
    I_xy: float

    @property
    def J(self) -> float:
        """Polar second moment about the centroid."""
        return self.I_x + self.I_y

    def stress(self, load: Load, *, what: str) -> Array:
        """Coefficients (3, 3) of the elastic field: component i at offset (x, y) is c[i] @ (1, x, y).

        The components are the shares of F_x, F_y and F_z per unit of A.  Raises NoStiffnessError when a
        moment of the load has no arm in the group; `what` names the group in the message.
        """
        here = load.about(self.x, self.y)
        inertia = np.array([[self.I_x, -self.I_xy], [-self.I_xy, self.I_y]])
        size, axes = np.linalg.eigh(inertia)
        bending = axes.T @ np.array([here.M_x, here.M_y])
        span = float(np.hypot(self.x, self.y)) + float(np.sqrt(self.J / self.A))
        scale = max(
            span * float(np.linalg.norm([load.F_x, load.F_y, load.F_z])),
            float(np.linalg.norm([load.M_x, load.M_y, load.M_z])),
        )
        arm_lost = COLLINEAR * max(self.A * (self.x**2 + self.y**2), self.J)
        polar = self.J
        turn = np.zeros(2)
        for i in (0, 1):
            if size[i] > arm_lost:
                turn[i] = bending[i] / size[i]
            elif abs(bending[i]) > EXACT * scale:
                raise _no_arm(axes[:, i], point=polar <= arm_lost, what=what)
        spin = 0.0
        if polar > arm_lost:
            spin = here.M_z / polar
        elif abs(here.M_z) > EXACT * scale:
            raise no_spin(what)
        over_x, over_y = axes @ turn
        return np.array(
            [
                [load.F_x / self.A, 0.0, -spin],
                [load.F_y / self.A, spin, 0.0],
                [load.F_z / self.A, -over_y, over_x],
            ]
        )


def no_spin(what: str) -> NoStiffnessError:
    """What is raised when all elements stand at one point and the load turns about it."""
    return NoStiffnessError(
        "moment about z",
        f"{what} cannot resist a moment in its plane: all of it is at one point; "
        "add a weld or a fastener away from it, or bring the force through it",
    )


def _no_arm(axis: Array, *, point: bool, what: str) -> NoStiffnessError:
    if point:
        direction = "moment about x and y"
        because = "all of it is at one point"
    else:
        degrees = float(np.degrees(np.arctan2(axis[1], axis[0]))) % 180.0
        direction = "moment about its own line"
        because = f"all of it is on one line (at {degrees:.4g} degrees to x), about which it has no arm"
    return NoStiffnessError(
        direction,
        f"{what} cannot resist a moment that lifts it out of its plane: {because}; "
        "add a weld or a fastener beside the line, or bring the force into it",
    )


def finite(values: Array, field: str) -> None:
    """Raise InputError unless every value is a finite number."""
    if not np.all(np.isfinite(values)):
        raise InputError("every number must be finite; NaN and infinity are not accepted", field=field)


def sizes(value: float | Sequence[float] | Array, count: int, field: str) -> Array:
    """`value` as one positive number for each of `count`; InputError when it is not that."""
    array = np.atleast_1d(np.asarray(value, dtype=np.float64))
    if len(array) == 1:
        array = np.repeat(array, count)
    if len(array) != count:
        raise InputError(f"give one {field} for all or one for each ({count}), not {len(array)}", field=field)
    finite(array, field)
    if np.any(array <= 0.0):
        raise InputError(f"the {field} must be more than nothing, here it is {float(array.min()):g}", field=field)
    return array


def in_plane(load: Load) -> None:
    """Raise InputError unless the load acts in the plane of the group, to 1e-9 of itself."""
    force, moment = math.hypot(load.F_x, load.F_y), abs(load.M_z)
    bends = max(abs(load.M_x), abs(load.M_y))
    if abs(load.F_z) > EXACT * force or bends > EXACT * (moment + force):
        raise InputError(
            "the instantaneous centre is for loads in the plane of the group; this one pulls it or bends it "
            "out of the plane: use the elastic method",
            field="force",
        )
