"""The demo's floor field, `jointcalc panel` as a whole process, against importing the libraries it stands on.

Prints the ratio of medians to `python -c "import numpy, pint, pydantic, typer, rich"`, run in turns in the same minute,
so that the machine's speed drops out; at most 25 is asked.  One thread for either.  Run:
    python tests/bench/bench_panel.py [rounds]
"""

from __future__ import annotations

import os
import sys
from statistics import median

from bench_startup import LIBRARIES, seconds

FIELD = [
    "-m", "jointcalc", "panel", "--size", "1120 400 mm", "--sheet", "1.2 mm", "--grade", "DC04",
    "--bead", "arc:depth=6mm,width=25mm,pitch=60mm", "--along", "short", "--edges", "clamped", "--pressure", "3 kPa",
    "--limit-frequency", "40 Hz",
]  # fmt: skip
MOST = 25.0


def main() -> float:
    """Run the rounds, print the ratio, return it."""
    for name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS"):
        os.environ.setdefault(name, "1")
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else 5
    commands = {"libraries": LIBRARIES, "panel": FIELD}
    for command in commands.values():
        seconds(command)  # byte code is cached for either
    took: dict[str, list[float]] = {name: [] for name in commands}
    for _ in range(rounds):
        for name, command in commands.items():
            took[name].append(seconds(command))
    ratio = median(took["panel"]) / median(took["libraries"])
    for name, times in took.items():
        print(f"{name:10} median {median(times) * 1e3:6.0f} ms")
    print(f"panel {ratio:.1f} (at most {MOST:g})")
    return ratio


if __name__ == "__main__":
    sys.exit(0 if main() <= MOST else 1)
