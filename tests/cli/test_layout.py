"""`jointcalc layout` as a builder meets it: files, cut list, what is refused."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

SHEET = '{thickness = "1.2 mm", grade = "DC04"}'
HEAD = '[project]\ntitle = "Invented van"\n'
SEAM = f"""
[[seam]]
id = "S1"
sheets = [{SHEET}, {SHEET}]
weld_diameter = "5.5 mm"
pitch = "40 mm"
length = "400 mm"
edge = "9 mm"
shear = "1 kN"
"""
PART = f'\n[[part]]\nid = "A"\nsize = "300 200 mm"\nsheet = {SHEET}\ncount = 3\n'


@pytest.fixture
def shop(tmp_path: Path) -> Callable[[str], Path]:
    def write(text: str) -> Path:
        file = tmp_path / "project.toml"
        file.write_text(HEAD + text, encoding="utf-8")
        return file

    return write


def test_files_and_cut_list(say: Any, shop: Callable[[str], Path], tmp_path: Path) -> None:
    answer = say("layout", str(shop(SEAM + PART)), "--out", str(tmp_path / "new" / "marks"))
    assert answer.code == 0
    assert answer.err == ""
    names = sorted(p.name for p in (tmp_path / "new" / "marks").iterdir())
    assert names == ["A.dxf", "A.pdf", "S1.dxf", "S1.pdf", "cut-list.csv", "cut-list.pdf"]
    assert (tmp_path / "new" / "marks" / "S1.pdf").read_bytes().startswith(b"%PDF")
    for words in ("Cut from sheet", "300", "200", "1.2 mm DC04", "spots", "10", "Print the PDFs at 100 %"):
        assert words in answer.out
    assert max(len(line) for line in answer.out.splitlines() if "Wrote" not in line) <= 80


def test_json_is_one_document_that_names_the_files(say: Any, shop: Callable[[str], Path], tmp_path: Path) -> None:
    answer = say("layout", str(shop(SEAM + PART)), "--out", str(tmp_path / "m"), "--json")
    found = json.loads(answer.out)
    assert answer.err == ""
    assert found["kind"] == "cut_list"
    assert found["project"] == "Invented van"
    assert sorted(found["files"]) == sorted(p.name for p in (tmp_path / "m").iterdir())
    assert found["totals"]["spots"] == 10
    assert [(p["item"], p["count"]) for p in found["parts"]] == [("A", 3)]


def test_the_folder_stands_beside_the_file_and_others_files_stay(
    say: Any, shop: Callable[[str], Path], tmp_path: Path
) -> None:
    file = shop(SEAM)
    (tmp_path / "layout").mkdir()
    (tmp_path / "layout" / "mine.txt").write_text("mine", encoding="utf-8")
    (tmp_path / "layout" / "S1.dxf").write_text("old", encoding="utf-8")
    assert say("layout", str(file)).code == 0
    assert (tmp_path / "layout" / "mine.txt").read_text(encoding="utf-8") == "mine"
    assert (tmp_path / "layout" / "S1.dxf").read_text(encoding="utf-8") != "old"
    assert not [p for p in (tmp_path / "layout").iterdir() if p.suffix == ".part"]


def test_the_same_bytes_from_two_processes(cli: Any, shop: Callable[[str], Path], tmp_path: Path) -> None:
    file = shop(SEAM + PART)
    for folder, seed in (("one", "1"), ("two", "2")):
        assert cli("layout", str(file), "--out", str(tmp_path / folder), PYTHONHASHSEED=seed).code == 0
    for one in (tmp_path / "one").iterdir():
        assert one.read_bytes() == (tmp_path / "two" / one.name).read_bytes(), one.name


def test_only_one_item(say: Any, shop: Callable[[str], Path], tmp_path: Path) -> None:
    answer = say("layout", str(shop(SEAM + PART)), "--out", str(tmp_path / "m"), "--item", "A", "--json")
    assert "S1.dxf" not in json.loads(answer.out)["files"]


def test_a_project_of_parts_alone_is_laid_out_but_not_judged(
    say: Any, shop: Callable[[str], Path], tmp_path: Path
) -> None:
    file = shop(PART)
    assert say("layout", str(file), "--out", str(tmp_path / "m")).code == 0
    answer = say("check", str(file))
    assert answer.code == 2
    assert "has no items" in answer.err


def test_parts_change_nothing_that_is_judged(say: Any, shop: Callable[[str], Path]) -> None:
    """They are named as what nothing judges, and change nothing else."""
    before = say("check", str(shop(SEAM)), "--json")
    after = say("check", str(shop(SEAM + PART)), "--json")
    document = json.loads(after.out)
    assert "only marked out and cut" in document.pop("unjudged")[0]
    assert document == json.loads(before.out)
    assert (before.code, before.err) == (after.code, after.err)


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (["--paper", "a3"], ["--paper", "'a3'", "letter"]),
        (["--units", "cubit"], ["--units", "metric"]),
        (["--stock", "2500 mm"], ["--stock", "2 are needed"]),
        (["--stock", "2500 1250"], ["--stock", "no unit"]),
        (["--stock", "2,5 1,25 m"], ["--stock", "comma"]),
        (["--stock", "10 10 mm"], ["--stock", "50 mm to 20 m"]),
        (["--kerf", "2"], ["--kerf", "no unit"]),
        (["--kerf", "80 mm"], ["--kerf", "out of proportion"]),
        (["--margin", "-5 mm"], ["--margin", "negative"]),
        (["--stock", "300 100 mm", "--margin", "60 mm"], ["--margin", "leaves nothing"]),
        (["--item", "S11"], ["--item", "'S11'", "did you mean 'S1'"]),
    ],
)
def test_wrong_options(
    say: Any, shop: Callable[[str], Path], tmp_path: Path, options: list[str], words: list[str]
) -> None:
    answer = say("layout", str(shop(SEAM + PART)), "--out", str(tmp_path / "m"), *options)
    assert answer.code == 2
    assert answer.out == ""
    for word in words:
        assert word in answer.err
    assert not (tmp_path / "m").exists()


def test_a_wrong_key_in_a_part_is_told_with_its_place(say: Any, shop: Callable[[str], Path]) -> None:
    file = shop(SEAM + PART.replace("count", "cuont"))
    for command in ("layout", "check"):
        answer = say(command, str(file))
        assert answer.code == 2
        assert "project.toml:17: [[part]] A" in answer.err
        assert "did you mean 'count'" in answer.err


def test_a_folder_that_cannot_be_made(say: Any, shop: Callable[[str], Path], tmp_path: Path) -> None:
    (tmp_path / "file").write_text("", encoding="utf-8")
    answer = say("layout", str(shop(SEAM)), "--out", str(tmp_path / "file" / "m"))
    assert answer.code == 2
    assert "--out" in answer.err


def test_an_id_leads_nowhere_outside_the_folder(say: Any, shop: Callable[[str], Path], tmp_path: Path) -> None:
    file = shop(PART.replace('id = "A"', 'id = "../../escape"'))
    assert say("layout", str(file), "--out", str(tmp_path / "deep" / "m")).code == 0
    assert not list(tmp_path.glob("*escape*"))
    assert len(list((tmp_path / "deep" / "m").glob("*escape.dxf"))) == 1


def test_the_quick_commands_do_not_import_the_drawing_libraries() -> None:
    import subprocess
    import sys

    code = (
        "import sys, jointcalc.cli.layout, jointcalc.layout.paper, jointcalc.layout.dxf, jointcalc.layout.cutlist; "
        "sys.exit(bool({'matplotlib', 'ezdxf', 'shapely'} & set(sys.modules)))"
    )
    from .test_seam import PACKAGE_PLACE

    assert subprocess.run([sys.executable, "-c", code], cwd=PACKAGE_PLACE, check=False).returncode == 0


def test_too_large_is_said(say: Any, shop: Callable[[str], Path], tmp_path: Path) -> None:
    answer = say("layout", str(shop(SEAM + PART)), "--out", str(tmp_path / "m"), "--stock", "250 250 mm")
    assert answer.code == 0
    assert "TOO LARGE" in answer.out
