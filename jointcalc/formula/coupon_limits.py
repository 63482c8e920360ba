"""Lower limits of strength from a few coupons, by CMH-17: normal, log-normal, Weibull, small samples, several batches.

A limit `90/95` is passed by at least 90 in 100 of all welds made like the coupons, with a confidence of 95 %; `99/95`
by 99.  The factors k come exactly from the noncentral t distribution (`jointcalc.statics.quantiles`), not from the
handbook's closed approximations.
"""

from __future__ import annotations

import numpy as np

from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register

CMH = "CMH-17-1G"
NORMAL = Source(CMH, "8.3.4, one-sided tolerance limit of a normal population")
LOGNORMAL = Source(CMH, "8.3.4, tolerance limit of a log-normal population")
WEIBULL = Source(CMH, "8.3.4, tolerance limit of a two-parameter Weibull population")
SMALL = Source(CMH, "8.3.4, limit without a distribution for small samples (Hanson and Koopmans)")
BATCHES = Source(CMH, "8.3.5, tolerance limit by one-way analysis of variance")

N = Names(
    m=("N", "mean of the loads"),
    s=("N", "standard deviation of the loads, over n - 1"),
    k=("1", "one-sided tolerance factor for n coupons"),
    m_y=("1", "mean of the natural logarithms of the loads in N"),
    s_y=("1", "standard deviation of those logarithms"),
    n=("1", "number of coupons"),
    a=("N", "scale of the Weibull distribution, by maximum likelihood"),
    b=("1", "shape of the Weibull distribution, by maximum likelihood"),
    V=("1", "factor of the Weibull limit for n coupons"),
    x_1=("N", "smallest load"),
    x_r=("N", "load of rank r, counted from the smallest"),
    z=("1", "exponent of the table for n coupons"),
    b_n=("1", "number of batches"),
    n_2=("1", "sum of the squared batch sizes, over n"),
    n_1=("1", "effective size of a batch"),
    MSB=("N^2", "mean square between the batches"),
    MSE=("N^2", "mean square within the batches"),
    k_0=("1", "tolerance factor for as many coupons as there are"),
    k_1=("1", "tolerance factor for as many coupons as there are batches"),
    T=("1", "factor of the limit over batches"),
    S=("N", "deviation that a single weld of any batch shows"),
)


def normal_limit(*, m: Value, k: Value, s: Value) -> Value:
    """Lower tolerance limit of a normal population [N]."""
    return m - k * s


def lognormal_limit(*, m_y: Value, k: Value, s_y: Value) -> Value:
    """Lower tolerance limit of a population whose logarithms are normal [N]."""
    return np.exp(m_y - k * s_y)


def weibull_factor_90(*, n: Value) -> Value:
    """Factor of the Weibull limit 90/95 for n coupons."""
    return 3.803 + np.exp(1.79 - 0.516 * np.log(n) + 5.1 / (n - 1))


def weibull_factor_99(*, n: Value) -> Value:
    """Factor of the Weibull limit 99/95 for n coupons."""
    return 6.649 + np.exp(2.55 - 0.526 * np.log(n) + 4.76 / n)


def weibull_limit_90(*, a: Value, b: Value, V: Value, n: Value) -> Value:
    """Lower tolerance limit 90/95 of a two-parameter Weibull population [N]; 0.10536 is -ln 0.9."""
    return a * 0.10536 ** (1 / b) * np.exp(-V / (b * np.sqrt(n)))


def weibull_limit_99(*, a: Value, b: Value, V: Value, n: Value) -> Value:
    """Lower tolerance limit 99/95 of a two-parameter Weibull population [N]; 0.01005 is -ln 0.99."""
    return a * 0.01005 ** (1 / b) * np.exp(-V / (b * np.sqrt(n)))


def small_sample_limit(*, x_1: Value, x_r: Value, z: Value) -> Value:
    """Lower limit of a small sample without a distribution, drawn out from two of its loads [N]."""
    return x_r * (x_1 / x_r) ** z


