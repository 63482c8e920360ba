"""Materials, gauges and stock sizes against naming rules, gauge laws and unit twins. The source stands beside each."""

from __future__ import annotations

import itertools
import re

import numpy as np
import pytest
from read_tables import numbers, row, rows

from jointcalc.errors import InputError
from jointcalc.quantity import Gauge
from jointcalc.tables.gauges import gauges_between, sheet_thickness

INCH = 25.4
KSI = 6.894757293168361  # MPa
MATERIALS = rows("materials")


def of(grade: str) -> dict[str, str]:
    """First row of a grade."""
    return next(r for r in MATERIALS if r["grade"] == grade)


# --- materials


def test_names_and_aliases_lead_to_one_grade() -> None:
    owner: dict[str, str] = {}
    for r in MATERIALS:
        for name in (r["grade"], *filter(None, r["aliases"].split(";"))):
            assert owner.setdefault(name.strip().lower(), r["grade"]) == r["grade"], name
    assert owner["s355"] == "S355J2"
    assert owner["1.4301"] == "1.4301"


def test_a_bare_alloy_name_never_hides_its_condition() -> None:
    # annealed 4130 or 6061 is far weaker than the tempers listed: the condition must be typed
    known = {n.lower() for r in MATERIALS for n in (r["grade"], *r["aliases"].split(";"))}
    assert not known & {"4130", "6061", "6082", "5052", "5083", "5754", "3003"}


@pytest.mark.parametrize(
    "grade,most,assumed",
    [("DC01", 280, 140), ("DC03", 240, 140), ("DC04", 210, 140), ("DC05", 180, 140), ("DC06", 170, 120)],
)
def test_drawing_grades_have_only_a_maximum_yield(grade: str, most: float, assumed: float) -> None:
    # EN 10130:2006: maximum yield only; a design may assume 140 MPa, 120 for DC06 (from memory)
    r = of(grade)
    assert r["f_y_min"] == ""
    assert r["f_y_basis"] == "maximum only"
    assert float(r["f_y_max"]) == most
    assert float(r["f_y_assumable"]) == assumed


def test_drawing_grades_soften_and_stretch_with_their_number() -> None:
    # EN 10130: maximum yield and tensile fall, elongation rises from DC01 to DC06
    series = [of(f"DC0{i}") for i in (1, 3, 4, 5, 6)]
    assert [float(r["f_y_max"]) for r in series] == sorted((float(r["f_y_max"]) for r in series), reverse=True)
    assert [float(r["elongation"]) for r in series] == [28, 34, 38, 40, 41]
    assert [float(r["f_u_max"]) for r in series] == [410, 370, 350, 330, 330]
    assert {r["f_u_min"] for r in series} == {"270"}


def test_commercial_grades_let_no_yield_be_assumed() -> None:
    # ASTM A1008/A1011 CS and DS: no mandatory tensile values; EN 10346 DX51D: no yield
    for grade in ("A1008 CS Type B", "A1008 DS Type B", "A1011 CS Type B"):
        r = of(grade)
        assert (r["f_y_basis"], r["basis"]) == ("typical", "typical")
        assert r["f_y_assumable"] == r["f_u_min"] == ""
    assert (of("DX51D+Z")["f_y_basis"], of("DX51D+Z")["f_y_assumable"]) == ("none", "")


def test_assumable_yield_is_never_above_the_minimum() -> None:
    for r in MATERIALS:
        if r["f_y_assumable"] and r["f_y_min"]:
            assert float(r["f_y_assumable"]) <= float(r["f_y_min"])
        if r["f_y_assumable"]:
            assert float(r["f_y_assumable"]) < float(r["f_u_min"]), r["grade"]
            assert r["f_y_basis"] in {"minimum", "maximum only", "characteristic", "estimated", "expected"}


def test_a_grade_named_by_its_yield_has_it() -> None:
    # EN 10027-1: the number in S355MC, HC340LA, S280GD, HX300LAD is the minimum yield in MPa
    named = 0
    for r in MATERIALS:
        found = re.match(r"(?:S|HC|HX)(\d{3})(?:MC|LA|GD|JR|J2|Y|P|B)", r["grade"])
        if found:
            named += 1
            assert float(r["f_y_min"]) == float(found[1]), r["grade"]
    assert named >= 30


