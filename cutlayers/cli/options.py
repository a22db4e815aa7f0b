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


def job_files(job_file: Path) -> list[Path]:
    """All files that a command with this job reads, but for a profile; none of them may be written
    over. The job has been read already."""
    from cutlayers.job.inputs import files_named
    from cutlayers.reading.toml_file import read_toml
    from cutlayers.telling.errors import JobError

    table = read_toml(job_file, "job", JobError)
    folder = job_file.parent
    return [job_file, *files_named(table, folder)]


def files_read(job_file: Path, profile_name: str | None) -> tuple[Path, ...]:
    """All files that a command with this job and profile reads; none of them may be written over.

    The job and its profile have been read already.
    """
    from cutlayers.profile.default import default_profile
    from cutlayers.profile.search import find_profile
    from cutlayers.reading.toml_file import read_toml
    from cutlayers.telling.errors import JobError

    table = read_toml(job_file, "job", JobError)
    folder = job_file.parent
    found = job_files(job_file)
    if profile_name is None and isinstance(named := table.get("profile"), str):
        found.append(find_profile(named, folder))
    elif name := profile_name or default_profile():
        found.append(find_profile(name))
    return tuple(found)


def read_inputs(job_file: Path, profile_name: str | None) -> tuple[Job, Machine]:
    """The job and the machine it is for. Raises JobError and ProfileError."""
    from cutlayers import read_job

    job = read_job(job_file)
    machine = machine_for(job_file, job.profile, profile_name)
    if machine.take_up:
        job = read_job(job_file, take_up=machine.take_up)
    return job, machine


def read_boxes(job_file: Path) -> Job:
    """The job with boxes as they are made: on the profile that it names, or else the default one.

    Without either nothing is known of the card's creases. Raises JobError and ProfileError.
    """
    from cutlayers import read_job
    from cutlayers.profile.default import default_profile

    job = read_job(job_file)
    if job.profile is None and default_profile() is None:
        return job
    return read_inputs(job_file, None)[0]


def machine_for(job_file: Path, named: str | None, profile_name: str | None) -> Machine:
    """The machine that the command line names, or else the job. Raises ProfileError."""
    from cutlayers import read_profile
    from cutlayers.profile.default import default_profile
    from cutlayers.profile.search import list_profiles
    from cutlayers.telling.errors import ProfileError
    from cutlayers.telling.refusals import Refusal

    if profile_name is not None:
        return read_profile(profile_name)
    if named is None and (default := default_profile()):
        return read_profile(default)
    if named is None:
        raise ProfileError(
            Refusal(
                ("profile",),
                fault="missing",
                file=str(job_file),
                allowed=tuple(each.name for each in list_profiles()),
                advice='add profile = "NAME" to the job or use --profile NAME; '
                "'cutlayers profile default NAME' chooses one for good",
            )
        )
    # A path in the job file is meant from where the job file is.
    return read_profile(named, job_file.parent)


def known_machine(
    profile_name: str | None, named: str | None = None, job_file: Path = Path()
) -> Machine | None:
    """As `machine_for`, but None where neither the command line nor the job names a machine and
    there is no default."""
    from cutlayers.profile.default import default_profile

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
