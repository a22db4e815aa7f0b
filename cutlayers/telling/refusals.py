"""What was refused in a file or a value, as facts; `telling.words` makes the lines of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

Place = tuple[str | int, ...]
"""Tables, keys and numbers in lists, from the outside in; lists are counted from 0."""

Fault = Literal["value", "missing", "unknown", "empty", "other"]


@dataclass(frozen=True, slots=True)
class Span:
    """Numbers that are allowed, limits inclusive; None sets no limit on that side.

    With `unit` "mm" the limits are lengths; other units are for people alone. `whole` asks for a
    whole number.
    """

    least: float | None = None
    most: float | None = None
    unit: str = ""
    whole: bool = False


@dataclass(frozen=True, slots=True)
class Refusal:
    """One thing that is wrong: where, what was found there, what is allowed.

    `fault` says which it is: a `value` that is not allowed, a key that is `missing` or
    `unknown` (then `allowed` are the known ones), a list that is `empty`, or `other`, which
    `reason` tells by itself. `place` is the key, `line` and `column` count from 1 in the file's
    text or table. `found` is the value as the file has it, None where there is none; `reason` is
    a clause about it, "leaves no room for the tab". `allowed` is a span of numbers, the words to
    choose from, or a description, "a text in quotes". `about` says what belongs there. `works` is
    a value that would be accepted, where one is known; `nearest` what was meant, perhaps.
    """

    fault: Fault = "other"
    file: str = ""
    place: Place = ()
    line: int | None = None
    column: int | None = None
    found: object = None
    reason: str = ""
    allowed: Span | tuple[str | int, ...] | str | None = None
    about: str = ""
    works: float | int | str | bool | None = None
    nearest: str | None = None

    def under(self, *outer: str | int) -> Refusal:
        """The same, seen from a table further out."""
        return replace(self, place=(*outer, *self.place))

    def within(self, file: str) -> Refusal:
        """The same, in that file."""
        return replace(self, file=file)


def found_in(file: str, refusals: Sequence[Refusal]) -> tuple[Refusal, ...]:
    """Refusals of one file, each told once."""
    return tuple(dict.fromkeys(refusal.within(file) for refusal in refusals))
