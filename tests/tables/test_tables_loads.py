"""Loads of regulations, statistics and member tables against conversions, exact distributions and printed examples."""

from __future__ import annotations

import numpy as np
import pytest
from read_tables import numbers, row, rows

LBF = 4.4482216152605
INCH = 25.4


@pytest.mark.parametrize(
    "name,pounds",
    [
        ("fmvss210_lap", 5000),
        ("fmvss210_lap_of_three", 3000),
        ("fmvss210_torso_of_three", 3000),
        ("fmvss209_bolt", 9000),
        ("fmvss209_bolt_single_end", 5000),
    ],
)
def test_us_loads_are_the_pounds_of_the_rule(name: str, pounds: float) -> None:
    # 49 CFR 571.209 and 571.210 print pounds and newtons
    assert float(row("loads_regulation", id=name)["force"]) == pytest.approx(pounds * LBF, abs=1.0)


def test_us_three_point_total_is_close_to_the_un_total() -> None:
    # 49 CFR 571.210: 26,690 N in total; UN R14, M1: 27,000 N; lap only 22,241 against 22,250 N
    us = sum(float(row("loads_regulation", id=f"fmvss210_{k}_of_three")["force"]) for k in ("lap", "torso"))
    un = sum(float(row("loads_regulation", id=f"r14_m1_{k}")["force"]) for k in ("upper", "lower"))
    assert (us, un) == (26690, 27000)
    assert (
        float(row("loads_regulation", id="r14_m1_lap")["force"])
        - float(row("loads_regulation", id="fmvss210_lap")["force"])
        == 9
    )


def test_un_r14_dekanewtons() -> None:
    # UN R14: 1350, 675, 450 daN on the upper device; 2225, 1110, 740 daN on a lap belt; seat 20, 10, 6.6 times its weight
    for kind, dekanewtons in (("upper", (1350, 675, 450)), ("lower", (1350, 675, 450)), ("lap", (2225, 1110, 740))):
        for category, value in zip(("m1", "m2", "m3"), dekanewtons):
            assert float(row("loads_regulation", id=f"r14_{category}_{kind}")["force"]) == 10 * value
    for category, g in zip(("m1", "m2", "m3"), (20, 10, 6.6)):
        assert float(row("loads_regulation", id=f"r14_{category}_seat")["forward"]) == g
    assert float(row("loads_regulation", id="r14_m1_harness")["force"]) == 13500


def test_seat_back_moments() -> None:
    # 49 CFR 571.207 S4.2(d): 373 N m; UN R17 6.2.1: 53 daN m
    assert float(row("loads_regulation", id="fmvss207_back_moment")["moment"]) == 373
    assert float(row("loads_regulation", id="r17_back_moment")["moment"]) == 530


def test_pull_angles_and_hold_times() -> None:
    # 571.210 S5: 5 to 15 degrees above horizontal, 30 s to reach, 10 s hold; UN R14 6.3: 10 +/- 5 degrees, 60 s, 0.2 s
    for name, ramp, hold in (
        ("fmvss210_lap", 30, 10),
        ("r14_m1_upper", 60, 0.2),
        ("r14_m3_lap", 60, 0.2),
        ("fmvss225_tether", 30, 1),
    ):
        r = row("loads_regulation", id=name)
        assert (float(r["angle_low"]), float(r["angle_high"])) == (5, 15)
        assert (float(r["ramp_max"]), float(r["hold_min"])) == (ramp, hold)


def test_seat_and_child_loads() -> None:
    # 571.207 S4.2: 20 x mass both ways; 571.225: 15,000 N tether, 11,000 N forward, 5,000 N lateral; UN R80: 5,000 N per position
    r = row("loads_regulation", id="fmvss207_seat")
    assert (r["forward"], r["rearward"]) == ("20", "20")
    assert row("loads_regulation", id="fmvss207_folding_back_forward")["forward"] == "20"
    assert row("loads_regulation", id="fmvss207_folding_back_rear")["rearward"] == "8"
    assert (
        row("loads_regulation", id="r17_anchorage")["forward"],
        row("loads_regulation", id="r17_anchorage")["rearward"],
    ) == ("20", "20")
    forces = [
        float(row("loads_regulation", id=i)["force"])
        for i in (
            "fmvss225_tether",
            "fmvss225_lower_forward",
            "fmvss225_lower_lateral",
            "r80_anchorage",
            "fsae_belt_point",
            "fia_seat_support",
        )
    ]
    assert forces == [15000, 11000, 5000, 5000, 15000, 15000]
    assert float(row("loads_regulation", id="fia_harness_point")["force"]) == 14700  # 1470 daN


