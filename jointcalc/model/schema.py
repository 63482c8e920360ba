"""The JSON Schema of a project file, so that editors complete and validate it."""

from __future__ import annotations

from typing import Any

from jointcalc.model.project import SHEET_FIELDS, About, LoadCase
from jointcalc.model.sheet import Sheet
from jointcalc.registry import BY_MODEL, SOURCES, load

ONE_OR_MORE = ("purpose", "point", "spread", "moment", "mass", "load", "rings", "bending", "tubes")
"""Keys that take one text or a list of them."""


def project_schema() -> dict[str, Any]:
    """The schema (JSON Schema 2020-12) of the whole file, made from the models."""
    definitions: dict[str, Any] = {}

    def of(kind: type[Any]) -> dict[str, Any]:
        made: dict[str, Any] = kind.model_json_schema(ref_template="#/$defs/{model}")
        definitions.update(made.pop("$defs", {}))
        definitions[kind.__name__] = made
        return {"$ref": f"#/$defs/{kind.__name__}"}

    sheet = of(Sheet)
    properties: dict[str, Any] = {
        "project": of(About),
        "case": {"type": "array", "items": of(LoadCase)},
        "sheet": {"type": "object", "additionalProperties": sheet},
    }
    records = {**BY_MODEL, **{one.model.partition(":")[2]: one for one in SOURCES.values()}}
    for model, record in records.items():
        kind: type[Any] = load(record.model)
        properties[record.name] = {"type": "array", "items": of(kind)}
        own = definitions[model]["properties"]
        if "sheets" in own:
            own["sheets"] = {"type": "array", "items": {"anyOf": [{"type": "string"}, sheet]}}
        for field in ONE_OR_MORE:
            if own.get(field, {}).get("type") == "array":
                own[field] = {"anyOf": [{"type": "string"}, own[field]]}
        for field in SHEET_FIELDS:
            if field in own:
                own[field] = {"anyOf": [{"type": "string"}, sheet]}
    # a thickness is typed as a text; the model keeps millimetres. Last, because every kind brings its own copy
    definitions["Sheet"]["properties"]["thickness"] = {
        "type": "string", "description": "a thickness with its unit, or a gauge", "examples": ["1.2 mm", "18 ga"],
    }  # fmt: skip
    weld = definitions["FilletGroup"]
    weld["properties"]["sheet"] = {"anyOf": [{"type": "string"}, sheet]}  # one sheet for both parts
    weld["required"].remove("sheets")
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "jointcalc project",
        "type": "object",
        "required": ["project"],
        "additionalProperties": False,
        "properties": properties,
        "$defs": dict(sorted(definitions.items())),
    }
