"""Rectangular plates, flat or orthotropic, simply supported or clamped: deflection, moments, frequency.

Simply supported plates are solved by Navier's series, everything else by Ritz's method with polynomials
that vanish with their slope at clamped ends (sines where an end pair is simply supported).  Small
deflections; `membrane_stiffened` gives an estimate beyond half the thickness.

The plate spans 0..a along x and 0..b along y; for a beaded sheet x runs along the beads.  Loads and
deflections in the same direction are positive, moments positive where that side is in tension.
Units: N, mm, MPa, t, s; moments per width in N (= N·mm/mm).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import inf, isfinite, pi, sqrt
from typing import Literal, NamedTuple

import numpy as np
import numpy.typing as npt

from jointcalc.errors import InputError
from jointcalc.formula.plate import (
    CENTRAL_LOAD_STRESS,
    EQUIVALENT_RADIUS,
    FLEXURAL_RIGIDITY,
    FREQUENCY_SIMPLE,
    MEMBRANE_STIFFENED_DEFLECTION,
    MEMBRANE_STIFFNESS_CLAMPED,
    MEMBRANE_STIFFNESS_HELD,
    MEMBRANE_STIFFNESS_SIMPLE,
    NAVIER_DEFLECTION,
    NAVIER_PATCH,
    NAVIER_POINT,
    NAVIER_UNIFORM,
)
from jointcalc.quantity.sentence import mm
from jointcalc.statics.band import Band, first_mode
from jointcalc.statics.distinct import distinct

Array = npt.NDArray[np.float64]
Edge = Literal["simple", "clamped"]
Edges = Edge | tuple[Edge, Edge]
"""All edges alike, or (the two edges at x = 0 and a, the two edges at y = 0 and b)."""

NAVIER_TERMS = 400
RITZ_TERMS = (24, 60)
"""Functions in either direction: for spread loads, and for a load on a point; small patches lie between."""
REACH = 2
"""How far apart functions of one parity meet: those of a clamped side are made of three of Legendre's each."""


class Rigidity(NamedTuple):
    """Bending rigidities per width [N·mm]: along x, along y, Poisson coupling, twisting (M_xy = 2 D_xy w_xy)."""

    D_x: float
    D_y: float
    D_1: float
    D_xy: float


class Membrane(NamedTuple):
    """Stretching stiffnesses per width [N/mm]: along x, along y, in-plane shear; nu couples y to x."""

    A_x: float
    A_y: float
    A_xy: float
    nu: float


@dataclass(frozen=True, slots=True)
class Patch:
    """A force [N] spread evenly over a rectangle c x d [mm] centred at (x, y); c = d = 0 is a point."""

    force: float
    x: float
    y: float
    c: float = 0.0
    d: float = 0.0


def flat(E: float, nu: float, t: float) -> tuple[Rigidity, Membrane]:
    """Bending and stretching stiffness of flat sheet: E [MPa], thickness t [mm]."""
    D = float(FLEXURAL_RIGIDITY(E=E, t=t, nu=nu))
    return Rigidity(D, D, nu * D, D * (1 - nu) / 2), Membrane(E * t, E * t, E * t / (2 * (1 + nu)), nu)


# --- checking -------------------------------------------------------------------------------------------


def _check(a: float, b: float, rigidity: Rigidity, edges: Edges) -> tuple[Edge, Edge]:
    for name, side in (("length", a), ("width", b)):
        if not (isfinite(side) and side > 0):
            raise InputError(f"the panel needs a {name} greater than zero, got {mm(side):g}", field="size")
    if not (rigidity.D_x > 0 and rigidity.D_y > 0 and rigidity.D_xy > 0):
        raise InputError("the bending and twisting rigidities must be greater than zero", field="rigidity")
    if rigidity.D_x * rigidity.D_y <= rigidity.D_1**2:
        raise InputError(
            "the Poisson coupling D_1 is too large: D_1² must stay below D_x·D_y for a stable sheet", field="rigidity"
        )
    pair = (edges, edges) if isinstance(edges, str) else edges
    for edge in pair:
        if edge not in ("simple", "clamped"):
            raise InputError(f"'{edge}' is not a kind of edge; give simple or clamped", field="edges")
    return pair


