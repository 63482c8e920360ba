"""What temporary tubes carry while a sheet of the body is out, shared by their stiffness.

The tubes stand in for the sheet: they hold its field against the shear flow that the twist of the body puts round it.
What the sheet did for bending stays with sills and sides.  Tubes and the joints at their ends that say
`load = "from ..."` take what falls to them.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from math import hypot
from typing import Any

from jointcalc.errors import InputError, nearest
from jointcalc.formula import body as f
from jointcalc.loads.body import CAUTION, KERB, askers
from jointcalc.model.body import Body, Bracing
from jointcalc.model.given import Context, Given, Station, Vector
from jointcalc.quantity.sentence import Measure, mm, newtons
from jointcalc.quantity.units import GRAVITY
from jointcalc.statics.body_bending import on_axles
from jointcalc.statics.body_twist import Torque, lifted_wheel
from jointcalc.statics.racking import rack, tube

Point = tuple[float, float]
ALIKE = 0.05
"""How much a tube's span may differ from the distance between its ends: its end fittings (common practice)."""


def gives(bracing: Bracing, context: Context) -> tuple[Given, ...]:
    """Forces of the tubes, to either side, for the braces and their end joints.  Raises InputError."""
    body = context.things.get(bracing.body)
    if not isinstance(body, Body):
        known = [name for name, one in context.things.items() if isinstance(one, Body)]
        raise InputError(
            f"'{bracing.body}' is not the id of a [[body]] of this file{nearest(bracing.body, known)}", field="body"
        )
    if not body.box.closed:
        raise InputError(
            f"the box of '{body.id}' is open even with its {bracing.face}, so its twist finds no path round it and "
            "these tubes alone make none; give its other sheets, or name them in its 'rings'",
            field="face",
        )
    tubes = [_tube(bracing, name, context) for name in bracing.tubes]
    asking = {item.id for item, _ in askers(bracing.id, context.items)}
    _refuse_silent(bracing, tubes, asking)
    long, wide = field_size(body, bracing.face)
    ends = [_ends(bracing, one, n, context.forward) for n, one in enumerate(tubes)]
    stiff = [
        tube(E=one.sheets[0].material.E, A=float(one.properties.area[0]), length=_length(e))
        for one, e in zip(tubes, ends)
    ]
    axles = on_axles(body.weights(GRAVITY), body.wheelbase)
    torque = lifted_wheel(axles.front, axles.rear, (body.track[0], body.track[1]), bracing.factor)
    flow = float(f.BREDT_FLOW(T=bracing.share * torque.torque, A=body.box.enclosed))
    racked = rack(long, wide, ends, [float(k.value) for k in stiff], flow)
    way = _way(bracing, body, torque, flow, (long, wide), racked.angle)
    found: list[Given] = []
    for sign, direction in ((1.0, "left wheel up"), (-1.0, "right wheel up")):
        common: dict[str, Any] = {
            "giver": bracing.id, "case": KERB, "direction": direction, "cautions": (CAUTION, "load-estimate"),
        }  # fmt: skip
        at_joints: dict[str, list[tuple[Vector, Vector]]] = {}
        for one, (start, end), force, k in zip(tubes, ends, sign * racked.forces, stiff):
            N = float(force)
            said = Station(
                one.id,
                f"EA/L {Measure(float(k.value), unit='N/mm'):.4g}: {newtons(abs(N)):.4g} "
                f"{'tension' if N >= 0 else 'compression'}",
                str(k.formula.source),
                k.formula.source.status,
            )
            fields = {"tension": N} if N > 0 else {"compression": -N} if N < 0 else {}
            told = common["cautions"] if one.end_joints else (*common["cautions"], "end-joints")
            found.append(
                Given(part=one.id, onto=frozenset({one.id}), fields=fields, way=(*way, said),
                      **{**common, "cautions": told})
            )  # fmt: skip
            for name, (here, there) in zip(one.end_joints, ((start, end), (end, start))):
                place, other = (_in_space(bracing, point, context.forward) for point in (here, there))
                size = _length((here, there))
                x, y, z = (N * (b - a) / size for a, b in zip(place, other))
                at_joints.setdefault(name, []).append((place, (x, y, z)))
        for name, pulls in at_joints.items():
            if name in asking:
                found.append(_joint(name, pulls, way, common))
    return tuple(found)


def _refuse_silent(bracing: Bracing, tubes: Sequence[Any], asking: Collection[str]) -> None:
    """Raises InputError for a tube, or a joint at its end, that does not ask for the load it would carry."""
    if silent := [one.id for one in tubes if one.id not in asking]:
        raise InputError(
            f"{', '.join(silent)} would carry its load unjudged: say load = 'from {bracing.id}' there", field="tubes"
        )
    joints = {name: one.id for one in tubes for name in one.end_joints}
    if silent := [name for name in joints if name not in asking]:
        raise InputError(
            f"{', '.join(silent)} at the end of {joints[silent[0]]} would carry its force unjudged: say "
            f"load = 'from {bracing.id}' there",
            field="tubes",
        )


