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


def marking(mount: Mount, system: System) -> Drawing | None:
    """Holes of all feet with their plates; None where the mount describes no bolts."""
    if not mount.fastened:
        return None
    where = {"z": "x and y of the plan", "-z": "x and -y of the plan, seen from below"}.get(
        mount.faces, "along the wall"
    )
    drawing = bolts(mount.pattern, system)
    drawing.notes.append(f"Feet of the mount; axes: {where}.")
    return drawing


def count(made: CutList, mount: Mount) -> None:
    """Fasteners and plates of the feet, where the mount describes them."""
    if mount.fastened:
        count_bolts(made, mount.pattern)
