"""A rectangular panel on its real shape: large deflection, yielding, what stays, what pulls at its edges.

Flat triangles of `shell` on a grid of lines: x runs along the beads, y across, z up; a quarter of the panel where
everything is alike about both middles, the whole of it otherwise.  Every answer is worked out on a grid and on one
twice as fine; the difference tells the error, and takes most of it out (second order).  Units: N, mm, MPa.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from dataclasses import field as dataclass_field
from functools import cached_property, lru_cache
from itertools import pairwise
from typing import Literal

import numpy as np
import numpy.typing as npt

from jointcalc.statics.plate import Patch
from jointcalc.statics.shell import Array, Direction, Held, NotFound, Shell, Stresses

Inplane = Literal["held", "straight", "free"]
"""Edges in the plane of the sheet: cannot move; stay straight but draw in; draw in as they like."""

COARSE = 24.0
"""Shorter side over the size of the triangles under a load, first grid."""
AT_EDGE = 4.0
"""Size over thickness of the triangles at an edge, first grid: a clamped edge yields in a narrow band."""
GROWTH, LARGEST = 0.35, 7.0
ACROSS_BEAD, RAMP = 6.0, 3.0
"""Triangles across a bead and along its run-out, first grid."""
INCREMENTS, DECREMENTS, FURTHER = 4, 1, 2
"""Steps of yielding up to the loads, of taking them away, and on to the factored ones."""
HALVINGS = 16
TORN = 0.10
"""Principal strain of the mid-plane beyond which no more load is put on."""
STEPS, SNAP = 4, 4.0
"""Steps to the loads, and how much farther than its stiffness or its last step says a beaded panel moves in one when
it snaps."""


@dataclass(frozen=True, slots=True)
class Beads:
    """Beads along x: middles [mm across], one bead's mid-line and where its parts meet, and its ends.

    `line` (points, 2) is the mid-line (across from the bead's middle, up) from foot to foot, `joints` the places
    along it [mm of length] where fillet, flank and crown meet.  From `stop` [mm] off the edge the bead rises in a
    straight ramp `runout` long, its width the same.  `towards` beads rise against the loads.
    """

    middles: tuple[float, ...]
    line: tuple[tuple[float, float], ...]
    joints: tuple[float, ...]
    stop: float
    runout: float
    towards: bool = True

    @property
    def length(self) -> float:
        """Of the mid-line [mm]."""
        return float(np.hypot(*np.diff(np.array(self.line), axis=0).T).sum())

    def height(self, x: Array, a: float) -> Array:
        """Part of the full depth that the bead has at x of a panel a long."""
        x = np.minimum(x, a - x)
        if self.runout == 0:
            return np.where(x >= self.stop - 1e-9 * a, 1.0, 0.0)
        return np.clip((x - self.stop) / self.runout, 0.0, 1.0)

    def unrolled(self, b: float) -> tuple[Array, Array, Array]:
        """Length along the sheet across the whole panel, with y and z there."""
        line = np.array(self.line)
        own = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(line, axis=0).T))])
        s, y, z, at = [0.0], [0.0], [0.0], 0.0
        for middle in self.middles:
            foot = middle + line[0, 0]
            at += foot - y[-1]
            s += list(at + own)
            y += list(middle + line[:, 0])
            z += list(line[:, 1] * (-1 if self.towards else 1))
            at += own[-1]
        if b - y[-1] > 1e-9 * b:
            s.append(at + b - y[-1])
            y.append(b)
            z.append(0.0)
        keep = np.concatenate([[True], np.diff(s) > 1e-9 * b])
        return np.array(s)[keep], np.array(y)[keep], np.array(z)[keep]


@dataclass(frozen=True, slots=True)
class Field:
    """A panel a x b [mm] of sheet t with its edges and what stands on it.

    `turn` is how stiffly the edges are held against turning [N mm/rad per mm]: 0 simply supported, inf clamped,
    for all four or (x = 0, x = a, y = 0, y = b).  Loads push along +z.  `thrust` [N/mm] pushes the edges across x and
    across y towards each other, `flow` [N/mm] shears all four; edges that are held take no thrust.  `whole` forbids to
    take a half for alike about the middle of x, of y.
    """

    a: float
    b: float
    t: float
    E: float
    nu: float
    turn: float | tuple[float, float, float, float] = float("inf")
    inplane: Inplane = "held"
    pressure: float = 0.0
    patches: tuple[Patch, ...] = ()
    f_y: float | None = None
    fineness: float = 1.0
    beads: Beads | None = None
    thrust: tuple[float, float] = (0.0, 0.0)
    flow: float = 0.0
    whole: tuple[bool, bool] = (False, False)

    @property
    def turns(self) -> tuple[float, float, float, float]:
        """Edge by edge."""
        return self.turn if isinstance(self.turn, tuple) else (self.turn,) * 4

    @property
    def alike(self) -> tuple[bool, bool]:
        """Whether x and a - x, y and b - y are alike."""
        left, right, low, high = self.turns
        there = {self._spot(p) for p in self.patches}
        x = left == right and all(self._spot(replace(p, x=self.a - p.x)) in there for p in self.patches)
        y = low == high and all(self._spot(replace(p, y=self.b - p.y)) in there for p in self.patches)
        return x and not (self.flow or self.whole[0]), y and not (self.flow or self.whole[1])

    def _spot(self, p: Patch) -> tuple[float, ...]:
        """A patch, told apart from others to some 1e-7 of a side."""
        return round(p.x / self.a, 7), round(p.y / self.b, 7), round(p.c / self.a, 7), round(p.d / self.b, 7), p.force

    @property
    def load(self) -> float:
        """Total force across the panel [N]."""
        return self.pressure * self.a * self.b + sum(p.force for p in self.patches)


def _spread(
    stops: Sequence[float], fine: Sequence[tuple[float, float]], most: float, caps: Sequence[tuple[float, float, float]]
) -> Array:
    """Lines through all stops, close at the places `fine` (place, size), growing away from them.

    `caps` (from, to, size) are stretches with a greatest size of their own.
    """
    out = [stops[0]]
    for low, high in pairwise(stops):
        x = np.linspace(low, high, 65)
        size = np.minimum(most, np.min([h + GROWTH * np.abs(x - at) for at, h in fine], axis=0))
        for start, end, cap in caps:
            if start - 1e-9 <= low and high <= end + 1e-9:
                size = np.minimum(size, cap)
        steps = np.concatenate([[0.0], np.cumsum((1 / size[1:] + 1 / size[:-1]) / 2 * np.diff(x))])
        count = max(1, round(float(steps[-1])))
        out += list(np.interp(np.linspace(0, steps[-1], count + 1)[1:], steps, x))
        out[-1] = high
    return np.array(out)


def _halved(x: Array) -> Array:
    out = np.empty(2 * len(x) - 1)
    out[::2], out[1::2] = x, (x[1:] + x[:-1]) / 2
    return out


class Grid:
    """A field cut into triangles, loaded and held."""

    def __init__(self, field: Field, x: Array, s: Array, bow: Array | None = None) -> None:
        """`bow` (lines along, lines across, 3) is how far the unloaded sheet lies off its shape [mm]."""
        self.field, self.x, self.s = field, x, s
        self.y, up, rise = s, np.zeros(len(s)), np.zeros(len(x))
        if field.beads is not None:
            along, y, z = field.beads.unrolled(field.b)
            self.y, up, rise = np.interp(s, along, y), np.interp(s, along, z), field.beads.height(x, field.a)
        self.swapped = len(x) < len(s)
        X = np.stack([*np.meshgrid(x, self.y, indexing="ij"), np.outer(rise, up)], axis=-1)
        if bow is not None:
            X = X + bow
        self.shell = Shell(
            X.transpose(1, 0, 2) if self.swapped else X, E=field.E, nu=field.nu, t=field.t, f_y=field.f_y
        )
        self.F = self._loads()
        self.held = self._held()

    def numbers(self) -> npt.NDArray[np.int64]:
        """Number of the node at every (x, y)."""
        n = np.arange(len(self.x) * len(self.y))
        return n.reshape(len(self.y), -1).T if self.swapped else n.reshape(len(self.x), -1)

    def _loads(self) -> Array:
        """Every loaded rectangle shared out to the corners of the cells it covers, its force and moment kept."""
        f, out = self.field, np.zeros((len(self.shell.X), 6))
        node = self.numbers()
        whole = (0.0, f.a, 0.0, f.b)
        areas = [(f.pressure, whole)] if f.pressure else []
        for p in f.patches:
            box = (p.x - p.c / 2, p.x + p.c / 2, p.y - p.d / 2, p.y + p.d / 2)
            areas.append((p.force / (p.c * p.d), box))
        for q, (x_0, x_1, y_0, y_1) in areas:
            low, high, at = {}, {}, {}
            for k, (line, start, end) in enumerate(((self.x, x_0, x_1), (self.y, y_0, y_1))):
                low[k], high[k] = np.clip(line[:-1], start, end), np.clip(line[1:], start, end)
                wide = np.diff(line)
                at[k] = ((low[k] + high[k]) / 2 - line[:-1]) / np.where(wide > 0, wide, 1.0)
            part = q * np.outer(high[0] - low[0], high[1] - low[1])
            for i, u in ((0, 1 - at[0]), (1, at[0])):
                for j, v in ((0, 1 - at[1]), (1, at[1])):
                    np.add.at(
                        out[:, 2], node[i : node.shape[0] - 1 + i, j : node.shape[1] - 1 + j], part * np.outer(u, v)
                    )
        if f.inplane != "held" and (any(f.thrust) or f.flow):
            out += self._pushes()
        return out.ravel()

    def _pushes(self) -> Array:
        """Thrust and flow at the nodes of the edges: what a sheet under that membrane force alone holds there."""
        f, node, out = self.field, self.numbers(), np.zeros((len(self.shell.X), 6))
        alike = f.alike
        across_x = np.concatenate([node[0], *([] if alike[0] else [node[-1]])])
        across_y = np.concatenate([node[:, 0], *([] if alike[1] else [node[:, -1]])])
        size = (f.b / (2 if alike[1] else 1), f.a / (2 if alike[0] else 1))
        every = np.unique(np.concatenate([across_x, across_y]))
        for k, (force, nodes) in enumerate(((f.thrust[0], across_x), (f.thrust[1], across_y), (f.flow, every))):
            if force:
                s = np.zeros((len(self.shell.tri), 3, 6))
                s[..., k] = force if k == 2 else -force
                part = self.shell._gather(s, self.shell.B).reshape(-1, 6)
                if k < 2:
                    # a bead that runs through is longer than the width it takes
                    part *= abs(force) * size[k] * (1 if alike[k] else 2) / np.abs(part[nodes, k]).sum()
                out[nodes] += part[nodes]
        return out

    def under(self, part: float) -> tuple[Array, Held]:
        """A part of the loads, and what is held with the same part of the edges' thrust."""
        return part * self.F, Held(self.held.fixed, self.held.modes, part * self.held.loads)

    def _held(self, odd: tuple[bool, bool] = (False, False)) -> Held:
        """What is held; about a middle that the grid ends at, everything is alike or, for small movements, `odd`."""
        f, node = self.field, self.numbers()
        fixed = np.zeros((len(self.shell.X), 6), bool)
        springs = np.zeros((len(self.shell.X), 6))
        modes, alike = [], f.alike
        lean = np.zeros((len(self.shell.X), 6))  # the panel's frame sheared: edges across x lean, across y stay
        sides = [(0, 0, node[0]), (0, 1, node[-1]), (1, 0, node[:, 0]), (1, 1, node[:, -1])]
        for k, (axis, end, nodes) in enumerate(sides):
            if end == 1 and alike[axis]:
                for freedom in (1 - axis, 2, 3 + axis) if odd[axis] else (axis, 4 - axis, 5):
                    fixed[nodes, freedom] = True
                continue
            fixed[nodes, 2] = True
            turn = f.turns[k]
            fixed[nodes, 3 + axis] = True  # the edge itself stays straight
            if np.isinf(turn):
                fixed[nodes, 3:] = True
            elif turn:
                line = self.y if axis == 0 else self.x
                share = (np.diff(line, append=line[-1]) + np.diff(line, prepend=line[0])) / 2
                springs[nodes, 4 - axis] += turn * share
            if f.inplane == "held":
                fixed[nodes, :2] = True
                lean[nodes, 0] = self.shell.X[nodes, 1] - f.b / 2
                if not np.isinf(turn):
                    # a bead that runs through ends in the air: held across, free to move along itself
                    fixed[nodes[np.abs(self.shell.X[nodes, 2]) > 1e-9 * f.t], axis] = False
            elif f.inplane == "straight":
                fixed[nodes, axis] = True
                if axis == 0:
                    lean[nodes, 0] = self.shell.X[nodes, 1] - self.shell.X[nodes, 1].mean()
                if end == 0 and not alike[axis]:
                    continue  # the other edge moves
                mode = np.zeros((len(self.shell.X), 6))
                mode[nodes, axis] = 1.0
                modes.append(mode.ravel())
        if f.inplane == "free":
            # what moves as one piece is stopped at single nodes; which ways it could depends on what is alike or odd
            even, odd_ = [alike[k] and not odd[k] for k in (0, 1)], [alike[k] and odd[k] for k in (0, 1)]
            for k in (0, 1):
                if not even[k] and not odd_[1 - k]:
                    fixed[node[0, 0], k] = True
            if not any(even):
                at, k = (node[0, -1], 0) if not odd_[1] else (node[-1, 0], 1) if not odd_[0] else (node[0, 0], 0)
                fixed[at, k] = True
        if f.flow and f.inplane != "free":
            modes.append(lean.ravel())
        loads = np.zeros(len(modes))
        if f.flow and f.inplane == "held":
            loads[-1] = f.flow * f.a * f.b  # the frame is sheared, not the edges loaded along themselves
        self.shell.springs = springs.ravel()
        count = self.shell.count
        return Held(fixed.ravel(), np.array(modes).reshape(-1, count), loads)

    # --- from grid to grid ---------------------------------------------------------------------------

    def finer(self) -> Grid:
        """Every cell cut in four."""
        return Grid(self.field, _halved(self.x), _halved(self.s))

    def bowed(self, bow: Array) -> Grid:
        """The same sheet lying off its shape by `bow` [mm] (lines along, lines across, 3)."""
        return Grid(self.field, self.x, self.s, bow)

    def onto(self, q: Array, other: Grid) -> Array:
        """Displacements carried onto the grid twice as fine, as beams along the lines would bend."""
        V = q.reshape(-1, 6)[self.numbers()]
        X = self.shell.X[self.numbers()]
        for axis in (0, 1):
            V, X = np.moveaxis(V, axis, 0), np.moveaxis(X, axis, 0)
            out = np.empty((2 * len(V) - 1, *V.shape[1:]))
            out[::2], out[1::2] = V, (V[1:] + V[:-1]) / 2
            out[1::2, :, :3] += np.cross(V[:-1, :, 3:] - V[1:, :, 3:], X[1:] - X[:-1]) / 8
            places = np.empty((2 * len(X) - 1, *X.shape[1:]))
            places[::2], places[1::2] = X, (X[1:] + X[:-1]) / 2
            V, X = np.moveaxis(out, 0, axis), np.moveaxis(places, 0, axis)
        made = np.zeros((len(other.shell.X), 6))
        made[other.numbers()] = V
        return made.ravel()

    # --- what comes out ------------------------------------------------------------------------------

    def deflection(self, q: Array) -> float:
        """Greatest deflection [mm], with its sign."""
        w = q.reshape(-1, 6)[:, 2]
        return float(w[np.abs(w).argmax()])

    @cached_property
    def _sides(self) -> tuple[npt.NDArray[np.int64], npt.NDArray[np.float64]]:
        """For every triangle and side the number of the side, and how many triangles share it."""
        tri = self.shell.tri
        pairs = np.stack([tri, np.roll(tri, -1, axis=1)], axis=-1)
        pairs.sort(axis=-1)
        _, where, count = np.unique(
            pairs.reshape(-1, 2) @ np.array([len(self.shell.X), 1]), return_inverse=True, return_counts=True
        )
        return where.reshape(-1, 3), count.astype(float)

    def at_sides(self, values: Array) -> Array:
        """Values (triangles, 3 sides, ...) meant over the triangles that share a side."""
        where, count = self._sides
        flat = values.reshape(where.size, -1)
        out = np.stack([np.bincount(where.ravel(), weights=v) / count for v in flat.T], axis=1)
        return out.reshape(len(count), *values.shape[2:])

    def stresses(self, q: Array) -> tuple[float, float]:
        """Greatest elastic von Mises stress at a face, and of the mid-plane [MPa]."""
        s = self.at_sides(self.shell.strains(q) @ self.shell.C)
        t = self.shell.t
        membrane, bending = s[:, :3] / t, 6 * s[:, 3:] / t**2
        faces = max(float(_mises(membrane + sign * bending).max()) for sign in (1, -1))
        return faces, float(_mises(membrane).max())

    def pull(self, q: Array, state: Stresses | None = None) -> float:
        """Greatest membrane pull across an edge [N/mm]: what its nodes are held with, over the length they stand for.

        Such forces settle on the first grid, where the stress of the triangles beside the edge is still far off.  Two
        and one triangles meet at the nodes in turn, so that each is meant with half of its neighbours; corner nodes
        belong to two edges and are left out.
        """
        f, node, force = self.field, self.numbers(), self.shell.forces(q, state).reshape(-1, 6)
        best = 0.0
        if f.inplane == "free":
            return best
        for axis, edges in ((0, node[[0, -1]]), (1, node[:, [0, -1]].T)):
            whole = not f.alike[1 - axis]
            for end, nodes in enumerate(edges[:1] if f.alike[axis] else edges):
                steps = np.linalg.norm(np.diff(self.shell.X[nodes], axis=0), axis=1)
                share = (np.append(steps, 0.0) + np.append(0.0, steps)) / 2
                held = force[nodes, axis] if end else -force[nodes, axis]
                held, share = (np.convolve(v, (0.5, 1.0, 0.5), mode="same") for v in (held, share))
                best = max(best, float((held / share)[1 : -1 if whole else None].max()))
        return best

    def strain(self, q: Array) -> float:
        """Greatest principal strain of the mid-plane."""
        e = self.at_sides(self.shell.strains(q))
        middle, half = (e[:, 0] + e[:, 1]) / 2, np.hypot((e[:, 0] - e[:, 1]) / 2, e[:, 2] / 2)
        return float((middle + half).max())

    def frequency(self, mass: float, laid: float = 0.0, odd: tuple[bool, bool] = (False, False)) -> float:
        """First frequency [Hz] of the sheet's mass per area and of what is laid on it, by inverse iteration.

        About a middle that the grid ends at, alike or `odd` (x, y).  Masses are lumped.
        """
        shell = self.shell
        held = self._held(odd)
        free = ~held.fixed
        flat = np.abs(shell.frame[:, 2, 2])
        share = np.repeat((mass + laid * flat) * shell.area / 3, 3)
        lumps = np.zeros((len(shell.X), 6))
        lumps[:, :3] = np.bincount(shell.tri.ravel(), weights=share, minlength=len(shell.X))[:, None]
        M = lumps.ravel() * free
        K = shell.tangent(np.zeros(shell.count)).held(held.fixed)
        x, y = np.meshgrid(self.x / self.field.a, self.y / self.field.b, indexing="ij")
        v = np.zeros((len(shell.X), 6))
        # anything with a part of the mode in it: a wave and more, so that nothing is missed by its symmetry
        v[self.numbers(), 2] = np.sin(np.pi * x) * np.sin(np.pi * y) + 0.3 * np.sin(2 * np.pi * x) + 0.2 * x * y
        v = v.ravel() * free
        before = 0.0
        for _ in range(200):
            v = K.solve(M * v)
            size = float(v @ (M * v))
            squared = float(v @ K.times(v)) / size
            v /= np.sqrt(size)
            if abs(squared - before) < 1e-7 * squared:
                break
            before = squared
        return float(np.sqrt(squared) / (2 * np.pi))

    def steepest(self, q: Array) -> float:
        """Greatest rotation [rad]."""
        return float(np.abs(q.reshape(-1, 6)[:, 3:5]).max())

    def reaction(self, q: Array, state: Stresses | None = None) -> float:
        """Sum of what the edges carry across the panel [N], of the part that is cut into triangles."""
        f = self.shell.forces(q, state) - self.F
        return -float(f.reshape(-1, 6)[:, 2].sum())


def _mises(s: Array) -> Array:
    x, y, xy = s[..., 0], s[..., 1], s[..., 2]
    return np.asarray(np.sqrt(x * x - x * y + y * y + 3 * xy * xy))


def _apart(firm: set[float], weak: set[float], end: float, least: float) -> list[float]:
    """Lines the grid must have from 0 to `end`: no two so close that a sliver lies between, which no step would settle.

    `weak` ones (the middle, the rim of a load: shared out exactly whatever the lines) give way within `least` [mm] of
    another, `firm` ones (where the sheet bends) within a hundredth of it.
    """
    out = [0.0, end]
    for places, gap in ((firm, least / 100), (weak, least)):
        for at in sorted(places):
            if all(abs(at - other) > gap for other in out):
                out.append(at)
    return sorted(out)


def grid(field: Field) -> Grid:
    """The first, coarse grid of a field."""
    short = min(field.a, field.b)
    close, most = short / COARSE / field.fineness, short / LARGEST / field.fineness
    edge = min(close, AT_EDGE * field.t / field.fineness)
    beads = field.beads
    lines = []
    for axis, (side, alike) in enumerate(zip((field.a, field.b), field.alike)):
        end = side / 2 if alike else side
        weak, fine, caps = {side / 2}, [(0.0, edge)], []
        firm: set[float] = set()
        if not alike:
            fine.append((side, edge))
        for p in field.patches:
            at, size = (p.x, p.c) if axis == 0 else (p.y, p.d)
            under = min(close, size / 4)
            for place in (at - size / 2, at, at + size / 2):
                if 1e-9 * side < place < end * (1 - 1e-9) and (axis == 0 or beads is None):
                    weak.add(place)
                fine.append((place, under))
        if beads is not None and axis == 0:
            for place in (beads.stop, beads.stop + beads.runout):
                for at in (place, side - place):
                    if 1e-9 * side < at < end * (1 - 1e-9):
                        firm.add(at)
                    if place > 0:
                        fine.append((at, max(beads.runout, beads.stop) / RAMP / field.fineness))
        if beads is not None and axis == 1:
            s, y, _ = beads.unrolled(side)
            middle, end = (float(np.interp(at, y, s)) for at in (side / 2, end))
            weak = {middle}
            fine = [(float(np.interp(at, y, s)), h) for at, h in fine]
            for at in beads.middles:
                foot = float(np.interp(at + beads.line[0][0] + 1e-9 * side, y, s))
                for joint in beads.joints:
                    if foot + joint < end * (1 - 1e-9):
                        firm.add(foot + joint)
                caps.append((foot, foot + beads.length, beads.length / ACROSS_BEAD / field.fineness))
        lines.append(_spread(_apart(firm, weak, end, edge / 4), fine, most, caps))
    return Grid(field, *lines)


# --- the answer --------------------------------------------------------------------------------------------------


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


def _run(
    g: Grid, elastic: Sequence[tuple[float, Array]], factor: float, kept: list[Array] | None = None
) -> dict[str, float]:
    """One grid, yielding where any face passes yield, up to `factor` times the loads.

    `elastic` are states of elastic equilibrium on the way to the loads, the last one under them.  The displacements
    with yielding and those that stay are added to `kept`, where it is given and any do.
    """
    shell, F, held, f_y = g.shell, g.F, g.held, g.field.f_y
    q = elastic[-1][1]
    out = _elastic(g, q)
    if f_y is None:
        return out
    surface = out["surface_stress"]
    if surface <= f_y:
        more = shell.solve(factor * F, held, q)
        out["strain"] = g.strain(more)
        if g.stresses(more)[0] <= f_y:
            return out
    state, part = shell.unstressed(), 1.0
    p = q
    if surface > f_y:
        part = _unyielded(surface, f_y)
        p, state, reached = _follow(
            g, shell.solve(part * F, held, _between(elastic, part)), state, part, 1.0, INCREMENTS
        )
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


def _start(g: Grid) -> tuple[list[tuple[float, Array]], bool]:
    """Elastic equilibrium of the first grid, with the states on the way, and whether it jumps on the way there."""
    shell = g.shell
    nothing = np.zeros(shell.count)
    if g.field.beads is None:
        return [(0.0, nothing), (1.0, shell.solve(g.F, g.held))], False
    states, q, snaps, before = [(0.0, nothing)], nothing, False, np.inf
    for k in range(1, STEPS + 1):
        r = np.where(g.held.fixed, 0.0, k / STEPS * g.F - shell.forces(q, None))
        ahead = shell.tangent(q).held(g.held.fixed).solve(r)
        moved = shell.solve(k / STEPS * g.F, g.held, q)
        # near its limit a panel is soft: a jump shows against the step before as well
        moves = float(np.linalg.norm(moved - q))
        snaps |= moves > SNAP * min(float(np.linalg.norm(ahead)), before)
        q, before = moved, moves
        states.append((k / STEPS, q))
    return states, snaps


@lru_cache(maxsize=64)
def answer(field: Field, *, factor: float = 1.0) -> Answer:
    """Work a field out on two grids.  Raises NotFound when no equilibrium is found."""
    first = grid(field)
    second = first.finer()
    states, snaps = _start(first)
    q = states[-1][1]
    low = _run(first, states, factor)
    last = second.shell.solve(second.F, second.held, first.onto(q, second))
    # on the finer grid the states on the way are those of the first, each as much of the whole
    parts = [(part, last * (float(state @ q) / float(q @ q) if part else 0.0)) for part, state in states[:-1]]
    kept: list[Array] = []
    high = _run(second, [*parts, (1.0, last)], factor, kept)
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
    found = {} if field.load == 0 else _run(first, _start(first)[0], factor)
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
    high = second.deflection(second.shell.solve(second.F, second.held, first.onto(q, second)))
    return high + (high - low) / 3


@lru_cache(maxsize=64)
def linear(field: Field) -> float:
    """Greatest deflection [mm], with its sign, by the stiffness of the sheet as it lies: small deflections."""
    found, g = [], grid(field)
    for _ in (0, 1):
        K = g.shell.tangent(np.zeros(g.shell.count))
        found.append(g.deflection(Direction(K, g.held).under(g.F)))
        g = g.finer() if len(found) == 1 else g
    return found[1] + (found[1] - found[0]) / 3


@lru_cache(maxsize=64)
def frequency(field: Field, mass: float, laid: float = 0.0) -> float:
    """First natural frequency [Hz] of a field without load, of `mass` per area of sheet [t/mm²].

    `laid` is what lies on the panel, per area seen from above.  The lowest of all modes, alike or odd about the
    middles: the kind is found on the first grid.
    """
    first = grid(replace(field, pressure=0.0, patches=()))
    x, y = ((False, True) if alike else (False,) for alike in first.field.alike)
    low, odd = min((first.frequency(mass, laid, (i, j)), (i, j)) for i in x for j in y)
    high = first.finer().frequency(mass, laid, odd)
    return float(high + (high - low) / 3)
