"""The mid-line of a profile cut into long flat strips, with its weld lines: the model that `strip_solver` solves.

Decided here:

- A bend is drawn by chords between points of its mid-line, one to every 22.5 degrees or finer.
- A weld line is a rigid link between the two mid-lines, along its whole length.  Sheets that lie
  double are free to part and to pass through each other, which is on the safe side; what happens
  between spots is the matter of the checks of the seam.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from math import ceil, pi

import numpy as np
import numpy.typing as npt

from jointcalc.section.outline import Bools, Floats, Outline

Ints = npt.NDArray[np.intp]
STRIPS = 24
"""Strips to the developed length of a profile; bends and short flats add some.  100 would change less than 1 %."""
MOST = 12
"""Strips to one flat: more gain nothing, and narrow strips lose digits over long half-wavelengths."""
CHORD = pi / 8
"""Largest turn [rad] of a bend that one strip draws."""


@dataclass(frozen=True)
class Strips:
    """A section cut into strips.

    Nodal lines at `y`, `z` [mm] `(nodes,)`; strip `k` lies between lines `first[k]` and `last[k]`, has
    thickness `t[k]` [mm], modulus ratio `ratio[k]` and belongs to segment `segment[k]` of the outline.
    `links` are pairs of lines joined rigidly.  `held` `(nodes, 4)` marks movements that are kept zero
    (across y, across z, rotation, along).  `corner[i]` marks the lines that are nodes of the outline
    or lie on one of its arcs.
    """

    y: Floats
    z: Floats
    first: Ints
    last: Ints
    t: Floats
    ratio: Floats
    segment: Ints
    links: tuple[tuple[int, int], ...]
    held: Bools
    corner: Bools

    @property
    def nodes(self) -> int:
        """How many nodal lines there are."""
        return len(self.y)

    @cached_property
    def width(self) -> Floats:
        """Width of each strip [mm]."""
        return np.hypot(self.y[self.last] - self.y[self.first], self.z[self.last] - self.z[self.first])

    @cached_property
    def moments(self) -> tuple[float, float, float, float, float, float]:
        """(area, y and z of the centroid, I_y, I_z, I_yz) of the strips, transformed [mm]."""
        a = self.ratio * self.t * self.width
        y_1, y_2, z_1, z_2 = self.y[self.first], self.y[self.last], self.z[self.first], self.z[self.last]
        area = a.sum()
        y_c, z_c = (a * (y_1 + y_2)).sum() / 2 / area, (a * (z_1 + z_2)).sum() / 2 / area
        y_1, y_2, z_1, z_2 = y_1 - y_c, y_2 - y_c, z_1 - z_c, z_2 - z_c
        c, s = (y_2 - y_1) / self.width, (z_2 - z_1) / self.width
        thick = a * self.t**2 / 12  # the strip's own second moment across its thickness
        i_y = (a * (z_1 * z_1 + z_1 * z_2 + z_2 * z_2)).sum() / 3 + (thick * c * c).sum()
        i_z = (a * (y_1 * y_1 + y_1 * y_2 + y_2 * y_2)).sum() / 3 + (thick * s * s).sum()
        i_yz = (a * (2 * (y_1 * z_1 + y_2 * z_2) + y_1 * z_2 + y_2 * z_1)).sum() / 6 - (thick * c * s).sum()
        return float(area), float(y_c), float(z_c), float(i_y), float(i_z), float(i_yz)

    def stress(self, *, N: float = 0.0, M_y: float = 0.0, M_z: float = 0.0, guided: bool = False) -> Floats:
        """Longitudinal stress [MPa], compression positive, at each nodal line `(nodes,)`, linear over the section.

        `N` [N] compresses, `M_y` [N mm] compresses the top, `M_z` the right-hand side.  Unless `guided`
        the product of inertia counts: bending about y of a zed also bends it sideways.  `guided` means
        held sideways, so that the stress of `M_y` goes with z alone and that of `M_z` with y alone.
        """
        area, y_c, z_c, i_y, i_z, i_yz = self.moments
        y, z = self.y - y_c, self.z - z_c
        if guided:
            return N / area + M_y * z / i_y + M_z * y / i_z
        det = i_y * i_z - i_yz**2
        by, bz = (M_z * i_y - M_y * i_yz) / det, (M_y * i_z - M_z * i_yz) / det
        return np.asarray(N / area + by * y + bz * z)

    def hold(self, nodes: Sequence[int], *movements: int) -> Strips:
        """The same strips with movements (`Y`, `Z`, `TURN`, `ALONG`) of some lines kept zero."""
        held = self.held.copy()
        for movement in movements:
            held[list(nodes), movement] = True
        return Strips(
            self.y, self.z, self.first, self.last, self.t, self.ratio, self.segment, self.links, held, self.corner
        )


def cut(outline: Outline, column: int = 0, *, strips: int = STRIPS, chord: float = CHORD) -> Strips:
    """Cut one section of an outline into strips, about `strips` to its developed length.

    Every flat gets two to `MOST` strips (one when it is shorter than half the sheet), every bend at least
    one to each turn of `chord` [rad], wide ones (beads, tubes) one to two thicknesses.  Raises InputError
    when the outline is in separate pieces.
    """
    _ = outline.tree  # in one piece
    col = column if outline.batch > 1 else 0

    def of(array: Floats, i: int) -> float:
        return float(array[i, column if array.shape[-1] > 1 else 0])

    ys, zs = list(outline.y[:, col]), list(outline.z[:, col])
    corner = [True] * len(ys)
    size = {}
    for i, piece in enumerate(outline.segments):
        if piece.kind == "bend":
            size[i] = abs(of(outline.sweep, i)) * of(outline.radius, i)
        elif piece.kind == "flat":
            size[i] = float(np.hypot(ys[piece.end] - ys[piece.start], zs[piece.end] - zs[piece.start]))
    whole = sum(size.values())
    same: dict[int, int] = {}  # nodes at the two ends of a flat that bends have used up
    rows: list[tuple[int, int, int]] = []
    for i, length in size.items():
        piece = outline.segments[i]
        t = of(outline.t, i)
        if length <= 1e-6 * t:
            same[piece.end] = piece.start
            continue
        if piece.kind == "bend":
            least = ceil(abs(of(outline.sweep, i)) / chord - 1e-9)
            n = max(least, ceil(length * strips / whole), min(ceil(length / (2 * t)), MOST))
        else:
            n = min(max(1 if length < t / 2 else 2, ceil(length * strips / whole)), MOST)
        line = outline.polyline(i, column, n + 1) if piece.kind == "bend" else np.linspace(
            (ys[piece.start], zs[piece.start]), (ys[piece.end], zs[piece.end]), n + 1
        )  # fmt: skip
        inner = list(range(len(ys), len(ys) + n - 1))
        ys += list(line[1:-1, 0])
        zs += list(line[1:-1, 1])
        corner += [piece.kind == "bend"] * (n - 1)
        path = [piece.start, *inner, piece.end]
        rows += [(a, b, i) for a, b in pairwise(path)]
    links = [(p.start, p.end) for p in outline.segments if p.kind == "weld"]

    def root(node: int) -> int:
        while node in same:
            node = same[node]
        return node

    used = sorted({root(n) for a, b, _ in rows for n in (a, b)})
    number = {node: k for k, node in enumerate(used)}
    index = np.array([(number[root(a)], number[root(b)], i) for a, b, i in rows], dtype=np.intp)
    keep = np.array(used, dtype=np.intp)
    thickness = np.array([of(outline.t, int(i)) for i in index[:, 2]])
    ratio = np.array([of(outline.ratio, int(i)) for i in index[:, 2]])
    return Strips(
        y=np.array(ys)[keep], z=np.array(zs)[keep], first=index[:, 0], last=index[:, 1], t=thickness, ratio=ratio,
        segment=index[:, 2], links=tuple((number[root(a)], number[root(b)]) for a, b in links),
        held=np.zeros((len(keep), 4), dtype=bool), corner=np.array(corner)[keep],
    )  # fmt: skip


def plate(*, width: float, t: float, strips: int) -> Strips:
    """A flat plate of that width [mm], level, cut into equal strips: for single walls and for comparisons."""
    line = np.linspace(0.0, width, strips + 1)
    n = np.arange(strips, dtype=np.intp)
    corner = np.zeros(strips + 1, dtype=bool)
    corner[[0, -1]] = True
    return Strips(
        y=line, z=np.zeros(strips + 1), first=n, last=n + 1, t=np.full(strips, t), ratio=np.ones(strips),
        segment=np.zeros(strips, dtype=np.intp), links=(), held=np.zeros((strips + 1, 4), dtype=bool), corner=corner,
    )  # fmt: skip
