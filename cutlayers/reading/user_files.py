"""The one way to read a user's file: only what is a file, and only so much of it.

A device never ends, a pipe waits for somebody to write into it, and a file that is far larger
than any of its kind would fill the memory before its reader finds out that it is none.
"""

from __future__ import annotations

import os
import stat
from collections.abc import Callable
from io import BufferedReader
from pathlib import Path

from cutlayers.reading.user_paths import on_disk
from cutlayers.reading.values import ValueRefused
from cutlayers.telling.nearest import nearest
from cutlayers.telling.refusals import Span

MEGABYTE = 1_000_000

_KINDS: tuple[tuple[Callable[[int], bool], str], ...] = (
    (stat.S_ISDIR, "a folder"),
    (stat.S_ISFIFO, "a pipe"),
    (stat.S_ISSOCK, "a socket"),
)


def read_user_file(path: Path, most_megabytes: int) -> bytes:
    """The whole content of a regular file of at most so many megabytes.

    Raises ValueRefused for anything else: "absent" with the nearest name beside it, or
    "unreadable" with the reason.
    """
    most = most_megabytes * MEGABYTE
    with open_user_file(path) as file:
        size = os.fstat(file.fileno()).st_size
        # One byte more than allowed tells a file that grows while it is read.
        content = file.read(most + 1) if size <= most else b""
    size = max(size, len(content))
    if size > most:
        raise ValueRefused(
            f"is too large, {size:,} bytes",
            fault="unreadable",
            allowed=Span(most=most_megabytes, unit="MB"),
        )
    return content


def open_user_file(path: Path) -> BufferedReader:
    """A regular file, to be read piece by piece. Raises ValueRefused for anything else."""
    try:
        path = on_disk(path)
        _check(path.stat())  # opening a device may already do something
        # Should a pipe have come meanwhile, this does not wait. Windows knows no such pipes.
        flags = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
        handle = os.open(path, flags)
        try:
            _check(os.fstat(handle))
        except BaseException:
            os.close(handle)
            raise
        return os.fdopen(handle, "rb")
    except FileNotFoundError:
        raise absent(path) from None
    except (OSError, ValueError) as error:
        if isinstance(error, ValueRefused):
            raise
        reason = getattr(error, "strerror", None) or "its name cannot be used"
        raise ValueRefused(f"cannot be read: {reason}", fault="unreadable") from None


def absent(path: Path, reason: str = "") -> ValueRefused:
    """That a file is not there, with the nearest name in its own folder, or that this is not there
    either."""
    try:
        advice = "" if path.parent.is_dir() else "its folder is not there either"
    except (OSError, ValueError):
        advice = ""
    return ValueRefused(reason, fault="absent", nearest=_nearest_beside(path), advice=advice)


def _check(status: os.stat_result) -> None:
    if stat.S_ISREG(status.st_mode):
        return
    kind = next((name for is_kind, name in _KINDS if is_kind(status.st_mode)), "a device")
    advice = "name the file in it" if stat.S_ISDIR(status.st_mode) else ""
    raise ValueRefused(f"is not a file but {kind}", fault="unreadable", advice=advice)


def _nearest_beside(path: Path) -> str | None:
    """What was meant, perhaps: rather a file of the same kind than another."""
    try:
        names = sorted({each.name for each in path.parent.iterdir()} - {path.name})
    except (OSError, ValueError):
        return None
    alike = [name for name in names if Path(name).suffix == path.suffix]
    return nearest(path.name, alike) or nearest(path.name, names)
