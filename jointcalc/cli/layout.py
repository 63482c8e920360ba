"""`jointcalc layout`."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from jointcalc.cli.common import Json

if TYPE_CHECKING:
    from jointcalc.layout.cutlist import CutList
    from jointcalc.quantity.show import System

EXAMPLES = """Examples:

  jointcalc layout project.toml --out marking

  jointcalc layout project.toml --item S1 --item B1 --paper letter --units inch

  jointcalc layout project.toml --item FF --item FR --stock "2500 1250 mm" --stock "2000 1000 mm" --kerf "2 mm" --json
"""

LONG = 25
"""Items from which on a progress bar is worth its lines."""


def command(
    file: Annotated[Path, typer.Argument(help="The project file, or the folder it is in.", show_default=False)],
    out: Annotated[
        Path | None,
        typer.Option("--out", help="Folder for the files; made if needed (default: layout beside the file)."),
    ] = None,
    item: Annotated[list[str] | None, typer.Option("--item", help="Only this item or part (repeat for more).")] = None,
    paper: Annotated[str, typer.Option("--paper", help="Paper of the full-size drawings: a4 or letter.")] = "a4",
    units: Annotated[
        str | None, typer.Option("--units", help="Units on the drawings (default: the project's).")
    ] = None,
    stock: Annotated[
        list[str] | None,
        typer.Option("--stock", help="Length and width of a stock sheet, such as '2500 1250 mm' (repeat for more)."),
    ] = None,
    kerf: Annotated[str, typer.Option("--kerf", help="Width that a cut takes.")] = "2 mm",
    margin: Annotated[str, typer.Option("--margin", help="Strip left along every edge of a stock sheet.")] = "5 mm",
    json: Json = False,
) -> None:
    """Mark out: a DXF and a full-size PDF of every joint, blank, plate and tub, and the cut list with its nesting.

    The DXF is in millimetres whatever --units says; the PDF is tiled to the paper and must be printed at
    100 %.  Nothing is judged here: `check` does that.
    """
    from jointcalc.cli.common import known_items, system, write
    from jointcalc.errors import InputError, nearest
    from jointcalc.layout.paper import PAPERS
    from jointcalc.model.project import load_project
    from jointcalc.quantity.parse import parse

    project = load_project(file, parts_suffice=True)
    shown = system(units or project.about.units)
    if paper.lower() not in PAPERS:
        raise InputError(f"'{paper}' is not a paper{nearest(paper, PAPERS)} (accepted: a4, letter)", field="--paper")
    cut = parse(kerf, "length", field="--kerf", high=50.0, example="2 mm")
    edge = parse(margin, "length", field="--margin", high=200.0, example="5 mm")
    sizes = _stock(stock, shown, edge)
    wanted = [*project.items, *project.parts]
    if item:
        known_items(item, [i.id for i in wanted])
        wanted = [i for i in wanted if i.id in item]
    from jointcalc.layout.cutlist import cut_list
    from jointcalc.layout.cutlist_views import document

    made = cut_list(project.about.title, wanted, stock=sizes, kerf=cut, margin=edge)
    assert project.path is not None
    folder = out if out is not None else project.path.parent / "layout"
    files = _write_files(made, wanted, folder, paper.lower(), shown, quiet=json)
    if json:
        from jointcalc.show.document import dumps

        write(dumps(document(made, files)))
    else:
        _print(made, shown, folder, files, [] if item else _stale(folder, files))


def _stock(stock: list[str] | None, shown: System, margin: float) -> list[tuple[float, float]]:
    """Stock sizes [mm], the longer side first.  Raises InputError."""
    from jointcalc.errors import InputError
    from jointcalc.layout.cutlist import STOCK
    from jointcalc.quantity.parse import parse_list

    sizes = []
    for text in stock or ():
        a, b = parse_list(text, "length", 2, field="--stock", signed=False, by=True)
        if min(a, b) < 50.0 or max(a, b) > 20e3:
            raise InputError(
                f"'{text}' is not a stock sheet; accepted is 50 mm to 20 m a side, such as '2500 1250 mm'",
                field="--stock",
            )
        sizes.append((max(a, b), min(a, b)))
    sizes = sizes or list(STOCK[shown])
    if 2 * margin >= min(b for _, b in sizes):
        raise InputError(f"{margin:g} mm on every edge leaves nothing of the smallest stock sheet", field="--margin")
    return sizes


def _write_files(made: CutList, wanted: list, folder: Path, paper: str, shown: System, *, quiet: bool) -> list[str]:  # type: ignore[type-arg]
    """Draw everything, then write; the names written, in order.  Raises InputError."""
    from jointcalc.cli.common import system
    from jointcalc.errors import InputError, InputErrors
    from jointcalc.files import write_folder
    from jointcalc.layout.cutlist_views import csv_text, pdf
    from jointcalc.layout.dxf import dxf
    from jointcalc.layout.item_pages import item_pdf
    from jointcalc.layout.items import draw, file_names
    from jointcalc.layout.paper import Sheet

    sheet = Sheet(paper, system(shown), made.project)
    drawn = []
    faults: list[InputError] = []
    for one in wanted:
        try:
            drawing, why = draw(one, shown)
        except InputError as fault:  # what cannot be built as it is described
            faults.append(fault)
            continue
        if drawing is None:
            made.unmarked.append((one.id, why))
        else:
            drawn.append(drawing)
    if faults:
        raise InputErrors(faults)
    files: dict[str, bytes | str] = {}
    for drawing, name in _progress(list(zip(drawn, file_names([d.id for d in drawn]))), quiet=quiet):
        files |= {f"{name}.dxf": dxf(drawing), f"{name}.pdf": item_pdf(drawing, sheet)}
    files |= {"cut-list.csv": csv_text(made), "cut-list.pdf": pdf(made, sheet)}
    # as one set: half of it in other units or of another revision would be cut from
    write_folder(folder, files, field="--out")
    return list(files)


def _stale(folder: Path, files: list[str]) -> list[str]:
    """Drawings in the folder that are not of this set: of an earlier state of the project, or somebody else's."""
    return sorted(
        one.name
        for one in folder.iterdir()
        if one.suffix in (".dxf", ".pdf") and one.is_file() and one.name not in files
    )


