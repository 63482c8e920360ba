"""A peeled flange: limit analysis done again by linear programming, and the textbook fan."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest
from scipy.optimize import linprog

from jointcalc.formula import peel


@pytest.mark.parametrize(
    ("t", "f_y", "a", "b"), [(1.2, 140.0, 25.0, 40.0), (1.2, 140.0, 60.0, 40.0), (2.0, 355.0, 12.0, 30.0)]
)
def test_the_fold_is_the_plastic_limit_of_a_clamped_strip(t: float, f_y: float, a: float, b: float) -> None:
    """Static theorem: the largest F whose moments M_0 - F x stay within ±b m_p between row and bend.

    m_p is the moment of two stress blocks f_y on half the thickness each, t/2 apart.
    """
    M_p = b * f_y * (t / 2) * (t / 2)
    x = np.linspace(0.0, a, 51)
    rows = np.column_stack([np.ones_like(x), -x])  # unknowns M_0, F
    limit = linprog(
        [0.0, -1.0], A_ub=np.vstack([rows, -rows]), b_ub=np.full(2 * len(x), M_p), bounds=[(None, None), (0, None)]
    ).x[1]
    m_p = peel.PLASTIC_MOMENT(t=t, f_y=f_y)
    assert m_p * b == pytest.approx(M_p)
    assert peel.FOLDS(m_p=m_p, b_eff=b, a=a) == pytest.approx(limit, rel=1e-9)


def test_hand_numbers_of_the_floor_sheet() -> None:
    """1.2 mm, f_y 140, 40 mm a spot: m_p = 140·1.44/4 = 50.4 N; 2·50.4·40/25 = 161 N, at 60 mm 67 N."""
    m_p = peel.PLASTIC_MOMENT(t=1.2, f_y=140.0)
    assert [peel.FOLDS(m_p=m_p, b_eff=40.0, a=a) for a in (25.0, 60.0)] == pytest.approx([161.28, 67.2])


def test_far_apart_a_fan_forms_round_each_weld() -> None:
    """4 pi m_p: a point load on a clamped plate (yield-line theory, any textbook); EN 1993-1-8 Table 6.4: 2 pi m."""
    for a in (2.0, 10.0):
        wide = peel.EFFECTIVE_WIDTH(b=1e4, a=a, e=1e4)
        assert peel.FOLDS(m_p=50.4, b_eff=wide, a=a) == pytest.approx(4 * pi * 50.4)
    assert peel.EFFECTIVE_WIDTH(b=1e4, a=20.0, e=10.0) == pytest.approx(4 * 20 + 1.25 * 10)
    assert peel.EFFECTIVE_WIDTH(b=40.0, a=20.0, e=10.0) == 40.0


def test_the_weld_is_pulled_by_load_and_lever() -> None:
    """Moments about the row: half of F·a stays there, and the edge presses back with it on its lever."""
    F, a, e = 100.0, 20.0, 8.0
    pressed = F * a / 2 / e
    assert peel.SPOT_PULL(F=F, a=a, e=e) == pytest.approx(F + pressed)
    # EN 1993-1-8, 6.2.4: no more than 1.25 m of the edge counts as lever
    assert peel.SPOT_PULL(F=F, a=a, e=100.0) == pytest.approx(F * (1 + 1 / 2.5))
