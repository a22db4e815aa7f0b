"""All files of a run in a folder, or none, and nobody else's file touched.

A hidden folder beside the files keeps the note of what we wrote (`manifest`), a lock, and what is
on its way. New files wait there until all of them are whole; then they take their places in one
change (`changing`).
"""

from __future__ import annotations

import contextlib
import os
from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace
from pathlib import Path

from cutlayers.frozen import frozen
from cutlayers.reading.user_paths import on_disk
from cutlayers.telling.errors import OutputError
from cutlayers.writing.changing import (
    LOCK,
    NEW,
    STATE,
    WRITTEN,
    Held,
    carry_out,
    finish,
    in_a_list,
    sum_of_ours,
    take_away,
)
from cutlayers.writing.lock import locked
from cutlayers.writing.manifest import (
    Change,
    Manifest,
    WrittenSet,
    is_plain,
    read_manifest,
    sum_of,
)
from cutlayers.writing.refusing import blocked, reason


@frozen
class Leave:
    """What may be written over: never one of `inputs`, which this run reads; what we cannot prove
    to have written, or what belongs to another `owner`, only with `overwrite`."""

    inputs: Collection[Path] = ()
    overwrite: bool = False
    owner: str = ""


USUAL_LEAVE = Leave()


def write_set(
    folder: Path,
    files: Mapping[str, bytes],
    label: str,
    leave: Leave = USUAL_LEAVE,
) -> None:
    """Write `files` (name → content) into `folder`, made if it is missing.

    Files of an earlier set with the same label that are not among them go. A file that is there
    already with the very content stays as it is.

    Raises OutputError, in one line that names the folder; then nothing has changed, or the line
    says what is left to be done.
    """
    with hold(folder) as held:
        with _in_one_line(held.place):
            stage = held.state / NEW
            stage.mkdir()
            for name, content in files.items():
                _plain(held.place, name)
                on_disk(stage / name).write_bytes(content)
        commit(held, label, {name: sum_of(content) for name, content in files.items()}, NEW, leave)


@contextlib.contextmanager
def hold(place: Path) -> Iterator[Held]:
    """Keep everybody else from writing into a folder, made if it is missing.

    What a run that was stopped left here is finished or taken away first. A folder that was made
    in vain goes again. Raises OutputError.
    """
    with contextlib.ExitStack() as stack:
        with _in_one_line(place):
            held = Held(place, Path(os.path.realpath(place)))
            stack.callback(_remove_empty, [held.state, *_missing(held.folder)])
            if held.state.is_symlink():
                raise OutputError(
                    blocked(held.state, "is a link, which cutlayers never makes there")
                )
            stack.enter_context(locked(held.state / LOCK, place))
            stack.callback(take_away, held)
            finish(held)
        yield held


def refuse_owned(held: Held, label: str, leave: Leave) -> None:
    """Raises OutputError where the set of that label belongs to somebody else."""
    there = read_manifest(held.state / WRITTEN).get(label)
    if there and there.owner and there.owner != leave.owner and not leave.overwrite:
        advice = "choose another folder with -o, or write over it with --overwrite"
        raise OutputError(blocked(held.place, f"holds {there.owner}", advice))


def commit(held: Held, label: str, sums: Mapping[str, str], stage: str, leave: Leave) -> None:
    """Make the files that wait in the folder `stage` of the hidden folder the set of that label.

    `sums` are their names with their sums. Raises OutputError as `write_set` does; the files then
    wait on.
    """
    refuse_owned(held, label, leave)
    manifest = read_manifest(held.state / WRITTEN)
    before = _replaceable(held, label, sums, manifest, leave)
    after = {
        other: replace(each, files=kept)
        for other, each in manifest.items()
        if other != label and (kept := {n: s for n, s in each.files.items() if n not in sums})
    }
    change = Change({**after, label: WrittenSet(sums, leave.owner)}, before, stage, label)
    with _in_one_line(held.place):
        for name, known in sums.items():
            if before.get(name) == known:  # there already
                on_disk(held.state / stage / name).unlink(missing_ok=True)
        carry_out(held, change)


def _replaceable(
    held: Held, label: str, sums: Mapping[str, str], manifest: Manifest, leave: Leave
) -> dict[str, str]:
    """What lies where the set changes something, with its sum; "" for what has none.

    Raises OutputError for what must not be touched.
    """
    known: dict[str, set[str]] = {}
    for each in manifest.values():
        for name, one in each.files.items():
            known.setdefault(name, set()).add(one)
    read = {_identity(path) for path in leave.inputs} - {None}
    earlier = manifest[label].files if label in manifest else {}
    there: dict[str, str] = {}
    strange = []
    for name in dict.fromkeys((*sums, *earlier)):
        path = on_disk(held.folder / name)
        if not os.path.lexists(path):
            continue
        if path.is_dir() and not path.is_symlink():
            if name in sums:
                why = "a folder of this name is in the way of a file"
                raise OutputError(blocked(held.place / name, why))
            continue
        if _identity(path) in read:
            advice = "write to another place with -o"
            raise OutputError(blocked(held.place / name, "is what this command reads", advice))
        now = sum_of_ours(path)
        there[name] = now or ""
        if now is None or now not in (*known.get(name, ()), sums.get(name)):
            strange.append(name)
    if strange and not leave.overwrite:
        raise OutputError(
            blocked(
                held.place,
                f"cutlayers did not write {in_a_list(strange)}, or it was changed since; nothing "
                "was changed",
                "choose another place with -o, or write over it with --overwrite",
            )
        )
    return there


def _identity(path: Path) -> tuple[int, int] | None:
    try:
        found = on_disk(path).stat()
    except (OSError, ValueError):
        return None
    return found.st_dev, found.st_ino


def _plain(place: Path, name: str) -> None:
    if not is_plain(name) or name == STATE:
        raise OutputError(blocked(place, f"{name!r} is not a plain file name"))


@contextlib.contextmanager
def _in_one_line(place: Path) -> Iterator[None]:
    """What the system refuses here, before anything was changed, as one line."""
    try:
        yield
    except OutputError:
        raise
    except (OSError, ValueError) as error:
        why = f"cannot write here ({reason(error)}); nothing was changed"
        raise OutputError(blocked(place, why)) from error


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
        except FileNotFoundError:  # it was not even made
            continue
        except OSError:
            return
