"""Statistics of coupons against the library's own, printed tables, limiting cases and simulated shops."""

from __future__ import annotations

import warnings

import numpy as np
import pytest
from scipy import stats

from jointcalc.check.coupon_limits import CONTENTS, Sample, k_sample, weibull_fit
from jointcalc.formula import coupon_design, coupon_limits, coupon_tests
from jointcalc.statics import quantiles
from jointcalc.tables.store import load
from tests.validation.cases.coupons import S18

SIX = Sample((8910.0, 9420.0, 9050.0, 8630.0, 9200.0, 8790.0))


@pytest.mark.parametrize("content", CONTENTS.values())
def test_factors_are_those_of_the_noncentral_t(content: float) -> None:
    """n = 2 to 100, scipy.stats' own distribution being the other way to it."""
    for n in range(2, 101):
        exact = stats.nct.ppf(0.95, n - 1, stats.norm.ppf(content) * np.sqrt(n)) / np.sqrt(n)
        assert quantiles.tolerance_factor(n, content) == pytest.approx(exact, rel=1e-7)


@pytest.mark.parametrize(("content", "column"), [(0.90, "k_b_printed"), (0.99, "k_a_printed")])
def test_factors_are_those_printed(content: float, column: str) -> None:
    """CMH-17-1G, n = 2 to 30 (second-hand): its closed approximations leave the exact factor by 0.0017 at most."""
    for row in load("tolerance_factors").rows:
        assert quantiles.tolerance_factor(int(row["n"]), content) == pytest.approx(row.need(column), abs=0.0018)


def test_ranks_are_those_printed() -> None:
    """CMH-17-1G Tables 8.5.12, 8.5.13 (second-hand): the least samples of which a rank is a limit."""
    for row in load("nonparametric_ranks").rows:
        r = int(row["rank"])
        for content, column in ((0.90, "n_b"), (0.99, "n_a")):
            n = int(row[column])
            assert quantiles.rank_of(n, content) == r
            assert quantiles.rank_of(n - 1, content) == r - 1
    assert quantiles.rank_of(59, 0.95) == 1  # 1 - 0.95^59 = 0.951
    assert quantiles.rank_of(58, 0.95) == 0


def test_weibull_by_the_library() -> None:
    """scipy's own maximum likelihood; and the published shape and scale of the 18 strengths."""
    scale, shape = weibull_fit(np.array(S18)) or (0.0, 0.0)
    assert (shape, scale) == pytest.approx((24.811, 144.887), abs=6e-4)
    c, _, s = stats.weibull_min.fit(S18, floc=0)
    assert (shape, scale) == pytest.approx((c, s), rel=1e-3)
    assert weibull_fit(np.array([5.0, 5.0, 5.0])) is None


def test_tests_by_name_against_the_library() -> None:
    x = np.array(S18)
    sample = Sample(S18, tuple("aaaaaabbbbbcccccccc")[:18])
    far, residual, critical = sample.outlier or (0.0, 0.0, 0.0)
    assert far == 128.5218
    assert residual == pytest.approx(np.abs(stats.zscore(x, ddof=1)).max())
    assert critical == pytest.approx(2.651, abs=1.1e-3)  # CMH-17-1G Table 8.5.7, n = 18, from memory
    assert float(coupon_tests.NORMED_RESIDUAL(x_f=far, m=x.mean(), s=x.std(ddof=1))) == pytest.approx(residual)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        library = stats.anderson(x)
        groups = list(sample.by_batch.values())
        alike = stats.anderson_ksamp(groups)
    standard = np.sort((x - x.mean()) / x.std(ddof=1))
    assert quantiles.anderson_darling(standard) == pytest.approx(library.statistic)
    assert float(coupon_tests.NORMALITY_STATISTIC(A2=0.6, n=10.0)) == pytest.approx(1.15 * 0.6)  # 1 + 4/10 - 25/100
    assert sample.shapiro == pytest.approx(stats.shapiro(x).pvalue)
    found, limit, tail = sample.batches_differ or (0.0, 0.0, 0.0)
    assert found == pytest.approx(alike.statistic)
    assert limit == pytest.approx(alike.critical_values[3])
    assert tail == pytest.approx(stats.f_oneway(*groups).pvalue)
    between, within = sample.squares or (0.0, 1.0)
    ratio = float(coupon_tests.VARIANCE_RATIO(MSB=between, MSE=within))
    assert ratio == pytest.approx(stats.f_oneway(*groups).statistic)
    assert float(coupon_tests.BATCHES_LIMIT(f_b=2.0)) == pytest.approx(limit)
    statistic, sigma = k_sample(groups)
    assert float(coupon_tests.BATCHES_STATISTIC(A2_k=statistic, b_n=3.0, sigma=sigma)) == pytest.approx(found)
    line = stats.linregress(range(18), S18)
    slope, chance = sample.trend or (0.0, 0.0)
    assert (slope, chance) == pytest.approx((line.slope, line.pvalue))
    assert abs(float(coupon_tests.SLOPE_T(r=line.rvalue, n=18.0))) == pytest.approx(abs(line.slope / line.stderr))


