"""Polynomials by ascending coefficients, many at once: values, derivatives, and the roots inside (0, 1)."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from jointcalc.statics.beam_model import Array


def values_at(c: Array, s: Array) -> Array:
    """Polynomial with ascending coefficients c (degree first) at s; trailing axes broadcast."""
    if len(c) == 1:
        return np.broadcast_to(c[0], np.broadcast_shapes(c[0].shape, s.shape)).copy()
    total: Array = c[-1]
    for coefficient in c[-2::-1]:
        total = total * s + coefficient
    return total


def derivative(c: Array) -> Array:
    """Coefficients of the derivative, ascending."""
    if len(c) == 1:
        return np.zeros_like(c)
    out: Array = c[1:] * np.arange(1, len(c)).reshape(-1, *(1,) * (c.ndim - 1))
    return out


def bracketed(
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


def roots_inside(c: Array) -> Array:
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
            turns = np.sort(roots_inside(derivative(c)), axis=0)
            edges = np.concatenate([np.zeros((1, n)), turns, np.ones((1, n))])
            low, high = edges[:-1], edges[1:]
            crosses = values_at(c[:, None], low) * values_at(c[:, None], high) < 0
            d = derivative(c)
            hit = bracketed(
                lambda x: values_at(c[:, None], x),
                lambda x: values_at(d[:, None], x),
                np.where(crosses, low, 0.0),
                np.where(crosses, high, 0.0),
            )
            found = np.where(crosses, hit, 0.0)
        return np.where((found > 0) & (found < 1), found, 0.0)
