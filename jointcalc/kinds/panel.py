"""A flat or beaded panel."""

from jointcalc.registry import Kind

KIND = Kind(
    name="panel",
    key="panel",
    help="Flat and beaded panels compared: stiffness, stress, the bead's strain.",
    model="jointcalc.model.panel:Panel",
    check="jointcalc.check.panel:check_panel",
    search="jointcalc.explore.panel:find_panel",
    thinner="jointcalc.explore.sensitivity:thinner_panel",
    one_fewer="jointcalc.registry:nothing_fewer",
    alternative="jointcalc.explore.alternatives:other_bead",
    sketch="jointcalc.show.panel:draw",
    figure="jointcalc.dossier.figures.panels:draw_panel",
    marking="jointcalc.layout.parts:panel",
    unmarked="a flat panel has nothing to mark but its outline; list its sheet as a [[part]]",
    cut="jointcalc.layout.cutlist:count_panel",
    places="jointcalc.layout.places:panel",
    checklist="jointcalc.show.checklist_parts:panel",
    takes="jointcalc.loads.take:panel",
    together=True,
    directions="jointcalc.registry:no_directions",
    gives="jointcalc.registry:gives_nothing",
    command="jointcalc.cli.panel:command",
    loads=("pressure", "patch", "shear", "compression"),
    sizes=(),
    effort=200,
    tells_loads=False,
)
