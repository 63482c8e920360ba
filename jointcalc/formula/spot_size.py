"""Sizes of resistance spots by class, and what the EN 1993-1-3 spot assumes."""

from __future__ import annotations

import numpy as np

from jointcalc.formula.core import Formula, Names, Source, Value, register

ISO = Source("ISO 14373:2015", "spot size for routine work and for setting up", "from memory")
D8_1 = Source("AWS D8.1M:2021", "minimum weld size", "from memory")
BS = Source("BS 1140:1993", "minimum slug diameter table", "read", "all rows but two equal 5 sqrt(t)")
EN = Source("EN 1993-1-3:2006", "8.4(3)", "from memory")

N = Names(t=("mm", "thickness of the governing sheet"))


def minimum(*, t: Value) -> Value:
    """Least spot diameter accepted in routine work [mm]: ISO 14373."""
    return 3.5 * np.sqrt(t)


def usual(*, t: Value) -> Value:
    """Usual least spot diameter in vehicle sheet [mm]: AWS D8.1M."""
    return 4 * np.sqrt(t)


def target(*, t: Value) -> Value:
    """Spot diameter a procedure is set up for [mm]: ISO 14373, BS 1140."""
    return 5 * np.sqrt(t)


def fusion_en(*, t: Value) -> Value:
    """Interface diameter EN 1993-1-3 assumes of a fusion spot [mm]."""
    return 0.5 * t + 5


MINIMUM = register(Formula(minimum, symbol="d_min", unit="mm", title="Least spot diameter", source=ISO, names=N))
USUAL = register(Formula(usual, symbol="d_usual", unit="mm", title="Usual least spot diameter", source=D8_1, names=N))
TARGET = register(Formula(target, symbol="d_target", unit="mm", title="Set-up spot diameter", source=BS, names=N))
FUSION_EN = register(Formula(fusion_en, symbol="d_s", unit="mm", title="Assumed fusion spot", source=EN, names=N))

CLASSES = {"minimum": MINIMUM, "usual": USUAL, "target": TARGET}
"""Words a builder may write instead of a measured diameter."""
