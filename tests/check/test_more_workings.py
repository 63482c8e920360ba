"""Rules every check of every kind keeps, on random items: its numbers stand in its own working, and its factor is the loads'.

No reference value is needed: a number a builder is shown must be found among the steps printed below it, or be one he or
the clause gave (listed here, with the reason); nothing printed may be empty; keys do not repeat; and the factor a method
asks for follows the load factor exactly or not at all.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from math import isfinite

import pytest
from hypothesis import given, settings

from jointcalc.result import DETAILING, Check, Result
from tests.properties.describe import EVERY, Data, judged

EXAMPLES = {"brace": 15, "panel": 8}
ONE = "utilisations are compared with 1 or with the clause's own number"
WEBS = "one web's resistance times the webs"
GIVEN = "a strength or a limit that was given"
CAPACITY_ELSEWHERE = {
    "aisi-s100.bending-crippling": ONE,
    "aisi-s100.bending-shear": ONE,
    "aisi-s100.beam-column": ONE,
    "aisi-s100.tension-bending": ONE,
    "en1993-1-3.beam-column": ONE,
    "en1993-1-3.bending-crippling": ONE,
    "en1993-1-3.tension-bending": ONE,
    "en1993-1-8.bolt-interaction": ONE,
    "en1993-1-9.interaction": ONE,
    "interaction.": ONE,
    "en1993-1-8.wall-under-welds": ONE,
    "yield-line.": ONE,
    "aisi-s100.web-": WEBS,
    "en1993-1-3.web-": WEBS,
    "aisi-s100.lateral-torsional": "the stress times a section modulus",
    "aisc-manual.instantaneous-centre": "the coefficient times one bolt",
    "aisi-s100.arc-spot-uplift": "by the factor of its place",
    "aisc-360.fillet-centre": "the coefficient times the length",
    "en1999-1-1.": GIVEN,
    "plate.": GIVEN,
    "limit.": GIVEN,
    "forming.": GIVEN,
    "en1993-1-3.arc-spot-edge": "the distance that was given",
}
STRENGTH_OUTSIDE_WITHOUT_A_DEMAND = (
    "aisc-manual.",
    "aisi-s100.bending",
    "aisi-s100.fillet-",
    "aisi-s100.flare-",
    "aisi-s100.groove-",
    "aisi-s100.arc-spot-interaction",
    "aisi-s100.weld-metal",
    "asce-8.",
    "en1993-1-3.bending",
    "en1993-1-3.ductility",
    "en1993-1-9.",
    "interaction.",
)
SAID_IN_WORDS = (
    "advice.order",
    "detail.",
    "en1993-1-3.bending-shear",
    "en1993-1-3.fastener-ductility",
    "forming.bends",
    "forming.radius-din",
)
FOLLOWS_ANOTHER = ("brace.spot-line",)  # takes the factor of whichever method governs its seam


def in_working(check: Check, value: float) -> bool:
    return any(abs(abs(line.value) - abs(value)) <= 1e-9 * abs(value) for line in check.steps())


def excused(key: str, table: dict[str, str] | tuple[str, ...]) -> bool:
    return key.startswith(tuple(table))


def shown_rightly(result: Result) -> None:
    keys = [c.key for c in result.checks]
    assert len(set(keys)) == len(keys), f"twice: {[k for k in keys if keys.count(k) > 1]}"
    assert not [name for name, amount in result.values.items() if amount.value is None]
    for check in result.checks:
        for line in check.steps():
            texts = (line.symbol, line.expression, line.substituted, line.unit, line.source)
            assert isfinite(line.value), (check.key, line)
            assert all(isinstance(text, str) for text in texts), (check.key, line)
            assert not any("None" in text for text in texts), (check.key, line)
            assert line.symbol, (check.key, line)
        assert isinstance(check.note, str)
        key = check.method.key
        if check.status == "outside":
            assert check.note, key
            assert check.demand is not None or excused(key, STRENGTH_OUTSIDE_WITHOUT_A_DEMAND), key
        if check.status == "info" and check.capacity is not None and not excused(key, SAID_IN_WORDS):
            assert check.steps(), f"{key} is shown without a working"
        if check.status not in ("ok", "over"):
            continue
        assert check.capacity is not None, key
        assert check.demand is not None, key
        assert check.required_factor is not None, key
        if check.method.basis != DETAILING:
            assert check.steps(), f"{key} is judged without a working"
            if not excused(key, CAPACITY_ELSEWHERE):
                assert in_working(check, check.capacity.value or 0.0), f"the capacity of {key} is not in its working"


def factor_follows(once: Result, twice: Result) -> None:
    """The same item with twice the load factor: a factor that says it holds the load factor doubles, the others stay."""
    assert [c.key for c in once.checks] == [c.key for c in twice.checks]
    for a, b in zip(once.checks, twice.checks):
        if a.required_factor is None or b.required_factor is None or a.method.key in FOLLOWS_ANOTHER:
            continue
        words = a.method.factor
        doubles = words == "γ_F" or words.endswith("× γ_F")
        assert b.required_factor == pytest.approx((2 if doubles else 1) * a.required_factor), (a.key, words)
        single = re.fullmatch(r"Ω = (\d\.\d+)(, welded)?", words)
        if single:
            assert a.required_factor == pytest.approx(float(single[1])), (a.key, words)
        assert a.capacity is not None
        assert b.capacity is not None
        assert b.capacity.value == pytest.approx(a.capacity.value), a.key


def rule(kind: str) -> Callable[[], None]:
    @settings(max_examples=EXAMPLES.get(kind, 40))
    @given(EVERY[kind])
    def holds(data: Data) -> None:
        once = judged(kind, {**data, "load_factor": 1.25})
        shown_rightly(once)
        factor_follows(once, judged(kind, {**data, "load_factor": 2.5}))

    return holds


@pytest.mark.parametrize("kind", sorted(EVERY))
def test_numbers_stand_in_their_working_and_factors_follow_the_loads(kind: str) -> None:
    rule(kind)()
