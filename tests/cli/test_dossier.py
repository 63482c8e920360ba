"""`jointcalc dossier` from the command line."""

from __future__ import annotations

import io
import json
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

Say = Callable[..., Any]


@pytest.fixture
def project(tmp_path: Path) -> Path:
    """A project of two seams, one that holds and one that does not."""
    text = """
[project]
title = "Floor"
date = "2026-01-31"
[sheet.f]
thickness = "1.2 mm"
grade = "DC04"
"""
    for name, shear in (("S1", "2 kN"), ("S2", "200 kN")):
        text += f"""
[[seam]]
id = "{name}"
sheets = ["f", "f"]
weld_diameter = "5.5 mm"
pitch = "40 mm"
length = "400 mm"
edge = "9 mm"
shear = "{shear}"
"""
    file = tmp_path / "floor.toml"
    file.write_text(text, encoding="utf-8")
    return file


def test_writes_beside_the_project_and_exit_code_says_over(project: Path, say: Say) -> None:
    answer = say("dossier", str(project), "--steps", "none")
    assert answer.code == 1
    assert answer.err == ""
    target = project.with_suffix(".pdf")
    assert str(target) in answer.out
    assert "2 items" in answer.out
    assert target.read_bytes().startswith(b"%PDF")
    assert sorted(p.name for p in project.parent.iterdir()) == ["floor.pdf", "floor.toml"]  # nothing left lying about


def test_item_that_holds_exits_zero(project: Path, say: Say, tmp_path: Path) -> None:
    target = tmp_path / "one.PDF"
    answer = say(
        "dossier", str(project), "--item", "S1", "-o", str(target), "--paper", "letter", "--units", "inch", "--summary"
    )
    assert answer.code == 0
    page = PdfReader(io.BytesIO(target.read_bytes())).pages[0]
    assert float(page.mediabox.width) == 612


@pytest.mark.parametrize(
    ("args", "told"),
    [
        (["--paper", "a3"], "accepted: a4, letter"),
        (["--steps", "ful"], "did you mean 'full'"),
        (["--units", "cubits"], "'cubits'"),
        (["--item", "S3"], "'S3' is not an item"),
        (["-o", "floor.toml"], "must end in .pdf"),
        (["-o", "nowhere/x.pdf"], "folder that is not there"),
        (["--since", "none.json"], "cannot be read"),
        (["--html", "-o", "floor.pdf"], "must end in .html"),
        (["--html", "--paper", "letter"], "goes with the PDF"),
        (["--html", "--summary"], "goes with the PDF"),
    ],
)
def test_wrong_options_are_told_and_nothing_is_written(
    project: Path, say: Say, monkeypatch: pytest.MonkeyPatch, args: list[str], told: str
) -> None:
    monkeypatch.chdir(project.parent)
    before = project.read_bytes()
    answer = say("dossier", "floor.toml", *args)
    assert answer.code == 2
    assert told in answer.err
    assert answer.out == ""
    assert [p.name for p in project.parent.iterdir()] == ["floor.toml"]
    assert project.read_bytes() == before


def test_an_older_file_survives_a_wrong_project(project: Path, say: Say) -> None:
    target = project.with_suffix(".pdf")
    target.write_bytes(b"old")
    project.write_text("[project\n", encoding="utf-8")
    assert say("dossier", str(project)).code == 2
    assert target.read_bytes() == b"old"


def test_since_reads_what_check_prints(project: Path, say: Say, tmp_path: Path) -> None:
    old = tmp_path / "old.json"
    old.write_text(say("check", str(project), "--json").out, encoding="utf-8")
    assert len(json.loads(old.read_text(encoding="utf-8"))["items"]) == 2
    project.write_text(project.read_text(encoding="utf-8").replace("200 kN", "3 kN"), encoding="utf-8")
    answer = say("dossier", str(project), "--since", str(old), "--summary", "-o", str(tmp_path / "n.pdf"))
    assert answer.code == 0
    text = " ".join(page.extract_text() for page in PdfReader(io.BytesIO((tmp_path / "n.pdf").read_bytes())).pages)
    assert "does not hold" in text
    assert "1 changed, 1 unchanged" in text


def test_two_processes_write_the_same_bytes(project: Path, tmp_path: Path, cli: Callable[..., Any]) -> None:
    made = []
    for n, env in enumerate(
        ({"PYTHONHASHSEED": "1", "TZ": "UTC"}, {"PYTHONHASHSEED": "2", "TZ": "Asia/Tokyo", "LC_ALL": "C"})
    ):
        target = tmp_path / f"{n}.pdf"
        answer = cli("dossier", str(project), "-o", str(target), "--item", "S1", **env)
        assert answer.code == 0, answer.err
        made.append(target.read_bytes())
    assert made[0] == made[1]


def test_nothing_heavy_is_imported_for_the_help_page() -> None:
    code = (
        "import sys, jointcalc.cli.dossier, jointcalc.dossier; "
        "print([m for m in ('matplotlib', 'typst', 'pint', 'rich', 'numpy', 'pydantic') if m in sys.modules "
        "and not any('typer' in n for n in (m,))])"
    )
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout
    assert "matplotlib" not in out
    assert "typst" not in out
    assert "pint" not in out


def test_template_ships_with_the_package() -> None:
    from jointcalc.dossier.typeset import template

    assert b"json(" in template()
