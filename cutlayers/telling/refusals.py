"""What was refused in a file or a value, as facts; `telling.refusing` makes the lines of them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import TYPE_CHECKING, Literal

from cutlayers.frozen import frozen

if TYPE_CHECKING:
    from cutlayers.telling.lengths import Unit

Place = tuple[str | int, ...]
"""Tables, keys and numbers in lists, from the outside in; lists are counted from 0."""

Fault = Literal[
    "value", "missing", "unknown", "empty", "absent", "unreadable", "unwritable", "usage", "other"
]


@frozen
class Span:
    """Numbers that are allowed, limits inclusive; None sets no limit on that side.

    With `unit` "mm" the limits are lengths; other units are for people alone. `whole` asks for a
    whole number. `zero` says what 0 does, "leaves it out", where 0 is allowed beside the span;
    `about` what the span gives, "four layers", where there are several to choose from.
    """

    least: float | None = None
    most: float | None = None
    unit: str = ""
    whole: bool = False
    zero: str = ""
    about: str = ""

    @property
    def example(self) -> float:
        """A number that is allowed: a limit, or 0 where there is none."""
        limit = self.most if self.least is None else self.least
        return 0.0 if limit is None else limit


Allowed = Span | tuple[Span, ...] | tuple[str | int, ...] | str
"""Numbers, one of several spans of them, words to choose from, or a description of what it must
be, "a text in quotes"."""


@frozen
class Refusal:
    """One thing that is wrong: where, what was found there, what is allowed.

    `fault` says which it is: a `value` that is not allowed, a key that is `missing` or `unknown`
    (then `allowed` are the known ones), a list that is `empty`, a file that is `absent`,
    `unreadable` or `unwritable`, the `usage` of a command, or `other`, which `reason` tells by
    itself. `place` is the key, an option of a command, or the name of a reading; `line` and
    `column` count from 1 in the file's text or table.
    `found` is the value as the file has it, None where there is none, a bare length in `unit`; what
    was measured and stands in no file is mm.
    `reason` goes on from the place, "is {}, which leaves no room for the tab", each of the
    `lengths` in mm in the place of a {}; without one the fault and what was found say it. `about`
    says what belongs there, `advice` what else to do. `works` is a value that would be accepted,
    where one is known; `nearest` what was meant, perhaps. `inside` is what is wrong further in: in
    the file that was found at the place, or in what the line of a table makes of the job.
    """

    place: Place = ()
    reason: str = ""
    fault: Fault = "other"
    file: str = ""
    line: int | None = None
    column: int | None = None
    found: object = None
    allowed: Allowed | None = None
    about: str = ""
    works: float | int | str | bool | None = None
    nearest: str | None = None
    unit: Unit = "mm"
    advice: str = ""
    inside: Refusal | None = None
    lengths: tuple[float, ...] = ()

    def under(self, *outer: str | int) -> Refusal:
        """The same, seen from a table further out."""
        return replace(self, place=(*outer, *self.place))

    def within(self, file: str) -> Refusal:
        """The same, in that file."""
        return replace(self, file=file)


def in_unit(unit: Unit, refusals: Iterable[Refusal]) -> tuple[Refusal, ...]:
    """The same refusals, which tell their lengths in that unit as well."""
    return tuple(replace(refusal, unit=unit) for refusal in refusals)


def verbatim(text: str) -> str:
    """A user's text for a reason that has lengths: no {} in it is taken for the place of one."""
    return text.replace("{}", "{ }")


def within(file: str, refusals: Iterable[Refusal]) -> tuple[Refusal, ...]:
    """The same refusals, in that file."""
    return tuple(refusal.within(file) for refusal in refusals)
