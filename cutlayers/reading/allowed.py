"""What a declared value may be, in words."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from cutlayers.reading.declared import (
    Day,
    Flag,
    Inner,
    KeyKind,
    Length,
    Named,
    Number,
    Several,
    Special,
    Text,
    Whole,
    Word,
)
from cutlayers.telling.lengths import Unit
from cutlayers.telling.refusals import Span
from cutlayers.telling.refusing import allowed_words

_TYPES = {"string": "a text", "number": "a number", "array": "a list", "object": "a table"}


def allowed_of(kind: KeyKind | None, unit: Unit = "mm") -> str:
    """What a value may be, on one line; lengths are told in mm, and in `unit` as well.

    >>> allowed_of(Length(0, 20)), allowed_of(Word("", ("mm", "in")))
    ('0 mm to 20 mm', '"mm" or "in"')
    """
    match kind:
        case Word(choices=choices):
            return allowed_words(choices)
        case Flag():
            return "true or false"
        case Length(least, most):
            return allowed_words(Span(least, most, "mm"), unit)
        case Number(least, most, of):
            return allowed_words(Span(least, most, of))
        case Whole(least, most):
            return allowed_words(Span(least, most, whole=True))
        case Day():
            return "a day, 2026-03-01"
        case Text():
            return "a text"
        case Special(said=said):
            return _said(said)
        case Several(item=Inner()):
            return "one or more such tables"
        case Several(item=item):
            return f"a list of {_many(allowed_of(item, unit))}"
        case Named():
            return "tables under names of your own"
    return "a table"


def _said(schema: Mapping[str, Any]) -> str:
    """The same of what is said as JSON Schema."""
    if "anyOf" in schema:
        first, *others = (_said(each) for each in schema["anyOf"])
        rest = [other.replace(f"a list of {_many(first)}", "a list of such") for other in others]
        return ", or ".join([first, *rest])
    if "enum" in schema:
        return allowed_words(tuple(schema["enum"]))
    if schema["type"] == "array":
        return f"a list of {_many(_said(schema['items']))}"
    types = schema["type"]
    return " or ".join(_TYPES[each] for each in ([types] if isinstance(types, str) else types))


def _many(one: str) -> str:
    """Several of what is "a number or a text"."""
    return (
        one.replace("a number", "numbers").replace("a text", "texts").replace("a table", "tables")
    )
