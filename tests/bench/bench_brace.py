"""One million hat candidates against one numpy multiply of two arrays of a million floats.

Processor time of the one core is compared, so that a busy machine does not spoil it.  Prints the ratio; the target is at most 4,000 on one core.  Run:
    python tests/bench/bench_brace.py [candidates]
"""

from __future__ import annotations

import os

os.environ.setdefault("OMP_NUM_THREADS", "1")

import resource
import sys
import time

import numpy as np

from jointcalc.section.batch import evaluate, midspan_deflection
from jointcalc.section.families.hat import Hat


def multiply_time() -> float:
    """Best time [s] of one numpy multiply of two arrays of 1,000,000 floats."""
    rng = np.random.default_rng(1)
    a, b = rng.random(1_000_000), rng.random(1_000_000)
    best = np.inf
    for _ in range(30):
        start = time.process_time()
        a * b
        best = min(best, time.process_time() - start)
    return best


def candidates(count: int) -> Hat:
    """Hats over the range a workshop folds."""
    rng = np.random.default_rng(2)
    t = rng.uniform(0.7, 2.0, count)
    return Hat(
        top=rng.uniform(25, 80, count),
        depth=rng.uniform(15, 60, count),
        flange=rng.uniform(12, 30, count),
        t=t,
        r=t * rng.uniform(1, 2, count),
    )


def main(count: int = 1_000_000) -> float:
    """Run once and print what it took."""
    one = multiply_time()
    hats = candidates(count)
    start = time.process_time()
    answers = evaluate(hats, f_y=355.0)
    midspan_deflection(EI=np.where(answers.valid, answers["EI"], 1.0), span=1000.0, point=750.0)
    taken = time.process_time() - start
    ratio = taken / one * (1_000_000 / count)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(
        f"one multiply {one * 1e3:.3f} ms; {count} hats {taken:.2f} s; ratio {ratio:.0f} (target 4000); peak memory {peak:.0f} MB"
    )
    return ratio


if __name__ == "__main__":
    sys.exit(0 if main(*(int(a) for a in sys.argv[1:])) <= 4000 else 1)
