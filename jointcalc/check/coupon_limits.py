"""What a set of coupon loads shows: lower limits by several distributions, a design value, and whether it is one set.

The limits of CMH-17, the characteristic value of EN 1990 Annex D and the factor of AISI S100 K2.1.1, each with the
steps it came by, or the reason why it cannot be given.  Loads in N; batches are the days the coupons were made.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import sqrt

import numpy as np
import numpy.typing as npt

from jointcalc.formula import coupon_design as design
from jointcalc.formula import coupon_limits as limits
from jointcalc.formula import coupon_tests as tests
from jointcalc.formula.core import Evaluation
from jointcalc.statics import quantiles
from jointcalc.tables.store import load

Floats = npt.NDArray[np.float64]
SIGNIFICANT = 0.05
"""Level below which a test by chance is not believed, but for batches (2.5 %, CMH-17)."""
CONTENTS: Mapping[str, float] = {"90_95": 0.90, "99_95": 0.99}
"""Name of a limit -> part of all welds that pass it; the confidence is 95 %."""


@dataclass(frozen=True, slots=True)
class Value:
    """A number that follows from the coupons with its working, or None with the reason."""

    value: float | None
    steps: tuple[Evaluation, ...] = ()
    note: str = ""


def _none(why: str) -> Value:
    return Value(None, (), why)


def _positive(value: float, steps: list[Evaluation], n: int, note: str = "") -> Value:
    """A limit that is a load; one below nothing is none."""
    if value > 0:
        return Value(value, tuple(steps), note)
    return _none(f"{n} coupons scatter too much for a limit above nothing: make more, or find out why they scatter")


def weibull_fit(loads: Floats) -> tuple[float, float] | None:
    """(scale [N], shape) of the two-parameter Weibull distribution by maximum likelihood; None for equal loads."""
    top = float(loads.max())
    logs = np.log(loads / top)
    if float(logs.min()) > -1e-12:
        return None

    def slope(b: float) -> float:
        w = np.exp(b * logs)
        return float((w * logs).sum() / w.sum() - 1 / b - logs.mean())

    low, high = 1e-3, 1.0
    while slope(high) < 0:
        low, high = high, 2 * high
        if high > 1e9:
            return None
    for _ in range(64):  # to the last digit
        middle = (low + high) / 2
        low, high = (middle, high) if slope(middle) < 0 else (low, middle)
    b = (low + high) / 2
    return top * float(np.exp(b * logs).mean()) ** (1 / b), b


@dataclass(frozen=True, eq=False)
class Sample:
    """Loads of coupons [N] that are alike but for the batch, in the order of the log; `batches` one word for each."""

    loads: tuple[float, ...]
    batches: tuple[str, ...] = ()
    days: tuple[float, ...] = ()

    @cached_property
    def x(self) -> Floats:
        """The loads, sorted."""
        return np.sort(np.asarray(self.loads, dtype=np.float64))

    @property
    def n(self) -> int:
        """Number of coupons with a load."""
        return len(self.loads)

    @property
    def mean(self) -> float:
        """Mean load [N]."""
        return float(self.x.mean())

    @property
    def deviation(self) -> float:
        """Standard deviation over n - 1 [N]; nothing for one coupon."""
        return float(self.x.std(ddof=1)) if self.n > 1 else 0.0

    @property
    def variation(self) -> float:
        """Coefficient of variation."""
        return self.deviation / self.mean if self.mean else 0.0

    @cached_property
    def by_batch(self) -> Mapping[str, Floats]:
        """The loads of each batch."""
        found: dict[str, list[float]] = {}
        for batch, value in zip(self.batches, self.loads):
            found.setdefault(batch, []).append(value)
        return {batch: np.asarray(values, dtype=np.float64) for batch, values in found.items()}

    @property
    def nothing(self) -> str:
        """Why no limit of logarithms is given: a weld that carried nothing."""
        return "a coupon carried nothing" if self.n and self.x[0] <= 0 else ""

    def _few(self, least: int) -> str:
        more = least - self.n
        return f"needs {least} coupons, {more} more" if more > 0 else ""

    def normal(self, name: str) -> Value:
        """Lower limit of a normal population."""
        if why := self._few(2):
            return _none(why)
        k = quantiles.tolerance_factor(self.n, CONTENTS[name])
        made = limits.NORMAL_LIMIT.evaluate(m=self.mean, k=k, s=self.deviation)
        return _positive(float(made.value), [made], self.n)

    def lognormal(self, name: str) -> Value:
        """Lower limit of a log-normal population."""
        if why := self._few(2) or self.nothing:
            return _none(why)
        y = np.log(self.x)
        k = quantiles.tolerance_factor(self.n, CONTENTS[name])
        made = limits.LOGNORMAL_LIMIT.evaluate(m_y=float(y.mean()), k=k, s_y=float(y.std(ddof=1)))
        return Value(float(made.value), (made,))

    def weibull(self, name: str) -> Value:
        """Lower limit of a two-parameter Weibull population."""
        if why := self._few(3) or self.nothing:
            return _none(why)
        fit = weibull_fit(self.x)
        if fit is None:
            return _none("the loads are all the same: no Weibull distribution fits")
        factor, limit = (
            (limits.WEIBULL_FACTOR_90, limits.WEIBULL_LIMIT_90)
            if name == "90_95"
            else (limits.WEIBULL_FACTOR_99, limits.WEIBULL_LIMIT_99)
        )
        v = factor.evaluate(n=float(self.n))
        made = limit.evaluate(a=fit[0], b=fit[1], V=float(v.value), n=float(self.n))
        few = "" if self.n >= 10 else "below ten coupons the factor's closed form is on the safe side"
        return Value(float(made.value), (v, made), few)

    def rank(self, name: str) -> Value:
        """Lower limit without a distribution: a rank, of a small sample drawn out as Hanson and Koopmans do."""
        if why := self._few(2) or self.nothing:
            return _none(why)
        r = quantiles.rank_of(self.n, CONTENTS[name])
        if r:
            return Value(float(self.x[r - 1]), (), f"load of rank {r} from the smallest")
        row = next((one for one in load("tolerance_factors").rows if one["n"] == str(self.n)), None)
        if row is None:
            return _none(f"a rank needs 299 coupons, {299 - self.n} more; the small-sample table ends at 30")
        if name == "90_95":
            r, z = int(row["hk_b_rank"]), row.need("hk_b_k")
        else:
            r, z = self.n, row.need("hk_a_k")
        made = limits.SMALL_SAMPLE_LIMIT.evaluate(x_1=float(self.x[0]), x_r=float(self.x[r - 1]), z=z)
        return Value(float(made.value), (made,), f"small sample, from ranks 1 and {r}")

    @cached_property
    def squares(self) -> tuple[float, float] | None:
        """(mean square between the batches, within them); None where there are not two batches with a repeat."""
        groups = list(self.by_batch.values())
        k, n = len(groups), self.n
        if k < 2 or n <= k:
            return None
        between = sum(len(g) * (float(g.mean()) - self.mean) ** 2 for g in groups) / (k - 1)
        within = sum(float(((g - g.mean()) ** 2).sum()) for g in groups) / (n - k)
        return between, within

    def anova(self, name: str) -> Value:
        """Lower limit over several batches by one-way analysis of variance."""
        k, n = len(self.by_batch), self.n
        if k < 2:
            return _none("one batch only: coupons of two days or more are needed, five days for a fair answer")
        if self.squares is None:
            return _none(f"{n} coupons of {k} days: a batch of two or more is needed")
        between, within = self.squares
        if within <= 1e-24 * self.mean**2:
            return _none("the loads of each batch are all the same: nothing is known of the scatter within one")
        counts = [len(g) for g in self.by_batch.values()]
        size = limits.BATCH_SIZE.evaluate(n=float(n), n_2=sum(c * c for c in counts) / n, b_n=float(k))
        n_1 = float(size.value)
        content = CONTENTS[name]
        factor = limits.BATCH_FACTOR.evaluate(
            MSB=between, MSE=within, n_1=n_1, k_0=quantiles.tolerance_factor(n, content),
            k_1=quantiles.tolerance_factor(k, content),
        )  # fmt: skip
        spread = limits.BATCH_DEVIATION.evaluate(MSB=between, MSE=within, n_1=n_1)
        made = limits.BATCH_LIMIT.evaluate(m=self.mean, T=float(factor.value), S=float(spread.value))
        few = "" if k >= FAIR_BATCHES else f"{k} batches only, five or more are wanted"
        found = _positive(float(made.value), [size, factor, spread, made], n, few)
        return (
            found if found.value is not None else _none(f"{k} batches that differ so much leave no limit above nothing")
        )

    @property
    def over_batches(self) -> float:
        """Deviation of a single weld of any batch [N]; the plain one where batches cannot be told apart."""
        if self.squares is None:
            return self.deviation
        counts = [len(g) for g in self.by_batch.values()]
        n_1 = float(limits.BATCH_SIZE(n=float(self.n), n_2=sum(c * c for c in counts) / self.n, b_n=float(len(counts))))
        return float(limits.BATCH_DEVIATION(MSB=self.squares[0], MSE=self.squares[1], n_1=n_1))

    @property
    def time(self) -> Floats:
        """When each coupon was made: its day, or its number in the log where the days are fewer than three."""
        return np.asarray(self.days if len(set(self.days)) >= 3 else range(self.n), dtype=np.float64)

    @property
    def after_middle(self) -> float:
        """How long after their middle the last coupon was made, in the steps of `trend`."""
        return float(self.time.max() - self.time.mean())

    @staticmethod
    def fractile_of(mean: float, variation: float, n: int) -> tuple[Evaluation, Evaluation]:
        """The 5 % value of EN 1990 D7.2 of a mean of `n` tests with that variation, unknown beforehand."""
        k = design.K_UNKNOWN.evaluate(t=quantiles.student(0.95, n - 1), n=float(n))
        return k, design.CHARACTERISTIC.evaluate(m=mean, k_n=float(k.value), V=variation)

    @cached_property
    def characteristic(self) -> Value:
        """The 5 % fractile by EN 1990 Annex D, coefficient of variation unknown, as measured."""
        return self.fractile(self.variation if self.n > 1 else 0.0)

    def fractile(self, variation: float) -> Value:
        """The same with that coefficient of variation."""
        if why := self._few(3):
            return _none(f"{why} (EN 1990 Table D1, coefficient of variation unknown)")
        k, made = self.fractile_of(self.mean, variation, self.n)
        return _positive(float(made.value), [k, made], self.n)

    @cached_property
    def known(self) -> Value:
        """The 5 % fractile by EN 1990 Annex D were the coefficient of variation known beforehand."""
        k = design.K_KNOWN.evaluate(n=float(self.n))
        made = design.CHARACTERISTIC.evaluate(m=self.mean, k_n=float(k.value), V=self.variation if self.n > 1 else 0.0)
        return _positive(float(made.value), [k, made], self.n)

    @cached_property
    def design(self) -> Value:
        """The design value by EN 1990 D7.3, coefficient of variation unknown."""
        return self._design("kd_unknown", 4)

    @cached_property
    def design_known(self) -> Value:
        """The same were the coefficient of variation known beforehand."""
        return self._design("kd_known", 2)

    def _design(self, column: str, least: int) -> Value:
        if why := self._few(least):
            return _none(f"{why} (EN 1990 Table D2)")
        rows = [row for row in load("en1990_d2").rows if row["n"] != "inf" and row[column]]
        # between two rows the factor of the fewer tests, which is the higher
        row = max((one for one in rows if int(one["n"]) <= self.n), key=lambda one: int(one["n"]))
        made = design.DESIGN.evaluate(m=self.mean, k_d=row.need(column), V=self.variation)
        return _positive(float(made.value), [made], self.n)

    def omega(self, connection: str, *, n: int | None = None, variation: float | None = None) -> Value:
        """Safety factor on the mean by AISI S100 K2.1.1; `n` and `variation` in place of the sample's own."""
        count = self.n if n is None else n
        if count < design.LEAST_TESTS:
            return _none(f"needs {design.LEAST_TESTS} tests, {design.LEAST_TESTS - count} more (AISI S100 K2.1.1)")
        row = load("aisi_test_statistics").find(connection=connection)
        steps: list[Evaluation] = []
        c_p = design.C_P_THREE
        if count > design.LEAST_TESTS:
            steps.append(design.CORRECTION.evaluate(n=float(count)))
            c_p = float(steps[-1].value)
        v = max(self.variation if variation is None else variation, design.LEAST_TESTED)
        phi = design.RESISTANCE_FACTOR.evaluate(
            M_m=row.need("M_m"), F_m=row.need("F_m"), P_m=1.0, V_M=row.need("V_M"), V_F=row.need("V_F"), C_P=c_p, V_P=v
        )
        factor = design.SAFETY_FACTOR.evaluate(phi=float(phi.value))
        return Value(float(factor.value), (*steps, phi, factor))

    # --- whether it is one set --------------------------------------------------------------------------------------

    @property
    def same(self) -> bool:
        """Whether the loads are all alike, so that nothing can be tested."""
        return self.n < 2 or self.deviation <= 1e-9 * self.mean

    @cached_property
    def outlier(self) -> tuple[float, float, float] | None:
        """(load farthest from the mean, its normed residual, the critical one); None below three coupons."""
        if self.n < 3 or self.same:
            return None
        far = float(max(self.x, key=lambda value: abs(value - self.mean)))
        t = quantiles.student(1 - SIGNIFICANT / (2 * self.n), self.n - 2)
        residual = float(tests.NORMED_RESIDUAL(x_f=far, m=self.mean, s=self.deviation))
        return far, residual, float(tests.OUTLIER_LIMIT(f=self.n - 2.0, t=t))

    @cached_property
    def normality(self) -> float | None:
        """Observed significance of a normal population by Anderson and Darling; None below eight coupons."""
        if self.n < LEAST_FOR_SHAPE or self.same:
            return None
        standard = (self.x - self.mean) / self.deviation
        corrected = tests.NORMALITY_STATISTIC(A2=quantiles.anderson_darling(standard), n=float(self.n))
        return float(tests.NORMALITY_LEVEL(A_s=corrected))

    @cached_property
    def shapiro(self) -> float | None:
        """The same by Shapiro and Wilk."""
        return None if self.n < LEAST_FOR_SHAPE or self.same else quantiles.shapiro_wilk(self.x)

    @cached_property
    def batches_differ(self) -> tuple[float, float, float] | None:
        """(k-sample statistic, its critical value, probability of F); None where batches cannot be compared.

        The batches differ where the statistic passes its critical value, or F is improbable at the same level.
        """
        groups = list(self.by_batch.values())
        if self.squares is None or self.same or self.n < 4:
            return None
        statistic, sigma = k_sample(groups)
        found = float(tests.BATCHES_STATISTIC(A2_k=statistic, b_n=float(len(groups)), sigma=sigma))
        between, within = self.squares
        ratio = tests.VARIANCE_RATIO(MSB=between, MSE=within) if within > 1e-24 * self.mean**2 else np.inf
        tail = quantiles.f_tail(float(ratio), len(groups) - 1, self.n - len(groups))
        return found, float(tests.BATCHES_LIMIT(f_b=len(groups) - 1.0)), tail

    @property
    def differing(self) -> bool:
        """Whether the batches differ by either test."""
        found = self.batches_differ
        return found is not None and bool(found[0] > found[1] or found[2] < ALIKE)

    @cached_property
    def trend(self) -> tuple[float, float] | None:
        """(slope [N a step], probability that it is chance); over the days, or the log's order where few differ."""
        time = self.time
        if self.n < LEAST_FOR_TREND or self.same:
            return None
        loads = np.asarray(self.loads, dtype=np.float64)
        centred = time - time.mean()
        slope = float((centred * loads).sum() / (centred**2).sum())
        r = slope * float(time.std(ddof=1)) / self.deviation
        if abs(r) >= 1 - 1e-12:
            return slope, 0.0
        return slope, quantiles.student_tails(float(tests.SLOPE_T(r=r, n=float(self.n))), self.n - 2)

    @property
    def falling(self) -> bool:
        """Whether the loads fall with time, more than chance would have it."""
        return self.trend is not None and self.trend[0] < 0 and self.trend[1] < SIGNIFICANT

    def needed(self, of_mean: float) -> int | None:
        """Coupons for a normal limit 90/95 of that part of the mean, were the scatter to stay; None beyond 300."""
        for n in (*range(2, 31), *range(35, 301, 5)):
            if 1 - quantiles.tolerance_factor(n, 0.90) * self.variation >= of_mean:
                return int(n)
        return None


