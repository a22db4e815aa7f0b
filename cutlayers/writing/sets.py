"""All files of a run in a folder, or none, and nobody else's file touched.

A hidden folder beside the files keeps the note of what we wrote (`manifest`), a lock, and what is
on its way. New files wait there until all of them are whole. Then a small file that says what is
to change is put down in one step: from that moment the new set holds, and a run that is killed is
finished by the next one that writes here. First all files of the old set that change are moved
out, then all new ones in, so that what is seen in between is a part of one set and never a mix.
When a move fails, or somebody interrupts, everything is moved back.

All this holds when the power fails, too. What waits is on the disk before the small file says so,
that file before the first move, and all moves before it goes again.
"""

from __future__ import annotations

import contextlib
import os
import shutil
from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace
from pathlib import Path

from cutlayers.frozen import frozen
from cutlayers.reading.user_paths import on_disk
from cutlayers.telling.errors import OutputError
from cutlayers.writing.lasting import settle_files, settle_folders
from cutlayers.writing.lock import locked
from cutlayers.writing.manifest import (
    Change,
    Manifest,
    WrittenSet,
    change_bytes,
    is_plain,
    manifest_bytes,
    read_change,
    read_manifest,
    sum_at,
    sum_of,
)
from cutlayers.writing.refusing import blocked, reason

STATE = ".cutlayers"
"""The hidden folder."""

WRITTEN, AFTER = "written.json", "after.json"
"""The note of what was written, and the one that takes its place."""

CHANGE, COMING = "change.json", "coming.json"
"""What is being changed, once all of it waits, and the same while it is written down."""

NEW, OLD, LOCK = "new", "old", "lock"

MOST_NAMED = 12
"""Files that a refusal names."""


@frozen
class Held:
    """A folder that this process alone writes into; `place` is how the user called it."""

    place: Path
    folder: Path

    @property
    def state(self) -> Path:
        """Its hidden folder."""
        return self.folder / STATE


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
            stack.callback(_tidy, held)
            _recover(held)
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
        (held.state / AFTER).write_bytes(manifest_bytes(change.after))
        (held.state / COMING).write_bytes(change_bytes(change))
        (held.state / OLD).mkdir()
        moving = [on_disk(held.state / stage / name) for name in _moves(held, change)[0]]
        settle_files([*moving, held.state / AFTER, held.state / COMING])
        settle_folders(held.state / stage, held.state)
        _change(held, change)


def _change(held: Held, change: Change) -> None:
    """Put the change down and carry it out, or take everything back."""
    moving, leaving = _moves(held, change)
    try:
        (held.state / COMING).replace(held.state / CHANGE)
        settle_folders(held.state)
        _carry_out(held, change, moving, leaving)
    except BaseException:
        if (held.state / AFTER).exists():
            _take_back(held, change, moving, leaving)
            raise
        with contextlib.suppress(OSError):  # the new set is noted already: it holds
            (held.state / CHANGE).unlink(missing_ok=True)
        raise
    with contextlib.suppress(OSError):  # the set is there; the next run settles it once more
        settle_folders(held.folder, held.state)
        (held.state / CHANGE).unlink()
    _clear(held.state / change.stage)


def _moves(held: Held, change: Change) -> tuple[list[str], list[str]]:
    """The new files that wait, and the old ones that are still in their places."""
    files = change.after[change.label].files
    moving = [name for name in files if on_disk(held.state / change.stage / name).exists()]
    going = {*moving, *(name for name in change.before if name not in files)}
    return moving, [
        n for n in change.before if n in going and os.path.lexists(on_disk(held.folder / n))
    ]


def _carry_out(held: Held, change: Change, moving: list[str], leaving: list[str]) -> None:
    for name in leaving:
        on_disk(held.folder / name).replace(on_disk(held.state / OLD / name))
    for name in moving:
        on_disk(held.state / change.stage / name).replace(on_disk(held.folder / name))
    (held.state / AFTER).replace(held.state / WRITTEN)


def _take_back(held: Held, change: Change, moving: list[str], leaving: list[str]) -> None:
    stage, old = held.state / change.stage, held.state / OLD
    try:
        for name in moving:
            if not on_disk(stage / name).exists():
                on_disk(held.folder / name).replace(on_disk(stage / name))
        for name in leaving:
            if os.path.lexists(on_disk(old / name)):
                on_disk(old / name).replace(on_disk(held.folder / name))
        settle_folders(held.folder)
        (held.state / CHANGE).unlink(missing_ok=True)
    except OSError as error:
        why = f"was left half changed ({reason(error)})"
        raise OutputError(blocked(held.place, why, "the same command finishes it")) from error


def _recover(held: Held) -> None:
    """Finish the change that a killed run had put down; take away what one before that left."""
    change = read_change(held.state / CHANGE)
    if change is None:
        (held.state / CHANGE).unlink(missing_ok=True)
        _tidy(held)
        return
    files = change.after[change.label].files
    moving, leaving = _moves(held, change)
    now = {name: _sum(on_disk(held.folder / name)) for name in {*moving, *leaving}}
    strange = [
        name
        for name in moving
        if os.path.lexists(on_disk(held.folder / name))
        and (now[name] is None or now[name] not in (change.before.get(name), files[name]))
    ]
    if strange:
        why = "an earlier run was stopped here, and since then somebody else wrote "
        advice = "move that away, and the same command finishes it"
        raise OutputError(blocked(held.place, why + _named(strange), advice))
    leaving = [name for name in leaving if now[name] == change.before[name]]
    if not (held.state / AFTER).exists():
        (held.state / AFTER).write_bytes(manifest_bytes(change.after))
        settle_files([held.state / AFTER])
    (held.state / OLD).mkdir(exist_ok=True)
    _carry_out(held, change, moving, leaving)
    settle_folders(held.folder, held.state)
    (held.state / CHANGE).unlink()
    _clear(held.state / change.stage)
    _tidy(held)


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
        now = _sum(path)
        there[name] = now or ""
        if now is None or now not in (*known.get(name, ()), sums.get(name)):
            strange.append(name)
    if strange and not leave.overwrite:
        raise OutputError(
            blocked(
                held.place,
                f"cutlayers did not write {_named(strange)}, or it was changed since; nothing was "
                "changed",
                "choose another place with -o, or write over it with --overwrite",
            )
        )
    return there


def _sum(path: Path) -> str | None:
    """The sum of what we may have written: a link never is."""
    return None if path.is_symlink() else sum_at(path)


def _identity(path: Path) -> tuple[int, int] | None:
    try:
        found = on_disk(path).stat()
    except (OSError, ValueError):
        return None
    return found.st_dev, found.st_ino


def _plain(place: Path, name: str) -> None:
    if not is_plain(name) or name == STATE:
        raise OutputError(blocked(place, f"{name!r} is not a plain file name"))


def _named(names: Collection[str]) -> str:
    shown = sorted(names)[:MOST_NAMED]
    more = len(names) - len(shown)
    return ", ".join(shown) + (f" and {more} more" if more else "")


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


def _tidy(held: Held) -> None:
    """Take away what waits or was moved out, unless a change is still to be finished."""
    if (held.state / CHANGE).exists():
        return
    _clear(held.state / NEW)
    _clear(held.state / OLD)
    for name in (AFTER, COMING):
        with contextlib.suppress(OSError):
            (held.state / name).unlink(missing_ok=True)


def _clear(folder: Path) -> None:
    shutil.rmtree(folder, ignore_errors=True)
