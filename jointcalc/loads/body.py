"""What a twisted and bent body puts on its floor seams, panels, sills and tunnel: an estimate, said to be one.

Two kinds of cases.  Bending: the body's masses under an upright acceleration, of cases of the project or the road's own
factor.  Twist: one wheel on a kerb, to either side, with the weight at rest on top.  Shear flows add up without their
signs, for nobody knows which seam has which.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from jointcalc.errors import InputError, nearest
from jointcalc.formula import body as f
from jointcalc.formula.core import Evaluation, Status
from jointcalc.model.body import ROADS, Body
from jointcalc.model.given import NOTHING, Asked, Context, Given, Station, Vector, read_asked
from jointcalc.quantity.sentence import Measure, joined, mm, newtons
from jointcalc.quantity.units import GRAVITY
from jointcalc.statics.body import Bent, OnAxles, Opening, Torque, Twist, bend, lifted_wheel, on_axles, opening, twist
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
    """Forces and flows of the weight at rest; None where nothing carries bending, for the reason in `unbent`."""
    unbent: str
    hole: Opening | None
    way: tuple[Station, ...]

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
        whole = twisted.flows.get("floor without opening")
        hole = opening(body.box, whole) if whole is not None else None
        way = tuple(_way(body, axles, torque, twisted))
        return cls(body, axles, torque, twisted, still, unbent, hole, way)


def gives(body: Body, context: Context) -> tuple[Given, ...]:
    """Shear flows and end forces for every item that asks for them, in every case.  Raises InputError."""
    made = Estimate.of(body)
    found: list[Given] = []
    cases = [*_bending(made, context), *_kerb(made, context)]
    for item, asked in askers(body.id, context.items):
        part = _part(made, item, asked, context)
        for case in cases:
            found.append(_given(made, item, asked, part, case, context.forward))
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


def _given(made: Estimate, item: Any, asked: Asked, part: str, case: _Case, forward: Vector) -> Given:
    common: dict[str, Any] = {
        "giver": made.body.id, "part": asked.part, "case": case.id, "direction": case.direction,
        "onto": frozenset({item.id}), "load_factor": case.load_factor, "cycles": case.cycles,
        "cautions": (CAUTION, "load-estimate", *case.cautions),
    }  # fmt: skip
    way = (*(made.way if case.twist else made.way[:1]), *case.stations)
    if item.kind in FLOW_KINDS:
        flow, left, said = _flow(made, part, case)
        return Given(flow=flow, left=left, way=(*way, said), **common)
    force, left, said = _force(made, part, case)
    if item.kind == "brace":
        fields = {"compression": -force} if force < 0 else {"tension": force} if force > 0 else {}
        return Given(fields=fields, left=left, way=(*way, said), **common)
    # the front end of a part that is pulled is pulled to the rear
    x, y, _ = (-force * axis for axis in forward)
    return Given(force=(x, y, 0.0), at=getattr(item, "origin", None) or NOTHING, left=left, way=(*way, said), **common)


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
    bent = _bent_flow(made, name)
    if case.weight and bent is None:
        why = made.unbent or f"no bending is worked out in a {part} that is a ring"
        left.append(f"the body's bending in its {part}: {why}")
    elif case.weight and bent is not None:
        flow += abs(case.weight) * bent
        words.append(f"{Measure(abs(case.weight) * bent, unit='N/mm'):.3g} of bending")
    told = f"shear flow {Measure(flow, unit='N/mm'):.3g}"
    told += f": {' and '.join(words)}, added without their signs" if len(words) > 1 else ""
    if made.hole and part in ("floor", "opening"):
        told += ", the greatest round the opening, where it has to go beside it"
    if part == "tub":
        told += (
            ": a tub closes its hole in the floor and hands the floor's shear round the hole; its own weight, a stone "
            "or a burst tyre are not in it"
        )
    return flow, tuple(left), Station(f"{body.id}, {part}", told, *_sourced(steps[:1]))


def _bent_flow(made: Estimate, name: str) -> float | None:
    """Flow of the weight at rest [N/mm]; None where none is worked out."""
    if made.still is None:
        return None
    if name == "floor without opening":
        name = "floor"
    elif name == "floor" and made.hole and "floor" in made.still.flows:
        return made.still.flows["floor"] * _round_the_opening(made)
    if name in ("front", "rear"):  # each side hands its half of the shear on along its end
        return made.axles.shear / 2 / made.body.box.height
    return made.still.flows.get(name)


def _round_the_opening(made: Estimate) -> float:
    """What the floor's flow grows by beside its opening."""
    flows = made.twisted.flows
    if "floor without opening" in flows:
        return flows["floor"] / flows["floor without opening"]
    around = opening(made.body.box, 1.0)
    return max(around.along, around.across, abs(around.corner))


