"""From the orders of a job to the pieces that are to be placed."""

from __future__ import annotations

from collections.abc import Iterator

from cutlayers.net import linework
from cutlayers.order import Job
from cutlayers.sheets.model import Piece


def pieces_of(job: Job) -> tuple[Piece, ...]:
    """Every piece of a job, each as often as it is to be made, in the job's order.

    Orders that fill a sheet have one of each of their pieces.
    """
    return tuple(_pieces(job))


def _pieces(job: Job) -> Iterator[Piece]:
    for order in job.orders:
        for net in order.nets:
            name = order.name if len(order.nets) == 1 else f"{order.name}: {net.name}"
            piece = Piece(
                name,
                order.name,
                net,
                linework(net),
                job.stocks[order.stock],
                order.rotation or job.sheets.rotation,
                order.grain,
                order.fill,
            )
            yield from [piece] * order.count
