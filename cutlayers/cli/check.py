"""`cutlayers check`."""

from __future__ import annotations

from pathlib import Path

import click

from cutlayers.cli.options import (
    job_argument,
    json_option,
    profile_option,
    progress_bar,
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
    from cutlayers.make import plan_job
    from cutlayers.report import report_json, report_text

    job, machine = read_inputs(job_file, profile_name)
    with progress_bar(sum(order.count * len(order.nets) for order in job.orders), "placing") as bar:
        work = plan_job(job, machine, bar.update)
    click.echo(report_json(work.report) if as_json else report_text(work.report), nl=False)
    if not work.works:
        click.get_current_context().exit(1)
