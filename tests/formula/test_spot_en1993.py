"""EN 1993-1-3:2006 Table 8.5.  Its coefficients are recalled, so the numbers below are worked from them by hand."""

from __future__ import annotations

from math import pi, sqrt

import numpy as np
import pytest

from jointcalc.formula import spot_en1993 as en
from jointcalc.formula import spot_size
from jointcalc.formula.core import Limit


def test_one_millimetre_mild_steel() -> None:
    """d_s 5 mm, f_u 270 MPa, t 1 mm: 3.65 kN characteristic, 2.92 kN design; computed from the recalled table."""
    resistance = en.TEARING(t=1.0, d_s=5.0, f_u=270.0)
    assert resistance == pytest.approx(3645.0, rel=1e-12)  # 2.7 x 1 x 5 x 270
    assert resistance / 1e3 == pytest.approx(3.65, abs=0.006)
    assert resistance / 1.25 / 1e3 == pytest.approx(2.92, abs=0.006)
    assert en.SPOT_SHEAR(d_s=5.0, f_u=270.0) > 1.25 * resistance  # tearing governs, as that case says


def test_every_line_of_the_table_by_hand() -> None:
    """t 1.44, d_s 6, e_1 15 mm, f_u 400 MPa; coefficients from memory, arithmetic by hand."""
    assert en.TEARING(t=1.44, d_s=6.0, f_u=400.0) == pytest.approx(2.7 * 1.2 * 2400)  # 7776
    assert en.TEARING_THICK_SPOT(d_s=6.0, f_u=400.0) == pytest.approx(10080.0)  # 0.7 x 36 x 400
    assert en.TEARING_THICK_SHEET(t=1.44, d_s=6.0, f_u=400.0) == pytest.approx(10713.6)  # 3.1 x 1.44 x 2400
    assert en.END_DISTANCE(t=1.44, e_1=15.0, f_u=400.0) == pytest.approx(12096.0)  # 1.4 x 1.44 x 6000
    assert en.NET_SECTION(A_net=100.0, f_u=400.0) == pytest.approx(40e3)
    assert en.SPOT_SHEAR(d_s=6.0, f_u=400.0) == pytest.approx(400 * 28.274333882308138)  # area of a 6 mm circle


def test_set_up_size_meets_the_ductility_condition_with_ratio_1_454() -> None:
    """Of a 5 sqrt(t) spot F_v / F_tb = 1.454 whatever the sheet; computed from the recalled table."""
    for t in (0.6, 1.0, 2.9):
        d_s = spot_size.TARGET(t=t)
        ratio = en.SPOT_SHEAR(d_s=d_s, f_u=300.0) / en.TEARING(t=t, d_s=d_s, f_u=300.0)
        assert ratio == pytest.approx(1.454, abs=0.0005)


def test_condition_fails_below_4_30_root_t() -> None:
    """F_v = 1.25 F_tb at d_s = 4.30 sqrt(t); computed from the recalled table, found here by bisection."""
    low, high = 3.0, 6.0
    for _ in range(60):
        middle = (low + high) / 2
        met = en.SPOT_SHEAR(d_s=middle, f_u=270.0) >= 1.25 * en.TEARING(t=1.0, d_s=middle, f_u=270.0)
        low, high = (low, middle) if met else (middle, high)
    assert high == pytest.approx(4.30, abs=0.005)
    assert spot_size.MINIMUM(t=1.0) < high
    assert spot_size.USUAL(t=1.0) < high < spot_size.TARGET(t=1.0)


def test_bounds_beyond_thick_sheet_are_near_the_main_rule() -> None:
    """At the size the standard assumes, the bound by the spot 0.7 d^2 equals 3.5 t and the sheet's 3.1 t d 15.5 t^1.5.

    They are caps: for sheet of 1 mm and more the main rule, 13.5 t, stays below the sheet's bound.
    """
    t = 1.0
    d_s = spot_size.TARGET(t=t)
    assert en.TEARING_THICK_SPOT(d_s=d_s, f_u=1.0) == pytest.approx(17.5 * t)
    assert en.TEARING_THICK_SHEET(t=t, d_s=d_s, f_u=1.0) == pytest.approx(15.5 * t**1.5)
    assert en.TEARING(t=t, d_s=d_s, f_u=1.0) == pytest.approx(13.5 * t)


