"""Fillet welds by EN 1993-1-8 and EN 1993-1-3 against published examples, tables and limits."""

import numpy as np
import pytest

from jointcalc.formula import fillet_en1993 as en
from jointcalc.marks import unmarked

SQRT2, SQRT3 = 2**0.5, 3**0.5


# --- published worked examples --------------------------------------------------------------------


def test_gusset_weld_of_a_published_bracing_example():
    """Steel-building design guide SSB05, sheets 83 and 86: gusset 15 mm, two fillets of 560 mm, S355.

    Printed: a·sigma_perp = a·tau_perp = -122.08 N/mm, a·tau_par = 581.44 N/mm (from 23.02 and 77.53 MPa in
    the plate), throats 2.03 and 0.33 mm.  The sheet takes beta_w = 0.8, Table 4.1 has 0.9 for S355.
    """
    F_1, F_par = -23.02 * 15 / 2, 77.53 * 15 / 2
    assert en.SIGMA_PERP(F_1=F_1, F_2=0.0, a=1.0) == pytest.approx(-122.08, abs=0.005)
    assert en.TAU_PERP(F_1=F_1, F_2=0.0, a=1.0) == pytest.approx(-122.08, abs=0.005)
    assert en.TAU_PAR(F_par=F_par, a=1.0) == pytest.approx(581.44, abs=0.05)
    # stresses go with 1/a, so the throat is the demand over the resistance of a throat of 1 mm
    one = {n: getattr(en, n.upper())(F_1=F_1, F_2=0.0, a=1.0) for n in ("sigma_perp", "tau_perp")}
    stress = en.DIRECTIONAL_STRESS(**one, tau_par=F_par)
    assert 1.25 / en.DIRECTIONAL_RESISTANCE(F_w_Ed=1.0, f_u=510.0, beta_w=0.8, sigma_v=stress) == pytest.approx(
        2.03, abs=0.005
    )
    least = en.NORMAL_RESISTANCE(F_w_Ed=1.0, f_u=510.0, sigma_perp=one["sigma_perp"])
    assert 1.25 / least == pytest.approx(0.33, abs=0.005)


def test_lap_of_the_indian_code_example():
    """GATE solution for IS 800:2007 (same rule, beta_w = 1): 10 mm fillets, fu 410, gamma 1.25, 275 kN.

    Printed: 189.4 MPa, 1326 N/mm, 103.7 mm on each of two sides; that code's throat is 0.7 of the leg.
    """
    f_vw_d = en.SIMPLIFIED_RESISTANCE(f_u=410.0, beta_w=1.0, a=1.0) / 1.25
    assert f_vw_d == pytest.approx(189.4, abs=0.05)
    per_mm = en.SIMPLIFIED_RESISTANCE(f_u=410.0, beta_w=1.0, a=0.7 * 10) / 1.25
    assert per_mm == pytest.approx(1326, abs=0.5)
    assert 275e3 / (2 * per_mm) == pytest.approx(103.7, abs=0.05)


@pytest.mark.parametrize(
    "leg, a, f_u, beta_w, along, across",
    [
        (6, 4.2, 410, 0.85, 0.94, 1.15),
        (8, 5.6, 410, 0.85, 1.25, 1.53),
        (10, 7.0, 410, 0.85, 1.56, 1.91),
        (6, 4.2, 470, 0.90, 1.01, 1.24),
        (8, 5.6, 470, 0.90, 1.35, 1.65),
        (10, 7.0, 470, 0.90, 1.69, 2.07),
    ],
)
def test_fillet_table_of_a_published_handbook(leg, a, f_u, beta_w, along, across):
    """British handbook of resistances to Eurocode 3 (SCI P363), fillet welds, kN/mm; from memory."""
    longitudinal = en.SIMPLIFIED_RESISTANCE(f_u=f_u, beta_w=beta_w, a=a) / 1.25e3
    assert longitudinal == pytest.approx(along, abs=0.006)
    force = {"F_1": 1.0, "F_2": 0.0, "a": a}
    stress = en.DIRECTIONAL_STRESS(sigma_perp=en.SIGMA_PERP(**force), tau_perp=en.TAU_PERP(**force), tau_par=0.0)
    crossways = en.DIRECTIONAL_RESISTANCE(F_w_Ed=1.0, f_u=f_u, beta_w=beta_w, sigma_v=stress) / 1.25e3
    assert crossways == pytest.approx(across, abs=0.006)
    assert en.THROAT(s=leg) == pytest.approx(a, rel=0.011)