def test_normality_is_doubted_as_often_as_it_says() -> None:
    """18 normal loads, 2000 times: the level passes below 5 % in about one of twenty."""
    drawn = np.sort(np.random.default_rng(3).normal(size=(2000, 18)), axis=1)
    standard = (drawn - drawn.mean(axis=1, keepdims=True)) / drawn.std(axis=1, ddof=1, keepdims=True)
    a2 = np.array([quantiles.anderson_darling(row) for row in standard])
    levels = coupon_tests.NORMALITY_LEVEL(A_s=coupon_tests.NORMALITY_STATISTIC(A2=a2, n=18.0))
    assert np.mean(levels < 0.05) == pytest.approx(0.05, abs=0.02)


def test_alike_values_in_the_k_sample_test() -> None:
    groups = [np.array([1.0, 2, 2, 3, 3, 4]), np.array([2.0, 3, 3, 5, 9]), np.array([7.0, 7, 8, 2])]
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        library = stats.anderson_ksamp(groups)
    statistic, sigma = k_sample(groups)
    assert (statistic - 2) / sigma == pytest.approx(library.statistic)


def test_the_factor_over_batches_at_its_ends() -> None:
    """Batches that do not differ: the factor of all coupons.  Nothing but the batch: the factor of as many batches."""
    for k_0, k_1, n_1 in ((1.926, 4.1619, 5.0), (1.8, 3.4066, 3.7)):
        alike = coupon_limits.BATCH_FACTOR(MSB=1.0, MSE=1.0, n_1=n_1, k_0=k_0, k_1=k_1)
        assert alike == pytest.approx(k_0)
        # fewer differences than chance would have count as none
        assert coupon_limits.BATCH_FACTOR(MSB=0.2, MSE=1.0, n_1=n_1, k_0=k_0, k_1=k_1) == pytest.approx(k_0)
        apart = coupon_limits.BATCH_FACTOR(MSB=1e12, MSE=1.0, n_1=n_1, k_0=k_0, k_1=k_1)
        assert apart == pytest.approx(k_1, rel=1e-5)
        between = coupon_limits.BATCH_FACTOR(MSB=4.0, MSE=1.0, n_1=n_1, k_0=k_0, k_1=k_1)
        assert k_0 < between < k_1


def test_the_limit_over_batches_by_simulation() -> None:
    """A shop of five days, four coupons each, day and weld scattering alike: 90 in 100 pass it 95 times of 100.

    The limit is approximate (CMH-17 says so); 300 shops tell 0.95 from 0.88, which the pooled limit has.
    """
    drawn = np.random.default_rng(1)
    fractile = 100.0 - 1.2815515655446004 * np.sqrt(2.0)
    days = tuple(d for d in "abcde" for _ in range(4))
    kept = pooled = 0
    for _ in range(300):
        loads = 100.0 + np.repeat(drawn.normal(size=5), 4) + drawn.normal(size=20)
        sample = Sample(tuple(loads), days)
        limit, flat = sample.anova("90_95").value, sample.normal("90_95").value
        kept += limit is None or limit <= fractile
        pooled += flat is None or flat <= fractile
    assert 0.92 <= kept / 300 <= 0.99
    assert pooled < kept
    assert float(coupon_limits.BATCH_LIMIT(m=100.0, T=2.0, S=3.0)) == 94.0