def _check_patch(patch: Patch, a: float, b: float) -> None:
    slack = 1e-9
    if not isfinite(patch.force):
        raise InputError("the force on the panel must be a finite number", field="patch")
    if patch.c < 0 or patch.d < 0 or (patch.c > 0) != (patch.d > 0):
        raise InputError("a loaded rectangle needs both its sides; leave both out for a point load", field="patch")
    for at, size, side in ((patch.x, patch.c, a), (patch.y, patch.d, b)):
        if not (at - size / 2 >= -slack * side and at + size / 2 <= side * (1 + slack)):
            raise InputError(
                f"the loaded rectangle {mm(patch.c, ' x ', patch.d):g} at {mm(patch.x, ', ', patch.y):g} reaches "
                "over the "
                f"edge of the {mm(a, ' x ', b):g} panel; move it inside",
                field="patch",
            )


# --- functions of one direction ---------------------------------------------------------------------------


@lru_cache(maxsize=4)
def _clamped_series(count: int) -> Array:
    """Legendre coefficients of functions on (-1, 1), zero with their slope at both ends.

    Their second derivatives are Legendre polynomials of degree 2, 3, ..., normalised, so the bending
    energy is diagonal and the system well conditioned however many are taken.
    """
    out = np.zeros((count, count + 4))
    for i in range(count):
        k = i + 2
        norm = np.sqrt((2 * k + 1) / 2)
        out[i, k + 2] = norm / ((2 * k + 1) * (2 * k + 3))
        out[i, k] = -2 * norm / ((2 * k - 1) * (2 * k + 3))
        out[i, k - 2] = norm / ((2 * k + 1) * (2 * k - 1))
    return out


@lru_cache(maxsize=16)
def _clamped_derivatives(count: int, order: int) -> Array:
    """Legendre coefficients of a derivative of those functions, shape (coefficients, count)."""
    return np.asarray(np.polynomial.legendre.legder(_clamped_series(count), order, axis=1).T)


def _functions(edge: Edge, side: float, count: int, at: Array, order: int) -> Array:
    """Derivative `order` of every function at the places `at` (mm), shape (count, len(at))."""
    if edge == "simple":
        k = np.arange(1, count + 1)[:, None] * pi / side
        return np.asarray(k**order * np.sin(k * at + order * pi / 2))
    series = _clamped_derivatives(count, order)
    polynomials = np.polynomial.legendre.legvander(2 * at / side - 1, len(series) - 1)
    return np.asarray((polynomials @ series).T * (2 / side) ** order)


class _Direction(NamedTuple):
    """Integrals over one side: of f f, f'' f (row: second derivative), f' f', f'' f''; and of f alone."""

    mass: Array
    mixed: Array
    slope: Array
    bending: Array
    load: Array

    def of_parity(self, parity: int) -> _Direction:
        """Only the functions even (0) or odd (1) about the middle; they alternate in both families."""
        pick = slice(parity, None, 2)
        mass, mixed, slope, bending = (X[pick, pick] for X in self[:4])
        return _Direction(mass, mixed, slope, bending, self.load[pick])


@lru_cache(maxsize=16)
def _unit_direction(edge: Edge, count: int) -> _Direction:
    """The integrals over a side of 1 mm; every other side has the same but for its power."""
    z, weight = np.polynomial.legendre.leggauss(2 * count + 12)
    at, weight = (z + 1) / 2, weight / 2
    f, f1, f2 = (_functions(edge, 1.0, count, at, order) for order in (0, 1, 2))
    return _Direction((f * weight) @ f.T, (f2 * weight) @ f.T, (f1 * weight) @ f1.T, (f2 * weight) @ f2.T, f @ weight)


def _direction(edge: Edge, side: float, count: int) -> _Direction:
    one = _unit_direction(edge, count)
    return _Direction(one.mass * side, one.mixed / side, one.slope / side, one.bending / side**3, one.load * side)


def _over(edge: Edge, side: float, count: int, centre: float, size: float) -> Array:
    """Mean of every function over the loaded length."""
    if size == 0:
        return _functions(edge, side, count, np.array([centre]), 0)[:, 0]
    z, weight = np.polynomial.legendre.leggauss(count + 4)
    return np.asarray(_functions(edge, side, count, centre + size / 2 * z, 0) @ weight / 2)


