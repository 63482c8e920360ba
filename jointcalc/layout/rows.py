"""Rows of spots and plugs, weld lines with stitches, and hole patterns."""

from __future__ import annotations

from math import atan2, hypot, pi

from jointcalc.check.bolts_notes import plates_overlap
from jointcalc.errors import InputError
from jointcalc.layout import symbols
from jointcalc.layout.drawing import Circle, Detail, Dim, Drawing, Label, Line, Table, extent, rectangle, slot
from jointcalc.layout.words import by_32nds, size, sized, unit
from jointcalc.model.bolts import FastenerGroup
from jointcalc.model.fillet import FilletGroup
from jointcalc.model.plug import PlugRow
from jointcalc.model.seam import SpotSeam
from jointcalc.quantity.sentence import joined, printed
from jointcalc.quantity.show import System
from jointcalc.tables.store import load

RUNNING = (
    "Mark every position from one end with the tape left lying; stepping off the pitch adds up its error. "
    "The column from the other end is the check."
)


LETTERED = 2.9
"""Length of a letter of 3.5 mm on the full-size sheet [mm]."""


def positions(item: SpotSeam | PlugRow) -> tuple[float, ...]:
    """Distances of the centres of one row from the left end [mm], for a model with actual_end and actual_pitch."""
    return tuple(item.actual_end + k * item.actual_pitch for k in range(item.along))


def running_table(title: str, places: tuple[float, ...], length: float, system: System) -> Table:
    """Number, distance from the left end and from the right end."""
    u = unit(system)
    heads = ["no.", f"from left {u}", f"from right {u}"]
    rows = [[str(k + 1), size(x, system), size(length - x, system)] for k, x in enumerate(places)]
    if system == "inch":
        heads.append("left, 1/32 in")
        rows = [[*row, by_32nds(x)] for row, x in zip(rows, places)]
    return Table(title, tuple(heads), tuple(tuple(row) for row in rows))


def _row_dims(
    item: SpotSeam | PlugRow, drawing: Drawing, rows: list[float], lap: float, across: float, s: System
) -> None:
    places, length = positions(item), item.length
    beside = item.actual_pitch >= 5.0 or len(places) == 1  # else numbers would run into one another; the table has them
    high = max(len(size(x, s)) for x in places) * LETTERED if beside else 0.0
    foot = max(lap, rows[-1] + across / 2) + 1.5
    over = foot + max(high + 4.0, 9.0)
    drawing.add(Dim(0.0, rows[-1], places[0], rows[-1], over, size(places[0], s)))
    if len(places) > 1:
        drawing.add(
            Dim(places[0], rows[-1], places[1], rows[-1], over, size(item.actual_pitch, s)),
            Dim(places[-1], rows[-1], length, rows[-1], over, size(length - places[-1], s)),
        )
    drawing.add(
        Dim(0.0, 0.0, length, 0.0, -10.0, size(length, s)), Dim(0.0, 0.0, 0.0, rows[0], -9.0, size(rows[0], s), True)
    )
    if len(rows) > 1:
        drawing.add(Dim(0.0, rows[0], 0.0, rows[1], -18.0, size(rows[1] - rows[0], s), True))
    for x in places if beside else ():
        drawing.add(Label(x - 2.6, foot, size(x, s), turn=pi / 2))  # beside the dimension


def _row_symbol(d: Drawing, item: SpotSeam | PlugRow, row: float, across: float, system: System) -> None:
    """The welding symbol below the row, its arrow on the second weld."""
    places = positions(item)
    x = places[min(1, len(places) - 1)]
    d.entities += symbols.drawn(
        symbols.symbol_of(item, system), (x, row - across / 2), (x + 8.0, -10.0 - 3.5 * symbols.HIGH), system
    )


def _row_heights(item: SpotSeam | PlugRow) -> list[float]:
    return [item.edge + k * (item.row_spacing or 0.0) for k in range(item.rows)]


