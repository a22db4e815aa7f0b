"""The tables and keys that a job and a profile may have, each with an example.

All is read from the dataclasses that the files become: keys, limits and help from their fields, the
example from the paragraph "Example:" of their docstrings, so that it is changed together with them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import cache
from textwrap import dedent
from typing import Any, Literal

from cutlayers.construction.catalogue import TABLES
from cutlayers.construction.dimension import Dimension
from cutlayers.construction.styles import styles
from cutlayers.explaining.pages import docstring_at
from cutlayers.frozen import frozen
from cutlayers.job.written import BesideTheJob, job_fields
from cutlayers.profile.written import BesideTheMachine, profile_fields
from cutlayers.reading.allowed import allowed_of
from cutlayers.reading.declared import (
    Flag,
    Inner,
    Length,
    Named,
    OwnName,
    Rest,
    Several,
    Spread,
    Word,
)
from cutlayers.reading.tables import Declared, declared
from cutlayers.telling.written import shown, write_place

File = Literal["job", "profile"]

BEFORE_ALL = "what stands before all tables"

OWN_NAME = "NAME"
"""In the place of a name of the user's own."""

_EXAMPLE = re.compile(r"^Example:\n\n(?P<example>(?:[ ].*\n?|\n)+)", re.MULTILINE)


@frozen
class Key:
    """One key of a table, in words; `example` is a line of the table's example."""

    name: str
    default: str
    allowed: str
    help: str
    example: str


@frozen
class Table:
    """One kind of table. `places` are where it stands in the file, as in "piece.lettering", and
    `heads` the same with their brackets; none for what stands before all tables."""

    file: File
    heads: tuple[str, ...]
    places: tuple[str, ...]
    help: str
    keys: tuple[Key, ...]
    example: str


@cache
def all_tables() -> tuple[Table, ...]:
    """Every table of both files, from the outside in."""
    return (
        *_tables("job", job_fields(), BesideTheJob),
        *_tables("profile", profile_fields(), BesideTheMachine),
    )


@frozen
class _Place:
    """A table's place: where it is, what opens it, what is said of it there."""

    of: type
    steps: tuple[str, ...]
    head: str
    help: str


def _tables(file: File, fields: Sequence[Declared], beside: type) -> Iterator[Table]:
    yield _table(file, fields, beside, ())
    found: dict[type, list[_Place]] = {}
    for place in _inside(fields, ()):
        found.setdefault(place.of, []).append(place)
    for of, places in found.items():
        yield _table(file, declared(of), of, places)


def _table(file: File, fields: Sequence[Declared], of: type, places: Sequence[_Place]) -> Table:
    example = _example(of)
    keys = tuple(key for field in fields for key in _keys(field, example))
    names = tuple(write_place(place.steps) for place in places)
    heads = tuple(place.head for place in places)
    return Table(file, heads, names, places[0].help if places else BEFORE_ALL, keys, example)


def _inside(fields: Sequence[Declared], outer: tuple[str, ...]) -> Iterator[_Place]:
    """All tables in a table, each with those in it after it."""
    for field in fields:
        kind: Any = field.kind
        steps = (*outer, field.key)
        match kind:
            case Inner(of=of):
                yield from _at(of, steps, f"[{write_place(steps)}]", kind.help)
            case Several(item=Inner(of=of)):
                yield from _at(of, steps, f"[[{write_place(steps)}]]", kind.each or kind.help)
            case Named(item=Inner(of=of)):
                named = (*steps, OWN_NAME)
                yield from _at(of, named, f"[{write_place(named)}]", kind.each or kind.help)
            case Spread(item=Inner(of=of), keys=members):
                for member in members:
                    each = (*outer, member.value)
                    yield from _at(of, each, f"[{write_place(each)}]", kind.help)


def _at(of: type | None, steps: tuple[str, ...], head: str, help: str) -> Iterator[_Place]:
    assert of is not None
    yield _Place(of, steps, head, help.partition(", [")[0])
    yield from _inside(declared(of), steps)


