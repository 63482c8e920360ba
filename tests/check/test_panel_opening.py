"""Openings in panels: published and derived rules, what is outside, and that no larger opening holds better.

Rockey, Anderson and Cheung: k/k_0 = 1 - d/b of a square plate (from memory); Narayanan and Der-Avanessian (from
memory); the strips beside an opening by statics worked out here.
"""

from __future__ import annotations

import random
from math import pi, sqrt
from typing import Any

import pytest

from jointcalc.check.panel_action import PanelAction
from jointcalc.check.panel_opening import as_opened, opened, opening_left
from jointcalc.check.panel_plane import shear
from jointcalc.errors import InputError
from jointcalc.formula import plate_opening as f
from jointcalc.model.fields import build
from jointcalc.model.opening import parse_opening
from jointcalc.model.panel import Panel
from jointcalc.result import Check

from .test_panel import ARC, NU, E, capacity, codes, demand, judged, only, raw


def sheared(**changes: Any) -> tuple[dict[str, Check], list[str]]:
    action = PanelAction(build(Panel, raw(**changes)))
    checks = [*(as_opened(action, c) for c in shear(action)), *opened(action)]
    return {c.key: c for c in checks}, opening_left(action)


def state(**changes: Any) -> str:
    found, missing = sheared(**changes)
    if any(c.status == "over" for c in found.values()):
        return "over"
    return "outside" if missing else "ok"


def used(**changes: Any) -> float:
    return max(c.utilisation or 0.0 for c in sheared(**changes)[0].values() if c.status in ("ok", "over"))


def test_a_round_opening_in_a_square_plate_takes_its_share_of_the_width() -> None:
    for part in (0.1, 0.3, 0.5):
        k = f.HOLED_COEFFICIENT_ROUND(k_0=9.34, alpha_c=1.5, d=part, a=1.0, b=1.0)
        assert k / 9.34 == pytest.approx(1 - part, abs=0.035)  # Rockey, Anderson and Cheung
    # a square opening of the same size takes more than the round one, less than its own enclosing circle's square
    square = f.HOLED_COEFFICIENT_RECTANGLE(k_0=9.34, alpha_c=1.5, l_c=0.3, h_c=0.3, a=1.0, b=1.0)
    assert square == pytest.approx(9.34 * 0.55)


def test_strips_beside_an_opening_by_statics() -> None:
    """Half the shear on the cut through the middle; from there the edge's flow runs in: moment about the strip's axis."""
    q, t, f_y, side, height, length = 7.0, 1.2, 160.0, 400.0, 120.0, 90.0
    h = (side - height) / 2
    V, x = q * side / 2, length / 2
    M = V * x - q * x * h / 2  # the flow along the outer edge turns the strip back
    N = q * x
    parts = (N / (h * t * f_y) + M / (t * h**2 / 4 * f_y), V / (h * t * f_y / sqrt(3)))
    assert f.FRAME_FLOW(f_y=f_y, t=t, h=h, w=length, side=side) == pytest.approx(
        q / sqrt(parts[0] ** 2 + parts[1] ** 2)
    )
    # a slit across the flow: the net section
    assert f.FRAME_FLOW(f_y=f_y, t=t, h=h, w=0.0, side=side) == pytest.approx(2 * h / side * t * f_y / sqrt(3))
    assert f.ROUND_LENGTH(d=100.0) == pytest.approx(45.0)
    assert f.ROUND_HEIGHT(d=100.0) == pytest.approx(90.0)


def test_a_flange_stretches_the_edge_of_its_hole() -> None:
    # a hole of 64 mm whose edge ends at 80 mm
    assert f.COLLAR_STRAIN(r_c=40.0, f=8.0) == pytest.approx(80 / 64 - 1)
    found, _ = sheared(opening="round:diameter=80mm,flange=8mm", shear="1 N/mm")
    assert found["forming.opening-flange-strain"].status == "ok"
    found, _ = sheared(opening="round:diameter=40mm,flange=8mm", shear="1 N/mm")
    assert found["forming.opening-flange-strain"].status == "over"  # 40/24 - 1 = 67 % against 38 %


def test_shear_with_an_opening_by_hand() -> None:
    result = judged(opening="round:diameter=80mm", shear="3 N/mm")
    k = 7.118 * (1 - 1.5 * 80 / sqrt(600**2 + 400**2))
    tau = k * pi**2 * E / (12 * (1 - NU**2)) / 400**2
    assert capacity(result, "plate.opening-shear-buckling") == pytest.approx(tau, rel=1e-3)
    assert demand(result, "plate.opening-shear-buckling") == pytest.approx(3.0)
    assert result.status == "ok"
    assert "panel-opening" in codes(result)
    assert only(result, "en1993-1-5.panel-shear").status == "outside"
    assert judged(opening="round:diameter=80mm", shear="6 N/mm").status == "over"


