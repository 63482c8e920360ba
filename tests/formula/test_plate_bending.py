"""Yield-line formulas against work done by numbers, exact limit loads, EN 1993-1-8, and a linear programme of folds."""

import numpy as np
import pytest
from scipy.ndimage import gaussian_filter
from scipy.optimize import brentq, minimize_scalar

from jointcalc.formula import plate_bending as bend


def test_plastic_moment_is_that_of_a_rectangle_1_mm_wide():
    # W_pl = b t^2/4, any handbook: 0.8 mm of 355 MPa
    assert bend.PLASTIC_MOMENT(f_y=355.0, t=0.8) == pytest.approx(355.0 * 0.16)


def test_point_load_is_the_circular_pattern_of_end_plates():
    # EN 1993-1-8 6.2.4, mode 1 of a T-stub with a pair of bolts: 4 M_pl/m with l_eff = 2 pi m each: 4 pi m_p a bolt
    # (Table 6.6, circular patterns, from memory)
    m, m_p = 37.0, 5.6
    pair = 4 * (2 * np.pi * m) * m_p / m
    assert bend.FOOT_FAR(m_p=m_p) == pytest.approx(pair / 2)
    assert bend.FOOT(m_p=m_p, U=0.0, s=40.0) == pytest.approx(pair / 2)


@pytest.mark.parametrize("r, R", [(5.0, 100.0), (28.0, 60.0)])
def test_disc_in_a_ring_is_the_known_cone(r, R):
    # fan between r and R, folds at both: textbook 4 pi m/(1 - r/R)
    assert bend.FOOT(m_p=1.0, U=2 * np.pi * r, s=R - r) == pytest.approx(4 * np.pi / (1 - r / R))


def test_hat_crown_by_hand():
    # disc of 10 mm radius in the middle of a crown 200 mm wide, 0.8 mm, S355: 4 pi 56.8/(1 - 10/100) = 793 N
    m_p = bend.PLASTIC_MOMENT(f_y=355.0, t=0.8)
    assert bend.FOOT(m_p=m_p, U=2 * np.pi * 10, s=90.0) == pytest.approx(793.1, abs=0.1)


def disc_by_tresca(ratio):
    """Exact P/m_p of a stiff disc in a clamped ring by Tresca (both bounds meet): own solution of its two regimes."""
    found = brentq(lambda x: np.log(ratio * x / (1 + x)) - 1 / x, 1e-3, 50.0)
    return 2 * np.pi * (1 + found)


@pytest.mark.parametrize("ratio", [3.0, 10.0, 50.0])
def test_the_bound_is_above_the_exact_limit_by_tresca_and_not_far(ratio):
    ours = bend.FOOT(m_p=1.0, U=2 * np.pi, s=ratio - 1)
    exact = disc_by_tresca(ratio)
    assert 0.65 < exact / ours < 0.9
    # and by von Mises, which is at most 2/sqrt(3) of Tresca
    assert exact * 2 / np.sqrt(3) < ours * 1.04


def surface_work(w, x, steps=5):
    """Work of all folds of a surface given on a grid: the integral of the sizes of its principal curvatures, m_p = 1.

    The folds are rounded off over a few steps of the grid first, which keeps their work.
    """
    h = x[1] - x[0]
    w = gaussian_filter(w, steps)
    xx = (w[2:, 1:-1] - 2 * w[1:-1, 1:-1] + w[:-2, 1:-1]) / h**2
    yy = (w[1:-1, 2:] - 2 * w[1:-1, 1:-1] + w[1:-1, :-2]) / h**2
    xy = (w[2:, 2:] - w[2:, :-2] - w[:-2, 2:] + w[:-2, :-2]) / (4 * h**2)
    mean, radius = (xx + yy) / 2, np.hypot((xx - yy) / 2, xy)
    return float((np.abs(mean + radius) + np.abs(mean - radius)).sum()) * h**2


def grid(half, n=1601):
    x = np.linspace(-half, half, n)
    return x, *np.meshgrid(x, x, indexing="ij")


@pytest.mark.parametrize("c_1, c_2, s", [(50.0, 50.0, 60.0), (80.0, 20.0, 40.0), (60.0, 0.0, 60.0)])
def test_foot_is_the_work_of_its_own_surface(c_1, c_2, s):
    """The mechanism drawn as a surface (1 - distance/s), its curvatures integrated on a grid."""
    x, X, Y = grid(max(c_1, c_2) / 2 + s + 20)
    gap = np.hypot(np.maximum(np.abs(X) - c_1 / 2, 0), np.maximum(np.abs(Y) - c_2 / 2, 0))
    ours = bend.FOOT(m_p=1.0, U=2 * (c_1 + c_2), s=s)
    assert surface_work(np.maximum(1 - gap / s, 0.0), x) == pytest.approx(ours, rel=0.02)


