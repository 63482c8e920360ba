"""`jointcalc frame`: what a project's floor frame says of itself."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.docs.blocks import ROOT, blocks, run_line

G = 9.80665


@pytest.fixture
def floor(tmp_path: Path) -> Path:
    """The project of the page about frames."""
    page = ROOT / "docs" / "11-floor-frame.md"
    text = next(block.body for block in blocks(page) if block.asks == "file: floor.toml")
    file = tmp_path / "floor.toml"
    file.write_text(text, encoding="utf-8")
    return file


def test_json_has_what_a_frame_says(floor: Path) -> None:
    """Supports carry 90 kg and the members' weight in one case, 1.5 kPa x 0.6 m² in the other (statics by hand)."""
    code, out, err = run_line(f"jointcalc frame {floor} --json")
    assert (code, err) == (0, "")
    told = json.loads(out)
    assert told["kind"] == "frame"
    assert told["status"] == "ok"
    assert {"deflection_max", "moment_max", "shear_max", "compression_max", "support_1_z"} <= set(told["values"])
    assert told["values"]["residual"]["value"] < 1e-9
    assert set(told["members"]) == {"left", "right", "front", "rear"}
    assert told["values"]["moment_max"]["value"] == max(m["moment_max"]["value"] for m in told["members"].values())
    down = -sum(told["values"][f"support_{n}_z"]["value"] for n in (1, 2, 3, 4))
    # supports 1 and 3 are pressed most by the person, 2 and 4 by the field: between the two cases' sums
    assert min(90 * G, 1.5e-3 * 500 * 1200) < down < 2 * 1.5e-3 * 500 * 1200


def test_a_limit_judges_the_deflection(floor: Path) -> None:
    """The same deflection holds at L/300 of 1500 mm and not at 2 mm, with the contract's exit codes."""
    assert run_line(f"jointcalc frame {floor} --limit-deflection L/300")[0] == 0
    code, out, _ = run_line(f'jointcalc frame {floor} --limit-deflection "2 mm" --json')
    assert code == 1
    told = json.loads(out)
    assert told["status"] == "over"
    check = told["checks"][0]
    assert check["key"] == "limit.deflection"
    assert check["capacity"] == {"value": 2.0, "unit": "mm"}
    assert check["demand"]["value"] == told["values"]["deflection_max"]["value"]


def test_the_dossier_has_a_sheet_of_the_frame(floor: Path) -> None:
    """Its plan with words for those who cannot see it, its members, what was assumed."""
    from jointcalc.kinds.frame.draw import sheet
    from jointcalc.model.project import load_project

    frame = load_project(floor).givers[0]
    told = sheet(frame, "metric")
    assert "its members left, right, front, rear" in told["picture"].alt
    assert b"<svg" in told["picture"].svg
    assert [row[0] for row in told["members"]] == ["left", "right", "front", "rear"]
    assert all(len(row) == len(told["header"]) for row in told["members"])
    assert any("beside its line" in note for note in told["notes"])
    inch = sheet(frame, "inch")
    assert any("lbf" in text for _, text in inch["lines"])
    code, _, err = run_line(f"jointcalc dossier {floor} --output {floor.with_suffix('.pdf')}")
    assert (code, err) == (0, ""), err
    from pypdf import PdfReader

    text = "".join(page.extract_text() for page in PdfReader(floor.with_suffix(".pdf")).pages)
    assert "What shares out the loads" in text
    assert "Greatest forces of every member" in text


def test_inches(floor: Path) -> None:
    out = run_line(f"jointcalc frame {floor} --units inch")[1]
    assert "lbf" in out
    assert " mm" not in out


@pytest.mark.parametrize(
    ("line", "words"),
    [("--id F9", "'F9' is not the id of a [[frame]]"), ("--limit-deflection L/3", "L/3"), ("--units feet", "feet")],
)
def test_wrong_words(floor: Path, line: str, words: str) -> None:
    code, out, err = run_line(f"jointcalc frame {floor} {line}")
    assert (code, out) == (2, "")
    assert words in err


def test_a_file_without_a_frame(tmp_path: Path) -> None:
    file = tmp_path / "p.toml"
    file.write_text(
        '[project]\ntitle = "none"\n[[part]]\nid = "P"\nsize = "300 200 mm"\nsheet = { thickness = "1 mm", grade = "DC04" }\n',
        encoding="utf-8",
    )
    code, out, err = run_line(f"jointcalc frame {file}")
    assert (code, err) == (0, "")
    assert "p.toml has no [[frame]]" in out
    assert json.loads(run_line(f"jointcalc frame {file} --json")[1])["items"] == []


def test_check_says_what_it_does_not_judge(floor: Path) -> None:
    """Rails without a [[brace]], the frame's own bending and a wheel tub stand in no item: they are named."""
    tub = '\n[[tub]]\nid = "T"\nsheet = { thickness = "1 mm", grade = "DC04" }\ntyre = "205/65R15"\nfloor = "100 mm"\n'
    floor.write_text(floor.read_text(encoding="utf-8") + tub, encoding="utf-8")
    code, out, err = run_line(f"jointcalc check {floor} --json")
    assert (code, err) == (0, "")
    frame, wheel = json.loads(out)["unjudged"]
    assert frame.startswith("F1: ")
    assert "jointcalc frame" in frame
    assert "left, right, without a [[brace]]" in frame
    assert wheel.startswith("T: a wheel tub")
    shown = " ".join(run_line(f"jointcalc check {floor}")[1].split())
    assert f"not judged {frame}" in shown
    assert f"not judged {wheel}" in shown
    assert "unjudged" not in json.loads(run_line(f"jointcalc check {floor} --item B1 --json")[1])
