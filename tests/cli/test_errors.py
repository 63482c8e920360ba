"""Wrong input: exit 2, nothing on stdout, one message that names field, value and the accepted form; never a traceback."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from .test_seam import CONTRACT, PACKAGE_PLACE, with_

BAD: list[tuple[dict[str, str | None], list[str]]] = [
    # change, words the message must hold
    ({"pitch": "40"}, ["--pitch", "'40' has no unit", "40 mm"]),
    ({"pitch": "40,5 mm"}, ["--pitch", "comma", "40 mm"]),
    ({"pitch": "12 m"}, ["--pitch", "'12 m' is out of proportion", "2 mm to 1000 mm"]),
    ({"pitch": "1.9 mm"}, ["--pitch", "out of proportion"]),
    ({"pitch": "-40 mm"}, ["--pitch", "negative", "40 mm"]),
    ({"pitch": "nan mm"}, ["--pitch", "cannot be read"]),
    ({"pitch": "inf mm"}, ["--pitch", "cannot be read"]),
    ({"pitch": "1e400 mm"}, ["--pitch", "finite"]),
    ({"pitch": ""}, ["--pitch", "nothing given"]),
    ({"pitch": "40 kN"}, ["--pitch", "'kN' is a unit of force, but this is a length"]),
    ({"pitch": "\N{ARABIC-INDIC DIGIT FOUR}0 mm"}, ["--pitch", "cannot be read"]),
    ({"pitch": "5 mm"}, ["--pitch", "touch"]),
    ({"pitch": "1.25 m"}, ["--pitch", "out of proportion"]),
    ({"length": "30 mm"}, ["--pitch", "longer than the seam"]),
    ({"pitch": None}, ["--pitch", "count"]),
    ({"count": "30"}, ["--pitch", "count"]),
    ({"pitch": None, "count": "0"}, ["--count", "0 spots", "1 to 5000"]),
    ({"pitch": None, "count": "-3"}, ["--count", "-3"]),
    ({"pitch": None, "count": "3.5"}, ["--count", "'3.5' is not a whole number"]),
    ({"pitch": None, "count": "many"}, ["--count", "'many' is not a whole number"]),
    ({"pitch": None, "count": "1000"}, ["--count", "touch"]),
    ({"pitch": None, "count": "99999999999999999999"}, ["--count", "1 to 5000"]),
    ({"length": "1200"}, ["--length", "no unit"]),
    ({"length": "0 mm"}, ["--length", "out of proportion"]),
    ({"length": "25 m"}, ["--length", "out of proportion"]),
    ({"length": None}, ["--length"]),
    ({"edge": "9"}, ["--edge", "no unit"]),
    ({"edge": "2.7 mm"}, ["--edge", "does not hold a spot"]),
    ({"edge": "0 mm"}, ["--edge", "out of proportion"]),
    ({"edge": None}, ["--edge"]),
    ({"shear": "12"}, ["--shear", "'12' has no unit", "12 kN"]),
    ({"shear": "12 lb"}, ["--shear", "'lb' is a mass", "lbf"]),
    ({"shear": "12 kg"}, ["--shear", "'kg' is a mass"]),
    ({"shear": "12 kn"}, ["--shear", "write 'kN'"]),
    ({"shear": "1 g"}, ["--shear", "acceleration"]),
    ({"shear": "1e9 kN"}, ["--shear", "out of proportion"]),
    ({"shear": "12 mm"}, ["--shear", "unit of length"]),
    ({"across": "two kN"}, ["--across", "cannot be read"]),
    ({"peel": "0.5"}, ["--peel", "no unit"]),
    ({"weld_diameter": "5.5"}, ["--weld-diameter", "no unit", "'target'"]),
    ({"weld_diameter": "big"}, ["--weld-diameter", "cannot be read", "'usual'"]),
    ({"weld_diameter": "0.4 mm"}, ["--weld-diameter", "out of proportion"]),
    ({"weld_diameter": "-5 mm"}, ["--weld-diameter", "negative"]),
    ({"weld_diameter": "5.5 kN"}, ["--weld-diameter", "unit of force"]),
    ({"weld_diameter": "20 mm"}, ["--edge", "does not hold"]),
    ({"weld_diameter": None}, ["--weld-diameter"]),
    ({"grade": "DC40"}, ["--grade", "'DC40'", "did you mean 'DC04'"]),
    ({"grade": "butter"}, ["--grade", "'butter'", "tables show materials"]),
    ({"grade": ""}, ["--grade"]),
    ({"grade": None}, ["--grade"]),
    ({"grade": "A1008 CS Type B"}, ["--grade", "guarantees no tensile strength"]),
    ({"grade": "S355MC", "sheet": "25 mm"}, ["--sheet", "1 given"]),
    ({"coating": "paint"}, ["--coating", "'paint'", "Z275"]),
    ({"coating": "Z999", "sheet": None}, ["--sheet"]),
    ({"rows": "2"}, ["--row-spacing", "20 mm"]),
    ({"rows": "0"}, ["--rows", "1 to 10"]),
    ({"rows": "11", "row_spacing": "20 mm"}, ["--rows", "1 to 10"]),
    ({"rows": "2", "row_spacing": "20 mm", "lap": "20 mm"}, ["--lap", "cannot hold"]),
    ({"end": "700 mm"}, ["--end", "longer than the seam"]),
    ({"lap": "5 mm"}, ["--lap", "cannot hold"]),
    ({"share": "0.5", "sheet": None}, ["--sheet"]),
    ({"load_factor": "0.2"}, ["--load-factor", "0.2"]),
    ({"load_factor": "nan"}, ["--load-factor"]),
    ({"load_factor": "inf"}, ["--load-factor"]),
    ({"load_factor": "one"}, ["--load-factor", "'one' is not a number"]),
    ({"handbook_factor": "100"}, ["--handbook-factor", "100"]),
    ({"purpose": "seats"}, ["--purpose", "'seats'", "did you mean 'seat'"]),
    ({"compression": "50"}, ["--compression", "no unit"]),
    ({"flat_beside": "1 kN"}, ["--flat-beside", "unit of force"]),
    ({"peel_arm": "x"}, ["--peel-arm"]),
    ({"units": "imperial"}, ["--units", "'imperial'", "'metric'"]),
    ({"cycles": "nan"}, ["--cycles", "1 to 1e12"]),
    ({"cycles": "-5"}, ["--cycles", "-5", "1 to 1e12"]),
    ({"cycles": "inf"}, ["--cycles", "1 to 1e12"]),
    ({"cycles": "1e5", "load_range": "3"}, ["--load-range", "3", "fully reverses"]),
    ({"cycles": "1e5", "load_range": "nan"}, ["--load-range", "fully reverses"]),
    ({"pich": "40 mm"}, ["--pich"]),
    ({"pitch": "40 mm; rm"}, ["--pitch", "not a unit"]),
    ({"grade": "DC04\x1b[2J"}, ["--grade"]),
    ({"pitch": "\x00"}, ["--pitch"]),
    ({"pitch": "9" * 5000}, ["--pitch"]),
]  # fmt: skip


def hold_message(answer: Any, words: list[str]) -> None:
    assert answer.code == 2, (answer.code, answer.err, answer.out[:200])
    assert answer.out == ""
    assert answer.err.startswith("jointcalc: ")
    assert "Traceback" not in answer.err
    for word in words:
        assert word in answer.err, (word, answer.err)
    assert len(answer.err) < 900
    assert all(c.isprintable() or c == "\n" for c in answer.err), "a control character reaches the terminal"


@pytest.mark.parametrize(("change", "words"), BAD, ids=lambda v: str(v)[:60] if isinstance(v, dict) else "")
def test_bad_options(say: Callable[..., Any], change: dict[str, str | None], words: list[str]) -> None:
    hold_message(say(*with_(CONTRACT, **change), "--json"), words)


BAD_SHEETS = [
    (["1.2 mm"], ["--sheet", "1 given", "two or three"]),
    (["1.2 mm"] * 4, ["--sheet", "4 given"]),
    (["1.2", "1.2 mm"], ["--sheet", "'1.2' has no unit", "18 ga"]),
    (["1,2 mm", "1.2 mm"], ["--sheet", "comma"]),
    (["-1.2 mm", "1.2 mm"], ["--sheet", "negative"]),
    (["0 mm", "1.2 mm"], ["--sheet", "out of proportion"]),
    (["0.04 mm", "1.2 mm"], ["--sheet", "out of proportion"]),
    (["40 mm", "1.2 mm"], ["--sheet", "out of proportion"]),
    (["99 ga", "1.2 mm"], ["--sheet", "99 ga is not in table 'gauge_steel_cold_rolled'"]),
    (["18 gage", "1.2 mm"], ["--sheet", "'gage'"]),
    (["1.2 kN", "1.2 mm"], ["--sheet", "unit of force"]),
    (["1.2 mil", "1.2 mm"], ["--sheet", "inches"]),
    (["", "1.2 mm"], ["--sheet", "nothing given"]),
]


@pytest.mark.parametrize(("sheets", "words"), BAD_SHEETS, ids=[str(s) for s, _ in BAD_SHEETS])
def test_bad_sheets(say: Callable[..., Any], sheets: list[str], words: list[str]) -> None:
    told = with_(CONTRACT, sheet=None)
    for sheet in sheets:
        told += ["--sheet", sheet]
    hold_message(say(*told, "--json"), words)


@pytest.mark.parametrize(
    ("extra", "words"),
    [
        (["--grade", "DC04", "--grade", "DC04"], ["--grade", "3 grades for 2 sheets"]),
        (["--coating", "Z275"] * 3, ["--coating", "3 coatings for 2 sheets"]),
        (["--share", "0.5", "--share", "1"], ["--share", "2 given for 1"]),
        (["--share", "1.5"], ["--share", "between 0 and 1"]),
        (["--share", "nan"], ["--share", "between 0 and 1"]),
        (["surplus"], ["surplus"]),
        (["--pitch"], ["--pitch"]),
    ],
)
def test_bad_combinations(say: Callable[..., Any], extra: list[str], words: list[str]) -> None:
    hold_message(say(*CONTRACT, *extra), words)


def test_several_faults_are_told_at_once(say: Callable[..., Any]) -> None:
    answer = say(*with_(CONTRACT, pitch="40", edge="9,0 mm", shear="12 lb"))
    hold_message(answer, ["--pitch", "--edge", "--shear"])
    assert len(answer.err.strip().splitlines()) == 3


@pytest.mark.parametrize(
    ("argv", "words"),
    [
        (["seem"], ["'seem' is not a command", "did you mean 'seam'"]),
        (["frobnicate"], ["'frobnicate'", "seam, check, tables"[:4]]),
        (["--frob"], ["--frob"]),
        (["check"], ["file", "--help"]),
        (["check", "nowhere.toml"], ["nowhere.toml", "no such file", "jointcalc new"]),
        (["tables", "shw"], ["'shw'", "did you mean 'show'"]),
        (["tables", "show"], ["which one"]),
        (["tables", "show", "spot_optimun"], ["spot_optimun", "did you mean 'spot_optimum'"]),
        (["tables", "show", "../pyproject"], ["there is no table"]),
        (["tables", "list", "x"], ["'x' is not expected"]),
        (["new"], ["which folder"]),
    ],
)  # fmt: skip
def test_bad_commands(say: Callable[..., Any], argv: list[str], words: list[str]) -> None:
    hold_message(say(*argv), words)


def test_as_a_process(cli: Callable[..., Any]) -> None:
    hold_message(cli(*with_(CONTRACT, pitch="1,2 mm"), "--json"), ["--pitch", "comma"])
    answer = cli(*with_(CONTRACT, shear="120 kN"), "--json")
    assert (answer.code, answer.err) == (1, "")


def test_help_and_version(say: Callable[..., Any]) -> None:
    assert say("--version").out.startswith("jointcalc 0.")
    for argv in (["--help"], ["seam", "--help"], ["check", "--help"], ["tables", "--help"], ["new", "--help"]):
        answer = say(*argv)
        assert answer.code == 0
        assert "Usage: jointcalc" in answer.out
        assert max(map(len, answer.out.splitlines())) <= 200
    assert "--weld-diameter" in say("seam", "--help").out


def test_a_fault_of_ours_is_told_as_one(say: Callable[..., Any], monkeypatch: pytest.MonkeyPatch) -> None:
    import jointcalc.check.seam as module

    def broken(seam: object) -> None:
        raise ZeroDivisionError("planted")

    monkeypatch.setattr(module, "check_seam", broken)
    answer = say(*CONTRACT, "--json")
    assert answer.code == 3
    assert answer.out == ""
    assert "fault of jointcalc's own" in answer.err
    assert "planted" in answer.err
    monkeypatch.setenv("JOINTCALC_TRACEBACK", "1")
    from jointcalc.cli.main import run

    with pytest.raises(ZeroDivisionError):
        run(list(CONTRACT))


def test_interrupt_is_130(say: Callable[..., Any], monkeypatch: pytest.MonkeyPatch) -> None:
    import jointcalc.check.seam as module

    def stopped(seam: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(module, "check_seam", stopped)
    answer = say(*CONTRACT)
    assert answer.code == 130
    assert "Traceback" not in answer.err


@pytest.mark.skipif(os.name != "posix", reason="signals")
def test_interrupted_process() -> None:
    # a suite started in the background has the signal ignored, and children inherit that
    code = "import signal\nsignal.signal(signal.SIGINT, signal.default_int_handler)\n"
    code += "import time, jointcalc.check.seam as m\nm.check_seam = lambda s: (print('go', flush=True), time.sleep(600))\nfrom jointcalc.cli.main import run\nimport sys\nrun(sys.argv[1:])"
    process = subprocess.Popen(
        [sys.executable, "-c", code, *CONTRACT],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        cwd=PACKAGE_PLACE,
    )
    assert process.stdout
    assert process.stdout.readline() == "go\n"  # it is judging
    process.send_signal(signal.SIGINT)
    _, err = process.communicate(timeout=500)  # it would sleep longer
    assert process.returncode == 130
    assert err == "jointcalc: interrupted\n"


TEXT = st.text(st.characters(blacklist_categories=["Cs"]), max_size=20)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    field=st.sampled_from(["pitch", "length", "edge", "shear", "across", "peel", "weld_diameter", "grade", "coating", "lap", "end",
                           "purpose", "find", "rows", "count", "cycles", "load_range", "load_factor", "share"]),
    text=st.one_of(TEXT, st.from_regex(r"[-+]?[0-9.,/e]{1,8} ?(mm|in|kN|lbf|ga|m|%)?", fullmatch=True)),
)  # fmt: skip
def test_any_text_gets_an_answer_or_a_message(say: Callable[..., Any], field: str, text: str) -> None:
    answer = say(*with_(CONTRACT, **{field: text}), "--json")
    assert answer.code in (0, 1, 2), answer.err
    assert "Traceback" not in answer.err
    if answer.code == 2:
        assert answer.out == ""
        assert answer.err.startswith("jointcalc: ")
    else:
        assert answer.out.startswith("{")
        assert answer.err == ""


WRONG_CASE = """[project]
title = "t"
[sheet.a]
thickness = "1.2 mm"
grade = "DC04"
[[case]]
id = "jack"
title = "Jacked"
%s
""" + "".join(
    f"""[[seam]]
