"""The grammar of a builder's text: what is accepted, what is refused, and what the refusal says."""

from __future__ import annotations

import re
from math import isfinite

import pint
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from jointcalc.errors import InputError
from jointcalc.quantity import GRAVITY, KINDS, Gauge, parse, parse_list, parse_thickness, show
from jointcalc.quantity.edge import registry
from jointcalc.quantity.parse import parse_range

ACCEPTED = [
    ("1.2 mm", "length", 1.2),
    ("1.2mm", "length", 1.2),
    ("  1.2   mm ", "length", 1.2),
    ("+1.2 mm", "length", 1.2),
    (".5 in", "length", 12.7),
    ("5. mm", "length", 5.0),
    ("3/4 in", "length", 19.05),
    ("1-1/2 in", "length", 38.1),
    ("1 1/2 in", "length", 38.1),
    ('3/8"', "length", 9.525),
    ('1 1/2"', "length", 38.1),
    ("0.048 in", "length", 1.2192),
    ("4 ft", "length", 1219.2),
    # feet and inches, the inches always with their mark
    ("1'6\"", "length", 457.2),
    ("1' 6-1/2\"", "length", 469.9),
    ("1'-6\"", "length", 457.2),
    ("1 ft 6 1/2 in", "length", 469.9),
    ("5 ft 0 in", "length", 1524.0),
    ("1e3 um", "length", 1.0),
    ("1.2E+0 mm", "length", 1.2),
    ("300 µm", "length", 0.3),
    ("12 kN", "force", 12e3),
    ("3000 lbf", "force", 3000 * 4.4482216152605),
    ("2.7 kip", "force", 2700 * 4.4482216152605),
    ("362 daN", "force", 3620.0),
    ("224 kgf", "force", 224 * 9.80665),
    ("20 g", "acceleration", 20 * 9806.65),
    ("9.80665 m/s2", "acceleration", 9806.65),
    ("20 g", "mass", 20e-6),
    ("15 kg", "mass", 0.015),
    ("270 N/mm2", "stress", 270.0),
    ("270 N/mm^2", "stress", 270.0),
    ("40 ksi", "stress", 40 * 4448.2216152605 / 25.4**2),
    ("1 kPa", "pressure", 1e-3),
    ("5e7 N*mm/rad", "rotational stiffness", 5e7),
    ("1 N/mm", "line load", 1.0),
    ("30 deg", "angle", 0.5235987755982988),
    ("7850 kg/m3", "density", 7.85e-9),
    ("50 Nm", "moment", 50e3),
]


@pytest.mark.parametrize(("text", "kind", "value"), ACCEPTED)
def test_accepted(text: str, kind: str, value: float) -> None:
    assert parse(text, kind) == pytest.approx(value, rel=1e-11)


