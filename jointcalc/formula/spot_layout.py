"""Where spots stand and what they join, by standards and guidelines: pitch, edge, rim, stack.

Numbers of clauses that are rules of thumb and no formulas; the optimum-conditions chart is the table `spot_optimum`.
"""

from __future__ import annotations

from jointcalc.formula.core import Source

EDGE = Source("ISO 14373; guideline on weld rims", "1.25 d; least rim", "from memory", "the 3 mm rim read")
EDGE_PER_D, RIM = 1.25, 3.0
"""Edge distance over spot diameter (ISO 14373, from memory), and the rim beyond the spot [mm] (guideline, read)."""

RATIO = Source("ISO 14373:2024; BS 1140:1993", "scope: 3 to 1", "read")
STEEPEST = 3.0
"""Thickest over thinnest sheet of a stack."""

GUIDELINE = Source("resistance-welding guideline", "at most 4 x the thinnest outside sheet", "read")
STACK_PER_T = 4.0
"""Total stack over the thinnest outside sheet."""
PITCH_PER_T, PITCH_LEAST, THREE_SHEETS = 10.0, 13.0, 1.3
"""Of the same guideline: least pitch over thickness, its least [mm], how much more for three sheets."""
