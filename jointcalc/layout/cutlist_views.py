"""The cut list as a reader gets it: JSON, rows for a spreadsheet, tables in words, drawings of the nesting, the PDF."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from math import ceil, floor, pi
from typing import Any

from jointcalc.layout.cutlist import CutList
from jointcalc.layout.drawing import Dim, Entity, Label, Table, rectangle
from jointcalc.layout.item_pages import Flow
from jointcalc.layout.nest import StockSheet
from jointcalc.layout.paper import Sheet, write_pdf
from jointcalc.layout.words import mass, plain, size, sized, unit
from jointcalc.quantity.sentence import printed
from jointcalc.quantity.show import System, respelt
from jointcalc.version import VERSION


def _mm(value: float) -> dict[str, Any]:
    return {"value": value, "unit": "mm"}


def _kg(value: float) -> dict[str, Any]:
    return {"value": value * 1e3, "unit": "kg"}


def document(made: CutList, files: Sequence[str] = ()) -> dict[str, Any]:
    """The cut list as JSON: lengths in mm, masses in kg, full precision."""
    return {
        "jointcalc": VERSION,
        "kind": "cut_list",
        "project": made.project,
        "parts": [
            {
                "item": c.item, "part": c.part, "count": c.count, "sheet": c.sheet, "thickness": _mm(c.thickness),
                "length": _mm(c.length), "width": _mm(c.width), "mass": _kg(c.mass),
            }
            for c in made.cuts
        ],
        "sections": [
            {"item": s.item, "profile": s.profile, "grade": s.grade, "length": _mm(s.length), "mass": _kg(s.mass)}
            for s in made.sections
        ],
        "joints": [
            {
                "item": j.item, "spots": j.spots, "plugs": j.plugs, "weld_length": _mm(j.weld_length),
                "filler": _kg(j.filler), "filler_name": j.filler_name, "fasteners": j.fasteners, "fastener": j.fastener,
            }
            for j in made.joints
        ],
        "stock": {
            "sizes": [{"length": _mm(a), "width": _mm(b)} for a, b in made.stock],
            "kerf": _mm(made.kerf), "margin": _mm(made.margin),
        },
        "sheets": [
            {
                "sheet": name, "length": _mm(s.length), "width": _mm(s.width), "utilisation": s.utilisation,
                "placed": [
                    {
                        "part": p.piece.name, "x": _mm(p.x), "y": _mm(p.y), "length": _mm(p.length),
                        "width": _mm(p.width), "turned": p.turned,
                    }
                    for p in s.placed
                ],
            }
            for name, nesting in made.nestings.items()
            for s in nesting.sheets
        ],
        "too_large": [
            {"sheet": sheet, "part": p.name, "length": _mm(p.length), "width": _mm(p.width)}
            for sheet, p in made.too_large
        ],
        "totals": {
            "mass": _kg(made.total_mass),
            "spots": sum(j.spots for j in made.joints),
            "plugs": sum(j.plugs for j in made.joints),
            "weld_length": _mm(sum(j.weld_length for j in made.joints)),
            "filler": _kg(sum(j.filler for j in made.joints)),
        },
        "not_marked_out": [{"item": item, "reason": why} for item, why in made.unmarked],
        "notes": made.notes(),
        "files": list(files),
    }  # fmt: skip


def csv_text(made: CutList) -> str:
    """The cut list for a spreadsheet: one row for each part, section and joint, in mm and kg."""

    def cell(text: str) -> str:
        # a spreadsheet would run a cell that begins like a formula
        return f"'{text}" if text[:1] in ("=", "+", "-", "@") else text

    out = io.StringIO()
    write = csv.writer(out, lineterminator="\r\n")
    write.writerow(
        ["item", "what", "count", "material", "thickness_mm", "length_mm", "width_mm", "mass_each_kg", "spots", "plugs",
         "weld_length_mm", "filler_kg", "fasteners"]
    )  # fmt: skip
    for c in made.cuts:
        write.writerow(
            [cell(plain(c.item)), c.part or "part", c.count, c.sheet, c.thickness, c.length, c.width, c.mass * 1e3,
             "", "", "", "", ""]
        )  # fmt: skip
    for s in made.sections:
        write.writerow(
            [
                cell(plain(s.item)),
                cell(plain(s.profile)),
                1,
                s.grade,
                "",
                s.length,
                "",
                s.mass * 1e3,
                "",
                "",
                "",
                "",
                "",
            ]
        )
    for j in made.joints:
        what = j.fastener or j.filler_name
        write.writerow(
            [cell(plain(j.item)), "joint", "", cell(plain(what)), "", "", "", "", j.spots, j.plugs, j.weld_length,
             j.filler * 1e3, j.fasteners]
        )  # fmt: skip
    return out.getvalue()


def tables(made: CutList, system: System) -> list[Table]:
    """Parts, sections, joints, stock and totals in words."""
    u = unit(system)
    found = [
        Table(
            "Cut from sheet", ("item", "part", "off", "sheet", f"length {u}", f"width {u}", "mass each"),
            tuple(
                (c.item, c.part or "part", str(c.count), printed(c.sheet, system), size(c.length, system),
                 size(c.width, system), mass(c.mass, system))
                for c in made.cuts
            ),
        ),
        Table(
            "Bought sections, cut to length", ("item", "profile", "grade", f"length {u}", "mass"),
            tuple(
                (s.item, respelt(s.profile, system), s.grade, size(s.length, system), mass(s.mass, system))
                for s in made.sections
            ),
        ),
        Table(
            "Joints", ("item", "spots", "plugs", f"weld {u}", "filler", "what"),
            tuple(
                (j.item, _count_text(j.spots), _count_text(j.plugs),
                 size(j.weld_length, system) if j.weld_length else "-", _small(j.filler, system),
                 f"{j.fasteners} x {printed(j.fastener, system)}" if j.fasteners else j.filler_name or "spot weld")
                for j in made.joints
            ),
        ),
        Table(
            f"Stock, kerf {sized(made.kerf, system)}, margin {sized(made.margin, system)}",
            ("sheet", "no.", f"size {u}", "pieces", "used"),
            tuple(
                (printed(name, system), str(n + 1), f"{size(s.length, system)} x {size(s.width, system)}",
                 str(len(s.placed)), f"{floor(100 * s.utilisation)} %")
                for name, nesting in made.nestings.items()
                for n, s in enumerate(nesting.sheets)
            ),
        ),
    ]  # fmt: skip
    if made.too_large:
        found.append(
            Table(
                "TOO LARGE for every stock sheet", ("part", "sheet", f"length {u}", f"width {u}"),
                tuple(
                    (p.name, printed(sheet, system), size(p.length, system), size(p.width, system))
                    for sheet, p in made.too_large
                ),
            )
        )  # fmt: skip
    totals = document(made)["totals"]
    found.append(
        Table(
            "Totals", ("what", "amount"),
            (
                ("mass of parts and sections", mass(made.total_mass, system)),
                ("stock sheets", str(sum(len(n.sheets) for n in made.nestings.values()))),
                ("spots", str(totals["spots"])), ("plugs", str(totals["plugs"])),
                ("weld length", sized(totals["weld_length"]["value"], system)),
                ("filler to buy", _small(totals["filler"]["value"] / 1e3, system)),
            ),
        )
    )  # fmt: skip
    return [t for t in found if t.rows]


def _count_text(n: int) -> str:
    return str(n) if n else "-"


def _small(value: float, system: System) -> str:
    """A small mass [t], rounded up, in g or oz."""
    if not value:
        return "-"
    return f"{ceil(value * 1e6 / 28.349523125 * 10) / 10:g} oz" if system == "inch" else f"{ceil(value * 1e6):d} g"


def nesting_drawing(name: str, sheet: StockSheet, system: System) -> list[Entity]:
    """One stock sheet with its pieces, for the paper."""
    made: list[Entity] = [
        rectangle("EDGE", 0.0, 0.0, sheet.length, sheet.width),
        Dim(0.0, 0.0, sheet.length, 0.0, -60.0, size(sheet.length, system)),
        Dim(0.0, 0.0, 0.0, sheet.width, -60.0, size(sheet.width, system), True),
    ]
    for p in sheet.placed:
        made.append(rectangle("CUT", p.x, p.y, p.length, p.width))
        words = (p.piece.name, f"{size(p.length, system)} x {size(p.width, system)}")
        # lettering as large as the piece allows, upright on an upright piece
        long, short = max(p.length, p.width), min(p.length, p.width)
        high = min(short / 4, 0.9 * long / (max(len(w) for w in words) * 0.85), 60.0)
        turn = pi / 2 if p.width > p.length else 0.0
        for k, word in enumerate(words):
            off = (0.8 - 1.6 * k) * high
            x, y = p.x + p.length / 2, p.y + p.width / 2
            made.append(Label(x - (off if turn else 0.0), y + (0.0 if turn else off), word, high, turn, "center"))
    return made


def pdf(made: CutList, sheet: Sheet) -> bytes:
    """The cut list on paper: tables, notes, and a drawing of every stock sheet (equal ones once)."""
    flow = Flow(sheet, f"Cut list  {made.project}")
    for table in tables(made, sheet.system):
        flow.table(table)
    flow.head("Notes")
    for note in made.notes(sheet.system):
        flow.say(note)
    for item, why in made.unmarked:
        flow.say(f"{item}: {why}.")
    for name, nesting in made.nestings.items():
        for n, stock in enumerate(nesting.sheets):
            words = f"{name}, sheet {n + 1} of {len(nesting.sheets)}, {floor(100 * stock.utilisation)} % used"
            flow.picture(nesting_drawing(name, stock, sheet.system), 105.0, words, most=0.44)
    return write_pdf(
        ((lambda p=p: p, "cut list, ") for p in flow.pages), sheet, f"Cut list {made.project}", len(flow.pages)
    )
