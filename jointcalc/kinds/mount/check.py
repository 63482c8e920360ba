"""A thing on its feet: equilibrium in every case and direction, then what holds the worst foot, link by link.

The mount itself says whether a resting thing tips or slides.  What its feet hang on is judged by the kinds that judge
it: the bolts it describes, foot by foot under every load, or the items of its project, whose results stand in the
chain.  Without a link below the feet there are forces and no verdict.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from math import isfinite

import numpy as np

from jointcalc.check.bolts import check_bolts
from jointcalc.check.bolts_notes import plates_overlap
from jointcalc.check.common import LOAD_ALONE
from jointcalc.errors import InputError
from jointcalc.formula.core import Source
from jointcalc.kinds.mount.acting import GIVEN, Acting, acting, name_of, of_feet, parts, said_of_foot, tipped
from jointcalc.kinds.mount.chain import LINK, links_of, nothing_below
from jointcalc.kinds.mount.model import Mount
from jointcalc.model.fields import PURPOSES
from jointcalc.model.given import Given, Standing, Station
from jointcalc.quantity.sentence import Measure, joined, mm
from jointcalc.quantity.show import figures, percent
from jointcalc.result import GRAVEST, Amount, Check, Result, Stated, Under, caution, collect, method
from jointcalc.result.cautions import Caution

STATICS = "statics of a rigid thing"
TIPPING = method(
    "statics.tipping",
    "Tips over",
    Source(STATICS, "the press within the outline of the feet", "derivation"),
    per="group",
    basis="multiple of what tilts it at which it tips",
    factor=LOAD_ALONE,
)
SLIDING = method(
    "statics.sliding",
    "Slides on its feet",
    Source("Coulomb friction", "foot by foot, shared by the press", "derivation"),
    per="fastener",
    basis="friction under the press",
    factor=LOAD_ALONE,
)


@dataclass(frozen=True, slots=True)
class Foot:
    """The bolts of one foot judged under one load."""

    n: int
    act: Acting
    result: Result

    @property
    def order(self) -> tuple[int, float]:
        """What sorts the worst first."""
        worst = self.result.worst
        used = 0.0 if worst is None else float("inf") if worst.utilisation is None else worst.utilisation
        return (GRAVEST[self.result.status], used)


def check_mount(mount: Mount) -> Result:
    """Judge a thing on its feet; raises InputError for what cannot stand or lacks data (see `acting`).

    `foot_N_x`, `foot_N_y`, `foot_N_z` [N] are the forces on the structure under the load that governs, `foot_N_pull`,
    `foot_N_press`, `foot_N_shear` the largest under any; `equilibrium_residual` is the error of the worst equilibrium,
    relative to its load; `tips_at` the least multiple of what tilts a resting thing at which it tips.
    """
    acts = acting(mount)
    standing = [act for act in acts if act.stands]
    feet = _judged(mount, standing) if mount.fastened else []
    worst = max(feet, key=lambda one: one.order, default=None)
    resting, left = _resting(mount, acts)
    links, beneath, below = links_of(mount)
    reached = {id(act): _reached(mount, act, below) for act in acts}
    governs = _governing(acts, worst, reached)
    checks = [*resting, *_worst_of_each(feet), *links]
    unjudged = [*left, *_unjudged(feet), *_lasting(mount, feet), *beneath, *_idle(mount, acts)]
    if not (feet or links) and len(standing) == len(acts):
        unjudged.append(nothing_below(mount))
    return Result(
        kind=mount.kind,
        id=mount.id,
        title=mount.title,
        checks=tuple(checks),
        values=_values(mount, acts, governs, worst),
        cautions=_cautions(mount, acts, feet, checks),
        unjudged=tuple(dict.fromkeys(unjudged)),
        about=_about(mount, acts, worst),
        model=mount,
        loads=_loads(mount, acts, governs, feet, reached),
    )


# --- the bolts of the feet ----------------------------------------------------------------------------------


def _judged(mount: Mount, acts: Iterable[Acting]) -> list[Foot]:
    """The bolts of every foot under every load, like ones judged once."""
    known: dict[tuple[object, ...], Result] = {}
    found = []
    for act in acts:
        for n, force in enumerate(act.force):
            if not force.any():
                continue
            local = mount.local(force)
            key = (*(float(f"{v:.9g}") for v in local), act.load_factor, act.case.purpose)
            if key not in known:
                try:
                    known[key] = check_bolts(mount.group(n, local, act.load_factor, act.case.purpose))
                except InputError as error:
                    raise error.at(where=f"foot {n + 1}, under {act.under}") from error
            found.append(Foot(n, act, known[key]))
    return found


def _worst_of_each(feet: Iterable[Foot]) -> list[Check]:
    """Each check at the foot and under the load where it is worst: every link of the chain shows its own worst."""
    found: dict[str, tuple[tuple[int, float], Foot, Check]] = {}
    for foot in feet:
        for check in foot.result.checks:
            order = _order(check)
            held = found.get(check.key)
            if held is None or order > held[0]:
                found[check.key] = (order, foot, check)
    return [_traced(foot, check) for _, foot, check in found.values()]


def _order(check: Check) -> tuple[int, float]:
    """What sorts the worst of one method's checks last: over, then judged with a load, then outside its range."""
    loaded = check.demand is not None and bool(check.demand.value)
    used = check.utilisation if check.utilisation is not None else float("inf") if check.status == "over" else 0.0
    if check.status == "info":
        return (1, check.demand.value or 0.0) if check.demand is not None else (0, 0.0)
    return ({"over": 4, "ok": 3 if loaded else 1, "outside": 2}[check.status], used)