def test_astm_grade_number_is_the_yield_in_ksi() -> None:
    # ASTM A1008/A1011 SS and HSLAS grades: number = minimum yield in ksi, metric value rounded by the standard
    named = 0
    for r in MATERIALS:
        found = re.match(r"A10(?:08|11) (?:SS|HSLAS) Gr (\d+)|A(36)$", r["grade"])
        if found:
            named += 1
            ksi = float(found[1] or found[2])
            assert float(r["f_y_min"]) == pytest.approx(ksi * KSI, rel=0.021), r["grade"]
    assert named >= 18


@pytest.mark.parametrize(
    "grade,yield_ksi,tensile_ksi", [("1025", 36, 55), ("304", 30, 75), ("304L", 25, 70), ("A36", 36, 58)]
)
def test_ksi_values_of_the_standards(grade: str, yield_ksi: float, tensile_ksi: float) -> None:
    # MIL-HDBK-5 (1025: 36/55 ksi, seen), ASTM A240 (304: 30/75, 304L: 25/70), ASTM A36 (36/58)
    assert float(of(grade)["f_y_min"]) == pytest.approx(yield_ksi * KSI, abs=4)
    assert float(of(grade)["f_u_min"]) == pytest.approx(tensile_ksi * KSI, abs=4)


def test_normalised_4130_by_thickness() -> None:
    # MIL-HDBK-5J Table 2.3.1.0: 75/95 ksi to 0.188 in, 70/90 ksi above
    thin, thick = (r for r in MATERIALS if r["grade"] == "4130N")
    assert float(thin["t_max"]) == float(thick["t_min"]) == pytest.approx(0.188 * INCH)
    for r, y, u in ((thin, 75, 95), (thick, 70, 90)):
        assert float(r["f_y_min"]) == pytest.approx(y * KSI, abs=0.6)
        assert float(r["f_u_min"]) == pytest.approx(u * KSI, abs=0.6)


def test_thickness_rows_of_a_grade_leave_no_gap() -> None:
    for grade in {r["grade"] for r in MATERIALS}:
        spans = sorted((float(r["t_min"] or 0), float(r["t_max"] or 1e9)) for r in MATERIALS if r["grade"] == grade)
        assert spans[0][0] == 0
        for (_, end), (start, _) in itertools.pairwise(spans):
            assert start == end, grade


def test_thin_zinc_sheet_stretches_less() -> None:
    # EN 10346: elongation 4 points lower to 0.5 mm, 2 points lower to 0.7 mm
    for grade in ("DX52D+Z", "DX53D+Z", "DX54D+Z", "DX56D+Z", "DX57D+Z"):
        thinnest, thin, full = (float(r["elongation"]) for r in MATERIALS if r["grade"] == grade)
        assert (full - thinnest, full - thin) == (4, 2)


def test_zinc_is_marked_on_every_coated_grade_and_no_other() -> None:
    for r in MATERIALS:
        assert (r["coating"] == "zinc") == ("+Z" in r["grade"]), r["grade"]


BANDS = {
    "steel": {"E": (200, 210), "nu": (0.29, 0.32), "density": (7830, 7860), "expansion": (11.0e-6, 12.1e-6)},
    "stainless": {"E": (193, 200), "nu": (0.29, 0.30), "density": (7900, 8000), "expansion": (16e-6, 17.3e-6)},
    "aluminium": {"E": (68, 71), "nu": (0.3, 0.33), "density": (2660, 2740), "expansion": (23e-6, 24e-6)},
}
STRENGTHS = {"steel": (120, 700), "stainless": (170, 750), "aluminium": (80, 320)}


