"""One dimension of a style, declared beside the value that the style works with.

The dimensions are fields of a frozen dataclass, declared with `size`, `option`, `proportion`,
`count`, `angle`, `choice` and `flag`: the same declarations that other tables of users' files have,
beside the table of a job that each stands in. Reading, schema, help and documentation are made of
them.
"""

from __future__ import annotations

import dataclasses
from typing import Any, Literal

from cutlayers.frozen import frozen
from cutlayers.reading.declared import Flag, Length, Number, Whole, Word

Group = Literal["size", "option"]


DEGREES = "degrees"


LARGEST = 2000.0
"""mm; no sheet in the trade of this tool is larger, so a longer panel is a slip of the unit."""


@frozen
class Dimension:
    """One dimension of a style: the table of a job that it stands in, and what it may be there.

    A value's help goes on from the dimension's name, "height" "of the walls". `example` is what a
    job to start from has: for what the style chooses where nothing is given, about what it chooses
    for its example sizes. `formerly` is a name that it had, which jobs are refused with.
    """

    group: Group
    value: Length | Whole | Number | Word | Flag
    example: float | str | bool
    formerly: str = ""

    @property
    def is_length(self) -> bool:
        """Whether it is a length, in mm."""
        return isinstance(self.value, Length)

    @property
    def least(self) -> float:
        """The least number that it may be. Raises TypeError for words."""
        return self._limits.least

    @property
    def most(self) -> float:
        """The largest number that it may be. Raises TypeError for words."""
        return self._limits.most

    @property
    def _limits(self) -> Length | Whole | Number:
        if isinstance(self.value, Word | Flag):
            raise TypeError("words have no limits")
        return self.value


def size(
    help: str,
    *,
    example: float,
    minimum: float = 1.0,
    maximum: float = LARGEST,
    formerly: str = "",
) -> Any:
    """A length in the job's `size` table, in mm."""
    return _field("size", Length(minimum, maximum, help), example, formerly)


def option(
    help: str,
    *,
    default: float,
    minimum: float = 0.0,
    maximum: float = LARGEST,
    formerly: str = "",
) -> Any:
    """A length in the job's `options` table, in mm."""
    return _field("option", Length(minimum, maximum, help), default, formerly)


def proportion(
    help: str,
    *,
    example: float,
    minimum: float = 0.0,
    maximum: float = LARGEST,
    formerly: str = "",
) -> Any:
    """A length in the job's `options` table, in mm; None, where it is not given, leaves it to the
    style, which chooses a proportion of its other dimensions."""
    dimension = Dimension("option", Length(minimum, maximum, help), example, formerly)
    return dataclasses.field(default=None, metadata={"dimension": dimension})


def count(help: str, *, default: int, minimum: int, maximum: int, group: Group = "option") -> Any:
    """A whole number."""
    return _field(group, Whole(minimum, maximum, help), default)


def angle(help: str, *, default: float, minimum: float, maximum: float) -> Any:
    """An angle in degrees."""
    return _field("option", Number(minimum, maximum, DEGREES, help), default)


def choice(help: str, *, default: str, choices: tuple[str, ...], formerly: str = "") -> Any:
    """One of a few words."""
    return _field("option", Word(help, choices), default, formerly)


def flag(help: str, *, default: bool) -> Any:
    """Yes or no."""
    return _field("option", Flag(help), default)


def _field(
    group: Group,
    value: Length | Whole | Number | Word | Flag,
    default: float | str | bool,
    formerly: str = "",
) -> Any:
    dimension = Dimension(group, value, default, formerly)
    return dataclasses.field(default=default, metadata={"dimension": dimension})
