"""How often a margin falls short when its inputs scatter: by drawing them, and by the first-order method.

A margin is a function of the basic variables, each an array of the same shape, that is below zero where the thing falls
short; it is worked in arrays.  Drawing (Monte Carlo) counts how often that is, in pieces, so that the memory does not
grow with the number drawn, and gives the interval that the count leaves (Wilson's, of 95 %).  The first-order method
looks for the point nearest to the means, in standard deviations, at which the margin is gone: its distance is the
reliability index (Hasofer and Lind 1974, with the steps of Rackwitz and Fiessler 1978), and how much of it each
variable makes is what its scatter counts.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import ceil, erfc, floor, log, sqrt
from statistics import NormalDist
from typing import Literal

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Margin = Callable[[Mapping[str, Array]], Array]
"""Basic variables by name -> margin, below zero where the thing falls short."""

Law = Literal["normal", "log-normal"]
PIECE = 65_536
"""Samples worked at once: what a processor keeps near."""
NINETY_FIVE = 1.959963984540054
"""Quantile of the normal distribution for an interval of 95 % (computed)."""
STEPS = 25
"""Steps the search for the nearest point may take."""
CLOSE = 1e-7
"""How near the last two points must lie, in standard deviations."""
WIDTH = 1e-4
"""Half the step of a difference, in standard deviations."""
FARTHEST = 12.0
"""Index beyond which none is told: no table of a distribution reaches there."""


@dataclass(frozen=True, slots=True)
class Spread:
    """How a basic variable scatters: its law, its mean, and its standard deviation over the mean (`variation`)."""

    mean: float = 1.0
    variation: float = 0.0
    law: Law = "log-normal"
    why: str = ""
    """Where the numbers come from."""

    def at(self, u: Array) -> Array:
        """Its values where a standard normal variable is `u`."""
        if not self.variation:
            return np.full_like(u, self.mean)
        if self.law == "normal":
            return self.mean * (1.0 + self.variation * u)
        # mean and deviation of the logarithm (Johnson, Kotz and Balakrishnan, ch. 14: derivation)
        var = log(1.0 + self.variation**2)
        out = np.multiply(u, sqrt(var))
        out += log(self.mean) - var / 2
        np.exp(out, out=out)
        return out


@dataclass(frozen=True, slots=True)
class Counted:
    """Of `samples` drawn `short` fell short; the share of them, and between what the probability lies with 95 %."""

    samples: int
    short: int

    @property
    def probability(self) -> float:
        """The share that fell short."""
        return self.short / self.samples

    @property
    def interval(self) -> tuple[float, float]:
        """Wilson's interval of 95 %: right to use near none and near all, where it is never empty."""
        return wilson(self.short, self.samples)

    @property
    def index(self) -> float | None:
        """Reliability index of the share; None where none or all fell short."""
        return index_of(self.probability) if 0 < self.short < self.samples else None


@dataclass(frozen=True, slots=True)
class Nearest:
    """The first-order answer: index, probability, and by variable the part of the index's square its scatter makes.

    `point` are the values of the variables at the nearest point where the margin is gone.
    """

    index: float
    parts: Mapping[str, float]
    point: Mapping[str, float]

    @property
    def probability(self) -> float:
        """Probability to fall short, with the limit taken as flat there."""
        return below_index(self.index)


def below_index(index: float) -> float:
    """Probability that a standard normal variable is below -index."""
    return 0.5 * erfc(index / sqrt(2.0))


def index_of(probability: float) -> float:
    """Reliability index of a probability between 0 and 1."""
    return -NormalDist().inv_cdf(probability)


def wilson(short: int, samples: int) -> tuple[float, float]:
    """Interval of 95 % for a probability of which `short` of `samples` were seen.

    Source: Wilson, J. Amer. Statist. Assoc. 22 (1927) 209; from memory, held by its defining equation in the tests.
    """
    z2 = NINETY_FIVE**2
    share = short / samples
    middle = share + z2 / (2 * samples)
    half = NINETY_FIVE * sqrt(share * (1 - share) / samples + z2 / (4 * samples**2))
    scale = 1 + z2 / samples
    low = 0.0 if short == 0 else max((middle - half) / scale, 0.0)
    high = 1.0 if short == samples else min((middle + half) / scale, 1.0)
    return low, high


