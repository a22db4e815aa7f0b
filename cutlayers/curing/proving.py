"""A cure is offered only when it was tried: with its edits the finding is gone, and nothing new is
found that is as bad.

The edits are made in the job's tables, which are then read anew and checked, without toolpaths,
pictures and sheets: a piece finds a place where an empty sheet holds it, and what its turn on the
sheet may bring about counts as found. What shows in one box alone is tried on that alone. How much
is tried is bounded by number, so that the same job gets the same cures on every machine.
"""

from __future__ import annotations

import copy
import itertools
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import field, replace
from pathlib import Path
from typing import Any

from cutlayers.curing.proposals import JobPiece, proposals
from cutlayers.frozen import frozen
from cutlayers.job.order import Job
from cutlayers.job.reading import job_from, title_of
from cutlayers.profile.machine import Machine
from cutlayers.reading.editing import EditRefused, length_in, put
from cutlayers.telling.budget import ENDLESS, Budget
from cutlayers.telling.errors import CutlayersError
from cutlayers.telling.findings import Cure, Edit, Finding, Severity, Subject
from cutlayers.telling.lengths import Unit
from cutlayers.telling.quantities import Quantity

MOST_TRIES = 16
"""Proposals that are tried for one finding."""

MOST_BOXES_IN_ALL = 200
"""Boxes that are built and checked anew to try different proposals for all findings of one job: one
each on its piece alone, all boxes where the whole job is looked at."""

Key = tuple[str, Subject]
"""What makes two findings the same: their code and subject, wherever on it they point."""

Scope = int | None
"""Where something is looked for: in a piece alone or, None, the whole job."""


def quick_findings(job: Job, machine: Machine) -> tuple[Finding, ...]:
    """What is found without toolpaths, ink or a thorough search: the folded boxes, how pieces lie
    to the grain, the art. Raises PlacementError as the laying of sheets does."""
    from cutlayers.checks.lying import check_lying
    from cutlayers.sheets.pieces import pieces_of
    from cutlayers.sheets.placing import place_pieces

    rules = replace(job.sheets, mode="quick")
    sheets = place_pieces(pieces_of(job), machine, rules, as_many=True).sheets
    return _with_lying(check_lying(sheets), job, machine)


def possible_findings(job: Job, machine: Machine) -> tuple[Finding, ...]:
    """What `quick_findings` may find, whichever way pieces come to lie. Raises PlacementError for a
    piece that no empty sheet can hold."""
    from cutlayers.checks.lying import check_turns

    return _with_lying(check_turns(job, machine), job, machine)


def _with_lying(lying: Iterable[Finding], job: Job, machine: Machine) -> tuple[Finding, ...]:
    from cutlayers.checks.job import all_findings, check_boxes

    found = [*all_findings(check_boxes(job)), *lying]
    if any(order.art or order.facings for order in job.orders):
        from cutlayers.sheets.art_findings import art_findings

        found.extend(art_findings(job, machine))
    return tuple(dict.fromkeys(found))


@frozen
class Source:
    """A job as its file has it: the tables, and the file that is named in messages and from which
    pictures and fonts are looked for. `take_up` is the machine's, as `read_job` takes it."""

    table: Mapping[str, Any]
    file: Path
    take_up: Mapping[str, float] = field(default_factory=dict)

    def job(self) -> Job:
        """The job. Raises JobError."""
        table = copy.deepcopy(dict(self.table))
        return job_from(table, str(self.file), title_of(self.file), take_up=self.take_up)

    def alone(self, piece: int, name: str) -> Source:
        """The same job with one box of one piece alone, which goes on under its name."""
        table = {**self.table["piece"][piece], "name": name, "count": 1}
        table.pop("fill", None)
        return replace(self, table={**self.table, "piece": [table]})

    def edited(self, cure: Cure, unit: Unit) -> Source:
        """The job with the edits made. Raises EditRefused where they find no place."""
        table = copy.deepcopy(dict(self.table))
        for edit in cure.edits:
            put(table, edit.path, written_value(edit, unit))
        return replace(self, table=table)


def written_value(edit: Edit, unit: Unit) -> int | float | str | bool | None:
    """The value of an edit as a job file in that unit has it."""
    if isinstance(edit.value, Quantity):
        is_length = edit.value.kind == "length"
        return length_in(edit.value.value, unit) if is_length else edit.value.value
    return edit.value


