"""`cutlayers check`."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from cutlayers.cli.kit import check_kit
from cutlayers.cli.options import (
    echo_json,
    job_argument,
    json_option,
    profile_option,
)
from cutlayers.cli.progress import LateBar, laying_bar

if TYPE_CHECKING:
    from cutlayers import Job, Machine
    from cutlayers.curing import Source

ROUGH = "checked only; make puts the lines in order and says how long they take"
SEARCHED = " and searches for sheets that hold more"

KIT = "makes a kit, whose boxes change from row to row"
NO_KIT = "--mend works on jobs without one, so try a row's sizes in a job of its own"


@click.command()
@job_argument
@profile_option
@click.option(
    "--mend",
    is_flag=True,
    help="Show what the cures change in the file, and write it if you say yes; the file as it was "
    "is kept beside it.",
)
@click.option("--yes", "-y", is_flag=True, help="With --mend, write without asking.")
@json_option
def check(job_file: Path, profile_name: str | None, mend: bool, yes: bool, as_json: bool) -> None:
    """Say whether a job will work, and on how many sheets, without writing anything.

    Each box is folded up: does it close, do the tabs land, does the lid go on, how many layers lie
    at each hole? Then the pieces are laid out, in the quick mode, and the lines worked out for the
    tools of your machine. Nothing is put into working order, so no times are told. Exits with 1
    when a finding is an error.

    Where a change of the job cures a finding it is named below it. Each was tried: with it the
    finding is gone and no new error is there. Trying takes a while, so 'make' names none.
    """
    from cutlayers import names_kit
    from cutlayers.telling.errors import JobError
    from cutlayers.telling.refusals import Refusal

    if yes and not mend:
        raise click.UsageError("--yes goes with --mend")
    if mend and as_json and not yes:
        raise click.UsageError("--mend asks before it writes; with --json say --yes as well")
    if names_kit(job_file):
        if mend:
            raise JobError(Refusal(("kit",), KIT, file=str(job_file), advice=NO_KIT))
        check_kit(job_file, profile_name, as_json)
        return
    if mend:
        _mend(job_file, profile_name, ask=not yes, quietly=as_json)
    _check(job_file, profile_name, as_json)


def _check(job_file: Path, profile_name: str | None, as_json: bool) -> None:
    from cutlayers import lay_out, report_json, report_of, report_text
    from cutlayers.curing import with_cures

    source, job, machine = _read(job_file, profile_name)
    with laying_bar(job, quick=True) as bar:
        layout = lay_out(job, machine, quick=True, progress=bar.update)
    with LateBar(len(layout.findings), "trying cures") as bar:
        findings = tuple(bar.counted(with_cures(layout.findings, source, job, machine)))
    report = replace(report_of(layout), findings=findings)
    if as_json:
        echo_json(report_json(report))
    else:
        click.echo(report_text(report))
        click.echo(ROUGH + (SEARCHED if job.sheets.mode == "thorough" else ""))
    if not as_json and any(finding.cure for finding in findings):
        click.echo(f"\n'cutlayers check {job_file} --mend' writes the cures into the file")
    if not layout.works:
        click.get_current_context().exit(1)


def _mend(job_file: Path, profile_name: str | None, *, ask: bool, quietly: bool) -> None:
    """Write the cures into the file if the user agrees; with `quietly`, words go to stderr."""
    from cutlayers import put_kept, read_user_file
    from cutlayers.curing import mended
    from cutlayers.reading import LARGEST_MEGABYTES, ValueRefused
    from cutlayers.telling.errors import JobError
    from cutlayers.telling.words import cure_in_words, in_words_without_severity

    _, _, machine = _read(job_file, profile_name)
    try:
        content = read_user_file(job_file, LARGEST_MEGABYTES)
    except ValueRefused as refused:
        raise JobError(refused.refusal.within(str(job_file))) from None
    result = mended(content.decode("utf-8-sig"), job_file, machine)
    if not result.steps:
        click.echo("there is nothing to mend: no finding has a cure\n", err=quietly)
        return
    for step in result.steps:
        click.echo(in_words_without_severity(step.finding, result.unit), err=quietly)
        click.echo(f"  cure: {cure_in_words(step.cure, result.unit)}", err=quietly)
    click.echo(f"\n{result.difference(str(job_file))}", err=quietly)
    if ask and not click.confirm(f"Write this into {job_file}?"):
        click.echo("nothing was changed\n")
        return
    mark = content[: len(content) - len(content.decode("utf-8-sig").encode())]
    kept = put_kept(job_file, content, mark + result.after.encode())
    click.echo(f"mended {job_file}; as it was it is kept as {kept}\n", err=quietly)


def _read(job_file: Path, profile_name: str | None) -> tuple[Source, Job, Machine]:
    """The job as its file has it, and the machine. Raises JobError and ProfileError."""
    from cutlayers import machine_for
    from cutlayers.curing import Source
    from cutlayers.reading import read_toml
    from cutlayers.telling.errors import JobError

    source = Source(read_toml(job_file, "job", JobError), job_file)
    job = source.job()
    machine = machine_for(job_file, job.profile, profile_name)
    if machine.take_up:
        source = replace(source, take_up=machine.take_up)
        job = source.job()
    return source, job, machine
