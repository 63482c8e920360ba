"""Sentences: words and measures, printed for whoever reads."""

from __future__ import annotations

import copy
import json
import pickle
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jointcalc.dossier.words import clean
from jointcalc.errors import InputError, InputErrors
from jointcalc.files import to_stdout, write_file
from jointcalc.formula.core import Source
from jointcalc.layout.words import plain
from jointcalc.marks import MARKS
from jointcalc.model.fields import build
from jointcalc.model.seam import SpotSeam
from jointcalc.quantity.letters import spelt, unseen
from jointcalc.quantity.parse import written_in
from jointcalc.quantity.sentence import Measure, Sentence, as_printed, either, joined, mm, mpa, newtons, printed
from jointcalc.result import Check, Method, caution

GRADE = "A1011 SS Gr 33"


@pytest.mark.parametrize(
    ("text", "metric", "inch"),
    [
        # whole in inches by the definitions of the inch (25.4 mm) and the pound (0.45359237 kg at 9.80665 m/s2)
        (f"{mm(25.4)} DC04 + {mm(12.7)} S355MC", "25.4 mm DC04 + 12.7 mm S355MC", "1 in DC04 + 1/2 in S355MC"),
        # what .4g would tell as 1.557e+04, and what nobody weighs
        (f"takes {newtons(15572.2):.4g} along", "takes 15 570 N along", "takes 3501 lbf along"),
        (f"takes {newtons(0.00337):.4g} along", "takes < 0.01 N along", "takes < 0.01 lbf along"),
        (f"between {mm(25.4, ' and ', 50.8)}", "between 25.4 and 50.8 mm", "between 1 and 2 in"),
        (f"{mm(76.2, ' x ', 50.8, ' x ', 25.4)}", "76.2 x 50.8 x 25.4 mm", "3 x 2 x 1 in"),
        (f"at {mm(-25.4, ', ', 0):.4g}", "at -25.4, 0 mm", "at -1, 0 in"),
        (f"{mm(12700)} long", "12 700 mm long", "500 in long"),
        (f"{mm(30.16):.3g}", "30.2 mm", "1.187 in"),
        (f"{newtons(4.4482216152605):.3g} on {mm(25.4):g}", "4.45 N on 25.4 mm", "1 lbf on 1 in"),
        (f"{mpa(6.894757293168361):.4g} is assumed", "6.895 MPa is assumed", "1 ksi is assumed"),
        (f"{Measure(6.894757293168361, unit='kPa'):.4g}", "6.895 kPa", "1 psi"),
        (f"{Measure(0.45359237, unit='kg')}", "0.4536 kg", "1 lb"),
        (f"{Measure(112984.8290276167, unit='N·mm')}", "113 000 N·mm", "1000 lbf*in"),
        (f"over {either('3 mm (1/8 in)', '1/8 in')}", "over 3 mm (1/8 in)", "over 1/8 in"),
        (as_printed("2·10^7 N", 2e7, unit="N"), "2·10^7 N", "4 496 000 lbf"),
        (f"{Measure.of((25.4, 50.8, 12.7), ' + ', unit='mm'):g}", "25.4 + 50.8 + 12.7 mm", "1 + 2 + 1/2 in"),
        (as_printed("3 Hz", 3.0, unit="Hz"), "3 Hz", "3 Hz"),
    ],
)
def test_each_reader_reads_his_units(text: str, metric: str, inch: str) -> None:
    sentence = Sentence(text)
    assert sentence == metric
    assert sentence.to("metric") == printed(text, "metric") == metric
    assert sentence.to("inch") == printed(text, "inch") == inch


@pytest.mark.parametrize(
    "words",
    [
        "A1011 SS Gr 33 + 1.5 mm",
        "between 10 and 20 mm",
        "line 2, 40 mm",
        "hat:top=40mm",
        "Table 3.4, 3 mm",
        "M8 8.8, 20 mm",
    ],
)
def test_what_is_no_measure_is_never_rewritten(words: str) -> None:
    """Words are words whatever they look like, beside a measure too."""
    assert Sentence(f"{words} {mm(25.4)} {words}").to("inch") == f"{words} 1 in {words}"


@given(
    st.text(st.characters(exclude_characters=MARKS), max_size=40), st.floats(1e-3, 1e6), st.text("abc 0123456789.mN,")
)
def test_words_come_out_as_they_went_in(before: str, size: float, after: str) -> None:
    sentence = Sentence(f"{before}{mm(size)}{after}")
    assert sentence.to("inch") == f"{before}{mm(size).to('inch')}{after}"
    assert sentence == f"{before}{mm(size)!s}{after}"
    assert next(part for part in sentence.parts if isinstance(part, Measure)).base == (size,)


def test_a_sentence_keeps_its_measures_on_its_way() -> None:
    one = Sentence(f"a sheet of {mm(25.4)}")
    for kept in (
        Sentence(f"{one}"), one + "", "" + one, joined("; ", [one]), copy.copy(one), copy.deepcopy(one),
        pickle.loads(pickle.dumps(one)), Sentence(one), joined("", ["a sheet", f" of {mm(25.4)}"]),
    ):  # fmt: skip
        assert kept == "a sheet of 25.4 mm"
        assert kept.to("inch") == "a sheet of 1 in"
    assert json.dumps({"note": one}) == '{"note": "a sheet of 25.4 mm"}'
    assert f"{joined('; ', [one, f'{mm(50.8)} more']):>4}".count(MARKS[0]) == 2


