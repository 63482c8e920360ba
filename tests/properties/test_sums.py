"""What a result says of itself agrees with its checks; nothing that is not a number leaves; a model's JSON is the model."""

from __future__ import annotations

import json
from math import isfinite
from typing import Any

import pytest
from hypothesis import given

from jointcalc.cli.common import answer
from jointcalc.model.fields import Item, build
from jointcalc.result import DETAILING, Result
from tests.properties.compare import applies, same
from tests.properties.describe import EVERY, EXAMPLES, by_rules, judged, tries


def numbers(value: Any) -> list[float]:
    """Every number in a JSON document."""
    if isinstance(value, dict):
        return [n for v in value.values() for n in numbers(v)]
    if isinstance(value, list):
        return [n for v in value for n in numbers(v)]
    return [value] if isinstance(value, float) else []


def sums(result: Result) -> None:
    """The rules of the contract, worked out a second time from the JSON alone."""
    told = json.loads(json.dumps(result.json(), allow_nan=False))
    assert all(isfinite(n) for n in numbers(told))
    strength = []
    for check, one in zip(told["checks"], result.checks):
        capacity, demand = check["capacity"], check["demand"]
        used, factor, required = check["utilisation"], check["safety_factor"], check["required_factor"]
        detailing = one.method.basis == DETAILING
        assert check["key"].startswith(one.method.key)
        if check["status"] in ("ok", "over"):
            assert capacity["unit"] == demand["unit"]
            assert (check["status"] == "over") == (used is None or used > 1 + 1e-9)
            assert required > 0
            if demand["value"] == 0:
                assert used == 0
                assert factor is None
                assert "no load of this kind" in check["note"]
            elif capacity["value"] > 0:
                assert factor == pytest.approx(capacity["value"] / demand["value"], rel=1e-12)
                assert used == pytest.approx(required / factor, rel=1e-12)
            if not detailing:
                strength.append(check)
        else:
            assert used is None
            assert required is None
        if check["status"] == "outside":
            assert check["note"].strip()
            assert capacity is None
            assert factor is None
    over = [c for c in told["checks"] if c["status"] == "over"]
    if over:
        assert told["status"] == "over"
    elif result.unjudged or not strength:
        assert told["status"] == "outside"
    else:
        assert told["status"] == "ok"
    pool = over or strength
    if pool:
        governing = [c for c in told["checks"] if c["key"] == told["governing"]]
        assert len(governing) == 1
        most = max(float("inf") if c["utilisation"] is None else c["utilisation"] for c in pool)
        assert governing[0]["utilisation"] in (None, most)
    else:
        assert told["governing"] is None
    if told["status"] == "ok":
        assert all(c["utilisation"] <= 1 + 1e-9 for c in told["checks"] if c["status"] == "ok")
    assert all(v["unit"] for v in told["values"].values())
    assert told["cautions"]


@pytest.mark.parametrize("kind", EVERY)
def test_a_result_agrees_with_its_checks(kind: str, capsys: pytest.CaptureFixture[str]) -> None:
    @tries(EXAMPLES[kind])
    @given(data=EVERY[kind])
    def holds(data: dict[str, Any]) -> None:
        result = judged(kind, data)
        sums(result)
        capsys.readouterr()
        code = answer(result, json=True, units="metric", steps=False, full=False, cautions=False)
        shown = json.loads(capsys.readouterr().out, parse_constant=pytest.fail)
        assert shown["status"] == result.status
        assert code == (0 if shown["status"] == "ok" else 1)
        assert any(applies(c) for c in result.checks) or code == 1

    holds()


@pytest.mark.parametrize("kind", EVERY)
def test_a_model_s_json_is_the_model(kind: str) -> None:
    """Sizes are written with all their digits and read back the same, so the result is the same to the last bit."""

    @tries(EXAMPLES[kind])
    @given(data=EVERY[kind])
    def holds(data: dict[str, Any]) -> None:
        result = judged(kind, data)
        item: Item = result.model
        dumped = json.loads(item.model_dump_json())
        again = build(type(item), dumped)
        assert json.loads(again.model_dump_json()) == dumped
        second = _judge(again)
        assert second.json() == result.json()
        same(result, second, rel=0.0)

    holds()


def _judge(item: Item) -> Result:
    return by_rules(item)