def _together(x: Array, y: Array) -> Band:
    """Products of what functions along x do to each other and of what those along y do, x slowest.

    `x` and `y` (products, functions, functions), summed over the products; symmetric as a whole.  No function meets
    another farther than `REACH` from it: Legendre's, and sines, are orthogonal.
    """
    m, n = x.shape[-1], y.shape[-1]
    wide = REACH * (n + 1)
    out = np.zeros((m, n, wide + 1))
    for i in range(min(REACH, m - 1) + 1):
        for j in range(max(-REACH, 1 - n), min(REACH, n - 1) + 1):
            if i * n + j >= 0:
                along, across = np.diagonal(x, i, 1, 2), np.diagonal(y, j, 1, 2)
                out[i:, max(j, 0) : n + min(j, 0), wide - i * n - j] += along.T @ across
    return Band(out.ravel(), wide)


def _stiffness(x: _Direction, y: _Direction, D: Rigidity) -> Band:
    along = np.stack([D.D_x * x.bending, D.D_y * x.mass, D.D_1 * x.mixed, D.D_1 * x.mixed.T, 4 * D.D_xy * x.slope])
    return _together(along, np.stack([y.mass, y.bending, y.mixed.T, y.mixed, y.slope]))


# --- solution -------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, eq=False)
class Plate:
    """A solved plate."""

    a: float
    b: float
    rigidity: Rigidity
    edges: tuple[Edge, Edge]
    patches: tuple[Patch, ...]
    _amplitudes: Array  # (functions along x, functions along y)

    def _field(self, x: Array, y: Array, order_x: int, order_y: int) -> Array:
        along = _functions(self.edges[0], self.a, self._amplitudes.shape[0], x, order_x)
        across = _functions(self.edges[1], self.b, self._amplitudes.shape[1], y, order_y)
        return np.asarray(along.T @ self._amplitudes @ across)

    def deflection(self, x: float, y: float) -> float:
        """Deflection at one point [mm]."""
        return float(self._field(np.array([x]), np.array([y]), 0, 0)[0, 0])

    def deflections(self, x: Array, y: Array) -> Array:
        """Deflections on the grid of x and y [mm], shape (len(x), len(y))."""
        return self._field(x, y, 0, 0)

    def moments(self, x: Array, y: Array) -> tuple[Array, Array, Array]:
        """Moments per width M_x, M_y, M_xy on the grid of x and y [N].

        Under a point load they have no limit; give the load a size.
        """
        D = self.rigidity
        w_xx, w_yy = self._field(x, y, 2, 0), self._field(x, y, 0, 2)
        return (
            -(D.D_x * w_xx + D.D_1 * w_yy),
            -(D.D_y * w_yy + D.D_1 * w_xx),
            2 * D.D_xy * self._field(x, y, 1, 1),
        )

    def _places(self, count: int) -> tuple[Array, Array]:
        """A grid that includes edges, centre lines and patch centres."""
        x = distinct(np.linspace(0.0, self.a, count), [p.x for p in self.patches])
        y = distinct(np.linspace(0.0, self.b, count), [p.y for p in self.patches])
        return x, y

    def deflection_max(self) -> tuple[float, float, float]:
        """Deflection largest in size [mm] and where it is (x, y) [mm]."""
        x, y = self._places(33)
        for _ in range(3):
            w = np.abs(self.deflections(x, y))
            i, j = divmod(int(w.argmax()), w.shape[1])
            best = float(x[i]), float(y[j])
            # look again between the neighbours; the best place so far stays among the new ones
            x = distinct(np.linspace(x[max(i - 1, 0)], x[min(i + 1, len(x) - 1)], 13), [best[0]])
            y = distinct(np.linspace(y[max(j - 1, 0)], y[min(j + 1, len(y) - 1)], 13), [best[1]])
        return self.deflection(*best), *best

    def moment_max(self) -> tuple[float, float]:
        """M_x and M_y largest in size over the plate, edges and patch centres [N], with sign.

        Raises InputError under a point load, whose moment has no limit.
        """
        if any(p.c == 0 and p.force for p in self.patches):
            raise InputError(
                "a load on a mathematical point has no finite stress; give the loaded area, such as 50 x 50 mm",
                field="patch",
            )
        M_x, M_y, _ = self.moments(*self._places(65))
        return tuple(float(M.flat[int(np.abs(M).argmax())]) for M in (M_x, M_y))  # type: ignore[return-value]


