"""A rigid thing on its feet: what each foot puts on the structure, in space.

The thing moves as one body, q = (u, θ): three ways and three turns.  Each foot is held at a point by a spring in each
axis, that is, by no moment: a foot is one bolt, or something that only stands.  Rigid feet are equal springs, the rule
of elastic bolt groups; what equilibrium alone settles is exact whatever the springs are.

Feet that only rest press or are free.  They stand in one plane, so that the press is an equation of its own: the
movement of that plane is the minimum of the energy of the feet that press less the work of the load, a convex piecewise
quadratic function of three numbers, found by Newton's method with an exact search along each step.  No such movement
exists where the press runs past the outline of the feet: the thing tips.

Units are N, mm, N·mm; forces are those of the thing on the structure.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot, inf

import numpy as np

from jointcalc.errors import InputError
from jointcalc.quantity.sentence import mm
from jointcalc.statics.group_common import Array, finite

_RANK = 1e-9
"""Part of the largest stiffness below which a movement is held by nothing."""
_EXACT = 1e-9
"""Part of a load that counts as nothing."""
_ROUNDS = 4
"""Steps that take the rounding out of the equilibrium."""
_MOST_STEPS = 500


class MechanismError(InputError):
    """The feet do not hold the thing; `motion` says what moves."""

    def __init__(self, motion: str, message: str, *, field: str = "foot", where: str = "") -> None:
        super().__init__(message, field=field, where=where)
        self.motion = motion

    def at(self, *, field: str = "", where: str = "") -> MechanismError:
        """The same fault with its place filled in."""
        return MechanismError(self.motion, self.message, field=self.field or field, where=self.where or where)

    def __reduce__(self) -> tuple[object, ...]:
        return (_again, (self.motion, self.message, self.field, self.where))


def _again(motion: str, message: str, field: str, where: str) -> MechanismError:
    return MechanismError(motion, message, field=field, where=where)


@dataclass(frozen=True, slots=True)
class Wrench:
    """A force [N] and its moment [N·mm] about the origin of the plan."""

    force: Array
    moment: Array

    @classmethod
    def at(
        cls, force: Sequence[float] | Array, point: Sequence[float] | Array, moment: Sequence[float] = (0.0, 0.0, 0.0)
    ) -> Wrench:
        """A force at a point, with a free moment added."""
        f, p = np.asarray(force, dtype=np.float64), np.asarray(point, dtype=np.float64)
        return cls(f, np.cross(p, f) + np.asarray(moment, dtype=np.float64))

    def __add__(self, other: Wrench) -> Wrench:
        return Wrench(self.force + other.force, self.moment + other.moment)

    def about(self, point: Array) -> Array:
        """The moment about another point [N·mm]."""
        return np.asarray(self.moment - np.cross(point, self.force))


NO_LOAD = Wrench(np.zeros(3), np.zeros(3))


def split(force: Sequence[float], point: Sequence[float], moment: Sequence[float], axis: int) -> tuple[Wrench, Wrench]:
    """A force at its point as what presses along `axis` and what tilts: its part across that, and the free moment."""
    across = np.array(force, dtype=np.float64)
    along = np.zeros(3)
    along[axis], across[axis] = across[axis], 0.0
    return Wrench.at(along, point), Wrench.at(across, point, moment)


@dataclass(frozen=True, slots=True)
class Shared:
    """What each foot gets: `force` (n, 3) [N] on the structure.

    `residual` is the error of the equilibrium, relative to the load; `tips` the multiple of the part of the load along
    the plane of resting feet at which the thing tips (infinite for bolted feet, and where nothing tilts it).
    """

    force: Array
    residual: float
    tips: float = inf


@dataclass(frozen=True, slots=True)
class Feet:
    """The feet of a thing: `points` (n, 3) [mm], `stiffness` (n, 3) [N/mm], or relative where all are alike."""

    points: Array
    stiffness: Array

    @classmethod
    def of(
        cls, points: Sequence[Sequence[float]] | Array, stiffness: Sequence[Sequence[float]] | Array | None = None
    ) -> Feet:
        """Feet from their points, rigid (all alike) or with a stiffness each along x, y and z.

        Raises InputError for no feet, two at one place, and stiffnesses that are negative or all nothing.
        """
        table = np.array(points, dtype=np.float64, ndmin=2)
        if table.size == 0 or table.shape[1] != 3:
            raise InputError("a thing needs feet, each as x y z; for example 0 0 0 mm", field="foot")
        finite(table.ravel(), "foot")
        n = len(table)
        springs = np.ones((n, 3)) if stiffness is None else np.array(stiffness, dtype=np.float64, ndmin=2)
        if len(springs) == 1:
            springs = np.repeat(springs, n, axis=0)
        if springs.shape != (n, 3):
            raise InputError(
                f"give one stiffness for all feet or one for each ({n}), not {len(springs)}", field="stiffness"
            )
        finite(springs.ravel(), "stiffness")
        if np.any(springs < 0) or not springs.any():
            raise InputError(
                "a stiffness is more than nothing along at least one axis, and never less", field="stiffness"
            )
        reach = float(np.ptp(table, axis=0).max()) or 1.0
        for i in range(n):
            near = np.flatnonzero(np.abs(table[:i] - table[i]).max(axis=1, initial=0.0) <= 1e-9 * reach)
            if len(near):
                x, y, z = table[i]
                raise InputError(
                    f"feet {near[0] + 1} and {i + 1} stand at one place, {mm(x, ', ', y, ', ', z):g}; leave one out",
                    field="foot",
                )
        return cls(table, springs)

    # --- bolted ---------------------------------------------------------------------------------------------

    def held(self, load: Wrench) -> Shared:
        """The share of every foot when all feet hold in all directions (bolted), by their springs.

        Raises MechanismError where the load drives a movement that no foot resists.
        """
        middle = self.points.mean(axis=0)
        arms = self.points - middle
        size = float(np.sqrt((arms**2).sum(axis=1).mean())) or 1.0
        G = _movements(arms / size)
        K = self.stiffness / self.stiffness.max()
        w = np.concatenate([load.force, load.about(middle) / size])
        scale = float(np.abs(w).max())
        if scale == 0.0:
            return Shared(np.zeros_like(self.points), 0.0)
        _, kept, ways = np.linalg.svd(G[K > 0])
        rank = int((kept > _RANK * kept[0]).sum())
        free, hold = ways[rank:].T, ways[:rank].T
        driven = free @ (free.T @ w)
        if np.abs(driven).max() > _EXACT * scale:
            raise self._mechanism(driven, middle, size)
        stiff = np.einsum("nij,ni,nik->jk", G, K, G)
        core = hold.T @ stiff @ hold
        force = np.zeros_like(self.points)
        for _ in range(_ROUNDS):  # beside stiff feet a soft one moves far: each round shares out what rounding left
            left = w - np.einsum("nij,ni->j", G, force)
            force = force + K * np.einsum("nij,j->ni", G, hold @ np.linalg.solve(core, hold.T @ left))
        return Shared(force, self.residual(force, load))

    def residual(self, force: Array, load: Wrench) -> float:
        """Error of the equilibrium of these shares, relative to the load and its arms."""
        middle = self.points.mean(axis=0)
        arms = self.points - middle
        size = float(np.abs(arms).max()) or 1.0
        turn = load.about(middle) / size
        missing = np.concatenate([force.sum(axis=0) - load.force, np.cross(arms, force).sum(axis=0) / size - turn])
        scale = max(float(np.abs(load.force).max()), float(np.abs(turn).max()))
        return float(np.abs(missing).max()) / scale if scale > 0 else 0.0

    def _mechanism(self, driven: Array, middle: Array, size: float) -> MechanismError:
        """What moves, in words."""
        slide, turn = driven[:3], driven[3:]
        n = len(self.points)
        if float(np.abs(turn).max()) <= 1e-6 * float(np.abs(slide).max()):
            motion = f"slides along {_along(slide)}"
            return MechanismError(
                motion, f"nothing holds the thing: it {motion}; hold a foot that way, its stiffness there is nothing"
            )
        if n == 1:
            motion = "turns about its only foot"
            return MechanismError(
                motion,
                f"nothing holds the thing: it {motion}, for a foot is one bolt and holds no moment. Give every bolt "
                "as a foot, or bring the load through the foot",
            )
        if self.in_line:
            motion = f"turns about the line through its {n} feet"
            return MechanismError(
                motion,
                f"nothing holds the thing: it {motion}, along {_along(self.points[-1] - self.points[0])}. Put a foot "
                "beside the line, or bring the load into it",
            )
        p = middle + size * np.cross(turn, slide) / float(turn @ turn)
        motion = f"turns about a line along {_along(turn)} through {mm(p[0], ', ', p[1], ', ', p[2]):.4g}"
        return MechanismError(motion, f"nothing holds the thing: it {motion}; hold its feet in more directions")

    @property
    def in_line(self) -> bool:
        """Whether all feet stand in one line (one foot does)."""
        spread = np.linalg.svd(self.points - self.points.mean(axis=0), compute_uv=False)
        return len(spread) < 2 or bool(spread[1] <= _RANK * spread[0])

    # --- resting --------------------------------------------------------------------------------------------

    def rested(self, steady: Wrench, tilting: Wrench, *, axis: int = 2, side: float = 1.0) -> Shared:
        """The press of every foot that only rests on a plane across `axis` (0, 1, 2), which faces to `side` (±1).

        `steady` is what presses (or lifts) along the axis, `tilting` what tilts: the load's part along the plane and
        its free moments (`split`).  Feet that would pull lift and carry nothing.  The part along the plane is not
        shared out here: see `slid`.  Where the thing tips or lifts off there is no equilibrium: the forces are NaN.
        Raises InputError where the feet do not stand in one plane, MechanismError where they stand in one line.
        """
        points, k = self._plane(axis)
        load = steady + tilting
        tips = self.tipping(steady, tilting, axis=axis, side=side)
        press = -side * float(load.force[axis])
        if press < 0 or tips < 1.0 - _EXACT:
            return Shared(np.full_like(self.points, np.nan), 0.0, tips)
        force = np.zeros_like(self.points)
        if press > 0:
            middle = points.mean(axis=0)
            size = float(np.abs(points - middle).max())
            g = np.column_stack([np.ones(len(points)), (points - middle) / size])
            at = self._acts_at(load, axis)
            N = press * _pressing(g, k / k.max(), np.concatenate([[1.0], (at - middle) / size]))
            force[:, axis] = -side * N
        level = self._level(axis)
        turn, across = load.about(level), np.zeros(3)
        turn[axis], across[axis] = 0.0, load.force[axis]
        return Shared(force, self.residual(force, Wrench.at(across, level, [float(v) for v in turn])), tips)

    def tipping(self, steady: Wrench, tilting: Wrench, *, axis: int = 2, side: float = 1.0) -> float:
        """The multiple of `tilting` at which the thing tips, `steady` as it is.

        Nothing where its press alone runs past the feet or lifts it; infinite where nothing tilts it.
        """
        points, _ = self._plane(axis)
        level = self._level(axis)
        turn = np.delete(tilting.about(level), axis)
        press = -side * float(steady.force[axis])
        if press <= 0:
            lifted = (
                press < 0
                or bool(np.abs(turn).max() > 0)
                or bool(np.abs(np.delete(steady.about(level), axis)).max() > 0)
            )
            return 0.0 if lifted else inf
        start = self._acts_at(steady, axis)
        tilt = self._acts_at(Wrench(steady.force, steady.moment + tilting.about(level)), axis) - start
        reach = float(np.ptp(points, axis=0).max())
        least = inf
        corners = _outline(points)
        for a, b in zip(corners, np.roll(corners, -1, axis=0)):
            inward = np.array([-(b - a)[1], (b - a)[0]]) / hypot(*(b - a))
            room, rate = float(inward @ (start - a)), -float(inward @ tilt)
            if room < -_EXACT * reach:
                return 0.0
            if rate > 0:
                least = min(least, max(room, 0.0) / rate)
        return least

    def slid(self, load: Wrench, weights: Array | None = None, *, axis: int = 2) -> Array:
        """Shares (n, 3) [N] of the part of the load along the plane: by the springs, or by `weights` (n,), the presses.

        By the presses every foot is as near to sliding as the next where the load goes through the middle of the
        press: the shares that friction settles into.  Raises MechanismError as `held`.
        """
        K = self.stiffness.copy() if weights is None else np.repeat(np.maximum(weights, 0.0)[:, None], 3, axis=1)
        used = np.flatnonzero(K.any(axis=1))
        force = np.zeros_like(self.points)
        level = self._level(axis)
        flat, turn = load.force.copy(), np.zeros(3)
        flat[axis], turn[axis] = 0.0, load.about(level)[axis]
        if len(used) and (flat.any() or turn.any()):
            force[used] = Feet(self.points[used], K[used]).held(Wrench.at(flat, level, [float(v) for v in turn])).force
            force[:, axis] = 0.0
        return force

    def _plane(self, axis: int) -> tuple[Array, Array]:
        """Points in the plane of resting feet, right-handed about `axis`, and their springs across it."""
        off = float(np.ptp(self.points[:, axis]))
        if off > 1e-6 * max(float(np.ptp(self.points, axis=0).max()), 1.0):
            raise InputError(
                f"feet that only rest stand in one plane, these differ by {mm(off):.4g}: pack them to one level and "
                "give that, or bolt them",
                field="foot",
            )
        if self.in_line:
            n = len(self.points)
            what = "one foot" if n == 1 else f"{n} feet in one line"
            raise MechanismError(
                "tips over", f"a thing that only rests on {what} tips over; it takes three that are not in line"
            )
        k = self.stiffness[:, axis]
        if np.any(k <= 0):
            raise InputError("a foot that rests needs a stiffness across the plane it stands on", field="stiffness")
        return self.points[:, [(axis + 1) % 3, (axis + 2) % 3]], k

    def _level(self, axis: int) -> Array:
        """A point in the plane of the feet."""
        found = np.zeros(3)
        found[axis] = float(self.points[:, axis].mean())
        return found

    def _acts_at(self, load: Wrench, axis: int) -> Array:
        """Where the part of a load along `axis` acts in the plane of the feet, all its moments put into its place."""
        turn = load.about(self._level(axis))
        # a force F_a at (b, c) has the moments M_b = c F_a and M_c = -b F_a
        return np.asarray(np.array([-turn[(axis + 2) % 3], turn[(axis + 1) % 3]]) / load.force[axis])


def _movements(arms: Array) -> Array:
    """(n, 3, 6): the movement of each foot from the thing's three ways and three turns, u + θ x r."""
    n = len(arms)
    G = np.zeros((n, 3, 6))
    G[:, 0, 0] = G[:, 1, 1] = G[:, 2, 2] = 1.0
    x, y, z = arms.T
    G[:, 0, 4], G[:, 0, 5] = z, -y
    G[:, 1, 3], G[:, 1, 5] = -z, x
    G[:, 2, 3], G[:, 2, 4] = y, -x
    return G


