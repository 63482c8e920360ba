"""Straight thin-walled open beams that bend and twist at once, by Vlasov's theory: Hermite elements.

Displacements are those of the shear centre: d downwards, and the twist.  A face that something holds along the whole
beam does not move sideways, so the shear centre moves sideways with the twist and the section turns about that face:
the second moments I_z and I_yz enter through it.  With nothing held a section whose product moment I_yz is nought
bends and twists without moving sideways, and the same equations hold.

Energy per length: 1/2 E (I_y d''^2 - 2 I_yz h d'' phi'' + (C_w + h^2 I_z) phi''^2) + 1/2 G J phi'^2, with h the
height of the held face over the shear centre (0 where nothing is held).  The twist turns y towards z: a force F
downwards on a line `arm` beside the shear centre does the work F (d - arm phi).  Our derivation; the tests hold it
against closed forms.

Supports hold the twist and leave the ends free to warp.  A torque that runs through from end to end twists the beam
evenly; what its ends feel if they cannot warp is added (`through_warping`).  Units: N, mm.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import cosh, inf, isfinite, sqrt

import numpy as np
import numpy.typing as npt

from jointcalc.statics.beam_model import Couple, Load, PointLoad, SpreadLoad, Support

Array = npt.NDArray[np.float64]
ELEMENTS = 64
"""Elements along the whole beam, at least; loads and supports get nodes of their own."""
CLOSE = (0.1, 0.2, 0.4, 0.7, 1.0, 1.5, 2.2, 3.2, 4.5)
"""Nodes on either side of these, in lengths over which warping dies out: sqrt(E C_w / (G J)), of flat sheet only a few
thicknesses."""
REFINED = 2
"""Times the solution is put right by what it leaves over; each gives back some six digits."""


@dataclass(frozen=True, slots=True)
class Stiffness:
    """What the section resists with: moduli [MPa], second moments [mm^4], C_w [mm^6], J [mm^4].

    `height` [mm] is that of the held face over the shear centre; 0 where nothing is held.
    """

    E: float
    G: float
    I_y: float
    I_z: float
    I_yz: float
    C_w: float
    J: float
    height: float = 0.0


@dataclass(frozen=True, slots=True)
class Twisted:
    """Along the beam, on both sides of every node: place, curvature d'', phi'' [1/mm^2], twist per length, d, phi."""

    x: Array
    bending: Array
    warping: Array
    rate: Array
    down: Array
    phi: Array


@dataclass(frozen=True, slots=True)
class Torque:
    """A torque about the beam's length [N·mm], at a place; None: it runs through the beam from end to end."""

    moment: float
    at: float | None = None


def torque_along(
    length: float, supports: Sequence[Support], torques: Sequence[Torque], x: Array
) -> tuple[Array, Array]:
    """Torque inside the beam [N·mm], (left, right) of every place x: supports hold the twist, each span by itself.

    A beam held against turning at both ends, its ends free to warp, hands a torque to them as a pinned beam hands on a
    force.
    """
    at = sorted(one.at for one in supports)
    left, right = np.zeros(len(x)), np.zeros(len(x))
    for one in torques:
        if one.at is None:
            left, right = left + one.moment, right + one.moment
            continue
        before = max((s for s in at if s <= one.at), default=None)
        after = min((s for s in at if s > one.at), default=None)
        if before is None:
            part, start, end = 0.0, 0.0, after or length
        elif after is None:
            part, start, end = 1.0, before, one.at
        else:
            part, start, end = (after - one.at) / (after - before), before, after
        for side, found in ((False, left), (True, right)):
            first = (x >= start) & (x < one.at) if side else (x > start) & (x <= one.at)
            second = (x >= one.at) & (x < end) if side else (x > one.at) & (x <= end)
            found[first] += part * one.moment
            found[second] -= (1 - part) * one.moment
    return left, right


def through_warping(x: Array, length: float, section: Stiffness, moment: float) -> Array:
    """Second derivative of the twist [1/mm^2] of a beam that a torque runs through and whose ends cannot warp.

    phi' is then T / GJ (1 - cosh k(x - L/2) / cosh kL/2) with k^2 = GJ / E C_w; less where its ends give.
    """
    stiff = section.E * (section.C_w + section.height**2 * section.I_z)
    if stiff <= 0.0:
        return np.zeros(len(x))
    k = sqrt(section.G * section.J / stiff)
    rate, half = moment / (section.G * section.J), k * length / 2
    if half > 300.0:
        return np.asarray(-rate * k * np.sign(x - length / 2) * np.exp(-k * np.minimum(x, length - x)))
    return np.asarray(-rate * k * np.sinh(k * (x - length / 2)) / cosh(half))