# text, kind, words of the refusal
REFUSED = [
    # a pint text parser reads these as 12 mm and half an inch
    ("1,2 mm", "length", "comma"),
    ("1.200,5 mm", "length", "comma"),
    ("1.2,mm", "length", "comma"),
    ("12", "length", "no unit"),
    ("1.2", "length", "no unit"),
    ("3/4", "length", "no unit"),
    ("1 1/2", "length", "no unit"),
    ("", "length", "nothing given"),
    ("   ", "length", "nothing given"),
    ("mm", "length", "cannot be read"),
    ("nan mm", "length", "cannot be read"),
    ("inf mm", "length", "cannot be read"),
    ("-inf mm", "length", "cannot be read"),
    ("infinity mm", "length", "cannot be read"),
    ("1e400 mm", "length", "finite"),
    ("1e999999999 mm", "length", "finite"),
    ("-3 mm", "length", "negative"),
    ("\N{MINUS SIGN}3 mm", "length", "negative"),
    ("--3 mm", "length", "cannot be read"),
    ("0x10 mm", "length", "not a unit"),
    ("1_000 mm", "length", "not a unit"),
    ("\N{ARABIC-INDIC DIGIT ONE} mm", "length", "cannot be read"),
    ("\N{FULLWIDTH DIGIT TWO} mm", "length", "cannot be read"),
    ("1\N{SUPERSCRIPT TWO} mm", "length", "not a unit"),
    ("\N{VULGAR FRACTION ONE HALF} in", "length", "write a fraction as '1/2'"),
    ("1\N{VULGAR FRACTION ONE HALF} in", "length", "write a fraction as '1/2'"),
    # a lone foot mark may be half of an inch mark, and inches without a mark may be anything
    ("1'6", "length", "no unit behind its inches"),
    ("1 ft 6", "length", "no unit behind its inches"),
    ("1'13\"", "length", "a foot or more"),
    ("1'6\"", "force", "not a unit"),
    ("4''", "length", "write 'in'"),
    ("1/0 in", "length", "divides by zero"),
    ("0/0 in", "length", "divides by zero"),
    ("1/2/3 in", "length", "not a unit"),
    ("1 2 mm", "length", "cannot be read"),
    ("1.2 mm mm", "length", "not a unit"),
    ("1.2 mm thick", "length", "not a unit"),
    ("1.2 MM", "length", "write 'mm'"),
    ("1.2 Mm", "length", "not a unit"),
    ("3'", "length", "write 'ft'"),
    ("48 mil", "length", "thou"),
    ("18 ga", "length", "gauge"),
    ("1.2 inch", "length", "write 'in'"),
    ("1.2 kN", "length", "is a unit of force, but this is a length"),
    ("1.2 mm", "force", "is a unit of length, but this is a force"),
    ("10 lb", "force", "'lb' is a mass"),
    ("10 kg", "force", "'kg' is a mass"),
    ("20 g", "force", "acceleration"),
    ("10 lbf", "mass", "a mass is in 'lb'"),
    ("350 Mpa", "stress", "write 'MPa'"),
    ("350 N/mm", "stress", "load per length"),
    ("20 G", "acceleration", "write 'g'"),
    ("20 kg", "acceleration", "mass"),
    ("50 ft-lbf", "moment", "lbf*ft"),
    ("60 C", "temperature", "degC"),
    ("1.2 mm; rm -rf", "length", "not a unit"),
    ("1.2\x00mm", "length", "not a unit"),
    ("1.2 mm\n1.3 mm", "length", "cannot be read"),
    ("12 m 3 cm", "length", "not a unit"),
    ("60 m", "length", "out of proportion"),
    (1.2, "length", "1.2 has no unit"),
    (12, "length", "12 has no unit"),
    (float("nan"), "length", "no unit"),
    (True, "length", "nothing usable"),
    (None, "length", "nothing usable"),
    ([1.2, "mm"], "length", "not list"),
    ({"value": 1.2}, "length", "not dict"),
    (b"1.2 mm", "length", "not bytes"),
]


@pytest.mark.parametrize(("text", "kind", "words"), REFUSED)
def test_refused_with_the_reason_and_the_accepted_form(text: object, kind: str, words: str) -> None:
    with pytest.raises(InputError) as caught:
        parse(text, kind, field="--there")
    error = caught.value
    assert words in error.message
    assert error.field == "--there"
    assert str(error).startswith("--there: ")
    if "proportion" not in words:
        assert f"write a{'n' if kind[0] in 'aeiou' else ''} {kind} such as '{KINDS[kind].example}'" in error.message
    assert len(error.message) < 400


