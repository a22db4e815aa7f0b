"""What a command with a job reads: the files, and the machine that the job is for."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from cutlayers.job.inputs import files_named
from cutlayers.profile.default import default_profile
from cutlayers.profile.machine import Machine
from cutlayers.profile.reading import read_profile
from cutlayers.profile.search import find_profile, list_profiles
from cutlayers.reading.toml_file import read_toml
from cutlayers.telling.errors import JobError, ProfileError
from cutlayers.telling.refusals import Refusal


def job_files(job_file: Path) -> list[Path]:
    """All files that a command with this job reads, but for a profile; none of them may be written
    over. The job has been read already."""
    return _job_files(job_file, read_toml(job_file, "job", JobError))


def _job_files(job_file: Path, table: Mapping[str, Any]) -> list[Path]:
    return [job_file, *files_named(table, job_file.parent)]


def files_read(job_file: Path, profile_name: str | None) -> tuple[Path, ...]:
    """All files that a command with this job and profile reads; none of them may be written over.

    The job and its profile have been read already.
    """
    table = read_toml(job_file, "job", JobError)
    found = _job_files(job_file, table)
    if profile_name is None and isinstance(named := table.get("profile"), str):
        found.append(find_profile(named, job_file.parent))
    elif name := profile_name or default_profile():
        found.append(find_profile(name))
    return tuple(found)


def machine_for(job_file: Path, named: str | None, profile_name: str | None) -> Machine:
    """The machine that the command line names, or else the job. Raises ProfileError."""
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