def batch_size(*, n: Value, n_2: Value, b_n: Value) -> Value:
    """Effective number of coupons in a batch, for batches of unequal size."""
    return (n - n_2) / (b_n - 1)


def batch_deviation(*, MSB: Value, MSE: Value, n_1: Value) -> Value:
    """Deviation of a single weld of any batch: between the batches and within them [N]."""
    return np.sqrt((MSB + (n_1 - 1) * MSE) / n_1)


def batch_factor(*, MSB: Value, MSE: Value, n_1: Value, k_0: Value, k_1: Value) -> Value:
    """Tolerance factor over batches: k_0 where they do not differ, k_1 where nothing but the batch matters."""
    u = np.maximum(MSB / MSE, 1)
    w = np.sqrt(u / (u + n_1 - 1))
    return (k_0 - k_1 / np.sqrt(n_1) + (k_1 - k_0) * w) / (1 - 1 / np.sqrt(n_1))


def batch_limit(*, m: Value, T: Value, S: Value) -> Value:
    """Lower tolerance limit over several batches [N]."""
    return m - T * S


FROM_THREE = (Limit("n", low=3.0, why="below that the closed form of the factor breaks its promise, by simulation"),)

NORMAL_LIMIT = register(
    Formula(normal_limit, symbol="x_n", unit="N", title="Normal lower limit", source=NORMAL, names=N)
)
LOGNORMAL_LIMIT = register(
    Formula(lognormal_limit, symbol="x_ln", unit="N", title="Log-normal lower limit", source=LOGNORMAL, names=N)
)
WEIBULL_FACTOR_90 = register(
    Formula(
        weibull_factor_90,
        symbol="V_B",
        unit="1",
        title="Weibull factor 90/95",
        source=WEIBULL,
        names=N,
        limits=FROM_THREE,
    )
)
WEIBULL_FACTOR_99 = register(
    Formula(
        weibull_factor_99,
        symbol="V_A",
        unit="1",
        title="Weibull factor 99/95",
        source=WEIBULL,
        names=N,
        limits=FROM_THREE,
    )
)
WEIBULL_LIMIT_90 = register(
    Formula(
        weibull_limit_90,
        symbol="x_w",
        unit="N",
        title="Weibull lower limit 90/95",
        source=WEIBULL,
        names=N,
        limits=FROM_THREE,
    )
)
WEIBULL_LIMIT_99 = register(
    Formula(
        weibull_limit_99,
        symbol="x_w",
        unit="N",
        title="Weibull lower limit 99/95",
        source=WEIBULL,
        names=N,
        limits=FROM_THREE,
    )
)
SMALL_SAMPLE_LIMIT = register(
    Formula(small_sample_limit, symbol="x_hk", unit="N", title="Small-sample lower limit", source=SMALL, names=N)
)
BATCH_SIZE = register(
    Formula(
        batch_size, symbol="n_1", unit="1", title="Effective size of a batch", source=BATCHES, names=N,
        limits=(Limit("b_n", low=2.0, why="batches"),),
    )
)  # fmt: skip
BATCH_DEVIATION = register(
    Formula(
        batch_deviation, symbol="S", unit="N", title="Deviation over the batches", source=BATCHES, names=N,
        limits=(Limit("n_1", low=1.0, open_low=True),),
    )
)  # fmt: skip
BATCH_FACTOR = register(
    Formula(
        batch_factor, symbol="T", unit="1", title="Factor over the batches", source=BATCHES, names=N,
        limits=(Limit("n_1", low=1.0, open_low=True), Limit("MSE", low=0.0, unit="N^2", open_low=True)),
        inner_units={"u": "1", "w": "1"},
    )
)  # fmt: skip
BATCH_LIMIT = register(
    Formula(batch_limit, symbol="x_b", unit="N", title="Lower limit over batches", source=BATCHES, names=N)
)