def test_size_limits_are_told_in_units() -> None:
    with pytest.raises(InputError, match=re.escape("accepted is 2 mm to 1000 mm; check the number and its unit")):
        parse("12 m", "length", field="pitch", low=2.0, high=1000.0)
    with pytest.raises(InputError, match="out of proportion"):
        parse("1.9 mm", "length", low=2.0, high=1000.0)
    assert parse("2 mm", "length", low=2.0, high=1000.0) == 2.0
    assert parse("1 m", "length", low=2.0, high=1000.0) == 1000.0
    with pytest.raises(InputError, match="out of proportion"):
        parse("-1.1 MN".replace("MN", "kN"), "force", signed=True, high=1000.0)
    assert parse("-1 kN", "force", signed=True, high=1000.0) == -1000.0
    assert parse("\N{MINUS SIGN}1 kN", "force", signed=True) == -1000.0


def test_pint_quantities_are_accepted_at_the_python_edge() -> None:
    ureg = registry()
    assert parse(ureg.Quantity(0.0478, "inch"), "length") == pytest.approx(1.21412)
    assert parse(ureg.Quantity(7850, "kg/m**3"), "density") == pytest.approx(7.85e-9)
    assert parse(pint.UnitRegistry().Quantity(1, "kN*m"), "moment") == pytest.approx(1e6)
    with pytest.raises(InputError, match="is not a length"):
        parse(ureg.Quantity(1, "kN"), "length")
    with pytest.raises(InputError, match="negative"):
        parse(ureg.Quantity(-1, "mm"), "length")
    with pytest.raises(InputError, match="finite"):
        parse(ureg.Quantity(float("nan"), "mm"), "length")


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("18 ga", Gauge(18)), ("18ga", Gauge(18)), ("18 gauge", Gauge(18)), ("18 GA.", Gauge(18)), (Gauge(20), Gauge(20)),
        ("18 swg", Gauge(18, wire=True)), ("18SWG", Gauge(18, wire=True)),
        ("1.2 mm", 1.2), ("3/64 in", 1.190625), ("0.0478 in", 1.21412),
    ],
)  # fmt: skip
def test_thickness_or_gauge(text: object, value: object) -> None:
    assert parse_thickness(text) == pytest.approx(value) if isinstance(value, float) else parse_thickness(text) == value


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("18", "no unit"), ("ga 18", "cannot be read"), ("1/2 ga", "gauge"), ("118 ga", "gauge"), ("-18 ga", "gauge"),
        ("18.5 ga", "gauge"), ("0 mm", "out of proportion"), ("31 mm", "out of proportion"), ("1,2 mm", "comma"),
        (1.2, "no unit"), ("18 ga x", "not a unit"),
    ],
)  # fmt: skip
def test_thickness_refused(text: object, words: str) -> None:
    with pytest.raises(InputError, match=words) as caught:
        parse_thickness(text, field="--sheet")
    assert caught.value.field == "--sheet"
    assert "18 ga" in caught.value.message or "proportion" in words


@pytest.mark.parametrize(
    ("text", "kind", "count", "values"),
    [
        ("0 0 100 0 mm", "length", 4, [0, 0, 100, 0]),
        ("0 -10 0 kN", "force", 3, [0, -10e3, 0]),
        ("0 \N{MINUS SIGN}10 0kN", "force", 3, [0, -10e3, 0]),
        ("5e7 1e7 N*mm/rad", "rotational stiffness", 2, [5e7, 1e7]),
        ("600 400 mm", "length", None, [600, 400]),
        ("1 2 3in", "length", None, [25.4, 50.8, 76.2]),
        ('1 2"', "length", 2, [25.4, 50.8]),
        ("0 4-1/2 in", "length", 2, [0, 114.3]),
        ("0 0 3-1/2 0 in", "length", 4, [0, 0, 88.9, 0]),
        ("-4-1/2 1/4in", "length", 2, [-114.3, 6.35]),
        ("0 1/2 in", "length", 2, [0, 12.7]),
        ("4.0 1/2 in", "length", 2, [101.6, 12.7]),
        ('3-1/2 1/2"', "length", 2, [88.9, 12.7]),
    ],
)
def test_lists_share_the_last_unit(text: str, kind: str, count: int | None, values: list[float]) -> None:
    assert parse_list(text, kind, count) == pytest.approx(values)


