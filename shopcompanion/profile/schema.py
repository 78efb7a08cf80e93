"""The JSON Schema of a profile, for editors that complete and check as one types; made from the model's fields."""

from typing import Any

from .fields import MOST_ROWS, TableRows, declared
from .records import FORMAT, ROWS, TABLES

DRAFT = "https://json-schema.org/draft/2020-12/schema"


def schema() -> dict[str, Any]:
    """A JSON Schema, draft 2020-12, of what `read` reads without a fault, as far as a schema can say it."""
    properties: dict[str, Any] = {"format": {"title": "Format of the file", "const": FORMAT}}
    properties |= {key: _record(of) for key, of in TABLES.items()}
    properties |= {key: {"type": "array", "maxItems": MOST_ROWS, "items": _record(of)} for key, of in ROWS.items()}
    return {
        "$schema": DRAFT,
        "title": "A boat for the shop companion",
        "type": "object",
        "properties": properties,
        "required": ["format", "boat"],
        "additionalProperties": False,
    }


def _record(of: type) -> dict[str, Any]:
    properties: dict[str, Any] = {}
    for field in declared(of):
        if isinstance(field.kind, TableRows):
            properties[field.name] = {"title": field.kind.label, "type": "array", "maxItems": MOST_ROWS}
            properties[field.name]["items"] = _record(field.kind.of)
        else:
            properties[field.name] = field.kind.schema()
    return {
        "title": (of.__doc__ or "").split("\n")[0],
        "type": "object",
        "properties": properties,
        "required": [field.name for field in declared(of) if field.required],
        "additionalProperties": False,
    }
