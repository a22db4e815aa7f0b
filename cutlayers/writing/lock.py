"""One writer at a time in a folder.

The system's own lock on a small file: it is let go when its process ends, however it ends, so
that a run that was killed never keeps the next one out.
"""

from __future__ import annotations

import contextlib
import errno
import os
import platform
from collections.abc import Iterator
from pathlib import Path

from cutlayers.reading.user_files import read_user_file
from cutlayers.telling.errors import OutputError
from cutlayers.writing.refusing import blocked

TRIES = 20
"""How often a lock that another process takes away while it is being taken is looked for anew."""

FAR = 1 << 30
"""Bytes; where the lock lies in its file, so that its first line can be read by all (Windows keeps
others from reading what is locked)."""


@contextlib.contextmanager
def locked(path: Path, place: Path) -> Iterator[None]:
    """Hold the lock file `path` in a folder that is made if it is missing; gone afterwards.

    Raises OutputError where another process holds it, saying which one writes into `place`;
    OSError where the file cannot be made.
    """
    descriptor = _taken(path, place)
    try:
        with contextlib.suppress(OSError):  # a full disk keeps a name out, not the lock
            os.write(descriptor, f"process {os.getpid()} on {platform.node()}\n".encode())
        yield
    finally:
        if os.name != "nt":
            with contextlib.suppress(OSError):
                path.unlink()
        os.close(descriptor)
        if os.name == "nt":
            with contextlib.suppress(OSError):
                path.unlink()


def _taken(path: Path, place: Path) -> int:
    for _ in range(TRIES):
        path.parent.mkdir(parents=True, exist_ok=True)
        try:
            descriptor = os.open(path, os.O_RDWR | os.O_CREAT, 0o644)
        except FileNotFoundError:  # the one before has just tidied up
            continue
        try:
            if not _lock(descriptor):
                by = f"is being written by {_holder(path)}"
                raise OutputError(blocked(place, by, "wait until it is done"))
            if _is_still(path, descriptor):
                os.truncate(descriptor, 0)
                return descriptor
        except BaseException:
            os.close(descriptor)
            raise
        os.close(descriptor)
    raise OutputError(blocked(place, "is being written by other processes", "try again"))


def _lock(descriptor: int) -> bool:
    """Take the lock if it is free; True as well on a file system that knows no locks."""
    try:
        if os.name == "nt":
            import msvcrt

            os.lseek(descriptor, FAR, os.SEEK_SET)
            try:
                msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)  # type: ignore[attr-defined,unused-ignore]
            finally:
                os.lseek(descriptor, 0, os.SEEK_SET)
        else:
            import fcntl

            fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError as error:
        return error.errno in (errno.ENOLCK, errno.ENOTSUP, errno.ENOSYS)
    return True


def _is_still(path: Path, descriptor: int) -> bool:
    """Whether the name still leads to the file that was locked."""
    try:
        return os.path.samestat(path.stat(), os.fstat(descriptor))
    except OSError:
        return False


def _holder(path: Path) -> str:
    try:
        return read_user_file(path, 1).decode("utf-8").strip() or "another process"
    except ValueError:
        return "another process"
