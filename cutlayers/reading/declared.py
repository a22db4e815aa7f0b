"""What a value of a user's file may be, declared once: beside the value that the core works with.

A field of a frozen dataclass says it in its type, `cut: Annotated[float, Length(0.2, 50, "length
of each cut")] = 3.0`. From that one line the file is read and checked (`tables.py`), and the JSON
Schema (`schema.py`), the help and the questions of `cutlayers profile new` are made.

`help` is for people; limits are inclusive. What the type of the field says already, such as the
words of a Literal, is left out and found there. What holds one value can `read` it (a bare length
counts in the unit of the file; ValueRefused where it cannot be) and says what JSON Schema can say
of it, its help apart.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from typing import Any

from cutlayers.frozen import frozen
from cutlayers.reading import values
from cutlayers.telling.lengths import Unit


@frozen
class Length:
    """A length; limits and what comes out are mm, a bare number counts in the file's unit."""

    least: float
    most: float
    help: str = ""

    def read(self, value: object, unit: Unit) -> float:
        """In mm."""
        return values.read_length(value, unit, self.least, self.most)

    def schema(self, unit: Unit | None) -> dict[str, Any]:
        """Limits are told only where a bare number is mm: a schema cannot know what else it is."""
        limits = {"unit": "mm", "minimum": self.least, "maximum": self.most} if unit == "mm" else {}
        return {"type": ["number", "string"], **limits}


@frozen
class Number:
    """A number of some other unit, which is for people alone."""

    least: float
    most: float
    unit: str
    help: str = ""

    def read(self, value: object, _unit: Unit) -> float:
        """Within the limits."""
        return values.read_number(value, self.least, self.most, self.unit)

    def schema(self, _unit: Unit | None) -> dict[str, Any]:
        """With the unit beside it, for people."""
        limits = {"minimum": self.least, "maximum": self.most}
        return {"type": "number", "unit": self.unit or "-", **limits}


@frozen
class Whole:
    """A whole number."""

    least: int
    most: int
    help: str = ""

    def read(self, value: object, _unit: Unit) -> int:
        """Within the limits."""
        return values.read_whole(value, self.least, self.most)

    def schema(self, _unit: Unit | None) -> dict[str, Any]:
        """With its limits."""
        return {"type": "integer", "minimum": self.least, "maximum": self.most}


@frozen
class Word:
    """One of a few words or numbers, of a Literal or a StrEnum; `made` turns the word into the
    value."""

    help: str = ""
    choices: tuple[str | int, ...] = ()
    made: Callable[[Any], Any] | None = None

    def read(self, value: object, _unit: Unit) -> Any:
        """The value that the word stands for."""
        word = values.read_choice(value, self.choices)
        return word if self.made is None else self.made(word)

    def schema(self, _unit: Unit | None) -> dict[str, Any]:
        """The words."""
        return {"enum": list(self.choices)}


@frozen
class Flag:
    """Yes or no."""

    help: str = ""

    def read(self, value: object, _unit: Unit) -> bool:
        """Yes or no."""
        return values.read_flag(value)

    def schema(self, _unit: Unit | None) -> dict[str, Any]:
        """A boolean."""
        return {"type": "boolean"}


@frozen
class Day:
    """A date."""

    help: str = ""

    def read(self, value: object, _unit: Unit) -> date:
        """A day."""
        return values.read_date(value)

    def schema(self, _unit: Unit | None) -> dict[str, Any]:
        """A text, since JSON has no days."""
        return {"type": "string", "format": "date"}


@frozen
class Text:
    """A text that `checked` looks at: it gives the value, or raises ValueRefused. `pattern` tells
    an editor about it."""

    help: str = ""
    checked: Callable[[object], Any] = values.read_text
    pattern: str | None = None

    def read(self, value: object, _unit: Unit) -> Any:
        """What `checked` makes of it."""
        return self.checked(value)

    def schema(self, _unit: Unit | None) -> dict[str, Any]:
        """With its pattern, if it has one."""
        return {"type": "string", **({} if self.pattern is None else {"pattern": self.pattern})}


def a_colour(help: str) -> Text:
    """A colour, #RRGGBB."""
    return Text(help, values.read_colour, "^#[0-9A-Fa-f]{6}$")


def a_file(help: str) -> Text:
    """A file, from where the job is. Its key is `file`, but for the drawing that takes the place
    of a style."""
    return Text(help, values.read_path)


def a_layer(help: str) -> Text:
    """A layer's name that every format can hold."""
    return Text(help, values.read_layer, "^[A-Za-z][A-Za-z0-9_-]{0,30}$")


@frozen
class Special:
    """A value with a way of its own to be `read`, and what JSON Schema can say of it."""

    help: str
    read: Callable[[object, Unit], Any]
    said: Mapping[str, Any]

    def schema(self, _unit: Unit | None) -> dict[str, Any]:
        """As it is said."""
        return dict(self.said)


@frozen
class Inner:
    """A table inside; `of` is the dataclass it becomes."""

    help: str = ""
    of: type | None = None


@frozen
class Several:
    """A list of tables or values. `item` is what one of them may be, `each` says what it is. With
    `needed` an empty list is refused."""

    help: str = ""
    each: str = ""
    item: Any = None
    needed: bool = False


@frozen
class Named:
    """A table of tables under names of the user's own, otherwise as Several."""

    help: str = ""
    each: str = ""
    item: Any = None
    needed: bool = False


@frozen
class Loose:
    """A table of anything, which is read where more is known about it."""

    help: str = ""


@frozen
class Rest:
    """Where the keys go that are not declared; `item` is what their values may be."""

    item: Any


@frozen
class Spread:
    """A mapping whose keys, the members of a StrEnum, stand in the table itself."""

    help: str = ""
    item: Any = None
    keys: tuple[Any, ...] = ()


@frozen
class OwnName:
    """The name under which the table itself stands."""


@frozen
class Key:
    """The file's key for a field that cannot have the same name."""

    name: str


OneValue = Length | Number | Whole | Word | Flag | Day | Text | Special
KeyKind = OneValue | Inner | Several | Named | Loose | Rest | Spread | OwnName