def _traced(foot: Foot, check: Check) -> Check:
    """A check with the foot's force and its source before its working."""
    if check.status == "outside" or not check.trace:
        return check
    trace = [
        Stated(
            f"F_{axis}", "N", float(v), f"foot {foot.n + 1} on the structure, under {foot.act.under}",
            foot.act.case.source, foot.act.case.status,
        )
        for axis, v in zip("xyz", foot.act.force[foot.n])
        if v
    ]  # fmt: skip
    note = joined("; ", [part for part in (f"foot {foot.n + 1}, under {foot.act.under}", check.note) if part])
    return replace(check, trace=(*trace, *check.trace), note=note)


def _unjudged(feet: Iterable[Foot]) -> list[str]:
    """What no method covers at any foot under any load, each sentence once with the first foot it is said of."""
    found: dict[str, Foot] = {}
    for one in feet:
        for text in one.result.unjudged:
            found.setdefault(text, one)
    return [f"{text} (foot {one.n + 1}, under {one.act.under})" for text, one in found.items()]


def _lasting(mount: Mount, feet: Iterable[Foot]) -> list[str]:
    """Load changes that a case asks of the bolts of the feet; the mount's own are told as those of any item."""
    if mount.cycles is not None:
        return []
    asked = {one.act.case.id: one.act.case.cycles for one in feet if one.act.case.cycles is not None}
    return [
        f"no method judges whether the bolts of the feet last {figures(many)} load changes of {case}"
        for case, many in asked.items()
    ]


def _idle(mount: Mount, acts: Iterable[Acting]) -> list[str]:
    """A mass that nothing accelerates: its weight is in no load."""
    if mount.mass is None or mount.acceleration is not None:
        return []
    if any(any(field.acceleration) for act in acts for field in act.case.fields):
        return []
    return [
        "its mass loads nothing, for nothing says what it feels: give 'acceleration', '0 0 -1 g' where it only stands, "
        "or a case; or leave the mass out"
    ]


# --- feet that only rest ------------------------------------------------------------------------------------


def _resting(mount: Mount, acts: Iterable[Acting]) -> tuple[list[Check], list[str]]:
    """Whether a resting thing tips or slides, under the worst load for each."""
    if not mount.resting:
        return [], []
    acts = list(acts)
    left: list[str] = []
    worst = max(acts, key=lambda a: a.load_factor / a.tips if a.tips else float("inf"))
    note = "" if worst.stands else tipped(worst)
    if np.isinf(worst.tips):
        checks = [TIPPING.info(note="nothing tilts it", unit="1")]
    else:
        trace = [Stated("λ", "1", worst.tips, f"under {worst.under}", worst.case.source, worst.case.status)]
        checks = [
            TIPPING.judge(
                capacity=worst.tips, demand=1.0, load_factor=worst.load_factor, unit="1", trace=trace, note=note
            )
        ]
    pushed = [(a, n) for a in acts if a.stands for n in range(len(mount.feet)) if parts(mount, a.force[n])[1] > 0]
    if not pushed or mount.located:
        return checks, left
    if mount.friction is None:
        act, n = pushed[0]
        left.append(
            f"nothing says what holds the resting feet sideways ({said_of_foot(mount, act.force[n])}, foot {n + 1}, "
            f"under {act.under}): say 'located' or give the 'friction'"
        )
        return checks, left

    def used(one: tuple[Acting, int]) -> float:
        off, along = parts(mount, one[0].force[one[1]])
        return one[0].load_factor * along / -off if off < 0 else float("inf")

    act, n = max(pushed, key=used)
    off, along = parts(mount, act.force[n])
    trace = [
        Stated("μ", "1", mount.friction, "friction of the feet, as given"),
        Stated("N", "N", -off, f"press of foot {n + 1}, under {act.under}", act.case.source, act.case.status),
    ]
    checks.append(
        SLIDING.judge(
            capacity=mount.friction * max(-off, 0.0), demand=along, load_factor=act.load_factor, trace=trace,
            note=f"foot {n + 1}, under {act.under}",
        )
    )  # fmt: skip
    return checks, left


