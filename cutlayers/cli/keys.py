"""`cutlayers keys`."""

from __future__ import annotations

import textwrap
from dataclasses import asdict
from typing import TYPE_CHECKING

import click

from cutlayers.cli.ending import RefusedUsage
from cutlayers.cli.options import json_option, print_json
from cutlayers.cli.wrapping import key_lines, wrapped

if TYPE_CHECKING:
    from cutlayers.explaining import Key, StyleKey, Table

_OF_STYLES = ("size", "options", "piece.size", "piece.options")
"""Tables whose keys the style has."""

FILES = {"job": "a job", "profile": "a profile"}


@click.command()
@click.argument("key", required=False)
@json_option
def keys(key: str | None, as_json: bool) -> None:
    """Explain the tables and keys of job and profile files, each with an example.

    KEY is a table, such as lettering or sheets, or a key in one, such as gap or sheets.gap. Without
    KEY, list all tables. What a style has of its own, 'cutlayers styles STYLE' lists.
    """
    from cutlayers.explaining import all_tables, keys_named, style_keys, tables_named

    if key is None:
        if as_json:
            print_json([asdict(each) for each in all_tables()])
        else:
            _list(all_tables())
        return
    tables = tables_named(key)
    # A table's name is a key of whatever holds it, which is told by the table.
    alone = [(table, each) for table, each in keys_named(key) if each.example]
    outer, _, last = key.rpartition(".")
    own = style_keys(last) if outer in ("", *_OF_STYLES) else ()
    if not tables and not alone and not own:
        raise _unknown(key)
    if as_json:
        print_json(
            {
                "tables": [asdict(each) for each in tables],
                "keys": [
                    {"file": table.file, "places": table.places, **asdict(each)}
                    for table, each in alone
                ],
                "styles": [asdict(each) for each in own],
            }
        )
        return
    parts = [
        *map(_table_text, tables),
        *(_key_text(*each) for each in alone),
        *map(_style_text, own),
    ]
    click.echo("\n\n".join(parts))


def _list(tables: tuple[Table, ...]) -> None:
    from cutlayers.telling.tables import table

    for file, name in FILES.items():
        rows = [(_head(each), each.help) for each in tables if each.file == file]
        click.echo(f"in {name}:")
        click.echo("\n".join(f"  {line}" for line in table(rows)))
        click.echo()
    click.echo("'cutlayers keys TABLE' has the keys of one, 'cutlayers styles STYLE' a style's own")


def _head(table: Table) -> str:
    """The first of its heads, and how many others there are."""
    more = f" and {len(table.heads) - 1} more" if len(table.heads) > 1 else ""
    return f"{table.heads[0]}{more}" if table.heads else "(no table)"


def _table_text(table: Table) -> str:
    heads = ", ".join(table.heads) or "before all tables"
    parts = [
        wrapped(f"{heads} of {FILES[table.file]}: {table.help}", 0),
        key_lines([(key.name, key.help, _allowed(key)) for key in table.keys]),
        f"for example:\n\n{textwrap.indent(table.example, '    ')}",
    ]
    return "\n\n".join(parts)


def _allowed(key: Key) -> str:
    match key.default:
        case "-":
            return key.allowed
        case "needed":
            return f"{key.allowed}; needed"
    return f"{key.allowed}; {key.default} if not given"


def _key_text(table: Table, key: Key) -> str:
    place = f", of {' or '.join(table.places)}" if table.places else ""
    return _alone(
        f"{key.name}{place} in {FILES[table.file]}: {key.help}", _allowed(key), key.example
    )


def _style_text(key: StyleKey) -> str:
    head = f"{key.place} in a job, of {', '.join(key.styles)}: {key.help}"
    return _alone(head, key.allowed, key.example)


def _alone(head: str, allowed: str, example: str) -> str:
    return "\n".join((wrapped(head, 0), wrapped(allowed, 2), f"  for example: {example}"))


def _unknown(name: str) -> RefusedUsage:
    from cutlayers.explaining import known_names
    from cutlayers.telling.nearest import meant
    from cutlayers.telling.refusals import Refusal
    from cutlayers.telling.written import shown

    return RefusedUsage(
        Refusal(
            ("KEY",),
            f"is {shown(name)}, which is no table and no key",
            "usage",
            found=name,
            nearest=meant(name.rpartition(".")[2], known_names()),
            advice="'cutlayers keys' lists the tables",
        )
    )
