"""`cutlayers profile …`."""

from __future__ import annotations

from dataclasses import asdict

import click

from cutlayers.cli.options import json_option, print_json


@click.group()
def profile() -> None:
    """Machine profiles: what your machine can reach, its tools and settings.

    A NAME is looked up in your own folder first, then among the shipped profiles; a path to a
    .toml file works as well.
    """


@profile.command("list")
@json_option
def list_command(as_json: bool) -> None:
    """List the profiles there are, yours before the shipped ones."""
    from cutlayers.profile_search import list_profiles, own_folder
    from cutlayers.report import table

    found = list_profiles()
    if as_json:
        print_json([{**asdict(each), "path": str(each.path)} for each in found])
        return
    rows = [
        (
            each.name,
            each.owner + (", hidden by yours" if each.shadowed else ""),
            each.title or "(cannot be read; 'cutlayers profile check' says why)",
        )
        for each in found
    ]
    click.echo("\n".join(table([("name", "whose", "title"), *rows])))
    click.echo(f"\nyour own go into {own_folder()}")


@profile.command()
@click.argument("name")
@json_option
def show(name: str, as_json: bool) -> None:
    """Show a profile: the file as it is, or with --json every value, defaults included."""
    from cutlayers.profile import read_profile
    from cutlayers.profile_search import find_profile

    path = find_profile(name)
    machine = read_profile(path)
    if as_json:
        print_json(asdict(machine))
    else:
        click.echo(path.read_text(encoding="utf-8"), nl=False)


@profile.command()
@click.argument("name")
@click.argument("new_name")
def copy(name: str, new_name: str) -> None:
    """Copy a profile into your own folder under a new name, to be edited there."""
    from cutlayers.formats.files import write_new_file
    from cutlayers.profile_search import find_profile, own_path

    source, target = find_profile(name), own_path(new_name)
    write_new_file(target, source.read_bytes())
    click.echo(f"wrote {target}")


@profile.command()
@click.argument("name")
def check(name: str) -> None:
    """Check a profile and say what is wrong with it, a line for each problem."""
    from cutlayers.profile import read_profile
    from cutlayers.profile_search import find_profile

    path = find_profile(name)
    click.echo(f"{path}: {read_profile(path).title}: no problems")


@profile.command()
def schema() -> None:
    """Print the JSON Schema of profile files, for editors that check TOML."""
    from cutlayers.profile import profile_schema

    print_json(profile_schema())
