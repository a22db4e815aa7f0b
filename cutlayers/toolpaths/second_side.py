"""Valley folds scored from the back, with the sheet turned over.

A stylus presses a groove; on the other side of the card stands a ridge, the *bead*, and a fold
must close over its bead. A knife's half cut belongs on the outside of the bend. Both mean the
same: mountains, which fold away from the viewer, are worked from the front, and valleys from
the back. Sources: board-makers' handbooks and print glossaries on the bead; half cuts are common
practice, no source.

The back is worked first, while the sheet is still whole. It is turned over about its own middle
line and laid into the same corner of the bed, so the marks of the back are those of the front
mirrored about that line.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

from cutlayers.geometry.strokes import Fold, Operation, Stroke
from cutlayers.geometry.transforms import Transform
from cutlayers.profile.machine import Machine
from cutlayers.profile.operations import Method

Turn = Literal["left-right", "top-bottom"]

AXIS_OF: dict[Turn, str] = {
    "left-right": "the vertical middle line of the sheet",
    "top-bottom": "the horizontal middle line of the sheet",
}
"""The line that stays where it is when the sheet is turned over."""


def turned_over(turn: Turn, width: float, height: float) -> Transform:
    """The mirror that carries a sheet's front to its back; `width` and `height` of the sheet.

    "left-right" swaps left and right about the vertical middle line, "top-bottom" top and
    bottom about the horizontal one.
    """
    if turn == "left-right":
        return Transform.mirror(width / 2)
    return Transform(yy=-1.0, dy=height)


def is_for_back(stroke: Stroke, machine: Machine) -> bool:
    """Whether a stroke is a score that the machine works from the back of the sheet."""
    plan = machine.operations[stroke.operation]
    return (
        stroke.operation is Operation.SCORE
        and stroke.fold is Fold.VALLEY
        and plan.method is Method.TOOL
        and plan.scoring.valleys == "back"
    )


def back_of(strokes: Iterable[Stroke], mirror: Transform) -> tuple[Stroke, ...]:
    """Strokes as they lie when the sheet is turned over."""
    return tuple(stroke.transformed(mirror) for stroke in strokes)
