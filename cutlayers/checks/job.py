"""The checks of every box of a job, and of the way its pieces lie to the grain."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import lru_cache
from typing import TYPE_CHECKING

from cutlayers.box import Box
from cutlayers.checks import Limits, check_box, check_lettering
from cutlayers.checks.grain import check_grain
from cutlayers.fitting import Item
from cutlayers.job.order import Job
from cutlayers.profile.machine import Machine
from cutlayers.sheets.model import Sheet
from cutlayers.sheets.pieces import pieces_of
from cutlayers.sheets.turns import Lying, each_turned
from cutlayers.telling.findings import Finding

if TYPE_CHECKING:
    from cutlayers.box.facing import Facing

KEPT = 64
"""Boxes last checked whose findings are kept: as many as boxes themselves."""


def check_boxes(
    job: Job, progress: Callable[[int], None] = lambda _: None
) -> Mapping[str, tuple[Finding, ...]]:
    """What is wrong with one box of each order, by the order's name; `progress` is told 1 for
    each."""
    found = {}
    for order in job.orders:
        bare = tuple(
            (replace(facing, art=()), caliper) for facing, caliper in order.glued_on(job.stocks)
        )
        found[order.name] = _checked(order.box, order.holds, job.limits, bare)
        progress(1)
    return found


def check_letters(job: Job, finished: Sequence[Box]) -> Iterator[Finding]:
    """What `check_boxes` says of letters and guides, from finished boxes that have the same panels
    as those of the job, one for each order."""
    for order, box in zip(job.orders, finished, strict=True):
        for finding in check_lettering(order.box, box):
            yield _under(order.name, finding)


@lru_cache(KEPT)
def _checked(
    box: Box, item: Item | None, limits: Limits, glued_on: tuple[tuple[Facing, float], ...]
) -> tuple[Finding, ...]:
    return check_box(box, item=item, limits=limits, glued_on=glued_on)


def all_findings(boxes: Mapping[str, tuple[Finding, ...]]) -> tuple[Finding, ...]:
    """The findings of `check_boxes` in one row, each with the order as its piece."""
    return tuple(_under(name, finding) for name, found in boxes.items() for finding in found)


def check_lying(sheets: Sequence[Sheet]) -> Iterator[Finding]:
    """What is wrong with the way the pieces lie to the grain, where the job leaves it open, or says
    one way for all blanks of a box."""
    return _lying((placed, sheet.grain) for sheet in sheets for placed in sheet.placed)


def check_turns(job: Job, machine: Machine) -> Iterator[Finding]:
    """What `check_lying` may find of a job, however its pieces come to lie on their sheets. Raises
    PlacementError as `each_turned` does."""
    return _lying(each_turned(pieces_of(job), machine, job.sheets))


def _lying(pieces: Iterable[Lying]) -> Iterator[Finding]:
    # Copies of one piece lie a few ways round at most; each way is told once. Where the job says
    # how the folds of a blank are to run to the grain, they do. One way for several blanks may be
    # right for one of them alone.
    ways = {
        (placed.piece.order, placed.piece.net, placed.on_piece(grain))
        for placed, grain in pieces
        if grain is not None and (placed.piece.grain == "any" or not placed.piece.for_each)
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
