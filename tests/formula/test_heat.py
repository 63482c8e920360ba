"""Heat of welding: hand arithmetic on printed coefficients, physics of the cooling formulas, shrinkage."""

import numpy as np
import pytest

from jointcalc.formula import heat

STEEL_4130 = {"C": 0.30, "Mn": 0.50, "Si": 0.25, "Cr": 0.95, "Mo": 0.20, "V": 0.0, "Ni": 0.0, "Cu": 0.0, "B": 0.0}


def of(steel, *names):
    return {name: steel[name] for name in names}


def test_energy_of_a_mag_run():
    """By hand: 18 V · 130 A / 6 mm/s = 390 J/mm; MAG passes 0.8 of it (EN 1011-1), 0.312 kJ/mm."""
    assert heat.ARC_ENERGY(U=18.0, I=130.0, v=6.0) == pytest.approx(0.390)
    assert heat.HEAT_INPUT(k=0.8, U=18.0, I=130.0, v=6.0) == pytest.approx(0.312)


def test_carbon_equivalents_of_4130():
    """By hand from the printed denominators: CE 0.30+0.0833+0.23, Pcm, CET; single elements for each weight."""
    s = STEEL_4130
    ce = heat.CARBON_EQUIVALENT(**of(s, "C", "Mn", "Cr", "Mo", "V", "Ni", "Cu"))
    pcm = heat.CRACKING_PARAMETER(**of(s, "C", "Si", "Mn", "Cu", "Cr", "Ni", "Mo", "V", "B"))
    cet = heat.CARBON_EQUIVALENT_T(**of(s, "C", "Mn", "Mo", "Cr", "Cu", "Ni"))
    assert ce == pytest.approx(0.613, abs=5e-4)
    assert pcm == pytest.approx(0.394, abs=5e-4)
    assert cet == pytest.approx(0.4175, abs=5e-5)
    mild = {**dict.fromkeys(s, 0.0), "C": 0.15, "Mn": 0.75}
    assert heat.CARBON_EQUIVALENT(**of(mild, "C", "Mn", "Cr", "Mo", "V", "Ni", "Cu")) == pytest.approx(0.275)


@pytest.mark.parametrize(
    "formula, weights",
    [
        (heat.CARBON_EQUIVALENT, {"C": 1, "Mn": 6, "Cr": 5, "Mo": 5, "V": 5, "Ni": 15, "Cu": 15}),
        (
            heat.CRACKING_PARAMETER,
            {"C": 1, "Si": 30, "Mn": 20, "Cu": 20, "Cr": 20, "Ni": 60, "Mo": 15, "V": 10, "B": 1 / 5},
        ),
        (heat.CARBON_EQUIVALENT_T, {"C": 1, "Mn": 10, "Mo": 10, "Cr": 20, "Cu": 20, "Ni": 40}),
    ],
)
def test_each_element_counts_with_its_printed_weight(formula, weights):
    """IIW CE (read), Ito-Bessyo Pcm and EN 1011-2 CET (from memory): one percent of one element at a time."""
    for element, weight in weights.items():
        alone = {**dict.fromkeys(weights, 0.0), element: 1.0}
        assert formula(**alone) == pytest.approx(1 / weight), element


def test_cooling_by_independent_arithmetic():
    """EN 1011-2 Annex D by an independent script: 3 mm at 0.312 kJ/mm, 20 mm at 1.5 kJ/mm and 100 °C."""
    thin = {"Q": 0.312, "T_0": 20.0}
    assert heat.COOLING_TIME_THIN(**thin, d=3.0, F_2=1.0) == pytest.approx(12.3, abs=0.05)
    assert heat.COOLING_TIME_THICK(**thin, F_3=1.0) == pytest.approx(1.65, abs=0.005)
    assert heat.TRANSITION_THICKNESS(**thin, F_2=1.0, F_3=1.0) == pytest.approx(8.2, abs=0.05)
    thick = {"Q": 1.5, "T_0": 100.0}
    assert heat.COOLING_TIME_THIN(**thick, d=20.0, F_2=1.0) == pytest.approx(9.2, abs=0.05)
    assert heat.COOLING_TIME_THICK(**thick, F_3=1.0) == pytest.approx(10.0, abs=0.05)
    assert heat.TRANSITION_THICKNESS(**thick, F_2=1.0, F_3=1.0) == pytest.approx(19.2, abs=0.05)


