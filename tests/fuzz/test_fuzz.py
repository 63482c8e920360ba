"""A fixed 500 mutants in the ordinary run; JOINTCALC_FUZZ=20000 for the long one.

The property, not a published value, is what is checked: every mutant ends in exit code 0, 1 or 2;
2 says why on stderr and prints nothing on stdout; 0 and 1 print one finite JSON document; nothing
takes longer than 5 s; what is nonsense for certain is refused.
"""

from __future__ import annotations

import contextlib
import io
import json
import os
import random
from importlib.resources import files
from pathlib import Path

import pytest

from jointcalc.cli.main import _run
from tests.fuzz.mutate import mutate_command, mutate_project

COUNT = int(os.environ.get("JOINTCALC_FUZZ", "500"))
BATCH = 50

COMMANDS: list[list[str]] = [
    ["seam", "--sheet", "1.2 mm", "--sheet", "1.5 mm", "--grade", "DC04", "--weld-diameter", "5.5 mm", "--pitch", "40 mm",
     "--length", "600 mm", "--edge", "9 mm", "--shear", "6 kN", "--across", "1 kN", "--peel", "200 N"],
    ["seam", "--sheet", "18 ga", "--sheet", "18 ga", "--sheet", "16 ga", "--grade", "DX53D+Z", "--weld-diameter", "target",
     "--count", "12", "--length", "20 in", "--edge", "1/2 in", "--shear", "900 lbf", "--compression", "40 MPa"],
]  # fmt: skip
EXTRA = Path(__file__).parent / "commands.txt"
if EXTRA.exists():
    COMMANDS += [line.split("\t") for line in EXTRA.read_text(encoding="utf-8").splitlines() if line and line[0] != "#"]


def ends_well(args: list[str], nonsense: bool, label: str) -> None:
    """Run one command line in this process and hold it to the property."""
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        try:
            code = _run(args)
        except SystemExit as stop:
            code = int(stop.code or 0)
    said = f"{label}\n{args}\ncode {code}\n{err.getvalue()[:2000]}"
    assert code in (0, 1, 2), said
    assert "Traceback" not in err.getvalue(), said
    if code == 2:
        assert not out.getvalue(), f"stdout is not empty: {said}"
        assert err.getvalue().strip(), f"nothing said: {said}"
    else:
        assert not nonsense, f"nonsense was accepted: {said}"
        if "--json" in args:
            json.loads(out.getvalue(), parse_constant=lambda word: pytest.fail(f"{word} in JSON: {said}"))


@pytest.mark.parametrize("batch", range(COUNT // 2 // BATCH))
def test_mutated_projects(batch: int, tmp_path: Path) -> None:
    demo = files("jointcalc.starter").joinpath("demo.toml").read_text(encoding="utf-8")
    starter = files("jointcalc.starter").joinpath("starter.toml").read_text(encoding="utf-8")
    for n in range(BATCH):
        seed = batch * BATCH + n
        rng = random.Random(seed)
        mutant = mutate_project(rng.choice((demo, starter)), rng)
        file = tmp_path / f"p{n}.toml"
        file.write_text(mutant.text, encoding="utf-8", errors="replace")
        ends_well(["check", str(file), "--json"], mutant.nonsense, f"seed {seed}: {mutant.how}")


@pytest.mark.parametrize("batch", range(COUNT // 2 // BATCH))
def test_mutated_commands(batch: int) -> None:
    for n in range(BATCH):
        seed = 1_000_000 + batch * BATCH + n
        rng = random.Random(seed)
        words, nonsense, how = mutate_command(rng.choice(COMMANDS), rng)
        ends_well([*words, "--json"], nonsense, f"seed {seed}: {how}")
