"""The centre about which a group of welds or fasteners turns under a load in its plane.

The instantaneous-centre method in one picture.  Joined parts turn against each other about a centre;
an element at distance r from it deforms by an amount proportional to r, resists along its own
movement with a force read from a load-deformation curve, and the movement grows until the first
element breaks.  The centre is wanted for which the resistances balance the load.

How it is found here.  The movement is q = (u_x, u_y, ω·L), taken as a direction in three dimensions,
so that pure translation (centre at infinity) is an ordinary point and not a limit.  The resultant of
the resistances is Φ(q) = (F_x, F_y, M/L).  Each element resists along its movement, so that:

* Φ(q) = K(q)·q with the symmetric positive definite secant stiffness K, and Φ(q)·q > 0: resistances
  always do positive work.  A centre is sought with Φ(q) = λ·P, λ > 0; on the rim q·P = 0 of the half
  sphere q·P > 0 the part of Φ across P points outward, so by Brouwer's theorem there is always a
  centre inside, for every group and every load, and none elsewhere with λ > 0.
* With lengths divided by the radius of gyration, P itself is the elastic movement.  From there one step
  of q ← K(q)⁻¹·P (which only descends where the curve is the gradient of a convex energy, as the bolt's
  is) and Newton's method with the exact derivative need seven evaluations for most groups.  Movements
  at which a root finder merely slows down, far-away centres among them, are not solutions; the residual
  |Φ/|Φ| - P| is relative and must fall to 1e-10, so they cannot be mistaken for one.
* A fillet softens before it breaks (p > 1.06), so a group under a nearly concentric load can have more
  than one centre, and Newton's method can run into a fold.  Then it is started again from movements
  turned to the side of the moment, and at last the zeros of (1 - t)·(q across P) + t·Φ across P are
  followed by arc length from t = 0 to 1; the path cannot leave the half sphere, so it arrives.
* A curve starts with infinite slope (Δ^0.3 for welds, Δ^0.55 for bolts), so an element at the centre
  itself would stop Newton's method.  The movement is therefore given at the element nearest to the
  centre, and the step is taken in the force of that element instead of in its movement.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal, Protocol

import numpy as np

from jointcalc.statics.group_common import COLLINEAR, EXACT, Array, Load, no_spin

TOLERANCE = 1e-10
"""Residual that counts as balance: |Φ/|Φ| - P| in the scaled space of forces and moment."""
_AIM = 1e-13
_TINY = 1e-290
_NEAR = 0.1  # radii of gyration within which the step is taken in the force of an element
_TILTS = ((1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0))


@dataclass(slots=True)
class Response:
    """Answer of all elements to one movement, grown until the first of them breaks.

    `scale` is the growth of the movement at the first fracture, `critical` the element that breaks;
    `deformation` (n,) [mm] and `resistance` (n,) [N] are those of the elements.  `memo` keeps what the
    curve needs again for its slopes.
    """

    scale: float
    critical: int
    deformation: Array
    resistance: Array
    memo: tuple[Array, ...] = ()


@dataclass(slots=True)
class Slopes:
    """Derivatives of a response, by deformation and by the direction φ of each element's movement.

    `by_deformation` (n,) is dR/dΔ [N/mm], `by_direction` (n,) is dR/dφ [N/rad], and
    `limit_by_direction` is d ln Δ_u/dφ [1/rad] of the critical element.
    """

    by_deformation: Array
    by_direction: Array
    limit_by_direction: float


class Curve(Protocol):
    """A load-deformation curve for every element of a group."""

    exponent: float
    """Power of the deformation with which a resistance starts."""

    def respond(self, u_x: Array, u_y: Array, reach: Array) -> Response:
        """Response to the movement (u_x, u_y) (n,) of size `reach` (n,), known up to a common factor."""
        ...

    def slopes(self, response: Response) -> Slopes:
        """Derivatives at that response."""
        ...


Kind = Literal["eccentric", "concentric", "pure moment"]


@dataclass(frozen=True, slots=True)
class Centre:
    """A group at the first fracture under a load in its plane.

    `factor` times the load is the capacity.  `kind` names the load: `concentric` passes through the
    centroid, `pure moment` has no force.  `centre` [mm] is the instantaneous centre, None when the
    group only shifts (centre at infinity).  `force` (n, 2) [N] is each element's share of the load at
    the first fracture, `deformation` (n,) [mm], `critical` the element that breaks.  `residual` is
    |Φ/|Φ| - P|, `iterations` the steps taken and `evaluations` the residual evaluations used.
    """

    factor: float
    kind: Kind
    centre: tuple[float, float] | None
    force: Array
    deformation: Array
    critical: int
    iterations: int
    evaluations: int
    residual: float


class Movement:
    """One movement of a group, given at the element `ref` (-1: the centroid), and what resists it.

    `q` (3,) is (u_x, u_y, ω·L) of length one, `across` (3,) the part of the resultant `phi` across the
    load, `residual` its share of the resultant (2 when the resultant opposes the load).
    """

    __slots__ = (
        "E", "X", "Y", "across", "load", "phi", "q", "reach", "ref", "residual", "response",
        "u_x", "u_y",
    )  # fmt: skip

    def __init__(
        self, curve: Curve, q: Array, ref: int, X: Array, Y: Array, load: Array, known: Response | None = None
    ) -> None:
        self.q, self.ref, self.X, self.Y, self.load = q, ref, X, Y, load
        self.u_x = q[0] - q[2] * Y
        self.u_y = q[1] + q[2] * X
        self.reach = np.maximum(np.sqrt(self.u_x**2 + self.u_y**2), _TINY)
        self.response = known if known is not None else curve.respond(self.u_x, self.u_y, self.reach)
        e_x, e_y = self.u_x / self.reach, self.u_y / self.reach
        # rows: what a unit force along each element's movement adds to F_x, F_y and M
        self.E: Array = np.stack((e_x, e_y, X * e_y - Y * e_x))
        self.phi: Array = self.E @ self.response.resistance
        self.across: Array = self.phi - load * float(load @ self.phi)
        size = math.sqrt(float(self.phi @ self.phi))
        ahead = float(load @ self.phi) > 0.0
        self.residual = math.sqrt(float(self.across @ self.across)) / size if ahead else 2.0

    def sideways(self) -> Array:
        """Rows like those of E for a unit force across each element's movement, to its left."""
        e_x, e_y = self.E[0], self.E[1]
        return np.stack((-e_y, e_x, self.X * e_x + self.Y * e_y))


