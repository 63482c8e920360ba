"""What a solved frame gives to braces, joints, seams and supports.

A brace is given what stands on it, the forces of the members that cross it and the moments at its ends, as a beam that
is held at both ends: so it has the bending moments and shear forces of the frame, whatever its own `ends` say, its
twist as torques with one that runs through, and its greatest moment sideways, both above a hundredth of its yield.
"""

from __future__ import annotations

from math import hypot, inf, sqrt
from typing import Any

import numpy as np
import numpy.typing as npt

from jointcalc.errors import InputError
from jointcalc.formula.core import Status
from jointcalc.kinds.frame.acting import Solved, solved
from jointcalc.kinds.frame.model import Frame, FrameLoad
from jointcalc.kinds.frame.plan import Laid
from jointcalc.kinds.frame.standing import extent, felt, vector
from jointcalc.model.given import Context, Given, Station
from jointcalc.quantity.sentence import Measure, mm, newtons
from jointcalc.statics.frame_line import NAMES

Array = npt.NDArray[np.float64]
SMALL = 0.01
"""Part of yield below which bending sideways and twist of a brace are told and left out (our own choice)."""

FAINT = 1e-4
"""The same of what pushes or pulls it along (our own choice): it grows what bends it, so that less is left out."""

NOUGHT = 1e-9
"""Part of yield that rounding leaves where nothing acts."""

ALIKE = 0.05
"""How much a brace's span may differ from the length of its place: the bearings at its ends (common practice)."""
SOURCE = "stiffness method with shear deformation (Przemieniecki 1968, 5.6)"

STATUS: Status = "from memory"


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
        for n, load in enumerate(frame.loads):
            found += _to_panels(s, n, load, k, context)
    return tuple(found)


def _to_panels(s: Solved, n: int, load: FrameLoad, k: int, context: Context) -> list[Given]:
    """The pressure of a field, for the panel that asks for it by its number."""
    if load.corners is None or load.case not in ("", s.keys[k][0]):
        return []
    pressure = load.pressure or 0.0
    if load.mass is not None:
        area, _ = extent(load.corners)
        pressure = max(0.0, -float((load.mass * felt(s.keys[k], context))[2]) / area)
    part = f"load {n + 1}"
    if pressure <= 0.0:
        return []
    said = f"presses on what it lies on with {Measure(pressure * 1e3, unit='kPa'):.4g}"
    own = frozenset({f"{s.frame.id} {part}"})
    return [_given(s, k, said, part, fields={"pressure": pressure}, onto=own)]


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
    place, force, moment = _at_end(s, one, last, k)
    return place, *s.but_rounding(force, moment, k)


def _at_end(s: Solved, one: Laid, last: bool, k: int) -> tuple[Array, Array, Array]:
    """The same with what is only rounding in it."""
    element = one.elements[-1 if last else 0]
    six = s.found.end_forces[element, 6:, k] if last else s.found.end_forces[element, :6, k]
    turn = s.found.axes[element].T
    place = one.end if last else one.start
    return place, -turn @ six[:3], -turn @ six[3:]


def joint_force(s: Solved, one: Laid, last: bool, k: int) -> tuple[Array, Array, Array]:
    """The same at the joint nearest to that end: where a member runs on beyond what carries it, that is not its end."""
    shared = [n for n, (_, node) in enumerate(one.nodes) if node in s.joined]
    n = (shared[-1] if last else shared[0]) if shared else (len(one.nodes) - 1 if last else 0)
    if n in (0, len(one.nodes) - 1):
        return end_force(s, one, n > 0, k)
    force, moment = np.zeros(3), np.zeros(3)
    for element, rows in ((one.elements[n - 1], slice(6, 12)), (one.elements[n], slice(0, 6))):
        six = s.found.end_forces[element, rows, k]
        force -= s.found.axes[element].T @ six[:3]
        moment -= s.found.axes[element].T @ six[3:]
    return one.point(one.nodes[n][0]), *s.but_rounding(force, moment, k)


def _to_brace(s: Solved, one: Laid, k: int) -> Given:
    """Point loads, spread loads and couples of a brace that is held at both ends; thrust, torques, bending sideways."""
    assert one.item is not None
    item = one.item
    if abs(one.length - item.length) > ALIKE * item.length:
        raise InputError(
            f"brace {item.id} is {mm(one.length):.4g} long in the plan and its span is {mm(item.length):g}; give it a "
            "'place' as long as its span",
            field=f"members: {one.id}",
        )
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
        couple.append((-float(_at_end(s, one, last, k)[2] @ side), item.length if last else 0.0))
    least_force, least_moment = (float(least[k]) for least in s.rounding)
    fields: dict[str, Any] = {
        "point": [p for p in point if abs(p[0]) > least_force],
        "moment": [m for m in couple if abs(m[0]) > least_moment],
        "spread": [q for q in spread if abs(q[0]) * (q[2] - q[1]) > least_force],
    }
    forces = Inside(s, one, k)
    fields["torque"] = _torques(s, one, k, forces, stretch) if forces.twists else []
    fields["aside"] = forces.greatest("M_z") if forces.bends_aside else 0.0
    fields = {name: value for name, value in fields.items() if value}
    told = forces.told()
    thrust, pull = forces.greatest_compression, forces.greatest_tension
    if forces.axial > FAINT:
        # pushed in one part and pulled in another: the greater as a thrust, which every rule takes for the worse
        fields["compression" if thrust > SMALL * pull else "tension"] = max(thrust, pull)
        if not item.typed("eccentricity"):
            fields["eccentricity"] = 0.0  # the end moments hold what the joints' places bring
    if not fields:  # all it gets is rounding: it stands in the frame all the same, under that
        fields["moment"] = [(float(f"{M:.2g}"), at) for M, at in couple if M] or [(1.0, 0.0)]
    if item.typed("ends"):
        fields["ends"] = "pinned"
    if one.member.lies and not item.typed("lies"):
        fields["lies"] = one.member.lies
    V, M = forces.greatest("V_z"), forces.greatest("M_y")
    V, M = V if least_force < V else 0.0, M if least_moment < M else 0.0
    said = (
        f"by stiffness {item.id} has a bending moment of {Measure(M / 1e3, unit='N*m'):.4g} and a shear force of "
        f"{newtons(V):.4g} at most" + (f"; {'; '.join(told)}" if told else "")
    )
    return _given(
        s,
        k,
        said,
        item.id,
        at=vector(one.point(one.length / 2)),
        fields=fields,
        onto=frozenset({item.id}),
    )