def _along(way: Array) -> str:
    """A direction in words: an axis, or its three parts."""
    unit = way / float(np.abs(way).max())
    named = [axis for axis, part in zip("xyz", unit) if abs(part) > 1e-6]
    return named[0] if len(named) == 1 else "(" + ", ".join(f"{part:.2g}" for part in unit) + ")"


def _outline(points: Array) -> Array:
    """Corners of the convex outline of points in a plane, against the clock."""
    order = points[np.lexsort((points[:, 1], points[:, 0]))]

    def half(run: Array) -> list[Array]:
        kept: list[Array] = []
        for p in run:
            while len(kept) > 1 and _turn(kept[-2], kept[-1], p) <= 0:
                kept.pop()
            kept.append(p)
        return kept[:-1]

    return np.array(half(order) + half(order[::-1]))


def _turn(a: Array, b: Array, c: Array) -> float:
    return float((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]))


def _pressing(g: Array, k: Array, w: Array) -> Array:
    """Presses (n,) >= 0 of springs `k` under a plane movement, in balance with `w` (3,): sum of N g = w.

    The minimum of sum(k max(g q, 0)²)/2 - w q over the movement q: Newton's step with the springs that press, and the
    best place along it, which is found exactly, for along a line the energy is a parabola from spring to spring.
    """
    q = np.linalg.solve(np.einsum("n,ni,nj->ij", k, g, g), w)
    for _ in range(_MOST_STEPS):
        v = g @ q
        on = v > 0
        step, free = _step(g[on], k[on], w - (k[on] * v[on]) @ g[on])
        t = _along_step(g, k, v, g @ step, float(w @ step))
        q = q + t * step
        if not free and (not step.any() or np.array_equal(g @ q > 0, on)):
            break
    else:
        raise ArithmeticError("the press of the feet was not found")
    N = np.zeros(len(g))
    for _ in range(_ROUNDS):
        step, _ = _step(g[on], k[on], w - N @ g)
        N[on] += k[on] * (g[on] @ step)
    return np.maximum(N, 0.0)


