"""What stands on a frame, put on its members: things on feet, masses and forces, fields of pressure, its own weight."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil

import numpy as np
import numpy.typing as npt

from jointcalc.errors import InputError
from jointcalc.kinds.frame.model import FrameLoad
from jointcalc.kinds.frame.plan import END_GAP, UP, Plan
from jointcalc.model.given import Context, Station, Vector
from jointcalc.quantity.compare import above
from jointcalc.quantity.sentence import Measure, mm, newtons
from jointcalc.statics import frame as statics

Array = npt.NDArray[np.float64]
Key = tuple[str, str]

HANGS = 200.0
"""How far beside the outermost member a foot may stand, or a field reach, on the sheet [mm] (our own choice)."""

CELLS = 120
"""Cells of a field of pressure along its longer side."""


@dataclass(slots=True)
class OnMember:
    """What acts on a member in one case: at `start`, or per mm from `start` to `end`; plan axes."""

    member: int
    case: int
    start: float
    force: Array
    moment: Array
    end: float | None = None


def felt(key: Key, context: Context) -> Array:
    """Acceleration that everything feels in a case and direction."""
    case = context.cases.get(key[0])
    for one in case.fields if case else ():
        if one.direction == key[1]:
            return np.array(one.acceleration, dtype=float)
    return np.zeros(3)


def put(
    plan: Plan, case: int, at: Sequence[float], force: Sequence[float] | Array, moment: Sequence[float], name: str,
    notes: list[str],
) -> list[OnMember]:  # fmt: skip
    """A force and moment at a place, put on the member under it, or shared by the two beside it."""
    F, M, place = (np.array(v, dtype=float) for v in (force, moment, at))
    near = [(*one.nearest(at), one) for one in plan.laid]
    distance, s, one = min(near, key=lambda f: f[0] - f[2].half)
    if distance <= one.half + END_GAP:
        if distance > 1.0:
            notes.append(f"{name} stands on {one.id}, {mm(distance):.3g} beside its line, which twists it")
        return [OnMember(one.n, case, s, F, M + np.cross(place - one.point(s), F))]
    ways = [(d, t, other, other.point(t)[:2] - place[:2]) for d, t, other in near]
    pairs = [
        (a[0] + b[0], a, b)
        for i, a in enumerate(ways)
        for b in ways[i + 1 :]
        if np.dot(a[3], b[3]) < -0.5 * a[0] * b[0]
    ]
    if pairs:
        whole, a, b = min(pairs, key=lambda p: p[0])
        shares = [(a, b[0] / whole), (b, a[0] / whole)]
        notes.append(
            f"{name} stands on the sheet between {a[2].id} and {b[2].id}, {mm(a[0], ' and ', b[0]):.4g} from them: "
            "both carry it by the lever"
        )
    else:
        if distance > one.half + HANGS:
            raise InputError(
                f"{name} stands at {mm(at[0], ' ', at[1]):g}, on no member and between no two; {one.id} is nearest, "
                f"{mm(distance):.4g} beside it: put a member under it",
                field="carries",
            )
        shares = [((distance, s, one, None), 1.0)]
        notes.append(f"{name} stands beside {one.id} on the sheet, {mm(distance):.4g} from its line, which twists it")
    left = M.copy()
    for (_, t, other, _), share in shares:
        left -= np.cross(other.point(t) - place, share * F)
    return [OnMember(other.n, case, t, share * F, share * left) for (_, t, other, _), share in shares]


def own_load(
    frame: str, plan: Plan, n: int, load: FrameLoad, case: int, key: Key, context: Context, way: dict[Station, None],
    notes: list[str],
) -> list[OnMember]:  # fmt: skip
    """A load of the frame's own in one case."""
    if load.case not in ("", key[0]):
        return []
    name = f"load {n + 1}"
    case_ = context.cases[key[0]]

    def told(said: str) -> None:
        way[Station(f"{frame} {name}", f"{said}, in {case_.title}", case_.source, case_.status)] = None

    if load.mass is not None and load.corners is not None:
        force = load.mass * felt(key, context)
        if not np.any(force):
            return []
        pressed = Measure(-float(force[2]) / extent(load.corners)[0] * 1e3, unit="kPa")
        told(f"{Measure(load.mass * 1e3, unit='kg'):g} spread out press with {pressed:.4g} down")
        notes.append(f"what presses spread out in {name} is shared to the nearest member (tributary strips)")
        return _spread(plan, name, load.corners, case, force, notes)
    if load.pressure is not None:
        assert load.corners is not None
        found, total = _field(plan, case, load.corners, load.pressure)
        where = "shared to the nearest member (tributary strips)"
        told(f"presses with {Measure(load.pressure * 1e3, unit='kPa'):g} on its field, {newtons(total):.4g} in all")
        notes.append(f"the pressure of {name}, {newtons(total):.4g} in all, is {where}")
        return found
    if load.mass is not None:
        force = load.mass * felt(key, context)
        if not np.any(force):
            return []
        said = f"{Measure(load.mass * 1e3, unit='kg'):g} press with {newtons(-force[2]):.4g} down"
    else:
        assert load.force is not None
        force = np.array(load.force, dtype=float)
        said = f"acts with {newtons(force[0], ' ', force[1], ' ', force[2]):.4g} along x, y, z"
    assert load.at is not None
    level = load.at[2] if len(load.at) == 3 else None
    x, y = load.at[:2]
    if level is None:  # on top of what it stands on
        _, s, one = min(((*m.nearest(load.at), m) for m in plan.laid), key=lambda f: f[0] - f[2].half)
        level = float(one.point(s)[2]) + one.top
    told(said)
    try:
        return put(plan, case, (x, y, level), force, (0.0, 0.0, 0.0), name, notes)
    except InputError as error:
        raise InputError(error.message, field=f"loads: {n + 1}: at") from error


