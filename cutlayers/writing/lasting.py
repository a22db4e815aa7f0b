"""What outlasts a power cut: files and names that the system was told to put on the disk.

A system may keep what is written for itself for half a minute, and need not put it down in the
order in which it came: a new name then stands on the disk before the content it names.
"""

from __future__ import annotations

import contextlib
import errno
import os
from collections.abc import Iterable
from pathlib import Path

CANNOT = {errno.EINVAL, errno.ENOTSUP, errno.EBADF, errno.EACCES, errno.EPERM, errno.EISDIR}
"""What a system answers that puts no folder down by itself, or of a folder that cannot be read."""


def settle_files(paths: Iterable[Path]) -> None:
    """Put the contents of files on the disk. Raises OSError."""
    for path in paths:
        with path.open("r+b") as file:
            os.fsync(file.fileno())


def settle_folders(*folders: Path) -> None:
    """Put the names in folders on the disk, where the system can. Raises OSError."""
    if os.name == "nt":  # there a folder cannot be opened
        return
    for folder in folders:
        with contextlib.ExitStack() as stack:
            try:
                descriptor = os.open(folder, os.O_RDONLY)
                stack.callback(os.close, descriptor)
                os.fsync(descriptor)
            except OSError as error:
                if error.errno not in CANNOT:
                    raise
