"""What is found of a job before anything is made of it."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:  # who only asks about boxes loads nothing that lays out
    from cutlayers.job.order import Job
    from cutlayers.profile.machine import Machine
    from cutlayers.telling.findings import Finding


def check(job: Job, machine: Machine | None = None) -> tuple[Finding, ...]:
    """What is wrong with a job and worth knowing of it, each thing once; nothing is ordered,
    drawn or searched for long.

    Each box is folded up and looked at; with a machine, the pieces are laid on sheets and their
    lines worked out for its tools as well. Raises NetError for a box that cannot be folded, and
    as `lay_out` does.
    """
    if machine is not None:
        from cutlayers.making.make import lay_out

        return lay_out(job, machine, quick=True).findings
    from cutlayers.checks.drawings import check_drawings
    from cutlayers.checks.job import all_findings, check_boxes

    return tuple(dict.fromkeys((*all_findings(check_boxes(job)), *check_drawings(job))))
