"""The checks of the way the pieces of a job lie to the grain.

Apart from those of its boxes, since what lays pieces on sheets is loaded for it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from cutlayers.checks.grain import check_grain
from cutlayers.checks.job import under
from cutlayers.job.order import Job
from cutlayers.profile.machine import Machine
from cutlayers.sheets.model import Sheet
from cutlayers.sheets.pieces import pieces_of
from cutlayers.sheets.turns import Lying, each_turned
from cutlayers.telling.findings import Finding


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
            yield under(order_name, finding)