def test_worked_load_set() -> None:
    # seat of 15 kg with seat-mounted three-point belt: 29,630 N by 571.207/.210 (9.8 m/s2), 29,943 N by UN R14 (9.81 m/s2)
    us = (
        2 * float(row("loads_regulation", id="fmvss210_lap_of_three")["force"])
        + float(row("loads_regulation", id="fmvss207_seat")["forward"]) * 15 * 9.8
    )
    un = (
        2 * float(row("loads_regulation", id="r14_m1_upper")["force"])
        + float(row("loads_regulation", id="r14_m1_seat")["forward"]) * 15 * 9.81
    )
    assert us == pytest.approx(29630, abs=0.5)
    assert un == pytest.approx(29943, abs=0.5)


def test_tank_and_battery_classes_share_their_longitudinal_values() -> None:
    # UN R67, R110, R134 and R100 Annex 9C use the 20/10/6.6 g steps of UN R14 by vehicle class; lateral 8/5/5
    for stem in ("r67_lpg_{}", "r110_cng_{}", "r134_hydrogen_{}", "r100_{}"):
        for category, (x, y) in zip(("m1", "m2", "m3"), ((20, 8), (10, 5), (6.6, 5))):
            r = row("loads_regulation", id="".join(stem).format(category))
            assert (float(r["forward"]), float(r["lateral"])) == (x, y)


def test_cargo_and_equipment_accelerations() -> None:
    # EN 12195-1:2010: 0.8 forward, 0.5 rear and side; 49 CFR 393.102: 0.8/0.5/0.5 breaking, 0.435/0.5/0.25 working; EN 1789: 10 g; 14 CFR 25.561
    def g(name: str, *columns: str) -> list[float]:
        return [float(row("loads_regulation", id=name)[c]) for c in columns]

    assert g("en12195_cargo", "forward", "rearward", "lateral", "down") == [0.8, 0.5, 0.5, 1.0]
    assert g("fmcsa_cargo_breaking", "forward", "rearward", "lateral") == [0.8, 0.5, 0.5]
    assert g("fmcsa_cargo_working", "forward", "rearward", "lateral") == [0.435, 0.5, 0.25]
    assert g("en1789_equipment", "forward", "rearward", "lateral", "up") == [10, 10, 10, 10]
    assert g("cs25_items", "forward", "rearward", "lateral", "up", "down") == [9.0, 1.5, 3.0, 3.0, 6.0]
    assert set(g("nfpa52_container", "forward", "rearward", "lateral", "up", "down")) == {8}
    assert set(g("nfpa58_container", "forward", "rearward", "lateral", "up", "down")) == {4}


def test_every_load_acts() -> None:
    for r in rows("loads_regulation"):
        assert any(r[c] for c in ("force", "forward", "rearward", "lateral", "up", "down", "moment")), r["id"]
        assert bool(r["angle_low"]) == bool(r["angle_high"])
        if r["angle_low"]:
            # 5 to 15 degrees in every rule that names a pull angle
            assert (float(r["angle_low"]), float(r["angle_high"])) == (5, 15), r["id"]
        # UN R14 and R80 hold 0.2 s (R14 reached within 60 s); 571.210 30 s and 10 s; 571.225 30 s and 1 s
        times = {"r14_": ("60", "0.2"), "fmvss210": ("30", "10"), "fmvss225": ("30", "1"), "r80_": ("", "0.2")}
        if r["force"]:
            assert (r["ramp_max"], r["hold_min"]) == next(
                (t for k, t in times.items() if r["id"].startswith(k)), ("", "")
            ), r["id"]


def test_spreader_plates() -> None:
    # Queensland code: 75 x 50 mm, 3 mm, corners 5 mm, four bolts; FIA: 40 cm2, 3 mm steel or 5 mm light alloy
    q, f = row("mount_plates", id="qld_seat"), row("mount_plates", id="fia_seat")
    assert float(q["area_min"]) == 75 * 50
    assert (q["thickness_min"], q["corner_radius_min"], q["points_min"]) == ("3", "5", "4")
    assert float(f["area_min"]) == 40 * 100
    assert (f["thickness_min"], f["thickness_min_light_alloy"], f["points_min"]) == ("3", "5", "4")
    belt = row("mount_plates", id="vsb14_belt")
    assert (float(belt["area_min"]), belt["thickness_min"]) == (75 * 50, "3")


