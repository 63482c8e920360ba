"""`jointcalc tables`: every table and method with where it comes from."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from typing import Any

import pytest

from jointcalc.tables.store import names

from .test_seam import CONTRACT, with_


def test_list_carries_provenance(say: Callable[..., Any]) -> None:
    found = json.loads(say("tables", "--json").out)["tables"]
    assert [t["name"] for t in found] == names()
    for table in found:
        assert table["title"]
        assert table["source"]
        assert table["status"] in ("read", "second-hand", "from memory", "common practice", "computed")
        assert table["rows"] > 0
    text = say("tables").out
    for table in found:
        assert f"{table['name']}  ({table['status']}" in text
    assert max(map(len, text.splitlines())) <= 80


def test_methods_cover_every_key_of_a_result(say: Callable[..., Any]) -> None:
    listed = {m["key"]: m for m in json.loads(say("tables", "methods", "--json").out)["methods"]}
    for method in listed.values():
        assert method["title"]
        assert method["source"]
        assert method["basis"]
        assert method["required_factor"]
        assert method["status"]
    stacks: list[dict[str, str | None]] = [
        {}, {"across": "2 kN", "peel": "500 N", "compression": "40 MPa"}, {"grade": "304"}, {"grade": "5754-O"},
        {"rows": "2", "row_spacing": "25 mm", "lap": "50 mm"}, {"weld_diameter": "3 mm"},
    ]  # fmt: skip
    used = set()
    for change in stacks:
        for three in ([], ["--sheet", "1.0 mm"]):
            found = json.loads(say(*with_(CONTRACT, **change), *three, "--json").out)
            used |= {re.sub(r"(\.1-2|\.2-3)?((?<!detail)\.edge)?$", "", c["key"]) for c in found["checks"]}
    assert used <= set(listed)
    documents = ("handbook", "d8", "chao", "sawhill-baker", "mil-hdbk-5")
    spot = {k for k, m in listed.items() if k.split(".")[0] in documents and m["per"] == "spot"}
    spot -= {k for k in spot if ".coupon-" in k}  # pass marks of coupons: `coupons show` has them
    assert len(spot) >= 9
    assert spot <= used, "a listed method never appears"
    text = say("tables", "methods").out
    for key in listed:
        assert f"\n{key}\n" in "\n" + text


@pytest.mark.parametrize("name", names())
def test_every_table_prints(say: Callable[..., Any], name: str) -> None:
    found = json.loads(say("tables", "show", name, "--json").out)
    assert found["name"] == name
    assert found["columns"]
    for row in found["rows"]:
        assert set(row) == set(found["columns"])
    answer = say("tables", "show", name)
    assert answer.code == 0
    assert found["title"].split()[0] in answer.out
    first = next(iter(found["columns"]))
    assert found["rows"][0][first][:12] in answer.out


def test_a_printed_row_is_the_published_one(say: Callable[..., Any]) -> None:
    """P1, the optimum-conditions chart at 0.050 in (read): 554 lb, 14 cycles, 9600 A, 1195 lb, 0.210 in."""
    rows = json.loads(say("tables", "show", "spot_optimum", "--json").out)["rows"]
    row = next(r for r in rows if r["t"] == "0.050")
    assert [float(row[k]) for k in ("force", "weld_time", "current", "shear_min", "nugget_diameter")] == [
        554,
        14,
        9600,
        1195,
        0.21,
    ]
    assert "1195" in say("tables", "show", "spot_optimum").out
