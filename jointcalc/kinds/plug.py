"""A row of plug, slot or arc spot welds."""

from jointcalc.registry import Kind

KIND = Kind(
    name="plug",
    key="plug",
    help="Plug (rosette), slot and arc spot welds: hole, pitch, shear and uplift.",
    model="jointcalc.model.plug:PlugRow",
    check="jointcalc.check.plug:check_plug",
    search="jointcalc.explore.plug:find_plug",
    thinner="jointcalc.explore.sensitivity:thinner_plugs",
    one_fewer="jointcalc.explore.sensitivity:row_fewer",
    alternative="jointcalc.registry:words_only",
    sketch="jointcalc.show.plug:draw",
    figure="jointcalc.dossier.figures.rows:draw_plugs",
    marking="jointcalc.layout.rows:plug",
    unmarked="",
    cut="jointcalc.layout.cutlist:count_plug",
    places="jointcalc.layout.places:plug",
    checklist="jointcalc.show.checklist_welds:plug",
    takes="jointcalc.loads.take:plug",
    together=True,
    directions="jointcalc.check.may_carry:plug",
    gives="jointcalc.registry:gives_nothing",
    command="jointcalc.cli.plug:command",
    loads=("shear", "across", "uplift"),
    sizes=("hole", "visible", "interface"),
    effort=2,
    tells_loads=False,
)
