"""Sums and factors of members: secant, tension with bending, webs between two forces."""

from __future__ import annotations

import numpy as np
import pytest

from jointcalc.formula import column, web_aisi, web_en1993


@pytest.mark.parametrize("n", [0.1, 0.5316, 0.8])
def test_the_secant_from_the_differential_equation(n: float) -> None:
    """y'' + k^2 (y + e) = 0 between pinned ends in finite differences: the moment at the middle over N e."""
    cells = 2000
    d = 1.0 / cells
    k2 = n * np.pi**2
    A = np.diag(np.full(cells - 1, -2 / d**2 + k2)) + (np.eye(cells - 1, k=1) + np.eye(cells - 1, k=-1)) / d**2
    y = np.linalg.solve(A, np.full(cells - 1, -k2))
    assert column.secant_factor(n=n) == pytest.approx(1 + y.max(), rel=1e-4)


def test_tension_with_bending_by_hand() -> None:
    """AISI S100-16 H1.1 (from memory)."""
    assert web_aisi.tension_and_bending(T=2.0, T_a=10.0, M=3.0, M_a=5.0) == pytest.approx(0.8)


def test_webs_between_two_forces_by_hand() -> None:
    """EN 1993-1-3 6.1.7.2 (from memory): 6.66 - h_w/64 t near an end, 21.0 - h_w/16.3 t away from it."""
    given = {"k_3": 1.0, "h_w": 48.9, "t": 1.5, "s_s": 30.0, "f_yb": 300.0}
    end = web_en1993.crippling_end_opposed(**given, k_1=0.9, k_2=0.95)
    assert end == pytest.approx(0.9 * 0.95 * (6.66 - 32.6 / 64) * 1.2 * 2.25 * 300)
    inner = web_en1993.crippling_interior_opposed(**given, k_4=0.9, k_5=0.95)
    assert inner == pytest.approx(0.9 * 0.95 * (21.0 - 2.0) * 1.026 * 2.25 * 300)
