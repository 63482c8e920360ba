"""Bending with twisting: von Mises, St Venant, and the clauses by hand."""

from __future__ import annotations

from math import sqrt

import pytest

from jointcalc.formula import warping_torsion as wt


def test_shear_of_a_twisted_sheet() -> None:
    """St Venant, any textbook: tau = T t/J with T = G J theta', whatever J."""
    G, J, t, rate = 80769.0, 120.0, 1.5, 2e-5
    assert wt.twisting_shear(G=G, t=t, rate=rate, tau_V=3.0) == pytest.approx(G * J * rate * t / J + 3.0)


def test_stresses_together() -> None:
    """von Mises over 1.1 (EN 1993-1-3 6.1.6, from memory); pure shear yields at f_y/sqrt 3."""
    assert wt.together(sigma=200.0, tau=0.0) == pytest.approx(200 / 1.1)
    assert wt.together(sigma=30.0, tau=40.0) * 1.1 == pytest.approx(sqrt(30**2 + 3 * 40**2))
    assert wt.shear_as_normal(tau=355 / sqrt(3)) == pytest.approx(355.0)
    assert wt.total_normal(sigma_b=100.0, k=1.5, sigma_w=20.0) == pytest.approx(130.0)


def test_the_reduction_for_twisting() -> None:
    """AISI S100-16 H4 (from memory): bending at the outer face over the greatest of both, at most one."""
    assert wt.twist_reduction(f_max=100.0, f_total=125.0) == pytest.approx(0.8)
    assert wt.twist_reduction(f_max=100.0, f_total=90.0) == 1.0
    assert wt.twisted_moment(R=0.8, M_n=500.0) == pytest.approx(400.0)
