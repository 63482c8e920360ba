"""Every command in the documentation runs, ends as the page says, and prints what the page shows."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from pypdf import PdfReader

from .blocks import ROOT, Block, blocks, commands, missing_line, run_line

PAGES = [ROOT / "README.md", *sorted((ROOT / "docs").glob("*.md"))]
OUTSIDE = ("python3 -m venv", ".venv/bin/", "bash .ci/run")
"""Lines of the README that build environments; .ci/run does what they say."""

LONGEST = {"6-the-dossier.md": {"van/project.pdf": 31, "van/items.pdf": 13, "van/summary.pdf": 3}}
"""Pages that a dossier which a page has made may have: of the demo, eleven items whole, without working, and in short."""


@pytest.mark.parametrize("page", PAGES, ids=lambda p: p.name)
def test_page(page: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    last = ""
    notebook: dict[str, object] = {}  # the python blocks of a page are one notebook
    for block in blocks(page):
        where = f"{page.name}:{block.line}"
        if block.asks.startswith("not run"):
            continue
        if block.asks.startswith("file: "):
            target = tmp_path / block.asks.removeprefix("file: ")
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_text(block.body, encoding="utf-8")
        elif block.kind == "sh":
            last = _run_block(block, where)
        elif block.kind == "python":
            exec(compile(block.body, where, "exec"), notebook)
        elif block.kind == "text" and last:
            wrong = missing_line(block.body, last)
            assert wrong is None, (
                f"{where}: the page shows a line that is not printed there:\n{wrong}\nprinted:\n{last}"
            )

    for name, most in LONGEST.get(page.name, {}).items():
        assert len(PdfReader(tmp_path / name).pages) <= most, f"{name} has grown: nobody reads a dossier that long"


def _run_block(block: Block, where: str) -> str:
    expected = int(block.asks.removeprefix("exit ") or 0) if block.asks.startswith("exit") else 0
    told = ""
    lines = [line for line in commands(block.body) if not line.startswith(OUTSIDE)]
    for n, line in enumerate(lines):
        code, out, err = run_line(line)
        wanted = expected if n == len(lines) - 1 else 0
        assert code == wanted, f"{where}: exit code {code}, the page says {wanted}: {line}\n{err}{out[-1500:]}"
        told += out + err
    return told


def test_a_wrong_line_is_noticed() -> None:
    real = "a\nb\nc\nd\n"
    assert missing_line("a\nb\n...\nd\n", real) is None
    assert missing_line("b\nd\n", real) == "d"
    assert missing_line("...\nx\n", real) == "x"
    assert missing_line("c\n...\na\n", real) == "a"


def test_every_block_says_its_language() -> None:
    for page in PAGES:
        for block in blocks(page):
            assert block.kind in ("sh", "text", "toml", "json", "csv", "python"), f"{page.name}:{block.line}"


def test_links_lead_somewhere() -> None:
    for page in PAGES:
        text = page.read_text(encoding="utf-8")
        for target in re.findall(r"\]\(([^)#]+)(?:#[^)]*)?\)", text):
            assert (page.parent / target).exists(), f"{page.name}: {target}"


def test_every_page_is_in_the_index() -> None:
    index = (ROOT / "docs" / "README.md").read_text(encoding="utf-8")
    for page in PAGES[1:]:
        if page.name != "README.md":
            assert f"({page.name})" in index, page.name


def test_the_package_judges_whatever_was_imported_first() -> None:
    """`jointcalc.check` is a function and a package at once; a program may meet either first."""
    import importlib

    import jointcalc

    sheet = {"thickness": "1.2 mm", "grade": "DC04"}
    seam = jointcalc.SpotSeam(
        sheets=[sheet, sheet], weld_diameter="5.5 mm", pitch="40 mm", length="400 mm", edge="9 mm"
    )
    importlib.import_module("jointcalc.check.seam")
    jointcalc.__dict__["check"] = importlib.import_module("jointcalc.check")
    assert jointcalc.check(seam).kind == "spot_seam"
