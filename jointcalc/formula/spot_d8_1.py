"""AWS D8.1M / D8.9M: least shear-tension and cross-tension strength of a spot in vehicle sheet.

Acceptance floors for a weld of the minimum size 4 sqrt(t), a quality level and not a service
capacity by themselves (the standard's own scope warning).
"""

from __future__ import annotations

from jointcalc.formula.core import Formula, Limit, Names, Source, Value, register

ST = Source("AWS D8.1M:2021", "minimum shear-tension strength", "from memory", "reprinted in sheet-steel guidelines")
CT = Source("AWS D8.1M:2021", "minimum cross-tension strength", "from memory", "coefficient of medium confidence")

N = Names(t=("mm", "governing metal thickness"), S=("MPa", "tensile strength of the sheet"))

# The tests of the companion standard D8.9M cover this range of sheet.
RANGE = (Limit("t", low=0.6, high=3.0, unit="mm", why="governing metal thickness"),)


def shear_tension(*, t: Value, S: Value) -> Value:
    """Least shear-tension strength of one spot [N]."""
    return (-6.36e-7 * S**2 + 6.58e-4 * S + 1.674) * S * 4 * t**1.5


def cross_tension(*, t: Value) -> Value:
    """Least cross-tension strength of one spot [N]."""
    return 1.25 * t**2.2 * 1000


SHEAR_TENSION = register(
    Formula(
        shear_tension, symbol="ST", unit="N", title="Least shear-tension strength", source=ST, names=N, limits=RANGE
    )
)
CROSS_TENSION = register(
    Formula(
        cross_tension, symbol="CT", unit="N", title="Least cross-tension strength", source=CT, names=N, limits=RANGE
    )
)
