"""Straight beams of constant stiffness: exact deflection, slope, moment and shear.

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

Units: N, mm.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal, NamedTuple

import numpy as np

from jointcalc.errors import InputError
from jointcalc.formula.beam import (
    FIXED_END_COUPLE_MOMENT_LEFT,
    FIXED_END_COUPLE_MOMENT_RIGHT,
    FIXED_END_COUPLE_REACTION,
    FIXED_END_POINT_MOMENT_LEFT,
    FIXED_END_POINT_MOMENT_RIGHT,
    FIXED_END_POINT_REACTION_LEFT,
    FIXED_END_POINT_REACTION_RIGHT,
)
from jointcalc.statics.beam_model import (
    SNAP,
    Array,
    Couple,
    Load,
    Number,
    PointLoad,
    Support,
    check_given,
    check_position,
    check_stiffness,
)
from jointcalc.statics.polynomials import derivative, roots_inside, values_at

TOGETHER = 65536
"""Pieces of candidates whose extremes are looked for at once; more would only ask for memory."""


class Extreme(NamedTuple):
    """A greatest value and where it is; arrays over candidates when the beam was solved for several."""

    value: Array
    at: Array


class Reaction(NamedTuple):
    """What a support does to the beam: `force` upwards [N], `moment` clockwise [N·mm]."""

    at: float
    force: Array
    moment: Array


@dataclass(frozen=True, slots=True)
class _Unit:
    """One load of unit-free shape inside the beam: a force, a couple, or a linearly varying spread."""

    kind: Literal["force", "couple", "spread"]
    start: float
    end: float
    first: float
    last: float


class _Inside(NamedTuple):
    """The parts of loads that lie on one element, measured from its left end, and the group of each."""

    units: list[_Unit]
    groups: list[int]


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
    near = SNAP * (right - left)
    start = left if unit.start - left <= near else unit.start
    end = right if right - unit.end <= near else unit.end
    if end - start <= near:
        return None

    def intensity(x: float) -> float:
        return unit.first + (unit.last - unit.first) * (x - unit.start) / (unit.end - unit.start)

    return _Unit("spread", start - left, end - left, intensity(start), intensity(end))


_GAUSS = np.polynomial.legendre.leggauss(3)
_ALONE = np.array([1.0, 0.0, 0.0])
"""A force among the points over which a spread load is integrated: all of it at the first."""
_FIXED_END_POINT = (
    FIXED_END_POINT_REACTION_LEFT,
    FIXED_END_POINT_MOMENT_LEFT,
    FIXED_END_POINT_REACTION_RIGHT,
    FIXED_END_POINT_MOMENT_RIGHT,
)


def _fixed_ends(units: Sequence[_Unit], h: float) -> Array:
    """Reactions and hogging moments (R_A, M_A, R_B, M_B) of a fixed element of length h under each unit, (units, 4).

    For a spread load the point-load formulas, cubic in the position, are integrated against a linear
    intensity: degree four, which three Gauss points integrate exactly.
    """
    start, end, first, last = (
        np.array([(u.start, u.end, u.first, u.last) for u in units]).reshape(-1, 4, 1).swapaxes(0, 1)
    )
    half = 0.5 * (end - start)
    a = 0.5 * (start + end) + half * _GAUSS[0]
    P = half * _GAUSS[1] * (first + (last - first) * 0.5 * (1 + _GAUSS[0]))
    P += np.array([u.kind == "force" for u in units])[:, None] * first * _ALONE
    point = {"P": P, "a": a, "b": h - a, "L": h}
    found = np.stack([formula(**point).sum(axis=1) for formula in _FIXED_END_POINT], axis=1)
    for n, unit in enumerate(units):
        if unit.kind == "couple":
            at = {"M_0": unit.first, "a": unit.start, "b": h - unit.start, "L": h}
            R_B = FIXED_END_COUPLE_REACTION(**at)
            found[n] = -R_B, FIXED_END_COUPLE_MOMENT_LEFT(**at), R_B, FIXED_END_COUPLE_MOMENT_RIGHT(**at)
    return found


def element_stiffness(h: float) -> Array:
    """Stiffness of the uniform element of unit EI for (w, theta) at its ends."""
    return np.array(
        [
            [12 / h**3, 6 / h**2, -12 / h**3, 6 / h**2],
            [6 / h**2, 4 / h, -6 / h**2, 2 / h],
            [-12 / h**3, -6 / h**2, 12 / h**3, -6 / h**2],
            [6 / h**2, 2 / h, -6 / h**2, 4 / h],
        ]
    )


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
        for value in (position.min(initial=0.0), position.max(initial=0.0)):  # nan is both
            check_position(float(value), self.length, "the point asked for", "x")
        position = np.clip(position, 0.0, self.length)
        where = np.searchsorted(self._starts, position, side="right" if side == "right" else "left") - 1
        where = np.clip(where, 0, len(self._starts) - 1)
        c = self._fields[:, where].transpose(2, 0, 1)  # (6, fields, m)
        for _ in range(order):
            c = derivative(c)
        out = self._shaped(self._weights @ values_at(c, position - self._starts[where]), len(position))
        return out[..., 0] if np.ndim(x) == 0 else out

    def _shaped(self, values: Array, *more: int) -> Array:
        """Values per row of weights, shaped as the candidates are."""
        if len(values) != len(self._EI):
            values = np.broadcast_to(values, (len(self._EI), *more))
        return values.reshape((*self.shape, *more))

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
        n, fields = self._weights.shape
        ends: list[tuple[Array, Array, Array, Array]] = []
        several = max(1, TOGETHER // n)
        for first in range(0, len(self._starts), several):
            part = slice(first, first + several)
            start, size = self._starts[part], self._sizes[part]
            scaled = self._fields[:, part] * size[:, None] ** np.arange(6)  # over the unit interval
            c = (self._weights @ scaled.reshape(fields, -1)).reshape(-1, 6).T  # pieces of one candidate side by side
            for _ in range(order):
                c = derivative(c)
            c = sign * c / np.tile(size, n) ** order
            spots = np.concatenate([np.zeros_like(c[:1]), np.ones_like(c[:1]), roots_inside(derivative(c))])
            values = values_at(c[:, None], spots)
            places = np.tile(start, n) + np.tile(size, n) * spots
            values, places = (one.T.reshape(n, -1) for one in (values, places))
            rows = np.arange(n)
            high, low = values.argmax(1), values.argmin(1)
            ends.append((values[rows, high], places[rows, high], values[rows, low], places[rows, low]))
        tops, top_at, bottoms, bottom_at = (np.stack(one) for one in zip(*ends, strict=True))
        rows = np.arange(n)
        high, low = tops.argmax(0), bottoms.argmin(0)
        return (
            Extreme(self._shaped(tops[high, rows]), self._shaped(top_at[high, rows])),
            Extreme(self._shaped(bottoms[low, rows]), self._shaped(bottom_at[low, rows])),
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
    ordered = check_given(length, supports, loads)
    stiffness = check_stiffness(EI)
    groups, amplitudes = _groups(loads)
    shape, EI_n, amplitude = _batched(stiffness, amplitudes)
    nodes = nodes_of(length, ordered)
    dofs = 2 * len(nodes)
    node_of = {s: int(np.argmin(np.abs(nodes - s.at))) for s in ordered}

    K = np.zeros((dofs, dofs))
    for e, h in enumerate(np.diff(nodes)):
        K[2 * e : 2 * e + 4, 2 * e : 2 * e + 4] += element_stiffness(float(h))
    force = np.zeros((dofs, len(groups)))
    on_node = np.zeros((dofs, len(groups)))  # what acts straight on a node, for the reactions
    inside = [_Inside([], []) for _ in range(len(nodes) - 1)]
    for g, units in enumerate(groups):
        for unit in units:
            _place(unit, g, nodes, length, force, on_node, inside)
    actions = [_fixed_ends(one.units, float(h)) for one, h in zip(inside, np.diff(nodes), strict=True)]
    for e, one in enumerate(inside):
        for g, acting in zip(one.groups, actions[e], strict=True):
            force[2 * e : 2 * e + 4, g] += acting * (1.0, 1.0, 1.0, -1.0)

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
        weights = np.concatenate([np.broadcast_to(amplitude, (len(EI_n), len(groups))), u_s], axis=1)

    starts, sizes, fields = _pieces(nodes, unknown, inside, actions)
    beam = Beam(length, shape, ordered, (), starts, sizes, fields, weights, EI_n)
    reactions = tuple(_reaction(beam, s.at, nodes, node_of[s], amplitude, on_node) for s in ordered)
    return Beam(length, shape, ordered, reactions, starts, sizes, fields, weights, EI_n)


def _batched(stiffness: Array, amplitudes: Sequence[Array]) -> tuple[tuple[int, ...], Array, Array]:
    """The shape of the candidates, their stiffnesses (n,) and the amplitudes of their groups of loads (n or 1, groups).

    Raises InputError where they do not broadcast.
    """
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
        return shape, EI_n, np.ones((1, 1))
    return shape, EI_n, np.stack([np.broadcast_to(a, shape).reshape(n) for a in amplitudes], axis=1)


def _reaction(beam: Beam, at: float, nodes: Array, node: int, amplitude: Array, on_node: Array) -> Reaction:
    """What a support gives: the jump of shear and moment there, and what acts straight on it."""
    left, right = _jump(beam, nodes, node)
    applied = amplitude @ on_node[2 * node : 2 * node + 2].T
    return Reaction(
        at, beam._shaped(right[0] - left[0] + applied[:, 0]), beam._shaped(right[1] - left[1] - applied[:, 1])
    )


def nodes_of(length: float, supports: Sequence[Support]) -> Array:
    """Ends of the elements: those of the beam, and every support between."""
    inner = [s.at for s in supports if SNAP * length < s.at < length * (1 - SNAP)]
    return np.array([0.0, *inner, length])


def _place(
    unit: _Unit,
    g: int,
    nodes: Array,
    length: float,
    force: Array,
    on_node: Array,
    inside: list[_Inside],
) -> None:
    """Add one load of group g to the nodal forces and to the elements it lies on."""
    if unit.kind != "spread":
        near = int(np.argmin(np.abs(nodes - unit.start)))
        if abs(nodes[near] - unit.start) <= SNAP * length:
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
        inside[e].units.append(part)
        inside[e].groups.append(g)


_TAYLOR = np.array([1.0, 1.0, -2.0, -6.0, 24.0, 120.0])
"""By what EI·w, slope, moment, shear, intensity and its rate are divided in the polynomial of EI·w."""


def _carried(h: Array) -> Array:
    """What is handed on over pieces of length h, (pieces, 4, 6).

    EI·w, slope, moment and shear at the end of a piece, from those at its start, the intensity there and its rate.
    """
    one, none = np.ones_like(h), np.zeros_like(h)
    return np.array([
        [one, h, -(h**2) / 2, -(h**3) / 6, h**4 / 24, h**5 / 120],
        [none, one, -h, -(h**2) / 2, h**3 / 6, h**4 / 24],
        [none, none, one, h, -(h**2) / 2, -(h**3) / 6],
        [none, none, none, one, -h, -(h**2) / 2],
    ]).transpose(2, 0, 1)  # fmt: skip


def _pieces(
    nodes: Array, unknown: Array, inside: Sequence[_Inside], actions: Sequence[Array]
) -> tuple[Array, Array, Array]:
    """Polynomial coefficients of EI·w between breakpoints, for every field."""
    starts: list[Array] = []
    sizes: list[Array] = []
    rows: list[Array] = []
    fields = unknown.shape[1]
    for e, here in enumerate(inside):
        left, h = float(nodes[e]), float(nodes[e + 1] - nodes[e])
        u = unknown[2 * e : 2 * e + 4]
        # state at the left end: EI·w, its slope, moment and shear; fixed-end actions added to the end actions
        at_end = element_stiffness(h)[:2] @ u
        state = np.stack([u[0], u[1], at_end[1], -at_end[0]])
        for g, acting in zip(here.groups, actions[e], strict=True):
            state[3, g] += acting[0]
            state[2, g] -= acting[1]
        cuts = sorted({0.0, h, *(z for unit in here.units for z in (unit.start, unit.end))})
        nth = {x: n for n, x in enumerate(cuts)}
        jumps = np.zeros((len(cuts), 4, fields))
        spread = np.zeros((len(cuts) - 1, 2, fields))  # intensity at the start of a piece and its rate of change
        for g, unit in zip(here.groups, here.units, strict=True):
            if unit.kind == "force":
                jumps[nth[unit.start], 3, g] -= unit.first
            elif unit.kind == "couple":
                jumps[nth[unit.start], 2, g] += unit.first
            else:
                rate = (unit.last - unit.first) / (unit.end - unit.start)
                for n in range(nth[unit.start], nth[unit.end]):
                    spread[n, :, g] += (unit.first + rate * (cuts[n] - unit.start), rate)
        lengths = np.diff(cuts)
        for n, carry in enumerate(_carried(lengths)):
            whole = np.concatenate([state + jumps[n], spread[n]])
            rows.append(whole.T / _TAYLOR)
            state = carry @ whole
        starts.append(left + np.array(cuts[:-1]))
        sizes.append(lengths)
    return np.concatenate(starts), np.concatenate(sizes), np.stack(rows, axis=1)


def _jump(beam: Beam, nodes: Array, node: int) -> tuple[tuple[Array, Array], tuple[Array, Array]]:
    """(shear, moment) just left and just right of a node, zero beyond the ends, each of shape (n,)."""
    n = len(beam._EI)
    none = (np.zeros(n), np.zeros(n))
    x = float(nodes[node])

    def at(side: Literal["left", "right"]) -> tuple[Array, Array]:
        return (np.asarray(beam.shear(x, side)).reshape(n), np.asarray(beam.moment(x, side)).reshape(n))

    return (at("left") if node > 0 else none), (at("right") if node < len(nodes) - 1 else none)
