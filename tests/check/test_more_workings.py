"""Rules every check of every kind keeps, on random items: its numbers stand in its own working, and its factor is the loads'.

No reference value is needed: a number a builder is shown must be found among the steps printed below it, or be one he or
the clause gave (listed here, with the reason); nothing printed may be empty; keys do not repeat; and the factor a method
asks for follows the load factor exactly or not at all.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Callable
from math import isfinite
from pathlib import Path

import pytest
from hypothesis import given, settings

from jointcalc.check import common
from jointcalc.result import DETAILING, Check, Result
from jointcalc.result.factor import omega
from tests.properties.describe import EVERY, Data, judged

EXAMPLES = {"brace": 15, "panel": 3}
ONE = "utilisations are compared with 1 or with the clause's own number"
WEBS = "one web's resistance times the webs"
GIVEN = "a strength or a limit that was given"
CAPACITY_ELSEWHERE = {
    "may-carry.": "the greatest load that passes the check whose working stands there, found by trials",
    "aisi-s100.bending-crippling": ONE,
    "aisi-s100.bending-shear": ONE,
    "aisi-s100.beam-column": ONE,
    "aisi-s100.tension-bending": ONE,
    "en1993-1-3.beam-column": ONE,
    "en1993-1-3.bending-crippling": ONE,
    "en1993-1-3.tension-bending": ONE,
    "en1993-1-8.bolt-interaction": ONE,
    "en1993-1-9.interaction": ONE,
    "en1993-1-9.bolt-interaction": ONE,
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
    "may-carry.",
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
FOLLOWS_ANOTHER = ("brace.spot-line", "may-carry.seam", "may-carry.group")
"""Take the factor of whichever method governs: of the weld line, of the load that was tried."""

FOLLOWED_SO_FAR = ("en1993-1-5.shell-in-plane", "aisi-s100.bending-torsion")
"""Loads are raised only to twice what is required, and that is shown where the panel still holds there; the twist that
lessens the moment grows with the load to be carried, as it nears the critical moment."""


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
    """The same item with the load factor 1.25 and 2.5: every check asks for what its method's factor says.

    What only informs may come to be known by the greater load: the strength of a method left on its weak side is.  The
    edge of its range stands beside others where it is used the most, which the load may change.
    """
    before, after = ([c for c in r.checks if c.status != "info" and not c.of_edge] for r in (once, twice))
    assert [c.key for c in before] == [c.key for c in after]
    for a, b in zip(before, after, strict=True):
        if a.required_factor is None or b.required_factor is None or a.method.key in FOLLOWS_ANOTHER:
            continue
        factor = a.method.factor
        assert factor.admits(a.required_factor, 1.25), (a.key, str(factor), a.required_factor)
        assert factor.admits(b.required_factor, 2.5), (b.key, str(factor), b.required_factor)
        doubles = factor.times_load or (not factor.parts and str(factor).endswith("× γ_F"))
        assert b.required_factor == pytest.approx((2 if doubles else 1) * a.required_factor), (a.key, str(factor))
        if a.method.key in FOLLOWED_SO_FAR:
            continue
        assert a.capacity is not None
        assert b.capacity is not None
        assert b.capacity.value == pytest.approx(a.capacity.value), a.key


def typed(tree: ast.AST) -> list[str]:
    """Factors written as words with a digit that is no subscript of a symbol such as γ_M2."""
    calls = [n for n in ast.walk(tree) if isinstance(n, ast.Call) and getattr(n.func, "id", "") in ("method", "Factor")]
    given = [a for n in calls for a in [*(k.value for k in n.keywords if k.arg == "factor"), *n.args[:1]]]
    words = [str(a.value) for a in given if isinstance(a, ast.Constant)]
    return [w for w in words if re.search(r"(?<![A-Za-z_])\d", w) and ("Ω" in w or "γ" in w or re.match(r"\d", w))]


def test_no_factor_is_typed_as_words() -> None:
    """A factor's numbers stand once, in its clause: the words are printed from them."""
    assert typed(ast.parse('method("a.b", "", S, per="", basis="", factor="Ω = 2.50")')) == ["Ω = 2.50"]
    for path in sorted(Path(common.__file__).parent.glob("*.py")):
        assert not typed(ast.parse(path.read_text(encoding="utf-8"))), path.name


def test_a_factor_says_what_it_asks_for() -> None:
    """Printed from its parts, times the load factor where it holds one; a choice is never made in silence."""
    welded = omega(2.5, words="Ω = {}, welded")
    assert (str(welded), welded.required(1.5)) == ("Ω = 2.50, welded", 2.5)
    assert str(common.PARTIAL) == "γ_M2 × γ_F"
    assert common.PARTIAL.required(1.5) == pytest.approx(1.875)  # 1.25 x 1.5, EN 1993-1-3 2(3) and EN 1990
    assert common.FITTED.required() == pytest.approx(1.725)  # 1.5 x 1.15, 14 CFR 25.303 and 25.625
    with pytest.raises(ValueError, match="holds the load factor"):
        common.PARTIAL.required()
    with pytest.raises(ValueError, match="leaves a choice"):
        omega(3.0, 2.5, words="Ω = {}, deck {}").required(1.5)


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
