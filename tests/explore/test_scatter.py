"""Scatter: against cases with a closed answer, the binomial distribution, and full judgements."""

from __future__ import annotations

import json
from collections.abc import Iterator
from math import log, sqrt
from typing import Annotated, Any, get_args

import numpy as np
import pytest
from scipy import stats

from jointcalc.check import check
from jointcalc.cli.main import run
from jointcalc.errors import InputError
from jointcalc.explore.reliability import Spread, below_index, chance_told, drawn, index_of, nearest, wilson
from jointcalc.explore.scatter import asked, scatter, usual, varied, with_scatter
from jointcalc.explore.workings import Workings, workings
from jointcalc.model.bolts import FastenerGroup
from jointcalc.model.brace import Brace
from jointcalc.model.seam import SpotSeam
from jointcalc.registry import KINDS, load

FLOOR = {"thickness": "1.2 mm", "grade": "DC04"}
RAIL = {"thickness": "2.0 mm", "grade": "S355MC"}
SEAM: dict[str, Any] = {
    "sheets": (FLOOR, RAIL), "weld_diameter": "5.5 mm", "pitch": "40 mm", "length": "1200 mm", "edge": "9 mm",
    "shear": "60 kN",
}  # fmt: skip
EN = ("en1993-1-3",)


def seam(**more: Any) -> SpotSeam:
    return SpotSeam(**{**SEAM, **more})


# --- closed answers ------------------------------------------------------------------------------------------


def two_normals(r: Spread, s: Spread) -> float:
    """Index of strength less load, both normal: the one exact case (Cornell 1969; derivation: their difference)."""
    return (r.mean - s.mean) / sqrt((r.mean * r.variation) ** 2 + (s.mean * s.variation) ** 2)


@pytest.mark.parametrize(("mean", "variation"), [(8.0, 0.1), (10.0, 0.1), (7.0, 0.25)])
def test_two_normals_to_first_order_are_exact(mean: float, variation: float) -> None:
    laws = {"r": Spread(mean, variation, "normal"), "s": Spread(6.0, 0.2, "normal")}
    found = nearest(lambda v: v["r"] - v["s"], laws)
    assert found is not None
    assert found.index == pytest.approx(two_normals(laws["r"], laws["s"]), rel=1e-6)
    assert sum(found.parts.values()) == pytest.approx(1.0, abs=1e-9)
    assert found.parts["s"] == pytest.approx(1.2**2 / (1.2**2 + (mean * variation) ** 2), rel=1e-5)


def test_two_normals_lie_in_the_interval_that_is_drawn() -> None:
    laws = {"r": Spread(8.0, 0.1, "normal"), "s": Spread(6.0, 0.2, "normal")}
    exact = stats.norm.cdf(-two_normals(laws["r"], laws["s"]))
    counted = drawn(lambda v: v["r"] - v["s"], laws, 200_000, 1)
    low, high = counted.interval
    assert low < exact < high
    assert high - low < 0.05 * exact
    assert counted == drawn(lambda v: v["r"] - v["s"], laws, 200_000, 1)


def test_two_log_normals_are_exact_in_their_logarithms() -> None:
    r, s = Spread(10.0, 0.1), Spread(6.0, 0.2)
    exact = log(r.mean / s.mean * sqrt(1.04 / 1.01)) / sqrt(log(1.04 * 1.01))
    found = nearest(lambda v: np.log(v["r"] / v["s"]), {"r": r, "s": s})
    assert found is not None
    assert found.index == pytest.approx(exact, rel=1e-6)
    assert found.probability == pytest.approx(stats.norm.cdf(-exact), rel=1e-5)


def test_what_falls_short_in_the_middle_has_an_index_below_zero() -> None:
    laws = {"r": Spread(5.0, 0.1, "normal"), "s": Spread(6.0, 0.2, "normal")}
    found = nearest(lambda v: v["r"] - v["s"], laws)
    assert found is not None
    assert found.index == pytest.approx(two_normals(laws["r"], laws["s"]), rel=1e-6)
    assert found.probability > 0.5


def test_a_log_normal_has_the_mean_and_variation_it_is_given() -> None:
    values = Spread(1.1, 0.3).at(stats.norm.ppf((np.arange(200_000) + 0.5) / 200_000))
    assert values.mean() == pytest.approx(1.1, rel=1e-3)
    assert values.std() / values.mean() == pytest.approx(0.3, rel=5e-3)


@pytest.mark.parametrize(("short", "n"), [(0, 50), (3, 400), (40, 100), (100, 100)])
def test_the_interval_is_wilsons(short: int, n: int) -> None:
    theirs = stats.binomtest(short, n).proportion_ci(method="wilson")
    low, high = wilson(short, n)
    assert low == pytest.approx(theirs.low, abs=1e-9)
    assert high == pytest.approx(theirs.high, abs=1e-9)


