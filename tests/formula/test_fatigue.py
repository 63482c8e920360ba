"""Fatigue: the curves of EN 1993-1-9 against a published table, spot stresses against plate theory."""

import numpy as np
import pytest

from jointcalc.formula import fatigue as fa
from jointcalc.tables import load

# ENV 1993-1-1:1992 Table 9.6.1 (the same curves), from memory: category, log a for slope 3, log a for slope 5,
# constant-amplitude limit at 5e6 and cut-off at 1e8 in MPa.
CURVES = [
    (160, 12.901, 17.036, 117, 64),
    (140, 12.751, 16.786, 104, 57),
    (125, 12.601, 16.536, 93, 51),
    (112, 12.451, 16.286, 83, 45),
    (100, 12.301, 16.036, 74, 40),
    (90, 12.151, 15.786, 66, 36),
    (80, 12.001, 15.536, 59, 32),
    (71, 11.851, 15.286, 52, 29),
    (63, 11.701, 15.036, 46, 26),
    (56, 11.551, 14.786, 41, 23),
    (50, 11.401, 14.536, 37, 20),
    (45, 11.251, 14.286, 33, 18),
    (40, 11.101, 14.036, 29, 16),
    (36, 10.951, 13.786, 26, 14),
]


@pytest.mark.parametrize("category, log_a_3, log_a_5, limit, cut_off", CURVES)
def test_curves_of_the_published_table(category, log_a_3, log_a_5, limit, cut_off):
    """The categories are rounded steps of 10^0.05, so log a agrees to 3·log10 of that rounding (0.020, 0.033)."""
    N = 1e6
    assert np.log10(N * fa.STRENGTH_SLOPE_3(Delta_sigma_C=category, N_R=N) ** 3) == pytest.approx(log_a_3, abs=0.02)
    N = 2e7
    assert np.log10(N * fa.STRENGTH_SLOPE_5(Delta_sigma_C=category, N_R=N) ** 5) == pytest.approx(log_a_5, abs=0.033)
    assert fa.STRENGTH_SLOPE_3(Delta_sigma_C=category, N_R=5e6) == pytest.approx(limit, abs=1.0)
    assert fa.CUT_OFF(Delta_sigma_C=category) == pytest.approx(cut_off, abs=1.0)


@pytest.mark.parametrize("category, cut_off", [(100, 46), (80, 36)])
def test_shear_curves_of_the_published_table(category, cut_off):
    """ENV 1993-1-1 Table 9.6.2, from memory: log a 16.301 and 15.801 (slope 5), cut-off 46 and 36 MPa."""
    log_a = {100: 16.301, 80: 15.801}[category]
    assert np.log10(1e6 * fa.SHEAR_STRENGTH(Delta_tau_C=category, N_R=1e6) ** 5) == pytest.approx(log_a, abs=0.021)
    assert fa.SHEAR_CUT_OFF(Delta_tau_C=category) == pytest.approx(cut_off, abs=0.6)


def test_factors_of_the_standard():
    """EN 1993-1-9 7.1 prints 0.737, 0.549 (of the limit) and 0.457."""
    assert fa.STRENGTH_SLOPE_3(Delta_sigma_C=1.0, N_R=5e6) == pytest.approx(0.737, abs=5e-4)
    assert fa.CUT_OFF(Delta_sigma_C=1.0) / fa.STRENGTH_SLOPE_3(Delta_sigma_C=1.0, N_R=5e6) == pytest.approx(
        0.549, abs=5e-4
    )
    assert fa.SHEAR_CUT_OFF(Delta_tau_C=1.0) == pytest.approx(0.457, abs=5e-4)


def test_category_is_the_strength_at_two_million():
    """Definition of the category, direct and shear."""
    assert fa.STRENGTH_SLOPE_3(Delta_sigma_C=71.0, N_R=2e6) == pytest.approx(71.0)
    assert fa.SHEAR_STRENGTH(Delta_tau_C=80.0, N_R=2e6) == pytest.approx(80.0)


def test_branches_meet():
    """Slope 3 and 5 at 5e6; slope 5 and cut-off at 1e8; the selectors change there."""
    C = {"Delta_sigma_C": 56.0}
    assert fa.STRENGTH_SLOPE_3(**C, N_R=5e6) == pytest.approx(fa.STRENGTH_SLOPE_5(**C, N_R=5e6))
    assert fa.STRENGTH_SLOPE_5(**C, N_R=1e8) == pytest.approx(fa.CUT_OFF(**C))
    assert fa.SHEAR_STRENGTH(Delta_tau_C=80.0, N_R=1e8) == pytest.approx(fa.SHEAR_CUT_OFF(Delta_tau_C=80.0))
    assert fa.strength(N_R=5e6)[0] is fa.STRENGTH_SLOPE_3
    assert fa.strength(N_R=5.1e6)[0] is fa.STRENGTH_SLOPE_5
    assert fa.strength(N_R=1.02e8)[0] is fa.CUT_OFF
    assert fa.shear(N_R=1e8)[0] is fa.SHEAR_STRENGTH
    assert fa.shear(N_R=1.02e8)[0] is fa.SHEAR_CUT_OFF


