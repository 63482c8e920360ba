"""`jointcalc panel`."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Annotated

import typer

from jointcalc.cli.common import HandbookFactor, Json, LoadFactor, Purpose, Steps, Units

EXAMPLES = """Examples:

  jointcalc panel --size "600 400 mm" --sheet "1.2 mm" --grade DC04 --bead none --bead "arc:depth=6mm,width=25mm,pitch=75mm" --bead "trapezoid:depth=6mm,width=25mm,flat=10mm,pitch=75mm" --along short --edges clamped --pressure "0.2 kPa" --limit-frequency "25 Hz"

  jointcalc panel --size "24 16 in" --sheet "18 ga" --grade "A1008 SS Gr 33" --bead "vee:depth=1/4in,width=1in,pitch=3in" --pressure "0.2 psi" --limit-deflection "1/16 in" --along short --find depth --units inch
"""  # noqa: E501 - command lines to copy

LEFT = 0.93
"""Part of a panel's bar that is still left after another equilibrium."""


@contextmanager
def _bar(count: int) -> Iterator[Callable[[], None]]:
    """A bar on stderr while panels are worked out, when somebody is watching; call what it gives after each panel.

    How many equilibria a panel takes is not known before: each one moves the bar by a part of what is left of it.
    """
    if not sys.stderr.isatty():
        yield lambda: None
        return
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

    from jointcalc.statics.shell import watchers

    shown = TextColumn("solving"), BarColumn(), TimeElapsedColumn()
    with Progress(*shown, console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task("", total=count)
        done, tried = 0, 0

        def moved() -> None:
            nonlocal tried
            tried += 1
            bar.update(task, completed=done + 1 - LEFT**tried)

        def ended() -> None:
            nonlocal done, tried
            done, tried = done + 1, 0

        watchers.append(moved)
        try:
            yield ended
        finally:
            watchers.remove(moved)


def command(
    size: Annotated[str, typer.Option("--size", help='The two sides between the supports, "600 400 mm".')],
    sheet: Annotated[list[str], typer.Option("--sheet", help='The sheet, "1.0 mm" or "18 ga"; repeat to compare.')],
    grade: Annotated[list[str], typer.Option("--grade", help="Grade of all sheets, or one for each.")],
    bead: Annotated[
        list[str] | None,
        typer.Option(
            "--bead",
            help='"none" or a bead, "arc:depth=6mm,width=25mm,pitch=75mm,stop=25mm,runout=24mm"; repeat to compare. '
            'Two that cross are one text: "arc:... + arc:...,along=short".',
        ),
    ] = None,
    opening: Annotated[
        str,
        typer.Option(
            "--opening",
            help='A hole cut into it, "round:diameter=80mm,flange=8mm" or "rectangle:width=100mm,height=60mm", with x='
            " and y= of its middle where it is not the panel's.",
        ),
    ] = "none",
    along: Annotated[
        str, typer.Option("--along", help="Side the beads run along: long, short, or both to compare.")
    ] = "long",
    edges: Annotated[
        str,
        typer.Option(
            "--edges",
            help='How the edges are held: simple, clamped, or against turning by "500 N*m/rad/m"; each on its own: '
            '"clamped, left=simple" (start, end, left, right, looking along the beads).',
        ),
    ] = "simple",
    pressure: Annotated[str, typer.Option("--pressure", help="Service pressure over the whole panel.")] = "0 kPa",
    patch: Annotated[
        str, typer.Option("--patch", help="Service force, such as a foot, at the middle or at --patch-at.")
    ] = "0 N",
    patch_size: Annotated[
        str | None,
        typer.Option(
            "--patch-size",
            help='What the force stands on, along and across the beads: "80 50 mm", or "50 mm" for a square '
            "(default: 50 x 50 mm).",
        ),
    ] = None,
    patch_at: Annotated[
        list[str] | None,
        typer.Option(
            "--patch-at",
            help='Where the force stands, along the beads from the start and across them from the left edge: "150 100 '
            'mm"; repeat for one force at each place.',
        ),
    ] = None,
    shear: Annotated[
        str, typer.Option("--shear", help='Service shear flow in the plane of the sheet, "10 N/mm".')
    ] = "0 N/mm",
    compression: Annotated[
        str,
        typer.Option(
            "--compression",
            help='Service thrust that pushes opposite edges together, along and across the beads: "12 4 N/mm", or '
            '"12 N/mm" along.',
        ),
    ] = "0 N/mm",
    in_plane: Annotated[
        str | None,
        typer.Option(
            "--in-plane",
            help="The edges in the plane of the sheet: held, straight or free to draw in (default: held; straight "
            "under compression).",
        ),
    ] = None,
    crowns: Annotated[
        str, typer.Option("--crowns", help="Beads rise towards what presses on the panel, or away from it.")
    ] = "towards",
    permanent_set_limit: Annotated[
        str | None,
        typer.Option("--permanent-set-limit", help="What may stay after the load (default: half the thickness)."),
    ] = None,
    limit_deflection: Annotated[
        str | None, typer.Option("--limit-deflection", help="Greatest deflection under all loads together.")
    ] = None,
    limit_frequency: Annotated[
        str | None, typer.Option("--limit-frequency", help='Least first frequency, "25 Hz".')
    ] = None,
    mass_added: Annotated[
        str, typer.Option("--mass-added", help='Carpet, damping mat or load that swings with the panel, "4 kg/m2".')
    ] = "0 kg/m2",
    fine: Annotated[bool, typer.Option("--fine", help="Grids twice as fine: slower, closer.")] = False,
    rolled: Annotated[
        str, typer.Option("--rolled", help="The sheet while it is beaded: held, or loose, so that it draws in.")
    ] = "held",
    coating: Annotated[
        list[str] | None, typer.Option("--coating", help='Zinc, such as "Z275" or "G90"; once, or per sheet.')
    ] = None,
    find: Annotated[
        str | None,
        typer.Option(
            "--find",
            help="Find what holds: depth, pitch, stop or runout of the bead, thickness, or the lightest or shallowest "
            "bead at any pitch.",
        ),
    ] = None,
    plot: Annotated[
        Path | None, typer.Option("--plot", help="Draw deflection contours and beads into an SVG file.")
    ] = None,
    purpose: Purpose = None,
    load_factor: LoadFactor = 1.5,
    handbook_factor: HandbookFactor = 3.0,
    coupons: Annotated[
        bool, typer.Option("--coupons", help="Coupons of these sheets and settings were made and passed.")
    ] = False,
    id: Annotated[str, typer.Option("--id", help="Name of the panel in the answer.")] = "-",
    json: Json = False,
    units: Units = "metric",
    steps: Steps = False,
) -> None:
    """Compare flat and beaded panels: stiffness, deflection, frequency, stress, and whether the bead can be made."""
    from jointcalc.check.panel import check_panel
    from jointcalc.cli.common import as_options, given, sheets, system, write
    from jointcalc.errors import InputError
    from jointcalc.model.fields import build
    from jointcalc.model.panel import Panel

    shown = system(units)
    if plot is not None and plot.suffix.lower() != ".svg":
        raise InputError(f"'{plot.name}' does not end in .svg; the plot is an SVG file", field="--plot")
    base = given(
        id=id, size=size, along=along, edges=edges, pressure=pressure, patch=patch, patch_size=patch_size,
        patch_at=tuple(patch_at or ()), mass_added=mass_added, fine=fine or None, shear=shear,
        compression=compression, opening=opening, in_plane=in_plane, crowns=crowns,
        permanent_set_limit=permanent_set_limit,
        limit_deflection=limit_deflection, limit_frequency=limit_frequency, rolled=rolled, purpose=tuple(purpose or ()),
        load_factor=load_factor, handbook_factor=handbook_factor, coupons=coupons,
    )  # fmt: skip
    # every sheet with every bead, the beads of the first sheet first; a flat sheet has no direction
    both = along.strip().lower() == "both"
    candidates = [
        {**base, "sheet": one, "bead": text, **({"along": way} if both else {})}
        for one in sheets(sheet, grade, coating)
        for text in (bead or ["none"])
        for way in (("long", "short") if both and _either_way(text) else ("long",))
    ]
    found, results, missed = [], [], 0
    try:
        panels = [build(Panel, data) for data in candidates]
        if find is not None:
            from jointcalc.explore.panel import NothingHolds, find_panel

            for data in candidates:
                try:
                    answer = find_panel(data, find, shown, _tell)
                    _clear()
                except NothingHolds as error:
                    _clear()
                    missed += 1
                    if not both or error.best is None or missed == len(candidates):
                        raise
                    results.append(error.best)
                    found.append(error.message)
                    continue
                results.append(answer.result)
                found.append(answer.text)
        else:
            with _bar(len(panels)) as ended:
                for panel in panels:
                    results.append(check_panel(panel))
                    ended()
    except InputError as error:
        raise as_options(error, {"sheet": "--sheet"}) from error
    if both:
        from jointcalc.explore.panel import which_way

        beaded = [r for r in results if isinstance(r.model, Panel) and _either_way(r.model.bead)]
        found += [way for pair in zip(beaded[::2], beaded[1::2]) if (way := which_way(pair, find))]
    if plot is not None:
        from jointcalc.show.panel_plot import plot as draw

        draw(results, plot, shown)
    if json:
        from jointcalc.show.document import comparison_document, dumps

        write(dumps(comparison_document(results)))
    else:
        from jointcalc.show.panel import print_comparison
        from jointcalc.show.terminal import console

        print_comparison(results, console(), system=shown, steps=steps, found=found)
    raise typer.Exit(0 if all(r.status == "ok" for r in results) else 1)


def _either_way(text: str) -> bool:
    """Whether a bead can be judged along either side: it says itself neither where it runs nor what crosses it."""
    from jointcalc.model.panel import FLAT
    from jointcalc.statics.bead_crossing import AND

    return text.strip().lower() not in FLAT and AND not in text and "along" not in text.lower()


def _tell(words: str) -> None:
    """Says how far a search is, on stderr, when somebody is watching."""
    if sys.stderr.isatty():
        sys.stderr.write(f"\r\x1b[Ksearching: {words}")
        sys.stderr.flush()


def _clear() -> None:
    """Takes that line away."""
    if sys.stderr.isatty():
        sys.stderr.write("\r\x1b[K")
