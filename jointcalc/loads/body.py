"""What a twisted and bent body puts on its floor seams, panels, sills and tunnel: an estimate, said to be one.

Two kinds of cases.  Bending: the body's masses under an upright acceleration, of cases of the project or the road's own
factor.  Twist: one wheel on a kerb, to either side, with the weight at rest on top.  Shear flows add up without their
signs, for nobody knows which seam has which.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from math import hypot, radians
from typing import Any

from jointcalc.errors import InputError, nearest
from jointcalc.formula import body as f
from jointcalc.formula.core import Evaluation, Status
from jointcalc.model.body import ROADS, Body
from jointcalc.model.given import NOTHING, Asked, Context, Given, Station, Vector, read_asked
from jointcalc.quantity.sentence import Measure, joined, mm, newtons
from jointcalc.quantity.units import GRAVITY
from jointcalc.statics.body import filled
from jointcalc.statics.body_bending import Bent, OnAxles, bend, on_axles
from jointcalc.statics.body_twist import Opening, Torque, Twist, lifted_wheel, opening, twist
from jointcalc.tables.store import load

FLOW_KINDS = ("spot_seam", "plug", "panel")
"""Kinds that take a shear flow; "from body" alone is the floor's for them."""
MEMBERS = ("sill", "tunnel", "opening")
"""Parts that carry a force along themselves: a brace takes it as compression or tension, a joint as a force."""
CAUTION = "body-estimate"
KERB = "one wheel on a kerb"
ROAD = "the road"


@dataclass(frozen=True, slots=True)
class Estimate:
    """The body at rest, and what one wheel on a kerb does to it."""

    body: Body
    axles: OnAxles
    torque: Torque
    twisted: Twist
    still: Bent | None
    """Flows of the weight at rest; None where nothing carries bending, for the reason in `unbent`."""
    unbent: str
    hole: Opening | None
    way: tuple[Station, ...]
    _bent: dict[float, tuple[list[Bent], list[Bent]]] = field(default_factory=dict)
    """What `bends` has worked out: every seam asks for the same few weights."""

    @classmethod
    def of(cls, body: Body) -> Estimate:
        """Raises InputError: no closed path for the twist, an axle that would lift, a box or a mass that is missing."""
        axles = on_axles(body.weights(GRAVITY), body.wheelbase)
        torque = lifted_wheel(axles.front, axles.rear, (body.track[0], body.track[1]), body.twist_factor)
        twisted = twist(body.box, torque.torque)
        still, unbent = None, ""
        try:
            still = bend(body.box, axles.sagging, axles.shear)
        except InputError as error:
            unbent = error.message
        if still is not None and body.rings:
            # a ring carries something between nothing and what a sheet would
            solid = bend(filled(body.box), axles.sagging, axles.shear)
            flows = {name: max(flow, solid.flows.get(name, 0.0)) for name, flow in still.flows.items()}
            still = Bent(still.forces, flows, still.I_y, still.working)
        whole = twisted.flows.get("floor without opening")
        hole = opening(body.box, whole) if whole is not None else None
        way = tuple(_way(body, axles, torque, twisted))
        return cls(body, axles, torque, twisted, still, unbent, hole, way)

    def bends(self, weight: float) -> tuple[list[Bent], list[Bent]]:
        """Forces along the parts of so many times the weight at rest: where it sags and where it hogs most.

        Each as said, with the pushed sheet giving way in waves, and with rings as sheets; both empty where nothing
        carries bending.
        """
        if weight in self._bent:
            return self._bent[weight]
        found: tuple[list[Bent], list[Bent]] = ([], [])
        box = self.body.box
        for bents, M in zip(found, (weight * self.axles.sagging, -weight * self.axles.hogging)):
            for one, waves in ((box, False), (box, True), *(((filled(box), False),) if box.rings else ())):
                with suppress(InputError):  # where nothing of depth is left the others are all there is
                    bents.append(bend(one, M, self.axles.shear, waves=waves))
        self._bent[weight] = found
        return found


def gives(body: Body, context: Context) -> tuple[Given, ...]:
    """Shear flows and end forces for every item that asks for them, in every case.  Raises InputError."""
    made = Estimate.of(body)
    found: list[Given] = []
    cases = [*_bending(made, context), *_kerb(made, context)]
    for item, asked in askers(body.id, context.items):
        part = _part(made, item, asked, context)
        for case in cases:
            found += _given(made, item, asked, part, case, context.forward)
    return tuple(found)


