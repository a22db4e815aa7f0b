"""`cutlayers styles`."""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING

import click

from cutlayers.cli.options import chosen_style, json_option, overwrite_option, print_json
from cutlayers.cli.progress import LateBar
from cutlayers.cli.wrapping import key_lines, wrapped

if TYPE_CHECKING:
    from cutlayers.construction.catalogue import DimensionRow


@click.command()
@click.argument("style_name", metavar="[STYLE]", required=False)
@click.option(
    "--gallery",
    type=click.Path(path_type=Path),
    metavar="FOLDER",
    help="Write a page there with a picture of every style, flat and folded.",
)
@overwrite_option
@json_option
def styles(style_name: str | None, gallery: Path | None, overwrite: bool, as_json: bool) -> None:
    """List the box styles, or one style's sizes and options with their limits."""
    from cutlayers import styles as all_styles
    from cutlayers.construction.calipers import calipers_of
    from cutlayers.construction.catalogue import card_in_words, describe, panels_of
    from cutlayers.report.report import table

    if gallery is not None:
        _write_gallery(gallery, style_name, overwrite)
        return
    if style_name is None:
        found = all_styles()
        if as_json:
            print_json([{"name": style.name, "summary": style.summary} for style in found])
        else:
            click.echo("\n".join(table([(style.name, style.summary) for style in found])))
        return
    style = chosen_style(style_name)
    rows = describe(style)
    card = calipers_of(style)
    if as_json:
        print_json(
            {
                "name": style.name,
                "summary": style.summary,
                "like": style.like,
                "card_mm": {"least": card.least, "most": card.most},
                "dimensions": [asdict(row) for row in rows],
                "panels": panels_of(style),
            }
        )
        return
    click.echo(f"{style.name}: {style.summary}")
    if style.like:
        click.echo(f"like {style.like}")
    click.echo(f"at the sizes below, of card {card_in_words(card)}")
    for name in dict.fromkeys(row.table for row in rows):
        words = [(row.name, row.help, _allowed(row)) for row in rows if row.table == name]
        click.echo(f"\n{name}:\n{key_lines(words)}")
    click.echo("\npanels, for art:")
    for net, roles in panels_of(style).items():
        click.echo(f"  {net}")
        for role, names in roles.items():
            click.echo(wrapped(f"{role}: {', '.join(names)}", 4))


def _allowed(row: DimensionRow) -> str:
    if row.table == "size":
        return f"{row.allowed}; {row.default} for example"
    return f"{row.allowed}; {row.default} if not given"


def _write_gallery(folder: Path, style_name: str | None, overwrite: bool) -> None:
    from cutlayers import styles as all_styles
    from cutlayers.pictures.gallery import gallery
    from cutlayers.writing.sets import Leave, write_set

    shown = all_styles() if style_name is None else (chosen_style(style_name),)
    with LateBar(len(shown), "drawing styles") as bar:
        files = gallery(bar.counted(shown))
    write_set(folder, files, "gallery", Leave(overwrite=overwrite))
    click.echo(f"{len(files)} files in {folder}")
