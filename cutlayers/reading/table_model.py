"""What the two file models share: one-value readers as pydantic types, and their errors in words.

Imported by `job.py` and `profile.py` alone, since it brings pydantic with it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any

from pydantic import BaseModel, ConfigDict, GetCoreSchemaHandler, ValidationError
from pydantic_core import CoreSchema, ErrorDetails, core_schema

from cutlayers.reading import values
from cutlayers.reading.toml_file import Problem
from cutlayers.telling.lengths import Unit
from cutlayers.telling.nearest import did_you_mean
from cutlayers.telling.refusals import Place
from cutlayers.telling.written import shown


class Table(BaseModel):
    """A table of a file: keys that are not declared are errors."""

    model_config = ConfigDict(extra="forbid", frozen=True)


@dataclass(frozen=True, slots=True)
class Reads:
    """A pydantic type made of a reader, for use inside `Annotated`.

    `read` takes the value and the unit of bare lengths and raises ValueError with a sentence;
    `schema` is what JSON Schema can say of it.
    """

    read: Callable[[object, Unit], Any]
    schema: dict[str, Any]

    def __get_pydantic_core_schema__(
        self, source: object, handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        """Put the reader in the place of pydantic's own check."""

        def check(value: object, info: core_schema.ValidationInfo) -> object:
            return self.read(value, (info.context or {}).get("unit", "mm"))

        return core_schema.with_info_plain_validator_function(check)

    def __get_pydantic_json_schema__(self, core: CoreSchema, handler: object) -> dict[str, Any]:
        """The schema as it was given."""
        return dict(self.schema)


def length(minimum: float, maximum: float) -> Reads:
    """A length in mm, whatever the unit of the file."""
    return Reads(
        lambda value, _unit: values.read_length(value, "mm", minimum, maximum),
        {"type": ["number", "string"], "unit": "mm", "minimum": minimum, "maximum": maximum},
    )


def length_in_units(minimum: float, maximum: float) -> Reads:
    """A length whose bare numbers count in the file's unit; limits are mm."""
    return Reads(
        partial(values.read_length, minimum=minimum, maximum=maximum),
        {"type": ["number", "string"]},
    )


def number(minimum: float, maximum: float, unit: str) -> Reads:
    """A number of some other unit."""
    return Reads(
        lambda value, _unit: values.read_number(value, minimum, maximum, unit),
        {"type": "number", "unit": unit or "-", "minimum": minimum, "maximum": maximum},
    )


def whole(minimum: int, maximum: int) -> Reads:
    """A whole number."""
    return Reads(
        lambda value, _unit: values.read_whole(value, minimum, maximum),
        {"type": "integer", "minimum": minimum, "maximum": maximum},
    )


def word(choices: Sequence[str | int]) -> Reads:
    """One of a few words or numbers."""
    return Reads(lambda value, _unit: values.read_choice(value, choices), {"enum": list(choices)})


def flag() -> Reads:
    """Yes or no."""
    return Reads(lambda value, _unit: values.read_flag(value), {"type": "boolean"})


def day() -> Reads:
    """A date."""
    return Reads(lambda value, _unit: values.read_date(value), {"type": "string", "format": "date"})


def text(pattern: str | None = None, read: Callable[[object], Any] = values.read_text) -> Reads:
    """A text that `read` checks; `pattern` tells an editor about it."""
    schema = {"type": "string"} if pattern is None else {"type": "string", "pattern": pattern}
    return Reads(lambda value, _unit: read(value), schema)


def problems_of(error: ValidationError, schema: dict[str, Any]) -> list[Problem]:
    """Pydantic's findings in our words; `schema` is the model's, for what is known where."""
    findings = error.errors(include_url=False)
    places = [details["loc"] for details in findings]
    return [
        _problem(details, schema)
        for details in findings
        # A list is also called too short when it is not empty but none of its items is right.
        if details["type"] != "too_short" or not _has_inner(details["loc"], places)
    ]


def _has_inner(place: Place, places: Sequence[Place]) -> bool:
    return any(len(other) > len(place) and other[: len(place)] == place for other in places)


def _problem(details: ErrorDetails, schema: dict[str, Any]) -> Problem:
    place: Place = tuple(step for step in details["loc"] if step != "[key]")
    found = shown(details["input"])
    match details["type"]:
        case "value_error":
            return Problem(place, str(details["ctx"]["error"]))
        case "missing":
            what = node_at(schema, place).get("description", "")
            return Problem(place, f"is missing; it is: {what}" if what else "is missing")
        case "extra_forbidden":
            known = sorted(node_at(schema, place[:-1]).get("properties", {}))
            hint = did_you_mean(str(place[-1]), known)
            return Problem(place, f"is unknown; known are {', '.join(known)}.{hint}")
        case "too_short":
            what = node_at(schema, place).get("description", "")
            return Problem(place, f"is empty; at least one is needed: {what}")
        case "list_type" | "tuple_type":
            double = f"; write [[{place[-1]}]] with two brackets" if found == "a table" else ""
            return Problem(place, f"is {found}; allowed is a list{double}")
        case "model_type" | "model_attributes_type" | "dict_type":
            what = node_at(schema, place).get("description", "")
            about = f": {what[0].lower()}{what[1:].rstrip('.')}" if what else ""
            return Problem(place, f"is {found}; allowed is a table{about}")
    return Problem(place, f"is {found}; {details['msg']}")


def node_at(schema: dict[str, Any], place: Place) -> dict[str, Any]:
    """The part of a JSON Schema that speaks of one place; empty where it says nothing."""
    node = _resolved(schema, schema)
    for step in place:
        if isinstance(step, int):
            inner = node.get("items", {})
        else:
            inner = node.get("properties", {}).get(step) or node.get("additionalProperties")
        if not isinstance(inner, dict):
            return {}
        node = _resolved(schema, inner)
    return node


def _resolved(schema: dict[str, Any], node: dict[str, Any]) -> dict[str, Any]:
    reference = node.get("$ref")
    if reference is None:
        return node
    target = schema["$defs"][reference.rpartition("/")[2]]
    return {**target, **{key: value for key, value in node.items() if key != "$ref"}}


def tidy(node: Any) -> Any:
    """A JSON Schema as TOML needs it: without null, which TOML has not, and without the
    generator's titles, which only repeat the names."""
    if isinstance(node, list):
        return [tidy(item) for item in node]
    if not isinstance(node, dict):
        return node
    kept = {key: tidy(value) for key, value in node.items() if not _is_idle(key, value)}
    variants = kept.get("anyOf", [])
    if {"type": "null"} in variants and len(variants) == 2:
        (only,) = (variant for variant in kept.pop("anyOf") if variant != {"type": "null"})
        return {**only, **kept}
    return kept


def _is_idle(key: str, value: object) -> bool:
    return (key == "title" and isinstance(value, str)) or (key == "default" and value is None)
