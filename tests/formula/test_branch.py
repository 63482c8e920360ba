"""One slack for every comparison that chooses a branch, and what a limit and a weak-side bound make of it."""

from __future__ import annotations

import pytest

from jointcalc.formula import bolts_en1993, branch, spot_en1993
from jointcalc.formula.core import Source
from jointcalc.result import Method, Need, Stated, method, uncovered

INCHES = [n / 10 for n in range(1, 300)]


@pytest.mark.parametrize("mm", INCHES)
def test_a_size_typed_in_inches_is_on_its_edge(mm: float) -> None:
    through = mm / 25.4 * 25.4
    assert branch.at_least(through, mm)
    assert branch.at_most(through, mm)
    assert not branch.above(through, mm)
    assert not branch.below(through, mm)
    # what can be measured is told apart
    assert branch.above(mm + 1e-5, mm) and not branch.at_most(mm + 1e-5, mm)  # noqa: PT018
    assert branch.below(mm - 1e-5, mm) and not branch.at_least(mm - 1e-5, mm)  # noqa: PT018


def test_the_edge_bounds_what_left_the_range_on_the_weak_side() -> None:
    formula = bolts_en1993.SHEET_BEARING
    low = 0.75  # EN 1993-1-3:2006 Table 8.4: 0.75 mm <= t
    inside = dict.fromkeys(formula.parameters, 1.0) | {
        "t": low, "d": 8.0, "d_0": 9.0, "e_1": 30.0, "e_2": 30.0, "p_1": 60.0, "p_2": 60.0, "f_u": 360.0,
    }  # fmt: skip
    moved = formula.at_edge("t", **{**inside, "t": 0.5 * low})
    assert moved is not None
    assert moved[0]["t"] == low
    assert len(moved[1]) == 1
    assert formula.at_edge("t", **inside) == (inside, [])
    # an input that was not named stays where it is: nothing is known
    assert formula.at_edge("d", **{**inside, "t": 0.5 * low}) is None


@pytest.fixture(scope="module")
def trial() -> object:
    return Method(
        "trial.bounding", "A trial", Source("own", "", "read"), "spot", "trial", "2", covers=frozenset({"shear"})
    )


def test_at_most_is_over_or_says_nothing(trial) -> None:  # type: ignore[no-untyped-def]
    weak = trial.at_most("spot too small", capacity=100.0, demand=60.0, required=2.0)
    assert weak.status == "over"
    assert weak.utilisation == pytest.approx(1.2)
    silent = trial.at_most("spot too small", capacity=100.0, demand=40.0, required=2.0)
    assert (silent.status, silent.capacity, silent.note) == ("outside", None, "spot too small")


def test_a_load_is_covered_part_by_part(trial) -> None:  # type: ignore[no-untyped-def]
    needs = [Need("shear", "no shear"), Need("peel", "no peel")]
    holds = trial.judge(capacity=100.0, demand=10.0, required=2.0)
    idle = trial.judge(capacity=100.0, demand=0.0, required=2.0)
    assert uncovered(needs, [holds]) == ("no peel",)
    assert uncovered(needs, [idle]) == ("no shear", "no peel")
    there = trial.judge(capacity=100.0, demand=10.0, required=2.0, where="1-2")
    assert uncovered([Need("shear", "no shear in 2-3", "2-3")], [there]) == ("no shear in 2-3",)


def test_a_sum_carries_the_marks_of_its_parts() -> None:
    recalled = Method("trial.recalled", "Recalled", Source("own", "", "from memory"), "spot", "trial", "2")
    known = Method("trial.sum", "Sum", Source("own", "", "read"), "spot", "trial", "1")
    part = recalled.judge(capacity=10.0, demand=4.0, required=2.0)
    told = Stated.of("u_V", part)
    assert told.value == pytest.approx(0.8)
    assert known.judge(capacity=1.0, demand=0.8, required=1.0, unit="1", trace=[told]).provenance == "from memory"


def test_a_detailing_rule_says_its_bound() -> None:
    with pytest.raises(ValueError, match="must say its bound"):
        method("trial.rule", "Rule", Source("own", "", "read"), per="mm", basis="detailing rule", factor="1 (a limit)")


def test_the_ends_of_a_range_are_read_from_its_formula() -> None:
    """EN 1993-1-3:2006 Table 8.4: 0.75 mm <= t < 3 mm, e_1 >= d_0 (from memory, as the formula's own limits)."""
    formula = bolts_en1993.SHEET_BEARING
    assert (branch.least(formula, "t"), branch.most(formula, "t")) == (0.75, 3.0)
    assert branch.least(formula, "e_1 / d_0") == 1.0
    for of in ("d_0", "e_1"):
        with pytest.raises(LookupError, match=of):
            branch.least(formula, of)
    with pytest.raises(LookupError, match="greatest"):
        branch.most(formula, "e_1 / d_0")


def test_a_much_thicker_sheet_brings_two_bounds_on_tearing() -> None:
    """EN 1993-1-3:2006 Table 8.5: t_1 <= 2.5 t, and 2.7 sqrt(t), 0.7 d_s, 3.1 t beyond (from memory)."""
    assert spot_en1993.tearing_bounds(t=1.0, t_1=2.5) == (spot_en1993.TEARING,)
    assert len(spot_en1993.tearing_bounds(t=1.0, t_1=2.6)) == 3
    assert spot_en1993.tearing_bounds(t=2.5 / 25.4, t_1=2.5 * 2.5 / 25.4) == (spot_en1993.TEARING,)
    # the end distance counts between 2 and 6 diameters
    assert [spot_en1993.end_counted(e, 5.0) for e in (8.0, 20.0, 40.0)] == [10.0, 20.0, 30.0]
