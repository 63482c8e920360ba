"""A body as a box of flat sheets with sills and a tunnel: how it carries twist, and bending between its axles.

An estimate.  What is taken:

- Sheets carry shear in their plane and no more; seams hand it on along their line.
- The box runs straight, with the same section all the way; floor and sills meet at the foot of the sills.
- A side that is a ring (a frame round a window or a door) passes shear on by bending of its members; how stiff it is
  is not known, so the box alone and the closed sections of the floor alone are both taken to carry everything.  Under
  a roof the body still bends as one, with such sides as webs; without one the floor, sills and tunnel bend alone.
- A side that is neither sheet nor ring closes nothing: the closed sections of the floor carry the twist by themselves.

Units: N, mm, MPa.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise
from typing import Literal

import numpy as np
import numpy.typing as npt

from jointcalc.errors import InputError
from jointcalc.formula import body as f
from jointcalc.formula.core import Evaluation
from jointcalc.quantity.sentence import mm
from jointcalc.section.outline import STEEL_DENSITY, Outline, Segment
from jointcalc.section.properties import Properties
from jointcalc.statics.surfaces import Edge, Push, Surface, solve

Array = npt.NDArray[np.float64]
SIDES = ("floor", "roof", "left side", "right side", "front", "rear")
"""The six faces of the box; front and rear are its ends."""
STEEL_G = 80770.0
"""Shear modulus of steel [MPa]: 210 000/(2 (1 + 0.3))."""
Path = Literal["box and closed sections", "box, or closed sections", "closed sections"]


WEB = 1e-4
"""Thickness of a wall that stands for a ring, which passes on shear and carries nothing along [mm]."""


@dataclass(frozen=True, slots=True)
class Box:
    """Sizes of a body [mm].

    `sheets`: face -> thickness; a face that is not named is open or in `rings`.  `sill` and `tunnel` are width, height
    and thickness; `plate` closes the tunnel from below with that thickness.  `opening` lies in the floor, along and
    across.  `ratios` are moduli over those of the first metal, where metals differ; `G` is that of the first.
    """

    length: float
    width: float
    height: float
    sheets: Mapping[str, float]
    rings: frozenset[str] = frozenset()
    sill: tuple[float, float, float] | None = None
    tunnel: tuple[float, float, float] | None = None
    plate: float | None = None
    opening: tuple[float, float] | None = None
    ratios: Mapping[str, float] = field(default_factory=dict)
    G: float = STEEL_G

    def __post_init__(self) -> None:
        for name in ("length", "width", "height"):
            if getattr(self, name) <= 0:
                raise InputError(f"the box has no area: its {name} is {mm(getattr(self, name)):g}", field="size")
        across = 2 * (self.sill[0] if self.sill else 0.0) + (self.tunnel[0] if self.tunnel else 0.0)
        if across >= self.width:
            raise InputError(
                f"sills and tunnel are {mm(across):g} wide together; the box is {mm(self.width):g}", field="sill"
            )
        for name, one in (("sill", self.sill), ("tunnel", self.tunnel)):
            if one is not None and one[1] >= self.height:
                raise InputError(f"is {mm(one[1]):g} high, as high as the box or higher", field=name)
            if one is not None and min(one) <= 0:
                raise InputError("has no area; give width and height", field=name)

    @property
    def closed(self) -> bool:
        """Whether all six faces are there, as sheet or as ring."""
        return all(face in self.sheets or face in self.rings for face in SIDES)

    @property
    def field_width(self) -> float:
        """Clear width of the floor between sill and tunnel, or between the sills [mm]."""
        clear = self.width - 2 * (self.sill[0] if self.sill else 0.0)
        return (clear - self.tunnel[0]) / 2 if self.tunnel else clear

    @property
    def enclosed(self) -> float:
        """Area inside the box and outside of sills and tunnel [mm²]."""
        taken = 2 * self.sill[0] * self.sill[1] if self.sill else 0.0
        return self.width * self.height - taken - (self.tunnel[0] * self.tunnel[1] if self.tunnel else 0.0)

    def section(self, *faces: str, webs: Sequence[str] = ()) -> Section | None:
        """The walls of these faces, with sills and tunnel; None where there is none.

        Faces in `webs` pass on shear and carry nothing along: walls of next to no thickness.
        """
        points: dict[tuple[float, float], int] = {}
        names: list[str] = []
        walls: list[tuple[int, int, float]] = []

        def add(name: str, t: float | None, *ends: tuple[float, float]) -> None:
            if t is None:
                return
            for one, other in pairwise(ends):
                names.append(name)
                walls.append((points.setdefault(one, len(points)), points.setdefault(other, len(points)), t))

        def of(face: str) -> float | None:
            return WEB if face in webs else self.sheets.get(face) if face in faces else None

        half, top = self.width / 2, self.height
        foot, inner = 0.0, half
        if self.sill:
            b, foot, t = self.sill
            inner = half - b
            for side in (-1, 1):
                ring = ((side * inner, 0.0), (side * half, 0.0), (side * half, foot), (side * inner, foot))
                add("sill", t, *ring, ring[0])
        for side, face in ((-1, "left side"), (1, "right side")):
            add(face, of(face), (side * half, foot), (side * half, top))
        add("roof", of("roof"), (-half, top), (half, top))
        if self.tunnel:
            b, h, t = self.tunnel
            add("tunnel", t, (-b / 2, 0.0), (-b / 2, h), (b / 2, h), (b / 2, 0.0))
            add("tunnel plate", self.plate, (-b / 2, 0.0), (b / 2, 0.0))
            add("floor", of("floor"), (-inner, 0.0), (-b / 2, 0.0))
            add("floor", of("floor"), (b / 2, 0.0), (inner, 0.0))
        else:
            add("floor", of("floor"), (-inner, 0.0), (inner, 0.0))
        if not walls:
            return None
        at = np.array(list(points))
        along = at[[b for _, b, _ in walls]] - at[[a for a, _, _ in walls]]
        along /= np.hypot(along[:, 0], along[:, 1])[:, None]
        columns = np.array([t for *_, t in walls])[:, None]
        one, ratio = np.ones_like(columns), np.array([self.ratios.get(name, 1.0) for name in names])[:, None]
        outline = Outline(
            tuple(Segment(name, "flat", a, b) for name, (a, b, _) in zip(names, walls)), at[:, :1], at[:, 1:],
            along[:, :1], along[:, 1:], columns, 0 * one, 0 * one, ratio, one, STEEL_DENSITY * one,
        )  # fmt: skip
        return Section(outline)


class Section:
    """Walls of a body's cross-section and the flows in them; each part has one name for all its walls."""

    def __init__(self, outline: Outline) -> None:
        self.outline = outline
        self.properties = Properties(outline)

    @property
    def closed(self) -> bool:
        """Whether its walls close a cell.  Raises InputError where they are in separate pieces."""
        return bool(self.outline.tree.loops)

    @property
    def cells(self) -> Array:
        """Area of the cells [mm²]."""
        return np.asarray(self.properties.cell_areas[:, 0])

    @property
    def J(self) -> float:
        """Bredt's torsion constant of its cells [mm⁴]."""
        return float(self.properties.J_cells[0])

    def twist(self, torque: float) -> dict[str, float]:
        """Greatest flow of each part under a torque that its cells carry alone [N/mm]."""
        whole = torque * float(self.properties.J[0]) / self.J  # the walls' own torsion is left to the safe side
        return self._greatest(np.abs(self.properties.torsion_flow(whole)[:, 0]))

    def shear(self, V: float) -> dict[str, float]:
        """Greatest flow of each part under an upright shear force [N/mm]."""
        flow = self.properties.shear_flow(V_z=V)
        found = np.maximum(np.abs(flow.start[:, 0]), np.abs(flow.end[:, 0]))
        first, second = flow.rates[0, :, 0], flow.rates[1, :, 0]
        for n in range(len(found)):
            if first[n] * (first[n] + second[n]) < 0:  # it has its greatest where the bending stress is nothing
                found[n] = max(found[n], abs(float(flow.along(n, -first[n] / second[n])[0])))
        return self._greatest(found)

    def _greatest(self, flows: Array) -> dict[str, float]:
        found: dict[str, float] = {}
        for piece, flow in zip(self.outline.segments, flows):
            found[piece.name] = max(found.get(piece.name, 0.0), float(flow))
        return found

    def first_moment(self, name: str) -> float:
        """First moment of a part about the neutral axis of upright bending [mm³]."""
        o, total = self.outline, 0.0
        for n, piece in enumerate(o.segments):
            if piece.name == name:
                ends = [piece.start, piece.end]
                length = float(np.hypot(np.ptp(o.y[ends, 0]), np.ptp(o.z[ends, 0])))
                z = float(o.z[ends, 0].mean() - self.properties.z_centroid[0])
                total += float(o.ratio[n, 0] * o.t[n, 0]) * length * z
        return total


