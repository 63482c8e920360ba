"""Checklists of bolts, braces and panels.

No table of tightening torques is ours (they hang on lubrication and coating): the maker's sheet says them.  What is
said of locking, cracks and holes is common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from jointcalc.layout.blanks import BOUGHT, spot_radius, weld_places
from jointcalc.model.bolts import FastenerGroup
from jointcalc.model.brace import Brace
from jointcalc.model.panel import Panel
from jointcalc.quantity.sentence import joined, mm
from jointcalc.section.families.family import Family
from jointcalc.section.families.hat import HatSkin
from jointcalc.section.families.lap import Lap
from jointcalc.show.checklist import MAKER, Entry, alike, count, look, sheets, size

_LEFT_OUT = re.compile(r"(?P<what>.*)[,;] (?P<default>[^,;]+) if left out")


# --- bolts -----------------------------------------------------------------------------------------------------------


def bolts(item: FastenerGroup) -> Iterator[Entry]:
    """Fasteners: holes, edges, washers, plates, tightening."""
    yield from sheets(item.sheets)
    f, n = item.fastener, len(item.holes)
    word = {"bolt": "bolt", "rivnut": "rivet nut and screw", "rivet": "rivet"}[f.kind]
    yield look("fastener", f"Size and class of the {word}s, by their marking", f.label, places=n)
    yield count("count", f"Number of {word}s", n)
    yield size("hole", "Diameter of the holes", item.d_0, "greatest", places=n)
    if item.slot is not None:
        yield size("slot", f"Overall length of the slots, along {item.slot_along}", item.slot, "greatest", places=n)
    if item.pitch is not None:
        yield size("pitch", "Nearest two holes, centre to centre", item.pitch)
    yield from _edges(item)
    if item.washers is not None:
        across, thick = item.washers
        yield size("washer", "Washers: outside diameter", across, "least", places=n)
        yield size("washer-thickness", "Washers: thickness", thick, "least", places=n)
    if item.plate is not None:
        for key, name, value in zip(("long", "short", "thick"), ("length", "width", "thickness"), item.plate):
            yield size(f"plate-{key}", f"Backing plates: {name}", value, "least", places=n)
        yield size("plate-hole", "Backing plates: hole", item.d_plate, "greatest", places=n)
        yield look("plate-grade", "Backing plates: grade", item.plate_grade, places=n)
    if item.countersunk:
        yield size("countersink", "Depth of the countersinks", item.sink[1], "greatest", places=n)
    if item.packing is not None:
        yield size("packing", "Loose packing between the sheets", item.packing, "greatest")
    else:
        yield look("gap", "Sheets under the heads", "lie together, nothing between them", places=n)
    if item.between is not None:
        yield size("between", "Rails or ribs on both sides of the bolts, distance", item.between, "greatest")
    if item.upright is not None:
        yield size("upright", "Bolt centre to the upright of the bracket", item.upright, "greatest", places=n)
    if f.kind != "rivet" and item.threads == "out":
        yield look("threads", "Threads", "none in the shear plane", places=n)
    yield from _fixing(item, n)


def _edges(item: FastenerGroup) -> Iterator[Entry]:
    """Centres to the edge, of the sheets' outlines where they are given."""
    if not item.outline:
        yield size("edge", "Hole centres to the nearest edge", item.edge_used, "least", places=len(item.holes))
        return
    for k, _ in enumerate(item.sheets):
        found = item.corners(k)
        assert found is not None
        x1, y1, x2, y2 = found
        least = min(min(x - x1, x2 - x, y - y1, y2 - y) for x, y in item.holes)
        told = f" of sheet {k + 1}" if len(item.sheets) > 1 else ""
        yield size(f"edge-{k + 1}", f"Hole centres to the nearest edge{told}", least, "least", places=len(item.holes))


def _fixing(item: FastenerGroup, n: int) -> Iterator[Entry]:
    if item.fastener.kind == "rivet":
        yield look("set", "Rivets set: grip range and mandrel", f"{MAKER}, heads tight", places=n)
        return
    if item.fastener.kind == "rivnut":
        yield look("insert", "Rivet nuts set: hole, grip range, pull", f"{MAKER}, none turns", places=n)
    yield look("torque", "Tightening torque", f"{MAKER} for {item.fastener.label}, as lubricated", places=n)
    yield look("locking", "Locked against turning, and a torque mark", "every one", places=n)


# --- braces ----------------------------------------------------------------------------------------------------------


