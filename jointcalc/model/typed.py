"""What a builder typed, as text, field by field: for a later revision to compare, and for the dossier to print.

It stands beside the models, so that `check --json` tells it without the dossier.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any

from jointcalc.model.fields import Described, Item
from jointcalc.model.project import Project
from jointcalc.model.sheet import Sheet

TOLD_ELSEWHERE = ("id", "title", "reason", "photo", "alternatives", "case", "place", "purpose")
"""Fields that say nothing of what is judged, or are told beside the item."""


def typed_in(project: Project, items: Iterable[Item]) -> dict[str, dict[str, str]]:
    """What was typed for items of a project: id -> field -> text."""
    return {item.id: typed_of(item, project.written.get(item.id)) for item in items}


def typed_of(item: Item, written: Mapping[str, Any] | None = None) -> dict[str, str]:
    """What was typed for an item: field -> text, as it was written."""
    return {name.replace("_", " "): text_of(typed) for name, typed in entries_of(item, written) if typed is not None}


def entries_of(item: Item, written: Mapping[str, Any] | None = None) -> Iterator[tuple[str, Any]]:
    """(field, what was typed) of each field that holds something; None where it stands at its default or was filled in.

    `written` is what stands in the file for the item; without it, all that it was made from.
    """
    given = item._typed if written is None else written
    for name in type(item).model_fields:
        if name in TOLD_ELSEWHERE:
            continue
        typed = given.get(name)
        if typed is None and name == "sheets":
            typed = given.get("sheet")
        if typed not in (None, "") or getattr(item, name) not in (None, "", (), False):
            yield name, typed


def text_of(value: Any, word: Callable[[object], str] = str, most: int | None = None) -> str:
    """A value as it was typed; each word of it by `word`, of a list no more than `most` entries."""
    if isinstance(value, Mapping):
        return "; ".join(f"{word(key)} {text_of(one, word, most)}" for key, one in value.items())
    if isinstance(value, Sheet | Described):
        return "(as an object)"
    if isinstance(value, list | tuple):
        return " | ".join(text_of(one, word, most) for one in value[:most]) + rest_of(len(value), most)
    if isinstance(value, bool):
        return "yes" if value else "no"
    return word(value)


def rest_of(count: int, most: int | None) -> str:
    """What is said of the entries of a list that are left out."""
    return "" if most is None or count <= most else f" … and {count - most} more (see the drawing)"