@dataclass(frozen=True, slots=True)
class Torque:
    """The torque that comes into the body [N mm]: the axle that lets it in, and the working."""

    torque: float
    axle: Literal["front", "rear"]
    working: tuple[Evaluation, ...]


def lifted_wheel(front: float, rear: float, track: tuple[float, float], factor: float) -> Torque:
    """One wheel on a kerb: loads of both axles [N], their tracks [mm], the dynamic factor.

    Both axles feel the same torque, and the one that reaches less lifts a wheel first: it caps the torque.
    """
    ends = (f.LIFTED_WHEEL_TORQUE.evaluate(F=front, B=track[0]), f.LIFTED_WHEEL_TORQUE.evaluate(F=rear, B=track[1]))
    low = 0 if ends[0].value <= ends[1].value else 1
    driven = f.DRIVEN.evaluate(T=float(ends[low].value), k_d=factor)
    return Torque(float(driven.value), "front" if low == 0 else "rear", (ends[low], driven))


@dataclass(frozen=True, slots=True)
class Twist:
    """How a body carries a torque: the path, flow of each part [N/mm], and of the closed sections GJ [N mm²].

    `flows` are the greatest of their part, without sign.  `degrees` is the twist over the length of the box, None where
    rings or an open end leave its stiffness unknown; `notes` say what was taken.
    """

    path: Path
    torque: float
    flows: Mapping[str, float]
    stiffness: float | None
    degrees: float | None
    working: tuple[Evaluation, ...]
    area: float | None = None


