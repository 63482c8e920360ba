"""Checklists of welds: spot seams, plugs and arc spots, arc welds along lines.

What is said of gaps, cracks and coupons is common practice, no source: no number of it is ours.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot

from jointcalc.model.fillet import FilletGroup
from jointcalc.model.plug import PlugRow
from jointcalc.model.row import WeldRow
from jointcalc.model.seam import SpotSeam
from jointcalc.show.checklist import Entry, alike, count, coupons, look, sheets, size

MOST_LENGTHS = 8
"""Different lengths of welds that are listed one by one."""


def _row(item: WeldRow, word: str) -> Iterator[Entry]:
    """Count and places of equal welds in rows."""
    yield count("count", f"Number of {word}s" + (f", {item.rows} rows together" if item.rows > 1 else ""), item.welds)
    if item.along > 1:
        steps = (item.along - 1) * item.rows
        yield size("pitch", f"Pitch, centre to centre along a row of {item.along}", item.actual_pitch, places=steps)
    yield size("end", f"First and last {word} from the ends", item.actual_end, places=2 * item.rows)
    if item.rows > 1 and item.row_spacing is not None:
        yield size("row-spacing", "Distance between the rows", item.row_spacing, places=item.rows - 1)
    yield size("edge", f"Edge of the sheet to the centres of the nearest {word}s", item.edge, "least")
    yield size("length", "Length of the row, end to end", item.length)


def seam(item: SpotSeam) -> Iterator[Entry]:
    """Spots: sheets, count, pitch, edge, button, the look of them."""
    yield from sheets(item.sheets)
    yield from _row(item, "spot")
    yield size("lap", "Width of the lap", item.actual_lap, "least")
    yield size("button", "Button of the peel coupon, mean of two directions", item.d, "least")
    yield coupons(item.coupons, "peeled and pulled, at the start and after the tips are dressed")
    yield look("gap", "Sheets beside the spots", "lie together, no gap to be seen", places=item.spots)
    yield look("face", "Cracks, holes, burnt edges, spots missed", "none", places=item.spots)
    if item.brace:
        yield look("brace", "Which weld lines these are", f"every weld line of {item.brace}: count on each")


def plug(item: PlugRow) -> Iterator[Entry]:
    """Plugs, slots or arc spots: sheets, holes before welding, count, places, fill."""
    yield from sheets(item.sheets)
    word = "plug" if item.hole is not None else "arc spot"
    if item.hole is not None:
        what = "Width of the slots" if item.slot is not None else "Diameter of the holes"
        yield size("hole", f"{what}, before welding", item.hole, places=item.welds)
        if item.slot is not None:
            yield size("slot", "Overall length of the slots", item.slot, "least", places=item.welds)
        if item.fill is not None:
            yield size("fill", "Depth the holes are filled to", item.fill, "least", places=item.welds)
        else:
            yield look("fill", "Fill of the holes", "full, flush with the sheet and fused all round", places=item.welds)
    else:
        yield size("visible", "Visible diameter of the arc spots", item.diameter, "least", places=item.welds)
        if item.seam is not None:
            yield size("seam", "Length between the end circles", item.seam, "least", places=item.welds)
        if item.weld_washer:
            yield look("washer", "Weld washers", "one under every spot", places=item.welds)
    if item.interface is not None:
        yield size("interface", "Fused diameter of a sectioned coupon", item.interface, "least")
    yield from _row(item, word)
    yield look("filler", "Filler wire or rod", item.filler)
    yield coupons(item.coupons, "sectioned or twisted off")
    yield look("gap", "Sheets before welding", "clamped together, no gap to be seen", places=item.welds)
    yield look("root", "Sheet underneath", "fused, not burnt through", places=item.welds)
    yield look("face", "Cracks, craters, pores", "none", places=item.welds)


def fillet(item: FilletGroup) -> Iterator[Entry]:
    """Arc welds: sheets, leg or throat, lengths, gaps, filler, the look of them."""
    yield from sheets(item.sheets)
    n = len(item.group.lines)
    if item.weld == "fillet" and item.leg is not None:
        yield size("leg", "Leg of the welds, the shorter of the two", item.leg, "least", places=n)
    if item.throat is not None or item.leg is None:
        yield size("throat", "Throat of a cut and etched coupon", item.design_throat, "least")
    if item.radius is not None:
        yield size("radius", "Outside corner radius beside the weld", item.radius, places=n)
        yield size("fill-gap", "Weld below flush", item.fill_gap, "greatest", places=n)
    yield count("count", "Number of welds" + (", both faces together" if item.both_sides else ""), n)
    yield from _lengths(item)
    yield size("total", "Length of weld in all", float(item.group.lengths.sum()), "least")
    if item.joint == "tee" or item.weld != "fillet" or item.root_gap:
        yield size("root-gap", "Gap between the parts at the root", item.root_gap, "greatest", places=n)
    if item.overlap is not None:
        yield size("overlap", "Overlap", item.overlap, "least")
    if item.width is not None:
        yield size("width", "Width of the lapped or stitched part", item.width)
    if item.free_edge is not None:
        yield size("free-edge", "Welds from the free edge of the sheet", item.free_edge, "least")
    if item.full_size:
        yield look("ends", "Ends of the welds", "full size to the end, returned round the corner", places=2 * n)
    if item.tested:
        yield look("tested", "Full penetration", "proved by test: see the record", places=n)
    yield look("filler", "Filler and process", f"{item.filler}, {item.process}")
    if item.preheat > 20.0:
        yield size("preheat", "Temperature before welding", item.preheat, "least", unit="degC")
    yield coupons(item.coupons, "cut, etched and looked at")
    yield look("face", "Cracks, undercut, craters, pores, cold ends", "none", places=n)


def _lengths(item: FilletGroup) -> Iterator[Entry]:
    """Length of each weld or stitch; those alike together, and only the sum where they are too many."""
    if item.stitch is not None:
        length, pitch = item.stitch
        yield size("stitch", "Length of each stitch", length, "least", places=len(item.group.lines))
        # one step less than stitches on each line, on each face
        steps = len(item.group.lines) - len(item.lines) * (2 if item.both_sides else 1)
        if steps:
            yield size("stitch-pitch", "Stitches, centre to centre", pitch, "greatest", places=steps)
        return
    lengths = alike(hypot(x2 - x1, y2 - y1) for x1, y1, x2, y2 in item.group.lines.tolist())
    if len(lengths) <= MOST_LENGTHS:
        for k, (length, n) in enumerate(lengths):
            yield size(f"length-{k + 1}", "Length of each weld" if n > 1 else "Length of a weld", length, "least",
                       places=n)  # fmt: skip
