"""How answers read: in the units asked for, within the width there is, and to a reader that goes away."""

from __future__ import annotations

import re
import subprocess
import sys
from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest

from jointcalc.check import check
from jointcalc.marks import unmarked
from jointcalc.model.project import load_project
from jointcalc.quantity.show import System
from jointcalc.result import Result
from jointcalc.show.answer import print_result
from jointcalc.show.terminal import Plain
from tests.docs.blocks import run_line

from .test_seam import CONTRACT, PACKAGE_PLACE, with_

COMMANDS = {
    "seam": (
        'jointcalc seam --sheet "1.2 mm" --sheet "1.2 mm" --grade DC04 --weld-diameter "5.5 mm" --pitch "40 mm" '
        '--length "1200 mm" --edge "9 mm" --shear "12 kN" --cycles 1e6 --peel "100 N" --peel-arm "20 mm"'
    ),
    "brace": (
        'jointcalc brace --profile "hat:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm" --profile '
        '"hat-skin:top=50mm,depth=40mm,flange=25mm,t=1.5mm,r=2mm,skin=120mm,skin_t=1.2mm,weld=10mm" --grade S355MC '
        '--skin-grade DC04 --span "1000 mm" --point "750 N @ 500 mm" --spread "1 N/mm" --held both'
    ),
    "lightest": (
        'jointcalc brace --profile "hat:top=30mm..60mm,depth=20mm..50mm,flange=20mm,t=0.8mm..2mm,r=2mm" --grade S355MC '
        '--span "1000 mm" --point "750 N @ 500 mm" --limit-deflection "3 mm" --find lightest'
    ),
    "panel": (
        'jointcalc panel --size "600 400 mm" --sheet "1.2 mm" --grade DC04 --bead none --bead '
        '"arc:depth=6mm,width=25mm,pitch=75mm" --along short --edges clamped --pressure "0.2 kPa" --patch "300 N"'
    ),
    "fillet": (
        'jointcalc fillet --line "0 0 600 0 mm" --leg "3 mm" --stitch "40 120 mm" --sheet "2 mm" --grade DC01 '
        '--force "3 0 0 kN" --at "300 0 0 mm" --voltage "18 V" --current "130 A" --speed "6 mm/s"'
    ),
    "plug": (
        'jointcalc plug --sheet "1.5 mm" --sheet "2 mm" --grade S355MC --hole "8 mm" --count 6 --length "210 mm" '
        '--edge "14 mm" --filler ER70S-6 --shear "4 kN"'
    ),
    "bolts": (
        'jointcalc bolts --hole "0 0 mm" --bolt "M8 10.9" --sheet "1.2 mm" --grade DC04 --force "0 0 5 kN" '
        '--at "0 0 0 mm" --load-factor 1 --purpose seat --find plate'
    ),
    "demo": "jointcalc check van/project.toml",
    **{f"demo {n}": n for n in ("S1", "S2", "S3", "S4", "B1", "B2", "F1", "W1", "P1", "M1", "bench")},
    "layout": "jointcalc layout van/project.toml --out marking",
}


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("shop")
    assert run_line(f"jointcalc new {folder / 'van'} --demo")[0] == 0
    return folder


class Page(Plain):
    """Lines that are kept instead of printed."""

    def __init__(self, width: int) -> None:
        super().__init__(width)
        self.lines: list[str] = []

    def print(self, text: str = "", style: str | None = None) -> None:
        self.lines.append(unmarked(text))


@pytest.fixture(scope="module")
def judged(shop: Path) -> dict[str, Result]:
    """Every item of the demo by its id, judged once."""
    project = load_project(shop / "van" / "project.toml")
    return {item.id: check(item) for item in project.items}


def page(result: Result, units: System, width: int, *, steps: bool = False) -> list[str]:
    """What `check --item` prints of it."""
    out = Page(width)
    print_result(result, out, system=units, steps=steps, full=True)
    return out.lines


@pytest.fixture(scope="module")
def answer(shop: Path, judged: dict[str, Result]) -> Callable[[str, str], str]:
    """What a command prints in a system of units; each is run once for all that is asked of its words."""

    @cache
    def told(name: str, units: str) -> str:
        if name.startswith("demo "):
            return "\n".join(page(judged[COMMANDS[name]], "inch" if units == "inch" else "metric", 80))
        with pytest.MonkeyPatch.context() as here:
            here.chdir(shop)
            code, out, err = run_line(f"{COMMANDS[name]} --units {units}")
        assert code in (0, 1), err
        return out

    return told


@pytest.mark.parametrize("name", COMMANDS)
def test_inch_answers_hold_no_metric(name: str, answer: Callable[[str, str], str]) -> None:
    out = answer(name, "inch")
    # sources in brackets are quoted as they are; titles are the builder's own words
    text = re.sub(r"\[[^\]]*\]", "", out.replace("\n    ", " "))
    found = re.findall(r".{0,30}[0-9] (?:mm|cm|N|kN|MPa|kPa|kg|g/m|N/mm|N\*mm|kJ/mm)(?![\w-]).{0,10}", text)
    assert not found


METRIC = re.compile(r"[0-9] ?(?:mm|cm|N|kN|MPa|GPa|kPa|kg|g/m|N/mm|N[*·]mm?|kJ/mm)(?![\w-])")