def _hermite(h: float) -> Array:
    """Integral of N'' N''^T over an element of length h."""
    return np.array([
        [12, 6 * h, -12, 6 * h], [6 * h, 4 * h * h, -6 * h, 2 * h * h],
        [-12, -6 * h, 12, -6 * h], [6 * h, 2 * h * h, -6 * h, 4 * h * h],
    ]) / h**3  # fmt: skip


def _slopes(h: float) -> Array:
    """Integral of N' N'^T over an element of length h."""
    return np.array([
        [36, 3 * h, -36, 3 * h], [3 * h, 4 * h * h, -3 * h, -h * h],
        [-36, -3 * h, 36, -3 * h], [3 * h, -h * h, -3 * h, 4 * h * h],
    ]) / (30 * h)  # fmt: skip


def _bends(u: Array, h: Array) -> tuple[Array, Array]:
    """(how far each element's far end leaves the line of its near end, how much it turns from it); down and twist."""
    moved = u.reshape(-1, 4)
    place, slope = moved[:, ::2], moved[:, 1::2]
    return np.diff(place, axis=0) - h[:, None] * slope[:-1], np.diff(slope, axis=0)


def _resisted(u: Array, off: Array, turned: Array, h: Array, section: Stiffness) -> Array:
    """What the elements resist movements u with: that of the whole matrix, but from what each is bent by.

    In the movements themselves curvatures are differences, (length / h)^2 times as small; here what moves stiffly is
    gone before anything is multiplied.
    """
    bend, both = section.E * section.I_y, section.E * section.I_yz * section.height
    warp = section.E * (section.C_w + section.height**2 * section.I_z)
    slope, size = u[3:-4:4], h[:, None]
    stiff = np.array([[bend, -both], [-both, warp]])
    force = (-12 * off + 6 * size * turned) / size**3 @ stiff
    first = (-6 * off + 2 * size * turned) / size**2 @ stiff
    last = (-6 * off + 4 * size * turned) / size**2 @ stiff
    GJ, a, b = section.G * section.J, off[:, 1], turned[:, 1]
    force[:, 1] -= GJ * (slope + 1.2 * a / h - b / 10)
    first[:, 1] -= GJ * (a / 10 + h * b / 30)
    last[:, 1] += GJ * (4 * h * b / 30 - a / 10)
    found = np.zeros((len(h) + 1, 4))
    found[:-1, ::2] += force
    found[1:, ::2] -= force
    found[:-1, 1::2] += first
    found[1:, 1::2] += last
    return found.ravel()


def _piece(a: float, b: float, length: float, dies_out: float) -> Array:
    """Nodes from a to before b [mm]: evenly, and closer to both where warping dies out within some elements."""
    even = np.linspace(a, b, max(1, round((b - a) / length * ELEMENTS)) + 1)
    step = float(even[1] - even[0])
    near = np.array([k * dies_out for k in CLOSE if k * dies_out < (b - a) / 2])
    if not len(near) or dies_out > 8 * step:
        return even[:-1]
    inner = even[(even > a + near[-1] * 1.2) & (even < b - near[-1] * 1.2)]
    return np.concatenate([[a], a + near, inner, (b - near)[::-1]])


