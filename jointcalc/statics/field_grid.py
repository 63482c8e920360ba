"""A panel cut into triangles, loaded and held: what a displacement of its nodes says.

A grid of lines: x runs along the beads, y across, z up; a quarter of the panel where everything is alike about both
middles, the whole of it otherwise.  Units: N, mm, MPa.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property, lru_cache
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from jointcalc.statics.band import Array, Held, first_mode
from jointcalc.statics.distinct import distinct
from jointcalc.statics.field_shape import Beads, Field
from jointcalc.statics.shell import Shell, Stresses

COARSE = 24.0
"""Shorter side over the size of the triangles under a load, first grid."""
AT_EDGE = 4.0
"""Size over thickness of the triangles at an edge, first grid: a clamped edge yields in a narrow band."""
MOST_KEPT = 1.5e5
"""Nodes times those of a shorter line up to which a sheet is kept: its stiffness has 36 times as many numbers."""
GROWTH, LARGEST = 0.35, 7.0
ACROSS_BEAD, RAMP = 6.0, 3.0
"""Triangles across a bead and along its run-out, first grid."""


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


def _over(beads: Beads | None, s: Array, side: float) -> tuple[Array, Array]:
    """Places along a side and how high the beads across it stand there, at lengths s along the sheet."""
    if beads is None:
        return s, np.zeros(len(s))
    along, y, z = beads.unrolled(side)
    return np.interp(s, along, y), np.interp(s, along, z)


def _numbers(x: int, y: int) -> npt.NDArray[np.int64]:
    """Number of the node at every (x, y) of so many lines either way, counted along the shorter ones."""
    n = np.arange(x * y)
    return n.reshape(y, -1).T if x < y else n.reshape(x, -1)


def _heights(f: Field, x: Array, y: Array, up_along: Array, up_across: Array) -> Array:
    """How high the sheet lies at every (x, y): the higher of the beads that cross there, ends and all."""
    one = 0.0 if f.beads is None else np.outer(f.beads.height(x, f.a), up_across)
    two = 0.0 if f.cross is None else np.outer(up_along, f.cross.height(y, f.b))
    z = np.where(np.abs(one) >= np.abs(two), one, two)
    return np.broadcast_to(z, (len(x), len(y))) + np.zeros((len(x), len(y)))


def _sheet(field: Field, r: Array, s: Array, bow: Array | None = None) -> Shell:
    """The sheet of a field cut along lines as of `Grid`, on the springs of its edges."""
    (x, up_along), (y, up_across) = _over(field.cross, r, field.a), _over(field.beads, s, field.b)
    z = _heights(field, x, y, up_along, up_across)
    X = np.stack([*np.meshgrid(x, y, indexing="ij"), z], axis=-1)
    swapped, cut = len(r) < len(s), None
    if field.beads is not None and field.cross is not None:
        # the creases where two beads meet lie on the sides of triangles: cut where the true sheet is nearer
        r_m, s_m = (r[1:] + r[:-1]) / 2, (s[1:] + s[:-1]) / 2
        (x_m, along), (y_m, across) = _over(field.cross, r_m, field.a), _over(field.beads, s_m, field.b)
        true = _heights(field, x_m, y_m, along, across)
        off = abs((z[:-1, :-1] + z[1:, 1:]) / 2 - true) - abs((z[:-1, 1:] + z[1:, :-1]) / 2 - true)
        crossed = np.minimum(abs(along)[:, None], abs(across)[None]) > 0
        cut = np.where(crossed & (abs(off) > 1e-6 * field.t), -np.sign(off), 0).astype(int)
        cut = cut.T if swapped else cut
    if bow is not None:
        X = X + bow
    node, alike = _numbers(len(r), len(s)), field.alike
    springs = np.zeros((node.size, 6))
    edges = ((0, 0, node[0]), (0, 1, node[-1]), (1, 0, node[:, 0]), (1, 1, node[:, -1]))
    for (axis, end, nodes), turn in zip(edges, field.turns):
        if np.isfinite(turn) and not (end and alike[axis]):
            line = y if axis == 0 else x
            springs[nodes, 4 - axis] += turn * (np.diff(line, append=line[-1]) + np.diff(line, prepend=line[0])) / 2
    return Shell(
        X.transpose(1, 0, 2) if swapped else X, E=field.E, nu=field.nu, t=field.t, cut=cut, springs=springs.ravel()
    )


@lru_cache(maxsize=4)
def _kept(field: Field, r: tuple[float, ...], s: tuple[float, ...]) -> Shell:
    """The same, kept: fields that differ in their loads alone are one sheet, whose stiffness at rest is known."""
    return _sheet(field, np.array(r), np.array(s))


class Grid:
    """A field cut into triangles, loaded and held."""

    def __init__(self, field: Field, r: Array, s: Array, bow: Array | None = None) -> None:
        """Lines at r along and s across, lengths along the sheet over the beads that they cross.

        `bow` (lines along, lines across, 3) is how far the unloaded sheet lies off its shape [mm].
        """
        self.field, self.r, self.s = field, r, s
        self.x, self.y = _over(field.cross, r, field.a)[0], _over(field.beads, s, field.b)[0]
        bare = field.unloaded
        if bow is None and len(r) * len(s) * min(len(r), len(s)) < MOST_KEPT:
            sheet = _kept(bare, tuple(r.tolist()), tuple(s.tolist()))
        else:
            sheet = _sheet(bare, r, s, bow)
        self.shell = sheet.of_strength(field.f_y)
        self.F = self._loads()
        self.held = self._held()

    def numbers(self) -> npt.NDArray[np.int64]:
        """Number of the node at every (x, y)."""
        return _numbers(len(self.r), len(self.s))

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
        every = distinct(across_x, across_y)
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
                fixed[nodes, 3:5] = True
                if f.inplane != "free":  # an edge that draws in as it likes bends in its own plane
                    fixed[nodes, 5] = True
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
        count = self.shell.count
        return Held(fixed.ravel(), np.array(modes).reshape(-1, count), loads)

    # --- from grid to grid ---------------------------------------------------------------------------

    def finer(self) -> Grid:
        """Every cell cut in four."""
        return Grid(self.field, _halved(self.r), _halved(self.s))

    def bowed(self, bow: Array) -> Grid:
        """The same sheet lying off its shape by `bow` [mm] (lines along, lines across, 3)."""
        return Grid(self.field, self.r, self.s, bow)

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

    def swing(
        self, mass: float, laid: float = 0.0, odd: tuple[bool, bool] = (False, False), start: Array | None = None
    ) -> tuple[float, Array]:
        """First frequency [Hz] of the sheet's mass per area and of what is laid on it, and its mode.

        About a middle that the grid ends at, alike or `odd` (x, y).  Masses are lumped.  `start` is near to the mode,
        where that is known.
        """
        shell = self.shell
        fixed = self._held(odd).fixed
        flat = np.abs(shell.frame[:, 2, 2])
        share = np.repeat((mass + laid * flat) * shell.area / 3, 3)
        lumps = np.zeros((len(shell.X), 6))
        lumps[:, :3] = np.bincount(shell.tri.ravel(), weights=share, minlength=len(shell.X))[:, None]
        M = lumps.ravel() * ~fixed
        if start is None:
            x, y = np.meshgrid(self.x / self.field.a, self.y / self.field.b, indexing="ij")
            wave = np.zeros((len(shell.X), 6))
            # a wave and more, so that nothing is missed by its symmetry
            wave[self.numbers(), 2] = np.sin(np.pi * x) * np.sin(np.pi * y) + 0.3 * np.sin(2 * np.pi * x) + 0.2 * x * y
            start = wave.ravel()
        squared, mode = first_mode(shell.rest.inside(fixed), lambda v: M * v, start)
        return float(np.sqrt(squared) / (2 * np.pi)), mode

    def frequency(self, mass: float, laid: float = 0.0, odd: tuple[bool, bool] = (False, False)) -> float:
        """The frequency alone."""
        return self.swing(mass, laid, odd)[0]

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
    lines = []
    for axis, (side, alike) in enumerate(zip((field.a, field.b), field.alike)):
        # beads along this side end on it, those along the other are crossed by it
        own, over = (field.beads, field.cross) if axis == 0 else (field.cross, field.beads)
        end = side / 2 if alike else side
        weak, fine, caps = {side / 2}, [(0.0, edge)], []
        firm: set[float] = set()
        if not alike:
            fine.append((side, edge))
        for p in field.patches:
            at, size = (p.x, p.c) if axis == 0 else (p.y, p.d)
            under = min(close, size / 4)
            for place in (at - size / 2, at, at + size / 2):
                if 1e-9 * side < place < end * (1 - 1e-9) and over is None:
                    weak.add(place)
                fine.append((place, under))
        if own is not None:
            for place in (own.stop, own.stop + own.runout):
                for at in (place, side - place):
                    if 1e-9 * side < at < end * (1 - 1e-9):
                        firm.add(at)
                    if place > 0:
                        fine.append((at, max(own.runout, own.stop) / RAMP / field.fineness))
        if over is not None:
            s, y, _ = over.unrolled(side)
            middle, end = (float(np.interp(at, y, s)) for at in (side / 2, end))
            weak, firm = {middle}, {float(np.interp(at, y, s)) for at in firm}
            fine = [(float(np.interp(at, y, s)), h) for at, h in fine]
            for at in over.middles:
                foot = float(np.interp(at + over.line[0][0] + 1e-9 * side, y, s))
                for joint in over.joints:
                    if foot + joint < end * (1 - 1e-9):
                        firm.add(foot + joint)
                caps.append((foot, foot + over.length, over.length / ACROSS_BEAD / field.fineness))
        lines.append(_spread(_apart(firm, weak, end, edge / 4), fine, most, caps))
    return Grid(field, *lines)
