"""Fits of bolt holes and what they cost."""

from __future__ import annotations

import pytest

from jointcalc.formula import bolt_holes as holes
from jointcalc.formula import bolts_aisi, bolts_en1993
from jointcalc.tables import load


@pytest.mark.parametrize(
    "d, d_0, en, aisi",
    [
        # M8 and M10 in medium holes: normal by EN 1090-2, wider than d + 1/32 in (AISI S100 Table J3-1, second-hand)
        (8.0, 9.0, "normal", "oversized"), (10.0, 11.0, "normal", "oversized"), (6.0, 6.6, "normal", "normal"),
        (8.0, 8.79, "normal", "normal"), (8.0, 9.1, "oversized", "oversized"), (8.0, 9.7, "oversized", "beyond"),
        # M12 with 2 mm: EN 1993-1-8, 3.6.1(5); a published table of bolts bears it in full
        (12.0, 13.5, "normal", "oversized"), (12.0, 14.0, "normal", "beyond"), (12.0, 16.0, "oversized", "beyond"),
        (16.0, 17.5, "normal", "normal"), (16.0, 18.0, "normal", "oversized"), (16.0, 20.0, "oversized", "beyond"),
        (10.0, 14.0, "oversized", "beyond"), (10.0, 14.1, "beyond", "beyond"), (24.0, 30.0, "oversized", "beyond"),
    ],
)  # fmt: skip
def test_fits(d: float, d_0: float, en: str, aisi: str) -> None:
    assert holes.fit_en(d, d_0) == en
    assert holes.fit_aisi(d, d_0) == aisi


def test_inch_holes_of_normal_fit_are_standard() -> None:
    # ASME B18.2.8 normal fit is AISC's and AISI's standard hole, 1/32 in to 7/16 and 1/16 in from 1/2 (from memory)
    for row in load("bolt_inch_dimensions").rows:
        top, bottom = row["size"].split("/")
        d, hole = 25.4 * int(top) / int(bottom), row.need("hole_normal")
        assert holes.fit_aisi(d, hole) == "normal", row["size"]
        assert holes.fit_aisc(d, hole) == "normal", row["size"]
        assert holes.fit_en(d, hole) == "normal", row["size"]


def test_wider_is_never_a_better_fit() -> None:
    order = ("normal", "oversized", "beyond")
    for d in (5.0, 6.0, 8.0, 10.0, 11.1, 12.0, 12.7, 14.0, 16.0, 20.0, 24.0, 27.0):
        for fit in (holes.fit_en, holes.fit_aisi, holes.fit_aisc):
            found = [order.index(fit(d, d + c / 20)) for c in range(1, 200)]
            assert found == sorted(found)
            assert found[-1] == 2


def test_bearing_in_an_oversized_hole() -> None:
    """EN 1993-1-8 Table 3.4, note 1 (read): M10 in 5 mm S235, edge 25, hole 14: 0.8 x 26 786 = 21 429 N."""
    alpha = bolts_en1993.ALPHA_B_END(e_1=25.0, d_0=14.0, f_ub=800.0, f_u=360.0)
    full = bolts_en1993.BEARING_PLATE(k_1=2.5, alpha_b=alpha, f_u=360.0, d=10.0, t=5.0)
    assert full == pytest.approx(26786, abs=1)
    assert holes.OVERSIZED(F_b=full) == pytest.approx(21429, abs=1)
    assert holes.SLOTTED(F_b=full) == pytest.approx(16071, abs=1)


def test_half_the_countersink_is_lost() -> None:
    # EN 1993-1-8 Table 3.4, note 2 (read): M8 head 4.4 mm deep in 5 mm leaves 2.8 mm
    assert holes.COUNTERSUNK_BEARING(t=5.0, k=4.4) == pytest.approx(2.8)


def test_the_ring_under_a_head() -> None:
    """M8 head of 13 mm: full on its 9 mm hole, half on 11 mm, nothing on 13 mm; never more than full."""
    share = [holes.RING_SHARE(d_b=13.0, d_0=d_0, d_n=9.0) for d_0 in (8.5, 9.0, 11.0, 13.0)]
    assert share == pytest.approx([1.0, 1.0, 0.5, 0.0])
    assert holes.RING_REDUCED(k_o=0.5, F=5000.0) == 2500.0
    # common practice: 1.5 mm, and the sheet's thickness; a bare head in its normal hole has what it has
    assert holes.least_ring(1.2, 13.0, 9.0) == 1.5
    assert holes.least_ring(1.8, 13.0, 9.0) == 1.8
    assert holes.least_ring(5.0, 13.0, 9.0) == 2.0
    assert holes.least_ring(1.0, 8.0, 5.5) == 1.25
    assert holes.stands(13.0, 10.0, 1.5)
    assert not holes.stands(13.0, 12.9, 1.5)


def test_packing() -> None:
    """EN 1993-1-8, 3.6.1(12) (from memory): 1 up to d/3, then 9 d/(8 d + 3 t_p); they meet."""
    assert holes.PACKING(d=12.0, t_p=4.0) == pytest.approx(1.0)
    assert holes.PACKING(d=12.0, t_p=2.0) == 1.0
    assert holes.PACKING(d=12.0, t_p=12.0) == pytest.approx(9 / 11)
    assert holes.PACKING.outside(d=12.0, t_p=17.0)


def test_fillers() -> None:
    """AISC 360-16 J5.2 (from memory): 1 up to 1/4 in, 1 - 0.4 (t - 0.25 in) to 0.85; the metric form is rounded."""
    assert holes.FILLERS(t_p=6.0) == 1.0
    assert holes.FILLERS(t_p=12.7) == pytest.approx(1 - 0.4 * (0.5 - 0.25), rel=5e-3)
    assert holes.FILLERS(t_p=19.0) == 0.85
    assert holes.FILLERS.outside(t_p=20.0)


def test_short_slots() -> None:
    # AISI S100 Table J3-1 (from memory): d + 1/4 in
    assert holes.short_slot(8.0, 14.35)
    assert not holes.short_slot(8.0, 14.5)


def test_factors_of_bearing_joints() -> None:
    # AISI S100 Table J3.3.1-2 (from memory but for 0.75): looser holes bear less
    for table in (holes.M_F_BARE, holes.M_F_INNER):
        assert table["standard"] > table["oversized"] > table["slotted"]
    assert holes.M_F_BARE["standard"] == bolts_aisi.M_F_NONE_OR_ONE
    assert holes.M_F_INNER["standard"] == bolts_aisi.M_F_INNER_SHEET
