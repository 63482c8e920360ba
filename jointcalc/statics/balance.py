"""How an elastic shell comes into balance under loads: down its energy, led by one stiffness and what it has learnt.

The stretch of the mid-plane is of the second degree in the displacement, so the energy along any step is of the fourth,
and every step goes exactly to where it is least.  Steps are led by the stiffness of one state, factored once, and by
how the forces changed along the steps since (BFGS, J. Nocedal and S. Wright, Numerical Optimization, 7.2, from
memory): that takes a seventh of the time of a new stiffness, which is made where the old one leads too slowly.
Units: N, mm, MPa.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property
from math import log, sqrt
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

from jointcalc.statics.band import Array, Band, Direction, Held, Ints, NotFound, NotSteady

if TYPE_CHECKING:
    from jointcalc.statics.shell import Shell

BALANCED = 1e-7
"""Part of the work of the loads that is left to be had, as a root, under which the step towards it is the last."""
ROUNDING = 1e-5
"""The same under which what falls no further is rounding."""
TOO_FAR = 1e6
MOST_STEPS = 90
WORTH = 14.0
"""Steps that a new stiffness takes as long as."""


watchers: list[Callable[[], None]] = []
"""Called before every equilibrium is sought, by who wants to show that something moves."""


class Rest:
    """What stays the same of an elastic sheet however it moves: its stiffness as it lies, and its even stretch.

    Where the sheet turns, the stretch that this adds is even over a triangle, so that of the stretch at rest only the
    mean works with it.  Stretches and membrane forces (times the triangles' areas) are (3, n), slopes (2, 3, n): the
    triangles come last, so that every sum runs over all of them.
    """

    def __init__(self, shell: Shell) -> None:
        self.shell, self.C, self.area = shell, shell.C[:3, :3], shell.area
        self._inside: dict[bytes, Band] = {}

    @cached_property
    def stiffness(self) -> Band:
        """Of the sheet as it lies, with its springs."""
        shell = self.shell
        found = shell.banded(lambda part: shell.material(shell.B[part], shell.C, part))
        found.flat[found.wide :: found.wide + 1] += shell.springs
        return found

    @cached_property
    def _even(self) -> Array:
        """Stretch meant over a triangle of its freedoms, (3, 18, n)."""
        return np.ascontiguousarray(self.shell.B[:, :, :3].mean(axis=1).transpose(1, 2, 0))

    @cached_property
    def _slope(self) -> Array:
        return np.ascontiguousarray(self.shell.slope.transpose(1, 2, 0))

    @cached_property
    def _dofs(self) -> Ints:
        return np.ascontiguousarray(self.shell.dofs.T)

    def inside(self, fixed: npt.NDArray[np.bool_]) -> Band:
        """The stiffness with freedoms held, factored once."""
        key = fixed.tobytes()
        if key not in self._inside:
            found = self.stiffness.held(fixed)
            self._inside[key] = found if found.cholesky(spare=True) else self.stiffness.held(fixed)
        return self._inside[key]

    def direction(self, held: Held) -> Direction:
        """Where it leads."""
        return Direction(self.stiffness, held, self.inside(held.fixed))

    def stretch_and_slopes(self, q: Array) -> tuple[Array, Array]:
        """The mid-plane's stretch meant over every triangle, its squares left out, and its slopes."""
        own = q[self._dofs]
        moved = own.reshape(3, 6, -1)[:, :3]
        return np.einsum("ijn,jn->in", self._even, own), np.einsum("akn,kcn->acn", self._slope, moved)

    def gather(self, N_0: Array, N: Array, g: Array) -> Array:
        """Forces at every freedom: of N_0 on the sheet as it lies, of N as it turned to slopes g."""
        f = np.einsum("in,ijn->jn", N_0, self._even)
        pulled = np.stack([N[0] * g[0] + N[2] * g[1], N[2] * g[0] + N[1] * g[1]])
        f.reshape(3, 6, -1)[:, :3] += np.einsum("akn,acn->kcn", self._slope, pulled)
        return np.bincount(self._dofs.ravel(), weights=f.ravel(), minlength=self.shell.count).astype(float, copy=False)

    def stiffened(self, g: Array, N: Array) -> Band:
        """Tangent stiffness where the sheet turned to slopes g, under membrane forces N."""
        shell, even = self.shell, self._even.transpose(2, 0, 1)

        def of(part: slice) -> Array:
            turned = shell.turned(g[..., part].transpose(2, 0, 1), part).reshape(-1, 3, 18)
            half = self.area[part, None, None] * (self.C @ (even[part] + turned / 2))
            K = turned.transpose(0, 2, 1) @ half
            return shell.add_geometric(K + K.transpose(0, 2, 1), N.T[part], part)

        return shell.banded(of, self.stiffness)


class Lead:
    """What leads the steps of a shell: a stiffness, and how the forces changed along the steps since."""

    def __init__(self, shell: Shell, held: Held, known: Direction | None = None) -> None:
        self.shell, self.held, self.known = shell, held, known
        self._learnt: list[tuple[Array, Array, float]] = []
        self.first = np.zeros(shell.count)
        """First step of the last balance sought."""

    def begin(self, at: Elastic) -> None:
        """Be led by the stiffness of this state from here on."""
        if not at.q.any():
            self.known, self._learnt = at.rest.direction(self.held), []
            return
        self._led(lambda forces: at.rest.stiffened(at.g, forces), at.N)

    def follow(self, at: Elastic) -> None:
        """Be led at first by the stiffness of a state on a grid half as fine: what is carried over of it is rough."""
        coarse, rest = at.rest, self.shell.rest
        lies = self.shell.within(coarse.shell)
        N = at.N[:, lies] * (rest.area / coarse.area[lies])
        self._led(lambda forces: rest.stiffened(at.g[..., lies], forces), N)

    def _led(self, stiffened: Callable[[Array], Band], N: Array) -> None:
        """Take the stiffness under membrane forces N, or under those that pull alone where that is not steady."""
        try:
            self.known = Direction.steady(stiffened(N), self.held)
        except NotSteady:
            self.known = Direction.steady(stiffened(_pulls(N)), self.held)
        self._learnt = []

    def learn(self, step: Array, change: Array) -> None:
        """Take in how the forces changed along a step; what gave way along it teaches nothing."""
        work = float(step @ change)
        if work > 0:
            self._learnt.append((step, change, work))

    def towards(self, R: Array) -> Array:
        """The step that the forces R out of balance ask for."""
        assert self.known is not None
        parts = []
        for step, change, work in reversed(self._learnt):
            parts.append(float(step @ R) / work)
            R = R - parts[-1] * change
        d = self.known.of(R)
        for (step, change, work), part in zip(self._learnt, reversed(parts)):
            d += (part - float(change @ d) / work) * step
        return d

    def balance(self, F: Array, start: Array, *, anew: bool = False, within: float = BALANCED) -> Array:
        """Displacements under the loads F, from `start` on; `anew` is led by the stiffness there.

        Raises NotFound when it does not settle.
        """
        for watch in watchers:
            watch()
        F = F + self.held.spread
        at = Elastic(self.shell, start)
        if anew or self.known is None:
            self.begin(at)
        steps, last = 0, np.inf
        for k in range(MOST_STEPS):
            R = F - at.forces
            d = self.towards(R)
            size = _left(R, d, F, at.q)
            if steps and size > ROUNDING and log(size / within) > WORTH * log(last / size):
                self.begin(at)
                d = self.towards(R)
                steps, size = 0, _left(R, d, F, at.q)
            if not size < TOO_FAR:
                break
            if k == 0:
                self.first = d
            part, change = at.go(d, R)
            if size < within or (steps and last / 2 < size < ROUNDING):
                return at.q
            self.learn(part * d, change)
            steps, last = steps + 1, size
        raise NotFound("no equilibrium found for these loads")


def _left(R: Array, d: Array, F: Array, q: Array) -> float:
    """Root of the work still to be had along d from the forces R, over that of the loads F."""
    work = abs(float(F @ q)) + abs(float(F @ d))
    return sqrt(abs(float(R @ d)) / work) if work else 0.0


class Elastic:
    """An elastic shell at a displacement q, and the forces it resists with there.

    The energy is that at rest, of a stiffness that stays, and that of the mid-plane's further stretch where the sheet
    turns, even over a triangle.
    """

    def __init__(self, shell: Shell, q: Array) -> None:
        self.rest, self.q = shell.rest, q.copy()
        self.linear = self.rest.stiffness.times(q)
        self.stretch, self.g = self.rest.stretch_and_slopes(q)
        self._settle()

    def _forced(self, stretch: Array) -> Array:
        """Membrane forces of a stretch."""
        return np.asarray(self.rest.C @ stretch * self.rest.area)

    def _settle(self) -> None:
        turned = product(self.g, self.g) / 2
        self.N = self._forced(self.stretch + turned)
        self.forces = self.linear + self.rest.gather(self._forced(turned), self.N, self.g)

    def go(self, d: Array, R: Array) -> tuple[float, Array]:
        """Go along d to where the energy is least under forces R out of balance; how far, and the change of forces."""
        linear = self.rest.stiffness.times(d)
        stretch, h = self.rest.stretch_and_slopes(d)
        e_1, e_2 = stretch + product(self.g, h), product(h, h) / 2
        N_1, N_2 = self._forced(e_1), self._forced(e_2)
        c_1 = d @ linear - (self._forced(stretch) * stretch).sum() + (N_1 * e_1).sum() + 2 * (self.N * e_2).sum()
        c_2, c_3 = 3 * float((N_1 * e_2).sum()), 2 * float((N_2 * e_2).sum())
        roots = np.roots([c_3, c_2, float(c_1), -float(R @ d)])
        real = roots.real[(np.abs(roots.imag) < 1e-9) & (roots.real > 1e-3)]
        part = min(float(min(real, default=1.0)), 2.0)
        self.q += part * d
        self.linear += part * linear
        self.stretch += part * stretch
        self.g += part * h
        before = self.forces
        self._settle()
        return part, self.forces - before


def product(a: Array, b: Array) -> Array:
    """Green's products (11, 22, 12 + 21) of slopes (2, 3, ...)."""
    mixed = (a[0] * b[1] + a[1] * b[0]).sum(0)
    return np.stack([(a[0] * b[0]).sum(0), (a[1] * b[1]).sum(0), mixed])


def tensor(N: Array) -> Array:
    """Membrane forces 11, 22, 12 (n, 3) as matrices (n, 2, 2)."""
    return N[:, [0, 2, 2, 1]].reshape(-1, 2, 2)


def _pulls(N: Array) -> Array:
    """The part of membrane forces (3, n) that pulls: its principal forces, those that push left out."""
    middle, half = (N[0] + N[1]) / 2, np.hypot((N[0] - N[1]) / 2, N[2])
    high, low = np.maximum(middle + half, 0.0), np.maximum(middle - half, 0.0)
    turn = np.divide(high - low, 2 * half, out=np.zeros_like(half), where=half > 0)
    even = (high + low) / 2
    return np.stack([even + turn * (N[0] - middle), even + turn * (N[1] - middle), turn * N[2]])