def test_tyre_tables() -> None:
    # SAE J1232: S 37/15, U 50/23, W 64/38 mm; the 3 in habit just meets class S
    assert [(float(r["tread"]), float(r["side"])) for r in rows("tyre_clearance")] == [(37, 15), (50, 23), (64, 38)]
    radial_gap = float(row("tub_practice", rule="diameter_over_tyre")["length"]) / 2
    assert (
        float(row("tyre_clearance", **{"class": "S"})["tread"])
        < radial_gap
        < float(row("tyre_clearance", **{"class": "U"})["tread"])
    )
    assert radial_gap == pytest.approx(1.5 * INCH, abs=0.11)
    assert float(row("tub_practice", rule="width_over_section")["length"]) == 2 * 25


def test_tyre_tolerance_example() -> None:
    # UN R30: 275/60R15 (nominal 711.0 mm) may measure 701 to 724 mm
    rim, section = 15 * INCH, 275 * 0.60
    low, high = (
        float(row("tyre_tolerance", rule=r)["factor"]) for r in ("section_height_min", "section_height_max_radial")
    )
    assert rim + 2 * section * low == pytest.approx(701, abs=0.5)
    assert rim + 2 * section * high == pytest.approx(724, abs=0.5)
    diagonal, snow, radial, bias = (
        float(row("tyre_tolerance", rule=r)["factor"])
        for r in (
            "section_height_max_diagonal",
            "snow_diameter_max",
            "section_width_max_radial",
            "section_width_max_diagonal",
        )
    )
    assert (diagonal, snow, radial, bias) == (1.08, 1.01, 1.04, 1.06)
    assert float(row("tyre_tolerance", rule="rim_protector_rib")["length"]) == 8


# --- statistics


@pytest.mark.parametrize(
    "column,p,confidence", [("k_b", 0.90, 0.95), ("k_a", 0.99, 0.95), ("k_95_95", 0.95, 0.95), ("k_95_75", 0.95, 0.75)]
)
def test_tolerance_factors_are_the_noncentral_t(column: str, p: float, confidence: float) -> None:
    # one-sided normal tolerance factor: k = t'(confidence; n - 1, z_p sqrt(n)) / sqrt(n); scipy is the independent source
    from scipy import stats

    n = numbers("tolerance_factors", "n")
    exact = stats.nct.ppf(confidence, n - 1, stats.norm.ppf(p) * np.sqrt(n)) / np.sqrt(n)
    np.testing.assert_allclose(numbers("tolerance_factors", column), exact, atol=1.01e-4)


def test_printed_tolerance_factors() -> None:
    # CMH-17-1G prints three decimals; they differ from the exact ones by at most 0.0017
    for a, b in (("k_b", "k_b_printed"), ("k_a", "k_a_printed")):
        np.testing.assert_allclose(numbers("tolerance_factors", a), numbers("tolerance_factors", b), atol=0.00171)
    # MIL-HDBK-5J at n = 10
    r = row("tolerance_factors", n="10")
    assert (r["k_b_printed"], r["k_a_printed"]) == ("2.355", "3.981")


def test_prediction_factors_follow_their_law() -> None:
    # EN 1990 D7.2: 1.645 sqrt(1 + 1/n) and t(0.95; n - 1) sqrt(1 + 1/n)
    from scipy import stats

    n = numbers("tolerance_factors", "n")
    np.testing.assert_allclose(
        numbers("tolerance_factors", "kn_known"), stats.norm.ppf(0.95) * np.sqrt(1 + 1 / n), atol=6e-4
    )
    np.testing.assert_allclose(
        numbers("tolerance_factors", "kn_unknown"), stats.t.ppf(0.95, n - 1) * np.sqrt(1 + 1 / n), atol=6e-4
    )


