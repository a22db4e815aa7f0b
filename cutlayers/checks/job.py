"""The checks of every box of a job."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import lru_cache
from typing import TYPE_CHECKING

from cutlayers.box import Box
from cutlayers.checks import Limits, check_box, check_lettering
from cutlayers.fitting import Item
from cutlayers.job.order import Job
from cutlayers.telling.findings import Finding

if TYPE_CHECKING:
    from cutlayers.box.facing import Facing

KEPT = 64
"""Boxes last checked whose findings are kept: as many as boxes themselves."""


def check_boxes(
    job: Job, progress: Callable[[int], None] = lambda _: None
) -> Mapping[str, tuple[Finding, ...]]:
    """What is wrong with one box of each order, by the order's name; `progress` is told 1 for
    each."""
    found = {}
    for order in job.orders:
        bare = tuple(
            (replace(facing, art=()), caliper) for facing, caliper in order.glued_on(job.stocks)
        )
        found[order.name] = _checked(order.box, order.holds, job.limits, bare)
        progress(1)
    return found


def check_letters(job: Job, finished: Sequence[Box]) -> Iterator[Finding]:
    """What `check_boxes` says of letters and guides, from finished boxes that have the same panels
    as those of the job, one for each order."""
    for order, box in zip(job.orders, finished, strict=True):
        for finding in check_lettering(order.box, box):
            yield under(order.name, finding)


@lru_cache(KEPT)
def _checked(
    box: Box, item: Item | None, limits: Limits, glued_on: tuple[tuple[Facing, float], ...]
) -> tuple[Finding, ...]:
    return check_box(box, item=item, limits=limits, glued_on=glued_on)


def all_findings(boxes: Mapping[str, tuple[Finding, ...]]) -> tuple[Finding, ...]:
    """The findings of `check_boxes` in one row, each with the order as its piece."""
    return tuple(under(name, finding) for name, found in boxes.items() for finding in found)


def under(order: str, finding: Finding) -> Finding:
    """A finding with that order as the piece of all that it names."""
    return replace(
        finding,
        subject=replace(finding.subject, piece=order),
        others=tuple(replace(other, piece=order) for other in finding.others),
    )