def test_limits_keep_their_promise() -> None:
    """Six coupons of a normal shop: the limit 90/95 lies under the true fractile 95 times of 100."""
    drawn = np.random.default_rng(2).normal(size=(4000, 6))
    k = quantiles.tolerance_factor(6, 0.90)
    lower = drawn.mean(axis=1) - k * drawn.std(axis=1, ddof=1)
    assert np.mean(lower <= -1.2815515655446004) == pytest.approx(0.95, abs=0.012)


def test_weibull_limits_keep_their_promise() -> None:
    """Closed factors of CMH-17 on drawn Weibull loads: right at 18, on the safe side at three."""
    drawn = np.random.default_rng(5)
    for n, least, most in ((3, 0.97, 1.0), (18, 0.91, 0.98)):
        v = coupon_limits.WEIBULL_FACTOR_90(n=float(n))
        fits = [weibull_fit(row) or (0.0, 1.0) for row in drawn.weibull(1.0, size=(300, n))]
        kept = [coupon_limits.WEIBULL_LIMIT_90(a=a, b=b, V=v, n=float(n)) <= 0.10536 for a, b in fits]
        assert least <= np.mean(kept) <= most
    assert coupon_limits.WEIBULL_FACTOR_90.outside(n=2.0)


def test_the_next_weld_and_the_fractile_are_not_mixed() -> None:
    """EN 1990's 5 % value is a prediction: for the same 5 % a tolerance limit with 95 % confidence is lower (n = 6)."""
    assert SIX.fractile(SIX.variation).value == pytest.approx(9000 - 2.1765 * SIX.deviation, rel=1e-4)
    assert quantiles.tolerance_factor(6, 0.95) == pytest.approx(3.708, abs=1e-3)  # CMH-17 neighbours, computed table


def test_what_too_few_coupons_say() -> None:
    one = Sample((5000.0,))
    assert "2 more" in one.weibull("90_95").note
    for which in ("normal", "lognormal", "rank"):
        found = getattr(one, which)("90_95")
        assert found.value is None
        assert "1 more" in found.note
    assert one.anova("90_95").value is None
    assert one.omega("resistance_weld").value is None
    assert Sample((5000.0, 5200.0)).fractile(0.1).value is None
    wild = Sample((1000.0, 9000.0))
    assert wild.normal("90_95").value is None
    assert "scatter" in wild.normal("90_95").note
    assert SIX.rank("99_95").value == pytest.approx(9420 * (8630 / 9420) ** 5.57681)
    assert "299" in Sample(tuple(np.linspace(8e3, 9e3, 40))).rank("99_95").note
    assert Sample(tuple(np.linspace(8e3, 9e3, 31))).rank("90_95").value == 8e3  # the least of 29 and more


def test_three_tests_take_the_printed_correction() -> None:
    """AISI S100 K2.1.1, from memory: 5.7 for three, (1 + 1/n) (n - 1)/(n - 3) from four; reference table at V_P 0.10."""
    for n, omega in ((3, 3.23), (4, 2.92), (5, 2.70), (6, 2.63), (10, 2.55), (20, 2.51)):
        assert SIX.omega("resistance_weld", n=n, variation=0.10).value == pytest.approx(omega, abs=0.006)
    assert coupon_design.LEAST_TESTED == 0.065
    steady = Sample((5000.0, 5001.0, 5002.0, 5001.0))
    assert steady.omega("resistance_weld").value == pytest.approx(2.57, abs=0.006)  # 0.065 counts


def test_how_many_are_needed() -> None:
    """Scatter of 10 %: half the mean needs k <= 5, which 4 coupons have (4.16) and 3 (6.16) do not."""
    ten = Sample((4500.0, 5000.0, 5500.0))
    assert ten.variation == pytest.approx(0.1)
    assert ten.needed(0.5) == 4
    assert ten.needed(0.99) is None
