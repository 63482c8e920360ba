"""Welded aluminium and 4130: published zone values, weld metal and widths."""

import pytest

from jointcalc.errors import InputError
from jointcalc.formula import aluminium_en1999 as al
from jointcalc.formula import heat_affected_4130 as cm
from jointcalc.tables import load


@pytest.mark.parametrize("row", load("haz_aluminium").rows, ids=lambda r: f"{r['alloy']}-{r['temper']}-{r['product']}")
def test_zone_strengths_of_en_1999_table_3_2(row):
    """EN 1999-1-1 Tables 3.2a, 3.2b print strengths rounded to 5 MPa and factors to 0.01: they agree."""
    f_o_haz = row.need("rho_o") * row.need("f_o")
    f_u_haz = row.need("rho_u") * row.need("f_u")
    assert f_o_haz == pytest.approx(row.need("f_o_haz"), abs=2.5)
    # one printed factor (5083 sheet, 0.90·305 = 274.5) and the rest round to the nearest 5
    assert f_u_haz == pytest.approx(row.need("f_u_haz"), abs=2.6)


def test_zone_shear_is_von_mises():
    """EN 1999-1-1 8.6.2: shear strength in the zone is its tensile strength over the root of three."""
    assert al.HAZ_STRESS(F_perp=0.0, F_par=3 * 101.04, t=3.0) == pytest.approx(175.0, abs=0.01)
    assert al.HAZ_STRESS(F_perp=3 * 175.0, F_par=0.0, t=3.0) == pytest.approx(175.0)


def test_weld_metal_stress_is_von_mises():
    """EN 1999-1-1 eq. (8.33): the same form as for steel; a 3-4-5 case by hand: sqrt(10² + 3·5²) = 13.23."""
    assert al.WELD_STRESS(sigma_perp=10.0, tau_perp=3.0, tau_par=4.0) == pytest.approx(175**0.5)


def test_filler_shear_of_us_practice():
    """Aluminum Design Manual, from memory: 5356 17 ksi (117 MPa), 4043 11.5 ksi (79 MPa), on the throat."""
    table = load("filler_aluminium_shear")
    for filler, mpa in (("5356", 117.0), ("4043", 79.0)):
        F_sw = table.find(filler=filler).need("shear_ultimate")
        assert al.FILLER_SHEAR(F_sw=F_sw, t_e=2.0) == pytest.approx(2 * mpa, rel=0.005)


def test_zone_width():
    """EN 1999-1-1 6.1.6.3, from memory: MIG 20 mm to 6 mm, 30 to 12, 35 to 25, 40 over; TIG 30 to 6 mm."""
    assert [al.zone_width(process="MIG", t=t)[0] for t in (1.0, 6.0, 6.1, 12.0, 25.0, 26.0)] == [20, 20, 30, 30, 35, 40]
    assert al.zone_width(process="TIG", t=3.0)[0] == 30
    with pytest.raises(InputError, match="TIG"):
        al.zone_width(process="TIG", t=7.0)
    with pytest.raises(InputError, match="accepted: MIG, TIG"):
        al.zone_width(process="MMA", t=3.0)


def test_4130_near_weld():
    """MIL-HDBK-5, from memory: of 95 ksi tube, 90 ksi beside tapered joints to 30 degrees, 80 beside others."""
    KSI = 6.894757
    for taper, ksi in ((30.0, 90.0), (31.0, 80.0), (90.0, 80.0)):
        k_near, _ = cm.near_factor(taper=taper)
        assert cm.NEAR_WELD_STRENGTH(k_near=k_near, F_tu=95 * KSI) / KSI == pytest.approx(ksi, rel=0.0075)
    assert cm.NEAR_WELD_STRENGTH.outside(k_near=0.841, F_tu=95 * KSI, t=5.0)
    assert cm.NEAR_WELD_STRENGTH.outside(k_near=0.841, F_tu=125 * KSI, t=2.0)
    assert not cm.NEAR_WELD_STRENGTH.outside(k_near=0.841, F_tu=95 * KSI, t=2.0)


def test_4130_factors_are_the_tables():
    """The constants in the code are the rows of the table that a reader is shown."""
    table = load("haz_4130")
    assert table.find(case="near_weld_taper_to_30deg").need("factor") == cm.NEAR_TAPERED
    assert table.find(case="near_weld_other").need("factor") == cm.NEAR_OTHER
    # printed 51 ksi of E60 filler
    assert table.find(case="weld_metal_allowable_share").need("factor") * 60.0 == pytest.approx(51.0)


def test_4130_per_length():
    """MIL-HDBK-5, from memory: 80 ksi beside the weld; 32 ksi shear on the throat with low-carbon filler."""
    KSI = 6.894757
    beside = cm.NEAR_WELD_RESISTANCE(k_near=cm.NEAR_OTHER, F_tu=95 * KSI, t=2.0)
    assert beside / KSI == pytest.approx(2 * 80.0, rel=0.0075)
    F_sw = load("haz_4130").find(case="weld_metal_low_carbon_filler").need("shear_ultimate")
    assert cm.WELD_METAL_SHEAR(F_sw=F_sw, t_e=2.5) == pytest.approx(2.5 * 32 * KSI)
