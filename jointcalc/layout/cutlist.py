"""The cut list: sheets, bought sections, spots, plugs, weld length, filler, and the nesting on stock.

Masses are by nominal thickness and the grade's density.  The filler is weld volume times overfill times
density over the deposition efficiency of table `deposition_efficiency` (common practice): for an order,
never for strength.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from math import pi
from typing import Any

from jointcalc.errors import InputError
from jointcalc.layout.blanks import BOUGHT, of_brace, weld_places
from jointcalc.layout.nest import Nesting, Piece, nest
from jointcalc.layout.parts import part_area, tub_blanks, tub_side_area, tub_wrap_area
from jointcalc.layout.rows import plate_corner
from jointcalc.model.bolts import FastenerGroup
from jointcalc.model.brace import Brace
from jointcalc.model.fillet import FilletGroup
from jointcalc.model.links import perhaps_one
from jointcalc.model.marking import Part, Tub
from jointcalc.model.panel import Panel
from jointcalc.model.plug import PlugRow
from jointcalc.model.seam import SpotSeam
from jointcalc.quantity.sentence import Sentence, mm, printed
from jointcalc.quantity.show import System
from jointcalc.registry import BY_MODEL
from jointcalc.registry import load as from_place
from jointcalc.section.families.family import Family
from jointcalc.section.families.lap import Lap
from jointcalc.section.forming import blank
from jointcalc.tables.materials import material
from jointcalc.tables.store import load
from jointcalc.tables.trade import filler_row

STOCK: Mapping[str, tuple[tuple[float, float], ...]] = {
    "metric": ((2000.0, 1000.0), (2500.0, 1250.0), (3000.0, 1500.0)),
    "inch": ((2438.4, 1219.2), (3048.0, 1524.0)),
}
"""Stock sheets when none are stated [mm]: usual sizes of the trade, common practice, no source."""


MOST_PIECES = 3000


@dataclass(frozen=True, slots=True)
class Cut:
    """`count` equal pieces of sheet: `length` and `width` [mm] of the rectangle, `mass` [t] of one."""

    item: str
    part: str
    count: int
    sheet: str
    thickness: float
    length: float
    width: float
    mass: float
    turn: bool = True


@dataclass(frozen=True, slots=True)
class Section:
    """A bought section cut to `length` [mm]; `mass` [t]."""

    item: str
    profile: str
    grade: str
    length: float
    mass: float


@dataclass(frozen=True, slots=True)
class Joining:
    """What one joint takes: spots, plugs (with their size in words), weld length [mm], filler [t], fasteners."""

    item: str
    spots: int = 0
    plugs: int = 0
    weld_length: float = 0.0
    filler: float = 0.0
    filler_name: str = ""
    fasteners: int = 0
    fastener: str = ""


@dataclass
class CutList:
    """Everything to buy, cut and weld of a project."""

    project: str
    cuts: list[Cut] = field(default_factory=list)
    sections: list[Section] = field(default_factory=list)
    joints: list[Joining] = field(default_factory=list)
    nestings: dict[str, Nesting] = field(default_factory=dict)
    stock: tuple[tuple[float, float], ...] = ()
    kerf: float = 0.0
    margin: float = 0.0
    unmarked: list[tuple[str, str]] = field(default_factory=list)
    beaded: list[str] = field(default_factory=list)
    loose_beads: list[tuple[str, float]] = field(default_factory=list)
    """(panel, what its beads draw in at most [mm]): beaded, and of no part that is cut."""
    shared: list[tuple[str, str]] = field(default_factory=list)
    """(seam, brace whose weld lines it is)."""
    ended: list[str] = field(default_factory=list)
    """Braces whose bearing or overhang is stated."""
    bare: list[str] = field(default_factory=list)
    """Braces that say nothing of their ends."""
    alike: list[tuple[str, str]] = field(default_factory=list)
    """(seam, brace): two items that may be the same row of spots."""

    @property
    def total_mass(self) -> float:
        """Mass of all pieces and sections [t]."""
        return sum(c.mass * c.count for c in self.cuts) + sum(s.mass for s in self.sections)

    @property
    def too_large(self) -> tuple[tuple[str, Piece], ...]:
        """(sheet, piece) of what no stock sheet holds."""
        return tuple((sheet, p) for sheet, n in self.nestings.items() for p in n.too_large)

    def notes(self, system: System = "metric") -> list[str]:
        """What a reader must know of the figures, in his units."""
        said = [
            "Masses are of nominal thickness; filler is weld volume x overfill x density / deposition efficiency "
            "(common practice, table deposition_efficiency), a flush plug fills its hole.",
            "The nesting is a rule of thumb with cuts from edge to edge, not an optimum; rolling directions are kept "
            "only where a part says turn = false.",
        ]
        if self.beaded:
            said.append(
                f"Blanks that are beaded ({', '.join(self.beaded)}) include all that their beads can draw in: bead "
                "first, then trim to the drawing."
            )
        said += [
            f"{panel} is beaded and names no part: the sheet it is in is cut too small by up to "
            f"{mm(drawn):.4g}, which its beads draw in. Say which part it is ('part') before it is cut."
            for panel, drawn in self.loose_beads
        ]
        if self.ended:
            said.append(
                f"Lengths of braces ({', '.join(self.ended)}) are their spans with half of the bearing and the "
                "overhang at each end that is supported."
            )
        if self.bare:
            said.append(
                f"{', '.join(self.bare)}: neither 'bearing' nor 'overhang' is stated; half of the least bearing "
                f"({mm(10.0):g}) is added at each end that is supported. State them before it is cut."
            )
        said += [
            f"{seam} and the weld line of {brace} have the same sheets and length: if they are the same spots, say "
            f'welded_by = "{seam}" in {brace}; they are counted twice here.'
            for seam, brace in self.alike
        ]
        said += [
            f"The spots of {seam} are those of {brace}, on each of its weld lines, and counted there."
            for seam, brace in self.shared
        ]
        if any(s.spots for s in self.joints):
            said.append("Sheets that are joined but not listed as a part ([[part]]) are not in the cut list.")
        return [printed(text, system) for text in said]


def cut_list(
    project: str,
    items: Iterable[Any],
    *,
    stock: Sequence[tuple[float, float]],
    kerf: float,
    margin: float,
) -> CutList:
    """Count what the items take and nest their sheets on `stock` (length, width) [mm]."""
    made = CutList(project, stock=tuple(stock), kerf=kerf, margin=margin)
    items = list(items)
    for item in items:
        _count(made, item)
    made.alike = perhaps_one(items)
    groups: dict[str, list[Piece]] = {}
    for cut in made.cuts:
        name = f"{cut.item} {cut.part}".strip()
        group = groups.setdefault(cut.sheet, [])
        group.extend(Piece(name, cut.length, cut.width, cut.turn) for _ in range(cut.count))
        if sum(len(g) for g in groups.values()) > MOST_PIECES:
            raise InputError(f"more than {MOST_PIECES} pieces of sheet; lay the project out in parts with --item")
    made.nestings = {sheet: nest(pieces, stock, kerf=kerf, margin=margin) for sheet, pieces in groups.items()}
    return made


def _count(made: CutList, item: Any) -> None:
    enter: Callable[[CutList, Any], None] = from_place(BY_MODEL[type(item).__name__].cut)
    enter(made, item)


def count_seam(made: CutList, item: SpotSeam) -> None:
    """Spots of a seam; none of one that is the weld line of a brace, which counts them on each of its lines."""
    if item.brace:
        made.shared.append((item.id, item.brace))
        return
    made.joints.append(Joining(item.id, spots=item.spots))


def count_plug(made: CutList, item: PlugRow) -> None:
    """Plugs and their filler."""
    made.joints.append(_plugs(item))


def count_fillet(made: CutList, item: FilletGroup) -> None:
    """Length of the welds and their filler."""
    length = float(item.group.lengths.sum())
    made.joints.append(Joining(item.id, weld_length=length, filler=fillet_filler(item), filler_name=item.filler))


def count_panel(made: CutList, item: Panel) -> None:
    """Nothing: a panel's sheet is listed as a [[part]], which grows by what its beads draw in where it is named."""
    drawn = max(item.draw_in, item.draw_in_along)
    if drawn and not item.part:
        made.loose_beads.append((item.id, drawn))


