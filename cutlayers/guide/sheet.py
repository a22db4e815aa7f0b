"""The guide of a job, with what a reader of its units takes for granted."""

from __future__ import annotations

from collections.abc import Mapping

from cutlayers.guide.build import build_guide
from cutlayers.guide.model import Guide, Paper
from cutlayers.guide.page.writing import write_page
from cutlayers.guide.ruler import Ruler, usual_ruler
from cutlayers.job.order import Job
from cutlayers.profile.machine import Machine
from cutlayers.report.report import Report
from cutlayers.telling.findings import Finding


def guide_page(
    job: Job,
    machine: Machine | None = None,
    report: Report | None = None,
    *,
    checked: Mapping[str, tuple[Finding, ...]] | None = None,
    paper: Paper | None = None,
    ruler: Ruler | None = None,
) -> bytes:
    """The page to print and follow; without a machine and the report for it, all by hand.

    `checked` is what is known of each box already (see `build_guide`).

    Paper and ruler are A4 and half millimetres for a job in mm, letter and sixteenths for one in
    inches, if not given.
    """
    guide = build_guide(
        job,
        ruler or usual_ruler(job.unit),
        machine=machine,
        report=report,
        checked=checked,
        stepwise=True,
    )
    return page_of(guide, paper)


def page_of(guide: Guide, paper: Paper | None = None) -> bytes:
    """A guide as a page, on the paper that a reader of its units has, if none is given."""
    return write_page(guide, paper or ("letter" if guide.unit == "in" else "A4"))
