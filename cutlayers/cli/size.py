"""`cutlayers size`: which size a box must have."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal, TypeVar

import click

from cutlayers.cli.ending import RefusedUsage
from cutlayers.cli.options import (
    chosen_style,
    json_option,
    print_json,
    profile_option,
    read_boxes,
)
from cutlayers.cli.progress import LateBar
from cutlayers.cli.size_words import read_settings, read_shares, read_stock, read_thing
from cutlayers.telling.refusals import Refusal

if TYPE_CHECKING:
    from cutlayers import Box, Stock
    from cutlayers.box import Origin
    from cutlayers.construction.card import Measure
    from cutlayers.fitting import Item

Function = TypeVar("Function", bound=Callable[..., Any])

MEASURES = click.Choice(["inside", "score", "outside"])


@click.group()
def size() -> None:
    """Find the size of a box: for a thing, from a sheet, or like another box.

    \b
      cutlayers size for-item gable-carton sphere diameter=58 clearance=2
      cutlayers size from-sheet tray length=3 width=2 height=1 --sheet A4 -p desktop-a4
      cutlayers size like favours.toml sphere diameter=70 clearance=2 -o larger.toml

    Answers are in mm and in inches to 1/16, rounded so that the answer still holds. With
    --output the answer is written as a job file, in exact mm.
    """


def _card_options(function: Function) -> Function:
    """What the card is like, and what is asked of the style."""
    for option in reversed(
        (
            click.option("--caliper", default="0.3 mm", show_default=True, help="Of the card."),
            click.option(
                "--sheet", default="A4", show_default=True, help="Its sheet, as in a job file."
            ),
            click.option(
                "--measure",
                type=MEASURES,
                default="inside",
                show_default=True,
                help="What the sizes are measured to.",
            ),
            click.option(
                "--set",
                "settings",
                multiple=True,
                metavar="NAME=VALUE",
                help="An option of the style, or a size that is fixed; may be given repeatedly.",
            ),
        )
    ):
        function = option(function)
    return function


def _output_option(function: Function) -> Function:
    return click.option(
        "-o",
        "--output",
        type=click.Path(path_type=Path),
        metavar="FILE",
        help="Write a job file with this size; an existing file is never overwritten.",
    )(function)


@size.command("for-item")
@click.argument("style_name", metavar="STYLE")
@click.argument("shape", metavar="SHAPE")
@click.argument("measures", nargs=-1, required=True, metavar="NAME=LENGTH...")
@_card_options
@_output_option
@json_option
def for_item(
    style_name: str,
    shape: str,
    measures: Sequence[str],
    caliper: str,
    sheet: str,
    measure: Measure,
    settings: Sequence[str],
    output: Path | None,
    as_json: bool,
) -> None:
    """Find the smallest box of STYLE for a thing.

    SHAPE is cuboid (length, width, height), cylinder (diameter, height), egg (length, diameter;
    it stands on end) or sphere (diameter); clearance is the room to spare, both sides together.
    """
    from cutlayers import Card
    from cutlayers.fitting.search import box_for_item

    style = chosen_style(style_name)
    stock = read_stock(caliper, sheet)
    thing = read_thing(shape, measures)
    box = box_for_item(style, read_settings(style, settings), Card(stock.caliper, measure), thing)
    lead = f"the smallest {style.name} for a {_with_clearance(thing)}"
    _answer(lead, _origin(box), stock, "up", output, as_json)


@size.command("from-sheet")
@click.argument("style_name", metavar="STYLE")
@click.argument("proportions", nargs=-1, required=True, metavar="NAME=SHARE...")
@_card_options
@profile_option
@_output_option
@json_option
def from_sheet(
    style_name: str,
    proportions: Sequence[str],
    caliper: str,
    sheet: str,
    measure: Measure,
    settings: Sequence[str],
    profile_name: str | None,
    output: Path | None,
    as_json: bool,
) -> None:
    """Find the largest box of STYLE that comes out of one sheet on your machine's bed.

    Give each of the style's sizes as its share, such as length=3 width=2 height=1. Every part of
    the box must lie on the one sheet, clear of the bed's margin and the register marks.
    """
    from cutlayers import Card, read_profile
    from cutlayers.box import Origin
    from cutlayers.sheets.largest import largest_on_sheet

    if profile_name is None:
        advice = "name your machine's profile"
        raise RefusedUsage(Refusal(("--profile",), fault="missing", advice=advice))
    style = chosen_style(style_name)
    stock = read_stock(caliper, sheet)
    machine = read_profile(profile_name)
    shares = read_shares(style, proportions)
    options = read_settings(style, settings)
    for name in shares:
        if name in options:
            why = "is a size, which its share and the sheet decide"
            raise RefusedUsage(Refusal(("--set", name), why, "value", advice="leave it out"))
    shape = style.dimensions(**options, **shares)
    card = Card(stock.caliper, measure)
    with LateBar(None, "trying sizes") as bar:
        dims = largest_on_sheet(style, shape, card, stock, machine, bar.update)
    lead = f"the largest {style.name} of these proportions from one sheet on {machine.title}"
    _answer(lead, Origin(style, dims, card), stock, "down", output, as_json, profile_name)


@size.command("like")
@click.argument("job_file", metavar="JOB", type=click.Path(path_type=Path))
@click.argument("shape", metavar="SHAPE")
@click.argument("measures", nargs=-1, required=True, metavar="NAME=LENGTH...")
@click.option("--piece", metavar="NAME", help="Which box of the job; by default its only one.")
@click.option(
    "--along",
    multiple=True,
    metavar="OPTION",
    help="An option that is scaled with the sizes, such as the height of a lid's walls.",
)
@_output_option
@json_option
def like(
    job_file: Path,
    shape: str,
    measures: Sequence[str],
    piece: str | None,
    along: Sequence[str],
    output: Path | None,
    as_json: bool,
) -> None:
    """Scale a box of JOB as a whole until it just holds another thing.

    SHAPE and its measures are those of 'cutlayers size for-item'.
    """
    from cutlayers.fitting.search import scaled_for_item
    from cutlayers.telling.nearest import nearest

    job = read_boxes(job_file)
    names = [order.name for order in job.orders]
    if piece is None and len(names) > 1:
        raise RefusedUsage(
            Refusal(
                ("--piece",),
                fault="missing",
                file=str(job_file),
                allowed=tuple(names),
                advice="name one of its boxes",
            )
        )
    chosen = names[0] if piece is None else piece
    order = next((each for each in job.orders if each.name == chosen), None)
    if order is None:
        raise RefusedUsage(
            Refusal(
                ("--piece",),
                fault="value",
                file=str(job_file),
                found=chosen,
                allowed=tuple(names),
                nearest=nearest(str(chosen), names),
            )
        )
    stock, thing = job.stocks[order.stock], read_thing(shape, measures)
    box = scaled_for_item(_origin(order.box), thing, along)
    lead = f"{order.name} scaled for a {_with_clearance(thing)}"
    _answer(lead, _origin(box), stock, "up", output, as_json, job.profile)


def _with_clearance(thing: Item) -> str:
    return f"{thing} and {thing.clearance:g} mm of clearance" if thing.clearance else str(thing)


def _answer(
    lead: str,
    origin: Origin,
    stock: Stock,
    rounded: Literal["up", "down"],
    output: Path | None,
    as_json: bool,
    profile: str | None = None,
) -> None:
    from cutlayers.job.writing import job_text
    from cutlayers.telling.lengths import format_length
    from cutlayers.telling.shell import quoted
    from cutlayers.writing.single import put_new

    style, dims, measure = origin.style, origin.dims, origin.card.measure
    sizes = {
        name: getattr(dims, name)
        for name, (dimension, _) in style.table.items()
        if dimension.group == "size"
    }
    if output is not None:
        text = job_text(style, dims, measure, stock, title=lead, profile=profile)
        put_new(output, text.encode())
    if as_json:
        print_json({"style": style.name, "measure": measure, "size_mm": sizes})
        return
    click.echo(f"{lead}, measured {measure}:")
    for name, value in sizes.items():
        inches = format_length(_whole_sixteenths(value, rounded), "in")
        click.echo(f"  {name:<10} {format_length(value):>10}   {inches}")
    if output is not None:
        click.echo(f"wrote {output}; try: cutlayers check {quoted(str(output))}")


def _origin(box: Box) -> Origin:
    """What a style made the box from; boxes of these commands always have that."""
    assert box.origin is not None
    return box.origin


def _whole_sixteenths(millimetres: float, rounded: Literal["up", "down"]) -> float:
    import math

    sixteenth = 25.4 / 16
    parts = millimetres / sixteenth
    whole = math.ceil(parts - 1e-6) if rounded == "up" else math.floor(parts + 1e-6)
    return whole * sixteenth
