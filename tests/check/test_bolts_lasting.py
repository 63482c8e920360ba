"""Bolts under load changes: EN 1993-1-9 Table 8.1 (from memory), each number worked out here a second time.

Category 50 with slope 3 for a bolt in tension (detail 14) and for net section beside bolts that are not preloaded (13),
100 with slope 5 for a shank in shear (15); gamma_Mf 1.35.  At a million changes they grow by 2^(1/3) and 2^(1/5).
"""

from __future__ import annotations

from math import pi
from typing import Any

import pytest

from jointcalc.check import check
from jointcalc.errors import InputError
from jointcalc.model.bolts import FastenerGroup
from jointcalc.model.fields import build
from jointcalc.result import Check, Result

MANY = 1e6
PLATES: dict[str, Any] = {
    "sheets": [{"thickness": "5 mm", "grade": "S235JR"}] * 2, "holes": ["0 0 mm", "40 0 mm"], "bolt": "M10 8.8",
    "edge": "20 mm", "at": "20 0 0 mm", "threads": "out", "washer": "normal", "cycles": MANY, "between": "60 mm",
}  # fmt: skip
STRESS_AREA = pi / 4 * (10 - 0.9382 * 1.5) ** 2  # ISO 898-1
SHANK = pi / 4 * 100


def judged(**change: Any) -> Result:
    return check(build(FastenerGroup, {k: v for k, v in {**PLATES, **change}.items() if v is not None}))


def by(result: Result, key: str) -> Check:
    return next(c for c in result.checks if c.key == key)


def numbers(one: Check) -> tuple[float, float]:
    assert one.capacity is not None
    assert one.demand is not None
    assert one.capacity.value is not None
    assert one.demand.value is not None
    return one.capacity.value, one.demand.value


def test_a_shank_in_shear_and_the_net_section() -> None:
    result = judged(force="6 0 0 kN")
    bolt, sheet = by(result, "en1993-1-9.bolt-shear"), by(result, "en1993-1-9.bolted-sheet.1")
    assert numbers(bolt) == pytest.approx((100 * 2 ** (1 / 5), 3000 / SHANK))
    assert numbers(sheet) == pytest.approx((50 * 2 ** (1 / 3), 6000 / (5 * (40 - 11))))
    assert (bolt.required_factor, sheet.required_factor) == (1.35, 1.35)
    assert result.status == "ok"
    assert "fatigue" not in {c.code for c in result.cautions}
    half = judged(force="6 0 0 kN", load_range=0.5)
    assert numbers(by(half, "en1993-1-9.bolt-shear"))[1] == pytest.approx(1500 / SHANK)
    assert judged(force="7 0 0 kN").status == "over"
    assert judged(force="7 0 0 kN", cycles=None).status == "ok"
    # past 5e6 the pull falls slower, with slope 5; shear goes on as it did
    later = judged(force="6 0 0 kN", cycles=1e7)
    assert numbers(by(later, "en1993-1-9.bolted-sheet.1"))[0] == pytest.approx(50 * 0.4 ** (1 / 3) * 0.5 ** (1 / 5))
    assert numbers(by(later, "en1993-1-9.bolt-shear"))[0] == pytest.approx(100 * 0.2 ** (1 / 5))


def test_a_bolt_in_tension_with_what_a_bracket_pries() -> None:
    result = judged(force="0 0 1 kN")
    assert numbers(by(result, "en1993-1-9.bolt-tension")) == pytest.approx(
        (50 * 2 ** (1 / 3), 500 / STRESS_AREA), rel=1e-3
    )
    assert result.status == "outside"
    assert "bent round the heads" in result.unjudged[0]
    pried = judged(force="0 0 8 kN", upright="30 mm", load_factor=1.0)
    more = pried.values["prying_max"].value
    assert more is not None
    assert more > 100
    assert numbers(by(pried, "en1993-1-9.bolt-tension"))[1] == pytest.approx((4000 + more) / STRESS_AREA, rel=1e-3)
    assert judged(force="0 0 8 kN").status == "over"


def test_shear_and_tension_of_one_bolt_are_added() -> None:
    """8(3): the third power of the direct use and the fifth of the shear, factors inside."""
    both = by(judged(force="6 0 2 kN", pull="even"), "en1993-1-9.bolt-interaction")
    direct, shear = 1000 / STRESS_AREA * 1.35 / (50 * 2 ** (1 / 3)), 3000 / SHANK * 1.35 / (100 * 2 ** (1 / 5))
    assert numbers(both)[1] == pytest.approx(direct**3 + shear**5, rel=3e-3)


@pytest.mark.parametrize(
    ("change", "word"),
    [
        ({"threads": "in"}, "thread"), ({"load_range": 1.5}, "to and fro"), ({"bolt": "M10 4.6"}, "classes"),
        ({"hole_diameter": "12 mm"}, "clearance"), ({"slot": "16 mm", "edge": "30 mm"}, "clearance"),
        ({"sheets": [{"thickness": "5 mm", "grade": "S235JR"}, {"thickness": "2 mm", "grade": "S235JR"}]}, "thread"),
    ],
)  # fmt: skip
def test_what_the_details_do_not_have_is_no_better(change: dict[str, Any], word: str) -> None:
    """Too much for the detail is too much for what is weaker; little enough proves nothing."""
    light, heavy = (judged(**{"force": f"{kN} 0 0 kN", **change}) for kN in (1, 30))
    assert light.status == "outside"
    assert word in by(light, "en1993-1-9.bolt-shear").note
    assert "in shear" in " ".join(light.unjudged)
    assert by(heavy, "en1993-1-9.bolt-shear").status == "over"


def test_rivets_nuts_aluminium_and_turned_groups_have_no_category() -> None:
    rivets = judged(bolt=None, rivet="4.8 mm steel", washer=None, threads=None, force="0.2 0 0 kN")
    assert rivets.status == "outside"
    assert "no category" in by(rivets, "en1993-1-9.bolt-shear").note
    alloy = judged(sheets=[{"thickness": "5 mm", "grade": "6082-T6"}] * 2, force="1 0 0 kN")
    assert "EN 1999-1-3" in by(alloy, "en1993-1-9.bolted-sheet.1").note
    turned = judged(force="0 1 0 kN", at="100 0 0 mm")
    assert "turns the group" in by(turned, "en1993-1-9.bolted-sheet.1").note
    assert any("at its holes" in text for text in turned.unjudged)
    with pytest.raises(InputError, match="load_range"):
        judged(force="1 0 0 kN", load_range=2.5)
