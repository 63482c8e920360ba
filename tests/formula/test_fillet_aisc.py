"""Fillet welds and base metal by AISC 360 against published examples, in the units of the print."""

import pytest

from jointcalc.formula import fillet_aisc as aisc
from jointcalc.formula import group_curves
from jointcalc.statics.group_common import Load
from jointcalc.statics.weld_group import WeldGroup

IN, KIP = 25.4, 4448.2216152605
KSI, KIP_IN = KIP / IN**2, KIP / IN
E70, E60 = 70 * KSI, 60 * KSI


def per_length(leg_in, F_EXX=E70, k_ds=1.0):
    return aisc.WELD_STRENGTH(F_EXX=F_EXX, k_ds=k_ds, t_e=aisc.THROAT(w=leg_in * IN))


# --- published worked examples -------------------------------------------------------------------------


def test_shigley_example_9_2():
    """Shigley Ex. 9-2 (load and unit force read, rest from memory): 3/8 in E70, 2 in each side, 16.5 kip.

    Printed: 5.57 kip/in allowed, 22.28 kip in all.
    """
    allowed = per_length(3 / 8) / 2.0
    assert allowed / KIP_IN == pytest.approx(5.57, abs=0.005)
    assert 4 * IN * allowed / KIP == pytest.approx(22.28, abs=0.02)  # the print multiplies the rounded 5.57


@pytest.mark.parametrize(
    "b, leg, stress, force",
    [
        (50.0, 5.0, 140.0, 49.5e3),
        (2 * IN, 5 / 16 * IN, 25 * KSI, 22.1 * KIP),
        (4 * IN, 5 / 16 * IN, 25 * KSI, 44.2 * KIP),
    ],
)
def test_shigley_solutions_9_1_to_9_4(b, leg, stress, force):
    """Shigley 10th ed., solutions 9-1 to 9-4: two parallel fillets, F = 0.707·h·2b·tau."""
    assert aisc.THROAT(w=leg) * 2 * b * stress == pytest.approx(force, rel=0.0013)


@pytest.mark.parametrize("leg_times_length, pounds", [(10.0, 767.0), (30.0, 2301.0), (150.0, 11506.0)])
def test_throat_of_a_published_wire_guideline(leg_times_length, pounds):
    """Wire-welding guideline, 70 ksi wire, 108.5 lb/mm2 on the throat (full tensile, so arithmetic only)."""
    force = aisc.THROAT(w=leg_times_length) * E70
    assert force / (KIP / 1000) == pytest.approx(pounds, rel=5e-4)


def test_aisc_design_example_j1():
    """AISC Design Examples v14, J.1 (inputs read, iteration from memory): 3/16 in, Pu 200, Pa 133 kip.

    Printed: 5.57 kip/in nominal, 47.9 in of weld; 24 in a side: beta 0.944, 22.7 in; 27 in: 0.912, 24.6 in.
    """
    nominal = per_length(3 / 16)
    assert nominal / KIP_IN == pytest.approx(5.57, abs=0.005)
    assert 200 * KIP / (0.75 * nominal) / IN == pytest.approx(47.9, abs=0.05)
    for length, beta, effective in ((24, 0.944, 22.7), (27, 0.912, 24.6)):
        factor = aisc.LONG_WELD_FACTOR(l=length * IN, w=3 / 16 * IN)
        assert factor == pytest.approx(beta, abs=5e-4)
        assert factor * length == pytest.approx(effective, abs=0.05)


def test_aisc_design_example_j2():
    """AISC Design Examples, J.2 (from memory): two 5/16 in fillets at 60 degrees, Pu 300 kip, Pa 200 kip.

    Printed: 13.9 kip/in (LRFD) and 9.28 (ASD) before, factor 1.40, 19.5 and 13.0 after; 15.4 in of weld.
    """
    k_ds = group_curves.DIRECTION_FACTOR(theta=60.0)
    two = 2 * per_length(5 / 16)
    assert 0.75 * two / KIP_IN == pytest.approx(13.9, abs=0.05)
    assert two / 2.0 / KIP_IN == pytest.approx(9.28, abs=0.005)
    assert k_ds == pytest.approx(1.40, abs=0.005)
    angled = 2 * per_length(5 / 16, k_ds=k_ds)
    assert 0.75 * angled / KIP_IN == pytest.approx(19.5, abs=0.05)
    assert angled / 2.0 / KIP_IN == pytest.approx(13.0, abs=0.05)
    assert 300 * KIP / (0.75 * angled) / IN == pytest.approx(15.4, abs=0.05)


@pytest.mark.parametrize("sixteenths", [1, 3, 4, 5, 8])
def test_unit_strengths_of_e70(sixteenths):
    """AISC Manual part 8: 1.392 kip/in (LRFD) and 0.928 kip/in (ASD) a sixteenth of leg; from memory."""
    nominal = per_length(sixteenths / 16)
    assert 0.75 * nominal / KIP_IN / sixteenths == pytest.approx(1.392, abs=5e-4)
    assert nominal / 2.0 / KIP_IN / sixteenths == pytest.approx(0.928, abs=5e-4)


