"""Flat sheets in equilibrium: simple structural surfaces.

Each surface carries forces in its own plane and no others.  Where surfaces meet along an edge they hand on a shear
force along it, and nothing else; the forces that one edge puts on its surfaces add up to nothing.  Every surface is in
equilibrium: two forces and a moment in its plane.  These are linear equations for the edge forces.

- They have no answer: a part of the load finds no path.  The surfaces that are left out of balance are named.
- They have many: the one with the least energy of shear in the sheets is taken, energy of a surface being that of the
  mean square of its edge flows over its area.  Of rectangles in shear alone this is exact.

Units: N, mm.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from jointcalc.errors import InputError, nearest

Array = npt.NDArray[np.float64]
TOLERANCE = 1e-7
"""Share of the load, or of a size, up to which a residue counts as nothing."""


@dataclass(frozen=True, slots=True)
class Surface:
    """A flat sheet: its name, its corners in order (n, 3) [mm], and its shear stiffness G t [N/mm]."""

    name: str
    corners: Sequence[Sequence[float]]
    stiffness: float = 1.0


@dataclass(frozen=True, slots=True)
class Edge:
    """Where surfaces meet: from `start` to `end` [mm], and their names."""

    start: Sequence[float]
    end: Sequence[float]
    surfaces: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Push:
    """A load on a surface: a force [N] at a point [mm], or a moment [N mm]; both in its plane."""

    surface: str
    force: Sequence[float] = (0.0, 0.0, 0.0)
    at: Sequence[float] = (0.0, 0.0, 0.0)
    moment: Sequence[float] = (0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Carried:
    """Forces along the edges.

    `forces[edge][surface]` [N] is what the edge puts on that surface, positive from `start` to `end`; `flows` the same
    by the length of the edge [N/mm].  `spare` is how many edge forces statics leaves open; `residual` [N] what is left
    out of balance, the greatest over all surfaces.
    """

    forces: tuple[dict[str, float], ...]
    flows: tuple[dict[str, float], ...]
    spare: int
    residual: float


@dataclass(frozen=True, slots=True)
class _Plane:
    u: Array
    v: Array
    normal: Array
    centre: Array
    size: float
    area: float


def _plane(surface: Surface) -> _Plane:
    corners = np.asarray(surface.corners, dtype=np.float64)
    centre = corners.mean(axis=0)
    arms = corners - centre
    size = float(np.abs(arms).max(initial=0.0))
    normal = np.asarray(np.cross(arms, np.roll(arms, -1, axis=0)).sum(axis=0) / 2)
    area = float(np.linalg.norm(normal))
    if len(corners) < 3 or area <= TOLERANCE * size**2:
        raise InputError(f"surface '{surface.name}' has no area; its corners lie on a line or a point")
    normal = normal / area
    if float(np.abs(arms @ normal).max()) > 1e-6 * size:
        raise InputError(f"surface '{surface.name}' is not flat; cut it into flat pieces")
    u = arms[int(np.argmax(np.linalg.norm(arms, axis=1)))]
    u = u / np.linalg.norm(u)
    return _Plane(u, np.cross(normal, u), normal, centre, size, area)


def solve(surfaces: Sequence[Surface], edges: Sequence[Edge], loads: Sequence[Push]) -> Carried:
    """Edge forces that hold every surface in balance.

    Raises InputError for a surface without area or not flat, an edge off its surfaces, a load across a surface, and
    where a part of the load finds no path; that one names the surfaces that are left out of balance.
    """
    planes = {s.name: _plane(s) for s in surfaces}
    stiff = {s.name: s.stiffness for s in surfaces}
    row = {name: 3 * n for n, name in enumerate(planes)}
    extent = max(p.size for p in planes.values())
    used: dict[str, float] = {}
    unknown: list[tuple[int, str]] = []
    for n, edge in enumerate(edges):
        _check_edge(edge, planes, extent)
        length = float(np.linalg.norm(np.subtract(edge.end, edge.start)))
        for name in edge.surfaces:
            unknown.append((n, name))
            used[name] = used.get(name, 0.0) + length
    A = np.zeros((3 * len(planes) + len(edges), len(unknown)))
    weight = np.zeros(len(unknown))
    for column, (n, name) in enumerate(unknown):
        edge, plane = edges[n], planes[name]
        along = np.subtract(edge.end, edge.start).astype(np.float64)
        length = float(np.linalg.norm(along))
        along /= length
        A[row[name] : row[name] + 3, column] = _balance(plane, along, np.asarray(edge.start, dtype=np.float64))
        A[3 * len(planes) + n, column] = 1.0
        weight[column] = plane.area / (stiff[name] * used[name] * length)
    b = np.zeros(len(A))
    for load in loads:
        plane = _known(planes, load.surface)
        force, moment = np.asarray(load.force, dtype=np.float64), np.asarray(load.moment, dtype=np.float64)
        at = np.asarray(load.at, dtype=np.float64)
        if np.any(force) and abs(float((at - plane.centre) @ plane.normal)) > 1e-6 * extent:
            raise InputError(f"a force on '{load.surface}' stands off its plane")
        across = abs(float(force @ plane.normal))
        turning = float(np.linalg.norm(moment - (moment @ plane.normal) * plane.normal))
        if across > TOLERANCE * float(np.linalg.norm(force)) or turning > TOLERANCE * float(np.linalg.norm(moment)):
            raise InputError(
                f"'{load.surface}' carries in its own plane only; a load across it needs a beam or cross member that "
                "hands it on to sheets that lie along it"
            )
        b[row[load.surface] : row[load.surface] + 3] -= _balance(plane, force, at)
        b[row[load.surface] + 2] -= float(moment @ plane.normal) / plane.size
    size = float(np.abs(b).max(initial=0.0))
    scale = 1.0 / np.sqrt(weight / weight.mean()) if len(weight) else np.zeros(0)
    solved, _, rank, _ = np.linalg.lstsq(A * scale, b, rcond=1e-10) if unknown else (np.zeros(0), 0, 0, 0)
    x = scale * solved
    left = b - A @ x if unknown else b
    residual = float(np.abs(left).max(initial=0.0))
    if residual > TOLERANCE * size:
        _no_path(planes, row, left, [load.surface for load in loads], size)
    forces: list[dict[str, float]] = [{} for _ in edges]
    for (n, name), value in zip(unknown, x):
        forces[n][name] = float(value)
    lengths = [float(np.linalg.norm(np.subtract(e.end, e.start))) for e in edges]
    flows = tuple({name: f / length for name, f in one.items()} for one, length in zip(forces, lengths))
    return Carried(tuple(forces), flows, len(unknown) - int(rank), residual)


def _balance(plane: _Plane, force: Array, at: Array) -> Array:
    """Two forces in the plane, and the moment about its middle over its size."""
    moment = float(np.cross(at - plane.centre, force) @ plane.normal)
    return np.array([float(force @ plane.u), float(force @ plane.v), moment / plane.size])


def _known(planes: dict[str, _Plane], name: str) -> _Plane:
    if name not in planes:
        raise InputError(f"there is no surface '{name}'{nearest(name, planes)} (there are: {', '.join(planes)})")
    return planes[name]


def _check_edge(edge: Edge, planes: dict[str, _Plane], extent: float) -> None:
    told = " and ".join(f"'{name}'" for name in edge.surfaces)
    if float(np.linalg.norm(np.subtract(edge.end, edge.start))) <= TOLERANCE * extent:
        raise InputError(f"the edge between {told} has no length")
    for name in edge.surfaces:
        plane = _known(planes, name)
        for point in (edge.start, edge.end):
            if abs(float((np.asarray(point) - plane.centre) @ plane.normal)) > 1e-6 * extent:
                raise InputError(f"the edge between {told} does not lie in the plane of '{name}'")


def _no_path(planes: dict[str, _Plane], row: dict[str, int], left: Array, loaded: Sequence[str], size: float) -> None:
    """Refuse a load without path.  How much is missing where is one answer of many; which surfaces take part is not."""
    open_ = [f"'{n}'" for n in planes if float(np.abs(left[row[n] : row[n] + 3]).max()) > 1e-5 * size]
    on = " and ".join(f"'{name}'" for name in dict.fromkeys(loaded))
    raise InputError(
        f"the load on {on} finds no path: {', '.join(open_)} cannot all be in balance in their own planes; a sheet or "
        "an edge is missing that would close the way round (such as the roof of a twisted box)"
    )
