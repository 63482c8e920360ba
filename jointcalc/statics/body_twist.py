"""A body under a torque: what a lifted wheel lets in, the shear flows of its parts, and how they go round an opening.

What is taken of the body stands in `statics.body`.  Units: N, mm, MPa.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from jointcalc.errors import InputError
from jointcalc.formula import body as f
from jointcalc.formula.core import Evaluation
from jointcalc.quantity.sentence import mm
from jointcalc.statics.body import SIDES, Box, Section, faces
from jointcalc.statics.surfaces import Push, solve

Path = Literal["box and closed sections", "box, or closed sections", "closed sections"]


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
