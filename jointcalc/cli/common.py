"""Options and endings shared by the commands that print results."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Annotated, Any, NoReturn

import typer

from jointcalc.errors import InputError, InputErrors
from jointcalc.files import to_stdout

if TYPE_CHECKING:
    from pathlib import Path

    from jointcalc.quantity.show import System
    from jointcalc.result import Result

Json = Annotated[bool, typer.Option("--json", help="Print one JSON document, in N, mm, MPa, and nothing else.")]
Units = Annotated[str, typer.Option("--units", help="Units of the printed answer: metric or inch.")]
Steps = Annotated[bool, typer.Option("--steps", help="Print the full working: every formula with its numbers.")]

Full = Annotated[bool, typer.Option("--full", help="Print every method, rule and value, and the cautions in full.")]
Cautions = Annotated[bool, typer.Option("--cautions", help="Print the cautions in full.")]


def system(units: str) -> System:
    """The display system of `--units`; InputError for any other word."""
    if units not in ("metric", "inch"):
        raise InputError(f"'{units}' is neither 'metric' nor 'inch'", field="--units")
    return units  # type: ignore[return-value]


def known_items(asked: Iterable[str], known: list[str]) -> None:
    """InputError when an id of `--item` is none of the file's."""
    from jointcalc.errors import nearest

    for name in asked:
        if name not in known:
            told = ", ".join(known[:20]) + (" ..." if len(known) > 20 else "")
            raise InputError(
                f"'{name}' is not an item of this file{nearest(name, known)} (items: {told})", field="--item"
            )


def of_id(things: Iterable[Any], one_id: str | None, table: str) -> list[Any]:
    """The things of one table of the file, or the one that `--id` names.  InputError when there is none of that id."""
    from jointcalc.errors import nearest

    things = list(things)
    known = [thing.id for thing in things]
    if one_id is not None and one_id not in known:
        listed = ", ".join(known) or "none is there"
        raise InputError(
            f"'{one_id}' is not the id of a [[{table}]]{nearest(one_id, known)} (they are: {listed})", field="--id"
        )
    return [thing for thing in things if one_id in (None, thing.id)]


def given(**options: Any) -> dict[str, Any]:
    """The options that were given, as raw data for a model."""
    return {name: value for name, value in options.items() if value is not None and value not in ([], ())}


_OF_A_SHEET = {
    "thickness": "--sheet", "grade": "--grade", "coating": "--coating",
    "yield_strength": "--yield-strength", "tensile_strength": "--tensile-strength",
}  # fmt: skip
"""Key of a sheet -> the option that tells it."""


def as_options(error: InputError, spelt: Mapping[str, str] | None = None) -> InputError:
    """A model's fault told in the words of the command line: `weld_diameter` -> `--weld-diameter`."""
    faults = error.faults if isinstance(error, InputErrors) else (error,)
    worded = []
    for fault in faults:
        head, _, _rest = fault.field.partition(".")
        name = (spelt or {}).get(head) or ("--" + head.replace("_", "-") if head else "")
        if head.startswith("--"):
            name = head
        message = fault.message.marked
        if head in ("sheets", "sheet"):
            name = _OF_A_SHEET.get(fault.field.rpartition(".")[2], name)
        if not name and ":" in message:
            word, _, tail = message.partition(": ")
            if word.isidentifier():
                name, message = (spelt or {}).get(word) or "--" + word.replace("_", "-"), tail
        elif head in ("sheets", "sheet") and ": " in message:
            word, _, tail = message.partition(": ")
            if word in _OF_A_SHEET:
                name, message = _OF_A_SHEET[word], tail
        for key in ("yield_strength", "tensile_strength"):
            message = message.replace(f"'{key}'", "--" + key.replace("_", "-"))
        worded.append(InputError(message, field=name, where=fault.where))
    unique = list({str(f): f for f in worded}.values())
    return unique[0] if len(unique) == 1 else InputErrors(unique)


def sheets(
    sheet: list[str],
    grade: list[str],
    least: int = 0,
    coating: list[str] | None = None,
    yield_strength: list[str] | None = None,
    tensile_strength: list[str] | None = None,
) -> list[dict[str, str]]:
    """Raw sheets from repeated options: one grade, coating or strength serves all, else one for each sheet.

    A strength `none` leaves that sheet what its grade says.  Where fewer than `least` are given, sheets without a
    thickness stand for the others.
    """
    stack = [*sheet, *[None] * (least - len(sheet))]
    if len(grade) not in (1, len(stack)):
        raise InputError(
            f"{len(grade)} grades for {len(stack)} sheets; give one, or one for each sheet", field="--grade"
        )
    grades = grade * len(stack) if len(grade) == 1 else grade
    made = [{**({"thickness": t} if t is not None else {}), "grade": g, "coating": ""} for t, g in zip(stack, grades)]
    said = {
        "coating": ("coatings", coating),
        "yield_strength": ("yield strengths", yield_strength),
        "tensile_strength": ("tensile strengths", tensile_strength),
    }
    for name, (words, given_) in said.items():
        if not given_:
            continue
        if len(given_) not in (1, len(stack)):
            raise InputError(
                f"{len(given_)} {words} for {len(stack)} sheets; give one, or one for each sheet",
                field="--" + name.replace("_", "-"),
            )
        for one, text in zip(made, given_ * len(stack) if len(given_) == 1 else given_):
            if name == "coating" or text.strip().lower() != "none":
                one[name] = text
    return made


def svg_only(path: Path | None, option: str) -> None:
    """Refuses a plot that is to be another sort of file.  Raises InputError."""
    if path is not None and path.suffix.lower() != ".svg":
        raise InputError(f"'{path.name}' does not end in .svg; the plot is an SVG file", field=option)


def write(text: str) -> None:
    """The one way anything reaches stdout."""
    to_stdout(text + "\n")


def answer(
    result: Result, *, json: bool, units: System, steps: bool, full: bool, cautions: bool, found: Iterable[str] = ()
) -> int:
    """Print one result and give the exit code: 0 holds, 1 over or outside."""
    if json:
        from jointcalc.show.document import dumps

        write(dumps(result.json()))
    else:
        from jointcalc.show.answer import print_result
        from jointcalc.show.terminal import console

        print_result(result, console(), system=units, steps=steps, full=full, cautions=cautions, found=found)
    return 0 if result.status == "ok" else 1


def conclude(
    data: dict[str, Any],
    kind: str,
    *,
    find: str | None,
    spelt: Mapping[str, str],
    json: bool,
    units: str,
    steps: bool,
    full: bool,
    cautions: bool,
) -> NoReturn:
    """Judge (or, with `find`, search) what the options describe, print it, and end with the exit code.

    What the kind's record names is imported only now; `spelt` tells a model's field in the words of the command line.
    """
    from jointcalc.explore.beside import with_asked
    from jointcalc.model.fields import build
    from jointcalc.registry import KINDS, load

    record = KINDS[kind]
    shown = system(units)
    found: list[str] = []
    try:
        if find is not None:
            answered = load(record.search)(data, find, shown)
            result, found = answered.result, [answered.text]
        else:
            from jointcalc.check import check

            result = check(build(load(record.model), data))
        result = with_asked(result)
    except InputError as error:
        raise as_options(error, spelt) from error
    raise typer.Exit(answer(result, json=json, units=shown, steps=steps, full=full, cautions=cautions, found=found))