@pytest.mark.parametrize("r", MATERIALS, ids=lambda r: f"{r['grade']} {r['t_min']}-{r['t_max']}")
def test_constants_are_those_of_the_metal(r: dict[str, str]) -> None:
    # EN 1993, EN 1999, AISC, MIL-HDBK-5 general values of the family
    for column, (low, high) in BANDS[r["family"]].items():
        assert low <= float(r[column]) <= high, column
    low, high = STRENGTHS[r["family"]]
    for column in ("f_y_min", "f_y_max", "f_y_assumable", "f_u_min", "f_u_max"):
        assert not r[column] or low <= float(r[column]) <= high, column
    if r["elongation"]:
        assert 1 <= float(r["elongation"]) <= 45
    if r["elongation_upper"]:
        assert float(r["elongation"]) < float(r["elongation_upper"]) <= 45
    if r["f_y_min"] and r["f_y_max"]:
        assert float(r["f_y_min"]) < float(r["f_y_max"])
    if r["f_u_min"] and r["f_u_max"]:
        assert float(r["f_u_min"]) < float(r["f_u_max"]) <= 1.9 * float(r["f_u_min"])


def test_stronger_grades_stretch_less() -> None:
    # within one standard and condition, more tensile strength never comes with more elongation
    for family in (
        r"HC\d{3}LA$",
        r"S\d{3}GD",
        r"HX",
        r"S\d{3}MC",
        r"A1008 SS",
        r"A1008 HSLAS",
        r"A1011 SS",
        r"A1011 HSLAS",
    ):
        members = [r for r in MATERIALS if re.match(family, r["grade"])]
        for gauge in {r["gauge_length"] for r in members}:
            chosen = sorted(
                (float(r["f_u_min"]), -float(r["elongation"])) for r in members if r["gauge_length"] == gauge
            )
            assert len(chosen) >= 3
            assert [e for _, e in chosen] == sorted(e for _, e in chosen), (family, gauge)
            assert len({u for u, _ in chosen}) == len(chosen)


def test_yield_and_tensile_rise_together() -> None:
    for family in (
        r"HC\d{3}LA$",
        r"S\d{3}GD",
        r"HX",
        r"S\d{3}MC",
        r"A1008 SS",
        r"A1008 HSLAS",
        r"A1011 SS",
        r"A1011 HSLAS",
    ):
        pairs = sorted({(float(r["f_y_min"]), float(r["f_u_min"])) for r in MATERIALS if re.match(family, r["grade"])})
        assert all(a[1] < b[1] for a, b in itertools.pairwise(pairs)), family
        assert all(20 <= u - y <= 140 for y, u in pairs), family


def test_hot_dip_and_bare_high_strength_grades_have_the_same_strength() -> None:
    # EN 10268 HC..LA and EN 10346 HX..LAD: same yield range and minimum tensile strength, class by class
    for number in ("260", "300", "340", "380", "420"):
        bare, coated = of(f"HC{number}LA"), of(f"HX{number}LAD+Z")
        for column in ("f_y_min", "f_y_max", "f_u_min", "elongation"):
            assert bare[column] == coated[column], (number, column)


def test_heat_affected_strength_is_lower_and_the_same_in_both_tables() -> None:
    for r in MATERIALS:
        if r["f_y_haz"]:
            assert r["family"] == "aluminium"
            assert float(r["f_y_haz"]) <= float(r["f_y_min"])
            assert float(r["f_u_haz"]) <= float(r["f_u_min"])
    pairs = {"EN AW-6061-T6": ("6061", "T6", "extrusion, tube"), "EN AW-6061-T4": ("6061", "T4", "extrusion, tube"), "6063-T6": ("6063", "T6", "extrusion, tube"), "6063-T5": ("6063", "T5", "extrusion"), "6063-T66": ("6063", "T66", "extrusion"), "6060-T6": ("6060", "T6", "extrusion"), "6005A-T6": ("6005A", "T6", "open extrusion"), "6106-T6": ("6106", "T6", "extrusion"), "5083-O": ("5083", "O/H111", "extrusion, tube"), "5083-H12": ("5083", "H12/H22/H32", "drawn tube"), "6082-T6": ("6082", "T6", "sheet"), "5083-H22": ("5083", "H22/H32", "sheet"), "5754-H24": ("5754", "H24", "sheet")}  # fmt: skip
    for grade, (alloy, temper, product) in pairs.items():
        a, b = of(grade), row("haz_aluminium", alloy=alloy, temper=temper, product=product)
        assert [a["f_y_min"], a["f_u_min"], a["f_y_haz"], a["f_u_haz"], a["t_max"]] == [
            b["f_o"],
            b["f_u"],
            b["f_o_haz"],
            b["f_u_haz"],
            b["t_max"],
        ], grade


