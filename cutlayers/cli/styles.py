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
    from cutlayers.telling.lengths import Unit


@click.command()
@click.argument("style_name", metavar="[STYLE]", required=False)
@click.option(
    "--gallery",
    type=click.Path(path_type=Path),
    metavar="FOLDER",
    help="Write a page there with a picture of every style, flat and folded.",
)
@click.option(
    "--units",
    "unit",
    type=click.Choice(["mm", "in"]),
    default="mm",
    show_default=True,
    help="Of lengths; inches are told beside mm.",
)
@overwrite_option
@json_option
def styles(
    style_name: str | None, gallery: Path | None, unit: Unit, overwrite: bool, as_json: bool
) -> None:
    """List the box styles, or one style's sizes and options with their limits."""
    from cutlayers import card_in_words, describe
    from cutlayers import styles as all_styles
    from cutlayers.telling.tables import table

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
    told = describe(style, "mm" if as_json else unit)
    if as_json:
        print_json(
            {
                "name": style.name,
                "summary": style.summary,
                "like": style.like,
                "card_mm": {"least": told.card.least, "most": told.card.most},
                "dimensions": [asdict(row) for row in told.dimensions],
                "panels": told.panels,
            }
        )
        return
    click.echo(f"{style.name}: {style.summary}")
    if style.like:
        click.echo(f"like {style.like}")
    click.echo(f"at the sizes below, of card {card_in_words(told.card, unit)}")
    for name in dict.fromkeys(row.table for row in told.dimensions):
        words = [
            (row.name, row.help, _allowed(row)) for row in told.dimensions if row.table == name
        ]
        click.echo(f"\n{name}:\n{key_lines(words)}")
    click.echo("\npanels, for art:")
    for net, roles in told.panels.items():
        click.echo(f"  {net}")
        for role, names in roles.items():
            click.echo(wrapped(f"{role}: {', '.join(names)}", 4))


def _allowed(row: DimensionRow) -> str:
    if row.table == "size":
        return f"{row.allowed}; {row.default} for example"
    return f"{row.allowed}; {row.default} if not given"


def _write_gallery(folder: Path, style_name: str | None, overwrite: bool) -> None:
    from cutlayers import gallery, write
    from cutlayers import styles as all_styles

    shown = all_styles() if style_name is None else (chosen_style(style_name),)
    with LateBar(len(shown), "drawing styles") as bar:
        files = gallery(bar.counted(shown))
    write(files, folder, overwrite=overwrite, label="gallery")
    click.echo(f"{len(files)} files in {folder}")
