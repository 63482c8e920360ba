"""How each kind takes a load that follows from something else: forces in the plan's axes become numbers of its fields.

What a kind has no field for is not dropped: it comes back as a sentence in `left`, and the item is `outside` for it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from math import hypot
from typing import Any

from jointcalc.errors import InputError
from jointcalc.model.bolts import FastenerGroup
from jointcalc.model.brace import Brace
from jointcalc.model.fillet import FilletGroup
from jointcalc.model.given import Given, Station, Vector
from jointcalc.model.panel import Panel
from jointcalc.model.plug import PlugRow
from jointcalc.model.seam import SpotSeam
from jointcalc.quantity.sentence import Measure, mm, newtons


@dataclass(frozen=True, slots=True)
class Taken:
    """Numbers for the fields of an item (N, mm, N·mm), what is left of the load in sentences, and how it was taken."""

    fields: Mapping[str, Any]
    left: tuple[str, ...] = ()
    way: tuple[Station, ...] = field(default=())
    cautions: tuple[str, ...] = ()
    """Codes of cautions that the way it takes its load raises."""


NOTHING = 1e-9
"""What is left of a moment or a length by rounding alone."""

AXES: Mapping[str, Vector] = {
    "x": (1.0, 0.0, 0.0), "y": (0.0, 1.0, 0.0), "z": (0.0, 0.0, 1.0),
    "-x": (-1.0, 0.0, 0.0), "-y": (0.0, -1.0, 0.0), "-z": (0.0, 0.0, -1.0),
}  # fmt: skip


def bolts(item: FastenerGroup, given: Sequence[Given]) -> Taken:
    """Force and moment at the middle of the pattern's axes, turned into them."""
    return _group(item, given)


def fillet(item: FilletGroup, given: Sequence[Given]) -> Taken:
    """Force and moment at the origin of the weld's axes, turned into them."""
    return _group(item, given)


def _group(item: FastenerGroup | FilletGroup, given: Sequence[Given]) -> Taken:
    named = _fields(item, given)
    loose = [one for one in given if any(one.force) or any(one.moment)]
    if any(one.flow for one in given):
        raise InputError(f"takes forces, and {given[0].name} gives a shear flow along a line", field="load")
    if not loose:
        return Taken(*named)
    base = _base(item.axes)
    force, moment = [0.0, 0.0, 0.0], [0.0, 0.0, 0.0]
    for one in loose:
        f, m = _turned(base, one.force), _turned(base, one.moment)
        if item.origin is not None:
            x, y, z = _turned(base, tuple(a - o for a, o in zip(one.at, item.origin)))
            m = (m[0] + y * f[2] - z * f[1], m[1] + z * f[0] - x * f[2], m[2] + x * f[1] - y * f[0])
        force = [a + b for a, b in zip(force, f)]
        moment = [a + b for a, b in zip(moment, m)]
    where = (
        "in the middle of the joint's axes, where its 'origin' is not given"
        if item.origin is None
        else "at its own place beside the joint"
    )
    said = Station(
        item.id or item.kind,
        f"takes {newtons(force[0]):.4g} along its x, {newtons(force[1]):.4g} along its y and {newtons(force[2]):.4g} "
        f"along its z, {where}",
    )
    return Taken({**named[0], "force": tuple(force), "at": (0.0, 0.0, 0.0), "moment": tuple(moment)}, named[1], (said,))


