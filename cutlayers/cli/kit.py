"""Jobs that name a kit, within `cutlayers make` and `cutlayers check`."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from cutlayers.cli.options import echo_json, print_json
from cutlayers.cli.progress import LateBar

if TYPE_CHECKING:
    from cutlayers import Job, Machine
    from cutlayers.job.written import KitSource
    from cutlayers.kits.checking import Kit
    from cutlayers.kits.kinds import Kinds
    from cutlayers.kits.planning import Sorter


def names_kit(job_file: Path) -> bool:
    """Whether a job file names a kit; False where it cannot be read, which is told elsewhere."""
    from cutlayers.reading.toml_file import read_toml
    from cutlayers.telling.errors import JobError

    try:
        return "kit" in read_toml(job_file, "job", JobError)
    except JobError:
        return False


def check_kit(job_file: Path, profile_name: str | None, as_json: bool) -> None:
    """Check all rows of a kit and say how many sheets it takes."""
    from cutlayers.telling.facts import finding_data
    from cutlayers.telling.findings import Severity
    from cutlayers.telling.words import lines_of

    kit, machine, sorter, _ = _checked(job_file, profile_name)
    sheets = sum(1 for _ in sorter.sheets(quick=True))
    if as_json:
        answer = {
            "rows": len(kit.rows.rows),
            "sheets": sheets,
            "findings": [finding_data(finding, kit.unit) for finding in kit.findings],
        }
        print_json(answer)
    else:
        click.echo(f"{len(kit.rows.rows)} rows, {sheets} sheets for {machine.title}")
        for line in lines_of(kit.findings, kit.unit):
            click.echo(line)
    if any(finding.severity is Severity.ERROR for finding in kit.findings):
        click.get_current_context().exit(1)


def make_kit(
    job_file: Path,
    profile_name: str | None,
    folder: Path,
    overwrite: bool,
    anyway: bool,
    as_json: bool,
    processes: int,
) -> None:
    """Make all sheets of a kit; a run that was interrupted goes on where it stopped."""
    from cutlayers import files_read
    from cutlayers.kits.keeping import files_of, owner_of
    from cutlayers.kits.manifest import kit_text
    from cutlayers.kits.writing import write_kit
    from cutlayers.report.report import REPORT
    from cutlayers.telling.findings import Severity
    from cutlayers.telling.words import lines_of
    from cutlayers.writing.sets import Leave

    kit, machine, sorter, kinds = _checked(job_file, profile_name)
    if not anyway and any(finding.severity is Severity.ERROR for finding in kit.findings):
        for line in lines_of(kit.findings, kit.unit):
            click.echo(line)
        click.echo("nothing was written: the kit does not work as it stands", err=True)
        click.get_current_context().exit(1)
    inputs = (*files_read(job_file, profile_name), *files_of(kit))
    leave = Leave(inputs, overwrite, owner_of(job_file))
    try:
        report, files = write_kit(
            kit,
            machine,
            sorter,
            kinds,
            folder,
            leave,
            processes,
            lambda count: LateBar(count, "making sheets"),
            lambda remark: click.echo(remark, err=True),
        )
    except KeyboardInterrupt:
        click.echo("stopped; the same command goes on from here", err=True)
        click.get_current_context().exit(130)
    if as_json:
        echo_json(files[REPORT].decode())
    else:
        click.echo(kit_text(report))
        click.echo(f"{len(report.files)} files in {folder}")


def _source(kit: object, job_file: Path) -> KitSource:
    """What the job says of the kit. Raises JobError."""
    from cutlayers.job.written import BesideTheJob
    from cutlayers.reading.tables import declared, read_values
    from cutlayers.telling.errors import JobError
    from cutlayers.telling.refusals import within

    fields = [field for field in declared(BesideTheJob) if field.key == "kit"]
    values, problems = read_values(fields, {"kit": kit}, "mm")
    if problems:
        raise JobError(*within(str(job_file), problems))
    found: KitSource = values["kit"]
    return found


def _checked(job_file: Path, profile_name: str | None) -> tuple[Kit, Machine, Sorter, Kinds]:
    from cutlayers import machine_for
    from cutlayers.kits.checking import check_kit as check
    from cutlayers.kits.kinds import Kinds
    from cutlayers.kits.planning import Sorter
    from cutlayers.kits.rows import read_rows
    from cutlayers.reading.toml_file import read_toml
    from cutlayers.telling.errors import JobError

    table = read_toml(job_file, "job", JobError)
    rows = read_rows(job_file.parent / _source(table["kit"], job_file).file)
    profile = table.get("profile")
    machine = machine_for(job_file, profile if isinstance(profile, str) else None, profile_name)
    sorter, kinds = Sorter(machine), Kinds()
    with LateBar(len(rows.rows), "checking rows") as bar:

        def take(index: int, job: Job) -> None:
            sorter.take(index, job)
            kinds.take(index, job)
            bar.update(1)

        kit = check(job_file, table, rows, take, machine.take_up)
    return kit, machine, sorter, kinds
