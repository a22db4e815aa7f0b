"""`cutlayers trial …`."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import asdict
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from cutlayers.cli.ending import RefusedUsage
from cutlayers.cli.options import json_option, overwrite_option, print_json
from cutlayers.trials import KINDS

if TYPE_CHECKING:
    from cutlayers.profile import ProfileText
    from cutlayers.trials import Setup, Trial

LADDERS = ("settings", "score", "perforation")
"""Trials with a ladder to choose."""


@click.group()
def trial() -> None:
    """Trial cuts: small jobs that find your profile's numbers.

    Each writes files for your own machine with a page of instructions, instructions.html. When
    you have made and measured the sheet, 'cutlayers trial record KIND' works out the value with
    its uncertainty, shows old and new, and saves it in your profile with the date.
    """


@trial.group()
def record() -> None:
    """Record what you read off a trial's sheet.

    READINGS are name=value, such as A=1.65, each as often as it was read. Readings that are
    impossible or contradict each other are refused, and then nothing is saved.
    """


def _options(kind: str) -> Callable[[Callable[..., None]], Callable[..., None]]:
    """The options that describe a trial, the same for making and for recording it."""
    chosen = [
        click.option(
            "-p",
            "--profile",
            "profile_name",
            metavar="NAME|FILE",
            help="Your machine's profile; your default where none is named.",
        ),
        click.option("--material", metavar="NAME", help="The card, as your profile calls it."),
        click.option(
            "--sheet", metavar="SIZE", help="The card's size, such as A5 or '200 x 150 mm'."
        ),
    ]
    if kind in ("settings", "score"):
        chosen.append(
            click.option("--setting", metavar="NAME", help="Which setting to try, such as force.")
        )
        chosen.append(
            click.option(
                "--dial",
                type=float,
                metavar="STEP",
                help="In which steps the machine takes it, such as 1 or 0.5; as fine as the "
                "numbers that are known, if not given.",
            )
        )
    if kind in LADDERS:
        chosen += [
            click.option("--from", "first", type=float, help="The lowest value to try."),
            click.option("--to", "last", type=float, help="The highest value to try."),
            click.option("--steps", type=int, help="How many values, both ends among them."),
        ]

    def decorate(function: Callable[..., None]) -> Callable[..., None]:
        for option in reversed(chosen):
            function = option(function)
        return function

    return decorate


def _make_command(kind: str, summary: str) -> click.Command:
    @click.command(kind, help=f"Find out {summary}.")
    @_options(kind)
    @click.option(
        "-o",
        "--output",
        type=click.Path(path_type=Path),
        metavar="FOLDER",
        help=f"Where the files go; by default a folder trial-{kind}, where you are.",
    )
    @overwrite_option
    def command(output: Path | None, overwrite: bool, **said: Any) -> None:
        from cutlayers import write
        from cutlayers.profile import find_profile
        from cutlayers.trials import record_command, trial_files

        found, setup = _set_up(kind, **said)
        folder = output or Path(f"trial-{kind}")
        files = trial_files(found, setup)
        inputs = [find_profile(_named(said["profile_name"]))]
        write(files, folder, inputs=inputs, overwrite=overwrite, label=f"trial {kind}")
        click.echo(f"wrote {', '.join(sorted(files))} in {folder}\n")
        click.echo(f"read {folder / 'instructions.html'} first; in short:")
        for number, step in enumerate(found.steps(setup), 1):
            click.echo(f"  {number}. {step}")
        click.echo(f"\nthen record it:\n  {record_command(found, setup, found.readings(setup))}")

    return command


def _record_command(kind: str, summary: str) -> click.Command:
    @click.command(kind, help=f"Record {summary}.")
    @click.argument("readings", nargs=-1, required=True)
    @_options(kind)
    @click.option("--date", "day", metavar="DAY", help="When it was, 2026-03-01; today by default.")
    @click.option("--dry-run", is_flag=True, help="Show the result without saving it.")
    @json_option
    def command(
        readings: tuple[str, ...], day: str | None, dry_run: bool, as_json: bool, **said: Any
    ) -> None:
        from cutlayers.profile import change
        from cutlayers.trials import in_plain_words, record

        found, setup = _set_up(kind, **said)
        recorded = record(found, setup, readings, _day(day))
        own = _own(said["profile_name"])
        changes = change(own, recorded.edits, dict(recorded.diary), write=not dry_run)
        if as_json:
            rows = [{**asdict(each), "text": str(each)} for each in recorded.outcome.results]
            print_json({"results": rows, "changes": [asdict(each) for each in changes]})
            return
        for result in recorded.outcome.results:
            click.echo(in_plain_words(result))
        click.echo("")
        for each in changes:
            click.echo(str(each))
        for remark in recorded.outcome.remarks:
            click.echo(f"note: {remark}")
        click.echo("nothing was saved" if dry_run else f"saved in {own.path}")

    return command


def _set_up(
    kind: str,
    profile_name: str | None,
    material: str | None,
    sheet: str | None,
    setting: str | None = None,
    first: float | None = None,
    last: float | None = None,
    steps: int | None = None,
    dial: float | None = None,
) -> tuple[Trial, Setup]:
    """The trial, and for what it is to be made."""
    from cutlayers import read_profile, read_sheet
    from cutlayers.reading import ValueRefused, read_text
    from cutlayers.trials import Setup, set_up
    from cutlayers.trials import trial as find_trial

    name = _named(profile_name)
    machine = read_profile(name)
    try:
        size = None if sheet is None else read_sheet(sheet)
    except ValueRefused as error:
        raise RefusedUsage(error.refusal.under("--sheet")) from None
    try:
        card = None if material is None else read_text(material)
    except ValueRefused as error:
        raise RefusedUsage(error.refusal.under("--material")) from None
    found = find_trial(kind)
    wanted = Setup(machine, name, card, size, setting, first, last, steps, dial)
    return found, set_up(machine, wanted, found)


def _named(profile_name: str | None) -> str:
    from cutlayers import default_profile

    name = profile_name or default_profile()
    if name is None:
        from cutlayers.telling.refusals import Refusal

        advice = (
            "name a profile with --profile NAME, or choose one for good with "
            "'cutlayers profile default NAME'"
        )
        raise RefusedUsage(Refusal(("--profile",), fault="missing", advice=advice))
    return name


def _own(profile_name: str | None) -> ProfileText:
    from cutlayers.profile import own_profile

    return own_profile(_named(profile_name))


def _day(text: str | None) -> date:
    from cutlayers.reading import ValueRefused, read_date

    if text is None:
        return date.today()
    try:
        return read_date(text)
    except ValueRefused as error:
        raise RefusedUsage(error.refusal.under("--date")) from None


for _kind, _summary in KINDS.items():
    trial.add_command(_make_command(_kind, _summary))
    record.add_command(_record_command(_kind, _summary))
