"""Quantities with units: read from a builder's text, printed back in metric or inch.

pint's own text parser reads `1,2 mm` as 12 mm and `1 1/2 in` as half an inch, so the text of a
builder goes through a strict grammar of our own: the whole text must match, the unit must belong to
the kind asked for, and whatever is refused is refused with why, what and an example.
"""

from jointcalc.quantity.parse import Gauge, parse, parse_list, parse_thickness
from jointcalc.quantity.show import System, show, show_in
from jointcalc.quantity.units import GRAVITY, KINDS, Kind

__all__ = [
    "GRAVITY",
    "KINDS",
    "Gauge",
    "Kind",
    "System",
    "parse",
    "parse_list",
    "parse_thickness",
    "show",
    "show_in",
]
