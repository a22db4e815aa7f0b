"""The checks of every box of a job, with the card it is made from and the way it lies."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from cutlayers.checks import check_box
from cutlayers.checks.grain import check_grain
from cutlayers.job.order import Job
from cutlayers.sheets.model import Sheet
from cutlayers.telling.findings import Finding


def check_orders(job: Job, sheets: Sequence[Sheet]) -> tuple[Finding, ...]:
    """Fold up one box of each order and tell what is wrong; then the grain of placed pieces.

    Every finding names the order as its piece.
    """
    return tuple(_findings(job, sheets))


def _findings(job: Job, sheets: Sequence[Sheet]) -> Iterator[Finding]:
    for order in job.orders:
        caliper = job.stocks[order.stock].caliper
        for finding in check_box(order.nets, caliper, item=order.holds, limits=job.limits):
            yield _under(order.name, finding)
    # Copies of one piece lie a few ways round at most; each way is told once. Where the job says
    # how the folds are to run to the grain, they do.
    ways = {
        (placed.piece.order, placed.piece.net, placed.on_piece(sheet.grain))
        for sheet in sheets
        if sheet.grain is not None
        for placed in sheet.placed
        if placed.piece.grain == "any"
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
