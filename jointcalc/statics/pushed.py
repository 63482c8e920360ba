"""A panel pushed or sheared in its plane, on its real shape: where it buckles, and what it carries with its first bow.

The factor of the loads at which the straight panel buckles comes from its stiffness and the stiffness of its membrane
forces (linear, bead ends and all).  What it carries is worked out by large displacements and yielding from a shape
that is off by the bow of EN 1993-1-5 Table C.2 (from memory): 1/200 of the shorter side of a flat panel in the shape it
buckles in; of a beaded one 1/400 of the shorter side in one half-wave either way, and 1/200 of the widest flat
in the shape it buckles in.  Grids as in `field`.  Units: N, mm, MPa.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from jointcalc.statics.band import Array, Direction, NotFound
from jointcalc.statics.field_grid import Grid, grid
from jointcalc.statics.field_shape import Field
from jointcalc.statics.shell import STEEPEST

BOW, BOW_BEADED = 1 / 200, 1 / 400
STRAIN = 0.05
"""Greatest principal strain of the mid-plane, EN 1993-1-5 C.8(1) (from memory)."""
TRIED, ROUNDS, SETTLED = 6, 60, 1e-5
"""Shapes carried along in the search for the first buckling shape."""
STEPS, HALVINGS = 4, 8
FARTHEST = 2.0
"""Times the factor asked for up to which the loads are taken."""


@dataclass(frozen=True, slots=True)
class Pushed:
    """What a panel does under loads in its plane and across it.

    `buckles` is the factor of the loads in the plane alone at which the straight panel buckles elastically (None: it
    never does); `reached` the factor of all loads at which it gives way, stretches past 5 % or turns past what the
    solver follows, `at_least` that it had not by then; `deflection` and `permanent_set` [mm] at the loads and after
    them, from the bowed shape of amplitude `bow`.  `errors` of buckling and of what is reached are parts, by
    refinement.
    """

    buckles: float | None
    reached: float
    at_least: bool
    deflection: float
    permanent_set: float
    bow: float
    errors: tuple[float, float]
    nodes: int


def buckling(g: Grid, odd: tuple[bool, bool] = (False, False)) -> tuple[float | None, Array]:
    """Least factor of the loads in the plane at which a straight grid buckles, and the shape (freedoms)."""
    shell, f = g.shell, g.field
    K = shell.tangent(np.zeros(shell.count))
    # the loads in the plane alone
    flat = replace(f, pressure=0.0, patches=())
    F = Grid(flat, g.r, g.s).F if f.load else g.F
    q = Direction(K, g.held).under(F)
    stress = shell.linear_strains(q) @ shell.C
    fixed = g._held(odd).fixed
    free = ~fixed
    inside = K.held(fixed)
    pushed = shell.geometric(stress)
    rng = np.random.default_rng(7)
    x, y = np.meshgrid(g.x / f.a, g.y / f.b, indexing="ij")
    V = np.zeros((TRIED, len(shell.X), 6))
    for k in range(TRIED):
        rows = np.sin(np.pi * (k // 2 + 1) * x) * np.sin(np.pi * (k % 2 + 1) * y)
        V[k][g.numbers(), 2] = rows + 0.1 * rng.normal(size=x.shape)
    V = V.reshape(TRIED, -1) * free
    last = 0.0
    for _ in range(ROUNDS):
        V = inside.solve(np.stack([-(pushed.times(v)) * free for v in V]))
        A = V @ np.stack([inside.times(w) for w in V]).T
        B = -V @ np.stack([pushed.times(w) for w in V]).T
        size, turn = np.linalg.eigh((A + A.T) / 2)
        keep = size > 1e-12 * size.max()
        to = turn[:, keep] / np.sqrt(size[keep])
        worth, along = np.linalg.eigh(to.T @ ((B + B.T) / 2) @ to)
        V = (to @ along[:, ::-1]).T @ V
        if worth[-1] <= 0:
            return None, np.zeros(shell.count)
        if abs(worth[-1] - last) < SETTLED * worth[-1]:
            break
        last = float(worth[-1])
        if len(V) < 2:
            break
    shape = V[0].reshape(-1, 6)
    most = shape[np.abs(shape[:, 2]).argmax(), 2]
    return float(1 / worth[-1]), (shape / most).ravel()


def _cut(field: Field) -> Field:
    """The field, cut into halves only where its first buckling shape is alike about the middle."""
    g = grid(field)
    x, y = ((False, True) if alike else (False,) for alike in field.alike)
    found = [(factor, (i, j)) for i in x for j in y if (factor := buckling(g, (i, j))[0]) is not None]
    if not found:
        return field
    return replace(field, whole=min(found)[1])


def _bow(g: Grid, shape: Array, local: float | None, way: int) -> Array:
    """How far the unloaded sheet lies off, (lines along, lines across, 3) [mm]."""
    f = g.field
    own = shape.reshape(-1, 6)[g.numbers(), :3]
    short = min(f.a, f.b)
    if local is None:
        middle = own[..., 2].flat[np.abs(own[..., 2]).argmax()]
        return np.asarray(way * np.sign(middle or 1.0) * BOW * short * own)
    wave = np.sin(np.pi * np.minimum(g.x, f.a) / f.a)[:, None] * np.sin(np.pi * g.y / f.b)[None]
    out = BOW * local * own
    out[..., 2] += way * BOW_BEADED * short * wave
    return np.asarray(out)


def _path(g: Grid, required: float) -> tuple[float, bool, float, float]:
    """Factor reached, whether the loads could go on, deflection and permanent set at the loads."""
    shell = g.shell
    q, state, part = np.zeros(shell.count), shell.unstressed(), 0.0
    whole = float(np.abs(g.F).sum() + np.abs(g.held.loads).sum())
    size, before, last = 1.0 / STEPS, q, 0.0
    deflection = stays = 0.0
    targets = [1.0, required, FARTHEST * required]
    while targets:
        step = min(size, targets[0] - part)
        guess = q + (q - before) * (step / last) if last else q
        F, held = g.under(part + step)
        try:
            moved = shell.solve(F, held, guess, state, search=False, scale=whole)
        except NotFound:
            if step < 1.0 / (STEPS * HALVINGS):
                break
            size, last = step / 2, 0.0
            continue
        if g.strain(moved) > STRAIN or g.steepest(moved) > STEEPEST:
            break
        part, before, q, last = part + step, q, moved, step
        state = shell.yielded(q, state)
        if part >= targets[0] - 1e-9:
            if targets[0] == 1.0:
                deflection = g.deflection(q)
                if state.plastic.any():
                    F, held = g.under(0.0)
                    stays = g.deflection(shell.solve(F, held, q, state, scale=whole))
            targets.pop(0)
    if part < 1:
        deflection = stays = g.deflection(q)  # it gave way: nothing says that any of it comes back
    return part, not targets, deflection, stays


@lru_cache(maxsize=64)
def pushed(field: Field, *, required: float, local: float | None = None) -> Pushed:
    """Work out a field with yield strength and loads in its plane, up to twice the factor `required`.

    `local` is the widest flat [mm] of a beaded panel.  Raises NotFound when not even its own loads are reached on a
    grid with a bow that small.
    """
    first = grid(_cut(field))
    second = first.finer()
    low, shape = buckling(first)
    high, fine = buckling(second)
    critical, wrong = None, 0.0
    if low is not None and high is not None:
        critical = high + (high - low) / 3
        wrong = abs(critical - high) / critical
    ways = (1, -1) if local is not None else (1,)
    worst, way = min(
        ((_path(first.bowed(_bow(first, shape, local, w)), required), w) for w in ways), key=lambda each: each[0][0]
    )
    # the same shape on both grids, whichever sign it was found with
    sign = 1.0 if float(first.onto(shape, second) @ fine) >= 0 else -1.0
    reached, on, deflection, stays = _path(second.bowed(_bow(second, sign * fine, local, way)), required)
    change = reached - worst[0]
    return Pushed(
        buckles=critical,
        reached=reached + min(change, 0.0),
        at_least=on,
        deflection=deflection + (deflection - worst[2]) / 3,
        permanent_set=max(abs(stays), abs(worst[3]) / 2),
        bow=BOW * min(field.a, field.b) if local is None else BOW_BEADED * min(field.a, field.b),
        errors=(wrong, abs(change) / reached if reached else 1.0),
        nodes=len(second.shell.X),
    )
