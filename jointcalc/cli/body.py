"""`jointcalc body`: what a body of a project file puts on its parts, before any seam asks for it."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from jointcalc.cli.common import Cautions, Json

if TYPE_CHECKING:
    from jointcalc.loads.body import Estimate, PartLoad
    from jointcalc.quantity.show import System
    from jointcalc.result import Caution
    from jointcalc.show.terminal import Out

EXAMPLES = """Examples:

  jointcalc body project.toml

  jointcalc body project.toml --json
"""


def command(
    file: Annotated[Path, typer.Argument(help="The project file, or the folder it is in.", show_default=False)],
    one_id: Annotated[str | None, typer.Option("--id", help="Only this body, where the file has several.")] = None,
    json: Json = False,
    units: Annotated[str | None, typer.Option("--units", help="Units of the answer (default: the project's).")] = None,
    full: Annotated[
        bool, typer.Option("--full", help="Print what was not worked out, and the cautions in full.")
    ] = False,
    cautions: Cautions = False,
) -> None:
    """Show what the bodies of a project file put on their parts: axle loads, twist, shear flows, forces along them."""
    from jointcalc.cli.common import of_id, system, write
    from jointcalc.loads.body import CAUTION, Estimate, by_part
    from jointcalc.loads.project import around
    from jointcalc.model.body import Body
    from jointcalc.model.project import load_project
    from jointcalc.result import caution
    from jointcalc.show.document import dumps
    from jointcalc.show.terminal import console, hang
    from jointcalc.version import VERSION

    project = load_project(file, parts_suffice=True)
    shown = system(units or project.about.units)
    bodies = of_id((one for one in project.givers if isinstance(one, Body)), one_id, "body")
    context = around(project)
    made = [Estimate.of(one) for one in bodies]
    told = [(one, tuple(by_part(one, context))) for one in made]
    raised = (caution(CAUTION),)
    if json:
        documents = [{"jointcalc": VERSION, "kind": "body", **_document(one, parts, raised)} for one, parts in told]
        write(
            dumps(documents[0] if len(documents) == 1 else {"jointcalc": VERSION, "kind": "bodies", "items": documents})
        )
        return
    out = console()
    if not told:
        hang(out, "", f"{Path(file).name} has no [[body]]; `jointcalc new FOLDER` writes a starter that shows one")
    for one, parts in told:
        takers = [item.id for item in project.items if any(text.split()[1:2] == [one.body.id] for text in item.load)]
        _print(one, parts, takers, out, shown, full=full, cautions=cautions, raised=raised)


def _print(
    made: Estimate, parts: Iterable[PartLoad], takers: list[str], out: Out, system: System, *, full: bool,
    cautions: bool, raised: tuple[Caution, ...],
) -> None:  # fmt: skip
    from jointcalc.quantity.sentence import printed
    from jointcalc.quantity.show import figures
    from jointcalc.quantity.units import INCH, POUND_FORCE
    from jointcalc.show.ending import print_ending, print_other_cautions
    from jointcalc.show.terminal import hang, in_blocks

    parts = tuple(parts)
    body = made.body
    hang(out, "", f"body {body.id}{f': {body.title}' if body.title else ''}", style="bold")
    for station in made.way:
        hang(out, f"{station.thing}: ", printed(station.sentence, system))
    flow_unit, flow = ("N/mm", 1.0) if system == "metric" else ("lbf/in", POUND_FORCE / INCH)
    unit, force = ("kN", 1e3) if system == "metric" else ("lbf", POUND_FORCE)
    rows = [["", flow_unit, unit, unit]]
    for one in parts:
        sizes = ((one.flow, flow), (one.pulled, force), (one.pushed, force))
        more = ">" if one.left else ""
        rows.append([one.part, *("-" if size is None else more + figures(size / by, 3) for size, by in sizes)])
    out.print()
    for line in in_blocks({"part": 14, "shear flow": 11, "pulled": 9, "pushed": 9}, rows, out.width):
        out.print(line)
    hang(
        out,
        "",
        "shear flow: on every seam along the part; pulled, pushed: along a sill, a tunnel, a stiffener",
        style="dim",
    )
    left = list(dict.fromkeys(text for one in parts for text in one.left))
    if left:
        hang(out, "", ">: that and more, which statics gives no share (--full tells it)", style="dim")
    cases = dict.fromkeys(one.under for one in parts)
    out.print()
    for case in cases:
        hang(out, f"Greatest under {case}: ", ", ".join(one.part for one in parts if one.under == case))
    asks = f'load = "from {body.id}" of a seam or a panel, "from {body.id} PART" of what names a part'
    hang(out, "Taken by: ", ", ".join(takers) or f"nothing of the file; {asks}")
    if left and full:
        out.print()
        out.print("Not worked out:", style="bold")
        for text in left:
            hang(out, "- ", printed(text, system))
    if full or cautions:
        print_other_cautions(raised, out, system)
    out.print()
    words = [f"what was not worked out ({len(left)} thing{'s' if len(left) != 1 else ''})"] if left and not full else []
    print_ending(raised, out, system, full=full or cautions, left_out=words)


def _document(made: Estimate, parts: Iterable[PartLoad], raised: tuple[Caution, ...]) -> dict[str, Any]:
    def amount(value: float | None, unit: str) -> dict[str, Any]:
        return {"value": value, "unit": unit}

    return {
        "id": made.body.id,
        "status": "ok",  # it gives loads and is judged by nothing itself: what takes them is
        "governing": None,
        "checks": [],
        "values": {
            "weight": amount(made.axles.weight, "N"),
            "centre": amount(made.axles.centre, "mm"),
            "front_axle": amount(made.axles.front, "N"),
            "rear_axle": amount(made.axles.rear, "N"),
            "torque": amount(made.torque.torque, "N*mm"),
        },
        "parts": {
            one.part: {
                "shear_flow": amount(one.flow, "N/mm"), "tension": amount(one.pulled, "N"),
                "compression": amount(one.pushed, "N"), "under": one.under, "left": [str(text) for text in one.left],
            }
            for one in parts
        },
        "way": [{"thing": station.thing, "text": str(station.sentence)} for station in made.way],
        "cautions": [one.json() for one in raised],
    }  # fmt: skip
