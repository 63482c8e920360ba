"""Arc spot welds: the published example of AWS D1.3, and what the printed constants of AISI and EN must satisfy.

No published worked example of an arc spot's strength was at hand; the expressions are held by the points at which their
branches must meet, by the two unit systems they are printed in, and by hand arithmetic in the units of the source.
"""

import numpy as np
import pytest

from jointcalc.formula import arc_spot_aisi as aisi
from jointcalc.formula import arc_spot_en1993 as en

IN, KIP, KSI = 25.4, 4448.2216, 6.894757


def test_aws_d1_3_example_visible_diameter():
    # AWS D1.3, 2.2.6/2.3.7 with its example: 11-gauge 0.120 in, required d_e 3/8 in, published d 0.793 in (V21)
    assert aisi.EFFECTIVE_DIAMETER(d=0.793 * IN, t=0.120 * IN) / IN == pytest.approx(0.375, abs=0.0005)


def test_effective_diameter_limit_and_its_inverse():
    # AISI S100 J2.2.2.1: 0.7 d - 1.5 t, not more than 0.55 d (from memory); thin sheet meets the limit
    assert aisi.EFFECTIVE_DIAMETER(d=20.0, t=1.2) == pytest.approx(11.0)
    assert aisi.EFFECTIVE_DIAMETER(d=20.0, t=3.0) == pytest.approx(9.5)
    # EN 1993-1-3 8.5.3 prints the same expression as a lower limit: the two agree where 0.7 d - 1.5 t = 0.55 d
    for d, t in ((20.0, 1.0), (20.0, 2.0), (20.0, 3.0)):
        low, high = aisi.EFFECTIVE_DIAMETER(d=d, t=t), en.INTERFACE_DIAMETER(d_w=d, S_t=t)
        assert low + high == pytest.approx(0.7 * d - 1.5 * t + 0.55 * d)
        assert low <= high


def test_average_and_peripheral_diameters():
    # AISI J2.2.2.1 and EN 8.5.3(7): one sheet d - t, lapped sheets d - 2 x total thickness
    assert aisi.AVERAGE_DIAMETER_ONE_SHEET(d=20.0, t=1.2) == en.PERIPHERAL_DIAMETER_ONE_SHEET(d_w=20.0, t=1.2) == 18.8
    assert aisi.AVERAGE_DIAMETER_LAPPED(d=20.0, t=2.4) == en.PERIPHERAL_DIAMETER_SHEETS(d_w=20.0, S_t=2.4) == 15.2


def test_weld_shear_in_the_units_of_the_source():
    # (pi d_e^2/4) 0.75 F_xx with d_e = 3/8 in, E60: 0.11045 x 0.75 x 60 = 4.970 kip
    assert aisi.WELD_SHEAR(d_e=0.375 * IN, F_xx=60 * KSI) / KIP == pytest.approx(4.970, abs=0.001)
    # uplift is the same area at F_xx: 6.627 kip
    assert aisi.WELD_TENSION(d_e=0.375 * IN, F_xx=60 * KSI) / KIP == pytest.approx(6.627, abs=0.001)
    # EN: 0.625 in place of 0.75 on the same area
    ratio = en.WELD_SHEAR(d_s=10.0, f_uw=480.0) / aisi.WELD_SHEAR(d_e=10.0, F_xx=480.0)
    assert ratio == pytest.approx(0.625 / 0.75)


def test_sheet_shear_by_hand():
    # 2.20 t d_a F_u: 0.0358 in, d_a 0.5892 in, 45 ksi: 2.20 x 0.0358 x 0.5892 x 45 = 2.0883 kip
    given = {"t": 0.0358 * IN, "d_a": 0.5892 * IN, "F_u": 45 * KSI}
    assert aisi.SHEET_SHEAR_STOCKY(**given) / KIP == pytest.approx(2.0883, abs=0.0002)
    assert aisi.SHEET_SHEAR_SLENDER(**given) / KIP == pytest.approx(2.0883 * 1.40 / 2.20, abs=0.0002)
    # sheet to sheet, 1.65: three quarters of the stocky branch
    assert aisi.SHEET_TO_SHEET_SHEAR(**given) / KIP == pytest.approx(2.0883 * 0.75, abs=0.0002)
    # uplift: 0.8 (F_u/F_y)^2 t d_a F_u with F_u/F_y = 45/33: 1.4121 kip
    assert aisi.SHEET_TENSION(**given, F_y=33 * KSI) / KIP == pytest.approx(1.4121, abs=0.0002)


