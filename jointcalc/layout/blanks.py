"""Flat blanks of folded profiles with bend lines and bend table, and the section seen from the end."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial
from itertools import pairwise
from math import cos, floor, hypot, sin

from jointcalc.check.brace_making import least_radius
from jointcalc.formula.spot_size import CLASSES
from jointcalc.layout.drawing import (
    Circle,
    Detail,
    Dim,
    Drawing,
    Entity,
    Label,
    Leader,
    Line,
    Path,
    Table,
    bulge,
    rectangle,
)
from jointcalc.layout.profiles import section_dims
from jointcalc.layout.words import size, sized, unit
from jointcalc.model.brace import Brace
from jointcalc.quantity.parse import parse
from jointcalc.quantity.sentence import printed
from jointcalc.quantity.show import System, respelt
from jointcalc.section import forming
from jointcalc.section.families.family import Family
from jointcalc.section.families.lap import Lap
from jointcalc.section.families.tube import Bar, RectTube, Tube
from jointcalc.section.outline import Outline
from jointcalc.section.tracer import Bead, Bend

BOUGHT = (Bar, Tube, RectTube)
"""Families that are bought as sections and only cut to length."""


@dataclass(frozen=True, slots=True)
class Fold:
    """One bend on a blank [mm, degrees]: `at` and `to` from the two edges, `up` towards the viewer."""

    name: str
    angle: float
    r: float
    at: float
    to: float
    allowance: float
    overbend: float
    up: bool


@dataclass(frozen=True, slots=True)
class FlatBlank:
    """A flat blank: its sheet's name in the profile, width [mm], bends in order, weld lines, beads (from, to)."""

    sheet: str
    width: float
    folds: tuple[Fold, ...]
    welds: tuple[float, ...]
    beads: tuple[tuple[float, float], ...]


def flat_blanks(family: Family, *, f_y: float, E: float, K: float | None) -> tuple[FlatBlank, ...]:
    """The blanks of all bent sheets of one profile.

    A bend that turns counter-clockwise along the way (see `Tracer`) comes up; when more bends go down
    than up, the blank is shown from its other face.
    """
    outline = family.outline()
    welded = {n for s in outline.segments if s.kind == "weld" for n in (s.start, s.end)}
    rows = {(row.sheet, row.name): row for row in forming.bend_list(family, f_y=f_y, E=E, K=K)}
    widths = forming.blank(family, K=K).widths
    found = []
    development = family.flats_and_bends()
    for sheet in development.sheets:
        parts = [p for p in development.parts if p.sheet == sheet]
        if not any(isinstance(p, Bend | Bead) for p in parts):
            continue
        width = float(widths[sheet][0])
        folds, welds, beads = [], [], []
        place = 0.0
        for part in parts:
            start = place
            if isinstance(part, Bend):
                row = rows[sheet, part.name]
                place += row.allowance
                up = float(outline.sweep[part.segment][0]) > 0
                if row.angle > 1e-9:
                    folds.append(
                        Fold(part.name, row.angle, row.r, row.at, width - row.at, row.allowance, row.overbend, up)
                    )
            else:
                place += float(part.length[0])
                if isinstance(part, Bead):
                    beads.append((start, place))
                elif outline.segments[part.segment].end in welded and place < width - 1e-9:
                    welds.append(place)
        if sum(f.up for f in folds) * 2 < len(folds):
            folds = [Fold(f.name, f.angle, f.r, f.at, f.to, f.allowance, f.overbend, not f.up) for f in folds]
        found.append(FlatBlank(sheet, width, tuple(folds), tuple(welds), tuple(beads)))
    return tuple(found)


def of_brace(item: Brace) -> tuple[FlatBlank, ...]:
    """The blanks of a brace, by the sheet as it is bought; none for a section that is bought."""
    if isinstance(item.family, BOUGHT):
        return ()
    sheet = item.sheets[0]
    f_y = sheet.f_y if sheet.has_yield else 0.0
    return flat_blanks(item.family, f_y=f_y, E=sheet.material.E, K=item.k_factor)


