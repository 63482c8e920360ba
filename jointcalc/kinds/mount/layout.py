"""The feet marked out on the surface they stand on, and what is bought and cut for them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from jointcalc.kinds.mount.model import Mount
from jointcalc.layout.cutlist import count_bolts
from jointcalc.layout.places import Places
from jointcalc.layout.rows import bolts
from jointcalc.layout.words import size, unit
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


def places(mount: Mount, system: System) -> Iterator[Places]:
    """The bolts of all feet, or the feet where others hold them."""
    u = unit(system)
    holes = mount.places if mount.fastened else ((0.0, 0.0),)
    rows: list[tuple[str, ...]] = []
    for x, y in mount.on_surface:
        for a, b, *_ in holes:
            rows.append(
                (str(len(rows) + 1), str(len(rows) // len(holes) + 1), size(x + a, system), size(y + b, system))
            )
    what = "bolts" if mount.fastened else "feet"
    yield Places(
        "feet", what, f"{what.capitalize()}, along the surface", ("no.", "foot", f"x {u}", f"y {u}"), tuple(rows)
    )


def count(made: CutList, mount: Mount) -> None:
    """Fasteners and plates of the feet, where the mount describes them."""
    if mount.fastened:
        count_bolts(made, mount.pattern)