def askers(giver: str, items: Any) -> Iterator[tuple[Any, Asked]]:
    """The items that ask a giver for a load, and what part of it; those that ask others are passed over."""
    for item in items.values():
        for text in item.load:
            try:
                asked = read_asked(text, [giver])
            except InputError:
                continue  # of another giver, or wrong: told where all givers are known
            yield item, asked


# --- cases -----------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Case:
    """One load of the body: share of the torque (with its sign) and of the weight at rest (down positive)."""

    id: str
    direction: str
    twist: float
    weight: float
    load_factor: float | None
    cycles: float | None
    stations: tuple[Station, ...]
    cautions: tuple[str, ...] = ()


def _bending(made: Estimate, context: Context) -> Iterator[_Case]:
    body = made.body
    for name in body.bending:
        case = context.cases.get(name)
        if case is None:
            raise InputError(f"'{name}' is not the id of a [[case]]{nearest(name, context.cases)}", field="bending")
        upright = [one for one in case.fields if one.acceleration[2]]
        if not upright:
            raise InputError(
                f"the case '{name}' states no upright acceleration, so it does not bend the body; leave it out, or "
                "give the case one such as '0 0 -3 g'",
                field="bending",
            )
        for one in upright:
            k = -one.acceleration[2] / GRAVITY
            said = Station(
                f"case {name}", f"{case.title}: {k:.3g} times its weight bends the body", case.source, case.status
            )
            yield _Case(name, one.direction, 0.0, k, case.load_factor, case.cycles, (said,), case.cautions)
    if body.bending:
        return
    row, k = ROADS[body.road][1], body.bending_factor
    table = load("vehicle_dynamic_factors")
    for way, factor in (("down", k), ("rebound", 2 - k)):
        said = Station(
            f"{body.id}, {ROAD}",
            f"{way} on a {body.road} road: {factor:.3g} times its weight"
            + ("" if way == "down" else ", the bump mirrored about the weight at rest"),
            f"table {table.name}, {row}",
            _status(table.find(case=row).status),
        )
        yield _Case(ROAD, way, 0.0, factor, None, None, (said,))


def _kerb(made: Estimate, context: Context) -> Iterator[_Case]:
    body, name = made.body, made.body.twist or KERB
    case = context.cases.get(name)
    if body.twist and case is None:
        raise InputError(f"'{name}' is not the id of a [[case]]{nearest(name, context.cases)}", field="twist")
    factor, cycles = (case.load_factor, case.cycles) if case else (None, None)
    for sign, way in ((1.0, "left wheel up"), (-1.0, "right wheel up")):
        yield _Case(name, way, sign, 1.0, factor, cycles, (), case.cautions if case else ())


def _status(word: str) -> Status:
    return word  # type: ignore[return-value]  # the tables' words are those of formulas; a test holds that


# --- what falls to an item -------------------------------------------------------------------------------------------


def _part(made: Estimate, item: Any, asked: Asked, context: Context) -> str:
    """The part of the body an item asks for.  Raises InputError where it has none of that name."""
    body = made.body
    along = item.kind not in FLOW_KINDS
    known = [name for name in made.twisted.flows if name != "floor without opening"]
    known += [name for name in (made.still.flows if made.still else ()) if name not in known]
    if body.floor_sheet is not None and "floor" not in known:
        known.append("floor")
    if along:
        known = [name for name in MEMBERS if name in known]
    if made.hole is not None:
        known.append("opening")
    word = asked.part
    if not along and getattr(context.things.get(word), "tyre_diameter", None) is not None:
        return "tub"
    if not word and not along:
        word = "floor"
    if not word:
        told = ", ".join(f"'from {body.id} {name}'" for name in known) or "no such part"
        raise InputError(f"{item.id} takes a force along itself: say of which part it is ({told})", field="load")
    if word not in known:
        hint = f"{nearest(word, known)} (it has for {item.id}: {', '.join(known) or 'none'})"
        raise InputError(f"'{body.id}' has no part '{word}' that {item.id} could take{hint}", field="load")
    return word


