"""Geometry of thin-walled profiles: outlines, properties, families, effective sections, forming."""

from jointcalc.section.families.family import Family
from jointcalc.section.outline import STEEL_DENSITY, Outline
from jointcalc.section.profile import EXAMPLES, FAMILIES, ProfileSpec, parse_profile, parse_spec
from jointcalc.section.properties import Properties
from jointcalc.section.tracer import Tracer

__all__ = [
    "EXAMPLES",
    "FAMILIES",
    "STEEL_DENSITY",
    "Family",
    "Outline",
    "ProfileSpec",
    "Properties",
    "Tracer",
    "parse_profile",
    "parse_spec",
]
