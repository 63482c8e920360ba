"""A body as a box of flat sheets with sills and a tunnel: its cross-section, its cells, its six faces.

How it carries twist stands in `body_twist`, bending between its axles in `body_bending`.  An estimate.  What is taken:

- Sheets carry shear in their plane and no more; seams hand it on along their line.
- The box runs straight, with the same section all the way; floor and sills meet at the foot of the sills.
- A side that is a ring (a frame round a window or a door) passes shear on by bending of its members; how stiff it is
  is not known, so the box alone and the closed sections of the floor alone are both taken to carry everything.  Under
  a roof the body still bends as one, with such sides as webs; without one the floor, sills and tunnel bend alone.
- A side that is neither sheet nor ring closes nothing: the closed sections of the floor carry the twist by themselves.

Units: N, mm, MPa.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from jointcalc.errors import InputError
from jointcalc.quantity.sentence import mm
from jointcalc.section.outline import STEEL_DENSITY, Outline, Segment
from jointcalc.section.properties import Properties
from jointcalc.statics.surfaces import Edge, Surface

Array = npt.NDArray[np.float64]
SIDES = ("floor", "roof", "left side", "right side", "front", "rear")
"""The six faces of the box; front and rear are its ends."""
STEEL_G = 80770.0
"""Shear modulus of steel [MPa]: 210 000/(2 (1 + 0.3))."""
WEB = 1e-4
"""Thickness of a wall that stands for a ring, which passes on shear and carries nothing along [mm]."""


@dataclass(frozen=True, slots=True)
class Box:
    """Sizes of a body [mm].

    `sheets`: face -> thickness; a face that is not named is open or in `rings`.  `sill` and `tunnel` are width, height
    and thickness; `plate` closes the tunnel from below with that thickness.  `opening` lies in the floor, along and
    across.  `ratios` are moduli over those of the first metal, where metals differ; `G` is that of the first.
    """

    length: float
    width: float
    height: float
    sheets: Mapping[str, float]
    rings: frozenset[str] = frozenset()
    sill: tuple[float, float, float] | None = None
    tunnel: tuple[float, float, float] | None = None
    plate: float | None = None
    opening: tuple[float, float] | None = None
    ratios: Mapping[str, float] = field(default_factory=dict)
    G: float = STEEL_G

    def __post_init__(self) -> None:
        for name in ("length", "width", "height"):
            if getattr(self, name) <= 0:
                raise InputError(f"the box has no area: its {name} is {mm(getattr(self, name)):g}", field="size")
        across = 2 * (self.sill[0] if self.sill else 0.0) + (self.tunnel[0] if self.tunnel else 0.0)
        if across >= self.width:
            raise InputError(
                f"sills and tunnel are {mm(across):g} wide together; the box is {mm(self.width):g}", field="sill"
            )
        for name, one in (("sill", self.sill), ("tunnel", self.tunnel)):
            if one is not None and one[1] >= self.height:
                raise InputError(f"is {mm(one[1]):g} high, as high as the box or higher", field=name)
            if one is not None and min(one) <= 0:
                raise InputError("has no area; give width and height", field=name)

    @property
    def closed(self) -> bool:
        """Whether all six faces are there, as sheet or as ring."""
        return all(face in self.sheets or face in self.rings for face in SIDES)

    @property
    def field_width(self) -> float:
        """Clear width of the floor between sill and tunnel, or between the sills [mm]."""
        clear = self.width - 2 * (self.sill[0] if self.sill else 0.0)
        return (clear - self.tunnel[0]) / 2 if self.tunnel else clear

    @property
    def enclosed(self) -> float:
        """Area inside the box and outside of sills and tunnel [mm²]."""
        taken = 2 * self.sill[0] * self.sill[1] if self.sill else 0.0
        return self.width * self.height - taken - (self.tunnel[0] * self.tunnel[1] if self.tunnel else 0.0)

    def section(self, *faces: str, webs: Sequence[str] = ()) -> Section | None:
        """The walls of these faces, with sills and tunnel; None where there is none.

        Faces in `webs` pass on shear and carry nothing along: walls of next to no thickness.
        """
        points: dict[tuple[float, float], int] = {}
        names: list[str] = []
        walls: list[tuple[int, int, float]] = []

        def add(name: str, t: float | None, *ends: tuple[float, float]) -> None:
            if t is None:
                return
            for one, other in pairwise(ends):
                names.append(name)
                walls.append((points.setdefault(one, len(points)), points.setdefault(other, len(points)), t))

        def of(face: str) -> float | None:
            return WEB if face in webs else self.sheets.get(face) if face in faces else None

        half, top = self.width / 2, self.height
        foot, inner = 0.0, half
        if self.sill:
            b, foot, t = self.sill
            inner = half - b
            for side in (-1, 1):
                ring = ((side * inner, 0.0), (side * half, 0.0), (side * half, foot), (side * inner, foot))
                add("sill", t, *ring, ring[0])
        for side, face in ((-1, "left side"), (1, "right side")):
            add(face, of(face), (side * half, foot), (side * half, top))
        add("roof", of("roof"), (-half, top), (half, top))
        if self.tunnel:
            b, h, t = self.tunnel
            add("tunnel", t, (-b / 2, 0.0), (-b / 2, h), (b / 2, h), (b / 2, 0.0))
            add("tunnel plate", self.plate, (-b / 2, 0.0), (b / 2, 0.0))
            add("floor", of("floor"), (-inner, 0.0), (-b / 2, 0.0))
            add("floor", of("floor"), (b / 2, 0.0), (inner, 0.0))
        else:
            add("floor", of("floor"), (-inner, 0.0), (inner, 0.0))
        if not walls:
            return None
        at = np.array(list(points))
        along = at[[b for _, b, _ in walls]] - at[[a for a, _, _ in walls]]
        along /= np.hypot(along[:, 0], along[:, 1])[:, None]
        columns = np.array([t for *_, t in walls])[:, None]
        one, ratio = np.ones_like(columns), np.array([self.ratios.get(name, 1.0) for name in names])[:, None]
        outline = Outline(
            tuple(Segment(name, "flat", a, b) for name, (a, b, _) in zip(names, walls)), at[:, :1], at[:, 1:],
            along[:, :1], along[:, 1:], columns, 0 * one, 0 * one, ratio, one, STEEL_DENSITY * one,
        )  # fmt: skip
        return Section(outline)


class Section:
    """Walls of a body's cross-section and the flows in them; each part has one name for all its walls."""

    def __init__(self, outline: Outline) -> None:
        self.outline = outline
        self.properties = Properties(outline)

    @property
    def closed(self) -> bool:
        """Whether its walls close a cell.  Raises InputError where they are in separate pieces."""
        return bool(self.outline.tree.loops)

    @property
    def cells(self) -> Array:
        """Area of the cells [mm²]."""
        return np.asarray(self.properties.cell_areas[:, 0])

    @property
    def J(self) -> float:
        """Bredt's torsion constant of its cells [mm⁴]."""
        return float(self.properties.J_cells[0])

    def twist(self, torque: float) -> dict[str, float]:
        """Greatest flow of each part under a torque that its cells carry alone [N/mm]."""
        whole = torque * float(self.properties.J[0]) / self.J  # the walls' own torsion is left to the safe side
        return self._greatest(np.abs(self.properties.torsion_flow(whole)[:, 0]))

    def shear(self, V: float) -> dict[str, float]:
        """Greatest flow of each part under an upright shear force [N/mm]."""
        flow = self.properties.shear_flow(V_z=V)
        found = np.maximum(np.abs(flow.start[:, 0]), np.abs(flow.end[:, 0]))
        first, second = flow.rates[0, :, 0], flow.rates[1, :, 0]
        for n in range(len(found)):
            if first[n] * (first[n] + second[n]) < 0:  # it has its greatest where the bending stress is nothing
                found[n] = max(found[n], abs(float(flow.along(n, -first[n] / second[n])[0])))
        return self._greatest(found)

    def _greatest(self, flows: Array) -> dict[str, float]:
        found: dict[str, float] = {}
        for piece, flow in zip(self.outline.segments, flows):
            found[piece.name] = max(found.get(piece.name, 0.0), float(flow))
        return found

    def first_moment(self, name: str) -> float:
        """First moment of a part about the neutral axis of upright bending [mm³]."""
        o, total = self.outline, 0.0
        for n, piece in enumerate(o.segments):
            if piece.name == name:
                ends = [piece.start, piece.end]
                length = float(np.hypot(np.ptp(o.y[ends, 0]), np.ptp(o.z[ends, 0])))
                z = float(o.z[ends, 0].mean() - self.properties.z_centroid[0])
                total += float(o.ratio[n, 0] * o.t[n, 0]) * length * z
        return total