def test_us_welded_strengths_of_aluminium() -> None:
    # Aluminum Design Manual (from memory): 6061-T6 24/15 ksi, 5052-H32 25/9.5, 3003-H14 14/5
    for grade, tensile, proof in (("6061-T6", 24, 15), ("5052-H32", 25, 9.5), ("3003-H14", 14, 5)):
        assert float(of(grade)["f_u_haz"]) == pytest.approx(tensile * KSI, abs=2.5)
        assert float(of(grade)["f_y_haz"]) == pytest.approx(proof * KSI, abs=1.7)


# --- gauges


def test_gauge_millimetres_are_the_inches() -> None:
    for name in ("gauge_steel_cold_rolled", "gauge_steel_hot_rolled", "gauge_steel_galvanised", "gauge_stainless"):
        np.testing.assert_allclose(numbers(name, "t_mm"), INCH * numbers(name, "t"), atol=6e-4)


def test_brown_and_sharpe_law() -> None:
    # t = 0.005 in x 92^((36 - n)/39), the definition of the gauge
    law = 0.005 * 92 ** ((36 - numbers("gauge_aluminium", "gauge")) / 39)
    np.testing.assert_allclose(numbers("gauge_aluminium", "t"), law, atol=5.1e-5)
    np.testing.assert_allclose(numbers("gauge_aluminium", "t_mm"), INCH * law, atol=6e-4)


def test_stainless_and_steel_gauges_are_one_weight_gauge() -> None:
    # the old US gauge is a weight gauge: 40 lb/ft2 per inch for iron, 41.82 for the manufacturers' standard gauge
    stainless = numbers("gauge_stainless", "t")
    assert [r["gauge"] for r in rows("gauge_stainless")] == [r["gauge"] for r in rows("gauge_steel_cold_rolled")]
    np.testing.assert_allclose(numbers("gauge_steel_cold_rolled", "t"), stainless * 40 / 41.82, atol=1.2e-4)


def test_galvanised_gauge_is_steel_plus_two_and_a_half_ounces_of_zinc() -> None:
    # galvanised sheet gauge: 2.5 oz/ft2 more than the bare sheet, at 41.82 lb/ft2 per inch
    bare = {r["gauge"]: float(r["t"]) for r in rows("gauge_steel_cold_rolled")}
    for r in rows("gauge_steel_galvanised"):
        assert float(r["t"]) - bare[r["gauge"]] == pytest.approx(2.5 / 16 / 41.82, abs=1.6e-4)


def test_hot_rolled_nominal_is_the_same_gauge() -> None:
    bare = {r["gauge"]: r["t"] for r in rows("gauge_steel_cold_rolled")}
    for r in rows("gauge_steel_hot_rolled"):
        assert r["t"] == bare[r["gauge"]]


@pytest.mark.parametrize("name", ["gauge_steel_cold_rolled", "gauge_steel_hot_rolled", "gauge_steel_galvanised"])
def test_limits_lie_evenly_about_the_nominal(name: str) -> None:
    # ASTM A568 and A924 tolerances are plus and minus the same
    t, low, high = (numbers(name, c) for c in ("t", "t_min", "t_max"))
    ok = ~np.isnan(low)
    assert ok.sum() >= 15
    np.testing.assert_allclose((low + high)[ok] / 2, t[ok], atol=6e-5)
    share = (high - low)[ok] / 2 / t[ok]
    assert np.all((share > 0.04) & (share < 0.2))
    half = (high - low)[ok] / 2
    assert np.all(np.diff(half) <= 1e-9)


def test_cold_rolled_limits_of_common_gauges() -> None:
    # printed gauge chart: 18 ga 0.0478 +/- 0.004, 20 ga 0.0359 +/- 0.003, 16 ga 0.0598 +/- 0.005, 14 ga 0.0747 +/- 0.005 in
    for gauge, nominal, tolerance in (
        ("18", 0.0478, 0.004),
        ("20", 0.0359, 0.003),
        ("16", 0.0598, 0.005),
        ("14", 0.0747, 0.005),
    ):
        r = row("gauge_steel_cold_rolled", gauge=gauge)
        assert float(r["t"]) == nominal
        assert float(r["t"]) - float(r["t_min"]) == pytest.approx(tolerance)


