"""One row of a kit by itself: the job that it makes, for whoever looks at its boxes."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from cutlayers.job.order import Job
from cutlayers.job.reading import NOT_MEASURED
from cutlayers.kits.checking import job_for
from cutlayers.kits.opening import table_file
from cutlayers.kits.rows import Rows, read_rows
from cutlayers.reading.toml_file import parse_toml
from cutlayers.telling.errors import JobError


def kit_rows(text: str, path: Path) -> Rows | None:
    """The rows of the table that a job's text names, the job being in the file `path`; None where
    it names none. Raises JobError where text or table cannot be read."""
    table = parse_toml(text, str(path), JobError)
    return read_rows(table_file(path, table["kit"])) if "kit" in table else None


def row_job(
    text: str, path: Path, rows: Rows, number: int, take_up: Mapping[str, float] = NOT_MEASURED
) -> Job:
    """The job that one row makes, by its place among the rows, on a machine with that `take_up`.
    Raises JobError."""
    table = parse_toml(text, str(path), JobError)
    return job_for(path, table, rows.rows[number], take_up)