def brace(item: Brace, system: System) -> Drawing | None:
    """Blank and section of a brace; None when there is nothing to fold."""
    blanks = of_brace(item)
    if not blanks:
        return None
    family, length = item.family, item.cut_length
    left, right = item.beyond
    lap = isinstance(family, Lap)
    label = printed(item.sheets[0].label, system)
    d = Drawing(item.id, item.title, f"{respelt(item.profile, system)}, {label}, {sized(length, system)} long")
    floor_y = 0.0
    places = weld_places(item)
    for blank in blanks:
        d.entities += _blank_entities(blank, length, floor_y, system, cut=not lap, first=left + 12.0)
        r = spot_radius(item)
        for y in blank.welds:
            d.add(Line("CENTRE", 0.0, floor_y + y, length, floor_y + y))
            d.add(*(Circle("SPOT", left + x, floor_y + y, r) for x in places))
        for x in (left, length - right) if left or right else ():
            # the middle of the bearing: the blank is laid on its supports by it
            d.add(Line("CENTRE", x, floor_y - 3.0, x, floor_y + blank.width + 3.0))
        d.tables.append(_bend_table(blank, system))
        floor_y += blank.width + 40.0
    if left or right:
        spans = [left]
        for span in item.span:
            spans.append(spans[-1] + span)
        stops = [0.0, *spans, length] if right else [0.0, *spans]
        d.entities += [Dim(a, 0.0, b, 0.0, -18.0, size(b - a, system)) for a, b in pairwise(stops) if b - a > 1e-9]
    section = joggle_section(family, system) if isinstance(family, Lap) else _section(family, system)
    d.details.append(section)
    d.notes += _brace_notes(item, blanks, system)
    return d


def _section(family: Family, system: System) -> Detail:
    detail = Detail("Section, seen from the end of the blank", section_lines(family.outline()))
    detail.entities += section_dims(family, system)
    return detail


FIELD = 12.0
"""Length of the fields beside a joggle that its section shows [mm]."""


def joggle_section(family: Lap, system: System) -> Detail:
    """The stepped lap seen from its end, its fields cut short, with overlap, step and weld line."""
    short = replace(family, left=min(float(family.left), FIELD), right=min(float(family.right), FIELD))
    step = float(family.t if family.t_2 is None else family.t_2) if family.step is None else float(family.step)
    return Detail(
        f"Stepped lap (joggle) seen from its end, step {sized(step, system)}, inside radius "
        f"{sized(float(family.radius or 0.0), system)}, fields cut short",
        [*section_lines(short.outline()), *lap_dims(short, system)],
    )


def lap_dims(family: Lap, system: System, *, turned: bool = False, scale: float = 1.0) -> list[Entity]:
    """Overlap, weld line, step, thicknesses and radius of a stepped lap."""
    outline = family.outline().turned() if turned else family.outline()
    nodes = {s.name: (s.start, s.end) for s in outline.segments}

    def at(node: int) -> tuple[float, float]:
        return float(outline.y[node, 0]), float(outline.z[node, 0])

    edge, _ = at(nodes["upper sheet edge"][0])
    weld, _ = at(nodes["weld"][0])
    end, lower = at(nodes["lower sheet edge"][1])
    far, _ = at(nodes["right field"][1])
    _, upper = at(nodes["left field"][0])
    half, row = float(family.t) / 2, 8.0 / scale
    t_2 = float(family.t if family.t_2 is None else family.t_2)
    way = -1.0 if turned else 1.0
    return [
        Dim(edge, lower - way * half, end, lower - way * half, lower - way * row, size(end - edge, system)),
        Dim(edge, lower + way * half, weld, lower + way * half, upper + way * row, size(weld - edge, system)),
        Dim(0.0, lower - half, 0.0, upper - half, -0.75 * row, size(abs(upper - lower), system), True),
        Leader(far, lower + way * (half + t_2), far + 0.6 * row, upper + way * 0.7 * row, f"t {size(t_2, system)}"),
        Leader(
            0.3 * edge, upper - way * half, 0.3 * edge + 0.3 * row, upper - way * row, f"t {size(2 * half, system)}"
        ),
    ]