# --- values and words -----------------------------------------------------------------------------------------


def _reached(mount: Mount, act: Acting, below: Iterable[Result]) -> Under | None:
    """The worst that this load alone does to the items below that take it from the mount; None where none does."""
    found = [
        one
        for result in below
        for one in result.loads
        if one.utilisation is not None
        and any((g.giver, g.case, g.direction) == (mount.id, act.case.id, act.direction) for g in one.standing.given)
    ]
    return max(found, key=lambda one: (GRAVEST[one.status], one.utilisation), default=None)


def _governing(acts: Iterable[Acting], worst: Foot | None, reached: Mapping[int, Under | None]) -> Acting:
    """The load whose forces are the result's: that of the worst foot or link, else that of the largest force."""
    acts = list(acts)
    if worst is not None:
        return worst.act
    linked = [(one.utilisation or 0.0, act) for act in acts if (one := reached[id(act)]) is not None]
    if linked:
        return max(linked, key=lambda one: one[0])[1]
    tips = [act for act in acts if not act.stands]
    if tips:
        return min(tips, key=lambda a: a.tips)
    return max(acts, key=lambda a: float(np.abs(np.nan_to_num(a.force)).max()))


def _values(mount: Mount, acts: tuple[Acting, ...], governs: Acting, worst: Foot | None) -> dict[str, Amount]:
    values: dict[str, Amount] = {}
    for n in range(len(mount.feet)):
        for axis, v in zip("xyz", governs.force[n]):
            values[f"foot_{n + 1}_{axis}"] = Amount(float(v) + 0.0, "N")
    if len(acts) > 1:
        for n in range(len(mount.feet)):
            sizes = [parts(mount, act.force[n]) for act in acts if act.stands]
            values[f"foot_{n + 1}_pull"] = Amount(max([0.0, *(off for off, _ in sizes)]), "N")
            values[f"foot_{n + 1}_press"] = Amount(max([0.0, *(-off for off, _ in sizes)]), "N")
            values[f"foot_{n + 1}_shear"] = Amount(max([0.0, *(along for _, along in sizes)]), "N")
    if worst is not None:
        values["worst_foot"] = Amount(float(worst.n + 1), "1")
    values["equilibrium_residual"] = Amount(max(act.residual for act in acts), "1")
    if mount.resting:
        values["tips_at"] = Amount(min(act.tips for act in acts), "1")
    return values


def _about(mount: Mount, acts: tuple[Acting, ...], worst: Foot | None) -> dict[str, str]:
    said = {
        "feet": f"{len(mount.feet)} {'resting ' if mount.resting else ''}{'feet' if len(mount.feet) > 1 else 'foot'}"
    }
    if mount.mass is not None:
        said["mass"] = f"{Measure(mount.mass * 1e3, unit='kg'):.4g}"
    if mount.centre is not None:
        level = min(float(mount.side * foot[mount.axis]) for foot in mount.feet)
        said["height"] = f"centre {mm(abs(mount.side * mount.centre[mount.axis] - level)):.4g} off the feet"
    if mount.fastened:
        group = mount.group(0, (0.0, 0.0, -1.0), 1.5)
        n = f"{len(mount.places)} x " if len(mount.places) > 1 else ""
        said["bolts"] = f"{n}{group.fastener.label} a foot, in {joined(' + ', (s.label for s in group.sheets))}"
    if worst is not None:
        said["worst"] = f"worst at foot {worst.n + 1}, {said_of_foot(mount, worst.act.force[worst.n])}"
        if worst.act.under != GIVEN:
            said["worst"] = f"{said['worst']}, under {worst.act.under}"
    if any(act.case.cautions for act in acts):
        forward = mount.forward if mount.context is None else _forward(mount)
        said["forward"] = f"it drives to {forward}"
    return said


def _forward(mount: Mount) -> str:
    assert mount.context is not None
    x, y, _ = mount.context.forward
    return ("x" if x > 0 else "-x") if abs(x) > abs(y) else ("y" if y > 0 else "-y")


def _under(mount: Mount, act: Acting, feet: list[Foot], reached: Under | None) -> Under:
    """One load with the worst of its feet or of the links below, and what it puts on each foot."""
    worst = max(feet, key=lambda one: one.order, default=None)
    given = Given(giver=name_of(mount), case=act.case.id or GIVEN, direction=act.direction)
    said = [one.way[-1] for one in of_feet(mount, act)] if act.stands else [Station(name_of(mount), tipped(act))]
    standing = Standing(given=(given,), fields={}, way=tuple(dict.fromkeys((*act.way, *said))))
    values = {
        f"foot_{n + 1}_{axis}": Amount(float(v) + 0.0, "N")
        for n, force in enumerate(act.force)
        for axis, v in zip("xyz", force)
    }
    if worst is None and reached is not None and act.stands:
        return Under(standing, reached.status, reached.utilisation, reached.governing, values)
    if worst is None:
        return Under(standing, "over" if not act.stands else "outside", None, None, values)
    check = worst.result.worst
    used = check.utilisation if check else None
    return Under(standing, worst.result.status, used, worst.result.governing, values)


