"""Coupons: tolerance limits, fractiles and factors of published tables and worked cases."""

from __future__ import annotations

from math import sqrt

from jointcalc.check.coupon_limits import CONTENTS, Sample
from jointcalc.formula import coupon_design, coupon_limits, coupon_tests
from jointcalc.statics import quantiles

from ..case import Case  # noqa: TID252  (a package under pytest and under -m alike)

KIND = "coupons"
# 18 strengths on which the results of the handbook's own programs are quoted (second-hand)
S18 = (
    137.4438, 139.5395, 150.89, 141.4474, 141.8203, 151.8821, 143.9245, 132.9732, 136.6419, 138.1723, 148.7668,
    143.283, 143.5429, 141.7023, 137.4732, 152.338, 144.1589, 128.5218,
)  # fmt: skip
PROGRAMS = "CMH-17-1G, results of its programs on 18 strengths"
ROUNDED = "the programs take k from closed approximations, at 18 within 0.0005 of the exact ones"
SAMPLE = Sample(S18)
D1 = (1, 2, 3, 4, 5, 6, 8, 10, 20, 30)
TABLED = (35, 40, 50, 60, 70, 80, 90, 100)
GRUBBS = (3, 4, 5, 6, 7, 8, 9, 10, 15, 20)


def both(which: str) -> tuple[float, ...]:
    """The limits 90/95 and 99/95 of the 18 strengths by one distribution."""
    return tuple(getattr(SAMPLE, which)(name).value for name in CONTENTS)


def unknown(n: int) -> float:
    return coupon_design.K_UNKNOWN(t=quantiles.student(0.95, n - 1), n=float(n))


def arc_spots() -> float:
    """AISI arc spot weld shear: 126 tests, P_m 1.17, V_P 0.22."""
    c_p = coupon_design.CORRECTION(n=126.0)
    return coupon_design.RESISTANCE_FACTOR(M_m=1.10, F_m=1.0, P_m=1.17, V_M=0.10, V_F=0.10, C_P=c_p, V_P=0.22)


CASES: list[Case] = [
    Case(KIND, "normal 90/95, 99/95", PROGRAMS, "second-hand", "129.287 120.336", "1", lambda: both("normal"),
         relative=2e-4, why=ROUNDED),
    Case(KIND, "log-normal 90/95, 99/95", PROGRAMS, "second-hand", "129.664 121.710", "1", lambda: both("lognormal"),
         relative=2e-4, why=ROUNDED),
    Case(KIND, "Weibull 90/95, 99/95", PROGRAMS, "second-hand", "125.441 109.150", "1", lambda: both("weibull"),
         units=1.0, why="the programs' fit ends a digit earlier"),
    Case(KIND, "Hanson-Koopmans 90/95, 99/95", PROGRAMS, "second-hand", "124.156 99.651", "1", lambda: both("rank")),
    *(
        Case(KIND, f"one-sided normal factor {words}, n = {', '.join(map(str, TABLED))}",
             "printed tables of the factor", "from memory", printed, "1",
             lambda p=p: tuple(quantiles.tolerance_factor(n, p) for n in TABLED), units=1.0,
             why="the third digit as remembered")
        for words, p, printed in (
            ("90/95", 0.90, "1.732 1.697 1.646 1.609 1.581 1.559 1.542 1.527"),
            ("99/95", 0.99, "2.995 2.941 2.862 2.807 2.765 2.733 2.706 2.684"),
        )
    ),
    Case(KIND, "one-sided normal factor 90/99, n = 43", "NIST/SEMATECH e-Handbook 7.2.6.3", "second-hand", "1.8752", "1",
         lambda: quantiles.tolerance_factor(43, 0.90, 0.99), relative=7e-4,
         why="the handbook prints its closed approximation, 1.87519; exact is 1.87395"),
    Case(KIND, "k_n for the 5 % fractile, V known", "EN 1990 Table D1", "second-hand",
         "2.31 2.01 1.89 1.83 1.80 1.77 1.74 1.72 1.68 1.67", "1",
         lambda: tuple(coupon_design.K_KNOWN(n=float(n)) for n in D1), units=2.0,
         why="the table cuts the third digit off in places (1.839 is printed 1.83, 2.326 2.31)"),
    Case(KIND, "k_n for the 5 % fractile, V unknown", "EN 1990 Table D1", "second-hand",
         "3.37 2.63 2.33 2.18 2.00 1.92 1.76 1.73", "1", lambda: tuple(unknown(n) for n in D1[2:]), units=1.3,
         why="the table cuts the third digit off in places (2.010 is printed 2.00, 1.772 1.76)"),
    Case(KIND, "critical normed residual, n = 3 to 20", "CMH-17-1G Table 8.5.7", "from memory",
         "1.154 1.481 1.715 1.887 2.020 2.127 2.215 2.290 2.548 2.708", "1",
         lambda: tuple(
             coupon_tests.OUTLIER_LIMIT(f=n - 2.0, t=quantiles.student(1 - 0.05 / (2 * n), n - 2)) for n in GRUBBS
         ), units=1.0, why="the third digit as remembered"),
    Case(KIND, "significance at the critical values 0.656, 0.787, 0.918, 1.092 of the corrected statistic",
         "Stephens (1974), case of unknown mean and deviation", "from memory", "0.10 0.05 0.025 0.010", "1",
         lambda: tuple(coupon_tests.NORMALITY_LEVEL(A_s=a) for a in (0.656, 0.787, 0.918, 1.092))),
    Case(KIND, "phi of arc spot welds in shear by their 126 tests", "AISI S100 commentary", "from memory", "0.60", "1",
         arc_spots, units=0.6, why="the specification prints 0.60 for a computed 0.605"),
    Case(KIND, "V_B of 18 coupons", "CMH-17-1G 8.3.4, by hand", "computed", "5.6225", "1",
         lambda: coupon_limits.WEIBULL_FACTOR_90(n=18.0)),
    Case(KIND, "C_P and phi of 6 tests, V_P 0.065", "AISI S100 K2.1.1, independent script", "computed", "1.944 0.652", "1",
         lambda: (coupon_design.CORRECTION(n=6.0), coupon_design.RESISTANCE_FACTOR(
             M_m=1.10, F_m=1.0, P_m=1.0, V_M=0.10, V_F=0.10, C_P=7 / 6 * 5 / 3, V_P=0.065))),
    Case(KIND, "Omega of 6 tests, V_P 0.065", "AISI S100 K2.1.1, independent script", "computed", "2.453", "1",
         lambda: Sample((8910, 9420, 9050, 8630, 9200, 8790)).omega("resistance_weld").value or 0.0),
    Case(KIND, "5 % value of six shear coupons", "EN 1990 D7.2, independent script", "computed", "8378", "N",
         lambda: Sample((8910, 9420, 9050, 8630, 9200, 8790)).characteristic.value or 0.0),
    Case(KIND, "design value, n = 4, V 0.05", "EN 1990 D7.3, by hand", "computed", "4300", "N",
         lambda: coupon_design.DESIGN(m=10e3, k_d=11.40, V=0.05)),
    Case(KIND, "effective size of batches of 4, 5, 9", "by hand", "computed", "5.6111", "1",
         lambda: coupon_limits.BATCH_SIZE(n=18.0, n_2=122 / 18, b_n=3.0)),
    Case(KIND, "deviation over batches of 5, MSB 9, MSE 4", "by hand: between (9 - 4) / 5 = 1, within 4", "computed",
         f"{sqrt(5):.6f}", "N", lambda: coupon_limits.BATCH_DEVIATION(MSB=9.0, MSE=4.0, n_1=5.0)),
]  # fmt: skip
