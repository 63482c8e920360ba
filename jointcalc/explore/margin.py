"""How much is left in what a search found, in words."""

from __future__ import annotations

from math import floor

from jointcalc.result import Check


def margin(worst: Check) -> str:
    """`margin 27 %, governed by KEY`: the load could grow by that much; rounded down, and 0 when nothing is left."""
    left = max(0.0, 1 / worst.utilisation - 1) if worst.utilisation else 0.0
    return f"margin {floor(100 * left + 1e-9)} %, governed by {worst.key}"