def _given(made: Estimate, item: Any, asked: Asked, part: str, case: _Case, forward: Vector) -> Iterator[Given]:
    common: dict[str, Any] = {
        "giver": made.body.id, "part": asked.part, "case": case.id,
        "onto": frozenset({item.id}), "load_factor": case.load_factor, "cycles": case.cycles,
        "cautions": (CAUTION, "load-estimate", *case.cautions),
    }  # fmt: skip
    way = (*(made.way if case.twist else made.way[:1]), *case.stations)
    if item.kind in FLOW_KINDS:
        flow, left, said = _flow(made, part, case)
        fields, more = _pulled(made, item, part, case, forward)
        yield Given(flow=flow, fields=fields, left=left, way=(*way, said, *more), direction=case.direction, **common)
        return
    left = _left(made, part, case)
    for where, force, said in _forces(made, part, case):
        direction = f"{case.direction}, {where}" if where else case.direction
        if item.kind == "brace":
            fields = {"compression": -force} if force < 0 else {"tension": force} if force > 0 else {}
            yield Given(fields=fields, left=left, way=(*way, said), direction=direction, **common)
            continue
        # the front end of a part that is pulled is pulled to the rear
        x, y, _ = (-force * axis for axis in forward)
        at = getattr(item, "origin", None) or NOTHING
        yield Given(force=(x, y, 0.0), at=at, left=left, way=(*way, said), direction=direction, **common)


def _flow(made: Estimate, part: str, case: _Case) -> tuple[float, tuple[str, ...], Station]:
    """Shear flow [N/mm] of a part, what is left out of it, and how it came."""
    body, left, words = made.body, [], []
    name = {"opening": "floor", "tub": "floor without opening" if made.hole else "floor"}.get(part, part)
    flow = 0.0
    if case.twist:
        turned = made.twisted.flows.get(name)
        if turned is None:
            left.append(
                f"the twist of the body ({Measure(made.torque.torque / 1e3, unit='N*m'):.4g}) in its {part}, which is "
                "in no closed section: statics gives it no share, which does not say that it has none; close the box, "
                "or name its open faces in 'rings' where frames stand round them"
            )
        else:
            flow += turned
            words.append(f"{Measure(turned, unit='N/mm'):.3g} of the twist")
    steps = made.twisted.working if case.twist or made.still is None else made.still.working
    bent = _bent_flow(made, part if part == "tub" else name)
    if case.weight and bent is None:
        why = made.unbent or f"no bending is worked out in a {part} that is a ring"
        left.append(f"the body's bending in its {part}: {why}")
    elif case.weight and bent is not None:
        flow += abs(case.weight) * bent
        words.append(f"{Measure(abs(case.weight) * bent, unit='N/mm'):.3g} of bending")
    told = f"shear flow {Measure(flow, unit='N/mm'):.3g}"
    told += f": {' and '.join(words)}, added without their signs" if len(words) > 1 else ""
    if body.opening is not None and part in ("floor", "opening"):
        told += ", the greatest round the opening, where it has to go beside it"
    if part == "tub":
        told += (
            ": a tub closes its hole in the floor and hands the floor's shear round the hole; its own weight, a stone "
            "or a burst tyre are not in it"
        )
    return flow, tuple(left), Station(f"{body.id}, {part}", told, *_sourced(steps[:1]))


def _pulled(
    made: Estimate, item: Any, part: str, case: _Case, forward: Vector
) -> tuple[dict[str, float], tuple[Station, ...]]:
    """What bending pulls at floor or roof along the vehicle: across a seam that runs from side to side."""
    face = "floor" if part in ("opening", "tub") else part
    if face not in ("floor", "roof") or made.still is None or not case.weight:
        return {}, ()
    box = made.body.box
    wide = box.width - 2 * (box.sill[0] if box.sill and face == "floor" else 0.0)
    wide -= box.tunnel[0] if box.tunnel and face == "floor" else 0.0
    pull = max(one.forces.get(face, 0.0) for bents in made.bends(case.weight) for one in bents) / wide
    if pull <= 0:
        return {}, ()
    thing, size = f"{made.body.id}, {part}", Measure(pull, unit="N/mm")
    if item.kind == "panel":
        told = (
            f"bending pulls the {face} along the vehicle with up to {size:.3g} and pushes it elsewhere: not put on the "
            "panel, for a thin sheet sheds it; the parts beside it are also judged as if it did"
        )
        return {}, (Station(thing, told),)
    if item.place is None:
        told = (
            f"taken to run along the vehicle, for it says no 'place': a seam from side to side is also pulled across, "
            f"with up to {size:.3g} of bending"
        )
        return {}, (Station(thing, told),)
    x1, y1, x2, y2 = item.place
    long = hypot(x2 - x1, y2 - y1)
    turned = abs((x2 - x1) * forward[1] - (y2 - y1) * forward[0]) / long if long else 0.0
    if turned < ALONG:
        return {}, ()
    told = f"bending pulls the {face} along the vehicle with {size:.3g}, across this seam"
    return {"across": pull * turned * item.length}, (Station(thing, told, *_sourced(made.still.working[:1])),)