def drawn(margin: Margin, spreads: Mapping[str, Spread], samples: int, seed: int) -> Counted:
    """How many of `samples` fall short, drawn from a fixed seed in pieces; the same count on every machine.

    A margin that is no number counts as falling short: what cannot be judged does not hold.
    """
    random = np.random.Generator(np.random.PCG64(seed))
    short = 0
    for start in range(0, samples, PIECE):
        n = min(PIECE, samples - start)
        values = {name: one.at(random.standard_normal(n)) for name, one in spreads.items()}
        short += n - int(np.count_nonzero(margin(values) >= 0.0))
    return Counted(samples, short)


def nearest(margin: Margin, spreads: Mapping[str, Spread]) -> Nearest | None:
    """The point nearest to the medians at which the margin is gone; None where the search does not settle.

    The variables are independent, each a function of its own standard normal one.  The index is below zero where
    the medians themselves fall short.
    """
    names = [name for name, one in spreads.items() if one.variation]
    if not names:
        return None
    u = np.zeros(len(names))
    g, slope = _slope(margin, spreads, names, u)
    middle = g
    for _ in range(STEPS):
        size = float(slope @ slope)
        if not np.isfinite(g) or size == 0.0:
            return None
        goal = (float(slope @ u) - g) / size * slope
        step = goal - u
        # half the step until both the margin and the length agree better: plain steps may run to and fro at a kink
        weight = 2.0 * max(float(np.linalg.norm(u)) / sqrt(size), 1.0)
        merit = 0.5 * float(u @ u) + weight * abs(g)
        part = 1.0
        for _ in range(12):
            tried = u + part * step
            value = _value(margin, spreads, names, tried)
            if np.isfinite(value) and 0.5 * float(tried @ tried) + weight * abs(value) < merit:
                break
            part /= 2
        else:
            tried, value = u + step * part, _value(margin, spreads, names, u + step * part)
        moved = float(np.linalg.norm(tried - u))
        u = tried
        if float(np.linalg.norm(u)) > FARTHEST:
            return None
        g, slope = _slope(margin, spreads, names, u)
        if moved < CLOSE and abs(g) < 1e-6 * max(abs(middle), 1e-6):
            length = float(np.linalg.norm(u))
            parts = u * u / length**2 if length else slope * slope / float(slope @ slope)
            values = _values(spreads, names, u[:, None])
            return Nearest(
                index=length if middle >= 0 else -length,
                parts=dict(zip(names, (float(p) for p in parts))),
                point={name: float(v[0]) for name, v in values.items()},
            )
    return None


def _values(spreads: Mapping[str, Spread], names: list[str], u: Array) -> dict[str, Array]:
    rows = dict(zip(names, u))
    nothing = np.zeros(u.shape[1])
    return {name: one.at(rows.get(name, nothing)) for name, one in spreads.items()}


def _value(margin: Margin, spreads: Mapping[str, Spread], names: list[str], u: Array) -> float:
    return float(margin(_values(spreads, names, u[:, None]))[0])


def _slope(margin: Margin, spreads: Mapping[str, Spread], names: list[str], u: Array) -> tuple[float, Array]:
    """The margin at a point and its slope there, by central differences, all points in one array."""
    n = len(names)
    points = np.tile(u[:, None], (1, 2 * n + 1))
    for k in range(n):
        points[k, 1 + 2 * k] += WIDTH
        points[k, 2 + 2 * k] -= WIDTH
    g = margin(_values(spreads, names, points))
    return float(g[0]), np.asarray((g[1::2] - g[2::2]) / (2 * WIDTH), dtype=np.float64)


def chance_told(low: float, high: float) -> str:
    """The interval of a probability in words, one in so many where it is small; rounding makes it no narrower."""
    if low == 0.0:
        return f"less than {_one(high, floor)}"
    return f"between {_one(low, ceil)} and {_one(high, floor)}"


def _one(p: float, whole: Callable[[float], int]) -> str:
    if p >= 0.05:
        return f"{100 * p:.2g} %"
    step = int(10 ** max(int(log(1 / p) / log(10)) - 1, 0))
    return f"1 in {whole(1 / p / step) * step:,}".replace(",", " ")
