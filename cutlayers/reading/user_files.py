"""A user's file as bytes: only what is a file, and only so much of it.

A device never ends, a pipe waits for somebody to write into it, and a file that is far larger
than any of its kind would fill the memory before its reader finds out that it is none.
"""

from __future__ import annotations

import os
import stat
from pathlib import Path

MEGABYTE = 1_000_000


class UserFileError(ValueError):
    """A file that is not read; the message is the reason, for people."""


def read_user_file(path: Path, most_megabytes: int) -> bytes:
    """The whole content of a regular file of at most so many megabytes.

    Raises UserFileError for anything else, with the reason.
    """
    # Opening a pipe to read would wait; with this flag it does not. Windows knows no such pipes.
    flags = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
    try:
        handle = os.open(path, flags)
        try:
            _checked(os.fstat(handle), most_megabytes)
            # One byte more than allowed tells a file that grows while it is read.
            with os.fdopen(handle, "rb", closefd=False) as file:
                content = file.read(most_megabytes * MEGABYTE + 1)
        finally:
            os.close(handle)
    except OSError as error:
        raise UserFileError(error.strerror or str(error)) from None
    except UserFileError:
        raise
    except ValueError:
        raise UserFileError("the name holds a character that no file's name has") from None
    if len(content) > most_megabytes * MEGABYTE:
        raise UserFileError(f"it has more than the {most_megabytes} MB that are read")
    return content


def _checked(status: os.stat_result, most_megabytes: int) -> None:
    if not stat.S_ISREG(status.st_mode):
        raise UserFileError("it is a folder" if stat.S_ISDIR(status.st_mode) else "it is no file")
    if status.st_size > most_megabytes * MEGABYTE:
        raise UserFileError(
            f"it has {status.st_size / MEGABYTE:.0f} MB; at most {most_megabytes} MB are read"
        )
