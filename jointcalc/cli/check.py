"""`jointcalc check`."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from jointcalc.cli.common import Json

if TYPE_CHECKING:
    from jointcalc.model.fields import Item

EXAMPLES = """Examples:

  jointcalc check project.toml

  jointcalc check project.toml --item S1 --steps

  jointcalc check project.toml --only over

  jointcalc check project.toml --cautions
"""

LONG = 100.0
"""Effort (that of a spot seam is 1) from which on a progress bar is worth its lines."""


def command(
    file: Annotated[Path, typer.Argument(help="The project file, or the folder it is in.", show_default=False)],
    item: Annotated[list[str] | None, typer.Option("--item", help="Only this item, in full (repeat for more).")] = None,
    json: Json = False,
    units: Annotated[str | None, typer.Option("--units", help="Units of the answer (default: the project's).")] = None,
    steps: Annotated[bool, typer.Option("--steps", help="With --item: print the full working.")] = False,
    only: Annotated[
        str | None, typer.Option("--only", help="Show only the items that are: over, outside (not judged) or ok.")
    ] = None,
    case: Annotated[str | None, typer.Option("--case", help="Judge only what this load case loads, under it.")] = None,
    full: Annotated[bool, typer.Option("--full", help="Print loads, places and methods of each item as well.")] = False,
    cautions: Annotated[bool, typer.Option("--cautions", help="Print every caution, by the items it is for.")] = False,
    thin: Annotated[bool, typer.Option("--thin", help="Judge every item with its sheets 8 % thinner as well.")] = False,
) -> None:
    """Judge every item of a project file: a line each, the worst first, and what gives way."""
    from jointcalc.cli.bar import Bar
    from jointcalc.cli.common import known_items, system, write
    from jointcalc.errors import InputError, nearest
    from jointcalc.explore.beside import effort_of, judge_each
    from jointcalc.model.project import load_project
    from jointcalc.result import Results, collect
    from jointcalc.show.document import dumps, overall, project_document

    if only is not None and only not in VERDICTS:
        raise InputError(f"'{only}' is no verdict; say {', '.join(VERDICTS)}{nearest(only, VERDICTS)}", field="--only")
    project = load_project(file)
    shown = system(units or project.about.units)
    wanted = list(project.items)
    if item:
        known_items(item, [i.id for i in project.items])
        wanted = [i for i in project.items if i.id in item]
    if case is not None:
        wanted = _under(wanted, case, [c.id for c in project.cases])
    with Bar(wanted=not json and sum(map(effort_of, wanted)) > LONG) as tell:
        judged = judge_each(
            wanted, "thin" if thin and not json and not item else "nothing", where=Path(file).name,
            done=lambda done, of: tell("checking", done, of),
        )  # fmt: skip
    results = Results(one.result for one in judged)
    left = () if item or case is not None else project.unjudged
    if json:
        from jointcalc.model.typed import typed_in

        raised = collect(c for r in results for c in r.cautions)
        typed = typed_in(project, wanted)
        write(dumps(project_document(project.about.title, results, raised, left, typed)))
    else:
        from jointcalc.show.answer import print_result
        from jointcalc.show.terminal import console
        from jointcalc.show.tree import print_tree

        out = console()
        if item:
            for result in results:
                print_result(result, out, system=shown, steps=steps, full=True)
                out.print()
        else:
            about = project.about
            head = {"Project": about.title, "Vehicle": about.vehicle, "Revision": about.revision}
            print_tree(
                results, out, {k: v for k, v in head.items() if v}, shown,
                only=only or "", full=full, cautions=cautions, unjudged=left,
                thin={one.result.id: one.changed[0] for one in judged} if thin else None,
            )  # fmt: skip
    raise typer.Exit(0 if overall(results) == "ok" else 1)


VERDICTS = ("over", "outside", "ok")


def _under(items: list[Item], case: str, known: list[str]) -> list[Item]:
    """The items that a case loads, under it alone.  InputError when there is no such case, or it loads nothing."""
    from jointcalc.errors import InputError, nearest

    if case not in known:
        told = ", ".join(known) or "none is defined"
        raise InputError(
            f"'{case}' is not the id of a [[case]]{nearest(case, known)} (they are: {told})", field="--case"
        )
    found = []
    for item in items:
        here = [one for one in item.standings if any(given.case == case for given in one.given)]
        if here:
            found.append(item.under(here))
        elif item.case == case and not item.standings:
            found.append(item)
    if not found:
        raise InputError(f"'{case}' loads no item of this file", field="--case")
    return found
