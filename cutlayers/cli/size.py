"""`cutlayers size`: which size a box must have."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from cutlayers.cli.ending import RefusedUsage
from cutlayers.cli.options import (
    chosen_style,
    json_option,
    known_machine,
    profile_option,
    read_boxes,
)
from cutlayers.cli.progress import LateBar
from cutlayers.cli.size_answers import (
    holds,
    in_parts_instead,
    origin_of,
    tell,
    tell_drawn,
    with_clearance,
    write_new,
    write_resized,
)
from cutlayers.cli.size_words import read_settings, read_shares, read_stock, read_thing
from cutlayers.telling.errors import PlacementError
from cutlayers.telling.refusals import Refusal, in_unit

if TYPE_CHECKING:
    from cutlayers import Stock
    from cutlayers.construction.card import Measure
    from cutlayers.telling.lengths import Unit

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
    --output the answer is written as a job file. Where bare numbers are inches (--units in, or a
    job that counts in them) the sizes of the box itself are sixteenths.
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
                "--material",
                metavar="NAME",
                help="The profile's material that it is: its creases count as they were measured.",
            ),
            click.option(
                "--measure",
                type=MEASURES,
                default="inside",
                show_default=True,
                help="What the sizes are measured to.",
            ),
            click.option(
                "--units",
                "unit",
                type=click.Choice(["mm", "in"]),
                default="mm",
                show_default=True,
                help="The unit of bare numbers.",
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
@profile_option
@_output_option
@json_option
def for_item(
    style_name: str,
    shape: str,
    measures: Sequence[str],
    caliper: str,
    sheet: str,
    material: str | None,
    measure: Measure,
    unit: Unit,
    settings: Sequence[str],
    profile_name: str | None,
    output: Path | None,
    as_json: bool,
) -> None:
    """Find the smallest box of STYLE for a thing.

    SHAPE is cuboid (length, width, height), cylinder (diameter, height), egg (length, diameter;
    it stands on end) or sphere (diameter); clearance is the room to spare, both sides together.
    """
    from cutlayers import cut_in_parts, too_large
    from cutlayers.fitting import box_for_item, in_sixteenths

    style = chosen_style(style_name)
    machine = known_machine(profile_name)
    stock = read_stock(caliper, sheet, material, unit, machine)
    thing = read_thing(shape, measures, unit)
    options = read_settings(style, settings, unit)
    box = box_for_item(style, options, stock.card(measure), thing)
    if unit == "in":
        box = in_sixteenths(box, "up", lambda larger: holds(larger, thing), tuple(options))
    box, parted = cut_in_parts(box, lambda _: stock, machine, tuple(options))
    tell(
        f"the smallest {style.name} for a {with_clearance(thing, unit)}",
        origin_of(box),
        "up",
        as_json=as_json,
        written=write_new(output, origin_of(box), stock, unit, profile_name),
        parted=parted,
        but=too_large(box, lambda _: stock, machine, unit),
    )


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
    material: str | None,
    measure: Measure,
    unit: Unit,
    settings: Sequence[str],
    profile_name: str | None,
    output: Path | None,
    as_json: bool,
) -> None:
    """Find the largest box of STYLE that comes out of one sheet on your machine's bed.

    Give each of the style's sizes as its share, such as length=3 width=2 height=1, or keep one as
    it is: length=3 width=2 --set height=98. Every part of the box must lie on the one sheet, clear
    of the bed's margin and the register marks.
    """
    from cutlayers import largest_on_sheet, on_one_sheet
    from cutlayers.fitting import in_sixteenths

    machine = known_machine(profile_name)
    if machine is None:
        advice = (
            "name your machine's profile; 'cutlayers profile default NAME' chooses one for good"
        )
        raise RefusedUsage(Refusal(("--profile",), fault="missing", advice=advice))
    style = chosen_style(style_name)
    stock = read_stock(caliper, sheet, material, unit, machine)
    options = read_settings(style, settings, unit)
    shares = read_shares(style, proportions, options)
    shape = style.dimensions(**options, **shares)
    try:
        with LateBar(None, "trying sizes") as bar:
            box = largest_on_sheet(
                style, shape, tuple(shares), stock.card(measure), stock, machine, bar.update
            )
    except PlacementError as error:
        raise PlacementError(*in_unit(unit, error.refusals)) from None
    if unit == "in":
        good = partial(on_one_sheet, stock=stock, machine=machine)
        box = in_sixteenths(box, "down", good, tuple(options))
    tell(
        f"the largest {style.name} of these proportions from one sheet on {machine.title}",
        origin_of(box),
        "down",
        as_json=as_json,
        written=write_new(output, origin_of(box), stock, unit, profile_name),
    )


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

    SHAPE and its measures are those of 'cutlayers size for-item'; bare numbers count as in JOB.
    With --output the whole job is written with that box resized: art, facings, lettering and the
    other boxes stay, and what finds no place on the box any more is left out and told.
    """
    from cutlayers import cut_in_parts, lengths_of, too_large
    from cutlayers.fitting import in_sixteenths, scaled_for_item, sizes_for_item
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
    thing = read_thing(shape, measures, job.unit)
    index = names.index(order.name)
    lead = f"{order.name} scaled for a {with_clearance(thing, job.unit)}"
    if order.drawing is not None:
        sizes = sizes_for_item(order.box, thing)
        own = lengths_of(sizes)
        written, left_out = write_resized(output, job_file, index, own, thing, job.unit)
        tell_drawn(lead, sizes, as_json=as_json, written=written, left_out=left_out)
        return
    box = scaled_for_item(origin_of(order.box), thing, along)
    if job.unit == "in":
        box = in_sixteenths(box, "up", lambda larger: holds(larger, thing), (), along)
    own = lengths_of(origin_of(box), along)
    written, left_out = write_resized(output, job_file, index, own, thing, job.unit)
    machine = known_machine(None, job.profile, job_file)

    def stock_of(net: str) -> Stock:
        return job.stocks[order.stock_of(net)]

    parts, net = cut_in_parts(box, stock_of, machine)
    tell(
        lead,
        origin_of(box),
        "up",
        as_json=as_json,
        written=written,
        but=too_large(box, stock_of, machine, job.unit),
        in_parts=in_parts_instead(origin_of(parts), net) if net else "",
        left_out=left_out,
    )
