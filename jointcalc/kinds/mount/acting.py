"""What acts on a thing on its feet, case by case and direction by direction, and what each foot gets of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from math import hypot, inf

import numpy as np

from jointcalc.errors import InputError, InputErrors
from jointcalc.kinds.mount.model import ASKS, Mount
from jointcalc.loads.cases import resolve
from jointcalc.model.given import CaseInForce, Context, Field, Given, Pull, Station, Vector
from jointcalc.model.project import FORWARD
from jointcalc.quantity.sentence import Measure, joined, mm, newtons
from jointcalc.quantity.units import GRAVITY
from jointcalc.statics.feet import NO_LOAD, Wrench, split
from jointcalc.statics.group_common import Array

OWN = CaseInForce(id="", title="")
"""Stands for the load that the mount states itself."""
GIVEN = "as given"
"""Name of that load."""
SERVICE = 1.5
"""Load factor of a service load where neither mount nor case states one (EN 1990, the larger of its two)."""
NOTHING = 1e-9
"""Part of the largest force of a mount that is rounding."""


@dataclass(frozen=True, slots=True)
class Acting:
    """One case in one direction: what acts on the thing, and what its feet get.

    `steady` acts across the surface, `tilting` along it with the free moments; `force` (n, 3) [N] is what each foot
    puts on the structure, NaN where the thing tips, `tips` the multiple of `tilting` at which it does.
    """

    case: CaseInForce
    direction: str
    load_factor: float
    steady: Wrench
    tilting: Wrench
    force: Array
    residual: float
    tips: float
    way: tuple[Station, ...]

    @property
    def under(self) -> str:
        """The case and its direction; `GIVEN` for what the mount states itself."""
        return ", ".join(part for part in (self.case.id, self.direction) if part) or GIVEN

    @property
    def stands(self) -> bool:
        """Whether there is equilibrium."""
        return not bool(np.isnan(self.force).any())


def acting(mount: Mount) -> tuple[Acting, ...]:
    """Everything the mount stands under, one after the other.

    Raises InputError for a case that asks for data not given, for no load at all, and for feet that do not hold the
    thing (MechanismError, which says what moves).
    """
    faults: list[InputError] = []
    found: list[Acting] = []
    for case in cases_of(mount):
        try:
            _asked(mount, case)
            for field in _with_weight(mount, case):
                found.append(_shared(mount, case, field))
        except InputError as error:
            where = f"under {case.id}" if case.id and not error.field.startswith("case") else ""
            faults.append(error.at(where=where))
    if faults:
        unique = list({str(f): f for f in faults}.values())
        raise unique[0] if len(unique) == 1 else InputErrors(unique)
    if not any(a.steady.force.any() or a.tilting.force.any() or a.tilting.moment.any() for a in found):
        raise InputError(
            "nothing acts on the thing; say what it feels (acceleration, with mass and centre), the case it stands "
            "under, or a force and where it acts",
            field="acceleration",
        )
    return tuple(found)


def cases_of(mount: Mount) -> tuple[CaseInForce, ...]:
    """The cases a mount stands under: those it names, or all of its project that it can stand under."""
    own = mount.acceleration is not None or mount.force is not None or mount.moment is not None
    named = mount.cases or ((mount.case,) if mount.case else ())
    context = mount.context
    if context is None:
        try:
            found = [resolve(name, forward=FORWARD[mount.forward]) for name in named]
        except InputError as error:
            raise error.at(field="cases") from error
    elif mount.acceleration is not None:
        found = []
    elif named:
        unknown = [name for name in named if name not in context.cases]
        if unknown:
            told = ", ".join(context.cases) or "none is there"
            raise InputError(f"'{unknown[0]}' is not the id of a [[case]] (they are: {told})", field="cases")
        found = [context.cases[name] for name in named]
        empty = [case.id for case in found if not case.fields]
        if empty and not own:
            raise InputError(
                f"case '{empty[0]}' does not say what a thing feels; give it 'use' or 'acceleration', or the mount a "
                "force",
                field="cases",
            )
        found = [case for case in found if case.fields]
    else:
        found = [case for case in context.cases.values() if case.fields]
    if found:
        return tuple(found)
    return (OWN,)


def _asked(mount: Mount, case: CaseInForce) -> None:
    """InputError naming all that a case asks for and the mount does not say."""
    missing = [ASKS[name] for name in case.asks if getattr(mount, name) is None]
    if missing:
        raise InputError(f"asks for what is not given: {joined('; ', missing)}", field=f"case '{case.id}'")


def _with_weight(mount: Mount, case: CaseInForce) -> Iterator[Field]:
    """The directions of a case.

    Where a rule leaves the thing's own weight out, one that only rests is judged with it, for nothing else holds it
    down, and one that hangs is judged without and with it.
    """
    if case is OWN:
        felt = mount.acceleration or (0.0, 0.0, 0.0)
        yield Field(acceleration=_vector(felt))
        return
    for field in case.fields:
        x, y, z = field.acceleration
        weighed = replace(field, direction=f"{field.direction} with weight", acceleration=(x, y, z - GRAVITY))
        heavy = case.weightless and mount.mass is not None and mount.centre is not None
        if heavy and mount.resting:
            yield weighed
            continue
        yield field
        if heavy and mount.faces != "z":
            yield weighed


def _shared(mount: Mount, case: CaseInForce, field: Field) -> Acting:
    steady, tilting, stations = NO_LOAD, NO_LOAD, []
    for pull, at, moment, station in _pieces(mount, case, field):
        one, other = split(pull, at, moment, mount.axis)
        steady, tilting = steady + one, tilting + other
        stations.append(station)
    feet, load = mount.on_feet, steady + tilting
    tips = inf
    if not mount.resting:
        shared = feet.held(load)
        force, residual = shared.force, shared.residual
    else:
        rested = feet.rested(steady, tilting, axis=mount.axis, side=mount.side)
        force, residual, tips = rested.force, rested.residual, rested.tips
        if not np.isnan(force).any():
            force = force + _sideways(mount, load, force)
            residual = feet.residual(force, load)
    scale = float(np.abs(force).max()) if not np.isnan(force).any() else 0.0
    force = np.where(np.abs(force) > NOTHING * scale, force, 0.0) if scale else force
    factor = (
        mount.load_factor if mount.typed("load_factor") else case.load_factor or (1.0 if case.ultimate else SERVICE)
    )
    return Acting(case, field.direction, factor, steady, tilting, force, residual, tips, tuple(stations))


def _sideways(mount: Mount, load: Wrench, press: Array) -> Array:
    """The part along the surface on resting feet: by their springs where located, else as friction shares it."""
    if mount.located:
        return mount.on_feet.slid(load, axis=mount.axis)
    weights = np.abs(press[:, mount.axis])
    return mount.on_feet.slid(load, weights, axis=mount.axis) if weights.any() else np.zeros_like(press)


Piece = tuple[Vector, Vector, Vector, Station]
"""Force, place, free moment, and what it is in words."""


def _pieces(mount: Mount, case: CaseInForce, field: Field) -> Iterator[Piece]:
    none: Vector = (0.0, 0.0, 0.0)
    if any(field.acceleration) and mount.mass is not None and mount.centre is not None:
        felt = np.asarray(field.acceleration)
        force = _vector(mount.mass * felt)
        size = float(np.linalg.norm(felt)) / GRAVITY
        said = (
            f"{Measure(mount.mass * 1e3, unit='kg'):.4g} feel {size:.4g} g{_word(field)}: {_newtons(force)} at "
            f"{mm(mount.centre[0], ', ', mount.centre[1], ', ', mount.centre[2]):g}"
        )
        yield force, _vector(mount.centre), none, _station(mount, case, said)
    for pull in field.pulls:
        times = _times(mount, pull)
        place = getattr(mount, pull.part)
        force, moment = _vector(times * np.asarray(pull.force)), _vector(times * np.asarray(pull.moment))
        what = _newtons(force) if any(force) else f"{_moment(moment)} about x, y, z"
        each = f", {times:g} times" if pull.per == "occupant" and times != 1 else ""
        said = f"{PARTS[pull.part]}{_word(field)}: {what} at {mm(place[0], ', ', place[1], ', ', place[2]):g}{each}"
        yield force, _vector(place), moment, _station(mount, case, said)
    if mount.force is not None or mount.moment is not None:
        force, moment = _vector(mount.force or none), _vector(mount.moment or none)
        at = _vector(mount.at or none)
        words = []
        if any(force):
            words.append(f"{_newtons(force)} at {mm(at[0], ', ', at[1], ', ', at[2]):g}")
        if any(moment):
            words.append(f"{_moment(moment)} about x, y, z")
        yield force, at, moment, Station(name_of(mount), f"given: {joined('; ', words)}")


PARTS = {"lap": "lap belts pull", "torso": "shoulder belts pull", "at": "a load acts"}


def _times(mount: Mount, pull: Pull) -> float:
    if pull.per == "occupant":
        return float(mount.occupants or 1)
    mass = mount.vehicle_mass or 0.0
    if pull.per == "vehicle":
        return mass
    return mass * (mount.axle_share or 0.0) if pull.per == "axle" else 1.0


def _word(field: Field) -> str:
    return f" {field.direction}" if field.direction else ""


def _station(mount: Mount, case: CaseInForce, said: str) -> Station:
    return Station(name_of(mount), said, case.source, case.status)


def _newtons(force: Iterable[float]) -> str:
    x, y, z = force
    return f"{newtons(x, ', ', y, ', ', z)}"


def _moment(moment: Iterable[float]) -> str:
    x, y, z = moment
    return f"{Measure(x / 1e3, ', ', y / 1e3, ', ', z / 1e3, unit='N*m')}"


def _vector(v: Iterable[float]) -> Vector:
    x, y, z = (float(one) + 0.0 for one in v)
    return x, y, z


def name_of(mount: Mount) -> str:
    """Its id, or what it is where it has none (on the command line)."""
    return mount.id if mount.id != "-" else mount.word


# --- what the feet do ---------------------------------------------------------------------------------------


def parts(mount: Mount, force: Array) -> tuple[float, float]:
    """Pull off the surface (negative: press) and shear along it [N], of one foot's force on the structure."""
    a, b, off = mount.local(force)
    return off, hypot(a, b)


