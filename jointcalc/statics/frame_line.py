"""Forces and deflection all along one member of a frame, exact between its ends (`jointcalc.statics.frame`).

Between loads everything is a polynomial: forces of degree two, moments three, slopes four, deflections five.  Their
extremes are at ends of pieces or roots of derivatives: nothing is sampled.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import inf
from typing import Literal, NamedTuple

import numpy as np
import numpy.typing as npt
from numpy.polynomial import polynomial

Array = npt.NDArray[np.float64]

NAMES = ("N", "V_y", "V_z", "T", "M_y", "M_z")
"""Forces inside a member, in the order of every array of them; T is about the line of shear centres."""

_DEGREE = 6
_SNAP = 1e-9


class Peak(NamedTuple):
    """A greatest absolute value with its sign, where it is [mm], and in which case."""

    value: float
    at: float
    case: int


@dataclass(frozen=True, slots=True)
class Piece:
    """A load on the member in its own axes: at `start`, or per mm from `start` to `end`, going from first to last."""

    case: int
    start: float
    end: float
    first: Array
    last: Array


def _integral(c: Array, at_start: Array) -> Array:
    """Antiderivative of polynomials with ascending coefficients along the first axis."""
    out = np.zeros_like(c)
    out[0] = at_start
    for k in range(1, len(c)):
        out[k] = c[k - 1] / k
    return out


class Line:
    """A member of a solved frame.  Places are mm from its start; the last axis of answers is the case."""

    def __init__(
        self,
        length: float,
        stiffness: tuple[float, ...],
        force: Array,
        moved: Array,
        loads: Sequence[Piece],
        axes: Array,
    ) -> None:
        """From the forces and movements of its start (6, cases), in its own axes, about its centroids."""
        self.length = length
        self.axes = axes
        self.cases = force.shape[1]
        EA, EI_y, EI_z, GJ, GA_y, GA_z, c_y, c_z = stiffness
        self._centre = (c_y, c_z)
        slack = _SNAP * length
        cuts = [0.0, length]
        for one in loads:
            cuts += [one.start, one.end]
        self.breaks = [0.0]
        for x in sorted(cuts):
            if x - self.breaks[-1] > slack:
                self.breaks.append(x)
        if length - self.breaks[-1] <= slack:
            self.breaks[-1] = length
        state = -np.asarray(force, dtype=float)  # on the face that looks to the end: what the rest does to it
        at = np.array(moved, dtype=float)
        self._forces: list[Array] = []
        self._moves: list[Array] = []
        for start, end in pairwise(self.breaks):
            for one in loads:
                if one.end <= one.start and abs(one.start - start) <= slack:
                    state[:, one.case] -= one.first
            size = np.zeros((2, 6, self.cases))  # what is spread here, and its rate
            for one in loads:
                if one.end > one.start and one.start <= start + slack and one.end >= end - slack:
                    rate = (one.last - one.first) / (one.end - one.start)
                    size[0, :, one.case] += one.first + rate * (start - one.start)
                    size[1, :, one.case] += rate
            c = np.zeros((_DEGREE, 6, self.cases))
            for k in range(3):
                c[:, k] = _integral(np.concatenate([-size[:, k], np.zeros((4, self.cases))]), state[k])
            for k, other, sign in ((3, -1, 0.0), (4, 2, 1.0), (5, 1, -1.0)):
                slope = np.concatenate([-size[:, k], np.zeros((4, self.cases))])
                if sign:
                    slope += sign * c[:, other]
                c[:, k] = _integral(slope, state[k])
            self._forces.append(c)
            moves = np.zeros((_DEGREE, 6, self.cases))
            twist = c[:, 3] + c_z * c[:, 1] - c_y * c[:, 2]
            moves[:, 0] = _integral(c[:, 0] / EA, at[0])
            moves[:, 3] = _integral(twist / GJ, at[3])
            moves[:, 4] = _integral(c[:, 4] / EI_y, at[4])
            moves[:, 5] = _integral(c[:, 5] / EI_z, at[5])
            # the shear centre's line bends and shears; the centroid's turns about it
            moves[:, 1] = _integral(moves[:, 5] + c[:, 1] / GA_y, at[1] - c_z * at[3]) + c_z * moves[:, 3]
            moves[:, 2] = _integral(-moves[:, 4] + c[:, 2] / GA_z, at[2] + c_y * at[3]) - c_y * moves[:, 3]
            self._moves.append(moves)
            s = end - start
            state = _value(c, s)
            at = _value(moves, s)
        for c in self._forces:  # reported about the shear centre, about which a section twists
            c[:, 3] += c_z * c[:, 1] - c_y * c[:, 2]

    def _where(self, x: float, side: Literal["left", "right"]) -> tuple[int, float]:
        k = int(np.searchsorted(self.breaks, x, side="left" if side == "left" else "right")) - 1
        k = min(max(k, 0), len(self.breaks) - 2)
        return k, x - self.breaks[k]

    def forces(self, x: float, side: Literal["left", "right"] = "left") -> Array:
        """N, V_y, V_z, T, M_y, M_z just on one side of a place, (6, cases)."""
        k, s = self._where(x, side)
        return _value(self._forces[k], s)

    def movement(self, x: float) -> Array:
        """Movement of the line of centroids at a place, in the frame's axes, (6, cases)."""
        k, s = self._where(x, "left")
        own = _value(self._moves[k], s)
        return np.concatenate([self.axes.T @ own[:3], self.axes.T @ own[3:]])

    def greatest(self, name: str) -> Peak:
        """The greatest absolute force of a name in `NAMES` over the member and all cases."""
        return self._peak([c[:, NAMES.index(name)] for c in self._forces])

    def ranges(self, base: Array | None = None) -> tuple[Array, Array]:
        """(least, greatest) value of every force along the member, (6, cases) each.

        `base` has axes of the reader's own as rows (x along the member), in the member's; its own where none is given.
        """
        turn = np.eye(3) if base is None else base
        low, high = np.full((6, self.cases), inf), np.full((6, self.cases), -inf)
        for n, own in enumerate(self._forces):
            c = np.concatenate(
                [np.einsum("kj,djc->dkc", turn, own[:4, part]) for part in (slice(3), slice(3, 6))], axis=1
            )
            long = self.breaks[n + 1] - self.breaks[n]
            places = [np.zeros(c.shape[1:]), np.full(c.shape[1:], long), *_level(c, long)]
            for x in places:
                value = c[0] + x * (c[1] + x * (c[2] + x * c[3]))
                low, high = np.minimum(low, value), np.maximum(high, value)
        return low, high

    def greatest_movement(self, way: Array) -> Peak:
        """The greatest absolute movement along a direction in the frame's axes, over the member and all cases."""
        own = self.axes @ np.asarray(way, dtype=float)
        pieces = [np.einsum("k,dkc->dc", own, c[:, :3]) for c in self._moves]
        # a look at nine places of each piece leaves few whose extreme has to be found
        seen = [
            np.abs(polynomial.polyval(np.linspace(0.0, end - start, 9), c)).max(axis=-1)
            for c, (start, end) in zip(pieces, pairwise(self.breaks))
        ]
        least = 0.5 * max(float(one.max()) for one in seen)
        return self._peak([np.where(one >= least, c, 0.0) for c, one in zip(pieces, seen)])

    def _peak(self, pieces: Sequence[Array]) -> Peak:
        best = Peak(0.0, 0.0, 0)
        for k, c in enumerate(pieces):
            long = self.breaks[k + 1] - self.breaks[k]
            for case in range(self.cases):
                for s in (0.0, long, *_turns(c[:, case], long)):
                    value = float(_value(c[:, case], s))
                    if abs(value) > abs(best.value) * (1 + 1e-12):
                        best = Peak(value, self.breaks[k] + s, case)
        return best


