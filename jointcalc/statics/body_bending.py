"""A body on its axles: how its weight stands on them, the moment and shear of that, and its section as a beam.

What is taken of the body stands in `statics.body`.  Units: N, mm, MPa.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from jointcalc.errors import InputError
from jointcalc.formula import body as f
from jointcalc.formula.core import Evaluation
from jointcalc.quantity.sentence import mm
from jointcalc.statics.body import Box


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
