"""The sheets of a lap: mechanics, geometry, and the usual zinc allowance."""

from __future__ import annotations

from math import sqrt

import numpy as np
import pytest
from shapely.geometry import box

from jointcalc.formula import lap


def test_zinc_of_z275() -> None:
    """EN 1993-1-3, 3.2.4: for the usual Z275, t_zinc = 0.04 mm (from memory); 275 g/m2 over 7.14 g/cm3 is 0.0385."""
    assert 1.5 - lap.CORE_THICKNESS(t_nom=1.5, m_z=275.0) == pytest.approx(0.04, abs=0.002)
    # by the density of zinc, 7.14 g/cm3 (any handbook of metals): 714 g/m2 is a tenth of a millimetre
    assert lap.CORE_THICKNESS(t_nom=1.5, m_z=714.0) == pytest.approx(1.4)
    assert lap.CORE_THICKNESS(t_nom=1.2, m_z=0.0) == 1.2


def test_net_area_is_what_is_left_of_the_section() -> None:
    section = box(0, 0, 300, 1.2)
    for n in range(5):
        section = section.difference(box(20 + 50 * n, -1, 25.5 + 50 * n, 2))
    assert lap.NET_AREA(t=1.2, L=300.0, n=5, d=5.5) == pytest.approx(section.area)


def test_yield_across_is_stress_times_area() -> None:
    assert lap.YIELD_ACROSS(t=1.2, L=300.0, f_y=140.0) == pytest.approx(140 * box(0, 0, 300, 1.2).area)


def test_yield_along_is_von_mises() -> None:
    """Pure shear at first yield: the von Mises stress of the tensor [[0, v], [v, 0]] equals f_y."""
    v = lap.YIELD_ALONG(t=1.2, L=300.0, f_y=140.0) / (1.2 * 300)
    s = np.array([[0, v, 0], [v, 0, 0], [0, 0, 0]])
    deviator = s - np.trace(s) / 3 * np.eye(3)
    assert sqrt(1.5 * float(np.sum(deviator**2))) == pytest.approx(140.0)


@pytest.mark.parametrize("stress", [(-60.0, 80.0, 50.0), (0.0, 120.0, 0.0), (30.0, 30.0, 10.0)])
def test_comparison_stress_is_that_of_the_tensor(stress: tuple[float, float, float]) -> None:
    """Von Mises from the deviator of the plane tensor, and by its principal stresses."""
    x, z, tau = stress
    s = np.array([[x, tau, 0], [tau, z, 0], [0, 0, 0]])
    deviator = s - np.trace(s) / 3 * np.eye(3)
    ours = lap.COMPARISON_STRESS(sigma_x=x, sigma_z=z, tau=tau)
    assert ours == pytest.approx(sqrt(1.5 * float(np.sum(deviator**2))))
    a, b, c = np.linalg.eigvalsh(s)
    assert ours == pytest.approx(sqrt(((a - b) ** 2 + (b - c) ** 2 + (c - a) ** 2) / 2))
