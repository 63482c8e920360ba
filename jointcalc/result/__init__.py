"""What holds, and why: the judged checks of a joint with the working that led to them."""

from jointcalc.result.cautions import Caution, caution, collect
from jointcalc.result.checks import (
    DETAILING,
    GAMMA_F,
    GAMMA_M2,
    HANDBOOK_FACTOR,
    SIDES,
    Amount,
    Check,
    Looked,
    Method,
    Need,
    Result,
    Stated,
    method,
    methods,
    trust,
    uncovered,
)

__all__ = [
    "DETAILING",
    "GAMMA_F",
    "GAMMA_M2",
    "HANDBOOK_FACTOR",
    "SIDES",
    "Amount",
    "Caution",
    "Check",
    "Looked",
    "Method",
    "Need",
    "Result",
    "Stated",
    "caution",
    "collect",
    "method",
    "methods",
    "trust",
    "uncovered",
]
