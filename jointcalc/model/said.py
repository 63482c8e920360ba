"""What a field says of itself, in one line, and where its words are printed."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import cache
from types import NoneType
from typing import TYPE_CHECKING, Annotated, Any, get_args, get_origin

from pydantic import BaseModel, WithJsonSchema

if TYPE_CHECKING:
    from jointcalc.model.fields import Described


class Typed:
    """Base of annotations of a number that a builder types as a text, with its unit."""

    kind: str
    """Its kind of quantity."""


@dataclass(frozen=True)
class Said:
    """What a field is, in one sentence: help of its option, row of `docs/8-project-file.md`, description in the schema.

    What is typed stands in backticks, which a help page leaves out.  `{weld}`, `{Weld}` and `{item}` stand for one weld
    of the model and for what it is as a whole, the name of another field in braces for how that is written: `--pitch`
    on a help page, `pitch` in a file.  `absent` says what is taken where the field is left out and its default does not
    say it by itself.  `option` is the option's name where it is not the field's, None where only a file says it.
    """

    help: str
    option: str | None = ""
    absent: str = ""


def said(model: type[BaseModel]) -> dict[str, Said]:
    """Field -> what it says of itself, of those that do, in the order of the model."""
    found = ((field, part) for field, about in model.model_fields.items() for part in about.metadata)
    return {field: part for field, part in found if isinstance(part, Said)}


_NAMED = re.compile(r"\{(\w+)\}")


def with_words(model: type[Described], text: str, spelt: Callable[[str], str]) -> str:
    """What a field says, with the words of its model put in for those in braces; `spelt` writes another field's name.

    Raises ValueError where a name in braces is no field of the model.
    """

    def put(match: re.Match[str]) -> str:
        words = {"weld": model.one_weld, "Weld": model.one_weld.capitalize(), "item": model.word}
        if match[1] not in (*words, *model.model_fields, *model.instead):
            raise ValueError(f"{model.__name__}: '{text}' names {match[0]}, which is no field of it")
        return words.get(match[1]) or spelt(match[1])

    return _NAMED.sub(put, text)


def _text_in_a_file(part: Any) -> bool:
    return isinstance(part, WithJsonSchema) and (part.json_schema or {}).get("type") == "string"


def written_as(annotation: Any, metadata: Iterable[Any] = ()) -> tuple[bool, type]:
    """Whether a field takes several, and what a builder writes for one: a text, a number, a flag, a table."""
    if any(isinstance(part, Typed) or _text_in_a_file(part) for part in metadata):
        return False, str
    if annotation in (bool, int, float) or (isinstance(annotation, type) and issubclass(annotation, BaseModel)):
        return False, annotation
    parts = [part for part in get_args(annotation) if part not in (NoneType, Ellipsis)]
    if get_origin(annotation) is tuple:
        return True, written_as(parts[0])[1]
    if get_origin(annotation) is Annotated:
        return written_as(parts[0], annotation.__metadata__)
    if len(parts) == 1 and NoneType in get_args(annotation):
        return written_as(parts[0])
    return False, str


def described(model: type[Described], words: Said) -> str:
    """What a field says to a reader of a file, in plain text."""
    absent = f" Left out: {words.absent}." if words.absent else ""
    return with_words(model, words.help + absent, str).replace("`", "")


@cache
def lists_of_texts(model: type[BaseModel]) -> frozenset[str]:
    """The fields that take several texts, and one text as a list of one."""
    fields = model.model_fields.items()
    return frozenset(f for f, about in fields if written_as(about.annotation, about.metadata) == (True, str))
