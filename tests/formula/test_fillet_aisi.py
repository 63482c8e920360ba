"""Thin-sheet welds by AISI S100 against limits, the base-metal bound and its branch edges.

No published worked example of these clauses was at hand; the coefficients are from memory.  What is checked:
branches meet where the clause says, limiting cases equal the sheet's own strength, units scale, the
throat follows the smaller leg, the safety factors match 1.6/phi within the print's rounding.
"""

import numpy as np
import pytest

from jointcalc.formula import fillet_aisi as aisi

IN, KIP = 25.4, 4448.2216152605
KSI = KIP / IN**2
T, F_U = 1.5, 360.0


def test_longitudinal_branches_meet():
    """AISI S100 J2.5(a): at L/t = 25 both give 0.75·t·L·Fu."""
    L = 25 * T
    assert aisi.LONGITUDINAL_SHORT(L=L, t=T, F_u=F_U) == pytest.approx(aisi.LONGITUDINAL_LONG(L=L, t=T, F_u=F_U))
    assert aisi.LONGITUDINAL_LONG(L=L, t=T, F_u=F_U) == pytest.approx(0.75 * T * L * F_U)
    assert aisi.longitudinal(L=24.9 * T, t=T)[0] is aisi.LONGITUDINAL_SHORT
    assert aisi.longitudinal(L=25.0 * T, t=T)[0] is aisi.LONGITUDINAL_LONG
    assert aisi.LONGITUDINAL_SHORT.outside(L=25.0 * T, t=T, F_u=F_U)


def test_short_longitudinal_tends_to_the_sheet():
    """As L/t goes to nothing the sheet carries t·L·Fu, the same as a transverse fillet; half way 0.875."""
    L = 1e-6
    assert aisi.LONGITUDINAL_SHORT(L=L, t=T, F_u=F_U) / (L * T * F_U) == pytest.approx(1.0)
    L = 12.5 * T
    assert aisi.LONGITUDINAL_SHORT(L=L, t=T, F_u=F_U) / (L * T * F_U) == pytest.approx(0.875)


def test_transverse_is_the_weaker_sheet_in_tension():
    """AISI S100 J2.5(b): a strip of length L torn in tension; the weaker part decides, either way round."""
    a = aisi.TRANSVERSE(t_1=1.5, F_u1=360.0, t_2=3.0, F_u2=430.0, L=40.0)
    b = aisi.TRANSVERSE(t_1=3.0, F_u1=430.0, t_2=1.5, F_u2=360.0, L=40.0)
    assert a == b == 1.5 * 40.0 * 360.0
    assert aisi.TRANSVERSE(t_1=1.5, F_u1=360.0, t_2=1.2, F_u2=430.0, L=40.0) == 1.2 * 40.0 * 430.0


def test_throat_follows_the_smaller_leg():
    """AISI S100 J2.5: 0.707 of the smaller leg; P9 of a published wire guideline uses the same throat."""
    assert aisi.THROAT(w_1=3.0, w_2=5.0) == pytest.approx(3 / 2**0.5, rel=2e-4)
    assert aisi.THROAT(w_1=5.0, w_2=3.0) == aisi.THROAT(w_1=3.0, w_2=5.0)


def test_weld_metal_against_the_structural_rule():
    """0.75·Fxx on the throat with 2.55 is what 0.60·Fxx with 2.00 gives, within 2 % (AISC 360 J2.4)."""
    allowed = aisi.WELD_METAL(t_w=2.1, L=40.0, F_xx=483.0) / aisi.OMEGA[aisi.WELD_METAL.key]
    assert allowed == pytest.approx(0.60 * 483.0 * 2.1 * 40.0 / 2.00, rel=0.021)
    assert aisi.WELD_METAL.outside(t_w=2.1, L=40.0, F_xx=483.0, t=2.54)
    assert not aisi.WELD_METAL.outside(t_w=2.1, L=40.0, F_xx=483.0, t=2.6)


