"""Commands whose options are made from the fields of a model.

A field that says what it is (`Said`) has an option of that name with that help, the model's own default, and the place
in the order that `first` gives it; a field that `first` does not name comes behind those, before the options that every
command has.  So a new field is an option by the line that makes it a key of the project file.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable, Collection, Mapping, Sequence
from typing import TYPE_CHECKING, Annotated, Any

import typer

from jointcalc.cli.common import Cautions, Full, Json, Steps, Units, as_options, conclude, given, sheets
from jointcalc.errors import InputError
from jointcalc.registry import KINDS, load

if TYPE_CHECKING:
    from jointcalc.model.fields import Item, Said

GRADE = "Grade of all sheets, or one for each."
OF_SHEETS = {
    "coating": 'Zinc, such as "Z275" or "G90"; once, or per sheet.',
    "yield_strength": "Yield strength from a mill certificate or coupon; once, or per sheet ('none': the grade's).",
    "tensile_strength": "Tensile strength from the same, which some grades leave open; once, or per sheet.",
}
"""Keys of a sheet that are options beside --sheet and --grade, with their help."""
LAST = ("purpose", "load_factor", "handbook_factor", "coupons", "id")
"""Fields of every item, behind those of the kind."""

JOINT, LOAD, JUDGED, ANSWER = "What it is", "The load", "How it is judged", "The answer"
GROUPS = (JOINT, LOAD, JUDGED, ANSWER)
"""The groups of a help page, in their order."""
LOADING = frozenset({"load_factor", "cycles"})
JUDGING = frozenset({"purpose", "handbook_factor", "coupons"})
"""Fields of every item that tell the load, and how it is judged."""

Run = Callable[[dict[str, Any], Mapping[str, Any], Mapping[str, str]], None]
"""What a command does: (raw data of the model, all options by name, field -> option where it has another name)."""


def command_of(
    name: str,
    doc: str,
    *,
    first: Sequence[str],
    find: str,
    several: Sequence[str] = (),
    added: Mapping[str, str] | None = None,
    more: Sequence[inspect.Parameter] = (),
    sought: Mapping[str, Sequence[str]] | None = None,
    least: int = 1,
    run: Run | None = None,
) -> Callable[..., None]:
    """The command of a kind, its options made from the fields of its model.

    `first` are field names in the order of the help page; `find` is the help of `--find`.  A model with `sheets` or a
    `sheet` has --sheet, --grade and --coating for them.  A command that compares says in `several` which fields it
    takes more than once; `added` are words for the help page alone, behind the field's own; `more` are options that are
    no field (`own`); `sought` says for a word of --find which required fields may then be left out, where `least`
    sheets stand for what is not given; `run` does the work instead of judging one item.
    """
    kind = KINDS[name]
    model: type[Item] = load(kind.model)
    open_to = sought or {}
    left_out = frozenset(field for fields in open_to.values() for field in fields)
    parameters, spelt = _parameters(model, first, find, several, added or {}, more, left_out)
    fields = [one.name for one in parameters if one.name in model.model_fields]
    stack = next((field for field in ("sheets", "sheet") if field in model.model_fields), "")

    def judge(data: dict[str, Any], options: Mapping[str, Any], spelt: Mapping[str, str]) -> None:
        conclude(
            data, name, find=options["find"], spelt=spelt,
            json=options["json"], units=options["units"], steps=options["steps"],
            full=options["full"], cautions=options["cautions"],
        )  # fmt: skip

    def command(**options: Any) -> None:
        free = open_to.get(options["find"], ())
        for field in left_out:
            must = model.model_fields[field].is_required() and field not in free
            if must and not options["sheet" if field == stack else field]:
                raise _missing(name, field, spelt, open_to)
        data = given(**{f: tuple(v) if isinstance(v := options[f], list) else v for f in fields if f != stack})
        if stack:
            try:
                said = {name: options[name] for name in OF_SHEETS}
                wanted = least if stack in free and options["grade"] else 0
                data[stack] = sheets(options["sheet"] or [], options["grade"] or [], wanted, **said)
                if stack == "sheet" and run is None:  # a command that compares takes several
                    if len(data[stack]) > 1:
                        raise InputError(f"{len(data[stack])} sheets are given; it takes one", field="--sheet")
                    data[stack] = next(iter(data[stack]), None)
            except InputError as error:
                raise as_options(error, spelt) from error
        (run or judge)(data, options, spelt)

    command.__doc__ = doc
    command.__signature__ = inspect.Signature(parameters)  # type: ignore[attr-defined]  # read by typer
    command.__annotations__ = {one.name: one.annotation for one in parameters}
    return command


def own(name: str, taken: Any, help_: str, default: Any) -> inspect.Parameter:
    """An option of a command that is no field of its model."""
    return _parameter(name, taken, _option(name), help_, default, ANSWER)


def _missing(name: str, field: str, spelt: Mapping[str, str], sought: Mapping[str, Sequence[str]]) -> InputError:
    """The refusal of a command without an option that only a search for it may leave out."""
    option = spelt.get(field) or _option(field)
    finds = " or ".join(f"`--find {word}`" for word, fields in sought.items() if field in fields)
    return InputError(
        f"Missing option '{option}', which only {finds} leaves out (`jointcalc {name} --help` shows what is accepted)"
    )


def _group(model: type[Item], field: str) -> str:
    """The group of the help page in which a field's option stands."""
    if field in model.loading | LOADING:
        return LOAD
    return JUDGED if field in model.judging | JUDGING else JOINT