def solve(
    a: float,
    b: float,
    rigidity: Rigidity,
    edges: Edges,
    *,
    pressure: float = 0.0,
    patches: Sequence[Patch] = (),
    terms: int | None = None,
) -> Plate:
    """Solve a plate of sides a, b [mm] under a pressure [MPa] and loaded patches.

    `terms` is the number of functions in either direction; the default holds deflections to about
    0.2 % under a point load and far better under spread ones, and moments under a patch no smaller than
    a tenth of the side to about 1 %.  Raises InputError for sides or rigidities that are not positive,
    unknown edges, and loads off the plate.
    """
    pair = _check(a, b, rigidity, edges)
    if not isfinite(pressure):
        raise InputError("the pressure must be a finite number", field="pressure")
    for patch in patches:
        _check_patch(patch, a, b)
    if pair == ("simple", "simple"):
        amplitudes = _navier(a, b, rigidity, pressure, patches, terms or NAVIER_TERMS)
    else:
        count = terms or _ritz_terms(a, b, rigidity, patches)
        x, y = _direction(pair[0], a, count), _direction(pair[1], b, count)
        load: Array = pressure * np.outer(x.load, y.load)
        for p in patches:
            load = load + p.force * np.outer(_over(pair[0], a, count, p.x, p.c), _over(pair[1], b, count, p.y, p.d))
        amplitudes = np.zeros((count, count))
        # functions even and odd about the middle do not interact: four systems of a quarter of the size
        for part in ((i, j) for i in (0, 1) for j in (0, 1)):
            where = (slice(part[0], None, 2), slice(part[1], None, 2))
            block = load[where]
            if np.abs(block).max(initial=0.0) > 1e-14 * np.abs(load).max():
                K = _stiffness(x.of_parity(part[0]), y.of_parity(part[1]), rigidity)
                amplitudes[where] = K.solve(block.ravel()).reshape(block.shape)
    return Plate(a, b, rigidity, pair, tuple(patches), amplitudes)


def _ritz_terms(a: float, b: float, D: Rigidity, patches: Sequence[Patch]) -> int:
    """Enough functions to follow the smallest loaded patch and the bands along the edges of a long plate."""
    few, many = RITZ_TERMS
    finest = max((max(a / p.c, b / p.d) if p.c > 0 else inf for p in patches), default=0.0)
    aspect = a / b * (D.D_y / D.D_x) ** 0.25  # side ratio of the flat plate that bends alike
    wanted = max(4 * min(finest, many), 8 * min(max(aspect, 1 / aspect), many))
    return min(max(few, 2 * int(np.ceil(wanted / 2))), many)


def _navier(a: float, b: float, D: Rigidity, pressure: float, patches: Sequence[Patch], terms: int) -> Array:
    m = np.arange(1.0, terms + 1)[:, None]
    n = np.arange(1.0, terms + 1)[None, :]
    odd = (m % 2 == 1) & (n % 2 == 1)
    q_mn = np.where(odd, NAVIER_UNIFORM(q=pressure, m=m, n=n), 0.0)
    for p in patches:
        place = {"P": p.force, "m": m, "n": n, "a": a, "b": b, "x_0": p.x, "y_0": p.y}
        q_mn = q_mn + (NAVIER_PATCH(**place, c=p.c, d=p.d) if p.c > 0 else NAVIER_POINT(**place))
    return np.asarray(NAVIER_DEFLECTION(q_mn=q_mn, m=m, n=n, a=a, b=b, **D._asdict()))


def frequency_1(a: float, b: float, rigidity: Rigidity, edges: Edges, mass_per_area: float) -> float:
    """First natural frequency [Hz] of a plate of mass per area [t/mm²].

    Exact for simple edges, converged to about 0.001 % (from above) otherwise.  Raises InputError as
    `solve` does, and for a mass that is not positive.
    """
    pair = _check(a, b, rigidity, edges)
    if not (isfinite(mass_per_area) and mass_per_area > 0):
        raise InputError("the panel needs a mass per area greater than zero", field="mass")
    if pair == ("simple", "simple"):
        return float(FREQUENCY_SIMPLE(a=a, b=b, mu=mass_per_area, **rigidity._asdict()))
    count = min(_ritz_terms(a, b, rigidity, ()), 36)
    # the first mode has no node line, so it is even about both middles
    x, y = _direction(pair[0], a, count).of_parity(0), _direction(pair[1], b, count).of_parity(0)
    mass = _together(mass_per_area * x.mass[None], y.mass[None])
    slowest, _ = first_mode(_stiffness(x, y, rigidity), mass.times, np.eye(1, x.mass.shape[0] * y.mass.shape[0])[0])
    return sqrt(slowest) / (2 * pi)


