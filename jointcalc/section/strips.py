"""Elastic buckling of thin-walled profiles by finite strips, for any outline of `section`.

The mid-line is cut into long flat strips.  Across a strip the plate bends as a cubic and stretches
linearly; along the brace every movement follows a series (semi-analytical finite strips after
Y. K. Cheung, Finite Strip Method in Structural Analysis, 1976; classical thin plate, membrane and
bending, four degrees of freedom on every nodal line).  Simply supported ends take one harmonic,
`sin(pi x / a)`, so that each half-wavelength `a` is a problem of its own; fixed ends take the coupled
series `sin(m pi x / a) sin(pi x / a)`.

Written for any series Y_m with Y = 0 at both ends: movements in the plane of the section go with Y,
movements along the brace with Y', and every energy is a sum of three integrals,

    P = integral of Y_m Y_n,   Q = integral of Y_m' Y_n',   R = integral of Y_m'' Y_n'',

each times a matrix of the section alone (integral of Y_m Y_n'' is -Q).  Those matrices are assembled
once; all half-wavelengths are then solved together: movements along the brace carry no work of the
stress and are condensed out, the elastic stiffness is factored (Cholesky), and the largest eigenvalue
of the reduced geometric stiffness is one over the lowest load factor.

Signs: stress is positive in compression, `N` compresses, `M_y > 0` compresses the top (sagging),
`M_z > 0` compresses the right-hand side.

Decided here:

- The work of the stress is that on the movements across the brace; that on movements along it is of
  the order of stress over E and is left out, as in the column formulas of the codes.
- Fixed ends: the sheet's contraction across (Poisson's ratio in its own plane) is left out.  The series
  cannot follow it near the ends with a few terms, and would make the sheet up to 1 / (1 - nu^2) too
  stiff along the brace.
- A bend is drawn by chords between points of its mid-line, one to every 22.5 degrees or finer.
- A weld line is a rigid link between the two mid-lines, along its whole length.  Sheets that lie
  double are free to part and to pass through each other, which is on the safe side; what happens
  between spots is the matter of the checks of the seam.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from math import ceil, pi
from typing import Any, Literal

import numpy as np
import numpy.typing as npt

from jointcalc.errors import InputError
from jointcalc.section.outline import Bools, Floats, Outline

Ends = Literal["simple", "fixed"]
Ints = npt.NDArray[np.intp]

STRIPS = 24
"""Strips to the developed length of a profile; bends and short flats add some.  100 would change less than 1 %."""
MOST = 12
"""Strips to one flat: more gain nothing, and narrow strips lose digits over long half-wavelengths."""
CHORD = pi / 8
"""Largest turn [rad] of a bend that one strip draws."""
WORKSPACE = 4_000_000
"""Numbers in one stack of matrices; longer lists of half-wavelengths go in several stacks."""

Y, Z, TURN, ALONG = range(4)
"""Order of the movements of a nodal line: two across the brace, rotation about it, along it."""


@dataclass(frozen=True)
class Strips:
    """A section cut into strips.

    Nodal lines at `y`, `z` [mm] `(nodes,)`; strip `k` lies between lines `first[k]` and `last[k]`, has
    thickness `t[k]` [mm], modulus ratio `ratio[k]` and belongs to segment `segment[k]` of the outline.
    `links` are pairs of lines joined rigidly.  `held` `(nodes, 4)` marks movements that are kept zero
    (across y, across z, rotation, along).  `corner[i]` marks the lines that are nodes of the outline
    or lie on one of its arcs.
    """

    y: Floats
    z: Floats
    first: Ints
    last: Ints
    t: Floats
    ratio: Floats
    segment: Ints
    links: tuple[tuple[int, int], ...]
    held: Bools
    corner: Bools

    @property
    def nodes(self) -> int:
        """How many nodal lines there are."""
        return len(self.y)

    @cached_property
    def width(self) -> Floats:
        """Width of each strip [mm]."""
        return np.hypot(self.y[self.last] - self.y[self.first], self.z[self.last] - self.z[self.first])

    @cached_property
    def moments(self) -> tuple[float, float, float, float, float, float]:
        """(area, y and z of the centroid, I_y, I_z, I_yz) of the strips, transformed [mm]."""
        a = self.ratio * self.t * self.width
        y_1, y_2, z_1, z_2 = self.y[self.first], self.y[self.last], self.z[self.first], self.z[self.last]
        area = a.sum()
        y_c, z_c = (a * (y_1 + y_2)).sum() / 2 / area, (a * (z_1 + z_2)).sum() / 2 / area
        y_1, y_2, z_1, z_2 = y_1 - y_c, y_2 - y_c, z_1 - z_c, z_2 - z_c
        c, s = (y_2 - y_1) / self.width, (z_2 - z_1) / self.width
        thick = a * self.t**2 / 12  # the strip's own second moment across its thickness
        i_y = (a * (z_1 * z_1 + z_1 * z_2 + z_2 * z_2)).sum() / 3 + (thick * c * c).sum()
        i_z = (a * (y_1 * y_1 + y_1 * y_2 + y_2 * y_2)).sum() / 3 + (thick * s * s).sum()
        i_yz = (a * (2 * (y_1 * z_1 + y_2 * z_2) + y_1 * z_2 + y_2 * z_1)).sum() / 6 - (thick * c * s).sum()
        return float(area), float(y_c), float(z_c), float(i_y), float(i_z), float(i_yz)

    def stress(self, *, N: float = 0.0, M_y: float = 0.0, M_z: float = 0.0, guided: bool = False) -> Floats:
        """Longitudinal stress [MPa], compression positive, at each nodal line `(nodes,)`, linear over the section.

        `N` [N] compresses, `M_y` [N mm] compresses the top, `M_z` the right-hand side.  Unless `guided`
        the product of inertia counts: bending about y of a zed also bends it sideways.  `guided` means
        held sideways, so that the stress of `M_y` goes with z alone and that of `M_z` with y alone.
        """
        area, y_c, z_c, i_y, i_z, i_yz = self.moments
        y, z = self.y - y_c, self.z - z_c
        if guided:
            return N / area + M_y * z / i_y + M_z * y / i_z
        det = i_y * i_z - i_yz**2
        by, bz = (M_z * i_y - M_y * i_yz) / det, (M_y * i_z - M_z * i_yz) / det
        return np.asarray(N / area + by * y + bz * z)

    def hold(self, nodes: Sequence[int], *movements: int) -> Strips:
        """The same strips with movements (`Y`, `Z`, `TURN`, `ALONG`) of some lines kept zero."""
        held = self.held.copy()
        for movement in movements:
            held[list(nodes), movement] = True
        return Strips(
            self.y, self.z, self.first, self.last, self.t, self.ratio, self.segment, self.links, held, self.corner
        )


def cut(outline: Outline, column: int = 0, *, strips: int = STRIPS, chord: float = CHORD) -> Strips:
    """Cut one section of an outline into strips, about `strips` to its developed length.

    Every flat gets two to `MOST` strips (one when it is shorter than half the sheet), every bend at least
    one to each turn of `chord` [rad], wide ones (beads, tubes) one to two thicknesses.  Raises InputError
    when the outline is in separate pieces.
    """
    _ = outline.tree  # in one piece
    col = column if outline.batch > 1 else 0

    def of(array: Floats, i: int) -> float:
        return float(array[i, column if array.shape[-1] > 1 else 0])

    ys, zs = list(outline.y[:, col]), list(outline.z[:, col])
    corner = [True] * len(ys)
    size = {}
    for i, piece in enumerate(outline.segments):
        if piece.kind == "bend":
            size[i] = abs(of(outline.sweep, i)) * of(outline.radius, i)
        elif piece.kind == "flat":
            size[i] = float(np.hypot(ys[piece.end] - ys[piece.start], zs[piece.end] - zs[piece.start]))
    whole = sum(size.values())
    same: dict[int, int] = {}  # nodes at the two ends of a flat that bends have used up
    rows: list[tuple[int, int, int]] = []
    for i, length in size.items():
        piece = outline.segments[i]
        t = of(outline.t, i)
        if length <= 1e-6 * t:
            same[piece.end] = piece.start
            continue
        if piece.kind == "bend":
            least = ceil(abs(of(outline.sweep, i)) / chord - 1e-9)
            n = max(least, ceil(length * strips / whole), min(ceil(length / (2 * t)), MOST))
        else:
            n = min(max(1 if length < t / 2 else 2, ceil(length * strips / whole)), MOST)
        line = outline.polyline(i, column, n + 1) if piece.kind == "bend" else np.linspace(
            (ys[piece.start], zs[piece.start]), (ys[piece.end], zs[piece.end]), n + 1
        )  # fmt: skip
        inner = list(range(len(ys), len(ys) + n - 1))
        ys += list(line[1:-1, 0])
        zs += list(line[1:-1, 1])
        corner += [piece.kind == "bend"] * (n - 1)
        path = [piece.start, *inner, piece.end]
        rows += [(a, b, i) for a, b in pairwise(path)]
    links = [(p.start, p.end) for p in outline.segments if p.kind == "weld"]

    def root(node: int) -> int:
        while node in same:
            node = same[node]
        return node

    used = sorted({root(n) for a, b, _ in rows for n in (a, b)})
    number = {node: k for k, node in enumerate(used)}
    index = np.array([(number[root(a)], number[root(b)], i) for a, b, i in rows], dtype=np.intp)
    keep = np.array(used, dtype=np.intp)
    thickness = np.array([of(outline.t, int(i)) for i in index[:, 2]])
    ratio = np.array([of(outline.ratio, int(i)) for i in index[:, 2]])
    return Strips(
        y=np.array(ys)[keep], z=np.array(zs)[keep], first=index[:, 0], last=index[:, 1], t=thickness, ratio=ratio,
        segment=index[:, 2], links=tuple((number[root(a)], number[root(b)]) for a, b in links),
        held=np.zeros((len(keep), 4), dtype=bool), corner=np.array(corner)[keep],
    )  # fmt: skip


def plate(*, width: float, t: float, strips: int) -> Strips:
    """A flat plate of that width [mm], level, cut into equal strips: for single walls and for comparisons."""
    line = np.linspace(0.0, width, strips + 1)
    n = np.arange(strips, dtype=np.intp)
    corner = np.zeros(strips + 1, dtype=bool)
    corner[[0, -1]] = True
    return Strips(
        y=line, z=np.zeros(strips + 1), first=n, last=n + 1, t=np.full(strips, t), ratio=np.ones(strips),
        segment=np.zeros(strips, dtype=np.intp), links=(), held=np.zeros((strips + 1, 4), dtype=bool), corner=corner,
    )  # fmt: skip


# --- matrices of the section ---------------------------------------------------------------------------


@dataclass(frozen=True)
class Matrices:
    """Stiffness of a strip model, per length: what multiplies P, Q and R, and the work of the stress (by Q).

    Rows are `(nodes * 4)`, movements of a node together, movements along the brace as the factor of Y'.
    """

    p: Floats
    q: Floats
    r: Floats
    work: Floats


SECOND = np.array([[12.0, 6, -12, 6], [6, 4, -6, 2], [-12, -6, 12, -6], [6, 2, -6, 4]])
FIRST = np.array([[36.0, 3, -36, 3], [3, 4, -3, -1], [-36, -3, 36, -3], [3, -1, -3, 4]]) / 30
ZERO = np.array([[156.0, 22, 54, -13], [22, 4, 13, -3], [54, 13, 156, -22], [-13, -3, -22, 4]]) / 420
"""Integrals of H''H'', H'H' and HH for the cubic over a unit width, rows (w1, turn1, w2, turn2)."""


def _local_bending(b: Floats) -> tuple[Floats, Floats, Floats, Floats]:
    """Integrals over strips of width `b` of H''H'', H'H', HH and H''H for the cubic."""
    one = np.ones_like(b)
    size = np.stack([one, b, one, b], axis=1)
    both = size[:, :, None] * size[:, None, :]
    wide = b[:, None, None]
    second, first, zero = SECOND * both / wide**3, FIRST * both / wide, ZERO * both * wide
    # integral of H''H = [H'H] - integral of H'H': the ends give turn times deflection
    mixed = -first
    mixed[:, 1, 0] -= 1
    mixed[:, 3, 2] += 1
    return second, first, zero, mixed


def matrices(model: Strips, stress: Floats, *, E: float, nu: float, stretch_nu: float | None = None) -> Matrices:
    """Assemble the section's matrices under a longitudinal stress [MPa, of the reference material] at the nodal lines.

    `stretch_nu` is Poisson's ratio in the plane of the sheet, that of the material when left out.
    """
    b, t = model.width, model.t
    e = E * model.ratio
    n = len(b)
    second, first, zero, mixed = _local_bending(b)
    rigid = (e * t**3 / (12 * (1 - nu**2)))[:, None, None]
    bend_p = rigid * second
    bend_q = rigid * (2 * (1 - nu) * first - nu * (mixed + mixed.transpose(0, 2, 1)))
    bend_r = rigid * zero
    nu_m = nu if stretch_nu is None else stretch_nu
    sheet, shear = e * t / (1 - nu_m**2), e * t / (2 * (1 + nu))
    pair = np.array([[1.0, -1.0], [-1.0, 1.0]])
    lump = np.array([[2.0, 1.0], [1.0, 2.0]]) / 6
    slope = np.array([[-0.5, -0.5], [0.5, 0.5]])  # integral of N' N
    # local order: u1 v1 w1 turn1 u2 v2 w2 turn2 (u in the plane of the strip across the brace, v along it)
    p, q, r, work = (np.zeros((n, 8, 8)) for _ in range(4))
    u, v, w = [0, 4], [1, 5], [2, 3, 6, 7]
    uu, uv, vu, vv, ww = np.ix_(u, u), np.ix_(u, v), np.ix_(v, u), np.ix_(v, v), np.ix_(w, w)
    every = (slice(None),)
    p[every + uu] = (sheet / b)[:, None, None] * pair
    q[every + uu] = (shear * b)[:, None, None] * lump
    r[every + vv] = (sheet * b)[:, None, None] * lump
    q[every + vv] = (shear / b)[:, None, None] * pair
    across = -nu_m * sheet[:, None, None] * slope + shear[:, None, None] * slope.T
    q[every + uv] = across
    q[every + vu] = across.transpose(0, 2, 1)
    p[every + ww], q[every + ww], r[every + ww] = bend_p, bend_q, bend_r
    # work of the stress s1 .. s2 (linear) on u' and w'
    s_1, s_2 = model.ratio * stress[model.first], model.ratio * stress[model.last]
    on_u = np.empty((n, 2, 2))
    on_u[:, 0, 0], on_u[:, 1, 1] = 3 * s_1 + s_2, s_1 + 3 * s_2
    on_u[:, 0, 1] = on_u[:, 1, 0] = s_1 + s_2
    work[every + uu] = (t * b / 12)[:, None, None] * on_u
    work[every + ww] = (t * b)[:, None, None] * _work_on_cubic(b, s_1, s_2)
    turn = rotation(model)
    index = (np.stack([model.first, model.last], axis=1)[:, :, None] * 4 + np.arange(4)).reshape(n, 8)
    size = 4 * model.nodes
    out = []
    for local in (p, q, r, work):
        globally = turn.transpose(0, 2, 1) @ local @ turn
        whole = np.zeros((size, size))
        np.add.at(whole, (index[:, :, None], index[:, None, :]), globally)
        out.append(whole)
    return Matrices(*out)


def _work_on_cubic(b: Floats, s_1: Floats, s_2: Floats) -> Floats:
    """Integral over the strip of (s_1 .. s_2) H H over its width, by Gauss (exact for degree seven)."""
    points, weights = np.polynomial.legendre.leggauss(4)
    out = np.zeros((len(b), 4, 4))
    for point, weight in zip((points + 1) / 2, weights / 2, strict=True):
        x = float(point)
        shape = np.stack(
            [
                np.full_like(b, 1 - 3 * x**2 + 2 * x**3), b * (x - 2 * x**2 + x**3),
                np.full_like(b, 3 * x**2 - 2 * x**3), b * (x**3 - x**2),
            ],
            axis=1,
        )  # fmt: skip
        out += (weight * (s_1 + (s_2 - s_1) * x))[:, None, None] * shape[:, :, None] * shape[:, None, :]
    return out


def rotation(model: Strips) -> Floats:
    """Local movements (u, v, w, turn at each line) from those of the section (y, z, turn, along)."""
    c = (model.y[model.last] - model.y[model.first]) / model.width
    s = (model.z[model.last] - model.z[model.first]) / model.width
    out = np.zeros((len(c), 8, 8))
    for k in (0, 4):
        out[:, k, k + Y], out[:, k, k + Z] = c, s
        out[:, k + 1, k + ALONG] = 1
        out[:, k + 2, k + Y], out[:, k + 2, k + Z] = -s, c
        out[:, k + 3, k + TURN] = 1
    return out


def freedom(model: Strips, *, offset: bool = True) -> tuple[Floats, int]:
    """(matrix `(4 nodes, free)`, how many are across): every movement from the free ones.

    Links and held movements are worked in; the free movements along the brace come last.  Without
    `offset` linked lines move alike, as if they lay on each other.
    """
    size = 4 * model.nodes
    whole = np.eye(size)
    for one, other in model.links:
        dy, dz = (model.y[other] - model.y[one], model.z[other] - model.z[one]) if offset else (0.0, 0.0)
        a, b = 4 * one, 4 * other
        own = whole[a : a + 4].copy()
        whole[b + Y] = own[Y] - dz * own[TURN]
        whole[b + Z] = own[Z] + dy * own[TURN]
        whole[b + TURN] = own[TURN]
        # no shear strain in the link: what moves along differs by the slope of what moves in line with it
        whole[b + ALONG] = own[ALONG] - dy * own[Y] - dz * own[Z]
    slaves = {other for _, other in model.links}
    free = [
        [4 * node + way for node in range(model.nodes) if node not in slaves and not model.held[node, way]]
        for way in (Y, Z, TURN, ALONG)
    ]
    across = len(free[Y]) + len(free[Z]) + len(free[TURN])
    return whole[:, [way for group in free for way in group]], across


# --- series along the brace ------------------------------------------------------------------------------


def integrals(length: float, terms: Ints, ends: Ends) -> tuple[Floats, Floats, Floats]:
    """(P, Q, R) over a length [mm] of the series functions `terms`, each `(terms, terms)`."""
    if ends == "simple":
        k = terms * pi / length
        half = length / 2
        return np.diag(np.full(len(k), half)), np.diag(half * k**2), np.diag(half * k**4)
    # sin(m u) sin(u) = (cos((m - 1) u) - cos((m + 1) u)) / 2, and the cosines are orthogonal
    waves = np.arange(int(terms.max()) + 2)
    share = np.zeros((len(terms), len(waves)))
    share[np.arange(len(terms)), terms - 1] = 0.5
    share[np.arange(len(terms)), terms + 1] = -0.5
    weight = np.full(len(waves), length / 2)
    weight[0] = length
    k = waves * pi / length
    return (share * weight) @ share.T, (share * weight * k**2) @ share.T, (share * weight * k**4) @ share.T


# --- solving -----------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Modes:
    """Buckling of a strip model over one length: load factors and the movements that go with them.

    `factors` `(modes,)` from the lowest up, infinite when the stress cannot buckle the section;
    `movements` `(modes, terms, nodes, 4)`: across y, across z, rotation (factors of Y_m) and along
    (factor of Y_m' over m pi / length), the largest movement across the brace scaled to 1.
    """

    length: float
    factors: Floats
    movements: Floats


class Solver:
    """A strip model under one stress [MPa at the nodal lines, compression positive], ready for any length.

    Load factors multiply the stress.  Raises InputError when a length is not a positive number.
    """

    def __init__(
        self, model: Strips, stress: Floats, *, E: float, nu: float, ends: Ends = "simple", terms: int = 1
    ) -> None:
        self.model, self.ends = model, ends
        self.terms = np.arange(1, terms + 1, dtype=np.intp)
        self.free, self.across = freedom(model)
        m = matrices(model, stress, E=E, nu=nu, stretch_nu=nu if ends == "simple" else 0.0)
        p, q, r, work = (self.free.T @ one @ self.free for one in (m.p, m.q, m.r, m.work))
        n = self.across
        self._whole = (p, q, r, work)
        self._elastic = np.stack([p[:n, :n], q[:n, :n], r[:n, :n]])
        self._mixed = np.stack([q[:n, n:], r[:n, n:]])  # r only where links tie along to across
        self._along = np.stack([q[n:, n:], r[n:, n:]])
        self._work = work[:n, :n]

    def _blocks(self, lengths: Floats) -> tuple[Floats, Floats, Floats, Floats]:
        """(across, mixed, along, work) matrices of every length; movements along scaled by the wave number."""
        series = [integrals(float(a), self.terms, self.ends) for a in lengths]
        p, q, r = (np.stack([one[k] for one in series]) for k in range(3))
        k = self.terms * pi / lengths[:, None]
        by_column, by_both = 1 / k[:, None, :], 1 / (k[:, :, None] * k[:, None, :])
        across = _spread(np.stack([p, q, r], axis=-1), self._elastic)
        mixed = _spread(np.stack([q * by_column, r * by_column], axis=-1), self._mixed)
        along = _spread(np.stack([q * by_both, r * by_both], axis=-1), self._along)
        return across, mixed, along, _spread(q[..., None], self._work[None])

    def _reduced(self, lengths: Floats) -> tuple[Floats, Floats, Floats]:
        """(Cholesky factor, reduced work matrix, how movements along follow those across), stacked over lengths."""
        across, mixed, along, work = self._blocks(lengths)
        if along.shape[-1]:
            follow = np.asarray(np.linalg.solve(along, mixed.transpose(0, 2, 1)), dtype=float)
            across -= mixed @ follow
        else:
            follow = mixed.transpose(0, 2, 1)
        factor = np.linalg.cholesky(across)
        half = np.linalg.solve(factor, work)
        whole = np.linalg.solve(factor, half.transpose(0, 2, 1))
        return np.asarray(factor, dtype=float), np.asarray(whole, dtype=float), follow

    def factors(self, lengths: Floats) -> Floats:
        """Lowest load factor `(lengths,)` for each half-wavelength (simple ends) or length (fixed ends) [mm]."""
        lengths = as_lengths(lengths)
        size = (len(self.terms) * self.across) ** 2
        step = max(1, WORKSPACE // size)
        out = np.empty(len(lengths))
        for start in range(0, len(lengths), step):
            part = slice(start, start + step)
            _, whole, _ = self._reduced(lengths[part])
            out[part] = inverse(np.linalg.eigvalsh(whole)[:, -1])
        return out

    def _vectors(self, lengths: Floats, count: int) -> tuple[Floats, Floats, Floats]:
        """(factors `(lengths, modes)`, free movements across and along `(lengths, free, modes)`), lowest first."""
        factor, whole, follow = self._reduced(lengths)
        value, vector = np.linalg.eigh(whole)
        across = np.linalg.solve(factor.transpose(0, 2, 1), vector[:, :, ::-1][:, :, :count])
        return inverse(value[:, ::-1][:, :count]), across, -follow @ across

    def span(self, lengths: Floats, count: int) -> Small:
        """The problem in the `count` lowest modes of each of some half-wavelengths (simple ends).

        At those lengths it is exact, between them an upper bound that errs by the square of what the modes
        lack, and thousands of lengths cost next to nothing.
        """
        lengths = as_lengths(lengths)
        _, across, along = self._vectors(lengths, count)
        along = along / (pi / lengths)[:, None, None]
        basis = np.concatenate([across, along], axis=1).transpose(1, 0, 2).reshape(self.free.shape[1], -1)
        basis, size, _ = np.linalg.svd(basis / np.linalg.norm(basis, axis=0), full_matrices=False)
        basis = basis[:, size > 1e-7 * size[0]]
        return Small(*(np.asarray(basis.T @ one @ basis) for one in self._whole))

    def modes(self, length: float, count: int = 1) -> Modes:
        """The lowest `count` modes over one half-wavelength or length [mm]."""
        lengths = as_lengths(np.array([length]))
        factors, across, along = self._vectors(lengths, count)
        count, terms = factors.shape[1], len(self.terms)
        k = (self.terms * pi / lengths[0])[:, None, None]
        free = np.concatenate([across[0].reshape(terms, -1, count), along[0].reshape(terms, -1, count) / k], axis=1)
        moved = np.einsum("if,mfk->kmi", self.free, free).reshape(count, terms, self.model.nodes, 4)
        moved[..., ALONG] *= k[:, 0, 0][None, :, None]
        largest = np.abs(moved[..., :2]).max(axis=(1, 2, 3), keepdims=True)
        return Modes(float(lengths[0]), factors[0], moved / np.where(largest > 0, largest, 1.0))


@dataclass(frozen=True)
class Small:
    """A strip model, one harmonic, in few patterns of movement: what multiplies P, Q and R, and the work."""

    p: Floats
    q: Floats
    r: Floats
    work: Floats

    def within(self, basis: Floats) -> Small:
        """The same in the patterns that are columns of `basis`."""
        return Small(*(np.asarray(basis.T @ one @ basis) for one in (self.p, self.q, self.r, self.work)))

    def factors(self, lengths: Floats) -> Floats:
        """Lowest load factor at each half-wavelength [mm]; infinite where nothing buckles."""
        lengths = as_lengths(lengths)
        if not len(self.p):
            return np.full(len(lengths), np.inf)
        k = (pi / lengths)[:, None, None] ** 2
        factor = np.linalg.cholesky(self.p + k * self.q + k * k * self.r)
        half = np.linalg.solve(factor, k * self.work)
        whole = np.linalg.solve(factor, half.transpose(0, 2, 1))
        return inverse(np.linalg.eigvalsh(whole)[:, -1])


def as_lengths(lengths: Floats) -> Floats:
    """Lengths as an array; raises InputError where one is not a positive number."""
    lengths = np.atleast_1d(np.asarray(lengths, dtype=float))
    if not np.all(np.isfinite(lengths)) or np.any(lengths <= 0):
        raise InputError("a half-wavelength must be a length above 0", field="half_wavelength")
    return lengths


def inverse(largest: npt.NDArray[Any]) -> Floats:
    """Load factors from the eigenvalues; one that is not positive means that nothing buckles."""
    return np.where(largest > 0, 1 / np.where(largest > 0, largest, 1.0), np.inf)


def _spread(weights: Floats, parts: Floats) -> Floats:
    """Sum over k of weights `(lengths, terms, terms, k)` and parts `(k, i, j)`, as matrices of blocks i by j."""
    lengths, terms, _, k = weights.shape
    i, j = parts.shape[1:]
    out = (weights.reshape(-1, k) @ parts.reshape(k, -1)).reshape(lengths, terms, terms, i, j)
    return out.transpose(0, 1, 3, 2, 4).reshape(lengths, terms * i, terms * j)
