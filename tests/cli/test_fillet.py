"""`jointcalc fillet` and its item in a project file: the contract's document, exit codes, messages, drawing."""

from __future__ import annotations

import json

import pytest

CONTRACT = (
    "fillet", "--line", "0 0 100 0 mm", "--leg", "5 mm", "--sheet", "3 mm", "--grade", "S355MC", "--filler", "E70",
    "--force", "0 -10 0 kN", "--at", "150 0 0 mm",
)  # fmt: skip


def changed(**options: str | None) -> list[str]:
    """The contract's command with options replaced, added or (None) taken away."""
    words = list(CONTRACT)
    for name, value in options.items():
        option = "--" + name.replace("_", "-")
        if option in words:
            at = words.index(option)
            words[at : at + 2] = [] if value is None else [option, value]
        elif value is not None:
            words += [option, value]
    return words


def test_contract_command(cli):
    """The contract's own command as a process: one JSON document, nothing else, exit 1 because it does not hold."""
    answer = cli(*CONTRACT, "--json")
    document = json.loads(answer.out)
    assert answer.err == ""
    assert answer.code == 1
    assert document["kind"] == "fillet"
    assert document["status"] == "over"
    assert document["values"]["peak"] == {"value": pytest.approx(700.0), "unit": "N/mm"}
    assert document["values"]["peak_at"] == {"value": pytest.approx(100.0), "unit": "mm"}
    assert len([c for c in document["checks"] if c["status"] in ("ok", "over")]) >= 5
    assert document["governing"] in {c["key"] for c in document["checks"]}
    for check in document["checks"]:
        assert check["per"] in ("spot", "seam", "weld", "fastener", "group", "member", "mm")


def test_a_light_load_holds(say):
    """Exit 0 and the word the builder looks for."""
    answer = say(*changed(force="0 -1 0 kN"))
    assert answer.code == 0
    assert any(line.startswith("HOLDS ") for line in answer.out.splitlines()[-12:])


def test_answer_fits_80_columns(say):
    """At 80 columns no line is longer, with steps, drawing, order and advice."""
    words = changed(
        line="0 0 600 0 mm", at="300 0 0 mm", force="2 0 0 kN", voltage="18 V", current="130 A", speed="6 mm/s"
    )
    answer = say(*words, "--steps")
    assert max(map(len, answer.out.splitlines())) <= 81
    assert "order of runs" in answer.out


def test_drawing_marks_the_peak(say):
    """The peak stands at the end of the line nearest to the load, the load beyond it."""
    drawn = next(line for line in say(*CONTRACT).out.splitlines() if "X" in line and "peak" not in line)
    assert drawn.index("+") < drawn.index("X") < drawn.index("o")


def test_inch_display(say):
    """--units inch prints lbf/in; 700 N/mm is 3997 lbf/in."""
    assert "3997 lbf/in" in say(*CONTRACT, "--units", "inch").out


@pytest.mark.parametrize(
    "options, option, words",
    [
        ({"line": "0 0 0 0 mm"}, "--line", "has no length"),
        ({"at": None}, "--at", "needs the point it acts at"),
        ({"leg": "30 mm"}, "--leg", "burns through"),
        ({"joint": "lap"}, "--leg", "the edge it lies along"),
        ({"force": "0 0 5 kN", "at": "50 40 0 mm"}, "--force", "no arm"),
        ({"leg": None}, "--leg", "is missing"),
        ({"leg": "5,0 mm"}, "--leg", "comma"),
        ({"leg": "-5 mm"}, "--leg", "negative"),
        ({"grade": "S355XX"}, "--grade", "not a grade"),
        ({"filler": "E7O"}, "--filler", "not a filler"),
        ({"kind": "filet"}, "--kind", "did you mean 'fillet'"),
        ({"units": "imperial"}, "--units", "neither"),
        ({"find": "lenght"}, "--find", "did you mean 'length'"),
        ({"sheet": "3"}, "--sheet", "no unit"),
        ({"force": "0 -10 kN"}, "--force", "2 numbers, 3 are needed"),
    ],
)
def test_wrong_input_is_one_message_and_exit_2(say, options, option, words):
    """The option is named, stdout stays empty, no traceback."""
    answer = say(*changed(**options))
    assert answer.code == 2
    assert answer.out == ""
    assert option in answer.err
    assert words in answer.err
    assert "Traceback" not in answer.err