def test_none_seen_is_not_never() -> None:
    low, high = wilson(0, 400)
    assert (low, high > 0.005) == (0.0, True)
    assert chance_told(low, high) == "less than 1 in 100"
    assert chance_told(0.1, 0.2) == "between 10 % and 20 %"


def test_index_and_probability_are_the_normals() -> None:
    for p in (1e-6, 0.01, 0.5, 0.9):
        assert below_index(index_of(p)) == pytest.approx(p, rel=1e-9)
        assert index_of(p) == pytest.approx(-stats.norm.ppf(p), rel=1e-9, abs=1e-12)


# --- items --------------------------------------------------------------------------------------------------


def test_a_seam_in_arrays_agrees_with_the_same_judged_in_full() -> None:
    item = seam()
    made = workings(item, EN)
    assert isinstance(made, Workings)
    assert {key for key, _, _ in made.checks} == {
        "en1993-1-3.tearing", "en1993-1-3.spot-shear", "en1993-1-3.end-along", "en1993-1-3.yield-along"
    }  # fmt: skip
    factors = {"thickness": 0.97, "strength": 1.08, "size": 0.9}
    ours = made.least({name: np.array([value]) for name, value in factors.items()})[0]
    theirs = min(
        c.capacity.value / c.demand.value  # type: ignore[operator, union-attr]
        for c in check(varied(item, factors)).judged
        if c.key.startswith(EN)
    )
    assert ours == pytest.approx(theirs, rel=1e-12)


def test_a_seam_by_one_document_is_counted_as_its_first_order_says() -> None:
    found = scatter(seam(shear="80 kN"), samples=100_000, by=EN)
    assert found.way == "arrays"
    low, high = found.counted.interval
    assert found.first_order is not None
    # all but the thickness (4 %) is log-normal and the weakest mode a product of powers: nearly flat, and one mode leads
    assert 0.7 * low < found.first_order.probability < 1.3 * high
    assert found.swings[0].name == "load"
    assert max(found.first_order.parts, key=lambda name: found.first_order.parts[name]) == "load"  # type: ignore[union-attr]


def test_a_seam_by_its_charts_is_judged_sample_by_sample() -> None:
    found = scatter(seam(), samples=30)
    assert found.way == "judged"
    assert "table" in found.why
    assert scatter(seam(), samples=30).counted == found.counted


def test_more_load_and_thinner_sheet_fall_short_more_often() -> None:
    base = scatter(seam(shear="80 kN"), samples=20_000, by=EN).counted.short
    assert scatter(seam(shear="90 kN"), samples=20_000, by=EN).counted.short > base
    thin = {**FLOOR, "thickness": "1.0 mm"}
    assert scatter(seam(shear="80 kN", sheets=(thin, RAIL)), samples=20_000, by=EN).counted.short > base
    wide = {"load": Spread(1.0, 0.4)}
    assert scatter(seam(shear="80 kN"), samples=20_000, by=EN, spreads=wide).counted.short > base


def test_where_a_branch_comes_in_the_arrays_are_not_used() -> None:
    # 0.8 on 2.0 mm is 2.5 to 1, where tearing changes its rule: half of the samples are on either side
    other = scatter(seam(sheets=({**FLOOR, "thickness": "0.8 mm"}, RAIL), weld_diameter="4.5 mm"), samples=10, by=EN)
    assert other.way in ("judged", "arrays")
    assert other.way == "judged" or other.why == ""
    with pytest.raises(InputError, match="judged in full"):
        scatter(seam(), samples=1_000_000)


def test_bad_welds_are_drawn_as_the_binomial_says() -> None:
    # two spots, all else still: it holds with both and with neither less; one in five bad, each by itself
    still = {name: Spread() for name in usual(seam())}
    pair = seam(pitch=None, count=2, length="80 mm", shear="7 kN", dud_rate=0.2)
    found = scatter(pair, samples=400, spreads=still, by=("en1993-1-3.spot-shear",))
    one = scatter(pair.but(dud_rate=None), samples=1, spreads=still, by=("en1993-1-3.spot-shear",))
    assert one.middle is not None
    assert 1.0 < one.middle < 2.0  # one spot alone does not hold
    low, high = found.counted.interval
    assert low < 1 - 0.8**2 < high


def test_other_kinds_scatter_too() -> None:
    bolts = FastenerGroup(
        holes=("0 0 mm", "60 0 mm"),
        sheets=(FLOOR, RAIL),
        bolt="M8 8.8",
        edge="20 mm",
        force="12 0 0 kN",
        at="30 0 0 mm",
    )
    assert 0 <= scatter(bolts, samples=10).counted.short <= 10
    brace = Brace(
        profile="hat:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm", grade="S355MC", span="1000 mm",
        point=("500 N @ 500 mm",), spread=("0.3 N/mm @ 200 mm..600 mm",), held="top",
    )  # fmt: skip
    heavier = varied(brace, {"load": 1.5})
    assert check(heavier).values["moment_max"].value == pytest.approx(
        1.5 * check(brace).values["moment_max"].value, rel=1e-9  # type: ignore[operator]
    )  # fmt: skip
    thin = varied(brace, {"thickness": 0.9})
    assert thin.core.t == pytest.approx(0.9 * 1.2)


