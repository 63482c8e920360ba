"""Start-up: `jointcalc seam ...` as a whole process against importing the libraries it stands on.

Prints the ratio of medians of one `jointcalc seam` and of `jointcalc check` on 200 seams to
`python -c "import numpy, pint, pydantic, typer, rich"`, all run in turns in the same minute.  Targets: at most 1.2 and
2.0.  Byte code must be cached for either side, so each command runs once before the clock.  Run:
    python tests/bench/bench_startup.py [rounds]
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from statistics import median

ROOT = Path(__file__).resolve().parents[2]
LIBRARIES = ["-c", "import numpy, pint, pydantic, typer, rich"]
SEAM = [
    "-m", "jointcalc", "seam", "--sheet", "1.2 mm", "--sheet", "1.2 mm", "--grade", "DC04", "--weld-diameter", "5.5 mm",
    "--pitch", "40 mm", "--length", "1200 mm", "--edge", "9 mm", "--shear", "12 kN", "--json",
]  # fmt: skip
SEAM_MOST = 1.2
PROJECT_MOST = 2.0
ITEMS = 200


def project_of(count: int) -> str:
    """A project of seams that differ in sheet, pitch and load, about one in ten of three sheets."""
    lines = ['[project]\ntitle = "Bench"\n']
    for name, size, grade in (("floor", "1.2 mm", "DC04"), ("brace", "1.5 mm", "DC04"), ("sill", "1.25 mm", "DX53D+Z")):
        lines.append(f'[sheet.{name}]\nthickness = "{size}"\ngrade = "{grade}"\n')
    pairs = [
        '["floor", "floor"]',
        '["floor", "brace"]',
        '["floor", "sill"]',
        '["brace", "sill"]',
        '["sill", "floor", "brace"]',
    ]
    for n in range(count):
        stack = pairs[4] if n % 10 == 9 else pairs[n % 4]
        lines.append(
            f'[[seam]]\nid = "S{n}"\nsheets = {stack}\nweld_diameter = "{5.5 + n % 3 / 4} mm"\npitch = "{34 + n % 9} mm"\n'
            f'length = "{600 + 7 * n} mm"\nedge = "10 mm"\nshear = "{2 + n % 7} kN"\nacross = "{n % 3} kN"\n'
            f'peel = "{100 * (n % 2)} N"\n'
        )
    return "\n".join(lines)


def seconds(command: list[str]) -> float:
    """Wall time of one run."""
    env = {**os.environ, "PYTHONPATH": str(ROOT)}
    env.pop("PYTHONDONTWRITEBYTECODE", None)
    start = time.perf_counter()
    done = subprocess.run(
        [sys.executable, *command], stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, check=False, env=env, cwd=ROOT
    )
    took = time.perf_counter() - start
    if done.returncode not in (0, 1) or done.stderr:
        raise SystemExit(done.stderr.decode())
    return took


def main() -> None:
    """Run the rounds, print the ratios, fail beyond the targets."""
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else 15
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "project.toml"
        file.write_text(project_of(ITEMS), encoding="utf-8")
        commands = {"libraries": LIBRARIES, "seam": SEAM, "check": ["-m", "jointcalc", "check", str(file)]}
        for command in commands.values():
            seconds(command)
        took: dict[str, list[float]] = {name: [] for name in commands}
        for _ in range(rounds):
            for name, command in commands.items():
                took[name].append(seconds(command))
    base = median(took["libraries"])
    for name, times in took.items():
        print(f"{name:10} median {median(times) * 1e3:6.0f} ms   ratio {median(times) / base:.3f}")
    seam, check = median(took["seam"]) / base, median(took["check"]) / base
    print(f"seam {seam:.3f} (at most {SEAM_MOST}), project of {ITEMS} seams {check:.3f} (at most {PROJECT_MOST})")
    if seam > SEAM_MOST or check > PROJECT_MOST:
        raise SystemExit("slower than its target")


if __name__ == "__main__":
    main()