@pytest.mark.parametrize(
    "f_u, beta_w, f_vw_d",
    [(360.0, 0.80, 207.8), (410.0, 0.85, 222.8), (430.0, 0.85, 233.7), (470.0, 0.90, 241.2), (510.0, 0.90, 261.7)],
)
def test_design_shear_strengths_by_independent_arithmetic(f_u, beta_w, f_vw_d):
    """fu/(sqrt3·beta_w·1.25) by an independent script, for the tensile strengths of both steel standards."""
    assert en.SIMPLIFIED_RESISTANCE(f_u=f_u, beta_w=beta_w, a=1.0) / 1.25 == pytest.approx(f_vw_d, abs=0.05)


# --- derived limits ---------------------------------------------------------------------------------


def test_throat_is_the_height_of_the_triangle():
    """Geometry: area of a right triangle = half base times height, leg·leg/2 = hypotenuse·a/2."""
    s = 5.0
    assert en.THROAT(s=s) * np.hypot(s, s) / 2 == pytest.approx(s * s / 2)


def test_throat_components_keep_the_force():
    """Equilibrium: the throat stresses times the throat give the force back (Pythagoras)."""
    F_1, F_2, a = 120.0, -45.0, 3.3
    s, t = en.SIGMA_PERP(F_1=F_1, F_2=F_2, a=a) * a, en.TAU_PERP(F_1=F_1, F_2=F_2, a=a) * a
    assert np.hypot(s, t) == pytest.approx(np.hypot(F_1, F_2))
    # rotating (s, t) back by 45 degrees gives the two legs
    assert (s + t) / SQRT2 == pytest.approx(F_1)
    assert (s - t) / SQRT2 == pytest.approx(F_2)


def test_directional_method_in_its_pure_cases():
    """von Mises (EN 1993-1-8 eq. 4.1): pure shear sqrt(3), pure tension 1, leg load sqrt(2)."""
    assert en.DIRECTIONAL_STRESS(sigma_perp=0.0, tau_perp=0.0, tau_par=10.0) == pytest.approx(10 * SQRT3)
    assert en.DIRECTIONAL_STRESS(sigma_perp=0.0, tau_perp=10.0, tau_par=0.0) == pytest.approx(10 * SQRT3)
    assert en.DIRECTIONAL_STRESS(sigma_perp=10.0, tau_perp=0.0, tau_par=0.0) == pytest.approx(10)
    # force F along one leg: sigma = tau = F/(sqrt2 a), comparison stress sqrt(2) F/a
    s, t = en.SIGMA_PERP(F_1=100.0, F_2=0.0, a=4.0), en.TAU_PERP(F_1=100.0, F_2=0.0, a=4.0)
    assert en.DIRECTIONAL_STRESS(sigma_perp=s, tau_perp=t, tau_par=0.0) == pytest.approx(SQRT2 * 25)


@pytest.mark.parametrize("theta", [0.0, 17.0, 45.0, 60.0, 90.0])
def test_gain_with_the_angle_follows_from_the_directional_method(theta):
    """Gain = simplified over directional use, computed the long way for a force in the plane of a leg."""
    F = 100.0
    F_par, F_1 = F * np.cos(np.radians(theta)), F * np.sin(np.radians(theta))
    sigma_v = en.DIRECTIONAL_STRESS(
        sigma_perp=en.SIGMA_PERP(F_1=F_1, F_2=0.0, a=4.0),
        tau_perp=en.TAU_PERP(F_1=F_1, F_2=0.0, a=4.0),
        tau_par=en.TAU_PAR(F_par=F_par, a=4.0),
    )
    directional = F * en.DIRECTIONAL_STRENGTH(f_u=430.0, beta_w=0.9) / sigma_v
    simplified = en.SIMPLIFIED_RESISTANCE(f_u=430.0, beta_w=0.9, a=4.0)
    # by hand: comparison stress F/a sqrt(2 sin^2 + 3 cos^2) against F/a sqrt(3)
    gain = (3 / (2 * np.sin(np.radians(theta)) ** 2 + 3 * np.cos(np.radians(theta)) ** 2)) ** 0.5
    assert directional / simplified == pytest.approx(gain)
    assert directional >= simplified * (1 - 1e-12)


