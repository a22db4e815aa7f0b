"""What a check found: facts about a job, never printed where they are found.

A finding holds no sentence. `telling.words` makes one from it, in the unit of the job, and
`telling.facts` makes data for scripts; nothing reads either back.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Any

from cutlayers.frozen import frozen
from cutlayers.telling.quantities import DIGITS, Quantity


class Severity(StrEnum):
    """How bad it is."""

    ERROR = "error"
    """The job does not work as it stands."""
    WARNING = "warning"
    """It works, but the maker should know."""
    NOTE = "note"
    """Worth knowing; nothing is wrong."""


@frozen
class Subject:
    """What a finding speaks of; only what applies is set.

    A `piece` is a box of the job by its name, `net` one of its blanks; with `beyond` it is the
    fold between `panel` and `beyond`. A `part` is what a line is to its piece, `operation` the
    work it takes. A `sheet` and a register `mark` go by their numbers, `art` by its place in the
    job file. A table of a kit has a `file`, `lines` counted from 1, and a `column`. `at` is a
    point in mm, of the flat net, or of the sheet where lines on a sheet are spoken of.
    """

    piece: str | None = None
    net: str | None = None
    panel: str | None = None
    beyond: str | None = None
    edge: str | None = None
    feature: str | None = None
    part: str | None = None
    operation: str | None = None
    at: tuple[float, float] | None = None
    sheet: int | None = None
    mark: int | None = None
    stock: str | None = None
    art: str | None = None
    file: str | None = None
    lines: tuple[int, ...] = ()
    column: str | None = None

    def __post_init__(self) -> None:
        if self.at is not None:
            x, y = self.at
            object.__setattr__(self, "at", (round(x, DIGITS) + 0.0, round(y, DIGITS) + 0.0))

    @property
    def panels(self) -> tuple[str, ...]:
        """The panels it names: none, one, or the two beside a fold."""
        return tuple(name for name in (self.panel, self.beyond) if name is not None)


@frozen
class Allowed:
    """What would be right, both limits inclusive; several quantities are those of `measured`, in
    its order. An empty tuple sets no limit on that side."""

    least: tuple[Quantity, ...] = ()
    most: tuple[Quantity, ...] = ()


@frozen
class Edit:
    """One change of a job file: the value at a key path, lists counted from 0; None takes the
    key away."""

    path: tuple[str | int, ...]
    value: Quantity | int | float | str | bool | None


@frozen
class Cure:
    """Changes of the job that together cure a finding."""

    edits: tuple[Edit, ...]


Detail = str | int | float | bool | Quantity | tuple[str, ...] | tuple[Quantity, ...]
"""What else the words of a finding need: a name, a number, which of several ways it is."""


@frozen
class Finding:
    """One fact: a stable `code` for scripts, what it speaks of, what was measured there and what
    is allowed.

    `others` are what it names beside its subject (the panel that a tab misses, the layers at a
    hole); where each of them has a measure of its own, `measured` follows their order. The page
    of the code says what is measured. `details` are pairs of a name and a value.
    """

    code: str
    severity: Severity
    subject: Subject
    measured: tuple[Quantity, ...] = ()
    allowed: Allowed | None = None
    others: tuple[Subject, ...] = ()
    details: tuple[tuple[str, Detail], ...] = ()
    cure: Cure | None = None

    def detail(self, name: str) -> Any:
        """The detail of that name; None where there is none."""
        return dict(self.details).get(name)

    @property
    def named(self) -> tuple[Subject, ...]:
        """All that it speaks of, its subject first."""
        return (self.subject, *self.others)


def details(**values: Detail) -> tuple[tuple[str, Detail], ...]:
    """Details for a finding, in the order in which they are given."""
    return tuple(values.items())


def at_least(*least: Quantity) -> Allowed:
    """Allowed from a limit upwards."""
    return Allowed(least=least)


def at_most(*most: Quantity) -> Allowed:
    """Allowed up to a limit."""
    return Allowed(most=most)
