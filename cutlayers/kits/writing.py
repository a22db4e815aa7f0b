"""A whole kit put into its folder: old or new, and gone on with where it was interrupted."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import AbstractContextManager
from pathlib import Path
from typing import Protocol

from cutlayers.guide.sheet import page_of
from cutlayers.job.reading import title_of
from cutlayers.kits.checking import Kit
from cutlayers.kits.guide import kit_guide
from cutlayers.kits.keeping import (
    digest_of,
    keep_files,
    owner_of,
    planned,
    refuse_unfinished,
)
from cutlayers.kits.kinds import Kinds
from cutlayers.kits.making import make_sheets
from cutlayers.kits.manifest import KitReport, kit_files, kit_report
from cutlayers.kits.planning import Sorter
from cutlayers.making.make import GUIDE, SET
from cutlayers.profile.machine import Machine
from cutlayers.telling.errors import JobError
from cutlayers.telling.refusals import Refusal
from cutlayers.writing.manifest import sum_of
from cutlayers.writing.sets import Leave, commit, hold, refuse_owned

STAGE = "kit"
"""The folder, within the hidden one, where the sheets of a kit wait."""


class Bar(Protocol):
    """What is told of the sheets that are made."""

    def update(self, n_steps: int) -> None:
        """So many more."""


def write_kit(
    kit: Kit,
    machine: Machine,
    sorter: Sorter,
    kinds: Kinds,
    folder: Path,
    leave: Leave,
    processes: int,
    bar: Callable[[int], AbstractContextManager[Bar]],
    tell: Callable[[str], None],
) -> tuple[KitReport, dict[str, bytes]]:
    """Make the sheets of a kit and put them, with the lists that tell of them, into `folder`.

    `bar` is given the number of sheets, `tell` remarks. Gives the report and the lists. Raises
    OutputError and JobError; then the folder's files are as they were, and what was made is kept.
    """
    owner = leave.owner or owner_of(kit.job_file)
    with hold(folder) as held:
        refuse_owned(held, SET, leave)
        stage = held.state / STAGE
        if not leave.overwrite:
            refuse_unfinished(stage, owner, folder)
        digest = digest_of(kit, machine)
        sheets = planned(stage, owner, digest, sorter.sheets, tell)
        with bar(len(sheets)) as shown:
            made = list(
                make_sheets(kit, machine, sheets, stage, digest, processes, shown.update, tell)
            )
        if digest_of(kit, machine) != digest:
            why = "a picture or font was changed while the kit was made; nothing was written"
            raise JobError(
                Refusal(reason=why, file=str(kit.job_file), advice="run the command again")
            )
        title = str(kit.table.get("title") or title_of(kit.job_file))
        report = kit_report(kit, machine, tuple(sorter.pieces), made, title)
        page = kit_guide(kit, machine, sorter, kinds.all, sheets, made, report)
        files = {**kit_files(kit, made, report), GUIDE: page_of(page)}
        keep_files(stage, files)
        sums = {name: known for sheet in made for name, known in sheet.files.items()}
        sums |= {name: sum_of(content) for name, content in files.items()}
        commit(held, SET, sums, STAGE, leave)
    return report, files