def brace(item: Brace) -> Iterator[Entry]:
    """A brace: sheets, profile, spots of its weld lines, spans, bearing, the look of it."""
    family = item.family
    names = ("profile", "upper sheet" if isinstance(family, Lap) else "skin")[: len(item.sheets)]
    yield from sheets(item.sheets, names)
    yield from dimensions(family)
    lines = len(family.weld_lines)
    if lines:
        spots = len(weld_places(item))
        if item.pitch is not None and spots:
            yield count("count", "Number of spots, all weld lines together", spots * lines)
            yield size("pitch", "Pitch of the spots", item.pitch, "greatest", places=(spots - 1) * lines)
        if item.seam is not None:
            yield look("spots", "Spots of its weld lines", f"as the checklist of {item.seam.id} says", places=lines)
        else:
            yield size("button", "Button of the peel coupon, mean of two directions", 2 * spot_radius(item), "least")
    for k, (span, n) in enumerate(alike(item.span)):
        key = f"span-{k + 1}"
        yield size(key, "Span between supports" if len(item.span) > 1 else "Span", span, "greatest", places=n)
    if item.bearing is not None:
        yield size("bearing", "Length it bears on at supports and under loads", item.bearing, "least")
    if item.overhang:
        yield size("overhang", "Runs on beyond the outer bearings", item.overhang, "least", places=2)
    if not family.level_symmetric:
        ways = {"crown-up": "crown up, as drawn", "flanges-up": "flanges up"}
        yield look("lies", "Which way up", ways.get(item.lies, "either way: both were judged"))
    if item.held != "none":
        yield look("held", "Kept from moving sideways", f"{item.held} face, over its whole length")
    if item.end_joints:
        yield look("ends", "Joints at its ends", f"made and checked: {', '.join(item.end_joints)}")
    elif item.fastened:
        yield look("ends", "Ends", "welded or bolted to the supports", places=len(item.supports))
    if not isinstance(family, BOUGHT):
        yield look("bends", "Cracks at the bends", "none")
    yield look("whole", "Holes, notches, dents, welds that are not drawn", "none")


def dimensions(family: Family) -> Iterator[Entry]:
    """Every dimension of a profile but its thicknesses, which are those of its sheets."""
    letters = family.letters()
    for name, letter in letters.items():
        value = getattr(family, name)
        value = family.radius if name == "r" else value
        if value is None and name == "weld" and isinstance(family, HatSkin):
            value = family.weld_line
        match = _LEFT_OUT.fullmatch(letter.meaning)
        what = match["what"] if match else letter.meaning
        check = f"Profile, {name.replace('_', ' ')}: {what}"
        if letter.thickness:
            continue
        if value is not None:
            yield size(f"profile.{name}", check, float(value))
        elif match:
            yield look(f"profile.{name}", check, match["default"])
    if not any(not letter.thickness and name != "r" for name, letter in letters.items()):
        yield look("profile.shape", "Profile, shape", "as the drawing shows it")


# --- panels ----------------------------------------------------------------------------------------------------------


def panel(item: Panel) -> Iterator[Entry]:
    """A panel: sheet, field, beads, opening, edges."""
    yield from sheets((item.sheet,))
    for k, side in enumerate(item.size):
        yield size(f"side-{k + 1}", "Field between the supports, " + ("other side" if k else "one side"), side,
                   "greatest")  # fmt: skip
    for k, (way, bead) in enumerate(item.beads):
        places = item.cross_places if k else item.bead_places
        key, name, n = f"bead-{k + 1}", f"Beads along the {way} side", len(places)
        yield look(f"{key}.form", f"{name}: form", bead.family, places=n)
        yield count(f"{key}.count", f"{name}: number", n)
        yield size(f"{key}.depth", f"{name}: depth", bead.depth, places=n)
        yield size(f"{key}.width", f"{name}: width", bead.width, places=n)
        if bead.flat:
            yield size(f"{key}.flat", f"{name}: flat of the crown", bead.flat, places=n)
        if n > 1:
            yield size(f"{key}.pitch", f"{name}: pitch", bead.pitch, places=n - 1)
        stop, runout = bead.ends
        yield size(f"{key}.stop", f"{name}: flat strip before they begin", stop, "greatest", places=2 * n)
        if runout:
            yield size(f"{key}.runout", f"{name}: length over which they rise", runout, "greatest", places=2 * n)
    if item.beads:
        yield look("beads.cracks", "Cracks and thin places at the beads and their ends", "none")
    if (hole := item.hole) is not None:
        where = f"{mm(hole.x, ' along the beads, ', hole.y):g} across them"
        yield size("opening.width", "Opening: along the beads", hole.width, "greatest")
        yield size("opening.height", "Opening: across the beads", hole.height, "greatest")
        yield look("opening.place", "Opening: its middle", where)
        if hole.corner:
            yield size("opening.corner", "Opening: corner radius", hole.corner, "least", places=4)
        if hole.flange:
            yield size("opening.flange", "Opening: height of the flange", hole.flange, "least")
    yield look("edges", "Edges held", joined(", ", (str(item.edges), item.drawing_in)))
    yield look("whole", "Holes, cuts, dents that are not drawn", "none")
