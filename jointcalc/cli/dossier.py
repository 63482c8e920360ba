"""`jointcalc dossier`."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

EXAMPLES = """Examples:

  jointcalc dossier project.toml

  jointcalc dossier project.toml -o van.pdf --paper letter --units inch --steps short

  jointcalc check project.toml --json > revision-A.json

  jointcalc dossier project.toml --since revision-A.json

  jointcalc dossier project.toml --html --item P1 -o front-feet.html
"""


def command(
    file: Annotated[Path, typer.Argument(help="The project file, or the folder it is in.", show_default=False)],
    output: Annotated[
        Path | None, typer.Option("-o", "--output", help="The file to write (default: beside the project file).")
    ] = None,
    paper: Annotated[str, typer.Option("--paper", help="Paper: a4 or letter.")] = "a4",
    units: Annotated[
        str | None, typer.Option("--units", help="Units: metric or inch (default: the project's).")
    ] = None,
    item: Annotated[list[str] | None, typer.Option("--item", help="Only this item (repeat for more).")] = None,
    summary: Annotated[
        bool, typer.Option("--summary", help="Cover, summary, open points, cautions and sign-off.")
    ] = False,
    steps: Annotated[str, typer.Option("--steps", help="Working to print: none, short (what governs), full.")] = "full",
    since: Annotated[
        Path | None,
        typer.Option("--since", help="Project file (or `check --json`) of an earlier revision: list what changed."),
    ] = None,
    html: Annotated[
        bool, typer.Option("--html", help="A page for the bench instead: to tick off and measure on a phone.")
    ] = False,
) -> None:
    """Write the project's dossier: one PDF with every item's drawing, inputs, methods, working and sources.

    With --html it is one HTML file that works from a phone's storage: drawings, spots to tick off, a checklist to fill
    in, kept by the browser.
    """
    from jointcalc.cli.bar import Bar
    from jointcalc.cli.common import known_items, system, write
    from jointcalc.dossier.changes import read_old
    from jointcalc.dossier.content import PAPERS, STEPS, Options
    from jointcalc.dossier.figures import drawing
    from jointcalc.dossier.photos import photo_faults
    from jointcalc.dossier.typeset import make_dossier
    from jointcalc.errors import InputError, InputErrors, nearest
    from jointcalc.explore.beside import Beside, judge_each
    from jointcalc.files import write_file
    from jointcalc.model.project import load_project
    from jointcalc.result import Results
    from jointcalc.show.document import overall

    for word, known, name in ((paper, tuple(PAPERS), "--paper"), (steps, STEPS, "--steps")):
        if word not in known:
            raise InputError(f"'{word}' is not known{nearest(word, known)} (accepted: {', '.join(known)})", field=name)
    if html:
        for name, unused in (("--paper", paper == "a4"), ("--steps", steps == "full"), ("--summary", not summary),
                             ("--since", since is None)):  # fmt: skip
            if not unused:
                raise InputError("goes with the PDF; the page for the bench (--html) has none", field=name)
    project = load_project(file)
    shown = system(units or project.about.units)
    known_items(item or (), [i.id for i in project.items])
    assert project.path is not None
    ending = ".html" if html else ".pdf"
    target = output if output is not None else project.path.with_suffix(ending)
    if target.suffix.lower() != ending:
        raise InputError(f"must end in {ending}", field="--output", where=str(target))
    if target.is_dir() or not target.parent.is_dir():
        what = "is a folder; name a file" if target.is_dir() else "lies in a folder that is not there; make it first"
        raise InputError(what, field="--output", where=str(target))
    old = read_old(since) if since is not None else None
    wanted = [i for i in project.items if not item or i.id in item]
    with Bar() as tell:
        beside: Beside = "thin" if html else "changes" if steps == "none" else "all"
        judged = judge_each(
            wanted, beside, where=project.path.name, done=lambda done, of: tell("judging", done, of),
            draw=None if html or summary else drawing((one.kind for one in wanted), shown),
        )  # fmt: skip
        results = Results(one.result for one in judged)
        options = Options(
            paper=paper, units=shown, items=tuple(item or ()), summary=summary, steps=steps,  # type: ignore[arg-type]
            old=old, old_name=since.name if since is not None else "",
        )  # fmt: skip
        if lost := photo_faults(project, wanted):
            raise InputErrors(lost)
        if html:
            from jointcalc.bench import make_bench

            made = make_bench(
                project, list(results), units=shown, items=options.items, tell=tell,
                thin={one.result.id: one.changed[0] for one in judged},
            )  # fmt: skip
        else:
            made = make_dossier(project, list(results), options, tell, {one.result.id: one for one in judged})
    write_file(target, made)
    write(f"{target}: {len(results)} item{'s' if len(results) != 1 else ''}, {len(made) / 1000:.0f} kB")
    raise typer.Exit(0 if overall(results) == "ok" else 1)
