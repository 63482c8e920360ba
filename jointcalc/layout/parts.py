"""Rectangles of sheet, beads of panels, and wheel tubs."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import acos, degrees, hypot, pi, sin, sqrt

from jointcalc.formula import forming as f
from jointcalc.layout.blanks import section_lines
from jointcalc.layout.drawing import Circle, Detail, Dim, Drawing, Label, Line, Path, Table, bulge, rectangle
from jointcalc.layout.words import size, sized, unit
from jointcalc.model.marking import Part, Tub
from jointcalc.model.panel import Panel
from jointcalc.quantity.compare import below
from jointcalc.quantity.sentence import printed
from jointcalc.quantity.show import System, respelt
from jointcalc.section.forming import correction_factor
from jointcalc.section.joggle import Joggle
from jointcalc.statics.bead import Bead, path


def part(item: Part, system: System) -> Drawing:
    """A rectangle with its holes and step; true-size paper only if there are holes to mark."""
    long, wide = item.flat
    label = printed(item.sheet.label, system)
    finished = " by ".join(sized(v, system) for v in item.size)
    d = Drawing(item.id, item.title, f"{item.count} off, {finished}, {label}")
    d.full_size = bool(item.holes)
    d.add(
        rectangle("CUT", 0.0, 0.0, long, wide, item.corner or 0.0),
        Dim(0.0, 0.0, long, 0.0, -9.0, size(long, system)),
        Dim(0.0, 0.0, 0.0, wide, -9.0 if item.step is None else -17.0, size(wide, system), True),
    )
    if item.corner:
        d.add(Label(long + 2.0, wide - item.corner, f"R{size(item.corner, system)}"))
    if (joggle := item.joggle) is not None:
        _step(d, item, joggle, system)
    holes = [(*item.on_flat(x, y), dia) for x, y, dia in item.holes]
    for n, (x, y, dia) in enumerate(holes):
        d.add(Circle("HOLE", x, y, dia / 2), Label(x + dia / 2 + 1.0, y + dia / 2 + 1.0, str(n + 1)))
    if holes:
        u = unit(system)
        d.tables.append(
            Table(
                "Hole centres from the lower left corner" + ("" if joggle is None else " of the flat blank"),
                ("no.", f"x {u}", f"y {u}", f"diameter {u}", f"from right {u}", f"from above {u}"),
                tuple(
                    (str(n + 1), *(size(v, system) for v in (x, y, dia, long - x, wide - y)))
                    for n, (x, y, dia) in enumerate(holes)
                ),
            )
        )
    if any(item.draw_in):
        length, width = item.blank
        d.notes.append(
            f"Cut {sized(length, system)} by {sized(width, system)}: its beads draw in up to "
            f"{sized(sum(item.draw_in), system)}. Bead first, then trim to this outline and mark the holes."
        )
    d.notes.append(f"Check over the diagonal: {sized(sqrt(long**2 + wide**2), system)}.")
    if not item.turn:
        d.notes.append("The length lies along the rolling direction of the stock sheet.")
    return d


def _step(d: Drawing, item: Part, joggle: Joggle, system: System) -> None:
    """The step on the flat blank, seen from its end, and what is said of it."""
    long, wide = item.flat
    start, end = item.step_zone
    assert item.step_at is not None
    words = f"step (joggle) of {size(joggle.height, system)} down, between the dotted lines"
    if item.stepped:
        d.add(*(Line("TANGENT", 0.0, y, long, y) for y in (start, end)))
        d.add(
            Line("BEND_DOWN", 0.0, (start + end) / 2, long, (start + end) / 2),
            Label(15.0, (start + end) / 2 + (-6.0 if item.step_side == "upper" else 6.0), words),
            Dim(0.0, 0.0, 0.0, start, -9.0, size(start, system), True),
            Dim(0.0, end, 0.0, wide, -9.0, size(wide - end, system), True),
        )
    else:
        d.add(*(Line("TANGENT", x, 0.0, x, wide) for x in (start, end)))
        d.add(
            Line("BEND_DOWN", (start + end) / 2, 0.0, (start + end) / 2, wide),
            Label((start + end) / 2 + (-6.0 if item.step_side == "right" else 6.0), 15.0, words, turn=pi / 2),
            Dim(0.0, wide, start, wide, wide + 9.0, size(start, system)),
            Dim(end, wide, long, wide, wide + 9.0, size(long - end, system)),
        )
    field, after = 15.0, min(item.step_at, 30.0)
    made = section_lines(joggle.outline(field, after))
    t, low = joggle.t, joggle.height
    cut_short = ", cut short" if after < item.step_at else ""
    made += [
        Dim(field, t, field + joggle.plan, t, low + t + 7.0, size(joggle.plan, system)),
        Dim(field + joggle.plan, 0.0, field + joggle.plan + after, 0.0, -7.0, size(item.step_at, system)),
        Dim(0.0, 0.0, 0.0, low, -6.0, size(low, system), True),
        Dim(field + joggle.plan + after, 0.0, field + joggle.plan + after, t, field + joggle.plan + after + 6.0,
            size(t, system), True),
    ]  # fmt: skip
    d.details.append(
        Detail(
            f"Step seen from its end{cut_short}: {sized(low, system)} deep, inside radius {sized(joggle.r, system)}, "
            f"bends of {degrees(joggle.angle):.1f}°",
            made,
        )
    )
    d.notes.append(
        f"The outline is that of the flat sheet: the step takes {sized(joggle.flat, system)} of it for "
        f"{sized(joggle.plan, system)} of the finished part, the longer of DIN 6935's allowance (second-hand) and the "
        f"middle of the sheet. Set the step on two offcuts first, then on the part, and trim to "
        f"{' by '.join(sized(v, system) for v in item.size)}."
    )


def _ends(which: str, stop: float, runout: float, system: System) -> str:
    if not stop:
        return f"{which} run through to the edges."
    return f"{which} begin {sized(stop, system)} off the edges and reach their depth over {sized(runout, system)}."


def _cut(bead: Bead, t: float, which: str, system: System) -> Detail:
    """A bead cut across, to roll and to gauge by: both faces of the sheet, its width and how far it rises."""
    line = path(bead, t)
    faces: list[list[tuple[float, float, float]]] = [[], []]
    ways = [((c - a) / hypot(c - a, e - b), (e - b) / hypot(c - a, e - b)) for (a, b), (c, e) in pairwise(line)]
    for (x, z), (u, v), (p, q) in zip(line, ways[:1] + ways, ways + ways[-1:]):
        across, up = (-(v + q) / (1 + u * p + v * q), (u + p) / (1 + u * p + v * q))  # to where the faces meet
        for face, away in zip(faces, (t / 2, -t / 2)):
            face.append((x + away * across, z + away * up, 0.0))
    half, beside = bead.width / 2, line[-1][0] + 6.0
    return Detail(
        f"Bead{which}, cut across, one every {sized(bead.pitch, system)}",
        [
            Path("SECTION", (*faces[0], *reversed(faces[1])), closed=True),
            Dim(-half, -t / 2, half, -t / 2, -t / 2 - 7.0, size(bead.width, system)),
            Dim(line[-1][0], t / 2, line[-1][0], bead.depth + t / 2, beside, size(bead.depth, system), True),
        ],
    )


def panel(item: Panel, system: System) -> Drawing | None:
    """Bead plan of a panel, beads from left to right; None for a flat one, which is cut and no more."""
    bead, strip = item.pattern, item.strip
    if bead is None or strip is None:
        return None
    long, wide = item.along_beads, item.across_beads
    places = item.bead_places
    stop, runout = bead.ends
    label = printed(item.sheet.label, system)
    crossed = item.cross_places
    count = f"{len(places)} and {len(crossed)}" if crossed else f"{len(places)}"
    d = Drawing(item.id, item.title, f"{count} beads {respelt(item.bead, system)}, {label}", full_size=False)
    d.add(
        rectangle("EDGE", 0.0, 0.0, long, wide),
        Dim(0.0, 0.0, long, 0.0, -9.0, size(long, system)),
        Dim(0.0, 0.0, 0.0, wide, -16.0, size(wide, system), True),
        Dim(0.0, 0.0, 0.0, places[0], -9.0, size(places[0], system), True),
    )
    for y in places:
        d.add(Line("BEAD", stop, y, long - stop, y))
        d.add(*(Line("TANGENT", stop, y + off, long - stop, y + off) for off in (-bead.width / 2, bead.width / 2)))
    u = unit(system)
    d.tables.append(
        Table(
            "Middle of each bead across the panel",
            ("no.", f"from lower edge {u}", f"from upper edge {u}"),
            tuple((str(n + 1), size(y, system), size(wide - y, system)) for n, y in enumerate(places)),
        )
    )
    d.details.append(_cut(bead, item.sheet.thickness, "" if item.cross is None else " along the panel", system))
    ends = _ends("Beads", stop, runout, system)
    draws = f"up to {sized(item.draw_in, system)} across all of them"
    if item.cross is not None:
        other, end = item.cross.ends
        half = item.cross.width / 2
        d.details.append(_cut(item.cross, item.sheet.thickness, " that crosses", system))
        d.add(Dim(0.0, 0.0, crossed[0], 0.0, -16.0, size(crossed[0], system)))
        for x in crossed:
            d.add(Line("BEAD", x, other, x, wide - other))
            d.add(*(Line("TANGENT", x + off, other, x + off, wide - other) for off in (-half, half)))
        d.tables.append(
            Table(
                "Middle of each bead that crosses them",
                ("no.", f"from left edge {u}", f"from right edge {u}"),
                tuple((str(n + 1), size(x, system), size(long - x, system)) for n, x in enumerate(crossed)),
            )
        )
        ends = f"{ends} {_ends('Those that cross them', other, end, system)}"
        draws += f", {sized(item.draw_in_along, system)} along them"
    sheet = (
        f"It is cut from part {item.part}, whose blank in the cut list is that much larger."
        if item.part is not None
        else "The panel is not in the cut list: list the sheet it is cut from as a [[part]] and name it with 'part'."
    )
    d.notes += [
        "The outline is that of the finished panel; beads are drawn evenly about its middle, the pitch as stated.",
        ends,
        f"Rolled beads draw the sheet in: {draws}. Bead first, trim after.",
        sheet,
    ]
    return d


def part_area(item: Part) -> float:
    """Area of one part [mm²]."""
    corner = item.corner or 0.0
    holes = sum(pi / 4 * dia**2 for _, _, dia in item.holes)
    return item.flat[0] * item.flat[1] - (4 - pi) * corner**2 - holes


# --- tubs ---------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class TubBlanks:
    """Flat sizes of a tub's wrap and side [mm, rad].

    The wrap's inner face has `radius` and goes round by `turn` to each side, `arc` in all along the
    middle of the sheet; its floor flange is bent back by `turn`.  Flanges are measured from where the
    inner faces meet: of wrap and floor, of wrap and side.  `wrap_length` and `wrap_width` are over all;
    `end_bend` and `edge_bend` the middle of the floor-flange and side-flange bends from their edges;
    `end_zone` and `edge_zone` the flange up to where its bend begins.  The side is a circle segment of
    `side_radius` above the floor line with a strip of `side_strip` below it; its bend is `side_bend`
    from the strip's edge.
    """

    radius: float
    turn: float
    arc: float
    wrap_length: float
    wrap_width: float
    end_bend: float
    edge_bend: float
    end_zone: float
    edge_zone: float
    side_radius: float
    side_strip: float
    side_bend: float
    chord: float
    height: float


def tub_blanks(item: Tub) -> TubBlanks:
    """Developed sizes of a tub.

    The floor bend is a circle that touches the wrap's round from outside and the floor from above, so
    the wrap goes round by the angle whose cosine is (floor + r + t)/(R + r + t) and is bent back by the
    same angle.  The round counts along the middle of the thickness, bends with their allowance (DIN
    6935, or the stated K).
    """
    t, r, R, half = item.sheet.thickness, item.bend_radius, item.radius, item.half_angle
    out = r + t

    def allow(theta: float) -> float:
        if item.k_factor is None:
            return float(f.allowance_din(theta=theta, r=r, k=float(correction_factor(r, t)), s=t))
        return float(f.allowance(theta=theta, r=r, K=item.k_factor, t=t))

    turn = acos((item.line + out) / (R + out))
    end_zone = R * sin(half) + item.floor_flange - (R + out) * sin(turn)
    square = allow(pi / 2)
    side_radius = R + item.flange
    return TubBlanks(
        radius=R,
        turn=turn,
        arc=2 * turn * (R + t / 2),
        wrap_length=2 * (turn * (R + t / 2) + allow(turn) + end_zone),
        wrap_width=item.inside_width + item.sides * (item.flange - 2 * out + square),
        end_bend=end_zone + allow(turn) / 2,
        edge_bend=item.flange - out + square / 2,
        end_zone=end_zone,
        edge_zone=item.flange - out,
        side_radius=side_radius,
        side_strip=item.floor_flange - 2 * out + square,
        side_bend=item.floor_flange - out + square / 2,
        chord=2 * sqrt(side_radius**2 - item.line**2),
        height=side_radius - item.line,
    )


def tub_side_area(item: Tub) -> float:
    """Area of one side's blank [mm²]: circle segment and floor strip."""
    b = tub_blanks(item)
    half = acos(item.line / b.side_radius)
    segment = b.side_radius**2 * (half - item.line / b.side_radius * sqrt(1 - (item.line / b.side_radius) ** 2))
    return segment + b.chord * b.side_strip


