"""Bolts, rivets and screws of EN 1993 against published bolt tables and worked examples.

"Bolt tables": the published handbook of EC3 bolt resistances (S355, gamma_M2 1.25).  "Bridge example": the published worked
example of a gusset with M24 10.9 bolts (d_0 26, t 15, f_u 510).
"""

import numpy as np
import pytest

from jointcalc.formula import bolts_en1993 as en
from jointcalc.tables.store import load

G = 1.25


def area(size):
    return load("bolt_metric").find(size=size).need("stress_area")


@pytest.mark.parametrize("size, kN", [("M12", 24.3), ("M16", 45.2), ("M20", 70.6)])
def test_bolt_tables_tension_4_6(size, kN):
    assert en.BOLT_TENSION(k_2=0.9, f_ub=400.0, A_s=area(size)) / G / 1e3 == pytest.approx(kN, abs=0.05)


@pytest.mark.parametrize("size, kN", [("M12", 42.5), ("M16", 79.1), ("M20", 123.0)])
def test_bolt_tables_tension_10_9_countersunk(size, kN):
    assert en.BOLT_TENSION(k_2=0.63, f_ub=1000.0, A_s=area(size)) / G / 1e3 == pytest.approx(kN, rel=0.004)


@pytest.mark.parametrize(
    "size, f_ub, alpha_v, kN",
    [
        ("M12", 400.0, 0.6, 16.2), ("M16", 400.0, 0.6, 30.1), ("M20", 400.0, 0.6, 47.0),
        ("M16", 800.0, 0.6, 60.3), ("M20", 800.0, 0.6, 94.1), ("M16", 1000.0, 0.5, 62.8), ("M20", 1000.0, 0.5, 98.0),
    ],
)  # fmt: skip
def test_bolt_tables_shear(size, f_ub, alpha_v, kN):
    assert en.BOLT_SHEAR(alpha_v=alpha_v, f_ub=f_ub, A=area(size)) / G / 1e3 == pytest.approx(kN, abs=0.05)


@pytest.mark.parametrize("f_ub, alpha_v, kN", [(800.0, 0.6, 27.5), (1000.0, 0.5, 28.7)])
def test_bolt_tables_m12_in_2_mm_clearance(f_ub, alpha_v, kN):
    full = en.BOLT_SHEAR(alpha_v=alpha_v, f_ub=f_ub, A=area("M12")) / G
    assert en.CLEARANCE_REDUCED(F_v_Rd=full) / 1e3 == pytest.approx(kN, abs=0.05)


@pytest.mark.parametrize(
    "d, d_0, e_1, e_2, p_1, p_2, t, kN",
    [(12, 14, 25, 20, 35, 40, 5, 30.3), (16, 18, 35, 25, 50, 50, 5, 42.7), (20, 22, 40, 30, 60, 60, 10, 96.5)],
)
def test_bolt_tables_bearing(d, d_0, e_1, e_2, p_1, p_2, t, kN):
    alpha_b = min(
        en.ALPHA_B_END(e_1=e_1, d_0=d_0, f_ub=800.0, f_u=470.0),
        en.ALPHA_B_INNER(p_1=p_1, d_0=d_0, f_ub=800.0, f_u=470.0),
    )
    k_1 = en.K_1_EDGE_LINES(e_2=e_2, p_2=p_2, d_0=d_0)
    assert en.BEARING_PLATE(k_1=k_1, alpha_b=alpha_b, f_u=470.0, d=d, t=t) / G / 1e3 == pytest.approx(kN, abs=0.05)


def test_limits_of_the_bearing_coefficients():
    # EN 1993-1-8 Table 3.4: neither coefficient passes 1.0 and 2.5, and the weaker distance decides
    far = {"d_0": 10.0, "f_ub": 800.0, "f_u": 270.0}
    assert en.ALPHA_B_END(e_1=500.0, **far) == en.ALPHA_B_INNER(p_1=500.0, **far) == 1.0
    assert en.ALPHA_B_END(e_1=500.0, d_0=10.0, f_ub=400.0, f_u=500.0) == pytest.approx(0.8)
    assert en.ALPHA_B_INNER(p_1=500.0, d_0=10.0, f_ub=400.0, f_u=500.0) == pytest.approx(0.8)
    assert en.K_1_EDGE(e_2=500.0, d_0=10.0) == en.K_1_INNER(p_2=500.0, d_0=10.0) == 2.5
    assert en.K_1_EDGE_LINES(e_2=500.0, p_2=500.0, d_0=10.0) == 2.5
    assert en.K_1_EDGE_LINES(e_2=500.0, p_2=25.0, d_0=10.0) == pytest.approx(1.8)
    assert en.K_1_EDGE_LINES(e_2=12.5, p_2=500.0, d_0=10.0) == pytest.approx(1.8)


