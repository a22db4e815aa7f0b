"""The box of an order as it will look: in its card's colours, printed, with its facings on."""

from __future__ import annotations

from cutlayers.job.order import Job, Order
from cutlayers.pictures.decoration import PLAIN, Decorations
from cutlayers.pictures.folded import DrawnView, draw_usual
from cutlayers.pictures.looks import looks_of
from cutlayers.profile.machine import Machine
from cutlayers.profile.output import PrintSettings


def draw_order(job: Job, order: Order, machine: Machine | None = None) -> tuple[DrawnView, ...]:
    """The usual views of an order's box; art lies where it does on sheets printed as the machine's
    profile says. Raises NetError for nets that cannot be folded."""
    stock = job.stocks[order.stock]
    looks = looks_of(stock.colour, stock.inside_colour)
    return draw_usual(order.box, looks, _decorations(job, order, machine))


def _decorations(job: Job, order: Order, machine: Machine | None) -> Decorations:
    if not order.art and not order.facings:
        return PLAIN
    from cutlayers.pictures.decorating import decorations_of
    from cutlayers.sheets.artwork import print_settings

    settings = PrintSettings() if machine is None else machine.printing
    return decorations_of(order, job.stocks, print_settings(settings, job.printing))