def test_shigley_allowable_of_a_throat():
    """Shigley Table 9-6: 0.30·EXX on the throat, 21.0 kpsi for E70 and 18.0 for E60; 14.85·h kip/in."""
    for F_EXX, kpsi in ((E70, 21.0), (E60, 18.0)):
        assert aisc.WELD_STRENGTH(F_EXX=F_EXX, k_ds=1.0, t_e=1.0) / 2.0 / KSI == pytest.approx(kpsi)
    assert per_length(1.0) / 2.0 / KIP_IN == pytest.approx(14.85, abs=0.005)


# --- base metal ---------------------------------------------------------------------------------------


def test_base_metal_by_hand():
    """AISC 360 J4.1, J4.2, coefficients from memory: 1/4 x 4 in of A36 (36/58 ksi) by hand.

    Shear 0.6·36·1 = 21.6, 0.6·58·1 = 34.8 kip.
    """
    A = IN**2
    assert aisc.SHEAR_YIELD(F_y=36 * KSI, A_gv=A) / KIP == pytest.approx(21.6)
    assert aisc.SHEAR_RUPTURE(F_u=58 * KSI, A_nv=A) / KIP == pytest.approx(34.8)


# --- sizes and lengths -----------------------------------------------------------------------------------


def test_largest_leg_along_an_edge():
    """AISC 360 J2.2b: the edge under 6 mm (1/4 in), 2 mm (1/16 in) less from there on."""
    rule, _ = aisc.largest_leg(t=5.0)
    assert rule(t=5.0) == 5.0
    rule, _ = aisc.largest_leg(t=6.0)
    assert rule(t=6.0) == 4.0
    assert aisc.LARGEST_LEG_THIN.outside(t=6.0)
    assert aisc.LARGEST_LEG_THICK.outside(t=5.9)
    # the inch print: 3/8 in plate takes a 5/16 in leg; the metric print rounds 1/16 in to 2 mm
    assert aisc.LARGEST_LEG_THICK(t=3 / 8 * IN) == pytest.approx(5 / 16 * IN, abs=0.42)


def test_short_welds_count_with_a_quarter_of_their_length():
    """AISC 360 J2.2b: 4 w; shorter ones with L/4."""
    assert aisc.LEAST_LENGTH(w=5.0) == 20.0
    assert aisc.EFFECTIVE_LEG(w=5.0, l=20.0) == 5.0
    assert aisc.EFFECTIVE_LEG(w=5.0, l=16.0) == 4.0
    assert aisc.EFFECTIVE_LEG(w=5.0, l=400.0) == 5.0


def test_long_welds():
    """AISC 360 J2.2b: full to 100 w, 0.6 at 300 w, where 180 w takes over without a jump."""
    w = 5.0
    assert aisc.LONG_WELD_FACTOR(l=50 * w, w=w) == 1.0
    assert aisc.LONG_WELD_FACTOR(l=100 * w, w=w) == pytest.approx(1.0)
    assert aisc.LONG_WELD_FACTOR(l=300 * w, w=w) * 300 * w == pytest.approx(aisc.VERY_LONG_WELD_LENGTH(w=w))
    assert aisc.LONG_WELD_FACTOR.outside(l=301 * w, w=w)


def test_segments_and_laps():
    """AISC 360 J2.2b: a segment 4 w and 38 mm (1.5 in) at least, a lap 5 t and 25 mm (1 in)."""
    assert aisc.LEAST_SEGMENT(w=5.0) == 38.0
    assert aisc.LEAST_SEGMENT(w=12.0) == 48.0
    assert aisc.LEAST_SEGMENT(w=1.0) == pytest.approx(1.5 * IN, abs=0.11)
    assert aisc.LEAST_LAP(t=2.0) == 25.0
    assert aisc.LEAST_LAP(t=8.0) == 40.0
    assert aisc.LEAST_LAP(t=0.1) == pytest.approx(IN, abs=0.41)


def test_shigley_example_9_4():
    """Shigley Ex. 9-4 (from memory): 500 lbf at 6 in, two vertical 3/8 in fillets 2 in long, E6010 (50 kpsi).

    Printed: A 1.06 in2, I 0.353 in4, tau' 0.472, tau'' 8.50, tau 8.51 kpsi, n = 0.577·50/8.51 = 3.39.
    """
    throat = aisc.THROAT(w=3 / 8 * IN) / IN
    group = WeldGroup.of([[0, -IN, 0, IN], [0.5 * IN, -IN, 0.5 * IN, IN]], throat=throat * IN)
    assert throat * 4 == pytest.approx(1.06, abs=0.005)
    assert throat * 2 * 2**3 / 12 == pytest.approx(0.353, abs=0.001)
    load = Load.at((0.0, -500 * KIP / 1000, 0.0), (0.25 * IN, 0.0, 6 * IN))
    found = group.elastic(load)
    stress = found.peak_stress / KSI
    assert stress == pytest.approx(8.51, abs=0.02)
    assert 0.577 * 50 / stress == pytest.approx(3.39, abs=0.01)
