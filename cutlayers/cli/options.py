"""What several commands share."""

from __future__ import annotations

import json
import re
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from cutlayers.cli.ending import JOB_FILE, RefusedUsage

if TYPE_CHECKING:
    from cutlayers import Job, Machine, Style

Function = TypeVar("Function", bound=Callable[..., Any])


def job_argument(function: Function) -> Function:
    """The job file."""
    return click.argument(
        "job_file", metavar="JOB", type=click.Path(path_type=Path), callback=_job_file
    )(function)


def _job_file(context: click.Context, _argument: click.Parameter, value: Path) -> Path:
    context.meta[JOB_FILE] = value
    return value


def profile_option(function: Function) -> Function:
    """The machine's profile, where the job does not name it."""
    return click.option(
        "-p",
        "--profile",
        "profile_name",
        metavar="NAME|FILE",
        help="Your machine's profile; by default the one that the job names, or else your default.",
    )(function)


def json_option(function: Function) -> Function:
    """Print for a script."""
    return click.option(
        "--json",
        "as_json",
        is_flag=True,
        help="Print JSON for scripts; of what is refused too, with exit code 2.",
    )(function)


def overwrite_option(function: Function) -> Function:
    """Write over what is somebody else's."""
    return click.option(
        "--overwrite",
        is_flag=True,
        help="Write over files of the same names that cutlayers did not write, or that were "
        "changed since.",
    )(function)


def read_inputs(job_file: Path, profile_name: str | None) -> tuple[Job, Machine]:
    """The job and the machine it is for. Raises JobError and ProfileError."""
    from cutlayers import machine_for, read_job

    job = read_job(job_file)
    machine = machine_for(job_file, job.profile, profile_name)
    if machine.take_up:
        job = read_job(job_file, take_up=machine.take_up)
    return job, machine


def read_boxes(job_file: Path) -> Job:
    """The job with boxes as they are made: on the profile that it names, or else the default one.

    Without either nothing is known of the card's creases. Raises JobError and ProfileError.
    """
    from cutlayers import default_profile, read_job

    job = read_job(job_file)
    if job.profile is None and default_profile() is None:
        return job
    return read_inputs(job_file, None)[0]


def known_machine(
    profile_name: str | None, named: str | None = None, job_file: Path = Path()
) -> Machine | None:
    """As `machine_for`, but None where neither the command line nor the job names a machine and
    there is no default."""
    from cutlayers import default_profile, machine_for

    if profile_name is None and named is None and default_profile() is None:
        return None
    return machine_for(job_file, named, profile_name)


def chosen_style(name: str) -> Style:
    """The style of that name. Raises RefusedUsage naming the nearest one."""
    from cutlayers import styles
    from cutlayers.telling.nearest import nearest
    from cutlayers.telling.refusals import Refusal
    from cutlayers.telling.written import shown

    known = {style.name: style for style in styles()}
    if name not in known:
        near = nearest(name, known)
        raise RefusedUsage(
            Refusal(
                ("STYLE",),
                f"is {shown(name)}, which is no style",
                "unknown",
                found=name,
                allowed=tuple(known),
                nearest=near,
            )
        )
    return known[name]


def print_json(value: object) -> None:
    """Print a value as JSON, keys sorted."""
    echo_json(json.dumps(value, indent=2, sort_keys=True, ensure_ascii=False, default=str) + "\n")


def echo_json(text: str) -> None:
    """Print a text in JSON, which stays JSON where standard output knows few letters."""
    try:
        text.encode(getattr(sys.stdout, "encoding", None) or "utf-8")
    except UnicodeEncodeError:
        # Outside ASCII there is nothing but the letters of texts.
        text = re.sub(r"[^\x00-\x7f]", lambda mark: json.dumps(mark[0])[1:-1], text)
    click.echo(text, nl=False)