def test_interaction():
    """EN 1993-1-9 8(3): cube for direct, fifth power for shear."""
    full = {"Delta_sigma": 50.0, "Delta_sigma_R": 50.0, "Delta_tau": 0.0, "Delta_tau_R": 60.0}
    assert fa.INTERACTION(**full) == 1.0
    assert fa.INTERACTION(**{**full, "Delta_sigma": 25.0}) == pytest.approx(1 / 8)
    assert fa.INTERACTION(**{**full, "Delta_sigma": 0.0, "Delta_tau": 30.0}) == pytest.approx(1 / 32)


def test_cycles_outside_the_curves():
    """The curves start at ten thousand cycles and end at a hundred million."""
    assert fa.STRENGTH_SLOPE_3.outside(Delta_sigma_C=71.0, N_R=5e3)
    assert fa.STRENGTH_SLOPE_5.outside(Delta_sigma_C=71.0, N_R=2e8)
    assert fa.SHEAR_STRENGTH.outside(Delta_tau_C=80.0, N_R=2e8)


def test_category_table():
    """EN 1993-1-9: categories are steps of the curve set, shear ones 80 and 100 only; names are unique."""
    steps = {row[0] for row in CURVES}
    rows = load("fatigue_en1993_1_9").rows
    assert len({row["detail"] for row in rows}) == len(rows)
    for row in rows:
        category = int(row["category"].rstrip("*"))
        assert category in steps, row["detail"]
        assert row["slope"] == ("5" if row["kind"] == "shear" else "3"), row["detail"]
        if row["kind"] == "shear":
            assert category in (80, 100), row["detail"]


# --- spot welds ---------------------------------------------------------------------------------------


def plate_constants(ratio, nu=0.3):
    """Greatest radial bending stress at a rigid centre of a clamped circular plate, by plate theory.

    Returns k_F in sigma = k_F·F/t² for a pull and k_M in sigma = k_M·M/(d·t²) for a moment; outer over inner
    diameter is `ratio`.  Kirchhoff plate: slope A·r + B/r - P·r·ln r/(4·pi·D); for the moment
    w = (c1·r + c2·r³ + c3/r + c4·r·ln r)·cos(theta), whose centre moment is 4·pi·D·c4.
    """
    b, a = 0.5, 0.5 * ratio
    c = 1 / (4 * np.pi)
    A, B = np.linalg.solve([[a, 1 / a], [b, 1 / b]], [c * a * np.log(a), c * b * np.log(b)])
    slope, curvature = A * b + B / b - c * b * np.log(b), A - B / b**2 - c * (np.log(b) + 1)
    k_F = 6 * (curvature + nu * slope / b)

    def w(r):
        return [r, r**3, 1 / r, r * np.log(r)]

    def w1(r):
        return [1, 3 * r**2, -1 / r**2, np.log(r) + 1]

    def w2(r):
        return [0, 6 * r, 2 / r**3, 1 / r]

    q = np.linalg.solve([w(a), w1(a), w(b), w1(b)], [0, 0, b, 1])
    m_r = np.dot(q, w2(b)) + nu * (np.dot(q, w1(b)) / b - np.dot(q, w(b)) / b**2)
    k_M = 6 * m_r / (4 * np.pi * q[3]) * 2 * b
    return k_F, k_M


def spot(**loads):
    case = {"F_x": 0.0, "F_y": 0.0, "F_z": 0.0, "M_x": 0.0, "M_y": 0.0, "t": 1.2, "d": 6.0, "theta": 0.0}
    return fa.SPOT_SHEET_STRESS(**{**case, **loads})


def test_spot_bending_constants_are_plate_theory():
    """1.744 and 1.872 (Rupp and others 1995) are the clamped plate with a rigid centre, ratio 10, nu 0.3."""
    k_F, k_M = plate_constants(10.0)
    t, d = 1.2, 6.0
    kappa = 0.6 * 1.2**0.5  # printed reduction of the bending terms
    assert spot(F_z=1.0) == pytest.approx(kappa * k_F / t**2, rel=5e-4)
    assert spot(M_x=1.0, theta=np.pi / 2) == pytest.approx(kappa * k_M / (d * t**2), rel=5e-4)
    assert spot(M_y=1.0, theta=np.pi) == pytest.approx(kappa * k_M / (d * t**2), rel=5e-4)


def test_spot_shear_balances_the_force():
    """The membrane stress -F/(pi·d·t)·cos: its x-components round the edge add up to the shear force.

    Half of it is carried ahead (compression) and half behind (tension) of the spot.
    """
    theta = np.linspace(0, 2 * np.pi, 721)[:-1]
    t, d, F = 1.2, 6.0, 1000.0
    s = spot(F_x=F, theta=theta)
    on_edge = -np.sum(s * np.cos(theta)) * t * d / 2 * (theta[1] - theta[0])
    assert on_edge == pytest.approx(F / 2)
    s = spot(F_y=F, theta=theta)
    on_edge = -np.sum(s * np.sin(theta)) * t * d / 2 * (theta[1] - theta[0])
    assert on_edge == pytest.approx(F / 2)