def test_flare_double_shear_is_twice_single():
    """AISI S100 J2.6: two lines of tearing carry twice one; double only with throat 2 t and lip as long."""
    one = aisi.FLARE_LONGITUDINAL_SINGLE(t=T, L=40.0, F_u=F_U)
    assert aisi.FLARE_LONGITUDINAL_DOUBLE(t=T, L=40.0, F_u=F_U) == pytest.approx(2 * one)
    # one line of tearing is the same as beside a long fillet
    assert one == pytest.approx(aisi.LONGITUDINAL_LONG(L=40.0, t=T, F_u=F_U))
    assert aisi.flare_longitudinal(t_w=3.0, t=1.5, h=40.0, L=40.0)[0] is aisi.FLARE_LONGITUDINAL_DOUBLE
    assert aisi.flare_longitudinal(t_w=2.9, t=1.5, h=40.0, L=40.0)[0] is aisi.FLARE_LONGITUDINAL_SINGLE
    assert aisi.flare_longitudinal(t_w=3.0, t=1.5, h=39.0, L=40.0)[0] is aisi.FLARE_LONGITUDINAL_SINGLE


def test_flare_across_is_five_sixths_of_the_sheet():
    """AISI S100 J2.6(a): 0.833 is 5/6 in three digits."""
    assert aisi.FLARE_TRANSVERSE(t=T, L=40.0, F_u=F_U) == pytest.approx(5 / 6 * T * 40.0 * F_U, rel=5e-4)


def test_butt_weld_is_the_sheet():
    """AISI S100 J2.1: tension as the sheet yields, shear as it yields by von Mises, weld at 0.6 Fxx."""
    tension = aisi.GROOVE_TENSION(L=40.0, t_e=1.5, F_y=235.0)
    assert tension == 40.0 * 1.5 * 235.0
    assert tension / aisi.GROOVE_SHEAR_SHEET(L=40.0, t_e=1.5, F_y=235.0) == pytest.approx(3**0.5)
    assert aisi.GROOVE_SHEAR_WELD(L=40.0, t_e=1.5, F_xx=483.0) == pytest.approx(0.6 * 483.0 * 60.0)


def test_units_scale():
    """Forces scale with length squared times stress: the inch and metric forms are one formula."""
    t, L, F = 0.06, 1.0, 58.0
    metric = aisi.LONGITUDINAL_SHORT(L=L * IN, t=t * IN, F_u=F * KSI) / KIP
    assert metric == pytest.approx((1 - 0.01 * L / t) * t * L * F)


@pytest.mark.parametrize(
    "formula, phi",
    [
        (aisi.LONGITUDINAL_SHORT, 0.60),
        (aisi.LONGITUDINAL_LONG, 0.50),
        (aisi.TRANSVERSE, 0.65),
        (aisi.WELD_METAL, 0.60),
        (aisi.FLARE_TRANSVERSE, 0.60),
        (aisi.FLARE_LONGITUDINAL_SINGLE, 0.55),
        (aisi.FLARE_LONGITUDINAL_DOUBLE, 0.55),
        (aisi.GROOVE_TENSION, 0.90),
        (aisi.GROOVE_SHEAR_WELD, 0.80),
        (aisi.GROOVE_SHEAR_SHEET, 0.90),
    ],
)
def test_safety_factors_fit_the_resistance_factors(formula, phi):
    """AISI S100 calibrates both for one load ratio: Omega = 1.533/phi, printed to 0.05 (phi from memory)."""
    assert aisi.OMEGA[formula.key] == pytest.approx(1.533 / phi, abs=0.051)


def test_arrays_and_floats_agree():
    """One formula for both: an array gives element by element what the floats give."""
    L = np.array([10.0, 20.0, 30.0])
    together = aisi.LONGITUDINAL_SHORT(L=L, t=T, F_u=F_U)
    assert list(together) == [aisi.LONGITUDINAL_SHORT(L=float(x), t=T, F_u=F_U) for x in L]


def test_scope_ends_at_three_sixteenths():
    """AISI S100-16: thinnest part to 3/16 in (4.76 mm); the 1996-era text stops at 0.18 in (conflict)."""
    assert aisi.TRANSVERSE.outside(t_1=4.8, F_u1=360.0, t_2=6.0, F_u2=360.0, L=40.0, t=4.8)
    assert not aisi.TRANSVERSE.outside(t_1=4.7, F_u1=360.0, t_2=6.0, F_u2=360.0, L=40.0, t=4.7)