def test_resistances_in_the_direction_of_the_load():
    """The load scaled to its resistance meets eq. (4.1) and its second condition exactly."""
    F_1, F_2, F_par, a = 250.0, 90.0, -130.0, 4.0
    size = (F_1**2 + F_2**2 + F_par**2) ** 0.5

    def stresses(k):
        s, t = en.SIGMA_PERP(F_1=k * F_1, F_2=k * F_2, a=a), en.TAU_PERP(F_1=k * F_1, F_2=k * F_2, a=a)
        return s, en.DIRECTIONAL_STRESS(sigma_perp=s, tau_perp=t, tau_par=en.TAU_PAR(F_par=k * F_par, a=a))

    s, v = stresses(1.0)
    grown = en.DIRECTIONAL_RESISTANCE(F_w_Ed=size, f_u=430.0, beta_w=0.9, sigma_v=v)
    assert stresses(grown / size)[1] == pytest.approx(430.0 / 0.9)
    grown = en.NORMAL_RESISTANCE(F_w_Ed=size, f_u=430.0, sigma_perp=-s)
    assert stresses(grown / size)[0] == pytest.approx(0.9 * 430.0)


def test_butt_weld_is_as_strong_as_the_sheet():
    """EN 1993-1-8 4.7.1 with von Mises: tension t·fy, shear t·fy/sqrt(3)."""
    assert en.BUTT_RESISTANCE(t=3.0, f_y=235.0) == 705.0
    assert en.BUTT_COMPARISON(F_perp=705.0, F_par=0.0) == pytest.approx(705.0)
    assert en.BUTT_COMPARISON(F_perp=0.0, F_par=705.0 / SQRT3) == pytest.approx(705.0)
    assert en.BUTT_COMPARISON(F_perp=3.0, F_par=4.0) == pytest.approx(57**0.5)


# --- lengths ----------------------------------------------------------------------------------------


def test_effective_length_and_its_minimum():
    """EN 1993-1-8 4.5.1: L - 2a; no load under the larger of 30 mm and 6 a (both read second-hand)."""
    assert en.EFFECTIVE_LENGTH(L=50.0, a=4.0) == 42.0
    assert en.LEAST_EFFECTIVE_LENGTH(a=4.0) == 30.0
    assert en.LEAST_EFFECTIVE_LENGTH(a=5.0) == 30.0
    assert en.LEAST_EFFECTIVE_LENGTH(a=6.0) == 36.0


def test_long_laps_lose_strength_beyond_150_throats():
    """EN 1993-1-8 4.11: 1.0 at 150 a, 0.8 at 300 a."""
    a = 4.0
    assert en.LONG_LAP_FACTOR(L_j=100.0, a=a) == 1.0
    assert en.LONG_LAP_FACTOR(L_j=150 * a, a=a) == pytest.approx(1.0)
    assert en.LONG_LAP_FACTOR(L_j=300 * a, a=a) == pytest.approx(0.8)
    # the line of eq. (4.9) goes on below nought, where a weld would carry the other way
    assert en.LONG_LAP_FACTOR(L_j=1200 * a, a=a) == 0.0


def test_intermittent_fillets():
    """EN 1993-1-8 figure 4.1, each bound by hand."""
    assert en.INTERMITTENT_GAP_TENSION(t=3.0, t_1=5.0) == 48.0
    assert en.INTERMITTENT_GAP_TENSION(t=5.0, t_1=3.0) == 48.0
    assert en.INTERMITTENT_GAP_TENSION(t=20.0, t_1=20.0) == 200.0
    assert en.INTERMITTENT_GAP_COMPRESSION(t=3.0, t_1=5.0, b=1000.0) == 36.0
    assert en.INTERMITTENT_GAP_COMPRESSION(t=5.0, t_1=3.0, b=1000.0) == 36.0
    assert en.INTERMITTENT_GAP_COMPRESSION(t=3.0, t_1=3.0, b=100.0) == 25.0
    assert en.INTERMITTENT_GAP_COMPRESSION(t=30.0, t_1=30.0, b=1000.0) == 200.0


