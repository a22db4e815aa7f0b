"""The checks of every box of a job, and of the way its pieces lie to the grain."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace

from cutlayers.checks import check_box
from cutlayers.checks.grain import check_grain
from cutlayers.job.order import Job
from cutlayers.sheets.model import Sheet
from cutlayers.telling.findings import Finding


def check_boxes(
    job: Job, progress: Callable[[int], None] = lambda _: None
) -> Mapping[str, tuple[Finding, ...]]:
    """What is wrong with one box of each order, by the order's name; `progress` is told 1 for
    each."""
    found = {}
    for order in job.orders:
        found[order.name] = check_box(
            order.box, item=order.holds, limits=job.limits, glued_on=order.glued_on(job.stocks)
        )
        progress(1)
    return found


def all_findings(boxes: Mapping[str, tuple[Finding, ...]]) -> tuple[Finding, ...]:
    """The findings of `check_boxes` in one row, each with the order as its piece."""
    return tuple(_under(name, finding) for name, found in boxes.items() for finding in found)


def check_lying(sheets: Sequence[Sheet]) -> Iterator[Finding]:
    """What is wrong with the way the pieces lie to the grain, where the job leaves it open, or says
    one way for all blanks of a box."""
    # Copies of one piece lie a few ways round at most; each way is told once. Where the job says
    # how the folds of a blank are to run to the grain, they do. One way for several blanks may be
    # right for one of them alone.
    ways = {
        (placed.piece.order, placed.piece.net, placed.on_piece(sheet.grain))
        for sheet in sheets
        if sheet.grain is not None
        for placed in sheet.placed
        if placed.piece.grain == "any" or not placed.piece.for_each
    }
    for order_name, net, grain in sorted(ways, key=lambda way: (way[0], way[1].name, way[2])):
        for finding in check_grain(net, grain):
            yield _under(order_name, finding)


def _under(order: str, finding: Finding) -> Finding:
    return replace(
        finding,
        subject=replace(finding.subject, piece=order),
        others=tuple(replace(other, piece=order) for other in finding.others),
    )
