"""Twist of closed sections: Bredt against the exact tube, a long tube's buckling against the shell theory it follows."""

from __future__ import annotations

from math import pi, sqrt

import pytest

from jointcalc.formula import closed_torsion as ct


def test_the_shear_of_a_twisted_cell_is_that_of_the_exact_tube() -> None:
    """Coulomb: tau = T r / I_p at the mid-line of a thin tube; Bredt's 2 A_m t of the same within (t/D)²."""
    R, t, T = 30.0, 1.0, 4e5
    I_p = pi / 2 * ((R + t / 2) ** 4 - (R - t / 2) ** 4)
    assert ct.bredt_shear(T=T, A_m=pi * R**2, t=t, tau_V=0.0) == pytest.approx(T * R / I_p, rel=1e-3)
    # a rectangle of 40 x 60 by hand: 200 N m / (2 * 2400 * 1) with 5 MPa of the shear force
    assert ct.bredt_shear(T=2e5, A_m=2400.0, t=1.0, tau_V=5.0) == pytest.approx(46.667, rel=1e-4)


def test_a_long_tube_buckles_a_little_under_the_theory_of_its_shell() -> None:
    """Long cylinders (Schwerin): tau_cr = E (t/R)^1.5 / (3 sqrt 2 (1 - nu²)^0.75); AISC takes some 15 % off."""
    E, D, t, nu = 210000.0, 100.0, 1.0, 0.3
    theory = E * (2 * t / D) ** 1.5 / (3 * sqrt(2) * (1 - nu**2) ** 0.75)
    assert 0.80 < ct.tube_torsion(E=E, D=D, t=t) / theory < 0.90
    assert ct.tube_torsion(E=E, D=2 * D, t=t) == pytest.approx(ct.tube_torsion(E=E, D=D, t=t) / 2**1.5)


def test_shear_that_uses_up_the_wall_uses_up_yield() -> None:
    """By hand: 60 of 120 MPa is half, so half of 235 MPa."""
    assert ct.buckling_as_normal(f_y=235.0, tau=60.0, f_bv=120.0) == pytest.approx(117.5)
