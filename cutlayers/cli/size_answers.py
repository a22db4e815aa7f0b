"""What `cutlayers size` answers: in sixteenths, whether the sheet is large enough, as a job."""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Sequence
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal, cast

import click

from cutlayers.cli.options import print_json
from cutlayers.reading.values import readable
from cutlayers.telling.lengths import MM_PER

if TYPE_CHECKING:
    from cutlayers import Box, Machine, Stock
    from cutlayers.box import Origin
    from cutlayers.fitting import Item
    from cutlayers.telling.lengths import Unit
    from cutlayers.telling.refusals import Place


def with_clearance(thing: Item) -> str:
    """A thing in words."""
    return f"{thing} and {thing.clearance:g} mm of clearance" if thing.clearance else str(thing)


def holds(box: Box, thing: Item) -> bool:
    """Whether a thing fits a box."""
    from cutlayers.fitting.search import fits

    return fits(box, thing).fits


def in_sixteenths(
    box: Box,
    way: Literal["up", "down"],
    good: Callable[[Box], bool],
    kept: Sequence[str],
    along: Sequence[str] = (),
) -> Box:
    """The box with its sizes, and the options scaled along, in sixteenths of an inch, but for those
    that are kept; the box itself where that will not do."""
    from cutlayers.box import build
    from cutlayers.fitting.search import STEP
    from cutlayers.telling.errors import StyleError

    origin = origin_of(box)
    free = [
        name
        for name, (dimension, _) in origin.style.table.items()
        if dimension.is_length and name not in kept and (dimension.group == "size" or name in along)
    ]
    # The box was found in steps, which may have gone past a sixteenth that will do.
    for back in (STEP if way == "up" else -STEP, 0.0):
        sizes = {name: _whole_sixteenths(getattr(origin.dims, name) - back, way) for name in free}
        with suppress(StyleError):
            found = build(origin.style, replace(cast(Any, origin.dims), **sizes), origin.card)
            if good(found):
                return found
    return box


def in_parts(
    box: Box, stock_of: Callable[[str], Stock], machine: Machine | None, kept: Collection[str]
) -> tuple[Box, str]:
    """The box with a net cut in parts, where it comes out of sheets so alone, and which; the box
    itself and "" otherwise. Options that are `kept` stay as they are."""
    from cutlayers.box import build
    from cutlayers.telling.errors import StyleError

    if not too_large(box, stock_of, machine):
        return box, ""
    origin = origin_of(box)
    for net, option in origin.style.parts:
        count = getattr(origin.dims, option) + 1
        if option in kept or count > origin.style.table[option][0].most:
            continue
        with suppress(StyleError):
            dims = replace(cast(Any, origin.dims), **{option: count})
            parted = build(origin.style, dims, origin.card)
            if not too_large(parted, stock_of, machine):
                return parted, f"{option} = {count}, since the {net} in one is larger than a sheet"
    return box, ""


def too_large(box: Box, stock_of: Callable[[str], Stock], machine: Machine | None) -> str:
    """Why the box does not come out of sheets of its nets' stocks, as a sentence; "" where it
    does."""
    if machine is not None:
        from cutlayers.sheets.model import Piece
        from cutlayers.sheets.placing import place_pieces
        from cutlayers.telling.errors import PlacementError

        try:
            pieces = [Piece(each.label, "it", each, stock_of(each.name)) for each in box.blanks]
            place_pieces(pieces, machine)
        except PlacementError as error:
            return str(error)
        return ""
    for blank in box.blanks:
        sides = sorted(stock_of(blank.name).sheet)
        left, bottom, right, top = blank.net.bounds
        flat = sorted((right - left, top - bottom))
        if flat[0] > sides[0] or flat[1] > sides[1]:
            return (
                f"{blank.label} is {flat[1]:.1f} × {flat[0]:.1f} mm flat, more than the sheet of "
                f"{sides[1]:.1f} × {sides[0]:.1f} mm; use a larger one"
            )
    return ""