def _alone(box: Box) -> Section | None:
    """Sills, tunnel and floor without the box above; None where they close nothing."""
    own = box.section("floor")
    try:
        return own if own is not None and own.closed else None
    except InputError:
        return None  # in pieces: no floor joins them


def twist(box: Box, torque: float) -> Twist:
    """Flows under a torque [N mm].  Raises InputError where no closed section is left to carry it."""
    own = _alone(box)
    if not box.closed:
        if own is None:
            _no_path(box, torque)
        assert own is not None
        return _closed_sections(box, own, torque)
    flow = f.BREDT_FLOW.evaluate(T=torque, A=box.enclosed)
    around = ("floor", "roof", "left side", "right side")
    if not box.rings:
        whole = box.section(*around)
        assert whole is not None
        flows = whole.twist(torque)
        flows |= {"front": flows["roof"], "rear": flows["roof"]}
        turned = f.TWIST.evaluate(T=torque, L=box.length, G=box.G, J=whole.J)
        plain = len(whole.cells) == 1
        steps = [flow, *(_end_forces(box, torque) if not box.tunnel else ())] if plain else []
        steps += [f.SHEAR_STRESS.evaluate(q=flows["floor"], t=box.sheets["floor"]), turned]
        return Twist("box and closed sections", torque, _round(box, flows), box.G * whole.J, float(turned.value),
                     tuple(steps), box.enclosed)  # fmt: skip
    # all that bounds the box: its faces, over the sills and over the tunnel
    parts = [*SIDES, *(["sill"] if box.sill else []), *(["tunnel"] if box.tunnel else [])]
    flows = dict.fromkeys(parts, float(flow.value))
    working, stiffness = [flow], None
    if own is not None:
        alone = _closed_sections(box, own, torque)
        flows |= {name: max(flows.get(name, 0.0), value) for name, value in alone.flows.items()}
        working += alone.working
        stiffness = alone.stiffness
    return Twist("box, or closed sections", torque, _round(box, flows), stiffness, None, tuple(working), box.enclosed)


