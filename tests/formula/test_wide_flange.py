"""Shear lag and curling: the rows of the table meet, and the mechanics behind the curl has the same form."""

from __future__ import annotations

import pytest

from jointcalc.formula import wide_flange


def test_the_rows_of_shear_lag_meet() -> None:
    """EN 1993-1-5 Table 3.1 (from memory): nothing at kappa 0.02, and the very wide rows take over at 0.70."""
    assert wide_flange.width_over_length(b_0=20.0, L_e=1000.0) == pytest.approx(0.02)
    assert wide_flange.lag_sagging(kappa=0.02) == pytest.approx(1.0, abs=3e-3)
    assert wide_flange.lag_hogging(kappa=0.02) == pytest.approx(1.0, abs=1e-3)
    assert wide_flange.lag_sagging(kappa=0.7) == pytest.approx(wide_flange.lag_sagging_wide(kappa=0.7), rel=2e-3)
    assert wide_flange.lag_hogging(kappa=0.7) == pytest.approx(wide_flange.lag_hogging_wide(kappa=0.7), rel=1e-2)
    # the worked number of the reference: b_0 60, L_e 1000, beta 0.977
    assert wide_flange.lag_sagging(kappa=0.06) == pytest.approx(0.977, abs=5e-4)


def test_branches() -> None:
    assert wide_flange.lag_branch(kappa=0.02, hogging=False) is None
    assert wide_flange.lag_branch(kappa=0.3, hogging=True) is wide_flange.LAG_HOGGING
    assert wide_flange.lag_branch(kappa=0.9, hogging=False) is wide_flange.LAG_SAGGING_WIDE


def test_moments_reduced_by_hand() -> None:
    """EN 1993-1-5 3.3: beta^kappa, never under beta; AISI S100 B4.3: the ratio of the table, linear between its rows."""
    assert wide_flange.lagged_moment(M_c=100.0, beta=0.64, kappa=0.5) == pytest.approx(80.0)
    assert wide_flange.lagged_moment(M_c=100.0, beta=0.2, kappa=2.0) == pytest.approx(20.0)
    ratio = wide_flange.short_span_ratio(15.0)
    assert ratio == pytest.approx((0.82 + 0.86) / 2)
    assert wide_flange.short_span_moment(M_c=100.0, ratio=ratio) == pytest.approx(84.0)
    assert wide_flange.short_span_ratio(40.0) == 1.0
    assert wide_flange.short_span_ratio(5.0) is None


@pytest.mark.parametrize("sigma,t,z,b", [(100.0, 0.8, 15.0, 60.0), (250.0, 1.5, 30.0, 90.0)])
def test_a_curling_flange_is_a_cantilever_under_the_pull_of_its_curvature(
    sigma: float, t: float, z: float, b: float
) -> None:
    """q = sigma t sigma/(E z) towards the axis, cantilever q b^4/(8 D): the code's 2 stands where this gives 1.365."""
    E = 210000.0
    q = sigma * t * sigma / (E * z)
    tip = q * b**4 / (8 * E * t**3 / (12 * (1 - 0.3**2)))
    assert wide_flange.curl(sigma_a=sigma, E=E, t=t, z=z, b_s=b) / tip == pytest.approx(2 / (1.5 * (1 - 0.3**2)))
