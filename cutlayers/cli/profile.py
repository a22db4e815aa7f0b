"""`cutlayers profile …`."""

from __future__ import annotations

import sys
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING

import click

from cutlayers.cli.options import json_option, print_json

if TYPE_CHECKING:
    from cutlayers.profile import Answer, Change, Question


@click.group()
def profile() -> None:
    """Machine profiles: what your machine can reach, its tools and settings.

    A NAME is looked up in your own folder first, then among the shipped profiles; a path to a
    .toml file works as well. 'new' makes one in a few questions; 'set' changes one value and
    keeps the rest of the file, comments included, as it is.
    """


@profile.command("list")
@json_option
def list_command(as_json: bool) -> None:
    """List the profiles there are, yours before the shipped ones."""
    from cutlayers.profile import default_profile, known_own_folder, list_profiles
    from cutlayers.telling.tables import table

    found = list_profiles()
    if as_json:
        print_json([{**asdict(each), "path": str(each.path)} for each in found])
        return
    default = default_profile()
    rows = [
        (
            each.name,
            each.owner
            + (", hidden by yours" if each.shadowed else "")
            + (", default" if each.name == default and not each.shadowed else ""),
            each.title or "(cannot be read; 'cutlayers profile check' says why)",
        )
        for each in found
    ]
    click.echo("\n".join(table([("name", "whose", "title"), *rows])))
    if folder := known_own_folder():
        click.echo(f"\nyour own go into {folder}")


@profile.command()
@click.argument("name")
@click.option("--defaults", is_flag=True, help="Ask nothing: take the default of what is not said.")
@click.option("--title", help="What you call the machine.")
@click.option("--width", help="Widest sheet or mat that goes in, such as 340 or '12 in'.")
@click.option("--height", help="Longest sheet or mat that goes in.")
@click.option("--margin", help="Border of the sheet that no tool reaches.")
@click.option("--cutter", help="What it cuts with: drag-blade, laser or wheel.")
@click.option(
    "--corners",
    help="Who leads a drag-blade round corners: machine, as most do, file, or unsure.",
)
@click.option("--offset", help="How far the tip of a drag-blade trails its axis.")
@click.option("--kerf", help="How wide the cut of a laser or wheel is.")
@click.option("--draw", help="What it draws with: pen, laser or no.")
@click.option("--score", help="How folds are made: stylus, laser, 'short cuts' or 'by hand'.")
@click.option("--formats", help="Which files it opens: dxf, svg or both.")
@click.option("--material", help="A card that you use, by a name of your own.")
@click.option("--grammage", help="The weight of that card in g/m².")
def new(name: str, defaults: bool, **said: str | None) -> None:
    """Make a profile of your own: answer a few questions, or give the answers as options.

    What is given as an option is not asked. An existing profile is never overwritten.
    """
    from cutlayers.profile import (
        add_profile,
        first_steps,
        new_path,
        profile_in,
        profile_text,
        questions,
    )

    target = new_path(name)
    answers: dict[str, Answer] = {}
    given = {key: text for key, text in said.items() if text is not None}
    for question in questions():
        text = given.pop(question.name, None)
        if not question.wanted(answers):
            if text is not None:
                raise click.UsageError(
                    f"--{question.name} does not belong to a {answers['cutter']}"
                )
            continue
        answers[question.name] = _answer(question, text, asking=not defaults)
    text = profile_text(answers)
    profile_in(text, target)
    add_profile(target, text.encode())
    click.echo(f"wrote {target}\n\nnext:")
    for number, step in enumerate(first_steps(target.stem, answers), 1):
        click.echo(f"  {number}. {step}")


def _answer(question: Question, said: str | None, *, asking: bool) -> Answer:
    """The answer as an option gave it, or asked for until it is right, or the default."""
    from cutlayers.telling.errors import ProfileError

    if said is not None or not asking:
        return question.read(said if said is not None else question.default)
    label = f"{question.ask} ({question.allowed})" if question.allowed else question.ask
    while True:
        try:
            return question.read(click.prompt(label, default=question.default))
        except click.Abort:
            if sys.stdin.isatty():
                raise
            message = f"nobody answers; give --{question.name} and the others, or --defaults"
            raise click.UsageError(message) from None
        except ProfileError as error:
            click.echo(str(error), err=True)


@profile.command()
@click.argument("name")
@json_option
def show(name: str, as_json: bool) -> None:
    """Show a profile: the file as it is, or with --json every value, defaults included."""
    from cutlayers.profile import find_profile, profile_file, read_profile

    path = find_profile(name)
    machine = read_profile(path)
    if as_json:
        print_json(asdict(machine))
    else:
        click.echo(profile_file(path).text.replace("\r\n", "\n"), nl=False)


