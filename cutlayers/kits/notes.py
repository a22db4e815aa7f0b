"""Values kept as JSON beside a kit that is being made, and read again.

What is read is held against the fields of its class, since somebody may have written into it.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict, fields, is_dataclass
from enum import Enum
from functools import cache
from types import UnionType
from typing import Any, Literal, TypeVar, Union, get_args, get_origin, get_type_hints

Kept = TypeVar("Kept")


def note_of(value: Any) -> bytes:
    """A dataclass of plain values as it is kept."""
    return json.dumps(asdict(value), separators=(",", ":")).encode()


def read_note(content: bytes, kind: type[Kept]) -> Kept:
    """What was kept. Raises ValueError where it is no note of that kind."""
    try:
        found: Kept = _value(kind, json.loads(content))
    except (KeyError, TypeError, RecursionError) as error:
        raise ValueError(f"no {kind.__name__}: {error!r}") from None
    return found


def _value(kind: Any, found: Any) -> Any:
    """A value of that kind. Raises ValueError and TypeError."""
    origin, inner = get_origin(kind), get_args(kind)
    if origin in (Union, UnionType):
        return _one_of(inner, found)
    if origin is Literal:
        return _checked(found, found in inner)
    if origin is tuple:
        items = _checked(found, isinstance(found, list))
        kinds = inner[:1] * len(items) if inner[1:] == (...,) else inner
        return tuple(_value(each, item) for each, item in zip(kinds, items, strict=True))
    if isinstance(origin, type) and issubclass(origin, Mapping):
        pairs = _checked(found, isinstance(found, dict)).items()
        return {key: _value(inner[1], item) for key, item in pairs}
    if isinstance(kind, type) and is_dataclass(kind):
        table = _checked(found, isinstance(found, dict))
        made: Any = kind
        return made(**{name: _value(each, table[name]) for name, each in _fields(kind)})
    if isinstance(kind, type) and issubclass(kind, Enum):
        return kind(found)
    # A whole number is a number, but true and false are none.
    return _checked(found, type(found) is kind or (kind is float and type(found) is int))


def _one_of(kinds: tuple[Any, ...], found: Any) -> Any:
    for kind in kinds:
        try:
            return _value(kind, found)
        except (KeyError, TypeError, ValueError):
            continue
    raise ValueError(f"{found!r} is none of {kinds}")


def _checked(found: Any, right: bool) -> Any:
    if not right:
        raise ValueError(f"{found!r} does not belong here")
    return found


@cache
def _fields(of: Any) -> tuple[tuple[str, Any], ...]:
    hints = get_type_hints(of)
    return tuple((field.name, hints[field.name]) for field in fields(of))
