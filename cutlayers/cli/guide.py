"""`cutlayers guide`."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

import click

from cutlayers.cli.options import (
    files_read,
    job_argument,
    job_files,
    overwrite_option,
    profile_option,
    read_inputs,
)
from cutlayers.cli.progress import LateBar, laying_bar

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
    """Write the job sheet: what to buy, how to cut and score, how to put it together.

    One HTML page to print and follow. For a machine it has the load card, and the blanks by hand
    only where the machine leaves something to the hand; with --by-hand everything is told for a
    ruler and a scoring board, with drawings of every blank.
    """
    from cutlayers import lay_out, plan, read_job, report_of
    from cutlayers.guide.ruler import RULERS
    from cutlayers.guide.sheet import job_sheet
    from cutlayers.writing.sets import Leave, write_set

    chosen = RULERS[ruler] if ruler else None
    if by_hand:
        page = job_sheet(read_job(job_file), paper=paper, ruler=chosen)
    else:
        job, machine = read_inputs(job_file, profile_name)
        with laying_bar(job) as bar:
            layout = lay_out(job, machine, progress=bar.update)
        with LateBar(len(layout.sides), "ordering lines") as bar:
            report = report_of(plan(layout, progress=bar.update))
        page = job_sheet(job, machine, report, paper=paper, ruler=chosen)
    target = output or Path(f"{job_file.stem}-guide.html")
    # Whoever goes without a machine reads no profile.
    inputs = job_files(job_file) if by_hand else files_read(job_file, profile_name)
    leave = Leave(inputs, overwrite)
    write_set(target.parent, {target.name: page}, f"guide {target.name}", leave)
    click.echo(f"wrote {target}; open it in a browser, or print it")
