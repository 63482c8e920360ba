"""`jointcalc frame`."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from jointcalc.cli.common import Cautions, Json

EXAMPLES = """Examples:

  jointcalc frame project.toml

  jointcalc frame project.toml --json
"""


def command(
    file: Annotated[Path, typer.Argument(help="The project file, or the folder it is in.", show_default=False)],
    one_id: Annotated[str | None, typer.Option("--id", help="Only this frame, where the file has several.")] = None,
    limit_deflection: Annotated[
        str, typer.Option("--limit-deflection", help='Judge its deflection: "L/200" of its longest member, or "3 mm".')
    ] = "",
    json: Json = False,
    units: Annotated[str | None, typer.Option("--units", help="Units of the answer (default: the project's).")] = None,
    full: Annotated[bool, typer.Option("--full", help="Print what was assumed, and the cautions in full.")] = False,
    cautions: Cautions = False,
) -> None:
    """Solve the floor frames of a project file: deflection, hardest loaded members, reactions, what was assumed."""
    from jointcalc.cli.common import of_id, system, write
    from jointcalc.errors import InputError
    from jointcalc.kinds.frame.answer import answer, sentences
    from jointcalc.kinds.frame.draw import sketch
    from jointcalc.kinds.frame.model import Frame
    from jointcalc.model.project import load_project
    from jointcalc.quantity.sentence import printed
    from jointcalc.show.document import dumps
    from jointcalc.show.ending import print_ending, print_other_cautions
    from jointcalc.show.terminal import STYLE, VERDICT, console, hang
    from jointcalc.version import VERSION

    project = load_project(file, parts_suffice=True)
    shown = system(units or project.about.units)
    chosen = of_id((one for one in project.givers if isinstance(one, Frame)), one_id, "frame")
    try:
        found = [(one.solved, answer(one.solved, limit_deflection)) for one in chosen]
    except InputError as error:
        raise InputError(error.message, field="--" + error.field.replace("_", "-") if error.field else "") from error
    if json:
        documents = [one.json() for _, one in found]
        whole = documents[0] if len(documents) == 1 else {"jointcalc": VERSION, "kind": "frames", "items": documents}
        write(dumps(whole))
    else:
        out = console()
        if not found:
            hang(out, "", f"{Path(file).name} has no [[frame]]; `jointcalc new FOLDER` writes a starter that shows one")
        for solved, one in found:
            hang(out, "", printed(f"frame {one.result.id}: {one.result.about['frame']}", shown), style="bold")
            for line in sketch(solved, one, out.width):
                out.print(line)
            for label, sentence in sentences(one):
                hang(out, f"{label}: ", printed(sentence, shown))
            if full and one.notes:
                out.print()
                out.print("Assumed:", style="bold")
                for note in one.notes:
                    hang(out, "- ", printed(note, shown))
            if full or cautions:
                print_other_cautions(one.result.cautions, out, shown)
            out.print()
            if one.result.judged:
                out.print(VERDICT[one.result.status], style=STYLE[one.result.status])
                hang(out, "deflection ", printed(one.result.checks[0].note, shown))
            many = len(one.notes)
            left_out = [f"what was assumed ({many} thing{'s' if many != 1 else ''})"] if many and not full else []
            print_ending(one.result.cautions, out, shown, full=full or cautions, left_out=left_out)
    raise typer.Exit(1 if any(one.result.judged and one.result.status != "ok" for _, one in found) else 0)
