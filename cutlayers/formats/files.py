"""The one place that puts finished bytes on the disk: all files of a run, or none."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Collection, Mapping
from pathlib import Path

from cutlayers.telling.errors import OutputError


def write_files(folder: Path, files: Mapping[str, bytes], outdated: Collection[str] = ()) -> None:
    """Write `files` (name → content) into `folder`, made if it is missing.

    `outdated` names files of an earlier run that go once the new ones are in place.

    Everything is first written to a hidden folder inside `folder`, so on the same disk, and only
    then moved over the earlier files, one atomic step each. When anything fails, a move in the
    middle included, the earlier files are put back from copies, and what was new is removed. Should
    the computer itself stop between two moves, every file is still whole, the old or the new one.

    Raises OutputError, in one line that names the folder; then nothing has changed.
    """
    for name in files:
        if name in ("", ".", "..") or Path(name).name != name or "\\" in name:
            raise OutputError(f"{folder}: {name!r} is not a plain file name")
    made = _missing(folder)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(
            dir=folder, prefix=".unfinished-", ignore_cleanup_errors=True
        ) as scratch:
            gone = {name: folder / name for name in outdated if name not in files}
            _write_by_way_of(Path(scratch), folder, files)
            for name, path in gone.items():
                if Path(name).name == name and path.is_file():
                    path.unlink()
    except OSError as error:
        _remove_empty(made)
        if isinstance(error, OutputError):
            raise
        reason = error.strerror or str(error)
        raise OutputError(f"{folder}: cannot write here ({reason}); nothing was changed") from error
    except BaseException:
        _remove_empty(made)
        raise


def _write_by_way_of(scratch: Path, folder: Path, files: Mapping[str, bytes]) -> None:
    fresh, earlier = scratch / "fresh", scratch / "earlier"
    fresh.mkdir()
    earlier.mkdir()
    for name, content in files.items():
        (fresh / name).write_bytes(content)
        target = folder / name
        if target.is_dir():
            raise OutputError(f"{target}: a folder of this name is in the way of a file")
        if target.exists():
            shutil.copy2(target, earlier / name)
    moved: list[str] = []
    try:
        for name in files:
            (fresh / name).replace(folder / name)
            moved.append(name)
    except BaseException:
        for name in moved:
            if (earlier / name).exists():
                (earlier / name).replace(folder / name)
            else:
                (folder / name).unlink()
        raise


def _missing(folder: Path) -> list[Path]:
    """The folders that have to be made for `folder`, the innermost first."""
    missing = []
    for place in (folder, *folder.parents):
        if place.exists():
            break
        missing.append(place)
    return missing


def _remove_empty(folders: list[Path]) -> None:
    for folder in folders:
        try:
            folder.rmdir()
        except OSError:
            return


def write_new_file(path: Path, content: bytes) -> None:
    """Write one new file whole, its folder made if it is missing.

    Raises OutputError where the file is there already or cannot be written.
    """
    if path.exists():
        raise OutputError(f"{path}: is there already; choose another name or remove it first")
    write_files(path.parent, {path.name: content})
