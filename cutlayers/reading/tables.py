"""A file's tables to the dataclasses that the core works with, or what is wrong with them.

The declarations of `declared.py` are found on the dataclasses' own fields. Nothing here needs more
than the standard library: reading a job must not cost more than what is done with it.
"""

from __future__ import annotations

import dataclasses
import types
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from enum import StrEnum
from functools import cache
from typing import Annotated, Any, Literal, TypeVar, Union, get_args, get_origin, get_type_hints

from cutlayers.frozen import frozen
from cutlayers.reading import values
from cutlayers.reading.declared import (
    Inner,
    Key,
    KeyKind,
    Loose,
    Named,
    OwnName,
    Rest,
    Several,
    Spread,
    Word,
)
from cutlayers.reading.values import ValueRefused
from cutlayers.telling.lengths import Unit
from cutlayers.telling.nearest import nearest
from cutlayers.telling.refusals import Place, Refusal

T = TypeVar("T")


@frozen
class Declared:
    """One declared field: its name, the file's key for it, what it may be, and its default."""

    name: str
    key: str
    kind: KeyKind
    required: bool
    default: object = None

    @property
    def help(self) -> str:
        """What it is, for people."""
        return getattr(self.kind, "help", "")


@cache
def declared(of: type) -> tuple[Declared, ...]:
    """The declared fields of a dataclass, in order; what is not declared is not in the file."""
    hints = get_type_hints(of, include_extras=True)
    found = []
    for field in dataclasses.fields(of):
        kind = _kind(hints[field.name])
        if kind is None:
            continue
        required = field.default is dataclasses.MISSING is field.default_factory
        default = None if field.default is dataclasses.MISSING else field.default
        found.append(Declared(field.name, _key(field.name, hints), kind, required, default))
    return tuple(found)


def kind_at(of: type, *keys: str) -> Any:
    """The declaration of one value of a dataclass or of those in it, by the file's keys.

    Raises KeyError where there is none.
    """
    key, *inner = keys
    kind = {each.key: each.kind for each in declared(of)}[key]
    if not inner:
        return kind
    if isinstance(kind, Named):  # the next key is a name of the user's own
        kind, inner = kind.item, inner[1:]
    assert isinstance(kind, Inner) and kind.of is not None
    return kind_at(kind.of, *inner)


def _key(name: str, hints: Mapping[str, Any]) -> str:
    marks = getattr(hints[name], "__metadata__", ())
    return next((mark.name for mark in marks if isinstance(mark, Key)), name)


def _kind(hint: Any) -> KeyKind | None:
    """What a type says that its values may be; None where it says nothing."""
    if get_origin(hint) is not Annotated:
        return None
    kind = next((mark for mark in hint.__metadata__ if not isinstance(mark, Key)), None)
    return None if kind is None else _completed(kind, _without_none(get_args(hint)[0]))


def _without_none(hint: Any) -> Any:
    if get_origin(hint) in (Union, types.UnionType):
        given = [each for each in get_args(hint) if each is not type(None)]
        # Of several, such as a word or a table, only a way of its own can read one.
        return given[0] if len(given) == 1 else hint
    return hint


def _completed(kind: KeyKind, hint: Any) -> KeyKind:
    """A declaration with what the type of its field says already."""
    match kind:
        case Word(choices=()):
            if isinstance(hint, type) and issubclass(hint, StrEnum):
                return replace(kind, choices=tuple(map(str, hint)), made=hint)
            assert get_origin(hint) is Literal
            return replace(kind, choices=get_args(hint))
        case Inner(of=None):
            return replace(kind, of=hint)
        case Spread():
            key, item = get_args(hint)
            return replace(kind, keys=tuple(key), item=Inner(kind.help, item))
        case Several(item=None) | Named(item=None):
            item = get_args(hint)[0 if isinstance(kind, Several) else 1]
            table = isinstance(item, type) and dataclasses.is_dataclass(item)
            inner = Inner(kind.each, item) if table else _kind(item)
            return replace(kind, item=inner)
    return kind


def read_table(
    of: type[T], table: Mapping[str, object], unit: Unit, name: str = ""
) -> tuple[T | None, list[Refusal]]:
    """The dataclass that a table of the file becomes, or None and the problems with it.

    A bare length counts in `unit`; `name` is that under which the table stands, if any.
    """
    plain: type = of
    found, problems = read_values(declared(plain), table, unit, name)
    return (None, problems) if problems else (of(**found), problems)


