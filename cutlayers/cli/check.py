"""`cutlayers check`."""

from __future__ import annotations

from pathlib import Path

import click

from cutlayers.cli.kit import check_kit, names_kit
from cutlayers.cli.options import (
    echo_json,
    job_argument,
    json_option,
    placing_bar,
    profile_option,
    read_inputs,
)


@click.command()
@job_argument
@profile_option
@json_option
def check(job_file: Path, profile_name: str | None, as_json: bool) -> None:
    """Say whether a job will work, and on how many sheets, without writing anything.

    Each box is folded up: does it close, do the tabs land, does the lid go on, how many layers lie
    at each hole? Then the pieces are laid out and the toolpaths planned. Exits with 1 when a
    finding is an error.
    """
    from cutlayers.making.make import plan_job
    from cutlayers.report.report import report_json, report_text

    if names_kit(job_file):
        check_kit(job_file, profile_name, as_json)
        return
    job, machine = read_inputs(job_file, profile_name)
    with placing_bar(job) as bar:
        work = plan_job(job, machine, bar.update)
    if as_json:
        echo_json(report_json(work.report))
    else:
        click.echo(report_text(work.report), nl=False)
    if not work.works:
        click.get_current_context().exit(1)
