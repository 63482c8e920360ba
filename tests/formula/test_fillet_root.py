"""Roots of one-sided welds, sheet sheared off, stainless and softened sheet: by hand and by equilibrium."""

import numpy as np
import pytest
from scipy.optimize import brentq

from jointcalc.formula import fillet_aisi as aisi
from jointcalc.formula import fillet_asce8 as asce8
from jointcalc.formula import fillet_en1993 as en
from jointcalc.formula import fillet_root, heat


def throat_middle(s):
    """Middle of the throat of an equal-leg fillet, root at the origin, legs along x and y: from the corners of it."""
    # the throat runs from the root square to the face, whose ends are (s, 0) and (0, s)
    foot = np.array([s, 0.0]) + np.dot(-np.array([s, 0.0]), np.array([-1, 1]) / 2) * np.array([-1, 1])
    return foot / 2


@pytest.mark.parametrize("t, s", [(4.0, 4.0), (2.0, 3.0)])
def test_arms_are_those_of_the_drawing(t, s):
    x, _ = throat_middle(s)
    assert fillet_root.ROOT_ARM(t=t, s=s) == pytest.approx(
        t / 2 + x
    )  # sheet to the left of the root, its middle t/2 off
    assert fillet_root.ROOT_ARM_EDGE(s=s) == pytest.approx(x)
    # a butt weld of throat a from one face: middles of sheet and throat
    a = 0.6 * t
    assert fillet_root.ROOT_ARM_PARTIAL(t=t, a=a) == pytest.approx((t - a / 2) - t / 2)


def test_hand_example_leg_4_on_4():
    """Leg 4 on 4 mm pulled off one side: throat 2.83, arm 3, modulus 2 mm²: bending 1.5 F, leaning and sliding F/4.

    With 430 MPa as the throat's ultimate the vector sum of bending and F/a, 1.541 F, gives the 279 N/mm of the hand
    calculation; the comparison stress, which weighs the sliding thrice and adds the leaning, is 1.803 F.
    """
    a = 4 / np.sqrt(2)
    e = float(fillet_root.ROOT_ARM(t=4.0, s=4.0))
    assert e == pytest.approx(3.0)
    bending = float(fillet_root.ROOT_BENDING(M=float(fillet_root.ROOT_MOMENT(F_root=1.0, e=e)), a=a))
    assert bending == pytest.approx(1.5)
    assert 430 / np.hypot(bending, 1 / a) == pytest.approx(279.0, abs=0.1)
    lean, slide = float(en.SIGMA_PERP(F_1=0.0, F_2=1.0, a=a)), float(en.TAU_PERP(F_1=0.0, F_2=-1.0, a=a))
    stress = float(en.DIRECTIONAL_STRESS(sigma_perp=lean + bending, tau_perp=slide, tau_par=0.0))
    assert stress == pytest.approx(1.803, abs=5e-4)


@pytest.mark.parametrize("t", [1.5, 3.0, 6.0])
def test_wall_takes_its_plastic_moment_first(t):
    """Equilibrium of stress blocks: a rectangle under tension F keeps the moment of what is left above and below it."""
    f_y, s, F = 355.0, 3.0, 200.0
    core = F / f_y  # height of the block the tension uses
    wall = f_y * ((t / 2) ** 2 - (core / 2) ** 2)  # two outer blocks, each by its arm
    total = F * (t / 2 + s / 4)
    left = float(fillet_root.ROOT_MOMENT_HELD(F_root=F, s=s, f_y=f_y, t=t))
    assert left == pytest.approx(max(total - wall, 0.0))
    # a thicker wall leaves the throat less, whatever the pull
    pulls = np.linspace(1.0, 4000.0, 50)
    thick = fillet_root.ROOT_MOMENT_HELD(F_root=pulls, s=s, f_y=f_y, t=1.1 * t)
    assert np.all(thick <= fillet_root.ROOT_MOMENT_HELD(F_root=pulls, s=s, f_y=f_y, t=t) + 1e-9)


def test_base_shear_is_six_tenths_of_the_cut():
    """AISI S100-16 J6.1 (second-hand): 0.6 F_u A_nv, welds 2.50: 1 mm of 270 MPa along 50 mm: 8100 N."""
    assert aisi.BASE_SHEAR(F_u=270.0, t=1.0, L=50.0) == pytest.approx(8100.0)
    assert aisi.OMEGA[aisi.BASE_SHEAR.key] == 2.50


def test_asce_8_branches_meet_and_by_hand():
    """SEI/ASCE 8-02 5.2.2, from memory: 0.7 - 0.009 L/t and 0.43 are the same at L/t = 30."""
    where = brentq(
        lambda x: float(asce8.LONGITUDINAL_SHORT(L=x, t=1.0, F_ua=1.0) - asce8.LONGITUDINAL_LONG(L=x, t=1.0, F_ua=1.0)),
        10.0,
        60.0,
    )
    assert where == pytest.approx(30.0)
    assert asce8.LONGITUDINAL_SHORT(L=40.0, t=2.0, F_ua=540.0) == pytest.approx((0.7 - 0.18) * 80 * 540)
    assert asce8.LONGITUDINAL_LONG(L=100.0, t=2.0, F_ua=540.0) == pytest.approx(0.43 * 200 * 540)
    assert asce8.TRANSVERSE(t=2.0, L=100.0, F_ua=540.0) == pytest.approx(200 * 540)
    assert asce8.WELD_METAL(t_w=1.5, L=100.0, F_xx=517.0) == pytest.approx(0.75 * 150 * 517)
    assert asce8.longitudinal(L=59.9, t=2.0)[0] is asce8.LONGITUDINAL_SHORT
    assert asce8.longitudinal(L=60.0 * (1 - 1e-12), t=2.0)[0] is asce8.LONGITUDINAL_LONG


def test_softened_strength_is_capped():
    """AWS D1.3 ends at 80 ksi of yield (550 MPa), S550MC with 600 MPa (EN 10149-2, from memory)."""
    assert heat.SOFTENED_STRENGTH(f_u=1200.0, f_most=heat.SOFT) == 600.0
    assert heat.SOFTENED_STRENGTH(f_u=430.0, f_most=heat.SOFT) == 430.0