def _level(c: Array, long: float) -> list[Array]:
    """Places where cubics (ascending along the first axis) are level, within (0, long); 0 where there is none."""
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        one, two, three = c[1], 2 * c[2], 3 * c[3]
        q = -0.5 * (two + np.copysign(np.sqrt(two**2 - 4 * three * one), two))
        return [np.where((x > 0) & (x < long), x, 0.0) for x in (q / three, one / q)]


def _value(c: Array, s: float) -> Array:
    out = c[-1].copy() if isinstance(c[-1], np.ndarray) else c[-1]
    for k in range(len(c) - 2, -1, -1):
        out = out * s + c[k]
    return np.asarray(out)


def _turns(c: Array, long: float) -> list[float]:
    """Where a polynomial on (0, long) has a level tangent."""
    slope = c[1:] * np.arange(1, len(c)) * long ** np.arange(len(c) - 1)
    size = np.abs(slope).max(initial=0.0)
    if size == 0.0:
        return []
    keep = np.flatnonzero(np.abs(slope) > 1e-14 * size)
    slope = slope[: keep[-1] + 1]
    if len(slope) < 2:
        return []
    roots = polynomial.polyroots(slope)
    real = roots[np.abs(roots.imag) < 1e-7].real
    return [float(r) * long for r in real if 0.0 < r < 1.0]