@pytest.mark.parametrize(
    ("text", "count", "words"),
    [
        ("0 0 100 mm", 4, "has 3 numbers, 4 are needed"),
        ("0, 0, 100, 0 mm", 4, "comma"),
        ("0 0 100 0", 4, "no unit at its end"),
        ("0 mm 0 mm", 2, "not a unit"),
        ("", 2, "cannot be read"),
        ("mm", 2, "has 0 numbers"),
        ("0 0 kN", 2, "unit of force"),
        ("nan 0 mm", 2, "not a unit"),
        ("1e400 0 mm", 2, "out of proportion"),
        ("1e9 0 mm", 2, "out of proportion"),
        ([0, 0], 2, "not a text"),
        # whether 4 and a half or 4 and then a half is meant, the number that are needed must not decide
        ("0 4 1/2 in", 2, "write '4-1/2' for one, '4.0 1/2' for two"),
        ("4 1/2 in", 2, "one size or two"),
        ("-4 1/2 in", 2, "one size or two"),
        ("0 1/0 in", 2, "divides by zero"),
        ("4-1/2-1/2 0 in", 2, "not a unit"),
        ("24x16 in", 2, "an 'x' between"),
        ("0 1\N{VULGAR FRACTION ONE HALF} in", 2, "write a fraction"),
        ("4 in 6 in", 2, "the unit stands once, at the end"),
    ],
)
def test_lists_refused(text: object, count: int, words: str) -> None:
    with pytest.raises(InputError, match=words) as caught:
        parse_list(text, "length", count, field="--line")
    assert caught.value.field == "--line"
    assert "comma" in words or "proportion" in words or "such as" in caught.value.message


@pytest.mark.parametrize(
    ("text", "values"),
    [
        ("600x400 mm", [600, 400]), ("600 x 400mm", [600, 400]), ("24X16 in", [609.6, 406.4]), ("24\" × 16\"", [609.6, 406.4]),
        ("24 1/2 x 16-1/4 in", [622.3, 412.75]), ("600 400 mm", [600, 400]), ("2 ft x 16 in", [609.6, 406.4]),
        ("1'6\" x 1 ft", [457.2, 304.8]),
    ],
)  # fmt: skip
def test_sizes_with_an_x_between_them(text: str, values: list[float]) -> None:
    assert parse_list(text, "length", 2, by=True, signed=False) == pytest.approx(values)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("600x400", "no unit at its end"), ("24 in x 16", "no unit at its end"), ("2 x 24 in x 16 in", "some of its numbers"),
        ("0x10 mm", "a size of 0"), ("600x400x3 mm", "has 3 numbers"), ("600 400 x 3 mm", "cannot be read"), ("x 24 in", "not a unit"),
        ("24x16 kN", "unit of force"),
    ],
)  # fmt: skip
def test_sizes_with_an_x_refused(text: str, words: str) -> None:
    with pytest.raises(InputError, match=words):
        parse_list(text, "length", 2, by=True, signed=False)


@pytest.mark.parametrize(
    ("text", "ends"),
    [
        ("20mm..50mm", (20, 50)), ("20..50 mm", (20, 50)), ("1/32..1/8 in", (0.79375, 3.175)), ("1/32in..1/8in", (0.79375, 3.175)),
        ("1-1/2 .. 2-1/4 in", (38.1, 57.15)), ("1 in..50 mm", (25.4, 50)), ("1 ft..1 ft 6 in", (304.8, 457.2)),
    ],
)  # fmt: skip
def test_ranges(text: str, ends: tuple[float, float]) -> None:
    assert parse_range(text, "length") == pytest.approx(ends)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("2..1 in", "from small to large"), ("5mm..5mm", "from small to large"), ("20..50", "no unit"), ("20 mm..", "nothing given"),
        ("..5 mm", "nothing given"), ("1/2..3/4", "no unit"), ("1..2..3 in", "not a unit|cannot be read"),
    ],
)  # fmt: skip
def test_ranges_refused(text: str, words: str) -> None:
    with pytest.raises(InputError, match=words):
        parse_range(text, "length", field="--profile")