def tub_wrap_area(item: Tub) -> float:
    """Area of the wrap's blank [mm²], notches taken out."""
    b = tub_blanks(item)
    return b.wrap_length * b.wrap_width - 2 * item.sides * b.end_zone * b.edge_zone


def wrap_outline(item: Tub) -> Path:
    """The wrap's blank, notched square where floor flange and side flange would meet."""
    b = tub_blanks(item)
    L, W, e, s = b.wrap_length, b.wrap_width, b.end_zone, b.edge_zone
    low = [(e, 0.0), (L - e, 0.0), (L - e, s), (L, s)]
    high = [(L, W - s), (L - e, W - s), (L - e, W), (e, W), (e, W - s), (0.0, W - s)]
    if item.sides == 1:
        high = [(L, W), (0.0, W)]
    return Path("CUT", tuple((x, y, 0.0) for x, y in [*low, *high, (0.0, s), (e, s)]))


def side_outline(item: Tub) -> Path:
    """The side's blank about the wheel's centre: arc, floor line, strip below."""
    b = tub_blanks(item)
    c, h, low = b.chord / 2, item.line, item.line - b.side_strip
    sweep = 2 * acos(h / b.side_radius)
    # in two arcs: a bulge of half a circle and more loses digits
    return Path(
        "CUT",
        ((-c, low, 0.0), (c, low, 0.0), (c, h, bulge(sweep / 2)), (0.0, b.side_radius, bulge(sweep / 2)), (-c, h, 0.0)),
    )