@pytest.mark.parametrize("F_u", [270.0, 360.0, 420.0])
def test_aisi_sheet_branches_meet(F_u):
    """At both ends of the middle range the printed constants must give the neighbours: 2.20 and 1.40."""
    t, E = 1.0, aisi.E_AISI
    for limit, neighbour in ((0.815, aisi.SHEET_SHEAR_STOCKY), (1.397, aisi.SHEET_SHEAR_SLENDER)):
        d_a = limit * np.sqrt(E / F_u) * t
        middle = aisi.SHEET_SHEAR_MIDDLE(t=t, d_a=d_a, F_u=F_u, E=E)
        assert middle == pytest.approx(neighbour(t=t, d_a=d_a, F_u=F_u), rel=5e-4)
    assert aisi.sheet_shear(d_a=0.82 * np.sqrt(E / F_u), t=t, F_u=F_u).formula is aisi.SHEET_SHEAR_MIDDLE
    assert aisi.sheet_shear(d_a=0.81 * np.sqrt(E / F_u), t=t, F_u=F_u).formula is aisi.SHEET_SHEAR_STOCKY
    assert aisi.sheet_shear(d_a=1.2 * np.sqrt(E / F_u), t=t, F_u=F_u).formula is aisi.SHEET_SHEAR_MIDDLE
    assert aisi.sheet_shear(d_a=1.4 * np.sqrt(E / F_u), t=t, F_u=F_u).formula is aisi.SHEET_SHEAR_SLENDER


def test_the_selector_never_picks_a_branch_that_calls_itself_outside():
    for d_a in np.geomspace(5.0, 200.0, 40):
        pick = aisi.sheet_shear(d_a=float(d_a), t=1.0, F_u=300.0)
        assert not pick.formula.outside(t=1.0, t_1=1.0, d_a=d_a, F_u=300.0, E=aisi.E_AISI, d_e=10.0), pick.why
        branch = en.peripheral(d_p=float(d_a), S_t=1.0, f_u=300.0)
        assert not branch.formula.outside(d_p=d_a, S_t=1.0, f_u=300.0, d_s=10.0, t=1.0), branch.why


def test_factors_as_omega_over_phi():
    # AISI calibrates with dead/live 1/5: Omega = 1.533/phi (about 1.6/phi before rounding to 0.05)
    for pair in (aisi.OMEGA_WELD, aisi.OMEGA_SHEET_STOCKY, aisi.OMEGA_SHEET_MIDDLE, aisi.OMEGA_SHEET_SLENDER):
        assert pair.Omega * pair.phi == pytest.approx(1.533, abs=0.03)
    assert [p.Omega for p in (aisi.OMEGA_WELD, aisi.OMEGA_SHEET_STOCKY, aisi.OMEGA_SHEET_MIDDLE)] == [2.55, 2.20, 2.80]


@pytest.mark.parametrize("f_u", [270.0, 420.0, 500.0])
def test_en_branches_meet(f_u):
    """EN 1993-1-3 8.5.3(5): 1.5 x 18 = 27 = 0.9 x 30, so the peripheral line is continuous."""
    S_t = 1.5
    for limit, neighbour in ((18.0, en.PERIPHERAL_STOCKY), (30.0, en.PERIPHERAL_SLENDER)):
        d_p = limit * np.sqrt(420.0 / f_u) * S_t
        middle = en.PERIPHERAL_MIDDLE(S_t=S_t, f_u=f_u)
        assert middle == pytest.approx(neighbour(d_p=d_p, S_t=S_t, f_u=f_u), rel=1e-12)
    # hand arithmetic: 27 x 1 x 2.25 x 420 at f_u = 420
    assert en.PERIPHERAL_MIDDLE(S_t=1.5, f_u=420.0) == pytest.approx(25515.0)