ALONG = 0.05
"""Sine of the angle up to which a seam runs along the vehicle: a hundred millimetres in two metres."""


def _bent_flow(made: Estimate, name: str) -> float | None:
    """Flow of the weight at rest [N/mm]; None where none is worked out."""
    if made.still is None:
        return None
    flows = made.still.flows
    if name in ("tub", "floor without opening"):
        return flows.get("floor")
    if name == "floor" and made.body.opening is not None and name in flows:
        return flows[name] * _round_the_opening(made)
    if name in ("front", "rear"):  # each side hands its half of the shear on along its end
        return made.axles.shear / 2 / made.body.box.height
    return flows.get(name)


def _round_the_opening(made: Estimate) -> float:
    """What the floor's flow grows by beside its opening."""
    around = opening(made.body.box, 1.0)
    return max(1.0, around.along, around.across, abs(around.corner))


def _left(made: Estimate, part: str, case: _Case) -> tuple[str, ...]:
    """What is not worked out of the force along a part."""
    left = []
    if case.twist and made.twisted.path == "closed sections" and part != "opening":
        left.append(
            f"what the twist of the body puts along its {part}: a closed section that is twisted has such a force "
            "where its ends are held from warping, which is not worked out"
        )
    if made.still is None:
        left.append(f"the body's bending in its {part}: {made.unbent}")
    return tuple(left)


def _forces(made: Estimate, part: str, case: _Case) -> Iterator[tuple[str, float, Station]]:
    """Forces along a part [N], tension positive, and how each came: the greatest, and the greatest the other way.

    The other one has a word for where it acts.
    """
    body, flows = made.body, made.twisted.flows
    if part == "opening":
        whole = made.hole
        assert whole is not None
        per = max(whole.stiffener_along, whole.stiffener_across) / flows["floor without opening"]
        bent = 0.0 if made.still is None else abs(case.weight) * made.still.flows.get("floor", 0.0)
        size = per * (abs(case.twist) * flows["floor without opening"] + bent)
        told = (
            f"{newtons(size):.4g} along the stiffener beside the opening, pulled on one side of it and pushed on the "
            f"other; a ring that carries the flow round by itself has {Measure(whole.ring / 1e3, unit='N*m'):.3g} at "
            "its corners of the twist"
        )
        said = Station(f"{body.id}, opening", told, *_sourced(whole.working[3:]))
        yield "", -size, said
        yield "the other side", size, said
        return
    handed = 0.0
    if case.twist and part == "sill" and made.twisted.path != "closed sections":
        handed = case.twist * flows.get("floor without opening", flows["floor"]) * body.box.length

    def worst(bents: list[Bent]) -> float:
        more = "tunnel plate" if part == "tunnel" else ""
        sizes = [one.forces.get(part, 0.0) + one.forces.get(more, 0.0) for one in bents] or [0.0]
        return max(sizes, key=lambda bent: abs(handed + bent))

    sagging, hogging = made.bends(case.weight)
    places = [("between the axles", worst(sagging)), ("over an axle", worst(hogging))]
    places.sort(key=lambda one: -abs(handed + one[1]))
    for n, (where, bent) in enumerate(places):
        force = handed + bent
        if n and force * (handed + places[0][1]) >= 0:
            return  # the same way and less
        words = [f"{newtons(abs(handed)):.4g} of the floor's shear, handed on at its end"] if handed else []
        words += [f"{newtons(abs(bent)):.4g} of bending {where}"] if made.still is not None else []
        told = f"{newtons(abs(force)):.4g} {'tension' if force >= 0 else 'compression'}"
        told += f": {joined(' and ', words)}" if words else ""
        source = f.SILL_FORCE.source if handed else f.PART_FORCE.source
        yield where if n else "", force, Station(f"{body.id}, {part}", told, str(source), source.status)


def _sourced(working: Iterable[Evaluation]) -> tuple[str, Status | None]:
    first = next(iter(working), None)
    return ("", None) if first is None else (str(first.formula.source), first.formula.source.status)


@dataclass(frozen=True, slots=True)
class PartLoad:
    """What one part gets: the greatest shear flow [N/mm], along a member the greatest pull and push [N, no sign].

    `under` names the case of the flow, of a member without one that of the force; `left` is what is not worked out.
    """

    part: str
    flow: float | None
    pulled: float | None
    pushed: float | None
    under: str
    left: tuple[str, ...]