def write_new(
    output: Path | None, origin: Origin, stock: Stock, unit: Unit, profile: str | None
) -> Path | None:
    """Write a job of this one box, where a file is asked for."""
    from cutlayers.job.writing import job_text
    from cutlayers.writing.single import put_new

    if output is not None:
        text = job_text(
            origin.style,
            origin.dims,
            origin.card.measure,
            stock,
            title=readable(output.stem),
            unit=unit,
            profile=profile,
        )
        put_new(output, text.encode())
    return output


def write_resized(
    output: Path | None,
    job_file: Path,
    index: int,
    origin: Origin,
    along: Sequence[str],
    thing: Item,
    unit: Unit,
) -> tuple[Path | None, tuple[str, ...]]:
    """Write the job with its box of that number resized, where a file is asked for; also a line for
    each thing that was left out."""
    from cutlayers.job.dimensions import dimension_place
    from cutlayers.job.resizing import resized
    from cutlayers.reading.editing import length_in
    from cutlayers.reading.toml_file import read_text
    from cutlayers.telling.errors import JobError
    from cutlayers.telling.refusing import refused_line
    from cutlayers.writing.single import put_new

    if output is None:
        return None, ()
    lengths: dict[Place, float] = {
        dimension_place(origin.dims, name): getattr(origin.dims, name)
        for name, (dimension, _) in origin.style.table.items()
        if dimension.is_length and (dimension.group == "size" or name in along)
    }
    measures = {name: length_in(size, unit) for name, size in thing.measures.items()}
    table = {"shape": thing.shape, **measures, "clearance": length_in(thing.clearance, unit)}
    text = read_text(job_file, "job", JobError)
    found = resized(text, job_file, index, lengths, table, unit, to=output)
    put_new(output, found.text.encode())
    return output, tuple(map(refused_line, found.left_out))


def tell(
    lead: str,
    origin: Origin,
    way: Literal["up", "down"],
    *,
    as_json: bool,
    written: Path | None,
    parts: str = "",
    but: str = "",
    left_out: Sequence[str] = (),
) -> None:
    """Print the answer; inches are rounded that way. `parts` says in how many a net is cut, `but`
    why the box does not come out of sheets."""
    from cutlayers.telling.lengths import format_length
    from cutlayers.telling.shell import quoted

    style, dims, measure = origin.style, origin.dims, origin.card.measure
    sizes = {
        name: getattr(dims, name)
        for name, (dimension, _) in style.table.items()
        if dimension.group == "size"
    }
    if as_json:
        counts = {name: getattr(dims, name) for _, name in style.parts}
        found = {"style": style.name, "measure": measure, "size_mm": sizes, "parts": counts}
        print_json({**found, "too_large": but or None, "left_out": list(left_out)})
        return
    click.echo(f"{lead}, measured {measure}:")
    for name, value in sizes.items():
        if not style.table[name][0].is_length:
            click.echo(f"  {name:<10} {value}")
            continue
        inches = format_length(_whole_sixteenths(value, way), "in")
        click.echo(f"  {name:<10} {format_length(value):>10}   {inches}")
    if parts:
        click.echo(f"with {parts}")
    if but:
        click.echo(f"but it does not come out of such sheets: {but}")
    if written is not None:
        click.echo(f"wrote {written}; try: cutlayers check {quoted(str(written))}")
    for line in left_out:
        click.echo(f"left out of it: {line}")


def origin_of(box: Box) -> Origin:
    """What a style made the box from; boxes of these commands always have that."""
    assert box.origin is not None
    return box.origin


def _whole_sixteenths(millimetres: float, way: Literal["up", "down"]) -> float:
    sixteenth = MM_PER["in"] / 16
    parts = millimetres / sixteenth
    whole = math.ceil(parts - 1e-6) if way == "up" else math.floor(parts + 1e-6)
    return whole * sixteenth