def said_of_foot(mount: Mount, force: Array) -> str:
    """`pulls 1200 N, 300 N along the surface`."""
    off, along = parts(mount, force)
    words = []
    if off:
        words.append(f"{'pulls' if off > 0 else 'presses'} with {newtons(abs(off))}")
    if along:
        words.append(f"{newtons(along)} along the surface")
    return joined(", ", words) if words else "carries nothing"


def of_feet(mount: Mount, act: Acting) -> tuple[Given, ...]:
    """What the feet put on the structure under that load, one for each foot that carries something."""
    found = []
    for n, foot in enumerate(mount.feet):
        force = act.force[n]
        if not force.any():
            continue
        said = Station(
            f"{name_of(mount)}, foot {n + 1}",
            f"{said_of_foot(mount, force)}{_under(act)}",
            "statics of a rigid thing on its feet",
            "derivation",
        )
        found.append(
            Given(
                giver=mount.id,
                part=f"foot {n + 1}",
                case=act.case.id,
                direction=act.direction,
                at=_vector(foot),
                force=_vector(force),
                load_factor=act.load_factor,
                cycles=act.case.cycles,
                onto=mount.takers(n),
                way=(*act.way, said),
                cautions=(*act.case.cautions, "load-estimate"),
            )
        )
    return tuple(found)


def _under(act: Acting) -> str:
    return "" if act.under == GIVEN else f" under {act.under}"


def gives(mount: Mount, context: Context) -> tuple[Given, ...]:
    """What a mount of a project puts on what carries its feet, under each of its cases and their directions.

    Raises InputError where it tips over and something takes its load: nobody knows its feet then.
    """
    here = mount.inside(context)
    found: list[Given] = []
    asking = [*context.items.values(), *(one for one in context.things.values() if hasattr(one, "load"))]
    taken = any(mount.asked_by(one) for one in asking)
    for act in acting(here):
        if act.stands:
            found += of_feet(here, act)
        elif taken:
            raise InputError(tipped(act), field="resting")
    return tuple(found)


def tipped(act: Acting) -> str:
    """That it tips, and at what load."""
    if act.tips > 0:
        return f"tips over{_under(act)}: already at {act.tips:.3g} of what tilts it; bolt its feet, or set them wider"
    return f"does not stand{_under(act)}: what presses it runs past its feet, or lifts it; bolt its feet"