def test_en_selector():
    for f_u in (270.0, 420.0):
        unit = np.sqrt(420.0 / f_u)
        picked = [en.peripheral(d_p=k * unit, S_t=1.0, f_u=f_u).formula for k in (17.9, 18.1, 29.9, 30.1)]
        assert picked == [en.PERIPHERAL_STOCKY, en.PERIPHERAL_MIDDLE, en.PERIPHERAL_MIDDLE, en.PERIPHERAL_SLENDER]


def test_seams_shrink_to_spots():
    # a seam of no length has the weld metal of a spot (AISI J2.3 and EN 8.5.3(8))
    assert aisi.SEAM_WELD_SHEAR(d_e=10.0, L=0.0, F_xx=480.0) == aisi.WELD_SHEAR(d_e=10.0, F_xx=480.0)
    assert en.ELONGATED_WELD_SHEAR(d_s=10.0, L_w=0.0, f_uw=480.0) == en.WELD_SHEAR(d_s=10.0, f_uw=480.0)
    # 2.5 x 0.96 = 2.40 and 1.67: the sheet terms, by hand
    assert aisi.SEAM_SHEET_SHEAR(t=1.2, F_u=300.0, L=30.0, d_a=15.0) == pytest.approx(2.5 * 360.0 * (7.5 + 14.4))
    assert en.ELONGATED_PERIPHERAL(L_w=30.0, d_p=15.0, S_t=1.2, f_u=300.0) == pytest.approx((15.0 + 25.05) * 360.0)
    assert aisi.SEAM_WELD_SHEAR(d_e=10.0, L=20.0, F_xx=480.0) == pytest.approx((78.5398 + 200.0) * 360.0, rel=1e-6)
    # 0.625 in place of 0.75 on the same area
    assert en.ELONGATED_WELD_SHEAR(d_s=10.0, L_w=20.0, f_uw=480.0) == pytest.approx(278.5398 * 300.0, rel=1e-6)


def test_edges():
    # AISI J2.2.1 and EN 8.5.3(3): 1.5 d; forces by hand
    assert aisi.LEAST_EDGE_DISTANCE(d=20.0) == 30.0
    high = {"F_w_Sd": 4000.0, "t": 1.0, "f_u": 350.0, "gamma_M2": 1.25}
    assert en.LEAST_EDGE_HIGH(**high) == pytest.approx(30.0)
    assert en.LEAST_EDGE_LOW(**high) == pytest.approx(30.0 * 1.8 / 2.1)
    # two planes of 0.6 F_u: 0.6 x 300 x 2 x 1.2 x 10
    assert aisi.SHEET_END_RUPTURE(F_u=300.0, t=1.2, e_net=10.0) == pytest.approx(4320.0)


def test_interaction():
    # AISI J2.2.4: exponent 1.5; tension ratio 0.15^(2/3) is where it starts to count
    assert aisi.SHEAR_AND_TENSION(V=0.0, V_a=1.0, T=0.15 ** (2 / 3), T_a=1.0) == pytest.approx(0.15)
    half = 0.5 ** (2 / 3)
    assert aisi.SHEAR_AND_TENSION(V=half * 7.0, V_a=7.0, T=half * 3.0, T_a=3.0) == pytest.approx(1.0)


def test_ranges_are_refused():
    # read limits: 0.15 in of sheet, 3/8 in fused, washer below 0.028 in; EN 4 mm, 10 mm, 0.7 mm
    inside = {"d_e": 10.0, "F_xx": 480.0, "t": 1.2, "t_1": 1.2}
    assert not aisi.WELD_SHEAR.outside(**inside)
    assert aisi.WELD_SHEAR.outside(**{**inside, "t": 3.9})
    assert aisi.WELD_SHEAR.outside(**{**inside, "t_1": 0.70})
    assert aisi.WELD_SHEAR.outside(**{**inside, "d_e": 9.4})
    good = {"d_s": 10.0, "f_uw": 480.0, "S_t": 3.0, "t": 1.0}
    assert not en.WELD_SHEAR.outside(**good)
    for change in ({"S_t": 4.1}, {"d_s": 9.9}, {"t": 0.65}):
        assert en.WELD_SHEAR.outside(**{**good, **change})
