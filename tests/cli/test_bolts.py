"""`jointcalc bolts` as another program and as a person meets it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from .test_seam import document, hold_contract, with_

CONTRACT = [
    "bolts", "--hole", "0 0 mm", "--hole", "60 0 mm", "--hole", "0 40 mm", "--bolt", "M8 8.8", "--sheet", "1.2 mm",
    "--grade", "DC04", "--force", "0.8 -0.3 0.4 kN", "--at", "90 20 30 mm",
]  # fmt: skip
SHIGLEY = [
    "bolts", "--hole", "-75 60 mm", "--hole", "75 60 mm", "--hole", "-75 -60 mm", "--hole", "75 -60 mm", "--bolt", "M16 8.8",
    "--sheet", "10 mm", "--grade", "S275JR", "--force", "0 -16 0 kN", "--at", "425 0 0 mm",
]  # fmt: skip


def test_the_contract_command(cli: Callable[..., Any]) -> None:
    answer = cli(*CONTRACT, "--json")
    assert answer.code in (0, 1)
    found = document(answer)
    hold_contract(found)
    assert found["kind"] == "bolts"
    assert found["values"]["peak"]["unit"] == "N"
    assert found["values"]["peak_at"]["unit"] == "mm"


def test_shigley_example_8_7(say: Callable[..., Any]) -> None:
    # Shigley, Ex. 8-7 (spacing and answers from memory): 21.0 kN on the near pair (V18)
    found = document(say(*SHIGLEY, "--json"))
    hold_contract(found)
    assert found["values"]["peak"]["value"] / 1e3 == pytest.approx(21.0, abs=0.05)
    assert found["values"]["peak_at_x"]["value"] == 75.0
    out = say(*SHIGLEY).out
    assert "X peak" in out
    drawn = out[: out.index("X peak")]
    assert drawn.count("0") >= 3
    assert max(map(len, out.splitlines())) <= 80


def test_every_step_states_its_value(say: Callable[..., Any]) -> None:
    for argv in (CONTRACT, SHIGLEY, [*CONTRACT, "--plate", "75 50 3 mm", "--washer", "large", "--edge", "20 mm"]):
        found = document(say(*argv, "--json"))
        for check in found["checks"]:
            if check["status"] in ("ok", "over") and check["demand"]["value"] and not check["key"].startswith("detail"):
                assert check["steps"], check["key"]


def test_exit_codes(say: Callable[..., Any]) -> None:
    light = with_(CONTRACT, force="0.1 0 0.05 kN")
    assert say(*light).code == 0
    assert say(*with_(CONTRACT, force="20 0 5 kN")).code == 1
    assert say(*with_(light, bolt=None, rivet="4 mm steel")).code == 1  # pulled rivet: no published rule
    assert say(*with_(CONTRACT, at=None)).code == 2


@pytest.mark.parametrize(
    "change, words",
    [
        ({"at": None}, ["--at", "point of action", "150 0 0 mm"]),
        ({"force": "0 -4 0"}, ["--force", "no unit"]),
        ({"force": "0 -4 kN"}, ["--force", "2 numbers, 3 are needed"]),
        ({"edge": "4 mm"}, ["--edge", "larger than the sheet allows"]),
        ({"hole_diameter": "14 mm"}, ["--hole-diameter", "larger than the sheet allows", "washer"]),
        ({"hole": "0 0 mm", "at": "30 0 0 mm"}, ["--hole", "cannot resist a moment"]),
        ({"hole": "0"}, ["--hole"]),
        ({"bolt": "M8"}, ["--bolt", "size and class"]),
        ({"bolt": "M8 8,8"}, ["--bolt"]),
        ({"bolt": None}, ["--bolt", "rivnut"]),
        ({"rivet": "9 mm cheese"}, ["--bolt"]),
        ({"plate": "75 50"}, ["--plate", "no unit"]),
        ({"washer": "huge"}, ["--washer", "normal"]),
        ({"find": "gold"}, ["--find", "plate"]),
    ],
)
def test_wrong_input(say: Callable[..., Any], change: dict[str, str | None], words: list[str]) -> None:
    answer = say(*with_(CONTRACT, **change))
    assert answer.code == 2
    assert answer.out == ""
    for word in words:
        assert word in answer.err, answer.err
    assert "Traceback" not in answer.err


def test_a_column_of_bolts_cannot_be_bent_about_itself(say: Callable[..., Any]) -> None:
    argv = with_(CONTRACT, hole="0 0 mm", force="0 0 1 kN", at="30 0 0 mm")
    answer = say(*argv, "--hole", "0 60 mm")
    assert answer.code == 2
    assert "on one line" in answer.err


def test_find(say: Callable[..., Any]) -> None:
    pulled = with_(CONTRACT, hole="0 0 mm", force="0 0 3 kN", at="0 0 0 mm", washer="normal")
    found = document(say(*pulled, "--find", "plate", "--json"))
    assert found["status"] == "ok"
    assert found["values"]["plate_thickness"]["value"] == found["values"]["found"]["value"]
    assert "Found plate" in say(*pulled, "--find", "plate").out
    assert "Found plate" in say(*pulled, "--find", "plate", "--units", "inch").out
    assert "Found thickness" in say(*pulled, "--find", "thickness").out


def test_in_a_project_file(say: Callable[..., Any], tmp_path: Any) -> None:
    file = tmp_path / "project.toml"
    file.write_text(
        '[project]\ntitle = "invented"\n[sheet.floor]\nthickness = "1.2 mm"\ngrade = "DC04"\n'
        '[[case]]\nid = "pull"\ntitle = "pull test"\nultimate = true\n'
        '[[bolts]]\nid = "B1"\nholes = ["0 0 mm", "60 0 mm"]\nbolt = "M8 10.9"\nsheets = ["floor"]\n'
        'washer = "normal"\nplate = "80 60 5 mm"\nforce = "0 0 6 kN"\nat = "30 0 0 mm"\npurpose = "seat"\ncase = "pull"\n',
        encoding="utf-8",
    )
    answer = say("check", str(file), "--json")
    found = document(answer)["items"][0]
    hold_contract(found)
    plate = next(c for c in found["checks"] if c["key"] == "spreader-plate.pull-through")
    assert plate["required_factor"] == pytest.approx(1.25)
    assert any(c["code"] == "occupant-load" for c in found["cautions"])
