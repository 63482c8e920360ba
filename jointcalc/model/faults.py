"""What pydantic finds wrong, told to a builder: no word of Python's types, the accepted form, in his units."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, get_args

from pydantic import BaseModel, ValidationError

from jointcalc.errors import InputError, InputErrors, nearest
from jointcalc.quantity.parse import worded
from jointcalc.quantity.sentence import printed
from jointcalc.quantity.show import System

OTHER_NAMES: Mapping[str, tuple[str, ...]] = {
    "f_y": ("yield_strength",), "fy": ("yield_strength",), "f_u": ("tensile_strength",), "fu": ("tensile_strength",),
    "rm": ("tensile_strength",), "re": ("yield_strength",), "t": ("thickness",), "gauge": ("thickness",),
    "gage": ("thickness",), "material": ("grade",), "steel": ("grade",), "spacing": ("pitch",), "name": ("id",),
    "electrode": ("filler",), "wire": ("filler",), "weight": ("mass",), "lift": ("uplift", "peel"),
}  # fmt: skip
"""What a key is called in books and shops -> the keys of a file that mean it (common practice, no source)."""


def faults(
    error: ValidationError, *, where: str = "", known: Mapping[str, Any] | None = None, system: System = "metric"
) -> InputErrors:
    """What pydantic found as errors that speak to a builder, one for each fault, in the units of `system`.

    `where` names the file and table; `known` are the accepted keys, to name the nearest one.
    """
    found = []
    for item in error.errors(include_url=False):
        place = [str(part) for part in item["loc"] if not str(part).startswith("function-")]
        name = ".".join(place)
        kind, given = item["type"], item.get("input")
        if kind == "extra_forbidden":
            keys = sorted(_within(known or {}, place[:-1]))
            meant = next((key for key in OTHER_NAMES.get(place[-1].lower(), ()) if key in keys), "")
            hint = f"; did you mean '{meant}'?" if meant else nearest(place[-1], keys)
            message = f"unknown key{hint}" + (f" (accepted: {', '.join(keys)})" if keys else "")
        elif kind == "missing":
            message = "is missing; it must be given"
        elif kind in ("quantity", "purpose", "factor", "described"):
            message = item.get("ctx", {}).get("marked", item["msg"])
        else:
            message = f"{_asked(kind, item)}; given was {worded(given)}"
        found.append(InputError(printed(message, system), field=name, where=where))
    return InputErrors(found)


def _within(known: Mapping[str, Any], place: Sequence[str]) -> Mapping[str, Any]:
    """The fields of the model that stands at that place, below the fields `known`; none where it cannot be told."""
    for name in place:
        if name.isdigit():
            continue
        left = [getattr(known.get(name), "annotation", None)]
        known = {}
        for part in left:  # it grows while it is walked
            if isinstance(part, type) and issubclass(part, BaseModel):
                known = part.model_fields
            left += get_args(part)
    return known


_ASKED = {
    "string": "a text in quotes is needed",
    "tuple": 'a list is needed, such as ["...", "..."]',
    "list": 'a list is needed, such as ["...", "..."]',
    "bool": "true or false is needed, without quotes",
    "float": "a number is needed, without quotes",
    "int": "a whole number is needed, without quotes",
    "finite": "a number is needed that is not infinite",
    "model": "a table of keys is needed",
    "dict": "a table of keys is needed",
}


def _asked(kind: str, item: Mapping[str, Any]) -> str:
    """What a field takes, where pydantic found that its value has another form."""
    told = _ASKED.get(kind.partition("_")[0])
    if told is None and kind == "literal_error":
        told = f"is not accepted; say {item.get('ctx', {}).get('expected', '')}"
    return told or str(item["msg"]).lower().replace("input should be", "must be")
