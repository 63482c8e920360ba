"""Bolts, rivets, fillers, heat-affected zones and weld sizes against formulas and printed loads."""

from __future__ import annotations

import numpy as np
import pytest
from read_tables import numbers, row, rows

INCH = 25.4
KSI = 6.894757293168361  # MPa


def test_metric_stress_area_formula() -> None:
    # ISO 898-1: A_s = pi/4 (d - 0.9382 P)^2, printed to three figures
    for r in rows("bolt_metric"):
        area = np.pi / 4 * (float(r["d"]) - 0.9382 * float(r["pitch"])) ** 2
        digits = 0.51 if float(r["stress_area"]) >= 100 else 0.051
        assert float(r["stress_area"]) == pytest.approx(area, abs=digits), r["size"]
        assert r["size"].startswith(f"M{r['d']}")


def test_inch_stress_area_formula() -> None:
    # ASME B1.1: A_t = 0.7854 (D - 0.9743/n)^2
    for r in rows("bolt_inch"):
        area = 0.7854 * (float(r["d"]) - 0.9743 / float(r["threads_per_inch"])) ** 2
        assert float(r["stress_area"]) == pytest.approx(area, rel=2e-3), r["size"]
        nominal, threads = r["size"].split("-")
        top, bottom = nominal.split("/")
        assert float(r["d"]) == int(top) / int(bottom)
        assert float(r["threads_per_inch"]) == float(threads)


ULTIMATE = {
    "M6": (16.1, 20.9, 24.5),
    "M8": (29.2, 38.1, 44.6),
    "M10": (46.4, 60.3, 70.8),
    "M12": (67.4, 87.7, 103),
    "M16": (125, 163, 192),
}
PROOF = {"M6": (11.6, 16.7, 19.5), "M8": (21.2, 30.4, 35.5), "M10": (33.7, 48.1, 56.3), "M12": (48.9, 70.0, 81.8)}


@pytest.mark.parametrize("column,printed", [("tensile_min", ULTIMATE), ("proof_stress", PROOF)])
def test_printed_loads_of_iso_898_1(column: str, printed: dict[str, tuple[float, ...]]) -> None:
    # ISO 898-1 minimum ultimate loads and proof loads, kN, as printed; both are A_s times the stress
    for size, loads in printed.items():
        area = float(row("bolt_metric", size=size)["stress_area"])
        for name, load in zip(("8.8", "10.9", "12.9"), loads):
            stress = float(next(r for r in rows("bolt_classes_iso898") if r["class"] == name)[column])
            assert area * stress / 1000 == pytest.approx(load, rel=0.006), (size, name)


def test_class_name_gives_nominal_strength_and_yield() -> None:
    # ISO 898-1: first figure x 100 = nominal tensile, product of both x 10 = nominal yield; minimum is not below
    for r in rows("bolt_classes_iso898"):
        first, second = (int(x) for x in r["class"].split("."))
        assert 1.0 <= float(r["tensile_min"]) / (first * 100) <= 1.06
        assert 1.0 <= float(r["yield_min"]) / (first * second * 10) <= 1.07
        assert 0.86 <= float(r["proof_stress"]) / float(r["yield_min"]) <= 0.95


def test_sae_grades_by_size() -> None:
    # SAE J429: grade 5 85/92/120 ksi to 1 in, 74/81/105 above; grade 8 120/130/150; grade 2 55/57/74 to 3/4 in, 33/36/60 above
    printed = [
        tuple(float(r[c]) for c in ("proof_stress", "yield_min", "tensile_min")) for r in rows("bolt_classes_sae_j429")
    ]
    assert printed == [(55, 57, 74), (33, 36, 60), (85, 92, 120), (74, 81, 105), (120, 130, 150)]
    assert [float(r["d_to"]) for r in rows("bolt_classes_sae_j429")] == [0.75, 1.5, 1, 1.5, 1.5]
    assert [float(r["d_from"]) for r in rows("bolt_classes_sae_j429")] == [0.25, 0.75, 0.25, 1, 0.25]


def test_class_8_8_changes_at_sixteen_millimetres() -> None:
    # ISO 898-1: 8.8 to 16 mm 800/640/580 MPa, above 830/660/600
    small, large = (r for r in rows("bolt_classes_iso898") if r["class"] == "8.8")
    assert (small["d_to"], large["d_over"]) == ("16", "16")
    assert [small[c] for c in ("tensile_min", "yield_min", "proof_stress")] == ["800", "640", "580"]
    assert [large[c] for c in ("tensile_min", "yield_min", "proof_stress")] == ["830", "660", "600"]


