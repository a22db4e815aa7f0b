"""What a value of a user's file may be, declared once: beside the value that the core works with.

A field of a frozen dataclass says it in its type, `cut: Annotated[float, Length(0.2, 50, "length
of each cut")] = 3.0`. From that one line the file is read and checked (`tables.py`), and the JSON
Schema (`schema.py`), the help and the questions of `cutlayers profile new` are made.

`help` is for people; limits are inclusive. What the type of the field says already, such as the
words of a Literal, is left out and found there.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from cutlayers.reading import values
from cutlayers.telling.lengths import Unit


@dataclass(frozen=True, slots=True)
class Length:
    """A length; limits and what comes out are mm, a bare number counts in the file's unit."""

    least: float
    most: float
    help: str = ""


@dataclass(frozen=True, slots=True)
class Number:
    """A number of some other unit, which is for people alone."""

    least: float
    most: float
    unit: str
    help: str = ""


@dataclass(frozen=True, slots=True)
class Whole:
    """A whole number."""

    least: int
    most: int
    help: str = ""


@dataclass(frozen=True, slots=True)
class Word:
    """One of a few words or numbers, of a Literal or a StrEnum; `made` turns the word into the
    value."""

    help: str = ""
    choices: tuple[str | int, ...] = ()
    made: Callable[[Any], Any] | None = None


@dataclass(frozen=True, slots=True)
class Flag:
    """Yes or no."""

    help: str = ""


@dataclass(frozen=True, slots=True)
class Day:
    """A date."""

    help: str = ""


@dataclass(frozen=True, slots=True)
class Text:
    """A text that `checked` looks at: it gives the value, or raises ValueRefused. `pattern` tells
    an editor about it."""

    help: str = ""
    checked: Callable[[object], Any] = values.read_text
    pattern: str | None = None


def a_colour(help: str) -> Text:
    """A colour, #RRGGBB."""
    return Text(help, values.read_colour, "^#[0-9A-Fa-f]{6}$")


def a_layer(help: str) -> Text:
    """A layer's name that every format can hold."""
    return Text(help, values.read_layer, "^[A-Za-z][A-Za-z0-9_-]{0,30}$")


@dataclass(frozen=True, slots=True)
class Special:
    """A value with a way of its own to be `read` from what the file has and the unit of bare
    lengths (ValueRefused where it cannot be), and what JSON Schema can say of it."""

    help: str
    read: Callable[[object, Unit], Any]
    schema: Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Inner:
    """A table inside; `of` is the dataclass it becomes."""

    help: str = ""
    of: type | None = None


@dataclass(frozen=True, slots=True)
class Several:
    """A list of tables or values. `item` is what one of them may be, `each` says what it is. With
    `needed` an empty list is refused."""

    help: str = ""
    each: str = ""
    item: Any = None
    needed: bool = False


@dataclass(frozen=True, slots=True)
class Named:
    """A table of tables under names of the user's own, otherwise as Several."""

    help: str = ""
    each: str = ""
    item: Any = None
    needed: bool = False


@dataclass(frozen=True, slots=True)
class Loose:
    """A table of anything, which is read where more is known about it."""

    help: str = ""


@dataclass(frozen=True, slots=True)
class Rest:
    """Where the keys go that are not declared; `item` is what their values may be."""

    item: Any


@dataclass(frozen=True, slots=True)
class Spread:
    """A mapping whose keys, the members of a StrEnum, stand in the table itself."""

    help: str = ""
    item: Any = None
    keys: tuple[Any, ...] = ()


@dataclass(frozen=True, slots=True)
class OwnName:
    """The name under which the table itself stands."""


@dataclass(frozen=True, slots=True)
class Key:
    """The file's key for a field that cannot have the same name."""

    name: str


OneValue = Length | Number | Whole | Word | Flag | Day | Text | Special
KeyKind = OneValue | Inner | Several | Named | Loose | Rest | Spread | OwnName