def seam(item: SpotSeam, system: System) -> Drawing:
    """Spots of a seam on its lap: the edge they are measured from is the lower line."""
    rows, lap = _row_heights(item), item.actual_lap
    d = Drawing(
        item.id, item.title, f"{item.spots} spots of {sized(item.d, system)}, sheets "
        + printed(joined(" + ", [sheet.label for sheet in item.sheets]), system),
    )  # fmt: skip
    d.add(rectangle("EDGE", 0.0, 0.0, item.length, lap))
    for y in rows:
        d.add(*(Circle("SPOT", x, y, item.d / 2) for x in positions(item)))
    _row_dims(item, d, rows, lap, item.d, system)
    _row_symbol(d, item, rows[0], item.d, system)
    d.tables.append(running_table("Centres along each row", positions(item), item.length, system))
    d.notes.append(
        f"The first row is {sized(item.edge, system)} from the sheet's edge (lower line)"
        + (f", rows {sized(item.row_spacing, system)} apart" if item.rows > 1 and item.row_spacing else "")
        + f"; ends {sized(item.actual_end, system)}, pitch {sized(item.actual_pitch, system)}."
    )
    if item.brace:
        d.notes.append(
            f"This is the row on each weld line of {item.brace}: marked on its blank, counted there, drawn here for "
            "the sheet that covers it."
        )
    d.notes.append(RUNNING)
    d.notes.append(
        "Tack every third or fourth spot first, then fill in, so that the lap does not creep (common practice)."
    )
    return d


def plug(item: PlugRow, system: System) -> Drawing:
    """Holes of a plug row, slots, or the places of arc spots, on the upper sheet."""
    rows = _row_heights(item)
    lap = 2 * item.edge + (item.rows - 1) * (item.row_spacing or 0.0)
    holed = item.hole is not None
    word = "arc spots" if not holed else "slots" if item.slot is not None else "plug holes"
    wide = "" if item.overall == item.diameter else f" by {sized(item.overall, system)} overall"
    d = Drawing(item.id, item.title, f"{item.welds} {word} of {sized(item.diameter, system)}{wide}")
    d.add(rectangle("EDGE", 0.0, 0.0, item.length, lap))
    layer = "HOLE" if holed else "SPOT"
    for y in rows:
        for x in positions(item):
            if item.overall > item.diameter:
                d.add(slot(layer, x, y, item.overall, item.diameter))
                d.add(Line("CENTRE", x - 1.5, y, x + 1.5, y), Line("CENTRE", x, y - 1.5, x, y + 1.5))
            else:
                d.add(Circle(layer, x, y, item.diameter / 2))
    _row_dims(item, d, rows, lap, item.diameter, system)
    _row_symbol(d, item, rows[0], item.diameter, system)
    d.tables.append(running_table("Centres along each row", positions(item), item.length, system))
    if holed:
        upper = printed(joined(" and ", [sheet.label for sheet in item.sheets[:-1]]), system)
        under = printed(item.sheets[-1].label, system)
        d.notes.append(f"Holes go through {upper}; {under} underneath is not holed.")
    d.notes.append(
        f"The first row is {sized(item.edge, system)} from the edge (lower line); ends "
        f"{sized(item.actual_end, system)}, pitch {sized(item.actual_pitch, system)}."
    )
    d.notes.append(RUNNING)
    return d


# --- bolts -------------------------------------------------------------------------------------------------


def plate_corner(long: float, short: float) -> float:
    """Corner radius of a backing plate [mm]: that of the published seat plate rule, less on a small plate."""
    radius = load("mount_plates").find(id="qld_seat").need("corner_radius_min")
    return min(radius, min(long, short) / 4)