@pytest.mark.parametrize("T_0", [20.0, 100.0, 200.0])
def test_cooling_follows_the_moving_source_solutions(T_0):
    """Rosenthal's moving-source solutions with steel's mean properties at heat.

    Thick: t = Q/(2·pi·lambda)·(1/(500-T0) - 1/(800-T0)); thin: t = Q²/(4·pi·lambda·rho·c·d²)·(...).  The
    conductivity and heat capacity the standard's constants imply must be those of hot steel
    (lambda 20 to 35 W/mK, c 600 to 1100 J/kgK, rho 7850 kg/m3, handbook bands).
    """
    Q = 1e6  # J/m = 1 kJ/mm
    bracket = 1 / (500 - T_0) - 1 / (800 - T_0)
    conductivity = Q * bracket / (2 * np.pi * heat.COOLING_TIME_THICK(Q=1.0, T_0=T_0, F_3=1.0))
    assert 20 < conductivity < 35
    bracket = 1 / (500 - T_0) ** 2 - 1 / (800 - T_0) ** 2
    t = heat.COOLING_TIME_THIN(Q=1.0, d=10.0, T_0=T_0, F_2=1.0)
    rho_c = Q**2 * bracket / (4 * np.pi * conductivity * t * 0.010**2)
    assert 600 < rho_c / 7850 < 1100


@pytest.mark.parametrize("F_2, F_3", [(1.0, 1.0), (0.9, 0.9), (0.9, 0.67), (0.45, 0.67)])
def test_cooling_times_meet_at_the_transition(F_2, F_3):
    """At d_t both heat-flow formulas give one time; thinner plate cools slower."""
    case = {"Q": 0.8, "T_0": 50.0}
    d_t = heat.TRANSITION_THICKNESS(**case, F_2=F_2, F_3=F_3)
    thick = heat.COOLING_TIME_THICK(**case, F_3=F_3)
    assert heat.COOLING_TIME_THIN(**case, d=d_t, F_2=F_2) == pytest.approx(thick)
    assert heat.COOLING_TIME_THIN(**case, d=0.9 * d_t, F_2=F_2) > thick
    rule, _ = heat.cooling_time(**case, d=0.99 * d_t, F_2=F_2, F_3=F_3)
    assert rule is heat.COOLING_TIME_THIN
    rule, _ = heat.cooling_time(**case, d=1.01 * d_t, F_2=F_2, F_3=F_3)
    assert rule is heat.COOLING_TIME_THICK


def test_tee_shrinkage_agrees_with_the_institute_allowance():
    """TWI: 0.8 mm across a fillet whose leg is at most 3/4 of the plate; Spraragen-Ettinger there: 0.77."""
    assert heat.TEE_SHRINKAGE(s=3.0, t=4.0, share=1.0) == pytest.approx(0.8, abs=0.05)


def test_shrinkage_by_hand():
    """Printed coefficients by hand: butt t 3, 12 mm², gap 1; fillets leg 4 on t 3; stitches by their share."""
    assert heat.BUTT_SHRINKAGE(A_w=12.0, t=3.0, gap=1.0) == pytest.approx(0.85)
    assert heat.BUTT_SHRINKAGE(A_w=12.0, t=3.0, gap=2.0) == pytest.approx(0.90)
    assert heat.BUTT_SHRINKAGE_AREA(A_w=12.0, t=3.0) == pytest.approx(0.40)
    assert heat.TEE_SHRINKAGE(s=4.0, t=3.0, share=1.0) == pytest.approx(1.36)
    assert heat.LAP_SHRINKAGE(s=4.0, t=3.0, share=1.0) == pytest.approx(2.03, abs=0.005)
    assert heat.TEE_SHRINKAGE(s=4.0, t=3.0, share=0.25) == pytest.approx(0.34)
    assert heat.LAP_SHRINKAGE(s=4.0, t=3.0, share=0.5) == pytest.approx(1.013, abs=0.0005)
