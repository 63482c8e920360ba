"""Shear flow along the joint of a built-up brace, and what it makes of spots at a pitch."""

from __future__ import annotations

from jointcalc.formula.core import Formula, Names, Source, Value, register

MECHANICS = Source("elementary beam theory", "q = V Q / I", "read", "two published fastener-spacing solutions")

N = Names(
    V=("N", "shear force"),
    Q=("mm^3", "first moment of the attached part about the neutral axis"),
    I=("mm^4", "second moment of area"),
    q=("N/mm", "shear flow through all joints of the attached part"),
    q_line=("N/mm", "shear flow through one line of spots"),
    p=("mm", "pitch"),
)


def shear_flow(*, V: Value, Q: Value, I: Value) -> Value:
    """Shear flow between a part and the rest of the section [N/mm]."""
    return V * Q / I


def load_per_spot(*, q_line: Value, p: Value) -> Value:
    """Load on one spot of a line at a pitch [N]."""
    return q_line * p


SHEAR_FLOW = register(Formula(
    shear_flow, symbol="q", unit="N/mm", title="Shear flow at a joint", source=MECHANICS, names=N))  # fmt: skip
LOAD_PER_SPOT = register(Formula(
    load_per_spot, symbol="F_1", unit="N", title="Load on one spot", source=MECHANICS, names=N))  # fmt: skip
