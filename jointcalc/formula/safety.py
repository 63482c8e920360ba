"""Factors of safety: the partial factors of the Eurocodes, and the pair American clauses print beside a strength."""

from __future__ import annotations

from typing import NamedTuple

GAMMA_F = 1.5
"""Partial factor on a service load where the load case states none (EN 1990, the larger of its two)."""
GAMMA_M0 = 1.0
"""Partial factor on yielding, recommended value of EN 1993-1-3, 2(3)."""
GAMMA_M1 = 1.0
"""Partial factor on buckling, recommended value of EN 1993-1-3, 2(3)."""
GAMMA_M_OTHER = 1.1
"""Both of them for stainless steel (EN 1993-1-4, 5.1) and aluminium (EN 1999-1-1, 6.1.3), from memory."""
GAMMA_M2 = 1.25
"""Partial factor on resistance in rupture, recommended value of EN 1993-1-3, 2(3)."""
HANDBOOK_FACTOR = 3.0
"""Our default on a handbook minimum strength: common practice, no source; the builder may state his own."""
LIMIT_LOAD, FITTING = 1.5, 1.15
"""Ultimate over limit load (14 CFR 25.303), and what a fitting is asked on top (25.625)."""


class Safety(NamedTuple):
    """Safety factor Omega (allowable strength design) and resistance factor phi (load and resistance factor design).

    Never apply both to one check.
    """

    Omega: float
    phi: float
