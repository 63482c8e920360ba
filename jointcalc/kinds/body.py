"""The body as a whole: a box of sheets on two axles."""

from jointcalc.registry import Giver

GIVER = Giver(
    name="body",
    help="The body as a box of sheets on its axles: what its twist and bending put on floor, sills and tunnel.",
    model="jointcalc.model.body:Body",
    checklist="jointcalc.registry:nothing_built",
    gives="jointcalc.loads.body:gives",
)
