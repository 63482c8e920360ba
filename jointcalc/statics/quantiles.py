"""Quantiles and tails of the distributions that statistics of coupons ask for: the one place scipy's are imported."""

from __future__ import annotations

from math import sqrt
from typing import Any

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]


def tolerance_factor(n: int, content: float, confidence: float = 0.95) -> float:
    """One-sided tolerance factor of a normal sample of `n`: mean - k s is passed by `content` of the population.

    With that `confidence`; exact, from the noncentral t distribution.  Raises ValueError below two.
    """
    from scipy.special import nctdtrit, ndtri

    if n < 2:
        raise ValueError("a tolerance factor needs two values or more")
    return float(nctdtrit(n - 1, ndtri(content) * sqrt(n), confidence)) / sqrt(n)


def rank_of(n: int, content: float, confidence: float = 0.95) -> int:
    """Rank of the value of a sample of `n` that is a lower limit whatever the distribution; 0 where none is.

    The largest r for which at least r of n values lie below the fractile with that `confidence`: binomial.
    """
    from scipy.special import bdtr

    r = 0
    while r < n and 1.0 - bdtr(r, n, 1.0 - content) >= confidence:
        r += 1
    return r


def student(p: float, df: int) -> float:
    """Quantile of Student's t."""
    from scipy.special import stdtrit

    return float(stdtrit(df, p))


def student_tails(t: float, df: int) -> float:
    """Probability that Student's t lies farther from nothing than `t`, both ways."""
    from scipy.special import stdtr

    return float(2.0 * stdtr(df, -abs(t)))


def f_tail(ratio: float, df_above: int, df_below: int) -> float:
    """Probability that F is greater than `ratio`."""
    from scipy.special import fdtrc

    return float(fdtrc(df_above, df_below, ratio))


def anderson_darling(standard: Floats) -> float:
    """Anderson-Darling statistic of sorted standardised values against the normal distribution."""
    from scipy.special import log_ndtr

    n = len(standard)
    i = np.arange(1, n + 1)
    tails: Any = log_ndtr(standard) + log_ndtr(-standard[::-1])
    return float(-n - np.sum((2 * i - 1) * tails) / n)


def shapiro_wilk(values: Floats) -> float:
    """Significance level of a normal population by Shapiro and Wilk (3 to 5000 values that are not all the same)."""
    from scipy.stats import shapiro

    return float(shapiro(values).pvalue)
