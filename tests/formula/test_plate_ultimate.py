"""Sheet in its plane beyond its first waves: the clauses' own second forms, elastic theory, and worked mechanics.

EN 1993-1-5:2006 is from memory; what can be derived of it is (its constants come from elastic plates), and where a
clause prints a number twice the two are held to each other.
"""

from __future__ import annotations

from math import pi, sqrt

import numpy as np
import pytest

from jointcalc.formula import plate as plate_formulas
from jointcalc.formula import plate_ultimate as f
from jointcalc.formula.effective_en import EPSILON, RHO_INTERNAL, SLENDERNESS

E, NU = 210_000.0, 0.3


def test_shear_slenderness_of_a_web_in_its_other_form() -> None:
    # 5.3(3): lamda_w = h_w/(86.4 t eps) without stiffeners (k 5.34), and h_w/(37.4 t eps sqrt(k))
    for ratio, f_y in ((60.0, 235.0), (120.0, 355.0), (300.0, 140.0)):
        tau = plate_formulas.PLATE_BUCKLING_STRESS(k=5.34, E=E, nu=NU, t=1.0, b=ratio)
        ours = f.SHEAR_SLENDERNESS(f_y=f_y, tau_cr=tau)
        assert ours == pytest.approx(ratio / (86.4 * EPSILON(f_y=f_y)), rel=2e-3)
        assert ours == pytest.approx(ratio / (37.4 * EPSILON(f_y=f_y) * sqrt(5.34)), rel=2e-3)


def test_webs_up_to_72_epsilon_need_no_check_of_shear_buckling() -> None:
    # 5.1(2): h_w/t <= 72 eps/eta, which is where the reduction begins
    tau = plate_formulas.PLATE_BUCKLING_STRESS(k=5.34, E=E, nu=NU, t=1.0, b=72.0)
    assert f.SHEAR_REDUCTION(lamda_w=f.SHEAR_SLENDERNESS(f_y=235.0, tau_cr=tau)) == pytest.approx(1.0, abs=4e-3)
    assert f.SHEAR_REDUCTION(lamda_w=0.5) == 1.0
    assert f.SHEAR_REDUCTION(lamda_w=1.66) == pytest.approx(0.5)
    assert f.SHEAR_STRENGTH(chi_w=1.0, f_y=300.0) == pytest.approx(173.205, abs=1e-3)


def test_shear_of_other_metals() -> None:
    # EN 1993-1-4 5.6 begins at 1.2 (its eta) where lamda is 0.5; with eta 1 we stop at 1, and at carbon steel's 0.83
    own = 0.11 + 0.64 / 0.5 - 0.05 / 0.25
    assert own == pytest.approx(1.19, abs=1e-9)
    assert f.SHEAR_REDUCTION_STAINLESS(lamda_w=0.5) == 1.0
    assert f.SHEAR_REDUCTION_STAINLESS(lamda_w=1.0) == pytest.approx(0.70)
    assert f.SHEAR_REDUCTION_STAINLESS(lamda_w=8.0) == pytest.approx(0.83 / 8)
    lamda = np.linspace(0.6, 10, 200)
    assert np.all(np.diff(f.SHEAR_REDUCTION_STAINLESS(lamda_w=lamda)) <= 0)
    assert f.SHEAR_REDUCTION_ALUMINIUM(lamda_w=0.937) == pytest.approx(2.3 / (1.66 + 0.937), rel=1e-3)  # columns part


def test_compression_coefficient_of_long_and_short_plates() -> None:
    # Timoshenko and Gere: 4 at every whole side ratio, 4.5 where one and two half waves meet (a/b = sqrt 2)
    for m in (1, 2, 3):
        assert f.COMPRESSION_COEFFICIENT(m=m, a=100.0 * m, b=100.0) == pytest.approx(4.0)
    assert f.COMPRESSION_COEFFICIENT(m=1, a=sqrt(2), b=1.0) == pytest.approx(4.5)
    assert f.COMPRESSION_COEFFICIENT(m=2, a=sqrt(2), b=1.0) == pytest.approx(4.5)


def test_stresses_of_plate_and_column() -> None:
    assert f.PLATE_STRESS(k_sigma=4.0, E=E, nu=NU, t=1.0, b=100.0) == pytest.approx(75.92, abs=0.01)
    # EN 1993-1-5 A.1: sigma_E = 190000 (t/b)^2
    assert f.PLATE_STRESS(k_sigma=1.0, E=E, nu=NU, t=1.0, b=100.0) == pytest.approx(19.0, rel=2e-3)
    # Euler's strip of unit width, held against curling across
    D = E / (12 * (1 - NU**2))
    assert f.COLUMN_STRESS(E=E, nu=NU, t=1.0, a=250.0) == pytest.approx(pi**2 * D / 250.0**2)
    # a plate far wider than long is that column
    k = f.COMPRESSION_COEFFICIENT(m=1, a=1.0, b=100.0)
    wide = f.PLATE_STRESS(k_sigma=k, E=E, nu=NU, t=1.0, b=25_000.0)
    assert wide == pytest.approx(f.COLUMN_STRESS(E=E, nu=NU, t=1.0, a=250.0), rel=1e-3)


