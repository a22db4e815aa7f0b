"""From the orders of a job to the pieces that are to be placed."""

from __future__ import annotations

from collections.abc import Iterator

from cutlayers.net import linework
from cutlayers.order import Job
from cutlayers.sheets.model import Piece
from cutlayers.style import Card, style_named


def pieces_of(job: Job) -> tuple[Piece, ...]:
    """Every piece of a job, each as often as it is to be made, in the job's order.

    Raises StyleError for dimensions that cannot be folded; `order_of` says whose.
    """
    return tuple(_pieces(job))


def _pieces(job: Job) -> Iterator[Piece]:
    for order in job.orders:
        stock = job.stocks[order.stock]
        nets = style_named(order.style).build(order.dims, Card(stock.caliper, order.measure))
        for net in nets:
            piece = Piece(f"{order.name}: {net.name}", order.name, net, linework(net), stock)
            yield from [piece] * order.count
