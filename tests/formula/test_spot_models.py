"""Strength models of one spot: published ratios, and plate theory for the stress at the spot's edge."""

from __future__ import annotations

from math import log, pi, sqrt

import numpy as np
import pytest

from jointcalc.formula import spot_models as m


def test_pull_out_span_of_the_paper() -> None:
    """f t d S with f 2.5 to 3.1, d 5 mm, S 300 MPa, t 1 mm: 3.75 to 4.65 kN; computed from the recalled range."""
    given = {"t": 1.0, "d": 5.0, "S": 300.0}
    assert m.PULL_OUT(f=2.5, **given) == pytest.approx(3750.0)
    assert m.PULL_OUT(f=3.1, **given) == pytest.approx(4650.0)
    assert m.PULL_OUT(f=2.5, t=2.0, d=5.0, S=300.0) == pytest.approx(7500.0)  # twice the sheet, twice the strength
    assert m.PULL_OUT_FACTOR == 2.5
    assert m.PULL_OUT.outside(f=2.49)
    assert not m.PULL_OUT.outside(f=2.5)
    assert not m.PULL_OUT.outside(f=3.1)
    assert m.PULL_OUT.outside(f=3.11)


def test_cross_tension_ratio_of_the_paper() -> None:
    """Chao 2003, abstract (read): cross tension fails at 74 % of lap shear."""
    assert m.CROSS_TENSION(F_ls=1000.0) == pytest.approx(740.0)


def test_cross_tension_ratio_by_von_mises() -> None:
    """Lap shear pi/4 t d s against cross tension t d s / sqrt(3): 0.735, integrated here over half the spot's edge."""
    angle = np.linspace(-pi / 2, pi / 2, 4001)
    lap = np.trapezoid(np.cos(angle) ** 2, angle) / 2  # tension s cos(angle), its part along the load, over t d
    assert m.CROSS_TENSION(F_ls=float(lap)) == pytest.approx(1 / sqrt(3), rel=0.01)


def plate_stress_factors(ratio: float) -> tuple[float, float]:
    """Stress factors at the edge of a rigid disc in a clamped round plate, by thin-plate theory.

    sigma = k_F F / t^2 under a force on the disc and k_M M / (d t^2) under a moment; `ratio` is the plate's diameter
    over the disc's.  Force: slope phi = A r + B / r + F r ln r / (4 pi D), zero at both edges, moment D phi'(1).
    Moment: w = (A r + B r^3 + C / r + E r ln r) cos with E = M / (4 pi D), clamped outside, and a disc that turns
    as a whole, f'(1) = f(1); moment D f''(1).  Disc radius 1.
    """
    R = ratio
    slope = np.linalg.solve([[1.0, 1.0], [R, 1 / R]], [0.0, -R * log(R)])
    k_force = abs(slope[0] - slope[1] + 1.0) * 6 / (4 * pi)
    a, b, c = np.linalg.solve(
        [[0.0, 2.0, -2.0], [R, R**3, 1 / R], [1.0, 3 * R**2, -1 / R**2]], [-1.0, -R * log(R), -(log(R) + 1)]
    )
    k_moment = abs(6 * b + 2 * c + 1.0) * 6 / (4 * pi) * 2  # radius to diameter
    assert np.isfinite(a)
    return k_force, k_moment


def test_edge_stress_coefficients_are_plate_theory() -> None:
    """1.744 and 1.872 are those of a disc in a plate ten times its diameter: derived here, recalled there."""
    k_force, k_moment = plate_stress_factors(10.0)
    kappa = 0.6 * sqrt(1.5)  # 0.6 sqrt(t), read
    pull = m.EDGE_STRESS(t=1.5, d=6.0, F_z=700.0, M=0.0)
    assert pull == pytest.approx(kappa * k_force * 700 / 1.5**2, rel=5e-4)
    bend = m.EDGE_STRESS(t=1.5, d=6.0, F_z=0.0, M=5000.0)
    assert bend == pytest.approx(kappa * k_moment * 5000 / (6.0 * 1.5**2), rel=5e-4)
    assert m.EDGE_STRESS(t=1.5, d=6.0, F_z=700.0, M=5000.0) == pytest.approx(pull + bend)


def test_edge_stress_by_hand() -> None:
    """t 1 mm, d 5 mm: 0.6 x 1.744 = 1.0464 MPa for each newton, 0.6 x 1.872 / 5 = 0.22464 for each N mm."""
    assert m.EDGE_STRESS(t=1.0, d=5.0, F_z=100.0, M=0.0) == pytest.approx(104.64)
    assert m.EDGE_STRESS(t=1.0, d=5.0, F_z=0.0, M=1000.0) == pytest.approx(224.64)
