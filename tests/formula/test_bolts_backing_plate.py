"""The spreader plate: its limit analysis against a linear programme, its elastic plate against a boundary-value solver."""

import numpy as np
import pytest

from jointcalc.formula import backing_plate as plate

SHEET = {"k_p": 1.0, "t": 1.2, "f_u": 270.0}


def test_pull_through_by_the_printed_rules():
    # reference 3.4, washer 16 mm, t 1.5, f_u 360, gamma_M2 1.25: EN screw 6.91 kN, EN punching 13.03 kN
    given = {"d_w": 16.0, "t": 1.5, "f_u": 360.0}
    assert plate.SHEET_PULL_THROUGH(k_p=plate.K_P_SHEET, **given) / 1.25 / 1e3 == pytest.approx(6.91, abs=0.005)
    assert plate.SHEET_PULL_THROUGH(k_p=plate.K_P_PLATE, **given) / 1.25 / 1e3 == pytest.approx(13.03, abs=0.005)


def lower_bound(h, c, R, n=400):
    """Greatest P/m_p of an annular plate, Tresca, by linear programming over its moments (scipy)."""
    from scipy.optimize import linprog
    from scipy.sparse import lil_matrix

    r = np.linspace(h, R, n + 1)
    middle, step = (r[1:] + r[:-1]) / 2, np.diff(r)
    # unknowns: radial moment at the n + 1 nodes, tangential at the n middles, P
    equal = lil_matrix((n, 2 * n + 2))
    for i in range(n):
        equal[i, i + 1], equal[i, i] = r[i + 1] / step[i], -r[i] / step[i]
        equal[i, n + 1 + i] = -1.0
        equal[i, -1] = (1.0 if middle[i] > c else 0.0) / (2 * np.pi)
    tresca = lil_matrix((4 * n, 2 * n + 2))
    for i in range(n):
        for k, (node, sign) in enumerate(((i, 1), (i, -1), (i + 1, 1), (i + 1, -1))):
            tresca[4 * i + k, node], tresca[4 * i + k, n + 1 + i] = sign, -sign
    bounds = [(-1.0, 1.0)] * (2 * n + 1) + [(0.0, None)]
    bounds[0] = (0.0, 0.0) if h > 0 else (-1.0, 1.0)
    bounds[n] = (0.0, 0.0)
    cost = np.zeros(2 * n + 2)
    cost[-1] = -1.0
    found = linprog(cost, A_ub=tresca.tocsr(), b_ub=np.ones(4 * n), A_eq=equal.tocsr(), b_eq=np.zeros(n), bounds=bounds)
    assert found.success
    return found.x[-1]


@pytest.mark.parametrize("h, c, R", [(0.0, 8.0, 25.0), (4.5, 8.0, 25.0), (4.5, 8.0, 60.0), (5.5, 12.0, 20.0)])
def test_plate_on_ring_is_the_limit_load(h, c, R):
    exact = plate.PLATE_ON_RING(m_p=1.0, R=R, d_h=2 * h, c=c)
    assert lower_bound(h, c, R) == pytest.approx(exact, rel=0.01)


def test_point_load_limit():
    # known: a simply supported circular plate under a point load collapses at 2 pi m_p (Hopkins and Prager 1953)
    assert plate.PLATE_ON_RING(m_p=500.0, R=30.0, d_h=0.0, c=1e-9) == pytest.approx(2 * np.pi * 500.0)


@pytest.mark.parametrize("d_h", [0.0, 9.0, 11.0])
@pytest.mark.parametrize("t_p", [2.0, 3.0, 5.0])
def test_plate_and_sheet_is_the_best_ring(t_p, d_h):
    """Brute force over the ring's radius: sheet on the ring against plate on the ring, the better of the worse."""
    d_w = 16.0
    m_p = plate.PLASTIC_MOMENT(f_y_p=235.0, t_p=t_p)
    R = np.linspace(d_w / 2 + 1e-6, 400.0, 400_000)
    on_sheet = 2 * R * SHEET["f_u"] * SHEET["t"]
    on_plate = 2 * np.pi * m_p * (R - d_h / 2) / (R - d_w / 2)
    best = np.minimum(on_sheet, on_plate).max()
    P_s = plate.SHEET_PULL_THROUGH(d_w=d_w, **SHEET)
    P = plate.PLATE_AND_SHEET(P_s=P_s, m_p=m_p, d_h=d_h, d_w=d_w)
    assert pytest.approx(best, rel=1e-3) == P
    # at its own working radius the sheet holds just that
    R_work = plate.WORKING_RADIUS(P=P, **SHEET)
    assert plate.SHEET_AT_RIM(R_p=R_work, **SHEET) == pytest.approx(P)
    assert plate.PLATE_ON_RING(m_p=m_p, R=R_work, d_h=d_h, c=d_w / 2) == pytest.approx(P)


def test_plastic_moment_and_contact():
    # rectangle of 1 mm width: W_pl = t^2/4; ring of 16 outside, 9 inside: 137.4 mm2
    assert plate.PLASTIC_MOMENT(f_y_p=235.0, t_p=3.0) == pytest.approx(528.75)
    assert plate.CONTACT_PRESSURE_LIMIT(d_w=16.0, d_h=9.0, f_y_p=235.0) == pytest.approx(137.44 * 235.0, rel=1e-4)


def test_elastic_plate_against_a_boundary_value_solver():
    """Kirchhoff plate of revolution, load on a small disc of radius c, simply supported at R, by scipy's solve_bvp."""
    from scipy.integrate import solve_bvp

    E, nu, t, R, c, P = 210000.0, 0.3, 3.0, 50.0, 1.5, 900.0
    D = E * t**3 / (12 * (1 - nu**2))
    eps = 1e-3

    def shear(r):
        return np.where(r < c, P * r / (2 * np.pi * c**2), P / (2 * np.pi * r))

    def equations(r, y):  # deflection, slope, curvature of the slope
        _w, slope, bend = y
        return np.vstack([slope, bend, shear(r) / D - bend / r + slope / r**2])

    def ends(at_0, at_R):
        return np.array([at_0[1] - at_0[2] * eps, at_R[0], at_R[2] + nu * at_R[1] / R])

    r = np.concatenate([np.linspace(eps, c, 200), np.linspace(c, R, 400)[1:]])
    found = solve_bvp(equations, ends, r, np.zeros((3, r.size)), tol=1e-6, max_nodes=50_000)
    assert found.success
    w_0, bend_0 = abs(found.sol(eps)[0]), abs(found.sol(eps)[2])
    # the formulas for a small load circle leave out terms of (c/R)^2
    assert plate.PLATE_DEFLECTION(P=P, R=R, E=E, t_p=t, nu=nu) == pytest.approx(w_0, rel=0.004)
    stress = 6 / t**2 * D * (1 + nu) * bend_0
    assert plate.PLATE_STRESS(P=P, t_p=t, nu=nu, R=R, c=c) == pytest.approx(stress, rel=0.001)