def by_part(made: Estimate, context: Context) -> Iterator[PartLoad]:
    """Every part with its greatest loads over all cases, as a seam or a brace that asks for it would get them."""
    cases = [*_bending(made, context), *_kerb(made, context)]
    body, flows = made.body, {**(made.still.flows if made.still is not None else {}), **made.twisted.flows}
    members = {"sill": body.sill, "tunnel": body.tunnel, "opening": made.hole}
    for part in dict.fromkeys([*flows, *(name for name in MEMBERS if members[name])]):
        if part == "floor without opening":
            continue
        along = (
            [(force, case) for case in cases for _, force, _ in _forces(made, part, case)] if members.get(part) else []
        )
        sheared = [(flow, case, left) for case in cases for flow, left, _ in (_flow(made, part, case),)]
        flow, case, _ = max(sheared, key=lambda one: one[0])
        left = [text for *_, texts in sheared for text in texts]
        if along:
            left += [text for _, one in along for text in _left(made, part, one)]
            case = case if flow else max(along, key=lambda one: abs(one[0]))[1]
        yield PartLoad(
            part, flow or None, max((f for f, _ in along if f > 0), default=None),
            max((-f for f, _ in along if f < 0), default=None), f"{case.id}, {case.direction}".rstrip(", "),
            tuple(dict.fromkeys(left)),
        )  # fmt: skip


# --- the way, told ---------------------------------------------------------------------------------------------------


def _way(body: Body, axles: OnAxles, torque: Torque, twisted: Twist) -> Iterator[Station]:
    """Axles, torque, path: the stations that every load of the twist has passed."""
    mass = axles.weight / GRAVITY * 1e3
    front, rear = axles.front / GRAVITY * 1e3, axles.rear / GRAVITY * 1e3
    yield Station(
        body.id,
        f"weighs {Measure(mass, unit='kg'):.4g} at {mm(axles.centre):.4g} behind the front axle: "
        f"{Measure(front, ' on the front axle and ', rear, unit='kg'):.4g} on the rear",
        str(f.REAR_LOAD.source),
        f.REAR_LOAD.source.status,
    )
    still, driven = torque.working
    at_rest = Measure(float(still.value) / 1e3, unit="N*m")
    table = load("vehicle_dynamic_factors")
    yield Station(
        f"{body.id}, {KERB}",
        f"the {torque.axle} axle reaches least: with one of its wheels off the ground the other carries "
        f"{newtons(float(still.inputs['F'])):.4g} at half of its track, {at_rest:.4g}; "
        "no kerb and no spring puts in more",
        str(still.formula.source),
        still.formula.source.status,
    )
    yield Station(
        f"{body.id}, {KERB}",
        f"times {float(driven.inputs['k_d']):g} on a {body.road} road, {Measure(torque.torque / 1e3, unit='N*m'):.4g}",
        f"table {table.name}, torsion",
        _status(table.find(case="torsion").status),
    )
    yield Station(body.id, _path(body, twisted), *_sourced(twisted.working))


def _path(body: Body, twisted: Twist) -> str:
    rings = ", ".join(body.rings)
    if twisted.path == "box and closed sections":
        words = "the closed box of its sheets carries the torque"
        if body.sill or (body.tunnel and body.tunnel_plate):
            words += ", sills and tunnel with it by stiffness"
        words += (
            f"; as an ideal box it twists {twisted.degrees:.3g} degrees over its length (real bodies, with openings "
        )
        words += "and joints that give, up to a hundred times that)"
    elif twisted.path == "box, or closed sections":
        words = (
            f"its {rings} {'are rings' if len(body.rings) > 1 else 'is a ring'} whose stiffness is not known: the box "
        )
        words += "alone and the closed sections of the floor alone are each taken to carry all of the torque; the ring "
        words += "bends at its corners, which is not judged"
        if twisted.stiffness is not None:
            words += f"; those sections alone would give {_per_degree(twisted, body.box.length)} a degree"
    else:
        words = "the box is open: the closed sections of the floor carry all of the torque, twisted by "
        words += f"{twisted.degrees:.3g} degrees over its length, {_per_degree(twisted, body.box.length)} a degree if "
        words += "they are as ideal"
    return (
        f"{words}. An estimate by statics: sheets carry shear in their planes only, the section is the same all along"
    )


def _per_degree(twisted: Twist, length: float) -> Measure:
    """Torque for a degree of twist over the length."""
    assert twisted.stiffness is not None
    return Measure(float(f"{twisted.stiffness / length * radians(1.0) / 1e3:.3g}"), unit="N*m")
