"""`jointcalc coupons`."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any

import typer

from jointcalc.cli.common import Json

EXAMPLES = """Examples:

  jointcalc coupons add coupons.csv --machine "gun A" --setting "9 kA 12 cycles" --stack "2 x 1.2 mm DC04" --test shear --button "5.6 mm" --load "8910 N" --mode button

  jointcalc coupons show coupons.csv --svg coupons.svg

  jointcalc coupons plan project.toml --out specimens
"""  # noqa: E501 - a command line to copy

WORDS = ("show", "add", "plan")
BELONGS = {
    "units": ("show", "plan"), "svg": ("show",), "date": ("add",), "machine": ("add",), "setting": ("add",),
    "stack": ("add",), "test": ("add",), "button": ("add",), "load": ("add",), "mode": ("add",), "note": ("add",),
    "out": ("plan",), "paper": ("plan",),
}  # fmt: skip
"""Option -> what it goes with."""


def command(
    what: Annotated[
        str, typer.Argument(help="'show' a log, 'add' a coupon to it, or 'plan' the coupons of a project.")
    ],
    file: Annotated[Path, typer.Argument(help="The log, a CSV file; for 'plan' the project file.")],
    date: Annotated[str | None, typer.Option("--date", help="add: day it was made (default: today).")] = None,
    machine: Annotated[str | None, typer.Option("--machine", help="add: machine, by the name the log has.")] = None,
    setting: Annotated[str | None, typer.Option("--setting", help="add: its setting, as you write it.")] = None,
    stack: Annotated[
        str | None, typer.Option("--stack", help="add: what was welded, '1.2 mm DC04 + 1.5 mm DC04 Z275'.")
    ] = None,
    test: Annotated[str | None, typer.Option("--test", help="add: shear, cross, peel, torsion or section.")] = None,
    button: Annotated[str | None, typer.Option("--button", help="add: diameter of the button or the section.")] = None,
    load: Annotated[str | None, typer.Option("--load", help="add: load at which it failed.")] = None,
    mode: Annotated[
        str | None, typer.Option("--mode", help="add: how it failed, such as button or interfacial.")
    ] = None,
    note: Annotated[str | None, typer.Option("--note", help="add: anything else.")] = None,
    svg: Annotated[Path | None, typer.Option("--svg", help="show: write the plot to this SVG file.")] = None,
    out: Annotated[
        Path | None, typer.Option("--out", help="plan: folder for the specimens, 1:1 as PDF and DXF (default: none).")
    ] = None,
    paper: Annotated[str | None, typer.Option("--paper", help="plan: paper of the specimens, a4 or letter.")] = None,
    json: Json = False,
    units: Annotated[
        str | None,
        typer.Option("--units", help="Units of the answer: metric or inch (default: metric, plan: the project's)."),
    ] = None,
) -> None:
    """Your own welds: a log of peeled, pulled and cut coupons, what strength they show, which ones to make."""
    from jointcalc.cli.common import given
    from jointcalc.errors import InputError, nearest

    if what not in WORDS:
        raise InputError(
            f"'{what}' is not understood{nearest(what, WORDS)} (accepted: {', '.join(WORDS)})", field="coupons"
        )
    options = given(
        date=date, machine=machine, setting=setting, stack=stack, test=test, button=button, load=load, mode=mode,
        note=note, svg=svg, out=out, paper=paper, units=units,
    )  # fmt: skip
    for name in options:
        if what not in BELONGS[name]:
            raise InputError(
                f"does not go with 'coupons {what}', but with {' and '.join(BELONGS[name])}", field=f"--{name}"
            )
    if what == "plan":
        raise typer.Exit(_plan(file, out, paper or "a4", units, json))
    raise typer.Exit(_add(file, options, json) if what == "add" else _show(file, svg, units or "metric", json))


def _show(file: Path, svg: Path | None, units: str, json: bool) -> int:
    from jointcalc.check.coupons import check_group
    from jointcalc.cli.common import svg_only, system, write
    from jointcalc.model.coupon_log import read_log

    shown = system(units)
    svg_only(svg, "--svg")
    log = read_log(file)
    results = [check_group(group) for group in log.groups]
    from jointcalc.show import coupons as view

    if svg is not None:
        view.write_svg(results, svg, shown)
    if json:
        from jointcalc.show.document import dumps

        write(dumps(view.document(results)))
    else:
        from jointcalc.show.terminal import console

        view.print_groups(results, console(), shown)
    return 0 if all(r.status == "ok" for r in results) else 1


def _plan(file: Path, out: Path | None, paper: str, units: str | None, json: bool) -> int:
    """What the project's seams and plugs ask for; with `out` the specimens drawn at full size."""
    from jointcalc.check.coupon_plan import plan
    from jointcalc.cli.common import system, write
    from jointcalc.errors import InputError, nearest
    from jointcalc.model.project import load_project
    from jointcalc.show.coupon_plan import plan_document, print_plan

    project = load_project(file)
    shown = system(units or project.about.units)
    planned = plan(project.items)
    files: dict[str, bytes | str] = {}
    if out is not None:
        from jointcalc.files import write_files
        from jointcalc.layout.dxf import dxf
        from jointcalc.layout.item_pages import item_pdf
        from jointcalc.layout.items import file_names
        from jointcalc.layout.paper import PAPERS, Sheet
        from jointcalc.layout.specimens import specimen

        if paper.lower() not in PAPERS:
            raise InputError(
                f"'{paper}' is not a paper{nearest(paper, PAPERS)} (accepted: a4, letter)", field="--paper"
            )
        sheet = Sheet(paper.lower(), shown, project.about.title)
        drawn = [made for one in planned for w in one.wanted if (made := specimen(one, w, shown)) is not None]
        for drawing, name in zip(drawn, file_names([d.id for d in drawn])):
            files |= {f"{name}.dxf": dxf(drawing), f"{name}.pdf": item_pdf(drawing, sheet)}
        try:
            out.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise InputError(f"cannot be made: {error.strerror}", field="--out", where=str(out)) from error
        write_files({out / name: content for name, content in files.items()})
    if json:
        from jointcalc.show.document import dumps

        write(dumps(plan_document(project.about.title, planned, list(files))))
    else:
        from jointcalc.show.terminal import console

        print_plan(planned, console(), shown, list(files), str(out))
    return 0


