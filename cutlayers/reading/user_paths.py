"""Where a path leads that a user wrote, under every locale."""

from __future__ import annotations

import os
from pathlib import Path


def user_path(written: str) -> Path:
    """A path with ~ for a home folder; where that is not known, `~` is a name as any other."""
    path = on_disk(Path(written))
    try:
        return path.expanduser()
    except RuntimeError:
        return path


def on_disk(path: Path) -> Path:
    """A path as the system can be asked for it.

    The locale says which letters names may have; where it lacks some of them, the name is written
    as UTF-8 all the same, as under any other locale. Raises UnicodeEncodeError for halves of
    letters, which no name has.
    """
    try:
        os.fsencode(path)
    except UnicodeEncodeError:
        return Path(os.fsdecode(str(path).encode("utf-8")))
    return path


def named_from(folder: Path, path: Path) -> str:
    """How a file in that folder names another."""
    try:
        return Path(os.path.relpath(path, folder)).as_posix()
    except ValueError:  # on another drive
        return str(path.resolve())