def with_cures(
    findings: Iterable[Finding],
    source: Source,
    job: Job,
    machine: Machine,
    budget: Budget = ENDLESS,
) -> Iterator[Finding]:
    """The findings one after the other, each with its cure where one was proven; `job` is what the
    source says. Raises Cancelled where the budget says so."""
    trials = Trials(source, job, machine, budget)
    for each in findings:
        yield replace(each, cure=trials.cure(each))


class Trials:
    """Cures of one job, tried out. What was found before any edit is kept, and so is the count."""

    def __init__(
        self, source: Source, job: Job, machine: Machine, budget: Budget = ENDLESS
    ) -> None:
        self._source, self._job, self._machine, self._budget = source, job, machine, budget
        self._safe_margin = (
            machine.printing.safe_margin
            if job.printing.safe_margin is None
            else job.printing.safe_margin
        )
        self._before: dict[Scope, Mapping[Key, Severity]] = {}
        self._after: dict[tuple[Cure, Scope], Mapping[Key, Severity] | None] = {}
        self._built = 0

    def cure(self, finding: Finding) -> Cure | None:
        """The first proposal that cures a finding; None where none does."""
        names = [order.name for order in self._job.orders]
        if finding.subject.piece not in names:
            return None
        index = names.index(finding.subject.piece)
        table = self._source.table["piece"][index]
        piece = JobPiece(self._job.orders[index], index, table, self._job.unit)
        likely = proposals(finding, piece, self._safe_margin)
        for cure in itertools.islice(likely, MOST_TRIES):
            own = all(edit.path[:2] == ("piece", index) for edit in cure.edits)
            for scope in (index, None) if own else (None,):
                before = self._found_before(scope)
                if key_of(finding) in before:
                    break
            else:
                return None  # it does not show in what is checked quickly
            after = self._found_after(cure, scope)
            if after is not None and is_cured(finding, before, after):
                return cure
        return None

    def _found_before(self, scope: Scope) -> Mapping[Key, Severity]:
        if scope not in self._before:
            self._before[scope] = self._found(self._within(scope)) or {}
        return self._before[scope]

    def _found_after(self, cure: Cure, scope: Scope) -> Mapping[Key, Severity] | None:
        """What is found with a cure's edits; many findings may ask for the same ones."""
        if (cure, scope) not in self._after:
            boxes = len(self._job.orders) if scope is None else 1
            if self._built + boxes > MOST_BOXES_IN_ALL:
                return None
            self._built += boxes
            # Alone it is the first piece.
            here = cure if scope is None else Cure(tuple(map(_of_first, cure.edits)))
            try:
                edited = self._within(scope).edited(here, self._job.unit)
            except EditRefused:
                return None
            self._after[cure, scope] = self._found(edited)
        return self._after[cure, scope]

    def _within(self, scope: Scope) -> Source:
        """The job, or one of its pieces alone."""
        if scope is None:
            return self._source
        return self._source.alone(scope, self._job.orders[scope].name)

    def _found(self, source: Source) -> Mapping[Key, Severity] | None:
        """What may be found in a job; None where it is no job, or has no sheets."""
        self._budget.check()
        try:
            return severities(possible_findings(source.job(), self._machine))
        except CutlayersError:
            return None


def _of_first(edit: Edit) -> Edit:
    return replace(edit, path=("piece", 0, *edit.path[2:]))


def severities(findings: Iterable[Finding]) -> Mapping[Key, Severity]:
    """How bad each different thing is that was found."""
    worst: dict[Key, Severity] = {}
    for finding in findings:
        known = worst.setdefault(key_of(finding), finding.severity)
        if _worse(finding.severity, known):
            worst[key_of(finding)] = finding.severity
    return worst


def is_cured(
    finding: Finding, before: Mapping[Key, Severity], after: Mapping[Key, Severity]
) -> bool:
    """Whether a finding is gone and nothing became worse for it.

    What is new, or worse than before, may be less bad than the finding: a lid that goes on but is
    loose is better than one that does not go on. So there is no new error, and cures that are
    made one after the other never lead back to where they began.
    """
    return key_of(finding) not in after and all(
        not _worse(severity, before.get(key)) or _worse(finding.severity, severity)
        for key, severity in after.items()
    )


def _worse(one: Severity, other: Severity | None) -> bool:
    rank: Sequence[Severity] = list(Severity)
    return other is None or rank.index(one) < rank.index(other)


def key_of(finding: Finding) -> Key:
    """What makes a finding the same as another: an art is counted in its piece, which may stand
    elsewhere in another job."""
    subject = finding.subject
    art = None if subject.art is None else subject.art.removeprefix("piece").lstrip("[]0123456789")
    return finding.code, replace(subject, at=None, art=art)