def test_en_1990_table_d1_against_its_law() -> None:
    # EN 1990 Table D1 as printed; the print is off the law by up to 0.012 (n = 20, unknown: 1.76 for 1.772)
    from scipy import stats

    for r in rows("en1990_d1"):
        n = np.inf if r["n"] == "inf" else float(r["n"])
        assert float(r["kn_known"]) == pytest.approx(stats.norm.ppf(0.95) * np.sqrt(1 + 1 / n), abs=0.018)
        if r["kn_unknown"]:
            exact = stats.norm.ppf(0.95) if np.isinf(n) else stats.t.ppf(0.95, n - 1) * np.sqrt(1 + 1 / n)
            assert float(r["kn_unknown"]) == pytest.approx(exact, abs=0.0125)
    assert row("en1990_d1", n="20")["kn_unknown"] == "1.76"
    assert row("en1990_d1", n="5")["kn_known"] == "1.80"


def test_en_1990_table_d2_against_its_law() -> None:
    # EN 1990 Table D2: 0.1 % fractile within about 1 %; infinitely many: 0.8 x 3.8 = 3.04
    from scipy import stats

    for r in rows("en1990_d2"):
        if r["n"] == "inf":
            assert float(r["kd_known"]) == float(r["kd_unknown"]) == pytest.approx(0.8 * 3.8)
            continue
        n = float(r["n"])
        assert float(r["kd_known"]) == pytest.approx(stats.norm.ppf(0.999) * np.sqrt(1 + 1 / n), rel=0.012)
        if r["kd_unknown"]:
            assert float(r["kd_unknown"]) == pytest.approx(stats.t.ppf(0.999, n - 1) * np.sqrt(1 + 1 / n), rel=0.012)


S18 = [137.4438, 139.5395, 150.89, 141.4474, 141.8203, 151.8821, 143.9245, 132.9732, 136.6419, 138.1723, 148.7668, 143.283, 143.5429, 141.7023, 137.4732, 152.338, 144.1589, 128.5218]  # fmt: skip


def test_small_sample_factors_reproduce_the_reference_programs() -> None:
    # CMH-17 reference programs on 18 strengths: Hanson-Koopmans B 124.156 (r 9, k 1.354), A 99.651 (k 2.4966); normal B 129.287, A 120.336
    x = np.sort(S18)
    r = row("tolerance_factors", n="18")
    second = x[int(r["hk_b_rank"]) - 1]
    assert second * (x[0] / second) ** float(r["hk_b_k"]) == pytest.approx(124.156, abs=6e-4)
    assert x[-1] * (x[0] / x[-1]) ** float(r["hk_a_k"]) == pytest.approx(99.651, abs=6e-4)
    # the reference programs take the closed-form k (valid from n = 16), 0.003 above the exact one here
    assert x.mean() - float(r["k_b_printed"]) * x.std(ddof=1) == pytest.approx(129.287, abs=0.003)
    assert x.mean() - float(r["k_a_printed"]) * x.std(ddof=1) == pytest.approx(120.336, abs=0.025)


def test_small_sample_factors_fall_with_the_sample() -> None:
    for column in ("hk_b_k", "hk_a_k"):
        k = numbers("tolerance_factors", column)
        k = k[~np.isnan(k)]
        assert np.all(np.diff(k) < 0)
        # no slipped digit: the second difference of a smooth decline stays small beyond the first points
        assert np.all(np.abs(np.diff(np.log(k[3:]), 2)) < (0.25 if column == "hk_b_k" else 0.06))
    ranks = numbers("tolerance_factors", "hk_b_rank")
    assert np.all(np.diff(ranks[~np.isnan(ranks)]) >= 0)


def test_distribution_free_sample_sizes_are_exact() -> None:
    # smallest n at which the r-th value is below the 10 % (1 %) point with 95 % confidence: binomial tail, computed by scipy
    from scipy import stats

    for r in rows("nonparametric_ranks"):
        rank = int(r["rank"])
        for column, p in (("n_b", 0.10), ("n_a", 0.01)):
            n = int(r[column])
            assert stats.binom.sf(rank - 1, n, p) >= 0.95 > stats.binom.sf(rank - 1, n - 1, p)


def test_arc_spot_statistics_give_the_published_factor() -> None:
    # AISI commentary: arc-spot weld shear, P_m 1.17, V_P 0.22 on about 126 tests; the published resistance factor is 0.60
    r = row("aisi_test_statistics", connection="arc_weld_shear")
    n = 126
    c_p = (1 + 1 / n) * (n - 1) / (n - 3)
    v = np.sqrt(float(r["V_M"]) ** 2 + float(r["V_F"]) ** 2 + c_p * 0.22**2 + 0.21**2)
    assert 1.52 * float(r["M_m"]) * float(r["F_m"]) * 1.17 * np.exp(-3.5 * v) == pytest.approx(0.60, abs=5e-3)