def test_shear_of_the_spot_is_its_area_times_f_u() -> None:
    """Area of a circle by polygons of many sides, independent of pi / 4."""
    angle = np.linspace(0, 2 * np.pi, 20001)
    x, y = 3 * np.cos(angle), 3 * np.sin(angle)
    area = 0.5 * abs(float(np.sum(x[:-1] * y[1:] - x[1:] * y[:-1])))
    assert en.SPOT_SHEAR(d_s=6.0, f_u=350.0) == pytest.approx(350 * area, rel=1e-6)
    assert en.SPOT_SHEAR(d_s=2.0, f_u=1.0) == pytest.approx(pi)


def test_scaling() -> None:
    assert en.TEARING(t=4.0, d_s=5.0, f_u=270.0) == pytest.approx(2 * en.TEARING(t=1.0, d_s=5.0, f_u=270.0))
    assert en.END_DISTANCE(t=2.0, e_1=10.0, f_u=270.0) == pytest.approx(2 * en.END_DISTANCE(t=2.0, e_1=5.0, f_u=270.0))
    assert sqrt(en.SPOT_SHEAR(d_s=10.0, f_u=1.0) / en.SPOT_SHEAR(d_s=5.0, f_u=1.0)) == pytest.approx(2)


RANGES = [
    # clause 8.4(1) and Table 8.5, from memory; thickness limits read in the 1996 pre-standard
    (en.SHEETS[0], "t", None, 3.0),
    (en.SHEETS[1], "t_1", None, 4.0),
    (en.END[0], "e_1 / d_s", 2.0, 6.0),
    (en.EDGE[0], "e_2 / d_s", None, 4.0),
    (en.PITCH_ALONG[0], "p_1 / d_s", 3.0, 8.0),
    (en.PITCH_ACROSS[0], "p_2 / d_s", 3.0, 6.0),
]


@pytest.mark.parametrize(("limit", "words", "low", "high"), RANGES, ids=[w for _, w, _, _ in RANGES])
def test_range_of_validity(limit: Limit, words: str, low: float | None, high: float | None) -> None:
    assert limit.expression == words
    name = words.split(" / ")[0]

    def inside(value: float) -> bool:
        return bool(limit.inside({name: value, "d_s": 1.0}))

    if low is not None:
        assert inside(low)
        assert not inside(low * 0.999)
    assert high is not None
    assert inside(high)
    assert not inside(high * 1.001)


@pytest.mark.parametrize(
    "formula", [en.TEARING, en.TEARING_THICK_SPOT, en.TEARING_THICK_SHEET, en.NET_SECTION, en.SPOT_SHEAR]
)
def test_thick_sheet_is_outside(formula: object) -> None:
    given = {"t": 1.0, "t_1": 3.0, "d_s": 5.0}
    assert formula.outside(**given) == []  # type: ignore[attr-defined]
    assert len(formula.outside(**{**given, "t_1": 4.1})) == 1  # type: ignore[attr-defined]
    assert "thinner sheet" in formula.outside(**{**given, "t": 3.1, "t_1": 12.0})[-2 if "thick" in formula.key else 0]  # type: ignore[attr-defined]


def test_caps_apply_only_beyond_two_and_a_half() -> None:
    for formula in (en.TEARING_THICK_SPOT, en.TEARING_THICK_SHEET):
        assert formula.outside(t=1.0, t_1=2.5)
        assert not formula.outside(t=1.0, t_1=2.51)


def test_end_distance_needs_its_range() -> None:
    assert en.END_DISTANCE.outside(t=1.0, t_1=1.0, d_s=5.0, e_1=9.9)
    assert not en.END_DISTANCE.outside(t=1.0, t_1=1.0, d_s=5.0, e_1=10.0)
    assert en.END_DISTANCE.outside(t=1.0, t_1=1.0, d_s=5.0, e_1=30.1)


@pytest.mark.parametrize("t", [0.7, 1.2, 2.0, 3.0])
def test_the_two_rules_meet_where_the_condition_is_just_kept(t: float) -> None:
    """EN 1993-1-3 Table 8.5 asks F_v >= 1.25 F_tb; d_s where both sides are equal: pi/4 d = 1.25 x 2.7 sqrt(t)."""
    d_s = 1.25 * 2.7 * sqrt(t) / (pi / 4)
    F_v = en.SPOT_SHEAR(d_s=d_s, f_u=300.0)
    assert en.DUCTILE_BOUND(F_v=F_v) == pytest.approx(en.TEARING(t=t, d_s=d_s, f_u=300.0), rel=1e-12)