def bolts(item: FastenerGroup, system: System) -> Drawing:
    """Hole pattern in the axes of the model; one backing plate under each fastener if there are any.

    Raises InputError when plates of neighbouring holes lie over one another: it cannot be built so.
    """
    u = unit(system)
    if (meeting := item.meeting_plates) is not None:
        raise InputError(printed(plates_overlap(item, meeting).text, system), field="plate", where=item.id)
    d = Drawing(
        item.id,
        item.title,
        f"{len(item.holes)} holes of {sized(item.d_0, system)} for {printed(item.fastener.label, system)}",
    )
    if item.slot is not None and item.slot > item.d_0:
        upright = item.slot_along == "y"
        d.add(*(slot("HOLE", x, y, item.slot, item.d_0, upright) for x, y in item.holes))
        d.notes.append(f"Slots {sized(item.slot, system)} long over all, along {item.slot_along}.")
    else:
        d.add(*(Circle("HOLE", x, y, item.d_0 / 2) for x, y in item.holes))
    if item.countersunk:
        d.notes.append(f"Countersink the first sheet {sized(item.sink[1], system)} deep.")
    xs, ys = [x for x, _ in item.holes], [y for _, y in item.holes]
    left, low, right, high = min(xs), min(ys), max(xs), max(ys)
    out = item.d_0 / 2
    if item.plate is not None:
        long, short, thick = item.plate
        corner = plate_corner(long, short)
        d.add(*(rectangle("EDGE", x - long / 2, y - short / 2, long, short, corner) for x, y in item.holes))
        out = max(long, short) / 2
        detail = Detail(f"Backing plate, {len(item.holes)} off, {item.plate_grade}, {sized(thick, system)} thick")
        detail.entities += [
            rectangle("CUT", 0.0, 0.0, long, short, corner),
            Circle("HOLE", long / 2, short / 2, item.d_plate / 2),
            Dim(0.0, 0.0, long, 0.0, -10.0, size(long, system)),
            Dim(0.0, 0.0, 0.0, short, -10.0, size(short, system), True),
            Dim(0.0, short, long / 2, short, short + 8.0, size(long / 2, system)),
            Label(long + 3.0, short - corner, f"R{size(corner, system)} at every corner, edges broken"),
        ]
        d.details.append(detail)
        d.notes.append(
            f"Plates lie under the nut, centred on the hole, corners R{size(corner, system)} (published for seat "
            f"plates: at least {sized(5.0, system)}, second-hand); chamfer the edges that lie on the sheet and "
            "follow its contour."
        )
    for level, (values, upright) in enumerate((((left, *sorted(set(xs) - {left})), False),
                                               ((low, *sorted(set(ys) - {low})), True))):  # fmt: skip
        for k, value in enumerate(values[1:8]):
            at = (low if level == 0 else left) - out - 9.0 - 8.0 * k
            if upright:
                d.add(Dim(left, low, left, value, at, size(value - low, system), True))
            else:
                d.add(Dim(left, low, value, low, at, size(value - left, system)))
    for k, (x, y) in enumerate(item.holes):
        d.add(Label(x + item.d_0 / 2 + 1.0, y + item.d_0 / 2 + 1.0, str(k + 1)))
    rows = tuple(
        (str(k + 1), size(x, system), size(y, system), size(x - left, system), size(y - low, system))
        for k, (x, y) in enumerate(item.holes)
    )
    d.tables.append(
        Table(
            "Hole centres in the axes of the project, and from the leftmost and the lowest centre",
            ("no.", f"x {u}", f"y {u}", f"from left {u}", f"from below {u}"),
            rows,
        )
    )
    if len(item.holes) > 1:
        d.notes.append(
            f"Check over the diagonal: {sized(hypot(right - left, high - low), system)} across the outermost centres."
        )
    d.notes.append("Paint or zinc the cut edges before assembly.")
    return d


# --- arc welds ---------------------------------------------------------------------------------------------


