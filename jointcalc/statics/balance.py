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

from jointcalc.statics.band import Array, Band, Direction, Held, NotFound, NotSteady

if TYPE_CHECKING:
    from jointcalc.statics.shell import Shell

BALANCED = 1e-8
"""Part of the work of the loads that is left to be had, as a root, under which the step towards it is the last."""
ROUNDING = 1e-5
"""The same under which what falls no further is rounding."""
TOO_FAR = 1e6
MOST_STEPS = 90
WORTH = 9.0
"""Steps that a new stiffness takes as long as."""


watchers: list[Callable[[], None]] = []
"""Called before every equilibrium is sought, by who wants to show that something moves."""


class Rest:
    """What stays the same of an elastic sheet however it moves: its stiffness as it lies, and its even stretch.

    Where the sheet turns, the stretch that this adds is even over a triangle, so that of the stretch at rest only the
    mean works with it.  Membrane forces N are times the triangles' areas, (n, 3).
    """

    def __init__(self, shell: Shell) -> None:
        self.shell, self.C = shell, shell.C[:3, :3]
        self._inside: dict[bytes, Band] = {}

    @cached_property
    def stiffness(self) -> Band:
        """Of the sheet as it lies, with its springs."""
        shell = self.shell
        B = shell.B.reshape(-1, 18, 18)
        CB = ((shell.C @ shell.B) * (shell.area / 3)[:, None, None, None]).reshape(-1, 18, 18)
        found = shell.banded(B.transpose(0, 2, 1) @ CB)
        found.flat[found.wide :: found.wide + 1] += shell.springs
        return found

    @cached_property
    def _even(self) -> Array:
        return np.asarray(self.shell.B[:, :, :3].mean(axis=1))

    def inside(self, fixed: npt.NDArray[np.bool_]) -> Band:
        """The stiffness with freedoms held, factored once."""
        key = fixed.tobytes()
        if key not in self._inside:
            self._inside[key] = self.stiffness.held(fixed)
        return self._inside[key]

    def direction(self, held: Held) -> Direction:
        """Where it leads."""
        return Direction(self.stiffness, held, self.inside(held.fixed))

    def even_stretch(self, q: Array) -> Array:
        """The mid-plane's stretch meant over every triangle (n, 3), its squares left out."""
        return np.asarray(np.einsum("nij,nj->ni", self._even, q[self.shell.dofs]))

    def gather(self, N_0: Array, N: Array, g: Array) -> Array:
        """Forces at every freedom: of N_0 on the sheet as it lies, of N as it turned to slopes g."""
        shell = self.shell
        f = (N_0[:, None] @ self._even).reshape(-1, 3, 6)
        f[:, :, :3] += shell.slope.transpose(0, 2, 1) @ (tensor(N) @ g)
        return np.bincount(shell.dofs.ravel(), weights=f.ravel(), minlength=shell.count).astype(float, copy=False)

    def stiffened(self, g: Array, N: Array) -> Band:
        """Tangent stiffness where the sheet turned to slopes g, under membrane forces N."""
        shell = self.shell
        turned = shell.turned(g).reshape(-1, 3, 18)
        half = shell.area[:, None, None] * (self.C @ (self._even + turned / 2))
        K = turned.transpose(0, 2, 1) @ half
        K = K + K.transpose(0, 2, 1)
        shell.add_geometric(K, N)
        stiffness = shell.banded(K)
        stiffness.flat += self.stiffness.flat
        return stiffness


class Lead:
    """What leads the steps of a shell: a stiffness, and how the forces changed along the steps since."""

    def __init__(self, shell: Shell, held: Held, known: Direction | None = None) -> None:
        self.shell, self.held, self.known = shell, held, known
        self._learnt: list[tuple[Array, Array, float]] = []
        self.first = np.zeros(shell.count)
        """First step of the last balance sought."""

    def begin(self, at: Elastic) -> None:
        """Be led by the stiffness of this state from here on."""
        try:
            self.known = Direction.steady(at.stiffness(), self.held)
        except NotSteady:
            self.known = Direction.steady(at.stiffness(pulled=True), self.held)
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
        self.shell, self.q = shell, q.copy()
        self.C, self.area = shell.rest.C, shell.area[:, None]
        self.linear, self.stretch, self.g = self._of(q)
        self._settle()

    def _of(self, d: Array) -> tuple[Array, Array, Array]:
        """Of a displacement, in proportion to it: forces, even stretch of the mid-plane, slopes."""
        rest = self.shell.rest
        return rest.stiffness.times(d), rest.even_stretch(d), self.shell.gradients(d)

    def _settle(self) -> None:
        turned = product(self.g, self.g) / 2
        self.N = self.area * (self.stretch + turned) @ self.C
        self.forces = self.linear + self.shell.rest.gather(self.area * turned @ self.C, self.N, self.g)

    def stiffness(self, *, pulled: bool = False) -> Band:
        """Tangent stiffness; `pulled` leaves out the membrane forces that push, so that it is steady anywhere."""
        return self.shell.rest.stiffened(self.g, _pulls(self.N) if pulled else self.N)

    def go(self, d: Array, R: Array) -> tuple[float, Array]:
        """Go along d to where the energy is least under forces R out of balance; how far, and the change of forces."""
        linear, stretch, h = self._of(d)
        e_1, e_2 = stretch + product(self.g, h), product(h, h) / 2
        N_1, N_2 = self.area * e_1 @ self.C, self.area * e_2 @ self.C
        straight = d @ linear - (self.area * stretch @ self.C * stretch).sum()
        c_1 = straight + (N_1 * e_1).sum() + 2 * (self.N * e_2).sum()
        roots = np.roots([2 * (N_2 * e_2).sum(), 3 * (N_1 * e_2).sum(), c_1, -(R @ d)])
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
    """Green's products (11, 22, 12 + 21) of the slopes (n, 2, 3)."""
    both = a @ b.transpose(0, 2, 1)
    return np.stack([both[:, 0, 0], both[:, 1, 1], both[:, 0, 1] + both[:, 1, 0]], axis=1)


def tensor(N: Array) -> Array:
    """Membrane forces 11, 22, 12 (n, 3) as matrices (n, 2, 2)."""
    return N[:, [0, 2, 2, 1]].reshape(-1, 2, 2)


def _pulls(N: Array) -> Array:
    """The part of membrane forces (n, 3) that pulls: its principal forces, those that push left out."""
    middle, half = (N[:, 0] + N[:, 1]) / 2, np.hypot((N[:, 0] - N[:, 1]) / 2, N[:, 2])
    high, low = np.maximum(middle + half, 0.0), np.maximum(middle - half, 0.0)
    turn = np.divide(high - low, 2 * half, out=np.zeros(len(N)), where=half > 0)
    even = (high + low) / 2
    return np.stack([even + turn * (N[:, 0] - middle), even + turn * (N[:, 1] - middle), turn * N[:, 2]], axis=1)