@pytest.mark.parametrize("c_1, c_2, s", [(50.0, 50.0, 60.0), (80.0, 20.0, 40.0)])
def test_foot_between_simple_supports_is_the_work_of_its_own_surface(c_1, c_2, s):
    # supports along x at y = c_2/2 + s: beyond them nothing folds, so the surface is cut there and the cut not counted
    x, X, Y = grid(max(c_1, c_2) / 2 + 1.5 * s + 20)
    out, up = np.maximum(np.abs(X) - c_1 / 2, 0), np.maximum(np.abs(Y) - c_2 / 2, 0)
    fan = 1 - np.hypot(out, up) / (np.sqrt(2) * s)
    flat = 1 - up / s
    w = np.where(out > up, np.maximum(fan, 0.0), flat)
    # trapezoids run on below the sheet beyond the supports, so that no fold is counted there
    inside = np.abs(Y) < c_2 / 2 + s - 6 * (x[1] - x[0])
    h = x[1] - x[0]
    w = gaussian_filter(w, 2)
    xx = (w[2:, 1:-1] - 2 * w[1:-1, 1:-1] + w[:-2, 1:-1]) / h**2
    yy = (w[1:-1, 2:] - 2 * w[1:-1, 1:-1] + w[1:-1, :-2]) / h**2
    xy = (w[2:, 2:] - w[2:, :-2] - w[:-2, 2:] + w[:-2, :-2]) / (4 * h**2)
    mean, radius = (xx + yy) / 2, np.hypot((xx - yy) / 2, xy)
    size = (np.abs(mean + radius) + np.abs(mean - radius)) * inside[1:-1, 1:-1]
    ours = bend.FOOT_BETWEEN_SIMPLE(m_p=1.0, c_1=c_1, c_2=c_2, s=s)
    assert float(size.sum()) * h**2 == pytest.approx(ours, rel=0.04)


def test_foot_between_simple_supports_has_the_best_fans():
    # a point between two simple supports: fans of half-angle phi cost 8 phi, trapezoids 4 cot phi; least at 45 degrees
    best = minimize_scalar(lambda phi: 8 * phi + 4 / np.tan(phi), bounds=(0.1, 1.5), method="bounded")
    assert bend.FOOT_BETWEEN_SIMPLE(m_p=1.0, c_1=0.0, c_2=0.0, s=9.0) == pytest.approx(best.fun)


def test_foot_at_the_edge_is_half_of_its_mirror():
    # a foot on the very edge mirrored at it is one of twice the depth in whole sheet, and both halves do the same work
    half = bend.FOOT_AT_EDGE(m_p=1.0, c_1=50.0, c_2=30.0, e=0.0, s=70.0)
    assert 2 * half == pytest.approx(bend.FOOT(m_p=1.0, U=2 * (50.0 + 60.0), s=70.0))


@pytest.mark.parametrize("c_1, c_2, beta", [(50.0, 50.0, np.pi / 3), (100.0, 0.0, np.pi / 4), (40.0, 80.0, 1.2)])
def test_tilt_is_the_work_of_its_own_surface(c_1, c_2, beta):
    q = c_1 / 2
    s = q / np.cos(beta)
    x, X, Y = grid(max(q, c_2 / 2) + s + 20)
    aside, beyond = np.abs(X), np.maximum(np.abs(Y) - c_2 / 2, 0)
    cone = q * np.maximum(1 - np.hypot(np.where(aside < q, q - aside, aside - q), beyond) / s, 0.0)
    flat = (aside < q) & (beyond <= (q - aside) * np.tan(beta))
    w = np.where(flat, aside, cone) * np.sign(X)
    w = np.where((beyond == 0) & (aside <= q), X, w)
    ours = bend.TILT(m_p=1.0, c_1=c_1, c_2=c_2, beta_f=beta)
    assert surface_work(w, x) == pytest.approx(ours, rel=0.03)


@pytest.mark.parametrize("c_1, c_2, s", [(80.0, 40.0, 15.0), (60.0, 60.0, 30.0)])
def test_tilt_near_is_the_work_of_its_own_surface(c_1, c_2, s):
    x, X, Y = grid(max(c_1, c_2) / 2 + s + 15)
    out, up = np.maximum(np.abs(X) - c_1 / 2, 0), np.maximum(np.abs(Y) - c_2 / 2, 0)
    w = np.clip(X, -c_1 / 2, c_1 / 2) * np.maximum(1 - np.hypot(out, up) / s, 0.0)
    ours = bend.TILT_NEAR(m_p=1.0, c_1=c_1, c_2=c_2, s=s)
    assert surface_work(w, x) == pytest.approx(ours, rel=0.03)


