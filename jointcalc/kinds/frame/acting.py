"""A frame under the cases of its project: what stands on it, its solution, and what it gives to braces, joints, seams.

A brace is given what stands on it, the forces of the members that cross it and the moments at its ends, as a beam that
is held at both ends: so it has the bending moments and shear forces of the frame, whatever its own `ends` say.  What a
brace has no field for (bending sideways, twist) is told and makes it `outside`, above a hundredth of its yield.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from math import ceil, hypot, inf, sqrt
from typing import Any

import numpy as np
import numpy.typing as npt

from jointcalc.errors import InputError
from jointcalc.formula.core import Status
from jointcalc.kinds.frame.model import Frame, FrameLoad
from jointcalc.kinds.frame.plan import END_GAP, UP, Laid, Plan, lay
from jointcalc.model.given import Context, Field, Given, Station, Vector
from jointcalc.quantity.sentence import Measure, Sentence, mm, newtons
from jointcalc.statics import frame as statics
from jointcalc.statics.frame_line import Line

Array = npt.NDArray[np.float64]
Key = tuple[str, str]

SMALL = 0.01
"""Part of yield below which bending sideways and twist of a brace are told and left out (our own choice)."""
HANGS = 200.0
"""How far beside the outermost member a foot may stand on the sheet [mm] (our own choice)."""
CELLS = 120
"""Cells of a field of pressure along its longer side."""
SOURCE = "stiffness method with shear deformation (Przemieniecki 1968, 5.6)"
STATUS: Status = "from memory"


@dataclass(slots=True)
class OnMember:
    """What acts on a member in one case: at `start`, or per mm from `start` to `end`; plan axes."""

    member: int
    case: int
    start: float
    force: Array
    moment: Array
    end: float | None = None


@dataclass(slots=True)
class Solved:
    """A frame solved for all its cases."""

    frame: Frame
    plan: Plan
    keys: list[Key]
    found: statics.Frame
    acting: list[OnMember]
    notes: list[Sentence]
    ways: list[tuple[Station, ...]]
    """Stations of what stands on it, case by case."""
    factors: list[tuple[float | None, float | None]] = field(default_factory=list)
    """(load factor, cycles) of each case."""
    cautions: list[tuple[str, ...]] = field(default_factory=list)
    _lines: dict[int, Line] = field(default_factory=dict)
    _by: dict[tuple[int, int], list[OnMember]] = field(default_factory=dict)

    def line(self, element: int) -> Line:
        """Forces and deflection along an element, worked out once."""
        if element not in self._lines:
            self._lines[element] = self.found.line(element)
        return self._lines[element]

    def on(self, member: int, case: int) -> list[OnMember]:
        """What acts on a member in a case."""
        if not self._by:
            for one in self.acting:
                self._by.setdefault((one.member, one.case), []).append(one)
        return self._by.get((member, case), [])


def solved(frame: Frame, context: Context) -> Solved:
    """The frame with everything it carries, solved.  Raises InputError."""
    plan = lay(frame, context.items)
    notes = list(plan.notes)
    stood = _carried(frame, context)
    keys = _keys(frame, stood, context)
    acting: list[OnMember] = []
    ways: list[dict[Station, None]] = [{} for _ in keys]
    cautions: list[dict[str, None]] = [{} for _ in keys]
    factors: list[tuple[float | None, float | None]] = []
    for key in keys:
        case = context.cases.get(key[0])
        factors.append((case.load_factor if case else None, case.cycles if case else None))
    for given in stood:
        k = keys.index((given.case, given.direction))
        acting += _put(plan, k, given.at, given.force, given.moment, given.name, notes)
        ways[k].update(dict.fromkeys(given.way))
        cautions[k].update(dict.fromkeys(given.cautions))
        if given.load_factor is not None:
            factors[k] = (given.load_factor, given.cycles)
    for n, load in enumerate(frame.loads):
        for k, key in enumerate(keys):
            acting += _own(plan, n, load, k, key, context, ways[k], notes)
    if frame.own_weight:
        acting += _weight(plan, keys, context)
        notes.append("the members' own weight is carried too, in every case that has an acceleration")
    notes.append(
        "members are joined rigidly where they cross; ends as they are said, fixed where nothing is said; the sheet on "
        "the frame stiffens nothing"
    )
    loads: list[statics.NodeLoad | statics.MemberLoad] = []
    for one in acting:
        loads += _loads(plan, one)
    try:
        found = statics.solve(plan.nodes, plan.elements, loads, cases=len(keys))
    except InputError as error:
        raise InputError(error.message, field={"support": "supports"}.get(error.field, "members")) from error
    said = [Sentence(note) for note in dict.fromkeys(notes)]
    return Solved(
        frame, plan, keys, found, acting, said, [tuple(w) for w in ways], factors,
        [tuple(c) for c in cautions],
    )  # fmt: skip


def _carried(frame: Frame, context: Context) -> list[Given]:
    found: list[Given] = []
    for name in frame.carries:
        if name not in context.given:
            told = ", ".join(sorted(n for n, g in context.given.items() if g)) or "nothing gives loads before a frame"
            raise InputError(f"'{name}' puts no load on anything in this file (these do: {told})", field="carries")
        mine = [one for one in context.given[name] if any(one.force) or any(one.moment)]
        taken = sorted({item for one in mine for item in one.onto if item != frame.id and item in context.items})
        double = [i for i in taken if _asks(context.items[i], frame.id)]
        if double:
            raise InputError(
                f"'{name}' stands on {', '.join(double)} already, which also asks this frame for its load; let it "
                "stand on the frame alone",
                field="carries",
            )
        found += mine
    for item in context.items.values():
        names = [text.split()[1] for text in getattr(item, "load", ()) if len(text.split()) > 1]
        if frame.id in names and set(names) & set(frame.carries):
            both = sorted(set(names) & set(frame.carries))[0]
            raise InputError(
                f"'{both}' stands on this frame, and {item.id} asks for both: it would count twice; let {item.id} ask "
                f"for 'from {frame.id}'",
                field="carries",
            )
    return found


def _asks(item: Any, name: str) -> bool:
    return any(f"{text} ".startswith(f"from {name} ") for text in getattr(item, "load", ()))


def _keys(frame: Frame, stood: Sequence[Given], context: Context) -> list[Key]:
    keys: dict[Key, None] = {(one.case, one.direction): None for one in stood}
    for n, load in enumerate(frame.loads):
        if load.case and load.case not in context.cases:
            raise InputError(f"'{load.case}' is not the id of a [[case]]", field=f"loads: {n + 1}: case")
        for case in context.cases.values():
            if load.case not in ("", case.id):
                continue
            fields = [one for one in case.fields if any(one.acceleration)]
            if load.mass is not None and load.case and not fields:
                raise InputError(
                    f"case '{case.id}' says no acceleration, so a mass weighs nothing in it: give the case one, "
                    "such as '0 0 -1 g'",
                    field=f"loads: {n + 1}: case",
                )
            here = fields if load.mass is not None else (case.fields or (Field(),))
            keys.update({(case.id, one.direction): None for one in here})
    if not keys:
        raise InputError(
            "nothing loads it in any case: name what it 'carries', or give it 'loads' and a [[case]] with an "
            "acceleration such as '0 0 -1 g'",
            field="carries",
        )
    return list(keys)


def _felt(key: Key, context: Context) -> Array:
    """Acceleration that everything feels in a case and direction."""
    case = context.cases.get(key[0])
    for one in case.fields if case else ():
        if one.direction == key[1]:
            return np.array(one.acceleration, dtype=float)
    return np.zeros(3)


# --- loads ---------------------------------------------------------------------------------------------------


def _put(
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


def _own(
    plan: Plan, n: int, load: FrameLoad, case: int, key: Key, context: Context, way: dict[Station, None],
    notes: list[str],
) -> list[OnMember]:  # fmt: skip
    """A load of the frame's own in one case."""
    if load.case not in ("", key[0]):
        return []
    name = f"load {n + 1}"
    if load.pressure is not None:
        assert load.corners is not None
        found, total = _field(plan, case, load.corners, load.pressure)
        where = "shared to the nearest member (tributary strips)"
        way[
            Station(
                name,
                f"presses with {Measure(load.pressure * 1e3, unit='kPa'):g} on its field, {newtons(total):.4g} in all",
            )
        ] = None
        notes.append(f"the pressure of {name}, {newtons(total):.4g} in all, is {where}")
        return found
    if load.mass is not None:
        force = load.mass * _felt(key, context)
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
    way[Station(name, said)] = None
    try:
        return _put(plan, case, (x, y, level), force, (0.0, 0.0, 0.0), name, notes)
    except InputError as error:
        raise InputError(error.message, field=f"loads: {n + 1}: at") from error


