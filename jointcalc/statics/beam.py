"""Straight beams of constant stiffness: exact deflection, slope, moment and shear, and frequency.

Euler-Bernoulli theory.  Elements run from support to support; loads inside an element enter through
its exact fixed-end actions and the exact polynomial between breakpoints, so nothing is sampled and a
load close to a support costs no accuracy.  Distributed loads vary linearly, hence the deflection is
piecewise a polynomial of degree five and its extremes are roots of polynomials.

Stiffness and load magnitudes may be arrays: one call then answers for every candidate.  Internally
`EI·w` is a sum of a few fields common to all candidates (one per load group, one per elastic
support), weighted by numbers that differ between them.

Signs: x from the left end; deflection and forces downwards positive; slope and couples clockwise
positive; sagging moment positive; shear positive when the part to the left pushes upwards;
reactions upwards positive, moment reactions clockwise positive.

Units: N, mm, t, s.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import inf, isfinite, pi
from typing import Literal, NamedTuple

import numpy as np
import numpy.typing as npt

from jointcalc.errors import InputError
from jointcalc.formula.beam import (
    FIXED_END_COUPLE_MOMENT_LEFT,
    FIXED_END_COUPLE_MOMENT_RIGHT,
    FIXED_END_COUPLE_REACTION,
    FIXED_END_POINT_MOMENT_LEFT,
    FIXED_END_POINT_MOMENT_RIGHT,
    FIXED_END_POINT_REACTION_LEFT,
    FIXED_END_POINT_REACTION_RIGHT,
    NATURAL_FREQUENCY,
)
from jointcalc.quantity.sentence import mm

Array = npt.NDArray[np.float64]
Number = float | Array

_SNAP = 1e-9
"""Part of the length within which two positions are one; far below what a shop can measure."""


@dataclass(frozen=True, slots=True)
class Support:
    """A support at `at` mm: `vertical` stiffness [N/mm] and `rotation` stiffness [N·mm/rad].

    inf holds, 0 leaves free.  The defaults make a pinned support.
    """

    at: float
    vertical: float = inf
    rotation: float = 0.0


@dataclass(frozen=True, slots=True)
class PointLoad:
    """A force [N, downwards positive] at `at` mm; `force` may be an array over candidates."""

    force: Number
    at: float


@dataclass(frozen=True, slots=True)
class Couple:
    """A couple [N·mm, clockwise positive] at `at` mm; `moment` may be an array over candidates."""

    moment: Number
    at: float


@dataclass(frozen=True, slots=True)
class SpreadLoad:
    """A load per length from `start` to `end` mm, going linearly from `first` to `last` [N/mm, downwards]."""

    first: Number
    last: Number
    start: float
    end: float


Load = PointLoad | Couple | SpreadLoad


@dataclass(frozen=True, slots=True)
class PointMass:
    """A mass [t] carried at `at` mm, without rotational inertia."""

    mass: float
    at: float


class Extreme(NamedTuple):
    """A greatest value and where it is; arrays over candidates when the beam was solved for several."""

    value: Array
    at: Array


class Reaction(NamedTuple):
    """What a support does to the beam: `force` upwards [N], `moment` clockwise [N·mm]."""

    at: float
    force: Array
    moment: Array


Ends = Literal["pinned", "fixed", "cantilever"] | tuple[float, float]


def supports_of(ends: Ends, length: float) -> tuple[Support, ...]:
    """The supports of a single span.

    `ends` is "pinned", "fixed", "cantilever" (held at the left, free at the right) or the two
    rotational stiffnesses [N·mm/rad] of ends that are held vertically.  Raises InputError for any
    other word or a negative stiffness.
    """
    if isinstance(ends, tuple):
        return (Support(0.0, rotation=ends[0]), Support(length, rotation=ends[1]))
    if ends == "pinned":
        return (Support(0.0), Support(length))
    if ends == "fixed":
        return (Support(0.0, rotation=inf), Support(length, rotation=inf))
    if ends == "cantilever":
        return (Support(0.0, rotation=inf),)
    raise InputError(
        f"'{ends}' is not a kind of end; give pinned, fixed, cantilever or two rotational stiffnesses such as "
        "5e7 1e7 N*mm/rad",
        field="ends",
    )


# --- checking what was given -------------------------------------------------------------------------


def _check_length(length: float) -> None:
    if not (isfinite(length) and length > 0):
        raise InputError(f"the beam needs a length greater than zero, got {mm(length):g}", field="span")


def _check_position(at: float, length: float, what: str, field: str) -> None:
    if not isfinite(at) or at < -_SNAP * length or at > length * (1 + _SNAP):
        raise InputError(
            f"{what} at {mm(at):g} is off the beam, which runs from {mm(0, ' to ', length):g}; "
            "move it onto the beam or lengthen the span",
            field=field,
        )


def _check_supports(length: float, supports: Sequence[Support]) -> tuple[Support, ...]:
    """Supports sorted along the beam; refuses what would let the beam fall or turn."""
    for s in supports:
        _check_position(s.at, length, "the support", "support")
        if not (s.vertical >= 0 and s.rotation >= 0):
            raise InputError(
                f"the support at {mm(s.at):g} has a negative stiffness; 0 is free, a larger number is stiffer",
                field="support",
            )
    ordered = tuple(sorted(supports, key=lambda s: s.at))
    for one, two in pairwise(ordered):
        if two.at - one.at <= _SNAP * length:
            raise InputError(f"two supports stand at {mm(one.at):g}; give one, or move them apart", field="support")
    holding = [s for s in ordered if s.vertical > 0]
    if not holding:
        raise InputError("nothing holds the beam up; give it at least one support that takes load", field="support")
    if len(holding) == 1 and not any(s.rotation > 0 for s in ordered):
        raise InputError(
            f"the beam would turn about its only support at {mm(holding[0].at):g}; "
            "add a second support or fix that one against turning",
            field="support",
        )
    return ordered


def _check_loads(length: float, loads: Sequence[Load]) -> None:
    for load in loads:
        if isinstance(load, SpreadLoad):
            _check_position(load.start, length, "the spread load starts", "spread")
            _check_position(load.end, length, "the spread load ends", "spread")
            if not load.end > load.start:
                raise InputError(
                    f"the spread load runs from {mm(load.start, ' to ', load.end):g}; its end must lie to the right of "
                    "its start",
                    field="spread",
                )
            sizes: tuple[Number, ...] = (load.first, load.last)
        elif isinstance(load, PointLoad):
            _check_position(load.at, length, "the point load", "point")
            sizes = (load.force,)
        else:
            _check_position(load.at, length, "the couple", "couple")
            sizes = (load.moment,)
        if not all(np.all(np.isfinite(size)) for size in sizes):
            raise InputError("a load must be a finite number", field="load")


def _check_stiffness(EI: Number) -> Array:
    value = np.asarray(EI, dtype=float)
    if not np.all(np.isfinite(value) & (value > 0)):
        raise InputError("the bending stiffness EI must be greater than zero", field="EI")
    return value


# --- roots of polynomials on an interval -------------------------------------------------------------


def _values(c: Array, s: Array) -> Array:
    """Polynomial with ascending coefficients c (degree first) at s; trailing axes broadcast."""
    total = np.broadcast_to(c[-1], np.broadcast_shapes(c[-1].shape, s.shape)).copy()
    for k in range(len(c) - 2, -1, -1):
        total = total * s + c[k]
    return total


def _derivative(c: Array) -> Array:
    return np.stack([k * c[k] for k in range(1, len(c))]) if len(c) > 1 else np.zeros((1, *c.shape[1:]))


def _bracketed(
    f: Callable[[Array], Array], df: Callable[[Array], Array], low: Array, high: Array, rounds: int = 80
) -> Array:
    """Root of f between low and high, whose values differ in sign: Newton, halved where it leaves the bracket."""
    falling = f(low) > 0
    a, b = np.where(falling, high, low), np.where(falling, low, high)  # f(a) <= 0 <= f(b)
    x = 0.5 * (a + b)
    for turn in range(rounds):
        y = f(x)
        a, b = np.where(y < 0, x, a), np.where(y < 0, b, x)
        with np.errstate(divide="ignore", invalid="ignore"):
            step = x - y / df(x)
        inside = (step > np.minimum(a, b)) & (step < np.maximum(a, b))
        # a step that stays in the bracket but keeps one side for ever is caught by the halving of every fourth round
        new = np.where(inside & (turn % 4 < 3), step, 0.5 * (a + b))
        if np.all((np.abs(new - x) <= 4e-16 * np.maximum(np.abs(x), 1.0)) | (y == 0)):
            return np.where(y == 0, x, new)
        x = np.where(y == 0, x, new)
    return x


def _roots(c: Array) -> Array:
    """Roots inside (0, 1) of polynomials with ascending coefficients c, shape (degree+1, n).

    Returns shape (degree, n); where there are fewer roots the place holds 0, an end of the interval,
    which every caller examines anyway.
    """
    while len(c) > 1 and not np.any(c[-1]):
        c = c[:-1]
    n = c.shape[1]
    if len(c) == 1:
        return np.zeros((0, n))
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        if len(c) == 2:
            found = (-c[0] / c[1])[None]
        elif len(c) == 3:
            q = -0.5 * (c[1] + np.copysign(np.sqrt(c[1] ** 2 - 4 * c[2] * c[0]), c[1]))
            found = np.stack([q / c[2], c[0] / q])
        else:
            turns = np.sort(_roots(_derivative(c)), axis=0)
            edges = np.concatenate([np.zeros((1, n)), turns, np.ones((1, n))])
            low, high = edges[:-1], edges[1:]
            crosses = _values(c[:, None], low) * _values(c[:, None], high) < 0
            d = _derivative(c)
            hit = _bracketed(
                lambda x: _values(c[:, None], x),
                lambda x: _values(d[:, None], x),
                np.where(crosses, low, 0.0),
                np.where(crosses, high, 0.0),
            )
            found = np.where(crosses, hit, 0.0)
        return np.where((found > 0) & (found < 1), found, 0.0)


# --- the load groups -------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Unit:
    """One load of unit-free shape inside the beam: a force, a couple, or a linearly varying spread."""

    kind: Literal["force", "couple", "spread"]
    start: float
    end: float
    first: float
    last: float


def _groups(loads: Sequence[Load]) -> tuple[list[list[_Unit]], list[Array]]:
    """Load groups and their amplitudes: all plain numbers in one group, each array a group of its own."""
    plain: list[_Unit] = []
    groups: list[list[_Unit]] = [plain]
    amplitudes: list[Array] = [np.asarray(1.0)]

    def add(size: Number, unit: Callable[[float], _Unit]) -> None:
        array = np.asarray(size, dtype=float)
        if array.ndim == 0:
            plain.append(unit(float(array)))
        else:
            groups.append([unit(1.0)])
            amplitudes.append(array)

    for load in loads:
        if isinstance(load, PointLoad):
            at = load.at
            add(load.force, lambda z, at=at: _Unit("force", at, at, z, z))  # type: ignore[misc]
        elif isinstance(load, Couple):
            at = load.at
            add(load.moment, lambda z, at=at: _Unit("couple", at, at, z, z))  # type: ignore[misc]
        elif load.first is load.last:
            add(load.first, lambda z, s=load.start, e=load.end: _Unit("spread", s, e, z, z))  # type: ignore[misc]
        else:
            add(load.first, lambda z, s=load.start, e=load.end: _Unit("spread", s, e, z, 0.0))  # type: ignore[misc]
            add(load.last, lambda z, s=load.start, e=load.end: _Unit("spread", s, e, 0.0, z))  # type: ignore[misc]
    return groups, amplitudes


def _inside(unit: _Unit, left: float, right: float) -> _Unit | None:
    """The part of a load on the element between `left` and `right`, measured from `left`."""
    if unit.kind != "spread":
        return _Unit(unit.kind, unit.start - left, unit.end - left, unit.first, unit.last)
    near = _SNAP * (right - left)
    start = left if unit.start - left <= near else unit.start
    end = right if right - unit.end <= near else unit.end
    if end - start <= near:
        return None

    def intensity(x: float) -> float:
        return unit.first + (unit.last - unit.first) * (x - unit.start) / (unit.end - unit.start)

    return _Unit("spread", start - left, end - left, intensity(start), intensity(end))


_GAUSS = np.polynomial.legendre.leggauss(3)


def _fixed_end(unit: _Unit, h: float) -> Array:
    """Reactions and hogging moments (R_A, M_A, R_B, M_B) of a fixed element of length h.

    For a spread load the point-load formulas, cubic in the position, are integrated against a linear
    intensity: degree four, which three Gauss points integrate exactly.
    """
    if unit.kind == "couple":
        at = {"M_0": unit.first, "a": unit.start, "b": h - unit.start, "L": h}
        R_B = FIXED_END_COUPLE_REACTION(**at)
        return np.array([-R_B, FIXED_END_COUPLE_MOMENT_LEFT(**at), R_B, FIXED_END_COUPLE_MOMENT_RIGHT(**at)])
    if unit.kind == "force":
        P: Number = unit.first
        a: Number = unit.start
    else:
        half = 0.5 * (unit.end - unit.start)
        a = 0.5 * (unit.start + unit.end) + half * _GAUSS[0]
        P = half * _GAUSS[1] * (unit.first + (unit.last - unit.first) * 0.5 * (1 + _GAUSS[0]))
    point = {"P": P, "a": a, "b": h - a, "L": h}
    return np.array(
        [
            np.sum(formula(**point))
            for formula in (
                FIXED_END_POINT_REACTION_LEFT,
                FIXED_END_POINT_MOMENT_LEFT,
                FIXED_END_POINT_REACTION_RIGHT,
                FIXED_END_POINT_MOMENT_RIGHT,
            )
        ]
    )


def _stiffness(h: float) -> Array:
    """Stiffness of the uniform element of unit EI for (w, theta) at its ends."""
    return np.array(
        [
            [12 / h**3, 6 / h**2, -12 / h**3, 6 / h**2],
            [6 / h**2, 4 / h, -6 / h**2, 2 / h],
            [-12 / h**3, -6 / h**2, 12 / h**3, -6 / h**2],
            [6 / h**2, 2 / h, -6 / h**2, 4 / h],
        ]
    )


# --- solution ----------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, eq=False)
class Beam:
    """A solved beam.  Every method answers for all candidates at once.

    `shape` is the shape of the candidates (empty for a single beam).  Positions passed in are a float
    or a one-dimensional array of m values; the answers then have shape `shape` or `shape + (m,)`.
    """

    length: float
    shape: tuple[int, ...]
    supports: tuple[Support, ...]
    reactions: tuple[Reaction, ...]
    _starts: Array  # (segments,) left end of each polynomial piece
    _sizes: Array  # (segments,) length of each piece
    _fields: Array  # (fields, segments, 6) coefficients of EI·w in the mm from the left end of the piece
    _weights: Array  # (n, fields), or one row when all candidates share it
    _EI: Array  # (n,)

    def _at(self, x: float | Array, order: int, side: Literal["left", "right"]) -> Array:
        position = np.atleast_1d(np.asarray(x, dtype=float))
        for value in position:
            _check_position(float(value), self.length, "the point asked for", "x")
        position = np.clip(position, 0.0, self.length)
        where = np.searchsorted(self._starts, position, side="right" if side == "right" else "left") - 1
        where = np.clip(where, 0, len(self._starts) - 1)
        c = np.moveaxis(self._fields[:, where, :], 2, 0)  # (6, fields, m)
        for _ in range(order):
            c = _derivative(c)
        out = self._spread(self._weights @ _values(c, position - self._starts[where]), len(position))
        return out[..., 0] if np.ndim(x) == 0 else out

    def _spread(self, values: Array, *more: int) -> Array:
        """Values per row of weights, shaped as the candidates are."""
        return np.broadcast_to(values, (len(self._EI), *more)).reshape((*self.shape, *more))

    def _per_EI(self, values: Array, x: float | Array) -> Array:
        EI = self._EI.reshape(self.shape)
        return values / (EI if np.ndim(x) == 0 else EI[..., None])

    def deflection(self, x: float | Array) -> Array:
        """Deflection at x [mm, downwards positive]."""
        return self._per_EI(self._at(x, 0, "right"), x)

    def slope(self, x: float | Array) -> Array:
        """Slope at x [rad, clockwise positive]."""
        return self._per_EI(self._at(x, 1, "right"), x)

    def moment(self, x: float | Array, side: Literal["left", "right"] = "right") -> Array:
        """Bending moment at x [N·mm, sagging positive]; `side` chooses at a couple or a fixed end."""
        return -self._at(x, 2, side)

    def shear(self, x: float | Array, side: Literal["left", "right"] = "right") -> Array:
        """Shear force at x [N]; `side` chooses at a point load or support."""
        return -self._at(x, 3, side)

    def _extremes(self, order: int, sign: float) -> tuple[Extreme, Extreme]:
        """Greatest and least of sign times the derivative of EI·w, over all pieces and their ends."""
        n = len(self._weights)
        high, low = np.full(n, -inf), np.full(n, inf)
        high_at, low_at = np.zeros(n), np.zeros(n)
        rows = np.arange(n)
        for start, size, coefficients in zip(self._starts, self._sizes, np.moveaxis(self._fields, 1, 0), strict=True):
            scaled = coefficients.T * size ** np.arange(6)[:, None]  # over the unit interval
            c = (self._weights @ scaled.T).T
            for _ in range(order):
                c = _derivative(c)
            c = sign * c / size**order
            spots = np.concatenate([np.zeros((1, n)), np.ones((1, n)), _roots(_derivative(c))])
            values = _values(c[:, None], spots)
            for pick, better in ((values.argmax(0), True), (values.argmin(0), False)):
                value, at = values[pick, rows], start + size * spots[pick, rows]
                if better:
                    take = value > high
                    high, high_at = np.where(take, value, high), np.where(take, at, high_at)
                else:
                    take = value < low
                    low, low_at = np.where(take, value, low), np.where(take, at, low_at)
        return (
            Extreme(self._spread(high), self._spread(high_at)),
            Extreme(self._spread(low), self._spread(low_at)),
        )

    def deflection_extremes(self) -> tuple[Extreme, Extreme]:
        """Greatest deflection downwards and upwards (the least value) [mm], at exact positions [mm]."""
        down, up = self._extremes(0, 1.0)
        EI = self._EI.reshape(self.shape)
        return Extreme(down.value / EI, down.at), Extreme(up.value / EI, up.at)

    def moment_extremes(self) -> tuple[Extreme, Extreme]:
        """Greatest sagging and greatest hogging (the least value) moment [N·mm], at exact positions [mm]."""
        return self._extremes(2, -1.0)

    def shear_extremes(self) -> tuple[Extreme, Extreme]:
        """Greatest and least shear force [N], with their positions [mm]."""
        return self._extremes(3, -1.0)

    def deflection_max(self) -> Extreme:
        """The deflection largest in size [mm], with its sign."""
        return _larger(*self.deflection_extremes())

    def moment_max(self) -> Extreme:
        """The moment largest in size [N·mm], with its sign."""
        return _larger(*self.moment_extremes())

    def shear_max(self) -> Extreme:
        """The shear force largest in size [N], with its sign."""
        return _larger(*self.shear_extremes())

    def end_moments(self) -> tuple[Array, Array]:
        """Bending moment at the left and the right end [N·mm, sagging positive]."""
        return self.moment(0.0), self.moment(self.length, side="left")


def _larger(high: Extreme, low: Extreme) -> Extreme:
    first = np.abs(high.value) >= np.abs(low.value)
    return Extreme(np.where(first, high.value, low.value), np.where(first, high.at, low.at))


def solve(length: float, EI: Number, supports: Sequence[Support], loads: Sequence[Load]) -> Beam:
    """Solve a beam of `length` mm and bending stiffness `EI` [N·mm²] exactly.

    `EI` and the load magnitudes are floats or arrays that broadcast together (one value per
    candidate); positions, support stiffnesses and the length are common to all candidates.  Parts
    beyond the outer supports overhang.

    Raises InputError for a length or stiffness that is not positive, a load or support off the beam,
    two supports at one place, and supports that would let the beam fall or turn.
    """
    _check_length(length)
    ordered = _check_supports(length, supports)
    _check_loads(length, loads)
    stiffness = _check_stiffness(EI)
    groups, amplitudes = _groups(loads)
    try:
        shape = np.broadcast_shapes(stiffness.shape, *(a.shape for a in amplitudes))
    except ValueError:
        raise InputError(
            "stiffness and loads were given for different numbers of candidates; give one value, or one per candidate",
            field="EI",
        ) from None
    n = int(np.prod(shape, dtype=int))
    EI_n = np.broadcast_to(stiffness, shape).reshape(n)
    if len(amplitudes) == 1:  # the same loads on every candidate
        amplitude = np.ones((1, 1))
    else:
        amplitude = np.stack([np.broadcast_to(a, shape).reshape(n) for a in amplitudes], axis=1)

    nodes = _nodes(length, ordered)
    dofs = 2 * len(nodes)
    node_of = {s: int(np.argmin(np.abs(nodes - s.at))) for s in ordered}

    K = np.zeros((dofs, dofs))
    for e, h in enumerate(np.diff(nodes)):
        K[2 * e : 2 * e + 4, 2 * e : 2 * e + 4] += _stiffness(float(h))
    force = np.zeros((dofs, len(groups)))
    on_node = np.zeros((dofs, len(groups)))  # what acts straight on a node, for the reactions
    inside: list[list[list[_Unit]]] = [[[] for _ in groups] for _ in range(len(nodes) - 1)]
    for g, units in enumerate(groups):
        for unit in units:
            _place(unit, g, nodes, length, force, on_node, inside)

    spring = np.zeros(dofs)
    for s in ordered:
        spring[2 * node_of[s]] = s.vertical
        spring[2 * node_of[s] + 1] = s.rotation
    elastic = np.flatnonzero((spring > 0) & np.isfinite(spring))
    free = np.flatnonzero(spring == 0)

    # EI·u of the free freedoms, elastic ones held: one column per load group, then one per elastic freedom
    scale = np.where(np.arange(dofs) % 2 == 0, 1.0, 1.0 / length)  # so that slopes and deflections compare in size
    unknown = np.zeros((dofs, len(groups) + len(elastic)))
    unknown[elastic, len(groups) + np.arange(len(elastic))] = 1.0
    if len(free):
        K_ff = scale[free, None] * K[np.ix_(free, free)] * scale[free]
        right = np.concatenate([force[free], -K[np.ix_(free, elastic)]], axis=1)
        unknown[free] = scale[free, None] * np.linalg.solve(K_ff, scale[free, None] * right)

    weights = amplitude
    if len(elastic):
        # (S + k/EI) (EI u_s) = g, with S the stiffness condensed to the elastic freedoms
        S = K[elastic] @ unknown[:, len(groups) :]
        g_s = force[elastic] - K[elastic] @ unknown[:, : len(groups)]
        size = 1.0 / np.sqrt(np.abs(np.diag(S)) + spring[elastic] / np.median(EI_n))
        A = size[:, None] * S * size + (size**2 * spring[elastic])[:, None] * np.eye(len(elastic)) / EI_n[:, None, None]
        b = amplitude @ (size[:, None] * g_s).T
        u_s = np.linalg.solve(A, b[..., None])[..., 0] * size
        weights = np.concatenate([np.broadcast_to(amplitude, (n, len(groups))), u_s], axis=1)

    starts, sizes, fields = _pieces(nodes, unknown, inside, len(groups))
    beam = Beam(length, shape, ordered, (), starts, sizes, fields, weights, EI_n)
    reactions = []
    for s in ordered:
        left, right_of = _jump(beam, nodes, node_of[s])
        applied = amplitude @ on_node[2 * node_of[s] : 2 * node_of[s] + 2].T
        reactions.append(
            Reaction(
                s.at,
                beam._spread(right_of[0] - left[0] + applied[:, 0]),
                beam._spread(right_of[1] - left[1] - applied[:, 1]),
            )
        )
    return Beam(length, shape, ordered, tuple(reactions), starts, sizes, fields, weights, EI_n)


def _nodes(length: float, supports: Sequence[Support]) -> Array:
    inner = [s.at for s in supports if _SNAP * length < s.at < length * (1 - _SNAP)]
    return np.array([0.0, *inner, length])


def _place(
    unit: _Unit,
    g: int,
    nodes: Array,
    length: float,
    force: Array,
    on_node: Array,
    inside: list[list[list[_Unit]]],
) -> None:
    """Add one load of group g to the nodal forces and to the elements it lies on."""
    if unit.kind != "spread":
        near = int(np.argmin(np.abs(nodes - unit.start)))
        if abs(nodes[near] - unit.start) <= _SNAP * length:
            dof = 2 * near + (1 if unit.kind == "couple" else 0)
            force[dof, g] += unit.first
            on_node[dof, g] += unit.first
            return
    for e in range(len(nodes) - 1):
        left, right = float(nodes[e]), float(nodes[e + 1])
        if unit.kind != "spread" and not left < unit.start < right:
            continue
        part = _inside(unit, left, right)
        if part is None:
            continue
        inside[e][g].append(part)
        R_A, M_A, R_B, M_B = _fixed_end(part, right - left)
        force[2 * e : 2 * e + 4, g] += (R_A, M_A, R_B, -M_B)


def _pieces(nodes: Array, unknown: Array, inside: list[list[list[_Unit]]], groups: int) -> tuple[Array, Array, Array]:
    """Polynomial coefficients of EI·w between breakpoints, for every field."""
    starts: list[float] = []
    sizes: list[float] = []
    rows: list[Array] = []
    fields = unknown.shape[1]
    for e in range(len(nodes) - 1):
        left, h = float(nodes[e]), float(nodes[e + 1] - nodes[e])
        u = unknown[2 * e : 2 * e + 4]
        # state at the left end: EI·w, its slope, moment and shear; fixed-end actions added to the end actions
        actions = _stiffness(h)[:2] @ u
        shear, moment = -actions[0], actions[1]
        for g in range(groups):
            for unit in inside[e][g]:
                R_A, M_A, _, _ = _fixed_end(unit, h)
                shear[g] += R_A
                moment[g] -= M_A
        state = np.stack([u[0], u[1], moment, shear])
        cuts = sorted({0.0, h, *(z for g in range(groups) for unit in inside[e][g] for z in (unit.start, unit.end))})
        for x, after in pairwise(cuts):
            spread = np.zeros((2, fields))  # intensity at x and its rate of change
            for g in range(groups):
                for unit in inside[e][g]:
                    if unit.kind == "force" and unit.start == x:
                        state[3, g] -= unit.first
                    elif unit.kind == "couple" and unit.start == x:
                        state[2, g] += unit.first
                    elif unit.kind == "spread" and unit.start <= x and unit.end >= after:
                        rate = (unit.last - unit.first) / (unit.end - unit.start)
                        spread[:, g] += (unit.first + rate * (x - unit.start), rate)
            c = np.stack([
                state[0], state[1], -state[2] / 2, -state[3] / 6, spread[0] / 24, spread[1] / 120,
            ])  # fmt: skip
            starts.append(left + x)
            sizes.append(after - x)
            rows.append(c.T)
            s = np.asarray(after - x)
            d1 = _derivative(c)
            d2 = _derivative(d1)
            state = np.stack([_values(c, s), _values(d1, s), -_values(d2, s), -_values(_derivative(d2), s)])
    return np.array(starts), np.array(sizes), np.stack(rows, axis=1)


def _jump(beam: Beam, nodes: Array, node: int) -> tuple[tuple[Array, Array], tuple[Array, Array]]:
    """(shear, moment) just left and just right of a node, zero beyond the ends, each of shape (n,)."""
    n = len(beam._EI)
    none = (np.zeros(n), np.zeros(n))
    x = float(nodes[node])

    def at(side: Literal["left", "right"]) -> tuple[Array, Array]:
        return (np.asarray(beam.shear(x, side)).reshape(n), np.asarray(beam.moment(x, side)).reshape(n))

    return (at("left") if node > 0 else none), (at("right") if node < len(nodes) - 1 else none)


# --- natural frequency -----------------------------------------------------------------------------------


def frequency_1(
    length: float,
    EI: Number,
    supports: Sequence[Support],
    mass_per_length: Number,
    masses: Sequence[PointMass] = (),
) -> Array:
    """First natural frequency [Hz] of bending vibration; arrays of EI [N·mm²] or mass [t/mm] broadcast.

    A single span held vertically at both ends without point masses is found from its characteristic
    equation; everything else from a consistent-mass finite-element model fine enough for 1e-5.
    Raises InputError as `solve` does, and when nothing has mass.
    """
    _check_length(length)
    ordered = _check_supports(length, supports)
    stiffness = _check_stiffness(EI)
    mass = np.asarray(mass_per_length, dtype=float)
    if not np.all(np.isfinite(mass) & (mass >= 0)):
        raise InputError("the mass per length must be zero or more", field="mass")
    for lump in masses:
        _check_position(lump.at, length, "the mass", "mass")
        if not (isfinite(lump.mass) and lump.mass >= 0):
            raise InputError("a carried mass must be zero or more", field="mass")
    heavy = [lump for lump in masses if lump.mass > 0]
    if not (heavy or np.all(mass > 0)):
        raise InputError("a beam without mass has no natural frequency; give its mass per length", field="mass")
    shape = np.broadcast_shapes(stiffness.shape, mass.shape)
    EI_n = np.broadcast_to(stiffness, shape).reshape(-1)
    m_n = np.broadcast_to(mass, shape).reshape(-1)

    springs = [k for s in ordered for k in (s.vertical, s.rotation) if k > 0 and isfinite(k)]
    ends_only = (
        len(ordered) == 2
        and all(s.vertical == inf for s in ordered)
        and ordered[0].at <= _SNAP * length
        and ordered[1].at >= length * (1 - _SNAP)
    )
    if ends_only and not heavy:
        varied = EI_n if springs else EI_n[:1]  # without springs the parameter is one for all
        beta = frequency_parameter(ordered[0].rotation * length / varied, ordered[1].rotation * length / varied)
        one_span: Array = np.asarray(NATURAL_FREQUENCY(beta=beta, L=length, EI=EI_n, m=m_n))
        return one_span.reshape(shape)
    if not springs and not heavy:
        one = _frequency_fe(length, np.ones(1), ordered, np.ones(1), ())
        scaled: Array = one[0] * np.sqrt(EI_n / m_n)
        return scaled.reshape(shape)
    return _frequency_fe(length, EI_n, ordered, m_n, heavy).reshape(shape)


def frequency_parameter(kappa_1: Number, kappa_2: Number) -> Array:
    """Frequency parameter of a uniform span held at both ends with rotational springs.

    kappa = k·L/EI of either end, 0 pinned, inf fixed.  Least root of the characteristic equation
    kappa_1 kappa_2 (1 - cos cosh) + (kappa_1 + kappa_2) beta (sin cosh - cos sinh) + 2 beta² sin sinh = 0
    (our derivation from the dynamic stiffness of the pinned beam), which lies between pi and 4.7300.
    """
    one, two = np.broadcast_arrays(np.asarray(kappa_1, dtype=float), np.asarray(kappa_2, dtype=float))

    def fixity(kappa: Array) -> Array:
        with np.errstate(invalid="ignore"):
            held: Array = np.where(np.isinf(kappa), 1.0, kappa / (1.0 + kappa))
        return held

    r_1, r_2 = fixity(one), fixity(two)
    both, mixed, loose = r_1 * r_2, r_1 * (1 - r_2) + r_2 * (1 - r_1), (1 - r_1) * (1 - r_2)

    def f(x: Array) -> Array:
        sn, cs, sh, ch = np.sin(x), np.cos(x), np.sinh(x), np.cosh(x)
        out: Array = -(both * (1 - cs * ch) + mixed * x * (sn * ch - cs * sh) + loose * 2 * x**2 * sn * sh)
        return out

    def df(x: Array) -> Array:
        sn, cs, sh, ch = np.sin(x), np.cos(x), np.sinh(x), np.cosh(x)
        out: Array = -(
            both * (sn * ch - cs * sh)
            + mixed * (sn * ch - cs * sh + 2 * x * sn * sh)
            + loose * (4 * x * sn * sh + 2 * x**2 * (cs * sh + sn * ch))
        )
        return out

    # pi and 4.73004 widened by a hair, so that a root at either end has a sign on both sides
    return _bracketed(f, df, np.full(one.shape, pi * (1 - 1e-9)), np.full(one.shape, 4.730040745))


def _frequency_fe(
    length: float, EI: Array, supports: Sequence[Support], mass: Array, lumps: Sequence[PointMass]
) -> Array:
    """First frequency [Hz] from Hermite elements with consistent mass, shape (n,)."""
    fixed_nodes = list(_nodes(length, supports))
    coarse = length / 24
    for lump in lumps:  # a node under each mass, unless one is so near that it makes no difference
        if min(abs(lump.at - x) for x in fixed_nodes) > coarse / 100:
            fixed_nodes.append(lump.at)
    fixed_nodes.sort()
    pieces = [np.linspace(a, b, max(2, int(np.ceil((b - a) / coarse))) + 1)[:-1] for a, b in pairwise(fixed_nodes)]
    nodes = np.concatenate([*pieces, np.array([length])])
    dofs = 2 * len(nodes)
    K = np.zeros((dofs, dofs))
    M = np.zeros((dofs, dofs))
    for e, size in enumerate(np.diff(nodes)):
        h = float(size)
        part = slice(2 * e, 2 * e + 4)
        K[part, part] += _stiffness(h)
        M[part, part] += (h / 420) * np.array(
            [
                [156, 22 * h, 54, -13 * h],
                [22 * h, 4 * h**2, 13 * h, -3 * h**2],
                [54, 13 * h, 156, -22 * h],
                [-13 * h, -3 * h**2, -22 * h, 4 * h**2],
            ]
        )
    carried = np.zeros((dofs, dofs))
    for lump in lumps:
        e = int(np.clip(np.searchsorted(nodes, lump.at, side="right") - 1, 0, len(nodes) - 2))
        h = float(nodes[e + 1] - nodes[e])
        z = (lump.at - float(nodes[e])) / h
        shape = np.array([1 - 3 * z**2 + 2 * z**3, h * z * (1 - z) ** 2, 3 * z**2 - 2 * z**3, h * z**2 * (z - 1)])
        part = slice(2 * e, 2 * e + 4)
        carried[part, part] += lump.mass * np.outer(shape, shape)
    spring = np.zeros(dofs)
    for s in supports:
        node = int(np.argmin(np.abs(nodes - s.at)))
        spring[2 * node], spring[2 * node + 1] = s.vertical, s.rotation
    keep = np.flatnonzero(np.isfinite(spring))
    h0 = length / 24
    scale = np.where(keep % 2 == 0, 1.0, 1.0 / h0)
    K, M, carried = (scale[:, None] * X[np.ix_(keep, keep)] * scale for X in (K, M, carried))
    k_s = np.diag(scale**2 * spring[keep])
    out = np.empty(len(EI))
    chunk = 512
    for first in range(0, len(EI), chunk):
        part = slice(first, first + chunk)
        ei = EI[part, None, None]
        # dividing by EI keeps the numbers near one; the greatest root of M against K is 1/omega²
        lower = np.linalg.cholesky(K * h0**3 + k_s * h0**3 / ei)
        inverse = np.linalg.inv(lower)
        total = M * mass[part, None, None] + carried
        roots = np.linalg.eigvalsh(inverse @ total @ np.swapaxes(inverse, -1, -2))
        out[part] = np.sqrt(EI[part] / (roots[:, -1] * h0**3)) / (2 * pi)
    return out