def _blank_entities(
    blank: FlatBlank, length: float, y0: float, system: System, *, cut: bool, first: float
) -> list[Entity]:
    """Outline, bends and sizes of a blank; the words of its bends begin at `first`, beside the middle of a bearing."""
    made: list[Entity] = [rectangle("CUT" if cut else "EDGE", 0.0, y0, length, blank.width)]
    crowd = 0
    for n, fold in enumerate(blank.folds):
        y = y0 + fold.at
        # the words of bends that lie close together stand one after the other
        crowd = crowd + 1 if n and fold.at - blank.folds[n - 1].at < 5.0 else 0
        made.append(Line("BEND_UP" if fold.up else "BEND_DOWN", 0.0, y, length, y))
        for off in (-fold.allowance / 2, fold.allowance / 2):
            made.append(Line("TANGENT", 0.0, y + off, length, y + off))
        way = "up" if fold.up else "down"
        text = f"{n + 1}: {way} {fold.angle:.4g}°, inside R{size(fold.r, system)}"
        made.append(Label(first + 105.0 * crowd, y + fold.allowance / 2 + 3.0, text))
        made.append(Dim(0.0, y0, 0.0, y, -9.0 - 8.0 * n, size(fold.at, system), True))
    for start, stop in blank.beads:
        made += [Line("TANGENT", 0.0, y0 + y, length, y0 + y) for y in (start, stop)]
        made.append(Label(first, y0 + (start + stop) / 2, "bead between the dotted lines"))
    made.append(Dim(0.0, y0, length, y0, y0 - 10.0, size(length, system)))
    outer = -9.0 - 8.0 * len(blank.folds)
    made.append(Dim(0.0, y0, 0.0, y0 + blank.width, outer, size(blank.width, system), True))
    return made


def _bend_table(blank: FlatBlank, system: System) -> Table:
    u = unit(system)
    heads = (
        "bend", "way", "angle", f"inside R {u}", f"from lower edge {u}", f"from upper edge {u}", f"allowance {u}",
        "overbend", "name",
    )  # fmt: skip
    rows = tuple(
        (
            str(n + 1), "up" if f.up else "down", f"{f.angle:.2f}°", size(f.r, system), size(f.at, system),
            size(f.to, system), size(f.allowance, system), f"{f.overbend:.1f}°" if f.overbend else "-", f.name,
        )
        for n, f in enumerate(blank.folds)
    )  # fmt: skip
    return Table(
        f"Bends of the {blank.sheet}, blank {sized(blank.width, system)} wide, middle of each bend", heads, rows
    )


def weld_places(item: Brace) -> tuple[float, ...]:
    """Spots along a weld line of the brace: those of the seam it names, else centred and a pitch apart as a seam's."""
    if item.seam is not None:
        first = (item.length - item.seam.length) / 2 + item.seam.actual_end
        return tuple(first + k * item.seam.actual_pitch for k in range(item.seam.along))
    if item.pitch is None:
        return ()
    along = max(1, floor(item.length / item.pitch + 1e-9))
    end = (item.length - (along - 1) * item.pitch) / 2
    return tuple(end + k * item.pitch for k in range(along))


def spot_radius(item: Brace) -> float:
    """Radius of the spots of its weld lines [mm]."""
    word = item.weld_diameter.strip().lower()
    if word in CLASSES:
        return float(CLASSES[word](t=min(sheet.t for sheet in item.sheets))) / 2
    return parse(item.weld_diameter, "length", field="weld_diameter", low=0.5, high=100.0) / 2


def _ends(item: Brace, system: System) -> list[str]:
    """What stands at the ends of the cut length."""
    spans = "the span" if len(item.span) == 1 else "all spans"
    if isinstance(item.family, Lap):
        return [f"The length is that of {spans}, {sized(item.length, system)}: the sheets run on as their parts do."]
    left, right = item.beyond
    ends = "each end" if left and right else "the end that is held" if left or right else ""
    half = f"half of the bearing, {sized(item.bearing_length / 2, system)}"
    if item.overhang:
        half += f", and the overhang of {sized(item.overhang, system)}"
    more = f", and at {ends} {half}. Long centre lines are the middle of the bearings." if ends else "."
    said = [f"The length is {sized(item.cut_length, system)}: {spans}, {sized(item.length, system)}{more}"]
    if item.bearing is None and not item.overhang:
        said.append(
            "Neither 'bearing' nor 'overhang' is stated: the least bearing, "
            f"{sized(item.bearing_length, system)}, was taken. State them before it is cut."
        )
    return said


