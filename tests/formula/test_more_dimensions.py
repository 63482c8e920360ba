"""Every formula keeps its value when the units of length and force are changed (dimensional homogeneity).

A published formula that carries no dimensioned constant must give the same strength whether lengths are counted in mm or
in tenths of an inch.  So: all inputs are rescaled by their declared units, the result must rescale by its own.  This needs
no reference value, only the units the formula declares; a `/` in the place of a `*` does not survive it, however round the
numbers of the examples are.

`DIMENSIONED` names the formulas that do carry a dimensioned constant, and which; they must fail, so the list stays true.
`OTHER_UNITS` are outside this system (volts, degrees Celsius) and held by their published values only.
"""

from __future__ import annotations

import zlib

import numpy as np
import pytest

from jointcalc.formula.core import Formula, load_all

FORMULAS = load_all()
LENGTH, FORCE, TIME = 1.7, 0.6, 1.3  # what the units are multiplied by
SIZES = {
    "mm": (LENGTH, 0.5, 60.0),
    "N": (FORCE, 1e2, 2e4),
    "MPa": (FORCE / LENGTH**2, 50.0, 700.0),
    "s": (TIME, 0.1, 10.0),
    "t": (FORCE * TIME**2 / LENGTH, 1e-6, 1e-2),
    "Hz": (1 / TIME, 1.0, 100.0),
    "1": (1.0, 0.3, 3.0),
    "%": (1.0, 0.05, 1.5),
    "rad": (1.0, 0.1, 1.4),
    "deg": (1.0, 5.0, 85.0),
}
DIMENSIONED: dict[str, str] = {
    "formula.arc_spot_en1993.peripheral_middle": "the reference strength of 420 MPa",
    "formula.bolt_holes.fillers": "0.0154 per mm over 6 mm",
    "formula.bolts_aisi.bearing_deformation": "0.0394 per mm, the inch of the original",
    "formula.bolts_en1993.sheet_k_t": "1.5 mm and 2.5 mm of sheet",
    "formula.coupon_limits.lognormal_limit": "logarithms of loads counted in N",
    "formula.effective_en.epsilon": "the reference yield of 235 MPa",
    "formula.fatigue.spot_sheet_stress": "0.6 of the root of a thickness in mm, fitted",
    "formula.fillet_aisc.largest_leg_thick": "2 mm left of the edge",
    "formula.fillet_aisc.least_lap": "25 mm",
    "formula.fillet_aisc.least_segment": "38 mm",
    "formula.fillet_en1993.intermittent_gap_tension": "200 mm",
    "formula.fillet_en1993.least_effective_length": "30 mm",
    "formula.group_curves.bolt_resistance": "fitted to a deformation in inches",
    "formula.heat.lap_shrinkage": "1.52 mm, fitted",
    "formula.heat.tee_shrinkage": "1.02 mm, fitted",
    "formula.plug_aisc.greatest_hole": "3 mm over the least",
    "formula.plug_aisc.least_fill": "16 mm of plate",
    "formula.plug_aisc.least_hole": "8 mm over the plate",
    "formula.row_sharing.arc_spot_give": "fitted in inches and kips",
    "formula.spot_aisi.spot_thick": "fitted in kN and mm",
    "formula.spot_aisi.spot_thin": "fitted in kN and mm",
    "formula.spot_d8_1.cross_tension": "fitted in kN and mm",
    "formula.spot_d8_1.shear_tension": "fitted in MPa and mm",
    "formula.spot_en1993.tearing": "the root of a thickness in mm",
    "formula.spot_models.edge_stress": "0.6 of the root of a thickness in mm, fitted",
    "formula.spot_size.fusion_en": "5 mm",
    "formula.spot_size.minimum": "the root of a thickness in mm",
    "formula.spot_size.target": "the root of a thickness in mm",
    "formula.spot_size.usual": "the root of a thickness in mm",
    "formula.web_en1993.strength_coefficient": "the reference yield of 228 MPa",
}
OTHER_UNITS = {
    "formula.heat.arc_energy": "volt, ampere",
    "formula.heat.heat_input": "volt, ampere",
    "formula.heat.cooling_time_thick": "degrees Celsius from fixed points",
    "formula.heat.cooling_time_thin": "degrees Celsius from fixed points",
    "formula.heat.transition_thickness": "degrees Celsius from fixed points",
    "formula.lap.core_thickness": "a coating in g/m2, with the density of zinc",
}


def scale_and_range(unit: str) -> tuple[float, float, float]:
    """By how much a quantity of this unit is multiplied, and between what it is drawn."""
    scale, low, high = 1.0, 1.0, 1.0
    for sign, part in zip((1, -1), unit.split("/")):
        for factor in part.strip("()").split("*"):
            name, _, power = factor.partition("^")
            s, lo, hi = SIZES[name]
            n = int(power or 1)
            scale *= s ** (sign * n)
            low, high = (low * lo**n, high * hi**n) if sign > 0 else (low / hi**n, high / lo**n)
    return scale, low, high


def samples(formula: Formula) -> dict[str, np.ndarray]:
    """400 draws of each input, log-uniform, the same in every run."""
    rng = np.random.default_rng(zlib.crc32(formula.key.encode()))
    found = {}
    for name in formula.parameters:
        _, low, high = scale_and_range(formula.names[name][0])
        found[name] = np.exp(rng.uniform(np.log(low), np.log(high), 400))
    return found


def off(formula: Formula) -> float:
    """Largest relative difference between the rescaled value and the value of the rescaled inputs."""
    inputs = samples(formula)
    scaled = {n: v * scale_and_range(formula.names[n][0])[0] for n, v in inputs.items()}
    with np.errstate(all="ignore"):
        before, after = formula(**inputs) * np.ones(400), formula(**scaled) * np.ones(400)
    good = np.isfinite(before)
    assert good.sum() >= 20, "too few of the inputs drawn give a value"
    assert np.array_equal(good, np.isfinite(after))
    expected = before[good] * scale_and_range(formula.unit)[0]
    size = np.abs(expected) + 1e-12 * np.max(np.abs(expected))
    return float(np.max(np.abs(after[good] - expected) / np.where(size > 0, size, 1.0)))


@pytest.mark.parametrize("key", sorted(set(FORMULAS) - set(DIMENSIONED) - set(OTHER_UNITS)))
def test_units_of_length_and_force_do_not_matter(key: str) -> None:
    assert off(FORMULAS[key]) < 1e-6


@pytest.mark.parametrize("key", sorted(DIMENSIONED))
def test_a_dimensioned_constant_is_noticed(key: str) -> None:
    assert off(FORMULAS[key]) > 1e-3