def _spread(
    plan: Plan, name: str, corners: Sequence[float], case: int, force: Array, notes: list[str]
) -> list[OnMember]:
    """A mass that lies spread over a field: pressed as a pressure, and pushed level in the middle of the field."""
    area, (x, y) = extent(corners)
    found, _ = _field(plan, case, corners, abs(float(force[2])) / area)
    if force[2] > 0.0:
        for one in found:
            one.force = -one.force
    if np.any(force[:2]):
        _, s, near = min(((*m.nearest((x, y)), m) for m in plan.laid), key=lambda f: f[0] - f[2].half)
        level = float(near.point(s)[2]) + near.top
        flat = (float(force[0]), float(force[1]), 0.0)
        found += put(plan, case, (x, y, level), flat, (0.0, 0.0, 0.0), name, notes)
    return found


def extent(corners: Sequence[float]) -> tuple[float, tuple[float, float]]:
    """(area [mm²], middle) of a field of straight sides.  InputError when it has no area."""
    x, y = _ring(corners).T
    cross = x * np.roll(y, -1) - y * np.roll(x, -1)
    area = float(cross.sum()) / 2
    if area == 0.0:
        raise InputError("its corners enclose no area", field="loads: corners")
    middle = [float(((v + np.roll(v, -1)) * cross).sum()) / (6 * area) for v in (x, y)]
    return abs(area), (middle[0], middle[1])


def _ring(corners: Sequence[float]) -> Array:
    """Its corners in turn (n, 2); two are opposite ones of a rectangle."""
    ring = np.array(corners, dtype=float).reshape(-1, 2)
    if len(ring) == 2:
        (x1, y1), (x2, y2) = ring
        ring = np.array([(x1, y1), (x2, y1), (x2, y2), (x1, y2)])
    return ring