id = "S{n}"
sheets = ["a", "a"]
weld_diameter = "5.5 mm"
pitch = "40 mm"
length = "1200 mm"
edge = "9 mm"
shear = "12 kN"
case = "jack"
"""
    for n in range(1, 9)
)


@pytest.mark.parametrize("fault", ["load_facto = 1.35", 'acceleration = "0 0 -3"', 'load_factor = "1,35"'])
def test_a_wrong_case_is_told_once_and_not_by_all_that_name_it(fault: str, tmp_path: Path, say: Any) -> None:
    file = tmp_path / "wrong.toml"
    file.write_text(WRONG_CASE % fault, encoding="utf-8")
    told = say("check", str(file))
    assert (told.code, told.out) == (2, "")
    assert "[[case]] jack" in told.err
    assert len(told.err.splitlines()) == 1, told.err


def test_what_is_wrong_alike_in_many_items_is_told_once(tmp_path: Path, say: Any) -> None:
    file = tmp_path / "wrong.toml"
    file.write_text((WRONG_CASE % "").replace("pitch =", "pich ="), encoding="utf-8")
    first, same = say("check", str(file)).err.splitlines()
    assert "[[seam]] S1: pich: unknown key; did you mean 'pitch'?" in first
    assert same.startswith("  the same: ")
    assert same.endswith("[[seam]] S5 and 3 more")


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (("--sheet", "18 guage", "--grade", "DC04", "--size", "600 400 mm"), "a gauge is written '18 ga' or '18 swg'"),
        (("--sheet", "1 mm", "--grade", "DC04", "--size", "600"), "such as '600 400 mm'"),
    ],
)
def test_a_slip_in_a_unit_is_answered_with_what_is_meant(options: tuple[str, ...], words: str, say: Any) -> None:
    told = say("panel", *options)
    assert (told.code, told.out) == (2, "")
    assert words in told.err


def test_the_version_is_told_before_anything_is_imported() -> None:
    code = "import sys; sys.argv[1:] = ['--version']\nfrom jointcalc.cli.start import run\ntry: run()\nexcept SystemExit: pass\n"
    code += "print(sorted({'typer', 'numpy', 'pydantic', 'jointcalc.registry'} & {*sys.modules}))"
    done = subprocess.run([sys.executable, "-c", code], check=True, capture_output=True, text=True, cwd=PACKAGE_PLACE)
    assert done.stdout.startswith("jointcalc 0.")
    assert done.stdout.endswith("\n[]\n")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="a disk that is full")
def test_a_version_that_cannot_be_written_is_told() -> None:
    with Path("/dev/full").open("w") as full:
        done = subprocess.run(
            [sys.executable, "-m", "jointcalc", "--version"], stdout=full, stderr=subprocess.PIPE, text=True,
            check=False, cwd=PACKAGE_PLACE,
        )  # fmt: skip
    assert done.returncode == 2
    assert "cannot be written" in done.stderr