def read_values(
    fields: Sequence[Declared], table: Mapping[str, object], unit: Unit, name: str = ""
) -> tuple[dict[str, Any], list[Refusal]]:
    """The values of the fields that a table gives, by their names, and the problems with them.

    Defaults are left to the dataclass. Problems come in the order of the fields, unknown keys
    last.
    """
    found: dict[str, Any] = {}
    problems: list[Refusal] = []
    for field in fields:
        match field.kind:
            case OwnName():
                found[field.name] = name
            case Rest(item):
                found[field.name] = rest = {}
                known = set(_keys(fields))
                for key in table:
                    if key not in known:
                        rest[key], wrong = _read(item, table[key], unit, key)
                        problems += wrong
            case Spread(item=item, keys=keys):
                found[field.name] = spread = {}
                for member in keys:
                    if member.value in table:
                        spread[member], wrong = _read(item, table[member.value], unit, member.value)
                        problems += wrong
            case kind if field.key in table:
                found[field.name], wrong = _read(kind, table[field.key], unit, field.key)
                problems += wrong
            case kind if field.required:
                problems.append(Refusal((field.key,), fault="missing", about=field.help))
    return found, [*problems, *_unknown(fields, table)]


def _keys(fields: Sequence[Declared]) -> Iterator[str]:
    """The keys that a table may have."""
    for field in fields:
        match field.kind:
            case Spread(keys=keys):
                yield from (member.value for member in keys)
            case OwnName() | Rest():
                pass
            case _:
                yield field.key


def _unknown(fields: Sequence[Declared], table: Mapping[str, object]) -> Iterator[Refusal]:
    if any(isinstance(field.kind, Rest) for field in fields):
        return
    known = sorted(_keys(fields))
    for key in table:
        if key not in known:
            near = nearest(key, known)
            yield Refusal((key,), fault="unknown", allowed=tuple(known), nearest=near)


def _read(kind: Any, value: object, unit: Unit, *at: str | int) -> tuple[Any, list[Refusal]]:
    """A value, a table or a list of either, and what is wrong with it; `at` is its last step."""
    match kind:
        case Inner(help, of):
            if not isinstance(value, dict):
                return None, [_no_table(value, help, at)]
            assert of is not None
            found, problems = read_table(of, value, unit, str(at[-1]))
            return found, [problem.under(*at) for problem in problems]
        case Named(help=help):
            if not isinstance(value, dict):
                return None, [_no_table(value, help, at)]
            entries = {key: _named(kind.item, key, each, unit) for key, each in value.items()}
            return _gathered(kind, entries, at)
        case Several():
            if not isinstance(value, list):
                double = f"; write [[{at[-1]}]] with two brackets" if _is_table(value) else ""
                return None, [_not(f"a list{double}", value, at)]
            items = {i: _read(kind.item, each, unit, i) for i, each in enumerate(value)}
            found, problems = _gathered(kind, items, at)
            return tuple(found.values()), problems
        case Loose(help):
            if not isinstance(value, dict):
                return None, [_no_table(value, help, at)]
            return value, []
    try:
        return kind.read(value, unit), []
    except ValueRefused as error:
        return None, [error.refusal.under(*at)]


def _named(kind: Any, key: str, value: object, unit: Unit) -> tuple[Any, list[Refusal]]:
    try:
        values.read_text(key)
    except ValueRefused as error:
        return None, [error.refusal.under(key)]
    return _read(kind, value, unit, key)


def _gathered(
    kind: Several | Named, read: Mapping[Any, tuple[Any, list[Refusal]]], at: tuple[str | int, ...]
) -> tuple[dict[Any, Any], list[Refusal]]:
    problems = [problem.under(*at) for _, wrong in read.values() for problem in wrong]
    if kind.needed and not read:
        problems.append(Refusal(at, fault="empty", about=kind.help))
    return {key: found for key, (found, _) in read.items()}, problems


def _no_table(value: object, help: str, at: Place) -> Refusal:
    about = f"{help[0].lower()}{help[1:].rstrip('.')}" if help else ""
    return replace(_not("a table", value, at), about=about)


def _not(allowed: str, value: object, at: Place) -> Refusal:
    return Refusal(at, fault="value", found=value, allowed=allowed)


def _is_table(value: object) -> bool:
    return isinstance(value, dict)
