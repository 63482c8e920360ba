"""`jointcalc panel`: the document, the table, the search, the project file, and what is refused."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from math import isfinite
from pathlib import Path
from typing import Any

import pytest

ARC = "arc:depth=6mm,width=25mm,pitch=75mm"
TRAPEZOID = "trapezoid:depth=6mm,width=25mm,flat=10mm,pitch=75mm"
BASE = ("panel", "--size", "600 400 mm", "--grade", "DC04")
CONTRACT = (
    *BASE, "--sheet", "1.0 mm", "--bead", ARC, "--along", "long", "--edges", "simple", "--pressure", "1 kPa", "--patch", "750 N",
)  # fmt: skip
UNITS = {
    "I_along": "mm^4/mm", "W_along": "mm^3/mm", "stiffness_ratio": "1", "mass_per_area": "kg/m^2", "frequency_1": "Hz",
    "deflection_pressure": "mm", "deflection_patch": "mm", "bead_strain": "1", "D_x": "N*mm",
}  # fmt: skip


def items(answer: Any) -> list[dict[str, Any]]:
    assert answer.err == ""
    found = json.loads(answer.out, parse_constant=lambda word: pytest.fail(f"{word} in JSON"))
    assert set(found) == {"jointcalc", "kind", "items"}
    assert found["kind"] == "comparison"
    listed: list[dict[str, Any]] = found["items"]
    return listed


def hold_contract(item: dict[str, Any]) -> None:
    assert set(item) == {"jointcalc", "kind", "id", "status", "governing", "checks", "values", "cautions"}
    assert item["kind"] == "panel"
    assert item["status"] in ("ok", "over", "outside")
    keys = [c["key"] for c in item["checks"]]
    assert len(keys) == len(set(keys))
    assert item["governing"] is None or item["governing"] in keys
    for name, unit in UNITS.items():
        assert item["values"][name]["unit"] == unit
        assert isfinite(item["values"][name]["value"])
    for check in item["checks"]:
        assert re.fullmatch(r"[a-z0-9.-]+", check["key"])
        assert check["per"] in ("member", "mm")
        assert check["source"]
        assert check["status"] != "outside" or check["note"]
        if check["status"] in ("ok", "over") and check["safety_factor"]:
            assert check["capacity"]["unit"] == check["demand"]["unit"]
            assert check["safety_factor"] == pytest.approx(check["capacity"]["value"] / check["demand"]["value"])
            assert check["utilisation"] == pytest.approx(check["required_factor"] / check["safety_factor"])
        for step in check["steps"]:
            assert step["symbol"]
            assert step["expression"]
            assert isinstance(step["value"], float | int)
    assert {"engineer-decides", "panel-edges"} <= {c["code"] for c in item["cautions"]}


def test_the_contract_command(cli: Callable[..., Any]) -> None:
    answer = cli(*CONTRACT, "--json")
    assert answer.code == 1  # 750 N on 50 x 50 mm is past the yield of this sheet
    (item,) = items(answer)
    hold_contract(item)
    # [computed] arc 25 x 6 at 75 mm, 1 mm sheet: I 5.125, developed length 1.0490
    assert item["values"]["I_along"]["value"] == pytest.approx(5.125, rel=2e-3)
    assert item["values"]["mass_per_area"]["value"] == pytest.approx(7.85 * 1.0490, rel=1e-4)
    assert item["values"]["deflection_patch_stiffened"]["unit"] == "mm"
    assert "large-deflection" in {c["code"] for c in item["cautions"]}
    assert any(step["symbol"] == "D_x" for check in item["checks"] for step in check["steps"])


def test_candidates_in_the_order_given(say: Callable[..., Any]) -> None:
    answer = say(
        *BASE, "--sheet", "1.0 mm", "--sheet", "0.8 mm", "--bead", "none", "--bead", ARC, "--bead", TRAPEZOID, "--pressure",
        "0.05 kPa", "--json",
    )  # fmt: skip
    listed = items(answer)
    for item in listed:
        hold_contract(item)
    mass = [i["values"]["mass_per_area"]["value"] / 7.85 for i in listed]
    # [computed] developed length over pitch: 1.0490 and 1.0561 (for any thickness), every sheet with every bead
    assert mass == pytest.approx([1, 1.0490, 1.0561, 0.8, 0.8 * 1.0490, 0.8 * 1.0561], rel=2e-4)
    assert listed[0]["values"]["stiffness_ratio"]["value"] == 1.0
    assert listed[0]["values"]["bead_strain"]["value"] == 0.0
    assert answer.code == 0
    grades = say(*BASE[:3], "--sheet", "1 mm", "--sheet", "1 mm", "--grade", "DC04", "--grade", "S355MC", "--pressure", "0.05 kPa", "--json")  # fmt: skip
    limits = [
        next(c for c in i["checks"] if c["key"] == "plate.bending-along")["capacity"]["value"] for i in items(grades)
    ]
    assert limits == [140.0, 355.0]


def test_flat_sheet_by_the_tables(say: Callable[..., Any]) -> None:
    # Timoshenko, b/a = 1.5 simply supported: 0.00772 q a^4 / D; Roark 1b between 1.4 and 1.6; printed 0.4 % low
    (item,) = items(say(*BASE, "--sheet", "1.0 mm", "--pressure", "1 kPa", "--patch", "750 N", "--json"))
    D = 210000 / (12 * 0.91)
    assert item["values"]["deflection_pressure"]["value"] == pytest.approx(0.00772 * 1e-3 * 400**4 / D, rel=0.01)
    assert 0.1621 < item["values"]["deflection_patch"]["value"] * 210000 / (750 * 400**2) < 0.1715
    (clamped,) = items(say(*BASE, "--sheet", "1.0 mm", "--pressure", "1 kPa", "--edges", "clamped", "--json"))
    assert clamped["values"]["deflection_pressure"]["value"] == pytest.approx(0.00220 * 1e-3 * 400**4 / D, rel=0.01)


def test_answer_for_the_eye(say: Callable[..., Any]) -> None:
    answer = say(*BASE, "--sheet", "1.0 mm", "--bead", "none", "--bead", ARC, "--bead", TRAPEZOID, "--pressure", "0.5 kPa",
                 "--limit-frequency", "25 Hz", "--steps", "--full")  # fmt: skip
    assert answer.code == 1
    lines = answer.out.splitlines()
    assert max(map(len, lines)) <= 80 or all(" = " in line for line in lines if len(line) > 80)
    table = next(n for n, line in enumerate(lines) if "mass" in line and "strain" in lines[n + 2])
    assert table < 8  # the comparison stands on the first screen
    assert all(len(line) <= 80 for line in lines[: table + 12])
    rows = {line[0]: line.split() for line in lines[table + 2 : table + 6] if line[:1] in "ABC" and line[1:2] == " "}
    end = lines[next(n for n, line in enumerate(lines) if "first to give" in line) :]
    verdicts = {line[0]: line.split()[1] for line in end if line[:1] in "ABC" and line[1:2] == " "}
    assert verdicts == {"A": "OVER", "B": "holds", "C": "holds"}  # the flat sheet drums at 22 Hz
    assert rows["B"][1:3] == ["8.24", "53.2"]
    for text in (
        "Lightest that holds: B.",
        "drums at a low tone",
        "to scale",
        "Working",
        "Strain of the bead",
        "Real floor",
    ):
        assert text in answer.out, text
    assert "Traceback" not in answer.out


def test_drawing_is_to_scale(say: Callable[..., Any]) -> None:
    answer = say(*BASE, "--sheet", "1 mm", "--bead", "arc:depth=40mm,width=80mm,pitch=80mm")
    drawn = [line[3:].rstrip() for line in answer.out.splitlines() if any("\u2800" < c < "\u28ff" for c in line)]
    # two beads of 80 mm, 40 mm high and 1 mm thick: 160 to 41; a character is two dots wide and four high
    assert max(map(len, drawn)) / len(drawn) == pytest.approx(2 * 160 / 41, rel=0.12)
    assert "160 mm across the beads" in answer.out


def test_inch(say: Callable[..., Any]) -> None:
    options = ("--sheet", "1.0 mm", "--bead", "vee:depth=1/4in,width=1in,pitch=3in", "--pressure", "0.1 psi")
    metric, inch = say(*BASE, *options, "--json"), say(*BASE, *options, "--units", "inch", "--json")
    assert metric.out == inch.out
    shown = say(*BASE, *options, "--units", "inch").out
    assert "lb/ft²" in shown
    assert "ksi" in say(*BASE, *options, "--units", "inch", "--full").out


def test_find(say: Callable[..., Any]) -> None:
    answer = say(*BASE, "--sheet", "1 mm", "--bead", ARC, "--limit-frequency", "60 Hz", "--find", "depth", "--json")
    assert answer.code == 0
    (item,) = items(answer)
    assert item["values"]["found"]["value"] % 0.5 == 0
    assert item["values"]["frequency_1"]["value"] >= 60
    shown = say(*BASE, "--sheet", "1 mm", "--bead", ARC, "--limit-frequency", "60 Hz", "--find", "depth")
    assert f"Found depth: {item['values']['found']['value']:g} mm" in shown.out


def test_both_ways(say: Callable[..., Any]) -> None:
    """Mechanics: beads along the short side span less, and are the stiffer."""
    options = (*BASE, "--sheet", "1 mm", "--bead", "none", "--bead", ARC, "--edges", "clamped", "--along", "both")
    answer = say(*options, "--json")
    flat, long, short = items(answer)
    assert flat["values"]["bead_strain"]["value"] == 0
    assert short["values"]["frequency_1"]["value"] > 1.2 * long["values"]["frequency_1"]["value"]
    shown = " ".join(say(*options).out.split())
    assert "Better along the short side: first frequency" in shown
    one = say(*BASE, "--sheet", "1 mm", "--bead", ARC, "--edges", "clamped", "--cautions").out
    assert "along the short side would make it stiffer" in " ".join(one.split())
    other = say(*BASE, "--sheet", "1 mm", "--bead", ARC, "--edges", "clamped", "--along", "short", "--cautions").out
    assert "would make it stiffer" not in other


def test_a_search_both_ways(say: Callable[..., Any]) -> None:
    """What holds one way only is told with the best try of the other."""
    options = (*BASE, "--sheet", "1 mm", "--bead", ARC, "--edges", "clamped", "--along", "both", "--find", "depth")
    shown = " ".join(say(*options, "--limit-frequency", "120 Hz").out.split())
    assert "no depth holds" in shown
    assert "best try, arc:depth=" in shown
    assert "Better along the short side" in shown
    answer = say(*options, "--limit-frequency", "900 Hz")
    assert (answer.code, answer.out) == (2, "")
    assert "no depth holds" in answer.err


PROJECT = """
[project]
title = "Invented van floor"

