"""Every command, option and key is explained, and every example in the help runs."""

from __future__ import annotations

import json
import re
import tomllib
from importlib import import_module
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from jointcalc.cli.main import COMMANDS, EXAMPLES, _app, folded
from jointcalc.model.coupon_source import CouponSource
from jointcalc.model.evidence import Evidence
from jointcalc.model.project import About, LoadCase
from jointcalc.model.sheet import Sheet
from jointcalc.registry import KINDS, PIECES, SOURCES, load

from .blocks import ROOT, blocks, commands, run_line

DOCS = sorted((ROOT / "docs").glob("*.md"))


def _lines(text: str) -> list[str]:
    return [line.strip() for line in text.splitlines() if line.startswith("  ")]


@pytest.fixture
def demo(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with the demo project in it, as the examples of the help take for granted."""
    assert run_line(f"jointcalc new {tmp_path} --demo")[0] == 0
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.mark.parametrize("name", COMMANDS)
def test_examples_run(name: str, demo: Path) -> None:
    lines = _lines(import_module(COMMANDS[name][0]).EXAMPLES)
    assert lines
    assert any(f"jointcalc {name}" in line for line in lines)
    for line in lines:
        for part in line.split("&&"):
            code, _, err = run_line(part.strip())
            assert code == 0, f"{part}\n{err}"


def test_examples_of_the_top_run(demo: Path) -> None:
    for line in _lines(EXAMPLES):
        for part in line.split("&&"):
            assert run_line(part.strip())[0] == 0, part


def test_nothing_typed_shows_the_help() -> None:
    assert run_line("jointcalc") == run_line("jointcalc --help")
    assert run_line("jointcalc")[0] == 0


@pytest.mark.parametrize("name", COMMANDS)
def test_help_can_be_copied(name: str) -> None:
    """The printed examples, joined again as a shell joins them, are the examples."""
    code, out, _ = run_line(f"jointcalc {name} --help")
    assert code == 0
    above, _, below = out.partition("Examples:")
    assert max(map(len, above.splitlines())) <= 80
    printed = commands(below)
    wanted = [part.strip() for line in _lines(import_module(COMMANDS[name][0]).EXAMPLES) for part in line.split("&&")]
    assert [" ".join(line.split()) for line in printed] == [" ".join(line.split()) for line in wanted]
    assert folded("Examples:\n\n  a --b") == "Examples:\n\n\b\na --b"


@pytest.mark.parametrize("name", COMMANDS)
def test_every_option_has_help(name: str) -> None:
    from typer.main import get_command

    command: Any = get_command(_app(name)).commands[name]  # type: ignore[arg-type, attr-defined]
    assert command.help
    for parameter in command.params:
        assert getattr(parameter, "help", None), f"{name}: {parameter.name} is not explained"


def test_every_command_is_documented() -> None:
    used = {
        line.split()[1]
        for page in DOCS
        for block in blocks(page)
        if block.kind == "sh"
        for line in commands(block.body)
        if line.startswith("jointcalc ")
    }
    assert set(COMMANDS) <= used
    told = {name for page in DOCS for name in re.findall(r"`jointcalc (\w+)", page.read_text(encoding="utf-8"))}
    assert told <= set(COMMANDS), "the docs name a command that is not there"


def test_every_key_is_in_the_page_of_the_project_file() -> None:
    text = (ROOT / "docs" / "8-project-file.md").read_text(encoding="utf-8")
    models = {"project": About, "case": LoadCase, "sheet": Sheet, "evidence": Evidence, "coupons": CouponSource}
    for name, record in {**KINDS, **SOURCES, **PIECES}.items():
        models[name] = load(record.model)
    parts = re.split(r"^## ", text, flags=re.MULTILINE)
    common = next(p for p in parts if p.startswith("Every item"))
    for name, model in models.items():
        part = next((p for p in parts if re.match(rf"\[+{name}\b", p)), None)
        assert part is not None, f"no part about [{name}]"
        rows = set(re.findall(r"^\| `(\w+)`", part, re.MULTILINE))
        shared = set(re.findall(r"^\| `(\w+)`", common, re.MULTILINE)) if name in KINDS else set()
        assert set(model.model_fields) <= rows | shared, f"[{name}] lacks {set(model.model_fields) - rows - shared}"
        extra = {"sheet"} if "sheets" in model.model_fields else set()
        assert rows <= set(model.model_fields) | extra, f"[{name}]: {rows - set(model.model_fields)} is no key"


def _starter() -> tuple[str, str]:
    from importlib.resources import files

    text = files("jointcalc.starter").joinpath("starter.toml").read_text(encoding="utf-8")
    return text, re.sub(r"(?m)^#(?=\S)", "", text)


def test_the_starter_is_valid_with_every_example_taken_in(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    _, whole = _starter()
    assert set(KINDS) | set(SOURCES) | set(PIECES) <= set(tomllib.loads(whole))
    monkeypatch.chdir(tmp_path)
    Path("project.toml").write_text(whole, encoding="utf-8")
    code, out, err = run_line("jointcalc check project.toml --json")
    assert (code, err) == (0, "")
    assert {i["status"] for i in json.loads(out)["items"]} == {"ok"}
    assert run_line("jointcalc layout project.toml --item FL --item T1")[0] == 0


def test_every_key_is_in_the_starter() -> None:
    _, whole = _starter()
    for name, record in {**KINDS, **SOURCES, **PIECES}.items():
        fields = load(record.model).model_fields
        # what every item may say is shown at the seam
        shared = {"photo", "reason", "alternatives", "place", "case", "purpose", "coupons", "load_factor"}
        shared |= {"handbook_factor", "title", "id", "load", "scatter", "samples", "cycles"}
        part = whole[whole.index(f"[[{name}]]") :]
        nxt = re.search(r"^\[\[(?!fillet\.)\w+\]\]", part[5:], re.MULTILINE)
        part = part[: nxt.start() + 5] if nxt else part
        missing = [key for key in fields if key not in shared and not re.search(rf"\b{key}\b", part)]
        assert not missing, f"[[{name}]] of the starter does not show {missing}"


@pytest.mark.parametrize("option", ["", " --demo"])
def test_schema_takes_what_we_write(option: str, tmp_path: Path) -> None:
    schema = json.loads(run_line("jointcalc new --schema")[1])
    jsonschema.Draft202012Validator.check_schema(schema)
    validator = jsonschema.Draft202012Validator(schema)
    assert run_line(f"jointcalc new {tmp_path / 'p'}{option}")[0] == 0
    data = tomllib.loads((tmp_path / "p" / "project.toml").read_text(encoding="utf-8"))
    assert [e.message for e in validator.iter_errors(data)] == []
    if not option:
        whole = tomllib.loads(_starter()[1])
        assert [e.message for e in validator.iter_errors(whole)] == []
    data["seam"][0]["pitsch"] = "40 mm"
    assert list(validator.iter_errors(data)), "an unknown key passes the schema"


def test_completion_scripts() -> None:
    """The ways 1-first-check.md says: the shell is told by the environment."""
    import os
    import subprocess
    import sys

    for shell, word in (("bash", "complete -o default"), ("zsh", "#compdef jointcalc"), ("fish", "complete --command")):
        env = {**os.environ, "_JOINTCALC_COMPLETE": f"source_{shell}"}
        done = subprocess.run([sys.executable, "-c", "import sys; sys.argv[0] = 'jointcalc'; "
                               "from jointcalc.cli.main import run; run([])"],
                              capture_output=True, text=True, env=env, check=False)  # fmt: skip
        assert done.returncode == 0, done.stderr
        assert word in done.stdout
        env |= {"_JOINTCALC_COMPLETE": "complete_bash", "COMP_WORDS": "jointcalc se", "COMP_CWORD": "1"}
        done = subprocess.run([sys.executable, "-c", "from jointcalc.cli.main import run; run([])"],
                              capture_output=True, text=True, env=env, check=False)  # fmt: skip
        assert done.stdout.split() == ["seam"]