def count_part(made: CutList, item: Part) -> None:
    """A blank; one that is beaded is cut larger, beaded, then trimmed."""
    s = item.sheet
    length, width = item.blank
    beaded = any(item.draw_in)
    made.beaded += [item.id] if beaded else []
    each = (length * width if beaded else part_area(item)) * s.thickness * s.material.density
    made.cuts.append(
        Cut(item.id, "blank" if beaded else "", item.count, s.label, s.thickness, length, width, each, item.turn)
    )


def count_brace(made: CutList, item: Brace) -> None:
    """Blanks of a folded brace and its spots, or the length of a bought section, each with what the ends add."""
    sheet = item.sheets[0]
    if not isinstance(item.family, Lap):
        (made.bare if item.bearing is None and not item.overhang else made.ended).append(item.id)
    family, density = item.family, sheet.material.density
    if isinstance(family, BOUGHT):
        per_metre = float(blank(family, density=density).mass_per_metre[0])  # kg/m, so t per km
        made.sections.append(
            Section(item.id, item.profile, sheet.material.grade, item.cut_length, per_metre * item.cut_length * 1e-6)
        )
        return
    places = _spots(item, family)
    if places:
        made.joints.append(Joining(item.id, spots=places))
    if isinstance(family, Lap):
        return  # a joint of two sheets that are parts of their own
    for flat in of_brace(item):
        each = flat.width * item.cut_length * sheet.thickness * density
        made.cuts.append(Cut(item.id, "blank", 1, sheet.label, sheet.thickness, item.cut_length, flat.width, each))


