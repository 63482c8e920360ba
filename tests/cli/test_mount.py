"""`jointcalc mount` as it is typed: exit codes, one JSON document, words, 80 columns, inches."""

from __future__ import annotations

import json
import re
import shlex
from typing import Any

import pytest

from jointcalc.cli.main import run

FEET = '--foot "0 0 0 mm" --foot "300 0 0 mm" --foot "0 200 0 mm" --foot "300 200 0 mm"'
THING = f'mount {FEET} --mass "18 kg" --centre "150 180 260 mm"'
BOLTS = '--bolt "M8 8.8" --sheet "1.5 mm" --grade DC04 --outline "-250 -250 250 250 mm" --plate "60 60 4 mm"'
INCH = (
    'mount --foot "0 0 0 in" --foot "12 0 0 in" --foot "0 8 0 in" --foot "12 8 0 in" --mass "40 lb" --centre "6 4 5 in" '
    '--bolt "5/16-18 grade 5" --sheet "16 ga" --grade "A1008 SS Gr 33" --outline "-10 -10 10 10 in" '
    '--plate "2.5 2.5 0.125 in" --units inch'
)


def answer(line: str, capsys: pytest.CaptureFixture[str]) -> tuple[int, str, str]:
    with pytest.raises(SystemExit) as stopped:
        run(shlex.split(line))
    out = capsys.readouterr()
    return int(stopped.value.code or 0), out.out, out.err


def document(line: str, capsys: pytest.CaptureFixture[str]) -> tuple[int, dict[str, Any]]:
    code, out, _ = answer(f"{line} --json", capsys)
    found: dict[str, Any] = json.loads(out)
    return code, found


def test_the_contract(capsys: pytest.CaptureFixture[str]) -> None:
    """`mount` with mass, centre and acceleration: foot_1_x ... N, one document; no link judged is exit 1."""
    code, made = document(f'{THING} --acceleration "0 0 -3 g"', capsys)
    assert code == 1
    assert (made["kind"], made["status"], made["governing"]) == ("mount", "outside", None)
    for n in (1, 2, 3, 4):
        for axis in "xyz":
            assert made["values"][f"foot_{n}_{axis}"]["unit"] == "N"
    total = sum(made["values"][f"foot_{n}_z"]["value"] for n in (1, 2, 3, 4))
    assert total == pytest.approx(-18 * 3 * 9.80665)


@pytest.mark.parametrize(
    "more,code",
    [(f"--case battery {BOLTS}", 0), (f'--case battery {BOLTS.replace("1.5", "0.7")}', 1), ("--case battery", 1),
     ("--case towing", 2), ("--case seat-with-belt-us", 2), ("", 2), ('--acceleration "0 0 -3"', 2),
     ('--acceleration "0 0 -3 g" --bolt "M8 8.8"', 2), ('--acceleration "0 0 -3 g" --foot "9 9 9 kg"', 2)],
)  # fmt: skip
def test_exit_codes(more: str, code: int, capsys: pytest.CaptureFixture[str]) -> None:
    found, out, err = answer(f"{THING} {more}", capsys)
    assert found == code
    assert bool(err) == (code == 2)
    assert bool(out) == (code != 2)
    assert "Traceback" not in err


@pytest.mark.parametrize("line", [f"{THING} --case battery --case bump {BOLTS}", f"{INCH} --case battery"])
def test_the_answer_fits_eighty_columns(
    line: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    _, out, _ = answer(line, capsys)
    assert max(map(len, out.splitlines())) <= 80
    for words in ("On each foot", "Chain:", "weakest:", "the local rule wins", "it drives to -x", "forward"):
        assert words in " ".join(out.split()), words


def test_the_answer_fits_a_screen(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    """Six directions with their forces and what is used, once; the way of the loads and the other methods by --full."""
    monkeypatch.setenv("COLUMNS", "80")
    short = answer(f"{THING} --case battery {BOLTS}", capsys)[1]
    full = answer(f"{THING} --case battery {BOLTS} --full", capsys)[1]
    assert len(short.splitlines()) <= 54
    assert "Judged under these loads" not in short
    assert "Judged under these loads" in full
    row = next(line for line in short.splitlines() if line.startswith("battery, forward"))
    assert re.search(r"[0-9]+ %$", row)


def test_inches_are_inches_everywhere(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = answer(f"{INCH} --case battery", capsys)
    assert "40 lb" in out
    assert "[lbf]" in out
    above = out.partition("warn:")[0]
    assert " mm" not in above
    assert " kg" not in above
    assert " N " not in above


def test_forward_turns_the_load(capsys: pytest.CaptureFixture[str]) -> None:
    """Forward along y: the long way of the load is the short way of the feet."""
    _, plain = document(f"{THING} --case traction-battery-un", capsys)
    _, turned = document(f"{THING} --case traction-battery-un --forward y", capsys)

    def shove(made: dict[str, Any], way: str) -> list[float]:
        one = next(u for u in made["loads"] if u["case"].endswith(way))
        return [sum(one["values"][f"foot_{n}_{axis}"]["value"] for n in (1, 2, 3, 4)) for axis in "xyz"]

    assert shove(plain, "forward") == pytest.approx([-18 * 20 * 9.80665, 0, 0], abs=1e-6)
    assert shove(turned, "forward") == pytest.approx([0, 18 * 20 * 9.80665, 0], abs=1e-6)
    assert shove(turned, "right") == pytest.approx([18 * 8 * 9.80665, 0, 0], abs=1e-6)


def test_a_fault_is_told_in_the_words_of_the_command(capsys: pytest.CaptureFixture[str]) -> None:
    for line, words in (
        (f"{THING} --case batery", "--case: 'batery'"),
        (f'{THING} --acceleration "0 0 -1 g" --bolt "M8 8.8"', "--sheet"),
        (f'mount --foot "0 0 0 mm" --mass "1 kg" --acceleration "0 0 -1 g"', "--centre"),  # noqa: F541
        (f'{THING} --acceleration "0 0 -1 g" --occupants 0', "--occupants"),
    ):
        code, _, err = answer(line, capsys)
        assert code == 2
        assert words in err, err


def test_steps_show_the_way_of_the_load(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = answer(f"{THING} --case battery {BOLTS} --steps --full", capsys)
    assert "foot 2 on the structure, under battery, forward" in " ".join(out.split())
    assert "18 kg feel 20 g forward" in " ".join(out.split())
