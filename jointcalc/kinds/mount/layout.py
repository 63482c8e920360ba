"""The feet marked out on the surface they stand on, and what is bought and cut for them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jointcalc.kinds.mount.model import Mount
from jointcalc.layout.cutlist import count_bolts
from jointcalc.layout.rows import bolts
from jointcalc.quantity.show import System

if TYPE_CHECKING:
    from jointcalc.layout.cutlist import CutList
    from jointcalc.layout.drawing import Drawing
    from jointcalc.model.bolts import FastenerGroup


def on_surface(mount: Mount) -> list[tuple[float, float]]:
    """The feet in axes along the surface they stand on [mm]."""
    return [mount.local(foot)[:2] for foot in mount.feet]


def pattern(mount: Mount) -> FastenerGroup:
    """All bolts of all feet as one pattern on the surface."""
    group = mount.group(0, (0.0, 0.0, -1.0), 1.5)
    places = tuple((x + a, y + b) for x, y in on_surface(mount) for a, b in mount.places)
    return group.but(id=mount.id, title=mount.title, holes=places, edge=None, outline=None, width=None)


def marking(mount: Mount, system: System) -> Drawing | None:
    """Holes of all feet with their plates; None where the mount describes no bolts."""
    if not mount.fastened:
        return None
    where = {"z": "x and y of the plan", "-z": "x and -y of the plan, seen from below"}.get(
        mount.faces, "along the wall"
    )
    drawing = bolts(pattern(mount), system)
    drawing.notes.append(f"Feet of the mount; axes: {where}.")
    return drawing


def count(made: CutList, mount: Mount) -> None:
    """Fasteners and plates of the feet, where the mount describes them."""
    if mount.fastened:
        count_bolts(made, pattern(mount))