def _add(file: Path, options: dict[str, Any], json: bool) -> int:
    """Enter one coupon; what its group shows by now is told in a line."""
    import datetime

    from jointcalc.check.coupons import check_group
    from jointcalc.cli.common import write
    from jointcalc.errors import InputError, nearest
    from jointcalc.model.coupon_add import add
    from jointcalc.model.coupon_log import EXAMPLE, MOST_BUTTON, MOST_LOAD, TESTS, Coupon, read_date
    from jointcalc.quantity.letters import unseen
    from jointcalc.quantity.parse import parse
    from jointcalc.quantity.show import show_in

    for name in ("stack", "test"):
        if not options.get(name, "").strip():
            hint = f"such as '{EXAMPLE}'" if name == "stack" else ", ".join(TESTS)
            raise InputError(f"is missing; say which ({hint})", field=f"--{name}")
    test = options["test"].strip().lower()
    if test not in TESTS:
        raise InputError(f"'{test}' is no test{nearest(test, TESTS)} (accepted: {', '.join(TESTS)})", field="--test")
    for name in ("machine", "setting", "stack", "mode", "note"):
        bad = unseen(options.get(name, ""), name=True)
        if bad:
            raise InputError(
                f"holds a character that cannot be seen or a line end ({bad}); take it out", field=f"--{name}"
            )
    button = options.get("button")
    load = options.get("load")
    try:
        day = read_date(options["date"].strip()) if "date" in options else datetime.date.today()
    except InputError as error:
        raise error.at(field="--date") from error
    if test == "section" and load is not None:
        raise InputError("a section is cut and measured, it carries no load; leave it out", field="--load")
    if button is None and load is None and not options.get("mode", "").strip():
        raise InputError(
            "give a load, a button or how it failed ('--mode'); the line says nothing else", field="--load"
        )
    words = {n: " ".join(options.get(n, "").split()) for n in ("machine", "setting", "stack", "mode", "note")}
    coupon = Coupon(
        day, words["machine"], words["setting"], words["stack"], test,
        None if button is None else parse(button, "length", field="--button", high=MOST_BUTTON, example="5.6 mm"),
        None if load is None else parse(load, "force", field="--load", high=MOST_LOAD, example="8910 N"),
        words["mode"], words["note"],
    )  # fmt: skip
    log = add(file, coupon)
    group = next(g for g in log.groups if log.coupons[-1] in g.coupons)
    result = check_group(group)
    if json:
        from jointcalc.show.coupons import document
        from jointcalc.show.document import dumps

        write(dumps({**document([result]), "line": log.coupons[-1].line}))
        return 0
    write(f"line {log.coupons[-1].line} of {file}: {group.title}, {len(group.coupons)} of them by now")
    mean = result.values["mean"].value
    if mean is not None:
        limit = result.values["normal_90_95"]
        told = show_in(limit.value, "N", "metric") if limit.value is not None else f"none: {limit.note}"
        write(f"mean {show_in(mean, 'N', 'metric')}, limit 90/95 {told}")
    for why in result.unjudged:
        write(str(why))
    return 0
