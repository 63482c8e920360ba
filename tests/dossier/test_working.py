"""Workings of the dossier: a symbol has one meaning in an item, inputs say where they come from, rounding dust is nought."""

from __future__ import annotations

from collections import defaultdict

import pytest

from jointcalc.dossier.governing import origin
from jointcalc.dossier.words import no_dust, spoken, unflagged
from jointcalc.dossier.working import Names, _renamed, chosen, primed, working_of
from jointcalc.formula.core import Evaluation
from jointcalc.formula.printed import pretty
from jointcalc.model.brace import Brace
from jointcalc.model.project import Project
from jointcalc.result import Result


def test_a_symbol_as_printed_has_one_meaning_in_an_item(demo: tuple[Project, list[Result]]) -> None:
    shared = 0
    for result in demo[1]:
        checks = chosen(result, "full")
        names = Names(checks)
        printed: dict[str, set[str]] = defaultdict(set)
        values: dict[tuple[str, str], set[str]] = defaultdict(set)
        for check in checks:
            for part in check.trace:
                if isinstance(part, Evaluation):
                    for name in part.formula.parameters:
                        unit, meaning = part.formula.names[name]
                        shown = primed(pretty(name), names.mark(pretty(name), meaning))
                        printed[shown].add(meaning)
                        values[shown, meaning].add(f"{float(part.inputs[name]):.9g} {unit}")
        # several wordings are one meaning only where values and units are the same
        for shown, meanings in printed.items():
            assert len({frozenset(values[shown, one]) for one in meanings}) == 1, (result.id, shown, meanings)
        shared += any("′" in shown for shown in printed)
        rows = [(row["symbol"], row["meaning"]) for row in names.rows()]
        assert len({symbol for symbol, _ in rows}) == len(rows)
    assert shared, "the demo must hold a letter that means two things"


def test_a_primed_symbol_stands_in_formula_and_list_alike(demo: tuple[Project, list[Result]]) -> None:
    found = 0
    for result in demo[1]:
        checks = chosen(result, "full")
        names = Names(checks)
        told: set[tuple[str, ...]] = set()
        primes = {row["symbol"] for row in names.rows() if "′" in row["symbol"]}
        lines = [line for check in checks for line in working_of(check, result, "metric", names, told)["lines"]]
        text = " ".join(f"{line['symbol']} {line['expression']}" for line in lines)
        found += sum(symbol in text for symbol in primes)
    assert found


def test_inputs_of_the_governing_calculation_say_where_they_come_from(demo: tuple[Project, list[Result]]) -> None:
    item, result = demo[0].items[0], demo[1][0]
    # 270 MPa and 1.2 mm are those of DC04 (EN 10130) and of the sheet; 40 mm was typed as pitch, 11 mm as edge
    assert origin(270.0, "MPa", item, result, "p.toml:3") == "f_u of sheet 1, table materials"
    assert origin(1.2, "mm", item, result, "p.toml:3") == "thickness of sheet 1"
    assert origin(40.0, "mm", item, result, "p.toml:3") == "typed: pitch, p.toml:3"
    assert origin(11.0, "mm", item, result, "") == "typed: edge"
    assert origin(37.0, "1", item, result, "") == "value of the item: spots"
    assert origin(0.123, "1", item, result, "") == "a constant or ratio"


def test_an_origin_is_of_the_same_unit() -> None:
    # the radius of 1 mm was once told as the effective length of 1, which has no unit
    profile = "hat:top=50mm,depth=40mm,flange=25mm,t=2mm,r=1mm"
    brace = Brace(profile=profile, grade="S235JR", span="1 m", point=["1 kN @ 0.5 m"], effective_length=1)
    result = Result("brace", "B1", (), {}, ())
    assert origin(1.0, "mm", brace, result, "p.toml:3") == "typed: r of the profile, p.toml:3"
    assert origin(1.0, "1", brace, result, "p.toml:3") == "typed: effective length, p.toml:3"


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ("4.547·10^-13 / 5198", "0 / 5198"), ("2.1 dot 10^(-14)", "0"), ("1.2·10^-7·S", "1.2·10^-7·S"), ("8.2e-13 N", "0 N"),
        ("10^-1", "10^-1"),
    ],
)  # fmt: skip
def test_rounding_dust_is_nought(given: str, told: str) -> None:
    assert no_dust(given) == told


def test_no_flag_and_no_spelling_of_machines_is_printed() -> None:
    assert (
        unflagged("State your own with --handbook-factor or `handbook_factor`.")
        == "State your own with handbook factor."
    )
    assert (
        unflagged("`jointcalc frame` with --limit-deflection; a [[panel]]")
        == "jointcalc frame with limit deflection; a panel"
    )
    assert unflagged("159.9 N*m, 8 lbf*in, 1.361e+04 N") == "159.9 N·m, 8 lbf·in, 1.361·10⁴ N"
    assert spoken("2.502e+05 N*mm, 1.5e-07 mm") == "2.502·10^5 N·mm, 1.5·10^-7 mm"


def test_a_name_is_renamed_only_where_it_stands_by_itself() -> None:
    text = 't_1·(t_1 + mat_1) / t_12 - "t_1" + ft_1 + t_1^2 + t_1(x) + β_t_1 + t_1″'
    told = 't′_1·(t′_1 + mat_1) / t_12 - "t_1" + ft_1 + t′_1^2 + t_1(x) + β_t_1 + t_1″'
    assert _renamed(text, {"t_1": "t′_1", "x_0": "x′_0"}) == told
    assert _renamed("t tt", {"t": "t′"}) == "t′ tt"
    assert _renamed("", {"t": "t′"}) == ""