def tub(item: Tub, system: System) -> Drawing:
    """Side and wrap of a tub, side by side."""
    b = tub_blanks(item)
    d = Drawing(item.id, item.title, f"wheel tub, {item.count} off, {printed(item.sheet.label, system)}")
    low = item.line - b.side_strip
    bend = low + b.side_bend
    d.add(
        side_outline(item),
        Line("BEND_UP", -b.chord / 2, bend, b.chord / 2, bend),
        Line("CENTRE", -b.chord / 2, item.line, b.chord / 2, item.line),
        Circle("CENTRE", 0.0, 0.0, 3.0),
        Label(
            0.0,
            bend + 4.0,
            f"side, {item.sides * item.count} off: floor flange, 90° away from the tyre",
            3.5,
            0.0,
            "center",
        ),
        Label(0.0, b.side_radius - 12.0, f"R{size(b.side_radius, system)}", 3.5, 0.0, "center"),
        Dim(-b.chord / 2, low, b.chord / 2, low, min(low, 0.0) - 12.0, size(b.chord, system)),
        Dim(
            b.chord / 2,
            low,
            b.chord / 2,
            b.side_radius,
            b.side_radius + 12.0,
            size(b.height + b.side_strip, system),
            True,
        ),
    )
    wrap = Detail(f"Wrap, {item.count} off, tyre side down; drawn flat")
    L, W = b.wrap_length, b.wrap_width
    wrap.entities += [
        wrap_outline(item),
        Line("BEND_UP", b.end_bend, 0.0, b.end_bend, W),
        Line("BEND_UP", L - b.end_bend, 0.0, L - b.end_bend, W),
        Line("BEND_UP", 0.0, b.edge_bend, L, b.edge_bend),
        Line("CENTRE", L / 2, 0.0, L / 2, W),
        Dim(0.0, 0.0, L, 0.0, -14.0, size(L, system)),
        Dim(0.0, 0.0, b.end_bend, 0.0, -8.0, size(b.end_bend, system)),
        Dim(0.0, 0.0, 0.0, W, -16.0, size(W, system), True),
        Dim(0.0, 0.0, 0.0, b.edge_bend, -9.0, size(b.edge_bend, system), True),
        Label(L / 2 + 3.0, W / 2, "top of the tub"),
    ]
    if item.sides == 2:
        wrap.entities.append(Line("BEND_UP", 0.0, W - b.edge_bend, L, W - b.edge_bend))
    d.details.append(wrap)
    d.tables.append(_tub_table(item, b, system))
    k = "DIN 6935's k (second-hand)" if item.k_factor is None else f"the stated K-factor of {item.k_factor:g}"
    stretch = item.flange / item.radius
    d.notes += [
        f"The tyre counted with is {sized(item.tyre_diameter, system)} in diameter"
        + (" (largest of its code by UN R30, from memory)" if item.tyre else " (as measured)")
        + f", clearance {sized(item.tread_gap, system)} over the tread and {sized(item.side_gap, system)} beside it "
        + (
            "(SAE J1232 chain class where larger than common practice)."
            if item.chains
            else "(common practice where not stated)."
        ),
        *_envelope(item, system),
        f"The wrap is rolled to an inside radius of {sized(item.radius, system)}; its side flange is tipped outwards "
        f"and stretches {100 * stretch:.1f} % at the tip, more than that where it is tipped unevenly.",
        f"Bend allowances by {k}. Corners between floor flange and side flange are notched square; weld them shut.",
        "Roll and flange the wrap first, then scribe the side from it: a hand-tipped flange seldom meets the drawing.",
    ]  # fmt: skip
    elongation = item.sheet.material.elongation
    if elongation is not None and stretch > 0.5 * elongation:
        d.notes.append(
            f"A stretch of {100 * stretch:.1f} % is over half of what the sheet takes; make 'flange' narrower."
        )
    return d