def test_reduction_under_thrust_is_that_of_an_internal_element() -> None:
    for b, f_y in ((60.0, 235.0), (200.0, 355.0), (400.0, 140.0)):
        lamda = SLENDERNESS(b=b, t=1.0, epsilon=EPSILON(f_y=f_y), k_sigma=4.0)
        sigma = f.PLATE_STRESS(k_sigma=4.0, E=E, nu=NU, t=1.0, b=b)
        ours = f.PLATE_SLENDERNESS(f_y=f_y, sigma_cr=sigma)
        assert ours == pytest.approx(lamda, rel=2e-3)
        assert f.PLATE_REDUCTION(lamda_p=ours) == pytest.approx(float(RHO_INTERNAL(lamda_p=lamda, psi=1.0)), rel=3e-3)
    assert f.PLATE_REDUCTION(lamda_p=0.5) == pytest.approx(1.0, abs=1e-3)
    assert f.PLATE_REDUCTION(lamda_p=0.673) == pytest.approx(1.0, abs=1e-3)


def test_between_plate_and_column_at_its_ends() -> None:
    given = {"rho": 0.8, "chi_c": 0.3, "sigma_cr_c": 10.0}
    assert f.BETWEEN_PLATE_AND_COLUMN(sigma_cr_p=10.0, **given) == pytest.approx(0.3)
    assert f.BETWEEN_PLATE_AND_COLUMN(sigma_cr_p=20.0, **given) == pytest.approx(0.8)
    assert f.BETWEEN_PLATE_AND_COLUMN(sigma_cr_p=500.0, **given) == pytest.approx(0.8)
    assert f.BETWEEN_PLATE_AND_COLUMN(sigma_cr_p=15.0, **given) == pytest.approx(0.3 + 0.5 * 0.75)
    assert f.THRUST_STRENGTH(rho_c=0.5, f_y=200.0, A_w=1.5) == pytest.approx(150.0)


def test_what_stays_elastic() -> None:
    # Johnson's parabola meets Euler at half of yield: 4/9 is below it, and below rho where plates are slender
    assert f.THRUST_KEPT_ELASTIC(sigma_cr=50.0, f_y=225.0, t=2.0) == pytest.approx(100.0)
    assert f.THRUST_KEPT_ELASTIC(sigma_cr=500.0, f_y=225.0, t=2.0) == pytest.approx(200.0)
    for lamda in (0.5, 1.0, 1.5, 3.0):
        kept = f.THRUST_KEPT_ELASTIC(sigma_cr=1 / lamda**2, f_y=1.0, t=1.0)
        assert kept <= min(float(f.PLATE_REDUCTION(lamda_p=lamda)), 0.5)


def test_together_alone_is_each_alone() -> None:
    assert f.CRITICAL_FACTOR(alpha_x=3.0, alpha_z=np.inf, alpha_t=np.inf) == pytest.approx(3.0)
    assert f.CRITICAL_FACTOR(alpha_x=np.inf, alpha_z=np.inf, alpha_t=5.0) == pytest.approx(5.0)
    # equal thrusts on a square: k = 2 (Timoshenko and Gere)
    assert f.CRITICAL_FACTOR(alpha_x=4.0, alpha_z=4.0, alpha_t=np.inf) == pytest.approx(2.0)
    # thrust with shear: (tau/tau_cr)^2 + sigma/sigma_cr = 1 (Timoshenko and Gere)
    alpha = f.CRITICAL_FACTOR(alpha_x=2.0, alpha_z=np.inf, alpha_t=3.0)
    assert (alpha / 3.0) ** 2 + alpha / 2.0 == pytest.approx(1.0)
    assert f.YIELD_FACTOR(f_y=240.0, sigma_x=60.0, sigma_z=0.0, tau=0.0) == pytest.approx(4.0)
    assert f.YIELD_FACTOR(f_y=240.0, sigma_x=0.0, sigma_z=60.0, tau=0.0) == pytest.approx(4.0)
    assert f.YIELD_FACTOR(f_y=240.0, sigma_x=0.0, sigma_z=0.0, tau=60.0) == pytest.approx(4.0 / sqrt(3))
    assert f.FIELD_SLENDERNESS(alpha_ult=9.0, alpha_cr=4.0) == pytest.approx(1.5)
    assert f.FIELD_FACTOR(alpha_ult=9.0, rho_c=0.5) == pytest.approx(4.5)


