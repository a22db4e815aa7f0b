"""What is kept of a kit while it is made, so that an interrupted one goes on where it stopped.

Sheets wait in a folder of their own until all are there: then they and the lists that tell of them
take their places together. The folder keeps the plan too and, for each sheet that is complete, a
note with the sums of its files. After an interruption the same kit goes on from there: a sheet
counts as made when its note is of the same kit and plan and its files are there and unchanged.
"""

from __future__ import annotations

import json
import os
import shutil
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path

from cutlayers import __version__
from cutlayers.frozen import frozen
from cutlayers.job.inputs import files_named
from cutlayers.kits.checking import Kit
from cutlayers.kits.notes import Kept, note_of, read_note
from cutlayers.kits.planning import KitSheet
from cutlayers.kits.rows import table_for
from cutlayers.profile.machine import Machine
from cutlayers.reading.user_files import read_user_file
from cutlayers.reading.user_paths import on_disk
from cutlayers.reading.values import readable
from cutlayers.telling.errors import OutputError
from cutlayers.writing.manifest import sum_at, sum_of
from cutlayers.writing.refusing import blocked, reason

PLAN = ".plan.json"

LARGEST_NOTE_MEGABYTES = 100
"""Of what is kept of a kit while it is made; a plan of 20,000 pieces has about 10."""


@frozen
class _Plan:
    """What is kept of the plan."""

    owner: str
    digest: str
    sheets: tuple[KitSheet, ...]


def owner_of(job_file: Path) -> str:
    """Whose the files of a kit are: its name for people, and a sum to tell namesakes apart."""
    return f"the kit {readable(job_file.name)} ({sum_of(os.fsencode(job_file.resolve()))[:8]})"


def files_of(kit: Kit) -> tuple[Path, ...]:
    """The pictures and fonts that the rows of a kit name, each once."""
    folder = kit.job_file.parent
    tables = (table_for(kit.table, row) for row in kit.rows.rows)
    return tuple(dict.fromkeys(path for table in tables for path in files_named(table, folder)))


def digest_of(kit: Kit, machine: Machine) -> str:
    """A sum over all that decides the files of a kit: job, rows, machine and this package, and the
    contents of pictures and fonts."""
    cells = [dict(row.cells) for row in kit.rows.rows]
    contents = {str(path): sum_at(path) for path in files_of(kit)}
    text = json.dumps((__version__, kit.table, cells, contents), ensure_ascii=False, default=str)
    return sum_of((text + repr(machine)).encode())


def refuse_unfinished(stage: Path, owner: str, place: Path) -> None:
    """Raises OutputError where the sheets of another kit wait to be gone on with."""
    known = kept(stage / PLAN, _Plan)
    if known is not None and known.owner != owner:
        why = f"holds what was made of {known.owner}, which is not finished"
        advice = "choose another folder with -o, or give that up with --overwrite"
        raise OutputError(blocked(place, why, advice))


def planned(
    stage: Path,
    owner: str,
    digest: str,
    plan: Callable[[], Iterator[KitSheet]],
    tell: Callable[[str], None] = lambda _: None,
) -> tuple[KitSheet, ...]:
    """The plan of an unfinished kit of the same digest, or else a new one, which is kept.

    A new plan forgets the sheets of an unfinished kit of other contents. `tell` is given a sentence
    where there is a plan that is damaged. Raises OutputError.
    """
    there = (stage / PLAN).exists()
    known = kept(stage / PLAN, _Plan)
    if known is not None and known.owner == owner and known.digest == digest:
        return known.sheets
    if known is not None:
        shutil.rmtree(stage, ignore_errors=True)
    elif there:
        tell("the plan of the sheets that was kept is damaged; it was made anew")
    found = _Plan(owner, digest, tuple(plan()))
    keep_files(stage, {PLAN: note_of(found)})
    return found.sheets


def kept(path: Path, kind: type[Kept]) -> Kept | None:
    """What was kept in a file; None where it is not there or damaged."""
    try:
        return read_note(read_user_file(path, LARGEST_NOTE_MEGABYTES), kind)
    except ValueError:  # ValueRefused too: it cannot be read
        return None


def keep_files(stage: Path, files: Mapping[str, bytes]) -> None:
    """Write files where they wait. Raises OutputError."""
    try:
        stage.mkdir(parents=True, exist_ok=True)
        for name, content in files.items():
            on_disk(stage / name).write_bytes(content)
    except OSError as error:
        why = f"cannot write here ({reason(error)}); sheets that are complete are kept"
        advice = "the same command goes on from there"
        raise OutputError(blocked(stage, why, advice)) from error
