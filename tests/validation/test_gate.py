"""No formula stands on its own word: each is held by a published value, an independent computation or a derivation."""

from __future__ import annotations

import pytest

from jointcalc.formula import fillet_aisc

from .case import Case, half_unit
from .derived import HOWS, REGISTER, Entry
from .document import PLACE, standing, text
from .evidence import disturbed, formulas, names_of, needed, references, watch
from .measure import computed_cases, outside_cases


@pytest.mark.mirror
def test_every_formula_is_held_by_something() -> None:
    bare = sorted(set(formulas()) - set(standing()))
    assert not bare, (
        f"no case, no computation and no derivation holds {', '.join(bare)}; see tests/validation/derived.py"
    )


@pytest.mark.mirror
def test_the_register_holds_what_no_case_holds_and_each_once() -> None:
    listed = [key for entry in REGISTER for key in entry.formulas.split()]
    assert len(listed) == len(set(listed))
    assert not set(listed) - set(formulas())
    held = sorted(set(listed) & (set(outside_cases()) | set(computed_cases())))
    assert not held, f"held by a case by now, so no longer to be listed: {', '.join(held)}"


@pytest.mark.mirror
@pytest.mark.parametrize("entry", REGISTER, ids=lambda e: e.test.rpartition("/")[2])
def test_each_entry_names_a_test_that_calls_its_formulas(entry: Entry) -> None:
    assert entry.how in HOWS
    used = references(entry.test)
    for key in entry.formulas.split():
        assert used & names_of(key), f"{entry.test} nowhere names {key}"


@pytest.mark.mirror
def test_the_page_is_up_to_date() -> None:
    assert PLACE.read_text(encoding="utf-8") == text(), "run `python -m tests.validation` and commit docs/validation.md"


# --- the gate's own instruments -----------------------------------------------------------------------------------------


def test_watching_tells_what_ran() -> None:
    value, ran = watch(lambda: fillet_aisc.WELD_STRENGTH(F_EXX=480.0, k_ds=1.0, t_e=fillet_aisc.THROAT(w=5.0)))
    assert value > 0
    assert ran == {"fillet_aisc.weld_strength", "fillet_aisc.throat"}


def test_a_formula_that_only_runs_along_is_not_held() -> None:
    def case(share: float) -> Case:
        def compute() -> float:
            return float(fillet_aisc.THROAT(w=10.0)) + share * float(fillet_aisc.LEAST_LAP(t=1.0))

        return Case("k", "n", "s", "read", "7.07", "mm", compute)

    def held(one: Case) -> frozenset[str]:
        return needed(watch(one.ours)[1], lambda: one.agrees(one.ours()))

    assert held(case(0.0)) == {"fillet_aisc.throat"}
    assert not case(1.0).agrees(case(1.0).ours())


def test_a_disturbance_ends() -> None:
    right = fillet_aisc.THROAT(w=6.0)
    with disturbed(["fillet_aisc.throat"]):
        assert fillet_aisc.THROAT(w=6.0) > 1.05 * right
        assert fillet_aisc.throat(w=6.0) > 1.05 * right
    assert fillet_aisc.THROAT(w=6.0) == right


def test_a_test_that_is_not_there_is_no_evidence() -> None:
    for name in (
        "tests/formula/test_lap.py::test_nothing",
        "tests/formula/nowhere.py::test_x",
        "tests/formula/test_lap.py::box",
    ):
        with pytest.raises(LookupError):
            references(name)


@pytest.mark.parametrize(
    ("printed", "half"), [("7.07", 0.005), ("123", 0.5), ("0.957", 0.0005), ("4.7e4", 500.0), ("-0.0757", 0.00005)]
)
def test_tolerance_is_half_the_last_digit(printed: str, half: float) -> None:
    assert half_unit(printed) == pytest.approx(half)


def test_a_wider_tolerance_says_why() -> None:
    with pytest.raises(AssertionError):
        Case("k", "n", "s", "read", "1.0", "1", lambda: 1.0, units=2.0)