def _way(
    bracing: Bracing, body: Body, torque: Torque, flow: float, field: tuple[float, float], angle: float
) -> tuple[Station, ...]:
    """The way of the load as far as the tubes share it, who hold a field that racks by an angle."""
    long, wide = field
    return (
        Station(
            f"{body.id}, {KERB}",
            f"the {torque.axle} axle with one wheel off the ground, standing"
            + (f" times {bracing.factor:g}" if bracing.factor != 1.0 else "")
            + f": {Measure(torque.torque / 1e3, unit='N*m'):.4g}",
            str(f.LIFTED_WHEEL_TORQUE.source),
            f.LIFTED_WHEEL_TORQUE.source.status,
        ),
        Station(
            bracing.id,
            f"holds {100 * bracing.share:.3g} % of it in place of the {bracing.face}: shear flow "
            f"{Measure(flow, unit='N/mm'):.3g} round a field of {mm(long, ' by ', wide):.4g}, with rigid edges and "
            f"hinged corners; it racks by {mm(angle * wide):.3g}. Sills and sides are taken to carry the body's "
            "bending without the sheet. An estimate: nobody drives or sits in the vehicle meanwhile",
            str(f.RACKING_ANGLE.source),
            f.RACKING_ANGLE.source.status,
        ),
    )


def _tube(bracing: Bracing, name: str, context: Context) -> Any:
    item = context.items.get(name)
    if item is None or item.kind != "brace":
        known = [one.id for one in context.items.values() if one.kind == "brace"]
        raise InputError(f"'{name}' is not the id of a [[brace]]{nearest(name, known)}", field="tubes")
    return item


def field_size(body: Body, face: str) -> Point:
    """Length along and width (or height) of a face of the body's box [mm]."""
    box = body.box
    if face in ("floor", "roof"):
        return box.length, box.width
    return (box.width if face in ("front", "rear") else box.length), box.height


def _ends(bracing: Bracing, item: Any, n: int, forward: Vector) -> tuple[Point, Point]:
    """Where a tube runs in the field of the face, along and across (or up) from its corner [mm]."""
    if bracing.points:
        x1, y1, x2, y2 = bracing.points[n]
        ends = ((x1, y1), (x2, y2))
    elif item.place is None:
        raise InputError(
            f"{item.id} does not say where it runs: give its 'place' ('x1 y1 x2 y2 mm' in the plan), or 'points' here",
            field="tubes",
        )
    else:
        x1, y1, x2, y2 = item.place
        ends = ((x1, y1), (x2, y2))
        ends = tuple((x - bracing.corner[0], y - bracing.corner[1]) for x, y in ends)  # type: ignore[assignment]
        if forward[1]:  # the body lies along y
            ends = ((ends[0][1], ends[0][0]), (ends[1][1], ends[1][0]))
    if abs(_length(ends) - item.length) > ALIKE * item.length:
        raise InputError(
            f"{item.id} runs over {mm(_length(ends)):.4g} and its span is {mm(item.length):.4g}; they are one length",
            field="tubes",
        )
    return ends


def _length(ends: tuple[Point, Point]) -> float:
    (x1, y1), (x2, y2) = ends
    return hypot(x2 - x1, y2 - y1)


def _in_space(bracing: Bracing, point: Point, forward: Vector) -> Vector:
    """A point of the face in the plan's axes [mm]; heights of a level face are not known and stay 0."""
    along, across = point
    x, y = bracing.corner
    lengthwise, level = bracing.face not in ("front", "rear"), bracing.face in ("floor", "roof")
    on_x = bool(forward[0]) == lengthwise
    if level:
        return (x + along, y + across, 0.0) if on_x else (x + across, y + along, 0.0)
    return (x + along, y, across) if on_x else (x, y + along, across)


def _joint(name: str, pulls: list[tuple[Vector, Vector]], way: tuple[Station, ...], common: dict[str, Any]) -> Given:
    """All tubes that meet in one joint, at the place of the first."""
    at = pulls[0][0]
    force, moment = [0.0, 0.0, 0.0], [0.0, 0.0, 0.0]
    for place, one in pulls:
        x, y, z = (a - b for a, b in zip(place, at))
        turn = (y * one[2] - z * one[1], z * one[0] - x * one[2], x * one[1] - y * one[0])
        force = [a + b for a, b in zip(force, one)]
        moment = [a + b for a, b in zip(moment, turn)]
    size = (force[0] ** 2 + force[1] ** 2 + force[2] ** 2) ** 0.5
    said = Station(name, f"holds the tubes that end there with {newtons(size):.4g}")
    return Given(
        part=name, onto=frozenset({name}), at=at, force=(force[0], force[1], force[2]),
        moment=(moment[0], moment[1], moment[2]), way=(*way, said), **common,
    )  # fmt: skip
