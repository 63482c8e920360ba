"""What a search answers a reader of inches: a size the shop has or can mark, judged at that size, never 0.8748 in."""

from __future__ import annotations

import re
from typing import Any

import pytest

from jointcalc.explore import bolts
from jointcalc.explore.answer import sheet_size
from jointcalc.explore.find import find
from jointcalc.tables.store import load

STEEL = {"grade": "A1008 SS Gr 33"}
THIN, THICK = {"thickness": "18 ga", **STEEL}, {"thickness": "16 ga", **STEEL}
SEAM: dict[str, Any] = {
    "sheets": [THIN, THICK], "length": "48 in", "edge": "3/8 in", "shear": "2700 lbf", "weld_diameter": "usual",
    "pitch": "1-1/2 in",
}  # fmt: skip
PLUG: dict[str, Any] = {
    "sheets": [THIN, THICK], "length": "24 in", "edge": "3/4 in", "shear": "500 lbf", "pitch": "2 in", "hole": "3/8 in",
}  # fmt: skip
FILLET: dict[str, Any] = {
    "sheets": [{"thickness": "14 ga", **STEEL}], "lines": ["0 0 2-1/2 0 in", "0 1-1/2 2-1/2 1-1/2 in"], "leg": "1/8 in",
    "force": "0 -300 0 lbf", "at": "4-1/2 3/4 0 in",
}  # fmt: skip
BOLTS: dict[str, Any] = {
    "sheets": [THICK], "holes": ["0 0 in", "0 4-1/2 in"], "bolt": "5/16-18 Gr 5", "force": "0 100 200 lbf",
    "at": "0 2-1/4 3 in",
}  # fmt: skip
SEARCHES = [
    ("seam", SEAM, "pitch"), ("seam", SEAM, "weld-diameter"), ("seam", SEAM, "thickness"), ("plug", PLUG, "pitch"),
    ("plug", PLUG, "hole"), ("fillet", FILLET, "leg"), ("fillet", FILLET, "length"), ("fillet", FILLET, "thickness"),
    ("bolts", BOLTS, "plate"), ("bolts", BOLTS, "thickness"), ("bolts", BOLTS, "hole"),
]  # fmt: skip


@pytest.mark.parametrize(("kind", "data", "unknown"), SEARCHES)
def test_an_answer_is_a_size_of_the_shop_and_holds(kind: str, data: dict[str, Any], unknown: str) -> None:
    given = {k: v for k, v in data.items() if k != {"hole": "hole", "pitch": "", "leg": "leg"}.get(unknown, "")}
    answer = find(given, unknown, kind=kind, system="inch")
    assert answer.result.status == "ok"
    size = answer.result.values["found"].value
    assert size is not None
    parts = size / 25.4 * 64
    gauges = {row.need("t") for row in load("stock_thickness").rows if row["series"] == "inch"}
    assert abs(parts - round(parts)) < 1e-6 or any(abs(size - t) < 1e-6 for t in gauges)
    sentence = answer.text.partition("margin")[0]
    assert not re.search(r"[0-9]\.[0-9]+ in\b|\bmm\b", sentence), sentence
    assert re.search(r"[0-9] (?:in|ga)\b", sentence)


def test_a_sheet_is_told_as_a_stockholder_lists_it() -> None:
    # Manufacturers' Standard Gauge: 18 ga 0.0478 in, galvanised 0.0516 in; aluminium by decimals of an inch
    assert sheet_size(0.0478 * 25.4, "steel", "inch") == "18 ga"
    assert sheet_size(0.0516 * 25.4, "steel", "inch", coated=True) == "18 ga"
    assert sheet_size(0.063 * 25.4, "aluminium", "inch") == "0.063 in"
    assert sheet_size(1.2, "steel", "metric") == "1.2 mm"
    assert sheet_size(1.3, "steel", "metric") == "1.3 mm"
    assert sheet_size(3.175, "steel", "inch") == "1/8 in"
    kept = {round(row.need("t"), 6) for row in load("stock_thickness").rows if row["series"] == "inch"}
    assert {round(t, 6) for t in bolts.THICKNESSES["inch"] if t < 3.0} <= kept
