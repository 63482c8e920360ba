"""Strips under shear flow against plate theory: long plates, plates of one length, and plates that cannot move askew."""

from __future__ import annotations

import numpy as np
import pytest

from jointcalc.errors import InputError
from jointcalc.section import parse_profile
from jointcalc.section.shear_strips import Sheared, slopes
from jointcalc.section.strip_matrices import TURN, Z
from jointcalc.section.strip_solver import Solver
from jointcalc.section.strips import cut, plate

E, NU = 210000.0, 0.3
B, T = 120.0, 1.5


def coefficient(flow: float) -> float:
    """k of tau = k pi^2 E t^2 / (12 (1 - nu^2) b^2) for a critical flow [N/mm]."""
    return flow / T * 12 * (1 - NU**2) / np.pi**2 / E * (B / T) ** 2


LONG = [
    # Timoshenko and Gere, Theory of Elastic Stability, chapter 9 (from memory): edges, k, half-wavelengths over width
    ("simple", 5.34, (Z,), (0.9, 1.6)),
    ("clamped", 8.98, (Z, TURN), (0.6, 1.2)),
]


@pytest.mark.parametrize(("name", "k", "hold", "span"), LONG, ids=[e[0] for e in LONG])
@pytest.mark.parametrize("sign", [1.0, -1.0])
def test_long_plates_in_shear(
    name: str, k: float, hold: tuple[int, ...], span: tuple[float, float], sign: float
) -> None:
    model = plate(width=B, t=T, strips=10).hold([0, 10], *hold)
    flow = Sheared(model, np.full(10, sign), E=E, nu=NU).factors(np.linspace(*span, 41) * B).min()
    assert coefficient(flow) == pytest.approx(k, rel=0.005)


SHORT = [
    # converged series (computed): length over width, k simple, k clamped; 5.34 + 4 and 8.98 + 5.60 (b/a)^2 lie near them
    (1.0, 9.325, 14.64),
    (2.0, 6.546, 10.25),
]


@pytest.mark.parametrize(("ratio", "simple", "clamped"), SHORT)
def test_plates_of_one_length_in_shear(ratio: float, simple: float, clamped: float) -> None:
    for run, hold, k in (("simple", (Z,), simple), ("fixed", (Z, TURN), clamped)):
        model = plate(width=B, t=T, strips=10).hold([0, 10], *hold)
        flow = Sheared(model, np.ones(10), E=E, nu=NU, run=run, terms=12).factors(np.array([ratio * B]))[0]
        assert coefficient(flow) == pytest.approx(k, rel=0.005)


def test_shear_with_stress_along() -> None:
    """Long plate: sigma/sigma_cr + (tau/tau_cr)^2 = 1 (Timoshenko and Gere, chapter 9, from memory; good to some %)."""
    model = plate(width=B, t=T, strips=10).hold([0, 10], Z)
    lengths = np.linspace(0.7, 1.6, 46) * B
    press = Solver(model, np.ones(11), E=E, nu=NU).factors(lengths).min()
    shear = Sheared(model, np.ones(10), E=E, nu=NU).factors(lengths).min()
    for share in (0.3, 0.6, 0.9):
        together = Sheared(
            model, np.full(10, shear * np.sqrt(1 - share)), E=E, nu=NU, stress=np.full(11, press * share)
        )
        assert together.factors(lengths).min() == pytest.approx(1.0, abs=0.03)
    # without flow it is the other solver
    still = Sheared(model, np.zeros(10), E=E, nu=NU, stress=np.ones(11)).factors(lengths)
    assert still == pytest.approx(Solver(model, np.ones(11), E=E, nu=NU).factors(lengths), rel=1e-9)


@pytest.mark.parametrize("ends", ["simple", "fixed"])
def test_integrals_of_the_series_by_quadrature(ends: str) -> None:
    from scipy.integrate import quad

    terms = np.arange(1, 5)

    def shape(m: int, u: float) -> float:
        return float(np.sin(m * u) * (1.0 if ends == "simple" else np.sin(u)))

    def slope(m: int, u: float) -> float:
        if ends == "simple":
            return float(m * np.cos(m * u))
        return float(m * np.cos(m * u) * np.sin(u) + np.sin(m * u) * np.cos(u))

    ours = slopes(terms, ends)  # type: ignore[arg-type]
    for i, m in enumerate(terms):
        for j, n in enumerate(terms):
            exact = quad(lambda u, m=m, n=n: slope(m, u) * shape(n, u), 0, np.pi)[0]
            assert ours[i, j] == pytest.approx(exact, abs=1e-9)
    assert ours == pytest.approx(-ours.T, abs=1e-12)


def test_a_bead_in_the_web_raises_its_shear_load() -> None:
    """A web in four sides that cannot leave the plane, plain and beaded: the bead halves the flats, k / b^2 grows by
    up to four (geometry); and never less than the plain one carries."""
    plain = parse_profile("hat:top=60mm,depth=60mm,flange=20mm,t=0.8mm,r=2mm")
    beaded = parse_profile("beaded-hat:top=60mm,depth=60mm,flange=20mm,t=0.8mm,r=2mm,web_bead=15mm,web_bead_depth=4mm")
    found = []
    for family in (plain, beaded):
        outline = family.outline()
        model = cut(outline)
        web = np.array(["web" in outline.segments[i].name for i in model.segment], dtype=float)
        found.append(Sheared(model, web, E=E, nu=NU).factors(np.geomspace(15.0, 200.0, 40)).min())
    assert 1.3 * found[0] < found[1] < 6 * found[0]


@pytest.mark.parametrize("bad", [0.0, -5.0, np.nan])
def test_a_length_is_a_length(bad: float) -> None:
    model = plate(width=20.0, t=1.0, strips=2)
    with pytest.raises(InputError, match="half-wavelength"):
        Sheared(model, np.ones(2), E=E, nu=NU).factors(np.array([bad]))
