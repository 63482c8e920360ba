"""Curves of EN 1993-1-9 against the printed table of the same curves."""

from __future__ import annotations

from functools import partial

import numpy as np

from jointcalc.formula import fatigue as fa

from ..case import Case  # noqa: TID252  (a package under pytest and under -m alike)

KIND = "fatigue"
SOURCE = "ENV 1993-1-1:1992 Table 9.6.1"
ROUNDED = "categories are rounded steps of 10^0.05, the print keeps the unrounded ones"
CURVES = {  # category: limit at 5e6, cut-off at 1e8
    160: "117 64", 140: "104 57", 125: "93 51", 112: "83 45", 100: "74 40", 90: "66 36", 80: "59 32", 71: "52 29",
    63: "46 26", 56: "41 23", 50: "37 20", 45: "33 18", 40: "29 16", 36: "26 14",
}  # fmt: skip
LOG_3 = "12.901 12.601 12.301 12.001 11.701 11.401 11.101"
LOG_5 = "17.036 16.536 16.036 15.536 15.036 14.536 14.036"
STEPS = (160, 125, 100, 80, 63, 50, 40)


def limits(category: int) -> tuple[float, float]:
    C = float(category)
    return float(fa.STRENGTH_SLOPE_3(Delta_sigma_C=C, N_R=5e6)), float(fa.CUT_OFF(Delta_sigma_C=C))


def log_a(slope: int) -> tuple[float, ...]:
    formula, N = (fa.STRENGTH_SLOPE_3, 1e6) if slope == 3 else (fa.STRENGTH_SLOPE_5, 2e7)
    return tuple(float(np.log10(N * formula(Delta_sigma_C=float(C), N_R=N) ** slope)) for C in STEPS)


def shear() -> tuple[float, ...]:
    logs = (float(np.log10(1e6 * fa.SHEAR_STRENGTH(Delta_tau_C=C, N_R=1e6) ** 5)) for C in (100.0, 80.0))
    return (*logs, *(float(fa.SHEAR_CUT_OFF(Delta_tau_C=C)) for C in (100.0, 80.0)))


CASES: list[Case] = [
    *(Case(KIND, f"category {C}: constant-amplitude limit, cut-off", SOURCE, "from memory", printed, "MPa",
           partial(limits, C), units=1.0, why=ROUNDED) for C, printed in CURVES.items()),
    Case(KIND, "log a of slope 3, categories 160, 125, 100, 80, 63, 50, 40", SOURCE, "from memory", LOG_3, "1",
         partial(log_a, 3), units=20.0, why=ROUNDED),
    Case(KIND, "log a of slope 5, the same categories", SOURCE, "from memory", LOG_5, "1", partial(log_a, 5), units=33.0,
         why=ROUNDED),
    Case(KIND, "shear, categories 100 and 80: log a, cut-off", "ENV 1993-1-1:1992 Table 9.6.2", "from memory",
         "16.301 15.801 46 36", "1, MPa", shear, units=20.0, why=ROUNDED),
    Case(KIND, "limit over category, cut-off over limit, shear cut-off over category", "EN 1993-1-9 7.1", "from memory",
         "0.737 0.549 0.457", "1",
         lambda: (fa.STRENGTH_SLOPE_3(Delta_sigma_C=1.0, N_R=5e6), fa.CUT_OFF(Delta_sigma_C=1.0) / fa.STRENGTH_SLOPE_3(Delta_sigma_C=1.0, N_R=5e6),
                  fa.SHEAR_CUT_OFF(Delta_tau_C=1.0))),
]  # fmt: skip
