"""Why something is not written, in the same way wherever files are."""

from __future__ import annotations

from pathlib import Path

from cutlayers.telling.refusals import Refusal


def reason(error: Exception) -> str:
    """Why the system refused, in its own words."""
    return getattr(error, "strerror", None) or str(error)


def blocked(place: Path, why: str, advice: str = "") -> Refusal:
    """A file or folder that is left as it is; `why` goes on from its name."""
    return Refusal(reason=why, fault="unwritable", file=str(place), advice=advice)


def unwritable(path: Path, error: Exception) -> Refusal:
    """What the system does not let us write."""
    return blocked(path, f"cannot be written ({reason(error)})")


def unreadable(path: Path, error: Exception) -> Refusal:
    """What the system does not let us read."""
    return Refusal(reason=f"cannot be read ({reason(error)})", fault="unreadable", file=str(path))


def taken(path: Path, advice: str) -> Refusal:
    """A new file whose name is not free."""
    return blocked(path, "is there already", advice)


def changed_meanwhile(path: Path) -> Refusal:
    """A file that is no longer what was read."""
    return blocked(path, "was changed by something else meanwhile", "try again")
