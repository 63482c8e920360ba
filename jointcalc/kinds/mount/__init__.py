"""A thing of some mass on feet: what each foot gets, and the weakest link below."""

from jointcalc.registry import Kind

KIND = Kind(
    name="mount",
    key="mount",
    help="A thing on feet or bolts under a load case: each foot's force, and the chain below it.",
    model="jointcalc.kinds.mount.model:Mount",
    check="jointcalc.kinds.mount.check:check_mount",
    search="jointcalc.kinds.mount.explore:find_mount",
    thinner="jointcalc.kinds.mount.explore:thinner",
    one_fewer="jointcalc.kinds.mount.explore:foot_fewer",
    alternative="jointcalc.registry:words_only",
    sketch="jointcalc.kinds.mount.draw:draw",
    figure="jointcalc.kinds.mount.draw:figure",
    marking="jointcalc.kinds.mount.layout:marking",
    unmarked="it describes no bolts of its own: mark out what carries its feet",
    cut="jointcalc.kinds.mount.layout:count",
    places="jointcalc.kinds.mount.layout:places",
    checklist="jointcalc.kinds.mount.inspect:checklist",
    takes="jointcalc.kinds.mount.model:takes_none",
    together=False,
    directions="jointcalc.registry:no_directions",
    gives="jointcalc.kinds.mount.acting:gives",
    command="jointcalc.kinds.mount.command:command",
    loads=("force", "moment", "mass"),
    sizes=(),
    effort=20,
    tells_loads=True,
)
