"""`jointcalc panel`."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn

import typer

from jointcalc.cli.options import command_of, own

if TYPE_CHECKING:
    from jointcalc.quantity.show import System
    from jointcalc.result import Result

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

    from jointcalc.statics.balance import watchers

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


FIRST = ["size", "sheet"]
"""Fields of the model at the top of the help page; the others come behind them in the order of the model."""


def _compare(data: dict[str, Any], options: Mapping[str, Any], spelt: Mapping[str, str]) -> NoReturn:
    """Judge, or search, every sheet with every bead and print them side by side."""
    from jointcalc.cli.common import as_options, svg_only, system, write
    from jointcalc.errors import InputError
    from jointcalc.model.panel import Panel

    shown, find = system(options["units"]), options["find"]
    svg_only(options["plot"], "--plot")
    stack, beads = data.pop("sheet"), data.pop("bead", ("none",))
    # every sheet with every bead, the beads of the first sheet first; a flat sheet has no direction
    both = data["along"].strip().lower() == "both"
    candidates = [
        {**data, "sheet": one, "bead": text, **({"along": way} if both else {})}
        for one in stack
        for text in beads
        for way in (("long", "short") if both and _either_way(text) else ("long",))
    ]
    try:
        results, texts = _judged(candidates) if find is None else _found(candidates, find, shown, both=both)
    except InputError as error:
        raise as_options(error, spelt) from error
    if both:
        from jointcalc.explore.panel import which_way

        beaded = [r for r in results if isinstance(r.model, Panel) and _either_way(r.model.bead)]
        texts += [way for pair in zip(beaded[::2], beaded[1::2]) if (way := which_way(pair, find, shown))]
    if options["plot"] is not None:
        from jointcalc.show.panel_plot import plot as draw

        draw(results, options["plot"], shown)
    if options["json"]:
        from jointcalc.show.document import comparison_document, dumps

        write(dumps(comparison_document(results)))
    else:
        from jointcalc.show.panel import print_comparison
        from jointcalc.show.terminal import console

        print_comparison(
            results, console(), system=shown, steps=options["steps"], full=options["full"],
            cautions=options["cautions"], found=texts,
        )  # fmt: skip
    raise typer.Exit(0 if all(r.status == "ok" for r in results) else 1)


def _judged(candidates: Sequence[dict[str, Any]]) -> tuple[list[Result], list[str]]:
    """Every candidate judged; no search has anything to say."""
    from jointcalc.check.panel import check_panel
    from jointcalc.model.fields import build
    from jointcalc.model.panel import Panel

    panels = [build(Panel, one) for one in candidates]
    results = []
    with _bar(len(panels)) as ended:
        for panel in panels:
            results.append(check_panel(panel))
            ended()
    return results, []


def _found(
    candidates: Sequence[dict[str, Any]], find: str, shown: System, *, both: bool
) -> tuple[list[Result], list[str]]:
    """Every candidate searched, and what each search says.

    Of the two ways of a bead (`both`) one may find nothing: its best try then stands beside the other way.
    """
    from jointcalc.explore.panel import NothingHolds, find_panel

    results: list[Result] = []
    texts: list[str] = []
    missed = 0
    for one in candidates:
        try:
            answer = find_panel(one, find, shown, _tell)
            _clear()
        except NothingHolds as error:
            _clear()
            missed += 1
            if not both or error.best is None or missed == len(candidates):
                raise
            results.append(error.best)
            texts.append(error.message)
            continue
        results.append(answer.result)
        texts.append(answer.text)
    return results, texts


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


command = command_of(
    "panel",
    "Compare flat and beaded panels: stiffness, deflection, frequency, stress, and whether the bead can be made.",
    first=FIRST,
    find="Find what holds: depth, pitch, stop or runout of the bead, thickness, or the lightest or shallowest bead at "
    "any pitch.",
    several=("bead",),
    added={"sheet": "Repeat to compare.", "bead": "Repeat to compare.", "along": "Or both, to compare."},
    more=(own("plot", Path | None, "Draw deflection contours and beads into an SVG file.", None),),
    sought={"thickness": ("sheet",), "lightest": ("sheet",)},
    run=_compare,
)
