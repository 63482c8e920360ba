"""The dossier and the layout of the demo as whole processes against importing the libraries the project stands on.

Prints the ratio of medians, wall and processor time, to `python -c "import numpy, pint, pydantic, typer, rich, pytest"`,
all run in turns in the same minutes; targets: dossier at most 8, layout at most 10.  And how much the greatest memory
of `jointcalc dossier` grows for every further item of a project of seams, braces and fillets; target: 2 MB.  Byte code
must be cached for either side, so each command runs once before the clock.  Run:
    python tests/bench/bench_dossier.py [rounds]
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
LIBRARIES = ["-c", "import numpy, pint, pydantic, typer, rich, pytest"]
MOST = {"dossier": 8.0, "layout": 10.0}
MOST_MEMORY = 2.0
FEW, MANY = 12, 36
SHEETS = """
[project]
title = "Invented floor of many items"

[sheet.floor]
thickness = "1.2 mm"
grade = "DC04"

[sheet.brace]
thickness = "1.5 mm"
grade = "DC04"
"""
KINDS = (
    """
[[seam]]
id = "S{n}"
sheets = ["floor", "brace"]
weld_diameter = "5.5 mm"
pitch = "{pitch} mm"
length = "{length} mm"
edge = "10 mm"
shear = "2 kN"
""",
    """
[[brace]]
id = "B{n}"
profile = "hat:top=50mm,depth={pitch}mm,flange=20mm,t=1.5mm,r=2mm"
grade = "DC04"
span = "{length} mm"
ends = "pinned"
point = "300 N @ 200 mm"
""",
    """
[[fillet]]
id = "W{n}"
lines = ["0 0 0 {pitch} mm", "60 0 60 {pitch} mm"]
leg = "1.2 mm"
sheets = ["floor", "brace"]
filler = "ER70S-6"
joint = "tee"
force = "0 0 -1 kN"
at = "30 0 50 mm"
""",
)


def project_of(count: int) -> str:
    """A project of that many items, in which all differ in size."""
    made = (KINDS[n % 3].format(n=n, pitch=34 + n, length=600 + 7 * n) for n in range(count))
    return SHEETS + "".join(made)


def spent(command: list[str]) -> tuple[float, float, float]:
    """Wall and processor time [s] of one run with its forks, and its greatest memory [MB]."""
    env = {**os.environ, "PYTHONPATH": str(ROOT)}
    env.pop("PYTHONDONTWRITEBYTECODE", None)
    start = time.perf_counter()
    with subprocess.Popen([sys.executable, *command], stdout=subprocess.DEVNULL, env=env, cwd=ROOT) as run:
        _, status, used = os.wait4(run.pid, 0)
        took = time.perf_counter() - start
        run.returncode = os.waitstatus_to_exitcode(status)
    if run.returncode not in (0, 1):
        raise SystemExit(f"{' '.join(command)} ended with {run.returncode}")
    return took, used.ru_utime + used.ru_stime, used.ru_maxrss / 1024


def main(rounds: int) -> None:
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        subprocess.run([sys.executable, "-m", "jointcalc", "new", str(place / "demo"), "--demo"],
                       check=True, stdout=subprocess.DEVNULL, cwd=ROOT)  # fmt: skip
        commands = {
            "libraries": LIBRARIES,
            "dossier": ["-m", "jointcalc", "dossier", str(place / "demo")],
            "layout": ["-m", "jointcalc", "layout", str(place / "demo"), "--out", str(place / "drawn")],
        }
        times: dict[str, list[tuple[float, float, float]]] = {name: [] for name in commands}
        for command in commands.values():
            spent(command)
        for _ in range(rounds):
            for name, command in commands.items():
                times[name].append(spent(command))
        wall, used = ({name: median(one[k] for one in of) for name, of in times.items()} for k in (0, 1))
        for name, most in MOST.items():
            print(
                f"{name}: {wall[name] / wall['libraries']:.1f} x the imports by the clock, "
                f"{used[name] / used['libraries']:.1f} x in processor time (at most {most:g})"
            )
        memory = {}
        for count in (FEW, MANY):
            file = place / f"{count}.toml"
            file.write_text(project_of(count), encoding="utf-8")
            memory[count] = spent(["-m", "jointcalc", "dossier", str(file)])[2]
        each = (memory[MANY] - memory[FEW]) / (MANY - FEW)
        print(
            f"memory: {memory[FEW]:.0f} MB for {FEW} items, {each:.1f} MB for each further one (at most {MOST_MEMORY:g})"
        )


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 5)
