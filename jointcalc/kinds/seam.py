"""A row of spot welds."""

from jointcalc.registry import Kind

KIND = Kind(
    name="seam",
    key="spot_seam",
    help="Spot-welded seam: does this pitch, sheet and spot carry the load?",
    model="jointcalc.model.seam:SpotSeam",
    check="jointcalc.check.seam:check_seam",
    search="jointcalc.explore.seam:find_seam",
    thinner="jointcalc.explore.sensitivity:thinner_joint",
    one_fewer="jointcalc.explore.sensitivity:row_fewer",
    alternative="jointcalc.registry:words_only",
    sketch="jointcalc.show.seam:draw",
    figure="jointcalc.dossier.figures.rows:draw_seam",
    marking="jointcalc.layout.rows:seam",
    unmarked="",
    cut="jointcalc.layout.cutlist:count_seam",
    places="jointcalc.layout.places:seam",
    checklist="jointcalc.show.checklist_welds:seam",
    takes="jointcalc.loads.take:seam",
    together=True,
    directions="jointcalc.check.may_carry:seam",
    gives="jointcalc.registry:gives_nothing",
    command="jointcalc.cli.seam:command",
    loads=("shear", "across", "peel", "moment", "compression"),
    sizes=("weld_diameter",),
    effort=1,
    tells_loads=False,
)
