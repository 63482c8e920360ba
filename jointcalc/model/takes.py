"""What a field takes: its kind of quantity, a number, a truth value; and how that is told where something else came."""

from __future__ import annotations

from types import NoneType
from typing import TYPE_CHECKING, Any, get_args

from jointcalc.model.said import Typed
from jointcalc.quantity.units import KINDS

if TYPE_CHECKING:
    from pydantic.fields import FieldInfo


def takes(hint: Any, kind: type) -> bool:
    """Whether a field of that annotation takes values of that type."""
    return hint is kind or any(takes(part, kind) for part in get_args(hint))


def truths(value: Any) -> bool:
    """Whether a value is a truth value, or a list that holds one."""
    return isinstance(value, bool) or (isinstance(value, list | tuple) and any(truths(part) for part in value))


def untrue(field: FieldInfo | None, value: Any) -> bool:
    """Whether a field that takes a truth value and nothing else is given something else."""
    if field is None or not takes(field.annotation, bool) or {*get_args(field.annotation)} - {bool, NoneType}:
        return False
    return not (isinstance(value, bool) or (value is None and takes(field.annotation, NoneType)))


def _measure(field: FieldInfo) -> Typed | None:
    """What a field says of its kind of quantity; None where it takes none."""
    found: list[Any] = [*field.metadata, field.annotation]
    for part in found:  # it grows while it is walked
        if isinstance(part, Typed):
            return part
        found += [*getattr(part, "__metadata__", ()), *get_args(part)]
    return None


def base_unit(field: FieldInfo) -> str:
    """The unit of a field's value inside: `mm`, `N`; `1` where it takes no quantity."""
    measure = _measure(field)
    return "1" if measure is None else KINDS[measure.kind].base


def accepted(field: FieldInfo) -> str:
    """What a field takes, in a few words."""
    measure = _measure(field)
    if measure is not None:
        return f"a text with a unit, such as '{getattr(measure, 'example', '') or KINDS[measure.kind].example}'"
    return "a number" if any(takes(field.annotation, kind) for kind in (float, int)) else "a text or a table"
