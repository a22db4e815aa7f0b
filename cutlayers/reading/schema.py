"""JSON Schema of a file, made of the declarations of its dataclasses."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from cutlayers.reading.declared import (
    Inner,
    Loose,
    Named,
    OwnName,
    Rest,
    Several,
    Spread,
)
from cutlayers.reading.tables import Declared, declared
from cutlayers.telling.lengths import Unit


def file_schema(
    fields: Sequence[Declared], title: str, about: str, unit: Unit | None
) -> dict[str, Any]:
    """The schema of a whole file; `unit` is that of bare lengths, None where the file says it.

    Each dataclass is one of its "$defs", under its own name.
    """
    definitions: dict[str, Any] = {}
    table = _table(fields, unit, definitions)
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": title,
        "description": about,
        **table,
        "$defs": dict(sorted(definitions.items())),
    }


def _table(
    fields: Sequence[Declared], unit: Unit | None, definitions: dict[str, Any]
) -> dict[str, Any]:
    properties: dict[str, Any] = {}
    others: Any = False
    for field in fields:
        match field.kind:
            case OwnName():
                pass
            case Rest(item):
                others = _node(item, unit, definitions)
            case Spread(item=item, keys=keys):
                for member in keys:
                    properties[member.value] = _node(item, unit, definitions)
            case kind:
                node = _node(kind, unit, definitions)
                if not field.required:
                    node |= _default(field.default, node)
                properties[field.key] = node
    required = [field.key for field in fields if field.required and _is_key(field)]
    return {
        "type": "object",
        "properties": properties,
        **({"required": required} if required else {}),
        "additionalProperties": others,
    }


def _is_key(field: Declared) -> bool:
    return not isinstance(field.kind, OwnName | Rest | Spread)


def _default(value: object, node: Mapping[str, Any]) -> dict[str, Any]:
    """A default that a file could say as well; that of a table is what its own keys say."""
    if isinstance(value, tuple):
        return {"default": list(value)}
    if isinstance(value, int | float) and value < node.get("minimum", value):
        return {}  # 0 where none is asked for
    return {"default": value} if isinstance(value, str | int | float) else {}


def _node(kind: Any, unit: Unit | None, definitions: dict[str, Any]) -> dict[str, Any]:
    said = {"description": kind.help} if getattr(kind, "help", "") else {}
    match kind:
        case Inner(of=of):
            assert of is not None
            if of.__name__ not in definitions:
                definitions[of.__name__] = {}  # a place kept, so that the order is that of the file
                definitions[of.__name__] = _table(declared(of), unit, definitions)
            return {"$ref": f"#/$defs/{of.__name__}", **said}
        case Named(item=item, needed=needed):
            least: dict[str, Any] = {"minProperties": 1} if needed else {}
            inner = _node(item, unit, definitions)
            return {"type": "object", "additionalProperties": inner, **least, **said}
        case Several(item=item, needed=needed):
            least = {"minItems": 1} if needed else {}
            return {"type": "array", "items": _node(item, unit, definitions), **least, **said}
        case Loose():
            return {"type": "object", "additionalProperties": True, **said}
    return {**kind.schema(unit), **said}
