"""Temporary tubes that hold the body while a sheet is out."""

from jointcalc.registry import Giver

GIVER = Giver(
    name="bracing",
    help="Temporary tubes in place of a sheet of the body: what each carries, by stiffness.",
    model="jointcalc.model.body:Bracing",
    checklist="jointcalc.registry:nothing_built",
    gives="jointcalc.loads.bracing:gives",
)
