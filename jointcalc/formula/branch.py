"""The comparisons that choose a branch of a clause, with the slack of `jointcalc.quantity.compare`."""

from jointcalc.quantity.compare import SLACK, above, at_least, at_most, below

__all__ = ["SLACK", "above", "at_least", "at_most", "below"]
