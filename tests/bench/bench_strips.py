"""Signature curve of a 40-strip hat at 60 half-wavelengths: the share of the time spent inside LAPACK.

Assembly is that of three small stacks of matrices; everything else ought to be solving and the one eigenvalue.  Both times are of one run, so that the machine's speed drops out; at least 60 % is asked.  Run:
    python tests/bench/bench_strips.py
"""

from __future__ import annotations

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
os.environ.setdefault("OMP_NUM_THREADS", "1")

import sys
import time
from collections.abc import Callable
from typing import Any

import numpy as np

from jointcalc.lapack import lapack
from jointcalc.section.families.hat import Hat
from jointcalc.section.strip_solver import Solver
from jointcalc.section.strips import cut

STRIPS, LENGTHS = 40, 60
LEAST = 0.60


class Clock:
    """Processor time spent in the functions that call LAPACK."""

    def __init__(self) -> None:
        self.spent: dict[str, float] = {}

    def watch(self, place: Any, name: str) -> None:
        """Count the calls of one function."""
        inner: Callable[..., Any] = getattr(place, name)

        def timed(*args: Any, **kwargs: Any) -> Any:
            start = time.process_time()
            try:
                return inner(*args, **kwargs)
            finally:
                self.spent[name] = self.spent.get(name, 0.0) + time.process_time() - start

        setattr(place, name, timed)


def main() -> float:
    """Run, print the share, return it."""
    hat = Hat(top=40.0, depth=30.0, flange=20.0, t=1.2, r=2.0)
    model = next(m for n in range(10, 60) if len((m := cut(hat.outline(), strips=n)).t) >= STRIPS)
    lengths = np.geomspace(15.0, 3000.0, LENGTHS)
    clock = Clock()
    clock.watch(np.linalg, "solve")
    clock.watch(lapack(), "dsygvx")
    shares, walls = [], []
    for _ in range(15):
        clock.spent.clear()
        start = time.process_time()
        Solver(model, model.stress(N=1.0), E=210000.0, nu=0.3).factors(lengths)
        walls.append(time.process_time() - start)
        shares.append(sum(clock.spent.values()) / walls[-1])
    share = float(np.median(shares))
    parts = ", ".join(f"{name} {1e3 * spent:.0f} ms" for name, spent in clock.spent.items())
    print(
        f"{len(model.t)} strips, {LENGTHS} half-wavelengths: {1e3 * min(walls):.0f} ms, of which {share:.0%} in LAPACK "
        f"({parts}); at least {LEAST:.0%} is asked"
    )
    return share


if __name__ == "__main__":
    sys.exit(0 if main() >= LEAST else 1)
