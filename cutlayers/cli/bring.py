"""`cutlayers bring`: a drawing from outside becomes a job."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal, get_args

import click

from cutlayers.bringing import DrawnIn, Ends, Shows
from cutlayers.cli.ending import RefusedUsage
from cutlayers.cli.options import json_option, print_json
from cutlayers.telling.refusals import Refusal

if TYPE_CHECKING:
    from cutlayers.bringing import Asked

PIXELS = 1600
"""Width of a picture as PNG; the smallest letters can be read."""


@click.command()
@click.argument("drawing", metavar="FILE", type=click.Path(path_type=Path))
@click.option(
    "-o",
    "--output",
    type=click.Path(path_type=Path),
    metavar="JOB",
    help="Write a job that makes it; an existing file is never overwritten.",
)
@click.option(
    "--picture",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Draw what was understood as SVG or PNG: lines by kind with their numbers, panels and "
    "folds with their names.",
)
@click.option(
    "--unit",
    type=click.Choice(get_args(DrawnIn)),
    help="What one unit of the drawing is, where the file does not say it.",
)
@click.option("--scale", type=float, metavar="MM", help="How long one unit of the drawing is.")
@click.option("--known", metavar="NUMBER=LENGTH", help="A line of the drawing and how long it is.")
@click.option(
    "--join",
    default="0.3 mm",
    show_default=True,
    metavar="LENGTH",
    help="Ends that lie no farther apart are joined.",
)
@click.option(
    "--ends",
    type=click.Choice(get_args(Ends)),
    default="trim",
    show_default=True,
    help="Trim scores that stop short of a line or run past it, or keep them.",
)
@click.option(
    "--shows",
    type=click.Choice(get_args(Shows)),
    help="Which side of the box the drawing shows; an inside is turned over, left for right.",
)
@click.option(
    "--units",
    "unit_of_job",
    type=click.Choice(["mm", "in"]),
    default="mm",
    show_default=True,
    help="The unit of bare numbers in the job.",
)
@json_option
def bring(
    drawing: Path,
    output: Path | None,
    picture: Path | None,
    unit: DrawnIn | None,
    scale: float | None,
    known: str | None,
    join: str,
    ends: Ends,
    shows: Shows | None,
    unit_of_job: Literal["mm", "in"],
    as_json: bool,
) -> None:
    """Make a box of a drawing that you have: an SVG, a DXF or a FOLD file.

    \b
      cutlayers bring friend.svg                     what is in it
      cutlayers bring friend.svg -o friend.toml      a job that makes it

    Its lines are told apart by layers, colours and dashes, or by where they lie; doubled lines,
    small gaps and crossings are mended; panels, folds and holes are found, and the angles at which
    the box closes. What was understood is told with what speaks for it. The job says all of it in
    words that you can change.
    """
    from cutlayers import (
        drawing_job,
        drawing_scene,
        put_all_new,
        usual_sheet,
        write_png,
        write_svg,
    )
    from cutlayers.bringing import answers, understood_facts, understood_of
    from cutlayers.cli.bring_words import understanding_text
    from cutlayers.telling.shell import quoted

    asked, said = _asked(unit, scale, known, join, ends, shows, unit_of_job)
    understood = understood_of(drawing, asked)
    nets = answers(understood)
    if as_json:
        print_json(understood_facts(understood, nets))
    else:
        click.echo(understanding_text(drawing.name, understood, nets, unit_of_job))
    files: list[tuple[Path, bytes]] = []
    if picture is not None:
        scene = drawing_scene(understood, nets)
        png = picture.suffix.lower() == ".png"
        files.append((picture, write_png(scene, PIXELS) if png else write_svg(scene)))
    if output is not None:
        text = drawing_job(
            understood,
            nets,
            drawing,
            output.parent,
            unit=unit_of_job,
            sheet=usual_sheet(unit_of_job),
            said=said,
        )
        files.append((output, text.encode()))
    put_all_new(files)
    if picture is not None:
        click.echo(f"wrote {picture}", err=as_json)
    if output is not None:
        click.echo(f"wrote {output}; try: cutlayers check {quoted(str(output))}", err=as_json)


def _asked(
    unit: DrawnIn | None,
    scale: float | None,
    known: str | None,
    join: str,
    ends: Ends,
    shows: Shows | None,
    unit_of_job: Literal["mm", "in"],
) -> tuple[Asked, dict[str, Any]]:
    """What is asked of the drawing, and the keys that say so in a job. Raises RefusedUsage."""
    from cutlayers.bringing import Asked
    from cutlayers.reading import read_table

    given = {
        "unit": unit,
        "scale": scale,
        "known": None if known is None else _known(known),
        "join": join,
        "ends": ends,
        "shows": shows,
    }
    asked, problems = read_table(
        Asked, {key: value for key, value in given.items() if value is not None}, unit_of_job
    )
    if asked is None:
        key, *inner = problems[0].place
        raise RefusedUsage(replace(problems[0], place=(f"--{key}", *inner)))
    usual = Asked()
    return asked, {
        key: value
        for key, value in given.items()
        if value is not None and getattr(asked, key) != getattr(usual, key)
    }


def _known(text: str) -> dict[str, Any]:
    number, sign, length = text.partition("=")
    if not sign or not re.fullmatch(r"\s*\d{1,9}\s*", number):
        allowed = "the number of a line and its length, such as 12=60"
        raise RefusedUsage(Refusal(("--known",), fault="value", found=text, allowed=allowed))
    return {"line": int(number), "length": length.strip()}
