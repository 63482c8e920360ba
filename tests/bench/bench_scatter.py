"""Ten million samples of a seam with four modes, against drawing the numbers alone; and the memory it takes.

Run: `python tests/bench/bench_scatter.py [samples]`.  The ratio of processor time must stay at or below 4, the memory
under 500 MB.
"""

from __future__ import annotations

import resource
import sys
import time

import numpy as np

from jointcalc.explore.reliability import PIECE
from jointcalc.explore.scatter import scatter
from jointcalc.model.seam import SpotSeam


def drawing(samples: int, variables: int) -> float:
    """Processor time of drawing as many standard normal numbers in the same pieces [s]."""
    random = np.random.Generator(np.random.PCG64(1))
    start = time.process_time()
    for at in range(0, samples, PIECE):
        for _ in range(variables):
            random.standard_normal(min(PIECE, samples - at))
    return time.process_time() - start


def main() -> None:
    """Print the ratio and the memory."""
    samples = int(sys.argv[1]) if len(sys.argv) > 1 else 10_000_000
    seam = SpotSeam(
        sheets=({"thickness": "1.2 mm", "grade": "DC04"}, {"thickness": "2.0 mm", "grade": "S355MC"}),
        weld_diameter="5.5 mm", pitch="40 mm", length="1200 mm", edge="9 mm", shear="60 kN",
    )  # fmt: skip
    start = time.process_time()
    found = scatter(seam, samples=samples, by=("en1993-1-3",))
    spent = time.process_time() - start
    alone = drawing(samples, len(found.spreads))
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"{samples} samples, worked in {found.way}: {spent / alone:.2f} x drawing alone (limit 4), {memory:.0f} MB")
    print(f"fell short: {found.counted.short}, between {found.counted.interval}")


if __name__ == "__main__":
    main()