def _option(field: str) -> str:
    return "--" + field.replace("_", "-")


def _spelt(model: type[Item], words: Mapping[str, Said]) -> dict[str, str]:
    """Field -> its option, of those that have one; of two that turn a flag on and off the first."""
    offered = {field: said.option or _option(field) for field, said in words.items() if said.option is not None}
    made = {field: option.partition("/")[0] for field, option in offered.items()}
    return {**made, "sheets": "--sheet"} if "sheets" in model.model_fields else made


def _parameters(
    model: type[Item],
    first: Sequence[str],
    find: str,
    several: Sequence[str],
    added: Mapping[str, str],
    more: Sequence[inspect.Parameter],
    left_out: Collection[str],
) -> tuple[list[inspect.Parameter], Mapping[str, str]]:
    """The command's parameters in order, and the option of each field that has one."""
    from jointcalc.model.said import said

    words = said(model)
    spelt = _spelt(model, words)
    stack = next((field for field in ("sheets", "sheet") if field in words), "")
    unknown = [
        field for field in (*first, *several, *added) if field not in spelt and not (stack and field in OF_SHEETS)
    ]
    if unknown:
        raise ValueError(f"{model.__name__}.{unknown[0]} does not say what it is")
    rest = [*(OF_SHEETS if stack else ()), *spelt]
    order = dict.fromkeys((*((stack,) if stack and stack not in first else ()), *first, *rest))
    helps = {field: _help(model, field, spelt, added) for field in spelt}
    made: list[inspect.Parameter] = []
    for field in order:
        if field in LAST:
            continue
        if field == stack:
            must = model.model_fields[field].is_required()
            one, no = (list[str], inspect.Parameter.empty) if must else (list[str] | None, None)
            of_sheet = (list[str] | None, None) if field in left_out else (one, no)
            made.append(_parameter("sheet", of_sheet[0], "--sheet", helps[field], of_sheet[1], JOINT))
            made.append(_parameter("grade", one, "--grade", GRADE, no, JOINT))
        elif stack and field in OF_SHEETS:
            made.append(_parameter(field, list[str] | None, _option(field), OF_SHEETS[field], None, JOINT))
        else:
            many, open_ = field in several, field in left_out
            made.append(_of_field(model, field, words[field], helps[field], many=many, left_out=open_))
    made.append(own("find", str | None, find, None))
    made += [*more, *(_of_field(model, field, words[field], helps[field], many=field in several) for field in LAST)]
    ends = (
        ("json", Json, False), ("units", Units, "metric"), ("steps", Steps, False), ("full", Full, False),
        ("cautions", Cautions, False),
    )  # fmt: skip
    made += [inspect.Parameter(n, inspect.Parameter.KEYWORD_ONLY, annotation=a, default=d) for n, a, d in ends]
    return made, spelt


def _help(model: type[Item], field: str, spelt: Mapping[str, str], added: Mapping[str, str]) -> str:
    from jointcalc.model.said import said, with_words

    words = said(model)[field]

    def put(text: str) -> str:
        return with_words(model, text, lambda name: spelt.get(name) or _option(name)).replace("`", "")

    text = put(words.help)
    if words.absent and model.model_fields[field].default in (None, "", ()):
        text = f"{text.rstrip('.')} (default: {put(words.absent)})."
    return " ".join(filter(None, (text, added.get(field))))


def _of_field(
    model: type[Item], field: str, words: Said, help_: str, *, many: bool, left_out: bool = False
) -> inspect.Parameter:
    from jointcalc.model.said import written_as

    about = model.model_fields[field]
    listed, written = written_as(about.annotation, about.metadata)
    many = many or listed
    taken: Any = list[written] if many else written  # type: ignore[valid-type]
    default = None if many or about.default is None else about.default
    if about.is_required():
        default = None if left_out else inspect.Parameter.empty
    if default is None:
        taken = taken | None
    return _parameter(field, taken, words.option or _option(field), help_, default, _group(model, field))


def _parameter(name: str, taken: Any, option: str, help_: str, default: Any, group: str) -> inspect.Parameter:
    annotation = Annotated[taken, typer.Option(option, help=help_, rich_help_panel=group)]
    return inspect.Parameter(name, inspect.Parameter.KEYWORD_ONLY, annotation=annotation, default=default)