BRIDGE = {"d_0": 26.0, "f_ub": 1000.0, "f_u": 510.0}


@pytest.mark.parametrize(
    "along, k_1, kN",
    [
        (en.ALPHA_B_INNER(p_1=65.0, **BRIDGE), en.K_1_INNER(p_2=68.24, d_0=26.0), 169.16),
        (en.ALPHA_B_INNER(p_1=65.0, **BRIDGE), en.K_1_EDGE(e_2=33.0, d_0=26.0), 158.84),
        (en.ALPHA_B_INNER(p_1=68.24, **BRIDGE), en.K_1_INNER(p_2=65.0, d_0=26.0), 165.19),
        (en.ALPHA_B_END(e_1=33.0, **BRIDGE), en.K_1_INNER(p_2=65.0, d_0=26.0), 111.85),
        (en.ALPHA_B_INNER(p_1=65.0, **BRIDGE), en.K_1_INNER(p_2=65.0, d_0=26.0), 154.22),
        (en.ALPHA_B_END(e_1=80.0, **BRIDGE), en.K_1_INNER(p_2=65.0, d_0=26.0), 264.38),
        (en.ALPHA_B_END(e_1=54.0, **BRIDGE), en.K_1_INNER(p_2=65.0, d_0=26.0), 183.04),
    ],
)
def test_bridge_example_bearing(along, k_1, kN):
    bearing = en.BEARING_PLATE(k_1=k_1, alpha_b=along, f_u=510.0, d=24.0, t=15.0)
    assert bearing / G / 1e3 == pytest.approx(kN, abs=0.02)


def test_slip():
    # bridge example: M24 10.9, one surface, mu 0.5, gamma_M3 1.25: 98.84 kN; bolt tables: 8.8 M20, gamma_M3 1.1: 62.4 kN
    F = en.PRELOAD(f_ub=1000.0, A_s=area("M24"))
    assert en.SLIP_RESISTANCE(k_s=1.0, n=1.0, mu=0.5, F_p_C=F) / 1.25 / 1e3 == pytest.approx(98.84, abs=0.005)
    F = en.PRELOAD(f_ub=800.0, A_s=area("M20"))
    assert en.SLIP_RESISTANCE(k_s=1.0, n=1.0, mu=0.5, F_p_C=F) / 1.1 / 1e3 == pytest.approx(62.4, abs=0.05)


def test_single_lap_limit_is_the_least_edge_case():
    # bolt tables: single lap, one row: 1.5 f_u d t, by hand 1.5 x 470 x 16 x 5 = 56.4 kN
    assert en.BEARING_SINGLE_LAP(f_u=470.0, d=16.0, t=5.0) == pytest.approx(56400.0)


def test_interaction_corner_points():
    # EN 1993-1-8 Table 3.4: full shear leaves nothing; full tension alone leaves 1 - 1/1.4 of the shear
    assert en.SHEAR_AND_TENSION(F_v_Ed=50.0, F_v_Rd=50.0, F_t_Ed=0.0, F_t_Rd=80.0) == 1.0
    assert en.SHEAR_AND_TENSION(F_v_Ed=2.0, F_v_Rd=7.0, F_t_Ed=80.0, F_t_Rd=80.0) == pytest.approx(1.0)


def test_pull_through_constants_side_by_side():
    # reference 3.4: washer 16 mm, t 1.5, f_u 360: EN screw 6.91 kN and EN punching 13.03 kN with gamma_M2
    assert en.SCREW_PULL_THROUGH(d_w=16.0, t=1.5, f_u=360.0) / G / 1e3 == pytest.approx(6.91, abs=0.005)
    assert en.PUNCHING(d_m=16.0, t_p=1.5, f_u=360.0) / G / 1e3 == pytest.approx(13.03, abs=0.005)