def _spots(item: Brace, family: Family) -> int:
    return len(weld_places(item)) * len(family.weld_lines)


def count_bolts(made: CutList, item: FastenerGroup) -> None:
    """Fasteners and their backing plates."""
    made.joints.append(Joining(item.id, fasteners=len(item.holes), fastener=item.fastener.label))
    if item.plate is None:
        return
    long, short, thick = item.plate
    density = material(item.plate_grade, thick).density
    area = long * short - (4 - pi) * plate_corner(long, short) ** 2 - pi / 4 * item.d_0**2
    label = Sentence(f"{mm(thick):.4g} {item.plate_grade}")
    made.cuts.append(Cut(item.id, "backing plate", len(item.holes), label, thick, long, short, area * thick * density))


def count_tub(made: CutList, item: Tub) -> None:
    """Wrap and sides of a tub."""
    b, s = tub_blanks(item), item.sheet
    for name, count, length, width, area in (
        ("wrap", item.count, b.wrap_length, b.wrap_width, tub_wrap_area(item)),
        ("side", item.count * item.sides, b.chord, b.height + b.side_strip, tub_side_area(item)),
    ):
        each = area * s.thickness * s.material.density
        made.cuts.append(Cut(item.id, name, count, s.label, s.thickness, length, width, each))


def _bought(volume: float, process: str, density: float) -> float:
    """Filler to buy [t] for a flat weld of `volume` [mm³]."""
    row = load("deposition_efficiency").find(process=process)
    return volume * row.need("overfill") * density / row.need("efficiency")


def weld_section(item: FilletGroup) -> float:
    """Area of the weld across its length [mm²], flat face, without overfill.

    A fillet with equal legs s (or of throat a) is half of s², which is a²; beside one or two round corners
    of radius R it is the square less the quarter circle, once or twice, filled flush; a butt weld in sheet
    is thickness times a gap of half of it (common practice).
    """
    if item.weld == "butt":
        return item.thin.thickness**2 / 2
    if item.weld == "fillet":
        return item.leg**2 / 2 if item.leg is not None else item.design_throat**2
    if item.radius is None:
        return item.design_throat**2
    return (1 - pi / 4) * item.radius**2 * (2 if item.weld == "flare-V" else 1)


def fillet_filler(item: FilletGroup) -> float:
    """Filler of a group of arc welds [t]."""
    return _bought(weld_section(item) * float(item.group.lengths.sum()), item.process, item.thin.material.density)


def _plugs(item: PlugRow) -> Joining:
    d, b = item.diameter, item.overall - item.diameter
    depth = item.fill or item.top
    volume = (pi / 4 * d**2 + d * b) * depth * item.welds
    process = "SMAW" if filler_row(item.filler)["form"] == "electrode" else "GMAW"
    filler = _bought(volume, process, item.sheets[0].material.density)
    return Joining(item.id, plugs=item.welds, filler=filler, filler_name=item.filler)