def _field(plan: Plan, case: int, corners: Sequence[float], pressure: float) -> tuple[list[OnMember], float]:
    """(line loads, whole force [N]) of a pressure over a field, each cell of which goes to the nearest member."""
    ring = np.array(corners, dtype=float).reshape(-1, 2)
    if len(ring) == 2:
        (x1, y1), (x2, y2) = ring
        ring = np.array([(x1, y1), (x2, y1), (x2, y2), (x1, y2)])
    x, y = ring.T
    area = abs(float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1)))) / 2
    if area <= 0.0:
        raise InputError("its corners enclose no area", field="loads: corners")
    low, high = ring.min(axis=0), ring.max(axis=0)
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
        sizes = np.bincount(number, weights=weight, minlength=bins) / wide
        start = 0
        for k in range(1, bins + 1):
            if k < bins and abs(sizes[k] - sizes[start:k].mean()) <= 0.02 * sizes.max():
                continue
            mean = float(sizes[start:k].mean())
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


def _weight(plan: Plan, keys: Sequence[Key], context: Context) -> list[OnMember]:
    found = []
    for k, key in enumerate(keys):
        felt = _felt(key, context)
        if not np.any(felt):
            continue
        for one in plan.laid:
            mass = float(one.section.properties.mass_per_metre[0]) * 1e-6  # kg/m is 1e-6 t/mm
            found.append(OnMember(one.n, k, 0.0, mass * felt, np.zeros(3), one.length))
    return found


