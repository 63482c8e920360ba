"""Finite strips under shear flow, alone or with stress along the brace: endless, or with simple or fixed ends.

A flow n (force per length, along the strip) does the work n times the sum of w' dw/dy and u' du/dy over the sheet, w
and u the movements across it and in its plane.  With a series Y_m along, that is the integral of Y_m' Y_n times a
matrix of the section alone.  Waves of a long plate in shear run askew: endless strips take the complex harmonic
e^(i pi x / a), whose work is Hermitian, and give the coefficient of the long plate without any series.

Decided here, as in `strips`: the work on movements along the brace is left out.
"""

from __future__ import annotations

from typing import Literal

import numpy as np
import numpy.typing as npt

from jointcalc.section.outline import Floats
from jointcalc.section.strip_matrices import rotation
from jointcalc.section.strip_solver import WORKSPACE, Ends, Solver, as_lengths, inverse
from jointcalc.section.strips import Ints, Strips

Run = Literal["endless", "simple", "fixed"]

HALF_SLOPE = np.array([[-0.5, 0.5], [-0.5, 0.5]])
"""Integral of N N' for the linear shape over a width of one."""
CUBIC = np.array([[-30.0, 6, 30, -6], [-6, 0, 6, -1], [-30, -6, 30, 6], [6, 1, -6, 0]]) / 60
"""Integral of H H' for the cubic over a width of one, rows (w1, turn1, w2, turn2)."""


def flow_work(model: Strips, flow: Floats) -> Floats:
    """Matrix of the section `(4 nodes, 4 nodes)`: integral of n times movement times its slope across the strips.

    `flow` [N/mm] of each strip, positive when it pushes the edge at `last` forward along the brace.
    """
    b, n = model.width, len(model.width)
    local = np.zeros((n, 8, 8))
    u, w = [0, 4], [2, 3, 6, 7]
    every = (slice(None),)
    local[every + np.ix_(u, u)] = flow[:, None, None] * HALF_SLOPE
    size = np.stack([np.ones_like(b), b, np.ones_like(b), b], axis=1)
    local[every + np.ix_(w, w)] = flow[:, None, None] * CUBIC * size[:, :, None] * size[:, None, :]
    turn = rotation(model)
    globally = turn.transpose(0, 2, 1) @ local @ turn
    index = (np.stack([model.first, model.last], axis=1)[:, :, None] * 4 + np.arange(4)).reshape(n, 8)
    whole = np.zeros((4 * model.nodes, 4 * model.nodes))
    np.add.at(whole, (index[:, :, None], index[:, None, :]), globally)
    return whole


def slopes(terms: Ints, ends: Ends) -> Floats:
    """Integral of Y_m' Y_n over the length, `(terms, terms)`: antisymmetric, and free of the length."""
    top = int(terms.max()) + 2
    p, q = np.arange(top)[:, None], np.arange(top)[None, :]
    odd = (p + q) % 2 == 1
    # integral of sin(p u) cos(q u) over half a turn
    sine_cosine = np.where(odd, 2 * p / np.where(odd, p * p - q * q, 1), 0.0)
    if ends == "simple":
        m = terms[:, None]
        return np.asarray(m * sine_cosine[np.ix_(terms, terms)].T)
    share = np.zeros((len(terms), top))
    share[np.arange(len(terms)), terms - 1] = 0.5
    share[np.arange(len(terms)), terms + 1] = -0.5
    return np.asarray(-(share * np.arange(top)) @ sine_cosine @ share.T)


class Sheared(Solver):
    """A strip model under shear flow [N/mm in each strip], with stress [MPa at the nodal lines] where it is given.

    Load factors multiply both.  `run` is "endless" (half-wavelengths of a long member), or the ends of a length that is
    solved in `terms` terms of its series.  Raises InputError when a length is not a positive number.
    """

    def __init__(
        self,
        model: Strips,
        flow: Floats,
        *,
        E: float,
        nu: float,
        run: Run = "endless",
        terms: int = 1,
        stress: Floats | None = None,
    ) -> None:
        still = np.zeros(model.nodes) if stress is None else stress
        ends: Ends = "simple" if run == "endless" else run
        super().__init__(model, still, E=E, nu=nu, ends=ends, terms=1 if run == "endless" else terms)
        self.run = run
        n = self.across
        self._flow = (self.free.T @ flow_work(model, np.asarray(flow, dtype=float)) @ self.free)[:n, :n]

    def _shear(self, lengths: Floats) -> npt.NDArray[np.complex128] | Floats:
        if self.run == "endless":
            # the weight of one harmonic is half a length, as in the elastic terms
            askew = (self._flow - self._flow.T) * (lengths / 2 * np.pi / lengths)[:, None, None]
            return np.asarray(1j * askew)
        one = np.kron(slopes(self.terms, self.ends), self._flow)
        return np.broadcast_to(-(one + one.T), (len(lengths), *one.shape))

    def factors(self, lengths: Floats) -> Floats:
        """Lowest load factor `(lengths,)`, for either sense of the flow the one it has."""
        lengths = as_lengths(lengths)
        step = max(1, WORKSPACE // (len(self.terms) * self.across) ** 2)
        out = np.empty(len(lengths))
        for start in range(0, len(lengths), step):
            part = slice(start, start + step)
            across, mixed, along, work = self._blocks(lengths[part])
            if along.shape[-1]:
                across -= mixed @ np.linalg.solve(along, mixed.transpose(0, 2, 1))
            factor = np.linalg.cholesky(across)
            half = np.linalg.solve(factor, work + self._shear(lengths[part]))
            whole = np.linalg.solve(factor, half.conj().transpose(0, 2, 1))
            out[part] = inverse(np.linalg.eigvalsh(whole)[:, -1])
        return out


__all__ = ["Run", "Sheared", "flow_work", "slopes"]
