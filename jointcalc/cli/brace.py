"""`jointcalc brace`."""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple, NoReturn

import typer

from jointcalc.cli.options import command_of, own

if TYPE_CHECKING:
    from jointcalc.explore.brace import Choice
    from jointcalc.quantity.show import System
    from jointcalc.result import Result

EXAMPLES = """Examples:

  jointcalc brace --profile "hat:top=40mm,depth=30mm,flange=20mm,t=1.2mm,r=2mm" --profile "channel:web=50mm,flange=25mm,t=1.5mm,r=2mm" --grade S355MC --span "1000 mm" --point "750 N @ 500 mm" --spread "1 N/mm" --lies crown-up --over webs --held both --limit-deflection "L/160"

  jointcalc brace --profile "hat:top=30mm..60mm,depth=20mm..50mm,flange=20mm,t=0.8mm..2mm,r=2mm" --grade S355MC --span "1000 mm" --point "750 N @ 500 mm" --over webs --limit-deflection "3 mm" --find lightest
"""  # noqa: E501 - command lines to copy

FINDS = ("lightest", "pitch")
LONG = 20_000
"""Candidates from which on a progress bar is worth its line."""


FIRST = ["profile", "grade", "span"]
"""Fields of the model at the top of the help page; the others come behind them in the order of the model."""


def _compare(data: dict[str, Any], options: Mapping[str, Any], spelt: Mapping[str, str]) -> NoReturn:
    """Judge, or search, every profile and print them side by side."""
    from jointcalc.cli.common import as_options, svg_only, system, write
    from jointcalc.errors import InputError

    shown = system(options["units"])
    svg_only(options["plot"], "--plot")
    try:
        found = _searched(data, options["find"], shown)
    except InputError as error:
        raise as_options(error, spelt) from error
    if options["plot"] is not None:
        from jointcalc.show.brace import plot as draw

        draw(found.results, options["plot"], shown, options["buckling"])
    if options["json"]:
        from jointcalc.show.document import dumps

        write(dumps(_document(found)))
    else:
        from jointcalc.show.brace import print_comparison
        from jointcalc.show.terminal import console

        print_comparison(
            found.results, console(), system=shown, steps=options["steps"], full=options["full"],
            cautions=options["cautions"], found=found.text, pareto=found.pareto,
        )  # fmt: skip
        if options["buckling"]:
            from jointcalc.explore.curves import curves
            from jointcalc.show.curves import print_curves

            for result in found.results:
                print_curves(curves(result), console(), shown)
    raise typer.Exit(0 if all(r.status == "ok" for r in found.results) else 1)


class _Found(NamedTuple):
    """Candidates as judged, what a search says of them, and the lightest ones of each stiffness."""

    results: list[Result]
    text: str = ""
    pareto: tuple[Choice, ...] = ()


def _searched(data: dict[str, Any], find: str | None, shown: System) -> _Found:
    """Every profile judged, or searched.  Raises InputError in the words of the model."""
    from jointcalc.errors import InputError, nearest
    from jointcalc.explore.brace import find_lightest, judge, pitch_found, with_pitch_found
    from jointcalc.model.brace import Brace
    from jointcalc.model.fields import build

    if find is not None and find not in FINDS:
        raise InputError(
            f"'{find}' cannot be searched{nearest(find, FINDS)} (accepted: {', '.join(FINDS)})", field="--find"
        )
    profile, grade = data.pop("profile"), data.pop("grade")
    if len(grade) not in (1, len(profile)):
        raise InputError(
            f"{len(grade)} grades for {len(profile)} profiles; give one, or one for each profile", field="--grade"
        )
    grades = grade * len(profile) if len(grade) == 1 else grade
    if find == "lightest":
        if len(set(grades)) > 1:
            raise InputError("a search for the lightest takes one grade", field="--grade")
        bar = _bar()
        try:
            answer = find_lightest({**data, "grade": grades[0]}, list(profile), shown, bar)
        finally:
            bar(0, 0)
        return _Found([answer.result], answer.text, answer.pareto)
    each = [{**data, "profile": text, "grade": one} for text, one in zip(profile, grades)]
    if find == "pitch":
        results = [with_pitch_found(one, shown) for one in each]
        return _Found(results, pitch_found(results, shown))
    return _Found([judge(build(Brace, one), shown) for one in each])


def _document(found: _Found) -> dict[str, Any]:
    from jointcalc.show.document import comparison_document

    document = comparison_document(found.results)
    if found.pareto:
        document["pareto"] = [
            {
                "profile": one.profile,
                "mass_per_metre": {"value": one.mass_per_metre, "unit": "kg/m"},
                "deflection": {"value": one.deflection, "unit": "mm"},
            }
            for one in found.pareto
        ]
    return document


def _bar() -> Callable[[int, int], None]:
    """Says how far a long search is, on stderr, when somebody is watching; (0, 0) clears the line."""
    shown = False

    def tell(done: int, total: int) -> None:
        nonlocal shown
        if not sys.stderr.isatty() or (total < LONG and not shown):
            return
        if total == 0:
            sys.stderr.write("\r\x1b[K")
        else:
            shown = True
            part = done / total
            sys.stderr.write(f"\rsearching [{'#' * int(30 * part):30}] {part:4.0%} of {total}")
        sys.stderr.flush()

    return tell


command = command_of(
    "brace",
    "Compare braces: stiffness, strength by every method that applies, frequency, blank; find the lightest.",
    first=FIRST,
    find='Find the "lightest" of ranges ("depth=20mm..50mm"), or the "pitch".',
    several=("profile", "grade"),
    added={"profile": "Repeat to compare.", "grade": "Once for all profiles, or one for each."},
    more=(
        own("plot", Path | None, "Draw deflection lines and sections into an SVG file.", None),
        own("buckling", bool, "Draw how the section buckles: signature curve, loads with their names.", False),
    ),
    run=_compare,
)
