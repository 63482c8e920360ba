"""Blocks, net and gross sections by the arithmetic of their clauses."""

from __future__ import annotations

from math import sqrt

import pytest

from jointcalc.formula import rupture


def areas(t: float, e: float, p_1: float, p_2: float, d_0: float) -> dict[str, float]:
    """Two rows of two bolts: 2 lines of p_1 + e in shear, p_2 in tension; 1.5 holes off each line, 1 off the row."""
    return {
        "A_gv": 2 * (p_1 + e) * t, "A_nv": 2 * (p_1 + e - 1.5 * d_0) * t, "A_nt": (p_2 - d_0) * t,
    }  # fmt: skip


def test_block_shear_of_plate() -> None:
    """AISC 360 J4.3 (terms read in course notes): 0.60 F_u A_nv or 0.60 F_y A_gv, the lesser, and U_bs F_u A_nt."""
    a = areas(10.0, 40.0, 70.0, 70.0, 22.0)
    rupture_ = 0.6 * 400 * 2 * (110 - 33) * 10 + 400 * 480
    yields = 0.6 * 250 * 2 * 110 * 10 + 400 * 480
    for formula in (rupture.BLOCK_SHEAR_AISC, rupture.BLOCK_SHEAR_AISI):
        assert formula(**a, U_bs=1.0, F_u=400.0, F_y=250.0) == pytest.approx(min(rupture_, yields))
        assert formula(**a, U_bs=1.0, F_u=400.0, F_y=390.0) == pytest.approx(rupture_)
        uneven = formula(**a, U_bs=0.5, F_u=400.0, F_y=250.0)
        assert uneven == pytest.approx(min(rupture_, yields) - 0.5 * 400 * 480)


def test_block_tearing() -> None:
    """EN 1993-1-8, 3.10.2 (from memory): V_eff,1 = f_u A_nt/gamma_M2 + f_y A_nv/(sqrt(3) gamma_M0)."""
    a = areas(10.0, 40.0, 70.0, 70.0, 22.0)
    V = rupture.BLOCK_TEARING(f_u=360.0, f_y=235.0, A_nt=a["A_nt"], A_nv=a["A_nv"], k=1.0)
    assert pytest.approx(360 * 480 + 235 * 2 * 77 * 10 / sqrt(3)) == V
    half = rupture.BLOCK_TEARING(f_u=360.0, f_y=235.0, A_nt=a["A_nt"], A_nv=a["A_nv"], k=0.5)
    assert V - half == pytest.approx(0.5 * 360 * 480)


def test_one_line_is_the_tear_out_of_its_bolts() -> None:
    """A row along the force has no width to pull on: 0.6 F_u on both sides of the line, holes off."""
    t, e, p, d_0, n = 1.2, 20.0, 30.0, 9.0, 3
    line = ((n - 1) * p + e - (n - 0.5) * d_0) * t
    R = rupture.BLOCK_SHEAR_AISI(A_nv=2 * line, A_gv=1e9, A_nt=0.0, U_bs=1.0, F_u=270.0, F_y=140.0)
    each = 0.6 * 270 * 2 * t * (e - d_0 / 2) + (n - 1) * 0.6 * 270 * 2 * t * (p - d_0)
    assert pytest.approx(each) == R


def test_net_and_gross_sections() -> None:
    """AISI S100 J6.2 (from memory): U_sl A_n F_u, U_sl = 0.9 + 0.1 d/s up to 1; EN 1993-1-1: A f_y."""
    assert rupture.SHEAR_LAG(d=8.0, s=40.0) == pytest.approx(0.92)
    assert rupture.SHEAR_LAG(d=8.0, s=8.0) == 1.0
    assert rupture.NET_RUPTURE(U_sl=0.92, A_n=31 * 1.2, F_u=270.0) == pytest.approx(0.92 * 31 * 1.2 * 270)
    assert rupture.GROSS_YIELD(A=48.0, f_y=140.0) == 48 * 140
    assert rupture.NET_RUPTURE.outside(t=4.7625)
    assert not rupture.NET_RUPTURE.outside(t=4.7)


def test_a_section_bent_pulled_and_sheared() -> None:
    """A strap 40 x 3 mm: 20 MPa of pull and 150 of bending at the edge, 15 of shear in the mean; von Mises of both."""
    W = 3 * 40**2 / 6
    stress = rupture.SECTION_STRESS(N=2400.0, V=1800.0, M=150 * W, A=120.0, W_net=W)
    assert stress == pytest.approx(sqrt((20 + 150) ** 2 + 3 * 15**2))