def test_an_opening_off_the_middle_is_the_one_that_encloses_it() -> None:
    off, _ = sheared(opening="round:diameter=80mm,x=340mm,y=230mm", shear="3 N/mm")
    grown, _ = sheared(opening="round:diameter=180mm", shear="3 N/mm")
    one, other = (x["plate.opening-shear-buckling"].capacity for x in (off, grown))
    assert one is not None
    assert other is not None
    assert one.value == pytest.approx(other.value)


@pytest.mark.parametrize("changes", [
    {"pressure": "0.1 kPa"}, {"patch": "50 N"}, {"compression": "1 N/mm"}, {"limit_frequency": "10 Hz"},
    {"shear": "1 N/mm", "bead": ARC}, {"shear": "0.1 N/mm", "opening": "round:diameter=260mm"},
    {"pressure": "0.1 kPa", "limit_deflection": "5 mm"},
])  # fmt: skip
def test_what_no_rule_reaches_is_said(changes: dict[str, str]) -> None:
    result = judged(**{"opening": "round:diameter=60mm", "thickness": "1.2 mm", **changes})
    assert result.status == "outside", result.governing
    assert result.unjudged or not changes.get("shear")
    if "pressure" in changes:
        assert result.values["deflection"].value is None
        assert only(result, "limit.permanent-set").status == "outside"


def test_what_is_over_without_the_opening_is_over_with_it() -> None:
    result = judged(opening="round:diameter=60mm", pressure="60 kPa", thickness="0.8 mm")
    assert result.status == "over"


@pytest.mark.parametrize("text, words", [
    ("oval:diameter=80mm", "no opening known"), ("round:diameter=500mm", "reaches the edge"),
    ("round:width=80mm", "not a size"), ("round:", "lacks its diameter"), ("round:diameter=80", "unit"),
    ("rectangle:width=80mm,height=60mm,flange=5mm", "cannot be turned up"),
    ("rectangle:width=80mm,height=60mm,corner=40mm", "does not fit"), ("round:diameter=80mm,x=20mm", "reaches the edge"),
    ("round:diameter=80mm,diameter=90mm", "twice"), ("round:80mm", "name=size"), ("round:diameter=0mm", "greater"),
])  # fmt: skip
def test_openings_that_cannot_be(text: str, words: str) -> None:
    with pytest.raises(InputError, match=words):
        build(Panel, raw(opening=text))


def test_an_opening_reads_back() -> None:
    for text in (
        "round:diameter=80mm,x=200mm,y=150mm,flange=8mm",
        "rectangle:width=90mm,height=60mm,corner=12mm,x=9cm",
    ):
        once = parse_opening(text, 600.0, 400.0)
        assert parse_opening(str(once), 600.0, 400.0) == once


def holed(p: dict[str, float], *, k: float = 1.0, q: float = 1.0, thin: float = 1.0) -> dict[str, Any]:
    size = (
        f"round:diameter={k * p['w']}mm"
        if p["w"] == p["h"]
        else f"rectangle:width={k * p['w']}mm,height={k * p['h']}mm"
    )
    return {
        "size": f"{p['a']} {p['b']} mm", "along": "long" if p["a"] >= p["b"] else "short",
        "thickness": f"{p['t'] * thin} mm", "shear": f"{q} N/mm", "opening": f"{size},x={p['x']}mm,y={p['y']}mm",
    }  # fmt: skip


def test_no_larger_opening_holds_better() -> None:
    dice, tried = random.Random(3), 0
    while tried < 150:
        p = {"a": dice.uniform(200, 700), "b": dice.uniform(200, 700), "t": dice.uniform(0.7, 4.0)}
        p |= {"w": dice.uniform(0.05, 0.6) * p["a"], "h": dice.uniform(0.05, 0.6) * p["b"]}
        p |= {"x": dice.uniform(0.45, 0.55) * p["a"], "y": dice.uniform(0.45, 0.55) * p["b"]}
        if dice.random() < 0.5:
            p["w"] = p["h"] = min(p["w"], p["h"])
        try:
            q = 1.02 / used(**holed(p))
            if state(**holed(p, q=q)) != "over":
                continue
            for worse in (holed(p, k=dice.choice((1.01, 1.2, 1.5)), q=q), holed(p, q=q * 1.3), holed(p, q=q, thin=0.9)):
                assert state(**worse) != "ok", (holed(p, q=q), worse)
        except InputError:
            continue
        tried += 1