def _torques(s: Solved, one: Laid, k: int, forces: Inside, stretch: float) -> list[Any]:
    """Torques of a brace held against turning at both ends, and the one that runs through it besides [N mm]."""
    found = [(float(load.moment @ one.along), load.start) for load in s.on(one.n, k) if load.end is None]
    for n, (place, _) in enumerate(one.nodes[1:-1]):
        moment = np.zeros(3)
        for element, rows in ((one.elements[n], slice(9, 12)), (one.elements[n + 1], slice(3, 6))):
            moment += s.found.axes[element].T @ s.found.end_forces[element, rows, k]
        found.append((float(moment @ one.along), place))
    first = float(end_force(s, one, False, k)[2] @ one.along)  # inside, right behind the start
    through = first - sum(T * (1 - at / one.length) for T, at in found)
    inside, most = first, abs(first)
    for T, _ in sorted(found, key=lambda each: each[1]):
        inside -= T
        most = max(most, abs(inside))
    # the frame's greatest is no less: along the line of the shear centre, or where a load is spread
    short = max(0.0, forces.greatest("T") - most)
    through += short if through >= 0 else -short
    small = 1e-6 * forces.greatest("T")
    return [(T, at * stretch) for T, at in found if abs(T) > small] + ([through] if abs(through) > small else [])


class Inside:
    """Forces inside a member in one case, upright and sideways, whatever axes its elements have."""

    def __init__(self, s: Solved, one: Laid, k: int) -> None:
        self.one = one
        if one.n not in s.ranges:
            turned = np.stack([one.along, one.side, np.cross(one.along, one.side)])
            found = [s.line(element).ranges(turned @ s.found.axes[element].T) for element in one.elements]
            low, high = (np.stack(ends) for ends in zip(*found, strict=True))
            s.ranges[one.n] = low.min(axis=0), high.max(axis=0)
        self._low, self._high = (some[:, k] for some in s.ranges[one.n])

    def range(self, name: str) -> tuple[float, float]:
        """(least, greatest) of N, V_y, V_z, T, M_y, M_z along the member."""
        n = NAMES.index(name)
        return float(self._low[n]), float(self._high[n])

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

    @property
    def axial(self) -> float:
        """Part of yield that the greatest push or pull along it takes; no part where the yield is not known."""
        f_y = self._sideways()[2]
        force = max(self.greatest_compression, self.greatest_tension)
        return inf if f_y <= 0.0 else force / (float(self.one.section.properties.area[0]) * f_y)

    def told(self) -> list[str]:
        """What is said of forces that are too small to matter, or that a sheet takes."""
        bent, twisted, _ = self._sideways()
        words = []
        if NOUGHT < self.axial <= FAINT:
            words.append(f"what pushes or pulls it along takes {100 * self.axial:.1g} % of yield and is left out")
        if self._by_sheet and self.greatest("M_z") > 0:
            words.append("what bends it sideways goes to the sheet that holds its face")
        elif NOUGHT < bent <= SMALL:
            words.append(f"bending sideways takes {100 * bent:.2g} % of yield and is left out")
        if self._untwisted and twisted > 0:
            words.append("what twists it goes to the sheet that holds both its faces")
        elif NOUGHT < twisted <= SMALL:
            words.append(f"twist takes {100 * twisted:.2g} % of yield and is left out")
        return words

    @property
    def _by_sheet(self) -> bool:
        return self.one.item is not None and self.one.item.held != "none"

    @property
    def _untwisted(self) -> bool:
        """Whether it cannot turn about its length: to turn, one face has to move sideways against the other."""
        return self.one.item is not None and self.one.item.held == "both"

    @property
    def twists(self) -> bool:
        """Whether its twist is more than is left out, and nothing but itself takes it."""
        return self._sideways()[1] > SMALL and not self._untwisted

    @property
    def bends_aside(self) -> bool:
        """Whether it bends sideways more than is left out, and no sheet takes that."""
        return self._sideways()[0] > SMALL and not self._by_sheet


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
        at, force, moment = joint_force(s, one, last, k)
        level = hypot(float(force[0]), float(force[1]))
        turn = Measure(float(np.linalg.norm(moment)) / 1e3, unit="N*m")
        said = f"its end puts {newtons(-float(force[2])):.4g} down, {newtons(level):.4g} level and {turn:.4g} on {name}"
        found.append(
            _given(
                s, k, said, f"{one.id} end {2 if last else 1}", at=vector(at), force=vector(force),
                moment=vector(moment), onto=frozenset({name}), right_there=True,
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
        force, moment = s.but_rounding(six[:3], six[3:], k)
        part = f"support {n + 1}"
        found.append(
            _given(
                s, k, f"presses on {part} with {newtons(-float(force[2])):.4g}", part,
                at=vector(np.array(s.plan.nodes[node].at)), force=vector(force), moment=vector(moment),
                onto=frozenset({f"{s.frame.id} {part}"}),
            )
        )  # fmt: skip
    return found