def _field(plan: Plan, case: int, corners: Sequence[float], pressure: float) -> tuple[list[OnMember], float]:
    """(line loads, whole force [N]) of a pressure over a field, each cell of which goes to the nearest member."""
    ring = _ring(corners)
    area, _ = extent(corners)
    low, high = ring.min(axis=0), ring.max(axis=0)
    lines = np.array([end[:2] for one in plan.laid for end in (one.start, one.end)])
    beyond = float(np.max([lines.min(axis=0) - low, high - lines.max(axis=0)]))
    if above(beyond, HANGS):
        raise InputError(
            f"its field reaches {mm(beyond):.4g} beyond the members, which no sheet can hang on; put a member under it",
            field="loads: corners",
        )
    size = float((high - low).max()) / CELLS
    counts = np.maximum(np.ceil((high - low) / size - 1e-9), 1).astype(int)
    steps = (high - low) / counts
    grid = np.stack(
        np.meshgrid(*(low[k] + steps[k] * (np.arange(counts[k]) + 0.5) for k in (0, 1)), indexing="ij"), axis=-1
    ).reshape(-1, 2)
    cells = grid[_inside(grid, ring)]
    each = pressure * area / len(cells)  # cut cells at slanted edges are evened out: the whole is exact
    reach = np.empty((len(plan.laid), len(cells)))
    place = np.empty_like(reach)
    for one in plan.laid:
        a, d = one.start[:2], (one.end - one.start)[:2]
        share = np.clip((cells - a) @ d / np.dot(d, d), 0.0, 1.0)
        reach[one.n] = np.linalg.norm(cells - a - share[:, None] * d, axis=1)
        place[one.n] = share * one.length
    mine = reach <= reach.min(axis=0) + 1e-6  # a cell between two as near goes to both in halves
    part = each * mine / mine.sum(axis=0)
    found = []
    for n in np.flatnonzero(mine.any(axis=1)):
        one = plan.laid[n]
        s, weight = place[n][mine[n]], part[n][mine[n]]
        # strips as wide as a few cells along the member
        cell = float(abs(one.along[:2]) @ steps)
        first, last = max(float(s.min()) - cell / 2, 0.0), min(float(s.max()) + cell / 2, one.length)
        bins = max(1, ceil((last - first) / (5 * cell) - 1e-6))
        wide = (last - first) / bins
        number = np.clip(((s - first) / wide).astype(int), 0, bins - 1)
        sizes = (np.bincount(number, weights=weight, minlength=bins) / wide).tolist()
        start, few = 0, 0.02 * max(sizes)
        for k in range(1, bins + 1):
            mean = sum(sizes[start:k]) / (k - start)
            if k < bins and abs(sizes[k] - mean) <= few:
                continue
            if mean > 0:
                down = -mean * UP
                found.append(OnMember(int(n), case, first + start * wide, down, np.zeros(3), first + k * wide))
            start = k
    return found, pressure * area


def _inside(points: Array, ring: Array) -> npt.NDArray[np.bool_]:
    """Which points lie within a ring of corners."""
    x, y = points.T
    out = np.zeros(len(points), dtype=bool)
    for (x1, y1), (x2, y2) in zip(ring, np.roll(ring, -1, axis=0)):
        crosses = (y1 > y) != (y2 > y)
        if y1 != y2:
            out ^= crosses & (x < x1 + (y - y1) * (x2 - x1) / (y2 - y1))
    return out


def weight(plan: Plan, keys: Sequence[Key], context: Context) -> list[OnMember]:
    """The members' own weight, in every case that has an acceleration."""
    found = []
    for k, key in enumerate(keys):
        pull = felt(key, context)
        if not np.any(pull):
            continue
        for one in plan.laid:
            mass = float(one.section.properties.mass_per_metre[0]) * 1e-6  # kg/m is 1e-6 t/mm
            found.append(OnMember(one.n, k, 0.0, mass * pull, np.zeros(3), one.length))
    return found


def on_elements(plan: Plan, one: OnMember) -> list[statics.MemberLoad]:
    """The same on the elements of its member."""
    member = plan.laid[one.member]
    places = [s for s, _ in member.nodes]
    found: list[tuple[int, float, float | None]] = []
    for n, (a, b) in enumerate(pairwise(places)):
        if one.end is None:
            if a <= one.start < b or (n == len(places) - 2 and one.start >= b):
                found.append((n, min(max(one.start, a), b) - a, None))
        elif min(one.end, b) - max(one.start, a) > 1e-9 * member.length:
            found.append((n, max(one.start, a) - a, min(one.end, b) - a))
    return [
        statics.MemberLoad(member.elements[n], s, vector(one.force), vector(one.moment), end=e, case=one.case)
        for n, s, e in found
    ]


def vector(v: Array) -> Vector:
    """Three numbers of an array; nought has no sign."""
    x, y, z = (float(a) + 0.0 for a in v)
    return x, y, z
