"""What holds, and why: the judged checks of a joint with the working that led to them."""

from jointcalc.result.cautions import Caution, caution, collect
from jointcalc.result.checks import (
    DETAILING,
    MAY_CARRY,
    SIDES,
    Check,
    Method,
    Need,
    method,
    methods,
    uncovered,
)
from jointcalc.result.results import GRAVEST, Result, Results, Under, trust
from jointcalc.result.trace import Amount, Looked, Stated

__all__ = [
    "DETAILING",
    "GRAVEST",
    "MAY_CARRY",
    "SIDES",
    "Amount",
    "Caution",
    "Check",
    "Looked",
    "Method",
    "Need",
    "Result",
    "Results",
    "Stated",
    "Under",
    "caution",
    "collect",
    "method",
    "methods",
    "trust",
    "uncovered",
]
