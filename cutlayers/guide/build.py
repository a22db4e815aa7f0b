"""From a job to its guide."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import replace

from cutlayers.box import Box
from cutlayers.box.steps import Action, Faced, Step
from cutlayers.checks.job import all_findings, check_boxes
from cutlayers.guide.material import box_needs
from cutlayers.guide.model import BoxGuide, Guide, HandWork, MachineCard, StockNeed
from cutlayers.guide.ruler import Ruler
from cutlayers.job.drawings import drawn_sizes
from cutlayers.job.order import Job, Order
from cutlayers.pictures.folded import (
    DrawnView,
    draw_usual,
    draw_views,
    finished_view,
    single_scenes,
    step_views,
    views_scene,
)
from cutlayers.pictures.looks import Looks
from cutlayers.pictures.orders import looks_for
from cutlayers.pictures.scene import Scene
from cutlayers.profile.machine import Machine
from cutlayers.report.report import Report
from cutlayers.telling.findings import Finding

PICTURE, VIEWS = 60.0, 62.0
"""mm; heights of the picture at the top of the page and of those beside the assembly."""

STEP_WIDE, STEP_HIGH = 62.0, 50.0
"""mm; the largest that a picture of a step is."""


def build_guide(
    job: Job,
    ruler: Ruler,
    *,
    machine: Machine | None = None,
    report: Report | None = None,
    checked: Mapping[str, tuple[Finding, ...]] | None = None,
    views: Mapping[str, tuple[DrawnView, ...]] | None = None,
    stepwise: bool = False,
) -> Guide:
    """Everything that the page of a job says.

    `machine` and the `report` of what was planned for it go together; how the blanks are made by
    hand is then told only where the machine leaves something to the hand. Without them it is told
    of all, and the sheets are counted as a person trims them: the blanks' rectangles side by side.
    `checked` are the findings of each box and `views` its usual views drawn, by the order's name,
    where that was done already. With `stepwise` each step is drawn, and walked in small turns
    to tell what has to bend, which takes longer than all the rest.
    """
    by_hand = machine is None or report is None or any(sheet.by_hand for sheet in report.sheets)
    known = check_boxes(job) if by_hand and checked is None else checked or {}
    hands: list[HandWork | None] = [None] * len(job.orders)
    if by_hand:
        from cutlayers.guide.hand_work import hand_work

        hands = [hand_work(order, job, ruler, known[order.name]) for order in job.orders]
    if machine is None or report is None:
        from cutlayers.guide.hand_work import trimmed

        needs, made = trimmed(job, [hand for hand in hands if hand is not None])
        findings, card = all_findings(known), None
    else:
        needs = tuple(StockNeed(job.stocks[row.stock], row.sheets) for row in report.stocks)
        made = _pieces_made(report)
        # A setup sheet without settings says so itself.
        findings = tuple(each for each in report.findings if each.code != "no-settings")
        card = MachineCard(machine.title, report.setup_sheets, report.sheets)
    boxes = tuple(
        _box(
            order,
            job,
            made,
            hand,
            machine,
            None if views is None else views[order.name],
            stepwise,
        )
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


def _box(
    order: Order,
    job: Job,
    made: Mapping[str, int],
    hand: HandWork | None,
    machine: Machine | None,
    views: Sequence[DrawnView] | None,
    stepwise: bool,
) -> BoxGuide:
    box, origin = order.box, order.box.origin
    stocks = {net.name: job.stocks[order.stock_of(net.name)] for net in box.nets}
    facings = [(facing.net, job.stocks[facing.stock]) for facing in order.facings]
    pictures: dict[Step, Scene] = {}
    if not box.foldable:
        views = None
    elif stepwise:
        pictures, views = _stepwise(box, looks_for(job, order, machine))
    elif views is None:
        views = draw_usual(box, looks_for(job, order, machine))
    return BoxGuide(
        name=order.name,
        style=origin.style.name if origin else "",
        summary=origin.style.summary if origin else "made from a drawing",
        # With `fill` nobody knows how many boxes there are before they lie on the sheet.
        count=made[order.blank_names[0]] if order.fill else order.count,
        sizes=origin.sizes if origin else tuple(drawn_sizes(box).items()),
        measure=box.card.measure,
        nets=tuple(blank.name for blank in box.wholes),
        needs=box_needs(box, stocks, facings),
        steps=_steps(box.steps(_faced(order)), cut=hand is None),
        bent=tuple(way for way in box.ways if way.bends) if stepwise else (),
        unreached=box.unreached if stepwise else (),
        hand=hand,
        step_pictures=pictures,
        picture=_finished(order.name, views) if views else None,
        views=views_scene(order.name, views, VIEWS) if views and not pictures else None,
    )


def _steps(steps: Sequence[Step], *, cut: bool) -> tuple[Step, ...]:
    """What is left to do: of blanks that a machine has `cut`, no holes to punch."""
    punched = (Action.PUNCH_FLAT, Action.PUNCH_CLOSED) if cut else ()
    return tuple(step for step in steps if step.action not in punched)


def _stepwise(box: Box, looks: Looks) -> tuple[dict[Step, Scene], Sequence[DrawnView]]:
    """The box after each step that moves panels, and when it is finished."""
    after = step_views(box)
    *steps, finished = draw_views([*after.values(), finished_view(box)], looks)
    return dict(zip(after, single_scenes(steps, STEP_WIDE, STEP_HIGH), strict=True)), [finished]


def _finished(name: str, views: Sequence[DrawnView]) -> Scene:
    """The last of the usual views by itself: the finished box."""
    return views_scene(name, [replace(views[-1], caption="")], PICTURE)


def _faced(order: Order) -> Faced:
    """Each net with the panels that a facing piece goes on."""
    panels: dict[str, list[str]] = {}
    for facing in order.facings:
        panels.setdefault(facing.on.net, []).append(facing.on.panel)
    return tuple((net, tuple(names)) for net, names in panels.items())
