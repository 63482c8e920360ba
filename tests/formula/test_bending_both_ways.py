"""Bending about both axes: what works sideways against strips really cut out, and the sum by hand."""

from __future__ import annotations

from math import sqrt

import pytest

from jointcalc.formula import bending_both_ways as bw


def test_what_is_lost_farthest_out_bounds_what_is_left() -> None:
    """Parallel axes: a box 60 x 40 with 10 mm gone of one far wall keeps the bound, of both of them more than that."""
    b, h, t = 40.0, 60.0, 1.0
    A, inertia = 2 * (b + h) * t, 2 * h * t * (b / 2) ** 2 + 2 * t * b**3 / 12
    for walls in (1, 2):
        A_eff = A - walls * 10 * t
        centre = -10 * t * (b / 2) / A_eff if walls == 1 else 0.0
        left = inertia - walls * 10 * t * (b / 2) ** 2 - A_eff * centre**2
        kept = left / (b / 2 + abs(centre))
        bound = bw.modulus_aside(W_z=inertia / (b / 2), A=A, A_eff=A_eff, y_max=b / 2, i_z=sqrt(inertia / A))
        assert bound <= kept * (1 + 1e-9)
        assert walls == 2 or bound == pytest.approx(kept)
    assert bw.modulus_aside(W_z=500.0, A=100.0, A_eff=100.0, y_max=20.0, i_z=10.0) == 500.0
    assert bw.modulus_aside(W_z=500.0, A=100.0, A_eff=50.0, y_max=20.0, i_z=10.0) == 0.0


def test_both_ways_by_hand() -> None:
    """0.4 of everything else and 150 of 500 N m sideways: 0.7."""
    assert bw.moment_aside(W_zeff=2000.0, f_y=250.0) == pytest.approx(5e5)
    assert bw.both_ways(u=0.4, M_z=1.5e5, M_zR=5e5) == pytest.approx(0.7)
