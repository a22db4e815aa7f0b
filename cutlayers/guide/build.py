"""From a job to its job sheet."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import replace

from cutlayers.box import Blank, Box, Origin
from cutlayers.box.facing import Facing
from cutlayers.box.steps import Faced
from cutlayers.checks.job import all_findings, check_boxes
from cutlayers.geometry.strokes import Operation
from cutlayers.guide.by_hand import HandBlank
from cutlayers.guide.fits import round_box
from cutlayers.guide.material import box_needs
from cutlayers.guide.model import BoxGuide, FacingGuide, Guide, HandWork, MachineCard, StockNeed
from cutlayers.guide.ruler import Ruler
from cutlayers.guide.scoring import hand_blank
from cutlayers.job.order import Job, Order, SheetRules
from cutlayers.job.stock import LARGEST_SHEET, Stock
from cutlayers.net import Net, Work
from cutlayers.net.shapes import rectangle
from cutlayers.pictures.folded import DrawnView, draw_usual, views_scene
from cutlayers.pictures.scene import Scene
from cutlayers.profile.machine import Bed, Machine, Method, OperationPlan
from cutlayers.profile.output import RegisterPlan
from cutlayers.report.report import Report
from cutlayers.sheets.model import Piece
from cutlayers.sheets.placing import place_pieces
from cutlayers.telling.colours import BLACK
from cutlayers.telling.errors import PlacementError
from cutlayers.telling.findings import Finding

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
    checked: Mapping[str, tuple[Finding, ...]] | None = None,
    views: Mapping[str, tuple[DrawnView, ...]] | None = None,
) -> Guide:
    """Everything that the page of a job says.

    `machine` and the `report` of what was planned for it go together; how the blanks are made by
    hand is then told only where the machine leaves something to the hand. Without them it is told
    of all, and the sheets are counted as a person trims them: the blanks' rectangles side by side.
    `checked` are the findings of each box and `views` its usual views drawn, by the order's name,
    where that was done already.
    """
    known = check_boxes(job) if checked is None else checked
    hands: list[HandWork | None] = [None] * len(job.orders)
    if machine is None or report is None or any(sheet.by_hand for sheet in report.sheets):
        hands = [_by_hand(order, job, ruler, known[order.name]) for order in job.orders]
    if machine is None or report is None:
        needs, made = _trimmed(job, [hand for hand in hands if hand is not None])
        findings, card = all_findings(known), None
    else:
        needs = tuple(StockNeed(job.stocks[row.stock], row.sheets) for row in report.stocks)
        made = _pieces_made(report)
        findings = report.findings
        card = MachineCard(machine.title, report.load_cards, report.sheets)
    boxes = tuple(
        _box(order, job, made, hand, None if views is None else views[order.name])
        for order, hand in zip(job.orders, hands, strict=True)
    )
    return Guide(job.title, job.unit, ruler, boxes, needs, card, findings)


def _pieces_made(report: Report) -> Counter[str]:
    """How many of each piece there are, by name; the two sides of a sheet count once."""
    made: Counter[str] = Counter()
    for sheet in {sheet.number: sheet for sheet in report.sheets}.values():
        for name, pieces in sheet.pieces.items():
            made[name] += pieces * sheet.copies
    return made


def _by_hand(order: Order, job: Job, ruler: Ruler, known: Sequence[Finding]) -> HandWork:
    box = order.box
    rounded = round_box(box, ruler, known, item=order.holds, limits=job.limits)
    features = [each for net in box.nets for panel in net.panels for each in panel.features]
    return HandWork(
        stock=order.stock,
        ruler=rounded.ruler,
        blanks=tuple(
            hand_blank(name, blank, rounded.ruler, pointwise=rounded.pointwise)
            for name, blank in zip(_names(order), rounded.box.blanks, strict=True)
        ),
        facings=tuple(_facing(order, facing, job, ruler) for facing in order.facings),
        adjustments=rounded.adjustments,
        reasons=rounded.reasons,
        left=rounded.left,
        uneven=rounded.uneven,
        drawn=any(each.work is Work.GUIDE for each in features),
        traced=any(each.traced and each.work is not Work.GUIDE for each in features),
    )


def _names(order: Order) -> list[str]:
    """What the blanks of one box are called, as the pieces on the sheets are."""
    blanks = order.box.blanks
    if len(blanks) == 1:
        return [order.name]
    return [f"{order.name}: {blank.name}" for blank in blanks]


def _box(
    order: Order,
    job: Job,
    made: Mapping[str, int],
    hand: HandWork | None,
    views: Sequence[DrawnView] | None,
) -> BoxGuide:
    stock, box, origin = job.stocks[order.stock], order.box, order.box.origin
    if views is None and not box.curved:
        views = draw_usual(box)
    return BoxGuide(
        name=order.name,
        style=origin.style.name if origin else "",
        summary=origin.style.summary if origin else "",
        # With `fill` nobody knows how many boxes there are before they lie on the sheet.
        count=made[_names(order)[0]] if order.fill else order.count,
        stock=order.stock,
        sizes=_sizes(origin) if origin else (),
        measure=origin.measure if origin else "score",
        nets=tuple(blank.name for blank in box.blanks),
        needs=box_needs(box, stock),
        steps=box.steps(_faced(order)),
        hand=hand,
        picture=None if box.curved or not views else _finished(order.name, views),
        views=None if box.curved or not views else views_scene(order.name, views, VIEWS),
    )


def _sizes(origin: Origin) -> tuple[tuple[str, float], ...]:
    return tuple(
        (name.replace("_", " "), float(getattr(origin.dims, name)))
        for name, (dimension, _) in origin.style.table.items()
        if dimension.group == "size" and dimension.kind == "length"
    )


def _facing(order: Order, facing: Facing, job: Job, ruler: Ruler) -> FacingGuide:
    box = Box((facing.blank,), job.stocks[facing.stock].caliper)
    rounded = round_box(box, ruler, (), limits=job.limits)
    name = f"{order.name}: {facing.net.name}"
    (own,) = rounded.box.blanks
    blank = hand_blank(name, own, rounded.ruler, pointwise=rounded.pointwise)
    return FacingGuide(blank, facing.stock)


def _finished(name: str, views: Sequence[DrawnView]) -> Scene:
    """The last of the usual views by itself: the finished box."""
    return views_scene(name, [replace(views[-1], caption="")], PICTURE)


def _trimmed(job: Job, hands: Sequence[HandWork]) -> tuple[tuple[StockNeed, ...], Counter[str]]:
    """Sheets for blanks that are trimmed by hand, edge to edge, and how many of each there are."""
    needs = []
    made: Counter[str] = Counter()
    for stock in job.stocks.values():
        pieces: list[Piece] = []
        too_large = []
        for order, hand in zip(job.orders, hands, strict=True):
            for blank, name in hand.cut_from:
                if name != stock.name:
                    continue
                piece = _rectangle(blank, order.name, stock, fill=order.fill)
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


def _faced(order: Order) -> Faced:
    """Each net with the panels that a facing piece goes on."""
    panels: dict[str, list[str]] = {}
    for facing in order.facings:
        panels.setdefault(facing.on.net, []).append(facing.on.panel)
    return tuple((net, tuple(names)) for net, names in panels.items())
