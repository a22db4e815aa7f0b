"""`cutlayers styles`."""

from __future__ import annotations

from dataclasses import asdict

import click

from cutlayers.cli.options import chosen_style, json_option, print_json


@click.command()
@click.argument("style_name", metavar="[STYLE]", required=False)
@json_option
def styles(style_name: str | None, as_json: bool) -> None:
    """List the box styles, or one style's sizes and options with their limits."""
    from cutlayers.catalogue import describe, panels_of
    from cutlayers.report import table
    from cutlayers.style import styles as all_styles

    if style_name is None:
        found = all_styles()
        if as_json:
            print_json([{"name": style.name, "summary": style.summary} for style in found])
        else:
            click.echo("\n".join(table([(style.name, style.summary) for style in found])))
        return
    style = chosen_style(style_name)
    rows = describe(style)
    if as_json:
        print_json(
            {
                "name": style.name,
                "summary": style.summary,
                "like": style.like,
                "dimensions": [asdict(row) for row in rows],
                "panels": panels_of(style),
            }
        )
        return
    click.echo(f"{style.name}: {style.summary}")
    if style.like:
        click.echo(f"like {style.like}")
    head = ("table", "name", "default", "allowed", "what it is")
    cells = [(row.table, row.name, row.default, row.allowed, row.help) for row in rows]
    click.echo()
    click.echo("\n".join(table([head, *cells])))
    click.echo("\npanels, for art:")
    for net, roles in panels_of(style).items():
        click.echo(f"  {net}")
        for role, names in roles.items():
            click.echo(f"    {role}: {', '.join(names)}")
