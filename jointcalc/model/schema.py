"""The JSON Schema of a project file, so that editors complete and validate it."""

from __future__ import annotations

from typing import Any

from jointcalc.model.coupon_source import CouponSource
from jointcalc.model.evidence import Evidence
from jointcalc.model.fields import Described
from jointcalc.model.project import About, LoadCase
from jointcalc.model.said import described, lists_of_texts, said
from jointcalc.model.sheet import Sheet, sheet_keys
from jointcalc.registry import BY_MODEL, SOURCES, load


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
    properties["coupons"] = of(CouponSource)
    properties["evidence"] = {"type": "array", "items": of(Evidence)}
    records = {**BY_MODEL, **{one.model.partition(":")[2]: one for one in SOURCES.values()}}
    for model, record in records.items():
        kind: type[Described] = load(record.model)
        properties[record.name] = {"type": "array", "items": of(kind)}
        own = definitions[model]["properties"]
        # as a file has it, where the model keeps something else
        by_name = {"anyOf": [{"type": "string"}, sheet]}
        shapes: dict[str, Any] = {f: {"anyOf": [{"type": "string"}, own[f]]} for f in lists_of_texts(kind)}
        shapes |= dict.fromkeys(sheet_keys(kind), by_name)
        shapes |= {"sheets": {"type": "array", "items": by_name}} if "sheets" in own else {}
        words = {**said(kind), **kind.instead}
        own |= {field: {**shape, "description": described(kind, words[field])} for field, shape in shapes.items()}
    # tables within tables: one text stands for a list of one there too
    for name, made in definitions.items():
        for field, shape in made.get("properties", {}).items() if name not in records else ():
            if shape.get("type") == "array" and shape.get("items") == {"type": "string"}:
                made["properties"][field] = {"anyOf": [{"type": "string"}, shape]}
    # a thickness is typed as a text; the model keeps millimetres. Last, because every kind brings its own copy
    thickness = definitions["Sheet"]["properties"]["thickness"]
    definitions["Sheet"]["properties"]["thickness"] = {
        "type": "string", "description": thickness["description"], "examples": ["1.2 mm", "18 ga"],
    }  # fmt: skip
    definitions["FilletGroup"]["required"].remove("sheets")  # 'sheet' stands for it
    definitions["LoadCase"]["required"].remove("title")  # a case by name brings it
    definitions["LoadCase"]["anyOf"] = [{"required": ["title"]}, {"required": ["use"]}]
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "jointcalc project",
        "type": "object",
        "required": ["project"],
        "additionalProperties": False,
        "properties": properties,
        "$defs": dict(sorted(definitions.items())),
    }
