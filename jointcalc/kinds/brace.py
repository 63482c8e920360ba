"""A brace: a folded or bought section under bending and thrust."""

from jointcalc.registry import Kind

KIND = Kind(
    name="brace",
    key="brace",
    help="Braces of folded profiles compared: stiffness, strength, mass; the lightest.",
    model="jointcalc.model.brace:Brace",
    check="jointcalc.check.brace:check_brace",
    search="jointcalc.explore.brace:find_brace",
    thinner="jointcalc.explore.sensitivity:thinner_brace",
    one_fewer="jointcalc.explore.sensitivity:spot_fewer",
    alternative="jointcalc.explore.alternatives:other_profile",
    sketch="jointcalc.show.brace:draw",
    figure="jointcalc.dossier.figures.beams:draw_brace",
    marking="jointcalc.layout.blanks:brace",
    unmarked="a bought section is cut to length only; it is in the cut list",
    cut="jointcalc.layout.cutlist:count_brace",
    places="jointcalc.layout.places:brace",
    checklist="jointcalc.show.checklist_parts:brace",
    takes="jointcalc.loads.take:brace",
    together=True,
    directions="jointcalc.registry:no_directions",
    gives="jointcalc.registry:gives_nothing",
    command="jointcalc.cli.brace:command",
    loads=("point", "spread", "moment", "torque", "aside", "compression", "tension"),
    sizes=(),
    effort=20,
    tells_loads=False,
)
