"""What of a job is done by hand: its blanks on the ruler's lines, and how many sheets they take."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from cutlayers.box import Blank, Box
from cutlayers.box.facing import Facing
from cutlayers.geometry.strokes import Operation
from cutlayers.guide.by_hand import HandBlank
from cutlayers.guide.fits import round_box
from cutlayers.guide.model import FacingGuide, HandWork, StockNeed
from cutlayers.guide.ruler import Ruler
from cutlayers.guide.scoring import hand_blank
from cutlayers.job.order import Job, Order, SheetRules
from cutlayers.job.stock import LARGEST_SHEET, Stock
from cutlayers.net import Net, Work
from cutlayers.net.shapes import rectangle
from cutlayers.profile.machine import Bed, Machine
from cutlayers.profile.operations import Method, OperationPlan
from cutlayers.profile.output import RegisterPlan
from cutlayers.sheets.model import Piece
from cutlayers.sheets.placing import place_pieces
from cutlayers.telling.colours import BLACK
from cutlayers.telling.errors import PlacementError
from cutlayers.telling.findings import Finding

EDGE_TO_EDGE = SheetRules(gap=0.0)
"""Blanks that are trimmed by hand share their edges."""


def hand_work(order: Order, job: Job, ruler: Ruler, known: Sequence[Finding]) -> HandWork:
    """How the blanks of one box are made by hand. `known` are the findings of the box."""
    box = order.box
    rounded = round_box(
        box,
        ruler,
        known,
        item=order.holds,
        limits=job.limits,
        glued_on=order.glued_on(job.stocks),
    )
    features = [each for net in box.nets for panel in net.panels for each in panel.features]
    return HandWork(
        stocks=tuple(order.stock_of(blank.name) for blank in box.blanks),
        blanks=tuple(
            hand_blank(name, blank, ruler, pointwise=rounded.pointwise)
            for name, blank in zip(order.blank_names, rounded.box.blanks, strict=True)
        ),
        facings=tuple(_facing(order, facing, job, ruler) for facing in order.facings),
        adjustments=rounded.adjustments,
        far=rounded.far,
        reasons=rounded.reasons,
        left=rounded.left,
        uneven=rounded.uneven,
        too_small=rounded.pointwise,
        drawn=any(each.work is Work.GUIDE for each in features),
        traced=any(each.traced and each.work is not Work.GUIDE for each in features),
    )


def _facing(order: Order, facing: Facing, job: Job, ruler: Ruler) -> FacingGuide:
    box = Box((facing.blank,), job.stocks[facing.stock].card("score"))
    rounded = round_box(box, ruler, (), limits=job.limits)
    name = f"{order.name}: {facing.net.name}"
    (own,) = rounded.box.blanks
    blank = hand_blank(name, own, ruler, pointwise=rounded.pointwise)
    return FacingGuide(blank, facing.stock)


def trimmed(job: Job, hands: Sequence[HandWork]) -> tuple[tuple[StockNeed, ...], Counter[str]]:
    """Sheets for blanks that are trimmed by hand, edge to edge, and how many of each there are."""
    needs = []
    made: Counter[str] = Counter()
    for stock in job.stocks.values():
        on_table = replace(stock, material=None)  # no machine knows it there
        pieces: list[Piece] = []
        too_large = []
        for order, hand in zip(job.orders, hands, strict=True):
            for blank, name in hand.cut_from:
                if name != stock.name:
                    continue
                piece = _rectangle(blank, order.name, on_table, fill=order.fill)
                try:
                    place_pieces([piece], _table(), EDGE_TO_EDGE)
                except PlacementError:
                    too_large.append((blank.name, blank.width, blank.height))
                else:
                    pieces += [piece] * order.count
        if not pieces and not too_large:
            continue
        placing = place_pieces(pieces, _table(), EDGE_TO_EDGE) if pieces else None
        for sheet in placing.sheets if placing else ():
            for placed in sheet.placed:
                made[placed.piece.name] += sheet.copies
        needs.append(StockNeed(stock, placing.count if placing else 0, tuple(too_large)))
    return tuple(needs), made


def _rectangle(blank: HandBlank, order: str, stock: Stock, *, fill: bool) -> Piece:
    """A blank as it is trimmed."""
    net = Net.start(blank.name, "blank", rectangle(blank.width, blank.height))
    return Piece(blank.name, order, Blank(net), stock, fill=fill)


def _table() -> Machine:
    """A table to work on: it reaches everything and marks nothing."""
    by_hand = {
        operation: OperationPlan(operation, Method.BY_HAND, None, 1, operation.value, BLACK, 7)
        for operation in Operation
    }
    return Machine(
        "table",
        "table",
        Bed(LARGEST_SHEET, LARGEST_SHEET),
        {},
        by_hand,
        RegisterPlan(shape="none", count=0),
    )