def solve_twist(
    length: float,
    section: Stiffness,
    supports: Sequence[Support],
    loads: Sequence[Load],
    arm: float,
    torques: Sequence[Torque] = (),
    stiff: bool = False,
) -> Twisted:
    """Bending and twisting of a beam under loads on a line `arm` mm beside its shear centre (positive towards +y).

    Supports and loads are those of the beam solver, which has checked them.  Couples bend only.  A torque turns y
    towards z where it is positive; one that runs through adds its even twist, and the warping of ends that hold it.
    `stiff` ends do not warp where they are held against bending.
    """
    marks = {0.0, length, *(s.at for s in supports), *(one.at for one in torques if one.at is not None)}
    for one in loads:
        marks |= {one.start, one.end} if isinstance(one, SpreadLoad) else {one.at}
    ordered = sorted(x for x in marks if 0 <= x <= length)
    kept = [ordered[0]]
    for mark in ordered[1:]:
        if mark - kept[-1] > 1e-9 * length:
            kept.append(mark)
    warp = section.E * (section.C_w + section.height**2 * section.I_z)
    dies_out = sqrt(warp / (section.G * section.J)) if section.J > 0 else inf
    pieces = [_piece(a, b, length, dies_out) for a, b in pairwise(kept)]
    nodes = np.concatenate([*pieces, [kept[-1]]])
    n = len(nodes)
    # degrees of freedom of a node: down, its slope, twist, its rate
    K = np.zeros((4 * n, 4 * n))
    force = np.zeros(4 * n)
    bend, both = section.E * section.I_y, section.E * section.I_yz * section.height
    sizes: list[float] = np.diff(nodes).tolist()
    for e, h in enumerate(sizes):
        down = 4 * e + np.array([0, 1, 4, 5])
        turn = down + 2
        k, g = _hermite(h), _slopes(h)
        K[np.ix_(down, down)] += bend * k
        # d is downwards and heights upwards: the coupling changes sign
        K[np.ix_(down, turn)] -= both * k
        K[np.ix_(turn, down)] -= both * k
        K[np.ix_(turn, turn)] += warp * k + section.G * section.J * g
        for one in loads:
            if not isinstance(one, SpreadLoad) or not (one.start <= nodes[e] + 1e-9 and nodes[e + 1] <= one.end + 1e-9):
                continue
            rate = (float(one.last) - float(one.first)) / (one.end - one.start) if one.end > one.start else 0.0
            q = float(one.first) + rate * ((nodes[e] + nodes[e + 1]) / 2 - one.start)
            share = q * np.array([h / 2, h * h / 12, h / 2, -h * h / 12])
            force[down] += share
            force[turn] -= arm * share
    for one in loads:
        if isinstance(one, SpreadLoad):
            continue
        i = int(np.argmin(np.abs(nodes - one.at)))
        if isinstance(one, PointLoad):
            force[4 * i] += float(one.force)
            force[4 * i + 2] -= arm * float(one.force)
        elif isinstance(one, Couple):
            force[4 * i + 1] += float(one.moment)
    for torque in torques:
        if torque.at is not None:
            i = int(np.argmin(np.abs(nodes - torque.at)))
            force[4 * i + 2] += torque.moment
    fixed, springs = set(), np.zeros(4 * n)
    for s in supports:
        i = int(np.argmin(np.abs(nodes - s.at)))
        fixed.add(4 * i + 2)
        if stiff and s.rotation > 0:
            fixed.add(4 * i + 3)
        for dof, spring in ((4 * i, s.vertical), (4 * i + 1, s.rotation)):
            if spring == inf:
                fixed.add(dof)
            elif isfinite(spring):
                springs[dof] += spring
    K[np.diag_indices(4 * n)] += springs
    free = np.array([i for i in range(4 * n) if i not in fixed])
    # every movement measured by its own stiffness, so that deflections, slopes and twists compare in size
    scale = 1.0 / np.sqrt(np.diag(K)[free])
    u = np.zeros(4 * n)
    inverse = np.linalg.inv(scale[:, None] * K[np.ix_(free, free)] * scale)
    spaces, step, over = np.array(sizes), np.zeros(4 * n), force
    off, turned = _bends(u, spaces)
    for _ in range(1 + REFINED):
        step[free] = scale * (inverse @ (scale * over[free]))
        u += step
        # summed beside the movements, in which they would be rounded away
        more = _bends(step, spaces)
        off, turned = off + more[0], turned + more[1]
        over = force - springs * u - _resisted(u, off, turned, spaces, section)
    size = spaces[:, None]
    near, far = 6 * off / size**2 - 2 * turned / size, 4 * turned / size - 6 * off / size**2
    bending, warping = np.stack([near, far], axis=1).reshape(-1, 2).T
    x = np.repeat(nodes, 2)[1:-1]
    down, _, phi, rate = np.repeat(u.reshape(-1, 4), 2, axis=0)[1:-1].T
    through = sum(one.moment for one in torques if one.at is None)
    if through:
        rate = rate + through / (section.G * section.J)
        warping = warping + through_warping(x, length, section, through)
    return Twisted(x, bending, warping, rate, down, phi)


def normal_stress(twisted: Twisted, section: Stiffness, y: Array, z: Array, omega: Array) -> Array:
    """Normal stress [MPa] `(places, points)` at points y, z from the centroid with warping coordinate omega."""
    # z upwards, d downwards: u'' = h phi'', w'' = -d''
    bent = twisted.bending[:, None] * z
    turned = twisted.warping[:, None] * (section.height * y + omega)
    return np.asarray(section.E * (bent - turned))
