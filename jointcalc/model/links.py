"""What items of a file say of one another: joints at a brace's ends, the seam along it, the part a panel is rolled in.

One weld line is described once: a brace that is closed or joined by a seam of the file names it (`welded_by`), and
takes its spots from there.  Check, layout and cut list then speak of the same welds.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any

from jointcalc.errors import InputError, nearest
from jointcalc.model.seam import SpotSeam
from jointcalc.quantity.sentence import Measure, mm

if TYPE_CHECKING:
    from jointcalc.model.brace import Brace


def end_joints(items: Iterable[Any], where: str) -> list[InputError]:
    """Joints that a brace names at its ends and the file does not have."""
    items = list(items)
    known = {item.id for item in items}
    return [
        InputError(
            f"'{name}' of brace {item.id} is not the id of an item of this file{nearest(name, sorted(known))}",
            field="end_joints",
            where=where,
        )
        for item in items
        for name in getattr(item, "end_joints", ())
        if name not in known
    ]


def beaded_parts(items: Iterable[Any], parts: Iterable[Any], where: str) -> list[InputError]:
    """Parts that a panel is beaded into and the file does not have."""
    known = sorted(part.id for part in parts if hasattr(part, "beaded"))
    return [
        InputError(
            f"'{item.part}' of panel {item.id} is not the id of a [[part]] of this file{nearest(item.part, known)}",
            field="part",
            where=where,
        )
        for item in items
        if getattr(item, "part", None) is not None and item.part not in known  # only panels name one
    ]


def weld_lines(items: Iterable[Any], found: list[InputError], where: str) -> list[Any]:
    """The items, each brace that names the seam along it with that seam's spots; faults go into `found`."""
    items = list(items)
    seams = {item.id: item for item in items if isinstance(item, SpotSeam)}
    named: dict[str, Brace] = {}
    made: list[Any] = []
    for item in items:
        if not getattr(item, "welded_by", ""):  # only braces name one
            made.append(item)
            continue
        try:
            seam = _seam_of(item, seams, named)
            made.append(item.but(pitch=seam.actual_pitch, weld_diameter=f"{seam.d!r} mm").along(seam))
            named[seam.id] = item
        except InputError as error:
            found.append(error.at(where=f"{where}: {item.id}"))
            made.append(item)
    return [item.of(named[item.id].id) if item.id in named else item for item in made]


LONGER = 0.1
"""How much the seam may be shorter or longer than the brace that it closes: its ends are welded to the rails."""


def _seam_of(brace: Brace, seams: Mapping[str, SpotSeam], named: Mapping[str, Brace]) -> SpotSeam:
    """The seam a brace names.  InputError where there is none, or it is no seam of this brace."""
    name = brace.welded_by
    if name not in seams:
        raise InputError(
            f"'{name}' is not the id of a [[seam]] of this file{nearest(name, sorted(seams))}", field="welded_by"
        )
    if name in named:
        raise InputError(f"'{name}' is already the seam of {named[name].id}; each brace has its own", field="welded_by")
    for field in ("pitch", "weld_diameter"):
        if brace.typed(field):
            raise InputError(f"is typed though the spots are those of {name}; take it out", field=field)
    if not brace.family.weld_lines:
        raise InputError(f"a {brace.family.kind} has no weld line; a hat-skin or a lap has", field="welded_by")
    seam = seams[name]
    if not _as_long(seam, brace):
        raise InputError(
            f"{name} is {mm(seam.length):g} long and the brace {mm(brace.length):g}: it is no seam along this brace",
            field="welded_by",
        )
    sizes = sorted(sheet.thickness for sheet in brace.sheets)
    stack = sorted(sheet.thickness for sheet in seam.sheets)
    if not _same_sheets(seam, brace):
        joined, own = (Measure.of(values, " + ", unit="mm") for values in (stack, sizes))
        raise InputError(
            f"{name} joins sheets of {joined} and the brace is of {own}: it is no seam of it", field="welded_by"
        )
    return seam


def _as_long(seam: SpotSeam, brace: Brace) -> bool:
    return abs(seam.length - brace.length) <= LONGER * brace.length


def _same_sheets(seam: SpotSeam, brace: Brace) -> bool:
    return all(any(abs(t.thickness - s.thickness) <= 1e-9 for s in seam.sheets) for t in brace.sheets)


def perhaps_one(items: Iterable[Any]) -> list[tuple[str, str]]:
    """(seam, brace) that may be the same row of spots and are described twice: as long, of the same sheets."""
    items = list(items)
    seams = [item for item in items if isinstance(item, SpotSeam) and not item.brace]
    return [
        (seam.id, item.id)
        for item in items
        if getattr(item, "pitch", None) is not None and hasattr(item, "welded_by") and item.seam is None
        for seam in seams
        if _as_long(seam, item) and _same_sheets(seam, item)
    ]
