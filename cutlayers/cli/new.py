"""`cutlayers new`."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

import click

from cutlayers.cli.options import chosen_style, print_json


@click.command()
@click.argument("style_name", metavar="[STYLE]", required=False)
@click.option(
    "-o",
    "--output",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Write the job here; by default it is printed.",
)
@click.option(
    "--units",
    type=click.Choice(["mm", "in"]),
    default="mm",
    show_default=True,
    help="The unit of bare numbers.",
)
@click.option(
    "--schema",
    is_flag=True,
    help="Print the JSON Schema of job files instead, for editors that check TOML.",
)
def new(
    style_name: str | None, output: Path | None, units: Literal["mm", "in"], schema: bool
) -> None:
    """Start a job: a commented file for STYLE with every size and option in it.

    An existing file is never overwritten.
    """
    from cutlayers import job_schema, job_template, put_new, usual_sheet
    from cutlayers.telling.shell import quoted

    if schema:
        print_json(job_schema())
        return
    if style_name is None:
        raise click.UsageError("name a style; 'cutlayers styles' lists them")
    text = job_template(chosen_style(style_name), units, usual_sheet(units))
    if output is None:
        click.echo(text, nl=False)
        return
    put_new(output, text.encode())
    click.echo(f"wrote {output}; try: cutlayers check {quoted(str(output))}")