def test_a_check_and_a_caution_hold_sentences() -> None:
    rule = Method(
        "book.mode", f"Rule of {mm(25.4)}", Source("a book", "table 1", "read"), "spot", "characteristic", "1.5"
    )
    check: Check = rule.outside([f"{mm(50.8)} is too much", "and more"], where="sheet-1")
    assert check.note == "50.8 mm is too much; and more"
    assert printed(check.note, "inch") == "2 in is too much; and more"
    assert printed(check.title, "inch") == "Rule of 1 in (sheet–1)"
    assert not set(MARKS) & set(json.dumps(check.json(), ensure_ascii=False))
    told = {"one": "1", "other": "2", "apart": f"{mm(25.4, ' and ', 0):g}", "plate": "75 x 50 mm"}
    text = caution("plates-overlap", **told).text
    assert "are 25.4 and 0 mm apart" in text
    assert "are 1 and 0 in apart" in printed(text, "inch")
    assert "under 0.0315 in burns" in printed(caution("burn-through").text, "inch")


def test_errors_are_plain_text() -> None:
    error = InputError(f"{mm(25.4)} is too long", field="length").at(where="line 3")
    assert str(error) == "line 3: length: 25.4 mm is too long"
    assert error.args == ("25.4 mm is too long",)
    assert printed(error.marked, "inch") == "line 3: length: 1 in is too long"
    assert error.message == "25.4 mm is too long"
    assert printed(f"{error.message}; cut it", "inch") == "1 in is too long; cut it"
    assert pickle.loads(pickle.dumps(error)).message.marked == error.message.marked
    other = InputError(f"{mm(50.8)} is too short", field="length").at(where="line 3")
    assert str(InputErrors([error, other])) == f"{error}\n{other}"
    assert printed(InputErrors([error, other]).marked, "inch") == (
        "line 3: length: 1 in is too long\nline 3: length: 2 in is too short"
    )
    assert str(pickle.loads(pickle.dumps(error))) == str(error)


def test_what_comes_to_an_edge_unprinted_is_shown_in_metric(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """No file or stream of the program ever holds a mark."""
    text = f"a sheet of {mm(25.4)}"
    to_stdout(text)
    write_file(tmp_path / "a.txt", text)
    shown = (capsys.readouterr().out, (tmp_path / "a.txt").read_text(encoding="utf-8"), clean(text), plain(text))
    assert set(shown) == {"a sheet of 25.4 mm"}
    assert spelt(f"a{MARKS[::-1]}b") == r"a\ufdd2\ufdd1\ufdd0b"


def test_nobody_types_a_mark() -> None:
    assert all(unseen(f"a{mark}b") for mark in MARKS)


@pytest.mark.parametrize("parts", [(), (1.0, " to "), ("wide",)])
def test_a_measure_without_numbers_is_a_fault_of_ours(parts: tuple[float | str, ...]) -> None:
    with pytest.raises(ValueError):
        mm(*parts)


def test_a_unit_without_inch_twin_is_no_measure() -> None:
    with pytest.raises(ValueError, match="no measure"):
        Measure(1.0, unit="Hz")


@pytest.mark.parametrize(
    ("text", "system"),
    [
        ({"length": "40 in", "sheets": [{"thickness": "1.2 mm"}], "pitch": "2 in"}, "inch"),
        ({"length": "40 mm", "edge": "3/8 in"}, "metric"),
        ({"hole": ["0 0 mm", "60 0 mm"], "at": '3/4"'}, "metric"),
        ({"line": ("0 0 4 0 in",), "grade": "A36 in stock", "shear": "3 m*N"}, "inch"),
        ({}, "metric"),
        ("hat:top=1.5in,depth=1in,t=0.05in", "inch"),
    ],
)
def test_the_units_a_thing_is_written_in(text: object, system: str) -> None:
    assert written_in(text) == system


def test_an_error_speaks_in_the_units_that_were_written() -> None:
    sheet = {"thickness": "0.05 in", "grade": "DC04"}
    seam = {"sheets": [sheet, sheet], "weld_diameter": "1/4 in", "length": "40 in", "edge": "1/2 in", "shear": "1 kN"}
    with pytest.raises(InputError, match=r"spots of 1/4 in would touch at a pitch of 0\.2 in; widen"):
        build(SpotSeam, {**seam, "pitch": "0.2 in"})
    with pytest.raises(InputError, match=r"accepted is 0\.0\d+ in to [0-9. ]+ in"):
        build(SpotSeam, {**seam, "pitch": "2000000 in"})
    with pytest.raises(InputError, match=r"spots of 1/4 in would touch at a pitch of 0\.2 in; widen"):
        SpotSeam.model_validate({**seam, "pitch": "0.2 in"})
