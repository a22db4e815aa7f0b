"""JSON Schema of report.json and of what `check --json` prints, made of the values' own types.

A job's report, a kit's report, and the check of a kit are three shapes of one schema; the same
findings stand in each. A fourth is what any command prints with `--json` where it refuses.
"""

from __future__ import annotations

import types
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from enum import StrEnum
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints

from cutlayers.kits.manifest import KitReport
from cutlayers.report.report import Report
from cutlayers.telling.findings import Allowed, Cure, Detail, Edit, Finding, Subject
from cutlayers.telling.quantities import UNITS
from cutlayers.telling.refusals import Fault

PLAIN = {str: "string", bool: "boolean", int: "integer", float: "number", type(None): "null"}


def report_schema() -> dict[str, Any]:
    """The schema of all that is told of a job or a kit as JSON. Lengths are mm throughout, but
    in the lines for people under "told"."""
    known = {
        "Quantity": _quantity(),
        "Subject": _closed(_properties(Subject), needed=False),
        "Allowed": _closed(_properties(Allowed)),
        "Cure": _closed(_properties(Cure)),
        "Edit": _closed(_properties(Edit)),
        "Finding": _finding(),
    }
    _collect(Report, known)
    _collect(KitReport, known)
    known["KitCheck"] = _closed(
        {
            "rows": {"type": "integer", "minimum": 0},
            "sheets": {"type": "integer", "minimum": 0},
            "findings": {"type": "array", "items": {"$ref": "#/$defs/Finding"}},
        }
    )
    known["AllowedNumbers"] = _span()
    known["Refusal"] = _refusal()
    known["Refused"] = _closed(
        {"refusals": {"type": "array", "items": {"$ref": "#/$defs/Refusal"}, "minItems": 1}}
    )
    shapes = ("Report", "KitReport", "KitCheck", "Refused")
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "cutlayers report",
        "description": "report.json of a job or of a kit, what `cutlayers check --json` prints, "
        "and with exit code 2 what any command with --json does. Lengths are mm; `told` is the "
        "line for people, of a finding in the job's unit.",
        "anyOf": [{"$ref": f"#/$defs/{name}"} for name in shapes],
        "$defs": dict(sorted(known.items())),
    }


def _quantity() -> dict[str, Any]:
    """A number with its kind, each kind in its own unit."""
    return {
        "anyOf": [
            _closed({"kind": {"const": kind}, "value": {"type": "number"}, "unit": {"const": unit}})
            for kind, unit in UNITS.items()
        ]
    }


def _finding() -> dict[str, Any]:
    """A finding's details are an object, by name, and a line for people stands beside them."""
    properties = _properties(Finding)
    properties["details"] = {"type": "object", "additionalProperties": _node(Detail)}
    properties["told"] = {"type": "string"}
    return _closed(properties)


def _refusal() -> dict[str, Any]:
    """What was refused, as `refusal_data` has it."""
    text, whole, nothing = {"type": "string"}, {"type": "integer", "minimum": 1}, {"type": "null"}
    plain = {"type": ["string", "boolean", "number", "null"]}
    steps = {"anyOf": [text, {"type": "integer", "minimum": 0}]}
    choice = {"anyOf": [{"$ref": "#/$defs/AllowedNumbers"}, {"type": ["string", "integer"]}]}
    return _closed(
        {
            "fault": _node(Fault),
            "file": {"anyOf": [text, nothing]},
            "place": {"type": "array", "items": steps},
            "line": {"anyOf": [whole, nothing]},
            "column": {"anyOf": [whole, nothing]},
            "found": {"anyOf": [plain, {"type": "array", "items": plain}]},
            "allowed": {"anyOf": [nothing, text, {"type": "array", "items": choice}]},
            "works": plain,
            "nearest": {"anyOf": [text, nothing]},
            "advice": {"anyOf": [text, nothing]},
            "inside": {"anyOf": [{"$ref": "#/$defs/Refusal"}, nothing]},
            "told": text,
        }
    )


def _span() -> dict[str, Any]:
    """Numbers from one to another, both allowed; `zero` says what 0 does beside them."""
    limit, text = {"type": ["number", "null"]}, {"type": "string"}
    properties = {"least": limit, "most": limit, "unit": text, "whole": {"type": "boolean"}}
    return _closed(properties) | {
        "properties": {**properties, "zero": text},
    }


def _collect(kind: type, known: dict[str, Any]) -> None:
    """Add the schema of a dataclass, and of those within it, to the known ones."""
    if kind.__name__ not in known:
        known[kind.__name__] = _closed(_properties(kind))
        for hint in get_type_hints(kind).values():
            for inner in _dataclasses(hint):
                _collect(inner, known)


def _dataclasses(hint: Any) -> list[type]:
    if isinstance(hint, type) and is_dataclass(hint):
        return [hint]
    return [inner for part in get_args(hint) for inner in _dataclasses(part)]


def _properties(kind: type) -> dict[str, Any]:
    hints = get_type_hints(kind)
    return {each.name: _node(hints[each.name]) for each in fields(kind)}


def _closed(properties: Mapping[str, Any], *, needed: bool = True) -> dict[str, Any]:
    """An object of just these keys; all of them are there where `needed`."""
    return {
        "type": "object",
        "properties": dict(properties),
        **({"required": list(properties)} if needed else {}),
        "additionalProperties": False,
    }


def _node(hint: Any) -> dict[str, Any]:
    """The schema of one value of a type. Raises TypeError for a type that no report holds."""
    origin, inner = get_origin(hint), get_args(hint)
    if hint in PLAIN:
        return {"type": PLAIN[hint]}
    if origin is Literal:
        return {"enum": list(inner)}
    if origin in (Union, types.UnionType):
        return {"anyOf": [_node(each) for each in inner]}
    if origin is tuple and inner[-1] is Ellipsis:
        return {"type": "array", "items": _node(inner[0])}
    if origin is tuple:
        items = [_node(each) for each in inner]
        return {"type": "array", "prefixItems": items, "minItems": len(items), "items": False}
    if origin in (dict, Mapping):
        return {"type": "object", "additionalProperties": _node(inner[1])}
    if isinstance(hint, type) and issubclass(hint, StrEnum):
        return {"enum": [each.value for each in hint]}
    if isinstance(hint, type) and is_dataclass(hint):
        return {"$ref": f"#/$defs/{hint.__name__}"}
    raise TypeError(f"{hint!r} has no place in a report")