FAIR_BATCHES = 5
"""Batches from which an analysis of variance is fair, CMH-17 8.3 (from memory)."""
ALIKE = 0.025
"""Level of the tests whether batches differ, CMH-17 8.3.2 (from memory)."""
LEAST_FOR_SHAPE = 8
"""Coupons below which no test of the distribution is made: it would pass nearly anything (common practice)."""
LEAST_FOR_TREND = 5
"""Coupons below which no trend is looked for (common practice)."""


def k_sample(groups: Sequence[Floats]) -> tuple[float, float]:
    """(k-sample Anderson-Darling statistic, its deviation when the samples are alike): Scholz and Stephens (1987).

    The form for loads that may be the same (their equation 7).
    """
    pooled = np.sort(np.concatenate(list(groups)))
    n, k = len(pooled), len(groups)
    z, left = np.unique(pooled, return_index=True)
    same = np.diff(np.append(left, n))
    below = left + same / 2.0  # B_aj
    statistic = 0.0
    for g in groups:
        own = np.sort(g)
        to = np.searchsorted(own, z, side="right")
        inner = to - (to - np.searchsorted(own, z, side="left")) / 2.0  # M_aij
        weight = below * (n - below) - n * same / 4.0
        with np.errstate(divide="ignore", invalid="ignore"):
            terms = np.where(weight > 0, same / n * (n * inner - below * len(own)) ** 2 / weight, 0.0)
        statistic += float(terms.sum()) / len(own)
    statistic *= (n - 1.0) / n
    h_big = sum(1.0 / len(g) for g in groups)
    inverse = 1.0 / np.arange(1, n)
    h = float(inverse.sum())
    # sum over i < j of 1 / ((n - i) j)
    tails = np.cumsum(inverse[::-1])[::-1]
    i = np.arange(1, n - 1)
    g_sum = float((tails[i] / (n - i)).sum()) if n > 2 else 0.0
    a = (4 * g_sum - 6) * (k - 1) + (10 - 6 * g_sum) * h_big
    b = (2 * g_sum - 4) * k**2 + 8 * h * k + (2 * g_sum - 14 * h - 4) * h_big - 8 * h + 4 * g_sum - 6
    c = (6 * h + 2 * g_sum - 2) * k**2 + (4 * h - 4 * g_sum + 6) * k + (2 * h - 6) * h_big + 4 * h
    d = (2 * h + 6) * k**2 - 4 * h * k
    variance = (a * n**3 + b * n**2 + c * n + d) / ((n - 1.0) * (n - 2.0) * (n - 3.0))
    return statistic, sqrt(variance)
