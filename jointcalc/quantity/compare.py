"""Comparisons with one slack for all of them, so that 3.0 mm typed in inches is still 3.0 mm.

A clause says `t >= 3 mm`; a size that went through inches comes back some 1e-16 of itself short.  Every selector, every
limit of a range and every bound of a model's field compares through these, never bare: the same joint gets the
same answer in either system of units.
"""

from __future__ import annotations

from typing import Any

Value = Any

SLACK = 1e-9
"""Relative slack of every comparison: far above what units cost in rounding, far below what a builder can measure."""


def at_least(value: Value, bound: Value) -> Value:
    """True (or a boolean array) where `value >= bound`, a hair less included."""
    return value >= bound - SLACK * abs(bound)


def at_most(value: Value, bound: Value) -> Value:
    """True (or a boolean array) where `value <= bound`, a hair more included."""
    return value <= bound + SLACK * abs(bound)


def above(value: Value, bound: Value) -> Value:
    """True (or a boolean array) where `value > bound` by more than a hair."""
    return value > bound + SLACK * abs(bound)


def below(value: Value, bound: Value) -> Value:
    """True (or a boolean array) where `value < bound` by more than a hair."""
    return value < bound - SLACK * abs(bound)


def within(value: Value, low: Value, high: Value) -> Value:
    """True (or a boolean array) where `low <= value <= high`, a hair beyond included."""
    return at_least(value, low) & at_most(value, high)
