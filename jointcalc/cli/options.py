"""Commands whose options are made from the fields of a model.

A field that says what it is (`Said`) has an option of that name with that help, the model's own default, and the place
in the order that `first` gives it; a field that `first` does not name comes behind those, before the options that every
command has.  So a new field is an option by the line that makes it a key of the project file.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable, Mapping, Sequence
from types import NoneType
from typing import TYPE_CHECKING, Annotated, Any, get_args, get_origin

import typer

from jointcalc.cli.common import Json, Steps, Units, as_options, conclude, given, sheets
from jointcalc.errors import InputError
from jointcalc.registry import KINDS, load

if TYPE_CHECKING:
    from pydantic.fields import FieldInfo

    from jointcalc.model.fields import Item, Said

GRADE = "Grade of all sheets, or one for each."
COATING = 'Zinc, such as "Z275" or "G90"; once, or per sheet.'


def command_of(name: str, doc: str, *, first: Sequence[str], find: str) -> Callable[..., None]:
    """The command of a kind with a stack of `sheets`, its options made from the fields of its model.

    `first` are field names in the order of the help page; `find` is the help of `--find`.
    """
    kind = KINDS[name]
    model: type[Item] = load(kind.model)
    parameters, fields = _parameters(model, first, find)
    spelt = {"sheets": "--sheet", **{field: option for field, option in fields.items() if option != _option(field)}}

    def command(**options: Any) -> None:
        data = given(**{f: tuple(v) if isinstance(v := options[f], list) else v for f in fields})
        try:
            data["sheets"] = sheets(options["sheet"] or [], options["grade"] or [], options["coating"])
        except InputError as error:
            raise as_options(error, spelt) from error
        conclude(
            data, name, find=options["find"], spelt=spelt,
            json=options["json"], units=options["units"], steps=options["steps"],
        )  # fmt: skip

    command.__doc__ = doc
    command.__signature__ = inspect.Signature(parameters)  # type: ignore[attr-defined]  # read by typer
    command.__annotations__ = {one.name: one.annotation for one in parameters}
    return command


def _option(field: str) -> str:
    return "--" + field.replace("_", "-")


def _parameters(
    model: type[Item], first: Sequence[str], find: str
) -> tuple[list[inspect.Parameter], Mapping[str, str]]:
    """The command's parameters in order, and the option of each field that has one."""
    from jointcalc.model.fields import Said

    said = {
        field: next((part for part in about.metadata if isinstance(part, Said)), None)
        for field, about in model.model_fields.items()
    }
    own = [field for field, words in said.items() if words is not None and field != "sheets"]
    last = ["purpose", "load_factor", "handbook_factor", "coupons", "id"]
    more = [f for f in ("coating", *own) if f not in first and f not in last]
    order = [*(() if "sheets" in first else ("sheets",)), *first, *more, "find", *last]
    made: list[inspect.Parameter] = []
    for field in order:
        words = said.get(field)
        if field == "sheets" and words is not None:
            must = model.model_fields["sheets"].is_required()
            taken, default = (list[str], inspect.Parameter.empty) if must else (list[str] | None, None)
            made.append(_parameter("sheet", taken, "--sheet", words.help, default))
            made.append(_parameter("grade", taken, "--grade", GRADE, default))
        elif field == "coating":
            made.append(_parameter("coating", list[str] | None, "--coating", COATING, None))
        elif field == "find":
            made.append(_parameter("find", str | None, "--find", find, None))
        elif words is not None:
            made.append(_of_field(model, field, model.model_fields[field], words))
        else:
            raise ValueError(f"{model.__name__}.{field} does not say what it is")
    ends = (("json", Json, False), ("units", Units, "metric"), ("steps", Steps, False))
    made += [inspect.Parameter(n, inspect.Parameter.KEYWORD_ONLY, annotation=a, default=d) for n, a, d in ends]
    return made, {field: said[field].option or _option(field) for field in own}  # type: ignore[union-attr]


def _of_field(model: type[Item], field: str, about: FieldInfo, words: Said) -> inspect.Parameter:
    help_ = words.help.replace("{weld}", model.one_weld).replace("{Weld}", model.one_weld.capitalize())
    help_ = help_.replace("{item}", model.word)
    required = about.is_required()
    several, written = _written(about.annotation, [*about.metadata])
    taken: Any = list[written] if several else written  # type: ignore[valid-type]
    default = inspect.Parameter.empty if required else None if several or about.default is None else about.default
    if default is None:
        taken = taken | None
    return _parameter(field, taken, words.option or _option(field), help_, default)


def _written(annotation: Any, metadata: list[Any]) -> tuple[bool, type]:
    """Whether a field takes several, and what a builder writes for it: a text unless it is a plain number or a flag."""
    from jointcalc.model.fields import Numbers, Quantity

    if any(isinstance(part, Quantity | Numbers) for part in metadata):
        return False, str
    if annotation in (bool, int, float):
        return False, annotation
    parts = [part for part in get_args(annotation) if part not in (NoneType, Ellipsis)]
    if get_origin(annotation) is tuple:
        return True, _written(parts[0], [])[1]
    if get_origin(annotation) is Annotated:
        return _written(parts[0], list(annotation.__metadata__))
    if len(parts) == 1 and NoneType in get_args(annotation):
        return _written(parts[0], [])
    return False, str


def _parameter(
    name: str, taken: Any, option: str, help_: str, default: Any = inspect.Parameter.empty
) -> inspect.Parameter:
    annotation = Annotated[taken, typer.Option(option, help=help_)]
    return inspect.Parameter(name, inspect.Parameter.KEYWORD_ONLY, annotation=annotation, default=default)
