"""AISI S100 resistance spots, against the older printed table and the inch form; pitch in compression by derivation."""

from __future__ import annotations

from math import pi, sqrt

import numpy as np
import pytest

from jointcalc.formula import spot_aisi as aisi
from jointcalc.tables.store import load

KIP = 4448.2216152605  # N, exact
INCH = 25.4  # mm, exact


def test_formula_against_the_1996_table() -> None:
    """AISI 1996 table as reprinted in Building Design and Construction Handbook, Table 8.6 (read).

    Ratios of the later fit to the printed rows as computed beside the reference copy of that table.
    """
    table = load("spot_aisi1996")
    t, strength = table.numbers("t")[:12], table.numbers("shear")[:12]
    ratio = aisi.SPOT_THIN(t=t) / strength
    np.testing.assert_allclose(
        ratio, [1.27, 0.95, 0.83, 0.89, 1.07, 1.01, 1.02, 1.06, 1.04, 0.98, 0.92, 0.93], atol=0.007
    )


@pytest.mark.parametrize("t_in", [0.010, 0.040, 0.0897, 0.139])
def test_metric_form_is_the_inch_form_thin(t_in: float) -> None:
    """P_n = 144 t^1.47 kip, t in inch (the standard's other form, from memory): the two agree to 0.1 %."""
    assert aisi.SPOT_THIN(t=t_in * INCH) == pytest.approx(144 * t_in**1.47 * KIP, rel=1.1e-3)


@pytest.mark.parametrize("t_in", [0.1402, 0.16, 0.18])
def test_metric_form_is_the_inch_form_thick(t_in: float) -> None:
    """P_n = 43.4 t + 1.93 kip, t in inch (the standard's other form, from memory)."""
    assert aisi.SPOT_THICK(t=t_in * INCH) == pytest.approx((43.4 * t_in + 1.93) * KIP, rel=1.1e-3)


def test_one_millimetre_is_5_51_kN() -> None:
    """Coefficient from memory; see also the AISI 1996 row of 0.040 in, 6.32 kN."""
    assert aisi.SPOT_THIN(t=1.0) == pytest.approx(5510.0)
    assert aisi.SPOT_THICK(t=4.0) == pytest.approx(38_970.0)  # 7.6 x 4 + 8.57


def test_branches_meet() -> None:
    """Both fits were drawn through one set of tests: at 3.56 mm they differ by less than 1 %."""
    assert aisi.SPOT_THIN(t=3.56) == pytest.approx(aisi.SPOT_THICK(t=3.56), rel=0.01)
    assert aisi.spot(3.5599) is aisi.SPOT_THIN
    assert aisi.spot(3.56) is aisi.SPOT_THICK


@pytest.mark.parametrize(
    ("t", "inside"), [(0.249, False), (0.25, True), (3.559, True), (3.56, True), (4.57, True), (4.58, False)]
)
def test_range(t: float, inside: bool) -> None:
    """0.010 to 0.180 in; the 0.18 in read in a 1996-era text, the rest from memory."""
    formula = aisi.spot(t)
    assert (formula.outside(t=t) == []) is inside


def test_each_branch_ends_where_the_other_begins() -> None:
    """3.56 mm (0.140 in) belongs to the line, w/t = 0.50 sqrt(E/f_y) exactly to the slender floor; from memory."""
    assert aisi.SPOT_THIN.outside(t=3.56)
    assert not aisi.SPOT_THIN.outside(t=3.5599)
    assert aisi.SPOT_THICK.outside(t=3.5599)
    edge = {"t": 1.0, "E": 200.0, "f_y": 2.0, "w": 5.0}
    assert aisi.PITCH_OUTSTAND_FLOOR_STOCKY.outside(**edge)
    assert not aisi.PITCH_OUTSTAND_FLOOR_SLENDER.outside(**edge)


def test_safety_factors() -> None:
    """Omega 2.35 on a resistance spot, 2.50 on rupture beside welds: from memory, AISI S100-07 on."""
    assert (aisi.OMEGA, aisi.OMEGA_RUPTURE_WELDED) == (2.35, 2.50)


def test_shear_rupture_is_six_tenths() -> None:
    """0.6 f_u A_nv, the usual value for 1/sqrt(3) in rupture: within 4 % of von Mises."""
    rupture = aisi.SHEAR_RUPTURE(A_nv=250.0, f_u=400.0)
    assert rupture == pytest.approx(60e3)
    assert rupture == pytest.approx(250 * 400 / sqrt(3), rel=0.04)


def test_pitch_wave_by_euler() -> None:
    """Limit (b): a strip of sheet between spots as a column of effective length 0.6 s, with the factor 1.67.

    pi^2 E t^2 / (12 (0.6 s)^2) = 1.67 f_c.  Effective length and factor as the commentary has them, from memory.
    """
    E, t = 203_000.0, 1.2
    for f_c in (40.0, 100.0, 160.0):
        s = pi * t / (0.6 * sqrt(12)) * sqrt(E / (1.67 * f_c))
        assert aisi.PITCH_WAVE(t=t, E=E, f_c=f_c) == pytest.approx(s, rel=0.01)
    # by hand, coefficient 1.16 from memory: sqrt(203000 / 101.5) = sqrt(2000) = 44.72136
    assert aisi.PITCH_WAVE(t=1.0, E=E, f_c=101.5) == pytest.approx(51.8768, rel=1e-5)


def test_pitch_beside_an_outstand() -> None:
    """Limit (c): 3 w, and floors 1.11 and 1.33 t sqrt(E/f_y); from memory, by hand: sqrt(203000/203) = 31.6228."""
    assert aisi.PITCH_OUTSTAND(w=14.0) == 42.0
    given = {"t": 2.0, "E": 203_000.0, "f_y": 203.0}
    assert aisi.PITCH_OUTSTAND_FLOOR_STOCKY(**given) == pytest.approx(70.2026, rel=1e-5)
    assert aisi.PITCH_OUTSTAND_FLOOR_SLENDER(**given) == pytest.approx(84.1166, rel=1e-5)


@pytest.mark.parametrize(("w", "stocky"), [(31.0, True), (31.6227, True), (31.63, False), (60.0, False)])
def test_which_floor(w: float, stocky: bool) -> None:
    """w/t against 0.50 sqrt(E/f_y): here 2 x 0.5 x 31.6228 mm.  Exactly one floor applies."""
    given = {"t": 2.0, "E": 203_000.0, "f_y": 203.0, "w": w}
    assert (aisi.PITCH_OUTSTAND_FLOOR_STOCKY.outside(**given) == []) is stocky
    assert (aisi.PITCH_OUTSTAND_FLOOR_SLENDER.outside(**given) == []) is not stocky