def test_annex_d_comes_from_elastic_plates() -> None:
    # 4.83 E (t/a)^2 is k = 5.34; 32.4 is Easley's 36 with 0.9
    flat = plate_formulas.FLAT_BETWEEN_BEADS_SHEAR(E=E, nu=NU, t=0.8, w_flat=70.0)
    assert f.LOCAL_SHEAR_STRESS(E=E, t=0.8, a_max=70.0) == pytest.approx(float(flat), rel=2e-3)
    easley = plate_formulas.ORTHOTROPIC_SHEAR_SIMPLE(D_x=1e6, D_y=2e4, h=400.0)
    assert f.GLOBAL_SHEAR_STRESS(D_x=1e6, D_y=2e4, t=0.8, h=400.0) * 0.8 == pytest.approx(0.9 * float(easley))
    # a slenderness of 1 is where elastic buckling and yield in shear meet
    assert f.LOCAL_SHEAR_SLENDERNESS(f_y=173.205, tau_cr=100.0) == pytest.approx(1.0, rel=1e-5)
    # both curves leave 1 where the clause says: 0.25 for flats, sqrt(1) for the field
    assert f.LOCAL_SHEAR_REDUCTION(lamda_cl=0.25) == pytest.approx(1.0)
    assert f.LOCAL_SHEAR_REDUCTION(lamda_cl=1.4) == pytest.approx(0.5)
    assert f.GLOBAL_SHEAR_REDUCTION(lamda_cg=1.0) == pytest.approx(1.0)
    assert f.GLOBAL_SHEAR_REDUCTION(lamda_cg=2.0) == pytest.approx(1 / 3)


def test_orthotropic_thrust_of_flat_sheet_is_the_plate_s() -> None:
    D = E / (12 * (1 - NU**2))
    flat = {"D_x": D, "D_y": D, "D_1": NU * D, "D_xy": D * (1 - NU) / 2}
    k = f.COMPRESSION_COEFFICIENT(m=2, a=300.0, b=130.0)
    along = f.ORTHOTROPIC_THRUST(m=2, n=1, a=300.0, b=130.0, **flat)
    assert along == pytest.approx(float(f.PLATE_STRESS(k_sigma=k, E=E, nu=NU, t=1.0, b=130.0)))
    k = f.COMPRESSION_COEFFICIENT(m=3, a=130.0, b=300.0)
    across = f.ORTHOTROPIC_THRUST_ACROSS(m=1, n=3, a=300.0, b=130.0, **flat)
    assert across == pytest.approx(float(f.PLATE_STRESS(k_sigma=k, E=E, nu=NU, t=1.0, b=300.0)))
    assert f.COLUMN_THRUST(D_x=D, a=300.0) == pytest.approx(float(f.COLUMN_STRESS(E=E, nu=NU, t=1.0, a=300.0)))


def test_beads_as_stiffeners_by_hand() -> None:
    assert f.BEADED_SLENDERNESS(beta_A=0.8, f_y=200.0, A_w=1.25, n_cr=50.0) == pytest.approx(2.0)
    assert f.BEAD_IMPERFECTION(i=2.0, e=4.0) == pytest.approx(0.67)
    assert f.BEADED_THRUST_STRENGTH(rho_c=0.5, beta_A=0.8, f_y=200.0, A_w=1.25) == pytest.approx(100.0)


def test_strips_beside_the_edges() -> None:
    # 0.2 x 400 = 80 mm of 1 mm sheet at 140 MPa over 400 mm; with 25 mm on either side no more than 50 mm
    assert f.EDGE_STRIPS(rho=0.2, b=400.0, d_e=60.0, f_y=140.0, t=1.0) == pytest.approx(28.0)
    assert f.EDGE_STRIPS(rho=0.2, b=400.0, d_e=25.0, f_y=140.0, t=1.0) == pytest.approx(17.5)


def test_bellows_is_a_strut_off_its_line() -> None:
    # N/A + M/W of a strip of unit width, M = N f; amplified as a strut whose eccentricity bends it
    n, t, depth = 3.0, 1.2, 5.0
    assert f.BELLOWS_STRESS(n_s=n, t=t, f=depth, n_cr=1e9) == pytest.approx(n / t + n * depth / (t**2 / 6))
    assert f.BELLOWS_STRESS(n_s=n, t=t, f=depth, n_cr=6.0) == pytest.approx(n / t + 2 * n * depth / (t**2 / 6))


def test_sums() -> None:
    assert f.USED_IN_PLANE(u_x=0.1, u_y=0.2, u_t=0.3) == pytest.approx(0.6)
    assert f.USED_WITH_LOAD_ACROSS(u_1=0.2, u_2=0.1, eta=0.5) == pytest.approx(0.9)
