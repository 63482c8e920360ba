"""Thin-walled sections with any number of closed cells: torsion (Bredt) and bending with its shear flow.

`twist_cells` takes cells by their areas and walls, straight or not.  `Walls` takes a section drawn with straight walls
between points, finds its cells and gives flows wall by wall.  The walls are as long as the body; no warping is held, the
outline keeps its shape.  Units: N, mm, MPa.

Equations: every cell turns by the same angle per length, the sum of q ds/(G t) round it over twice its area; twice
area times flow, added over the cells, is the torque.  For a shear force the flow in a wall grows by the gradient of the
bending stress, the flows at a point add up to nothing, and no cell turns.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import atan2

import numpy as np
import numpy.typing as npt

from jointcalc.errors import InputError

Array = npt.NDArray[np.float64]
STEEL_G = 80770.0
"""Shear modulus of steel [MPa]: 210 000/(2 (1 + 0.3))."""


@dataclass(frozen=True, slots=True)
class CellWall:
    """A wall of a cell: cell on its left and on its right (None: outside), length and thickness [mm], G [MPa]."""

    left: int | None
    right: int | None
    length: float
    t: float
    G: float = STEEL_G


@dataclass(frozen=True, slots=True)
class Twisted:
    """Cells under a torque: flow of each cell and of each wall [N/mm], twist per length [rad/mm], GJ [N mm²]."""

    cells: Array
    walls: Array
    rate: float
    stiffness: float


def twist_cells(areas: Sequence[float], walls: Sequence[CellWall], torque: float) -> Twisted:
    """Flows round cells of these areas [mm²] under a torque [N mm]; a wall's flow is that of its left cell less its right.

    Raises InputError where there is no cell, or one without area or walls.
    """
    n = len(areas)
    if n == 0:
        raise InputError("no closed cell: a torque finds no path as shear flow round the walls")
    matrix = np.zeros((n, n))
    for wall in walls:
        give = wall.length / (wall.G * wall.t)
        for own, other in ((wall.left, wall.right), (wall.right, wall.left)):
            if own is None or own == other:
                continue
            matrix[own, own] += give
            if other is not None:
                matrix[own, other] -= give
    area = np.asarray(areas, dtype=np.float64)
    if np.any(area <= 0) or np.any(np.diag(matrix) <= 0):
        raise InputError("a cell without area or without walls carries no torque")
    unit = np.linalg.solve(matrix, 2 * area)  # flow for a twist per length of one
    stiffness = float(2 * area @ unit)
    cells = unit * torque / stiffness

    def of(cell: int | None) -> float:
        return 0.0 if cell is None else float(cells[cell])

    return Twisted(cells, np.array([of(w.left) - of(w.right) for w in walls]), torque / stiffness, stiffness)


@dataclass(frozen=True, slots=True)
class Wall:
    """A straight wall between two points of a section, by their numbers: thickness [mm], G [MPa], a name."""

    a: int
    b: int
    t: float
    name: str = ""
    G: float = STEEL_G


@dataclass(frozen=True, slots=True)
class Sheared:
    """Shear flow of a section under a shear force [N/mm], from `a` to `b` of each wall.

    At the beginning, the middle and the end of the wall; `greatest` is the largest along it without its sign, `force` the
    sum along it [N].
    """

    first: Array
    middle: Array
    last: Array
    greatest: Array
    force: Array


class Walls:
    """A section drawn with straight walls.  `points` (n, 2): y to the right, z up [mm].

    Raises InputError for walls without length or thickness and for a section in several pieces.
    """

    def __init__(self, points: Sequence[tuple[float, float]], walls: Sequence[Wall]) -> None:
        self.points = np.asarray(points, dtype=np.float64)
        self.walls = tuple(walls)
        self.a = np.array([w.a for w in walls], dtype=int)
        self.b = np.array([w.b for w in walls], dtype=int)
        self.t = np.array([w.t for w in walls])
        self.G = np.array([w.G for w in walls])
        along = self.points[self.b] - self.points[self.a]
        self.length = np.hypot(*along.T)
        if np.any(self.length <= 0) or np.any(self.t <= 0):
            bad = next(w for w, length in zip(walls, self.length) if length <= 0 or w.t <= 0)
            raise InputError(f"wall '{bad.name}' has no length or no thickness")
        self._connected()
        self.areas, self.sides = self._cells()

    def _connected(self) -> None:
        reached, todo = {int(self.a[0])}, [int(self.a[0])]
        while todo:
            at = todo.pop()
            for i, j in zip(self.a, self.b):
                for one, other in ((int(i), int(j)), (int(j), int(i))):
                    if one == at and other not in reached:
                        reached.add(other)
                        todo.append(other)
        if reached != set(self.a) | set(self.b):
            raise InputError("the section falls into pieces that no wall joins")

    def _cells(self) -> tuple[Array, list[tuple[int | None, int | None]]]:
        """Areas of the cells, and for each wall the cell on its left and on its right, walking from `a` to `b`."""
        out: dict[int, list[tuple[float, int, int]]] = {}
        for k, (a, b) in enumerate(zip(self.a, self.b)):
            for own, other, way in ((int(a), int(b), 1), (int(b), int(a), -1)):
                dy, dz = self.points[other] - self.points[own]
                out.setdefault(own, []).append((atan2(dz, dy), k, way))
        for star in out.values():
            star.sort()
        face: dict[tuple[int, int], int] = {}
        areas: list[float] = []
        for start in [(k, way) for k in range(len(self.walls)) for way in (1, -1)]:
            if start in face:
                continue
            half, walked, area = start, [], 0.0
            while half not in walked:
                walked.append(half)
                k, way = half
                i, j = (self.a[k], self.b[k]) if way == 1 else (self.b[k], self.a[k])
                (y1, z1), (y2, z2) = self.points[i], self.points[j]
                area += (y1 * z2 - y2 * z1) / 2
                star = out[int(j)]
                # the way back, then the next one clockwise: the face on the left
                back = next(n for n, (_, other, turn) in enumerate(star) if other == k and turn == -way)
                _, k, way = star[back - 1]
                half = (k, way)
            for one in walked:
                face[one] = len(areas)
            areas.append(area)
        size = max(abs(x) for x in areas)
        inner = [n for n, x in enumerate(areas) if x > 1e-9 * size]
        number: dict[int, int | None] = {n: None for n in range(len(areas))}
        number.update({n: m for m, n in enumerate(inner)})
        sides = [(number[face[k, 1]], number[face[k, -1]]) for k in range(len(self.walls))]
        return np.array([areas[n] for n in inner]), sides

    def twist(self, torque: float) -> Twisted:
        """Flows under a torque [N mm], counter-clockwise; flow of a wall runs from `a` to `b`.  Raises InputError."""
        given = [
            CellWall(left, right, float(length), float(t), float(G))
            for (left, right), length, t, G in zip(self.sides, self.length, self.t, self.G)
        ]
        return twist_cells([float(x) for x in self.areas], given, torque)

    @property
    def area(self) -> float:
        """Area of the walls [mm²]."""
        return float(self.t @ self.length)

    @property
    def centroid(self) -> tuple[float, float]:
        """y and z of the centroid [mm]."""
        middle = (self.points[self.a] + self.points[self.b]) / 2
        y, z = (self.t * self.length) @ middle / self.area
        return float(y), float(z)

    def second_moments(self) -> tuple[float, float, float]:
        """I_y, I_z, I_yz about the centroid [mm⁴]; y lies across, so that I_y is that of bending in a vertical plane."""
        p, q = self.points[self.a] - self.centroid, self.points[self.b] - self.centroid
        share = self.t * self.length / 3

        def product(i: int, j: int) -> float:
            mixed = p[:, i] * q[:, j] + q[:, i] * p[:, j]
            return float(share @ (p[:, i] * p[:, j] + q[:, i] * q[:, j] + mixed / 2))

        return product(1, 1), product(0, 0), product(0, 1)

    def first_moment(self, *names: str) -> float:
        """First moment of the walls of these names about the neutral axis of vertical bending [mm³]."""
        z = (self.points[self.a, 1] + self.points[self.b, 1]) / 2 - self.centroid[1]
        named = np.array([w.name in names for w in self.walls])
        return float((self.t * self.length * z)[named].sum())

    def shear(self, V: float) -> Sheared:
        """Flow under a vertical shear force V [N] through the shear centre, upwards on the face that x points out of.

        Of a section that is alike on both sides of a vertical axis, or has principal axes that are: others also bend
        sideways, which the gradient of the stress counts in.
        """
        I_y, I_z, I_yz = self.second_moments()
        y0, z0 = self.centroid
        det = I_y * I_z - I_yz**2

        def gradient(at: Array) -> Array:
            """d sigma/dx at points [MPa/mm] for a unit of dM/dx."""
            return np.asarray(V * (I_z * (at[:, 1] - z0) - I_yz * (at[:, 0] - y0)) / det)

        p, q = gradient(self.points[self.a]), gradient(self.points[self.b])
        L, t, m = self.length, self.t, len(self.walls)
        # the flow along s from a: q_a - t (p s + (q - p) s^2/2L)
        gained = -t * L * (p + q) / 2
        nodes = sorted(set(self.a) | set(self.b))
        at = {int(node): row for row, node in enumerate(nodes)}
        rows, right = np.zeros((len(nodes) + len(self.areas), m)), np.zeros(len(nodes) + len(self.areas))
        for k in range(m):
            rows[at[int(self.a[k])], k] += 1.0
            rows[at[int(self.b[k])], k] -= 1.0
            right[at[int(self.b[k])]] += gained[k]
        give = L / (self.G * t)
        size = float(np.mean(give))
        summed = -t * L * (p / 2 + (q - p) / 6)  # mean of what is gained along the wall
        for k, (left, other) in enumerate(self.sides):
            for cell, sign in ((left, 1.0), (other, -1.0)):
                if cell is not None and left != other:
                    rows[len(nodes) + cell, k] += sign * give[k] / size
                    right[len(nodes) + cell] -= sign * give[k] / size * summed[k]
        first, *_ = np.linalg.lstsq(rows, right, rcond=None)
        turn = np.where(np.abs(q - p) > 1e-300, -p * L / np.where(q == p, 1.0, q - p), -1.0)
        inside = np.clip(turn, 0.0, L)
        peak = first - t * (p * inside + (q - p) * inside**2 / (2 * L))
        last, middle = first + gained, first - t * L * (p / 2 + (q - p) / 8)
        greatest = np.maximum(np.maximum(np.abs(first), np.abs(last)), np.abs(peak))
        return Sheared(first, middle, last, greatest, (first + summed) * L)