def _end_forces(box: Box, torque: float) -> tuple[Evaluation, ...]:
    """Forces on the edges of a plain box: end edges of floor and roof, of the sides, along sills and upper rails."""
    first = f.END_FORCE.evaluate(T=torque, L_2=box.height)
    given = {"Q_1": float(first.value), "L_1": box.width}
    return (first, f.SIDE_END_FORCE.evaluate(**given, L_2=box.height), f.SILL_FORCE.evaluate(**given, L_3=box.length))


def _closed_sections(box: Box, own: Section, torque: float) -> Twist:
    flows = own.twist(torque)
    # the floor between them is in no closed section: statics gives it nothing, which is not to say that it has nothing
    flows.pop("floor", None)
    working: list[Evaluation] = []
    J = own.J
    if len(own.cells) == 1 and box.tunnel and box.plate:  # sills come in pairs
        width, height, t = box.tunnel
        working.append(f.BREDT_FLOW.evaluate(T=torque, A=width * height))
        if not box.ratios:
            around = (2 * height + width) / t + width / box.plate
            working.append(f.BREDT_CONSTANT.evaluate(A=width * height, S=around))
    turned = f.TWIST.evaluate(T=torque, L=box.length, G=box.G, J=J)
    return Twist("closed sections", torque, flows, box.G * J, float(turned.value), (*working, turned))


def _round(box: Box, flows: dict[str, float]) -> dict[str, float]:
    """The flows with those round an opening in the floor: each part of the floor takes the greatest there."""
    if box.opening is None:
        return flows
    q = flows["floor"]
    found = opening(box, q)
    return flows | {"floor": max(q, found.along, found.across, abs(found.corner)), "floor without opening": q}


def _no_path(box: Box, torque: float) -> None:
    """Let the sheets themselves say where the torque is lost: raises InputError."""
    surfaces, edges = faces(box)
    present = {s.name for s in surfaces}
    ends = [face for face in ("front", "rear") if face in present]
    lost = [face for face in SIDES if face not in present]
    words = f"the twist of the body finds no path: {', '.join(lost)} {'is' if len(lost) == 1 else 'are'} open"
    if len(ends) == 2:
        loads = [Push("front", moment=(torque, 0.0, 0.0)), Push("rear", moment=(-torque, 0.0, 0.0))]
        try:
            solve(surfaces, edges, loads)
        except InputError as error:
            words += f" ({error.message})"
    raise InputError(
        f"{words}, and no sill or closed tunnel is described that could carry it alone; give the sheet that closes the "
        "box, name the face in 'rings' where a frame stands round its opening, or describe 'sill', or 'tunnel' with a "
        "plate below it",
        field="rings",
    )


def faces(box: Box) -> tuple[list[Surface], list[Edge]]:
    """The six faces of the box as surfaces with the edges they share; what is open is left out."""

    def at(x: int, y: int, z: int) -> tuple[float, float, float]:
        return x * box.length, (y - 0.5) * box.width, z * box.height

    corners = {
        "floor": (at(0, 0, 0), at(1, 0, 0), at(1, 1, 0), at(0, 1, 0)),
        "roof": (at(0, 0, 1), at(1, 0, 1), at(1, 1, 1), at(0, 1, 1)),
        "left side": (at(0, 0, 0), at(1, 0, 0), at(1, 0, 1), at(0, 0, 1)),
        "right side": (at(0, 1, 0), at(1, 1, 0), at(1, 1, 1), at(0, 1, 1)),
        "front": (at(0, 0, 0), at(0, 1, 0), at(0, 1, 1), at(0, 0, 1)),
        "rear": (at(1, 0, 0), at(1, 1, 0), at(1, 1, 1), at(1, 0, 1)),
    }
    there = [face for face in SIDES if face in box.sheets or face in box.rings]
    surfaces = [Surface(face, corners[face], box.G * box.sheets.get(face, 1.0)) for face in there]
    edges = []
    for n, one in enumerate(there):
        for other in there[:n]:
            shared = [p for p in corners[one] if p in corners[other]]
            if len(shared) == 2:
                edges.append(Edge(shared[0], shared[1], (other, one)))
    return surfaces, edges