def _print(made: CutList, shown: System, folder: Path, files: list[str], stale: list[str]) -> None:
    from shutil import get_terminal_size

    from jointcalc.layout.cutlist_views import tables
    from jointcalc.layout.words import plain, table_lines, wrap
    from jointcalc.show.terminal import console

    out = console()
    out.print(f"Cut list: {plain(made.project)}", style="bold")
    for table in tables(made, shown):
        out.print()
        out.print(table.title, style="bold red" if table.title.startswith("TOO LARGE") else "bold")
        for line in table_lines(table.heads, table.rows, most=32):
            out.print(line)
    out.print()
    for name, why in made.unmarked:
        out.print(f"{plain(name)}: {why}.")
    for note in made.notes(shown):
        for line in wrap(note, min(max(get_terminal_size((80, 24)).columns, 40), 100)):
            out.print(line, style="dim")
    out.print()
    out.print(f"Wrote {len(files)} files to {folder}.")
    if stale:
        named = ", ".join(plain(name) for name in stale[:6]) + (" ..." if len(stale) > 6 else "")
        for line in wrap(f"Also there, and not of this set: {named}. Do not cut from what an earlier run left.", 78):
            out.print(line, style="bold")
    out.print("Print the PDFs at 100 % and measure the bar on each page.")


def _progress(items: list, *, quiet: bool):  # type: ignore[type-arg, no-untyped-def]
    """The items, with a bar on stderr when there are many and somebody is watching."""
    import sys

    if quiet or len(items) < LONG or not sys.stderr.isatty():
        return iter(items)
    from rich.console import Console
    from rich.progress import track

    return track(items, description="drawing", console=Console(stderr=True), transient=True)
