"""One change of a folder carried out whole, or taken back.

First a small file that says what is to change is put down in one step: from that moment the new set
holds, and a run that is killed is finished by the next one that writes here. Then all files of the
old set that change are moved out, then all new ones in, so that what is seen in between is a part
of one set and never a mix. When a move fails, or somebody interrupts, everything is moved back.

All this holds when the power fails, too. What waits is on the disk before the small file says so,
that file before the first move, and all moves before it goes again.
"""

from __future__ import annotations

import contextlib
import os
import shutil
from collections.abc import Collection
from pathlib import Path

from cutlayers.frozen import frozen
from cutlayers.reading.user_paths import on_disk
from cutlayers.telling.errors import OutputError
from cutlayers.writing.lasting import settle_files, settle_folders
from cutlayers.writing.manifest import (
    Change,
    change_bytes,
    manifest_bytes,
    read_change,
    sum_at,
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


def carry_out(held: Held, change: Change) -> None:
    """Put the change down and carry it out, or take everything back. Raises OSError, and
    OutputError where that is left half done."""
    (held.state / AFTER).write_bytes(manifest_bytes(change.after))
    (held.state / COMING).write_bytes(change_bytes(change))
    (held.state / OLD).mkdir()
    moving, leaving = _moves(held, change)
    waiting = [on_disk(held.state / change.stage / name) for name in moving]
    settle_files([*waiting, held.state / AFTER, held.state / COMING])
    settle_folders(held.state / change.stage, held.state)
    try:
        (held.state / COMING).replace(held.state / CHANGE)
        settle_folders(held.state)
        _move(held, change, moving, leaving)
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


def _move(held: Held, change: Change, moving: list[str], leaving: list[str]) -> None:
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


def finish(held: Held) -> None:
    """Finish the change that a killed run had put down; take away what one before that left."""
    change = read_change(held.state / CHANGE)
    if change is None:
        (held.state / CHANGE).unlink(missing_ok=True)
        take_away(held)
        return
    files = change.after[change.label].files
    moving, leaving = _moves(held, change)
    now = {name: sum_of_ours(on_disk(held.folder / name)) for name in {*moving, *leaving}}
    strange = [
        name
        for name in moving
        if os.path.lexists(on_disk(held.folder / name))
        and (now[name] is None or now[name] not in (change.before.get(name), files[name]))
    ]
    if strange:
        why = "an earlier run was stopped here, and since then somebody else wrote "
        advice = "move that away, and the same command finishes it"
        raise OutputError(blocked(held.place, why + in_a_list(strange), advice))
    leaving = [name for name in leaving if now[name] == change.before[name]]
    if not (held.state / AFTER).exists():
        (held.state / AFTER).write_bytes(manifest_bytes(change.after))
        settle_files([held.state / AFTER])
    (held.state / OLD).mkdir(exist_ok=True)
    _move(held, change, moving, leaving)
    settle_folders(held.folder, held.state)
    (held.state / CHANGE).unlink()
    _clear(held.state / change.stage)
    take_away(held)


def sum_of_ours(path: Path) -> str | None:
    """The sum of what we may have written: a link never is."""
    return None if path.is_symlink() else sum_at(path)


def in_a_list(names: Collection[str]) -> str:
    """Names for a line of text, no more than can be read."""
    shown = sorted(names)[:MOST_NAMED]
    more = len(names) - len(shown)
    return ", ".join(shown) + (f" and {more} more" if more else "")


def take_away(held: Held) -> None:
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