@pytest.mark.parametrize("name", KINDS)
def test_the_fields_a_record_names_stand_in_its_model(name: str) -> None:
    model = load(KINDS[name].model)
    assert KINDS[name].loads
    assert {*KINDS[name].loads, *KINDS[name].sizes} <= set(model.model_fields)


STILL = {"insert_tension", "insert_shear", "stiffness"}
"""Forces that are strengths of a maker, or a stiffness."""


def _kinds(annotation: Any) -> Iterator[str]:
    """What the numbers of a field measure."""
    yield from (one.kind for one in getattr(annotation, "__metadata__", ()) if hasattr(one, "kind"))
    for part in get_args(annotation):
        yield from _kinds(part)


@pytest.mark.parametrize("name", KINDS)
def test_no_load_of_a_kind_stands_still_while_the_others_scatter(name: str) -> None:
    record = KINDS[name]
    for field, info in load(record.model).model_fields.items():
        whole = Annotated[(info.annotation, *info.metadata)] if info.metadata else info.annotation  # type: ignore[index]
        if {"force", "line load", "moment", "pressure"} & set(_kinds(whole)) and field not in STILL:
            assert field in record.loads


@pytest.mark.parametrize(
    ("text", "words"),
    [("load 20", "not understood"), ("colour 5 %", "does not scatter"), ("load 90 %", "no scatter"),
     ("load 5 % about 9", "0.2 to 5"), ("size -3 %", "not understood")],
)  # fmt: skip
def test_what_is_not_understood_is_refused(text: str, words: str) -> None:
    with pytest.raises(InputError, match=words):
        asked(seam(scatter=(text,)))


def test_an_unloaded_seam_has_nothing_to_scatter() -> None:
    with pytest.raises(InputError, match="nothing to scatter"):
        scatter(seam(shear="0 N"))


def test_the_answer_stands_in_values_and_in_words(capsys: pytest.CaptureFixture[str]) -> None:
    item = seam(scatter=("load 15 %", "by en1993-1-3"), samples=5000)
    result = with_scatter(check(item))
    value = {name: amount.value for name, amount in result.values.items()}
    assert value["fail_probability_low"] <= value["fail_probability"] <= value["fail_probability_high"]  # type: ignore[operator]
    assert value["samples"] == 5000
    assert value["ratio_load_low"] > value["ratio_load_high"]  # type: ignore[operator]
    assert with_scatter(check(seam())).values.get("fail_probability") is None
    arguments = ["seam", "--sheet", "1.2 mm", "--sheet", "2.0 mm", "--grade", "DC04", "--weld-diameter", "5.5 mm",
                 "--pitch", "40 mm", "--length", "1200 mm", "--edge", "9 mm", "--shear", "60 kN",
                 "--scatter", "usual", "--scatter", "by en1993-1-3", "--samples", "2000", "--json"]  # fmt: skip
    with pytest.raises(SystemExit):
        run(arguments)
    assert json.loads(capsys.readouterr().out)["values"]["samples"]["value"] == 2000


def test_a_load_that_comes_from_others_scatters_as_a_typed_one() -> None:
    from jointcalc.explore.scatter import _least
    from jointcalc.model.given import Standing

    typed = seam()
    follows = seam(shear="0 N").under([Standing(given=(), fields={"shear": typed.shear})])
    for load_ in (1.0, 1.7):
        factors = {"load": load_, "strength": 1.1}
        assert _least(follows, EN, factors) == pytest.approx(_least(typed, EN, factors), rel=1e-12)
    assert _least(follows, EN, {"load": 2.0}) == pytest.approx(_least(follows, EN, {}) / 2, rel=1e-9)


@pytest.mark.parametrize("load_", [{"acceleration": "1 0 3 g"}, {"case": "bump"}])
def test_what_a_mass_brings_scatters_whoever_says_how_it_is_shaken(load_: dict[str, str]) -> None:
    from jointcalc.explore.scatter import _least

    mount = load(KINDS["mount"].model)(
        feet=("0 0 0 mm", "300 0 0 mm", "300 360 0 mm", "0 360 0 mm"), mass="18 kg", centre="150 180 260 mm",
        bolt="M8 8.8", sheets=(FLOOR, RAIL), edge="20 mm", **load_,
    )  # fmt: skip
    assert _least(mount, (), {"load": 2.0}) == pytest.approx(_least(mount, (), {}) / 2, rel=1e-9)