def test_stainless_class_name_is_a_tenth_of_the_tensile_strength() -> None:
    # ISO 3506-1: A2-70 has 700 MPa
    for r in rows("bolt_classes_iso3506"):
        assert float(r["tensile_min"]) == 10 * int(r["class"].split("-")[1])
        assert 0.4 < float(r["yield_min"]) / float(r["tensile_min"]) < 0.76


@pytest.mark.parametrize(
    "name,hole", [("bolt_metric_dimensions", "hole_medium"), ("bolt_inch_dimensions", "hole_normal")]
)
def test_hole_head_and_washer_sizes_nest(name: str, hole: str) -> None:
    # common practice: the head covers the hole, the washer covers the head, the large series is about 3 d
    for r in rows(name):
        d = float(r["size"][1:]) if r["size"][0] == "M" else eval_fraction(r["size"])
        assert 1.04 < float(r[hole]) / d < 1.13
        assert 1.4 < float(r["across_flats"]) / d < 1.8
        assert float(r["washer_diameter"]) > float(r["across_flats"])
        assert 1.8 < float(r["washer_diameter"]) / d < 2.6
        assert 0.12 < float(r["washer_thickness"]) / d < 0.28
        if "large_washer_diameter" in r:
            assert 2.9 < float(r["large_washer_diameter"]) / d < 3.2
            assert float(r["large_washer_thickness"]) >= float(r["washer_thickness"])
    for column in (hole, "across_flats", "washer_diameter", "washer_thickness"):
        assert np.all(np.diff(numbers(name, column)) >= 0)


def eval_fraction(text: str) -> float:
    """5/16 -> 0.3125."""
    top, bottom = text.split("/")
    return int(top) / int(bottom)


def test_structural_bolt_of_a_published_example() -> None:
    # published example (AISC 2005): 3/4 in A325-X in single shear, F_nv = 60 ksi: r_n = 26.5 kip
    stress = float(row("bolt_nominal_aisc", group="A325-X", edition="2005")["F_nv"])
    assert stress * np.pi / 4 * 0.75**2 == pytest.approx(26.5, abs=0.05)
    # A325 in tension: 90 ksi in all editions named
    assert {r["F_nt"] for r in rows("bolt_nominal_aisc")} == {"90"}
    for edition in ("2005", "2010 and later"):
        # threads in the shear plane take 0.8 of the shank
        with_threads, without = (
            float(row("bolt_nominal_aisc", group=f"A325-{k}", edition=edition)["F_nv"]) for k in "NX"
        )
        assert with_threads / without == pytest.approx(0.8, abs=0.01)


def test_blind_rivets_grow_with_the_section() -> None:
    for standard in ("ISO 15977", "ISO 15979"):
        chosen = [r for r in rows("rivet_blind") if r["standard"] == standard]
        d = np.array([float(r["d"]) for r in chosen])
        for column in ("shear_min", "tension_min"):
            stress = np.array([float(r[column]) for r in chosen]) / d**2
            assert np.ptp(stress) / stress.mean() < 0.35
        assert all(float(r["tension_min"]) > float(r["shear_min"]) for r in chosen)
    for aluminium, steel in zip(rows("rivet_blind")[:4], rows("rivet_blind")[4:]):
        assert aluminium["d"] == steel["d"]
        assert float(steel["shear_min"]) > 1.9 * float(aluminium["shear_min"])


def test_filler_classification_is_the_tensile_strength() -> None:
    # AWS A5.1, A5.18, A5.28: E70.., ER80S.. name the minimum tensile strength in ksi
    for r in rows("filler_metals"):
        if r["family"] == "steel" and r["classification"] != "ER70S-A1":
            digits = r["classification"].removeprefix("ER").removeprefix("E")[:2]
            assert float(r["tensile_min"]) == float(digits)
            assert 0.75 < float(r["yield_min"]) / float(r["tensile_min"]) < 0.87
    a1 = row("filler_metals", classification="ER70S-A1")
    assert [a1[c] for c in ("tensile_min", "yield_min", "elongation")] == ["75", "58", "19"]
    # AWS A5.1, A5.18, A5.28 minimum elongations, percent
    elongation = {"E6010": 22, "E6013": 17, "E7018": 22, "ER80S-D2": 17, "ER80S-Ni1": 24, "ER80S-B2": 19} | {
        f"ER70S-{k}": 22 for k in "2367"
    }
    for name, percent in elongation.items():
        assert float(row("filler_metals", classification=name)["elongation"]) == percent, name


def test_filler_metric_twins() -> None:
    # AWS A5.18: ER70S-6 70 ksi = 480 to 490 MPa, 58 ksi = 400 MPa, 22 %
    r = row("filler_metals", classification="ER70S-6")
    assert float(r["tensile_min"]) * KSI == pytest.approx(485, abs=5)
    assert float(r["yield_min"]) * KSI == pytest.approx(400, abs=1)
    assert r["elongation"] == "22"


