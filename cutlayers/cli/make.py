"""`cutlayers make`."""

from __future__ import annotations

import os
from pathlib import Path

import click

from cutlayers.cli.kit import make_kit
from cutlayers.cli.options import (
    echo_json,
    job_argument,
    json_option,
    overwrite_option,
    profile_option,
    read_inputs,
)
from cutlayers.cli.progress import LateBar, laying_bar


@click.command()
@job_argument
@profile_option
@click.option(
    "-o",
    "--output",
    type=click.Path(path_type=Path),
    metavar="FOLDER",
    help="Where the files go; by default a folder with the job's name, where you are.",
)
@overwrite_option
@click.option("--anyway", is_flag=True, help="Make the files even where the checks find errors.")
@click.option(
    "--processes",
    type=click.IntRange(1, 64),
    default=1,
    show_default=True,
    help="How many sheets of a kit to make at the same time.",
)
@json_option
def make(
    job_file: Path,
    profile_name: str | None,
    output: Path | None,
    overwrite: bool,
    anyway: bool,
    processes: int,
    as_json: bool,
) -> None:
    """Make the files of a job for your machine.

    First folds each box up and checks it as 'cutlayers check' does; where it does not work the
    findings are printed and nothing is written, unless you say --anyway.

    Writes, for each sheet, the files that the profile asks for (DXF, SVG, one with layers or one
    for each operation) and a picture to look at; for each kind of box a picture of it folded;
    a guide to follow; a page that a friend may open anywhere, with the boxes to be turned and
    folded; and a report of what each layer contains. All
    files appear together; if anything goes wrong, earlier files stay as they were. Files of an
    earlier run in the same folder that this one does not need are removed; files that cutlayers
    did not write, or that were changed since, are never touched unless you say --overwrite.

    A job that names a kit makes a set of pieces for each row of its table, sheet by sheet, a guide
    with a list to tick for each sheet, and a manifest of which piece lies where. A kit that was
    interrupted goes on where it stopped. It has no page for friends: its boxes are all different.
    """
    from cutlayers import names_kit, work_ahead

    folder = output or Path(job_file.stem)
    if names_kit(job_file):
        make_kit(job_file, profile_name, folder, overwrite, anyway, as_json, processes)
        return
    with work_ahead(os.cpu_count() or 1) as ahead:
        # Loading takes a while: the other process does so at the same time.
        from cutlayers import (
            draw,
            files_read,
            lay_out,
            plan,
            render,
            report_json,
            report_of,
            report_text,
            show,
            write,
        )

        job, machine = read_inputs(job_file, profile_name)
        # Painting takes longest: the other process begins with it before it is known to be wanted.
        with LateBar(len(job.orders), "folding up") as bar:
            shown = show(job, machine, progress=bar.update)
        for picture in shown.pictures.values():
            ahead.picture(picture)
        with laying_bar(job) as bar:
            layout = lay_out(job, machine, progress=bar.update)
        if not (layout.works or anyway):
            report = report_of(layout)
            if as_json:
                echo_json(report_json(report))
            else:
                click.echo(report_text(report), nl=False)
            click.echo("nothing was written: the job does not work as it stands", err=True)
            click.get_current_context().exit(1)
        with LateBar(2 * len(layout.sides), "making") as bar:
            drawn = draw(plan(layout, progress=bar.update), shown)
            files = render(drawn, ahead=ahead, progress=bar.update)
    write(files, folder, inputs=files_read(job_file, profile_name), overwrite=overwrite)
    if as_json:
        echo_json(files["report.json"].decode())
    else:
        click.echo(report_text(drawn.report))
        click.echo(f"{len(files)} files in {folder}")
