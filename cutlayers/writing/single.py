"""One file put on the disk whole or not at all.

A new file is written beside its place under a name of its own, and only then takes the place in
one step. Whatever happens in between, what lies there is the old or the new one.
"""

from __future__ import annotations

import contextlib
import os
import shutil
import tempfile
import time
from collections.abc import Iterator, Sequence
from pathlib import Path

from cutlayers.reading.user_files import open_user_file
from cutlayers.reading.values import ValueRefused
from cutlayers.telling.errors import OutputError
from cutlayers.writing.lasting import settle_folders
from cutlayers.writing.refusing import changed_meanwhile, taken, unwritable

PREFIX, UNFINISHED = ".cutlayers-", ".unfinished"
"""How the name of a half written file begins and ends."""

KEPT = ".old"
"""What is put behind the name of a file that somebody wrote by hand, when we change it."""

STALE_S = 3600.0
"""Seconds after which a file that a stopped run left behind is surely nobody's any more."""


def put(path: Path, content: bytes) -> None:
    """Write a file, over an earlier one of that name too; it outlasts a power cut.

    Its folder is made if it is missing; an earlier file's mode stays. Raises OSError.
    """
    with _written_beside(path, content) as fresh:
        if path.exists():
            shutil.copymode(path, fresh)
        fresh.replace(path)
    settle_folders(path.parent)


def put_over(path: Path, before: bytes, content: bytes, last: Path) -> None:
    """Put new content in the place of a file's, and the old under the name `last`, over what was
    kept there. Raises OSError; then both are as they were."""
    with contextlib.ExitStack() as stack:
        fresh = stack.enter_context(_written_beside(path, content))
        kept = stack.enter_context(_written_beside(last, before))
        older = None
        if last.exists():
            older = stack.enter_context(_written_beside(last, last.read_bytes()))
        if path.exists():
            shutil.copymode(path, fresh)
        try:
            kept.replace(last)
            fresh.replace(path)
        except BaseException:
            if fresh.exists():
                if older is None:
                    last.unlink(missing_ok=True)
                else:
                    older.replace(last)
            raise
    settle_folders(path.parent)


def put_new(path: Path, content: bytes) -> None:
    """Write a file that is not there yet, its folder made if it is missing.

    Raises OutputError where something of that name is there already, however late it came, or
    where it cannot be written.
    """
    there = taken(path, "choose another name or remove it first")
    try:
        if os.path.lexists(path):
            raise OutputError(there)
        with _written_beside(path, content) as fresh:
            try:
                os.link(fresh, path)
            except FileExistsError:
                raise OutputError(there) from None
            except OSError:  # a file system without links
                if os.path.lexists(path):
                    raise OutputError(there) from None
                fresh.replace(path)
        settle_folders(path.parent)
    except (OSError, ValueError) as error:
        if isinstance(error, OutputError):
            raise
        raise OutputError(unwritable(path, error)) from None


def put_all_new(files: Sequence[tuple[Path, bytes]]) -> None:
    """`put_new` for several files: all of them, or none. Raises OutputError as that does."""
    written: list[Path] = []
    try:
        for path, content in files:
            put_new(path, content)
            written.append(path)
    except OutputError:
        for path in written:
            path.unlink(missing_ok=True)
        raise


def put_kept(path: Path, before: bytes, content: bytes) -> Path:
    """Put new content in the place of a file, and keep the old under a free name beside it, which
    is returned: `box.toml.old`, `box.toml.old-2` and so on. Of a link, the file it leads to.

    Raises OutputError where the file is no longer what was read, or cannot be written; then it is
    as it was.
    """
    try:
        path = Path(os.path.realpath(path))
        expect(path, before)
        kept, number = path.with_name(path.name + KEPT), 1
        while os.path.lexists(kept):
            number += 1
            kept = path.with_name(f"{path.name}{KEPT}-{number}")
        put_new(kept, before)
        try:
            put(path, content)
        except BaseException:
            with contextlib.suppress(OutputError):
                expect(path, before)
                kept.unlink()
            raise
    except OSError as error:
        if isinstance(error, OutputError):
            raise
        raise OutputError(unwritable(path, error)) from None
    return kept


def expect(path: Path, content: bytes) -> None:
    """Raises OutputError where a file is no longer what was read."""
    try:
        with open_user_file(path) as file:
            if file.read(len(content) + 1) == content:
                return
    except ValueRefused:
        pass
    raise OutputError(changed_meanwhile(path))


@contextlib.contextmanager
def _written_beside(path: Path, content: bytes) -> Iterator[Path]:
    """The new file under a name of its own, for as long as it has not taken its place."""
    path.parent.mkdir(parents=True, exist_ok=True)
    _sweep(path.parent)
    descriptor, name = tempfile.mkstemp(dir=path.parent, prefix=PREFIX, suffix=UNFINISHED)
    fresh = Path(name)
    try:
        with os.fdopen(descriptor, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        fresh.chmod(0o644)
        yield fresh
    finally:
        with contextlib.suppress(OSError):
            fresh.unlink(missing_ok=True)


def _sweep(folder: Path) -> None:
    """Remove what a save into this folder left behind when the computer stopped."""
    for left in folder.glob(f"{PREFIX}*{UNFINISHED}"):
        with contextlib.suppress(OSError):
            if time.time() - left.stat().st_mtime > STALE_S:
                left.unlink()