def test_stainless_fillers() -> None:
    # AWS A5.4 (from memory): E308L and E309L 75 ksi (520 MPa), E316L 70 ksi (490 MPa), 30 %
    for name, mpa in (("E308L", 520), ("E309L", 520), ("E316L", 490)):
        r = row("filler_metals", classification=name)
        assert float(r["tensile_min"]) * KSI == pytest.approx(mpa, abs=8)
        assert (r["elongation"], r["yield_min"], r["status"]) == ("30", "", "from memory")


def test_aluminium_filler_shear() -> None:
    # Aluminum Design Manual metric values: 4043 79 MPa, 5356 117 MPa; three 4043 passes are about two of 5356's
    shear = {r["filler"]: float(r["shear_ultimate"]) for r in rows("filler_aluminium_shear")}
    assert shear["4043"] * KSI == pytest.approx(79, abs=0.6)
    assert shear["5356"] * KSI == pytest.approx(117, abs=0.6)
    assert (
        shear["4043"] < shear["5654"] < shear["4643"] < shear["5356"] == shear["5554"] < shear["5183"] < shear["5556"]
    )


def test_aluminium_weld_metal_is_stronger_with_5356() -> None:
    # EN 1999-1-1 Table 8.8: 4043A is 10 to 20 MPa under 5356 on every 6xxx alloy
    for base in ("6061", "6082", "6060"):
        strong, weak = (float(row("filler_aluminium_fw", filler=f, base=base)["f_w"]) for f in ("5356", "4043A"))
        assert 10 <= strong - weak <= 20
    assert float(row("filler_aluminium_fw", filler="5356", base="5083")["f_w"]) == 240


def test_heat_affected_factors_are_the_ratios() -> None:
    # EN 1999-1-1 Tables 3.2a and 3.2b: rho_o,haz and rho_u,haz are printed ratios of the printed strengths
    for r in rows("haz_aluminium"):
        assert float(r["rho_o"]) == pytest.approx(float(r["f_o_haz"]) / float(r["f_o"]), abs=0.0061), r["alloy"]
        assert float(r["rho_u"]) == pytest.approx(float(r["f_u_haz"]) / float(r["f_u"]), abs=0.0061), r["alloy"]
        assert float(r["f_o"]) < float(r["f_u"])


def test_heat_affected_width_grows_and_tig_is_wider() -> None:
    # EN 1999-1-1: MIG 20, 30, 35, 40 mm by thickness; TIG 30 mm to 6 mm
    mig = [float(r["half_width"]) for r in rows("haz_aluminium_width") if r["process"] == "MIG"]
    assert mig == [20, 30, 35, 40]
    assert float(row("haz_aluminium_width", process="TIG", t_over="0")["half_width"]) == 30
    assert [r["t_to"] for r in rows("haz_aluminium_width")] == ["6", "12", "25", "", "6"]
    assert [r["t_over"] for r in rows("haz_aluminium_width")] == ["0", "6", "12", "25", "0"]


def test_welded_4130_factors_give_the_round_strengths() -> None:
    # MIL-HDBK-5 / ANC-5: 0.941 and 0.841 of 95 ksi are the 90 and 80 ksi of the text
    for case in ("near_weld_taper_to_30deg", "near_weld_other"):
        r = row("haz_4130", case=case)
        assert float(r["factor"]) * 95 == pytest.approx(float(r["tensile_ultimate"]), abs=0.7)
    for r in rows("haz_4130"):
        if r["shear_ultimate"]:
            # von Mises gives 0.577; the handbook's shear is 0.59 to 0.63 of its tensile
            assert 0.577 < float(r["shear_ultimate"]) / float(r["tensile_ultimate"]) < 0.64
    assert float(row("haz_4130", case="weld_metal_allowable_share")["factor"]) == 0.85


def test_correlation_factor() -> None:
    # EN 1993-1-8 Table 4.1; f_vw,d = f_u/(sqrt3 beta_w 1.25) of the published handbook route
    beta = {r["grade"]: float(r["beta_w"]) for r in rows("beta_w")}
    assert beta == {"S235": 0.8, "S275": 0.85, "S355": 0.9, "S420": 1.0, "S460": 1.0}
    assert 360 / (np.sqrt(3) * beta["S235"] * 1.25) == pytest.approx(207.8, abs=0.06)


