"""A hole that is declared in a brace: no rule for it is carried, so that the brace cannot hold; what is over stays over."""

from __future__ import annotations

from typing import Any

import pytest

from jointcalc.check.brace import check_brace
from jointcalc.errors import InputErrors
from jointcalc.model.brace import Brace
from jointcalc.model.fields import build
from jointcalc.result import Result

BRACE = {
    "profile": "hat:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm", "grade": "S355MC", "span": "1000 mm",
    "point": "200 N @ 500 mm", "lies": "crown-up", "over": "webs",
}  # fmt: skip


def judged(**changes: Any) -> Result:
    return check_brace(build(Brace, {**BRACE, **changes}))


def test_a_brace_with_a_hole_cannot_hold() -> None:
    whole, holed = judged(), judged(hole=["8 mm @ 250 mm", "30 mm @ 700 mm"])
    assert (whole.status, holed.status) == ("ok", "outside")
    (left,) = holed.unjudged
    assert "8 mm at 250 mm" in left
    assert "30 mm at 700 mm" in left
    (check,) = [c for c in holed.checks if c.key == "aisi-s100.member-holes"]
    assert check.status == "outside"
    # the rest is told as of the brace without it
    rest = {c.key: c.utilisation for c in holed.checks if c is not check}
    assert rest == {c.key: c.utilisation for c in whole.checks}


def test_what_is_over_without_the_hole_is_over_with_it() -> None:
    assert judged(point="4 kN @ 500 mm", hole="8 mm @ 250 mm").status == "over"


@pytest.mark.parametrize(
    "text, words",
    [("8 mm", "20 mm @ 400 mm"), ("8 mm @ 1100 mm", "off the brace"), ("0 mm @ 100 mm", "no width"),
     ("-8 mm @ 100 mm", "negative"), ("8 kg @ 100 mm", "length")],
)  # fmt: skip
def test_a_hole_says_its_width_and_where_it_is(text: str, words: str) -> None:
    with pytest.raises(InputErrors, match=words):
        judged(hole=text)
