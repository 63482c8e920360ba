"""Whether coupons may be taken as one set: outliers, normality, batches that differ, strengths that fall with time."""

from __future__ import annotations

import numpy as np

from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register

OUTLIER = Source("CMH-17-1G", "8.3.3, maximum normed residual", "from memory")
NORMALITY = Source(
    "CMH-17-1G", "8.3.4, goodness of fit by Anderson and Darling", "from memory", "agrees with Stephens (1974) at 5 %"
)
SAMPLES = Source(
    "Scholz and Stephens, J. Am. Stat. Assoc. 82 (1987) 918", "k-sample Anderson-Darling statistic", "from memory"
)
HANDBOOK = "NIST/SEMATECH e-Handbook of Statistical Methods"
VARIANCE = Source(HANDBOOK, "7.4.3, one-way analysis of variance", "from memory")
REGRESSION = Source(HANDBOOK, "4.4.4, t of a slope", "from memory")

N = Names(
    x_f=("N", "load farthest from the mean"),
    m=("N", "mean of the loads"),
    s=("N", "standard deviation of the loads"),
    n=("1", "number of coupons"),
    t=("1", "quantile of Student's t, n - 2 degrees of freedom, at 1 - 0.05 / (2 n)"),
    A2=("1", "Anderson-Darling statistic of the loads against the normal distribution"),
    A_s=("1", "the same, for a mean and deviation estimated from the loads"),
    b_n=("1", "number of batches"),
    f_b=("1", "number of batches, less one"),
    f=("1", "number of coupons, less two"),
    A2_k=("1", "k-sample Anderson-Darling statistic of the batches"),
    sigma=("1", "its standard deviation when the batches are alike"),
    MSB=("N^2", "mean square between the batches"),
    MSE=("N^2", "mean square within the batches"),
    r=("1", "correlation of load and time"),
)


def normed_residual(*, x_f: Value, m: Value, s: Value) -> Value:
    """Maximum normed residual: how many deviations the farthest load lies off the mean."""
    return np.abs(x_f - m) / s


def outlier_limit(*, f: Value, t: Value) -> Value:
    """Normed residual beyond which the farthest load is an outlier (significance 5 %)."""
    return (f + 1) * np.sqrt(t**2 / (f + t**2)) / np.sqrt(f + 2)


def normality_statistic(*, A2: Value, n: Value) -> Value:
    """Anderson-Darling statistic corrected for a mean and deviation taken from the sample."""
    return (1 + 4 / n - 25 / n**2) * A2


def normality_level(*, A_s: Value) -> Value:
    """Observed significance level of the normal distribution: below 0.05 the loads are not normal."""
    return 1 / (1 + np.exp(-0.48 + 0.78 * np.log(A_s) + 4.58 * A_s))


def batches_statistic(*, A2_k: Value, b_n: Value, sigma: Value) -> Value:
    """k-sample Anderson-Darling statistic, less its mean, over its deviation."""
    return (A2_k - (b_n - 1)) / sigma


def batches_limit(*, f_b: Value) -> Value:
    """What the standardised k-sample statistic passes by chance in 2.5 % of cases."""
    return 1.960 + 1.149 / np.sqrt(f_b) - 0.391 / f_b


def variance_ratio(*, MSB: Value, MSE: Value) -> Value:
    """F of a one-way analysis of variance."""
    return MSB / MSE


def slope_t(*, r: Value, n: Value) -> Value:
    """Student's t of the slope of a straight line through the loads over time."""
    return r * np.sqrt((n - 2) / (1 - r**2))


NORMED_RESIDUAL = register(
    Formula(
        normed_residual, symbol="MNR", unit="1", title="Maximum normed residual", source=OUTLIER, names=N,
        limits=(Limit("s", low=0.0, unit="N", open_low=True),),
    )
)  # fmt: skip
OUTLIER_LIMIT = register(
    Formula(
        outlier_limit, symbol="C", unit="1", title="Critical normed residual", source=OUTLIER, names=N,
        limits=(Limit("f", low=1.0),),
    )
)  # fmt: skip
NORMALITY_STATISTIC = register(
    Formula(
        normality_statistic, symbol="A_s", unit="1", title="Anderson-Darling statistic", source=NORMALITY, names=N,
        limits=(Limit("n", low=4.0, why="below that the correction turns negative"),),
    )
)  # fmt: skip
NORMALITY_LEVEL = register(
    Formula(
        normality_level, symbol="OSL", unit="1", title="Significance of a normal population", source=NORMALITY,
        names=N, limits=(Limit("A_s", low=0.0, open_low=True),),
    )
)  # fmt: skip
BATCHES_STATISTIC = register(
    Formula(
        batches_statistic, symbol="T_k", unit="1", title="Batches alike", source=SAMPLES, names=N,
        limits=(Limit("b_n", low=2.0), Limit("sigma", low=0.0, open_low=True)),
    )
)  # fmt: skip
BATCHES_LIMIT = register(
    Formula(
        batches_limit, symbol="T_crit", unit="1", title="Critical value of the batch test", source=SAMPLES, names=N,
        limits=(Limit("f_b", low=1.0),),
    )
)  # fmt: skip
VARIANCE_RATIO = register(
    Formula(
        variance_ratio, symbol="F", unit="1", title="Variance between over within batches", source=VARIANCE, names=N,
        limits=(Limit("MSE", low=0.0, unit="N^2", open_low=True),),
    )
)  # fmt: skip
SLOPE_T = register(
    Formula(
        slope_t, symbol="t", unit="1", title="t of the trend", source=REGRESSION, names=N,
        limits=(Limit("n", low=3.0), Limit("r", low=-1.0, high=1.0, open_low=True, open_high=True)),
    )
)  # fmt: skip
