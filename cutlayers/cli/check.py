"""`cutlayers check`."""

from __future__ import annotations

from pathlib import Path

import click

from cutlayers.cli.kit import check_kit, names_kit
from cutlayers.cli.options import (
    job_argument,
    json_option,
    placing_bar,
    profile_option,
    read_inputs,
)

ROUGH = "checked only; make puts the lines in order and says how long they take"
SEARCHED = " and searches for sheets that hold more"


@click.command()
@job_argument
@profile_option
@json_option
def check(job_file: Path, profile_name: str | None, as_json: bool) -> None:
    """Say whether a job will work, and on how many sheets, without writing anything.

    Each box is folded up: does it close, do the tabs land, does the lid go on, how many layers lie
    at each hole? Then the pieces are laid out, in the quick mode, and the lines worked out for the
    tools of your machine. Nothing is put into working order, so no times are told. Exits with 1
    when a finding is an error.
    """
    from cutlayers import lay_out, report_json, report_of, report_text

    if names_kit(job_file):
        check_kit(job_file, profile_name, as_json)
        return
    job, machine = read_inputs(job_file, profile_name)
    with placing_bar(job, quick=True) as bar:
        layout = lay_out(job, machine, quick=True, progress=bar.update)
    report = report_of(layout)
    if as_json:
        click.echo(report_json(report), nl=False)
    else:
        click.echo(report_text(report))
        click.echo(ROUGH + (SEARCHED if job.sheets.mode == "thorough" else ""))
    if not layout.works:
        click.get_current_context().exit(1)
