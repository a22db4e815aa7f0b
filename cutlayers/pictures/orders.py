"""How the box of an order looks: its card's colours, what is printed, the facings on it."""

from __future__ import annotations

from dataclasses import replace

from cutlayers.job.order import Job, Order
from cutlayers.job.stock import Stock
from cutlayers.pictures.looks import Looks, looks_of
from cutlayers.profile.machine import Machine
from cutlayers.profile.output import PrintSettings


def looks_for(job: Job, order: Order, machine: Machine | None = None) -> Looks:
    """The looks of an order's box; art lies where it does on sheets that are printed as the
    machine's profile says."""
    own = {blank.name: _bare(job.stocks[order.stock_of(blank.name)]) for blank in order.box.blanks}
    bare = own[order.box.blanks[0].name]
    if any(looks != bare for looks in own.values()):
        bare = replace(bare, others=own)
    if not order.art and not order.facings:
        return bare
    from cutlayers.pictures.decorating import decorations_of
    from cutlayers.sheets.artwork import print_settings

    settings = PrintSettings() if machine is None else machine.printing
    decorations = decorations_of(order, job.stocks, print_settings(settings, job.printing))
    return replace(bare, decorations=decorations)


def _bare(stock: Stock) -> Looks:
    return looks_of(stock.colour, stock.inside_colour)
