"""A group of arc welds along lines."""

from jointcalc.registry import Kind

KIND = Kind(
    name="fillet",
    key="fillet",
    help="Arc welds along lines: fillets, flare and butt welds, single or as a group.",
    model="jointcalc.model.fillet:FilletGroup",
    check="jointcalc.check.fillet:check_fillet",
    search="jointcalc.explore.fillet:find_fillet",
    thinner="jointcalc.explore.sensitivity:thinner_fillet",
    one_fewer="jointcalc.explore.sensitivity:weld_fewer",
    alternative="jointcalc.registry:words_only",
    sketch="jointcalc.show.fillet:draw",
    figure="jointcalc.dossier.figures.groups:draw_welds",
    marking="jointcalc.layout.rows:fillet",
    unmarked="",
    cut="jointcalc.layout.cutlist:count_fillet",
    places="jointcalc.layout.places:fillet",
    checklist="jointcalc.show.checklist_welds:fillet",
    takes="jointcalc.loads.take:fillet",
    together=False,
    directions="jointcalc.check.may_carry:group",
    gives="jointcalc.registry:gives_nothing",
    command="jointcalc.cli.fillet:command",
    loads=("force", "moment"),
    sizes=("leg", "throat"),
    effort=6,
    tells_loads=False,
)