def test_found_leg_reaches_the_document(say):
    """--find leg adds `found` and judges the answer."""
    answer = say(*changed(leg=None, force="0 -2 0 kN"), "--find", "leg", "--json")
    document = json.loads(answer.out)
    assert answer.code == 0
    assert document["values"]["found"]["unit"] == "mm"


def test_a_length_is_found_without_a_line(say):
    """One straight weld along x, its middle at 0 0: the same as drawn there, and a load beside it asks for more."""
    bare = changed(line=None, force="12 0 0 kN", at=None, find="length")
    free = json.loads(say(*bare, "--json").out)
    L = free["values"]["found"]["value"]
    assert free["status"] == "ok"
    assert free["values"]["weld_length"]["value"] == pytest.approx(L)
    drawn = changed(line=f"{-L / 2} 0 {L / 2} 0 mm", force="12 0 0 kN", at="0 0 0 mm")
    assert json.loads(say(*drawn, "--json").out)["values"]["peak"] == free["values"]["peak"]
    shorter = changed(line=f"{5 - L / 2} 0 {L / 2} 0 mm", force="12 0 0 kN", at="2.5 0 0 mm")
    assert say(*shorter).code == 1
    told = " ".join(say(*bare).out.split())
    assert "One straight weld along x is taken, with its middle at 0 0, where the force acts" in told
    beside = json.loads(say(*changed(line=None, force="12 0 0 kN", at="0 80 0 mm", find="length"), "--json").out)
    assert beside["values"]["found"]["value"] > L
    without = say(*changed(line=None, find="leg"))
    assert without.code == 2
    assert "Missing option '--line', which only `--find length` leaves out" in without.err


def test_item_of_a_project(say, tmp_path):
    """A [[fillet]] with named sheets judged by `check`, and a fault named with file and line."""
    file = tmp_path / "project.toml"
    text = (
        '[project]\ntitle = "Invented rail bracket"\n\n[sheet.rail]\nthickness = "3 mm"\ngrade = "S355MC"\n\n'
        '[[fillet]]\nid = "F1"\nlines = ["0 0 60 0 mm", "0 40 60 40 mm"]\nleg = "3 mm"\nsheet = "rail"\n'
        'filler = "E70"\nforce = "0 -1 0 kN"\nat = "100 20 0 mm"\n'
    )
    file.write_text(text, encoding="utf-8")
    answer = say("check", str(file), "--json")
    document = json.loads(answer.out)
    assert answer.code == 0
    assert document["items"][0]["id"] == "F1"
    assert document["items"][0]["kind"] == "fillet"
    file.write_text(text.replace('leg = "3 mm"', 'legs = "3 mm"'), encoding="utf-8")
    answer = say("check", str(file))
    assert answer.code == 2
    assert "project.toml:11" in answer.err  # the line of the key
    assert "did you mean 'leg'" in answer.err


def test_two_parts_of_one_group(say):
    """Two sheets and two grades; the weaker part governs the sheet beside the weld."""
    one = json.loads(say(*changed(grade="S235JR", sheet="2 mm", leg="3 mm"), "--json").out)
    words = changed(sheet="2 mm", leg="3 mm")
    at = words.index("--grade")
    words[at : at + 2] = ["--sheet", "4 mm", "--grade", "S235JR", "--grade", "S355MC"]
    two = json.loads(say(*words, "--json").out)

    def carries(document):
        return next(c["capacity"]["value"] for c in document["checks"] if c["key"] == "aisi-s100.fillet-transverse")

    assert carries(two) == carries(one)