def _loads(plan: Plan, one: OnMember) -> list[statics.MemberLoad]:
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
        statics.MemberLoad(member.elements[n], s, _vector(one.force), _vector(one.moment), end=e, case=one.case)
        for n, s, e in found
    ]


def _vector(v: Array) -> Vector:
    x, y, z = (float(a) + 0.0 for a in v)
    return x, y, z


# --- what it gives -------------------------------------------------------------------------------------------


def gives(frame: Frame, context: Context) -> tuple[Given, ...]:
    """What the frame puts on braces, on the joints of member ends, on seams and on what supports it."""
    s = solved(frame, context)
    frame._solved = s
    found: list[Given] = []
    for k in range(len(s.keys)):
        for one in s.plan.laid:
            if one.item is not None:
                found.append(_to_brace(s, one, k))
            found += _to_joints(s, one, k, context)
            found += _to_seams(s, one, k, context)
        found += _to_supports(s, k)
    return tuple(found)


def _given(s: Solved, k: int, said: str, thing: str, **more: Any) -> Given:
    """A load of one case, with the stations before it and its own."""
    factor, cycles = s.factors[k]
    station = Station(f"{s.frame.id}, {thing}", said, SOURCE, STATUS)
    return Given(
        giver=s.frame.id, part=thing, case=s.keys[k][0], direction=s.keys[k][1], load_factor=factor, cycles=cycles,
        cautions=s.cautions[k], way=(*s.ways[k], station), **more,
    )  # fmt: skip


def end_force(s: Solved, one: Laid, last: bool, k: int) -> tuple[Array, Array, Array]:
    """(place, force, moment about it) that a member's end puts on what joins it, in the plan's axes."""
    element = one.elements[-1 if last else 0]
    six = s.found.end_forces[element, 6:, k] if last else s.found.end_forces[element, :6, k]
    turn = s.found.axes[element].T
    place = one.end if last else one.start
    return place, -turn @ six[:3], -turn @ six[3:]


