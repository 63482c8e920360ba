"""The best try of a search that found nothing: the one that is least over, and what stopped it."""

import itertools

import pytest

from jointcalc.check import check
from jointcalc.explore.answer import Best, nothing_holds, stopped
from jointcalc.model.fields import build
from jointcalc.model.seam import SpotSeam
from jointcalc.quantity.show import percent
from jointcalc.result.plain import plain

SEAM = {
    "sheets": [{"thickness": "1.2 mm", "grade": "DC04"}] * 2, "weld_diameter": "5.5 mm", "length": "1200 mm",
    "pitch": "40 mm", "edge": "12 mm",
}  # fmt: skip


@pytest.fixture(scope="module")
def tried():
    """Twice, one and a half times and just more than what holds, and a spot that no method covers."""
    over = {words: check(build(SpotSeam, {**SEAM, "shear": words})) for words in ("80 kN", "60 kN", "50 kN")}
    assert {result.status for result in over.values()} == {"over"}
    silent = check(build(SpotSeam, {**SEAM, "weld_diameter": "3 mm", "shear": "3 kN"}))
    assert silent.status == "outside"
    return {**over, "a spot of 3 mm": silent}


def test_the_least_over_is_kept_in_whatever_order_they_are_tried(tried):
    for order in itertools.permutations(tried):
        best = Best()
        for words in order:
            assert best.saw(tried[words], words) is tried[words]
        assert best.words == "50 kN", order


def test_the_message_says_what_stopped_it(tried):
    best = Best()
    best.saw(tried["50 kN"], "50 kN")
    worst = tried["50 kN"].worst
    told = nothing_holds("no pitch holds", best, "the sheet").message
    assert told == (
        f"no pitch holds; the best try, 50 kN, is {percent(worst.utilisation)} used: {plain(worst)}, by {worst.title}; "
        "change the sheet"
    )
    assert stopped(tried["a spot of 3 mm"]).startswith("cannot be judged: ")