@dataclass(frozen=True, slots=True)
class Opening:
    """Flows round an opening in the floor [N/mm], forces in its stiffeners [N], corner moment of a ring [N mm].

    `along` is the flow ahead of and behind it, `across` that of the strips beside it.
    """

    along: float
    across: float
    corner: float
    stiffener_along: float
    stiffener_across: float
    ring: float
    working: tuple[Evaluation, ...]


def opening(box: Box, q: float) -> Opening:
    """Where the flow q of the floor goes round its opening.  Raises InputError where nothing is left beside it."""
    assert box.opening is not None
    a, b = box.opening
    long, wide = box.length, box.field_width
    for size, room, name in ((a, long, "long"), (b, wide, "wide")):
        if size >= room:
            raise InputError(
                f"is {mm(size):g} {name} in a floor of {mm(room):g}: the path disappears there, no sheet is left "
                "beside it; make it smaller, or name 'floor' in 'rings' and let a frame round it carry the shear",
                field="opening",
            )
    steps = (
        f.BESIDE_OPENING.evaluate(q=q, s=long, o=a),
        f.BESIDE_OPENING.evaluate(q=q, s=wide, o=b),
        f.AT_CORNERS.evaluate(q=q, a=a, b=b, s_a=long, s_b=wide),
        f.STIFFENER_FORCE.evaluate(q=q, a=a, b=b, s_b=wide),
        f.STIFFENER_FORCE.evaluate(q=q, a=b, b=a, s_b=long),
        f.RING_MOMENT.evaluate(q=q, a=a, b=b),
    )
    along, across, corner, one, other, ring = (float(step.value) for step in steps)
    return Opening(along, across, corner, one, other, ring, steps)


# --- bending ---------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Weight:
    """A weight [N] between two places behind the front axle [mm]; at one place where they are the same."""

    force: float
    first: float
    last: float


@dataclass(frozen=True, slots=True)
class OnAxles:
    """A body on its axles: weight [N], its place [mm], load of both axles [N], extreme moments [N mm] and shear [N]."""

    weight: float
    centre: float
    front: float
    rear: float
    sagging: float
    hogging: float
    shear: float
    working: tuple[Evaluation, ...] = field(default=())


def on_axles(weights: Sequence[Weight], wheelbase: float) -> OnAxles:
    """Statics of weights over two axles.

    Raises InputError: no weight, no wheelbase, or an axle that would lift.
    """
    if wheelbase <= 0:
        raise InputError("is missing; the axles stand apart", field="wheelbase")
    total = sum(w.force for w in weights)
    if total <= 0:
        raise InputError("no mass is given; without weight nothing twists or bends the body", field="mass")
    centre = sum(w.force * (w.first + w.last) / 2 for w in weights) / total
    step = f.REAR_LOAD.evaluate(W=total, x_c=centre, l=wheelbase)
    rear = float(step.value)
    front = total - rear
    if rear < 0 or front < 0:
        raise InputError(
            f"the centre of mass lies {mm(centre):.4g} behind the front axle, outside the wheelbase of "
            f"{mm(wheelbase):g}: an axle would lift; places are measured from the front axle to the rear",
            field="mass",
        )
    points = sorted({0.0, wheelbase, *(w.first for w in weights), *(w.last for w in weights)})
    # the moment has its extremes at loads, or where the shear passes through nothing within a spread load
    places = list(points)
    for a, b in pairwise(points):
        left = _cut(weights, wheelbase, front, rear, a, 1e-9)[0]
        right = _cut(weights, wheelbase, front, rear, b, -1e-9)[0]
        if left * right < 0:
            places.append(a + (b - a) * left / (left - right))
    moments = [_cut(weights, wheelbase, front, rear, x, 0.0)[1] for x in places]
    shears = [abs(_cut(weights, wheelbase, front, rear, x, e)[0]) for x in points for e in (-1e-9, 1e-9)]
    return OnAxles(
        total, centre, front, rear, max(0.0, *moments), max(0.0, *(-m for m in moments)), max(shears), (step,)
    )