@profile.command()
@click.argument("name")
@click.argument("new_name")
def copy(name: str, new_name: str) -> None:
    """Copy a profile into your own folder under a new name, to be edited there."""
    from cutlayers.profile import add_profile, find_profile, own_path, profile_file

    source, target = find_profile(name), own_path(new_name)
    add_profile(target, profile_file(source).content)
    click.echo(f"wrote {target}")


@profile.command("set", context_settings={"ignore_unknown_options": True})
@click.argument("name")
@click.argument("key")
@click.argument("value")
def set_command(name: str, key: str, value: str) -> None:
    """Set one value: KEY as in the file, such as tools.blade.offset or materials.kraft.cut.force_g.

    VALUE is a number, true or false, a date, a list in brackets, or a text (without quotes).
    Comments and order stay. The last version is kept beside the file, with .bak at its end;
    what would not be a right profile is not saved.
    """
    from cutlayers.profile import Edit, change, own_profile, read_key, read_value

    _say(change(own_profile(name), [Edit(read_key(key), read_value(value))]))


@profile.command()
@click.argument("name")
@click.argument("key")
def unset(name: str, key: str) -> None:
    """Take one value, or a table with all in it, out of a profile."""
    from cutlayers.profile import Edit, change, own_profile, read_key

    _say(change(own_profile(name), [Edit(read_key(key), None)]))


def _say(changes: list[Change]) -> None:
    for each in changes:
        click.echo(str(each))


@profile.command()
@click.argument("name")
@click.argument("other", required=False)
@click.option("--last", is_flag=True, help="Compare with the profile's own last version.")
@json_option
def diff(name: str, other: str | None, last: bool, as_json: bool) -> None:
    """Show what two profiles say differently, or what the last change of one changed."""
    from cutlayers.profile import differences, find_profile, last_version
    from cutlayers.reading import read_toml
    from cutlayers.telling.errors import ProfileError
    from cutlayers.telling.tables import table

    if (other is None) != last:
        raise click.UsageError("name a second profile, or say --last")
    path = find_profile(name)
    before, after = path, path
    if last:
        before = last_version(path)
    elif other is not None:
        after = find_profile(other)
    tables = [read_toml(each, "profile", ProfileError) for each in (before, after)]
    changes = differences(tables[0], tables[1])
    if as_json:
        print_json([asdict(each) for each in changes])
    elif changes:
        rows = [(each.key, each.old, each.new) for each in changes]
        heads = ("last version", "now") if last else (before.stem, after.stem)
        click.echo("\n".join(table([("key", *heads), *rows])))
    else:
        click.echo("no difference")


@profile.command("export")
@click.argument("name")
@click.argument("file", type=click.Path(path_type=Path))
def export_command(name: str, file: Path) -> None:
    """Write a profile, after checking it, to one FILE for another computer."""
    from cutlayers import put_new
    from cutlayers.profile import find_profile, profile_file, read_profile
    from cutlayers.telling.shell import quoted

    path = find_profile(name)
    read_profile(path)
    put_new(file, profile_file(path).content)
    click.echo(f"wrote {file}; on the other computer: cutlayers profile import {quoted(file.name)}")


@profile.command("import")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--name", help="What to call it here; the file's name by default.")
@click.option(
    "--replace", is_flag=True, help="Take the place of one of that name, which is kept as .bak."
)
def import_command(file: Path, name: str | None, replace: bool) -> None:
    """Take a profile from a FILE into your own folder, after checking it."""
    from cutlayers.profile import add_profile, own_path, profile_file, read_profile

    machine = read_profile(file)
    target = own_path(name or file.stem)
    add_profile(target, profile_file(file).content, replace)
    click.echo(f"wrote {target}: {machine.title}")


@profile.command()
@click.argument("name", required=False)
@click.option("--none", "clear", is_flag=True, help="Have no default any more.")
def default(name: str | None, clear: bool) -> None:
    """Choose the profile to take when neither job nor command names one, or say which it is."""
    from cutlayers.profile import default_profile, find_profile, read_profile, set_default

    if clear and name is not None:
        raise click.UsageError("give a NAME or --none, not both")
    if name is not None:
        path = find_profile(name)
        read_profile(path)
        # A path is kept whole, so that it holds from every folder.
        set_default(str(path.resolve()) if name != path.stem else name)
    elif clear:
        set_default(None)
    click.echo(f"default: {default_profile() or 'none'}")


@profile.command()
@click.argument("name")
def check(name: str) -> None:
    """Check a profile and say what is wrong with it, a line for each problem."""
    from cutlayers.profile import find_profile, read_profile

    path = find_profile(name)
    click.echo(f"{path}: {read_profile(path).title}: no problems")


@profile.command()
def schema() -> None:
    """Print the JSON Schema of profile files, for editors that check TOML."""
    from cutlayers.profile import profile_schema

    print_json(profile_schema())
