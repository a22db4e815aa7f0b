"""Every error a maker can cause, as one short tree.

    CutlayersError
    ├── LengthError        a text that is not a length
    ├── PathError          a path that cannot exist, or an operation it does not allow
    │   └── CollapseError  an offset that would swallow a part of the path
    ├── NetError           panels that do not fit together
    ├── StyleError         a dimension outside what a style can fold
    ├── JobError           the job file
    ├── ProfileError       the profile file
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


class CutlayersError(Exception):
    """Something the user can put right; the command line prints it and exits with 2."""


class LengthError(CutlayersError, ValueError):
    """A text or number that is not a length."""


class PathError(CutlayersError, ValueError):
    """A path that cannot exist, or an operation that this path does not allow."""


class CollapseError(PathError):
    """An offset distance that would swallow a part of the path; `place` is where, in mm."""

    def __init__(self, message: str, place: tuple[float, float]) -> None:
        super().__init__(message)
        self.place = place


class NetError(CutlayersError, ValueError):
    """Panels that do not fit together."""


class StyleError(CutlayersError, ValueError):
    """A dimension outside what a style can fold; `field` names the dimension."""

    def __init__(self, field: str, message: str) -> None:
        super().__init__(f"{field} {message}")
        self.field = field
        self.message = message


class JobError(CutlayersError, ValueError):
    """The job file cannot be read or asks for something impossible."""


class ProfileError(CutlayersError, ValueError):
    """The profile file cannot be read or asks for something impossible."""


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