# --- beyond half the thickness, and the stress under a concentrated load -----------------------------------------


def membrane_stiffened(
    a: float,
    b: float,
    membrane: Membrane,
    edges: Edge,
    w_lin: float,
    *,
    pressure: float = 0.0,
    force: float = 0.0,
    held: bool = False,
) -> float:
    """Estimate of the central deflection [mm] with membrane stiffening, from the linear one.

    Give the pressure [MPa] or the central force [N] that causes `w_lin` [mm].  `held` edges cannot draw
    in; by default they stay straight but may move, which is the softer assumption.  One-term estimate,
    our derivation: flat square plates under pressure come within 6 % of Levy's solutions; for beaded
    sheet and for a concentrated force it is less certain.  Raises InputError unless exactly one load
    is given.
    """
    if (pressure != 0) == (force != 0):
        raise InputError("give either the pressure or the force that the linear deflection belongs to", field="load")
    if w_lin == 0:
        return 0.0
    sides = {"a": a, "b": b, "A_x": membrane.A_x, "A_y": membrane.A_y}
    if edges == "simple":
        k_3 = MEMBRANE_STIFFNESS_SIMPLE(**sides)
        share, slope = 4 / pi**2, 1 / 8
    else:
        k_3 = MEMBRANE_STIFFNESS_CLAMPED(**sides, A_xy=membrane.A_xy, nu=membrane.nu)
        share, slope = 1 / 4, 3 / 32
    if held:
        k_3 = k_3 + MEMBRANE_STIFFNESS_HELD(**sides, nu=membrane.nu, beta=slope)
    Q = abs(force) if force else abs(pressure) * a * b * share
    size = MEMBRANE_STIFFENED_DEFLECTION(w_lin=abs(w_lin), k_3=k_3, Q=Q)
    return float(np.copysign(size, w_lin))


MEAN_LOG_RADIUS = 0.5706
"""Radius over side of the circle that loads a plate like a square: equal mean of the logarithm of the distance."""


def central_load_stress(a: float, b: float, t: float, nu: float, force: float, radius: float, edges: Edge) -> float:
    """Greatest stress [MPa] at the middle of a flat plate under a central force on a small circle [mm].

    Roark's expression with the coefficient of the side ratio computed here from the plate solution, so
    that any side ratio and clamped edges are covered.  Raises InputError when the circle is too large.
    """
    long, short = max(a, b), min(a, b)
    r_e = float(EQUIVALENT_RADIUS(r_0=radius, t=t))
    given = {"W": force, "t": t, "nu": nu, "b": short, "r_e": r_e}
    beta = _central_beta(round(long / short, 9), nu, edges)
    reasons = CENTRAL_LOAD_STRESS.outside(**given, beta=beta)
    if reasons:
        raise InputError(f"the load is too wide for the formula of a concentrated load: {reasons[0]}", field="patch")
    return float(CENTRAL_LOAD_STRESS(**given, beta=beta))


@lru_cache(maxsize=64)
def _central_beta(ratio: float, nu: float, edges: Edge) -> float:
    """Coefficient beta of Roark's central-load stress, from two loaded squares.

    The remainder beyond the logarithm falls with the square of the size of the load, so two sizes
    give its limit.
    """
    rigidity, _ = flat(1.0, nu, 1.0)
    found = []
    for side in (0.1, 0.2):
        plate = solve(ratio, 1.0, rigidity, edges, patches=[Patch(1.0, ratio / 2, 0.5, side, side)],
                      terms=None if edges == "simple" else RITZ_TERMS[1])  # fmt: skip
        M_x, M_y, _ = plate.moments(np.array([ratio / 2]), np.array([0.5]))
        M = max(float(M_x[0, 0]), float(M_y[0, 0]))
        found.append(4 * pi * M - (1 + nu) * np.log(2 / (pi * MEAN_LOG_RADIUS * side)))
    return float(found[0] + (found[0] - found[1]) / 3)
