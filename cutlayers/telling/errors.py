"""Every error a maker can cause, as one short tree.

    CutlayersError
    ├── LengthError        a text that is not a length
    ├── PathError          a path that cannot exist, or an operation it does not allow
    │   └── CollapseError  an offset that would swallow a part of the path
    ├── NetError           panels that do not fit together
    ├── StyleError         a dimension outside what a style can fold
    ├── JobError           the job file
    ├── ProfileError       the profile file
    ├── DrawingError       a drawing from outside
    ├── LetteringError     text that cannot be lettered, or has no room
    ├── TrialError         readings of a trial that cannot be, or a trial that makes no sense
    ├── PlacementError     a piece that no sheet can hold
    ├── AlignError         register marks that do not say where a sheet lies
    └── OutputError        files that cannot be written

Beside the tree, since nothing is wrong and nobody need put anything right:

    Cancelled              work that was called off before it was done

A message is one line: where, what was found, what is allowed, and the likely repair.
"""

from __future__ import annotations

from dataclasses import replace

from cutlayers.telling.refusals import Allowed, Refusal, Span


class CutlayersError(Exception):
    """Something the user can put right; the command line prints it and exits with 2.

    It is made of `refusals`, one or more, each a line of the message.
    """

    def __init__(self, *refused: Refusal) -> None:
        from cutlayers.telling.refusing import refused_lines  # reads lengths, which raise these

        super().__init__(refused_lines(refused))
        self.refusals = refused


class LengthError(CutlayersError, ValueError):
    """A text or number that is not a length; `reason` goes on from it."""

    def __init__(self, value: float | str, reason: str) -> None:
        super().__init__(Refusal(reason=f"{value!r} {reason}", found=value))
        self.reason = reason


class PathError(CutlayersError, ValueError):
    """A path that cannot exist, or an operation that this path does not allow."""

    def __init__(self, reason: str) -> None:
        super().__init__(Refusal(reason=reason))


class CollapseError(PathError):
    """An offset distance that would swallow a part of the path; `place` is where, in mm."""

    def __init__(self, reason: str, place: tuple[float, float]) -> None:
        super().__init__(reason)
        self.place = place


class NetError(CutlayersError, ValueError):
    """Panels that do not fit together."""

    def __init__(self, reason: str) -> None:
        super().__init__(Refusal(reason=reason))


class StyleError(CutlayersError, ValueError):
    """A dimension outside what a style can fold; `field` names the dimension.

    `reason` goes on from the field, "is {}, too short for tabs", each of the `lengths` in mm in the
    place of a {}; `allowed` are the numbers that do, or `works` one word that does; `works` is
    taken from `allowed` where there is no word. A whole refusal in place of the reason says all of
    this by itself.
    """

    def __init__(
        self,
        field: str,
        reason: str | Refusal,
        allowed: Allowed | None = None,
        works: float | int | str | None = None,
        lengths: tuple[float, ...] = (),
    ) -> None:
        if works is None and allowed is not None:
            first = allowed[0] if isinstance(allowed, tuple) else allowed
            works = first.example if isinstance(first, Span) else None
        place = tuple(field.split("."))
        if isinstance(reason, str):
            refusal = Refusal(place, reason, "value", allowed=allowed, works=works, lengths=lengths)
        else:
            refusal = replace(reason, place=place)
        super().__init__(refusal)
        self.field = field

    @property
    def refusal(self) -> Refusal:
        """What is wrong; its place is the field."""
        return self.refusals[0]

    @property
    def works(self) -> float | int | str | bool | None:
        """A value for the field that would be accepted, where one is known."""
        return self.refusal.works


class JobError(CutlayersError, ValueError):
    """The job file cannot be read or asks for something impossible."""


class ProfileError(CutlayersError, ValueError):
    """The profile file cannot be read or asks for something impossible."""


class DrawingError(CutlayersError, ValueError):
    """A drawing from outside that cannot be read, or that does not say what was asked of it."""


class LetteringError(CutlayersError, ValueError):
    """Text that cannot be lettered with a face or font, or that has no room on its panel."""


class TrialError(CutlayersError, ValueError):
    """Readings of a trial that cannot be, or a trial that makes no sense for a machine."""


class PlacementError(CutlayersError, ValueError):
    """A piece that no sheet of its stock can hold."""


class AlignError(CutlayersError, ValueError):
    """Register marks that cannot be found, or that do not say where a sheet lies."""


class OutputError(CutlayersError, OSError):
    """Files that cannot be written."""


class Cancelled(Exception):  # noqa: N818 - nothing is wrong; it was asked for
    """Work that was called off before it was done; there is no result."""