def _loads(
    mount: Mount, acts: tuple[Acting, ...], governs: Acting, feet: list[Foot], reached: Mapping[int, Under | None]
) -> tuple[Under, ...]:
    """Every load, the one that governs first and the worse before the better."""
    under = {id(act): _under(mount, act, [one for one in feet if one.act is act], reached[id(act)]) for act in acts}
    order = sorted(
        acts, key=lambda a: (a is not governs, -GRAVEST[under[id(a)].status], -(under[id(a)].utilisation or 0.0))
    )
    return tuple(under[id(act)] for act in order)


def _cautions(mount: Mount, acts: tuple[Acting, ...], feet: list[Foot], checks: list[Check]) -> tuple[Caution, ...]:
    raised: list[Caution | str] = []
    for one in feet:
        raised += one.result.cautions
    if mount.plate is not None and mount.fastened and (meeting := mount.pattern.meeting_plates):
        raised.append(plates_overlap(mount.pattern, meeting))
    raised += [PURPOSES[word] for word in dict.fromkeys((*mount.purpose, *(w for a in acts for w in a.case.purpose)))]
    for act in acts:
        raised += act.case.cautions
        if act.case.cautions:
            raised.append(caution("case-source", case=act.case.title, source=act.case.source, status=act.case.status))
    raised += ["load-estimate", "thing-itself", "own-frequency"]
    if len(mount.feet) > 3 and not mount.stiffness:
        raised.append("rigid-feet")
    if mount.on_feet.in_line:
        raised.append("feet-in-line")
    if mount.located:
        raised.append("located-feet")
    if not mount.resting and mount.brace and not mount.bolts and not mount.fillet and not mount.fastened:
        raised.append("feet-not-fastened")
    if any(act.load_factor == 1.0 for act in acts):
        raised.append("unfactored-load")
    statuses = {c.provenance for c in checks if c.status in ("ok", "over")} | {a.case.status for a in acts}
    if "from memory" in statuses:
        raised.append("from-memory")
    return collect(raised)


def chain(result: Result) -> list[tuple[str, float, bool]]:
    """The links below a foot in order, each with its largest utilisation, and whether it holds: from the bolt down."""
    found: dict[str, tuple[float, bool]] = {}
    for check in result.checks:
        if check.status not in ("ok", "over") or check.method.basis == "detailing rule" or not check.demand:
            continue
        if not check.demand.value:
            continue
        name = _link(check)
        used = float("inf") if check.utilisation is None else check.utilisation
        held, holds = found.get(name, (0.0, True))
        found[name] = (max(held, used), holds and check.status == "ok")
    return [(name, *found[name]) for name in sorted(found, key=_place)]


LINKS: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("stands", ("statics.",)),
    (
        "fastener",
        ("bolt-shear", "bolt-tension", "bolt-interaction", "iso-rivet", "insert-", "product.", "instantaneous"),
    ),
    ("fastener, shear and pull", ("kulak.",)),
    ("bracket's foot", ("bracket-leg",)),
    ("sheet along and pulled", ("interaction.bearing-pull",)),
    ("sheet along", ("bearing", "tear-out", "net-section", "gross-section", "block", "ductility")),
    ("spreader plate", ("spreader-plate", "plate-")),
    ("sheet pulled over", ("pull-over", "pull-through", "punching")),
    ("sheet bending", ("sheet-bending",)),
)
"""Link of the chain -> parts of the keys of the checks that judge it."""


def _link(check: Check) -> str:
    if check.method is LINK:
        return check.key.removeprefix("chain.link.")
    return next((name for name, keys in LINKS if any(part in check.key for part in keys)), check.title)


def _place(name: str) -> int:
    return next((n for n, (link, _) in enumerate(LINKS) if link == name), len(LINKS))


def weakest(result: Result) -> tuple[str, float] | None:
    """The weakest link and how far it is used; None where none is judged."""
    links = chain(result)
    if not links:
        return None
    name, used, _ = max(links, key=lambda one: one[1])
    return name, used


def sentence(result: Result) -> str:
    """The chain in a row: how much of each link is used, the weakest named; empty where none is judged."""
    links = chain(result)
    if not links:
        return ""
    told = " > ".join(f"{name} {percent(used) if isfinite(used) else 'over'}" for name, used, _ in links)
    found = weakest(result)
    assert found is not None
    return f"Chain: {told}; weakest: {found[0]}"
