"""AWS D8.1M minimums: recalled formulas, held against values worked from them apart and against other sources."""

from __future__ import annotations

import numpy as np
import pytest

from jointcalc.formula import spot_d8_1 as d8
from jointcalc.formula import spot_en1993, spot_size

# S MPa, t mm, ST kN, CT kN: computed beside the reference copy of the formulas, three decimals
ROWS = [
    (270, 0.7, 1.142, 0.570), (270, 0.8, 1.395, 0.765), (270, 0.9, 1.665, 0.991), (270, 1.0, 1.950, 1.250),
    (270, 1.2, 2.563, 1.867), (270, 1.5, 3.582, 3.050), (300, 0.9, 1.859, 0.991), (300, 1.0, 2.177, 1.250),
    (300, 1.2, 2.862, 1.867), (350, 1.0, 2.557, 1.250), (350, 1.2, 3.361, 1.867), (420, 1.0, 3.088, 1.250),
    (420, 1.2, 4.059, 1.867), (500, 1.2, 4.848, 1.867),
]  # fmt: skip


@pytest.mark.parametrize(("S", "t", "shear", "cross"), ROWS)
def test_rows(S: float, t: float, shear: float, cross: float) -> None:
    assert d8.SHEAR_TENSION(t=t, S=float(S)) / 1e3 == pytest.approx(shear, abs=0.00051)
    assert d8.CROSS_TENSION(t=t) / 1e3 == pytest.approx(cross, abs=0.00051)


def test_strong_sheet_row() -> None:
    """S 1000 MPa, t 1 mm by hand: (-0.636 + 0.658 + 1.674) x 1000 x 4 = 6784 N; shows the square term."""
    assert d8.SHEAR_TENSION(t=1.0, S=1000.0) == pytest.approx(6784.0)


def test_cross_tension_passes_shear_tension_in_soft_thick_sheet() -> None:
    """At S 270, t 2.0: 5.74 against 5.52 kN (computed), the reason why the check caps the one by the other."""
    assert d8.CROSS_TENSION(t=2.0) / 1e3 == pytest.approx(5.74, abs=0.006)
    assert d8.SHEAR_TENSION(t=2.0, S=270.0) / 1e3 == pytest.approx(5.52, abs=0.006)


def test_floor_is_of_a_four_root_t_spot() -> None:
    """The 4 t^1.5 is t x 4 sqrt(t): the floor is 1.8 t d S of the least weld, below the pull-out factor 2.5."""
    for t, S in ((0.8, 270.0), (1.5, 350.0)):
        d = spot_size.USUAL(t=t)
        factor = d8.SHEAR_TENSION(t=t, S=S) / (t * d * S)
        assert 1.7 < factor < 1.9
        assert factor * t * d * S < spot_en1993.TEARING(t=t, d_s=d, f_u=S)


@pytest.mark.parametrize(("t", "inside"), [(0.59, False), (0.6, True), (3.0, True), (3.01, False)])
def test_range(t: float, inside: bool) -> None:
    for formula in (d8.SHEAR_TENSION, d8.CROSS_TENSION):
        assert (formula.outside(t=t, S=300.0) == []) is inside


def test_arrays() -> None:
    t = np.array([r[1] for r in ROWS])
    S = np.array([float(r[0]) for r in ROWS])
    np.testing.assert_allclose(d8.SHEAR_TENSION(t=t, S=S) / 1e3, [r[2] for r in ROWS], atol=0.00051)
