"""What is worked inside a panel: holes, slits, tear lines and guide lines."""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum

from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Operation, Part
from cutlayers.telling.errors import NetError


class Work(StrEnum):
    """What is done inside a panel, apart from its border."""

    PUNCH = "punch"
    """A round hole that other layers may have to match."""
    WINDOW = "window"
    """Any other closed opening."""
    SLIT = "slit"
    """An open cut."""
    TEAR = "tear"
    """A line of perforation that is not a fold."""
    GUIDE = "guide"
    """A drawn line or a letter."""

    @property
    def operation(self) -> Operation:
        """The operation that makes it."""
        return {Work.TEAR: Operation.PERFORATE, Work.GUIDE: Operation.DRAW}.get(self, Operation.CUT)

    @property
    def part(self) -> Part:
        """How the tool's width is taken up."""
        if self in (Work.PUNCH, Work.WINDOW):
            return Part.OPENING
        return Part.MARK if self is Work.GUIDE else Part.SLIT


@frozen
class Feature:
    """A path worked inside a panel; punches and windows are closed, slits and tear lines open.

    `closes` says that a ribbon or band goes through it to hold the box shut.
    A `traced` one is a free shape, such as a letter, that nobody measures out with a ruler; of
    letters `turn_deg` says how far they are turned to the left on the flat net.

    Raises NetError where a path is open that must be closed, or the other way round.
    """

    work: Work
    path: Path
    name: str
    closes: bool = False
    traced: bool = False
    turn_deg: float | None = None

    def __post_init__(self) -> None:
        if self.work is not Work.GUIDE and self.path.closed != (self.work.part is Part.OPENING):
            wanted = "an open" if self.path.closed else "a closed"
            raise NetError(f"{self.work} {self.name!r} needs {wanted} path")


def guides(features: Iterable[Feature]) -> tuple[Feature, ...]:
    """The guide lines among some features: drawn, but no letters."""
    return tuple(each for each in features if each.work is Work.GUIDE and not each.traced)


def lettering(features: Iterable[Feature]) -> tuple[Feature, ...]:
    """The letters that are drawn among some features: free shapes, not guide lines."""
    return tuple(each for each in features if each.work is Work.GUIDE and each.traced)