class PlaneProblem:
    """A group and a load in its plane, made ready: lengths from the centroid, in radii of gyration.

    `points` (n, 2) [mm] are the elements, `strength` (n,) [N] their weights in the centroid, `curve`
    their load-deformation curve; F_x, F_y [N] and M_z [N·mm] at the origin are the load.  Raises
    NoStiffnessError when all elements are at one point and the load passes by it.
    """

    def __init__(self, points: Array, strength: Array, curve: Curve, load: Load, *, what: str) -> None:
        self.curve = curve
        total = float(strength.sum())
        self.origin: Array = strength @ points / total
        offset = points - self.origin
        self.length = math.sqrt(float((strength @ (offset**2)).sum()) / total)
        here = load.about(float(self.origin[0]), float(self.origin[1]))
        force = math.hypot(here.F_x, here.F_y)
        arm = self.length or float(np.abs(points).max())
        if abs(here.M_z) <= EXACT * force * arm:
            self.kind: Kind = "concentric"
        elif force * arm <= EXACT * abs(here.M_z):
            self.kind = "pure moment"
        else:
            self.kind = "eccentric"
        if self.length <= COLLINEAR * float(np.abs(points).max()):
            if self.kind != "concentric":
                raise no_spin(what)
            self.length = 1.0
        self.points: Array = np.asfortranarray(offset / self.length)
        vector = np.array([here.F_x, here.F_y, here.M_z / self.length])
        self.load_size = float(np.linalg.norm(vector))
        self.load: Array = vector / self.load_size
        self.evaluations = 0
        self.iterations = 0

    # The movement under elastic behaviour is P itself: in radii of gyration all stiffnesses are equal.

    def movement(self, q: Array, ref: int = -1, like: Movement | None = None) -> Movement:
        """Evaluate the movement `q` at `ref`; `like` lends its coordinates when it has the same `ref`."""
        self.evaluations += 1
        q = q / math.sqrt(float(q @ q))
        if like is not None and like.ref == ref:
            return Movement(self.curve, q, ref, like.X, like.Y, like.load)
        return self._given_at(q, ref)

    def _given_at(self, q: Array, ref: int, known: Response | None = None) -> Movement:
        if ref < 0:
            return Movement(self.curve, q, ref, self.points[:, 0], self.points[:, 1], self.load)
        a, b = self.points[ref]
        X, Y = self.points[:, 0] - a, self.points[:, 1] - b
        same = np.abs(X) + np.abs(Y) < COLLINEAR  # crossing welds: one place, to the last digit
        X[same] = 0.0
        Y[same] = 0.0
        load = self.load.copy()
        load[2] += b * load[0] - a * load[1]
        return Movement(self.curve, q, ref, X, Y, load / math.sqrt(float(load @ load)), known)

    def solve(self) -> Centre:
        """The centre of rotation at the first fracture.

        Raises ArithmeticError if no centre balances the load to 1e-10; none of 10,000 random groups does.
        """
        start = self.movement(self.load)
        found = self._polished(self.movement(self._secant(start), like=start))
        if found.residual > TOLERANCE:
            found = self._again(found)
        if found.residual > TOLERANCE:
            found = self._followed(found)
        if found.residual > TOLERANCE:
            raise ArithmeticError(f"no centre of rotation balances the load (residual {found.residual:.1e})")
        return self._centre(found)

    def _centre(self, found: Movement) -> Centre:
        response = found.response
        force = (found.E[:2] * response.resistance).T.copy()
        moment = float(self.points[:, 0] @ force[:, 1] - self.points[:, 1] @ force[:, 0])
        total = np.array([force[:, 0].sum(), force[:, 1].sum(), moment])
        along = float(total @ self.load)
        residual = float(np.linalg.norm(total - along * self.load) / np.linalg.norm(total))
        centre = None
        if abs(found.q[2]) > EXACT:
            base = self.points[found.ref] if found.ref >= 0 else np.zeros(2)
            spot = base + np.array([-found.q[1], found.q[0]]) / found.q[2]
            centre = (
                float(spot[0] * self.length + self.origin[0]),
                float(spot[1] * self.length + self.origin[1]),
            )
        return Centre(
            factor=along / self.load_size,
            kind=self.kind,
            centre=centre,
            force=force,
            deformation=response.deformation,
            critical=response.critical,
            iterations=self.iterations,
            evaluations=self.evaluations,
            residual=residual,
        )

    def _secant(self, at: Movement) -> Array:
        """K(q)⁻¹·P: the movement under the load with the present secant stiffness."""
        stiffness = at.response.resistance / at.reach
        N = at.sideways()
        return _solve((at.E * stiffness) @ at.E.T + (N * stiffness) @ N.T, at.load)

    def _slope(self, at: Movement) -> Array:
        """dΦ/dq (3, 3), the growth to the first fracture included."""
        response = at.response
        slopes = self.curve.slopes(response)
        N = at.sideways()
        along = at.E * (slopes.by_deformation * response.scale)
        across = at.E * (slopes.by_direction / at.reach) + N * (response.resistance / at.reach)
        k = response.critical
        growth = (slopes.limit_by_direction * N[:, k] - at.E[:, k]) / at.reach[k]
        slope: Array = along @ at.E.T + across @ N.T
        slope += np.outer(at.E @ (slopes.by_deformation * response.deformation), growth)
        return slope

    def _step(self, at: Movement) -> Array:
        """Newton step of the movement; the fourth unknown is the load that the moved group balances."""
        system = np.zeros((4, 4))
        system[:3, :3] = self._slope(at)
        system[:3, 3] = -at.load * math.sqrt(float(at.phi @ at.phi))
        # the size of q is free: hold the rotation when the centre is near, else the length of q
        system[3, :3] = (0.0, 0.0, 1.0) if abs(at.q[2]) > 0.5 else at.q
        return _solve(system, np.append(-at.across, 0.0))[:3]

    def _nearest(self, at: Movement) -> Movement:
        """The same movement given at the element nearest to the centre, if that one is near it."""
        ref = int(at.reach.argmin())
        if ref == at.ref or at.reach[ref] > _NEAR * abs(at.q[2]):
            return at
        return self._given_at(np.array([at.u_x[ref], at.u_y[ref], at.q[2]]), ref, at.response)

    def _polished(self, at: Movement, most: int = 40) -> Movement:
        """Newton's method from `at`; stops where neither it nor the secant step comes nearer."""
        at = self._nearest(at)
        for _ in range(most):
            if at.residual <= _AIM:
                break
            self.iterations += 1
            step = self._step(at)
            nearer = None
            for share in (1.0, 0.3, 0.09, 0.027):
                trial = self.movement(_moved(at, step, share, self.curve.exponent), at.ref, at)
                if trial.residual < at.residual * (1.0 - 1e-3 * share):
                    nearer = trial
                    break
                if at.residual < 0.1 * TOLERANCE:
                    return at
            if nearer is None:
                trial = self.movement(self._secant(at), at.ref, at)
                if trial.residual > 0.9 * at.residual:
                    return at
                nearer = trial
            at = self._nearest(nearer)
        return at

    def _again(self, best: Movement) -> Movement:
        """Newton's method from movements turned out of the elastic one, first to the side of the moment."""
        side = 1.0 if self.load[2] >= 0.0 else -1.0
        spin = np.array([0.0, 0.0, side]) - self.load * (self.load[2] * side)
        if float(spin @ spin) < 1e-6:
            spin = np.array([1.0, 0.0, 0.0])
        spin = spin / math.sqrt(float(spin @ spin))
        shift = np.cross(self.load, spin)
        for a, b in _TILTS:
            trial = self._polished(self.movement(self.load + 0.4 * (a * spin + b * shift)), most=12)
            best = min(best, trial, key=lambda m: m.residual)
            if best.residual <= TOLERANCE:
                break
        return best

    def _followed(self, best: Movement) -> Movement:
        """Follow the zeros of (1 - t)·y + t·g(y) by arc length from y = 0, t = 0 until a centre is found.

        y (2,) is the part of q across P, g (2,) that of Φ over the total strength.
        """
        first = np.array([1.0, 0.0, 0.0]) if abs(self.load[0]) < 0.6 else np.array([0.0, 1.0, 0.0])
        first -= self.load * float(first @ self.load)
        first /= np.linalg.norm(first)
        T = np.stack((first, np.cross(self.load, first)))
        strength = float(np.linalg.norm(self.movement(self.load).phi))

        def value(z: Array) -> tuple[Array, Array, Movement]:
            ahead = math.sqrt(max(1.0 - float(z[:2] @ z[:2]), 1e-12))
            at = self.movement(z[:2] @ T + ahead * self.load)
            g = T @ at.phi / strength
            dq = T.T - np.outer(self.load, z[:2]) / ahead
            slope = np.empty((2, 3))
            slope[:, :2] = (1.0 - z[2]) * np.eye(2) + z[2] * (T @ self._slope(at) @ dq) / strength
            slope[:, 2] = g - z[:2]
            return (1.0 - z[2]) * z[:2] + z[2] * g, slope, at

        z = np.zeros(3)
        _, slope, _ = value(z)
        pace = 0.1
        for _ in range(2000):
            self.iterations += 1
            tangent = np.cross(slope[0], slope[1])  # keeps its sense along the path: det[slope; tangent] > 0
            tangent /= max(float(np.linalg.norm(tangent)), _TINY)
            trial = z + pace * tangent
            for _ in range(5):
                h, slope_there, at = value(trial)
                if float(np.linalg.norm(h)) < 1e-8:
                    break
                trial = trial - _solve(np.vstack((slope_there, tangent)), np.append(h, 0.0))
            close = float(np.linalg.norm(trial - z)) < 2.0 * pace and float(trial[:2] @ trial[:2]) < 1.0
            if float(np.linalg.norm(h)) >= 1e-8 or not close:
                pace *= 0.5
                if pace < 1e-10:
                    break
                continue
            z, slope = trial, slope_there
            if z[2] > 0.9:
                tried = self._polished(at)
                best = min(best, tried, key=lambda m: m.residual)
                if best.residual <= TOLERANCE:
                    break
            pace = min(1.5 * pace, 0.1)
        return best


def _solve(matrix: Array, right: Array) -> Array:
    try:
        return np.asarray(np.linalg.solve(matrix, right), dtype=np.float64)
    except np.linalg.LinAlgError:
        return np.asarray(np.linalg.lstsq(matrix, right, rcond=None)[0], dtype=np.float64)


def _moved(at: Movement, step: Array, share: float, exponent: float) -> Array:
    """The movement after a share of the step, taken in the force of the nearest element if it is near.

    A resistance that starts like Δ^a has a bounded derivative by w = u·|u|^(a - 1), so the step du is
    turned into dw and w is moved instead of u.
    """
    q = at.q
    u = q[:2]
    size = math.hypot(u[0], u[1])
    if at.ref >= 0 and 0.0 < size < 0.5 * abs(q[2]):
        e, du = u / size, step[:2] * (share / size)
        v = e + du + (exponent - 1.0) * e * float(e @ du)
        growth = math.hypot(v[0], v[1])
        if growth < 1e30:
            bent = size * growth ** (1.0 / exponent - 1.0) * v
            if math.hypot(bent[0] - u[0], bent[1] - u[1]) < 0.5 * abs(q[2]):
                return np.array([bent[0], bent[1], q[2] + step[2] * share])
    return q + share * step