def test_bolt_in_sheet():
    """EN 1993-1-3 Table 8.4 (from memory), by hand: k_t = 0.92 at 1.0 mm; M8, e_1 24, 270 MPa: 2.5 x 0.92 x 270 x 8 x 1."""
    assert en.SHEET_K_T(t=0.75) == pytest.approx(0.84)
    assert en.SHEET_K_T(t=1.0) == pytest.approx(0.92)
    assert en.SHEET_K_T(t=1.25) == pytest.approx(1.0)
    assert en.SHEET_K_T(t=2.0) == 1.0
    assert en.SHEET_ALPHA_B(e_1=12.0, d=8.0) == 0.5
    assert en.SHEET_ALPHA_B(e_1=40.0, d=8.0) == 1.0
    assert en.SHEET_BEARING(alpha_b=1.0, k_t=0.92, f_u=270.0, d=8.0, t=1.0) == pytest.approx(4968.0)
    # a single bolt in a wide strip has no reduction from d_0/u = 0.3 on; r = 1 and d_0/u = 0.1 leave 0.4
    assert en.SHEET_NET_SECTION(r=1.0, d_0=9.0, u=30.0, A_net=50.0, f_u=300.0) == pytest.approx(15000.0)
    assert en.SHEET_NET_SECTION(r=1.0, d_0=9.0, u=90.0, A_net=50.0, f_u=300.0) == pytest.approx(6000.0)
    assert en.SHEET_NET_SECTION(r=0.5, d_0=9.0, u=20.0, A_net=50.0, f_u=300.0) == pytest.approx(15000.0)


def test_rivets():
    """EN 1993-1-3 Table 8.1 (from memory): ends and middle of the thickness ratio."""
    t, d = 0.8, 4.0
    low = 3.6 * np.sqrt(0.2)
    for ratio in (1.0, 1.5, 2.0, 2.5, 4.0):
        expected = np.interp(ratio, [1.0, 2.5], [low, 2.1])
        assert en.RIVET_ALPHA(t=t, t_1=ratio * t, d=d) == pytest.approx(expected)
    # thick sheet on a thin rivet: 2.1 is the most at equal sheets too
    assert en.RIVET_ALPHA(t=3.0, t_1=3.0, d=4.0) == pytest.approx(2.1)
    # end distance: f_u e_1 t / 1.2, by hand 300 x 6 x 0.8 / 1.2 = 1200 N
    assert en.RIVET_BEARING(alpha=2.1, f_u=300.0, d=4.0, t=0.8, e_1=6.0) == pytest.approx(1200.0)
    assert en.RIVET_BEARING(alpha=1.6, f_u=300.0, d=4.0, t=0.8, e_1=20.0) == pytest.approx(1536.0)
    assert en.NET_SECTION(A_net=40.0, f_u=300.0) == 12000.0


def test_ranges_are_refused():
    inside = {"t": 1.2, "d": 8.0, "f_u": 270.0, "e_1": 24.0, "e_2": 24.0, "p_1": 40.0, "p_2": 40.0, "d_0": 9.0}
    assert not en.SHEET_BEARING.outside(**inside)
    for change in ({"t": 0.7}, {"t": 3.0}, {"d": 5.0}, {"e_1": 8.9}, {"e_2": 13.0}, {"p_1": 26.0}, {"f_u": 600.0}):
        assert en.SHEET_BEARING.outside(**{**inside, **change}), change
    # bridge example, SSB05: least e_1 = e_2 = 1.2 x 26 = 31.2 mm
    at_limit = {"t": 15.0, "d_0": 26.0, "e_1": 31.2, "e_2": 31.2, "p_1": 57.2, "p_2": 62.4}
    assert not en.BEARING_PLATE.outside(**at_limit)
    assert en.BEARING_PLATE.outside(**{**at_limit, "e_1": 31.1})


def test_plate_net_section_by_hand():
    """EN 1993-1-1, 6.2.3(2) (from memory): 0.9 A_net f_u; 87 mm² of 430 MPa carry 33.67 kN; sheet goes to part 1-3."""
    assert en.PLATE_NET_SECTION(A_net=87.0, f_u=430.0) == pytest.approx(33669.0)
    assert en.PLATE_NET_SECTION.outside(A_net=87.0, f_u=430.0, t=2.9)
