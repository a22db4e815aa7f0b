"""Where a path leads that a user wrote."""

from __future__ import annotations

from pathlib import Path


def user_path(written: str) -> Path:
    """A path with ~ for a home folder; where that is not known, `~` is a name as any other."""
    try:
        return Path(written).expanduser()
    except RuntimeError:
        return Path(written)