def filled(box: Box) -> Box:
    """The box with its rings filled with sheet: as thick as the face across from it, else as any other sheet."""
    across = {"left side": "right side", "right side": "left side", "floor": "roof", "roof": "floor"}
    any_t = max(box.sheets.values(), default=0.0)
    sheets = {**box.sheets, **{face: box.sheets.get(across.get(face, ""), any_t) for face in box.rings}}
    return replace(box, sheets={face: t for face, t in sheets.items() if t > 0}, rings=frozenset())


def faces(box: Box) -> tuple[list[Surface], list[Edge]]:
    """The six faces of the box as surfaces with the edges they share; what is open is left out."""

    def at(x: int, y: int, z: int) -> tuple[float, float, float]:
        return x * box.length, (y - 0.5) * box.width, z * box.height

    corners = {
        "floor": (at(0, 0, 0), at(1, 0, 0), at(1, 1, 0), at(0, 1, 0)),
        "roof": (at(0, 0, 1), at(1, 0, 1), at(1, 1, 1), at(0, 1, 1)),
        "left side": (at(0, 0, 0), at(1, 0, 0), at(1, 0, 1), at(0, 0, 1)),
        "right side": (at(0, 1, 0), at(1, 1, 0), at(1, 1, 1), at(0, 1, 1)),
        "front": (at(0, 0, 0), at(0, 1, 0), at(0, 1, 1), at(0, 0, 1)),
        "rear": (at(1, 0, 0), at(1, 1, 0), at(1, 1, 1), at(1, 0, 1)),
    }
    there = [face for face in SIDES if face in box.sheets or face in box.rings]
    surfaces = [Surface(face, corners[face], box.G * box.sheets.get(face, 1.0)) for face in there]
    edges = []
    for n, one in enumerate(there):
        for other in there[:n]:
            shared = [p for p in corners[one] if p in corners[other]]
            if len(shared) == 2:
                edges.append(Edge(shared[0], shared[1], (other, one)))
    return surfaces, edges