def test_conflicts_are_settled_as_documented() -> None:
    # 17 ga maximum 0.0578 in two charts (0.0548 is a misprint); 25 ga galvanised minimum 0.0207
    assert row("gauge_steel_cold_rolled", gauge="17")["t_max"] == "0.0578"
    assert row("gauge_steel_galvanised", gauge="25")["t_min"] == "0.0207"


@pytest.mark.parametrize(
    "name",
    [
        "gauge_steel_cold_rolled",
        "gauge_steel_hot_rolled",
        "gauge_steel_galvanised",
        "gauge_aluminium",
        "gauge_stainless",
        "gauge_uk_swg",
    ],
)
def test_higher_gauge_is_thinner(name: str) -> None:
    gauge, t = numbers(name, "gauge"), numbers(name, "t_mm")
    assert np.all(np.diff(gauge) > 0)
    assert np.all(np.diff(t) < 0)


def test_uk_wire_gauge() -> None:
    # statutory standard wire gauge in inches (Order in Council 1883); the stockholder's page cuts 1.219 to 1.21
    legal = {10: 0.128, 12: 0.104, 14: 0.080, 16: 0.064, 18: 0.048, 20: 0.036, 22: 0.028}
    for r in rows("gauge_uk_swg"):
        assert float(r["t_mm"]) == pytest.approx(legal[int(r["gauge"])] * INCH, abs=0.0095)
    assert row("gauge_uk_swg", gauge="18")["t_mm"] == "1.21"
    for number, size in legal.items():
        for family in ("steel", "aluminium", "stainless"):  # one table for every metal
            assert sheet_thickness(f"{number} swg", family) == pytest.approx(size * INCH, abs=0.0095)
    with pytest.raises(InputError, match="has 10, 12, 14, 16, 18, 20, 22 swg"):
        sheet_thickness("17 swg")


def test_a_range_of_gauges_goes_from_stock_to_stock() -> None:
    # what a stockholder keeps: common practice, no source; the ends are the builder's own
    found = gauges_between(Gauge(20), Gauge(13), "steel")
    assert [gauge.number for gauge, _ in found] == [20, 18, 16, 14, 13]
    assert [t for _, t in found] == sorted(t for _, t in found)
    assert [g.number for g, _ in gauges_between(Gauge(15), Gauge(19), "steel", True)] == [19, 18, 16, 15]
    assert gauges_between(Gauge(18), Gauge(18), "steel", True)[0][1] == pytest.approx(0.0516 * INCH, abs=2e-3)
    with pytest.raises(InputError, match="two systems"):
        gauges_between(Gauge(20), Gauge(14, wire=True), "steel")


def test_sheet_tolerance_grows_with_thickness_and_width() -> None:
    narrow, middle, wide = (
        numbers("sheet_tolerance_en10131", c) for c in ("tol_to_1200", "tol_to_1500", "tol_over_1500")
    )
    for column in (narrow, middle, wide):
        assert np.all(np.diff(column) > 0)
    assert np.all((narrow <= middle) & (middle <= wide))
    share = narrow / numbers("sheet_tolerance_en10131", "t_from")
    assert np.all((share > 0.04) & (share < 0.08))


def test_stock_sizes_rise_and_gauges_are_those_of_the_gauge_tables() -> None:
    tables = {
        "steel": "gauge_steel_cold_rolled",
        "galvanised": "gauge_steel_galvanised",
        "stainless": "gauge_stainless",
    }
    for series in ("metric", "inch"):
        for family in ("steel", "galvanised", "stainless", "aluminium"):
            chosen = [r for r in rows("stock_thickness") if (r["series"], r["family"]) == (series, family)]
            t = [float(r["t"]) for r in chosen]
            assert len(t) >= 9
            assert all(a < b for a, b in itertools.pairwise(t))
            for r in chosen:
                number, unit = r["size"].split()
                if unit == "ga":
                    assert float(r["t"]) == pytest.approx(
                        INCH * float(row(tables[family], gauge=number)["t"]), abs=1e-5
                    )
                else:
                    assert float(r["t"]) == pytest.approx(float(number) * {"mm": 1.0, "in": INCH}[unit])
