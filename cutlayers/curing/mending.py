"""A job file with its cures written into it, one after the other until none is left."""

from __future__ import annotations

import difflib
import tomllib
from collections.abc import Iterator
from pathlib import Path

from cutlayers.curing.parting import cured_by_parts
from cutlayers.curing.proving import Key, Source, Trials, key_of, quick_findings, written_value
from cutlayers.frozen import frozen
from cutlayers.job.order import Job
from cutlayers.profile.machine import Machine
from cutlayers.reading.editing import EditRefused, with_value
from cutlayers.reading.toml_file import parse_toml
from cutlayers.telling.errors import JobError, PlacementError
from cutlayers.telling.findings import Cure, Finding
from cutlayers.telling.lengths import Unit
from cutlayers.telling.refusals import in_unit

MOST_STEPS = 60
"""Cures that are made one after the other."""


@frozen
class Cured:
    """A finding that was cured, and its cure."""

    finding: Finding
    cure: Cure


@frozen
class Mended:
    """The text of a job file before and after, and what was cured on the way."""

    before: str
    after: str
    steps: tuple[Cured, ...]
    unit: Unit

    def difference(self, file: str) -> str:
        """What changed as a unified difference; empty where nothing did."""
        lines = difflib.unified_diff(
            self.before.splitlines(keepends=True),
            self.after.splitlines(keepends=True),
            file,
            f"{file}, mended",
        )
        return "".join(line if line.endswith("\n") else f"{line}\n" for line in lines)


def mended(text: str, file: Path, machine: Machine) -> Mended:
    """The text of a job file with every cure made that is found, each tried on what the ones before
    left; comments and order stay.

    `file` is named in messages and tells where pictures are looked for. Raises JobError for what
    is no job, PlacementError for one that finds no place on its sheets.
    """
    before, steps = text, list[Cured]()
    tried: frozenset[Key] = frozenset()
    while len(steps) < MOST_STEPS:
        source = Source(parse_toml(text, str(file), JobError), file, machine.take_up)
        job = source.job()
        trials = Trials(source, job, machine)
        for finding, cure in _cures(job, machine, trials, tried):
            fresh = _written(text, cure, source, job.unit) if cure is not None else None
            if cure is not None and fresh is not None:
                steps.append(Cured(finding, cure))
                text = fresh
                break
            tried |= {key_of(finding)}
        else:
            break
    return Mended(before, text, tuple(steps), job.unit)


def _cures(
    job: Job, machine: Machine, trials: Trials, tried: frozenset[Key]
) -> Iterator[tuple[Finding, Cure | None]]:
    """Findings with their cures, those that had none before last; before all of them a blank that
    no sheet holds is cut in parts."""
    try:
        found = quick_findings(job, machine)
    except PlacementError as error:
        cured = cured_by_parts(error, job, machine)
        if cured is None:
            raise PlacementError(*in_unit(job.unit, error.refusals)) from None
        yield cured
        return
    for finding in sorted(found, key=lambda each: key_of(each) in tried):
        yield finding, trials.cure(finding)


def _written(text: str, cure: Cure, source: Source, unit: Unit) -> str | None:
    """The text with a cure in it; None where it would then not say just what was tried."""
    try:
        text = with_cure(text, cure, unit)
    except EditRefused:
        return None
    return text if tomllib.loads(text) == source.edited(cure, unit).table else None


def with_cure(text: str, cure: Cure, unit: Unit) -> str:
    """The text of a job file in that unit with a cure's edits made. Raises EditRefused where they
    find no place."""
    for edit in cure.edits:
        text = with_value(text, edit.path, written_value(edit, unit))
    return text