def test_spot_membrane_stress_is_that_of_a_rigid_disc_in_a_plate():
    """A rigid disc bonded in a wide sheet: u = -kappa a (2 ln r) + a z²/r² - a r0² z²/r⁴ (Kolosov), G and nu of the sheet.

    The radial stress at its edge follows from the slope of that field, the force from the stress round the edge: the
    ratio is 1/(pi d t) exactly, half of the force by pressure and half by shear.
    """
    r0, nu = 3.0, 0.3
    kappa = (3 - nu) / (1 + nu)

    def moved(r, angle):
        z2 = r**2 * np.exp(2j * angle)
        return -2 * kappa * np.log(r) + z2 / r**2 - r0**2 * z2 / r**4  # 2 G u / alpha

    h = 1e-5
    slope = (moved(r0 + h, 0.0) - moved(r0 - h, 0.0)).real / (2 * h)  # of the radial movement, ahead
    turn = -(moved(r0 + h, np.pi / 2) - moved(r0 - h, np.pi / 2)).real / (2 * h)  # of the tangential one, beside
    radial, shear = slope / (1 - nu), turn / 2  # in alpha, per 2 G = 1: the edge itself is not strained
    force_per_t = np.pi * r0 * (-radial + shear)  # all round: cos² and sin² each give pi
    t, d = 1.2, 2 * r0
    assert -radial / force_per_t / t == pytest.approx(1 / (np.pi * d * t), rel=1e-6)
    assert spot(F_x=1.0, theta=np.pi) == pytest.approx(-radial / force_per_t / t, rel=1e-6)


def test_spot_compression_does_no_harm():
    """Rupp and others: no stress from a force that presses the sheets together."""
    assert spot(F_z=-500.0) == 0.0


def test_spot_is_symmetric():
    """Turning load and look by a quarter turn changes nothing; x and y are alike."""
    theta = np.linspace(0, 2 * np.pi, 13)
    assert spot(F_x=700.0, theta=theta) == pytest.approx(spot(F_y=700.0, theta=theta + np.pi / 2))
    assert spot(M_x=700.0, theta=theta) == pytest.approx(spot(M_y=700.0, theta=theta + np.pi / 2))


def test_nugget_stresses_are_a_round_bar():
    """Strength of materials: shear 4/3 of the mean on a circle, axial F/A, bending M/W."""
    d = 6.0
    A, W = np.pi * d**2 / 4, np.pi * d**3 / 32
    assert fa.SPOT_NUGGET_SHEAR(F=1000.0, d=d) == pytest.approx(4 / 3 * 1000 / A)
    assert fa.SPOT_NUGGET_NORMAL(F_z=1000.0, M=0.0, d=d) == pytest.approx(1000 / A)
    assert fa.SPOT_NUGGET_NORMAL(F_z=0.0, M=1000.0, d=d) == pytest.approx(1000 / W)


def test_spot_life_lines_meet_at_a_million():
    """Two-slope line: slope 6, then 11, one value at a million; a decade in stress is six decades in life."""
    S_6 = fa.GENERIC_INTERCEPT["sheet"] / 10  # 1e6 ** (1/6) = 10
    line = {"S_RI": fa.GENERIC_INTERCEPT["sheet"]}
    assert fa.SPOT_CYCLES_HIGH(**line, Delta_S=S_6) == pytest.approx(1e6)
    assert fa.SPOT_CYCLES_LOW(**line, Delta_S=S_6) == pytest.approx(1e6)
    assert fa.SPOT_CYCLES_HIGH(**line, Delta_S=2100.0) == pytest.approx(1.0)
    assert fa.SPOT_CYCLES_LOW(**line, Delta_S=S_6 / 2) == pytest.approx(1e6 * 2**11)


@pytest.mark.parametrize("cycles", [1e3, 5e4, 1e6, 3e6, 1e8])
def test_spot_strengths_undo_lives(cycles):
    """The range for so many changes lasts so many changes, on either slope."""
    line = {"S_RI": fa.GENERIC_INTERCEPT["nugget"]}
    if cycles <= 1e6:
        assert fa.SPOT_CYCLES_HIGH(**line, Delta_S=fa.SPOT_STRENGTH_HIGH(**line, N=cycles)) == pytest.approx(cycles)
    if cycles >= 1e6:
        assert fa.SPOT_CYCLES_LOW(**line, Delta_S=fa.SPOT_STRENGTH_LOW(**line, N=cycles)) == pytest.approx(cycles)


def test_where_a_spot_cracks():
    """Rupp and others: sheet at d of 3.5 sqrt(t) and over, nugget under it."""
    assert fa.spot_failure(d=4.2, t=1.44)[0] == "sheet"
    assert fa.spot_failure(d=4.1, t=1.44)[0] == "nugget"
    assert fa.SPOT_SHEET_STRESS.outside(F_x=0, F_y=0, F_z=0, M_x=0, M_y=0, t=1.0, d=3.4, theta=0.0)
