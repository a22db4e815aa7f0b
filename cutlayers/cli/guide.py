"""`cutlayers guide`."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Literal

import click

from cutlayers.cli.options import (
    job_argument,
    overwrite_option,
    profile_option,
    read_boxes,
    read_inputs,
)
from cutlayers.cli.progress import LateBar, laying_bar

if TYPE_CHECKING:
    from cutlayers import Job

PAPERS = ("A4", "letter")
RULER_NAMES = ("1mm", "0.5mm", "1/16in", "1/32in")


@click.command()
@job_argument
@profile_option
@click.option("--by-hand", is_flag=True, help="Without any machine, even if the job names one.")
@click.option(
    "--paper",
    type=click.Choice(PAPERS, case_sensitive=False),
    help="What it is printed on; A4 for a job in mm, letter for one in inches, if not given.",
)
@click.option(
    "--ruler",
    type=click.Choice(RULER_NAMES),
    help="The ruler of the by-hand part; 0.5mm or 1/16in, by the job's units, if not given.",
)
@click.option(
    "-o",
    "--output",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Where the page goes; by default the job's name with -guide.html, where you are.",
)
@overwrite_option
def guide(
    job_file: Path,
    profile_name: str | None,
    by_hand: bool,
    paper: Literal["A4", "letter"] | None,
    ruler: str | None,
    output: Path | None,
    overwrite: bool,
) -> None:
    """Write the guide: what to buy, how to cut and score, how to put it together.

    One HTML page to print and follow. For a machine it has the setup sheet, and the blanks by hand
    only where the machine leaves something to the hand; with --by-hand everything is told for a
    ruler and a scoring board, with drawings of every blank. What a profile knows of the card's
    creases counts then too.
    """
    from cutlayers import RULERS, files_read, guide_page, lay_out, plan, report_of, write

    chosen = RULERS[ruler] if ruler else None
    if by_hand:
        job, inputs = _by_hand(job_file, profile_name)
        page = guide_page(job, paper=paper, ruler=chosen)
    else:
        job, machine = read_inputs(job_file, profile_name)
        with laying_bar(job) as bar:
            layout = lay_out(job, machine, progress=bar.update)
        with LateBar(len(layout.sides), "ordering lines") as bar:
            report = report_of(plan(layout, progress=bar.update))
        page = guide_page(job, machine, report, paper=paper, ruler=chosen)
        inputs = files_read(job_file, profile_name)
    target = output or Path(f"{job_file.stem}-guide.html")
    files, label = {target.name: page}, f"guide {target.name}"
    write(files, target.parent, inputs=inputs, overwrite=overwrite, label=label)
    click.echo(f"wrote {target}; open it in a browser, or print it")


def _by_hand(job_file: Path, profile_name: str | None) -> tuple[Job, tuple[Path, ...]]:
    """The job with what was measured of its card, where there is a profile that knows it, and the
    files that were read. A profile that only the job names need not be there. Raises JobError, and
    ProfileError for one that was asked for."""
    from cutlayers import files_read, job_files, read_job
    from cutlayers.telling.errors import ProfileError

    try:
        if profile_name is not None:
            return read_inputs(job_file, profile_name)[0], files_read(job_file, profile_name)
        return read_boxes(job_file), files_read(job_file, None)
    except ProfileError as error:
        if profile_name is not None:
            raise
        click.echo(f"{error}; creases are taken to take up half of the card", err=True)
        return read_job(job_file), tuple(job_files(job_file))
