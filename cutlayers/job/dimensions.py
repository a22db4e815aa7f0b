"""From the `size` and `options` a person wrote to a style's own dimensions, and their schema."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Literal

from cutlayers.construction.card import Measure
from cutlayers.construction.dimension import LARGEST, Dimension
from cutlayers.construction.style import Style
from cutlayers.fitting import SHAPES, Item, item
from cutlayers.fitting.items import CLEARANCE
from cutlayers.frozen import frozen
from cutlayers.reading.declared import Length, Number
from cutlayers.reading.values import (
    ValueRefused,
    read_choice,
    read_length,
)
from cutlayers.telling.errors import StyleError
from cutlayers.telling.lengths import Unit
from cutlayers.telling.refusals import Refusal

MEASURES: tuple[Measure, ...] = ("inside", "score", "outside")
MEASURE_HELP = "what the sizes are measured to: inside the box, score to score, or outside"

SMALLEST_ITEM = 0.1
"""mm; a smaller thing to be packed is a slip of the unit."""

_TABLES: dict[str, Literal["size", "options"]] = {"size": "size", "option": "options"}
"""The job file's table for each group of dimensions."""


@frozen
class Reading:
    """What came of one piece's tables: values by the names of the style's dimensions."""

    values: Mapping[str, Any]
    measure: Measure
    problems: tuple[Refusal, ...]


def read_dimensions(
    style: Style,
    size: Mapping[str, object],
    options: Mapping[str, object],
    unit: Unit,
    *,
    sizes_optional: bool = False,
) -> Reading:
    """Check both tables against the style's; a bare length counts in `unit`.

    A dimension's help goes on from its name, "height" "of the walls", and so does the message.
    Every dimension of the size group must be there, unless `sizes_optional` says that what is
    missing is found in another way; `measure` stands among them and is "inside" by default.
    Options left out take the style's defaults. Places begin with "size" or "options".
    """
    problems: list[Refusal] = []
    values: dict[str, Any] = {}
    tables = {"size": size, "options": options}
    for name, (dimension, _default) in style.table.items():
        table = _TABLES[dimension.group]
        if name not in tables[table]:
            if dimension.group == "size" and not sizes_optional:
                what = f"the {name.replace('_', ' ')} {dimension.value.help}"
                problems.append(Refusal((table, name), fault="missing", about=what))
            continue
        try:
            values[name] = dimension.value.read(tables[table][name], unit)
        except ValueRefused as error:
            problems.append(error.refusal.under(table, name))
    measure: Any = "inside"
    if "measure" in size:
        try:
            measure = read_choice(size["measure"], MEASURES)
        except ValueRefused as error:
            problems.append(error.refusal.under("size", "measure"))
    problems += _unknown(style, size, options)
    return Reading(values, measure, tuple(problems))


def read_item(holds: Mapping[str, object], unit: Unit) -> tuple[Item | None, list[Refusal]]:
    """The thing that a `holds` table describes, or the problems with it."""
    problems: list[Refusal] = []
    try:
        shape = str(read_choice(holds.get("shape", ""), sorted(SHAPES)))
    except ValueRefused as error:
        return None, [error.refusal.under("holds", "shape")]
    sizes: dict[str, float] = {}
    for name, value in holds.items():
        if name != "shape":
            least = 0.0 if name == CLEARANCE else SMALLEST_ITEM
            try:
                sizes[name] = read_length(value, unit, least, LARGEST)
            except ValueRefused as error:
                problems.append(error.refusal.under("holds", name))
    if problems:
        return None, problems
    try:
        return item(shape, sizes, sizes.pop(CLEARANCE, 0.0)), []
    except StyleError as error:
        return None, [error.refusal]


def dimension_place(dimensions: object, field: str) -> tuple[str, ...]:
    """Where a field named by a style's error stands in the job file, within its piece.

    `dimensions` is the style's class or an instance of it. "options.tab" is taken as it is; of a
    bare "tab" the table is found; a name that is no dimension, such as "stock", is a key of the
    piece itself.
    """
    if "." in field:
        return tuple(field.split("."))
    if field == "measure":
        return ("size", field)
    fields: Mapping[str, Any] = getattr(dimensions, "__dataclass_fields__", {})
    if field not in fields:
        return (field,)
    return (_TABLES[fields[field].metadata["dimension"].group], field)


def _unknown(
    style: Style, size: Mapping[str, object], options: Mapping[str, object]
) -> list[Refusal]:
    known = {table: list[str]() for table in ("size", "options")}
    for name, (dimension, _default) in style.table.items():
        known[_TABLES[dimension.group]].append(name)
    known["size"].append("measure")
    problems = []
    for table, other, written in (("size", "options", size), ("options", "size", options)):
        for name in written:
            if name in known[table]:
                continue
            if name in known[other]:
                problems.append(Refusal((table, name), f"belongs in {other}, not in {table}"))
                continue
            problems.append(
                Refusal(
                    (table, name),
                    f"is unknown to {style.name}",
                    "unknown",
                    allowed=tuple(known[table]),
                    nearest=style.meant(name, known[table]),
                )
            )
    return problems


def style_schema(style: Style) -> dict[str, Any]:
    """JSON Schema of one style's `size` and `options` tables.

    Limits of lengths are told in words: a schema cannot know whether a number is mm or inches.
    """
    tables: dict[str, dict[str, Any]] = {"size": {}, "options": {}}
    for name, (dimension, default) in style.table.items():
        entry = _schema(dimension)
        if dimension.group == "option" and default is not None:
            entry["default"] = default
        tables[_TABLES[dimension.group]][name] = entry
    required = list(tables["size"])
    tables["size"]["measure"] = {
        "enum": list(MEASURES),
        "default": "inside",
        "description": MEASURE_HELP,
    }
    closed = {"type": "object", "additionalProperties": False}
    return {
        "properties": {
            "size": {**closed, "properties": tables["size"], "required": required},
            "options": {**closed, "properties": tables["options"]},
        }
    }


def _schema(dimension: Dimension) -> dict[str, Any]:
    value = dimension.value
    match value:
        case Length():
            about = f"{value.help} ({value.least:g} mm to {value.most:g} mm)"
        case Number():
            about = f"{value.help} ({value.unit})"
        case _:
            about = value.help
    return {**value.schema(None), "description": about}