def test_test_based_statistics_rows() -> None:
    # AISI S100 Table K2.1.1-1 (from memory): all connections M_m 1.10, F_m 1.00
    assert {(r["M_m"], r["F_m"]) for r in rows("aisi_test_statistics")} == {("1.10", "1.00")}
    variation = {r["connection"]: (float(r["V_M"]), float(r["V_F"])) for r in rows("aisi_test_statistics")}
    assert variation == {
        "resistance_weld": (0.10, 0.10),
        "arc_weld_shear": (0.10, 0.10),
        "plate_next_to_arc_weld": (0.08, 0.15),
        "bolt": (0.08, 0.05),
        "screw": (0.10, 0.10),
    }


# --- members


def test_web_crippling_coefficients() -> None:
    # independent computation kept with the facts: t 1.2, R 2, N 50, h 23.6, F_y 300: 5188, 9246, 4262, 7806 N per web
    t, R, N, h, F_y = 1.2, 2.0, 50.0, 23.6, 300.0
    for r, expected in zip(rows("crippling_aisi"), (5188, 9246, 4262, 7806)):
        C, C_R, C_N, C_h = (float(r[c]) for c in ("C", "C_R", "C_N", "C_h"))
        P = C * t**2 * F_y * (1 - C_R * np.sqrt(R / t)) * (1 + C_N * np.sqrt(N / t)) * (1 - C_h * np.sqrt(h / t))
        assert pytest.approx(expected, abs=0.6) == P
    assert [r["R_over_t_max"] for r in rows("crippling_aisi")] == ["5", "10", "10", "10"]


def test_deflection_limits_of_building_practice() -> None:
    # IBC Table 1604.3: floors L/360 and L/240, roofs L/180 and L/120, formed metal L/60, L/150, L/90; UK annex L/360, L/200, L/180
    assert [int(r["span_over"]) for r in rows("deflection_practice")] == [
        360,
        240,
        180,
        120,
        60,
        150,
        90,
        360,
        200,
        180,
    ]


def test_fixity_between_fasteners() -> None:
    # aircraft textbook C7.12: 4 for universal heads (confirmed second-hand), 3.5 spot welds, 3, 1.5, 1
    assert list(numbers("interfastener_fixity", "C")) == [4.0, 4.0, 3.5, 3.0, 1.5, 1.0]
    # t 1.0, p 40, E 210 000, spot weld, plate form: 415.2 MPa
    C = float(row("interfastener_fixity", fastener="spot weld")["C"])
    assert C * np.pi**2 * 210e3 / (12 * (1 - 0.3**2)) * (1 / 40) ** 2 == pytest.approx(415.2, abs=0.06)


def test_bend_radii_are_about_the_thickness() -> None:
    # DIN 6935, tensile strength to 390 MPa: radius 1, 1.6, 2.5, 3 mm from the preferred series, about 1 t
    radius, to = numbers("bend_radius_min", "radius_min"), numbers("bend_radius_min", "t_to")
    assert list(radius) == [1, 1.6, 2.5, 3]
    assert list(to) == [1, 1.5, 2.5, 3]
    assert list(numbers("bend_radius_min", "t_over")) == [0, 1, 1.5, 2.5]
    assert np.all((radius / to >= 1.0) & (radius / to <= 1.1))


def test_vehicle_dynamic_factors() -> None:
    # published lecture notes: vertical 2 to 3, off-road 4, torsion 1.3 to 1.8, braking 1.1 to 1.84, bump 4.5, cornering about 1, kerb 1.4 to 1.75
    printed = {r["case"]: (float(r["low"]), float(r["high"])) for r in rows("vehicle_dynamic_factors")}
    assert printed == {
        "vertical symmetric": (2, 3),
        "vertical off-road": (4, 4),
        "torsion": (1.3, 1.8),
        "braking": (1.1, 1.84),
        "longitudinal bump": (4.5, 4.5),
        "cornering": (1, 1.5),
        "kerb nudge": (1.4, 1.75),
    }
