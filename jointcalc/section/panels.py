"""The flats of a profile as the rules for effective widths see them: roles, ends, notional widths, beads."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from jointcalc.section.families.family import Family
from jointcalc.section.outline import Floats
from jointcalc.section.properties import Properties
from jointcalc.section.tracer import Bead, Flat


@dataclass(frozen=True, slots=True)
class Panel:
    """One flat as the effective-width rules see it; arrays over the batch.

    The strip runs from its start to its end; `z_1`, `z_2` are the heights of the tangent points on the
    mid-line, `length` the flat, `ext_1`, `ext_2` what the notional width adds at each end.
    """

    name: str
    role: str
    count: int
    host: str
    free_start: bool
    level: bool
    z_1: Floats
    z_2: Floats
    length: Floats
    t: Floats
    ext_1: Floats
    ext_2: Floats
    turned_1: bool
    turned_2: bool
    bead: Bead | None
    side: Floats
    """Width of each flat beside the bead; only with a bead."""
    share: Floats
    """Rise over length: 0 on a level flat, +-1 on an upright one."""
    next_1: str = ""
    next_2: str = ""


def panels(family: Family, properties: Properties, *, sharp: bool = False) -> tuple[Panel, ...]:
    """The flats of a family as the effective-width rules see them; flats beside a bead are one panel."""
    outline = properties.outline
    parts = family.trace(sharp=True).development().parts if sharp else family.flats_and_bends().parts
    touching: dict[int, list[int]] = {}
    for i, piece in enumerate(outline.segments):
        touching.setdefault(piece.start, []).append(i)
        touching.setdefault(piece.end, []).append(i)
    beads = {p.segment for p in parts if isinstance(p, Bead)}
    flat_of = {p.segment: p for p in parts if isinstance(p, Flat)}

    def beyond(segment: int, node: int) -> tuple[Floats, bool, str]:
        """(notional extension, whether a bend follows, name of the flat after it) at one end of a flat."""
        others = [j for j in touching[node] if j != segment]
        if len(others) != 1:
            return np.zeros(1), False, ""
        other = others[0]
        piece = outline.segments[other]
        if piece.kind != "bend" or other in beads:
            name = flat_of[other].name if other in flat_of else ""
            return np.zeros(1), piece.kind == "flat", name
        far = piece.end if piece.start == node else piece.start
        after = next((flat_of[j].name for j in touching[far] if j != other and j in flat_of), "")
        return np.asarray(outline.radius[other] * np.sin(np.abs(outline.sweep[other]) / 2)), True, after

    found = []
    skip = False
    for k, part in enumerate(parts):
        if not isinstance(part, Flat) or part.role == "none":
            continue
        if skip:
            skip = False
            continue
        first = last = part
        bead: Bead | None = None
        follower = parts[k + 1] if k + 1 < len(parts) else None
        if isinstance(follower, Bead):
            bead, skip = follower, True
            nxt = parts[k + 2]
            assert isinstance(nxt, Flat)
            last = nxt
        if part.count == 0:
            continue
        s1, s2 = outline.segments[first.segment], outline.segments[last.segment]
        z_1, z_2 = outline.z[s1.start], outline.z[s2.end]
        dz = z_2 - z_1
        dy = outline.y[s2.end] - outline.y[s1.start]
        length = np.sqrt(dy * dy + dz * dz)
        ext_1, turned_1, next_1 = beyond(first.segment, s1.start)
        ext_2, turned_2, next_2 = beyond(last.segment, s2.end)
        # a bead across a crown halves into a mirrored pair of flats, but it is one panel
        count = 1 if bead is not None and last.count == 0 else part.count
        found.append(
            Panel(
                name=part.name if bead is None else f"{part.name} (with bead)",
                role=part.role,
                count=count,
                host=part.host,
                free_start=part.free_end == "start",
                level=bool(abs(dz[0]) < abs(dy[0])),
                z_1=z_1,
                z_2=z_2,
                length=length,
                t=np.asarray(part.t),
                ext_1=ext_1,
                ext_2=ext_2,
                turned_1=turned_1,
                turned_2=turned_2,
                bead=bead,
                side=np.asarray(part.length),
                share=_rise(dy, dz, length),
                next_1=next_1,
                next_2=next_2,
            )
        )
    return tuple(found)


def _rise(dy: Floats, dz: Floats, length: Floats) -> Floats:
    """Rise over length; one number for all candidates where the flat is level or upright in all of them."""
    if np.all(np.abs(dz) <= 1e-12 * length):
        return np.zeros(1)
    if np.all(np.abs(dy) <= 1e-12 * length):
        return np.sign(dz[:1])
    return np.asarray(dz / np.where(length > 0, length, 1.0))
