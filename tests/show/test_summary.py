"""A judged project in plain data: order, verdicts, margins and counts follow from the results and say no more."""

import dataclasses
from math import inf

import pytest

from jointcalc.check import check
from jointcalc.explore.sensitivity import sensitivity, thinner
from jointcalc.model.bolts import FastenerGroup
from jointcalc.model.fields import build
from jointcalc.model.seam import SpotSeam
from jointcalc.result.plain import plain
from jointcalc.show.summary import summarise

SEAM = {
    "sheets": [{"thickness": "1.2 mm", "grade": "DC04"}] * 2, "weld_diameter": "5.5 mm", "length": "1200 mm",
    "pitch": "40 mm", "edge": "12 mm",
}  # fmt: skip


def _seam(name, **more):
    return build(SpotSeam, {**SEAM, "id": name, **more})


@pytest.fixture(scope="module")
def judged():
    """Items: little used, much used, over, no load, a load no method covers, near its limit."""
    light = _seam("S1", shear="6 kN")
    used = check(light).worst.utilisation
    near = _seam("S6", shear=6000 / used * 0.97)
    items = [
        light, _seam("S2", shear="10 kN", title="Middle lap"), _seam("S3", shear="90 kN"), _seam("S4"),
        build(FastenerGroup, {
            "id": "M5", "holes": ["0 0 mm"], "bolt": "M8 8.8", "sheets": [{"thickness": "1.2 mm", "grade": "DC04"}],
            "force": "0 0 2 kN", "at": "0 0 0 mm", "purpose": ["seat"],
        }), near,
    ]  # fmt: skip
    return items, {item.id: check(item) for item in items}


def test_the_worst_stands_first_and_what_has_no_load_last(judged):
    _, results = judged
    lines = summarise(results.values()).lines
    rank = {"over": 0, "outside": 1, "ok": 2}
    keys = [
        (rank[line.judged.status], -(inf if line.judged.factor == 0 else line.judged.used or 0.0)) for line in lines
    ]
    assert keys == sorted(keys)
    assert lines[-1].id == "S4"
    assert not lines[-1].loaded
    assert {line.id for line in lines} == set(results)


def test_a_line_says_what_the_result_says(judged):
    _, results = judged
    made = summarise(results.values())
    for line in made.lines:
        result = results[line.id]
        assert line.judged.status == result.status
        assert line.cautions + len(line.stops) == len(result.cautions)
        if result.status == "outside":
            # a margin beside a load that nothing covers would be read as the item's own
            assert line.judged.used is None
            assert line.judged.margin is None
            assert line.unjudged
        elif line.loaded:
            worst = result.worst
            assert line.judged.governs == plain(worst)
            assert line.judged.key == worst.key
            # margin of safety, by its definition: actual / required - 1
            assert line.judged.margin == pytest.approx(worst.safety_factor / worst.required_factor - 1)
            assert line.judged.used == (pytest.approx(1 / (1 + line.judged.margin)) if worst.safety_factor else None)
    by_id = {line.id: line for line in made.lines}
    assert by_id["S3"].judged.margin < 0 < by_id["S1"].judged.margin
    assert by_id["S2"].title == "Middle lap"
    assert by_id["M5"].stops
    assert made.counts == {word: sum(r.status == word for r in results.values()) for word in ("ok", "over", "outside")}


def test_a_caution_stands_once_with_the_items_that_raise_it(judged):
    _, results = judged
    made = summarise(results.values())
    told = [(one.code, one.text) for one in (*made.stops, *made.cautions)]
    assert len(told) == len(set(told))
    pairs = {(i, one.code, one.text) for one in (*made.stops, *made.cautions) for i in one.ids}
    assert pairs == {(r.id, c.code, str(c.text)) for r in results.values() for c in r.cautions}
    assert all(one.severity == "stop" for one in made.stops)
    assert made.stops
    assert all(one.severity != "stop" for one in made.cautions)


def test_thin_sheet_turns_the_verdict_of_what_is_near_its_limit(judged):
    items, results = judged
    thin = {item.id: thinner(item, results[item.id]) for item in items}
    made = summarise(results.values(), thin=thin)
    turns = [i for i, r in results.items() if r.status == "ok" and (t := thin[i].result) and t.status != "ok"]
    assert list(made.turns) == turns == ["S6"]
    by_id = {line.id: line for line in made.lines}
    assert by_id["S6"].thin.judged.margin < by_id["S6"].judged.margin
    assert by_id["S3"].thin.judged.status == "over"
    assert not by_id["S3"].thin.turns
    first = items[0]
    assert dataclasses.replace(thin["S1"], result=None) == dataclasses.replace(sensitivity(first)[0], result=None)


def test_unverified_governing_values_and_open_points_are_counted(judged):
    _, results = judged
    made = summarise(results.values(), open_points=["weigh the tank"])
    for line in made.lines:
        expected = results[line.id].worst.provenance if line.loaded and results[line.id].worst else ""
        assert line.unverified == (expected if expected in ("from memory", "second-hand") else "")
    assert made.open_points[0] == "weigh the tank"
    assert any(point.startswith("S4: no load given") for point in made.open_points)


def test_an_inch_reader_has_no_millimetre_in_what_is_told(judged):
    _, results = judged
    made = summarise(results.values(), "inch")
    metric = summarise(results.values())
    assert any(" mm" in one.text for one in metric.cautions)
    assert not any(" mm" in one.text for one in (*made.stops, *made.cautions))
