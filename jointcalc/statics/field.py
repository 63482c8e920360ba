"""A rectangular panel on its real shape: large deflection, yielding, what stays, what pulls at its edges.

Flat triangles of `shell` on a grid of lines (`field_grid`), cut from what `field_shape` describes.  Every answer is
worked out on a grid and on one twice as fine; the difference tells the error, and takes most of it out (second order).
Units: N, mm, MPa.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from dataclasses import field as dataclass_field
from functools import lru_cache
from itertools import pairwise

import numpy as np

from jointcalc.statics.balance import BALANCED, Elastic, Lead
from jointcalc.statics.band import Array, NotFound
from jointcalc.statics.field_grid import Grid, grid
from jointcalc.statics.field_shape import Field
from jointcalc.statics.shell import Stresses

INCREMENTS, DECREMENTS, FURTHER = 4, 1, 2
"""Steps of yielding up to the loads, of taking them away, and on to the factored ones."""
HALVINGS = 16
TORN = 0.10
"""Principal strain of the mid-plane beyond which no more load is put on."""
ON_THE_WAY = 1e-4
"""How near to balance a state on the way to the loads is brought, as of `balance.BALANCED`."""
MILD = 0.2
"""Part by which a panel stiffens or softens, up to which its stiffness at rest leads as well as one of its own."""
STEPS, SNAP = 4, 4.0
"""Steps to the loads, and how much farther than its stiffness or its last step says a beaded panel moves in one when
it snaps."""


@dataclass(frozen=True, slots=True)
class Surface:
    """The whole panel seen from above: places along and across the beads [mm], and what it moves there [mm].

    `w` (along, across) is the elastic deflection, `yielding` that with yielding, `stays` what is left after the loads,
    each with the answer's greatest.  Places across never fall, but may stand still on an upright flank.
    """

    x: Array
    y: Array
    w: Array
    yielding: Array
    stays: Array

    @classmethod
    def of(cls, g: Grid, shapes: Sequence[Array], most: Sequence[float]) -> Surface:
        """What a grid shows at three displacements, each brought to its greatest; a quarter is unfolded."""
        x, y = g.x, g.y
        if g.field.alike[0]:
            x = np.concatenate([x, g.field.a - x[-2::-1]])
        if g.field.alike[1]:
            y = np.concatenate([y, g.field.b - y[-2::-1]])
        seen = []
        for q, greatest in zip(shapes, most):
            w = q.reshape(-1, 6)[g.numbers(), 2]
            if own := g.deflection(q):
                w = w * (greatest / own)
            if g.field.alike[0]:
                w = np.concatenate([w, w[-2::-1]])
            if g.field.alike[1]:
                w = np.concatenate([w, w[:, -2::-1]], axis=1)
            seen.append(w)
        return cls(x, y, *seen)


@dataclass(frozen=True, slots=True)
class Answer:
    """What a panel does under its loads, and how far off it may be.

    Deflections [mm] elastic and with yielding, what of it stays when the loads are taken away [mm], greatest elastic
    von Mises stress at a face and of the mid-plane [MPa], greatest membrane pull across an edge [N/mm], steepest
    rotation [rad]; at `factor` times the loads, the greatest principal strain of the mid-plane, and the part of
    that load up to which equilibrium was found.  `errors` are parts (0.01 for 1 %), by refinement; `snaps` tells
    that the panel jumps on the way; `surface` is its shape on the finer grid.
    """

    deflection: float
    surface_stress: float
    membrane_stress: float
    edge_pull: float
    steepest: float
    deflection_yielding: float
    permanent_set: float
    strain: float
    reached: float
    snaps: bool
    errors: Mapping[str, float]
    nodes: int
    surface: Surface = dataclass_field(repr=False, compare=False)


def _elastic(g: Grid, q: Array) -> dict[str, float]:
    surface, membrane = g.stresses(q)
    return {
        "deflection": g.deflection(q), "surface_stress": surface, "membrane_stress": membrane, "edge_pull": g.pull(q),
        "steepest": g.steepest(q), "deflection_yielding": g.deflection(q), "permanent_set": 0.0,
        "strain": g.strain(q), "reached": 1.0,
    }  # fmt: skip


def _led(g: Grid, first: Grid, q: Array) -> Lead:
    """What leads the finer grid at first, of a state q on the first one.

    A beaded panel that stiffens or softens little is led by its stiffness at rest, which its frequency asks for anyway.
    """
    at, lead = Elastic(first.shell, q), Lead(g.shell, g.held)
    asked = (g.field.beads is not None or g.field.cross is not None) and not g.field.patches
    if asked and abs(float(q @ at.forces) / float(q @ at.linear) - 1) < MILD:
        lead.known = g.shell.rest.direction(g.held)
    else:
        lead.follow(at)
    return lead


def _run(
    g: Grid,
    elastic: Sequence[tuple[float, Array]],
    factor: float,
    lead: Lead | None = None,
    kept: list[Array] | None = None,
) -> dict[str, float]:
    """One grid, yielding where any face passes yield, up to `factor` times the loads.

    `elastic` are states of elastic equilibrium on the way to the loads, the last one under them, and `lead` what led
    to it.  The displacements with yielding and those that stay are added to `kept`, where it is given and any do.
    """
    shell, F, f_y = g.shell, g.F, g.field.f_y
    lead = lead or Lead(shell, g.held)
    q = elastic[-1][1]
    out = _elastic(g, q)
    if f_y is None:
        return out
    surface = out["surface_stress"]
    if surface <= f_y:
        more = lead.balance(factor * F, q)
        out["strain"] = g.strain(more)
        if g.stresses(more)[0] <= f_y:
            return out
    state, part = shell.unstressed(), 1.0
    p = q
    if surface > f_y:
        part = _unyielded(surface, f_y)
        p = lead.balance(part * F, _between(elastic, part))
        p, state, reached = _follow(g, p, state, part, 1.0, INCREMENTS)
        if reached < 1:
            return {**out, "reached": reached / factor}
        out["deflection_yielding"], out["edge_pull"] = g.deflection(p), max(out["edge_pull"], g.pull(p, state))
        out["steepest"] = max(out["steepest"], g.steepest(p))
        back, _, _ = _follow(g, p, state, 1.0, 0.0, DECREMENTS)
        out["permanent_set"] = g.deflection(back)
        if kept is not None:
            kept += [p, back]
    p, state, reached = _follow(g, p, state, 1.0, factor, FURTHER)
    out["strain"], out["steepest"] = g.strain(p), max(out["steepest"], g.steepest(p))
    out["reached"] = reached / factor
    return out


def _unyielded(surface: float, f_y: float) -> float:
    """Part of the loads up to which nothing yields: stress grows slower than they do."""
    return 0.9 * f_y / surface


def _between(states: Sequence[tuple[float, Array]], part: float) -> Array:
    """A guess of the elastic state at a part of the loads."""
    (low, p), (high, q) = next(pair for pair in pairwise(states) if pair[1][0] >= part - 1e-12)
    if len(states) == 2:
        return np.asarray(q * part ** (1 / 3))  # a flat sheet hangs like a cable
    return np.asarray(p + (q - p) * (part - low) / (high - low))


def _follow(g: Grid, q: Array, state: Stresses, start: float, end: float, steps: int) -> tuple[Array, Stresses, float]:
    """Load from one part of the load to another, yielding on the way, and how far it went.

    Steps that do not settle are halved, and given up when they become too small; so is a sheet torn long since.
    """
    part, size = start, (end - start) / steps
    whole, before, last = float(np.abs(g.F).sum()), q, 0.0
    while abs(end - part) > 1e-9:
        size = float(np.sign(size)) * min(abs(size), abs(end - part))
        guess = q + (q - before) * (size / last) if last and end > start else q
        try:
            moved = g.shell.solve((part + size) * g.F, g.held, guess, state, search=end < start, scale=whole)
        except NotFound:
            if abs(size) < abs(end - start) / (steps * HALVINGS):
                return q, state, part
            size /= 2
            continue
        part, before, q, last = part + size, q, moved, size
        state = g.shell.yielded(q, state)
        if end > 1 and g.strain(q) > TORN:
            return q, state, part
    return q, state, end


def _start(g: Grid, lead: Lead) -> tuple[list[tuple[float, Array]], bool]:
    """Elastic equilibrium of the first grid, with the states on the way, and whether it jumps on the way there."""
    nothing = np.zeros(g.shell.count)
    if g.field.beads is None and g.field.cross is None:
        return [(0.0, nothing), (1.0, lead.balance(g.F, nothing))], False
    states, q, snaps, before = [(0.0, nothing)], nothing, False, np.inf
    for k in range(1, STEPS + 1):
        moved = lead.balance(k / STEPS * g.F, q, anew=True, within=BALANCED if k == STEPS else ON_THE_WAY)
        # near its limit a panel is soft: a jump shows against the step before as well
        moves = float(np.linalg.norm(moved - q))
        snaps |= moves > SNAP * min(float(np.linalg.norm(lead.first)), before)
        q, before = moved, moves
        states.append((k / STEPS, q))
    return states, snaps


@lru_cache(maxsize=64)
def answer(field: Field, *, factor: float = 1.0) -> Answer:
    """Work a field out on two grids.  Raises NotFound when no equilibrium is found."""
    first = grid(field)
    second = first.finer()
    lead = Lead(first.shell, first.held)
    states, snaps = _start(first, lead)
    q = states[-1][1]
    low = _run(first, states, factor, lead)
    lead = _led(second, first, q)
    last = lead.balance(second.F, first.onto(q, second))
    # on the finer grid the states on the way are those of the first, each as much of the whole
    parts = [(part, last * (float(state @ q) / float(q @ q) if part else 0.0)) for part, state in states[:-1]]
    kept: list[Array] = []
    high = _run(second, [*parts, (1.0, last)], factor, lead, kept)
    found, errors = {}, {}
    for name, value in high.items():
        change = value - low[name]
        # second order; what yields runs in bands along the edges, and falls with the first order only
        found[name] = value + (change if name in ("permanent_set", "strain") and change < 0 else change / 3)
        if name == "permanent_set":
            found[name] = max(found[name], value / 2)
        errors[name] = abs(found[name] - value) / abs(found[name]) if found[name] else 0.0
    found["deflection_yielding"] = found["deflection"] + (high["deflection_yielding"] - high["deflection"])
    found["surface_stress"] = max(found["surface_stress"], high["surface_stress"])
    found["reached"] = min(high["reached"], 1.0)
    greatest = [found[name] for name in ("deflection", "deflection_yielding", "permanent_set")]
    surface = Surface.of(second, [last, *(kept or [last, np.zeros_like(last)])], greatest)
    return Answer(**found, snaps=snaps, errors=errors, nodes=len(second.shell.X), surface=surface)


@lru_cache(maxsize=512)
def rough(field: Field, factor: float = 1.0, mass: float | None = None) -> Mapping[str, float]:
    """What the first grid alone says, for a search: names as of `Answer`, and `frequency_1` for a mass per area.

    Raises NotFound when no equilibrium is found.
    """
    first = grid(field)
    found = (
        {} if field.load == 0 else _run(first, _start(first, lead := Lead(first.shell, first.held))[0], factor, lead)
    )
    if mass is not None:
        found["frequency_1"] = grid(replace(field, pressure=0.0, patches=())).frequency(mass)
    return found


@lru_cache(maxsize=64)
def deflection(field: Field) -> float:
    """Elastic deflection alone [mm], for the feel under a heel."""
    first = grid(field)
    second = first.finer()
    q = first.shell.solve(first.F, first.held)
    low = first.deflection(q)
    high = second.deflection(_led(second, first, q).balance(second.F, first.onto(q, second)))
    return high + (high - low) / 3


@lru_cache(maxsize=64)
def linear(field: Field) -> float:
    """Greatest deflection [mm], with its sign, by the stiffness of the sheet as it lies: small deflections."""
    first = grid(field)
    low, high = (g.deflection(g.shell.rest.direction(g.held).under(g.F)) for g in (first, first.finer()))
    return high + (high - low) / 3


@lru_cache(maxsize=64)
def frequency(field: Field, mass: float, laid: float = 0.0) -> float:
    """First natural frequency [Hz] of a field without load, of `mass` per area of sheet [t/mm²].

    `laid` is what lies on the panel, per area seen from above.  The lowest of all modes, alike or odd about the
    middles: the kind is found on the first grid.
    """
    first = grid(replace(field, pressure=0.0, patches=()))
    x, y = ((False, True) if alike else (False,) for alike in first.field.alike)
    kinds = ((first.swing(mass, laid, (i, j)), (i, j)) for i in x for j in y)
    (low, mode), odd = min(kinds, key=lambda found: found[0][0])
    second = first.finer()
    high, _ = second.swing(mass, laid, odd, first.onto(mode, second))
    return high + (high - low) / 3
