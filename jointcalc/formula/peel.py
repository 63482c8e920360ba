"""A sheet peeled from a row of spots or plugs: where its flange folds open, and how it levers on the weld.

Derivation. The flange is a strip that is held along the row and at its bend, `a` apart, and pulled across its plane.
It gives way when two hinges have formed, one along the row and one along the bend: the pull F on a strip of width b
turns both by F·a = 2·m_p·b, m_p = f_y·t²/4 being the moment at which a unit width of sheet is plastic through. Two
straight hinges are one mechanism of several, so F is an upper bound of the strip's collapse load; the pull that a fan
round a single weld stands is less where the welds are far apart, and the effective widths that EN 1993-1-8 gives for
its T-stubs bound it there. Its mode 1 is the same equation.

Under the load F the row carries the moment F·a/2, and the flange beyond the row (to the edge, `e`) presses on the
other sheet with a lever n: the weld is pulled by the load and by that pressure together.
"""

from __future__ import annotations

import numpy as np

from jointcalc.formula.core import Formula, Names, Source, Value, register

FOLD = Source(
    "limit analysis of a peeled flange",
    "two plastic hinges, an upper bound",
    "derivation",
    "mode 1 of a T-stub in EN 1993-1-8, 6.2.4, is the same (from memory)",
)
WIDTH = Source("EN 1993-1-8:2005", "Table 6.4, effective lengths", "from memory", "of bolts in an unstiffened flange")
LEVER = Source("EN 1993-1-8:2005", "6.2.4, prying of a T-stub", "from memory", "lever at most 1.25 times the arm")

N = Names(
    t=("mm", "thickness of the sheet that folds"),
    f_y=("MPa", "yield strength of that sheet"),
    m_p=("N", "plastic moment of the sheet per width, N·mm/mm"),
    b=("mm", "width of flange that one weld holds"),
    b_eff=("mm", "effective width of the hinges at one weld"),
    a=("mm", "arm: from the row to the bend that is pulled"),
    e=("mm", "from the row to the edge of the flange"),
    F=("N", "pull on one weld across the sheets"),
)


def plastic_moment(*, t: Value, f_y: Value) -> Value:
    """Moment at which a unit width of sheet is plastic through [N], that is N·mm/mm."""
    return f_y * t**2 / 4


def effective_width(*, b: Value, a: Value, e: Value) -> Value:
    """Width of the hinges at one weld [mm]: what it holds, not more than a fan round it."""
    return np.minimum(b, np.minimum(2 * np.pi * a, 4 * a + 1.25 * e))


def fold(*, m_p: Value, b_eff: Value, a: Value) -> Value:
    """Pull across the sheets at which the flange folds open at one weld [N]."""
    return 2 * m_p * b_eff / a


def spot_pull(*, F: Value, a: Value, e: Value) -> Value:
    """Pull on the weld when the load F levers the flange off it [N]."""
    n = np.minimum(e, 1.25 * a)
    return F * (1 + a / (2 * n))


PLASTIC_MOMENT = register(
    Formula(
        plastic_moment, symbol="m_p", unit="N", title="Plastic moment of the sheet, per width", source=FOLD, names=N
    )
)
EFFECTIVE_WIDTH = register(
    Formula(
        effective_width, symbol="b_eff", unit="mm", title="Effective width of the hinges at a weld", source=WIDTH,
        names=N,
    )
)  # fmt: skip
FOLDS = register(
    Formula(fold, symbol="F_fold", unit="N", title="Pull at which the flange folds open", source=FOLD, names=N)
)
SPOT_PULL = register(
    Formula(
        spot_pull, symbol="F_t", unit="N", title="Pull on the weld with the flange's lever", source=LEVER, names=N,
        inner_units={"n": "mm"},
    )
)  # fmt: skip
