"""Cost of the instantaneous centre against one vectorised residual evaluation of the same group.

Run: `python tests/bench/bench_group.py [number of random groups]`.  Every group has 2,000 elements and is
solved to 1e-10 or better; the ratio must stay at or below 60.
"""

from __future__ import annotations

import math
import sys
import time
from collections.abc import Callable

import numpy as np

from jointcalc.statics.group_common import Load
from jointcalc.statics.rotation_centre import TOLERANCE
from jointcalc.statics.weld_group import WeldGroup

ELEMENTS = 2000
F_EXX = 482.6


def least(run: Callable[[], object], times: int) -> float:
    """Least wall time of `times` runs [s]."""
    spent = []
    for _ in range(times):
        start = time.perf_counter()
        run()
        spent.append(time.perf_counter() - start)
    return min(spent)


def ratio(group: WeldGroup, load: Load) -> tuple[float, float, int]:
    """(wall time over that of one evaluation, time of one evaluation [µs], evaluations used)."""
    elements = group.elements(ELEMENTS)
    problem = elements.problem(load, F_EXX)
    state = problem.movement(problem.load)
    one = least(lambda: problem.movement(state.q, -1, state), 30)
    found = elements.problem(load, F_EXX).solve()
    if found.residual > TOLERANCE:
        raise SystemExit(f"not converged: residual {found.residual:.1e}")
    whole = least(lambda: elements.problem(load, F_EXX).solve(), 25)
    return whole / one, one * 1e6, found.evaluations


def main() -> None:
    """Print the ratio of named groups, then the spread over random ones."""
    along = math.radians(79.0)
    named = {
        "C-shape, load off its axis": (
            [[0, 0, 56, 0], [0, 0, 0, 190], [0, 190, 56, 190]],
            Load.at((3e3, -1e4, 0), (156, 95, 0)),
        ),
        "three lines, no symmetry": (
            [[0, 0, 80, 10], [5, 60, 40, 190], [-50, 90, 30, 200]],
            Load.at((4e3, -1e4, 0), (150, 20, 0)),
        ),
        "crossed lines, pure moment": ([[-100, 0, 100, 0], [0, -100, 0, 100]], Load(M_z=1e6)),
        "one line, nearly concentric": (
            [[-100, 0, 100, 0]],
            Load(F_x=math.cos(along), F_y=math.sin(along), M_z=0.01),
        ),
    }
    for name, (lines, load) in named.items():
        times, one, used = ratio(WeldGroup.of(lines, leg=6.0), load)
        print(f"{name:30s} {times:6.1f} x one evaluation ({one:.0f} us), {used} evaluations")
    rng = np.random.default_rng(1)
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 100
    spread = []
    for _ in range(count):
        group = WeldGroup.of(rng.uniform(-200.0, 200.0, (int(rng.integers(1, 8)), 4)), leg=6.0)
        turn, centre = rng.uniform(0.0, 2.0 * math.pi), group.sections()
        c, s = math.cos(turn), math.sin(turn)
        arm = 10.0 ** rng.uniform(-2.0, 4.0)
        load = Load(F_x=c, F_y=s, M_z=centre.x * s - centre.y * c + arm)
        spread.append(ratio(group, load)[0])
    low, high = np.percentile(spread, [50, 99])
    print(f"{count} random groups: median {low:.1f}, 99 % below {high:.1f}, highest {max(spread):.1f}; allowed 60")


if __name__ == "__main__":
    main()