def _base(text: str) -> tuple[Vector, Vector, Vector]:
    """Unit vectors of a joint's x, y and z in the plan's axes, of `x y` or `-y z`."""
    first, second = (AXES[word] for word in text.split())
    a, b = first, second
    return a, b, (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def _turned(base: tuple[Vector, Vector, Vector], v: Sequence[float]) -> Vector:
    x, y, z = (sum(a * b for a, b in zip(axis, v)) for axis in base)
    return x, y, z


# --- rows of welds -------------------------------------------------------------------------------------


def seam(item: SpotSeam, given: Sequence[Given]) -> Taken:
    """A shear flow times the length; a force resolved along the row, across it and off the sheet."""
    fields, left, way = _row(item, given)
    off = fields.pop("off", 0.0)
    if off:
        fields["peel"] = off
    return Taken(fields, left, way)


def plug(item: PlugRow, given: Sequence[Given]) -> Taken:
    """A shear flow times the length; a force resolved along the row, across it and off the sheet."""
    fields, left, way = _row(item, given)
    off = fields.pop("off", 0.0)
    if off:
        fields["uplift"] = off
    turn = fields.pop("moment", 0.0)
    if turn:
        even = abs(turn) * _lever(item)
        fields["across"] = fields.get("across", 0.0) + even
        way = (*way, Station(item.id, f"is turned in its plane: as {newtons(even):.4g} across, as its end weld gets"))
    return Taken(fields, left, way)


def _row(
    item: SpotSeam | PlugRow, given: Sequence[Given]
) -> tuple[dict[str, Any], tuple[str, ...], tuple[Station, ...]]:
    named, left = _fields(item, given)
    fields: dict[str, Any] = dict(named)
    along = across = off = tilt = turn = 0.0
    said = []
    for one in given:
        if one.flow:
            flow = abs(one.flow)
            along += flow * item.length
            said.append(f"{newtons(flow * item.length):.4g} along its {mm(item.length):g}, from {one.name}")
        if not any(one.force) and not any(one.moment):
            continue
        u = _line(item, one)
        x, y = (0.0, 0.0) if one.right_there else (one.at[0] - u.middle[0], one.at[1] - u.middle[1])
        dust = NOTHING * hypot(*one.force)
        along += _but_for(dust, abs(one.force[0] * u.x + one.force[1] * u.y))
        across += _but_for(dust, abs(one.force[1] * u.x - one.force[0] * u.y))
        pressed = abs(one.force[2]) if one.force[2] * PRESSES[item.presses] > 0.0 else 0.0
        if pressed:
            said.append(f"{newtons(pressed):.4g} of {one.name} press the sheets together: contact carries it")
        else:
            off += one.force[2]
        arm = x * one.force[1] - y * one.force[0]
        turn += one.moment[2] + (arm if abs(arm) > dust * item.length else 0.0)
        tilts = (one.moment[0] + y * one.force[2], one.moment[1] - x * one.force[2])
        lift = _tilted(item, tilts[0] * u.x + tilts[1] * u.y, tilts[1] * u.x - tilts[0] * u.y) - pressed
        if lift > NOTHING:
            tilt += lift
            said.append(
                f"the tilt by {one.name} as {newtons(lift):.4g} that lift it off evenly, as its end spot is lifted"
            )
        said.append(f"the force of {one.name}, resolved along the row, across it and off the sheet")
    # a force down and a tilt both lift one end: their signs never take from one another
    values = {"shear": along, "across": across, "off": abs(off) + tilt, "moment": turn}
    fields.update({name: value for name, value in values.items() if value})
    if along and not item.enters and not any(any(one.force) or any(one.moment) for one in given):
        fields["enters"] = "along"  # a flow comes in everywhere
    way = (Station(item.id, f"takes {'; '.join(said)}"),) if said else ()
    return fields, left, way


def _but_for(dust: float, size: float) -> float:
    return size if size > dust else 0.0


def _tilted(item: SpotSeam | PlugRow, about_row: float, along_row: float) -> float:
    """An even lift [N] that pulls every weld as the hardest pulled one is by two moments [N·mm] in the sheets' plane.

    The moment about the row's own line has the edge distance for its lever, to where the sheet's edge bears; the other
    is shared in proportion to the distance from the middle of the row, as in any group (elastic, derivation).
    """
    return abs(about_row) / item.edge + abs(along_row) * _lever(item)


def _lever(item: SpotSeam | PlugRow) -> float:
    """Even load on the row per moment [1/mm] that loads every weld as the moment loads the end one.

    A single weld has no lever but its edge distance.
    """
    places = [(k - (item.along - 1) / 2) * item.actual_pitch for k in range(item.along)]
    second = item.rows * sum(c * c for c in places)
    return places[-1] / second * item.welds if second > 0.0 else 1.0 / item.edge


PRESSES: Mapping[str, float] = {"": 0.0, "down": -1.0, "up": 1.0}
"""Sign along z of a force that presses the sheets of a row together."""


@dataclass(frozen=True, slots=True)
class _Line:
    x: float
    y: float
    length: float
    start: tuple[float, float]

    @property
    def middle(self) -> tuple[float, float]:
        return self.start[0] + self.x * self.length / 2, self.start[1] + self.y * self.length / 2


def _line(item: Any, one: Given) -> _Line:
    """The line of an item in the plan.  InputError where it does not say where it lies."""
    if item.place is None:
        raise InputError(
            f"takes a force from {one.name}, so it has to be known where it lies: give 'place', such as "
            "'0 0 0 1480 mm' (from x y to x y in the plan)",
            field="place",
        )
    x1, y1, x2, y2 = item.place
    length = hypot(x2 - x1, y2 - y1)
    if length == 0.0:
        raise InputError("begins and ends at the same point", field="place")
    return _Line((x2 - x1) / length, (y2 - y1) / length, length, (x1, y1))


# --- members and panels ----------------------------------------------------------------------------------


def brace(item: Brace, given: Sequence[Given]) -> Taken:
    """Upright forces as points at their place along the brace; what pushes sideways or along goes to what holds it."""
    fields, left = _fields(item, given)
    points, couples, torques, way = [], [], [], []
    racked, pushed = False, _Level()
    for one in given:
        if not any(one.force) and not any(one.moment):
            continue
        u = _line(item, one)
        at = (one.at[0] - u.start[0]) * u.x + (one.at[1] - u.start[1]) * u.y
        beside = (one.at[1] - u.start[1]) * u.x - (one.at[0] - u.start[0]) * u.y
        if abs(u.length - item.length) > ALIKE * item.length:
            raise InputError(
                f"is {mm(u.length):.4g} long in the plan and its spans are {mm(item.length):g} together; where "
                f"{one.name} stands on it cannot be known",
                field="place",
            )
        at *= item.length / u.length
        if not -NOTHING * item.length <= at <= item.length * (1 + NOTHING):
            raise InputError(
                f"{one.name} stands {mm(at):.4g} along the brace from its start, which is {mm(item.length):g} long",
                field="place",
            )
        at = min(max(at, 0.0), item.length)
        if one.force[2]:
            points.append((-one.force[2], at))
            way.append(
                Station(
                    item.id,
                    f"takes {newtons(-one.force[2]):.4g} downwards from {one.name}, {mm(at):.4g} from its start",
                )
            )
        level = hypot(one.force[0], one.force[1])
        if level:
            if item.held == "none":
                _level(item, one, u, at, pushed)
                way.append(
                    Station(
                        item.id,
                        f"is pushed level on its top with {newtons(level):.4g} by {one.name}: along it as a thrust, "
                        "across it as a moment sideways between its ends and a torque",
                    )
                )
            else:
                across = abs(one.force[1] * u.x - one.force[0] * u.y)
                racked = racked or (item.held == "bottom" and across > NOTHING * level)
                way.append(
                    Station(
                        item.id,
                        f"hands {newtons(level):.4g} level from {one.name} to the sheet that holds its face: the seam "
                        "between them has to carry it",
                    )
                )
        bend = one.moment[1] * u.x - one.moment[0] * u.y
        if bend:
            couples.append((bend, at))
        twist = one.moment[0] * u.x + one.moment[1] * u.y + beside * one.force[2]
        if abs(twist) > NOTHING * max(1.0, abs(one.force[2])) * item.length:
            torques.append((twist, at))
            way.append(
                Station(
                    item.id,
                    f"is twisted by {one.name}, which stands {mm(abs(beside)):.4g} beside its line: "
                    f"{Measure(twist / 1e3, unit='N*m'):.4g}",
                )
            )
        if one.moment[2]:
            left = (*left, f"{one.name} turns it level, which is not judged")
    if points:
        fields["point"] = points
    if couples:
        fields["moment"] = couples
    torques += pushed.torques
    couples += pushed.couples
    if pushed.aside:
        fields["aside"] = pushed.aside
    if pushed.along:
        fields["compression"] = pushed.along
        if not item.typed("eccentricity"):
            fields["eccentricity"] = 0.0  # its height is in the couples
    if torques:
        fields["torque"] = torques
    return Taken(fields, tuple(left), tuple(way), ("racked",) if racked else ())


@dataclass(slots=True)
class _Level:
    """What level forces on the top of a brace do to it."""

    aside: float = 0.0
    along: float = 0.0
    torques: list[tuple[float, float]] = field(default_factory=list)
    couples: list[tuple[float, float]] = field(default_factory=list)


def _level(item: Brace, one: Given, u: _Line, at: float, pushed: _Level) -> None:
    """A level force on the top of a brace whose spans are pinned sideways: the largest moments of all are added up."""
    along = one.force[0] * u.x + one.force[1] * u.y
    across = one.force[1] * u.x - one.force[0] * u.y
    p, turned = item.properties, item.lies == "flanges-up"
    high = float((p.z_centroid - p.z_bottom if turned else p.z_top - p.z_centroid)[0])
    shear_centre = float((p.z_shear_centre - p.z_centroid)[0]) * (-1.0 if turned else 1.0)
    supports = [s.at for s in item.supports]
    before = max((s for s in supports if s <= at), default=None)
    after = min((s for s in supports if s > at), default=None)
    if before is not None and after is not None:
        pushed.aside += abs(across) * (at - before) * (after - at) / (after - before)
    else:
        pushed.aside += abs(across) * min(abs(at - s) for s in supports)  # beyond its last support
    if across:
        pushed.torques.append((-(high - shear_centre) * across, at))
    if along:
        pushed.couples.append((high * along, at))
        pushed.along += abs(along)


ALIKE = 0.05
"""How much a brace's spans may differ from the length of its place in the plan and still be the same: the bearings at
its ends (common practice, no source).  Places along it are stretched by as much."""


def panel(item: Panel, given: Sequence[Given]) -> Taken:
    """A shear flow along its edges; what the giver puts into its fields by name."""
    fields, left = _fields(item, given)
    flow = sum(abs(one.flow) for one in given)
    way: tuple[Station, ...] = ()
    if flow:
        fields["shear"] = flow
        way = (Station(item.id, f"takes the shear flow {flow:.4g} N/mm along its four edges"),)
    for one in given:
        if any(one.force) or any(one.moment):
            left = (*left, f"the force of {one.name}, which stands on no known place of the panel; give it as 'patch'")
    return Taken(fields, tuple(left), way)


def _fields(item: Any, given: Iterable[Given]) -> tuple[dict[str, Any], tuple[str, ...]]:
    """What the givers put into fields by name, and what they leave."""
    fields: dict[str, Any] = {}
    left: list[str] = []
    for one in given:
        left += one.left
        for name, value in one.fields.items():
            if name in fields and isinstance(value, int | float):
                fields[name] += value
            elif name in fields:
                fields[name] = (*fields[name], *value)
            else:
                fields[name] = value
    return fields, tuple(dict.fromkeys(left))