def _to_brace(s: Solved, one: Laid, k: int) -> Given:
    """Point loads, spread loads and couples of a brace that is held at both ends; thrust; what is left."""
    assert one.item is not None
    item = one.item
    stretch = item.length / one.length
    side = one.side
    point: list[tuple[float, float]] = []
    couple: list[tuple[float, float]] = []
    spread: list[tuple[float, float, float]] = []
    for load in s.on(one.n, k):
        at = load.start * stretch
        if load.end is None:
            point.append((-float(load.force[2]), at))
            couple.append((float(load.moment @ side), at))
        else:
            spread.append((-float(load.force[2]), at, load.end * stretch))
    for n, (place, _) in enumerate(one.nodes[1:-1]):
        force, moment = np.zeros(3), np.zeros(3)
        for element, rows in ((one.elements[n], slice(6, 12)), (one.elements[n + 1], slice(0, 6))):
            six = s.found.end_forces[element, rows, k]
            force += s.found.axes[element].T @ six[:3]
            moment += s.found.axes[element].T @ six[3:]
        point.append((-float(force[2]), place * stretch))
        couple.append((float(moment @ side), place * stretch))
    for last in (False, True):
        couple.append((-float(end_force(s, one, last, k)[2] @ side), item.length if last else 0.0))
    big = max([abs(p) for p, _ in point] + [abs(q) * (b - a) for q, a, b in spread] + [1e-9])
    fields: dict[str, Any] = {
        "point": [p for p in point if abs(p[0]) > 1e-9 * big],
        "moment": [m for m in couple if abs(m[0]) > 1e-9 * big * item.length],
        "spread": [q for q in spread if q[0]],
    }
    fields = {name: value for name, value in fields.items() if value}
    forces = Inside(s, one, k)
    left, told = list(forces.left()), list(forces.told())
    thrust, pull = forces.greatest_compression, forces.greatest_tension
    if max(thrust, pull) > 1e-6 * max(big, forces.greatest("V_z")):
        # pushed in one part and pulled in another: the greater as a thrust, which every rule takes for the worse
        fields["compression" if thrust > SMALL * pull else "tension"] = max(thrust, pull)
        if not item.typed("eccentricity"):
            fields["eccentricity"] = 0.0  # the end moments hold what the joints' places bring
    if item.typed("ends"):
        fields["ends"] = "pinned"
    if one.member.lies and not item.typed("lies"):
        fields["lies"] = one.member.lies
    V, M = forces.greatest("V_z"), forces.greatest("M_y")
    said = (
        f"by stiffness {item.id} has a bending moment of {Measure(M / 1e3, unit='N*m'):.4g} and a shear force of "
        f"{newtons(V):.4g} at most" + (f"; {'; '.join(told)}" if told else "")
    )
    return _given(
        s,
        k,
        said,
        item.id,
        at=_vector(one.point(one.length / 2)),
        fields=fields,
        onto=frozenset({item.id}),
        left=tuple(left),
    )


class Inside:
    """Forces inside a member in one case, upright and sideways, whatever axes its elements have."""

    def __init__(self, s: Solved, one: Laid, k: int) -> None:
        self.one = one
        self.case = k
        turned = np.stack([one.along, one.side, np.cross(one.along, one.side)])
        self._lines = [(s.line(element), turned @ s.found.axes[element].T) for element in one.elements]

    def range(self, name: str) -> tuple[float, float]:
        """(least, greatest) of N, V_y, V_z, T, M_y, M_z along the member."""
        found = [line.range(name, self.case, base) for line, base in self._lines]
        return min(low for low, _ in found), max(high for _, high in found)

    def greatest(self, name: str) -> float:
        """Greatest absolute value of one of them."""
        low, high = self.range(name)
        return max(-low, high)

    @property
    def greatest_compression(self) -> float:
        """Greatest push along it [N]."""
        return max(0.0, -self.range("N")[0])

    @property
    def greatest_tension(self) -> float:
        """Greatest pull along it [N]."""
        return max(0.0, self.range("N")[1])

    def _sideways(self) -> tuple[float, float, float]:
        """(part of yield that bending sideways takes, that twist takes, yield strength)."""
        section = self.one.section
        p = section.properties
        try:
            f_y = section.f_y
        except InputError:
            return inf, inf, 0.0
        bent = self.greatest("M_z") * self.one.half / float(p.I_z[0])
        t = section.t
        enclosed = float(np.atleast_1d(p.enclosed_area)[0])
        T = self.greatest("T")
        twisted = T / (2 * enclosed * t) if enclosed > 0 else T * t / float(p.J[0])
        return bent / f_y, twisted / (f_y / sqrt(3)), f_y

    def told(self) -> list[str]:
        """What is said of sideways bending and twist that are too small to matter, or that a sheet takes."""
        bent, twisted, _ = self._sideways()
        words = []
        if self._by_sheet and self.greatest("M_z") > 0:
            words.append("what bends it sideways goes to the sheet that holds its face")
        elif 0 < bent <= SMALL:
            words.append(f"bending sideways takes {100 * bent:.2g} % of yield and is left out")
        if self._untwisted and twisted > 0:
            words.append("what twists it goes to the sheet that holds both its faces")
        elif 0 < twisted <= SMALL:
            words.append(f"twist takes {100 * twisted:.2g} % of yield and is left out")
        return words

    @property
    def _by_sheet(self) -> bool:
        return self.one.item is not None and self.one.item.held != "none"

    @property
    def _untwisted(self) -> bool:
        """Whether it cannot turn about its length: to turn, one face has to move sideways against the other."""
        return self.one.item is not None and self.one.item.held == "both"

    def left(self) -> list[str]:
        """What a brace has no field for."""
        bent, twisted, _ = self._sideways()
        words = []
        if bent > SMALL and not self._by_sheet:
            moment = Measure(self.greatest("M_z") / 1e3, unit="N*m")
            words.append(f"the frame bends {self.one.id} sideways with {moment:.4g}, which no rule of a brace judges")
        if twisted > SMALL and not self._untwisted:
            moment = Measure(self.greatest("T") / 1e3, unit="N*m")
            words.append(
                f"the frame twists {self.one.id} with {moment:.4g}, which no rule of a brace judges in a frame"
            )
        return words


