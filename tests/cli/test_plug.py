"""`jointcalc plug` as another program and as a person meets it."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from typing import Any

import pytest

from .test_seam import document, hold_contract, with_

ROSETTES = [
    "plug", "--sheet", "1.2 mm", "--sheet", "1.5 mm", "--grade", "DC04", "--hole", "8 mm", "--pitch", "40 mm",
    "--length", "600 mm", "--edge", "12 mm", "--shear", "6 kN",
]  # fmt: skip
PUDDLES = [
    "plug", "--sheet", "1.2 mm", "--sheet", "4 mm", "--grade", "DC04", "--grade", "S235JR", "--visible", "20 mm",
    "--count", "5", "--length", "400 mm", "--edge", "35 mm", "--shear", "8 kN", "--uplift", "2 kN", "--filler", "E6013",
]  # fmt: skip


def test_json(cli: Callable[..., Any]) -> None:
    answer = cli(*ROSETTES, "--json")
    assert answer.code == 0
    found = document(answer)
    hold_contract(found)
    assert (found["kind"], found["status"], found["governing"]) == ("plug", "ok", "en1993-1-3.plug-tearing")
    assert found["values"]["welds"]["value"] == 15.0
    codes = {c["code"] for c in found["cautions"]}
    assert codes >= {"plug-proof", "engineer-decides", "sound-welds", "near-hazards", "no-coupons"}


def test_steps_print_the_numbers(say: Callable[..., Any]) -> None:
    out = say(*PUDDLES, "--steps").out
    # AISI J2.2.2.1 as printed: 2.20 t d_a F_u
    assert "2.2·t·d_a·F_u" in out
    assert "HOLDS" in out
    assert max(map(len, out.splitlines())) <= 80


def test_inch_and_metric_agree(say: Callable[..., Any]) -> None:
    inch = with_(ROSETTES, hole=f"{8 / 25.4!r} in", shear=f"{6000 / 4.4482216152605!r} lbf")
    a, b = document(say(*ROSETTES, "--json")), document(say(*inch, "--json", "--units", "inch"))
    for one, two in zip(a["checks"], b["checks"]):
        if one["utilisation"]:
            assert two["utilisation"] == pytest.approx(one["utilisation"], rel=1e-9)


def test_exit_codes(say: Callable[..., Any]) -> None:
    assert say(*ROSETTES).code == 0
    assert say(*with_(ROSETTES, shear="90 kN")).code == 1
    assert say(*with_(ROSETTES, uplift="1 kN")).code == 1  # no method: outside
    assert say(*with_(ROSETTES, hole="24 mm")).code == 2


@pytest.mark.parametrize(
    "change, words",
    [
        ({"hole": "24 mm"}, ["--hole", "larger than the sheet allows", "12 mm"]),
        ({"hole": "8"}, ["--hole", "no unit"]),
        ({"hole": None}, ["--hole", "visible"]),
        ({"uplift_place": "roof"}, ["--uplift-place", "roof"]),
        ({"filler": "butter"}, ["--filler", "butter", "filler_metals"]),
        ({"find": "colour"}, ["--find", "hole"]),
        ({"grade": "cheese"}, ["cheese"]),
    ],
)
def test_wrong_input(say: Callable[..., Any], change: dict[str, str | None], words: list[str]) -> None:
    answer = say(*with_(ROSETTES, **change))
    assert answer.code == 2
    assert answer.out == ""
    for word in words:
        assert word in answer.err
    assert "Traceback" not in answer.err


def test_find(say: Callable[..., Any]) -> None:
    found = document(say(*with_(ROSETTES, hole=None, find="hole"), "--json"))
    assert found["values"]["found"] == found["values"]["hole"]
    assert "Found pitch" in say(*ROSETTES, "--find", "pitch").out


def test_drawing_is_to_scale(say: Callable[..., Any]) -> None:
    row = next(line for line in say(*ROSETTES).out.splitlines() if line.startswith("  |"))
    marks = [i for i, c in enumerate(row) if c == "O"]
    assert len(marks) == 15
    gaps = {b - a for a, b in pairwise(marks)}
    assert max(gaps) - min(gaps) <= 1


def test_in_a_project_file(say: Callable[..., Any], tmp_path: Any) -> None:
    file = tmp_path / "project.toml"
    file.write_text(
        '[project]\ntitle = "invented"\n[sheet.floor]\nthickness = "1.2 mm"\ngrade = "DC04"\n'
        '[[plug]]\nid = "P1"\nsheets = ["floor", "floor"]\nhole = "8 mm"\npitch = "40 mm"\nlength = "600 mm"\n'
        'edge = "12 mm"\nshear = "6 kN"\n',
        encoding="utf-8",
    )
    answer = say("check", str(file), "--json")
    assert answer.code == 0
    assert document(answer)["items"][0]["kind"] == "plug"