def test_minimum_fillet_leg_twins() -> None:
    # AISC 360 Table J2.4 prints 1/8, 3/16, 1/4, 5/16 in and 3, 5, 6, 8 mm
    inch, metric = numbers("fillet_min_leg_aisc", "leg_min"), numbers("fillet_min_leg_aisc", "leg_min_mm")
    np.testing.assert_allclose(inch * 16, [2, 3, 4, 5])
    np.testing.assert_allclose(metric, inch * INCH, atol=0.36)
    for imperial, si in (("t_over", "t_over_mm"), ("t_to", "t_to_mm")):
        a, b = numbers("fillet_min_leg_aisc", imperial) * INCH, numbers("fillet_min_leg_aisc", si)
        ok = ~np.isnan(a)
        np.testing.assert_allclose(b[ok], a[ok], atol=0.36)


def test_flare_throat_of_a_published_example() -> None:
    # handbook example: R = 2 x 3/8 in, flare-bevel, SMAW: throat 0.234 in
    assert float(
        row("flare_throat", groove="flare-bevel", process="SMAW")["throat_per_radius"]
    ) * 0.75 == pytest.approx(0.234, abs=5e-4)
    # AISC 360 Table J2.2: flare-bevel 5/8 and 5/16, flare-V 3/4, 5/8, 1/2
    values = {(r["groove"], r["process"]): float(r["throat_per_radius"]) for r in rows("flare_throat")}
    assert values["flare-bevel", "GMAW"] == values["flare-bevel", "FCAW-G"] == 5 / 8
    assert values["flare-bevel", "SAW"] == values["flare-bevel", "FCAW-S"] == 5 / 16
    assert values["flare-V", "GMAW"] == values["flare-V", "FCAW-G"] == 3 / 4
    assert values["flare-V", "SMAW"] == values["flare-V", "FCAW-S"] == 5 / 8
    assert values["flare-V", "SAW"] == 1 / 2


def test_plug_hole_practice_follows_the_thumb_rule() -> None:
    # common practice, no source: about 5 t + 2 mm
    for r in rows("plug_hole_practice"):
        assert float(r["hole_low"]) - 0.1 <= 5 * float(r["t_from"]) + 2 <= float(r["hole_high"]) + 1.6
    assert [(r["hole_low"], r["hole_high"]) for r in rows("plug_hole_practice")] == [("6", "8"), ("8", "10")]


def test_arc_efficiency_example() -> None:
    # 18 V, 130 A, 6 mm/s, MAG: arc energy 0.390, heat input 0.312 kJ/mm; TIG and plasma 0.6, submerged arc 1.0
    k = {r["process"]: float(r["k"]) for r in rows("arc_efficiency")}
    assert k["MIG/MAG"] * 18 * 130 / 6 / 1000 == pytest.approx(0.312)
    assert (k["SAW"], k["SMAW"], k["FCAW"], k["TIG"], k["plasma"]) == (1.0, 0.8, 0.8, 0.6, 0.6)


def test_preheat_limits_grow_as_hydrogen_and_carbon_fall() -> None:
    # EN 1011-2 Table C.1: printed rows CE 0.49 and 0.43, Q 1.0 and 2.0 kJ/mm
    columns = ["t_h_over_15", "t_h_10_15", "t_h_5_10", "t_h_3_5", "t_h_to_3"]
    limit = {(r["CE"], r["Q"]): [float(r[c]) for c in columns] for r in rows("preheat_en1011")}
    for values in limit.values():
        assert values == sorted(values)
    for ce in ("0.49", "0.43"):
        assert all(a <= b for a, b in zip(limit[ce, "1.0"], limit[ce, "2.0"]))
    for q in ("1.0", "2.0"):
        assert all(a <= b for a, b in zip(limit["0.49", q], limit["0.43", q]))
    assert limit["0.49", "1.0"] == [25, 30, 35, 50, 60]
    assert limit["0.43", "2.0"] == [80, 90, 100, 100, 100]


def test_cooling_shape_factors_never_speed_up_the_plate() -> None:
    # EN 1011-2 annex D: a run on plate has 1/1, any joint spreads heat better
    for column in ("F2_low", "F2_high", "F3"):
        values = numbers("shape_factors_t85", column)
        assert values[0] == 1
        assert np.all(values[1:] < 1)
        assert np.all(values > 0.44)
    assert float(row("shape_factors_t85", weld="tee fillet")["F3"]) == 0.67


def test_shrinkage_allowances() -> None:
    # TWI guidance: 0.8 mm per transverse fillet; 1.5 to 3 mm per butt; 0.8 and 3 mm in 3 m along the weld
    assert [(float(r["low"]), float(r["high"])) for r in rows("shrinkage_allowance")] == [
        (0.8, 0.8),
        (1.5, 3),
        (0.8, 0.8),
        (3, 3),
    ]
    assert [r["per_length"] for r in rows("shrinkage_allowance")] == ["", "", "3000", "3000"]
