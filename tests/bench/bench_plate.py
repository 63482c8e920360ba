"""Cost of a clamped flat panel by formulas against one multiply of a million numbers.

Run: `python tests/bench/bench_plate.py`.  Deflection, moments and the stretched deflection of one panel under pressure
must stay at or below 20 multiplies; what the first call of a process builds for good (the integrals of the functions)
is printed beside it.
"""

from __future__ import annotations

import numpy as np
from bench_group import least

from jointcalc.statics.plate import _unit_direction, flat, membrane_stiffened, solve


def panel(a: float, b: float, t: float, pressure: float) -> tuple[float, float, float]:
    """Linear and stretched deflection [mm] and the greatest moment per width [N] of a clamped flat panel."""
    rigidity, membrane = flat(210_000.0, 0.3, t)
    plate = solve(a, b, rigidity, "clamped", pressure=pressure)
    w = plate.deflection_max()[0]
    stretched = membrane_stiffened(a, b, membrane, "clamped", w, pressure=pressure, held=True)
    return w, stretched, max(abs(M) for M in plate.moment_max())


def main() -> None:
    """Print the ratio for panels of several shapes."""
    numbers = np.random.default_rng(1).random(1_000_000)
    one = least(lambda: numbers * numbers, 200)
    _unit_direction.cache_clear()
    first = least(lambda: panel(600.0, 400.0, 1.0, 1e-3), 1)
    print(
        f"a multiply of a million numbers: {one * 1e3:.2f} ms; first panel of a process: {first / one:.0f} multiplies"
    )
    for a, b in ((400.0, 400.0), (600.0, 400.0), (1120.0, 400.0), (400.0, 900.0)):
        spent = least(lambda a=a, b=b: panel(a, b, 1.2, 1e-3), 100)  # type: ignore[misc]
        print(f"{a:g} x {b:g} mm: {spent / one:.1f} multiplies; allowed 20")


if __name__ == "__main__":
    main()