def fillet(item: FilletGroup, system: System) -> Drawing:
    """Weld-line plan: whole lines as edges, what is welded as heavy lines, with a table of starts and stops."""
    u = unit(system)
    group = item.group
    leg = f"leg {sized(item.leg, system)}" if item.leg is not None else f"throat {sized(item.design_throat, system)}"
    stitched = item.stitch is not None
    pattern = f", {size(item.stitch[0], system)}-{size(item.stitch[1], system)}" if item.stitch is not None else ""
    d = Drawing(item.id, item.title, f"{item.weld}, {leg}{pattern}, filler {item.filler}, {item.process}")
    rows: list[tuple[str, ...]] = []
    welds = [[float(v) for v in weld] for weld in group.lines]
    for n, (x1, y1, x2, y2) in enumerate(item.lines):
        whole = hypot(x2 - x1, y2 - y1)
        d.add(Line("EDGE", x1, y1, x2, y2))
        turn = atan2(y2 - y1, x2 - x1)
        nx, ny = -(y2 - y1) / whole, (x2 - x1) / whole
        if nx * 0.3 + ny < 0:
            nx, ny, turn = -nx, -ny, turn + pi
        d.add(
            Label(
                (x1 + x2) / 2 + 6 * nx, (y1 + y2) / 2 + 6 * ny,
                f"{n + 1}: {size(whole, system)}", 3.5, turn, "center",
            )
        )  # fmt: skip
        for k, parent in enumerate(item.parents):
            if parent != n:
                continue
            a, b, c, e = welds[k]
            d.add(Line("WELD", a, b, c, e))
            # along the line: fillets on both sides of a plate stand half its thickness beside it
            begin, stop = (((x - x1) * (x2 - x1) + (y - y1) * (y2 - y1)) / whole for x, y in ((a, b), (c, e)))
            for x, y in ((a, b), (c, e)):
                d.add(Line("CENTRE", x - 2 * nx, y - 2 * ny, x + 2 * nx, y + 2 * ny))
            rows.append(
                (str(n + 1), str(len(rows) + 1), *(size(v, system) for v in (begin, stop, stop - begin, whole - stop)))
            )
    title = "Stitches along each line, from its start" if stitched else "Weld lines"
    d.tables.append(
        Table(title, ("line", "weld", f"start {u}", f"stop {u}", f"length {u}", f"stop to end {u}"), tuple(rows))
    )
    x0, y0, right, high = extent(d.entities, work=True)
    # the arrow on the line that reaches highest, the symbol over the group and no wider than it where it fits
    symbol = symbols.symbol_of(item, system)
    x1, y1, x2, y2 = max(item.lines, key=lambda line: (line[1] + line[3], -line[0]))
    tip = x1 + 0.8 * (x2 - x1), y1 + 0.8 * (y2 - y1)
    knee = max(tip[0] + 6.0, right - symbols.symbol_width(symbol)), high + 3.0 * symbols.HIGH
    d.entities += symbols.drawn(symbol, tip, knee, system)
    x1, y1 = right, high
    if x1 > x0:
        d.add(Dim(x0, y0, x1, y0, y0 - 12.0, size(x1 - x0, system)))
    if y1 > y0:
        d.add(Dim(x0, y0, x0, y1, x0 - 12.0, size(y1 - y0, system), True))
    d.tables.append(
        Table(
            "Ends of the lines in the axes of the project",
            ("line", f"x1 {u}", f"y1 {u}", f"x2 {u}", f"y2 {u}"),
            tuple((str(n + 1), *(size(v, system) for v in line)) for n, line in enumerate(item.lines)),
        )
    )
    total = float(group.lengths.sum())
    d.notes.append(f"{len(welds)} welds, {sized(total, system)} of weld in all.")
    if item.both_sides:
        d.notes.append("Every line is welded on both faces of the part that stands on it.")
    if item.stitch is not None:
        d.notes.append(
            f"A stitch of {sized(item.stitch[0], system)} stands at each end of every line; the others are spread "
            f"evenly, at most {sized(item.stitch[1], system)} from centre to centre."
        )
    return d