def _envelope(item: Tub, system: System) -> list[str]:
    """What the tyre needs against what is drawn: travel, lock, width."""
    said = []
    if item.travel:
        said.append(
            f"The floor lies {sized(item.floor, system)} above the wheel's centre where it was measured; the wheel "
            f"rises {sized(item.travel, system)} more, and everything here is drawn for full bump."
        )
    if (found := item.swept) is not None:
        said.append(
            f"Steered {degrees(item.steer):.3g}° to either side about a king pin {sized(abs(item.kingpin), system)} "
            f"{'inboard' if item.kingpin >= 0 else 'outboard'} of the tyre's middle, the tyre reaches "
            f"{sized(found.inboard, system)} inboard and {sized(found.outboard, system)} outboard of its middle and "
            f"{sized(found.radius, system)} from the wheel's centre (corners of its rectangle, derivation): the wrap's "
            f"radius {'and width follow' if item.width is None else 'follows'} from that."
        )
        if item.sides == 1:
            said.append("With one side the tub ends at the body: what the tyre sweeps outboard must find room there.")
    else:
        said.append("The wheel is taken not to steer; for one that does, say 'steer'.")
    if item.needed_width is not None and item.width is not None and below(item.width, item.needed_width):
        said.append(
            f"TOO NARROW: an inside width of {sized(item.width, system)} is drawn, and the tyre with its clearance "
            f"needs {sized(item.needed_width, system)}."
        )
    elif item.needed_width is None:
        said.append("The tyre's width was not given, so whether it fits beside the sides is not judged.")
    said.append(
        "Clearances must hold at full bump, full lock and with the widest wheel offset: try it with a wheel on a jack "
        "before anything is welded."
    )
    return said


def _tub_table(item: Tub, b: TubBlanks, system: System) -> Table:
    named = (
        ("inside radius of the wrap", b.radius),
        ("inside width", item.inside_width),
        ("arc along the middle of the sheet", b.arc),
        ("wrap, length over all", b.wrap_length),
        ("wrap, width over all", b.wrap_width),
        ("wrap, floor bend from each end", b.end_bend),
        ("wrap, side-flange bend from its edge", b.edge_bend),
        ("side, radius", b.side_radius),
        ("side, length of the floor line", b.chord),
        ("side, height above the floor line", b.height),
        ("side, strip below the floor line", b.side_strip),
        ("side, bend from the strip's edge", b.side_bend),
        ("floor above the wheel's centre, full bump", item.line),
    )
    rows = [(name, size(value, system)) for name, value in named]
    rows.append(("angle of the wrap's floor bend", f"{degrees(b.turn):.2f}°"))
    return Table("Sizes of the tub", ("size", unit(system)), tuple(rows))
