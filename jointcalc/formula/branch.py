"""The comparisons that choose a branch of a clause, with the slack of `jointcalc.quantity.compare`.

`least` and `most` read the ends of a formula's range, so that what is worked out at the edge of it is typed once.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jointcalc.quantity.compare import SLACK, above, at_least, at_most, below

if TYPE_CHECKING:
    from jointcalc.formula.core import Formula


def least(formula: Formula, of: str) -> float:
    """The low end of the limit on `of` (as the limit writes it: "e_1 / d_0").  Raises LookupError when it has none."""
    return _end(formula, of, low=True)


def most(formula: Formula, of: str) -> float:
    """The high end of the limit on `of`.  Raises LookupError when it has none."""
    return _end(formula, of, low=False)


def _end(formula: Formula, of: str, *, low: bool) -> float:
    ends = [one.low if low else one.high for one in formula.limits if one.expression == of]
    found = next((end for end in ends if end is not None), None)
    if found is None:
        raise LookupError(f"{formula.key} has no {'least' if low else 'greatest'} {of}")
    return found


__all__ = ["SLACK", "above", "at_least", "at_most", "below", "least", "most"]
