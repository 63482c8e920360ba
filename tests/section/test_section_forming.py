"""Blank, bend list, springback, brake force; the source stands beside each."""

import numpy as np
import pytest

from jointcalc.errors import InputError
from jointcalc.formula import forming as f
from jointcalc.section import parse_profile
from jointcalc.section.families.hat import Hat
from jointcalc.section.families.tube import Tube
from jointcalc.section.forming import (
    bend_list,
    blank,
    brake_force,
    correction_factor,
    least_radius,
    overbend,
    unfoldable,
)

HAT = "hat:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm"


def test_din_6935_example():
    """r 2, s 1.2, 90 degrees: k 0.7609, K 0.3805, BA 3.8587, set-back 3.2000, BD 2.5413 (computed by hand)."""
    k = f.correction_factor(r=2.0, s=1.2)
    assert k == pytest.approx(0.7609, abs=5e-5)
    assert k / 2 == pytest.approx(0.3805, abs=5e-5)
    allowance = f.allowance_din(theta=np.pi / 2, r=2.0, k=k, s=1.2)
    assert allowance == pytest.approx(3.8587, abs=5e-5)
    assert f.allowance(theta=np.pi / 2, r=2.0, K=k / 2, t=1.2) == pytest.approx(allowance)
    back = f.setback(r=2.0, t=1.2, theta=np.pi / 2)
    assert back == pytest.approx(3.2)
    assert f.deduction(SB=back, BA=allowance) == pytest.approx(2.5413, abs=5e-5)


def test_correction_factor_ends_at_one():
    """DIN 6935: k = 1 beyond r/s = 5, where the formula itself gives 0.9995 (second-hand); K = 0.325 at r = s."""
    assert correction_factor(10.0, 1.0) == pytest.approx(1.0)
    assert correction_factor(5.0, 1.0) == pytest.approx(1.0, abs=1e-3)
    assert correction_factor(1.0, 1.0) / 2 == pytest.approx(0.325)


def test_blank_of_a_hat():
    """36 + 47.2 + 33.6 + 4 BA = 132.235 mm; along the mid-line 133.136 mm (computed by hand)."""
    hat = parse_profile(HAT)
    assert blank(hat).width[0] == pytest.approx(132.235, abs=5e-4)
    middle = blank(hat, K=0.5)
    assert middle.width[0] == pytest.approx(133.136, abs=5e-4)
    assert middle.mass_per_metre[0] == pytest.approx(hat.properties().mass_per_metre[0], rel=1e-12)


def test_blank_of_a_tube_is_its_mid_circle():
    """pi (D - t): r/s is over 5, so k = 1 (geometry)."""
    assert blank(Tube(od=38.0, t=2.0)).width[0] == pytest.approx(np.pi * 36)


def test_blank_by_sheet():
    """A hat on a skin: the hat's blank is that of the hat alone; the skin is cut to its width."""
    both = blank(parse_profile("hat-skin:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm,skin=120mm,skin_t=1mm,weld=9mm"))
    assert both.width[0] == pytest.approx(132.235, abs=5e-4)
    assert both.widths["skin"][0] == pytest.approx(120.0)
    assert blank(parse_profile("bar:depth=30mm,width=5mm")).width[0] == pytest.approx(30.0)
    bead = blank(
        parse_profile("beaded-hat:top=60mm,depth=30mm,flange=20mm,t=1mm,r=2mm,bead=25mm,bead_depth=6mm"), K=0.5
    )
    plain = blank(parse_profile("hat:top=60mm,depth=30mm,flange=20mm,t=1mm,r=2mm"), K=0.5)
    # arc of chord 25 and rise 6: 28.679 mm (computed by hand)
    assert bead.width[0] - plain.width[0] == pytest.approx(28.679 - 25, abs=5e-4)


def test_springback_example():
    """R_i 2, t 1.2, Y 250, E 210 000: ratio 0.994048, R_f 2.0120, K_s 0.99542, opens 0.41 degrees (computed by hand)."""
    ratio = f.springback_ratio(R_i=2.0, Y=250.0, E=210000.0, t=1.2)
    assert ratio == pytest.approx(0.994048, abs=5e-7)
    assert 2 / ratio == pytest.approx(2.0120, abs=5e-5)
    k_s = f.angle_ratio(R_i=2.0, R_f=2 / ratio, t=1.2)
    assert k_s == pytest.approx(0.99542, abs=6e-6)
    assert 90 * (1 - k_s) == pytest.approx(0.41, abs=5e-3)
    assert np.degrees(overbend(angle=np.pi / 2, r=2 / ratio, t=1.2, f_y=250.0)) == pytest.approx(
        90 / k_s - 90, rel=1e-9
    )


def test_elastic_bend_is_not_given_an_overbend():
    """R Y/(E t) = 0.5 is the elastic limit: Gardiner's ratio is 0 there (1.5 - 0.5 = 1 of the cubic)."""
    assert f.springback_ratio(R_i=0.5, Y=1.0, E=1.0, t=1.0) == pytest.approx(0.0)
    assert overbend(angle=1.0, r=500.0, t=1.0, f_y=500.0) == 0.0
    assert overbend(angle=1.0, r=0.0, t=1.0, f_y=500.0) == 0.0


