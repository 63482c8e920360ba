"""Every row of the unit tables against pint, the oracle, and against the definitions of the exact ones."""

from __future__ import annotations

from math import pi

import pint
import pytest

from jointcalc.quantity import GRAVITY, KINDS
from jointcalc.quantity.edge import quantity, registry
from jointcalc.quantity.units import COLUMN_UNITS

UREG = pint.UnitRegistry()
# how pint spells what a builder may write; everything else is read by pint as it stands, with ** for ^
SPELT = {
    '"': "inch", "in": "inch", "ft": "foot", "t": "metric_ton", "kip": "kip", "lb": "pound", "oz": "ounce", "°": "degree",
    "deg": "degree", "degC": "degC", "°C": "degC", "h": "hour", "min": "minute", "um": "micrometer", "µm": "micrometer",
    "kgf": "kilogram_force", "lbf": "pound_force", "lbf*in": "pound_force*inch", "Nm": "newton*meter",
    "Nmm": "newton*millimeter", "kNm": "kilonewton*meter", "percent": "percent", "g_n": "standard_gravity",
}  # fmt: skip


def pint_unit(unit: str, kind: str) -> str:
    if kind == "acceleration" and unit == "g":
        return "standard_gravity"
    parts = []
    for power_part in unit.replace("^", "").split("/"):
        words = []
        for word in power_part.split("*"):
            stem = word.rstrip("23")
            power = word[len(stem) :]
            stem = {"in": "inch", "ft": "foot", "lb": "pound", "t": "metric_ton", "min": "minute", "deg": "degree"}.get(
                stem, stem
            )
            words.append(f"{SPELT.get(word) or stem}{'**' + power if power else ''}")
        parts.append("*".join(words))
    return "/".join(f"({part})" for part in parts)  # a/b/c is a over b over c


ROWS = [(k.name, unit, factor) for k in KINDS.values() for unit, factor in k.units.items()]


@pytest.mark.parametrize(("kind", "unit", "factor"), ROWS, ids=[f"{k}-{u}" for k, u, _ in ROWS])
def test_every_accepted_unit_agrees_with_pint(kind: str, unit: str, factor: float) -> None:
    base = UREG(pint_unit(KINDS[kind].base, kind)) if kind != "temperature" else UREG.Quantity(1, "degC")
    other = UREG(pint_unit(unit, kind)) if kind != "temperature" else UREG.Quantity(1, "degC")
    assert other.dimensionality == base.dimensionality
    assert other.to(base.units).magnitude == pytest.approx(factor, rel=1e-14)


COLUMNS = [(u, f, b) for u, (f, b) in COLUMN_UNITS.items()]


@pytest.mark.parametrize(("unit", "factor", "base"), COLUMNS, ids=[u for u, _, _ in COLUMNS])
def test_every_unit_of_a_table_column_agrees_with_pint(unit: str, factor: float, base: str) -> None:
    kind = next((k.name for k in KINDS.values() if k.base == base), "")
    target = UREG("dimensionless") if base == "1" else UREG(pint_unit(base, kind))
    assert UREG(pint_unit(unit, "")).to(target.units).magnitude == pytest.approx(factor, rel=1e-14)


@pytest.mark.parametrize("kind", KINDS)
def test_base_example_and_shown_units_are_accepted(kind: str) -> None:
    table = KINDS[kind]
    assert 1.0 in table.units.values(), "the base unit itself can be written"
    for choices in (table.metric, table.inch):
        for unit, factor in choices:
            assert table.units.get(unit) == factor, f"{unit} is shown but not read back"
    assert table.units[table.example.split(" ", 1)[1]] > 0
    assert table.largest > 0
    assert not set(table.advice) & set(table.units), "a unit is accepted and warned against"


def test_exact_definitions() -> None:
    # international yard and pound agreement 1959: inch 25.4 mm, pound 0.45359237 kg; CGPM 1901: g 9.80665 m/s2
    assert KINDS["length"].units["in"] == 25.4
    assert KINDS["mass"].units["lb"] == 0.45359237e-3
    assert GRAVITY == 9806.65
    assert KINDS["force"].units["lbf"] == pytest.approx(0.45359237 * 9.80665, rel=1e-15)
    assert KINDS["force"].units["kgf"] == 9.80665
    # a consistent set: 1 t x 1 mm/s2 = 1 N, 1 N/mm2 = 1 MPa
    assert UREG("1 metric_ton * mm / s**2").to("N").magnitude == pytest.approx(1.0)
    assert UREG("1 N/mm**2").to("MPa").magnitude == pytest.approx(1.0)
    assert KINDS["angle"].units["deg"] == pi / 180


def test_registry_is_one_and_knows_the_result_units() -> None:
    assert registry() is registry()
    for unit in ("mm", "N", "MPa", "t", "mm/s^2", "N*mm", "N/mm", "N*mm/rad", "mm^2", "mm^3", "mm^4", "mm^6", "t/mm^3",
                 "kg/m", "kg/m^2", "Hz", "mm^4/mm", "mm^3/mm", "rad", "1"):  # fmt: skip
        assert quantity(2.5, unit).magnitude == 2.5
    assert quantity(None, "mm") is None
    assert quantity(1.0, "t/mm^3").to("kg/m**3").magnitude == pytest.approx(1e12)
    assert quantity(20.0, "°C").to("kelvin").magnitude == pytest.approx(293.15)
