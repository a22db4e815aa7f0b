"""A whole kit put into its folder: old or new, and gone on with where it was interrupted."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from cutlayers.guide.sheet import page_of
from cutlayers.job.reading import title_of
from cutlayers.kits.guide import kit_guide
from cutlayers.kits.keeping import (
    digest_of,
    keep_files,
    owner_of,
    planned,
    refuse_unfinished,
)
from cutlayers.kits.making import make_sheets
from cutlayers.kits.manifest import KitReport, kit_files, kit_report
from cutlayers.kits.opening import Bars, OpenKit, no_bar
from cutlayers.making.make import GUIDE, SET
from cutlayers.telling.errors import JobError
from cutlayers.telling.refusals import Refusal
from cutlayers.writing.manifest import sum_of
from cutlayers.writing.sets import Leave, commit, hold, refuse_owned

STAGE = "kit"
"""The folder, within the hidden one, where the sheets of a kit wait."""


def write_kit(
    opened: OpenKit,
    folder: Path,
    *,
    overwrite: bool = False,
    processes: int = 1,
    bars: Bars = no_bar,
    tell: Callable[[str], None] = lambda _: None,
) -> tuple[KitReport, dict[str, bytes]]:
    """Make the sheets of a kit and put them, with the lists that tell of them, into `folder`; what
    an interrupted run has made of the same kit is taken up.

    Files that this package did not write are written over only with `overwrite`. `processes` is how
    many sheets are made at the same time, `bars` is given the number of sheets, `tell` remarks.
    Gives the report and the lists. Raises OutputError and JobError; then the folder's files are as
    they were, and what was made is kept.
    """
    kit, machine, sorter = opened.kit, opened.machine, opened.sorter
    owner = owner_of(kit.job_file)
    leave = Leave(opened.inputs, overwrite, owner)
    with hold(folder) as held:
        refuse_owned(held, SET, leave)
        stage = held.state / STAGE
        if not overwrite:
            refuse_unfinished(stage, owner, folder)
        digest = digest_of(kit, machine)
        sheets = planned(stage, owner, digest, sorter.sheets, tell)
        with bars(len(sheets)) as shown:
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
        page = kit_guide(kit, machine, sorter, opened.kinds.all, sheets, made, report)
        files = {**kit_files(kit, made, report), GUIDE: page_of(page)}
        keep_files(stage, files)
        sums = {name: known for sheet in made for name, known in sheet.files.items()}
        sums |= {name: sum_of(content) for name, content in files.items()}
        commit(held, SET, sums, STAGE, leave)
    return report, files
