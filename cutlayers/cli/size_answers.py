"""What `cutlayers size` answers, in words and as a job."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Literal

import click

from cutlayers.cli.options import print_json

if TYPE_CHECKING:
    from cutlayers import Box, Stock
    from cutlayers.box import Origin
    from cutlayers.fitting import Item
    from cutlayers.telling.lengths import Unit


def with_clearance(thing: Item, unit: Unit) -> str:
    """A thing in words."""
    from cutlayers.fitting import INCH_DIVISIONS
    from cutlayers.telling.lengths import format_length

    if not thing.clearance:
        return thing.in_words(unit)
    clearance = (
        format_length(thing.clearance, "in", INCH_DIVISIONS)
        if unit == "in"
        else f"{thing.clearance:g} mm"
    )
    return f"{thing.in_words(unit)} and {clearance} of clearance"


def holds(box: Box, thing: Item) -> bool:
    """Whether a thing fits a box."""
    from cutlayers.fitting import fits

    return fits(box, thing).fits


def write_new(
    output: Path | None, origin: Origin, stock: Stock, unit: Unit, profile: str | None
) -> Path | None:
    """Write a job of this one box, where a file is asked for."""
    from cutlayers import job_text, put_new
    from cutlayers.reading import readable

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
    lengths: Mapping[tuple[str | int, ...], float],
    thing: Item,
    unit: Unit,
) -> tuple[Path | None, tuple[str, ...]]:
    """Write the job with its box of that number resized, where a file is asked for; also a line for
    each thing that was left out."""
    from cutlayers import put_new, resized
    from cutlayers.reading import read_toml_text
    from cutlayers.telling.errors import JobError
    from cutlayers.telling.refusing import refused_line

    if output is None:
        return None, ()
    text = read_toml_text(job_file, "job", JobError)
    found = resized(text, job_file, index, lengths, thing, unit=unit, to=output)
    put_new(output, found.text.encode())
    return output, tuple(map(refused_line, found.left_out))


def tell(
    lead: str,
    origin: Origin,
    way: Literal["up", "down"],
    *,
    as_json: bool,
    written: Path | None,
    parted: str = "",
    but: str = "",
    in_parts: str = "",
    left_out: Sequence[str] = (),
) -> None:
    """Print the answer; inches are rounded that way. `parted` is a net that is cut in parts,
    `but` why the box does not come out of sheets, `in_parts` what would help."""
    from cutlayers.fitting import whole_sixteenths
    from cutlayers.telling.lengths import format_length

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
        inches = format_length(whole_sixteenths(value, way), "in")
        click.echo(f"  {name:<10} {format_length(value):>10}   {inches}")
    if parted:
        option = dict(style.parts)[parted]
        why = f"since the {parted} in one is larger than a sheet"
        click.echo(f"with {option} = {getattr(dims, option)}, {why}")
    _tell_end(but, written, left_out, in_parts)


def tell_drawn(
    lead: str,
    sizes: Mapping[str, float],
    *,
    as_json: bool,
    written: Path | None,
    left_out: Sequence[str],
) -> None:
    """Print the sizes of a box from a drawing, between its creases; inches are rounded up."""
    from cutlayers.fitting import whole_sixteenths
    from cutlayers.telling.lengths import format_length

    if as_json:
        print_json({"measure": "score", "size_mm": dict(sizes), "left_out": list(left_out)})
        return
    click.echo(f"{lead}, measured between creases:")
    for name, value in sizes.items():
        inches = format_length(whole_sixteenths(value, "up"), "in")
        click.echo(f"  {name:<10} {format_length(value):>10}   {inches}")
    _tell_end("", written, left_out)


def in_parts_instead(origin: Origin, net: str) -> str:
    """The option by which a net is cut in so many parts that the box comes out of its sheets."""
    option = dict(origin.style.parts)[net]
    return f"or cut the {net} in parts: options.{option} = {getattr(origin.dims, option)}"


def _tell_end(but: str, written: Path | None, left_out: Sequence[str], in_parts: str = "") -> None:
    from cutlayers.telling.shell import quoted

    if but:
        click.echo(f"but it does not come out of such sheets: {but}")
    if in_parts:
        click.echo(in_parts)
    if written is not None:
        click.echo(f"wrote {written}; try: cutlayers check {quoted(str(written))}")
    for line in left_out:
        click.echo(f"left out of it: {line}")


def origin_of(box: Box) -> Origin:
    """What a style made the box from; boxes of these commands always have that."""
    assert box.origin is not None
    return box.origin