def test_every_item_of_the_demo_in_inches(judged: dict[str, Result]) -> None:
    assert {COMMANDS[name] for name in COMMANDS if name.startswith("demo ")} == set(judged)
    for name, result in judged.items():
        lines = page(result, "inch", 100_000, steps=True)
        start = next(n for n, line in enumerate(lines) if line.startswith("Working"))
        # the formulas of a working are in N, mm, MPa and say so; its headings and all else are in inches
        told = [line for n, line in enumerate(lines) if n < start or not line.startswith("  ")]
        assert len(told) > 20, name
        for line in told:
            # sources stand in brackets as they are published, ids and titles are the builder's own words
            words = re.sub(r"\[[^\]]*\]", "", line)
            assert not METRIC.search(words), f"{name}: {words}"
        values = [line for line in lines[start:] if re.match(r"  \S+ = .*[0-9] (?:mm|N|MPa|N\*mm)$", line)]
        assert not values, "a value is not followed by its inch units"


@pytest.mark.parametrize("units", ["metric", "inch"])
@pytest.mark.parametrize("name", COMMANDS)
def test_80_columns_are_enough(name: str, units: str, answer: Callable[[str, str], str]) -> None:
    out = answer(name, units)
    assert [line for line in out.splitlines() if len(line) > 80] == []
    assert not re.search(r"[a-z]:  +\S", out), "two blanks after a colon"


def test_no_amount_is_cut() -> None:
    out = run_line(COMMANDS["seam"] + " --full")[1]
    assert re.search(r"spot life [0-9.e ]+ cycles", " ".join(out.split())), out
    assert re.search(r"Structural stress of .* [0-9.]+ MPa +[0-9.]+ MPa", out), out
    assert "…" not in out


def test_40_columns_hold_the_figures() -> None:
    shown = subprocess.run(
        [sys.executable, "-m", "jointcalc", *CONTRACT], capture_output=True, text=True, check=False,
        env={"COLUMNS": "40", "PATH": "/usr/bin", "PYTHONPATH": str(PACKAGE_PLACE)},
    )  # fmt: skip
    assert shown.returncode == 0, shown.stderr
    assert "Least shear-tension strength\n    2563 N  400 N   6.40  1.88  30 %\n" in shown.stdout
    assert [line for line in shown.stdout.splitlines() if len(line) > 40] == []


@pytest.mark.parametrize(("shear", "code"), [("12 kN", 0), ("120 kN", 1)])
def test_a_reader_that_goes_away_leaves_the_verdict(shear: str, code: int) -> None:
    argv = with_(CONTRACT, shear=shear)
    with subprocess.Popen(
        [sys.executable, "-m", "jointcalc", *argv], stdout=subprocess.PIPE, stderr=subprocess.PIPE, cwd=PACKAGE_PLACE
    ) as run:
        assert run.stdout is not None
        assert run.stderr is not None
        run.stdout.close()
        told = run.stderr.read()
        assert run.wait() == code
    assert told == b""


def test_a_full_disk_is_told() -> None:
    if not Path("/dev/full").exists():
        return
    with Path("/dev/full").open("wb") as full:
        run = subprocess.run(
            [sys.executable, "-m", "jointcalc", *CONTRACT], stdout=full, stderr=subprocess.PIPE, cwd=PACKAGE_PLACE,
            check=False,
        )  # fmt: skip
    assert run.returncode == 2
    assert run.stderr.decode() == "jointcalc: the answer: cannot be written: No space left on device\n"


def test_a_terminal_without_the_letters_still_gets_the_answer() -> None:
    brace = [
        "brace",
        "--profile",
        "tube:od=38mm,t=2mm",
        "--grade",
        "S355MC",
        "--span",
        "800 mm",
        "--point",
        "500 N @ 400 mm",
    ]
    run = subprocess.run(
        [sys.executable, "-m", "jointcalc", *brace], capture_output=True, check=False,
        env={"PATH": "/usr/bin", "PYTHONPATH": str(PACKAGE_PLACE), "PYTHONIOENCODING": "ascii"},
    )  # fmt: skip
    assert run.stderr == b""
    assert b"safety factor" in run.stdout.decode("ascii").encode()


def test_a_summary_says_why_the_worst_first(tmp_path: Path) -> None:
    project = tmp_path / "over.toml"
    project.write_text(
        """
[project]
title = "Over"

[[seam]]
id = "S1"
sheets = [{thickness = "1.2 mm", grade = "DC04"}, {thickness = "1.2 mm", grade = "DC04"}]
weld_diameter = "5.5 mm"
pitch = "40 mm"
length = "1200 mm"
edge = "9 mm"
shear = "200 kN"
""",
        encoding="utf-8",
    )
    code, out, _ = run_line(f"jointcalc check {project}")
    assert code == 1
    told = re.search(r"^S1  OVER (.*?)\n\n", out, re.MULTILINE | re.DOTALL)
    assert told is not None, out
    shares = [int(share) for share in re.findall(r"([0-9]+) %", told[1])]
    assert len(shares) == 4  # what governs, and three more
    assert shares == sorted(shares, reverse=True)
    full = run_line(f"jointcalc check {project} --item S1")[1]
    worst = re.search(r"\(([0-9]+) % used\)", full)
    assert worst is not None
    assert shares[0] == int(worst[1])
    assert re.search(r"and [0-9]+ more", told[1])


@pytest.mark.parametrize("table", ["mount_plates", "materials", "spot_optimum"])
def test_tables_fit_and_nothing_is_cut(table: str) -> None:
    from jointcalc.tables.store import load

    out = run_line(f"jointcalc tables show {table}")[1]
    assert [line for line in out.splitlines() if len(line) > 80] == []
    assert "…" not in out
    told = " ".join(out.split())
    for row in load(table).rows:
        for cell in row.values():
            assert " ".join(cell.split()) in told


def test_help_speaks_the_builders_words() -> None:
    for command in ("seam", "bolts", "check", "dossier", "layout"):
        out = run_line(f"jointcalc {command} --help")[1]
        assert not re.search(r"<(?:str|list|int|float)", out)
    assert "--count <count>" in run_line("jointcalc seam --help")[1]
    assert "--sheet <text>..." in run_line("jointcalc seam --help")[1]