def _brace_notes(item: Brace, blanks: tuple[FlatBlank, ...], system: System) -> list[str]:
    rule = "DIN 6935's k (second-hand)" if item.k_factor is None else f"the stated K-factor of {item.k_factor:g}"
    notes = [
        f"Bend allowance by {rule}, for the sheet as it is bought. Fold a test strip of the same sheet and set the "
        "stop by it before the blank is cut.",
        "Up is towards you as the blank is drawn. Broken lines are the middle of a bend (_ _ up, _ . _ down); dotted "
        "lines are where it begins and ends.",
    ]
    notes += _ends(item, system)
    if isinstance(item.family, Lap):
        notes.append(
            "Only the strip beside the joint is drawn, with the fields as wide as the project says; measure from the "
            "edge that lies under the upper sheet. Set the joggle on two offcuts first."
        )
    elif item.family.closed and not item.family.weld_lines:
        notes.append("The two long edges meet when it is folded, and are butt-welded there.")
    sheet = item.sheets[0]
    # the rule the brace is judged by: drawing and dossier say the same
    said = forming.unfoldable(
        item.family, elongation=sheet.material.elongation, least=partial(least_radius, sheet), V=item.die
    )
    notes += [f"Folding: {printed(text, system)}." for text in said]
    if any(b.beads for b in blanks):
        notes.append("A bead counts with its arc: it draws metal in. Pressed without draw-in the blank is narrower.")
    return notes


# --- section -----------------------------------------------------------------------------------------------


def section_lines(outline: Outline, column: int = 0) -> list[Entity]:
    """Both faces of every piece of sheet of a section, its free edges, and a mark at each weld line."""
    made: list[Entity] = []
    y, z = outline.y[:, column], outline.z[:, column]

    def pick(array: object, i: int) -> float:
        row = array[i]  # type: ignore[index]
        return float(row[column if row.shape[-1] > 1 else 0])

    def normals(i: int) -> tuple[tuple[float, float], tuple[float, float]]:
        """Unit normals to the left of the way at the start and at the end of a segment."""
        c, s = pick(outline.way_y, i), pick(outline.way_z, i)
        half = pick(outline.sweep, i) / 2
        return (
            (-(s * cos(half) - c * sin(half)), c * cos(half) + s * sin(half)),
            (-(s * cos(half) + c * sin(half)), c * cos(half) - s * sin(half)),
        )

    for i, segment in enumerate(outline.segments):
        a, b = segment.start, segment.end
        if segment.kind == "weld":
            made.append(Line("SPOT", float(y[a]), float(z[a]), float(y[b]), float(z[b])))
            continue
        half_t, sweep = pick(outline.t, i) / 2, pick(outline.sweep, i)
        first, last = normals(i)
        for side in (half_t, -half_t):
            p = (float(y[a]) + side * first[0], float(z[a]) + side * first[1])
            q = (float(y[b]) + side * last[0], float(z[b]) + side * last[1])
            if hypot(q[0] - p[0], q[1] - p[1]) < 1e-9:
                continue  # the inside of a bend without radius
            if segment.kind == "bend":
                made.append(Path("SECTION", ((*p, bulge(sweep)), (*q, 0.0)), closed=False))
            else:
                made.append(Line("SECTION", *p, *q))
    for node, i in outline.tree.free:
        first, last = normals(i)
        n = first if outline.segments[i].start == node else last
        h = pick(outline.t, i) / 2
        yn, zn = float(y[node]), float(z[node])
        made.append(Line("SECTION", yn - h * n[0], zn - h * n[1], yn + h * n[0], zn + h * n[1]))
    return made