def test_brake_force_example():
    """UTS 320, L 1000, t 1.2, V 10: 61.3 kN; wiping die W 6.2: 24.5 kN (Groover's constants, from memory)."""
    assert brake_force(R_m=320.0, length=1000.0, t=1.2, V=10.0) == pytest.approx(61300, abs=50)
    assert brake_force(R_m=320.0, length=1000.0, t=1.2, V=6.2, wiping=True) == pytest.approx(24500, abs=50)
    assert brake_force(R_m=320.0, length=1000.0, t=1.2) == pytest.approx(1.33 * 320 * 1000 * 1.44 / 9.6)


def test_minimum_radius_examples():
    """Elongation 28 % -> R/t 1.29; r 2, t 1.2 -> strain 0.231 (computed by hand)."""
    assert f.radius_for_strain(t=1.0, e=0.28) == pytest.approx(1.29, abs=5e-3)
    assert f.outer_strain(r=2.0, t=1.2) == pytest.approx(0.231, abs=5e-4)
    # DIN 6935, steel to 390 MPa, from memory: s 1 -> 1, 1.5 -> 1.6, 2.5 -> 2.5, 3 -> 3
    assert least_radius(np.array([0.8, 1.0, 1.2, 1.5, 2.0, 2.5, 3.0, 4.0])) == pytest.approx(
        [1.0, 1.0, 1.6, 1.6, 2.5, 2.5, 3.0, 4.0]
    )
    assert least_radius(1.2, elongation=0.28)[0] == pytest.approx(1.2 * 1.2857, abs=1e-3)


def test_bend_list_lies_on_the_blank():
    """Middles of the bends, measured along the blank: flats and allowances added up by hand."""
    rows = bend_list(parse_profile(HAT), f_y=250.0)
    assert [r.name for r in rows] == ["left flange bend", "left crown bend", "right crown bend", "right flange bend"]
    assert [r.angle for r in rows] == pytest.approx([90.0] * 4)
    allowance = 3.858747
    assert [r.at for r in rows] == pytest.approx(
        [
            18 + allowance / 2,
            18 + 23.6 + 1.5 * allowance,
            18 + 23.6 + 33.6 + 2.5 * allowance,
            18 + 2 * 23.6 + 33.6 + 3.5 * allowance,
        ],
        abs=1e-4,
    )
    assert [r.overbend for r in rows] == pytest.approx([0.41] * 4, abs=5e-3)
    assert [r.deduction for r in rows] == pytest.approx([2.5413] * 4, abs=1e-4)
    # outside dimensions less deductions give the blank: 20 + 30 + 40 + 30 + 20 legs, each corner counted once
    legs = (20 + 1.2 - 1.2) * 2 + 30 * 2 + 40 + 2 * 1.2
    assert legs - sum(r.deduction for r in rows) == pytest.approx(blank(parse_profile(HAT)).width[0], abs=1e-9)


def test_sharp_and_open_bends_in_the_list():
    """DIN 6935: deduction 2 (r + s) tan(turn/2) - BA up to a square bend, 2 (r + s) - BA beyond (second-hand)."""
    rows = bend_list(parse_profile("points:at=60 0/0 0/30 51.9615 mm,t=1mm,r=2mm"), f_y=250.0)
    assert rows[0].angle == pytest.approx(120, abs=1e-4)
    assert rows[0].deduction == pytest.approx(2 * 3 - rows[0].allowance)
    open_ = bend_list(parse_profile("points:at=0 0/60 0/90 51.9615 mm,t=1mm,r=2mm"), f_y=250.0)
    assert open_[0].deduction == pytest.approx(2 * 3 * np.tan(np.pi / 6) - open_[0].allowance, rel=1e-5)


def test_what_cannot_be_folded_is_told():
    """A leg shorter than half the die along 45 degrees slips in; a sharp bend in brittle sheet cracks."""
    assert unfoldable(parse_profile(HAT), elongation=0.28) == []
    said = unfoldable(Hat(top=40.0, depth=30.0, flange=5.0, t=1.2, r=2.0))
    assert len(said) == 2
    assert "left flange" in said[0]
    assert "6.79 mm" in said[0]  # 8 x 1.2 / sqrt(2)
    assert unfoldable(Hat(top=40.0, depth=30.0, flange=5.0, t=1.2, r=2.0), V=6.0) == []
    cracked = unfoldable(parse_profile(HAT), elongation=0.20)
    assert len(cracked) == 1  # once, for its four equal bends
    assert "2.4 mm" in cracked[0]  # 1.2 (1/0.2 - 1)/2
    assert unfoldable(Tube(od=38.0, t=2.0), elongation=0.01) == []
    assert f.least_flange(V=10.0) == pytest.approx(7.0711, abs=1e-4)
    assert f.die_opening(t=1.2) == pytest.approx(9.6)


def test_impossible_k_factor_is_refused():
    with pytest.raises(InputError, match="between 0 and 1"):
        blank(parse_profile(HAT), K=1.2)
