"""Numbers and quantities as a reader sees them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jointcalc.quantity.show import figures, respelt, show, show_in


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (0.0, "0"), (1.2, "1.2"), (1.0, "1"), (100.0, "100"), (12345.678, "12 350"), (9999.4, "9999"), (0.012346, "0.01235"),
        (1234567.0, "1 235 000"), (1e9, "1.000e9"), (1e-5, "1.000e-5"), (-2500.0, "-2500"), (-25000.0, "-25 000"),
        (99999.0, "100 000"), (0.5, "0.5"), (10.0, "10"), (1200.0, "1200"),
    ],
)  # fmt: skip
def test_figures(value: float, text: str) -> None:
    assert figures(value) == text


@given(st.floats(-1e12, 1e12, allow_subnormal=False), st.integers(2, 9))
def test_figures_keep_their_digits(value: float, digits: int) -> None:
    back = float(figures(value, digits).replace(" ", ""))
    assert back == pytest.approx(value, rel=0.51 * 10.0 ** (1 - digits), abs=0)


@pytest.mark.parametrize(
    ("value", "kind", "metric", "inch"),
    [
        (25.4, "length", "25.4 mm", "1 in"),
        # whole 64ths of an inch, as a rule is marked; anything else is a decimal
        (22.225, "length", "22.23 mm", "7/8 in"),
        (34.925, "length", "34.92 mm", "1-3/8 in"),
        (-25.4 * 1.5, "length", "-38.1 mm", "-1-1/2 in"),
        (25.4 / 64, "length", "0.3969 mm", "1/64 in"),
        (0.2, "length", "0.2 mm", "0.007874 in"),
        (22.22, "length", "22.22 mm", "0.8748 in"),
        (1.21412, "length", "1.214 mm", "0.0478 in"),
        (25.4 * 500.5, "length", "12 710 mm", "500-1/2 in"),
        (4448.2216152605, "force", "4448 N", "1000 lbf"),
        (12e3, "force", "12 kN", "2698 lbf"),
        (6.894757293168361, "stress", "6.895 MPa", "1 ksi"),
        (0.015, "mass", "15 kg", "33.07 lb"),
        (20 * 9806.65, "acceleration", "20 g", "20 g"),
        # less than anybody weighs: what rounding and coupling leave of a load
        (0.00337, "force", "< 0.01 N", "< 0.01 lbf"),
        (-0.00337, "force", "< 0.01 N", "< 0.01 lbf"),
        (0.02, "force", "0.02 N", "< 0.01 lbf"),
        (0.0445, "force", "0.0445 N", "0.01 lbf"),
        (8e-5, "stress", "< 0.001 MPa", "< 0.001 ksi"),
        (0.0, "force", "0 N", "0 lbf"),
        (0.001, "pressure", "1 kPa", "0.145 psi"),
        (112984.8290276167, "moment", "113 N*m", "1000 lbf*in"),
    ],
)
def test_both_systems(value: float, kind: str, metric: str, inch: str) -> None:
    assert show(value, kind) == metric
    assert show(value, kind, "inch") == inch


@pytest.mark.parametrize(
    ("value", "unit", "metric", "inch"),
    [
        (25.4, "mm", "25.4 mm", "1 in"),
        (416231.4256, "mm^4", "416 200 mm^4", "1 in^4"),
        (16387.064, "mm^3", "16 390 mm^3", "1 in^3"),
        (1.488163944, "kg/m", "1.488 kg/m", "1 lb/ft"),
        (4.88242764, "kg/m^2", "4.882 kg/m^2", "1 lb/ft^2"),
        (3.0, "1", "3", "3"),
        # 12 cycles of 60 Hz last 0.2 s, that is 10 cycles of 50 Hz: whoever reads counts those of his mains
        (12.0, "cycles at 60 Hz", "0.2 s, 10 cycles at 50 Hz", "0.2 s, 12 cycles at 60 Hz"),
        (10.0, "cycles at 50 Hz", "0.2 s, 10 cycles at 50 Hz", "0.2 s, 12 cycles at 60 Hz"),
        (175.12683524, "N/mm", "175.1 N/mm", "1000 lbf/in"),
    ],
)
def test_result_units(value: float, unit: str, metric: str, inch: str) -> None:
    # factors by definition: 1 in = 25.4 mm, 1 lb = 0.45359237 kg, 1 ft = 0.3048 m
    assert show_in(value, unit) == metric
    assert show_in(value, unit, "inch") == inch


@pytest.mark.parametrize(
    ("unit", "other"),
    [
        ("kg", "lb"), ("kg/m", "lb/ft"), ("kg/m^2", "lb/ft^2"), ("N*mm^2", "kip*inch^2"), ("mm^4/mm", "inch^4/inch"),
        ("mm^3/mm", "inch^3/inch"), ("kJ/mm", "kJ/inch"),
    ],
)  # fmt: skip
def test_result_units_in_inches(unit: str, other: str) -> None:
    """Against pint."""
    import pint

    registry: pint.UnitRegistry[float] = pint.UnitRegistry()
    registry.define("kip = 1000 * force_pound")
    number, _, shown = show_in(12345.678, unit, "inch", 9).rpartition(" ")
    expected = registry.Quantity(12345.678, unit.replace("^", "**")).to(other.replace("^", "**")).magnitude
    assert float(number.replace(" ", "")) == pytest.approx(expected, rel=1e-8)
    assert shown == other.replace("inch", "in")


def test_a_found_profile_is_respelt() -> None:
    text = "hat:top=31.75mm,depth=25.4mm,t=1.27mm"
    assert respelt(text, "inch") == "hat:top=1-1/4in,depth=1in,t=0.05in"
    assert respelt(text, "metric") == text