# --- EN 1993-1-3 --------------------------------------------------------------------------------------


def test_sheet_laps_at_the_width():
    """EN 1993-1-3 8.5.2 at a fillet as long as the width: end 0.7, side 0.45 of t·b·fu; the branches meet."""
    t, b, f_u = 2.0, 60.0, 360.0
    assert en.END_LAP(t=t, L_w_e=b, b=b, f_u=f_u) == pytest.approx(0.7 * t * b * f_u)
    assert en.SIDE_LAP_SHORT(t=t, L_w_s=b, b=b, f_u=f_u) == pytest.approx(en.SIDE_LAP_LONG(t=t, b=b, f_u=f_u))
    assert en.SIDE_LAP_LONG(t=t, b=b, f_u=f_u) == pytest.approx(0.45 * t * b * f_u)
    assert en.side_lap(L_w_s=60.0, b=60.0)[0] is en.SIDE_LAP_SHORT
    assert en.side_lap(L_w_s=60.1, b=60.0)[0] is en.SIDE_LAP_LONG


def test_short_sheet_laps_tend_to_the_full_sheet():
    """As L/b goes to nothing the end fillet carries t·L·fu and a side fillet 0.9·t·L·fu."""
    assert en.END_LAP(t=2.0, L_w_e=1e-6, b=60.0, f_u=360.0) / (2.0 * 1e-6 * 360.0) == pytest.approx(1.0)
    assert en.SIDE_LAP_SHORT(t=2.0, L_w_s=1e-6, b=60.0, f_u=360.0) / (2.0 * 1e-6 * 360.0) == pytest.approx(0.9)


def test_side_fillets_gain_nothing_beyond_the_width():
    """The parabola of the short branch has its top exactly at L = b."""
    L = np.linspace(20.0, 60.0, 9)
    F = en.SIDE_LAP_SHORT(t=2.0, L_w_s=L, b=60.0, f_u=360.0)
    assert np.all(np.diff(F) > 0)
    step = 1e-3
    slope = np.diff(en.SIDE_LAP_SHORT(t=2.0, L_w_s=np.array([60.0 - step, 60.0]), b=60.0, f_u=360.0))[0] / step
    assert slope == pytest.approx(0.0, abs=0.05)


def test_ranges_are_guarded():
    """EN 1993-1-8 from 4 mm and throat 3 mm; EN 1993-1-3 to 4 mm, throat at least the sheet, 8 t long."""
    assert en.SIMPLIFIED_RESISTANCE.outside(f_u=360.0, beta_w=0.8, a=3.0, t=4.0) == []
    assert "t = 3 mm" in unmarked(en.SIMPLIFIED_RESISTANCE.outside(f_u=360.0, beta_w=0.8, a=3.5, t=3.0)[0])
    assert "a = 2.9 mm" in unmarked(en.SIMPLIFIED_RESISTANCE.outside(f_u=360.0, beta_w=0.8, a=2.9, t=4.0)[0])
    lap = {"t": 2.0, "a": 2.0, "L_w_e": 16.0, "b": 60.0, "f_u": 360.0}
    assert en.END_LAP.outside(**lap) == []
    assert len(en.END_LAP.outside(**{**lap, "L_w_e": 15.0})) == 1
    assert len(en.END_LAP.outside(**{**lap, "a": 1.9})) == 1
    assert len(en.END_LAP.outside(**{**lap, "t": 4.1, "a": 4.1, "L_w_e": 40.0})) == 1


def test_corners_that_may_be_welded_beside():
    """EN 1993-1-8 Table 4.2, from memory: r/t 1.0 to 4 mm, 1.5 to 8 mm, 3 to 24 mm killed."""
    assert en.corner(r=3.0, t=3.0)[0]
    assert not en.corner(r=2.9, t=3.0)[0]
    assert not en.corner(r=5.0, t=5.0)[0]
    assert en.corner(r=5.0, t=5.0, kind="killed")[0]
    assert en.corner(r=7.5, t=5.0)[0]
    assert en.corner(r=60.0, t=20.0)[0]
    assert not en.corner(r=60.0, t=20.0, kind="fatigue")[0]
    assert en.corner(r=1000.0, t=40.0, kind="fatigue")[0]
