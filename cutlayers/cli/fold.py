"""`cutlayers fold`."""

from __future__ import annotations

import math
from pathlib import Path
from typing import TYPE_CHECKING

import click

from cutlayers.cli.ending import RefusedUsage
from cutlayers.cli.options import (
    job_argument,
    json_option,
    overwrite_option,
    print_json,
    read_boxes,
)

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from cutlayers import Job, Order
    from cutlayers.box import Press, Way


@click.command()
@job_argument
@click.option(
    "-o",
    "--output",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Where it goes; its ending, .glb, .obj or .fold, says in which format. By default the "
    "job's name with .glb, where you are.",
)
@click.option(
    "--open",
    "opened",
    type=float,
    default=0.0,
    show_default=True,
    metavar="SHARE",
    help="How far open: 0 closed, 1 flat.",
)
@click.option(
    "--piece",
    metavar="NAME|N",
    help="Only this piece of the job, by its name or its number; by default all, side by side.",
)
@overwrite_option
@json_option
def fold(
    job_file: Path,
    output: Path | None,
    opened: float,
    piece: str | None,
    overwrite: bool,
    as_json: bool,
) -> None:
    """Write the folded boxes as solids, for any program that shows or measures them.

    Every panel is a slab of card under its own name, at true size, holes and windows cut out; each
    piece is there once, however many are made. A kit has no one box to fold and is refused.

    By the file's ending it is glTF 2.0 (.glb, in metres, +Y up), OBJ (.obj, in mm, +Z up) or FOLD
    1.2 (.fold, in mm: the crease pattern and the folded form, whose faces are the middle of the
    card).

    Then each step of putting it together is walked, folds in small turns and what slides along its
    way, to see whether anything stands in the way of a wall, a lid, a flap or a tongue, and whether
    a finger gets in to what is pressed from inside.

    Of a box that is partly open each blank stands by itself, and where folds meet in a ring they
    gape, since real card bends on the way. Creases take up of the card what the profile that the
    job names, or your default one, has measured; without a profile half.
    """
    from cutlayers import job_files, write
    from cutlayers.solids import FORMATS, model_of
    from cutlayers.telling.refusals import Refusal, Span
    from cutlayers.telling.written import shown

    target = output or Path(f"{job_file.stem}.glb")
    ending = target.suffix.lower()
    if ending not in FORMATS:
        said = f"is {shown(target.name)}, whose ending names no format"
        raise RefusedUsage(
            Refusal(("-o",), said, "value", found=target.name, allowed=tuple(FORMATS))
        )
    if not 0.0 <= opened <= 1.0:
        raise RefusedUsage(
            Refusal(("--open",), fault="value", found=opened, allowed=Span(0.0, 1.0))
        )
    job = read_boxes(job_file)
    chosen = _chosen(job, piece)
    model = model_of(job, chosen, opened)
    written = FORMATS[ending]
    content = written.write(model)
    files, label = {target.name: content}, f"fold {target.name}"
    write(files, target.parent, inputs=job_files(job_file), overwrite=overwrite, label=label)
    boxes = {order.name: order.box for order in chosen}
    if as_json:
        closing = {name: [*map(_way_data, box.ways)] for name, box in boxes.items()}
        unreached = {name: [*map(_press_data, box.unreached)] for name, box in boxes.items()}
        facts = {"file": str(target), "format": written.standard, "panels": model.panels}
        print_json(facts | {"closing": closing, "unreached": unreached})
        return
    click.echo(f"wrote {target}: {model.panels} panels; {written.standard}")
    for name, box in boxes.items():
        for line in (*_closing(box.ways), *_unreached(box.unreached)):
            click.echo(f"{name}: {line}")


def _closing(ways: Sequence[Way]) -> Iterator[str]:
    """What walking the steps of one box found; nothing of one in which nothing moves."""
    from cutlayers.box import TURN_DEG

    for way in ways:
        if way.between:
            moving, other = way.between
            passes = (
                "it slides straight, and gets by only where a wall gives as much"
                if way.slid
                else f"bent, with a radius of {way.radius:.0f} mm, it gets by"
            )
            deep = f"{way.depth:.2g} mm"
            yield f"on its way '{moving}' would go through '{other}' by {deep}; {passes}"
        if way.gap:
            yield (
                f"its panels have to bow at '{way.step.action}', to a radius of {way.bow:.0f} mm, "
                f"as its creases gape by up to {way.gap:.2g} mm where they stay flat; that was not "
                "walked"
            )
    if ways and not any(way.bends for way in ways):
        turns, slides = sum(way.turns for way in ways), sum(way.slid > 0 for way in ways)
        walked = [f"{turns} turns of {TURN_DEG:g}°"] * (turns > 0)
        walked += ["one slide" if slides == 1 else f"{slides} slides"] * (slides > 0)
        yield f"it closes, nothing in the way in {' and '.join(walked)}"


def _way_data(way: Way) -> dict[str, object]:
    return {
        "net": way.net,
        "step": way.step.action.value,
        "panels": way.panels,
        "turns": way.turns,
        "held_deg": way.held_deg,
        "depth": way.depth,
        "between": way.between,
        "radius": None if way.radius == math.inf else way.radius,
        "gap": way.gap,
        "bow": None if way.bow == math.inf else way.bow,
        "slid": way.slid,
    }


def _unreached(presses: Sequence[Press]) -> Iterator[str]:
    """What no finger gets in to while one box is put together."""
    from cutlayers.box import Tool

    for press in presses:
        at = f"'{press.panel}' is pressed from inside at '{press.step.action}'"
        if press.tool is Tool.PENCIL:
            yield f"{at}, where no finger gets in but the end of a pencil does"
        else:
            yield f"{at}, where nothing gets in: press it from outside"


def _press_data(press: Press) -> dict[str, object]:
    step = press.step
    return {
        "net": step.net,
        "step": step.action.value,
        "panel": press.panel,
        "tool": press.tool.value,
    }


def _chosen(job: Job, piece: str | None) -> Sequence[Order]:
    """The pieces that are asked for. Raises RefusedUsage for one that the job has not."""
    from cutlayers.telling.nearest import nearest
    from cutlayers.telling.refusals import Refusal
    from cutlayers.telling.written import shown

    if piece is None:
        return job.orders
    by_name = {order.name: order for order in job.orders}
    by_number = {str(number): order for number, order in enumerate(job.orders, start=1)}
    found = by_name.get(piece) or by_number.get(piece)
    if found is None:
        names = tuple(by_name)
        said = f"is {shown(piece)}, which is no piece of the job"
        near = nearest(piece, names)
        raise RefusedUsage(
            Refusal(("--piece",), said, "value", found=piece, allowed=names, nearest=near)
        )
    return (found,)
