"""Local collapse: the work of hinges added up numerically, stress blocks of a plate, a strip as a strut."""

from __future__ import annotations

from math import pi, sqrt

import numpy as np
import pytest

from jointcalc.formula import local_load, plate_bending


def fan(m_across: float, m_along: float, whole: bool) -> float:
    """Least force of a cone over an ellipse, hinges of both senses, per unit of its height: added up in small sectors.

    A hinge whose normal makes the angle a with the brace carries m_across cos^2 a + m_along sin^2 a.
    """
    best = np.inf
    for stretch in np.geomspace(0.2, 5.0, 121):  # half axis along the brace over that across it
        turn = np.linspace(0, 2 * pi if whole else pi, 2001)
        x, y = stretch * np.cos(turn), np.sin(turn)
        work = 0.0
        dx, dy = np.diff(x), np.diff(y)
        # the slope of the cone over each sector: its plane goes through the top and the edge of the rim
        area2 = np.abs(x[:-1] * y[1:] - x[1:] * y[:-1])
        nx, ny = dy / area2, -dx / area2  # gradient, height 1
        length = np.hypot(dx, dy)
        a = np.arctan2(ny, nx)
        work += float((np.hypot(nx, ny) * length * (m_across * np.cos(a) ** 2 + m_along * np.sin(a) ** 2)).sum())
        # radial hinges turn by the change of the gradient from sector to sector
        jump_x, jump_y = np.diff(nx), np.diff(ny)
        radius = np.hypot(x[1:-1], y[1:-1])
        b = np.arctan2(jump_y, jump_x)
        work += float(
            (np.hypot(jump_x, jump_y) * radius * (m_across * np.cos(b) ** 2 + m_along * np.sin(b) ** 2)).sum()
        )
        best = min(best, work)
    return best


@pytest.mark.parametrize("m_across,m_along", [(1.0, 1.0), (0.4, 0.8), (0.9, 0.95)])
def test_a_fan_in_a_stressed_plate(m_across: float, m_along: float) -> None:
    given = {"m_across": m_across, "m_along": m_along}
    assert local_load.collapse_held(**given, c=0.0, b=50.0) == pytest.approx(fan(m_across, m_along, True), rel=2e-3)
    assert local_load.collapse_tube(**given) == pytest.approx(fan(m_across, m_along, True), rel=2e-3)
    assert local_load.collapse_free(**given, c=0.0, b=50.0) == pytest.approx(fan(m_across, m_along, False), rel=4e-3)


def test_a_length_along_the_brace_adds_straight_hinges() -> None:
    """The foot of `plate_bending` as a line, U = 2 c at s = b/2; a flange turns about its root by height over width."""
    m, c, b = 80.0, 30.0, 44.0
    assert local_load.collapse_held(m_across=m, m_along=m, c=c, b=b) == pytest.approx(
        plate_bending.foot(m_p=m, U=2 * c, s=b / 2)
    )
    far = local_load.collapse_free(m_across=m, m_along=m, c=c, b=b) - local_load.collapse_free(
        m_across=m, m_along=m, c=0.0, b=b
    )
    assert far == pytest.approx(m * c / b)


def test_loads_along_the_brace() -> None:
    """Virtual work per mm, height 1: edges turn by 2/b each and the middle by 4/b; a flange's root by 1/b, load at half."""
    m, b = 60.0, 35.0
    assert local_load.line_collapse_held(m_along=m, b=b) * 1.0 == pytest.approx(m * (2 * 2 / b + 4 / b))
    assert local_load.line_collapse_free(m_along=m, b=b) * 0.5 == pytest.approx(m / b)


@pytest.mark.parametrize("beta", [0.0, 0.3, 0.7, 0.95])
def test_what_stress_along_the_brace_leaves_a_hinge(beta: float) -> None:
    """Stress blocks: across the brace a rectangle under a force; along it von Mises with beta at right angles."""
    z = (np.arange(20000) + 0.5) / 20000 - 0.5
    middle = np.quantile(z, (1 - beta) / 2)
    across = np.where(z < middle, -1.0, 1.0)  # its mean is beta
    assert across.mean() == pytest.approx(beta, abs=2e-4)
    assert float((across * z).mean()) * 4 == pytest.approx(local_load.moment_across(m_p=1.0, beta=beta), abs=1e-3)
    s = np.linspace(-2, 2, 400001)
    inside = s[s * s - s * beta + beta * beta <= 1]
    span = (inside.max() - inside.min()) / 2
    assert span == pytest.approx(local_load.moment_along(m_p=1.0, beta=beta), abs=1e-4)


def test_the_edge_of_a_leg() -> None:
    """A cantilever strip in finite differences for the Euler force; Rankine lies under both and near the lower."""
    E, t, c, h, n = 210000.0, 2.0, 10.0, 30.0, 400
    d = h / n
    A = 2 * np.eye(n) - np.eye(n, k=1) - np.eye(n, k=-1)
    A[-1, -2] = -2.0  # free to sway: a moment-free top in the half of a pinned strut of twice the height
    least = np.sort(np.linalg.eigvals(A).real)[0] / d**2
    strut = local_load.edge_strut_force(E=E, t=t, c=c, h=h)
    assert strut == pytest.approx(E * c * t**3 / 12 * least, rel=1e-3)
    yielded = local_load.edge_yield(f_y=355.0, t=t, c=c)
    assert yielded == pytest.approx(355.0 * 20.0)
    both = local_load.edge_collapse(F_yield=yielded, F_strut=strut)
    assert both < min(yielded, strut)
    assert local_load.edge_collapse(F_yield=yielded, F_strut=1e12) == pytest.approx(yielded)
    assert 1 / both == pytest.approx(1 / yielded + 1 / strut)
    assert sqrt(yielded * strut) / 2 >= both
