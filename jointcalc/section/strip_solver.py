"""Elastic buckling of thin-walled profiles by finite strips, for any outline of `section`: the series and the solver.

Along the brace every movement of the strips follows a series (semi-analytical finite strips after Y. K. Cheung, Finite
Strip Method in Structural Analysis, 1976).  Simply supported ends take one harmonic, `sin(pi x / a)`, so that each
half-wavelength `a` is a problem of its own; fixed ends take the coupled series `sin(m pi x / a) sin(pi x / a)`.

Written for any series Y_m with Y = 0 at both ends: movements in the plane of the section go with Y,
movements along the brace with Y', and every energy is a sum of three integrals,

    P = integral of Y_m Y_n,   Q = integral of Y_m' Y_n',   R = integral of Y_m'' Y_n'',

each times a matrix of the section alone (integral of Y_m Y_n'' is -Q), `strip_matrices`.  Those are assembled
once; all half-wavelengths are then solved together: movements along the brace carry no work of the
stress and are condensed out, and the largest eigenvalue of the geometric stiffness over the elastic one
is one over the lowest load factor (LAPACK, which finds that one alone).

Signs: stress is positive in compression, `N` compresses, `M_y > 0` compresses the top (sagging),
`M_z > 0` compresses the right-hand side.

Decided here: fixed ends leave out the sheet's contraction across (Poisson's ratio in its own plane).  The series
cannot follow it near the ends with a few terms, and would make the sheet up to 1 / (1 - nu^2) too stiff along the
brace.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import pi
from typing import Any, Literal

import numpy as np
import numpy.typing as npt

from jointcalc.errors import InputError
from jointcalc.lapack import lapack
from jointcalc.section.outline import Floats
from jointcalc.section.strip_matrices import ALONG, freedom, matrices
from jointcalc.section.strips import Ints, Strips

Ends = Literal["simple", "fixed"]
WORKSPACE = 4_000_000
"""Numbers in one stack of matrices; longer lists of half-wavelengths go in several stacks."""


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
        across = _combined(np.stack([p, q, r], axis=-1), self._elastic)
        mixed = _combined(np.stack([q * by_column, r * by_column], axis=-1), self._mixed)
        along = _combined(np.stack([q * by_both, r * by_both], axis=-1), self._along)
        return across, mixed, along, _combined(q[..., None], self._work[None])

    def _condensed(self, lengths: Floats) -> tuple[Floats, Floats, Floats]:
        """(stiffness and work across, how movements along follow those across), stacked over lengths."""
        across, mixed, along, work = self._blocks(lengths)
        if not along.shape[-1]:
            return across, work, mixed.transpose(0, 2, 1)
        follow = np.asarray(np.linalg.solve(along, mixed.transpose(0, 2, 1)), dtype=float)
        return across - mixed @ follow, work, follow

    def factors(self, lengths: Floats) -> Floats:
        """Lowest load factor `(lengths,)` for each half-wavelength (simple ends) or length (fixed ends) [mm]."""
        lengths = as_lengths(lengths)
        size = (len(self.terms) * self.across) ** 2
        step = max(1, WORKSPACE // size)
        out = np.empty(len(lengths))
        for start in range(0, len(lengths), step):
            part = slice(start, start + step)
            stiffness, work, _ = self._condensed(lengths[part])
            out[part] = inverse(_largest(stiffness, work))
        return out

    def span(self, lengths: Floats, count: int) -> Small:
        """The problem in the `count` lowest modes of each of some half-wavelengths (simple ends).

        At those lengths it is exact, between them an upper bound that errs by the square of what the modes
        lack, and thousands of lengths cost next to nothing.
        """
        lengths = as_lengths(lengths)
        stiffness, work, follow = self._condensed(lengths)
        across = _uppermost(stiffness, work, count)
        along = -follow @ across / (pi / lengths)[:, None, None]
        basis = np.concatenate([across, along], axis=1).transpose(1, 0, 2).reshape(self.free.shape[1], -1)
        basis, size, _ = np.linalg.svd(basis / np.linalg.norm(basis, axis=0), full_matrices=False)
        basis = basis[:, size > 1e-7 * size[0]]
        return Small(*(np.asarray(basis.T @ one @ basis) for one in self._whole))

    def modes(self, length: float, count: int = 1) -> Modes:
        """The lowest `count` modes over one half-wavelength or length [mm]."""
        lengths = as_lengths(np.array([length]))
        stiffness, work, follow = self._condensed(lengths)
        factor = np.linalg.cholesky(stiffness)
        half = np.linalg.solve(factor, work)
        value, vector = np.linalg.eigh(np.linalg.solve(factor, half.transpose(0, 2, 1)))
        across = np.linalg.solve(factor.transpose(0, 2, 1), vector[:, :, ::-1][:, :, :count])
        factors, along = inverse(value[:, ::-1][:, :count]), -follow @ across
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
        return inverse(_largest(self.p + k * self.q + k * k * self.r, k * self.work))


def _largest(stiffness: Floats, work: Floats) -> Floats:
    """The largest of the eigenvalues of each work over its stiffness; LinAlgError where a stiffness is not definite."""
    return np.array([_highest(K, W, 1, "N")[0][0] for K, W in zip(stiffness, work, strict=True)])


def _uppermost(stiffness: Floats, work: Floats, count: int) -> Floats:
    """The patterns `(lengths, free, count)` that belong to the largest eigenvalues, the largest first."""
    count = min(count, stiffness.shape[-1])
    return np.stack([_highest(K, W, count, "V")[1][:, ::-1] for K, W in zip(stiffness, work, strict=True)])


def _highest(stiffness: Floats, work: Floats, count: int, asked: Literal["N", "V"]) -> tuple[Floats, Floats]:
    n = len(stiffness)
    values, vectors, _, _, info = lapack().dsygvx(work, stiffness, jobz=asked, range="I", il=n - count + 1, iu=n)
    if info:
        raise np.linalg.LinAlgError("the stiffness of the strips is not positive definite")
    return values[:count], vectors


def as_lengths(lengths: Floats) -> Floats:
    """Lengths as an array; raises InputError where one is not a positive number."""
    lengths = np.atleast_1d(np.asarray(lengths, dtype=float))
    if not np.all(np.isfinite(lengths)) or np.any(lengths <= 0):
        raise InputError("a half-wavelength must be a length above 0", field="half_wavelength")
    return lengths


def inverse(largest: npt.NDArray[Any]) -> Floats:
    """Load factors from the eigenvalues; one that is not positive means that nothing buckles."""
    return np.where(largest > 0, 1 / np.where(largest > 0, largest, 1.0), np.inf)


def _combined(weights: Floats, parts: Floats) -> Floats:
    """Sum over k of weights `(lengths, terms, terms, k)` and parts `(k, i, j)`, as matrices of blocks i by j."""
    lengths, terms, _, k = weights.shape
    i, j = parts.shape[1:]
    out = (weights.reshape(-1, k) @ parts.reshape(k, -1)).reshape(lengths, terms, terms, i, j)
    return out.transpose(0, 1, 3, 2, 4).reshape(lengths, terms * i, terms * j)