def _keys(field: Declared, example: str) -> Iterator[Key]:
    """The key of a field, or those that it stands for."""
    match field.kind:
        case OwnName():
            names: tuple[str, ...] = ()
        case Rest():
            names = ("anything else",)
        case Spread(keys=members):
            names = tuple(member.value for member in members)
        case _:
            names = (field.key,)
    said = field.help or "settings of your own, under names of your own"
    for name in names:
        yield Key(name, _default(field), allowed_of(field.kind), said, line_of(name, example))


def line_of(key: str, example: str) -> str:
    """The first line of an example that has the key, or is the head of the table of its name."""
    lines = example.splitlines()
    said = re.compile(rf"(^|[{{,]) *{re.escape(key)} = ")
    table = re.compile(rf"^\[+(.*\.)?{re.escape(key)}(\.|\])")
    return next((line for line in lines if said.search(line)), "") or next(
        (line for line in lines if table.search(line)), ""
    )


@frozen
class StyleKey:
    """An option or size of some styles: where it stands in a piece, and what it is in each."""

    place: str
    help: str
    allowed: str
    example: str
    styles: tuple[str, ...]


def style_keys(name: str) -> tuple[StyleKey, ...]:
    """The sizes and options of that name, or that begin with it as `window_width` does; those that
    say the same in several styles once."""
    found: dict[tuple[str, str, str], list[tuple[str, str]]] = {}
    for style in styles():
        for key, (dimension, _) in style.table.items():
            if key == name or key.startswith(f"{name}_"):
                place = f"piece.{TABLES[dimension.group]}.{key}"
                said = (place, dimension.value.help, allowed_of(dimension.value))
                line = f"{TABLES[dimension.group]} = {{ {key} = {shown(_telling(dimension))} }}"
                found.setdefault(said, []).append((style.name, line))
    return tuple(
        StyleKey(*said, uses[0][1], tuple(style for style, _ in uses))
        for said, uses in found.items()
    )


def _telling(dimension: Dimension) -> object:
    """An example that does something."""
    if isinstance(dimension.value, Word):
        return next(word for word in dimension.value.choices if word != "none")
    return True if isinstance(dimension.value, Flag) else dimension.example


def tables_named(name: str) -> tuple[Table, ...]:
    """The tables whose place is that, or ends so: "lettering", "piece.art"."""
    return tuple(
        table
        for table in all_tables()
        if any(_ends(place, name) or _ends(_bare(place), name) for place in table.places)
    )


def keys_named(name: str) -> tuple[tuple[Table, Key], ...]:
    """The keys of that name, or of that place, "sheets.gap", each with its table."""
    *outer, last = name.split(".")
    tables = tables_named(".".join(outer)) if outer else all_tables()
    return tuple((table, key) for table in tables for key in table.keys if key.name == last)


def known_names() -> tuple[str, ...]:
    """Every name that tables, keys and the styles' own dimensions have."""
    tables = {step for table in all_tables() for place in table.places for step in place.split(".")}
    keys = {key.name for table in all_tables() for key in table.keys}
    dimensions = {key for style in styles() for key in style.table}
    return tuple(sorted((tables | keys | dimensions) - {OWN_NAME}))


def _ends(place: str, name: str) -> bool:
    return f".{place}".endswith(f".{name}")


def _bare(place: str) -> str:
    """A place without the names of the user's own."""
    return ".".join(step for step in place.split(".") if step != OWN_NAME)


def _default(field: Declared) -> str:
    value = field.default
    if field.required and not isinstance(field.kind, Rest | Spread):
        return "needed"
    if isinstance(value, tuple):
        return ", ".join(map(shown, value)) or "-"
    if not isinstance(value, str | int | float):
        return "-"
    if isinstance(value, float | int) and not isinstance(value, bool):
        if value < getattr(field.kind, "least", value):
            return "-"  # 0 where none is asked for
        return f"{value:g} mm" if isinstance(field.kind, Length) else f"{value:g}"
    return shown(value)


def _example(of: type) -> str:
    match = _EXAMPLE.search(docstring_at(f"{of.__module__}:{of.__name__}") + "\n")
    return "" if match is None else dedent(match["example"]).strip("\n")