def _cut(
    weights: Sequence[Weight], wheelbase: float, front: float, rear: float, x: float, beside: float
) -> tuple[float, float]:
    """Shear force and sagging moment at a cut, `beside` in parts of the wheelbase behind x."""
    at = x + beside * wheelbase
    shear = moment = 0.0
    for force, place in ((front, 0.0), (rear, wheelbase)):
        if place < at:
            shear += force
            moment += force * (at - place)
    for w in weights:
        if w.first >= at:
            continue
        share = 1.0 if w.last <= at else (at - w.first) / (w.last - w.first)
        part = w.force * share
        shear -= part
        moment -= part * (at - (w.first + min(w.last, at)) / 2)
    return shear, moment


def filled(box: Box) -> Box:
    """The box with its rings filled with sheet: as thick as the face across from it, else as any other sheet."""
    across = {"left side": "right side", "right side": "left side", "floor": "roof", "roof": "floor"}
    any_t = max(box.sheets.values(), default=0.0)
    sheets = {**box.sheets, **{face: box.sheets.get(across.get(face, ""), any_t) for face in box.rings}}
    return replace(box, sheets={face: t for face, t in sheets.items() if t > 0}, rings=frozenset())


FLAT = 1e-6
"""Second moment over area times height squared below which a section has no depth to speak of."""


@dataclass(frozen=True, slots=True)
class Bent:
    """Forces along the parts of the section [N], tension positive while it sags, and flows in them [N/mm]."""

    forces: Mapping[str, float]
    flows: Mapping[str, float]
    I_y: float
    working: tuple[Evaluation, ...]


def bend(box: Box, moment: float, shear: float, *, waves: bool = False) -> Bent:
    """The section of all sheets that run through, as a beam; sides that are rings pass shear on as webs do.

    `moment` [N mm] is positive where it sags.  `waves` says that the sheet that is pushed (the roof where it sags, the
    floor where it hogs) gives way in waves and carries nothing along: what it sheds goes to the rest.  Raises
    InputError where no part runs through or nothing has depth.
    """
    sides = ("left side", "right side")
    whole = all(side in box.sheets for side in sides)
    framed = not whole and all(side in box.sheets or side in box.rings for side in sides)
    roof = ("roof",) if "roof" in box.sheets and (whole or framed) else ()
    shed = ("roof" if moment >= 0 else "floor",) if waves else ()
    webs = (*(sides if framed and roof else ()), *shed)
    section = box.section(*(face for face in ("floor", *(sides if whole else ()), *roof) if face in box.sheets),
                          webs=[face for face in webs if face in (*sides, *roof) or face in box.sheets])  # fmt: skip
    if section is None:
        raise InputError("no sheet, sill or tunnel runs through, so nothing carries the body's bending", field="sill")
    try:
        own = section.properties
        I_y = float(own.I_y[0])
        flows = section.shear(shear) if I_y > FLAT * float(own.area[0]) * box.height**2 else None
    except InputError as error:
        raise InputError(
            "the parts that run through are not joined by a floor, so nothing bends them as one; give 'floor_sheet'",
            field="floor_sheet",
        ) from error
    if flows is None:
        raise InputError(
            "a flat floor alone does not carry the body's bending; describe the sills, the tunnel or the sides",
            field="sill",
        )
    steps = []
    forces: dict[str, float] = {}
    for name in flows:
        if name in webs:
            continue
        # z is up: below the neutral axis the first moment is negative and sagging pulls
        step = f.PART_FORCE.evaluate(M=-moment, S_p=section.first_moment(name), I_y=I_y)
        # sills come in a pair; their force is that of one
        forces[name] = float(step.value) / (2.0 if name == "sill" else 1.0)
        steps.append(step)
    return Bent(forces, flows, I_y, tuple(steps))
