"""The rules of a brace are functions of a frozen action: whichever is asked first, they find the same.

No outside value is needed: what a rule says cannot hang on which other rule was looked at before.
"""

from __future__ import annotations

from dataclasses import FrozenInstanceError
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jointcalc.check.brace import NEEDS, STRENGTH
from jointcalc.check.brace_action import BraceAction
from jointcalc.errors import InputError
from jointcalc.model.brace import Brace
from jointcalc.model.fields import build
from tests.properties.describe import EVERY, Data, model

RULES = (*STRENGTH, *NEEDS)
PLAIN = {
    "profile": "hat:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm",
    "grade": "S355MC",
    "span": "1000 mm",
    "point": "500 N @ 400 mm",
    "compression": "1 kN",
}


def said(brace: Brace, turned: bool, order: list[int]) -> dict[str, Any]:
    """What each rule says of a fresh action when they are asked in that order."""
    action = BraceAction(brace, turned)
    found = {RULES[k].__name__: RULES[k](action) for k in order}
    return {rule.__name__: [getattr(x, "json", lambda x=x: x)() for x in found[rule.__name__]] for rule in RULES}


@settings(max_examples=12)
@given(EVERY["brace"], st.permutations(range(len(RULES))))
def test_the_rules_may_be_asked_in_any_order(data: Data, order: list[int]) -> None:
    try:
        brace = model("brace", data)
    except InputError:
        return
    if not BraceAction(brace).steel or not all(sheet.has_yield for sheet in brace.sheets):
        return
    printed = list(range(len(RULES)))
    first = said(brace, brace.ways[-1], printed)
    assert said(brace, brace.ways[-1], printed[::-1]) == first
    assert said(brace, brace.ways[-1], order) == first


def test_each_rule_says_alone_what_it_says_among_others() -> None:
    """Pressed, bent and sheared at once: the sums find what they add without any rule having run before."""
    brace = build(Brace, PLAIN)
    among = said(brace, False, list(range(len(RULES))))
    for rule in RULES:
        alone = [getattr(x, "json", lambda x=x: x)() for x in rule(BraceAction(brace, False))]
        assert alone == among[rule.__name__], rule.__name__
    assert {"axial", "bending_shear", "bending_crippling"} <= {name for name, checks in among.items() if checks}


def test_an_action_is_frozen() -> None:
    action = BraceAction(build(Brace, PLAIN))
    with pytest.raises(FrozenInstanceError):
        action.turned = True  # type: ignore[misc]