def test_negative_numbers_of_a_list() -> None:
    with pytest.raises(InputError, match="negative"):
        parse_list("0 -1 mm", "length", 2, signed=False)


# --- properties ------------------------------------------------------------------------------------------------------

UNITS = [(k.name, u) for k in KINDS.values() for u in k.units]
TEXT = st.one_of(
    st.text(max_size=24),
    st.from_regex(r"[-+ ]?[0-9.,/ eE-]{0,8}[ ]?[A-Za-z/*^0-9\"'°µ]{0,6}", fullmatch=True),
    st.builds(lambda n, s, u: f"{n}{s}{u[1]}", st.floats(), st.sampled_from(["", " ", "  ", "\t"]), st.sampled_from(UNITS)),
)  # fmt: skip


@given(TEXT, st.sampled_from(sorted(KINDS)))
@example("1,2 mm", "length")
@example("1 1/2", "length")
@example("1e5", "force")
def test_no_text_yields_a_number_without_a_known_unit(text: str, kind: str) -> None:
    table = KINDS[kind]
    try:
        value = parse(text, kind, signed=True)
    except InputError:
        return
    assert isfinite(value)
    ends = [u for u in table.units if text.strip().endswith(u)]
    assert ends
    head = text.strip()[: -len(max(ends, key=len))].strip()
    head = re.sub(r"(?<=[0-9])\s*(?:'|ft)\s*-?\s*(?=[0-9.])", " ", head) if kind == "length" else head
    assert re.fullmatch(r"[-+\N{MINUS SIGN}]?[0-9./ eE+-]+", head)
    assert "," not in text


@given(st.sampled_from(list(KINDS)), st.sampled_from(["metric", "inch"]), st.floats(1e-6, 1.0), st.integers(2, 9))
def test_what_is_shown_reads_back_and_shows_the_same(kind: str, system: str, part: float, digits: int) -> None:
    table = KINDS[kind]
    value = table.largest * part**3
    text = show(value, kind, system, digits)  # type: ignore[arg-type]
    again = parse(text.replace(" ", "", text.count(" ") - 1), kind)
    assert again == pytest.approx(value, rel=0.51 * 10.0 ** (1 - digits))
    assert show(again, kind, system, digits) == text  # type: ignore[arg-type]


@given(st.sampled_from(UNITS), st.floats(1e-3, 1e3, allow_subnormal=False))
def test_every_unit_scales(pair: tuple[str, str], number: float) -> None:
    kind, unit = pair
    value = number * KINDS[kind].units[unit]
    if value <= KINDS[kind].largest:
        assert parse(f"{number!r} {unit}", kind) == value
        assert parse_list(f"{number!r} -{number!r} {unit}", kind, 2) == [value, -value]


@given(st.integers(0, 60), st.integers(0, 63), st.sampled_from([2, 4, 8, 16, 32, 64]))
def test_mixed_numbers_are_sums(whole: int, top: int, bottom: int) -> None:
    value = 25.4 * (whole + top / bottom)
    for joint in ("-", " "):
        assert parse(f"{whole}{joint}{top}/{bottom} in", "length") == pytest.approx(value, rel=1e-15)
    assert parse(f"{top}/{bottom} in", "length") == pytest.approx(25.4 * top / bottom, rel=1e-15)


@given(st.floats(0.06, 29.0))
def test_acceleration_g_is_never_a_mass(number: float) -> None:
    assert parse(f"{number!r} g", "acceleration") == pytest.approx(number * GRAVITY)
    assert parse(f"{number!r} g", "mass") == pytest.approx(number * 1e-6)
