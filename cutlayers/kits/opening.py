"""A job file that names a kit, read with its table, every row checked."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import AbstractContextManager, nullcontext
from dataclasses import replace
from pathlib import Path
from typing import Any, Protocol

from cutlayers.frozen import frozen
from cutlayers.job.order import Job
from cutlayers.job.written import BesideTheJob, KitSource
from cutlayers.kits.checking import Kit, check_kit
from cutlayers.kits.keeping import files_of
from cutlayers.kits.kinds import Kinds
from cutlayers.kits.planning import Sorter
from cutlayers.kits.rows import read_rows
from cutlayers.making.inputs import files_read, machine_for
from cutlayers.profile.machine import Machine
from cutlayers.profile.setup_sheet import card_findings, setup_sheet
from cutlayers.reading.tables import declared, read_values
from cutlayers.reading.toml_file import read_toml
from cutlayers.telling.errors import JobError
from cutlayers.telling.refusals import within


class Bar(Protocol):
    """What is told how much more is done."""

    def update(self, n_steps: int) -> None:
        """So many more."""


class _Deaf:
    def update(self, n_steps: int) -> None:
        """Nobody asks."""


Bars = Callable[[int], AbstractContextManager[Bar]]
"""Gives a bar for so many steps."""


def no_bar(_steps: int) -> AbstractContextManager[Bar]:
    """For those who watch nothing."""
    return nullcontext(_Deaf())


@frozen
class OpenKit:
    """A kit whose rows are checked, for a machine: all of them make a job. `inputs` are the files
    that were read."""

    kit: Kit
    machine: Machine
    sorter: Sorter
    kinds: Kinds
    inputs: tuple[Path, ...]


def open_kit(job_file: Path, profile_name: str | None = None, bars: Bars = no_bar) -> OpenKit:
    """Read a job that names a kit and check every row of its table, for the machine of that name,
    or else the job's or the default one. `bars` is given the number of rows.

    Raises JobError with a line for each thing that is wrong in job or table, or for a material that
    the machine does not know, and ProfileError.
    """
    table = read_toml(job_file, "job", JobError)
    rows = read_rows(table_file(job_file, table["kit"]))
    profile = table.get("profile")
    machine = machine_for(job_file, profile if isinstance(profile, str) else None, profile_name)
    sorter, kinds = Sorter(machine), Kinds()
    with bars(len(rows.rows)) as bar:

        def take(index: int, job: Job) -> None:
            sorter.take(index, job)
            kinds.take(index, job)
            bar.update(1)

        kit = check_kit(job_file, table, rows, take, machine.take_up)
    cards = [setup_sheet(machine, stock, ()) for stock in sorter.pieces]
    kit = replace(kit, findings=(*card_findings(cards), *kit.findings))
    inputs = (*files_read(job_file, profile_name), *files_of(kit))
    return OpenKit(kit, machine, sorter, kinds, inputs)


def table_file(job_file: Path, kit: Any) -> Path:
    """The table that a job names, by what it says under `kit`. Raises JobError."""
    fields = [field for field in declared(BesideTheJob) if field.key == "kit"]
    values, problems = read_values(fields, {"kit": kit}, "mm")
    if problems:
        raise JobError(*within(str(job_file), problems))
    found: KitSource = values["kit"]
    return job_file.parent / found.file
