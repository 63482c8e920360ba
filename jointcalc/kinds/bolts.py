"""A group of bolts, rivet nuts or rivets."""

from jointcalc.registry import Kind

KIND = Kind(
    name="bolts",
    key="bolts",
    help="Bolts, rivet nuts and blind rivets in sheet, alone or in a group, with plates.",
    model="jointcalc.model.bolts:FastenerGroup",
    check="jointcalc.check.bolts:check_bolts",
    search="jointcalc.explore.bolts:find_bolts",
    thinner="jointcalc.explore.sensitivity:thinner_bolts",
    one_fewer="jointcalc.explore.sensitivity:fastener_fewer",
    alternative="jointcalc.registry:words_only",
    sketch="jointcalc.show.bolts:draw",
    figure="jointcalc.dossier.figures.fasteners:draw_fasteners",
    marking="jointcalc.layout.rows:bolts",
    unmarked="",
    cut="jointcalc.layout.cutlist:count_bolts",
    places="jointcalc.layout.places:bolts",
    checklist="jointcalc.show.checklist_parts:bolts",
    takes="jointcalc.loads.take:bolts",
    together=False,
    directions="jointcalc.check.may_carry:group",
    gives="jointcalc.registry:gives_nothing",
    command="jointcalc.cli.bolts:command",
    loads=("force", "moment"),
    sizes=(),
    effort=8,
    tells_loads=False,
)
