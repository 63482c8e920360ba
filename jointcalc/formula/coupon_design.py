"""A design strength from tests: EN 1990 Annex D and the test-based factor of AISI S100 K2.1.1.

The Eurocode's k_n is a prediction factor (a fractile of the next weld, with a vague prior), no tolerance factor: at six
coupons it is 2.18 where the 95/95 tolerance factor is 3.71.  The two are never mixed.
"""

from __future__ import annotations

import numpy as np

from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register

EN_K = Source("EN 1990:2002", "Table D1", "from memory")
EN_CHARACTERISTIC = Source("EN 1990:2002", "D7.2", "from memory")
EN_DESIGN = Source("EN 1990:2002", "D7.3", "from memory")
AISI = Source("AISI S100-16", "K2.1.1", "from memory")

LEAST_UNKNOWN = 0.10
"""Coefficient of variation below which an unknown one needs other evidence (EN 1990 D7.1, from memory)."""
LEAST_TESTED = 0.065
"""Least coefficient of variation of tests, AISI S100 K2.1.1 (from memory)."""
C_P_THREE = 5.7
"""Correction for three tests, AISI S100 K2.1.1 (from memory)."""
LEAST_TESTS = 3
"""Identical tests that AISI S100 K2.1.1 asks for at least (from memory)."""
APART = 0.15
"""Deviation of one result from the mean at which AISI S100 K2.1.1 asks for more tests (from memory)."""
C_PHI = 1.52
"""Calibration coefficient for LRFD, AISI S100 K2.1.1 (from memory)."""
BETA_CONNECTION = 3.5
"""Target reliability index of connections, LRFD (from memory)."""
V_Q = 0.21
"""Coefficient of variation of the load effect, AISI S100 K2.1.1 (from memory)."""

N = Names(
    n=("1", "number of tests"),
    t=("1", "95 % quantile of Student's t, n - 1 degrees of freedom"),
    m=("N", "mean of the tests"),
    V=("1", "coefficient of variation of the tests"),
    k_n=("1", "factor for the 5 % fractile"),
    k_d=("1", "factor for the design value"),
    C_P=("1", "correction for the number of tests"),
    V_P=("1", "coefficient of variation of the tests, at least 0.065"),
    M_m=("1", "mean of the material factor"),
    V_M=("1", "coefficient of variation of the material factor"),
    F_m=("1", "mean of the fabrication factor"),
    V_F=("1", "coefficient of variation of the fabrication factor"),
    P_m=("1", "mean of the professional factor, 1 when the strength is the mean of the tests"),
    phi=("1", "resistance factor"),
    d=("mm", "spot diameter counted on"),
    d_b=("mm", "mean button of the tests"),
)


def k_known(*, n: Value) -> Value:
    """Factor for the 5 % fractile, coefficient of variation known beforehand."""
    return 1.645 * np.sqrt(1 + 1 / n)


def k_unknown(*, t: Value, n: Value) -> Value:
    """Factor for the 5 % fractile, coefficient of variation known from the tests alone."""
    return t * np.sqrt(1 + 1 / n)


def characteristic(*, m: Value, k_n: Value, V: Value) -> Value:
    """Characteristic strength: the 5 % fractile of the next weld [N]."""
    return m * (1 - k_n * V)


def design(*, m: Value, k_d: Value, V: Value) -> Value:
    """Design strength directly from the tests, conversion factor 1 [N]."""
    return m * (1 - k_d * V)


def correction(*, n: Value) -> Value:
    """Correction of the scatter of few tests, from four tests on."""
    return (1 + 1 / n) * (n - 1) / (n - 3)


def resistance_factor(*, M_m: Value, F_m: Value, P_m: Value, V_M: Value, V_F: Value, C_P: Value, V_P: Value) -> Value:
    """Resistance factor phi of a connection, from the scatter of its tests."""
    V_R = np.sqrt(V_M**2 + V_F**2 + C_P * V_P**2 + V_Q**2)
    return C_PHI * (M_m * F_m * P_m) * np.exp(-BETA_CONNECTION * V_R)


def safety_factor(*, phi: Value) -> Value:
    """Safety factor Omega for allowable strength design."""
    return 1.6 / phi


def smaller_spot(*, m: Value, d: Value, d_b: Value) -> Value:
    """Mean of the tests for a spot smaller than theirs [N].

    A spot that shears through loses strength with the square of its diameter, one that pulls out with the diameter
    itself: the square is the lower of the two.
    """
    return m * np.minimum(1, (d / d_b) ** 2)


K_KNOWN = register(
    Formula(
        k_known, symbol="k_n", unit="1", title="Fractile factor, V known", source=EN_K, names=N,
        limits=(Limit("n", low=1.0),),
    )
)  # fmt: skip
K_UNKNOWN = register(
    Formula(
        k_unknown, symbol="k_n", unit="1", title="Fractile factor, V unknown", source=EN_K, names=N,
        limits=(Limit("n", low=3.0),),
    )
)  # fmt: skip
CHARACTERISTIC = register(
    Formula(
        characteristic, symbol="R_k", unit="N", title="Characteristic strength from tests", source=EN_CHARACTERISTIC,
        names=N,
    )
)  # fmt: skip
DESIGN = register(
    Formula(design, symbol="R_d", unit="N", title="Design strength from tests", source=EN_DESIGN, names=N)
)
SMALLER_SPOT = register(
    Formula(
        smaller_spot, symbol="m_d", unit="N", title="Mean of the tests for a smaller spot",
        source=Source("limit analysis", "spot sheared through, area of the spot", "derivation"), names=N,
    )
)  # fmt: skip
CORRECTION = register(
    Formula(
        correction, symbol="C_P", unit="1", title="Correction for few tests", source=AISI, names=N,
        limits=(Limit("n", low=4.0),),
    )
)  # fmt: skip
RESISTANCE_FACTOR = register(
    Formula(
        resistance_factor, symbol="phi", unit="1", title="Resistance factor from tests", source=AISI, names=N,
        inner_units={"V_R": "1"},
    )
)  # fmt: skip
SAFETY_FACTOR = register(
    Formula(safety_factor, symbol="Omega", unit="1", title="Safety factor from tests", source=AISI, names=N)
)