[sheet.floor]
thickness = "1.0 mm"
grade = "DC04"

[[panel]]
id = "P1"
title = "Panel behind the seat"
size = "600 400 mm"
sheet = "floor"
bead = "{bead}"
edges = "clamped"
pressure = "0.3 kPa"
limit_frequency = "60 Hz"
"""


def test_in_a_project(say: Callable[..., Any], tmp_path: Path) -> None:
    for bead, code, status in ((ARC, 0, "ok"), ("none", 1, "over")):
        file = tmp_path / "project.toml"
        file.write_text(PROJECT.format(bead=bead), encoding="utf-8")
        answer = say("check", str(file), "--json")
        assert answer.code == code, answer.err
        (item,) = json.loads(answer.out)["items"]
        assert (item["kind"], item["id"], item["status"]) == ("panel", "P1", status)
        alone = say("check", str(file), "--item", "P1", "--steps")
        assert "First frequency" in alone.out
    file.write_text(PROJECT.format(bead="arc:depth=60mm,width=25mm,pitch=75mm"), encoding="utf-8")
    wrong = say("check", str(file))
    assert (wrong.code, wrong.out) == (2, "")
    assert "P1" in wrong.err
    assert "half round" in wrong.err


BAD = [
    (("--bead", "arc:depth=20mm,width=25mm,pitch=75mm"), "--bead", "half round"),
    (("--bead", "arc:depth=6mm,width=90mm,pitch=75mm"), "--bead", "overlap"),
    (("--bead", ARC, "--bead", "wave:depth=6mm"), "--bead", "known: arc, trapezoid, vee"),
    (("--patch", "750 N", "--patch-size", "700 50 mm"), "--patch-size", "larger than the panel"),
    (("--patch", "75 kg"), "--patch", "mass"),
    (("--pressure", "1"), "--pressure", "no unit"),
    (("--edges", "fixed"), "--edges", "neither simple nor clamped"),
    (("--along", "lengthways"), "--along", "neither long nor short"),
    (("--limit-frequency", "25 rpm"), "--limit-frequency", "frequency"),
    (("--grade", "DC40"), "--grade", "did you mean 'DC04'"),
    (("--find", "width"), "--find", "accepted: depth, pitch, stop"),
    (("--find", "depth"), "--find", "no bead"),
    (("--shear", "5 N"), "--shear", "line load"),
    (("--units", "furlong"), "--units", "neither 'metric' nor 'inch'"),
]


@pytest.mark.parametrize("options, option, said", BAD)
def test_refused_in_the_builders_words(
    say: Callable[..., Any], options: tuple[str, ...], option: str, said: str
) -> None:
    base = BASE[:3] if "--grade" in options else BASE
    answer = say(*base, "--sheet", "1 mm", *options)
    assert (answer.code, answer.out) == (2, "")
    assert option in answer.err
    assert said in answer.err
    assert "Traceback" not in answer.err


def test_a_bar_moves_where_somebody_watches(say: Callable[..., Any], monkeypatch: pytest.MonkeyPatch) -> None:
    """On a terminal stderr shows a bar, stdout the same answer; elsewhere nothing is shown."""
    import sys

    from jointcalc.statics.balance import watchers

    options = (*BASE, "--sheet", "1 mm", "--edges", "clamped", "--pressure", "1 kPa")
    quiet = say(*options)
    assert quiet.err == ""
    monkeypatch.setattr(type(sys.stderr), "isatty", lambda self: True, raising=False)
    assert say(*options).code == quiet.code
    assert watchers == []


FOOT = ("panel", "--size", "400 300 mm", "--sheet", "1.2 mm", "--grade", "DC04", "--edges", "clamped", "--patch", "400 N",
        "--patch-size", "80 50 mm")  # fmt: skip


def test_the_deflection_is_drawn(say: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    answer = say(*FOOT)
    assert answer.code == 0, answer.err
    most = json.loads(say(*FOOT, "--json").out)["items"][0]["values"]["deflection_yielding"]["value"]
    told = re.search(r"Deflects ([0-9.]+) mm\n([+]-+[+])\n(.*?)\n\2\nfrom ░ ([0-9.]+)", answer.out, re.DOTALL)
    assert told, answer.out
    assert float(told[1]) == pytest.approx(most, rel=1e-3)
    assert float(told[4]) == pytest.approx(most / 5, rel=0.05)
    rows = [row[1:-1] for row in told[3].splitlines()]
    assert rows == rows[::-1] == [row[::-1] for row in rows]  # alike about both middles
    assert rows[len(rows) // 2][len(rows[0]) // 2] == "█"
    assert set(rows[0]) == {" "}  # the rim moves least
    for columns in (40, 200):
        monkeypatch.setenv("COLUMNS", str(columns))
        drawn = re.search(r"Deflects .*?from [^\n]*", say(*FOOT).out, re.DOTALL)
        assert drawn
        assert max(len(line) for line in drawn[0].splitlines()) <= columns
    # several candidates are compared by their numbers
    assert "Deflects" not in say(*FOOT, "--sheet", "1.5 mm").out
    # nothing presses, nothing is drawn
    assert "Deflects" not in say(*FOOT[:9], "--shear", "5 N/mm").out


def test_plot(say: Any, tmp_path: Path) -> None:
    file = tmp_path / "panel.svg"
    bead = ("--bead", "arc:depth=4mm,width=25mm,pitch=75mm,stop=20mm,runout=20mm")
    first = say(*FOOT, *bead, "--plot", str(file), "--units", "inch")
    assert first.code in (0, 1), first.err
    drawn = file.read_bytes()
    assert b"across the beads [in]" in drawn
    assert b"deflection [in]" in drawn
    say(*FOOT, *bead, "--plot", str(file), "--units", "inch")
    assert file.read_bytes() == drawn
    answer = say(*FOOT, "--plot", str(tmp_path / "panel.png"))
    assert (answer.code, answer.out) == (2, "")
    assert "--plot" in answer.err


@pytest.mark.parametrize(("shear", "most"), [("2 N/mm", True), ("30 N/mm", False)])
def test_what_was_followed_so_far_only_is_no_more_than_that(say: Callable[..., Any], shear: str, most: bool) -> None:
    """The solver follows the loads to twice what is asked: what goes on beyond has used half at most, not half."""
    answer = say("panel", "--size", "400 300 mm", "--sheet", "1.2 mm", "--grade", "DC04", "--shear", shear).out
    assert ("used at most)" in answer) is most
    assert ("followed no further" in answer) is most
