"""From the orders of a job to the pieces that are to be placed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from cutlayers.artwork.model import Art
from cutlayers.job.order import Job
from cutlayers.net import Net
from cutlayers.sheets.model import Piece


def pieces_of(job: Job) -> tuple[Piece, ...]:
    """Every piece of a job, each as often as it is to be made, in the job's order.

    Orders that fill a sheet have one of each of their pieces.
    """
    return tuple(_pieces(job))


def _pieces(job: Job) -> Iterator[Piece]:
    for order in job.orders:
        for name, blank in zip(order.blank_names, order.box.blanks, strict=True):
            piece = Piece(
                name,
                order.name,
                blank,
                job.stocks[order.stock_of(blank.name)],
                order.rotation or job.sheets.rotation,
                order.grain_of(blank.name),
                order.fill,
                art_on(blank.net, order.art),
                order.grain_for_each,
            )
            yield from [piece] * order.count
        for facing in order.facings:
            piece = Piece(
                f"{order.name}: {facing.net.name}",
                order.name,
                facing.blank,
                job.stocks[facing.stock],
                order.rotation or job.sheets.rotation,
                art=facing.art,
            )
            yield from [piece] * order.count


def art_on(net: Net, art: tuple[Art, ...]) -> tuple[Art, ...]:
    """What of the art goes on a net, on its panels alone."""
    own = {panel.name for panel in net.panels}
    found = []
    for each in art:
        spots = tuple(spot for spot in each.spots if spot.net == net.name and spot.panel in own)
        if spots:
            found.append(replace(each, spots=spots))
    return tuple(found)
