"""From a job to its job sheet."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from cutlayers.checks.job import check_orders
from cutlayers.errors import PlacementError
from cutlayers.guide.assembly import assembly_steps
from cutlayers.guide.fits import RoundedBox, round_box
from cutlayers.guide.material import box_needs
from cutlayers.guide.model import BoxGuide, Guide, MachineCard, StockNeed
from cutlayers.guide.ruler import Ruler
from cutlayers.guide.scoring import hand_blank
from cutlayers.machine import Bed, Machine, Method, OperationPlan, RegisterPlan
from cutlayers.order import Job, Order, SheetRules
from cutlayers.report import Report
from cutlayers.sheets.model import Piece
from cutlayers.sheets.placing import place_pieces
from cutlayers.stock import LARGEST_SHEET, Stock
from cutlayers.strokes import Operation
from cutlayers.style import style_named

PICTURE, VIEWS = 60.0, 62.0
"""mm; heights of the picture at the top of the page and of those beside the assembly."""

EDGE_TO_EDGE = SheetRules(gap=0.0)
"""Blanks that are trimmed by hand share their edges."""


def build_guide(
    job: Job,
    ruler: Ruler,
    *,
    machine: Machine | None = None,
    report: Report | None = None,
) -> Guide:
    """Everything that the page of a job says.

    `machine` and the `report` of what was planned for it go together. Without them the sheets
    are counted as a person trims them: the blanks' rectangles side by side, and each box is
    folded up and checked here.

    Raises NetError for a box with parts too small for any ruler.
    """
    boxes = tuple(_box(order, job, ruler) for order in job.orders)
    stocks = _used(job)
    if machine is None or report is None:
        needs = tuple(_trimmed(stock, boxes) for stock in stocks)
        findings, card = check_orders(job, ()), None
    else:
        used = {(sheet.stock, sheet.number) for sheet in report.sheets}
        counts = Counter(name for name, _ in used)
        needs = tuple(StockNeed(stock, counts[stock.name]) for stock in stocks)
        findings, card = (
            report.findings,
            MachineCard(machine.title, report.load_cards, report.sheets),
        )
    return Guide(job.title, job.unit, ruler, boxes, needs, card, findings)


def _box(order: Order, job: Job, ruler: Ruler) -> BoxGuide:
    stock = job.stocks[order.stock]
    style = style_named(order.style)
    rounded: RoundedBox = round_box(order.nets, stock.caliper, ruler, order.holds)
    several = len(order.nets) > 1
    blanks = tuple(
        hand_blank(f"{order.name}: {net.name}" if several else order.name, net, rounded.ruler)
        for net in rounded.nets
    )
    sizes = tuple(
        (name.replace("_", " "), float(getattr(order.dims, name)))
        for name, (dimension, _) in style.table.items()
        if dimension.group == "size" and dimension.kind == "length"
    )
    return BoxGuide(
        name=order.name,
        style=order.style,
        summary=style.summary,
        count=order.count,
        stock=order.stock,
        sizes=sizes,
        measure=order.measure,
        ruler=rounded.ruler,
        blanks=blanks,
        needs=box_needs(order.nets, stock),
        steps=assembly_steps(order.nets, stock.caliper),
        adjustments=rounded.adjustments,
        reasons=rounded.reasons,
        left=rounded.left,
        picture=_picture(order, finished=True),
        views=_picture(order, finished=False),
    )


def _picture(order: Order, *, finished: bool) -> bytes | None:
    """The finished box, or the box on its way there; None where folds are curved."""
    if any(hinge.edge.bulge for net in order.nets for hinge in net.hinges):
        return None
    from cutlayers.views import View, draw_views, usual_views

    if finished:
        return draw_views(order.name, [View(order.nets)], height=PICTURE)
    return draw_views(order.name, usual_views(order.nets), height=VIEWS)


def _used(job: Job) -> list[Stock]:
    names = dict.fromkeys(order.stock for order in job.orders)
    return [job.stocks[name] for name in names]


def _trimmed(stock: Stock, boxes: Sequence[BoxGuide]) -> StockNeed:
    """Sheets for blanks that are trimmed by hand, edge to edge."""
    pieces: list[Piece] = []
    too_large = []
    for box in boxes:
        for blank in box.blanks if box.stock == stock.name else ():
            piece = Piece(blank.name, box.name, blank.net, (), stock)
            try:
                place_pieces([piece], _table(), EDGE_TO_EDGE)
            except PlacementError:
                too_large.append((blank.name, blank.width, blank.height))
            else:
                pieces += [piece] * box.count
    count = place_pieces(pieces, _table(), EDGE_TO_EDGE).count if pieces else 0
    return StockNeed(stock, count, tuple(too_large))


def _table() -> Machine:
    """A table to work on: it reaches everything and marks nothing."""
    by_hand = {
        operation: OperationPlan(operation, Method.BY_HAND, None, 1, operation.value, "#000000", 7)
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