def _joints_of(one: Laid) -> tuple[str, ...]:
    return one.member.joints or (one.item.end_joints if one.item is not None else ())


def _to_joints(s: Solved, one: Laid, k: int, context: Context) -> list[Given]:
    names = _joints_of(one)
    found = []
    for last in (False, True):
        if not names:
            break
        name = names[-1 if last else 0]
        _known(name, context, f"members: {one.id}: joints")
        at, force, moment = end_force(s, one, last, k)
        level = hypot(float(force[0]), float(force[1]))
        turn = Measure(float(np.linalg.norm(moment)) / 1e3, unit="N*m")
        said = f"its end puts {newtons(-float(force[2])):.4g} down, {newtons(level):.4g} level and {turn:.4g} on {name}"
        found.append(
            _given(
                s, k, said, f"{one.id} end {2 if last else 1}", at=_vector(at), force=_vector(force),
                moment=_vector(moment), onto=frozenset({name}), right_there=True,
            )
        )  # fmt: skip
    return found


def _known(name: str, context: Context, where: str) -> None:
    if name not in context.items:
        from jointcalc.errors import nearest

        raise InputError(
            f"'{name}' is not the id of an item of this file{nearest(name, sorted(context.items))}", field=where
        )


def _to_seams(s: Solved, one: Laid, k: int, context: Context) -> list[Given]:
    """Shear flow V Q / I along the seams that close a section, and Bredt's of its twist."""
    names = one.member.seams
    if not names:
        return []
    lines = one.section.core.weld_lines
    if not lines:
        raise InputError(
            f"a {one.section.family.kind} has no weld line along it; a hat-skin or a lap has",
            field=f"members: {one.id}: seams",
        )
    p = one.section.properties
    forces = Inside(s, one, k)
    V, T = forces.greatest("V_z"), forces.greatest("T")
    upright, twist = p.shear_flow(V_z=V), p.torsion_flow(T)
    flow = max(abs(float(upright.at(name)[0])) + abs(float(twist[p.outline.index(name)][0])) for name in lines)
    said = f"its weld line carries the shear flow V Q / I of {newtons(V):.4g}"
    if T > 0:
        said += f" and that of its twist, {Measure(T / 1e3, unit='N*m'):.4g}"
    found = []
    for name in names:
        _known(name, context, f"members: {one.id}: seams")
        found.append(
            _given(
                s,
                k,
                f"{said}: {Measure(flow, unit='N/mm'):.4g} along {name}",
                f"{one.id} seam",
                flow=flow,
                onto=frozenset({name}),
            )
        )
    return found


def _to_supports(s: Solved, k: int) -> list[Given]:
    """What the frame puts on what holds it; only what names the support takes it."""
    found = []
    shared: dict[int, int] = {}
    for _, node in s.plan.supports:
        shared[node] = shared.get(node, 0) + 1
    for n, (_, node) in enumerate(s.plan.supports):
        if shared[node] > 1:
            continue
        six = -s.found.reactions[node, :, k]
        part = f"support {n + 1}"
        found.append(
            _given(
                s, k, f"presses on {part} with {newtons(-float(six[2])):.4g}", part,
                at=_vector(np.array(s.plan.nodes[node].at)), force=_vector(six[:3]), moment=_vector(six[3:]),
                onto=frozenset({f"{s.frame.id} {part}"}),
            )
        )  # fmt: skip
    return found


__all__ = ["Inside", "Solved", "end_force", "gives", "solved"]