def _step(g: Array, k: Array, left: Array) -> tuple[Array, bool]:
    """Newton's step (3,) for what is left out of balance, and whether it is a movement that no spring resists."""
    size, axes = np.linalg.eigh(np.einsum("n,ni,nj->ij", k, g, g))
    soft = size <= 1e-13 * float(size[-1])
    parts = axes.T @ left
    if soft.any() and float(np.abs(parts[soft]).max()) > _EXACT:
        return axes[:, soft] @ parts[soft], True
    return axes[:, ~soft] @ (parts[~soft] / size[~soft]), False


def _along_step(g: Array, k: Array, v: Array, dv: Array, work: float) -> float:
    """How far along a step the energy is least: where its slope, a line from spring to spring, is nothing."""
    with np.errstate(divide="ignore", invalid="ignore"):
        meets = np.where(dv != 0, -v / dv, np.inf)
    bounds = np.concatenate([[0.0], np.sort(meets[(meets > 0) & np.isfinite(meets)])])
    for n, t in enumerate(bounds):
        end = bounds[n + 1] if n + 1 < len(bounds) else np.inf
        middle = (t + end) / 2 if np.isfinite(end) else t + 1.0
        on = v + middle * dv > 0
        slope, rise = float(np.sum(k[on] * v[on] * dv[on])) - work, float(np.sum(k[on] * dv[on] ** 2))
        if slope + rise * t >= 0:
            return float(t)
        if rise > 0 and t <= -slope / rise <= end:
            return -slope / rise
    raise ArithmeticError("the press of the feet was not found: no balance along a step")