@pytest.mark.parametrize("c_1, c_2", [(50.0, 50.0), (120.0, 20.0), (20.0, 120.0)])
def test_tilt_needs_more_the_nearer_the_supports(c_1, c_2):
    moments = []
    for s in (None, 300.0, 80.0, c_1 / 2 * 1.001, c_1 / 2 * 0.999, c_1 / 5):
        formula, inputs = bend.tilted(c_1=c_1, c_2=c_2, s=s)
        moments.append(float(formula(m_p=1.0, **inputs)))
    assert moments == sorted(moments)
    # two folds along a bare line are the least it can be, a couple of two far feet at its ends the most
    assert moments[0] > 2 * c_2
    assert moments[0] < 4 * np.pi * c_1 + 6 * c_2


def test_disc_tilted_in_between():
    # a disc of diameter d by a smooth field w = r_0 cos(phi) (R - r)/(R - r_0): 28 m_p r_0 at its best (own integration);
    # our square of the same area lies within a tenth of it
    d = 60.0
    reach = minimize_scalar(lambda k: k / (k - 1) * (8 + 9.688 * np.log(k)), bounds=(1.5, 9), method="bounded")
    c = d * np.sqrt(np.pi) / 2
    formula, inputs = bend.tilted(c_1=c, c_2=c, s=None)
    assert float(formula(m_p=1.0, **inputs)) == pytest.approx(reach.fun * d / 2, rel=0.1)


def test_fold():
    # 100 mm of 1.2 mm sheet, f_y 140, force at 25 mm: m_p 50.4 N, 201.6 N; with a second fold (sheet kept flat) twice that
    m_p = bend.PLASTIC_MOMENT(f_y=140.0, t=1.2)
    assert bend.FOLD(m_p=m_p, L=100.0, x=25.0) == pytest.approx(201.6)
    # a plate on edge holds that moment along its whole foot
    assert bend.EDGE_MOMENT(m_p=m_p, L=100.0) == pytest.approx(201.6 * 25)


def test_strip_is_a_beam_with_one_hinge():
    # handbook: a simply supported beam of span 2 s with a force in its middle collapses at 4 M_p/(2 s)
    m_p, width, s = 50.4, 40.0, 30.0
    assert bend.STRIP(m_p=m_p, L=width, s=s) == pytest.approx(4 * m_p * width / (2 * s))


def test_edge_far_from_supports_is_the_least_of_all_distances():
    far = bend.FOOT_AT_EDGE(m_p=3.0, c_1=50.0, c_2=30.0, e=20.0, s=1e9)
    assert bend.FOOT_FAR_AT_EDGE(m_p=3.0) == pytest.approx(far, rel=1e-6)
    assert 2 * bend.FOOT_FAR_AT_EDGE(m_p=3.0) == bend.FOOT_FAR(m_p=3.0)


@pytest.mark.parametrize("eta, beta", [(0.5, 0.4), (0.2, 0.7), (1.0, 0.25)])
def test_box_wall_is_the_best_of_straight_folds(eta, beta):
    """EN 1993-1-8 Table 7.11 derived anew: trapezoids at sides and ends, the length of the pattern at its best."""
    b_0, m_p = 60.0, 355.0 * 1.5**2 / 4
    h_1, d = eta * b_0, b_0 * (1 - beta) / 2
    best = minimize_scalar(lambda x: 4 * m_p * (h_1 + 2 * x) / d + 4 * m_p * b_0 / x, bounds=(1, 300), method="bounded")
    assert bend.BOX_WALL(f_y=355.0, t=1.5, eta=eta, beta=beta) == pytest.approx(best.fun, rel=1e-5)
    # fans instead of straight corners need less while the foot is not nearly as wide as the face
    fans = bend.FOOT(m_p=m_p, U=2 * (h_1 + beta * b_0), s=d)
    assert (fans < best.fun) == (beta < 0.63)


def test_walls_of_tubes_by_hand():
    # EN 1993-1-8 Tables 7.3, 7.14, from memory, worked by hand: f_y t^2 = 355 x 4 = 1420 N
    given = {"f_y": 355.0, "t": 2.0}
    assert bend.TUBE_WALL(**given, eta=1.0, beta=0.5) == pytest.approx(1420 * 9 * 1.25)
    assert bend.TUBE_WALL_MOMENT_ALONG(N_1=1000.0, h_1=50.0) == pytest.approx(50_000)
    assert bend.TUBE_WALL_MOMENT_ACROSS(N_1=1000.0, b_1=50.0) == pytest.approx(25_000)
    along = bend.BOX_WALL_MOMENT_ALONG(**given, h_1=50.0, eta=0.5, beta=0.5)
    assert along == pytest.approx(1420 * 50 * (1 + 2 * np.sqrt(2) + 1))
    across = bend.BOX_WALL_MOMENT_ACROSS(**given, h_1=50.0, b_0=100.0, b_1=50.0, beta=0.5)
    assert across == pytest.approx(1420 * (50 * 1.5 + np.sqrt(2 * 100 * 50 * 3)))
