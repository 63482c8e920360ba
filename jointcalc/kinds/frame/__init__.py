"""A floor frame: rails, braces and cross members that share loads by their stiffness."""

from jointcalc.registry import Giver

GIVER = Giver(
    name="frame",
    help="Rails, braces and cross members of a floor that share loads by stiffness: what each member and joint gets.",
    model="jointcalc.kinds.frame.model:Frame",
    checklist="jointcalc.kinds.frame.inspect:checklist",
    gives="jointcalc.kinds.frame.giving:gives",
    sheet="jointcalc.kinds.frame.draw:sheet",
)