def _force(made: Estimate, part: str, case: _Case) -> tuple[float, tuple[str, ...], Station]:
    """Force along a part [N], tension positive, what is left out of it, and how it came."""
    body, box, left = made.body, made.body.box, []
    flows = made.twisted.flows
    if part == "opening":
        whole = made.hole
        assert whole is not None
        per = max(whole.stiffener_along, whole.stiffener_across) / flows["floor without opening"]
        twisted = case.twist * flows["floor without opening"]
        bent = 0.0 if made.still is None else abs(case.weight) * made.still.flows.get("floor", 0.0)
        force = per * (twisted + (bent if twisted >= 0 else -bent))
        told = (
            f"{newtons(abs(force)):.4g} along the stiffener beside the opening, pulled or pushed; a ring that carries "
            f"the flow round by itself has {Measure(whole.ring / 1e3, unit='N*m'):.3g} at its corners of the twist"
        )
        return force, (), Station(f"{body.id}, opening", told, *_sourced(whole.working[3:]))
    force, words = 0.0, []
    source: tuple[str, Status | None] = ("", None)
    if case.twist and made.twisted.path == "closed sections":
        left.append(
            f"what the twist of the body puts along its {part}: a closed section that is twisted has such a force "
            "where its ends are held from warping, which is not worked out"
        )
    elif case.twist and part == "sill":
        Q_3 = flows.get("floor without opening", flows["floor"]) * box.length
        force += case.twist * Q_3
        words.append(f"{newtons(Q_3):.4g} of the floor's shear, handed on at its end")
        source = (str(f.SILL_FORCE.source), f.SILL_FORCE.source.status)
    if made.still is None:
        left.append(f"the body's bending in its {part}: {made.unbent}")
    else:
        own = made.still.forces[part] + (made.still.forces.get("tunnel plate", 0.0) if part == "tunnel" else 0.0)
        hogging = own * made.axles.hogging / made.axles.sagging if made.axles.sagging else 0.0
        # over the axles it hogs while it sags between them; the worse of the two, with the sign of the twist
        sizes = (case.weight * own, -case.weight * hogging)
        bent = max(sizes, key=lambda one: abs(force + one))
        force += bent
        words.append(f"{newtons(bent):.4g} of bending")
        source = source if source[0] else _sourced(made.still.working[:1])
    told = f"{newtons(abs(force)):.4g} {'tension' if force >= 0 else 'compression'}"
    told += f": {joined(' and ', words)}" if words else ""
    return force, tuple(left), Station(f"{body.id}, {part}", told, *source)


def _sourced(working: Iterable[Evaluation]) -> tuple[str, Status | None]:
    first = next(iter(working), None)
    return ("", None) if first is None else (str(first.formula.source), first.formula.source.status)


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
    else:
        words = "the box is open: the closed sections of the floor carry all of the torque, twisted by "
        words += f"{twisted.degrees:.3g} degrees over its length if they are as ideal"
    return (
        f"{words}. An estimate by statics: sheets carry shear in their planes only, the section is the same all along"
    )
